"""Numbers read off the job's geometry: counts and distances that are no entry and no equation."""

from __future__ import annotations

from barrier.value import Numerical, Value


def counted(path: str, number: int, what: str) -> Value:
    """A number of things, counted."""
    return Value(float(number), "count", Numerical(f"{what} ({path})", "counted", "geometry of the job"))


def measured(path: str, x: float, what: str) -> Value:
    """A distance in mm read off the geometry."""
    return Value(float(x), "length", Numerical(f"{what} ({path})", "read off the geometry", "geometry of the job"))


def nothing(kind: str) -> Value:
    """The resistance of what is not there."""
    return Value(0.0, kind, Numerical("the job says that nothing is fixed there", "nothing is credited", "the job"), "R_d")
