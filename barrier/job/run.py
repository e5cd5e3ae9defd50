"""A whole run in a file: sides, corners, ends, joists, boards, obstacles, and the rules by which panels and mounts are placed.

A file that describes a run is a job file without panels and mounts and with ``[run]`` in their place; ``[run.panel]`` is a panel
without name and width. Lengths are in mm once read.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Any

from pydantic import Field

from barrier.job.entries import Choice, Entry, Flag, Quantity, Refusal, TableOfEntries, Text, Whole, entry_of, refused_entry
from barrier.job.entries_in_tables import Changes
from barrier.job.rail import RailEnd, RailSplice
from barrier.job.shapes import Clash, mm, shown, size
from barrier.job.written import Items, Written
from barrier.value import Value

MOST_NUMBERS = 400
MEASURE = "a length at the deck edge is not the length of the glass line, and no default is taken"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths(Entry):
    """A list of lengths, each between ``low`` and ``high`` mm."""

    low: float
    high: float

    def validate(self, node: object) -> object:
        """The lengths as values, in the order written."""
        if not isinstance(node, Items) or not 0 < len(node) <= MOST_NUMBERS:
            raise refused_entry(entry_of(node), f"is not a list of 1 to {MOST_NUMBERS} lengths; expected {self.expected()}")
        one, found = Quantity(kind="length", low=self.low, high=self.high), []
        for written in node:
            if not isinstance(written, Written):
                raise refused_entry(entry_of(written), f"is a table or list; expected {one.expected()}")
            try:
                found.append(one.read(written))
            except Refusal as refusal:
                raise refused_entry(written.entry, str(refusal)) from None
        return tuple(found)

    def expected(self) -> str:
        """An example."""
        return f'a list such as ["450 mm", "452 mm"], each from {self.low:g} mm to {self.high:g} mm'

    def schema(self) -> dict[str, Any]:
        """An array of texts."""
        return {"type": "array", "items": {"type": "string"}}


def _share(default: str, reason: str) -> Quantity:
    return Quantity(kind="ratio", low=0.05, high=0.45, default=default, reason=reason)


class Obstacle(TableOfEntries):
    """A stretch of a side where no mount and no piece may stand: a post, a pipe, the swing of a door."""

    begins: Annotated[Value, mm(-1e5, 1e5)]
    ends: Annotated[Value, mm(-1e5, 1e5)]
    why: Annotated[str, Text()]
    glass: Annotated[bool, Flag(default=True, reason="glass may not stand in an obstacle either")]

    def contradictions(self) -> Clash:
        """It ends behind where it begins."""
        if size(self.ends) <= size(self.begins):
            yield self.ends, f"{shown(self.ends)} is not beyond where the obstacle begins, {shown(self.begins)}"


class SideRail(TableOfEntries):
    """The rail of one side: what holds its ends and where it is joined; ``start`` and ``end`` as the tape runs, joints on the tape.

    What all sides share of it, section, strength and grip, stands under ``[rail]`` as in any job.
    """

    start: RailEnd | None = None
    end: RailEnd | None = None
    continuous: Annotated[
        bool | None, Flag(unknown="look along the rail from below for joints; a long one has some, for it grows in the sun")
    ] = None
    splices: Annotated[tuple[RailSplice, ...], Field(max_length=20)] = ()

    def contradictions(self) -> Clash:
        """Joints are there or not."""
        for splice in self.splices if self.continuous else ():
            yield splice.at, "is of a joint, and the rail is said to be continuous; take one of the two out"


class Side(TableOfEntries):
    """One straight side, measured from its start; ``tape`` says which way that runs seen from the people side."""

    name: Annotated[str, Text(name=True)]
    length: Annotated[Value, mm(200, 1e5)]
    measured_at: Annotated[str, Choice(choices=("deck edge", "glass line"), refused={"unknown": MEASURE})]
    offset: Annotated[Value, mm(20, 2000)]
    tape: Annotated[str, Choice(choices=("to the right", "to the left"))]
    start: Annotated[str, Choice(choices=("corner", "wall", "post", "open"))]
    end: Annotated[str, Choice(choices=("corner", "wall", "post", "open"))]
    start_clear: Annotated[Value, mm(0, 1000)]
    end_clear: Annotated[Value, mm(0, 1000)]
    fall: Annotated[
        Value, mm(-2000, 2000, "0 mm", "nobody measured a fall; a level deck is assumed: take a level reading at every mount")
    ]
    # panels: by number, by widths, or by a module of so many bays
    panels: Annotated[int | None, Whole(low=1, high=60)] = None
    widths: Annotated[tuple[Value, ...] | None, Lengths(low=100, high=6000)] = None
    module: Annotated[int | None, Whole(low=1, high=8)] = None
    module_gap: Annotated[Value | None, mm(1, 200)] = None
    module_edge: Annotated[Value | None, mm(20, 2000)] = None
    # timber below
    joists: Annotated[str, Choice(choices=("across", "along"))]
    joist_width: Annotated[Value, mm(20, 300)]
    spacing: Annotated[Value | None, mm(100, 2000)] = None
    first_joist: Annotated[Value | None, mm(-2000, 5000)] = None
    measured: Annotated[tuple[Value, ...] | None, Lengths(low=-2000, high=1e5)] = None
    rim: Annotated[Value, mm(0, 400, "45 mm", "width of the rim or edge joist not given; one of 45 mm is assumed")]
    boards: Annotated[str | None, Choice(choices=("along", "across"), unknown="look which way the boards run")] = None
    first_board: Annotated[Value, mm(-500, 500, "0 mm", "first board begins at the edge of the deck")]
    obstacles: Annotated[tuple[Obstacle, ...], Field(max_length=40)] = ()
    rail: SideRail | None = None

    def contradictions(self) -> Clash:
        """One way of dividing; joists that can be placed."""
        ways = [w for w in (self.panels, self.widths, self.module) if w is not None]
        if len(ways) != 1:
            yield self.length, f"is divided in {len(ways)} ways; give one of panels, widths and module"
        if self.joists == "across" and self.measured is None and (self.spacing is None or self.first_joist is None):
            yield self.length, "has joists across it and no place of them; give measured, or spacing and first_joist"
        if self.module is not None and self.joists == "along":
            yield self.length, "cannot be divided by a module: no joists run across it; give panels or widths"
        if self.module is not None and self.spacing is None:
            yield self.length, "is divided by a module and has no spacing of joists to be in step with; give spacing"
        if self.joists == "along" and self.spacing is None:
            yield self.length, "has joists along it; give spacing, from the middle of the edge joist to that of the next"
        for at, met in (("start", self.start), ("end", self.end)):
            end = None if self.rail is None else getattr(self.rail, at)
            if end is not None and end.fixing == "corner" and met != "corner":
                yield (
                    self.length,
                    f'has a rail whose {at} is held at a corner, and its own {at} is "{met}"; one of the two is wrong',
                )
        centres = [size(m) for m in self.measured or ()]
        if centres != sorted(set(centres)) or len(centres) == 1:
            yield (self.measured or (self.length,))[0], "is not the first of at least two joists in rising order; sort them"


class Corner(TableOfEntries):
    """Where one side starts or ends at another, at a right angle, both stopping short."""

    side: Annotated[str, Text(name=True)]
    at: Annotated[str, Choice(choices=("start", "end"))]
    other: Annotated[str, Text(name=True)]
    other_at: Annotated[str, Choice(choices=("start", "end"))]
    turn: Annotated[str, Choice(choices=("outside", "inside"))]
    kind: Annotated[
        str,
        Choice(
            choices=("open",), default="open", reason="both sides stop short of an open corner",
            refused={"post": 'write start = "post" and the clear space to its face', "runs past": "only open corners are set out"},
        ),
    ]  # fmt: skip


class Single(TableOfEntries):
    """One panel that is not by the rule: its edge distances, near and far as the tape runs; how many mounts, or all their places
    from its near edge; another type of them, another table of ``[blocking]``; and under ``set`` any other entry of it, from path
    to what then stands there: ``"panel.height"``, ``"mount.screw.length"`` (``"mount.2...."`` of its second), ``"blocking.width"``.
    """

    panel: Annotated[str, Text(name=True)]
    near: Annotated[Value | None, mm(20, 3000)] = None
    far: Annotated[Value | None, mm(20, 3000)] = None
    mounts: Annotated[int | None, Whole(low=2, high=6)] = None
    places: Annotated[tuple[Value, ...] | None, Lengths(low=20, high=6000)] = None
    type: Annotated[str | None, Text()] = None
    blocking: Annotated[str | None, Text(name=True)] = None
    set: Annotated[dict[str, object] | None, Changes()] = None

    def contradictions(self) -> Clash:
        """Mounts are placed one by one, or by edge distances and their number."""
        centres = [size(x) for x in self.places or ()]
        if self.places is not None and any(b <= a for a, b in pairwise(centres)):
            yield self.places[0], "is not the first of places in rising order; sort them"
        if self.places is not None and (self.near is not None or self.far is not None or self.mounts is not None):
            yield self.places[0], "is a place of a mount beside near, far or mounts; give places, or those"


class RunMounts(TableOfEntries):
    """By what rule mounts are placed: the edge distance wanted as a share of the width, and between which it may lie."""

    type: Annotated[str, Text()]
    edge: Annotated[Value, _share("0.26", "two mounts at 0.26 of the width bend the glass least (computed, no source)")]
    least: Annotated[Value, _share("0.20", "common practice, no source")]
    largest: Annotated[Value, _share("0.30", "common practice, no source")]
    difference: Annotated[Value, mm(0, 500, "40 mm", "largest difference of the two edge distances: taken, no source")]
    third_above: Annotated[Value | None, mm(300, 6000)] = None


class RunBlocking(TableOfEntries):
    """By what rule blocking is placed: which table of ``[blocking]``, and what screws need from ends and edges of a piece."""

    use: Annotated[str, Text(name=True)]
    end: Annotated[Value | None, mm(5, 500)] = None
    edge: Annotated[Value | None, mm(5, 300)] = None
    stock: Annotated[Value, mm(600, 12000, "3000 mm", "length of the timber bought")]
    saw: Annotated[Value, mm(0, 10, "4 mm", "width of a cut")]


class Run(TableOfEntries):
    """The whole run."""

    datum: Annotated[str, Text()]
    tolerance: Annotated[Value, mm(0, 30, "5 mm", "tolerance of setting out, common practice, no source")]
    gap: Annotated[Value, mm(1, 200)]
    least_gap: Annotated[Value, mm(1, 200, "10 mm", "glass must not touch: 10 mm, common practice, no source")]
    largest_gap: Annotated[Value, mm(1, 200, "25 mm", "widest gap looked for in a module: taken, no source")]
    opening: Annotated[Value | None, mm(20, 300, unknown="ask which sphere must not go through")] = None
    widest: Annotated[Value, mm(200, 6000, "1500 mm", "widest panel of stock: taken, no source")]
    narrowest: Annotated[Value, mm(100, 2000, "300 mm", "narrowest panel: taken, no source")]
    lift: Annotated[Value, Quantity(kind="mass", low=5, high=100, default="33 kg", reason="two persons, memory of guidance")]
    sides: Annotated[tuple[Side, ...], Field(min_length=1, max_length=12)]
    corners: Annotated[tuple[Corner, ...], Field(max_length=12)] = ()
    mounts: RunMounts
    blocking: RunBlocking
    singles: Annotated[tuple[Single, ...], Field(max_length=60)] = ()

    def contradictions(self) -> Clash:
        """Of two sides at a corner one goes away from it to the right and one to the left, as each is seen from its people side."""
        sides = {s.name: s for s in self.sides}
        for c in self.corners:
            one, other = sides.get(c.side), sides.get(c.other)
            if one is None or other is None:
                continue  # said where the corner is read
            if (one.tape == "to the right") is (c.at == "start") and (other.tape == "to the right") is (c.other_at == "start"):
                both = "right"
            elif (one.tape == "to the left") is (c.at == "start") and (other.tape == "to the left") is (c.other_at == "start"):
                both = "left"
            else:
                continue
            text = (
                f"side {one.name} and side {other.name} both go away from their corner to the {both}, as seen from the people side"
            )
            yield other.length, f"is that of a side that cannot lie so: {text}; one of them goes to the other hand: turn its tape"


class RunDocument(TableOfEntries):
    """The part of a file that is the run."""

    run: Run
