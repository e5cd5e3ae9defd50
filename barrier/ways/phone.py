"""A grid of real checks for a page with sliders: every stop of every axis with every other, each walked, nothing in between."""

from __future__ import annotations

import os
from collections.abc import Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from itertools import product

from barrier.errors import Fault, JobRefused
from barrier.job import Job
from barrier.job.quantity import parse
from barrier.load_path import Result, check
from barrier.tables import Tables
from barrier.ways.axes import MOUNTS, Axis, Stop, axes_of, places
from barrier.ways.outcome import Outcome
from barrier.ways.runner import Progress, Said, run, tables_of
from barrier.ways.setting import RULES, Changes, asked

MOST = 400  # sets of a grid: what a page of some hundred kB holds, and a few minutes calculate


@dataclass(frozen=True, eq=False)
class Phone:
    """A job, the axes, and what every set of stops came to, the first axis slowest.

    ``rule`` says where mounts go with a wider panel, empty where no width is changed; ``folder`` of the reader's own tables.
    """

    result: Result
    axes: tuple[Axis, ...]
    outcomes: tuple[Outcome, ...]
    rule: str = ""
    folder: str = ""
    kind = "phone"

    @property
    def own(self) -> int:
        """The number of the outcome of the job as it stands."""
        return self.number(tuple(a.own for a in self.axes))

    def number(self, stops: Sequence[int]) -> int:
        """The number of the outcome at a stop of each axis."""
        at = 0
        for axis, stop in zip(self.axes, stops, strict=True):
            at = at * len(axis.stops) + stop
        return at

    def stops(self, number: int) -> tuple[int, ...]:
        """The stop of each axis at an outcome."""
        found = []
        for axis in reversed(self.axes):
            number, stop = divmod(number, len(axis.stops))
            found.append(stop)
        return tuple(reversed(found))


def phone(
    job: Job, over: Sequence[str] = (), settings: Sequence[str] = (), *, rule: str = "edge", tables: Tables | None = None,
    executor: Executor | None = None, file: str | os.PathLike[str] | None = None, progress: Progress | None = None,
    said: Said | None = None, folder: str = "",
) -> Phone:  # fmt: skip
    """Walk a job at every stop of two or three entries.

    Arguments: ``job``; ``over`` the axes as :func:`barrier.ways.axes.axes_of` reads them, the tool's own three if none;
    ``settings`` made first, ``rule`` where mounts go with a wider panel; ``tables``, ``executor``, ``file``, ``progress``, ``said``
    as for :func:`barrier.ways.runner.run`; ``folder`` of the reader's own tables, by name, for the command the page prints.
    Returns the grid. Raises JobRefused for a job, an axis or a rule that is none, and for a grid of more than :data:`MOST` sets.
    """
    if settings:
        job = job.with_(asked(job, settings, rule).everything)
    known = tables or tables_of(job)
    if rule not in RULES:
        raise JobRefused(job.file, (Fault("--mounts", f"= {rule!r} is no rule for the mounts; use {', '.join(RULES)}"),))
    axes = axes_of(job, over, rule, known)
    sets = list(product(*(a.stops for a in axes)))
    if len(sets) > MOST:
        sizes = " x ".join(str(len(a.stops)) for a in axes)
        text = f"{sizes} stops are {len(sets)} sets; a page holds {MOST}. Take longer steps, shorter ranges or fewer sliders"
        raise JobRefused(job.file, (Fault("--over", text),))
    result = check(job, (), tables)
    variants = [_changes(job, axes, stops) for stops in sets]
    outcomes = run(job, variants, executor=executor, file=file, tables=tables, progress=progress, said=said, rule=rule)
    return Phone(result, axes, outcomes, RULES[rule] if _wider(job, axes) else "", folder)


def _changes(job: Job, axes: Sequence[Axis], stops: Sequence[Stop]) -> Changes:
    """The changes of one set; those of mounts last, for they depend on the width it has."""
    changes: Changes = {path: value for s in stops for path, value in s.changes}
    for axis, stop in zip(axes, stops, strict=True):
        if axis.name == MOUNTS and stop.x is not None and not stop.own:
            changes |= places(job, stop.x, _width(job, changes))
    return changes


def _width(job: Job, changes: Changes) -> float:
    """The width the first panel has, mm."""
    panel = job.panels[0]
    for spelt in (panel.name, "1"):
        text = changes.get(f"panels.{spelt}.width")
        x = parse(text, "length") if isinstance(text, str) else None
        if isinstance(x, float):
            return x
    return float(panel.width.x)


def _wider(job: Job, axes: Sequence[Axis]) -> bool:
    return any(path.startswith("panels.") and path.endswith(".width") for a in axes for s in a.stops for path, _ in s.changes)
