"""Lines of the Eurocode that were once written wrongly on purpose and that no other test had noticed: each by a hand sum.

The family asked by itself, with the figures of the code beside each question. The factors stand in the tests of the tables; here it
is which of them is taken.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from as1720 import given, number
from conftest import for_each, job_named, sound
from test_wrong_lines_of_codes import own
from wind_places import DECK, PLACES, TABLES, answer, at, mean, pressure, ratio, site

from barrier.basis import Family, Fastener, Glass, Timber, basis_named
from barrier.basis.interlayer import TwoLayers, by_astm, shear_modulus
from barrier.equation import outside_at
from barrier.result import Combination, Ending, Lack, NotChecked
from barrier.value import Value, walk

EN = basis_named("en", "uk", TABLES)
PUSH = EN.strength("barrier", "A")
DAMAGED = EN.accidental("barrier", "A")
EXACT = 1e-12  # relative; the same arithmetic in another order
SAWN, GLUED = Timber({"en": "C24"}, 3), Timber({"en": "C24"}, 3, laminated=True)
D, D_1, F_U = 8.0, 5.4, 500.0  # a screw: thread and root, mm, its steel, MPa
SCREW = Fastener(given(D, symbol="d"), given(D_1, symbol="d_1"), given(F_U, "stress", "f_u"))


def one(n: float = 1) -> Value:
    return given(n, "count", "n")


def mm(x: float, symbol: str) -> Value:
    return given(x, symbol=symbol)


# ---------------------------------------------------------------- loads and combinations
def test_factors_of_each_combination() -> None:
    """EN 1990 Table A1.2(B): 1.5 on a variable action, 1.35 on weight that adds and 1.0 where it holds; 1.0 in use and damaged."""
    for nature in ("barrier", "wind"):
        found = [c.factor for c in (EN.strength(nature), EN.accidental(nature), EN.service(nature))]
        assert [number(x) for x in found] == [1.5, 1.0, 1.0], nature
    assert [number(x) for x in (EN.weight_factor(), EN.weight_down_factor(), EN.imposed_factor())] == [1.0, 1.35, 1.5]


def test_a_push_after_damage_lasts_as_long_as_before() -> None:
    """The crowd that leans is the same: what is lost makes its push no shorter, on timber or glass; nor is it a gust."""
    for nature, use in (("barrier", "A1"), ("barrier", "C3"), ("wind", "")):
        before, after = EN.strength(nature, use), EN.accidental(nature, use)  # type: ignore[arg-type]
        assert (before.duration, before.glass_duration) == (after.duration, after.glass_duration)
        assert before.duration == "short-term"


def test_after_damage_the_action_has_its_own_size_in_every_family() -> None:
    """What is left must bear the characteristic action, no more and no less; a family without factors for it keeps its level."""
    for key in ("us", "au", "nz"):
        family = basis_named(key, "", TABLES)
        sound_, damaged = family.strength("barrier"), family.accidental("barrier")
        assert number(damaged.factor) == 1.0 and damaged.factor.symbol == sound_.factor.symbol
        assert (damaged.level, damaged.duration, damaged.glass_duration) == (
            sound_.level, sound_.duration, sound_.glass_duration,
        )  # fmt: skip
        assert damaged.situation == "after damage" != sound_.situation and damaged.id != sound_.id


def test_glass_at_home_is_leant_on_for_less_time_than_anywhere_else() -> None:
    """A guide of a UK institution: 30 s at home, category A, and 5 min elsewhere; a use nobody knows is taken as elsewhere."""
    for use in ("A", "A1", "A2"):
        assert EN.strength("barrier", use).glass_duration == "barrier_domestic"
    for use in ("", "B3", "C3", "C3w", "D", "F", "BC1", "C2D", "E", "Z9", "A quay", "Arena", "AB"):
        assert EN.strength("barrier", use).glass_duration == "barrier_public", use


def test_timber_that_is_pushed_and_blown_at_once_goes_by_the_shorter_of_the_two() -> None:
    """EN 1995-1-1 3.1.3(2): k_mod of the action of shortest duration, whichever of the two is argued to be short or long."""
    wind = EN.strength("wind")
    for said, shorter in (("permanent", "short-term"), ("short-term", "short-term"), ("instantaneous", "instantaneous")):
        for both in EN.at_once(EN.lasting(PUSH, said), wind):
            assert both.strength.duration == both.service.duration == shorter
            assert number(both.strength.factor) == 1.5 and number(both.service.factor) == 1.0
            assert (both.strength.level, both.service.level) == ("ultimate", "characteristic")


BS_6180 = {
    "A1": (0.36, 0.5, 0.25), "A2": (0.74, 1.0, 0.5), "B1": (0.22,), "B2": (0.36, 0.5, 0.25), "B3": (0.74, 1.0, 0.5),
    "C1": (1.5, 1.5, 1.5), "C2": (1.5, 1.5, 1.5), "C3": (0.74, 1.0, 0.5), "C3w": (1.5, 1.5, 1.5), "C3c": (3.0, 1.5, 1.5),
    "C5": (3.0, 1.5, 1.5), "D": (1.5, 1.5, 1.5), "F": (1.5, 1.5, 1.5),
}  # fmt: skip


@for_each("use", list(BS_6180))
def test_table_2_of_bs_6180_and_which_of_its_loads_decide(use: str) -> None:
    """BS 6180:2011 Table 2 (public extracts; C2 on from memory): kN/m, kN/m2 and kN, three cases; the point is one on the infill.

    Where a point load at the top edge is shown as well, it informs. At home the line stands 1.1 m high.
    """
    found = EN.actions(use)
    assert not isinstance(found, NotChecked)
    decide = {a.kind: number(a.size) for a in found if a.required}
    base = {"line": 1.0, "pressure": 1e-3, "patch": 1e3}  # N/mm, MPa, N
    assert decide == pytest.approx({k: x * base[k] for k, x in zip(base, BS_6180[use], strict=False)})
    assert [a.kind for a in found if not a.required] == ["point"] * (len(decide) > 1)
    assert [number(a.height) for a in found if a.height is not None] == ([1100.0] if use[0] == "A" else [])


def test_without_a_country_there_is_no_load_and_the_countries_are_named() -> None:
    """EN 1991-1-1 6.4 has a range, and a national annex the figure: no country, no figure."""
    found = basis_named("en", "", TABLES).actions("A2")
    assert isinstance(found, NotChecked) and found.lack is Lack.INPUT and "uk" in found.text


def test_what_each_country_says_beside_its_loads() -> None:
    """IBC 1607.9.1: in any direction, alone of the four. BS 6180:1999, in Britain alone: half as much again on fixings (6.5), the
    design load across the gap of a lost panel (8.5.2), and glass that moves by L/65 or 25 mm (6.4.1). Without a country none."""
    families = {key: basis_named(key, "", TABLES) for key in ("us", "au", "nz", "en")} | {"uk": EN}
    assert [key for key, f in families.items() if f.any_direction] == ["us"]
    assert [key for key, f in families.items() if f.lost_panel_as_whole] == ["uk"]
    assert [key for key, f in families.items() if f.support_factor() and f.support_factor_on_fixings] == ["uk"]
    factor = EN.support_factor()
    assert factor is not None and number(factor[0]) == 1.5 and "uncertain" in factor[1]
    for height, most in ((1100.0, 1100 / 65), (1625.0, 25.0), (1900.0, 25.0)):
        found = EN.glass_movement(given(height))
        assert found is not None and found[0] is not None and number(found[0]) == pytest.approx(most, rel=EXACT)
    assert families["en"].glass_movement(given(1100)) is None
    assert "across the barrier only" in EN.in_plane_words and "across the barrier only" in families["en"].in_plane_words


def test_what_decides_beside_each_load_alone() -> None:
    """EN 1990 A1.2.1(1): loads that cannot occur together need not be added, and guides take the larger: the sum informs. (8.28) is
    a sum of squares and has no angle. Design loads at the ultimate level; a mean pressure under the plate is what k_c,90 is for."""
    assert not EN.at_once_decides and not EN.peak_bearing_decides
    assert EN.combined_is_squares and not EN.combined_by_angle
    assert EN.strength_level == EN.strength("barrier").level == "ultimate"
    assert EN.service("barrier").level == "characteristic"


# ---------------------------------------------------------------- glass
@pytest.mark.parametrize(("kind", "f_b_k"), [("toughened", 90.0), ("heat-strengthened", 55.0)])
def test_patterned_glass_has_the_strength_of_patterned_glass(kind: str, f_b_k: float) -> None:
    """EN 12150-1 and EN 1863-1: 90 and 55 MPa patterned (float 120 and 70); EN 16612 8.2: k_sp 0.75, and 0.8 at whatever edge, for
    0.9 and 1.0 are of float glass (that seamed patterned glass has 0.8 too is remembered). At home: 30 s, 0.89."""
    for edge in ("polished", "seamed", "cut"):
        for location, k_e in (("face", 1.0), ("edge", 0.8)):
            found = number(EN.glass_strength(Glass(kind, "patterned", edge), location, PUSH))  # type: ignore[arg-type]
            assert found == pytest.approx(k_e * 0.89 * 0.75 * 45 / 1.8 + (f_b_k - 45) / 1.2, rel=EXACT), (edge, location)


def test_the_nominal_thickness_of_patterned_glass_says_little_of_its_least() -> None:
    """EN 572-5 (remembered): patterned glass of 10 mm may have 9, float glass 9.7 (EN 572-2): its own least is asked."""
    deck = job_named("everyday_deck").with_({"panels.P1.surface": "patterned"})
    for minimum, known in ((None, False), ("11 mm", True)):
        found = sound(deck.with_({"panels.P1.layers.1.minimum": minimum}) if minimum else deck)
        for id in ("glass.face", "glass.edge", "screws.withdrawal.M1"):
            (check,) = (c for c in found.checks if c.id == id)
            assert (check.ending is not Ending.NOT_CHECKED) is known, (id, minimum)
            assert known or (check.why is not None and "minimum" in check.why.text and check.lack is Lack.INPUT)


def test_strengthened_patterned_glass_nobody_tabulates_is_not_checked() -> None:
    """EN 12337-1 was read for float glass, 150 MPa: what patterned glass of that kind has is not taken from it."""
    found = EN.glass_strength(Glass("chemically-strengthened", "patterned", "cut"), "face", PUSH)
    assert isinstance(found, NotChecked) and found.lack is Lack.BASIS and "patterned" in found.text


def test_plain_glass_by_hand_at_home_in_public_and_under_wind() -> None:
    """EN 16612 8.1 and 8.2: 0.89, 0.77 and 0.74 with 1.8 on the annealed part, 1.2 on what toughening adds, on rollers (k_v 1)."""
    for combination, k_mod in ((PUSH, 0.89), (EN.strength("barrier", "C3"), 0.77), (EN.strength("wind"), 0.74)):
        for kind, f_b_k in (("annealed", 45.0), ("heat-strengthened", 70.0), ("toughened", 120.0)):
            for surface, k_sp in (("float", 1.0), ("sandblasted", 0.6), ("acid-etched", 1.0)):
                for edge, k_e in (("polished", 1.0), ("seamed", 0.9), ("cut", 0.8)):
                    found = [
                        number(EN.glass_strength(Glass(kind, surface, edge), place, combination)) for place in ("face", "edge")
                    ]
                    annealed, adds = k_mod * k_sp * 45 / 1.8, (f_b_k - 45) / 1.2
                    assert found == pytest.approx([annealed + adds, k_e * annealed + adds], rel=EXACT)


def test_glass_is_as_thin_as_its_tolerance_lets_it_be() -> None:
    """EN 572-2 (remembered): 0.2 mm at 6 mm, 0.3 from 8 to 12, 0.5 at 15, 1.0 at 19 and 25; 70 000 MPa, 0.23, 25 kN/m3."""
    for nominal, less in ((6, 0.2), (8, 0.3), (10, 0.3), (12, 0.3), (15, 0.5), (19, 1.0), (25, 1.0)):
        assert number(EN.glass_minimum(given(nominal))) == pytest.approx(nominal - less, rel=EXACT)
    assert isinstance(EN.glass_minimum(given(11.7)), NotChecked)
    assert [float(x.x) for x in EN.glass_constants()] == pytest.approx([70_000, 0.23, 25e-6], rel=EXACT)


def test_layers_that_slide_and_layers_that_do_not() -> None:
    """EN 16612: omega 0 gives h^3 = h_1^3 + h_2^3 and the stress of layer 1 as sqrt(h^3/h_1); omega 1 the sum of both layers."""

    def found(span: float) -> tuple[float, float]:
        layers = (mm(9.7, "h_1"), mm(5.8, "h_2"), mm(1.52, "h_v"), "PVB", given(20, "temperature"), EN.glass_constants()[0])
        two = EN.effective_thickness(TwoLayers(*layers, mm(span, "a")))
        assert not isinstance(two, NotChecked)
        return number(two.deflection), number(two.stress)

    cubes = 9.7**3 + 5.8**3
    assert found(1e-3) == pytest.approx((cubes ** (1 / 3), math.sqrt(cubes / 9.7)), rel=1e-6)
    assert found(1e9) == pytest.approx((15.5, 15.5), rel=1e-6)
    # ASTM E1300: 1/(1 + 9.6 E I h_v/(G s^2 a^2)), I = h_1 h_2/(h_1 + h_2) s^2; PVB has 1.64 MPa at 20 degC after 1 min
    omega = 1 / (1 + 9.6 * 70_000 * 9.7 * 5.8 / 15.5 * 1.52 / (1.64 * 1100**2))
    cubes = (1 - omega) * cubes + omega * 15.5**3
    assert found(1100) == pytest.approx((cubes ** (1 / 3), math.sqrt(cubes / (9.7 + omega * 5.8))), rel=1e-9)


def test_the_modulus_of_an_interlayer_is_that_of_a_minute_and_of_the_next_warmer_row() -> None:
    """A US guide to structural glass, PVB after 1 min: 1.64 MPa at 20 degC, 0.753 at 30; after 1 h 0.84 at 20. None above 50."""
    for temperature, G in ((15, 1.64), (20, 1.64), (20.5, 0.753), (30, 0.753), (50, 0.29)):
        assert number(shear_modulus(TABLES, "pvb", given(temperature, "temperature"))) == pytest.approx(G, rel=EXACT)
    assert number(shear_modulus(TABLES, "PVB", given(20, "temperature"), "1 h")) == pytest.approx(0.84, rel=EXACT)
    for kind, warm in ((None, 20), ("PVB", None), ("PVB", 51), ("EVA", 20)):
        at_that = None if warm is None else given(warm, "temperature")
        assert isinstance(shear_modulus(TABLES, kind, at_that), NotChecked)


def test_the_stress_in_the_thicker_layer_of_two_that_cannot_slide() -> None:
    """Parallel axes: 6 M over the square of the thickness is M y/I at the face of layer 1, y from the common axis to that face."""
    h_1, h_2, h_v = 10.0, 4.0, 1.5
    layers = (mm(h_1, "h_1"), mm(h_2, "h_2"), mm(h_v, "h_v"), None, None, EN.glass_constants()[0].named("E"), mm(1000, "a"))
    found = by_astm(TwoLayers(*layers), given(1e12, "stress", "G"))
    s = (h_1 + h_2) / 2 + h_v
    I = (h_1**3 + h_2**3) / 12 + h_1 * h_2 / (h_1 + h_2) * s**2  # noqa: E741
    y = h_1 / 2 + s * h_2 / (h_1 + h_2)
    assert number(found.stress) ** 2 == pytest.approx(6 * I / y, rel=1e-6)


# ---------------------------------------------------------------- timber
@for_each("wood, combination, share", [
    (SAWN, PUSH, 0.7 / 1.3), (GLUED, PUSH, 0.7 / 1.25), (replace(SAWN, service_class=2), PUSH, 0.9 / 1.3),
    (replace(SAWN, service_class=1), PUSH, 0.9 / 1.3), (SAWN, EN.lasting(PUSH, "permanent"), 0.5 / 1.3),
    (SAWN, DAMAGED, 0.7), (GLUED, DAMAGED, 0.7), (SAWN, EN.strength("wind"), 0.7 / 1.3),
])  # fmt: skip
def test_members_of_c24_by_hand(wood: Timber, combination: Combination, share: float) -> None:
    """EN 338: 24, 4.0 and 2.5 MPa; EN 1995-1-1: Table 3.1, gamma_M 1.3 sawn, 1.25 glued, 1.0 accidental (2.4.1); k_cr 0.67 in shear
    and not in torsion, where 6.1.8 has 1 + 0.05 h/b to 1.3; k_c,90 1; (8.4): 14 b sqrt(h_e/(1 - h_e/h))."""
    assert number(EN.bending(wood, combination)) == pytest.approx(24 * share, rel=EXACT)
    assert number(EN.shear(wood, combination)) == pytest.approx(0.67 * 4 * share, rel=EXACT)
    assert number(EN.bearing(wood, combination)) == pytest.approx(2.5 * share, rel=EXACT)
    assert number(EN.bearing(wood, combination, characteristic=True)) == pytest.approx(2.5, rel=EXACT)
    for h, k_shape in ((195, 1.08125), (900, 1.3)):
        assert number(EN.torsion(wood, given(h), given(120), combination)) == pytest.approx(k_shape * 4 * share, rel=EXACT)
    split = 14 * 45 * math.sqrt(62 / (1 - 62 / 195))
    assert number(EN.splitting(wood, given(45), given(195), given(62), combination)) == pytest.approx(split * share, rel=EXACT)


def test_every_duration_in_every_service_class() -> None:
    """EN 1995-1-1 Table 3.1, solid timber (three copies): permanent to instantaneous; classes 1 and 2 alike, 3 is outdoors."""
    sheltered, outdoors = (0.6, 0.7, 0.8, 0.9, 1.1), (0.5, 0.55, 0.65, 0.7, 0.9)
    for service_class, row in ((1, sheltered), (2, sheltered), (3, outdoors)):
        wood = replace(SAWN, service_class=service_class)
        found = [number(EN.bending(wood, EN.lasting(PUSH, duration))) * 1.3 / 24 for duration in EN.durations]
        assert found == pytest.approx(row, rel=EXACT), service_class


def test_what_else_a_timber_is_asked() -> None:
    """EN 338, C24: 11 000 and 690 MPa, mean; EN 1995-1-1: bearing spreads 30 mm along the grain (6.1.5), 0.7 both ways (6.1.6)."""
    assert (number(EN.timber_stiffness(SAWN)), number(EN.timber_shear_stiffness(SAWN))) == (11_000, 690)
    assert number(EN.bearing_spread(given(70), None)) == 30.0
    for one_way, other in ((0.6, 0.2), (0.2, 0.6)):
        assert number(EN.bent_both_ways(given(one_way, "ratio"), given(other, "ratio"))) == pytest.approx(0.74, rel=EXACT)


def test_a_class_is_one_of_en_338_and_its_own_name_says_what_wood_it_is() -> None:
    """EN 338: C and D classes. A name of another code that begins with a D makes no hardwood; an unknown class no figure."""
    firs = Timber({"us": "Douglas Fir-Larch No.2", "au": "D9", "en": "C24"}, 3)
    assert number(EN.splitting(firs, given(45), given(195), given(62), PUSH)) > 0
    assert EN.timber_words(firs) is None
    for names in ({"en": "C25"}, {"en": "c24"}, {"en": ""}, {"us": "Hem-Fir"}, {}):
        wood = Timber(names, 3)
        for found in (
            EN.bending(wood, PUSH), EN.bearing(wood, PUSH, characteristic=True), EN.shear(wood, PUSH), EN.timber_stiffness(wood),
            EN.withdrawal(SCREW, wood, mm(70, "l_ef"), one(), PUSH), EN.sideways(SCREW, wood, mm(70, "l_ef"), mm(0, "g"), PUSH),
            EN.splitting(wood, given(45), given(195), given(62), PUSH), EN.torsion(wood, given(195), given(45), PUSH),
        ):  # fmt: skip
            assert isinstance(found, NotChecked) and found.lack is Lack.INPUT, names


# ---------------------------------------------------------------- fasteners
SHARES = [(SAWN, PUSH, 0.7 / 1.3), (GLUED, PUSH, 0.7 / 1.3), (SAWN, DAMAGED, 0.7), (GLUED, DAMAGED, 0.7)]


@for_each("wood, combination, share", SHARES)
def test_a_joint_has_the_gamma_of_joints_whatever_the_wood(wood: Timber, combination: Combination, share: float) -> None:
    """EN 1995-1-1 Table 2.3: 1.3 for connections, sawn or glued, and 1.0 accidental; 8.7.2 by hand for C24, 350 kg/m3.

    f_ax = 0.52 d^-0.5 l^-0.1 rho^0.8, two screws hold 2^0.9 of one, d/8 below 8 mm; a bracket's own figure takes k_mod too.
    """
    for d, k_d in ((8.0, 1.0), (6.5, 6.5 / 8), (10.0, 1.0)):
        screw = replace(SCREW, d=mm(d, "d"), d_1=mm(0.7 * d, "d_1"))
        one_alone = 0.52 * d**-0.5 * 70**-0.1 * 350**0.8 * d * 70 * k_d
        assert number(EN.withdrawal(screw, wood, mm(70, "l_ef"), one(), combination)) == pytest.approx(one_alone * share, rel=1e-9)
        of_two = number(EN.withdrawal(screw, wood, mm(70, "l_ef"), one(2), combination))
        assert of_two == pytest.approx(one_alone * 2**-0.1 * share, rel=1e-9)
    for kind in ("force", "moment"):
        rated = EN.bracket(given(5e3, kind), "characteristic", wood, combination)
        assert number(rated) == pytest.approx(5e3 * share, rel=EXACT)
        assert number(EN.mount_rating(given(5e3, kind), wood, combination)) == pytest.approx(5e3 * share, rel=EXACT)
        for meaning in ("design", "allowable", "working", "ultimate", "", "mean"):
            other = EN.bracket(given(5e3, kind), meaning, wood, combination)
            assert isinstance(other, NotChecked) and other.lack is Lack.INPUT


def test_a_declared_withdrawal_goes_before_the_formula() -> None:
    """EN 1995-1-1 (8.40a): f_ax,k d l (rho_k/rho_a)^0.8 of the screw's own declaration, whether its root is known or not."""
    density = TABLES.value("timber_en338_2016", "C24", "rho_k")
    for known in (SCREW, replace(SCREW, d_1=None)):
        declared = replace(known, f_ax_k=given(12, "stress", "f_ax_k"), rho_a=density.named("rho_a"))
        for grade, rho_k in (("C24", 350), ("C16", 310), ("D30", 530)):
            found = number(EN.withdrawal(declared, Timber({"en": grade}, 3), mm(70, "l_ef"), one(), PUSH))
            assert found == pytest.approx(12 * 8 * 70 * (rho_k / 350) ** 0.8 * 0.7 / 1.3, rel=1e-9), grade


@for_each("wood, combination, share", SHARES)
def test_a_screw_through_a_loose_board_is_in_equilibrium(wood: Timber, combination: Combination, share: float) -> None:
    """Yield theory by statics, force y per length of f_h d: two hinges hold y g + y^2/2 = 2 M, one hinge and the screw turning in
    the wood y g + ((y + l)^2/2 - l^2)/2 = M; the lower y is the strength, so one of the two is met and the other not reached."""
    d_ef = 1.1 * D_1
    f_h = 0.082 * (1 - 0.01 * d_ef) * 350 / (1.35 + 0.015 * d_ef)
    M = 0.3 * F_U * d_ef**2.6 / (f_h * d_ef)
    met = set()
    for g, length in ((0.0, 70.0), (28.0, 70.0), (28.0, 15.0), (2.0, 10.0)):
        found = number(EN.sideways(SCREW, wood, mm(length, "l_ef"), mm(g, "g"), combination))
        y = found / share / (f_h * d_ef)
        used = ((y * g + y**2 / 2) / (2 * M), (y * g + ((y + length) ** 2 / 2 - length**2) / 2) / M)
        assert max(used) == pytest.approx(1, rel=1e-9), (g, length)
        met.add(used.index(max(used)))
    assert met == {0, 1}


def test_the_steel_of_a_screw_and_of_a_plate() -> None:
    """EN 1993-1-8 Table 3.4: 0.9 f_u over 1.25 on the root, not on the thread; 1.1 for stainless steel or unknown, else 1.0."""
    assert number(EN.screw_tension(SCREW, PUSH)) == pytest.approx(0.9 * F_U * math.pi * D_1**2 / 4 / 1.25, rel=EXACT)
    for missing in ("d_1", "f_u"):
        assert isinstance(EN.screw_tension(replace(SCREW, **{missing: None}), PUSH), NotChecked)  # type: ignore[arg-type]
    for material, gamma in ((None, 1.1), ("stainless steel 1.4401", 1.1), ("Stainless steel", 1.1), ("mild steel", 1.0)):
        assert number(EN.plate_bending(given(210, "stress"), material)) == pytest.approx(210 / gamma, rel=EXACT)


def test_distances_of_a_screw_that_is_pulled() -> None:
    """EN 1995-1-1 Table 8.6: 7d and 5d between screws, 10d to an end, 4d to an edge, in wood of 12d; d is that of the thread."""
    found = [number(EN.axial_spacing(rule, SCREW)) for rule in ("a1", "a2", "a1_CG", "a2_CG")]
    assert [*found, number(EN.least_thickness(given(D)))] == [56.0, 40.0, 80.0, 32.0, 96.0]  # type: ignore[arg-type]


def test_end_grain_holds_nothing_sideways() -> None:
    """EN 1995-1-1 8.3.1.2(4), remembered."""
    assert [number(EN.end_grain(PUSH, kind)) for kind in ("force", "moment")] == [0.0, 0.0]


def test_half_a_declaration_is_none() -> None:
    """EN 1995-1-1 8.7.2(6): a declared strength belongs to a density; without it the formula counts, and that wants the root."""
    half = replace(SCREW, f_ax_k=given(12, "stress", "f_ax_k"))
    by_formula = number(EN.withdrawal(SCREW, SAWN, mm(70, "l_ef"), one(), PUSH))
    assert number(EN.withdrawal(half, SAWN, mm(70, "l_ef"), one(), PUSH)) == by_formula
    found = EN.withdrawal(replace(half, d_1=None), SAWN, mm(70, "l_ef"), one(), PUSH)
    assert isinstance(found, NotChecked) and found.lack is Lack.INPUT and "root diameter" in found.text


@for_each("d, d_1, l_ef, inside", [
    (8, 5.4, 48, True), (8, 5.4, 47.9, False), (12, 8, 80, True), (12.1, 8, 80, False), (6, 4, 60, True), (5.9, 4, 60, False),
    (8, 4.8, 60, True), (8, 4.7, 60, False), (8, 6, 60, True), (8, 6.1, 60, False),
])  # fmt: skip
def test_the_formula_for_a_screw_that_is_pulled_is_for_the_screws_it_was_made_for(
    d: float, d_1: float, l_ef: float, inside: bool
) -> None:
    """EN 1995-1-1 8.7.2(4): 6 to 12 mm, the root 0.6 to 0.75 of the thread, six diameters in the wood; 8.7.2(3) for all others."""
    screw = replace(SCREW, d=mm(d, "d"), d_1=mm(d_1, "d_1"))
    assert (not outside(EN.withdrawal(screw, SAWN, mm(l_ef, "l_ef"), one(), PUSH))) is inside
    declared = replace(screw, f_ax_k=given(12, "stress", "f_ax_k"), rho_a=TABLES.value("timber_en338_2016", "C24", "rho_k"))
    found = outside(EN.withdrawal(declared, SAWN, mm(l_ef, "l_ef"), one(), PUSH))
    assert (not found) is (l_ef >= 6 * d)


def outside(answer_of: Value | NotChecked) -> list[str]:
    """Which ranges of the equations behind an answer are left."""
    assert isinstance(answer_of, Value)
    return [text for v in walk(answer_of) for text in outside_at(v, 0)]


def test_pulled_and_pushed_is_a_sum_of_squares() -> None:
    """EN 1995-1-1 8.3.3 (8.28): 0.6 and 0.5 make 0.36 + 0.25; its root is what compares with others."""
    assert number(EN.combined(given(0.6, "ratio"), given(0.5, "ratio"))) == pytest.approx(0.61, rel=EXACT)
    assert EN.combined_is_squares


def test_a_slanting_screw_by_the_formula_and_by_statics() -> None:
    """EN 1995-1-1 (8.38), angle to the grain a: 1/(1.2 cos2 a + sin2 a); a pull across is 1/sin a as much along it."""
    for degrees in (90, 75, 60, 45, 31):
        a = math.radians(degrees)
        expected = math.sin(a) / (1.2 * math.cos(a) ** 2 + math.sin(a) ** 2)
        assert number(EN.slant(given(math.pi / 2 - a, "angle", "theta"))) == pytest.approx(expected, rel=1e-9), degrees
    for degrees, inside in ((31, True), (29, False)):  # from 30 degrees to the grain up
        assert (not outside(EN.slant(given(math.radians(90 - degrees), "angle", "theta")))) is inside


# ---------------------------------------------------------------- wind
FLOOR = {"open_below": False}  # nothing gets under the deck: Table 7.9 stands alone


def lacks(national: str, **given_: object) -> str:
    """The words of what keeps the family of a country from answering."""
    found = basis_named("en", national, TABLES).wind(site(**given_))
    assert isinstance(found, NotChecked)
    return found.text


def test_the_last_strip_of_a_run_is_named_by_the_end_it_is_near() -> None:
    """EN 1991-1-4 figure 7.19: zones count from whichever end is windward, so a run read backwards has the names backwards."""
    first = answer("other", run="20 m", from_end="0 m", width="5000 mm", **FLOOR)
    last = answer("other", run="20 m", from_end="15 m", width="5000 mm", **FLOOR)
    assert [s.zone for s in first.strips] == [s.zone for s in reversed(last.strips)] == [f"zone {z}" for z in "ABCD"]
    open_deck = answer("other", run="20 m", from_end="0 m", width="5000 mm")  # C 1.7 and D 1.2 have 1.8 alike
    assert [s.zone for s in open_deck.strips] == ["zone A", "zone B", "zone C and zone D"]


def test_a_deck_a_step_above_the_ground_has_air_below_it() -> None:
    """Ours: no coefficient below a signboard's 1.8 as soon as the top of the glass is higher than the glass itself."""
    for top, C in (("1100 mm", 1.2), ("1101 mm", 1.8), ("1500 mm", 1.8), ("6000 mm", 1.8)):
        q = mean(answer("other", top=top, **FLOOR)) / 1.2
        assert mean(answer("other", top=top)) == pytest.approx(C * q, rel=EXACT), top


def test_a_corner_at_one_end_shortens_no_zone() -> None:
    """The other end stops in the open, and from it zone B, 2.1 over the 1.8 of an open deck, runs twice the height of the wall."""
    for corner in (None, "0.5 m", "3 m"):
        zone = answer("other", from_end="0 m", corner=corner).end_zone
        assert zone is not None and float(zone.x) == pytest.approx(2200, rel=EXACT)


def test_length_over_height_is_that_of_the_wall_however_high_it_stands() -> None:
    """EN 1991-1-4 Table 7.9: 5.5 m of glass 1.1 m high is l/h 5, zones A 2.9, B 1.8, C 1.4; 11 m is l/h 10, A 3.4, B 2.1, C 1.7."""
    for run, A, B, C in (("5.5 m", 2.9, 1.8, None), ("11 m", 3.4, 2.1, 1.7), ("40 m", 3.4, 2.1, 1.7), ("2 m", 2.3, None, None)):
        q = mean(answer("other", run="60 m", **FLOOR)) / 1.2
        found = answer("other", run=run, from_end="0 m", width="1500 mm" if run == "2 m" else "2700 mm", **FLOOR)
        for x, expected in ((100.0, A), (1000.0, B), (2600.0, C)):
            if expected is not None:
                assert at(found, x) == pytest.approx(expected * q, rel=1e-9), (run, x)


def test_a_map_speed_is_british_in_whatever_country_nobody_named() -> None:
    """Only the UK annex has a map speed beside the altitude: it is read by it with and without the name of the country."""
    _, _, entries = PLACES["uk"]
    unnamed = basis_named("en", "", TABLES).wind(site(**entries))
    assert not isinstance(unnamed, NotChecked)
    assert mean(unnamed) == mean(answer("uk")) and "UK annex" in unnamed.source
    assert "wind.map_speed" in lacks("uk", basic_speed="25 m/s", terrain="II")  # British, and not by the general rule
    german = basis_named("en", "", TABLES).wind(site(**entries, zone="2", coast="inland"))
    assert not isinstance(german, NotChecked) and "German annex" in german.source


def test_each_way_to_say_the_wind_begins_with_one_entry() -> None:
    """A speed off the map, a zone, a basic speed: each is where one annex begins, and without it nothing else helps."""
    for place in ("uk", "germany", "other"):
        _, national, entries = PLACES[place]
        (lead,) = set(entries) & set(EN.wind_leads)
        assert "the wind speed of the place" in lacks("", **entries | {lead: None}) and lacks(national, **entries | {lead: None})


def test_the_annex_of_a_country_goes_before_the_general_rule() -> None:
    """EN 1991-1-4, foreword: national choices govern. A zone of Germany is read though a basic speed stands beside it."""
    found = answer("germany", basic_speed="22 m/s", terrain="III")
    assert mean(found) == mean(answer("germany")) and "German annex" in found.source


def test_a_place_nobody_knows_to_be_flat_is_asked_about_by_every_annex() -> None:
    """EN 1991-1-4 4.3.3: orography over 5 % counts; without its factor there is no pressure, and where it is flat none is used."""
    for place in ("uk", "germany", "other"):
        _, national, entries = PLACES[place]
        assert "wind.hill" in lacks(national, **entries | {"hill": None}), place
        assert ("flat ground" if place == "germany" else "wind.hill_factor") in lacks(national, **entries | {"hill": True}), place
        assert mean(answer(place, hill=False, hill_factor=ratio(1.4))) == mean(answer(place)), place


def test_the_free_stream_is_asked_of_the_same_annex_and_lacks_the_same() -> None:
    """A coefficient of the reader's own is laid on the pressure of the place: what keeps one from being known keeps both."""
    lacking: list[dict[str, object]] = [
        {"top": None}, {"top": "10.1 m"}, {"map_speed": None, "basic_speed": "25 m/s"}, {"hill": None},
    ]  # fmt: skip
    for missing in lacking:
        there = site(**PLACES["uk"][2] | missing)
        wall, free = EN.wind(there), EN.free_stream(there)
        assert isinstance(wall, NotChecked) and isinstance(free, NotChecked) and wall.text == free.text
    for place, (key, national, entries) in PLACES.items():
        if key == "en":
            there, family = site(**entries, **FLOOR), basis_named("en", national, TABLES)
            wall, free = family.wind(there), family.free_stream(there)
            assert not isinstance(wall, NotChecked) and not isinstance(free, NotChecked)
            assert mean(wall) == pytest.approx(1.2 * float(free[0].x) * 1e6, rel=EXACT) and free[2] == wall.source, place


def test_what_an_annex_does_not_ask_is_not_said_to_be_read() -> None:
    """Each annex has its own facts of a place: whoever gives those of another is told that nothing reads them."""
    other = {
        "uk": {"zone", "coast", "basic_speed", "terrain"},
        "germany": {"map_speed", "altitude", "distance_to_sea", "town", "hill_factor", "basic_speed", "terrain"},
        "other": {"map_speed", "altitude", "distance_to_sea", "town", "zone", "coast"},
    }
    for place, unread in other.items():
        assert not answer(place, altitude="300 m").read & unread, place


def test_the_sea_counts_in_town_as_well() -> None:
    """UK annex NA.2.17: c_e of the distance to the sea is in both expressions, country and town."""
    _, national, entries = PLACES["uk"]
    for into in (None, "5 km"):
        assert "wind.distance_to_sea" in lacks(national, **entries | {"distance_to_sea": None, "into_town": into})


def test_the_peak_pressure_of_the_uk_by_hand_in_country_and_town() -> None:
    """23 m/s, 100 m up, 4 m high, 10 km from the sea: 0.613 (23 x 1.1)^2 x 1.895, in town 5 km in x 0.719; figures NA.7 and NA.8 as
    digitised in public. At a hill of 1.4 times ((1.4 + 0.6)/1.6)^2. The free stream has no coefficient and no other service one."""
    q = 0.613 * (23 * 1.1) ** 2 * 1.895
    for given_, share in (({}, 1.0), ({"into_town": "5 km"}, 0.719), ({"hill": True, "hill_factor": ratio(1.4)}, 1.25**2)):
        there = {**PLACES["uk"][2], "top": "4000 mm", **given_}
        found = EN.free_stream(site(**there))
        assert not isinstance(found, NotChecked) and found[1] is None
        assert float(found[0].x) * 1e6 == pytest.approx(q * share, rel=1e-9)
        for strip, C in zip(
            answer("uk", **there, from_end="0 m", width="6000 mm", **FLOOR).strips, (3.4, 2.1, 1.7, 1.2), strict=True
        ):
            assert pressure(strip) == pytest.approx(C * q * share, rel=1e-9)
    assert DECK["hill"] is False


@for_each("zone, q_b", [("1", 0.32), ("2", 0.39), ("3", 0.47), ("4", 0.56)])
def test_the_pressure_of_germany_by_hand(zone: str, q_b: float) -> None:
    """DIN EN 1991-1-4/NA, NA.B.1 to 8 (two readings; islands from memory), kN/m2, at 3.5, 8 and 1.9 m."""
    for coast, low, high in (
        ("inland", 1.5 * q_b, 1.7 * q_b * 0.8**0.37), ("coast", 1.8 * q_b, 2.3 * q_b * 0.8**0.27),
        ("island", 1.5 * 0.35**0.19, 1.5 * 0.8**0.19),
    ):  # fmt: skip
        for top, q in (("3500 mm", low), ("8000 mm", high)):
            found = answer("germany", zone=zone, coast=coast, top=top, **FLOOR)
            assert mean(found) == pytest.approx(1.2 * q * 1e3, rel=1e-9), (coast, top)
    assert mean(answer("germany", zone=zone, coast="island", top="1900 mm", **FLOOR)) == pytest.approx(1.2 * 1.1e3, rel=1e-9)


@for_each("terrain, z_0, z_min", [("0", 0.003, 1), ("I", 0.01, 1), ("II", 0.05, 2), ("III", 0.3, 5), ("IV", 1.0, 10)])
def test_the_peak_pressure_of_each_terrain_by_hand(terrain: str, z_0: float, z_min: float) -> None:
    """EN 1991-1-4 Table 4.1, (4.3) to (4.8), 1.25 kg/m3: k_r = 0.19 (z_0/0.05)^0.07, I_v = 1/(c_o ln(z/z_0)), c_r c_o v_b."""
    for top, c_o in ((1.5, 1.0), (4.0, 1.0), (4.0, 1.3), (9.9, 1.0)):
        log = math.log(max(top, z_min) / z_0)
        v_m = 0.19 * (z_0 / 0.05) ** 0.07 * log * c_o * 25
        q = (1 + 7 / (c_o * log)) * 0.5 * 1.25 * v_m**2
        hill = {"hill": True, "hill_factor": ratio(c_o)} if c_o > 1 else {}
        found = answer("other", terrain=terrain, top=f"{top * 1e3} mm", **hill, **FLOOR)
        assert mean(found) == pytest.approx(1.2 * q, rel=1e-9), (top, c_o)


@for_each("table, x, y, degree, close", [("wind_uk_exposure", "x_sea", "c_e", 3, 5e-3), ("wind_uk_town", "x_town", "c_T", 2, 4e-3)])
def test_a_cell_off_the_curve_of_the_uk_figures_is_a_wrong_cell(table: str, x: str, y: str, degree: int, close: float) -> None:
    """Figures NA.7 and NA.8 are drawn from a logarithmic profile: at one distance the cells lie on a smooth curve over ln z."""
    curves: dict[float, list[tuple[float, float]]] = {}
    for row in TABLES.table(table).rows:
        z, distance, factor = (float(TABLES.value(table, row.key, c).x) for c in ("z", x, y))
        if z <= 15e3 and factor != 1.0 and (y == "c_e" or 3e3 <= z <= 10e3):
            curves.setdefault(distance, []).append((math.log(z), factor))
    long = [np.array(points).T for points in curves.values() if len(points) > degree + 2]
    assert len(long) >= 5
    for ln_z, factors in long:
        assert np.polyval(np.polyfit(ln_z, factors, degree), ln_z) == pytest.approx(factors, rel=close)


# ---------------------------------------------------------------- cells that are alike in the books and need not be in a reader's
Ask = Callable[[Family], float]
ASKED: dict[str, Ask] = {
    "pulled": lambda f: number(f.withdrawal(SCREW, SAWN, mm(70, "l_ef"), one(), PUSH)),
    "pushed": lambda f: number(f.sideways(SCREW, SAWN, mm(70, "l_ef"), mm(0, "g"), PUSH)),
    "bracket": lambda f: number(f.bracket(given(5e3, "force"), "characteristic", SAWN, PUSH)),
    "bent": lambda f: number(f.bending(SAWN, PUSH)),
    "sheared": lambda f: number(f.shear(SAWN, PUSH)),
    "twisted": lambda f: number(f.torsion(SAWN, given(195), given(45), PUSH)),
    "split": lambda f: number(f.splitting(SAWN, given(45), given(195), given(62), PUSH)),
    "pressed": lambda f: number(f.bearing(SAWN, PUSH)),
    "pressed before factors": lambda f: number(f.bearing(SAWN, PUSH, characteristic=True)),
    "steel": lambda f: number(f.screw_tension(SCREW, PUSH)),
    "plate": lambda f: number(f.plate_bending(given(210, "stress"), "mild steel")),
    "stainless plate": lambda f: number(f.plate_bending(given(210, "stress"))),
    "glued": lambda f: number(f.bending(GLUED, PUSH)),
    "damaged": lambda f: number(f.bending(SAWN, DAMAGED)),
    "joint damaged": lambda f: number(f.withdrawal(SCREW, SAWN, mm(70, "l_ef"), one(), DAMAGED)),
    "dry": lambda f: number(f.bending(replace(SAWN, service_class=1), PUSH)),
    "under a roof": lambda f: number(f.bending(replace(SAWN, service_class=2), PUSH)),
    "weight holds": lambda f: number(f.weight_factor()),
    "load in use": lambda f: number(f.service("barrier").factor),
    "load after damage": lambda f: number(f.accidental("barrier").factor),
    "load": lambda f: number(f.strength("barrier").factor),
    "face": lambda f: number(f.glass_strength(Glass("annealed", "float", "cut"), "face", PUSH)),
    "polished edge": lambda f: number(f.glass_strength(Glass("annealed", "float", "polished"), "edge", PUSH)),
    "etched": lambda f: number(f.glass_strength(Glass("annealed", "acid-etched", "cut"), "face", PUSH)),
    "cut edge": lambda f: number(f.glass_strength(Glass("annealed", "float", "cut"), "edge", PUSH)),
    "uk wind": lambda f: wind_of(f, "uk"), "wind": lambda f: wind_of(f, "other"), "german wind": lambda f: wind_of(f, "germany"),
}  # fmt: skip


def wind_of(family: Family, place: str) -> float:
    found = basis_named("en", PLACES[place][1], family.tables).wind(site(**PLACES[place][2], **FLOOR))
    assert not isinstance(found, NotChecked)
    return mean(found)


@cache
def usual() -> dict[str, float]:
    return {name: ask(EN) for name, ask in ASKED.items()}


@pytest.mark.parametrize(("table", "row", "moved"), [
    ("en1995_factors", "gamma_M_connections,1.625", {"pulled": 0.8, "pushed": 0.8, "bracket": 0.8}),
    ("en1995_factors", "gamma_M_solid,1.625",
     dict.fromkeys(("bent", "sheared", "twisted", "split", "pressed", "dry", "under a roof"), 0.8)),
    ("en1995_factors", "gamma_M_glulam,1.5625", {"glued": 0.8}),
    ("en1995_factors", "gamma_M_punched_plates,1.5625", {}),
    ("en1995_factors", "gamma_M_accidental,1.25", {"damaged": 0.8, "joint damaged": 0.8}),
    ("en1995_factors", "k_c_90,1.5", {"pressed": 1.5, "pressed before factors": 1.5}),
    ("en1995_factors", "k_cr,0.335", {"sheared": 0.5}),
    ("en1995_k_mod", "SC1 short-term,0.45", {"dry": 0.5}),
    ("en1995_k_mod", "SC2 short-term,0.45", {"under a roof": 0.5}),
    ("en1993_factors", "gamma_M2,1.5625", {"steel": 0.8}),
    ("en1993_factors", "k_2,0.63", {"steel": 0.7}),
    ("en1993_factors", "gamma_M0,1.25", {"plate": 0.8}),
    ("en1993_factors", "gamma_M0_stainless,1.375", {"stainless plate": 0.8}),
    ("en1990_factors", "gamma_service,1.5", {"load in use": 1.5, "load after damage": 1.5}),
    ("en1990_factors", "gamma_G_favourable,0.5", {"weight holds": 0.5}),
    ("en1990_factors", "uncertain_fixing_uk,1.2", {}),
    ("en1990_factors", "gamma_Q,1.2", {"load": 0.8}),
    ("en16612_factors", "k_e_polished,0.5", {"face": 0.5, "polished edge": 0.5, "etched": 0.5}),
    ("en16612_factors", "k_sp_float,0.5", {"face": 0.5, "polished edge": 0.5, "cut edge": 0.5}),
    ("en16612_factors", "k_sp_acid_etched,0.5", {"etched": 0.5}),
    ("en16612_factors", "k_e_cut,0.4", {"cut edge": 0.5}),
    ("wind_en_factors", "c_dir,0.5", {"uk wind": 0.25, "wind": 0.25}),
    ("wind_en_factors", "c_season,0.5", {"uk wind": 0.25, "wind": 0.25}),
    ("wind_en_factors", "open_deck,5", {}),
])  # fmt: skip
def test_a_factor_moves_what_it_is_a_factor_of_and_nothing_else(
    tmp_path: Path, table: str, row: str, moved: dict[str, float]
) -> None:
    """EN 1990 to 1995 and 16612 print 1.3, 1.25 and 1.0 in many rows: in an invented copy each is another, one at a time.

    What it is laid on moves by it, and nothing else does.
    """
    column = "condition: key; k_mod: ratio" if table == "en1995_k_mod" else "name: key; value: ratio"
    family = basis_named("en", "uk", own(tmp_path, table, column, row))
    shares = {name: ask(family) / usual()[name] for name, ask in ASKED.items()}
    assert {n: pytest.approx(x, rel=1e-9) for n, x in shares.items() if abs(x - 1) > 1e-9} == moved
