"""Utilisations against a size: a line each, named where it ends, and the stroke at 1.00."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil

from barrier.sheet.blocks import Picture
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View, broken

LEFT, RIGHT = 34.0, 216.0  # of the axes, units; names stand beside them
TALL = 190.0
LOWEST = 1.2  # the axis goes at least so far, so that the stroke at 1.00 is always there
DASHES = ("", "dash", "chain", "dot")  # colour is never the only sign, and here there is none


def curves(lines: Mapping[str, Sequence[tuple[float, float]]], across: str) -> Picture:
    """Draw utilisations against a size.

    Arguments: ``lines`` by their name, each a list of size and utilisation, sizes ascending in any one unit; ``across`` what they
    are, with the unit (``"width, mm"``). Returns the picture with its words. Raises ValueError where there is nothing to draw.

    >>> picture = curves({"glass": [(1000.0, 0.5), (1200.0, 0.7)]}, "width, mm")
    >>> picture.alt
    'Utilisation against width, mm. glass: 0.50 at 1000, 0.70 at 1200.'
    """
    places = sorted({x for line in lines.values() for x, _ in line})
    if len(places) < 2:
        raise ValueError("curves want at least two sizes")
    most = max(LOWEST, ceil(max(eta for line in lines.values() for _, eta in line) * 5.0) / 5.0)
    sketch = Sketch()
    wide = View((RIGHT - LEFT) / (places[-1] - places[0]), LEFT, 0.0)
    tall = View(TALL / most, 0.0, TALL + LINE)
    _axes(sketch, wide, tall, places, most, across)
    for i, (name, line) in enumerate(lines.items()):
        points = [(wide.x(x - places[0]), tall.y(eta)) for x, eta in line]
        sketch.polyline(points, "load", DASHES[i % len(DASHES)], what=name)
        for x, y in points:
            sketch.circle(x, y, 1.6, "load")
    for name, line in sorted(lines.items(), key=lambda kv: -kv[1][-1][1]):  # the highest first: the others make way downwards
        y = tall.y(line[-1][1]) + 4
        for part in broken(name, WIDTH - RIGHT - 10.0):
            y = sketch.text(RIGHT + 8, y, part)[3] + LINE * 0.8
    return Picture(sketch.svg(), _words(lines, across))


def _axes(sketch: Sketch, wide: View, tall: View, places: Sequence[float], most: float, across: str) -> None:
    ground, top = tall.y(0.0), tall.y(most)
    sketch.line(LEFT, ground, RIGHT, ground, "thin")
    sketch.line(LEFT, ground, LEFT, top, "thin")
    sketch.line(LEFT, tall.y(1.0), RIGHT, tall.y(1.0), "warn", "dash", what="1.00")
    for step in range(0, round(most * 5) + 1):
        eta = step / 5.0
        if step % max(1, round(most)) == 0 or eta == 1.0:
            sketch.text(LEFT - 4, tall.y(eta) + 4, f"{eta:.2f}", "end", step=(0.0, 0.0))
    for x in places:
        at = wide.x(x - places[0])
        sketch.line(at, ground, at, ground + 3, "thin")
        if sketch.free(at, ground + LINE + 2, f"{x:g}", "middle"):
            sketch.text(at, ground + LINE + 2, f"{x:g}", "middle")
    sketch.text((LEFT + RIGHT) / 2, ground + 2 * LINE + 3, across, "middle")
    sketch.text(2, top - LINE, "utilisation")


def _words(lines: Mapping[str, Sequence[tuple[float, float]]], across: str) -> str:
    told = (f"{name}: " + ", ".join(f"{eta:.2f} at {x:g}" for x, eta in line) for name, line in lines.items())
    return f"Utilisation against {across}. {'; '.join(told)}."
