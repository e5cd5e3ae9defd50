"""What of the timber lies under a mount, seen from above: the pieces, and the zones of the plate that bear on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from barrier.job import Job
from barrier.job.schema import Blocking, Mount
from barrier.mechanics import contact
from barrier.mechanics.polygons import circle, clip_to_rectangle, rectangle

Polygon = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A piece of blocking under a mount: its name, its footprint, and its centre line (y along the glass, else x)."""

    name: str
    outline: Polygon
    centre: float
    low: float
    high: float


def edge_joist(job: Job, mount: Mount) -> tuple[Piece, ...]:
    """The edge joist under a mount: it runs along the glass, further than any plate."""
    width = job.joists.width
    assert width is not None
    half, far = float(width.x) / 2, 2 * float(mount.plate.along.x)
    low, high = -float(mount.offset.x) - half, -float(mount.offset.x) + half
    return (Piece("edge joist", rectangle(-far, far, low, high), (low + high) / 2, low, high),)


def board(job: Job, mount: Mount) -> tuple[Piece, ...]:
    """The board a mount stands on where there is nothing else; the mount is taken to stand in the middle of it."""
    width = job.decking.board_width
    assert width is not None
    half, far = float(width.x) / 2, max(float(mount.plate.along.x), float(mount.plate.across.x))
    low, high = -float(mount.offset.x) - half, -float(mount.offset.x) + half
    along = job.decking.direction == "along"
    outline = rectangle(-far, far, low, high) if along else rectangle(low, high, -far, far)
    return (Piece("board", outline, (low + high) / 2, low, high),)


def pieces_of_blocking(mount: Mount, blocking: Blocking) -> tuple[Piece, ...]:
    """The pieces of a blocking under a mount, seen from the middle of its plate; glued in a factory they are one."""
    count = int(blocking.pieces)
    breadth, length = float(blocking.laid_breadth.x), float(blocking.length.x)
    along = blocking.direction == "along"
    start, offset = float(mount.in_bay.x), float(mount.offset.x)
    first = -offset - count * breadth / 2
    if blocking.laminated == "factory":
        count, breadth = 1, count * breadth
    found = []
    for i in range(count):
        low, high = first + i * breadth, first + (i + 1) * breadth
        ends = (-start, length - start)
        outline = rectangle(*ends, low, high) if along else rectangle(low, high, *ends)
        found.append(Piece(f"piece {i + 1}", outline, (low + high) / 2, low, high))
    return tuple(found)


def bearing_zones(mount: Mount, pieces: Sequence[Piece]) -> tuple[contact.Zone, ...]:
    """What bears: the plate (or its packers) where it lies over a piece, holes taken out."""
    plate = mount.plate
    half_x, half_y = float(plate.along.x) / 2, float(plate.across.x) / 2
    if mount.packers:
        areas = [
            rectangle(
                float(p.x.x) - float(p.along.x) / 2,
                float(p.x.x) + float(p.along.x) / 2,
                float(p.y.x) - float(p.across.x) / 2,
                float(p.y.x) + float(p.across.x) / 2,
            )
            for p in mount.packers
        ]
    elif plate.shape == "round":
        areas = [circle(0.0, 0.0, half_x)]
    else:
        areas = [rectangle(-half_x, half_x, -half_y, half_y)]
    hole = mount.service_hole
    holes = (circle(float(hole.x.x), float(hole.y.x), float(hole.diameter.x) / 2),) if hole is not None else ()
    zones = []
    for area, piece in product(areas, pieces):
        x0, y0 = piece.outline.min(axis=0)
        x1, y1 = piece.outline.max(axis=0)
        part = clip_to_rectangle(area, x0, x1, y0, y1)
        if len(part):
            cut = tuple(h for h in (clip_to_rectangle(h, x0, x1, y0, y1) for h in holes) if len(h))
            zones.append(contact.Zone(part, piece.name, cut))
    return tuple(zones)
