"""Where two sides meet, from above: deck edges, pieces, glass, first mounts, and where the zero of the tapes lies.

The drop side of the first named side is at the top; it goes away from the corner to the right or to the left as it lies on the
deck. The other side turns down the page where the corner points outward, and up it where it points inward.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.run.conflicts import Kind, Weight
from barrier.run.side import Piece, SideSet
from barrier.sheet.blocks import Picture
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.whole_run import LaidOut

GLASS = 20.0  # mm: as thick as a line that can be seen
BEHIND = 90.0  # mm of deck drawn behind a glass line, at least
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class End:
    """One side at a corner, as it goes away from the crossing of the glass lines; mm from there."""

    side: SideSet
    at_start: bool
    clear: float
    panel: str
    mount: float
    offset: float
    pieces: tuple[tuple[float, float, Piece], ...]

    @property
    def goes_right(self) -> bool:
        """Whether it goes away from the corner to the right, seen from its people side."""
        return self.at_start == self.side.to_the_right


def end_of(side: SideSet, at: str) -> End:
    """A side as it leaves a corner."""
    line, start = float(side.division.line), at == "start"
    pieces = tuple((q.low, q.high, q) if start else (line - q.high, line - q.low, q) for q in side.pieces)
    if start:
        return End(side, True, side.division.start, side.panels[0].name, side.mounts[0].at, side.ground.offset, pieces)
    return End(side, False, side.division.end, side.panels[-1].name, line - side.mounts[-1].at, side.ground.offset, pieces)


@dataclass(frozen=True, slots=True)
class Laid:
    """Places of both sides in one plane: along a side and towards its drop side become right and up of the crossing, mm."""

    way: float  # 1 where the first side goes to the right, -1 where it goes to the left
    outside: bool

    def of(self, along: float, out: float, second: bool) -> Point:
        """A place ``along`` a side from the crossing and ``out`` towards its drop side.

        >>> Laid(1, True).of(100, 20, True), Laid(1, False).of(100, 20, True), Laid(-1, False).of(100, 20, False)
        ((-20, -100), (20, 100), (-100, 20))
        """
        if not second:
            return self.way * along, out
        return (-self.way * out, -along) if self.outside else (self.way * out, along)

    def box(self, low: float, high: float, inner: float, outer: float, second: bool) -> list[Point]:
        """The four corners of a rectangle, from and to along the side and across it."""
        return [self.of(s, t, second) for s, t in ((low, inner), (high, inner), (high, outer), (low, outer))]


def picture(laid: LaidOut, number: int, width: float = WIDTH) -> Picture:
    """Draw one corner of the run; ``width`` of the picture in units."""
    c = laid.file.run.corners[number]
    by_name = {s.name: s for s in laid.sides}
    ends = (end_of(by_name[c.side], c.at), end_of(by_name[c.other], c.other_at))
    outside = c.turn == "outside"
    frame = Laid(1.0 if ends[0].goes_right else -1.0, outside)
    reach = max(e.mount for e in ends) + 95.0
    corners = [frame.of(reach, 0, False), frame.of(-ends[1].offset - 40, -BEHIND, False), frame.of(reach, BEHIND, True),
               frame.of(-BEHIND, ends[1].offset + 40, True), frame.of(0, ends[0].offset + 40, False)]  # fmt: skip
    xs, ys = [p[0] for p in corners], [p[1] for p in corners]
    scale = (width - 20.0) / (max(xs) - min(xs))
    v = View(scale, 10.0 - scale * min(xs), scale * max(ys))
    sketch = Sketch(width)
    sketch.reach(0.0)
    sketch.reach(v.y(min(ys)))
    for second, (end, other) in enumerate((ends, ends[::-1])):
        _ground(sketch, v, frame, end, other, reach, bool(second), outside)
    for second, end in enumerate(ends):
        _side(sketch, v, frame, end, reach, bool(second))
    sketch.circle(v.x(0), v.y(0), 3.5, "load", what="datum")
    y = _words(sketch, v, frame, ends, outside, v.y(min(ys)) + 4)
    _findings(sketch, laid, (ends[0].panel, ends[1].panel), y)
    a, b = ends
    told = f"The {'outside' if outside else 'inside'} corner of sides {c.side} and {c.other} from above"
    return Picture(sketch.svg(scale), f"{told}: {_told(a)}; {_told(b)}. The glass lines cross {_crossing(a, b)}.")


def _told(end: End) -> str:
    return f"side {end.side.name} clear {end.clear:g} mm, first mount {end.mount:g} mm from the crossing"


def _crossing(a: End, b: End) -> str:
    return f"{a.offset:g} mm in from the deck edge of side {a.side.name} and {b.offset:g} mm in from that of side {b.side.name}"


def _ground(sketch: Sketch, v: View, frame: Laid, end: End, other: End, reach: float, second: bool, outside: bool) -> None:
    """Deck edge from the corner of the deck on, inner face of the rim, pieces of blocking."""
    begins = -other.offset if outside else other.offset
    g = end.side.ground
    for out, paint, what in ((end.offset, "ink", "deck edge"), (end.offset - g.rim, "thin", "rim")):
        s = begins + (0.0 if paint == "ink" else (other.side.ground.rim if outside else -other.side.ground.rim))
        (x1, y1), (x2, y2) = frame.of(s, out, second), frame.of(reach, out, second)
        sketch.line(v.x(x1), v.y(y1), v.x(x2), v.y(y2), paint, what=what)
    deep = g.pack if g.across else end.side.pieces[0].length
    for low, high, q in end.pieces:
        low, high = max(low, begins, -BEHIND), min(high, reach)
        if low < high:
            box = v.points(frame.box(low, high, max(end.offset - g.rim - deep, -BEHIND * 2), end.offset - g.rim, second))
            sketch.polygon(box, "timber", q.mark)
            sketch.hatch(box, 9.0)


def _side(sketch: Sketch, v: View, frame: Laid, end: End, reach: float, second: bool) -> None:
    glass = frame.box(end.clear, reach, -GLASS / 2, GLASS / 2, second)
    sketch.polygon(v.points(glass), "glass", end.panel)
    sketch.polygon(v.points(frame.box(end.mount - 50, end.mount + 50, -50, 50, second)), "ink", "first mount")
    (x1, y1), (x2, y2) = frame.of(-60.0, 0.0, second), frame.of(reach, 0.0, second)
    sketch.line(v.x(x1), v.y(y1), v.x(x2), v.y(y2), "thin", "chain", "glass line")
    for at in (end.clear, end.mount):  # running dimensions from the crossing, on the people side
        (x1, y1), (x2, y2) = frame.of(at, -GLASS / 2, second), frame.of(at, -72.0, second)
        sketch.line(v.x(x1), v.y(y1), v.x(x2), v.y(y2), "dim")
        x, y = v.x(x2), v.y(y2)
        if second:
            sketch.text(x + (4 if x > v.x(0) else -4), y + 4, f"{at:g}", "start" if x > v.x(0) else "end", bold=True)
        else:
            sketch.text(x, y + 12, f"{at:g}", "middle", bold=True)
    middle = frame.of(end.mount + 82, 32.0, second)
    sketch.text(v.x(middle[0]), v.y(middle[1]) + 4, end.panel, "middle", bold=True)


def _words(sketch: Sketch, v: View, frame: Laid, ends: Sequence[End], outside: bool, y: float) -> float:
    """What the picture cannot say by itself: the zero, and what the figures are."""
    a, b = ends
    drop = frame.of(70.0 if not outside else max(a.mount, 160.0), a.offset + 22, False)
    sketch.text(v.x(drop[0]), v.y(drop[1]), "drop", "middle")
    at_zero = [e.side.name for e in ends if e.at_start]
    zero = f"Ringed: 0 of the tape of side {' and '.join(at_zero)}" if at_zero else "Ringed: the crossing of the glass lines"
    y = sketch.words(y, f"{zero}, {_crossing(a, b)}.")
    figures = "Figures: from there to the edge of the glass and to the middle of the first mount, mm."
    for e in ends:
        if not e.at_start:
            figures += f" The tape of side {e.side.name} ends here, at {e.side.division.line} mm."
    return sketch.words(y, figures)


def _findings(sketch: Sketch, laid: LaidOut, names: tuple[str, str], y: float) -> None:
    """Findings of the corner itself, by their numbers."""
    numbers = [
        i for i, c in enumerate(laid.conflicts, 1)
        if c.kind is Kind.CORNER and set(c.whom) == set(names) and c.weight is not Weight.NOTE
    ]  # fmt: skip
    for i, number in enumerate(numbers):
        sketch.circle(16.0 + 34 * i, y + LINE, 11.0, "warn", what=f"finding {number}")
        sketch.text(16.0 + 34 * i, y + LINE + 4, str(number), "middle", bold=True)
