"""The answers by hand that stand beside the contact model: right by themselves, and near it where they say they are."""

from __future__ import annotations

import numpy as np
import pytest
from conftest import EXAMPLES, result_of
from scipy.optimize import brentq

from barrier.job.read import job_from_text
from barrier.links.mount import by_hand, share_by_hand
from barrier.links.mount.base_plate import leading
from barrier.links.mount.mount_forces import MountForces
from barrier.load_path import Result, check
from barrier.mechanics.plate import PatchLoad
from barrier.result import NotChecked
from barrier.value import JobEntry, Numerical, Value, source_of

ON_BLOCKING = [p.stem for p in EXAMPLES if p.stem not in ("boards_only", "au_deck", "nz_deck", "nz_laminated", "au_laminated")]


def mounts(result: Result) -> list[MountForces]:
    return list(result.handed_on.mounts)


def given(x: float, kind: str, name: str) -> Value:
    return Value(x, kind, JobEntry(name, str(x)), name)


@pytest.mark.parametrize("M", [1e5, 5e5, 7.5e5])
def test_the_row_and_the_block_balance_the_moment(M: float) -> None:
    """Statics, no source: the row T pulls, a block T/(f b) deep at the far edge presses, and together they hold M."""
    f, b, e = 2.154, 100.0, 85.0
    T = by_hand.ROW_TENSION(
        f_bed=given(f, "stress", "f_bed"), b=given(b, "length", "b"), e_t=given(e, "length", "e_t"), M_Ed=given(M, "moment", "M_Ed")
    )
    assert float(T.x) * (e - float(T.x) / (2 * f * b)) == pytest.approx(M, rel=1e-12)
    other = brentq(lambda t: t * (e - t / (2 * f * b)) - M, 0.0, f * b * e)
    assert float(T.x) == pytest.approx(other, rel=1e-9)


def test_no_block_is_deep_enough_for_too_large_a_moment() -> None:
    """At f b e²/2 the block has reached the row; beyond it there is no answer by hand, and none is printed."""
    for handed in mounts(result_of("everyday_deck")):
        assert not isinstance(handed.bed, NotChecked)
        e = float(by_hand.arm(handed.model).x)
        most = float(handed.bed.strength.x) * float(handed.model.mount.plate.along.x) * e**2 / 2
        assert (by_hand.row_tension(handed) is None) == (handed.M_worst.at(0) >= most)


@pytest.mark.parametrize("name", ON_BLOCKING)
def test_near_the_contact_model_where_the_bed_yields_and_never_above_it(name: str) -> None:
    """A block at the far edge has the longest arm a bed of that strength allows: the model's tension is the larger one."""
    for handed in mounts(result_of(name)):
        hand = by_hand.screw_tension(handed)
        found = [float(c.contact.T.max()) for c in handed.at_design if c.contact.equilibrium]
        if hand is None or len(found) < len(handed.at_design):
            continue
        assert float(hand.x) <= max(found) * (1 + 1e-9)
        assert float(by_hand.naive_tension(handed).x) <= float(hand.x) * (1 + 1e-9)
        if handed.model.name == "M1" and name == "everyday_deck":  # its bed is all but used up
            assert float(hand.x) == pytest.approx(max(found), rel=0.08)


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck", "us_deck"])
def test_what_bears_and_what_pulls_balance_over_the_pieces(name: str) -> None:
    """No force from above is counted on the contact, so over all pieces bearing and tension are the same."""
    tables = [t for t in result_of(name).handed_on.tables if t.pieces is not None]
    assert tables
    for t in tables:
        assert t.pieces.bearing.sum(axis=1) == pytest.approx(t.pieces.tension.sum(axis=1), rel=1e-6)
        assert (t.pieces.bearing >= -1e-9).all() and (t.pieces.tension >= 0.0).all()
        assert np.array_equal(t.pieces.forces, t.pieces.bearing - t.pieces.tension)


def test_mounts_share_the_load_alike_where_they_stand_alike() -> None:
    """Two mounts as far from either end carry half each, so the hand value is the model's."""
    for handed in mounts(result_of("everyday_deck")):
        turning, push = (source_of(handed.service.M.origin.inputs[name], handed.worst) for name in ("M_y0", "F"))
        for value, station in (turning, push):
            assert isinstance(value.origin, Numerical) and value.origin.hand is not None
            assert value.origin.hand.at(station) == pytest.approx(value.at(station), rel=1e-6)


def test_what_is_pressed_at_service_rests_on_the_action_before_any_factor() -> None:
    """The indentation flag is made at the characteristic action, whatever the factor of its case: here wind decides."""
    text = (next(p for p in EXAMPLES if p.stem == "garden_deck")).read_text(encoding="utf-8")
    result = check(job_from_text(text, "garden_deck.toml").with_({"wind": {"pressure": "2.4 kN/m2", "reference": "invented"}}))
    flag = next(c for c in result.sound.checks if c.id == "bearing.flag.M1")
    assert flag.demand is not None and isinstance(flag.demand.origin, Numerical)
    assert flag.combination == "ultimate, wind"
    handed = next(m for m in mounts(result) if m.model.name == "M1" and m.combination.id == flag.combination)
    used = flag.demand.origin.inputs["M_Ek"]
    assert used.at(0) == pytest.approx(handed.service.M.at(handed.worst), rel=1e-12)
    assert "M_Ed" not in flag.demand.origin.inputs


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck", "us_deck"])
def test_the_tension_that_is_shown_is_that_of_the_worst_screw(name: str) -> None:
    """Of every direction, stiffness and weight; and above the naive one, which is on the low side."""
    result = result_of(name)
    shown = {s.title: float(s.value.at(s.station)) for link in result.links for s in link.shown}
    for handed in leading(mounts(result)):
        title = f"screw tension of mount {handed.model.name}"
        assert shown[title] == pytest.approx(max(float(T) for c in handed.with_weight for T in c.contact.T), rel=1e-9)
        assert shown[title] > shown[f"naive {title}"]


def test_what_does_not_close_is_said_at_its_largest() -> None:
    """Of the contacts one figure stands for, the residual of the worst is printed."""
    result = result_of("garden_deck")
    for handed in mounts(result):
        flag = next(c for c in result.sound.checks if c.id == f"bearing.flag.{handed.model.name}")
        if flag.combination == handed.combination.id:
            assert flag.demand is not None and isinstance(flag.demand.origin, Numerical)
            residuals = [c.contact.residual for c in handed.at_service_with_weight]
            assert flag.demand.origin.residual == max(residuals) > min(residuals)
        steel = next(c for c in result.sound.checks if c.id == f"screws.steel.{handed.model.name}")
        if steel.combination == handed.combination.id:
            assert steel.demand is not None and isinstance(steel.demand.origin, Numerical)
            residuals = [c.contact.residual for c in handed.with_weight]
            assert steel.demand.origin.residual == max(residuals) > min(residuals)


def test_a_load_beside_the_middle_goes_to_the_nearer_mount_by_the_lever_rule() -> None:
    """Two mounts: the share of one is the distance of the load from the other over their distance, whatever the load."""
    panel = result_of("garden_deck").handed_on.panels[0]
    x = [float(m.mount.x.x) for m in panel.mounts]
    width, beside = float(panel.panel.width.x), 0
    for number, case in enumerate(panel.cases):
        if case.parts:
            continue
        load = case.load
        centre = (load.x0 + load.x1) / 2 if isinstance(load, PatchLoad) else width / 2
        lever = float(case.resultant.x) * float(case.height.x)
        for m, other in ((0, x[1]), (1, x[0])):
            share = share_by_hand.moment(panel, m, [number]).at(0) / lever
            assert share == pytest.approx((centre - other) / (x[m] - other), rel=1e-9), case.title
        beside += abs(centre - width / 2) > 1.0
    assert beside >= 2
