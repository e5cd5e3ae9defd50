"""A table as it stands in a file: columns with kind, unit and range, rows of cells with their origin, and their strict reader.

A table is a CSV file that opens with its own grammar::

    # Title
    # edition: document and edition
    # about: what it holds and what it does not (the line may be repeated)
    # column class: key
    # column f_m_k: stress in MPa, 10 to 90; what the figure is
    # column remark: text
    class,f_m_k,remark,source,clause,provenance,note

A column is the ``key``, ``text``, or one of :data:`barrier.units.KINDS` with the unit its cells are written in and the
range they must lie in. An empty cell is *not given*. Whatever breaks a rule is refused with file and line.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from importlib.abc import Traversable
from pathlib import Path

from barrier.errors import TableRefused, UnknownRow
from barrier.reading import Unreadable, bytes_of
from barrier.units import KINDS, UNITS, units_of
from barrier.value import PROVENANCES, Cell, Value, provenance_fault, provenance_of

META = ("source", "clause", "provenance", "note")
ROUNDING = 1e-9  # relative; a bound written in mm and a cell written in inches meet in binary fractions
LARGEST = 1_000_000  # bytes of a reader's own table; ours have a few thousand
_NUMBER = r"[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?"
_CELL = re.compile(_NUMBER, re.ASCII)
_COLUMN = re.compile(
    r"column (?P<name>[A-Za-z]\w*): (?P<kind>[a-z][a-z ]*?)(?: in (?P<unit>[^,;]+))?"
    rf"(?:, (?P<low>{_NUMBER}) to (?P<high>{_NUMBER}))?(?:; (?P<words>.+))?",
    re.ASCII,
)


@dataclass(frozen=True, slots=True)
class Column:
    """A column: name, kind (``key``, ``text`` or a kind of quantity), unit of its cells, their range in that unit."""

    name: str
    kind: str
    unit: str = ""
    low: float = float("-inf")
    high: float = float("inf")
    words: str = ""
    line: int = 0

    @property
    def numeric(self) -> bool:
        """Whether its cells are numbers."""
        return self.kind in KINDS

    def holds(self, x: float) -> bool:
        """Whether a number in base units lies in the range."""
        low, high = (bound * UNITS[self.unit].factor for bound in (self.low, self.high))
        return low - ROUNDING * abs(low) <= x <= high + ROUNDING * abs(high)


@dataclass(frozen=True, slots=True)
class Match:
    """A place where a searched word stands; ``key`` and ``column`` are empty where it is the head of the table."""

    table: str
    key: str
    column: str
    text: str


@dataclass(frozen=True, eq=False)
class Row:
    """A row: its texts as they stand there, its numbers in base units where given, and the reader's cells over it."""

    table: str
    edition: str
    key: str
    line: int
    columns: Mapping[str, Column]
    texts: Mapping[str, str]
    numbers: Mapping[str, float]
    laid: Mapping[str, Cell] = field(default_factory=dict)

    @cached_property
    def cells(self) -> Mapping[str, Cell]:
        """The cells of numbers and texts by column, each with its origin."""
        source, clause, provenance, note = (self.texts.get(m, "") for m in META)
        names = [c.name for c in self.columns.values() if c.kind != "key"]
        of = {n: (source, clause, provenance_of(provenance, n), note, self.edition) for n in names}
        return {n: Cell(self.table, self.key, n, self.texts.get(n, ""), *of[n]) for n in names} | dict(self.laid)

    @cached_property
    def _values(self) -> Mapping[str, Value]:
        """The numbers by column; a walk asks for some of them a hundred times."""
        symbols = {c: self.key if c == "value" else c for c in self.numbers}
        return {c: Value(x, self.columns[c].kind, self.cells[c], symbols[c]) for c, x in self.numbers.items()}

    def value(self, column: str) -> Value | None:
        """The number in a column, in base units, with the cell as its origin; None where the cell is empty.

        >>> from barrier.tables import Tables
        >>> value = Tables().table("timber_en338_2016").row("C24").value("f_c_90_k")
        >>> value.x, value.kind, value.origin.provenance
        (2.5, 'stress', 'secondary')

        Raises UnknownRow for a column that is not there or is not of numbers.
        """
        if column in self.numbers:
            return self._values[column]
        numeric = [c.name for c in self.columns.values() if c.numeric]
        if column not in numeric:
            raise UnknownRow(f"table {self.table}", "column of numbers", column, numeric)
        return None

    def text(self, column: str) -> str:
        """The text of any column as it stands there; of source, clause, provenance and note, those of all its cells.

        Raises UnknownRow for a column that is not there.
        """
        if column in META:
            return "; ".join(filter(None, dict.fromkeys(getattr(c, column) for c in self.cells.values())))
        if column not in self.columns:
            raise UnknownRow(f"table {self.table}", "column", column, [*self.columns, *META])
        return self.cells[column].text if column in self.cells else self.key


@dataclass(frozen=True, eq=False)
class TableOfValues:
    """A table: name, title, edition, what it is about, its columns and its rows; the new keys an overlay announces."""

    name: str
    title: str
    edition: str
    about: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    adds: Mapping[str, int] = field(default_factory=dict)

    @cached_property
    def _by_key(self) -> Mapping[str, Row]:
        return {r.key: r for r in self.rows}

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys, in the order of the file."""
        return tuple(self._by_key)

    def row(self, key: str) -> Row:
        """The row of a key. Raises UnknownRow, naming the nearest keys."""
        try:
            return self._by_key[key]
        except KeyError:
            raise UnknownRow(f"table {self.name}", "row", key, self.keys) from None

    def search(self, word: str) -> tuple[Match, ...]:
        """Where a word stands (any case): the head once, then each row once, at the first column that has it.

        >>> from barrier.tables import Tables
        >>> [m.key for m in Tables().table("en1995_factors").search("glulam")]
        ['gamma_M_glulam', 'k_cr', 'k_m']
        """
        word, found = word.casefold(), []
        head = (self.name, self.title, self.edition, self.about, *(f"{c.name}: {c.words}" for c in self.columns))
        if (text := next((h for h in head if word in h.casefold()), None)) is not None:
            found.append(Match(self.name, "", "", text))
        texts = (*(c.name for c in self.columns if not c.numeric), *META)
        for row in self.rows:
            column = next((c for c in texts if word in row.text(c).casefold()), None)
            if column is not None:
                found.append(Match(self.name, row.key, column, row.text(column)))
        return tuple(found)

    @cached_property
    def canonical(self) -> str:
        """Every cell with its unit and origin, in an order that does not depend on the order of the rows."""
        names = [f.name for f in fields(Cell)]
        return "\n".join(
            "\x1f".join((row.columns[c.column].unit, *(getattr(c, n) for n in names)))
            for row in sorted(self.rows, key=lambda r: r.key)
            for c in row.cells.values()
        )


def read_table(place: Traversable, shown: str = "", overlay: bool = False) -> TableOfValues:
    """Read and validate one table file.

    ``place`` the file, its name without ``.csv`` is the name of the table; ``shown`` the name it has in a refusal;
    ``overlay`` whether it is a reader's own (ranges, title, edition, about, clause, provenance and note may then be
    left out). Raises TableRefused.
    """
    reader = Reader(place.name.removesuffix(".csv"), shown or place.name, overlay)
    return reader.table(reader.text(place))


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads the lines of one file: ``name`` of the table, ``shown`` name of the file, ``overlay`` the reader's own."""

    name: str
    shown: str
    overlay: bool

    def refusal(self, at: int, text: str) -> TableRefused:
        return TableRefused(f"{self.shown}:{at}: {text}")

    def text(self, place: Traversable) -> str:
        """The text of the file, to its end."""
        try:
            data = bytes_of(place, LARGEST, "a table") if isinstance(place, Path) else place.read_bytes()
            return data.decode("utf-8-sig")
        except (Unreadable, OSError, UnicodeDecodeError) as fault:
            raise self.refusal(1, f"cannot be read as UTF-8 text: {fault}") from None

    def table(self, text: str) -> TableOfValues:
        lines = text.splitlines()
        body = next((i for i, text in enumerate(lines) if not text.startswith("#")), len(lines))
        table = self.head(lines[:body])
        columns = {c.name: c for c in table.columns}
        names = self.header(tuple(columns), lines[body] if body < len(lines) else "", body + 1)
        rows: dict[str, Row] = {}
        for at, line in enumerate(lines[body + 1 :], body + 2):
            row = self.row(table, columns, names, line, at)
            if row.key in rows:
                raise self.refusal(at, f"duplicate key {row.key!r}, first on line {rows[row.key].line}")
            rows[row.key] = row
        if not rows:
            raise self.refusal(body + 1, "no row follows the header")
        return replace(table, rows=tuple(rows.values()))

    def head(self, lines: Sequence[str]) -> TableOfValues:
        """The table without its rows, from the comment lines."""
        title = edition = about = ""
        columns: dict[str, Column] = {}
        adds: dict[str, int] = {}
        for at, line in enumerate(lines, 1):
            text = line.removeprefix("#").strip()
            word, _, rest = text.partition(" ")
            if word == "column":
                column = self.column(text, at)
                if column.name in columns or column.name in META or (column.kind == "key") == bool(columns):
                    raise self.refusal(at, f"column {column.name}: only the first is the key, and names differ")
                columns[column.name] = column
            elif word == "edition:":
                edition = rest
            elif word == "about:":
                about = f"{about} {rest}".strip()
            elif word == "adds:" and self.overlay:
                adds[rest] = at
            elif at == 1:
                title = text
            else:
                raise self.refusal(at, f"{line!r} is not in the grammar of a table: edition, about, column")
        if not self.overlay and not (title and edition and about):
            raise self.refusal(1, "a table opens with its title, edition and about")
        if len(columns) < 2:
            raise self.refusal(max(len(lines), 1), "a key and at least one column must be declared: # column ...")
        return TableOfValues(self.name, title, edition, about, tuple(columns.values()), (), adds)

    def column(self, text: str, at: int) -> Column:
        found = _COLUMN.fullmatch(text)
        if found is None:
            raise self.refusal(at, f"{text!r}: a column reads 'column NAME: KIND in UNIT, LOW to HIGH; words'")
        name, kind, unit, low, high, words = (g or "" for g in found.groups())
        if kind in ("key", "text"):
            if unit or low:
                raise self.refusal(at, f"column {name}: a {kind} has no unit and no range")
            return Column(name, kind, words=words, line=at)
        if kind not in KINDS:
            raise self.refusal(at, f"column {name}: unknown kind {kind!r}; one of key, text, {', '.join(KINDS)}")
        if unit not in units_of(kind):
            allowed = ", ".join(u or "none" for u in units_of(kind))
            raise self.refusal(at, f"column {name}: {unit or 'no unit'!r} for a {kind}; one of {allowed}")
        if not low and self.overlay:
            return Column(name, kind, unit, words=words, line=at)
        if not low or float(low) >= float(high):
            raise self.refusal(at, f"column {name}: a range is needed after the unit: ', LOW to HIGH'")
        return Column(name, kind, unit, float(low), float(high), words, at)

    def header(self, declared: tuple[str, ...], line: str, at: int) -> tuple[str, ...]:
        """The names of the header: the declared columns, then source, clause, provenance, note."""
        names = tuple(n.strip() for n in line.split(","))
        rest = names[len(declared) :]
        free = self.overlay and "source" in rest and set(rest) <= set(META) and len(set(rest)) == len(rest)
        if names[: len(declared)] != declared or not (free or rest == META):
            raise self.refusal(at, f"the header must read {','.join((*declared, *META))}")
        return names

    def row(self, table: TableOfValues, columns: Mapping[str, Column], names: tuple[str, ...], line: str, at: int) -> Row:
        try:
            parts = [p.strip() for p in next(csv.reader((line,), strict=True), ())]
        except csv.Error as fault:
            raise self.refusal(at, f"not one row of CSV on one line: {fault}") from None
        if len(parts) != len(names):
            raise self.refusal(at, f"{len(parts)} cells where the header has {len(names)}")
        texts, key = dict(zip(names, parts, strict=True)), parts[0]
        if not key:
            raise self.refusal(at, f"the key {names[0]} is empty")
        if not texts["source"]:
            raise self.refusal(at, f"row {key!r}: the source is missing; name the document the figures are from")
        allowed = ("yours",) if self.overlay else PROVENANCES[:-1]
        provenance = texts.get("provenance") or ("yours" if self.overlay else "")
        if wrong := provenance_fault(provenance, [n for n, c in columns.items() if c.kind != "key"], allowed):
            raise self.refusal(at, f"row {key!r}: provenance {provenance!r} {wrong}")
        texts["provenance"] = provenance
        given = [c for name, c in columns.items() if c.numeric and texts[name]]
        numbers = {c.name: self.number(texts[c.name], c, c, key, at) for c in given}
        return Row(table.name, table.edition, key, at, columns, texts, numbers)

    def number(self, text: str, column: Column, bounds: Column, key: str, at: int) -> float:
        """The number of a cell in base units, within the range of ``bounds``."""
        if not _CELL.fullmatch(text):
            raise self.refusal(at, f"row {key!r}, column {column.name}: {text!r} is not a plain number")
        x = float(text) * UNITS[column.unit].factor
        if not bounds.holds(x):
            allowed = f"{bounds.low:.15g} to {bounds.high:.15g} {bounds.unit}".rstrip()
            given = f"{text} {column.unit}".rstrip()
            raise self.refusal(at, f"row {key!r}, column {column.name}: {given} is outside {allowed}")
        return x
