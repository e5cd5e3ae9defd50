"""What a result rests on, told from its origins: which load, which figures from memory, which invented, which assumed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from barrier.equation import Equation, Step
from barrier.links.loads.actions import DESIGN_ACTION
from barrier.links.loads.cases import Case
from barrier.load_path import Result, Walked
from barrier.result import Check, Shown, Standing
from barrier.sheet.content.calculation import values_of
from barrier.sheet.content.ledger import READ_OFF, settled
from barrier.value import Cell, JobEntry, Numerical, Value, walk, walk_at

LOADS = ("force", "line load", "pressure", "moment", "stress")  # kinds of number that only a load brings in
DOUBTFUL = ("memory", "invented", "common practice", "yours")  # each of these is listed up front, whole


@dataclass(frozen=True, slots=True, eq=False)
class Origins:
    """Everything some values were made of, each once, in walking order.

    ``closed`` are titles of numerical results that name no inputs: what they rest on cannot be told.
    """

    entries: tuple[Value, ...]
    cells: tuple[Value, ...]
    equations: tuple[Equation, ...]
    closed: tuple[str, ...] = ()

    def cells_of(self, provenance: str) -> tuple[Value, ...]:
        """Table cells of one provenance."""
        return tuple(v for v in self.cells if isinstance(v.origin, Cell) and v.origin.provenance == provenance)

    def equations_of(self, provenance: str) -> tuple[Equation, ...]:
        """Equations of one provenance."""
        return tuple(e for e in self.equations if e.provenance == provenance)


def origins(values: Iterator[Value] | tuple[Value, ...]) -> Origins:
    """Entries, cells and equations that values rest on, at any of their stations."""
    return _collected(walk(*values))


def _collected(values: Iterator[Value]) -> Origins:
    entries: dict[tuple[str, str], Value] = {}
    cells: dict[tuple[str, str, str, str], Value] = {}
    equations: dict[int, Equation] = {}
    closed: dict[str, None] = {}
    for v in values:
        match v.origin:
            case JobEntry(path, text):
                entries.setdefault((path, text), v)
            case Cell(table, key, column):
                cells.setdefault((table, key, column, v.origin.text + v.origin.source), v)
            case Step(equation):
                equations.setdefault(id(equation), equation)
            case Numerical(title, method) if method not in READ_OFF and not v.origin.inputs:
                closed[title] = None
    return Origins(tuple(entries.values()), tuple(cells.values()), tuple(equations.values()), tuple(closed))


def all_values(walked: tuple[Walked, ...]) -> Iterator[Value]:
    """Every value that stands in a check or is shown, in every situation, and every factor and load of a case."""
    for w in walked:
        for link in w.links:
            subjects: tuple[Check | Shown, ...] = (*link.shown, *link.checks)
            for subject in subjects:
                yield from values_of(subject)
            yield from (f.length for f in link.findings if f.length is not None)
        for case in w.handed_on.all_cases:
            yield from (case.action.size, case.resultant, case.height, case.strength.factor, case.service.factor)
            if case.action.service is not None:
                yield case.action.service


def invented_entries(of: Origins) -> tuple[Value, ...]:
    """Entries of a job that is marked as invented."""
    return tuple(v for v in of.entries if isinstance(v.origin, JobEntry) and v.origin.invented)


def assumptions(result: Result) -> tuple[JobEntry, ...]:
    """Every default that was used: those the governing check rests on first, then as the job orders them."""
    # Only one family of codes has a national table to name.
    every = tuple(e for e in result.job.assumptions() if e.path != "national" or result.basis.key == "en")
    check = result.governing
    if check is None:
        return every
    at_station = (v for value in values_of(check) for v in walk_at(value, check.station))
    used = {v.origin.path for v in at_station if isinstance(v.origin, JobEntry)}
    return tuple(sorted(every, key=lambda entry: entry.path not in used))


def moved_by(result: Result) -> dict[str, tuple[str, ...]]:
    """For every entry that was assumed, by its path, the titles of the links whose required checks are made of it."""
    found: dict[str, dict[str, None]] = {}
    for link in result.links:
        values = (v for c in link.checks if c.standing is Standing.REQUIRED for v in values_of(c))
        for v in walk(*values):
            if isinstance(v.origin, JobEntry) and v.origin.is_assumed:
                found.setdefault(v.origin.path, {})[link.title] = None
    return {path: tuple(links) for path, links in found.items()}


def leaves_of(result: Result, check: Check) -> Origins:
    """What one check rests on, its load and the factor on it included."""
    case = load_of(result, check)
    load = (case.resultant, case.strength.factor) if case is not None else ()
    return _collected(chain.from_iterable(walk_at(v, check.station) for v in (*values_of(check), *load)))


def load_of(result: Result, check: Check) -> Case | None:
    """The load case behind a check's governing station; None where no load is in it (a distance) or none is named."""
    if not carries_a_load(check):
        return None
    return next((c for c in result.handed_on.all_cases if c.id == check.case), None)


def carries_a_load(check: Check) -> bool:
    """Whether a load is in what a check demands; false for a size or a distance, which is the same under any load."""
    asked = _asked(check)
    if asked is None:
        return False
    values = tuple(walk(asked))
    models = (v for v in values if isinstance(v.origin, Numerical) and v.origin.method not in READ_OFF)
    return any(v.kind in LOADS for v in values) or any(models)


def _asked(check: Check) -> Value | None:
    """What a check demands; of several demands compared at once, which have no one demand, the sum they are compared by."""
    return check.demand if check.demand is not None else check.utilisation


def size_in(result: Result, check: Check) -> Case | None:
    """A case whose characteristic size, as the table or the job has it, is in a check's demand."""
    asked = _asked(check)
    if asked is None:
        return None
    within = {id(v.origin) for v in walk_at(asked, check.station)}
    return next((c for c in result.handed_on.all_cases if id(settled(c.action.size, 0)[0].origin) in within), None)


def design_action(result: Result, case: Case) -> Value | None:
    """The design action of a case on the whole panel, as the link of actions shows it."""
    for link in result.links:
        for shown in link.shown:
            origin = shown.value.origin
            if not isinstance(origin, Step) or shown.value.symbol != DESIGN_ACTION:
                continue
            if settled(origin.inputs["H_k"], 0)[0].origin is case.resultant.origin:
                return shown.value
    return None
