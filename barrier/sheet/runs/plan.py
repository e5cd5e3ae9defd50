"""Plan and elevation of a side: an overview, tiles of two panels with running dimensions, and the fall. Seen from the people side.

The drop side is at the top. A side whose tape runs to the left is drawn so: its start is at the right. Nothing needs colour:
timber is hatched, findings are ringed and numbered.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.run.conflicts import Weight
from barrier.run.side import Mount, Panel, SideSet
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.whole_run import LaidOut

MARGIN = 12.0
PER_TILE = 2
DEEP = 330.0  # mm of deck that are drawn behind its edge
GLASS = 20.0  # mm: as thick as a line that can be seen


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


def along(side: SideSet, low: float, high: float, y: float) -> Along:
    """A stretch of a side over the whole width of a picture."""
    scale = (WIDTH - 2 * MARGIN) / (high - low)
    return Along(View(scale, MARGIN, y), low, high, side.to_the_right)


def drawings(laid: LaidOut, side: SideSet) -> list[tuple[Drawing, str]]:
    """Overview, tiles and elevation of a side, each with the heading it stands under."""
    way = "right" if side.to_the_right else "left"
    caption = f"Side {side.name} from the people side, the tape runs to the {way}. Ringed: clashes and what is not checked."
    found = [(Drawing(f"overview-{side.name}", (caption,), lambda: overview(laid, side)), f"Side {side.name}, the whole of it")]
    for i in range(1, (len(side.panels) - 1) // PER_TILE + 2):
        panels = side.panels[PER_TILE * (i - 1) : PER_TILE * i]
        names = " and ".join(p.name for p in panels)
        caption = "Above: edges of glass; below: middles of mounts; mm on the tape from 0."
        found.append((Drawing(f"plan-{side.name}-{i}", (caption,), lambda ps=panels: tile(laid, side, ps)), f"Plan of {names}"))  # type: ignore[misc]
    last = Drawing(f"elevation-{side.name}", ("To one scale.",), lambda: elevation(laid, side))
    return [*found, (last, f"Elevation of side {side.name}")]


def overview(laid: LaidOut, side: SideSet) -> Picture:
    """The whole side: glass, its names, mounts, joists, ringed findings."""
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
    _datum(sketch, a, v.y(0) + 62)
    _rings(sketch, laid, side, a, v.y(0))
    names = ", ".join(p.name for p in side.panels)
    return Picture(sketch.svg(v.scale), f"Plan of side {side.name} with panels {names} and {len(side.mounts)} mounts.")


def _datum(sketch: Sketch, a: Along, y: float) -> None:
    """The one point that cannot move, and which way the tape runs."""
    x, way = a.x(0.0), 1.0 if a.to_the_right else -1.0
    sketch.line(x, y - 20, x, y + 6, "ink")
    sketch.arrow(x, y, x + 60 * way, y, "ink")
    sketch.text(x + 66 * way, y + 4, "0: the tape starts here", "start" if way > 0 else "end")


def _rings(sketch: Sketch, laid: LaidOut, side: SideSet, a: Along, y: float, of: Sequence[str] = ()) -> None:
    """A ring with its number round every clash and everything not checked, at each mount it holds, else at its place."""
    for number, c in enumerate(laid.conflicts, 1):
        if c.side != side.name or c.weight is Weight.NOTE:
            continue
        for at in [m.at for m in side.mounts if m.name in c.whom] or [c.at]:
            if a.low <= at <= a.high and (not of or set(of) & set(c.whom) or not c.whom):
                sketch.circle(a.x(at), y, 13.0, "warn", what=f"finding {number}")
                sketch.text(a.x(at) + 15, y - 12, str(number), bold=True)


def tile(laid: LaidOut, side: SideSet, panels: Sequence[Panel]) -> Picture:
    """Two panels with everything that is marked on the deck."""
    first, last = panels[0].strip.left, panels[-1].strip.right
    wide = max(last - first, 1400)
    a = along(side, first - 130.0, first + wide + 130.0, 0.0)
    v, g, sketch = a.view, side.ground, Sketch()
    edge = g.offset
    sketch.line(a.x(a.low), v.y(edge), a.x(a.high), v.y(edge), "ink", what="deck edge")
    sketch.rect(a.x(a.low), v.y(edge), a.x(a.high), v.y(edge - g.rim), "thin", what="rim joist")
    for j in g.joists:
        if a.low < j - g.joist / 2 and j + g.joist / 2 < a.high:
            sketch.rect(a.x(j - g.joist / 2), v.y(edge - g.rim), a.x(j + g.joist / 2), v.y(edge - DEEP), "soft", "dash", "joist")
    names = {m.name for p in panels for m in p.mounts}
    for q in side.pieces:
        if not names & set(q.mounts):
            continue
        low, high = max(q.low, a.low), min(q.high, a.high)
        deep = g.pack if g.across else min(q.length, DEEP - g.rim)
        box = [(a.x(low), v.y(edge - g.rim)), (a.x(high), v.y(edge - g.rim)),
               (a.x(high), v.y(edge - g.rim - deep)), (a.x(low), v.y(edge - g.rim - deep))]  # fmt: skip
        sketch.polygon(box, "timber", q.mark)
        sketch.hatch(box, 9.0)
    marks = [x for p in panels for x in (p.strip.left, p.strip.right)]
    for p in panels:
        sketch.rect(a.x(p.strip.left), v.y(GLASS / 2), a.x(p.strip.right), v.y(-GLASS / 2), "glass", what=p.name)
        for m in p.mounts:
            _mount(sketch, a, laid, m)
    _running(sketch, a, marks, v.y(GLASS / 2), v.y(edge) - 8, up=True)
    _running(sketch, a, [m.at for p in panels for m in p.mounts], v.y(0), v.y(edge - DEEP) + 14, up=False)
    for p in panels:
        x = (a.x(p.strip.left) + a.x(p.strip.right)) / 2
        sketch.text(x, v.y(edge - DEEP) + 42, f"{p.name}: {p.strip.width} wide", "middle", bold=True)
    if a.low < 0.0:
        _datum(sketch, a, v.y(edge - DEEP) + 60)
    _rings(sketch, laid, side, a, v.y(0), [*names, *(p.name for p in panels)])
    told = "; ".join(f"{p.name} from {p.strip.left} to {p.strip.right}, mounts at {_all(p)}" for p in panels)
    return Picture(sketch.svg(v.scale), f"Plan: {told}, mm from the start of the tape.")


def _all(panel: Panel) -> str:
    return " and ".join(f"{m.at:g}" for m in panel.mounts)


def _mount(sketch: Sketch, a: Along, laid: LaidOut, m: Mount) -> None:
    mount, v = laid.probe.mounts[0], a.view
    half_x = float(mount.plate.along.x) / 2
    half_y = float((mount.plate.across or mount.plate.along).x) / 2
    sketch.rect(a.x(m.at - half_x), v.y(half_y), a.x(m.at + half_x), v.y(-half_y), "ink", what=m.name)
    for s in mount.screws:
        sketch.circle(a.x(m.at + float(s.x.x)), v.y(float(s.y.x)), max(v.scale * laid.fixing.diameter / 2, 1.2), "ink")
    sketch.line(a.x(m.at), v.y(half_y + 15), a.x(m.at), v.y(-half_y - 15), "thin", "chain")


def _running(sketch: Sketch, a: Along, marks: Sequence[float], of: float, y: float, *, up: bool) -> None:
    """Running dimensions from the start of the tape: a line from each mark to its figure, of an edge over its own panel."""
    for i, at in enumerate(marks):
        x = a.x(at)
        sketch.line(x, of, x, y - 10 if not up else y - 9, "dim")
        right = (i % 2 == 0) == a.to_the_right
        if up:
            sketch.text(x + (3 if right else -3), y, f"{at:g}", "start" if right else "end", step=(0.0, -LINE))
        else:
            sketch.text(x, y, f"{at:g}", "middle")


def elevation(laid: LaidOut, side: SideSet) -> Picture:
    """Glass over the deck, to one scale; the deck with its fall, and how far it has fallen at each mount."""
    panel = laid.probe.panels[0]
    height, gap = float(panel.height.x), float(panel.bottom_gap.x)
    sketch, line = Sketch(), float(side.division.line)
    a = along(side, -150.0, line + 150.0, 0.0)
    v = a.view
    sketch.line(a.x(0), v.y(0), a.x(line), v.y(-side.fall), "ink", what="deck")
    if side.fall:
        sketch.line(a.x(0), v.y(0), a.x(line), v.y(0), "dim", "dash", what="level from the start")
    for p in side.panels:
        ends = [(x, -side.fall_at(x)) for x in (float(p.strip.left), float(p.strip.right))]
        box = [(a.x(x), v.y(y + gap)) for x, y in ends] + [(a.x(x), v.y(y + gap + height)) for x, y in reversed(ends)]
        sketch.polygon(box, "glass", p.name)
        sketch.text((box[0][0] + box[1][0]) / 2, v.y(gap + height / 2), p.name, "middle", bold=True)
        for m in p.mounts:
            y = -side.fall_at(m.at)
            sketch.rect(a.x(m.at - 50), v.y(y), a.x(m.at + 50), v.y(y + gap + 90), "ink", what=m.name)
    y = v.y(-abs(side.fall)) + 16
    words = f"height of glass {height:g}, bottom gap {gap:g}"
    y = sketch.words(
        y, f"{words}; the deck falls {side.fall:g} from the start to the end" if side.fall else f"{words}; level deck taken"
    )
    return Picture(sketch.svg(v.scale), f"Elevation of side {side.name}: {words} mm, fall of the deck {side.fall:g} mm.")


def corner(laid: LaidOut, number: int) -> Picture:
    """Where two sides meet, from above: deck edges, glass, first mounts, clear spaces from the crossing of the glass lines.

    Drawn for a corner that points outward, the first named side to the right of it or mirrored.
    """
    c = laid.file.run.corners[number]
    ends = [_end(laid, c.side, c.at), _end(laid, c.other, c.other_at)]
    sketch, reach = Sketch(), max(m for _, _, m, _ in ends) + 120.0
    off_x = ends[1][3]  # the deck edge of the other side lies that far beyond the crossing
    scale = (WIDTH - 150.0) / (reach + off_x)
    v = View(scale, 30.0 + scale * off_x, 0.0)
    for turned, (clear, panel, mount, offset) in enumerate(ends):
        along_it = [(-ends[1 - turned][3], offset), (reach, offset)]
        boxes = [
            ((clear, GLASS / 2), (reach, -GLASS / 2), "glass", panel),
            ((mount - 50, 50), (mount + 50, -50), "ink", "first mount"),
        ]
        (x1, y1), (x2, y2) = (_turned(p, turned) for p in along_it)
        sketch.line(v.x(x1), v.y(y1), v.x(x2), v.y(y2), "ink", what="deck edge")
        for first, second, paint, what in boxes:
            (x1, y1), (x2, y2) = _turned(first, turned), _turned(second, turned)
            sketch.rect(v.x(x1), v.y(y1), v.x(x2), v.y(y2), paint, what=what)
        (x1, y1), (x2, y2) = _turned((-60.0, 0.0), turned), _turned((reach, 0.0), turned)
        sketch.line(v.x(x1), v.y(y1), v.x(x2), v.y(y2), "thin", "chain", "glass line")
    (clear_a, name_a, m_a, off_a), (clear_b, name_b, m_b, off_b) = ends
    sketch.circle(v.x(0), v.y(0), 3.0, "warn", what="datum")
    sketch.text(v.x(clear_a), v.y(off_a) - 5, f"{name_a}: clear {clear_a:g}, first mount {m_a:g}")
    sketch.text(v.x(60) + 6, v.y(-m_b), f"{name_b}: clear {clear_b:g}, first mount {m_b:g}")
    where = f"{off_a:g} in from the deck edge of side {c.side}, {off_b:g} from that of side {c.other}"
    sketch.words(v.y(-reach) + 4, f"0 of both tapes, ringed, is where the glass lines cross: {where}.")
    return Picture(
        sketch.svg(v.scale), f"The corner of sides {c.side} and {c.other} from above, clear {clear_a:g} and {clear_b:g} mm."
    )


def _turned(point: tuple[float, float], turned: int) -> tuple[float, float]:
    """A place of a side in the picture of its corner: along it and towards its drop side, or for the side round it."""
    return (-point[1], -point[0]) if turned else point


def _end(laid: LaidOut, name: str, at: str) -> tuple[float, str, float, float]:
    """Clear space, panel, first mount and offset of a side where it meets another, from the crossing, mm."""
    side = next(s for s in laid.sides if s.name == name)
    d = side.division
    if at == "start":
        return d.start, side.panels[0].name, side.mounts[0].at, side.ground.offset
    return d.end, side.panels[-1].name, d.line - side.mounts[-1].at, side.ground.offset
