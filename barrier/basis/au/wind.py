"""Wind on a wall that stands free by AS/NZS 1170.2, with the house classes of AS 4055 or the zones of NZS 3604.

Pressures are ultimate already. A raised wall counts its zones in heights ``c`` of the wall, one on or near the ground in
heights ``h`` of its top.
"""

from __future__ import annotations

from barrier.basis.wind import (
    HALF_RUN,
    HEIGHT_SHARE,
    LENGTH_SHARE,
    ZONE_LENGTH,
    Strip,
    WindOnPanel,
    WindSite,
    cell,
    end_zone,
    hill_lack,
    lacking,
    merged,
    quarters,
    stretches,
    worse,
)
from barrier.equation import Equation, Symbol, symbols
from barrier.result import Lack, NotChecked
from barrier.tables import Row, Tables
from barrier.value import Value

APPENDIX = "AS/NZS 1170.2 appendix on free-standing walls"
SPEED = Equation(
    Symbol("q_u", "pressure", "N/m2"), "0.6*V_u**2", symbols("V_u:speed@m/s"), "AS/NZS 1170.2 2.4.1, half of 1.2 kg/m3",
    "secondary", title="ultimate pressure of the gust speed",
)  # fmt: skip
SPEED_SERVICE = Equation(
    Symbol("q_s", "pressure", "N/m2"), "0.6*V_s**2", symbols("V_s:speed@m/s"), "AS/NZS 1170.2 2.4.1, half of 1.2 kg/m3",
    "secondary", title="serviceability pressure of the gust speed",
)  # fmt: skip
RATIO_SERVICE = Equation(
    Symbol("q_s", "pressure"), "0.72*q_u", symbols("q_u:pressure"),
    "NZS 3604 has no serviceability speed: 0.85 of the ultimate one (ours; 37/45 for 25 and 500 years)", "memory",
    title="serviceability pressure",
)  # fmt: skip
LEAST_SPEED = Equation(
    Symbol("V_u", "speed", "m/s"), "max(V_des, 30)", symbols("V_des:speed@m/s"),
    "AS/NZS 1170.2 2.3: at least 30 m/s at the ultimate level", "secondary", title="design gust speed",
)  # fmt: skip
HILL = Equation(
    Symbol("V_u", "speed"), "V_des*M_t", symbols("V_des:speed, M_t:ratio"), "AS/NZS 1170.2 2.2, the reader's hill multiplier",
    "secondary", title="design gust speed at the hill",
)  # fmt: skip
SHORT_RUN = Equation(
    Symbol("C_0", "ratio"), "1.3 + 0.5*(0.3 + ln(r_b)/ln(10))*(0.8 - r_s)", symbols("r_b:ratio, r_s:ratio"),
    f"{APPENDIX}, Table D2(A) / B.2(A), square on, b/c up to 5", "secondary", valid=("r_b >= 0.5", "r_s >= 0.2"),
    title="coefficient square on, short run",
)  # fmt: skip
LONG_RUN = Equation(
    Symbol("C_0", "ratio"), "1.7 - 0.5*r_s", symbols("r_s:ratio"),
    f"{APPENDIX}, Table D2(A) / B.2(A), square on, b/c over 5", "secondary", valid=("r_s >= 0.2",),
    title="coefficient square on, long run",
)  # fmt: skip
HIGH_UP = Equation(
    Symbol("C_0", "ratio"), "1.4 + 0.3*ln(r_b)/ln(10)", symbols("r_b:ratio"),
    f"{APPENDIX}, Table D2(A) / B.2(A), square on, c/h under 0.2", "secondary", valid=("r_b >= 0.5", "r_b <= 45"),
    title="coefficient square on, high above the ground",
)  # fmt: skip
SLANTED = Equation(
    Symbol("C_pn", "ratio"), "C_0*(1 + 12*0.2*max(0.5 - x_m/b, 0))", symbols("C_0:ratio, x_m:length, b:distance"),
    f"{APPENDIX}, Table D2(B) / B.2(B), 45 degrees, b/c up to 5: the resultant 0.2 of the length off the middle, here spread in a "
    "straight line (ours)", "computed", title="net coefficient at a place of a short run",
)  # fmt: skip
WORST = Equation(
    Symbol("C_pn", "ratio"), "max(C_0, C_45, C_90)", symbols("C_0:ratio, C_45:ratio, C_90:ratio"),
    f"{APPENDIX}: the worst of wind square on, at 45 and at 90 degrees, from either end", "computed",
    title="net coefficient, worst direction",
)  # fmt: skip
PRESSURE = Equation(
    Symbol("p_u", "pressure"), "q_u*C_pn", symbols("q_u:pressure, C_pn:ratio"), "AS/NZS 1170.2 2.4.1, a solid wall, K_p = 1",
    "secondary", title="wind on the glass, ultimate",
)  # fmt: skip
PRESSURE_SERVICE = Equation(
    Symbol("p_s", "pressure"), "q_s*C_pn", symbols("q_s:pressure, C_pn:ratio"), "AS/NZS 1170.2 2.4.1, a solid wall, K_p = 1",
    "secondary", title="wind on the glass, serviceability",
)  # fmt: skip
ZONES = ("first", "second", "beyond")
MOST_HILL = "there is no bound to print"
Speeds = tuple[Value, Value | None, frozenset[str], tuple[str, ...], str]


def wind(tables: Tables, site: WindSite, new_zealand: bool = False) -> WindOnPanel | NotChecked:
    """Ultimate and serviceability pressure on a panel, strip by strip: the worst direction at every place."""
    lack = lacking(site, tables)
    if lack is not None:
        return lack
    speeds = pressures(tables, site, new_zealand)
    if isinstance(speeds, NotChecked):
        return speeds
    q_u, q_s, read, words, source = speeds
    pieces, zone_length, said = _pieces(tables, site)
    strips = tuple(
        Strip(x0, x1, PRESSURE(q_u=q_u, C_pn=C.named("C_pn")),
              None if q_s is None else PRESSURE_SERVICE(q_s=q_s, C_pn=C.named("C_pn")), name)
        for x0, x1, C, name in pieces
    )  # fmt: skip
    return WindOnPanel(merged(strips), zone_length, f"{source}; AS/NZS 1170.2, wall that stands free", read, (*words, *said))


def pressures(tables: Tables, site: WindSite, new_zealand: bool = False) -> Speeds | NotChecked:
    """Ultimate and serviceability pressure of the place before any coefficient, what was read, assumptions, source."""
    if site.design_speed is not None:
        return _own_speed(tables, site)
    if new_zealand:
        return _new_zealand(tables, site)
    if site.wind_class is None:
        text = "the wind class on the house plans (wind.wind_class, of AS 4055), or the ultimate site speed (wind.design_speed)"
        return NotChecked(Lack.INPUT, text)
    table = tables.table("wind_as4055")
    if site.wind_class not in table.keys:
        return NotChecked(Lack.INPUT, f"{site.wind_class} is no wind class of AS 4055; known: {', '.join(table.keys)}")
    row = table.row(site.wind_class)
    q_u, q_s = SPEED(V_u=cell(row, "V_u")), SPEED_SERVICE(V_s=cell(row, "V_s"))
    words = ("hill, shelter and terrain are in the class; it is for houses, at the height of their roof",)
    return q_u, q_s, frozenset({"wind_class"}), words, f"wind class {site.wind_class} of AS 4055"


def _new_zealand(tables: Tables, site: WindSite) -> Speeds | NotChecked:
    table = tables.table("wind_nzs3604")
    known = ", ".join(table.keys)
    if site.zone is None:
        said = f" {site.wind_class} is a wind class of Australia and none of New Zealand." if site.wind_class else ""
        text = f"the wind zone of the council (wind.zone, of NZS 3604: {known}), or the ultimate site speed (wind.design_speed)."
        return NotChecked(Lack.INPUT, text + said)
    if site.zone == "SED":
        return NotChecked(Lack.RANGE, "zone SED is specific engineering design: an engineer gives the wind (wind.design_speed)")
    if site.zone not in table.keys:
        return NotChecked(Lack.INPUT, f"{site.zone} is no wind zone of NZS 3604; known: {known}, SED")
    q_u = SPEED(V_u=cell(table.row(site.zone), "V_u"))
    words = ("hill, shelter and terrain are in the zone; it is for houses, at the height of their roof",)
    return q_u, RATIO_SERVICE(q_u=q_u), frozenset({"zone"}), words, f"wind zone {site.zone} of NZS 3604"


def _own_speed(tables: Tables, site: WindSite) -> Speeds | NotChecked:
    lack = hill_lack(site, "the hill multiplier M_t", MOST_HILL)
    if lack is not None:
        return lack
    assert site.design_speed is not None
    V, V_s = site.design_speed, site.service_speed
    if site.hill and site.hill_factor is not None:
        M_t = site.hill_factor.named("M_t")
        V = HILL(V_des=V.named("V_des"), M_t=M_t)
        V_s = None if V_s is None else HILL(V_des=V_s.named("V_des"), M_t=M_t)
    q_s = None if V_s is None else SPEED_SERVICE(V_s=V_s.named("V_s"))
    words = () if q_s is not None else ("no serviceability speed is given: movement is looked at under the ultimate wind",)
    read = frozenset({"design_speed", "service_speed", "hill", "hill_factor"})
    return SPEED(V_u=LEAST_SPEED(V_des=V.named("V_des"))), q_s, read, words, "site wind speed given in the job"


Piece = tuple[float, float, Value, str]


def _bound(tables: Tables, key: str) -> float:
    return float(tables.value("as1170_walls", key).x)


def _pieces(tables: Tables, site: WindSite) -> tuple[list[Piece], Value | None, tuple[str, ...]]:
    """Coefficients along a panel, how far the end zone runs, assumptions."""
    assert site.top is not None
    r_s = HEIGHT_SHARE(c=site.wall.named("c"), h=site.top.named("h"))
    r_b = None if site.run is None else LENGTH_SHARE(b=site.run.named("b"), c=site.wall.named("c")).named("r_b")
    C_0 = square_on(tables, r_s, r_b)
    if site.run is not None and r_b is not None and float(r_b.x) <= _bound(tables, "short_run"):
        said = ("in a run this short the wind at 45 degrees is spread in a straight line over it (ours)",)
        pieces = [(x0, x1, SLANTED(C_0=C_0, x_m=x_m, b=site.run.named("b")), f"{name} quarter of the panel")
                  for x0, x1, x_m, name in quarters(site)]  # fmt: skip
        return pieces, HALF_RUN(b=site.run.named("b")), said
    raised = float(r_s.x) <= _bound(tables, "raised_below")
    height = site.wall if raised else site.top
    borders = [ZONE_LENGTH(m_z=cell(row, "m_z"), c=height.named("c")) for row in tables.table("as1170_wall_zones").rows]
    corner = site.corner is not None and float(site.corner.x) >= float(site.wall.x)
    at_90 = end_row(tables, "90", r_s)
    near, free = (
        {zone: worst(C_0, end_row(tables, "45", r_s, turned), at_90, zone) for zone in ZONES} for turned in (corner, False)
    )
    pieces = []
    for part in stretches(site, [float(b.x) for b in borders]):
        zone, far = ZONES[part.zone], ZONES[part.far]
        C = worse(near[zone], free[far])
        zone = zone if C is near[zone] else far
        pieces.append((part.x0, part.x1, C, f"{zone} zone from the end" if zone != ZONES[-1] else "mid-run"))
    assumed = () if site.run is not None else ("the run of glass is more than five times as long as it is high",)
    return pieces, end_zone(borders, [free[zone] for zone in ZONES]), assumed


def square_on(tables: Tables, r_s: Value, r_b: Value | None) -> Value:
    """Coefficient with the wind square on; ``r_b`` length over height, None for a long run of unknown length."""
    if float(r_s.x) < _bound(tables, "low_share"):
        return HIGH_UP(r_b=(r_b or tables.value("as1170_walls", "longest_run")).named("r_b"))
    if r_b is not None and float(r_b.x) <= _bound(tables, "short_run"):
        return SHORT_RUN(r_b=r_b.named("r_b"), r_s=r_s)
    return LONG_RUN(r_s=r_s)


def end_row(tables: Tables, angle: str, r_s: Value, corner: bool = False) -> Row:
    """The row of a long run for wind at 45 or 90 degrees; a corner lowers what 45 degrees does."""
    how = "raised" if float(r_s.x) <= _bound(tables, "raised_below") else "low"
    table = tables.table("as1170_wall_ends")
    key = f"{angle} {how} corner"
    return table.row(key if corner and key in table.keys else f"{angle} {how}")


def worst(C_0: Value, at_45: Row, at_90: Row, zone: str) -> Value:
    """The worst of three directions in a zone."""
    return WORST(C_0=C_0, C_45=cell(at_45, zone).named("C_45"), C_90=cell(at_90, zone).named("C_90"))
