"""The PDF sheet: the same bytes twice, tagged, its words and figures found and copied, words of the job literal."""

from __future__ import annotations

import io
import re
import sys
import unicodedata
from functools import cache
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages

import pytest
from conftest import ROOT, job_named, result_of
from paper import words_of_pages
from pypdf import PdfReader
from sheets import WORD, with_hostile_words

import barrier.basis
import barrier.links
from barrier import sheet
from barrier.equation import Equation, parse
from barrier.errors import CalculationError
from barrier.job import read_job
from barrier.job.read import job_from_text
from barrier.load_path import Result, check
from barrier.sheet.blocks import Content, Drawing, Heading, Paragraph, Picture
from barrier.sheet.content import content
from barrier.sheet.formats import pdf_template
from barrier.sheet.formats.pdf import rendered
from barrier.sheet.typeset.typst import name_math, numeric, quoted, symbolic
from barrier.study import faults, ladder

NAMES = ["boards_only", "nz_laminated", "us_deck"]  # each is a document of some fifty pages, and takes seconds
PAGES = (10, 90)  # of a sheet: fewer would lack something, more would be a table run wild
HOSTILE = "deck <b>&#x27; $x$ #panic(1) *bold* _it_ `raw` @ref [a](b) \\n {0} %s ]]> \"quoted\" 'one' = h // c שלום مرحبا e\u0301"
US = ROOT / "tests" / "data" / "us_lag_deck.toml"


@cache
def result(name: str) -> Result:
    return check(read_job(US)) if name == "us_lag_deck" else result_of(name)


@cache
def pdf_of(name: str) -> bytes:
    return sheet.pdf(result(name))


@cache
def text_of(data: bytes) -> str:
    """What a reader copies, without the line ends the page has put in, and letters of mathematics as plain ones."""
    return plain(" ".join(pages_of(data)))


@cache
def pages_of(data: bytes) -> list[str]:
    """The text of each page as it is copied."""
    return words_of_pages(data)


def plain(text: str) -> str:
    apart = re.sub("(?=[²³⁴])", " ", text)  # an exponent is no figure of the number below it
    text = unicodedata.normalize("NFKC", apart.replace("\N{BULLET}", " ").replace("\N{DOT OPERATOR}", "\N{MIDDLE DOT}"))
    return " ".join(text.split())


PAPER = (210 - 20 - 18) / 25.4 * 72  # points between the margins


def squeezed(text: str) -> str:
    return re.sub(r"\s", "", text)


def said_by(data: bytes) -> str:
    """The text of the pages, and the words of the pictures, which a text sheet prints and a page carries beside them."""
    return " ".join([text_of(data), *(plain(alt) for kind, alt in structure(data) if kind == "/Figure")])


# ---------------------------------------------------------------- the file


def test_same_result_same_bytes() -> None:
    assert sheet.pdf(result(NAMES[0])) == pdf_of(NAMES[0])


@pytest.mark.parametrize("name", ["boards_only"])
def test_tagged_for_reading_aloud(name: str) -> None:
    """PDF/UA-1 is asked of the library, which refuses what is not: here only that its marks are there."""
    data = pdf_of(name)
    reader = PdfReader(io.BytesIO(data))
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en" and root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root
    assert b"pdfuaid" in data
    assert reader.metadata is not None and reader.metadata.title == result(name).job.title
    assert PAGES[0] <= len(reader.pages) <= PAGES[1]


@cache
def structure(data: bytes) -> list[tuple[str, str]]:
    """Kinds and alternative texts of the structure, in order."""
    found = []

    def visit(node: object) -> None:
        node = getattr(node, "get_object", lambda: node)()
        if isinstance(node, list):
            for n in node:
                visit(n)
        elif isinstance(node, dict) and "/K" in node:
            found.append((str(node.get("/S", "")), str(node.get("/Alt", ""))))
            visit(node["/K"])

    visit(PdfReader(io.BytesIO(data)).trailer["/Root"]["/StructTreeRoot"])
    return found


def test_every_formula_and_heading_is_in_the_structure() -> None:
    kinds = structure(pdf_of("boards_only"))
    formulas = [alt for kind, alt in kinds if kind == "/Formula"]
    assert len(formulas) > 50 and all(formulas)
    assert any("= k_mod" in alt for alt in formulas)
    assert sum(kind.startswith("/H") for kind, _ in kinds) > 20
    assert sum(kind == "/Table" for kind, _ in kinds) > 4


def test_the_job_travels_in_it_and_the_fingerprints_are_plain() -> None:
    data, job = pdf_of("boards_only"), job_named("boards_only")
    assert PdfReader(io.BytesIO(data)).attachments["job.toml"][0] == job.text
    assert f"job {job.fingerprint()}, tables {result('boards_only').tables.fingerprint()}".encode() in data


def test_every_page_says_page_fingerprint_and_caution() -> None:
    pages = pages_of(pdf_of("everyday_deck"))
    count = len(pages)
    for i, page in enumerate(pages, 1):
        text = plain(page)
        assert f"page {i} of {count}" in text
        assert job_named("everyday_deck").fingerprint() in text
        assert "no design, no certificate, no permit document" in text


# ---------------------------------------------------------------- words and figures


NUMBER = re.compile(r"(?<![\w.])\d+(?: \d{3}(?!\d))*(?:\.\d+)?(?![\d.]*\w)")


def figures_of(text: str) -> set[str]:
    """Numbers that stand on their own; an exponent is raised on the page and copied without a gap before it."""
    return set(NUMBER.findall(re.sub(r"(?:\^|⎞)\S+", "", text)))


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_of_the_text_sheet_is_in_it(name: str) -> None:
    apart = re.sub(r" {2,}", " | ", sheet.text(result(name)))  # over a bar two things stand side by side that are not one number
    missing = figures_of(plain(apart)) - figures_of(said_by(pdf_of(name)))
    assert not missing, sorted(missing)


@pytest.mark.parametrize("name", NAMES)
def test_every_check_stands_there_with_its_ending(name: str) -> None:
    text = squeezed(text_of(pdf_of(name)))
    for c in result(name).sound.checks:
        if not c.id.startswith("at_once."):  # barrier load and wind at once stand in a table of their own, by title
            assert squeezed(c.id) in text, c.id
    assert "CAUTION" in text and "CAUTION,AGAIN" in text
    assert text.index("CAUTION") < text.index("Inshort") < text.index("Thecalculation,linkbylink")


def test_a_figure_can_be_copied_in_plain_letters() -> None:
    """A result is heavy by its font: mathematical bold would be other letters, and a search would not find it."""
    raw = "".join(pages_of(pdf_of("everyday_deck")))
    assert not re.search("[\U0001d7ce-\U0001d7ff]", raw)
    assert "149.6 MPa" in raw.replace("\N{NO-BREAK SPACE}", " ")


def test_long_words_of_a_job_are_broken_and_not_cut() -> None:
    """They stand on several lines, none of which is longer than the page is wide, wherever it occurs."""
    job = job_from_text(with_hostile_words(job_named("boards_only").text.decode()), "hostile.toml")
    made = sheet.pdf(check(job))
    runs = [len(run) for page in pages_of(made) for run in re.findall("W{5,}", page)]
    assert sum(runs) >= 2 * len(WORD)  # the title, and the job named in the short answer
    assert max(runs) * 7.5 <= PAPER  # points: less than the letter takes in the smallest size it is set in


def test_words_of_the_job_come_out_literally() -> None:
    text = job_named("boards_only").text.decode()
    line = next(line for line in text.splitlines() if line.startswith("title"))
    shown = HOSTILE.replace("\\", "\\\\").replace('"', '\\"')
    job = job_from_text(text.replace(line, f'title = "{shown}"'))
    assert job.title == HOSTILE
    found = text_of(sheet.pdf(check(job)))
    for word in (
        "<b>&#x27;",
        "$x$",
        "#panic(1)",
        "*bold*",
        "_it_",
        "`raw`",
        "@ref",
        "[a](b)",
        "\\n",
        "{0}",
        "%s",
        "]]>",
        "//",
        "é",
    ):
        assert word in found, word
    assert '"quoted"' in found and "'one'" in found
    assert squeezed("שלום") in squeezed(found) or squeezed("שלום"[::-1]) in squeezed(found)


def page(*words: str, title: str = "A page") -> bytes:
    return rendered(Content((Heading(1, ("Head",)), *(Paragraph((w,)) for w in words)), "metric"), title)


def test_a_letter_without_a_glyph_is_written_by_its_number_and_said() -> None:
    """The fonts of the library have no emoji and no Han letters: nothing is dropped in silence."""
    text = text_of(page("sea \u6d77 and drop 💧 and \U0001f468\u200d\U0001f469"))
    assert "[U+6D77]" in text and "[U+1F4A7]" in text and "[U+1F468]" in text
    assert "Unicode number" in text


def test_a_word_longer_than_a_line_is_broken_and_not_cut() -> None:
    word = "unbreakable" * 40
    text = pages_of(page(word))[0]
    assert squeezed(word) in squeezed(text.replace("\u200b", ""))
    lines = [re.sub(r"\s", "", line) for line in text.splitlines()]
    assert (
        max(len(line) for line in lines if "breakable" in line) * 4 <= PAPER
    )  # points a letter takes at the least, on the average


def test_quotes_and_backslashes_in_mathematics_stay_strings() -> None:
    assert quoted('a"b\\') == '"a\\"b\\\\"'
    assert name_math("x_a") == 'x_("a")'


def test_a_picture_has_its_words() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><rect width="40" height="20" fill="#ccc"/></svg>'
    drawing = Drawing("grey", ("A grey box",), lambda: Picture(svg, "a grey box, 40 by 20"))
    data = rendered(Content((Heading(1, ("Head",)), drawing), "metric"), "Pictures")
    assert "A grey box" in text_of(data)
    assert ("/Figure", "a grey box, 40 by 20") in structure(data)


def test_the_library_and_what_it_keeps_end_with_the_process_that_made_the_page() -> None:
    assert page("one").startswith(b"%PDF-") and "typst" not in sys.modules


def test_a_process_that_does_not_finish_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as m:
        m.setattr(pdf_template, "_source", lambda name: "import os; os.abort()" if name.endswith(".py") else "")
        with pytest.raises(CalculationError, match="the process that makes it did not finish"):
            page("one")
    with monkeypatch.context() as m:
        m.setattr(sys, "executable", "/nowhere/python")
        with pytest.raises(CalculationError, match="no process could be started for it"):
            page("one")
    monkeypatch.setattr(sys, "executable", "")
    with pytest.raises(CalculationError, match="cannot be started a second time; take HTML"):
        page("one")


def test_a_document_that_is_refused_says_what_the_library_says(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_template, "_source", lambda name, real=pdf_template._source: real(name).replace("#let", "#lett", 1))
    with pytest.raises(CalculationError, match="could not be made: unknown variable: lett"):
        page("one")


# ---------------------------------------------------------------- formulas


def equations() -> list[Equation]:
    """Every equation that stands in a module of the bases and links."""
    found: dict[int, Equation] = {}
    for package in (barrier.basis, barrier.links):
        for info in walk_packages(package.__path__, f"{package.__name__}."):
            module = import_module(info.name)
            found |= {id(v): v for v in vars(module).values() if isinstance(v, Equation)}
    return list(found.values())


def test_flat_formulas_hold_nothing_together_that_could_not_break() -> None:
    assert len(equations()) > 40
    for e in equations():
        flat = symbolic(e.tree, flat=True)
        assert not re.search(r"\b(frac|sqrt|abs|lr)\(", flat), flat


def test_fractions_within_fractions_have_no_second_bar() -> None:
    assert symbolic(parse("sqrt(a/(1 - a/b))")) == 'sqrt(frac(a, "1" - a \\/ b))'
    assert symbolic(parse("(a + b)**2/c")) == 'frac(lr((a + b))^("2"), c)'
    assert numeric(parse("-a*b"), {"a": (quoted("−3 mm"), 0), "b": (quoted("2"), 6)}) == '-lr(("−3 mm")) dot.op "2"'


# ---------------------------------------------------------------- studies


@pytest.mark.parametrize("kind", ["ladder", "faults"])
def test_pages_of_studies(kind: str) -> None:
    study = {"ladder": ladder, "faults": faults}[kind](job_named("everyday_deck"))
    written = {"ladder": (sheet.ladder_pdf, sheet.ladder_text), "faults": (sheet.faults_pdf, sheet.faults_text)}[kind]
    data = written[0](study)
    assert not figures_of(plain(written[1](study))) - figures_of(said_by(data))


def test_no_block_is_forgotten() -> None:
    """As many formulas as the content has steps and numerical results, each in one piece or line by line."""
    from barrier.sheet.blocks import NumericalBlock, StepBlock

    blocks = content(result("us_deck")).blocks
    labels = [b.label for b in blocks if isinstance(b, (StepBlock, NumericalBlock))]
    text = squeezed(text_of(pdf_of("us_deck")))
    assert labels and all((f"[{x}]" if x[0].isdigit() else x) in text for x in labels)


# ---------------------------------------------------------------- golden


def test_golden(request: pytest.FixtureRequest) -> None:
    """The text of every page of the smallest sheet: bytes depend on the release of the library, words do not."""
    from test_golden import GOLDEN, compare

    pages = [unicodedata.normalize("NFKC", p) for p in pages_of(pdf_of("boards_only"))]
    text = "\n".join(line.rstrip() for i, p in enumerate(pages, 1) for line in (f"--- page {i}", *p.splitlines())) + "\n"
    path: Path = GOLDEN / "boards_only.pdf.txt"
    compare(path, text, request.config.getoption("--update-golden"))
