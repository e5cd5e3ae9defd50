"""Tables of values as text: one table whole, the list of them, what a search found."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from operator import itemgetter

from barrier.sheet.numbers import NBSP, unit_text
from barrier.sheet.plain_words import finished, padded, printable, width, wrapped
from barrier.tables import Column, Match, Row, TableOfValues, Tables

WIDTH = 100
GAP = "  "


def text_of_table(table: TableOfValues) -> str:
    """A table whole: title, edition, what it is about, its columns, and row by row the figures and where they are from.

    Figures are printed as they stand in the file, in the unit of their column; an empty cell is a dash.
    """
    return finished(list(_table(table)))


def _table(table: TableOfValues) -> Iterator[str]:
    yield printable(table.title)
    yield "═" * WIDTH
    yield from wrapped(printable(f"table {table.name} · {table.edition}"), WIDTH)
    yield from wrapped(printable(table.about), WIDTH)
    yield ""
    for column in table.columns:
        words = f": {column.words}" if column.words else ""
        yield from wrapped(printable(f"{column.name} ({_kind(column)}){words}"), WIDTH, 4)
    yield "Where a row, or several together, are from stands under them."
    yield ""
    rows = [[printable(_cell(row, c)) for c in table.columns] for row in table.rows]
    head = [c.name + (f"{NBSP}({unit_text(c.unit)})" if c.numeric and c.unit else "") for c in table.columns]
    yield from _grid(head, rows, [c.numeric for c in table.columns], [_origin(r) for r in table.rows])


def _kind(column: Column) -> str:
    if not column.numeric:
        return column.kind
    return f"{column.kind} in {column.unit}" if column.unit else column.kind


def _cell(row: Row, column: Column) -> str:
    return (row.key if column.kind == "key" else row.text(column.name)) or "–"


def _origin(row: Row) -> str:
    return printable(" · ".join(p for p in (row.text("source"), row.text("clause"), row.text("provenance"), row.text("note")) if p))


def _grid(head: list[str], rows: list[list[str]], right: list[bool], origins: list[str]) -> Iterator[str]:
    """Rows in columns, or a cell a line where those do not fit; an origin stands under the rows it is common to."""
    widths = [max(width(r[i]) for r in [head, *rows]) for i in range(len(head))]
    fits = sum(widths) + len(GAP) * (len(widths) - 1) <= WIDTH
    if fits:
        yield GAP.join(padded(h, w, r) for h, w, r in zip(head, widths, right, strict=True))
        yield GAP.join("─" * w for w in widths)
    for origin, group in groupby(zip(rows, origins, strict=True), key=itemgetter(1)):
        for row, _ in group:
            if fits:
                yield GAP.join(padded(c, w, r) for c, w, r in zip(row, widths, right, strict=True))
            else:
                yield from _written_out(head, row)
        yield from (f"      {line}" for line in wrapped(origin, WIDTH - 6))


def _written_out(head: list[str], row: list[str]) -> Iterator[str]:
    yield from wrapped(row[0], WIDTH, 2)
    for name, text in list(zip(head, row, strict=True))[1:]:
        if text != "–":
            yield from wrapped(f"{NBSP * 4}{name}: {text}", WIDTH, 6)


def text_of_list(library: Tables) -> str:
    """Names and titles of all tables, the editions a job may choose, and how to see a table."""
    titles = {name: library.table(name).title for name in library.names()}
    left = max(width(name) for name in titles) + 2
    lines = [padded(name, left) + printable(title) for name, title in titles.items()]
    return finished(
        [*lines, "", *_editions(library), "", "One of them: barrier tables NAME. A word in any: barrier tables --search WORD"]
    )


def _editions(library: Tables) -> Iterator[str]:
    """What a job may write under [editions], by family and subject; the first is taken where it says nothing."""
    yield "Editions, for [editions] of a job; the first is the usual one:"
    for (family, what), editions in groupby(library.editions.all, key=lambda e: (e.family, e.what)):
        named = (f'"{e.name}" {e.title}' for e in editions)
        yield from wrapped(printable(f"basis {family}, {what}: {', '.join(named)}"), WIDTH, 4)


def text_of_search(matches: Sequence[Match]) -> str:
    """What a search found: table, row, column and the text there."""
    if not matches:
        return finished(["nothing found; try a shorter word, or a table name after: barrier tables"])
    lines: list[str] = []
    for m in matches:
        place = " · ".join(p for p in (m.table, m.key, m.column) if p)
        lines.extend(wrapped(printable(f"{place}: {m.text}"), WIDTH, 4))
    return finished([*lines, "", f"{len(matches)} found"])
