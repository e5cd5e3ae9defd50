"""The panel seen from the people side, on its mounts, with what is beneath; its loads at their heights seen from the end."""

from __future__ import annotations

from itertools import pairwise

from barrier.job.schema import Panel
from barrier.links.loads.cases import Case
from barrier.load_path import Result, Walked
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import Say, Stand, cases, ident, stand
from barrier.sheet.drawings.section_parts import as_drawn
from barrier.sheet.drawings.svg import LINE, TEXT, WIDTH, Sketch, View, text_width
from barrier.tables import Tables
from barrier.value import Value

LEFT, SIDE = 52.0, 78.0  # room for heights on the left and for the view from the end on the right
HIGHEST = 300.0  # the glass is not drawn higher


def drawings(result: Result) -> list[Drawing]:
    """An elevation of every panel."""
    found = []
    for panel in result.job.panels:
        caption = f"Panel {panel.name} seen from the people side, and from its end; to scale"
        name = f"elevation-{ident(panel.name)}"
        found.append(Drawing(name, (caption,), lambda panel=panel: draw(result.sound, result.tables, panel)))  # type: ignore[misc]
    return found


def draw(walked: Walked, tables: Tables, panel: Panel) -> Picture:
    """Draw one panel of a walk. Returns SVG and its words; lengths in the job's units."""
    job = walked.job
    say = Say(job.units)
    stands = [stand(job, tables, m) for m in job.mounts_of(panel)]
    view = _view(panel, stands)
    sketch = Sketch()
    lowest = parts(sketch, view, panel, stands)
    loads = _loads(walked, panel)
    _pushed(sketch, view, loads)
    _end_view(sketch, view, panel, loads, stands)
    _heights(sketch, view, panel, say)
    y = _chains(sketch, view, panel, stands, lowest, say)
    _key(sketch, view, y, stands, loads, say)
    return Picture(sketch.svg(view.scale), _words(panel, stands, loads, say))


def extent(panel: Panel, stands: list[Stand]) -> tuple[float, float]:
    """Left and right end of everything, from the left end of the glass, mm."""
    low, high = [0.0], [float(panel.width.x)]
    for s in stands:
        x, joist = float(s.mount.x.x), _joist(s)
        low.append(x + s.ends[0] - joist)
        high.append(x + s.ends[1] + joist)
        half = float(s.mount.plate.along.x) / 2
        low.append(x - half)
        high.append(x + half)
    return min(low), max(high)


def _joist(s: Stand) -> float:
    joists = s.job.joists
    if joists.direction == "along" or s.mount.support == "edge joist":
        return 0.0
    return float(joists.width.x) if joists.width is not None else 0.0


def _view(panel: Panel, stands: list[Stand]) -> View:
    low, high = extent(panel, stands)
    room = WIDTH - LEFT - SIDE
    scale = min(room / (high - low), HIGHEST / (float(panel.height.x) + float(panel.bottom_gap.x)))
    middle = (room - scale * (high - low)) / 2
    return View(scale, LEFT + middle - scale * low, 0.0)


# ---------------------------------------------------------------- what is there, also for small elevations


def parts(sketch: Sketch, view: View, panel: Panel, stands: list[Stand]) -> float:
    """Everything but the loads; returns the lowest point drawn."""
    low, high = extent(panel, stands)
    lowest = _ground(sketch, view, stands, view.x(low) - 5, view.x(high) + 5)
    _glass(sketch, view, panel)
    for s in stands:
        _mount(sketch, view, s)
    return lowest


def _ground(sketch: Sketch, view: View, stands: list[Stand], left: float, right: float) -> float:
    """Joists, blocking and decking; returns the lowest point drawn."""
    lowest = 0.0
    for s in stands:
        _joists(sketch, view, s, -float(s.job.decking.thickness.x), left, right)
    for s in stands:
        x = float(s.mount.x.x)
        if s.beneath:
            top = s.top_of_pieces
            if s.model.blocking is None:
                sketch.rect(left, view.y(top), right, view.y(top - s.depth), "timber", what=f"edge joist under {s.mount.name}")
            elif s.along:
                ends = (x + s.ends[0], x + s.ends[1])
                _timber(sketch, view, ends, top, s.depth, f"blocking under {s.mount.name}")
            else:
                for p in s.model.pieces:
                    ends = (x + float(p.outline[:, 0].min()), x + float(p.outline[:, 0].max()))
                    _timber(sketch, view, ends, top, s.depth, f"{p.name} under {s.mount.name}")
                    _cross(sketch, view, ends, top, s.depth)
            lowest = max(lowest, view.y(top - s.depth))
    decking = -view.scale * float(stands[0].job.decking.thickness.x) if stands else -4.0
    sketch.rect(left, view.y(0.0), right, view.y(0.0) - decking, "timber", what="decking")
    return max(lowest, sketch.bottom)


def _timber(sketch: Sketch, view: View, ends: tuple[float, float], top: float, depth: float, what: str) -> None:
    sketch.rect(view.x(ends[0]), view.y(top), view.x(ends[1]), view.y(top - depth), "timber", what=what)


def _cross(sketch: Sketch, view: View, ends: tuple[float, float], top: float, depth: float) -> None:
    """Timber cut across its grain."""
    x1, x2, y1, y2 = view.x(ends[0]), view.x(ends[1]), view.y(top), view.y(top - depth)
    sketch.line(x1, y1, x2, y2, "thin")
    sketch.line(x1, y2, x2, y1, "thin")


def _joists(sketch: Sketch, view: View, s: Stand, under: float, left: float, right: float) -> None:
    joists = s.job.joists
    if s.mount.support == "edge joist" or (joists.direction is None and s.model.blocking is None):
        return  # nobody knows which way they run
    x, depth = float(s.mount.x.x), float(joists.depth.x) if joists.depth is not None else s.depth
    if joists.direction == "along":
        sketch.rect(left, view.y(under), right, view.y(under - depth), "timber", "dash", "joist along the glass")
        return
    for side, at in zip((-1, 1), s.ends, strict=True):
        if joists.width is None:
            sketch.line(view.x(x + at), view.y(under), view.x(x + at), view.y(under - depth), "thin", "dash")
            continue
        ends = (x + at, x + at + side * float(joists.width.x))
        _timber(sketch, view, (min(ends), max(ends)), under, depth, f"joist beside {s.mount.name}")
        _cross(sketch, view, (min(ends), max(ends)), under, depth)


def _glass(sketch: Sketch, view: View, panel: Panel) -> None:
    gap = float(panel.bottom_gap.x)
    x1, x2 = view.x(0.0), view.x(float(panel.width.x))
    y1, y2 = view.y(gap), view.y(gap + float(panel.height.x))
    sketch.rect(x1, y2, x2, y1, "glass", what=f"glass {panel.name}")
    if panel.rail != "none":
        sketch.line(x1, y2 - 2, x2, y2 - 2, "ink", what="rail")


def _mount(sketch: Sketch, view: View, s: Stand) -> None:
    x, gap, plate = float(s.mount.x.x), float(s.panel.bottom_gap.x), s.mount.plate
    half = float(plate.along.x) / 2
    sketch.rect(
        view.x(x - half), view.y(s.z_plate), view.x(x + half), view.y(s.top_of_plate), "steel", what=f"plate {s.mount.name}"
    )
    for pad in s.mount.pads:
        on = pad.on_glass(x)
        corners = (view.x(on.x0), view.y(gap + on.y0), view.x(on.x1), view.y(gap + on.y1))
        sketch.rect(*corners, "steel", what=f"pad {s.mount.name}")
    for screw in s.mount.screws:
        at = view.x(x + float(screw.x.x))
        tip = view.y(s.top_of_plate - s.screw)
        sketch.line(at, view.y(s.top_of_plate), at, tip, "ink", "" if screw.present else "dot")
    sketch.text(view.x(x), view.y(gap + s.mount.held[1]) - 5, s.mount.name, "middle", step=(0, -LINE))


# ---------------------------------------------------------------- loads


def _loads(walked: Walked, panel: Panel) -> list[tuple[str, list[Case]]]:
    """The actions on a panel under a letter each, with their cases."""
    by_action: dict[str, list[Case]] = {}
    for case in cases(walked, panel):
        by_action.setdefault(case.action.id, []).append(case)
    return [("ABCDEFGH"[i % 8], found) for i, found in enumerate(by_action.values())]


def _pushed(sketch: Sketch, view: View, loads: list[tuple[str, list[Case]]]) -> None:
    """Where each load stands on the face of the glass."""
    for letter, found in loads:
        for i, case in enumerate(found):
            patch, gap, W = case.patch, float(case.panel.bottom_gap.x), float(case.panel.width.x)
            if case.action.kind == "line":
                y = view.y(gap + float(case.height.x))
                sketch.line(view.x(0.0), y, view.x(W), y, "load", what=f"load {letter}")
                sketch.text(view.x(W * 0.32), y + TEXT + 2, letter, "middle", bold=True)
            elif patch is not None:
                x1, x2, y1, y2 = view.x(patch[0]), view.x(patch[1]), view.y(gap + patch[2]), view.y(gap + patch[3])
                y1, y2 = (y1 + 4, y2) if y1 - y2 < 4 else (y1, y2)  # a load on the edge itself has no height
                sketch.rect(x1, y1, x2, y2, "load", "dash", f"load {letter}")
                if i == 0:
                    sketch.text(x2 + 3, (y1 + y2) / 2 + 5, letter, bold=True)
    over = [letter for letter, found in loads if found[0].action.kind == "pressure"]
    if over:
        _all_over(sketch, view, loads[0][1][0].panel, over)


def _all_over(sketch: Sketch, view: View, panel: Panel, letters: list[str]) -> None:
    """What pushes everywhere: sparse lines over the middle of the glass."""
    gap, H, W = float(panel.bottom_gap.x), float(panel.height.x), float(panel.width.x)
    low, high = gap + 0.3 * H, gap + 0.7 * H
    corners = [(0.1 * W, low), (0.9 * W, low), (0.9 * W, high), (0.1 * W, high)]
    sketch.hatch(view.points(corners), 26.0, 0.785, "dim")
    sketch.text(view.x(W * 0.7), view.y(gap + 0.62 * H), ", ".join(letters), "middle", bold=True)


def _end_view(sketch: Sketch, view: View, panel: Panel, loads: list[tuple[str, list[Case]]], stands: list[Stand]) -> None:
    """The glass from its end, people on the left, with an arrow for each load at its height."""
    gap, thick = float(panel.bottom_gap.x), sum(as_drawn(layer) for layer in panel.layers)
    x = WIDTH - 20.0
    half = max(view.scale * thick / 2, 1.4)
    sketch.rect(x - half, view.y(gap), x + half, view.y(gap + float(panel.height.x)), "glass", what="glass from its end")
    plate = max((view.scale * float(s.mount.plate.across.x) for s in stands), default=8.0)
    top = view.y(stands[0].top_of_plate if stands else gap)
    sketch.rect(x - plate / 2, top, x + plate / 2, view.y(0.0), "steel")
    sketch.line(x - 34, view.y(0.0), WIDTH - 2, view.y(0.0), "ink")
    for letters, heights in _together(view, loads):
        for h in heights:
            sketch.arrow(x - half - 20, view.y(gap + h), x - half - 1, view.y(gap + h), "load")
        y = view.y(gap + sum(heights) / len(heights))
        sketch.text(x - half - 23, y + TEXT / 3, ", ".join(letters), "end", bold=True)


def _together(view: View, loads: list[tuple[str, list[Case]]]) -> list[tuple[list[str], list[float]]]:
    """Loads whose heights lie too near one another for a letter each."""
    places = sorted(((float(found[0].height.x), letter) for letter, found in loads), reverse=True)
    groups: list[tuple[list[str], list[float]]] = []
    for h, letter in places:
        if groups and view.scale * (groups[-1][1][0] - h) < LINE:
            groups[-1][0].append(letter)
            groups[-1][1].append(h)
        else:
            groups.append(([letter], [h]))
    return [(sorted(letters), list(dict.fromkeys(heights))) for letters, heights in groups]


# ---------------------------------------------------------------- figures


def _heights(sketch: Sketch, view: View, panel: Panel, say: Say) -> None:
    gap, high = float(panel.bottom_gap.x), float(panel.bottom_gap.x) + float(panel.height.x)
    x = min(view.x(0.0), LEFT + 1000.0) - 13
    sketch.upright(view.y(gap), view.y(high), x, say.bare(panel.height), of=view.x(0.0) - 2)
    sketch.upright(view.y(0.0), view.y(gap), x, say.bare(panel.bottom_gap), of=view.x(0.0) - 2)


def _chains(sketch: Sketch, view: View, panel: Panel, stands: list[Stand], lowest: float, say: Say) -> float:
    """Dimensions along the glass beneath everything: blocking from its ends, mounts from the ends of the glass, the whole."""
    y = lowest
    for s in _bays_drawn(view, stands, say):
        y = lowest + 2 * LINE
        x = float(s.mount.x.x)
        _chain(sketch, view, [x + s.ends[0], x, x + s.ends[1]], y, lowest, say, *s.bay_from)
    y += 2 * LINE
    stops = [0.0, *sorted(float(s.mount.x.x) for s in stands), float(panel.width.x)]
    _chain(sketch, view, stops, y, y - 6, say, panel.width, *(s.mount.x for s in stands))
    y += 2 * LINE
    sketch.across(view.x(0.0), view.x(float(panel.width.x)), y, say.bare(panel.width), of=y - 6)
    return y + 6


def _bays_drawn(view: View, stands: list[Stand], say: Say) -> list[Stand]:
    """The mounts whose place in their bay has room for its figures: all of them, the first for all that are alike, or none."""
    along = [s for s in stands if s.model.blocking is not None and s.along]
    shown = [s for s in along if all(view.scale * abs(e) > text_width(say.length(abs(e))) + 3 for e in s.ends if abs(e) > 1e-6)]
    if len(shown) < len(along):
        return []
    distinct = {s.ends for s in along}
    apart = all(b.mount.x.x + b.ends[0] >= a.mount.x.x + a.ends[1] for a, b in pairwise(sorted(along, key=lambda s: s.mount.x.x)))
    return along if apart else along[:1] if len(distinct) == 1 else []


def _chain(sketch: Sketch, view: View, marks: list[float], y: float, of: float, say: Say, *made_of: Value) -> None:
    for a, b in pairwise(marks):
        if b - a > 1e-6:
            sketch.across(view.x(a), view.x(b), y, say.length(b - a, *made_of), of=of)


def _key(sketch: Sketch, view: View, y: float, stands: list[Stand], loads: list[tuple[str, list[Case]]], say: Say) -> None:
    boards = f" Boards {say.bare(stands[0].job.decking.thickness)} thick." if stands else ""
    y = sketch.words(y, f"Lengths in {say.unit_word}.{boards}")
    for letter, found in loads:
        y = sketch.words(y, f"{letter}: {_load_words(found, say)}")
    if loads:
        y = sketch.words(y, "Each acts outward and inward; what acts at once stands with the cases.")
    beneath: dict[str, list[str]] = {}
    drawn = bool(_bays_drawn(view, stands, say)) or not all(s.along for s in stands)
    for s in stands:
        bay = "" if drawn or s.model.blocking is None else f"; mount {say.length(-s.ends[0])} from their left end"
        beneath.setdefault(_stands_on(s, say) + bay, []).append(s.mount.name)
    for words, names in beneath.items():
        y = sketch.words(y, f"Under {', '.join(names)}: {words}")


def _load_words(found: list[Case], say: Say) -> str:
    case = found[0]
    if case.patch is not None:
        where = f"at {len(found)} places" if len(found) > 1 else f"{say(case.height)} above the bottom edge"
        return f"{case.action.title}, {say(case.action.size)}, {where}"
    if case.action.kind == "line":
        return f"{case.action.title}, {say(case.action.size)}, {say(case.height)} above the bottom edge of the glass"
    if case.action.strips:
        return f"{case.action.title}, {say(case.action.size)} as a mean over the glass, higher towards the free end"
    return f"{case.action.title}, {say(case.action.size)} over the whole glass"


def _stands_on(s: Stand, say: Say) -> str:
    block = s.model.blocking
    if block is None:
        joists = "; which way the joists run is not known" if s.job.joists.direction is None else ""
        boards = f"boards alone, no blocking{joists}"
        return boards if s.mount.support == "decking only" else f"{s.mount.support}{_edge_joist(s, say)}"
    many = "1 piece" if block.pieces == 1 else f"{block.pieces} {'loose' if block.laminated == 'loose' else 'laminated'} pieces"
    size = f"{say.bare(block.laid_breadth)} x {say.bare(block.laid_depth)}, {say.bare(block.length)} long"
    left, right = (e.fixing if e is not None else "not said" for e in (block.left, block.right))
    gap = "; gap under the boards not known" if s.unknown_gap else ""
    return f"{many} {size}; ends: {left if left == right else f'{left} left, {right} right'}{gap}"


def _edge_joist(s: Stand, say: Say) -> str:
    joists = s.job.joists
    if joists.width is None or joists.depth is None:
        return ", its size not known"
    return f" {say.bare(joists.width)} x {say.bare(joists.depth)}"


def _words(panel: Panel, stands: list[Stand], loads: list[tuple[str, list[Case]]], say: Say) -> str:
    mounts = ", ".join(f"{s.mount.name} at {say(s.mount.x)}" for s in stands)
    pushed = "; ".join(_load_words(found, say) for _, found in loads) or "none known"
    return (
        f"Elevation of panel {panel.name}, {say(panel.width)} wide and {say(panel.height)} high, {say(panel.bottom_gap)} above the "
        f"decking, on {mounts} from its left end. Loads: {pushed}."
    )
