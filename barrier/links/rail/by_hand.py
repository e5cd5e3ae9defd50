"""Beside the run solved whole: what a pencil says of the mount beside an opening and of the rail over it; what a bracket does.

The load over the opening is taken by the panels beside it, half each, or all by the one where the rail hangs; a lever on the two
mounts of a panel. The rail bends less than q L²/8 where it is limp, and more where it is stiff: it then reaches further panels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted, measured
from barrier.links.glass.panel_solution import Sheet, sheet_of
from barrier.links.loads.cases import Case
from barrier.links.rail.loads import RunCase, run_cases
from barrier.links.rail.solve import HAND, METHOD, Run, RunSolved, Set, rail_of
from barrier.links.under_rail import SIDES, Line, Place, joints_of, line_of
from barrier.links.walk import Walk
from barrier.mechanics.rail import RunSolution
from barrier.result import NotChecked, Shown
from barrier.value import Numerical, Value

OPENING = "opening, from glass to glass or to the end of the rail"
NOMINAL = Set("nominal", "soft")
EVEN = Equation(
    Symbol("F_even", "force"), "q_k*W/n_m", symbols("q_k:line load, W:length, n_m:count"),
    "statics: its panel's own load, in even parts", "computed", title="even share of a mount",
)  # fmt: skip
LEVER = Equation(
    Symbol("F_hand", "force"),
    "q_k*W/2 + q_k*L*s_L*(W + e_L - x_2)/(x_1 - x_2)",
    symbols("q_k:line load, W:length, L:length, s_L:ratio, e_L:length, x_1:length, x_2:length"),
    "statics: a panel on two mounts, its own load in even parts, what comes from over the opening by the lever",
    "computed",
    title="push on the mount beside the opening",
)
OVER = Equation(
    Symbol("r_F", "ratio"), "F_k/F_even", symbols("F_k:force, F_even:force"),
    "push on the mount that takes most, over its even share",
    "computed", title="by how much a mount takes more than its even share",
)  # fmt: skip
SPAN = Equation(
    Symbol("M_span", "moment"), "q_k*L**2/8", symbols("q_k:line load, L:length"), "statics: the rail as if it ended at both sides",
    "computed", title="moment of the rail over the opening, simply held",
)  # fmt: skip
HANGS = Equation(
    Symbol("M_span", "moment"), "q_k*L**2/2", symbols("q_k:line load, L:length"), "statics: the rail hangs from one side",
    "computed", title="moment of the rail that hangs over the opening",
)  # fmt: skip


def shown(walk: Walk, found: RunSolved) -> Iterator[Shown]:
    """Movement of the rail, and for the line load the worst mount, the pencil and the bracket."""
    number = line_case(found)
    if number is None:
        return
    case, line, solution = found.cases[number], found.line, found.nominal
    label = f"{case.title}; {NOMINAL.words}"
    v = abs(float(solution.largest_deflection[0][number]))
    v_r = found.numerical("largest movement of the rail", np.array(v), "length", "v_r", [label])
    yield Shown("movement of the rail", v_r, 0, "no limit of it was read")
    place, mount, F = worst_mount(found, solution, number)
    where = f"mount {mount} of {place.name}"
    F_k = found.numerical("push on the mount that takes most", np.array(F), "force", "F_k", [f"{label}; {where}"])
    even = _even(walk, case, place)
    yield Shown(f"push on {where}, which takes most, over its even share", OVER(F_k=F_k, F_even=even), 0, label)
    if not line.openings:
        return
    yield from _bracket(walk, found, case, even, place)
    for opening in line.openings:
        yield from _opening(walk, found, case, opening)


def line_case(found: RunSolved) -> int | None:
    """Number of the line load over the whole rail, the first case if there is none."""
    return next((i for i, c in enumerate(found.cases) if c.action.kind == "line"), None)


def worst_mount(found: RunSolved, solution: RunSolution, case: int) -> tuple[Place, str, float]:
    """The mount that is pushed most in a case: its place, its name, the push (N)."""
    best: tuple[float, Place, str] | None = None
    for p in found.line.standing:
        assert p.panel is not None
        F = np.abs(solution.panels[p.number - 1].F[case])
        m = int(np.argmax(F))
        # As near to rounding as equal mounts get: the first of what is alike.
        if best is None or float(F[m]) > best[0] * (1 + 1e-6):
            best = float(F[m]), p, p.calls(found.panels[p.panel.name].mounts[m].name)
    assert best is not None
    return best[1], best[2], best[0]


def _even(walk: Walk, case: RunCase, place: Place) -> Value:
    assert place.panel is not None
    path = f"panels.{place.panel.name}"
    n_m = counted(path, len(walk.job.mounts_of(place.panel)), "mounts of the panel").named("n_m")
    return EVEN(q_k=case.action.size.named("q_k"), W=place.panel.width.named("W"), n_m=n_m)


def _bracket(walk: Walk, found: RunSolved, case: RunCase, even: Value, place: Place) -> Iterator[Shown]:
    """What a bracket at a free end of the rail beside an opening would make of the worst mount."""
    entry, line = walk.job.rail, found.line
    assert entry is not None
    run = Run(walk, line, {name: s.sheet for name, s in found.panels.items()})
    for side in SIDES:
        at = line.start if side == "left" else line.end
        if getattr(entry, side).holding or not any(at in opening for opening in line.openings):
            continue
        own_rail = rail_of(entry, line)
        held = replace(own_rail, left=inf) if side == "left" else replace(own_rail, right=inf)
        solution = run.solved([case], NOMINAL, held)
        other, mount, F = worst_mount(found, solution, 0)
        label = f"{case.title}; {NOMINAL.words}; mount {mount} of {other.name}"
        what = f"push on the mount that takes most, with a bracket at the {side} end"
        F_k = Value(F, "force", Numerical(what, METHOD, HAND, {**found.values, "q": case.action.size.named("q")},
                                          float(solution.residual.max()), None, (label,)), "F_k")  # fmt: skip
        own = even if other is place else _even(walk, case, other)
        yield Shown(f"the same with a bracket at the {side} end, which is free", OVER(F_k=F_k, F_even=own), 0, label)


def either_way(walk: Walk, cases: Sequence[Case]) -> Iterator[Shown]:
    """Where only what holds an end of the rail is not known: the worst mount with the panel beside that end gone, free and held."""
    entry = walk.job.rail
    assert entry is not None
    unknown = [side for side in SIDES if (end := getattr(entry, side)) is None or end.fixing is None]
    for side in unknown:
        for fixing, words in (("free", "is free"), ("bracket", "is in a bracket")):
            job = walk.job.with_({f"rail.{s}": {"fixing": fixing if s == side else "free"} for s in unknown})
            line = line_of(job)
            if isinstance(line, NotChecked) or len(line.places) < 2:
                return
            at = 0 if side == "left" else -1
            gone = line.places[at]
            places = tuple(replace(p, panel=None) if p is gone else p for p in line.places)
            yield from _either(
                replace(walk, job=job), replace(line, places=places), cases, f"the {side} end of the rail {words}", gone
            )


def _either(walk: Walk, line: Line, cases: Sequence[Case], words: str, gone: Place) -> Iterator[Shown]:
    entry = walk.job.rail
    assert entry is not None and entry.left is not None and entry.right is not None
    if line.falls(joints_of(entry, line), entry.left.holding, entry.right.holding):
        return
    sheets = {p.panel.name: sheet_of(walk, p.panel) for p in line.standing if p.panel is not None}
    known = {name: sheet for name, sheet in sheets.items() if isinstance(sheet, Sheet)}
    case = next((c for c in run_cases(walk, line, cases) if c.action.kind == "line"), None)
    if case is None or len(known) < len(sheets):
        return
    run = Run(walk, line, known)
    solution = run.solved([case], NOMINAL)
    F, place, m = max(
        ((float(np.abs(solution.panels[p.number - 1].F).max()), p, p.panel) for p in line.standing), key=lambda f: f[0]
    )
    assert m is not None
    what = "push on the mount that takes most"
    origin = Numerical(
        what, METHOD, HAND, {**run.values(), "q": case.action.size.named("q")}, float(solution.residual.max()), None, (words,)
    )
    title = f"if {words}, and {gone.name} is gone: push on the mount that takes most, over its even share"
    yield Shown(
        title, OVER(F_k=Value(F, "force", origin, "F_k"), F_even=_even(walk, case, place)), 0, "line load, before any factor"
    )


def _opening(walk: Walk, found: RunSolved, case: RunCase, opening: tuple[float, float]) -> Iterator[Shown]:
    """The pencil, for one opening."""
    line, q_k = found.line, case.action.size.named("q_k")
    beside = [p for p in line.standing if p.end == opening[0] or p.start == opening[1]]
    entry = walk.job.rail
    assert entry is not None
    ends = [getattr(entry, side).holding for side, at in zip(SIDES, (line.start, line.end), strict=True) if at in opening]
    hangs = len(beside) == 1 and not any(ends)
    L = measured("rail.openings", opening[1] - opening[0], OPENING).named("L")
    M = (HANGS if hangs else SPAN)(q_k=q_k, L=L)
    yield Shown(
        "by hand: moment of the rail over the opening", M, 0, "a limp rail bends less; a stiff one more, for it reaches further"
    )
    if not hangs and (stiff := _rigid(found, case)) is not None:
        yield Shown("by hand: moment of a rail that does not bend", stiff, 0, "its panels as springs that are alike: the upper end")
    for p in beside:
        assert p.panel is not None
        x = sorted(float(m.x.x) for m in walk.job.mounts_of(p.panel))
        if len(x) != 2:
            continue
        near, far = (x[1], x[0]) if p.end == opening[0] else (p.width - x[0], p.width - x[1])
        path = f"panels.{p.panel.name}"
        given = {
            "W": p.panel.width.named("W"), "L": L,
            "x_1": measured(path, near, "mount beside the opening, from the far edge").named("x_1"),
            "x_2": measured(path, far, "other mount, from the far edge").named("x_2"),
            "s_L": _number(1.0 if hangs else 0.5, "share of the load over the opening").named("s_L"),
            "e_L": measured(path, float(L.x) / 2 if hangs else 0.0, "where that load comes, beyond the glass").named("e_L"),
        }  # fmt: skip
        remark = (
            "characteristic; an upper value where further panels help" if hangs else "characteristic; up to a tenth more by prying"
        )
        yield Shown(f"by hand: push on the mount of {p.name} beside the opening", LEVER(q_k=q_k, **given), 0, remark)


def _number(x: float, what: str) -> Value:
    return Value(x, "ratio", Numerical(what, "counted", "geometry of the job"))


def _rigid(found: RunSolved, case: RunCase) -> Value | None:
    """Largest moment of a rail that does not bend under an even load, its panels as equal springs at their middles (N mm)."""
    line: Line = found.line
    if found.solutions[0].rail.left or found.solutions[0].rail.right or len(line.standing) < 2 or found.solutions[0].rail.splices:
        return None
    q, S = float(case.action.size.x), line.end - line.start
    x = np.array([(p.start + p.end) / 2 for p in line.standing])
    middle, of_load = float(x.mean()), (line.start + line.end) / 2
    F = q * S * (1 / len(x) + (of_load - middle) * (x - middle) / float(((x - middle) ** 2).sum()))
    s = np.unique(np.concatenate([np.linspace(line.start, line.end, 401), x]))
    M = np.array([q * (at - line.start) ** 2 / 2 - float((F * np.maximum(at - x, 0.0)).sum()) for at in s])
    inputs = {"q_k": case.action.size.named("q_k")}
    method = "statics of equal springs at the middles of the panels"
    origin = Numerical("moment of a rail that does not bend", method, "the run solved whole", inputs)
    return Value(float(np.abs(M).max()), "moment", origin, "M_rigid")
