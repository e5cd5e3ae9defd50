"""The ladder of blocking rung by rung: what the mount stands on, and beside it what governs there and by how much."""

from __future__ import annotations

from barrier.load_path import Walked
from barrier.result import Check, Ending, Standing
from barrier.sheet.alike import without_mount
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.bars import bar
from barrier.sheet.drawings.facts import Stand, stand
from barrier.sheet.drawings.section_parts import Frame, fitted, frame, parts
from barrier.sheet.drawings.svg import LINE, Sketch, View
from barrier.sheet.numbers import linear_text
from barrier.study import Study, wood_and_ends

WIDE = 320.0  # units: narrower than other pictures, for two of them stand beside one another on a page
PICTURE = 92.0  # units for the section of a rung
TALL = 118.0
TEXT_AT = PICTURE + 18.0
ONE, BEYOND = 54.0, 34.0  # of a bar


def drawings(study: Study) -> list[Drawing]:
    """A picture of every kind of wood, with what governs there for every way its ends are held."""
    found = []
    for i, (wood, walks) in enumerate(by_wood(study).items(), 1):
        found.append(Drawing(f"ladder-{i}", (f"Rung {i}: {wood}",), lambda w=walks, name=wood: draw(study, name, w)))  # type: ignore[misc]
    return found


def draw(study: Study, wood: str, walks: list[Walked]) -> Picture:
    """Draw one rung, plain ends and brackets beneath one another beside one section; all rungs have one scale."""
    sketch, y = Sketch(WIDE), 0.0
    view, around = _placed(study)
    parts(sketch, view, _stand(study, walks[0]), around)
    for w in walks:
        y = _ends(sketch, y, w)
    low = max(y, view.y(around.bottom)) + 4
    sketch.rect(2, 0, WIDE - 2, low, "ink", what="frame")
    told = "; ".join(f"{wood_and_ends(w.situation.name)[1] or 'nothing but boards'}: {_short(w.governing, w)}" for w in walks)
    return Picture(sketch.svg(view.scale), f"Section through a mount on {wood}. With {told}.")


def by_wood(study: Study) -> dict[str, list[Walked]]:
    """The walks of a ladder by the wood they stand on, in the order of the rungs."""
    found: dict[str, list[Walked]] = {}
    for w in study.walked:
        found.setdefault(wood_and_ends(w.situation.name)[0], []).append(w)
    return found


def _stand(study: Study, w: Walked) -> Stand:
    return stand(w.job, study.result.tables, w.job.mounts[0])


def _placed(study: Study) -> tuple[View, Frame]:
    """One view and one frame for the sections of all rungs."""
    around = frame([_stand(study, walks[0]) for walks in by_wood(study).values()], broken=True)
    view = fitted(around, PICTURE, 8.0, TALL)
    return View(view.scale, view.x0, view.y0 + 12.0), around


def _ends(sketch: Sketch, y: float, w: Walked) -> float:
    ends = wood_and_ends(w.situation.name)[1] or "nothing but boards"
    wide = WIDE - TEXT_AT - 8
    y = sketch.words(y + 2, ends, x=TEXT_AT, width=wide, bold=True)
    check = w.governing
    if check is None:
        return sketch.words(y, "nothing could be checked", x=TEXT_AT, width=wide) + 4
    bar(sketch, TEXT_AT, y, check, ONE, BEYOND)
    y = sketch.words(y + 13, f"governs: {without_mount(w, check.title)}", x=TEXT_AT, width=wide)
    unknown = sum(c.ending is Ending.NOT_CHECKED and c.standing is Standing.REQUIRED for c in w.checks)
    if unknown:
        y = sketch.words(y, f"and {unknown} required NOT CHECKED", x=TEXT_AT, width=wide)
    return y + LINE / 2


def _short(check: Check | None, w: Walked) -> str:
    return "nothing could be checked" if check is None else f"{without_mount(w, check.title)} governs, {linear_text(check)}"
