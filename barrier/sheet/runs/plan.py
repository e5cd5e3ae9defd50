"""Plan and elevation of a side: an overview, tiles of two panels with running dimensions, and the fall. Seen from the people side.

The drop side is at the top. A side whose tape runs to the left is drawn so: its start is at the right. Nothing needs colour:
timber is hatched, findings are ringed and numbered.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import batched

from barrier.run.side import Mount, Panel, SideSet
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View, text_width
from barrier.whole_run import Layed

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


def drawings(laid: Layed, side: SideSet) -> list[Drawing]:
    """Overview, tiles and elevation of a side."""
    way = "right" if side.to_the_right else "left"
    found = [
        Drawing(f"overview-{side.name}", (f"Side {side.name} from the people side, the tape runs to the {way}. Ringed: findings.",),
                lambda: overview(laid, side)),
    ]  # fmt: skip
    for i, panels in enumerate(batched(side.panels, PER_TILE), 1):
        names = " and ".join(p.name for p in panels)
        caption = f"Plan of {names}. Above: edges of glass; below: centres of mounts; mm on the tape from its start."
        found.append(Drawing(f"plan-{side.name}-{i}", (caption,), lambda ps=panels: tile(laid, side, ps)))  # type: ignore[misc]
    found.append(Drawing(f"elevation-{side.name}", (f"Elevation of side {side.name} to one scale.",), lambda: elevation(laid, side)))
    return found


def overview(laid: Layed, side: SideSet) -> Picture:
    """The whole side: glass, its names, mounts, joists, ringed findings."""
    sketch, ground = Sketch(), side.ground
    a = along(side, -150.0, side.division.line + 150.0, 60.0)
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
    _datum(sketch, a, v.y(-DEEP) + 22)
    _rings(sketch, laid, side, a, v.y(0))
    names = ", ".join(p.name for p in side.panels)
    return Picture(sketch.svg(v.scale), f"Plan of side {side.name} with panels {names} and {len(side.mounts)} mounts.")


def _datum(sketch: Sketch, a: Along, y: float) -> None:
    """The one point that cannot move, and which way the tape runs."""
    x, way = a.x(0.0), 1.0 if a.to_the_right else -1.0
    sketch.line(x, y - 20, x, y + 6, "ink")
    sketch.arrow(x, y, x + 60 * way, y, "ink")
    sketch.text(x + 66 * way, y + 4, "0: the tape starts here", "start" if way > 0 else "end")


def _rings(sketch: Sketch, laid: Layed, side: SideSet, a: Along, y: float, of: Sequence[str] = ()) -> None:
    """A ring with its number round every finding that has a place, once at each place it holds."""
    for number, c in enumerate(laid.conflicts, 1):
        if c.side != side.name:
            continue
        places = [m.at for m in side.mounts if m.name in c.whom] if len(c.whom) < len(side.mounts) else []
        for at in places or [c.at]:
            if not a.low <= at <= a.high or (of and not set(of) & set(c.whom)):
                continue
            sketch.circle(a.x(at), y, 11.0, "warn", what=f"finding {number}")
            sketch.pointer(a.x(at) + 6, y - 24, a.x(at), y - 11, str(number))


def tile(laid: Layed, side: SideSet, panels: Sequence[Panel]) -> Picture:
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
        deep = g.piece if g.across else min(q.length, DEEP - g.rim)
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
    _rings(sketch, laid, side, a, v.y(0), [*names, *(p.name for p in panels)])
    told = "; ".join(f"{p.name} from {p.strip.left} to {p.strip.right}, mounts at {_all(p)}" for p in panels)
    return Picture(sketch.svg(v.scale), f"Plan: {told}, mm from the start of the tape.")


def _all(panel: Panel) -> str:
    return " and ".join(f"{m.at:g}" for m in panel.mounts)


def _mount(sketch: Sketch, a: Along, laid: Layed, m: Mount) -> None:
    mount, v = laid.probe.mounts[0], a.view
    half_x = float(mount.plate.along.x) / 2
    half_y = float((mount.plate.across or mount.plate.along).x) / 2
    sketch.rect(a.x(m.at - half_x), v.y(half_y), a.x(m.at + half_x), v.y(-half_y), "ink", what=m.name)
    for s in mount.screws:
        sketch.circle(a.x(m.at + float(s.x.x)), v.y(float(s.y.x)), max(v.scale * laid.fixing.diameter / 2, 1.2), "ink")
    sketch.line(a.x(m.at), v.y(half_y + 15), a.x(m.at), v.y(-half_y - 15), "thin", "chain")


def _running(sketch: Sketch, a: Along, marks: Sequence[float], of: float, y: float, *, up: bool) -> None:
    """Running dimensions from the start of the tape: a line from each mark to its figure."""
    for i, at in enumerate(marks):
        x = a.x(at)
        there = y - LINE if up and i % 2 else y + (0 if up else LINE * (i % 2))
        sketch.line(x, of, x, there + (2 if up else -10), "dim")
        wide = text_width(f"{at:g}")
        sketch.text(min(max(x, wide / 2 + 2), WIDTH - wide / 2 - 2), there, f"{at:g}", "middle", step=(0.0, -LINE if up else LINE))


def elevation(laid: Layed, side: SideSet) -> Picture:
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
    y = sketch.words(y, f"{words}; the deck falls {side.fall:g} from the start to the end" if side.fall else f"{words}; level deck taken")
    return Picture(sketch.svg(v.scale), f"Elevation of side {side.name}: {words} mm, fall of the deck {side.fall:g} mm.")
