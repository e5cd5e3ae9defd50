"""Elastic groups of fasteners: a rigid part held by springs of equal or given stiffness.

In the plane each fastener takes its share of the shear and of the moment in proportion to its distance from the
centroid. Along their axes the forces go with the distance from the centroid too, pull and push alike: that is the group
without a bed that bears; where the timber bears, use :mod:`barrier.mechanics.contact`.

Source: elastic vector method, any text on bolted joints.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def centroid(x: ArrayLike, y: ArrayLike, weights: ArrayLike | None = None) -> tuple[float, float]:
    """Centre of stiffness (x, y) [mm] of fasteners at x, y (n,) mm with stiffness weights (n,), equal if None.

    >>> centroid([0, 100], [0, 50])
    (50.0, 25.0)
    """
    px, py, w = _group(x, y, weights)
    return float(w @ px), float(w @ py)


def in_plane(
    x: ArrayLike,
    y: ArrayLike,
    V_x: ArrayLike,
    V_y: ArrayLike,
    M_z: ArrayLike,
    weights: ArrayLike | None = None,
) -> Floats:
    """Force of the part on each fastener under a shear V_x, V_y [N] at the centroid and a moment M_z [N mm].

    x, y (n,) mm; weights (n,) relative stiffness, equal if None; V_x, V_y, M_z scalars or stations (...). M_z is
    positive from x to y. Returns (..., n, 2) N. ValueError if a moment meets a group without extent, or a weight is
    negative or all are zero.

    >>> in_plane([-50, 50], [0, 0], 0, 200, 10000).tolist()
    [[0.0, 0.0], [0.0, 200.0]]
    """
    px, py, w = _group(x, y, weights)
    dx, dy = px - w @ px, py - w @ py
    polar = float(w @ (dx * dx + dy * dy))
    shear_x, shear_y, moment = np.broadcast_arrays(
        np.asarray(V_x, dtype=float), np.asarray(V_y, dtype=float), np.asarray(M_z, dtype=float)
    )
    turn = _per_extent(moment, polar, "in-plane moment M_z")
    F_x = w * (shear_x[..., None] - turn[..., None] * dy)
    F_y = w * (shear_y[..., None] + turn[..., None] * dx)
    return np.stack((F_x, F_y), axis=-1)


def axial(y: ArrayLike, M: ArrayLike, weights: ArrayLike | None = None) -> Floats:
    """Axial force of each fastener under a moment M [N mm]: T_i = M y_i / sum y², y from the centroid of the group.

    y (n,) mm; M a scalar or stations (...); weights (n,) relative stiffness. Returns (..., n) N, pull positive where y
    is large for M > 0. ValueError as for in_plane.

    >>> axial([-35, -35, 35, 35], 7000).tolist()
    [-50.0, -50.0, 50.0, 50.0]
    """
    py, _, w = _group(y, np.zeros(np.shape(y)), weights)
    dy = py - w @ py
    turn = _per_extent(np.asarray(M, dtype=float), float(w @ (dy * dy)), "moment M")
    found: Floats = w * dy * turn[..., None]
    return found


def about_edge(arm: ArrayLike, M: ArrayLike) -> Floats:
    """Pull on each fastener if the plate is taken to turn about its edge: T_i = M l_i / sum l².

    arm (n,) mm, distances l from that edge; M a scalar or stations (...) N mm. Returns (..., n) N. A hand check to
    print beside the contact solution and *always low* on timber, where the bearing has a depth of its own. ValueError
    if an arm is negative or all are zero.

    Source: machine design texts, eccentric load perpendicular to the axes of the bolts.

    >>> about_edge([15, 15, 85, 85], 149000).round(3).tolist()
    [150.0, 150.0, 850.0, 850.0]
    """
    distance = np.asarray(arm, dtype=float)
    if distance.ndim != 1 or (distance < 0.0).any() or not np.isfinite(distance).all():
        raise ValueError(f"arm = {distance.tolist()}; distances from the edge are a list of numbers of 0 mm or more")
    turn = _per_extent(np.asarray(M, dtype=float), float(distance @ distance), "moment M about the edge")
    found: Floats = distance * turn[..., None]
    return found


def _group(x: ArrayLike, y: ArrayLike, weights: ArrayLike | None) -> tuple[Floats, Floats, Floats]:
    """Coordinates and weights that sum to one."""
    px, py = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    w = np.ones(px.shape) if weights is None else np.asarray(weights, dtype=float)
    if px.ndim != 1 or px.shape != py.shape or px.shape != w.shape or len(px) == 0:
        raise ValueError(f"fasteners: {px.shape} x, {py.shape} y, {w.shape} weights; give one of each per fastener")
    if not (np.isfinite(px).all() and np.isfinite(py).all() and np.isfinite(w).all()):
        raise ValueError("fasteners: a coordinate or weight is not finite; give mm and relative stiffnesses")
    if (w < 0.0).any() or w.sum() <= 0.0:
        raise ValueError(f"weights = {w.tolist()}; stiffnesses are 0 or more and not all 0")
    return px, py, w / w.sum()


def _per_extent(moment: Floats, extent: float, name: str) -> Floats:
    if extent > 0.0:
        found: Floats = moment / extent
        return found
    if np.any(moment != 0.0):
        raise ValueError(f"{name} on a group without extent; a moment needs fasteners apart from one another")
    return np.zeros(moment.shape)
