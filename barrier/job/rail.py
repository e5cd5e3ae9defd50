"""A rail over a run of panels: where it lies, how stiff and strong it is, what holds its ends, where it is joined.

Places along the rail are in mm from the left end of the first glass, seen from the people side; places in the line of panels
count from one. Ranges are in base units; they refuse what cannot be meant. No strength is assumed: what is not given is asked.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from barrier.job.entries import Choice, Flag, Quantity, TableOfEntries, Text, Whole
from barrier.job.shapes import MEANINGS, Clash, mm, shown, size
from barrier.job.written import Section
from barrier.value import Value

RATED = (*MEANINGS, "design")
SUPPLIER = "ask the supplier of the rail"
SIZES = {
    "flat": frozenset({"across", "depth"}),
    "box": frozenset({"across", "depth", "wall"}),
    "channel": frozenset({"across", "depth", "wall"}),
}
SECTION = frozenset({"inertia", "section_modulus", "section_modulus_down"})


def _rating(kind: str, unknown: str, low: float = 10, high: float = 2e5) -> Quantity:
    return Quantity(kind=kind, low=low, high=high, unknown=unknown)


class RailEnd(TableOfEntries):
    """What holds one end of the rail across the glass; ``reach`` is how far the rail runs on beyond the last glass.

    A corner holds only where the rails are joined there and the other one is glued or stopped on its glass (``joined``).
    ``stiffness`` of a post is force per movement at its top, with what it stands on.
    """

    fixing: Annotated[
        str | None,
        Choice(
            choices=("free", "bracket", "post", "corner"),
            unknown="look at both ends of the rail: does it stop in the air, in a bracket on a wall, on a post, at a corner?",
        ),
    ]
    reach: Annotated[Value, mm(0, 1000, "0 mm", "not said; the rail is taken to end with the glass", weight=4)]
    joined: Annotated[
        bool | None, Flag(unknown="ask whether the corner of the rail is joined, and the other rail glued or stopped on its glass")
    ] = None
    stiffness: Annotated[
        Value | None,
        Quantity(kind="stiffness", low=0.5, high=1e6, unknown="ask the engineer how far the post gives way at its top"),
    ] = None
    holds: Annotated[Value | None, _rating("force", f"{SUPPLIER}: what holds this end across the glass, with its fixing")] = None
    meaning: Annotated[str | None, Choice(choices=RATED)] = None
    reference: Annotated[str | None, Text()] = None

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """What is not asked of an end like this."""
        fixing = section.says("fixing")
        asked = {
            "free": set[str](),
            "bracket": {"holds"},
            "post": {"stiffness", "holds"},
            "corner": {"joined", "holds"} if section.says("joined") is not False else {"joined"},
        }.get(str(fixing), set[str]())
        return frozenset({"joined", "stiffness", "holds"} - asked)

    def contradictions(self) -> Clash:
        """A rating says what it means and whose it is; an end in the air holds nothing."""
        yield from _rated(self.holds, self.meaning, self.reference)
        for value, of in ((self.stiffness, ("post",)), (self.holds, ("bracket", "post", "corner"))):
            if value is not None and self.fixing is not None and self.fixing not in of:
                yield value, f'is of an end that is held, and the fixing is "{self.fixing}"'

    @property
    def holding(self) -> bool:
        """Whether this end is held across the glass."""
        return self.fixing in ("bracket", "post") or (self.fixing == "corner" and bool(self.joined))


class RailSplice(TableOfEntries):
    """A joint in the rail, ``at`` from the left end of the first glass; it is taken as a hinge, whatever it is made of."""

    at: Annotated[Value, mm(0, 2e5)]
    holds: Annotated[Value | None, _rating("force", f"{SUPPLIER}: the joint, pushed across the glass")] = None
    meaning: Annotated[str | None, Choice(choices=RATED)] = None
    reference: Annotated[str | None, Text()] = None

    def contradictions(self) -> Clash:
        """A rating says what it means and whose it is."""
        yield from _rated(self.holds, self.meaning, self.reference)


class RailOpening(TableOfEntries):
    """A place in the line of panels where the glass is gone: its number from the left, and how wide that glass was."""

    place: Annotated[int, Whole(low=1, high=100)]
    width: Annotated[Value, mm(100, 6000)]


class RailPlace(TableOfEntries):
    """A place in the line of panels: which panel of the file stands there, or one like it, and what it is called there."""

    panel: Annotated[str, Text(name=True)]
    name: Annotated[str | None, Text(name=True)] = None


class Rail(TableOfEntries):
    """A rail along the top of panels that stand in one line.

    ``panels`` is how many there are in the line; where the file describes one, the others are like it. Where it describes a few
    and some places are like others, ``line`` says for each place from left to right which of them stands there. ``between`` is the
    gap from one to the next. Its section: ``modulus`` with ``inertia`` and ``section_modulus`` of bending across the glass
    (``section_modulus_down``: under a vertical load), or a ``shape`` with its sizes. Its strength: ``moment`` with meaning and
    reference, or ``yield_strength`` of a steel. ``connection`` is the stiffness between rail and glass across it, per length;
    ``grip`` what it holds per length.
    """

    panels: Annotated[int | None, Whole(low=1, high=16, unknown="count the panels under one straight rail")] = None
    between: Annotated[Value | None, mm(1, 300, unknown="measure between two panels of glass, at the top")] = None
    shape: Annotated[str | None, Choice(choices=tuple(SIZES))] = None
    across: Annotated[Value | None, mm(5, 300, unknown="measure the rail across the glass")] = None
    depth: Annotated[Value | None, mm(2, 300, unknown="measure the rail from top to bottom")] = None
    wall: Annotated[Value | None, mm(0.5, 50, unknown="measure the wall of the rail at an end")] = None
    modulus: Annotated[Value | None, Quantity(kind="stress", low=2e3, high=2.5e5, unknown=f"{SUPPLIER}: modulus of elasticity")] = (
        None
    )
    inertia: Annotated[
        Value | None,
        Quantity(kind="inertia", low=10, high=4e7, unknown=f"{SUPPLIER}: second moment of area across the glass, slot and all"),
    ] = None
    section_modulus: Annotated[
        Value | None, Quantity(kind="section modulus", low=5, high=1e6, unknown=f"{SUPPLIER}: section modulus across the glass")
    ] = None
    section_modulus_down: Annotated[
        Value | None,
        Quantity(kind="section modulus", low=5, high=1e6, unknown=f"{SUPPLIER}: section modulus under a vertical load"),
    ] = None
    material: Annotated[
        str | None,
        Choice(choices=("carbon steel", "stainless steel", "aluminium", "timber"), unknown=f"{SUPPLIER}; a magnet tells little"),
    ] = None
    yield_strength: Annotated[Value | None, Quantity(kind="stress", low=20, high=2000, unknown=SUPPLIER)] = None
    moment: Annotated[Value | None, _rating("moment", f"{SUPPLIER}: moment across the glass", 1e3, 1e9)] = None
    moment_down: Annotated[Value | None, Quantity(kind="moment", low=1e3, high=1e9)] = None
    meaning: Annotated[str | None, Choice(choices=RATED)] = None
    reference: Annotated[str | None, Text()] = None
    continuous: Annotated[
        bool | None, Flag(unknown="look along the rail from below for joints; a long one has some, for it grows in the sun")
    ] = None
    connection_low: Annotated[
        Value, Quantity(kind="stress", low=0.05, high=1e4, default="2 N/mm2", weight=4,
                        reason="soft end of the bracket for a gasket, per length, estimate by hand, no published value"),
    ]  # fmt: skip
    connection: Annotated[
        Value, Quantity(kind="stress", low=0.05, high=1e4, default="20 N/mm2", weight=3,
                        reason="stiffness of the gasket across the glass, per length, estimate by hand, no published value"),
    ]  # fmt: skip
    connection_high: Annotated[
        Value, Quantity(kind="stress", low=0.05, high=1e4, default="200 N/mm2", weight=4,
                        reason="stiff end of the bracket for a gasket, per length, estimate by hand, no published value"),
    ]  # fmt: skip
    grip: Annotated[
        Value | None,
        Quantity(kind="line load", low=0.01, high=1e3,
                 unknown=f"{SUPPLIER}: what its grip on the glass holds per length, pushed and pulled across"),
    ] = None  # fmt: skip
    grip_meaning: Annotated[str | None, Choice(choices=RATED)] = None
    grip_reference: Annotated[str | None, Text()] = None
    left: RailEnd | None = None
    right: RailEnd | None = None
    splices: Annotated[tuple[RailSplice, ...], Field(max_length=20)] = ()
    openings: Annotated[tuple[RailOpening, ...], Field(max_length=16)] = ()
    line: Annotated[tuple[RailPlace, ...], Field(max_length=16)] = ()

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """Sizes are asked of a shape, else the figures of the section; a yield strength only where no moment is given."""
        shape = section.says("shape")
        others = SECTION if isinstance(shape, str) else frozenset()
        skipped = others | (frozenset({"across", "depth", "wall"}) - SIZES.get(str(shape), frozenset()))
        if section.says("moment") not in (None, "unknown"):
            return skipped | {"section_modulus", "yield_strength", "material"}
        return skipped | ({"moment"} if section.says("yield_strength") not in (None, "unknown") else frozenset())

    def contradictions(self) -> Clash:
        """Ratings say what they mean; the bracket of the connection is in order; joints are there or not; walls fit."""
        yield from _rated(self.moment, self.meaning, self.reference)
        yield from _rated(self.moment_down, self.meaning, self.reference)
        yield from _rated(self.grip, self.grip_meaning, self.grip_reference, "grip_meaning", "grip_reference")
        low, k, high = self.connection_low, self.connection, self.connection_high
        if size(k) < size(low):
            yield k, f"{shown(k)} is below connection_low, {shown(low)}; give connection_low as well"
        elif size(k) > size(high):
            yield k, f"{shown(k)} is above connection_high, {shown(high)}; give connection_high as well"
        for splice in self.splices if self.continuous else ():
            yield splice.at, "is of a joint, and the rail is said to be continuous; take one of the two out"
        if self.wall is not None and self.across is not None and 2 * size(self.wall) >= size(self.across):
            yield self.wall, f"{shown(self.wall)} leaves nothing between the walls of {shown(self.across)}"
        if self.wall is not None and self.depth is not None and size(self.wall) >= size(self.depth):
            yield self.wall, f"{shown(self.wall)} is no less than the whole depth, {shown(self.depth)}"
        for value in (self.across, self.depth, self.wall):
            if value is not None and self.shape is None:
                yield value, "is a size of a section, and its shape is not said; write shape"


def _rated(
    value: Value | None, meaning: str | None, reference: str | None, word: str = "meaning", other: str = "reference"
) -> Clash:  # fmt: skip
    if value is not None and not (meaning and reference):
        yield value, f"is a rating and needs its {word} ({', '.join(RATED)}) and {other} beside it"
