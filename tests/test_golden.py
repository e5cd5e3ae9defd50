"""Golden sheets: one whole sheet a basis as text and data, the smallest in every format; a change shows as a difference one reads.

Everything else about sheets is held by properties, over every bundled job.

``pytest --update-golden`` rewrites them.
"""

from __future__ import annotations

import difflib
import re
from functools import cache
from pathlib import Path

import pytest
from conftest import EXAMPLES, ROOT

from barrier import sheet
from barrier.job import read_job
from barrier.job.run_file import read_run
from barrier.load_path import Result, check
from barrier.sheet.blocks import Drawing
from barrier.sheet.runs.content import run_content
from barrier.study import faults, ladder
from barrier.whole_run import lay_out, unchecked

GOLDEN = Path(__file__).parent / "golden"
JOBS = {p.stem: p for p in [*EXAMPLES, ROOT / "tests" / "data" / "us_lag_deck.toml"]}
ONE_A_BASIS = ("garden_deck", "us_deck", "australian_deck", "nz_laminated")
SMALLEST, IN_THE_README = "boards_only", "everyday_deck"


def html_without_its_style(result: Result) -> str:
    """The page without style sheet and font, which are files of their own."""
    return re.sub(r"<style>.*?</style>", "<style>page.css</style>", sheet.html(result), flags=re.S)


PAGES = {
    "text": ("txt", sheet.text), "json": ("json", sheet.json_text), "markdown": ("md", sheet.markdown),
    "html": ("html", html_without_its_style),
}  # fmt: skip


@cache
def walked(name: str) -> Result:
    return check(read_job(JOBS[name]))


def compare(path: Path, now: str, update: bool) -> None:
    if update:
        path.write_text(now, encoding="utf-8", newline="\n")
    before = path.read_text(encoding="utf-8") if path.exists() else ""
    difference = list(difflib.unified_diff(before.splitlines(), now.splitlines(), "golden", "now", lineterm="", n=1))
    assert before == now, "\n".join(difference[:80])


@pytest.mark.parametrize(
    ("name", "page"),
    [*((n, p) for n in ONE_A_BASIS for p in ("text", "json")), *((SMALLEST, p) for p in PAGES), (IN_THE_README, "text")],
)
def test_sheet(name: str, page: str, request: pytest.FixtureRequest) -> None:
    ending, written = PAGES[page]
    compare(GOLDEN / f"{name}.{ending}", written(walked(name)), request.config.getoption("--update-golden"))


@pytest.mark.parametrize("name", ["everyday_deck"])
def test_study_pages(name: str, request: pytest.FixtureRequest) -> None:
    update, job = request.config.getoption("--update-golden"), read_job(JOBS[name])
    compare(GOLDEN / f"{name}.ladder.txt", sheet.ladder_text(ladder(job)), update)
    compare(GOLDEN / f"{name}.faults.txt", sheet.faults_text(faults(job)), update)


def after_the_caution(text: str) -> list[str]:
    """Lines below the box at the top, whose own words (common practice often EXCEEDS) would answer any search."""
    return text.split("\nWHAT TO DO NEXT\n", 1)[1].splitlines()


def test_nobody_could_take_the_boards_for_an_approval() -> None:
    """Said within thirty lines of the top; and no check of screws, boards or what is below them is within.

    Spacing of the screws alone may be: it compares sizes and no forces.
    """
    text = sheet.text(walked("boards_only"))
    lines = text.splitlines()
    assert "CAUTION" in lines[1]
    top = after_the_caution("\n".join(lines[:30]))
    assert any("EXCEEDS" in line or "NOT CHECKED" in line for line in top), top
    assert any(re.search(r"do not .*build", line.casefold()) for line in after_the_caution(text)[:30])
    for c in walked("boards_only").sound.checks:
        if c.id.startswith(("base_plate", "screws", "bearing", "blocking", "movement")) and "screws.a" not in c.id:
            assert str(c.ending) != "within", c.id
    below = text[text.index("\n5  Screws\n") : text.index("\n8  ")].splitlines()
    assert [line for line in below if line.endswith("EXCEEDS") or line.endswith("NOT CHECKED")]
    within = [line for line in below if line.endswith("within")]
    assert all("spacing of the screws" in line for line in within), within


@pytest.mark.parametrize("changes", [{"wind": None}, {"national": None}, {"mounts.M1.rating": None}])
def test_what_is_not_wholly_checked_says_so_up_front(changes: dict[str, object]) -> None:
    """A utilisation that is within stands on the front; that something required was NOT CHECKED stands there as loud."""
    result = check(read_job(JOBS["garden_deck"]).with_(changes))
    assert str(result.ending) == "not checked"
    front = after_the_caution(sheet.text(result))[:20]
    assert any("NOT CHECKED" in line for line in front), "\n".join(front)


def test_paper_of_a_run(request: pytest.FixtureRequest) -> None:
    """The set-out of the corner deck as text, and its pictures as they are drawn for a screen and to scale; nothing is walked."""
    update = request.config.getoption("--update-golden")
    run = unchecked(lay_out(read_run(ROOT / "worked_examples" / "runs" / "corner_deck.toml")))
    compare(GOLDEN / "corner_deck.run.txt", sheet.run_text(run), update)
    to_scale = [b for b in run_content(run, "a3").blocks if isinstance(b, Drawing) and b.name.startswith("sheet-")]
    pictures = [*(b for b in run_content(run).blocks if isinstance(b, Drawing)), *to_scale]
    compare(GOLDEN / "corner_deck.plan.txt", "".join(f"{d.name}\n{d.draw().svg}" for d in pictures), update)
