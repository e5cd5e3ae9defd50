"""The last page: questions for the site and the supplier, what this tool never checks, room for the reviewing engineer."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.result import Ending
from barrier.sheet.alike import alike
from barrier.sheet.blocks import Blank, Block, Bullets, Heading, Line, Paragraph
from barrier.sheet.content import caution
from barrier.sheet.content.exclusions import NEVER_CHECKED

TITLE = "Questions to take along"
ON_SITE: tuple[str, ...] = (
    "Look from below: does blocking stand where the job says, are its pieces touching, what holds its ends?",
    "Is there a gap between the boards and the blocking under each mount? Press the board down and measure.",
    "Does every screw reach timber, and how far is it from the nearest edge or joint between pieces? Measure one.",
    "Measure the screw with a calliper: outer thread, root, length of thread, tip.",
    "Measure the barrier: glass above the decking, gap below it, mounts from the ends of the glass.",
    "What is below the edge, how far down, and who is there?",
    "Is there a pool, a supply or a lightning conductor near by? Mounts may have to be earthed.",
)
TO_THE_SUPPLIER: tuple[str, ...] = (
    "The rating of the mount: ultimate, characteristic or allowable? How many were tested, on what, at which height, with "
    "which glass and which screws?",
    "May the base plate be drilled for a cable? What voids the rating?",
    "What is the liner, how thick and how hard, and what pressure does it take for years?",
    "Does the rating hold for glass pulled up out of the clamp, and for glass pushed along it?",
    "The brackets at the ends of the blocking: what they hold up, down, sideways and against turning, one at a time and all at "
    "once, with which screws or nails, in which timber, and by how much they give.",
    "The glass: nominal and minimum thickness, heat soaked or not, edge finish, marking.",
    "The screws: declared withdrawal strength with its timber, tensile strength, material for this timber and this place.",
)


def blocks(result: Result) -> Iterator[Block]:
    """The last page: what to ask, what is never checked, and room for the engineer."""
    yield from _questions(result)
    yield Heading(1, ("What this tool never checks",))
    yield Bullets(tuple((what + (f": {more}" if more else ""),) for what, more in NEVER_CHECKED))
    yield from _engineer()
    yield caution.last()


def _questions(result: Result) -> Iterator[Block]:
    """What to ask on site and of the supplier: first what this job does not know, then what every job should ask."""
    yield Heading(1, (TITLE,))
    unknown = result.job.unknowns()
    missing = [c for c in result.sound.checks if c.ending is Ending.NOT_CHECKED]
    own: list[Line] = [(f"{spoken(e.path)} is {e.text}: {e.reason}",) for e in unknown]
    same = alike(result.sound)
    own += [(f"{same.title(c)} is not checked: {c.reason}",) for c in missing if same.repeats(c) is None]
    if own:
        yield Paragraph(("This job does not know:",))
        yield Bullets(tuple(own))
    yield Heading(3, ("On site",))
    yield Bullets(tuple((q,) for q in ON_SITE))
    yield Heading(3, ("To the supplier",))
    yield Bullets(tuple((q,) for q in TO_THE_SUPPLIER))


def _engineer() -> Iterator[Block]:
    """Room for the reviewing engineer, left blank."""
    yield Heading(1, ("For the reviewing engineer",))
    yield Paragraph(("Left blank on purpose. Nothing printed by a program stands in these lines.",))
    yield Blank(("Name", "Licence", "Figures changed", "Decision", "Date, signature"))
