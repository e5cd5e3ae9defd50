"""Editions are choices of a job: a new one is a file, or two, and a line of an index; no code knows it.

The edition of the tests is invented, its figures are of no standard.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from conftest import job_named

from barrier.compare import _own_terms
from barrier.editions import SUBJECTS, editions_of
from barrier.errors import JobRefused, TableRefused
from barrier.load_path import as_described, check
from barrier.sheet import json_text, text
from barrier.sheet.formats.tables import text_of_list
from barrier.tables import Tables
from barrier.verify import verify

INDEX = """\
[editions."en uk".loads]
2031 = { title = "Invented 6180:2031", loads = "uk_barrier_loads_2031", rules = "uk_barrier_rules_2031" }
"""
LOADS = """\
# Loads on barriers, invented
# edition: Invented 6180:2031 Table 9
# about: Figures of a test, of no standard.
# column category: key
# column description: text
# column line: line load in kN/m, 0.2 to 5
# column infill: pressure in kN/m2, 0.2 to 3
# column point: force in kN, 0.1 to 3
# column height: length in mm, 800 to 1200
category,description,line,infill,point,height,source,clause,provenance,note
A2,a deck,0.80,1,0.5,,"Invented 6180:2031",Table 9,,
"""
RULES = """\
# Rules, invented
# edition: Invented 6180:2031
# about: Words of a test, of no standard.
# column rule: key
# column value: length in mm, 20 to 2000
# column words: text
rule,value,words,source,clause,provenance,note
height_edge,1300,a barrier of the test is this high,Invented 6180:2031,8,,
in_plane,,the invented edition has its own words on a push along the glass,Invented 6180:2031,9,,
any_direction,,loads act in any direction,Invented 6180:2031,9.1,,
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "mine"
    place.mkdir()
    for name, words in (("index.toml", INDEX), ("uk_barrier_loads_2031.csv", LOADS), ("uk_barrier_rules_2031.csv", RULES)):
        (place / name).write_text(words)
    return place


def test_a_new_edition_is_files_and_a_line_and_brings_everything_with_it(folder: Path, tmp_path: Path) -> None:
    tables = Tables([folder])
    usual = as_described(job_named("garden_deck"), tables)
    job = job_named("garden_deck").with_({"editions.loads": "2031"})
    result = check(job, (), tables)
    line = result["glass.face"]
    before = {c.id: c for c in usual.checks}["glass.face"]
    assert line.eta is not None and before.eta is not None
    assert line.eta == pytest.approx(before.eta * 0.80 / 0.74, rel=0.05)  # the glass is bent by the line load, and in proportion
    sheet = text(result)
    assert "Invented 6180:2031, chosen by the job in place of BS 6180:2011" in " ".join(sheet.split())
    assert "Invented 6180:2031 Table 9" in sheet  # the source of its loads
    assert "a barrier of the test is this high" in " ".join(sheet.split())  # its rules
    assert result.basis.any_direction and result.basis.in_plane_words.startswith("the invented edition")
    assert str(result["in_plane.vertical_up.line.M1"].standing) == "required"  # in any direction, and so up as well
    assert "in_plane.vertical_up.line.M1" not in {c.id for c in usual.checks}
    assert "BS 6180:2011" not in " ".join(result.basis.editions)
    place = tmp_path / "sheet.json"
    place.write_text(json_text(result))
    assert verify(place).agrees  # the sheet carries the edition with it


@pytest.mark.parametrize(("fall", "drop"), [("1.8 m", "The rule on the drop has no figure"), (None, "Fall height not given")])
def test_a_rule_in_words_alone_is_said_and_compares_nothing(folder: Path, fall: str | None, drop: str) -> None:
    """An edition that says how high in words: no height is below it and none above, and nothing claims so."""
    rules = RULES.replace("height_edge,1300,a barrier", "height_edge,,a barrier")
    for key in ("guarded_from", "pool_height", "pool_opening"):
        rules += f"{key},,the test says of {key} what it says,Invented 6180:2031,8.1,,\n"
    (folder / "uk_barrier_rules_2031.csv").write_text(rules)
    job = job_named("garden_deck").with_(
        {"editions.loads": "2031", "site.fall_height": fall, "site.pool": True, "situations": None}
    )
    said = [f for link in check(job, (), Tables([folder])).links for f in link.findings]
    for words in ("The rule on the height has no figure: not checked", drop, "As a pool barrier its height is not checked"):
        (found,) = [f for f in said if words in f.text]
        assert found.loud and "Invented 6180:2031" in found.source
    assert not [f.text for f in said if "lower than the rule" in f.text or "drop to guard" in f.text or "gap below" in f.text]


def test_that_there_is_a_new_edition_changes_nothing_where_no_job_names_it(folder: Path) -> None:
    job = job_named("garden_deck")
    ours, with_more = as_described(job, Tables()), as_described(job, Tables([folder]))
    assert [(c.id, c.eta) for c in ours.checks] == [(c.id, c.eta) for c in with_more.checks]
    assert Tables().fingerprint() != Tables([folder]).fingerprint()


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"editions.loads": "2031"}, '= "2031" is no edition of the loads of the Eurocode basis in these tables; known: 2011'),
        ({"editions.timber": "2031"}, f"known: {', '.join(e.name for e in Tables().editions.of('en', 'timber'))}"),
        ({"editions.loads": "2011", "national": ""}, "known: none without a national table"),
        ({"editions.timbre": "2016"}, "timbre"),
    ],
)  # fmt: skip
def test_an_edition_nobody_knows_is_refused_with_those_there_are(changes: dict[str, object], said: str) -> None:
    with pytest.raises(JobRefused) as refused:
        check(job_named("garden_deck").with_(changes))
    assert said in str(refused.value)


def test_where_there_is_no_choice_the_refusal_says_so() -> None:
    with pytest.raises(JobRefused, match=r"no edition of the timber of the Australian basis in these tables; known: none$"):
        check(job_named("au_deck").with_({"editions.timber": "2016"}))


def test_classes_of_an_older_edition() -> None:
    """D30 across the grain: 5.3 MPa in EN 338:2016 Table 3, 8.0 MPa in EN 338:2009 Table 1."""
    job = job_named("garden_deck")
    for name, f_c_90_k in ((None, 5.3), ("2009", 8.0), ("2003", 8.0)):
        from barrier.basis import Timber, basis_named

        family = basis_named("en", "uk", Tables(), {} if name is None else {"timber": name})
        f_k = family.bearing(Timber({"en": "D30"}, 3), family.strength("barrier"), characteristic=True)
        k_c = Tables().value("en1995_factors", "k_c_90").x
        assert f_k.x == pytest.approx(k_c * f_c_90_k)  # type: ignore[union-attr]
    assert job.editions.named == {}


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("index.toml", "2031 = ", "2011 = ", "2011 is there already"),
        ("index.toml", ".loads]", ".lodas]", "there are editions of loads, timber"),
        ("index.toml", ', rules = "uk_barrier_rules_2031"', "", "wants title = ..., loads = ..., rules = ..."),
        ("index.toml", '"uk_barrier_loads_2031"', '"../loads"', "is no name of a table"),
        ("index.toml", "2031 = {", "2031 = [", "is no TOML"),
        ("index.toml", '"uk_barrier_loads_2031"', '"uk_barrier_loads_2032"', "there is no such file"),
        ("uk_barrier_loads_2031.csv", "# column point: force in kN, 0.1 to 3\n", "", "the header must read"),
        ("uk_barrier_loads_2031.csv", "# about: Figures of a test, of no standard.\n", "", "title, edition and about"),
        ("uk_barrier_loads_2031.csv", "Invented 6180:2031\",Table 9", "\",Table 9", "the source is missing"),
    ],
)  # fmt: skip
def test_a_faulty_edition_is_refused_with_its_file(folder: Path, file: str, old: str, new: str, said: str) -> None:
    place = folder / file
    assert old in place.read_text()
    place.write_text(place.read_text().replace(old, new))
    with pytest.raises(TableRefused) as refused:
        Tables([folder])
    assert said in str(refused.value) and str(folder) in str(refused.value)


def test_a_column_that_is_missing_is_named(folder: Path) -> None:
    place = folder / "uk_barrier_loads_2031.csv"
    words = place.read_text().replace("# column point: force in kN, 0.1 to 3\n", "").replace(",point,", ",").replace(",0.5,", ",")
    place.write_text(words)
    with pytest.raises(TableRefused, match="column point is missing: an edition has the columns of uk_barrier_loads"):
        Tables([folder])


def test_a_sheet_may_not_lay_a_table_anywhere(folder: Path, tmp_path: Path) -> None:
    """Names of an index in a sheet are names of tables and no paths: a sheet is not to be trusted."""
    result = check(job_named("garden_deck").with_({"editions.loads": "2031"}), (), Tables([folder]))
    sheet = json.loads(json_text(result))
    sheet["source"]["tables"][0]["text"] = INDEX.replace("uk_barrier_loads_2031", "../../loads")
    place = tmp_path / "sheet.json"
    place.write_text(json.dumps(sheet))
    from barrier.verify.read import SheetRefused

    with pytest.raises(SheetRefused, match="is no name of a table"):
        verify(place)


def test_ours_have_the_columns_of_their_first_and_rules_that_are_read() -> None:
    tables = Tables()
    for edition in tables.editions.all:
        first = tables.editions.sibling(edition)
        assert first is not None and set(edition.tables) == set(SUBJECTS[edition.what])
        if first.family == edition.family:
            for part, name in edition.tables.items():
                assert [c.name for c in tables.table(name).columns] == [c.name for c in tables.table(first.tables[part]).columns]
    assert tables.editions.of("en", "timber")  # strength classes are never without one


def test_the_list_of_tables_names_the_editions_and_what_a_job_writes() -> None:
    listed = " ".join(text_of_list(Tables()).split())
    assert 'basis en, timber: "2016" EN 338:2016, "2009" EN 338:2009 (superseded)' in listed


def test_an_edition_is_not_carried_to_another_family() -> None:
    """For a comparison its entry is taken away: each other family takes its usual one, and the page says so."""
    job = job_named("garden_deck").with_({"editions.timber": "2009"})
    assert "editions" in _own_terms(job)
    assert job.with_({"editions": None}).editions.named == {}


def test_an_index_without_editions_is_one() -> None:
    assert editions_of("[tables]", "index.toml").all == ()
