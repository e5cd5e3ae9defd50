"""How far a moment can grow: collapse of the bed, and the first screw at its limit."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog, nnls

from barrier.mechanics.contact import Bed, Screw, Zone, collapse_factor, limit_factor, solve
from barrier.mechanics.contact_bed import System
from barrier.mechanics.contact_collapse import _Line, loosening, resists, zero_between
from barrier.mechanics.polygons import circle, rectangle

EXACT = 1e-9
GRID = 2e-3  # a grid of 60 x 60 cells against exact integrals
M = 495e3  # N mm
PLATE = rectangle(-50, 50, -50, 50)


def four(K: float = 1e4) -> list[Screw]:
    return [Screw(x, y, K, f"{x:g},{y:g}") for y in (-35.0, 35.0) for x in (-35.0, 35.0)]


def bed(f: float | None = 2.5, area: np.ndarray = PLATE, k: float = 4.0) -> Bed:
    return Bed((Zone(area, "piece"),), k, f)


@st.composite
def loaded(draw: st.DrawFn) -> tuple[Bed, list[Screw], float, float, float]:
    """Screws anywhere on a plate with a hole, a moment in any direction, a weight the bed can hold."""
    n = draw(st.integers(1, 5))
    screws = [Screw(draw(st.floats(-45, 45)), draw(st.floats(-45, 45)), draw(st.floats(2e3, 3e4))) for _ in range(n)]
    angle = draw(st.floats(0, 2 * np.pi))
    b = Bed((Zone(PLATE, "piece", (circle(0, 0, 11, 8),)),), draw(st.floats(1, 10)), draw(st.floats(1, 5)))
    return b, screws, draw(st.floats(0, 3000)), M * float(np.cos(angle)), M * float(np.sin(angle))


@settings(max_examples=60, deadline=None)
@given(loaded())
def test_equilibrium_up_to_the_collapse_factor_and_none_beyond(
    case: tuple[Bed, list[Screw], float, float, float],
) -> None:
    b, screws, N, Mx, My = case
    c = collapse_factor(b, screws, N, Mx, My)
    assert c > 0.0
    below = solve(b, screws, N, 0.999 * c * Mx, 0.999 * c * My)
    assert below.equilibrium, below.reason
    beyond = solve(b, screws, N, 1.001 * c * Mx, 1.001 * c * My)
    assert not beyond.equilibrium
    assert "collapse" in beyond.reason


@settings(max_examples=12, deadline=None)
@given(loaded())
def test_collapse_is_the_linear_programme_of_the_lower_bound_theorem(
    case: tuple[Bed, list[Screw], float, float, float],
) -> None:
    """Independent and from the other side: the largest factor with cell forces within f A and tensions of any size."""
    b, screws, N, Mx, My = case
    zone = Zone(PLATE, "piece")  # no hole: cells tile the plate
    n = 60
    line = (np.arange(n) + 0.5) / n * 100 - 50
    x, y = (g.ravel() for g in np.meshgrid(line, line))
    sx, sy = np.array([s.x for s in screws]), np.array([s.y for s in screws])
    A = np.vstack(
        (
            np.r_[np.ones(n * n), -np.ones(len(sx)), 0.0],
            np.r_[y, -sy, Mx],
            np.r_[x, -sx, -My],
        )
    )
    assert b.f_yield is not None
    limits = [(0.0, b.f_yield * 1e4 / n**2)] * (n * n) + [(0.0, None)] * (len(sx) + 1)
    found = linprog(np.r_[np.zeros(n * n + len(sx)), -1.0], A_eq=A, b_eq=[N, 0.0, 0.0], bounds=limits)
    assert collapse_factor(Bed((zone,), b.k, b.f_yield), screws, N, Mx, My) == pytest.approx(-found.fun, rel=GRID, abs=GRID)


@pytest.mark.parametrize("d", [60.0, 85.0, 95.0])
def test_one_row_collapses_by_turning_about_itself(d: float) -> None:
    """Screws take any pull, so the whole depth d to the row yields: M = f b d²/2 by hand."""
    row = [Screw(x, d - 50, 1e4) for x in (-35, 35)]
    assert collapse_factor(bed(2.5), row, 0.0, M, 0.0) == pytest.approx(2.5 * 100 * d * d / 2 / M, rel=EXACT)


def test_weight_without_screws_collapses_on_a_rectangular_block() -> None:
    """M = N (D - N/(f b))/2 by hand: the block of length N/(f b) at the far edge."""
    N = 5000.0
    assert collapse_factor(bed(2.5), [], N, M, 0.0) == pytest.approx(N * (100 - N / 250) / 2 / M, rel=EXACT)


@pytest.mark.parametrize("x", [0.0, 1e-38, 1e-12, 1e-6])
def test_two_screws_all_but_in_one_line_are_one_line(x: float) -> None:
    pair = [Screw(x, 0.0, 2e3), Screw(0.0, 1.0, 2e3)]
    assert collapse_factor(bed(), pair, 0.0, M, 0.0) == pytest.approx(2.5 * 100 * 51**2 / 2 / M, rel=1e-6)


def test_collapse_in_words_and_at_the_ends() -> None:
    assert collapse_factor(bed(None), four(), 0.0, M, 0.0) == float("inf")
    assert collapse_factor(bed(), four(), 0.0, 0.0, 0.0) == float("inf")
    assert collapse_factor(bed(), [], 0.0, M, 0.0) == 0.0
    assert collapse_factor(bed(), [], 30e3, M, 0.0) == 0.0
    assert collapse_factor(Bed((), 4.0, 2.5), four()[:1], 0.0, M, 0.0) == 0.0
    assert "weight of 30000 N is more than the bed bears" in solve(bed(), four(), 30e3, M, 0.0).reason
    assert "bed collapses" in solve(bed(0.5), four(), 0.0, M, 0.0).reason


@settings(max_examples=40, deadline=None)
@given(loaded(), st.floats(1.05, 3.0))
def test_collapse_grows_with_strength_and_scales_with_it(case: tuple[Bed, list[Screw], float, float, float], more: float) -> None:
    b, screws, _, Mx, My = case
    assert b.f_yield is not None
    one = collapse_factor(b, screws, 0.0, Mx, My)
    stronger = Bed(b.zones, b.k, more * b.f_yield)
    assert collapse_factor(stronger, screws, 0.0, Mx, My) == pytest.approx(more * one, rel=1e-7)
    assert collapse_factor(b, [*screws, Screw(40, 40, 1e4)], 0.0, Mx, My) >= one * (1 - 1e-7)


@settings(max_examples=40, deadline=None)
@given(loaded(), st.floats(500, 8000), st.floats(1.0, 2.0))
def test_limit_factor_is_where_the_worst_screw_is_at_its_limit_and_monotone(
    case: tuple[Bed, list[Screw], float, float, float], limit: float, more: float
) -> None:
    b, screws, N, Mx, My = case
    found = limit_factor(b, screws, N, Mx, My, limit)
    assert found.contact.equilibrium
    assert 0.0 < found.factor <= collapse_factor(b, screws, N, Mx, My)
    here = solve(b, screws, N, found.factor * Mx, found.factor * My)
    if "screw" in found.reason:
        assert found.contact.T.max() == pytest.approx(limit, rel=1e-8)
        assert here.T.max() == pytest.approx(limit, rel=1e-6)
    else:
        assert "bed" in found.reason
        assert found.contact.T.max() <= limit * (1 + 1e-8)
    assert limit_factor(b, screws, N, Mx, My, limit * more).factor >= found.factor * (1 - 1e-6)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(2e3, 3e4),
    st.floats(1, 10),
    st.floats(1, 5),
    st.floats(0, 2 * np.pi),
    st.floats(0, 500),
    st.floats(20, 45),
)
def test_the_worst_tension_grows_with_the_moment(K: float, k: float, f: float, angle: float, N: float, arm: float) -> None:
    """What limit_factor rests on, for four screws in a rectangle."""
    screws = [Screw(x, y, K) for y in (-arm, arm) for x in (-35.0, 35.0)]
    Mx, My = M * float(np.cos(angle)), M * float(np.sin(angle))
    steps = np.linspace(0.02, 0.98, 13) * collapse_factor(bed(f, k=k), screws, N, Mx, My)
    T = [solve(bed(f, k=k), screws, N, s * Mx, s * My).T.max() for s in steps]
    assert (np.diff(T) >= -1e-9 * max(T)).all()


def test_an_elastic_bed_is_proportional_without_weight() -> None:
    found = limit_factor(bed(None), four(), 0.0, M, 0.0, [4000.0, 4000.0, 4000.0, 3000.0])
    assert found.factor == pytest.approx(3000 / 3710.2902405, rel=1e-8)
    assert found.reason == "screw 35,35 at its limit"


def test_a_strong_bed_and_a_weak_screw_make_the_rectangular_block() -> None:
    """Nearly rigid before it yields: M = T (d - a/2), a = T/(f b), as in the ultimate section of a beam."""
    T = 2 * 6000.0
    found = limit_factor(bed(2.5, k=1e5), four()[2:], 0.0, M, 0.0, 6000.0)
    a = T / (2.5 * 100)
    assert found.factor * M == pytest.approx(T * (85 - a / 2), rel=1e-5)
    assert found.contact.area == pytest.approx(100 * a, rel=1e-3)


def test_limit_factor_at_the_ends() -> None:
    assert limit_factor(bed(), four(), 0.0, 0.0, 0.0, 5000.0)[:2] == (float("inf"), "no moment")
    assert "no equilibrium without moment" in limit_factor(bed(), [], -10.0, M, 0.0, 5000.0).reason
    pulled = limit_factor(bed(), four(), -10e3, M, 0.0, 1000.0)
    assert pulled.factor == 0.0 and "beyond its limit without moment" in pulled.reason
    bed_first = limit_factor(bed(1.0), four(), 0.0, M, 0.0, 1e6)
    assert "bed at its strength" in bed_first.reason
    assert bed_first.factor == pytest.approx(collapse_factor(bed(1.0), four(), 0.0, M, 0.0), rel=1.1e-4)
    lifted = limit_factor(bed(None), [], 1000.0, M, 0.0, 1.0)
    assert "end of equilibrium" in lifted.reason
    assert lifted.factor == pytest.approx(1000 * 50 / M, rel=0.01)  # the resultant at the edge of the bed
    assert lifted.factor < 1000 * 50 / M


@pytest.mark.parametrize("k", [6e3, 7e3, 8e3, 9e3])
@pytest.mark.parametrize("f", [1.0, 5.0, 20.0])
def test_a_bed_that_is_all_but_used_up_is_what_ends_it(k: float, f: float) -> None:
    """A bed like rock and screws like rubber: rounding ends the search a little before the collapse, and the bed is named still.

    By hand for the one row that pulls: f b d^2/2, all of the width b pressed over d = 85 mm but for what the tension leaves.
    """
    found = limit_factor(bed(f, k=k), four(15.0), 0.0, M, 0.0, 1e9)
    assert found.factor * M == pytest.approx(f * 100 * 85**2 / 2, rel=1e-3)
    assert found.reason == "bed at its strength wherever it can be"


def test_limits_are_checked() -> None:
    for wrong in ([1.0, 2.0], -1.0, float("nan")):
        with pytest.raises(ValueError, match="T_limit"):
            limit_factor(bed(), four(), 0.0, M, 0.0, wrong)


@given(st.floats(0.1, 0.9))
def test_zero_between_copes_with_an_infinite_end(zero: float) -> None:
    assume(abs(zero - 0.5) > 1e-6)
    found = zero_between(lambda x: x - zero if x < 0.95 else float("inf"), 0.0, -zero, 1.0, float("inf"))
    assert found == pytest.approx(zero, rel=1e-9)


@pytest.mark.parametrize("bent", [1.0, -1.0])
@pytest.mark.parametrize("rising", [1.0, -1.0])
def test_zero_between_is_as_quick_as_its_source_says(bent: float, rising: float) -> None:
    """Dowell and Jarratt (from memory): three values for a threefold gain in digits, so that a dozen or so give eleven digits.

    Halving alone asks for 37 (2^-37 = 7e-12), and the secant that keeps one end for good for dozens. Bent and rising either way.
    """
    asked: list[float] = []

    def f(x: float) -> float:
        asked.append(x)
        return rising * bent * (math.exp(3.0 * bent * x) - 2.0)

    a, b = sorted((-bent, 1.5 * bent))
    f_a, f_b = f(a), f(b)
    found = zero_between(f, a, f_a, b, f_b)
    assert found == pytest.approx(bent * math.log(2.0) / 3.0, rel=1e-10)
    assert len(asked) <= 18


def test_zero_between_hands_back_something_between_its_ends() -> None:
    """A jump to infinity right at one of them, which no tolerance relative to the ends ever reaches."""
    assert 0.0 <= zero_between(lambda x: float("inf") if x > 0.0 else -1.0, 0.0, -1.0, 1.0, float("inf")) <= 1e-12


PLACES = st.lists(st.tuples(st.floats(-80, 80), st.floats(-80, 80)), min_size=1, max_size=6)


@settings(max_examples=60, deadline=None)
@given(PLACES, st.floats(0, 2 * np.pi), st.floats(-2, 2))
def test_a_load_comes_loose_just_where_no_pushes_and_pulls_balance_it(
    places: list[tuple[float, float]], angle: float, weight: float
) -> None:
    """A linear programme: pushes at the four corners, pulls at the screws, none of them below zero, equal to the load or not.

    And where they are not, what is found is a movement against which none of them resists and in which the load does work.
    """
    system = System(bed(None), [Screw(x, y, 1e4) for x, y in places])
    load = np.array(system.load(weight * 1e3, 5e4 * math.cos(angle), 5e4 * math.sin(angle)))
    corners = np.array([(1.0, y / 50, -x / 50) for x in (-50, 50) for y in (-50, 50)])
    pulls = np.array([(1.0, y / 50, -x / 50) for x, y in places])
    ways = np.vstack((corners, -pulls)) @ np.diag([1.0, 50 / system.L, 50 / system.L])
    scale = np.abs(load).max()
    short = linprog(  # the least sum of what is missing in each of the three equations
        np.r_[np.zeros(len(ways)), np.ones(6)],
        A_eq=np.hstack((ways.T, np.eye(3), -np.eye(3))), b_eq=load / scale, bounds=(0, None),
    ).fun  # fmt: skip
    assume(short < 1e-12 or short > 1e-5)
    found = loosening(system, tuple(load))
    assert (found is None) == (short < 1e-12)
    if found is not None:
        assert (ways @ found).min() >= -1e-6 * np.abs(found).max() and found @ load < 0.0


def test_a_moment_too_small_to_have_a_direction_is_none() -> None:
    """A random case once had 2e-308 N mm: its square is nought, and what is divided by it is no direction."""
    for tiny in (2.2e-308, 1e-200, 0.0):
        assert collapse_factor(bed(), four(), 1.0, tiny, 0.0) == float("inf")
        found = solve(bed(f=1e-5), four(), 1.0, tiny, 0.0)
        assert not found.equilibrium and found.reason
    assert np.isfinite(collapse_factor(bed(), four(), 1.0, 1e-60, 0.0))


def asked(f: Callable[[float], float], a: float, b: float, **ends: float) -> tuple[float, list[float]]:
    """The zero found and where f was asked on the way."""
    places: list[float] = []

    def noted(x: float) -> float:
        places.append(x)
        return f(x)

    return zero_between(noted, a, f(a), b, f(b), **ends), places


@pytest.mark.parametrize("size", [1e-12, 1.0, 1e12])
def test_the_zero_does_not_know_the_size_of_the_function(size: float) -> None:
    assert asked(lambda x: size * (x * x - 2.0), 0.0, 2.0)[0] == pytest.approx(2**0.5, rel=1e-10)


@pytest.mark.parametrize("power", [2, 3, 7])
def test_both_ends_are_treated_alike_on_the_way_to_a_zero(power: int) -> None:
    """Nothing tells which end is called a: exchanged, the same places are asked."""
    for f in (lambda x: x**power - 0.5, lambda x: 0.5 - (1.0 - x) ** power):
        assert asked(f, 0.0, 1.0)[1] == asked(f, 1.0, 0.0)[1]


def test_a_zero_is_looked_for_between_its_ends_and_no_closer_than_asked() -> None:
    """Halving every fourth time, a jump is within a thousandth after 4 x 10 places; a root is a number on one side only."""
    found, places = asked(lambda x: -1.0 if x < 0.3 else 1.0, 0.0, 1.0, rtol=1e-3)
    assert found == pytest.approx(0.3, rel=2e-3) and len(places) <= 40
    for end in (1.0, 3.0):
        found, places = asked(lambda x: (x - 1.0) ** 0.5, end, 4.0 - end)  # the zero is one of the ends
        assert found == pytest.approx(1.0, rel=1e-9) and min(places) >= 1.0 and max(places) <= 3.0


def test_two_screws_are_highest_together_where_a_straight_line_lies_on_both() -> None:
    """By hand: the plate turned as 1 along y and s along x is as high at two screws where s is the rise between them."""

    def ties(*at: tuple[float, float]) -> list[float]:
        return _Line(System(bed(), [Screw(x, y, 1e4) for x, y in at]), 2.5, np.zeros(3), np.eye(2)[0], np.eye(2)[1]).ties()

    # a gable: the ridge with either eave; what lies below both never is the highest
    assert ties((0.0, 30.0), (40.0, -10.0), (-40.0, -10.0), (0.0, -20.0)) == pytest.approx([-1.0, 1.0])
    for x, y in ((11.0, -37.0), (13.0, -4.0), (15.0, -25.0), (20.0, -37.0), (31.0, -17.0)):  # at no height, but for rounding
        assert ties((0.0, 0.0), (x, y), (-x, y / 3)) == pytest.approx([y / x, -y / x / 3])


def test_what_shakes_a_plate_loose_by_another_routine() -> None:
    """The distance from what bed and screws can hold is that of scipy.optimize.nnls, and the movement lifts the plate off all
    the timber, stretches no screw and is driven by the load."""
    rng = np.random.default_rng(5)
    round_bed = Bed((Zone(circle(0, 0, 50, 24), "piece"),), 4.0)
    loose = 0
    for n in [*range(4)] * 14:
        screws = [Screw(x, y, 1e4) for x, y in rng.uniform(-45, 45, (n, 2))]
        system = System(round_bed, screws)
        assert system.footprint is not None
        load = np.array(system.load(rng.uniform(-3000, 3000), *rng.uniform(-2e5, 2e5, 2)))
        far = nnls(np.concatenate((system.footprint.corners, -system.held)).T, load)[1]
        found = loosening(system, tuple(load.tolist()))
        rounding = 1e-7 * np.linalg.norm(load)
        assert (0.0 if found is None else np.linalg.norm(found)) == pytest.approx(far, abs=rounding)
        if found is not None:
            loose += 1
            assert load @ found < 0.0
            assert (system.footprint.corners @ found >= -rounding).all() and (system.held @ found <= rounding).all()
    assert 10 < loose < 46


def test_a_weight_over_the_middle_is_held_until_all_of_the_bed_yields() -> None:
    """By hand: 2.5 MPa on 100 x 100 mm are 25 kN."""
    system = System(bed(2.5), [])
    assert resists(system, system.load(24.9e3, 0.0, 0.0), 2.5) and not resists(system, system.load(25.1e3, 0.0, 0.0), 2.5)


@pytest.mark.parametrize("angle", np.linspace(0.0, 2.0 * np.pi, 16, endpoint=False).tolist())
def test_at_both_ends_of_what_a_weight_alone_holds(angle: float) -> None:
    """By hand: hardly any weight stands on an edge or a corner, 50 mm away along the nearer axis; one that takes all the bed
    can bear has no arm left."""
    Mx, My = M * float(np.cos(angle)), M * float(np.sin(angle))
    for N in (1e-3, 1e-9, 1e-20, 1e-80):
        edge = N * 50 / max(abs(Mx), abs(My))
        assert collapse_factor(bed(), [], N, Mx, My) == pytest.approx(edge, rel=3e-4)
    for N in (25e3 * (1 - 1e-14), 25e3 * (1 - 1e-15), float(np.nextafter(25e3, 0.0)), 25e3):
        assert collapse_factor(bed(), [], N, Mx, My) < 1e-5


def test_the_limit_does_not_know_in_what_steps_the_moment_was_given() -> None:
    for direction in ((1.0, 0.0), (0.0, 1.0), (0.6, 0.8)):
        found = [limit_factor(bed(None), four(), 0.0, s * direction[0], s * direction[1], 4000.0) for s in (1e-3, 1.0, M, 1e9)]
        assert all("at its limit" in f.reason for f in found)
        assert [s * f.factor for s, f in zip((1e-3, 1.0, M, 1e9), found, strict=True)] == pytest.approx(
            [found[0].factor * 1e-3] * 4, rel=1e-8
        )
