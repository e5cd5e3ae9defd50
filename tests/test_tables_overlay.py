"""The reader's own rows over ours: what they may do, what is said of them, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from barrier.errors import TableRefused
from barrier.tables import Tables
from barrier.units import LBF
from barrier.value import Cell

EXACT = 1e-12  # relative; one multiplication of binary fractions

MEASURED = """\
# Measured timber
# edition: report of 2026
# column class: key
# column f_c_90_k: stress in MPa
# column rho_k: density in kg/m3
class,f_c_90_k,rho_k,source,clause
C24,2.9,,report 17 of the testing house,page 3
"""


def overlay(folder: Path, name: str, text: str) -> Path:
    """A folder with one table file of a reader."""
    folder.mkdir(exist_ok=True)
    (folder / f"{name}.csv").write_text(text, "utf-8")
    return folder


def origin_of(tables: Tables, name: str, key: str, column: str = "value") -> Cell:
    """The cell a figure comes from."""
    origin = tables.value(name, key, column).origin
    assert isinstance(origin, Cell)
    return origin


def test_a_cell_is_replaced_and_its_neighbours_keep_their_source(tmp_path: Path) -> None:
    tables = Tables([overlay(tmp_path / "mine", "timber_en338_2016", MEASURED)])
    assert tables.value("timber_en338_2016", "C24", "f_c_90_k").x == 2.9
    cell = origin_of(tables, "timber_en338_2016", "C24", "f_c_90_k")
    assert (cell.provenance, cell.source, cell.clause, cell.edition) == (
        "yours", "report 17 of the testing house", "page 3", "report of 2026",
    )  # fmt: skip
    untouched = origin_of(tables, "timber_en338_2016", "C24", "rho_k")
    assert untouched.provenance == "secondary" and untouched.text == "350"
    row = tables.table("timber_en338_2016").row("C24")
    assert row.text("provenance") == "secondary; yours"
    assert origin_of(tables, "timber_en338_2016", "C30", "f_c_90_k").provenance == "secondary"


def test_what_was_replaced_is_listed_and_the_fingerprint_says_so(tmp_path: Path) -> None:
    tables = Tables([overlay(tmp_path / "mine", "timber_en338_2016", MEASURED)])
    assert [(c.table, c.key, c.column, c.text) for c in tables.replaced] == [("timber_en338_2016", "C24", "f_c_90_k", "2.5")]
    assert tables.fingerprint() != Tables().fingerprint()
    assert Tables().replaced == ()
    assert Tables().value("timber_en338_2016", "C24", "f_c_90_k").x == 2.5


def test_a_new_row_is_announced(tmp_path: Path) -> None:
    text = (
        "# adds: deck of the reader\n# column use: key\n# column line: line load in kN/m\n"
        "use,line,source\ndeck of the reader,0.9,letter of the building authority\n"
    )
    tables = Tables([overlay(tmp_path / "mine", "us_barrier_loads", text)])
    row = tables.table("us_barrier_loads").row("deck of the reader")
    assert tables.value("us_barrier_loads", "deck of the reader", "line").x == pytest.approx(0.9, rel=EXACT)
    assert row.value("point") is None and row.text("point") == ""
    assert row.text("provenance") == "yours" and row.text("source") == "letter of the building authority"
    assert tables.replaced == ()
    assert tables.table("us_barrier_loads").keys[-1] == "deck of the reader"
    assert tables.fingerprint() != Tables().fingerprint()


def test_another_unit_of_the_same_kind_is_converted_and_shown(tmp_path: Path) -> None:
    text = "# column name: key\n# column value: stress in psi\nname,value,source\nf_g_k,6000,letter\n"
    tables = Tables([overlay(tmp_path / "mine", "en16612_strength", text)])
    assert tables.value("en16612_strength", "f_g_k").x == pytest.approx(6000 * LBF / 25.4**2, rel=EXACT)
    assert origin_of(tables, "en16612_strength", "f_g_k").text == "6000 psi"


def test_a_later_folder_goes_over_an_earlier(tmp_path: Path) -> None:
    first = overlay(tmp_path / "first", "timber_en338_2016", MEASURED)
    second = overlay(tmp_path / "second", "timber_en338_2016", MEASURED.replace("2.9", "3.1"))
    tables = Tables([first, second])
    assert tables.value("timber_en338_2016", "C24", "f_c_90_k").x == 3.1
    assert [c.text for c in tables.replaced] == ["2.5", "2.9"]


def test_a_text_cell_may_be_replaced(tmp_path: Path) -> None:
    text = "# column category: key\n# column description: text\ncategory,description,source\nA2,my deck,letter\n"
    tables = Tables([overlay(tmp_path / "mine", "uk_barrier_loads", text)])
    assert tables.table("uk_barrier_loads").row("A2").text("description") == "my deck"


def test_bounds_written_in_another_unit_are_within(tmp_path: Path) -> None:
    # 576 in2 are 4 ft2 and 2.5 ft are 30 in, the ends of the two ranges; in binary fractions each falls just outside.
    text = (
        "# column use: key\n# column infill_area: area in in2\n# column height: length in ft\n"
        "use,infill_area,height,source\nguard,576,2.5,letter\n"
    )
    row = Tables([overlay(tmp_path / "mine", "us_barrier_loads", text)]).table("us_barrier_loads").row("guard")
    assert row.text("infill_area") == "576 in2" and row.text("height") == "2.5 ft"


HEAD = "# column name: key\n# column value: ratio\nname,value,source\n"
ROW = "k_cr,1,letter\n"
LENGTH = "# column name: key\n# column value: length in in\nname,value,source\ntolerance,9,letter\n"
BAD_FACTORS = [
    (HEAD + "gamma_M_soild,1.4,letter\n", ":4: ", "no row 'gamma_M_soild'; the nearest: gamma_M_solid"),
    (HEAD + "gamma_M_soild,1.4,letter\n", ":4: ", "# adds: gamma_M_soild"),
    (HEAD + "k_cr,1.0,\n", ":4: ", "the source is missing"),
    (HEAD + "k_cr,-0.67,letter\n", ":4: ", "k_cr', column value: -0.67 is outside 0.2 to 2.5"),
    (HEAD + "k_cr,67,letter\n", ":4: ", "is outside 0.2 to 2.5"),
    (HEAD + "k_cr,1e999,letter\n", ":4: ", "is outside 0.2 to 2.5"),
    (HEAD + "k_cr,nan,letter\n", ":4: ", "is not a plain number"),
    (HEAD + ROW + "k_cr,0.9,letter\n", ":5: ", "duplicate key 'k_cr', first on line 4"),
    (HEAD + "k_cr,,letter\n", ":4: ", "row 'k_cr' gives nothing"),
    (HEAD, ":3: ", "no row follows the header"),
    (HEAD.replace(": ratio", ": ratio in mm") + ROW, ":2: ", "'mm' for a ratio"),
    (HEAD.replace(": ratio", ": count") + ROW, ":2: ", "is of kind ratio, not count"),
    (HEAD.replace("value", "valve") + ROW, ":2: ", "no column 'valve'; the nearest: value"),
    (HEAD.replace("value", "key") + ROW, ":2: ", "no column 'key'"),
    (HEAD.replace("column name", "column nam") + ROW, ":3: ", "the header must read nam,value"),
    (HEAD.replace("name", "title") + ROW, ":1: ", "no column 'title'"),
    (HEAD.replace(",source", "") + "k_cr,1\n", ":3: ", "the header must read name,value,source"),
    (HEAD.replace(",source", ",source,remark") + "k_cr,1,l,r\n", ":3: ", "the header must read"),
    (HEAD.replace("source", "source,provenance") + "k_cr,1,l,published\n", ":4: ", "provenance 'published'"),
    (HEAD.replace("source", "source,note,note") + "k_cr,1,l,a,b\n", ":3: ", "the header must read"),
    ("# adds: k_cr\n" + HEAD + ROW, ":1: ", "adds 'k_cr', which is ours already"),
    ("# adds: k_new\n" + HEAD + ROW, ":1: ", "adds 'k_new', which has no row"),
    ("", ":1: ", "a key and at least one column must be declared"),
]
BAD = [
    *(("en1995_factors", *bad) for bad in BAD_FACTORS),
    ("site", LENGTH.replace(" in in", ""), ":2: ", "'no unit' for a length"),
    ("site", LENGTH, ":4: ", "9 in is outside 1 to 200 mm"),
    ("en1995_factor", HEAD + ROW, "", "no table 'en1995_factor'; the nearest: en1995_factors"),
]


@pytest.mark.parametrize(("name", "text", "place", "said"), BAD, ids=range(len(BAD)))
def test_a_faulty_overlay_is_refused_with_file_and_line(tmp_path: Path, name: str, text: str, place: str, said: str) -> None:
    folder = overlay(tmp_path / "mine", name, text)
    with pytest.raises(TableRefused) as fault:
        Tables([folder])
    assert str(fault.value).startswith(f"{folder / name}.csv{place}")
    assert said in str(fault.value)


def test_a_folder_without_tables_is_refused(tmp_path: Path) -> None:
    for folder in (tmp_path, tmp_path / "missing"):
        with pytest.raises(TableRefused, match="no folder with table files"):
            Tables([folder])
