"""Quintic splines against another implementation, exact integrals, and the band matrix against a dense one."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import BSpline

from barrier.mechanics.splines import (
    DEGREE,
    PRESSURE_JUMP,
    SHEAR_JUMP,
    OnBodies,
    Quadrature,
    Samples,
    Splines,
    Sums,
    banded_sum,
    edge_zones,
    graded_line,
    largest,
    peaks_by_zone,
)

LINE = graded_line(1000.0, [(90.0, PRESSURE_JUMP, 1.0), (600.0, SHEAR_JUMP, 1.0)], [(90.0, 15.0)], 1.0)
EXACT = 1e-11  # rounding of sums of some tens of terms near 1


@pytest.mark.parametrize("derivative", [0, 1, 2])
def test_values_and_derivatives(derivative: int) -> None:
    """Source: scipy.interpolate.BSpline, an independent implementation."""
    x = np.concatenate([np.linspace(0, 1000, 203), [90.0, 600.0]])
    other = BSpline(LINE.knots, np.eye(LINE.size), DEGREE)
    expected = other.derivative(derivative)(x) if derivative else other(x)
    assert LINE.at(x, derivative) == pytest.approx(expected, rel=1e-9, abs=EXACT)


def test_a_knot_lets_jump_what_should_jump() -> None:
    """(x - 90)+^4 and (x - 600)+^3 are in the space to the last digit, (x - 300)+^3 is not: no knot there."""
    rule = Quadrature.on(LINE, [300.0])

    def missed(place: float, power: int) -> float:
        f = (np.maximum(rule.x - place, 0.0) / 1000) ** power
        best = np.linalg.lstsq(rule.values, f, rcond=None)[0]
        return float(np.abs(rule.values @ best - f).max())

    assert missed(90.0, 4) < EXACT and missed(600.0, 3) < EXACT
    assert missed(300.0, 3) > 1e-6


def test_knots_too_near_are_left_out_and_small_lines_have_enough() -> None:
    line = graded_line(1000.0, [(0.5, 2, 1.0), (90.0, 2, 1.0), (90.4, 2, 1.0)], [], 1.0)
    assert (np.diff(line.breaks) > 1.0).all() and 90.0 in line.breaks
    assert graded_line(50.0, [], [], 1.0).size > 2 * DEGREE


def test_no_more_elements_than_their_length_asks_for() -> None:
    """Counted by hand: 10 mm between places 10 mm apart is one; 1200 mm are six of the largest, 200 mm, which makes 6 + 5
    splines, just enough; 300 mm are two, halved four, halved six of 50 mm."""
    near = graded_line(100.0, [(20.0, PRESSURE_JUMP, 1.0), (30.0, PRESSURE_JUMP, 1.0)], [], 20.0)
    assert near.breaks == pytest.approx(np.arange(0.0, 101.0, 10.0))
    for length, step in ((1200.0, 200.0), (300.0, 50.0)):
        line = graded_line(length, [], [], 1.0)
        assert line.breaks == pytest.approx(np.arange(0.0, length + 1.0, step)) and line.size == 6 + DEGREE


def test_elements_grow_from_the_fine_place() -> None:
    steps = np.diff(LINE.breaks)
    at = int(np.searchsorted(LINE.breaks, 90.0))
    assert steps[at - 1] <= 18.0 and steps[at] <= 18.0 and steps.max() <= 200.0


def test_integrals_are_exact_within_elements_too() -> None:
    """∫ Σ N = length; moments of 1 = Σ N are those of the stretch, though no knot is at its ends."""
    rule = Quadrature.on(LINE, [333.0, 444.5])
    part = rule.within(333.0, 444.5)
    assert rule.moment(part).sum() == pytest.approx(111.5, rel=EXACT)
    assert rule.moment(part, 100.0, 1).sum() == pytest.approx((344.5**2 - 233.0**2) / 2, rel=EXACT)
    assert rule.product(rule.values, rule.values, part).sum() == pytest.approx(111.5, rel=EXACT)


def _lines() -> tuple[Splines, Splines]:
    return graded_line(500.0, [(200.0, 2, 1.0)], [], 1.0), graded_line(900.0, [(90.0, 2, 1.0)], [(90.0, 30.0)], 1.0)


def test_band_matrix_is_the_kronecker_sum() -> None:
    X, Y = (Quadrature.on(line, []) for line in _lines())
    energy = Sums.bending(2.0, 0.23, X, Y)
    energy.add(3.0, X.product(X.values, X.values), Y.product(Y.values, Y.values))
    dense = sum(np.kron(a, b) for a, b in zip(energy.along, energy.up, strict=True))
    band = banded_sum(np.array(energy.along), np.array(energy.up))
    n = len(dense)
    for below in range(n):
        expected = np.diagonal(dense, -below)
        found = band[below, : n - below] if below < len(band) else np.zeros(n - below)
        assert found == pytest.approx(expected, rel=1e-9, abs=1e-12 * np.abs(dense).max())


def test_bending_energy_of_simple_shapes() -> None:
    """Textbook: rigid movements cost nothing, w = x²/2 costs D per area, w = x y costs 2 (1 - nu) D."""
    x_line, y_line = _lines()
    X, Y = (Quadrature.on(line, []) for line in (x_line, y_line))
    energy = Sums.bending(2.0, 0.23, X, Y)

    def cost(fx: np.ndarray, fy: np.ndarray) -> float:
        a = np.linalg.lstsq(X.values, fx, rcond=None)[0]
        b = np.linalg.lstsq(Y.values, fy, rcond=None)[0]
        return float(sum((a @ m @ a) * (b @ n @ b) for m, n in zip(energy.along, energy.up, strict=True)))

    one_x, one_y = np.ones_like(X.x), np.ones_like(Y.x)
    area = 500.0 * 900.0
    for shape in ((one_x, one_y), (X.x, one_y), (one_x, Y.x)):
        assert abs(cost(*shape)) < 1e-6
    assert cost(X.x**2 / 2, one_y) == pytest.approx(2.0 * area, rel=1e-9)
    assert cost(one_x, Y.x**2 / 2) == pytest.approx(2.0 * area, rel=1e-9)
    assert cost(X.x, Y.x) == pytest.approx(2.0 * 2 * (1 - 0.23) * area, rel=1e-9)


def test_bodies_without_resistance_are_refused() -> None:
    bodies = OnBodies(np.zeros((1, 1, 1)), np.zeros((1, 1, 1)), np.zeros((1, 1)), np.ones((1, 1)), np.ones(1))
    with pytest.raises(np.linalg.LinAlgError):
        bodies.settle(np.zeros((1, 1)), np.array([True]))


def test_largest_between_the_lines_of_a_grid() -> None:
    x, y = np.array([0.0, 1.0, 3.0, 4.0]), np.array([0.0, 2.0, 3.0])
    hill = -((x[:, None] - 2.2) ** 2) - (y - 1.7) ** 2
    (sample_x, top_x), (sample_y, top_y) = largest(np.stack([hill, 0 * hill + x[:, None]]), x, y)
    assert (sample_x[0], sample_y[0]) == (3.0, 2.0)
    assert (top_x[0], top_y[0]) == (pytest.approx(2.2), pytest.approx(1.7))
    assert sample_x[1] == top_x[1] == 4.0


def test_zones_cover_the_grid_and_share_their_borders() -> None:
    x, y = np.arange(0.0, 101.0), np.arange(0.0, 61.0)
    seen = np.zeros((101, 61), dtype=int)
    for _, i, j in edge_zones(x, y, 10.0):
        seen[i, j] += 1
    assert seen.min() == 1 and seen[10, 30] == 2 and seen[0, 0] == 2 and seen[50, 30] == 1


@pytest.mark.parametrize("n", [7, 8, 11])
def test_a_peak_between_the_lines_is_found_by_points_a_quarter_of_their_distance_away(n: int) -> None:
    """By hand: 27/4 x (1 - x)² has its top 1 at 1/3, with the second derivative -27/2 and the third 81/2; the parabola through
    points h apart has its top h² (81/2) / (6 * 27/2) = h²/2 beside it, and the value there is 27/4 (h²/2)² too small."""

    def hill(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return 6.75 * x * (1 - x) ** 2 - (y - 0.5) ** 2

    lines, h = np.linspace(0.0, 1.0, n + 1), 0.25 / n
    line = graded_line(1.0, [], [], 1.0)
    field = hill(lines[:, None], lines)
    (top,) = peaks_by_zone([field], Samples.on(line, line, lines, lines), (("all", slice(None), slice(None)),), hill).values()
    assert -1e-12 <= 1.0 - top.stress[0] <= 2 * 6.75 * (h * h / 2) ** 2
