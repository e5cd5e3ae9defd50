"""Where a mount that clashes could go instead: the least move along the tape after which it clashes with nothing, and what moves
with it.

A move is never made here. It is offered with its direction, its amount and the place it comes to, and that place was looked at
as the first one was: joints, ends and edges of pieces, gaps between boards, obstacles, neighbours' pieces, edge distances in the
panel.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from barrier.run.bays import Fixing
from barrier.run.conflicts import Conflict, Kind, Limits, Weight, of_side
from barrier.run.side import Mount, Piece, SideSet, set_out

STEP = 5  # mm: moves are whole fives, so that they are read off a tape without fault
MOST = 60  # mm: further away it is another division
OF_ONE_MOUNT = (Kind.JOINT, Kind.BOARD, Kind.NARROW, Kind.OBSTACLE)
AGAIN = "That is another condition: have it checked again before it is built."


@dataclass(frozen=True, slots=True)
class Move:
    """A mount moved: by how much (mm, above nought further along the tape), where it stands then, its piece, and whether that piece
    moves with it."""

    mount: str
    by: int
    at: float
    piece: Piece | None
    with_piece: bool


Own = Mapping[str, Fixing]  # what the screws of panels with mounts of their own need, by name of the panel


def moved(side: SideSet, name: str, by: float, fixing: Fixing, own: Own | None = None) -> SideSet:
    """The side set out again with one mount further along the tape by so much, mm (below nought: back towards its start)."""
    places = [[m.at - p.strip.left + (by if m.name == name else 0.0) for m in p.mounts] for p in side.panels]
    return set_out(side.name, side.division, places, side.ground, fixing, side.start, side.end, side.to_the_right, side.fall, own)


def least_move(side: SideSet, mount: Mount, fixing: Fixing, limits: Limits, own: Own | None = None) -> Move | None:
    """The least move in whole fives after which this mount clashes with nothing; None where there is none within sixty.

    Of two as long the one towards the middle of the panel is taken. A mount beside a corner only moves away from it. Raises
    nothing.
    """
    before = _against(side, mount.name, fixing, limits)
    for by in _tries(side, mount):
        there = moved(side, mount.name, by, fixing, own)
        if any(a.high > b.low for a, b in pairwise(sorted(there.pieces, key=lambda q: q.low))):
            continue
        after = _against(there, mount.name, fixing, limits)
        if not any(c.weight is Weight.CLASH for c in after) and not _new(before, after):
            piece = next((q for q in there.pieces if mount.name in q.mounts), None)
            return Move(mount.name, by, mount.at + by, piece, not side.ground.across)
    return None


def _new(before: Sequence[Conflict], after: Sequence[Conflict]) -> bool:
    """Whether a move brings a finding of a kind that was not there."""
    return bool({c.kind for c in after} - {c.kind for c in before})


def _against(side: SideSet, name: str, fixing: Fixing, limits: Limits) -> tuple[Conflict, ...]:
    """Findings against one mount: its own, those of its piece, and the edge distance it has in its panel."""
    panel = next(p for p in side.panels if any(m.name == name for m in p.mounts))
    own = {name, panel.name, *(q.mark for q in side.pieces if name in q.mounts)}
    light = {p.name: 0.0 for p in side.panels}  # mass has nothing to do with a move
    alone = (*OF_ONE_MOUNT, Kind.UNEQUAL)
    return tuple(c for c in of_side(side, fixing, limits, light) if c.kind in alone and len(c.whom) == 1 and c.whom[0] in own)


def _tries(side: SideSet, mount: Mount) -> Iterator[int]:
    panel = next(p for p in side.panels if mount in p.mounts)
    inward = 1 if mount.at <= (panel.strip.left + panel.strip.right) / 2 else -1
    by_corner = {0: 1} if side.start == "corner" else {}
    if side.end == "corner":
        by_corner[len(side.mounts) - 1] = -1
    only = by_corner.get(side.mounts.index(mount))
    for far in range(STEP, MOST + 1, STEP):
        for way in (inward, -inward):
            if only in (None, way):
                yield way * far


def with_moves(
    side: SideSet, fixing: Fixing, limits: Limits, masses: Mapping[str, float], own: Own | None = None
) -> Iterator[Conflict]:
    """Every finding of a side, those of a single mount with the move that cures them in place of the general words."""
    mounts = {m.name: m for m in side.mounts}
    for c in of_side(side, fixing, limits, masses):
        alone = c.weight is Weight.CLASH and c.kind in OF_ONE_MOUNT and len(c.whom) == 1 and c.whom[0] in mounts
        yield replace(c, cure=_words(side, mounts[c.whom[0]], fixing, limits, own)) if alone else c


def _words(side: SideSet, mount: Mount, fixing: Fixing, limits: Limits, own: Own | None) -> str:
    """The move in words: which way, how far, from where to where, and what goes with it."""
    move = least_move(side, mount, fixing, limits, own)
    if move is None:
        return f"no place for it within {MOST} mm either way: another division of the side, another panel width, or other timber"
    way = "further along the tape, away from 0" if move.by > 0 else "back along the tape, towards 0"
    low, high = move.at - fixing.half_along, move.at + fixing.half_along
    said = (
        f"move {move.mount} {abs(move.by)} mm {way}: its middle from {mount.at:g} to {move.at:g}, its screws to {low:g} and "
        f"{high:g}"
    )
    if move.piece is None:
        return f"{said}. {AGAIN}"
    if move.with_piece:
        with_it = f"Its piece {move.piece.mark} moves with it, to {move.piece.low:g} to {move.piece.high:g}"
        return f"{said}. {with_it}. {AGAIN}"
    ends = f"its screws are then {low - move.piece.low:g} and {move.piece.high - high:g} from its ends"
    return f"{said}. Its piece {move.piece.mark} stays; {ends}. {AGAIN}"
