"""What every link hands on to those below it, and what it writes: one frozen object, a field a link."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barrier.links.blocking.force_table import ForceTable
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.loads.cases import Case
from barrier.links.mount.base_plate import MountForces
from barrier.links.mount.in_plane_forces import MountShare
from barrier.links.rail.solve import RunSolved


@dataclass(frozen=True, eq=False)
class HandedOn:
    """What the links of one walk handed on, from the hand to the joist; empty where a link had nothing to hand on.

    ``cases`` of the actions; ``run`` of the rail, where one is worked out; ``panels`` of the glass, each solved on its clamps;
    ``mounts`` of the base plates, one entry for each mount and combination; ``shares`` of the loads in the plane of the glass, one
    for each mount and way; ``tables`` of the blocking: forces on the deck, one for each mount.
    """

    cases: tuple[Case, ...] = ()
    run: RunSolved | None = None
    panels: tuple[PanelSolution, ...] = ()
    mounts: tuple[MountForces, ...] = ()
    shares: tuple[MountShare, ...] = ()
    tables: tuple[ForceTable, ...] = ()

    @property
    def run_cases(self) -> tuple[Case, ...]:
        """The cases of the panels under a rail, at every place of it a load was put; empty without a rail that is worked out."""
        return tuple(c for p in self.run.panels.values() for c in p.cases) if self.run is not None else ()

    @property
    def all_cases(self) -> Iterator[Case]:
        """Every load case of the walk: those of the panels alone, then those of the run under a rail."""
        yield from self.cases
        yield from self.run_cases


NOTHING = HandedOn()
