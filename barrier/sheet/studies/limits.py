"""The page of limits: the sizes of each entry for which no required check exceeds, every crossing, the next. No span table."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.job.spoken import spoken
from barrier.sheet.blocks import Block, Caution, Content, Definitions, Heading, Line, Paragraph, Table
from barrier.sheet.content import caution
from barrier.sheet.drawings import envelope, hangs
from barrier.sheet.in_words import in_units
from barrier.sheet.studies import words
from barrier.sheet.studies.ways import beside, figure_of
from barrier.ways.limits import Crossing, Limit, Limits
from barrier.ways.outcome import Line as Checked
from barrier.ways.outcome import Outcome
from barrier.ways.sensitivity import Turned

WATERMARK = "OVER UNCHECKED"


def limits_content(found: Limits) -> Content:
    """The limits as blocks."""
    job = found.result.job
    return Content(
        (
            caution.first(job.units),
            Heading(1, (f"Limits: {job.title}",)),
            *_watermark(found),
            Paragraph((
                "One entry at a time, all else as the job has it; mounts go with the panel as said. No table to build from: a size "
                "on this page says only where the first required check exceeds in this calculation.",
            )),
            *words.job_block_of(found.result),
            *beside(found.result),
            *in_units((block for limit in found.found for block in _limit(limit, found.over)), job.units),
            *_glass(found),
            *in_units(_envelope(found), job.units),
            *in_units(_hangs(found), job.units),
            *_watermark(found),
            caution.last(),
        ),
        job.units,
    )  # fmt: skip


def _watermark(found: Limits) -> Iterator[Block]:
    if found.over:
        missing = "; ".join(
            dict.fromkeys(c.title for c in found.result.sound.checks if c.ending == "not checked" and c.standing == "required")
        )
        yield Caution(
            WATERMARK, (f"Required checks were NOT CHECKED, and any of them may limit before what stands here: {missing}.",)
        )


def _limit(limit: Limit, over: bool) -> Iterator[Block]:
    yield Heading(2, (f"{spoken(limit.path)}{f' ({WATERMARK})' if over else ''}",))
    rows: list[tuple[str, Line]] = [
        (
            "Looked at",
            (f"{limit.low:g} mm to {limit.high:g} mm in steps of {limit.step:.4g} mm; what lies within one step can be missed",),
        ),
        ("Largest", (_largest(limit),)),
    ]
    rows += [("Crossing", (_crossing(c),)) for c in limit.crossings]
    if limit.next_limit is not None:
        x, line = limit.next_limit
        rows.append(("Next limit", (f"{line.title}, which exceeds at {x:.5g} mm ({figure_of(line)})",)))
    yield Definitions(tuple(rows))
    table = tuple(((f"{x:.5g} mm",), *_row(o)) for x, o in limit.looks)
    yield Table(("size", "governs", "comes to", "exceeding"), table, "rlrr")


def _largest(limit: Limit) -> str:
    if limit.largest is None:
        return "at no size looked at does every required check stay within"
    end = " (the end of the range)" if limit.largest >= limit.high else ""
    return f"{limit.largest:.5g} mm{end}: the largest at which no required check exceeds"


def _crossing(c: Crossing) -> str:
    inside, outside = (c.below, c.above) if c.exceeds_above else (c.above, c.below)
    governs = c.governs_above if c.exceeds_above else c.governs_below
    why = "the job file refuses the size" if governs is None else f"{governs.title} ({figure_of(governs)})"
    return f"none exceeds at {inside:.5g} mm; at {outside:.5g} mm: {why}"


def _row(outcome: Outcome) -> tuple[Line, ...]:
    if outcome.refused:
        return ("the job file would refuse it",), ("–",), ("–",)
    line: Checked | None = outcome.governing
    if line is None:
        return ("nothing could be compared",), ("–",), ("–",)
    return (line.title,), (figure_of(line),), (str(len(outcome.exceeding)),)


def _glass(found: Limits) -> Iterator[Block]:
    if found.glass:
        yield Heading(2, ("Every glass of the table",))
        rows = tuple(((name,), *_row(o), (str(len(o.unknown)),)) for name, o in found.glass)
        yield Table(("nominal", "governs", "comes to", "exceeding", "NOT CHECKED"), rows, "rlrrr")


def _envelope(found: Limits) -> Iterator[Block]:
    if not found.envelope:
        return
    yield Heading(2, ("Width by height of the glass: what governs",))
    yield from envelope.drawings(found)
    widths = sorted({w for w, _, _ in found.envelope})
    heights = sorted({h for _, h, _ in found.envelope}, reverse=True)
    at = {(w, h): o for w, h, o in found.envelope}
    rows = tuple(((f"{h:g} mm high",), *((_cell(at[w, h]),) for w in widths)) for h in heights)
    yield Table(("", *(f"{w:g} mm wide" for w in widths)), rows, "l" * (len(widths) + 1))


def _hangs(found: Limits) -> Iterator[Block]:
    """How far the largest utilisation goes with each entry, one at a time."""
    if not found.hangs:
        return
    yield Heading(2, ("How much hangs on each entry",))
    yield Paragraph((
        "One entry at a time a tenth less and a tenth more, or one step of a table, all else as the job has it; each is a check of "
        "its own. A tenth is a size to compare by, and says nothing about how well an entry is known.",
    ))  # fmt: skip
    yield from hangs.drawings(found)
    rows = tuple(((h.entry,), *_turned(h.less), *_turned(h.more)) for h in found.hangs)
    yield Table(("entry", "less", "comes to", "governs", "more", "comes to", "governs"), rows, "lrrlrrl")


def _turned(turned: Turned | None) -> tuple[Line, ...]:
    if turned is None:
        return ("–",), ("–",), ("–",)
    governing = turned.outcome.governing
    governs = governing.title if governing is not None and not turned.outcome.refused else "–"
    return (turned.words,), (hangs.said(turned),), (governs,)


def _cell(outcome: Outcome) -> str:
    line = outcome.governing
    if outcome.refused or line is None:
        return "refused"
    return f"{line.link} {figure_of(line)}" + (" EXCEEDS" if outcome.exceeding else "")
