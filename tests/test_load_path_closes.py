"""From the hand to the joist nothing is lost: what is handed to the joists is the action again, about every axis.

Added up here in space, end by end, from positions and components; the only thing taken from the tool is what it says comes to
each end. What a joist does not get is a required check by name.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from conftest import EXAMPLES, job_named, result_of, sound

from barrier import sheet
from barrier.job import Job
from barrier.links.blocking.force_table import ForceTable
from barrier.links.blocking.to_joists import Level, State, below, push_of, states
from barrier.links.mount.mount_forces import MountForces
from barrier.links.walk import Walk
from barrier.load_path import Result, check
from barrier.result import SOUND, Check, Ending, Standing

CLOSES = 1e-6  # relative to the largest moment; asked for, the contact itself closes to better
VARIANTS: dict[str, dict[str, object]] = {
    "as it is": {},
    "off the middle": {
        "blocking.B1.length": "600 mm",
        "joists.spacing": "645 mm",
        "mounts.M1.in_bay": "150 mm",
        "mounts.M1.offset": "10 mm",
    },
    "laid flat": {"blocking.B1.laid": "flat"},
    "one piece": {"blocking.B1.pieces": 1},
    "across the glass": {"blocking.B1.direction": "across", "joists.direction": "along", "mounts.M1.in_bay": "150 mm"},
    "a gap under the boards": {"decking.gap_under": "4 mm"},
    "a screw missing": {"mounts.M1.screws.S1.present": False},
}


def walk_of(result: Result) -> Walk:
    return Walk(result.job, result.basis, result.tables, SOUND)


def mounts_of(result: Result) -> list[MountForces]:
    return list(result.handed_on.mounts)


def levels(handed: MountForces) -> tuple[Level, Level]:
    s = handed.service
    return (
        Level("strength", handed.M_Ed, handed.F_Ed, handed.M_z, handed.with_weight),
        Level("service", s.M, s.F, s.M_z, handed.at_service),
    )


def resultant(state: State) -> tuple[np.ndarray, np.ndarray]:
    """Force and moment about the middle of the underside of the base plate of all that comes to the ends."""
    force = sum((np.array(w.force) for w in state.wrenches), np.zeros(3))
    moment = sum((np.array(w.moment) + np.cross(w.at, w.force) for w in state.wrenches), np.zeros(3))
    return force, moment


def every_state(result: Result) -> Iterator[tuple[MountForces, State]]:
    walk = walk_of(result)
    for handed in mounts_of(result):
        for level in levels(handed):
            for state in states(walk, handed, level) or ():
                yield handed, state


def closes(result: Result) -> int:
    seen = 0
    for handed, state in every_state(result):
        force, moment = resultant(state)
        F, M = (np.array(v) for v in state.action)
        size = np.abs(M).max()
        assert np.allclose(force, F, rtol=0.0, atol=CLOSES * np.abs(F).max()), (handed.model.name, state.label)
        assert np.allclose(moment, M, rtol=0.0, atol=CLOSES * size), (handed.model.name, state.label)
        seen += 1
    return seen


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_force_and_both_moments_arrive_at_the_joists(path) -> None:  # type: ignore[no-untyped-def]
    """Every bundled job: force and all three moments close in every state, or what does not is a required check.

    Where there is no equilibrium above, nothing arrives, and the required check that says so exceeds.
    """
    result = result_of(path.stem)
    if closes(result):
        return
    assert any(
        c.standing is Standing.REQUIRED and c.ending is Ending.EXCEEDS and c.utilisation is None for c in result.sound.checks
    )


@pytest.mark.parametrize("variant", VARIANTS)
@pytest.mark.parametrize("name", ["garden_deck", "us_deck"])
def test_it_closes_however_the_blocking_lies(name: str, variant: str) -> None:
    job = job_named(name)
    known = {k: v for k, v in VARIANTS[variant].items() if not (name == "us_deck" and k == "blocking.B1.laid")}
    assert closes(check(job.with_(known)))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_forces_that_come_at_once_balance_what_acts_on_their_mount(path) -> None:  # type: ignore[no-untyped-def]
    """A hand sum of the printed figures: across, up and down, about the glass and about the vertical; the worst of the table is
    among them."""
    result = result_of(path.stem)
    for table in result.handed_on.tables:
        model = table.mount.model
        assert bool(table.sets) == any(r.at and None not in r.values[:2] for r in table.rows)
        for s, column in zip(table.sets, table.columns, strict=False):
            assert column.endswith(s.sign) and model.span is not None
            F, M, M_z = (abs(v.at(0)) for v in s.action)
            z = below(walk_of(result), model, model.span.depth if len(model.pieces) == 1 else float(model.blocking.laid_depth.x))
            found = {words: dict(zip(s.columns, (v.at(0) for v in values), strict=True)) for words, values in s.rows}
            centre = {p.name: p.centre for p in model.pieces}
            way = 1.0 if s.sign == "outward" else -1.0
            largest = {r.at: abs(v.at(0)) for r in table.rows if r.at and (v := r.values[table.columns.index(column)]) is not None}
            for (piece, side, component), most in largest.items():
                assert abs(found[f"{piece}, {side} end"][component]) <= most * (1 + CLOSES) + CLOSES * F, "more than the largest"
            if model.span.mode == "bends":
                continue  # pieces across the glass: the other tests add them up
            across = sum(f["sideways"] for f in found.values())
            about_z = sum(f["sideways"] * (-model.span.a if "left" in w else model.span.L - model.span.a) for w, f in found.items())
            turning = sum(f["torque"] + f.get("down", 0.0) * centre[w.partition(",")[0]] for w, f in found.items())
            assert across == pytest.approx(way * F, rel=CLOSES)
            assert abs(about_z) == pytest.approx(M_z, rel=1e-6, abs=1e-6 * M)
            assert sum(f.get("down", 0.0) for f in found.values()) == pytest.approx(0.0, abs=1e-6 * F)
            assert turning == pytest.approx(way * (M + F * z), rel=1e-6)
            if model.span.mode == "loose":
                most = max(size for (_, _, component), size in largest.items() if component == "down")
                assert max(abs(f["down"]) for f in found.values()) == pytest.approx(most, rel=CLOSES)


def test_forces_at_once_on_pieces_across_balance_and_say_which_way_they_are_positive() -> None:
    """A hand sum: along the pieces the push, a couple over the bay for moment and lever, another for the twist."""
    result = check(job_named("garden_deck").with_({"situations": None, **VARIANTS["across the glass"]}))
    table = result.handed_on.tables[0]
    assert len(table.sets) == 2
    for s, way in zip(table.sets, (1.0, -1.0), strict=True):
        F, M, M_z = (v.at(0) for v in s.action)
        found = {words: dict(zip(s.columns, (v.at(0) for v in values), strict=True)) for words, values in s.rows}
        model = table.mount.model
        assert model.span is not None and model.blocking is not None
        z, L = below(walk_of(result), model, float(model.blocking.laid_depth.x)), model.span.L
        assert sum(f["pressed along itself"] for f in found.values()) == pytest.approx(way * F, rel=CLOSES)
        right = [f for words, f in found.items() if "right" in words]
        assert sum(f["down"] for f in right) * L == pytest.approx(way * (M + F * z), rel=1e-6)
        assert abs(sum(f["sideways"] for f in right)) * L == pytest.approx(M_z, rel=1e-6)
        assert sum(f["torque"] for f in found.values()) == pytest.approx(0.0, abs=1e-6 * M)
    printed = " ".join(sheet.text(result).split())
    assert "on pieces across the glass: along them towards the drop, sideways to the right" in printed


def ends(result: Result, what: str) -> dict[str, Check]:
    return {c.id: c for c in result.sound.checks if c.id.startswith("blocking.end.") and f".{what}." in c.id}


@pytest.mark.parametrize("name", ["garden_deck", "three_clamps_laminated", "us_deck"])
def test_the_checks_compare_what_is_handed_on(name: str) -> None:
    """The largest component of all states at an end is the demand of its check: checks and hand-over are made separately."""
    result = result_of(name)
    walk = walk_of(result)
    seen = 0
    for handed in mounts_of(result):
        found = states(walk, handed, levels(handed)[0])
        assert found
        for side in ("left", "right"):
            at = [w for s in found for w in s.wrenches if w.side == side]
            for way, largest in (
                ("uplift", max(w.force[2] for w in at)), ("down", max(-w.force[2] for w in at)),
                ("torque", max(abs(w.moment[0]) for w in at)), ("sideways", max(abs(w.force[1]) for w in at)),
            ):  # fmt: skip
                made = ends(result, way).get(f"blocking.end.{side}.{way}.{handed.model.name}")
                if abs(largest) < 1e-9:
                    continue  # a section that takes the torque whole has nothing up or down of a push
                assert made is not None, "a force at an end that nothing compares"
                if made.combination != handed.combination.id:
                    continue  # another combination is worse
                assert made.demand is not None and made.standing is Standing.REQUIRED
                # Sideways the check looks at every station that counts: the largest push need not come with the largest moment.
                wanted = sideways(handed, side) if way == "sideways" else largest
                assert np.max(made.demand.x) == pytest.approx(wanted, rel=CLOSES)
                seen += 1
    assert seen >= 4


def sideways(handed: MountForces, side: str) -> float:
    """Largest sideways force at one end of the piece with the most screws, from the push and the twist of every station."""
    block = handed.model.blocking
    assert block is not None
    a, L = float(handed.model.mount.in_bay.x), float(block.length.x)
    arm = L - a if side == "left" else a
    held = [s.piece for s in handed.model.screws if s.piece is not None]
    share = max(held.count(p) for p in set(held)) / len(held)
    F, M_z = np.abs(np.asarray(handed.F_Ed.x)), np.asarray(handed.M_z.x)
    return float(((F * arm + M_z) / L * share)[handed.counted].max())


def test_the_lever_of_the_push_by_hand() -> None:
    """Garden deck: 28 mm of boards and half of 195 mm above the fixings; as a couple over pieces 120 mm apart.

    V_left = (M/z + F (28 + 97.5)/120) (405 - 200)/405, M/z the contact's own; statics, no source needed.
    """
    result = result_of("garden_deck")
    handed = mounts_of(result)[0]
    F = abs(handed.F_Ed.at(handed.worst))
    without = _pieces(result)[0].pieces.forces.max()  # type: ignore[union-attr]
    lifted = ends(result, "uplift")["blocking.end.left.uplift.M1"]
    assert lifted.demand is not None
    assert np.max(lifted.demand.x) == pytest.approx((without + F * (28 + 97.5) / 120) * (405 - 200) / 405, rel=1e-6)


def _pieces(result: Result) -> list[ForceTable]:
    return list(result.handed_on.tables)


def without(job: Job, key: str) -> Result:
    return check(job.with_({f"blocking.B1.{side}.{key}": None for side in ("left", "right")}))


@pytest.mark.parametrize(
    ("key", "ids"),
    [
        ("sideways", ("blocking.end.left.sideways.M1", "blocking.end.left.together.M1")),
        ("torque", ("blocking.end.right.torque.M1", "blocking.end.right.together.M1")),
        ("highest", ("blocking.end.splitting.uplift.M1",)),
        ("lowest", ("blocking.end.splitting.down.M1",)),
    ],
)
def test_what_the_load_passes_through_is_required(key: str, ids: tuple[str, ...]) -> None:
    """Without a rating or a measure the check is required and not checked, with its demand, and decides the ending."""
    result = without(job_named("garden_deck"), key)
    for id in ids:
        found = next(c for c in result.sound.checks if c.id == id)
        assert found.standing is Standing.REQUIRED and found.ending is Ending.NOT_CHECKED and found.reason
    assert result.ending is Ending.NOT_CHECKED


def test_no_required_link_of_the_path_is_filed_as_information() -> None:
    """Only ties between loose pieces, which nothing is credited to, may inform."""
    for path in EXAMPLES:
        informs = {
            c.id.rsplit(".", 1)[0]
            for c in result_of(path.stem).sound.checks
            if c.id.startswith(("blocking", "edge_joist", "boards", "joist")) and c.standing is not Standing.REQUIRED
        }
        assert informs <= {"blocking.ties", "blocking.splitting"}, path.stem


def test_action_is_the_largest_moment_with_its_push() -> None:
    handed = mounts_of(result_of("garden_deck"))[0]
    push = push_of(handed, levels(handed)[0])
    assert handed.M_worst.at(0) == pytest.approx(push.M) and push.F > 0.0 and push.M_z >= 0.0


# ---------------------------------------------------------------- the joists


def joists(job: Job, **changes: object) -> dict[str, Check]:
    result = check(job.with_({f"joists.{k}": v for k, v in changes.items()}))
    return {c.id.removesuffix(".M1"): c for c in result.sound.checks if c.id.startswith("joist.") and c.id.endswith(".M1")}


def test_the_couple_on_a_joist_by_hand() -> None:
    """Garden deck: half of everything about the middle of the joist, M + F (28 + 97.5), by 205 of 405 mm; then a beam by hand."""
    result = result_of("garden_deck")
    handed = next(m for m in mounts_of(result) if m.model.name == "M1" and m.combination.id == "ultimate, barrier")
    M, F = handed.M_worst.at(0), abs(handed.F_Ed.at(handed.worst))
    couple = (M + F * (28 + 97.5)) * 205 / 405
    bending = joists(result.job)["joist.bending"]
    # 300 mm of overhang, mounts 100 mm from the end: 200 mm out, so the whole couple bends; glass 25 kN/m3, 19 mm, on two mounts.
    weight = 1.35 * 25e-6 * 1000 * 1040 * 19 / 2 * 205 / 405
    q = 1.35 * 0.2 + 1.5 * 1.1
    sigma = (couple + weight * 200 + q * 2400**2 / 8) / (45 * 195**2 / 6)
    assert bending.demand is not None and bending.demand.at(bending.station) == pytest.approx(sigma, rel=1e-9)
    assert bending.resistance is not None and bending.resistance.at(0) == pytest.approx(0.7 * 24 / 1.3)  # EN 1995-1-1 (2.14)


def test_the_couple_on_a_joist_under_a_bare_board_by_hand() -> None:
    """Boards only: the board spans from joist to joist, 450 mm; a mount 200 mm from one puts 250/450 on it."""
    result = result_of("boards_only")
    handed = next(m for m in mounts_of(result) if m.model.name == "M1" and m.combination.id == "ultimate, barrier")
    couple = (handed.M_worst.at(0) + abs(handed.F_Ed.at(handed.worst)) * (28 + 97.5)) * 250 / 450
    weight = 1.35 * 25e-6 * 1200 * 1050 * 12 / 2 * 250 / 450  # glass 25 kN/m3, 12 mm, on two mounts; 200 mm out on the overhang
    q = 1.35 * 0.2 + 1.5 * 1.1
    sigma = (couple + weight * 200 + q * 2400**2 / 8) / (45 * 195**2 / 6)
    bending = next(c for c in result.sound.checks if c.id == "joist.bending.M1")
    assert bending.demand is not None and bending.demand.at(bending.station) == pytest.approx(sigma, rel=1e-9)


def test_an_unknown_span_prints_the_couple_and_does_not_compare() -> None:
    """The demand stands there, what the couple alone asks of the section is shown, and the reason is the question to ask."""
    for key in ("span", "mount_from_end", "dead_load", "imposed_load"):
        found = joists(job_named("garden_deck"), **{key: None})
        assert {c.ending for c in found.values()} == {Ending.NOT_CHECKED}, key
        assert all(c.demand is not None and key in c.reason for c in found.values())
    weak = joists(job_named("garden_deck"), span=None, width="20 mm", depth="60 mm")
    assert weak["joist.bending"].ending is Ending.EXCEEDS  # half of the couple at least bends one side, wherever it stands


def test_joists_along_the_glass() -> None:
    """Blocking across the glass between joists along it: what presses one lifts the other, at the pitch of the mounts."""
    changes = {"joists.direction": "along", "mounts.M1.in_bay": "150 mm"}
    changes |= {f"blocking.{b}.direction": "across" for b in ("B1", "B2")}
    result = check(job_named("garden_deck").with_(changes))
    handed = next(m for m in mounts_of(result) if m.model.name == "M1" and m.combination.id == "ultimate, barrier")
    pair = (handed.M_worst.at(0) + abs(handed.F_Ed.at(handed.worst)) * (28 + 97.5)) / 405
    weight = 1.35 * 25e-6 * 1000 * 1040 * 19 / 2 * 255 / 405
    P, L, p, c = pair + weight, 2400.0, 500.0, 300.0
    q = 1.35 * 0.2 + 1.5 * 1.1
    sigma = (P * max(L**2 / (8 * p) + p / 8, c * (c / p + 1)) + q * L**2 / 8) / (45 * 195**2 / 6)
    found = next(c for c in result.sound.checks if c.id == "joist.bending.M1")
    assert found.demand is not None and found.demand.at(found.station) == pytest.approx(sigma, rel=1e-9)


def test_two_mounts_on_one_joist_add_their_couples() -> None:
    """Bays side by side share a joist: M1 to the left of it, M2 to the right, each with its share of the same load."""
    apart = joists(job_named("garden_deck"))["joist.bending"]
    shared = joists(job_named("garden_deck").with_({"mounts.M2.x": "680 mm", "mounts.M1.x": "230 mm"}))["joist.bending"]
    assert apart.demand is not None and shared.demand is not None
    assert shared.demand.at(shared.station) > 1.15 * apart.demand.at(apart.station)


def test_what_lies_on_a_joist_holds_it_down() -> None:
    """Without a rating the dead load alone may do; where it does not, nobody knows, and the question is asked."""
    heavy = joists(job_named("garden_deck"), **{"outer.uplift": None, "dead_load": "1.0 kN/m"})["joist.outer.uplift"]
    assert heavy.ending is Ending.WITHIN and "alone" in heavy.reason
    light = joists(job_named("garden_deck"), **{"outer.uplift": None, "dead_load": "0.02 kN/m"})["joist.outer.uplift"]
    assert light.ending is Ending.NOT_CHECKED and "joists.outer.uplift" in light.reason


def test_slip_and_joists_are_in_the_movement() -> None:
    """Turns by hand: slip of both ends of two pieces 120 mm apart, and the slope of the joist under its couple on the overhang."""
    result = result_of("garden_deck")
    movement = next(c for c in result.sound.checks if c.id == "movement.P3")
    stiff = check(result.job.with_({f"blocking.B1.{s}.stiffness": "1000 kN/mm" for s in ("left", "right")}))
    rigid = next(c for c in stiff.sound.checks if c.id == "movement.P3")
    assert movement.demand is not None and rigid.demand is not None
    q, top = 0.74, 1100.0
    T = q * 1000 / 2 * (top + 28 + 97.5)  # half of the line load on each of two mounts alike
    turn = T * ((205 / 405) ** 2 + (200 / 405) ** 2) / (2 * 60**2) * (1 / 8e3 - 1 / 1e6)
    sway = turn * (1040 + 60 + 28 + 97.5)
    at = movement.station
    assert movement.demand.at(at) - rigid.demand.at(at) == pytest.approx(sway, rel=1e-6)
    unknown = check(result.job.with_({"joists.span": None}))
    made = next(c for c in unknown.sound.checks if c.id == "movement.P3")
    assert made.ending is Ending.NOT_CHECKED and "joists.span" in made.reason


def test_of_two_things_lacking_the_reason_is_that_of_the_one_named_first() -> None:
    """Nails at the ends, of whose slip AS 1720.1 says nothing, and a span nobody measured: the word before both is the slip's."""
    nails = {"fixing": "nails", "number": 3, "diameter": "3.15 mm", "length": "90 mm"}
    ends = {f"blocking.{b}.{s}": nails for b in ("B1", "B2") for s in ("left", "right")}

    def reason(**changes: object) -> str:
        job = job_named("au_deck").with_({"situations": None, "limits.top_movement": "500 mm", **changes})
        movement = next(c for c in sound(job).checks if c.id == "movement.P3")
        assert movement.lack is not None and movement.reason.startswith(f"{movement.lack}: ")
        return movement.reason

    slip, span, both = reason(**ends), reason(**{"joists.span": None}), reason(**ends, **{"joists.span": None})
    assert slip.startswith("not in this basis: ") and span.startswith("input missing: ")
    assert both.startswith(slip) and both.endswith(span.rpartition(": ")[2])


def test_the_mount_on_the_softer_ends_gives_the_movement() -> None:
    """M1 near the left end has next to nothing of a point load at the right, and M2 some of every load: M1 still gives most.

    Ends of M1 of 4 kN/mm and then of 3: what they add is the slip by hand, under the largest turning effect M1 has.
    """

    def moved(K: float) -> tuple[float, float]:
        ends = {f"blocking.B1.{side}.stiffness": f"{K} kN/mm" for side in ("left", "right")}
        stiff = {f"blocking.B2.{side}.stiffness": "8 kN/mm" for side in ("left", "right")}
        job = job_named("garden_deck").with_(
            {"situations": None, "mounts.M1.x": "100 mm", "mounts.M2.x": "400 mm", **ends, **stiff}
        )
        result = check(job)
        (shown,) = (s.value for link in result.links for s in link.shown if s.title == "of it by end fixings and joists, panel P3")
        T = max(
            float((np.asarray(m.service.M.x) + np.abs(m.service.F.x) * (28 + 97.5)).max())
            for m in mounts_of(result) if m.model.name == "M1" and "wind" not in m.combination.id
        )  # fmt: skip
        return float(np.max(shown.x)), T

    (soft, T), (softer, again) = moved(4), moved(3)
    turn = T * ((205 / 405) ** 2 + (200 / 405) ** 2) / (2 * 60**2) * (1 / 3000 - 1 / 4000)
    assert again == pytest.approx(T, rel=1e-6)
    assert softer - soft == pytest.approx(turn * (1040 + 60 + 28 + 97.5), rel=1e-6)


@pytest.mark.parametrize("in_bay", [7.25, 9.5])
def test_loads_in_the_plane_reach_the_ends_and_the_joists(in_bay: float) -> None:
    """US deck, 200 lbf along the top edge: couple, turn and push of a mount go to the ends by statics, lifted and pressed.

    V = (N (L - a) + M + F (t_d + h/2))/L with the mount's own share of the load (IBC 1607.9.1.1, any direction; by the share
    itself from statics of the panel, tested elsewhere).
    """
    result = check(job_named("us_deck").with_({"mounts.M1.in_bay": f"{in_bay} in"}))
    shares = [s for s in result.handed_on.shares if s.model.name == "M1"]
    inch = 25.4
    a, L, t, h = in_bay * inch, 14.5 * inch, 1.0 * inch, 7.5 * inch
    lift = press = lift_joist = 0.0
    for s in shares:
        for i in range(len(s.labels)):
            N, M, F = s.down.at(i) + s.weight.at(i), abs(s.turn.at(i)), abs(s.push.at(i))
            pressed = s.down.at(i) + s.pressing.at(i)  # weight holds down at its least and presses at its most
            couple = M + F * (t + h / 2)
            lift = max(lift, (max(-N, 0.0) * (L - a) + couple) / L)
            nearer = max(a, L - a)  # the joist nearer to the mount has more; joists are 2x8
            lift_joist = max(lift_joist, (max(-N, 0.0) * nearer + M + F * (t + 7.25 * inch / 2)) / L)
            press = max(press, (max(pressed, 0.0) * (L - a) + couple) / L)
    for way, largest in (("uplift", lift), ("down", press)):
        made = ends(result, way)[f"blocking.end.left.{way}.M1"]
        assert made.demand is not None and made.standing is Standing.REQUIRED
        assert made.demand.at(made.station) == pytest.approx(largest, rel=1e-9)
    joist = next(c for c in result.sound.checks if c.id == "joist.outer.uplift.M1")
    assert "along" in joist.where and joist.eta is not None
    # Joists 7 ft between supports, the mounts 4 in from the end of 12 in of overhang: 8 in beyond the outer support.
    assert joist.demand is not None and joist.demand.at(joist.station) == pytest.approx(lift_joist * (84 + 8) / 84, rel=1e-9)


# ---------------------------------------------------------------- glass in its clamps


@pytest.mark.parametrize("key", ["slip_along", "slip_up"])
def test_slip_decides_where_the_basis_asks_for_the_load(key: str) -> None:
    """US loads act in any direction: without the supplier's value the job is not checked, with one too small it exceeds.

    EN names loads across the barrier only: there the same comparison informs.
    """
    rated = {
        "moment": "25000 lbf in", "meaning": "allowable", "tested": 5, "substrate": "timber", "height": "42 in", "glass": "1/2 in",
        "screws": "4 x 3/8 in", "reference": "invented",
    }  # fmt: skip
    us, id = job_named("us_deck"), f"clamp.{key}.P1"

    def slip(value: str | None) -> Check:
        given = {"slip_along": "5 kN", "slip_up": "5 kN"} | {key: value}
        full = {**rated, **{k: v for k, v in given.items() if v is not None}}
        result = check(us.with_({f"mounts.{m}.rating": full for m in ("M1", "M2")}))
        return next(c for c in result.sound.checks if c.id == id)

    assert [(c.standing, c.ending) for c in (slip(None), slip("0.1 kN"), slip("5 kN"))] == [
        (Standing.REQUIRED, e) for e in (Ending.NOT_CHECKED, Ending.EXCEEDS, Ending.WITHIN)
    ]
    informs = next(c for c in result_of("garden_deck").sound.checks if c.id.startswith(f"clamp.{key}"))
    assert informs.standing is Standing.INFORMATION
