"""Rules that meet a word of the job: the rail, one layer of glass over people, heights by the use, limits of movement, timber."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import pytest
from conftest import ONE_LAMINATED, job_named, result_of, sound, text_sheet

from barrier.links import rules
from barrier.links.walk import Walk
from barrier.load_path import Result, check
from barrier.result import Check, Ending, Finding, Standing
from barrier.value import Numerical, walk


def said(result: Result) -> list[Finding]:
    return list(next(link for link in result.links if link.id == "acceptance").findings)


def one(result: Result, words: str) -> Finding:
    (found,) = [f for f in said(result) if words in f.text]
    return found


def rail_of(result: Result) -> list[Check]:
    return [c for c in result.sound.checks if c.id.startswith("rail.")]


# ---------------------------------------------------------------- a rail that is named


@pytest.mark.parametrize("kind", ["cap", "interlinking"])
@pytest.mark.parametrize("name", ["garden_deck", "us_deck", "au_deck", "nz_deck"])
def test_a_rail_that_is_named_silences_nothing(name: str, kind: str) -> None:
    """A single layer that counts on its rail has a required check of that rail, which nobody has made."""
    job = job_named(name)
    result = check(job.with_({f"panels.{job.panels[0].name}.rail": kind}))
    (rail,) = rail_of(result)
    assert rail.ending is Ending.NOT_CHECKED
    assert rail.standing is Standing.REQUIRED
    found = one(result, "is a single layer and counts on its rail")
    assert found.loud
    assert all(word in found.text for word in (kind, "ends", "splices", "connection", "not checked"))


def test_a_laminate_does_not_count_on_its_rail_and_the_rail_is_not_checked_all_the_same() -> None:
    job = job_named("au_laminated")
    result = check(job.with_({f"panels.{job.panels[0].name}.rail": "cap"}))
    (rail,) = rail_of(result)
    assert rail.ending is Ending.NOT_CHECKED
    assert rail.standing is Standing.INFORMATION
    assert one(result, "has a rail").loud


def test_without_a_rail_there_is_no_check_of_one() -> None:
    for path in ONE_LAMINATED:
        assert not rail_of(result_of(path.stem))
    assert one(result_of("garden_deck"), "is a single layer without a rail").loud


# ---------------------------------------------------------------- one layer, and what is below


@pytest.mark.parametrize(
    ("below", "words"),
    [
        ("people pass", "people pass below it: the rule does not accept that"),
        ("paving", "paving is below it, which is walked on: the rule does not accept that"),
        ("garden", "whether anybody walks there decides"),
        ("water", "whether anybody gets beneath it decides"),
        ("unknown", "what is below it is not given: not checked"),
    ],
)
def test_a_single_layer_is_compared_with_what_is_below_it(below: str, words: str) -> None:
    """IBC 2407.1 since 2015, read on a trade page: one tempered layer only where nobody walks beneath."""
    found = one(check(job_named("us_deck").with_({"site.below": below})), "single toughened layer, ")
    assert words in found.text
    assert found.loud
    assert "2015" in found.text
    assert "2407.1" in found.source


def test_one_layer_that_is_not_tempered_is_not_accepted_whatever_is_below() -> None:
    job = job_named("us_deck").with_({"panels.P1.layers.1.glass": "heat-strengthened", "site.below": "water"})
    assert one(check(job), "heat-strengthened glass, which the rule does not accept").loud


def test_the_residential_code_is_said_to_have_its_own_section_on_glass() -> None:
    found = one(check(job_named("us_deck").with_({"site.use": "irc"})), "single toughened layer, ")
    assert "R308.4.4" in found.source


# ---------------------------------------------------------------- heights by the use


@pytest.mark.parametrize("use", ["irc", "one_two_family"])
def test_a_guard_of_36_in_is_high_enough_for_a_house(use: str) -> None:
    """IRC R312.1.2 and IBC 1015.3 exception 1: 36 in. A guard of 35 in is not."""
    job = job_named("us_deck").with_({"site.use": use, "panels.P1.height": "35 in", "site.barrier_height": "36 in"})
    found = one(check(job), "The barrier is not lower than the rule names")
    assert found.length is not None
    assert float(found.length.x) == pytest.approx(36 * 25.4)
    low = job.with_({"panels.P1.height": "34 in", "site.barrier_height": "35 in"})
    assert one(check(low), "The barrier is lower than the rule asks").loud


def test_a_guard_of_36_in_is_too_low_elsewhere() -> None:
    job = job_named("us_deck").with_({"panels.P1.height": "35 in", "site.barrier_height": "36 in"})
    found = one(check(job), "The barrier is lower than the rule asks")
    assert found.length is not None
    assert float(found.length.x) == pytest.approx(42 * 25.4)


# ---------------------------------------------------------------- movement and fixings, United Kingdom


def test_the_high_end_of_a_band_of_movement_is_its_largest_figure() -> None:
    """A band reaches to the most there is."""
    for name in ("garden_deck", "au_deck", "everyday_deck"):
        shown = [s for link in result_of(name).links for s in link.shown if "high end" in s.title]
        assert shown, name
        for s in shown:
            assert s.value.at(s.station) == max(s.value.x), s.title


def test_a_limit_of_movement_above_the_rule_is_remarked() -> None:
    """BS 6180:1999 6.4.1, read in a public copy: 25 mm."""
    found = one(check(job_named("garden_deck").with_({"limits.top_movement": "60 mm"})), "larger than the rule names")
    assert found.loud
    assert found.length is not None
    assert float(found.length.x) == 25.0
    assert "1999" in found.source
    assert not one(result_of("garden_deck"), "limit of movement in the job is not larger").loud
    none = check(job_named("garden_deck").with_({"limits.top_movement": "unknown"}))
    assert one(none, "No limit of movement is given").loud


def test_the_glass_alone_may_move_its_length_over_65() -> None:
    """1,040 mm over 65 is 16 mm; 1,950 mm over 65 would be 30 mm, and 25 mm is less."""
    found = one(result_of("garden_deck"), "Movement of the glass of panel P3")
    assert found.length is not None
    assert float(found.length.x) == pytest.approx(16.0)
    assert found.loud
    tall = check(job_named("garden_deck").with_({"panels.P3.height": "1950 mm", "site.barrier_height": "2010 mm"}))
    length = one(tall, "Movement of the glass of panel P3").length
    assert length is not None
    assert float(length.x) == 25.0


def test_half_as_much_again_on_fixings_that_are_uncertain() -> None:
    """BS 6180:1999 6.5, read in a public copy: the moment on the mount times 1.5, beside the checks."""
    links = result_of("garden_deck").links
    shown = [s for link in links for s in link.shown if s.title.startswith("factor on the support")]
    # 0.74 kN/m on 1 m of glass, 1,100 mm up, factor 1.5, shared by two mounts; and half as much again
    assert [s.value.at(s.station) for s in shown] == pytest.approx([1.5 * 1.5 * 0.74 * 1000 * 1100 / 2] * 2)
    assert [f for link in links for f in link.findings if "strength of any part of a fixing is uncertain" in f.text and f.loud]


# ---------------------------------------------------------------- the wood as the code takes it


def test_each_piece_says_that_it_is_taken_as_wet_and_not_incised() -> None:
    found = [f for f in said(result_of("us_deck")) if f.text.startswith("Timber ")]
    assert len(found) == 2  # decking and blocking are of two grades
    assert all("wet in service" in f.text and "not incised" in f.text for f in found)
    assert "(decking)" in found[0].text
    assert "(blocking B1, blocking B2)" in found[1].text
    dry = check(job_named("us_deck").with_({"site.service_class": 2}))
    assert all("dry in service" in f.text for f in said(dry) if f.text.startswith("Timber "))


# ---------------------------------------------------------------- screws: thickness of the wood, rows, holes


def found(result: Result, id: str) -> Check:
    return next(c for c in result.sound.checks if c.id == id)


def test_wood_thinner_than_twelve_diameters_exceeds() -> None:
    """EN 1995-1-1 Table 8.6: screws of 10 mm want 120 mm along the screw; 195 mm upright, 45 mm laid flat."""
    upright = found(result_of("garden_deck"), "screws.thickness.M1")
    assert upright.eta == pytest.approx(120 / 195)
    assert upright.standing is Standing.REQUIRED
    job = job_named("garden_deck")
    thin = {f"blocking.{b}.{key}": size for b in ("B1", "B2") for key, size in (("width", "240 mm"), ("depth", "100 mm"))}
    below = found(check(job.with_(thin)), "screws.thickness.M1")
    assert below.ending is Ending.EXCEEDS
    assert below.eta == pytest.approx(120 / 100)


def test_a_board_is_too_thin_for_its_screws_to_be_looked_at_by_the_table() -> None:
    board = found(result_of("boards_only"), "screws.thickness.M1")
    assert board.ending is Ending.EXCEEDS


@pytest.mark.parametrize("name", ["us_deck", "au_deck", "nz_deck"])
def test_a_code_that_asks_for_no_thickness_gets_no_check_of_it(name: str) -> None:
    assert not [c for c in result_of(name).sound.checks if c.id.startswith("screws.thickness")]


def test_rows_of_lag_screws_pushed_across_the_grain_stand_five_diameters_apart() -> None:
    """NDS-2018 Table 12.5.1D by hand: 5 x 3/8 in over 2.75 in less the tolerance of the site, 5 mm."""
    rows = found(result_of("us_deck"), "screws.a1.M1")
    assert rows.eta == pytest.approx(5 * 0.375 / (2.75 - 5 / 25.4))
    end = found(result_of("us_deck"), "screws.end.M1")
    assert end.eta == pytest.approx(7 * 0.375 / (7.25 - 1.375 - 5 / 25.4))  # Table 12.5.1A, a push along the grain


def test_the_holes_the_strengths_take_for_granted_are_said() -> None:
    soft, lag = one(result_of("garden_deck"), "Holes for the screws"), one(result_of("us_deck"), "Holes for the screws")
    assert soft.loud and lag.loud
    assert "10.4.5" in soft.source and "above 6 mm" in soft.text
    assert "12.1.4" in lag.source and "lead holes" in lag.text
    hard = check(job_named("garden_deck").with_({f"blocking.{b}.material": {"en": "D30"} for b in ("B1", "B2")}))
    assert "every screw predrilled" in one(hard, "Holes for the screws").text
    assert one(hard, "Timber D30 is a hardwood class").text.endswith("(blocking B1, blocking B2).")
    assert found(hard, "blocking.splitting.M1").ending is Ending.NOT_CHECKED


def test_torsion_stands_beside_the_shear_strength_where_a_code_has_no_torsion() -> None:
    """A solid 5 1/2 x 7 1/2 in: plastic T = tau b^2 (3 h - b)/6, elastic T = tau alpha h b^2; the torque is the same."""
    result = result_of("us_deck")
    torsion = found(result, "blocking.torsion.M1")
    assert torsion.ending is Ending.NOT_CHECKED and torsion.demand is not None
    shown = {
        way: next(s for link in result.links for s in link.shown if s.title.startswith(f"torsion by {way} theory"))
        for way in ("elastic", "plastic")
    }
    tau = torsion.demand.at(torsion.station)
    h, b = 7.5, 5.5
    C_D = 1.6 if "wind" in torsion.combination else 1.0
    f_v = 170 * C_D * 6894.757e-6  # psi of the grade; a timber of this size is no weaker wet in shear
    elastic, plastic = (shown[way].value.at(shown[way].station) for way in ("elastic", "plastic"))
    assert elastic == pytest.approx(tau / f_v, rel=1e-4)
    alpha = 0.2257  # of h/b = 1.364, in a straight line between 0.221 at 1.25 and 0.231 at 1.5 of handbooks
    assert plastic / elastic == pytest.approx(6 * alpha * h / (3 * h - b), rel=5e-3)
    assert plastic < elastic
    assert not [c for c in result.sound.checks if "theory" in c.title]


# ---------------------------------------------------------------- figures that are none


def test_a_plate_that_turns_far_and_glass_that_leans_far_let_go_in_practice() -> None:
    """0.1 rad: beyond it a figure of a model of small displacements is read as what it means."""
    result = result_of("everyday_deck")
    turned, top = found(result, "base_plate.rotation.M1"), found(result, "movement.P1")
    assert turned.demand is not None and turned.demand.at(turned.station) > 0.1
    assert one(result, "The base plate of mount M1 would turn further").loud
    assert top.demand is not None
    panel = result.job.panels[0]
    assert top.demand.at(top.station) > 0.1 * (float(panel.height.x) + float(panel.bottom_gap.x))
    assert "in practice it lets go, and its movement is no figure" in one(result, f"Panel {panel.name} would lean").text
    assert not [f for f in said(result_of("garden_deck")) if "lets go" in f.text]


def test_movement_on_a_guessed_liner_is_said_to_be_a_band() -> None:
    assert one(result_of("everyday_deck"), "is a band and no figure").loud
    assert not [f for f in said(result_of("garden_deck")) if "is a band and no figure" in f.text]  # its liner is given


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck", "three_clamps_laminated"])
def test_how_far_the_softest_liner_is_squeezed(name: str) -> None:
    """Pressure of the plate model over the stiffness of the pad, by hand."""
    result = result_of(name)
    panel = result.handed_on.panels[0]
    shown = next(s for link in result.links for s in link.shown if s.title.startswith("liner squeezed"))
    k = float(panel.mounts[0].mount.pads[0].stiffness_low.x)
    alone = [c for c, case in enumerate(panel.cases) if not case.parts]
    worst = max(
        float(solution.peak_pad_pressure[c].max())
        for (pads, _), solution in zip(panel.sets, panel.solutions, strict=True)
        if pads.stiffness == "soft"
        for c in alone
    )
    assert shown.value.at(shown.station) == pytest.approx(worst / k)
    # A pane of one layer is named by its bases alone; of two it is said beside them which one is pushed, or what its film is.
    pressure = next(v for v in walk(shown.value) if v.symbol == "p_pad")
    assert isinstance(pressure.origin, Numerical) and pressure.origin.labels is not None
    places = {label.rsplit("; ", 1)[1] for label in pressure.origin.labels}
    plain = {"soft bases", "stiff bases"}
    assert places == plain if len(panel.panel.layers) == 1 else places > plain
    assert all(" pads, " in place and not place.startswith("soft pads") for place in places - plain)


def test_the_largest_pressure_on_a_liner_is_of_stiff_pads_and_is_asked_of_its_supplier() -> None:
    """From the plate itself, case by case; a stiffer pad takes the couple in less of its height, and presses more at its end."""
    alike = 1e-9  # of stations alike but for rounding the first is taken
    result = result_of("everyday_deck")
    (panel,), clamps = result.handed_on.panels, next(link for link in result.links if link.id == "clamp")
    largest = {
        stiffness: max(
            float(solution.peak_pad_pressure[c].max())
            for (pads, _), solution in zip(panel.sets, panel.solutions, strict=True) if pads.stiffness == stiffness
            for c, case in enumerate(panel.cases) if not case.parts or case.standing is Standing.REQUIRED
        )
        for stiffness in ("soft", "nominal", "stiff")
    }  # fmt: skip
    assert largest["soft"] < largest["nominal"] < largest["stiff"]
    for stiffness in ("nominal", "stiff"):
        shown = next(s for s in clamps.shown if s.title == f"pad pressure, {stiffness} pads")
        assert shown.value.at(shown.station) == pytest.approx(largest[stiffness], rel=alike)
    asked = next(f for f in clamps.findings if "ask the supplier what the liner is" in f.text).length
    assert asked is not None and asked.kind == "stress" and asked.at(0) == pytest.approx(largest["stiff"], rel=alike)


def test_only_a_gap_larger_than_the_rule_names_is_too_large_for_a_pool() -> None:
    """The rule: 100 mm, AS 1926.1 2.3 (from memory); at its length a gap is not too large."""
    job = job_named("au_deck").with_({"site.pool": True, "site.barrier_height": None})
    panel = job.panels[0].name
    for gap, large in (("60 mm", False), ("100 mm", False), ("101 mm", True)):
        found = sound(job.with_({f"panels.{panel}.bottom_gap": gap}))
        texts = [f.text for link in found.links for f in link.findings]
        assert any("the gap below panel" in t for t in texts) is large, gap


def test_a_single_layer_without_a_rail_is_said_in_full_and_loud_before_all_that_is_to_be_done() -> None:
    text = " ".join(text_sheet("everyday_deck").split())
    said = "!! When the glass breaks there is no barrier left. Panel P1 is a single layer without a rail: a free-standing"
    assert said in text and text.index(said) < text.index("Look from below")
    assert "there is no barrier left" not in text_sheet("three_clamps_laminated")


def test_a_rule_without_its_length_says_nothing_of_what_is_longer_or_higher() -> None:
    """A folder of one's own tables may leave a length open: then it is compared with nothing, and nothing is said."""
    open_rule = SimpleNamespace(rule=lambda key: (None, "words of a rule", "invented"), glass_movement=lambda height: None)
    job = job_named("garden_deck")
    walked = cast(Walk, SimpleNamespace(basis=open_rule, job=job))
    assert job.limits.top_movement is not None and job.site.fall_height is not None
    assert not [*rules.by_drop(walked, job.panels[0]), *rules.movement_rules(walked)]
