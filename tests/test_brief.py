"""The two pages for the engineer: what was tried before he was asked, what comes to the joists, what nobody measured."""

from __future__ import annotations

import re
from functools import cache

import pytest
from conftest import job_named, result_of, text_sheet

from barrier import sheet
from barrier.links.blocking.force_table import ForceTable
from barrier.load_path import check
from barrier.sheet.blocks import Drawing, Table
from barrier.sheet.drawings import reactions
from barrier.sheet.numbers import NOT_MEASURED
from barrier.sheet.studies.brief import TRIED, brief_content
from barrier.ways import moves
from barrier.ways.brief import Brief, brief


@cache
def tried() -> Brief:
    """The everyday deck with changes of its glass and of the ends of its blocking tried."""
    kept = moves.MAKERS
    moves.MAKERS = (moves._glass, moves._ends)
    try:
        return brief(job_named("everyday_deck"))
    finally:
        moves.MAKERS = kept


def test_ways_tried_are_those_that_leave_least_and_checking_them_says_the_same() -> None:
    found = tried()
    assert len(found.tried) == 4 and [t.left for t in found.tried] == sorted(t.left for t in found.tried)
    text = " ".join(sheet.brief_text(found).split())
    assert "4 single changes" in text and "None leaves nothing exceeding" in text
    for t in found.tried[:TRIED]:
        assert t.names[0] in text
    again = check(found.result.job.with_(found.tried[0].moves[0].changes)).sound
    over = [c for c in again.checks if c.standing == "required" and c.ending == "exceeds"]
    assert len(over) == len(found.tried[0].outcome.exceeding) == 15
    assert re.search(rf"brackets\W+{len(over)}\W", text)


def test_where_none_was_tried_it_says_so_and_where_nothing_exceeds_too() -> None:
    assert "No change was tried for this page" in " ".join(sheet.brief_text(result_of("everyday_deck")).split())
    within = brief(job_named("garden_deck"))
    assert not within.tried and "no required check exceeds as described" in " ".join(sheet.brief_text(within).split())


def _table(name: str) -> ForceTable:
    return result_of(name).handed_on.tables[0]


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck", "us_deck"])
def test_the_sketch_shows_the_figures_of_the_force_table(name: str) -> None:
    """Every piece of one end, from the people side on; up where the table has a minus, and outward lifts the people side."""
    table = _table(name)
    (drawing,) = reactions.drawings(result_of(name), table)
    picture = drawing.draw()
    pieces = sorted(table.mount.model.pieces, key=lambda p: p.outline[:, 1].mean())
    drawn = re.findall(r'data-what="(?!joist)([^"]*)"', picture.svg)
    assert drawn == [p.name for p in pieces]
    down = {r.at[:2]: r.values[0] for r in table.rows if r.at[2:] == ("down",)}
    side = "left" if "the left end" in picture.alt else "right"
    at_side = [down[p.name, side] for p in pieces] if down else []
    ways = [re.search(r"(up|down)<", line).group(1) for line in picture.svg.splitlines() if re.search(r" (up|down)<", line)]
    assert ways == ["up" if v.at(0) < 0 else "down" for v in at_side if v is not None and abs(v.at(0)) > 0.5]
    if len(at_side) > 1:
        assert at_side[0].at(0) < 0 < at_side[-1].at(0)  # by hand: an outward push lifts the people side, presses the drop side


def test_what_the_file_assumes_is_told_from_what_the_tool_assumes_and_is_dashed_in_the_drawing() -> None:
    """The one width of the panel is a stand-in: marked in the words and in the drawing, where its dimension is dashed."""
    text = job_named("garden_deck").text.decode()
    width = re.search(r'^width = "(\d+ mm)"', text, re.MULTILINE)
    assert width is not None
    stand_in = f'width = {{ value = "{width.group(1)}", assumed = "by eye" }}'
    from barrier.job.read import job_from_text

    result = check(job_from_text(text.replace(width.group(0), stand_in, 1)))
    words = " ".join(sheet.brief_text(result).split())
    own, _, usual = words.partition("By this tool, where the job file says nothing")
    assert "in place of a measurement" in own and "panel P3: width" in own.partition("in place of a measurement")[2] and usual
    pictures = [b.draw().svg for b in brief_content(result).blocks if isinstance(b, Drawing)]
    marked = f">{NOT_MEASURED}{width.group(1).removesuffix(' mm')}"
    assert any(marked in svg and "stroke-dasharray" in svg for svg in pictures)
    plain = [b.draw().svg for b in brief_content(result_of("garden_deck")).blocks if isinstance(b, Drawing)]
    assert not any(NOT_MEASURED in svg for svg in plain)


@pytest.mark.parametrize("name", ["everyday_deck", "us_deck"])
def test_every_step_it_names_stands_in_the_full_sheet(name: str) -> None:
    """Reading the full sheet by the number the two pages give finds what was compared, and its figure."""
    table = next(b for b in brief_content(result_of(name)).blocks if isinstance(b, Table) and b.head[-1] == "step")
    labels = [str(row[-1][0]) for row in table.rows if row[-1][0]]
    full = text_sheet(name)
    assert len(labels) >= 5 and len(set(labels)) == len(labels)
    for label in labels:
        assert re.search(rf"^\s*{re.escape(label)}", full, re.MULTILINE), label
