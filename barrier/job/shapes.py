"""Small things the tables of a job share: a length entry, the names of timbers, how a value reads in a sentence."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.job.entries import Quantity
from barrier.job.entries_in_tables import Names
from barrier.value import JobEntry, Value

Clash = Iterator[tuple[Value | JobEntry, str]]  # the entry to point at, and the sentence
DIRECTIONS = ("along", "across")
MEANINGS = ("ultimate", "characteristic", "allowable")
SAME = 1e-6  # mm; lengths closer than this are one length
STRENGTH_GROUPS = (*(f"S{i}" for i in range(1, 8)), *(f"SD{i}" for i in range(1, 9)))
JOINT_GROUPS = (*(f"J{i}" for i in range(1, 7)), *(f"JD{i}" for i in range(1, 7)))
TIMBER = Names(
    families=("en", "us", "au", "nz"),
    facts={"species": (), "strength_group": STRENGTH_GROUPS, "joint_group": JOINT_GROUPS, "seasoned": ("yes", "no")},
    unknown="read the stamp on the timber or ask the supplier for its grade",
)


def mm(low: float, high: float, default: str | None = None, reason: str = "", unknown: str = "", weight: int = 5) -> Quantity:
    """A length entry between two bounds in mm."""
    return Quantity(kind="length", low=low, high=high, default=default, reason=reason, unknown=unknown, weight=weight)


def size(value: Value) -> float:
    """The number of a value of the job, in base units."""
    return float(value.x)


def shown(value: Value) -> str:
    """How a value reads in a sentence: as written, or as assumed."""
    origin = value.origin
    if not isinstance(origin, JobEntry):
        return f"{size(value):g}"
    return f"{origin.text} (assumed)" if origin.is_assumed else origin.text
