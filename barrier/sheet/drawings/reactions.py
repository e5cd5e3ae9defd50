"""What comes to the joist at one end of the blocking, drawn piece by piece with the figures of the force table."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin

from barrier.links.blocking.force_table import ForceRow, ForceTable
from barrier.load_path import Result
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import Say, ident
from barrier.sheet.drawings.svg import TEXT, WIDTH, Sketch
from barrier.value import Value

FIRST = 0  # the column that is drawn: the level strength is checked at, pushed outward
DOWN, SIDEWAYS, TORQUE = "down", "sideways", "torque"
TOP, DEEP = 44.0, 34.0  # of a piece in the sketch
SMALL, SMALL_MOMENT = 0.5, 50.0  # N and N mm that are not drawn
ARM = 20.0
RING = 11.0


def drawings(result: Result, table: ForceTable) -> list[Drawing]:
    """The end of the blocking that hands on most; none where the pieces do not lie along the glass or nothing is in equilibrium."""
    model, at = table.mount.model, [r for r in table.rows if r.at]
    if model.span is None or model.span.mode == "bends" or not at or any(r.values[FIRST] is None for r in at):
        return []
    side = max(("left", "right"), key=lambda s: sum(abs(_x(r)) for r in at if r.at[1] == s and r.at[2] != TORQUE))
    own = [r for r in at if r.at[1] == side]
    names = [p.name for p in sorted(model.pieces, key=lambda p: float(p.outline[:, 1].mean()))]  # from the people side on
    name = model.name
    words = (
        f"What comes to the joist at the {side} end of the blocking under mount {name}, {table.columns[FIRST]}: arrows are forces "
        "on the joist, each the largest of all states and not all at once. No scale"
    )
    return [Drawing(f"reactions-{ident(name)}", (words,), lambda: draw(result, own, names, words))]


def draw(result: Result, rows: Sequence[ForceRow], names: Sequence[str], words: str) -> Picture:
    """The pieces of one end side by side on the joist behind them; people side left, drop side right."""
    say, sketch = Say(result.job.units), Sketch()
    pitch = (WIDTH - 20.0) / len(names)
    wide = min(pitch * 0.88, 104.0)
    sketch.text(2, 8, "people side")
    sketch.text(WIDTH - 2, 8, "drop side", "end")
    sketch.rect(4, TOP + 7, WIDTH - 4, TOP + DEEP - 7, "soft", what="joist")
    told = []
    for i, name in enumerate(names):
        x = 10.0 + pitch * (i + 0.5)
        sketch.rect(x - wide / 2, TOP, x + wide / 2, TOP + DEEP, "timber", what=name)
        of = {r.at[2]: r.values[FIRST] for r in rows if r.at[0] == name}
        told.append(f"{name}: {', '.join(f'{key} {say(v)}' for key, v in of.items() if v is not None)}")
        _upright(sketch, x, of.get(DOWN), say)
        _turned(sketch, x - wide / 2 + RING + 5, of.get(TORQUE), say)
        _sideways(sketch, x, of.get(SIDEWAYS), say)
        sketch.text(x, TOP + DEEP + 27, name, "middle", step=(0.0, 2.0))
    return Picture(sketch.svg(), f"{words}. {'; '.join(told)}. Down, towards the drop side and drop side down are positive.")


def _upright(sketch: Sketch, x: float, force: Value | None, say: Say) -> None:
    """Down or up on the joist, above the piece."""
    if force is None or abs(force.at(0)) < SMALL:
        return
    down = force.at(0) > 0
    ends = (TOP - ARM, TOP - 1) if down else (TOP - 1, TOP - ARM)
    sketch.arrow(x, ends[0], x, ends[1])
    sketch.text(x, TOP - ARM - 3, f"{say.of(abs(force.at(0)), force.kind)} {'down' if down else 'up'}", "middle", step=(0.0, -2.0))


def _sideways(sketch: Sketch, x: float, force: Value | None, say: Say) -> None:
    """Level across the glass, below the piece, its figure beside it."""
    if force is None or abs(force.at(0)) < SMALL:
        return
    y, way = TOP + DEEP + 9.0, 1.0 if force.at(0) > 0 else -1.0
    middle = x - 24.0
    sketch.arrow(middle - way * ARM / 2, y, middle + way * ARM / 2, y)
    sketch.text(middle + ARM / 2 + 5, y + TEXT / 3, say.of(abs(force.at(0)), force.kind), step=(0.0, 2.0))


def _turned(sketch: Sketch, x: float, moment: Value | None, say: Say) -> None:
    """Turning of the end, in the piece: with the clock where the drop side goes down."""
    if moment is None or abs(moment.at(0)) < SMALL_MOMENT:
        return
    y, way = TOP + DEEP / 2, 1.0 if moment.at(0) > 0 else -1.0
    turn = [-pi / 2 + way * pi * (-0.7 + 1.4 * i / 16) for i in range(17)]
    ring = [(x + RING * cos(t), y + RING * sin(t)) for t in turn]
    sketch.polyline(ring[:-1], "load")
    sketch.arrow(*ring[-2], *ring[-1])
    sketch.text(x + RING + 5, y + TEXT / 3, say.of(abs(moment.at(0)), moment.kind), step=(0.0, 2.0))


def _x(row: ForceRow) -> float:
    value = row.values[FIRST]
    return 0.0 if value is None else float(value.at(0))
