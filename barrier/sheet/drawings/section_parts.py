"""What a section through a mount is drawn of, also for small sections: several are drawn in one frame and one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sin

from barrier.job.schema import Layer
from barrier.sheet.drawings.facts import Stand
from barrier.sheet.drawings.svg import Sketch, View

PAD = 4.0  # mm; the job does not say how thick a pad is
SIGN = 10.0  # mm; glass of unknown thickness
CHEEK = 8.0  # mm; nor the clamp: it is drawn as a sign
UNDER = 35.0  # mm of the pieces drawn below the screws where they are broken off
ABOVE = 45.0  # mm of glass drawn above the clamp
BESIDE = 62.0  # units beside the drawing for figures and names
FIBRE = 4.0  # units between upright fibres


def top_of_glass(s: Stand) -> float:
    """Where the glass is broken off, mm above the decking."""
    return top_of_clamp(s) + ABOVE


def top_of_clamp(s: Stand) -> float:
    """Top of the highest pad, mm above the decking."""
    return float(s.panel.bottom_gap.x) + max(float(p.top.x) for p in s.mount.pads)


def bottom_of_all(s: Stand, broken: bool = False) -> float:
    """The lowest of pieces, joist and screw tips, mm; ``broken`` where the pieces are broken off below the screws."""
    tip = s.top_of_plate - s.screw
    pieces = s.top_of_pieces - shown_depth(s, broken) if s.beneath else 0.0
    return min(tip, pieces, -float(s.job.decking.thickness.x)) - 4.0


def shown_depth(s: Stand, broken: bool) -> float:
    """How much of the depth of the pieces is drawn, mm."""
    tip = s.top_of_plate - s.screw
    return min(s.depth, max(s.top_of_pieces - tip, 0.0) + UNDER) if broken else s.depth


def sides(s: Stand) -> tuple[float, float]:
    """How far the section reaches to the people side and to the drop side, mm."""
    low, high = [-float(s.mount.plate.across.x) / 2], [float(s.mount.plate.across.x) / 2]
    if s.along:
        for p in s.model.pieces:
            low.append(max(float(p.outline[:, 1].min()), -220.0))
            high.append(min(float(p.outline[:, 1].max()), 220.0))
    else:
        low, high = [*low, -130.0], [*high, 130.0]
    for screw in s.mount.screws:
        low.append(float(screw.y.x) - 8)
        high.append(float(screw.y.x) + 8)
    return min(low) - 22.0, max(high) + 22.0


@dataclass(frozen=True, slots=True)
class Frame:
    """How far sections reach that are drawn beside one another, mm, so that only what was changed differs between them.

    ``low`` to the people side, ``high`` to the drop side; ``glass`` where it is broken off, ``clamp`` its top; ``pieces``
    where the pieces of timber are broken off, where they are no less deep; ``bottom`` the lowest of all.
    """

    low: float
    high: float
    glass: float
    clamp: float
    pieces: float
    bottom: float


def frame(every: Sequence[Stand], broken: bool = False) -> Frame:
    """One frame around sections of all these."""
    return Frame(
        min(sides(s)[0] for s in every),
        max(sides(s)[1] for s in every),
        max(top_of_glass(s) for s in every),
        max(top_of_clamp(s) for s in every),
        min(s.top_of_pieces - shown_depth(s, broken) for s in every),
        min(bottom_of_all(s, broken) for s in every),
    )


def fitted(around: Frame, room: float, x0: float = BESIDE, tallest: float = 400.0) -> View:
    """A view in which what is in the frame is so wide at most and not too high."""
    wide = around.high - around.low
    scale = min(room / wide, tallest / (around.glass - around.bottom))
    return View(scale, x0 + (room - scale * wide) / 2 - scale * around.low, scale * around.glass)


def parts(sketch: Sketch, view: View, s: Stand, around: Frame) -> None:
    """Everything that is cut or seen, from the pieces of timber up to the glass."""
    _timber(sketch, view, s, around)
    _boards(sketch, view, s, around)
    _steel(sketch, view, s, around)
    _glass(sketch, view, s, around)
    for screw in s.mount.screws:
        _screw(sketch, view, s, screw.name, float(screw.y.x), screw.present, float(screw.angle.x))
    hole = s.mount.service_hole
    if hole is not None:
        lowest = _end_of_pieces(s, around)
        for side in (-1, 1):
            x = view.x(float(hole.y.x) + side * float(hole.diameter.x) / 2)
            sketch.line(x, view.y(s.top_of_plate), x, view.y(lowest), "thin", "dash", "service hole")


def _end_of_pieces(s: Stand, around: Frame) -> float:
    return max(s.top_of_pieces - s.depth, around.pieces)


def _timber(sketch: Sketch, view: View, s: Stand, around: Frame) -> None:
    if not s.beneath:
        return
    top, bottom = view.y(s.top_of_pieces), view.y(_end_of_pieces(s, around))
    for p in s.model.pieces:
        y0, y1 = float(p.outline[:, 1].min()), float(p.outline[:, 1].max())
        if s.along:
            x1, x2 = view.x(y0), view.x(y1)
            sketch.rect(x1, top, x2, bottom, "timber", what=p.name)
            if s.mount.grain == "end":
                _upright_fibres(sketch, x1, x2, top, bottom)
            else:
                sketch.hatch([(x1, top), (x2, top), (x2, bottom), (x1, bottom)], 9.0, paint="dim")
        elif p is s.model.pieces[0]:
            x1, x2 = view.x(max(y0, around.low)), view.x(min(y1, around.high))
            sketch.rect(x1, top, x2, bottom, "timber", what="pieces across the glass")
            if s.mount.grain == "end":
                _upright_fibres(sketch, x1, x2, top, bottom)
                continue
            for i in (1, 2, 3, 4):
                sketch.line(x1 + 5, top + i * (bottom - top) / 5, x2 - 5, top + i * (bottom - top) / 5, "dim")


def _upright_fibres(sketch: Sketch, x1: float, x2: float, top: float, bottom: float) -> None:
    """A piece that stands on end: its fibres run down beside the screws."""
    count = max(int((x2 - x1) / FIBRE), 1)
    for i in range(count):
        x = x1 + (i + 0.5) * (x2 - x1) / count
        sketch.line(x, top + 2, x, bottom - 2, "dim", what="fibre upright")


def joist_behind(sketch: Sketch, view: View, s: Stand, around: Frame) -> None:
    """The outline of a joist that runs across the glass."""
    joists = s.job.joists
    if not has_joist_behind(s):
        return
    low, high = around.low, around.high
    under = -float(s.job.decking.thickness.x)
    depth = float(joists.depth.x) if joists.depth is not None else s.depth
    lowest = max(under - depth, around.bottom)
    for x in (low, high):
        sketch.line(view.x(x), view.y(under), view.x(x), view.y(lowest), "thin", "dash")
    sketch.line(view.x(low), view.y(lowest), view.x(high), view.y(lowest), "thin", "dash", "joist behind")


def has_joist_behind(s: Stand) -> bool:
    """Whether a joist runs across the glass behind the section."""
    joists = "across" if s.model.blocking is not None and s.along else s.job.joists.direction  # blocking runs from joist to joist
    return joists == "across" and s.along and s.mount.support != "edge joist"


def _boards(sketch: Sketch, view: View, s: Stand, around: Frame) -> None:
    low, high = around.low, around.high
    y1, y2 = view.y(0.0), view.y(-float(s.job.decking.thickness.x))
    decking = s.job.decking
    if not s.beneath and s.model.pieces and decking.direction == "along" and decking.board_width is not None:
        p, gap = s.model.pieces[0], float(decking.gap.x) if decking.gap is not None else 0.0
        y0, end = float(p.outline[:, 1].min()), float(p.outline[:, 1].max())
        for a, b in ((low, y0 - gap), (y0, end), (end + gap, high)):
            if b > a:
                sketch.rect(view.x(a), y1, view.x(b), y2, "timber", what="board")
                sketch.hatch([(view.x(a), y1), (view.x(b), y1), (view.x(b), y2), (view.x(a), y2)], 9.0, 2.3, "dim")
        return
    sketch.rect(view.x(low), y1, view.x(high), y2, "timber", what="decking")
    if decking.direction == "across":
        for i in (1, 2):
            sketch.line(view.x(low), y1 + i * (y2 - y1) / 3, view.x(high), y1 + i * (y2 - y1) / 3, "dim")
    elif decking.direction == "along":
        sketch.hatch([(view.x(low), y1), (view.x(high), y1), (view.x(high), y2), (view.x(low), y2)], 9.0, 2.3, "dim")


def _steel(sketch: Sketch, view: View, s: Stand, around: Frame) -> None:
    m = s.mount
    half = float(m.plate.across.x) / 2
    for packer in m.packers:
        y, wide, high = float(packer.y.x), float(packer.across.x) / 2, view.y(float(packer.thickness.x))
        sketch.rect(view.x(y - wide), high, view.x(y + wide), view.y(0.0), "soft", what="packer")
        sketch.rect(view.x(y - wide), high, view.x(y + wide), view.y(0.0), "ink")
    sketch.rect(view.x(-half), view.y(s.z_plate), view.x(half), view.y(s.top_of_plate), "steel", what=f"plate {m.name}")
    gap, t = float(s.panel.bottom_gap.x), thickness(s) / 2
    inner, outer = t + PAD, t + PAD + CHEEK
    for side in (-1, 1):
        corners = (view.x(side * inner), view.y(s.top_of_plate), view.x(side * outer), view.y(around.clamp + 3))
        sketch.rect(*corners, "steel", what="clamp")
        for p in m.pads:
            low, high = gap + float(p.bottom.x), gap + float(p.top.x)
            sketch.rect(view.x(side * t), view.y(low), view.x(side * inner), view.y(high), "ink", what="pad")
            a, b = sorted((view.x(side * t), view.x(side * inner)))
            sketch.hatch([(a, view.y(low)), (b, view.y(low)), (b, view.y(high)), (a, view.y(high))], 2.6)


def thickness(s: Stand) -> float:
    """Glass with its interlayers, mm."""
    layers = sum(as_drawn(layer) for layer in s.panel.layers)
    between = float(s.panel.interlayer.thickness.x) if s.panel.interlayer is not None else 0.0
    return layers + between * (len(s.panel.layers) - 1)


def as_drawn(layer: Layer) -> float:
    """How thick a layer of glass is drawn, mm; one nobody knows is a sign."""
    known = layer.nominal or layer.minimum
    return float(known.x) if known is not None else SIGN


def _glass(sketch: Sketch, view: View, s: Stand, around: Frame) -> None:
    gap, top, y = float(s.panel.bottom_gap.x), around.glass, -thickness(s) / 2
    between = float(s.panel.interlayer.thickness.x) if s.panel.interlayer is not None else 0.0
    for i, layer in enumerate(s.panel.layers):
        wide = as_drawn(layer)
        sketch.rect(view.x(y), view.y(gap), view.x(y + wide), view.y(top), "glass", what="layer of glass")
        y += wide
        if i < len(s.panel.layers) - 1:
            sketch.rect(view.x(y), view.y(gap), view.x(y + between), view.y(top), "ink", what="interlayer")
            y += between
    x1, x2, x = view.x(-thickness(s) / 2) - 4, view.x(thickness(s) / 2) + 4, view.x(0.0)
    y = view.y(top)
    sketch.polyline([(x1, y), (x - 3, y), (x - 1, y - 5), (x + 1, y + 5), (x + 3, y), (x2, y)], "ink")


def _screw(sketch: Sketch, view: View, s: Stand, name: str, y: float, present: bool, angle: float) -> None:
    kind = s.mount.screw
    L, half = s.screw, float(kind.diameter.x) / 2
    z = s.top_of_plate
    lean = sin(angle)

    def at(across: float, down: float) -> tuple[float, float]:
        return view.x(y + across + lean * down), view.y(z - down)

    tip, thread = float(kind.tip.x), float(kind.threaded.x) if kind.threaded is not None else 0.0
    outline = [at(-half, 0.0), at(half, 0.0), at(half, L - tip), at(0.0, L), at(-half, L - tip)]
    if not present:
        sketch.polygon(outline, "thin", f"screw {name} missing", "dot")
        return
    if kind.length is None:
        sketch.polygon(outline, "thin", f"screw {name} of unknown length", "dash")
        return
    head = float(kind.head.x) / 2 if kind.head is not None else 1.8 * half
    sketch.polygon(outline, "steel", f"screw {name}")
    sketch.polygon([at(-head, 0.0), at(head, 0.0), at(0.7 * head, -0.6 * head), at(-0.7 * head, -0.6 * head)], "steel")
    start, step = L - thread, max(thread / 12, 2.5)
    down, turns = start, []
    while thread and down + step / 2 < L - tip:
        turns.append((at(-half - 0.8, down + step / 2), at(half + 0.8, down)))
        down += step
    sketch.strokes(turns, "thin")
