"""The least that would do: of a change by degrees by bracketing on the real check, of glass by going down the table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from barrier.job import Job
from barrier.tables import Tables
from barrier.ways.moves import Scale, glass_of, with_glass
from barrier.ways.outcome import Outcome
from barrier.ways.setting import Changes

LOOKS = 4  # places looked at before anything is bracketed: what does may begin, end and begin again


@dataclass(frozen=True)
class Least:
    """The least of one entry that does beside the other changes, and the next less that was calculated and does not."""

    what: str
    does: str
    not_enough: str
    changes: Changes
    why: str = ""


def least_of(scale: Scale, does: Callable[[Changes], bool]) -> Least:
    """The degree nearest to what the job has that does, to one step of the scale; places between are looked at first.

    ``does`` walks the job with such changes. The far end is known to do.
    """
    count = max(round(abs(scale.high - scale.low) / scale.step), 1)

    def size(i: int) -> float:
        return scale.high if i == count else scale.low + (scale.high - scale.low) * i / count

    marks = sorted({round(count * k / LOOKS) for k in range(LOOKS + 1)})
    low = -1
    for mark in marks[:-1]:
        if does(scale.at(size(mark))):
            break
        low = mark
    high = next(m for m in marks if m > low)
    while high - low > 1 and low >= 0:
        middle = (low + high) // 2
        low, high = (low, middle) if does(scale.at(size(middle))) else (middle, high)
    beside = _told(scale, size(low)) if low >= 0 else ""
    return Least(scale.what, _told(scale, size(high)), beside, scale.at(size(high)))


def _told(scale: Scale, size: float) -> str:
    return f"{size:.4g} {scale.what}" if scale.what.startswith("times") else f"{size:.4g} mm"


def least_glass(
    job: Job, tables: Tables, changes: Changes, walked: Callable[[Changes], Outcome], does: Callable[[Outcome], bool]
) -> list[Least]:
    """The thinnest glass of the table that does beside the changes, and what the next thinner one leaves."""
    paths = [p for p in changes if p.endswith(".nominal")]
    has = str(changes[paths[0]]) if paths else job.entry("panels.1.layers.1.nominal").text
    rows = glass_of(job, tables)
    at = next((i for i, (name, _) in enumerate(rows) if name == has), None)
    if at is None or any(p.rail != "none" and len(p.layers) > 2 for p in job.panels):
        return []
    least, left = has, ""
    for name, _ in reversed(rows[:at]):
        outcome = walked({**changes, **with_glass(job, name)})
        if not does(outcome):
            left = said(name, outcome)
            break
        least = name
    return [Least("glass", least, left, with_glass(job, least) if least != has or paths else {})]


def said(name: str, outcome: Outcome) -> str:
    """What a thickness leaves, worst first."""
    if outcome.refused:
        return f"{name}: refused"
    worst = outcome.exceeding[:2]
    told = "; ".join(f"{line.title} {line.rank:.2f}" if line.rank is not None else line.title for line in worst)
    return f"{name} leaves {len(outcome.exceeding)} exceeding: {told}"
