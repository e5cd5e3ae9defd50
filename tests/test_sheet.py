"""The sheet: what a reader must find, in its order; nothing unchecked looks checked; nothing approves; bytes that stay."""

from __future__ import annotations

import re
from functools import cache

import pytest
from conftest import ONE_LAMINATED, job_named, result_of, text_sheet

from barrier import sheet
from barrier.equation import Step
from barrier.job.spoken import spoken
from barrier.load_path import Result, Walked, check
from barrier.result import (
    AT_ONCE,
    SOUND,
    About,
    Check,
    Ending,
    Finding,
    Lack,
    LinkResult,
    NotChecked,
    Standing,
    compare,
    fails,
    not_checked,
)
from barrier.sheet.alike import alike
from barrier.sheet.blocks import Bars, Heading, Table, Token
from barrier.sheet.content import content
from barrier.sheet.content.calculation import calculate
from barrier.sheet.content.exclusions import NEVER_CHECKED
from barrier.sheet.formats.tables import text_of_list, text_of_search, text_of_table
from barrier.sheet.formats.text import BAR, WIDTH, bar
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import ending_text, utilisation_text
from barrier.sheet.plain_words import width
from barrier.tables import Tables
from barrier.value import Cell, JobEntry, Value, walk

NAMES = [p.stem for p in ONE_LAMINATED]
ORDER = (
    "CAUTION", "WHAT TO DO NEXT", "IN SHORT", "WHAT WAS CHECKED", "ASSUMPTIONS THAT MATTER MOST",
    "REMEMBERED AND INVENTED FIGURES", "THE LINKS, FROM THE HAND DOWN TO THE JOIST", "FOR THE ENGINEER", "FINDINGS",
    "WHAT GOVERNS, FOLLOWED BACK TO THE LOAD", "THE CALCULATION, LINK BY LINK", "APPENDIX", "QUESTIONS TO TAKE ALONG",
    "WHAT THIS TOOL NEVER CHECKS", "FOR THE REVIEWING ENGINEER", "CAUTION, AGAIN",
)  # fmt: skip


@cache
def text_of(name: str) -> str:
    return text_sheet(name)


def part(text: str, heading: str) -> str:
    """What stands under a heading of the first level."""
    return text.split(f"\n{heading}", 1)[1].split("\n\n\n", 1)[0]


def one_line(text: str) -> str:
    """Words of a part in a row, line breaks and box lines taken out."""
    return " ".join(text.replace("┃", " ").split())


def value(x: float, kind: str = "force", name: str = "E") -> Value:
    return Value(x, kind, JobEntry(f"made.up.{name}", "1", 1), name)


def with_checks(*checks: Check, findings: tuple[Finding, ...] = ()) -> Result:
    """A result on the ground of a real job with one made-up link."""
    real = result_of("garden_deck")
    link = LinkResult("made_up", "Made up", checks, (), findings)
    return Result(real.job, real.basis, real.tables, (Walked(SOUND, real.job, (link,)),))


# ---------------------------------------------------------------- order, caution, words


@pytest.mark.parametrize("name", NAMES)
def test_order_from_top_to_bottom(name: str) -> None:
    text = text_of(name)
    places = [text.index(heading) for heading in ORDER]
    assert places == sorted(places)


@pytest.mark.parametrize("name", NAMES)
def test_the_caution_is_first_and_comes_again(name: str) -> None:
    text = text_of(name)
    assert text.splitlines()[1].startswith("┃ CAUTION")
    first = one_line(text.split("IN SHORT")[0])
    for words in (
        "conversation with an engineer", "not a design", "not a certificate", "permit", "Do not order", "licensed engineer",
        "Local codes", "tested rating", "without warning", "edge protected", "weighs 40 kg to 60 kg", "EXCEEDS",
    ):  # fmt: skip
        assert one_line(in_words(words, result_of(name).job.units)) in first, words
    assert one_line(text).count("Local codes and a licensed engineer decide") == 2


@pytest.mark.parametrize("name", NAMES)
def test_nothing_approves(name: str) -> None:
    text = one_line(text_of(name)).replace("Approved Document", "")  # the title of a published document, which findings cite
    for word in (r"safe(?:ly|ty)?", r"pass(?:es|ed)?", "approved?", "compl(?:y|ies|iant)", "OK", "adequate", "sufficient"):
        assert not re.search(rf"\b{word}\b", text, re.I), word


@pytest.mark.parametrize("name", NAMES)
def test_no_line_is_too_wide_and_nothing_hides(name: str) -> None:
    for line in text_of(name).splitlines():
        assert width(line) <= WIDTH, line
        assert line == line.rstrip() and "\t" not in line and "\N{NO-BREAK SPACE}" not in line


@pytest.mark.parametrize("name", NAMES)
def test_same_result_same_bytes(name: str) -> None:
    again = check(job_named(name))
    assert sheet.text(again) == text_of(name)
    assert sheet.json_text(again) == sheet.json_text(result_of(name))


# ---------------------------------------------------------------- read cold


@pytest.mark.parametrize("name", NAMES)
def test_in_short_names_load_link_formula_source_and_what_was_not_checked(name: str) -> None:
    result, text = result_of(name), one_line(part(text_of(name), "IN SHORT"))
    governing = result.governing
    assert governing is not None and governing.title in text and governing.where in text
    assert ending_text(governing.ending) in text
    if result.job.basis == "en":
        assert "0.74 kN/m characteristic (BS 6180:2011 Table 2" in text  # the line load of the national row A2
        assert re.search(
            r"characteristic, at \d+ mm above the bottom edge, \d\.\d+ kN \[\d+\] at the ultimate level \(γ_Q = 1\.5, EN 1990:2002",
            text,
        )
    elif result.job.basis == "us":
        assert "200 lbf nominal" in text and "at the allowable level (f_Q = 1, ASCE 7-22" in text  # the row guard
    if governing.eta is not None:
        assert f"utilisation {utilisation_text(governing)}" in text
        assert "step [" in text
        if governing.resistance is not None:  # a form of its own has its resistances in its formula
            assert re.search(r"Resistance .*(EN|IBC|NDS|AS |supplier|job)", text)
    else:
        assert governing.reason in text
    missing = [c for c in result.sound.checks if c.ending is Ending.NOT_CHECKED and c.standing is Standing.REQUIRED]
    required = [c for c in result.sound.checks if c.standing is Standing.REQUIRED]
    assert f"Not checked {len(missing) or 'none'} of {'' if missing else 'the '}{len(required)} required checks" in text


@pytest.mark.parametrize("name", NAMES)
def test_every_check_stands_in_the_table_with_its_ending(name: str) -> None:
    result = result_of(name)
    table = re.split(r"\n(?:BARRIER LOAD AND WIND AT ONCE|FOR THE ENGINEER)", text_of(name).split("\nTHE LINKS")[1])[0]
    rows = table.splitlines()
    same = alike(result.sound)
    told = [c for c in result.sound.checks if not c.id.startswith(AT_ONCE)]  # those have a table of their own
    stands = [c for c in told if same.repeats(c) is None]
    assert all(same.repeats(c) in stands for c in told if c not in stands)
    for c in stands:
        at = next(i for i, line in enumerate(rows) if re.match(rf" +(GOVERNS\. )?{re.escape(c.id)}(;|$)", line))
        row = next(line for line in reversed(rows[:at]) if "│" in line)
        assert row.endswith(ending_text(c.ending)) and f" {utilisation_text(c)} " in row
        assert row[1] == ("►" if c is result.governing else "i" if c.standing is Standing.INFORMATION else " ")
    assert table.count("►") == 2  # the legend and one check
    assert table.count("NOT CHECKED") == sum(c.ending is Ending.NOT_CHECKED for c in stands)


def test_links_stand_in_walking_order() -> None:
    bars = [b for b in content(result_of("garden_deck")).blocks if isinstance(b, Bars)]
    assert [b.title for b in bars] == [link.title for link in result_of("garden_deck").links]
    assert [b.number for b in bars] == list(range(1, len(bars) + 1))


def test_all_exclusions_are_there() -> None:
    text = one_line(text_of("garden_deck"))
    for what, _ in NEVER_CHECKED:
        assert what in text
    for word in (
        "soft-body impact", "nickel sulphide", "thermal", "deck frame", "posts", "fatigue", "vandalism", "workmanship",
        "durability", "earthing", "fire", "vehicle", "lifting",
    ):  # fmt: skip
        assert word in text


@pytest.mark.parametrize("name", NAMES)
def test_every_remembered_figure_is_on_the_front(name: str) -> None:
    """Walks the origins on its own and looks for each cell and equation from memory."""
    result = result_of(name)
    front = text_of(name).split("\nREMEMBERED")[1].split("\nTHE LINKS")[0]
    values = [v for w in result.walked for c in w.checks for v in (c.demand, c.resistance, c.utilisation) if v is not None]
    cells = {v.origin.key for v in walk(*values) if isinstance(v.origin, Cell) and v.origin.provenance == "memory"}
    equations = {
        v.origin.equation.source for v in walk(*values) if isinstance(v.origin, Step) and v.origin.equation.provenance == "memory"
    }
    assert cells or name.startswith("nz_")  # what is checked there rests on no remembered figure any more
    if not cells | equations:
        return
    table = front[front.index("from memory  ") :].split("\n\n")[0]
    rule = next(line for line in table.splitlines() if line.startswith("────"))
    spans = [m.span() for m in re.finditer("─+", rule)]
    below = table.split(rule)[1].splitlines()
    assert sum(1 for line in below if line[slice(*spans[2])].strip()) >= len(cells | equations)
    what = re.sub(r"\s+", "", "".join(line[slice(*spans[0])] for line in below))
    for key in cells:
        assert re.sub(r"\s+", "", key) in what, key


def test_assumptions_of_the_governing_check_come_first_and_all_are_in_the_appendix() -> None:
    result = result_of("everyday_deck")
    text = one_line(text_of("everyday_deck").split("\nAPPENDIX")[1])
    for entry in result.job.assumptions():
        assert f"{entry.path}: {spoken(entry.path)} = " in text


def test_loud_findings_come_first() -> None:
    text = sheet.text(with_checks(findings=(Finding("a quiet one"), Finding("a loud one", "no source", True))))
    findings = part(text, "FINDINGS")
    assert findings.index("!! a loud one (no source)") < findings.index("·  a quiet one")


def test_situations_stand_beside_the_sound_one() -> None:
    text = text_of("everyday_deck")
    beside = text.split("\nSITUATIONS BESIDE")[1].split("\nWHAT THIS TOOL NEVER")[0]
    assert "misses the timber (information): EXCEEDS" in beside
    assert "mounts.M1.screws.S1.present = false" in beside
    assert "no equilibrium" in one_line(beside)


# ---------------------------------------------------------------- nothing unchecked looks checked


def test_not_checked_is_loud_and_has_no_bar_and_no_number() -> None:
    lack = NotChecked(Lack.INPUT, "measure the root of the screw")
    text = sheet.text(with_checks(not_checked(About("a", "b"), "a thing that is not known", lack)))
    row = next(line for line in text.splitlines() if line.startswith("   a thing that is not known"))
    assert row.endswith("?  NOT CHECKED") and "█" not in row and row.count("?") > 5
    assert "input missing: measure the root of the screw" in text
    assert "nothing governs because nothing is known" in one_line(text)
    assert "1 of 1 required checks: a thing that is not known" in one_line(text)


def test_no_equilibrium_exceeds_with_its_reason_and_a_broken_bar() -> None:
    check_ = fails(About("a", "b"), "a mount", "no equilibrium: nothing pulls", "line load")
    text = sheet.text(with_checks(check_))
    row = next(line for line in text.splitlines() if " a mount" in line and "│" in line)
    assert row.endswith("lets go  EXCEEDS") and "▒   ▒" in row and "█" * BAR not in row and row.startswith(" ►")
    assert "there is no number: no equilibrium: nothing pulls" in one_line(text)


@pytest.mark.parametrize(
    "eta,cells,over",
    [(0.0, 0, 0), (0.5, 10, 0), (1.0, 20, 0), (1.02, 20, 1), (1.43, 20, 1), (2.5, 20, 2), (6.65, 20, 4), (12.0, 20, 4)],
)
def test_bars(eta: float, cells: int, over: int) -> None:
    c = compare(About("a"), "a", value(max(eta, 1e-9)), value(1.0, name="R"), ["here"])
    left, _, right = bar(c).partition("│")
    assert left.count("█") == cells and len(left) == BAR
    assert len(right.rstrip()) == over and right.rstrip().endswith("▶") == (eta > 10)


def test_a_bar_that_exceeds_is_never_drawn_as_within() -> None:
    c = compare(About("a"), "a", value(1.00001), value(1.0, name="R"), ["here"])
    assert "│█" in bar(c) and utilisation_text(c) == ">1.00"


# ---------------------------------------------------------------- words of the reader


HOSTILE = "deck\x1b[31m <b>&#x27; \u202eevil\u202c |\t%s {0} \\n $x$ # * _ ` ]]> \u6d77\u8fba 💧 e\u0301"


def test_words_of_the_job_are_printed_literally_and_harmless() -> None:
    c = compare(About("a"), HOSTILE, value(1.0), value(2.0, name="R"), [HOSTILE])
    text = sheet.text(with_checks(c, findings=(Finding("x" * 400, HOSTILE),)))
    assert "\x1b" not in text and "\u202e" not in text
    assert "<b>&#x27;" in text and "$x$ # * _ ` ]]>" in one_line(text) and "\u6d77\u8fba" in text
    assert all(width(line) <= WIDTH for line in text.splitlines())


def test_a_long_title_is_wrapped() -> None:
    job = job_named("garden_deck").with_({"title": "a" * 290})
    r = result_of("garden_deck")
    text = sheet.text(Result(job, r.basis, r.tables, r.walked))
    assert text.replace("\n", "").replace(" ", "").count("a" * 290) == 3  # in short, as the title, and as what was changed
    assert all(width(line) <= WIDTH for line in text.splitlines())


# ---------------------------------------------------------------- blocks hold tokens


def test_blocks_hold_tokens_and_no_formatted_numbers() -> None:
    """Utilisations, demands and results reach the renderer as values: the text is the renderer's."""
    result = result_of("garden_deck")
    tokens: list[Token] = []

    def gather(part: object) -> None:
        if isinstance(part, Token):
            tokens.append(part)
        elif isinstance(part, (tuple, list)):
            for p in part:
                gather(p)
        elif isinstance(part, dict):
            gather(list(part.values()))
        elif hasattr(part, "__dataclass_fields__") and type(part).__module__ == "barrier.sheet.blocks":
            gather([getattr(part, f) for f in part.__dataclass_fields__])  # type: ignore[attr-defined]

    gather(content(result).blocks)
    held = {id(t.value.origin) for t in tokens}
    for item in calculate(result).ledger.items:
        assert id(item.value.origin) in held


# ---------------------------------------------------------------- tables


def test_every_table_can_be_printed() -> None:
    library = Tables()
    for name in library.names():
        table = library.table(name)
        text = text_of_table(table)
        assert all(width(line) <= WIDTH for line in text.splitlines()), name
        squeezed = "".join(text.split())
        for row in table.rows:
            assert "".join(row.key.split()) in squeezed
            assert "".join(row.text("provenance").split()) in squeezed
    listed = text_of_list(library)
    assert all(name in listed for name in library.names())


def test_a_search_says_where_or_that_there_is_nothing() -> None:
    library = Tables()
    found = text_of_search(library.search("C24"))
    assert "timber_en338_2016 · C24" in found and "found" in found
    assert "nothing found" in text_of_search(library.search("no such word at all"))


# ---------------------------------------------------------------- which load


def test_a_size_carries_no_load_and_a_force_does() -> None:
    small = compare(About("a"), "a", value(2.0, "length"), value(4.0, "length", "R"), ["a screw"])
    pulled = compare(About("a"), "a", value(2.0), value(4.0, name="R"), ["a push along"])
    assert "Load no load is in it" in one_line(sheet.text(with_checks(small)))
    said = one_line(part(sheet.text(with_checks(pulled)), "IN SHORT"))
    assert "no load is in it" not in said and "Load a push along" in said


def test_what_governs_among_unknowns_says_so() -> None:
    known = compare(About("a"), "known", value(2.0), value(4.0, name="R"), ["line load"])
    unknown = not_checked(About("b"), "not known", NotChecked(Lack.INPUT, "measure it"))
    assert "it governs among the 1 of 2 required checks that could be made" in one_line(sheet.text(with_checks(known, unknown)))
    assert "it governs among" not in sheet.text(with_checks(known))


def test_barrier_load_and_wind_at_once_have_a_table_with_each_check_apart_and_at_once() -> None:
    result = result_of("garden_deck")
    apart = {c.id: c for c in result.sound.checks}
    heading = next(i for i, b in enumerate(content(result).blocks) if isinstance(b, Heading) and "at once" in str(b.line))
    table = next(b for b in content(result).blocks[heading:] if isinstance(b, Table))
    same = alike(result.sound)
    both = [c for c in result.sound.checks if c.id.startswith(AT_ONCE) and same.repeats(c) is None]
    assert len(table.rows) == len(both) > 15
    for row, c in zip(table.rows, both, strict=True):
        assert row[1] == (utilisation_text(apart[c.id.removeprefix(AT_ONCE)]),) and row[2] == (utilisation_text(c),)
        assert row[3] == (ending_text(c.ending),) and row[4] == (c.combination,)
    words = " ".join(text_of("garden_deck").split())
    assert "Ask the engineer which holds here" in words
    worst = max(both, key=lambda c: c.rank or 0.0)
    calculated = text_of("garden_deck").split("\nTHE CALCULATION")[1]
    assert worst.id in calculated and not [c.id for c in both if c is not worst and f"{c.id} ·" in calculated]
