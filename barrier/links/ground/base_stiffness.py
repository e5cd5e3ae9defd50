"""What a mount gives way by: base plate on its bed, the mount itself if its supplier says so, blocking in bending.

The contact of base plate and timber is positively homogeneous at N = 0, so its secant does not depend on the load level,
only on its direction; the plate on its clamps stays linear. Flexibilities at different levels add with their heights
below the bottom edge of the glass.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import UNIT
from barrier.mechanics import contact, torsion
from barrier.mechanics.plate import FIXED, Base
from barrier.value import Value

# A translation and a turn about the vertical axis that nothing is known of are taken as rigid; these finite numbers keep the
# flexibility invertible. A translation ten times as stiff changes no utilisation by one in a thousand.
RIGID_TRANSLATION = 1e6  # N/mm
RIGID_TWIST = 1e12  # N mm/rad

SCREW_END = {"soft": "soft", "stiff": "stiff"}


@dataclass(frozen=True, slots=True)
class Flexibility:
    """Rotation per moment (rad per N mm) of the parts of a mount, for one stiffness set and direction."""

    contact: float
    supplier: float
    blocking: float

    @property
    def total(self) -> float:
        """All parts together."""
        return self.contact + self.supplier + self.blocking


class Moduli(NamedTuple):
    """Moduli of the timber under a mount along the grain and in shear; None where the basis has none."""

    E: Value | None
    G: Value | None


UNKNOWN = Moduli(None, None)


def flexibility(model: MountModel, stiffness: str, wood: Moduli = UNKNOWN) -> Flexibility | None:
    """Flexibility of a mount about the axis along the glass; None where there is no equilibrium to be stiff by."""
    parts = []
    for sign in (-1.0, 1.0):
        solution = model.solve(stiffness, SCREW_END[stiffness], sign * UNIT, ultimate=False)
        if not solution.equilibrium:
            return None
        parts.append((abs(solution.r_x) / UNIT, _blocking(model, solution, wood)))
    rotation = max(p[0] for p in parts) if stiffness != "stiff" else min(p[0] for p in parts)
    bending = max(p[1] for p in parts) if stiffness != "stiff" else min(p[1] for p in parts)
    given = model.mount.rating.rotation_stiffness if model.mount.rating is not None else None
    return Flexibility(rotation, 1.0 / float(given.x) if given is not None else 0.0, bending)


def piece_forces(model: MountModel, solution: contact.Contact) -> NDArray[np.float64]:
    """Force of the mount on each piece, down positive: bearing less the tension of its screws."""
    return bearing_on_pieces(model, solution) - tension_in_pieces(model, solution)


def bearing_on_pieces(model: MountModel, solution: contact.Contact) -> NDArray[np.float64]:
    """What the mount presses on each piece with."""
    return np.array([solution.zone_force.get(p.name, 0.0) for p in model.pieces], dtype=float)


def tension_in_pieces(model: MountModel, solution: contact.Contact) -> NDArray[np.float64]:
    """What the screws in each piece pull at it with."""
    found = np.zeros(len(model.pieces))
    for s, T in zip(model.screws, solution.T, strict=True):
        if s.piece is not None:
            found[s.piece] += T
    return found


def _blocking(model: MountModel, solution: contact.Contact, wood: Moduli) -> float:
    """Rotation per moment of what spans under the mount, held at both ends; nothing where its modulus is not known.

    Loose pieces bend by their own forces (by the work of those); a section twists, both ends kept from turning; across
    the glass line a piece bends under the moment.
    """
    span = model.span
    if span is None:
        return 0.0
    a, b, L = span.a, span.L - span.a, span.L
    if span.mode == "twists":
        if wood.G is None:
            return 0.0
        return a * b / (L * float(wood.G.x) * float(torsion.constant(span.depth, span.breadth)))
    if wood.E is None:
        return 0.0
    rigidity = float(wood.E.x) * span.breadth * span.depth**3 / 12
    if span.mode == "bends":
        return (a**2 - a * b + b**2) / (3 * rigidity * L * span.pieces)
    share = piece_forces(model, solution) / UNIT
    return float((share**2).sum() * a**2 * b**2 / (3 * rigidity * L))


def base_matrix(model: MountModel, stiffness: str, wood: Moduli = UNKNOWN) -> Base:
    """Base spring of a clamp over (u, a, c) at the bottom edge of the glass; FIXED where there is nothing to model."""
    if model.lacking is not None:
        return FIXED
    flexible = flexibility(model, stiffness, wood)
    if flexible is None:
        return FIXED
    h = float(model.lever.x)
    f = flexible.total
    C = np.array([[f * h * h + 1 / RIGID_TRANSLATION, f * h], [f * h, f]])
    K = np.zeros((3, 3))
    K[:2, :2] = np.linalg.inv(C)
    K[2, 2] = RIGID_TWIST
    return K
