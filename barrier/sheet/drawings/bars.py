"""Utilisations as bars, in walking order: the stroke stands at 1.00, what is beyond grows with its logarithm."""

from __future__ import annotations

from barrier.load_path import Result, Walked
from barrier.result import Check, Ending, Standing
from barrier.sheet import scale
from barrier.sheet.alike import alike
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.svg import TEXT, Sketch
from barrier.sheet.numbers import ending_text, utilisation_text

ONE = 158.0  # units from nought to the stroke at 1.00
BEYOND = 68.0  # units from there to 10, and no further


def drawings(result: Result) -> list[Drawing]:
    """The bars of the job as described."""
    caption = "How much of each link is used, from the hand down to the joist; the stroke stands at 1.00, the end of the bar at 10"
    return [Drawing("bars", (caption,), lambda: draw(result.sound), lambda: words(result.sound))]


def draw(walked: Walked) -> Picture:
    """Draw the bars of a walk, mounts that fare alike once."""
    sketch, same, y = Sketch(), alike(walked), 0.0
    for number, link in enumerate(walked.links, 1):
        rows = [c for c in link.checks if same.repeats(c) is None]
        if not rows:
            continue
        y = sketch.words(y + 5, f"{number}  {link.title}", bold=True)
        for c in rows:
            mark = "► " if c is walked.governing else "i " if c.standing is Standing.INFORMATION else ""
            y = sketch.words(y, mark + same.title(c), x=4, bold=c is walked.governing)
            bar(sketch, 4, y, c)
            y += 15
    y = sketch.words(y + 4, "► governs. i informs and does not decide. ? nobody knows. Beyond 1.00 every doubling is one step.")
    return Picture(sketch.svg(), words(walked))


def bar(sketch: Sketch, x: float, y: float, check: Check, one: float = ONE, beyond: float = BEYOND) -> None:
    """One bar from ``x``, below ``y``, with its figure and its ending beside it.

    What exceeds without a number is no long bar: it is drawn broken in two.
    """
    eta, top, low = check.eta, y + 1.5, y + 10.5
    broken = check.ending is Ending.EXCEEDS and eta is None
    if not broken:
        sketch.rect(x, top, x + one, low, "soft")
    if broken:
        _in_two(sketch, x, x + one + beyond, top, low)
    elif check.ending is Ending.NOT_CHECKED:
        for i in range(8):
            sketch.line(x + (i + 0.3) * one / 8, low, x + (i + 0.7) * one / 8, top, "thin", "dot")
    else:
        full = min(max(eta or 0.0, 0.0), 1.0) * one + scale.beyond(eta or 0.0) * beyond
        over = check.ending is Ending.EXCEEDS
        sketch.rect(x, top, x + max(min(full, one), 0.5), low, "steel", what=f"bar {check.id}")
        if over:
            end = x + max(full, one + 3)
            sketch.rect(x + one, top, end, low, "warn")
            sketch.hatch([(x + one, top), (end, top), (end, low), (x + one, low)], 3.0)
            if eta is not None and scale.points_on(eta):
                sketch.polyline([(end, top - 1), (end + 6, (top + low) / 2), (end, low + 1)], "warn")
    sketch.line(x + one, top - 1, x + one, low + 2, "ink")
    words = f"{utilisation_text(check)}  {ending_text(check.ending)}"
    sketch.text(x + one + beyond + 10, low - 0.5, words)
    sketch.reach(low + TEXT / 4)


def _in_two(sketch: Sketch, x: float, end: float, top: float, low: float) -> None:
    """A bar that is broken through: two stumps with ragged ends and a gap between them."""
    middle, tooth, gap = (x + end) / 2, 2.5, 6.0
    depths = [top + i * (low - top) / 4 for i in range(5)]
    ragged = [(tooth if i % 2 else -tooth, d) for i, d in enumerate(depths)]
    for edge, shift in ((x, -gap), (end, gap)):
        stump = [(edge, top), *((middle + shift + dx, d) for dx, d in ragged), (edge, low)]
        sketch.polygon(stump, "warn", "broken bar")


def words(walked: Walked) -> str:
    """What the bars show, in words."""
    required = [c for c in walked.checks if c.standing is Standing.REQUIRED]
    over = sum(c.ending is Ending.EXCEEDS for c in required)
    missing = sum(c.ending is Ending.NOT_CHECKED for c in required)
    check = walked.governing
    governs = (
        "nothing governs" if check is None else f"{check.title} governs" + (f" with {utilisation_text(check)}" if check.eta else "")
    )
    return f"Bars of {len(required)} required checks in walking order: {over} exceed, {missing} are not checked; {governs}."
