"""Wrong lines written on purpose into the blocking, its ends and what goes to the deck, noticed by no test: each by a hand sum.

Bundled jobs have brackets alike in every direction, alike at both ends, and four screws alike over two pieces: there the wrong
end, the wrong direction and the wrong share come to the same figure. Here they are unlike.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest
from conftest import for_each, job_named, result_of, sound
from test_ground import OWN
from test_load_path_closes import mounts_of, resultant, walk_of
from test_wrong_lines import EXACT, GIVEN, STATICS, of

from barrier.basis import Answer, Driven, Timber, basis_named
from barrier.equation import Step
from barrier.job.timber import BoardScrews, EndFixing
from barrier.links.blocking.across import AcrossActions, across
from barrier.links.blocking.beside import PLASTIC, loose_for_scale, on_support, torsion_for_scale
from barrier.links.blocking.blocking import blocking, section_under
from barrier.links.blocking.boards import PUSHED, THREAD, _own_screws, boards, finding
from barrier.links.blocking.edge_joist import edge_joist, edge_section
from barrier.links.blocking.edge_joist import finding as edge_joist_finding
from barrier.links.blocking.end_fixings import end_resistance, nothing_held
from barrier.links.blocking.ends import AtEnd, Held, end_checks
from barrier.links.blocking.force_sets import COMPONENTS, DOWN, force_sets
from barrier.links.blocking.force_table import ForceRow, _largest, _largest_at, _levels, _sets, _sideways_most, force_table
from barrier.links.blocking.in_plane_ends import LEFT as LEFT_OF_PLANE
from barrier.links.blocking.in_plane_ends import RIGHT as RIGHT_OF_PLANE
from barrier.links.blocking.in_plane_ends import _timber, in_plane_ends
from barrier.links.blocking.piece_actions import LEVERS, PieceActions, actions_on_pieces
from barrier.links.blocking.piece_forces import forces_on_pieces
from barrier.links.blocking.splitting import at_the_ends, at_the_mount
from barrier.links.blocking.to_joists import Level, Push, State, Wrench, below, push_of, states
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.base_plate import leading
from barrier.links.mount.mount_forces import MountForces
from barrier.links.walk import Walk
from barrier.load_path import Walked
from barrier.mechanics import torsion
from barrier.result import SOUND, About, Check, Ending, Lack, NotChecked, Standing, not_checked
from barrier.tables import Tables
from barrier.value import Numerical, Value


def found(result: Walked, id: str) -> Check:
    return next(c for c in result.checks if c.id == id)


def demand(c: Check) -> float:
    assert c.demand is not None
    return float(c.demand.at(c.station))


def resistance(c: Check) -> float:
    assert c.resistance is not None
    return float(c.resistance.at(c.station if c.resistance.stations else 0))


# ---------------------------------------------------------------- one end of a piece

RATED = {"uplift": 8e3, "down": 2e3, "sideways": 4e3, "torque": 5e5}  # N and N mm: no two alike
LIFT = (-900.0, 500.0, 700.0, -100.0)  # of one end, down positive, by station
TURN = (1e4, 2e4, 4e4, 9e4)
SIDE = (100.0, 300.0, 250.0)  # at stations of its own, the largest not the first


def ends_of(lift: tuple[float, ...] | None = LIFT, **ratings: float | None) -> dict[str, Check]:
    """The checks of one end, a bracket rated by hand, under forces given by hand; by direction."""
    result = result_of("garden_deck")
    handed, walk = mounts_of(result)[0], walk_of(result)
    block = handed.model.blocking
    assert block is not None and block.left is not None
    kinds = {"uplift": "force", "down": "force", "sideways": "force", "torque": "moment"}
    rated = {way: None if x is None else Value(x, kinds[way], GIVEN, "R_k") for way, x in (RATED | ratings).items()}
    fixing = block.left.model_copy(update=rated)
    held = Held("blocking", "the blocking", "M1", "left", "left", fixing, walk.timber(block.material), handed.combination)
    at = AtEnd(
        None if lift is None else Value(np.abs(lift), "force", GIVEN, "V_left"), np.array(lift or LIFT),
        Value(np.array(TURN), "moment", GIVEN, "T_left"), Value(np.array(SIDE), "force", GIVEN, "V_side"),
        list("abcd"), list("xyz"), ("side x", "side y", "side z"),
        ("end a", "end b", "end c", "end d"),
    )  # fmt: skip
    return {c.about.way: c for c in end_checks(walk, held, at)}


def test_each_direction_of_an_end_is_compared_with_its_own_rating() -> None:
    """What is lifted by the rating that holds down, what is pressed by the one that holds up; one factor of the code for all."""
    ends = ends_of()
    worst = {"uplift": 900.0, "down": 700.0, "sideways": 300.0, "torque": 9e4}
    factor = resistance(ends["uplift"]) / RATED["uplift"]
    for way, most in worst.items():
        assert demand(ends[way]) == most and resistance(ends[way]) == pytest.approx(factor * RATED[way], rel=EXACT), way
    assert (ends["sideways"].where, ends["sideways"].case) == ("y", "side y")
    assert (ends["torque"].where, ends["torque"].case) == ("d", "end d")


def test_all_that_an_end_holds_at_once_is_the_sum_of_its_own_parts_station_by_station() -> None:
    """The largest of V/R + 300/R_side + T/R_t over four stations, lifted and pressed each by its own rating; by hand."""
    ends = ends_of()
    factor = resistance(ends["uplift"]) / RATED["uplift"]
    sums = [
        (abs(V) / RATED["uplift" if V < 0 else "down"] + max(SIDE) / RATED["sideways"] + T / RATED["torque"]) / factor
        for V, T in zip(LIFT, TURN, strict=True)
    ]
    assert ends["together"].eta == pytest.approx(max(sums), rel=EXACT) and sums.index(max(sums)) == 2
    assert (ends["together"].where, ends["together"].case) == ("c", "end c")
    level = ends_of(None)
    assert set(level) == {"sideways", "torque", "together"}
    assert level["together"].eta == pytest.approx((300 / RATED["sideways"] + 9e4 / RATED["torque"]) / factor, rel=EXACT)


def test_an_end_that_lacks_one_rating_is_not_checked_at_once_and_one_of_nothing_exceeds() -> None:
    for way in RATED:
        assert ends_of(**{way: None})["together"].ending is Ending.NOT_CHECKED, way
        nothing = ends_of(**{way: 0.0})
        held = {"uplift": "down", "down": "up", "torque": "against turning", "sideways": "sideways"}[way]
        for c in (nothing["together"], nothing[way]):
            assert c.ending is Ending.EXCEEDS and c.reason == f"nothing that counts holds this end {held}", way


def test_every_force_at_an_end_is_required_however_small() -> None:
    small = ends_of((-4.0, 3.0, 0.0, 0.0))
    assert set(small) == {*RATED, "together"} and all(c.standing is Standing.REQUIRED for c in small.values())
    assert (demand(small["uplift"]), demand(small["down"])) == (4.0, 3.0)
    assert set(ends_of((0.0, 3.0, 0.0, 0.0))) == {"down", "sideways", "torque", "together"}


# ---------------------------------------------------------------- pieces across the glass

UNLIKE = {
    "blocking.B1.left.uplift": "9 kN", "blocking.B1.left.down": "8 kN", "blocking.B1.left.sideways": "7 kN",
    "blocking.B1.left.torque": "0.4 kN m", "blocking.B1.right.uplift": "6 kN", "blocking.B1.right.down": "5 kN",
    "blocking.B1.right.sideways": "4 kN", "blocking.B1.right.torque": "0.3 kN m", "situations": None,
}  # fmt: skip
LEFT, RIGHT = (
    {"uplift": 9e3, "down": 8e3, "sideways": 7e3, "torque": 4e5}, {"uplift": 6e3, "down": 5e3, "sideways": 4e3, "torque": 3e5}
)  # fmt: skip
LENGTH, BREADTH, DEPTH = 405.0, 120.0, 195.0  # of a piece of the garden deck; 28 mm of boards on it


@cache
def across_with_a_screw_missing() -> Walked:
    """Two pieces across the glass 150 mm from the people side, one screw in the first and two in the second; joists of C16."""
    return sound(
        job_named("garden_deck").with_({
            **UNLIKE, "blocking.B1.direction": "across", "joists.direction": "along", "mounts.M1.in_bay": "150 mm",
            "mounts.M1.screws.S1.present": False, "joists.material.en": "C16",
        })
    )  # fmt: skip


def walk_with(result: Walked, combination: str = "ultimate, barrier") -> tuple[Walk, MountForces]:
    """The walk, and its first mount in a combination."""
    handed = next(m for m in result.handed_on.mounts if m.model.name == "M1" and m.combination.id == combination)
    job, tables = result.job, Tables(())
    return Walk(job, basis_named(job.basis, job.national, tables, job.editions.named), tables, SOUND), handed


def test_pieces_across_the_glass_carry_moment_push_and_weight_of_their_mount() -> None:
    """About the mount the ends of all pieces turn back M + F (28 + 195/2), and up and down they bear the weight or nothing."""
    walk, handed = walk_with(across_with_a_screw_missing())
    on, a, n = AcrossActions(walk, handed), 150.0, len(handed.with_weight)
    R_1, R_2 = (np.asarray(R.x).reshape(n, 2) for R in (on.R_1, on.R_2))
    M, F = abs(handed.M_Ed.at(handed.worst)), abs(handed.F_Ed.at(handed.worst))
    for i, corner in enumerate(handed.with_weight):
        way = 1.0 if corner.sign == "outward" else -1.0
        about = (R_2[i] * (LENGTH - a) - R_1[i] * a).sum()
        assert about == pytest.approx(way * (M + F * (28 + DEPTH / 2)), rel=1e-6), corner.label
        assert [
            label.endswith(f"piece {j}, {corner.label}") for j, label in ((1, on.labels[2 * i]), (2, on.labels[2 * i + 1]))
        ] == [True] * 2
        assert R_1[i].sum() + R_2[i].sum() == pytest.approx(float(handed.weight.x) if corner.weighs else 0.0, abs=1e-6 * M / a)


def test_a_piece_across_the_glass_by_hand() -> None:
    """Bending beside the mount, shear, torsion of an upright rectangle, and its end pressed against a joist of C16."""
    result = across_with_a_screw_missing()
    walk, handed = walk_with(result)
    on, a, count = AcrossActions(walk, handed), 150.0, handed.counted
    R_1, R_2 = np.abs(on.R_1.x), np.abs(on.R_2.x)
    bending = max((R_1 * a).max(), (R_2 * (LENGTH - a)).max()) / (BREADTH * DEPTH**2 / 6)
    assert demand(found(result, "blocking.bending.M1")) == pytest.approx(bending, rel=STATICS)
    assert demand(found(result, "blocking.shear.M1")) == pytest.approx(
        1.5 * max(R_1.max(), R_2.max()) / (BREADTH * DEPTH), rel=STATICS
    )
    turned = np.abs(forces_on_pieces(handed, handed.with_weight).own_moments).max()
    torsion_of_it = float(torsion.max_shear(turned * (LENGTH - a) / LENGTH, DEPTH, BREADTH))
    assert demand(found(result, "blocking.torsion.M1")) == pytest.approx(torsion_of_it, rel=STATICS)
    thrust = found(result, "blocking.end.thrust.M1")  # two screws of three hold in the second piece
    assert demand(thrust) == pytest.approx(np.abs(handed.F_Ed.x)[count].max() * 2 / 3 / (BREADTH * DEPTH), rel=STATICS)
    assert thrust.case == handed.cases[count[np.abs(handed.F_Ed.x)[count].argmax()]].id
    joist, piece = (walk.basis.bearing(walk.timber({"en": c}), handed.combination) for c in ("C16", "C24"))
    assert isinstance(joist, Value) and isinstance(piece, Value) and joist.at(0) < piece.at(0)
    assert resistance(thrust) == pytest.approx(joist.at(0), rel=EXACT)
    twist = np.abs(handed.M_z.x)[count].max() * 2 / 3 / LENGTH
    for side, share, rated in (("left", LENGTH - a, LEFT), ("right", a, RIGHT)):
        ends = {way: found(result, f"blocking.end.{side}.{way}.M1") for way in rated}
        assert all(c.title.startswith({"left": "people-side end", "right": "drop-side end"}[side]) for c in ends.values())
        assert demand(ends["sideways"]) == pytest.approx(twist, rel=STATICS)
        assert demand(ends["torque"]) == pytest.approx(turned * share / LENGTH, rel=STATICS)
        for way, R_k in rated.items():  # EN 1995-1-1 (2.14): k_mod and gamma_M of solid timber, the same for all
            assert resistance(ends[way]) == pytest.approx(
                R_k * resistance(found(result, "blocking.end.left.uplift.M1")) / 9e3, rel=EXACT
            )


# ---------------------------------------------------------------- loose pieces along the glass


@cache
def loose_with_a_screw_missing() -> Walked:
    """Two loose pieces laid flat and tied, the mount 150 mm from their right end: one screw in the first, two in the second."""
    heights = {
        "blocking.B1.left.highest": "100 mm", "blocking.B1.right.highest": "80 mm", "blocking.B1.left.lowest": "70 mm",
        "blocking.B1.right.lowest": "90 mm", "blocking.B1.laid": "flat", "mount_types.deep.screw.length": "150 mm",
        "mount_types.deep.screw.threaded": "120 mm",
    }  # fmt: skip
    ties = {"fixing": "screws", "number": 6, "diameter": "6 mm", "length": "200 mm"}
    changes = {
        **UNLIKE,
        **heights,
        "mounts.M1.in_bay": "255 mm",
        "mounts.M1.offset": "10 mm",
        "mounts.M1.screws.S1.present": False,
        "blocking.B1.ties": ties,
    }
    return sound(job_named("garden_deck").with_(changes))


def in_its_combination(c: Check, result: Walked) -> tuple[MountForces, PieceActions]:
    """The mount of a check in the combination of the check, and what comes on its loose pieces there."""
    walk, handed = walk_with(result, c.combination)
    return handed, actions_on_pieces(walk, forces_on_pieces(handed, handed.with_weight))


def test_a_loose_piece_by_hand() -> None:
    """A beam of 405 mm with a force 150 mm from its end, and a flat rectangle twisted to the end nearer to the mount."""
    result, a, b = loose_with_a_screw_missing(), 255.0, 150.0
    bending, shear, twisted, ties = (found(result, f"blocking.{what}.M1") for what in ("bending", "shear", "torsion", "ties"))
    P = float(np.max(in_its_combination(bending, result)[1].P.x))
    assert demand(bending) == pytest.approx(P * a * b / LENGTH / (DEPTH * BREADTH**2 / 6), rel=STATICS)
    assert demand(shear) == pytest.approx(1.5 * P * a / LENGTH / (BREADTH * DEPTH), rel=STATICS)
    T = float(np.max(in_its_combination(twisted, result)[1].T_own.x))
    assert demand(twisted) == pytest.approx(float(torsion.max_shear(T * a / LENGTH, DEPTH, BREADTH)), rel=STATICS)
    force = in_its_combination(ties, result)[1].force.reshape(-1, 2)  # the first piece alone, then both: nothing or the weight
    assert demand(ties) == pytest.approx(max(np.abs(force[:, 0]).max(), np.abs(force.sum(axis=1)).max()), rel=STATICS)
    assert np.abs(force).sum(axis=1).max() > 1.5 * demand(ties)


def test_bending_both_ways_of_a_loose_piece_by_hand() -> None:
    """The push of the worst station sideways by the screws of each piece, beside what bends it up and down.

    k_m = 0.7 of a rectangle, EN 1995-1-1 6.1.6; C24 with a side of more than 150 mm by its f_m,k alone, both ways.
    """
    result, a, b = loose_with_a_screw_missing(), 255.0, 150.0
    both = found(result, "blocking.both_ways.M1")
    handed, on = in_its_combination(both, result)
    F, M_z = np.abs(handed.F_Ed.x)[handed.counted], np.abs(handed.M_z.x)[handed.counted]
    side = ((F * a * b + M_z * a) / LENGTH).max() / (BREADTH * DEPTH**2 / 6)
    upright = np.asarray(on.P.x) * a * b / LENGTH / (DEPTH * BREADTH**2 / 6)
    share = np.where(on.piece == 0, 1 / 3, 2 / 3)
    f_m = 24.0 * resistance(found(result, "blocking.end.left.uplift.M1")) / 9e3
    y, z = upright / f_m, side * share / f_m
    assert both.eta == pytest.approx(max((y + 0.7 * z).max(), (0.7 * y + z).max()), rel=1e-6)


def test_ends_of_loose_pieces_by_hand() -> None:
    """Each end its own share of force, push and torque, and its own bracket; two of three screws hold in the second piece."""
    result, a = loose_with_a_screw_missing(), 255.0
    factor = resistance(found(result, "blocking.end.left.uplift.M1")) / 9e3
    for side, arm, rated in (("left", LENGTH - a, LEFT), ("right", a, RIGHT)):
        ends = {way: found(result, f"blocking.end.{side}.{way}.M1") for way in rated}
        for way, R_k in rated.items():
            assert resistance(ends[way]) == pytest.approx(R_k * factor, rel=EXACT), (side, way)
        handed, _ = in_its_combination(ends["sideways"], result)
        F, M_z = np.abs(handed.F_Ed.x)[handed.counted], np.abs(handed.M_z.x)[handed.counted]
        assert demand(ends["sideways"]) == pytest.approx((F * arm + M_z).max() / LENGTH * 2 / 3, rel=STATICS)
        case = handed.cases[handed.counted[int((F * arm + M_z).argmax())]]
        assert ends["sideways"].case == case.id != handed.worst_case.id
        _, on = in_its_combination(ends["torque"], result)
        assert demand(ends["torque"]) == pytest.approx(float(np.max(on.T_own.x)) * arm / LENGTH, rel=STATICS)
        for way, sign in (("uplift", -1.0), ("down", 1.0)):
            _, on = in_its_combination(ends[way], result)
            assert demand(ends[way]) == pytest.approx((sign * on.force).max() * arm / LENGTH, rel=STATICS)


def test_splitting_of_a_piece_by_hand() -> None:
    """F_90,Rk = 14 b (h_e/(1 - h_e/h))^0.5, EN 1995-1-1 (8.4) with w = 1: of two ends the one with its screws nearest the edge.

    Screws of 150 mm through 15 mm of plate and 28 mm of boards reach 107 mm of 120; an end is held at 80 or 70 mm.
    """
    result, a = loose_with_a_screw_missing(), 255.0
    factor = resistance(found(result, "blocking.end.left.uplift.M1")) / 9e3
    for id, h_e, sign in (("splitting", 107.0, -1.0), ("end.splitting.uplift", 80.0, -1.0), ("end.splitting.down", 70.0, 1.0)):
        c = found(result, f"blocking.{id}.M1")
        _, on = in_its_combination(c, result)
        assert demand(c) == pytest.approx((sign * on.force).max() * a / LENGTH, rel=STATICS)
        assert resistance(c) == pytest.approx(14 * DEPTH * (h_e / (1 - h_e / BREADTH)) ** 0.5 * factor, rel=1e-9), id
        assert c.where == on.labels[int(np.argmax(sign * on.force))]


def test_wood_of_the_blocking_is_compared_with_its_own_strengths() -> None:
    """C24 of EN 338:2016: f_m,k 24 and f_v,k 4.0, shear with k_cr = 0.67, torsion with 1 + 0.05 h/b (EN 1995-1-1).

    k_mod over gamma_M is that of the brackets: both of solid timber.
    """
    for result in (across_with_a_screw_missing(), loose_with_a_screw_missing()):
        factor = resistance(found(result, "blocking.end.left.uplift.M1")) / 9e3
        for what, f_k in (("bending", 24.0), ("shear", 0.67 * 4.0), ("torsion", 4.0 * (1 + 0.05 * DEPTH / BREADTH))):
            assert resistance(found(result, f"blocking.{what}.M1")) == pytest.approx(f_k * factor, rel=1e-9), what


# ---------------------------------------------------------------- one section


@cache
def laminated_flat() -> Walked:
    """Two pieces laminated in a factory and laid flat, 390 mm wide and 120 mm deep, the mount 150 mm from their left end."""
    changes = {**UNLIKE, "mounts.M1.in_bay": "150 mm", "blocking.B1.laminated": "factory", "blocking.B1.laid": "flat"}
    return sound(job_named("garden_deck").with_(changes))


def test_one_section_by_hand() -> None:
    """It takes the whole torque, M + F (28 + 120/2) of every station, and push and twist sideways, each end by its distance."""
    result, a, b = laminated_flat(), 150.0, LENGTH - 150.0
    wide, deep = 2 * DEPTH, BREADTH

    def acting(c: Check) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        _, handed = walk_with(result, c.combination)
        F, M_z = np.abs(handed.F_Ed.x)[handed.counted], np.abs(handed.M_z.x)[handed.counted]
        return np.abs(handed.M_Ed.x)[handed.counted] + F * (28 + deep / 2), F, M_z

    twisted, bending, shear = (found(result, f"blocking.{what}.M1") for what in ("torsion", "bending", "shear"))
    T, _, _ = acting(twisted)
    assert demand(twisted) == pytest.approx(float(torsion.max_shear(T.max() * b / LENGTH, wide, deep)), rel=STATICS)
    _, F, M_z = acting(bending)
    assert demand(bending) == pytest.approx((F * a * b + M_z * b).max() / LENGTH / (deep * wide**2 / 6), rel=STATICS)
    _, F, M_z = acting(shear)
    assert demand(shear) == pytest.approx(1.5 * (F * b + M_z).max() / LENGTH / (deep * wide), rel=STATICS)
    for side, arm, rated in (("left", b, LEFT), ("right", a, RIGHT)):
        sideways, turning = (found(result, f"blocking.end.{side}.{way}.M1") for way in ("sideways", "torque"))
        _, F, M_z = acting(sideways)
        assert demand(sideways) == pytest.approx((F * arm + M_z).max() / LENGTH, rel=STATICS)
        T, _, _ = acting(turning)
        assert demand(turning) == pytest.approx(T.max() * arm / LENGTH, rel=STATICS)
        assert resistance(sideways) / resistance(turning) == pytest.approx(rated["sideways"] / rated["torque"], rel=EXACT)
    of_wood = resistance(found(result, "blocking.end.left.sideways.M1")) / LEFT["sideways"] * 1.3 / 1.25  # gamma_M, glued
    for c, f_k in ((bending, 24.0), (shear, 0.67 * 4.0), (twisted, 4.0 * (1 + 0.05 * wide / deep))):
        assert resistance(c) == pytest.approx(f_k * of_wood, rel=1e-9), c.id


# ---------------------------------------------------------------- splitting at the ends


def split_at(left: tuple[float | None, float | None] | None, right: tuple[float | None, float | None] | None) -> dict[str, Check]:
    """Splitting at ends held so high above the lower and so deep below the upper edge of a piece of 120 x 195 mm, by way.

    None for an end nobody knows; the two pieces have 1 kN down and 2 kN up.
    """
    result = result_of("garden_deck")
    handed, walk = mounts_of(result)[0], walk_of(result)
    assert handed.model.blocking is not None

    def end(heights: tuple[float | None, float | None] | None) -> object:
        if heights is None:
            return None
        high, low = (None if x is None else Value(x, "length", GIVEN) for x in heights)
        return SimpleNamespace(fixing="bracket", highest=high, lowest=low)

    block = handed.model.blocking.model_copy(update={"left": end(left), "right": end(right)})
    on = SimpleNamespace(
        model=SimpleNamespace(name="M1", blocking=block), force=np.array([1e3, -2e3]), labels=("pressed", "lifted")
    )
    ends = Value(np.array([700.0, 1400.0]), "force", GIVEN, "V_end")
    return {c.about.way: c for c in at_the_ends(walk, on, ends, handed.combination)}  # type: ignore[arg-type]


def test_an_end_whose_fixings_nobody_measured_may_split_there() -> None:
    """One end measured is not both; and what nobody knows is not what sits in a shoe."""
    both = split_at((150.0, 90.0), (100.0, 140.0))
    assert {way: (demand(c), c.where) for way, c in both.items()} == {"uplift": (1400.0, "lifted"), "down": (700.0, "pressed")}
    assert all(c.ending is Ending.WITHIN for c in both.values())
    for left, right in (((150.0, None), (100.0, 90.0)), ((150.0, 90.0), None), (None, (150.0, 90.0)), (None, None)):
        asked = split_at(left, right)["down"]
        assert asked.ending is Ending.NOT_CHECKED and asked.lack is Lack.INPUT and asked.standing is Standing.REQUIRED
        assert demand(asked) == 700.0 and "lowest" in asked.reason
    assert split_at((None, 90.0), (100.0, 90.0))["uplift"].lack is Lack.INPUT


def test_only_a_piece_that_sits_in_a_shoe_at_both_ends_is_not_split_by_what_presses() -> None:
    """A shoe under the whole depth of 195 mm; held 130 mm below its upper edge, more than it is broad, it splits all the same."""
    assert set(split_at((150.0, 195.0), (150.0, 195.0))) == {"uplift"}
    assert set(split_at((150.0, 195.0), (150.0, 130.0))) == {"uplift", "down"}


# ---------------------------------------------------------------- what goes to the deck


def test_the_table_has_the_largest_push_and_twist_of_every_station_and_combination() -> None:
    """By hand over all stations that count: sideways at an end (F b + M_z)/L by the screws of the piece; service is 1/1.5 of it."""
    result = loose_with_a_screw_missing()
    table = next(t for t in result.handed_on.tables if t.mount.model.name == "M1")
    every = [m for m in result.handed_on.mounts if m.model is table.mount.model and m.standing is Standing.REQUIRED]
    assert table.combinations == tuple(m.combination.id for m in every) and len(every) == 2
    rows = {row.words: [v.at(0) for v in row.values if v is not None] for row in table.rows}

    def largest(of: Callable[[np.ndarray, np.ndarray, np.ndarray], np.ndarray]) -> float:
        at = (tuple(np.abs(np.asarray(v.x))[m.counted] for v in (m.M_Ed, m.F_Ed, m.M_z)) for m in every)
        return max(float(of(*three).max()) for three in at)

    wanted = {
        "push, the largest": largest(lambda M, F, M_z: F), "moment": largest(lambda M, F, M_z: M),
        "twist, either way": largest(lambda M, F, M_z: M_z),
    }  # fmt: skip
    for words, most in wanted.items():
        assert rows[words] == pytest.approx([most, most, most / 1.5, most / 1.5], rel=1e-6), words
    for piece, share in (("piece 1", 1 / 3), ("piece 2", 2 / 3)):
        for side, arm in (("left", 150.0), ("right", 255.0)):
            most = share * largest(lambda M, F, M_z, arm=arm: (F * arm + M_z) / LENGTH)  # type: ignore[misc]
            found_there = rows[f"{piece}, {side} end, sideways"]
            assert found_there == pytest.approx([most, -most, most / 1.5, -most / 1.5], rel=1e-6), (piece, side)
            down = rows[f"{piece}, {side} end, down"]
            assert (down[0] < 0.0 < down[1]) if piece == "piece 1" else (down[1] < 0.0 < down[0])  # outward presses the drop side


def test_a_row_has_no_figure_where_one_combination_has_no_equilibrium() -> None:
    """It may be the worst; and of those there are, a pull of 5 kN is more than a press of 3."""
    five, three = (Value(x, "force", GIVEN) for x in (-5e3, 3e3))
    rows = [ForceRow("an end", (three, five, None)), ForceRow("an end", (five, three, three))]
    assert [None if v is None else v.at(0) for v in _largest(rows).values] == [-5e3, -5e3, None]
    wrenches = [Wrench("piece 1", "left", (0.0, 0.0, 0.0), (0.0, 0.0, z), (0.0, 0.0, 0.0)) for z in (-3e3, 5e3)]
    largest = _largest_at({("outward", "piece 1", "left"): wrenches}, ("outward", "piece 1", "left"), DOWN.of, "force")
    assert largest is not None and largest.at(0) == -5e3
    walk, handed = walk_with(loose_with_a_screw_missing())
    known = states(walk, handed, _levels(handed)[0])
    assert len(_sets(walk, handed.model, [(handed, known)])) == 2
    assert _sets(walk, handed.model, [(handed, known), (handed, None)]) == ()


def test_forces_at_once_are_of_the_state_that_presses_or_pulls_an_end_most() -> None:
    """Two combinations of two states each, outward: the worst is the last, by a pull; it is taken as it comes."""
    here = (0.0, 0.0, 0.0)

    def state(words: str, *down: float, M: float = 1.0) -> State:
        ends = (Wrench("piece 1", s, here, (7.0, 9e9, -z), here) for s, z in zip(("left", "right"), down, strict=True))
        return State("outward", words, Push(M, 2.0, 3.0), tuple(ends))

    first, second = (cast("MountForces", SimpleNamespace(combination=SimpleNamespace(id=id))) for id in ("first", "second"))
    found = [(first, [state("a", 4.0, 4.0), state("b", 5.0, 0.0)]), (second, [state("a", 1.0, 1.0), state("b", 3.0, -6.0)])]
    made = {"first": [state("x", 0.0, 0.0)] * 2, "second": [state("x", 0.0, 0.0), state("b", 2.5, -5.5, M=8.0)]}
    (only,) = force_sets(found, COMPONENTS["loose"], lambda handed: made[handed.combination.id])
    assert (only.sign, only.words, [v.at(0) for v in only.action]) == ("outward", "second; b", [2.0, 8.0, 3.0])
    assert [(words, values[0].at(0)) for words, values in only.rows] == [("piece 1, left end", 2.5), ("piece 1, right end", -5.5)]


def test_a_set_of_what_twists_is_of_the_state_with_the_largest_torque() -> None:
    """A section that takes the torque whole: not of the state that pushes an end sideways most."""
    here = (0.0, 0.0, 0.0)
    pushed, turned = (
        State("inward", words, Push(1.0, 1.0, 0.0), (Wrench("the joist", "left", here, (0.0, V, 0.0), (T, 0.0, 0.0)),))
        for words, V, T in (("pushed", 9e6, 1.0), ("turned", 1.0, -7.0))
    )
    handed = cast("MountForces", SimpleNamespace(combination=SimpleNamespace(id="c")))
    (only,) = force_sets([(handed, [pushed, turned])], COMPONENTS["twists"], lambda _: [pushed, turned])
    assert only.words == "c; turned" and [v.at(0) for v in only.rows[0][1]] == [1.0, 7.0]  # turning the drop side down is positive


def test_the_station_that_pushes_an_end_sideways_most_is_that_of_the_end() -> None:
    """1 kN of push at one station, 300 N m of twist at another, over 1 m, the mount 200 mm from the left; by hand.

    Left: 800 against 80 + 300; right: 200 against 20 + 300. A board across the glass gets the push along itself: only the twist.
    """
    M, F, M_z = ([1.0, 2.0, 3.0], [5e4, -1e3, 100.0], [9e9, 0.0, 3e5])
    level = Level("x", *(Value(np.array(x), k, GIVEN) for x, k in ((M, "moment"), (F, "force"), (M_z, "moment"))), ())
    for mode, side, at in (("loose", "left", 1), ("loose", "right", 2), ("bends", "left", 2), ("twists", "right", 2)):
        model = SimpleNamespace(span=SimpleNamespace(a=200.0, L=1000.0, mode=mode))
        counted = SimpleNamespace(counted=np.array([1, 2]))
        push = _sideways_most(model, level, counted, side)  # type: ignore[arg-type]
        assert (push.M, push.F, push.M_z) == (M[at], abs(F[at]), M_z[at]), (mode, side)


def test_the_table_is_of_the_mount_without_weight_and_of_all_combinations_in_any_order() -> None:
    """Weight stands in a row of its own; what presses and lifts cancels; an end is checked for the largest lift."""
    result = loose_with_a_screw_missing()
    walk, _ = walk_with(result)
    table = next(t for t in result.handed_on.tables if t.mount.model.name == "M1")
    assert all(len(row.values) == len(table.columns) == 4 for row in table.rows)
    assert table.pieces is not None
    assert np.abs(table.pieces.forces.sum(axis=1)).max() < 1e-6 * table.pieces.forces.max()
    every = [m for m in result.handed_on.mounts if m.model is table.mount.model and m.standing is Standing.REQUIRED]
    weak, strong = (
        replace(m, M_Ed=Value(np.asarray(m.M_Ed.x) * f, "moment", GIVEN)) for m, f in zip(every, (0.5, 1.0), strict=True)
    )
    weight = Value(247.0, "force", GIVEN)
    one, other = (force_table(walk, strong, order, weight) for order in ((weak, strong), (strong, weak)))
    assert [[v and v.at(0) for v in r.values] for r in one.rows] == [[v and v.at(0) for v in r.values] for r in other.rows]
    for side in ("left", "right"):
        lifts = [-v.at(0) for r in table.rows if r.at[1:] == (side, "down") for v in r.values if v is not None]
        assert max(lifts) == pytest.approx(demand(found(result, f"blocking.end.{side}.uplift.M1")), rel=STATICS)


def test_both_levels_of_the_table_are_in_equilibrium() -> None:
    """The ends add up to the action of their own level, about every axis; of a mount whose worst station is another, to that."""
    walk, handed = walk_with(loose_with_a_screw_missing())
    for level in _levels(handed):
        assert push_of(handed, level).M_z == pytest.approx(np.abs(np.asarray(level.M_z.x))[handed.counted].max(), rel=EXACT)
        for state in states(walk, handed, level) or ():
            force, moment = resultant(state)
            F, M = (np.array(v) for v in state.action)
            assert np.allclose(force, F, atol=1e-6 * np.abs(F).max()) and np.allclose(moment, M, atol=1e-6 * np.abs(M).max())
    other = int(handed.counted[-1])
    moved = replace(handed, worst=other)
    for only in _sets(walk, handed.model, [(moved, states(walk, moved, _levels(moved)[0]))]):
        acts = [abs(v.at(other)) for v in (handed.M_Ed, handed.F_Ed, handed.M_z)]
        assert [v.at(0) for v in (only.action[1], only.action[0], only.action[2])] == acts
    level = _levels(handed)[0]
    gone = level.corners[-1]._replace(contact=replace(level.corners[-1].contact, equilibrium=False))
    assert states(walk, handed, level._replace(corners=(*level.corners[:-1], gone))) is None


def test_a_piece_across_the_glass_bears_against_the_joist_it_is_pushed_to() -> None:
    """Outward the whole push comes to the drop-side ends, by the screws of each piece; the other end takes none of it."""
    walk, handed = walk_with(across_with_a_screw_missing())
    for level in _levels(handed):
        for state in states(walk, handed, level) or ():
            outward = state.sign == "outward"
            for w in state.wrenches:
                share = (1 / 3 if w.piece == "piece 1" else 2 / 3) * (1.0 if outward else -1.0)
                pushed = share * state.push.F if (w.side == "right") == outward else 0.0
                assert w.force[1] == pytest.approx(pushed, rel=EXACT), (state.label, w.piece, w.side)


# ---------------------------------------------------------------- loads in the plane of the glass


def test_loads_in_the_plane_that_inform_decide_no_end_and_those_that_decide_go_by_the_screws_of_a_piece() -> None:
    """One screw of four missing, two of three hold in one piece: it gets 2/3 where it got 1/2, and every end 4/3 of its force."""
    result = result_of("au_deck")
    walk, shares = walk_of(result), [s for s in result.handed_on.shares if s.model.name == "M1"]
    informs, decides = (next(s for s in shares if s.load.standing is t) for t in (Standing.INFORMATION, Standing.REQUIRED))
    assert list(in_plane_ends(walk, informs)) == []
    gone = replace(decides, model=replace(decides.model, screws=[s for s in decides.model.screws if s.name != "S1"]))
    full, fewer = ({c.id: demand(c) for c in in_plane_ends(walk, share)} for share in (decides, gone))
    assert full and {id: x / full[id] for id, x in fewer.items()} == pytest.approx(dict.fromkeys(full, 4 / 3), rel=EXACT)


# ---------------------------------------------------------------- what holds an end


def test_nails_at_an_end_go_through_the_width_of_the_joist_into_the_piece() -> None:
    """3 nails, the highest 150 mm above the lower and the lowest 140 mm below the upper edge of 195 mm: 95 mm apart, by hand."""
    seen: list[tuple[Driven, str]] = []

    class Asked:
        def driven_into_end(self, driven: Driven, combination: object, kind: str) -> NotChecked:
            seen.append((driven, kind))
            return NotChecked(Lack.BASIS, "asked")

        def end_grain(self, combination: object, kind: str) -> NotChecked:
            assert kind == "moment"
            return NotChecked(Lack.INPUT, "how many")

    job = job_named("garden_deck").with_({"joists.material.en": "C16"})
    sound_walk = Walk(job, Asked(), Tables(()), SOUND)  # type: ignore[arg-type]
    fixing = job_named("garden_deck").with_({
        "blocking.B1.left": {
            "fixing": "nails", "number": 3, "diameter": "3.1 mm", "length": "90 mm", "highest": "150 mm", "lowest": "140 mm",
        },
    }).blocking["B1"].left  # fmt: skip
    assert fixing is not None
    combination = mounts_of(result_of("garden_deck"))[0].combination
    piece = sound_walk.timber({"en": "C24"}, depth=Value(195.0, "length", GIVEN))

    def asked(timber: Timber | None = piece, **changes: object) -> Answer:
        return end_resistance(sound_walk, fixing.model_copy(update=changes), "torque", combination, timber)

    assert str(asked()).endswith("asked")
    driven, kind = seen[-1]
    assert kind == "moment" and (driven.kind, driven.number.at(0)) == ("nails", 3)
    assert [v.at(0) for v in (driven.d, driven.length, driven.side) if v is not None] == [3.1, 90.0, 45.0]
    assert driven.side_timber.names["en"] == "C16" and driven.timber.names["en"] == "C24"
    assert driven.apart is not None and driven.apart.at(0) == 95.0
    for edge in ("highest", "lowest"):
        asked(**{edge: None})
        assert seen[-1][0].apart is None
    asked(replace(piece, depth=None))
    assert seen[-1][0].apart is None and len(seen) == 4
    for lacking in (asked(None), asked(number=None)):  # several laminations are not one piece; nobody counted them
        assert isinstance(lacking, NotChecked) and lacking.text == "how many"
    beside = asked(grain="side")
    assert isinstance(beside, NotChecked) and beside.lack is Lack.BASIS and "side grain" in beside.text and len(seen) == 4


@pytest.mark.parametrize("kind", ["nails", "screws"])
def test_what_is_driven_into_end_grain_and_credited_with_nothing_is_named(kind: str) -> None:
    assert nothing_held(cast("EndFixing", SimpleNamespace(fixing=kind)), "uplift").startswith(f"{kind} driven through the joist")
    assert nothing_held(cast("EndFixing", SimpleNamespace(fixing="none")), "uplift") == "nothing that counts holds this end down"


# ---------------------------------------------------------------- the bare board


def boards_with(own: dict[str, object], **changes: object) -> Answer:
    """What the board's own screws hold at one joist."""
    handed = mounts_of(result_of("boards_only"))[0]
    given = {
        "decking.board_screws": {k: v for k, v in {**OWN, **own}.items() if v is not None},
        **{f"joists.material.{k}": v for k, v in changes.items()},
    }
    return _own_screws(replace(walk_of(result_of("boards_only")), job=job_named("boards_only").with_(given)), handed.combination)


def test_screws_of_the_boards_hold_in_the_joist_by_their_number() -> None:
    """n^0.9 of one, and rho_k^0.8 of the joist (EN 1995-1-1 8.7.2; C16 310, C24 350 kg/m3, EN 338:2016); boards stay C24."""
    one, three, light, short, unmeasured = (
        boards_with({"number": 1}), boards_with({}), boards_with({}, en="C16"), boards_with({"length": "33 mm"}),
        boards_with({"root": None}),
    )  # fmt: skip
    assert isinstance(one, Value) and isinstance(three, Value) and isinstance(light, Value)
    assert three.at(0) / one.at(0) == pytest.approx(3**0.9, rel=1e-9)
    assert light.at(0) / three.at(0) == pytest.approx((310 / 350) ** 0.8, rel=1e-9)
    assert isinstance(short, NotChecked) and "do not reach" in short.text  # 28 mm of board and a tip of 6: 33 mm are in nothing
    assert isinstance(unmeasured, NotChecked) and unmeasured.lack is Lack.INPUT
    # 80 mm of thread in 120 of screw: all but the tip; in 100 mm of screw the board takes 8 more.
    assert [of(THREAD, l_thr=80, L=L, t_d=28, l_tip=6) for L in (120, 100)] == [74.0, 66.0]


def test_a_push_on_a_board_goes_to_the_nearer_joist_with_the_twist() -> None:
    for a in (100.0, 350.0):  # 1 kN 100 mm from one of two joists 450 mm apart, and 45 N m of twist either way
        assert of(PUSHED, F_Ed=-1e3, a=a, L_j=450, M_z_Ed=45e3) == pytest.approx(1e3 * 350 / 450 + 45e3 / 450, rel=EXACT)


def test_what_a_mount_stands_on_is_said_once_and_boards_alone_loud() -> None:
    on_boards, on_blocking = ([f for r in result_of(n).links for f in r.findings] for n in ("boards_only", "garden_deck"))
    (bare,) = (f for f in on_boards if f.text.startswith("There is no blocking"))
    assert bare.loud and not any(f.text.startswith("There is no blocking") for f in on_blocking)
    assert [f.text.startswith("Blocking end fixings often govern") for f in on_blocking].count(True) == 1
    assert not any(f.text.startswith("Blocking end fixings often govern") for f in on_boards)
    assert any(f.loud and f.text.startswith("Factor on the support") for f in on_blocking)
    link = next(r for r in result_of("garden_deck").links if r.id == "blocking")
    assert {"factor on the support, mount M1", "factor on the support, mount M2"} <= {s.title for s in link.shown}
    heads = {head: finding(cast("BoardScrews", SimpleNamespace(head=head))).text for head in (None, Value(8.0, "length", GIVEN))}
    assert [("Pull-through" in text) for text in heads.values()] == [False, True] and finding(None).loud


def test_an_edge_joist_carries_other_load_too_which_is_said_loud() -> None:
    handed = cast("MountForces", SimpleNamespace(model=SimpleNamespace(name="M1", mount=SimpleNamespace(restraint=""))))
    said = edge_joist_finding(handed)
    assert said.loud and "does not say what keeps it from turning" in said.text


def test_a_load_in_the_plane_is_small_in_proportion_and_looked_at_all_the_same() -> None:
    """A thousandth of everything on a mount is a thousandth at every end, and none is left out; the right mirrors the left."""
    result = result_of("us_deck")
    walk, shares = walk_of(result), [s for s in result.handed_on.shares if s.load.standing is Standing.REQUIRED]
    forces = ("down", "turn", "push", "weight", "pressing")
    for share in shares[:2]:
        small = {name: Value(np.asarray(getattr(share, name).x) * 1e-3, getattr(share, name).kind, GIVEN) for name in forces}
        full, less = ({c.id: demand(c) for c in in_plane_ends(walk, s)} for s in (share, replace(share, **small)))
        assert full and less == pytest.approx({id: x * 1e-3 for id, x in full.items()}, rel=1e-9)
    left = of(LEFT_OF_PLANE, r_n=0.5, N_e=900, L_b=400, a=100, M_along=2e4)
    assert left == of(RIGHT_OF_PLANE, r_n=0.5, N_e=900, L_b=400, a=300, M_along=2e4) == 0.5 * (900 * 300 + 2e4) / 400
    (unfollowed,) = in_plane_ends(walk, replace(shares[0], model=replace(shares[0].model, blocking=None)))
    assert unfollowed.standing is Standing.REQUIRED and unfollowed.ending is Ending.NOT_CHECKED
    assert unfollowed.demand is shares[0].total


def test_loose_pieces_are_in_equilibrium_with_their_mount_however_the_lever_is_held() -> None:
    """What comes on each piece at its distance from the mount, and its torque: together M + F (28 + 120/2), and the weight."""
    walk, handed = walk_with(loose_with_a_screw_missing())
    on = actions_on_pieces(walk, forces_on_pieces(handed, handed.with_weight))
    M, F = abs(handed.M_Ed.at(handed.worst)), abs(handed.F_Ed.at(handed.worst))
    centres = np.array([p.centre for p in handed.model.pieces])
    force, torque, way = (x.reshape(len(on.states), 2) for x in (on.force, on.torque, on.sign))
    assert len(on.states) == 2 * len(handed.with_weight)
    assert force @ centres + torque.sum(axis=1) == pytest.approx(way[:, 0] * (M + F * (28 + BREADTH / 2)), rel=1e-6)
    for state, P, sign in zip(on.states, force.sum(axis=1), way[:, 0], strict=True):
        assert ("outward" in state) == (sign > 0.0)
        assert pytest.approx(float(handed.weight.x) if "weight on it" in state else 0.0, abs=1e-2) == P
    assert isinstance(on.P.origin, Step)
    pull = on.P.origin.inputs["T_pc"]
    assert isinstance(pull.origin, Numerical) and pull.origin.hand is not None
    assert ((np.asarray(pull.x) > 0.0) == (np.asarray(pull.origin.hand.x) > 0.0)).all()  # by hand a row pulls where it is pulled
    assert np.asarray(on.P.x) == pytest.approx(np.abs(on.force)) and np.asarray(on.T_own.x) == pytest.approx(np.abs(on.torque))


# ---------------------------------------------------------------- figures that are shown beside


def test_the_factor_on_an_uncertain_fixing_is_laid_on_the_worst_that_decides_of_its_own_mount() -> None:
    """1.5 of 0.6 and of 0.65 is below 1, of 3.0 it exceeds. What informs, another mount and a sum of squares are not meant.

    Ends nobody could compare are no smaller for that: their number is said beside a worst one that is below 1.
    """
    result = result_of("garden_deck")
    walk, mounts = walk_of(result), mounts_of(result)

    def made(about: About, *eta: float, informs: bool = False, squares: bool = False) -> Check:
        return Check(
            about, about.id, Ending.WITHIN, Standing.INFORMATION if informs else Standing.REQUIRED,
            utilisation=Value(np.array(eta), "ratio", GIVEN), station=len(eta) - 1, squares=squares,
        )  # fmt: skip

    pulled, sideways = (About("screws", what, mount="M1") for what in ("withdrawal", "sideways"))
    end = About("blocking", "end", mount="M1")
    fixings = [
        made(pulled, 0.4), made(sideways, 0.1, 0.6), made(sideways, 0.9, informs=True), made(sideways, 0.8, squares=True),
        made(replace(pulled, mount="M2"), 3.0), made(end, 0.2, 0.65), made(end, 0.5),
        made(About("screws", "edge", mount="M1"), 0.95), not_checked(replace(end, way="uplift"), "", NotChecked(Lack.INPUT, "")),
        not_checked(replace(pulled, mount="M2"), "", NotChecked(Lack.INPUT, ""), Standing.INFORMATION),
    ]  # fmt: skip
    shown, (said,) = on_support(walk, mounts, fixings)
    assert said.loud and said.text.startswith("Factor on the support")
    assert on_support(walk, (), fixings) == ((), ())
    moments = {s.mount: s.value.at(0) for s in shown if s.mount}
    worst = {m.model.name: m.M_worst.at(0) for m in leading(mounts)}
    assert moments == pytest.approx({name: 1.5 * M for name, M in worst.items()}, rel=EXACT)  # BS 6180: half more, from memory
    others = "; of the others 1 have no utilisation at all and may be worse"
    assert {s.title.replace(" with that factor", ""): (round(s.value.at(0), 9), s.remark) for s in shown if not s.mount} == {
        "worst of the screws of mount M1: screws.sideways.M1": (0.9, "below 1.00 even so"),
        "worst of the end fixings of mount M1: blocking.end.M1": (0.975, f"below 1.00 even so{others}"),
        "worst of the screws of mount M2: screws.withdrawal.M2": (4.5, "EXCEEDS if it is uncertain"),
    }


def test_torsion_of_a_yielded_square_is_a_third_of_its_side_cubed() -> None:
    """T = tau b^3/3 of a square heap of sand (Nadai) and tau 0.208 b^3 elastic (Timoshenko and Goodier): 0.624 of the stress."""
    assert of(PLASTIC, alpha=0.208, h_l=100, tau_tor=3.0, b_l=100) == pytest.approx(3.0 * 0.208 * 3, rel=EXACT)


def test_torsion_shown_for_scale_is_that_of_the_check_in_its_own_combination() -> None:
    """Elastic stress over the shear strength of the job, and over f_tor,d of EN 1995-1-1 (6.14) with gamma_Q = 1.5."""
    result = result_of("us_deck")
    twisted = found(result.sound, "blocking.torsion.M1")
    walk = walk_of(result)
    every = [m for m in mounts_of(result) if m.model.name == "M1"]
    handed = next(m for m in every if m.combination.id == twisted.combination)
    section = section_under(walk, handed)
    assert section is not None
    shown = [s.value.at(s.station) for s in torsion_for_scale(walk, section, [twisted], every)]
    f_v = walk.basis.shear(section.timber, handed.combination)
    assert isinstance(f_v, Value)
    b, h = sorted((float(section.b_s.x), float(section.h_s.x)))
    T = demand(twisted) / float(torsion.max_shear(1.0, h, b))
    f_tor = 4.0 * min(1 + 0.05 * h / b, 1.3) * 0.7 / 1.3  # C24 of EN 338:2016, service class 3, short-term
    wanted = [demand(twisted) / f_v.at(0), T * 6 / (b**2 * (3 * h - b)) / f_v.at(0), 1.5 * demand(twisted) / f_tor]
    assert shown == pytest.approx(wanted, rel=1e-6)


def test_what_another_family_says_of_a_loose_piece_is_by_hand_and_only_where_it_applies() -> None:
    """New Zealand has none of these; of EN 1995-1-1: 14 b (h_e/(1 - h_e/h))^0.5, f_v with 1 + 0.05 h/b, the bracket's rating.

    Screws right through the piece split nothing, one section has its torsion elsewhere, an end of nothing has no strength.
    """
    result = result_of("garden_deck")
    handed = mounts_of(result)[0]
    walk = replace(walk_of(result), basis=basis_named("nz", "", Tables(()), {}))
    model, block = handed.model, handed.model.blocking
    assert block is not None and block.left is not None

    def shown(screw: float = 180.0, pieces: int = 2, **ends: object) -> dict[str, float]:
        mount = model.mount.model_copy(
            update={"screw": model.mount.screw.model_copy(update={"length": Value(screw, "length", GIVEN)})}
        )
        changed = replace(model, mount=mount, blocking=block.model_copy(update=ends), pieces=model.pieces[:pieces])
        return {s.title.partition(",")[0]: s.value.at(0) for s in loose_for_scale(walk, replace(handed, model=changed))}

    factor = 0.7 / 1.3  # k_mod of service class 3, short-term, and gamma_M of solid timber
    every = {
        "splitting of one piece pulled up": 14 * BREADTH * (137 / (1 - 137 / DEPTH)) ** 0.5 * factor,
        "torsion strength of one piece": 4.0 * (1 + 0.05 * DEPTH / BREADTH) * factor,
        "left end of one piece": 8e3 * factor, "right end of one piece": 1e4 * factor,
    }  # fmt: skip
    left = block.left.model_copy(update={"uplift": Value(8e3, "force", GIVEN)})
    assert shown(left=left) == pytest.approx(every, rel=1e-9)
    end = "left end of one piece"
    for fewer, gone in (
        (shown(left=left, screw=300.0), "splitting of one piece pulled up"),
        (shown(left=left, pieces=1), "torsion strength of one piece"),
        (shown(left=left.model_copy(update={"fixing": "none"})), end),
        (shown(left=left.model_copy(update={"uplift": None})), end),
        (shown(left=None), end),
    ):
        assert set(every) - set(fewer) == {gone}


def test_bending_and_shear_of_wood_that_only_another_family_knows_are_both_shown() -> None:
    """C24 in a job of New Zealand: EN 338:2016 with k_mod and gamma_M, and k_cr = 0.67 in shear."""
    result = result_of("garden_deck")
    walk = replace(walk_of(result), basis=basis_named("nz", "", Tables(()), {}))
    link, _ = blocking(walk, result.handed_on.panels, mounts_of(result), (), ())
    shown = {s.title.partition(",")[0]: s.value.at(0) for s in link.shown if ", mount M1, by the Eurocode" in s.title}
    for what, f_k in (("bending", 24.0), ("shear", 0.67 * 4.0)):
        assert shown[f"{what} of the blocking"] == pytest.approx(f_k * 0.7 / 1.3, rel=1e-9)


def test_the_edge_joist_is_as_wide_and_deep_as_the_joists_and_turns_over_where_nobody_holds_it() -> None:
    result = result_of("garden_deck")
    handed, walk = mounts_of(result)[0], walk_of(result)
    (turning,) = edge_joist(walk, handed)  # no restraint_spacing in this job
    assert turning.standing is Standing.REQUIRED and turning.lack is Lack.INPUT and demand(turning) == handed.M_worst.at(0)
    restrained = {"joists.restraint_spacing": "600 mm", "joists.restraint": {"fixing": "none"}}
    held = replace(walk, job=job_named("garden_deck").with_(restrained))
    section = edge_section(held, handed)
    assert section is not None and section.timber.depth is not None
    assert [float(v.x) for v in (section.b_s, section.h_s, section.timber.depth, section.L_b)] == [45.0, 195.0, 195.0, 600.0]
    assert [(side, fixing and fixing.fixing) for side, fixing in section.ends] == [("left", "none"), ("right", "none")]


def test_a_section_of_several_laminations_is_not_one_piece_with_so_many_nails() -> None:
    piece = walk_of(result_of("garden_deck")).timber({"en": "C24"})
    for pieces, timber in ((1, None), (2, piece)):
        assert _timber(cast("MountModel", SimpleNamespace(pieces=[None] * pieces)), piece) is timber


def test_a_board_is_as_strong_as_boards_whatever_the_joists_are_of() -> None:
    """f_v,k of EN 338:2016: C24 4.0, C16 3.2. Joists of C16 change nothing, boards of C16 are 0.8 of C24 against twisting."""
    result = result_of("boards_only")
    handed = mounts_of(result)[0]

    def twisted(**of_c16: str) -> float:
        job = job_named("boards_only").with_({f"{part}.material.en": "C16" for part in of_c16})
        return resistance(next(c for c in boards(replace(walk_of(result), job=job), handed) if c.about.kind == "board"))

    assert twisted(joists="C16") == twisted() and twisted(decking="C16") / twisted() == pytest.approx(0.8, rel=1e-9)


@pytest.mark.parametrize("changes", [{"joists.spacing": "190 mm"}, {"joists.direction": "along"}])
def test_nothing_of_a_board_that_no_two_joists_hold_is_checked_and_all_of_it_says_why(changes: dict[str, str]) -> None:
    """The mount 200 mm from the left joist: board, screws and push each give that reason, and not one that is not true."""
    result = result_of("boards_only")
    made = list(boards(replace(walk_of(result), job=job_named("boards_only").with_(changes)), mounts_of(result)[0]))
    assert [c.about.kind for c in made] == ["board", "screws", "push"]
    for c in made:
        assert c.standing is Standing.REQUIRED and c.lack is Lack.INPUT and next(iter(changes)) in c.reason


def test_each_mount_hands_on_the_weight_of_its_own_panel(monkeypatch: pytest.MonkeyPatch) -> None:
    result = result_of("garden_deck")
    mounts, weights = mounts_of(result), {"M1": 200.0, "M2": 300.0}
    panels = [SimpleNamespace(mounts=[m.model]) for m in leading(mounts)]
    module = sys.modules["barrier.links.blocking.blocking"]
    monkeypatch.setattr(module, "weight_on", lambda walk, p: Value(weights[p.mounts[0].name], "force", GIVEN))
    _, tables = blocking(walk_of(result), panels, mounts, (), ())  # type: ignore[arg-type]
    found_there = {
        t.mount.model.name: [v and v.at(0) for r in t.rows if r.words.startswith("weight") for v in r.values] for t in tables
    }
    assert found_there == {name: [x] * 4 for name, x in weights.items()}


def test_every_combination_that_decides_is_looked_at_below_a_mount() -> None:
    """Not that of the largest moment alone: a wind that twists the mount a hundred times as much decides what is held sideways."""
    result = result_of("garden_deck")
    twisting = [
        replace(m, M_z=Value(np.full(len(m.labels), 5e6), "moment", GIVEN)) if m.combination.id == "ultimate, wind" else m
        for m in mounts_of(result)
    ]
    assert "ultimate, wind" not in {m.combination.id for m in leading(twisting)}
    link, _ = blocking(walk_of(result), result.handed_on.panels, twisting, (), ())
    sideways = next(c for c in link.checks if c.id == "blocking.end.left.sideways.M1")
    assert sideways.combination == "ultimate, wind" and demand(sideways) > 5e6 / LENGTH / 2


def test_pieces_across_the_glass_of_wood_glued_in_a_factory_have_its_partial_factor() -> None:
    """gamma_M 1.25 of glued laminated timber where solid timber has 1.3, EN 1995-1-1 Table 2.3."""
    walk, handed = walk_with(across_with_a_screw_missing())
    block = handed.model.blocking
    assert block is not None
    glued = replace(handed, model=replace(handed.model, blocking=block.model_copy(update={"laminated": "factory"})))
    solid, stronger = ({c.about.kind: c for c in across(walk, h)} for h in (handed, glued))
    for what in ("bending", "shear", "torsion"):
        assert resistance(stronger[what]) / resistance(solid[what]) == pytest.approx(1.3 / 1.25, rel=1e-9)


def test_the_own_screws_of_a_board_are_shown_the_push_of_the_worst_station() -> None:
    result = result_of("boards_only")
    handed = mounts_of(result)[0]
    pushed = next(c for c in boards(walk_of(result), handed) if c.about.kind == "push")
    F, M_z = np.abs(handed.F_Ed.x)[handed.counted], np.abs(handed.M_z.x)[handed.counted]
    assert demand(pushed) == pytest.approx((F * 250 + M_z).max() / 450, rel=STATICS)


def test_loads_in_the_plane_are_compared_with_the_rating_of_their_own_end_and_direction() -> None:
    result = result_of("us_deck")
    share = next(s for s in result.handed_on.shares if s.load.standing is Standing.REQUIRED)
    block = share.model.blocking
    assert block is not None and block.left is not None
    rated = {("left", "uplift"): 8e3, ("left", "down"): 2e3, ("right", "uplift"): 6e3, ("right", "down"): 3e3}
    ends = {
        side: block.left.model_copy(update={way: Value(R, "force", GIVEN) for (s, way), R in rated.items() if s == side})
        for side in ("left", "right")
    }
    changed = replace(share, model=replace(share.model, blocking=block.model_copy(update=ends)))
    lifted = replace(changed, down=Value(-10.0 * np.abs(share.down.x), "force", GIVEN))
    made = {(c.about.side, c.about.way): c for s in (changed, lifted) for c in in_plane_ends(walk_of(result), s)}
    assert set(made) == set(rated)
    factor = resistance(made["left", "uplift"]) / 8e3
    for (side, way), c in made.items():
        assert resistance(c) == pytest.approx(rated[side, way] * factor, rel=EXACT), (side, way)
        assert c.title.startswith(f"{side} end of the blocking held {'down' if way == 'uplift' else 'up'},")
        assert c.combination == share.load.combination.id


def test_no_force_is_handed_on_where_one_end_of_the_bracket_has_no_equilibrium_or_no_end_hands_on() -> None:
    """Stiff or soft may be the true one; and a bare board is no piece of blocking with ends of its own."""
    walk, handed = walk_with(loose_with_a_screw_missing())
    gone = replace(handed)
    first, *others = handed.at_design
    vars(gone)["at_design"] = (first._replace(contact=replace(first.contact, equilibrium=False)), *others)
    table = force_table(walk, gone, [gone], Value(1.0, "force", GIVEN))
    assert table.pieces is None and table.sets == ()
    assert all(row.values[0] is None for row in table.rows if row.at)
    assert not any(row.at for t in result_of("boards_only").handed_on.tables for row in t.rows)


def test_screws_right_through_a_piece_split_nothing_and_the_largest_pull_is_shown() -> None:
    result = result_of("garden_deck")
    walk, handed = walk_of(result), mounts_of(result)[0]
    screw = SimpleNamespace(length=Value(250.0, "length", GIVEN))  # of which 207 mm are in 195 mm of wood
    model = SimpleNamespace(
        name="M1", blocking=handed.model.blocking, mount=SimpleNamespace(screw=screw), z_blocking=handed.model.z_blocking
    )
    on = SimpleNamespace(model=model, force=np.array([1e3, -2e3, -3e3]), labels=("pressed", "pulled", "pulled more"))
    (only,) = at_the_mount(walk, on, Value(np.array([700.0, 1400.0, 2100.0]), "force", GIVEN, "V_end"), handed.combination)  # type: ignore[arg-type]
    assert (only.standing, only.lack) == (Standing.INFORMATION, Lack.RANGE) and demand(only) == 2100.0


def test_the_lever_of_the_push_turns_the_piece_with_more_screws_more() -> None:
    """From the couple to the turning of a state each end gets F (28 + 120/2) more torque, by screws and by place."""
    walk, handed = walk_with(loose_with_a_screw_missing())
    level = _levels(handed)[0]
    push = push_of(handed, level)
    torque = {(s.label, s.push.M_z, w.piece, w.side): -w.moment[0] for s in states(walk, handed, level) or () for w in s.wrenches}
    for corner in level.corners:
        way = 1.0 if corner.sign == "outward" else -1.0
        for piece, share in (("piece 1", 1 / 3), ("piece 2", 2 / 3)):
            for side, arm in (("left", 150.0), ("right", 255.0)):
                couple, turning = (torque[f"{corner.label}, {lever}", push.M_z, piece, side] for lever in LEVERS)
                assert turning - couple == pytest.approx(way * push.F * (28 + BREADTH / 2) * share * arm / LENGTH, rel=1e-6)
    assert below(walk, handed.model, BREADTH) == 28 + BREADTH / 2
    board = result_of("boards_only")
    assert below(walk_of(board), mounts_of(board)[0].model, 28.0) == 14.0


def test_what_pieces_across_the_glass_hand_on_is_what_their_ends_are_checked_for() -> None:
    """Two routes to the same end: reactions by the printed equations, and forces in space; with the torque of each piece."""
    walk, handed = walk_with(across_with_a_screw_missing())
    on, turned = AcrossActions(walk, handed), forces_on_pieces(handed, handed.at_design).own_moments
    made = states(walk, handed, _levels(handed)[0]) or ()
    for k, state in enumerate(made[: len(handed.at_design)]):
        for i, w in enumerate(state.wrenches):
            R, share = (on.R_1, 255.0) if w.side == "left" else (on.R_2, 150.0)
            assert -w.force[2] == pytest.approx(R.at(2 * k + i // 2), rel=1e-6, abs=1e-3)
            assert COMPONENTS["bends"][-1].of(w) == pytest.approx(turned[k][i // 2] * share / LENGTH, rel=1e-6, abs=1.0)
    assert made and np.abs(turned).max() > 1e3


# ---------------------------------------------------------------- branches nothing went through


@for_each("way", ["uplift", "down", "sideways", "torque"])
def test_an_end_that_nothing_holds_has_no_resistance_and_side_grain_no_rule(way: str) -> None:
    """``none`` is known to hold nothing, and so it exceeds; what stands in side grain is not known to hold, and is not checked."""
    for name in ("everyday_deck", "us_deck", "au_deck"):
        walk, handed = walk_with(result_of(name), mounts_of(result_of(name))[0].combination.id)
        block = handed.model.blocking
        assert block is not None
        timber = walk.timber(block.material, depth=block.long_side)
        nothing, in_side_grain = (SimpleNamespace(fixing=f, grain=g) for f, g in (("none", "end"), ("screws", "side")))
        none = end_resistance(walk, cast(EndFixing, nothing), way, handed.combination, timber)
        assert isinstance(none, Value) and float(none.x) == 0.0
        beside = end_resistance(walk, cast(EndFixing, in_side_grain), way, handed.combination, timber)
        assert isinstance(beside, NotChecked) and beside.lack is Lack.BASIS and "side grain" in beside.text


def test_only_a_mount_on_an_edge_joist_is_said_to_stand_on_one() -> None:
    for name, number in (("everyday_deck", 0), ("boards_only", 0)):
        link = next(r for r in result_of(name).sound.links if r.id == "blocking")
        edge = edge_joist_finding(mounts_of(result_of(name))[0]).text if name == "everyday_deck" else "edge joist"
        assert sum(f.text == edge or "an edge joist" in f.text for f in link.findings) == number
    changes = {"mounts.M1.support": "edge joist", "mounts.M1.blocking": None, "joists.width": "145 mm", "joists.spacing": "600 mm"}
    walked = sound(job_named("everyday_deck").with_({**changes, "joists.restraint_spacing": "600 mm"}))
    link = next(r for r in walked.links if r.id == "blocking")
    lead = next(f for f in leading(mounts_of(walked)) if f.model.name == "M1")
    assert [f.text for f in link.findings].count(edge_joist_finding(lead).text) == 1


def test_ties_between_loose_pieces_inform_and_are_not_credited() -> None:
    ties = {"fixing": "screws", "number": 2, "diameter": "6 mm", "length": "80 mm"}
    walked = sound(job_named("everyday_deck").with_({"blocking.B1.ties": ties}))
    tied = [c for c in walked.checks if c.about.kind == "ties"]
    assert [c.about.mount for c in tied] == ["M1", "M2"]
    assert all(c.standing is Standing.INFORMATION and c.ending is Ending.NOT_CHECKED for c in tied)
    assert all(c.demand is not None and c.demand.at(c.station) > 0.0 for c in tied)
    loose = {c.id: c.eta for c in result_of("everyday_deck").sound.checks}
    assert {c.id: c.eta for c in walked.checks if c not in tied} == loose  # nothing gets better by them
