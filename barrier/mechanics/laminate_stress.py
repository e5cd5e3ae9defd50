"""Stress on the four glass faces of a laminate from its fields, on a grid of lines or at scattered points."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.laminate_fields import slope_splines
from barrier.mechanics.laminate_parts import Laminate
from barrier.mechanics.spline_lines import DEGREE, FloatArray, Splines
from barrier.mechanics.splines import Samples

Tensor = tuple[FloatArray, FloatArray, FloatArray]  # xx, yy, xy
# Derivatives that make up each tensor: field, splines along x, splines along y.
CURVATURE = (("N2", "N0"), ("N0", "N2"), ("N1", "N1"))
SLIP = (("ax", "M1", "N0"), ("ay", "N0", "M1"), ("ax", "M0", "N1"), ("ay", "N1", "M0"))


@dataclass(frozen=True, eq=False)
class Faces:
    """How the layers' faces follow from curvature w_,ij, opening d_,ij and slip e(a)_ij of a laminate.

    The strain on a face is z (w_,ij + part d_,ij) + s e(a)_ij; weights: (4 faces, 3), in the order front outer, front inner,
    back inner, back outer. q: E / (1 - nu²).
    """

    weights: FloatArray
    q: float
    nu: float

    @classmethod
    def of(cls, sheet: Laminate) -> Faces:
        """Of a laminate; tension positive, the front outer face at z = +h1/2 of its layer."""
        (b1, b2), h1, h2 = sheet.shares, sheet.front, sheet.back
        s1, s2 = (sheet.distance * h / (h1 + h2) for h in (h2, h1))
        rows = [(h1 / 2, -b2, s1), (-h1 / 2, -b2, s1), (h2 / 2, b1, -s2), (-h2 / 2, b1, -s2)]
        return cls(np.array([(z, z * part, s) for z, part, s in rows]), sheet.q, sheet.nu)

    def principal(self, face: int | NDArray[np.intp], bent: Tensor, opened: Tensor, slipped: Tensor) -> FloatArray:
        """Largest principal stress (MPa) on a face, or on the face of every point."""
        z, part, s = self.weights[face].T
        xx, yy, xy = (z * w + part * d + s * a for w, d, a in zip(bent, opened, slipped, strict=True))
        mean = (1 + self.nu) / 2 * (xx + yy)
        radius = (1 - self.nu) * np.sqrt(((xx - yy) / 2) ** 2 + xy**2)
        found: FloatArray = self.q * (mean + radius)
        return found


@dataclass(frozen=True, eq=False)
class Lines:
    """Splines of both directions on the lines of a grid."""

    samples: Samples

    @cached_property
    def tables(self) -> tuple[dict[str, FloatArray], dict[str, FloatArray]]:
        """By name, N for quintic splines and M for slope splines, along x and along y."""
        return _named(self.samples.along), _named(self.samples.up)

    def field(self, coefficients: FloatArray, along: str, up: str) -> FloatArray:
        """A field or derivative on the grid from its coefficients (..., size x, size y): (..., nx, ny)."""
        on_x, on_y = self.tables
        found: FloatArray = on_x[along] @ coefficients @ on_y[up].T
        return found

    def tensors(self, fields: Mapping[str, FloatArray]) -> tuple[Tensor, Tensor, Tensor]:
        """Curvature of w, of d, and e(a) on the grid, 1/mm."""
        bent, opened = (self._curvature(fields[f]) for f in ("w", "d"))
        xx, yy, xy, yx = (self.field(fields[f], along, up) for f, along, up in SLIP)
        return bent, opened, (xx, yy, (xy + yx) / 2)

    def _curvature(self, coefficients: FloatArray) -> Tensor:
        xx, yy, xy = (self.field(coefficients, along, up) for along, up in CURVATURE)
        return xx, yy, xy


def _named(tables: tuple[FloatArray, FloatArray, FloatArray]) -> dict[str, FloatArray]:
    value, first, second = tables
    return {"N0": value, "N1": first, "N2": second, "M0": slope_splines(first), "M1": slope_splines(second)}


def tensors_at(
    lines: tuple[Splines, Splines], fields: Mapping[str, FloatArray], case: NDArray[np.intp], x: FloatArray, y: FloatArray
) -> tuple[Tensor, Tensor, Tensor]:
    """The same at points x[i], y[i] (mm) of the cases case[i]: each (points,)."""
    (i, on_x), (j, on_y) = lines[0].near(x), lines[1].near(y)
    along, up = _named(tuple(on_x)), _named(tuple(on_y))
    six = np.arange(DEGREE + 1)

    def field(name: str, n: str, m: str) -> FloatArray:
        columns, rows = i[:, None] + six[: along[n].shape[1]], j[:, None] + six[: up[m].shape[1]]
        around = fields[name][case[:, None, None], columns[:, :, None], rows[:, None, :]]
        return np.asarray(np.einsum("pa,pab,pb->p", along[n], around, up[m]))

    def curvature(name: str) -> Tensor:
        xx, yy, xy = (field(name, n, m) for n, m in CURVATURE)
        return xx, yy, xy

    xx, yy, xy, yx = (field(*of) for of in SLIP)
    return curvature("w"), curvature("d"), (xx, yy, (xy + yx) / 2)
