"""USDA Forest Products Laboratory, Wood Handbook: withdrawal of lag screws and wood screws, and NDS from it.

The Handbook's 8,100 G^1.5 D^0.75 and 15,700 G^2 D (lbf, in) are *ultimate* loads, a mean of tests and no capacity: the
project has them in no link. NDS divides them by 4.5 and about 5.5. So published ultimate loads check the exponents and
the conversion of units of our NDS equations, once the ratio of the two coefficients is laid on.
"""

from __future__ import annotations

import math

from published import timber, val

from barrier.basis.us import equations as nds
from barrier.units import INCH, LBF, UNITS

LAG, WOOD_SCREW = 8100 / 1800, 15700 / 2850  # coefficient of the Handbook over that of NDS
ONE = val(1.0, "ratio")
POUND, TENTH, HUNDREDTH = 0.5, 0.05, 0.005  # rounding of the prints


def test_lag_coefficient_in_newton_and_millimetre() -> None:
    W = nds.LAG_WITHDRAWAL(G=ONE, D=val(1.0, "length"))  # G = 1 and D = 1 mm leave the coefficient, in N/mm
    timber("WE21a").agrees(LAG * float(W.x), TENTH)


def test_wood_screw_coefficient_in_newton_and_millimetre() -> None:
    e = timber("WE21b")
    W = nds.WOOD_SCREW_WITHDRAWAL(G=ONE, D=val(1.0, "length"))
    e.agrees(WOOD_SCREW * float(W.x), HUNDREDTH)
    e.agrees(e.given["c"] * UNITS["psi"].factor, HUNDREDTH)


def test_wood_screw_of_a_public_woodworking_note() -> None:
    """A number 8 screw in wood of G = 0.70: 1,262 lbf per inch, ultimate."""
    e = timber("WE06")
    W = nds.WOOD_SCREW_WITHDRAWAL(G=val(e.given["G"], "ratio"), D=val(e.given["D_in"] * INCH, "length"))
    e.agrees(WOOD_SCREW * float(W.x) * e.given["L_in"] * INCH / LBF, POUND)


def test_allowable_wood_screw_of_a_public_table() -> None:
    """A public engineering table of allowable withdrawal by NDS: 109 lbf/in; the table cuts 109.65 down."""
    e = timber("WE05")
    W = nds.WOOD_SCREW_WITHDRAWAL(G=val(e.given["G"], "ratio"), D=val(e.given["D_in"] * INCH, "length"))
    found = float(W.x) / UNITS["lbf/in"].factor
    e.agrees(found, None)
    assert math.floor(found) == e.printed
