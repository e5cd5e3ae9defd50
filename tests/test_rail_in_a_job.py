"""A rail in a job: its entries, what it asks, its run in the load path, a panel lost, and what a reader gets to see of it."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest
from conftest import ROOT, job_named

from barrier import load_path, sheet
from barrier.basis import basis_named
from barrier.errors import JobRefused
from barrier.job import Job, read_job
from barrier.links.asked import asked
from barrier.links.ground.stiffness import Pads
from barrier.links.loads.actions import actions
from barrier.links.loads.cases import Part
from barrier.links.memo import SHARED
from barrier.links.rail.checks import _shear, where
from barrier.links.rail.loads import _sum
from barrier.links.rail.rail import rail as rail_link
from barrier.links.rail.section import inertia, modulus_down
from barrier.links.rail.solve import RunSolved, _level, _telling
from barrier.links.under_rail import Line, line_of, lost_panels
from barrier.links.walk import Walk
from barrier.load_path import Result, Walked, check
from barrier.mechanics.rail import RunLoad
from barrier.result import SOUND, Check, Ending, LinkResult, Situation, Standing
from barrier.sheet.drawings import rail as drawn
from barrier.tables import Tables
from barrier.value import JobEntry, Value

EXAMPLE = ROOT / "worked_examples" / "rail" / "cap_rail.toml"
BRACKET = {"fixing": "bracket", "holds": "2.5 kN", "meaning": "design", "reference": "invented"}
FREE = {"fixing": "free"}
# Entries of the example somebody may not know; without their ratings' words a rating is refused, so these go with it.
UNKNOWABLE = [
    "rail.panels", "rail.between", "rail.across", "rail.depth", "rail.wall", "rail.modulus", "rail.material", "rail.yield_strength",
    "rail.continuous", "rail.grip", "rail.left.holds", "rail.right.fixing",
]  # fmt: skip
TABLES = Tables()
MEMO = SHARED
HINGES = [{"at": "1210 mm"}, {"at": "2430 mm"}]


@cache
def job() -> Job:
    return read_job(EXAMPLE)


@cache
def result() -> Result:
    return check(job())


def rail_of(walked: Walked) -> RunSolved:
    assert walked.handed_on.run is not None
    return walked.handed_on.run


def walked(name: str) -> Walked:
    return next(w for w in result().walked if w.situation.name == name)


def checks(of: Walked | LinkResult) -> dict[str, Check]:
    return {c.id: c for c in of.checks}


def sound(changes: Mapping[str, object]) -> Walked:
    """The job as described, with changes, and no situation beside it: one walk."""
    changed = job().with_(changes)
    tables = TABLES
    return load_path._walk(changed, SOUND, basis_named(changed.basis, changed.national, tables), tables, MEMO)


def link(changes: Mapping[str, object]) -> LinkResult:
    """What the link of the rail alone writes, with changes to the job."""
    return link_and_run(changes)[0]


@cache
def as_it_is() -> LinkResult:
    """What it writes of the job without a change."""
    return link({})


def link_and_run(changes: Mapping[str, object]) -> tuple[LinkResult, RunSolved | None]:
    """The same, and the run it hands on."""
    changed = job().with_(changes)
    walk = Walk(changed, basis_named(changed.basis, changed.national, TABLES), TABLES, SOUND, MEMO)
    return rail_link(walk, actions(walk)[1])


def run_of(changes: Mapping[str, object]) -> RunSolved:
    run = link_and_run(changes)[1]
    assert run is not None
    return run


# ---------------------------------------------------------------- the line of panels


def test_a_load_that_one_clamp_of_a_panel_feels_counts_there() -> None:
    """Of two clamps one takes 100 N of a point load over it and the other nothing; another load gives 1 N to each."""
    run = run_of({})
    for place in run.line.standing:
        own = [
            i for i, c in enumerate(run.cases)
            if c.load.points and c.only is None and all(place.start + 100 <= s <= place.end - 100 for _, s in c.load.points)
        ]  # fmt: skip
        assert len(own) == 3
        for clamp, name in ((0, "F"), (1, "F"), (0, "Mx"), (1, "Mx")):
            answer = {what: np.ones((len(run.cases), 2)) for what in ("F", "Mx")}
            for i in own:
                answer["F"][i] = answer["Mx"][i] = 0.0
                answer[name][i, clamp] = 100.0
            nominal = SimpleNamespace(panels=[SimpleNamespace(**answer)] * len(run.line.places))
            made_up = SimpleNamespace(nominal=nominal, cases=run.cases, line=run.line)
            assert {*own} <= {*_telling(made_up, place, [place])}, (place.number, clamp, name)  # type: ignore[arg-type]


def test_a_sum_of_a_run_names_both_of_its_parts() -> None:
    walk = Walk(railed_garden(), basis_named("en", "uk", TABLES), TABLES, SOUND, MEMO)
    run = rail_link(walk, actions(walk)[1])[1]
    sums = [c for c in run.cases if c.parts] if run is not None else []
    assert sums
    for c in sums:
        (_, lead), (_, other) = c.parts
        assert {lead.action.nature, other.action.nature} == {"barrier", "wind"}
        assert c.id == f"{lead.id} with {other.id}" and other.title in c.title and c.action is lead.action


def test_panels_stand_in_line_with_their_gaps_and_the_rail_reaches_over_them() -> None:
    line = line_of(job())
    assert isinstance(line, Line)
    assert [(p.number, p.start, p.end) for p in line.places] == [(1, 0.0, 1200.0), (2, 1220.0, 2420.0), (3, 2440.0, 3640.0)]
    assert (line.start, line.end) == (-20.0, 3640.0) and not line.openings


def test_an_opening_reaches_from_glass_to_glass_and_two_beside_one_another_are_one() -> None:
    gone = {"rail.panels": 4, "rail.openings": [{"place": 2, "width": "1000 mm"}, {"place": 3, "width": "800 mm"}]}
    line = line_of(job().with_(gone))
    assert isinstance(line, Line)
    assert line.openings == ((1200.0, 1200.0 + 20 + 1000 + 20 + 800 + 20),)
    end = line_of(job().with_({"rail.openings": [{"place": 1, "width": "1200 mm"}]}))
    assert isinstance(end, Line) and end.openings == ((-20.0, 1220.0),)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"rail.panels": None}, "how many panels"),
        ({"rail.between": "unknown"}, "the gap between two panels"),
        ({"rail.modulus": "unknown"}, "modulus"),
        ({"rail.wall": "unknown"}, "its section (across, depth, wall)"),
        ({"rail.shape": None, "rail.across": None, "rail.depth": None, "rail.wall": None}, "its section (inertia)"),
        ({"rail.continuous": "unknown"}, "whether it has joints"),
        ({"rail.continuous": False}, "where its joints are"),
        ({"rail.right": None}, "what holds its right end"),
        ({"rail.left.fixing": "unknown", "rail.left.holds": None}, "what holds its left end"),
        ({"rail.right": {"fixing": "post"}}, "how stiff the post at its right end is"),
        ({"rail.right": {"fixing": "corner"}}, "whether it is joined at the corner at its right end"),
    ],
)
def test_what_is_not_known_of_the_rail_is_asked_and_silences_nothing(changes: dict[str, object], words: str) -> None:
    """Every check of the rail is there and not checked; the panels are walked all the same; none is lost."""
    made = link(changes)
    assert {"rail.bending", "rail.grip"} <= {c.id for c in made.checks}
    assert all(c.ending is Ending.NOT_CHECKED and c.standing is Standing.REQUIRED and words in c.reason for c in made.checks)
    assert any("not worked out" in f.text and f.loud for f in made.findings)
    assert not _lost(job().with_(changes), False)


def test_the_panels_of_a_rail_that_is_not_worked_out_are_walked_as_if_they_had_none() -> None:
    unknown, without = sound({"rail.between": "unknown"}), sound({"panels.P1.rail": "none", "rail": None})
    assert unknown.ending is Ending.EXCEEDS and checks(unknown)["rail.grip"].ending is Ending.NOT_CHECKED
    assert checks(unknown)["glass.face"].eta == checks(without)["glass.face"].eta


@pytest.mark.parametrize(
    ("changes", "key", "words"),
    [
        ({"panels.P1.rail": "none"}, "rail", "no panel has one"),
        ({"rail.panels": 0}, "rail.panels", "1 to 16"),
        ({"rail.openings": [{"place": 4, "width": "1200 mm"}]}, "rail.openings.1.place", "no place of its own"),
        ({"rail.continuous": True, "rail.splices": HINGES}, "rail.splices.1.at", "said to be continuous"),
        ({"rail.grip_meaning": None}, "rail.grip", "grip_meaning"),
        ({"rail.left.reference": None}, "rail.left.holds", "reference"),
        ({"rail.right.holds": "1 kN", "rail.right.meaning": "design", "rail.right.reference": "x"}, "rail.right.holds", '"free"'),
        ({"rail.wall": "20 mm"}, "rail.wall", "nothing between the walls"),
        ({"rail.connection": "1 N/mm2"}, "rail.connection", "connection_low"),
        ({"rail.shape": None}, "rail.across", "write shape"),
        ({"rail.continuous": False, "rail.splices": [{"at": "9 m"}]}, "rail.splices.1.at", "3640 mm in all"),
        ({"rail.colour": "red"}, "rail.colour", "is not there"),
    ],
)
def test_what_cannot_be_is_refused_where_it_stands(changes: dict[str, object], key: str, words: str) -> None:
    with pytest.raises(JobRefused) as refused:
        job().with_(changes)
    assert any(f.key == key and words in f.text for f in refused.value.faults), refused.value.faults


def test_a_panel_of_another_height_is_under_no_rail_with_the_first() -> None:
    other = {**_panel("P2"), "height": "900 mm"}
    with pytest.raises(JobRefused, match="one rail lies on it"):
        job().with_({"rail.panels": 2, "panels": [_panel("P1"), other], "site.barrier_height": "unknown"})


def _panel(name: str, **more: object) -> dict[str, object]:
    return {
        "name": name, "width": "1200 mm", "height": "980 mm", "bottom_gap": "50 mm", "edge": "polished", "surface": "float",
        "rail": "cap", "layers": [{"glass": "toughened", "nominal": "12 mm"}], **more,
    }  # fmt: skip


# ---------------------------------------------------------------- what is asked and checked


def test_every_walk_has_every_check_of_the_rail_that_is_asked() -> None:
    for w in result().walked:
        walk = Walk(w.job, result().basis, result().tables, w.situation)
        wanted = {a.id for a in asked(walk) if a.id.startswith("rail.")}
        assert wanted == {c.id for c in w.checks if c.id.startswith("rail.")}
        assert all(checks(w)[id].standing is Standing.REQUIRED for id in wanted)
    assert "rail.held_down" in checks(walked("panel 3 of 3 under the rail lost"))


def railed_garden() -> Job:
    """The garden deck under the rail of the usual job, of whose grip nothing is known."""
    garden = job_named("garden_deck")
    entry = {k: v for k, v in job().raw["rail"].items() if not k.startswith("grip")}
    return garden.with_({f"panels.{garden.panels[0].name}.rail": "cap", "rail": entry})


def test_a_load_that_informs_takes_no_check_of_the_rail_out_of_those_that_decide() -> None:
    """British loads along the glass inform, wind with them too: what is asked of the rail is required all the same."""
    railed = railed_garden()
    basis = basis_named(railed.basis, railed.national, TABLES)
    for changed in (railed, railed.with_({"rail.openings": [{"place": 3, "width": "1000 mm"}]})):
        walk = Walk(changed, basis, TABLES, SOUND, MEMO)
        made = checks(rail_link(walk, actions(walk)[1])[0])
        wanted = {a.id for a in asked(walk) if a.id.startswith("rail.")}
        assert "rail.grip" in wanted and all(made[id].standing is Standing.REQUIRED for id in wanted)


def test_an_end_nobody_looked_at_is_shown_free_and_in_a_bracket() -> None:
    """Not checked, and beside it what the question is worth: free some five times the even share, in a bracket less than two."""
    made = link({"rail.right": {"fixing": "unknown"}})
    free, held = (s.value.at(0) for s in made.shown)
    assert "right end of the rail is free, and place 3 is gone" in made.shown[0].title and "in a bracket" in made.shown[1].title
    assert free == pytest.approx(float(worst_of_last()[0]), rel=1e-6) and held == pytest.approx(float(worst_of_last()[1]), rel=1e-6)
    assert not link({"rail.right": {"fixing": "unknown"}, "rail.between": "unknown"}).shown


def worst_of_last() -> list[float]:
    last = next(made for made in walked("panel 3 of 3 under the rail lost").links if made.id == "rail")
    return [float(s.value.at(0)) for s in last.shown if s.value.symbol == "r_F"]


def test_a_joint_on_the_glass_is_said() -> None:
    told = link({"rail.continuous": False, "rail.splices": [{"at": "1800 mm"}, {"at": "2430 mm"}]}).findings
    assert any("Joint 1 of the rail lies on the glass of place 2" in f.text and f.loud for f in told)
    assert not any("Joint 2" in f.text for f in told)


def test_strength_is_never_made_up() -> None:
    """Without a yield strength, with aluminium, with a breaking load: not checked, and what to ask."""
    for changes, words in (
        ({"rail.yield_strength": None}, "yield strength"),
        ({"rail.material": "aluminium"}, "a rail of aluminium has no strength in this basis"),
        ({"rail.material": "unknown"}, "its material"),
    ):
        found = checks(link(changes))["rail.bending"]
        assert found.ending is Ending.NOT_CHECKED and words in found.reason and found.demand is not None
    for meaning, words in (("ultimate", "where tests broke"), ("characteristic", "a characteristic value")):
        found = checks(link({"rail.left.meaning": meaning}))["rail.left"]
        assert found.ending is Ending.NOT_CHECKED and words in found.reason
    assert checks(link({"rail.grip": "unknown", "rail.grip_meaning": None}))["rail.grip"].ending is Ending.NOT_CHECKED


def test_a_rating_meets_the_demand_at_its_own_level() -> None:
    """Allowable against the action before any factor, design with the factor of the combination: 1.5 apart at the line load."""
    design, allowable = (checks(link({"rail.left.meaning": m}))["rail.left"] for m in ("design", "allowable"))
    assert design.eta == pytest.approx(1.5 * float(allowable.eta or 0.0), rel=1e-9)
    rated = {"rail.moment": "1 kN m", "rail.meaning": "design", "rail.reference": "invented", "rail.yield_strength": None}
    by_rating, by_section = checks(link(rated))["rail.bending"], checks(result().sound)["rail.bending"]
    # By hand: the stress by the section is M/W, so both demands are one moment; W of the U across is 2 I/b.
    W = 2 * (30 * 40**3 - 27 * 34**3) / 12 / 40
    assert by_rating.demand is not None and by_section.demand is not None
    assert by_rating.demand.at(by_rating.station) == pytest.approx(W * by_section.demand.at(by_section.station), rel=1e-9)


@pytest.mark.parametrize(
    ("shape", "I_across", "W_down"),
    [
        ("flat", 30 * 40**3 / 12, 40 * 30**2 / 6),
        ("box", (30 * 40**3 - 24 * 34**3) / 12, (40 * 30**3 - 34 * 24**3) / 12 / 15),
        # Web and two legs about their own middles, moved to the common centroid (Steiner).
        ("channel", 3 * 40**3 / 12 + 2 * (27 * 3**3 / 12 + 81 * 18.5**2), 25442.138 / (30 - 10.117021)),
    ],
)
def test_sections_by_hand(shape: str, I_across: float, W_down: float) -> None:
    changes: dict[str, object] = {"rail.shape": shape} | ({"rail.wall": None} if shape == "flat" else {})
    entry = job().with_(changes).rail
    assert entry is not None
    found, down = inertia(entry), modulus_down(entry)
    assert found is not None and down is not None
    assert found.x == pytest.approx(I_across) and down.x == pytest.approx(W_down, rel=1e-6)


def test_laminated_glass_does_not_count_on_its_rail_and_its_rail_informs() -> None:
    layers = [{"glass": "toughened", "nominal": "8 mm"}] * 2
    changes = {"panels.P1.layers": layers, "panels.P1.interlayer": {"thickness": "1.52 mm"}}
    found = link(changes)
    assert {c.standing for c in found.checks if c.id.startswith("rail.")} == {Standing.INFORMATION}


@pytest.mark.parametrize("path", UNKNOWABLE)
def test_an_entry_of_the_rail_nobody_knows_takes_no_check_away_and_makes_nothing_exceed(path: str) -> None:
    """What was asked is asked; what was compared is compared, or not checked; nothing exceeds that did not."""
    before, after = checks(as_it_is()), checks(link({path: "unknown"}))
    assert set(before) <= set(after)
    for id, c in after.items():
        if c.ending is Ending.EXCEEDS:
            assert before[id].ending is Ending.EXCEEDS
        assert c.ending is not Ending.WITHIN or before[id].ending is Ending.WITHIN


# ---------------------------------------------------------------- the run in the load path


def test_forces_close_through_the_link() -> None:
    """In every walk: what lies on the rail is what the panels and the ends get; moments on the mounts are push times height."""
    for w in result().walked:
        run = rail_of(w)
        assert run.residual < 1e-7
        q = 0.75 * (run.line.end - run.line.start)
        number = next(i for i, c in enumerate(run.cases) if c.id == "line/rail")
        for solution in run.solutions:
            F = sum(float(a.F[number].sum()) for a in solution.panels.values())
            assert F + float(solution.ends[:, number].sum()) == pytest.approx(q, rel=1e-7)
            for a in solution.panels.values():
                assert float(a.Mx[number].sum()) == pytest.approx(980 * float(a.from_rail[number]), rel=1e-6, abs=1.0)
        for panel in run.panels.values():
            for s, solved in enumerate(panel.solutions):
                total = np.array([float(c.resultant.x) for c in panel.cases])
                on_rail = [i for i, c in enumerate(panel.cases) if c.id.split("/")[1] in ("line", "point")]
                assert panel.sets[s] != (Pads("nominal"), "soft") or np.allclose(
                    np.asarray(solved.F)[on_rail].sum(axis=1), total[on_rail], rtol=1e-6, atol=1e-3
                )


def test_the_lost_panel_beside_a_free_end_hangs_and_a_bracket_mends_it() -> None:
    """A cantilever: some five times the even share at the next mount; with a bracket less than two."""
    lost = walked("panel 3 of 3 under the rail lost")
    shown = next(link.shown for link in lost.links if link.id == "rail")
    times = [s.value.at(0) for s in shown if s.value.symbol == "r_F"]
    assert len(times) == 2 and "bracket at the right end" in next(s.title for s in shown if s.title.startswith("the same"))
    assert 4.0 < times[0] < 6.0 and times[1] < 2.0
    readme = _plain((ROOT / "README.md").read_text(encoding="utf-8"))
    assert f"takes {times[0]:.1f} times its even share, and {times[1]:.1f} times with a bracket" in readme
    hand = next(s.value.at(0) for s in shown if "beside the opening" in s.title)
    # 0.75 x 600 + 0.75 x 1,220 x (1,200 + 610 - 200)/800, in N: the lever with nobody further to help.
    assert hand == pytest.approx(0.75 * 600 + 0.75 * 1220 * (1200 + 610 - 200) / 800)
    assert 0.8 < times[0] * 450 / hand <= 1.05
    worst = {w.situation.name: checks(w)["glass.face"].eta or 0.0 for w in result().walked[1:]}
    assert max(worst, key=lambda name: worst[name]) == "panel 3 of 3 under the rail lost"


def test_a_load_that_presses_the_rail_down_over_an_opening_comes_to_the_mounts_beside_it() -> None:
    """Statics of two springs 800 apart, 0.75 kN/m over 1,220: a propped beam's reaction and moment, or all with its lever.

    5 q L/8 and q L²/8 at the held end of a beam hinged at the other, P L/(3√3) at most of a force (tables of beams, from memory).
    """

    def down(situation: str) -> dict[tuple[str, str], float]:
        shares = walked(situation).handed_on.shares
        return {
            (s.model.name, label.split(", down ")[1].split(";")[0]): float(x)
            for s in shares if s.way == "down" for label, x in zip(s.labels, np.atleast_1d(s.down.x), strict=True)
        }  # fmt: skip

    hanging, held = down("panel 3 of 3 under the rail lost"), down("panel 1 of 3 under the rail lost")
    V, e = 0.75 * 1220, 600 + 610  # from the middle of the mounts to that of the load
    over = "over the opening on its right"
    assert hanging["M2", over] == pytest.approx(V * (1 / 2 + e / 800)) and hanging["M1", over] == pytest.approx(
        V * (1 / 2 - e / 800)
    )
    assert hanging["M1", "at the far end of the opening on its right"] == pytest.approx(600 * (1 / 2 - (600 + 1220) / 800))
    L = 1240  # to the bracket on the wall, 20 beyond the glass
    V, turn = 5 / 8 * 0.75 * L, 5 / 8 * 0.75 * L * 600 + 0.75 * L**2 / 8
    over = "over the opening on its left"
    assert held["M1", over] == pytest.approx(V / 2 + turn / 800) and held["M2", over] == pytest.approx(V / 2 - turn / 800)
    place = 600 + L / (3 * math.sqrt(3))  # of 0.6 kN, from the middle
    assert held["M1", "at the worst place over the opening on its left"] == pytest.approx(600 * (1 / 2 + place / 800))
    with_own = "over the whole width and the opening on its left"
    assert held["M1", with_own] == pytest.approx(held["M1", over] + 450)
    assert "over the opening on its left" not in {where for _, where in down("sound")}
    # It is compared: the same check is of more than with all the glass there, and no mount further off hears of it.
    lost, own = checks(walked("panel 3 of 3 under the rail lost")), checks(result().sound)
    for mount in ("M1", "M2"):
        assert (lost[f"in_plane.vertical_down.vertical.{mount}"].eta or 0.0) > 2 * (
            own[f"in_plane.vertical_down.vertical.{mount}"].eta or 1.0
        )
    told = [f for made in walked("panel 1 of 3 under the rail lost").links if made.id == "rail" for f in made.findings]
    assert any("hold it up as well" in f.text and f.loud for f in told) and any("five eighths" in f.text for f in told)


def test_a_force_over_an_opening_comes_whole_to_the_panel_beside_it() -> None:
    """1.5 x 0.6 kN at the end of a rail that hangs over 1 m: what the mount beside it has more the other has less.

    The panels are 1,240 wide here, mounts 200 and 1,000 from the left: the lever on 800 goes to 1,020 beyond the glass.
    """
    panel = job().panels[0].name
    gone = {"rail.openings": [{"place": 3, "width": "1000 mm"}], f"panels.{panel}.width": "1240 mm"}
    words = "down at the far end of the opening on its right"
    found = [
        float(x)
        for share in sound(gone).handed_on.shares if share.way == "down"
        for label, x in zip(share.labels, np.atleast_1d(share.down.x), strict=True) if words in label
    ]  # fmt: skip
    lever = (1240 + 1020 - 600) / 800
    assert sorted(found) == pytest.approx([900 * (1 / 2 - lever), 900 * (1 / 2 + lever)])


def test_a_joint_within_an_opening_leaves_the_rail_hanging_when_it_is_pressed_down() -> None:
    gone = {"rail.openings": [{"place": 2, "width": "1200 mm"}], "rail.continuous": False}
    for at, hanging in (("1210 mm", False), ("1800 mm", True)):
        made = checks(link({**gone, "rail.splices": [{"at": at}]}))
        assert ("rail.held_down" in made) is hanging


def test_the_pencil_beside_an_opening_in_the_middle() -> None:
    """Both ends free, three alike: the lever within a tenth of the mount beside it, q L²/8 and a stiff rail about M."""
    changes = {"rail.left": FREE, "rail.openings": [{"place": 2, "width": "1200 mm"}]}
    lost, run = link(changes), run_of(changes)
    number = next(i for i, c in enumerate(run.cases) if c.id == "line/rail")
    hand = 0.75 * 600 + 0.75 * 1240 / 2 * (1200 - 200) / 800
    F = float(run.nominal.panels[0].F[number].max())
    assert 0.85 * hand < F < 1.1 * hand
    M = abs(float(run.nominal.extreme()[0][number]))
    shown = {s.title: s.value.at(0) for s in lost.shown}
    assert shown["by hand: moment of the rail over the opening"] == pytest.approx(0.75 * 1240**2 / 8)
    # S = 3,640, two panels at 1,220 from the middle: q S/2 x 1,220 less q S²/8.
    rigid = shown["by hand: moment of a rail that does not bend"]
    assert rigid == pytest.approx(0.75 * 3640 / 2 * 1220 - 0.75 * 3640**2 / 8, rel=1e-3)
    assert 0.5 * 0.75 * 1240**2 / 8 < M < rigid


@pytest.mark.parametrize("held", ["left", "right", "neither"])
def test_a_rail_that_does_not_bend_is_summed_only_where_the_glass_alone_holds_it(held: str) -> None:
    """A bracket takes a part of the load that two equal springs know nothing of, at whichever end it is."""
    ends = {f"rail.{side}": BRACKET if side == held else FREE for side in ("left", "right")}
    made = link({**ends, "rail.openings": [{"place": 2, "width": "1200 mm"}]})
    titles = [s.title for s in made.shown]
    assert "by hand: moment of the rail over the opening" in titles
    assert ("by hand: moment of a rail that does not bend" in titles) is (held == "neither")


def test_no_mount_is_pushed_more_than_the_one_that_is_named() -> None:
    """Whether it comes first or last along the line: the second of four panels gone, then, mirrored, the third."""
    for gone, number, mount in ((2, 3, "M1"), (3, 2, "M2")):
        entries = {"rail.panels": 4, "rail.left": FREE, "rail.openings": [{"place": gone, "width": "1200 mm"}]}
        made, run = link_and_run(entries)
        assert run is not None
        case = next(i for i, c in enumerate(run.cases) if c.id == "line/rail")
        pushes = [abs(F) for a in run.nominal.panels.values() for F in a.F[case].tolist()]
        told = next(s for s in made.shown if s.value.symbol == "r_F")
        assert f"mount {mount} of place {number}" in told.title
        # The even share of a mount is half of 0.75 N/mm over 1,200 mm.
        assert told.value.at(0) * 450 == pytest.approx(max(pushes), rel=1e-5)


def test_joints_on_both_sides_of_the_opening_carry_half_of_it_each() -> None:
    """A simple beam from joint to joint: each joint carries half of q L."""
    changes = {
        "rail.left": FREE,
        "rail.openings": [{"place": 2, "width": "1200 mm"}],
        "rail.continuous": False,
        "rail.splices": HINGES,
    }
    made, run = link(changes), run_of(changes)
    number = next(i for i, c in enumerate(run.cases) if c.id == "line/rail")
    for at in (1210.0, 2430.0):
        assert _shear(run.nominal, at)[number] == pytest.approx(0.75 * 1220 / 2, rel=1e-6)
    own = checks(made)
    assert own["rail.splice.1"].ending is Ending.NOT_CHECKED and "joint 1" in own["rail.splice.1"].reason


def test_a_piece_of_rail_that_nothing_holds_falls() -> None:
    """A joint beside the gap of the last panel and a free end: the piece has one hinge and nothing else. With a bracket it hangs on
    both; with a joint inside the glass left it is held by that."""
    gone = {"rail.openings": [{"place": 3, "width": "1200 mm"}], "rail.continuous": False}
    fallen = link({**gone, "rail.splices": [{"at": "2430 mm"}]})
    own = checks(fallen)
    assert (
        own["rail.bending"].ending is Ending.EXCEEDS and own["rail.bending"].eta is None and "falls" in own["rail.bending"].reason
    )
    assert own["rail.grip"].ending is Ending.NOT_CHECKED and own["rail.left"].ending is Ending.NOT_CHECKED
    assert own["rail.splice.1"].ending is Ending.NOT_CHECKED
    for held in ({"rail.splices": [{"at": "2430 mm"}], "rail.right": BRACKET}, {"rail.splices": [{"at": "2000 mm"}]}):
        changes = {**gone, **held}
        assert checks(link(changes))["rail.bending"].eta is not None and run_of(changes).residual < 1e-6
    walk = sound({**gone, "rail.splices": [{"at": "2430 mm"}]})
    assert walk.ending is Ending.EXCEEDS and checks(walk)["glass.face"].eta is not None


@pytest.mark.parametrize("at", ["2419.6 mm", "2420.2 mm", "1203 mm"])
def test_a_joint_next_to_an_edge_of_the_glass_is_at_it(at: str) -> None:
    """No sliver of an element: the run closes as well as without a joint."""
    assert run_of({"rail.continuous": False, "rail.splices": [{"at": at}]}).residual < 1e-7


def test_a_rail_too_stiff_for_the_model_is_not_checked() -> None:
    stiff = {"rail.shape": "box", "rail.across": "300 mm", "rail.depth": "300 mm", "rail.wall": "40 mm"}
    own = checks(link(stiff))
    assert all(c.ending is Ending.NOT_CHECKED and "stiffer than this model" in c.reason for c in own.values())


def test_a_rail_that_moves_too_far_says_that_it_is_no_figure() -> None:
    last = next(made for made in walked("panel 3 of 3 under the rail lost").links if made.id == "rail")
    assert any("no figure" in f.text and f.loud for f in last.findings)
    stiff = {"rail.shape": "box", "rail.across": "60 mm", "rail.right": BRACKET, "panels.P1.layers.1.nominal": "19 mm"}
    assert not any("no figure" in f.text for f in link(stiff).findings)


def test_loads_at_once_are_added_each_times_its_share() -> None:
    """Half of 3 N/mm and of 800 N beside 0.7 of 2 N/mm and of 300 N, where they stand."""
    barrier = RunLoad(lines=((3.0, 0.0, 900.0),), points=((800.0, 450.0),))
    wind = RunLoad(lines=((2.0, 0.0, 500.0),), points=((300.0, 20.0),))
    both = _sum([(0.5, barrier), (0.7, wind)])
    assert both.lines == ((1.5, 0.0, 900.0), (1.4, 0.0, 500.0)) and both.points == ((400.0, 450.0), (210.0, 20.0))


def test_a_mirrored_job_answers_mirrored() -> None:
    """Bracket and opening at the other end: the same figures for rail, grip, end and glass."""
    one = sound({"rail.openings": [{"place": 3, "width": "1200 mm"}]})
    other = sound({
        "rail.left": {"fixing": "free"}, "rail.right": {**BRACKET, "reach": "20 mm"},
        "rail.openings": [{"place": 1, "width": "1200 mm"}],
    })  # fmt: skip
    a, b = checks(one), checks(other)
    for id in ("rail.bending", "rail.grip", "rail.down", "glass.face", "glass.edge"):
        assert a[id].eta == pytest.approx(b[id].eta, rel=1e-5), id
    assert a["rail.left"].eta == pytest.approx(b["rail.right"].eta, rel=1e-6)
    for m, n in (("M1", "M2"), ("M2", "M1")):
        assert a[f"base_plate.bed.{m}"].eta == pytest.approx(b[f"base_plate.bed.{n}"].eta, rel=1e-5)


def test_a_force_at_one_place_moves_another_as_much_as_the_other_way_round() -> None:
    run = rail_of(result().sound)
    at = {c.id: (i, c.load.points[0]) for i, c in enumerate(run.cases) if c.load.points}
    (i, (P, a)), (j, (Q, b)) = at["point/right end"], at["point/middle of place 1"]
    v = run.nominal.deflection(np.array([a, b]))
    assert v[1, i] / P == pytest.approx(v[0, j] / Q, rel=1e-8)


@pytest.mark.parametrize("right", [FREE, BRACKET], ids=["free", "bracket"])
def test_a_rail_makes_nothing_better_while_all_the_glass_is_there(right: dict[str, str]) -> None:
    """Every check below the rail is at least what it is without one: nobody has seen whether it grips."""
    railed, without = checks(sound({"rail.right": right})), checks(sound({"panels.P1.rail": "none", "rail": None}))
    compared = 0
    for id, c in without.items():
        if c.rank is not None:
            compared += 1
            assert (railed[id].rank or 0.0) >= c.rank * (1 - 0.002), id
    assert compared > 50


def test_a_limp_rail_over_narrow_gaps_leaves_the_glass_as_without_one() -> None:
    """EI next to nothing, gaps of 1 mm, a stiff grip, ends free: the glass under the line load is that of a panel alone."""
    limp = {
        "rail.left": FREE, "rail.between": "1 mm", "rail.shape": None, "rail.across": None, "rail.depth": None, "rail.wall": None,
        "rail.modulus": "2 GPa", "rail.inertia": "10 mm4", "rail.connection": "1000 N/mm2", "rail.connection_high": "1000 N/mm2",
    }  # fmt: skip
    without = sound({"panels.P1.rail": "none", "rail": None})
    with_limp = run_of(limp)
    line = next(i for i, c in enumerate(with_limp.panels["P1"].cases) if "line/rail/2" in c.id)
    solved = without.handed_on.panels[0]
    own = next(i for i, c in enumerate(solved.cases) if c.action.kind == "line")
    for s, limp_solution in enumerate(with_limp.panels["P1"].solutions):
        assert limp_solution.F[line] == pytest.approx(solved.solutions[s].F[own], rel=0.01)
        mine, theirs = (p.peaks(12.0)["load"]["interior"].stress for p in (limp_solution, solved.solutions[s]))  # type: ignore[index]
        assert mine[line] == pytest.approx(theirs[own], rel=0.02)


def test_panels_that_are_described_one_by_one_are_lost_by_name() -> None:
    own = job().raw["mounts"]
    mounts = [{**m, "name": f"{p}{m['name']}", "panel": p, "blocking": f"{p}{m['blocking']}"} for p in ("P1", "P2") for m in own]
    blocking = {f"blocking.{m['blocking']}": {"same_as": "B1"} for m in mounts}
    panels = [_panel("P1"), _panel("P2")]
    two = job().with_({**blocking, "rail.panels": 2, "panels": panels, "mounts": mounts, "rail.left": FREE})
    found = check(two)
    assert [w.situation.name for w in found.walked] == ["sound", "panel P1 lost", "panel P2 lost"]
    lost = found.walked[1]
    assert [p.name for p in lost.job.panels] == ["P2"] and not lost.job.mounts_of(two.panels[0])
    # Alone under a rail that both ends leave free, the panel that is left carries all of it.
    run = rail_of(lost)
    number = next(i for i, c in enumerate(run.cases) if c.id == "line/rail")
    assert float(run.nominal.panels[1].F[number].sum()) == pytest.approx(0.75 * 2420, rel=1e-7)


def test_a_point_load_counts_for_a_panel_up_to_the_far_edge_of_the_next_one() -> None:
    """Five panels, a force over the middle of each and one over two of them: on itself and on its neighbours, on no other."""
    line = line_of(job().with_({"rail.panels": 5, "rail.openings": None}))
    assert isinstance(line, Line)
    middles = [p.start + p.width / 2 for p in line.places]
    places = [(s,) for s in middles] + [(middles[2], middles[4])]
    cases = [SimpleNamespace(only=None, load=SimpleNamespace(points=[(600.0, s) for s in at])) for at in places]
    answer = SimpleNamespace(F=np.ones((6, 2)), Mx=np.ones((6, 2)))  # all do as much
    found = SimpleNamespace(line=line, cases=cases, nominal=SimpleNamespace(panels=[answer] * 5))
    counted = [_telling(found, p, line.places) for p in line.places]  # type: ignore[arg-type]
    assert counted == [[0, 1], [0, 1, 2], [1, 2, 3], [2, 3, 4, 5], [3, 4]]


def test_a_limit_of_movement_decides_nothing_once_a_panel_is_lost() -> None:
    assert checks(result().sound)["movement.P1"].standing is Standing.REQUIRED
    assert checks(result().walked[1])["movement.P1"].standing is Standing.INFORMATION


def test_what_a_panel_lost_is_looked_at_under() -> None:
    """The characteristic action with the factors of the basis for such a state; in the United Kingdom the design load."""
    after = rail_of(result().walked[1]).cases[0].strength
    assert after.situation == "after damage" and after.factor.at(0) == 1.0
    uk = {"basis": "en", "national": "uk", "site.use": "A2", "wind": None}
    assert all(not s.after_damage for s in _lost(job().with_(uk), True))
    assert all(s.after_damage for s in _lost(job(), False))


def _lost(of: Job, as_whole: bool) -> list[Situation]:
    basis = basis_named(of.basis, of.national, TABLES)
    assert basis.lost_panel_as_whole is as_whole
    return list(lost_panels(of, Standing.REQUIRED, basis.lost_panel_as_whole))


# ---------------------------------------------------------------- what a reader sees


def test_the_sheet_says_it_in_plain_words_and_draws_it() -> None:
    text = sheet.text(result())
    assert "WHEN A PANEL IS GONE: THE RAIL" in text and "like a diving board" in text
    assert re.search(
        r"panel 3 of 3 under the rail lost: 4\.\d times; the same with a bracket at the right end.*1\.\d times", _plain(text)
    )
    assert "somebody may fall through it under the rail" in _plain(text) or "free" in text


def test_the_front_says_that_a_panel_lost_is_required_too_where_only_that_exceeds() -> None:
    """A deck that is within as described and not with a panel gone: nobody reads *within* first."""
    garden = job_named("garden_deck")
    entry = {**job().raw["rail"], "left": FREE, "right": FREE, "shape": "box", "across": "50 mm", "grip": "30 kN/m"}
    found = check(garden.with_({f"panels.{garden.panels[0].name}.rail": "cap", "rail": entry}))
    assert found.sound.ending is Ending.WITHIN and found.ending is Ending.EXCEEDS
    text = _plain(sheet.text(found))
    assert "With panel 1 of 3 under the rail lost and panel 2 of 3 under the rail lost this barrier EXCEEDS" in text
    assert re.search(r"Ends as EXCEEDS with panel 1 of 3 .* which is required too\. As described: within", text)
    assert "Required too panel 1 of 3 under the rail lost: EXCEEDS, worst is" in text


def _plain(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_the_pictures_show_what_was_solved() -> None:
    pictures = {d.name: d.draw() for d in drawn.drawings(result())}
    assert list(pictures) == ["rail-sound", *(f"rail-panel-{n}-of-3-under-the-rail-lost" for n in (1, 2, 3))]
    last = pictures["rail-panel-3-of-3-under-the-rail-lost"]
    assert 'data-what="gone 3"' in last.svg and 'data-what="right end free"' in last.svg and 'data-what="left end held"' in last.svg
    assert last.svg.count('data-what="worst"') == 1 and "mount M2 of place 2 is pushed most" in last.alt
    ends = [float(y) for y in re.findall(r",(-?[\d.]+)", re.search(r'<polyline class="ink" points="([^"]+)"', last.svg).group(1))]  # type: ignore[union-attr]
    run = rail_of(walked("panel 3 of 3 under the rail lost"))
    v = run.nominal.deflection(np.array([run.line.start, 1830.0, run.line.end]))[:, 0]
    drawn_ways = np.array([ends[0], ends[-1]]) - ends[0]
    assert drawn_ways[1] == pytest.approx(74.0 * v[2] / abs(float(run.nominal.largest_deflection[0][0])), rel=0.01)
    assert ends == sorted(ends)  # it leans further all the way to its free end


def test_a_job_without_a_rail_has_no_link_of_one() -> None:
    without = sound({"panels.P1.rail": "none", "rail": None})
    assert "rail" not in [link.id for link in without.links]


def test_a_rail_that_does_not_bend_off_its_middle_by_the_lever() -> None:
    """Two panels left, the rail 100 mm beyond the first: two reactions by the lever, the moment largest where no force crosses.

    S = 3,740 from its left end, panels at 700 and 3,140: R_1 = q S (3,140 - S/2)/2,440; M = 700 R_1 - R_1²/(2 q) at s = R_1/q.
    """
    free = {"fixing": "free", "reach": "100 mm"}
    made = link({"rail.left": free, "rail.openings": [{"place": 2, "width": "1200 mm"}]})
    found = next(s.value.at(0) for s in made.shown if s.title == "by hand: moment of a rail that does not bend")
    q, S = 0.75, 3740.0
    R_1 = q * S * (3140.0 - S / 2) / 2440.0
    assert found == pytest.approx(abs(700.0 * R_1 - R_1**2 / (2 * q)), rel=1e-4)


@pytest.mark.parametrize(
    ("s", "words"),
    [
        (-10.0, "beyond the glass"), (600.0, "on the glass of place 1"), (1200.0, "on the glass of place 1"),
        (1300.0, "over the opening"), (2430.0, "over the opening"), (3000.0, "on the glass of place 3"),
        (3650.0, "between two panels"), (4800.0, "on the glass of place 4"),
    ],
)  # fmt: skip
def test_a_place_on_the_rail_is_named_by_what_is_under_it(s: float, words: str) -> None:
    """Four panels of 1,200 with 20 between, the second gone: glass to 1,200, from 2,440 to 3,640, from 3,660 to 4,860."""
    line = line_of(job().with_({"rail.panels": 4, "rail.openings": [{"place": 2, "width": "1200 mm"}]}))
    assert isinstance(line, Line) and where(line, s) == words


def test_a_rail_pressed_down_bends_over_the_opening_as_a_beam_or_hangs() -> None:
    """0.75 N/mm or 600 N, whichever is more, times 1.5, on a rating; a hand sum.

    Over 1,240 mm between two panels q L²/8 and P L/4, over 1,220 mm to a free end q L²/2 and P L.
    """
    rated = {"rail.moment_down": "1 kN m", "rail.meaning": "design", "rail.reference": "invented"}
    beam, hanging = max(0.75 * 1240**2 / 8, 600 * 1240 / 4), max(0.75 * 1220**2 / 2, 600 * 1220)
    for place, hand in ((2, 1.5 * beam), (3, 1.5 * hanging)):
        own = checks(link({**rated, "rail.openings": [{"place": place, "width": "1200 mm"}]}))["rail.down"]
        assert own.demand is not None and own.demand.at(own.station) == pytest.approx(hand)


def test_two_pushes_at_once_act_where_their_moment_says_or_at_the_larger() -> None:
    """300 N at 1,000 mm and 100 N at 500 mm: 350,000 N mm over 400 N, 875 mm; 300 N less 290 N would be at 15,500: at 1,000 then.

    By each share too: half of 600 N beside 100 N is the same.
    """

    def level(*parts: tuple[float, float, float]) -> float:
        of = [Part(number(share, "ratio"), SimpleNamespace(resultant=number(H, "force"), height=number(y, "length")))  # type: ignore[arg-type]
              for share, H, y in parts]  # fmt: skip
        return float(_level(SimpleNamespace(values={}, residual=0.0), of, "both").x)  # type: ignore[arg-type]

    assert level((1.0, 300.0, 1000.0), (1.0, 100.0, 500.0)) == pytest.approx(875.0)
    assert level((1.0, 100.0, 500.0), (0.5, 600.0, 1000.0)) == pytest.approx(875.0)
    assert level((1.0, 300.0, 1000.0), (1.0, -290.0, 500.0)) == level((1.0, -290.0, 500.0), (1.0, 300.0, 1000.0)) == 1000.0


def number(x: float, kind: str) -> Value:
    return Value(x, kind, JobEntry("x", "x"))
