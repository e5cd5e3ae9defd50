"""Wind on a barrier that stands free: what every family of codes is asked, what it answers, and what all of them share.

The glass with the gap below it is a wall ``c`` high whose top is ``h`` above what is below the deck: two heights, and
every code means the one or the other. Wind may come from either end, so a zone counts from the nearest free end; the
highest coefficient over all directions at a place is taken there, as if all blew at once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from barrier.equation import Equation, Symbol, symbols
from barrier.result import Lack, NotChecked
from barrier.tables import Row, Tables
from barrier.value import Cell, Numerical, Value


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class WindSite:
    """What is known of one panel in its run and of the place; None is not known.

    ``wall`` c, ``top`` h and ``width`` of the panel; ``from_end`` from the nearest free end of the run to the nearer edge
    of the panel, None where it stands mid-run; ``run`` the length of the straight run; ``corner`` how long the glass round
    the corner at that end is, None where the end stops in open air, as the other end does. ``hill`` whether it stands near a
    hill top, ridge or cliff, with the factor of the code for it (c_o, K_zt, M_t). What follows is the place in the words of
    the families: each reads its own.
    """

    wall: Value
    top: Value | None
    width: Value
    from_end: Value | None = None
    run: Value | None = None
    corner: Value | None = None
    open_below: bool = True
    hill: bool | None = None
    hill_factor: Value | None = None
    metric: bool = True
    map_speed: Value | None = None
    altitude: Value | None = None
    distance_to_sea: Value | None = None
    into_town: Value | None = None
    zone: str | None = None
    coast: str | None = None
    basic_speed: Value | None = None
    terrain: str | None = None
    speed: Value | None = None
    exposure: str | None = None
    edition: str | None = None
    elevation: Value | None = None
    wind_class: str | None = None
    design_speed: Value | None = None
    service_speed: Value | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Strip:
    """A strip of a panel, from ``x0`` to ``x1`` mm of its edge nearer the free end, and the pressure on it.

    ``pressure`` at the level the basis calls for, ``service`` what movement is looked at under where it is another;
    ``zone`` in words.
    """

    x0: float
    x1: float
    pressure: Value
    service: Value | None
    zone: str


@dataclass(frozen=True, slots=True, eq=False)
class WindOnPanel:
    """The answer of a family: strips along the panel from the edge nearer the free end, how far the end zone runs.

    ``end_zone`` is None where no place towards the end takes more than mid-run, as the tables of a reader may have it.
    ``read`` are the entries of the place that were read; ``assumed`` says in words what was taken for granted.
    """

    strips: tuple[Strip, ...]
    end_zone: Value | None
    source: str
    read: frozenset[str]
    assumed: tuple[str, ...] = field(default=())


# ---------------------------------------------------------------- along the run


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a panel within one zone: mm from the panel's edge nearer the end it is measured from.

    ``zone`` counts from that end, 0 at the end; ``far`` from the other end of the run.
    """

    x0: float
    x1: float
    zone: int
    far: int


def stretches(site: WindSite, borders: Sequence[float]) -> tuple[Stretch, ...]:
    """Cut a panel at the borders of zones.

    Arguments: ``site``; ``borders`` distances from a free end at which zones change, rising, in mm. Returns stretches in
    order; zone 0 is at the end, the last is all beyond the last border. Where the length of the run is not known its other
    end is far away; a panel mid-run of a known run stands in its middle.
    """
    width, last = float(site.width.x), len(borders)
    start = start_of(site)
    if start is None:
        return (Stretch(0.0, width, last, last),)
    run = float("inf") if site.run is None else float(site.run.x)
    cuts = {0.0, width, *(b - start for b in borders), *(run - start - b for b in borders)}
    inside = sorted(x for x in cuts if 0.0 <= x <= width)
    found: list[Stretch] = []
    for x0, x1 in pairwise(inside):
        middle = start + (x0 + x1) / 2
        zone, far = (sum(border <= there for border in borders) for there in (middle, run - middle))
        if found and (found[-1].zone, found[-1].far) == (zone, far):  # borders from both ends that all but meet
            found[-1] = replace(found[-1], x1=x1)
        else:
            found.append(Stretch(x0, x1, zone, far))
    return tuple(found)


def worse(near: Value, far: Value) -> Value:
    """The larger of what the wind does from the end the panel is measured from, and from the other end."""
    return near if float(near.x) >= float(far.x) else far


def end_zone(borders: Sequence[Value], along: Sequence[Value]) -> Value | None:
    """How far from a free end the wind is higher than mid-run.

    Arguments: ``borders`` of the zones, rising; ``along`` the coefficient of each zone from the end on and, last, mid-run.
    Returns the border of the last zone that takes more than mid-run; None where none does.
    """
    higher = [border for border, C in zip(borders, along[:-1], strict=True) if float(C.x) > float(along[-1].x)]
    return higher[-1] if higher else None


def start_of(site: WindSite) -> float | None:
    """Where the panel begins, in mm from the nearest end; None where it is mid-run of a run of unknown length."""
    if site.from_end is not None:
        return float(site.from_end.x)
    return None if site.run is None else max(float(site.run.x) - float(site.width.x), 0.0) / 2


AND = " and "


def merged(strips: Iterable[Strip]) -> tuple[Strip, ...]:
    """Strips side by side with the same pressure as one; the zones of both are named."""
    found: list[Strip] = []
    for s in strips:
        last = found[-1] if found else None
        if last is not None and float(last.pressure.x) == float(s.pressure.x):
            names = dict.fromkeys((*last.zone.split(AND), *s.zone.split(AND)))
            found[-1] = replace(last, x1=s.x1, zone=AND.join(names))
        else:
            found.append(s)
    return tuple(found)


QUARTERS = ("first", "second", "third", "last")


def quarters(site: WindSite) -> tuple[tuple[float, float, Value, str], ...]:
    """A panel cut in four for a load that changes in a straight line: from, to, middle from the nearest end, name."""
    width, start = float(site.width.x), start_of(site) or 0.0
    step = width / len(QUARTERS)
    found = []
    for i, name in enumerate(QUARTERS):
        x0, x1 = i * step, (i + 1) * step
        x_m = start + (x0 + x1) / 2
        if site.run is not None:
            x_m = min(x_m, float(site.run.x) - x_m)
        how = Numerical(f"middle of the {name} quarter of the panel, from the nearest end of the run", "counted", "the job")
        found.append((x0, x1, Value(x_m, "length", how, "x_m"), name))
    return tuple(found)


# ---------------------------------------------------------------- what keeps any family from answering


def lacking(site: WindSite, tables: Tables) -> NotChecked | None:
    """What is missing whatever the code: how high, and whether there is a hill."""
    if site.top is None:
        return NotChecked(Lack.INPUT, "the fall height, on which the wind depends (site.fall_height)")
    highest = tables.value("wind_limits", "highest_top")
    if float(site.top.x) > float(highest.x):
        height = highest.origin.text if isinstance(highest.origin, Cell) else ""
        text = (
            f"the top of the glass is more than {height} m above what is below: the codes give no method for a "
            "barrier that high on a building; ask an engineer for wind.pressure"
        )
        return NotChecked(Lack.RANGE, text)
    return None


def hill_lack(site: WindSite, factor: str, most: str) -> NotChecked | None:
    """What is missing where the place must be known to be flat; ``factor`` names the code's own, ``most`` a bound of it."""
    if site.hill is None:
        text = (
            "whether it stands within 100 m of a hill top, ridge or cliff, or on a slope over 3 degrees (wind.hill = "
            '"no", or "yes" with wind.hill_factor)'
        )
        return NotChecked(Lack.INPUT, text)
    if site.hill and site.hill_factor is None:
        return NotChecked(Lack.INPUT, f"it stands at a hill: {factor} by an engineer (wind.hill_factor); {most}")
    return None


# ---------------------------------------------------------------- between two rows of a table


def linear(y: str, x: str, kind: str, source: str, title: str) -> Equation:
    """The equation of a straight line between two cells, in the names of a table: y over x."""
    return Equation(
        Symbol(y, "ratio"),
        f"{y}_1 + ({y}_2 - {y}_1)*({x} - {x}_1)/({x}_2 - {x}_1)",
        symbols(f"{y}_1:ratio, {y}_2:ratio, {x}:{kind}, {x}_1:{kind}, {x}_2:{kind}"),
        source,
        "secondary",
        title=title,
    )


def logarithmic(y: str, x: str, kind: str, source: str, title: str) -> Equation:
    """The equation of a line between two cells that is straight over the logarithm of x."""
    return Equation(
        Symbol(y, "ratio"),
        f"{y}_1 + ({y}_2 - {y}_1)*ln({x}/{x}_1)/ln({x}_2/{x}_1)",
        symbols(f"{y}_1:ratio, {y}_2:ratio, {x}:{kind}, {x}_1:{kind}, {x}_2:{kind}"),
        source,
        "secondary",
        title=title,
    )


def interpolated(equation: Equation, points: Sequence[tuple[Value, Value]], x: Value) -> Value:
    """y at x on the line through points (x, y), rising in x; the end points beyond both ends.

    Arguments: ``equation`` of :func:`linear` or :func:`logarithmic`; ``points``; ``x`` a single value.
    """
    y, name = equation.result.name, equation.symbols[2].name
    wanted = float(x.x)
    low = max((p for p in points if float(p[0].x) <= wanted), key=lambda p: float(p[0].x), default=points[0])
    high = min((p for p in points if float(p[0].x) >= wanted), key=lambda p: float(p[0].x), default=points[-1])
    if float(low[0].x) >= float(high[0].x):
        return low[1].named(y)
    inputs = {f"{y}_1": low[1], f"{y}_2": high[1], name: x.named(name), f"{name}_1": low[0], f"{name}_2": high[0]}
    return equation(**{key: value.named(key) for key, value in inputs.items()})


def rows_of(tables: Tables, name: str, wanted: Callable[[Row], bool] = lambda row: True) -> list[Row]:
    """The rows of a table that are wanted."""
    return [row for row in tables.table(name).rows if wanted(row)]


def cell(row: Row, column: str) -> Value:
    """A number that must be there."""
    value = row.value(column)
    if value is None:
        raise LookupError(f"table {row.table}, row {row.key}: an empty cell in {column}")
    return value


def points(rows: Sequence[Row], x: str, y: str) -> list[tuple[Value, Value]]:
    """The points of some rows, rising in x."""
    return sorted(((cell(r, x), cell(r, y)) for r in rows), key=lambda p: float(p[0].x))


ZONE_LENGTH = Equation(
    Symbol("l_end", "distance"),
    "m_z*c",
    symbols("m_z:ratio, c:length"),
    "geometry: how far a zone runs, in heights",
    "computed",
    title="length of the zone towards an end",
)
HALF_RUN = Equation(
    Symbol("l_end", "distance"),
    "b/2",
    symbols("b:distance"),
    "geometry: in a short run the wind is higher all the way from the windward end to the middle",
    "computed",
    title="length of the zone towards an end",
)
LENGTH_SHARE = Equation(
    Symbol("r_l", "ratio"),
    "b/c",
    symbols("b:distance, c:length"),
    "geometry: length of the straight run over the height of the wall, glass and gap",
    "computed",
    title="length of the run over its height",
)
CORNER_SHARE = Equation(
    Symbol("r_L", "ratio"),
    "L_r/c",
    symbols("L_r:distance, c:length"),
    "geometry: length of the corner at the end over the height of the wall",
    "computed",
    title="length of the corner over the height",
)
HEIGHT_SHARE = Equation(
    Symbol("r_s", "ratio"),
    "c/h",
    symbols("c:length, h:length"),
    "geometry: height of the wall over the height of its top above what is below",
    "computed",
    title="share of the height that is wall",
)
