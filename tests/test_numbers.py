"""Numbers on the sheet: digits, signs, units; names of symbols; brackets."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrier.equation import parse
from barrier.result import About, Check, Ending, Standing
from barrier.sheet.numbers import (
    MINUS,
    NBSP,
    base_unit,
    digits_text,
    ending_text,
    figure,
    seven,
    unit_text,
    utilisation_text,
    worth,
)  # fmt: skip
from barrier.sheet.plain_words import printable, width, wrapped
from barrier.sheet.typeset.one_line import condition, number_piece, numeric, shown_name, symbolic
from barrier.units import KINDS, UNITS
from barrier.value import JobEntry, Value

HALF = 0.5000001  # of the last printed digit, and a binary rounding
EIGHTH = 5.1e-8  # of a number: half of its eighth digit at most; what follows is another on another machine
NOISE = 1e-9  # of a number: what the plate's equilibrium is right to
NUMBERS = st.floats(-1e12, 1e12, allow_nan=False).filter(lambda x: x == 0 or abs(x) > 1e-9)


@given(NUMBERS, st.integers(2, 7))
def test_a_printed_number_is_plain_and_right_to_its_last_digit(x: float, digits: int) -> None:
    text = digits_text(x, digits)
    assert re.fullmatch(rf"{MINUS}?\d{{1,3}}(?:{NBSP}\d{{3}})*(?:\.\d+)?|{MINUS}?\d{{4}}(?:\.\d+)?", text)
    last = 10.0 ** (math.floor(math.log10(abs(x))) - digits + 1) if x else 1.0
    assert abs(worth(text) - x) <= HALF * last + EIGHTH * abs(x)


@given(st.integers(1_000, 9_999), st.integers(-3, 6), st.floats(-NOISE, NOISE), st.sampled_from([1, -1]))
def test_a_half_is_rounded_away_from_nought_whatever_a_machine_makes_of_its_last_digits(
    whole: int, scale: int, noise: float, sign: int
) -> None:
    """0.6105 comes out of the plate as 0.6105000000023 here and may be 0.6104999999977 elsewhere: both are 0.611 kN m."""
    half = sign * (whole + 0.5) * 10.0**scale
    assert abs(worth(digits_text(half * (1 + noise), 4))) == pytest.approx((whole + 1) * 10.0**scale, rel=1e-12)
    text = utilisation_text(Check(About("a"), "a", Ending.WITHIN, Standing.REQUIRED, utilisation=Value(
        0.565 * (1 + noise), "ratio", JobEntry("x", "x"))))  # fmt: skip
    assert text == utilisation_text(Check(About("a"), "a", Ending.WITHIN, Standing.REQUIRED, utilisation=Value(
        0.565, "ratio", JobEntry("x", "x"))))  # fmt: skip


@given(NUMBERS)
def test_no_minus_nought(x: float) -> None:
    for digits in (2, 4):
        text = digits_text(x, digits)
        assert text.startswith(MINUS) == (worth(text) < 0)
    assert str(seven(-0.0)) == "0.0" and digits_text(-0.0, 4) == "0"


@pytest.mark.parametrize(
    "x,kind,style,digits,text",
    [
        (11_900.4, "force", "metric", 4, "11.90 kN"),
        (99.97, "force", "metric", 3, "100 N"),
        (54.3, "force", "metric", 2, "54 N"),
        (0.0, "force", "metric", 3, "0 kN"),
        (1000.0, "force", "us", 4, "224.8 lbf"),
        (70_000.0, "stress", "metric", 4, "70 000 MPa"),
        (12.0, "length", "us", 4, "0.4724 in"),
        (1.1e6, "moment", "metric", 3, "1.1 kN m"),
        (19_830.0, "moment", "metric", 4, "19.83 N m"),
        (0.00045, "pressure", "metric", 3, "0.45 kN/m²"),
        (0.0000123456, "angle", "metric", 4, "0.00001235 rad"),
        (-48.0, "length", "metric", 4, "−48 mm"),
        (350.0, "density", "metric", 4, "350 kg/m³"),
    ],
)
def test_units_of_kind_and_style(x: float, kind: str, style: str, digits: int, text: str) -> None:
    f = figure(x, kind, style, digits)
    assert f.text.replace(NBSP, " ") == text
    assert f.x == pytest.approx(x, rel=0.5 * 10.0 ** (1 - digits) * 1.001)


def test_what_was_written_is_printed_as_written_and_what_was_computed_is_rounded() -> None:
    assert figure(11.7625, "length", "metric", 4, exact=True).number == "11.7625"
    assert figure(11.7625, "length", "metric", 4).number == "11.76"
    assert figure(2 / 3, "ratio", "metric", 4, exact=True).number == "0.6667"


def test_every_kind_has_a_unit_to_print_and_a_base_unit() -> None:
    for kind in KINDS:
        assert UNITS[base_unit(kind)].factor == 1.0
        for style in ("metric", "us"):
            assert figure(1234.5, kind, style, 4).number
    assert not any(c in unit_text(u) for u in UNITS for c in "234")


def check(eta: float | None, ending: Ending) -> Check:
    value = None if eta is None else Value(eta, "ratio", JobEntry("x", "x"))
    return Check(About("a"), "a", ending, Standing.REQUIRED, utilisation=value)


@pytest.mark.parametrize(
    "eta,ending,text",
    [
        (0.374, Ending.WITHIN, "0.37"), (1.0, Ending.WITHIN, "1.00"), (0.9999, Ending.WITHIN, "1.00"),
        (1.0004, Ending.EXCEEDS, ">1.00"), (1.006, Ending.EXCEEDS, "1.01"), (9.99, Ending.EXCEEDS, "9.99"),
        (16.93, Ending.EXCEEDS, "16.9"), (250.0, Ending.EXCEEDS, "250"), (4e6, Ending.EXCEEDS, ">999"),
        (None, Ending.EXCEEDS, "lets go"), (None, Ending.NOT_CHECKED, "?"),
    ],
)  # fmt: skip
def test_utilisations(eta: float | None, ending: Ending, text: str) -> None:
    assert utilisation_text(check(eta, ending)) == text


def test_endings_are_three_words() -> None:
    assert [ending_text(e) for e in Ending] == ["within", "EXCEEDS", "NOT CHECKED"]


# ---------------------------------------------------------------- names and brackets


@pytest.mark.parametrize(
    "name,shown",
    [
        ("F_ax_Rd", "F_ax,Rd"), ("gamma_M", "γ_M"), ("k_c_90", "k_c,90"), ("sigma_c_90_d", "σ_c,90,d"), ("rho", "ρ"),
        ("lambda_rel", "λ_rel"), ("tau", "τ"), ("phi", "φ"), ("delta", "δ"), ("theta_max", "θ_max"), ("alpha", "α"),
        ("beta_c", "β_c"), ("nu", "ν"), ("eta_ax", "η_ax"), ("M", "M"), ("etas", "etas"),
    ],
)  # fmt: skip
def test_names(name: str, shown: str) -> None:
    assert shown_name(name) == shown


@pytest.mark.parametrize(
    "text,shown",
    [
        ("a*b/c", "a · b / c"), ("a/(b*c)", "a / (b · c)"), ("a/b/c", "a / b / c"), ("a/(b/c)", "a / (b / c)"),
        ("a - (b - c)", "a − (b − c)"), ("a - b - c", "a − b − c"), ("(a + b)*c", "(a + b) · c"), ("a**b**c", "a^(b^c)"),
        ("(a**b)**c", "(a^b)^c"), ("-a**2", "−a^2"), ("(-a)**2", "(−a)^2"), ("a*-b", "a · (−b)"), ("d**-0.5", "d^−0.5"),
        ("a**(b + 1)", "a^(b + 1)"), ("sqrt(a + b)*2", "√(a + b) · 2"), ("min(a, b + c)", "min(a, b + c)"),
        ("abs(a - b)", "|a − b|"), ("abs(a - abs(b))", "abs(a − |b|)"), ("2*pi*r", "2 · π · r"), ("a*(b*c)", "a · (b · c)"),
        ("-(a + b)", "−(a + b)"), ("2/3*K", "2 / 3 · K"),
    ],
)  # fmt: skip
def test_brackets_by_precedence(text: str, shown: str) -> None:
    assert symbolic(parse(text)) == shown


def test_numbers_with_units_are_bracketed_where_they_would_be_misread() -> None:
    pieces = {
        "F": number_piece("3", "kN"), "M": number_piece("2", "kN m"), "d": number_piece("8", "mm"),
        "n": number_piece("2"), "e": number_piece("−35", "mm"),
    }  # fmt: skip

    def shown(text: str) -> str:
        return numeric(parse(text), pieces).replace(NBSP, " ")

    assert shown("M/d**2") == "2 kN m / (8 mm)^2"
    assert shown("F/M") == "3 kN / (2 kN m)"
    assert shown("F*d/n") == "3 kN · 8 mm / 2"
    assert shown("abs(e) + d") == "|−35 mm| + 8 mm"
    assert shown("d - e") == "8 mm − (−35 mm)" and shown("e - d") == "(−35 mm) − 8 mm"
    assert shown("n**0.9") == "2^0.9"


def test_conditions() -> None:
    assert condition("d_1 <= 0.75*d") == "d_1 ≤ 0.75 · d"


# ---------------------------------------------------------------- words


@given(st.text(max_size=200), st.integers(6, 60), st.integers(0, 4))
def test_lines_are_never_too_wide_and_lose_nothing(text: str, columns: int, hanging: int) -> None:
    clean = printable(text)
    lines = wrapped(clean, columns, hanging)
    assert all(width(line) <= columns for line in lines)
    assert "".join("".join(lines).split()) == "".join(clean.split())
    assert not any(ord(c) < 32 or c in "\u202e\u2066\u200b\x7f" for c in clean)


def test_beside_others_a_sum_of_squares_stands_as_its_root() -> None:
    """Twice the load is then twice the figure: 1.44 as a sum of squares is 1.20 beside linear ones."""
    from barrier.result import Check, Ending, Standing
    from barrier.sheet.numbers import linear_text, utilisation_text
    from barrier.value import JobEntry, Value

    eta = Value(1.44, "ratio", JobEntry("x", "x"))
    c = Check(About("a"), "a", Ending.EXCEEDS, Standing.REQUIRED, utilisation=eta, squares=True)
    assert (utilisation_text(c), linear_text(c)) == ("1.44", "1.20")
