"""Torsion of a solid rectangle, after Saint-Venant.

    tau_max = T / (alpha h b^2)     at the middle of the long side
    J       = beta h b^3

with b the shorter side. Both coefficients come from the Fourier series, summed to machine precision for any ratio of
the sides; no table is interpolated.

Source: S. P. Timoshenko, J. N. Goodier, Theory of Elasticity, chapter on torsion, section "Torsion of a rectangular
bar" (from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

ODD = np.arange(1, 40, 2, dtype=float)  # terms fall by exp(-n pi) at the square, the slowest case
ODD_FIFTH = 31.0 / 32.0 * 1.03692775514336992633  # sum of n^-5 over odd n = 31/32 zeta(5)


def beta(h: ArrayLike, b: ArrayLike) -> Floats:
    """Coefficient of the torsion constant J = beta h b³, sides in any order and one unit; shape broadcast of both.

    ValueError unless both sides are above 0. Valid for every ratio of the sides.

    >>> round(float(beta(90, 45)), 5)
    0.22868
    """
    ratio = _ratio(h, b)
    # tanh is 1 but for a little: only the little is summed
    fall = np.exp(-np.pi * ODD * ratio[..., None])
    little = (2.0 * fall / (1.0 + fall) / ODD**5).sum(axis=-1)
    found: Floats = (1.0 - 192.0 / np.pi**5 / ratio * (ODD_FIFTH - little)) / 3.0
    return found


def alpha(h: ArrayLike, b: ArrayLike) -> Floats:
    """Coefficient of the largest shear stress tau = T / (alpha h b²); arguments, shape and errors as for beta.

    >>> round(float(alpha(90, 45)), 5)
    0.24588
    """
    ratio = _ratio(h, b)
    x = np.pi / 2.0 * ODD * ratio[..., None]
    short = (2.0 * np.exp(-x) / (1.0 + np.exp(-2.0 * x)) / ODD**2).sum(axis=-1)
    found: Floats = beta(h, b) / (1.0 - 8.0 / np.pi**2 * short)
    return found


def max_shear(T: ArrayLike, h: ArrayLike, b: ArrayLike) -> Floats:
    """Largest shear stress [MPa] under the torque T [N mm] in a rectangle h x b [mm]; sides in any order.

    >>> round(float(max_shear(1e6, 190, 45)), 3)
    9.146
    """
    long, short = _sides(h, b)
    found: Floats = np.asarray(T, dtype=float) / (alpha(h, b) * long * short**2)
    return found


def constant(h: ArrayLike, b: ArrayLike) -> Floats:
    """Torsion constant J [mm4] of a rectangle h x b [mm]; sides in any order.

    >>> round(float(constant(100, 100)))
    14057701
    """
    long, short = _sides(h, b)
    found: Floats = beta(h, b) * long * short**3
    return found


def _sides(h: ArrayLike, b: ArrayLike) -> tuple[Floats, Floats]:
    one, other = np.broadcast_arrays(np.asarray(h, dtype=float), np.asarray(b, dtype=float))
    if not (np.isfinite(one).all() and np.isfinite(other).all() and (one > 0).all() and (other > 0).all()):
        raise ValueError(f"sides of a rectangle in torsion are {one} and {other}; both must be above 0 mm")
    return np.maximum(one, other), np.minimum(one, other)


def _ratio(h: ArrayLike, b: ArrayLike) -> Floats:
    long, short = _sides(h, b)
    found: Floats = long / short
    return found
