"""Laminated glass of two layers with the shear of its interlayer: which ways it stands are looked at, and which layer is where.

The interlayer is taken as soft as it gets and as stiff as it gets (:func:`barrier.basis.interlayer.modulus_range`), and how soft
that is goes by how long each load lasts; pads work on both faces or touch one. Layers of different thickness are looked at with
either of them pushed, for loads act outward and inward. Every result is the envelope over all of these and over pads and bases.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from barrier.basis.interlayer import Modulus, lasts, modulus_range
from barrier.job.schema import Panel
from barrier.links.glass.solved_once import laminates
from barrier.links.ground.stiffness import Pads
from barrier.links.loads.cases import Case
from barrier.links.memo import Memo
from barrier.links.walk import Walk
from barrier.mechanics.laminate import CONTACTS, Contact, Laminate, LaminateSolution, Stand
from barrier.mechanics.laminate_joined import Joined, side_by_side
from barrier.mechanics.plate import Base, Clamp, Load
from barrier.result import NotChecked
from barrier.value import Value, gather

FACES = {
    "front outer": "outer face of the layer that is pushed",
    "front inner": "inner face of the layer that is pushed",
    "back inner": "inner face of the other layer",
    "back outer": "outer face of the other layer",
}


@dataclass(frozen=True, slots=True, eq=False)
class Film:
    """Two layers in the order of the job with their minimum thickness, the interlayer's thickness and the ranges of its modulus.

    ranges: the softest first, as many as loads last differently, with one upper end. of_case: which of them each case takes.
    """

    layers: tuple[Value, Value]
    gap: Value
    ranges: tuple[Modulus, ...]
    of_case: tuple[int, ...]

    @property
    def unequal(self) -> bool:
        """Whether the layers differ in thickness, so that it matters which of them is pushed."""
        return float(self.layers[0].x) != float(self.layers[1].x)

    @property
    def modulus(self) -> Modulus:
        """The softest range."""
        return self.ranges[0]

    @property
    def stiff(self) -> Value | None:
        """The stiff end, where it is another than the soft ones."""
        high = self.modulus.high
        return high if float(high.x) > float(self.modulus.low.x) else None

    @property
    def moduli(self) -> tuple[tuple[Value, str], ...]:
        """Every modulus the laminate is solved with, and what it rests on."""
        soft = [(r.low, r.words) for r in self.ranges]
        return (*soft, (self.stiff, self.modulus.words)) if self.stiff is not None else tuple(soft)

    def values(self, cases: Sequence[int]) -> dict[str, Value]:
        """What the laminate was solved with, station by station: the index of the case of each."""
        found = {"h_1": self.layers[0].named("h_1"), "h_2": self.layers[1].named("h_2"), "h_v": self.gap.named("h_v")}
        low = [r.low for r in self.ranges]
        G = gather(low, [self.of_case[c] for c in cases]) if len(low) > 1 and cases else low[0]
        found["G"] = G.named("G")
        return found if self.stiff is None else found | {"G_high": self.stiff.named("G_high")}

    def shares(self, stiff: bool) -> list[tuple[Value, list[int]]]:
        """Each modulus of an end, and the cases that take it."""
        if stiff and self.stiff is not None:
            return [(self.stiff, list(range(len(self.of_case))))]
        own = [[i for i, r in enumerate(self.of_case) if r == place] for place in range(len(self.ranges))]
        return [(r.low, cases) for r, cases in zip(self.ranges, own, strict=True)]

    def sheet(self, size: tuple[float, float], glass: tuple[float, float], G: Value, turned: bool = False) -> Laminate:
        """For the mechanics: size in mm, E and nu of the glass; turned: the second layer is the one that is pushed."""
        front, back = (float(t.x) for t in (reversed(self.layers) if turned else self.layers))
        return Laminate(*size, front, back, float(self.gap.x), *glass, float(G.x))


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way a laminated panel stands: its pads, words of its bases, whether its second layer is pushed, the answer."""

    pads: Pads
    bases: str
    turned: bool
    solution: LaminateSolution | Joined


def film_between(walk: Walk, panel: Panel, layers: Sequence[Value], cases: Sequence[Case]) -> Film | NotChecked | None:
    """The laminate of a panel; None for single glass or where the job wants layers that slide; else what is not known of it.

    layers: minimum thicknesses in the order of the job. cases: the load cases of the panel, each with a duration of its own.
    """
    interlayer = panel.interlayer
    if len(layers) != 2 or interlayer is None or interlayer.coupling == "none":
        return None
    two = (layers[0], layers[1])
    if interlayer.modulus is not None:
        low, high = interlayer.modulus.named("G"), interlayer.modulus_high or interlayer.modulus
        words = f"given in the job for every load: {interlayer.reference}"
        return Film(two, interlayer.thickness, (Modulus(low, high.named("G_high"), words),), (0,) * len(cases))
    lasting = [lasts(walk.tables, walk.basis.film_load(c.strength)) for c in cases]
    ranges = []
    for duration in dict.fromkeys(lasting):
        found = modulus_range(walk.tables, interlayer.kind, interlayer.temperature, duration)
        if isinstance(found, NotChecked):
            return found
        loads = dict.fromkeys(" with ".join(c.strength.natures) for c, d in zip(cases, lasting, strict=True) if d == duration)
        ranges.append((replace(found, words=f"{found.words}, under {' and '.join(loads)}"), duration))
    ranges.sort(key=lambda r: float(r[0].low.x))
    place = {duration: i for i, (_, duration) in enumerate(ranges)}
    return Film(two, interlayer.thickness, tuple(r for r, _ in ranges), tuple(place[d] for d in lasting))


def ways(
    film: Film, size: tuple[float, float], glass: tuple[float, float], loads: Sequence[Load],
    clamps: Mapping[str, Sequence[Clamp]], bases: Mapping[str, Sequence[Base]], memo: Memo,
) -> list[Way]:  # fmt: skip
    """Every way the panel stands, solved.

    size: mm; glass: E and nu; clamps by the stiffness of their pads, the last the stiffest; bases by theirs. Pads that touch
    one face only add nothing under a stiff film, so there they are taken on both.
    """
    found = []
    for stiff in (False, True) if film.stiff is not None else (False,):
        plan = [(pads, base, c) for pads in clamps for base in bases for c in (CONTACTS[:1] if stiff else CONTACTS)]
        stands = [Stand(bases[base], c, clamps[pads]) for pads, base, c in plan]
        for turned in (False, True) if film.unequal else (False,):
            parts = [
                laminates(
                    memo, film.sheet(size, glass, G, turned), clamps[list(clamps)[-1]], [loads[i] for i in cases], stands
                ) for G, cases in film.shares(stiff)
            ]  # fmt: skip
            places = [cases for _, cases in film.shares(stiff)]
            solved = [side_by_side(each, places) for each in zip(*parts, strict=True)]
            found += [
                Way(_pads(stiff, pads, c, turned, film), base, turned, s) for (pads, base, c), s in zip(plan, solved, strict=True)
            ]
    return found


def _pads(stiff_film: bool, pads: str, contact: Contact, turned: bool, film: Film) -> Pads:
    return Pads(pads, stiff_film, (2 if turned else 1) if film.unequal else 0, contact == "one face")


def layer_of(face: str, turned: bool) -> int:
    """Number of the layer (0 or 1, in the order of the job) a face belongs to."""
    return int(face.startswith("front") == turned)
