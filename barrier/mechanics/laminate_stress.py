"""Stress on the four glass faces of a laminate from its fields, on a grid of lines or at scattered points."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.laminate_fields import slope_splines
from barrier.mechanics.laminate_parts import Laminate
from barrier.mechanics.spline_lines import DEGREE, FloatArray, Splines
from barrier.mechanics.splines import Peak, Samples, Zones, peaks_by_zone

FACES = 4
FEW = 8  # cases whose stresses are in memory at once
Fields = Mapping[str, FloatArray]  # splines' coefficients by field


@dataclass(frozen=True, eq=False)
class Faces:
    """How the layers' faces follow from curvature w_,ij, opening d_,ij and slip e(a)_ij of a laminate.

    The strain on a face is z (w_,ij + part d_,ij) + s e(a)_ij; weights: z, z part and s of each, (4 faces, 3), in the order
    front outer, front inner, back inner, back outer: of each layer first the face with z above nought, then the other.
    q: E / (1 - nu²).
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

    @property
    def circle(self) -> FloatArray:
        """Mohr's circle of the stress from the strain: factors of xx + yy in its mean, of xx - yy and of xy in its radius."""
        return self.q * np.array([(1 + self.nu) / 2, (1 - self.nu) / 2, 1 - self.nu])

    def principal(self, xx: FloatArray, yy: FloatArray, xy: FloatArray) -> FloatArray:
        """Largest principal stress (MPa) from a strain."""
        of_mean, of_half, of_shear = self.circle
        found: FloatArray = of_mean * (xx + yy) + np.hypot(of_half * (xx - yy), of_shear * xy)
        return found


@dataclass(frozen=True, eq=False)
class Lines:
    """Splines of both directions on the lines of a grid; near: where d has coefficients, (size x, size y)."""

    splines: tuple[Splines, Splines]
    samples: Samples
    near: NDArray[np.bool_]

    @cached_property
    def tables(self) -> tuple[dict[str, FloatArray], dict[str, FloatArray]]:
        """By name, N for quintic splines and M for slope splines, along x and along y."""
        return _named(self.samples.along), _named(self.samples.up)

    def field(self, coefficients: FloatArray, along: str, up: str) -> FloatArray:
        """A field or derivative on the grid from its coefficients (..., size x, size y): (..., nx, ny)."""
        on_x, on_y = self.tables
        found: FloatArray = on_x[along] @ coefficients @ on_y[up].T
        return found

    @cached_property
    def _opening(self) -> tuple[NDArray[np.intp], slice, slice]:
        """Splines of d along x, and along y; and the lines of y on which the latter are."""
        rows = _span(np.count_nonzero(self.near, axis=0))
        lines = _span(sum(np.count_nonzero(table[:, rows], axis=1) for table in self.samples.up))
        return np.flatnonzero(np.count_nonzero(self.near, axis=1)), rows, lines

    def principals(self, faces: Faces, fields: Fields) -> Iterator[FloatArray]:
        """Of a few cases after another what ``principal`` gives, so that it need not be kept."""
        for start in range(0, len(fields["w"]), FEW):
            yield self.principal(faces, {name: own[start : start + FEW] for name, own in fields.items()})

    def principal(self, faces: Faces, fields: Fields) -> FloatArray:
        """Largest principal stress (MPa) of the four faces of every case: (cases, 4, nx, ny)."""
        (N, M), (up_N, up_M) = (((t["N0"], t["N1"], t["N2"]), (t["M0"], t["M1"])) for t in self.tables)
        columns, rows, lines = self._opening
        w, ax, ay = (_along(tables, fields[f]) for f, tables in (("w", N), ("ax", M), ("ay", N[:2])))
        d = _along([table[:, columns] for table in N], fields["d"][:, columns, rows])
        up, up_d = [table.T for table in up_N], [table[lines, rows].T for table in up_N]
        found = np.empty((len(fields["w"]), FACES, len(self.samples.x), len(self.samples.y)))
        for case, on_faces in enumerate(found):  # one after another, in fast memory
            bent, opened = _circle(*_curvature(w[case], up)), _circle(*_curvature(d[case], up_d))
            shear = ax[case, 0] @ up[1]
            shear += ay[case, 1] @ up_M[0].T
            shear /= 2
            slipped = _circle(ax[case, 1] @ up[0], ay[case, 0] @ up_M[1].T, shear)
            for layer in (0, 2):
                z, part, s = np.multiply.outer(faces.weights[layer], faces.circle)[:, :, None, None]
                bending, slip = z * bent, s * slipped
                bending[:, :, lines] += part * opened
                _stress(slip + bending, on_faces[layer])
                _stress(np.subtract(slip, bending, out=slip), on_faces[layer + 1])
        return found


def _along(tables: Sequence[FloatArray], coefficients: FloatArray) -> FloatArray:
    """Splines (cases, size x, size y) and their derivatives on the lines x: (cases, tables, nx, size y)."""
    found = np.concatenate(tables) @ coefficients
    return found.reshape(len(found), len(tables), -1, found.shape[2])


def _curvature(along: FloatArray, up: Sequence[FloatArray]) -> tuple[FloatArray, FloatArray, FloatArray]:
    """xx, yy, xy from values, first and second derivatives along x."""
    return along[2] @ up[0], along[0] @ up[2], along[1] @ up[1]


def _circle(xx: FloatArray, yy: FloatArray, xy: FloatArray) -> FloatArray:
    """xx + yy, xx - yy, xy: (3, nx, ny)."""
    found = np.empty((3, *xx.shape))
    np.add(xx, yy, out=found[0])
    np.subtract(xx, yy, out=found[1])
    found[2] = xy
    return found


def _stress(circle: FloatArray, found: FloatArray) -> None:
    """Mean plus radius; the parts of the circle are used up."""
    mean, half, shear = circle
    half *= half
    shear *= shear
    half += shear
    np.add(mean, np.sqrt(half, out=half), out=found)


def _span(count: NDArray[np.intp]) -> slice:
    """From the first that is not nought to the last."""
    places = np.flatnonzero(count)
    return slice(int(places[0]), int(places[-1]) + 1) if places.size else slice(0, 0)


def _named(tables: tuple[FloatArray, FloatArray, FloatArray]) -> dict[str, FloatArray]:
    value, first, second = tables
    return {"N0": value, "N1": first, "N2": second, "M0": slope_splines(first), "M1": slope_splines(second)}


def peaks_of(faces: Faces, lines: Lines, zones: Zones, fields: Fields) -> dict[str, Peak]:
    """Largest principal stress of every case and face, one face after another, in each zone of a grid."""

    def at(x: FloatArray, y: FloatArray) -> FloatArray:
        field = np.broadcast_to(np.arange(x.shape[1])[:, None], x.shape).ravel()
        which = field // FACES, field % FACES
        return principal_at(lines.splines, faces, fields, which, x.ravel(), y.ravel()).reshape(x.shape)

    return peaks_by_zone(lines.principals(faces, fields), lines.samples, zones, at)


def principal_at(
    lines: tuple[Splines, Splines],
    faces: Faces,
    fields: Fields,
    which: tuple[NDArray[np.intp], NDArray[np.intp]],
    x: FloatArray,
    y: FloatArray,
) -> FloatArray:
    """Largest principal stress (MPa) at points x[i], y[i] (mm), in the case and on the face which[0][i], which[1][i]:
    (points,)."""
    (i, on_x), (j, on_y) = lines[0].near(x), lines[1].near(y)
    up = _named((on_y[0], on_y[1], on_y[2]))
    case, face = which
    z, part, s = faces.weights[face].T[:, :, None, None]
    bent = on_x.transpose(1, 0, 2) @ (z * _around(fields["w"], case, i, j) + part * _around(fields["d"], case, i, j))
    slope_x = s * slope_splines(on_x[1:]).transpose(1, 0, 2) @ _around(fields["ax"], case, i, j, short_x=1)
    slope_y = s * on_x[:2].transpose(1, 0, 2) @ _around(fields["ay"], case, i, j, short_y=1)
    xx = ((bent[:, 2] + slope_x[:, 1]) * up["N0"]).sum(axis=1)
    yy = (bent[:, 0] * up["N2"]).sum(axis=1) + (slope_y[:, 0] * up["M1"]).sum(axis=1)
    xy = ((bent[:, 1] + slope_x[:, 0] / 2) * up["N1"]).sum(axis=1) + (slope_y[:, 1] * up["M0"]).sum(axis=1) / 2
    return faces.principal(xx, yy, xy)


def _around(
    coefficients: FloatArray, case: NDArray[np.intp], i: NDArray[np.intp], j: NDArray[np.intp], short_x: int = 0, short_y: int = 0
) -> FloatArray:
    """Coefficients of the splines that are not zero about points of the i-th and j-th span: (points, 6, 6), of slope
    splines one fewer."""
    _, n, m = coefficients.shape
    columns, rows = np.arange(DEGREE + 1 - short_x) * m, np.arange(DEGREE + 1 - short_y)
    place = ((case * n + i) * m + j)[:, None, None] + columns[:, None] + rows
    return np.asarray(coefficients.ravel()[place])
