"""A slice of the spoilt jobs, with a seed of its own: refused in our words or walked to a verdict, and nothing else."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from fuzz import fuzz

JOBS = 90


def test_ninety_spoilt_jobs() -> None:
    tally = fuzz(JOBS, seed=20261128)
    assert not tally.failures, tally.failures[0]
    assert sum(tally.endings.values()) == JOBS
    assert min(tally.endings[e] for e in ("refused", "exceeds", "within")) > 2  # the slice reaches every ending
