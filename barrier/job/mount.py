"""A mount of a job: its clamp with pads, base plate, screws, packers, service hole and rating.

Ranges are in base units; they refuse what cannot be meant. Positions are from the centre of the mount: x along the
glass, y across it, positive towards the drop side."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import hypot
from typing import Annotated, Literal, NamedTuple

from pydantic import Field

from barrier.job.entries import Choice, Flag, Quantity, TableOfEntries, Text, Whole
from barrier.job.quantity import parse
from barrier.job.shapes import MEANINGS, SAME, Clash, mm, shown, size
from barrier.job.written import Section, Written
from barrier.value import JobEntry, Value

PAD_LIMIT = 200.0  # N/mm3: above it the peak under a pad edge grows without bound and says nothing
LIMIT_TEXT = f"{PAD_LIMIT:g} N/mm3"
HARD = f"a hard liner is taken at {LIMIT_TEXT}; above it the peak stress has no limit value"
RIGID = (
    "the peak stress at a rigid clamp has no limit value. Write hard = true beside it if the liner is hard; "
    f"{LIMIT_TEXT} is then used, and the sheet says so"
)


class OnGlass(NamedTuple):
    """What a pad covers of its panel: from the left end of the glass and from its bottom edge up, mm."""

    x0: float
    x1: float
    y0: float
    y1: float


class Pad(TableOfEntries):
    """A pad between clamp and glass."""

    width: Annotated[Value, mm(10, 6000)]
    bottom: Annotated[Value, mm(0, 1000, "0 mm", "pad from the bottom edge of the glass up is assumed", weight=4)]
    top: Annotated[Value, mm(5, 1500)]
    offset: Annotated[Value, mm(-3000, 3000, "0 mm", "pad in the middle of the mount is assumed", weight=7)]
    stiffness: Annotated[
        Value,
        Quantity(
            kind="bed stiffness", low=0.1, high=1e6, default="10 N/mm3", weight=2,
            reason="liner not known: estimate by hand for soft rubber, no published value",
        ),
    ]  # fmt: skip
    stiffness_low: Annotated[
        Value,
        Quantity(
            kind="bed stiffness", low=0.1, high=1e6, default="3 N/mm3", weight=2,
            reason="soft end of the bracket for liners, estimate by hand, no published value",
        ),
    ]  # fmt: skip
    stiffness_high: Annotated[
        Value,
        Quantity(
            kind="bed stiffness", low=0.1, high=1e6, default="100 N/mm3", weight=2,
            reason="stiff end of the bracket for liners, estimate by hand, no published value",
        ),
    ]  # fmt: skip
    hard: Annotated[bool, Flag(default=False, reason="a soft liner is assumed", weight=6)]

    def on_glass(self, mount: float) -> OnGlass:
        """What it covers; ``mount``: middle of its mount from the left end of the glass, mm."""
        middle, half = mount + float(self.offset.x), float(self.width.x) / 2
        return OnGlass(middle - half, middle + half, float(self.bottom.x), float(self.top.x))

    @classmethod
    def fill(cls, section: Section, invented: bool) -> None:
        """A hard liner is taken at the limit, and said so."""
        hard = section.says("hard") is True
        if hard and "stiffness_high" not in section:
            path = f"{section.path}.stiffness_high"
            section["stiffness_high"] = Written(LIMIT_TEXT, JobEntry(path, LIMIT_TEXT, None, True, HARD, invented))
        super().fill(section, invented)
        for key in ("stiffness", "stiffness_low", "stiffness_high"):
            written, raw = section.get(key), section.says(key)
            x = parse(raw, "bed stiffness") if isinstance(raw, str) else raw
            if hard and isinstance(written, Written) and isinstance(x, float) and isinstance(raw, str) and x > PAD_LIMIT:
                e, reason = written.entry, f"{raw} is written; {HARD}"
                section[key] = Written(LIMIT_TEXT, JobEntry(e.path, LIMIT_TEXT, e.line, True, reason, invented))

    def contradictions(self) -> Clash:
        """Top above bottom; stiffness in order and below the limit."""
        if size(self.top) <= size(self.bottom):
            yield self.top, f"{shown(self.top)} is not above the bottom of the pad, {shown(self.bottom)}"
        k, low, high = self.stiffness, self.stiffness_low, self.stiffness_high
        if size(low) > size(high):
            yield low, f"{shown(low)} is above stiffness_high, {shown(high)}"
        elif size(k) < size(low):
            yield k, f"{shown(k)} is below stiffness_low, {shown(low)}; give stiffness_low as well"
        elif size(k) > size(high):
            yield k, f"{shown(k)} is above stiffness_high, {shown(high)}; give stiffness_high as well"
        for value in (low, k, high):
            if size(value) > PAD_LIMIT and not self.hard:
                yield value, f"{shown(value)} is above {LIMIT_TEXT}: {RIGID}"


class BasePlate(TableOfEntries):
    """The base plate of a mount."""

    shape: Annotated[Literal["rectangle", "round"], Choice(choices=("rectangle", "round"))]
    along: Annotated[Value, mm(20, 6000)]
    across: Annotated[Value, mm(20, 1000)]
    thickness: Annotated[Value, mm(1, 100)]
    yield_strength: Annotated[Value | None, Quantity(kind="stress", low=20, high=2000, unknown="ask the supplier")] = None
    clamp_reach: Annotated[Value | None, mm(0, 500, unknown="measure half the depth of the post on its plate")] = None

    @classmethod
    def fill(cls, section: Section, invented: bool) -> None:
        """A round plate is as deep as it is wide."""
        if section.says("shape") == "round":
            section.take_over("across", "along", "a round plate has one diameter", invented)
        super().fill(section, invented)

    def contradictions(self) -> Clash:
        """A round plate has one diameter; the post stands on its plate."""
        if self.shape == "round" and abs(size(self.along) - size(self.across)) > SAME:
            yield (
                self.across,
                f"{shown(self.across)} differs from along, {shown(self.along)}; a round plate has one diameter",
            )
        if self.clamp_reach is not None and size(self.clamp_reach) > size(self.across) / 2:
            yield (
                self.clamp_reach,
                f"{shown(self.clamp_reach)} reaches beyond half the plate, which is {shown(self.across)} across",
            )


class ScrewKind(TableOfEntries):
    """The kind of screw a mount is held by."""

    diameter: Annotated[Value, mm(3, 30)]
    root: Annotated[Value | None, mm(1.5, 30, unknown="measure the core between the threads")] = None
    length: Annotated[Value | None, mm(20, 1000, unknown="take one out and measure it under its head")]
    threaded: Annotated[Value | None, mm(5, 1000, unknown="measure the thread, tip included")] = None
    tip: Annotated[Value, mm(0, 60)]
    head: Annotated[Value | None, mm(3, 100, unknown="measure the head or its washer")] = None
    kind: Annotated[str | None, Choice(choices=("coach screw", "wood screw", "structural screw", "unknown"))] = None
    material: Annotated[
        str | None, Choice(choices=("stainless", "coated", "plain"), unknown="ask the supplier; a magnet tells little")
    ] = None
    ultimate_strength: Annotated[Value | None, Quantity(kind="stress", low=200, high=2000, unknown="ask the supplier")] = None
    withdrawal: Annotated[Value | None, Quantity(kind="stress", low=1, high=40)] = None
    withdrawal_density: Annotated[Value | None, Quantity(kind="density", low=200, high=1000)] = None
    withdrawal_per_length: Annotated[Value | None, Quantity(kind="withdrawal", low=1, high=1000)] = None
    reference: Annotated[str | None, Text()] = None

    @classmethod
    def fill(cls, section: Section, invented: bool) -> None:
        """A tip that was not measured is one diameter long."""
        section.take_over("tip", "diameter", "tip not measured; one diameter is assumed", invented)
        super().fill(section, invented)

    def contradictions(self) -> Clash:
        """Sizes of a screw in order; a declared withdrawal is complete."""
        d, L = self.diameter, self.length
        if self.root is not None and size(self.root) >= size(d):
            yield self.root, f"{shown(self.root)} is not below the outer diameter, {shown(d)}"
        if self.threaded is not None and L is not None and size(self.threaded) > size(L):
            yield self.threaded, f"{shown(self.threaded)} is longer than the screw, {shown(L)}"
        if self.threaded is not None and size(self.tip) > size(self.threaded):
            yield self.tip, f"{shown(self.tip)} is longer than the thread it is part of, {shown(self.threaded)}"
        if L is not None and size(self.tip) >= size(L):
            yield self.tip, f"{shown(self.tip)} is not shorter than the screw, {shown(L)}"
        if self.head is not None and size(self.head) <= size(d):
            yield self.head, f"{shown(self.head)} is not above the outer diameter, {shown(d)}"
        if self.withdrawal is not None and (self.withdrawal_density is None or not self.reference):
            yield self.withdrawal, "is a declared value and needs withdrawal_density and reference beside it"
        if self.withdrawal_per_length is not None and not self.reference:
            yield self.withdrawal_per_length, "is a value of a licensed copy and needs reference (which document, which table)"
        if self.withdrawal is None and self.withdrawal_density is not None:
            yield (
                self.withdrawal_density,
                "belongs to a declared withdrawal and there is none; take it out or give withdrawal",
            )


class ScrewInMount(TableOfEntries):
    """Where one screw stands in its mount."""

    name: Annotated[str, Text(name=True)]
    x: Annotated[Value, mm(-3000, 3000)]
    y: Annotated[Value, mm(-500, 500)]
    angle: Annotated[
        Value,
        Quantity(kind="angle", low=-1.1, high=1.1, default="0 deg", reason="driven straight is assumed", weight=7),
    ]
    present: Annotated[bool, Flag(default=True, reason="a screw that is listed is taken to be there", weight=8)]


class Packer(TableOfEntries):
    """A packer under a base plate."""

    x: Annotated[Value, mm(-3000, 3000)]
    y: Annotated[Value, mm(-500, 500)]
    along: Annotated[Value, mm(5, 6000)]
    across: Annotated[Value, mm(5, 1000)]
    thickness: Annotated[Value, mm(0.2, 100)]


class ServiceHole(TableOfEntries):
    """A hole for a service that comes up under a mount."""

    diameter: Annotated[Value, mm(3, 200)]
    x: Annotated[Value, mm(-3000, 3000, "0 mm", "hole in the middle of the plate is assumed", weight=7)]
    y: Annotated[Value, mm(-500, 500, "0 mm", "hole in the middle of the plate is assumed", weight=7)]


RATING = "ask the supplier of the mount"


class Rating(TableOfEntries):
    """The supplier's tested rating of a mount."""

    moment: Annotated[Value | None, Quantity(kind="moment", low=1e3, high=1e8, unknown=RATING)] = None
    meaning: Annotated[str | None, Choice(choices=MEANINGS, unknown=RATING)] = None
    tested: Annotated[int | None, Whole(low=1, high=10000, unknown=RATING)] = None
    substrate: Annotated[str | None, Choice(choices=("timber", "steel", "concrete"), unknown=RATING)] = None
    height: Annotated[Value | None, mm(100, 3000, unknown=RATING)] = None
    glass: Annotated[str | None, Text(unknown=RATING)] = None
    screws: Annotated[str | None, Text(unknown=RATING)] = None
    slip_up: Annotated[Value | None, Quantity(kind="force", low=0, high=1e5, unknown=RATING)] = None
    slip_along: Annotated[Value | None, Quantity(kind="force", low=0, high=1e5, unknown=RATING)] = None
    rotation_stiffness: Annotated[Value | None, Quantity(kind="rotation stiffness", low=1e4, high=1e12, unknown=RATING)] = None
    reference: Annotated[str | None, Text(unknown=RATING)] = None


class MountType(TableOfEntries):
    """What every mount of a type has; any of it may stand in a mount instead."""

    drilled: Annotated[bool, Flag(default=False, reason="no hole drilled in the mount is mentioned", weight=6)]
    material: Annotated[str | None, Text(unknown="ask the supplier")] = None
    mass: Annotated[Value | None, Quantity(kind="mass", low=0.01, high=200)] = None
    spreader: Annotated[
        bool | None, Flag(unknown="look for a rigid plate between the grub screw and the liner, or ask the supplier")
    ] = None
    earthed: Annotated[
        str,
        Choice(choices=("yes", "no", "unknown"), default="unknown", reason="not said; ask an electrician", weight=8),
    ]
    pads: Annotated[tuple[Pad, ...], Field(min_length=1, max_length=12)]
    plate: BasePlate
    screw: ScrewKind
    screws: Annotated[tuple[ScrewInMount, ...], Field(min_length=1, max_length=200)]
    packers: Annotated[tuple[Packer, ...], Field(max_length=200)] = ()
    service_hole: ServiceHole | None = None
    rating: Rating | None = None

    @property
    def held(self) -> tuple[float, float]:
        """Where its pads begin and end, from the bottom edge of the glass up, mm."""
        on = [p.on_glass(0.0) for p in self.pads]
        return min(p.y0 for p in on), max(p.y1 for p in on)

    def contradictions(self) -> Clash:
        """Everything lies within the plate, and no two screws are one."""
        d, outline = size(self.screw.diameter), _outline(self.plate)
        for s in self.screws:
            if _outside(self.plate, s.x, s.y, d / 2):
                yield s.x, f"places screw {s.name} outside the base plate ({outline})"
        for p in self.packers:
            if any(_outside(self.plate, *corner) for corner in _corners(p)):
                yield p.x, f"places a packer partly outside the base plate ({outline}); give the part under the plate"
        yield from self._hole(d, outline)
        for a, b in combinations(self.screws, 2):
            if a.name == b.name:
                yield b.x, f"is of a second screw named {b.name}; give each its own name"
            elif hypot(size(a.x) - size(b.x), size(a.y) - size(b.y)) < d:
                yield b.x, f"places screw {b.name} on screw {a.name}"
        for one, other in combinations(self.pads, 2):
            apart = abs(size(one.offset) - size(other.offset)) - (size(one.width) + size(other.width)) / 2
            if apart < -SAME and size(one.top) > size(other.bottom) + SAME and size(other.top) > size(one.bottom) + SAME:
                yield (
                    other.width,
                    f"{shown(other.width)} makes two pads of this mount overlap; each part of the glass is held once",
                )

    def _hole(self, d: float, outline: str) -> Clash:
        hole = self.service_hole
        if hole is None:
            return
        if _outside(self.plate, hole.x, hole.y, size(hole.diameter) / 2):
            yield hole.diameter, f"{shown(hole.diameter)} puts the service hole partly outside the base plate ({outline})"
        for s in self.screws:
            if hypot(size(s.x) - size(hole.x), size(s.y) - size(hole.y)) < size(hole.diameter) / 2 + d / 2:
                yield s.x, f"places screw {s.name} in the service hole"


class Mount(MountType):
    """A mount: where it stands, with everything its type gave it."""

    name: Annotated[str, Text(name=True)]
    panel: Annotated[str, Text(name=True)]
    x: Annotated[Value, mm(0, 6000)]
    type: Annotated[str | None, Text(name=True)] = None
    support: Annotated[
        str,
        Choice(
            choices=("blocking", "edge joist", "decking only"), default="decking only", weight=1,
            reason="what is below was not seen; nothing but the decking is assumed",
            refused={
                "cantilevered boards": "a mount tips the boards where they stick out past their last joist, "
                "which is not calculated; give the mount blocking or ask an engineer"
            },
        ),
    ]  # fmt: skip
    blocking: Annotated[str | None, Text(name=True)] = None
    in_bay: Annotated[Value, mm(0, 4000)]
    offset: Annotated[Value, mm(-500, 500, "0 mm", "mount on the centre line of what it stands on is assumed", weight=3)]
    grain: Annotated[
        str,
        Choice(
            choices=("side", "end"), default="side", reason="screws into the side of the wood, not its end, are assumed", weight=6
        ),
    ]
    restraint: Annotated[str | None, Text(unknown="say what keeps the edge joist from turning over")] = None

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """Only an edge joist can turn over."""
        return frozenset() if section.says("support") == "edge joist" else frozenset({"restraint"})

    def contradictions(self) -> Clash:
        """What it stands on is one thing."""
        yield from super().contradictions()
        if self.support == "blocking" and self.blocking is None:
            yield self.x, f'is of mount {self.name}, which stands on blocking and names none; write blocking = "..."'
        if self.support != "blocking" and self.blocking is not None:
            yield (
                self.x,
                (
                    f'is of mount {self.name}, which names blocking {self.blocking} and stands on "{self.support}"; '
                    'write support = "blocking" or take the name out'
                ),
            )


def _outside(plate: BasePlate, x: Value | float, y: Value | float, radius: float = 0.0) -> bool:
    """Whether a circle about a point reaches out of the plate."""
    px, py = (size(v) if isinstance(v, Value) else v for v in (x, y))
    half_x, half_y = size(plate.along) / 2 + SAME, size(plate.across) / 2 + SAME
    if plate.shape == "round":
        return hypot(px, py) + radius > half_x
    return abs(px) + radius > half_x or abs(py) + radius > half_y


def _corners(packer: Packer) -> Iterator[tuple[float, float]]:
    for sx in (-0.5, 0.5):
        for sy in (-0.5, 0.5):
            yield size(packer.x) + sx * size(packer.along), size(packer.y) + sy * size(packer.across)


def _outline(plate: BasePlate) -> str:
    if plate.shape == "round":
        return f"{shown(plate.along)} round"
    return f"{shown(plate.along)} x {shown(plate.across)}"
