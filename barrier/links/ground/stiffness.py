"""The stiffness bracket: pads, timber bed and screws from soft to stiff, and what a mount's base gives way.

No end of the bracket is the bad one for everything, so every result is an envelope over it. Values and their origin are
rows of the table ``stiffness``; the slip of a screw along its axis follows two published expressions, whose figures are rows of
``screw_stiffness``.
"""

from __future__ import annotations

from dataclasses import dataclass

from barrier.equation import Equation, Symbol, symbols
from barrier.tables import Tables
from barrier.value import Value

SCREW_LOW = Equation(
    Symbol("K_low", "stiffness"),
    "K_1*(d/l_ref)**0.2*(l_ef/l_ref)**0.4",
    symbols("K_1:stiffness, d:length, l_ref:length, l_ef:length"),
    "European technical assessments of screws, axial slip modulus",
    "secondary",
    title="axial stiffness of a screw, low end",
)
SCREW_HIGH = Equation(
    Symbol("K_high", "stiffness"),
    "k_1*d*l_ef",
    symbols("k_1:bed stiffness, d:length, l_ef:length"),
    "as used in European technical assessments of screws",
    "secondary",
    title="axial stiffness of a screw, high end",
)
SCREW_ULTIMATE = Equation(
    Symbol("K_u", "stiffness"),
    "2/3*K_ser",
    symbols("K_ser:stiffness"),
    "EN 1995-1-1:2004 2.2.2(2) (2.1)",
    "secondary",
    title="stiffness of a fastener at the ultimate state",
)
COLD = "stiff film,"
ONE_FACE = "one-face"


@dataclass(frozen=True, slots=True)
class Pads:
    """How the pads of a clamp are taken: the end of their bracket, and of laminated glass what else differs between its sets.

    ``stiff_film``: the interlayer at its stiff end; ``pushed``: number of the layer that is pushed, 0 where both are alike;
    ``one_face``: they touch the face they press on, and not both.

    >>> str(Pads("soft")), str(Pads("soft", stiff_film=True, pushed=2))
    ('soft', 'layer 2 pushed, stiff film, soft')
    """

    stiffness: str
    stiff_film: bool = False
    pushed: int = 0
    one_face: bool = False

    def __str__(self) -> str:
        """In words, for a label."""
        pushed = f"layer {self.pushed} pushed," if self.pushed else ""
        return " ".join(
            w for w in (pushed, COLD if self.stiff_film else "", self.stiffness, ONE_FACE if self.one_face else "") if w
        )


PADS = ("soft", "nominal", "stiff")  # the face peak has no sign it must follow with the pads, so the middle is solved too
BASES = ("soft", "stiff")
BEDS = {"soft": "bed_low", "stiff": "bed_high"}
SCREWS = ("soft", "stiff")
CORNERS = tuple((bed, end) for bed in BEDS for end in SCREWS)
UNIT = 1e5  # N mm: moment the elastic contact is looked at under; answers are per moment and do not depend on it


def screw_stiffness(tables: Tables, d: Value, l_ef: Value) -> tuple[Value, Value]:
    """Low and high end of the axial stiffness of a screw of diameter ``d`` with the thread ``l_ef`` in wood."""
    K_1, l_ref, k_1 = (tables.value("screw_stiffness", *at) for at in (("low", "K_1"), ("low", "l_1"), ("high", "k_1")))
    return SCREW_LOW(K_1=K_1, d=d, l_ref=l_ref, l_ef=l_ef), SCREW_HIGH(k_1=k_1, d=d, l_ef=l_ef)
