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
from barrier.sheet.content.ledger import settled
from barrier.sheet.drawings import elevation, reactions, section
from barrier.sheet.in_words import in_units, in_words
from barrier.sheet.numbers import DISTANCES, NOT_MEASURED, ending_text, in_style, utilisation_text
from barrier.sheet.studies.ways import figure_of
from barrier.value import JobEntry
from barrier.ways.brief import Brief
from barrier.ways.ways import Tried

ASSUMED = 4  # assumptions named
MINDED = 5  # loud findings named
ASKED = 6  # questions from what the job does not know
TRIED = 3  # changes told, those that leave least
LONG = 84  # letters of a reason or a source in a table
SIGN_OFF = ("Name, licence", "Figures changed", "Decision", "Date, signature")


def brief_content(subject: Brief | Result) -> Content:
    """The two pages as blocks: title block, drawing, load, worst of each link, forces for the joists, ways, room to sign.

    A result alone has no ways that were tried, and the pages say so.
    """
    found = subject if isinstance(subject, Brief) else Brief(subject)
    result = found.result
    calculation = calculate(result)
    job = result.job
    return Content(
        (
            Heading(1, (f"For the engineer: {job.title}",)),
            Caution("FIGURES FOR A CONVERSATION, NO DESIGN", (caution.SHORT[0],)),
            _title_block(result),
            *_drawn(result),
            Heading(2, ("Described by the job",)),
            Definitions((*job_words.standing(result), ("Joists", job_words.joists(job)))),
            *_assumed(result),
            Heading(2, ("The worst of each link",)),
            _links(result, calculation),
            *_forces(result),
            *in_units(_ways(found), job.units),
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
    loud = list(
        dict.fromkeys(f.text for link in reversed(result.links) for f in link.findings if f.loud)
    )  # rules of the code first
    if loud:
        more = f"; and {len(loud) - MINDED} more" if len(loud) > MINDED else ""
        rows.append(("Mind", (f"{short.openings(loud[:MINDED], job.units)}{more}: see Findings of the full sheet",)))
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
    """What was measured or given, and what was assumed in its place: by whom, for that is another thing to ask about."""
    found = result.job.assumptions()
    yield Heading(2, ("Assumed, not measured",))
    if not found:
        yield Paragraph(("Nothing: every entry that is used was written in the job file.",))
        return
    own, usual = [e for e in found if e.assumed], [e for e in found if not e.assumed]
    if own:
        told = _told(own, result.job.units)
        yield Paragraph(
            (f"By the job file, in place of a measurement ({NOT_MEASURED} before the figure, its dimension dashed): {told}.",)
        )
    rest = "All else was written in the job file, as somebody measured it or was told it."
    said = f"By this tool, where the job file says nothing: {_told(usual, result.job.units)}. " if usual else ""
    yield Paragraph((said + rest,))


def _told(entries: Sequence[JobEntry], style: str) -> str:
    """Entries with what they are taken as; of many the first."""
    told = list(dict.fromkeys(f"{spoken(e.path)} = {in_style(e.text, style) or 'empty'}" for e in entries))
    more = f"; and {len(told) - ASSUMED} more, all in the appendix of the full sheet" if len(told) > ASSUMED else ""
    return "; ".join(told[:ASSUMED]) + more


# ---------------------------------------------------------------- links


def _links(result: Result, calculation: Calculation) -> Table:
    """A row a link: its worst required check, how it ends, its source, and its step in the full calculation."""
    rows = tuple(row for link in result.links if _decides(link) for row in _rows(link, calculation))
    return Table(("link", "worst check", "comes to", "ends as", "resistance by", "step"), rows, "llrlll")


def _decides(link: LinkResult) -> list[Check]:
    return [c for c in link.checks if c.standing is Standing.REQUIRED]


def _rows(link: LinkResult, calculation: Calculation) -> Iterator[tuple[Line, ...]]:
    """The worst of a link; where that is a distance, the worst of its strengths as well, which it would hide."""
    checks = _decides(link)
    yield _link(link.title, checks, calculation)
    worst = front.worst_of(checks)
    if worst is not None and worst.about.one_of(DISTANCES):
        others = [c for c in checks if not c.about.one_of(DISTANCES)]
        if others:
            yield _link("its strengths", others, calculation)


def _link(title: str, checks: Sequence[Check], calculation: Calculation) -> tuple[Line, ...]:
    worst = front.worst_of(checks)
    missing = sum(c.ending is Ending.NOT_CHECKED for c in checks)
    if worst is None:
        return (title,), (checks[0].title,), ("?",), (ending_text(Ending.NOT_CHECKED),), (_short(checks[0].reason),), ("",)
    value = worst.utilisation or worst.resistance or worst.demand
    item = None if value is None else calculation.ledger.find(value, worst.station)
    source = short.source_words(worst.resistance) if worst.resistance is not None and worst.eta is not None else worst.reason
    if not source and worst.utilisation is not None:  # shares of several resistances, added
        source = f"no single one: {short.source_words(settled(worst.utilisation, worst.station)[0])}"
    ending = ending_text(worst.ending) + (f", {missing} NOT CHECKED" if missing else "")
    label = "" if item is None else f"[{item.label}]" if item.label.isdigit() else item.label  # as the full sheet has it
    return (title,), (worst.title,), (utilisation_text(worst),), (ending,), (_short(source),), (label,)


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
    yield from reactions.drawings(result, every[0])
    yield forces.table_of(every[:1], tuple(t.mount.model.name for t in every if forces.alike(t, every[0])))
    yield Paragraph((
        "Forces at the ends of pieces, on the joist: down, towards the drop side, and "
        "a torque that turns the drop side down, positive.",
    ))  # fmt: skip
    others = [t.mount.model.name for t in every if not forces.alike(t, every[0])]
    if others:
        yield Paragraph((f"Mounts {', '.join(others)} hand on other figures: see the full sheet.",))


def _ways(found: Brief) -> Iterator[Block]:
    """Which single changes were tried before the engineer was asked, and what is left."""
    yield Heading(2, ("Ways tried",))
    if not found.tried:
        over = short.ending_as(found.result.sound, Ending.EXCEEDS)
        why = (
            "No change was tried for this page: barrier ways tries them."
            if over
            else "None: no required check exceeds as described."
        )
        yield Paragraph((why,))
        return
    do = sum(t.does for t in found.tried)
    each = f"{len(found.tried)} single changes, each calculated through every link; sets of them: barrier ways. "
    said = f"{do} leave no required check exceeding." if do else "None leaves nothing exceeding. Least is left by:"
    yield Paragraph((each + said,))
    yield Table(("change", "left", "the worst of it"), tuple(_tried(t) for t in found.tried[:TRIED]), "lrl")


def _tried(tried: Tried) -> tuple[Line, ...]:
    """A change, how many checks it leaves exceeding, and the worst of them, on one line."""
    worst = tried.outcome.exceeding[:1]
    said = "the job file would refuse it" if tried.outcome.refused else "nothing"
    left = "–" if tried.outcome.refused else str(tried.left[0])
    return (tried.names[0],), (left,), (f"{_short(worst[0].title, 48)} ({figure_of(worst[0])})" if worst else said,)


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
