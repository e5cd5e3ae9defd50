"""A slice of the properties over random valid jobs, with a seed of its own: one job for each property."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from conftest import result_of

from barrier.result import Ending

sys.path.insert(0, str(Path(__file__).parent))

from semantics import PROPERTIES, required, same, tried, worse


def test_a_job_for_each_property() -> None:
    tally = tried(len(PROPERTIES), seed=20261128, names=("garden_deck", "australian_deck", "boards_only"))
    assert not tally.violations, tally.violations[0]
    assert set(tally.jobs) == set(PROPERTIES) and min(tally.compared.values()) > 30


def test_the_comparisons_can_fail() -> None:
    """What the properties rest on says so where a check is better under more load, or is not the same."""
    numbered = [c for c in required(result_of("boards_only")).values() if c.eta is not None]
    within = next(c for c in numbered if c.ending is Ending.WITHIN)
    exceeds = replace(next(c for c in numbered if c.ending is Ending.EXCEEDS), about=within.about)
    assert not worse(within, within) and not same(within, within) and not worse(within, exceeds)
    assert worse(exceeds, within) and same(exceeds, within)
