"""Published examples of AS 1720.1, through what a check asks of the Australian basis.

tests/data/worked_examples_as1720.csv: HB 108-2013 (printed answers in public copies), AS 1684.2-2010 Table 9.28(f) (a public
copy of the page) and a design manual of an engineered-wood industry body (1997). Nobody here has seen AS 1720.1 itself.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from as1720 import AU, given, lasting, number, pulled, timber
from published import rows

from barrier.basis.au import joint_equations
from barrier.basis.au.fasteners import Joints
from barrier.basis.au.grades import Known
from barrier.result import NotChecked
from barrier.tables import Tables

EXAMPLES = {r["id"]: r for r in rows("worked_examples_as1720")}
LP_BOUNDS = (33.565, 33.88)  # mm, the one multiplier of all six printed values, within their rounding
PRINTED_TO = 0.1  # kN, the rounding of AS 1684.2


def agrees(id: str, found: float) -> None:
    """``found``, in the unit of the print, within the tolerance of the row."""
    row = EXAMPLES[id]
    assert found == pytest.approx(float(row["answer"]), rel=float(row["tolerance_pct"]) / 100, abs=1e-12)


def modulus(b: float, d: float) -> float:
    return b * d**2 / 6


def test_tension_by_depth() -> None:
    """HB 108 example 3.1(a): MGP12 at a depth of 240 has the row of 240; the row is the one bending takes."""
    assert isinstance(AU, Joints)
    known = AU.known(timber("MGP12", depth=240))
    assert isinstance(known, Known)
    row = known.row()
    assert not isinstance(row, NotChecked)
    agrees("E1a", row.numbers["f_t"])


def test_tension_of_deep_glulam() -> None:
    """HB 108 example 3.1(c): GL12 330 deep, 11 (150/330)^0.167; the same equation takes deep F grades down in bending."""
    assert isinstance(AU, Joints)
    wood = timber("GL12", depth=330)
    full = number(AU.tension(timber("GL12", depth=150), lasting("5 days")))
    agrees("E1c", 11 * number(AU.tension(wood, lasting("5 days"))) / full)


def test_capacity_factor_of_a_house_member() -> None:
    """HB 108 example 2.11: MGP10, category 1. Taken off a strength by its other factors, of which dry and brief are 1."""
    found = number(AU.shear(timber("MGP10", depth=90, category=1), lasting("5 minutes")))
    agrees("E2a", found / 2.6)


def test_net_tension() -> None:
    """HB 108 example 3.3: 190 x 35 MGP10 for 50 years, two holes of 22 mm."""
    assert isinstance(AU, Joints)
    f = number(AU.tension(timber("MGP10", depth=190), replace(lasting("5 days"), duration="50 years")))
    agrees("E3a", f * 35 * (190 - 2 * 22) / 1e3)


def test_bending_of_sawn_timber() -> None:
    """HB 108 example 5.1: 247 x 47 unseasoned F11, category 2, 5 days: no factor for the weather on what never was dry."""
    f = number(AU.bending(timber("F11", wet=True, depth=247, seasoned="no"), lasting("5 days")))
    agrees("E5", f * modulus(47, 247) / 1e6)


def test_bending_and_shear_of_glulam() -> None:
    """HB 108 example 5.6: 391 x 82 GL12, category 2; bending for 5 days, shear for 50 years."""
    wood = timber("GL12", depth=391)
    agrees("E6a", number(AU.bending(wood, lasting("5 days"))) * modulus(82, 391) / 1e6)
    long = replace(lasting("5 days"), duration="50 years")
    agrees("E6d", number(AU.shear(wood, long)) * 2 / 3 * 82 * 391 / 1e3)


def test_nail_with_every_factor() -> None:
    """The manual of 1997, page 207: 2.8 mm nail in JD4, the product of its printed factors."""
    Q_k = Tables().value("as1720_nails", "JD4 2.8", "Q_k")
    factors = {"phi": 0.8, "k_1": 0.57, "k_13": 1.0, "k_14": 1.0, "k_16": 1.1, "k_17": 0.9}
    found = joint_equations.NAILS(n=given(1, "count"), Q_k=Q_k, **{k: given(x, "ratio") for k, x in factors.items()})
    agrees("E8", float(found.x))
    assert number(Tables().value("as1720_factors", "phi_nails_2")) == factors["phi"]
    assert number(Tables().value("as1720_factors", "k_1_member_50_years")) == factors["k_1"]


@pytest.mark.parametrize("group", ["J2", "J4", "JD5"])
def test_six_coach_screws_of_the_framing_code(group: str) -> None:
    """AS 1684.2-2010 Table 9.28(f): an M10 x 50, printed to 0.1 kN, follows the withdrawal column with one multiplier."""
    row = EXAMPLES[f"C-{group}"]
    s = pulled_per_mm(group)
    low, high = (s * bound / 1e3 for bound in LP_BOUNDS)
    assert low - PRINTED_TO / 2 <= float(row["answer"]) <= high + PRINTED_TO / 2


def pulled_per_mm(group: str) -> float:
    """Characteristic withdrawal of an M10 as a check takes it: the answer less its capacity factor."""
    wood = timber("MGP10", joint_group=group)
    return pulled(wood, l_p=1.0) / number(Tables().value("as1720_factors", "phi_coach_2"))


def test_every_example_is_used() -> None:
    text = Path(__file__).read_text(encoding="utf-8")
    used = set(re.findall(r'agrees\("(\w+)"', text)) | {f"C-{g}" for g in ("J2", "J4", "JD5")}
    assert set(EXAMPLES) == used
