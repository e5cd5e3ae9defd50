"""Plan and elevation of a side for paper, to a scale that is stated and can be measured: whole on A3, in joining parts on A4.

A picture is as wide in units as its paper has points, a little less (:data:`UNIT`), so that words come out large enough for rain
and a picture printed at its own width keeps its scale. A bar of so many millimetres says whether the printer did.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from barrier.run.side import Panel, SideSet
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.svg import Sketch, View
from barrier.sheet.runs import plan
from barrier.whole_run import LaidOut

UNIT = 1.2  # points to a unit of the picture: words of 11 and 12 units are 13 and 14 points
POINT = 25.4 / 72.0  # mm
ROOM = {"a4": 273.0, "a3": 396.0}  # mm across a page on its side, inside its margins
HIGH = {"a4": 165.0, "a3": 245.0}  # mm up and down it, beside heading and caption
SCALES = (10, 20, 25, 50, 100, 200)
IN_PARTS = {"a4": 20, "a3": 25}  # at smaller scales figures of neighbouring mounts would meet
BEYOND = 110.0  # mm of deck beyond the first and the last edge of glass
OVERLAP = 60.0  # mm that parts share
BAR = 50.0  # mm of paper


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a side on one page: its panels, from and to on the tape (mm), its number and how many there are."""

    panels: tuple[Panel, ...]
    low: float
    high: float
    number: int
    of: int


def _before(side: SideSet) -> float:
    """How much is drawn before 0, mm: as far as the joist before the first mount, if that is not far."""
    first = side.ground.joists[0] if side.ground.joists else 0.0
    return max(BEYOND, 60.0 - first) if first > -300.0 else BEYOND


def scale_for(side: SideSet, paper: str) -> int:
    """One in so many: the largest scale at which a side comes whole on one page; else, in parts, one at which figures keep clear of
    one another and the widest panel still has room."""
    ends = _before(side) + BEYOND
    fits = next((s for s in SCALES if (side.division.line + ends) / s <= ROOM[paper]), SCALES[-1])
    widest = max(p.strip.width for p in side.panels) + ends
    least = next((s for s in SCALES if widest / s <= ROOM[paper]), SCALES[-1])
    return max(least, min(fits, IN_PARTS[paper]))


def parts(side: SideSet, paper: str, scale: int) -> tuple[Part, ...]:
    """The side in as few parts as the paper needs, cut at gaps between panels; a panel too wide for a page has one to itself."""
    room, line = ROOM[paper] * scale, float(side.division.line)
    found: list[list[Panel]] = [[]]
    for p in side.panels:
        first = found[-1][0].strip.left if found[-1] else p.strip.left
        low = -_before(side) if not found[:-1] else first - OVERLAP
        high = line + BEYOND if p is side.panels[-1] else p.strip.right + OVERLAP
        if found[-1] and high - low > room:
            found.append([])
        found[-1].append(p)
    last = len(found)
    share = -(-len(side.panels) // last)  # as many to a page, where each of them still has room
    even = [list(side.panels[i : i + share]) for i in range(0, len(side.panels), share)]
    if len(even) == last and all(ps[-1].strip.right - ps[0].strip.left + OVERLAP + BEYOND + _before(side) <= room for ps in even):
        found = even
    cut = [ps[0].strip.left - OVERLAP for ps in found], [ps[-1].strip.right + OVERLAP for ps in found]
    lows, highs = [-_before(side), *cut[0][1:]], [*cut[1][:-1], line + BEYOND]
    return tuple(Part(tuple(ps), lows[i], highs[i], i + 1, last) for i, ps in enumerate(found))


def drawings(laid: LaidOut, side: SideSet, paper: str) -> list[Drawing]:
    """Every page of a side, plan above elevation; glass too high for that has its elevation on a page of its own."""
    scale = scale_for(side, paper)
    pages = parts(side, paper, scale)
    both = all(_tall(_sketch(laid, side, part, scale, both=True)) <= HIGH[paper] for part in pages)
    way = "right" if side.to_the_right else "left"
    legend = (
        f"From the people side; 0 is the start of the tape, which runs to the {way}. Top: edges of glass. Below: middles of "
        "mounts, then of joists between strokes. Heavy ring: clash; dashed: not checked; square: note. Do not measure off the "
        "drawing. "
    )
    levels = " ".join(plan.levels(laid, side))
    found = []
    for part in pages:
        which = "whole" if part.of == 1 else f"part {part.number} of {part.of}"
        caption = f"Plan of side {side.name}, {which}, 1 : {scale}. {legend}{levels if both else ''}"
        draw = partial(picture, laid, side, part, scale, both=both)
        found.append(Drawing(f"sheet-{side.name}-{part.number}", (caption,), draw))
    if not both:
        whole = Part(side.panels, -_before(side), side.division.line + BEYOND, 1, 1)
        own = next((s for s in SCALES if _fits(_standing(laid, side, whole, s), paper)), SCALES[-1])
        caption = f"Elevation of side {side.name}, 1 : {own}. {levels}"
        found.append(Drawing(f"sheet-{side.name}-up", (caption,), partial(elevation, laid, side, whole, own)))
    return found


def picture(laid: LaidOut, side: SideSet, part: Part, scale: int, *, both: bool = True) -> Picture:
    """One page: the plan with running dimensions above and below, joists and bays, ``both`` with the elevation under it, and a bar
    of the scale."""
    sketch = _sketch(laid, side, part, scale, both=both)
    names = ", ".join(p.name for p in part.panels)
    told = f"Plan{' and elevation' if both else ''} of side {side.name}, panels {names}, 1 : {scale}: {plan.in_words(part.panels)}"
    return Picture(sketch.svg(_per_mm(scale)), f"{told}, mm from the start of the tape.", sketch.width * UNIT * POINT)


def elevation(laid: LaidOut, side: SideSet, part: Part, scale: int) -> Picture:
    """The elevation of a side by itself."""
    sketch = _standing(laid, side, part, scale)
    told = f"Elevation of side {side.name}, 1 : {scale}: {' '.join(plan.levels(laid, side))}"
    return Picture(sketch.svg(_per_mm(scale)), told, sketch.width * UNIT * POINT)


def _per_mm(scale: int) -> float:
    """Units of the picture to a millimetre of the deck."""
    return 1.0 / (scale * POINT * UNIT)


def _tall(sketch: Sketch) -> float:
    """How high a picture comes on paper, mm."""
    return (sketch.bottom - sketch.top + 6.0) * UNIT * POINT


def _fits(sketch: Sketch, paper: str) -> bool:
    return sketch.width * UNIT * POINT <= ROOM[paper] and _tall(sketch) <= HIGH[paper]


def _along(side: SideSet, part: Part, scale: int, y: float) -> plan.Along:
    return plan.Along(View(_per_mm(scale), 0.0, y), part.low, part.high, side.to_the_right)


def _sketch(laid: LaidOut, side: SideSet, part: Part, scale: int, *, both: bool) -> Sketch:
    a = _along(side, part, scale, 0.0)
    sketch = Sketch((part.high - part.low) * _per_mm(scale))
    low = plan.full(sketch, laid, side, a, part.panels)
    if part.of > 1:
        _joins(sketch, a, part, low)
    if both:
        low = _upright(sketch, laid, side, part, scale, low + 20)
    _bar(sketch, low + 12, scale)
    return sketch


def _standing(laid: LaidOut, side: SideSet, part: Part, scale: int) -> Sketch:
    sketch = Sketch((part.high - part.low) * _per_mm(scale))
    _bar(sketch, _upright(sketch, laid, side, part, scale, 0.0) + 12, scale)
    return sketch


def _upright(sketch: Sketch, laid: LaidOut, side: SideSet, part: Part, scale: int, y: float) -> float:
    """Draw the elevation hung from ``y``; returns where it ends."""
    top = y + _height(laid) * _per_mm(scale)
    return plan.upright(sketch, laid, side, _along(side, part, scale, top), part.panels)


def _height(laid: LaidOut) -> float:
    panel = laid.probe.panels[0]
    return float(panel.height.x) + float(panel.bottom_gap.x)


def _joins(sketch: Sketch, a: plan.Along, part: Part, foot: float) -> None:
    """Where the neighbouring part goes on: the line both show."""
    for at, other in ((part.panels[0].strip.left, part.number - 1), (part.panels[-1].strip.right, part.number + 1)):
        if 1 <= other <= part.of:
            x = a.x(at - OVERLAP / 2 if other < part.number else at + OVERLAP / 2)
            sketch.line(x, sketch.top, x, foot, "ink", "chain", f"joins part {other}")
            sketch.text(x, foot + 2, f"part {other}", "end" if x > sketch.width / 2 else "start")


def _bar(sketch: Sketch, y: float, scale: int) -> None:
    length, x = BAR / POINT / UNIT, 2.0
    sketch.rect(x, y, x + length / 2, y + 5, "solid")
    sketch.rect(x + length / 2, y, x + length, y + 5, "ink")
    sketch.words(y + 4, f"{BAR:g} mm of paper if printed at full size: {BAR * scale:g} mm.")
