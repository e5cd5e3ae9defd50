"""Equations in two dimensions as text: how they look, and that every block is a rectangle read back to the same formula."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from test_pencil import Reckoner, expressions
from two_dimensions import one_line

from barrier.equation import parse
from barrier.sheet.formats.text import equals
from barrier.sheet.plain_words import width
from barrier.sheet.typeset.layout import symbols
from barrier.sheet.typeset.one_line import symbolic
from barrier.sheet.typeset.stacked import Stack, stacked
from barrier.sheet.typeset.steps import Typeset


def drawn(text: str) -> list[str]:
    return [line.rstrip() for line in stacked(symbols(parse(text))).lines]


def test_a_fraction_over_its_bar() -> None:
    assert drawn("P*(L - a)/L") == [
        "P · (L − a)",
        "───────────",
        "     L",
    ]


def test_a_fraction_of_fractions_has_the_longer_bar() -> None:
    assert drawn("(a/b)/c") == [
        " a",
        " ─",
        " b",
        "───",
        " c",
    ]


def test_squares_and_cubes_are_raised_and_other_powers_are_said() -> None:
    assert drawn("b*t**2 + t**3 + t**0.75") == ["b · t² + t³ + t^0.75"]


def test_a_tall_bracket_holds_its_fraction_and_carries_the_exponent() -> None:
    assert drawn("(d/l_1)**0.2") == [
        "⎛ d ⎞0.2",
        "⎜───⎟",
        "⎝l_1⎠",
    ]


def test_a_root_of_a_fraction_stands_before_a_tall_bracket() -> None:
    assert drawn("sqrt(a/b)") == [
        " ⎛a⎞",
        "√⎜─⎟",
        " ⎝b⎠",
    ]
    assert drawn("sqrt(a + b)") == ["√(a + b)"]


def test_bars_around_bars_are_named() -> None:
    assert drawn("abs(a - abs(b))") == ["abs(a − |b|)"]


@settings(max_examples=200, deadline=None)
@given(expressions(3))
def test_every_block_is_a_rectangle_and_says_what_one_line_says(text: str) -> None:
    """With figures in place of names both ways of writing come to the same number."""
    stack = stacked(symbols(parse(text)))
    assert len({width(line) for line in stack.lines}) == 1 and 0 <= stack.base < len(stack.lines)
    figures = {"c_x,d": "3.7", "b_1": "2.3", "γ_M": "1.3", "a": "1.9"}

    def worth(line: str) -> float | None:
        for name, figure in figures.items():
            line = "".join(figure if part == name else part for part in split(line, name))
        try:
            x = Reckoner(line).value
        except (ValueError, ZeroDivisionError, OverflowError, TypeError):
            return None  # a root of what is negative, and the like: the same for both
        return x

    flat, tall = worth(symbolic(parse(text))), worth(one_line(list(stack.lines), stack.base))
    assert (flat is None) == (tall is None)
    if flat is not None and tall is not None:
        assert tall == pytest.approx(flat, rel=1e-12)


def split(line: str, name: str) -> list[str]:
    """A line in parts, every whole ``name`` one of them."""
    return re.split(rf"((?<!\w)(?<!\w,){re.escape(name)}(?!\w|,\w))", line)


def test_equals_signs_stand_in_one_column_where_a_line_is_too_long() -> None:
    long = " + ".join(["a_long_name*b_long_name/c"] * 3)
    box = symbols(parse(long))
    lines = list(equals("F_Ed", (Typeset(box, "said"), Typeset(box, "said")), 90))
    columns = [line.index("= ") for line in lines if "= " in line]
    assert len(columns) == 2 and len(set(columns)) == 1
    assert "" in lines  # two tall lines do not run into one another
    assert all(width(line) <= 90 for line in lines)


def test_what_is_too_wide_for_any_line_is_written_in_one_dimension() -> None:
    box = symbols(parse(" + ".join(["a_long_name/b_long_name"] * 9)))
    lines = list(equals("F", (Typeset(box, " + ".join(["a / b"] * 9)),), 40))
    assert all(width(line) <= 40 for line in lines) and "─" not in "".join(lines)


def test_a_stack_knows_whether_anything_stands_above_it() -> None:
    assert Stack(("a",)).is_flat and not Stack(("a",)).is_tall and stacked(symbols(parse("a/b"))).is_tall
