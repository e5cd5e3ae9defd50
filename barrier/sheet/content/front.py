"""The front of the sheet: what a reader must find cold, in the order he needs it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import barrier
from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.result import Check, Ending, Finding, LinkResult, Standing, governing
from barrier.sheet.alike import alike
from barrier.sheet.blocks import (
    Bar,
    Bars,
    Block,
    Bullets,
    Definitions,
    Heading,
    Inline,
    Line,
    Paragraph,
    Sym,
    Table,
    Token,
)  # fmt: skip
from barrier.sheet.content import at_once, caution, forces, job_words, next_steps, rail, short, trail
from barrier.sheet.content.calculation import Calculation
from barrier.sheet.content.origins import (
    Origins,
    all_values,
    assumptions,
    invented_entries,
    leaves_of,
    moved_by,
    origins,
)  # fmt: skip
from barrier.sheet.drawings import bars, elevation, section
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import NOT_MEASURED, ending_text, in_style, utilisation_text
from barrier.sheet.typeset.one_line import shown_name
from barrier.value import Cell, JobEntry, walk_at

# The model an entry goes into as a place or a word, which no number of a step can be followed back to.
INTO = (
    (r"^panels|^mounts\.\w+\.x$|pads", "the model of the panel"),
    (r"offset|in_bay|laminated|laid|direction", "where the forces act on the blocking and the joists"),
    (r"material|^timber|grain|service_class", "the strengths of the timber"),
    (r"plate|screw", "the model of the mount on its bed"),
    (r"^joists", "the beam of the joists"),
    (r"^rail", "the rail"),
    (r"^decking|^blocking", "what the mount stands on"),
    (r"^(site|loads|wind|basis|national)", "loads and rules"),
)
FEW = 5  # assumptions up front
LONG = 30  # letters of a reason that is not worth saying twice
SHOWN_AS = ("invented", "memory", "common practice", "yours")
HEADS = {"invented": "invented", "memory": "from memory", "common practice": "common practice", "yours": "your own tables"}
NAMED = {"invented": "invented", "memory": "from memory", "common practice": "of common practice", "yours": "of your own tables"}


def blocks(result: Result, calculation: Calculation) -> Iterator[Block]:
    """Caution to exclusions: everything before the calculation."""
    yield caution.first(result.job.units)
    yield from next_steps.blocks(result)
    yield from short.blocks(result, calculation)
    yield from _what_was_checked(result)
    yield from _assumptions(result)
    yield from _remembered(result)
    yield from _links(result)
    yield from at_once.blocks(result)
    yield from _question(result)
    yield from _findings(result)
    yield from trail.blocks(result, calculation)
    yield from forces.blocks(result)
    yield from _situations(result)
    yield from rail.blocks(result)


# ---------------------------------------------------------------- what was checked


def _editions(result: Result) -> str:
    """The editions the job names in place of the usual ones."""
    every, basis = result.tables.editions, result.basis
    said = []
    for what in result.job.editions.named:
        taken, usual = basis.edition(what), every.chosen(basis.key, basis.national, what)
        if taken is not None and usual is not None:
            instead = "the usual one" if taken == usual else f"chosen by the job in place of {usual.title}"
            said.append(f"{what} by {taken.title}, {instead}")
    return "; ".join(said)


def _what_was_checked(result: Result) -> Iterator[Block]:
    job, basis = result.job, result.basis
    yield Heading(1, ("What was checked",))
    rows: list[tuple[str, Line]] = [
        ("Job", (job.title + (" (marked as invented)" if job.invented else ""),)),
        ("Date", (job.date or "not given in the job file",)),
        ("Fingerprint", (f"job file {job.fingerprint()}, tables {result.tables.fingerprint()}",)),
        ("Tool version", (barrier.__version__,)),
        ("Basis", (f"{basis.title}: {', '.join(basis.editions)}",)),
        *((("Load table", (basis.national or "no national table named",)),) if basis.national or basis.key == "en" else ()),
        *((("Editions", (_editions(result),)),) if job.editions.named else ()),
        *job_words.standing(result),
    ]
    if job.changes:
        rows.append(("Changed", ("; ".join(f"{path} = {_changed(value)}" for path, value in job.changes),)))
    if result.tables.replaced:
        rows.append(("Own figures", (f"{len(result.tables.replaced)} cells of the tables are replaced by the reader's own",)))
    yield Definitions(tuple(rows))
    yield from elevation.drawings(result)
    yield from section.drawings(result)


# ---------------------------------------------------------------- the links


def _links(result: Result) -> Iterator[Block]:
    yield Heading(1, ("The links, from the hand down to the joist",))
    yield Paragraph(("The stroke │ stands at 1.00. ► governs. i informs and does not decide. ? is not known.",))
    yield from bars.drawings(result)
    same = alike(result.sound)
    for number, link in enumerate(result.links, 1):
        checks = [c for c in link.checks if same.repeats(c) is None and not c.about.at_once]
        rows = [Bar(c, same.title(c), c is result.governing, _note(c, b)) for b, c in zip((None, *checks), checks, strict=False)]
        yield Bars(number, link.title, tuple(rows))


def _note(check: Check, before: Check | None) -> str:
    """Where a check is worst, and its reason; a long one that stands in the line above already is not said again."""
    again = before is not None and check.reason == before.reason and check.ending is before.ending and len(check.reason) > LONG
    reason = "for the same reason" if again else check.reason
    if check.squares and check.rank is not None:
        reason += f": {check.rank:.2f}"
    return "; ".join(w for w in (check.where, reason) if w)


def _question(result: Result) -> Iterator[Block]:
    check = result.governing
    yield Heading(1, ("For the engineer: what the governing link rests on",))
    if check is None:
        yield Paragraph(("Nothing could be compared. Which figures would you want first?",))
        return
    yield Paragraph((main_question(check),))
    of = leaves_of(result, check)
    items: list[Line] = []
    missing = short.ending_as(result.sound, Ending.NOT_CHECKED)
    if missing:
        items.append((f"Could one of these govern instead? Not checked: {short.titles(result.sound, missing)}.",))
    remembered = _from_memory(of)
    if remembered:
        items.append(("It rests on these from memory; are they right? ", *remembered))
    given = _given_strengths(check)
    if given:
        items.append((f"Its resistance rests on what the job says; is it so? {given}.",))
    assumed = [v.origin for v in of.entries if isinstance(v.origin, JobEntry) and v.origin.is_assumed]
    if assumed:
        told = "; ".join(f"{spoken(e.path)} = {in_style(e.text, result.job.units)} ({e.reason})" for e in assumed)
        items.append((f"It rests on these assumptions; may they stand? {told}.",))
    if of.closed:
        items.append((
            "Its action comes out of a numerical model that names no figures of its own; whatever went into that model "
            f"(stiffness of pads, bed and screws) is not asked here: {'; '.join(of.closed)}.",
        ))  # fmt: skip
    if not items:
        items.append(("No figure of this check is from memory and none was assumed: is the model itself the right one here?",))
    yield Bullets(tuple(items))


def _given_strengths(check: Check) -> str:
    """Entries of the job, written and not assumed, that the resistance of a check is made of."""
    values = walk_at(check.resistance, check.station) if check.resistance is not None else ()
    entries = [v.origin for v in values if isinstance(v.origin, JobEntry) and not v.origin.is_assumed]
    return "; ".join(f"{spoken(e.path)} = {e.text}{' (invented)' if e.invented else ''}" for e in entries)


def _from_memory(of: Origins) -> Line:
    """Remembered figures and equations in a row."""
    line: list[Inline] = []
    for v in reversed(of.cells_of("memory")):  # what the resistance rests on before what only stiffens a spring
        assert isinstance(v.origin, Cell)
        name: Inline = Sym(v.symbol) if v.symbol else _place(v.origin)
        line += ["; " if line else "", name, " = ", Token(v, 0, 4), f" ({v.origin.source})"]
    for e in reversed(of.equations_of("memory")):
        line += ["; " if line else "", f"equation of {e.title or shown_name(e.result.name)} ({e.source})"]
    return (*line, ".") if line else ()


def main_question(check: Check) -> str:
    """What a reader would ask first of the check that governs."""
    title, ending = short.sentence(check.title), ending_text(check.ending)
    if check.eta is None:
        return f"{title} {ending}, and there is no number: {check.reason}. What would you put there?"
    over = check.ending is Ending.EXCEEDS
    verb = "Which change would you make first" if over else "Is that enough here"
    return f"{title} comes to {utilisation_text(check)} ({ending}). {verb}, and is the following right?"


def _place(cell: Cell) -> str:
    column = cell.column if cell.column != "value" else ""
    return " · ".join(p for p in (cell.table, cell.key, column) if p)


# ---------------------------------------------------------------- what it rests on


def _assumptions(result: Result) -> Iterator[Block]:
    found = _alike(assumptions(result))
    yield Heading(1, ("Assumptions that matter most",))
    if not found:
        yield Paragraph(("None: every entry that is used was written in the job file.",))
        return
    own = [(e, more) for e, more in found if e.assumed]
    if own:
        yield Paragraph((
            f"The job file assumes these, and nobody measured them; {NOT_MEASURED} stands before such a figure, and its dimension "
            "is dashed in the pictures. Those first that what governs rests on, each with the links that are made of it:",
        ))  # fmt: skip
        moved = moved_by(result)
        yield Bullets(tuple((*assumption(e, more, result.job.units), _moves(e.path, moved.get(e.path, ()))) for e, more in own))
    taken = [(e, more) for e, more in found if not e.assumed]
    if len(taken) > FEW:
        many = f"{FEW} of {len(taken)}{' that this tool took' if own else ''}"
        yield Paragraph((f"{many}, those first that what governs rests on; all stand in the appendix.",))
    yield Bullets(tuple(assumption(e, more, result.job.units) for e, more in taken[:FEW]))


def _moves(path: str, links: Sequence[str]) -> str:
    """What an entry changes: the links its number is followed to, or the model it goes into as a place or a word."""
    if links:
        return f". It changes: {', '.join(links)}"
    model = next((m for places, m in INTO if re.search(places, path)), "")
    return f". It goes into {model}, and into what follows from that" if model else ""


def _alike(entries: tuple[JobEntry, ...]) -> list[tuple[JobEntry, int]]:
    """Assumptions of one kind told once, with how many more there are of it."""
    counted: dict[tuple[str, str, str], list[JobEntry]] = {}
    for e in entries:
        counted.setdefault((e.path.rsplit(".", 1)[-1], e.text, e.reason), []).append(e)
    return [(group[0], len(group) - 1) for group in counted.values()]


def assumption(entry: JobEntry, more: int = 0, style: str = "metric") -> Line:
    """An assumption in words, in the units of the sheet; ``more`` counts others just like it."""
    text = f'"{in_style(entry.text, style)}"' if entry.text else "left empty"
    others = f" (and {more} like it)" if more else ""
    return (f"{spoken(entry.path)}{others} = {text}: {entry.reason}",)


def _remembered(result: Result) -> Iterator[Block]:
    of = origins(tuple(all_values(result.walked)))
    yield Heading(1, ("Remembered and invented figures",))
    yield Paragraph((
        "Whatever the steps of this sheet rest on, in every situation. What is from memory was remembered "
        "by whoever wrote the tables and not read in the document: confirm it there before anyone leans on it.",
    ))  # fmt: skip
    invented = invented_entries(of)
    yield Paragraph((_counted(of, len(invented)),))
    if invented:
        yield Paragraph((f"All {len(invented)} entries of the job file that are used are invented: the job says so itself.",))
    for provenance in SHOWN_AS:
        rows = tuple(_doubtful(of, provenance))
        if rows:
            yield Table((HEADS[provenance], "figure", "said to be from"), rows, "lrl")
    if of.closed:
        yield Paragraph((
            f"Not in this list: figures inside {len(of.closed)} numerical results that name none of their own (stiffness "
            "of pads, timber bed and screws; tables stiffness and screw_stiffness).",
        ))  # fmt: skip
    secondary = len(of.cells_of("secondary")) + len(of.equations_of("secondary"))
    if secondary:
        yield Paragraph(
            (f"{secondary} more figures and equations were read in a copy or a quotation (secondary), not in the document.",)
        )


def _counted(of: Origins, invented: int) -> str:
    """How many figures are of which kind, in one sentence."""
    counts = [(p, len(of.cells_of(p)), len(of.equations_of(p))) for p in SHOWN_AS]
    parts = [f"{invented} invented entries of the job"] if invented else []
    for provenance, cells, equations in counts:
        kinds = [f"{n} {what}{'' if n == 1 else 's'}" for n, what in ((cells, "figure"), (equations, "equation")) if n]
        if kinds:
            parts.append(f"{' and '.join(kinds)} {NAMED[provenance]}")
    return f"In all: {'; '.join(parts)}." if parts else "In all: none."


def _doubtful(of: Origins, provenance: str) -> Iterator[tuple[Line, ...]]:
    for v in of.cells_of(provenance):
        assert isinstance(v.origin, Cell)
        own = v.symbol and v.symbol not in (v.origin.column, v.origin.key)  # a name of its own beside that of the table
        symbol: Line = (Sym(v.symbol), ": ") if own else ()
        yield (*symbol, _place(v.origin)), (Token(v, 0, 4),), (f"{v.origin.source} {v.origin.clause}".strip(),)
    for e in of.equations_of(provenance):
        yield ("equation of ", Sym(e.result.name), f", {e.title}" if e.title else ""), ("",), (e.source,)


def _findings(result: Result) -> Iterator[Block]:
    every = list({(f.text, f.source): f for link in result.links for f in link.findings}.values())
    if not every:
        return
    yield Heading(1, ("Findings",))
    ordered: list[Finding] = sorted(every, key=lambda f: not f.loud)
    yield Bullets(tuple(_finding(f, result.job.units) for f in ordered), tuple(f.loud for f in ordered))


def _finding(finding: Finding, units: str) -> Line:
    words, source = in_words(finding.text, units), f" ({finding.source})" if finding.source else ""
    if finding.length is None:
        return (words + source,)
    return (words.removesuffix("."), ": ", Token(finding.length), "." + source)


# ---------------------------------------------------------------- situations


def _situations(result: Result) -> Iterator[Block]:
    if len(result.walked) < 2:
        return
    yield Heading(1, ("Situations beside the job as described",))
    for walked in result.walked[1:]:
        situation = walked.situation
        changes = "; ".join(f"{path} = {_changed(value)}" for path, value in situation.changes.items())
        words = f" {situation.words}." if situation.words else ""
        yield Heading(3, (f"{situation.name} ({situation.standing}): {ending_text(walked.ending)}",))
        yield Paragraph((f"Changed: {changes}.{words}",))
        rows = []
        before = {link.id: link for link in result.links}
        for other in walked.links:
            sound = before.get(other.id)
            was = worst_line(sound) if sound is not None else (("",), ("not there",))
            rows.append(((other.title,), *was, *worst_line(other)))
        yield Table(("link", "sound", "ending", "then", "ending"), tuple(rows), "lrlrl")


def _changed(value: object) -> str:
    if value is None:
        return "taken out"
    return str(value).lower() if isinstance(value, bool) else str(value) or '""'


def worst_of(checks: Sequence[Check]) -> Check | None:
    """The worst of several checks: exceeding without a number, else the largest number; None where there is none."""
    over = [c for c in checks if c.ending is Ending.EXCEEDS]
    numbered = [c for c in over or checks if c.eta is not None]
    unsolved = next((c for c in over if c.eta is None), None)
    return unsolved or (numbered[governing([c.rank or 0.0 for c in numbered])] if numbered else None)


def worst_line(link: LinkResult) -> tuple[Line, Line]:
    """Utilisation and ending of the worst required check of a link."""
    checks = [c for c in link.checks if c.standing is Standing.REQUIRED]
    if not checks:
        return ("",), ("no check that decides",)
    missing = [c for c in checks if c.ending is Ending.NOT_CHECKED]
    worst = worst_of(checks)
    tail = f", {len(missing)} NOT CHECKED" if missing and worst is not None else ""
    if worst is None:
        return ("?",), (ending_text(Ending.NOT_CHECKED),)
    reason = f": {worst.reason}" if worst.eta is None else ""
    return (utilisation_text(worst),), (ending_text(worst.ending) + tail + reason,)
