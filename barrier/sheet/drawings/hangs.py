"""How much hangs on each entry, drawn: from the utilisation as it is to that with less and with more of the entry."""

from __future__ import annotations

from barrier.sheet import scale
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch
from barrier.sheet.in_words import in_words
from barrier.ways.limits import Limits
from barrier.ways.sensitivity import Turned

ONE, BEYOND, LEFT = 196.0, 96.0, 8.0
ROW = 32.0


def drawings(found: Limits) -> list[Drawing]:
    """The picture, where it was asked for and the job as described has a number to start from."""
    if not found.hangs or (line := found.base.governing) is None or line.rank is None:
        return []
    words = "Largest utilisation with a tenth less and a tenth more of each entry, one at a time; the stroke stands at 1.00"
    return [Drawing("hangs", (words,), lambda: draw(found, line.rank or 0.0))]


def draw(found: Limits, base: float) -> Picture:
    """A row an entry: a hatched bar to where less of it leads, a plain one to where more of it does."""
    sketch, y, told = Sketch(), 4.0, []
    style = found.result.job.units
    for hang in found.hangs:
        sketch.text(LEFT, y + 9, hang.entry)
        ends = [(_at(t), t) for t in (hang.less, hang.more) if t is not None]
        for lane, (x, turned) in enumerate(ends):
            _bar(sketch, y + 12 + 8 * lane, _x(base), x, turned is hang.less)
        words = " · ".join(f"{in_words(t.words, style)}: {said(t)}" for _, t in ends)
        told.append(f"{hang.entry}: {words}")
        sketch.text(WIDTH - 4, y + 9, words, "end", step=(0.0, LINE))
        y += ROW
    sketch.line(LEFT + ONE, 0, LEFT + ONE, y, "ink")
    sketch.line(_x(base), 0, _x(base), y, "dim", "dash")
    y = sketch.words(
        y + 2, f"Dashed: as it is, {base:.2f}. Hatched: less of it. Plain: more. Beyond 1.00 every doubling is one step."
    )
    return Picture(sketch.svg(), f"As it is {base:.2f}. {'; '.join(told)}.")


def _bar(sketch: Sketch, y: float, start: float, end: float | None, less: bool) -> None:
    if end is None:
        sketch.line(start, y + 3, LEFT + ONE + BEYOND, y + 3, "warn", "dot")
        return
    left, right = sorted((start, end))
    right = max(right, left + 1.5)
    sketch.rect(left, y, right, y + 7, "soft" if less else "steel", what="less" if less else "more")
    if less:
        sketch.hatch([(left, y), (right, y), (right, y + 7), (left, y + 7)], 3.0)


def _at(turned: Turned) -> float | None:
    return None if turned.size is None else _x(turned.size)


def _x(eta: float) -> float:
    return LEFT + min(eta, 1.0) * ONE + scale.beyond(eta) * BEYOND


def said(turned: Turned) -> str:
    """The largest utilisation one way, in words where there is none."""
    if turned.outcome.refused:
        return "refused"
    return "lets go" if turned.size is None else f"{min(turned.size, 999):.2f}"
