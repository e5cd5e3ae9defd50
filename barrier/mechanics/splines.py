"""Quintic B-splines on a rectangle: lines, integrals, the banded system and its bodies, peak search.

A plate needs a deflection with continuous slope, and its stress needs a continuous curvature: splines of
degree 5 give both with few unknowns. Where a pad ends, the pressure jumps and with it the fourth derivative
of the deflection; a double knot there (three continuous derivatives) lets the spline follow. Under a line
load the shear jumps, the third derivative: a triple knot.

Source: C. de Boor, "A Practical Guide to Splines" (recurrences of values and derivatives; from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_solve_banded, cholesky_banded

FloatArray = NDArray[np.float64]

DEGREE = 5
SMOOTH = 1  # multiplicity of an ordinary knot: four continuous derivatives
PRESSURE_JUMP = 2  # three continuous derivatives
SHEAR_JUMP = 3  # two continuous derivatives
GAUSS_X, GAUSS_W = np.polynomial.legendre.leggauss(DEGREE + 1)  # exact for the product of two splines


@dataclass(frozen=True, eq=False)
class Splines:
    """All quintic B-splines on one line.

    breaks: element borders from 0 to the length, mm, rising, shape (m,).
    multiplicity: of the knot at each inner border, shape (m - 2,).

    >>> line = Splines(np.array([0.0, 1.0, 3.0]), np.array([PRESSURE_JUMP]))
    >>> line.size
    8
    >>> bool(np.allclose(line.at(np.array([0.0, 0.4, 3.0])).sum(axis=1), 1.0))  # they add up to one
    True
    """

    breaks: FloatArray
    multiplicity: NDArray[np.intp]

    @cached_property
    def knots(self) -> FloatArray:
        """The knot vector, mm; the ends are repeated so that the ends are free."""
        ends = DEGREE + 1
        return np.repeat(self.breaks, np.concatenate([[ends], self.multiplicity, [ends]]))

    @property
    def size(self) -> int:
        """Number of splines."""
        return len(self.knots) - DEGREE - 1

    @property
    def length(self) -> float:
        """Length of the line, mm."""
        return float(self.breaks[-1])

    def at(self, x: FloatArray, derivative: int = 0) -> FloatArray:
        """Every spline (or its derivative of order 1 or 2) at x, mm: (points, size), unit mm^-derivative."""
        return self.up_to_second(x)[derivative]

    def up_to_second(self, x: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Values, first and second derivatives at x (mm), each of shape (points, size)."""
        first, parts = self.near(x)
        column = first[:, None] + np.arange(DEGREE + 1)
        found = np.zeros((3, len(first), self.size))
        found[:, np.arange(len(first))[:, None], column] = parts
        return found[0], found[1], found[2]

    def near(self, x: FloatArray) -> tuple[NDArray[np.intp], FloatArray]:
        """The six splines that are not zero about x (mm): the number of the first of them, (points,), and their
        values, first and second derivatives, (3, points, 6)."""
        span = np.searchsorted(self.knots, x, side="right") - 1
        span = np.maximum(np.minimum(span, self.size - 1), DEGREE)
        reach = self.knots[span + np.arange(1 - DEGREE, DEGREE + 1)[:, None]]  # the ten knots about each point
        before, after = x - reach[:DEGREE], reach[DEGREE:] - x
        values, shares = np.ones((1, len(span))), []
        for degree in range(1, DEGREE + 1):
            left, right = before[DEGREE - degree :], after[:degree]
            share = values / (left + right)  # of each spline of one degree less, over its support
            values = _outer_difference(right * share, -left * share)
            shares.append(share)
        first = DEGREE * _outer_difference(-shares[-1], -shares[-1])
        slopes = (DEGREE - 1) * _outer_difference(-shares[-2], -shares[-2])  # of the splines of degree 4
        bent = slopes / (before + after)
        second = DEGREE * _outer_difference(-bent, -bent)
        return span - DEGREE, np.array([values.T, first.T, second.T])


def _outer_difference(here: FloatArray, before: FloatArray) -> FloatArray:
    """[i] = here[i] - before[i - 1], with nothing beyond the ends: one row more than given."""
    found = np.zeros((len(here) + 1, here.shape[1]))
    found[:-1] = here
    found[1:] -= before
    return found


@dataclass(frozen=True, eq=False)
class Quadrature:
    """Gauss points on a line with the splines and their derivatives there: integrals are exact.

    x, weight: shape (points,), mm. values, first, second: shape (points, size).
    """

    x: FloatArray
    weight: FloatArray
    values: FloatArray
    first: FloatArray
    second: FloatArray

    @classmethod
    def on(cls, line: Splines, borders: Iterable[float]) -> Quadrature:
        """Points on every piece between element borders and further ``borders`` (of pads and loads), mm."""
        cuts = np.unique(np.concatenate([line.breaks, np.fromiter(borders, dtype=float)]))
        half = np.diff(cuts) / 2
        x = ((cuts[:-1] + half)[:, None] + half[:, None] * GAUSS_X).ravel()
        return cls(x, (half[:, None] * GAUSS_W).ravel(), *line.up_to_second(x))

    def within(self, start: float, end: float) -> slice:
        """The points between two of the borders."""
        return slice(int(np.searchsorted(self.x, start)), int(np.searchsorted(self.x, end)))

    def product(self, left: FloatArray, right: FloatArray, part: slice = slice(None)) -> FloatArray:
        """∫ left_i right_j dx, shape (size, size)."""
        found: FloatArray = left[part].T @ (self.weight[part, None] * right[part])
        return found

    def mean(self, start: float, end: float) -> FloatArray:
        """Mean of N_i between two of the borders, shape (size,)."""
        return self.moment(self.within(start, end)) / (end - start)

    def moment(self, part: slice, about: float = 0.0, power: int = 0) -> FloatArray:
        """∫ N_i (x - about)^power dx over a part, shape (size,)."""
        found: FloatArray = self.values[part].T @ (self.weight[part] * (self.x[part] - about) ** power)
        return found


def graded_line(
    length: float,
    knots: Sequence[tuple[float, int, float]],
    fine: Sequence[tuple[float, float]],
    fineness: float,
) -> Splines:
    """Splines on [0, length] with short elements at ``fine`` places, longer ones away.

    length: mm. knots: wished (place, multiplicity, distance); one nearer than its distance (mm) to an end or
    to an earlier one is left out. fine: (place, element length there), mm; an element grows by ``GROWTH`` of
    its distance up to ``LARGEST``. fineness: 2 halves every element.

    >>> line = graded_line(100.0, [(20.0, PRESSURE_JUMP, 1.0), (20.5, SMOOTH, 1.0)], [], 20.0)
    >>> [round(float(b)) for b in line.breaks]
    [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]
    """
    stations: dict[float, int] = {}
    for place, knot, apart in knots:
        if apart < place < length - apart and all(abs(place - s) > apart for s in stations):
            stations[place] = knot
    places, sizes = np.array([*fine, (0.0, np.inf)]).T
    borders = [0.0, *sorted(stations), length]
    x = np.linspace(borders[:-1], borders[1:], STEPS, axis=1)  # (stretches, steps)
    size = np.minimum(LARGEST, (sizes + GROWTH * np.abs(x[:, :, None] - places)).min(axis=2))
    density = fineness / size
    elements = np.zeros(x.shape)
    np.cumsum((density[:, :-1] + density[:, 1:]) / 2 * (x[:, 1:2] - x[:, :1]), axis=1, out=elements[:, 1:])
    breaks, multiplicity = [0.0], []
    for end, place_of, passed in zip(borders[1:], x, elements, strict=True):
        # A hair less than the integral, lest rounding makes one element more of an even division.
        count = max(1, math.ceil(passed[-1] - 1e-9))
        breaks.extend(np.interp(passed[-1] * np.arange(1, count) / count, passed, place_of))
        breaks.append(end)
        multiplicity.extend([SMOOTH] * (count - 1) + [stations.get(end, 0)])
    line = Splines(np.array(breaks), np.array(multiplicity[:-1], dtype=np.intp))
    if line.size <= 2 * DEGREE:  # so few that the bands of their product would fall on one another
        return graded_line(length, knots, fine, 2.0 * fineness)
    return line


LARGEST = 200.0  # mm, largest element
GROWTH = 0.4  # mm of element length per mm away from a fine place
STEPS = 101  # of the element length on each stretch; they place elements only, no result depends on them


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
        return self.free + np.tensordot(b.T, self.shapes, axes=1), b, action


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

    def curvatures(self, coefficients: FloatArray) -> FloatArray:
        """w_xx, w_yy, w_xy on the grid, 1/mm: (3, cases, nx, ny)."""
        found = np.empty((3, len(coefficients), len(self.x), len(self.y)))
        for derivative, (a, b) in zip(found, CURVATURES, strict=True):
            half = self.along[a] @ coefficients
            np.matmul(half.reshape(-1, half.shape[2]), self.up[b].T, out=derivative.reshape(-1, len(self.y)))
        return found


CURVATURES = ((2, 0), (0, 2), (1, 1))  # orders of the derivatives along and up in w_xx, w_yy, w_xy


def curvatures_at(
    along: Splines, up: Splines, coefficients: FloatArray, case: NDArray[np.intp], x: FloatArray, y: FloatArray
) -> FloatArray:
    """w_xx, w_yy, w_xy (1/mm) at points x[i], y[i] (mm) of the cases case[i]: (3, points)."""
    i, along_there = along.near(x)
    j, up_there = up.near(y)
    six = np.arange(DEGREE + 1)
    around = coefficients[case[:, None, None], (i[:, None] + six)[:, :, None], (j[:, None] + six)[:, None, :]]
    columns = along_there.transpose(1, 0, 2) @ around  # (points, derivative, 6)
    return np.array([(columns[:, a] * up_there[b]).sum(axis=1) for a, b in CURVATURES])


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
    faces: Sequence[FloatArray], samples: Samples, zones: Zones, at: Callable[[FloatArray, FloatArray], FloatArray]
) -> list[dict[str, Peak]]:
    """Largest value in each zone of the sampled field (cases, nx, ny) of each face.

    at: the fields themselves at points x, y of shape (places, faces, zones, cases). It is asked at the places of
    ``largest``, then about the better of them, a quarter of the grid apart, and at the top that those suggest.
    """
    within = [(i, j) for _, i, j in zones]
    spots = np.array([largest(field, samples.x, samples.y, within) for field in faces])
    x, y = spots.reshape(len(faces), 2, 2, len(zones), -1).transpose(1, 2, 0, 3, 4)
    x, y, f = _best(x, y, at(x, y))
    left, right = _beside(x, samples.x, [i for i, _ in within])
    low, high = _beside(y, samples.y, [j for _, j in within])
    cross_x, cross_y = np.array([left, right, x, x]), np.array([y, y, low, high])
    f_left, f_right, f_low, f_high = cross = at(cross_x, cross_y)
    top_x, top_y = _vertex(left, x, right, f_left, f, f_right), _vertex(low, y, high, f_low, f, f_high)
    top = at(top_x[None], top_y[None])
    every_x, every_y = np.array([x, *cross_x, top_x]), np.array([y, *cross_y, top_y])
    x, y, f = _best(every_x, every_y, np.array([f, *cross, *top]))
    found: list[dict[str, Peak]] = [{} for _ in faces]
    for name in dict.fromkeys(name for name, _, _ in zones):
        rows = [i for i, (other, _, _) in enumerate(zones) if other == name]
        parts = (v[:, rows].transpose(1, 0, 2) for v in (x, y, f))
        for peaks, x_there, y_there, stress in zip(found, *_best(*parts), strict=True):
            peaks[name] = Peak(stress, x_there, y_there)
    return found


def _best(x: FloatArray, y: FloatArray, f: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """x, y and f where f is largest along the first axis."""
    chosen = f.argmax(axis=0)[None]
    x, y, f = (np.take_along_axis(values, chosen, axis=0)[0] for values in (x, y, f))
    return x, y, f


def _beside(place: FloatArray, line: FloatArray, parts: Sequence[slice]) -> tuple[FloatArray, FloatArray]:
    """A quarter of the lines' distance before and after places (faces, zones, cases), kept in the part of each zone."""
    step = np.diff(line)[np.maximum(np.searchsorted(line, place) - 1, 0)] / 4
    start, end = np.array([(line[part][0], line[part][-1]) for part in parts]).T[:, :, None]
    return np.maximum(place - step, start), np.minimum(place + step, end)


WHOLE = ((slice(None), slice(None)),)


def largest(field: FloatArray, x: FloatArray, y: FloatArray, within: Sequence[tuple[slice, slice]] = WHOLE) -> FloatArray:
    """Two places where each of n fields (n, nx, ny) may be largest: (2, 2, n), x and y (mm) of both.

    First the largest sample; second the top of the parabola through it and its two neighbours, along x and
    along y. A largest sample on the border of the grid stays there. within: slices of x and y to look in, each by
    itself; several give (2, 2, slices * n).
    """
    every = np.arange(len(field))
    spots = []
    for on_x, on_y in within:
        part = field[:, on_x, on_y]
        row = part.max(axis=2).argmax(axis=1)
        column = part[every, row].argmax(axis=1)
        (left, right, _), (low, high, _) = on_x.indices(len(x)), on_y.indices(len(y))
        i, j = left + row, low + column
        spots.append((
            i, np.maximum(i - 1, left), np.minimum(i + 1, right - 1),
            j, np.maximum(j - 1, low), np.minimum(j + 1, high - 1),
        ))  # fmt: skip
    i, before, after, j, below, above = np.array(spots).transpose(1, 0, 2)
    here = field[every, i, j]
    top_x = _vertex(x[before], x[i], x[after], field[every, before, j], here, field[every, after, j])
    top_y = _vertex(y[below], y[j], y[above], field[every, i, below], here, field[every, i, above])
    return np.array([[x[i], top_x], [y[j], top_y]]).reshape(2, 2, -1)


def _vertex(x0: FloatArray, x1: FloatArray, x2: FloatArray, f0: FloatArray, f1: FloatArray, f2: FloatArray) -> FloatArray:
    """Top of the parabola through three points, arrays of one shape; the middle where they do not make a hill."""
    left, right, down_left, down_right = x1 - x0, x2 - x1, f1 - f0, f1 - f2
    slope = down_left * right**2 - down_right * left**2
    bend = 2 * (down_left * right + down_right * left)
    shift = np.divide(slope, bend, out=np.zeros_like(slope), where=bend > 0)
    top: FloatArray = x1 + np.minimum(np.maximum(shift, -left), right)
    return top
