"""What the pictures look up in a walk, and how they print a number: as the sheet does."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from barrier.job import Job
from barrier.job.schema import Mount, Panel
from barrier.links.blocking.piece_forces import PieceForces
from barrier.links.ground.geometry import MountModel, mount_model
from barrier.links.loads.cases import Case
from barrier.links.memo import SHARED
from barrier.links.mount.base_plate import Corner, MountForces, leading
from barrier.load_path import Walked
from barrier.sheet.numbers import CALCULATION, FRONT, NOT_MEASURED, figure_of, unit_text
from barrier.tables import Tables
from barrier.units import shown_unit
from barrier.value import Numerical, Value, is_assumed

DRAWN = Numerical("read off a drawing", "geometry", "the job")


def cases(walked: Walked, panel: Panel) -> tuple[Case, ...]:
    """The load cases of a panel with one action each."""
    return tuple(c for c in walked.handed_on.cases if c.panel.name == panel.name and not c.parts)


def mount_forces(walked: Walked) -> tuple[MountForces, ...]:
    """The mounts with what comes down on them, each in the combination with the largest moment that decides."""
    return leading(walked.handed_on.mounts)


def piece_forces(walked: Walked, mount: str) -> PieceForces | None:
    """Forces on the pieces under a mount."""
    return next((t.pieces for t in walked.handed_on.tables if t.mount.model.name == mount), None)


def worst_corner(forces: MountForces | None) -> Corner | None:
    """Of the directions and stiffnesses the one with the hardest pull; None where one of them has no equilibrium."""
    if forces is None or loose_corner(forces) is not None:
        return None
    pulls = np.array([float(c.contact.T.max()) if len(c.contact.T) else 0.0 for c in forces.at_design])
    return forces.at_design[int(np.flatnonzero(pulls >= pulls.max() * (1.0 - 1e-9))[0])]


def loose_corner(forces: MountForces | None) -> Corner | None:
    """The first direction and stiffness without equilibrium, if there is one: then nothing else need be shown."""
    return None if forces is None else next((c for c in forces.at_design if not c.contact.equilibrium), None)


@dataclass(frozen=True, eq=False)
class Stand:
    """A mount as it stands, drawn from the job alone; ``unknown_gap``: nobody knows the gap under the boards."""

    job: Job
    mount: Mount
    panel: Panel
    model: MountModel
    unknown_gap: bool

    @property
    def z_plate(self) -> float:
        """Underside of the base plate above the decking, mm."""
        return float(self.model.packing.x)

    @property
    def top_of_plate(self) -> float:
        """Underside of the screw heads above the decking, mm."""
        return self.z_plate + float(self.mount.plate.thickness.x)

    @property
    def screw(self) -> float:
        """How long a screw is drawn, mm: one nobody knows ends with the boards."""
        length = self.mount.screw.length
        return float(length.x) if length is not None else self.top_of_plate + float(self.job.decking.thickness.x)

    @property
    def top_of_pieces(self) -> float:
        """Top of the blocking, or of the board, above the decking, mm."""
        if self.model.z_blocking is None:
            return -float(self.job.decking.thickness.x)
        return self.top_of_plate - float(self.model.z_blocking.x)

    @property
    def depth(self) -> float:
        """Depth of the pieces, mm."""
        block, joist = self.model.blocking, self.job.joists.depth
        if block is not None:
            return float(block.laid_depth.x)
        return float(joist.x) if self.beneath and joist is not None else float(self.job.decking.thickness.x)

    @property
    def depth_from(self) -> tuple[Value, ...]:
        """The entries its depth is made of."""
        return (self.model.blocking.laid_depth,) if self.model.blocking is not None else ()

    @property
    def breadth_from(self) -> tuple[Value, ...]:
        """The entries the breadth of its pieces is made of."""
        return (self.model.blocking.laid_breadth,) if self.model.blocking is not None else ()

    @property
    def bay_from(self) -> tuple[Value, ...]:
        """The entries its place between the joists is made of."""
        return (self.mount.in_bay, *((self.model.blocking.length,) if self.model.blocking is not None else ()))

    @property
    def gap_from(self) -> tuple[Value, ...]:
        """The entry the gap under the boards is."""
        gap = self.job.decking.gap_under
        return (gap,) if gap is not None else ()

    @property
    def columns_from(self) -> tuple[Value, ...]:
        """The entries the places of its screws along the glass are made of."""
        return (self.mount.plate.along, *(c.x for c in self.mount.screws))

    @property
    def rows_from(self) -> tuple[Value, ...]:
        """The entries the places of its screws across the glass are made of."""
        return (self.mount.plate.across, *(c.y for c in self.mount.screws))

    @property
    def edges_from(self) -> tuple[Value, ...]:
        """The entries the distances of its screws to the edges of their pieces are made of."""
        return (self.mount.offset, *(c.y for c in self.mount.screws), *self.breadth_from)

    @property
    def beneath(self) -> bool:
        """Whether there is timber beneath the boards for the screws: blocking or an edge joist."""
        return bool(self.model.pieces) and self.mount.support != "decking only"

    @property
    def along(self) -> bool:
        """Whether what is beneath runs along the glass."""
        return self.model.blocking is None or self.model.blocking.direction == "along"

    @property
    def ends(self) -> tuple[float, float]:
        """Where the pieces begin and end along the glass, from the mount's centre, mm; the bay where there are none."""
        start = float(self.mount.in_bay.x)
        if self.model.blocking is not None:
            x = np.concatenate([p.outline[:, 0] for p in self.model.pieces])
            return float(x.min()), float(x.max())
        joists = self.job.joists
        bay = float(joists.spacing.x) - float(joists.width.x if joists.width is not None else 0.0)
        return -start, max(bay - start, 0.0)


def stand(job: Job, tables: Tables, mount: Mount) -> Stand:
    """Stand a mount on what the job says is there; a gap nobody knows is drawn closed and said to be unknown."""
    unknown = job.decking.gap_under is None and mount.support != "decking only"
    known = job.with_({"decking.gap_under": "0 mm"}) if unknown else job
    own = next(m for m in known.mounts if m.name == mount.name)
    return Stand(job, mount, job.panel_of(mount), mount_model(known, tables, own, SHARED), unknown)


@dataclass(frozen=True, slots=True)
class Say:
    """Numbers as the sheet prints them, in its units."""

    style: str

    def __call__(self, value: Value, station: int = 0, digits: int = 0) -> str:
        """A value with its unit; lengths are dimensions to be measured after, forces and stresses something to talk about."""
        return figure_of(value, station, self.style, digits or _digits(value.kind)).text

    def bare(self, value: Value, station: int = 0, digits: int = 0) -> str:
        """A value without its unit; lengths stand so in a drawing that says their unit once."""
        unit = shown_unit(value.kind, self.style) if value.kind == "length" else None
        return figure_of(value, station, self.style, digits or _digits(value.kind), unit).bare

    def of(self, x: float, kind: str, digits: int = 0) -> str:
        """A number that was computed for the picture, with its unit."""
        return self(Value(float(x), kind, DRAWN), 0, digits)

    def length(self, mm: float, *made_of: Value) -> str:
        """A length read off the drawing, without its unit; marked where nobody measured one of the entries it is made of."""
        text = self.bare(Value(round(float(mm), 6), "length", DRAWN))
        return f"{NOT_MEASURED}{text}" if any(is_assumed(v) for v in made_of) else text

    @property
    def unit_word(self) -> str:
        """The unit of lengths, in a word."""
        unit = unit_text(shown_unit("length", self.style))
        return "inches" if unit == "in" else unit


def _digits(kind: str) -> int:
    return CALCULATION if kind == "length" else FRONT


def ident(text: str) -> str:
    """A name as part of an identifier: letters, figures, dashes.

    >>> ident('M 1 <b>')
    'M-1--b-'
    """
    return "".join(c if c.isascii() and c.isalnum() else "-" for c in text)
