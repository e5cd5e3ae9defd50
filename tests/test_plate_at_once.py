"""Several loads at once on a plate: one load case, against sums of solutions and a direct solution by another method."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from barrier.mechanics.plate import FIXED, AtOnce, Clamp, LineLoad, Pad, PatchLoad, Plate, PlateModel, Pressure, at_once


def test_loads_at_once_are_one_load_case_against_a_direct_solution_by_another_method() -> None:
    """A line at the top with a pressure over strips of unequal size, solved at once here and by a Ritz sum over polynomials.

    The other method shares no code with ours: products of Legendre polynomials up to the 23rd degree over the whole panel, the
    energy of plate and pads integrated by Gauss points pad by pad, clamps that stand still.
    """
    W, H, t, E, nu, k = 1000.0, 900.0, 12.0, 70_000.0, 0.23, 4.0
    pads = [Pad(x - 60, x + 60, 0, 150, k) for x in (250.0, 750.0)]
    clamps = [Clamp((p.x0 + p.x1) / 2, (p,)) for p in pads]
    strips = [PatchLoad(120.0, 0, 200, 0, H), PatchLoad(180.0, 200, 600, 0, H), PatchLoad(90.0, 600, W, 0, H)]
    loads = AtOnce((LineLoad(0.4, H), *strips))
    solution = PlateModel(Plate(W, H, t, E, nu), clamps, [loads]).solve([FIXED, FIXED])

    D, degree = E * t**3 / 12 / (1 - nu**2), 23
    gauss, weight = np.polynomial.legendre.leggauss(40)

    def basis(x: np.ndarray, length: float, order: int) -> np.ndarray:
        eye = np.eye(degree + 1)
        of = np.array([np.polynomial.legendre.Legendre(row).deriv(order)(2 * x / length - 1) for row in eye])
        return of * (2 / length) ** order  # type: ignore[no-any-return]

    def points(low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
        return low + (gauss + 1) / 2 * (high - low), weight * (high - low) / 2

    def gram(length: float, low: float, high: float, m: int, n: int) -> np.ndarray:
        x, w = points(low, high)
        return (basis(x, length, m) * w) @ basis(x, length, n).T  # type: ignore[no-any-return]

    def all_over(m: int, n: int, p: int, q: int) -> np.ndarray:
        return np.kron(gram(W, 0, W, m, n), gram(H, 0, H, p, q))  # type: ignore[no-any-return]

    K = D * (all_over(2, 2, 0, 0) + all_over(0, 0, 2, 2) + nu * (all_over(2, 0, 0, 2) + all_over(0, 2, 2, 0)))
    K += D * 2 * (1 - nu) * all_over(1, 1, 1, 1)
    for p in pads:
        K += k * np.kron(gram(W, p.x0, p.x1, 0, 0), gram(H, p.y0, p.y1, 0, 0))
    work = np.zeros(len(K))
    for p in strips:
        (x, wx), (y, wy) = points(p.x0, p.x1), points(p.y0, p.y1)
        work += p.total / ((p.x1 - p.x0) * H) * np.kron(basis(x, W, 0) @ wx, basis(y, H, 0) @ wy)
    (x, wx), top = points(0, W), np.array([H])
    work += 0.4 * np.kron(basis(x, W, 0) @ wx, basis(top, H, 0)[:, 0])
    c = np.linalg.solve(K, work).reshape(degree + 1, degree + 1)

    at_x, at_y = np.array([0.0, 250.0, 500.0, 830.0, W]), np.array([0.0, 150.0, 400.0, H])
    w = basis(at_x, W, 0).T @ c @ basis(at_y, H, 0)
    assert solution.deflection(at_x, at_y)[0] == pytest.approx(w, rel=2e-3, abs=2e-3 * np.abs(w).max())
    for i, p in enumerate(pads):
        (x, wx), (y, wy) = points(p.x0, p.x1), points(p.y0, p.y1)
        pressed = k * (basis(x, W, 0).T @ c @ basis(y, H, 0))
        F, Mx = wx @ pressed @ wy, wx @ pressed @ (wy * y)
        assert solution.F[0, i] == pytest.approx(F, rel=2e-3)
        assert solution.Mx[0, i] == pytest.approx(Mx, rel=2e-3)
    # Stresses above the clamps from the same polynomials, on the face that is pushed.
    at_x, at_y = np.array([300.0, 420.0, 500.0]), np.array([250.0, 450.0])
    bx, by = [basis(at_x, W, n) for n in (0, 1, 2)], [basis(at_y, H, n) for n in (0, 1, 2)]
    xx, yy, xy = (bx[m].T @ c @ by[n] for m, n in ((2, 0), (0, 2), (1, 1)))
    unit = E * t / 2 / (1 - nu**2)
    sx, sy, txy = unit * (xx + nu * yy), unit * (yy + nu * xx), unit * (1 - nu) * xy
    principal = (sx + sy) / 2 + np.sqrt(((sx - sy) / 2) ** 2 + txy**2)
    assert solution.principal_stress("load", at_x, at_y)[0] == pytest.approx(principal, rel=0.01, abs=0.05)


def test_loads_at_once_are_the_sum_where_things_are_linear_and_not_where_they_are_not() -> None:
    plate = Plate(1200, 1100, 12, 70_000, 0.23)
    clamps = [Clamp(x, (Pad(x - 60, x + 60, 0, 120, 5.0),)) for x in (250.0, 950.0)]
    a, b = PatchLoad(500.0, 0, 50, 1100, 1100), Pressure(0.6e-3)
    both = at_once(1.0, at_once(0.75, a), at_once(0.45, b))
    s = PlateModel(plate, clamps, [a, b, both]).solve([FIXED, FIXED])
    share = np.array([0.75, 0.45])
    for of in (s.F, s.Mx, s.Mz):
        assert of[2] == pytest.approx(share @ of[:2], rel=1e-9)
    assert s.deflection(600.0, 900.0)[2] == pytest.approx(share @ s.deflection(600.0, 900.0)[:2, 0, 0], rel=1e-9)
    stress = s.peaks(12.0)["load"]["interior"].stress
    assert stress[2] < share @ stress[:2] * (1 - 1e-3)
    assert s.residual.max() < 1e-8


def test_strips_of_one_pressure_are_that_pressure() -> None:
    plate = Plate(1200, 1100, 12, 70_000, 0.23)
    clamps = [Clamp(x, (Pad(x - 60, x + 60, 0, 120, 5.0),)) for x in (250.0, 950.0)]
    borders = [0.0, 180.0, 700.0, 1200.0]
    strips = [PatchLoad(1e-3 * (x1 - x0) * 1100, x0, x1, 0, 1100) for x0, x1 in pairwise(borders)]
    s = PlateModel(plate, clamps, [Pressure(1e-3), AtOnce(tuple(strips))]).solve([FIXED, FIXED])
    assert s.F[1] == pytest.approx(s.F[0], rel=1e-9) and s.Mx[1] == pytest.approx(s.Mx[0], rel=1e-9)
    assert s.peaks(12.0)["load"]["interior"].stress[1] == pytest.approx(s.peaks(12.0)["load"]["interior"].stress[0], rel=1e-6)
