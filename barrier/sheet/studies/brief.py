"""Two pages for the engineer: what he is asked, what it stands on, what is still missing. The full sheet is the appendix."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import barrier
from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.result import Check, Ending, LinkResult, Standing
from barrier.sheet.blocks import Blank, Block, Bullets, Caution, Content, Definitions, Heading, Line, Paragraph, Table
from barrier.sheet.content import caution, forces, front, job_words, short
from barrier.sheet.content.calculation import Calculation, calculate
from barrier.sheet.content.exclusions import NEVER_CHECKED
from barrier.sheet.drawings import elevation, section
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import ending_text, in_style, utilisation_text

ASSUMED = 8  # assumptions named
ASKED = 6  # questions from what the job does not know
LONG = 110  # letters of a reason or a source in a table
SIGN_OFF = ("Name, licence", "Figures changed", "Decision", "Date, signature")


def brief_content(result: Result) -> Content:
    """The two pages as blocks: title block, drawing, load, worst of each link, forces for the joists, questions, room to sign."""
    calculation = calculate(result)
    job = result.job
    return Content(
        (
            Heading(1, (f"For the engineer: {job.title}",)),
            Caution("FIGURES FOR A CONVERSATION, NO DESIGN", (caution.SHORT[0],)),
            _title_block(result),
            *_drawn(result),
            Heading(2, ("Described by the job",)),
            Definitions(job_words.standing(result)),
            *_assumed(result),
            Heading(2, ("The worst of each link",)),
            _links(result, calculation),
            *_forces(result),
            *_questions(result),
            *_not_checked(result),
            Heading(2, ("For the reviewing engineer, left blank on purpose",)),
            Blank(SIGN_OFF),
        ),
        job.units,
        compact=True,
    )


def _title_block(result: Result) -> Definitions:
    """Job, date, revision, by whom asked; basis; load and combination; how it ends."""
    job, basis, check = result.job, result.basis, result.governing
    rows: list[tuple[str, Line]] = [
        ("Job, date", (f"{job.title}; {job.date or 'no date given'}",)),
        ("Revision", (f"job file {job.fingerprint()}, tables {result.tables.fingerprint()}, tool {barrier.__version__}",)),
        ("Asked by", ("________________________________  for the site at  ________________________________",)),
        ("Basis", (f"{basis.title}: {_short('; '.join(basis.editions), 160)}",)),
    ]
    if job.changes:
        rows.append(("Tried here", ("; ".join(f"{spoken(p)} = {_value(v)}" for p, v in job.changes),)))
    if check is not None:
        load = short.load_line(result, check, calculate(result))
        rows.append(("Load", load))
        rows.append(("Governs", (f"{check.title}: {utilisation_text(check)}, {ending_text(check.ending)}",)))
    rows.append(("Ends as", (short.ends_line(result.sound),)))
    return Definitions(tuple(rows))


def _value(value: object) -> str:
    return "taken away" if value is None else "a table" if isinstance(value, (dict, list)) else str(value)


def _drawn(result: Result) -> Iterator[Block]:
    """The first panel and the first mount that differs, and where the other panels are."""
    yield from elevation.drawings(result)[:1]
    yield from section.drawings(result)[:1]
    if len(result.job.panels) > 1:
        yield Paragraph((f"The first of {len(result.job.panels)} panels is drawn; the others stand on the full sheet.",))


def _assumed(result: Result) -> Iterator[Block]:
    """What was measured or given, and what was assumed in its place."""
    found = result.job.assumptions()
    yield Heading(2, ("Assumed, not measured",))
    if not found:
        yield Paragraph(("Nothing: every entry that is used was written in the job file.",))
        return
    told = list(dict.fromkeys(f"{spoken(e.path)} = {in_style(e.text, result.job.units) or 'empty'}" for e in found))
    more = f"; and {len(told) - ASSUMED} more, all in the appendix of the full sheet" if len(told) > ASSUMED else ""
    yield Paragraph((f"All else was written in the job file. {'; '.join(told[:ASSUMED])}{more}.",))


# ---------------------------------------------------------------- links


def _links(result: Result, calculation: Calculation) -> Table:
    """A row a link: its worst required check, how it ends, its source, and its step in the full calculation."""
    rows = tuple(_link(link, calculation) for link in result.links if _decides(link))
    return Table(("link", "worst check", "comes to", "ends as", "resistance by", "step"), rows, "llrlll")


def _decides(link: LinkResult) -> list[Check]:
    return [c for c in link.checks if c.standing is Standing.REQUIRED]


def _link(link: LinkResult, calculation: Calculation) -> tuple[Line, ...]:
    checks = _decides(link)
    worst = front.worst_of(checks)
    missing = sum(c.ending is Ending.NOT_CHECKED for c in checks)
    if worst is None:
        return (link.title,), (checks[0].title,), ("?",), (ending_text(Ending.NOT_CHECKED),), (_short(checks[0].reason),), ("",)
    value = worst.utilisation or worst.resistance or worst.demand
    item = None if value is None else calculation.ledger.find(value, worst.station)
    source = short.source_words(worst.resistance) if worst.resistance is not None and worst.eta is not None else worst.reason
    ending = ending_text(worst.ending) + (f", {missing} NOT CHECKED" if missing else "")
    label = "" if item is None else f"[{item.label}]"
    return (link.title,), (worst.title,), (utilisation_text(worst),), (ending,), (_short(source),), (label,)


def _short(text: str, most: int = LONG) -> str:
    """As many whole words as fit."""
    if len(text) <= most:
        return text
    return text[:most].rpartition(" ")[0].rstrip(",;:") + " ..."


# ---------------------------------------------------------------- forces, questions


def _forces(result: Result) -> Iterator[Block]:
    """What is handed to the joists, by the mount that hands on most: the largest over what decides."""
    every = result.handed_on.tables
    if not every:
        return
    yield Heading(2, ("Handed on to the joists",))
    yield forces.table_of(every[:1], tuple(t.mount.model.name for t in every if forces.alike(t, every[0])))
    words = (
        "Forces at the ends of pieces: down positive; the chain of forces from the hand to the joist is drawn on the full sheet."
    )
    yield Paragraph((words,))
    others = [t.mount.model.name for t in every if not forces.alike(t, every[0])]
    if others:
        yield Paragraph((f"Mounts {', '.join(others)} hand on other figures: see the full sheet.",))


def _questions(result: Result) -> Iterator[Block]:
    """What governs, asked; then what the job does not know."""
    check = result.governing
    items: list[Line] = []
    if check is not None:
        items.append((front.main_question(check).replace(", and is the following right?", "?"),))
    unknown = result.job.unknowns()
    told = [f"{spoken(e.path)} ({in_words(e.reason, result.job.units)})" for e in unknown]
    if told:
        more = f"; and {len(told) - ASKED} more" if len(told) > ASKED else ""
        items.append((f"Not known to the job: {'; '.join(told[:ASKED])}{more}. Which of these would you want first?",))
    items.append(("Ways tried: barrier ways says which changes leave nothing exceeding; its page goes with this one.",))
    yield Heading(2, ("Questions",))
    yield Bullets(tuple(items))


def _not_checked(result: Result) -> Iterator[Block]:
    walked = result.sound
    missing = [c for c in short.ending_as(walked, Ending.NOT_CHECKED) if not c.about.at_once]
    yield Heading(2, ("Not checked",))
    if missing:
        yield Paragraph((f"Required and NOT CHECKED: {_few(walked, missing)}.",))
    yield Paragraph((f"Never checked by this tool: {'; '.join(what for what, _ in NEVER_CHECKED)}.",))


def _few(walked: object, missing: Sequence[Check]) -> str:
    told = list(dict.fromkeys(c.title for c in missing))
    return "; ".join(told[:ASKED]) + (f"; and {len(told) - ASKED} more" if len(told) > ASKED else "")
