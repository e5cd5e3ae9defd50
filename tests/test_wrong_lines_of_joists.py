"""Wrong lines of joists, movement, what is asked, rules, rail and clamps that no other test had noticed: each by a hand sum.

What stands on a joist is made up here and laid on it in every pattern the words of the link allow: of the reactions of a beam on
two supports, by moments about each of them, the largest must be what is compared.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from itertools import product
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from conftest import for_each, job_named, result_of, sound
from test_load_path_closes import walk_of

from barrier.basis import Driven
from barrier.equation import Equation
from barrier.links.acceptance import _durability, _heights, _mounts
from barrier.links.asked import asked, completed, unreached
from barrier.links.ground.geometry import MountModel
from barrier.links.joist import beam, comes, give
from barrier.links.joist import joist as link
from barrier.links.joist.on_joist import OnJoist, from_above, on_joist, pitch
from barrier.links.mount.in_plane_forces import Group, in_plane_actions, vertical
from barrier.links.mount.mount_forces import MountForces
from barrier.links.movement import _panel, movement, service_moments
from barrier.links.rail.rail import _findings
from barrier.links.rules import _interlayer_unknown, _more
from barrier.links.walk import Walk
from barrier.result import About, Check, Ending, Lack, LinkResult, NotChecked, Standing, fails, not_checked
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
    press, f_Q = (1.35, 1.5) if name == "garden_deck" else (1.0, 1.0)
    M, P, U = 3e5, 900.0, 700.0
    worst = {"outer.down": 0.0, "inner.down": 0.0, "outer.uplift": 0.0, "inner.uplift": 0.0}
    for way, force, people in product((M, -M), (P, -U), product((0.0, 1.0), repeat=2)):
        on = [(f_Q * q * people[0], 0.0, L), (f_Q * q * people[1], -c, 0.0)]
        # Pressed: the weight that presses counts and what would relieve it is left off. Lifted: weight holds, on the other side.
        for dead in product((0.0, 1.0), repeat=2):
            loads = [*on, (press * g * dead[0], 0.0, L), (press * g * dead[1], -c, 0.0)]
            R_o, R_i = reactions(L, [(force, s)], way, loads)
            worst["outer.down"], worst["inner.down"] = max(worst["outer.down"], R_o), max(worst["inner.down"], R_i)
        U_o, U_i = reactions(L, [(force, s)], way, on)
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
    assert {c.case for c in made.values()} == {"a case"}
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


RATED = {"uplift": "9 kN", "meaning": "characteristic", "reference": "invented"}


@for_each(
    "key, unknown", product(("outer", "inner"), ({"fixing": "unknown"}, {"fixing": "bracket"}, {"fixing": "unknown", **RATED}))
)
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


# ---------------------------------------------------------------- what comes to a joist


def mount_at(name: str, x: float) -> Any:
    """A mount, as far as its place along the glass."""
    return SimpleNamespace(model=SimpleNamespace(name=name, mount=SimpleNamespace(x=Value(x, "length", GIVEN))))


def bay(a: float) -> comes.Bay:
    """A bay of 405 mm with a mount at a distance from its left end."""
    return comes.Bay(Value(a, "length", GIVEN, "a"), Value(405.0, "length", GIVEN, "L_b"), True)


@for_each("x, a", product((80.0, 125.0, 500.0, 575.0, 590.0, 605.0, 1025.0, 1030.0), (60.0, 100.0, 350.0)))
def test_every_joist_has_the_couples_of_the_blocking_at_both_of_its_sides(x: float, a: float) -> None:
    """M1 at 230 mm, 150 mm from the left end of its blocking; another mount anywhere. Joists are 45 mm wide.

    Its blocking reaches from 80 to 485 mm, so its joists stand at 57.5 and 507.5 mm; a joist within half its width of those of the
    other mount is the same. The parts of both couples on each joist by the lever, and of the two joists the larger.
    """
    walk: Any = SimpleNamespace(job=SimpleNamespace(joists=SimpleNamespace(width=Value(45.0, "length", GIVEN))))
    T, other = np.array([3e5, 1e5]), np.array([0.5e5, 4e5])
    its = {57.5: (405 - 150) / 405 * T, 507.5: 150 / 405 * T}
    others = {x - a - 22.5: (405 - a) / 405 * other, x - a + 405 + 22.5: a / 405 * other}
    left_of, right_of = sorted(others)
    on = dict(its)
    for joist, neighbour in ((57.5, right_of), (507.5, left_of)):
        if abs(neighbour - joist) < 22.5:
            on[joist] = its[joist] + others[neighbour]
    first, second = mount_at("M1", 230.0), mount_at("M2", x)
    beside = [(first, bay(150.0), Value(T, "moment", GIVEN)), (second, bay(a), Value(other, "moment", GIVEN))]
    found = comes.couple(walk, first, bay(150.0), Value(T, "moment", GIVEN), beside)
    assert np.asarray(found.x) == pytest.approx(max(on.values(), key=np.max), rel=EXACT)


def test_two_mounts_on_one_joist_in_every_combination() -> None:
    """Blocking from 30 to 435 mm and from 480 on: M1 200 mm from one end, M2 too, one joist between them, 28 mm boards, no packers.

    Its couple is 200/405 of what M1 turns with and 205/405 of what M2 does, both of one combination and of one case.
    """
    made = sound(job_named("garden_deck").with_({"mounts.M1.x": "230 mm", "mounts.M2.x": "680 mm", "situations": None}))
    by_combination: dict[str, dict[str, MountForces]] = {}
    for m in made.handed_on.mounts:
        by_combination.setdefault(m.combination.id, {})[m.model.name] = m
    (shown,) = (s.value for link in made.links for s in link.shown if s.title == "couple on one joist at mount M1")
    turning = {
        id: {n: (np.asarray(m.M_Ed.x) + np.abs(m.F_Ed.x) * (28 + 97.5))[m.counted] for n, m in both.items()}
        for id, both in by_combination.items()
    }
    assert len(turning) > 2
    on = {id: 200 / 405 * T["M1"] + 205 / 405 * T["M2"] for id, T in turning.items()}
    alone = {id: 205 / 405 * T["M1"] for id, T in turning.items()}
    for m in made.handed_on.mounts:
        if m.model.name == "M1":
            found = on_joist(walk_of(result_of("garden_deck")), m, made.handed_on.panels[0], made.handed_on.mounts)
            assert isinstance(found, OnJoist) and found.M_J is not None
            assert np.asarray(found.M_J.x) == pytest.approx(on[m.combination.id], rel=EXACT)
    lead = next(id for id, x in on.items() if np.shape(x) == np.shape(shown.x) and np.allclose(x, shown.x, rtol=1e-9))
    assert on[lead].max() > 1.5 * alone[lead].max()
    W, w = 45 * 195**2 / 6, 1.35 * 0.2 + 1.5 * 1.1
    weight = 1.35 * 25e-6 * 1000 * 1040 * 19 / 2
    for c in made.checks:
        if c.id in ("joist.bending.M1", "joist.bending.M2") and c.combination in on:
            couple = on[c.combination].max()
            pressed = weight * (205 + 205) / 405 if c.id.endswith("M1") else weight * (205 + 200) / 405
            assert demand(c) == pytest.approx((couple + pressed * 200 + w * 2400**2 / 8) / W, rel=1e-9), (c.id, c.combination)


def test_a_load_in_the_plane_presses_with_all_weight_and_lifts_against_the_least() -> None:
    """US deck: force at the nearer joist, pressed by the load and all the weight, lifted by the load less what holds of it.

    The push along at its lever down to the middle of the joist: packers, 1 in of boards, half of 7 1/4 in (statics).
    """
    result = result_of("us_deck")
    walk, inch = walk_of(result), 25.4
    (panel,) = result.handed_on.panels
    lifted = pressed = 0
    for s in result.handed_on.shares:
        thick = replace(s.model, packing=Value(9.0, "length", GIVEN))
        on = from_above(walk, replace(s, model=thick), panel)
        assert isinstance(on, OnJoist) and on.M_J is not None and float(np.max(on.M_J.x)) == 0.0
        a, L = float(s.model.mount.in_bay.x), 14.5 * inch
        M = np.abs(s.turn.x) + np.abs(s.push.x) * (9.0 + 1.0 * inch + 7.25 * inch / 2)
        down, up = np.maximum(s.down.x + s.pressing.x, 0.0), np.maximum(-s.down.x - s.weight.x, 0.0)
        assert np.asarray(on.P_J.x) == pytest.approx((down * max(a, L - a) + M) / L, rel=EXACT)
        assert np.asarray(on.U_J.x) == pytest.approx((up * max(a, L - a) + M) / L, rel=EXACT)
        pressed, lifted = pressed + int((down > 0).sum()), lifted + int((up > 0).sum())
    assert pressed and lifted


def test_turning_effect_weight_and_pitch_by_hand() -> None:
    """1 kN m and 1 kN pulled inward above 9 mm of packers, 28 of boards and half of 195; weight to the nearer joist either way.

    Two mounts on a panel of 1 m stand 500 mm apart in a run of such panels, however many mounts the job has.
    """
    assert of(comes.TURNING, M_Ed=1e6, F_Ed=-1e3, t_p=9, t_d=28, h_J=195) == pytest.approx(1e6 + 1e3 * 134.5, rel=EXACT)
    for a in (100.0, 305.0):
        assert of(comes.WEIGHT, f_G=1.35, N_k=200, a=a, L_b=405) == pytest.approx(1.35 * 200 * 305 / 405, rel=EXACT)
    walk = walked("garden_deck")
    (panel,) = walk.job.panels
    many: Any = SimpleNamespace(job=SimpleNamespace(mounts=(1, 2, 3, 4), mounts_of=walk.job.mounts_of))
    assert pitch(many, panel).at(0) == 500.0


def of_mount(walk: Walk) -> MountModel:
    return next(m for m in walk.mounts if m.name == "M1")


@for_each("name, changes, along, length", [
    ("garden_deck", {}, True, 405.0),
    ("garden_deck", {"joists.direction": None}, None, "joists.direction"),
    ("garden_deck", {"joists.direction": "along", "blocking.B1.direction": "across"}, False, 405.0),
    ("boards_only", {}, True, 450.0),
    ("boards_only", {"decking.direction": "across", "joists.direction": "along"}, False, 450.0),
    ("boards_only", {"decking.direction": "across"}, None, "one of the two directions is wrong"),
    ("boards_only", {"mounts.M1.in_bay": "450 mm"}, None, "outside the bay"),
    ("boards_only", {"mounts.M1.in_bay": "449 mm"}, True, 450.0),
])  # fmt: skip
def test_what_spans_between_joists(name: str, changes: dict[str, object], along: bool | None, length: float | str) -> None:
    """Blocking by its own direction and length, a bare board by that of the decking and the spacing; never with the joists."""
    walk = walk_of(result_of(name))
    walk = replace(walk, job=walk.job.with_(changes))
    found = comes.bay_of(walk, of_mount(walk))
    if isinstance(found, NotChecked):
        assert along is None and str(length) in str(found) and found.lack is Lack.INPUT
    else:
        assert (found.along, float(found.L_b.x)) == (along, length)


# ---------------------------------------------------------------- how far a mount turns with what holds it


@for_each("name, changes, says", [
    ("garden_deck", {"blocking.B1.left": {"fixing": "unknown"}}, "blocking.B1.left"),
    ("garden_deck", {"blocking.B1.right": {"fixing": "none"}}, "blocking.B1.right"),
    ("garden_deck", {"blocking.B1.left": None}, "blocking.B1.left"),
    ("garden_deck", {"blocking.B1.left": {"fixing": "none", "stiffness": "8 kN/mm"}}, "blocking.B1.left"),
    ("garden_deck", {"blocking.B1.left": {"fixing": "unknown", "stiffness": "8 kN/mm"}}, "blocking.B1.left"),
    ("garden_deck", {"blocking.B1.left.stiffness": None}, "left.stiffness"),
    ("garden_deck", {"blocking.B1.pieces": 1, "blocking.B1.right": {"fixing": "screws", "number": 2, "diameter": "6 mm",
     "length": "120 mm"}, "blocking.B1.left.turning_stiffness": "50 kN m/rad"}, "right.turning_stiffness"),
    ("garden_deck", {"joists.span": None}, "joists.span"),
    ("garden_deck", {"joists.mount_from_end": None}, "joists.mount_from_end"),
    ("garden_deck", {"joists.material": {"us": "Douglas Fir-Larch"}}, "stiffness of the joists"),
    ("garden_deck", {"joists.depth": None}, "joists.depth"),
    ("boards_only", {}, "how far the boards lift"),
])  # fmt: skip
def test_what_is_not_known_of_an_end_or_a_joist_leaves_the_movement_open(name: str, changes: dict[str, object], says: str) -> None:
    """Never a turn of nothing: what does not hold, or nobody knows, is asked for."""
    walk = walk_of(result_of(name))
    walk = replace(walk, job=walk.job.with_(changes))
    one = Value(np.array([1e6]), "moment", GIVEN), Value(np.array([1e3]), "force", GIVEN)
    found = give.give(walk, of_mount(walk), *one)
    assert isinstance(found, NotChecked) and says in str(found)


def test_turns_of_ends_and_joists_by_the_work_of_the_forces() -> None:
    """Unlike ends and a mount beside the middle: one section turns by its share of the torque at either end of its blocking.

    What turns a mount between two springs does work on both: theta = T (r_l²/K_l + r_r²/K_r). Joists across: slope of a beam at
    a couple (Roark Table 8.1 3e, from memory), each of the two by its share; the top edge is 1040 + 60 + 28 + 195/2 mm above.
    """
    stiff = {"blocking.B1.left.turning_stiffness": "40 kN m/rad", "blocking.B1.right.turning_stiffness": "90 kN m/rad"}
    walk = walk_of(result_of("garden_deck"))
    walk = replace(walk, job=walk.job.with_({"blocking.B1.pieces": 1, "mounts.M1.in_bay": "120 mm", **stiff}))
    T = 1e6 + 1e3 * (28 + 97.5)
    found = give.give(walk, of_mount(walk), Value(np.array([1e6]), "moment", GIVEN), Value(np.array([-1e3]), "force", GIVEN))
    assert isinstance(found, give.Give)
    r_l, r_r = 285 / 405, 120 / 405
    slip = T * (r_l**2 / 40e6 + r_r**2 / 90e6)
    joist = T * (r_l**2 + r_r**2) * (2400 / 3 + 200) / (11000 * 45 * 195**3 / 12)  # C24: 11 GPa (EN 338); 200 mm out
    assert (found.slip.at(0), found.joist.at(0)) == pytest.approx((slip, joist), rel=EXACT)
    assert found.w.at(0) == pytest.approx((slip + joist) * (1040 + 60 + 28 + 97.5), rel=EXACT)
    assert of(give.SLIP_ACROSS, T_J=1e6, n_p=2, L_b=400, K_l=8e3, K_r=4e3) == pytest.approx(
        (1e6 / 400 / 2) * (1 / 8e3 + 1 / 4e3) / 400, rel=EXACT
    )
    across = {"blocking.B1.direction": "across", "joists.direction": "along", "blocking.B1.pieces": 1}
    walk = replace(walk, job=walk.job.with_(across))
    one = give.give(walk, of_mount(walk), Value(np.array([1e6]), "moment", GIVEN), Value(np.array([0.0]), "force", GIVEN))
    assert isinstance(one, give.Give)  # a single piece across goes up at one end and down at the other: it does not twist
    assert one.slip.at(0) == pytest.approx(1e6 / 405 * (1 / 8e3 + 1 / 8e3) / 405, rel=EXACT)


def test_nails_at_an_end_slip_in_the_wood_of_the_joist_and_of_the_piece(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the basis is asked: a nail through the joist, as thick as that is wide, into the piece; each with its own wood."""
    nails = {"fixing": "nails", "number": 3, "diameter": "3.15 mm", "length": "90 mm"}
    walk = walk_of(result_of("garden_deck"))
    changes = {"blocking.B1.left": nails, "blocking.B1.right": nails, "joists.material.en": "C16", "blocking.B1.material.en": "C30"}
    walk = replace(walk, job=walk.job.with_(changes))
    asked: list[Driven] = []
    monkeypatch.setattr(type(walk.basis), "end_slip", lambda self, driven: asked.append(driven) or NotChecked(Lack.BASIS, "none"))
    one = Value(np.array([1e6]), "moment", GIVEN), Value(np.array([1e3]), "force", GIVEN)
    assert isinstance(give.give(walk, of_mount(walk), *one), NotChecked)
    driven = asked[0]
    assert driven.side_timber.names["en"] == "C16" and driven.timber.names["en"] == "C30"
    assert driven.side is not None and float(driven.side.x) == 45.0


@for_each("name, holds, presses", [("au_deck", 0.9, 1.2), ("us_deck", 0.6, 1.0)])
def test_the_mount_that_a_force_at_the_other_end_lifts_is_held_by_the_lower_weight(name: str, holds: float, presses: float) -> None:
    """A force down at the left end of a panel lifts its right mount: a lever over the other. There weight is on the good side.

    0.9 G and 1.2 G (AS/NZS 1170.0:2002 4.2.2), 0.6 D and D (ASCE 7-22 2.4.1). By moments about the middle of two mounts alike,
    the weight of the glass half on each, whichever way the load acts.
    """
    result = result_of(name)
    group = Group(walk_of(result), result.handed_on.panels[0])
    G = float(group.G.x)
    found = set()
    for load in (a for a in in_plane_actions(walk_of(result)) if a.action.kind == "vertical"):
        for m, up in product(range(2), (False, True)):
            share = vertical(group, load, m, up)
            assert not isinstance(share, NotChecked)
            for i in range(len(share.labels)):
                lifts = share.down.at(i) < 0.0
                found.add((up, lifts))
                assert share.weight.at(i) == pytest.approx((holds if lifts else presses) * G / 2, rel=EXACT), share.labels[i]
    assert found == set(product((False, True), repeat=2))


def test_loads_in_the_plane_decide_on_joists_only_where_the_code_asks_for_them() -> None:
    """Australia: a force down decides (AS/NZS 1170.1 Table 3.3), one along informs; the cautions of joists stand there, loud."""
    result = result_of("au_deck")
    walk, (panel,) = walk_of(result), result.handed_on.panels
    made = {s.way: list(link._in_plane(walk, s, panel)) for s in result.handed_on.shares if s.model.name == "M1"}
    assert {way: len(checks) for way, checks in made.items()} == {"down": 6, "along": 0}
    assert {c.combination for c in made["down"]} == {"ultimate, barrier"}
    (joists,) = (r for r in result.links if r.id == "joist")
    loud = [f.text for f in joists.findings if f.loud]
    assert any("diaphragm" in t for t in loud) and any("under their own loads alone" in t for t in loud)
    assert any("lower edge is in compression" in f.text for f in joists.findings)


# ---------------------------------------------------------------- movement


@for_each("name, cases, swap", product(("boards_only", "garden_deck"), ("as they are", "reversed"), (False, True)))
def test_the_band_of_a_movement_does_not_depend_on_what_is_looked_at_first(name: str, cases: str, swap: bool) -> None:
    """Both ends of a band are of one case; sets of stiffness and cases in another order are the same sets and cases.

    The low end is stiff and takes none of what ends and joists give; the high end is the most there is under any case.
    """
    result = result_of(name)
    walk, (panel,) = walk_of(result), result.handed_on.panels
    chosen = [i for i, c in enumerate(panel.cases) if c.standing is Standing.REQUIRED and not c.parts]
    if swap:  # the plate is as soft in the last set as it was in the first
        panel = replace(panel, solutions=panel.solutions[::-1])
    own = np.array([[float(s.top_deflection[c]) for c in chosen] for s in panel.solutions])
    check, (low, high, *giving) = _panel(walk, panel, result.handed_on.mounts, chosen if cases == "as they are" else chosen[::-1])
    text = high.remark
    assert high.value.at(high.station) == np.max(high.value.x) and text == check.where
    assert low.remark.split(";")[0] == text.split(";")[0]
    case = next(n for n, c in enumerate(chosen) if text.startswith(f"{panel.cases[c].title}; "))
    gap = 4.0 / 150.0 * 0.0 if walk.job.decking.gap_under is None else low.value.at(low.station) - own[:, case].min()
    assert gap >= 0.0 and low.value.at(low.station) == pytest.approx(own[:, case].min() + gap, rel=EXACT)
    least = [float(x) for x, of_case in zip(low.value.x, high_labels(low.value), strict=True) if of_case == text.split(";")[0]]
    assert low.value.at(low.station) == min(least) and len(least) == len(panel.sets)
    if giving:
        assert giving[0].station == high.station
    assert high.value.at(high.station) >= own.max() + gap - 1e-9


def high_labels(value: Value) -> list[str]:
    """The case of every station of a movement, as its labels begin."""
    plate = next(v for v in value.origin.inputs.values() if v.symbol == "w_plate")  # type: ignore[union-attr]
    return [label.split(";")[0] for label in plate.origin.labels]  # type: ignore[union-attr]


def test_movement_is_of_the_loads_in_use_and_with_wind_at_once_it_informs() -> None:
    """Neither a moment, a push nor a name of a state of strength: us_deck has wind with the load on the barrier as well."""
    result = result_of("us_deck")
    (link_of,) = (r for r in result.links if r.id == "movement")
    made = {c.id: (c.combination, c.standing) for c in link_of.checks}
    assert made == {
        "movement.P1": ("service, barrier", Standing.REQUIRED),
        "at_once.movement.P1": ("service, barrier load with wind", Standing.INFORMATION),
    }
    assert any(f.loud and "the true figure is larger" in f.text for f in link_of.findings)
    (panel,) = result.handed_on.panels
    chosen = [i for i, c in enumerate(panel.cases) if not c.parts]
    for m in panel.mounts:
        own = [f for f in result.handed_on.mounts if f.model is m]
        M, F = service_moments(panel, own, chosen)
        stations = [(s, c) for s in range(len(panel.sets)) for c in chosen]
        by_case = {(f.cases[i].id, k): f for f in own for k in range(len(panel.sets)) for i in range(len(f.cases))}
        for n, (s, c) in enumerate(stations):  # what the glass does to its clamp, before any factor: push and moment at its foot
            station = next(i for i, at in enumerate(panel.stations) if at == (s, c, panel.mounts.index(m)))
            push, moment = float(panel.reactions("F")[station]), float(panel.reactions("Mx")[station])
            assert F.at(n) == pytest.approx(push, rel=EXACT) and (panel.cases[c].id, s) in by_case
            assert M.at(n) == pytest.approx(abs(moment + push * float(m.lever.x)), rel=1e-6)


@for_each("changes, says", [
    ({"decking.gap_under": None}, "decking.gap_under"),
    ({"limits.top_movement": None}, "limits.top_movement"),
    ({"joists.span": None}, "joists.span"),
])  # fmt: skip
def test_a_movement_of_which_a_part_is_not_known_is_not_within(changes: dict[str, object], says: str) -> None:
    """What is known of it is shown as the demand all the same."""
    result = result_of("garden_deck")
    walk = walk_of(result)
    made = _panel(replace(walk, job=walk.job.with_(changes)), result.handed_on.panels[0], result.handed_on.mounts, [0, 1, 2])[0]
    assert made.ending is Ending.NOT_CHECKED and says in made.reason and made.resistance is None
    assert made.demand is not None and demand(made) > 5.0


def test_a_movement_that_exceeds_by_what_is_known_exceeds_whatever_is_not_known() -> None:
    """A limit of 1 mm is less than the glass alone moves."""
    result = result_of("garden_deck")
    walk = walk_of(result)
    job = walk.job.with_({"joists.span": None, "limits.top_movement": "1 mm"})
    made = _panel(replace(walk, job=job), result.handed_on.panels[0], result.handed_on.mounts, [0, 1, 2])[0]
    assert made.ending is Ending.EXCEEDS and "joists.span" in made.reason


# ---------------------------------------------------------------- what must be checked

ALWAYS = {
    *(f"screws.{s}" for s in ("withdrawal", "steel", "sideways", "combined", "edge", "a1")), "clamp.rating", "bearing.mean",
    "base_plate.bed", "base_plate.rotation", "base_plate.plate", *(f"joist.{s}" for s in SIX),
}  # fmt: skip
HELD = {f"blocking.end.{side}.{way}" for side in ("left", "right") for way in ("sideways", "torque", "together")}
UP_AND_DOWN = {f"blocking.end.{side}.{way}" for side in ("left", "right") for way in ("uplift", "down")}
BENT = {"blocking.bending", "blocking.shear", "blocking.torsion"}
SPLIT = {"blocking.splitting", "blocking.end.splitting.uplift", "blocking.end.splitting.down"}
ON_BLOCKING = {"bearing.below", "screws.end", *BENT, *HELD}
LOOSE = {*ON_BLOCKING, *UP_AND_DOWN, *SPLIT, "blocking.both_ways"}
ACROSS = {"blocking.B1.direction": "across", "joists.direction": "along"}
ANY_WAY = {
    "in_plane.along", "in_plane.sideways", "in_plane.combined",
    *(f"in_plane.vertical_{way}.{of}" for way in ("up", "down") for of in ("line", "point")),
}  # fmt: skip
DOWNWARDS = {"in_plane.vertical_down.point", "in_plane.vertical_down.vertical"}
EDGE: dict[str, object] = {
    **{f"mounts.{m}.{key}": x for m in ("M1", "M2") for key, x in (("support", "edge joist"), ("blocking", None))},
    "joists.width": "145 mm", "joists.direction": "along",
}  # fmt: skip
TURNED = {f"edge_joist.{s}" for s in ("torsion", "bending", "shear")} | {
    f"edge_joist.end.{side}.{way}" for side in ("left", "right") for way in ("sideways", "torque", "together")
}
BOARDS = {"boards.board", "boards.screws", "boards.push"}


@for_each("name, changes, wanted", [
    ("garden_deck", {}, LOOSE | {"screws.thickness"}),
    ("garden_deck", {"blocking.B1.laminated": "factory"}, ON_BLOCKING | {"screws.thickness", "screws.a2"}),
    ("garden_deck", {"blocking.B1.pieces": 1, "blocking.B1.width": "240 mm"}, ON_BLOCKING | {"screws.thickness", "screws.a2"}),
    ("garden_deck", ACROSS, ON_BLOCKING | UP_AND_DOWN | {"screws.thickness", "blocking.end.thrust"}),
    ("garden_deck", {"mount_types.deep.screw.length": "320 mm"}, LOOSE - {"blocking.splitting"} | {"screws.thickness"}),
    ("garden_deck", {"mount_types.deep.screw.length": "210 mm"}, LOOSE | {"screws.thickness"}),
    ("garden_deck", EDGE, {"bearing.below", "edge_joist.whole", "screws.thickness", "screws.a2"}),
    ("garden_deck", {**EDGE, "joists.restraint_spacing": "600 mm"}, TURNED | {"bearing.below", "screws.thickness", "screws.a2"}),
    ("au_deck", {}, LOOSE | DOWNWARDS),
    ("au_deck", {"blocking.B1.pieces": 1, "blocking.B1.width": "240 mm"}, ON_BLOCKING | UP_AND_DOWN | DOWNWARDS | {"screws.a2"}),
    ("au_deck", ACROSS, ON_BLOCKING | UP_AND_DOWN | DOWNWARDS | {"blocking.end.thrust", "blocking.in_plane"}),
    ("us_deck", {}, ON_BLOCKING | UP_AND_DOWN | ANY_WAY | {"screws.a2", "bearing.peak"}),
    ("boards_only", {}, BOARDS | {"screws.thickness", "screws.a2"}),
])  # fmt: skip
def test_what_a_mount_must_be_checked_for_by_what_it_stands_on(name: str, changes: dict[str, object], wanted: set[str]) -> None:
    """Loose pieces share nothing but their load and may split; one section turns at its ends; boards have their own screws.

    Loads in the plane decide where the code has them: in any direction (IBC 1607.9.1), downwards (AS/NZS 1170.1 Table 3.3), or
    not at all (EN 1991-1-1 6.4). Screws right through a piece do not split it at the mount.
    """
    walk = walk_of(result_of(name))
    walk = replace(walk, job=walk.job.with_(changes))
    found = {a.id.removesuffix(".M1") for a in asked(walk) if a.id.endswith(".M1")}
    assert found == ALWAYS | wanted, sorted(found ^ (ALWAYS | wanted))


@for_each("name, wanted", [
    ("garden_deck", {"glass.face", "glass.edge", "movement.P3"}),
    ("us_deck", {"glass.face", "glass.edge", "movement.P1", "clamp.slip_along.P1", "clamp.slip_up.P1"}),
    ("au_deck", {"glass.face", "glass.edge", "movement.P3"}),
])  # fmt: skip
def test_what_a_panel_must_be_checked_for(name: str, wanted: set[str]) -> None:
    """Nothing lifts glass out of its clamps by a load downwards; a rail on which a single layer counts is asked for as well."""
    walk = walk_of(result_of(name))
    (panel,) = walk.job.panels

    def of_panel(changes: dict[str, object]) -> set[str]:
        of = asked(replace(walk, job=walk.job.with_(changes)))
        return {a.id for a in of if a.id.startswith(("rail", "glass", "movement", "clamp.slip"))}

    assert of_panel({}) == wanted
    assert of_panel({f"panels.{panel.name}.rail": "cap"}) - of_panel({}) == {f"rail.{panel.name}"}


def test_why_a_check_could_not_be_made() -> None:
    """Of what it is made from: not known there is not known here; exceeds without a number there is out of reach here."""
    walk = walk_of(result_of("garden_deck"))
    wanted = next(a for a in asked(walk) if a.id == "bearing.below.M1")
    assert wanted.after is not None
    nobody = NotChecked(Lack.INPUT, "nobody knows")
    before = {
        "nobody knows": not_checked(wanted.after, "mean bearing", nobody),
        "exceeds without a number": fails(wanted.after, "mean bearing", "it sinks in"),
    }
    for says, earlier in before.items():
        made = completed(walk, [wanted], [], LinkResult("bearing", "bearing", (earlier,)))
        (unmade,) = (c for c in made.checks if c.about == wanted.about)
        assert unmade.ending is Ending.NOT_CHECKED and unmade.standing is Standing.REQUIRED and says in unmade.reason
    # A check that was made stays as it is, and those of other links are left to them.
    as_it_was = LinkResult("bearing", "bearing", (before["nobody knows"], fails(wanted.about, "below", "it sinks in")))
    assert completed(walk, [wanted], [], as_it_was) is as_it_was
    assert completed(walk, [wanted], [], LinkResult("screws", "screws", ())).checks == ()
    # The same is asked of a link although another one has a check by that name.
    again = completed(walk, [wanted], as_it_was.checks, LinkResult("bearing", "bearing", ()))
    assert [c.about for c in again.checks] == [wanted.about]


def test_beneath_a_mount_that_lets_go_all_is_required_and_out_of_reach() -> None:
    """Pieces, their ends and what holds them: not one of them informs."""
    walk = walk_of(result_of("garden_deck"))
    made = list(unreached(walk, of_mount(walk)))
    assert {c.standing for c in made} == {Standing.REQUIRED} and {c.lack for c in made} == {Lack.REACH}
    assert {c.id.removesuffix(".M1") for c in made} == LOOSE - {"bearing.below", "screws.end"}


def test_what_no_load_reaches_informs_only_where_the_plate_stands() -> None:
    """A plate that turns by a number stands; one that has none, or that nobody looked at, has let go; one that lacks says what."""
    walk = walk_of(result_of("garden_deck"))
    wanted = next(a for a in asked(walk) if a.id == "joist.bending.M1")
    stands = next(c for c in result_of("garden_deck").sound.checks if c.id == "base_plate.rotation.M1")
    gone = fails(stands.about, stands.title, "no equilibrium")
    nothing = LinkResult("joist", "joists", ())
    for before, standing, says in (
        ([stands], Standing.INFORMATION, "no case loads it"),
        ([gone], Standing.REQUIRED, "no equilibrium"),
        ([], Standing.REQUIRED, "no equilibrium"),
    ):
        (made,) = completed(walk, [wanted], before, nothing).checks
        assert (made.standing, made.ending) == (standing, Ending.NOT_CHECKED) and says in made.reason
    lacking = replace(of_mount(walk), lacking=NotChecked(Lack.INPUT, "how thick the plate is"))
    (made,) = completed(walk, [replace(wanted, of=lacking)], [stands], nothing).checks
    assert made.standing is Standing.REQUIRED and "how thick the plate is" in made.reason


def test_the_board_under_a_mount_twists_along_the_glass_and_bends_across_it() -> None:
    walk = walk_of(result_of("boards_only"))
    across = replace(walk, job=walk.job.with_({"decking.direction": "across", "joists.direction": "along"}))
    titles = [next(a.title for a in asked(w) if a.id == "boards.board.M1") for w in (walk, across)]
    assert [t.split()[0] for t in titles] == ["torsion", "bending"]


# ---------------------------------------------------------------- what is said


def test_an_angle_is_large_where_the_check_has_its_station() -> None:
    """0.3 mm at the first station and 30 mm at the one compared, over 100 mm: 0.3 and not 0.003 of a radian."""
    small = Value(0.1, "angle", GIVEN)
    check: Any = SimpleNamespace(demand=Value(np.array([0.3, -30.0]), "length", GIVEN), station=1)
    assert _more(check, 100.0, small) and not _more(check, 400.0, small) and not _more(None, 100.0, small)


@for_each("places, left, right, loud", [
    (2, False, False, True), (2, True, False, True), (2, False, True, True), (2, True, True, False),
    (3, False, False, False), (3, True, True, False), (1, True, True, False),
])  # fmt: skip
def test_fewer_than_three_panels_under_a_rail_that_is_not_held_at_both_ends_are_said_loud(
    places: int, left: bool, right: bool, loud: bool
) -> None:
    """Three panels at least, or a rail held in another way: the count of codes of the US (IBC 2407.1.2, remembered)."""
    ends = SimpleNamespace(left=SimpleNamespace(holding=left), right=SimpleNamespace(holding=right))
    walk: Any = SimpleNamespace(job=SimpleNamespace(rail=ends), basis=SimpleNamespace(rule=lambda _: None))
    line = SimpleNamespace(places=[SimpleNamespace(panel=object(), number=n) for n in range(places)])
    said = next(iter(_findings(walk, SimpleNamespace(line=line))))  # type: ignore[arg-type]
    assert said.loud is loud and f"{places} panels stand" in said.text


def said_of_site(name: str, **site: object) -> dict[str, bool]:
    """What heights, pool, treatment and wet have of a job: the text of each, and whether it is loud."""
    walk = walk_of(result_of(name))
    walk = replace(walk, job=walk.job.with_({f"site.{k}": v for k, v in site.items()}))
    return {f.text: f.loud for f in (*_heights(walk), *_durability(walk), *_mounts(walk.job.mounts))}


@for_each("name, changes, words, loud", [
    ("garden_deck", {"fall_height": "600 mm"}, "just what the rule names", True),  # Approved Document K, K2: more than 600 mm
    ("garden_deck", {"fall_height": "601 mm"}, "There is a drop to guard", False),
    ("garden_deck", {"fall_height": "599 mm"}, "The drop is just", None),
    ("garden_deck", {"fall_height": "599 mm"}, "There is a drop to guard", None),
    ("garden_deck", {"fall_height": None}, "Fall height not given", True),
    ("garden_deck", {"below": "people pass"}, "There are people below", True),
    ("garden_deck", {"below": "garden"}, "There are people below", None),
    ("garden_deck", {"pool": None}, "Beside a pool other rules hold", False),
    ("garden_deck", {"pool": True}, "Beside a pool other rules hold", True),
    ("garden_deck", {"pool": False}, "Beside a pool other rules hold", None),
    ("garden_deck", {"treated_timber": None}, "Whether the timber is treated is not known", True),
    ("garden_deck", {"treated_timber": False}, "Whether the timber is treated is not known", None),
    ("us_deck", {"treated_timber": None}, "Treated timber may be incised", True),
    ("us_deck", {"treated_timber": True}, "Treated timber may be incised", True),
    ("us_deck", {"treated_timber": False}, "Treated timber may be incised", None),
])  # fmt: skip
def test_what_is_not_known_of_a_place_is_said_as_loud_as_what_is_against_it(
    name: str, changes: dict[str, object], words: str, loud: bool | None
) -> None:
    """Nothing is said of what is known not to be; what nobody said may be."""
    found = [is_loud for text, is_loud in said_of_site(name, **changes).items() if words in text]
    assert found == ([] if loud is None else [loud])


@for_each("earthed, named", [("yes", False), ("no", True), ("unknown", True)])
def test_a_mount_of_which_nobody_says_that_it_is_earthed_is_named(earthed: str, named: bool) -> None:
    mounts: Any = (SimpleNamespace(name="M1", earthed="yes"), SimpleNamespace(name="M2", earthed=earthed))
    assert [f.text.startswith("Mount M2") for f in _mounts(mounts)] == ([True] if named else [])


@for_each("coupling, modulus, kind, temperature, unknown", [
    (None, None, "stiff", 30.0, False), (None, None, None, 30.0, True), (None, None, "stiff", None, True),
    (None, 0.5, None, None, False), ("none", None, None, None, False),
])  # fmt: skip
def test_layers_slide_for_want_of_knowledge_only_where_it_is_wanting(
    coupling: object, modulus: object, kind: object, temperature: object, unknown: bool
) -> None:
    """An interlayer of a known kind at a known temperature is known; so is one whose modulus is given, and none at all."""
    film = SimpleNamespace(coupling=coupling, modulus=modulus, kind=kind, temperature=temperature)
    assert _interlayer_unknown(SimpleNamespace(interlayer=film)) is unknown  # type: ignore[arg-type]
    assert _interlayer_unknown(SimpleNamespace(interlayer=None)) is False  # type: ignore[arg-type]


def test_movement_decides_under_what_decides_alone_and_informs_under_two_loads_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A load that informs is no part of a movement that decides; two at once never are, whether they decide or not."""
    looked: list[list[int]] = []

    def of(walk: object, panel: object, forces: object, chosen: list[int]) -> tuple[Check, list[object]]:
        looked.append(chosen)
        return replace(fails(About("movement", panel="P"), "movement", "it falls"), case=f"c{chosen[0]}"), []

    monkeypatch.setattr(sys.modules[_panel.__module__], "_panel", of)
    barrier = result_of("us_deck").handed_on.panels[0].cases[0]
    cases = [
        replace(barrier, id=f"c{n}", standing=standing, parts=parts)
        for n, (standing, parts) in enumerate([
            (Standing.INFORMATION, ()), (Standing.REQUIRED, ()), (Standing.REQUIRED, (barrier,)),
            (Standing.INFORMATION, (barrier,)), (Standing.REQUIRED, ()),
        ])
    ]  # fmt: skip
    panel: Any = SimpleNamespace(cases=cases, panel=SimpleNamespace(name="P"))
    made = movement(walked("us_deck"), [panel], ()).checks
    assert looked == [[1, 4], [2, 3]]
    assert [c.standing for c in made] == [Standing.REQUIRED, Standing.INFORMATION]
