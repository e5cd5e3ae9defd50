"""The whole run from above: every side where it lies on the deck, its panels, where its tape starts and which way it runs.

The first side lies across the page with its drop side at the top; the others follow round their corners.
"""

from __future__ import annotations

from dataclasses import dataclass

from barrier.run.conflicts import Weight
from barrier.run.side import SideSet
from barrier.sheet.blocks import Picture
from barrier.sheet.drawings.svg import WIDTH, Sketch, View
from barrier.sheet.runs import plan
from barrier.whole_run import LaidOut

THICK = 3.0  # units: half a panel
BESIDE = 15.0  # units from the glass line to what is written of it
PAD = 34.0
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Lying:
    """A side in the plane of the deck: where its tape starts (mm), which way it runs, where its drop side is (both of length 1)."""

    side: SideSet
    start: Point
    way: Point
    drop: Point

    def at(self, along: float, out: float = 0.0) -> Point:
        """A place on the tape, so far towards the drop side."""
        return (self.start[0] + along * self.way[0] + out * self.drop[0], self.start[1] + along * self.way[1] + out * self.drop[1])


def lying(laid: LaidOut) -> tuple[Lying, ...]:
    """Every side that hangs together with the first by corners, in the order they are come to."""
    sides = {s.name: s for s in laid.sides}
    one = laid.sides[0]
    found = {one.name: Lying(one, (0.0, 0.0), (1.0 if one.to_the_right else -1.0, 0.0), (0.0, 1.0))}
    more = True
    while more:
        more = False
        for c in laid.file.run.corners:
            for known, at, other, other_at in ((c.side, c.at, c.other, c.other_at), (c.other, c.other_at, c.side, c.at)):
                if known in found and other not in found:
                    found[other] = _round(found[known], at, sides[other], other_at, c.turn == "outside")
                    more = True
    return tuple(found.values())


def _round(known: Lying, at: str, other: SideSet, other_at: str, outside: bool) -> Lying:
    """The side round a corner: away from the drop side of the known one where it points outward, towards it where inward."""
    line = float(known.side.division.line)
    corner = known.at(0.0 if at == "start" else line)
    away = known.way if at == "start" else (-known.way[0], -known.way[1])  # from the corner along the known side
    turn = -1.0 if outside else 1.0
    leaves, drop = (turn * known.drop[0], turn * known.drop[1]), (turn * away[0], turn * away[1])
    way = leaves if other_at == "start" else (-leaves[0], -leaves[1])
    back = 0.0 if other_at == "start" else float(other.division.line)
    return Lying(other, (corner[0] - back * way[0], corner[1] - back * way[1]), way, drop)


def picture(laid: LaidOut, width: float = WIDTH) -> Picture:
    """Draw the whole run, ``width`` units wide."""
    all_of_it = lying(laid)
    ends = [one.at(x) for one in all_of_it for x in (0.0, float(one.side.division.line))]
    xs, ys = [p[0] for p in ends], [p[1] for p in ends]
    across, upright = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((width - 2 * PAD) / max(across, 1.0), 0.9 * width / max(upright, 1.0))
    v = View(scale, PAD + (width - 2 * PAD - scale * across) / 2 - scale * min(xs), scale * max(ys))
    sketch = Sketch(width)
    sketch.reach(-PAD)
    sketch.reach(scale * upright + PAD)
    for one in all_of_it:
        _side(sketch, v, one)
    for one in all_of_it:
        _tape(sketch, v, one)
        _findings(sketch, laid, v, one)
    words = "Ringed dots: 0 of each tape, its arrow the way it runs. Lines outside the glass: deck edge."
    sketch.words(sketch.bottom + 2, words)
    told = "; ".join(f"side {o.side.name}, {len(o.side.panels)} panels on {o.side.division.line} mm" for o in all_of_it)
    return Picture(sketch.svg(scale), f"The whole run from above: {told}.")


def _side(sketch: Sketch, v: View, one: Lying) -> None:
    line = float(one.side.division.line)
    edge = [one.at(x, max(one.side.ground.offset, 9.0 / v.scale)) for x in (0.0, line)]
    sketch.line(v.x(edge[0][0]), v.y(edge[0][1]), v.x(edge[1][0]), v.y(edge[1][1]), "thin", what=f"deck edge of {one.side.name}")
    half = THICK / v.scale
    for p in one.side.panels:
        left, right = float(p.strip.left), float(p.strip.right)
        box = [one.at(s, t) for s, t in ((left, -half), (right, -half), (right, half), (left, half))]
        sketch.polygon(v.points(box), "glass", p.name)
        for further in (0.0, 9.0, 18.0, -9.0):  # a panel beside a corner has its name where that of the other one is not
            x, y = one.at((left + right) / 2 + further / v.scale, -BESIDE / v.scale)
            if sketch.free(v.x(x), v.y(y) + 4, p.name, "middle"):
                sketch.text(v.x(x), v.y(y) + 4, p.name, "middle", bold=True)
                break


def _tape(sketch: Sketch, v: View, one: Lying) -> None:
    """Where it starts, which way it runs, and what stands at its end."""
    out, clear = -2 * BESIDE / v.scale, (42.0 if one.side.start == "corner" else 4.0) / v.scale
    (x0, y0), (x1, y1), (x2, y2) = one.at(0.0), one.at(clear, out), one.at(clear + 44.0 / v.scale, out)
    sketch.circle(v.x(x0), v.y(y0), 4.0, "load", what=f"0 of {one.side.name}")
    sketch.circle(v.x(x0), v.y(y0), 1.2, "solid")
    sketch.arrow(v.x(x1), v.y(y1), v.x(x2), v.y(y2), "ink", 5.0)
    flat = abs(one.way[0]) > 0.5  # words stand across the page: beside the end of a side that lies, beyond that of one that stands
    ex, ey = one.at(one.side.division.line + (0.0 if flat else 12.0 / v.scale), BESIDE / v.scale if flat else 0.0)
    if one.side.end != "corner":
        sketch.text(v.x(ex), v.y(ey) + 4, f"{one.side.end} {one.side.division.line}", "middle")


def _findings(sketch: Sketch, laid: LaidOut, v: View, one: Lying) -> None:
    for number, c in enumerate(laid.conflicts, 1):
        if c.side != one.side.name or c.weight is Weight.NOTE:
            continue
        for at in plan.places(one.side, c):
            x, y = one.at(at)
            sketch.circle(v.x(x), v.y(y), 7.0, "warn", "" if c.weight is Weight.CLASH else "dash", f"finding {number}")
            tx, ty = one.at(at, 16.0 / v.scale)
            sketch.text(v.x(tx), v.y(ty) + 4, str(number), "middle", bold=True)
