"""Section through a mount, across the glass: what is there, how thick it is, and how deep the screws reach."""

from __future__ import annotations

from itertools import pairwise

from barrier.load_path import Result, Walked
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import DRAWN, Say, Stand, cases, ident, stand
from barrier.sheet.drawings.section_parts import (
    ABOVE,
    BESIDE,
    PAD,
    as_drawn,
    bottom_of_all,
    fitted,
    frame,
    has_joist_behind,
    joist_behind,
    parts,
    sides,
    thickness,
    top_of_glass,
)
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.tables import Tables
from barrier.value import Value


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
    sizes = (m.plate.across, m.plate.thickness, m.screw.diameter, m.offset, s.panel.bottom_gap)
    return (
        tuple(float(v.x) for v in sizes),
        (m.screw.length is None, s.screw),
        s.model.key,
        s.depth,
        m.support,
        tuple((float(p.bottom.x), float(p.top.x)) for p in m.pads),
        tuple((layer.nominal is None, as_drawn(layer)) for layer in s.panel.layers),
        tuple((float(p.y.x), float(p.across.x), float(p.thickness.x)) for p in m.packers),
        None if block is None else (block.direction, block.laid),
    )


def draw(walked: Walked, tables: Tables, mount: str) -> Picture:
    """Draw the section through one mount of a walk. Returns SVG and its words."""
    job = walked.job
    s = stand(job, tables, next(m for m in job.mounts if m.name == mount))
    say = Say(job.units)
    sketch = Sketch()
    around = frame((s,))
    view = fitted(around, WIDTH - 2 * BESIDE)
    sketch.text(4, view.y(top_of_glass(s)) + 9, "people side", bold=True)
    sketch.text(WIDTH - 4, view.y(top_of_glass(s)) + 9, "drop side", "end", bold=True)
    joist_behind(sketch, view, s, around)
    parts(sketch, view, s, around)
    _names(sketch, view, s, say)
    _left(sketch, view, s, say)
    _right(sketch, view, s, say)
    pushed = _pushed(sketch, view, walked, s, say)
    y = _chains(sketch, view, s, say)
    for line in (*_remarks(s, say), *pushed):
        y = sketch.words(y, line)
    return Picture(sketch.svg(view.scale), _words(s, say))


# ---------------------------------------------------------------- figures and names


def _left(sketch: Sketch, view: View, s: Stand, say: Say) -> None:
    """Heights on the people side: bottom gap, pads, lever; decking, gap, blocking below."""
    low, _ = sides(s)
    x, of = view.x(low) - 6, view.x(low) + 4
    gap, t = float(s.panel.bottom_gap.x), float(s.job.decking.thickness.x)
    pads = s.mount.pads
    b, top = s.mount.held
    sketch.upright(view.y(gap + top), view.y(gap + b), x, say.length(top - b, *(v for p in pads for v in (p.bottom, p.top))), of=of)
    sketch.upright(view.y(gap + b), view.y(0.0), x, say.length(gap + b, s.panel.bottom_gap), of=of)
    sketch.upright(view.y(0.0), view.y(-t), x, say.bare(s.job.decking.thickness), of=of)
    if s.beneath:
        top_z = s.top_of_pieces
        if -t - top_z > 1e-6:
            sketch.upright(view.y(-t), view.y(top_z), x, say.length(-t - top_z, *s.gap_from), of=of)
        sketch.upright(view.y(top_z), view.y(top_z - s.depth), x, say.length(s.depth, *s.depth_from), of=of)


def _right(sketch: Sketch, view: View, s: Stand, say: Say) -> None:
    """Heights on the drop side: the screw, what of it is in the timber, the lever of the glass."""
    _, high = sides(s)
    x, of, kind = view.x(high) + 6, view.x(high) - 4, s.mount.screw
    tip = s.top_of_plate - s.screw
    top = min(s.top_of_pieces, s.z_plate) if s.model.pieces else -float("inf")
    if kind.length is None:
        pass  # nobody knows where its tip is
    elif tip < top < s.top_of_plate:
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
    _chain(sketch, view, [-half, *[r for r in rows if abs(r) < half], half], y, lowest + 3, say, *s.rows_from)
    if s.beneath and s.along:
        y += 2 * LINE
        edges = sorted({round(float(v), 6) for p in s.model.pieces for v in p.outline[:, 1]})
        _chain(sketch, view, edges, y, y - 5, say, *s.breadth_from)
    return y + 6


def _chain(sketch: Sketch, view: View, marks: list[float], y: float, of: float, say: Say, *made_of: Value) -> None:
    for a, b in pairwise(marks):
        if b - a > 1e-6:
            sketch.across(view.x(a), view.x(b), y, say.length(b - a, *made_of), of=of)


def _names(sketch: Sketch, view: View, s: Stand, say: Say) -> None:
    low, _ = sides(s)
    gap, t = float(s.panel.bottom_gap.x), thickness(s) / 2
    right = WIDTH - 4
    top = gap + s.mount.held[1]
    layers = " + ".join("NOT KNOWN" if layer.nominal is None else say.bare(layer.nominal) for layer in s.panel.layers)
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
    if kind.length is None:
        deep = f"how deep they reach into {what} is NOT KNOWN, drawn dashed"
    thread = f", {say.bare(kind.threaded)} of thread" if kind.threaded is not None else ", length of thread NOT KNOWN"
    long = say.bare(kind.length) if kind.length is not None else "?"
    found.append(f"Screws {say.bare(kind.diameter)} x {long}{thread}: {deep}.")
    beside = [p.name for p in s.model.screws if p.piece is None]
    gone = [c.name for c in m.screws if not c.present]
    if beside and (into > 0.0 or kind.length is None):
        found.append(f"In no piece of timber: {', '.join(beside)}.")
    if gone:
        found.append(f"Missing (dotted): {', '.join(gone)}.")
    if not s.beneath:
        found.append(
            "No blocking: the screws hold in a board and nowhere else." if s.model.pieces else f"Stands on {m.support}: not drawn."
        )
    if s.unknown_gap:
        found.append("Gap between boards and blocking: NOT KNOWN, drawn closed.")
    if s.job.decking.direction is None:
        found.append("Which way the boards run: NOT KNOWN.")
    if m.service_hole is not None:
        found.append(f"Service hole {say.bare(m.service_hole.diameter)} (dashed).")
    if m.packers:
        found.append(f"Packers {', '.join(sorted({say.bare(p.thickness) for p in m.packers}))} thick under the plate.")
    if has_joist_behind(s):
        found.append("Joist behind, dashed.")
    if m.grain == "end" and s.beneath:
        found.append("Screws IN END GRAIN: the fibres of the timber run upright, along them.")
    return found


def into_timber(s: Stand) -> float:
    """How far the tips are below the top of the piece, its depth at most, mm; below nought they do not reach it."""
    tip = s.top_of_plate - s.screw
    top = s.top_of_pieces if s.beneath else 0.0
    return min(top - tip, s.depth)


def _words(s: Stand, say: Say) -> str:
    block = s.model.blocking
    deep = into_timber(s)
    kind = s.mount.screw
    stands_on = s.mount.support
    if block is not None:
        many = "1 piece" if block.pieces == 1 else f"{block.pieces} pieces"
        stands_on = f"{many} of {say(block.laid_breadth)} by {say(block.laid_depth)}"
    reach = f"{say.of(deep, 'length')} into the timber" if deep > 0.0 else "short of the timber"
    screws = f"{say(kind.length)} long reach {reach}" if kind.length is not None else "of unknown length"
    lever = Value(float(s.model.lever.x), "length", DRAWN)
    return (
        f"Section through mount {s.mount.name} on {stands_on}, decking {say(s.job.decking.thickness)}; screws "
        f"{screws}. The bottom edge of the glass is "
        f"{say(lever)} above the underside of the base plate."
    )
