"""A whole run: from what its file says to sides set out, findings, distinct conditions, and the check of each condition.

``lay_out`` reads no loads and checks nothing; ``check_run`` walks each distinct condition once, by the load path every job goes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from barrier.errors import JobRefused
from barrier.job import Job
from barrier.job.faults import no_such
from barrier.job.run_file import RunFile
from barrier.load_path import Result, check
from barrier.result import Ending
from barrier.run import conflicts as look
from barrier.run import moves
from barrier.run.bays import Fixing
from barrier.run.conflicts import Conflict, Weight
from barrier.run.side import Panel, SideSet
from barrier.whole_run.from_file import fixing_of, limits_of, masses_of, side_of
from barrier.whole_run.jobs import changes_of, probe_of

MOST_CONDITIONS = 60
NOT_ON_A_PIECE = "a mount stands on no piece of blocking"
NOT_ASKED = "set out only, not walked"


@dataclass(frozen=True, eq=False)
class Condition:
    """Panels that stand alike: one of them speaks for all, at the place in the run where the wind is highest among them."""

    side: str
    panels: tuple[str, ...]
    changes: Mapping[str, Any]
    words: str


@dataclass(frozen=True, eq=False)
class LaidOut:
    """A run set out: sides, findings in the order they are numbered, distinct conditions; ``probe`` is the job of one panel,
    ``fixing`` what its screws need, ``masses`` of the panels in kg."""

    file: RunFile
    probe: Job
    fixing: Fixing
    sides: tuple[SideSet, ...]
    conflicts: tuple[Conflict, ...]
    conditions: tuple[Condition, ...]
    masses: Mapping[str, float]

    def side_job(self, name: str) -> str:
        """The text of the plain job that one side expands to: every panel and mount of it."""
        side = next(s for s in self.sides if s.name == name)
        return self.file.text(changes_of(self.file, side, side.panels), f"side {name}")

    def of(self, whom: str) -> SideSet:
        """The side a panel belongs to."""
        return next(s for s in self.sides if any(p.name == whom for p in s.panels))


@dataclass(frozen=True, eq=False)
class Row:
    """One row of the cover table: a condition, the result behind it (None where it was not walked), what keeps it open."""

    condition: Condition
    result: Result | None
    held_up: tuple[int, ...] = ()  # numbers of the findings that keep it from being checked as it will be built
    why: str = ""  # it was not walked

    @property
    def ending(self) -> Ending:
        """Of the result, but never within while a finding stands against it."""
        if self.result is None:
            return Ending.NOT_CHECKED
        return Ending.NOT_CHECKED if self.held_up and self.result.ending is Ending.WITHIN else self.result.ending


@dataclass(frozen=True, eq=False)
class CheckedRun:
    """A run with each distinct condition walked."""

    laid: LaidOut
    rows: tuple[Row, ...]

    @cached_property
    def ending(self) -> Ending:
        """The worst row: exceeds, then not checked, then within; a finding against the run itself keeps it open."""
        endings = {r.ending for r in self.rows}
        if any(c.weight is not Weight.NOTE for c in self.laid.conflicts):
            endings.add(Ending.NOT_CHECKED)
        return next((e for e in (Ending.EXCEEDS, Ending.NOT_CHECKED) if e in endings), Ending.WITHIN)


def lay_out(file: RunFile) -> LaidOut:
    """A run set out.

    Argument: ``file`` as :func:`barrier.job.run_file.read_run` returns it. Returns sides, findings and conditions. Raises
    JobRefused where a side cannot be divided, with what would help, and where a module is asked for and none was chosen: then with
    the best layouts and what speaks for each.
    """
    probe = file.job(probe_of(file))
    fixing = fixing_of(file, probe)
    sides = tuple(side_of(file, s, fixing, probe) for s in file.run.sides)
    _known_singles(file, sides)
    masses = masses_of(sides, probe)
    limits = limits_of(file, probe)
    found = [c for s in sides for c in moves.with_moves(s, fixing, limits, masses)]
    by_name = {s.name: s for s in sides}
    for corner in file.run.corners:
        found += look.at_corner(
            by_name[corner.side], corner.at, by_name[corner.other], corner.other_at, corner.turn == "outside", limits
        )
    found += look.of_sizes(sides, limits)
    return LaidOut(file, probe, fixing, sides, look.in_order(found), _conditions(file, sides), masses)


def _known_singles(file: RunFile, sides: Sequence[SideSet]) -> None:
    names = [p.name for s in sides for p in s.panels]
    for i, single in enumerate(file.run.singles, 1):
        if single.panel not in names:
            raise file.refused(f"run.singles.{i}.panel", no_such("panel", single.panel, names))


def check_run(laid: LaidOut, walk: Callable[[Job], Result] = check) -> CheckedRun:
    """Every distinct condition walked once; ``walk`` takes a job to its result. A condition that is no job stays *not checked*."""
    rows = []
    for condition in laid.conditions:
        against, result, why = _held_up(laid, condition), None, NOT_ON_A_PIECE
        if condition.changes:
            try:
                result, why = walk(laid.file.job(condition.changes, f"panel {', '.join(condition.panels)}")), ""
            except JobRefused as refused:
                why = refused.faults[0].text
        rows.append(Row(condition, result, against, why))
    return CheckedRun(laid, tuple(rows))


def unchecked(laid: LaidOut) -> CheckedRun:
    """The run as set out, no condition walked: every row is *not checked*."""
    return CheckedRun(laid, tuple(Row(c, None, _held_up(laid, c), NOT_ASKED) for c in laid.conditions))


def _held_up(laid: LaidOut, condition: Condition) -> tuple[int, ...]:
    names = {*condition.panels, *(m.name for p in condition.panels for m in _panel(laid, p).mounts)}
    return tuple(i for i, c in enumerate(laid.conflicts, 1) if c.weight is not Weight.NOTE and names & set(c.whom))


def _panel(laid: LaidOut, name: str) -> Panel:
    return next(p for s in laid.sides for p in s.panels if p.name == name)


Alike = tuple[int, tuple[tuple[float, ...], ...], bool, bool]


def _alike(side: SideSet, panel: Panel) -> Alike:
    """What makes a panel a condition of its own: width, mounts, places in their bays, whether it ends its side, whether each of
    its mounts stands on a piece at all."""
    places = tuple(
        (round(m.at - panel.strip.left, 1), *((round(m.place.from_face, 1), round(m.place.piece, 1)) if m.place else ()))
        for m in panel.mounts
    )
    on_pieces = all(any(m.name in q.mounts and q.low <= m.at <= q.high for q in side.pieces) for m in panel.mounts)
    return panel.strip.width, places, panel in (side.panels[0], side.panels[-1]), on_pieces


def _conditions(file: RunFile, sides: Sequence[SideSet]) -> tuple[Condition, ...]:
    """Panels that stand alike, side by side; of each the one nearest to an end of its side speaks, where the wind is highest."""
    found: list[Condition] = []
    for side in sides:
        alike: dict[Alike, list[Panel]] = {}
        for p in side.panels:
            alike.setdefault(_alike(side, p), []).append(p)
        for (width, _, ends, on_pieces), panels in alike.items():
            one = min(panels, key=lambda p: min(p.strip.left, side.division.line - p.strip.right))
            at = min(one.strip.left, side.division.line - one.strip.right)
            where = "at an end of its side" if ends else f"at least {at:g} mm from the end of its side"
            words = f"{width} mm wide, mounts {one.near:g} and {one.far:g} mm in, {where}"
            changes = changes_of(file, side, [one], at) if on_pieces else {}
            found.append(Condition(side.name, tuple(p.name for p in panels), changes, words))
    if len(found) > MOST_CONDITIONS:
        raise file.refused("run", f"comes to {len(found)} distinct conditions, more than {MOST_CONDITIONS}; check it side by side")
    return tuple(found)
