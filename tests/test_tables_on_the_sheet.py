"""The reader's own figures and the pedigree of all figures on the sheet: what changes, what is listed, what is refused."""

from __future__ import annotations

import csv
import dataclasses
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from conftest import EXAMPLES, ROOT, job_named, result_of

from barrier import sheet
from barrier.cli import main
from barrier.equation import Equation, Step
from barrier.load_path import Result, check
from barrier.result import Check, LinkResult, Shown
from barrier.sheet.blocks import Paragraph, Table
from barrier.sheet.content.front import HEADS, _remembered
from barrier.tables import Tables, root
from barrier.value import Cell, JobEntry, Value, walk, walk_at

NOTHING = 1e-12  # relative; a figure that moved by less is the same arithmetic


def laid(folder: Path, table: str, column: str, key: str, text: str) -> Path:
    """A folder of the reader with one cell in it."""
    ours = Tables().table(table)
    kind = next(c for c in ours.columns if c.name == column)
    unit = f" in {kind.unit}" if kind.unit else ""
    folder.mkdir(exist_ok=True)
    (folder / f"{table}.csv").write_text(
        f"# edition: invented\n# column {ours.columns[0].name}: key\n# column {column}: {kind.kind}{unit}\n"
        f"{ours.columns[0].name},{column},source\n{key},{text},an invented letter\n",
        "utf-8",
    )
    return folder


# ---------------------------------------------------------------- exactly the links that use it


def values_in(link: LinkResult) -> Iterator[tuple[Value, int]]:
    """What the checks of a link compare and what it shows, each with its station."""
    subjects: tuple[Check | Shown, ...] = (*link.checks, *link.shown)
    for s in subjects:
        found = (s.value,) if isinstance(s, Shown) else (s.demand, s.resistance, s.utilisation)
        yield from ((v, s.station if v.stations > 1 else 0) for v in found if v is not None)


def uses(link: LinkResult, place: tuple[str, str, str]) -> bool:
    """Whether a number that a link prints rests on a cell, by the record of origins."""
    behind = (v.origin for value, station in values_in(link) for v in walk_at(value, station))
    return any(isinstance(o, Cell) and (o.table, o.key, o.column) == place for o in behind)


def differs(before: LinkResult, after: LinkResult) -> bool:
    a, b = ([v.at(station) for v, station in values_in(link)] for link in (before, after))
    return len(a) != len(b) or not np.allclose(a, b, rtol=NOTHING, atol=0.0)


CELLS = [
    ("garden_deck", "en16612_factors", "value", "k_mod_barrier_domestic", "0.85"),
    ("garden_deck", "en16612_factors", "value", "gamma_M_A", "2.0"),
    ("garden_deck", "en16612_factors", "value", "k_e_polished", "0.9"),
    ("garden_deck", "timber_en338_2016", "f_m_k", "C24", "22"),
    ("garden_deck", "timber_en338_2016", "f_v_k", "C24", "3.5"),
    ("garden_deck", "timber_en338_2016", "rho_k", "C24", "340"),
    ("garden_deck", "en1995_factors", "value", "k_cr", "0.6"),
    ("garden_deck", "en1995_factors", "value", "gamma_M_connections", "1.35"),
    ("garden_deck", "en1993_factors", "value", "gamma_M2", "1.3"),
    ("garden_deck", "en1995_screw_spacing", "value", "axial_a2_CG", "5"),
    ("garden_deck", "uk_barrier_loads", "line", "A2", "0.8"),
    ("garden_deck", "glass_thickness_en572", "minimum", "19 mm", "17.5"),
    ("au_deck", "as1288_factors", "value", "phi", "0.6"),
    ("au_deck", "au_barrier_loads", "point", "C3", "0.59"),  # more, and it would govern where the line load does
    ("au_deck", "glass_material", "E", "au", "69000"),
    ("us_deck", "glass_us", "modulus_of_rupture", "toughened", "23000"),
    ("us_deck", "nds_grades", "E", "Douglas Fir-Larch No.2 Posts and Timbers", "1290000"),
    ("us_deck", "nds_species", "G", "Douglas Fir-Larch", "0.48"),
]  # fmt: skip


@pytest.mark.parametrize(("job", "table", "column", "key", "text"), CELLS, ids=[f"{c[1]}-{c[3]}-{c[2]}" for c in CELLS])
def test_a_cell_changes_exactly_the_links_that_use_it(
    tmp_path: Path, job: str, table: str, column: str, key: str, text: str
) -> None:
    before = result_of(job)
    tables = Tables([laid(tmp_path / "mine", table, column, key, text)])
    after = check(job_named(job), (), tables)
    expected = {link.id for link in before.links if uses(link, (table, key, column))}
    changed = {a.id for a, b in zip(before.links, after.links, strict=True) if differs(a, b)}
    assert expected and changed == expected
    assert [(c.table, c.key, c.column) for c in tables.replaced] == [(table, key, column)]


def test_a_strength_that_does_not_bind_changes_nothing_beyond_the_links_that_use_it(tmp_path: Path) -> None:
    """The bed yields at its strength in every contact, and in some it never comes to that: used there, and nothing moves."""
    place = ("timber_en338_2016", "C24", "f_c_90_k")
    before = result_of("garden_deck")
    after = check(job_named("garden_deck"), (), Tables([laid(tmp_path / "mine", place[0], place[2], place[1], "1.8")]))
    expected = {link.id for link in before.links if uses(link, place)}
    changed = {a.id for a, b in zip(before.links, after.links, strict=True) if differs(a, b)}
    assert {"base_plate", "screws", "bearing"} <= changed <= expected


# ---------------------------------------------------------------- what the sheet says of it


def test_the_sheet_lists_what_was_replaced_and_by_what(tmp_path: Path) -> None:
    folder = laid(tmp_path / "mine", "en1995_factors", "value", "k_cr", "0.6")
    job = EXAMPLES[0].parent / "garden_deck.toml"
    run = CliRunner().invoke(main, ["check", str(job), "--tables", str(folder)])
    words = " ".join(run.output.split())
    assert "en1995_factors · k_cr · value = 0.6 (an invented letter); replaces 0.67 (EN 1995-1-1" in words
    assert "en1995_factors · k_cr 0.6 an invented letter" in words


def test_a_folder_named_in_the_job_lies_under_the_one_of_the_command_line(tmp_path: Path) -> None:
    laid(tmp_path / "mine", "en1995_factors", "value", "k_cr", "0.6")
    over = laid(tmp_path / "over", "en1995_factors", "value", "k_cr", "0.5")
    text = (ROOT / "worked_examples" / "garden_deck.toml").read_text("utf-8").replace("\n[site]", '\ntables = "mine"\n\n[site]', 1)
    (tmp_path / "job.toml").write_text(text, "utf-8")
    alone = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml")]).output
    both = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml"), "--tables", str(over)]).output
    assert "k_cr · value = 0.6" in " ".join(alone.split()) and "k_cr · value = 0.5" in " ".join(both.split())
    assert "replaces 0.67" in " ".join(both.split())


REFUSED = [
    ("k_cr,0.6,", ":5: ", "the source is missing"),
    ("k_cr,-0.6,a letter", ":5: ", "outside"),
    ("k_crr,0.6,a letter", ":5: ", "no row 'k_crr'"),
    ("k_cr,0.6,a letter\nk_cr,0.5,a letter", ":6: ", "duplicate key"),
]


@pytest.mark.parametrize(("rows", "line", "said"), REFUSED)
@pytest.mark.parametrize("command", ["check", "compare", "ladder", "faults"])
def test_the_command_refuses_a_faulty_folder_with_file_and_line(
    tmp_path: Path, rows: str, line: str, said: str, command: str
) -> None:
    file = laid(tmp_path / "mine", "en1995_factors", "value", "k_cr", "0.6") / "en1995_factors.csv"
    file.write_text(file.read_text("utf-8").replace("k_cr,0.6,an invented letter", rows), "utf-8")
    run = CliRunner().invoke(main, [command, str(ROOT / "worked_examples" / "garden_deck.toml"), "--tables", str(file.parent)])
    assert run.exit_code == 2 and f"{file}{line}" in run.output and said in run.output, run.output


def test_a_wrong_unit_is_refused_with_file_and_line(tmp_path: Path) -> None:
    file = laid(tmp_path / "mine", "timber_en338_2016", "f_m_k", "C24", "22") / "timber_en338_2016.csv"
    file.write_text(file.read_text("utf-8").replace("stress in MPa", "stress in mm"), "utf-8")
    run = CliRunner().invoke(main, ["check", str(ROOT / "worked_examples" / "garden_deck.toml"), "--tables", str(file.parent)])
    assert run.exit_code == 2 and f"{file}:3: " in run.output and "'mm' for a stress" in run.output


@pytest.mark.parametrize(
    ("table", "key", "column"),
    [("en1995_k_mod", "SC3 short-term", 1), ("as1170_wall_ends", "45 raised", 1), ("differences", "site-glue", 3)],
)
def test_one_cell_in_a_copy_changes_the_fingerprint_on_the_sheet(tmp_path: Path, table: str, key: str, column: int) -> None:
    """Used by the job or not, a number or a sentence."""
    copy = Path(shutil.copytree(Path(str(root())), tmp_path / "copy"))
    file = copy / f"{table}.csv"
    lines = file.read_text("utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if next(csv.reader([line]))[0] == key)
    parts = next(csv.reader([lines[at]]))
    parts[column] += "1" if parts[column][:1].isdigit() else " Indeed."  # 0.7 to 0.71, 1.815 to 1.8151
    lines[at] = ",".join('"' + p.replace('"', '""') + '"' for p in parts)
    file.write_text("\n".join(lines) + "\n", "utf-8")

    def printed(result: Result) -> str:
        return next(line for line in sheet.text(result).splitlines() if line.startswith("Fingerprint"))

    before = result_of("garden_deck")
    after = check(job_named("garden_deck"), (), Tables(folder=copy))
    assert printed(before) != printed(after)
    assert before.job.fingerprint() in printed(after)


# ---------------------------------------------------------------- page one


def every_value(thing: object, seen: set[int]) -> Iterator[Value]:
    """Every value a result holds anywhere, handed on or not: no list of the sheet is asked where to look."""
    if id(thing) in seen or isinstance(thing, str | bytes | int | float | np.ndarray | Equation):
        return
    seen.add(id(thing))
    if isinstance(thing, Value):
        yield thing
    elif isinstance(thing, Mapping):
        for part in thing.values():
            yield from every_value(part, seen)
    elif isinstance(thing, tuple | list):
        for part in thing:
            yield from every_value(part, seen)
    elif dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        for f in dataclasses.fields(thing):
            yield from every_value(getattr(thing, f.name), seen)


@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck", "au_deck", "us_deck", "three_clamps_laminated", "boards_only"])
def test_the_list_of_remembered_figures_on_page_one_is_complete(name: str) -> None:
    """Whatever is from memory in the numbers of a result stands in the list, by its table, row and column or its equation."""
    result = result_of(name)
    blocks = list(_remembered(result))
    named = {words: provenance for provenance, words in HEADS.items()}
    tables = [(named[block.head[0]], block.rows) for block in blocks if isinstance(block, Table)]
    listed = {("".join(p for p in row[0] if isinstance(p, str)).removeprefix(": "), kind) for kind, rows in tables for row in rows}
    held = [v for w in result.walked for link in w.links for v in every_value((link.checks, link.shown, link.findings), set())]
    missing = set()
    for v in walk(*held):
        origin, what = v.origin, ("", "")
        if isinstance(origin, Cell) and origin.provenance in LISTED:
            parts = (origin.table, origin.key, origin.column if origin.column != "value" else "")
            what = (" · ".join(p for p in parts if p), origin.provenance)
        elif isinstance(origin, Step) and origin.equation.provenance in LISTED:
            e = origin.equation
            what = (f"equation of {f', {e.title}' if e.title else ''}", e.provenance)
        if what[0] and what not in listed:
            missing.add(what)
    assert not missing
    invented = any(isinstance(v.origin, JobEntry) and v.origin.invented for v in walk(*held))
    said = " ".join(p for block in blocks if isinstance(block, Paragraph) for p in block.line if isinstance(p, str))
    assert ("entries of the job file that are used are invented" in said) == invented


LISTED = ("memory", "common practice", "invented", "yours")
# The most that page one of a job may call remembered. A figure that is added from memory stands here before it stands there.
MOST = {"garden_deck": 2, "three_bases": 2, "boards_only": 2, "everyday_deck": 4, "us_deck": 5, "three_clamps_laminated": 5}


@pytest.mark.parametrize("name", MOST)
def test_page_one_calls_little_remembered(name: str) -> None:
    rows = [b.rows for b in _remembered(result_of(name)) if isinstance(b, Table) and b.head[0] == HEADS["memory"]]
    assert sum(len(r) for r in rows) <= MOST[name]
