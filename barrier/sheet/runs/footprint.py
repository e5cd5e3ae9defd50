"""One mount on its piece of blocking, from above, with every distance that is marked: from the deck edge, and along the tape.

One picture a side. Across the line all mounts of a side stand alike; along it the mount is drawn at the middle of what is shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from barrier.run.side import SideSet
from barrier.sheet.blocks import Picture
from barrier.sheet.drawings.svg import WIDTH, Sketch, View
from barrier.whole_run import LaidOut

LEFT, RIGHT = 8.0, 170.0  # units left of the deck, and right of it for the figures
ROOM = 16.0  # units from one figure to the next
SHOWN = 120.0  # mm of the deck to each side of the mount
GLASS = 18.0


def rows_of(laid: LaidOut) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Rows of screws of a mount: along the tape and towards the drop side, mm from its middle, each from below upward.

    Mounts of a run are alike, so those of the first one speak for all.
    """
    screws = laid.probe.mounts[0].screws
    return tuple(sorted({float(s.x.x) for s in screws})), tuple(sorted({float(s.y.x) for s in screws}))


def across(laid: LaidOut, side: SideSet) -> list[tuple[float, str]]:
    """What lies how far in from the deck edge of a side, mm, with its name, from the edge inward."""
    g, found = side.ground, [(0.0, "deck edge")]
    if g.rim:
        found.append((g.rim, "rim to here" if g.across else "edge joist to here"))
    for y in reversed(rows_of(laid)[1]):
        found.append((g.offset - y, "row of screws"))
    found.append((g.offset, "GLASS LINE"))
    if g.across:
        found.append((g.rim + g.pack, "far edge of the piece"))
    return sorted(found)


def picture(laid: LaidOut, side: SideSet, width: float = WIDTH) -> Picture:
    """Draw a mount of this side on its piece, ``width`` units wide."""
    g, (xs, ys) = side.ground, rows_of(laid)
    plate = laid.probe.mounts[0].plate
    half_x = float(plate.along.x) / 2
    half_y = float((plate.across or plate.along).x) / 2
    marks = across(laid, side)
    deepest = marks[-1][0] if g.across else g.offset + half_y + 30.0
    scale = (width - LEFT - RIGHT) / (2 * SHOWN)
    v, sketch = View(scale, LEFT + scale * SHOWN, scale * g.offset), Sketch(width)
    top, foot = v.y(g.offset), v.y(g.offset - deepest - 30.0)
    sketch.line(v.x(-SHOWN), top, v.x(SHOWN), top, "ink", what="deck edge")
    if g.rim:
        sketch.line(v.x(-SHOWN), v.y(g.offset - g.rim), v.x(SHOWN), v.y(g.offset - g.rim), "thin", what="rim")
    _piece(sketch, v, side, foot)
    sketch.rect(v.x(-SHOWN), v.y(GLASS / 2), v.x(SHOWN), v.y(-GLASS / 2), "glass", what="glass")
    sketch.rect(v.x(-half_x), v.y(half_y), v.x(half_x), v.y(-half_y), "ink", what="plate")
    for screw in laid.probe.mounts[0].screws:
        x, y = v.x(float(screw.x.x)), v.y(float(screw.y.x))
        sketch.circle(x, y, max(scale * laid.fixing.diameter / 2, 3.0), "ink", what="screw")
        sketch.line(x - 6, y, x + 6, y, "thin")
        sketch.line(x, y - 6, x, y + 6, "thin")
    sketch.line(v.x(-SHOWN), v.y(0), v.x(SHOWN), v.y(0), "thin", "chain", "glass line")
    sketch.line(v.x(0), top - 4, v.x(0), foot, "thin", "chain", "middle of the mount")
    low = _inward(sketch, v, side, marks)
    for x1, x2 in pairwise(xs):
        sketch.across(v.x(x1), v.x(x2), foot + 16, f"{x2 - x1:g}", of=v.y(min(ys)) + 4)
    sketch.across(v.x(-half_x), v.x(half_x), foot + 36, f"plate {2 * half_x:g}", of=v.y(-half_y))
    sketch.text(v.x(-SHOWN) + 2, top - 6, "drop side")
    y = max(foot + 40, low + 6)
    for line in _said(laid, side, xs, ys):
        y = sketch.words(y, line)
    told = "; ".join(f"{what} {at:g} mm in from the deck edge" for at, what in marks)
    return Picture(sketch.svg(scale), f"One mount of side {side.name} from above: {told}. {' '.join(_said(laid, side, xs, ys))}")


def _piece(sketch: Sketch, v: View, side: SideSet, foot: float) -> None:
    """The piece below, broken off where it goes on."""
    g = side.ground
    outer = v.y(g.offset - g.rim)
    if g.across:
        low, high, inner = v.x(-SHOWN), v.x(SHOWN), v.y(g.offset - g.rim - g.pack)
    else:
        low, high, inner = v.x(-g.pack / 2), v.x(g.pack / 2), foot
    box = [(low, outer), (high, outer), (high, inner), (low, inner)]
    sketch.polygon(box, "timber", "piece")
    sketch.hatch(box, 10.0)
    if g.pack > g.piece and g.piece > 0.0:  # loose plies: the joints between them
        at = g.piece
        while at < g.pack - 1e-6:
            if g.across:
                sketch.line(low, v.y(g.offset - g.rim - at), high, v.y(g.offset - g.rim - at), "thin", what="joint of plies")
            else:
                sketch.line(v.x(-g.pack / 2 + at), outer, v.x(-g.pack / 2 + at), inner, "thin", what="joint of plies")
            at += g.piece


def _inward(sketch: Sketch, v: View, side: SideSet, marks: Sequence[tuple[float, str]]) -> float:
    """Running distances in from the deck edge, each with a thread to where it is; returns where the last one stands."""
    x, y, offset = v.x(SHOWN), -1e9, side.ground.offset
    for at, what in marks:
        level = v.y(offset - at)
        y = max(y + ROOM, level + 4)
        sketch.line(x, level, x + 10, level, "dim")
        sketch.line(x + 10, level, x + 20, y - 4, "dim")
        sketch.text(x + 23, y, f"{at:g} {what}", bold=what.isupper())
    return y


def _said(laid: LaidOut, side: SideSet, xs: Sequence[float], ys: Sequence[float]) -> Iterator[str]:
    """Screws across the glass line, and what is left of the piece round them."""
    g, f = side.ground, laid.fixing
    half = f"{max(ys):g}" if max(ys) == -min(ys) else f"{max(ys):g} and {-min(ys):g}"
    yield f"Screws {half} mm each side of the glass line, {max(xs):g} mm each side of the middle of the mount."
    if g.across:
        outer, inner = g.offset - max(ys) - g.rim, g.rim + g.pack - g.offset + min(ys)
        yield f"Rows of screws {outer:g} and {inner:g} mm from the long edges of the piece; {f.edge:g} + {f.tolerance:g} needed."
        yield f"Ends of the piece: see the table; {f.end:g} + {f.tolerance:g} from a screw needed."
    else:
        near = g.pack / 2 - max(xs)
        end = g.offset - max(ys) - g.rim
        yield (
            f"Screws {near:g} mm from the long edges of the piece; {f.edge:g} + {f.tolerance:g} needed: where a mount "
            "moves, its piece moves."
        )
        yield f"The piece runs from {g.rim:g} to {g.rim + side.pieces[0].length:g} mm in from the deck edge, to the next joist."
        yield f"Outer screws {end:g} mm from the end of the piece; {f.end:g} + {f.tolerance:g} needed."
