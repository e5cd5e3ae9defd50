"""What if: a job and the same with entries changed, walked side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from barrier.job import Job
from barrier.load_path import Result, check
from barrier.result import Check, Ending, Standing, tied
from barrier.tables import Tables
from barrier.ways.setting import Setting, asked


class Moved(NamedTuple):
    """A check before and after, None where there is no such check."""

    before: Check | None
    after: Check | None


class Counts(NamedTuple):
    """How many required checks of one set exceed, were not checked, are within."""

    exceeds: int
    not_checked: int
    within: int


@dataclass(frozen=True, eq=False)
class WhatIf:
    """A job as described and as changed, with the setting that changed it."""

    before: Result
    after: Result
    setting: Setting
    kind = "what_if"

    @property
    def result(self) -> Result:
        """The changed job: what the page is about."""
        return self.after

    def moved(self) -> tuple[Moved, ...]:
        """Every check whose figure or ending moved, in walking order; then those that are asked in one of the two only."""
        was, now = ({c.id: c for c in r.sound.checks} for r in (self.before, self.after))
        both = [Moved(was[i], now[i]) for i in was if i in now and _differs(was[i], now[i])]
        return (
            *both,
            *(Moved(None, c) for i, c in now.items() if i not in was),
            *(Moved(c, None) for i, c in was.items() if i not in now),
        )

    def counts(self) -> tuple[Counts, Counts, int]:
        """Endings before and after, counted over the required checks that are asked in both, and how many those are."""
        was, now = ({c.id: c for c in r.sound.checks if c.standing is Standing.REQUIRED} for r in (self.before, self.after))
        both = [i for i in was if i in now]
        return _counted([was[i] for i in both]), _counted([now[i] for i in both]), len(both)


def what_if(job: Job, texts: Sequence[str], rule: str = "edge", tables: Tables | None = None) -> WhatIf:
    """A job before and after a change.

    Arguments: ``job``; ``texts`` of the form ``ENTRY=VALUE`` (:func:`barrier.ways.setting.asked`); ``rule`` where mounts go
    with a wider panel; ``tables`` as for :func:`barrier.check`. Returns both results. Raises JobRefused for what the job file
    would refuse.
    """
    setting = asked(job, texts, rule)
    return WhatIf(check(job, (), tables), check(job.with_(setting.everything), (), tables), setting)


def _differs(a: Check, b: Check) -> bool:
    """Whether a check moved: its ending, its figure beyond rounding, or its reason for having none."""
    if a.ending is not b.ending or (a.eta is None) is not (b.eta is None):
        return True
    if a.eta is not None and b.eta is not None:
        return tied(a.eta) != tied(b.eta)
    demands = [None if c.demand is None else tied(c.demand.at(c.station)) for c in (a, b)]
    return demands[0] != demands[1] or a.reason != b.reason


def _counted(checks: Sequence[Check]) -> Counts:
    endings = [c.ending for c in checks]
    return Counts(endings.count(Ending.EXCEEDS), endings.count(Ending.NOT_CHECKED), endings.count(Ending.WITHIN))
