"""A public permit calculation of a guard post on a base plate over a timber floor (public record, not reviewed).

200 lbf at 42 in over a lever arm of 3.5 in, the full spacing of the bolt lines: 2,400 lbf of couple. The calculation
leaves no depth for the bearing; our naive tension is the same statement, and the sheet prints it as always too low.
"""

from __future__ import annotations

from published import timber, val

from barrier.links.mount.by_hand import NAIVE_TENSION
from barrier.units import INCH, LBF

PRINT = 0.5  # lbf


def test_naive_couple() -> None:
    e = timber("WE19a")
    M = val(e.given["P_lb"] * LBF * e.given["h_in"] * INCH, "moment")
    T = NAIVE_TENSION(M_Ed=M, n_t=val(1.0, "count"), e_t=val(e.given["lever_in"] * INCH, "length"))
    e.agrees(float(T.x) / LBF, PRINT)
