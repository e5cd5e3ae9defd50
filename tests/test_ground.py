"""What a mount may stand on beside loose pieces: the edge joist, the bare board; what it presses beneath the decking.

Statics are derived here by hand; the jobs are invented. That joists stand 450 mm apart is common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from conftest import job_named, result_of, sound

from barrier.equation import Step
from barrier.links.ground import base_stiffness
from barrier.links.ground.pieces import Piece
from barrier.links.joist.give import SLIP_ACROSS
from barrier.links.mount.bearing import _spread_area
from barrier.links.mount.resistances import screws_in_tension
from barrier.load_path import Result, check
from barrier.mechanics import contact, torsion
from barrier.mechanics.polygons import rectangle
from barrier.result import Check, Ending
from barrier.value import JobEntry, Value

STATICS = 1e-9  # relative; the same sums in another order

EDGE = {
    "mounts.M1.support": "edge joist", "mounts.M1.blocking": None, "mounts.M2.support": "edge joist", "mounts.M2.blocking": None,
    "joists.width": "145 mm", "joists.restraint_spacing": "600 mm",
}  # fmt: skip
BRACKET = {"fixing": "bracket", "torque": "1.2 kN m", "meaning": "characteristic", "reference": "invented test"}


def test_an_edge_joist_lies_about_its_line_and_the_mount_beside_it() -> None:
    """145 mm wide, the mount 10 mm inside its middle: from 82.5 mm one way to 62.5 the other, its middle 10 mm off."""
    job = job_named("garden_deck").with_({**EDGE, "mounts.M1.offset": "10 mm"})
    model = next(h.model for h in sound(job).handed_on.mounts)
    (piece,) = model.pieces
    assert (piece.low, piece.centre, piece.high) == (-82.5, -10.0, 62.5)


@pytest.mark.parametrize("M", [-7.3e5, 0.0, 1.0, 4.4e5])
def test_under_a_moment_alone_a_mount_on_an_elastic_bed_is_solved_once_and_scaled(M: float) -> None:
    """Against the solution at that very moment; with weight, or a strength of the bed, nothing is scaled."""
    model = result_of("garden_deck").handed_on.mounts[0].model
    for bed, end in (("soft", "stiff"), ("stiff", "soft")):
        for N, f in ((0.0, None), (1.0, None), (250.0, None), (0.0, 2.5)):
            here = model.solve(bed, end, M, f, N=N)
            there = contact.solve(model.bed(bed, f), model.contact_screws(end, True), N, M, 0.0)
            assert here.equilibrium and there.equilibrium
            assert here.T.tolist() == pytest.approx(there.T.tolist(), rel=STATICS)
            assert (here.p_max, here.area, here.u0, here.r_x) == pytest.approx(
                (there.p_max, there.area, there.u0, there.r_x), rel=1e-8
            )
            assert here.zone_force == pytest.approx(there.zone_force, rel=1e-8)


def test_what_bears_beneath_the_decking_is_where_there_is_a_piece() -> None:
    """By hand: the plate 150 by 150 mm pressed over half of it spreads 28 mm each way; of a piece beside that nothing bears."""
    mounted = result_of("garden_deck").handed_on.mounts[0].model
    plate = contact.Zone(rectangle(-75, 75, -75, 75), "near")
    pressed = SimpleNamespace(neutral_axis=(0.0, -1.0, 0.0), area=150 * 75.0)  # y above 0
    near, aside, beyond = (
        Piece("near", rectangle(-400, 400, 0, 45), 22.5, 0, 45), Piece("aside", rectangle(200, 400, 0, 45), 22.5, 0, 45),
        Piece("beyond", rectangle(-400, 400, 110, 155), 132.5, 110, 155),
    )  # fmt: skip
    for pieces in ((near,), (near, aside), (near, beyond), (aside, near, beyond)):
        model = replace(mounted, zones=(plate,), pieces=pieces)
        assert _spread_area(model, pressed, 28.0) == pytest.approx((150 + 2 * 28) * 45)  # type: ignore[arg-type]


def found(result: Result, id: str) -> Check:
    return next(c for c in result.sound.checks if c.id == id)


def moment_and_push(result: Result) -> tuple[float, float]:
    handed = result.handed_on.mounts[0]
    return handed.M_worst.at(0), abs(handed.F_Ed.at(handed.worst))


def test_the_screws_of_the_row_that_lifts_pull_at_once() -> None:
    """Four screws in two rows: two pull and share, the others lie where the plate is pressed."""
    assert screws_in_tension(result_of("garden_deck").handed_on.mounts[0].model) == 2


def test_a_spacing_is_between_two_screws_that_are_named() -> None:
    check_of = result_of("garden_deck")["screws.a1.M1"]
    assert check_of.resistance is not None and isinstance(check_of.resistance.origin, Step)
    what = check_of.resistance.origin.inputs["s"].origin.title  # type: ignore[union-attr]
    assert re.fullmatch(r".*\bS[1-4]\b.*\bS[1-4]\b.* \(mounts\.M1\)", what), what


def test_pieces_across_turn_as_two_springs_let_them() -> None:
    """Two springs 400 mm apart under a stiff bar with a torque on it, as a system of two equations: how far the bar turns."""
    T, n, L, left, right = 7e5, 3.0, 400.0, 900.0, 1700.0
    K = np.array([[left + right, (right - left) * L / 2], [(right - left) * L / 2, (left + right) * L**2 / 4]])
    turn = float(np.linalg.solve(K, [0.0, T / n])[1])
    given = {
        "T_J": (T, "moment"),
        "n_p": (n, "count"),
        "L_b": (L, "length"),
        "K_l": (left, "stiffness"),
        "K_r": (right, "stiffness"),
    }
    found = SLIP_ACROSS(**{name: Value(x, kind, JobEntry(name, str(x))) for name, (x, kind) in given.items()})
    assert found.at(0) == pytest.approx(turn, rel=STATICS)


# ---------------------------------------------------------------- edge joist


def test_an_edge_joist_takes_the_whole_torque() -> None:
    """Statics by hand: moment and push about the middle of the joist; the nearer holding point takes more."""
    result = check(job_named("garden_deck").with_({**EDGE, "joists.restraint": BRACKET}))
    M, F = moment_and_push(result)
    job = result.job
    depth, boards = float(job.joists.depth.x), float(job.decking.thickness.x)  # type: ignore[union-attr]
    a, L = float(job.mounts[0].in_bay.x), 600.0
    T_end = (M + F * (boards + depth / 2)) * max(a, L - a) / L
    T = M + F * (boards + depth / 2)
    for side, T_side in (("left", T * (L - a) / L), ("right", T * a / L)):
        held = found(result, f"edge_joist.end.{side}.torque.M1")
        assert held.demand is not None and held.demand.at(held.station) == pytest.approx(T_side, rel=STATICS)
        assert held.eta is not None
    turned = found(result, "edge_joist.torsion.M1")
    tau = float(torsion.max_shear(T_end, depth, 145.0)) if depth > 145.0 else float(torsion.max_shear(T_end, 145.0, depth))
    assert turned.demand is not None and turned.demand.at(turned.station) == pytest.approx(tau, rel=1e-9)


def test_an_edge_joist_nothing_is_known_of_is_not_checked() -> None:
    """How far apart it is held, and by what: each missing entry is named, and nothing is assumed for it."""
    unheld = check(job_named("garden_deck").with_({**EDGE, "joists.restraint_spacing": None}))
    whole = found(unheld, "edge_joist.whole.M1")
    assert whole.ending is Ending.NOT_CHECKED and "joists.restraint_spacing" in whole.reason
    free = check(job_named("garden_deck").with_(EDGE))
    assert found(free, "edge_joist.end.left.torque.M1").ending is Ending.NOT_CHECKED
    nailed = check(job_named("garden_deck").with_({**EDGE, "joists.restraint": {"fixing": "none"}}))
    assert found(nailed, "edge_joist.end.left.torque.M1").ending is Ending.EXCEEDS
    assert unheld.ending is not Ending.WITHIN and free.ending is not Ending.WITHIN
    bare = check(job_named("garden_deck").with_({**EDGE, "joists.width": None}))
    assert any("joists.width" in c.reason for c in bare.sound.checks)


def test_a_narrow_edge_joist_holds_fewer_screws() -> None:
    """A 45 mm joist under screws at 50 mm and more from the middle: they stand beside it and hold nothing."""
    result = check(job_named("everyday_deck").with_({**EDGE, "joists.width": "45 mm"}))
    assert found(result, "screws.withdrawal.M1").ending is Ending.EXCEEDS
    texts = [f.text for r in result.links for f in r.findings]
    assert any("Screw S1 of mount M1 is in no timber" in t for t in texts)
    assert any("stands on the edge joist" in t for t in texts)


# ---------------------------------------------------------------- the bare board

OWN = {"number": 3, "diameter": "6 mm", "root": "4 mm", "length": "120 mm", "threaded": "80 mm"}


def test_a_board_along_the_glass_is_twisted() -> None:
    """Torque by hand to the nearer joist, and the least pull its own screws can have for it: over the whole width."""
    result = check(job_named("boards_only").with_({"decking.board_screws": OWN}))
    M, F = moment_and_push(result)
    t, b, a, L = 28.0, 140.0, 200.0, 450.0
    T_end = (M + F * t / 2) * max(a, L - a) / L
    board, own = found(result, "boards.board.M1"), found(result, "boards.screws.M1")
    assert board.demand is not None and own.demand is not None
    assert board.demand.at(board.station) == pytest.approx(float(torsion.max_shear(T_end, b, t)), rel=1e-9)
    assert own.demand.at(own.station) == pytest.approx(T_end / b, rel=STATICS)
    assert board.ending is Ending.EXCEEDS


def test_a_bound_on_the_low_side_never_comes_out_within() -> None:
    """Where the board's screws stand is not in the job, so strong ones are not checked, and weak ones exceed."""
    strong = check(job_named("boards_only").with_({"decking.board_screws": {**OWN, "number": 8}}))
    assert found(strong, "boards.screws.M1").ending is Ending.NOT_CHECKED
    weak = check(job_named("boards_only").with_({"decking.board_screws": {**OWN, "number": 1, "length": "66 mm"}}))
    assert found(weak, "boards.screws.M1").ending is not Ending.WITHIN


def test_a_board_across_the_glass_is_bent() -> None:
    """A moment on a beam held at two joists: M/L at its ends, the larger side of it in bending; M with the lever of the push."""
    changes = {"decking.direction": "across", "joists.direction": "along", "decking.board_screws": OWN}
    result = check(job_named("boards_only").with_(changes))
    M, F = moment_and_push(result)
    t, b, a, L = 28.0, 140.0, 200.0, 450.0
    M += F * t / 2  # about the middle of the board
    board, own = found(result, "boards.board.M1"), found(result, "boards.screws.M1")
    assert board.demand is not None and own.demand is not None
    assert board.demand.at(board.station) == pytest.approx(6 * M * max(a, L - a) / L / (b * t**2), rel=STATICS)
    assert own.demand.at(own.station) == pytest.approx(M / L, rel=STATICS)
    assert own.eta is not None


@pytest.mark.parametrize("changes", [{"joists.direction": "along"}, {"joists.direction": None}, {"mounts.M1.in_bay": "460 mm"}])
def test_boards_that_do_not_cross_joists_are_not_checked(changes: dict[str, object]) -> None:
    result = check(job_named("boards_only").with_(changes))
    assert found(result, "boards.board.M1").ending is Ending.NOT_CHECKED


# ---------------------------------------------------------------- beneath the decking


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck"])
def test_bearing_beneath_the_decking_is_spread_and_never_more_than_on_it(name: str) -> None:
    """45 degrees through the boards, within the wood: the area below is at least that above, and thin boards spread nothing."""
    result = check(job_named(name))
    above, below = found(result, "bearing.mean.M1"), found(result, "bearing.below.M1")
    assert above.demand is not None and below.demand is not None
    assert (np.asarray(below.demand.x) <= np.asarray(above.demand.x) * (1 + 1e-9)).all()
    thick = found(check(job_named(name).with_({"decking.thickness": "60 mm"})), "bearing.below.M1")
    if thick.demand is not None:
        assert thick.demand.x.max() <= below.demand.x.max() * (1 + 1e-9)


def test_the_area_beneath_the_decking_by_hand() -> None:
    """One piece wider than plate and spread: contact b x c becomes (b + 2t) x (c + 2t)."""
    changes = {"blocking.B1.pieces": 1, "blocking.B1.width": "400 mm", "mounts.M1.service_hole": None}
    result = check(job_named("everyday_deck").with_(changes))
    above, below = found(result, "bearing.mean.M1"), found(result, "bearing.below.M1")
    assert above.demand is not None and below.demand is not None
    b, t = 100.0, 28.0
    areas_above = areas(result, "A_c", above)
    areas_below = areas(result, "A_2", below)
    expected = (b + 2 * t) * (areas_above / b + 2 * t)
    assert areas_below == pytest.approx(expected, rel=1e-9)


def areas(result: Result, symbol: str, check_: Check) -> np.ndarray:
    assert check_.demand is not None
    return np.asarray(check_.demand.origin.inputs[symbol].x)


# ---------------------------------------------------------------- the force table


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck", "boards_only", "three_clamps_laminated"])
def test_the_force_table_has_both_levels_and_both_ways(name: str) -> None:
    result = check(job_named(name))
    tables = result.handed_on.tables
    assert [t.mount.model.name for t in tables] == [m.name for m in result.job.mounts]
    for t in tables:
        assert len(t.columns) == 4
        rows = {r.words: [None if v is None else v.at(0) for v in r.values] for r in t.rows}
        factor = 1.5  # EN 1990:2002 Table A1.2(B), from memory
        for words in ("push, the largest", "moment", "twist, either way"):
            out, back, out_k, back_k = rows[words]
            assert out == back and out_k == back_k
            assert out == pytest.approx(factor * out_k, rel=STATICS)


def test_the_largest_push_is_of_every_case_and_not_of_the_largest_moment() -> None:
    """By hand: half of 1.5 x 1.0 kN/m2 over 1.00 x 1.04 m at least; at most the lever of 1.5 x 0.5 kN at an edge of stiff glass."""
    table = result_of("garden_deck").handed_on.tables[0]
    push = next(r.values[0] for r in table.rows if r.words == "push, the largest")
    assert push is not None
    lever = 1 / 2 + 500 * 270 / (2 * 270**2)  # mounts 270 mm each side of the middle of a panel of 1000
    assert 1.5 * 1.0e-3 * 1000 * 1040 / 2 < push.at(0) < 1.5 * 500 * lever
    assert push.at(0) > 1.05 * abs(float(table.mount.F_Ed.at(table.mount.worst)))


def test_ends_of_pieces_in_the_force_table_agree_with_the_checks(everyday: Result) -> None:
    table = everyday.handed_on.tables[0]
    rows = {r.words: [v.at(0) for v in r.values] for r in table.rows}
    uplift = found(everyday, "blocking.end.left.uplift.M1")
    assert uplift.demand is not None
    assert min(min(v[:2]) for k, v in rows.items() if k.endswith("left end, down")) == pytest.approx(
        -uplift.demand.x.max(), rel=STATICS
    )


# ---------------------------------------------------------------- what the ground gives way by


def test_what_is_taken_as_rigid_is_rigid_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten times as stiff a translation, or turn about the vertical axis: no utilisation changes by one in a thousand."""
    job = job_named("garden_deck").with_({"situations": None})
    before = {c.id: c.eta for c in sound(job).checks if c.eta is not None}
    for what in ("RIGID_TRANSLATION", "RIGID_TWIST"):
        with monkeypatch.context() as changed:
            changed.setattr(base_stiffness, what, 10.0 * getattr(base_stiffness, what))
            after = {c.id: c.eta for c in sound(job).checks if c.eta is not None}
        assert after != before and after == pytest.approx(before, rel=1e-3), what


def test_what_spans_under_a_mount_gives_way_by_beam_and_shaft_formulas() -> None:
    """Slope under a couple on a beam held at its ends, and twist of a shaft held at both: any text on mechanics of materials.

    The couple: M (a^3 + b^3) / (3 E I L^2); the shaft: T a b / (G J L). Figures from memory.
    """
    from barrier.basis import basis_named
    from barrier.links.ground.base_stiffness import Moduli, flexibility
    from barrier.links.walk import Walk
    from barrier.result import SOUND
    from barrier.tables import Tables
    from barrier.value import JobEntry, Value

    def blocking_part(changes: dict[str, object]) -> float:
        job = job_named("garden_deck").with_(changes)
        tables = Tables()
        model = Walk(job, basis_named("en", "uk", tables), tables, SOUND).mounts[0]
        found = flexibility(model, "stiff", moduli)
        assert found is not None
        return found.blocking

    given = JobEntry("test", "test")
    E, G = 11_000.0, 690.0
    moduli = Moduli(Value(E, "stress", given), Value(G, "stress", given))
    wide = {"blocking.B1.pieces": 1, "blocking.B1.width": "240 mm", "mounts.M1.in_bay": "150 mm"}
    job = job_named("garden_deck").with_(wide)
    block = job.blocking["B1"]
    a, L, h = 150.0, float(block.length.x), float(block.depth.x)
    b = L - a
    J = float(torsion.constant(h, 240.0))
    assert blocking_part(wide) == pytest.approx(a * b / (G * J * L), rel=1e-12)
    inertia = 240.0 * h**3 / 12
    across = {**wide, "blocking.B1.direction": "across", "joists.direction": "along"}
    assert blocking_part(across) == pytest.approx((a**3 + b**3) / (3 * E * inertia * L**2), rel=1e-12)


def test_screws_in_end_grain_hold_nothing_that_is_known() -> None:
    """EN 1995-1-1 8.3.1.2(4), from memory: nothing sideways; 8.7.2 holds from 30 degrees to the grain up, from memory."""
    result = check(job_named("garden_deck").with_({"mounts.M1.grain": "end"}))
    pulled, pushed = found(result, "screws.withdrawal.M1"), found(result, "screws.sideways.M1")
    assert pulled.ending is Ending.NOT_CHECKED and "end grain" in pulled.reason
    assert pushed.ending is Ending.EXCEEDS and pushed.eta is None
    assert found(result, "screws.withdrawal.M2").ending is Ending.WITHIN


def test_the_screw_nearest_to_the_edge_of_its_piece_is_compared() -> None:
    """EN 1995-1-1 Table 8.6, a_2,CG = 4 d: 40 mm over 40 less the tolerance of the site, 5 mm; the others stand at 60 mm."""
    for screw, y in (("S1", -40), ("S4", 40)):
        result = check(job_named("garden_deck").with_({"situations": None, f"mounts.M1.screws.{screw}.y": f"{y} mm"}))
        edge = next(c for c in result.sound.checks if c.id == "screws.edge.M1")
        assert edge.eta == pytest.approx(4 * 10 / (40 - 5), rel=1e-12) and f"screw {screw} " in edge.where


def test_no_figure_of_another_code_stands_beside_one_of_the_own() -> None:
    """Wood named in two families of codes as well: where the own one has a strength for screws pushed sideways, that is all."""
    wood = {"us": "Douglas Fir-Larch No.2 Posts and Timbers", "en": "C24"}
    result = sound(job_named("us_deck").with_({"situations": None, "blocking.B1.material": wood}))
    assert next(c for c in result.checks if c.id == "screws.sideways.M1").eta is not None
    assert not [s.title for link in result.links for s in link.shown if "pushed sideways" in s.title and "by the" in s.title]


def test_pieces_under_a_mount_that_lacks_a_screw_give_by_the_way_it_is_pushed() -> None:
    """Forces on loose pieces by their work: a beam with a force F at a goes down F a^2 b^2/(3 E I L) there (any table of beams).

    Pushed one way there is one screw that pulls, the other way there are two, so the pieces do not give alike. A soft base takes
    the larger of the two, a stiff one the smaller.
    """
    from barrier.basis import basis_named
    from barrier.links.ground.base_stiffness import SCREW_END, Moduli, flexibility, piece_forces
    from barrier.links.ground.stiffness import UNIT
    from barrier.links.walk import Walk
    from barrier.result import SOUND
    from barrier.tables import Tables
    from barrier.value import JobEntry, Value

    job = job_named("garden_deck").with_({"mounts.M1.screws.S1.present": False})
    tables, E = Tables(), 11_000.0
    model = Walk(job, basis_named("en", "uk", tables), tables, SOUND).mounts[0]
    moduli = Moduli(Value(E, "stress", JobEntry("test", "test")), None)
    block, a = job.blocking["B1"], float(model.mount.in_bay.x)
    L = float(block.length.x)
    inertia = float(model.piece_breadth.x) * float(block.depth.x) ** 3 / 12
    for stiffness, taken in (("stiff", min), ("soft", max)):
        turns = []
        for way in (-UNIT, UNIT):
            F = piece_forces(model, model.solve(stiffness, SCREW_END[stiffness], way, ultimate=False))
            down = F * a**2 * (L - a) ** 2 / (3 * E * inertia * L)
            turns.append(float((F * down).sum()) / UNIT**2)
        assert max(turns) > 1.001 * min(turns)
        found = flexibility(model, stiffness, moduli)
        assert found is not None and found.blocking == pytest.approx(taken(turns), rel=1e-9)
