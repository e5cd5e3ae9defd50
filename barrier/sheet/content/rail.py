"""A panel gone from under a rail: the run before and after, and in plain words why the end of the rail is the first question."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.equation import Step
from barrier.links.rail.by_hand import OVER
from barrier.load_path import Result, Walked
from barrier.result import SOUND, Check, Finding, LinkResult, Shown, Standing, governing
from barrier.sheet.blocks import Block, Bullets, Heading, Line, Paragraph, Token
from barrier.sheet.drawings import rail as pictures
from barrier.sheet.numbers import ending_text, utilisation_text

TITLE = "When a panel is gone: the rail"
PLAIN = (
    "One panel breaks, and the people who leaned on it lean on the rail. The rail hands what they push with to the panels beside "
    "the gap, and those hand it to their mounts: the nearest mounts take the most.",
    "A gap in the middle has a panel on each side. A gap at the end has one, and there the rail sticks out like a diving board: "
    "the whole load of the gap, and a long lever, go to one or two mounts.",
    "So look at the ends of the rail first. Does it stop in the air? Then ask for a bracket on a wall or a post, with its own "
    "fixing into something solid. Three panels under the rail do not stand in for it.",
    "A stiff rail is no cure by itself: it reaches further panels, and bends more itself. A stiff bracket or post beside glass "
    "that leans draws load to itself, also while all the glass is there, so its own fixing counts.",
    "Under even load, with all the glass there and both ends free, the rail helps nothing. It is there for the day one panel is "
    "gone, so its grip on the glass, its joints and its ends are worth as much as the rail itself.",
)


def blocks(result: Result) -> Iterator[Block]:
    """Plain lines, pictures, what comes to the rail walk by walk, and what is said of a panel lost; nothing where none was."""
    drawn = pictures.drawings(result)
    if not drawn:
        return
    yield Heading(1, (TITLE,))
    yield Bullets(tuple((text,) for text in PLAIN))
    yield Paragraph((
        "From above, under the line load on the whole rail, before any factor. Movement is drawn larger, alike in all pictures. A "
        "minus pulls towards the people side.",
    ))  # fmt: skip
    yield from drawn
    yield Paragraph(("The mount that takes most, over its even share of its own panel's load (line load, before any factor):",))
    yield Bullets(tuple(line for w in result.walked for line in _told(w)))
    yield Paragraph(("What is asked of the rail, and the worst of all the rest:",))
    lost = [w for w in result.walked if _opened(w)]
    yield Bullets(tuple(_ends_as(w, w is result.sound) for w in (result.sound, *lost)))
    said = list({f.text: f for w in lost for f in _findings(w)}.values())
    before = {f.text for f in _findings(result.sound)}
    own = sorted((f for f in said if f.text not in before), key=lambda f: not f.loud)
    yield Bullets(tuple((f"{f.text} ({f.source})" if f.source else f.text,) for f in own), tuple(f.loud for f in own))


def _link(walked: Walked) -> LinkResult | None:
    return next((r for r in walked.links if r.id == "rail"), None)


def _findings(walked: Walked) -> tuple[Finding, ...]:
    link = _link(walked)
    return () if link is None else link.findings


def _opened(walked: Walked) -> bool:
    """Whether a panel is gone from under the rail."""
    return walked.job.rail is not None and bool(walked.job.rail.openings)


def _name(walked: Walked, sound: bool) -> str:
    return "as described" if sound else walked.situation.name


def _ends_as(walked: Walked, sound: bool) -> Line:
    """Every check of the rail with its figure, then what governs of all else."""
    link = _link(walked)
    checks = link.checks if link is not None else ()
    each = [f"{c.title} {_figure(c)}" for c in checks]
    others = [c for c in walked.checks if c not in checks and c.standing is Standing.REQUIRED and c.rank is not None]
    if others:
        worst = others[governing([c.rank or 0.0 for c in others])]
        each.append(f"of glass, mounts and timber the worst is {worst.title} {_figure(worst)}")
    return (f"{_name(walked, sound)}: {'; '.join(each)}",)


def _figure(check: Check) -> str:
    return f"{utilisation_text(check)} {ending_text(check.ending)}" if check.eta is not None else ending_text(check.ending)


def _told(walked: Walked) -> Iterator[Line]:
    """Of one walk: by how much the worst mount takes more than its share, and what a bracket would make of it."""
    link = _link(walked)
    times = [s for s in link.shown if _is_times(s)] if link is not None else []
    if not times:
        return
    line: Line = (f"{_name(walked, not _opened(walked) and walked.situation is SOUND)}: ", Token(times[0].value, 0, 2), " times")
    for other in times[1:]:
        line = (*line, f"; {other.title}: ", Token(other.value, 0, 2), " times")
    yield line


def _is_times(shown: Shown) -> bool:
    origin = shown.value.origin
    return isinstance(origin, Step) and origin.equation is OVER
