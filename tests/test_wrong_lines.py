"""Lines that were once written wrongly on purpose and that no test but yesterday's print had noticed: each by a hand sum.

Positions, signs and levers of single parts. The lines stand in ``mutation/named.toml``.
"""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from conftest import job_named, result_of, sound
from test_load_path_closes import mounts_of, walk_of

from barrier.basis.us.equations import MODES
from barrier.equation import Step
from barrier.job import Job
from barrier.links.asked import asked
from barrier.links.blocking.across import AcrossActions
from barrier.links.blocking.loose_pieces import SIDE_STRESS
from barrier.links.blocking.one_section import TORQUE
from barrier.links.blocking.piece_actions import PieceActions, actions_on_pieces
from barrier.links.blocking.piece_forces import forces_on_pieces
from barrier.links.blocking.splitting import at_the_mount
from barrier.links.clamp.clamp_slip import UP, _worst
from barrier.links.glass.film import Film
from barrier.links.glass.glass import _depth
from barrier.links.glass.laminate import _limits
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.joist.give import SLIP_OF_PIECES
from barrier.links.loads.actions import HEIGHT
from barrier.links.mount.resistances import layer_strengths
from barrier.links.movement import GAP, SERVICE_GIVING
from barrier.links.rail.rail import _too_far
from barrier.links.rail.solve import _level, _telling
from barrier.links.under_rail import Line, Place
from barrier.load_path import Result, check
from barrier.mechanics.plate import PlateSolution
from barrier.result import About, Check, Ending, Lack, NotChecked, Standing
from barrier.tables import Tables
from barrier.value import JobEntry, Numerical, Value

GIVEN = JobEntry("x", "x")
EXACT = 1e-12  # relative; a few operations on doubles
STATICS = 1e-8  # relative; as the contact model closes


def of(equation: object, **numbers: float) -> float:
    """An equation of plain numbers in base units, each of the kind its symbol has."""
    by_name = equation.by_name  # type: ignore[attr-defined]
    return float(equation(**{n: Value(x, by_name[n].kind, GIVEN) for n, x in numbers.items()}).x)  # type: ignore[operator]


def demand(result: Result, id: str) -> float:
    c = next(c for c in result.sound.checks if c.id == id)
    assert c.demand is not None
    return float(c.demand.at(c.station))


def test_pieces_lie_side_by_side_about_their_line_off_the_mount() -> None:
    """Two pieces of 120 mm, the mount 10 mm towards the drop side of their line: middles at -70 and 50 mm from it."""
    model = mounts_of(check(job_named("garden_deck").with_({"mounts.M1.offset": "10 mm"})))[0].model
    assert [(p.low, p.centre, p.high) for p in model.pieces] == [(-130.0, -70.0, -10.0), (-10.0, 50.0, 110.0)]


def test_an_edge_joist_lies_off_a_mount_that_stands_beyond_it() -> None:
    """145 mm of joist, the mount 20 mm beyond its middle: from 92.5 mm behind to 52.5 mm before the middle of the mount."""
    job = job_named("garden_deck").with_({
        "mounts.M1.support": "edge joist", "mounts.M1.blocking": None, "mounts.M1.offset": "20 mm",
        "mounts.M2.support": "edge joist", "mounts.M2.blocking": None, "mounts.M2.offset": "20 mm",
        "joists.direction": "along", "joists.width": "145 mm", "joists.restraint_spacing": "600 mm",
    })  # fmt: skip
    (piece,) = mounts_of(check(job))[0].model.pieces
    assert (piece.low, piece.high) == (-92.5, 52.5)


def test_a_pad_off_the_middle_of_its_mount_presses_there() -> None:
    """A pad of 120 mm, 15 mm to the right of a mount at 230 mm: from 185 to 305 mm of the glass."""
    job = job_named("garden_deck").with_({"mount_types.deep.pads.1.offset": "15 mm"})
    panel = check(job).handed_on.panels[0]
    clamp = panel.solutions[0].model.clamps[0]
    assert (clamp.pads[0].x0, clamp.pads[0].x1) == (185.0, 305.0)


def test_the_line_load_stands_above_the_bottom_edge_and_not_above_the_top() -> None:
    assert of(HEIGHT, h_Q=1100, g_b=60, H_g=1200) == 1040.0
    assert of(HEIGHT, h_Q=1100, g_b=60, H_g=900) == 900.0


@pytest.mark.parametrize(("decking", "blocking"), [("D40", "C16"), ("C16", "D40")])
def test_the_bed_yields_at_the_weaker_layer(decking: str, blocking: str) -> None:
    job = job_named("garden_deck").with_({"decking.material.en": decking, "blocking.B1.material.en": blocking})
    handed = mounts_of(check(job))[0]
    assert not isinstance(handed.bed, NotChecked)
    assert handed.bed.layer == ("blocking" if decking == "D40" else "decking")


def test_the_thickest_packer_lifts_the_plate() -> None:
    sizes = {"x": "0 mm", "along": "50 mm", "across": "50 mm"}
    packers = [{**sizes, "y": "-40 mm", "thickness": "3 mm"}, {**sizes, "y": "40 mm", "thickness": "8 mm"}]
    model = mounts_of(check(job_named("garden_deck").with_({"mount_types.deep.packers": packers})))[0].model
    assert model.packing.x == 8.0


def test_the_torque_on_a_section_is_about_its_middle() -> None:
    """1 kN m and 1 kN above 3 mm of packers, 28 of boards, 2 of gap and half of 195 mm."""
    assert of(TORQUE, M_Ed=1e6, F_Ed=-1e3, t_p=3, t_d=28, g_d=2, h_s=195) == pytest.approx(1e6 + 1e3 * 130.5, rel=EXACT)


def test_weight_holds_the_glass_in_its_clamp() -> None:
    assert of(UP, N_al=-1000, N_0=300) == 700.0 and of(UP, N_al=-200, N_0=300) == 0.0


def test_parts_of_the_movement_add_up() -> None:
    """Half of the action on plate, fixings and joists; the gap is tipped through whatever the action is."""
    assert of(SERVICE_GIVING, r_s=0.5, w_plate=10, w_give=4, w_gap=3) == 10.0
    assert of(GAP, g_d=4, e_t=150, h_0=60, H_g=1040) == pytest.approx(4 / 150 * 1100, rel=EXACT)


def test_the_mount_that_tips_further_through_its_gap_decides() -> None:
    """M2 with its screws nearer the middle of the plate tips further; the movement has the larger of both."""
    job = job_named("garden_deck").with_({"decking.gap_under": "4 mm"})
    near = {f"mounts.M2.screws.S{i}.y": f"{y} mm" for i, y in ((1, -30), (2, -30), (3, 30), (4, 30))}
    shown = next(r for r in check(job.with_(near)).links if r.id == "movement").shown[0].value
    gap = next(v for name, v in shown.origin.inputs.items() if name == "w_gap")  # type: ignore[union-attr]
    both = [4.0 / (180 / 2 + y) * (60 + 1040) for y in (60.0, 30.0)]
    assert float(gap.at(0)) == pytest.approx(max(both), rel=EXACT) and both[1] > both[0]


def test_slip_at_both_ends_of_pieces_by_the_work_of_the_forces() -> None:
    """1 kN m on two pieces 120 mm apart (sum of squares 2 x 60^2): 8333 N each, 6250 and 2083 N at ends of 8 and 4 kN/mm.

    The slip under each force is its share of either end's, so the turn is twice its slip over 120 mm.
    """
    P = 1e6 / 120
    slip = 0.75 * (0.75 * P / 8000) + 0.25 * (0.25 * P / 4000)
    found = of(SLIP_OF_PIECES, T_J=1e6, r_l=0.75, K_l=8000, r_r=0.25, K_r=4000, S_y=2 * 60**2)
    assert found == pytest.approx(2 * slip / 120, rel=EXACT)


def test_ends_of_a_piece_across_the_glass_are_held_down_where_they_lift() -> None:
    """Pushed outward the drop side goes down and the people side up, and the other way round; weight makes the two unlike."""
    across = {"blocking.B1.direction": "across", "joists.direction": "along", "mounts.M1.in_bay": "150 mm"}
    result = check(job_named("garden_deck").with_(across))
    handed = next(m for m in mounts_of(result) if m.model.name == "M1")
    on = AcrossActions(walk_of(result), handed)
    for side, R in (("left", np.asarray(on.R_1.x)), ("right", np.asarray(on.R_2.x))):
        up, down = (demand(result, f"blocking.end.{side}.{way}.M1") for way in ("uplift", "down"))
        assert up == pytest.approx(-R.min(), rel=STATICS) and down == pytest.approx(R.max(), rel=STATICS)
        assert down > 1.01 * up  # the weight presses
    outward = np.array(["outward" in label for label in on.labels])
    assert (np.asarray(on.R_1.x)[outward] < 0).all() and (np.asarray(on.R_2.x)[outward] > 0).all()
    residuals = [c.contact.residual for c in handed.with_weight]  # of the contacts a figure stands for, that of the worst is said
    assert isinstance(on.R_1.origin, Step)
    forces = on.R_1.origin.inputs["P"].origin
    assert isinstance(forces, Numerical) and forces.residual == max(residuals) > min(residuals)


def test_a_piece_splits_where_it_is_pulled() -> None:
    """At the mount and at the ends: lifted, the demand is the largest lift of an end, pressed down the largest press."""
    result = result_of("garden_deck")
    lift, press = (max(demand(result, f"blocking.end.{s}.{way}.M1") for s in ("left", "right")) for way in ("uplift", "down"))
    assert demand(result, "blocking.splitting.M1") == pytest.approx(lift, rel=STATICS)
    assert demand(result, "blocking.end.splitting.uplift.M1") == pytest.approx(lift, rel=STATICS)
    assert demand(result, "blocking.end.splitting.down.M1") == pytest.approx(press, rel=STATICS)
    assert press > 1.01 * lift  # the weight presses


def along_the_grain(job: Job) -> float:
    """Strength of the bed on the blocking of the first mount."""
    result = check(job)
    handed = mounts_of(result)[0]
    layers = layer_strengths(walk_of(result), handed.model, handed.combination)
    assert not isinstance(layers, NotChecked)
    return float(next(layer.strength.x for layer in layers if layer.layer == "blocking"))


@pytest.mark.parametrize(("name", "raised"), [("us_deck", (4.0 + 0.375) / 4.0), ("australian_deck", 1.10)])
def test_near_either_end_of_a_piece_bearing_is_not_raised(name: str, raised: float) -> None:
    """A plate that stops less than 3 in (75 mm) from the end of the wood gets no increase, whichever end it is.

    In its middle it gets (l_b + 3/8 in)/l_b (NDS 3.10.4), or k_7 of the next longer row, 125 mm (AS 1720.1 Table 2.6).
    """
    job = job_named(name)
    L, b = float(job.blocking["B1"].length.x), float(job.mounts[0].plate.along.x)
    left, right, middle = (
        along_the_grain(job.with_({f"mounts.{m.name}.in_bay": f"{x!r} mm" for m in job.mounts}))
        for x in (b / 2 + 30, L - b / 2 - 30, L / 2)
    )
    assert left == pytest.approx(right, rel=EXACT)
    assert middle == pytest.approx(raised * left, rel=1e-6)


@pytest.mark.parametrize(("R_e", "R_t"), [(0.5, 1.0), (1.0, 2.0), (2.3, 0.7), (1.0, 1.0)])
def test_a_stiff_bolt_does_not_know_which_member_is_the_main_one(R_e: float, R_t: float) -> None:
    """Mode II, both members yield and the fastener stays straight: the two members may change places.

    For two alike it is known in closed form: (sqrt 2 - 1) of the bearing of either.
    """
    D, l_s, F_es = 9.5, 40.0, 30.0
    load = of(MODES["II"], D=D, l_s=l_s, F_es=F_es, R_d=1.0, R_e=R_e, R_t=R_t)
    other = of(MODES["II"], D=D, l_s=l_s * R_t, F_es=F_es * R_e, R_d=1.0, R_e=1 / R_e, R_t=1 / R_t)
    assert load == pytest.approx(other, rel=EXACT)
    if R_e == R_t == 1.0:
        assert load == pytest.approx((math.sqrt(2) - 1) * D * l_s * F_es, rel=EXACT)


def test_a_pool_and_a_drop_have_the_rules_of_both() -> None:
    """A drop of more than 1 m is to be guarded (NCC H5D3), pool or no pool."""

    def says(fall: str) -> bool:
        result = check(job_named("au_deck").with_({"site.pool": True, "site.fall_height": fall}))
        return any("There is a pool and a drop" in f.text for link in result.links for f in link.findings)

    assert says("1.5 m") and not says("0.5 m")


# ---------------------------------------------------------------- glass and laminate


def mm(x: float) -> Value:
    return Value(x, "length", GIVEN)


@pytest.mark.parametrize(("h_1", "h_2"), [(6.0, 12.0), (12.0, 6.0), (10.0, 10.0), (4.0, 19.0)])
def test_the_two_limits_of_a_laminate_under_a_moment(h_1: float, h_2: float) -> None:
    """1 N mm on each mm. Whole: M c / I with both layers about their common axis (Steiner), c to the farther face.

    Sliding: each layer takes its share of M by its I, and the thicker one M_i / (h_i²/6). Whichever layer comes first.
    """
    gap = 1.52
    axis = (h_1 * h_1 / 2 + h_2 * (h_1 + gap + h_2 / 2)) / (h_1 + h_2)  # from the outer face of the first
    inertia = sum(h**3 / 12 + h * (z - axis) ** 2 for h, z in ((h_1, h_1 / 2), (h_2, h_1 + gap + h_2 / 2)))
    whole = max(axis, h_1 + gap + h_2 - axis) / inertia
    sliding = max(h_1, h_2) ** 3 / (h_1**3 + h_2**3) * 6 / max(h_1, h_2) ** 2
    layered, one = (h_1**3 + h_2**3) ** (1 / 3), (12 * inertia) ** (1 / 3)  # the single sheets that are solved instead

    def sheet(thickness: float) -> SimpleNamespace:
        zones = {"interior": SimpleNamespace(stress=[0.0, 6.0 / thickness**2])}
        return SimpleNamespace(peaks=lambda band: {"load": zones, "back": zones})

    solved = SimpleNamespace(
        limits=(sheet(layered), sheet(one)), thickness=mm(max(h_1, h_2)),
        E=Value(7e4, "stress", GIVEN), nu=Value(0.23, "ratio", GIVEN),
        sheet=SimpleNamespace(share=Value(max(h_1, h_2) / layered, "ratio", GIVEN)),
    )  # fmt: skip
    modulus = SimpleNamespace(low=Value(0.5, "stress", GIVEN))
    film = Film((mm(h_1), mm(h_2)), mm(gap), (modulus,), (0, 0))  # type: ignore[arg-type]
    assert _limits(solved, film, 1) == pytest.approx((sliding, whole), rel=1e-9)  # type: ignore[arg-type]


def test_the_shallowest_pad_of_all_mounts_raises_the_stress_most() -> None:
    """The model factor grows with t over the depth of the pad, so the least depth is the cautious one."""
    depths = {"M1": [(0.0, 150.0), (20.0, 110.0)], "M2": [(0.0, 120.0)]}
    mounts = [
        SimpleNamespace(mount=SimpleNamespace(pads=[SimpleNamespace(bottom=mm(b), top=mm(t)) for b, t in own]))
        for own in depths.values()
    ]
    assert float(_depth(SimpleNamespace(mounts=mounts)).x) == 90.0  # type: ignore[arg-type]


def a_panel() -> PanelSolution:
    """A panel of single glass on its clamps, solved with every stiffness of pads and bases."""
    panel = result_of("garden_deck").handed_on.panels[0]
    assert len(panel.solutions) > 2
    return panel


def spoilt(solution: object, **changes: object) -> PlateSolution:
    assert isinstance(solution, PlateSolution)
    return replace(solution, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("which", [0, 1, -1])
def test_a_force_that_is_missing_in_one_solution_shows_in_the_residual_of_the_panel(which: int) -> None:
    panel = a_panel()
    assert panel.residual < 1e-9
    solutions = list(panel.solutions)
    solutions[which] = spoilt(solutions[which], F=np.asarray(solutions[which].F) * 0.99)
    assert replace(panel, solutions=tuple(solutions)).residual == pytest.approx(0.01, rel=1e-3)


def test_a_twist_of_rounding_is_none_and_a_small_push_stays() -> None:
    """1e-12 of the largest moment is what a symmetric panel has left of its twist; a push is no moment, and small ones count."""
    panel = a_panel()
    largest = max(float(np.abs(s.Mx).max()) for s in panel.solutions)
    tiny = 1e-12 * largest
    twist, push = (np.full_like(panel.solutions[0].F, x) for x in (tiny, tiny))
    found = replace(panel, solutions=tuple(spoilt(s, Mz=twist, F=push) for s in panel.solutions))
    assert not found.reactions("Mz").any()
    assert (found.reactions("F") == tiny).all()
    assert (panel.reactions("Mx") == np.concatenate([np.asarray(s.Mx).ravel() for s in panel.solutions])).all()


# ---------------------------------------------------------------- rail


def under_a_rail(*sizes: tuple[float, float]) -> Line:
    """Panels of these heights over these gaps, metre by metre."""
    panels = [SimpleNamespace(name=f"P{n}", height=mm(h), bottom_gap=mm(g)) for n, (h, g) in enumerate(sizes, 1)]
    places = [Place(n, 1020.0 * (n - 1), 1000.0, p, f"panel {p.name}") for n, p in enumerate(panels, 1)]  # type: ignore[arg-type]
    return Line(tuple(places), 20.0, 0.0, places[-1].end)


@pytest.mark.parametrize("v", [103.2, -103.2])
@pytest.mark.parametrize("sizes", [((980.0, 50.0), (985.0, 50.0)), ((985.0, 50.0), (980.0, 50.0)), ((1035.0, 0.0), (1030.0, 0.0))])
def test_the_lowest_panel_leans_most(v: float, sizes: tuple[tuple[float, float], ...]) -> None:
    """A lean of 0.1 (convention): 103.2 mm is too far for a top edge at 1,030 mm above the decking, not yet for one at 1,035."""

    def says(*sizes: tuple[float, float]) -> bool:
        nominal = SimpleNamespace(largest_deflection=(np.array([v]), np.array([0.0])))
        line = SimpleNamespace(action=SimpleNamespace(kind="line"))
        found = SimpleNamespace(line=under_a_rail(*sizes), nominal=nominal, cases=[line])
        return bool(list(_too_far(SimpleNamespace(tables=Tables()), found)))  # type: ignore[arg-type]

    assert says(*sizes) and not says((1035.0, 0.0), (985.0, 50.0))


def test_a_case_that_does_next_to_nothing_on_any_panel_is_left_out() -> None:
    """A fiftieth of the largest action on a panel, of whichever place that is: 2 of 100 N counts, 1.9 N does not."""
    line = under_a_rail((1000.0, 0.0), (1000.0, 0.0))
    forces = {0: [[100.0, 90.0], [1.9, -1.9], [-2.0, 0.0]], 1: [[10.0, 10.0], [-1.0, 0.5], [0.0, 2.1]]}
    panels = {n: SimpleNamespace(F=np.array(F), Mx=1000.0 * np.array(F)) for n, F in forces.items()}
    cases = [SimpleNamespace(only=None, load=SimpleNamespace(points=())) for _ in range(3)]
    found = SimpleNamespace(line=line, cases=cases, nominal=SimpleNamespace(panels=panels))
    for place in line.places:
        assert _telling(found, place, line.places) == [0, 2]  # type: ignore[arg-type]


@pytest.mark.parametrize(("push", "height"), [(-1000.0, 1100.0), (-1200.0, 550.0), (500.0, (1100 * 1100 + 500 * 550) / 1600)])
def test_two_pushes_at_once_that_nearly_cancel_stand_at_the_height_of_the_larger(push: float, height: float) -> None:
    """1,100 N at 1.1 m and another at 0.55 m: where their resultant would lie off the glass, that of the larger."""
    pushes = ((1100.0, 1100.0), (push, 550.0))
    cases = [SimpleNamespace(resultant=Value(F, "force", GIVEN), height=mm(y)) for F, y in pushes]
    parts = [SimpleNamespace(share=Value(1.0, "ratio", GIVEN), case=c) for c in cases]
    found = SimpleNamespace(values={}, residual=0.0)
    assert float(_level(found, parts, "both").x) == pytest.approx(height, rel=EXACT)  # type: ignore[arg-type]


def on_pieces(result: Result) -> PieceActions:
    """What comes on the loose pieces of the first mount."""
    handed = mounts_of(result)[0]
    return actions_on_pieces(walk_of(result), forces_on_pieces(handed, handed.with_weight))


def test_a_piece_that_is_pressed_by_next_to_nothing_is_not_split_upwards() -> None:
    result = result_of("garden_deck")
    on, handed = on_pieces(result), mounts_of(result)[0]

    def split(P: float) -> int:
        force = np.full_like(on.force, P)
        return len(list(at_the_mount(walk_of(result), replace(on, force=force), on.P, handed.combination)))

    assert split(-0.5) == 1 and split(0.5) == 0 and split(0.0) == 0


def test_the_forces_on_the_pieces_are_as_good_as_the_worst_of_their_solutions() -> None:
    """The sheet states one residual for all stations; another would promise more than was reached."""
    on = on_pieces(result_of("garden_deck"))
    each = [s.contact.residual for s in on.mount.with_weight]
    assert min(each) < max(each)
    for name in ("C_pc", "T_pc"):
        origin = on.P.origin.inputs[name].origin
        assert isinstance(origin, Numerical) and origin.residual is not None
        assert all(origin.residual >= r for r in each)


def test_an_end_that_nothing_holds_has_no_resistance_at_all() -> None:
    """Not a small one: it exceeds without a utilisation, in every direction it is pushed."""
    result = sound(job_named("garden_deck").with_({"blocking.B1.left": {"fixing": "none"}}))
    seen = [c for c in result.checks if c.id.startswith("blocking.end.left.") and c.id.endswith(".M1")]
    assert {c.id.split(".")[3] for c in seen} == {"uplift", "down", "sideways", "torque", "together"}
    for c in seen:
        assert c.ending is Ending.EXCEEDS and c.utilisation is None and "nothing that counts holds this end" in c.reason, c.id
        assert c.resistance is None or float(c.resistance.x) == 0.0


OFF_BLOCKING = {"mounts.M1.blocking": None, "mounts.M2.blocking": None}
STANDS_ON: dict[str, dict[str, object]] = {
    "an edge joist": {
        **OFF_BLOCKING, "mounts.M1.support": "edge joist", "mounts.M2.support": "edge joist", "joists.width": "4.5 in",
        "joists.restraint_spacing": "24 in",
    },
    "boards": {
        **OFF_BLOCKING, "mounts.M1.support": "decking only", "mounts.M2.support": "decking only",
        "decking.board_screws": {"number": 2, "diameter": "0.2 in", "length": "2.5 in"},
    },
    "across": {"blocking.B1.direction": "across", "blocking.B2.direction": "across", "joists.direction": "along"},
}  # fmt: skip


@pytest.mark.parametrize(
    ("on", "said"), [("an edge joist", "an edge joist"), ("boards", "this support"), ("across", "this support")]
)
def test_loads_in_the_plane_name_what_they_were_not_followed_into(on: str, said: str) -> None:
    result = sound(job_named("us_deck").with_(STANDS_ON[on]))
    c = next(c for c in result.checks if c.id == "blocking.in_plane.M1")
    assert c.lack is Lack.BASIS and f"up and down on {said}" in c.reason


def test_a_line_load_alone_in_any_direction_is_asked_to_lift_the_glass_too() -> None:
    """IBC 1607.9.1: in any direction. With the point load left out nothing acts along the glass, and the line still lifts it."""
    result = check(job_named("us_deck").with_({"loads.point": "none", "loads.reference": "letter of a test"}))
    wanted = {a.id for a in asked(walk_of(result))}
    required = {c.id for c in result.sound.checks if c.standing is Standing.REQUIRED}
    assert "clamp.slip_up.P1" in wanted and "clamp.slip_along.P1" not in wanted
    assert required <= wanted


@pytest.mark.parametrize(("earthed", "said"), [((), "Mounts M1, M2:"), (("M1",), "Mount M2:"), (("M1", "M2"), None)])
def test_every_mount_that_may_have_to_be_earthed_is_named(earthed: tuple[str, ...], said: str | None) -> None:
    result = sound(job_named("garden_deck").with_({f"mounts.{m}.earthed": "yes" for m in earthed}))
    found = [f.text for link in result.links for f in link.findings if "earthed" in f.text]
    assert [f.split(" whether")[0] for f in found] == ([] if said is None else [said])


def test_the_side_bending_of_a_piece_by_hand() -> None:
    """A beam of 400 mm, 1 kN sideways 100 mm from its end and a twist there: P a b/L + M b/L, over h b²/6, half of it a piece's."""
    L, a, F, twist, h, b = 400.0, 100.0, 1000.0, 2e4, 140.0, 45.0
    moment = 0.5 * (F * a * (L - a) / L + twist * (L - a) / L)
    found = of(SIDE_STRESS, r_n=0.5, F_Ed=-F, a=a, L_b=L, M_z_Ed=twist, h_pc=h, b_pc=b)
    assert found == pytest.approx(moment / (h * b**2 / 6), rel=EXACT)


def test_of_several_clamps_one_that_nobody_checked_comes_first_unless_one_exceeds() -> None:
    def made(ending: Ending, eta: float | None) -> Check:
        utilisation = None if eta is None else Value(eta, "ratio", GIVEN)
        return Check(About("clamp", "slip"), "", ending, Standing.REQUIRED, utilisation=utilisation)

    low, high, unknown, over = (
        made(Ending.WITHIN, 0.2), made(Ending.WITHIN, 0.9), made(Ending.NOT_CHECKED, None), made(Ending.EXCEEDS, 1.4)
    )  # fmt: skip
    assert _worst([low, high]) is high and _worst([high, unknown, low]) is unknown and _worst([low, over, unknown]) is over
