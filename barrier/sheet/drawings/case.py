"""A case at a glance, for a page that shows many: the panel from the people side and a section, all in one scale and one frame.

What a reader changes is then seen to change: a wider panel is drawn wider, and what stays the same stays where it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from barrier.job import Job
from barrier.sheet.blocks import Picture
from barrier.sheet.drawings import elevation, section_parts
from barrier.sheet.drawings.facts import Say, Stand, stand
from barrier.sheet.drawings.svg import LINE, Sketch, View
from barrier.tables import Tables

WIDE = 340.0  # units, of both pictures
LEFT = 44.0  # for the height of the glass
TALL = 200.0  # the glass is not drawn higher
SECTION = 190.0  # for the section; its names stand beside it
DEEP = 210.0


class Cases:
    """Draws cases alike; ``jobs`` are all that will be drawn, which sets the frame."""

    def __init__(self, jobs: Sequence[Job], tables: Tables) -> None:
        self.tables = tables
        shown = [_Shown(job, tables) for job in jobs]
        self._elevation = _around(shown)
        self._frame = section_parts.frame([s.stands[0] for s in shown], broken=True)
        self._section = section_parts.fitted(self._frame, SECTION, 4.0, DEEP)

    def elevation(self, job: Job) -> Picture:
        """The first panel on its mounts, from the people side, with its width, height and the places of its mounts."""
        s, view, sketch = _Shown(job, self.tables), self._elevation, Sketch(WIDE)
        lowest = elevation.parts(sketch, view, s.panel, s.stands)
        gap, high = float(s.panel.bottom_gap.x), float(s.panel.bottom_gap.x) + float(s.panel.height.x)
        sketch.upright(view.y(gap), view.y(high), LEFT - 8, s.say.bare(s.panel.height), of=view.x(0.0) - 2)
        y = lowest + 2 * LINE
        marks = [0.0, *sorted(float(m.mount.x.x) for m in s.stands), float(s.panel.width.x)]
        for a, b in pairwise(marks):
            if b - a > 1e-6:
                made_of = (s.panel.width, *(m.mount.x for m in s.stands))
                sketch.across(view.x(a), view.x(b), y, s.say.length(b - a, *made_of), of=y - 6)
        y += 2 * LINE
        sketch.across(view.x(0.0), view.x(float(s.panel.width.x)), y, s.say.bare(s.panel.width), of=y - 6)
        sketch.words(y + 6, f"Lengths in {s.say.unit_word}.")
        places = ", ".join(f"{m.mount.name} at {s.say(m.mount.x)}" for m in s.stands)
        words = (
            f"Panel {s.panel.name} from the people side, {s.say(s.panel.width)} wide and {s.say(s.panel.height)} high; mounts "
            f"{places} from the left end of the glass."
        )
        return Picture(sketch.svg(view.scale), words)

    def section(self, job: Job) -> Picture:
        """Across the glass through its first mount: glass, clamp, screws, what they stand in."""
        shown = _Shown(job, self.tables)
        s, view, around, say, sketch = shown.stands[0], self._section, self._frame, shown.say, Sketch(WIDE)
        section_parts.parts(sketch, view, s, around)
        glass = " + ".join("NOT KNOWN" if v.nominal is None else say.bare(v.nominal) for v in s.panel.layers)
        right = view.x(around.high) + 14
        top = section_parts.top_of_clamp(s) + 0.6 * section_parts.ABOVE
        half = section_parts.thickness(s) / 2
        self._name(sketch, right, view.y(top) + 4, view.x(half), view.y(top), (f"glass {glass}",))
        screw = s.mount.screw
        long = say.bare(screw.length) if screw.length is not None else "?"
        last = max((c for c in s.mount.screws if c.present), key=lambda c: float(c.y.x), default=None)
        if last is not None:
            y = s.top_of_plate + float(s.mount.plate.thickness.x)
            words = (f"{len([c for c in s.mount.screws if c.present])} screws", f"{say.bare(screw.diameter)} x {long}")
            self._name(sketch, right, view.y(y) - LINE, view.x(float(last.y.x)), view.y(s.top_of_plate), words)
        deck = -float(s.job.decking.thickness.x) / 2
        boards = (f"boards {say.bare(s.job.decking.thickness)}",)
        self._name(sketch, right, view.y(deck) + LINE, view.x(around.high) - 6, view.y(deck), boards)
        told = _beneath(s, say)
        z = max(s.top_of_pieces - section_parts.shown_depth(s, True) / 2, around.bottom)
        self._name(sketch, right, view.y(z) + 4, view.x(_edge(s, around)) - 3, view.y(z), told)
        sketch.reach(view.y(around.bottom))
        screws = f"screws {say.bare(screw.diameter)} by {long}"
        alt = f"Section through mount {s.mount.name}: glass {glass}, {screws}, on {' '.join(told)}, in {say.unit_word}."
        return Picture(sketch.svg(view.scale), alt)

    @staticmethod
    def _name(sketch: Sketch, x: float, y: float, to_x: float, to_y: float, lines: Sequence[str]) -> None:
        sketch.pointer(x, y, to_x, to_y, lines[0])
        for i, line in enumerate(lines[1:], 1):
            sketch.text(x, y + i * LINE, line)


class _Shown:
    """What is drawn of a job: its first panel on its mounts."""

    def __init__(self, job: Job, tables: Tables) -> None:
        self.panel, self.say = job.panels[0], Say(job.units)
        self.stands: list[Stand] = [stand(job, tables, m) for m in job.mounts_of(self.panel)]


def _around(shown: Sequence[_Shown]) -> View:
    """A view that holds every panel; its glass begins at one place."""
    extents = [elevation.extent(s.panel, s.stands) for s in shown]
    low, high = min(a for a, _ in extents), max(b for _, b in extents)
    tall = max(float(s.panel.height.x) + float(s.panel.bottom_gap.x) for s in shown)
    room = WIDE - LEFT - 12.0
    scale = min(room / (high - low), TALL / tall)
    return View(scale, LEFT + 6.0 - scale * low, 0.0)


def _edge(s: Stand, around: section_parts.Frame) -> float:
    """How far the timber under the mount reaches to the drop side, mm."""
    if not s.model.pieces:
        return around.high
    return min(max(float(p.outline[:, 1].max()) for p in s.model.pieces), around.high)


def _beneath(s: Stand, say: Say) -> tuple[str, ...]:
    """What the mount stands on, in lines."""
    block = s.model.blocking
    if block is None:
        return ("boards alone,", "no blocking") if s.mount.support == "decking only" else (s.mount.support,)
    many = "1 piece" if block.pieces == 1 else f"{block.pieces} {'loose' if block.laminated == 'loose' else 'laminated'} pieces"
    return (many, f"{say.bare(block.laid_breadth)} x {say.bare(block.laid_depth)}")
