"""Timber by AS 1720.1:2010 and NZS AS 1720.1:2022: the direction of every factor, hand sums, what is not to be had.

Figures were read in public secondary copies; where one is remembered the tables say so.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from as1720 import AU, NZ, end_nails, given, lasting, number, pulled, screw, timber
from conftest import result_of

from barrier.basis import FOR_SCALE, basis_named
from barrier.basis.parts import Fastener, Timber
from barrier.result import Ending, Lack, NotChecked
from barrier.tables import Tables
from barrier.value import Value

PINE = "radiata pine, heart in"
EXACT = 1e-12  # relative; the same arithmetic
GUARD = AU.strength("barrier")
DIGITS = 0.5  # N, half of the last digit of the sample


# ---------------------------------------------------------------- one size in three codes


def test_one_coach_screw_by_three_codes() -> None:
    """M10 x 100, 62 mm of thread in side grain, a screw at the level of the action, as three codes have it.

    AS 1720.1: 0.65 x 97 x 62 / 1.5 dry JD4, J4 wet; EN 1995-1-1 with C24, service class 3, short-term; NDS-2018 with a 3/8 in
    lag in wet wood of G 0.50. They are of one size, as they should be.
    """
    dry, wet = (pulled(timber("MGP12", wet=w)) / 1.5 for w in (False, True))
    assert dry == pytest.approx(0.65 * 97 * 62 / 1.5, rel=EXACT) and dry == pytest.approx(2606, abs=DIGITS)
    assert wet == pytest.approx(0.65 * 77 * 62 / 1.5, rel=EXACT) and wet == pytest.approx(2069, abs=DIGITS)
    en, us = basis_named("en", "uk", Tables()), basis_named("us", "", Tables())
    one, wood = given(1, "count", "n"), Timber({"en": "C24", "us": "Douglas Fir-Larch"}, 3)
    ten = Fastener(given(10, symbol="d"), given(6.8, symbol="d_1"), None)
    european = number(en.withdrawal(ten, wood, given(62, symbol="l_ef"), one, en.strength("barrier"))) / 1.5
    lag = Fastener(given(9.525, symbol="D"), None, None)
    american = number(us.withdrawal(lag, wood, given(62, symbol="p_t"), one, us.strength("barrier")))
    assert european == pytest.approx(2627, abs=DIGITS)
    assert 2318 - 1 < american < 3708 + 1
    figures = (dry, wet, european, american)
    assert max(figures) < 2 * min(figures)


# ---------------------------------------------------------------- directions


def test_the_direction_of_every_factor_of_a_pulled_screw() -> None:
    """Wet, end grain, a weaker joint group, a higher category, a thinner and a shorter screw: each is weaker."""
    base = pulled(timber("MGP12"))
    assert pulled(timber("MGP12", wet=True)) < base
    assert pulled(timber("MGP12"), screw(end_grain=True)) == pytest.approx(0.6 * base, rel=EXACT)
    assert pulled(timber("MGP10")) < base  # JD5, heart-in not excluded
    assert pulled(timber("MGP10", joint_group="JD4")) == base
    categories = [pulled(timber("MGP12", category=c)) for c in (1, 2, 3)]
    assert categories == sorted(categories, reverse=True) and len(set(categories)) == 3
    assert pulled(timber("MGP12"), screw(8.0)) < base < pulled(timber("MGP12"), screw(12.0))
    assert pulled(timber("MGP12"), l_p=31) == pytest.approx(base / 2, rel=EXACT)
    assert pulled(timber("MGP12"), screw(9.0)) == pulled(timber("MGP12"), screw(8.0))  # the size below


def test_duration_does_not_act_on_a_pulled_screw_and_acts_on_all_else() -> None:
    """AS 1720.1 4.3.3 and 4.5: no k_1 on withdrawal. Members and sideways loads are weaker the longer it lasts."""
    spans = ("5 seconds", "5 minutes", "5 hours", "5 days")
    wood = timber("MGP10", wet=True, depth=190)
    assert len({pulled(wood, duration=d) for d in spans}) == 1
    nails = [number(AU.driven_into_end(end_nails(wood), lasting(d))) for d in spans]
    assert nails == sorted(nails, reverse=True) and nails[0] / nails[1] == pytest.approx(1.14, rel=EXACT)
    for strength in (AU.bending, AU.shear, AU.bearing):
        found = [number(strength(wood, lasting(d))) for d in spans]
        assert found == sorted(found, reverse=True) and found[-1] < found[0]
    plate = [number(AU.bracket(given(5e3, "force"), "characteristic", wood, lasting(d))) for d in spans]
    assert plate == sorted(plate, reverse=True) and len(set(plate)) == len(spans)


@pytest.mark.parametrize("strength", ["bending", "shear", "bearing"])
def test_the_direction_of_every_factor_of_a_member(strength: str) -> None:
    """In the weather 0.7, in the tropics 0.9, a higher category, a weaker grade, a deeper section."""
    ask = getattr(AU, strength)
    base = number(ask(timber("MGP12", depth=140), GUARD))
    assert number(ask(timber("MGP12", wet=True, depth=140), GUARD)) == pytest.approx(0.7 * base, rel=EXACT)
    assert number(ask(timber("MGP12", depth=140, tropics=True), GUARD)) == pytest.approx(0.9 * base, rel=EXACT)
    categories = [number(ask(timber("MGP12", depth=140, category=c), GUARD)) for c in (1, 2, 3)]
    assert categories == sorted(categories, reverse=True) and len(set(categories)) == 3
    assert number(ask(timber("MGP12", depth=240), GUARD)) <= base
    assert number(ask(timber("MGP15", depth=140), GUARD)) > base  # the same figures at least, and the higher row of phi


def test_a_member_by_hand() -> None:
    """MGP10, 190 deep, in the weather, category 2, 5 hours: 0.70 x 0.97 x 0.7 x 16; shear 2.5; bearing 10."""
    wood = timber("MGP10", wet=True, depth=190)
    factors = 0.70 * 0.97 * 0.7
    assert number(AU.bending(wood, GUARD)) == pytest.approx(factors * 16, rel=EXACT)
    assert number(AU.shear(wood, GUARD)) == pytest.approx(factors * 2.5, rel=EXACT)
    assert number(AU.bearing(wood, GUARD)) == pytest.approx(factors * 10, rel=EXACT)
    assert number(AU.timber_stiffness(wood)) == pytest.approx(0.8 * 10000, rel=EXACT)
    assert number(AU.timber_shear_stiffness(timber("MGP10"))) == pytest.approx(670, rel=EXACT)
    split = number(AU.splitting(wood, given(45), given(190), given(78), GUARD))
    assert split == pytest.approx(factors * 4.2 * 2 / 3 * 45 * 78, rel=EXACT)


def test_a_depth_between_two_rows_takes_the_weaker_and_an_unknown_one_the_weakest() -> None:
    found = [number(AU.bending(timber("MGP10", depth=d), GUARD)) for d in (90, 190, 195, 240, None)]
    assert found[2] == found[3] < found[1] < found[0] and found[4] < found[3]
    deep = AU.bending(timber("MGP10", depth=350), GUARD)
    assert isinstance(deep, NotChecked) and deep.lack is Lack.RANGE
    f, f_deep = (number(AU.bending(timber("F7", depth=d, seasoned="no"), GUARD)) for d in (300, 400))
    assert f_deep / f == pytest.approx((300 / 400) ** 0.167, rel=EXACT)


def test_what_nobody_says_of_seasoning_is_taken_the_weaker_way() -> None:
    """Bending of seasoned timber in the weather is 0.7; groups of unseasoned timber are the weaker ones."""
    said: tuple[dict[str, str], ...] = ({}, {"seasoned": "no"}, {"seasoned": "yes"})
    unsaid, green, dried = (timber("F14", wet=True, species="merbau (kwila)", **f) for f in said)
    for ask in (AU.bending, AU.bearing):
        assert number(ask(unsaid, GUARD)) <= min(number(ask(green, GUARD)), number(ask(dried, GUARD)))
    assert pulled(unsaid) <= min(pulled(green), pulled(dried))
    assert number(AU.bending(green, GUARD)) == pytest.approx(number(AU.bending(unsaid, GUARD)) / 0.7, rel=EXACT)


def test_every_joint_group_is_weaker_than_the_one_before() -> None:
    """All tables by joint group fall from 1 to 6, a J group is below its JD, and a larger size holds more."""
    for table, columns in (
        ("as1720_coach_screws", ("Q_k",)), ("as1720_wood_screws", ("Q_k", "Q_sk")), ("as1720_nails", ("Q_k",)),
    ):  # fmt: skip
        cells = {(r.text("group"), r.numbers["D"]): r.numbers for r in Tables().table(table).rows}
        sizes = sorted({d for _, d in cells})
        for column in columns:
            for family in ("J", "JD"):
                groups = [f"{family}{i}" for i in range(1, 7) if (f"{family}{i}", sizes[0]) in cells]
                for d in sizes:
                    falling = [cells[g, d][column] for g in groups]
                    assert falling == sorted(falling, reverse=True) and len(set(falling)) == len(falling)
                for g in groups:
                    rising = [cells[g, d][column] for d in sizes]
                    assert rising == sorted(rising) and rising[0] < rising[-1]
            for (g, d), cell in cells.items():
                if g.startswith("JD") and (f"J{g[2]}", d) in cells:
                    # 0.74 to 0.82: two cells of one column stand off the 0.79 to 0.81 of all the others
                    assert 0.74 < cells[f"J{g[2]}", d][column] / cell[column] < 0.82


def test_bearing_is_helped_by_length_only_inside_the_piece() -> None:
    """AS 1720.1 Table 2.6 (2010): 100 mm takes the row of 125, 1.10; nearer than 75 mm to the end 1.0."""
    inside, near, long = (
        AU.bearing_factor(given(b), None if beside is None else given(beside)) for b, beside in ((100, 80), (100, 74), (151, None))
    )
    assert inside is not None and near is not None and long is not None
    assert (float(inside.x), float(near.x), float(long.x)) == (1.10, 1.0, 1.0)
    found = [float(AU.bearing_factor(given(b), None).x) for b in (10, 12, 25, 50, 75, 125, 150)]  # type: ignore[union-attr]
    assert found == sorted(found, reverse=True)


def test_a_strong_bearing_says_nothing_of_how_far_the_plate_sinks() -> None:
    """f'p of MGP is 10 MPa where EN 338 has 2.5 of C24: no indentation is compared with it."""
    found = AU.bearing(timber("MGP12"), GUARD, characteristic=True)
    assert isinstance(found, NotChecked) and "how far the plate sinks" in found.text


# ---------------------------------------------------------------- ends, brackets, distances, steel


def test_end_nails_by_hand() -> None:
    """Two 3.15 x 90 nails through a 45 mm joist, MGP10: 0.80 x 0.86 x 0.6 x 2 x 680; in the weather 0.67 of it."""
    dry, wet = (number(AU.driven_into_end(end_nails(timber("MGP10", wet=w)), GUARD)) for w in (False, True))
    assert dry == pytest.approx(0.80 * 0.86 * 0.6 * 2 * 680, rel=EXACT)
    assert wet == pytest.approx(0.67 * dry, rel=EXACT)


@pytest.mark.parametrize("wet", [False, True])
def test_a_nail_holds_as_in_the_weaker_of_its_two_timbers(wet: bool) -> None:
    """Joist and piece of unlike joint groups: as if both were of the weaker, whichever of the two it is."""
    groups = [timber("MGP10", wet=wet, joint_group=g) for g in (("J4", "J5") if wet else ("JD4", "JD6"))]
    strong, weak = (number(AU.driven_into_end(end_nails(wood), GUARD)) for wood in groups)
    assert strong > 1.1 * weak
    for joist, piece in (groups, reversed(groups)):
        driven = replace(end_nails(piece), side_timber=joist)
        assert number(AU.driven_into_end(driven, GUARD)) == pytest.approx(weak, rel=EXACT)


def test_a_wet_piece_on_a_weaker_dry_joist_is_wet_and_of_the_weaker_group() -> None:
    dry, wet = timber("MGP10", joint_group="JD6"), timber("MGP10", wet=True, joint_group="J4")
    mixed = number(AU.driven_into_end(replace(end_nails(wet), side_timber=dry), GUARD))
    assert mixed == pytest.approx(0.67 * number(AU.driven_into_end(end_nails(dry), GUARD)), rel=EXACT)


def test_end_nails_hold_against_turning_by_their_couple() -> None:
    """Two nails 110 mm apart: one nail times 110 mm; four the same, those between left out; one, or nobody knows: not checked."""
    wood = timber("MGP10")
    one = number(AU.driven_into_end(end_nails(wood, number=1), GUARD))
    for n in (2, 4):
        driven = replace(end_nails(wood, number=n), apart=given(110))
        assert number(AU.driven_into_end(driven, GUARD, "moment")) == pytest.approx(one * 110, rel=EXACT)
    for n, apart in ((1, given(110)), (2, None), (2, given(-5))):
        assert isinstance(AU.driven_into_end(replace(end_nails(wood, number=n), apart=apart), GUARD, "moment"), NotChecked)


def test_the_ratio_of_wet_nails_agrees_with_the_printed_one_to_its_rounding() -> None:
    """AS 1684.2-2010 Table 9.28: 4/75 x 3.05 nails, J4 1.5 kN, JD4 2.1 kN, each to 0.1 kN."""
    r_J = number(Tables().value("as1720_factors", "r_J"))
    assert 1.45 / 2.15 - 0.005 <= r_J < 1.5 / 2.1


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"length": 60.0}, "7 diameters"),
        ({"side": 30.0}, "10 diameters"),
        ({"kind": "screws", "d": 4.2}, "joint groups J"),
    ],
)
def test_end_fasteners_that_are_not_to_be_had(changes: dict[str, object], said: str) -> None:
    found = AU.driven_into_end(end_nails(timber("MGP10", wet=True), **changes), GUARD)  # type: ignore[arg-type]
    assert isinstance(found, NotChecked) and said in found.text


def test_many_nails_in_a_row_are_worth_less_each() -> None:
    each = [number(AU.driven_into_end(end_nails(timber("MGP10"), number=n), GUARD)) / n for n in (1, 4, 5, 10, 20)]
    assert each[0] == pytest.approx(each[1], rel=EXACT) and each[1:] == sorted(each[1:], reverse=True)
    assert each[-1] / each[0] == pytest.approx(0.85, rel=EXACT)


def test_a_bracket_by_what_its_rating_is() -> None:
    """Characteristic: 0.80 x 0.86; a printed design capacity is brought from wind, 1.14, to 5 hours, 0.86."""
    R, wood = given(5e3, "force"), timber("MGP10")
    assert number(AU.bracket(R, "characteristic", wood, GUARD)) == pytest.approx(0.80 * 0.86 * 5e3, rel=EXACT)
    assert number(AU.bracket(R, "design", wood, GUARD)) == pytest.approx(5e3 * 0.86 / 1.14, rel=EXACT)
    assert number(AU.bracket(R, "design", wood, AU.strength("wind"))) == pytest.approx(5e3, rel=EXACT)
    torque = AU.bracket(given(1e6, "moment"), "design", wood, GUARD)
    assert isinstance(torque, Value) and torque.kind == "moment"
    for meaning in ("ultimate", "allowable"):
        assert isinstance(AU.bracket(R, meaning, wood, GUARD), NotChecked)


def test_distances_are_remembered_and_say_so() -> None:
    found = {r: AU.axial_spacing(r, screw()) for r in ("a1", "a2", "a1_CG", "a2_CG")}
    assert {r: number(v) for r, v in found.items()} == {"a1": 50.0, "a2": 40.0, "a1_CG": 80.0, "a2_CG": 40.0}
    assert {Tables().table("as1720_spacings").row(f"coach_{r}").text("provenance") for r in found} == {"memory"}
    assert isinstance(AU.axial_spacing("a1", screw(kind=None)), NotChecked)


def test_steel_of_a_coach_screw_and_of_a_plate() -> None:
    """Table 4.14, design values of grade 4.6: M10 11.6 kN. AS 4100: 0.9 f_y of carbon steel; stainless, unknown 0.85 (memory)."""
    assert number(AU.screw_tension(screw(), GUARD)) == 11600.0
    weak = Fastener(given(10, symbol="d"), None, given(350, "stress"), kind="coach screw")
    assert isinstance(AU.screw_tension(weak, GUARD), NotChecked)
    assert isinstance(AU.screw_tension(screw(material="stainless"), GUARD), NotChecked)
    assert number(AU.plate_bending(given(250, "stress"), "galvanised carbon steel")) == pytest.approx(225, rel=EXACT)
    for material in (None, "stainless", "316"):
        assert number(AU.plate_bending(given(250, "stress"), material)) == pytest.approx(0.85 * 250, rel=EXACT)
    assert isinstance(AU.plate_bending(given(250, "stress"), "aluminium"), NotChecked)
    assert Tables().table("as4673_factors").row("phi_bending").text("provenance") == "memory"


def test_a_coach_screw_pushed_sideways_on_the_wood_and_through_a_board() -> None:
    """M10 with 62 mm in J5: the smaller of 0.5 x 62 x 10 x 4.7 and 19 x 4.7 x 10^1.5, times 0.65 x 0.86; a gap has no rule."""
    wood, l_p = timber("MGP10", wet=True), given(62)
    found = number(AU.sideways(screw(), wood, l_p, given(0), GUARD))
    assert found == pytest.approx(0.65 * 0.86 * min(0.5 * 62 * 10 * 4.7, 19 * 4.7 * 10**1.5), rel=EXACT)
    assert number(AU.sideways(screw(end_grain=True), wood, l_p, given(0), GUARD)) == pytest.approx(0.6 * found, rel=EXACT)
    assert number(AU.sideways(screw(), timber("MGP10"), l_p, given(0), GUARD)) > found
    gap = AU.sideways(screw(), wood, l_p, given(22), GUARD)
    assert isinstance(gap, NotChecked) and "loose board" in gap.text
    short = AU.sideways(screw(), wood, given(39), given(0), GUARD)
    assert isinstance(short, NotChecked) and short.lack is Lack.RANGE
    hard = AU.sideways(screw(), timber("blackbutt", seasoned="yes"), l_p, given(0), GUARD)
    assert isinstance(hard, NotChecked) and "JD2" in hard.text


def test_pulled_and_pushed_at_once_is_the_sum() -> None:
    found = AU.combined(given(0.5, "ratio"), given(0.6, "ratio"))
    assert number(found) == pytest.approx(1.1, rel=EXACT)
    assert number(AU.bent_both_ways(given(0.5, "ratio"), given(0.6, "ratio"))) == pytest.approx(1.1, rel=EXACT)


# ---------------------------------------------------------------- kinds of screw, names, the reader's own copy


def test_the_kind_of_screw_says_which_table() -> None:
    """No kind, no figure; a wood screw in wet timber was not read; a structural screw has its supplier's figure."""
    wood, args = timber("MGP12"), (given(62), given(1, "count"), GUARD)
    unsaid = AU.withdrawal(screw(kind=None), wood, *args)
    assert isinstance(unsaid, NotChecked) and unsaid.lack is Lack.INPUT and "coach screw" in unsaid.text
    dry = number(AU.withdrawal(screw(6.3, "wood screw"), wood, *args))
    assert dry == pytest.approx(0.80 * 62 * 85, rel=EXACT)
    wet = AU.withdrawal(screw(6.3, "wood screw"), timber("MGP12", wet=True), *args)
    assert isinstance(wet, NotChecked) and "was not read" in wet.text
    bare = AU.withdrawal(screw(8.0, "structural screw"), wood, *args)
    assert isinstance(bare, NotChecked) and "supplier" in bare.text
    declared = AU.withdrawal(screw(8.0, "structural screw", Q_k=given(70, "withdrawal")), wood, *args)
    assert number(declared) == pytest.approx(0.65 * 62 * 70, rel=EXACT)


@pytest.mark.parametrize(
    ("material", "said"), [({}, "not named"), ({"au": "MGP11"}, "no grade and no species"), ({"au": "F7"}, "joint group")]
)
def test_a_timber_that_is_not_known_is_asked_for(material: dict[str, str], said: str) -> None:
    found = AU.withdrawal(screw(), Timber(material, 3), given(62), given(1, "count"), GUARD)
    assert isinstance(found, NotChecked) and found.lack is Lack.INPUT and said in found.text


def test_the_words_of_a_timber_say_how_it_was_taken() -> None:
    words = AU.timber_words(timber("MGP10", wet=True))
    assert words is not None and all(w in words[0] for w in ("SD6", "J5", "seasoned", "in the weather", "heart-in"))


def test_the_readers_copy_lies_over_the_tables(tmp_path: Path) -> None:
    """A capacity factor and a withdrawal of the reader's own copy replace ours, row by row."""
    (tmp_path / "as1720_factors.csv").write_text(
        "# column name: key\n# column value: ratio\nname,value,source\nphi_coach_2,0.7,own copy\n", "utf-8"
    )
    (tmp_path / "as1720_coach_screws.csv").write_text(
        "# column name: key\n# column Q_k: withdrawal in N/mm\nname,Q_k,source\nJ4 M10,80,own copy\n", "utf-8"
    )
    own = basis_named("au", "", Tables([tmp_path]))
    found = own.withdrawal(screw(), timber("MGP12", wet=True), given(62), given(1, "count"), GUARD)
    assert number(found) == pytest.approx(0.7 * 80 * 62, rel=EXACT)


# ---------------------------------------------------------------- New Zealand


def test_members_of_new_zealand_by_hand() -> None:
    """NZS AS 1720.1:2022, one copy: SG8 dry 0.8 x 0.97 x 14; wet 11.7, 2.4, 5.3 and 6500; SG10 wet in the same ratio."""
    dry, wet = (timber("SG8", wet=w, depth=190) for w in (False, True))
    f = 0.8 * 0.97
    assert number(NZ.bending(dry, GUARD)) == pytest.approx(f * 14, rel=EXACT)
    assert number(NZ.bending(wet, GUARD)) == pytest.approx(f * 11.7, rel=EXACT)
    assert number(NZ.shear(wet, GUARD)) == pytest.approx(f * 2.4, rel=EXACT)
    assert number(NZ.bearing(wet, GUARD)) == pytest.approx(f * 5.3, rel=EXACT)
    assert number(NZ.timber_stiffness(wet)) == 6500.0
    assert number(NZ.bending(timber("SG10", wet=True), GUARD)) == pytest.approx(f * 20 * 11.7 / 14, rel=EXACT)
    shallow, deep = (number(NZ.bending(timber("LVL11", depth=d), GUARD)) for d in (95, 190))
    assert deep / shallow == pytest.approx((95 / 190) ** 0.167, rel=EXACT)
    assert shallow == pytest.approx(0.9 * 0.97 * 38, rel=EXACT)


def test_joints_of_new_zealand_are_not_checked_with_the_australian_figure_for_scale() -> None:
    wood = timber(PINE, seasoned="yes")
    found = NZ.withdrawal(screw(), wood, given(62), given(1, "count"), GUARD)
    assert isinstance(found, NotChecked) and "NZS AS 1720.1:2022" in found.text
    other = NZ.for_scale()
    assert other is not None and other.key == "au"
    assert number(other.withdrawal(screw(), wood, given(62), given(1, "count"), GUARD)) > 0
    assert isinstance(NZ.bending(timber("MGP10"), GUARD), NotChecked)


def test_no_screw_of_new_zealand_is_within_by_the_australian_rule() -> None:
    """Steel and distances as well: of an M10 coach screw 0.8 x 400 MPa on its root, 4, 8 and 5 diameters (memory), for scale."""
    link = next(r for r in result_of("nz_deck").sound.links if r.id == "screws")
    own = [c for c in link.checks if c.about.kind not in ("plug", "combined")]
    assert {c.about.kind for c in own} >= {"withdrawal", "steel", "sideways", "edge", "end", "a1"}
    assert all(c.ending is Ending.NOT_CHECKED and "NZS AS 1720.1:2022" in c.reason for c in own)
    scale = {
        s.title.partition(", mount M1, by the Australian basis")[0]: s for s in link.shown if "mount M1, by the Aus" in s.title
    }
    assert all(s.remark == FOR_SCALE for s in scale.values())
    found = {title: s.value.at(0) for title, s in scale.items()}
    assert found["tension of the steel of one screw"] == pytest.approx(11_600.0)
    assert found["edge distance of a screw"] == pytest.approx(40.0)
    assert found["distance of a screw from the end of its piece"] == pytest.approx(80.0)
    assert found["spacing of the screws along the grain"] == pytest.approx(50.0)


def test_where_the_own_rules_answer_nothing_stands_beside_them_for_scale() -> None:
    for name in ("au_deck", "everyday_deck", "us_deck"):
        link = next(r for r in result_of(name).sound.links if r.id == "screws")
        assert not [s.title for s in link.shown if s.title.startswith(("tension of the steel", "edge distance", "spacing of the"))]
