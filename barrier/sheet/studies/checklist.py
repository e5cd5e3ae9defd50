"""The checklist for the site: what of a job is unknown or assumed, in the order one walks it, with room to write.

Within a station that stands first which more rests on: what the governing check is made of, then by how many required checks are
made of it or wait for it. Nothing is varied for that; it is read off the origins of the result. Every entry is a few lines and no
row of a table, so that a phone shows where to write.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barrier.job.gaps import Gap, gaps
from barrier.job.site_order import STATIONS, station
from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.result import Check, Ending, Standing
from barrier.sheet.blocks import Block, Bullets, Content, Drawing, Heading, Line, Paragraph
from barrier.sheet.content import caution
from barrier.sheet.content.calculation import values_of
from barrier.sheet.content.next_steps import RATING
from barrier.sheet.content.origins import assumptions, leaves_of
from barrier.sheet.drawings import section
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import NBSP, NOT_MEASURED, in_style
from barrier.value import JobEntry, walk

ROOM = "_" * 14
BOX = "□"
MOST = 5  # of what this tool takes by itself
GUARD = "Guard the edge first, and keep people away from glass that is not fixed. Nothing measured here is permission to build."


@dataclass(frozen=True, slots=True)
class Item:
    """What one figure written down settles: entries alike but for their name or sign; whether the governing check is made of it,
    and how many required checks are, or wait for it."""

    same: tuple[Gap, ...]
    governs: bool
    checks: int


def checklist_content(result: Result) -> Content:
    """The checklist as blocks, from the glass down, then from below, then around it, then what others know."""
    job, style = result.job, result.job.units
    items = _items(result, gaps(job))
    blocks: list[Block] = [
        caution.short(),
        Heading(1, (f"To measure and to ask: {job.title}",)),
        Paragraph((_opening(result, items),)),
        Paragraph((GUARD,)),
        *_picture(result),
    ]
    for number, title in enumerate(STATIONS):
        here = sorted((i for i in items if station(i.same[0].entry.path) == number), key=lambda i: (not i.governs, -i.checks))
        rating = number == len(STATIONS) - 1 and _no_rating(result)
        lines: list[Line] = [(f"{RATING} {ROOM}",)] if rating else []
        lines += [(_line(i, style),) for i in here]
        if lines:
            blocks += [Heading(2, (title,)), Bullets(tuple(lines), (*((True,) if rating else ()), *(i.governs for i in here)))]
    others = [e for e in assumptions(result) if e.defaulted]
    if others:
        told = tuple(_said(e, style) for e in others[:MOST])
        more: Line = (f"and {len(others) - MOST} more, in the appendix of the sheet",)
        title = "Taken by this tool, because the job says nothing; those first that count most"
        blocks += [Heading(2, (title,)), Bullets((*told, more) if len(others) > MOST else told)]
    return Content(tuple(blocks), style)


def _opening(result: Result, items: Sequence[Item]) -> str:
    if not items:
        return "Nothing in this job is called unknown or assumed. Look from below all the same."
    governs = f" What governs so far: {result.governing.title}." if result.governing is not None else ""
    return (
        f"{sum(len(i.same) for i in items)} entries of this job are unknown or assumed.{governs} !! marks those it rests on: these "
        f"first. {NOT_MEASURED} stands before a figure that is only assumed. Write beside it, then put it into the job: barrier "
        "new and the name of the file asks for the same list."
    )


def _no_rating(result: Result) -> bool:
    """Whether a mount has no rating of its supplier, which counts for more than anything computed and so is asked for first."""
    return any(c.about.key == ("clamp", "rating") and c.ending is Ending.NOT_CHECKED for c in result.sound.checks)


def _picture(result: Result) -> list[Drawing]:
    """The first mount cut across, to point at and to write into; what was assumed is dashed."""
    return list(section.drawings(result))[:1]


def _line(item: Item, style: str) -> str:
    gap = item.same[0]
    what = spoken(gap.entry.path)
    if len(item.same) > 1:
        what += f" (and {len(item.same) - 1} like it)"
    now = f"now {NOT_MEASURED}{in_style(gap.taken_as.lstrip('-'), style)}" if gap.taken_as else "unknown"
    how = in_words(gap.how, style)
    rests = f" {item.checks} checks rest on it or wait for it." if item.checks > 1 else ""
    return f"{BOX}{NBSP}{what}: {ROOM} ({now}). {how[:1].upper()}{how[1:]}.{rests}"


def _said(entry: JobEntry, style: str) -> Line:
    return (f"{spoken(entry.path)} = {in_style(entry.text, style) or 'left empty'}: {in_words(entry.reason, style)}",)


# ---------------------------------------------------------------- what counts most


def _items(result: Result, found: Sequence[Gap]) -> list[Item]:
    alike: dict[tuple[str, str, str], list[Gap]] = {}
    for g in found:
        alike.setdefault((_nameless(g.entry.path), g.taken_as.lstrip("-"), g.how), []).append(g)
    governing, made = _governing(result), _made(result)
    waiting = [c.reason for c in _required(result) if c.ending is Ending.NOT_CHECKED]
    return [_item(tuple(same), governing, made, waiting) for same in alike.values()]


def _nameless(path: str) -> str:
    """A path without the names of mounts and screws and without left and right: one figure settles all that are alike."""
    parts = path.split(".")
    kept = [p for i, p in enumerate(parts) if i == 0 or parts[i - 1] not in ("mounts", "screws", "layers")]
    return ".".join("end" if p in ("left", "right") else p for p in kept)


def _item(same: tuple[Gap, ...], governing: set[str], made: Counter[str], waiting: Sequence[str]) -> Item:
    paths = [g.entry.path for g in same]
    short = ".".join(paths[0].split(".")[-2:])  # how a reason names an entry
    checks = max(made[p] for p in paths) + sum(short in reason for reason in waiting)
    return Item(same, any(p in governing for p in paths), checks)


def _required(result: Result) -> Iterator[Check]:
    return (c for c in result.sound.checks if c.standing is Standing.REQUIRED)


def _governing(result: Result) -> set[str]:
    """Paths of the entries the governing check is made of, its load included."""
    check = result.governing
    of = leaves_of(result, check).entries if check is not None else ()
    return {v.origin.path for v in of if isinstance(v.origin, JobEntry)}


def _made(result: Result) -> Counter[str]:
    """For every entry the number of required checks of the links that are made of it."""
    made: Counter[str] = Counter()
    for link in result.links:
        own = [c for c in link.checks if c.standing is Standing.REQUIRED and c.ending is not Ending.NOT_CHECKED]
        values = walk(*(v for c in own for v in values_of(c)))
        for path in {v.origin.path for v in values if isinstance(v.origin, JobEntry)}:
            made[path] += len(own)
    return made
