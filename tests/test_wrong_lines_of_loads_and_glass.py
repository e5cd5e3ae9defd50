"""Wrong lines of loads, glass, clamps, movement and the rail that only yesterday's print had noticed: each by a hand sum.

What is asked for needs no walk: single parts are given plain numbers, and what they answer is known by statics or by the words
of the rule itself.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Sequence
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from conftest import job_named, result_of

from barrier.basis import Action
from barrier.links.acceptance import _durability, _glass_rules, _heights, _openings
from barrier.links.asked import LET_GO, UNLOADED, Asked, _split_at_ends, _unmade
from barrier.links.clamp.clamp import _particulars
from barrier.links.clamp.clamp_slip import _check as _slip_check
from barrier.links.clamp.rating import _differs
from barrier.links.glass.glass import _check as _glass_check
from barrier.links.glass.glass import _layers
from barrier.links.loads import at_once
from barrier.links.loads.actions import _places
from barrier.links.loads.cases import grouped
from barrier.links.loads.on_barrier import loads_on
from barrier.links.loads.wind import _given as wind_given
from barrier.links.loads.wind import _of_strips, site_of
from barrier.links.movement import _give, _shares, limited
from barrier.links.rail.checks import _Group, _groups, _shear, where
from barrier.links.rail.checks import asked_down as pressed_down
from barrier.links.rail.loads import _on_rail, without_rail
from barrier.links.rail.rail import asked as rail_asked
from barrier.links.rail.rail import standing_of
from barrier.links.rail.solve import stiffness_of
from barrier.links.rail.strength import factored, moment_down, rated
from barrier.links.rules import _guessed_liners, by_drop, movement_rules
from barrier.links.setting_out import _overhang
from barrier.links.under_rail import Line, Place, _alike, beside, hangs, joints_of
from barrier.result import About, Combination, Ending, Lack, NotChecked, Standing
from barrier.tables import Tables
from barrier.value import JobEntry, Value

GIVEN = JobEntry("x", "x")
REQUIRED, INFORMATION = Standing.REQUIRED, Standing.INFORMATION


def mm(x: float) -> Value:
    return Value(x, "length", GIVEN)


def newtons(x: float) -> Value:
    return Value(x, "force", GIVEN)


# ---------------------------------------------------------------- loads


@pytest.mark.parametrize(("mount", "middle"), [(20.0, 50.0), (400.0, 400.0), (990.0, 950.0)])
def test_a_point_load_over_a_mount_lies_whole_on_its_panel(mount: float, middle: float) -> None:
    """A patch of 100 mm on a panel of 1000: its middle no nearer to either end than 50 mm."""
    panel = Plain(width=mm(1000.0), height=mm(900.0))
    walk = Plain(job=Plain(mounts_of=lambda _: (Plain(name="M", x=mm(mount)),)))
    places = list(_places(walk, panel, Plain(kind="point"), 100.0))  # type: ignore[arg-type]
    assert [(x, y) for _, _, x, y in places] == [(50.0, 900.0), (950.0, 900.0), (500.0, 900.0), (middle, 900.0)]


def walk_of_loads(table: object, **said: object) -> Plain:
    given = {"line": None, "infill": None, "infill_point": None, "point": None, "height": None, "reference": "the code"} | said
    basis = Plain(actions=lambda _: table)
    return Plain(basis=basis, job=Plain(site=Plain(use="home"), loads=Plain(**given)))


def test_without_a_table_a_point_load_alone_is_not_all_that_is_asked() -> None:
    """A barrier without a line load is not checked for load, whatever else of it the reader gives."""
    lack = NotChecked(Lack.BASIS, "no national table")
    line, point = Value(0.75, "line load", GIVEN), newtons(600.0)
    found = loads_on(walk_of_loads(lack, point=point))  # type: ignore[arg-type]
    assert found.lacking is lack and [a.id for a in found.actions] == ["point"]
    assert loads_on(walk_of_loads(lack, line=line)).lacking is None  # type: ignore[arg-type]


def test_a_load_given_in_the_job_keeps_the_patch_of_the_table_and_a_line_its_height() -> None:
    """Half the side of a patch is four times the pressure; a line load at 1.1 m has 1.1 times the moment of one at 1 m."""
    own = (
        Action("line", "line load", "line", Value(0.36, "line load", GIVEN), "barrier", True, "table", mm(900.0)),
        Action("point", "point load", "point", newtons(250.0), "barrier", True, "table", None, mm(50.0)),
    )
    walk = walk_of_loads(own, line=Value(0.75, "line load", GIVEN), point=newtons(600.0), height=mm(1100.0))
    line, point = loads_on(walk).actions  # type: ignore[arg-type]
    assert line.height is not None and float(line.height.x) == 1100.0 and float(line.size.x) == 0.75
    assert point.side is not None and float(point.side.x) == 50.0 and point.height is None and point.required
    kept = loads_on(walk_of_loads(own, height=mm(1100.0))).actions[0]  # type: ignore[arg-type]
    assert kept.height is not None and float(kept.height.x) == 1100.0


def test_both_at_once_is_of_one_panel_and_of_loads_that_decide(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two panels, on each wind, a load that decides and one that informs; two combinations: four cases in all."""
    monkeypatch.setattr(at_once, "_case", lambda walk, both, q, w: (both, q.name, w.name))
    alone = [
        Plain(name=f"{p}{n}", panel=p, action=Plain(nature=n), standing=s)
        for p in ("left", "right")
        for n, s in (("wind", REQUIRED), ("barrier", REQUIRED), ("barrier", INFORMATION))
    ]
    basis = Plain(at_once=lambda *_: ("A", "B"), at_once_decides=False)
    walk = Plain(job=Plain(loads=Plain(with_wind=None)), basis=basis, strength=lambda _: None, situation=Plain(after_damage=False))
    found = list(at_once.at_once(walk, alone))  # type: ignore[arg-type]
    assert found == [(b, f"{p}barrier", f"{p}wind") for p in ("left", "right") for b in "AB"]


@pytest.mark.parametrize(("of_the_basis", "said", "decides"), [
    (False, None, False), (True, None, True), (False, "together", True), (True, "together", True),
])  # fmt: skip
def test_both_at_once_decide_where_either_the_code_or_the_reader_says_so(of_the_basis: bool, said: str, decides: bool) -> None:
    """Either is enough: by the words of the entry."""
    walk = Plain(basis=Plain(at_once_decides=of_the_basis), job=Plain(loads=Plain(with_wind=said)))
    assert at_once.decides(walk) is decides  # type: ignore[arg-type]


def test_a_combination_decides_where_one_of_its_cases_does() -> None:
    """One of two cases required: the group is required; none: it informs."""

    def group(*standings: Standing) -> Standing:
        combination = Plain(id="A")
        cases = [Plain(strength=combination, service=combination, standing=s) for s in standings]
        (found,) = grouped(cases)  # type: ignore[arg-type]
        return found.standing

    assert group(INFORMATION, REQUIRED) is REQUIRED and group(INFORMATION, INFORMATION) is INFORMATION


def test_the_coefficient_of_the_reader_is_on_both_pressures() -> None:
    """1.3 times 1000 Pa, and 1.3 times the 600 Pa that movement is looked at under: one shape, one coefficient."""
    q, q_s = Value(1e-3, "pressure", GIVEN), Value(6e-4, "pressure", GIVEN)
    walk, own = Plain(basis=Plain(wind_level="ultimate")), Plain(coefficient=Value(1.3, "ratio", GIVEN))
    action = wind_given(walk, own, q, q_s, "x")  # type: ignore[arg-type]
    assert action.service is not None and action.required and action.level == "ultimate"
    assert (float(action.size.x), float(action.service.x)) == pytest.approx((1.3e-3, 7.8e-4), rel=1e-12)


# ---------------------------------------------------------------- glass and clamp


@pytest.mark.parametrize("order", [("toughened", "annealed"), ("annealed", "heat-strengthened"), ("annealed", "toughened")])
def test_of_two_layers_alike_in_thickness_the_weaker_kind_is_looked_at(order: Sequence[str]) -> None:
    """Either may be the one that is pushed; annealed glass has the least strength in every code."""
    solved = Plain(panel=Plain(layers=[Plain(glass=g) for g in order]), film=None, thickness=mm(6.0))
    assert [kind for kind, _ in _layers(solved)] == ["annealed"]  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["everyday_deck", "boards_only", "us_deck"])
def test_a_check_of_the_glass_that_only_informs_says_so_in_its_title(name: str) -> None:
    of_glass = [c for c in result_of(name).sound.checks if c.about.part == "glass" and not c.about.at_once]
    assert {c.about.informs for c in of_glass} == ({True, False} if name != "us_deck" else {False})
    assert all(c.title.endswith(" (information)") is c.about.informs for c in of_glass)


@pytest.mark.parametrize(("drilled", "spreader", "said"), [
    (False, True, []), (True, True, ["drilled"]), (False, False, ["no rigid spreader"]), (None, None, []),
])  # fmt: skip
def test_a_drilled_mount_and_one_without_a_spreader_are_cautioned_of(drilled: bool, spreader: bool, said: list[str]) -> None:
    """Common practice, no source: both are loud."""
    mount = Plain(name="M", drilled=drilled, spreader=spreader)
    found = list(_particulars(Plain(name="M", mount=mount)))  # type: ignore[arg-type]
    assert len(found) == len(said) and all(f.loud and word in f.text for f, word in zip(found, said, strict=True))


# ---------------------------------------------------------------- movement


def test_the_mount_whose_ends_give_most_moves_the_edge(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 3, 7 and 5 mm it is 7; one of which nothing is known leaves the upper end open."""
    gives: dict[str, object] = {
        n: Plain(w=Value(np.array([0.0, x]), "length", GIVEN)) for n, x in zip("abc", (3.0, 7.0, 5.0), strict=True)
    }
    monkeypatch.setattr(sys.modules[_give.__module__], "give", lambda walk, m, *_: gives[m])
    monkeypatch.setattr(sys.modules[_give.__module__], "service_moments", lambda *_: (None, None))
    panel = Plain(mounts=list("abc"))
    assert _give(None, panel, [], [0]) is gives["b"]  # type: ignore[arg-type]
    gives["c"] = NotChecked(Lack.INPUT, "the end fixing")
    assert _give(None, panel, [], [0]) is gives["c"]  # type: ignore[arg-type]


def test_movement_under_wind_goes_with_the_pressure_it_is_looked_at_under() -> None:
    """600 Pa of 1000 is 0.6; any case but wind alone moves by its whole action, at every stiffness."""

    def pressure(x: float) -> Value:
        return Value(x, "pressure", GIVEN)

    wind = Action("wind", "wind", "pressure", pressure(1e-3), "wind", True, "x", service=pressure(6e-4))
    line = Action("line", "line load", "line", Value(0.75, "line load", GIVEN), "barrier", True, "x")
    cases = [Plain(action=line, parts=()), Plain(action=wind, parts=()), Plain(action=wind, parts=("both",))]
    shares = _shares(Plain(cases=cases, sets=("soft", "stiff")), [0, 1, 2])  # type: ignore[arg-type]
    assert shares is not None and np.asarray(shares.x) == pytest.approx([1.0, 0.6, 1.0] * 2, rel=1e-12)
    assert _shares(Plain(cases=cases, sets=("soft",)), [0, 2]) is None  # type: ignore[arg-type]


# ---------------------------------------------------------------- the rail


def run(*glass: bool, reach: float = 0.0) -> Line:
    """Places of 1000 mm, 20 mm apart, with glass or without."""
    panels = [Plain(name=f"P{n}", rail="cap", layers=(1,)) if there else None for n, there in enumerate(glass, 1)]
    places = [Place(n, 1020.0 * (n - 1), 1000.0, p, f"place {n}") for n, p in enumerate(panels, 1)]  # type: ignore[arg-type]
    return Line(tuple(places), 20.0, -reach, places[-1].end + reach)


def entry(left: bool, right: bool, *joints: float) -> Plain:
    return Plain(left=Plain(holding=left), right=Plain(holding=right), splices=[Plain(at=mm(x)) for x in joints], openings=(1,))


@pytest.mark.parametrize(("glass", "left", "right", "joints", "hanging"), [
    ((True, False, True), False, False, (), False),  # glass on both sides
    ((False, True, True), False, True, (), True),  # at the free left end
    ((False, True, True), True, False, (), False),  # its left end is held, the right one is far away
    ((True, True, False), True, False, (), True),
    ((True, True, False), False, True, (), False),
    ((True, False, True), True, True, (1500.0,), True),  # a joint in the middle of the opening
    ((True, False, True), True, True, (1010.0,), False),  # a joint in the gap beside the glass that stands
    ((True, False, True), True, True, (2030.0,), False),
    ((True, False, True), True, True, (2500.0,), False),
])  # fmt: skip
def test_where_a_rail_hangs_over_an_opening(
    glass: tuple[bool, ...], left: bool, right: bool, joints: tuple[float, ...], hanging: bool
) -> None:
    """Statics: a rail with a free end or a hinge over the opening is held by cantilevers alone."""
    line = run(*glass)
    (opening,) = line.openings
    rail = entry(left, right, *joints)
    assert hangs(rail, line, opening) is hanging  # type: ignore[arg-type]
    assert [a.kind for a, _ in down(rail, line, True)] == (["down", "held_down"] if hanging else ["down"])
    assert down(rail, line, False) == []


def down(rail: Plain, line: Line, decides: bool) -> list[tuple[object, str]]:
    """What is asked of a rail under one load that presses it down."""
    with pytest.MonkeyPatch.context() as patch:
        loads = [Plain(action=Plain(kind="vertical", required=decides)), Plain(action=Plain(kind="along", required=True))]
        patch.setattr(sys.modules[pressed_down.__module__], "in_plane_actions", lambda _: loads)
        return list(pressed_down(Plain(job=Plain(rail=rail)), line))  # type: ignore[arg-type, return-value]


def test_an_opening_is_beside_the_panels_at_both_of_its_sides(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of four places the second is gone: 1040 mm from glass to glass, right of the first, left of the third, none at the fourth."""
    line = run(True, False, True, True)
    monkeypatch.setattr(sys.modules[beside.__module__], "line_of", lambda _: line)
    job = Plain(rail=entry(True, True))
    found = [beside(job, p.panel) for p in line.standing]  # type: ignore[arg-type]
    assert [[(b.side, b.length, b.hangs) for b in own] for own in found] == [
        [("right", 1040.0, False)], [("left", 1040.0, False)], [],
    ]  # fmt: skip


def test_the_force_across_a_joint_is_the_larger_of_its_two_sides() -> None:
    """A point load at the joint: 200 N before it, 700 N behind it; and the other way round."""
    beam = Plain(nodes=np.array([0.0, 500.0, 1000.0]), lengths=np.array([500.0, 500.0]))
    for before, behind in ((-200.0, 700.0), (700.0, -200.0)):
        forces = np.zeros((2, 4, 1))
        forces[0, 2], forces[1, 0] = before, behind
        assert _shear(Plain(beam=beam, element_forces=forces), 510.0).tolist() == [700.0]  # type: ignore[arg-type]


def test_of_the_cases_of_a_rail_those_that_decide_are_looked_at_where_there_are_any() -> None:
    """A case that informs does not make a check that decides larger; alone it informs."""
    one, other = Plain(id="1"), Plain(id="2")
    cases = [Plain(strength=c, standing=s) for c, s in ((one, INFORMATION), (one, REQUIRED), (other, INFORMATION))]
    found = [(c.id, s, n) for c, s, n in _groups(Plain(cases=cases))]  # type: ignore[arg-type]
    assert found == [("1", REQUIRED, [1]), ("2", INFORMATION, [2])]


def test_a_place_on_the_rail_in_words() -> None:
    """Three places of 1000 mm, the middle one gone, the rail 100 mm longer at either end."""
    line = run(True, False, True, True, reach=100.0)
    told = [where(line, s) for s in (-50.0, 500.0, 1010.0, 1500.0, 2500.0, 3050.0, 4100.0)]
    over = "over the opening"
    assert told == [
        "beyond the glass", "on the glass of place 1", over, over,
        "on the glass of place 3", "between two panels", "beyond the glass",
    ]  # fmt: skip


def combination(factor: float, symbol: str, level: str) -> Plain:
    return Plain(factor=Value(factor, "ratio", GIVEN, symbol), level=level, id="A")


@pytest.mark.parametrize(("meaning", "symbol", "level", "demand"), [
    ("design", "gamma_Q", "ultimate", 1500.0), ("allowable", "gamma_Q", "ultimate", 1000.0),
    ("allowable", "f_Q", "allowable", 600.0), ("design", "f_Q", "allowable", None),
    ("ultimate", "gamma_Q", "ultimate", None), ("characteristic", "gamma_Q", "ultimate", None),
    ("ultimate", "f_Q", "allowable", None), ("characteristic", "f_Q", "allowable", None),
])  # fmt: skip
def test_a_rating_of_the_rail_meets_the_action_at_its_own_level(
    meaning: str, symbol: str, level: str, demand: float | None
) -> None:
    """1000 N: times 1.5 against a design value, as it is against an allowable one, times 0.6 where the basis is allowable."""
    walk = Plain(basis=Plain(strength_level=level))
    of = combination(1.5 if symbol == "gamma_Q" else 0.6, symbol, level)
    bears = rated(walk, newtons(2000.0), (meaning, "supplier"), of, "the end")  # type: ignore[arg-type]
    if demand is None:
        assert isinstance(bears, NotChecked) and bears.lack is Lack.INPUT
    else:
        assert not isinstance(bears, NotChecked) and float(bears.resistance.x) == 2000.0
        assert float(bears.demand(newtons(1000.0)).x) == pytest.approx(demand, rel=1e-12)
    assert float(factored(newtons(1000.0), of).x) == pytest.approx(1500.0 if symbol == "gamma_Q" else 600.0)  # type: ignore[arg-type]


def test_a_rail_pressed_down_by_the_beams_of_any_handbook() -> None:
    """Over 2 m, 1 N/mm and 1000 N: wL2/8 and PL/4 on two supports, wL2/2 and PL as a cantilever."""
    sizes = (Value(1.0, "line load", GIVEN), newtons(1000.0))
    found = [float(moment_down(Plain(size=s), mm(2000.0), h).x) for s in sizes for h in (False, True)]  # type: ignore[arg-type]
    assert found == pytest.approx([0.5e6, 2e6, 0.5e6, 2e6], rel=1e-12)


def test_loads_of_the_top_edge_stand_on_the_whole_rail_and_where_it_is_weakest() -> None:
    """A line load over 3240 mm of rail and over the opening of 1040 alone; a point load at ends, corners, middles, mounts."""
    line = run(True, False, True, reach=100.0)
    walk = Plain(job=Plain(mounts_of=lambda _: [Plain(name="M", x=mm(200.0))]))
    case = Plain(strength=None, service=None, standing=REQUIRED)

    def loads(kind: str, size: Value) -> list[object]:
        case.action = Action(kind, kind, kind, size, "barrier", True, "x")  # type: ignore[arg-type]
        return [c.load for c in _on_rail(walk, line, case)]  # type: ignore[arg-type]

    lines = [q for load in loads("line", Value(0.75, "line load", GIVEN)) for q in load.lines]  # type: ignore[attr-defined]
    assert lines == [(0.75, -100.0, 3140.0), (0.75, 1000.0, 2040.0)]
    points = [p for load in loads("point", newtons(600.0)) for p in load.points]  # type: ignore[attr-defined]
    assert {P for P, _ in points} == {600.0}
    assert sorted(s for _, s in points) == [-100.0, 0.0, 200.0, 500.0, 1000.0, 1520.0, 2040.0, 2240.0, 2540.0, 3040.0, 3140.0]


def test_a_panel_without_its_rail_is_looked_at_once_under_every_case_of_its_own() -> None:
    """The same panel at two places: its two cases once each, on the first of them."""
    panel = Plain(name="P")
    places = [Place(n, 1020.0 * (n - 1), 1000.0, panel, f"place {n}") for n in (1, 2)]  # type: ignore[arg-type]
    garden = [c for c in result_of("garden_deck").handed_on.panels[0].cases][:2]
    cases = [c.__class__(**{**{f: getattr(c, f) for f in c.__dataclass_fields__}, "panel": panel}) for c in garden]
    found = without_rail(Line(tuple(places), 20.0, 0.0, 2020.0), cases)  # type: ignore[arg-type]
    assert [made.only for _, made in found] == [1, 1] and [made.load.glass for _, made in found] == [((0, c.load),) for c in cases]


@pytest.mark.parametrize(("layers", "standing"), [((1, 2), REQUIRED), ((2, 1), REQUIRED), ((2, 2), INFORMATION)])
def test_a_rail_decides_where_one_panel_under_it_is_a_single_layer(layers: tuple[int, ...], standing: Standing) -> None:
    """A single layer is gone when it breaks, whatever stands beside it."""
    panels = tuple(Plain(rail="cap", layers=(None,) * n) for n in layers)
    assert standing_of(Plain(job=Plain(panels=panels))) is standing  # type: ignore[arg-type]


# ---------------------------------------------------------------- what is asked, rules


@pytest.mark.parametrize(("fixings", "ways"), [
    ((None, None), {"uplift", "down"}),  # nobody knows: both
    (((0, "none"), (0, "none")), set()),
    (((200.0, "hanger"), (200.0, "hanger")), {"uplift"}),  # both sit in shoes
    (((200.0, "hanger"), (100.0, "hanger")), {"uplift", "down"}),  # one is held half-way up
    (((200.0, "hanger"), None), {"uplift", "down"}),
    (((190.0, "hanger"), (0, "none")), {"uplift"}),
])  # fmt: skip
def test_wood_may_split_at_every_end_that_is_pulled_at(fixings: Sequence[tuple[float, str] | None], ways: set[str]) -> None:
    """A piece 190 mm deep whose fixing reaches under it is pressed into it and not pulled at; one end is enough to ask."""
    ends = [None if f is None else Plain(lowest=mm(f[0]), fixing=f[1]) for f in fixings]
    assert {a.about.way for a in _split_at_ends(Plain(name="M"), ends, mm(190.0))} == ways  # type: ignore[arg-type]


@pytest.mark.parametrize(("treated", "screws", "outdoors", "wet", "said"), [
    (None, ("stainless",), False, "1", ["not known: treatment"]),
    (True, ("stainless", "coated"), False, "1", ["Plain or coated"]),
    (True, ("plain", None), False, "1", ["Plain or coated", "made of is not known"]),
    (False, ("plain",), False, "1", []),
    (True, ("stainless",), True, "2", ["wet timber is class 3"]),
    (True, ("stainless",), True, "3", []),
])  # fmt: skip
def test_what_is_said_of_screws_in_treated_and_in_wet_timber(
    treated: bool | None, screws: Sequence[str | None], outdoors: bool, wet: str, said: list[str]
) -> None:
    """Common practice, no source: one such screw is enough."""
    site = Plain(treated_timber=treated, outdoors=outdoors, service_class=int(wet))
    mounts = [Plain(screw=Plain(material=m)) for m in screws]
    found = list(_durability(Plain(job=Plain(site=site, mounts=mounts), basis=Plain(rule=lambda _: None))))  # type: ignore[arg-type]
    assert len(found) == len(said) and all(word in f.text for f, word in zip(found, said, strict=True))
    assert all(f.loud for f in found if "made of" not in f.text)


@pytest.mark.parametrize(("fall", "layers", "rail", "said"), [
    (5000.0, 1, "none", {"a single layer over a drop", "no rail"}), (5001.0, 2, "cap", set()),
    (1000.0, 1, "none", {"no rail"}), (999.0, 1, "none", set()), (3000.0, 1, "cap", set()), (3001.0, 1, "cap", {"a single layer"}),
    (None, 1, "none", {"a single layer and the drop is not given", "no rail and the drop is not given"}), (None, 2, "cap", set()),
])  # fmt: skip
def test_a_drop_that_nobody_gives_may_be_any(fall: float | None, layers: int, rail: str, said: set[str]) -> None:
    """A single layer up to 3 m, a handrail from 1 m on: by the words of such rules, with heights of this test's own."""
    rules = {"single_layer_to": (mm(3000.0), "words", "code"), "handrail_from": (mm(1000.0), "words", "code")}
    walk = Plain(
        job=Plain(site=Plain(use="home", fall_height=None if fall is None else mm(fall))), basis=Plain(rule=rules.get),
    )  # fmt: skip
    panel = Plain(name="P", layers=(None,) * layers, rail=rail)
    texts = [f.text for f in by_drop(walk, panel) if f.loud]  # type: ignore[arg-type]
    assert len(texts) == len(said) and all(any(word in t for t in texts) for word in said)


def test_every_mount_with_a_guessed_liner_is_named() -> None:
    """One pad of several is enough."""

    def mount(name: str, *assumed: bool) -> Plain:
        origins = [JobEntry("x", "x", assumed="by this tool") if a else GIVEN for a in assumed]
        return Plain(name=name, pads=[Plain(stiffness_low=Value(1.0, "bed stiffness", o)) for o in origins])

    mounts = [mount("A", False, True), mount("B", False, False), mount("C", True, True)]
    walk = Plain(job=Plain(mounts_of=lambda _: mounts))
    assert _guessed_liners(walk, Plain()) == "mounts A, C"  # type: ignore[arg-type]


# ---------------------------------------------------------------- wind, setting out, rating


@pytest.mark.parametrize(("town", "sheltered"), [("country", False), ("over 2 km in", True)])
def test_only_a_place_far_in_a_town_is_sheltered_by_it(town: str, sheltered: bool) -> None:
    """By the word of the entry: what stands in the country has no town around it."""
    job = job_named("garden_deck").with_({
        "wind": {"map_speed": "22 m/s", "altitude": "60 m", "distance_to_sea": "30 km", "hill": "no", "town": town}
    })  # fmt: skip
    site = site_of(Plain(job=job, tables=Tables()), job.panels[0])  # type: ignore[arg-type]
    assert (site.into_town is not None) is sheltered


def test_wind_of_one_strip_is_that_of_the_strip_for_glass_and_for_movement() -> None:
    """1000 and 600 Pa on all of a panel; over 300 mm of 1000 at twice that, 1300 and 780 Pa on the mean."""

    def strip(x0: float, x1: float, times: float) -> Plain:
        ultimate, service = (Value(times * x, "pressure", GIVEN) for x in (1e-3, 6e-4))
        return Plain(zone="zone", x0=x0, x1=x1, pressure=ultimate, service=service)

    walk = Plain(basis=Plain(wind_level="ultimate"))
    for strips, more in (((strip(0.0, 1000.0, 1.0),), 1.0), ((strip(0.0, 300.0, 2.0), strip(300.0, 1000.0, 1.0)), 1.3)):
        wind = _of_strips(walk, Plain(strips=strips, source="x"))  # type: ignore[arg-type]
        assert wind.service is not None and wind.required and wind.level == "ultimate"
        assert (float(wind.size.x), float(wind.service.x)) == pytest.approx((more * 1e-3, more * 6e-4), rel=1e-12)


@pytest.mark.parametrize(("plates", "said"), [((100.0, 100.0), 0), ((100.0, 60.0), 1), ((60.0, 100.0), 1), ((60.0, 60.0), 2)])
def test_glass_sticks_out_from_the_edge_of_its_own_mount(plates: tuple[float, float], said: int) -> None:
    """Mounts 340 mm from either end, usual 150: a plate of 100 leaves 290 mm, one of 60 leaves 310, more than twice the usual."""
    mounts = tuple(Plain(name=n, x=mm(x), plate=Plain(along=mm(p))) for n, x, p in zip("AB", (340.0, 1160.0), plates, strict=True))
    found = list(_overhang(Plain(name="P", width=mm(1500.0)), mounts, mm(150.0)))  # type: ignore[arg-type]
    assert len(found) == said and all(f.loud for f in found)


@pytest.mark.parametrize(("height", "standing", "differs"), [
    (950.0, REQUIRED, False), (1000.0, REQUIRED, True), (1000.0, INFORMATION, False),
])  # fmt: skip
def test_a_rating_was_tested_as_high_above_the_deck_as_any_load_that_decides(
    height: float, standing: Standing, differs: bool
) -> None:
    """Tested at 1000 mm, the glass 50 mm above the deck: the load may stand 950 mm above the edge of the glass, wind too."""
    layers = [Plain(nominal=mm(12.0), glass="toughened")]
    case = Plain(standing=standing, height=mm(height), title="wind", parts=(), action=Plain(nature="wind"))
    panel = Plain(cases=[case], panel=Plain(bottom_gap=mm(50.0), layers=layers))
    screw = Plain(diameter=mm(10.0), length=mm(100.0))
    mount = Plain(drilled=False, screw=screw, screws=[Plain(present=True)] * 4)
    given = Plain(substrate="timber", height=mm(1000.0), glass="12 mm toughened", screws="4 x 10 x 100")
    found = list(_differs(panel, Plain(mount=mount), given))  # type: ignore[arg-type]
    assert len(found) == int(differs)
    mount.screws[0] = Plain(present=False)
    assert len(list(_differs(panel, Plain(mount=mount), given))) == 1 + int(differs)  # type: ignore[arg-type]
    layers.append(Plain(nominal=mm(12.0), glass="annealed"))
    given.glass = "12 + 12 toughened"
    assert any("layer of annealed" in d for d in _differs(panel, Plain(mount=mount), given))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("meaning", "resistance"), [("allowable", 2000.0), ("characteristic", 1250.0), ("ultimate", None), (None, None)]
)
def test_a_slip_value_is_taken_for_what_its_supplier_says_it_is(meaning: str | None, resistance: float | None) -> None:
    """2000 N: an allowable value as it is, a characteristic one by the basis (here over 1.6), a breaking load is none."""
    basis = Plain(mount_rating=lambda value, *_: Value(value.x / 1.6, "force", GIVEN, "R_d"))
    walk = Plain(basis=basis, timber=lambda _: None)
    rating = Plain(slip_up=newtons(2000.0), slip_along=None, meaning=meaning)
    load = Plain(standing=REQUIRED, combination=Plain(id="A"))
    share = Plain(model=Plain(mount=Plain(rating=rating), wood=None), load=load, labels=("x",),
                  down=newtons(-900.0), weight=newtons(300.0), push=newtons(-700.0))  # fmt: skip
    check = _slip_check(walk, Plain(panel=Plain(name="P")), "slip_up", share)  # type: ignore[arg-type]
    assert check.standing is REQUIRED
    assert (None if check.resistance is None else float(check.resistance.x)) == resistance
    assert check.utilisation is None if resistance is None else check.eta == pytest.approx(600.0 / resistance)
    along = _slip_check(walk, Plain(panel=Plain(name="P")), "slip_along", share)  # type: ignore[arg-type]
    assert along.ending is Ending.NOT_CHECKED and along.demand is not None and along.demand.at(0) == 700.0


# ---------------------------------------------------------------- more of the rail


def test_the_grip_pushes_and_pulls_and_is_averaged_over_no_less_than_its_length() -> None:
    """The rail pushes 1 N/mm and pulls 3; times 1.5. Of waves of 50 and 500 mm the lengths are 100 and 250 mm."""
    asked: list[float] = []

    def mean(length: float) -> tuple[np.ndarray, np.ndarray]:
        asked.append(length)
        return np.array([1.0]), np.array([-3.0])

    solutions = [Plain(rail=Plain(wave=w), panels=[Plain(mean_connection=mean)]) for w in (50.0, 500.0)]
    line = Plain(standing=[Plain(number=1, name="P")])
    found = Plain(
        sets=[Plain(words="s")] * 2, solutions=solutions, line=line, cases=[Plain(title="t", id="i")],
        numerical=lambda what, x, kind, symbol, labels: Value(x, kind, GIVEN, symbol),
    )  # fmt: skip
    rail = Plain(grip=None, grip_meaning=None, grip_reference=None)
    group = _Group(Plain(job=Plain(rail=rail)), found, combination(1.5, "gamma_Q", "ultimate"), REQUIRED, [0])  # type: ignore[arg-type]
    check = group._grip()
    assert check.demand is not None and np.asarray(check.demand.x).tolist() == [1.5, 4.5] * 2
    assert check.demand.at(check.station) == 4.5 and asked == [100.0, 250.0]


def test_a_rail_on_posts_is_the_same_from_both_ends_only_where_the_posts_are() -> None:
    """All that an end is solved with must be alike before one half of the run stands for both."""

    def end(fixing: str = "post", joined: bool | None = None, reach: float = 0.0, k: float | None = 100.0) -> Plain:
        return Plain(fixing=fixing, joined=joined, reach=mm(reach), stiffness=None if k is None else Value(k, "stiffness", GIVEN))

    assert _alike(end(), end())  # type: ignore[arg-type]
    for other in (end("bracket"), end(joined=True), end(reach=50.0), end(k=5.0), end(k=None)):
        assert not _alike(end(), other)  # type: ignore[arg-type]


@pytest.mark.parametrize(("glass", "joints", "left", "right", "falls"), [
    ((True, False, True), (1010.0, 2030.0), False, False, False),  # hinged to two pieces that stand on glass
    ((False, True), (1010.0,), True, False, False),  # hinged to such a piece, held at its end
    ((False, True), (1010.0,), False, True, True),  # hinged on one side, free on the other: a mechanism
    ((True, False), (1010.0,), False, True, False), ((True, False), (1010.0,), True, False, True),
    ((True, False, True), (1200.0, 1800.0), False, False, False),
    ((True, False, False, True), (1100.0, 1900.0, 2900.0), True, True, True),  # two pieces in a row with nothing of their own
])  # fmt: skip
def test_a_piece_of_rail_over_an_opening_falls_where_it_is_a_mechanism(
    glass: tuple[bool, ...], joints: tuple[float, ...], left: bool, right: bool, falls: bool
) -> None:
    """Statics: a piece with no glass needs something that is itself held at both of its ends."""
    assert run(*glass).falls(joints, left, right) is falls


# ---------------------------------------------------------------- more rules


def rules_walk(rules: dict[str, tuple[Value | None, str, str]], **job: object) -> Plain:
    return Plain(job=Plain(**job), basis=Plain(rule=rules.get))


def test_the_height_is_held_against_the_rule_of_this_use_and_drop() -> None:
    """A general 900 mm, 1100 in an office: 1000 mm is enough at home and too low in the office."""
    rules = {"height_edge": (mm(900.0), "general", "code"), "height_edge office": (mm(1100.0), "office", "code")}
    for use, low in (("home", False), ("office", True)):
        site = Plain(use=use, barrier_height=mm(1000.0), fall_height=mm(2000.0), below="garden", pool=False)
        first = next(iter(_heights(rules_walk(rules, site=site))))  # type: ignore[arg-type]
        assert first.loud is low and ("lower than the rule asks" in first.text) is low


@pytest.mark.parametrize(("gap", "loud"), [(100.0, False), (101.0, True)])
def test_a_gap_below_the_glass_that_is_larger_than_the_rule_is_loud(gap: float, loud: bool) -> None:
    """A sphere of 100 mm: one millimetre more lets it through."""
    walk = rules_walk({"opening": (mm(100.0), "sphere", "code")}, site=Plain(use="home"))
    assert any(f.loud for f in _openings(walk, Plain(name="P", bottom_gap=mm(gap)))) is loud  # type: ignore[arg-type]


def test_one_layer_that_is_too_thin_or_annealed_is_one_too_many() -> None:
    """Least 6 mm, heat-treated: 8 mm toughened beside 5 mm annealed, in either order; alike and thick enough nothing is loud."""
    rules = {"thickness": (mm(6.0), "least", "code"), "heat_treated": (None, "no annealed", "code")}
    good, bad = Plain(nominal=mm(8.0), glass="toughened"), Plain(nominal=mm(5.0), glass="annealed")
    for layers, loud in (
        ((good, bad), 2),
        ((bad, good), 2),
        ((good, good), 0),
        ((good, Plain(nominal=None, glass="toughened")), 1),
    ):
        panel = Plain(name="P", layers=layers, rail="none")
        assert sum(f.loud for f in _glass_rules(rules_walk(rules, site=Plain(use="home")), panel)) == loud  # type: ignore[arg-type]
    odd = Plain(name="P", layers=(good, Plain(nominal=None, glass="toughened")), rail="none")
    found = next(iter(_glass_rules(rules_walk(rules, site=Plain(use="home")), odd)))  # type: ignore[arg-type]
    assert "nobody knows: not checked" in found.text and "not thinner" not in found.text


@pytest.mark.parametrize(("limit", "loud"), [(25.0, False), (25.1, True), (None, True)])
def test_a_limit_of_movement_larger_than_that_of_the_rule_is_loud(limit: float | None, loud: bool) -> None:
    """A rule of 25 mm."""
    limits = Plain(top_movement=None if limit is None else mm(limit))
    walk = rules_walk({"movement": (mm(25.0), "rule", "code")}, site=Plain(use="home"), limits=limits, panels=())
    (found,) = movement_rules(walk)  # type: ignore[arg-type]
    assert found.loud is loud


# ---------------------------------------------------------------- what is not known stays not checked


@pytest.mark.parametrize("unknown", [None, 0, 1])
def test_a_layer_of_unknown_strength_leaves_the_glass_not_checked(unknown: int | None, monkeypatch: pytest.MonkeyPatch) -> None:
    """20 MPa on 60, 30 MPa on 40, each times 1.5: 0.5 and 1.125; with one strength unknown nothing is said of the whole."""
    raw = Value(np.array([20.0, 30.0]), "stress", GIVEN, "sigma_Ek")
    monkeypatch.setattr(sys.modules[_glass_check.__module__], "_stress", lambda *_: (raw, ["front", "back"], [0, 0], [0, 1]))
    strengths: list[Value | NotChecked] = [Value(x, "stress", GIVEN, "f_gd") for x in (60.0, 40.0)]
    if unknown is not None:
        strengths[unknown] = NotChecked(Lack.BASIS, "its strength")
    of = Combination("A", "ultimate", Value(1.5, "ratio", GIVEN, "gamma_Q"), "short-term", "short", "x", natures=("barrier",))
    solved = Plain(panel=Plain(name="P"), cases=[Plain(id="P/line", strength=of)])
    walk = Plain(job=Plain(panels=(1,)))
    for standing in (REQUIRED, INFORMATION):
        check = _glass_check(walk, solved, "face", standing, [0], strengths)  # type: ignore[arg-type]
        assert check.standing is standing and check.about.informs is (standing is INFORMATION)
        if unknown is None:
            assert check.eta == pytest.approx(45.0 / 40.0, rel=1e-12) and check.ending is Ending.EXCEEDS
        else:
            assert check.ending is Ending.NOT_CHECKED and check.demand is not None and check.demand.at(check.station) == 45.0


@pytest.mark.parametrize(("end", "asked"), [
    (None, True), (Plain(fixing=None, joined=None, holding=False), True), (Plain(fixing="free", joined=None, holding=False), False),
    (Plain(fixing="bracket", joined=None, holding=True), True), (Plain(fixing="corner", joined=None, holding=False), True),
    (Plain(fixing="corner", joined=False, holding=False), False),
])  # fmt: skip
def test_an_end_of_the_rail_is_asked_for_unless_it_is_known_to_be_free(end: Plain | None, asked: bool) -> None:
    """What nobody said of an end is not said to be free; at either side."""
    for side, other in (("left", "right"), ("right", "left")):
        rail = Plain(splices=[1, 2], between=None, panels=2, line=(), modulus=None, shape=None, inertia=None, continuous=None,
                     **{side: end, other: Plain(fixing="free", joined=None, holding=False)})  # fmt: skip
        walk = Plain(job=Plain(rail=rail, panels=(Plain(rail="cap", layers=(1,)),)))
        kinds = [a.about.kind for a in rail_asked(walk)]  # type: ignore[arg-type]
        assert kinds == ["bending", "splice", "splice", *([side] if asked else []), "grip"]


@pytest.mark.parametrize(("fixing", "holding", "k", "stiffness"), [
    ("free", False, None, 0.0), ("corner", False, None, 0.0), ("corner", True, None, math.inf), ("bracket", True, None, math.inf),
    ("bracket", True, 40.0, math.inf), ("post", True, 40.0, 40.0),
])  # fmt: skip
def test_what_holds_an_end_is_as_stiff_as_it_is_said(fixing: str, holding: bool, k: float | None, stiffness: float) -> None:
    """A post gives way by its own stiffness, nothing else does; a free end holds nothing."""
    own = None if k is None else Value(k, "stiffness", GIVEN)
    assert stiffness_of(Plain(fixing=fixing, holding=holding, stiffness=own)) == stiffness  # type: ignore[arg-type]


def test_a_joint_next_to_an_edge_of_the_glass_is_at_it() -> None:
    """Nearer than 5 mm (a convention of this project) to 1000 and to 1020 mm; one on the glass or in the gap stays where it is."""
    rail = entry(True, True, 996.0, 1002.0, 1024.0, 994.0, 1010.0, 500.0)
    assert joints_of(rail, run(True, True)) == (1000.0, 1000.0, 1020.0, 994.0, 1010.0, 500.0)  # type: ignore[arg-type]


@pytest.mark.parametrize(("rail", "decides"), [(None, True), (Plain(openings=()), True), (Plain(openings=(1,)), False)])
def test_movement_decides_but_with_a_panel_gone(rail: Plain | None, decides: bool) -> None:
    """A panel lost from under a rail is no state of use."""
    assert limited(Plain(job=Plain(rail=rail))) is decides  # type: ignore[arg-type]


def test_what_no_case_loads_informs_and_what_could_not_be_made_is_required() -> None:
    """An entry that is missing never turns a check that is asked for into information."""
    wanted = Asked(About("bearing", "mean", mount="M"), "mean bearing", Plain(name="M"))  # type: ignore[arg-type]
    module = sys.modules[_unmade.__module__]
    for why, standing in ((LET_GO, REQUIRED), (NotChecked(Lack.INPUT, "x"), REQUIRED), (UNLOADED, INFORMATION)):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(module, "_why", lambda *_, why=why: why)
            check = _unmade(None, {}, wanted)  # type: ignore[arg-type]
        assert check.standing is standing and check.ending is Ending.NOT_CHECKED and check.why is why
