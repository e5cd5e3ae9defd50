"""A run checked: one row of the cover for each distinct condition, and one for the rail of each side; the run ends as its worst."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from barrier.errors import JobRefused
from barrier.job import Job
from barrier.load_path import Result, Walked, check
from barrier.result import SOUND, Check, Ending, Standing, governing
from barrier.run.conflicts import Weight
from barrier.run.side import SideSet
from barrier.whole_run import rails
from barrier.whole_run.conditions import Condition
from barrier.whole_run.jobs import stand_of
from barrier.whole_run.laid import LaidOut

NOT_ON_A_PIECE = "a mount stands on no piece of blocking"
NOT_ASKED = "set out only, not walked"
CLOSE = 0.02  # twice what the worse of panels that are alike was measured to miss
ORDER = (Ending.EXCEEDS, Ending.NOT_CHECKED, Ending.WITHIN)
Seen = tuple[Walked, Check]
Walks = Callable[[Job], Result]


@dataclass(frozen=True, eq=False)
class Row:
    """One row of the cover table: a condition, the result behind it (None where it was not walked), what keeps it open.

    ``seen`` is where the result is that of a whole side: the checks that are of this row, each with the walk it was made in.
    ``decides`` is False for a rail that only informs.
    """

    condition: Condition
    result: Result | None
    held_up: tuple[int, ...] = ()  # numbers of the findings that keep it from being checked as it will be built
    why: str = ""  # it was not walked
    seen: tuple[Seen, ...] | None = None
    decides: bool = True

    @property
    def ending(self) -> Ending:
        """Of the result, but never within while a finding stands against it."""
        found = self._found
        return Ending.NOT_CHECKED if self.held_up and found is Ending.WITHIN else found

    @property
    def _found(self) -> Ending:
        if self.result is None:
            return Ending.NOT_CHECKED
        if self.seen is None:
            return self.result.ending
        endings = {c.ending for _, c in self.seen}
        return next((e for e in ORDER if e in endings), Ending.NOT_CHECKED)

    @cached_property
    def worst(self) -> Seen | None:
        """The check that governs, with the walk it was made in; one that exceeds without a number comes before any number."""
        if self.seen is None:
            found = None if self.result is None else self.result.governing
            return None if found is None or self.result is None else (self.result.sound, found)
        alone = next((s for s in self.seen if s[1].ending is Ending.EXCEEDS and s[1].eta is None), None)
        numbered = [s for s in self.seen if s[1].eta is not None]
        return alone or (numbered[governing([c.rank for _, c in numbered])] if numbered else None)

    @property
    def governing(self) -> Check | None:
        """The check that governs; None where nothing could be checked."""
        return None if self.worst is None else self.worst[1]

    @property
    def governs(self) -> str:
        """What governs in words, with the situation where it is not that of the run as described; or why nothing was walked."""
        if self.result is None:
            return self.why
        if self.worst is None:
            return "nothing could be checked"
        walked, own = self.worst
        text = own.title if self.seen is None or walked.situation is SOUND else f"{own.title}, with {walked.situation.name}"
        return text if self.decides else f"{text}; for information, it does not decide"


@dataclass(frozen=True, eq=False)
class CheckedRun:
    """A run with each distinct condition walked."""

    laid: LaidOut
    rows: tuple[Row, ...]

    @cached_property
    def ending(self) -> Ending:
        """The worst row: exceeds, then not checked, then within; a finding against the run itself keeps it open."""
        endings = {r.ending for r in self.rows if r.decides}
        if any(c.weight is not Weight.NOTE for c in self.laid.conflicts):
            endings.add(Ending.NOT_CHECKED)
        return next((e for e in ORDER if e in endings), Ending.WITHIN)

    def results(self) -> Iterator[tuple[str, Result]]:
        """Every result behind a row once, with a name for its sheet."""
        told: list[Result] = []
        for i, row in enumerate(self.rows, 1):
            if row.result is not None and all(row.result is not r for r in told):
                told.append(row.result)
                yield f"row_{i}", row.result

    def under_rail(self) -> Iterator[tuple[SideSet, Result]]:
        """Sides that were walked under their rail, each with what came of it."""
        for side in self.laid.sides:
            found = [r.result for r in self.rows if r.condition.side == side.name and r.seen is not None and r.result is not None]
            if found:
                yield side, found[-1]


def check_run(laid: LaidOut, walk: Walks = check) -> CheckedRun:
    """Every distinct condition walked, a side under a rail as one; ``walk`` takes a job to its result.

    A condition that is no job stays *not checked*.
    """
    rows: list[Row] = []
    for side in laid.sides:
        own = [c for c in laid.conditions if c.side == side.name]
        if not rails.named(laid.file):
            rows += [_alone(laid, c, walk) for c in own]
        elif why := rails.why_not(laid.file, side, own):
            rows += [_alone(laid, c, walk, without_rail=True) for c in own]
            rows.append(Row(_rail(side), None, (), why))
        else:
            rows += _under_rail(laid, side, own, walk)
    return CheckedRun(laid, tuple(rows))


def unchecked(laid: LaidOut) -> CheckedRun:
    """The run as set out, no condition walked: every row is *not checked*."""
    rows = [Row(c, None, _held_up(laid, c), NOT_ASKED) for c in laid.conditions]
    if rails.named(laid.file):
        rows += [Row(_rail(side), None, (), NOT_ASKED) for side in laid.sides]
    return CheckedRun(laid, tuple(rows))


def _alone(laid: LaidOut, condition: Condition, walk: Walks, without_rail: bool = False) -> Row:
    """A condition walked by itself, in every way it is walked; the worst counts."""
    against, found = _held_up(laid, condition), list[Result]()

    def walked(changes: Mapping[str, Any]) -> Result:
        job = {**changes, **({"rail": None} if without_rail else {})}
        return walk(laid.file.job(job, f"panel {', '.join(condition.panels)}"))

    try:
        found += map(walked, condition.walks)
        if condition.members and any(map(_close, found)):
            found += map(walked, condition.members)
    except JobRefused as refused:
        return Row(condition, None, against, refused.faults[0].text)
    return Row(condition, min(found, key=_badness), against) if found else Row(condition, None, against, NOT_ON_A_PIECE)


def _close(result: Result) -> bool:
    """Whether a check that decides comes so near to its limit that what panels of one condition differ by may turn it."""
    return any(
        1.0 - CLOSE < c.eta <= 1.0
        for w in result.walked if w.situation.standing is Standing.REQUIRED
        for c in w.checks if c.standing is Standing.REQUIRED and c.eta is not None
    )  # fmt: skip


def _badness(result: Result) -> tuple[int, float]:
    """The worst result comes first."""
    own = result.governing
    return ORDER.index(result.ending), -(own.rank or 0.0) if own is not None else 0.0


def _rail(side: SideSet) -> Condition:
    """The row of the rail of a side."""
    words = "its rail, whole and with each panel lost in turn"
    return Condition(side.name, tuple(p.name for p in side.panels), (), (), words, side.panels[0].name)


def _under_rail(laid: LaidOut, side: SideSet, conditions: Sequence[Condition], walk: Walks) -> Iterator[Row]:
    """The rows of a side that is walked under its rail: its conditions, whatever panel is lost beside them, and the rail."""
    found, title = list[Result](), f"side {side.name} under its rail"
    try:
        for way in range(rails.ways(conditions)):
            found.append(walk(laid.file.job(rails.job_of(laid.file, side, conditions, way), title)))
        if any(c.members for c in conditions) and any(map(_close, found)):
            stands = [stand_of(side, p) for p in side.panels]
            found.append(walk(laid.file.job(rails.whole_of(laid.file, side, stands), title)))
    except JobRefused as refused:
        why = refused.faults[0].text
        yield from (Row(c, None, _held_up(laid, c), why) for c in (*conditions, _rail(side)))
        return
    for condition in conditions:
        made = [
            Row(condition, r, _held_up(laid, condition), "", _of(r, condition.panels)) for r in found
        ]  # fmt: skip
        yield min(made, key=_row_badness)
    yield min((_rail_row(laid, side, r) for r in found), key=_row_badness)


def _row_badness(row: Row) -> tuple[int, float]:
    own = row.governing
    return ORDER.index(row.ending), -(own.rank or 0.0) if own is not None else 0.0


def _of(result: Result, panels: Sequence[str]) -> tuple[Seen, ...]:
    """The required checks of those of these panels that the job describes, and of their mounts, in every walk that decides."""
    found: list[Seen] = []
    for walked in result.walked:
        names = {*panels, *(m.name for m in walked.job.mounts if m.panel in panels)}
        alone = len(walked.job.panels) == 1 and walked.job.panels[0].name in panels  # its checks do not bear its name
        if walked.situation.standing is Standing.REQUIRED:
            own = (c for c in walked.checks if c.standing is Standing.REQUIRED and c.about.part != "rail")
            found += [(walked, c) for c in own if alone or c.about.mount in names or c.about.panel in names]
    return tuple(found)


def _rail_row(laid: LaidOut, side: SideSet, result: Result) -> Row:
    """The row of the rail: its checks that decide; where none does, those that inform."""
    every = [(w, c) for w in result.walked for c in w.checks if c.about.part == "rail"]
    required = [s for s in every if s[0].situation.standing is Standing.REQUIRED and s[1].standing is Standing.REQUIRED]
    return Row(_rail(side), result, _held_up(laid, _rail(side)), "", tuple(required or every), bool(required))


def _held_up(laid: LaidOut, condition: Condition) -> tuple[int, ...]:
    names = {*condition.panels, *(m.name for p in condition.panels for m in laid.panel(p).mounts)}
    return tuple(i for i, c in enumerate(laid.conflicts, 1) if c.weight is not Weight.NOTE and names & set(c.whom))
