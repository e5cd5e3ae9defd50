"""A slice of what comes in by the other doors, with a seed of its own: see ``doors.py``."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from doors import through

# Door, how many, and the endings the slice has to reach so that it looks at something.
SLICES = (
    ("overlay", 20, {"refused", "within", "exceeds", "not checked"}),
    ("sheet", 8, {"refused", "differs"}),
    ("answers", 60, {"refused", "read"}),
    ("run", 30, {"refused", "set out"}),
)


@pytest.mark.parametrize(("door", "number", "endings"), SLICES)
def test_what_is_spoilt_is_refused_or_answered_and_never_certified(door: str, number: int, endings: set[str]) -> None:
    tally = through(door, number, seed=20261128)
    assert not tally.failures, tally.failures[0]
    assert sum(tally.endings.values()) == number
    assert endings <= set(tally.endings)
