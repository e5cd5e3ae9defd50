"""The calculation, link by link: entries and table lines first, then every step of every check, inputs before use.

Only the job as described is written out; situations are walked by the same equations and stand beside it in a table.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barrier.links.loads.cases import Case
from barrier.load_path import Result
from barrier.result import Check, LinkResult, Shown
from barrier.sheet.alike import alike, shown_alike
from barrier.sheet.blocks import Block, Bullets, Heading, Line, Paragraph, Ref, Sym, Table, Token
from barrier.sheet.content import at_once
from barrier.sheet.content.ledger import Item, Ledger
from barrier.sheet.drawings import plan, slip_map, stress_map
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import ending_text, utilisation_text
from barrier.value import Cell, JobEntry, Value

# Under the heading of the link they show.
PICTURES = {"glass": (stress_map.drawings, slip_map.drawings), "base_plate": (plan.drawings,)}
TITLE = "The calculation, link by link"


@dataclass(frozen=True, slots=True, eq=False)
class Written:
    """One check or shown value with the items that are new with it."""

    subject: Check | Shown
    items: tuple[Item, ...]
    repeats: Check | Shown | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Calculation:
    """The ledger of a result, and link by link what each check and each shown value brought into it."""

    ledger: Ledger
    links: tuple[tuple[LinkResult, tuple[Written, ...]], ...]


def calculate(result: Result) -> Calculation:
    """Enter everything the checks and shown values of the job as described rest on into one ledger."""
    ledger = Ledger(result.job.units)
    links: list[tuple[LinkResult, tuple[Written, ...]]] = []
    same, worst_at_once = alike(result.sound), at_once.worst_of(result.sound.checks)
    for link in result.links:
        written: list[Written] = []
        subjects: tuple[Check | Shown, ...] = (*link.shown, *link.checks)
        again = shown_alike(link.shown)
        for i, subject in enumerate(subjects):
            if isinstance(subject, Check) and subject.about.at_once and subject is not worst_at_once:
                continue  # it has its line in a table of its own
            first = same.repeats(subject) if isinstance(subject, Check) else again.get(i)
            if first is not None:
                written.append(Written(subject, (), first))
                continue
            before = len(ledger.items)
            for value in values_of(subject):
                ledger.add(value, subject.station)
            written.append(Written(subject, tuple(ledger.items[before:])))
        links.append((link, tuple(written)))
    ledger.settle_digits()
    return Calculation(ledger, tuple(links))


def values_of(subject: Check | Shown) -> tuple[Value, ...]:
    """What a check compares, or the value shown."""
    if isinstance(subject, Shown):
        return (subject.value,)
    return tuple(v for v in (subject.demand, subject.resistance, subject.utilisation) if v is not None)


# ---------------------------------------------------------------- blocks


def blocks(calculation: Calculation, result: Result) -> Iterator[Block]:
    """The calculation part of the sheet."""
    ledger = calculation.ledger
    yield Heading(1, (TITLE,))
    yield Paragraph((
        "Each step has a number. Under it stand the equation in the order of its clause, the same with numbers, the "
        "result, and where each number is found: J an entry of the job, T a line of a table, N a numerical method, "
        "[ ] an earlier step. The printed numbers give the printed result within 0.5 %. Numerical methods closed to "
        "0.000 000 01 of themselves where nothing else is said. Angles are in rad.",
    ))  # fmt: skip
    yield Paragraph((
        "How stiff things are is not known well, so every check is made with soft and stiff ones and keeps its worst: pads between "
        "clamp and glass, bases (all a clamp stands on), bed (the timber under a base plate), screws along their axis.",
    ))  # fmt: skip
    yield from _given(ledger, JobEntry, "Entries of the job that are used")
    yield from _given(ledger, Cell, "Lines of tables that are used")
    for number, (link, written) in enumerate(calculation.links, 1):
        yield Heading(2, (f"{number}  {link.title}",))
        if link.id == "actions":
            yield from _cases(result.handed_on.cases)
        elif link.id == "rail":
            yield from _cases(result.handed_on.run_cases, {c.case for c in result.sound.checks})
        for drawings in PICTURES.get(link.id, ()):
            yield from drawings(result)
        own = tuple(w for w in written if w.repeats is None)
        for w in own:
            if w.items or isinstance(w.subject, Check):
                yield from _written(w, ledger)
        again = tuple(_shown_again(w.subject, ledger) for w in own if isinstance(w.subject, Shown) and not w.items)
        if again:
            yield Paragraph(("Shown beside, from the same steps:",))
            yield Bullets(again)
        yield from _repeated(written)
        yield from _differences(link, result)
        if not written:
            yield Paragraph(("Nothing was calculated here.",))


def _differences(link: LinkResult, result: Result) -> Iterator[Block]:
    """What sources disagree on or do not cover, where it bears on this link, this basis and this glass."""
    laminated = any(len(p.layers) > 1 for p in result.job.panels)
    table, items = result.tables.table("differences"), []
    for key in table.keys:
        row = table.row(key)
        families = row.text("basis").split()
        here = row.text("bears_on") == link.id and (not families or result.basis.key in families)
        if here and (not row.text("glass") or laminated):
            words = f"{row.text('statement')} ({row.text('source')}; {row.text('provenance')})"
            items.append((in_words(words, result.job.units),))
    if items:
        yield Heading(3, ("Where sources differ or are silent",))
        yield Bullets(tuple(items))


def _given(ledger: Ledger, origin: type, title: str) -> Iterator[Block]:
    items = [i for i in ledger.items if isinstance(i.origin, origin)]
    if items:
        yield Heading(2, (title,))
        yield from (ledger.block(i) for i in items)


def _written(w: Written, ledger: Ledger) -> Iterator[Block]:
    subject = w.subject
    if isinstance(subject, Shown):
        yield Heading(3, (subject.title,))
        yield from _items(w.items, ledger)
        item = ledger.add(subject.value, subject.station)
        shown: Line = (*_equals(item, subject.value), *((f"; {subject.remark}",) if subject.remark else ()))
        yield Paragraph(("Shown beside, not compared: ", *shown))
        return
    yield Heading(3, (f"{subject.id} · {subject.title}",))
    if subject.where:
        yield Paragraph((f"at {subject.where}",))
    yield from _items(w.items, ledger)
    yield Paragraph(verdict(subject, ledger))


def _repeated(written: Sequence[Written]) -> Iterator[Block]:
    """What says of another mount the same as was said of the first."""
    items: list[Line] = []
    for w in written:
        if isinstance(w.subject, Check) and isinstance(w.repeats, Check):
            eta, ending = utilisation_text(w.subject), ending_text(w.subject.ending)
            items.append((f"{w.subject.id}: {eta} {ending}, as {w.repeats.id}",))
        elif isinstance(w.subject, Shown) and isinstance(w.repeats, Shown):
            items.append((f"{w.subject.title}, as {w.repeats.title}",))
    if items:
        yield Heading(3, ("The same figures and ending for another mount",))
        yield Bullets(tuple(items))


def _shown_again(shown: Shown, ledger: Ledger) -> Line:
    remark = f"; {shown.remark}" if shown.remark else ""
    return (f"{shown.title}: ", *_equals(ledger.add(shown.value, shown.station), shown.value), remark)


def _items(items: tuple[Item, ...], ledger: Ledger) -> Iterator[Block]:
    yield from (ledger.block(i) for i in items if not isinstance(i.origin, (JobEntry, Cell)))


def _equals(item: Item, value: Value) -> Line:
    name: Line = (Sym(value.symbol), " = ") if value.symbol else ()
    return (*name, item.token(), " ", Ref(item.label))


def verdict(check: Check, ledger: Ledger) -> Line:
    """How a check ends, with the numbers it compares and where they stand."""
    parts: list[Line] = []
    for word, value in (("demand ", check.demand), ("resistance ", check.resistance)):
        if value is not None:
            parts.append((word, *_equals(ledger.add(value, check.station), value), ", "))
    line: Line = tuple(p for part in parts for p in part)
    if check.utilisation is not None:
        item = ledger.add(check.utilisation, check.station)
        line = (*line, "utilisation ", utilisation_text(check), " ", Ref(item.label), ": ")
    reason = f" ({check.reason})" if check.reason else ""
    return ("Ending: ", *line, ending_text(check.ending), reason)


def as_given(case: Case) -> Line:
    """The size of a case as its code or the reader gives it; of two actions at once both."""
    sizes = [p.case.action.size for p in case.parts] or [case.action.size]
    return tuple(part for i, s in enumerate(sizes) for part in ((" and " if i else ""), Token(s, 0, 4)) if part)


def _cases(every: Sequence[Case], only: set[str] | None = None) -> Iterator[Block]:
    """The cases a link hands on; ``only`` those of these ids, where there are too many to print."""
    cases = tuple(c for c in every if only is None or c.id in only)
    if not cases:
        return
    if len(cases) < len(every):
        more = len(every) - len(cases)
        yield Paragraph(
            (f"Printed are the cases a check is worst at; {more} more, at every place of the rail, were calculated alike.",)
        )
    rows: list[tuple[Line, ...]] = []
    combinations: dict[str, tuple[Line, ...]] = {}
    for c in cases:
        rows.append((
            (c.title,), as_given(c), (Token(c.resultant, 0, 4),), (Token(c.height, 0, 4),),
            (c.strength.id,), (str(c.standing),),
        ))  # fmt: skip
        for k in (c.strength, c.service):
            combinations[k.id] = (
                (k.id,), (Sym(k.factor.symbol), " = ", Token(k.factor, 0, 4)), (k.level,), (k.duration,), (k.source,)
            )  # fmt: skip
    sources = dict.fromkeys((c.action.title, c.action.source) for c in cases)
    at_once = " Of two actions at once the whole panel takes both, each with its share." if any(c.parts for c in cases) else ""
    yield Paragraph((f"Load cases, outward and inward. Heights are above the bottom edge of the glass.{at_once}",))
    yield Table(("case", "as given", "whole panel", "at height", "combination", "standing"), tuple(rows), "lrrrll")
    yield Bullets(tuple((f"{title}: {source}",) for title, source in sources))
    yield Paragraph(("Combinations",))
    yield Table(("combination", "factor", "level", "timber duration", "source"), tuple(combinations.values()), "lllll")
