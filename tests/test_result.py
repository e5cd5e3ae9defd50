"""Checks: three endings and no fourth; nothing unchecked looks checked."""

from __future__ import annotations

import numpy as np
import pytest

from barrier.equation import Equation, Symbol, symbols
from barrier.result import About, Ending, Lack, NotChecked, compare, fails, governing
from barrier.value import JobEntry, Value

ENTRY = JobEntry("x", "x")


def force(x: object, symbol: str) -> Value:
    return Value(x, "force", ENTRY, symbol)  # type: ignore[arg-type]


def test_endings_are_three() -> None:
    assert {str(e) for e in Ending} == {"within", "exceeds", "not checked"}


@pytest.mark.parametrize("demand,ending", [(0.999, Ending.WITHIN), (1.0, Ending.WITHIN), (1.001, Ending.EXCEEDS)])
def test_within_and_exceeds(demand: float, ending: Ending) -> None:
    c = compare(About("a"), "a", force(demand, "E"), force(1.0, "R"), ["here"])
    assert c.ending is ending and c.eta == pytest.approx(demand)


def test_a_band_that_straddles_one_exceeds() -> None:
    c = compare(About("a"), "a", force(np.array([0.6, 1.2, 0.9]), "E"), force(1.0, "R"), ["low", "high", "middle"])
    assert c.ending is Ending.EXCEEDS and c.where == "high"


def test_no_value_is_not_checked_and_has_no_utilisation() -> None:
    c = compare(About("a"), "a", force(1.0, "E"), NotChecked(Lack.BASIS, "no value"), ["here"])
    assert c.ending is Ending.NOT_CHECKED and c.utilisation is None and "not in this basis" in c.reason


def test_outside_the_range_is_not_checked() -> None:
    R = Equation(Symbol("R", "force"), "2*d", symbols("d:force"), "code 1", "memory", valid=("d >= 6",))
    small, big = R(d=force(4.0, "d")), R(d=force(8.0, "d"))
    assert compare(About("a"), "a", force(1.0, "E"), small, ["here"]).ending is Ending.NOT_CHECKED
    assert compare(About("a"), "a", force(1.0, "E"), big, ["here"]).ending is Ending.WITHIN
    both = R(d=force(np.array([4.0, 8.0]), "d"))
    assert compare(About("a"), "a", force(1.0, "E"), both, ["one", "two"]).ending is Ending.NOT_CHECKED
    worse = compare(About("a"), "a", force(np.array([1.0, 99.0]), "E"), both, ["one", "two"])
    assert worse.ending is Ending.EXCEEDS and worse.where == "two"


def test_no_resistance_exceeds_without_a_number() -> None:
    c = compare(About("a"), "a", force(1.0, "E"), force(0.0, "R"), ["here"], no_resistance="nothing holds it")
    assert c.ending is Ending.EXCEEDS and c.utilisation is None and c.reason == "nothing holds it"
    assert fails(About("a"), "a", "no equilibrium").ending is Ending.EXCEEDS


def test_ties_go_to_the_first_station() -> None:
    assert governing([1.0, 1.0 + 1e-9]) == 0
    assert governing([1.0, 1.0 + 1e-3]) == 1


def test_a_form_of_its_own_is_compared_though_a_part_is_nought() -> None:
    """Pull and push at once, with no push: that is no missing resistance."""
    nought = force(0.0, "E")
    eta = Value(0.25, "ratio", force(1.0, "E").origin, "eta")
    assert compare(About("a"), "a", force(0.5, "E"), nought, ["here"], eta=eta).eta == 0.25
    assert compare(About("a"), "a", force(0.5, "E"), nought, ["here"]).eta is None


def test_a_whole_result_is_shown_in_a_line() -> None:
    """A test that fails prints what it looked at: not the way back to every entry of the job."""
    from conftest import result_of

    result = result_of("everyday_deck")
    assert len(repr(result)) < 1000 and result.job.title in repr(result) and "exceeds" in repr(result)
    assert len(repr(result.sound)) < 200
    assert max(len(repr(c)) for c in result.sound.checks) < 2000
