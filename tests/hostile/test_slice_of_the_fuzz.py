"""A slice of the spoilt jobs, with a seed of its own: refused in our words or walked to a verdict, and nothing else."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from fuzz import fuzz


def test_three_hundred_spoilt_jobs() -> None:
    tally = fuzz(300, seed=20261128)
    assert not tally.failures, tally.failures[0]
    assert sum(tally.endings.values()) == 300
    assert min(tally.endings[e] for e in ("refused", "exceeds", "within")) > 5  # the slice reaches every ending
