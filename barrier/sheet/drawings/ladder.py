"""The ladder of blocking rung by rung: what the mount stands on, and below it what governs there and by how much."""

from __future__ import annotations

from barrier.load_path import Walked
from barrier.result import Check, Ending, Standing
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings import section
from barrier.sheet.drawings.bars import bar
from barrier.sheet.drawings.facts import stand
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.sheet.numbers import utilisation_text
from barrier.study import Study

PICTURE = 112.0  # units for the section of a rung
TALL = 118.0
TEXT_AT = PICTURE + 22.0


def drawings(study: Study) -> list[Drawing]:
    """One picture of the whole ladder."""
    if not study.walked:
        return []
    caption = "The ladder: what a mount stands on, rung by rung, and what governs there; the stroke stands at 1.00"
    return [Drawing("ladder", (caption,), lambda: draw(study))]


def draw(study: Study) -> Picture:
    """Draw every rung, plain and rated ends side by side under one section."""
    sketch, y = Sketch(), 0.0
    rungs = _by_wood(study)
    for wood, walks in rungs.items():
        top = y
        y = sketch.words(y + 3, wood, x=8.0, bold=True)
        low = _small_section(sketch, study, walks[0], y + 2)
        for w in walks:
            y = _rung(sketch, y, w, wood)
        y = max(y, low) + 5
        sketch.line(2, y, WIDTH - 2, y, "ink")
        for x in (2.0, WIDTH - 2):
            sketch.line(x, top, x, y, "ink")
    return Picture(sketch.svg(), _words(rungs))


def _by_wood(study: Study) -> dict[str, list[Walked]]:
    found: dict[str, list[Walked]] = {}
    for w in study.walked:
        found.setdefault(w.situation.name.removesuffix(", plain ends").removesuffix(", rated ends"), []).append(w)
    return found


def _small_section(sketch: Sketch, study: Study, w: Walked, y: float) -> float:
    s = stand(w.job, study.result.tables, w.job.mounts[0])
    view = section.fitted((s,), PICTURE, 10.0, TALL, broken=True)
    placed = View(view.scale, view.x0, view.y0 + y + 8)
    section.parts(sketch, placed, s, broken=True)
    return placed.y(section.bottom_of_all(s, broken=True))


def _rung(sketch: Sketch, y: float, w: Walked, wood: str) -> float:
    ends = w.situation.name.removeprefix(wood).lstrip(", ") or "nothing but boards"
    wide = WIDTH - TEXT_AT - 8
    y = sketch.words(y + 2, ends, x=TEXT_AT, width=wide)
    check = w.governing
    if check is None:
        return sketch.words(y, "nothing could be checked", x=TEXT_AT, width=wide) + 4
    bar(sketch, TEXT_AT, y, check, 78.0, 22.0)
    y = sketch.words(y + 13, f"governs: {without_mount(w, check.title)}", x=TEXT_AT, width=wide)
    unknown = sum(c.ending is Ending.NOT_CHECKED and c.standing is Standing.REQUIRED for c in w.checks)
    if unknown:
        y = sketch.words(y, f"and {unknown} required NOT CHECKED", x=TEXT_AT, width=wide)
    return y + LINE / 2


def without_mount(walked: Walked, title: str) -> str:
    """A title without the mount it is about."""
    for mount in walked.job.mounts:
        for words in (f" of mount {mount.name}", f" under mount {mount.name}", f", mount {mount.name}", f" by mount {mount.name}"):
            title = title.replace(words, "")
    return title


def _words(rungs: dict[str, list[Walked]]) -> str:
    told = []
    for walks in rungs.values():
        for w in walks:
            told.append(f"{w.situation.name}: {_short(w.governing, w)}")
    return "The ladder of blocking. " + "; ".join(told) + "."


def _short(check: Check | None, w: Walked) -> str:
    if check is None:
        return "nothing could be checked"
    figure = utilisation_text(check) if check.eta is not None else "lets go"
    return f"{without_mount(w, check.title)} governs, {figure}"
