"""The HTML sheet in a real browser: on a phone and on a desk, light and dark, and printed.

What is asked for is the project's own (self-contained, nothing cut, nothing fetched); what the browser measures decides.
"""

from __future__ import annotations

import io
import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from a_browser import Opened, browser
from conftest import job_named, result_of

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


# Sheets that differ in what stands on them; what each lacks of the others is more of the same.
SHEETS = ["au_laminated", "everyday_deck", "us_deck"]


def pages() -> dict[str, str]:
    """Worked examples as sheets, and both studies of one."""
    found = {name: sheet.html(result_of(name)) for name in SHEETS}
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


class Sheet(Opened):
    """A sheet that was opened."""

    def __init__(self, chromium: Any, file: Path) -> None:
        super().__init__(chromium, file)
        self.page.evaluate("document.fonts.ready")

    def seen(self, width: int, scheme: str = "light", media: str = "screen") -> Any:
        """The page in a window of this width, in this light, on a screen or on paper."""
        self.page.set_viewport_size({"width": width, "height": TALL})
        self.page.emulate_media(media=media, color_scheme=scheme)
        return self.page


STEMS = [*SHEETS, "ladder", "faults"]


@pytest.fixture(scope="module", params=STEMS)
def opened(request: pytest.FixtureRequest, chromium: Any, files: dict[str, Path]) -> Iterator[Sheet]:
    """Each page in turn, opened once."""
    page = Sheet(chromium, files[request.param])
    yield page
    page.context.close()


@pytest.fixture(scope="module")
def everyday(chromium: Any, files: dict[str, Path]) -> Iterator[Sheet]:
    page = Sheet(chromium, files["everyday_deck"])
    yield page
    page.context.close()


@pytest.mark.parametrize(("size", "scheme"), [("phone", "light"), ("desk", "light"), ("phone", "dark")])
def test_nothing_sticks_out_and_nothing_is_fetched(opened: Sheet, size: str, scheme: str) -> None:
    page = opened.seen(SIZES[size], scheme)
    measured = page.evaluate(MEASURE)
    assert measured["page"] <= measured["window"] + SLACK and not measured["out"], measured
    assert not measured["cut"], measured
    assert [url for url in opened.asked if url != opened.own and not url.startswith("data:")] == []
    assert opened.said == []
    ground, ink = page.evaluate("[getComputedStyle(document.body).backgroundColor, getComputedStyle(document.body).color]")
    assert (brightness(ground) > brightness(ink)) is (scheme == "light")


def brightness(colour: str) -> float:
    return sum(float(x) for x in re.findall(r"[\d.]+", colour)[:3])


def test_equations_are_set_in_the_font_that_came_along_and_pictures_have_words(opened: Sheet) -> None:
    page = opened.seen(SIZES["phone"])
    equations = page.evaluate(EQUATIONS)
    assert len(equations) > 50 or "ladder" in opened.own or "faults" in opened.own
    for words, width, height, family in equations:
        assert words and width > 2 and height > 5 and "Sheet Math" in family, (words, width, height)
    if equations:
        assert page.evaluate("[...document.fonts].map(f => f.status)") == ["loaded"]
    for role, words, width in page.evaluate(NAMES):
        assert role == "img" and len(words) > 10 and width > 50


def test_the_first_screen_of_a_phone_is_the_caution(everyday: Sheet) -> None:
    page = everyday.seen(SIZES["phone"])
    assert page.evaluate("document.querySelector('.caution .first').getBoundingClientRect().bottom") < TALL
    order = page.evaluate("[...document.querySelectorAll('h2')].map(h => h.textContent)")
    assert order[:7] == [
        "CAUTION", "What to do next", "In short", "What was checked", "Assumptions that matter most",
        "Remembered and invented figures", "The links, from the hand down to the joist",
    ]  # fmt: skip


def test_the_font_is_really_used_and_the_measures_find_what_is_wrong(chromium: Any, files: dict[str, Path]) -> None:
    """The checks above can fail: a formula in another font has another width; a box that no longer scrolls sticks out."""
    spoiled = Sheet(chromium, files["everyday_deck"])
    page = spoiled.seen(SIZES["phone"])
    width = "[...document.querySelectorAll('.eq math')].slice(0, 40).map(m => m.getBoundingClientRect().width)"
    before = page.evaluate(width)
    page.evaluate("document.querySelectorAll('math').forEach(m => m.style.fontFamily = 'sans-serif')")
    assert sum(abs(a - b) for a, b in zip(page.evaluate(width), before, strict=True)) > 20
    page.evaluate("document.querySelectorAll('.scroll, .eq').forEach(b => { b.style.overflow = 'visible'; b.className = 'was' })")
    assert page.evaluate(MEASURE)["out"]
    spoiled.context.close()


def squeezed(text: str) -> str:
    """Without white space, which a line break changes; ligatures as their letters."""
    return re.sub(r"[\s\u00a0\u200b]+", "", unicodedata.normalize("NFKC", text))


def test_printing_cuts_nothing(opened: Sheet) -> None:
    """Every number with its unit, every heading and the last line of the page are on the paper."""
    from paper import words_of_pages
    from pypdf import PdfReader

    page = opened.seen(SIZES["desk"], media="print")
    paper = page.pdf(prefer_css_page_size=True)
    numbers = page.evaluate("[...document.querySelectorAll('.n')].map(e => e.textContent)")
    reader = PdfReader(io.BytesIO(paper))
    box = reader.pages[0].mediabox
    assert abs(float(box.width) - 595) < 2 and abs(float(box.height) - 842) < 2  # A4 in points
    printed = squeezed("".join(words_of_pages(paper)))
    headings = page.evaluate("[...document.querySelectorAll('h1, h2, h3, h4, h5')].map(h => h.textContent)")
    assert len(headings) > 5
    for heading in headings:
        assert squeezed(heading) in printed, heading
    last = squeezed(page.evaluate("document.querySelector('main').textContent"))[-40:]
    assert last in printed, last
    for number in set(numbers):
        assert squeezed(number) in printed, number


def test_on_paper_no_line_is_wider_than_the_page(opened: Sheet) -> None:
    """At the width of what A4 leaves between its margins nothing sticks out, boxes that scroll on a screen included."""
    page = opened.seen(round((210 - 30) / 25.4 * 96), media="print")
    wide = page.evaluate(
        "() => [...document.body.querySelectorAll('*')].filter(e => !e.closest('.skip, .hidden, svg')"
        " && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1)"
        ".map(e => e.outerHTML.slice(0, 200)).slice(0, 4)"
    )
    assert not wide, wide
