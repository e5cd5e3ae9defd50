"""What a laminate of two glass layers is made of: thicknesses, interlayer, the stiffnesses that follow; what is refused.

Units: N, mm, MPa. The front layer is the one that a positive load pushes on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from barrier.mechanics.plate_parts import Plate, require

BULK = 2000.0  # MPa, of an interlayer; from 1000 to 4000 the stress of a thin layer changes by at most 1 % (stiff films 4 %)
SOFTEST, STIFFEST = 1e-6, 1e10  # MPa, shear modulus of the interlayer


@dataclass(frozen=True)
class Laminate:
    """Two layers of one glass with an interlayer between them.

    width, height: mm. front, back: thickness of the layers, mm; the front one is pushed by a positive load. gap: thickness
    of the interlayer, mm. E: modulus of the glass, MPa; nu: its Poisson's ratio. G: shear modulus of the interlayer, MPa, at
    the temperature and after the duration of the load. bulk: its bulk modulus, MPa.

    ValueError names what is out of range. Source of the stiffnesses: sandwich plates with thick faces; the in-plane
    forces of the layers are equal and opposite because pads and loads act across the panel only.

    >>> sheet = Laminate(1200, 1200, 6, 10, 1.52, 70_000, 0.23, 0.5)
    >>> round(sheet.distance, 2), round(sheet.slip_length)
    (9.52, 918)
    """

    width: float
    height: float
    front: float
    back: float
    gap: float
    E: float
    nu: float
    G: float
    bulk: float = BULK

    def __post_init__(self) -> None:
        for name in ("width", "height", "front", "back", "gap", "E"):
            require(f"laminate {name}", getattr(self, name), 0.0, math.inf, open_low=True)
        require("laminate nu", self.nu, 0.0, 0.499)
        require("laminate G", self.G, SOFTEST, STIFFEST)
        require("laminate bulk", self.bulk, 1.0, 1e5)

    @property
    def q(self) -> float:
        """E / (1 - nu²), MPa."""
        return self.E / (1 - self.nu**2)

    @property
    def distance(self) -> float:
        """Between the middles of the layers, h_s in mm."""
        return self.front / 2 + self.gap + self.back / 2

    @property
    def D(self) -> float:
        """Bending stiffness of layers that slide freely, N mm."""
        return self.q * (self.front**3 + self.back**3) / 12

    @property
    def B(self) -> float:
        """What the couple of the layers' in-plane forces adds if nothing slides, N mm."""
        return self.q * self.front * self.back / (self.front + self.back) * self.distance**2

    @property
    def S(self) -> float:
        """Shear stiffness of the interlayer against slope less slip, N/mm."""
        return self.G * self.distance**2 / self.gap

    @property
    def slip_length(self) -> float:
        """Length over which the interlayer couples the layers, sqrt(B / S) in mm."""
        return math.sqrt(self.B / self.S)

    @property
    def shares(self) -> tuple[float, float]:
        """Of front and back layer in D."""
        cubes = self.front**3, self.back**3
        return cubes[0] / sum(cubes), cubes[1] / sum(cubes)

    @property
    def D_split(self) -> float:
        """Bending stiffness against opening, D1 D2 / D, N mm."""
        return self.D * self.shares[0] * self.shares[1]

    @property
    def e0(self) -> float:
        """Slope of the opening that shears the interlayer, over h_s."""
        b1, b2 = self.shares
        return ((self.back + self.gap) / 2 * b1 - (self.front + self.gap) / 2 * b2) / self.distance

    @property
    def M(self) -> float:
        """Modulus of the interlayer pressed through its thickness with its sides held, K + 4 G / 3, MPa."""
        return self.bulk + 4 * self.G / 3

    @property
    def flow_length(self) -> float:
        """Length over which an interlayer pressed together flows sideways, h_v sqrt(M / 12 G) in mm."""
        return self.gap * math.sqrt(self.M / (12 * self.G))

    @cached_property
    def layered(self) -> Plate:
        """The single sheet as stiff as layers that slide freely."""
        return Plate(self.width, self.height, (self.front**3 + self.back**3) ** (1 / 3), self.E, self.nu)

    @property
    def monolithic(self) -> float:
        """Thickness (mm) of the single sheet as stiff as layers that do not slide at all, with the gap between them."""
        return float((12 * (self.D + self.B) / self.q) ** (1 / 3))
