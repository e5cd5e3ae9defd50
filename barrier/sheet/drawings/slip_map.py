"""How far the layers of laminated glass slip on one another, over the panel, in the case that governs its stress."""

from __future__ import annotations

from math import floor

import numpy as np

from barrier.load_path import Result, Walked
from barrier.mechanics.laminate import LaminateSolution
from barrier.mechanics.laminate_joined import Joined
from barrier.mechanics.splines import first_largest
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import DRAWN, Say, ident
from barrier.sheet.drawings.stress_map import TALLEST, Floats, Governing, bands, governing_of, levels_of, lines_of, swatches
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.value import Value

ARROWS = (9, 6)  # along the panel and up
LONGEST = 16.0  # units, of an arrow


def drawings(result: Result) -> list[Drawing]:
    """A map for every panel of laminated glass that was solved with its interlayer."""
    found = []
    for solved in result.handed_on.panels:
        peak = governing_of(result.sound, solved) if solved.film is not None else None
        if peak is None:
            continue
        caption = f"Slip between the layers of panel {solved.panel.name}: {peak.words}"
        found.append(Drawing(f"slip-{ident(solved.panel.name)}", (caption,), lambda p=peak: draw(result.sound, p)))  # type: ignore[misc]
    return found


def field_of(peak: Governing) -> tuple[Floats, Floats, Floats]:
    """Grid lines x and y (mm), and the slip along x and y there at the characteristic action (mm), (2, nx, ny)."""
    panel, solution = peak.solved.panel, peak.solved.solutions[peak.at.set]
    assert isinstance(solution, LaminateSolution | Joined)
    x, y = lines_of(float(panel.width.x), solution.model.x_borders), lines_of(float(panel.height.x), solution.model.y_borders)
    return x, y, solution.slip(x, y)[:, peak.at.case]


def draw(walked: Walked, peak: Governing) -> Picture:
    """Draw the map, with arrows the way the pushed layer goes against the other."""
    say, panel = Say(walked.job.units), peak.solved.panel
    W, H = float(panel.width.x), float(panel.height.x)
    sketch = Sketch()
    scale = min((WIDTH - 20) / W, TALLEST / H)
    view = View(scale, (WIDTH - scale * W) / 2, scale * H)
    x, y, slip = field_of(peak)
    size = np.hypot(*slip)
    most = float(size.max())
    levels = _levels(float(size.min()), most, walked.job.units)
    sketch.rect(view.x(0), view.y(0), view.x(W), view.y(H), "soft", what=f"glass {panel.name}")
    bands(sketch, view, x, y, size, levels)
    _arrows(sketch, view, peak, most)
    sketch.rect(view.x(0), view.y(0), view.x(W), view.y(H), "ink")
    for m in peak.solved.mounts:
        for p in m.mount.pads:
            on = p.on_glass(float(m.mount.x.x))
            corners = (view.x(on.x0), view.y(on.y0), view.x(on.x1), view.y(on.y1))
            sketch.rect(*corners, "ink", what=f"pad {m.name}")
    bottom = swatches(sketch, view.y(0) + 10, levels, say, "length", "slip")
    i, j = divmod(int(first_largest(size)), size.shape[1])
    largest = f"At most {say(Value(most, 'length', DRAWN))}, {_at(say, float(x[i]), float(y[j]))}"
    sketch.words(bottom + LINE, f"{largest}. Characteristic action. No clamp holds a layer against slipping; a stiffer film does.")
    return Picture(
        sketch.svg(scale),
        f"Map of the slip between the layers of panel {panel.name} in the case that governs its stress ({peak.words}). {largest}.",
    )


def _levels(least: float, most: float, style: str) -> list[float]:
    """Round levels from the least slip up: far from the clamps it is much the same everywhere.

    >>> [round(x, 2) for x in _levels(0.71, 0.86, "metric")]
    [0.7, 0.72, 0.74, 0.76, 0.78, 0.8, 0.82, 0.84]
    """
    steps = levels_of(most - least, style, "length")
    step = steps[1] if len(steps) > 1 else max(most, 1e-6)
    first = floor(least / step * (1.0 + 1e-9))
    return [i * step for i in range(first, max(int(most / step * (1.0 - 1e-9)), first) + 1)]


def _at(say: Say, x: float, y: float) -> str:
    return f"{say.of(x, 'length')} from the left end and {say.of(y, 'length')} above the bottom edge"


def _arrows(sketch: Sketch, view: View, peak: Governing, most: float) -> None:
    """Arrows on a coarse grid, their length the slip."""
    panel, solution = peak.solved.panel, peak.solved.solutions[peak.at.set]
    assert isinstance(solution, LaminateSolution | Joined)
    x, y = ((np.arange(n) + 0.5) * float(size.x) / n for n, size in zip(ARROWS, (panel.width, panel.height), strict=True))
    u, v = solution.slip(x, y)[:, peak.at.case]
    for i, j in np.ndindex(*ARROWS):
        if np.hypot(u[i, j], v[i, j]) < 0.1 * most:
            continue
        dx, dy = (LONGEST * float(s[i, j]) / most for s in (u, v))
        px, py = view.x(float(x[i])), view.y(float(y[j]))
        sketch.arrow(px - dx / 2, py + dy / 2, px + dx / 2, py - dy / 2, "ink", 3.0)
