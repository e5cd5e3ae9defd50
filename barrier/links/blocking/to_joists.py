"""Everything a mount hands to the joists, as forces and moments in space: what is added up here is the action again.

The axes are those of the glass: x along it, y towards the drop side, z up, from the middle of the underside of the base
plate. A state is one way in which mount and pieces are in equilibrium (direction, end of the stiffness bracket, lever of the
push). The force table is read off these states, and a test adds them up about every axis.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.links.blocking.across import moments
from barrier.links.blocking.piece_actions import LEVERS, PRESSES, screws_by_piece, spread
from barrier.links.blocking.piece_forces import own_moments
from barrier.links.ground.base_stiffness import piece_forces
from barrier.links.ground.geometry import MountModel, Span
from barrier.links.mount.mount_forces import Corner, MountForces
from barrier.links.walk import Walk
from barrier.value import Value

Floats = NDArray[np.float64]
ENDS = ("left", "right")


class Level(NamedTuple):
    """A level of the action with the mount's moment, push, twist there and its contact in every corner."""

    name: str
    M: Value
    F: Value
    M_z: Value
    corners: Sequence[Corner]


class Held(NamedTuple):
    """A mount held in one corner: what comes to each piece, and its moment about the piece's own centre line; N, N mm."""

    corner: Corner
    P: Floats
    T: Floats


class Wrench(NamedTuple):
    """What comes to one end of one piece: where, the force and the moment there, all in N and mm along x, y, z."""

    piece: str
    side: str
    at: tuple[float, float, float]
    force: tuple[float, float, float]
    moment: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class State:
    """One state of equilibrium: the direction of the push, what else it is named by, the action, what comes to every end.

    ``N`` is what presses on the mount as the weight of the glass, where the state has it.
    """

    sign: str
    label: str
    push: Push
    wrenches: tuple[Wrench, ...]
    N: float = 0.0

    @property
    def action(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        """Force and moment on the mount, about the axes of the glass."""
        way = PRESSES[self.sign]
        return (0.0, way * self.push.F, -self.N), (-way * self.push.M, 0.0, self.push.M_z)


@dataclass(frozen=True, slots=True)
class Push:
    """The action of one mount at a level: moment about the underside of the plate, push (both positive), twist; N and mm."""

    M: float
    F: float
    M_z: float


def push_of(handed: MountForces, level: Level) -> Push:
    """The action at the station of the largest moment, with the largest twist of those that count."""
    at = handed.worst
    twist = float(np.abs(np.asarray(level.M_z.x))[handed.counted].max())
    return Push(abs(level.M.at(at)), abs(level.F.at(at)), twist)


def states(walk: Walk, handed: MountForces, level: Level, push: Push | None = None) -> tuple[State, ...] | None:
    """What comes to the joists in every state; None where there is no equilibrium, or nobody knows what spans there.

    ``push`` is the action of another station than the largest moment's: what it pushes and twists is its own then, what bears
    and pulls stays that of the contact.
    """
    model = handed.model
    push = push_of(handed, level) if push is None else push
    both = (push, replace(push, M_z=-push.M_z))
    if model.blocking is None or (model.blocking.direction == "along" and len(model.pieces) == 1):
        return None if model.span is None else tuple(s for p in both for s in _one_piece(walk, handed, model.span, p))
    if not all(c.contact.equilibrium for c in level.corners):
        return None
    make = _loose if model.blocking.direction == "along" else _across
    held = [Held(c, piece_forces(model, c.contact), own_moments(handed, c.contact)) for c in level.corners]
    return tuple(s for p in both for s in make(walk, handed, held, p))


def below(walk: Walk, model: MountModel, depth: float) -> float:
    """From the underside of the base plate down to the middle of a section of this depth, mm."""
    decking = walk.job.decking
    if model.boards_only:
        return float(model.packing.x) + depth / 2
    assert decking.gap_under is not None
    return float(model.packing.x) + float(decking.thickness.x) + float(decking.gap_under.x) + depth / 2


def _one_piece(walk: Walk, handed: MountForces, span: Span, push: Push) -> Iterator[State]:
    """One section under a mount, blocking or edge joist, or the bare board: it takes the whole torque, or bends with it."""
    model = handed.model
    a, L, z = span.a, span.L, below(walk, model, span.depth)
    y = model.pieces[0].centre if model.blocking is not None else 0.0
    lever, bends = push.M + push.F * z, model.boards_only and walk.job.decking.direction != "along"
    for sign, way in PRESSES.items():
        wrenches = []
        for side, x, share, turn in (("left", -a, (L - a) / L, -1.0), ("right", L - a, a / L, 1.0)):
            if bends:
                pushed = (-turn * push.M_z / L, way * push.F * share, -way * turn * lever / L)
                wrenches.append(Wrench("board", side, (0.0, x, -z), pushed, (0.0, 0.0, 0.0)))
            else:
                pushed = (0.0, way * push.F * share + turn * push.M_z / L, 0.0)
                wrenches.append(Wrench(model.pieces[0].name, side, (x, y, -z), pushed, (-way * share * lever, 0.0, 0.0)))
        yield State(sign, sign, push, tuple(wrenches))


def _loose(walk: Walk, handed: MountForces, held: Sequence[Held], push: Push) -> Iterator[State]:
    model = handed.model
    assert model.blocking is not None
    a, L = float(model.mount.in_bay.x), float(model.blocking.length.x)
    z = below(walk, model, float(model.blocking.laid_depth.x))
    share = np.array(screws_by_piece(model), dtype=float)
    share /= share.sum()
    shares = share.tolist()
    for lever in LEVERS:
        for c, pushed, turned in held:
            way = PRESSES[c.sign]
            if lever == LEVERS[0]:
                pushed = pushed + way * push.F * z * spread(model)
            else:
                turned = turned + way * push.F * z * share
            P, T = pushed.tolist(), turned.tolist()  # plain numbers: made some thousand times in a check
            wrenches = []
            for i, piece in enumerate(model.pieces):
                for side, x, w, turn in (("left", -a, (L - a) / L, -1.0), ("right", L - a, a / L, 1.0)):
                    sideways = (way * push.F * w + turn * push.M_z / L) * shares[i]
                    wrenches.append(
                        Wrench(piece.name, side, (x, piece.centre, -z), (0.0, sideways, -P[i] * w), (-T[i] * w, 0.0, 0.0))
                    )
            yield State(c.sign, f"{c.label}, {lever}", push, tuple(wrenches), _weight(handed, c))


def _across(walk: Walk, handed: MountForces, held: Sequence[Held], push: Push) -> Iterator[State]:
    model = handed.model
    assert model.blocking is not None
    a, L = float(model.mount.in_bay.x), float(model.blocking.length.x)
    z = below(walk, model, float(model.blocking.laid_depth.x))
    share = np.array(screws_by_piece(model), dtype=float)
    share /= share.sum()
    turned = moments(handed, [c for c, _, _ in held])
    for k, (c, P, T) in enumerate(held):
        way = PRESSES[c.sign]
        m = turned[k] + way * push.F * z * share
        pressed = "right" if way > 0.0 else "left"
        wrenches = []
        for i, piece in enumerate(model.pieces):
            for side, y, V, w, turn in (
                ("left", -a, (P[i] * (L - a) - m[i]) / L, (L - a) / L, 1.0), ("right", L - a, (P[i] * a + m[i]) / L, a / L, -1.0)
            ):  # fmt: skip
                thrust = way * push.F * share[i] if side == pressed else 0.0
                force = (turn * push.M_z / L * share[i], thrust, -V)
                wrenches.append(Wrench(piece.name, side, (piece.centre, y, -z), force, (0.0, T[i] * w, 0.0)))
        yield State(c.sign, c.label, push, tuple(wrenches), _weight(handed, c))


def _weight(handed: MountForces, corner: Corner) -> float:
    """The weight that presses on the mount in a contact at the design action, N."""
    return float(handed.weight.x) if corner.weighs else 0.0
