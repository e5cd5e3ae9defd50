"""A job walked, as plain figures: what every check came to, small enough to keep by the thousand and to send to another process.

An :class:`Outcome` holds for each check its demand, resistance and utilisation as the walk gave them, bit for bit; where they
come from is for the sheet, which is made again from the changed job.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import cached_property
from typing import Any

from barrier.errors import BarrierError
from barrier.job import Job
from barrier.links.memo import SHARED, Memo
from barrier.load_path import Walked, as_described
from barrier.result import Check, Ending, Standing, tied
from barrier.tables import Tables
from barrier.value import Value

FORMAT = "barrier outcome 2"


@dataclass(frozen=True, slots=True)
class Line:
    """One check: link, id and title, how it ends and why; utilisation, its size beside others (``rank``), demand and resistance
    in base units (N, mm, MPa, rad) with their kinds, None where there is none; what is looked at (``part``), ``of`` what, at which
    ``mount``."""

    link: str
    id: str
    title: str
    standing: str
    ending: str
    eta: float | None = None
    rank: float | None = None
    demand: float | None = None
    resistance: float | None = None
    kind: str = ""
    reason: str = ""
    where: str = ""
    part: str = ""
    of: str = ""
    mount: str = ""

    @property
    def required(self) -> bool:
        """Whether it decides."""
        return self.standing == Standing.REQUIRED

    @property
    def exceeds(self) -> bool:
        """Whether it decides and exceeds."""
        return self.required and self.ending == Ending.EXCEEDS

    @property
    def unknown(self) -> bool:
        """Whether it decides and was not checked."""
        return self.required and self.ending == Ending.NOT_CHECKED

    @property
    def weight(self) -> float:
        """To sort by: its utilisation beside others, infinite where it exceeds without a number, nought where it is not known."""
        return tied(self.rank) if self.rank is not None else float("inf") if self.ending == Ending.EXCEEDS else 0.0


@dataclass(frozen=True)
class Outcome:
    """What a changed job came to: its changes, its fingerprint, every check; or why the job file would refuse it."""

    key: str
    changes: tuple[tuple[str, Any], ...]
    lines: tuple[Line, ...] = ()
    refused: str = ""

    @cached_property
    def by_id(self) -> Mapping[str, Line]:
        """The checks by their id."""
        return {line.id: line for line in self.lines}

    @cached_property
    def exceeding(self) -> tuple[Line, ...]:
        """Required checks that exceed, worst first."""
        return tuple(sorted((line for line in self.lines if line.exceeds), key=lambda line: -line.weight))

    @cached_property
    def unknown(self) -> tuple[Line, ...]:
        """Required checks that were not made."""
        return tuple(line for line in self.lines if line.unknown)

    @property
    def governing(self) -> Line | None:
        """The required check that governs: the first without a number that exceeds, else the largest number."""
        required = [line for line in self.lines if line.required and line.weight > 0.0]
        return max(required, key=lambda line: line.weight, default=None)

    @property
    def left(self) -> tuple[int, float, float]:
        """How much is left exceeding, to rank by: how many, the worst, and by how much in all; a refused job comes last."""
        if self.refused:
            return 10**9, float("inf"), float("inf")
        over = [line.weight for line in self.exceeding]
        return len(over), max(over, default=0.0), sum(x - 1.0 for x in over)

    def written(self) -> str:
        """The outcome as one line of JSON, keys in a fixed order, with a seal over the rest of it."""
        body = json.dumps(
            {"key": self.key, "changes": [list(c) for c in self.changes], "refused": self.refused,
             "lines": [asdict(line) for line in self.lines]},
            ensure_ascii=False, allow_nan=False, sort_keys=True,
        )  # fmt: skip
        return json.dumps({"seal": _digest(body), "outcome": json.loads(body)}, ensure_ascii=False, sort_keys=True)


def read(text: str) -> Outcome:
    """An outcome from its line. Raises ValueError where the line is damaged."""
    try:
        document = json.loads(text)
        body = document["outcome"]
        if document["seal"] != _digest(json.dumps(body, ensure_ascii=False, allow_nan=False, sort_keys=True)):
            raise ValueError("its seal does not fit")
        lines = tuple(Line(**line) for line in body["lines"])
        return Outcome(body["key"], tuple((str(p), v) for p, v in body["changes"]), lines, body["refused"])
    except (KeyError, TypeError, AttributeError) as fault:
        raise ValueError(f"it is no outcome: {fault}") from None


def outcome_of(job: Job, tables: Tables, memo: Memo = SHARED, key: str = "") -> Outcome:
    """Walk a job as described and keep its figures.

    Arguments: ``job``; ``tables``; ``memo`` what walks of one job and its changed copies share, so that a mount or a panel that did
    not change is not solved again; ``key`` the fingerprint, made here where it is empty. Returns the outcome.
    """
    walked = as_described(job, tables, memo)
    return Outcome(key or key_of(job, job.changes, tables), tuple(job.changes), lines_of(walked))


def changed(job: Job, changes: Mapping[str, object], tables: Tables, memo: Memo = SHARED, key: str = "") -> Outcome:
    """Walk a changed copy of a job; what the job file would refuse is an outcome that says so."""
    key = key or key_of(job, tuple(changes.items()), tables)
    try:
        return Outcome(key, tuple(changes.items()), lines_of(as_described(job.with_(changes), tables, memo)))
    except BarrierError as fault:
        return Outcome(key, tuple(changes.items()), (), str(fault))


def lines_of(walked: Walked) -> tuple[Line, ...]:
    """Every check of a walk as plain figures."""
    return tuple(_line(link.id, c) for link in walked.links for c in link.checks)


def _line(link: str, c: Check) -> Line:
    def at(value: Value | None) -> float | None:
        return None if value is None else value.at(c.station)

    kind = c.demand.kind if c.demand is not None else ""
    return Line(
        link, c.id, c.title, str(c.standing), str(c.ending), c.eta, c.rank, at(c.demand), at(c.resistance), kind, c.reason, c.where,
        c.about.part, c.about.kind, c.about.mount,
    )  # fmt: skip


def key_of(job: Job, changes: Sequence[tuple[str, object]], tables: Tables) -> str:
    """The fingerprint of a changed job: the file, every change so far and these, the tables and the version of the outcome.

    Sixteen hexadecimal digits; equal only for what would be walked alike.
    """
    import barrier

    said = [FORMAT, barrier.__version__, job.fingerprint(), tables.fingerprint(), [list(c) for c in (*job.changes, *changes)]]
    return _digest(json.dumps(said, ensure_ascii=False, sort_keys=True, default=str))


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]
