"""What a glass panel on clamps is made of: plate, pads, clamps, loads and bases; what of them is refused.

Units: N, mm, MPa, rad. x runs along the panel, y up from the bottom edge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.spline_lines import FloatArray

STIFFEST_PAD = 200.0  # N/mm3
NEAR = 1e-9  # of the panel's size: what counts as on an edge


def require(name: str, value: float, low: float, high: float, open_low: bool = False) -> None:
    """Refuse a ``value`` that is not finite or not from ``low`` to ``high`` (above it if ``open_low``); ``name`` for the
    refusal."""
    if not (math.isfinite(value) and (low < value if open_low else low <= value) and value <= high):
        allowed = f"{']' if open_low else '['}{low:g}, {high:g}]"
        raise ValueError(f"{name} = {value!r} is out of range: allowed is {allowed}; correct {name}.")


@dataclass(frozen=True, slots=True)
class Plate:
    """The glass: width, height, (minimum) thickness in mm, modulus E in MPa, Poisson's ratio nu."""

    width: float
    height: float
    thickness: float
    E: float
    nu: float

    def __post_init__(self) -> None:
        for name in ("width", "height", "thickness", "E"):
            require(f"plate {name}", getattr(self, name), 0.0, math.inf, open_low=True)
        require("plate nu", self.nu, 0.0, 0.499)

    @property
    def D(self) -> float:
        """Bending stiffness E t^3 / 12 (1 - nu^2), N mm.

        >>> round(Plate(1200, 1200, 12, 70_000, 0.23).D / 1e6, 2)
        10.64
        """
        return self.E * self.thickness**3 / 12 / (1 - self.nu**2)


@dataclass(frozen=True, slots=True)
class Pad:
    """A rectangle x0..x1, y0..y1 (mm, panel coordinates) of springs k (N/mm3, above 0 and up to 200)."""

    x0: float
    x1: float
    y0: float
    y1: float
    k: float

    def __post_init__(self) -> None:
        if self.k > STIFFEST_PAD or not math.isfinite(self.k):
            raise ValueError(
                f"pad k = {self.k!r} N/mm3 is refused: allowed is ]0, {STIFFEST_PAD:g}]. The corner of a "
                "rigid pad is a singular point where thin-plate stress grows without bound, so a peak would "
                "mean nothing; give the stiffness of the liner (E_pad / thickness), or 200 for a hard one."
            )
        require("pad k", self.k, 0.0, STIFFEST_PAD, open_low=True)


@dataclass(frozen=True, slots=True)
class Clamp:
    """Pads on one rigid body; x (mm) is where its turn c and its moment Mz are measured."""

    x: float
    pads: tuple[Pad, ...]


@dataclass(frozen=True, slots=True)
class LineLoad:
    """q (N/mm) over the whole width at height y (mm)."""

    q: float
    y: float


@dataclass(frozen=True, slots=True)
class Pressure:
    """p (MPa) over the whole panel."""

    p: float


@dataclass(frozen=True, slots=True)
class PatchLoad:
    """total (N), evenly over the rectangle x0..x1, y0..y1 (mm)."""

    total: float
    x0: float
    x1: float
    y0: float
    y1: float


@dataclass(frozen=True, slots=True)
class AtOnce:
    """Several loads that act at once, as one load case: its stresses are those of the sum, not the sum of their peaks.

    >>> at_once(2.0, Pressure(1e-3)), at_once(0.5, AtOnce((Pressure(1e-3), LineLoad(0.75, 1200))))
    (Pressure(p=0.002), AtOnce(loads=(Pressure(p=0.0005), LineLoad(q=0.375, y=1200))))
    """

    loads: tuple[LineLoad | Pressure | PatchLoad, ...]


Load = LineLoad | Pressure | PatchLoad | AtOnce
Patches = tuple[PatchLoad, ...]


def at_once(share: float, *loads: Load) -> Load:
    """Loads times one share, together; a single load that is no sum stays one."""
    parts: list[LineLoad | Pressure | PatchLoad] = []
    for load in loads:
        for part in load.loads if isinstance(load, AtOnce) else (load,):
            if isinstance(part, LineLoad):
                parts.append(LineLoad(share * part.q, part.y))
            elif isinstance(part, Pressure):
                parts.append(Pressure(share * part.p))
            else:
                parts.append(PatchLoad(share * part.total, part.x0, part.x1, part.y0, part.y1))
    return parts[0] if len(parts) == 1 else AtOnce(tuple(parts))


def as_patches(load: Load, W: float, H: float) -> Patches:
    """Any load as totals (N) over rectangles of a panel ``W`` by ``H`` mm; y0 = y1 where one is a line."""
    if isinstance(load, AtOnce):
        return tuple(patch for part in load.loads for patch in as_patches(part, W, H))
    if isinstance(load, LineLoad):
        return (PatchLoad(load.q * W, 0.0, W, load.y, load.y),)
    return (PatchLoad(load.p * W * H, 0.0, W, 0.0, H),) if isinstance(load, Pressure) else (load,)


def in_proportion(loads: Sequence[Patches], each_way: bool = False) -> tuple[list[int], NDArray[np.intp], FloatArray]:
    """Loads on one rectangle share one solution: numbers of those to solve, then for each load which of these it is
    in proportion to and its share, (loads,). The largest of its kind is solved; a sum of several is solved for itself.
    each_way: one for each direction, so that no share is negative."""
    rectangles = [
        (p[0].x0, p[0].x1, p[0].y0, p[0].y1, float(each_way and p[0].total < 0)) if len(p) == 1 else (float(i),)
        for i, p in enumerate(loads)
    ]
    totals = [p[0].total for p in loads]
    largest: dict[tuple[float, ...], int] = {}
    for i, r in enumerate(rectangles):
        if r not in largest or abs(totals[i]) > abs(totals[largest[r]]):
            largest[r] = i
    order = {r: n for n, r in enumerate(largest)}
    alone = [len(p) == 1 for p in loads]
    share = [t / (totals[largest[r]] or 1.0) if one else 1.0 for t, r, one in zip(totals, rectangles, alone, strict=True)]
    return list(largest.values()), np.array([order[r] for r in rectangles]), np.array(share)


def unbalanced(
    actions: tuple[FloatArray, FloatArray, FloatArray], x: Sequence[float], resultants: FloatArray, size: tuple[float, float]
) -> FloatArray:
    """Equilibrium of forces and both moments, relative to |load| and |load| x panel size: (loads,).

    actions: F, Mx, Mz on the clamps, (loads, clamps), the last about each clamp's x (mm). resultants: force, moment about
    y = 0 and about x = 0 of every load, (loads, 3). size: width and height of the panel, mm.
    """
    F, Mx, Mz = actions
    held = np.stack([F.sum(1), Mx.sum(1), (Mz + F * np.asarray(x)).sum(1)], axis=1)
    scale = np.abs(resultants[:, :1]) * np.array([1.0, size[1], size[0]])
    missing = np.abs(np.divide(held - resultants, scale, out=np.zeros_like(held), where=scale > 0))
    return np.asarray(missing.max(axis=1))


class Fixed(Enum):
    """The base that does not move."""

    FIXED = "fixed"


FIXED = Fixed.FIXED
Base = Fixed | FloatArray | None


def diagonal_base(k_u: float, k_a: float, k_c: float) -> FloatArray:
    """Base of springs k_u (N/mm), k_a, k_c (N mm/rad) at y = 0 without coupling: (3, 3) over (u, a, c).

    >>> diagonal_base(5e3, 2e7, 5e7)[0]
    array([5000.,    0.,    0.])
    """
    return np.diag([float(k_u), float(k_a), float(k_c)])


def require_inside(plate: Plate, clamps: Sequence[Clamp], loads: Sequence[Patches]) -> None:
    """Everything inside the panel, no pad on another, something to hold and something to load."""
    W, H = plate.width, plate.height
    pads = [(f"clamp {i} pad", p) for i, c in enumerate(clamps, 1) for p in c.pads]
    if not loads or not all(loads) or not clamps or not all(c.pads for c in clamps):
        has = f"{len(clamps)} clamps, {len(pads)} pads, {len(loads)} loads"
        raise ValueError(f"{has}: allowed is one or more of each, pads on every clamp; add what is missing.")
    named = [(f"load {i}", p) for i, patches in enumerate(loads, 1) for p in patches]
    rectangles: list[tuple[str, Pad | PatchLoad]] = [*named]
    for name, r in pads + rectangles:
        require(f"{name} x0", r.x0, -NEAR * W, W)
        require(f"{name} x1", r.x1, r.x0, W * (1 + NEAR), open_low=True)
        require(f"{name} y0", r.y0, -NEAR * H, H)
        require(f"{name} y1", r.y1, r.y0, H * (1 + NEAR), open_low=isinstance(r, Pad))
    for i, c in enumerate(clamps, 1):
        require(f"clamp {i} x", c.x, 0.0, W)
    for name, load in named:
        require(f"{name} total", load.total, -math.inf, math.inf)
    for (name, p), (other, q) in combinations(pads, 2):
        if min(p.x1, q.x1) - max(p.x0, q.x0) > NEAR * W and min(p.y1, q.y1) - max(p.y0, q.y0) > NEAR * H:
            where = f"{other} at x = {q.x0:g}..{q.x1:g} overlaps {name} at x = {p.x0:g}..{p.x1:g}"
            raise ValueError(f"{where}: allowed are pads side by side; move one.")


def require_bases(bases: Sequence[Base], clamps: int) -> tuple[int, ...]:
    """Numbers of the clamps that are held; refuse what is no stiffness."""
    if len(bases) != clamps:
        raise ValueError(f"bases has {len(bases)} entries: allowed is one for each of the {clamps} clamps.")
    for i, base in enumerate(bases, 1):
        if isinstance(base, Fixed | None):
            continue
        K = np.asarray(base, dtype=float)
        size = np.abs(K).max() if K.shape == (3, 3) else np.nan
        even = np.isfinite(size) and np.abs(K - K.T).max() <= 1e-6 * size
        if not even or np.linalg.eigvalsh(K)[0] < -1e-9 * size:
            raise ValueError(
                f"base {i} = {base!r}: allowed is FIXED, None (lost), or a finite symmetric 3 x 3 stiffness "
                "over (u, a, c) that no movement makes negative."
            )
    held = tuple(i for i, base in enumerate(bases) if base is not None)
    if not held:
        raise ValueError("bases = all None: allowed is at least one clamp left; nothing holds the panel.")
    return held
