"""The tables and their loader: every figure has a range, a unit and a source, and nothing less strict is read."""

from __future__ import annotations

import csv
import re
import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest
from conftest import for_each

from barrier.errors import TableRefused, UnknownRow
from barrier.tables import Tables, read_table, root
from barrier.units import KINDS, LBF, UNITS
from barrier.value import PROVENANCES, Cell

BUNDLED = Path(str(root()))
NAMES = Tables().names()
ABSOLUTE = re.compile(r"(?:^|[\s\"',;(=])/\w[\w.-]*/\w")  # a path from the root of some machine
EXACT = 1e-12  # relative; one multiplication of binary fractions


def copied(tmp_path: Path) -> Path:
    """A copy of the bundled tables that a test may spoil."""
    return Path(shutil.copytree(BUNDLED, tmp_path / "copy"))


def spoilt(tmp_path: Path, name: str, change: Callable[[list[str]], None]) -> Path:
    """A copy of one table with its lines changed."""
    lines = (BUNDLED / f"{name}.csv").read_text("utf-8").splitlines()
    change(lines)
    file = tmp_path / f"{name}.csv"
    file.write_text("\n".join(lines) + "\n", "utf-8")
    return file


def body_of(lines: list[str]) -> int:
    """Index of the header row."""
    return next(i for i, line in enumerate(lines) if not line.startswith("#"))


def set_cell(lines: list[str], index: int, column: int, text: str) -> None:
    """Write one cell of a row."""
    parts = next(csv.reader([lines[index]]))
    parts[column] = text
    lines[index] = ",".join('"' + p.replace('"', '""') + '"' for p in parts)


# ---------------------------------------------------------------- every file


@for_each("name", NAMES)
def test_every_table_says_what_it_is(name: str) -> None:
    table = read_table(BUNDLED / f"{name}.csv")
    assert table.title and table.edition and table.about
    assert table.columns[0].kind == "key"
    for column in table.columns[1:]:
        assert column.kind == "text" or column.kind in KINDS
        if column.numeric:
            assert UNITS[column.unit].dimension == KINDS[column.kind].dimension
            assert float("-inf") < column.low < column.high < float("inf")


@for_each("name", NAMES)
def test_every_row_names_its_source_and_every_cell_carries_it(name: str) -> None:
    table = Tables().table(name)
    for row in table.rows:
        assert row.text("source")
        assert {*row.text("provenance").split("; ")} <= {*PROVENANCES}
        for column, cell in row.cells.items():
            assert (cell.table, cell.key, cell.column) == (name, row.key, column)
            assert cell.source == row.text("source")


@for_each("name", NAMES)
def test_a_remembered_row_does_not_claim_to_have_been_read(name: str) -> None:
    for row in Tables().table(name).rows:
        provenance = {*row.text("provenance").split("; ")}
        assert ("secondary copy" in row.text("source")) <= (provenance <= {"secondary", "memory"})
        if row.text("provenance") == "common practice":
            assert "EN 1" not in row.text("source") or "reading of this project" in row.text("source")


def test_the_index_lists_the_files_and_their_titles() -> None:
    index = tomllib.loads((BUNDLED / "index.toml").read_text("utf-8"))["tables"]
    assert {f.stem for f in BUNDLED.glob("*.csv")} == set(index)
    assert {name: read_table(BUNDLED / f"{name}.csv").title for name in index} == index
    assert len(set(index.values())) == len(index)


def test_no_table_names_an_address_or_a_path() -> None:
    for file in BUNDLED.iterdir():
        text = file.read_text("utf-8").casefold()
        for trace in ("http", "www.", "github", "\\"):
            assert trace not in text, (file.name, trace)
        assert not ABSOLUTE.search(text), (file.name, ABSOLUTE.search(text))


def test_the_pattern_of_a_path_knows_one_from_a_unit() -> None:
    assert ABSOLUTE.search("read from /srv/figures/a.csv") and ABSOLUTE.search('"/opt/a')
    assert not ABSOLUTE.search("5 N/mm2, 3/4 in, and/or, 1 / 2")


# ---------------------------------------------------------------- what a table gives


def test_a_value_is_in_base_units_and_its_origin_is_the_cell() -> None:
    value = Tables().value("us_barrier_loads", "guard", "line")
    assert value.x == pytest.approx(50 * LBF / 304.8, rel=EXACT)
    assert value.kind == "line load"
    assert isinstance(value.origin, Cell)
    assert (value.origin.table, value.origin.key, value.origin.column, value.origin.text) == (
        "us_barrier_loads", "guard", "line", "50",
    )  # fmt: skip
    assert value.origin.edition.startswith("ASCE 7")


def test_an_empty_cell_is_not_given_and_never_zero() -> None:
    tables = Tables()
    row = tables.table("us_barrier_loads").row("one_two_family")
    assert row.value("line") is None
    assert row.text("line") == ""
    with pytest.raises(UnknownRow, match=r"one_two_family has no figure in column 'line'.*point"):
        tables.value("us_barrier_loads", "one_two_family", "line")


def test_texts_and_symbols() -> None:
    row = Tables().table("uk_barrier_loads").row("A2")
    assert row.text("category") == "A2" and "balconies" in row.text("description")
    assert row.text("clause") == "Table 2 (ii)"
    assert Tables().value("en1995_factors", "k_cr").symbol == "k_cr"
    assert Tables().value("en1995_k_mod", "SC3 short-term", "k_mod").symbol == "k_mod"


@pytest.mark.parametrize(
    ("ask", "said"),
    [
        (lambda t: t.table("timber_en338_2016").row("c24"), "timber_en338_2016 has no row 'c24'; the nearest: C24"),
        (lambda t: t.table("nds_species").row("Douglas Fir"), "the nearest: Douglas Fir-South, Douglas Fir-Larch"),
        (lambda t: t.value("en1995_factors", "gamma_M_soild"), "gamma_M_solid"),
        (lambda t: t.table("timber_en338"), "no table 'timber_en338'; the nearest: timber_en338_20"),
        (lambda t: t.value("timber_en338_2016", "C24", "f_m"), "no column of numbers 'f_m'; the nearest: f_m_k"),
        (lambda t: t.table("uk_barrier_loads").row("A2").value("description"), "no column of numbers 'description'"),
        (lambda t: t.table("uk_barrier_loads").row("A2").text("remark"), "no column 'remark'"),
        (lambda t: t.table("site").row("zzzz"), "no row 'zzzz'; it has tolerance, point_patch"),
    ],
)
def test_what_is_not_there_is_answered_with_the_nearest(ask: Callable[[Tables], object], said: str) -> None:
    with pytest.raises(UnknownRow) as fault:
        ask(Tables())
    assert said in str(fault.value)


def test_only_the_table_asked_for_is_read(tmp_path: Path) -> None:
    shutil.copy(BUNDLED / "index.toml", tmp_path)
    shutil.copy(BUNDLED / "site.csv", tmp_path)
    tables = Tables(folder=tmp_path)
    assert tables.value("site", "tolerance").x == 5.0
    with pytest.raises(TableRefused, match=r"^stiffness\.csv:1: cannot be read"):
        tables.table("stiffness")


def test_search_finds_heads_rows_and_notes() -> None:
    found = Tables().search("stiff pvb")
    assert ("interlayer_modulus", "") in {(m.table, m.key) for m in found}
    assert ("differences", "stiff-pvb") in {(m.table, m.key) for m in found}
    assert [m.key for m in Tables().table("timber_en338_2016").search("d75")] == ["D75"]
    notes = [m for m in Tables().table("en1995_factors").search("norwegian") if m.column == "note"]
    assert {m.key for m in notes} == {"gamma_M_solid", "gamma_M_glulam", "k_cr"}
    assert Tables().search("no such word anywhere") == ()


# ---------------------------------------------------------------- what is refused


@for_each("name", NAMES)
def test_every_range_bites(tmp_path: Path, name: str) -> None:
    table = Tables().table(name)
    for at, column in enumerate(table.columns):
        if not column.numeric:
            continue
        row = next((r for r in table.rows if column.name in r.numbers), None)
        assert row is not None, f"no figure in column {column.name}"
        span = column.high - column.low
        for wrong in (column.low - 1e-3 * span, column.high + 1e-3 * span, column.high * 10):

            def change(lines: list[str], wrong: float = wrong, line: int = row.line, at: int = at) -> None:
                set_cell(lines, line - 1, at, f"{wrong:.12f}")

            with pytest.raises(TableRefused) as fault:
                read_table(spoilt(tmp_path, name, change))
            said = str(fault.value)
            assert said.startswith(f"{name}.csv:{row.line}: ") and column.name in said and "is outside" in said


def edit(old: str, new: str) -> Callable[[list[str]], None]:
    """Replace a text on the first line that has it."""

    def change(lines: list[str]) -> None:
        index = next(i for i, line in enumerate(lines) if old in line)
        lines[index] = lines[index].replace(old, new, 1)

    return change


def cell(row: int, column: int, text: str) -> Callable[[list[str]], None]:
    """Write a cell, rows counted from the one after the header."""
    return lambda lines: set_cell(lines, body_of(lines) + row, column, text)


SPOILT = [
    # glass_us: key, modulus_of_rupture, source, clause, provenance, note; the header is on line 6
    (cell(1, 1, "6,000"), "glass_us.csv:7: ", "'6,000' is not a plain number"),
    (cell(1, 1, "6000 psi"), "glass_us.csv:7: ", "is not a plain number"),
    (cell(1, 1, "nan"), "glass_us.csv:7: ", "is not a plain number"),
    (cell(1, 1, "inf"), "glass_us.csv:7: ", "is not a plain number"),
    (cell(1, 1, "1e999"), "glass_us.csv:7: ", "is outside 3000 to 30000 psi"),
    (cell(1, 1, "٦٠٠٠"), "glass_us.csv:7: ", "is not a plain number"),
    (cell(1, 1, "-6000"), "glass_us.csv:7: ", "is outside 3000 to 30000 psi"),
    (cell(2, 2, ""), "glass_us.csv:8: ", "the source is missing"),
    (cell(2, 4, "hearsay"), "glass_us.csv:8: ", "provenance 'hearsay' is not one of published, secondary"),
    (cell(2, 4, "yours"), "glass_us.csv:8: ", "provenance 'yours'"),
    (cell(2, 4, ""), "glass_us.csv:8: ", "provenance ''"),
    (cell(2, 4, "secondary; hearsay: modulus_of_rupture"), "glass_us.csv:8: ", "is not one of published, secondary"),
    (cell(2, 4, "secondary; memory: modulus_of_rupure"), "glass_us.csv:8: ", "names 'modulus_of_rupure', which is not a column"),
    (cell(2, 4, "secondary; memory"), "glass_us.csv:8: ", "names '', which is not a column: modulus_of_rupture"),
    (cell(2, 4, "secondary; memory: kind"), "glass_us.csv:8: ", "names 'kind', which is not a column"),
    (cell(3, 0, "annealed"), "glass_us.csv:9: ", "duplicate key 'annealed', first on line 7"),
    (cell(3, 0, ""), "glass_us.csv:9: ", "the key kind is empty"),
    (lambda lines: lines.append("spare,1"), "glass_us.csv:10: ", "2 cells where the header has 6"),
    (lambda lines: lines.append(""), "glass_us.csv:10: ", "0 cells where the header has 6"),
    (lambda lines: lines.append("# a comment"), "glass_us.csv:10: ", "1 cells"),
    (lambda lines: lines.append('a,5000,"open'), "glass_us.csv:10: ", "not one row of CSV"),
    (lambda lines: lines.__delitem__(slice(6, None)), "glass_us.csv:6: ", "no row follows the header"),
    (edit("kind,modulus", "kinds,modulus"), "glass_us.csv:6: ", "the header must read kind,modulus_of_rupture,source"),
    (edit(",provenance,note", ",note,provenance"), "glass_us.csv:6: ", "the header must read"),
    (edit("in psi", "in lbf"), "glass_us.csv:5: ", "'lbf' for a stress; one of MPa"),
    (edit("in psi", "in Psi"), "glass_us.csv:5: ", "'Psi' for a stress"),
    (edit(" in psi", ""), "glass_us.csv:5: ", "'no unit' for a stress"),
    (edit(": stress", ": strain"), "glass_us.csv:5: ", "unknown kind 'strain'"),
    (edit(", 3000 to 30000", ""), "glass_us.csv:5: ", "a range is needed"),
    (edit("3000 to 30000", "30000 to 3000"), "glass_us.csv:5: ", "a range is needed"),
    (edit("3000 to 30000", "3000 - 30000"), "glass_us.csv:5: ", "a column reads"),
    (edit("column kind: key", "column kind: text"), "glass_us.csv:4: ", "only the first is the key"),
    (edit("column kind: key", "column kind: key in mm"), "glass_us.csv:4: ", "a key has no unit"),
    (edit("# edition", "# editions"), "glass_us.csv:2: ", "not in the grammar"),
    (edit("# about", "# adds"), "glass_us.csv:3: ", "not in the grammar"),
    (lambda lines: lines.__delitem__(1), "glass_us.csv:1: ", "opens with its title, edition and about"),
    (lambda lines: lines.clear(), "glass_us.csv:1: ", "opens with its title"),
]


@pytest.mark.parametrize(("change", "place", "said"), SPOILT, ids=range(len(SPOILT)))
def test_a_spoilt_table_is_refused_with_file_and_line(
    tmp_path: Path, change: Callable[[list[str]], None], place: str, said: str
) -> None:
    with pytest.raises(TableRefused) as fault:
        read_table(spoilt(tmp_path, "glass_us", change))
    assert str(fault.value).startswith(place)
    assert said in str(fault.value)


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site.csv").write_bytes(b"# \xff\xfe")
    with pytest.raises(TableRefused, match=r"^site\.csv:1: cannot be read as UTF-8"):
        read_table(tmp_path / "site.csv")


# ---------------------------------------------------------------- the fingerprint


def test_the_fingerprint_is_twelve_hexadecimal_digits_and_the_same_for_a_copy(tmp_path: Path) -> None:
    mark = Tables().fingerprint()
    assert len(mark) == 12 and int(mark, 16) >= 0
    assert Tables(folder=copied(tmp_path)).fingerprint() == mark


@for_each("name", NAMES)
def test_every_table_is_in_the_fingerprint(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    mark, real = Tables().fingerprint(), Tables.table
    other = SimpleNamespace(canonical=real(Tables(), name).canonical + "changed")
    with monkeypatch.context() as changed:
        changed.setattr(Tables, "table", lambda self, asked: other if asked == name else real(self, asked))
        assert Tables().fingerprint() != mark


@pytest.mark.parametrize("name", NAMES[::8])
def test_the_fingerprint_changes_with_the_file_of_a_table(tmp_path: Path, name: str) -> None:
    folder = copied(tmp_path)
    spoilt(folder, name, lambda lines: set_cell(lines, len(lines) - 1, -1, "changed"))
    assert Tables(folder=folder).fingerprint() != Tables().fingerprint()


@pytest.mark.parametrize(("column", "text"), [(1, "6001"), (2, "elsewhere"), (3, "9.9"), (4, "memory"), (5, "so")])
def test_the_fingerprint_changes_with_figure_source_clause_provenance_and_note(tmp_path: Path, column: int, text: str) -> None:
    folder = copied(tmp_path)
    spoilt(folder, "glass_us", cell(1, column, text))
    assert Tables(folder=folder).fingerprint() != Tables().fingerprint()


def test_the_fingerprint_changes_with_the_unit_and_not_with_the_order_of_rows(tmp_path: Path) -> None:
    folder = copied(tmp_path)
    spoilt(folder, "glass_us", edit("stress in psi, 3000 to 30000", "stress in kPa, 3000 to 30000"))
    assert Tables(folder=folder).fingerprint() != Tables().fingerprint()
    spoilt(folder, "glass_us", lambda lines: lines.insert(6, lines.pop()))
    assert Tables(folder=folder).fingerprint() == Tables().fingerprint()
