"""What a run of panels under a rail is made of: rail, panels in their places, load cases; what of them is refused.

Units: N, mm, MPa, rad. s runs along the run.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from barrier.mechanics.plate_parts import Base, Clamp, Load, Plate, require

STIFFEST_RAIL = 1e13  # N mm²: beyond it the digits are lost in short elements


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail from ``start`` to ``end`` (mm on the run): EI (N mm²), k_r of its connection to the glass (N/mm per mm).

    ``left`` and ``right`` stiffness of its ends: 0 free, ``math.inf`` a bracket, else a post in N/mm. ``splices`` places of
    hinges, mm. Raises ValueError where a figure is out of range.
    """

    start: float
    end: float
    EI: float
    k_r: float
    left: float = 0.0
    right: float = 0.0
    splices: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        require("rail EI", self.EI, 0.0, STIFFEST_RAIL, open_low=True)
        require("rail k_r", self.k_r, 0.0, 1e6, open_low=True)
        require("rail end", self.end, self.start, math.inf, open_low=True)
        for name in ("left", "right"):
            if getattr(self, name) != math.inf:
                require(f"rail {name}", getattr(self, name), 0.0, 1e9)
        for s in self.splices:
            require("rail splice", s, self.start, self.end)

    @property
    def wave(self) -> float:
        """Length over which rail and glass settle with one another, (4 EI / k_r)^¼, mm."""
        return float((4 * self.EI / self.k_r) ** 0.25)


@dataclass(frozen=True, slots=True)
class RunPanel:
    """One panel of a run: where its left edge is (mm on the run), its glass, its clamps and what they stand on."""

    start: float
    plate: Plate
    clamps: tuple[Clamp, ...]
    bases: tuple[Base, ...]

    @property
    def end(self) -> float:
        """Where its right edge is, mm on the run."""
        return self.start + self.plate.width


@dataclass(frozen=True, slots=True)
class RunLoad:
    """A load case of a run: line loads (q N/mm, from, to) and point loads (P N, at) on the rail, mm on the run; a pressure
    (MPa) on all the glass that is there; on the glass of single panels, by number from 0, loads of their own."""

    lines: tuple[tuple[float, float, float], ...] = ()
    points: tuple[tuple[float, float], ...] = ()
    pressure: float = 0.0
    glass: tuple[tuple[int, Load], ...] = ()
