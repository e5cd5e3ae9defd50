"""Answers of several laminates that differ in their interlayer alone, put together case by case.

An interlayer is softer under a load that lasts longer, so the load cases of one panel belong to several laminates. Each is
solved for its own cases; what is asked of them all is answered here in the order of the cases. Units as in
:mod:`barrier.mechanics.laminate`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from barrier.mechanics.laminate import Contact, LaminateSolution, LayerFace
from barrier.mechanics.splines import FloatArray, Peak


class Borders(NamedTuple):
    """Where pads and loads begin and end along x and y, mm."""

    x_borders: set[float]
    y_borders: set[float]


@dataclass(frozen=True, eq=False)
class Joined:
    """Several solutions of one panel on the same pads and bases, one row a load case as each of them has it.

    parts: the solutions. places: of each part its cases' places among all cases.
    """

    parts: tuple[LaminateSolution, ...]
    places: tuple[tuple[int, ...], ...]

    def _joined(self, of: Callable[[LaminateSolution], FloatArray], axis: int = 0) -> FloatArray:
        order = np.argsort([place for places in self.places for place in places])
        found: FloatArray = np.concatenate([of(part) for part in self.parts], axis=axis).take(order, axis=axis)
        return found

    @property
    def model(self) -> Borders:
        """Borders of pads and loads of all parts."""
        xs, ys = ([getattr(p.model, name) for p in self.parts] for name in Borders._fields)
        return Borders(set().union(*xs), set().union(*ys))

    @property
    def contact(self) -> Contact:
        """Of the pads, the same in every part."""
        return self.parts[0].contact

    @cached_property
    def F(self) -> FloatArray:
        """Force of the panel on each clamp, N: (loads, clamps)."""
        return self._joined(lambda s: s.F)

    @cached_property
    def Mx(self) -> FloatArray:
        """Its moment about y = 0, N mm."""
        return self._joined(lambda s: s.Mx)

    @cached_property
    def Mz(self) -> FloatArray:
        """Its moment about the clamp's x, N mm."""
        return self._joined(lambda s: s.Mz)

    @cached_property
    def body(self) -> FloatArray:
        """Movement of each clamp: (loads, clamps, 3)."""
        return self._joined(lambda s: s.body)

    @property
    def residual(self) -> FloatArray:
        """Of equilibrium, relative: (loads,)."""
        return self._joined(lambda s: s.residual)

    @cached_property
    def top_deflection(self) -> FloatArray:
        """Largest |w| (mm) on the top edge: (loads,)."""
        return self._joined(lambda s: s.top_deflection)

    @cached_property
    def top_deflection_x(self) -> FloatArray:
        """Where along the top edge it is, mm: (loads,)."""
        return self._joined(lambda s: s.top_deflection_x)

    @cached_property
    def peak_pad_pressure(self) -> FloatArray:
        """Largest |p| (MPa) between pad and glass of each clamp: (loads, clamps)."""
        return self._joined(lambda s: s.peak_pad_pressure)

    def deflection(self, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """w (mm) on the grid of x by y (mm): (loads, nx, ny)."""
        return self._joined(lambda s: s.deflection(x, y))

    def slip(self, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """Slip of the layers (mm) along x and y: (2, loads, nx, ny)."""
        return self._joined(lambda s: s.slip(x, y), axis=1)

    def principal_stress(self, face: LayerFace, x: FloatArray | float, y: FloatArray | float) -> FloatArray:
        """Largest principal stress (MPa) of a glass face on the grid of x by y (mm): (loads, nx, ny)."""
        return self._joined(lambda s: s.principal_stress(face, x, y))

    def peaks(self, edge_band: float) -> dict[LayerFace, dict[str, Peak]]:
        """Largest principal stress of each glass face and zone; edge_band in mm."""
        found = [p.peaks(edge_band) for p in self.parts]
        order = np.argsort([place for places in self.places for place in places])

        def joined(face: LayerFace, zone: str) -> Peak:
            own = [f[face][zone] for f in found]
            stress, x, y = (np.concatenate([getattr(p, of) for p in own])[order] for of in ("stress", "x", "y"))
            return Peak(stress, x, y)

        return {face: {zone: joined(face, zone) for zone in zones} for face, zones in found[0].items()}


def side_by_side(parts: Sequence[LaminateSolution], places: Sequence[Sequence[int]]) -> LaminateSolution | Joined:
    """Several solutions as one; a single one is itself."""
    return parts[0] if len(parts) == 1 else Joined(tuple(parts), tuple(tuple(p) for p in places))
