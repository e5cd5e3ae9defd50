"""Lines that were once written wrongly on purpose and that no test but yesterday's print had noticed: each by a hand sum.

Positions, signs and levers of single parts. The lines stand in ``mutation/named.toml``.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from conftest import job_named, result_of
from test_load_path_closes import mounts_of, walk_of

from barrier.basis.us.equations import MODES
from barrier.equation import Step
from barrier.job import Job
from barrier.links.blocking.across import AcrossActions
from barrier.links.blocking.one_section import TORQUE
from barrier.links.clamp.clamp_slip import UP
from barrier.links.joist.give import SLIP_OF_PIECES
from barrier.links.loads.actions import HEIGHT
from barrier.links.mount.resistances import layer_strengths
from barrier.links.movement import GAP, SERVICE_GIVING
from barrier.load_path import Result, check
from barrier.result import NotChecked
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
