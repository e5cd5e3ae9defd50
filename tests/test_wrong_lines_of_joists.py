"""Wrong lines of joists, movement, what is asked, rules, rail and clamps that no other test had noticed: each by a hand sum.

What stands on a joist is made up here and laid on it in every pattern the words of the link allow: of the reactions of a beam on
two supports, by moments about each of them, the largest must be what is compared.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest
from conftest import for_each, result_of
from test_load_path_closes import walk_of

from barrier.equation import Equation
from barrier.links.joist import beam
from barrier.links.joist import joist as link
from barrier.links.joist.on_joist import OnJoist
from barrier.links.walk import Walk
from barrier.result import Check, Ending, Lack, NotChecked
from barrier.value import JobEntry, Value

GIVEN = JobEntry("x", "x")
EXACT = 1e-9  # relative; a few operations on doubles
SIX = ("bending", "shear", "outer.down", "outer.uplift", "inner.down", "inner.uplift")


def of(equation: Equation, **numbers: float) -> float:
    """An equation of plain numbers in base units, each of the kind its symbol has."""
    return float(equation(**{n: Value(x, equation.by_name[n].kind, GIVEN) for n, x in numbers.items()}).x)


def walked(name: str, **changes: object) -> Walk:
    """The walk of a bundled job with other joists; nothing is solved again."""
    walk = walk_of(result_of(name))
    return replace(walk, job=walk.job.with_({f"joists.{k}": v for k, v in changes.items()}))


def made_up(M: float | None, P: float, U: float, combination: Any) -> OnJoist:
    """What stands on a joist, in numbers of one's own: a couple or None, a force down and one up, mounts 500 mm apart."""
    force = {key: Value(x, "force", GIVEN, key) for key, x in (("P_J", P), ("U_J", U))}
    couple = None if M is None else Value(M, "moment", GIVEN, "M_J")
    return OnJoist(
        "M1", couple, force["P_J"], force["U_J"], Value(500.0, "length", GIVEN, "p_m"), ("so",), ("a case",), combination
    )


def six(walk: Walk, on: OnJoist) -> dict[str, Check]:
    """The six checks of the joists under one mount."""
    return dict(zip(SIX, link._checks(walk, on), strict=True))


def demand(c: Check) -> float:
    assert c.demand is not None
    return float(c.demand.at(c.station))


def resistance(c: Check) -> float:
    assert c.resistance is not None
    return float(c.resistance.at(0))


# ---------------------------------------------------------------- what a joist bears on its supports with


def reactions(
    L: float, forces: list[tuple[float, float]], couple: float, loads: list[tuple[float, float, float]]
) -> tuple[float, float]:
    """Outer and inner support, up positive: forces (down, place), a couple, loads (down per mm, from, to); moments about each."""
    forces = [*forces, *((w * (b - a), (a + b) / 2) for w, a, b in loads)]
    inner = (sum(P * x for P, x in forces) + couple) / L
    return sum(P for P, _ in forces) - inner, inner


@for_each("name, place", product(("garden_deck", "us_deck"), ("100 mm", "900 mm", "2100 mm")))
def test_supports_of_a_joist_under_every_pattern_of_load(name: str, place: str) -> None:
    """A couple either way; the mount presses or lifts; people in the span, on the overhang, on both or nowhere.

    What is there at all times presses with its factor where it presses and holds down with the lower one (EN 1990 Table A1.2(B):
    1.35 and 1.0, imposed 1.5; ASCE 7-22 2.4: 1.0 and 0.6, imposed 1.0), on the whole length where it holds.
    """
    walk = walked(name, span="2400 mm", overhang="300 mm", mount_from_end=place, dead_load="0.2 kN/m", imposed_load="1.1 kN/m")
    L, c, s, g, q = 2400.0, 300.0, float(place.split()[0]) - 300.0, 0.2, 1.1
    press, hold, f_Q = (1.35, 1.0, 1.5) if name == "garden_deck" else (1.0, 0.6, 1.0)
    M, P, U = 3e5, 900.0, 700.0
    worst = {"outer.down": 0.0, "inner.down": 0.0, "outer.uplift": 0.0, "inner.uplift": 0.0}
    for way, vertical, people in product((M, -M), (P, -U), product((0.0, 1.0), repeat=2)):
        on = [(f_Q * q * people[0], 0.0, L), (f_Q * q * people[1], -c, 0.0)]
        # Pressed: the weight that presses counts and what would relieve it is left off. Lifted: weight holds, on the other side.
        for dead in product((0.0, 1.0), repeat=2):
            loads = [*on, (press * g * dead[0], 0.0, L), (press * g * dead[1], -c, 0.0)]
            R_o, R_i = reactions(L, [(vertical, s)], way, loads)
            worst["outer.down"], worst["inner.down"] = max(worst["outer.down"], R_o), max(worst["inner.down"], R_i)
        U_o, U_i = reactions(L, [(vertical, s)], way, on)
        worst["outer.uplift"], worst["inner.uplift"] = max(worst["outer.uplift"], -U_o), max(worst["inner.uplift"], -U_i)
    made = six(walk, made_up(M, P, U, walk.strength("barrier")))
    for key, largest in worst.items():
        assert demand(made[key]) == pytest.approx(largest, rel=EXACT), key


def test_strength_of_joists_and_of_what_they_stand_on_by_hand() -> None:
    """C16 in service class 3 for a short time: k_mod 0.70, gamma_M 1.3 (EN 1995-1-1 Tables 3.1 and 2.3), k_cr 0.67 (6.1.7).

    f_m,k 16, f_v,k 3.2, f_c,90,k 2.2 MPa (EN 338); nothing is raised across the grain. Beside the strap of each support what
    lies on the joist at all times holds it down: 0.2 kN/m on 2700 mm, about each support. Decking and blocking are of other wood.
    """
    walk = walked("garden_deck", **{
        "material.en": "C16", "inner.uplift": "2 kN", "outer.seat": "70 mm", "span": "2400 mm", "overhang": "300 mm",
        "dead_load": "0.2 kN/m", "mount_from_end": "100 mm",
    })  # fmt: skip
    made = six(walk, made_up(3e5, 900.0, 0.0, walk.strength("barrier")))
    k = 0.70 / 1.3
    weight = reactions(2400.0, [], 0.0, [(1.0 * 0.2, -300.0, 2400.0)])
    by_hand = {
        "bending": k * 16, "shear": 0.67 * k * 3.2, "outer.down": k * 2.2 * 45 * 70, "inner.down": k * 12000,
        "outer.uplift": k * 3000 + weight[0], "inner.uplift": k * 2000 + weight[1],
    }  # fmt: skip
    assert {key: resistance(c) for key, c in made.items()} == pytest.approx(by_hand, rel=EXACT)
    # For an instant wood bears more (k_mod 0.90, Table 3.1), at every one of the six; what lies on a joist weighs no more.
    instant = six(walk, made_up(3e5, 900.0, 0.0, replace(walk.strength("barrier"), duration="instantaneous")))
    lies = {"outer.uplift": weight[0], "inner.uplift": weight[1]}
    longer = {key: (R - lies.get(key, 0.0)) * 0.90 / 0.70 + lies.get(key, 0.0) for key, R in by_hand.items()}
    assert {key: resistance(c) for key, c in instant.items()} == pytest.approx(longer, rel=EXACT)


def test_a_strap_of_the_us_is_as_weak_as_wet_wood_and_weight_holds_by_six_tenths() -> None:
    """Wet in service: C_M 0.7 on connections (NDS Table 11.3.3); D by 0.6 where it holds down (ASCE 7-22 2.4.1)."""
    walk = walked("us_deck")
    made = six(walk, made_up(3e5, 900.0, 0.0, walk.strength("barrier")))
    pound, L, c, g = 4.4482216, 84 * 25.4, 12 * 25.4, 14 * 4.4482216 / 304.8
    weight = reactions(L, [], 0.0, [(0.6 * g, -c, L)])
    assert resistance(made["inner.down"]) == pytest.approx(0.7 * 1200 * pound, rel=1e-6)
    for side, R in zip(("outer", "inner"), weight, strict=True):
        assert resistance(made[f"{side}.uplift"]) == pytest.approx(0.7 * 500 * pound + R, rel=1e-6)


def test_bending_and_shear_where_joists_run_across_and_along() -> None:
    """Mounts in the span: M/L to the nearer end and P a b/L, w L²/8; along the glass one mount each 500 mm (tables of beams)."""
    walk = walked(
        "garden_deck", mount_from_end="900 mm", span="2400 mm", overhang="300 mm", dead_load="0.2 kN/m", imposed_load="1.1 kN/m"
    )
    W, A, w, strength = 45 * 195**2 / 6, 45 * 195, 1.35 * 0.2 + 1.5 * 1.1, walk.strength("barrier")
    across = six(walk, made_up(3e5, 900.0, 0.0, strength))
    beside = w * (2400 / 2 + 300**2 / (2 * 2400))
    assert demand(across["bending"]) == pytest.approx(
        (3e5 * 1800 / 2400 + 900 * 600 * 1800 / 2400 + w * 2400**2 / 8) / W, rel=EXACT
    )
    assert demand(across["shear"]) == pytest.approx(1.5 * (3e5 / 2400 + 900 + beside) / A, rel=EXACT)
    along = six(walk, made_up(None, 900.0, 0.0, strength))
    assert set(along) == set(SIX) and demand(along["outer.uplift"]) < demand(along["outer.down"])


# ---------------------------------------------------------------- mounts in a row along a joist


@for_each(
    "L, c, p", [(2400.0, 0.0, 600.0), (1500.0, 0.0, 600.0), (1800.0, 700.0, 500.0), (500.0, 1500.0, 400.0), (800.0, 1600.0, 500.0)]
)
def test_a_row_of_mounts_lifts_a_joist_along_the_glass(L: float, c: float, p: float) -> None:
    """However a row of equal forces stands, no place lifts a support by more than is compared; and it is not far from the worst.

    Lifted the forces pull up; pressed, those on the overhang alone lift the inner support: the span may be empty.
    """
    P, f_Q, q = 1000.0, 1.5, 0.8
    outer = inner = 0.0
    for start in np.linspace(0.0, p, 41):
        x = np.arange(-c + start, L + 1e-9, p)
        outer = max(outer, float((P * (L - x) / L).sum()))
        inner = max(inner, float((P * x[x > 0] / L).sum()), float(-(P * x[x < 0] / L).sum()))
    people = f_Q * q * c * c / 2 / L
    given = {"P_J": P, "L_J": L, "p_m": p, "c_o": c}
    found = of(beam.OUTER_UP_ROW, **given), of(beam.INNER_UP_ROW, **given, f_Qi=f_Q, q_J=q) - people
    assert outer * (1 - EXACT) <= found[0] <= 1.2 * outer
    assert inner * (1 - EXACT) <= found[1] <= (1.2 if c < L / 2 else 2.0) * inner  # on an overhang all of them at its tip


def test_one_mount_in_the_middle_of_the_span_is_the_least_of_a_row() -> None:
    """P L/4 over b h²/6; what is compared where all is known is no less (tables of beams)."""
    least = of(beam.LEAST_OF_ROW, P_J=1000, L_J=2400, b_J=45, h_J=195)
    assert least == pytest.approx(1000 * 2400 / 4 / (45 * 195**2 / 6), rel=EXACT)


# ---------------------------------------------------------------- what is not known of a joist


@for_each("key, unknown", product(("outer", "inner"), ({"fixing": "unknown"}, {"fixing": "bracket"})))
def test_a_support_nobody_looked_at_bears_nothing_that_is_known(key: str, unknown: dict[str, str]) -> None:
    """Down it is not checked with the question, up only by what lies on the joist; the other support is as it was."""
    walk = walked("garden_deck", **{key: unknown})
    made = six(walk, made_up(3e5, 900.0, 0.0, walk.strength("barrier")))
    down, up = made[f"{key}.down"], made[f"{key}.uplift"]
    assert down.ending is Ending.NOT_CHECKED and down.lack is Lack.INPUT and f"joists.{key}" in down.reason
    assert up.ending is Ending.WITHIN and "alone" in up.reason  # 125 to 240 N, of 3e5 N mm over 2400 mm and people beyond it
    assert resistance(up) == pytest.approx(reactions(2400.0, [], 0.0, [(0.2, -300.0, 2400.0)])[key == "inner"], rel=EXACT)
    more = six(walk, made_up(8e5, 900.0, 0.0, walk.strength("barrier")))[f"{key}.uplift"]
    assert more.ending is Ending.NOT_CHECKED and more.lack is Lack.INPUT and demand(more) > resistance(up)
    other = "inner" if key == "outer" else "outer"
    assert made[f"{other}.down"].ending is Ending.WITHIN and "alone" not in made[f"{other}.uplift"].reason


def test_a_bearer_without_its_seat_and_a_rating_of_another_level_are_asked_for() -> None:
    """A bearer bears by its length; a bracket of an allowable rating is none of a basis of limit states, up or down."""
    walk = walked("garden_deck", **{"outer.seat": None, "inner.meaning": "allowable"})
    made = six(walk, made_up(3e5, 900.0, 0.0, walk.strength("barrier")))
    assert made["outer.down"].ending is Ending.NOT_CHECKED and "joists.outer.seat" in made["outer.down"].reason
    for key in ("inner.down",):
        assert made[key].ending is Ending.NOT_CHECKED and "allowable" in made[key].reason


@for_each("entry", ("span", "mount_from_end", "width", "depth", "dead_load", "imposed_load"))
def test_along_the_glass_the_place_of_the_mounts_does_not_matter(entry: str) -> None:
    """All else is asked for either way, in all six; across the glass the place too."""
    walk = walked("garden_deck", **{entry: None})
    for M in (3e5, None):
        made = six(walk, made_up(M, 900.0, 0.0, walk.strength("barrier")))
        asked = not (entry == "mount_from_end" and M is None)
        assert {c.ending is Ending.NOT_CHECKED and f"joists.{entry}" in c.reason for c in made.values()} == {asked}


def test_a_basis_without_a_factor_on_people_compares_no_joist(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor without one on weight: what a joist carries beside the barrier is then not known."""
    walk = walked("garden_deck")
    for name in ("imposed_factor", "weight_down_factor"):
        with monkeypatch.context() as patched:
            patched.setattr(type(walk.basis), name, lambda self: NotChecked(Lack.BASIS, "no such factor"))
            made = six(walk, made_up(3e5, 900.0, 0.0, walk.strength("barrier")))
        assert {c.ending for c in made.values()} == {Ending.NOT_CHECKED}, name
