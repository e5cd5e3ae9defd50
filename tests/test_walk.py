"""The whole walk: equilibrium at every link, the pieces of loose blocking, situations, honest endings."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from conftest import job_named, result_of
from scipy.optimize import minimize

from barrier.links.blocking.piece_forces import PieceForces
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.ground.base_stiffness import piece_forces
from barrier.links.mount.base_plate import MountForces
from barrier.load_path import Result, check
from barrier.mechanics import fastener_group
from barrier.result import Ending, Lack, Situation, Standing

STATICS = 1e-8  # relative; the solvers are direct and close to machine precision
ACROSS = {"blocking.B1.direction": "across", "joists.direction": "along"}  # blocking runs from joist to joist
GRID = 5e-3  # the independent computation of the test integrates the bed on 0.5 mm strips


def test_garden_deck_comes_out_within(garden: Result) -> None:
    assert garden.ending is Ending.WITHIN
    assert all(c.ending is Ending.WITHIN for c in garden.sound.checks if c.standing is Standing.REQUIRED)


def test_the_everyday_sister_exceeds_and_says_where(everyday: Result) -> None:
    assert everyday.ending is Ending.EXCEEDS
    exceeding = {c.id.rsplit(".", 1)[0] for c in everyday.sound.checks if c.ending is Ending.EXCEEDS}
    assert "screws.edge" in exceeding  # 12.5 mm from a joint where 4d = 32 mm is wanted
    assert any(c.id.startswith("blocking.end") and c.utilisation is None for c in everyday.sound.checks)


# ---------------------------------------------------------------- equilibrium, hand to joist


@pytest.mark.parametrize("name", ["garden_deck", "everyday_deck"])
def test_the_clamps_take_what_the_hand_gives(name: str) -> None:
    panels: tuple[PanelSolution, ...] = result_of(name).handed_on.panels
    for panel in panels:
        for s in panel.solutions:
            for c, case in enumerate(panel.cases):
                H, y = float(case.resultant.x), float(case.height.x)
                assert s.F[c].sum() == pytest.approx(H, rel=STATICS)
                assert s.Mx[c].sum() == pytest.approx(H * y, rel=STATICS)


@pytest.mark.parametrize("name", ["garden_deck", "everyday_deck"])
def test_the_base_plate_takes_what_the_clamp_gives(name: str) -> None:
    mounts: tuple[MountForces, ...] = result_of(name).handed_on.mounts
    for m in mounts:
        M = m.M_worst.at(0)
        for sign, _, _, s, _ in m.at_design:
            if not s.equilibrium:
                continue
            bearing = sum(s.zone_force.values())
            assert bearing == pytest.approx(s.T.sum(), rel=1e-6)
            turn = sum(T * float(p.y.x) for T, p in zip(s.T, m.model.screws, strict=True))
            turn -= sum(f[1] for f in s.zone_first.values())
            assert turn == pytest.approx((1 if sign == "inward" else -1) * M, rel=1e-6)


@pytest.mark.parametrize("name", ["garden_deck", "everyday_deck"])
def test_the_pieces_take_what_the_base_plate_gives(name: str) -> None:
    pieces = [t.pieces for t in result_of(name).handed_on.tables]  # type: ignore[attr-defined]
    assert pieces and all(p is not None for p in pieces)
    for p in pieces:
        M = p.mount.M_worst.at(0)
        centres = np.array([q.centre for q in p.mount.model.pieces])
        for label, forces, own in zip(p.labels, p.forces, p.own_moments, strict=True):
            assert abs(forces.sum()) < 1e-6 * np.abs(forces).max()
            turn = -(forces * centres).sum() - own.sum()
            assert turn == pytest.approx((1 if label.startswith("inward") else -1) * M, rel=1e-6)


# ---------------------------------------------------------------- loose pieces, computed independently


def strips(half: float, edges: list[float], hole: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Strips of the plate across the mount: position, width that bears, and piece, a service hole taken out."""
    dy = 0.5
    y = np.arange(-half + dy / 2, half, dy)
    width = 2 * half - 2 * np.sqrt(np.maximum(hole**2 - y**2, 0.0))
    return y, width * dy, np.searchsorted(edges, y) - 1


def test_forces_of_loose_pieces_by_an_independent_computation(everyday: Result) -> None:
    """Energy of the rigid plate over strips, minimised by a general optimiser; no code of ours but the job's figures."""
    pieces: PieceForces = everyday.handed_on.tables[0].pieces  # type: ignore[index]
    handed = pieces.mount
    f = float(handed.bed.strength.x)  # type: ignore[union-attr]
    M = handed.M_worst.at(0)
    y, area, piece = strips(50.0, [-67.5, -22.5, 22.5, 67.5], 11.0)
    beds = {"soft": 2.0, "nominal": 4.0, "stiff": 8.0}
    l_ef = min(100 - 8.0, 1e9) - max(100 - 60.0, 10 + 28.0)  # thread in the blocking, tip off: plate 10, boards 28
    ends = {"soft": 780 * 8**0.2 * l_ef**0.4, "stiff": 25 * 8 * l_ef}
    ys = np.array([-35.0, -35.0, 35.0, 35.0])
    compared = 0
    for label, found in zip(pieces.labels, pieces.forces, strict=True):
        sign, bed, end = label.split(", ")
        k, K = beds[bed.split()[0]], 2 / 3 * ends[end.split()[0]]
        moment = M if sign == "inward" else -M

        def energy(q: np.ndarray, k: float = k, K: float = K, moment: float = moment) -> float:
            u = q[0] + q[1] / 50 * y
            s = np.maximum(-u, 0.0)
            bedded = np.where(k * s < f, k * s**2 / 2, f * s - f**2 / (2 * k))
            pulled = np.maximum(q[0] + q[1] / 50 * ys, 0.0)
            return float((bedded * area).sum() + (K * pulled**2 / 2).sum() - moment * q[1] / 50)

        q = minimize(energy, np.zeros(2), method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-9, "maxiter": 8000}).x
        u = q[0] + q[1] / 50 * y
        p = np.minimum(k * np.maximum(-u, 0.0), f) * area
        T = K * np.maximum(q[0] + q[1] / 50 * ys, 0.0)
        mine = np.array([p[piece == i].sum() for i in range(3)])
        mine[0] -= T[:2].sum()
        mine[2] -= T[2:].sum()
        assert found == pytest.approx(mine, abs=GRID * np.abs(mine).max() + 5.0)
        compared += 1
    assert compared == len(pieces.labels) > 0


def test_one_section_torsion_understates_the_worst_end_fixing(everyday: Result) -> None:
    """Loose pieces against one section in torsion, at the same action.

    Assumed (common practice, no source): two nails an end of each piece at +-40 mm, mount at mid-bay so that both
    ends share alike. The trial of the method gave a factor of 1.9 (computed, bed not yielded); stiffness moves it, hence the band
    of a fifth.
    """
    pieces: PieceForces = everyday.handed_on.tables[0].pieces  # type: ignore[index]
    handed = pieces.mount
    H, M = abs(handed.F_Ed.at(handed.worst)), handed.M_worst.at(0)
    elastic = [handed.model.solve(bed, end, -M) for bed in ("soft", "stiff") for end in ("soft", "stiff")]
    worst = [np.abs(piece_forces(handed.model, s)).max() for s in elastic]
    T = M + H * (28 + 195 / 2)
    x, y = np.repeat([-45.0, 0.0, 45.0], 2), np.tile([-40.0, 40.0], 3)
    group = fastener_group.in_plane(x, y, 0.0, 0.0, T / 2)
    one_section = float(np.hypot(group[..., 0], group[..., 1]).max())
    ratios = np.array(worst) / 2 / 2 / one_section
    assert (ratios > 1.9 * 0.8).all() and (ratios < 1.9 * 1.2).all()
    yielded = np.abs(pieces.forces).max() / 2 / 2 / one_section
    assert yielded > ratios.max()  # tension grows once the bed has yielded


# ---------------------------------------------------------------- honest endings


def test_a_situation_stands_beside_the_sound_one(everyday: Result) -> None:
    sound, missing = everyday.walked[0], everyday.walked[1]
    assert "misses the timber" in missing.situation.name
    a = next(c for c in sound.checks if c.id == "screws.withdrawal.M1")
    b = next(c for c in missing.checks if c.id == "screws.withdrawal.M1")
    assert b.ending is Ending.EXCEEDS
    if a.eta is not None and b.eta is not None:
        assert b.eta > 1.5 * a.eta


def test_a_base_plate_that_cannot_be_solved_exceeds_with_its_reason() -> None:
    job = job_named("garden_deck").with_({f"mounts.M1.screws.S{i}.present": False for i in (1, 2, 3, 4)})
    result = check(job)
    for id in ("base_plate.bed.M1", "screws.withdrawal.M1"):
        c = next(c for c in result.sound.checks if c.id == id)
        assert c.ending is Ending.EXCEEDS and c.utilisation is None and "no equilibrium" in c.reason
    assert result.ending is Ending.EXCEEDS


def test_one_row_missing_leaves_one_direction_without_equilibrium() -> None:
    result = check(job_named("garden_deck").with_({"mounts.M1.screws.S1.present": False, "mounts.M1.screws.S2.present": False}))
    c = next(c for c in result.sound.checks if c.id == "screws.withdrawal.M1")
    assert c.ending is Ending.EXCEEDS


CHANGES: dict[str, tuple[dict[str, object], str, Lack]] = {
    "no wind outdoors": ({"wind": None}, "actions.wind", Lack.INPUT),
    "no rating": ({"mounts.M1.rating": None}, "clamp.rating.M1", Lack.INPUT),
    "rating on steel": ({"mounts.M1.rating.substrate": "steel"}, "clamp.rating.M1", Lack.RANGE),
    "breaking load only": ({"mounts.M1.rating.meaning": "ultimate"}, "clamp.rating.M1", Lack.INPUT),
    "thin screws": (
        {"mounts.M1.screw.diameter": "5 mm", "mounts.M1.screw.root": "3.4 mm"}, "screws.withdrawal.M1", Lack.RANGE,
    ),
    "root unknown": ({"mounts.M1.screw.root": "unknown"}, "screws.withdrawal.M1", Lack.INPUT),
    "timber has no name here": ({"blocking.B1.material": {"us": "Hem-Fir"}}, "blocking.bending.M1", Lack.INPUT),
    "bracket without uplift": ({"blocking.B1.left.uplift": None}, "blocking.end.left.uplift.M1", Lack.INPUT),
    "no limit of movement": ({"limits.top_movement": None}, "movement.P3", Lack.INPUT),
}  # fmt: skip


@pytest.mark.parametrize("name", CHANGES)
def test_nothing_unchecked_looks_checked(name: str, sheet_text: Callable[[Result], str]) -> None:
    changes, id, lack = CHANGES[name]
    result = check(job_named("garden_deck").with_(changes))
    c = next(c for c in result.sound.checks if c.id == id)
    assert c.ending is Ending.NOT_CHECKED and c.utilisation is None and c.reason.startswith(str(lack))
    assert result.ending is not Ending.WITHIN
    text = sheet_text(result)
    line = next(x for x in text.splitlines() if c.title[:40] in x)
    assert "NOT CHECKED" in line or "NOT CHECKED" in text


@pytest.fixture
def sheet_text() -> Callable[[Result], str]:
    from barrier import sheet

    return sheet.text


def test_a_rigid_clamp_never_yields_a_peak() -> None:
    from barrier.errors import JobRefused
    from barrier.mechanics.plate import Clamp, LineLoad, Pad, Plate, PlateModel

    with pytest.raises(JobRefused, match="stiffness"):
        job_named("garden_deck").with_(
            {"mounts.M1.pads.1.stiffness": "5000 N/mm3", "mounts.M1.pads.1.stiffness_high": "5000 N/mm3"}
        )
    with pytest.raises(ValueError, match=r"without bound|singular"):
        PlateModel(Plate(1000, 1000, 12, 70000, 0.23), [Clamp(500, (Pad(400, 600, 0, 90, float("inf")),))], [LineLoad(1, 1000)])


# ---------------------------------------------------------------- symmetry and a stub of another family


def test_a_mirrored_job_has_the_mirrored_answer() -> None:
    base = job_named("garden_deck")
    moved = base.with_({"mounts.M1.x": "180 mm", "mounts.M1.in_bay": "180 mm"})
    mirror = base.with_({"mounts.M2.x": "820 mm", "mounts.M2.in_bay": "225 mm", "mounts.M1.in_bay": "205 mm"})
    a, b = check(moved).sound.checks, check(mirror).sound.checks
    swap = {"M1": "M2", "M2": "M1", "left": "right", "right": "left"}

    def mirrored(id: str) -> str:
        return ".".join(swap.get(part, part) for part in id.split("."))

    answers = {c.id: c for c in b}
    compared = 0
    for c in a:
        other = answers[mirrored(c.id)]
        assert c.ending is other.ending, c.id
        if c.eta is not None and other.eta is not None:
            assert c.eta == pytest.approx(other.eta, rel=1e-6), c.id
            compared += 1
    assert compared > 10


def test_situations_may_be_named_by_the_caller() -> None:
    result = check(job_named("garden_deck"), [Situation("boards not touching", {"decking.gap_under": "3 mm"})])
    sound, gap = result.walked[0], result.walked[-1]
    a = next(c for c in sound.checks if c.id == "movement.P3")
    b = next(c for c in gap.checks if c.id == "movement.P3")
    assert a.eta is not None and b.eta is not None and b.eta > a.eta


def test_a_result_as_a_frame(everyday: Result) -> None:
    frame = everyday.to_frame()
    assert len(frame) == sum(len(w.checks) for w in everyday.walked)
    row = frame[(frame.situation == "sound") & (frame.id == "glass.face")].iloc[0]
    c = next(c for c in everyday.sound.checks if c.id == "glass.face")
    assert row.utilisation == pytest.approx(c.eta) and row.ending == str(c.ending)


def test_blocking_across_the_glass_line_takes_the_moment_in_bending() -> None:
    """Reactions of the pieces at their ends balance the moment; a lone piece by hand: M/L up at one end, down at the other."""
    from barrier.links.blocking.across import moments

    changes = {**ACROSS, "blocking.B1.pieces": 1, "blocking.B1.width": "190 mm"}
    result = check(job_named("garden_deck").with_(changes))
    mounts: tuple[MountForces, ...] = result.handed_on.mounts
    handed = mounts[0]
    M = handed.M_worst.at(0)
    for corner, row in zip(handed.at_design, moments(handed, handed.at_design), strict=True):
        assert row.sum() == pytest.approx(M if corner.sign == "outward" else -M, rel=1e-6)
    L, a = 405.0, float(handed.model.mount.in_bay.x)
    for side, way in (("left", "uplift"), ("left", "down"), ("right", "uplift"), ("right", "down")):
        c = next(c for c in result.sound.checks if c.id == f"blocking.end.{side}.{way}.M1")
        # Boards of 28 mm, and half of 195 mm: the lever of the push about the middle of the piece.
        F = abs(handed.F_Ed.at(handed.worst))
        # Pressed down, the weight of the glass comes to it as well, half of it where the mount stands mid-way.
        N = float(handed.weight.x) * (a if side == "right" else L - a) / L if way == "down" else 0.0
        assert c.demand is not None and c.demand.at(c.station) == pytest.approx((M + F * (28 + 97.5)) / L + N, rel=1e-6)


def test_blocking_across_with_several_pieces_balances() -> None:
    from barrier.links.blocking.across import moments

    changes = {
        **ACROSS,
        "blocking.B1.width": "60 mm",
        "blocking.B1.pieces": 3,
        "mounts.M1.in_bay": "150 mm",
    }
    result = check(job_named("garden_deck").with_(changes))
    handed = result.handed_on.mounts[0]
    for corner, row in zip(handed.at_design, moments(handed, handed.at_design), strict=True):
        assert abs(row.sum()) == pytest.approx(handed.M_worst.at(0), rel=1e-6)
        assert corner.contact.equilibrium
    assert {c.id for c in result.sound.checks} >= {"blocking.bending.M1", "blocking.shear.M1", "blocking.end.left.uplift.M1"}


def test_a_mount_that_lets_go_is_not_passed_over_in_the_glass() -> None:
    changes = {"mounts.M1.screws.S1.present": False, "mounts.M1.screws.S2.present": False}
    changes |= {"mounts.M1.screws.S3.present": False, "mounts.M1.screws.S4.present": False}
    result = check(job_named("garden_deck").with_(changes))
    glass = next(r for r in result.links if r.id == "glass")
    assert any(f.loud and "M1 has no equilibrium" in f.text for f in glass.findings)


def test_a_post_as_wide_as_its_screws_leaves_the_plate_not_checked() -> None:
    result = check(job_named("garden_deck").with_({"mounts.M1.plate.clamp_reach": "60 mm"}))
    c = next(c for c in result.sound.checks if c.id == "base_plate.plate.M1")
    assert c.ending is Ending.NOT_CHECKED and result.ending is Ending.NOT_CHECKED
