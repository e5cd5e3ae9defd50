"""What a mount hands on to the deck: a table of forces for whoever designs joists, ledger and posts; no check.

Two levels (the one strength is checked at, and the characteristic one on an elastic bed) by two directions; every figure is
the largest over the combinations that decide. Forces on the ends of pieces are the largest over the stiffness bracket and over
both ways the lever of the push may be held, down positive; a torque is positive where it turns the drop side down.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from barrier.links.blocking.ends import SIDES
from barrier.links.blocking.force_sets import COMPONENTS, ForceSet, force_sets, handed_on
from barrier.links.blocking.piece_forces import PieceForces, forces_on_pieces
from barrier.links.blocking.to_joists import Level, Push, State, Wrench, states
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.mount_forces import SIGNS, MountForces
from barrier.links.walk import Walk
from barrier.result import governing
from barrier.value import Value


class ForceRow(NamedTuple):
    """One force in words, and its value by level and direction; None where there is no equilibrium to take it from.

    ``at`` is the end it comes to, by piece and side, and its component; empty where it is that of the whole mount.
    """

    words: str
    values: tuple[Value | None, ...]
    at: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class ForceTable:
    """The forces of one mount; ``columns`` names level and direction of each value of a row; ``pieces`` are the
    forces on pieces of blocking at the level of strength, where there are any and they are in equilibrium. ``mount`` and
    ``pieces`` are of the combination with the largest moment, ``combinations`` names all the rows are the largest of. ``sets``
    are forces that come at once, at the level of strength; none where one combination has no equilibrium."""

    mount: MountForces
    columns: tuple[str, ...]
    rows: tuple[ForceRow, ...]
    pieces: PieceForces | None
    combinations: tuple[str, ...]
    sets: tuple[ForceSet, ...]


def force_table(walk: Walk, lead: MountForces, every: Sequence[MountForces], weight: Value) -> ForceTable:
    """Forces of a mount on what it stands on, the largest over ``every`` combination of it.

    ``lead`` is the one with the largest moment; ``weight`` is that of the glass on the mount.
    """
    below = [[states(walk, f, level) for level in _levels(f)] if _hands_on(f.model) else [] for f in every]
    found = [tuple(_rows(walk, f, _levels(f), weight, at)) for f, at in zip(every, below, strict=True)]
    columns = tuple(f"{level.name}, {sign}" for level in _levels(lead) for sign in SIGNS)
    held = lead.model.blocking is not None and all(c.contact.equilibrium for c in lead.at_design)
    pieces = forces_on_pieces(lead, lead.at_design) if held else None
    rows = tuple(_largest(same) for same in zip(*found, strict=True))
    at_strength = [(f, at[0]) for f, at in zip(every, below, strict=True) if at]
    return ForceTable(lead, columns, rows, pieces, tuple(f.combination.id for f in every), _sets(walk, lead.model, at_strength))


def _sets(
    walk: Walk, model: MountModel, at_strength: Sequence[tuple[MountForces, tuple[State, ...] | None]]
) -> tuple[ForceSet, ...]:
    """Forces that come at once; none where one of the combinations has no equilibrium, for it may be the worst."""
    known = [(handed, found) for handed, found in at_strength if found is not None]
    if model.span is None or len(known) < len(at_strength):
        return ()

    def as_it_comes(handed: MountForces) -> tuple[State, ...]:
        level, at = _levels(handed)[0], handed.worst
        return states(walk, handed, level, Push(abs(level.M.at(at)), abs(level.F.at(at)), abs(level.M_z.at(at)))) or ()

    return tuple(force_sets(known, COMPONENTS[model.span.mode], as_it_comes))


def _hands_on(model: MountModel) -> bool:
    """Whether what a mount stands on has ends of its own that hand its forces on."""
    return not model.boards_only and model.span is not None


def _largest(same: Sequence[ForceRow]) -> ForceRow:
    """One row out of those of every combination: the largest figure of each column, none where one has no equilibrium."""

    def of(values: Sequence[Value | None]) -> Value | None:
        known = [v for v in values if v is not None]
        return known[governing([abs(v.at(0)) for v in known])] if len(known) == len(values) else None

    return ForceRow(same[0].words, tuple(of(column) for column in zip(*(r.values for r in same), strict=True)), same[0].at)


def _levels(handed: MountForces) -> tuple[Level, ...]:
    """The two levels of a mount in one combination."""
    return (
        Level(handed.combination.level, handed.M_Ed, handed.F_Ed, handed.M_z, handed.at_design),
        Level("service", handed.service.M, handed.service.F, handed.service.M_z, handed.at_service),
    )


def _rows(
    walk: Walk, handed: MountForces, levels: Sequence[Level], weight: Value, found: Sequence[tuple[State, ...] | None]
) -> Iterator[ForceRow]:
    at = handed.worst
    push = _both(levels, lambda v: float(np.abs(np.asarray(v.F.x))[handed.counted].max()), "force")
    yield ForceRow("push, the largest", push)
    yield ForceRow("moment", _both(levels, lambda v: abs(v.M.at(at)), "moment"))
    twist = _both(levels, lambda v: float(np.abs(np.asarray(v.M_z.x))[handed.counted].max()), "moment")
    yield ForceRow("twist, either way", twist)
    yield ForceRow("weight of the glass, no factor", (weight,) * (2 * len(levels)))
    if _hands_on(handed.model):
        yield from _below(walk, handed, levels, found)


def _below(
    walk: Walk, handed: MountForces, levels: Sequence[Level], found: Sequence[tuple[State, ...] | None]
) -> Iterator[ForceRow]:
    """Forces and torques at the ends of what the mount stands on, the largest of all states of a direction."""
    model = handed.model
    assert model.span is not None
    # No force sideways depends on the contact: one corner of each direction stands for all of them.
    few = [level._replace(corners=[next(c for c in level.corners if c.sign == sign) for sign in SIGNS]) for level in levels]
    twisted = {
        side: [
            None if every is None else states(walk, handed, level, _sideways_most(model, level, handed, side))
            for level, every in zip(few, found, strict=True)
        ]
        for side in SIDES
    }
    held, turned = _by_end(found), {side: _by_end(of) for side, of in twisted.items()}
    for piece in model.pieces:
        for side in SIDES:
            for words, kind, of in COMPONENTS[model.span.mode]:
                at = turned[side] if words == "sideways" else held
                row = tuple(_largest_at(f, (sign, piece.name, side), of, kind) for f in at for sign in SIGNS)
                yield ForceRow(f"{piece.name}, {side} end, {words}", row, (piece.name, side, words))


def _sideways_most(model: MountModel, level: Level, handed: MountForces, side: str) -> Push:
    """The action at the station that pushes this end sideways most: another than that of the largest moment, as a rule."""
    assert model.span is not None
    a, L = model.span.a, model.span.L
    share = (L - a) / L if side == "left" else a / L
    bends = model.span.mode == "bends"
    sizes = [abs(level.M_z.at(i)) / L + (0.0 if bends else abs(level.F.at(i)) * share) for i in handed.counted]
    at = int(handed.counted[governing(sizes)])
    return Push(abs(level.M.at(at)), abs(level.F.at(at)), abs(level.M_z.at(at)))


Ends = Mapping[tuple[str, str, str], list[Wrench]]


def _by_end(found: Sequence[Sequence[State] | None]) -> list[Ends | None]:
    """At every level what comes to an end, by direction, piece and side; None where there is no equilibrium."""
    ends: list[Ends | None] = []
    for every in found:
        at = defaultdict(list)
        for state in every or ():
            for w in state.wrenches:
                at[state.sign, w.piece, w.side].append(w)
        ends.append(None if every is None else at)
    return ends


def _largest_at(ends: Ends | None, place: tuple[str, str, str], of: Callable[[Wrench], float], kind: str) -> Value | None:
    """One component at one end, the largest in size over the states of a direction; None where there is no equilibrium."""
    if ends is None:
        return None
    x = [of(w) for w in ends[place]]
    return handed_on(float(x[governing(np.abs(x))]), kind)


def _both(levels: Sequence[Level], of: Callable[[Level], float], kind: str) -> tuple[Value, ...]:
    return tuple(handed_on(float(of(level)), kind) for level in levels for _ in SIGNS)
