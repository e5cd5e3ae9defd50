"""A panel gone from under a rail: the run before and after, and in plain words why the end of the rail is the first question."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.equation import Step
from barrier.links.rail.by_hand import OVER
from barrier.load_path import Result, Walked
from barrier.result import Shown
from barrier.sheet.blocks import Block, Bullets, Heading, Line, Paragraph, Token
from barrier.sheet.drawings import rail as pictures

TITLE = "When a panel is gone: the rail"
PLAIN = (
    "One panel breaks, and the people who leaned on it lean on the rail. The rail hands what they push with to the panels beside "
    "the gap, and those hand it to their mounts: the nearest mounts take the most.",
    "A gap in the middle has a panel on each side. A gap at the end has one, and there the rail sticks out like a diving board: "
    "the whole load of the gap, and a long lever, go to one or two mounts.",
    "So look at the ends of the rail first. Does it stop in the air? Then ask for a bracket on a wall or a post, with its own "
    "fixing into something solid. Three panels under the rail do not stand in for it.",
    "A stiff rail is no cure by itself: it reaches further panels, and bends more itself. A loose joint beside the gap makes the "
    "end of the glass work harder.",
    "Under even load on whole glass the rail helps nothing. It is there for the day one panel is gone, so its grip on the glass, "
    "its joints and its ends are worth as much as the rail itself.",
)


def blocks(result: Result) -> Iterator[Block]:
    """The pictures with the figures of each, and the plain lines; nothing where no panel under a rail was taken away."""
    drawn = pictures.drawings(result)
    if not drawn:
        return
    yield Heading(1, (TITLE,))
    yield Bullets(tuple((text,) for text in PLAIN))
    yield from drawn
    yield Paragraph(("The mount that takes most, over its even share of its own panel's load (line load, before any factor):",))
    yield Bullets(tuple(line for w in result.walked for line in _told(w)))


def _told(walked: Walked) -> Iterator[Line]:
    """Of one walk: by how much the worst mount takes more than its share, and what a bracket would make of it."""
    link = next((r for r in walked.links if r.id == "rail"), None)
    times = [s for s in link.shown if _is_times(s)] if link is not None else []
    if not times:
        return
    line: Line = (f"{walked.situation.name}: ", Token(times[0].value, 0, 2), " times")
    for other in times[1:]:
        line = (*line, f"; {other.title}: ", Token(other.value, 0, 2), " times")
    yield line


def _is_times(shown: Shown) -> bool:
    origin = shown.value.origin
    return isinstance(origin, Step) and origin.equation is OVER
