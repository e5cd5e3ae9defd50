"""Plan and elevation of a side, seen from the people side: an overview, tiles of two panels with running dimensions, the fall.

The drop side is at the top. A side whose tape runs to the left is drawn so: its start is at the right. Nothing needs colour:
timber is hatched; findings have numbers, a clash in a heavy ring, what is not checked in a dashed one, a note in a square.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barrier.run.conflicts import Conflict, Weight
from barrier.run.side import Mount, Panel, SideSet
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.whole_run import LaidOut

MARGIN = 12.0
PER_TILE = 2
DEEP = 330.0  # mm of deck that are drawn behind its edge, at least
GLASS = 20.0  # mm: as thick as a line that can be seen
RING = 13.0
ROW = 17.0  # units from one row of figures to the next


@dataclass(frozen=True, slots=True)
class Along:
    """Where a place on the tape lies in the picture: to the right, or mirrored."""

    view: View
    low: float
    high: float
    to_the_right: bool

    def x(self, at: float) -> float:
        """Across the picture."""
        return self.view.x(at - self.low if self.to_the_right else self.high - at)

    def holds(self, at: float) -> bool:
        """Whether a place is on this stretch."""
        return self.low <= at <= self.high


def along(side: SideSet, low: float, high: float, y: float) -> Along:
    """A stretch of a side over the whole width of a picture."""
    scale = (WIDTH - 2 * MARGIN) / (high - low)
    return Along(View(scale, MARGIN, y), low, high, side.to_the_right)


def deep(side: SideSet) -> float:
    """How much of the deck is drawn behind its edge, mm: all of a piece, and a little."""
    g = side.ground
    return max(DEEP, g.rim + (g.pack if g.across or not side.pieces else side.pieces[0].length) + 40.0)


def in_words(panels: Sequence[Panel]) -> str:
    """Panels and mounts with their places."""
    return "; ".join(f"{p.name} from {p.strip.left} to {p.strip.right}, mounts at {_all(p)}" for p in panels)


def _all(panel: Panel) -> str:
    return " and ".join(f"{m.at:g}" for m in panel.mounts)


def drawings(laid: LaidOut, side: SideSet) -> list[tuple[Drawing, str]]:
    """Overview, tiles and elevation of a side for a screen, each with the heading it stands under."""
    way = "right" if side.to_the_right else "left"
    caption = f"Side {side.name} from the people side, the tape runs to the {way}. {RINGS}"
    found = [(Drawing(f"overview-{side.name}", (caption,), lambda: overview(laid, side)), f"Side {side.name}, the whole of it")]
    for i in range(1, (len(side.panels) - 1) // PER_TILE + 2):
        panels = side.panels[PER_TILE * (i - 1) : PER_TILE * i]
        names = " and ".join(p.name for p in panels)
        caption = "Above: edges of glass. Below: middles of mounts, then of joists. All in mm on the tape from 0."
        found.append((Drawing(f"plan-{side.name}-{i}", (caption,), lambda ps=panels: tile(laid, side, ps)), f"Plan of {names}"))  # type: ignore[misc]
    last = Drawing(f"elevation-{side.name}", ("To one scale.",), lambda: elevation(laid, side))
    return [*found, (last, f"Elevation of side {side.name}")]


RINGS = "Heavy ring: clash. Dashed ring: not checked. Square: note."


# ---------------------------------------------------------------- findings


def places(side: SideSet, c: Conflict) -> list[float]:
    """Where a finding is shown on the tape: a clash and what is not checked at each mount it is about, a note once."""
    at = [m.at for m in side.mounts if m.name in c.whom]
    return at if at and c.weight is not Weight.NOTE and len(at) < len(side.mounts) else [c.at]


def marked(sketch: Sketch, laid: LaidOut, side: SideSet, a: Along, y: float, squares: float) -> None:
    """The number of every finding of a side where it is: rings round what stands on the glass line, at height ``y``, and squares
    for notes in a row of their own."""
    for number, c in enumerate(laid.conflicts, 1):
        if c.side != side.name:
            continue
        for at in (x for x in places(side, c) if a.holds(min(max(x, a.low), a.high)) and _near(a, x)):
            x, what = a.x(min(max(at, a.low), a.high)), f"finding {number}"
            if c.weight is Weight.NOTE:
                x, low = _clear(sketch, x, squares)
                sketch.rect(x - 9, low - 9, x + 9, low + 9, "ink", what=what)
                sketch.text(x, low + 4, str(number), "middle", bold=True)
            else:
                x = min(max(x, RING + 1), sketch.width - RING - 1)
                sketch.circle(x, y, RING, "warn", "" if c.weight is Weight.CLASH else "dash", what)
                if c.weight is Weight.CLASH:
                    sketch.circle(x, y, RING + 2.4, "warn", what=what)
                sketch.text(x + (RING + 4 if x < sketch.width - 40 else -RING - 4), y - RING + 1, str(number),
                            "start" if x < sketch.width - 40 else "end", bold=True)  # fmt: skip


def _near(a: Along, at: float) -> bool:
    """Whether a place is on the stretch that is drawn, or just beyond its end as a finding at an end is."""
    return a.low - 1.0 <= at <= a.high + 1.0


def _clear(sketch: Sketch, x: float, y: float) -> tuple[float, float]:
    """A place for a square in its row that covers no other words, to the right of where it would be."""
    x = min(max(x, 10.0), sketch.width - 10.0)
    for step in range(40):
        there = x + 21.0 * step
        there = there if there < sketch.width - 9.0 else x - 21.0 * (step - int((sketch.width - 9.0 - x) // 21.0))
        if there > 9.0 and sketch.free(there - 8.0, y + 4, "00") and sketch.free(there - 10.0, y + 4, "."):
            return there, y
    return x, y


# ---------------------------------------------------------------- the plan


def overview(laid: LaidOut, side: SideSet) -> Picture:
    """The whole side: glass, its names, mounts, joists, numbered findings."""
    sketch, ground = Sketch(), side.ground
    a = along(side, -150.0, side.division.line + 150.0, 30.0)
    v = a.view
    sketch.line(a.x(a.low), v.y(ground.offset), a.x(a.high), v.y(ground.offset), "ink", what="deck edge")
    for j in ground.joists:
        if a.low < j < a.high:
            sketch.line(a.x(j), v.y(ground.offset), a.x(j), v.y(ground.offset - DEEP), "dim", "dash", what="joist")
    for p in side.panels:
        sketch.rect(a.x(p.strip.left), v.y(25), a.x(p.strip.right), v.y(-25), "glass", what=p.name)
        sketch.text((a.x(p.strip.left) + a.x(p.strip.right)) / 2, v.y(0) + 38, p.name, "middle", bold=True)
        for m in p.mounts:
            sketch.rect(a.x(m.at - 50), v.y(50), a.x(m.at + 50), v.y(-50), "thin", what=m.name)
    datum(sketch, a, v.y(0) + 62)
    marked(sketch, laid, side, a, v.y(0), v.y(0) + 84)
    names = ", ".join(p.name for p in side.panels)
    return Picture(sketch.svg(v.scale), f"Plan of side {side.name} with panels {names} and {len(side.mounts)} mounts.")


def datum(sketch: Sketch, a: Along, y: float) -> None:
    """The one point that cannot move, and which way the tape runs."""
    x, way = a.x(0.0), 1.0 if a.to_the_right else -1.0
    sketch.line(x, y - 20, x, y + 6, "ink")
    sketch.arrow(x, y, x + 60 * way, y, "ink")
    sketch.text(x + 66 * way, y + 4, "0: the tape starts here", "start" if way > 0 else "end")


def tile(laid: LaidOut, side: SideSet, panels: Sequence[Panel]) -> Picture:
    """Two panels with everything that is marked on the deck."""
    first, last = panels[0].strip.left, panels[-1].strip.right
    wide = max(last - first, 1400)
    a, sketch = along(side, first - 130.0, first + wide + 130.0, 0.0), Sketch()
    full(sketch, laid, side, a, panels)
    return Picture(sketch.svg(a.view.scale), f"Plan: {in_words(panels)}, mm from the start of the tape.")


def full(sketch: Sketch, laid: LaidOut, side: SideSet, a: Along, panels: Sequence[Panel]) -> float:
    """Draw the plan of some panels about the height of the glass line; returns how far down it reaches, in units."""
    v, g = a.view, side.ground
    edge, behind = v.y(g.offset), v.y(g.offset - deep(side))
    sketch.line(a.x(a.low), edge, a.x(a.high), edge, "ink", what="deck edge")
    if g.rim:
        sketch.rect(a.x(a.low), edge, a.x(a.high), v.y(g.offset - g.rim), "thin", what="rim joist")
    _timber(sketch, side, a, panels, behind)
    for p in panels:
        sketch.rect(a.x(p.strip.left), v.y(GLASS / 2), a.x(p.strip.right), v.y(-GLASS / 2), "glass", what=p.name)
        for m in p.mounts:
            _mount(sketch, a, laid, m)
    glass = [x for p in panels for x in (p.strip.left, p.strip.right)]
    running(sketch, a, glass, v.y(GLASS / 2), edge - 8, up=True)
    running(sketch, a, [m.at for p in panels for m in p.mounts], v.y(0), behind + 14, up=False)
    y = _bays(sketch, side, a, behind + 14 + ROW) if g.joists else behind + 14
    y += ROW
    for p in panels:
        x = (a.x(p.strip.left) + a.x(p.strip.right)) / 2
        sketch.text(x, y, f"{p.name}: {p.strip.width} wide", "middle", bold=True)
    if a.low < 0.0:
        y += ROW + 4
        datum(sketch, a, y)
    marked(sketch, laid, side, a, v.y(0), y + ROW)
    return max(sketch.bottom, y + ROW + 10)


def _timber(sketch: Sketch, side: SideSet, a: Along, panels: Sequence[Panel], behind: float) -> None:
    """Joists, and the pieces under the mounts that are shown."""
    v, g = a.view, side.ground
    inner = v.y(g.offset - g.rim)
    for j in g.joists:
        low, high = max(j - g.joist / 2, a.low), min(j + g.joist / 2, a.high)
        if low < high:
            sketch.rect(a.x(low), inner, a.x(high), behind, "soft", "dash", "joist")
    if not g.across:
        next_one = g.next_joist + g.rim / 2 - g.joist / 2  # its outer face, in from the deck edge
        sketch.rect(a.x(a.low), v.y(g.offset - next_one), a.x(a.high), behind, "soft", "dash", "joist")
    names = {m.name for p in panels for m in p.mounts}
    for q in (q for q in side.pieces if names & set(q.mounts)):
        low, high = max(q.low, a.low), min(q.high, a.high)
        far = v.y(g.offset - g.rim - (g.pack if g.across else q.length))
        box = [(a.x(low), inner), (a.x(high), inner), (a.x(high), far), (a.x(low), far)]
        sketch.polygon(box, "timber", q.mark)
        sketch.hatch(box, 9.0)


def _mount(sketch: Sketch, a: Along, laid: LaidOut, m: Mount) -> None:
    panel = next(p for s in laid.sides for p in s.panels if m in p.mounts)
    mount, v = laid.job_of(panel.name).mounts[0], a.view
    half_x = float(mount.plate.along.x) / 2
    half_y = float((mount.plate.across or mount.plate.along).x) / 2
    sketch.rect(a.x(m.at - half_x), v.y(half_y), a.x(m.at + half_x), v.y(-half_y), "ink", what=m.name)
    for s in mount.screws:
        sketch.circle(a.x(m.at + float(s.x.x)), v.y(float(s.y.x)), max(v.scale * laid.fixing.diameter / 2, 1.2), "ink")
    sketch.line(a.x(m.at), v.y(half_y + 15), a.x(m.at), v.y(-half_y - 15), "thin", "chain")


def running(sketch: Sketch, a: Along, marks: Sequence[float], of: float, y: float, *, up: bool) -> None:
    """Running dimensions from the start of the tape: a line from each mark to its figure, of an edge over its own panel."""
    for i, at in enumerate(marks):
        x = a.x(at)
        sketch.line(x, of, x, y - 10 if not up else y - 9, "dim")
        right = (i % 2 == 0) == a.to_the_right
        if up:
            sketch.text(x + (3 if right else -3), y, f"{at:g}", "start" if right else "end", bold=True, step=(0.0, -LINE))
        else:
            sketch.text(x, y, f"{at:g}", "middle", bold=True)


def _bays(sketch: Sketch, side: SideSet, a: Along, y: float) -> float:
    """The middles of the joists, from the same zero as all else, and the numbers of the bays between them."""
    joists, low = side.ground.joists, y
    for i, j in enumerate(joists):
        if a.holds(j):
            sketch.text(a.x(j), y, f"|{j:g}|", "middle")
        if i and a.holds((j + joists[i - 1]) / 2):
            middle = a.x((j + joists[i - 1]) / 2)
            if sketch.free(middle, y, f"bay {i}", "middle"):
                sketch.text(middle, y, f"bay {i}", "middle")
            else:
                low = max(low, y + ROW)
                sketch.text(middle, y + ROW, f"bay {i}", "middle")
    return low


# ---------------------------------------------------------------- the elevation


def elevation(laid: LaidOut, side: SideSet) -> Picture:
    """Glass over the deck, to one scale; the deck with its fall, and how far it has fallen at the end."""
    sketch, line = Sketch(), float(side.division.line)
    a = along(side, -150.0, line + 150.0, 0.0)
    y = upright(sketch, laid, side, a, side.panels)
    for text in levels(laid, side):
        y = sketch.words(y, text)
    return Picture(sketch.svg(a.view.scale), f"Elevation of side {side.name}: {' '.join(levels(laid, side))}")


def levels(laid: LaidOut, side: SideSet) -> Iterator[str]:
    """What an elevation shows, in words."""
    panel = laid.probe.panels[0]
    yield f"Height of glass {float(panel.height.x):g}, bottom gap {float(panel.bottom_gap.x):g} mm."
    if side.fall:
        yield f"The deck falls {side.fall:g} mm from the start to the end; the panels are drawn leaning with it. Dashed: level."
    else:
        yield "A level deck was taken: take a level reading at every mount."


def upright(sketch: Sketch, laid: LaidOut, side: SideSet, a: Along, panels: Sequence[Panel]) -> float:
    """Draw some panels standing on the deck at the height of the view; returns how far down that reaches, in units."""
    panel, v = laid.probe.panels[0], a.view
    height, gap = float(panel.height.x), float(panel.bottom_gap.x)
    low, high = max(a.low, 0.0), min(a.high, float(side.division.line))
    sketch.line(a.x(low), v.y(-side.fall_at(low)), a.x(high), v.y(-side.fall_at(high)), "ink", what="deck")
    if side.fall:
        sketch.line(a.x(low), v.y(0), a.x(high), v.y(0), "dim", "dash", what="level from the start")
    deepest = v.y(min(-side.fall_at(low), -side.fall_at(high), 0.0)) + 14
    for p in panels:
        ends = [(x, -side.fall_at(x)) for x in (float(p.strip.left), float(p.strip.right))]
        box = [(a.x(x), v.y(y + gap)) for x, y in ends] + [(a.x(x), v.y(y + gap + height)) for x, y in reversed(ends)]
        sketch.polygon(box, "glass", p.name)
        sketch.text((box[0][0] + box[1][0]) / 2, v.y(gap + height / 2), p.name, "middle", bold=True)
        for m in p.mounts:
            y = -side.fall_at(m.at)
            sketch.rect(a.x(m.at - 50), v.y(y), a.x(m.at + 50), v.y(y + gap + 90), "ink", what=m.name)
            if side.fall:
                sketch.text(
                    a.x(m.at), deepest, f"-{side.fall_at(m.at):.0f}" if side.fall > 0 else f"+{-side.fall_at(m.at):.0f}", "middle"
                )
    return deepest + 4 if side.fall else v.y(0) + 4
