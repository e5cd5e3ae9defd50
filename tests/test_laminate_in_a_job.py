"""Laminated glass in a job: solved with the shear of its interlayer, each layer against its own strength, limits beside it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest
from conftest import ROOT, job_named, result_of, sound, text_sheet

from barrier.basis import basis_named
from barrier.basis.interlayer import Modulus, lasts
from barrier.errors import JobRefused
from barrier.job import Job, read_job
from barrier.links.glass.film import Film, layer_of, ways
from barrier.links.glass.glass import peak_of
from barrier.links.glass.panel_solution import PanelSolution, Sheet, sheet_of
from barrier.links.memo import Memo
from barrier.links.walk import Walk
from barrier.load_path import check, robustness
from barrier.mechanics.laminate import LAYER_FACES, LaminateSolution
from barrier.mechanics.laminate_joined import Joined
from barrier.mechanics.plate import FIXED, Clamp, LineLoad, Pad, Pressure
from barrier.result import SOUND, Check, Ending, LinkResult, Shown, Standing
from barrier.tables import Tables
from barrier.value import Cell, Numerical, Value, walk

ROUNDING = 1e-9
MESHES = 2e-3  # the mesh follows the loads, and one of wind alone has no corners of a patch
THREE = job_named("three_clamps_laminated").with_({"situations": None})
TWO = THREE.with_({"mounts.M2": None, "panels.1.width": "1200 mm", "mounts.M3.x": "1050 mm"})  # half the work, where it will do
SLIDING = {"panels.1.interlayer.coupling": "none"}

ENDS = ((0.3, 60.0), (3.0, 60.0))  # MPa
NONE = Numerical("a figure of this test", "none", "none")


def own(modulus: str, high: str | None = None) -> dict[str, object]:
    changes: dict[str, object] = {"panels.1.interlayer.modulus": modulus, "panels.1.interlayer.reference": "invented data sheet"}
    return changes | ({} if high is None else {"panels.1.interlayer.modulus_high": high})


UNEQUAL: dict[str, object] = {
    "panels.1.layers": [{"glass": "toughened", "nominal": "6 mm"}, {"glass": "heat-strengthened", "nominal": "12 mm"}]
}


@dataclass(frozen=True)
class GlassLink:
    """What the link of the glass wrote and its panel."""

    written: LinkResult
    panel: PanelSolution


def glass_link(job: Job) -> GlassLink:
    walked = sound(job)
    return GlassLink(next(r for r in walked.links if r.id == "glass"), walked.handed_on.panels[0])


def found(link: GlassLink, id: str) -> Check:
    return next(c for c in link.written.checks if c.id == id)


def panel_of(link: GlassLink) -> PanelSolution:
    return link.panel


def shown(link: GlassLink, start: str) -> Shown:
    return next(s for s in link.written.shown if s.title.startswith(start))


@cache
def link() -> GlassLink:
    return glass_link(THREE)


class TestWhatIsLookedAt:
    def test_both_ends_of_the_interlayer_and_both_contacts(self) -> None:
        panel = panel_of(link())
        pads = [p for p, _ in panel.sets]
        assert len(pads) == 3 * 2 * 2 + 3 * 2 and panel.faces == LAYER_FACES
        assert sum(p.one_face for p in pads) == sum(p.stiff_film for p in pads) == 6
        assert not any(panel.turned)

    def test_unequal_layers_are_pushed_from_either_side(self) -> None:
        panel = panel_of(glass_link(TWO.with_(UNEQUAL)))
        assert sum(panel.turned) == len(panel.sets) / 2 == 18
        for (pads, _), turned in zip(panel.sets, panel.turned, strict=True):
            assert pads.pushed == (2 if turned else 1)

    def test_which_layer_a_face_belongs_to(self) -> None:
        assert [layer_of(face, False) for face in LAYER_FACES] == [0, 0, 1, 1]
        assert [layer_of(face, True) for face in LAYER_FACES] == [1, 1, 0, 0]

    def test_the_modulus_is_the_warm_row_of_a_leaning_crowd_and_the_stiffest_of_all(self) -> None:
        cells = {v.origin.key for s in link().written.shown for v in walk(s.value) if isinstance(v.origin, Cell)}
        assert {"PVB 30 degC 1 min", "PVB 20 degC 3 s"} <= cells

    def test_each_load_has_the_modulus_of_its_own_duration(self) -> None:
        """30 s at home: the row of a minute. A storm of ten minutes: the row of an hour, 0.441 MPa of PVB at 30 degC."""
        film, cases = panel_of(link()).film, panel_of(link()).cases
        assert film is not None and float(film.modulus.high.x) == 8.06
        for case, place in zip(cases, film.of_case, strict=True):
            assert float(film.ranges[place].low.x) == (0.441 if "wind" in case.strength.natures else 0.753)
        assert len(film.ranges) == 2 and film.ranges[0].low.at(0) < film.ranges[1].low.at(0)

    def test_a_case_is_solved_with_its_own_and_no_other(self) -> None:
        """A line and a wind on one panel with two moduli, against the same with either alone for both."""
        pads, loads = {"stiff": [Clamp(x, (Pad(x - 25, x + 25, 0, 90, 20.0),)) for x in (300, 900)]}, [
            LineLoad(0.75, 1000.0), Pressure(1e-3), LineLoad(-0.5, 1000.0)
        ]  # fmt: skip
        layers = (Value(9.7, "length", NONE, "h_1"), Value(9.7, "length", NONE, "h_2"))
        soft, firm = (Modulus(Value(G, "stress", NONE, "G"), Value(firmest, "stress", NONE, "G"), "") for G, firmest in ENDS)

        def solved(ranges: tuple[Modulus, ...], of_case: tuple[int, ...]) -> list[LaminateSolution | Joined]:
            film = Film(layers, Value(1.52, "length", NONE, "h_v"), ranges, of_case)
            return [w.solution for w in ways(film, (1200, 1000), (70_000, 0.23), loads, pads, {"rigid": [FIXED, FIXED]}, Memo())]

        both = solved((soft, firm), (1, 0, 1))
        assert len(both) == 3 and isinstance(both[0], Joined) and isinstance(both[2], LaminateSolution)
        x = np.linspace(0, 1200, 5)
        for one, other, cases in [(solved((soft,), (0, 0, 0)), both, [1]), (solved((firm,), (0, 0, 0)), both, [0, 2])]:
            for a, b in zip(one[:2], other[:2], strict=True):
                for of in ("F", "Mx", "Mz", "body", "top_deflection", "peak_pad_pressure"):
                    mine, joined = getattr(a, of)[cases], getattr(b, of)[cases]
                    assert joined == pytest.approx(mine, rel=MESHES, abs=MESHES * np.abs(getattr(a, of)).max()), of
                assert b.deflection(x, 1000.0)[cases] == pytest.approx(a.deflection(x, 1000.0)[cases], rel=MESHES)
                most = np.abs(a.slip(x, x / 2)).max()
                assert b.slip(x, x / 2)[:, cases] == pytest.approx(a.slip(x, x / 2)[:, cases], abs=10 * MESHES * most)
                for face in LAYER_FACES:
                    mine, joined = (s.peaks(10.0)[face]["interior"].stress[cases] for s in (a, b))
                    assert joined == pytest.approx(mine, rel=10 * MESHES, abs=0.3)
                assert b.residual.shape == (3,) and float(b.residual.max()) < 1e-6

    @pytest.mark.parametrize(
        ("basis", "use", "barrier", "wind"),
        [("en", "A2", "1 min", "1 h"), ("en", "C3", "1 h", "1 h"), ("us", "", "1 min", "3 s"), ("au", "", "1 min", "3 s"),
         ("nz", "", "1 min", "3 s")],
    )  # fmt: skip
    def test_rows_of_each_basis(self, basis: str, use: str, barrier: str, wind: str) -> None:
        """Never a row shorter than the action: 30 s, 5 min and 10 min of EN 16612 for glass, the gust of the others."""
        family = basis_named(basis, "", Tables())
        for nature, row in (("barrier", barrier), ("wind", wind)):
            for combination in (family.strength(nature, use), family.accidental(nature, use)):  # type: ignore[arg-type]
                assert lasts(Tables(), family.film_load(combination)) == row

    def test_loads_at_once_take_the_longer(self) -> None:
        for basis, row in (("en", "1 h"), ("us", "1 min")):
            family = basis_named(basis, "uk" if basis == "en" else "", Tables())
            for both in family.at_once(family.strength("barrier", "A2"), family.strength("wind", "A2")):
                assert lasts(Tables(), family.film_load(both.strength)) == row

    def test_equilibrium(self) -> None:
        assert panel_of(link()).residual < 1e-6


class TestStress:
    @pytest.mark.parametrize("id", ["glass.face", "glass.edge"])
    @pytest.mark.parametrize("changes", [{}, UNEQUAL], ids=["10+10", "6+12"])
    def test_demand_is_the_peak_with_the_factors_of_its_layer(self, id: str, changes: dict[str, object]) -> None:
        """γ_Q = 1.5 (EN 1990) and, above a clamp, 1 + 0.3 h_i / d_p with the layer's own minimum thickness, EN 572-2."""
        other = glass_link(TWO.with_(changes))
        panel, made = panel_of(other), found(other, id)
        peak = peak_of(panel, made)
        assert panel.film is not None and made.demand is not None
        h = float(panel.film.layers[layer_of(peak.face, panel.turned[peak.set])].x)
        factor = 1 + 0.3 * h / 150.0 if peak.zone in ("interior", "side") else 1.0
        assert made.demand.at(made.station) == pytest.approx(1.5 * factor * peak.stress, rel=ROUNDING)

    def test_each_layer_has_its_own_strength(self) -> None:
        """Whichever governs: toughened at the thin layer, heat-strengthened at the thick one; the largest utilisation counts."""
        other = glass_link(TWO.with_(UNEQUAL))
        panel, made = panel_of(other), found(other, "glass.face")
        assert made.resistance is not None and made.utilisation is not None
        strong, weak = (
            found(glass_link(TWO.with_({"panels.1.layers.1.glass": kind, "panels.1.layers.2.glass": kind})), "glass.face")
            for kind in ("toughened", "heat-strengthened")
        )
        assert strong.resistance is not None and weak.resistance is not None
        cases = len({s for s in range(made.utilisation.stations)}) // len(panel.sets) // 4
        expected = {0: strong.resistance.at(strong.station), 1: weak.resistance.at(weak.station)}
        for station in range(made.utilisation.stations):
            s, face = station // (4 * cases), LAYER_FACES[station % 4]
            assert made.resistance.at(station) == pytest.approx(expected[layer_of(face, panel.turned[s])], rel=ROUNDING)

    def test_of_equal_layers_the_weaker_kind_counts(self) -> None:
        mixed = found(glass_link(TWO.with_({"panels.1.layers.2.glass": "annealed"})), "glass.face")
        weak = found(glass_link(TWO.with_({f"panels.1.layers.{n}.glass": "annealed" for n in (1, 2)})), "glass.face")
        assert mixed.resistance is not None and weak.resistance is not None
        assert mixed.resistance.at(mixed.station) == weak.resistance.at(weak.station)

    def test_pads_on_one_face_decide_under_a_warm_film(self) -> None:
        made = found(link(), "glass.face")
        assert "stiff one-face pads" in made.where and "inner face" in made.where

    def test_a_stiffer_film_lowers_the_stress_outside_and_the_movement(self) -> None:
        """Against solids: tests/validation/test_laminate_plate_reference.py, which also holds the inner face that rises."""
        outer, moved = [], []
        for G in ("0.1 MPa", "0.5 MPa", "3 MPa", "30 MPa"):
            result = sound(TWO.with_(own(G)))
            link = GlassLink(next(r for r in result.links if r.id == "glass"), result.handed_on.panels[0])
            outer.append(shown(link, "plate stress of panel T1, outer face of the layer that is pushed").value.at(0))
            movement = next(c for c in result.checks if c.id == "movement.T1")
            assert movement.demand is not None
            moved.append(movement.demand.at(movement.station))
        assert outer == sorted(outer, reverse=True) and moved == sorted(moved, reverse=True)

    def test_movement_is_less_than_that_of_layers_that_slide(self) -> None:
        film, sliding = (next(c for c in sound(TWO.with_(changes)).checks if c.id == "movement.T1") for changes in ({}, SLIDING))
        assert film.demand is not None and sliding.demand is not None
        assert film.demand.at(film.station) < 0.95 * sliding.demand.at(sliding.station)


class TestBeside:
    def test_limits_hold_the_laminate_between_them(self) -> None:
        film = shown(link(), "stress of panel T1 over its layered limit").value.at(0)
        solid = shown(link(), "monolithic limit of panel T1 over the layered one").value.at(0)
        assert solid < film < 1.0

    @pytest.mark.parametrize(("G", "near"), [("0.05 MPa", "slide"), ("400 MPa", "solid")])
    def test_the_ends_of_the_modulus_are_near_the_limits(self, G: str, near: str) -> None:
        other = glass_link(TWO.with_(own(G)))
        film = shown(other, "stress of panel T1 over its layered limit").value.at(0)
        solid = shown(other, "monolithic limit of panel T1 over the layered one").value.at(0)
        assert film == pytest.approx(1.0, abs=0.03) if near == "slide" else solid < film < 1.3 * solid

    def test_effective_thickness_has_its_ratio_to_what_was_found(self) -> None:
        ef, film = (
            shown(link(), f"stress of panel T1 {words}").value.at(0)
            for words in ("by the effective thickness, over the layered", "over its")
        )
        ratio = shown(link(), "stress of panel T1 by the effective thickness, over that of the laminate")
        assert ratio.value.at(0) == pytest.approx(ef / film, rel=ROUNDING) and "0.54 to 0.99" in ratio.remark

    def test_what_stands_beside_is_that_of_the_line_load(self) -> None:
        """Whatever else pushes the panel: hand formulas are for the line load, and every figure beside says so."""
        panel = panel_of(link())
        assert len(panel.cases) > 1 and panel.film is not None
        words = ("plate stress of panel T1", "stress of panel T1 over its layered", "monolithic limit")
        told = [s.title for s in link().written.shown if s.title.startswith(words)]
        assert len(told) == 4 + 2 and all(title.endswith(": line load") for title in told)

    def test_how_it_is_taken_is_said(self) -> None:
        assert any("coupled by the shear of their interlayer alone (PVB" in f.text for f in link().written.findings)


class TestTheOlderCheck:
    def test_the_job_may_ask_for_it(self) -> None:
        other = glass_link(TWO.with_(SLIDING))
        panel = panel_of(other)
        assert panel.film is None and panel.faces == ("load", "back") and len(panel.sets) == 6
        assert any("layered limit" in f.text and "as the job says" in f.text and f.loud for f in other.written.findings)

    @pytest.mark.parametrize(
        ("changes", "words"),
        [
            ({"panels.1.interlayer.kind": None}, "interlayer.kind"),
            ({"panels.1.interlayer.temperature": None}, "interlayer.temperature"),
            ({"panels.1.interlayer.temperature": "60 degC"}, "above the warmest row"),
            ({"panels.1.interlayer.kind": "house blend"}, "no shear modulus is tabulated"),
        ],
    )
    def test_it_is_the_answer_where_the_interlayer_is_not_known(self, changes: dict[str, object], words: str) -> None:
        other = glass_link(TWO.with_(changes))
        assert panel_of(other).film is None
        said = next(f for f in other.written.findings if "layered limit" in f.text and f.loud)
        assert words in said.text and "16 % too low" in said.text and "18 %" in said.text

    def test_a_modulus_of_the_readers_own_stands_in_for_the_table(self) -> None:
        other = glass_link(TWO.with_({"panels.1.interlayer.kind": "house blend", **own("1.2 MPa", "20 MPa")}))
        panel = panel_of(other)
        assert panel.film is not None and "invented data sheet" in panel.film.modulus.words
        assert [float(G.x) for G, _ in panel.film.moduli] == [1.2, 20.0]
        assert len(panel_of(glass_link(TWO.with_(own("1.2 MPa")))).sets) == 12


def written(entries: str) -> str:
    text = (ROOT / "worked_examples" / "three_clamps_laminated.toml").read_text(encoding="utf-8")
    return re.sub(r'(temperature = "30 degC"[^\n]*\n)', rf"\1{entries}\n", text)


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        ('modulus = "1 MPa"', "has no source; write reference"),
        ('modulus_high = "1 MPa"', "without a lower one; write modulus"),
        ('modulus = "2 MPa"\nmodulus_high = "1 MPa"\nreference = "x"', "is below modulus"),
        ('modulus = "0.001 MPa"\nreference = "x"', "outside the allowed 0.05 to 400 MPa"),
        ('coupling = "glue"', '"film", "none"'),
    ],
)
def test_entries_that_cannot_be_meant_are_refused_by_name(tmp_path: object, entries: str, words: str) -> None:
    path = tmp_path / "job.toml"  # type: ignore[operator]
    path.write_text(written(entries), encoding="utf-8")
    with pytest.raises(JobRefused) as refused:
        read_job(path)
    assert words in str(refused.value) and "interlayer" in str(refused.value) and re.search(r"line \d+|:\d+", str(refused.value))


class TestBrokenLayers:
    def test_a_broken_layer_is_walked_for_every_laminated_job(self) -> None:
        result = check(THREE)
        broken = result.walked[1]
        assert [w.situation.name for w in result.walked] == ["sound", "layer 1 of panel T1 broken"]
        assert broken.situation.after_damage and broken.situation.standing is Standing.INFORMATION
        assert broken.handed_on.panels[0].film is None
        of_two = ["layer 1 of panel T1 broken", "layer 2 of panel T1 broken"]
        assert [s.name for s in robustness(THREE.with_(UNEQUAL)) if s.name.startswith("layer")] == of_two

    def test_the_broken_layer_hangs_on_the_other_where_its_weight_adds(self) -> None:
        """25 kN/m³ (EN 16612) x 1.8 m x 1.04 m x 20 mm on three mounts; what holds down is the standing layer alone, 9.7 mm."""
        sound, broken = check(THREE).walked
        panels = [w.handed_on.panels[0] for w in (sound, broken)]
        assert [float(p.nominal_depth.x) for p in panels] == [20.0, 20.0]
        assert [float(p.glass_depth.x) for p in panels] == [19.4, 9.7]
        plate = next(c for c in broken.checks if c.id == "base_plate.plate.M1")
        assert plate.demand is not None
        kept = {v.symbol: v for v in walk(plate.demand)}["N_k"]
        assert kept.at(0) == pytest.approx(25e-6 * 1800 * 1040 * 20 / 3, rel=ROUNDING)

    @pytest.mark.parametrize(
        ("name", "level", "timber"),
        [
            ("three_clamps_laminated", "accidental", "short-term"),
            ("us_laminated", "allowable", "ten years"),
            ("nz_laminated", "ultimate", "5 hours"),
            ("au_laminated", "ultimate", "5 hours"),
        ],
    )
    def test_each_basis_has_its_level_and_duration_for_it(self, name: str, level: str, timber: str) -> None:
        """EN 1990 (6.11b) has a level of its own; the others were read without one and keep theirs. For information in all."""
        result = result_of(name)
        broken = [w for w in result.walked if w.situation.name.startswith("layer")]
        assert broken
        for walked in broken:
            assert walked.situation.standing is Standing.INFORMATION
            cases = [c for c in walked.handed_on.cases if c.action.nature == "barrier" and not c.parts]
            assert {(c.strength.level, c.strength.duration) for c in cases} == {(level, timber)}
            assert all(float(c.strength.factor.x) == 1.0 for c in cases)
            known = {c.ending is not Ending.NOT_CHECKED for c in walked.checks if c.id.startswith("glass.face")}
            assert known == {name != "nz_laminated"}  # the strength of glass by NZS 4223 was not read

    @pytest.mark.parametrize("name", ["three_clamps_laminated", "us_laminated", "nz_laminated", "au_laminated"])
    def test_it_is_on_the_sheet_of_every_laminated_job(self, name: str) -> None:
        text = " ".join(text_sheet(name).split())
        assert "broken" in text and "both layers broken" in text
        for walked in result_of(name).walked[1:]:
            assert walked.situation.name in text

    def test_several_panels_lose_one_layer_each_in_one_walk(self) -> None:
        assert len([s for s in robustness(THREE) if "layer" in s.name]) == 1
        assert all("layer" not in w.situation.name for w in check(job_named("garden_deck").with_({"situations": None})).walked)

    def test_both_broken_is_named_and_not_checked(self) -> None:
        made = found(link(), "glass.both_broken")
        assert made.ending is Ending.NOT_CHECKED and made.standing is Standing.INFORMATION and "only a test" in made.reason


@pytest.mark.parametrize("nominal", [("6 mm", "12 mm"), ("12 mm", "6 mm")])
def test_layers_that_slide_share_the_moment_by_their_stiffness_whichever_stands_first(nominal: tuple[str, str]) -> None:
    """One curvature: the thicker layer takes h_1³ of h_1³ + h_2³; of 5.8 and 11.7 mm (minima of EN 572-2). A hand sum."""
    layers = [{"glass": "toughened", "nominal": n} for n in nominal]
    job = TWO.with_({"panels.1.layers": layers, "panels.1.interlayer": {"thickness": "1.52 mm"}})
    tables = Tables()
    made = sheet_of(Walk(job, basis_named(job.basis, job.national, tables), tables, SOUND), job.panels[0])
    assert isinstance(made, Sheet) and made.share is not None
    M, h_1, h_2 = 1000.0, 11.7, 5.8  # N mm a mm of width
    D = h_1**3 + h_2**3  # E/12(1 - nu²) left out on both sides
    assert float(made.plate.x) ** 3 == pytest.approx(D, rel=ROUNDING)
    in_the_thicker = 6 * (M * h_1**3 / D) / h_1**2
    assert float(made.share.x) * 6 * M / float(made.plate.x) ** 2 == pytest.approx(in_the_thicker, rel=ROUNDING)
    assert (float(made.layer.x), float(made.glass_depth.x)) == pytest.approx((h_1, h_1 + h_2))
