"""The HTML sheet in a real browser: on a phone and on a desk, light and dark, and printed.

What is asked for is the project's own (self-contained, nothing cut, nothing fetched); what the browser measures decides.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from a_browser import browser
from conftest import EXAMPLES, ROOT, job_named, result_of

from barrier import sheet
from barrier.study import faults, ladder

SIZES = {"phone": 360, "desk": 1280}
SLACK = 1.0  # px: widths are rounded by the browser
TALL = 900  # px, of the window

# The widest thing that sticks out of the window without standing in a box that scrolls, and what is cut inside a box.
MEASURE = """() => {
  const wide = document.documentElement.clientWidth, out = [], cut = [];
  for (const e of document.body.querySelectorAll('*')) {
    if (e.closest('.skip, .hidden, svg')) continue;
    const r = e.getBoundingClientRect();
    if (!r.width) continue;
    const box = e.closest('.scroll, .eq');
    if (!box && r.right > wide + 1) out.push(e.outerHTML.slice(0, 160));
    if (box && box !== e && r.right - box.getBoundingClientRect().left + box.scrollLeft > box.scrollWidth + 1)
      cut.push(e.outerHTML.slice(0, 160));
    const o = getComputedStyle(e).overflowX;
    if ((o === 'hidden' || o === 'clip') && e.scrollWidth > e.clientWidth + 1) cut.push('hidden: ' + e.outerHTML.slice(0, 160));
  }
  return {page: document.documentElement.scrollWidth, window: wide, out: out.slice(0, 5), cut: cut.slice(0, 5)};
}"""
EQUATIONS = """() => [...document.querySelectorAll('math')].map(m => {
  const r = m.getBoundingClientRect();
  return [m.getAttribute('alttext') || '', r.width, r.height, getComputedStyle(m).fontFamily];
})"""
NAMES = """() => [...document.querySelectorAll('svg')].filter(s => !s.closest('svg svg')).map(s =>
  [s.getAttribute('role'), s.getAttribute('aria-label') || '', s.getBoundingClientRect().width])"""


def pages() -> dict[str, str]:
    """Every worked example as a sheet, and both studies of one."""
    found = {p.stem: sheet.html(result_of(p.stem)) for p in EXAMPLES}
    found["ladder"] = sheet.ladder_html(ladder(job_named("everyday_deck")))
    found["faults"] = sheet.faults_html(faults(job_named("everyday_deck")))
    return found


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser() as started:
        yield started


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("Download folder")
    written = {}
    for name, text in pages().items():
        written[name] = folder / f"{name}.html"
        written[name].write_text(text, encoding="utf-8")
    return written


class Opened:
    """A page that was opened, with what it asked for and complained about."""

    def __init__(self, chromium: Any, file: Path, width: int, scheme: str = "light") -> None:
        self.context = chromium.new_context(viewport={"width": width, "height": TALL}, color_scheme=scheme)
        self.page = self.context.new_page()
        self.asked: list[str] = []
        self.said: list[str] = []
        self.page.on("request", lambda r: self.asked.append(r.url))
        self.page.on("console", lambda m: self.said.append(m.text))
        self.page.on("pageerror", lambda e: self.said.append(str(e)))
        self.page.goto(file.as_uri())
        self.page.evaluate("document.fonts.ready")

    def __enter__(self) -> Opened:
        return self

    def __exit__(self, *_: object) -> None:
        self.context.close()


STEMS = [*(p.stem for p in EXAMPLES), "ladder", "faults"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", STEMS)
def test_nothing_sticks_out_and_nothing_is_fetched(
    chromium: Any, files: dict[str, Path], name: str, size: str, scheme: str
) -> None:
    with Opened(chromium, files[name], SIZES[size], scheme) as opened:
        measured = opened.page.evaluate(MEASURE)
        assert measured["page"] <= measured["window"] + SLACK and not measured["out"], measured
        assert not measured["cut"], measured
        own = files[name].as_uri()
        assert [url for url in opened.asked if url != own and not url.startswith("data:")] == []
        assert opened.said == []
        ground, ink = opened.page.evaluate(
            "[getComputedStyle(document.body).backgroundColor, getComputedStyle(document.body).color]"
        )
        assert (brightness(ground) > brightness(ink)) is (scheme == "light")


def brightness(colour: str) -> float:
    return sum(float(x) for x in re.findall(r"[\d.]+", colour)[:3])


@pytest.mark.parametrize("name", STEMS)
def test_equations_are_set_in_the_font_that_came_along_and_pictures_have_words(
    chromium: Any, files: dict[str, Path], name: str
) -> None:
    with Opened(chromium, files[name], SIZES["phone"]) as opened:
        equations = opened.page.evaluate(EQUATIONS)
        assert len(equations) > 50 or name in ("ladder", "faults")
        for words, width, height, family in equations:
            assert words and width > 2 and height > 5 and "Sheet Math" in family, (words, width, height)
        if equations:
            assert opened.page.evaluate("[...document.fonts].map(f => f.status)") == ["loaded"]
        for role, words, width in opened.page.evaluate(NAMES):
            assert role == "img" and len(words) > 10 and width > 50


def test_the_font_draws_what_no_other_font_of_the_page_would(chromium: Any, files: dict[str, Path]) -> None:
    """The same formula without the font that came along is of another width: the font is really used."""
    width = (
        "(() => [...document.querySelectorAll('.eq math')].slice(0, 40).reduce((s, m) => s + m.getBoundingClientRect().width, 0))()"
    )
    with Opened(chromium, files["everyday_deck"], SIZES["desk"]) as opened:
        with_it = opened.page.evaluate(width)
        opened.page.evaluate("document.fonts.forEach(f => document.fonts.delete(f))")
        opened.page.evaluate("document.querySelectorAll('math').forEach(m => m.style.fontFamily = 'sans-serif')")
        assert abs(opened.page.evaluate(width) - with_it) > 20


def test_the_first_screen_of_a_phone_is_the_caution(chromium: Any, files: dict[str, Path]) -> None:
    with Opened(chromium, files["everyday_deck"], SIZES["phone"]) as opened:
        top = opened.page.evaluate("document.querySelector('.caution .first').getBoundingClientRect().bottom")
        assert top < TALL
        order = opened.page.evaluate("[...document.querySelectorAll('h2')].map(h => h.textContent)")
        assert order[:7] == [
            "CAUTION", "In short", "What to do next", "What was checked", "Assumptions that matter most",
            "Remembered and invented figures", "The links, from the hand down to the joist",
        ]  # fmt: skip


class _Text(HTMLParser):
    """Words of a page as they stand in it, without style, script and what is hidden on paper."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self.headings: list[str] = []
        self._skip, self._heading = 0, False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("style", "script", "title", "nav") or ("class", "skip") in attrs:
            self._skip += 1
        if tag in ("h1", "h2", "h3", "h4", "h5"):
            self._heading = True
            self.headings.append("")
        if tag in ("math", "td", "th", "div", "p", "li", "dt", "dd"):
            self.parts.append(" ")

    def handle_endtag(self, tag: str) -> None:
        if tag in ("style", "script", "title", "nav") or (tag == "a" and self._skip):
            self._skip -= 1
        if tag in ("h1", "h2", "h3", "h4", "h5"):
            self._heading = False

    def handle_data(self, data: str) -> None:
        if not self._skip:
            self.parts.append(data)
            if self._heading:
                self.headings[-1] += data


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u00a0\u200b]+", "", text)


@pytest.mark.parametrize("name", STEMS)
def test_printing_cuts_nothing(chromium: Any, files: dict[str, Path], name: str) -> None:
    """Every number with its unit, every heading and the last line of the page are on the paper."""
    from pypdf import PdfReader

    text = _Text()
    text.feed(files[name].read_text(encoding="utf-8"))
    with Opened(chromium, files[name], SIZES["desk"]) as opened:
        opened.page.emulate_media(media="print")
        narrow = "document.querySelectorAll('.skip, nav').length"
        assert opened.page.evaluate(narrow)
        paper = opened.page.pdf(prefer_css_page_size=True)
        numbers = opened.page.evaluate("[...document.querySelectorAll('data, mrow.n')].map(e => e.textContent)")
    reader = PdfReader(io.BytesIO(paper))
    box = reader.pages[0].mediabox
    assert abs(float(box.width) - 595) < 2 and abs(float(box.height) - 842) < 2  # A4 in points
    printed = squeezed("".join(page.extract_text() for page in reader.pages))
    for heading in text.headings:
        assert squeezed(heading) in printed, heading
    assert squeezed(text.parts[-1] or text.parts[-2])[-20:] in printed
    for number in set(numbers):
        assert squeezed(number) in printed, number


@pytest.mark.parametrize("name", STEMS)
def test_on_paper_no_line_is_wider_than_the_page(chromium: Any, files: dict[str, Path], name: str) -> None:
    """At the width of what A4 leaves between its margins nothing sticks out, boxes that scroll on a screen included."""
    width = round((210 - 30) / 25.4 * 96)
    with Opened(chromium, files[name], width) as opened:
        opened.page.emulate_media(media="print")
        wide = opened.page.evaluate(
            "() => [...document.body.querySelectorAll('*')].filter(e => !e.closest('.skip, .hidden, svg')"
            " && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1)"
            ".map(e => e.outerHTML.slice(0, 200)).slice(0, 4)"
        )
        assert not wide, wide


def test_worked_examples_are_there() -> None:
    assert len(EXAMPLES) >= 4 and (ROOT / "worked_examples").is_dir()
