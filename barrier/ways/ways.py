"""Ways out: which changes would bring every required check of a job within, each calculated through every link.

Single changes first, then sets of two and three; then, where none of them does, the best sets are added to one change at a time. A
set is calculated when each check that exceeds is brought down by at least one of its changes made alone, or with ``every`` whatever
it is. What brings it within is then thinned out: changes that can be left out are, and a change by degrees goes to the least that
does.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field
from functools import partial
from itertools import combinations

from barrier.job import Job
from barrier.links.memo import Memo
from barrier.load_path import Result, check
from barrier.result import Ending, tied
from barrier.tables import Tables
from barrier.ways.demands import Demand, demanded, rated
from barrier.ways.least import Least, least_glass, least_of
from barrier.ways.moves import BRACKETS, Move, moves_of
from barrier.ways.outcome import Line, Outcome, changed
from barrier.ways.runner import Progress, needs_its_own, tables_of, walked_all
from barrier.ways.setting import Changes, asked

MOST = 3  # changes of a set that is looked for among all
FURTHER = 7  # changes of a set that is added to one at a time
STARTS = 3  # sets that are added to
SHOWN = 6  # ways that are told
SUPPLIED = ("clamp", "rating")  # what only the supplier can answer: a demand, and no fault of a way


@dataclass(frozen=True)
class Tried:
    """A set of changes and what it came to; ``left`` to rank by: exceeding or no longer known, the worst, by how much in all."""

    moves: tuple[Move, ...]
    outcome: Outcome
    left: tuple[int, float, float]

    @property
    def names(self) -> tuple[str, ...]:
        """The changes in words."""
        return tuple(m.name for m in self.moves)

    @property
    def does(self) -> bool:
        """Whether nothing is left exceeding, and nothing is less known than in the job as described."""
        return self.left[0] == 0


@dataclass(frozen=True)
class Way:
    """A set that leaves nothing exceeding, thinned out: its changes as the job file would have them, the least each must be."""

    tried: Tried
    changes: Changes
    outcome: Outcome
    least: tuple[Least, ...] = ()
    demands: tuple[Demand, ...] = ()


@dataclass(frozen=True, eq=False)
class Ways:
    """What was found for a job: its result, single changes ranked, how many sets of each size were calculated, what does."""

    result: Result
    base: Outcome
    singles: tuple[Tried, ...]
    counted: dict[int, tuple[int, int]]
    best: dict[int, Tried] = field(default_factory=dict)
    found: tuple[Way, ...] = ()
    beyond: Tried | None = None
    every: bool = False
    kind = "ways"

    def helpless(self) -> tuple[tuple[Tried, str], ...]:
        """Single changes that cannot help, and why."""
        found = []
        for t in self.singles:
            if t.outcome.refused:
                found.append((t, f"the job file would refuse it: {t.outcome.refused.splitlines()[0]}"))
            elif self.base.exceeding and not any(_moves(t.outcome, line) for line in self.base.exceeding):
                found.append((t, "it moves none of the checks that exceed"))
            elif self.base.exceeding and t.left[:2] > _left(self.base, self.base)[:2]:
                worse = [line.title for line in t.outcome.exceeding if line.id not in {e.id for e in self.base.exceeding}]
                found.append((t, f"it makes others exceed: {'; '.join(worse[:3])}" if worse else "it makes the worst check worse"))
        return tuple(found)


def ways(
    job: Job, settings: Sequence[str] = (), *, rule: str = "edge", every: bool = False, tables: Tables | None = None,
    progress: Progress | None = None, executor: Executor | None = None,
) -> Ways:  # fmt: skip
    """The ways out of a job.

    Arguments: ``job``; ``settings`` made first (``ENTRY=VALUE``), ``rule`` for the mounts with them; ``every`` set of up to three
    is calculated, not only those that bring down all that exceeds; ``tables`` as for :func:`barrier.check`; ``progress`` is told
    how many sets are done; ``executor`` any of ``concurrent.futures`` to walk the sets (the answer is the same). Returns what was
    found; nothing in it is called safe. Raises JobRefused, also for tables that cannot cross to other processes.
    """
    if settings:
        job = job.with_(asked(job, settings, rule).everything)
    if executor is not None:
        needs_its_own(job, tables)
    search = _Search(job, tables or tables_of(job), every, progress or (lambda done, of: None), executor)
    return search.found()


def singles(job: Job, tables: Tables, base: Outcome, memo: Memo, progress: Progress | None = None) -> tuple[Tried, ...]:
    """Every single change of a job, those that leave least first.

    ``base`` is the job as it is, ``tables`` its tables, ``memo`` what walks share; ``progress`` is told how many are done.
    """
    tried = []
    for move in moves_of(job, tables):
        outcome = changed(job, merged((move,)), tables, memo)
        tried.append(Tried((move,), outcome, _left(outcome, base)))
        if progress is not None:
            progress(len(tried), 0)
    return tuple(sorted(tried, key=_rank))


class _Search:
    def __init__(self, job: Job, tables: Tables, every: bool, progress: Progress, executor: Executor | None) -> None:
        self.job, self.tables, self.every, self.progress, self.executor = job, tables, every, progress, executor
        self.memo = Memo()
        self.seen: dict[frozenset[str], Tried] = {}
        self.helps: dict[str, frozenset[str]] = {}
        self.base = changed(job, {}, tables, self.memo)
        self.moves = moves_of(job, tables)

    def found(self) -> Ways:
        result = check(self.job, (), self.tables)
        singles = self.tried_all([(m,) for m in self.moves])
        usable = [t for t in singles if not t.outcome.refused]
        counted, best = {1: (len(singles), len(singles))}, {1: min(singles, key=_rank)} if singles else {}
        does = _one_of_a_kind(t for t in usable if t.does) if self.base.exceeding else []
        size = 1
        while self.base.exceeding and not does and size < MOST:
            size += 1
            sets = list(_sets([t.moves[0] for t in usable], size))
            wanted = sets if self.every else [s for s in sets if self._could(s)]
            tried = self.tried_all(wanted)
            counted[size] = (len(tried), len(sets))
            if tried:
                best[size] = min(tried, key=_rank)
            does = sorted((t for t in tried if t.does), key=_rank)
        beyond = None
        if self.base.exceeding and not does and best:
            starts = sorted(self.seen.values(), key=_rank)[:STARTS]
            beyond = min((self._added(start, usable) for start in starts), key=_rank)
            does = [beyond] if beyond.does else []
        found = tuple(self._thinned(t) for t in does[:SHOWN])
        return Ways(result, self.base, tuple(sorted(singles, key=_rank)), counted, best, found, beyond, self.every)

    def tried(self, moves: Sequence[Move]) -> Tried:
        key = frozenset(m.name for m in moves)
        if key not in self.seen:
            self._keep(moves, self.walked(merged(moves)))
        return self.seen[key]

    def tried_all(self, sets: Sequence[Sequence[Move]]) -> list[Tried]:
        """Many sets, in their order; those not seen yet are walked where the executor has room."""
        if self.executor is not None:
            new = [s for s in sets if frozenset(m.name for m in s) not in self.seen]
            keyed = {str(i): merged(s) for i, s in enumerate(new)}
            for outcome in walked_all(self.job, keyed, self.tables, self.executor):
                self._keep(new[int(outcome.key)], outcome)
        return [self.tried(s) for s in sets]

    def _keep(self, moves: Sequence[Move], outcome: Outcome) -> None:
        self.seen[frozenset(m.name for m in moves)] = Tried(tuple(moves), outcome, _left(outcome, self.base))
        self.progress(len(self.seen), 0)

    def walked(self, changes: Changes) -> Outcome:
        return changed(self.job, changes, self.tables, self.memo)

    def does(self, outcome: Outcome) -> bool:
        return _left(outcome, self.base)[0] == 0

    def _does_beside(self, changes: Changes, part: Changes) -> bool:
        return self.does(self.walked({**changes, **part}))

    def _could(self, moves: Sequence[Move]) -> bool:
        """Whether every check that exceeds is brought down by one of the changes made alone."""
        return all(any(line.id in self._helped(m) for m in moves) for line in self.base.exceeding)

    def _helped(self, move: Move) -> frozenset[str]:
        """The checks that exceed and are brought down by a change made alone."""
        if move.name not in self.helps:
            alone = self.tried((move,)).outcome
            self.helps[move.name] = frozenset(line.id for line in self.base.exceeding if _helps(alone, line))
        return self.helps[move.name]

    def _added(self, best: Tried, usable: Sequence[Tried]) -> Tried:
        """The best set with one change after another, each the one that leaves least."""
        while not best.does and len(best.moves) < FURTHER:
            taken = frozenset[str]().union(*(m.touches for m in best.moves))
            more = [(*best.moves, t.moves[0]) for t in usable if not t.moves[0].touches & taken]
            more += [_swapped(best.moves, t.moves[0]) for t in usable if _swappable(best.moves, t.moves[0])]
            top = min(self.tried_all(more), key=_rank, default=best)
            if _rank(top) >= _rank(best):
                break
            best = top
        return best

    def _thinned(self, tried: Tried) -> Way:
        """What can be left out is; what has degrees goes to the least that does; what brackets must hold is said."""
        moves = list(tried.moves)
        for m in tried.moves:
            without = [x for x in moves if x is not m]
            if without and self.tried(without).does:
                moves = without
        changes, least = merged(moves), []
        for m in moves:
            if m.scale is not None:
                found = least_of(m.scale, partial(self._does_beside, changes))
                changes = {**changes, **found.changes}
                least.append(found)
        least += least_glass(self.job, self.tables, changes, self.walked, self.does)
        changes = {**changes, **(least[-1].changes if least and least[-1].what == "glass" else {})}
        outcome = self.walked(changes)
        if any(BRACKETS in m.touches for m in moves):
            changes = {**changes, **rated(self.job, changes, self.walked)}
            outcome = self.walked(changes)
        return Way(self.tried(moves), changes, outcome, tuple(least), demanded(self.job, changes, outcome))


def merged(moves: Iterable[Move]) -> Changes:
    """The entries of several ``moves`` as one set of changes; lists and whole tables first, so that entries in them can follow."""
    changes = {path: value for m in moves for path, value in m.changes.items()}
    return dict(sorted(changes.items(), key=lambda c: not isinstance(c[1], list)))


def _sets(moves: Sequence[Move], size: int) -> Iterable[tuple[Move, ...]]:
    """Sets of changes of which no two touch the same thing."""
    for found in combinations(moves, size):
        if sum(len(m.touches) for m in found) == len(frozenset[str]().union(*(m.touches for m in found))):
            yield found


def _swappable(moves: Sequence[Move], other: Move) -> bool:
    return other not in moves and sum(bool(m.touches & other.touches) for m in moves) == 1


def _swapped(moves: Sequence[Move], other: Move) -> tuple[Move, ...]:
    """The set with another degree of the same thing."""
    return tuple(other if m.touches & other.touches else m for m in moves)


def _moves(outcome: Outcome, line: Line) -> bool:
    """Whether a change alone moves a check that exceeds; one without a number is moved only where it gets one or ends otherwise."""
    now = outcome.by_id.get(line.id)
    if now is None:
        return not outcome.refused
    if line.eta is None:
        return now.eta is not None or now.ending != line.ending
    return now.ending != line.ending or now.eta is None or tied(now.eta) != tied(line.eta)


def _helps(outcome: Outcome, line: Line) -> bool:
    """Whether a change alone brings down a check that exceeds; one without a number where it gets one or no longer exceeds."""
    now = outcome.by_id.get(line.id)
    if now is None:
        return not outcome.refused
    if now.ending == Ending.WITHIN:
        return True
    return now.eta is not None and (line.eta is None or tied(now.eta) < tied(line.eta))


def _one_of_a_kind(does: Iterable[Tried]) -> list[Tried]:
    """Of changes of one thing that all do, the first: its least says the rest."""
    found: dict[frozenset[str], Tried] = {}
    for t in does:
        found.setdefault(t.moves[0].touches, t)
    return list(found.values())


def _left(outcome: Outcome, base: Outcome) -> tuple[int, float, float]:
    """What is left: exceeding, and no longer known that was known, but for what only the supplier can answer."""
    count, worst, over = outcome.left
    known = {line.id for line in base.lines if line.ending != Ending.NOT_CHECKED}
    lost = [line for line in outcome.unknown if line.id in known and (line.part, line.of) != SUPPLIED]
    return count + len(lost), worst, over


def _rank(tried: Tried) -> tuple[float, ...]:
    count, worst, over = tried.left
    return count, worst, over, len(tried.moves)
