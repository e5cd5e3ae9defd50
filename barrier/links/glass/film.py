"""Laminated glass of two layers with the shear of its interlayer: which ways it stands are looked at, and which layer is where.

The interlayer is taken as soft as it gets and as stiff as it gets (:func:`barrier.basis.interlayer.modulus_range`); pads work on
both faces or touch one. Layers of different thickness are looked at with either of them pushed, for loads act outward and
inward. Every result is the envelope over all of these and over pads and bases.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barrier.basis.interlayer import Modulus, modulus_range
from barrier.job.schema import Panel
from barrier.links.glass.solved_once import laminates
from barrier.links.memo import Memo
from barrier.links.walk import Walk
from barrier.mechanics.laminate import CONTACTS, Contact, Laminate, LaminateSolution, Stand
from barrier.mechanics.plate import Base, Clamp, Load
from barrier.result import NotChecked
from barrier.value import Value

ONE_FACE = "one-face"
COLD = "stiff film,"
FACES = {
    "front outer": "outer face of the layer that is pushed",
    "front inner": "inner face of the layer that is pushed",
    "back inner": "inner face of the other layer",
    "back outer": "outer face of the other layer",
}


@dataclass(frozen=True, slots=True, eq=False)
class Film:
    """Two layers in the order of the job with their minimum thickness, the interlayer's thickness, its modulus and its range."""

    layers: tuple[Value, Value]
    gap: Value
    modulus: Modulus

    @property
    def unequal(self) -> bool:
        """Whether the layers differ in thickness, so that it matters which of them is pushed."""
        return float(self.layers[0].x) != float(self.layers[1].x)

    @property
    def moduli(self) -> tuple[tuple[str, Value], ...]:
        """Words of a set and the modulus it is solved with: the soft end, and the stiff one where it is another."""
        low, high = self.modulus.low, self.modulus.high
        return (("", low), (COLD, high)) if float(high.x) > float(low.x) else (("", low),)

    @property
    def values(self) -> dict[str, Value]:
        """What the laminate was solved with."""
        found = {"h_1": self.layers[0].named("h_1"), "h_2": self.layers[1].named("h_2"), "h_v": self.gap.named("h_v")}
        return found | {G.symbol: G for _, G in self.moduli}

    def sheet(self, size: tuple[float, float], glass: tuple[float, float], G: Value, turned: bool = False) -> Laminate:
        """For the mechanics: size in mm, E and nu of the glass; turned: the second layer is the one that is pushed."""
        front, back = (float(t.x) for t in (reversed(self.layers) if turned else self.layers))
        return Laminate(*size, front, back, float(self.gap.x), *glass, float(G.x))


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way a laminated panel stands: words of its pads and of its bases, whether its second layer is pushed, the answer."""

    pads: str
    bases: str
    turned: bool
    solution: LaminateSolution


def film_between(walk: Walk, panel: Panel, layers: Sequence[Value]) -> Film | NotChecked | None:
    """The laminate of a panel; None for single glass or where the job wants layers that slide; else what is not known of it.

    layers: minimum thicknesses in the order of the job.
    """
    interlayer = panel.interlayer
    if len(layers) != 2 or interlayer is None or interlayer.coupling == "none":
        return None
    if interlayer.modulus is not None:
        low, high = interlayer.modulus.named("G"), interlayer.modulus_high or interlayer.modulus
        modulus = Modulus(low, high.named("G_high"), f"given in the job: {interlayer.reference}")
        return Film((layers[0], layers[1]), interlayer.thickness, modulus)
    found = modulus_range(walk.tables, interlayer.kind, interlayer.temperature)
    return found if isinstance(found, NotChecked) else Film((layers[0], layers[1]), interlayer.thickness, found)


def ways(
    film: Film, size: tuple[float, float], glass: tuple[float, float], loads: Sequence[Load],
    clamps: Mapping[str, Sequence[Clamp]], bases: Mapping[str, Sequence[Base]], memo: Memo,
) -> list[Way]:  # fmt: skip
    """Every way the panel stands, solved.

    size: mm; glass: E and nu; clamps by the stiffness of their pads, the last the stiffest; bases by theirs. Pads that touch
    one face only add nothing under a stiff film, so there they are taken on both.
    """
    found = []
    stiffest = list(clamps)[-1]
    for words, G in film.moduli:
        for turned in (False, True) if film.unequal else (False,):
            plan = [(pads, base, c) for pads in clamps for base in bases for c in (CONTACTS[:1] if words else CONTACTS)]
            stands = [Stand(bases[base], c, clamps[pads]) for pads, base, c in plan]
            solved = laminates(memo, film.sheet(size, glass, G, turned), clamps[stiffest], loads, stands)
            found += [
                Way(_pads(words, pads, c, turned, film), base, turned, s) for (pads, base, c), s in zip(plan, solved, strict=True)
            ]
    return found


def _pads(words: str, pads: str, contact: Contact, turned: bool, film: Film) -> str:
    pushed = ("layer 2 pushed," if turned else "layer 1 pushed,") if film.unequal else ""
    return " ".join(filter(None, (pushed, words, pads, ONE_FACE if contact == "one face" else "")))


def layer_of(face: str, turned: bool) -> int:
    """Number of the layer (0 or 1, in the order of the job) a face belongs to."""
    return int(face.startswith("front") == turned)
