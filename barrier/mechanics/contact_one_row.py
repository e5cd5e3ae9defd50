"""A plate on a bed with one row of screws in tension: the closed form beside the contact of any plate."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np


class OneTensionRow(NamedTuple):
    """Depth of contact x [mm], lever arm z [mm], tension of the row T [N], rotation stiffness K_theta [N mm/rad]."""

    x: float
    z: float
    T: float
    K_theta: float


def one_tension_row(K_t: float, k_b: float, b: float, d: float, M: float) -> OneTensionRow:
    """Closed form for one row of screws in tension and no weight, elastic.

    K_t stiffness of the row [N/mm]; k_b of the bed [N/mm3]; b width of the bed along the row [mm]; d from the row to
    the pressed edge of the bed [mm]; M [N mm]. ValueError unless K_t, k_b, b, d > 0. Valid while the bed reaches from
    that edge over the depth x and no other screw is in tension. Source: the neutral axis of a cracked reinforced
    concrete section, K_t/k_b for n A_s; any text on reinforced concrete, elastic flexure.

    >>> one_tension_row(2e4, 4.0, 100.0, 85.0, 495e3).T.__round__(1)
    7420.6
    """
    if not min(K_t, k_b, b, d) > 0.0:
        raise ValueError(f"K_t = {K_t} N/mm, k_b = {k_b} N/mm3, b = {b}, d = {d} mm; all must be above 0")
    a = K_t / (k_b * b)
    x = 2.0 * d / (1.0 + float(np.sqrt(1.0 + 2.0 * d / a)))  # a (sqrt(1 + 2 d/a) - 1) without losing digits
    z = d - x / 3.0
    return OneTensionRow(x, z, M / z, K_t * (d - x) * z)
