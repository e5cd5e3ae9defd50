"""Pads on a laminate, clamp bodies and their bases: the small system that is left when the panel is condensed on its pads.

The panel with half of every pad on each outer face is factorised once. All else changes only the forces at the pads:
pads of other stiffness, a lost clamp, a base that gives way, pads that touch one face only. With u the panel's unknowns, q
those that work at a pad, b the movements of the bodies and C the panel's compliance at the pads:

    q = q_ref - C t,   t = (P - P_ref) q + P_qb b + r(q, b),   P_bq q + (P_bb + K_base) b + r_b = 0

r is what pads on one face do otherwise than pads on both.
"""

from __future__ import annotations

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
PATIENCE = 300  # rounds; G = 0.01 MPa under pads of 200 N/mm3 takes 120, a warm film under a usual liner about 10


@dataclass(frozen=True, eq=False)
class OnPad:
    """Tables of one pad: its points with weights, splines there, and which of q and b they belong to.

    x, y: points of the two directions (mm); wx, wy: weights; along, up: splines at the points, (points, splines).
    w, d: places in q of the splines' unknowns, flat along by up. body: place in b of its clamp's u, a, c.
    """

    pad: Pad
    body: slice
    middle: float
    x: FloatArray
    y: FloatArray
    wx: FloatArray
    wy: FloatArray
    along: FloatArray
    up: FloatArray
    w: NDArray[np.intp]
    d: NDArray[np.intp]

    @cached_property
    def shapes(self) -> FloatArray:
        """Movement of the body at every point for unit u, a, c: (3, points x, points y)."""
        one = np.ones((self.x.size, self.y.size))
        return np.array([one, one * self.y, one * (self.x - self.middle)[:, None]])

    @property
    def clamp(self) -> int:
        """Number of its clamp."""
        return int(self.body.start // 3)

    @cached_property
    def weight(self) -> FloatArray:
        """Area of every point, mm²: (points x, points y)."""
        return np.outer(self.wx, self.wy)

    @cached_property
    def unit(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Of springs 1 N/mm3: over splines; of splines with the body; of the body."""
        along, up = self.along.T @ (self.wx[:, None] * self.along), self.up.T @ (self.wy[:, None] * self.up)
        own = np.asarray(np.kron(along, up), dtype=float)
        mixed = np.array([(self.along.T @ (self.weight * s) @ self.up).ravel() for s in self.shapes]).T
        flat = self.shapes.reshape(3, -1)
        return own, mixed, flat @ (flat * self.weight.ravel()).T


class Grip:
    """The pads of a panel, as its condensed unknowns see them.

    model: the plate whose clamps, splines and rules of integration these are. b1, b2: shares of the layers in D (an opening
    moves each by the other's share).
    """

    def __init__(self, model: PlateModel, numbering: Numbering, shares: tuple[float, float]) -> None:
        self.b1, self.b2 = shares
        found, pieces = [], []
        for n, clamp in enumerate(model.clamps):
            for pad in clamp.pads:
                x, wx, along, i = _across_pad(model.x_line, model.x_rule, pad.x0, pad.x1)
                y, wy, up, j = _across_pad(model.y_line, model.y_rule, pad.y0, pad.y1)
                unknowns = [numbering.of[f][np.ix_(i, j)].ravel() for f in ("w", "d")]
                pieces.extend(unknowns)
                found.append(((pad, slice(3 * n, 3 * n + 3), clamp.x, x, y, wx, wy, along, up), unknowns))
        self.unknowns: NDArray[np.intp] = np.unique(np.concatenate(pieces))
        self.movements = 3 * len(model.clamps)
        self.pads = [OnPad(*tables, *(np.searchsorted(self.unknowns, own) for own in unknowns)) for tables, unknowns in found]

    def stiffness(self, k: Sequence[float]) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Pads of k (N/mm3, one a pad), half on each face: over q, of q with b, and over b."""
        n = self.unknowns.size
        P, mixed, body = np.zeros((n, n)), np.zeros((n, self.movements)), np.zeros((self.movements, self.movements))
        half = (self.b1 - self.b2) / 2
        opening = (self.b1**2 + self.b2**2) / 2
        for pad, stiff in zip(self.pads, k, strict=True):
            own, with_body, of_body = pad.unit
            P[np.ix_(pad.w, pad.w)] += stiff * own
            P[np.ix_(pad.w, pad.d)] += stiff * half * own
            P[np.ix_(pad.d, pad.w)] += stiff * half * own
            P[np.ix_(pad.d, pad.d)] += stiff * opening * own
            mixed[pad.w, pad.body] -= stiff * with_body
            mixed[pad.d, pad.body] -= stiff * half * with_body
            body[pad.body, pad.body] += stiff * of_body
        return P, mixed, body

    def gaps(self, pad: OnPad, q: FloatArray, b: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Of front and back layer against the body at the points of a pad, mm: each (cases, points x, points y)."""
        shape = (-1, pad.along.shape[1], pad.up.shape[1])
        w, d = (pad.along @ q[at].T.reshape(shape) @ pad.up.T for at in (pad.w, pad.d))
        w = w - np.tensordot(b[pad.body].T, pad.shapes, axes=1)
        return w - self.b2 * d, w + self.b1 * d

    def forces(self, pad: OnPad, front: FloatArray, back: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """What pressures on the two faces (MPa, positive against a positive movement) work on w, d and the body."""

        def on(pressure: FloatArray) -> FloatArray:
            done: FloatArray = pad.along.T @ (pressure * pad.weight) @ pad.up
            return done.reshape(len(pressure), -1).T

        both = front + back
        body = -np.einsum("cab,iab->ic", both * pad.weight, pad.shapes)
        return on(both), on(self.b1 * back - self.b2 * front), body


def _across_pad(
    line: Splines, rule: Quadrature, start: float, end: float
) -> tuple[FloatArray, FloatArray, FloatArray, NDArray[np.intp]]:
    """Points and weights on a pad in one direction, the splines that are not zero there, and their numbers; the pad's two
    ends are points without weight, for there its pressure is largest."""
    part = rule.within(start, end)
    low, high = max(start, 0.0), min(end, line.length)
    points, weights = np.array([low, *rule.x[part], high]), np.array([0.0, *rule.weight[part], 0.0])
    numbers = np.flatnonzero(np.abs(rule.values[part]).max(axis=0) > 0.0)
    return points, weights, line.at(points)[:, numbers], numbers


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

    def both_faces(self, K: FloatArray, moves: NDArray[np.bool_]) -> AtPads:
        """Pads that work on both faces; bases of stiffness K over the movements, where they move."""
        return self._settle(self.bodies, K, moves, np.zeros_like(self.q_ref))

    def _settle(self, bodies: OnBodies, K: FloatArray, moves: NDArray[np.bool_], r: FloatArray, rounds: int = 0) -> AtPads:
        q, b, action = bodies.settle(K, moves)
        return AtPads(q.T, b, action, self.more @ q.T + self.mixed @ b + r, rounds)

    def one_face(self, K: FloatArray, moves: NDArray[np.bool_]) -> AtPads:
        """Pads that touch one face only, where the layer there comes towards them.

        Found by repeating: the difference to pads on both faces goes on the right-hand side, all cases at once. ValueError
        if that finds no rest.
        """
        found = self.both_faces(K, moves)
        for rounds in range(1, PATIENCE):
            r, r_b = self._difference(found)
            free = self._solve(self.q_ref - self.C @ r)
            bodies = replace(self.bodies, free=free.T, pull=-self.mixed.T @ free - r_b)
            after = self._settle(bodies, K, moves, r, rounds)
            moved = np.abs(after.t - found.t).max(axis=0)
            found = after
            if (moved <= SETTLED * np.abs(after.t).max(axis=0)).all():
                return found
        raise ValueError(
            f"pads on one face: no rest within {PATIENCE} rounds. Allowed is an interlayer of some stiffness under the pads "
            "(G from about 0.01 MPa); give a larger G, or softer pads."
        )

    def _difference(self, at: AtPads) -> tuple[FloatArray, FloatArray]:
        """Forces of pads on one face less those of pads on both: on q and on the bodies."""
        r, r_b = np.zeros_like(at.q), np.zeros_like(at.b)
        for pad, k in zip(self.grip.pads, self.k, strict=True):
            front, back = self.grip.gaps(pad, at.q, at.b)
            # k once where the face touches, against k/2 on both faces wherever they are
            on_w, on_d, on_body = self.grip.forces(pad, -k / 2 * np.abs(front), k / 2 * np.abs(back))
            r[pad.w] += on_w
            r[pad.d] += on_d
            r_b[pad.body] += on_body
        return r, r_b
