"""What the tests share: the bundled jobs, read and walked once, and the switch that rewrites golden sheets."""

from __future__ import annotations

import gc
from functools import cache
from pathlib import Path

import pytest

from barrier.job import Job, read_job
from barrier.load_path import Result, check

ROOT = Path(__file__).resolve().parents[1]
gc.set_threshold(5_000, 20, 20)  # looking for rubbish a little less often: a result has a few thousand parts and lives long

EXAMPLES = sorted((ROOT / "worked_examples").glob("*.toml"))
# Laminated glass takes the longest to solve: a test that walks a job dozens of times takes one of these where another will do.
SISTERS = {
    "three_bases": "garden_deck",
    "us_laminated": "us_deck",
    "nz_laminated": "nz_deck",
    "three_clamps_laminated": "garden_deck",
    "au_laminated": "au_deck",
}
# What slow tests of pages and pictures look at: the others differ from these in their codes only.
ALIKE = ("three_bases", "au_deck", "nz_deck", "nz_laminated", "us_laminated", "au_laminated")
DIFFERENT = [p for p in EXAMPLES if p.stem not in ALIKE]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="rewrite the golden sheets instead of comparing")


@cache
def job_named(name: str) -> Job:
    """A bundled job by the stem of its file."""
    return read_job(ROOT / "worked_examples" / f"{name}.toml")


@cache
def result_of(name: str) -> Result:
    """A bundled job walked."""
    return check(job_named(name))


@pytest.fixture
def everyday() -> Result:
    return result_of("everyday_deck")


@pytest.fixture
def garden() -> Result:
    return result_of("garden_deck")
