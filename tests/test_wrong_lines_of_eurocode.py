"""Lines of the Eurocode that were once written wrongly on purpose and that no other test had noticed: each by a hand sum.

The family asked by itself, with the figures of the code beside each question. The factors stand in the tests of the tables; here it
is which of them is taken.
"""

from __future__ import annotations

import pytest
from as1720 import number
from wind_places import TABLES

from barrier.basis import Glass, basis_named
from barrier.result import Lack, NotChecked

EN = basis_named("en", "uk", TABLES)
PUSH = EN.strength("barrier", "A")
EXACT = 1e-12  # relative; the same arithmetic in another order


# ---------------------------------------------------------------- glass
@pytest.mark.parametrize(("kind", "f_b_k"), [("toughened", 90.0), ("heat-strengthened", 55.0)])
def test_patterned_glass_has_the_strength_of_patterned_glass(kind: str, f_b_k: float) -> None:
    """EN 12150-1 and EN 1863-1: 90 and 55 MPa patterned (float 120 and 70); EN 16612 8.2: k_sp 0.75, and 0.8 at whatever edge, for
    0.9 and 1.0 are of float glass (that seamed patterned glass has 0.8 too is remembered). At home: 30 s, 0.89."""
    for edge in ("polished", "seamed", "cut"):
        for location, k_e in (("face", 1.0), ("edge", 0.8)):
            found = number(EN.glass_strength(Glass(kind, "patterned", edge), location, PUSH))  # type: ignore[arg-type]
            assert found == pytest.approx(k_e * 0.89 * 0.75 * 45 / 1.8 + (f_b_k - 45) / 1.2, rel=EXACT), (edge, location)


def test_strengthened_patterned_glass_nobody_tabulates_is_not_checked() -> None:
    """EN 12337-1 was read for float glass, 150 MPa: what patterned glass of that kind has is not taken from it."""
    found = EN.glass_strength(Glass("chemically-strengthened", "patterned", "cut"), "face", PUSH)
    assert isinstance(found, NotChecked) and found.lack is Lack.BASIS and "patterned" in found.text
