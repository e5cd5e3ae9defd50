"""Quintic B-splines on one line: values and slopes, exact integrals, lines graded towards fine places.

A plate needs a deflection with continuous slope, and its stress needs a continuous curvature: splines of
degree 5 give both with few unknowns. Where a pad ends, the pressure jumps and with it the fourth derivative
of the deflection; a double knot there (three continuous derivatives) lets the spline follow. Under a line
load the shear jumps, the third derivative: a triple knot.

Source: C. de Boor, "A Practical Guide to Splines" (recurrences of values and derivatives; from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

DEGREE = 5
SMOOTH = 1  # multiplicity of an ordinary knot: four continuous derivatives
PRESSURE_JUMP = 2  # three continuous derivatives
SHEAR_JUMP = 3  # two continuous derivatives
STRETCH = 16 * (DEGREE + 1)  # points that are summed up at once: those of sixteen elements
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

    def first_at(self, x: FloatArray) -> NDArray[np.intp]:
        """The first of the six splines that are not zero about each of x (mm), (points,)."""
        span = np.searchsorted(self.knots, x, side="right") - 1
        return np.maximum(np.minimum(span, self.size - 1), DEGREE) - DEGREE

    def near(self, x: FloatArray) -> tuple[NDArray[np.intp], FloatArray]:
        """The six splines that are not zero about x (mm): the number of the first of them, (points,), and their
        values, first and second derivatives, (3, points, 6)."""
        span = self.first_at(x) + DEGREE
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

    x, weight: shape (points,), mm. begin: the first spline that is not zero there, (points,). values, first, second:
    shape (points, size).
    """

    x: FloatArray
    weight: FloatArray
    begin: NDArray[np.intp]
    values: FloatArray
    first: FloatArray
    second: FloatArray

    @classmethod
    def on(cls, line: Splines, borders: Iterable[float]) -> Quadrature:
        """Points on every piece between element borders and further ``borders`` (of pads and loads), mm."""
        cuts = np.unique(np.concatenate([line.breaks, np.fromiter(borders, dtype=float)]))
        half = np.diff(cuts) / 2
        x = ((cuts[:-1] + half)[:, None] + half[:, None] * GAUSS_X).ravel()
        return cls(x, (half[:, None] * GAUSS_W).ravel(), line.first_at(x), *line.up_to_second(x))

    def within(self, start: float, end: float) -> slice:
        """The points between two of the borders."""
        return slice(int(np.searchsorted(self.x, start)), int(np.searchsorted(self.x, end)))

    def product(self, left: FloatArray, right: FloatArray, part: slice = slice(None)) -> FloatArray:
        """∫ left_i right_j dx over a part, shape (size, size); left and right: of the splines at the points, each zero where
        the spline is. Splines far apart have nothing in common: worked out stretch by stretch."""
        found = np.zeros((left.shape[1], right.shape[1]))
        start, stop, _ = part.indices(len(self.x))
        for first in range(start, stop, STRETCH):
            points = slice(first, min(first + STRETCH, stop))
            near = slice(int(self.begin[first]), int(self.begin[points.stop - 1]) + DEGREE + 1)
            found[near, near] += left[points, near].T @ (self.weight[points, None] * right[points, near])
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
    its distance up to ``LARGEST``. fineness: 2 halves every element; a line with no more than 2 ``DEGREE``
    splines is made anew with halved elements until it has more.

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
