"""The section of a rail: its second moments of area and section moduli, as given or from its sizes; elastic, no slot."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Rail
from barrier.value import Value

SIZES = "b_r:length, h_r:length"
ALL_SIZES = f"{SIZES}, t_r:length"
GEOMETRY = "geometry of the section"


def _inertia(result: str, text: str, of: str, title: str) -> Equation:
    return Equation(Symbol(result, "inertia"), text, symbols(of), GEOMETRY, "computed", title=title)


def _modulus(text: str, of: str, title: str) -> Equation:
    return Equation(Symbol("W_r", "section modulus"), text, symbols(of), GEOMETRY, "computed", title=title)


ACROSS, DOWN = "second moment of area of the rail, bent across the glass", "second moment of area of the rail, bent down"
W_ACROSS, W_DOWN = "section modulus of the rail, bent across the glass", "section modulus of the rail, bent down"
INERTIA = {
    "flat": _inertia("I_h", "h_r*b_r**3/12", SIZES, ACROSS),
    "box": _inertia("I_h", "(h_r*b_r**3 - (h_r - 2*t_r)*(b_r - 2*t_r)**3)/12", ALL_SIZES, ACROSS),
    "channel": _inertia("I_h", "(h_r*b_r**3 - (h_r - t_r)*(b_r - 2*t_r)**3)/12", ALL_SIZES, ACROSS),
}
INERTIA_DOWN = {
    "flat": _inertia("I_v", "b_r*h_r**3/12", SIZES, DOWN),
    "box": _inertia("I_v", "(b_r*h_r**3 - (b_r - 2*t_r)*(h_r - 2*t_r)**3)/12", ALL_SIZES, DOWN),
    "channel": _inertia(
        "I_v",
        "(b_r*h_r**3 - (b_r - 2*t_r)*(h_r**3 - t_r**3))/3 - t_r*(2*h_r + b_r - 2*t_r)*z_r**2",
        f"{ALL_SIZES}, z_r:length",
        DOWN,
    ),
}  # fmt: skip
MODULUS = _modulus("2*I_h/b_r", "I_h:inertia, b_r:length", W_ACROSS)
MODULUS_DOWN = _modulus("2*I_v/h_r", "I_v:inertia, h_r:length", W_DOWN)
MODULUS_CHANNEL = _modulus("I_v/(h_r - z_r)", "I_v:inertia, h_r:length, z_r:length", f"{W_DOWN}, at its lips")
CENTROID = Equation(
    Symbol("z_r", "length"),
    "(b_r*t_r**2 + 2*t_r*(h_r**2 - t_r**2))/(2*t_r*(2*h_r + b_r - 2*t_r))",
    symbols(ALL_SIZES),
    GEOMETRY,
    "computed",
    title="centroid of the channel below its top",
)


def _sizes(rail: Rail) -> dict[str, Value] | None:
    """The sizes of a shape; None where one is not known."""
    given = {"b_r": rail.across, "h_r": rail.depth, **({} if rail.shape == "flat" else {"t_r": rail.wall})}
    known = {name: v.named(name) for name, v in given.items() if v is not None}
    return known if len(known) == len(given) else None


def inertia(rail: Rail) -> Value | None:
    """Second moment of area across the glass, mm4; None where it is not known."""
    if rail.shape is None:
        return None if rail.inertia is None else rail.inertia.named("I_h")
    sizes = _sizes(rail)
    return None if sizes is None else INERTIA[rail.shape](**sizes)


def modulus(rail: Rail) -> Value | None:
    """Section modulus across the glass, mm3; None where it is not known."""
    if rail.shape is None:
        return None if rail.section_modulus is None else rail.section_modulus.named("W_r")
    sizes = _sizes(rail)
    return None if sizes is None else MODULUS(I_h=INERTIA[rail.shape](**sizes), b_r=sizes["b_r"])


def modulus_down(rail: Rail) -> Value | None:
    """Section modulus under a vertical load, mm3; None where it is not known."""
    if rail.shape is None:
        return None if rail.section_modulus_down is None else rail.section_modulus_down.named("W_r")
    sizes = _sizes(rail)
    if sizes is None:
        return None
    if rail.shape == "channel":
        z_r = CENTROID(**sizes)
        return MODULUS_CHANNEL(I_v=INERTIA_DOWN["channel"](**sizes, z_r=z_r), h_r=sizes["h_r"], z_r=z_r)
    return MODULUS_DOWN(I_v=INERTIA_DOWN[rail.shape](**sizes), h_r=sizes["h_r"])
