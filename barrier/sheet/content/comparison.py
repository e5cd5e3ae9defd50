"""The page of a comparison: links against bases, and what makes the largest differences."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.basis import FAMILIES
from barrier.compare import Comparison, Difference
from barrier.equation import Step
from barrier.load_path import Result
from barrier.result import Check, Ending, LinkResult, Standing
from barrier.sheet.alike import alike
from barrier.sheet.blocks import Block, Bullets, Content, Definitions, Formula, Heading, Inline, Line, Paragraph, Table, Token
from barrier.sheet.content import caution
from barrier.sheet.content.front import worst_of
from barrier.sheet.content.origins import load_of
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import ending_text, utilisation_text
from barrier.value import Cell, Value, source_of

FEW = 3  # differences that are explained


def comparison_content(found: Comparison) -> Content:
    """The comparison as blocks."""
    job = found.own.job
    return Content(
        (
            caution.first(),
            Heading(1, (f"Side by side: {job.title}",)),
            Paragraph((
                "The same barrier by several families of codes, for review and for teaching. It is no verdict and no choice: the "
                f"codes in force where the barrier stands decide. The basis that counts for this job is {_name(job.basis)}.",
            )),
            Definitions(tuple(
                (_counts(basis, i), (f"{r.basis.title}: {', '.join(r.basis.editions)}; use {r.job.site.use}",))
                for i, (basis, r) in enumerate(found.results)
            )),
            *_not_run(found),
            Heading(2, ("Loads and factors",)),
            *_loads(found),
            Heading(2, ("The links",)),
            Paragraph(("Utilisation of the worst required check of each link, and how many of its checks were not made.",)),
            _links(found),
            Heading(2, ("The largest differences",)),
            *_differences(found),
            *_treated_differently(found),
            Heading(2, ("Not checked, by basis",)),
            *_missing(found),
            caution.last(),
        ),
        job.units,
    )  # fmt: skip


def _counts(basis: str, index: int) -> str:
    return f"{basis} (counts)" if index == 0 else basis


def _name(basis: str) -> str:
    return FAMILIES[basis].title


def _not_run(found: Comparison) -> Iterator[Block]:
    if found.left_out and found.results[1:]:
        yield Bullets(tuple((f"{n.name} is not carried over to another basis: {n.why}.",) for n in found.left_out))
    if found.not_run:
        yield Bullets(tuple((f"{n.name} was not walked: {n.why}.",) for n in found.not_run), (True,) * len(found.not_run))


def _loads(found: Comparison) -> Iterator[Block]:
    """Each action as its code gives it, and the factor strength is checked with."""
    rows: list[tuple[Line, ...]] = []
    for basis, result in found.results:
        cases = [c for c in result.handed_on.cases if not c.parts]
        for c in {c.action.id: c for c in cases}.values():
            rows.append((
                (basis,), (c.action.title,), (Token(c.action.size),), (Token(c.strength.factor),), (c.strength.level,),
                (c.strength.duration,), (c.action.source,),
            ))  # fmt: skip
    yield Table(("basis", "action", "size", "factor", "level", "duration", "source"), tuple(rows), "llrrlll")


def _links(found: Comparison) -> Table:
    rows: list[tuple[Line, ...]] = []
    for links in zip(*(r.links for _, r in found.results), strict=True):
        rows.append(((links[0].title,), *(_cell(link) for link in links)))
    head = ("link", *(_counts(basis, i) for i, (basis, _) in enumerate(found.results)))
    return Table(head, tuple(rows), "l" * len(head))


def _cell(link: LinkResult) -> Line:
    checks = [c for c in link.checks if c.standing is Standing.REQUIRED]
    if not checks:
        return ("nothing to compare",)
    missing = sum(1 for c in checks if c.ending is Ending.NOT_CHECKED)
    worst = worst_of(checks)
    tail = f"; {missing} of {len(checks)} NOT CHECKED" if missing else ""
    if worst is None:
        return (f"NOT CHECKED ({missing})",)
    return (f"{utilisation_text(worst)} {ending_text(worst.ending)}{tail}",)


def _differences(found: Comparison) -> Iterator[Block]:
    differences = found.differences()
    if not differences:
        yield Paragraph(("No check has a number by more than one basis.",))
        return
    results = dict(found.results)
    for d in differences[:FEW]:
        sides = ((found.own.job.basis, d.own), (d.basis, d.other))
        titles = ", ".join(f"{utilisation_text(check)} by {basis}" for basis, check in sides)
        yield Heading(3, (f"{d.own.title}: {titles}",))
        yield Paragraph((
            f"{d.ratio:.2f} times the utilisation of the basis that counts: {_share(d, 'demand')} and {_share(d, 'resistance')}.",
        ))  # fmt: skip
        loads = tuple(_load(basis, results[basis], check) for basis, check in sides)
        made = tuple(
            _side(basis, word, check, _figures(other, word)) for word in ("demand", "resistance")
            for (basis, check), other in zip(sides, (d.other, d.own), strict=True)
        )  # fmt: skip
        yield Bullets(tuple(line for line in (*loads, *made) if line))


def _treated_differently(found: Comparison) -> Iterator[Block]:
    """What the families compared are known to treat differently: rows that name two of them, as far as the glass has it."""
    keys = {r.basis.key for _, r in found.results}
    own = found.results[0][1]
    laminated = any(len(p.layers) > 1 for p in found.own.job.panels)
    table = own.tables.table("differences")
    rows = [table.row(key) for key in table.keys]
    said = [
        (in_words(f"{r.text('statement')} ({r.text('source')}; {r.text('provenance')})", found.own.job.units),)
        for r in rows
        if len(keys & set(r.text("basis").split())) > 1 and (laminated or not r.text("glass"))
    ]
    if said:
        yield Heading(2, ("What they treat differently",))
        yield Bullets(tuple(said))


def _share(d: Difference, word: str) -> str:
    """How much of the difference a demand or a resistance makes, where both sides have one."""
    mine, theirs = getattr(d.own, word), getattr(d.other, word)
    if mine is None or theirs is None or not mine.at(d.own.station) or mine.kind != theirs.kind:
        return f"no {word} of its own on both sides"
    return f"{theirs.at(d.other.station) / mine.at(d.own.station):.2f} times the {word}"


def _load(basis: str, result: Result, check: Check) -> Line:
    """The load case behind a demand and the factor on it; nothing where no load is in it."""
    case = load_of(result, check)
    if case is None:
        return ()
    return (
        f"{basis}, load: {case.title}, ", Token(case.resultant), " on the whole panel, times ", Token(case.strength.factor),
        f"; taken as {case.strength.duration} for the {result.basis.duration_of}",
    )  # fmt: skip


def _side(basis: str, word: str, check: Check, elsewhere: dict[str, float]) -> Line:
    """A demand or resistance with its formula, and the figures of tables behind it that are not the same elsewhere."""
    value: Value | None = getattr(check, word)
    if value is None:
        return (f"{basis}, {word}: none of its own",)
    line: tuple[Inline, ...] = (f"{basis}, {word} ", Token(value, check.station))
    source, _ = source_of(value, check.station)
    if isinstance(source.origin, Step):
        equation = source.origin.equation
        line = (*line, ": ", Formula(equation), f" ({equation.source})")
    figures: list[Inline] = []
    for leaf in _leaves(value, check.station):
        if elsewhere.get(_of(leaf)) != leaf.at(0):
            figures.extend((", " if figures else "; with ", f"{_of(leaf)} = ", Token(leaf, 0, 4)))
    return (*line, *figures)


def _figures(check: Check, word: str) -> dict[str, float]:
    """The figures of tables behind a demand or resistance, by their names."""
    value: Value | None = getattr(check, word)
    return {} if value is None else {_of(leaf): leaf.at(0) for leaf in _leaves(value, check.station)}


def _leaves(value: Value, station: int) -> list[Value]:
    """Cells of tables behind a value at one of its stations, each once, those of codes only."""
    seen: dict[tuple[str, str, str], Value] = {}

    def visit(value: Value, station: int) -> None:
        value, station = source_of(value, station if value.stations > 1 else 0)
        origin = value.origin
        if isinstance(origin, Cell) and origin.provenance not in ("common practice", "computed"):
            seen.setdefault((origin.table, origin.key, origin.column), value)
        for v in origin.inputs.values():
            visit(v, station)

    visit(value, station)
    return list(seen.values())


def _of(value: Value) -> str:
    """A figure of a table by name: its row, and its column where that says more than value."""
    origin = value.origin
    assert isinstance(origin, Cell)
    return origin.key if origin.column == "value" else f"{origin.column} of {origin.key}"


def _missing(found: Comparison) -> Iterator[Block]:
    """What each basis did not check, gathered by reason; mounts that fare alike are named once."""
    for basis, result in found.results:
        same = alike(result.sound)
        by_reason: dict[str, list[str]] = {}
        for c in result.sound.checks:
            if c.standing is Standing.REQUIRED and c.ending is Ending.NOT_CHECKED and same.repeats(c) is None:
                by_reason.setdefault(c.reason, []).append(same.title(c))
        if by_reason:
            yield Paragraph((f"{basis}:",))
            yield Bullets(tuple((f"{reason}: {'; '.join(titles)}",) for reason, titles in by_reason.items()))
        else:
            yield Paragraph((f"{basis}: every required check was made.",))
