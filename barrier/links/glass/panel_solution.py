"""A panel on its clamps, solved: thickness, layers, pads and bases in; reactions, stresses and movements out.

A Kirchhoff plate on elastic pads (:mod:`barrier.mechanics.plate`), solved for every case at its characteristic size
and for every pair of pad and base stiffness. Laminated glass of two layers is solved with the shear of its
interlayer (:mod:`barrier.links.glass.film`) where that is known, else at its layered limit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Layer, Panel
from barrier.links.glass.film import Film, ways
from barrier.links.glass.solved_once import plates
from barrier.links.ground.base_stiffness import UNKNOWN, Moduli, base_matrix
from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import BASES, PADS, Pads
from barrier.links.loads.cases import Case, Group, grouped
from barrier.links.walk import Walk
from barrier.mechanics.laminate import LAYER_FACES, LaminateSolution
from barrier.mechanics.laminate_joined import Joined
from barrier.mechanics.plate import FACES, Clamp, Pad, Plate, PlateSolution
from barrier.mechanics.splines import Peak
from barrier.result import Lack, NotChecked
from barrier.value import JobEntry, Value, gather

NOISE = 1e-9  # of the largest moment: smaller reactions are rounding, which no two machines make alike
LAYERED = Equation(
    Symbol("h_w", "length"),
    "(h_1**3 + h_2**3)**(1/3)",
    symbols("h_1:length, h_2:length"),
    "layered limit: layers that slide on one another share the bending by their stiffness",
    "computed",
    title="thickness of a single sheet as stiff as the two layers without the interlayer",
)
ALL_LAYERS = Equation(
    Symbol("t_g", "length"),
    "h_1 + h_2",
    symbols("h_1:length, h_2:length"),
    "geometry: both layers, the interlayer's weight not counted",
    "computed",
    title="glass that weighs",
)
NOMINAL_LAYERS = Equation(
    Symbol("t_g", "length"),
    "t_1 + t_2",
    symbols("t_1:length, t_2:length"),
    "geometry: both layers at their nominal thickness, the interlayer's weight not counted",
    "computed",
    title="glass that weighs, where weight adds to a load",
)
LAYER_SHARE = Equation(
    Symbol("s_l", "ratio"),
    "h_1/h_w",
    symbols("h_1:length, h_w:length"),
    "layered limit: h_w^3/h_1 stands for the square of the stress thickness, h_w^2/(h_w^3/h_1)",
    "computed",
    title="stress of the thicker layer over that of the single sheet",
)


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """What bends: the plate's thickness, the layer its stress belongs to, that layer's share of the stress; all layers."""

    plate: Value
    layer: Value
    share: Value | None
    glass_depth: Value


@dataclass(frozen=True, eq=False)
class PanelSolution:
    """One panel solved: per (pad set, base set) a plate solution over the cases.

    ``film`` where laminated glass was solved with the shear of its interlayer; its solutions then have four faces, its pad sets
    more words, and ``turned`` says of each whether the second layer is the one that is pushed. ``limits``: the panel as the
    single sheets it would be with layers that slide freely and that do not slide, nominal pads on soft bases.
    """

    panel: Panel
    sheet: Sheet
    cases: tuple[Case, ...]
    mounts: tuple[MountModel, ...]
    sets: tuple[tuple[Pads, str], ...]
    solutions: tuple[PlateSolution | LaminateSolution | Joined, ...]
    E: Value
    nu: Value
    moduli: tuple[Moduli, ...] = ()
    film: Film | None = None
    turned: tuple[bool, ...] = ()
    limits: tuple[PlateSolution, ...] = ()

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """The cases by their combination."""
        return grouped(self.cases)

    @cached_property
    def stations(self) -> tuple[tuple[int, int, int], ...]:
        """(set, case, mount) in the order every reaction array has."""
        return tuple((s, c, m) for s in range(len(self.sets)) for c in range(len(self.cases)) for m in range(len(self.mounts)))

    def reactions(self, name: str) -> NDArray[np.float64]:
        """F, Mx or Mz of every station, at the characteristic action; what is only rounding beside the largest moment is nought."""
        found = np.concatenate([np.asarray(getattr(s, name)).ravel() for s in self.solutions])
        if name == "F":
            return found
        largest = max(float(np.abs(np.asarray(s.Mx)).max()) for s in self.solutions)
        return np.where(np.abs(found) < NOISE * largest, 0.0, found)

    @cached_property
    def peaks(self) -> tuple[Mapping[str, Mapping[str, Peak]], ...]:
        """Largest principal stresses by face and zone, per solution."""
        return tuple({str(face): zones for face, zones in s.peaks(float(self.thickness.x)).items()} for s in self.solutions)

    def stress_on(self, set: int, face: str, x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
        """Principal stress of one set on one of ``faces``, at grid lines x and y (mm): MPa, (cases, x, y)."""
        solution = self.solutions[set]
        if isinstance(solution, PlateSolution):
            return solution.principal_stress(FACES[FACES.index(face)], x, y)
        return solution.principal_stress(LAYER_FACES[LAYER_FACES.index(face)], x, y)

    @property
    def faces(self) -> tuple[str, ...]:
        """The glass faces the peaks are given for."""
        return FACES if self.film is None else LAYER_FACES

    @property
    def thickness(self) -> Value:
        """Thickness of the layer whose stress is looked at; of laminated glass the thicker one."""
        return self.sheet.layer

    @property
    def glass_depth(self) -> Value:
        """Glass from face to face, for its weight: all layers, minimum thickness, the interlayer not counted."""
        return self.sheet.glass_depth

    @property
    def nominal_depth(self) -> Value:
        """The same at its nominal thickness, for weight that adds to a load; its least one where no other is known.

        A layer that is broken weighs here, where its weight adds, and not in ``glass_depth``, where it would hold something down.
        """
        layers = (*self.panel.layers, *self.panel.broken)
        known = [layer.nominal if layer.nominal is not None else layer.minimum for layer in layers]
        if any(t is None for t in known):
            return self.glass_depth
        first, *second = (t for t in known if t is not None)
        return NOMINAL_LAYERS(t_1=first.named("t_1"), t_2=second[0].named("t_2")) if second else first.named("t_g")

    @cached_property
    def stiffnesses(self) -> dict[str, Value]:
        """What the plate on its pads was solved with: the glass, and the bracket of the stiffest clamp's first pad."""
        pad = max((p for m in self.mounts for p in m.mount.pads), key=lambda p: float(p.stiffness_high.x))
        return {
            "E": self.E.named("E"),
            "nu": self.nu.named("nu"),
            "k_low": pad.stiffness_low.named("k_low"),
            "k": pad.stiffness.named("k"),
            "k_high": pad.stiffness_high.named("k_high"),
        }

    def solved_from(self, cases: Sequence[int]) -> dict[str, Value]:
        """What a result of the plate rests on, station by station: the glass, pads, bases, and the load of its case.

        ``cases`` is the index of the case of every station. Of bases that differ the first stands for all: their figures come
        from the same tables.
        """
        glass = {"t": self.sheet.plate} if self.film is None else self.film.values(cases)
        found = {**glass, **self.stiffnesses, **self._bases}
        if cases:
            found["H_k"] = gather([c.resultant for c in self.cases], list(cases)).named("H_k")
        return found

    @cached_property
    def _bases(self) -> dict[str, Value]:
        found = next((m.stiffnesses(ultimate=False) for m in self.mounts if m.lacking is None), {})
        for wood in self.moduli:
            found.update({name: v.named(name) for name, v in (("E_b", wood.E), ("G_b", wood.G)) if v is not None})
        return found

    @property
    def is_channel(self) -> bool:
        """Whether the panel stands in a continuous channel."""
        return any(float(p.width.x) >= float(self.panel.width.x) for m in self.mounts for p in m.mount.pads)

    @cached_property
    def residual(self) -> float:
        """Largest relative residual of equilibrium."""
        return float(max(np.max(np.abs(s.residual)) for s in self.solutions))


def sheet_of(walk: Walk, panel: Panel) -> Sheet | NotChecked:
    """Thickness of the glass of a panel, minimum values; two layers at their layered limit."""
    if len(panel.layers) > 2:
        return NotChecked(Lack.BASIS, "laminated glass of more than two layers")
    found = thicknesses(walk, panel)
    if isinstance(found, NotChecked):
        return found
    thick = sorted(found, key=lambda t: -float(t.x))
    if len(thick) == 1:
        return Sheet(thick[0].named("t"), thick[0].named("t"), None, thick[0].named("t_g"))
    h_1, h_2 = thick[0].named("h_1"), thick[1].named("h_2")
    h_w = LAYERED(h_1=h_1, h_2=h_2)
    return Sheet(h_w, h_1.named("t"), LAYER_SHARE(h_1=h_1, h_w=h_w), ALL_LAYERS(h_1=h_1, h_2=h_2))


def thicknesses(walk: Walk, panel: Panel) -> tuple[Value, ...] | NotChecked:
    """Minimum thickness of every layer in the order of the job."""
    found = [minimum_thickness(walk, layer, panel.surface) for layer in panel.layers]
    missing = next((t for t in found if isinstance(t, NotChecked)), None)
    return missing if missing is not None else tuple(t for t in found if isinstance(t, Value))


OWN_TOLERANCES = NotChecked(
    Lack.INPUT,
    "patterned glass has tolerances of its own, wider than those of float glass, and none is known here; ask the glass supplier "
    "for its minimum thickness (minimum)",
)


def minimum_thickness(walk: Walk, layer: Layer, surface: str) -> Value | NotChecked:
    """Minimum thickness of a layer: as given, else as the basis has it for the nominal one of float glass."""
    if layer.minimum is not None:
        return layer.minimum
    if layer.nominal is None:
        return NotChecked(Lack.INPUT, "how thick the glass is (nominal); look at the stamp in a corner, or measure at an edge")
    found = OWN_TOLERANCES if surface == "patterned" else walk.basis.glass_minimum(layer.nominal)
    origin = layer.nominal.origin
    if isinstance(found, NotChecked) and isinstance(origin, JobEntry):
        return NotChecked(found.lack, f"{origin.path} = {origin.text}: {found.text}")
    return found


def solve_panel(walk: Walk, panel: Panel, sheet: Sheet, cases: tuple[Case, ...], film: Film | None = None) -> PanelSolution:
    """Solve one panel for all its cases and every pair of pad and base stiffness; with a film as the laminate it is."""
    E, nu, _ = walk.basis.glass_constants()
    mounts = tuple(m for m in walk.mounts if walk.job.panel_of(m.mount) is panel)
    stiffness = {m.name: moduli_of(walk, m) for m in mounts}
    clamps = {pads: [clamp_of(m, pads) for m in mounts] for pads in PADS}
    bases = {base: [base_matrix(m, base, stiffness[m.name]) for m in mounts] for base in BASES}
    loads, size, glass = [c.load for c in cases], (float(panel.width.x), float(panel.height.x)), (float(E.x), float(nu.x))
    sets: list[tuple[Pads, str]] = []
    solutions: list[PlateSolution | LaminateSolution | Joined] = []
    turned: tuple[bool, ...] = ()
    limits: tuple[PlateSolution, ...] = ()
    if film is not None:
        found = ways(film, size, glass, loads, clamps, bases, walk.memo)
        sets, solutions = [(w.pads, w.bases) for w in found], [w.solution for w in found]
        turned = tuple(w.turned for w in found)
        sheets = (sheet.plate.x, film.sheet(size, glass, film.modulus.low).monolithic)
        limits = tuple(
            plates(walk.memo, Plate(*size, float(t), *glass), clamps["nominal"], loads, [bases["soft"]])[0] for t in sheets
        )
    else:
        for pads, on in clamps.items():
            sets += [(Pads(pads), base) for base in bases]
            solutions += plates(walk.memo, Plate(*size, float(sheet.plate.x), *glass), on, loads, list(bases.values()))
    return PanelSolution(
        panel, sheet, cases, mounts, tuple(sets), tuple(solutions), E, nu, tuple(stiffness.values()), film, turned,
        limits,
    )  # fmt: skip


def moduli_of(walk: Walk, model: MountModel) -> Moduli:
    """Moduli of the timber under a mount, as far as its basis has them."""
    if model.wood is None or model.lacking is not None:
        return UNKNOWN
    timber = walk.timber(model.wood.names, model.wood.laminated)
    E, G = walk.basis.timber_stiffness(timber), walk.basis.timber_shear_stiffness(timber)
    return Moduli(E if isinstance(E, Value) else None, G if isinstance(G, Value) else None)


def clamp_of(model: MountModel, pad_set: str) -> Clamp:
    """A clamp of the plate with its pads at one end of their bracket."""
    x = float(model.mount.x.x)
    pads = []
    for p in model.mount.pads:
        k = {"soft": p.stiffness_low, "nominal": p.stiffness, "stiff": p.stiffness_high}[pad_set]
        pads.append(Pad(*p.on_glass(x), float(k.x)))
    return Clamp(x, tuple(pads))
