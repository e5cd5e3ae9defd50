"""Pads on a laminate, clamp bodies and their bases: the small system that is left when the panel is condensed on its pads.

The panel with half of every pad on each outer face is factorised once. All else changes only the forces at the pads:
pads of other stiffness, a lost clamp, a base that gives way, pads that touch one face only. These forces are written in a few
smooth shapes a pad (polynomials, or its splines where they are fewer), which changes no stress by 0.05 %. With q the panel's
movements in these shapes, b the movements of the bodies and C the panel's compliance at the pads:

    q = q_ref - C t,   t = (P - P_ref) q + P_qb b + r(q, b),   P_bq q + (P_bb + K_base) b + r_b = 0

r is what pads on one face do otherwise than pads on both.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import lu_factor, lu_solve

from barrier.mechanics.laminate_fields import Numbering
from barrier.mechanics.plate import PlateModel
from barrier.mechanics.plate_parts import Pad
from barrier.mechanics.spline_lines import FloatArray, Quadrature, Splines
from barrier.mechanics.splines import OnBodies

SETTLED = 1e-6  # of the largest traction: pads on one face are found when the forces they change move by less
POLYNOMIALS, WAVE = 6, 1.5  # shapes of a pad in one direction: so many and one for each WAVE of sqrt[4](4 D / k) of its length
PATIENCE = 300  # rounds; G = 0.01 MPa under pads of 200 N/mm3 takes 120, a warm film under a usual liner about 10


@dataclass(frozen=True, eq=False)
class Across:
    """A pad in one direction: its points (mm) with weights, the splines that are not zero there with their numbers, and the
    shapes in which what happens between pad and glass is written, orthonormal over the pad; tables (points, shapes).

    The pad's two ends are points without weight, for there its pressure is largest.
    """

    x: FloatArray
    weight: FloatArray
    numbers: NDArray[np.intp]
    splines: FloatArray
    shapes: FloatArray

    @classmethod
    def of(cls, line: Splines, rule: Quadrature, start: float, end: float, wave: float) -> Across:
        """Between start and end; wave: length over which a pressure on the pad changes, mm."""
        part = rule.within(start, end)
        low, high = max(start, 0.0), min(end, line.length)
        x, weight = np.array([low, *rule.x[part], high]), np.array([0.0, *rule.weight[part], 0.0])
        numbers = np.flatnonzero(np.abs(rule.values[part]).max(axis=0) > 0.0)
        splines = shapes = line.at(x)[:, numbers]
        count = POLYNOMIALS + math.ceil((high - low) / wave)
        if count < numbers.size:
            shapes = np.asarray(np.polynomial.legendre.legvander((2 * x - low - high) / (high - low), count - 1), dtype=float)
        triangle = np.asarray(np.linalg.qr(np.sqrt(weight)[:, None] * shapes)[1], dtype=float)
        return cls(x, weight, numbers, splines, np.asarray(np.linalg.solve(triangle.T, shapes.T).T))

    @cached_property
    def onto(self) -> FloatArray:
        """Every spline times every shape, integrated."""
        return self.splines.T @ (self.weight[:, None] * self.shapes)

    @cached_property
    def mass(self) -> FloatArray:
        """Every spline times every other, integrated."""
        return self.splines.T @ (self.weight[:, None] * self.splines)


@dataclass(frozen=True, eq=False)
class OnPad:
    """One pad: both directions, the unknowns of the panel that work on it, and places among what the panel is condensed to.

    unknowns: numbers of those of w and of d, flat along by up. w, d: places in q. body: place in b of its clamp's u, a, c.
    """

    pad: Pad
    body: slice
    middle: float
    along: Across
    up: Across
    unknowns: tuple[NDArray[np.intp], NDArray[np.intp]]
    w: slice
    d: slice

    @property
    def first(self) -> int:
        """Number of the first of its unknowns."""
        return int(min(own.min() for own in self.unknowns))

    @property
    def q(self) -> slice:
        """Place of all its movements in q."""
        return slice(self.w.start, self.d.stop)

    @property
    def clamp(self) -> int:
        """Number of its clamp."""
        return int(self.body.start // 3)

    @cached_property
    def moved(self) -> FloatArray:
        """Movement of the body at every point for unit u, a, c: (3, points x, points y)."""
        one = np.ones((self.along.x.size, self.up.x.size))
        return np.array([one, one * self.up.x, one * (self.along.x - self.middle)[:, None]])

    @cached_property
    def weight(self) -> FloatArray:
        """Area of every point, mm²: (points x, points y)."""
        return np.outer(self.along.weight, self.up.weight)

    @cached_property
    def onto(self) -> FloatArray:
        """Every spline on the pad times every shape, integrated: (splines, shapes)."""
        return np.asarray(np.kron(self.along.onto, self.up.onto), dtype=float)

    @cached_property
    def with_body(self) -> tuple[FloatArray, FloatArray]:
        """Springs 1 N/mm3 of shapes with the body, and of the body: (shapes, 3), (3, 3)."""
        mixed = np.array([(self.along.shapes.T @ (self.weight * m) @ self.up.shapes).ravel() for m in self.moved]).T
        flat = self.moved.reshape(3, -1)
        return mixed, flat @ (flat * self.weight.ravel()).T


class Grip:
    """The pads of a panel, as its condensed unknowns see them.

    q are the movements w and d under every pad, written in its shapes: what pads of other stiffness or on one face do otherwise
    than those the panel was factorised with is a force in these shapes. model: the plate whose clamps, splines and rules of
    integration these are. b1, b2: shares of the layers in D (an opening moves each by the other's share).
    """

    def __init__(self, model: PlateModel, numbering: Numbering, shares: tuple[float, float]) -> None:
        self.b1, self.b2 = shares
        self.pads: list[OnPad] = []
        self.size, self.movements = 0, 3 * len(model.clamps)
        for n, clamp in enumerate(model.clamps):
            for pad in clamp.pads:
                wave = WAVE * (4 * model.plate.D / pad.k) ** 0.25
                along = Across.of(model.x_line, model.x_rule, pad.x0, pad.x1, wave)
                up = Across.of(model.y_line, model.y_rule, pad.y0, pad.y1, wave)
                w, d = (numbering.of[f][np.ix_(along.numbers, up.numbers)].ravel() for f in ("w", "d"))
                middle = self.size + along.shapes.shape[1] * up.shapes.shape[1]
                end = 2 * middle - self.size
                self.pads.append(
                    OnPad(pad, slice(3 * n, 3 * n + 3), clamp.x, along, up, (w, d), slice(self.size, middle), slice(middle, end))
                )
                self.size = end

    @property
    def _halves(self) -> tuple[float, float]:
        """Half on each face: factor of w with d, and of d with itself."""
        return (self.b1 - self.b2) / 2, (self.b1**2 + self.b2**2) / 2

    def on_panel(self, pad: OnPad) -> tuple[NDArray[np.intp], FloatArray]:
        """A pad half on each face as the panel has it, point by point: its unknowns, rising, and their stiffness."""
        mixed, opening = self._halves
        own = pad.pad.k * np.kron(pad.along.mass, pad.up.mass)
        unknowns = np.concatenate(pad.unknowns)
        order = np.argsort(unknowns)
        whole = np.block([[own, mixed * own], [mixed * own, opening * own]])
        return unknowns[order], whole[np.ix_(order, order)]

    def pushes(self, pad: OnPad, begin: int, end: int) -> FloatArray:
        """Unit forces in every shape of a pad as loads on the unknowns from begin to end: (unknowns, shapes of w and d)."""
        found = np.zeros((end - begin, pad.q.stop - pad.q.start))
        for unknowns, place in zip(pad.unknowns, (pad.w, pad.d), strict=True):
            found[unknowns - begin, place.start - pad.q.start : place.stop - pad.q.start] = pad.onto
        return found

    def stiffness(self, k: Sequence[float]) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Pads of k (N/mm3, one a pad), half on each face: over q, of q with b, and over b."""
        P, mixed = np.zeros((self.size, self.size)), np.zeros((self.size, self.movements))
        body = np.zeros((self.movements, self.movements))
        half, opening = self._halves
        for pad, stiff in zip(self.pads, k, strict=True):
            with_body, of_body = pad.with_body
            w, d = np.arange(self.size)[pad.w], np.arange(self.size)[pad.d]
            P[w, w], P[d, d] = stiff, stiff * opening  # the shapes are orthonormal
            P[w, d] = P[d, w] = stiff * half
            mixed[pad.w, pad.body] = -stiff * with_body
            mixed[pad.d, pad.body] = -stiff * half * with_body
            body[pad.body, pad.body] += stiff * of_body
        return P, mixed, body

    def gaps(self, pad: OnPad, q: FloatArray, b: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Of front and back layer against the body at the points of a pad, mm: each (cases, points x, points y)."""
        shape = (-1, pad.along.shapes.shape[1], pad.up.shapes.shape[1])
        w, d = (pad.along.shapes @ q[at].T.reshape(shape) @ pad.up.shapes.T for at in (pad.w, pad.d))
        w -= (b[pad.body].T @ pad.moved.reshape(3, -1)).reshape(w.shape)
        return w - self.b2 * d, w + self.b1 * d

    def forces(self, pad: OnPad, front: FloatArray, back: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """What pressures on the two faces (MPa, positive against a positive movement) work on w, d and the body."""

        def on(pressure: FloatArray) -> FloatArray:
            done: FloatArray = pad.along.shapes.T @ (pressure * pad.weight) @ pad.up.shapes
            return done.reshape(len(pressure), -1).T

        both = front + back
        body = -(pad.moved * pad.weight).reshape(3, -1) @ both.reshape(len(both), -1).T
        return on(both), on(self.b1 * back - self.b2 * front), body


OfBases = tuple[FloatArray, NDArray[np.bool_]]  # stiffness of all bases over the movements, and which of these move


@dataclass(frozen=True, eq=False)
class AtPads:
    """What happens at the pads: the panel's unknowns there q, movements b, actions on the bases and forces t on q beyond
    those of the pads the panel was factorised with; each (its size, cases)."""

    q: FloatArray
    b: FloatArray
    action: FloatArray
    t: FloatArray
    rounds: int = 0


class Condensed:
    """A panel condensed on pads of certain stiffness.

    C: compliance of the panel at its pads, (q, q). q_ref: its answer there to the load cases, (q, cases). factorised, k:
    stiffness of the pads it was factorised with and of those it stands on now, one a pad.
    """

    def __init__(self, grip: Grip, C: FloatArray, q_ref: FloatArray, factorised: Sequence[float], k: Sequence[float]) -> None:
        self.grip, self.C, self.q_ref, self.k = grip, C, q_ref, tuple(k)
        P, self.mixed, body = grip.stiffness(k)
        self.more = P - grip.stiffness(factorised)[0]
        self.factor = lu_factor(np.eye(len(C)) + C @ self.more, overwrite_a=True, check_finite=False)
        shapes = -self._solve(C @ self.mixed)
        stiffness = body + self.mixed.T @ shapes
        free = self._solve(q_ref)
        self.bodies = OnBodies(free.T, shapes.T, (stiffness + stiffness.T) / 2, -self.mixed.T @ free, body.diagonal())

    def _solve(self, right: FloatArray) -> FloatArray:
        found: FloatArray = lu_solve(self.factor, right, check_finite=False)
        return found

    def both_faces(self, base: OfBases) -> AtPads:
        """Pads that work on both faces."""
        return self._settle(self.bodies, base, np.zeros_like(self.q_ref))

    def _settle(self, bodies: OnBodies, base: OfBases, r: FloatArray, rounds: int = 0) -> AtPads:
        q, b, action = bodies.settle(*base)
        return AtPads(q.T, b, action, self.more @ q.T + self.mixed @ b + r, rounds)

    def one_face(self, bases: Sequence[OfBases]) -> list[AtPads]:
        """Pads that touch one face only, where the layer there comes towards them; with each of several sets of bases.

        Found by repeating: the difference to pads on both faces goes on the right-hand side, all cases and bases at once.
        ValueError if that finds no rest.
        """
        found = [self.both_faces(base) for base in bases]
        moving = list(range(len(bases)))
        for rounds in range(1, PATIENCE):
            r, r_b = self._difference(*(np.concatenate([getattr(found[n], of) for n in moving], axis=1) for of in ("q", "b")))
            free = self._solve(np.tile(self.q_ref, len(moving)) - self.C @ r)
            pull = -self.mixed.T @ free - r_b
            parts = zip(list(moving), *(np.split(own, len(moving), axis=1) for own in (r, free, pull)), strict=True)
            for n, own_r, own_free, own_pull in parts:
                after = self._settle(replace(self.bodies, free=own_free.T, pull=own_pull), bases[n], own_r, rounds)
                moved = np.abs(after.t - found[n].t).max(axis=0)
                found[n] = after
                if (moved <= SETTLED * np.abs(after.t).max(axis=0)).all():
                    moving.remove(n)
            if not moving:
                return found
        raise ValueError(
            f"pads on one face: no rest within {PATIENCE} rounds. Allowed is an interlayer of some stiffness under the pads "
            "(G from about 0.01 MPa); give a larger G, or softer pads."
        )

    def _difference(self, q: FloatArray, b: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Forces of pads on one face less those of pads on both: on q and on the bodies."""
        r, r_b = np.zeros_like(q), np.zeros_like(b)
        for pad, k in zip(self.grip.pads, self.k, strict=True):
            front, back = self.grip.gaps(pad, q, b)
            # k once where the face touches, against k/2 on both faces wherever they are
            on_w, on_d, on_body = self.grip.forces(pad, -k / 2 * np.abs(front), k / 2 * np.abs(back))
            r[pad.w] += on_w
            r[pad.d] += on_d
            r_b[pad.body] += on_body
        return r, r_b
