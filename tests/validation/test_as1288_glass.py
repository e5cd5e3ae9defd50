"""AS 1288-2021: capacity of a 4 mm toughened panel in a published table of results (public secondary source)."""

from __future__ import annotations

import pytest
from published import glass, val

from barrier.basis import Glass, basis_named
from barrier.basis.au import equations as au
from barrier.equation import outside_at
from barrier.tables import Tables
from barrier.value import Value

PRINT = 1.5e-4  # MPa; the print divides a stress of eight digits by a ratio of six
QUANTITY = "design capacity (face)"


def factor(key: str) -> Value:
    return Tables().value("as1288_factors", key)


def test_toughened_face() -> None:
    """Factors and minimum thickness come from our tables; they are those the example states."""
    e = glass("WE07", QUANTITY)
    t = Tables().table("glass_thickness_as1288").row("4 mm").value("minimum")
    assert t is not None and t.x == e.given["t_min"]
    f_t = au.STRENGTH_FACE(t=t)
    named = {"phi": factor("phi"), "c_1": factor("c1_toughened"), "c_2": factor("c2_untreated"), "c_3": factor("c3_short")}
    assert [float(v.x) for v in named.values()] == [e.given[n] for n in ("phi", "c1", "c2", "c3")]
    e.agrees(au.CAPACITY(f_t=f_t, **named).x, PRINT)


def test_toughened_face_as_a_check_asks_for_it() -> None:
    """The same print through the family of codes, wind of three seconds on float glass: its own table, its own factors."""
    e = glass("WE07", QUANTITY)
    family = basis_named("au", "", Tables())
    t = family.glass_minimum(val(e.given["t_nom"], "length"))
    assert isinstance(t, Value)
    found = family.glass_strength(Glass("toughened", "float", "polished", t), "face", family.strength("wind"))
    assert isinstance(found, Value)
    e.agrees(found.x, PRINT)


@pytest.mark.parametrize("t", [3.8, 11.7, 23.5])
def test_edge_is_four_fifths_of_the_face(t: float) -> None:
    """AS 1288-2021 3.3 gives both; the edge is 0.8 of the face, each coefficient rounded to two places."""
    face, edge = (float(q(t=val(t, "length")).x) for q in (au.STRENGTH_FACE, au.STRENGTH_EDGE))
    assert edge == pytest.approx(0.8 * face, abs=0.8 * 0.005 + 0.005)


def test_a_thickness_that_is_not_tabulated_is_outside_the_range() -> None:
    assert outside_at(au.STRENGTH_FACE(t=val(30.0, "length")), 0)
