"""The largest principal stress over the glass, on the face and in the case that govern; and the top edge as it moves."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from math import floor, log10

import numpy as np
from numpy.typing import NDArray

from barrier.links.glass.glass import PeakAt, peak_of
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.glass.peak_stations import FACES, ZONES
from barrier.load_path import Result, Walked
from barrier.mechanics.splines import first_largest
from barrier.result import About, Check, Ending, Standing, tied
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import DRAWN, Say, ident
from barrier.sheet.drawings.svg import LINE, TEXT, WIDTH, Sketch, View, n, text_width
from barrier.sheet.numbers import CALCULATION, unit_text
from barrier.units import UNITS, shown_unit
from barrier.value import Value

GRID = 72  # lines each way beside those at the borders of pads
NEAR = 0.35  # units: points of a contour nearer than this to the last are left out
TALLEST = 330.0
BANDS = ("#f7fbff", "#deebf7", "#c6dbef", "#9ecae1", "#6baed6", "#4292c6", "#2171b5", "#08519c", "#08306b")
Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Governing:
    """A glass check with the peak behind it, and the factor from the plate's stress there to the check's demand."""

    check: Check
    solved: PanelSolution
    at: PeakAt
    factor: float

    @property
    def words(self) -> str:
        """Case, face, place, stiffness."""
        pads, bases = self.solved.sets[self.at.set]
        return f"{self.solved.cases[self.at.case].title}; {FACES[self.at.face]}, {ZONES[self.at.zone]}; {pads} pads, {bases} bases"


def drawings(result: Result) -> list[Drawing]:
    """A map for every panel that was solved."""
    found = []
    for solved in result.handed_on.panels:
        peak = governing_of(result.sound, solved)
        if peak is None:
            continue
        caption = f"Largest principal stress in panel {solved.panel.name}: {peak.words}"
        name = f"stress-{ident(solved.panel.name)}"
        found.append(Drawing(name, (caption,), partial(draw, result.sound, peak), partial(words, result.sound, peak)))
    return found


def governing_of(walked: Walked, solved: PanelSolution) -> Governing | None:
    """The worse of the two required glass checks of a panel, by utilisation, else by its stress."""
    own = [c for c in walked.checks if c.about.panel == solved.panel.name and not c.about.informs]
    checks = [c for c in own if c.about.one_of((("glass", "face"), ("glass", "edge"))) and c.demand is not None]
    if not checks:
        return None

    def weight(c: Check) -> tuple[bool, float]:
        return c.eta is not None, tied(c.eta if c.eta is not None else c.demand.at(c.station) if c.demand is not None else 0.0)

    check = max(checks, key=weight)
    at = peak_of(solved, check)
    assert check.demand is not None
    return Governing(check, solved, at, check.demand.at(check.station) / at.stress if at.stress > 0.0 else 1.0)


def draw(walked: Walked, peak: Governing) -> Picture:
    """Draw the map; stresses carry the factors of the check, so that the peak is the check's own demand."""
    say, panel = Say(walked.job.units), peak.solved.panel
    W, H = float(panel.width.x), float(panel.height.x)
    sketch = Sketch()
    scale = min((WIDTH - 20) / W, TALLEST / H)
    view = View(scale, (WIDTH - scale * W) / 2, scale * H)
    x, y, stress = field_of(peak)
    levels = levels_of(float(stress.max()), walked.job.units)
    sketch.rect(view.x(0), view.y(0), view.x(W), view.y(H), "soft", what=f"glass {panel.name}")
    bands(sketch, view, x, y, stress, levels)
    strength = _strength(peak.check)
    if strength is not None and strength < float(stress.max()):
        for points in _lines(view, x, y, stress, strength):
            sketch.polyline(points, "warn", "dash", "strength")
    sketch.rect(view.x(0), view.y(0), view.x(W), view.y(H), "ink")
    for m in peak.solved.mounts:
        for p in m.mount.pads:
            on = p.on_glass(float(m.mount.x.x))
            corners = (view.x(on.x0), view.y(on.y0), view.x(on.x1), view.y(on.y1))
            sketch.rect(*corners, "ink", what=f"pad {m.name}")
    _mark(sketch, view, peak, say)
    bottom = _legend(sketch, view.y(0) + 10, levels, say, strength is not None and strength < float(stress.max()))
    bottom = _remarks(sketch, bottom, peak, say)
    _top_edge(sketch, bottom + 8, walked, peak, say)
    return Picture(sketch.svg(scale), words(walked, peak))


def field_of(peak: Governing) -> tuple[Floats, Floats, Floats]:
    """Grid lines x and y (mm) and the stress at the level of the check (MPa), (nx, ny)."""
    panel, at = peak.solved.panel, peak.at
    solution = peak.solved.solutions[at.set]
    x = lines_of(float(panel.width.x), solution.model.x_borders | {at.x})
    y = lines_of(float(panel.height.x), solution.model.y_borders | {at.y})
    return x, y, peak.factor * peak.solved.stress_on(at.set, at.face, x, y)[at.case]


def lines_of(length: float, borders: set[float]) -> Floats:
    """Lines of a grid from nought to the length with some at the borders, mm."""
    own = np.concatenate([np.linspace(0.0, length, GRID), np.array(sorted(borders))])
    return np.unique(np.clip(np.round(own, 6), 0.0, length))


def levels_of(top: float, style: str, kind: str = "stress") -> list[float]:
    """Round levels from nought up to the last one below the largest value, in the sheet's unit of its kind, as base units.

    >>> levels_of(93.4, "metric")
    [0.0, 20.0, 40.0, 60.0, 80.0]
    """
    unit = UNITS[shown_unit(kind, style)].factor
    rough = top / unit / 8.0
    if rough <= 0.0:
        return [0.0]
    decade = 10.0 ** floor(log10(rough))
    step = next(m * decade for m in (1.0, 2.0, 2.5, 4.0, 5.0, 10.0) if m * decade >= rough)
    return [round(i * step, 9) * unit for i in range(int(top / unit / step * (1.0 - 1e-9)) + 1)]


def _strength(check: Check) -> float | None:
    return None if check.resistance is None else check.resistance.at(check.station)


# ---------------------------------------------------------------- the map


def bands(sketch: Sketch, view: View, x: Floats, y: Floats, stress: Floats, levels: list[float]) -> None:
    """Fill the map between its levels."""
    from contourpy import FillType, contour_generator  # only where a map is drawn

    found = contour_generator(x, y, stress.T, name="serial", fill_type=FillType.OuterOffset)
    for i, low in enumerate(levels):
        high = levels[i + 1] if i + 1 < len(levels) else float("inf")
        polygons, offsets = found.filled(low if i else -1e9, high)[:2]
        parts = []
        for points, offset in zip(polygons, offsets, strict=True):
            for a, b in pairwise(np.asarray(offset).tolist()):
                ring = _thinned(view.points(np.asarray(points, dtype=float)[a:b]))
                if len(ring) > 2:
                    parts.append("M" + "L".join(f"{round(px, 1):g} {round(py, 1):g}" for px, py in ring) + "Z")
        if parts:
            paint = f'fill="{_colour(i, len(levels))}" stroke="#1d3f5e" stroke-width="0.4" fill-rule="evenodd"'
            sketch.path("".join(parts), paint, f"band {i + 1}")


def _colour(i: int, of: int) -> str:
    return BANDS[round(i * (len(BANDS) - 1) / max(of - 1, 1))] if of > 1 else BANDS[1]


def _lines(view: View, x: Floats, y: Floats, stress: Floats, level: float) -> list[list[tuple[float, float]]]:
    from contourpy import contour_generator

    found = contour_generator(x, y, stress.T, name="serial").lines(level)
    return [_thinned(view.points(np.asarray(points, dtype=float))) for points in found]


def _thinned(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """A line with fewer points: what is left out lies within :data:`NEAR` of it (Douglas and Peucker's method)."""
    xy = np.asarray(points, dtype=float)
    kept = np.zeros(len(xy), dtype=bool)
    open_runs = [(0, len(xy) - 1)] if len(xy) else []
    while open_runs:
        a, b = open_runs.pop()
        kept[[a, b]] = True
        if b - a < 2:
            continue
        chord, between = xy[b] - xy[a], xy[a + 1 : b] - xy[a]
        length = float(np.hypot(*chord))
        off = np.abs(between @ np.array([-chord[1], chord[0]])) / length if length > 0.0 else np.hypot(*between.T)
        far = int(first_largest(off))  # of points as far off but for rounding the first
        if off[far] > NEAR:
            open_runs += [(a, a + 1 + far), (a + 1 + far, b)]
    return [(float(px), float(py)) for px, py in xy[kept]]


def _mark(sketch: Sketch, view: View, peak: Governing, say: Say) -> None:
    x, y = view.x(peak.at.x), view.y(peak.at.y)
    sketch.circle(x, y, 5, "warn", what="peak")
    sketch.line(x - 8, y, x + 8, y, "warn")
    sketch.line(x, y - 8, x, y + 8, "warn")
    check = peak.check
    assert check.demand is not None
    text = f"peak {say(check.demand, check.station)}"
    wide = text_width(text) + 12
    at = min(max(x, wide / 2 + 8), WIDTH - wide / 2 - 8)
    up = y - 40 if y - 60 > view.y(float(peak.solved.panel.height.x)) else y + 40
    sketch.line(x, y - 5 if up < y else y + 5, at, up, "warn")
    sketch.plaque(at, up, [text], "middle")


def _legend(sketch: Sketch, y: float, levels: list[float], say: Say, over: bool) -> float:
    """Swatches with the stress each band begins at."""
    y = swatches(sketch, y, levels, say, "stress")
    if over:
        y += LINE
        sketch.line(4, y - 4, 34, y - 4, "warn", "dash")
        sketch.text(40, y, "the strength it is compared with")
    return y + 2


def swatches(sketch: Sketch, y: float, levels: list[float], say: Say, kind: str, words: str = "stress") -> float:
    """Colours of the bands with what each begins at; returns where they end."""
    sketch.text(4, y + TEXT, f"{words} above, {unit_text(shown_unit(kind, say.style))}")
    y += LINE + 4
    wide = (WIDTH - 8) / max(len(levels), 5)
    for i, level in enumerate(levels):
        x = 4 + i * wide
        sketch.path(
            f"M{n(x)} {n(y)}h{n(wide)}v10h-{n(wide)}Z", f'fill="{_colour(i, len(levels))}" stroke="#1d3f5e" stroke-width="0.4"'
        )
        sketch.text(x + 1, y + 11 + TEXT, say.bare(Value(level, kind, DRAWN), digits=CALCULATION))
    y += 12 + LINE
    sketch.reach(y)
    return y


def _remarks(sketch: Sketch, y: float, peak: Governing, say: Say) -> float:
    check = peak.check
    assert check.demand is not None
    compared = (
        f", compared with {say(check.resistance, check.station)}" if check.resistance is not None else ", compared with nothing"
    )
    level = peak.solved.cases[peak.at.case].strength.level
    y = sketch.words(
        y, f"Peak {say(check.demand, check.station)} at the {level} level{compared}. The whole map carries the peak's factors."
    )
    if check.ending is Ending.NOT_CHECKED:
        y = sketch.words(y, "NOT CHECKED")
    return y


# ---------------------------------------------------------------- the top edge


def _top_moves(solved: PanelSolution) -> tuple[float, int, int]:
    """The largest movement of the top edge (mm) in what decides, with the set and the case it is of."""
    chosen = [i for i, c in enumerate(solved.cases) if c.standing is Standing.REQUIRED]
    most, s, c = max((float(sol.top_deflection[c]), -i, -c) for i, sol in enumerate(solved.solutions) for c in chosen)
    return most, -s, -c


def _top_edge(sketch: Sketch, y: float, walked: Walked, peak: Governing, say: Say) -> None:
    """How the top edge moves in the case that moves it most, not to the scale of the panel."""
    solved = peak.solved
    most, s, c = _top_moves(solved)
    W, H = float(solved.panel.width.x), float(solved.panel.height.x)
    x = np.linspace(0.0, W, 41)
    w = np.abs(solved.solutions[s].deflection(x, H)[c, :, 0])
    peak_x = float(solved.solutions[s].top_deflection_x[c])
    case = solved.cases[c]
    pads, bases = solved.sets[s]
    y = sketch.words(y, "Top edge from above, as it moves", bold=True)
    left, right, height = 26.0, WIDTH - 26.0, 40.0
    base = y + 10
    top = max(most, 1e-12)
    sketch.line(left, base, right, base, "thin", "dash", "top edge at rest")
    points = [(left + (right - left) * a / W, base + height * b / top) for a, b in zip(x.tolist(), w.tolist(), strict=True)]
    sketch.polyline(points, "ink", what="top edge")
    for at, moved in ((0.0, w[0]), (W / 2, float(np.interp(W / 2, x, w))), (W, w[-1])):
        px, py = left + (right - left) * at / W, base + height * float(moved) / top
        sketch.arrow(px, base, px, py, "dim", 4.0)
        anchor = "start" if at == 0.0 else "end" if at == W else "middle"
        sketch.text(px, max(py, base) + TEXT + 3, say.of(float(moved), "length"), anchor)
    moves = Value(most, "length", DRAWN)
    end = sketch.words(
        base + height + LINE + 4,
        f"{case.title}, characteristic; {pads} pads, {bases} bases: {say(moves)} at most, {say.of(peak_x, 'length')} from "
        "the left end. A gap under the boards comes on top.",
    )
    loose = next((c for c in walked.checks if c.about == About("movement", panel=solved.panel.name) and c.eta is None), None)
    if loose is not None and loose.ending is Ending.EXCEEDS:
        sketch.words(end, f"DRAWN AS IF THE MOUNTS HELD: {loose.reason}.")


def words(walked: Walked, peak: Governing) -> str:
    """What the map shows, in words."""
    say, check, w = Say(walked.job.units), peak.check, Value(_top_moves(peak.solved)[0], "length", DRAWN)
    assert check.demand is not None
    against = f", compared with {say(check.resistance, check.station)}" if check.resistance is not None else ""
    return (
        f"Map of the largest principal stress in panel {peak.solved.panel.name}: its peak is "
        f"{say(check.demand, check.station)}{against}, {say.of(peak.at.x, 'length')} from the left end and "
        f"{say.of(peak.at.y, 'length')} above the bottom edge ({peak.words}). "
        f"The top edge moves {say(w)} at most."
    )
