"""A straight beam of cubic Hermite elements along a line: nodes, hinges, stiffness, consistent loads, moments.

Bending in one plane only. Each node has a deflection v and a turn v'; a hinge has a turn on either side of it. Units: N, mm, rad.
Source: any text on the finite element method (Hermite beam element).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
SAME_PLACE = 1e-6  # mm: nodes closer than this are one


@dataclass(frozen=True, eq=False)
class Beam:
    """Nodes of a beam, mm, rising, shape (nodes,), and which of them are hinges, shape (nodes,).

    >>> Beam(np.array([0.0, 100.0, 200.0]), np.array([False, True, False])).size
    7
    """

    nodes: Floats
    hinges: NDArray[np.bool_]

    @classmethod
    def on(cls, places: Sequence[float], hinges: Sequence[float] = ()) -> Beam:
        """A beam with nodes at these places and hinges at some of them, mm."""
        x = np.unique(np.round(np.asarray([*places, *hinges], dtype=float) / SAME_PLACE) * SAME_PLACE)
        is_hinge = np.zeros(len(x), dtype=bool)
        for s in hinges:
            is_hinge[int(np.argmin(np.abs(x - s)))] = True
        return cls(x, is_hinge)

    @cached_property
    def _first(self) -> NDArray[np.intp]:
        """Number of the deflection of every node; its turn (or turns: before, behind) follow."""
        return np.concatenate([[0], np.cumsum(np.where(self.hinges, 3, 2))])

    @property
    def size(self) -> int:
        """Number of movements: a deflection and a turn a node, two turns at a hinge."""
        return int(self._first[-1])

    @property
    def deflections(self) -> NDArray[np.intp]:
        """Numbers of the deflections of the nodes, (nodes,)."""
        return self._first[:-1]

    @cached_property
    def elements(self) -> NDArray[np.intp]:
        """Numbers of the four movements (v, v', v, v') of every element, (elements, 4)."""
        left, right = self._first[:-2], self._first[1:-1]
        behind = left + np.where(self.hinges[:-1], 2, 1)
        return np.stack([left, behind, right, right + 1], axis=1)

    @cached_property
    def lengths(self) -> Floats:
        """Length of every element, mm, (elements,)."""
        return np.diff(self.nodes)

    def stiffness(self, EI: float) -> Floats:
        """Bending stiffness over the movements, (size, size); EI in N mm²."""
        K = np.zeros((self.size, self.size))
        for at, h in zip(self.elements, self.lengths, strict=True):
            K[np.ix_(at, at)] += self.element(EI, float(h))
        return K

    @staticmethod
    def element(EI: float, h: float) -> Floats:
        """Stiffness of one element of length h mm over (v, v', v, v'): (4, 4)."""
        a, b, c, d = 12.0, 6.0 * h, 4.0 * h * h, 2.0 * h * h
        one = np.array([[a, b, -a, b], [b, c, -b, d], [-a, -b, a, -b], [b, d, -b, c]])
        return np.asarray(EI / h**3 * one)

    def shapes(self, s: ArrayLike, element: ArrayLike | None = None) -> Floats:
        """Every movement's shape at places s (points,) mm on the beam: (points, size).

        element: numbers of the elements the places belong to, where they stand on a node; else the one that begins there.
        """
        x = np.atleast_1d(np.asarray(s, dtype=float))
        e = self.element_of(x) if element is None else np.asarray(element)
        found = np.zeros((len(x), self.size))
        found[np.arange(len(x))[:, None], self.elements[e]] = hermite((x - self.nodes[e]) / self.lengths[e], self.lengths[e])
        return found

    def element_of(self, s: ArrayLike) -> NDArray[np.intp]:
        """Number of the element each place ``s`` (mm) lies on, the one that begins there if it is a node."""
        found = np.searchsorted(self.nodes, np.asarray(s, dtype=float) + SAME_PLACE, side="right") - 1
        return np.minimum(np.maximum(found, 0), len(self.lengths) - 1)


def hermite(t: Floats, h: Floats) -> Floats:
    """The four cubic shapes at t = 0..1 of elements of length h mm: (points, 4), for v, v', v, v'."""
    return np.stack(
        [1 - 3 * t**2 + 2 * t**3, h * (t - 2 * t**2 + t**3), 3 * t**2 - 2 * t**3, h * (t**3 - t**2)], axis=-1
    )  # fmt: skip


GAUSS_X, GAUSS_W = np.polynomial.legendre.leggauss(4)


def line_load(beam: Beam, q: float, s0: float, s1: float) -> Floats:
    """Consistent forces of a line load q N/mm from s0 to s1 mm, (size,).

    >>> beam = Beam.on([0.0, 500.0, 1000.0])
    >>> float(line_load(beam, 2.0, 0.0, 1000.0)[beam.deflections].sum().round(6))
    2000.0
    """
    found = np.zeros(beam.size)
    np.add.at(found, beam.elements, line_on_elements(beam, q, s0, s1))
    return found


def line_on_elements(beam: Beam, q: float, s0: float, s1: float) -> Floats:
    """Consistent forces of a line load q N/mm from s0 to s1 mm on every element, (elements, 4)."""
    x0, x1 = beam.nodes[:-1], beam.nodes[1:]
    a, b = np.maximum(s0, x0), np.minimum(s1, x1)
    half = np.maximum(b - a, 0.0) / 2
    s = (a + half)[:, None] + half[:, None] * GAUSS_X
    h = beam.lengths[:, None]
    return np.asarray(q * half[:, None] * np.einsum("g,egi->ei", GAUSS_W, hermite((s - x0[:, None]) / h, h)))


def point_load(beam: Beam, P: float, s: float) -> Floats:
    """Consistent forces of a point load P N at s mm, (size,)."""
    return np.asarray(P * beam.shapes([s])[0])
