"""A rail along the top of a run of panels: one more body on every plate, and what it does when a panel is gone.

    Pi =  sum of the panels (plate, pads, bases) + sum of 1/2 ∫ k_r (w - v)² dx along their top edges
        + 1/2 ∫ EI v''² ds + 1/2 sum k_end v_end² - loads

w is the glass's movement at its top edge, v the rail's; k_r (N/mm per mm) the connection across the glass. The rail bends
across the glass only: its twist, its axial force and what it carries downwards are not here. A splice is a hinge. An end is free,
held by a bracket (v = 0, free to turn) or on a post (a spring). A lost panel takes its clamps and its connection with it; the rail
and the load on it stay. Panels that are alike are factorised once, and losing one factorises nothing.

Units: N, mm, MPa, rad. s runs along the run; panel p begins at its ``start``, with its own x from there.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from barrier.mechanics import splines
from barrier.mechanics.beam import Beam, Floats, line_load, point_load
from barrier.mechanics.plate import Fixed, Load, PlateModel, PlateSolution, Pressure
from barrier.mechanics.plate_parts import require, require_bases
from barrier.mechanics.rail_answer import PanelAnswer, RunSolution, columns
from barrier.mechanics.rail_parts import STIFFEST_RAIL, Rail, RunLoad, RunPanel

__all__ = ["STIFFEST_RAIL", "PanelAnswer", "Rail", "RailRun", "RunLoad", "RunPanel", "RunSolution", "columns"]

ELEMENT = 30.0  # mm, longest element of the rail on a panel
SHORTEST = 10.0  # mm, and the shortest: a rail so limp that it wants shorter ones hands nothing on anyway
LEAST_GAP = 1.0  # mm: a shorter stretch of rail loses digits as well


class _Edge(PlateModel):
    """A panel with a rail along its top edge: the plate's model with the rail's nodes among the borders of its integrals.

    Its loads are those on the glass: a pressure of 1 MPa first, then ``on_glass``.
    """

    def __init__(self, panel: RunPanel, beam: Beam, on_glass: Sequence[Load]) -> None:
        super().__init__(panel.plate, panel.clamps, [Pressure(1.0), *on_glass])
        self.beam = beam
        self.x_rule = splines.Quadrature.on(self.x_line, self.x_borders | set(beam.nodes.tolist()))
        self.rail = beam.shapes(self.x_rule.x)  # (points, movements)
        self.top = self.y_line.at(np.array([panel.plate.height]))[0]

    def condensed(self, held: tuple[int, ...], k_r: float) -> splines.OnBodies:
        """Plate, pads and connection, seen by the clamps' bodies and the rail's movements, in that order."""
        X = self.x_rule
        energy, loads, push, own = self.on_clamps(held, np.array([self.load_vector(load) for load in self.loads]))
        energy.add(k_r, X.product(X.values, X.values), np.outer(self.top, self.top))
        along = k_r * X.values.T @ (X.weight[:, None] * self.rail)  # (nx, movements)
        edge = np.einsum("ij,k->jik", along, self.top)
        grown = np.zeros((len(own) + self.beam.size,) * 2)
        grown[: len(own), : len(own)] = own
        grown[len(own) :, len(own) :] = k_r * self.rail.T @ (X.weight[:, None] * self.rail)
        return splines.OnBodies.of(energy, loads, np.concatenate([push, edge]), grown)


class RailRun:
    """Panels of a run under one rail, each distinct one factorised when first solved.

    panels: left to right, none on another; rail: reaches over them all; known: another run to take over what it factorised,
    of equal panels under an equal connection. ValueError names what is out of range.
    Source: energy as above; the rail's shapes are further bodies on the plate of :mod:`barrier.mechanics.plate`.

    >>> from barrier.mechanics.plate import FIXED, Clamp, Pad, Plate
    >>> clamps = tuple(Clamp(x, (Pad(x - 25, x + 25, 0, 90, 10.0),)) for x in (250.0, 750.0))
    >>> glass = Plate(1000, 1100, 12, 70_000, 0.23)
    >>> panels = [RunPanel(1020.0 * i, glass, clamps, (FIXED, FIXED)) for i in range(3)]
    >>> run = RailRun(panels, Rail(0.0, 3040.0, 1.5e9, 20.0))
    >>> solved = run.solve([RunLoad(lines=((0.75, 0.0, 3040.0),))], lost=[1])
    >>> solved.panels[0].F.round(0)  # the lost panel's neighbour: of 375 N each when all is whole
    array([[175., 965.]])
    """

    def __init__(self, panels: Sequence[RunPanel], rail: Rail, known: RailRun | None = None) -> None:
        self.panels, self.rail = tuple(panels), rail
        if not self.panels:
            raise ValueError("panels is empty: allowed is one or more; add a panel.")
        require("panel 1 start", self.panels[0].start, rail.start, rail.end)
        require("last panel's end", self.panels[-1].end, rail.start, rail.end + 1e-6)
        for i, (a, b) in enumerate(zip(self.panels, self.panels[1:], strict=False), 1):
            require(f"gap after panel {i}", b.start - a.end, LEAST_GAP, math.inf)
        self._edges: dict[object, _Edge] = {} if known is None else known._edges
        self._condensed: dict[object, splines.OnBodies] = {} if known is None else known._condensed

    @property
    def bytes(self) -> int:
        """About what it keeps of factorised panels, more on the high side: splines with their grids, and answers to movements."""
        arrays = [a for on in self._condensed.values() for a in (on.free, on.shapes, on.grip, on.pull, on.alone)]
        return sum(edge.bytes + edge.rail.nbytes for edge in self._edges.values()) + sum(a.nbytes for a in arrays)

    def solve(self, loads: Sequence[RunLoad], lost: Collection[int] = ()) -> RunSolution:
        """Answer of every load case with the panels of these numbers (from 0) gone.

        ValueError where nothing is left that holds the rail, or a load is off it.
        """
        left = [i for i in range(len(self.panels)) if i not in set(lost)]
        self._require_loads(loads)
        beam = self._beam(loads, lost)
        parts = {i: self._part(i, beam, loads) for i in left}
        K, f, ends = beam.stiffness(self.rail.EI), self._forces(beam, loads), self._ends(beam)
        for at, spring in ends:
            if spring != math.inf:
                K[at, at] += spring
        n_rail, total = beam.size, beam.size + sum(p.springs for p in parts.values())
        K, f = _grown(K, total), np.concatenate([f, np.zeros((total - n_rail, len(loads)))])
        first = n_rail
        for part in parts.values():
            part.numbers = part.places(first)
            first += part.springs
            free = part.numbers >= 0
            K[np.ix_(part.numbers[free], part.numbers[free])] += part.stiffness[np.ix_(free, free)]
            f[part.numbers[free]] += part.on.pull[free] @ part.share
        held = [at for at, spring in ends if spring == math.inf]
        u = _solved(K, f, held)
        reactions = np.array([[self._reaction(K, f, u, at, spring)] for at, spring in ends])[:, 0]
        return RunSolution(self.rail, tuple(loads), beam, u[:n_rail], {i: p.answer(u) for i, p in parts.items()}, reactions)

    def _require_loads(self, loads: Sequence[RunLoad]) -> None:
        rail = self.rail
        for n, case in enumerate(loads, 1):
            for s in _places([case]):
                require(f"load {n} place", s, rail.start, rail.end + 1e-6)
            for panel, _ in case.glass:
                require(f"load {n} panel", panel, 0, len(self.panels) - 1)

    def _local(self, panel: RunPanel) -> Beam:
        """The rail's nodes on a panel, mm from its left edge: its own division, the same wherever an equal one stands."""
        W = panel.plate.width
        count = max(4, math.ceil(W / min(ELEMENT, max(self.rail.wave / 4, SHORTEST))))
        hinges = [s - panel.start for s in self.rail.splices if panel.start <= s <= panel.end]
        return Beam.on(list(np.linspace(0.0, W, count + 1)), hinges)

    def _beam(self, loads: Sequence[RunLoad], lost: Collection[int]) -> Beam:
        """All nodes of the rail: its own ends, every panel's, and places of loads where there is no glass."""
        rail = self.rail
        places = [rail.start, rail.end]
        for panel in self.panels:
            places.extend((self._local(panel).nodes + panel.start).tolist())
        standing = [p for i, p in enumerate(self.panels) if i not in set(lost)]
        for s in _places(loads):
            if not any(p.start <= s <= p.end for p in standing) and min(abs(s - x) for x in places) > LEAST_GAP:
                places.append(float(s))
        return Beam.on(places, rail.splices)

    def _part(self, number: int, beam: Beam, loads: Sequence[RunLoad]) -> _Part:
        panel = self.panels[number]
        held = require_bases(panel.bases, len(panel.clamps))
        local = self._local(panel)
        # Loads on the glass of all panels like this one, so that they share a factorisation.
        alike = {i for i, p in enumerate(self.panels) if (p.plate, p.clamps) == (panel.plate, panel.clamps)}
        on_glass = tuple(dict.fromkeys(load for case in loads for i, load in case.glass if i in alike))
        key = (panel.plate, panel.clamps, tuple(local.nodes.tolist()), tuple(local.hinges.tolist()), on_glass)
        if key not in self._edges:
            self._edges[key] = _Edge(panel, local, on_glass)
        edge, k_r = self._edges[key], self.rail.k_r
        if (key, held, k_r) not in self._condensed:
            self._condensed[key, held, k_r] = edge.condensed(held, k_r)
        share = np.zeros((1 + len(on_glass), len(loads)))
        for n, case in enumerate(loads):
            share[0, n] = case.pressure
            for i, load in case.glass:
                if i == number:
                    share[1 + on_glass.index(load), n] += 1.0
        return _Part(panel, edge, held, self._condensed[key, held, k_r], beam, k_r, share)

    def _forces(self, beam: Beam, loads: Sequence[RunLoad]) -> Floats:
        columns = []
        for case in loads:
            f = np.zeros(beam.size)
            for q, s0, s1 in case.lines:
                f += line_load(beam, q, s0, s1)
            for P, s in case.points:
                f += point_load(beam, P, s)
            columns.append(f)
        return np.array(columns).T

    def _ends(self, beam: Beam) -> list[tuple[int, float]]:
        return [(int(beam.deflections[0]), self.rail.left), (int(beam.deflections[-1]), self.rail.right)]

    @staticmethod
    def _reaction(K: Floats, f: Floats, u: Floats, at: int, spring: float) -> Floats:
        """Action of the rail on what holds its end, N, (cases,)."""
        return np.asarray(f[at] - K[at] @ u if spring == math.inf else spring * u[at])


@dataclass(eq=False)
class _Part:
    """A panel in the system of the run: which of the run's movements its own are; ``share`` of every load on its glass in
    every case, (loads, cases)."""

    panel: RunPanel
    edge: _Edge
    held: tuple[int, ...]
    on: splines.OnBodies
    beam: Beam
    k_r: float
    share: Floats
    numbers: NDArray[np.intp] = field(default_factory=lambda: np.zeros(0, dtype=np.intp))

    @property
    def moving(self) -> list[int]:
        """Of the held clamps those whose base gives way."""
        return [m for m, i in enumerate(self.held) if not isinstance(self.panel.bases[i], Fixed | None)]

    @property
    def springs(self) -> int:
        """Movements of its own that the run has to find: three a clamp on a base that gives way."""
        return 3 * len(self.moving)

    def places(self, first: int) -> NDArray[np.intp]:
        """Numbers of this panel's movements in the run, -1 where a base is fixed."""
        found = np.full(3 * len(self.held) + self.edge.beam.size, -1)
        for n, m in enumerate(self.moving):
            found[3 * m : 3 * m + 3] = first + 3 * n + np.arange(3)
        local, rail = self.edge.beam, self.beam
        nodes = [int(np.argmin(np.abs(rail.nodes - s))) for s in local.nodes + self.panel.start]
        for i, (mine, theirs) in enumerate(zip(local.deflections, (rail.deflections[n] for n in nodes), strict=True)):
            at = 3 * len(self.held) + mine
            found[at], found[at + 1] = theirs, theirs + 1
            if local.hinges[i]:
                found[at + 2] = theirs + 2
        return found

    @property
    def stiffness(self) -> Floats:
        """Grip of the plate on its movements with the bases that give way, (movements, movements)."""
        K = self.on.grip.copy()
        for m in self.moving:
            own = slice(3 * m, 3 * m + 3)
            base = np.asarray(self.panel.bases[self.held[m]], dtype=float)
            K[own, own] += (base + base.T) / 2
        return K

    def answer(self, u: Floats) -> PanelAnswer:
        b = np.where(self.numbers[:, None] >= 0, u[np.maximum(self.numbers, 0)], 0.0)
        coefficients = np.tensordot(self.share.T, self.on.free, axes=1) + np.tensordot(b.T, self.on.shapes, axes=1)
        action = self.on.pull @ self.share - self.on.grip @ b
        clamps = np.zeros((self.share.shape[1], len(self.panel.clamps), 3))
        body = np.full(clamps.shape, np.nan)
        for m, i in enumerate(self.held):
            own = slice(3 * m, 3 * m + 3)
            clamps[:, i], body[:, i] = action[own].T, b[own].T
        edge, movements = self.edge, b[3 * len(self.held) :]
        w = edge.x_rule.values @ (coefficients @ edge.top).T
        push = self.k_r * (edge.rail @ movements - w)
        X = edge.x_rule
        arms = np.stack([X.weight, X.weight * edge.plate.height, X.weight * X.x])  # force, about y = 0, about x = 0
        view = _of_cases(edge, (arms @ push + edge.resultants.T @ self.share).T)
        solution = PlateSolution(view, coefficients, clamps[..., 0], clamps[..., 1], clamps[..., 2], body)
        return PanelAnswer(self.panel, edge.beam, movements, self.k_r, edge.x_rule.x, edge.x_rule.weight, push, solution)


def _of_cases(edge: _Edge, resultants: Floats) -> PlateModel:
    """The plate's model as it looks with one load a case of the run, with these resultants (cases, 3), the rail's push in them."""
    view, cases = copy.copy(edge), len(resultants)
    view.solved, view.which, view.share = list(range(cases)), np.arange(cases), np.ones(cases)
    view.__dict__["resultants"] = resultants
    return view


def _places(loads: Sequence[RunLoad]) -> list[float]:
    """Where loads begin, end or stand, mm."""
    return [s for case in loads for s in (*(s for _, *ends in case.lines for s in ends), *(s for _, s in case.points))]


def _grown(K: Floats, size: int) -> Floats:
    found = np.zeros((size, size))
    found[: len(K), : len(K)] = K
    return found


def _solved(K: Floats, f: Floats, held: Sequence[int]) -> Floats:
    """Movements under the forces with some held at nought; ValueError where something moves without resistance."""
    free = np.setdiff1d(np.arange(len(K)), np.asarray(held, dtype=int))
    own = K[np.ix_(free, free)]
    unit = 1 / np.sqrt(own.diagonal())
    u = np.zeros_like(f)
    try:
        factor = cho_factor(own * np.outer(unit, unit), lower=True, check_finite=False)
    except np.linalg.LinAlgError:
        raise ValueError(
            "the rail can move without resistance: allowed is a run in which panels or ends that are left hold it; "
            "lose fewer panels, or hold an end."
        ) from None
    u[free] = unit[:, None] * cho_solve(factor, unit[:, None] * f[free], check_finite=False)
    return u
