"""Section through a mount, across the glass: what is there, how thick it is, and how deep the screws reach."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import sin

from barrier.load_path import Result, Walked
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import DRAWN, Say, Stand, cases, ident, stand
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.tables import Tables
from barrier.value import Value

PAD = 4.0  # mm; the job does not say how thick a pad is
CHEEK = 8.0  # mm; nor the clamp: it is drawn as a sign
UNDER = 35.0  # mm of the pieces drawn below the screws where they are broken off
ABOVE = 45.0  # mm of glass drawn above the clamp
BESIDE = 62.0  # units beside the drawing for figures and names


def drawings(result: Result) -> list[Drawing]:
    """A section through every mount that stands otherwise than those before it."""
    groups: dict[object, list[Stand]] = {}
    for mount in result.job.mounts:
        s = stand(result.job, result.tables, mount)
        groups.setdefault(_likeness(s), []).append(s)
    found = []
    for same in groups.values():
        names = ", ".join(s.mount.name for s in same)
        caption = f"Section through mount{'s' if len(same) > 1 else ''} {names}, across the glass; to scale"
        name = f"section-{ident(same[0].mount.name)}"
        found.append(Drawing(name, (caption,), lambda s=same[0]: draw(result.sound, result.tables, s.mount.name)))  # type: ignore[misc]
    return found


def _likeness(s: Stand) -> object:
    """Equal for mounts whose sections are the same."""
    m, block = s.mount, s.model.blocking
    sizes = (m.plate.across, m.plate.thickness, m.screw.length, m.screw.diameter, m.offset, s.panel.bottom_gap)
    return (
        tuple(float(v.x) for v in sizes),
        s.model.key,
        s.depth,
        m.support,
        tuple((float(p.bottom.x), float(p.top.x)) for p in m.pads),
        tuple((float(layer.nominal.x)) for layer in s.panel.layers),
        tuple((float(p.y.x), float(p.across.x), float(p.thickness.x)) for p in m.packers),
        None if block is None else (block.direction, block.laid),
    )


def draw(walked: Walked, tables: Tables, mount: str) -> Picture:
    """Draw the section through one mount of a walk. Returns SVG and its words."""
    job = walked.job
    s = stand(job, tables, next(m for m in job.mounts if m.name == mount))
    say = Say(job.units)
    sketch = Sketch()
    view = fitted((s,), WIDTH - 2 * BESIDE)
    sketch.text(4, view.y(top_of_glass(s)) + 9, "people side", bold=True)
    sketch.text(WIDTH - 4, view.y(top_of_glass(s)) + 9, "drop side", "end", bold=True)
    parts(sketch, view, s)
    _names(sketch, view, s, say)
    _left(sketch, view, s, say)
    _right(sketch, view, s, say)
    pushed = _pushed(sketch, view, walked, s, say)
    y = _chains(sketch, view, s, say)
    for line in (*_remarks(s, say), *pushed):
        y = sketch.words(y, line)
    return Picture(sketch.svg(view.scale), _words(s, say))


# ---------------------------------------------------------------- the parts, also for small sections


def top_of_glass(s: Stand) -> float:
    """Where the glass is broken off, mm above the decking."""
    return float(s.panel.bottom_gap.x) + max(float(p.top.x) for p in s.mount.pads) + ABOVE


def bottom_of_all(s: Stand, broken: bool = False) -> float:
    """The lowest of pieces, joist and screw tips, mm; ``broken`` where the pieces are broken off below the screws."""
    tip = s.top_of_plate - float(s.mount.screw.length.x)
    pieces = s.top_of_pieces - shown_depth(s, broken) if s.beneath else 0.0
    return min(tip, pieces, -float(s.job.decking.thickness.x)) - 4.0


def shown_depth(s: Stand, broken: bool) -> float:
    """How much of the depth of the pieces is drawn, mm."""
    tip = s.top_of_plate - float(s.mount.screw.length.x)
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


def fitted(every: Sequence[Stand], room: float, x0: float = BESIDE, tallest: float = 400.0, broken: bool = False) -> View:
    """A view in which sections of all these are so wide at most and not too high."""
    low, high = min(sides(s)[0] for s in every), max(sides(s)[1] for s in every)
    top, bottom = max(top_of_glass(s) for s in every), min(bottom_of_all(s, broken) for s in every)
    scale = min(room / (high - low), tallest / (top - bottom))
    return View(scale, x0 + (room - scale * (high - low)) / 2 - scale * low, scale * top)


def parts(sketch: Sketch, view: View, s: Stand, broken: bool = False) -> None:
    """Everything that is cut or seen, from the joist up to the glass."""
    _timber(sketch, view, s, broken)
    _boards(sketch, view, s)
    _steel(sketch, view, s)
    _glass(sketch, view, s)
    for screw in s.mount.screws:
        _screw(sketch, view, s, screw.name, float(screw.y.x), screw.present, float(screw.angle.x))
    hole = s.mount.service_hole
    if hole is not None:
        lowest = s.top_of_pieces - (shown_depth(s, broken) if s.beneath else s.depth)
        for side in (-1, 1):
            x = view.x(float(hole.y.x) + side * float(hole.diameter.x) / 2)
            sketch.line(x, view.y(s.top_of_plate), x, view.y(lowest), "thin", "dash", "service hole")


def _timber(sketch: Sketch, view: View, s: Stand, broken: bool) -> None:
    low, high = sides(s)
    if not broken:
        _joist_behind(sketch, view, s)
    if not s.beneath:
        return
    top, bottom = view.y(s.top_of_pieces), view.y(s.top_of_pieces - shown_depth(s, broken))
    for p in s.model.pieces:
        y0, y1 = float(p.outline[:, 1].min()), float(p.outline[:, 1].max())
        if s.along:
            x1, x2 = view.x(y0), view.x(y1)
            sketch.rect(x1, top, x2, bottom, "timber", what=p.name)
            sketch.hatch([(x1, top), (x2, top), (x2, bottom), (x1, bottom)], 9.0, paint="dim")
        elif p is s.model.pieces[0]:
            x1, x2 = view.x(max(y0, low)), view.x(min(y1, high))
            sketch.rect(x1, top, x2, bottom, "timber", what="pieces across the glass")
            for i in (1, 2, 3, 4):
                sketch.line(x1 + 5, top + i * (bottom - top) / 5, x2 - 5, top + i * (bottom - top) / 5, "dim")


def _joist_behind(sketch: Sketch, view: View, s: Stand) -> None:
    """The outline of a joist that runs across the glass."""
    joists = s.job.joists
    if not _has_joist_behind(s):
        return
    low, high = sides(s)
    under = -float(s.job.decking.thickness.x)
    depth = float(joists.depth.x) if joists.depth is not None else s.depth
    lowest = max(under - depth, bottom_of_all(s))
    for x in (low, high):
        sketch.line(view.x(x), view.y(under), view.x(x), view.y(lowest), "thin", "dash")
    sketch.line(view.x(low), view.y(lowest), view.x(high), view.y(lowest), "thin", "dash", "joist behind")


def _has_joist_behind(s: Stand) -> bool:
    return s.job.joists.direction != "along" and s.along and s.mount.support != "edge joist"


def _boards(sketch: Sketch, view: View, s: Stand) -> None:
    low, high = sides(s)
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
    else:
        sketch.hatch([(view.x(low), y1), (view.x(high), y1), (view.x(high), y2), (view.x(low), y2)], 9.0, 2.3, "dim")


def _steel(sketch: Sketch, view: View, s: Stand) -> None:
    m = s.mount
    half = float(m.plate.across.x) / 2
    for packer in m.packers:
        y, wide, high = float(packer.y.x), float(packer.across.x) / 2, view.y(float(packer.thickness.x))
        sketch.rect(view.x(y - wide), high, view.x(y + wide), view.y(0.0), "soft", what="packer")
        sketch.rect(view.x(y - wide), high, view.x(y + wide), view.y(0.0), "ink")
    sketch.rect(view.x(-half), view.y(s.z_plate), view.x(half), view.y(s.top_of_plate), "steel", what=f"plate {m.name}")
    gap, t = float(s.panel.bottom_gap.x), thickness(s) / 2
    top = gap + max(float(p.top.x) for p in m.pads)
    inner, outer = t + PAD, t + PAD + CHEEK
    for side in (-1, 1):
        corners = (view.x(side * inner), view.y(s.top_of_plate), view.x(side * outer), view.y(top + 3))
        sketch.rect(*corners, "steel", what="clamp")
        for p in m.pads:
            low, high = gap + float(p.bottom.x), gap + float(p.top.x)
            sketch.rect(view.x(side * t), view.y(low), view.x(side * inner), view.y(high), "ink", what="pad")
            a, b = sorted((view.x(side * t), view.x(side * inner)))
            sketch.hatch([(a, view.y(low)), (b, view.y(low)), (b, view.y(high)), (a, view.y(high))], 2.6)


def thickness(s: Stand) -> float:
    """Glass with its interlayers, mm."""
    layers = sum(float(layer.nominal.x) for layer in s.panel.layers)
    between = float(s.panel.interlayer.thickness.x) if s.panel.interlayer is not None else 0.0
    return layers + between * (len(s.panel.layers) - 1)


def _glass(sketch: Sketch, view: View, s: Stand) -> None:
    gap, top, y = float(s.panel.bottom_gap.x), top_of_glass(s), -thickness(s) / 2
    between = float(s.panel.interlayer.thickness.x) if s.panel.interlayer is not None else 0.0
    for i, layer in enumerate(s.panel.layers):
        wide = float(layer.nominal.x)
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
    L, half = float(kind.length.x), float(kind.diameter.x) / 2
    z = s.top_of_plate
    lean = sin(angle)

    def at(across: float, down: float) -> tuple[float, float]:
        return view.x(y + across + lean * down), view.y(z - down)

    tip, thread = float(kind.tip.x), float(kind.threaded.x) if kind.threaded is not None else 0.0
    outline = [at(-half, 0.0), at(half, 0.0), at(half, L - tip), at(0.0, L), at(-half, L - tip)]
    if not present:
        sketch.polygon(outline, "thin", f"screw {name} missing", "dot")
        return
    head = float(kind.head.x) / 2 if kind.head is not None else 1.8 * half
    sketch.polygon(outline, "steel", f"screw {name}")
    sketch.polygon([at(-head, 0.0), at(head, 0.0), at(0.7 * head, -0.6 * head), at(-0.7 * head, -0.6 * head)], "steel")
    start, step = L - thread, max(thread / 12, 2.5)
    down = start
    while thread and down + step / 2 < L - tip:
        sketch.line(*at(-half - 0.8, down + step / 2), *at(half + 0.8, down), "thin")
        down += step


# ---------------------------------------------------------------- figures and names


def _left(sketch: Sketch, view: View, s: Stand, say: Say) -> None:
    """Heights on the people side: bottom gap, pads, lever; decking, gap, blocking below."""
    low, _ = sides(s)
    x, of = view.x(low) - 6, view.x(low) + 4
    gap, t = float(s.panel.bottom_gap.x), float(s.job.decking.thickness.x)
    pads = s.mount.pads
    b, top = min(float(p.bottom.x) for p in pads), max(float(p.top.x) for p in pads)
    sketch.upright(view.y(gap + top), view.y(gap + b), x, say.length(top - b), of=of)
    sketch.upright(view.y(gap + b), view.y(0.0), x, say.length(gap + b), of=of)
    sketch.upright(view.y(0.0), view.y(-t), x, say.bare(s.job.decking.thickness), of=of)
    if s.beneath:
        top_z = s.top_of_pieces
        if -t - top_z > 1e-6:
            sketch.upright(view.y(-t), view.y(top_z), x, say.length(-t - top_z), of=of)
        sketch.upright(view.y(top_z), view.y(top_z - s.depth), x, say.length(s.depth), of=of)


def _right(sketch: Sketch, view: View, s: Stand, say: Say) -> None:
    """Heights on the drop side: the screw, what of it is in the timber, the lever of the glass."""
    _, high = sides(s)
    x, of, kind = view.x(high) + 6, view.x(high) - 4, s.mount.screw
    tip = s.top_of_plate - float(kind.length.x)
    top = min(s.top_of_pieces, s.z_plate) if s.model.pieces else -float("inf")
    if tip < top < s.top_of_plate:
        sketch.upright(view.y(s.top_of_plate), view.y(top), x, say.length(s.top_of_plate - top), of=of, side=1)
        sketch.upright(view.y(top), view.y(tip), x, say.length(top - tip), of=of, side=1)
    else:
        sketch.upright(view.y(s.top_of_plate), view.y(tip), x, say.bare(kind.length), of=of, side=1)
    gap = float(s.panel.bottom_gap.x)
    if gap > s.z_plate:
        sketch.upright(view.y(gap), view.y(s.z_plate), x + 22 if gap - s.z_plate < 20 else x, say.bare(s.model.lever), side=1)


def _chains(sketch: Sketch, view: View, s: Stand, say: Say) -> float:
    """Across, beneath all: plate edges and screw rows; pieces."""
    lowest = view.y(bottom_of_all(s))
    half = float(s.mount.plate.across.x) / 2
    rows = sorted({round(float(c.y.x), 6) for c in s.mount.screws})
    y = lowest + 2 * LINE
    _chain(sketch, view, [-half, *[r for r in rows if abs(r) < half], half], y, lowest + 3, say)
    if s.beneath and s.along:
        y += 2 * LINE
        edges = sorted({round(float(v), 6) for p in s.model.pieces for v in p.outline[:, 1]})
        _chain(sketch, view, edges, y, y - 5, say)
    return y + 6


def _chain(sketch: Sketch, view: View, marks: list[float], y: float, of: float, say: Say) -> None:
    for a, b in pairwise(marks):
        if b - a > 1e-6:
            sketch.across(view.x(a), view.x(b), y, say.length(b - a), of=of)


def _names(sketch: Sketch, view: View, s: Stand, say: Say) -> None:
    low, _ = sides(s)
    gap, t = float(s.panel.bottom_gap.x), thickness(s) / 2
    right = WIDTH - 4
    top = gap + max(float(p.top.x) for p in s.mount.pads)
    layers = " + ".join(say.bare(layer.nominal) for layer in s.panel.layers)
    sketch.pointer(right, view.y(top + 0.35 * ABOVE), view.x(t), view.y(top + 0.6 * ABOVE), f"glass {layers}", "end")
    middle = gap + (float(s.mount.pads[0].top.x) + float(s.mount.pads[0].bottom.x)) / 2
    sketch.pointer(right, view.y(middle) - 4, view.x(t + PAD / 2), view.y(middle), "pad", "end")
    half = float(s.mount.plate.across.x) / 2
    z = (s.z_plate + s.top_of_plate) / 2
    name = f"plate {say.bare(s.mount.plate.thickness)}"
    sketch.pointer(view.x(low) + 10, view.y(s.top_of_plate) - 26, view.x(-0.85 * half), view.y(z), name)


def _pushed(sketch: Sketch, view: View, walked: Walked, s: Stand, say: Say) -> list[str]:
    """An arrow where the glass goes on up, and the lever arm of the line load (or the first case) over the plate."""
    every = cases(walked, s.panel)
    case = next((c for c in every if c.action.kind == "line"), every[0] if every else None)
    if case is None:
        return []
    x, y = view.x(-thickness(s) / 2) - 3, view.y(top_of_glass(s) - 0.3 * ABOVE)
    sketch.arrow(x - 30, y, x, y)
    arm = say.length(float(case.height.x) + float(s.model.lever.x))
    return [
        f"Arrow: {case.title} {say(case.action.size)}, higher up: {arm} above the underside of the plate. It acts inward as well."
    ]


def _remarks(s: Stand, say: Say) -> list[str]:
    kind, m, block = s.mount.screw, s.mount, s.model.blocking
    found = [f"Lengths in {say.unit_word}. Clamp and pads are drawn as signs: the job does not say how thick they are."]
    into = into_timber(s)
    what = "blocking" if block is not None else "the edge joist" if s.beneath else "the board"
    deep = f"{say.of(into, 'length')} into {what}" if into > 0.0 else f"DO NOT REACH {what}"
    thread = f", {say.bare(kind.threaded)} of thread" if kind.threaded is not None else ""
    found.append(f"Screws {say.bare(kind.diameter)} x {say.bare(kind.length)}{thread}: {deep}.")
    beside = [p.name for p in s.model.screws if p.piece is None] if s.model.lacking is None else []
    gone = [c.name for c in m.screws if not c.present]
    if beside and into > 0.0:
        found.append(f"In no piece of timber: {', '.join(beside)}.")
    if gone:
        found.append(f"Missing (dotted): {', '.join(gone)}.")
    if not s.beneath:
        found.append(
            "No blocking: the screws hold in a board and nowhere else." if s.model.pieces else f"Stands on {m.support}: not drawn."
        )
    if s.unknown_gap:
        found.append("Gap between boards and blocking: NOT KNOWN, drawn closed.")
    if m.service_hole is not None:
        found.append(f"Service hole {say.bare(m.service_hole.diameter)} (dashed).")
    if m.packers:
        found.append(f"Packers {', '.join(sorted({say.bare(p.thickness) for p in m.packers}))} thick under the plate.")
    if _has_joist_behind(s):
        found.append("Joist behind, dashed.")
    return found


def into_timber(s: Stand) -> float:
    """How far the tips are below the top of the piece, its depth at most, mm; below nought they do not reach it."""
    tip = s.top_of_plate - float(s.mount.screw.length.x)
    top = s.top_of_pieces if s.beneath else 0.0
    return min(top - tip, s.depth)


def _words(s: Stand, say: Say) -> str:
    block = s.model.blocking
    deep = into_timber(s)
    kind = s.mount.screw
    stands_on = (
        f"{block.pieces} pieces of {say(block.laid_breadth)} by {say(block.laid_depth)}" if block is not None else s.mount.support
    )
    reach = f"{say.of(deep, 'length')} into the timber" if deep > 0.0 else "short of the timber"
    lever = Value(float(s.model.lever.x), "length", DRAWN)
    return (
        f"Section through mount {s.mount.name} on {stands_on}, decking {say(s.job.decking.thickness)}; screws "
        f"{say(kind.length)} long reach {reach}. The bottom edge of the glass is "
        f"{say(lever)} above the underside of the base plate."
    )
