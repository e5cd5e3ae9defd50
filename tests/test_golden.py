"""Golden sheets: the whole sheet of every bundled job as a plain file; a change shows as a difference one can read.

``pytest --update-golden`` rewrites them.
"""

from __future__ import annotations

import difflib
from functools import cache
from pathlib import Path

import pytest
from conftest import EXAMPLES, ROOT

from barrier import sheet
from barrier.job import read_job
from barrier.load_path import Result, check
from barrier.study import faults, ladder

GOLDEN = Path(__file__).parent / "golden"
JOBS = {p.stem: p for p in [*EXAMPLES, ROOT / "tests" / "data" / "us_lag_deck.toml"]}
PAGES = {"text": ("txt", sheet.text), "json": ("json", sheet.json_text)}


@cache
def walked(name: str) -> Result:
    return check(read_job(JOBS[name]))


def compare(path: Path, now: str, update: bool) -> None:
    if update:
        path.write_text(now, encoding="utf-8", newline="\n")
    before = path.read_text(encoding="utf-8") if path.exists() else ""
    difference = list(difflib.unified_diff(before.splitlines(), now.splitlines(), "golden", "now", lineterm="", n=1))
    assert before == now, "\n".join(difference[:80])


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("name", JOBS)
def test_sheet(name: str, page: str, request: pytest.FixtureRequest) -> None:
    ending, written = PAGES[page]
    compare(GOLDEN / f"{name}.{ending}", written(walked(name)), request.config.getoption("--update-golden"))


@pytest.mark.parametrize("name", ["everyday_deck"])
def test_study_pages(name: str, request: pytest.FixtureRequest) -> None:
    update, job = request.config.getoption("--update-golden"), read_job(JOBS[name])
    compare(GOLDEN / f"{name}.ladder.txt", sheet.ladder_text(ladder(job)), update)
    compare(GOLDEN / f"{name}.faults.txt", sheet.faults_text(faults(job)), update)


def test_nobody_could_take_the_boards_for_an_approval() -> None:
    text = sheet.text(walked("boards_only"))
    assert "EXCEEDS" in "\n".join(text.splitlines()[:32]) and "CAUTION" in text.splitlines()[1]
    for c in walked("boards_only").sound.checks:
        if c.id.startswith(("screws.withdrawal", "screws.sideways", "base_plate", "bearing", "blocking", "movement")):
            assert str(c.ending) != "within", c.id
