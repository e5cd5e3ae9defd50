"""Lines of the codes that were once written wrongly on purpose and that no other test had noticed: each by a hand sum.

The families of codes asked by themselves: which loads decide, which of two timbers, durations and edges of glass is taken, and
wind where two lengths or two speeds are easily taken for one another.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from as1720 import AU, NZ, end_nails, given, lasting, number, pulled, screw, timber
from wind_places import PLACES, TABLES, answer, at, mean, pressure, ratio, site

from barrier.basis import Answer, Driven, Fastener, Glass, Timber, basis_named
from barrier.basis.interlayer import TwoLayers, by_astm
from barrier.basis.us import wind as us
from barrier.basis.us.yield_limits import single_shear
from barrier.result import Combination, Lack, NotChecked
from barrier.tables import Tables
from barrier.units import INCH, LBF
from barrier.value import Value

US = basis_named("us", "", TABLES)
GUARD = US.strength("barrier")
EXACT = 1e-12  # relative; the same arithmetic in another order


def inches(x: float) -> Value:
    return given(x * INCH)


# ---------------------------------------------------------------- loads and combinations
@pytest.mark.parametrize("key", ["us", "au", "nz"])
def test_every_load_a_code_asks_for_decides(key: str) -> None:
    """IBC 1607.9, ASCE 7 4.5.1, AS/NZS 1170.1 Table 3.3 and NZBC B1/VM1 require each load of the row: none only informs."""
    family = basis_named(key, "", TABLES)
    edition = family.edition("loads")
    assert edition is not None
    for use in TABLES.table(edition.tables["loads"]).keys:
        found = family.actions(use)
        assert not isinstance(found, NotChecked) and found, use
        assert all(a.required and a.nature == "barrier" for a in found), use
        down = [a.of for a in found if a.kind == "vertical"]
        assert len(set(down)) == len(down), use  # each has a check of its own


@pytest.mark.parametrize("key", ["us", "au", "nz", "en"])
@pytest.mark.parametrize("nature", ["barrier", "wind"])
def test_movement_is_looked_at_under_the_load_that_lasts_as_long(key: str, nature: str) -> None:
    """The same push or gust, looked at twice: strength and service differ in factor and level, never in how long it lasts.

    In use a load has the factor 1 (EN 1990 6.5.3, AS/NZS 1170.0 4.3); wind of ASCE 7 is of strength level, 0.6 of it (2.4.1).
    """
    family = basis_named(key, "", TABLES)
    strength, service = family.strength(nature), family.service(nature)  # type: ignore[arg-type]
    assert service.duration == strength.duration and service.glass_duration == strength.glass_duration
    assert service.natures == strength.natures == (nature,)
    assert float(service.factor.x) == (0.6 if (key, nature) == ("us", "wind") else 1.0)


def test_weight_holds_less_and_presses_more_than_it_is() -> None:
    """EN 1990 and AS/NZS 1170.0 4.2: 0.9 where weight holds down, more than 1 where it adds; ASCE 7 2.4.1: 0.6 D and D + L."""
    for key, holds, presses, people in (("au", 0.9, 1.2, 1.5), ("nz", 0.9, 1.2, 1.5), ("us", 0.6, 1.0, 1.0)):
        family = basis_named(key, "", TABLES)
        found = (family.weight_factor(), family.weight_down_factor(), family.imposed_factor())
        assert tuple(map(number, found)) == (holds, presses, people), key


def test_the_pressure_of_the_place_is_ultimate_for_strength_and_of_service_for_movement() -> None:
    """AS 4055 N2: 40 and 26 m/s; NZS 3604 high: 44 m/s, its service 0.72 of it (ours); before any coefficient."""
    for place, V_u, share in (("au", 40.0, 26**2 / 40**2), ("nz", 44.0, 0.72)):
        key, national, entries = PLACES[place]
        found = basis_named(key, national, TABLES).free_stream(site(**entries))
        assert not isinstance(found, NotChecked) and found[1] is not None
        assert number(found[0]) == pytest.approx(0.6 * V_u**2 * 1e-6, rel=1e-9)
        assert number(found[1]) == pytest.approx(share * number(found[0]), rel=1e-9)


# ---------------------------------------------------------------- glass and timber of Australia
def test_a_push_argued_to_be_short_is_no_gust_for_annealed_glass() -> None:
    """AS 1288-2021 Table 3.3: 0.72 for annealed glass over any push, 1 for a gust; heat-treated glass has 1 for both."""
    for kind, share in (("annealed", 0.72), ("heat-strengthened", 1.0), ("toughened", 1.0)):
        layer = Glass(kind, "float", "polished", given(11.7))
        gust, *pushes = (number(AU.glass_strength(layer, "face", lasting(d))) for d in reversed(AU.durations))
        assert pushes == pytest.approx([share * gust] * len(pushes), rel=EXACT), kind


def test_a_timber_in_the_weather_is_no_better_for_having_been_dry() -> None:
    """Lists of joint groups: merbau is JD2 dry and J3 green; a piece that stands wet is J3 however dry it was sold."""
    dried, green = (timber("F14", wet=True, species="merbau (kwila)", seasoned=said) for said in ("yes", "no"))
    assert pulled(dried) <= pulled(green)
    assert pulled(dried) < 0.85 * pulled(timber("F14", species="merbau (kwila)", seasoned="yes"))


def test_bearing_by_the_species_by_the_grade_and_in_the_tropics() -> None:
    """AS 1720.1, category 2, 5 hours: a species without grade has the lower phi, 0.70, and f'p 23 of SD2; A17 has its own 17 and
    0.85. In the tropics 0.9 (2.4.3) for seasoned timber, and for what nobody says is not."""
    push = AU.strength("barrier")
    assert number(AU.bearing(timber("blackbutt", seasoned="yes"), push)) == pytest.approx(0.70 * 0.97 * 23, rel=EXACT)
    assert number(AU.bearing(timber("A17"), push)) == pytest.approx(0.85 * 0.97 * 17, rel=EXACT)
    said: Any
    for said, share in (({}, 0.9), ({"seasoned": "yes"}, 0.9), ({"seasoned": "no"}, 1.0)):
        hot, mild = (number(AU.bearing(timber("blackbutt", tropics=t, **said), push)) for t in (True, False))
        assert hot == pytest.approx(share * mild, rel=EXACT), said


def test_wet_timber_twists_as_much_further_as_it_bends() -> None:
    """E and G of wood fall together as it gets wet (common practice, no source); NZS AS 1720.1: SG8 8000 and 6500 MPa."""
    for family, grade in ((AU, "MGP10"), (NZ, "SG8"), (NZ, "SG10"), (US, "Hem-Fir No.2")):
        dry, wet = (replace(timber(grade, wet=w), names={family.key: grade}) for w in (False, True))
        E, G = (number(ask(wet)) / number(ask(dry)) for ask in (family.timber_stiffness, family.timber_shear_stiffness))
        assert E < 0.95 and pytest.approx(E, abs=0.02) == G


# ---------------------------------------------------------------- glass of the US
def stress(glass: Glass, combination: object, location: str = "edge") -> float:
    return number(US.glass_strength(glass, location, combination))  # type: ignore[arg-type]


def test_glass_under_guard_load_and_wind_at_once_has_the_lower_of_its_two_stresses() -> None:
    """24 000 psi over 4 for a guard; for wind so rare a breakage is asked that the normal distribution leaves less."""
    wind = US.strength("wind")
    (both,) = US.at_once(GUARD, wind)
    rare = Glass("toughened", "float", "polished", None, given(1e-12, "ratio"))
    usual = replace(rare, breakage=None)
    assert stress(rare, wind) < stress(rare, GUARD) < stress(usual, wind)
    assert stress(rare, both.strength) == stress(rare, wind)
    assert stress(usual, both.strength) == stress(usual, GUARD)


def test_a_cut_edge_is_weaker_than_a_seamed_one_under_wind() -> None:
    """ASTM E1300 for annealed glass, 3 s: 16.6 MPa cut, 18.3 seamed (2400 and 2650 psi); the first is from memory."""
    wind = US.strength("wind")
    cut, seamed = (stress(Glass("annealed", "float", edge), wind) for edge in ("cut", "seamed"))
    assert cut / seamed == pytest.approx(16.6 / 18.3, rel=EXACT)
    assert stress(Glass("annealed", "float", "cut"), wind, "face") == stress(Glass("annealed", "float", "seamed"), wind, "face")


# ---------------------------------------------------------------- nails, screws, brackets
def test_the_least_yield_mode_knows_no_first_and_second_member() -> None:
    """NDS 12.3.1: with the two members exchanged every mode is there again, and so is the least, mode II among them."""
    D, F_yb, theta = inches(0.3), given(400.0, "stress"), given(math.pi / 2, "angle")
    met = set()
    for l_m, l_s in ((15.0, 40.0), (25.0, 20.0), (60.0, 12.0), (90.0, 38.0)):
        for F_m, F_s in ((20.0, 20.0), (35.0, 18.0)):
            one, mode = single_shear(D, F_yb, given(F_m, "stress"), given(F_s, "stress"), *(
                given(l_m, symbol="l_m"), given(l_s, symbol="l_s")), theta, False)  # fmt: skip
            other, _ = single_shear(D, F_yb, given(F_s, "stress"), given(F_m, "stress"), *(
                given(l_s, symbol="l_m"), given(l_m, symbol="l_s")), theta, False)  # fmt: skip
            met.add(mode)
            assert number(one) == pytest.approx(number(other), rel=1e-9), (l_m, l_s, F_m, F_s)
    assert "II" in met


def test_a_nail_stands_in_two_timbers_and_each_counts() -> None:
    """NDS 12.3: through a hard joist into a soft piece it holds more than in soft wood alone, less than in hard wood alone."""

    def held(joist: str, piece: str) -> float:
        side, main = Timber({"us": joist}, 1), Timber({"us": piece}, 1)
        return number(
            US.driven_into_end(Driven("nails", given(1, "count"), inches(0.162), inches(3.5), inches(1.5), side, main), GUARD)
        )

    soft, hard = "Spruce-Pine-Fir", "Southern Pine"
    for mixed in (held(hard, soft), held(soft, hard)):
        assert held(soft, soft) < mixed < held(hard, hard)


def test_a_bracket_of_another_level_is_no_allowable_load() -> None:
    """A design value is of another level than an allowable one, some 1.6 times as high: it is asked for, not taken."""
    for kind in ("force", "moment"):
        found = US.bracket(given(4e3, kind), "design", Timber({"us": "Hem-Fir"}, 1), GUARD)
        assert isinstance(found, NotChecked) and "allowable" in found.text


# ---------------------------------------------------------------- wind: lengths and speeds that are easily taken for another
def test_a_corner_of_australia_counts_from_the_height_of_the_wall() -> None:
    """AS/NZS 1170.2, free-standing walls: a return of at least c lowers 3.0 to 2.2 at 45 degrees, a shorter one nothing."""
    q = 0.6 * 40**2
    short, long = (mean(answer("au", from_end="0 m", width="1000 mm", corner=corner)) for corner in ("1.09 m", "1.1 m"))
    assert short == pytest.approx(3.0 * q) and long == pytest.approx(2.2 * q)


def test_a_hill_blows_as_hard_on_movement_as_on_strength() -> None:
    """AS/NZS 1170.2 2.2: the multiplier is laid on every speed of the place, so the two pressures keep their ratio."""
    flat, hill = (answer("au speed", hill=h, hill_factor=f).strips[0] for h, f in ((False, None), (True, ratio(1.2))))
    assert flat.service is not None and hill.service is not None
    assert float(hill.service.x) / float(flat.service.x) == pytest.approx(1.44, rel=1e-9)
    assert pressure(hill) / pressure(flat) == pytest.approx(1.44, rel=1e-9)


def test_high_above_the_ground_a_run_of_unknown_length_is_the_longest_of_the_table() -> None:
    """AS/NZS 1170.2, c/h under 0.2: 1.4 + 0.3 log10(b/c), to b/c = 45; no known run takes more than the unknown one."""
    unknown = mean(answer("au", top="6000 mm"))
    assert unknown == pytest.approx((1.4 + 0.3 * math.log10(45)) * 0.6 * 40**2, rel=1e-9)
    assert all(mean(answer("au", top="6000 mm", run=run)) <= unknown for run in ("12 m", "30 m", "49 m"))


def test_a_speed_of_the_site_holds_in_new_zealand_with_and_without_a_zone() -> None:
    """AS/NZS 1170.2 2.4.1: 0.6 V^2; the site's own speed goes before the zone of the council, as before a class in Australia."""
    for zone in (None, "L"):
        found = answer("nz", zone=zone, design_speed="50 m/s", service_speed="35 m/s")
        assert mean(found) == pytest.approx((1.7 - 0.5 * 1100 / 3500) * 0.6 * 50**2, rel=1e-9)


def test_a_corner_of_the_us_helps_the_first_strip_of_a_long_run_alone() -> None:
    """ASCE 7 figure 29.3-1: the reduction is noted at the first strip, from B/s of 5 on; the second strip and a shorter run
    have none of it."""
    there = {"from_end": "0 m", "width": "2200 mm"}
    for run, helped in (("30 m", True), ("5.6 m", True), ("5.4 m", False), ("3 m", False)):
        turned, free = answer("us", run=run, corner="3 m", **there), answer("us", run=run, **there)
        assert (at(turned, 500.0) < 0.99 * at(free, 500.0)) is helped, run
        assert at(turned, 1600.0) == pytest.approx(at(free, 1600.0), rel=1e-9), run


@pytest.mark.parametrize(
    ("place", "entry", "cautious", "milder"),
    [("us", "exposure", "C", "B"), ("other", "terrain", "II", "III"), ("germany", "coast", "coast", "inland")],
)
def test_terrain_that_nobody_names_is_open_country(place: str, entry: str, cautious: str, milder: str) -> None:
    """ASCE 7 26.7.3: exposure C wherever B and D do not apply. EN 1991-1-4: open country, and in Germany the coast, blow harder."""
    unsaid, named, other = (answer(place, **{entry: word}) for word in (None, cautious, milder))
    assert mean(unsaid) == mean(named) > 1.05 * mean(other)
    assert unsaid.assumed == named.assumed


def test_a_corner_longer_than_the_wall_is_high_helps_no_more() -> None:
    """EN 1991-1-4 Table 7.9, footnote: full effect of a return from its length of one height on, in a straight line up to it."""
    there = {"from_end": "0 m", "width": "300 mm", "run": "22 m", "open_below": False}
    none, half, full, long = (mean(answer("other", corner=c, **there)) for c in (None, "0.55 m", "1.1 m", "1.5 m"))
    assert long == full < half < none
    assert half == pytest.approx((none + full) / 2, rel=1e-9)


def test_in_town_the_wind_low_down_is_that_of_the_least_height() -> None:
    """EN 1991-1-4 4.3.2 and 4.4: below z_min roughness and turbulence are those of z_min, 10 m in terrain IV."""
    low, high = (mean(answer("other", terrain="IV", top=f"{h} mm", open_below=False)) for h in (2000, 10_000))
    assert low == pytest.approx(high, rel=1e-9)


# ---------------------------------------------------------------- fasteners of Australia
def test_a_wood_screw_pushed_sideways_needs_seven_diameters() -> None:
    """AS 1720.1 4.2.3 and 4.3.3, as for a nail: seven diameters in the part that holds the point, or no figure."""
    six = screw(6.3, "wood screw")
    deep, short = (AU.sideways(six, timber("MGP12"), given(n * 6.3), given(0), AU.strength("barrier")) for n in (7.01, 6.99))
    assert number(deep) > 0
    assert isinstance(short, NotChecked) and "7 diameters" in short.text


def test_a_row_of_nails_counts_as_green_where_either_timber_is_and_never_more_than_the_longest_row() -> None:
    """AS 1720.1 4.2.3, k_17, one copy: 10 nails 0.90 seasoned, 0.80 unseasoned; 20 and more 0.85 and 0.75."""
    dry, wet = (timber("MGP10", wet=w) for w in (False, True))
    for joist, piece, ten, many in ((dry, dry, 0.90, 0.85), (wet, dry, 0.80, 0.75), (dry, wet, 0.80, 0.75), (wet, wet, 0.80, 0.75)):
        one, *rows = (
            number(AU.driven_into_end(replace(end_nails(piece, number=n), side_timber=joist), AU.strength("barrier"))) / n
            for n in (1, 10, 20, 30)
        )
        assert [each / one for each in rows] == pytest.approx([ten, many, many], rel=EXACT)


# ---------------------------------------------------------------- cells that are alike in the books and need not be in the reader's
def own(tmp_path: Path, name: str, columns: str, *rows: str) -> Tables:
    """The tables with a reader's own copy of some rows over them."""
    heads = [f"# column {c}" for c in columns.split("; ")]
    names = ",".join(c.partition(":")[0] for c in columns.split("; "))
    lines = (*heads, f"{names},source", *(f"{row},an invented letter" for row in rows))
    (tmp_path / f"{name}.csv").write_text("\n".join(lines) + "\n", "utf-8")
    return Tables([tmp_path])


def test_wood_that_is_wet_lowers_a_pull_and_a_push_each_by_its_own_factor(tmp_path: Path) -> None:
    """NDS Table 11.3.3 has two rows, withdrawal and lateral, both 0.7 wet in service: in an invented copy they differ."""
    mine = basis_named("us", "", own(tmp_path, "nds_factors", "name: key; value: ratio", "C_M_lateral_wet,0.5"))
    dry, wet = (Timber({"us": "Hem-Fir"}, c) for c in (1, 3))
    lag = Fastener(inches(0.375), inches(0.265), None)

    def asked(wood: Timber) -> list[float]:
        nails = Driven("nails", given(1, "count"), inches(0.162), inches(3.5), inches(1.5), wood, wood)
        return [number(a) for a in (
            mine.withdrawal(lag, wood, inches(3), given(1, "count"), GUARD), mine.sideways(lag, wood, inches(3), inches(1), GUARD),
            mine.driven_into_end(nails, GUARD), mine.bracket(given(4e3, "force"), "allowable", wood, GUARD),
        )]  # fmt: skip

    assert [w / d for w, d in zip(asked(wet), asked(dry), strict=True)] == pytest.approx([0.7, 0.5, 0.5, 0.5], rel=EXACT)


def test_nothing_here_is_a_bolt_and_a_coach_screw_no_nail(tmp_path: Path) -> None:
    """AS 1720.1 Table 2.2: nails and bolts have 0.80 alike, coach screws 0.65; in an invented copy bolts 0.25, then nails 0.4."""
    wood, push = timber("MGP12", wet=True), AU.strength("barrier")

    def asked(phi: str) -> list[float]:
        family = basis_named("au", "", own(tmp_path, "as1720_factors", "name: key; value: ratio", phi))
        return [number(a) for a in (
            family.withdrawal(screw(), wood, given(62), given(1, "count"), push),
            family.sideways(screw(), wood, given(62), given(0), push),
            family.driven_into_end(end_nails(wood), push), family.bracket(given(1e3, "force"), "characteristic", wood, push),
        )]  # fmt: skip

    usual = asked("phi_coach_2,0.65")
    assert asked("phi_bolts_2,0.25") == usual
    assert [a / b for a, b in zip(asked("phi_nails_2,0.4"), usual, strict=True)] == pytest.approx([1, 1, 0.5, 0.5], rel=EXACT)


def test_wind_along_the_run_counts_where_it_is_the_worst(tmp_path: Path) -> None:
    """AS/NZS 1170.2: the worst of three directions. At 90 degrees it never is by the table; in an invented copy it is."""
    columns = "case: key; first: ratio; second: ratio; beyond: ratio"
    mine = basis_named("au", "", own(tmp_path, "as1170_wall_ends", columns, "90 raised,4,3.5,3"))
    found = mine.wind(site(wind_class="N2", from_end="0 m", width="1000 mm"))
    assert not isinstance(found, NotChecked)
    assert pressure(found.strips[0]) == pytest.approx(4 * 0.6 * 40**2)


def test_glass_that_nobody_tabulates_under_wind_is_not_checked_under_both(tmp_path: Path) -> None:
    """A reader's modulus of rupture answers for the guard load alone: guard load and wind at once wait for the other stress."""
    (tmp_path / "glass_us.csv").write_text(
        "# adds: wired\n# column kind: key\n# column modulus_of_rupture: stress in psi\n"
        "kind,modulus_of_rupture,source\nwired,3000,an invented letter\n",
        "utf-8",
    )
    mine, wired = basis_named("us", "", Tables([tmp_path])), Glass("wired", "float", "cut")
    (both,) = mine.at_once(GUARD, mine.strength("wind"))
    assert number(mine.glass_strength(wired, "face", GUARD)) > 0
    assert isinstance(mine.glass_strength(wired, "face", both.strength), NotChecked)


def test_joints_of_new_zealand_have_no_figure_whichever_is_asked_for() -> None:
    """NZS AS 1720.1:2022 was read for members alone: no Australian figure stands in for a joint, and its wet row is no grade."""
    wood, push = timber("SG8"), NZ.strength("barrier")
    one = given(1, "count")
    for answer_of in (
        NZ.withdrawal(screw(), wood, given(62), one, push), NZ.sideways(screw(), wood, given(62), given(0), push),
        NZ.driven_into_end(end_nails(wood), push), NZ.driven_into_end(end_nails(wood), push, "moment"), NZ.end_grain(push),
        NZ.bracket(given(1e3, "force"), "characteristic", wood, push), NZ.bracket(given(1e3, "moment"), "design", wood, push),
        NZ.mount_rating(given(1e6, "moment"), wood, push), NZ.torsion(wood, given(140), given(45), push),
        NZ.splitting(timber("SG8", strength_group="SD6"), given(45), given(190), given(78), push),
    ):  # fmt: skip
        assert isinstance(answer_of, NotChecked) and answer_of.lack is Lack.BASIS
    for wrong in ("SG8 wet", "MGP10"):
        asked = NZ.bending(Timber({"nz": wrong, "au": wrong}, 1), push), NZ.timber_shear_stiffness(Timber({"nz": wrong}, 3))
        assert all(isinstance(a, NotChecked) and a.lack is Lack.INPUT for a in asked), wrong


@pytest.mark.parametrize("l_s", [1.5, 0.75])
@pytest.mark.parametrize(("joist", "G_s", "piece", "G_m"), [
    ("Southern Pine", 0.55, "Spruce-Pine-Fir", 0.42), ("Spruce-Pine-Fir", 0.42, "Southern Pine", 0.55),
])  # fmt: skip
def test_a_nail_between_unlike_timbers_by_hand(joist: str, G_s: float, piece: str, G_m: float, l_s: float) -> None:
    """NDS Table 12.3.1A, the modes a 16d common nail (0.162 by 3.5 in) comes near: K_D 2.2, F_yb 90 000 psi, F_e 16 600 G^1.84
    (12.3.3), 0.67 in end grain. The joist is the side member, the piece the main one; in the thin one the nail turns."""
    D, F_yb, l_m = 0.162, 90_000.0, 3.5 - l_s
    F_s, F_m = (16_600 * G**1.84 for G in (G_s, G_m))
    R_e, bend = F_m / F_s, 2 * F_yb * D**2 / 3
    hinge_in_side = (math.sqrt(2 * (1 + R_e) + bend * (1 + 2 * R_e) / (F_m * l_m**2)) - 1) * D * l_m * F_m / (1 + 2 * R_e)
    hinge_in_main = (math.sqrt(2 * (1 + R_e) / R_e + bend * (2 + R_e) / (F_m * l_s**2)) - 1) * D * l_s * F_m / (2 + R_e)
    two_hinges = D**2 * math.sqrt(2 * F_m * F_yb / (3 * (1 + R_e)))
    modes = (two_hinges, hinge_in_main, hinge_in_side, D * l_s * F_s)
    assert modes.index(min(modes)) == (0 if l_s == 1.5 else 1)
    nails = Driven(
        "nails", given(1, "count"), inches(D), inches(3.5), inches(l_s), Timber({"us": joist}, 1), Timber({"us": piece}, 1)
    )
    assert number(US.driven_into_end(nails, GUARD)) / LBF == pytest.approx(0.67 * min(modes) / 2.2, rel=1e-9)


@pytest.mark.parametrize(("place", "given_", "said"), [
    ("au", {"run": "4 m"}, "straight line"), ("au speed", {"service_speed": None}, "no serviceability speed"),
    ("au", {}, "five times"), ("us", {"run": "2 m"}, "straight line"), ("us", {}, "ground elevation factor 1"),
    ("us", {}, "times as long"), ("us", {}, "parapets"), ("us", {}, "case C"),
    ("other", {}, "under the deck"), ("other", {}, "times as long"),
    ("uk", {}, "open country"), ("germany", {}, "800 m"),
])  # fmt: skip
def test_what_wind_takes_for_granted_is_said(place: str, given_: dict[str, str | None], said: str) -> None:
    assert any(said in words for words in answer(place, from_end="0 m", **given_).assumed)


def test_what_is_known_of_the_wind_is_not_said_to_be_taken_for_granted() -> None:
    known = {"run": "20 m", "elevation": "300 m", "open_below": False, "from_end": "0 m"}
    for place in ("au", "us", "other", "au speed"):
        words = " ".join(answer(place, **known).assumed)
        assert not any(w in words for w in ("times as long", "elevation factor", "under the deck", "no serviceability")), words


@pytest.mark.parametrize(("place", "entry", "given_"), [
    ("uk", "map_speed", {"map_speed": "30 m/s"}), ("uk", "altitude", {"altitude": "300 m"}),
    ("uk", "distance_to_sea", {"distance_to_sea": "1 km"}), ("uk", "town", {"into_town": "5 km"}),
    ("uk", "hill_factor", {"hill": True, "hill_factor": ratio(1.3)}), ("uk", "below_deck", {"open_below": False}),
    ("germany", "zone", {"zone": "4"}), ("germany", "coast", {"coast": "island"}), ("germany", "below_deck", {"open_below": False}),
    ("other", "basic_speed", {"basic_speed": "30 m/s"}), ("other", "terrain", {"terrain": "IV"}),
    ("other", "hill_factor", {"hill": True, "hill_factor": ratio(1.3)}), ("other", "below_deck", {"open_below": False}),
    ("us", "speed", {"speed": "150 mph"}), ("us", "exposure", {"exposure": "D"}), ("us", "elevation", {"elevation": "900 m"}),
    ("us", "edition", {"edition": "7-16"}), ("us", "hill_factor", {"hill": True, "hill_factor": ratio(1.3)}),
    ("au", "wind_class", {"wind_class": "N4"}), ("nz", "zone", {"zone": "EH"}),
    ("au speed", "design_speed", {"design_speed": "60 m/s"}),
    ("au speed", "hill_factor", {"hill": True, "hill_factor": ratio(1.3)}),
])  # fmt: skip
def test_an_entry_that_moves_the_pressure_is_among_those_that_were_read(place: str, entry: str, given_: dict[str, Any]) -> None:
    """What a family reads is what it says it reads: an entry that is not among them is called unread on the sheet."""
    before, after = answer(place), answer(place, **given_)
    assert abs(mean(after) / mean(before) - 1) > 1e-3
    assert entry in before.read and entry in after.read
    if "hill" in given_:
        assert "hill" in after.read


def test_a_service_speed_that_moves_the_service_pressure_is_read() -> None:
    slow, fast = (answer("au speed", service_speed=f"{V} m/s") for V in (26, 39))
    a, b = slow.strips[0].service, fast.strips[0].service
    assert a is not None and b is not None and number(b) == pytest.approx(number(a) * (39 / 26) ** 2, rel=1e-9)
    assert "service_speed" in slow.read


@pytest.mark.parametrize("metric", [True, False])
def test_pressure_of_asce_7_22_by_hand(metric: bool) -> None:
    """ASCE 7-22: K_z = 2.41 (15/2460)^(2/9.8) in exposure C below 15 ft, 0.00256 V^2, K_e = e^(-0.0000362 z), K_d and G 0.85 each
    once; C_f of figure 29.3-1 is held to the figure by its own tests."""
    found = answer("us", elevation="600 m", metric=metric)
    C_f = float(us.coefficient(TABLES, ratio(1100 / 3500, "r_s"), ratio(10)).x)
    by_hand = 0.00256 * 115**2 * 2.41 * (15 / 2460) ** (2 / 9.8) * math.exp(-0.0000362 * 600 / 0.3048) * 0.85 * 0.85 * C_f
    assert mean(found) == pytest.approx(by_hand * 47.880259, rel=2e-3 if metric else 1e-6)  # 0.613 is rounded


# ---------------------------------------------------------------- members and steel of the US
def test_each_duration_of_nds_by_its_factor() -> None:
    """NDS-2018 Table 2.3.2: 0.9 permanent, 1.0 ten years, 1.15 two months, 1.25 seven days, 1.6 ten minutes, on all but bearing."""
    wood, lag = Timber({"us": "Hem-Fir No.2"}, 1), Fastener(inches(0.375), inches(0.265), None)
    nails = Driven("nails", given(1, "count"), inches(0.162), inches(3.5), inches(1.5), wood, wood)
    asked: list[Callable[[Combination], Answer]] = [
        lambda c: US.bending(wood, c), lambda c: US.shear(wood, c), lambda c: US.driven_into_end(nails, c),
        lambda c: US.withdrawal(lag, wood, inches(3), given(1, "count"), c),
        lambda c: US.sideways(lag, wood, inches(3), inches(1), c),
        lambda c: US.splitting(wood, inches(1.5), inches(7.25), inches(4), c),
    ]  # fmt: skip
    for ask in asked:
        found = [number(ask(replace(GUARD, duration=duration))) for duration in US.durations]
        assert [x / found[1] for x in found] == pytest.approx([0.9, 1.0, 1.15, 1.25, 1.6], rel=EXACT)


def test_a_member_and_a_plate_of_the_us_by_hand() -> None:
    """NDS (3.4-6) from memory: 2/3 F_v b d_e (d_e/d)^2; F_v 180 psi, E 1.6e6 psi of Douglas Fir-Larch No.2, G = E/16 (handbooks);
    AISC 360 F11: the yield strength over 1.67."""
    wood = Timber({"us": "Douglas Fir-Larch No.2"}, 1)
    split = number(US.splitting(wood, inches(1.5), inches(7.25), inches(4), GUARD)) / LBF
    assert split == pytest.approx(2 / 3 * 180 * 1.5 * 4 * (4 / 7.25) ** 2, rel=1e-6)
    psi = LBF / INCH**2
    assert number(US.timber_stiffness(wood)) / psi == pytest.approx(1.6e6)
    assert number(US.timber_shear_stiffness(wood)) / psi == pytest.approx(1e5)
    assert number(US.plate_bending(given(250, "stress"))) == pytest.approx(250 / 1.67, rel=1e-9)


def test_figures_for_scale_are_asked_of_every_family_the_nearest_first() -> None:
    """What one code lacks is shown for scale by the next that has it: New Zealand by Australia, then by Europe."""
    others = {key: [f.key for f in basis_named(key, "", TABLES).others()] for key in ("en", "us", "au", "nz")}
    assert others == {"en": [], "us": ["en"], "au": ["en"], "nz": ["au", "en"]}


def test_two_unlike_layers_that_cannot_slide_are_one_section() -> None:
    """Parallel axes: with a stiff interlayer h^3 = h_1^3 + h_2^3 + 12 h_1 h_2 s^2/(h_1 + h_2), s between the two middles."""
    h_1, h_2, h_v = 10.0, 4.0, 1.5
    E, G = given(70_000, "stress", "E"), given(1e12, "stress", "G")
    lengths = (given(x, symbol=name) for x, name in ((h_1, "h_1"), (h_2, "h_2"), (h_v, "h_v")))
    found = by_astm(TwoLayers(*lengths, None, None, E, given(1000, symbol="a")), G)
    s = (h_1 + h_2) / 2 + h_v
    assert number(found.deflection) ** 3 == pytest.approx(h_1**3 + h_2**3 + 12 * h_1 * h_2 * s**2 / (h_1 + h_2), rel=1e-6)
