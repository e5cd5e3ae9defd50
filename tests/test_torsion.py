"""Torsion of a rectangle: limits, symmetry, arrays."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrier.mechanics.torsion import alpha, beta, constant, max_shear

side = st.floats(1.0, 500.0)


@given(side, side)
def test_sides_may_be_given_either_way(h: float, b: float) -> None:
    assert float(constant(h, b)) == float(constant(b, h))
    assert float(max_shear(1e6, h, b)) == float(max_shear(1e6, b, h))


@given(side, side)
def test_between_the_square_and_the_thin_strip(h: float, b: float) -> None:
    assert 0.20816 < float(alpha(h, b)) < 1 / 3
    assert 0.14057 < float(beta(h, b)) < 1 / 3


def test_a_thin_strip_has_one_third() -> None:
    """beta = 1/3 - 0.21 b/h for b << h; both tend to 1/3."""
    assert float(beta(1e6, 1.0)) == pytest.approx(1 / 3, rel=1e-5)
    assert float(alpha(1e6, 1.0)) == pytest.approx(1 / 3, rel=1e-5)
    assert float(beta(20.0, 1.0)) == pytest.approx((1 - 0.630249 / 20) / 3, rel=1e-6)


def test_square_against_many_terms() -> None:
    """The Fourier series as it stands, 100,000 terms, instead of the rearranged one."""
    n = np.arange(1, 200001, 2, dtype=float)
    plain = (1 - 192 / np.pi**5 * (np.tanh(n * np.pi / 2) / n**5).sum()) / 3
    assert float(beta(1.0, 1.0)) == pytest.approx(plain, rel=1e-12)


def test_against_the_soap_film() -> None:
    """Prandtl's stress function on a grid: J = 4 ∫F/2 dA of lap F = -1, a method without the series."""
    n, ratio = 48, 2
    h = 1.0 / n
    rows, cols = n - 1, ratio * n - 1
    lam_y = 2 - 2 * np.cos(np.pi * np.arange(1, rows + 1) / n)
    lam_x = 2 - 2 * np.cos(np.pi * np.arange(1, cols + 1) / (ratio * n))
    S_y = np.sin(np.pi * np.outer(np.arange(1, rows + 1), np.arange(1, rows + 1)) / n)
    S_x = np.sin(np.pi * np.outer(np.arange(1, cols + 1), np.arange(1, cols + 1)) / (ratio * n))
    F = S_y @ ((S_y @ np.full((rows, cols), 2 * h * h) @ S_x) / (lam_y[:, None] + lam_x)) @ S_x * 4 / (n * ratio * n)
    J = 2 * F.sum() * h * h
    assert float(constant(2.0, 1.0)) == pytest.approx(J, rel=1e-3)  # the grid is second order: (1/48)²
    # slope at the middle of the long side, three points to one side
    tau = (4 * F[0, cols // 2] - F[1, cols // 2]) / (2 * h) / J
    assert float(max_shear(1.0, 2.0, 1.0)) == pytest.approx(tau, rel=2e-3)


def test_arrays_and_numbers_agree() -> None:
    h, b = np.array([90.0, 45.0, 190.0]), 45.0
    assert beta(h, b).tolist() == [float(beta(v, b)) for v in h]
    assert max_shear([1e5, 2e5, 3e5], h, b)[2] == float(max_shear(3e5, 190.0, 45.0))


@pytest.mark.parametrize("sides", [(0.0, 1.0), (1.0, -1.0), (float("nan"), 1.0)])
def test_bad_sides_are_refused(sides: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        constant(*sides)
