"""Norwegian University of Science and Technology, TKT4211 Timber Structures 1, example C3 (read in a public copy).

Six fasteners at x = ±90 and 0, z = ±40 mm under N = 40 kN, V = -1.5 kN, M = 3.72 kN m: the worst, number 4, takes
13,108 N by the elastic analysis of the group.
"""

from __future__ import annotations

import numpy as np
import pytest
from published import timber

from barrier.mechanics.fastener_group import axial, in_plane

PRINT = 0.5  # the print is rounded to 1 N


def test_example_c3_screw_4() -> None:
    e = timber("WE10a")
    x, z = np.array(e.given["x"]), np.array(e.given["z"])
    force = np.hypot(*in_plane(x, z, e.given["N"], e.given["V"], e.given["M_Nmm"]).T)
    e.agrees(float(force.max()), PRINT)
    # the moment turns from x to z, so the axial force of 40 kN and the moment add on the side z < 0
    assert x[force.argmax()] == -90 and z[force.argmax()] == -40


def test_the_same_method_along_the_axes() -> None:
    """T_i = M y_i / sum y², by hand for the six: 3.72e6 * 40 / (6 * 40²)."""
    z = [40, 40, 40, -40, -40, -40]
    assert axial(z, 3.72e6) == pytest.approx(np.sign(z) * 15500.0)
