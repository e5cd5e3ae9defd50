"""Units and kinds of quantity: the closed list of spellings, and how each kind is shown.

Everything inside the project is in N, mm, MPa, rad, kg/m3 and m/s. A *kind* ("length", "force", "line load" ...)
says what a number is; its dimension says which units may be written for it, and its style which unit a metric or
a US sheet shows. The list is closed on purpose: a general units parser reads ``12 MM`` as megamolar and
``0.75 kn/m`` as knots per metre.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

LBF = 4.4482216152605  # N, exact by definition of the pound (0.45359237 kg) and standard gravity
INCH = 25.4  # mm, exact
FOOT = 12 * INCH
MILE = 5280 * FOOT
LB_PER_FT3 = 16.018463373960142  # kg/m3


@dataclass(frozen=True, slots=True)
class Unit:
    """One spelling a reader may write.

    ``factor`` turns a number in this unit into the base unit of its ``dimension``.
    """

    spelling: str
    dimension: str
    factor: float


# A dimension is written as powers of force (F), length (L), and the few others the project meets.
UNITS: dict[str, Unit] = {
    spelling: Unit(spelling, dimension, factor)
    for dimension, spellings in {
        "L": {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH, "ft": FOOT, "km": 1e6, "mi": MILE},
        "L2": {"mm2": 1.0, "in2": INCH**2, "ft2": FOOT**2},
        "L3": {"mm3": 1.0, "in3": INCH**3},
        "L4": {"mm4": 1.0, "in4": INCH**4},
        "1/L": {"1/mm": 1.0, "1/in": 1 / INCH},
        "F": {"N": 1.0, "kN": 1e3, "lbf": LBF},
        "F/L": {
            "N/mm": 1.0,
            "kN/m": 1.0,
            "N/m": 1e-3,
            "kN/mm": 1e3,
            "lbf/ft": LBF / FOOT,
            "lbf/in": LBF / INCH,
        },
        "F/L2": {
            "MPa": 1.0,
            "N/mm2": 1.0,
            "GPa": 1e3,
            "kPa": 1e-3,
            "kN/m2": 1e-3,
            "Pa": 1e-6,
            "N/m2": 1e-6,
            "psi": LBF / INCH**2,
            "lbf/in2": LBF / INCH**2,
            "psf": LBF / FOOT**2,
            "lbf/ft2": LBF / FOOT**2,
        },
        "F/L3": {"N/mm3": 1.0, "kN/m3": 1e-6, "lbf/in3": LBF / INCH**3, "lbf/ft3": LBF / FOOT**3},
        "F L": {"N mm": 1.0, "N m": 1e3, "kN m": 1e6, "kN mm": 1e3, "lbf in": LBF * INCH, "lbf ft": LBF * FOOT},
        "F L/rad": {
            "N mm/rad": 1.0,
            "kN m/rad": 1e6,
            "N m/rad": 1e3,
            "lbf in/rad": LBF * INCH,
            "lbf ft/rad": LBF * FOOT,
        },
        "angle": {"rad": 1.0, "mrad": 1e-3, "deg": 0.017453292519943295},
        "M/L3": {"kg/m3": 1.0, "lb/ft3": LB_PER_FT3},
        "M": {"kg": 1.0, "lb": 0.45359237},
        "T": {"degC": 1.0},
        "L/T": {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 0.44704},
        "1": {"": 1.0, "%": 0.01},
    }.items()
    for spelling, factor in spellings.items()
}


@dataclass(frozen=True, slots=True)
class Kind:
    """What a number is: its dimension, and the unit a metric or a US sheet shows it in."""

    name: str
    dimension: str
    metric: str
    us: str


KINDS: dict[str, Kind] = {
    k.name: k
    for k in (
        Kind("length", "L", "mm", "in"),
        Kind("area", "L2", "mm2", "in2"),
        Kind("section modulus", "L3", "mm3", "in3"),
        Kind("inertia", "L4", "mm4", "in4"),
        Kind("per length", "1/L", "1/mm", "1/in"),
        Kind("force", "F", "kN", "lbf"),
        Kind("line load", "F/L", "kN/m", "lbf/ft"),
        Kind("withdrawal", "F/L", "N/mm", "lbf/in"),
        Kind("stiffness", "F/L", "N/mm", "lbf/in"),
        Kind("stress", "F/L2", "MPa", "psi"),
        Kind("pressure", "F/L2", "kN/m2", "lbf/ft2"),
        Kind("bed stiffness", "F/L3", "N/mm3", "lbf/in3"),
        Kind("unit weight", "F/L3", "kN/m3", "lbf/ft3"),
        Kind("moment", "F L", "kN m", "lbf in"),
        Kind("rotation stiffness", "F L/rad", "kN m/rad", "lbf in/rad"),
        Kind("angle", "angle", "rad", "rad"),
        Kind("density", "M/L3", "kg/m3", "lb/ft3"),
        Kind("mass", "M", "kg", "lb"),
        Kind("temperature", "T", "degC", "degC"),
        Kind("distance", "L", "m", "ft"),
        Kind("speed", "L/T", "m/s", "mph"),
        Kind("ratio", "1", "", ""),
        Kind("count", "1", "", ""),
    )
}


def shown_unit(kind: str, style: str) -> str:
    """Unit in which a sheet of ``style`` ("metric" or "us") shows a quantity of ``kind``.

    >>> shown_unit("force", "metric"), shown_unit("force", "us")
    ('kN', 'lbf')
    """
    k = KINDS[kind]
    return k.us if style == "us" else k.metric


def same_dimension(kind_a: str, kind_b: str) -> bool:
    """Whether two kinds, ``kind_a`` and ``kind_b``, may stand for one another in an equation (a stress and a pressure may)."""
    return kind_a == kind_b or KINDS[kind_a].dimension == KINDS[kind_b].dimension


@cache
def units_of(kind: str) -> tuple[str, ...]:
    """Spellings a reader may write for ``kind``, in the order of the list.

    >>> units_of("length")
    ('mm', 'cm', 'm', 'in', 'ft', 'km', 'mi')
    """
    return tuple(s for s, u in UNITS.items() if u.dimension == KINDS[kind].dimension)
