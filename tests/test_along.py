"""Loads in the plane of the glass: statics of the panel on its mounts, closed forms, mirrors, the load factor."""

from __future__ import annotations

import numpy as np
import pytest
from conftest import ROOT, job_named

from barrier.job import Job, read_job
from barrier.links.mount.in_plane_forces import MountShare
from barrier.load_path import Result, check
from barrier.mechanics import contact
from barrier.result import Check, Ending, Standing

ROUNDING = 1e-9  # relative; sums and products of doubles
SOLVED = 1e-6  # relative; what the contact model closes to

EVERYDAY = job_named("everyday_deck").with_({"situations": None})
US = read_job(ROOT / "tests" / "data" / "us_lag_deck.toml")


def pushed(job: Job, **changes: object) -> Result:
    return check(job.with_({key.replace("__", "."): value for key, value in changes.items()}))


def shares(result: Result, way: str = "along") -> list[MountShare]:
    handed = result.handed_on.shares
    return [s for s in handed if s.way == way]


def checks(result: Result, id: str) -> dict[str, Check]:
    return {c.id.rsplit(".", 1)[1]: c for c in result.sound.checks if c.id.startswith(id)}


def rows(share: MountShare) -> list[tuple[str, float, float, float, float]]:
    return [
        (label.split("; mount ")[0], share.push.at(i), share.down.at(i), share.turn.at(i), share.weight.at(i))
        for i, label in enumerate(share.labels)
    ]


def test_two_mounts_by_the_textbook() -> None:
    """P h / dx on each mount, up on one and down on the other: 0.6 kN at 1.1 m, mounts 0.6 m apart, +-1.1 kN.

    Source: statics of a rigid body; the figures are the project's own round ones. Weight of the glass: 25 kN/m3 (EN
    572-1) on 1.2 x 1.05 m of 11.7 mm, half a mount.
    """
    loads = {"loads.point": "0.6 kN", "loads.reference": "round figures for this test"}
    result = check(EVERYDAY.with_({"mounts.M1.x": "300 mm", "mounts.M2.x": "900 mm", **loads}))
    for share, sign in zip(shares(result), (-1.0, 1.0), strict=True):
        alone = [i for i, label in enumerate(share.labels) if "couple alone" in label]
        assert [share.down.at(i) for i in alone] == pytest.approx([sign * 1.5 * 1100.0, -sign * 1.5 * 1100.0], rel=ROUNDING)
        assert [share.turn.at(i) for i in alone] == [0.0, 0.0]
        assert share.weight.at(0) == pytest.approx(25e-6 * 1200 * 1050 * 11.7 / 2, rel=ROUNDING)  # 0.18 kN
        hinged = [i for i, label in enumerate(share.labels) if "hinged" in label]
        z = 50.0 + 45.0  # bottom gap, and half the pads' 90 mm
        assert abs(share.down.at(hinged[0])) == pytest.approx(1.5 * 600.0 * (1100.0 - z) / 600.0, rel=ROUNDING)
        assert abs(share.turn.at(hinged[0])) == pytest.approx(1.5 * 300.0 * z, rel=ROUNDING)
    for side in checks(result, "in_plane.sideways").values():  # half of the push on a mount, a quarter of that on a screw
        assert side.demand is not None and side.demand.at(side.station) == pytest.approx(1.5 * 600.0 / 2 / 4, rel=ROUNDING)


def test_the_hinge_is_in_the_middle_of_all_pads() -> None:
    """Two liners, 0 to 30 and 60 to 100 mm up the glass, 50 mm above the decking: by hand 50 + 50 mm up, half of the push at it."""
    pads = [{"width": "50 mm", "bottom": f"{low} mm", "top": f"{high} mm"} for low, high in ((0, 30), (60, 100))]
    loads = {"loads.point": "0.6 kN", "loads.reference": "round figures for this test"}
    for share in shares(check(EVERYDAY.with_({"mount_types.post.pads": pads, **loads}))):
        turns = [abs(share.turn.at(i)) for i, label in enumerate(share.labels) if "hinged" in label]
        assert turns == pytest.approx([1.5 * 300.0 * 100.0] * 2, rel=ROUNDING)


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck", "three_clamps_laminated"])
def test_the_mounts_take_what_the_hand_gives(name: str) -> None:
    """Forces and moments of all mounts balance the push in every way of acting."""
    job = job_named(name)
    result = check(job)
    found = shares(result)
    assert found
    by_panel: dict[str, list[MountShare]] = {}
    for s in found:
        by_panel.setdefault(s.model.mount.panel, []).append(s)
    for members in by_panel.values():
        x = np.array([float(s.model.mount.x.x) for s in members])
        panel = job.panel_of(members[0].model.mount)
        h = float(panel.height.x) + float(members[0].model.lever.x)
        P = float(members[0].total.x)
        for i, label in enumerate(members[0].labels):
            sign = 1.0 if "to the right" in label else -1.0
            down, turn, push = (np.array([getattr(s, k).at(i) for s in members]) for k in ("down", "turn", "push"))
            assert push.sum() == pytest.approx(sign * P, rel=ROUNDING)
            assert abs(down.sum()) <= ROUNDING * np.abs(down).max() + 1e-9
            assert (down * x).sum() + turn.sum() == pytest.approx(sign * P * h, rel=ROUNDING)


def test_the_weight_is_shared_out() -> None:
    for job in (EVERYDAY, EVERYDAY.with_({"mounts.M1.x": "400 mm"})):
        found = shares(check(job))
        assert sum(s.weight.at(0) for s in found) == pytest.approx(25e-6 * 1200 * 1050 * 11.7, rel=ROUNDING)
        x = [float(s.model.mount.x.x) for s in found]
        assert sum(s.weight.at(0) * at for s, at in zip(found, x, strict=True)) == pytest.approx(
            25e-6 * 1200 * 1050 * 11.7 * 600.0, rel=ROUNDING
        )


def test_a_lone_mount_takes_the_whole_moment() -> None:
    result = check(EVERYDAY.with_({"mounts.M2": None, "mounts.M1.x": "600 mm"}))
    (share,) = shares(result)
    assert np.abs(share.turn.x) == pytest.approx(1.5 * 500.0 * 1100.0, rel=ROUNDING)
    assert np.abs(share.down.x) == pytest.approx(0.0)
    assert checks(result, "in_plane.along")["M1"].eta > checks(check(EVERYDAY), "in_plane.along")["M1"].eta


def test_mirrored_push_mirrored_answer() -> None:
    a = check(EVERYDAY.with_({"mounts.M1.x": "250 mm"}))
    b = check(EVERYDAY.with_({"mounts.M2.x": "950 mm"}))
    for one, other in (("M1", "M2"), ("M2", "M1")):
        left = {label: rest for label, *rest in rows(next(s for s in shares(a) if s.model.name == one))}
        right = {label: rest for label, *rest in rows(next(s for s in shares(b) if s.model.name == other))}
        for way, back in (("to the right", "to the left"), ("to the left", "to the right")):
            push, down, turn, weight = left[f"point load at the top edge, along the barrier {way}"]
            mirrored = right[f"point load at the top edge, along the barrier {back}"]
            assert mirrored == pytest.approx([-push, down, -turn, weight], rel=ROUNDING)
        assert checks(a, "in_plane.along")[one].eta == pytest.approx(checks(b, "in_plane.along")[other].eta, rel=SOLVED)


def test_the_limit_is_where_a_screw_is_at_its_resistance() -> None:
    """At the load the check found, the worst screw of the contact solution pulls with the resistance itself."""
    result = check(EVERYDAY)
    handed = result.handed_on.mounts[0]
    share = shares(result)[0]
    R, f = float(handed.R_ax.x), float(handed.bed.strength.x)
    c = checks(result, "in_plane.along")["M1"]
    factor = c.resistance.at(c.station) / c.demand.at(c.station)
    load = share.at(c.station)
    worst = 0.0
    for bed in ("soft", "stiff"):
        for end in ("soft", "stiff"):
            N = load.weight + factor * load.down
            s = contact.solve(share.model.bed(bed, f), share.model.contact_screws(end, True), N, 0.0, factor * load.turn)
            assert s.equilibrium
            worst = max(worst, float(s.T.max()))
    assert worst == pytest.approx(R, rel=SOLVED)


def test_pure_uplift_by_hand() -> None:
    """Uplift in the middle of four equal screws: each pulls a quarter, so the factor is (4 R + N) / uplift."""
    zone = contact.Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece")
    screws = [contact.Screw(x, y, 1e4) for y in (-35, 35) for x in (-35, 35)]
    found = contact.limit_factor(contact.Bed((zone,), 4.0, 2.5), screws, 200.0, 0.0, 0.0, 3000.0, dN=-1000.0)
    assert found.factor == pytest.approx((4 * 3000.0 + 200.0) / 1000.0, rel=SOLVED)


def test_uplift_and_turn_by_hand() -> None:
    """All four screws pull and nothing bears: T = U/4 + M x / sum(x²); both grow together."""
    zone = contact.Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece")
    screws = [contact.Screw(x, y, 1e4) for y in (-35, 35) for x in (-35, 35)]
    U, M = 1000.0, 1000.0 * 5.0  # the middle of the force is 5 mm off: within the kern of the screws
    found = contact.limit_factor(contact.Bed((zone,), 4.0), screws, 0.0, 0.0, M, 3000.0, dN=-U)
    assert found.factor == pytest.approx(3000.0 / (U / 4 + M * 35 / (4 * 35**2)), rel=SOLVED)


def test_a_turn_alone_agrees_with_the_push_across() -> None:
    """A square plate with square screws on a bed all of one kind is as strong about one axis as about the other."""
    zone = contact.Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece")
    screws = [contact.Screw(x, y, 1e4) for y in (-35, 35) for x in (-35, 35)]
    bed = contact.Bed((zone,), 4.0, 2.5)
    across = contact.limit_factor(bed, screws, 0.0, 1e5, 0.0, 3000.0).factor
    along = contact.limit_factor(bed, screws, 0.0, 0.0, 1e5, 3000.0).factor
    assert along == pytest.approx(across, rel=SOLVED)


def test_who_decides_is_the_code() -> None:
    """EN and BS 6180 name loads across the barrier only; the US guard load acts in any direction (secondary, memory)."""
    assert {c.standing for c in checks(check(EVERYDAY), "in_plane").values()} == {Standing.INFORMATION}
    us = check(US)
    found = [c for c in us.sound.checks if c.id.startswith("in_plane")]
    assert found and {c.standing for c in found} == {Standing.REQUIRED}
    assert any("vertical_up" in c.id for c in found) and any("vertical_down" in c.id for c in found)


def test_more_push_is_worse_and_in_information_it_decides_nothing() -> None:
    small, large = (
        check(EVERYDAY.with_({"loads.point": f"{p} kN", "loads.line": "0.74 kN/m", "loads.reference": "for this test"}))
        for p in (0.3, 6.0)
    )
    a, b = checks(small, "in_plane.along")["M1"], checks(large, "in_plane.along")["M1"]
    assert a.ending is Ending.WITHIN and b.ending is Ending.EXCEEDS and b.eta > a.eta
    assert small.governing is not None and not small.governing.id.startswith("in_plane")
    assert large.governing is not None and not large.governing.id.startswith("in_plane")


def test_a_mount_without_screws_hangs_on_its_weight() -> None:
    """Nothing but the glass holds it down: the factor at which the couple alone lifts it is weight over uplift."""
    gone = {f"mounts.M1.screws.S{i}.present": False for i in (1, 2, 3, 4)}
    result = check(EVERYDAY.with_(gone))
    c = checks(result, "in_plane.along")["M1"]
    assert c.ending is Ending.EXCEEDS and "nothing more holds the plate" in c.where
    share = next(s for s in shares(result) if s.model.name == "M1")
    alone = next(i for i, label in enumerate(share.labels) if "couple alone" in label and share.down.at(i) < 0)
    assert c.resistance is not None
    limit = c.resistance.at(alone) / share.total.at(0)
    assert limit == pytest.approx(-share.weight.at(0) / share.down.at(alone), rel=1e-3)  # the end is looked for step by step


def test_vertical_loads_by_hand() -> None:
    """A force at the end of the panel on two mounts: the lever rule, and its sum; the weight with it downward."""
    found = shares(check(US), "down")
    ends = [s for s in found if s.load.action.size.kind == "force"]
    x = [float(s.model.mount.x.x) for s in ends]
    panel = US.panel_of(ends[0].model.mount)
    W = float(panel.width.x)
    P = float(ends[0].total.x)
    for i, at in ((0, 0.0), (1, W)):
        by_lever = P * (x[1] - at) / (x[1] - x[0])
        assert ends[0].down.at(i) == pytest.approx(by_lever, rel=ROUNDING)
        assert sum(s.down.at(i) for s in ends) == pytest.approx(P, rel=ROUNDING)
    up = [s for s in shares(check(US), "up") if s.load.action.size.kind == "force"]
    assert up[0].down.at(0) == pytest.approx(-ends[0].down.at(0), rel=ROUNDING)
    assert up[0].weight.at(0) == pytest.approx(0.6 * ends[0].weight.at(0), rel=ROUNDING)  # ASCE 7 2.4.1: 0.6 D, from memory


def test_a_patch_lies_inside_its_panel() -> None:
    """Mid-panel and mid-height of both side edges; a patch wider than the glass is as wide as the glass."""
    for width in ("1200 mm", "250 mm"):
        job = US.with_({"panels.1.width": width, "mounts.M2": None, "mounts.M1.x": "125 mm"})
        W, H = float(job.panels[0].width.x), float(job.panels[0].height.x)
        cases = [c for c in check(job).handed_on.cases if c.action.kind == "patch"]
        assert [c.id.rsplit("/", 1)[1] for c in cases] == ["middle", "left edge", "right edge"]
        side = min(float(cases[0].action.side.x), W)
        middles = []
        for c in cases:
            x0, x1, y0, y1 = c.patch
            assert -ROUNDING <= x0 < x1 <= W * (1 + ROUNDING) and 0.0 <= y0 < y1 <= H
            assert (x1 - x0, (y0 + y1) / 2) == pytest.approx((side, H / 2))
            middles.append((x0 + x1) / 2)
        assert middles == pytest.approx([W / 2, side / 2, W - side / 2])


def test_a_force_at_one_end_of_a_wide_panel_lifts_one_mount_and_not_the_other() -> None:
    """200 lbf up at an end of 80 in of glass on mounts 20 in apart: levers by hand, 200 (1/2 + 40/20) on the one beside it.

    Less its weight, half of it at either end of the blocking. The same force presses the other mount down; both are compared.
    """
    wide = {"situations": None, "panels.P1.width": "80 in", "mounts.M1.x": "30 in", "mounts.M2.x": "50 in"}
    result = check(job_named("us_deck").with_(wide))
    P = 200 * 4.4482216152605
    for share in (s for s in shares(result, "up") if "point" in s.labels[0]):
        assert sorted(np.atleast_1d(share.down.x)) == pytest.approx([-P * 2.5, P * 1.5], rel=ROUNDING)
        for side in ("left", "right"):
            end = next(c for c in result.sound.checks if c.id == f"blocking.end.{side}.uplift.{share.model.name}")
            assert end.demand is not None
            held = share.weight.at(int(np.argmin(share.down.x)))  # of the mount that is lifted
            assert sorted(np.atleast_1d(end.demand.x)) == pytest.approx([0.0, (2.5 * P - held) / 2], rel=ROUNDING)
