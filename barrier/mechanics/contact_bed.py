"""What a base plate stands on and hangs from: bed, screws, and integrals over what is in contact.

The plate is rigid: u(x, y) = u0 + r_x y - r_y x, upward. A bed of timber pushes where u < 0, screws pull where u > 0.
Here are their geometry and the exact integrals over the part of the bed below a line.

Inside, lengths are measured from the middle of all points and divided by half their extent, so that the three unknowns
q = (u0, r_x L, r_y L) are of one size. With phi = (1, y, -x) the plate is u = phi . q.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.polygons import Polygon, as_polygon, intersect_convex, is_convex, moments

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]

Crossing = tuple[list[float], float, float]  # the ends of an edge, u at its start and at its end

SLIVER = 0.02  # share of the bed below which the part in contact is measured from the line
NO_EDGES: list[Crossing] = []
FEW = 40  # edges up to which plain floats are faster than arrays


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

    @property
    def loops(self) -> list[Polygon]:
        """Its outline and its holes, which run the other way around: corners (n, 2)."""
        return [self.polygon, *(h[::-1] for h in self.holes)]

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


class Loop:
    """A closed run of edges in scaled coordinates, and the sums over what of it lies below a line.

    A few edges are gone through in plain floats, many in arrays: each is the faster there.
    """

    def __init__(self, corners: Floats, zone: int) -> None:
        self.zone = zone
        self.a, self.b = corners, np.concatenate((corners[1:], corners[:1]))
        self.phi_a, self.phi_b = phi(self.a), phi(self.b)
        self.whole = np.column_stack(_triangles(*self.a.T, *self.b.T))
        self.ends = np.hstack((self.a, self.b))
        self.many = len(corners) > FEW
        self.edges: list[tuple[list[float], list[float]]] = []
        if not self.many:
            self.edges = list(zip(self.ends.tolist(), self.whole.tolist(), strict=True))
        self.sums: list[float] = self.whole.sum(axis=0).tolist()
        self.x, self.y = corners.mean(axis=0).tolist()
        self.radius = float(np.hypot(*(corners - (self.x, self.y)).T).max())

    def side(self, q: Vector, level: float) -> int:
        """1 if it is all above the line, -1 if all below, 0 if it may cross it."""
        u = q[0] + level + q[1] * self.y - q[2] * self.x
        reach = self.radius * math.hypot(q[1], q[2]) * (1.0 + 1e-9)
        return 1 if u >= reach else (-1 if u < -reach else 0)

    def split(self, q: Vector, level: float) -> tuple[Sequence[float], list[Crossing]]:
        """Sums over the edges whole below the line, and the edges that cross it."""
        if self.many:
            return self._split_many(q, level)
        q0, q1, q2 = q[0] + level, q[1], q[2]
        s0 = s1 = s2 = s3 = s4 = s5 = 0.0
        crossing = []
        for ends, (w0, w1, w2, w3, w4, w5) in self.edges:
            xa, ya, xb, yb = ends
            u_a, u_b = q0 + q1 * ya - q2 * xa, q0 + q1 * yb - q2 * xb
            if u_a < 0.0 and u_b < 0.0:
                s0, s1, s2, s3, s4, s5 = s0 + w0, s1 + w1, s2 + w2, s3 + w3, s4 + w4, s5 + w5
            elif u_a < 0.0 or u_b < 0.0:
                crossing.append((ends, u_a, u_b))
        return (s0, s1, s2, s3, s4, s5), crossing

    def _split_many(self, q: Vector, level: float) -> tuple[Sequence[float], list[Crossing]]:
        u_a, u_b = self.phi_a @ q + level, self.phi_b @ q + level
        under_a, under_b = u_a < 0.0, u_b < 0.0
        cut = np.flatnonzero(under_a != under_b).tolist()
        crossing = [(self.ends[e].tolist(), float(u_a[e]), float(u_b[e])) for e in cut]
        return ((under_a & under_b) @ self.whole).tolist(), crossing

    def from_the_line(self, q: Vector, level: float) -> Sequence[float]:
        """Moments about the origin of the part below the line, of a loop that may cross it.

        Triangles stand on a point of the line: the closing edges along it then span no triangle and need not be made,
        and nothing large cancels.
        """
        foot = _foot(q, level)
        if self.many:
            return self._from_the_line_many(q, level, foot)
        q0, q1, q2 = q[0] + level, q[1], q[2]
        s0 = s1 = s2 = s3 = s4 = s5 = 0.0
        for (xa, ya, xb, yb), _ in self.edges:
            u_a, u_b = q0 + q1 * ya - q2 * xa, q0 + q1 * yb - q2 * xb
            if u_a >= 0.0 and u_b >= 0.0:
                continue
            if u_a >= 0.0 or u_b >= 0.0:
                t = u_a / (u_a - u_b)
                x, y = xa + t * (xb - xa), ya + t * (yb - ya)
                xa, ya, xb, yb = (x, y, xb, yb) if u_a >= 0.0 else (xa, ya, x, y)
            w0, w1, w2, w3, w4, w5 = _triangles_on(foot, xa, ya, xb, yb)
            s0, s1, s2, s3, s4, s5 = s0 + w0, s1 + w1, s2 + w2, s3 + w3, s4 + w4, s5 + w5
        return s0, s1, s2, s3, s4, s5

    def _from_the_line_many(self, q: Vector, level: float, foot: tuple[float, float]) -> Sequence[float]:
        u_a, u_b = self.phi_a @ q + level, self.phi_b @ q + level
        above_a, above_b = u_a >= 0.0, u_b >= 0.0
        cut = np.divide(u_a, u_a - u_b, out=np.zeros_like(u_a), where=above_a != above_b)
        side = self.b - self.a
        start = self.a + (cut * above_a)[:, None] * side
        end = self.a + np.where(above_b, cut, 1.0)[:, None] * side
        return [float(part.sum()) for part in _triangles_on(foot, *start.T, *end.T)]


class Footprint:
    """The zones in scaled coordinates, and integrals of phi phi^T [mm2] over the part below a line.

    Loops and edges that lie whole below the line come from sums made once; only edges that cross it are cut. The
    closing edges along the line are integrated by their end points.
    """

    def __init__(self, zones: tuple[Zone, ...]) -> None:
        corners = np.concatenate([z.polygon for z in zones])
        low, high = corners.min(axis=0), corners.max(axis=0)
        self.centre = (low + high) / 2
        self.L = float((high - low).max()) / 2
        self.corners = phi((corners - self.centre) / self.L)
        self.zones = len(zones)
        self.loops = [Loop((c - self.centre) / self.L, i) for i, z in enumerate(zones) for c in z.loops]
        self.all = _matrix([sum(part) for part in zip(*(loop.sums for loop in self.loops), strict=True)], self.L)

    def below(self, q: Vector, level: float) -> Symmetric:
        """Integrals over the part of the bed where u < -level."""
        s0 = s1 = s2 = s3 = s4 = s5 = 0.0
        crossing: list[Crossing] = []
        for loop in self.loops:
            side = loop.side(q, level)
            if side > 0:
                continue
            (w0, w1, w2, w3, w4, w5), cut = (loop.sums, NO_EDGES) if side < 0 else loop.split(q, level)
            s0, s1, s2, s3, s4, s5 = s0 + w0, s1 + w1, s2 + w2, s3 + w3, s4 + w4, s5 + w5
            crossing.extend(cut)
        if crossing:
            foot, along = _foot(q, level), _direction(q)
            for ends, u_a, u_b in crossing:
                w0, w1, w2, w3, w4, w5 = _cut(ends, u_a, u_b, foot, along)
                s0, s1, s2, s3, s4, s5 = s0 + w0, s1 + w1, s2 + w2, s3 + w3, s4 + w4, s5 + w5
        found = _matrix((s0, s1, s2, s3, s4, s5), self.L)
        if crossing and found.a00 < SLIVER * self.all.a00:  # differences of large numbers: measure it from the line instead
            sums = zip(*self._from_the_line(q, level), strict=True)
            return _matrix([sum(part) for part in sums], self.L)
        return found

    def below_by_zone(self, q: Vector, level: float) -> list[Symmetric]:
        """The same for each zone."""
        return [_matrix(sums, self.L) for sums in self._from_the_line(q, level)]

    def _from_the_line(self, q: Vector, level: float) -> list[list[float]]:
        """Moments about the origin of the part of each zone below the line."""
        found = [[0.0] * 6 for _ in range(self.zones)]
        for loop in self.loops:
            side = loop.side(q, level)
            if side <= 0:
                part = loop.sums if side < 0 else loop.from_the_line(q, level)
                found[loop.zone] = [have + more for have, more in zip(found[loop.zone], part, strict=True)]
        return found


class System:
    """Bed and screws in scaled coordinates: what every iteration needs, laid out once."""

    def __init__(self, bed: Bed, screws: Sequence[Screw]) -> None:
        self.bed = bed
        self.footprint = _footprint(bed.zones) if bed.zones else None
        cx, cy, self.L = 0.0, 0.0, 1.0
        if self.footprint is not None:
            (cx, cy), self.L = self.footprint.centre.tolist(), self.footprint.L
        elif screws:
            at = np.array([(s.x, s.y) for s in screws])
            (cx, cy), self.L = at.mean(axis=0).tolist(), float(np.ptp(at, axis=0).max()) / 2 or 1.0
        self.centre = cx, cy
        # of every screw: stiffness, y and -x; what pulls is among them where the stiffness is above 0
        self.placed = [(float(s.K), (s.y - cy) / self.L, -(s.x - cx) / self.L) for s in screws]
        self.screws = [s for s in self.placed if s[0] > 0.0]
        self.all = self.footprint.all if self.footprint is not None else NOTHING

    @cached_property
    def held(self) -> Floats:
        """Rows phi of the screws that pull, (n, 3)."""
        return np.array([(1.0, y, minus_x) for _, y, minus_x in self.screws]).reshape(-1, 3)

    @cached_property
    def bonded(self) -> Symmetric:
        """Stiffness if bed and screws held both ways."""
        c = [self.bed.k * a for a in self.all]
        for K, y, mx in self.screws:
            c = [a + K * b for a, b in zip(c, (1.0, y, mx, y * y, y * mx, mx * mx), strict=True)]
        return Symmetric(*c)

    def load(self, N: float, Mx: float, My: float) -> Vector:
        """The load as the linear part of the energy: N u0 - Mx r_x - My r_y = load . q."""
        cx, cy = self.centre
        return N, -(Mx + N * cy) / self.L, -(My - N * cx) / self.L

    def below(self, q: Vector, level: float) -> Symmetric:
        """Integrals of phi phi^T [mm2] over the part of the bed where u < -level."""
        return self.footprint.below(q, level) if self.footprint is not None else NOTHING

    def p_max(self, q: Vector) -> float:
        """Largest elastic pressure [MPa], at one of the corners of the zones."""
        if self.footprint is None:
            return 0.0
        return self.bed.k * max(-float((self.footprint.corners @ q).min()), 0.0)

    def tensions(self, q: Vector) -> list[float]:
        """Tension of every screw [N]."""
        return [K * max(q[0] + y * q[1] + minus_x * q[2], 0.0) for K, y, minus_x in self.placed]


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


def _direction(q: Vector) -> tuple[float, float]:
    """Unit vector along the line."""
    size = (q[1] * q[1] + q[2] * q[2]) ** 0.5
    return q[1] / size, q[2] / size


def _triangles(xa: Any, ya: Any, xb: Any, yb: Any) -> tuple[Any, Any, Any, Any, Any, Any]:
    """Area, first and second moments of the triangles from the origin over edges; numbers or arrays."""
    cross = xa * yb - xb * ya
    sx, sy = xa + xb, ya + yb
    return (
        cross / 2, cross * sx / 6, cross * sy / 6,
        cross * (sx * sx - xa * xb) / 12, cross * (sy * sy - ya * yb) / 12,
        cross * (sx * sy + xa * ya + xb * yb) / 24,
    )  # fmt: skip


def _triangles_on(foot: tuple[float, float], xa: Any, ya: Any, xb: Any, yb: Any) -> tuple[Any, Any, Any, Any, Any, Any]:
    """The same of triangles from another point, the moments still about the origin."""
    x, y = foot
    A, Sx, Sy, Ixx, Iyy, Ixy = _triangles(xa - x, ya - y, xb - x, yb - y)
    return (
        A, Sx + x * A, Sy + y * A,
        Ixx + x * (2 * Sx + x * A), Iyy + y * (2 * Sy + y * A), Ixy + x * Sy + y * Sx + x * y * A,
    )  # fmt: skip


def _cut(
    edge: list[float], u_a: float, u_b: float, foot: tuple[float, float], along: tuple[float, float]
) -> tuple[float, float, float, float, float, float]:
    """What a crossing edge adds: its part below the line, and its end of the closing edge along the line.

    The closing edge spans a triangle with the origin; its moments are differences of a cubic in the position along
    the line between the two ends, and each end belongs to one crossing edge.
    """
    xa, ya, xb, yb = edge
    t = u_a / (u_a - u_b)
    xc, yc = xa + t * (xb - xa), ya + t * (yb - ya)
    (fx, fy), (dx, dy) = foot, along
    s = xc * dx + yc * dy
    h = fx * dy - fy * dx
    if u_a < 0.0:
        (A, Sx, Sy, Ixx, Iyy, Ixy), h = _triangles(xa, ya, xc, yc), -h
    else:
        A, Sx, Sy, Ixx, Iyy, Ixy = _triangles(xc, yc, xb, yb)
    s2, s3 = s * s / 2, s * s * s / 3
    return (
        A + h / 2 * s,
        Sx + h / 3 * (fx * s + dx * s2),
        Sy + h / 3 * (fy * s + dy * s2),
        Ixx + h / 4 * (fx * fx * s + 2 * fx * dx * s2 + dx * dx * s3),
        Iyy + h / 4 * (fy * fy * s + 2 * fy * dy * s2 + dy * dy * s3),
        Ixy + h / 4 * (fx * fy * s + (fx * dy + fy * dx) * s2 + dx * dy * s3),
    )


def _matrix(sums: Sequence[float], L: float) -> Symmetric:
    """The matrix of phi phi^T [mm2] from area, first and second moments in scaled coordinates."""
    A, Sx, Sy, Ixx, Iyy, Ixy = sums
    c = L * L
    return Symmetric(A * c, Sy * c, -Sx * c, Iyy * c, -Ixy * c, Ixx * c)
