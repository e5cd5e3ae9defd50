"""Width by height of the glass: each size that was calculated is a field with the pattern of what governs there."""

from __future__ import annotations

from collections.abc import Mapping

from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import Say
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch
from barrier.sheet.in_words import in_words
from barrier.units import shown_unit
from barrier.ways.limits import Limits
from barrier.ways.outcome import Outcome

LEFT, ROW = 46.0, 34.0
# Fill, spacing and angle of hatching: no two are alike without their colour.
PATTERNS = (
    ("glass", 0.0, 0.0), ("timber", 7.0, 0.785), ("steel", 7.0, -0.785), ("soft", 6.0, 0.0), ("timber", 6.0, 1.571),
    ("glass", 4.0, 0.785), ("steel", 4.0, -0.785), ("soft", 3.5, 1.571),
)  # fmt: skip


def drawings(found: Limits) -> list[Drawing]:
    """The picture, where an envelope was asked for."""
    if not found.envelope:
        return []
    words = "What governs by width and height of the glass: each field one check, a double frame where a required check exceeds"
    return [Drawing("envelope", (words,), lambda: draw(found))]


def draw(found: Limits) -> Picture:
    """Draw the fields, widths across and heights up, and what each pattern means."""
    sketch, say = Sketch(), Say(found.result.job.units)
    unit = shown_unit("length", say.style)
    widths, heights = sorted({w for w, _, _ in found.envelope}), sorted({h for _, h, _ in found.envelope}, reverse=True)
    at = {(w, h): o for w, h, o in found.envelope}
    pattern = _patterns(found, at)
    wide = (WIDTH - LEFT - 4) / len(widths)
    for row, h in enumerate(heights):
        y = 16.0 + row * ROW
        sketch.text(LEFT - 6, y + ROW / 2 + 4, say.length(h), "end")
        for column, w in enumerate(widths):
            _field(sketch, LEFT + column * wide, y, wide, at[w, h], pattern)
    low = 16.0 + len(heights) * ROW
    for column, w in enumerate(widths):
        sketch.text(LEFT + (column + 0.5) * wide, low + LINE, say.length(w), "middle")
    sketch.text(2, 8, f"height, {unit}")
    sketch.text(WIDTH - 4, low + 2 * LINE, f"width, {unit}", "end")
    y = low + 2 * LINE + 8
    for link, title in _links(found, at).items():
        _filled(sketch, 4, y, 34, 13, pattern[link])
        y = sketch.words(y - 1, title, x=46) + 5
    y = sketch.words(y, "The largest utilisation of a required check. Double frame: it exceeds. Empty: refused by the job file.")
    return Picture(sketch.svg(), in_words(_words(found, at), say.style))


def _field(sketch: Sketch, x: float, y: float, wide: float, outcome: Outcome, pattern: Mapping[str, int]) -> None:
    line = outcome.governing
    if outcome.refused or line is None:
        sketch.rect(x, y, x + wide, y + ROW, "thin", "dot")
        return
    _filled(sketch, x, y, wide, ROW, pattern[line.link])
    if outcome.exceeding:
        sketch.rect(x + 1.5, y + 1.5, x + wide - 1.5, y + ROW - 1.5, "warn")
        sketch.rect(x + 5, y + 5, x + wide - 5, y + ROW - 5, "warn")
    sketch.plaque(x + wide / 2, y + ROW / 2, [_figure(outcome)], "middle")


def _filled(sketch: Sketch, x: float, y: float, wide: float, high: float, number: int) -> None:
    paint, spacing, angle = PATTERNS[number % len(PATTERNS)]
    corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
    sketch.polygon(corners, paint, what="field")
    if spacing:
        sketch.hatch(corners, spacing, angle)


def _figure(outcome: Outcome) -> str:
    line = outcome.governing
    if line is None or line.rank is None:
        return "lets go"
    return f"{min(line.rank, 999):.0f}" if line.rank > 9.995 else f"{max(line.rank, 1.01) if outcome.exceeding else line.rank:.2f}"


def _links(found: Limits, at: Mapping[tuple[float, float], Outcome]) -> dict[str, str]:
    """The links that govern anywhere, in walking order, with their titles."""
    there = {o.governing.link for o in at.values() if not o.refused and o.governing is not None}
    return {link.id: link.title for link in found.result.links if link.id in there}


def _patterns(found: Limits, at: Mapping[tuple[float, float], Outcome]) -> dict[str, int]:
    return {link: i for i, link in enumerate(_links(found, at))}


def _words(found: Limits, at: Mapping[tuple[float, float], Outcome]) -> str:
    titles = _links(found, at)
    told = []
    for (w, h), o in at.items():
        line = o.governing
        what = "refused" if o.refused or line is None else f"{titles[line.link]} {_figure(o)}{', exceeds' if o.exceeding else ''}"
        told.append(f"{w:g} mm by {h:g} mm: {what}")
    return f"What governs by width and height. {'; '.join(told)}."
