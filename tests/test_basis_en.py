"""The direction of every factor of the Eurocode basis: wet is weaker, longer is weaker, an edge is no stronger than a face."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from barrier.basis import basis_named
from barrier.basis.parts import Driven, Fastener, Glass, Timber
from barrier.result import Lack, NotChecked
from barrier.tables import Tables
from barrier.value import JobEntry, Value, walk

EN = basis_named("en", "uk", Tables())
STRENGTH = EN.strength("barrier")
DURATIONS = ("permanent", "long-term", "medium-term", "short-term", "instantaneous")
SCREW = Fastener(*(Value(x, k, JobEntry("test", "test")) for x, k in ((8.0, "length"), (5.4, "length"), (500.0, "stress"))))


def given(x: float, kind: str = "length") -> Value:
    return Value(x, kind, JobEntry("test", "test"))


def answers(service_class: int, duration: str = "short-term", grade: str = "C24") -> dict[str, float]:
    """Every strength of timber and fastener that depends on moisture or duration."""
    timber, c = Timber({"en": grade}, service_class), replace(STRENGTH, duration=duration)
    found = {
        "bearing": EN.bearing(timber, c),
        "bending": EN.bending(timber, c),
        "shear": EN.shear(timber, c),
        "torsion": EN.torsion(timber, given(195), given(120), c),
        "splitting": EN.splitting(timber, given(45), given(195), given(62), c),
        "withdrawal": EN.withdrawal(SCREW, timber, given(60), given(2, "count"), c),
        "sideways": EN.sideways(SCREW, timber, given(60), given(28), c),
        "bracket": EN.bracket(given(5000, "force"), "characteristic", timber, c),
    }
    assert not [k for k, v in found.items() if isinstance(v, NotChecked)]
    return {k: float(v.x) for k, v in found.items() if isinstance(v, Value)}


def test_wet_is_weaker() -> None:
    """EN 1995-1-1:2004 Table 3.1: service class 3 below 2, and 2 not above 1."""
    dry, moist, wet = (answers(c) for c in (1, 2, 3))
    for key, x in wet.items():
        assert x < moist[key] <= dry[key], key


@pytest.mark.parametrize("service_class", [1, 2, 3])
def test_longer_is_weaker(service_class: int) -> None:
    found = [answers(service_class, d) for d in DURATIONS]
    for key in found[0]:
        row = [f[key] for f in found]
        assert row == sorted(row) and row[0] < row[-1], key


def test_weaker_timber_is_weaker() -> None:
    low, high = answers(3, grade="C16"), answers(3, grade="C30")
    assert all(low[k] < high[k] for k in low if k not in ("bracket", "splitting"))


def glass(
    kind: str = "toughened", edge: str = "polished", surface: str = "float", location: str = "face", duration: str = ""
) -> float:
    c = replace(STRENGTH, glass_duration=duration or STRENGTH.glass_duration)
    found = EN.glass_strength(Glass(kind, surface, edge), location, c)  # type: ignore[arg-type]
    assert isinstance(found, Value)
    return float(found.x)


def test_glass_factors_point_the_right_way() -> None:
    """EN 16612:2019: an edge is no stronger than a face, a rough one weaker; treatment adds; a worked surface takes away."""
    assert glass(location="edge") <= glass(location="face")
    assert glass(edge="cut", location="edge") < glass(edge="polished", location="edge")
    assert glass("annealed") < glass("heat-strengthened") < glass("toughened")
    assert glass(surface="sandblasted") < glass(surface="float")
    assert glass("annealed", duration="barrier_public") <= glass("annealed", duration="barrier_domestic")


def test_end_grain_is_weaker_and_more_screws_share_less() -> None:
    timber = Timber({"en": "C24"}, 3)
    one, four = (EN.withdrawal(SCREW, timber, given(60), given(n, "count"), STRENGTH) for n in (1, 4))
    assert isinstance(one, Value) and isinstance(four, Value) and float(four.x) < float(one.x)
    assert isinstance(EN.withdrawal(replace(SCREW, end_grain=True), timber, given(60), given(1, "count"), STRENGTH), NotChecked)
    nothing = EN.sideways(replace(SCREW, end_grain=True), timber, given(60), given(28), STRENGTH)
    assert isinstance(nothing, Value) and float(nothing.x) == 0.0


# ---------------------------------------------------------------- hardwood


def test_a_hardwood_class_is_not_split_by_the_rule_for_softwood() -> None:
    """EN 1995-1-1 8.1.4(3): (8.4) is for softwood."""
    hard, soft = (EN.splitting(Timber({"en": g}, 2), given(45), given(195), given(62), STRENGTH) for g in ("D30", "C24"))
    assert isinstance(hard, NotChecked)
    assert hard.lack is Lack.RANGE
    assert "hardwood" in hard.text
    assert isinstance(soft, Value)


def test_k_90_is_that_of_the_wood() -> None:
    """EN 1995-1-1 (8.33), d_ef = 1.1 x 5.4 = 5.94 mm: 1.35 + 0.0891 in softwood, 0.90 + 0.0891 in hardwood."""
    for grade, by_hand in (("C24", 1.4391), ("D30", 0.9891)):
        v = EN.sideways(SCREW, Timber({"en": grade}, 2), given(60), given(28), STRENGTH)
        assert isinstance(v, Value)
        (k_90,) = {float(x.x) for x in walk(v) if x.symbol == "k_90"}
        assert k_90 == pytest.approx(by_hand)


def test_a_hardwood_class_is_remarked_and_a_softwood_class_is_not() -> None:
    said = EN.timber_words(Timber({"en": "D30"}, 2))
    assert said is not None
    assert "D30" in said[0]
    assert "(8.4)" in said[0]
    assert EN.timber_words(Timber({"en": "C24"}, 2)) is None
    assert EN.timber_words(Timber({}, 2)) is None


def test_wood_is_twelve_diameters_thick() -> None:
    """EN 1995-1-1 Table 8.6."""
    least = EN.least_thickness(given(8))
    assert isinstance(least, Value)
    assert float(least.x) == pytest.approx(96)


@pytest.mark.parametrize(
    ("d", "d_1", "edge", "end"),
    [(8.0, 5.4, 7 * 8.0, 12 * 8.0), (10.0, 7.0, 4 * 10.0, 80.0), (12.0, 9.0, 4 * 12.0, 7 * 12.0)],
)
def test_distance_of_a_screw_from_where_it_is_pushed(d: float, d_1: float, edge: float, end: float) -> None:
    """By hand, from Tables 8.2 and 8.4: 1.1 x 5.4 = 5.94 mm is a nail (7 d, 12 d), 7.7 mm a bolt (4 d; 7 d, 80 mm)."""
    screw = Fastener(given(d), given(d_1), given(500.0, "stress"))
    found = [EN.pushed_distance(rule, screw) for rule in ("a4_t", "a3_t")]
    assert [float(v.x) for v in found if isinstance(v, Value)] == pytest.approx([edge, end])


@pytest.mark.parametrize("missing", ["d_1", "f_u"])
def test_a_screw_pushed_sideways_needs_its_root_and_its_steel(missing: str) -> None:
    """EN 1995-1-1 8.2.2 has both in it, the effective diameter and the yield moment: one alone is not enough."""
    found = EN.sideways(replace(SCREW, **{missing: None}), Timber({"en": "C24"}, 2), given(60), given(28), STRENGTH)
    assert isinstance(found, NotChecked) and found.lack is Lack.INPUT


@pytest.mark.parametrize(("kind", "d", "each"), [("nails", 3.15, 3.15**0.8 / 30), ("screws", 5.0, 5.0 / 23)])
def test_nails_and_screws_at_an_end_give_way_each_by_its_own_row(kind: str, d: float, each: float) -> None:
    """EN 1995-1-1 Table 7.1 by hand: rho_m^1.5 d^0.8/30 and rho_m^1.5 d/23, rho_m^2 = 420 x 370 (C24 and C16, EN 338)."""
    wood, joist = Timber({"en": "C24"}, 2), Timber({"en": "C16"}, 2)
    slip = EN.end_slip(Driven(kind, given(4, "count"), given(d), given(90), given(45), joist, wood))
    assert isinstance(slip, Value)
    assert slip.at(0) == pytest.approx(4 * math.sqrt(420 * 370) ** 1.5 * each, rel=1e-9)
