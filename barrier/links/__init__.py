"""The links of the load path, and the walk down through them: what each is given is what those above it handed on.

A link takes the walk (the job in one situation with its basis and tables; lengths in mm, forces in N, stresses in MPa) and, by
name and type, what it needs of those above it. It returns its checks, what it shows beside them, its findings, and what it hands
on; it raises nothing for a barrier that does not hold, which is an answer. The source of each figure stands in its origin.
"""

from __future__ import annotations

from functools import cached_property
from typing import TypeVar

from barrier.links.acceptance import acceptance
from barrier.links.asked import Asked, asked, completed
from barrier.links.blocking.blocking import blocking
from barrier.links.clamp.clamp import clamp
from barrier.links.glass.glass import glass
from barrier.links.handed_on import NOTHING, HandedOn
from barrier.links.joist.joist import joist
from barrier.links.loads.actions import actions
from barrier.links.mount.base_plate import base_plate
from barrier.links.mount.bearing import bearing
from barrier.links.mount.in_plane import in_plane
from barrier.links.mount.screws import screws
from barrier.links.movement import movement
from barrier.links.rail.rail import rail
from barrier.links.walk import Walk
from barrier.result import Check, LinkResult

T = TypeVar("T")


def walk_down(walk: Walk, whole: bool = True) -> tuple[tuple[LinkResult, ...], HandedOn]:
    """Walk from the hand to the joist: what every link wrote, in walking order, and what the links handed on.

    ``whole``: with every check that was asked for and could not be made, as *not checked*.
    """
    path = _Path(walk, whole)
    cases = path.handed_on(actions(walk))
    run = path.handed_on(rail(walk, cases))
    panels = path.handed_on(glass(walk, cases, run.panels if run is not None else {}))
    path.wrote(clamp(walk, panels))
    mounts = path.handed_on(base_plate(walk, panels))
    fixings = path.wrote(screws(walk, mounts))
    shares = path.handed_on(in_plane(walk, panels))
    path.wrote(bearing(walk, mounts))
    tables = path.handed_on(blocking(walk, panels, mounts, shares, fixings.checks))
    path.wrote(joist(walk, panels, mounts, shares))
    path.wrote(movement(walk, panels, mounts))
    path.wrote(acceptance(walk, path.checks))
    written = tuple(link for link in path.links if link.id != "rail" or link.checks)  # a job without a rail has no such link
    return written, HandedOn(cases, run, panels, mounts, shares, tables)


class _Path:
    """What was written so far on the way down."""

    def __init__(self, walk: Walk, whole: bool) -> None:
        """Nothing is written yet."""
        self.walk, self.whole = walk, whole
        self.links: list[LinkResult] = []

    @property
    def checks(self) -> tuple[Check, ...]:
        """All checks so far."""
        return tuple(c for link in self.links for c in link.checks)

    @cached_property
    def wanted(self) -> tuple[Asked, ...]:
        """All that is asked of this walk, one list for all links."""
        return tuple(asked(self.walk))

    def wrote(self, link: LinkResult) -> LinkResult:
        """Keep what a link wrote, and return it whole."""
        self.links.append(completed(self.walk, self.wanted, self.checks, link) if self.whole else link)
        return self.links[-1]

    def handed_on(self, made: tuple[LinkResult, T]) -> T:
        """Keep what a link wrote, and return what it hands on."""
        link, handed = made
        self.wrote(link)
        return handed


__all__ = ["NOTHING", "HandedOn", "Walk", "walk_down"]
