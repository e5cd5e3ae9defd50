"""The front of the sheet: what a reader must find cold, in the order he needs it."""

from __future__ import annotations

from collections.abc import Iterator

import barrier
from barrier.load_path import Result, Walked
from barrier.result import Check, Ending, Finding, LinkResult, Standing
from barrier.sheet import caution
from barrier.sheet.blocks import (
    Bar, Bars, Block, Bullets, Definitions, Drawing, Heading, Inline, Line, Paragraph, Ref, Sym, Table, Token,
)  # fmt: skip
from barrier.sheet.calculation import Calculation
from barrier.sheet.equations import shown_name
from barrier.sheet.exclusions import NEVER_CHECKED
from barrier.sheet.numbers import FRONT, ending_text, utilisation_text
from barrier.sheet.origins import (
    Origins, all_values, assumptions, design_action, invented_entries, leaves_of, load_of, origins,
)  # fmt: skip
from barrier.value import Cell, JobEntry, Numerical, Step, Value

FEW = 5  # assumptions up front


def blocks(result: Result, calculation: Calculation) -> Iterator[Block]:
    """Caution to exclusions: everything before the calculation."""
    yield caution.first()
    yield from _in_short(result, calculation)
    yield from _what_was_checked(result)
    yield Drawing("elevation and section")
    yield from _links(result)
    yield from _question(result)
    yield from _assumptions(result)
    yield from _remembered(result)
    yield from _findings(result)
    yield from _situations(result)
    yield from _never()


# ---------------------------------------------------------------- in short


def _in_short(result: Result, calculation: Calculation) -> Iterator[Block]:
    yield Heading(1, ("In short",))
    check = result.governing
    rows: list[tuple[str, Line]] = []
    if check is None:
        rows.append(("Governs", ("no required check could be made; nothing governs because nothing is known",)))
    else:
        rows.append(("Load", _load(result, check, calculation)))
        rows.append(("Governs", _governs(check)))
        rows.extend(_formula(check, calculation))
    rows.append(("Not checked", _not_checked(result.sound)))
    rows.append(("Exceeds", _exceeds(result.sound)))
    yield Definitions(tuple(rows))


def _load(result: Result, check: Check, calculation: Calculation) -> Line:
    case = load_of(result, check)
    if case is None:
        return ("no load is in it: what governs is a size or a distance, the same under any load",)
    line: Line = (
        f"{case.title}, ", Token(case.action.size, 0, FRONT), f" characteristic ({case.action.source}); on the whole panel ",
        Token(case.resultant, 0, FRONT), " characteristic",
    )  # fmt: skip
    design = design_action(result, case)
    if design is None:
        return line
    factor = case.strength.factor
    item = calculation.ledger.find(design)
    ref: Line = (" ", Ref(item.label)) if item is not None else ()
    return (
        *line, ", ", Token(design, 0, FRONT), *ref, f" at the {case.strength.level} level (", Sym(factor.symbol), " = ",
        Token(factor, 0, FRONT), f", {case.strength.source})",
    )  # fmt: skip


def _governs(check: Check) -> Line:
    eta = f"utilisation {utilisation_text(check)}, " if check.eta is not None else ""
    reason = f": {check.reason}" if check.eta is None and check.reason else ""
    at = f"; {check.where}" if check.where else ""
    return (f"{check.title} ({check.id}): {eta}{ending_text(check.ending)}{reason}{at}",)


def _formula(check: Check, calculation: Calculation) -> Iterator[tuple[str, Line]]:
    """What is compared with what, by which step, from which source."""
    if check.utilisation is not None:
        item = calculation.ledger.add(check.utilisation, check.station)
        origin = item.origin
        assert isinstance(origin, Step)
        names: list[Inline] = []
        for name, part in item.inputs.items():
            names += [" over " if names else "", _words(part.value), " ", Sym(name), " = ", _front(part.token()), " ", Ref(part.label)]
        form: Line = (Sym(origin.equation.result.name), " = ", *names, ", step ", Ref(item.label))
        yield "Formula", form
    sources: list[tuple[str, Line]] = []
    for word, value in (("Demand by", check.demand), ("Resistance by", check.resistance)):
        if value is not None:
            item = calculation.ledger.add(value, check.station)
            sources.append((word, (_source(item.value), ", ", Ref(item.label))))
    yield from sources


def _front(token: Token) -> Token:
    return Token(token.value, token.station, FRONT, token.unit)


def _words(value: Value) -> str:
    origin = value.origin
    if isinstance(origin, Step):
        return origin.equation.title or shown_name(origin.equation.result.name)
    if isinstance(origin, Numerical):
        return origin.title
    if isinstance(origin, JobEntry):
        return f"the job's {origin.path}"
    assert isinstance(origin, Cell)
    return f"{origin.table} {origin.key}".strip()


def _source(value: Value) -> str:
    """How a value came about, and who says so."""
    origin = value.origin
    if isinstance(origin, Step):
        e = origin.equation
        return f"{e.title or 'equation'}: {e.source} ({e.provenance})"
    if isinstance(origin, Numerical):
        return f"{origin.title}: {origin.method} ({origin.source})"
    if isinstance(origin, JobEntry):
        return f'the job file: {origin.path} = "{origin.text}"' + (f", assumed: {origin.reason}" if origin.defaulted else "")
    assert isinstance(origin, Cell)
    return f"{origin.source} {origin.clause} ({origin.provenance})"


def _of(walked: Walked, ending: Ending, standing: Standing = Standing.REQUIRED) -> list[Check]:
    return [c for c in walked.checks if c.ending is ending and c.standing is standing]


def _not_checked(walked: Walked) -> Line:
    required = [c for c in walked.checks if c.standing is Standing.REQUIRED]
    missing = _of(walked, Ending.NOT_CHECKED)
    if not missing:
        return (f"none of the {len(required)} required checks; what this tool never checks is listed below",)
    names = "; ".join(c.title for c in missing)
    return (f"{len(missing)} of {len(required)} required checks: {names}. What this tool never checks comes on top",)


def _exceeds(walked: Walked) -> Line:
    over = _of(walked, Ending.EXCEEDS)
    required = [c for c in walked.checks if c.standing is Standing.REQUIRED]
    if not over:
        return (f"none of the {len(required)} required checks",)
    return (f"{len(over)} of {len(required)} required checks: " + "; ".join(c.title for c in over),)


# ---------------------------------------------------------------- what was checked


def _what_was_checked(result: Result) -> Iterator[Block]:
    job, basis = result.job, result.basis
    yield Heading(1, ("What was checked",))
    rows: list[tuple[str, Line]] = [
        ("Job", (job.title + (" (marked as invented)" if job.invented else ""),)),
        ("Date", (job.date or "not given in the job file",)),
        ("Fingerprint", (f"job file {job.fingerprint()}, tables {result.tables.fingerprint()}",)),
        ("Tool version", (barrier.__version__,)),
        ("Basis", (f"{basis.title}: {', '.join(basis.editions)}",)),
        ("Load table", (basis.national or "no national table named",)),
        ("Panels", tuple(_panels(result))),
    ]
    if job.changes:
        rows.append(("Changed", ("; ".join(f"{path} = {value}" for path, value in job.changes),)))
    if result.tables.replaced:
        rows.append(("Own figures", (f"{len(result.tables.replaced)} cells of the tables are replaced by the reader's own",)))
    yield Definitions(tuple(rows))


def _panels(result: Result) -> Iterator[Inline]:
    for i, panel in enumerate(result.job.panels):
        mounts = ", ".join(m.name for m in result.job.mounts_of(panel))
        yield f"{'; ' if i else ''}{panel.name} "
        yield Token(panel.width)
        yield " wide, "
        yield Token(panel.height)
        yield " high, "
        for j, layer in enumerate(panel.layers):
            yield " + " if j else ""
            yield Token(layer.nominal)
            yield f" {layer.glass}"
        yield f", on {mounts}"


# ---------------------------------------------------------------- the links


def _links(result: Result) -> Iterator[Block]:
    yield Heading(1, ("The links, from the hand down to the joist",))
    yield Paragraph(("The stroke │ stands at 1.00. ► governs. i informs and does not decide. ? is not known.",))
    for number, link in enumerate(result.links, 1):
        yield Bars(number, link.title, tuple(Bar(c, c is result.governing) for c in link.checks))


def _question(result: Result) -> Iterator[Block]:
    check = result.governing
    yield Heading(1, ("For the engineer: what is missing for the governing link",))
    if check is None:
        yield Paragraph(("Nothing could be compared. Which figures would you want first?",))
        return
    yield Paragraph((_main_question(check),))
    of = leaves_of(check)
    items: list[Line] = []
    for e in of.equations_of("memory"):
        items.append((f"Is this right? {e.title or shown_name(e.result.name)}: {e.source} is from memory.",))
    for v in of.cells_of("memory"):
        assert isinstance(v.origin, Cell)
        items.append((f"Is this right? {_place(v.origin)} = ", Token(v, 0, 4), f" ({v.origin.source}) is from memory.",))
    for v in of.entries:
        if isinstance(v.origin, JobEntry) and v.origin.defaulted:
            items.append((f'May it be assumed that {v.origin.path} = "{v.origin.text}"? ({v.origin.reason})',))
    missing = _of(result.sound, Ending.NOT_CHECKED)
    if missing:
        items.append((f"Could one of these govern instead? Not checked: {'; '.join(c.title for c in missing)}.",))
    if not items:
        items.append(("No figure of this check is from memory and none was assumed: is the model itself the right one here?",))
    yield Bullets(tuple(items))


def _main_question(check: Check) -> str:
    if check.eta is None:
        return f"{check.title} {ending_text(check.ending)}, and there is no number: {check.reason}. What would you put there?"
    verb = "Which change would you make first" if check.ending is Ending.EXCEEDS else "Is that enough here"
    return f"{check.title} comes to {utilisation_text(check)} ({ending_text(check.ending)}). {verb}, and is the following right?"


def _place(cell: Cell) -> str:
    column = cell.column if cell.column != "value" else ""
    return " · ".join(p for p in (cell.table, cell.key, column) if p)


# ---------------------------------------------------------------- what it rests on


def _assumptions(result: Result) -> Iterator[Block]:
    found = assumptions(result)
    yield Heading(1, ("Assumptions",))
    if not found:
        yield Paragraph(("None: every entry that is used was written in the job file.",))
        return
    if len(found) > FEW:
        yield Paragraph((f"The first {FEW} of {len(found)}; all stand in the appendix.",))
    yield Bullets(tuple(assumption(e) for e in found[:FEW]))


def assumption(entry: JobEntry) -> Line:
    """An assumption in words."""
    text = f'"{entry.text}"' if entry.text else "left empty"
    return (f"{entry.path} = {text}: {entry.reason}",)


def _remembered(result: Result) -> Iterator[Block]:
    of = origins(tuple(all_values(result.walked)))
    yield Heading(1, ("Remembered and invented figures",))
    yield Paragraph((
        "Complete for what the checks of this sheet rest on, in every situation. What is from memory must be confirmed in "
        "the document itself before anyone leans on it.",
    ))  # fmt: skip
    invented = invented_entries(of)
    rows: list[tuple[Line, ...]] = []
    if invented:
        rows.append((("invented",), (f"all {len(invented)} entries of the job file that are used",), ("",), ("the job says so",)))
    for provenance in ("invented", "memory", "common practice", "yours"):
        rows.extend(_doubtful(of, provenance))
    if rows:
        yield Table(("origin", "what", "figure", "said to be from"), tuple(rows), "llrl")
    else:
        yield Paragraph(("None.",))
    secondary = len(of.cells_of("secondary")) + len(of.equations_of("secondary"))
    if secondary:
        yield Paragraph((f"{secondary} more figures and equations were read in a copy or a quotation (secondary), not in the document.",))


def _doubtful(of: Origins, provenance: str) -> Iterator[tuple[Line, ...]]:
    for v in of.cells_of(provenance):
        assert isinstance(v.origin, Cell)
        yield (provenance,), (_place(v.origin),), (Token(v, 0, 4),), (f"{v.origin.source} {v.origin.clause}".strip(),)
    for e in of.equations_of(provenance):
        yield (provenance,), ("equation of ", Sym(e.result.name), f", {e.title}" if e.title else ""), ("",), (e.source,)


def _findings(result: Result) -> Iterator[Block]:
    every = list(dict.fromkeys(f for link in result.links for f in link.findings))
    if not every:
        return
    yield Heading(1, ("Findings",))
    ordered: list[Finding] = sorted(every, key=lambda f: not f.loud)
    items = tuple((f.text + (f" ({f.source})" if f.source else ""),) for f in ordered)
    yield Bullets(items, tuple(f.loud for f in ordered))


# ---------------------------------------------------------------- situations


def _situations(result: Result) -> Iterator[Block]:
    if len(result.walked) < 2:
        return
    yield Heading(1, ("Situations beside the job as described",))
    for walked in result.walked[1:]:
        situation = walked.situation
        changes = "; ".join(f"{path} = {'taken out' if value is None else value}" for path, value in situation.changes.items())
        words = f" {situation.words}." if situation.words else ""
        yield Heading(3, (f"{situation.name} ({situation.standing}): {ending_text(walked.ending)}",))
        yield Paragraph((f"Changed: {changes}.{words}",))
        rows = []
        for sound, other in zip(result.links, walked.links, strict=True):
            rows.append(((sound.title,), *_worst(sound), *_worst(other)))
        yield Table(("link", "sound", "ending", "then", "ending"), tuple(rows), "lrlrl")


def _worst(link: LinkResult) -> tuple[Line, Line]:
    """Utilisation and ending of the worst required check of a link."""
    checks = [c for c in link.checks if c.standing is Standing.REQUIRED]
    if not checks:
        return ("",), ("nothing to compare",)
    over = [c for c in checks if c.ending is Ending.EXCEEDS]
    missing = [c for c in checks if c.ending is Ending.NOT_CHECKED]
    numbered = [c for c in over or checks if c.eta is not None]
    unsolved = next((c for c in over if c.eta is None), None)
    worst = unsolved or max(numbered, key=lambda c: c.eta or 0.0, default=None)
    tail = f", {len(missing)} NOT CHECKED" if missing and worst is not None else ""
    if worst is None:
        return ("none",), (ending_text(Ending.NOT_CHECKED),)
    reason = f": {worst.reason}" if worst.eta is None else ""
    return (utilisation_text(worst),), (ending_text(worst.ending) + tail + reason,)


def _never() -> Iterator[Block]:
    yield Heading(1, ("What this tool never checks",))
    yield Bullets(tuple((what + (f": {more}" if more else ""),) for what, more in NEVER_CHECKED))
