"""A reader's own figure changes exactly the links that use it; which these are is read from the record of origins."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from conftest import job_named

from barrier import sheet
from barrier.load_path import Result, check
from barrier.result import Check
from barrier.tables import Tables
from barrier.value import Cell, walk

SAME = 1e-9  # relative; what does not use the cell is computed from the same numbers

# table, key, column, and a figure near what stands there
CELLS = [
    ("en1995_factors", "k_cr", "value", 0.6),
    ("en1995_factors", "gamma_M_connections", "value", 1.5),
    ("en1993_factors", "gamma_M2", "value", 1.4),
    ("en1995_screw_spacing", "axial_a2_CG", "value", 5),
    ("en16612_factors", "gamma_M_A", "value", 2.0),
    ("en16612_factors", "k_e_polished", "value", 0.9),
    ("timber_en338_2016", "C24", "f_m_k", 22),
    ("timber_en338_2016", "C24", "f_v_k", 3.5),
]


@cache
def ours() -> Result:
    return check(job_named("garden_deck"))


def cells_of(c: Check) -> set[tuple[str, str, str]]:
    values = [v for v in (c.demand, c.resistance, c.utilisation) if v is not None]
    return {(v.origin.table, v.origin.key, v.origin.column) for v in walk(*values) if isinstance(v.origin, Cell)}


def uses(result: Result, cell: tuple[str, str, str]) -> set[str]:
    """Links with a required or informing check whose record of origins names the cell."""
    return {link.id for link in result.links for c in link.checks if cell in cells_of(c)}


def changed(before: Result, after: Result) -> set[str]:
    """Links with a check whose utilisation, demand or resistance came out otherwise."""

    def figures(c: Check) -> tuple[float | None, ...]:
        station = c.station
        return (c.eta, *(v.at(station if v.stations > 1 else 0) if v is not None else None for v in (c.demand, c.resistance)))

    found = set()
    for one, other in zip(before.links, after.links, strict=True):
        for c, d in zip(one.checks, other.checks, strict=True):
            pairs = zip(figures(c), figures(d), strict=True)
            if any((x is None) != (y is None) or (x is not None and abs(x - (y or 0.0)) > SAME * abs(x)) for x, y in pairs):
                found.add(one.id)
    return found


def own(folder: Path, table: str, key: str, column: str, value: float) -> Tables:
    folder.mkdir()
    library = Tables().table(table)
    name = library.columns[0].name
    unit = next(c for c in library.columns if c.name == column)
    kind = f"{unit.kind} in {unit.unit}" if unit.unit else unit.kind
    text = f"# column {name}: key\n# column {column}: {kind}\n{name},{column},source\n{key},{value},test report of the reader\n"
    (folder / f"{table}.csv").write_text(text, encoding="utf-8")
    return Tables([folder])


@pytest.mark.parametrize(("table", "key", "column", "then"), CELLS, ids=lambda v: str(v))
def test_an_overlay_changes_exactly_the_links_that_use_it(tmp_path: Path, table: str, key: str, column: str, then: float) -> None:
    value = Tables().table(table).row(key).value(column)
    assert value is not None
    used = uses(ours(), (table, key, column))
    assert used
    tables = own(tmp_path / "mine", table, key, column, then)
    after = check(job_named("garden_deck"), (), tables)
    assert changed(ours(), after) == used
    assert [(c.table, c.key, c.column) for c in tables.replaced] == [(table, key, column)]
    text = sheet.text(after)
    assert tables.fingerprint() in text and tables.fingerprint() not in sheet.text(ours())
    assert "Replaced by the reader's own" in text and "test report of the reader" in text
