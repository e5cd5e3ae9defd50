"""A glass panel as a thin plate on clamps.

Kirchhoff plate on [0, width] x [0, height], all edges free. A clamp holds it over one or more rectangular
pads: springs of k (N/mm3, both faces together) between the plate and a rigid body with displacement u, turn a
about the panel axis and turn c about the vertical axis through the clamp's x:

    p = k (w - u - a y - c (x - x_clamp))

Each body stands on a base: fixed, or a spring over (u, a, c) at y = 0. Plate and pads are factorised once;
bodies and load cases are right-hand sides, so other bases cost next to nothing.

The thin plate is low by up to 7 % on the load face of a discrete clamp (see the validation tests): the caller
applies the model factor. Drilled or notched glass is outside this model. Units: N, mm, MPa, rad. x runs along
the panel, y up from the bottom edge; w and loads are positive in the same direction.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np

from barrier.mechanics import splines
from barrier.mechanics.plate_parts import (
    FIXED,
    AtOnce,
    Base,
    Clamp,
    Fixed,
    LineLoad,
    Load,
    Pad,
    Patches,
    PatchLoad,
    Plate,
    Pressure,
    as_patches,
    at_once,
    diagonal_base,
    in_proportion,
    require,
    require_bases,
    require_inside,
    unbalanced,
)
from barrier.mechanics.splines import FloatArray, Peak, Quadrature, Samples

__all__ = [
    "FACES",
    "FIXED",
    "AtOnce",
    "Base",
    "Clamp",
    "Face",
    "Fixed",
    "LineLoad",
    "Load",
    "Pad",
    "PatchLoad",
    "Plate",
    "PlateModel",
    "PlateSolution",
    "Pressure",
    "at_once",
    "diagonal_base",
]

SAMPLES = 4  # lines of the peak search on each element
CLOSEST = 1.0  # mm, knots are not nearer than this to one another (integrals stay exact without)

Face = Literal["load", "back"]
FACES: tuple[Face, Face] = ("load", "back")


class PlateModel:
    """A plate on its clamps with all its load cases, meshed; factorised when first solved.

    plate, clamps, loads: everything lies inside the panel and no two pads overlap. fineness: 2 halves every
    element (for convergence studies; at 1 the peaks are within 1 %). ValueError names what is out of range.
    Source: S. Timoshenko, S. Woinowsky-Krieger, "Theory of Plates and Shells" (bending energy; from memory).

    >>> plate = Plate(1200, 1200, 12, 70_000, 0.23)
    >>> clamps = [Clamp(x, (Pad(x - 25, x + 25, 0, 90, 10.0),)) for x in (175.0, 1025.0)]
    >>> solution = PlateModel(plate, clamps, [LineLoad(0.75, 1200)]).solve([FIXED, FIXED])
    >>> solution.F.round(1)
    array([[450., 450.]])
    >>> solution.peaks(edge_band=12.0)["load"]["interior"].stress.round(0)
    array([100.])
    """

    def __init__(self, plate: Plate, clamps: Sequence[Clamp], loads: Sequence[Load], *, fineness: float = 1.0) -> None:
        W, H = plate.width, plate.height
        self.plate, self.clamps = plate, tuple(clamps)
        self.loads = tuple(as_patches(load, W, H) for load in loads)
        require("fineness", fineness, 0.1, 20.0)
        require_inside(plate, self.clamps, self.loads)
        self.solved, self.which, self.share = in_proportion(self.loads)
        self.x_borders, self.y_borders = self._borders("x", W), self._borders("y", H)
        self.x_line, self.y_line = self._mesh("x", W, fineness), self._mesh("y", H, fineness)
        self.x_rule = Quadrature.on(self.x_line, self.x_borders)
        self.y_rule = Quadrature.on(self.y_line, self.y_borders)
        self._held: dict[tuple[int, ...], splines.OnBodies] = {}
        self._grids: dict[float, tuple[Samples, splines.Zones]] = {}

    @cached_property
    def resultants(self) -> FloatArray:
        """Force (N), moment about y = 0 and about x = 0 (N mm) of every load: (loads, 3)."""
        arms = [np.array([(1.0, (p.y0 + p.y1) / 2, (p.x0 + p.x1) / 2) for p in load]) for load in self.loads]
        totals = [np.array([p.total for p in load]) for load in self.loads]
        return np.array([t @ a for t, a in zip(totals, arms, strict=True)])

    @property
    def bytes(self) -> int:
        """About what its splines take in memory, at the points of integration and on the grids that peaks are looked for on."""
        return 3 * sum(of.nbytes for rule in (self.x_rule, self.y_rule) for of in (rule.values, rule.first, rule.second))

    def solve(self, bases: Sequence[Base]) -> PlateSolution:
        """Answer of every load case with these bases.

        bases: one a clamp: ``FIXED``, a symmetric (3, 3) stiffness over (u, a, c) in N, mm, rad, or ``None``
        for a clamp that is lost, pads and all. Losing a clamp factorises anew; changing a base does not.

        ValueError where a base is no stiffness, or nothing is left that holds the panel.
        """
        held = require_bases(bases, len(self.clamps))
        if held not in self._held:
            self._held[held] = self._factorise(held)
        K, moves = np.zeros((3 * len(held), 3 * len(held))), np.zeros(3 * len(held), dtype=bool)
        for m, base in enumerate(bases[i] for i in held):
            if not isinstance(base, Fixed | None):
                own, spring = slice(3 * m, 3 * m + 3), np.asarray(base, dtype=float)
                K[own, own], moves[own] = (spring + spring.T) / 2, True
        try:
            coefficients, b, reaction = self._held[held].settle(K, moves)
        except np.linalg.LinAlgError:
            raise ValueError(
                "bases: the panel can move without resistance. Allowed are bases that together hold it "
                "against translation and both rotations; give one of them a stiffness."
            ) from None
        shape = (len(self.loads), len(self.clamps), 3)
        body, action = np.full(shape, np.nan), np.zeros(shape)
        for target, found in ((body, b), (action, reaction)):
            every = self.share[:, None] * found.T[self.which]
            target[:, list(held)] = every.reshape(len(self.loads), -1, 3)
        coefficients = self.share[:, None, None] * coefficients[self.which]
        return PlateSolution(self, coefficients, action[..., 0], action[..., 1], action[..., 2], body)

    def _borders(self, axis: str, length: float) -> set[float]:
        """Where pads and loads begin and end."""
        patches = (p for load in self.loads for p in load)
        rectangles: list[Pad | PatchLoad] = [*patches, *(p for c in self.clamps for p in c.pads)]
        ends = {float(getattr(r, axis + end)) for r in rectangles for end in "01"}
        return {min(max(e, 0.0), length) for e in ends}

    def _mesh(self, axis: Literal["x", "y"], length: float, fineness: float) -> splines.Splines:
        """Splines along x or y, fine at pad edges, with knots where pressure or shear jumps."""
        fine: list[tuple[float, float]] = []  # place, element length there
        knots: list[tuple[float, int, float]] = []  # place, multiplicity, distance to keep
        for pad in (p for c in self.clamps for p in c.pads):
            start, end = getattr(pad, axis + "0"), getattr(pad, axis + "1")
            h = min((end - start) / {"x": 3.0, "y": 5.0}[axis], (4 * self.plate.D / pad.k) ** 0.25 / 3)
            knots += [(place, splines.PRESSURE_JUMP, CLOSEST) for place in (start, end)]
            # The bottom edge is near enough to the top of the pad.
            fine += [(place, h) for place in (start, end) if axis == "x" or place > CLOSEST]
        for load in dict.fromkeys(p for patches in self.loads for p in patches):
            start, end = getattr(load, axis + "0"), getattr(load, axis + "1")
            side = min(end - start, splines.LARGEST)
            if start == end:
                knots.append((start, splines.SHEAR_JUMP, CLOSEST))
            elif side < splines.LARGEST:
                knots += [(place, splines.PRESSURE_JUMP, side / 4) for place in (start, end)]
                fine += [(place, side) for place in (start, end)]
        return splines.graded_line(length, knots, fine, fineness)

    def _factorise(self, held: tuple[int, ...]) -> splines.OnBodies:
        """Plate and pads of the held clamps with their loads and bodies."""
        loads = np.array([self.load_vector(self.loads[i]) for i in self.solved])
        return splines.OnBodies.of(*self.on_clamps(held, loads))

    def on_clamps(self, held: tuple[int, ...], loads: FloatArray) -> tuple[splines.Sums, FloatArray, FloatArray, FloatArray]:
        """Energy of plate and pads of the held clamps, the loads, pushes of unit movements of the clamps' bodies, and the
        stiffness of their pads with the glass at rest: what :class:`barrier.mechanics.splines.OnBodies` is made of."""
        X, Y, n = self.x_rule, self.y_rule, 3 * len(held)
        energy = splines.Sums.bending(self.plate.D, self.plate.nu, X, Y)
        push, own = np.zeros((n, self.x_line.size, self.y_line.size)), np.zeros((n, n))
        for u, clamp in zip(range(0, n, 3), (self.clamps[i] for i in held), strict=True):
            for pad in clamp.pads:
                x, y = X.within(pad.x0, pad.x1), Y.within(pad.y0, pad.y1)
                energy.add(pad.k, X.product(X.values, X.values, x), Y.product(Y.values, Y.values, y))
                flat_x, flat_y = X.moment(x), Y.moment(y)
                push[u] += pad.k * np.outer(flat_x, flat_y)
                push[u + 1] += pad.k * np.outer(flat_x, Y.moment(y, power=1))
                push[u + 2] += pad.k * np.outer(X.moment(x, clamp.x, 1), flat_y)
                own[u : u + 3, u : u + 3] += _pad_stiffness(pad, clamp.x)
        return energy, loads, push, own

    def load_vector(self, load: Patches) -> FloatArray:
        """Work of the load on every spline, (nx, ny)."""
        found = np.zeros((self.x_line.size, self.y_line.size))
        for p in load:
            up = self.y_line.at(np.array([p.y0]))[0] if p.y0 == p.y1 else self.y_rule.mean(p.y0, p.y1)
            found += p.total * np.outer(self.x_rule.mean(p.x0, p.x1), up)
        return found

    def grid(self, band: float) -> tuple[Samples, splines.Zones]:
        """Lines on which peaks are sought: dense where the mesh is, at pad edges and borders of zones; ``band`` of the edges,
        mm."""
        if band not in self._grids:
            W, H = self.plate.width, self.plate.height
            require("edge_band", band, 0.0, 0.49 * min(W, H))
            x = splines.lines_between(self.x_line.breaks, SAMPLES, self.x_borders | {band, W - band})
            y = splines.lines_between(self.y_line.breaks, SAMPLES, self.y_borders | {band, H - band})
            self._grids[band] = Samples.on(self.x_line, self.y_line, x, y), splines.edge_zones(x, y, band)
        return self._grids[band]

    @cached_property
    def pad_grids(self) -> list[list[tuple[Pad, Samples]]]:
        """Of each clamp its pads, with the lines on which their largest pressure is sought."""
        x = splines.lines_between(self.x_line.breaks, SAMPLES, self.x_borders)
        y = splines.lines_between(self.y_line.breaks, SAMPLES, self.y_borders)

        def on(pad: Pad) -> Samples:
            on_x, on_y = x[(x >= pad.x0) & (x <= pad.x1)], y[(y >= pad.y0) & (y <= pad.y1)]
            return Samples.on(self.x_line, self.y_line, on_x, on_y)

        return [[(pad, on(pad)) for pad in clamp.pads] for clamp in self.clamps]


def _pad_stiffness(pad: Pad, x: float) -> FloatArray:
    """Stiffness of a pad over (u, a, c) about y = 0 and x, glass at rest: (3, 3)."""
    width, depth = pad.x1 - pad.x0, pad.y1 - pad.y0
    middle = np.array([1.0, (pad.y0 + pad.y1) / 2, (pad.x0 + pad.x1) / 2 - x])
    own: FloatArray = np.outer(middle, middle) + np.diag([0.0, depth**2 / 12, width**2 / 12])
    return pad.k * width * depth * own


@dataclass(frozen=True, eq=False)
class PlateSolution:
    """What the plate answers, one row a load case.

    F (N), Mx (N mm, about y = 0), Mz (N mm, about the clamp's x): action of the panel on each clamp, (loads,
    clamps); zero for a lost clamp. body: its u (mm), a, c (rad), (loads, clamps, 3); NaN for a lost clamp.
    """

    model: PlateModel
    coefficients: FloatArray
    F: FloatArray
    Mx: FloatArray
    Mz: FloatArray
    body: FloatArray
    _peaks: dict[float, dict[Face, dict[str, Peak]]] = field(default_factory=dict, repr=False)

    @property
    def bytes(self) -> int:
        """About what it takes in memory, without its model."""
        return self.coefficients.nbytes + 8 * 200 * len(self.F)

    @cached_property
    def residual(self) -> FloatArray:
        """Equilibrium of forces and both moments, relative to |load| and |load| x panel size: (loads,)."""
        plate, x = self.model.plate, [c.x for c in self.model.clamps]
        return unbalanced((self.F, self.Mx, self.Mz), x, self.model.resultants, (plate.width, plate.height))

    def deflection(self, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """w (mm) on the grid of x by y (mm): (loads, nx, ny); positive the way loads are positive."""
        return self._samples(x, y).values(self.coefficients)

    @cached_property
    def _top(self) -> tuple[FloatArray, FloatArray]:
        x = splines.lines_between(self.model.x_line.breaks, 2 * SAMPLES, ())
        w = np.abs(self.deflection(x, self.model.plate.height)[:, :, 0])
        return w.max(axis=1), x[splines.first_largest(w, axis=1)]

    @property
    def top_deflection(self) -> FloatArray:
        """Largest |w| (mm) on the top edge: (loads,)."""
        return self._top[0]

    @property
    def top_deflection_x(self) -> FloatArray:
        """Where along the top edge it is, mm: (loads,)."""
        return self._top[1]

    @cached_property
    def peak_pad_pressure(self) -> FloatArray:
        """Largest |p| (MPa) between pad and glass of each clamp: (loads, clamps); zero for a lost clamp."""
        found = np.zeros(self.F.shape)
        for i, clamp in enumerate(self.model.clamps):
            if np.isnan(self.body[0, i, 0]):
                continue
            u, a, c = self.body[:, i].T[:, :, None, None]
            for pad, samples in self.model.pad_grids[i]:
                gap = samples.values(self.coefficients) - u - a * samples.y - c * (samples.x - clamp.x)[:, None]
                found[:, i] = np.maximum(found[:, i], pad.k * np.abs(gap).max(axis=(1, 2)))
        return found

    def principal_stress(self, face: Face, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """Largest principal stress 6 m / t² (MPa) on the grid of x by y (mm): (loads, nx, ny).

        face: "load" is the face the load pushes on, "back" the other one.
        """
        mean, radius = self._circle(self._samples(x, y).curvatures(self.coefficients), self._sign[:, None, None])
        return radius + mean if face == "load" else radius - mean

    def peaks(self, edge_band: float) -> dict[Face, dict[str, Peak]]:
        """Largest principal stress of each face and zone: ``peaks(t)["load"]["interior"].stress``.

        edge_band: mm; "bottom", "side" and "top" reach so far in from their edges, "interior" is the rest, a
        border belongs to both; 0 makes the zones the edges themselves. ValueError below 0 or near half.
        """
        if edge_band not in self._peaks:
            self._peaks[edge_band] = self._found(edge_band)
        return self._peaks[edge_band]

    def _found(self, edge_band: float) -> dict[Face, dict[str, Peak]]:
        model = self.model
        samples, zones = model.grid(edge_band)
        coefficients, sign = self.coefficients[model.solved], self._sign[model.solved]

        def fields() -> Iterator[FloatArray]:
            # one load case after another: what is at work then stays in the fast memory
            for one, its_sign in zip(coefficients, sign, strict=True):
                mean, radius = self._circle(samples.curvatures(one), its_sign)
                yield np.array([radius + mean, radius - mean])

        def at(x: FloatArray, y: FloatArray) -> FloatArray:
            field = np.broadcast_to(np.arange(x.shape[1])[:, None], x.shape).ravel()
            case, face = field // 2, 1.0 - 2.0 * (field % 2)
            bent = splines.curvatures_at(model.x_line, model.y_line, coefficients, case, x.ravel(), y.ravel())
            mean, radius = self._circle(bent, sign[case])
            return (radius + face * mean).reshape(x.shape)

        found = splines.peaks_by_zone(fields(), samples, zones, at)
        share, which = np.abs(model.share), model.which
        return {
            face: {zone: Peak(share * p.stress[n::2][which], p.x[n::2][which], p.y[n::2][which]) for zone, p in found.items()}
            for n, face in enumerate(FACES)
        }

    @property
    def _sign(self) -> FloatArray:
        """+1 where the load pushes the positive way, -1 where it pushes the other."""
        return np.where(self.model.resultants[:, 0] < 0, -1.0, 1.0)

    def _circle(self, curvatures: Sequence[FloatArray], sign: FloatArray | float) -> tuple[FloatArray, FloatArray]:
        """Mohr's circle of the stress on the load face, from w_xx, w_yy, w_xy and the sign of the load.

        Its mean and its radius (MPa): the largest principal stress is radius + mean there, radius - mean on the
        other face. The curvatures are used up.
        """
        plate = self.model.plate
        unit = plate.E * plate.thickness / 2 / (1 - plate.nu**2)
        xx, yy, xy = curvatures
        mean = xx + yy
        mean *= sign * (unit * (1 + plate.nu) / 2)
        xx -= yy
        xx *= 0.5
        xx *= xx
        xy *= xy
        xx += xy
        radius = np.sqrt(xx, out=xx)
        radius *= unit * (1 - plate.nu)
        return mean, radius

    def _samples(self, x: FloatArray | float, y: FloatArray | float) -> Samples:
        xs, ys = np.atleast_1d(np.asarray(x, dtype=float)), np.atleast_1d(np.asarray(y, dtype=float))
        for name, values, high in (("x", xs, self.model.plate.width), ("y", ys, self.model.plate.height)):
            require(name, float(values.min()), 0.0, high)
            require(name, float(values.max()), 0.0, high)
        return Samples.on(self.model.x_line, self.model.y_line, xs, ys)
