"""What a mount hands on to the deck: a table of forces for whoever designs joists, ledger and posts; no check.

Two levels (the one strength is checked at, and the characteristic one on an elastic bed) by two directions; every figure is
the largest over the combinations that decide. Forces on the ends of pieces are the largest over the stiffness bracket, down
positive; a torque is positive where it turns the drop side down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.links.blocking.across import moments
from barrier.links.blocking.one_section import torque
from barrier.links.blocking.piece_forces import PieceForces, forces_on_pieces
from barrier.links.ground.base_stiffness import piece_forces
from barrier.links.mount.base_plate import SIGNS, Corner, MountForces
from barrier.links.walk import Walk
from barrier.result import governing
from barrier.value import Numerical, Value

Floats = NDArray[np.float64]


class Level(NamedTuple):
    """A level of the action with the mount's moment, push, twist there and its contact in every corner."""

    name: str
    M: Value
    F: Value
    M_z: Value
    corners: Sequence[Corner]


class ForceRow(NamedTuple):
    """One force in words, and its value by level and direction; None where there is no equilibrium to take it from."""

    words: str
    values: tuple[Value | None, ...]


@dataclass(frozen=True, slots=True, eq=False)
class ForceTable:
    """The forces of one mount; ``columns`` names level and direction of each value of a row; ``pieces`` are the
    forces on pieces of blocking at the level of strength, where there are any and they are in equilibrium. ``mount`` and
    ``pieces`` are of the combination with the largest moment, ``combinations`` names all the rows are the largest of."""

    mount: MountForces
    columns: tuple[str, ...]
    rows: tuple[ForceRow, ...]
    pieces: PieceForces | None
    combinations: tuple[str, ...]


def force_table(walk: Walk, lead: MountForces, every: Sequence[MountForces], weight: Value) -> ForceTable:
    """Forces of a mount on what it stands on, the largest over ``every`` combination of it.

    ``lead`` is the one with the largest moment; ``weight`` is that of the glass on the mount.
    """
    found = [tuple(_rows(walk, f, _levels(f), weight)) for f in every]
    columns = tuple(f"{level.name}, {sign}" for level in _levels(lead) for sign in SIGNS)
    held = lead.model.blocking is not None and all(c.contact.equilibrium for c in lead.at_design)
    pieces = forces_on_pieces(lead, lead.at_design) if held else None
    rows = tuple(_largest(same) for same in zip(*found, strict=True))
    return ForceTable(lead, columns, rows, pieces, tuple(f.combination.id for f in every))


def _largest(same: Sequence[ForceRow]) -> ForceRow:
    """One row out of those of every combination: the largest figure of each column, none where one has no equilibrium."""

    def of(values: Sequence[Value | None]) -> Value | None:
        known = [v for v in values if v is not None]
        return known[governing([abs(v.at(0)) for v in known])] if len(known) == len(values) else None

    return ForceRow(same[0].words, tuple(of(column) for column in zip(*(r.values for r in same), strict=True)))


def _levels(handed: MountForces) -> tuple[Level, ...]:
    """The two levels of a mount in one combination."""
    return (
        Level(handed.combination.level, handed.M_Ed, handed.F_Ed, handed.M_z, handed.at_design),
        Level("service", handed.service.M, handed.service.F, handed.service.M_z, handed.at_service),
    )


def _rows(walk: Walk, handed: MountForces, levels: Sequence[Level], weight: Value) -> Iterator[ForceRow]:
    at = handed.worst
    yield ForceRow("push", _both(levels, lambda v: abs(v.F.at(at)), "force"))
    yield ForceRow("moment", _both(levels, lambda v: abs(v.M.at(at)), "moment"))
    twist = _both(levels, lambda v: float(np.abs(np.asarray(v.M_z.x))[handed.counted].max()), "moment")
    yield ForceRow("twist, either way", twist)
    yield ForceRow("weight of the glass", (weight,) * (2 * len(levels)))
    yield from _below(walk, handed, levels)


def _below(walk: Walk, handed: MountForces, levels: Sequence[Level]) -> Iterator[ForceRow]:
    """Forces at the ends of what the mount stands on."""
    model, at = handed.model, handed.worst
    block, joists = model.blocking, walk.job.joists
    a = float(model.mount.in_bay.x)
    if model.boards_only:
        return
    if block is None or (block.direction == "along" and len(model.pieces) == 1):
        span = joists.restraint_spacing if block is None else block.length
        depth = joists.depth if block is None else block.laid_depth
        if span is None or depth is None:
            return
        L = float(span.x)
        T = [abs(_torque_at(walk, handed, level, depth).at(at)) for level in levels]
        for side, share in (("left", (L - a) / L), ("right", a / L)):
            signed = [way * share * t for t in T for way in (1.0, -1.0)]
            yield ForceRow(f"torque, {side} end", tuple(_value(x, "moment") for x in signed))
        return
    for p, piece in enumerate(model.pieces):
        for side in ("left", "right"):
            found = tuple(_end(handed, level, sign, p, side) for level in levels for sign in SIGNS)
            yield ForceRow(f"{piece.name}, {side} end", tuple(None if x is None else _value(x, "force") for x in found))


def _torque_at(walk: Walk, handed: MountForces, level: Level, depth: Value) -> Value:
    return torque(walk, handed.model, level.M, level.F, depth.named("h_s"))


def _end(handed: MountForces, level: Level, sign: str, piece: int, side: str) -> float | None:
    """Force at one end of one piece, the largest over the stiffness bracket, down positive."""
    model = handed.model
    assert model.blocking is not None
    corners = [c for c in level.corners if c.sign == sign]
    if not all(c.contact.equilibrium for c in corners):
        return None
    a, L = float(model.mount.in_bay.x), float(model.blocking.length.x)
    P = np.array([piece_forces(model, c.contact)[piece] for c in corners])
    m = moments(handed, corners)[:, piece] if model.blocking.direction != "along" else np.zeros(len(corners))
    ends = (P * (L - a) - m) / L if side == "left" else (P * a + m) / L
    return float(ends[governing(np.abs(ends))])


def _both(levels: Sequence[Level], of: Callable[[Level], float], kind: str) -> tuple[Value, ...]:
    return tuple(_value(float(of(level)), kind) for level in levels for _ in SIGNS)


def _value(x: float, kind: str) -> Value:
    origin = Numerical("force handed on to the deck", "equilibrium of the mount and its pieces", "contact model of this project")
    return Value(x, kind, origin)
