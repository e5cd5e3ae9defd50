"""Limits: scanned before bracketed, every crossing, refused over what was not checked."""

from __future__ import annotations

import re
from functools import cache

import pytest
from conftest import job_named
from hypothesis import given, settings
from hypothesis import strategies as st

from barrier import sheet
from barrier.errors import JobRefused
from barrier.load_path import check
from barrier.sheet.drawings import envelope, hangs
from barrier.ways import limits as asking
from barrier.ways import sensitivity
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


# ---------------------------------------------------------------- pictures


def fields(monkeypatch: pytest.MonkeyPatch) -> Limits:
    """The garden deck, one step of its width, two fields and two entries turned."""
    monkeypatch.setattr(asking, "STEPS", 1)
    monkeypatch.setattr(asking, "WIDTHS", (0.8, 1.6))
    monkeypatch.setattr(asking, "HEIGHTS", (1.2,))
    job = job_named("garden_deck")
    few = [e for e in sensitivity.entries(job, tables_of(job)) if e[0] in ("glass, one step of the table", "width of the panel")]
    monkeypatch.setattr(sensitivity, "entries", lambda job, tables: iter(few))
    return limits(job, ["panel width=990 mm..1000 mm"], envelope=True, hangs=True)


def test_fields_and_bars_are_checks_of_their_own_and_need_no_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each figure of both pictures is what a check of the changed job says."""
    found = fields(monkeypatch)
    job, tables = found.result.job, tables_of(found.result.job)
    worst = {}
    for w, h, outcome in found.envelope:
        wanted = set_(job, {"panels.P3.width": f"{w:g} mm", "panels.P3.height": f"{h:g} mm"}).everything
        again = check(job.with_(wanted)).sound
        governing = again.governing
        assert governing is not None and outcome.governing is not None and governing.id == outcome.governing.id
        assert bool(outcome.exceeding) is (governing.ending == "exceeds")
        worst[w, h] = f"{max(governing.rank, 1.01) if outcome.exceeding else governing.rank:.2f}"
    svg = envelope.drawings(found)[0].draw().svg
    shown = re.findall(r'font-weight="bold"[^>]*>([\d.]+)<', svg)
    assert shown == [worst[w, h] for h in sorted({h for _, h in worst}, reverse=True) for w in sorted({w for w, _ in worst})]
    over = sum(bool(o.exceeding) for _, _, o in found.envelope)
    assert svg.count('class="warn"') == 2 * over > 0 and over < len(worst)  # a double frame, whatever the colour
    assert len({(spacing, angle) for _, spacing, angle in envelope.PATTERNS}) == len(envelope.PATTERNS)
    glass, width = sorted(found.hangs, key=lambda h: h.entry)
    assert glass.less is not None and glass.less.words == "15 mm" and glass.more is not None and glass.more.words == "25 mm"
    assert width.less is not None and width.more is not None
    for turned, mm in ((width.less, "900 mm"), (width.more, "1100 mm")):
        same = changed(job, set_(job, {"panels.P3.width": mm}).everything, tables)
        assert turned.words == mm and turned.size == same.governing.rank
    base = found.base.governing.rank
    spreads = [h.spread(base) for h in found.hangs]
    assert spreads == sorted(spreads, reverse=True) and spreads[-1] > 0.0
    text = " ".join(sheet.limits_text(found).split())
    assert "no probability" not in text and "says nothing about how well an entry is known" in text
    assert "data-what" in hangs.drawings(found)[0].draw().svg


def test_every_entry_that_is_turned_is_one_the_job_file_takes() -> None:
    for name in ("everyday_deck", "us_deck", "three_clamps_laminated", "boards_only", "three_bases"):
        job = job_named(name)
        every = list(sensitivity.entries(job, tables_of(job)))
        assert len(every) >= 9
        for _, less, more in every:
            for way in (less, more):
                assert way is None or job.with_(way[1]) is not None
