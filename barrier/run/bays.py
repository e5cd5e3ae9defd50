"""Where a mount may stand: in a bay between joists, on its piece of blocking, clear of the gaps between boards.

A screw needs a distance from the end and from the edge of its piece; both come in as lengths (ten and four diameters by
EN 1995-1-1 Table 8.6, or what the basis of a job says). A tolerance is taken off every one of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class Fixing:
    """What a mount's screws need: half their spacing along and across the line, diameter, end and edge distance, tolerance; mm."""

    half_along: float
    half_across: float
    diameter: float
    end: float
    edge: float
    tolerance: float = 5.0


@dataclass(frozen=True, slots=True)
class Interval:
    """From here to there, mm; empty where there is nothing between."""

    low: float
    high: float

    @property
    def length(self) -> float:
        """How long it is, nothing where it is empty, mm."""
        return max(self.high - self.low, 0.0)

    def __contains__(self, x: float) -> bool:
        return self.low <= x <= self.high


class Clash(StrEnum):
    """What is wrong with a place."""

    NONE = "none"
    END_SHORT = "end distance short"
    IN_THE_JOINT = "a screw in or over the joint of joist and piece"


def window(spacing: float, joist: float, fixing: Fixing) -> Interval:
    """Where the centre of a mount may stand between two joists, mm from the centre of the left one.

    ``spacing`` of the two joists, centre to centre, mm; ``joist`` their width, mm. The piece runs from face to face.

    >>> w = window(450, 45, Fixing(35, 35, 8, 80, 32))
    >>> w, w.length
    (Interval(low=142.5, high=307.5), 165.0)
    """
    away = joist / 2 + fixing.end + fixing.tolerance + fixing.half_along
    return Interval(away, spacing - away)


def offsets_along(rim: float, piece: float, fixing: Fixing) -> Interval:
    """How far the glass may stand from the deck edge with pieces that run along it, inside a rim joist, mm.

    ``rim`` width of the rim or edge joist, mm; ``piece`` breadth of the blocking seen from above (all of a factory-laminated
    one, a single one of loose pieces), mm. Empty where no offset works: a larger piece or a smaller screw is wanted.

    >>> offsets_along(45, 145, Fixing(35, 35, 8, 80, 32))
    Interval(low=117.0, high=118.0)
    """
    away = fixing.edge + fixing.tolerance + fixing.half_across
    return Interval(rim + away, rim + piece - away)


def least_offset_across(joist: float, fixing: Fixing) -> float:
    """Least distance of the glass from the deck edge with pieces that run across from the edge joist, mm.

    >>> least_offset_across(45, Fixing(35, 35, 8, 80, 32))
    165.0
    """
    return joist + fixing.end + fixing.tolerance + fixing.half_across


@dataclass(frozen=True, slots=True)
class Place:
    """A mount in its bay: number of the bay from the datum, distance from the face of the joist on its left, length of the
    piece it stands on, what clashes and by how much, and what it has to spare where nothing does; mm."""

    at: float
    bay: int
    from_face: float
    piece: float
    clash: Clash
    short: float
    spare: float

    def ends(self, fixing: Fixing) -> tuple[float, float]:
        """Distance of the nearest screw from the left and the right end of the piece, mm."""
        return self.from_face - fixing.half_along, self.piece - self.from_face - fixing.half_along


def joists_from(first: float, spacing: float, until: float) -> tuple[float, ...]:
    """Centres of joists at an even spacing, from the first to the first one at or beyond ``until``, mm from the datum.

    >>> joists_from(-142.5, 450, 800)
    (-142.5, 307.5, 757.5, 1207.5)
    """
    centres = [first]
    while centres[-1] < until:
        centres.append(first + len(centres) * spacing)
    return tuple(centres)


def place(at: float, joists: Sequence[float], joist: float, fixing: Fixing) -> Place | None:
    """Where a mount stands among the joists; None outside them.

    ``at`` centre of the mount, mm from the datum; ``joists`` their centres, in order; ``joist`` their width, mm.

    >>> place(946, joists_from(-142.5, 450, 7000), 45, Fixing(35, 35, 8, 80, 32)).from_face
    166.0
    """
    for bay, (left, right) in enumerate(pairwise(joists)):
        if not left <= at < right:
            continue
        from_face, piece = at - left - joist / 2, right - left - joist
        near = min(from_face, piece - from_face) - fixing.half_along  # nearest screw to an end of the piece
        short = fixing.end + fixing.tolerance - near
        clash = Clash.NONE if short <= 0.0 else Clash.END_SHORT
        if near < fixing.diameter / 2:
            clash = Clash.IN_THE_JOINT
        return Place(at, bay, from_face, piece, clash, max(short, 0.0), -min(short, 0.0) + 0.0)
    return None


@dataclass(frozen=True, slots=True)
class Boards:
    """Boards that run across the line: width and gap, and where the first one begins, mm from the datum."""

    width: float
    gap: float
    first: float

    def gap_near(self, x: float, within: float) -> Interval | None:
        """The gap between two boards nearer than ``within`` to a point, mm; None where there is none.

        >>> Boards(140, 5, -118).gap_near(314, 0)
        Interval(low=312, high=317)
        """
        pitch = self.width + self.gap
        number = round((x - self.first + self.gap / 2) / pitch)
        if number < 1:  # before the first board there is no gap between two
            return None
        low = self.first + number * pitch - self.gap
        found = Interval(low, low + self.gap)
        return found if found.low - within <= x <= found.high + within else None
