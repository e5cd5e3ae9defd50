"""Bases side by side: the arithmetic of the largest differences by hand, and what is never claimed."""

from __future__ import annotations

import math

import pytest
from click.testing import CliRunner
from conftest import EXAMPLES, job_named

from barrier import sheet
from barrier.cli import main
from barrier.compare import Comparison, compare
from barrier.errors import JobRefused
from barrier.job import read_job
from barrier.result import Check, Ending
from barrier.units import LBF

JOB = next(p for p in EXAMPLES if p.stem == "three_bases")
BY_HAND = 2e-3  # relative; the hand works with the printed three or four digits


@pytest.fixture(scope="module")
def found() -> Comparison:
    return compare(read_job(JOB), ["en", "us", "au"])


def test_the_own_basis_stands_first_and_counts(found: Comparison) -> None:
    assert [b for b, _ in found.results] == ["en", "us", "au"] and found.own.job.basis == "en"
    assert "en (counts)" in sheet.comparison_text(found)


def test_the_three_largest_differences_by_hand(found: Comparison) -> None:
    """The README's three, each resistance recomputed from the figures of its code."""
    first, second, third = found.differences()[:3]
    assert (first.own.id, first.basis) == ("glass.face", "us")
    en = 1 * 0.89 * 1 * 45 / 1.8 + 1 * (120 - 45) / 1.2  # EN 16612:2019 8.2
    us = 24_000 / 4 * 0.45359237 * 9.80665 / 25.4**2  # IBC 2407.1.1 on 24,000 psi
    assert side(first.own)[1] == pytest.approx(en, rel=BY_HAND)
    assert side(first.other)[1] == pytest.approx(us, rel=BY_HAND)
    assert first.other.case == "P3/point/left corner with wind/left"  # 0.75 of the point load and 0.45 of the wind, ASCE 7 2.4.1
    assert (second.own.id, second.basis) == ("joist.outer.down.M1", "au")  # a joist 45 wide on 90 mm of its bearer
    assert side(second.own)[1] == pytest.approx(45 * 90 * 0.7 * 2.5 / 1.3, rel=BY_HAND)  # EN 1995-1-1 6.1.5, C24, SC3 short-term
    assert side(second.other)[1] == pytest.approx(45 * 90 * 0.7 * 0.97 * 0.7 * 10, rel=BY_HAND)  # AS 1720.1 3.2.6, MGP12 in the wet
    for d in (first, second, third):
        for c in (d.own, d.other):
            assert c.demand is not None and c.resistance is not None and c.eta is not None
            ratio = c.demand.at(c.station) / c.resistance.at(c.station if c.resistance.stations > 1 else 0)
            assert c.eta == pytest.approx(ratio, rel=1e-9)
    sizes = [abs((d.other.eta or 0) - (d.own.eta or 0)) for d in found.differences()]
    assert sizes == sorted(sizes, reverse=True)


def test_nothing_is_mapped_from_one_family_to_another(found: Comparison) -> None:
    """A timber without a name in a family is not checked there; a family without a use is not walked."""
    job = read_job(JOB)
    bare = compare(job.with_({"blocking.B1.material": {"en": "C24"}, "bases.au": None}), ["us", "au"])
    assert [n.name for n in bare.not_run] == ["au"] and "bases.au" in bare.not_run[0].why
    us = dict(bare.results)["us"]
    c = next(c for c in us.sound.checks if c.id == "screws.withdrawal.M1")
    assert "species" in c.reason


def test_the_page_gives_no_verdict_and_comes_in_every_format(found: Comparison) -> None:
    text = sheet.comparison_text(found)
    assert "no verdict" in " ".join(text.split()) and "CAUTION" in text
    assert sheet.comparison_html(found).startswith("<!doctype html>") or "<html" in sheet.comparison_html(found)
    assert "Side by side" in sheet.comparison_markdown(found)
    assert sheet.comparison_pdf(found).startswith(b"%PDF")


def test_the_command_and_a_basis_that_is_none() -> None:
    run = CliRunner().invoke(main, ["compare", str(JOB), "--basis", "en,us"])
    assert run.exit_code == 0 and "The largest differences" in run.output
    refused = CliRunner().invoke(main, ["compare", str(JOB), "--basis", "fr"])
    assert refused.exit_code == 2 and "known: en, us, au, nz" in refused.output
    with pytest.raises(JobRefused):
        compare(read_job(JOB), ["fr"])


def side(c: Check) -> tuple[float, float]:
    """Demand and resistance where the check governs."""
    assert c.demand is not None and c.resistance is not None
    return c.demand.at(c.station), c.resistance.at(c.station if c.resistance.stations > 1 else 0)


def test_the_third_difference_and_one_of_distances_by_hand(found: Comparison) -> None:
    """Pieces of 120 x 195, screws of 10 x 180 through a plate of 15 and a board of 28: they reach 137 deep, 110 apart."""
    reach, b, h = 180 - 15 - 28, 120, 195
    third = found.differences()[2]
    assert (third.own.id, third.basis) == ("blocking.splitting.M1", "us")
    en = 14 * b * math.sqrt(reach / (1 - reach / h)) * 0.7 / 1.3  # EN 1995-1-1 8.1.4 (8.5), SC3 short-term, solid timber
    us = 2 / 3 * 180 * 0.97 * LBF / 25.4**2 * b * reach * (reach / h) ** 2  # NDS 3.4.3.3(a), F_v 180 psi, wet
    assert side(third.own)[1] == pytest.approx(en, rel=BY_HAND)
    assert side(third.other)[1] == pytest.approx(us, rel=BY_HAND)
    end = next(c for c in found.own.sound.checks if c.id == "screws.end.M1")
    assert side(end) == pytest.approx((10 * 10, 180 - 35 - 5), rel=BY_HAND)  # EN 1995-1-1 Table 8.6; tolerance of the site


def test_what_has_another_level_elsewhere_is_not_carried_over() -> None:
    """A characteristic wind pressure is no ultimate one: where no wind of the other basis is given it is not checked there."""
    bare = compare(job_named("three_bases").with_({"bases.us.wind": None, "bases.au.wind": None}), ["us", "au"])
    assert {n.name for n in bare.left_out} == {"wind", "loads.duration"}
    for basis, result in bare.results[1:]:
        c = next(c for c in result.sound.checks if c.id == "actions.wind")
        assert c.ending is Ending.NOT_CHECKED, basis
        assert result.job.loads.duration is None
    assert "wind is not carried over to another basis" in " ".join(sheet.comparison_text(bare).split())


def test_each_basis_has_the_wind_the_job_gives_it(found: Comparison) -> None:
    """The third of five panels by the UK annex, by ASCE 7 and by AS/NZS 1170.2: each at the level of its own basis."""
    assert {n.name for n in found.left_out} == {"loads.duration"}
    levels = {}
    for basis, result in found.results:
        cases = result.handed_on.cases
        levels[basis] = next(c.action.level for c in cases if c.action.id == "wind")
    assert levels == {"en": "characteristic", "us": "strength-level", "au": "ultimate"}


def test_the_page_explains_a_difference_from_its_origins(found: Comparison) -> None:
    """Load, factor, and those figures of tables that are not the same on both sides; what is the same is left out."""
    words = " ".join(sheet.comparison_text(found).split())
    first = words.split("bending of the glass, face:")[1].split("▸")[0]
    for said in ("en, load: line load", "times 1.5", "us, load: point load", "line of A2 = 0.74 kN/m", "guard_safety_factor = 4"):
        assert said in first, said
    assert "bed_low" not in first and "K_1" not in first
    missing = words.split("Not checked, by basis")[1]
    assert missing.count("what kind of screw it is") == 1, "one reason is said once"


def test_the_comparison_says_what_the_families_treat_differently() -> None:
    """Nails in end grain: 0.6 of side grain in one, 0.67 in another, nothing in the third; only among those compared."""
    job = job_named("australian_deck")
    said = " ".join(sheet.comparison_text(compare(job, ("au", "en"))).split())
    assert "What they treat differently" in said and "EN 1995-1-1 nothing" in said
    assert "NZS 3603 is superseded" not in said and "only the depth of the clamp" not in said


def test_of_laminated_glass_it_says_why_the_effective_thickness_decides_nothing() -> None:
    layers = [{"glass": "toughened", "nominal": "6 mm"}] * 2
    film = {"kind": "PVB", "thickness": "1.52 mm", "temperature": "30 degC", "coupling": "none"}
    job = job_named("australian_deck").with_({"panels.1.layers": layers, "panels.1.interlayer": film})
    said = " ".join(sheet.comparison_text(compare(job, ("au", "en"))).split())
    assert "nothing keeps the layers from slipping on one another" in said and "0.54 to 0.99 of the true stress" in said
    assert "the formulas stand beside" in said
