"""The run solved: pads and bases at the ends of their brackets, the grip of the rail soft, nominal and stiff.

Every panel of the job gets one :class:`PanelSolution`, as without a rail, of all places it stands at: what follows in the load
path (clamps, base plates, screws, blocking) asks no further. Laminated glass is taken with layers that slide on one another.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

import numpy as np
from numpy.typing import NDArray

from barrier.job.schema import Panel, RailEnd
from barrier.job.schema import Rail as RailEntry
from barrier.links.glass.panel_solution import PanelSolution, Sheet, clamp_of, moduli_of, sheet_of
from barrier.links.ground.base_stiffness import base_matrix
from barrier.links.ground.stiffness import BASES, PADS, Pads
from barrier.links.loads.cases import Case, Part
from barrier.links.rail.loads import RunCase, without_rail
from barrier.links.rail.section import inertia
from barrier.links.under_rail import Line, Place, joints_of
from barrier.links.walk import Walk
from barrier.mechanics.plate import PatchLoad, Plate
from barrier.mechanics.rail import STIFFEST_RAIL, Rail, RailRun, RunPanel, RunSolution, columns
from barrier.result import Lack, NotChecked
from barrier.value import Numerical, Value

METHOD = (
    "panels as thin plates on elastic pads and bases under a beam that is joined to their top edges by springs; joints are hinges; "
    "characteristic action"
)
HAND = "the run solved by independent finite elements; equilibrium of all forces and moments"
GRIPS = ("soft", "nominal", "stiff")
NOTHING = 0.02  # of the largest action on a panel: a case that does less to it says nothing of it


@dataclass(frozen=True, slots=True)
class Set:
    """Which end of its bracket each stiffness is taken at."""

    pads: str
    bases: str
    grip: str = "nominal"

    @property
    def words(self) -> str:
        """For a label."""
        return f"{self.pads} pads, {self.bases} bases, {self.grip} grip"


LIMP = 1e-3  # N mm2: a rail that hands nothing on, not even over a narrow gap, for the panels as without one
# For the glass and its mounts the grip hardly counts; for the grip itself, the rail and its ends it is bracketed.
SETS = (*(Set(pads, bases) for pads in PADS for bases in BASES), Set("nominal", "soft", "soft"), Set("nominal", "soft", "stiff"))


@dataclass(frozen=True, eq=False)
class RunSolved:
    """A run under all its cases: per set a solution; the panels of the job, each with its cases at all its places.

    ``alone``: while all the glass is there, the panels' own cases with no rail, and their numbers in ``limp``, which has a solution
    for every set of a nominal grip. Nothing is then taken to be better for the rail, of which nobody has seen whether it grips.
    """

    line: Line
    cases: tuple[RunCase, ...]
    sets: tuple[Set, ...]
    solutions: tuple[RunSolution, ...]
    panels: Mapping[str, PanelSolution]
    values: Mapping[str, Value]
    alone: tuple[tuple[Case, int], ...] = ()
    limp: tuple[RunSolution, ...] = ()

    @cached_property
    def nominal(self) -> RunSolution:
        """Nominal pads on soft bases: the one that is drawn."""
        return self.solutions[self.sets.index(Set("nominal", "soft"))]

    @property
    def residual(self) -> float:
        """Largest relative residual of equilibrium."""
        return float(max(np.max(s.residual) for s in self.solutions))

    def numerical(self, what: str, x: NDArray[np.float64], kind: str, symbol: str, labels: Sequence[str]) -> Value:
        """A result of the run as a value: one station a set and case."""
        origin = Numerical(what, METHOD, HAND, dict(self.values), self.residual, None, tuple(labels))
        return Value(np.asarray(x, dtype=float), kind, origin, symbol)


def stiffness_of(end: RailEnd) -> float:
    """Stiffness of what holds an end: 0 free, infinite a bracket, else a post (N/mm)."""
    if not end.holding:
        return 0.0
    return float(end.stiffness.x) if end.fixing == "post" and end.stiffness is not None else inf


def rail_of(entry: RailEntry, line: Line, grip: str = "nominal") -> Rail:
    """The rail as the mechanics take it; ``grip`` which end of the bracket of its connection."""
    I_h = inertia(entry)
    assert entry.modulus is not None and I_h is not None and entry.left is not None and entry.right is not None
    k = {"soft": entry.connection_low, "nominal": entry.connection, "stiff": entry.connection_high}[grip]
    ends = stiffness_of(entry.left), stiffness_of(entry.right)
    return Rail(line.start, line.end, float(entry.modulus.x) * float(I_h.x), float(k.x), *ends, joints_of(entry, line))


class Run:
    """The run of a walk: its panels with their mounts, ready to be solved for any loads, ends and openings."""

    def __init__(self, walk: Walk, line: Line, sheets: Mapping[str, Sheet]) -> None:
        assert walk.job.rail is not None
        self.walk, self.line, self.sheets, self.entry = walk, line, sheets, walk.job.rail
        self.gone = [p.number - 1 for p in line.places if p.panel is None]
        self.E, self.nu, _ = walk.basis.glass_constants()
        self.mounts = {
            name: tuple(m for m in walk.mounts if walk.job.panel_of(m.mount).name == name) for name in sheets
        }  # fmt: skip
        self.moduli = {m.name: moduli_of(walk, m) for own in self.mounts.values() for m in own}

    def solved(self, loads: Sequence[RunCase], of: Set, rail: Rail | None = None) -> RunSolution:
        """The run under these cases, with stiffnesses of one set; ``rail`` in place of the job's own."""
        panels = [self._panel(p, of) for p in self.line.places]
        memo, key = self.walk.memo, self.walk.job.fingerprint()  # the situations of one file have most of its panels alike
        run = RailRun(panels, rail or rail_of(self.entry, self.line, of.grip), memo.get("rail", key, RailRun))
        found = run.solve([c.load for c in loads], lost=self.gone)
        memo.keep("rail", key, run, run.bytes)
        return found

    def limp(self) -> Rail:
        """A rail that hands nothing on: every panel stands as if it had none."""
        return replace(rail_of(self.entry, self.line), EI=LIMP, left=0.0, right=0.0, splices=())

    def _panel(self, place: Place, of: Set) -> RunPanel:
        glass = (float(self.E.x), float(self.nu.x))
        if place.panel is None:
            return RunPanel(place.start, Plate(place.width, place.width, 10.0, *glass), (), ())  # only its place counts
        name, height = place.panel.name, float(place.panel.height.x)
        plate = Plate(place.width, height, float(self.sheets[name].plate.x), *glass)
        own = self.mounts[name]
        bases = tuple(base_matrix(m, of.bases, self.moduli[m.name]) for m in own)
        return RunPanel(place.start, plate, tuple(clamp_of(m, of.pads) for m in own), bases)

    def values(self) -> dict[str, Value]:
        """What results of the run rest on."""
        I_h, entry = inertia(self.entry), self.entry
        assert entry.modulus is not None and I_h is not None and entry.between is not None
        found = {"E_r": entry.modulus, "I_h": I_h, "k_r": entry.connection, "g_p": entry.between, "E": self.E, "nu": self.nu}
        for end in (entry.left, entry.right):
            if end is not None and end.fixing == "post" and end.stiffness is not None:
                found["k_end"] = end.stiffness
        found["t"] = next(iter(self.sheets.values())).plate
        return {name: v.named(name) for name, v in found.items()}


def solve(walk: Walk, line: Line, cases: Sequence[RunCase], own: Sequence[Case]) -> RunSolved | NotChecked:
    """Solve the run for every case and set; NotChecked where the glass of a panel is not known, or the rail too stiff for it.

    ``own``: the cases of the panels alone, looked at without the rail as well while all the glass is there.
    """
    entry = walk.job.rail
    assert entry is not None and entry.modulus is not None
    I_h = inertia(entry)
    if I_h is not None and float(entry.modulus.x) * float(I_h.x) > STIFFEST_RAIL:
        return NotChecked(Lack.RANGE, "the rail is stiffer than this model holds for: look at its section and modulus again")
    sheets: dict[str, Sheet] = {}
    for p in line.standing:
        assert p.panel is not None
        sheet = sheet_of(walk, p.panel)
        if isinstance(sheet, NotChecked):
            return sheet
        sheets[p.panel.name] = sheet
    run = Run(walk, line, sheets)
    alone = () if line.openings else without_rail(line, own)
    every = (*cases, *(made for _, made in alone))  # all of them in both, so that the glass has one mesh
    solutions = tuple(run.solved(every, s) for s in SETS)
    limp = tuple(run.solved(every, s, run.limp()) for s in SETS if s.grip == "nominal") if alone else ()
    numbered = tuple((case, len(cases) + n) for n, (case, _) in enumerate(alone))
    found = RunSolved(line, tuple(cases), SETS, solutions, {}, run.values(), numbered, limp)
    panels = {name: _panel_solution(run, found, name) for name in sheets}
    return replace(found, panels=panels)


def _panel_solution(run: Run, found: RunSolved, name: str) -> PanelSolution:
    """A panel of the job at all its places, under the cases that do something to it there."""
    places = [p for p in found.line.standing if p.panel is not None and p.panel.name == name]
    panel, sheet, mounts = places[0].panel, run.sheets[name], run.mounts[name]
    assert panel is not None
    wanted = {p.number: _telling(found, p, places) for p in places}
    sets = [(s, sol) for s, sol in zip(found.sets, found.solutions, strict=True) if s.grip == "nominal"]
    alone = [(case, i) for case, i in found.alone if case.panel is panel]
    solutions = []
    for n, (_, solution) in enumerate(sets):
        parts = [(solution.panels[p.number - 1].plate, wanted[p.number]) for p in places]
        if alone:
            parts.append((found.limp[n].panels[places[0].number - 1].plate, [i for _, i in alone]))
        solutions.append(columns(parts))
    cases = (
        *(_case(found, p, panel, i, len(places) > 1) for p in places for i in wanted[p.number]), *(case for case, _ in alone)
    )  # fmt: skip
    return PanelSolution(
        panel, sheet, cases, mounts, tuple((Pads(s.pads), s.bases) for s, _ in sets), tuple(solutions), run.E, run.nu,
        tuple(run.moduli[m.name] for m in mounts),
    )  # fmt: skip


def _telling(found: RunSolved, place: Place, places: Sequence[Place]) -> list[int]:
    """Numbers of the cases that do something to the panel at this place.

    A point load further off than the next panel does less than the same nearer by, whichever way, and is left out.
    """

    def size(p: Place) -> NDArray[np.float64]:
        answer, n = found.nominal.panels[p.number - 1], len(found.cases)
        return np.stack([np.abs(answer.F[:n]).max(axis=1), np.abs(answer.Mx[:n]).max(axis=1)])

    largest = np.max([size(p).max(axis=1) for p in places], axis=0)
    own = size(place)
    counts = (own >= NOTHING * largest[:, None]).any(axis=0)
    near = _near(found.line, place)
    return [
        i for i, c in enumerate(found.cases)
        if counts[i] and c.only in (None, place.number) and all(near[0] <= s <= near[1] for _, s in c.load.points)
    ]  # fmt: skip


def _near(line: Line, place: Place) -> tuple[float, float]:
    """How far point loads count for a place (mm): over the next panel, and over openings as far as the one behind them."""

    def reach(others: Sequence[Place], end: float, edge: str) -> float:
        for p in others:
            if p.panel is not None:
                return float(getattr(p, edge))
        return end

    before = [p for p in reversed(line.places) if p.number < place.number]
    after = [p for p in line.places if p.number > place.number]
    left = reach(before, line.start, "start")
    right = reach(after, line.end, "end")
    # The rail may run on beyond the first and the last glass.
    return (line.start if left <= line.places[0].start else left), (line.end if right >= line.places[-1].end else right)


def _case(found: RunSolved, place: Place, panel: Panel, i: int, many: bool) -> Case:
    """A case of the run as the panel at one place has it: what the rail pushes it with, or what pushes on its glass."""
    run_case = found.cases[i]
    tail = f", {place.name}" if many and run_case.only is None else ""
    title = f"{run_case.title}; on panel {panel.name}{tail}"
    own = run_case.on_glass.get(panel.name)
    parts = tuple(Part(share, _case(found, place, panel, found.cases.index(c), many)) for share, c in run_case.parts)
    if own is not None:
        load, total, y = own.load, own.resultant, own.height
    else:
        force, _, about = found.nominal.panels[place.number - 1].plate.model.resultants[i]
        H, x = float(panel.height.x), float(about / force) if force else 0.0
        load, total, y = PatchLoad(float(force), x, x, H, H), _push(found, run_case, float(force), title), panel.height.named("y_Q")
    if parts:
        y = _level(found, parts, title)
    return Case(f"{panel.name}/{run_case.id}/{place.number}", title, panel, run_case.action, load, total, y,
                run_case.strength, run_case.service, run_case.standing, parts)  # fmt: skip


def _push(found: RunSolved, run_case: RunCase, force: float, label: str) -> Value:
    inputs = {**found.values, "q": run_case.action.size.named("q")}
    what = "push of the rail and of what is on the glass, on a panel"
    return Value(force, "force", Numerical(what, METHOD, HAND, inputs, found.residual, None, (label,)), "H_k")


def _level(found: RunSolved, parts: Sequence[Part], label: str) -> Value:
    """Height of two pushes at once; that of the larger where they nearly cancel."""
    pushes = [float(p.share.x) * float(p.case.resultant.x) for p in parts]
    levels = [float(p.case.height.x) for p in parts]
    y = sum(H * y for H, y in zip(pushes, levels, strict=True)) / (sum(pushes) or 1.0)
    if not min(levels) <= y <= max(levels):
        y = levels[int(np.argmax(np.abs(pushes)))]
    what = "height of two pushes at once above the bottom edge of the glass"
    return Value(y, "length", Numerical(what, METHOD, HAND, dict(found.values), found.residual, None, (label,)), "y_Q")
