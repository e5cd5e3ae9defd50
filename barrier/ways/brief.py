"""What the two pages for the engineer show: a result, and which single changes were tried before he was asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.job import Job
from barrier.links.memo import Memo
from barrier.load_path import Result, check
from barrier.tables import Tables
from barrier.ways.outcome import Outcome, changed
from barrier.ways.runner import Progress, tables_of
from barrier.ways.setting import asked
from barrier.ways.ways import Tried, singles


@dataclass(frozen=True, eq=False)
class Brief:
    """A result; the job as described in figures, and every single change, those that leave least first, if any was tried."""

    result: Result
    base: Outcome | None = None
    tried: tuple[Tried, ...] = ()


def brief(
    job: Job, settings: Sequence[str] = (), *, rule: str = "edge", try_ways: bool = True, tables: Tables | None = None,
    progress: Progress | None = None,
) -> Brief:  # fmt: skip
    """Check a job and try every single change of it.

    Arguments: ``job``; ``settings`` made first (``ENTRY=VALUE``), ``rule`` for the mounts with them; ``try_ways`` False to check it
    only; ``tables`` as for :func:`barrier.check`; ``progress`` is told how many changes are done. Returns what the pages show; of a
    job of which nothing exceeds no change is tried. Raises JobRefused.
    """
    job = job.with_(asked(job, settings, rule).everything) if settings else job
    known, memo = tables or tables_of(job), Memo()
    result = check(job, (), known, memo)
    base = changed(job, {}, known, memo)
    if not try_ways or not base.exceeding:
        return Brief(result, base if try_ways else None)
    return Brief(result, base, singles(job, known, base, memo, progress))
