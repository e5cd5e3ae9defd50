"""The page with sliders on paper: what it is over, and the job as it stands; the sets themselves are for the page in HTML."""

from __future__ import annotations

from barrier.sheet.blocks import Content, Definitions, Heading, Line, Paragraph
from barrier.sheet.content import caution
from barrier.sheet.content.grid import grid_of, stop_text
from barrier.sheet.studies import words
from barrier.sheet.studies.ways import beside
from barrier.ways.phone import Phone


def phone_content(found: Phone) -> Content:
    """The sliders with their stops, and how many sets end how, as blocks."""
    job, grid = found.result.job, grid_of(found)
    rows: list[tuple[str, Line]] = []
    for axis in found.axes:
        stops = [stop_text(s, job.units) for s in axis.stops]
        rows.append((axis.title, (f"{', '.join(stops)}; the job has {stops[axis.own]}",)))
    own = grid.points[found.own]
    ended = [str(p.ending) for p in grid.points if p.ending is not None]
    kinds = (("exceeds", "EXCEED"), ("not checked", "are NOT CHECKED"), ("within", "are within"))
    told = [f"{ended.count(ending)} {words_}" for ending, words_ in kinds]
    refused = len(grid.points) - len(ended)
    told += [f"{refused} would be refused"] if refused else []
    rows += [
        ("Sets", (f"{len(grid.points)}, each of them checked: {', '.join(told)}",)),
        ("The job as described", (own.headline,)),
        *([("Governs", (own.governing,))] if own.governing else []),
    ]  # fmt: skip
    return Content(
        (
            caution.first(job.units),
            Heading(1, (f"For the phone: {job.title}",)),
            Paragraph(("The page with the sliders is HTML; this is what it is over.",)),
            *words.job_block_of(found.result),
            *beside(found.result),
            Definitions(tuple(rows)),
            caution.last(),
        ),
        job.units,
    )
