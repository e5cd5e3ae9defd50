"""A small writer of SVG: shapes in millimetres of the object through one transform, text at a constant size.

A :class:`Sketch` is as wide as :data:`WIDTH` and as high as what was drawn on it. Everything is rounded, in the order it
was drawn, and free of ids, styles, scripts and references, so the same drawing gives the same bytes. Every shape has a
class of :data:`PAINT`, by which a page may recolour it: ``glass steel timber soft solid`` are filled, ``ink thin dim load warn``
are strokes only, ``text`` is text. Colour is never the only sign: timber and contact are hatched, parts are named.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import ceil, cos, hypot, sin
from xml.sax.saxutils import escape, quoteattr

from barrier.sheet.numbers import NOT_MEASURED
from barrier.sheet.plain_words import printable

WIDTH = 380.0  # units: a phone of 360 px shows them at some nine tenths, a page at twice that
TEXT = 11.0  # the one size of words: about ten px on a phone
BOLD = 12.0
LINE = 13.5  # from one line of words to the next
PAINT: dict[str, str] = {
    "ink": 'fill="none" stroke="#1b1f24" stroke-width="1.3"',
    "thin": 'fill="none" stroke="#1b1f24" stroke-width="0.6"',
    "dim": 'fill="none" stroke="#56606b" stroke-width="0.6"',
    "load": 'fill="none" stroke="#0b56a4" stroke-width="1.8"',
    "warn": 'fill="none" stroke="#b3001b" stroke-width="1.8"',
    "glass": 'fill="#cfe7ef" stroke="#1d5a70" stroke-width="1"',
    "steel": 'fill="#c3c9d1" stroke="#2b323a" stroke-width="1"',
    "timber": 'fill="#f3e4c8" stroke="#7a5a2a" stroke-width="1"',
    "soft": 'fill="#eef0f3" stroke="#8a929c" stroke-width="0.6"',
    "solid": 'fill="#1b1f24" stroke="#1b1f24" stroke-width="0.6"',
    "text": 'fill="#1b1f24" stroke="none"',
}
IN_BLACK: dict[str, str] = {  # the same for a printer without colours, and for paper that gets wet
    "ink": 'fill="none" stroke="#000" stroke-width="1.7"',
    "thin": 'fill="none" stroke="#000" stroke-width="0.7"',
    "dim": 'fill="none" stroke="#000" stroke-width="0.6"',
    "load": 'fill="none" stroke="#000" stroke-width="2"',
    "warn": 'fill="none" stroke="#000" stroke-width="2.2"',
    "glass": 'fill="#dcdcdc" stroke="#000" stroke-width="1.2"',
    "steel": 'fill="#c4c4c4" stroke="#000" stroke-width="1.2"',
    "timber": 'fill="#fff" stroke="#000" stroke-width="1.2"',
    "soft": 'fill="#f4f4f4" stroke="#000" stroke-width="0.6"',
    "solid": 'fill="#000" stroke="#000" stroke-width="0.6"',
    "text": 'fill="#000" stroke="none"',
}
DASH = {"": "", "dash": ' stroke-dasharray="4 3"', "dot": ' stroke-dasharray="1 3"', "chain": ' stroke-dasharray="9 3 2 3"'}
_WIDE = (
    {c: 0.36 for c in "ilj.,:;'|!()[]/·"} | {c: 0.42 for c in "frt-"} | {c: 0.98 for c in "mwMW@%→←↑↓►"} | {" ": 0.32, "\xa0": 0.32}
)


def n(x: float) -> str:
    """A coordinate as written: two decimals at most, no minus nought.

    >>> n(12.0), n(-0.001), n(3.14159)
    ('12', '0', '3.14')
    """
    return f"{round(x, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def in_black(svg: str) -> str:
    """A picture in black on white, its lines a little heavier.

    >>> in_black(f'<line class="warn" {PAINT["warn"]}/>')
    '<line class="warn" fill="none" stroke="#000" stroke-width="2.2"/>'
    """
    for name, paint in PAINT.items():
        svg = re.sub(rf'(class="{name}"[^>]*?){re.escape(paint)}', rf"\g<1>{IN_BLACK[name]}", svg)
    return svg


@lru_cache(maxsize=4096)
def text_width(text: str, size: float = TEXT) -> float:
    """About how wide a text is, rather more than less, in units of the sketch."""
    return size * sum(_WIDE.get(c, 0.72 if c.isupper() else 1.1 if ord(c) > 0x2E7F else 0.635) for c in text)


def broken(text: str, width: float, size: float = TEXT) -> list[str]:
    """A text in lines that fit a width; a word that is wider is cut.

    >>> broken("a line that is too long", 70.0)
    ['a line that', 'is too long']
    """
    lines: list[str] = []
    for word in text.split(" "):
        while text_width(word, size) > width and len(word) > 1:
            keep = max((i for i in range(1, len(word)) if text_width(word[:i], size) <= width), default=1)
            lines.append(word[:keep])
            word = word[keep:]
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(joined, size) <= width:
            lines[-1] = joined
        else:
            lines.append(word)
    return lines


@dataclass(frozen=True, slots=True)
class View:
    """From millimetres of the object to units of the sketch; ``y`` of the object is upward."""

    scale: float
    x0: float
    y0: float

    def x(self, mm: float) -> float:
        """Across."""
        return self.x0 + self.scale * mm

    def y(self, mm: float) -> float:
        """Down the sketch."""
        return self.y0 - self.scale * mm

    def points(self, corners: Iterable[Sequence[float]]) -> list[tuple[float, float]]:
        """Corners of a polygon."""
        return [(self.x(float(p[0])), self.y(float(p[1]))) for p in corners]


Box = tuple[float, float, float, float]


@dataclass
class Sketch:
    """What has been drawn so far; all coordinates here are units of the sketch, downward."""

    width: float = WIDTH
    items: list[str] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    top: float = 0.0
    bottom: float = 0.0

    # ---------------------------------------------------------------- shapes
    def _put(self, item: str, *ys: float) -> None:
        self.items.append(item)
        for y in ys:
            self.reach(y)

    def reach(self, y: float) -> None:
        """Make the sketch reach as far as ``y``."""
        self.top, self.bottom = min(self.top, y), max(self.bottom, y)

    def line(self, x1: float, y1: float, x2: float, y2: float, paint: str = "ink", dash: str = "", what: str = "") -> None:
        """A straight line."""
        ends = f'x1="{n(x1)}" y1="{n(y1)}" x2="{n(x2)}" y2="{n(y2)}"'
        self._put(f'<line class="{paint}" {ends} {PAINT[paint]}{DASH[dash]}{_what(what)}/>', y1, y2)

    def rect(self, x1: float, y1: float, x2: float, y2: float, paint: str, dash: str = "", what: str = "") -> None:
        """A rectangle by two corners."""
        x, y, w, h = min(x1, x2), min(y1, y2), abs(x2 - x1), abs(y2 - y1)
        size = f'x="{n(x)}" y="{n(y)}" width="{n(w)}" height="{n(h)}"'
        self._put(f'<rect class="{paint}" {size} {PAINT[paint]}{DASH[dash]}{_what(what)}/>', y, y + h)

    def circle(self, x: float, y: float, r: float, paint: str, dash: str = "", what: str = "") -> None:
        """A circle."""
        place = f'cx="{n(x)}" cy="{n(y)}" r="{n(r)}"'
        self._put(f'<circle class="{paint}" {place} {PAINT[paint]}{DASH[dash]}{_what(what)}/>', y - r, y + r)

    def polygon(self, points: Sequence[tuple[float, float]], paint: str, what: str = "", dash: str = "") -> None:
        """A closed polygon."""
        text = " ".join(f"{n(x)},{n(y)}" for x, y in points)
        self._put(f'<polygon class="{paint}" points="{text}" {PAINT[paint]}{DASH[dash]}{_what(what)}/>', *(y for _, y in points))

    def polyline(self, points: Sequence[tuple[float, float]], paint: str, dash: str = "", what: str = "") -> None:
        """An open line of several pieces."""
        text = " ".join(f"{n(x)},{n(y)}" for x, y in points)
        self._put(f'<polyline class="{paint}" points="{text}" {PAINT[paint]}{DASH[dash]}{_what(what)}/>', *(y for _, y in points))

    def path(self, d: str, attributes: str, what: str = "") -> None:
        """A path as given, such as a band of a map; the caller rounds it and keeps it inside what was reached."""
        self.items.append(f'<path d="{d}" {attributes}{_what(what)}/>')

    def strokes(self, lines: Sequence[tuple[tuple[float, float], tuple[float, float]]], paint: str) -> None:
        """Many straight lines of one paint, within what was reached."""
        parts = [
            f"M{n(round(ax, 1))} {n(round(ay, 1))}l{n(round(bx - ax, 1))} {n(round(by - ay, 1))}" for (ax, ay), (bx, by) in lines
        ]
        if parts:
            self.items.append(f'<path class="{paint}" d="{"".join(parts)}" {PAINT[paint]}/>')

    def hatch(self, points: Sequence[tuple[float, float]], spacing: float, angle: float = 0.785, paint: str = "thin") -> None:
        """Parallel lines inside a polygon that a line cuts at most twice."""
        if len(points) < 3:
            return
        c, s = cos(angle), sin(angle)
        corners = [(x * c - y * s, x * s + y * c) for x, y in points]  # along the lines, across them
        levels = [v for _, v in corners]
        lines = []
        at = spacing * ceil(min(levels) / spacing)
        while at < max(levels):
            cuts = []
            for (ua, va), (ub, vb) in zip(corners, (*corners[1:], corners[0]), strict=True):
                if (va - at) * (vb - at) < 0.0:
                    cuts.append(ua + (ub - ua) * (at - va) / (vb - va))
            if len(cuts) >= 2:
                one, other = ((u * c + at * s, at * c - u * s) for u in (min(cuts), max(cuts)))
                lines.append((one, other))
            at += spacing
        self.strokes(lines, paint)

    # ---------------------------------------------------------------- arrows and dimensions
    def arrow(self, x1: float, y1: float, x2: float, y2: float, paint: str = "load", head: float = 6.0) -> None:
        """An arrow that points at its second end."""
        self.line(x1, y1, x2, y2, paint)
        length = hypot(x2 - x1, y2 - y1) or 1.0
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        wings = [(x2 - head * ux + s * head / 2 * uy, y2 - head * uy - s * head / 2 * ux) for s in (1, -1)]
        self.polyline([wings[0], (x2, y2), wings[1]], paint)

    def across(self, x1: float, x2: float, y: float, text: str, *, of: float | None = None) -> None:
        """A dimension across: its line at ``y`` with ticks, its figure above, lines down from ``of`` where given.

        It is dashed where nobody measured it.
        """
        dash = "dash" if text.startswith(NOT_MEASURED) else ""
        for x in (x1, x2):
            if of is not None:
                self.line(x, of, x, y + 3, "dim")
            self.line(x - 2.5, y + 2.5, x + 2.5, y - 2.5, "thin")
        self.line(x1, y, x2, y, "dim", dash)
        self.text((x1 + x2) / 2, y - 3, text, "middle", step=(0.0, -LINE))

    def upright(self, y1: float, y2: float, x: float, text: str, *, of: float | None = None, side: int = -1) -> None:
        """A dimension upright: its line at ``x``, its figure on one side (-1 left, 1 right); dashed where nobody measured it."""
        dash = "dash" if text.startswith(NOT_MEASURED) else ""
        for y in (y1, y2):
            if of is not None:
                self.line(of, y, x + 3 * (1 if x > of else -1), y, "dim")
            self.line(x - 2.5, y + 2.5, x + 2.5, y - 2.5, "thin")
        self.line(x, y1, x, y2, "dim", dash)
        self.text(x + 4 * side, (y1 + y2) / 2 + TEXT / 3, text, "end" if side < 0 else "start")

    # ---------------------------------------------------------------- words
    def text(
        self, x: float, y: float, text: str, anchor: str = "start", *, bold: bool = False, step: tuple[float, float] = (0.0, LINE)
    ) -> Box:
        """One line of words on a baseline; it is moved by ``step`` until it covers no other and kept inside the sketch."""
        text = printable(text)
        size = BOLD if bold else TEXT
        wide = text_width(text, size) * (1.06 if bold else 1.0)
        left = x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        left = min(max(left, 1.0), max(self.width - wide - 1.0, 1.0))
        box = (left, y - size * 0.8, left + wide, y + size * 0.22)
        for _ in range(60):
            if not any(_covers(box, other) for other in self.boxes):
                break
            box = (box[0] + step[0], box[1] + step[1], box[2] + step[0], box[3] + step[1])
        self.boxes.append(box)
        place = {"start": box[0], "middle": (box[0] + box[2]) / 2, "end": box[2]}[anchor]
        weight = f' font-size="{n(BOLD)}" font-weight="bold"' if bold else ""
        end = f' text-anchor="{anchor}"' if anchor != "start" else ""
        self._put(
            f'<text class="text" x="{n(place)}" y="{n(box[3] - size * 0.22)}"{weight}{end} {PAINT["text"]}>{escape(text)}</text>',
            box[1] - 1,
            box[3] + 1,
        )
        return box

    def free(self, x: float, y: float, text: str, anchor: str = "start") -> bool:
        """Whether one line of words would cover no other there, and stay inside the sketch."""
        wide = text_width(text)
        left = x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        box = (left, y - TEXT * 0.8, left + wide, y + TEXT * 0.22)
        return left >= 1.0 and box[2] <= self.width - 1.0 and not any(_covers(box, other) for other in self.boxes)

    def words(self, y: float, text: str, *, x: float = 2.0, width: float | None = None, bold: bool = False) -> float:
        """Running words from ``x`` on, broken into lines, the first one hung from ``y``; returns where they end."""
        size = BOLD if bold else TEXT
        for line in broken(printable(text), (width or self.width - x - 2.0) / (1.06 if bold else 1.0), size):
            y += LINE
            self.text(x, y - 3, line, bold=bold)
        return y

    def pointer(self, x: float, y: float, to_x: float, to_y: float, text: str, anchor: str = "start") -> None:
        """A name with a thin line from it to what it names."""
        box = self.text(x, y, text, anchor)
        middle = (box[1] + box[3]) / 2
        if box[0] <= to_x <= box[2]:
            start = (to_x, box[3] + 1 if to_y > middle else box[1] - 1)
        else:
            start = (box[2] + 2 if to_x > box[2] else box[0] - 2, middle)
        self.line(*start, to_x, to_y, "dim")
        self.circle(to_x, to_y, 1.2, "thin")

    def plaque(self, x: float, y: float, lines: Sequence[str], anchor: str = "start") -> None:
        """Lines of words on a light ground, for where lines run beneath; ``y`` is their middle, the first one is bold."""
        wide = max(text_width(printable(t), BOLD if i == 0 else TEXT) for i, t in enumerate(lines)) * 1.06 + 4
        left = x if anchor == "start" else x - wide if anchor == "end" else x - wide / 2
        left = min(max(left, 1.0), self.width - wide - 1.0)
        first = y - LINE * len(lines) / 2
        self.rect(left, first - 0.5, left + wide, first + LINE * len(lines) + 1, "soft")
        for i, text in enumerate(lines):
            self.text(left + 2, first + LINE * (i + 0.78), text, bold=i == 0)

    # ---------------------------------------------------------------- the whole
    def svg(self, scale: float | None = None) -> str:
        """The picture; ``scale`` (units a millimetre) is written into it where it is drawn to one."""
        top, bottom = self.top - 3, self.bottom + 3
        at = f' data-units-per-mm="{scale:.6g}"' if scale is not None else ""
        box = f"0 {n(top)} {n(self.width)} {n(bottom - top)}"
        font = f' font-family="sans-serif" font-size="{n(TEXT)}"'
        return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}"{at}{font}>\n' + "\n".join(self.items) + "\n</svg>\n"


def _covers(a: Box, b: Box) -> bool:
    return a[0] < b[2] + 1.5 and b[0] < a[2] + 1.5 and a[1] < b[3] and b[1] < a[3]


def _what(what: str) -> str:
    return f" data-what={quoteattr(printable(what))}" if what else ""
