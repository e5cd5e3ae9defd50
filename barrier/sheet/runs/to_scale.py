"""Plan and elevation of a side for paper, to a scale that is stated and can be measured: whole on A3, in joining parts on A4.

A picture is as wide in units as its paper has points, a little less (:data:`UNIT`), so that words come out large enough for rain
and a picture printed at its own width keeps its scale. A bar of so many millimetres says whether the printer did.
"""

from __future__ import annotations

from dataclasses import dataclass

from barrier.run.side import Panel, SideSet
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.svg import Sketch, View
from barrier.sheet.runs import plan
from barrier.whole_run import LaidOut

UNIT = 1.2  # points to a unit of the picture: words of 11 and 12 units are 13 and 14 points
POINT = 25.4 / 72.0  # mm
ROOM = {"a4": 273.0, "a3": 396.0}  # mm across a page on its side, inside its margins
HIGH = {"a4": 165.0, "a3": 245.0}  # mm up and down it, beside heading and caption
SCALES = (5, 10, 20, 25, 50, 100, 200)
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
    """One in so many: the largest scale at which a side comes whole on one page; else, on A4, 1 : 20 in parts."""
    whole = side.division.line + _before(side) + BEYOND
    fits = next((s for s in SCALES if s >= 10 and whole / s <= ROOM[paper]), SCALES[-1])
    return min(fits, 20) if paper == "a4" else fits


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
    """Every page of a side, plan above elevation."""
    scale = scale_for(side, paper)
    found = []
    for part in parts(side, paper, scale):
        which = "whole" if part.of == 1 else f"part {part.number} of {part.of}"
        way = "right" if side.to_the_right else "left"
        caption = (
            f"Plan of side {side.name}, {which}, 1 : {scale}, from the people side; 0 is the start of the tape, which runs "
            f"to the {way}. "
            "Top: edges of glass. Below: middles of mounts, then of joists between strokes. Heavy ring: clash; dashed: not "
            "checked; square: "
            f"note. Do not measure off the drawing. {' '.join(plan.levels(laid, side))}"
        )
        draw = lambda part=part: picture(laid, side, part, scale)  # noqa: E731
        found.append(Drawing(f"sheet-{side.name}-{part.number}", (caption,), draw))
    return found


def picture(laid: LaidOut, side: SideSet, part: Part, scale: int) -> Picture:
    """One page: the plan with running dimensions above and below, joists and bays, the elevation under it, the bar of the scale."""
    per_mm = 1.0 / (scale * POINT * UNIT)  # units of the picture to a millimetre of the deck
    wide = (part.high - part.low) * per_mm
    a = plan.Along(View(per_mm, 0.0, 0.0), part.low, part.high, side.to_the_right)
    sketch = Sketch(wide)
    foot = plan.full(sketch, laid, side, a, part.panels)
    if part.of > 1:
        _joins(sketch, a, part, foot)
    top = foot + 26 + _height(laid) * per_mm
    low = plan.upright(sketch, laid, side, plan.Along(View(per_mm, 0.0, top), part.low, part.high, side.to_the_right), part.panels)
    _bar(sketch, low + 14, scale)
    names = ", ".join(p.name for p in part.panels)
    told = f"Plan and elevation of side {side.name}, panels {names}, 1 : {scale}: {plan.in_words(part.panels)}"
    return Picture(sketch.svg(per_mm), f"{told}, mm from the start of the tape.", wide * UNIT * POINT)


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
    sketch.words(y + 4, f"Bar: {BAR:g} mm of paper, if the printer kept the size; {BAR * scale:g} mm of deck.")
