"""The laminate on clamps: limits of the film's stiffness, a strip in closed form, statics, symmetry, contact, refusals."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import expm

from barrier.mechanics.laminate import CONTACTS, LAYER_FACES, Laminate, LaminateModel, LaminateSolution, Stand
from barrier.mechanics.plate import (
    FIXED,
    Clamp,
    LineLoad,
    Pad,
    PatchLoad,
    Plate,
    PlateModel,
    Pressure,
    at_once,
    diagonal_base,
)

ROUNDING = 1e-6
LIMIT = 1e-3  # of the two limits of the film's stiffness
BASE = diagonal_base(2e4, 1e8, 1e8)

SHEET = Laminate(1200.0, 1200.0, 10.0, 10.0, 1.52, 70_000.0, 0.23, 0.5)
UNEQUAL = replace(SHEET, front=6.0)


def clamp(x: float, k: float = 10.0, b: float = 50.0, d: float = 90.0) -> Clamp:
    return Clamp(x, (Pad(x - b / 2, x + b / 2, 0.0, d, k),))


TWO = (clamp(300.0), clamp(900.0))
LINE = LineLoad(0.75, 1200.0)


def peak(solution: LaminateSolution, face: str, load: int = 0) -> float:
    return max(float(p.stress[load]) for p in solution.peaks(10.0)[face].values())  # type: ignore[index]


class TestLimits:
    @pytest.mark.parametrize("load", [LINE, PatchLoad(500.0, 1150.0, 1200.0, 1150.0, 1200.0)], ids=["line", "patch"])
    def test_a_film_without_stiffness_leaves_the_layered_plate(self, load: LineLoad | PatchLoad) -> None:
        """Equal layers; with unequal ones a pad presses each its own way, which the single plate cannot show."""
        soft = LaminateModel(replace(SHEET, G=1e-4), TWO, [load]).solve([FIXED, BASE])
        plate = PlateModel(SHEET.layered, TWO, [load]).solve([FIXED, BASE])
        share = SHEET.front / SHEET.layered.thickness
        assert soft.top_deflection == pytest.approx(plate.top_deflection, rel=LIMIT)
        assert pytest.approx(plate.Mz, rel=LIMIT) == soft.Mz
        of_plate = plate.peaks(10.0)
        for zone, found in soft.peaks(10.0)["front outer"].items():
            assert found.stress == pytest.approx(share * of_plate["load"][zone].stress, rel=LIMIT, abs=0.01)
        assert peak(soft, "back inner") == pytest.approx(peak(soft, "front outer"), rel=LIMIT)

    @pytest.mark.parametrize("sheet", [SHEET, UNEQUAL, replace(SHEET, back=6.0)], ids=["10+10", "6+10", "10+6"])
    def test_a_rigid_film_makes_one_plate(self, sheet: Laminate) -> None:
        """D + B is the bending stiffness of both layers with the gap between them; the outer faces have its stress.

        On a mesh twice as fine as usual: the usual one's own error in the stress of either is up to 0.3 %.
        """
        stiff = LaminateModel(replace(sheet, G=1e7), TWO, [LINE], fineness=2.0).solve([FIXED, BASE])
        one = Plate(sheet.width, sheet.height, sheet.monolithic, sheet.E, sheet.nu)
        plate = PlateModel(one, TWO, [LINE], fineness=2.0).solve([FIXED, BASE])
        assert stiff.top_deflection == pytest.approx(plate.top_deflection, rel=LIMIT)
        assert pytest.approx(plate.F, rel=LIMIT) == stiff.F
        axis = sheet.front / 2 + sheet.distance * sheet.back / (sheet.front + sheet.back)  # from the front face
        out = {"front outer": axis, "back outer": sheet.front + sheet.gap + sheet.back - axis}
        for face, side in (("front outer", "load"), ("back outer", "back")):
            of_plate = max(float(p.stress[0]) for p in plate.peaks(10.0)[side].values())  # type: ignore[index]
            assert peak(stiff, face) == pytest.approx(of_plate * out[face] / (sheet.monolithic / 2), rel=LIMIT)

    def test_no_gap_makes_both_thicknesses_one(self) -> None:
        assert replace(UNEQUAL, gap=1e-9).monolithic == pytest.approx(16.0, rel=ROUNDING)

    @pytest.mark.parametrize("sheet", [SHEET, UNEQUAL], ids=["10+10", "6+10"])
    def test_nothing_locks(self, sheet: Laminate) -> None:
        """However stiff the film, on the usual mesh: slip in the space of w itself would leave the stress 4 % low.

        At G = 1e9 MPa rounding is 1e-4 of the movement; no film has a hundred thousandth of that.
        """
        one = Plate(sheet.width, sheet.height, sheet.monolithic, sheet.E, sheet.nu)
        plate = PlateModel(one, TWO, [LINE], fineness=2.0).solve([FIXED, FIXED])
        rigid = LaminateModel(replace(sheet, G=1e9), TWO, [LINE]).solve([FIXED, FIXED])
        assert rigid.top_deflection == pytest.approx(plate.top_deflection, rel=3e-4)
        axis = sheet.front / 2 + sheet.distance * sheet.back / (sheet.front + sheet.back)
        stress = max(float(p.stress[0]) for p in plate.peaks(10.0)["load"].values())
        assert peak(rigid, "front outer") == pytest.approx(stress * axis / (sheet.monolithic / 2), rel=4e-3)

    @pytest.mark.parametrize("G", [0.05, 3.0, 240.0, 1000.0])
    def test_a_finer_mesh_changes_little(self, G: float) -> None:
        usual, fine = (LaminateModel(replace(UNEQUAL, G=G), TWO, [LINE], fineness=f).solve([FIXED] * 2) for f in (1.0, 2.0))
        assert usual.top_deflection == pytest.approx(fine.top_deflection, rel=3e-4)
        for layer in ("front", "back"):
            one, other = (max(peak(s, f) for f in LAYER_FACES if f.startswith(layer)) for s in (usual, fine))
            assert one == pytest.approx(other, rel=0.01)

    @pytest.mark.parametrize(("G", "k"), [(0.05, 20.0), (0.5, 100.0), (10.0, 20.0)])
    def test_a_strip_is_a_beam_of_two_layers(self, G: float, k: float) -> None:
        """Two equal layers, nu = 0, a pad over the whole width: every strip is a beam with a shear layer on springs.

        D w'''' - S (w'' - a') + k w = 0 and B a'' + S (w' - a) = 0, solved exactly with the exponential of its matrix.
        Source: the equations of N. J. Hoff's sandwich beam with thick faces (from memory), solved here.
        """
        W, H, d, q = 600.0, 1000.0, 100.0, 0.75
        sheet = Laminate(W, H, 8.0, 8.0, 1.52, 70_000.0, 0.0, G)
        s = LaminateModel(sheet, [Clamp(W / 2, (Pad(0.0, W, 0.0, d, k),))], [LineLoad(q, H)]).solve([FIXED])
        D, B, S = sheet.D, sheet.B, sheet.S

        def change(springs: float) -> np.ndarray:  # of w, w', w'', w''', a, a'
            A = np.zeros((6, 6))
            A[0, 1] = A[1, 2] = A[2, 3] = A[4, 5] = 1.0
            A[3, 0], A[3, 2], A[3, 5], A[5, 1], A[5, 4] = -springs / D, S / D, -S / D, -S / B, S / B
            return A

        shear = np.array([0, -S, 0, D, S, 0])  # upward, of a cut
        start = np.array([[1, 0, 0, 0, 0, 0], [0, 1, 0, S / D, 0, 0], [0, 0, 0, -S / D, 1, 0]]).T  # w'' = a' = shear = 0
        at_root = expm(change(k) * d) @ start
        at_top = expm(change(0.0) * (H - d)) @ at_root
        ends = np.linalg.solve(np.array([at_top[2], at_top[5], shear @ at_top]), [0.0, 0.0, -q])
        root, top = at_root @ ends, at_top @ ends
        assert s.top_deflection[0] == pytest.approx(top[0], rel=5e-3)
        along = sheet.E * np.array([4.0 * root[2] + sheet.distance / 2 * root[5], -4.0 * root[2] + sheet.distance / 2 * root[5]])
        for face, stress in zip(("front outer", "front inner"), along, strict=True):
            assert s.principal_stress(face, W / 2, d)[0, 0, 0] == pytest.approx(max(stress, 0.0), rel=5e-3, abs=0.02)  # type: ignore[arg-type]
        slip = s.slip(W / 2, H)[1, 0, 0, 0]
        assert slip == pytest.approx(sheet.distance * top[4], rel=5e-3)


class TestStatics:
    @settings(max_examples=20, deadline=None)
    @given(
        W=st.floats(500.0, 2500.0), H=st.floats(800.0, 1500.0), front=st.floats(4.0, 15.0), back=st.floats(4.0, 15.0),
        G=st.floats(0.05, 200.0), k=st.floats(2.0, 200.0), n=st.integers(2, 4), d=st.floats(40.0, 150.0),
        shift=st.floats(-0.3, 0.3), soft=st.booleans(), contact=st.sampled_from(CONTACTS),
    )  # fmt: skip
    def test_equilibrium_of_random_panels(
        self, W: float, H: float, front: float, back: float, G: float, k: float, n: int, d: float, shift: float, soft: bool,
        contact: str,
    ) -> None:  # fmt: skip
        clamps = [clamp(W * (i + 0.5 + shift) / n, k, 40.0, d) for i in range(n)]
        loads = [LineLoad(-0.75, 0.8 * H), Pressure(1e-3), PatchLoad(600.0, 0.0, 50.0, H - 50.0, H)]
        model = LaminateModel(Laminate(W, H, front, back, 1.52, 70_000.0, 0.23, G), clamps, loads)
        s = model.solve([diagonal_base(5e3, 2e7, 5e7) if soft else FIXED] * n, contact)  # type: ignore[arg-type]
        assert s.residual.max() < ROUNDING
        for zones in s.peaks(10.0).values():
            for p in zones.values():
                assert np.isfinite(p.stress).all()

    def test_residual_sees_a_missing_force(self) -> None:
        good = LaminateModel(SHEET, TWO, [LINE]).solve([FIXED, FIXED])
        assert replace(good, F=good.F * 0.99).residual[0] == pytest.approx(0.01, rel=1e-3)

    def test_work_is_mutual(self) -> None:
        """Betti: the first load on the movement of the second is the second on that of the first."""
        loads = [PatchLoad(400.0, 0.0, 80.0, 1000.0, 1100.0), PatchLoad(900.0, 600.0, 700.0, 400.0, 500.0)]
        model = LaminateModel(UNEQUAL, TWO, loads)
        w = model.solve([FIXED, BASE]).fields["w"]
        first, second = (model.limit.load_vector(load) for load in model.loads)
        assert (first * w[1]).sum() == pytest.approx((second * w[0]).sum(), rel=ROUNDING)

    def test_loads_add_up(self) -> None:
        p = 1e-3
        halves = [PatchLoad(p * 600 * 1200, x, x + 600.0, 0.0, 1200.0) for x in (0.0, 600.0)]
        s = LaminateModel(UNEQUAL, [clamp(200.0), clamp(900.0)], [*halves, Pressure(p), at_once(2.0, *halves)]).solve([FIXED, BASE])
        x, y = np.linspace(0, 1200, 7), np.linspace(0, 1200, 5)
        for field in (s.deflection(x, y), s.slip(x, y)[0], s.slip(x, y)[1], s.F, s.Mx, s.Mz):
            assert field[0] + field[1] == pytest.approx(field[2], rel=ROUNDING, abs=1e-6 * np.abs(field[2]).max())
            assert field[3] == pytest.approx(2 * field[2], rel=ROUNDING, abs=1e-6 * np.abs(field[2]).max())

    @pytest.mark.parametrize("contact", CONTACTS)
    def test_a_load_the_other_way_works_on_the_panel_turned_round(self, contact: str) -> None:
        """Inward on 6+10 is outward on 10+6: the same answer with the faces exchanged."""
        loads = [Pressure(1e-3), LineLoad(0.5, 1200.0)]
        inward = [Pressure(-1e-3), LineLoad(-0.5, 1200.0)]
        turned = replace(UNEQUAL, front=UNEQUAL.back, back=UNEQUAL.front)
        one = LaminateModel(UNEQUAL, TWO, inward).solve([FIXED, BASE], contact)  # type: ignore[arg-type]
        other = LaminateModel(turned, TWO, loads).solve([FIXED, BASE], contact)  # type: ignore[arg-type]
        assert pytest.approx(-other.F, rel=ROUNDING) == one.F
        for load in (0, 1):
            for face, opposite in zip(LAYER_FACES, reversed(LAYER_FACES), strict=True):
                assert peak(one, face, load) == pytest.approx(peak(other, opposite, load), rel=1e-5, abs=1e-3)

    @pytest.mark.parametrize("contact", CONTACTS)
    def test_mirrored_panel_gives_the_mirrored_answer(self, contact: str) -> None:
        corner, mirrored = PatchLoad(600.0, 0.0, 50.0, 1150.0, 1200.0), PatchLoad(600.0, 1150.0, 1200.0, 1150.0, 1200.0)
        a = LaminateModel(UNEQUAL, [clamp(200.0), clamp(800.0)], [corner]).solve([FIXED, BASE], contact)  # type: ignore[arg-type]
        b = LaminateModel(UNEQUAL, [clamp(400.0), clamp(1000.0)], [mirrored]).solve([BASE, FIXED], contact)  # type: ignore[arg-type]
        assert a.F[0] == pytest.approx(b.F[0, ::-1], rel=1e-5)
        assert a.Mz[0] == pytest.approx(-b.Mz[0, ::-1], rel=1e-4, abs=1.0)
        for face in LAYER_FACES:
            assert peak(a, face) == pytest.approx(peak(b, face), rel=1e-3, abs=0.01)

    def test_no_load_no_answer_but_no_nonsense(self) -> None:
        for contact in CONTACTS:
            s = LaminateModel(SHEET, TWO, [LineLoad(0.0, 1200.0)]).solve([FIXED] * 2, contact)
            assert s.residual[0] == 0.0 and s.top_deflection[0] == 0.0 and peak(s, "front outer") == 0.0

    def test_a_tall_panel_counts_its_columns_the_other_way(self) -> None:
        """Few clamps, much height: more splines up than along. The limit of a rigid film holds there too."""
        sheet = Laminate(300.0, 2400.0, 8.0, 6.0, 0.76, 70_000.0, 0.23, 1e7)
        clamps, loads = [clamp(150.0, 50.0)], [PatchLoad(50.0, 100.0, 200.0, y, y + 100.0) for y in (700.0, 1500.0, 2300.0)]
        model = LaminateModel(sheet, clamps, loads)
        assert model.limit.y_line.size > model.limit.x_line.size
        plate = PlateModel(Plate(300.0, 2400.0, sheet.monolithic, sheet.E, sheet.nu), clamps, loads).solve([FIXED])
        assert model.solve([FIXED]).top_deflection == pytest.approx(plate.top_deflection, rel=LIMIT)


class TestPads:
    MODEL = LaminateModel(UNEQUAL, [clamp(200.0, 60.0), clamp(600.0, 60.0), clamp(1000.0, 60.0)], [LINE, Pressure(-1e-3)])

    @pytest.mark.parametrize("contact", CONTACTS)
    def test_other_pads_answer_as_a_model_of_their_own(self, contact: str) -> None:
        """Another mesh, so to its error only."""
        soft = [clamp(x, 15.0) for x in (200.0, 600.0, 1000.0)]
        one = self.MODEL.solve([FIXED] * 3, contact, soft)  # type: ignore[arg-type]
        other = LaminateModel(UNEQUAL, soft, [LINE, Pressure(-1e-3)]).solve([FIXED] * 3, contact)  # type: ignore[arg-type]
        assert one.top_deflection == pytest.approx(other.top_deflection, rel=1e-4)
        assert pytest.approx(other.Mx, rel=1e-4) == one.Mx
        assert peak(one, "front outer") == pytest.approx(peak(other, "front outer"), rel=0.01)

    @pytest.mark.parametrize("contact", CONTACTS)
    def test_a_lost_clamp_answers_as_a_model_without_it(self, contact: str) -> None:
        one = self.MODEL.solve([FIXED, None, BASE], contact)  # type: ignore[arg-type]
        left = [self.MODEL.clamps[0], self.MODEL.clamps[2]]
        other = LaminateModel(UNEQUAL, left, [LINE, Pressure(-1e-3)]).solve([FIXED, BASE], contact)  # type: ignore[arg-type]
        assert one.F[:, [0, 2]] == pytest.approx(other.F, rel=1e-4)
        assert one.F[:, 1] == pytest.approx(0.0) and np.isnan(one.body[:, 1]).all()
        assert one.top_deflection == pytest.approx(other.top_deflection, rel=1e-4)
        assert one.residual.max() < ROUNDING

    def test_several_ways_at_once_are_each_alone(self) -> None:
        stands = [Stand([FIXED] * 3), Stand([BASE] * 3, "one face"), Stand([FIXED, None, BASE])]
        for stand, together in zip(stands, self.MODEL.solve_all(stands), strict=True):
            alone = self.MODEL.solve(stand.bases, stand.contact)
            assert together.top_deflection == pytest.approx(alone.top_deflection, rel=ROUNDING)
            assert pytest.approx(alone.F, rel=ROUNDING, abs=1e-6) == together.F

    def test_pads_on_one_face_press_and_never_pull(self) -> None:
        """Their pressures, from the movements that were found, are what the clamps take."""
        model = self.MODEL
        s = model.solve([FIXED] * 3, "one face")
        grip, at = model.grip, s.at
        for pad, k in zip(grip.pads, s.k, strict=True):
            front, back = grip.gaps(pad, at.q, at.b)
            pressure = k * np.minimum(front, 0.0), k * np.maximum(back, 0.0)
            for row, of in enumerate(pad.moved):
                taken = (sum(pressure) * pad.weight * of).sum(axis=(1, 2))
                assert taken == pytest.approx(at.action[pad.body][row], rel=1e-4, abs=1e-5 * np.abs(at.action[pad.body]).max())

    def test_one_face_strains_an_inner_face_more_where_the_film_is_soft(self) -> None:
        soft = LaminateModel(replace(SHEET, G=0.05), [clamp(300.0, 100.0), clamp(900.0, 100.0)], [LINE])
        both, one = (max(peak(soft.solve([FIXED] * 2, c), f) for f in LAYER_FACES) for c in CONTACTS)
        assert one > 1.1 * both

    def test_stiffer_film_less_stress_outside(self) -> None:
        found = [
            peak(LaminateModel(replace(SHEET, G=G), TWO, [LINE]).solve([FIXED] * 2), "front outer") for G in (0.05, 0.5, 5, 50)
        ]
        assert found == sorted(found, reverse=True)

    @pytest.mark.parametrize("contact", CONTACTS)
    @pytest.mark.parametrize("q", [0.75, -0.75])
    def test_pressure_of_the_pads(self, contact: str, q: float) -> None:
        """A stiff panel on a fixed base presses as statics has it; k times the movement, both faces together.

        Pads that touch one face press there with all of it, whichever way the load goes.
        """
        pads = [Clamp(600.0, (Pad(0.0, 1200.0, 0.0, 100.0, 10.0),))]
        s = LaminateModel(replace(SHEET, E=7e8), pads, [LineLoad(q, 1200.0)]).solve([FIXED], contact)  # type: ignore[arg-type]
        F, M = 900.0, 900.0 * 1200.0
        mean, turn = F / (1200 * 100), (M - F * 50) / (1200 * 100**2 / 6)
        assert s.peak_pad_pressure[0, 0] == pytest.approx(mean + turn, rel=5e-3)


class TestPeaks:
    def test_the_largest_movement_of_the_top_edge_is_found_where_it_is(self) -> None:
        """Between two clamps far apart, under a patch near the top: to a few mm along, which is where it is drawn."""
        wide = replace(SHEET, width=3000.0)
        loads = [PatchLoad(500.0, x, x + 50.0, 1150.0, 1200.0) for x in (1331.0, 1423.0, 1517.0, 1604.0)]
        s = LaminateModel(wide, [clamp(150.0, 60.0), clamp(2850.0, 60.0)], loads).solve([FIXED, FIXED])
        x = np.linspace(0.0, 3000.0, 3001)
        w = s.deflection(x, 1200.0)[:, :, 0]
        assert (s.top_deflection_x > 0.0).all() and (s.top_deflection_x < 3000.0).all()
        assert s.top_deflection_x == pytest.approx(x[w.argmax(axis=1)], abs=5.0)
        assert s.top_deflection == pytest.approx(w.max(axis=1), rel=1e-5)

    def test_a_peak_is_the_stress_at_its_place_and_nothing_sampled_is_above(self) -> None:
        s = LaminateModel(UNEQUAL, TWO, [LINE, Pressure(-1e-3)]).solve([FIXED, BASE])
        x = y = np.linspace(0.0, 1200.0, 301)
        for face, zones in s.peaks(10.0).items():
            sampled = s.principal_stress(face, x, y)
            for n in (0, 1):
                top = max(zones.values(), key=lambda p: p.stress[n])
                assert s.principal_stress(face, top.x[n], top.y[n])[n, 0, 0] == pytest.approx(float(top.stress[n]), rel=ROUNDING)
                assert sampled[n].max() <= float(top.stress[n]) * 1.002


MODEL = LaminateModel(SHEET, TWO, [LINE])
REFUSED: list[tuple[str, Callable[[], object]]] = [
    ("laminate front", lambda: replace(SHEET, front=0.0)),
    ("laminate back", lambda: replace(SHEET, back=-1.0)),
    ("laminate gap", lambda: replace(SHEET, gap=0.0)),
    ("laminate E", lambda: replace(SHEET, E=float("nan"))),
    ("laminate nu", lambda: replace(SHEET, nu=0.5)),
    ("laminate G", lambda: replace(SHEET, G=0.0)),
    ("laminate bulk", lambda: replace(SHEET, bulk=0.0)),
    ("overlaps", lambda: LaminateModel(SHEET, [clamp(300), clamp(340)], [LINE])),
    ("0 loads", lambda: LaminateModel(SHEET, TWO, [])),
    ("contact", lambda: MODEL.solve([FIXED] * 2, "no face")),  # type: ignore[arg-type]
    ("clamps", lambda: MODEL.solve([FIXED] * 2, clamps=[clamp(300.0), clamp(800.0)])),
    ("bases has 1", lambda: MODEL.solve([FIXED])),
    ("base 2", lambda: MODEL.solve([FIXED, np.diag([1.0, -1.0, 1.0])])),
    ("all None", lambda: MODEL.solve([None] * 2)),
    ("without resistance", lambda: MODEL.solve([np.zeros((3, 3))] * 2)),
    ("edge_band", lambda: MODEL.solve([FIXED] * 2).peaks(-1.0)),
    ("y = ", lambda: MODEL.solve([FIXED] * 2).deflection(0.0, 1201.0)),
    ("no rest", lambda: LaminateModel(replace(SHEET, G=1e-5), [clamp(300.0, 200.0)], [LINE]).solve([FIXED], "one face")),
]


@pytest.mark.parametrize(("words", "build"), REFUSED)
def test_refusals_name_what_is_wrong_and_what_is_allowed(words: str, build: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"[Aa]llowed") as refused:
        build()
    assert words in str(refused.value)


def test_half_a_newton_does_a_thousandth_of_five_hundred_and_enters_on_the_same_face() -> None:
    """Layers and pads are linear, so stress per load is one; where the load enters is said by its sign and not by its size."""
    small = Laminate(300.0, 400.0, 6.0, 10.0, 1.52, 70_000.0, 0.23, 0.5)
    light, heavy = (
        LaminateModel(small, [clamp(150.0)], [PatchLoad(P, 140.0, 160.0, 10.0, 30.0)]).solve([FIXED]) for P in (0.5, 500.0)
    )
    for face in LAYER_FACES:
        assert 1000.0 * peak(light, face) == pytest.approx(peak(heavy, face), rel=ROUNDING), face


def test_the_top_edge_moves_most_at_the_corner_that_is_pushed_and_in_the_middle_by_symmetry() -> None:
    corners = [PatchLoad(500.0, x, x + 50.0, 1150.0, 1200.0) for x in (0.0, 1150.0, 575.0)]
    s = LaminateModel(SHEET, [clamp(100.0), clamp(1100.0)], corners).solve([FIXED] * 2)
    assert s.top_deflection_x == pytest.approx([0.0, 1200.0, 600.0], abs=1e-6)
    there = [s.deflection(x, 1200.0)[n, 0, 0] for n, x in enumerate((0.0, 1200.0, 600.0))]
    assert s.top_deflection == pytest.approx(there, rel=ROUNDING)


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_pads_on_one_face_are_pressed_by_force_and_both_moments_whichever_way(way: float) -> None:
    """Stiff glass on one pad a face, each working where it is pressed: Navier's F/A (1 + 6 e_x/b + 6 e_y/d)."""
    off = Clamp(300.0, (Pad(250.0, 400.0, 20.0, 110.0, 2.0),))
    stiff = Laminate(800.0, 1000.0, 8.0, 8.0, 1.52, 3e9, 0.23, 100.0)
    s = LaminateModel(stiff, [off], [PatchLoad(way * 600.0, 500.0, 700.0, 800.0, 900.0)]).solve([FIXED], "one face")
    expected = 600.0 / (150.0 * 90.0) * (1 + 6 * (600.0 - 325.0) / 150.0 + 6 * (850.0 - 65.0) / 90.0)
    assert s.peak_pad_pressure[0, 0] == pytest.approx(expected, rel=5e-3)
