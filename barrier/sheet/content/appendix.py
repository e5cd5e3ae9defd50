"""What the front left out: all assumptions, entries nobody reads, how well numerical methods closed, tables and their prints."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.editions import INDEX
from barrier.load_path import Result
from barrier.sheet.blocks import Block, Bullets, Heading, Line, Paragraph, Table
from barrier.sheet.content.calculation import Calculation
from barrier.sheet.content.front import assumption
from barrier.sheet.content.ledger import Item, is_model
from barrier.sheet.content.origins import assumptions
from barrier.sheet.numbers import residual_text
from barrier.sheet.source import fingerprints
from barrier.value import Cell, Numerical


def blocks(result: Result, calculation: Calculation) -> Iterator[Block]:
    """The appendix."""
    yield Heading(1, ("Appendix",))
    yield Heading(2, ("All assumptions",))
    found = assumptions(result)
    yield Bullets(tuple((f"{e.path}: ", *assumption(e, 0, result.job.units)) for e in found)) if found else Paragraph(("None.",))
    yield Heading(2, ("Entries of the job that this version does not use",))
    unread = result.job.unread()
    if unread:
        yield Bullets(tuple((f'{e.path} = "{e.text}": {e.reason}',) for e in unread))
    else:
        yield Paragraph(("None.",))
    yield from _residuals(calculation)
    yield from _tables(result, calculation)


def _residuals(calculation: Calculation) -> Iterator[Block]:
    items = [i for i in calculation.ledger.items if is_model(i) and _closed(i)]
    if not items:
        return
    yield Heading(2, ("How well the numerical methods closed",))
    rows: list[tuple[Line, ...]] = []
    for item in items:
        origin = item.origin
        assert isinstance(origin, Numerical)
        closed = residual_text(origin.residual) if origin.residual is not None else "not stated"
        hand: Line = (item.hand.token(),) if item.hand is not None else ("",)
        rows.append(((item.label,), (origin.title,), (item.token(),), (closed,), hand))
    yield Paragraph(("Where each was looked for stands with its number in the calculation.",))
    yield Table(("", "what", "result", "relative residual", "by hand"), tuple(rows), "llrlr")


def _closed(item: Item) -> bool:
    """Whether there is something to say of how a numerical result closed, or of an answer by hand beside it."""
    return item.hand is not None or (isinstance(item.origin, Numerical) and item.origin.residual is not None)


def _tables(result: Result, calculation: Calculation) -> Iterator[Block]:
    used: dict[str, int] = {}
    for item in calculation.ledger.items:
        if isinstance(item.origin, Cell) and item.origin.table:
            used[item.origin.table] = used.get(item.origin.table, 0) + 1
    yield Heading(2, ("Tables used",))
    rows: list[tuple[Line, ...]] = []
    prints = fingerprints(result.tables)
    for name, count in used.items():
        table = result.tables.table(name)
        rows.append(((name,), (table.title,), (table.edition,), (str(count),), (prints[name],)))
    if rows:
        yield Table(("table", "title", "edition", "lines", "fingerprint"), tuple(rows), "lllrl")
    others = [name for name in prints if name not in used]
    yield Paragraph(
        (f"All {len(prints)} tables together: {result.tables.fingerprint()}; {len(others)} of them are not used here.",)
    )
    yield from _own(result)


def _own(result: Result) -> Iterator[Block]:
    """Cells of the reader over ours, each with what it replaced, and rows the reader added."""
    first = {(c.table, c.key, c.column): c for c in reversed(result.tables.replaced)}  # ours, under several of the reader's
    items: list[Line] = []
    for name in dict.fromkeys(name for name, _ in result.tables.own if name != INDEX):
        table = result.tables.table(name)
        for row in table.rows:
            for column, cell in row.cells.items():
                if cell.provenance != "yours" or not cell.text:
                    continue
                place, ours = f"{name} · {row.key} · {column}", first.get((name, row.key, column))
                from_whom = " ".join(p for p in (cell.source, cell.clause) if p)
                before = f"replaces {ours.text or 'an empty cell'} ({ours.source})" if ours is not None else "a row of the reader"
                items.append((f"{place} = {cell.text} ({from_whom}); {before}",))
    if items:
        yield Heading(2, ("Replaced by the reader's own, or added",))
        yield Bullets(tuple(items))
