"""What a run of panels under a rail answers: movement, moment and connection of the rail, and every panel on its clamps.

Signs: v and w are positive the way loads push; M = EI v'', so that a rail that bulges with the load, as over an opening, has a
negative moment; r is the push of the rail on the glass, N/mm. Arrays have one entry a load case last unless said otherwise.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.beam import SAME_PLACE, Beam, Floats, hermite, line_on_elements, point_load
from barrier.mechanics.plate import PlateSolution
from barrier.mechanics.rail_parts import Rail, RunLoad, RunPanel
from barrier.mechanics.splines import first_largest, lines_between


@dataclass(frozen=True, eq=False)
class PanelAnswer:
    """One panel that is left: its plate's solution (F, Mx, Mz, peaks as ever), and the rail along its top edge.

    ``local`` the rail's nodes on it, ``movements`` theirs (movements, cases); ``x`` and ``weight`` the points of the integrals
    along the top edge (mm), ``push`` what the rail pushes there (N/mm), (points, cases).
    """

    panel: RunPanel
    local: Beam
    movements: Floats
    k_r: float
    x: Floats
    weight: Floats
    push: Floats
    plate: PlateSolution

    @property
    def F(self) -> Floats:
        """Push on every clamp, N: (cases, clamps)."""
        return self.plate.F

    @property
    def Mx(self) -> Floats:
        """Moment on every clamp about the bottom edge, N mm: (cases, clamps)."""
        return self.plate.Mx

    @property
    def Mz(self) -> Floats:
        """Twist of every clamp about its vertical axis, N mm: (cases, clamps)."""
        return self.plate.Mz

    @property
    def from_rail(self) -> Floats:
        """What the rail pushes the panel with in all, N: (cases,)."""
        return np.asarray(self.weight @ self.push)

    def connection(self, x: Floats | float) -> Floats:
        """Push of the rail on the glass, N/mm, at places x (mm) of the panel: (places, cases)."""
        at = np.atleast_1d(np.asarray(x, dtype=float))
        w = self.plate.deflection(at, self.panel.plate.height)[:, :, 0].T
        return np.asarray(self.k_r * (self.local.shapes(at) @ self.movements - w))

    @cached_property
    def _largest_connection(self) -> tuple[Floats, Floats]:
        x = lines_between(self.local.nodes, 4, ())
        size = np.abs(r := self.connection(x))
        at = first_largest(size, axis=0)
        return np.take_along_axis(r, at[None], axis=0)[0], x[at]

    @property
    def largest_connection(self) -> Floats:
        """Push of the rail on the glass of largest size, N/mm: (cases,). It grows without bound with k_r: see it with it."""
        return self._largest_connection[0]

    @property
    def largest_connection_x(self) -> Floats:
        """Where it is, mm from the left edge: (cases,)."""
        return self._largest_connection[1]

    def mean_connection(self, length: float) -> Floats:
        """Push of the rail on the glass averaged over ``length`` mm, of largest size of either sign, N/mm: (2, cases).

        The first row is the largest push, the second the largest pull (negative or nought). A connection is rated for a
        length, never for a point.
        """
        W = self.panel.plate.width
        length = min(length, W)
        x = np.linspace(0.0, W, max(5, round(W / 5.0)) + 1)
        r = self.connection(x)
        sums = np.concatenate([np.zeros((1, r.shape[1])), np.cumsum((r[1:] + r[:-1]) / 2 * np.diff(x)[:, None], axis=0)])
        starts = np.concatenate([x, x - length])  # every length that begins or ends at a point, the last one at the right edge
        starts = starts[(starts >= 0.0) & (starts <= W - length + SAME_PLACE)]

        def until(at: Floats) -> Floats:
            """Push from the left edge to places at, N, (places, cases): straight between the points."""
            i = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2)
            part = np.clip((at - x[i]) / (x[i + 1] - x[i]), 0.0, 1.0)[:, None]
            return np.asarray(sums[i] * (1 - part) + sums[i + 1] * part)

        means = (until(starts + length) - until(starts)) / length
        return np.stack([np.maximum(means.max(axis=0), 0.0), np.minimum(means.min(axis=0), 0.0)])


@dataclass(frozen=True, eq=False)
class RunSolution:
    """A run under its load cases: ``movements`` of the rail's nodes (movements, cases), the panels that are left by number,
    ``ends`` the push of the rail on what holds its left and right end, N, (2, cases)."""

    rail: Rail
    loads: tuple[RunLoad, ...]
    beam: Beam
    movements: Floats
    panels: Mapping[int, PanelAnswer]
    ends: Floats

    def deflection(self, s: Floats | float) -> Floats:
        """v of the rail (mm) at places s (mm on the run): (places, cases)."""
        return np.asarray(self.beam.shapes(s) @ self.movements)

    @cached_property
    def largest_deflection(self) -> tuple[Floats, Floats]:
        """v of largest size (mm) and where (mm on the run): each (cases,)."""
        s = lines_between(self.beam.nodes, 4, ())
        v = self.deflection(s)
        at = first_largest(np.abs(v), axis=0)
        return np.take_along_axis(v, at[None], axis=0)[0], s[at]

    @cached_property
    def moments(self) -> tuple[Floats, Floats]:
        """Places (mm on the run) and moments (N mm) of the rail where it may be largest: each (places, cases)."""
        cases = len(self.loads)
        found = list(self._at_places())
        s = np.concatenate([np.broadcast_to(np.asarray(p), (cases,))[None] for p, _ in found])
        return s, np.concatenate([M[None] for _, M in found])

    def extreme(self, sign: float = 0.0) -> tuple[Floats, Floats]:
        """Moment of largest size (N mm) and its place (mm): each (cases,); of one sign where ``sign`` is +1 or -1."""
        s, M = self.moments
        value = np.abs(M) if sign == 0.0 else sign * M
        at = first_largest(value, axis=0)[None]
        return np.take_along_axis(M, at, axis=0)[0], np.take_along_axis(s, at, axis=0)[0]

    @cached_property
    def element_forces(self) -> Floats:
        """Forces and moments on every element at its two ends, N and N mm: (elements, 4, cases)."""
        beam = self.beam
        given = np.array([_given(beam, case) for case in self.loads]).transpose(1, 2, 0)  # (elements, 4, cases)
        for answer in self.panels.values():
            at = beam.element_of(answer.x + answer.panel.start)
            h = beam.lengths[at]
            shapes = hermite((answer.x + answer.panel.start - beam.nodes[at]) / h, h)
            np.add.at(given, at, -shapes[:, :, None] * (answer.weight[:, None] * answer.push)[:, None, :])
        bent = np.array([
            beam.element(self.rail.EI, float(h)) @ self.movements[e] for e, h in zip(beam.elements, beam.lengths, strict=True)
        ])  # fmt: skip
        return np.asarray(bent - given)

    def _at_places(self) -> Iterator[tuple[Floats | float, Floats]]:
        """At both ends of every element; at the top of the parabola where no glass is; under point loads."""
        beam, Q = self.beam, self.element_forces
        for e, (left, right) in enumerate(zip(beam.nodes[:-1], beam.nodes[1:], strict=True)):
            yield float(left), -Q[e, 1]
            yield float(right), Q[e, 3]
            if not self._on_glass((left + right) / 2):
                q = np.array([_line_on(case, float(left), float(right)) for case in self.loads])
                x = np.clip(np.divide(-Q[e, 0], q, out=np.zeros_like(q), where=q != 0.0), 0.0, right - left)
                yield left + x, -Q[e, 1] + Q[e, 0] * x + q * x**2 / 2
        for s in {s for case in self.loads for _, s in case.points}:
            yield s, self._moment_at(s)

    def _moment_at(self, s: float) -> Floats:
        """Moment at a place from the forces left of it on its element; point loads at the place itself do not count."""
        beam, Q = self.beam, self.element_forces
        e = int(beam.element_of(s))
        left = float(beam.nodes[e])
        x = s - left
        q = np.array([_line_on(case, left, s) if x > SAME_PLACE else 0.0 for case in self.loads])
        M = -Q[e, 1] + Q[e, 0] * x + q * x**2 / 2
        for n, case in enumerate(self.loads):
            M[n] += sum(P * (s - at) for P, at in case.points if left + SAME_PLACE < at < s)
        for answer in self.panels.values():
            at = answer.x + answer.panel.start
            part = (at > left) & (at < s)
            M -= ((s - at[part]) * answer.weight[part]) @ answer.push[part]
        return np.asarray(M)

    def _on_glass(self, s: float) -> bool:
        return any(a.panel.start <= s <= a.panel.end for a in self.panels.values())

    @cached_property
    def residual(self) -> Floats:
        """Equilibrium of the run: forces, and moments about the rail's start, relative to the load: (cases,)."""
        force, turn = -self.ends.sum(axis=0), -self.ends[1] * (self.rail.end - self.rail.start)
        size = np.full(len(self.loads), 1e-30)
        for n, case in enumerate(self.loads):
            for total, at in (*((q * (b - a), (a + b) / 2) for q, a, b in case.lines), *case.points):
                force[n] += total
                turn[n] += total * (at - self.rail.start)
                size[n] += abs(total)
        for answer in self.panels.values():
            start = answer.panel.start - self.rail.start
            x = np.array([c.x for c in answer.panel.clamps])
            on_panel = answer.plate.model.resultants  # the rail's push in them, which is inside the run
            glass, about = on_panel[:, 0] - answer.from_rail, on_panel[:, 2] - (answer.weight * answer.x) @ answer.push
            force += glass - answer.F.sum(axis=1)
            turn += glass * start + about - (answer.Mz + answer.F * (x + start)).sum(axis=1)
            size += np.abs(glass)
        return np.asarray(np.maximum(np.abs(force) / size, np.abs(turn) / size / (self.rail.end - self.rail.start)))


def _given(beam: Beam, case: RunLoad) -> NDArray[np.float64]:
    """Consistent forces of the loads on every element, (elements, 4)."""
    found = np.zeros((len(beam.lengths), 4))
    for q, a, b in case.lines:
        found += line_on_elements(beam, q, a, b)
    for P, s in case.points:
        e = int(beam.element_of(s))
        own = Beam(np.array([0.0, beam.lengths[e]]), np.zeros(2, dtype=bool))
        found[e] += point_load(own, P, s - float(beam.nodes[e]))
    return found


def _line_on(case: RunLoad, left: float, right: float) -> float:
    """Line load between two places that no load ends between, N/mm."""
    middle = (left + right) / 2
    return float(sum(q for q, a, b in case.lines if a <= middle <= b))


def columns(parts: Sequence[tuple[PlateSolution, Sequence[int]]]) -> PlateSolution:
    """One solution of cases taken from several, of panels that are alike: of each its own, in this order.

    parts: solutions of panels of equal glass, clamps and loads on the glass, with the numbers of the cases wanted of each.
    """
    chosen = [np.asarray(which, dtype=int) for _, which in parts]

    def of(name: str) -> Floats:
        return np.concatenate([np.asarray(getattr(s, name))[i] for (s, _), i in zip(parts, chosen, strict=True)])

    view = copy.copy(parts[0][0].model)
    cases = sum(len(i) for i in chosen)
    view.solved, view.which, view.share = list(range(cases)), np.arange(cases), np.ones(cases)
    view.__dict__["resultants"] = np.concatenate([s.model.resultants[i] for (s, _), i in zip(parts, chosen, strict=True)])
    return PlateSolution(view, of("coefficients"), of("F"), of("Mx"), of("Mz"), of("body"))
