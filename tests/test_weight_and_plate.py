"""Weight of the glass on its mounts, bearing beneath the decking, bending of the base plate on both its sides, screws on a face.

By hand where a hand can; what the contact model gives is held against equilibrium or a closed form.
"""

from __future__ import annotations

from itertools import product
from types import SimpleNamespace

import numpy as np
import pytest
from conftest import for_each, job_named, result_of

from barrier.links.blocking.piece_forces import forces_on_pieces
from barrier.links.mount.mount_forces import MountForces
from barrier.links.mount.plate_bending import PLATE_PUSHED, _pulled, plate_bending
from barrier.links.mount.weight import pressing, weight_on
from barrier.links.walk import Walk
from barrier.load_path import check
from barrier.mechanics.contact import Bed, Screw, Zone, pushed_beyond, solve
from barrier.mechanics.polygons import circle, rectangle
from barrier.result import SOUND, About, Check, Lack, NotChecked, Standing
from barrier.value import Value, walk

LAMINATED = "three_clamps_laminated"


def forces(name: str) -> tuple[MountForces, ...]:
    return result_of(name).handed_on.mounts


def found(result: object, id: str) -> Check:
    return next(c for c in result.sound.checks if c.id == id)  # type: ignore[attr-defined]


def named(c: Check, symbol: str) -> Value:
    assert c.demand is not None
    return next(v for v in walk(c.demand) if v.symbol == symbol)


def walked(job: object) -> tuple[Walk, object]:
    result = check(job)  # type: ignore[arg-type]
    panel = result.handed_on.panels[0]
    return Walk(result.job, result.basis, result.tables, SOUND), panel


# ---------------------------------------------------------------- weight


def test_weight_of_laminated_glass_is_that_of_all_its_layers() -> None:
    """By hand: 2 x 9.7 mm, 1,200 x 1,100 mm on two mounts: 25 kN/m³ x 1.2 x 1.1 x 0.0194/2 = 0.320 kN a mount."""
    layers = {f"panels.1.layers.{n}.{key}": "9.7 mm" for n in (1, 2) for key in ("nominal", "minimum")}
    size = {"panels.1.width": "1200 mm", "panels.1.height": "1100 mm", "site.barrier_height": None, "mounts.M3": None}
    job = job_named(LAMINATED).with_({**layers, **size, "mounts.M1.x": "300 mm", "mounts.M2.x": "900 mm"})
    told, panel = walked(job)
    assert float(weight_on(told, panel).x) == pytest.approx(25e-6 * 1200 * 1100 * 19.4 / 2)  # type: ignore[arg-type]
    assert float(weight_on(told, panel).x) == pytest.approx(320, abs=0.5)  # type: ignore[arg-type]


def test_weight_that_presses_has_its_factor_and_the_nominal_thickness() -> None:
    """Laminated 10 mm + 10 mm: 20 mm and not twice the least thickness; EN 1990 puts 1.35 on it."""
    told, panel = walked(job_named(LAMINATED))
    given = panel.panel  # type: ignore[attr-defined]
    area = float(given.width.x) * float(given.height.x)
    assert float(weight_on(told, panel).x) == pytest.approx(25e-6 * area * 20 / 3)  # type: ignore[arg-type]
    assert float(pressing(told, panel).x) == pytest.approx(1.35 * float(weight_on(told, panel).x))  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["garden_deck", "everyday_deck", LAMINATED, "us_deck"])
def test_the_bed_carries_the_screws_and_the_weight(name: str) -> None:
    """Equilibrium of every contact that is looked at: what bears is what pulls, and the weight where it is on."""
    for handed in forces(name):
        for corner in handed.with_weight:
            if corner.contact.equilibrium:
                N = float(handed.weight.x) if corner.weighs else 0.0
                pushed = sum(corner.contact.zone_force.values())
                assert pushed == pytest.approx(float(corner.contact.T.sum()) + N, rel=1e-6)


def test_no_weight_is_not_the_worst_near_the_collapse_of_the_bed() -> None:
    """The everyday deck's bed is at 0.98: with the glass on it the screws pull harder there, and the sheet says so."""
    handed = forces("everyday_deck")[0]
    without, with_it = (max(float(c.contact.T.max()) for c in handed.with_weight if c.weighs is w) for w in (False, True))
    assert with_it > 1.01 * without
    steel = found(result_of("everyday_deck"), "screws.steel.M1")
    assert steel.demand is not None and steel.demand.at(steel.station) == pytest.approx(with_it) and "weight on it" in steel.where


def test_far_from_collapse_weight_holds_the_screws_down() -> None:
    handed = forces("garden_deck")[0]
    without, with_it = (max(float(c.contact.T.max()) for c in handed.with_weight if c.weighs is w) for w in (False, True))
    assert with_it < without


def test_weight_that_presses_an_end_down_is_not_the_least_one() -> None:
    """Under a load along the barrier weight holds one end down at its least and adds to the other at its most: US, 0.6 and 1.0."""
    result = result_of("us_deck")
    down = found(result, "blocking.end.left.down.M1")
    assert down.demand is not None
    added = [v for v in walk(down.demand) if v.symbol == "f_G"]
    assert added and all(v.at(0) == 1.0 for v in added)
    # By hand: 158 pcf of glass, 1/2 in nominal, over the panel, shared by two mounts.
    panel, glass = result.job.panels[0], result.basis.glass_constants()[2]
    whole = float(glass.x) * float(panel.width.x) * float(panel.height.x) * 12.7
    share = next(v for v in walk(down.demand) if v.symbol == "N_0")
    assert share.at(0) == pytest.approx(whole / 2, rel=0.02)


# ---------------------------------------------------------------- bearing beneath the decking


def test_bearing_beneath_the_decking_spreads_once() -> None:
    """45 degrees through the decking stand for the 30 mm of the code, so the strength is that without any spread."""
    c = found(result_of("garden_deck"), "bearing.below.M1")
    assert c.resistance is not None and c.demand is not None
    # By hand: k_mod 0.7 x 2.5/1.3 = 1.346 MPa, k_c,90 = 1.
    assert c.resistance.at(c.station) == pytest.approx(0.7 * 2.5 / 1.3, rel=1e-6)
    assert not any(v.symbol in ("l_1", "l_2") for v in walk(c.resistance))
    mean = found(result_of("garden_deck"), "bearing.mean.M1")
    assert mean.resistance is not None and any(v.symbol == "l_1" for v in walk(mean.resistance))


# ---------------------------------------------------------------- the base plate bends on both sides


def test_the_bed_beyond_a_line_against_closed_forms() -> None:
    """Uniform pressure p on a strip b x c: p b c and p b c²/2; a triangle that ends at the far edge: p b c/2 and p b c²/3."""
    bed = Bed((Zone(rectangle(-50, 50, -60, 60), "timber"),), 4.0)
    even = solve(bed, [], 1200.0, 0.0, 0.0)
    assert pushed_beyond(bed, even, 40.0, True) == pytest.approx((0.1 * 100 * 20, 0.1 * 100 * 20**2 / 2))
    assert pushed_beyond(bed, even, -40.0, False) == pytest.approx((0.1 * 100 * 20, 0.1 * 100 * 20**2 / 2))
    # N at a sixth of the depth: pressure rises from nought at one edge to 2 N/A at the other.
    edge = solve(bed, [], 1200.0, 1200.0 * 20, 0.0)
    for y, up in ((0.0, True), (0.0, False)):
        force, moment = pushed_beyond(bed, edge, y, up)
        heavy = edge.zone_moment("timber")[1] * (1 if up else -1) > 0
        p0, p1 = (0.1, 0.2) if heavy else (0.1, 0.0)  # MPa at the line and at the edge
        assert force == pytest.approx(100 * 60 * (p0 + p1) / 2, rel=1e-6)
        assert moment == pytest.approx(100 * 60**2 * (p0 + 2 * p1) / 6, rel=1e-6)


@pytest.mark.parametrize("f", [None, 2.0])
def test_the_two_sides_of_a_line_are_the_whole(f: float | None) -> None:
    """Force and moment of both sides of any line are those of the whole bed, hole and yield included."""
    zones = tuple(
        Zone(rectangle(-50, 50, a, b), n, (circle(0, 0, 11),)) for a, b, n in ((-50, -5, "1"), (-5, 40, "2"), (40, 50, "3"))
    )
    bed = Bed(zones, 4.0, f)
    screws = [Screw(x, y, 10_000, f"{x},{y}") for x in (-35, 35) for y in (-35, 35)]
    contact = solve(bed, screws, 300.0, 300_000.0, 40_000.0)
    force, first = sum(contact.zone_force.values()), sum(m for _, m in contact.zone_first.values())
    for y in (-40.0, -5.0, 7.0, 45.0):
        (up, turn_up), (down, turn_down) = pushed_beyond(bed, contact, y, True), pushed_beyond(bed, contact, y, False)
        assert up + down == pytest.approx(force, rel=1e-9)
        assert turn_up - turn_down == pytest.approx(first - y * force, rel=1e-7, abs=1e-3)


def test_the_pushed_side_of_the_base_plate_is_looked_at() -> None:
    """On a stiff bed the push stands far out and bends the garden deck's plate more than the screws do: it decides."""
    c = found(result_of("garden_deck"), "base_plate.plate.M1")
    assert "where the bed pushes" in c.where
    M_c = named(c, "M_c")
    b, t = 150.0, 15.0
    assert c.demand is not None
    assert c.demand.at(c.station) == pytest.approx(6 * M_c.at(c.station) / (b * t**2))
    # Bounds by hand: all that bears, at the edge of the plate; and nothing.
    handed = forces("garden_deck")[0]
    C = max(sum(k.contact.zone_force.values()) for k in handed.with_weight)
    assert 0.0 < M_c.at(c.station) < C * (90.0 - 40.0)
    assert PLATE_PUSHED.text == "6*M_c/(b*t_pl**2)"
    # The pressure the contact gives, added up strip by strip over the plate beyond the post, on either side of it.
    strips = np.linspace(40.0, 90.0, 20_001)[:-1] + 50.0 / 40_000
    for corner, moment in zip(handed.with_weight, np.asarray(M_c.x), strict=True):
        bed, (a, slope, u0) = handed.model.bed(corner.bed, float(handed.bed.strength.x)), corner.contact.neutral_axis  # type: ignore[union-attr]
        assert abs(a) < 1e-12  # it turns about the line of the glass alone
        by_hand = [
            150.0
            * float((np.clip(-bed.k * (u0 + slope * side * strips), 0.0, bed.f_yield) * (strips - 40.0)).sum())
            * 50.0
            / 20_000
            for side in (-1.0, 1.0)
        ]
        assert moment == pytest.approx(max(by_hand), rel=1e-5)


ROWS = [{"name": f"S{i}", "x": f"{x} mm", "y": f"{y} mm"} for i, (x, y) in enumerate(product((-55, 55), (-80, 80)), 1)]


@pytest.mark.parametrize("middle", [False, True])
def test_the_pulled_side_of_the_base_plate_by_hand(middle: bool) -> None:
    """Two screws of the row with the tension of the worst, 80 mm from the middle, a post of 40 mm, a plate of 150 x 15 mm.

    A fifth screw near the middle of the plate pulls less than half of that and is none of the row.
    """
    screws = [*ROWS, {"name": "S5", "x": "0 mm", "y": "-5 mm"}] if middle else ROWS
    result = check(job_named("garden_deck").with_({"situations": None, "mount_types.deep.screws": screws}))
    handed = result.handed_on.mounts[0]
    pulled = next(iter(plate_bending(Walk(result.job, result.basis, result.tables, SOUND), handed)))
    T = [sorted(float(t) for t in corner.contact.T) for corner in handed.with_weight]
    assert not middle or (any(row[-3] > 0.0 for row in T) and all(row[-3] < 0.5 * row[-1] for row in T))
    assert pulled.demand is not None and "where the screws pull" in pulled.where
    assert pulled.demand.at(pulled.station) == pytest.approx(6 * 2 * max(row[-1] for row in T) * (80.0 - 40.0) / (150.0 * 15.0**2))


def test_a_screw_with_half_the_pull_of_the_worst_is_of_its_row() -> None:
    """Three screws with 1000, 990 and 520 N: three of the row, all taken with the worst; one with 490 N is none of it."""
    garden = result_of("garden_deck")
    handed = garden.handed_on.mounts[0]
    strip = {"b": handed.model.mount.plate.along.named("b"), "t_pl": handed.model.mount.plate.thickness.named("t_pl")}
    for third, row in ((520.0, 3), (490.0, 2)):
        corner = SimpleNamespace(label="made up", contact=SimpleNamespace(T=np.array([0.0, third, 990.0, 1000.0])))
        strength = NotChecked(Lack.INPUT, "none is looked at")
        made = _pulled(handed, [corner], strength, strip, About("base_plate", "plate", mount="M1"), "pulled")  # type: ignore[list-item]
        e_s, e_c = max(abs(float(s.y.x)) for s in handed.model.screws), float(handed.model.mount.plate.clamp_reach.x)  # type: ignore[union-attr]
        b, t = float(strip["b"].x), float(strip["t_pl"].x)
        assert made.demand is not None and made.demand.at(0) == pytest.approx(6 * row * 1000.0 * (e_s - e_c) / (b * t**2))


def test_the_bed_is_used_up_first_on_its_shorter_side() -> None:
    """The mount 40 mm towards the drop side of its blocking of 240 mm: 80 mm of wood before its middle, more than 90 behind.

    The plate turns about the screws that pull, 60 mm from the middle on the other side; wood from there to its edge presses with
    its strength f, and the weight N helps it to: M = f b (60 + c)^2/2 - 60 N, the less where c is less. A mechanism by hand.
    """
    result = check(job_named("garden_deck").with_({"situations": None, "mounts.M1.offset": "40 mm"}))
    bed = found(result, "base_plate.bed.M1")
    handed = next(m for m in result.handed_on.mounts if m.model.name == "M1" and m.combination.id == bed.combination)
    assert not isinstance(handed.bed, NotChecked)
    f, N = float(handed.bed.strength.x), float(handed.weight.x)
    outward, inward = (f * 150.0 * (60.0 + c) ** 2 / 2 - 60.0 * N for c in (80.0, 90.0))
    assert bed.resistance is not None and outward < 0.95 * inward
    assert bed.resistance.at(0) == pytest.approx(outward, rel=1e-4)


# ---------------------------------------------------------------- a screw on the face of a piece


def test_a_screw_on_a_face_counts_the_same_on_every_side() -> None:
    """All four screws of the everyday deck exactly in the joints of its three pieces: none is in wood, on either side."""
    job = job_named("everyday_deck")
    joint = float(job.blocking["B1"].width.x) / 2
    edits = {
        f"mount_types.{job.mounts[0].type}.screws.{s.name}.y": f"{np.sign(float(s.y.x)) * joint:.10g} mm"
        for s in job.mounts[0].screws
    }
    model = next(h.model for h in check(job.with_(edits)).handed_on.mounts)
    assert [s.piece for s in model.screws] == [None] * 4


def test_pieces_below_a_mount_carry_the_weight_too() -> None:
    """Equilibrium: pieces carry nothing on the whole where the glass is taken as weightless, and its weight where it weighs."""
    for handed in forces("garden_deck"):
        pieces = forces_on_pieces(handed, handed.with_weight)
        for corner, row in zip(handed.with_weight, pieces.forces, strict=True):
            assert row.sum() == pytest.approx(float(handed.weight.x) if corner.weighs else 0.0, abs=0.5)
        N, largest = float(handed.weight.x), [
            max(row.max() for c, row in zip(handed.with_weight, pieces.forces, strict=True) if c.weighs is w) for w in (False, True)
        ]  # fmt: skip
        assert 0.5 * N < largest[1] - largest[0] < N  # most of it comes to the piece that is pressed


def test_the_force_table_has_the_largest_sideways_force() -> None:
    """What is handed on sideways is what the end is checked for, and not that of the load with the largest moment."""
    result = result_of("garden_deck")
    tables = result.handed_on.tables
    for table in tables:
        for side in ("left", "right"):
            demand = found(result, f"blocking.end.{side}.sideways.{table.mount.model.name}").demand
            assert demand is not None
            rows = [r for r in table.rows if f"{side} end, sideways" in r.words]
            assert max(abs(float(v.x)) for r in rows for v in r.values[:2] if v is not None) == pytest.approx(
                float(np.max(demand.x))
            )


def test_the_factor_on_uncertain_fixings_is_laid_on_the_worst_of_them() -> None:
    """BS 6180 puts 1.5 on the load of an uncertain fixing: shown beside what governs, and said to exceed where it then does."""
    result = result_of("garden_deck")
    blocking = next(link for link in result.links if link.id == "blocking")
    own = [s for s in blocking.shown if s.value.symbol == "eta_SF" and "end fixings of mount M1" in s.title]
    ends = [c.eta or 0.0 for c in result.sound.checks if c.id.startswith("blocking.end.") and c.id.endswith(".M1")
            and c.standing is Standing.REQUIRED]  # fmt: skip
    assert [float(s.value.x) for s in own] == pytest.approx([1.5 * max(ends)])
    assert "EXCEEDS" in own[0].remark and max(ends) < 1.0


@for_each("mount", ["M1", "M2"])
def test_the_factor_on_uncertain_fixings_is_laid_on_those_of_its_own_mount(mount: str) -> None:
    """Three clamps, the middle one with less on its screws and more on its ends: half as much again of what is its own."""
    result = result_of("three_clamps_laminated")
    shown = {s.title: float(s.value.x) for link in result.links for s in link.shown if s.value.symbol == "eta_SF"}
    for words, begins in (("screws", ("screws.withdrawal.", "screws.sideways.")), ("end fixings", ("blocking.end.",))):
        own = [c.eta or 0.0 for c in result.sound.checks if c.id.startswith(begins) and c.id.endswith(f".{mount}")
               and c.standing is Standing.REQUIRED]  # fmt: skip
        (made,) = (eta for title, eta in shown.items() if f"worst of the {words} of mount {mount} " in title)
        assert made == pytest.approx(1.5 * max(own)), words


def test_the_row_of_most_screws_bends_the_plate() -> None:
    """One screw of four missing: one way a single screw pulls, the other way two; the plate is looked at with two."""
    result = check(job_named("garden_deck").with_({"mounts.M1.screws.S1.present": False}))
    pulled = next(c for c in result.sound.checks if c.id == "base_plate.plate.M1")
    counts = {v.x for v in walk(pulled.demand) if v.symbol == "n_t"}
    assert counts == {2.0}


def test_the_tip_of_a_triangle_beyond_a_line() -> None:
    """Pressed evenly: beyond half its height stands a quarter of a triangle, its middle a third of that half from the line."""
    bed = Bed((Zone(np.array([(-50.0, -100 / 3), (50.0, -100 / 3), (0.0, 200 / 3)]), "timber"),), 4.0)
    force, moment = pushed_beyond(bed, solve(bed, [], 1000.0, 0.0, 0.0), 200 / 3 - 50, True)
    assert force == pytest.approx(250.0, rel=1e-9) and moment == pytest.approx(250.0 * 50 / 3, rel=1e-9)
