"""The run under a rail with a panel gone, seen from above: how far the rail moves, what each mount holds, and which is worst.

The rail's way is drawn many times too large, the same in every picture of a sheet, so that they can be compared; lengths along the
run are to scale.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from barrier.job.schema import RailEnd
from barrier.links.rail.by_hand import line_case, worst_mount
from barrier.links.rail.solve import RunSolved
from barrier.links.under_rail import SIDES, Place
from barrier.load_path import Result, Walked
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.facts import Say, ident
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View, text_width

SIDE = 26.0  # units left and right of the rail, for what holds its ends
WAY = 74.0  # units for the largest movement of all pictures
BEFORE = 62.0  # units above the line of the glass, for the pushes on the mounts and their figures
PUSH = 26.0  # units for the largest push of all pictures
POINTS = 121
PLATE = 3.0  # units, half of a mount


@dataclass(frozen=True, eq=False)
class Seen:
    """One walk's run as it is drawn: the case of the line load, in the nominal set."""

    walked: Walked
    run: RunSolved
    case: int

    def movement(self, s: np.ndarray) -> np.ndarray:
        """Of the rail, mm."""
        return np.asarray(self.run.nominal.deflection(s)[:, self.case])

    @property
    def largest(self) -> float:
        """Largest movement, mm."""
        return abs(float(self.run.nominal.largest_deflection[0][self.case]))

    @property
    def hardest(self) -> float:
        """Largest push on a mount, N."""
        return worst_mount(self.run, self.run.nominal, self.case)[2]


def seen(walked: Walked) -> Seen | None:
    """The run of a walk, where its rail was worked out."""
    run = walked.handed_on.run
    case = None if run is None else line_case(run)
    return None if run is None or case is None else Seen(walked, run, case)


def drawings(result: Result) -> list[Drawing]:
    """The run as described, then with each panel gone that was looked at, all to one scale."""
    found = [s for s in (seen(w) for w in result.walked) if s is not None]
    if not any(s.run.line.openings for s in found):
        return []
    found = [s for s in found if s.run.line.openings or s.walked is result.sound]
    most, hardest = max(s.largest for s in found), max(s.hardest for s in found)
    return [
        Drawing(f"rail-{ident(s.walked.situation.name)}", (_title(s),), lambda s=s: draw(s, most, hardest))  # type: ignore[misc]
        for s in found
    ]


def _title(of: Seen) -> str:
    name = of.walked.situation.name
    return "The run as described" if not of.run.line.openings else f"{name[0].upper()}{name[1:]}"


def draw(of: Seen, most: float, hardest: float) -> Picture:
    """Draw one run; ``most`` (mm) and ``hardest`` (N) are the largest movement and push of all the pictures."""
    line, say = of.run.line, Say(of.walked.job.units)
    scale = (WIDTH - 2 * SIDE) / (line.end - line.start)
    view = View(scale, SIDE - scale * line.start, 0.0)
    sketch = Sketch()
    y = sketch.words(0.0, "people side", x=SIDE) + 4 + BEFORE
    _glass(sketch, view, of, y)
    way = WAY / most if most > 0.0 else 0.0
    _rail(sketch, view, of, y, way)
    _mounts(sketch, view, of, y, PUSH / hardest if hardest > 0.0 else 0.0)
    _ends(sketch, view, of, y, way)
    low = max(y + WAY * of.largest / most if most > 0.0 else y, y) + 20
    sketch.text(SIDE, low, "drop side")
    place, mount, F = worst_mount(of.run, of.run.nominal, of.case)
    where = f"mount {mount} of {_name(place)}"
    told = f"the rail moves up to {say.of(of.largest, 'length', 2)}; {where} is pushed most, with {say.of(F, 'force')}"
    low = sketch.words(low + 3, f"{told[0].upper()}{told[1:]} (ringed). {_ends_in_words(of, say)}", x=SIDE, width=WIDTH - 2 * SIDE)
    return Picture(sketch.svg(), f"{_title(of)}, from above: {told}. {_ends_in_words(of, say)} {_in_words(of, say)}")


def _name(place: Place) -> str:
    return place.name


def _glass(sketch: Sketch, view: View, of: Seen, y: float) -> None:
    """The panels at rest; one that is gone as its outline."""
    for p in of.run.line.places:
        x1, x2 = view.x(p.start), view.x(p.end)
        if p.panel is None:
            sketch.rect(x1, y - 2, x2, y + 2, "dim", "dash", what=f"gone {p.number}")
            sketch.text((x1 + x2) / 2, y - 6, f"{_name(p).partition(' ')[2]}: gone", "middle")
        else:
            sketch.rect(x1, y - 2, x2, y + 2, "glass", what=f"glass {p.number}")
            middle, words = (x1 + x2) / 2, _name(p)
            sketch.text(middle, y - 6, words if text_width(words) < (x2 - x1) / 2 else words.partition(" ")[2], "middle")


def _rail(sketch: Sketch, view: View, of: Seen, y: float, way: float) -> None:
    """The rail at rest and where it goes; threads from the glass to it, so that the eye follows the lean of each panel."""
    line = of.run.line
    s = np.unique(np.concatenate([np.linspace(line.start, line.end, POINTS), [e for p in line.standing for e in (p.start, p.end)]]))
    v = of.movement(s)
    for p in line.standing:
        threads = np.linspace(p.start, p.end, 7)
        ways = [(view.x(float(a)), way * float(w)) for a, w in zip(threads, of.movement(threads), strict=True)]
        sketch.strokes([((x, y + 2), (x, y + w)) for x, w in ways if w > 3.0], "dim")
    points = [(view.x(float(a)), y + way * float(w)) for a, w in zip(s, v, strict=True)]
    sketch.polyline(points, "ink", what="rail")
    for splice in of.walked.job.rail.splices if of.walked.job.rail is not None else ():
        at = float(splice.at.x)
        sketch.circle(view.x(at), y + way * float(of.movement(np.array([at]))[0]), 2.5, "ink", what="joint")


def _mounts(sketch: Sketch, view: View, of: Seen, y: float, unit: float) -> None:
    """Every mount with the push on it; the worst is ringed."""
    line, say = of.run.line, Say(of.walked.job.units)
    worst, row = worst_mount(of.run, of.run.nominal, of.case), 0
    for p in line.standing:
        assert p.panel is not None
        F = of.run.nominal.panels[p.number - 1].F[of.case]
        for model, force in zip(of.run.panels[p.panel.name].mounts, F, strict=True):
            x = view.x(p.start + float(model.mount.x.x))
            sketch.rect(x - PLATE, y - PLATE, x + PLATE, y + PLATE, "steel", what=f"mount {p.number} {model.name}")
            length = unit * abs(float(force))
            if length >= 4.0:
                start, end = (y - 5 - length, y - 5) if force > 0 else (y - 5, y - 5 - length)
                sketch.arrow(x, start, x, end, "load", 4.0)
            if (p, p.calls(model.name)) == worst[:2]:
                sketch.circle(x, y, 8.0, "warn", what="worst")
            level = y - PUSH - 14 - LINE * row
            sketch.line(x, level + 3, x, y - 5 - length, "dim")
            sketch.text(x, level, say.of(float(force), "force", 2), "middle", step=(0.0, -LINE))
            row = 1 - row


def _ends(sketch: Sketch, view: View, of: Seen, y: float, way: float) -> None:
    entry, line = of.walked.job.rail, of.run.line
    assert entry is not None
    for i, side in enumerate(SIDES):
        end: RailEnd = getattr(entry, side)
        s = line.start if i == 0 else line.end
        x, at = view.x(s), y + way * float(of.movement(np.array([s]))[0])
        out = -1.0 if i == 0 else 1.0
        anchor = "start" if i == 0 else "end"
        if end.holding:
            corners = [(x, at - 8), (x + 6 * out, at - 8), (x + 6 * out, at + 8), (x, at + 8)]
            sketch.polygon(corners, "ink", what=f"{side} end held")
            sketch.hatch(corners, 4.0)
        else:
            sketch.circle(x, at, 2.5, "warn", what=f"{side} end free")
            sketch.text(x + 6 * out, at + 13, "free end", anchor)


def _ends_in_words(of: Seen, say: Say) -> str:
    """What holds the ends of the rail, and with how much."""
    entry = of.walked.job.rail
    assert entry is not None
    parts = []
    for i, side in enumerate(SIDES):
        end: RailEnd = getattr(entry, side)
        push = say.of(float(of.run.nominal.ends[i, of.case]), "force", 2)
        parts.append(f"{side} end: {end.fixing}, holds {push}" if end.holding else f"{side} end: free")
    text = "; ".join(parts)
    return f"{text[0].upper()}{text[1:]}."


def _in_words(of: Seen, say: Say) -> str:
    """What the picture shows, mount by mount."""
    parts = []
    for p in of.run.line.places:
        if p.panel is None:
            parts.append(f"{_name(p)}: the glass is gone")
            continue
        F = of.run.nominal.panels[p.number - 1].F[of.case]
        mounts = of.run.panels[p.panel.name].mounts
        each = ", ".join(f"{p.calls(m.name)} {say.of(float(f), 'force', 2)}" for m, f in zip(mounts, F, strict=True))
        parts.append(f"{_name(p)}: {each}")
    return "; ".join(parts) + "."
