"""Laminated glass of two layers as a plate on clamps, with shear in the interlayer.

Each layer is a thin plate. Pads and loads act across the panel only, so the layers' in-plane forces are equal and opposite,
and for one E and nu three fields are exact: the deflection w and the layers' displacement against each other a = (u1 - u2) / h_s.
Near a pad one layer is pressed and the other reached through the interlayer only, so there the layers may part or close (d)
and the interlayer is squeezed sideways (f):

    w1 = w - b2 d,  w2 = w + b1 d,  b_i = D_i / D
    stress in layer i:  C[z grad grad w_i + s_i e(a)],  s_1 = h_s h_2 / (h_1 + h_2),  s_2 = -h_s h_1 / (h_1 + h_2)

Clamps hold no layer against slipping. Pads either work on both faces, half of k on each (a tight liner), or touch one face only,
k where the layer comes towards them (no pretension). Panel and pads are factorised once; load cases, bases, pads of other
stiffness, lost clamps and both states of contact are answered from that.

Validity: two layers of one glass, small deflections, interlayer elastic with the modulus of its temperature and
duration; no bolt through the glass. Against solids the larger layer stress is within -1.2 to +2.8 % once the model factor
of each layer's thickness is applied at discrete clamps (see the validation tests). Units: N, mm, MPa, rad; x along the
panel, y up from the bottom edge; w and loads positive in the same direction. The front layer is the one a positive load
pushes on.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics import splines
from barrier.mechanics.laminate_columns import Columns
from barrier.mechanics.laminate_fields import Line, Numbering, terms
from barrier.mechanics.laminate_pads import AtPads, Condensed, Grip
from barrier.mechanics.laminate_parts import Laminate
from barrier.mechanics.laminate_stress import FACES, Faces, Lines, peaks_of
from barrier.mechanics.plate import SAMPLES, PlateModel
from barrier.mechanics.plate_parts import Base, Clamp, Fixed, Load, Patches, in_proportion, require, require_bases, unbalanced
from barrier.mechanics.splines import FloatArray, Peak, Samples

__all__ = ["CONTACTS", "LAYER_FACES", "Contact", "Laminate", "LaminateModel", "LaminateSolution", "LayerFace"]

Contact = Literal["both faces", "one face"]
KEPT = ("w", "ax", "ay", "d")  # fields a stress or a movement is made of
CONTACTS: tuple[Contact, Contact] = ("both faces", "one face")
MANY = 100  # cases looked through at once
LayerFace = Literal["front outer", "front inner", "back inner", "back outer"]
LAYER_FACES: tuple[LayerFace, ...] = ("front outer", "front inner", "back inner", "back outer")


class LaminateModel:
    """A laminate on its clamps with all its load cases, meshed; factorised when first solved.

    laminate, clamps, loads: as for :class:`barrier.mechanics.plate.PlateModel`; of several stiffnesses of the pads give
    the largest here, the mesh follows it. fineness: 2 halves every element. ValueError names what is out of range.
    Source: thin plates with a shear layer between them; the method and its error are in the validation tests.

    >>> from barrier.mechanics.plate import FIXED, LineLoad, Pad
    >>> sheet = Laminate(1200, 1200, 10, 10, 1.52, 70_000, 0.23, 0.5)
    >>> clamps = [Clamp(x, (Pad(x - 25, x + 25, 0, 90, 10.0),)) for x in (300.0, 900.0)]
    >>> model = LaminateModel(sheet, clamps, [LineLoad(0.75, 1200)])
    >>> solution = model.solve([FIXED, FIXED])
    >>> solution.F.round(1)
    array([[450., 450.]])
    >>> solution.peaks(edge_band=0.0)["front outer"]["interior"].stress.round(0)
    array([68.])
    """

    def __init__(self, laminate: Laminate, clamps: Sequence[Clamp], loads: Sequence[Load], *, fineness: float = 1.0) -> None:
        self.laminate, self.clamps = laminate, tuple(clamps)
        self.limit = PlateModel(laminate.layered, clamps, loads, fineness=fineness)  # mesh and load vectors; never solved here
        self.loads, self.resultants = self.limit.loads, self.limit.resultants
        self.solved, self.which, self.share = in_proportion(self.loads, each_way=True)
        self.factorised: Factorised | None = None

    @property
    def x_borders(self) -> set[float]:
        """Where pads and loads begin and end along x, mm."""
        return self.limit.x_borders

    @property
    def y_borders(self) -> set[float]:
        """And along y."""
        return self.limit.y_borders

    @cached_property
    def _numbering(self) -> Numbering:
        return Numbering.over(self.laminate, self.limit.x_line, self.limit.y_line, [p for c in self.clamps for p in c.pads])

    @cached_property
    def grip(self) -> Grip:
        """The pads, as the condensed panel sees them."""
        return Grip(self.limit, self._numbering, self.laminate.shares)

    def _factorised(self) -> Factorised:
        """What all answers come from; ``factorised`` may be taken out and put into another model of the same."""
        if self.factorised is None:
            self.factorised = Factorised(self._panel(), {})
        return self.factorised

    def _panel(self) -> _Panel:
        """The panel on its pads, half on each face, factorised; bodies at rest."""
        numbering, grip = self._numbering, self.grip
        X, Y = Line.of(self.limit.x_rule), Line.of(self.limit.y_rule)
        columns = numbering.columns(terms(self.laminate), X, Y)
        k = [pad.pad.k for pad in grip.pads]
        for pad in grip.pads:
            numbering.add(columns, *grip.on_panel(pad))
        factor = Columns.factorise(columns)
        loads = np.array([self._load(self.loads[i]) for i in self.solved]).T
        return _Panel.of(factor, loads, grip, k)

    def _load(self, patches: Patches) -> FloatArray:
        """Work of a load case on every unknown. A load enters on the face it pushes, its sign says which."""
        numbering, (b1, b2) = self._numbering, self.laminate.shares
        there, found = numbering.of["d"] >= 0, np.zeros(numbering.size)
        for patch in patches:
            work = self.limit.load_vector((patch,))
            found[numbering.of["w"]] += work
            found[numbering.of["d"][there]] += (b1 if patch.total < 0 else -b2) * work[there]
        return found

    def solve(
        self, bases: Sequence[Base], contact: Contact = "both faces", clamps: Sequence[Clamp] | None = None
    ) -> LaminateSolution:
        """Answer of every load case with these bases.

        bases: one a clamp, as :meth:`barrier.mechanics.plate.PlateModel.solve` takes them. contact: pads that work on both
        faces, or where a layer comes towards them only. clamps: the same clamps with pads of other stiffness. Nothing of
        these factorises the panel anew.

        ValueError where a base is no stiffness, clamps are others, or nothing is left that holds the panel.
        """
        return self.solve_all([Stand(bases, contact, clamps)])[0]

    def solve_all(self, stands: Sequence[Stand]) -> list[LaminateSolution]:
        """One answer for each of several ways to stand, as :meth:`solve` gives them one by one: much less work together."""
        settled, ks = self._settle(stands)
        u = self._factorised().panel.answer(np.concatenate([at.t for at in settled], axis=1))
        together = Together(self, self.fields(u))
        return [
            LaminateSolution.of(together, place, at, stand.contact, k)
            for place, (stand, at, k) in enumerate(zip(stands, settled, ks, strict=True))
        ]

    def _settle(self, stands: Sequence[Stand]) -> tuple[list[AtPads], list[tuple[float, ...]]]:
        """What happens at the pads, and their k, of every way to stand."""
        panel, condensed = self._factorised()
        alike: dict[tuple[tuple[float, ...], Contact], list[int]] = defaultdict(list)
        ks = [self._stiffness(stand) for stand in stands]
        for n, (stand, k) in enumerate(zip(stands, ks, strict=True)):
            alike[k, stand.contact].append(n)
        found: dict[int, AtPads] = {}
        for (k, contact), places in alike.items():
            if k not in condensed:
                condensed[k] = Condensed(self.grip, panel.C, panel.q_ref, panel.k, k)
            on, bases = condensed[k], [base_stiffness(stands[n].bases) for n in places]
            try:
                at = [on.both_faces(base) for base in bases] if contact == "both faces" else on.one_face(bases)
            except np.linalg.LinAlgError:
                raise ValueError(
                    "bases: the panel can move without resistance. Allowed are bases that together hold it "
                    "against translation and both rotations; give one of them a stiffness."
                ) from None
            found.update(zip(places, at, strict=True))
        return [found[n] for n in range(len(stands))], ks

    def _stiffness(self, stand: Stand) -> tuple[float, ...]:
        """k of every pad, none where the clamp is lost; refuses what is no way to stand."""
        held, clamps = require_bases(stand.bases, len(self.clamps)), stand.clamps or self.clamps
        if stand.contact not in CONTACTS:
            raise ValueError(f"contact = {stand.contact!r}: allowed are {', '.join(CONTACTS)}.")
        own = [(c.x, [(p.x0, p.x1, p.y0, p.y1) for p in c.pads]) for c in clamps]
        if own != [(c.x, [(p.x0, p.x1, p.y0, p.y1) for p in c.pads]) for c in self.clamps]:
            raise ValueError("clamps: allowed are the clamps of the model with other k of their pads only; make a new model.")
        return tuple(p.k if i in held else 0.0 for i, c in enumerate(clamps) for p in c.pads)

    def lines(self, samples: Samples) -> Lines:
        """The fields' splines on the lines of a grid."""
        return Lines((self.limit.x_line, self.limit.y_line), samples, self._numbering.of["d"] >= 0)

    def fields(self, u: FloatArray) -> dict[str, FloatArray]:
        """Splines' coefficients of every field that is asked for: (cases, size x, size y), zero where it has none."""
        flat = np.zeros((u.shape[1], len(u) + 1))  # the last, number -1, is that of what is not there
        flat[:, :-1] = u.T
        return {name: flat[:, self._numbering.of[name]] for name in KEPT}


@dataclass(frozen=True, slots=True, eq=False)
class Stand:
    """One way to stand: bases, contact of the pads and, where others than the model's, pads; see :meth:`LaminateModel.solve`."""

    bases: Sequence[Base]
    contact: Contact = "both faces"
    clamps: Sequence[Clamp] | None = None


@dataclass(frozen=True, eq=False)
class _Panel:
    """The panel on its pads, factorised and condensed.

    half: half-way answers, part by part of the unknowns: to the loads, and to forces in the shapes of the pads that have to do
    with that part. entering: places in q in the order in which pads come in.
    """

    factor: Columns
    half: list[FloatArray]
    entering: NDArray[np.intp]
    loads: int
    C: FloatArray
    q_ref: FloatArray
    k: list[float]

    @classmethod
    def of(cls, factor: Columns, loads: FloatArray, grip: Grip, k: list[float]) -> _Panel:
        size, cases = loads.shape
        pads = sorted(grip.pads, key=lambda pad: pad.first)
        half = factor.forward([(0, loads), *((pad.first, grip.pushes(pad, pad.first, size)) for pad in pads)])
        entering = np.concatenate([np.arange(pad.q.start, pad.q.stop) for pad in pads])
        work = np.zeros((cases + grip.size, cases + grip.size))
        for part in half:
            work[: part.shape[1], : part.shape[1]] += part.T @ part
        C, q_ref = np.zeros((grip.size, grip.size)), np.zeros((grip.size, cases))
        C[np.ix_(entering, entering)], q_ref[entering] = work[cases:, cases:], work[cases:, :cases]
        return cls(factor, half, entering, cases, C, q_ref, k)

    @property
    def bytes(self) -> int:
        """Memory of the large ones of its arrays."""
        return sum(block.nbytes for block in (*self.factor.panels, *self.half, self.C, self.q_ref))

    def answer(self, t: FloatArray) -> FloatArray:
        """All unknowns under the loads, one set of cases after another, less forces t at the pads: (unknowns, cases)."""
        t, sets = t[self.entering], t.shape[1] // self.loads
        parts = []
        for part in self.half:
            loads, pads = part[:, : self.loads], part[:, self.loads :]
            parts.append(np.tile(loads, sets) - pads @ t[: pads.shape[1]])
        return self.factor.backward(np.concatenate(parts))


class Factorised(NamedTuple):
    """The factorised panel, and what is left of it on pads of each stiffness: large, and not needed by an answer."""

    panel: _Panel
    stands: dict[tuple[float, ...], Condensed]

    @property
    def bytes(self) -> int:
        """About what it takes in memory, once pads of three stiffnesses were looked at."""
        return self.panel.bytes + 3 * 3 * self.panel.C.nbytes


def base_stiffness(bases: Sequence[Base]) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Stiffness of all bases over u, a, c of every clamp, and which of these move."""
    K, moves = np.zeros((3 * len(bases), 3 * len(bases))), np.zeros(3 * len(bases), dtype=bool)
    for m, base in enumerate(bases):
        if not isinstance(base, Fixed | None):
            own, spring = slice(3 * m, 3 * m + 3), np.asarray(base, dtype=float)
            K[own, own], moves[own] = (spring + spring.T) / 2, True
    return K, moves


@dataclass(frozen=True, eq=False)
class Together:
    """The fields of a laminate in every way to stand it was solved in: (ways * cases solved, size x, size y)."""

    model: LaminateModel
    fields: Mapping[str, FloatArray]
    _peaks: dict[float, dict[str, Peak]] = field(default_factory=dict, repr=False)

    def peaks(self, edge_band: float) -> dict[str, Peak]:
        """Largest principal stress by zone, of all ways, cases and faces, looked for when first asked for."""
        if edge_band not in self._peaks:
            samples, zones = self.model.limit.grid(edge_band)
            find = partial(peaks_of, Faces.of(self.model.laminate), self.model.lines(samples), zones)
            starts = range(0, len(self.fields["w"]), MANY)
            parts = [find({name: own[start : start + MANY] for name, own in self.fields.items()}) for start in starts]
            self._peaks[edge_band] = {
                zone: Peak(*(np.concatenate([getattr(part[zone], of) for part in parts]) for of in ("stress", "x", "y")))
                for zone in parts[0]
            }
        return self._peaks[edge_band]


@dataclass(frozen=True, eq=False)
class LaminateSolution:
    """What the laminate answers, one row a load case.

    F (N), Mx (N mm, about y = 0), Mz (N mm, about the clamp's x): action of the panel on each clamp, (loads,
    clamps); zero for a lost clamp. body: its u (mm), a, c (rad), (loads, clamps, 3); NaN for a lost clamp. k: stiffness of
    the pads. together, place: what else was solved with it, and where it is in there.
    """

    together: Together
    place: int
    at: AtPads
    contact: Contact
    k: tuple[float, ...]
    F: FloatArray
    Mx: FloatArray
    Mz: FloatArray
    body: FloatArray

    @property
    def model(self) -> LaminateModel:
        """What was solved."""
        return self.together.model

    @cached_property
    def fields(self) -> dict[str, FloatArray]:
        """Splines' coefficients of the cases solved: (cases, size x, size y)."""
        return {name: own[self._own()] for name, own in self.together.fields.items()}

    def _own(self, each: int = 1) -> slice:
        """What is its own of all that was solved together, each so many for a case."""
        count = each * len(self.model.solved)
        return slice(self.place * count, (self.place + 1) * count)

    @property
    def bytes(self) -> int:
        """About what it takes in memory, without its model."""
        at = self.at
        return sum(a.nbytes for a in (*self.fields.values(), at.q, at.t)) + 8 * 400 * len(self.F)

    @classmethod
    def of(cls, together: Together, place: int, at: AtPads, contact: Contact, k: tuple[float, ...]) -> LaminateSolution:
        """From what was solved together and what was found at the pads of k."""
        model = together.model
        shape = (len(model.loads), len(model.clamps), 3)
        action, body = ((model.share[:, None] * found.T[model.which]).reshape(shape) for found in (at.action, at.b))
        stands = {pad.clamp for pad, stiff in zip(model.grip.pads, k, strict=True) if stiff > 0.0}
        lost = [i for i in range(len(model.clamps)) if i not in stands]
        action[:, lost], body[:, lost] = 0.0, np.nan
        return cls(together, place, at, contact, k, action[..., 0], action[..., 1], action[..., 2], body)

    @property
    def residual(self) -> FloatArray:
        """Equilibrium of forces and both moments, relative to |load| and |load| x panel size: (loads,)."""
        sheet, x = self.model.laminate, [c.x for c in self.model.clamps]
        return unbalanced((self.F, self.Mx, self.Mz), x, self.model.resultants, (sheet.width, sheet.height))

    def _of_cases(self, of_solved: FloatArray) -> FloatArray:
        share: FloatArray = self.model.share.reshape(-1, *[1] * (of_solved.ndim - 1)) * of_solved[self.model.which]
        return share

    def deflection(self, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """w (mm) on the grid of x by y (mm): (loads, nx, ny); positive the way loads are positive."""
        return self._of_cases(self._lines(x, y).field(self.fields["w"], "N0", "N0"))

    def slip(self, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """Displacement of the front layer's middle against the back layer's (mm) along x and y: (2, loads, nx, ny)."""
        lines, h = self._lines(x, y), self.model.laminate.distance
        found = lines.field(self.fields["ax"], "M0", "N0"), lines.field(self.fields["ay"], "N0", "M0")
        return np.array([h * self._of_cases(f) for f in found])

    @cached_property
    def _top(self) -> tuple[FloatArray, FloatArray]:
        x = splines.lines_between(self.model.limit.x_line.breaks, 2 * SAMPLES, ())
        w = np.abs(self.deflection(x, self.model.laminate.height)[:, :, 0])
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
        """Largest |p| (MPa) between pad and glass of each clamp, both faces together: (loads, clamps); zero for a lost clamp."""
        grip, one = self.model.grip, self.contact == "one face"
        found = np.zeros((len(self.model.solved), len(self.model.clamps)))
        for pad, k in zip(grip.pads, self.k, strict=True):
            front, back = grip.gaps(pad, self.at.q, self.at.b)
            both = np.minimum(front, 0.0) + np.maximum(back, 0.0) if one else (front + back) / 2
            found[:, pad.clamp] = np.maximum(found[:, pad.clamp], k * np.abs(both).max(axis=(1, 2)))
        return np.abs(self._of_cases(found))

    def principal_stress(self, face: LayerFace, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """Largest principal stress (MPa) of a glass face on the grid of x by y (mm): (loads, nx, ny)."""
        lines, faces, number = self._lines(x, y), Faces.of(self.model.laminate), LAYER_FACES.index(face)
        return self._of_cases(np.concatenate([found[:, number] for found in lines.principals(faces, self.fields)]))

    def peaks(self, edge_band: float) -> dict[LayerFace, dict[str, Peak]]:
        """Largest principal stress of each glass face and zone: ``peaks(t)["front outer"]["interior"].stress``.

        edge_band: mm, as of :meth:`barrier.mechanics.plate.PlateSolution.peaks`. A face is the same whichever way the load
        goes: under a load the other way the back outer face is the one that is pushed.
        """
        own, found = self._own(FACES), self.together.peaks(edge_band)
        share, which = self.model.share, self.model.which
        every = {zone: [of[own].reshape(-1, FACES)[which].T for of in (p.stress, p.x, p.y)] for zone, p in found.items()}
        return {
            face: {zone: Peak(share * stress[n], x[n], y[n]) for zone, (stress, x, y) in every.items()}
            for n, face in enumerate(LAYER_FACES)
        }

    def _lines(self, x: FloatArray | float, y: FloatArray | float) -> Lines:
        xs, ys = np.atleast_1d(np.asarray(x, dtype=float)), np.atleast_1d(np.asarray(y, dtype=float))
        for name, values, high in (("x", xs, self.model.laminate.width), ("y", ys, self.model.laminate.height)):
            require(name, float(values.min()), 0.0, high)
            require(name, float(values.max()), 0.0, high)
        return self.model.lines(Samples.on(self.model.limit.x_line, self.model.limit.y_line, xs, ys))
