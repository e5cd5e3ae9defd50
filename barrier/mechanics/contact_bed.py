"""What a base plate stands on and hangs from: bed, screws, and integrals over what is in contact.

The plate is rigid: u(x, y) = u0 + r_x y - r_y x, upward. A bed of timber pushes where u < 0, screws pull where u > 0.
Here are their geometry and the exact integrals over the part of the bed below a line.

Inside, lengths are measured from the middle of all points and divided by half their extent, so that the three unknowns
q = (u0, r_x L, r_y L) are of one size. With phi = (1, y, -x) the plate is u = phi . q.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.polygons import Polygon, as_polygon, intersect_convex, is_convex, moments

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]

SLIVER = 0.02  # share of the bed below which the part in contact is measured from the line


@dataclass(frozen=True, eq=False)
class Zone:
    """A convex area that bears, with the name of the piece of timber it belongs to.

    polygon (n, 2) mm; holes: polygons (m, 2) mm that do not overlap and cover no corner of the zone; what of them lies
    outside the zone does not count.
    ValueError if a polygon is not convex: split it.

    >>> Zone([(0, 0), (100, 0), (100, 45), (0, 45)], "piece 1").area
    4500.0
    """

    polygon: Polygon
    name: str
    holes: tuple[Polygon, ...] = ()

    def __post_init__(self) -> None:
        outline = as_polygon(self.polygon, f"zone {self.name}")
        if not is_convex(outline):
            raise ValueError(f"zone {self.name} is not convex; split it into convex zones of the same name")
        object.__setattr__(self, "polygon", outline)
        holes = (intersect_convex(as_polygon(h, f"hole in zone {self.name}"), outline) for h in self.holes)
        object.__setattr__(self, "holes", tuple(h for h in holes if len(h)))

    @cached_property
    def edges(self) -> Floats:
        """All edges (e, 4): x, y of the start and of the end; holes run the other way around."""
        loops = [self.polygon, *(h[::-1] for h in self.holes)]
        return np.concatenate([np.hstack((p, np.roll(p, -1, axis=0))) for p in loops])

    @property
    def area(self) -> float:
        """Area that bears [mm2]."""
        return moments(self.polygon).A - sum(moments(h).A for h in self.holes)


@dataclass(frozen=True, eq=False)
class Bed:
    """The timber under a plate: its zones, stiffness k [N/mm3], and strength f_yield [MPa] (None: elastic).

    Zones must not overlap; several may have one name. ValueError unless k > 0 and f_yield > 0.
    """

    zones: tuple[Zone, ...]
    k: float
    f_yield: float | None = None

    def __post_init__(self) -> None:
        if not (np.isfinite(self.k) and self.k > 0.0):
            raise ValueError(f"bed stiffness k = {self.k} N/mm3; give a number above 0, usually 2 to 8")
        if self.f_yield is not None and not (np.isfinite(self.f_yield) and self.f_yield > 0.0):
            raise ValueError(f"bed strength f_yield = {self.f_yield} MPa; give a number above 0, or None for elastic")
        object.__setattr__(self, "zones", tuple(z for z in self.zones if len(z.polygon)))


@dataclass(frozen=True, slots=True)
class Screw:
    """A screw at x, y [mm] with axial stiffness K [N/mm]; K = 0 for one whose axis is in no timber.

    ValueError unless all are finite and K >= 0.
    """

    x: float
    y: float
    K: float
    name: str = ""

    def __post_init__(self) -> None:
        if not np.isfinite((self.x, self.y, self.K)).all() or self.K < 0.0:
            raise ValueError(f"screw {self.name}: x = {self.x}, y = {self.y} mm, K = {self.K} N/mm; give finite numbers, K >= 0")


class Symmetric(NamedTuple):
    """A symmetric 3 x 3 matrix over the three unknowns, in plain floats: so small, arrays cost more than they save."""

    a00: float
    a01: float
    a02: float
    a11: float
    a12: float
    a22: float

    def times(self, q: Vector) -> Vector:
        """The product with a vector."""
        x, y, z = q
        return (
            self.a00 * x + self.a01 * y + self.a02 * z,
            self.a01 * x + self.a11 * y + self.a12 * z,
            self.a02 * x + self.a12 * y + self.a22 * z,
        )


NOTHING = Symmetric(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


class Footprint:
    """The edges of all zones in scaled coordinates, and integrals of phi phi^T [mm2] over the part below a line.

    Edges that lie whole below the line come from sums made once; only edges that cross it are cut. The closing edges
    along the line are integrated by their end points.
    """

    def __init__(self, zones: tuple[Zone, ...]) -> None:
        edges = np.concatenate([z.edges for z in zones])
        low, high = edges[:, :2].min(axis=0), edges[:, :2].max(axis=0)
        self.centre = (low + high) / 2
        self.L = float((high - low).max()) / 2
        self.starts = np.cumsum([0, *(len(z.edges) for z in zones)])[:-1]
        self.zone_of = np.repeat(np.arange(len(zones)), [len(z.edges) for z in zones]).tolist()
        self.a, self.b = (edges[:, :2] - self.centre) / self.L, (edges[:, 2:] - self.centre) / self.L
        self.phi_a, self.phi_b = phi(self.a), phi(self.b)
        self.corners = phi((np.concatenate([z.polygon for z in zones]) - self.centre) / self.L)
        self.whole = np.column_stack(_triangles(*self.a.T, *self.b.T))
        self.ends: list[list[float]] = np.hstack((self.a, self.b)).tolist()
        self.all = _matrix(self.whole.sum(axis=0).tolist(), self.L)

    def below(self, q: Vector, level: float) -> Symmetric:
        """Integrals over the part of the bed where u < -level."""
        u_a, u_b = self.phi_a @ q + level, self.phi_b @ q + level
        under_a, under_b = u_a < 0.0, u_b < 0.0
        count = np.count_nonzero(under_a)
        if count == 0:
            return NOTHING
        if count == len(u_a):
            return self.all
        sums = (self.whole.T @ (under_a & under_b)).tolist()
        for e in np.flatnonzero(under_a != under_b).tolist():
            for i, value in enumerate(_cut(self.ends[e], float(u_a[e]), float(u_b[e]), q, level)):
                sums[i] += value
        found = _matrix(sums, self.L)
        if found.a00 < SLIVER * self.all.a00:  # differences of large numbers: measure it from the line instead
            return _matrix(self._sliver(q, level).sum(axis=0).tolist(), self.L)
        return found

    def below_by_zone(self, q: Vector, level: float) -> list[Symmetric]:
        """The same for each zone."""
        under = self.phi_a @ q + level < 0.0
        if not under.any():
            return [NOTHING] * len(self.starts)
        if under.all():
            return [_matrix(s, self.L) for s in np.add.reduceat(self.whole, self.starts).tolist()]
        return [_matrix(s, self.L) for s in np.add.reduceat(self._sliver(q, level), self.starts).tolist()]

    def _sliver(self, q: Vector, level: float) -> Floats:
        """Moments (e, 6) over every edge of the part below the line, about the origin.

        Triangles stand on a point of the line: the closing edges along it then span no triangle and need not be made,
        and nothing large cancels.
        """
        u_a, u_b = self.phi_a @ q + level, self.phi_b @ q + level
        foot = _foot(q, level)
        above_a, above_b = u_a >= 0.0, u_b >= 0.0
        crossing = above_a != above_b
        cut = np.divide(u_a, u_a - u_b, out=np.zeros_like(u_a), where=crossing)
        side = self.b - self.a
        start = self.a - foot + (cut * above_a)[:, None] * side
        end = self.a - foot + np.where(above_b, cut, 1.0)[:, None] * side
        A, Sx, Sy, Ixx, Iyy, Ixy = _triangles(*start.T, *end.T)
        x, y = foot
        return np.column_stack((
            A, Sx + x * A, Sy + y * A,
            Ixx + x * (2 * Sx + x * A), Iyy + y * (2 * Sy + y * A), Ixy + x * Sy + y * Sx + x * y * A,
        ))  # fmt: skip


class System:
    """Bed and screws in scaled coordinates: what every iteration needs, laid out once."""

    def __init__(self, bed: Bed, screws: Sequence[Screw]) -> None:
        self.bed = bed
        self.footprint = _footprint(bed.zones) if bed.zones else None
        at = np.array([(s.x, s.y) for s in screws], dtype=float).reshape(-1, 2)
        self.centre, self.L = np.zeros(2), 1.0
        if self.footprint is not None:
            self.centre, self.L = self.footprint.centre, self.footprint.L
        elif len(at):
            self.centre, self.L = at.mean(axis=0), float(np.ptp(at, axis=0).max()) / 2 or 1.0
        self.K = np.array([s.K for s in screws], dtype=float)
        self.phi_s = phi((at - self.centre) / self.L)
        rows = zip(self.K.tolist(), self.phi_s.tolist(), strict=True)
        self.screws = [(K, y, minus_x) for K, (_, y, minus_x) in rows if K > 0.0]
        self.all = self.footprint.all if self.footprint is not None else NOTHING

    def load(self, N: float, Mx: float, My: float) -> Vector:
        """The load as the linear part of the energy: N u0 - Mx r_x - My r_y = load . q."""
        cx, cy = self.centre.tolist()
        return N, -(Mx + N * cy) / self.L, -(My - N * cx) / self.L

    def below(self, q: Vector, level: float) -> Symmetric:
        """Integrals of phi phi^T [mm2] over the part of the bed where u < -level."""
        return self.footprint.below(q, level) if self.footprint is not None else NOTHING

    def p_max(self, q: Vector) -> float:
        """Largest elastic pressure [MPa], at one of the corners of the zones."""
        if self.footprint is None:
            return 0.0
        return self.bed.k * max(-float((self.footprint.corners @ q).min()), 0.0)

    def tensions(self, q: Vector) -> Floats:
        """Tension (n,) of every screw [N]."""
        found: Floats = self.K * np.maximum(self.phi_s @ q, 0.0)
        return found


@lru_cache(maxsize=256)
def _footprint(zones: tuple[Zone, ...]) -> Footprint:
    # one mount is asked many times with other stiffness and loads
    return Footprint(zones)


def phi(at: Floats) -> Floats:
    """Rows (1, y, -x) of the movement at points (n, 2) in scaled coordinates."""
    return np.column_stack((np.ones(len(at)), at[:, 1], -at[:, 0]))


def _foot(q: Vector, level: float) -> tuple[float, float]:
    """The point of the line u = -level nearest to the origin."""
    gx, gy = -q[2], q[1]
    s = -(q[0] + level) / (gx * gx + gy * gy)
    return s * gx, s * gy


def _triangles(xa: Any, ya: Any, xb: Any, yb: Any) -> tuple[Any, Any, Any, Any, Any, Any]:
    """Area, first and second moments of the triangles from the origin over edges; numbers or arrays."""
    cross = xa * yb - xb * ya
    sx, sy = xa + xb, ya + yb
    return (
        cross / 2, cross * sx / 6, cross * sy / 6,
        cross * (sx * sx - xa * xb) / 12, cross * (sy * sy - ya * yb) / 12,
        cross * (sx * sy + xa * ya + xb * yb) / 24,
    )  # fmt: skip


def _cut(edge: list[float], u_a: float, u_b: float, q: Vector, level: float) -> tuple[float, ...]:
    """What a crossing edge adds: its part below the line, and its end of the closing edge along the line.

    The closing edge spans a triangle with the origin; its moments are differences of a cubic in the position along
    the line between the two ends, and each end belongs to one crossing edge.
    """
    xa, ya, xb, yb = edge
    t = u_a / (u_a - u_b)
    xc, yc = xa + t * (xb - xa), ya + t * (yb - ya)
    fx, fy = _foot(q, level)
    size = (q[1] * q[1] + q[2] * q[2]) ** 0.5
    dx, dy = q[1] / size, q[2] / size  # along the line
    s = xc * dx + yc * dy
    h = fx * dy - fy * dx
    if u_a < 0.0:
        part, h = _triangles(xa, ya, xc, yc), -h
    else:
        part = _triangles(xc, yc, xb, yb)
    s2, s3 = s * s / 2, s * s * s / 3
    return (
        part[0] + h / 2 * s,
        part[1] + h / 3 * (fx * s + dx * s2),
        part[2] + h / 3 * (fy * s + dy * s2),
        part[3] + h / 4 * (fx * fx * s + 2 * fx * dx * s2 + dx * dx * s3),
        part[4] + h / 4 * (fy * fy * s + 2 * fy * dy * s2 + dy * dy * s3),
        part[5] + h / 4 * (fx * fy * s + (fx * dy + fy * dx) * s2 + dx * dy * s3),
    )


def _matrix(sums: Sequence[float], L: float) -> Symmetric:
    """The matrix of phi phi^T [mm2] from area, first and second moments in scaled coordinates."""
    A, Sx, Sy, Ixx, Iyy, Ixy = sums
    c = L * L
    return Symmetric(A * c, Sy * c, -Sx * c, Iyy * c, -Ixy * c, Ixx * c)
