"""The stiffness bracket: pads, timber bed and screws from soft to stiff, and what a mount's base gives way.

No end of the bracket is the bad one for everything, so every result is an envelope over it. Values and their origin are
rows of the table ``stiffness``; the slip of a screw along its axis follows two published expressions.
"""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

SCREW_LOW = Equation(
    Symbol("K_low", "stiffness", "N/mm"),
    "780*d**0.2*l_ef**0.4",
    symbols("d:length@mm, l_ef:length@mm"),
    "Blass, Bejtka, Uibel 2006, axial slip modulus of a screw",
    "memory",
    title="axial stiffness of a screw, low end",
)
SCREW_HIGH = Equation(
    Symbol("K_high", "stiffness", "N/mm"),
    "25*d*l_ef",
    symbols("d:length@mm, l_ef:length@mm"),
    "as used in European technical assessments of screws",
    "memory",
    title="axial stiffness of a screw, high end",
)
SCREW_ULTIMATE = Equation(
    Symbol("K_u", "stiffness"),
    "2/3*K_ser",
    symbols("K_ser:stiffness"),
    "EN 1995-1-1:2004 2.2.2(2) (2.1)",
    "memory",
    title="stiffness of a fastener at the ultimate state",
)
PADS = ("soft", "nominal", "stiff")  # the face peak has no sign it must follow with the pads, so the middle is solved too
BASES = ("soft", "stiff")
BEDS = {"soft": "bed_low", "stiff": "bed_high"}
SCREWS = ("soft", "stiff")
CORNERS = tuple((bed, end) for bed in BEDS for end in SCREWS)
UNIT = 1e5  # N mm: moment the elastic contact is looked at under; answers are per moment and do not depend on it
