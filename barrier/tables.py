"""The tables: every published load, strength and factor with its source; the set of them, with the reader's own laid over.

The grammar of a file is that of :mod:`barrier.table_file`. An *overlay* is a folder of the reader's own files, named like
ours and in the same grammar. Its rows replace ours cell by cell (an empty cell leaves ours alone) and carry the provenance
``yours``; ``source`` is required, and a key that is not ours must be announced by a line ``# adds: the key``, or a misspelt
factor would sit there unread. A table of a new name is one that an edition brings (:mod:`barrier.editions`): the folder has
an ``index.toml`` that says so, as ours does.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from importlib.abc import Traversable
from pathlib import Path

from barrier.editions import INDEX, Edition, read_editions
from barrier.errors import TableRefused, UnknownRow
from barrier.shipped import CURE, root, titles
from barrier.table_file import ROUNDING, Column, Match, Reader, Row, TableOfValues, read_table
from barrier.value import Cell, Value

__all__ = ["ROUNDING", "Column", "Match", "Row", "TableOfValues", "Tables", "read_table", "root"]


def _laid_over(ours: TableOfValues, reader: Reader, text: str) -> tuple[TableOfValues, list[Cell]]:
    """Our table with the cells of a reader's text over it, and our cells that they replaced."""
    theirs = reader.table(text)
    columns = {c.name: c for c in ours.columns}
    for column in theirs.columns:
        own = columns.get(column.name)
        if own is None:
            unknown = UnknownRow(f"table {ours.name}", "column", column.name, tuple(columns))
            raise reader.refusal(column.line, str(unknown))
        if own.kind != column.kind:
            raise reader.refusal(column.line, f"column {column.name} is of kind {own.kind}, not {column.kind}")
    for key, at in theirs.adds.items():
        if key in ours.keys or key not in theirs.keys:
            fault = "is ours already" if key in ours.keys else "has no row"
            raise reader.refusal(at, f"adds {key!r}, which {fault}")
    rows, replaced = {r.key: r for r in ours.rows}, []
    for row in theirs.rows:
        base = rows.get(row.key)
        if base is None and row.key not in theirs.adds:
            fault = str(UnknownRow(f"table {ours.name}", "row", row.key, ours.keys))
            raise reader.refusal(row.line, f"{fault}; if it is new, say so above: # adds: {row.key}")
        laid = {name: cell for name, cell in row.cells.items() if cell.text}
        if not laid:
            raise reader.refusal(row.line, f"row {row.key!r} gives nothing")
        numbers = {
            name: reader.number(laid[name].text, row.columns[name], columns[name], row.key, row.line) for name in row.numbers
        }
        for name in numbers:
            if (unit := row.columns[name].unit) != columns[name].unit:
                laid[name] = replace(laid[name], text=f"{laid[name].text} {unit}")
        if base is None:
            base = Row(ours.name, theirs.edition, row.key, row.line, columns, row.texts, {})
        else:
            replaced += [base.cells[name] for name in laid]
        rows[row.key] = replace(base, numbers={**base.numbers, **numbers}, laid={**base.laid, **laid})
    return replace(ours, rows=tuple(rows.values())), replaced


def _like(usual: TableOfValues | None, reader: Reader, text: str) -> TableOfValues:
    """A whole table of the reader's own, which has the columns of the one it stands in place of; cells of them may be empty."""
    table = reader.table(text)
    if not (table.title and table.edition and table.about):
        raise reader.refusal(1, "a new table opens with its title, edition and about")
    if table.adds:
        raise reader.refusal(min(table.adds.values()), "a new table adds nothing to another: all of its rows are new")
    if usual is None:
        return table
    columns = {c.name: c for c in table.columns}
    for own in usual.columns:
        theirs = columns.get(own.name)
        if theirs is None or theirs.kind != own.kind:
            fault = "is missing" if theirs is None else f"is of kind {theirs.kind}, not {own.kind}"
            raise reader.refusal(1, f"column {own.name} {fault}: an edition has the columns of {usual.name}; a cell may be empty")
    return table


@cache
def _bundled(name: str) -> TableOfValues:
    place = root() / f"{name}.csv"
    reader = Reader(name, str(place), False)
    try:
        text = reader.text(place)
        if text and not text.endswith("\n"):  # what somebody writes by hand may end so, ours do not
            raise reader.refusal(len(text.splitlines()), "the file is cut off in this line")
        return reader.table(text)
    except TableRefused as fault:
        raise TableRefused(f"{fault}; {CURE}") from None


class Tables:
    """The bundled tables, with the reader's own rows laid over them.

    ``overlays`` folders of the reader's files, a later one over an earlier; they are read and validated here, ours
    only when asked for. ``folder`` another set of tables instead of the bundled one. Raises TableRefused.

    >>> Tables().value("en1995_k_mod", "SC3 short-term", "k_mod").x
    0.7
    """

    def __init__(self, overlays: Sequence[Path] = (), folder: Traversable | None = None) -> None:
        self._folder = folder
        self._index = titles(folder or root())
        self.editions = read_editions((folder or root()) / f"{INDEX}.toml", f"{INDEX}.toml")[0]
        self._held: dict[str, TableOfValues] = {}
        self._replaced: list[Cell] = []
        self.own: list[tuple[str, str]] = []  # the reader's files as laid over ours, in order: table and text
        for overlay in overlays:
            found = sorted(overlay.glob("*.csv")) if overlay.is_dir() else []
            if not found:
                raise TableRefused(f"{overlay}: no folder with table files; they are named like ours (site.csv)")
            brought = self._bring(overlay)
            for file in (f for f in found if f.stem not in brought):
                try:
                    ours = self.table(file.stem)
                except UnknownRow as fault:
                    raise TableRefused(f"{file}: {fault}") from None
                reader = Reader(ours.name, str(file), True)
                text = reader.text(file)  # once: what the sheet carries is what was laid over
                self._held[file.stem], replaced = _laid_over(ours, reader, text)
                self._replaced += replaced
                self.own.append((file.stem, text))

    def _bring(self, overlay: Path) -> frozenset[str]:
        """Take in the editions a reader's folder lists and the tables it has for them; returns the names of those."""
        index = overlay / f"{INDEX}.toml"
        if not index.exists():
            return frozenset()
        more, text = read_editions(index, str(index))
        self.editions = self.editions.with_(more, str(index))
        self.own.append((INDEX, text))
        new: dict[str, Edition] = {}
        for edition in more.all:
            for name in edition.tables.values():
                if name not in self._index:
                    new[name] = edition
        for name, edition in new.items():
            place = overlay / f"{name}.csv"
            text = Reader(name, str(place), True).text(place)
            self._held[name] = _like(self._sibling(edition, name), Reader(name, str(place), True), text)
            self._index[name] = self._held[name].title
            self.own.append((name, text))
        return frozenset(new)

    def _sibling(self, edition: Edition, name: str) -> TableOfValues | None:
        """The table of the usual edition that a new one stands in place of."""
        usual = self.editions.sibling(edition)
        part = next(part for part, table in edition.tables.items() if table == name)
        return None if usual is None or usual is edition else self.table(usual.tables[part])

    def names(self) -> tuple[str, ...]:
        """Names of the tables, in the order of the index."""
        return tuple(self._index)

    def table(self, name: str) -> TableOfValues:
        """A table by name, read on first use. Raises UnknownRow, naming the nearest; TableRefused if it is faulty."""
        if name not in self._index:
            raise UnknownRow("the set of tables", "table", name, self.names())
        if name not in self._held:
            self._held[name] = _bundled(name) if self._folder is None else read_table(self._folder / f"{name}.csv")
        return self._held[name]

    def value(self, name: str, key: str, column: str = "value") -> Value:
        """One number by table, key and column. Raises UnknownRow, also where the cell is empty."""
        row = self.table(name).row(key)
        found = row.value(column)
        if found is None:
            raise UnknownRow(f"table {name}, row {key}", "figure in column", column, list(row.numbers))
        return found

    def search(self, word: str) -> tuple[Match, ...]:
        """Where a word stands in any table."""
        return tuple(m for name in self.names() for m in self.table(name).search(word))

    def fingerprint(self) -> str:
        """Twelve hexadecimal digits that change with any cell, source or note of any table, overlays included."""
        digest = hashlib.sha256()
        for name in sorted(self.names()):
            digest.update(self.table(name).canonical.encode() + b"\n")
        for text in (text for name, text in self.own if name == INDEX):
            digest.update(text.encode())
        return digest.hexdigest()[:12]

    @property
    def replaced(self) -> tuple[Cell, ...]:
        """Our cells that overlays replaced."""
        return tuple(self._replaced)
