"""The checklist for the site: what of a job is unknown or assumed, in the order one walks it, with room to write."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.job.gaps import Gap, gaps
from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.sheet.blocks import Block, Bullets, Content, Heading, Line, Paragraph, Table
from barrier.sheet.content import caution
from barrier.sheet.content.origins import assumptions, leaves_of
from barrier.sheet.drawings import elevation, section
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import NOT_MEASURED, in_style
from barrier.value import JobEntry

PARTS = {
    "site": "The place", "loads": "The place", "wind": "The wind", "timber": "The place", "panels": "The glass",
    "mounts": "The mounts", "mount_types": "The mounts", "decking": "The deck", "blocking": "Below the deck",
    "joists": "Below the deck", "limits": "With the engineer",
}  # fmt: skip
ORDER = ("The place", "The glass", "The mounts", "The deck", "Below the deck", "The wind", "With the engineer")
ROOM = "_" * 14
MOST = 5  # of what this tool takes by itself
FIRST = "►"  # stands before what counts most


def checklist_content(result: Result) -> Content:
    """The checklist as blocks; what governs as the job stands rests on the entries marked first."""
    job, style = result.job, result.job.units
    found = gaps(job)
    first = _counts_most(result, found)
    blocks: list[Block] = [
        caution.short(),
        Heading(1, (f"To measure and to ask: {job.title}",)),
        Paragraph((
            f"{len(found)} entries of this job are unknown or assumed. {FIRST} marks those that what governs now rests on: these "
            f"first. {NOT_MEASURED} stands before a figure that is only assumed. Write beside it, then put it into the job: "
            "barrier new and the name of the file asks for the same list.",
        )),
    ]  # fmt: skip
    if not found:
        blocks.append(Paragraph(("Nothing in this job is called unknown or assumed.",)))
    for part in ORDER:
        own = [g for g in found if PARTS.get(g.entry.path.partition(".")[0], "The place") == part]
        if own:
            rows = tuple(_rows(sorted(own, key=lambda g: g.entry.path not in first), first, style))
            blocks += [Heading(2, (part,)), Table(("", "what", "now", "how to find out", "measured"), rows, "lllll")]
    blocks += list(_pictures(result))
    others = [e for e in assumptions(result) if e.defaulted]
    if others:
        told = tuple(_said(e, style) for e in others[:MOST])
        more: Line = (f"and {len(others) - MOST} more, in the appendix of the sheet",)
        title = "Taken by this tool, because the job says nothing; those first that count most"
        blocks += [Heading(2, (title,)), Bullets((*told, more) if len(others) > MOST else told)]
    return Content(tuple(blocks), style)


def _counts_most(result: Result, found: Sequence[Gap]) -> set[str]:
    """Paths of entries the governing check rests on; where nothing governs, those that weigh most in a job."""
    check = result.governing
    used: set[str] = set()
    if check is not None:
        used = {v.origin.path for v in leaves_of(result, check).entries if isinstance(v.origin, JobEntry)}
    heaviest = min((g.weight for g in found), default=0)
    of_these = {g.entry.path for g in found if g.entry.path in used or _through_a_type(g.entry.path, used)}
    return of_these or {g.entry.path for g in found if g.weight == heaviest}


def _through_a_type(path: str, used: set[str]) -> bool:
    """Whether an entry of a mount type is used by a mount of it, or one of a blocking by another that is the same."""
    top, _, rest = path.partition(".")
    below = rest.partition(".")[2]
    return top in ("mount_types", "blocking") and any(u.split(".", 2)[-1] == below for u in used if u.count(".") >= 2)


def _rows(found: Sequence[Gap], first: set[str], style: str) -> Iterator[tuple[Line, ...]]:
    """A row an entry; of mounts that want the same one row, with the names of all."""
    alike: dict[tuple[str, str, str], list[Gap]] = {}
    for g in found:
        tail = g.entry.path.split(".", 2)[-1] if g.entry.path.startswith("mounts.") else g.entry.path
        alike.setdefault((tail, g.taken_as, g.how), []).append(g)
    for (_, taken_as, how), same in alike.items():
        what = spoken(same[0].entry.path)
        if len(same) > 1:
            names = [g.entry.path.split(".")[1] for g in same]
            what = what.replace(f"mount {names[0]}", f"mounts {', '.join(names)}", 1)
        now = f"{NOT_MEASURED}{in_style(taken_as, style)}" if taken_as else "unknown"
        mark = FIRST if any(g.entry.path in first for g in same) else ""
        yield (mark,), (what,), (now,), (in_words(how, style),), (ROOM,)


def _said(entry: JobEntry, style: str) -> Line:
    return (f"{spoken(entry.path)} = {in_style(entry.text, style) or 'left empty'}: {in_words(entry.reason, style)}",)


def _pictures(result: Result) -> Iterator[Block]:
    """The glass and a mount as the job has them, to write dimensions into."""
    yield Heading(2, ("As the job has it; dashed dimensions are assumed",))
    yield from elevation.drawings(result)[:1]
    yield from section.drawings(result)[:1]
