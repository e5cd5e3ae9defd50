"""Limits: scanned before bracketed, every crossing, refused over what was not checked."""

from __future__ import annotations

from functools import cache

import pytest
from conftest import job_named
from hypothesis import given, settings
from hypothesis import strategies as st

from barrier import sheet
from barrier.errors import JobRefused
from barrier.ways import limits as asking
from barrier.ways.limits import Limits, crossings, limits
from barrier.ways.outcome import changed
from barrier.ways.runner import tables_of
from barrier.ways.setting import set_


@cache
def garden_width() -> Limits:
    """The garden deck from 1360 to 1376 mm in two steps."""
    kept = asking.STEPS
    asking.STEPS = 2
    try:
        return limits(job_named("garden_deck"), ["panel width=1360 mm..1376 mm"])
    finally:
        asking.STEPS = kept


def test_a_limit_agrees_with_a_dense_scan_at_one_millimetre() -> None:
    (limit,) = garden_width().found
    (crossing,) = limit.crossings
    assert crossing.above - crossing.below == pytest.approx(1.0) and limit.largest == crossing.below
    job = job_named("garden_deck")
    for x in range(round(crossing.below) - 1, round(crossing.above) + 2):
        outcome = changed(job, set_(job, {"panels.P3.width": f"{x} mm"}).everything, tables_of(job))
        assert bool(outcome.exceeding) is (x > crossing.below), x


@settings(max_examples=200, deadline=None)
@given(st.integers(450, 1000), st.integers(120, 500), st.sampled_from([1, -1]))
def test_both_crossings_of_a_case_with_two_are_found(low: int, width: int, sign: int) -> None:
    """A dense scan at 1 mm beside it: the answer holds between two sizes, or only outside them."""

    def holds(x: float) -> bool:
        return (low <= x <= low + width) is (sign > 0)

    found = crossings(holds, 400, 1600, 12, 1.0)
    dense = [(x, x + 1) for x in range(400, 1600) if holds(x) is not holds(x + 1)]
    assert [(round(a), round(b)) for a, b in found] == dense


def test_both_crossings_of_a_job_with_two_are_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where M1 stands between its joists: screws 55 mm to both sides of it want ten diameters, 100 mm, to both ends of 405 mm.

    By hand, with 5 mm of site tolerance: from 55 + 100 + 5 = 160 mm to 405 - 160 = 245 mm, and nothing else limits before.
    """
    monkeypatch.setattr(asking, "STEPS", 3)
    monkeypatch.setattr(asking, "RESOLUTION", 5.0)
    found = limits(job_named("garden_deck"), ["mounts.M1.in_bay=120 mm..290 mm"])
    first, second = found.found[0].crossings
    assert not first.exceeds_above and first.above == pytest.approx(160.0)
    assert second.exceeds_above and second.below == pytest.approx(245.0)
    told = " ".join(sheet.limits_text(found).split())
    assert told.count("none exceeds at") == 2 and "from the end of their piece" in told


def test_it_is_refused_where_a_required_check_is_not_made_and_marked_where_the_reader_insists() -> None:
    job = job_named("everyday_deck")
    with pytest.raises(JobRefused, match=r"3 required checks are not made .*--over-unchecked"):
        limits(job, ["panel width=900 mm..1000 mm"])
    kept = asking.STEPS
    asking.STEPS = 1
    try:
        found = limits(job, ["panel width=900 mm..1000 mm"], over_unchecked=True)
    finally:
        asking.STEPS = kept
    text = sheet.limits_text(found)
    assert text.count("OVER UNCHECKED") >= 3 and "at no size looked at" in " ".join(text.split())


def test_what_has_no_size_has_no_limit() -> None:
    with pytest.raises(JobRefused, match="is no length"):
        limits(job_named("garden_deck"), ["service class"])
    with pytest.raises(JobRefused, match=r"800 mm\.\.1600 mm"):
        limits(job_named("garden_deck"), ["panel width=1600..800"])
