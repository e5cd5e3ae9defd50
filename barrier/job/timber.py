"""The timber of a job: decking, blocking with the fixings of its ends, joists. Ranges refuse what cannot be meant."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field

from barrier.job.entries import Choice, Flag, Quantity, TableOfEntries, Text, Whole
from barrier.job.shapes import DIRECTIONS, MEANINGS, TIMBER, Clash, mm, shown, size
from barrier.job.written import Section
from barrier.value import Value

LOOK = "look from below or lift a board"
ITS_SUPPLIER = "ask the supplier of the bracket"
DRAWINGS = "measure it from below or ask who built the deck"


class TimberCode(TableOfEntries):
    """What AS 1720.1 asks of all the timber of a job beside its grades: the category of the structure (1 a member of a house
    whose failure affects little, 2 more than that, 3 needed after a disaster) and whether it stands in the tropics."""

    filled_for: ClassVar[tuple[str, ...]] = ("au", "nz")
    category: Annotated[
        int,
        Whole(low=1, high=3, default=2, reason="no text names a barrier; 2 is assumed, 1 is a minor member of a house", weight=2),
    ]
    tropics: Annotated[
        bool, Flag(default=False, reason="not coastal Queensland north of 25 S, elsewhere not north of 16 S", weight=6)
    ]


class BoardScrews(TableOfEntries):
    """The decking's own screws, at each board on each joist."""

    number: Annotated[int, Whole(low=1, high=8)]
    diameter: Annotated[Value, mm(2, 12)]
    root: Annotated[Value | None, mm(1, 12, unknown="measure the core between the threads")] = None
    length: Annotated[Value, mm(15, 200)]
    threaded: Annotated[Value | None, mm(5, 200, unknown="measure the thread, tip included")] = None
    head: Annotated[Value | None, mm(2, 40, unknown="measure the head")] = None


class Decking(TableOfEntries):
    """The boards a mount stands on."""

    thickness: Annotated[Value, mm(8, 100)]
    board_width: Annotated[Value | None, mm(40, 600, unknown="measure one board")] = None
    gap: Annotated[Value | None, mm(0, 50, unknown="measure between two boards")] = None
    direction: Annotated[
        str | None, Choice(choices=DIRECTIONS, unknown="say whether the boards run along the glass or across it")
    ] = None
    grooved: Annotated[bool, Flag(default=True, reason="not said; grooves are assumed, they take bearing away", weight=4)]
    gap_under: Annotated[Value | None, mm(0, 200, unknown=f"{LOOK}: is there a space between boards and blocking?")] = None
    material: Annotated[dict[str, str], TIMBER] = Field(default_factory=dict)
    board_screws: BoardScrews | None = None


class EndFixing(TableOfEntries):
    """How one end of each piece of blocking is held by its joist; numbers are per piece.

    ``stiffness`` and ``turning_stiffness`` are what a bracket gives way by in use. ``highest`` is the highest fastener above
    the lower edge of the piece, ``lowest`` the lowest one below its upper edge; the depth of the piece where it sits in a shoe.
    """

    fixing: Annotated[str, Choice(choices=("bracket", "nails", "screws", "none", "unknown"))]
    uplift: Annotated[Value | None, Quantity(kind="force", low=10, high=2e5)] = None
    down: Annotated[Value | None, Quantity(kind="force", low=10, high=2e5)] = None
    torque: Annotated[
        Value | None, Quantity(kind="moment", low=1e3, high=1e8, unknown=f"{ITS_SUPPLIER} what it holds against turning")
    ] = None
    sideways: Annotated[
        Value | None, Quantity(kind="force", low=10, high=2e5, unknown=f"{ITS_SUPPLIER} what it holds sideways, level")
    ] = None
    stiffness: Annotated[
        Value | None,
        Quantity(kind="stiffness", low=10, high=1e6),
    ] = None
    turning_stiffness: Annotated[
        Value | None,
        Quantity(kind="rotation stiffness", low=1e4, high=1e12),
    ] = None
    highest: Annotated[
        Value | None, mm(0, 600, unknown="measure from the lower edge of the piece up to the highest screw or nail at its end")
    ] = None
    lowest: Annotated[
        Value | None,
        mm(0, 600, unknown="measure from the upper edge of the piece down to the lowest screw or nail at its end, or to its seat"),
    ] = None
    meaning: Annotated[str | None, Choice(choices=(*MEANINGS, "design"))] = None
    reference: Annotated[str | None, Text()] = None
    number: Annotated[int | None, Whole(low=1, high=40, unknown=f"{LOOK} and count")] = None
    diameter: Annotated[Value | None, mm(1.5, 20, unknown="measure one")] = None
    length: Annotated[Value | None, mm(15, 400, unknown="measure one")] = None
    ultimate_strength: Annotated[Value | None, Quantity(kind="stress", low=200, high=2000, unknown="ask the supplier")] = None
    grain: Annotated[
        str,
        Choice(choices=("end", "side"), default="end", reason="not said; end grain is assumed, the weakest", weight=3),
    ] = "end"

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """Only nails and screws have a size and a grain they stand in, only brackets ratings; nothing has neither."""
        driven = frozenset({"number", "diameter", "length", "ultimate_strength", "grain"})
        rated = frozenset({"torque", "sideways", "turning_stiffness"})
        if section.says("fixing") in ("nails", "screws"):
            return rated
        return driven if section.says("fixing") == "bracket" else driven | rated | {"stiffness", "highest", "lowest"}

    def contradictions(self) -> Clash:
        """A bracket has a rating; nails and screws have a size; nothing has both."""
        ratings = [v for v in (self.uplift, self.down, self.torque, self.sideways) if v is not None]
        if self.fixing != "bracket":
            for value in ratings:
                yield value, f'is a rating, and the fixing is "{self.fixing}"; only a bracket has one'
        elif not (self.meaning and self.reference):
            for value in ratings:
                yield (
                    value,
                    "is a rating and needs its meaning (ultimate, characteristic, allowable or design) and reference beside it",
                )
        if self.fixing not in ("nails", "screws"):
            for size in (self.diameter, self.length, self.ultimate_strength):
                if size is not None:
                    yield size, f'is the size of a nail or screw, and the fixing is "{self.fixing}"'


class Ties(TableOfEntries):
    """Fasteners that tie loose pieces to one another, along the whole length of the piece."""

    fixing: Annotated[str, Choice(choices=("nails", "screws", "bolts"))]
    number: Annotated[int, Whole(low=1, high=100)]
    diameter: Annotated[Value, mm(1.5, 30)]
    length: Annotated[Value, mm(15, 600)]
    ultimate_strength: Annotated[Value | None, Quantity(kind="stress", low=200, high=2000, unknown="ask the supplier")] = None


class Blocking(TableOfEntries):
    """Pieces between two joists that a mount stands on."""

    pieces: Annotated[int, Whole(low=1, high=8)]
    width: Annotated[Value, mm(12, 400)]
    depth: Annotated[Value, mm(12, 600)]
    length: Annotated[Value, mm(50, 4000)]
    direction: Annotated[str, Choice(choices=DIRECTIONS)]
    laid: Annotated[str, Choice(choices=("upright", "flat"), default="upright", reason="upright is assumed", weight=3)]
    laminated: Annotated[str, Choice(choices=("loose", "factory"), default="loose", reason="loose pieces are assumed", weight=2)]
    material: Annotated[dict[str, str], TIMBER] = Field(default_factory=dict)
    reference: Annotated[str | None, Text()] = None
    ties: Ties | None = None
    left: EndFixing | None = None
    right: EndFixing | None = None

    @property
    def laid_breadth(self) -> Value:
        """Breadth of one piece as it lies, seen from above."""
        return self.depth if self.laid == "flat" else self.width

    @property
    def long_side(self) -> Value:
        """The longer side of one piece, which its grade goes by."""
        return max(self.width, self.depth, key=size)

    @property
    def laid_depth(self) -> Value:
        """Depth of one piece as it lies, from its top down."""
        return self.width if self.laid == "flat" else self.depth

    def contradictions(self) -> Clash:
        """Pieces glued in a factory are not tied, a lone piece has nothing to be tied to."""
        if self.ties is not None and (self.laminated == "factory" or self.pieces == 1):
            yield self.ties.diameter, "is of ties between loose pieces, and there are none here; take the ties out"


class JoistSupport(TableOfEntries):
    """What a joist stands on or hangs in at one support; numbers are per joist. ``seat`` is how long it lies on a bearer."""

    fixing: Annotated[str, Choice(choices=("bearer", "bracket", "unknown"))]
    seat: Annotated[Value | None, mm(10, 500, unknown=DRAWINGS)] = None
    uplift: Annotated[
        Value | None, Quantity(kind="force", low=10, high=2e5, unknown="ask the supplier of the hanger or strap: pulled up")
    ] = None
    down: Annotated[Value | None, Quantity(kind="force", low=10, high=2e5, unknown="ask the supplier of the hanger")] = None
    meaning: Annotated[str | None, Choice(choices=(*MEANINGS, "design"))] = None
    reference: Annotated[str | None, Text()] = None

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """A joist lies on a bearer, or hangs in a bracket."""
        fixing = section.says("fixing")
        if fixing == "bearer":
            return frozenset({"down"})
        return frozenset({"seat"}) if fixing == "bracket" else frozenset({"seat", "down", "uplift"})

    def contradictions(self) -> Clash:
        """A rating has a meaning and a reference; a bearer carries by its seat, a hanger by its rating."""
        for value in (self.uplift, self.down):
            if value is not None and not (self.meaning and self.reference):
                yield (
                    value,
                    "is a rating and needs its meaning (ultimate, characteristic, allowable or design) and reference beside it",
                )
        if self.seat is not None and self.fixing != "bearer":
            yield self.seat, f'is the length that lies on a bearer, and the fixing is "{self.fixing}"'
        if self.down is not None and self.fixing != "bracket":
            yield self.down, f'is the rating of a hanger, and the fixing is "{self.fixing}"'


class Joists(TableOfEntries):
    """The joists under the decking; ``restraint`` is what keeps an edge joist from turning where it is held, if a mount
    stands on one.

    ``span`` is between the two supports nearest the glass, ``overhang`` what runs on beyond the outer one, ``mount_from_end``
    the middle of the mounts from that end of the joist (joists across the glass). ``dead_load`` and ``imposed_load`` are
    what one joist carries beside the barrier, per length, before any factor.
    """

    may_be_left_out: ClassVar[bool] = True
    spacing: Annotated[Value, mm(100, 1500, "450 mm", "common practice, no source; measure it", weight=4)]
    width: Annotated[Value | None, mm(15, 300, unknown="measure one")] = None
    depth: Annotated[Value | None, mm(40, 600, unknown="measure one")] = None
    direction: Annotated[
        str | None, Choice(choices=DIRECTIONS, unknown="say whether the joists run along the glass or across it")
    ] = None
    material: Annotated[dict[str, str], TIMBER] = Field(default_factory=dict)
    restraint_spacing: Annotated[Value | None, mm(100, 6000)] = None
    restraint: EndFixing | None = None
    span: Annotated[Value | None, mm(200, 12000, unknown=f"how far apart are the supports of the joists: {DRAWINGS}")] = None
    overhang: Annotated[Value, mm(0, 3000, "0 mm", "not said; the joists are taken to end on their outer support", weight=4)]
    mount_from_end: Annotated[
        Value | None, mm(0, 12000, unknown="measure from the outer end of a joist to the middle of the mounts")
    ] = None
    dead_load: Annotated[
        Value | None, Quantity(kind="line load", low=0, high=50, unknown="ask the engineer what one joist carries at all times")
    ] = None
    imposed_load: Annotated[
        Value | None, Quantity(kind="line load", low=0, high=100, unknown="ask the engineer for people and goods on one joist")
    ] = None
    outer: JoistSupport | None = None
    inner: JoistSupport | None = None

    def contradictions(self) -> Clash:
        """The overhang is not longer than the span."""
        if self.span is not None and float(self.overhang.x) > float(self.span.x):
            yield self.overhang, f"runs out further than the span between the supports, {shown(self.span)}"
