"""Wind on a wall that stands free by EN 1991-1-4: general, United Kingdom, Germany.

Zones and the length over height go by the height ``c`` of the wall itself; only the pressure goes by the height of its
top.
"""

from __future__ import annotations

from barrier.basis.wind import (
    CORNER_SHARE,
    LENGTH_SHARE,
    ZONE_LENGTH,
    Strip,
    WindOnPanel,
    WindSite,
    cell,
    end_zone,
    hill_lack,
    interpolated,
    lacking,
    linear,
    logarithmic,
    merged,
    points,
    rows_of,
    stretches,
    worse,
)
from barrier.equation import Equation, Symbol, symbols
from barrier.result import Lack, NotChecked
from barrier.tables import Tables
from barrier.value import Value

# ---------------------------------------------------------------- peak pressure, general
V_B = Equation(
    Symbol("v_b", "speed"), "c_dir*c_season*v_b0", symbols("c_dir:ratio, c_season:ratio, v_b0:speed"),
    "EN 1991-1-4:2005 4.2 (4.1)", "secondary", title="basic wind speed",
)  # fmt: skip
K_R = Equation(
    Symbol("k_r", "ratio"), "0.19*(z_0/0.05)**0.07", symbols("z_0:length@m"),
    "EN 1991-1-4:2005 4.3.2 (4.5)", "secondary", title="terrain factor",
)  # fmt: skip
C_R = Equation(
    Symbol("c_r", "ratio"), "k_r*ln(max(z, z_min)/z_0)", symbols("k_r:ratio, z:length@m, z_min:length@m, z_0:length@m"),
    "EN 1991-1-4:2005 4.3.2 (4.4)", "secondary", valid=("z <= 200",), title="roughness factor",
)  # fmt: skip
V_M = Equation(
    Symbol("v_m", "speed"), "c_r*c_o*v_b", symbols("c_r:ratio, c_o:ratio, v_b:speed"),
    "EN 1991-1-4:2005 4.3.1 (4.3)", "secondary", title="mean wind speed",
)  # fmt: skip
I_V = Equation(
    Symbol("I_v", "ratio"), "1/(c_o*ln(max(z, z_min)/z_0))",
    symbols("c_o:ratio, z:length@m, z_min:length@m, z_0:length@m"),
    "EN 1991-1-4:2005 4.4 (4.7), k_I = 1", "secondary", title="turbulence intensity",
)  # fmt: skip
Q_P = Equation(
    Symbol("q_p", "pressure", "N/m2"), "(1 + 7*I_v)*0.5*rho*v_m**2", symbols("I_v:ratio, rho:density, v_m:speed@m/s"),
    "EN 1991-1-4:2005 4.5 (4.8)", "secondary", title="peak velocity pressure",
)  # fmt: skip
Q_B = Equation(
    Symbol("q_b", "pressure", "N/m2"), "0.5*rho*v_b**2", symbols("rho:density, v_b:speed@m/s"),
    "EN 1991-1-4:2005 4.5 (4.10)", "secondary", title="basic velocity pressure",
)  # fmt: skip
C_E = Equation(
    Symbol("c_e", "ratio"), "q_p/q_b", symbols("q_p:pressure, q_b:pressure"),
    "EN 1991-1-4:2005 4.5 (4.9)", "secondary", title="exposure factor",
)  # fmt: skip

# ---------------------------------------------------------------- United Kingdom
ALTITUDE = Equation(
    Symbol("c_alt", "ratio"), "1 + 0.001*A", symbols("A:distance@m, z:length@m"),
    "UK NA to BS EN 1991-1-4 NA.2.5 (NA.2a), for heights up to 10 m", "secondary", valid=("z <= 10", "A >= 0"),
    title="altitude factor",
)  # fmt: skip
V_B_UK = Equation(
    Symbol("v_b", "speed"), "c_dir*c_season*v_map*c_alt", symbols("c_dir:ratio, c_season:ratio, v_map:speed, c_alt:ratio"),
    "UK NA to BS EN 1991-1-4 NA.2.4", "secondary", title="basic wind speed",
)  # fmt: skip
Q_B_UK = Equation(
    Symbol("q_b", "pressure", "N/m2"), "0.613*v_b**2", symbols("v_b:speed@m/s"),
    "UK NA to BS EN 1991-1-4 NA.2.18", "secondary", title="basic velocity pressure",
)  # fmt: skip
Q_P_UK = Equation(
    Symbol("q_p", "pressure"), "c_e*q_b", symbols("c_e:ratio, q_b:pressure"),
    "UK NA to BS EN 1991-1-4 NA.2.17, country", "secondary", title="peak velocity pressure",
)  # fmt: skip
Q_P_UK_TOWN = Equation(
    Symbol("q_p", "pressure"), "c_e*min(c_T, 1)*q_b", symbols("c_e:ratio, c_T:ratio, q_b:pressure"),
    "UK NA to BS EN 1991-1-4 NA.2.17, town", "secondary", title="peak velocity pressure",
)  # fmt: skip
Q_P_UK_HILL = Equation(
    Symbol("q_p", "pressure"), "q_p0*((c_o + 0.6)/1.6)**2", symbols("q_p0:pressure, c_o:ratio"),
    "UK NA to BS EN 1991-1-4 NA.2.17, near a hill, heights up to 50 m", "secondary", title="peak velocity pressure at a hill",
)  # fmt: skip
SEA = logarithmic("c_e", "x_sea", "distance", "UK NA to BS EN 1991-1-4 figure NA.7, between two distances to the sea",
                  "exposure factor at a height")  # fmt: skip
SEA_HEIGHT = linear("c_e", "z", "length", "UK NA to BS EN 1991-1-4 figure NA.7, between two heights", "exposure factor")
TOWN = logarithmic("c_T", "x_town", "distance", "UK NA to BS EN 1991-1-4 figure NA.8, between two distances into the town",
                   "factor for a town at a height")  # fmt: skip
TOWN_HEIGHT = linear("c_T", "z", "length", "UK NA to BS EN 1991-1-4 figure NA.8, between two heights", "factor for a town")

# ---------------------------------------------------------------- Germany
PROFILES = {
    key: Equation(
        Symbol("q_p", "pressure", "kN/m2"), text, symbols(used) if used else (), f"DIN EN 1991-1-4/NA {clause}", provenance,
        title="peak velocity pressure",
    )
    for key, text, used, clause, provenance in (
        ("inland low", "1.5*q_b0", "q_b0:pressure@kN/m2", "(NA.B.1)", "secondary"),
        ("inland middle", "1.7*q_b0*(z/10)**0.37", "q_b0:pressure@kN/m2, z:length@m", "(NA.B.2)", "secondary"),
        ("inland high", "2.1*q_b0*(z/10)**0.24", "q_b0:pressure@kN/m2, z:length@m", "(NA.B.3)", "secondary"),
        ("coast low", "1.8*q_b0", "q_b0:pressure@kN/m2", "(NA.B.4)", "secondary"),
        ("coast middle", "2.3*q_b0*(z/10)**0.27", "q_b0:pressure@kN/m2, z:length@m", "(NA.B.5)", "secondary"),
        ("island low", "1.1", "", "(NA.B.7)", "memory"),
        ("island middle", "1.5*(z/10)**0.19", "z:length@m", "(NA.B.8)", "memory"),
    )
}  # fmt: skip

# ---------------------------------------------------------------- coefficient
LONGER = linear("C_0", "r_l", "ratio", "EN 1991-1-4:2005 7.4.1 Table 7.9, between two lengths", "coefficient without a corner")
WITH_CORNER = Equation(
    Symbol("C_net", "ratio"), "C_0 + min(C_r - C_0, 0)*min(r_L, 1)", symbols("C_0:ratio, C_r:ratio, r_L:ratio"),
    "EN 1991-1-4:2005 7.4.1 Table 7.9, footnote on corners; a corner never raises a coefficient (ours)", "secondary",
    title="coefficient with a corner at the end",
)  # fmt: skip
OPEN_DECK = Equation(
    Symbol("C_net", "ratio"), "max(C_w, C_open)", symbols("C_w:ratio, C_open:ratio"),
    "ours: EN 1991-1-4:2005 7.4.1 is for walls on the ground; with air under the deck no zone is taken below a signboard, 7.4.3",
    "computed", title="coefficient with air under the deck",
)  # fmt: skip
PRESSURE = Equation(
    Symbol("p_k", "pressure"), "q_p*C_net", symbols("q_p:pressure, C_net:ratio"),
    "EN 1991-1-4:2005 5.2 (5.1), 7.4.1", "secondary", title="wind on the glass",
)  # fmt: skip
NO_CORNER = " return"
ZONES = ("A", "B", "C", "D")
MOST_HILL = "the annex allows at most about 1.61, which makes the pressure up to 1.95 times as high (ours, remembered)"
OWN = "EN 1991-1-4:2005"


def wind(tables: Tables, national: str, site: WindSite) -> WindOnPanel | NotChecked:
    """Characteristic pressure on a panel, strip by strip."""
    lack = lacking(site, tables)
    if lack is not None:
        return lack
    peak = _peak(tables, national, site)
    if isinstance(peak, NotChecked):
        return peak
    q_p, read, words, source = peak
    borders = [ZONE_LENGTH(m_z=cell(tables.table("wind_en_zones").row(z), "m_z"), c=site.wall.named("c")) for z in ZONES[:-1]]
    r_l = length_over_height(tables, site)
    assumed = list(words)
    if site.run is None:
        assumed.append(
            f"the run of glass is at least {float(r_l.x):g} times as long as it is high, from where coefficients do not grow"
        )
    open_below = site.open_below and float(site.top.x) > float(site.wall.x)  # type: ignore[union-attr]
    if open_below:
        assumed.append(
            "air can get under the deck: no coefficient below that of a signboard (ours; Table 7.9 covers walls on the ground)"
        )
    free = [on_deck(tables, coefficient(tables, zone, r_l), open_below) for zone in ZONES]
    r_L = _corner(site)
    near = free if r_L is None else [on_deck(tables, coefficient(tables, zone, r_l, r_L), open_below) for zone in ZONES]
    strips = []
    for part in stretches(site, [float(b.x) for b in borders]):
        C = worse(near[part.zone], free[part.far])
        zone = ZONES[part.zone if C is near[part.zone] else part.far]
        strips.append(Strip(part.x0, part.x1, PRESSURE(q_p=q_p, C_net=C), None, f"zone {zone}"))
    return WindOnPanel(merged(strips), end_zone(borders, free), source, read, tuple(assumed))


def on_deck(tables: Tables, C: Value, open_below: bool) -> Value:
    """The coefficient of a wall, with air under the deck not below that of a signboard."""
    if not open_below:
        return C.named("C_net")
    return OPEN_DECK(C_w=C.named("C_w"), C_open=tables.value("wind_en_factors", "open_deck").named("C_open"))


def free_stream(tables: Tables, national: str, site: WindSite) -> tuple[Value, Value | None, str] | NotChecked:
    """Peak pressure at the top of the glass before any coefficient; movement is looked at under the same."""
    lack = lacking(site, tables)
    if lack is not None:
        return lack
    peak = _peak(tables, national, site)
    return peak if isinstance(peak, NotChecked) else (peak[0], None, peak[-1])


def _corner(site: WindSite) -> Value | None:
    if site.corner is None or float(site.corner.x) <= 0.0:
        return None
    return CORNER_SHARE(L_r=site.corner.named("L_r"), c=site.wall.named("c"))


def length_over_height(tables: Tables, site: WindSite) -> Value:
    """Length of the run over the height of the wall; that of a long run where it is not known."""
    if site.run is None:
        return tables.value("wind_en_factors", "long_run").named("r_l")
    return LENGTH_SHARE(b=site.run.named("b"), c=site.wall.named("c"))


def coefficient(tables: Tables, zone: str, r_l: Value, r_L: Value | None = None) -> Value:
    """Net coefficient of a zone of a solid wall by Table 7.9; ``r_L`` length over height of a corner at the end."""
    line = points(rows_of(tables, "wind_en_walls", lambda row: row.text("zone") == zone), "r_l", "C_net")
    C_0 = interpolated(LONGER, line, r_l)
    if r_L is None:
        return C_0.named("C_net")
    return WITH_CORNER(C_0=C_0, C_r=cell(tables.table("wind_en_walls").row(zone + NO_CORNER), "C_net").named("C_r"), r_L=r_L)


Peak = tuple[Value, frozenset[str], tuple[str, ...], str]


def _peak(tables: Tables, national: str, site: WindSite) -> Peak | NotChecked:
    """Peak pressure at the top of the glass by whichever annex the place is known for."""
    z = site.top
    assert z is not None
    if national == "uk" or (site.map_speed is not None and site.zone is None and site.basic_speed is None):
        return _united_kingdom(tables, site, z)
    if site.zone is not None:
        return _germany(tables, site, z)
    if site.basic_speed is None:
        text = (
            "the wind speed of the place: wind.map_speed (United Kingdom), wind.zone (Germany), or wind.basic_speed with "
            "wind.terrain; or wind.pressure with its reference"
        )
        return NotChecked(Lack.INPUT, text)
    lack = hill_lack(site, "the orography factor c_o", MOST_HILL)
    if lack is not None:
        return lack
    row = tables.table("wind_en_terrain").row(site.terrain or "II")
    c_o = _hill(tables, site)
    v_b = V_B(v_b0=site.basic_speed.named("v_b0"), **_speed_factors(tables))
    q_p = peak_pressure(v_b, z, cell(row, "z_0"), cell(row, "z_min"), c_o, cell(tables.table("wind_air").row("en"), "rho"))
    read = frozenset({"basic_speed", "terrain", "hill", "hill_factor", "below_deck"})
    return q_p, read, (f"terrain category {row.key}: {row.text('note')}",), f"{OWN}, basic speed and terrain"


def peak_pressure(v_b: Value, z: Value, z_0: Value, z_min: Value, c_o: Value, rho: Value) -> Value:
    """Peak velocity pressure at a height over a terrain, 4.3 to 4.5."""
    z, c_o = z.named("z"), c_o.named("c_o")
    c_r = C_R(k_r=K_R(z_0=z_0), z=z, z_min=z_min, z_0=z_0)
    v_m = V_M(c_r=c_r, c_o=c_o, v_b=v_b)
    return Q_P(I_v=I_V(c_o=c_o, z=z, z_min=z_min, z_0=z_0), rho=rho, v_m=v_m)


def _speed_factors(tables: Tables) -> dict[str, Value]:
    return {key: tables.value("wind_en_factors", key).named(key) for key in ("c_dir", "c_season")}


def _hill(tables: Tables, site: WindSite) -> Value:
    if site.hill and site.hill_factor is not None:
        return site.hill_factor.named("c_o")
    return tables.value("wind_en_factors", "c_o").named("c_o")


def _united_kingdom(tables: Tables, site: WindSite, z: Value) -> Peak | NotChecked:
    if site.map_speed is None:
        text = "the map wind speed of the place (wind.map_speed): building control or the engineer knows it; there is no default"
        return NotChecked(Lack.INPUT, text)
    if site.altitude is None:
        return NotChecked(Lack.INPUT, "the altitude of the place above the sea (wind.altitude), on which the wind speed depends")
    if site.distance_to_sea is None:
        return NotChecked(Lack.INPUT, "the distance to the sea (wind.distance_to_sea)")
    lack = hill_lack(site, "the orography factor c_o", MOST_HILL)
    if lack is not None:
        return lack
    c_alt = ALTITUDE(A=site.altitude.named("A"), z=z.named("z"))
    q_b = Q_B_UK(v_b=V_B_UK(v_map=site.map_speed.named("v_map"), c_alt=c_alt, **_speed_factors(tables)))
    c_e = exposure(tables, z, site.distance_to_sea)
    if site.into_town is None:
        q_p, words = Q_P_UK(c_e=c_e, q_b=q_b), "open country, or less than 2 km inside a town"
    else:
        q_p, words = (
            Q_P_UK_TOWN(c_e=c_e, c_T=town_factor(tables, z, site.into_town), q_b=q_b),
            "a town, 2 km of it upwind all round",
        )
    if site.hill and site.hill_factor is not None:
        q_p = Q_P_UK_HILL(q_p0=q_p.named("q_p0"), c_o=site.hill_factor.named("c_o"))
    read = frozenset({"map_speed", "altitude", "distance_to_sea", "town", "hill", "hill_factor", "below_deck"})
    return q_p, read, (words, "wind from any direction"), f"{OWN} with the UK annex"


def exposure(tables: Tables, z: Value, sea: Value) -> Value:
    """Exposure factor c_e of the UK annex at a height, ``sea`` away from the sea."""
    return _two_ways(tables, "wind_uk_exposure", "c_e", "x_sea", (SEA, SEA_HEIGHT), z, sea)


def town_factor(tables: Tables, z: Value, into: Value) -> Value:
    """Factor c_e,T of the UK annex at a height, ``into`` the town."""
    return _two_ways(tables, "wind_uk_town", "c_T", "x_town", (TOWN, TOWN_HEIGHT), z, into)


def _two_ways(tables: Tables, name: str, y: str, x: str, lines: tuple[Equation, Equation], z: Value, at: Value) -> Value:
    """Between four cells of a table over height and a distance: along the distance first, at every height that is needed."""
    rows = rows_of(tables, name)
    heights = sorted({float(cell(r, "z").x) for r in rows})
    wanted = min(max(float(z.x), heights[0]), heights[-1])
    low, high = max(h for h in heights if h <= wanted), min(h for h in heights if h >= wanted)
    ends = []
    for height in dict.fromkeys((low, high)):
        there = [r for r in rows if float(cell(r, "z").x) == height]
        ends.append((cell(there[0], "z"), interpolated(lines[0], points(there, x, y), at)))
    return interpolated(lines[1], ends, z)


def _germany(tables: Tables, site: WindSite, z: Value) -> Peak | NotChecked:
    zones = tables.table("wind_de_zones")
    if site.zone not in zones.keys:
        text = f"{site.zone} is no wind zone of Germany; known: {', '.join(zones.keys)} (wind.zone)"
        return NotChecked(Lack.INPUT, text)
    if site.hill is not False:
        lack = hill_lack(site, "the pressure", "the German profiles are for flat ground")
        text = "the German profiles of the pressure are for flat ground; ask an engineer for wind.pressure at a hill"
        return lack or NotChecked(Lack.BASIS, text)
    coast = site.coast or "coast"
    q_p = german_pressure(tables, site.zone, coast, z)
    if isinstance(q_p, NotChecked):
        return q_p
    where = {
        "inland": "inland",
        "coast": "the coast: a strip of 5 km, or an island of the Baltic",
        "island": "an island of the North Sea",
    }
    read = frozenset({"zone", "coast", "hill", "below_deck"})
    return q_p, read, (where[coast], "less than 800 m above the sea"), f"{OWN} with the German annex, wind zone {site.zone}"


def german_pressure(tables: Tables, zone: str, coast: str, z: Value) -> Value | NotChecked:
    """Peak pressure of the German annex by zone, for ``inland``, ``coast`` or ``island``."""
    for row in rows_of(tables, "wind_de_profiles", lambda r: r.key.startswith(coast)):
        if float(z.x) <= float(cell(row, "z_up").x):
            equation = PROFILES[row.key]
            given = {"q_b0": cell(tables.table("wind_de_zones").row(zone), "q_b0"), "z": z.named("z")}
            return equation(**{s.name: given[s.name] for s in equation.symbols})
    return NotChecked(Lack.RANGE, "higher than the German profiles of the pressure go")
