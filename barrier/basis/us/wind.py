"""Wind on a solid wall that stands free by ASCE 7-16 and 7-22, chapter 29: strength level.

``s`` of the code is the height of the wall itself and ``h`` that of its top: glass on a raised deck is far from s/h = 1.
"""

from __future__ import annotations

from barrier.basis.wind import (
    CORNER_SHARE,
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
    interpolated,
    lacking,
    linear,
    merged,
    points,
    quarters,
    rows_of,
    stretches,
)
from barrier.equation import Equation, Symbol, symbols
from barrier.result import Lack, NotChecked
from barrier.tables import Row, Tables
from barrier.value import Value

FIGURE = "ASCE 7 figure 29.3-1"
K_Z = {
    edition: Equation(
        Symbol("K_z", "ratio"), f"{factor}*(max(z, 15)/z_g)**(2/alpha)", symbols("z:length@ft, z_g:length@ft, alpha:ratio"),
        f"ASCE {edition} Table 26.10-1", "secondary", valid=("z <= z_g",), title="velocity pressure exposure coefficient",
    )
    for edition, factor in (("7-16", "2.01"), ("7-22", "2.41"))
}  # fmt: skip
K_E = Equation(
    Symbol("K_e", "ratio"), "exp(-0.0000362*z_e)", symbols("z_e:distance@ft"), "ASCE 7 Table 26.9-1", "secondary",
    title="ground elevation factor",
)  # fmt: skip
_Q = {"7-16": ("K_z*K_zt*K_d*K_e", "K_z:ratio, K_zt:ratio, K_d:ratio, K_e:ratio"),
      "7-22": ("K_z*K_zt*K_e", "K_z:ratio, K_zt:ratio, K_e:ratio")}  # fmt: skip
Q_H = {
    (edition, unit): Equation(
        Symbol("q_h", "pressure", unit), f"{number}*{text}*V**2", symbols(f"{used}, V:speed@{speed}"),
        f"ASCE {edition} (26.10-1{'.SI' if unit == 'N/m2' else ''})", "secondary",
        title="velocity pressure at the top of the wall",
    )
    for edition, (text, used) in _Q.items()
    for unit, number, speed in (("lbf/ft2", "0.00256", "mph"), ("N/m2", "0.613", "m/s"))
}  # fmt: skip
PRESSURE = {
    "7-16": Equation(
        Symbol("p_w", "pressure"), "q_h*G*C_f", symbols("q_h:pressure, G:ratio, C_f:ratio"), "ASCE 7-16 29.3.1 (29.3-1)",
        "secondary", title="wind on the glass, strength level",
    ),
    "7-22": Equation(
        Symbol("p_w", "pressure"), "q_h*K_d*G*C_f", symbols("q_h:pressure, K_d:ratio, G:ratio, C_f:ratio"),
        "ASCE 7-22 29.3.1 (29.3-1), directionality here and not in q", "secondary", title="wind on the glass, strength level",
    ),
}  # fmt: skip
LEAST = Equation(
    Symbol("p_k", "pressure"), "max(p_w, p_min)", symbols("p_w:pressure, p_min:pressure"),
    "ASCE 7 29.7, least wind at strength level", "secondary", title="wind on the glass, strength level, not below the least",
)  # fmt: skip
HIGHER = Equation(
    Symbol("p_k", "pressure"), "p_0*0.55/0.5", symbols("p_0:pressure"),
    f"{FIGURE} note: for s/h = 1 the resultant acts 0.05 of the height above the middle; the moment at the deck by statics",
    "secondary", title="wind on the glass with its resultant higher",
)  # fmt: skip
LENGTHS = linear("C_B", "r_B", "ratio", f"{FIGURE} cases A and B, between two lengths", "coefficient of a row of the figure")
SHARES = linear("C_f", "r_s", "ratio", f"{FIGURE} cases A and B, between two shares of the height", "net force coefficient")
ENDS = linear("C_c", "r_B", "ratio", f"{FIGURE} case C, between two lengths", "coefficient of a strip towards the end")
RETURNS = linear("k_L", "r_L", "ratio", f"{FIGURE} case C, return corner", "factor of a corner at the end")
END_STRIP = Equation(
    Symbol("C_C", "ratio"), "C_c*k_L*min(1, 1.8 - r_s)", symbols("C_c:ratio, k_L:ratio, r_s:ratio"),
    f"{FIGURE} case C with its notes: a corner lowers the first strip, and s/h over 0.8 all of them", "secondary",
    title="coefficient of a strip towards the end, with its notes",
)  # fmt: skip
EITHER = Equation(
    Symbol("C_f", "ratio"), "max(C_A, C_C)", symbols("C_A:ratio, C_C:ratio"), f"{FIGURE}: case A over all, case C from either end",
    "computed", title="net force coefficient, the larger of two cases",
)  # fmt: skip
OFF_CENTRE = Equation(
    Symbol("C_f", "ratio"), "C_A*(1 + 12*0.2*max(0.5 - x_m/b, 0))", symbols("C_A:ratio, x_m:length, b:distance"),
    f"{FIGURE} case B: the resultant 0.2 of the length off the middle, here spread in a straight line (ours)", "computed",
    title="net force coefficient with the resultant off the middle",
)  # fmt: skip
SERVICE = Equation(
    Symbol("p_s", "pressure"), "p_k*0.42/f_Q", symbols("p_k:pressure, f_Q:ratio"),
    "IBC Table 1604.3 note f: 0.42 of the strength-level wind; over the factor the combination has already", "secondary",
    title="wind that movement is looked at under",
)  # fmt: skip
EDITIONS = tuple(K_Z)
MOST_HILL = "figure 26.8-1 reaches K_zt 3.15 at the crest of a steep ridge in exposure D (ours)"


def wind(tables: Tables, site: WindSite) -> WindOnPanel | NotChecked:
    """Pressure on a panel at strength level, strip by strip: case A over all, case C from either end."""
    lack = lacking(site, tables)
    if lack is not None:
        return lack
    if site.speed is None:
        text = "the design wind speed (wind.speed): on the permit or the hazard map, risk category II"
        return NotChecked(Lack.INPUT, text)
    lack = hill_lack(site, "the topographic factor K_zt", MOST_HILL)
    if lack is not None:
        return lack
    edition, exposure = site.edition or EDITIONS[-1], site.exposure or "C"
    q_h = velocity_pressure(tables, site, edition, exposure)
    assert site.top is not None
    r_s = HEIGHT_SHARE(c=site.wall.named("c"), h=site.top.named("h"))
    r_B = length_over_height(tables, site)
    strips_of = _strips if float(r_B.x) >= float(_factor(tables, "case_c_from").x) else _short
    strips, zone_length = strips_of(tables, site, r_s, r_B)
    finished = []
    for x0, x1, C, words in strips:
        p_k = pressure(tables, edition, q_h, C)
        if float(r_s.x) >= 1.0:
            p_k = HIGHER(p_0=p_k.named("p_0"))
        p_s = SERVICE(p_k=p_k.named("p_k"), f_Q=tables.value("asce7_factors", "wind_asd").named("f_Q"))
        finished.append(Strip(x0, x1, p_k, p_s, words))
    assumed = [
        f"exposure {exposure}, ASCE {edition}",
        "open air on both faces; where a solid face goes on below the glass the rules of parapets hold instead (remembered)",
    ]
    if site.run is None:
        assumed.append(f"the run of glass is {float(r_B.x):g} times as long as it is high")
    if site.elevation is None:
        assumed.append("ground elevation factor 1")
    if strips_of is _short:
        assumed.append("the resultant off the middle (case B) is spread in a straight line over the run")
    else:
        assumed.append("towards the ends case C stands for what case B is for on short walls (our reading)")
    read = frozenset({"speed", "exposure", "edition", "elevation", "hill", "hill_factor"})
    return WindOnPanel(merged(finished), zone_length, f"ASCE {edition} 29.3.1", read, tuple(assumed))


def velocity_pressure(tables: Tables, site: WindSite, edition: str, exposure: str) -> Value:
    """q_h at the top of the wall; with the directionality factor in 7-16, without it in 7-22."""
    assert site.top is not None and site.speed is not None
    terrain = tables.table("wind_asce7_terrain").row(f"{edition} {exposure}")
    z, alpha, z_g = site.top.named("z"), cell(terrain, "alpha"), cell(terrain, "z_g")
    K_z = K_Z[edition](z=z, z_g=z_g, alpha=alpha)
    K_e = _factor(tables, "K_e") if site.elevation is None else K_E(z_e=site.elevation.named("z_e"))
    hill = site.hill and site.hill_factor is not None
    K_zt = site.hill_factor.named("K_zt") if hill and site.hill_factor is not None else _factor(tables, "K_zt")
    given = {"K_z": K_z, "K_zt": K_zt, "K_e": K_e, "K_d": _factor(tables, "K_d"), "V": site.speed.named("V")}
    equation = Q_H[edition, "N/m2" if site.metric else "lbf/ft2"]
    return equation(**{s.name: given[s.name] for s in equation.symbols})


def pressure(tables: Tables, edition: str, q_h: Value, C_f: Value) -> Value:
    """Pressure of a coefficient, not below the least of the code: strength level."""
    equation = PRESSURE[edition]
    given = {"q_h": q_h, "K_d": _factor(tables, "K_d"), "G": _factor(tables, "G"), "C_f": C_f.named("C_f")}
    p_w = equation(**{s.name: given[s.name] for s in equation.symbols})
    return LEAST(p_w=p_w, p_min=tables.value("wind_asce7_factors", "least_pressure", "pressure").named("p_min"))


def _factor(tables: Tables, key: str) -> Value:
    return tables.value("wind_asce7_factors", key).named(key)


def length_over_height(tables: Tables, site: WindSite) -> Value:
    """B/s of the run; that of a long one where its length is not known."""
    if site.run is None:
        return _factor(tables, "long_run").named("r_B")
    return LENGTH_SHARE(b=site.run.named("b"), c=site.wall.named("c")).named("r_B")


def coefficient(tables: Tables, r_s: Value, r_B: Value) -> Value:
    """Net force coefficient of cases A and B: linear both ways, the ends of the figure beyond it."""
    rows: dict[float, list[Row]] = {}
    for row in rows_of(tables, "wind_asce7_walls"):
        rows.setdefault(float(cell(row, "r_s").x), []).append(row)
    wanted = max(float(r_s.x), float(_factor(tables, "least_share").x))
    low, high = max(s for s in rows if s <= min(wanted, max(rows))), min(s for s in rows if s >= min(wanted, max(rows)))
    ends = [
        (cell(rows[s][0], "r_s"), interpolated(LENGTHS, points(rows[s], "r_B", "C_f"), r_B)) for s in dict.fromkeys((low, high))
    ]
    return interpolated(SHARES, ends, r_s)


def end_coefficient(tables: Tables, strip: str, r_s: Value, r_B: Value, r_L: Value | None = None) -> Value:
    """Net force coefficient of a strip of case C; ``r_L`` length over height of a corner at the end."""
    rows = rows_of(tables, "wind_asce7_ends", lambda row: row.text("strip") == strip)
    C_c = interpolated(ENDS, points(rows, "r_B", "C_f"), r_B)
    corners = rows_of(tables, "wind_asce7_returns")
    first = strip == tables.table("wind_asce7_strips").keys[0]
    none = cell(corners[0], "k_L").named("k_L")
    starred = float(r_B.x) >= float(_factor(tables, "corner_from").x)
    k_L = interpolated(RETURNS, points(corners, "r_L", "k_L"), r_L) if first and starred and r_L is not None else none
    return END_STRIP(C_c=C_c, k_L=k_L, r_s=r_s)


Piece = tuple[float, float, Value, str]


def _strips(tables: Tables, site: WindSite, r_s: Value, r_B: Value) -> tuple[list[Piece], Value | None]:
    """Strips of a panel in a run at least twice as long as it is high."""
    zones = tables.table("wind_asce7_strips")
    borders = [ZONE_LENGTH(m_z=cell(row, "m_z"), c=site.wall.named("c")) for row in zones.rows]
    names = (*zones.keys, "beyond 10s")
    C_A = coefficient(tables, r_s, r_B)
    corner = site.corner if site.corner is not None and float(site.corner.x) > 0.0 else None
    r_L = None if corner is None else CORNER_SHARE(L_r=corner.named("L_r"), c=site.wall.named("c"))
    near, free = ([_in_strip(tables, name, C_A, r_s, r_B, turned) for name in names] for turned in (r_L, None))
    found = []
    for part in stretches(site, [float(b.x) for b in borders]):
        C, at_end = near[part.zone]
        name = names[part.zone]
        if float(free[part.far][0].x) > float(C.x):
            (C, at_end), name = free[part.far], names[part.far]
        if not at_end:
            found.append((part.x0, part.x1, C_A, "mid-run, case A"))
        else:
            found.append((part.x0, part.x1, C, f"{name} from the end, case C"))
    return found, end_zone(borders, [C for C, _ in free])


def _in_strip(tables: Tables, strip: str, C_A: Value, r_s: Value, r_B: Value, r_L: Value | None) -> tuple[Value, bool]:
    """The larger of case A and of case C in a strip, and whether it is case C; beyond the figure's last column it is case A."""
    if not rows_of(tables, "wind_asce7_ends", lambda row: row.text("strip") == strip):
        return C_A, False
    C_C = end_coefficient(tables, strip, r_s, r_B, r_L)
    if float(C_C.x) <= float(C_A.x):
        return C_A, False
    return EITHER(C_A=C_A.named("C_A"), C_C=C_C.named("C_C")), True


def _short(tables: Tables, site: WindSite, r_s: Value, r_B: Value) -> tuple[list[Piece], Value | None]:
    """Quarters of a panel in a run less than twice as long as it is high: the resultant of case B spread over it."""
    assert site.run is not None
    C_A = coefficient(tables, r_s, r_B)
    found = [(x0, x1, OFF_CENTRE(C_A=C_A.named("C_A"), x_m=x_m, b=site.run.named("b")), f"{name} quarter of the panel, case B")
             for x0, x1, x_m, name in quarters(site)]  # fmt: skip
    return found, HALF_RUN(b=site.run.named("b"))
