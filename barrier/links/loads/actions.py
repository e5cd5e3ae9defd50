"""Link 1, actions: what leans, pushes and blows on the glass.

Line, point and infill are separate cases, never added together; each acts outward and inward. Whether wind stands beside one
of them is the basis's own (:mod:`barrier.links.loads.at_once`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.basis import IN_PLANE, Action
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Panel
from barrier.links.loads import at_once, wind
from barrier.links.loads.cases import Case
from barrier.links.loads.on_barrier import left_out, loads_on
from barrier.links.loads.wind import WindHere
from barrier.links.walk import Walk
from barrier.mechanics.plate import LineLoad, Load, PatchLoad, Pressure
from barrier.result import About, Check, Finding, LinkResult, NotChecked, Shown, Standing, not_checked
from barrier.value import JobEntry, Value

HEIGHT = Equation(
    Symbol("y_Q", "length"),
    "min(h_Q - g_b, H_g)",
    symbols("h_Q:length, g_b:length, H_g:length"),
    "geometry: height of the load above the bottom edge of the glass, not above its top",
    "computed",
    title="height of the line load on the glass",
)
LINE_RESULTANT = Equation(
    Symbol("H_k", "force"),
    "q_k*W",
    symbols("q_k:line load, W:length"),
    "statics",
    "computed",
    title="line load over the whole width",
)
PRESSURE_RESULTANT = Equation(
    Symbol("H_k", "force"),
    "p_k*W*H_g",
    symbols("p_k:pressure, W:length, H_g:length"),
    "statics",
    "computed",
    title="pressure over the whole glass",
)
DESIGN_ACTION = "H_d"  # symbol of the action on the whole panel with the factor of its combination
ON_PANEL = "design action on the whole panel"
ON_PANEL_ALLOWABLE = "action on the whole panel at the level of the allowable stresses"
PRESSURE_HEIGHT = Equation(
    Symbol("y_Q", "length"),
    "H_g/2",
    symbols("H_g:length"),
    "statics: resultant of a pressure at mid-height",
    "computed",
    title="height of the resultant above the bottom edge of the glass",
)


def actions(walk: Walk) -> tuple[LinkResult, tuple[Case, ...]]:
    """List the load cases of every panel, and hand them on."""
    job = walk.job
    loads = loads_on(walk)
    given, checks = loads.actions, list[Check]()
    if loads.lacking is not None:
        checks.append(not_checked(About("actions", "barrier"), "load on the barrier", loads.lacking))
    winds = [wind.wind_on(walk, panel) for panel in job.panels]
    blowing = {here.panel.name: (here.action,) for here in winds if isinstance(here.action, Action)}
    missing = next((here.action for here in winds if isinstance(here.action, NotChecked)), None)
    if missing is not None:
        checks.append(not_checked(About("actions", "wind"), "wind on the glass", missing))
    alone = tuple(
        c
        for panel in job.panels
        for a in (*given, *blowing.get(panel.name, ()))
        if a.kind not in IN_PLANE
        for c in _cases(walk, panel, a)
    )
    cases = (*alone, *at_once.at_once(walk, alone))
    blown = tuple(a for actions in blowing.values() for a in actions)
    shown = (*_combinations(walk, (*given, *blown)), *wind.shown(walk, winds), *at_once.shown(cases), *_shown(cases))
    findings = tuple(_findings(walk, cases, winds))
    return LinkResult("actions", "Actions on the glass", tuple(checks), shown, findings), cases


def _cases(walk: Walk, panel: Panel, action: Action) -> Iterator[Case]:
    H = float(panel.height.x)
    strength, service = walk.strength(action.nature), walk.basis.service(action.nature)
    name = f"{panel.name}: " if len(walk.job.panels) > 1 else ""

    def case(tail: str, words: str, load: Load, total: Value, y: Value) -> Case:
        key, title = f"{action.id}{tail}", f"{action.title}{words}"
        standing = Standing.REQUIRED if action.required else Standing.INFORMATION
        return Case(
            f"{panel.name}/{key}", f"{name}{title}", panel, action, load, total, y, strength, service, standing, (), key, title
        )

    size = action.size
    width, height = panel.width.named("W"), panel.height.named("H_g")
    if action.kind == "line":
        top = action.height.named("h_Q") if action.height is not None else _top(panel)
        y = HEIGHT(h_Q=top, g_b=panel.bottom_gap.named("g_b"), H_g=height)
        yield case("", "", LineLoad(float(size.x), float(y.x)), LINE_RESULTANT(q_k=size.named("q_k"), W=width), y)
    elif action.kind == "pressure":
        total = PRESSURE_RESULTANT(p_k=size.named("p_k"), W=width, H_g=height)
        y = PRESSURE_HEIGHT(H_g=height)
        if not action.strips:
            yield case("", "", Pressure(float(size.x)), total, y)
        for side in wind.sides(walk, panel) if action.strips else ():
            load = wind.laid_on(action, float(width.x), H, side)
            yield case(f"/{side}", f", free end at the {side}", load, total, y)
    else:
        patch = (action.side or walk.tables.value("site", "point_patch")).named("s_P")
        s = float(patch.x)
        half_x = min(s, float(panel.width.x)) / 2  # a patch lies inside its panel
        half_y = min(s, H) / 2 if action.kind == "patch" else 0.0  # a load at the top edge stands on the edge itself
        total = size.named("H_k")
        for tail, words, x, y_mid in _places(walk, panel, action, 2 * half_x):
            y = PRESSURE_HEIGHT(H_g=height) if action.kind == "patch" else height.named("y_Q")
            load = PatchLoad(float(size.x), x - half_x, x + half_x, y_mid - half_y, y_mid + half_y)
            yield case(tail, words, load, total, y)


def _places(walk: Walk, panel: Panel, action: Action, s: float) -> Iterator[tuple[str, str, float, float]]:
    """Where a point load stands on a patch s wide: tail of the id, words, centre x and y."""
    W, H = float(panel.width.x), float(panel.height.x)
    if action.kind == "patch":
        yield "/middle", ", mid-panel", W / 2, H / 2
        yield "/left edge", ", mid-height at the left edge", s / 2, H / 2
        yield "/right edge", ", mid-height at the right edge", W - s / 2, H / 2
        return
    yield "/left corner", ", left corner", s / 2, H
    yield "/right corner", ", right corner", W - s / 2, H
    yield "/middle", ", mid-width", W / 2, H
    for mount in walk.job.mounts_of(panel):
        x = min(max(float(mount.x.x), s / 2), W - s / 2)
        yield f"/over {mount.name}", f", over mount {mount.name}", x, H


TOP = Equation(
    Symbol("h_Q", "length"),
    "g_b + H_g",
    symbols("g_b:length, H_g:length"),
    "geometry: top edge of the glass above the decking",
    "computed",
    title="height of the load above the decking",
)


def _top(panel: Panel) -> Value:
    return TOP(g_b=panel.bottom_gap.named("g_b"), H_g=panel.height.named("H_g"))


def _combinations(walk: Walk, given: tuple[Action, ...]) -> Iterator[Shown]:
    """The factors on every nature of action that occurs, and on weight, each with its clause."""
    natures = dict.fromkeys(a.nature for a in given)
    for nature in natures:
        for c in (walk.strength(nature), walk.basis.service(nature)):
            yield Shown(f"factor on the action: {c.id}", c.factor, 0, c.source)
    if natures:
        yield Shown("factor on weight that holds down", walk.basis.weight_factor().named("f_G"), 0, "uplift: weight is favourable")
        down = walk.basis.weight_down_factor()
        if isinstance(down, Value):
            yield Shown("factor on weight that adds to a load", down.named("f_G"), 0, "vertical loads: weight is unfavourable")


def _shown(cases: tuple[Case, ...]) -> Iterator[Shown]:
    for c in cases:
        title = ON_PANEL_ALLOWABLE if c.strength.level == "allowable" else ON_PANEL
        yield Shown(f"{c.title}: on the whole panel", c.strength.applied(c.resultant.named("H_k"), DESIGN_ACTION, title))


def _findings(walk: Walk, cases: Sequence[Case], winds: list[WindHere]) -> Iterator[Finding]:
    yield Finding("Line, point and infill are separate cases; they are not added together.")
    yield from left_out(walk)
    yield from at_once.findings(walk, cases)
    duration = walk.strength("barrier").duration
    of = walk.basis.duration_of
    yield Finding(f"Barrier action is taken as {duration} for the {of} (assumption; the job may give another with a reason).")
    if isinstance(walk.job.entry("site.use"), JobEntry):
        yield Finding(f"Use of the building as given: {walk.job.site.use}.")
    yield from wind.findings(walk, winds)
