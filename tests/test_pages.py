"""A page is one row: what makes it, its content, its command, its words, how it is verified; a page that was forgotten is named."""

from __future__ import annotations

from dataclasses import replace
from importlib import import_module
from pathlib import Path

import pytest
from conftest import EXAMPLES, ROOT, result_of
from paper import words_of_pages
from test_brief import tried

from barrier import sheet
from barrier.cli import main
from barrier.result import Ending
from barrier.sheet import pages
from barrier.sheet.content.calculation import calculate
from barrier.sheet.source import KINDS
from barrier.ways.brief import Brief
from barrier.ways.moves import moves_of
from barrier.ways.runner import tables_of


def test_every_content_is_on_a_row() -> None:
    """A module of the studies that makes content and has no row is a page nobody can ask for."""
    known = {p.content for p in pages.PAGES}
    for path in sorted((ROOT / "barrier" / "sheet" / "studies").glob("*.py")):
        module = import_module(f"barrier.sheet.studies.{path.stem}") if path.stem != "__init__" else None
        for name in dir(module):
            if name.endswith("_content") and getattr(module, name).__module__ == module.__name__:
                assert f"{module.__name__}:{name}" in known, f"{path.name} makes {name}; give it a row in barrier/sheet/pages.py"


@pytest.mark.parametrize("page", pages.PAGES, ids=lambda p: p.name)
def test_a_row_is_whole(page: pages.Page) -> None:
    """Its maker and content are there, its command is one, the README names it, and its verification is said."""
    assert callable(pages.named(page.maker)) and callable(pages.named(page.content))
    assert page.command.split()[0] in main.commands
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"barrier {page.command.split()[0]} " in readme and (" --" not in page.command or page.command.split()[1] in readme)
    assert (page.verified == pages.AGAIN) is (page.name in KINDS)
    assert page.words and "{title}" in page.title


def test_no_two_pages_open_alike() -> None:
    openings = [p.opening for p in pages.PAGES if p.opening]
    assert len(openings) == len(set(openings))


def test_a_writer_that_is_not_there_is_no_page() -> None:
    with pytest.raises(AttributeError):
        _ = sheet.leader_text
    with pytest.raises(KeyError, match="there are check"):
        pages.page_of("leader")


# ---------------------------------------------------------------- the two pages for the engineer


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_the_pages_for_the_engineer_are_two(path: Path) -> None:
    result = result_of(path.stem)
    told = tried()  # with the longest change there is: none of this job takes more room
    longest = max((m.name for m in moves_of(result.job, tables_of(result.job))), key=len, default="")
    long = tuple(replace(t, moves=(replace(t.moves[0], name=longest),)) for t in told.tried)
    subject = Brief(result, told.base, long) if result.sound.ending is Ending.EXCEEDS else result
    paper = words_of_pages(bytes(sheet.brief_pdf(subject)))
    assert len(paper) == 2
    last = paper[1]
    assert "Date, signature" in last and "Never checked" in last


def test_its_steps_are_those_of_the_full_sheet(everyday) -> None:
    """The number beside a link is where the full calculation has it."""
    content = pages.named(pages.page_of("brief").content)(everyday)
    table = next(b for b in content.blocks if getattr(b, "head", ())[-1:] == ("step",))
    ledger = calculate(everyday).ledger
    full = sheet.text(everyday)
    for row in table.rows:
        check = next(c for c in everyday.sound.checks if c.title == row[1][0])
        if row[-1][0] and check.utilisation is not None:
            label = ledger.find(check.utilisation, check.station).label
            assert row[-1][0] == f"[{label}]" and f"[{label}]" in full


def test_it_says_how_it_ends_what_was_assumed_and_what_was_not_checked(everyday) -> None:
    for text in (sheet.brief_text(everyday), sheet.brief_markdown(everyday), sheet.brief_html(everyday)):
        words = " ".join(text.split())
        for said in ("37 of 78 required checks", "Assumed, not measured", "wind on the glass", "Handed on to the joists"):
            assert said in words
