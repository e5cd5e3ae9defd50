"""Plane polygons: clipped by lines, measured exactly.

A polygon is an array (n, 2) of corners in mm, listed once around; nothing at all is an array (0, 2). Functions return
corners counter-clockwise. Moments come from Green's theorem and are exact for the polygon; a circle is a polygon of
equal area.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Polygon = NDArray[np.float64]

CIRCLE_CORNERS = 256  # equal area; second moment high by (2 pi/n)^4/180 = 2e-9, corners proud by (2 pi/n)^2/12 = 5e-5 r
EMPTY: Polygon = np.zeros((0, 2))


class Moments(NamedTuple):
    """Area [mm2], first moments [mm3] and second moments [mm4] about the axes of the coordinates.

    ``Sx`` is the integral of x, ``Sy`` of y, ``Ixx`` of x², ``Iyy`` of y², ``Ixy`` of x y over the area.
    """

    A: float
    Sx: float
    Sy: float
    Ixx: float
    Iyy: float
    Ixy: float


def as_polygon(corners: ArrayLike, name: str = "polygon") -> Polygon:
    """The corners as a checked polygon: finite, at least three or none, counter-clockwise.

    corners (n, 2) mm; ``name`` for a refusal; returns (n, 2) mm. ValueError if the shape is another, a number is not finite, or
    there are one or two corners.

    >>> as_polygon([(0, 0), (0, 1), (1, 0)]).tolist()
    [[1.0, 0.0], [0.0, 1.0], [0.0, 0.0]]
    """
    p = np.asarray(corners, dtype=float)
    if p.size == 0:
        return EMPTY
    if p.ndim != 2 or p.shape[1] != 2 or len(p) < 3:
        raise ValueError(f"{name} has shape {p.shape}; give at least three corners as rows (x, y), or none")
    if not np.isfinite(p).all():
        raise ValueError(f"{name} has a corner that is not finite; give every x and y in mm")
    return p if _twice_area(p.tolist()) >= 0.0 else p[::-1].copy()


def rectangle(x0: float, x1: float, y0: float, y1: float) -> Polygon:
    """Rectangle between x0 and x1, y0 and y1 [mm]; empty if it has no inside. Returns (4, 2) or (0, 2) mm.

    >>> rectangle(-50, 50, 0, 20).tolist()
    [[-50.0, 0.0], [50.0, 0.0], [50.0, 20.0], [-50.0, 20.0]]
    """
    if not (x1 > x0 and y1 > y0):
        return EMPTY
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], dtype=float)


def circle(x: float, y: float, radius: float, corners: int = CIRCLE_CORNERS) -> Polygon:
    """Circle about (x, y) [mm] as a regular polygon of the same area. Returns (corners, 2) mm.

    ValueError unless radius > 0 and corners >= 3.

    >>> round(moments(circle(0, 0, 10)).A / (np.pi * 100), 12)
    1.0
    """
    if not (np.isfinite(radius) and radius > 0.0 and corners >= 3):
        raise ValueError(f"circle: radius {radius} and corners {corners}; give a radius above 0 mm, 3 corners or more")
    step = 2.0 * np.pi / corners
    angle = step * (np.arange(corners) + 0.5)
    r = radius * np.sqrt(step / np.sin(step))
    return np.column_stack((x + r * np.cos(angle), y + r * np.sin(angle)))


def clip_half_plane(polygon: Polygon, a: float, b: float, c: float) -> Polygon:
    """The part of a polygon where a x + b y + c <= 0 (Sutherland and Hodgman 1974). Returns (m, 2) mm.

    A polygon that is not convex keeps its area and moments; parts of it may be joined by edges along the line.
    ValueError if a and b are both 0.

    >>> clip_half_plane(rectangle(0, 10, 0, 10), 1, 0, -4).tolist()
    [[0.0, 0.0], [4.0, 0.0], [4.0, 10.0], [0.0, 10.0]]
    """
    if a == 0.0 and b == 0.0:
        raise ValueError(f"a x + b y + c <= 0 with a = b = 0 and c = {c} is no half-plane; give the line a direction")
    if len(polygon) == 0:
        return EMPTY
    corners: list[list[float]] = polygon.tolist()
    g = [a * x + b * y + c for x, y in corners]
    if max(g) <= 0.0:
        return polygon
    if min(g) >= 0.0:
        return EMPTY
    kept = []
    for (x, y), here, (x_next, y_next), after in zip(corners, g, corners[1:] + corners[:1], g[1:] + g[:1], strict=True):
        if here <= 0.0:
            kept.append((x, y))
        if (here < 0.0 < after) or (after < 0.0 < here):
            t = here / (here - after)
            kept.append((x + t * (x_next - x), y + t * (y_next - y)))
    return np.array(kept) if _twice_area(kept) > 0.0 else EMPTY


def clip_to_rectangle(polygon: Polygon, x0: float, x1: float, y0: float, y1: float) -> Polygon:
    """The part of a polygon inside the rectangle x0..x1, y0..y1 [mm]. Returns (m, 2) mm, empty if nothing is left.

    >>> moments(clip_to_rectangle(rectangle(-50, 50, -50, 50), -22.5, 22.5, 0, 200)).A
    2250.0
    """
    found = polygon
    for a, b, c in ((1.0, 0.0, -x1), (-1.0, 0.0, x0), (0.0, 1.0, -y1), (0.0, -1.0, y0)):
        found = clip_half_plane(found, a, b, c)
    return found


def intersect_convex(polygon: Polygon, window: Polygon) -> Polygon:
    """The part of a polygon inside a convex window, both counter-clockwise. Returns (m, 2) mm.

    ValueError if the window is not convex.

    >>> moments(intersect_convex(rectangle(0, 2, 0, 2), rectangle(1, 3, 1, 3))).A
    1.0
    """
    if not is_convex(window):
        raise ValueError("the window of an intersection is not convex; split it into convex polygons")
    if len(window) == 0:
        return EMPTY
    found = polygon
    ends: list[list[float]] = window.tolist()
    for (xa, ya), (xb, yb) in zip(ends, ends[1:] + ends[:1], strict=True):
        if xa != xb or ya != yb:
            found = clip_half_plane(found, yb - ya, xa - xb, xb * ya - xa * yb)
    return found


def is_convex(polygon: Polygon) -> bool:
    """True if a counter-clockwise polygon has no corner that turns inward (an empty one has none).

    >>> is_convex(rectangle(0, 1, 0, 1)), is_convex(as_polygon([(0, 0), (4, 0), (1, 1), (0, 4)]))
    (True, False)
    """
    if len(polygon) == 0:
        return True
    corners: list[list[float]] = polygon.tolist()
    edges = [(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True)]
    room = -1e-9 * max(max(abs(x), abs(y)) for x, y in edges) ** 2
    return all(x0 * y1 - y0 * x1 >= room for (x0, y0), (x1, y1) in zip(edges, edges[1:] + edges[:1], strict=True))


def moments(polygon: Polygon) -> Moments:
    """Area, first and second moments of a polygon [mm2, mm3, mm4], positive counter-clockwise; exact.

    Source: Green's theorem (any calculus text).

    >>> moments(rectangle(0, 2, 0, 3))
    Moments(A=6.0, Sx=6.0, Sy=9.0, Ixx=8.0, Iyy=18.0, Ixy=9.0)
    """
    if len(polygon) == 0:
        return Moments(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    origin = polygon.mean(axis=0)  # measured from inside, so that a far-away polygon loses no digits
    xa, ya = (polygon - origin).T
    xb, yb = (polygon[_next(len(polygon))] - origin).T
    cross = xa * yb - xb * ya
    A = float(cross.sum()) / 2
    Sx, Sy = float(cross @ (xa + xb)) / 6, float(cross @ (ya + yb)) / 6
    Ixx = float(cross @ (xa * xa + xa * xb + xb * xb)) / 12
    Iyy = float(cross @ (ya * ya + ya * yb + yb * yb)) / 12
    Ixy = float(cross @ (2 * xa * ya + xa * yb + xb * ya + 2 * xb * yb)) / 24
    x, y = float(origin[0]), float(origin[1])
    return Moments(
        A, Sx + x * A, Sy + y * A,
        Ixx + 2 * x * Sx + x * x * A, Iyy + 2 * y * Sy + y * y * A, Ixy + x * Sy + y * Sx + x * y * A,
    )  # fmt: skip


def spread(area: Polygon, by_x: float, by_y: float, wood: Sequence[float]) -> Polygon:
    """A rectangular contact area widened by by_x and by_y [mm] on each side, within the wood x0, x1, y0, y1 [mm].

    This is how a load spreads through a layer on its way down: by the depth of the layer on each side at 45 degrees,
    and only where there is wood. Returns (4, 2) mm. ValueError if the area is not a rectangle along the axes, lies
    partly outside the wood, or a widening is negative.

    >>> spread(rectangle(-50, 50, -22.5, 22.5), 28, 28, (-225, 225, -22.5, 22.5)).tolist()
    [[-78.0, -22.5], [78.0, -22.5], [78.0, 22.5], [-78.0, 22.5]]
    """
    x0, x1, y0, y1 = wood
    if by_x < 0.0 or by_y < 0.0:
        raise ValueError(f"spread by {by_x}, {by_y} mm; a widening is 0 mm or more")
    if len(area) == 0:
        return EMPTY
    (ax0, ay0), (ax1, ay1) = area.min(axis=0), area.max(axis=0)
    on_frame = np.isin(area[:, 0], (ax0, ax1)) & np.isin(area[:, 1], (ay0, ay1))
    if len(area) != 4 or not on_frame.all():
        raise ValueError(f"the area to spread has {len(area)} corners and is not a rectangle along the axes")
    if ax0 < x0 or ax1 > x1 or ay0 < y0 or ay1 > y1:
        raise ValueError("the area to spread reaches beyond the wood; clip it to the wood first (clip_to_rectangle)")
    return rectangle(max(ax0 - by_x, x0), min(ax1 + by_x, x1), max(ay0 - by_y, y0), min(ay1 + by_y, y1))


def _twice_area(corners: Sequence[Sequence[float]]) -> float:
    x0, y0 = corners[0]
    away = [(x - x0, y - y0) for x, y in corners]  # a far-away polygon loses no digits
    return sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in zip(away, away[1:] + away[:1], strict=True))


@lru_cache(maxsize=64)
def _next(count: int) -> NDArray[np.intp]:
    """Number of the corner after each of so many."""
    found = np.arange(1, count + 1)
    found[-1] = 0
    return found
