"""Quantities as readers write them: exact where it can be, refused with the nearest spelling where not."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrier.job.quantity import nearest_unit, parse, unit_of
from barrier.units import INCH, KINDS, LBF, UNITS, units_of

ROUNDING = 4e-16  # relative: one multiplication and one division in double precision

# Exact by the international definitions of inch, foot and pound (25.4 mm; 0.45359237 kg; standard gravity 9.80665 m/s2).
READ = [
    ("12 mm", "length", 12.0),
    ("1.2 m", "length", 1200.0),
    ("12mm", "length", 12.0),
    ("  12   mm ", "length", 12.0),
    (".5 in", "length", 12.7),
    ("+3 mm", "length", 3.0),
    ("-3 mm", "length", -3.0),
    ("3/8 in", "length", 9.525),
    ("1 1/2 in", "length", 38.1),
    ("1-1/2 in", "length", 38.1),
    ("-1 1/2 in", "length", -38.1),
    ("5 ft 3 in", "length", 1600.2),
    ("5 ft 3 1/2 in", "length", 1612.9),
    ("0 ft 3.5 in", "length", 88.9),
    ("1/2 ft", "length", 152.4),
    ("5e2 mm", "length", 500.0),
    ("0.75 kN/m", "line load", 0.75),
    ("50 lbf/ft", "line load", 50 * LBF / (12 * INCH)),
    ("200 lbf", "force", 200 * 0.45359237 * 9.80665),
    ("1 kN/m2", "pressure", 1e-3),
    ("1 kPa", "pressure", 1e-3),
    ("1000 psi", "stress", 1000 * LBF / INCH**2),
    ("210 MPa", "stress", 210.0),
    ("210 N/mm2", "stress", 210.0),
    ("2.2 kN m", "moment", 2.2e6),
    ("100 lbf ft", "moment", 100 * LBF * 12 * INCH),
    ("10 N/mm3", "bed stiffness", 10.0),
    ("180 deg", "angle", math.pi),
    ("30 mrad", "angle", 0.03),
    ("350 kg/m3", "density", 350.0),
    ("2.5 kg", "mass", 2.5),
    ("50 %", "ratio", 0.5),
    ("0.5", "ratio", 0.5),
]


@pytest.mark.parametrize(("text", "kind", "expected"), READ, ids=[t for t, _, _ in READ])
def test_reads(text: str, kind: str, expected: float) -> None:
    assert parse(text, kind) == pytest.approx(expected, rel=ROUNDING)


REFUSED = [
    ("1,2 m", "length", "has a comma"),
    ("1,200 mm", "length", "has a comma"),
    ("12 MM", "length", 'did you mean "mm"?'),
    ("12 Mm", "length", 'did you mean "mm"?'),
    ("0.75 kn/m", "line load", 'did you mean "kN/m"?'),
    ("0.75 KN/M", "line load", 'did you mean "kN/m"?'),
    ("1 kpa", "pressure", 'did you mean "kPa"?'),
    ("1 mpa", "stress", 'did you mean "MPa"?'),
    ("12 inches", "length", 'did you mean "in"?'),
    ('12"', "length", 'did you mean "in"?'),
    ("12 feet", "length", 'did you mean "ft"?'),
    ("50 plf", "line load", 'did you mean "lbf/ft"?'),
    ("200 lb", "force", "is in lb"),
    ("200 lbs", "force", 'did you mean "lbf"?'),
    ("10 N/mm²", "stress", 'did you mean "N/mm2"?'),
    ("2 kN·m", "moment", 'did you mean "kN m"?'),
    ("2 kNm", "moment", 'did you mean "kN m"?'),
    ("12 kN", "length", "is in kN; expected a length in mm, cm, m, in, ft, km or mi"),
    ("12 mm", "force", "is in mm; expected a force in N, kN or lbf"),
    ("12", "length", "has no unit; write '12 mm'"),
    ("0.45", "pressure", "has no unit; write '0.45 kN/m2'"),
    ("mm", "length", "does not begin with a number"),
    ("", "length", "is empty"),
    ("   ", "length", "is empty"),
    ("nan mm", "length", "does not begin with a number"),
    ("inf mm", "length", "does not begin with a number"),
    ("1e400 mm", "length", "not a finite number"),
    ("1e308 GPa", "stress", "not a finite number"),
    ("9**9**9 mm", "length", "unknown unit"),
    ("1e5e5 mm", "length", "unknown unit"),
    ("0x10 mm", "length", "unknown unit"),
    ("1_000 mm", "length", "unknown unit"),
    ("٣ mm", "length", "does not begin with a number"),
    ("--5 mm", "length", "does not begin with a number"),
    ("3/0 in", "length", "divides by zero"),
    ("1 3/0 in", "length", "divides by zero"),
    ("5 ft 3/0 in", "length", "divides by zero"),
    ("5 ft 12 in", "length", "12 or more inches"),
    ("5 ft 3 in", "force", "expected a force"),
    ("3/8 mm", "length", "inches and feet only"),
    ("5 m 3 mm", "length", "unknown unit"),
    ("12 mm thick", "length", "unknown unit"),
    ("12 furlong", "length", "expected a length in"),
    ("1" * 61 + " mm", "length", "too long"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "words"), REFUSED, ids=[t[:20] or "empty" for t, _, _ in REFUSED])
def test_refuses(text: str, kind: str, words: str) -> None:
    answer = parse(text, kind)
    assert isinstance(answer, str) and words in answer, answer


finite = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


@given(finite, st.sampled_from(sorted(UNITS)))
def test_round_trip(number: float, unit: str) -> None:
    """What Python writes of a number is read back as that number, in every unit of the list."""
    kind = next(k for k in KINDS if unit in units_of(k))
    answer = parse(f"{number!r} {unit}", kind)
    assert answer == number * UNITS[unit].factor
    assert str(answer) != "-0.0"


@given(st.integers(0, 99), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_fractions_of_an_inch(whole: int, top: int, bottom: int) -> None:
    exact = float((whole + Fraction(top, bottom)) * Fraction("25.4"))
    assert parse(f"{whole} {top}/{bottom} in", "length") == pytest.approx(exact, rel=ROUNDING, abs=0.0)
    feet = parse(f"7 ft {top % 12} {top % bottom}/{bottom} in", "length")
    if top % bottom + bottom * (top % 12) < 12 * bottom:
        assert feet == pytest.approx(float((84 + top % 12 + Fraction(top % bottom, bottom)) * Fraction("25.4")), rel=ROUNDING)


@given(st.text(max_size=80), st.sampled_from(sorted(KINDS)))
def test_any_text_is_a_number_or_a_sentence(text: str, kind: str) -> None:
    answer = parse(text, kind)
    assert isinstance(answer, str) or math.isfinite(answer)
    if isinstance(answer, str):
        assert "\n" not in answer and len(answer) < 300


@given(st.sampled_from(sorted(u for u in UNITS if u)))
def test_a_unit_in_the_wrong_case_is_never_read_as_another(unit: str) -> None:
    for kind in KINDS:
        if unit in units_of(kind) and unit.swapcase() not in UNITS:
            answer = parse(f"5 {unit.swapcase()}", kind)
            assert isinstance(answer, str), f"{unit.swapcase()} was read as a {kind}"
            near = nearest_unit(unit.swapcase(), kind)
            assert near is not None and near.casefold() == unit.casefold()


def test_unit_of_a_text() -> None:
    assert unit_of("5 ft 3 in", "length") == "in"
    assert unit_of("10 N/mm2", "stress") == "N/mm2"
    assert unit_of("1 kN m", "moment") == "kN m"
