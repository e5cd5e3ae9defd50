"""What is used at which level: stiffness at the ultimate state and in use, strength of the plate, where a point load stands."""

from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import ONE_LAMINATED, job_named, result_of

from barrier.links.ground.stiffness import SCREW_ULTIMATE
from barrier.links.mount.mount_forces import MountForces
from barrier.load_path import Result, Walked, check
from barrier.mechanics.plate_parts import PatchLoad
from barrier.result import SOUND, About, Check, Ending, LinkResult, NotChecked, Standing
from barrier.sheet.numbers import digits_text
from barrier.value import JobEntry, Numerical, Value, walk

ON_TIMBER = [p.stem for p in ONE_LAMINATED if p.stem != "boards_only"]


def mounts(result: Result) -> list[MountForces]:
    return [m for m in result.handed_on.mounts if isinstance(m, MountForces)]


# ---------------------------------------------------------------- stiffness


@pytest.mark.parametrize("name", ON_TIMBER)
def test_screws_are_softer_where_strength_is_looked_at(name: str) -> None:
    """EN 1995-1-1 2.2.2(2): two thirds at the ultimate state, the whole in use; each is what its contact was solved with.

    Allowable stresses are compared at the level of use: there screws are as stiff as in use.
    """
    result = result_of(name)
    softer, key = (1.0, "K") if result.basis.strength_level == "allowable" else (2 / 3, "K_u")
    for handed in mounts(result):
        model = handed.model
        for end, label in (("soft", "low"), ("stiff", "high")):
            used = {True: model.contact_screws(end, True)[0].K, False: model.contact_screws(end, False)[0].K}
            assert used[True] == pytest.approx(softer * used[False], rel=1e-12)
            if model.screws[0].K_low is not None:
                assert float(model.stiffnesses()[f"{key}_{label}"].x) == pytest.approx(used[True], rel=1e-12)
                assert float(model.stiffnesses(ultimate=False)[f"K_{label}"].x) == pytest.approx(used[False], rel=1e-12)


@pytest.mark.parametrize("name", ON_TIMBER)
def test_movement_and_the_glass_rest_on_the_stiffness_in_use(name: str) -> None:
    """No factor of the ultimate state stands in what a panel's deflection or stress on its clamps is made of."""
    result = result_of(name)
    for c in result.sound.checks:
        if c.id.startswith("movement") and c.demand is not None:
            steps = [v.origin for v in walk(c.demand)]
            assert not [s for s in steps if getattr(s, "equation", None) is SCREW_ULTIMATE], c.id


def test_service_contact_is_solved_with_the_stiffness_in_use() -> None:
    for handed in mounts(result_of("everyday_deck")):
        M = float(handed.service.M.at(handed.worst))
        for sign, bed, end, contact, _ in handed.at_service:
            again = handed.model.solve(bed, end, (-M if sign == "outward" else M), None, ultimate=False)
            assert contact.T.tolist() == again.T.tolist()
            stiffer = handed.model.solve(bed, end, (-M if sign == "outward" else M), None, ultimate=True)
            assert contact.T.max() != pytest.approx(stiffer.T.max(), rel=1e-6)


# ---------------------------------------------------------------- strength of the plate


PLATES = [("en", "plain", 1.0), ("en", "stainless", 1.1), ("en", None, 1.1), ("us", "plain", 1.67), ("us", None, 1.67)]


@pytest.mark.parametrize("basis,material,over", [*PLATES, ("au", "plain", 1 / 0.85)])
def test_the_plate_is_compared_at_the_level_of_its_basis(basis: str, material: str | None, over: float | None) -> None:
    """EN 1993-1-1 6.1(1), EN 1993-1-4 5.1 and AISC 360 F1, AS/NZS 4673 (0.85, steel not named), from memory."""
    name = {"en": "everyday_deck", "us": "us_deck", "au": "au_deck", "nz": "nz_deck"}[basis]
    found = result_of(name).basis.plate_bending(Value(205.0, "stress", JobEntry("f_y", "205 MPa"), "f_y"), material)
    if over is None:
        assert isinstance(found, NotChecked)
    else:
        assert isinstance(found, Value) and float(found.x) == pytest.approx(205.0 / over, rel=1e-12)


# ---------------------------------------------------------------- where loads stand


@pytest.mark.parametrize("name", [p.stem for p in ONE_LAMINATED])
def test_a_point_load_at_the_top_edge_has_the_whole_height_as_its_arm(name: str) -> None:
    result = result_of(name)
    found = [c for c in result.handed_on.cases if c.action.kind == "point" and not c.parts]
    for case in found:
        assert float(case.height.x) == float(case.panel.height.x)
        assert isinstance(case.load, PatchLoad) and case.load.y0 == case.load.y1 == float(case.panel.height.x)
        assert 0.0 <= case.load.x0 < case.load.x1 <= float(case.panel.width.x)


def test_a_point_load_turns_its_panel_by_its_whole_height() -> None:
    """Statics: the clamps together take force times height about the bottom edge, whatever the panel is made of."""
    result = check(job_named("everyday_deck"))
    solved = result.handed_on.panels[0]
    for k, case in enumerate(solved.cases):
        if case.action.kind != "point" or case.parts:
            continue
        together = {s: 0.0 for s in range(len(solved.sets))}
        for (s, c, _), M in zip(solved.stations, solved.reactions("Mx"), strict=True):
            if c == k:
                together[s] += float(M)
        for M in together.values():
            assert abs(M) == pytest.approx(float(case.resultant.x) * float(case.panel.height.x), rel=1e-6)


# ---------------------------------------------------------------- ranks and rounding


def numbered(id: str, eta: float, squares: bool = False) -> Check:
    made = Check(About(id), id, Ending.EXCEEDS if eta > 1 else Ending.WITHIN, Standing.REQUIRED)
    return replace(made, utilisation=Value(eta, "ratio", Numerical("made up", "made up", "nobody"), "eta"), squares=squares)


@pytest.mark.parametrize(
    "eta,squares,other,governs", [(4.6, True, 4.4, "other"), (0.81, True, 0.85, "one"), (4.6, False, 4.4, "one")]
)
def test_a_sum_of_squares_is_ranked_by_its_root(eta: float, squares: bool, other: float, governs: str) -> None:
    link = LinkResult("made_up", "made up", (numbered("one", eta, squares), numbered("other", other)))
    found = Walked(SOUND, job_named("everyday_deck"), (link,)).governing
    assert found is not None and found.id == governs


@pytest.mark.parametrize(
    "x,digits,text",
    [(3250.0, 2, "3300"), (3350.0, 2, "3400"), (0.125, 2, "0.13"), (9.996, 3, "10.0"), (99950.0, 3, "100 000"), (-2.5, 1, "−3")],
)
def test_halves_are_rounded_away_from_nought(x: float, digits: int, text: str) -> None:
    assert digits_text(x, digits).replace("\N{NO-BREAK SPACE}", " ") == text
