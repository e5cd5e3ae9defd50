"""From the hand to the joist nothing is lost: what is handed to the joists is the action again, about every axis.

Added up here in space, end by end, from positions and components; the only thing taken from the tool is what it says comes to
each end. What a joist does not get is a required check by name.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from conftest import EXAMPLES, job_named, result_of

from barrier.job import Job
from barrier.links.blocking.handed_on import ForceTable
from barrier.links.blocking.to_joists import Level, State, push_of, states
from barrier.links.mount.base_plate import MountForces
from barrier.links.walk import Walk
from barrier.load_path import Result, check
from barrier.result import SOUND, Check, Ending, Standing

CLOSES = 1e-6  # relative to the largest moment; asked for, the contact itself closes to better
VARIANTS: dict[str, dict[str, object]] = {
    "as it is": {},
    "off the middle": {"blocking.B1.length": "600 mm", "mounts.M1.in_bay": "150 mm", "mounts.M1.offset": "10 mm"},
    "laid flat": {"blocking.B1.laid": "flat"},
    "one piece": {"blocking.B1.pieces": 1},
    "across the glass": {"blocking.B1.direction": "across", "mounts.M1.in_bay": "150 mm"},
    "a gap under the boards": {"decking.gap_under": "4 mm"},
    "a screw missing": {"mounts.M1.screws.S1.present": False},
}


def walk_of(result: Result) -> Walk:
    return Walk(result.job, result.basis, result.tables, SOUND)


def mounts_of(result: Result) -> list[MountForces]:
    return list(next(r for r in result.links if r.id == "bearing").handed_on)


def levels(handed: MountForces) -> tuple[Level, Level]:
    s = handed.service
    return (
        Level("strength", handed.M_Ed, handed.F_Ed, handed.M_z, handed.at_design),
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
                if made is None:
                    assert abs(largest) < 1e-9, "a force at an end that nothing compares"
                    continue
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
    return list(next(r for r in result.links if r.id == "blocking").handed_on)


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
