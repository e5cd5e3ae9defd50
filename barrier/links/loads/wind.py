"""Wind on the glass: a pressure the reader brings, or what the basis makes of the place and of the panel in its run."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from barrier.basis import Action, Strip, WindOnPanel, WindSite
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Panel, Wind
from barrier.links.walk import Walk
from barrier.mechanics.plate import Load, PatchLoad, at_once
from barrier.result import Finding, NotChecked, Shown
from barrier.value import JobEntry, Numerical, Value

GIVEN = Equation(
    Symbol("p_k", "pressure"),
    "C*q_z",
    symbols("C:ratio, q_z:pressure"),
    "pressure of the wind times the coefficient of the barrier; the coefficient is the reader's, his reference stands at the case",
    "computed",
    title="wind on the glass",
)
WALL = Equation(
    Symbol("c", "length"),
    "g_b + H_g",
    symbols("g_b:length, H_g:length"),
    "geometry: the glass with the gap below it; gaps under a tenth of the face, so it counts as solid",
    "computed",
    title="height of the wall the wind meets",
)
ABOVE_GROUND = Equation(
    Symbol("h", "length"),
    "h_f + c",
    symbols("h_f:length, c:length"),
    "geometry: top of the glass above what is below the deck",
    "computed",
    title="height of the top above the ground",
)
# Entries of [wind] that say how the wind blows; the others say what is done with it.
OF_THE_PLACE = (
    "map_speed", "altitude", "distance_to_sea", "town", "zone", "coast", "basic_speed", "terrain", "speed", "exposure", "edition",
    "elevation", "wind_class", "design_speed", "service_speed", "hill", "hill_factor", "below_deck",
)  # fmt: skip
LEADS = ("map_speed", "zone", "basic_speed", "speed", "wind_class", "design_speed")
ANYWHERE = (
    "the highest of all directions at each place, outward and inward",
    "no shelter by a fence, a hedge or a house",
    "no house wall close behind the glass and no corner of a building, where wind is funnelled and codes give no method",
)
NO_PLACE = "outdoors and no wind given; "


@dataclass(frozen=True, slots=True, eq=False)
class WindHere:
    """Wind on one panel: the action, or why there is none; what the basis answered where it was asked."""

    panel: Panel
    action: Action | NotChecked | None
    answer: WindOnPanel | None = None


def wind_on(walk: Walk, panel: Panel) -> WindHere:
    """Wind on a panel; no action indoors, where nobody gave any."""
    wind = walk.job.wind
    if wind is not None and wind.pressure is not None:
        return WindHere(panel, _given(walk, wind, wind.pressure, wind.serviceability, f"given in the job: {wind.reference}"))
    if _nothing_said(wind) and not walk.job.site.outdoors:
        return WindHere(panel, None)
    site = site_of(walk, panel)
    if wind is not None and wind.coefficient is not None:
        stream = walk.basis.free_stream(site)
        if isinstance(stream, NotChecked):
            return WindHere(panel, stream)
        return WindHere(panel, _given(walk, wind, stream[0], stream[1], f"{stream[2]}; coefficient: {wind.reference}"))
    answer = walk.basis.wind(site)
    if isinstance(answer, NotChecked):
        return WindHere(panel, NotChecked(answer.lack, f"{NO_PLACE if _nothing_said(wind) else ''}{answer.text}{_foreign(walk)}"))
    return WindHere(panel, _of_strips(walk, answer), answer)


def _nothing_said(wind: Wind | None) -> bool:
    return wind is None or all(getattr(wind, key) is None for key in OF_THE_PLACE)


def _foreign(walk: Walk) -> str:
    """What the job says of the wind in terms of another family of codes."""
    given = [key for key in LEADS if walk.job.wind is not None and getattr(walk.job.wind, key) is not None]
    others = [f"wind.{key}" for key in given if key not in walk.basis.wind_leads]
    return f"; {', '.join(others)} is of another family of codes" if others else ""


def _given(walk: Walk, wind: Wind, q: Value, q_s: Value | None, source: str) -> Action:
    """A pressure as it is, or times the reader's coefficient."""
    sizes: tuple[Value, Value | None] = (q, q_s)
    if wind.coefficient is not None:
        C = wind.coefficient.named("C")
        sizes = (GIVEN(C=C, q_z=q.named("q_z")), None if q_s is None else GIVEN(C=C, q_z=q_s.named("q_z")))
    return Action("wind", "wind", "pressure", sizes[0], "wind", True, source, service=sizes[1], level=walk.basis.wind_level)


def _of_strips(walk: Walk, answer: WindOnPanel) -> Action:
    """The strips of a panel as one action: one strip is its pressure, of several the mean is the size."""
    strips, level = answer.strips, walk.basis.wind_level
    if len(strips) == 1:
        source, (only,) = f"{answer.source}, {strips[0].zone}", strips
        return Action("wind", "wind", "pressure", only.pressure, "wind", True, source, service=only.service, level=level)
    service = None if strips[0].service is None else _mean(strips, [s.service for s in strips if s.service is not None], "p_s")
    size = _mean(strips, [s.pressure for s in strips], "p_m")
    source = f"{answer.source}, mean over {len(strips)} strips"
    return Action("wind", "wind", "pressure", size, "wind", True, source, service=service, level=level, strips=strips)


def _mean(strips: tuple[Strip, ...], pressures: list[Value], symbol: str) -> Value:
    """The mean of a pressure over the length of a panel."""
    given: dict[str, Value] = {}
    for i, (s, p) in enumerate(zip(strips, pressures, strict=True), 1):
        how = Numerical(f"length of the strip of the panel in the {s.zone}", "read off the geometry", "the job")
        given |= {f"p_{i}": p.named(f"p_{i}"), f"l_{i}": Value(s.x1 - s.x0, "length", how, f"l_{i}")}
    return mean_of(len(strips), symbol)(**given)


@cache
def mean_of(count: int, symbol: str) -> Equation:
    """The mean of so many strips over their length."""
    order = range(1, count + 1)
    return Equation(
        Symbol(symbol, "pressure"),
        f"({' + '.join(f'p_{i}*l_{i}' for i in order)})/({' + '.join(f'l_{i}' for i in order)})",
        symbols(", ".join(f"p_{i}:pressure, l_{i}:length" for i in order)),
        "mean over the length of the panel; the glass carries the strips themselves",
        "computed",
        title="wind on the glass, mean over the panel",
    )


def sides(walk: Walk, panel: Panel) -> tuple[str, ...]:
    """At which side of a panel the free end may be that its strips are counted from: both where the job does not say."""
    said = panel.free_end or (walk.job.wind.free_end if walk.job.wind is not None else None)
    return (said,) if said is not None else ("left", "right")


def laid_on(action: Action, width: float, height: float, side: str) -> Load:
    """The strips of an action on a panel whose free end is at its ``left`` or ``right``, as one load of the plate; sizes in mm."""
    patches = []
    for s in action.strips:
        x0, x1 = (s.x0, s.x1) if side == "left" else (width - s.x1, width - s.x0)
        patches.append(PatchLoad(float(s.pressure.x) * (s.x1 - s.x0) * height, x0, x1, 0.0, height))
    return at_once(1.0, *patches)


def highest(answer: WindOnPanel) -> Strip:
    """The strip of a panel with the highest pressure, the first of those alike."""
    return max(answer.strips, key=lambda s: float(s.pressure.x))


def site_of(walk: Walk, panel: Panel) -> WindSite:
    """What the job says of the place and of a panel in its run, in the words a basis asks in."""
    job, wind = walk.job, walk.job.wind
    c = WALL(g_b=panel.bottom_gap.named("g_b"), H_g=panel.height.named("H_g"))
    fall = job.site.fall_height
    site = WindSite(
        wall=c,
        top=None if fall is None else ABOVE_GROUND(h_f=fall.named("h_f"), c=c),
        width=panel.width,
        from_end=_from_end(walk, panel),
        metric=job.units == "metric",
    )
    if wind is None:
        return site
    return replace(
        site,
        run=wind.run_length,
        corner=panel.corner if panel.corner is not None else wind.corner,
        open_below=wind.below_deck != "closed",
        hill=None if wind.hill is None else wind.hill == "yes",
        hill_factor=wind.hill_factor,
        map_speed=wind.map_speed,
        altitude=wind.altitude,
        distance_to_sea=wind.distance_to_sea,
        into_town=walk.tables.value("wind_places", "far_in") if wind.town == "over 2 km in" else None,
        zone=wind.zone,
        coast=wind.coast,
        basic_speed=wind.basic_speed,
        terrain=wind.terrain,
        speed=wind.speed,
        exposure=wind.exposure,
        edition=wind.edition,
        elevation=wind.elevation,
        wind_class=wind.wind_class,
        design_speed=wind.design_speed,
        service_speed=wind.service_speed,
    )


def _from_end(walk: Walk, panel: Panel) -> Value | None:
    """Where the panel begins, from the nearest free end; None mid-run. An end panel begins at the end."""
    if panel.from_end is not None:
        return panel.from_end
    if panel.place == "mid-run":
        return None
    return walk.tables.value("wind_places", "at_the_end").named("x_e")


# ---------------------------------------------------------------- what is said of it


def findings(walk: Walk, winds: list[WindHere]) -> Iterator[Finding]:
    """How far the end zone runs, which panels stand in it, what was taken for granted, what of the job was not read."""
    answered = [w for w in winds if w.answer is not None]
    for here in answered[:1]:
        assert here.answer is not None
        if here.answer.end_zone is not None:
            yield Finding(
                "The wind is higher towards each free end of the run than mid-run; the end zone is this long, from either end",
                here.answer.source, length=here.answer.end_zone,
            )  # fmt: skip
        yield Finding(f"Wind, taken for granted: {'; '.join((*here.answer.assumed, *ANYWHERE))}.", here.answer.source)
    zoned = [here for here in answered if here.answer is not None and here.answer.end_zone is not None]
    if zoned and not any(_in_end_zone(walk, here) for here in zoned):
        yield Finding(
            "No panel of this job stands in the end zone of its run. The panels that do take more wind: check one of them as well.",
            loud=True,
        )
    for here in answered:
        assert here.answer is not None
        if len(here.answer.strips) > 1:
            found = sides(walk, here.panel)
            side = (
                f"with the free end at its {found[0]}"
                if len(found) == 1
                else "once with the free end at its left and once at its right"
            )
            yield Finding(
                f"Panel {here.panel.name} reaches over {len(here.answer.strips)} strips of wind, each with its own pressure; they "
                f"stand on the glass as they are, {side}."
            )
    yield from _unread(walk, answered)


def _in_end_zone(walk: Walk, here: WindHere) -> bool:
    """Whether the wind on a panel is higher than it is mid-run."""
    middle = walk.basis.wind(replace(site_of(walk, here.panel), from_end=None))
    if here.answer is None or isinstance(middle, NotChecked):
        return False
    return float(highest(here.answer).pressure.x) > float(highest(middle).pressure.x)


def _unread(walk: Walk, answered: list[WindHere]) -> Iterator[Finding]:
    """Entries of the place that this basis does not read."""
    wind = walk.job.wind
    if wind is None:
        return
    read = frozenset[str]().union(*(here.answer.read for here in answered if here.answer is not None))
    if not answered and wind.pressure is None:
        return
    given = [
        key for key in OF_THE_PLACE
        if getattr(wind, key) is not None and not _assumed(walk, key) and key not in read
    ]  # fmt: skip
    if given:
        names = ", ".join(f"wind.{key}" for key in given)
        yield Finding(f"Of the wind this job also says {names}; nothing here reads it.", loud=True)


def _assumed(walk: Walk, key: str) -> bool:
    entry = walk.job.entry(f"wind.{key}")
    return isinstance(entry, JobEntry) and entry.defaulted


def shown(walk: Walk, winds: list[WindHere]) -> Iterator[Shown]:
    """The strips of every panel; beside them what an end panel and a panel mid-run of the same run take."""
    for here in winds:
        if here.answer is None:
            continue
        name = f" of panel {here.panel.name}" if len(winds) > 1 else ""
        for strip in here.answer.strips:
            yield Shown(f"wind on the glass{name}, {strip.zone}", strip.pressure, 0, walk.basis.wind_level)
    for here in [w for w in winds if w.answer is not None][:1]:
        site = site_of(walk, here.panel)
        end = walk.tables.value("wind_places", "at_the_end").named("x_e")
        for words, from_end in (("the end panel", end), ("a panel mid-run", None)):
            there = walk.basis.wind(replace(site, from_end=from_end))
            if isinstance(there, WindOnPanel):
                yield Shown(
                    f"for scale: wind on {words} of this run, highest strip", highest(there).pressure, 0, walk.basis.wind_level
                )
