"""Wrong lines written on purpose into mounts, the ground under them and the walk, and noticed by no test: each by a hand sum.

What would do harm and be seen by nobody: a factor left out of one effect, one direction, one screw, one combination.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from types import SimpleNamespace

import numpy as np
import pytest
from conftest import job_named, result_of, sound

from barrier.equation import Equation, Symbol, symbols
from barrier.links.ground.geometry import LEVER, THREAD, TOP_OF_BLOCKING, TOP_OF_BOARD, InPlaneLoad, mount_model
from barrier.links.memo import Memo
from barrier.links.mount import in_plane_forces
from barrier.links.mount.base_plate import leading
from barrier.links.mount.sideways import GAP
from barrier.load_path import Walked, check
from barrier.mechanics import contact
from barrier.result import About, Check, Combination, Ending, Lack, LinkResult, NotChecked, Situation, Standing, compare, informing
from barrier.tables import Tables
from barrier.value import JobEntry, Value, walk

GIVEN = JobEntry("x", "x")
EXACT = 1e-12  # relative; a few operations on doubles
STATICS = 1e-8  # relative; as the contact model closes
ACROSS: dict[str, object] = {"blocking.B1.direction": "across", "joists.direction": "along", "mounts.M1.in_bay": "150 mm"}
KINDS = ("edge", "end", "a1", "a2")


def of(equation: Equation, **numbers: float) -> float:
    """An equation of plain numbers in base units, each of the kind its symbol has."""
    return float(equation(**{n: Value(x, equation.by_name[n].kind, GIVEN) for n, x in numbers.items()}).x)


def found(result: Walked, id: str) -> Check:
    return next(c for c in result.checks if c.id == id)


def demand(result: Walked, id: str) -> float:
    c = found(result, id)
    assert c.demand is not None
    return float(c.demand.at(c.station))


def resistance(result: Walked, id: str) -> float:
    c = found(result, id)
    assert c.resistance is not None
    return float(c.resistance.at(c.station))


@pytest.mark.parametrize(
    ("name", "factors"),
    [
        ("garden_deck", {("barrier",): 1.5, ("wind",): 1.5}),  # EN 1990:2002 Table A1.2(B), 6.10
        ("australian_deck", {("barrier",): 1.5, ("wind",): 1.0}),  # AS/NZS 1170.0:2002 4.2.2(b), (d); from memory
        ("us_deck", {("barrier",): 1.0, ("wind",): 0.6}),  # ASCE 7-16 2.4.1; from memory
    ],
)
def test_moment_push_and_twist_of_a_mount_have_the_factor_of_their_combination_alike(
    name: str, factors: dict[tuple[str, ...], float]
) -> None:
    for handed in result_of(name).handed_on.mounts:
        if handed.combination.natures not in factors:
            continue
        s, f = handed.service, factors[handed.combination.natures]
        for effect, before in ((handed.M_Ed, s.M), (handed.F_Ed, s.F), (handed.M_z, s.M_z)):
            assert np.asarray(effect.x) == pytest.approx(f * np.asarray(before.x), rel=EXACT)
        assert np.asarray(handed.M_z.x).max() > 1e-3 * np.asarray(handed.M_Ed.x).max()  # there is a twist


def test_a_combination_that_informs_is_shown_before_none_that_decides() -> None:
    """Barrier load and wind at once have the largest moment, and EN 1990 leaves it to the reader whether they count."""
    mounts = result_of("garden_deck").handed_on.mounts
    largest = max(mounts, key=lambda m: m.M_worst.at(0))
    assert largest.standing is Standing.INFORMATION
    for shown in leading(mounts):
        same = [m.M_worst.at(0) for m in mounts if m.model is shown.model and m.standing is Standing.REQUIRED]
        assert shown.standing is Standing.REQUIRED and shown.M_worst.at(0) == max(same)


def test_a_mount_beside_the_middle_of_its_blocking_is_as_strong_and_as_stiff_on_either_side() -> None:
    """40 mm to the one side or to the other, everything else alike fore and aft: one is the mirror of the other."""
    job = job_named("garden_deck").with_({"situations": None, "wind": None, "site.outdoors": False})
    front, back = (sound(job.with_({"mounts.M1.offset": f"{way}40 mm"})) for way in ("", "-"))
    middle = resistance(front, "base_plate.bed.M2")
    for id in ("base_plate.bed.M1", "screws.withdrawal.M1"):
        assert resistance(front, id) == pytest.approx(resistance(back, id), rel=1e-6)
    assert resistance(front, "base_plate.bed.M1") < 0.95 * middle
    turned = [demand(r, "base_plate.rotation.M1") for r in (front, back)]
    assert turned[0] == pytest.approx(turned[1], rel=1e-6) and turned[0] > 1.05 * demand(front, "base_plate.rotation.M2")


@pytest.mark.parametrize("limit", ["0.03 rad", "0.011 rad"])
def test_the_limit_of_rotation_that_the_job_argues_for_is_the_one_compared_with(limit: str) -> None:
    result = sound(job_named("garden_deck").with_({"limits.mount_rotation": limit}))
    assert resistance(result, "base_plate.rotation.M1") == float(limit.split()[0])


@pytest.mark.parametrize("name", ["everyday_deck", "boards_only", "us_deck"])
@pytest.mark.parametrize("unknown", ["decking.direction", "decking.material"])
def test_what_is_unknown_may_be_as_it_was_so_nothing_is_within_by_less(name: str, unknown: str) -> None:
    """Without a strength the bed is elastic and pulls the screws less than one that yields: no answer, and so not checked.

    With the strength of its boards known the steel of the everyday deck's screws is at 0.94, and on an elastic bed at 0.68.
    """
    changes = (
        {f"decking.material.{key}": "unknown" for key in ("en", "us", "au")}
        if unknown.endswith("material")
        else {unknown: "unknown"}
    )
    known = {c.id: c for c in result_of(name).sound.checks}
    result = sound(job_named(name).with_(changes))
    within = [c for c in result.checks if c.ending is Ending.WITHIN and c.standing is Standing.REQUIRED]
    for c in within:
        before = known[c.id]
        assert before.ending is Ending.WITHIN and (c.eta or 0.0) >= (before.eta or 0.0) * (1 - 1e-6), c.id
    assert within or name == "boards_only"  # elsewhere the glass asks nothing of the boards
    bed = found(result, "base_plate.bed.M1")
    for id in ("base_plate.rotation.M1", "base_plate.plate.M1", "screws.steel.M1"):
        c = found(result, id)
        assert c.ending is Ending.NOT_CHECKED and c.lack is bed.lack, id


def bearing_by_hand(result: Walked, name: str, M: float, N: float) -> list[tuple[float, float]]:
    """What bears under a mount, N, and on how much wood, mm2: without weight and with it, over direction and stiffness."""
    model = next(m.model for m in result.handed_on.mounts if m.model.name == name)
    solved = [
        contact.solve(model.bed(bed), model.contact_screws(end, model.at_ultimate), weight, way * M, 0.0)
        for weight in (0.0, N)
        for way in (-1.0, 1.0)
        for bed in ("soft", "stiff")
        for end in ("soft", "stiff")
    ]
    return [(sum(s.zone_force.values()), s.area) for s in solved]


def part(c: Check, symbol: str) -> Value:
    """What a demand was made of."""
    assert c.demand is not None
    return next(v for v in walk(c.demand) if v.symbol == symbol)


def test_mean_bearing_is_what_bears_over_where_it_bears() -> None:
    """0.74 kN/m x 0.5 m at 1.1 m, times 1.5; 25 kN/m3 x 1.0 x 1.04 m x 19 mm on two mounts, times 1.35 (EN 1990, 6.10).

    What the bed pushes, zone by zone, and not what screws and weight add up to; beneath the decking the same over its own area.
    """
    result = result_of("garden_deck").sound
    M, N = 1.5 * 0.74 * 500.0 * 1100.0, 1.35 * 25e-6 * 1000 * 1040 * 19 / 2
    by_hand = bearing_by_hand(result, "M1", M, N)
    mean, below = found(result, "bearing.mean.M1"), found(result, "bearing.below.M1")
    assert mean.demand is not None and below.demand is not None
    assert np.asarray(mean.demand.x) == pytest.approx([C / A for C, A in by_hand], rel=1e-6)
    assert np.asarray(below.demand.x) * np.asarray(part(below, "A_2").x) == pytest.approx([C for C, _ in by_hand], rel=1e-6)
    heavier = [with_it[0] > without[0] for without, with_it in zip(by_hand[:8], by_hand[8:], strict=True)]
    assert all(heavier)


@pytest.mark.parametrize(
    ("name", "timber", "ids"),
    [("garden_deck", "en", ("bearing.mean",)), ("us_deck", "us", ("bearing.mean", "bearing.peak"))],
)
def test_what_lies_on_the_decking_is_compared_with_the_decking(name: str, timber: str, ids: tuple[str, ...]) -> None:
    """Blocking of another wood under the same boards: the boards are worth what they were, and the blocking is not."""
    other = {"en": "D40", "us": "Red Oak"}[timber]
    job = job_named(name).with_({"situations": None})
    changed = sound(job.with_({f"blocking.{b}.material.{timber}": other for b in job.blocking}))
    for id in ids:
        assert resistance(changed, f"{id}.M1") == pytest.approx(resistance(result_of(name).sound, f"{id}.M1"), rel=EXACT)
    assert resistance(changed, "bearing.below.M1") > 1.05 * resistance(result_of(name).sound, "bearing.below.M1")


def test_indentation_at_service_is_compared_with_the_characteristic_strength() -> None:
    """C24 2.5 MPa (EN 338:2016 Table 1), 150 mm of plate and 30 mm on either side along the boards (EN 1995-1-1 6.1.5(1))."""
    for name in ("M1", "M2"):
        assert resistance(result_of("garden_deck").sound, f"bearing.flag.{name}") == pytest.approx(2.5 * 210 / 150, rel=EXACT)


ONE_ROW = {f"mounts.M1.screws.{s}.present": False for s in ("S3", "S4")}
IN_THE_JOINT = {"mounts.M1.screws.S1.y": "0 mm"}  # of the two pieces: it holds in neither


def test_a_mount_that_lets_go_one_way_is_not_looked_at_the_other_way_alone() -> None:
    """One row of screws left: pushed one way it holds, and the other way the bed behind them is used up."""
    result = sound(job_named("garden_deck").with_({"situations": None, **ONE_ROW}))
    solved = next(m for m in result.handed_on.mounts if m.model.name == "M1").with_weight
    assert {s.contact.equilibrium for s in solved} == {True, False}
    for id in ("base_plate.rotation", "base_plate.plate", "screws.steel"):
        c = found(result, f"{id}.M1")
        assert c.ending is Ending.EXCEEDS and c.utilisation is None and "no equilibrium" in c.reason, id


def test_a_screw_in_no_timber_takes_no_share_of_what_pushes_sideways() -> None:
    """Three screws at (55, -60), (-55, 60), (55, 60): their middle at (18.3, 20), the farthest 83.9 mm from it, by hand.

    Along: half of 1.5 x 0.5 kN on each mount, a third of it on a screw. Across: a third of the push, and the twist by r/sum of r2.
    """
    result = sound(job_named("garden_deck").with_({"situations": None, **IN_THE_JOINT}))
    handed = next(m for m in result.handed_on.mounts if m.model.name == "M1" and m.combination.natures == ("barrier",))
    share = next(s for s in result.handed_on.shares if s.model.name == "M1")
    assert demand(result, "in_plane.sideways.M1") == pytest.approx(1.5 * float(share.load.action.size.x) / 2 / 3, rel=EXACT)
    x, y = np.array([55.0, -55.0, 55.0]), np.array([-60.0, 60.0, 60.0])
    r = np.hypot(x - x.mean(), y - y.mean())
    F, M_z = (np.asarray(v.x)[handed.counted] for v in (handed.service.F, handed.service.M_z))
    by_hand = 1.5 * (np.abs(F) / 3 + M_z * r.max() / (r**2).sum())
    c = found(result, "screws.sideways.M1")
    assert c.combination == handed.combination.id and demand(result, c.id) == pytest.approx(by_hand.max(), rel=1e-9)


def test_a_sum_of_squares_is_ranked_by_its_root_wherever_it_stands() -> None:
    """EN 1995-1-1:2004 (8.28): eta_ax^2 + eta_v^2; beside other utilisations stands its root."""
    result = result_of("garden_deck").sound
    for ax, v, both in (
        ("screws.withdrawal.M1", "screws.sideways.M1", "screws.combined.M1"),
        ("in_plane.along.M1", "in_plane.sideways.M1", "in_plane.combined.M1"),
    ):
        c = found(result, both)
        assert c.rank is not None and c.rank <= np.hypot(found(result, ax).eta or 0.0, found(result, v).eta or 0.0) * (1 + EXACT)
        assert c.rank >= max(found(result, ax).eta or 0.0, found(result, v).eta or 0.0)


@pytest.mark.parametrize(("name", "loud"), [("us_deck", True), ("garden_deck", False)])
def test_where_a_load_decides_in_any_direction_what_is_not_calculated_is_said_loud(name: str, loud: bool) -> None:
    """IBC 1607.9.1: in any direction."""
    said = [f for f in result_of(name).link("in_plane").findings if "Stress in the glass from loads in its own plane" in f.text]
    assert [f.loud for f in said] == [loud]


def test_screws_nobody_can_say_the_strength_of_are_not_worth_nothing() -> None:
    """One screw stands in a joint, of the others the root is not known: that is a figure to be found, and no failure."""
    result = sound(job_named("garden_deck").with_({"situations": None, **IN_THE_JOINT, "mounts.M1.screw.root": "unknown"}))
    for id in ("in_plane.along.M1", "screws.withdrawal.M1"):
        c = found(result, id)
        assert c.ending is Ending.NOT_CHECKED and c.lack is Lack.INPUT, id


def test_of_a_push_along_the_sheet_shows_the_mount_where_it_is_lifted_most() -> None:
    result = result_of("garden_deck")
    shown = [s for s in result.link("in_plane").shown if s.title.startswith("force down on mount")]
    assert shown
    for s in shown:
        assert s.value.at(s.station) == np.asarray(s.value.x).min() < 0.0


def test_what_comes_from_two_openings_and_the_panel_between_them_is_one_force(monkeypatch: pytest.MonkeyPatch) -> None:
    """1 N/mm on 1,000 mm of glass and openings of 400 and 800 mm: 5/8 of each, a fifth of it beyond the edge; moments by hand."""
    openings = [SimpleNamespace(side=side, length=L, hangs=False) for side, L in (("left", 400.0), ("right", 800.0))]
    monkeypatch.setattr(in_plane_forces, "beside", lambda *_: openings)
    panel = job_named("garden_deck").panels[0]
    group = SimpleNamespace(panel=SimpleNamespace(panel=panel), walk=SimpleNamespace(job=None))
    load = SimpleNamespace(action=SimpleNamespace(size=Value(1.0, "line load", GIVEN)))
    places = in_plane_forces._from_openings(group, load, Value(1000.0, "force", GIVEN)).places  # type: ignore[arg-type]
    _, V, x = places[-1]
    assert (V, x) == pytest.approx((1750.0, (1000 * 500 - 250 * 80 + 500 * 1160) / 1750), rel=EXACT)


def test_the_largest_moment_is_not_the_case_of_every_check() -> None:
    """A push low on the edge of the glass turns its mount little and pushes its screws most."""
    result = result_of("garden_deck").sound
    handed = next(m for m in result.handed_on.mounts if m.model.name == "M1" and m.combination.natures == ("barrier",))
    c = found(result, "screws.sideways.M1")
    top = {
        case.id: abs(F) for case, F in sorted(zip(handed.cases, np.asarray(handed.F_Ed.x), strict=True), key=lambda x: abs(x[1]))
    }
    assert c.case != handed.worst_case.id and top[c.case] > 1.2 * top[handed.worst_case.id]


@pytest.mark.parametrize("name", ["garden_deck", "us_deck"])
def test_the_steel_of_the_screws_is_looked_at_both_ways_at_every_corner_with_weight_and_without(name: str) -> None:
    """One by one: two directions, two beds, two kinds of screws, and the glass on it or not; each contact solved here."""
    result = result_of(name).sound
    handed = next(m for m in result.handed_on.mounts if m.model.name == "M1" and m.standing is Standing.REQUIRED)
    every = list(product((0.0, float(handed.weight.x)), (-1.0, 1.0), ("soft", "stiff"), ("soft", "stiff")))
    M, model = handed.M_worst.at(0), handed.model
    assert not isinstance(handed.bed, NotChecked)
    f = float(handed.bed.strength.x)
    by_hand = [contact.solve(model.bed(b, f), model.contact_screws(s, True), N, way * M, 0.0).T.max() for N, way, b, s in every]
    found_there = [float(s.contact.T.max()) for s in handed.with_weight]
    assert found_there == pytest.approx(by_hand, rel=1e-6)
    at_service = [(s.bed, s.screws, s.sign, s.weighs) for s in handed.at_service_with_weight]
    assert len(set(at_service)) == len(at_service) == len(every) == len(found_there)


def test_indentation_at_service_is_under_the_weight_as_it_is() -> None:
    """0.74 kN/m on half a metre at 1.1 m, and 247 N of glass without a factor: the largest pressure, solved here."""
    result = result_of("garden_deck").sound
    model = next(m.model for m in result.handed_on.mounts if m.model.name == "M1")
    by_hand = [
        contact.solve(model.bed(b), model.contact_screws(s, False), N, way * 0.74 * 500 * 1100, 0.0).p_max
        for N, way, b, s in product((0.0, 25e-6 * 1000 * 1040 * 19 / 2), (-1.0, 1.0), ("soft", "stiff"), ("soft", "stiff"))
    ]
    c = found(result, "bearing.flag.M1")
    assert c.demand is not None and np.asarray(c.demand.x) == pytest.approx(by_hand, rel=1e-6)


def test_screws_from_edges_ends_and_one_another_by_hand() -> None:
    """Screws at x = -55 and 55, y = -60 and 60 mm in two pieces of 120 x 405 mm; 5 mm of tolerance off.

    In the bay at 200 mm: 145 and 150 mm to the ends; at 330 mm 20 mm to the right one; at 75 mm 20 mm to the left one. Offset by
    25 mm either way a screw is 35 mm from the face of its piece. Across the glass, at 150 mm: 55 mm to the joint, 90 to the end.
    """
    job = job_named("garden_deck").with_({"situations": None, "wind": None, "site.outdoors": False})
    cases: tuple[tuple[dict[str, object], dict[str, float]], ...] = (
        ({}, {"edge": 60, "end": 145, "a1": 110}),
        ({"mounts.M1.in_bay": "330 mm"}, {"edge": 60, "end": 20, "a1": 110}),
        ({"mounts.M1.in_bay": "75 mm"}, {"edge": 60, "end": 20, "a1": 110}),
        ({"mounts.M1.offset": "25 mm"}, {"edge": 35, "end": 145, "a1": 110}),
        ({"mounts.M1.offset": "-25 mm"}, {"edge": 35, "end": 145, "a1": 110}),
        (ACROSS, {"edge": 55, "end": 90, "a1": 120}),
        ({"blocking.B1.laminated": "factory"}, {"edge": 60, "end": 145, "a1": 110, "a2": 120}),
    )
    for changes, distances in cases:
        result = sound(job.with_(changes))
        provided = {c.about.kind: resistance(result, c.id) for c in result.checks if c.id in {f"screws.{k}.M1" for k in KINDS}}
        assert provided == pytest.approx({k: d - 5.0 for k, d in distances.items()}, rel=EXACT), changes


@pytest.mark.parametrize(
    ("changes", "longer", "layer"),
    [
        ({}, 60.0, "decking"),
        ({"decking.direction": "across"}, 0.0, "decking"),
        (ACROSS, 0.0, "blocking"),
        ({"mounts.M1.in_bay": "90 mm"}, 15.0 + 30.0, "decking"),  # 15 mm of wood left of the plate
        ({"mounts.M1.in_bay": "325 mm"}, 30.0 + 5.0, "decking"),  # 5 mm right of it
        ({"mounts.M1.in_bay": "60 mm"}, 0.0 + 30.0, "decking"),  # the plate is 15 mm too long for its blocking there
    ],
)
def test_bearing_spreads_along_the_grain_where_there_is_wood(changes: dict[str, object], longer: float, layer: str) -> None:
    """EN 1995-1-1:2004+A1 6.1.5(1): 30 mm more on each side along the grain, no more than there is; C24, 0.7 x 2.5/1.3 MPa."""
    handed = sound(job_named("garden_deck").with_({"situations": None, **changes})).handed_on.mounts[0]
    assert handed.model.name == "M1" and not isinstance(handed.bed, NotChecked)
    assert float(handed.bed.strength.x) == pytest.approx(0.7 * 2.5 / 1.3 * (150 + longer) / 150, rel=EXACT)
    assert handed.bed.layer == layer


def test_wood_glued_in_a_factory_has_the_partial_factor_of_such_wood() -> None:
    """EN 1995-1-1:2004 Table 2.3: 1.25 for glued laminated timber, 1.3 for solid timber."""
    loose, glued = (
        sound(job_named("garden_deck").with_({"situations": None, "blocking.B1.laminated": laid})) for laid in ("loose", "factory")
    )
    ratio = resistance(glued, "bearing.below.M1") / resistance(loose, "bearing.below.M1")
    assert ratio == pytest.approx(1.3 / 1.25, rel=EXACT)


@pytest.mark.parametrize(("material", "factor"), [("stainless", 1.1), ("carbon steel", 1.0)])
def test_a_plate_has_the_partial_factor_of_its_steel(material: str, factor: float) -> None:
    """EN 1993-1-4:2006 5.1(2): 1.1 for stainless steel, where EN 1993-1-1:2005 6.1 has 1.0 for carbon steel."""
    result = sound(job_named("garden_deck").with_({"situations": None, "mount_types.deep.material": material}))
    assert resistance(result, "base_plate.plate.M1") == pytest.approx(210 / factor, rel=EXACT)


FIVE = [
    {"name": f"S{i}", "x": f"{x} mm", "y": f"{y} mm"}
    for i, (x, y) in enumerate([*product((-55, 55), (-80, 80)), (0, -5)], 1)
]  # fmt: skip


THREE = [
    [
        {"name": f"S{i}", "x": f"{x} mm", "y": f"{way * y} mm"}
        for i, (x, y) in enumerate(product((-55, 0, 55), (-60, 60)), 1)
        if i != 3
    ]
    for way in (1, -1)
]


@pytest.mark.parametrize(
    ("changes", "n"),
    [
        ({}, 2),
        *(({f"mounts.M1.screws.S{i}.present": False}, 2) for i in (1, 2, 3, 4)),
        *(({"mount_types.deep.screws": screws}, 3) for screws in (FIVE, *THREE)),
    ],
)
def test_withdrawal_of_one_of_those_that_pull_by_hand(changes: dict[str, object], n: int) -> None:
    """EN 1995-1-1:2004+A1 (8.38) to (8.41): f = 0.52 d^-0.5 l^-0.1 rho^0.8, n^0.9 of n that pull, k_mod 0.7 and 1.3.

    180 mm of screw less its tip of 10, 15 of plate and 28 of boards: 127 mm in the wood. One that pulls less than the others pulls.
    """
    handed = sound(job_named("garden_deck").with_({"situations": None, **changes})).handed_on.mounts[0]
    one = 0.52 * 10**-0.5 * 127**-0.1 * 350**0.8 * 10 * 127 * 0.7 / 1.3
    assert isinstance(handed.R_ax, Value) and float(handed.R_ax.x) == pytest.approx(one * n**0.9 / n, rel=1e-9)


def test_the_screw_that_slants_most_counts_whichever_way_it_slants() -> None:
    def R(*angles: float) -> float:
        slanting = {f"mounts.M1.screws.S{i}.angle": f"{a} deg" for i, a in enumerate(angles, 1)}
        found = sound(job_named("garden_deck").with_({"situations": None, **slanting})).handed_on.mounts[0].R_ax
        assert isinstance(found, Value)
        return float(found.x)

    assert R(-20, 10) == pytest.approx(R(20, -10), rel=EXACT) and R(-20, 10) < R(-10, 10) < R(0.0)


def test_screws_that_slant_in_a_piece_on_end_are_outside_what_is_known() -> None:
    job = job_named("us_deck").with_({"mounts.M1.grain": "end", "mounts.M1.screws.S1.angle": "10 deg"})
    c = found(sound(job), "screws.withdrawal.M1")
    assert c.ending is Ending.NOT_CHECKED and c.lack is Lack.RANGE and "slant" in c.reason


def test_what_lies_between_the_head_of_a_screw_and_its_wood() -> None:
    """15 mm of plate, 3 of packers, 28 of boards, 2 of gap under them; the glass stands 60 mm above the boards."""
    assert of(TOP_OF_BLOCKING, t_pl=15, t_p=3, t_d=28, g_d=2) == 48.0
    assert of(TOP_OF_BOARD, t_pl=15, t_p=3) == 18.0
    assert of(LEVER, g_b=60, t_p=3) == 57.0
    assert of(GAP, t_d=28, g_d=2, t_p=3) == 33.0


@pytest.mark.parametrize(
    ("L", "thread", "wood", "in_it"),
    [
        (180, 150, 195, 127),  # from the top of the wood, 43 mm down, to 170 mm
        (180, 100, 195, 90),  # from where the thread begins, 80 mm down
        (300, 280, 195, 195),  # through and through: the thread beyond the wood holds nothing
        (50, 40, 195, 0),  # only its tip is in the wood
    ],
)
def test_thread_counts_in_wood_only_and_the_tip_does_not(L: float, thread: float, wood: float, in_it: float) -> None:
    assert of(THREAD, L=L, l_tip=10, z_b=43, h_b=wood, l_thr=thread) == in_it


def test_withdrawal_is_asked_for_the_moment_with_its_factor() -> None:
    """0.74 kN/m on half of a panel of 1 m, 1.1 m above the boards, times 1.5 (EN 1990, 6.10): 610.5 N m."""
    result = result_of("garden_deck").sound
    for id in ("screws.withdrawal.M1", "base_plate.bed.M1"):
        assert demand(result, id) == pytest.approx(1.5 * 0.74 * 500 * 1100, rel=1e-6)


@pytest.mark.parametrize(
    ("changes", "edge", "end"),
    [({}, 7.0, 10.0), (ACROSS, 4.0, 12.0)],
)
def test_a_push_of_the_mount_asks_for_its_own_distances(changes: dict[str, object], edge: float, end: float) -> None:
    """Screws of 6 mm, bored: EN 1995-1-1:2004 Table 8.2, (3 + 4 sin)d from an edge that is pushed at, (7 + 5 cos)d from an end.

    Pulled they ask for 4 d and 10 d (Table 8.6). The mount pushes across wood that lies along the glass, and along the other.
    """
    thin = {"mount_types.deep.screw.diameter": "6 mm", "mount_types.deep.screw.root": "4 mm"}
    result = sound(job_named("garden_deck").with_({"situations": None, **thin, **changes}))
    assert demand(result, "screws.edge.M1") == pytest.approx(6.0 * edge, rel=EXACT)
    assert demand(result, "screws.end.M1") == pytest.approx(6.0 * end, rel=EXACT)


def test_two_screws_at_45_degrees_keep_their_distance_both_ways() -> None:
    """S1 and S4 alone, at (-60, -60) and (60, 60) mm of one piece: 120 mm along its grain and across it, less 5 of tolerance."""
    changes: dict[str, object] = {f"mounts.M1.screws.{s}.present": False for s in ("S2", "S3")}
    changes |= {"mounts.M1.screws.S1.x": "-60 mm", "mounts.M1.screws.S4.x": "60 mm", "blocking.B1.laminated": "factory"}
    result = sound(job_named("garden_deck").with_({"situations": None, **changes}))
    assert [resistance(result, f"screws.{rule}.M1") for rule in ("a1", "a2")] == [115.0, 115.0]


def test_no_argument_of_a_contact_is_left_out_of_what_its_answer_is_kept_by() -> None:
    """One after another with one memory, each argument changed alone: what a mount without a memory gives."""
    model = replace(result_of("garden_deck").handed_on.mounts[0].model, memo=Memo())
    load = InPlaneLoad(100.0, -500.0, 2e5)
    solved = [
        ("soft", "soft", 4e5, 1.0, True, 0.0), ("stiff", "soft", 4e5, 1.0, True, 0.0), ("soft", "stiff", 4e5, 1.0, True, 0.0),
        ("soft", "soft", 5e5, 1.0, True, 0.0), ("soft", "soft", 4e5, 1.2, True, 0.0), ("soft", "soft", 4e5, 1.0, False, 0.0),
        ("soft", "soft", 4e5, 1.0, True, 300.0), ("soft", "soft", 4e5, None, True, 300.0), ("soft", "soft", 4e5, None, True, 0.0),
    ]  # fmt: skip
    for arguments in solved:
        assert model.solve(*arguments).T.max() == replace(model, memo=Memo()).solve(*arguments).T.max(), arguments
    limits = [
        ("soft", "soft", 1.0, 1.5, 7e3, 0.0), ("soft", "soft", 1.0, 1.5, 5e3, 0.0), ("soft", "soft", 1.0, 1.5, 5e3, 300.0),
        ("soft", "soft", 1.0, 1.2, 5e3, 300.0), ("stiff", "soft", 1.0, 1.2, 5e3, 300.0), ("stiff", "stiff", 1.0, 1.2, 5e3, 300.0),
    ]  # fmt: skip
    for at in limits:
        assert model.limit(*at).factor == replace(model, memo=Memo()).limit(*at).factor, at
    for f, R, of_load in ((1.5, 7e3, load), (1.2, 7e3, load), (1.2, 2e3, load), (1.2, 2e3, load._replace(turn=9e5))):
        factors = [m.limit_in_plane("soft", "soft", of_load, f, R, 1e9).factor for m in (model, replace(model, memo=Memo()))]
        assert factors[0] == factors[1], (f, R, of_load)
    for sign, f, N in ((1.0, 1.5, 0.0), (1.0, 1.2, 0.0), (1.0, 1.2, 300.0), (-1.0, 1.2, 300.0)):
        assert model.collapse(sign, f, N) == replace(model, memo=Memo()).collapse(sign, f, N)


def test_ground_that_differs_in_one_thing_is_not_the_same_ground() -> None:
    def key(changes: dict[str, object]) -> tuple[object, ...]:
        job = job_named("garden_deck").with_(changes)
        return mount_model(job, Tables(), job.mounts[0], Memo()).key

    plain = key({})
    assert plain == key({"panels.P3.layers.1.nominal": "15 mm"})
    for changes in (
        {"mounts.M1.service_hole": {"diameter": "22 mm", "x": "0 mm", "y": "0 mm"}},
        {"mounts.M1.screw.diameter": "8 mm"}, {"mounts.M1.screw.length": "170 mm"}, {"mounts.M1.screws.S1.x": "-50 mm"},
        {"mounts.M1.offset": "3 mm"}, {"mounts.M1.in_bay": "60 mm"}, {"mounts.M1.plate.across": "170 mm"},
    ):  # fmt: skip
        assert key(changes) != plain, changes
    model = result_of("garden_deck").handed_on.mounts[0].model
    stiffer = {name: Value(2 * float(k.x), k.kind, GIVEN) for name, k in model.beds.items()}
    assert len({replace(model, **other).key for other in ({}, {"at_ultimate": False}, {"beds": stiffer})}) == 3  # type: ignore[arg-type]


def test_screws_that_hold_nothing_are_said_loud_and_exceed_where_all_of_them_miss() -> None:
    joint = {f"mounts.M1.screws.S{i}.y": "0 mm" for i in (1, 2)}
    result = sound(job_named("garden_deck").with_({"situations": None, **joint, **ONE_ROW}))
    said = {f.text: f.loud for link in result.links for f in link.findings if f.text.startswith("Screw S")}
    assert len(said) == 4 and all(said.values())
    for id in ("screws.sideways.M1", "in_plane.sideways.M1"):
        assert found(result, id).ending is Ending.EXCEEDS, id


def test_the_pull_that_a_screw_is_looked_at_with_at_an_angle_is_that_of_the_worst() -> None:
    """NDS 2018 12.4.1, pull and push at their angle: the pull of each station's own moment, its contact solved here."""
    result = result_of("us_deck").sound
    c = found(result, "screws.combined.M1")
    handed = next(m for m in result.handed_on.mounts if m.model.name == "M1" and m.combination.id == c.combination)
    assert c.utilisation is not None and not isinstance(handed.bed, NotChecked)
    pull = next(v for v in walk(c.utilisation) if v.symbol == "F_ax" and v.stations > 1)
    f, model, moments = float(handed.bed.strength.x), handed.model, np.asarray(handed.M_Ed.x)[handed.counted]
    corners = list(product((-1.0, 1.0), ("soft", "stiff"), ("soft", "stiff")))
    worst = moments.max()
    by_hand = [contact.solve(model.bed(b, f), model.contact_screws(s, model.at_ultimate), 0.0, way * worst, 0.0).T.max()
               for way, b, s in corners]  # fmt: skip
    assert min(by_hand) * (1 - 1e-6) <= np.asarray(pull.x).max() <= max(by_hand) * (1 + 1e-6)


def made(
    kind: str, ending: Ending, eta: float | None = None, standing: Standing = Standing.REQUIRED, squares: bool = False
) -> Check:
    utilisation = None if eta is None else Value(eta, "ratio", GIVEN)
    return Check(About("part", kind), kind, ending, standing, utilisation=utilisation, squares=squares)


def walked(*checks: Check, standing: Standing = Standing.REQUIRED) -> Walked:
    return Walked(Situation("a test", standing=standing), job_named("garden_deck"), (LinkResult("link", "Link", checks),))


def test_what_governs_is_required_and_what_lets_go_comes_before_any_number() -> None:
    within, more = made("within", Ending.WITHIN, 0.6), made("squares", Ending.WITHIN, 0.49, squares=True)  # its root is 0.7
    over, gone = made("over", Ending.EXCEEDS, 3.0), made("gone", Ending.EXCEEDS)
    informs, unknown = made("informs", Ending.EXCEEDS, 9.0, Standing.INFORMATION), made("unknown", Ending.NOT_CHECKED)
    for checks, governs, ending in (
        ((within, more, informs), more, Ending.WITHIN),
        ((within, unknown, informs), within, Ending.NOT_CHECKED),
        ((within, unknown, over), over, Ending.EXCEEDS),
        ((over, within, gone), gone, Ending.EXCEEDS),
        ((unknown,), None, Ending.NOT_CHECKED),
        ((informs,), None, Ending.NOT_CHECKED),
    ):
        found_there = walked(*checks)
        assert found_there.governing is governs and found_there.ending is ending


def test_a_situation_that_is_required_counts_and_one_that_informs_does_not() -> None:
    good, bad, open_ = made("within", Ending.WITHIN, 0.6), made("over", Ending.EXCEEDS, 3.0), made("unknown", Ending.NOT_CHECKED)
    whole = result_of("garden_deck")

    def ends(*situations: Walked) -> Ending:
        return replace(whole, walked=(walked(good), *situations)).ending

    assert ends() is Ending.WITHIN and ends(walked(bad, standing=Standing.INFORMATION)) is Ending.WITHIN
    assert ends(walked(bad)) is Ending.EXCEEDS and ends(walked(open_)) is Ending.NOT_CHECKED
    assert ends(walked(open_), walked(bad)) is Ending.EXCEEDS


def test_a_situation_of_the_job_has_the_standing_the_job_gives_it_and_its_own_changes() -> None:
    gone = {f"mounts.M1.screws.S{i}.present": False for i in (1, 2, 3, 4)}
    for standing in Standing:
        listed = [{"name": "no screws", "set": gone, "standing": str(standing)}]
        job = job_named("garden_deck").with_({"situations": listed, "wind": None, "site.outdoors": False})
        result = check(job)
        (situation,) = [w for w in result.walked if w.situation.name == "no screws"]
        assert situation.situation.standing is standing and situation.ending is Ending.EXCEEDS
        assert (result.ending is Ending.EXCEEDS) is (standing is Standing.REQUIRED)


def test_no_resistance_at_all_exceeds_and_a_station_outside_its_range_hides_no_other() -> None:
    """Nothing to compare with is no small number; and one station that nobody can answer leaves the check without an answer."""
    labels, E = ["a", "b"], Value(np.array([0.0, 1.0]), "force", GIVEN, "E")
    c = compare(About("part"), "", E, Value(0.0, "force", GIVEN, "R"), labels)
    assert c.ending is Ending.EXCEEDS and c.utilisation is None and c.reason
    ranged = Equation(Symbol("R", "force"), "R_1*x", symbols("R_1:force, x:ratio"), "a test", "computed", ("x <= 1",))
    x = Value(np.array([2.0, 1.0]), "ratio", GIVEN, "x")
    for size, ending in ((2.0, Ending.NOT_CHECKED), (0.5, Ending.EXCEEDS)):
        R = ranged(R_1=Value(size, "force", GIVEN, "R_1"), x=x)
        c = compare(About("part"), "", Value(np.array([0.1, 1.0]), "force", GIVEN, "E"), R, labels)
        assert c.ending is ending and (c.lack is Lack.RANGE) is (ending is Ending.NOT_CHECKED)


def test_both_at_once_that_informs_stands_in_a_table_of_its_own() -> None:
    c = made("kind", Ending.WITHIN, 0.6)
    together = Combination("id", "ultimate", Value(1.5, "ratio", GIVEN), "short", "short", "a test", natures=("barrier", "wind"))
    beside = informing(c, together)
    assert beside.standing is Standing.INFORMATION and beside.about.at_once and beside.id != c.id
    assert c.about.one_of([("part",)]) and not beside.about.one_of([("part",)])
    alone = informing(c, replace(together, natures=("wind",)))
    assert alone.standing is Standing.INFORMATION and alone.id == c.id


def test_weight_holds_the_screws_of_a_mount_down_on_a_bed_that_does_not_yield() -> None:
    """On an elastic bed every newton of weight is one the screws need not pull: the largest moment grows with it."""
    model = result_of("garden_deck").handed_on.mounts[0].model
    found_with = [model.limit("soft", "soft", 1.0, None, 7e3, N).factor for N in (0.0, 300.0, 600.0)]
    assert found_with[0] < 0.999 * found_with[1] < 0.998 * found_with[2]
