"""Quintic splines on a rectangle: the banded system and its bodies, curvatures on a grid, peak search.

The splines on each of its two lines are in :mod:`barrier.mechanics.spline_lines`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_solve_banded, cholesky_banded

from barrier.mechanics.spline_lines import (
    DEGREE,
    LARGEST,
    PRESSURE_JUMP,
    SHEAR_JUMP,
    FloatArray,
    Quadrature,
    Splines,
    graded_line,
)

__all__ = [
    "DEGREE",
    "LARGEST",
    "PRESSURE_JUMP",
    "SHEAR_JUMP",
    "FloatArray",
    "OnBodies",
    "Peak",
    "Quadrature",
    "Samples",
    "Splines",
    "Sums",
    "Zones",
    "banded_sum",
    "curvatures_at",
    "edge_zones",
    "graded_line",
    "largest",
    "lines_between",
    "peaks_by_zone",
]


@dataclass(frozen=True, eq=False)
class Sums:
    """A symmetric matrix Σ along ⊗ up over the splines of a rectangle; (n, n) and (m, m) matrices."""

    along: list[FloatArray]
    up: list[FloatArray]

    def add(self, factor: float, along: FloatArray, up: FloatArray) -> None:
        """Add factor along ⊗ up."""
        self.along.append(factor * along)
        self.up.append(up)

    @classmethod
    def bending(cls, D: float, nu: float, X: Quadrature, Y: Quadrature) -> Sums:
        """Energy of a plate, ∫ D (w_xx² + w_yy² + 2 nu w_xx w_yy + 2 (1 - nu) w_xy²); D in N mm."""
        energy = cls([], [])
        x20, y20 = X.product(X.second, X.values), Y.product(Y.second, Y.values)
        energy.add(D, X.product(X.second, X.second), Y.product(Y.values, Y.values))
        energy.add(D, X.product(X.values, X.values), Y.product(Y.second, Y.second))
        energy.add(D * nu, x20, y20.T)
        energy.add(D * nu, x20.T, y20)
        energy.add(2 * D * (1 - nu), X.product(X.first, X.first), Y.product(Y.first, Y.first))
        return energy

    def solve(self, right: FloatArray) -> FloatArray:
        """Answers to right-hand sides, both (cases, n, m). LinAlgError if not positive definite."""
        swap = len(self.along[0]) < len(self.up[0])  # number along the shorter side: the narrower band
        outer, inner = (self.up, self.along) if swap else (self.along, self.up)
        turned = right.transpose(0, 2, 1) if swap else right
        band = banded_sum(np.array(outer), np.array(inner))
        factor = cholesky_banded(band, overwrite_ab=True, lower=True, check_finite=False)
        flat = cho_solve_banded((factor, True), turned.reshape(len(right), -1).T, check_finite=False).T
        answers: FloatArray = flat.reshape(turned.shape)
        return np.ascontiguousarray(answers.transpose(0, 2, 1)) if swap else answers


def banded_sum(outer: FloatArray, inner: FloatArray) -> FloatArray:
    """Lower band of the symmetric matrix Σ_t outer[t] ⊗ inner[t], as ``cholesky_banded`` takes it.

    outer: (terms, n, n); inner: (terms, m, m); each of half-band ``DEGREE``; m > 2 DEGREE. Number of an
    unknown: i m + j. Returned: (DEGREE m + DEGREE + 1, n m), entry [r, c] = matrix[c + r, c].
    """
    terms, n, m = len(outer), outer.shape[1], inner.shape[1]
    left, right = _diagonals(outer), _diagonals(inner).reshape(terms, -1)
    band = np.zeros((n, m, DEGREE * m + DEGREE + 1))
    for down in range(DEGREE + 1):
        entries = (left[:, :, DEGREE + down].T @ right).reshape(n, m, 2 * DEGREE + 1)
        # What lies above the diagonal is the mirror image of what lies below.
        across = -DEGREE if down else 0
        band[:, :, down * m + across : down * m + DEGREE + 1] = entries[:, :, DEGREE + across :]
    return band.reshape(n * m, -1).T


def _diagonals(stack: FloatArray) -> FloatArray:
    """[t, i, DEGREE + k] = stack[t, i + k, i] for k from -DEGREE to DEGREE, zero outside the matrix."""
    column = np.arange(stack.shape[1])
    padded = np.pad(stack, ((0, 0), (DEGREE, DEGREE), (0, 0)))
    found: FloatArray = padded[:, column[:, None] + np.arange(2 * DEGREE + 1), column[:, None]]
    return found


@dataclass(frozen=True, eq=False)
class OnBodies:
    """An elastic rectangle held by rigid bodies, factorised; the bodies not yet on their bases.

    free: answers to the loads with bodies at rest, (loads, n, m). shapes: answers to unit movements of the
    bodies, (movements, n, m). grip: stiffness of the rectangle seen by the bodies, (movements, movements).
    pull: its action on the bodies at rest, (movements, loads). alone: stiffness of each movement with the
    rectangle at rest, (movements,).
    """

    free: FloatArray
    shapes: FloatArray
    grip: FloatArray
    pull: FloatArray
    alone: FloatArray

    @classmethod
    def of(cls, energy: Sums, loads: FloatArray, push: FloatArray, own: FloatArray) -> OnBodies:
        """Factorise once; loads (loads, n, m) and pushes of unit movements (movements, n, m) go on the right.

        own: stiffness of the springs over the movements, the rectangle at rest, (movements, movements).
        """
        answers = energy.solve(np.concatenate([loads, push]))
        free, shapes = answers[: len(loads)], answers[len(loads) :]
        flat = push.reshape(len(push), -1)
        grip = own - flat @ shapes.reshape(len(push), -1).T
        pull = flat @ free.reshape(len(loads), -1).T
        return cls(free, shapes, (grip + grip.T) / 2, pull, own.diagonal())

    def settle(self, K: FloatArray, moves: NDArray[np.bool_]) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Coefficients (loads, n, m), then movements and actions on the bases, (movements, loads).

        K: stiffness of the bases over the movements; moves: False where a base is fixed. LinAlgError if
        nothing resists some movement.
        """
        b = np.zeros_like(self.pull)
        if moves.any():
            unit = np.sqrt((self.alone + K.diagonal())[moves])  # mm and rad to one scale
            total = (self.grip + K)[np.ix_(moves, moves)] / np.outer(unit, unit)
            if np.linalg.eigvalsh(total)[0] < SINGULAR:
                raise np.linalg.LinAlgError("the bodies can move without resistance")
            b[moves] = np.linalg.solve(total, self.pull[moves] / unit[:, None]) / unit[:, None]
        action = np.where(moves[:, None], K @ b, self.pull - self.grip @ b)
        moved = (b.T @ self.shapes.reshape(len(b), -1)).reshape(self.free.shape)
        return self.free + moved, b, action


ALIKE = 1e-7  # relative: values that differ by less are one value twice, as at the two ends of a symmetric panel
SINGULAR = 1e-8  # of the scaled stiffness of the bodies; rounding leaves up to 1e-10


@dataclass(frozen=True, eq=False)
class Samples:
    """A grid of lines x (nx,) by y (ny,), mm, with the splines of both directions evaluated there once."""

    x: FloatArray
    y: FloatArray
    along: tuple[FloatArray, FloatArray, FloatArray]
    up: tuple[FloatArray, FloatArray, FloatArray]

    @classmethod
    def on(cls, x_line: Splines, y_line: Splines, x: FloatArray, y: FloatArray) -> Samples:
        """The grid of the lines x by y (mm)."""
        return cls(x, y, x_line.up_to_second(x), y_line.up_to_second(y))

    def values(self, coefficients: FloatArray) -> FloatArray:
        """w on the grid, (cases, nx, ny), from coefficients (cases, size x, size y)."""
        found: FloatArray = self.along[0] @ coefficients @ self.up[0].T
        return found

    def curvatures(self, coefficients: FloatArray) -> list[FloatArray]:
        """w_xx, w_yy, w_xy on the grid, 1/mm: each (cases, nx, ny); of one case alone (nx, ny)."""
        return [self.along[a] @ coefficients @ self.up[b].T for a, b in CURVATURES]


CURVATURES = ((2, 0), (0, 2), (1, 1))  # orders of the derivatives along and up in w_xx, w_yy, w_xy


def curvatures_at(
    along: Splines, up: Splines, coefficients: FloatArray, case: NDArray[np.intp], x: FloatArray, y: FloatArray
) -> list[FloatArray]:
    """w_xx, w_yy, w_xy (1/mm) at points x[i], y[i] (mm) of the cases case[i]: each (points,)."""
    i, along_there = along.near(x)
    j, up_there = up.near(y)
    six = np.arange(DEGREE + 1)
    around = coefficients[case[:, None, None], (i[:, None] + six)[:, :, None], (j[:, None] + six)[:, None, :]]
    columns = along_there.transpose(1, 0, 2) @ around  # (points, derivative, 6)
    return [(columns[:, a] * up_there[b]).sum(axis=1) for a, b in CURVATURES]


def lines_between(breaks: FloatArray, per_element: int, extra: Iterable[float]) -> FloatArray:
    """Sorted positions (mm): ``per_element`` on every element, its borders, and ``extra`` ones.

    >>> lines_between(np.array([0.0, 2.0, 6.0]), 2, [5.0])
    array([0., 1., 2., 4., 5., 6.])
    """
    parts = [breaks[:-1] + np.diff(breaks) * i / per_element for i in range(per_element)]
    return np.unique(np.concatenate([*parts, breaks[-1:], np.fromiter(extra, dtype=float)]))


Zones = tuple[tuple[str, slice, slice], ...]


def edge_zones(x: FloatArray, y: FloatArray, band: float) -> Zones:
    """Zones as (name, slice of the lines x, slice of the lines y); "side" comes twice, left and right.

    band: mm; edge zones reach so far in, "interior" is the rest. The lines at the border belong to both.
    """
    left, right = int(np.searchsorted(x, band)), int(np.searchsorted(x, x[-1] - band))
    low, high = int(np.searchsorted(y, band)), int(np.searchsorted(y, y[-1] - band))
    everywhere = slice(None)
    return (
        ("interior", slice(left, right + 1), slice(low, high + 1)),
        ("bottom", everywhere, slice(0, low + 1)),
        ("side", slice(0, left + 1), everywhere),
        ("side", slice(right, None), everywhere),
        ("top", everywhere, slice(high, None)),
    )


@dataclass(frozen=True, eq=False)
class Peak:
    """Largest principal stress (MPa) of every load case with its place x, y (mm): arrays (loads,)."""

    stress: FloatArray
    x: FloatArray
    y: FloatArray


def peaks_by_zone(
    fields: Iterable[FloatArray], samples: Samples, zones: Zones, at: Callable[[FloatArray, FloatArray], FloatArray]
) -> dict[str, Peak]:
    """Largest value of every sampled field in each zone; the arrays of a Peak have one entry a field.

    fields: single ones or stacks, as of ``largest``.
    at: the fields themselves at points x, y of shape (places, fields, zones). It is asked at the second place of
    ``largest``, about it at a quarter of the grid, and at the top that those suggest.
    """
    within = [(i, j) for _, i, j in zones]
    spots, sample = _largest(fields, samples.x, samples.y, within)
    (sample_x, x), (sample_y, y) = spots.reshape(2, 2, -1, len(zones))
    left, right = _beside(x, samples.x, [i for i, _ in within])
    low, high = _beside(y, samples.y, [j for _, j in within])
    every_x, every_y = np.array([x, left, right, x, x]), np.array([y, y, y, low, high])
    f, f_left, f_right, f_low, f_high = every_f = at(every_x, every_y)
    top_x, top_y = _vertex(left, x, right, f_left, f, f_right), _vertex(low, y, high, f_low, f, f_high)
    top = at(top_x[None], top_y[None])
    every_f = np.array([sample.reshape(x.shape), *every_f, *top])
    x, y, f = _best(np.array([sample_x, *every_x, top_x]), np.array([sample_y, *every_y, top_y]), every_f)
    found = {}
    for name in dict.fromkeys(name for name, _, _ in zones):
        rows = [i for i, (other, _, _) in enumerate(zones) if other == name]
        x_there, y_there, value = _best(x.T[rows], y.T[rows], f.T[rows])
        found[name] = Peak(value, x_there, y_there)
    return found


def _best(x: FloatArray, y: FloatArray, f: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """x, y and f where f is largest along the first axis."""
    chosen = first_largest(f, axis=0)[None]
    x, y, f = (np.take_along_axis(values, chosen, axis=0)[0] for values in (x, y, f))
    return x, y, f


def first_largest(values: FloatArray, axis: int | None = None) -> Any:
    """Index of the largest value, as ``argmax``; of values alike but for rounding the first, on every machine the same.

    >>> int(first_largest(np.array([1.0, 3.0, 3.0 + 1e-12])))
    1
    """
    top = values.max(axis=axis, keepdims=True)
    return (values >= top - ALIKE * np.abs(top)).argmax(axis=axis)


def _beside(place: FloatArray, line: FloatArray, parts: Sequence[slice]) -> tuple[FloatArray, FloatArray]:
    """A quarter of the lines' distance before and after places (fields, zones), kept in the part of each zone."""
    step = np.diff(line)[np.maximum(np.searchsorted(line, place) - 1, 0)] / 4
    start, end = np.array([(line[part][0], line[part][-1]) for part in parts]).T
    return np.maximum(place - step, start), np.minimum(place + step, end)


WHOLE = ((slice(None), slice(None)),)


def largest(
    fields: Iterable[FloatArray], x: FloatArray, y: FloatArray, within: Sequence[tuple[slice, slice]] = WHOLE
) -> FloatArray:
    """Two places where each of n fields may be largest: (2, 2, n), x and y (mm) of both.

    First the largest sample; second the top of the parabola through it and its two neighbours, along x and
    along y. A largest sample on the border of the grid stays there. fields: single ones (nx, ny) or stacks (fields, nx, ny),
    looked at one after another, so that none need be kept. within: slices of x and y to look in, each by itself; several
    give (2, 2, n * slices).
    """
    return _largest(fields, x, y, within)[0]


def _largest(
    fields: Iterable[FloatArray], x: FloatArray, y: FloatArray, within: Sequence[tuple[slice, slice]]
) -> tuple[FloatArray, FloatArray]:
    """The places of ``largest``, and the values at the first ones: (n * slices,)."""
    first_x, end_x = np.array([part.indices(x.size)[:2] for part, _ in within]).T
    first_y, end_y = np.array([part.indices(y.size)[:2] for _, part in within]).T
    spots, f = [], []
    for field in fields:
        stack = field.reshape(-1, x.size, y.size)
        i, j = np.array([_spots(stack[:, along, up]) for along, up in within]).transpose(1, 2, 0)
        i, j = i + first_x, j + first_y
        left, right = np.maximum(i - 1, first_x), np.minimum(i + 1, end_x - 1)
        low, high = np.maximum(j - 1, first_y), np.minimum(j + 1, end_y - 1)
        columns, rows = np.array([left, i, right, i, i]), np.array([j, j, j, low, high])
        spots.append(np.array([left, i, right, low, j, high]).reshape(6, -1))
        f.append(stack[np.arange(len(stack))[:, None], columns, rows].reshape(5, -1))
    at, f_at = np.concatenate(spots, axis=1), np.concatenate(f, axis=1)
    x_there, y_there = x[at[:3]], y[at[3:]]
    top_x, top_y = _vertex(*x_there, *f_at[:3]), _vertex(*y_there, *f_at[[3, 1, 4]])
    return np.array([[x_there[1], top_x], [y_there[1], top_y]]), f_at[1]


def _spots(stack: FloatArray) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Lines of x and of y on which each field of a stack (fields, nx, ny) is largest; of alike ones the first."""
    if stack.shape[2] < NARROW:
        i, j = np.divmod(first_largest(stack.reshape(len(stack), -1), axis=1), stack.shape[2])
        return i, j
    of_line = stack.max(axis=2)
    top = of_line.max(axis=1, keepdims=True)
    enough = top - ALIKE * np.abs(top)
    i = (of_line >= enough).argmax(axis=1)
    return i, (stack[np.arange(len(stack)), i] >= enough).argmax(axis=1)


NARROW = 16  # lines of a strip so narrow that it is looked through as a whole


def _vertex(x0: FloatArray, x1: FloatArray, x2: FloatArray, f0: FloatArray, f1: FloatArray, f2: FloatArray) -> FloatArray:
    """Top of the parabola through three points, arrays of one shape; the middle where they do not make a hill."""
    left, right, down_left, down_right = x1 - x0, x2 - x1, f1 - f0, f1 - f2
    slope = down_left * right**2 - down_right * left**2
    bend = 2 * (down_left * right + down_right * left)
    shift = np.divide(slope, bend, out=np.zeros_like(slope), where=bend > 0)
    top: FloatArray = x1 + np.minimum(np.maximum(shift, -left), right)
    return top
