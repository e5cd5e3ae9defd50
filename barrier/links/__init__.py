"""The links of the load path, in walking order.

A link is a function ``(walk, before) -> LinkResult``. ``walk`` is the job in one situation with its basis and tables (lengths
in mm, forces in N, stresses in MPa); ``before`` has what the links before it wrote. It returns its checks, what it shows beside
them, its findings, and what it hands on; it raises nothing for a barrier that does not hold, which is an answer. The source of
each figure stands in its origin.

>>> [link.__name__ for link in LINKS][:6]
['actions', 'rail', 'glass', 'clamp', 'base_plate', 'screws']
"""

from __future__ import annotations

from collections.abc import Callable

from barrier.links.acceptance import acceptance
from barrier.links.blocking.blocking import blocking
from barrier.links.clamp.clamp import clamp
from barrier.links.glass.glass import glass
from barrier.links.joist.joist import joist
from barrier.links.loads.actions import actions
from barrier.links.mount.base_plate import base_plate
from barrier.links.mount.bearing import bearing
from barrier.links.mount.in_plane import in_plane
from barrier.links.mount.screws import screws
from barrier.links.movement import movement
from barrier.links.rail.rail import rail
from barrier.links.walk import Walk
from barrier.result import LinkResult

Link = Callable[[Walk, list[LinkResult]], LinkResult]

LINKS: tuple[Link, ...] = (
    actions, rail, glass, clamp, base_plate, screws, in_plane, bearing, blocking, joist, movement, acceptance,
)  # fmt: skip

__all__ = ["LINKS", "Link", "Walk"]
