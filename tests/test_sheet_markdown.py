"""The Markdown sheet: the numbers of the other sheets in their order, mathematics that LaTeX reads, any text literally."""

from __future__ import annotations

import itertools
import re
from functools import cache
from html import unescape

import pytest
from conftest import DIFFERENT, EXAMPLES, result_of, text_sheet
from hypothesis import given
from hypothesis import strategies as st
from sheets import BESIDE, HOSTILE, LITERAL, ladder_of, printed, with_hostile_words

from barrier import sheet
from barrier.job.read import job_from_text
from barrier.load_path import check
from barrier.sheet.blocks import Bullets, Content, Definitions, Drawing, Heading, Paragraph, Picture, Table
from barrier.sheet.content import content
from barrier.sheet.formats.markdown import opening, rendered, words
from barrier.sheet.numbers import MINUS, NBSP
from barrier.sheet.plain_words import printable

NAMES = [p.stem for p in DIFFERENT]
PUNCTUATION = "!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~"


@cache
def text_of(name: str) -> str:
    return sheet.markdown(result_of(name))


def read_back(markdown: str) -> str:
    """What CommonMark makes of a line of escaped text: a backslash before ASCII punctuation goes, entities are letters."""
    return unescape(re.sub(rf"\\([{re.escape(PUNCTUATION)}])", r"\1", markdown))


def in_order(text: str, numbers: list[str], name: str) -> None:
    """Each number stands in the text behind the one before it."""
    at = 0
    for i, number in enumerate(numbers):
        place = standing(text, number, at)
        assert place >= 0, f"{name}: number {i}, {number}, after ...{text[max(at - 80, 0) : at]}"
        at = place + 1


def standing(text: str, number: str, at: int = 0) -> int:
    """Where a number stands in a text as one of its own, no part of a longer one; -1 where it does not."""
    while (place := text.find(number, at)) >= 0:
        after = text[place + len(number) : place + len(number) + 2]
        whole = not after[:1].isdigit() and not (after[:1] == "." and after[1:].isdigit())
        if whole and (place == 0 or not (text[place - 1].isdigit() or text[place - 1] == ".")):
            return place
        at = place + 1
    return -1


def plain_numbers(text: str) -> str:
    """A sheet with thousands joined by plain spaces and one kind of minus, whatever its renderer writes."""
    return re.sub(r"\s+", " ", text.replace("\\,", " ").replace(NBSP, " ").replace(MINUS, "-"))


@pytest.mark.parametrize("name", NAMES)
def test_all_sheets_say_the_same_numbers_in_the_same_order(name: str) -> None:
    """Text, Markdown and HTML against one walk over the tokens of the content that knows none of them.

    Text and Markdown write the numbers of a step in the order of its equation; a symbol that stands in it twice is printed
    twice, the walk names it once, so what is asked is order and not count.
    """
    numbers = [plain_numbers(n) for n in printed(content(result_of(name)))]
    assert len(numbers) > 300
    written = plain_numbers(text_of(name))
    assert not [n for n in set(numbers) if standing(written, n) < 0]
    in_order(written, numbers, "Markdown")
    page = re.sub(r"<style>.*?</style>|<[^>]*>", " ", sheet.html(result_of(name)), flags=re.S)
    in_order(plain_numbers(unescape(page)), numbers, "HTML")


@pytest.mark.parametrize("name", NAMES)
def test_the_text_sheet_has_them_all(name: str) -> None:
    text = plain_numbers(text_sheet(name))
    for number in {plain_numbers(n) for n in printed(content(result_of(name)))}:
        assert standing(text, number) >= 0, number


@pytest.mark.parametrize("name", NAMES)
def test_mathematics_is_closed_and_tables_are_even(name: str) -> None:
    lines = text_of(name).split("\n")
    assert lines.count("$$") % 2 == 0
    inside, width = False, 0
    for line in lines:
        if line == "$$":
            inside = not inside
        elif inside:
            bare = re.sub(r"\\[{}]", "", line)
            assert bare.count("{") == bare.count("}"), line
            assert line.count("\\left") == line.count("\\right"), line
        else:
            assert len(re.findall(r"(?<!\\)\$", line)) % 2 == 0, line
        columns = len(re.findall(r"(?<!\\)\|", line)) if line.startswith("|") else 0
        assert not width or not columns or columns == width, line
        width = columns
    assert text_of(name).endswith("\n") and text_of(name) == sheet.markdown(result_of(name))


@pytest.mark.parametrize("name", NAMES)
def test_headings_and_words_are_those_of_the_text_sheet(name: str) -> None:
    headings = [len(line) - len(line.lstrip("#")) for line in text_of(name).split("\n") if line.startswith("#")]
    assert headings[0] == 1 and headings.count(1) == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(headings))
    prose = set(re.findall(r"[A-Za-z]{5,}", text_sheet(name).casefold()))
    assert not prose - set(re.findall(r"[A-Za-z]{5,}", text_of(name).casefold()))


def test_hostile_words_come_out_literally() -> None:
    path = next(p for p in EXAMPLES if p.stem == "garden_deck")
    text = sheet.markdown(check(job_from_text(with_hostile_words(path.read_text(encoding="utf-8")), str(path))))
    first = text.split("\n")[0]
    assert first.startswith("# ") and read_back(first[2:]) == printable(HOSTILE)
    assert all(word in text for word in LITERAL) and "<script" not in text and "</" not in text
    assert printable(BESIDE) in read_back(text)
    for opened in ("[li](", "http:", "![p", "`code`", "[ ]", "**bold", "www.a", "$x_1$", " # head"):  # each but as escaped letters
        assert opened not in text, opened


@given(st.text(alphabet=st.sampled_from(PUNCTUATION + " aZ1.😀ש\n"), max_size=40))
def test_any_text_reads_back_as_itself_and_opens_nothing(text: str) -> None:
    escaped = opening(words(text))
    assert read_back(escaped) == printable(text)
    bare = re.sub(rf"\\[{re.escape(PUNCTUATION)}]", "", escaped)
    assert not set(bare) & set("\\`*_[]#|~$<>"), escaped
    assert not re.match(r"\s*([-+=]|\d+[.)])", escaped), escaped


def test_blocks_with_hostile_words_stay_what_they_are() -> None:
    made = Content(
        (
            Heading(1, (HOSTILE,)), Paragraph(("- not a list",)), Paragraph(("1. not one either",)), Paragraph(("# no heading",)),
            Bullets((("+ no list in a list",),)), Definitions((("a|b*", ("c|d",)),)),
            Table(("a|b", "c"), ((("x|y",), ("z",)),), "ll"),
            Drawing("name", ("a caption",), lambda: Picture("<svg/>", "words | of $a$ picture")),
        ),
        "metric",
    )  # fmt: skip
    lines = [line for line in rendered(made, "title").split("\n") if line]
    assert lines[2:6] == ["\\- not a list", "1\\. not one either", "\\# no heading", "* \\+ no list in a list"]
    assert lines[6] == "* **a\\|b\\*:** c\\|d"
    assert [len(re.findall(r"(?<!\\)\|", line)) for line in lines[7:10]] == [3, 3, 3]
    assert lines[10] == "*Picture: a caption* words \\| of \\$a\\$ picture"


def test_the_ladder_is_there_in_markdown_too() -> None:
    text = sheet.ladder_markdown(ladder_of("everyday_deck"))
    assert "## The ladder" in text and "| decking only |" in text and "**CAUTION**" in text
