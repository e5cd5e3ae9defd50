"""The page with sliders in a real browser at 360 px, from a folder: by touch and by keyboard, what it shows is what check says."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from a_browser import Opened, browser
from conftest import job_named

from barrier import sheet
from barrier.job import Job
from barrier.load_path import Walked, check
from barrier.result import Standing
from barrier.sheet.numbers import ending_text, utilisation_text
from barrier.ways.phone import phone
from barrier.ways.setting import asked

OVER = ("panel width=100 mm, 1200 mm, 1500 mm", "glass=12 mm, 15 mm")  # two mounts find no room on 100 mm: refused
WIDE, TALL = 360, 760
# Every row that is shown, without its mark: link or check, its title, figure and ending.
ROWS = """() => [...document.querySelectorAll('[data-row]')].filter(e => !e.hidden).map(e => {
  const of = e.tagName === 'DETAILS' ? e.querySelector('summary') : e, say = c => of.querySelector(c).textContent.trim();
  return [e.tagName === 'DETAILS', say('.name'), say('.eta'), say('.ending'), say('.note')];
})"""
OUT = """() => [...document.body.querySelectorAll('*')].filter(e => !e.closest('.skip, .hidden, svg, .scroll') &&
  e.getBoundingClientRect().right > document.documentElement.clientWidth + 1).map(e => e.outerHTML.slice(0, 160)).slice(0, 4)"""
SHOWN = "['answer', 'links', 'command'].map(id => document.getElementById(id).textContent)"
# The contrast of words with the ground they stand on, the least of each kind of element.
CONTRAST = """() => {
  const rgb = s => (s.match(/[\\d.]+/g) || []).map(Number);
  const lum = c => c.slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = e => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor);
    if (c.length === 3 || c[3] === 1) return c; } return [255, 255, 255]; };
  const found = [];
  const words = '.strip, strong, h1, .lead, .kicker, label, .value, .key span, button, .counts dt, .counts dd, #headline, #where,'
    + ' #beside, .name, .eta, .ending, .note, figcaption, code, .caution p, dt, dd';
  for (const e of document.querySelectorAll(words)) {
    if (!e.getClientRects().length || !e.textContent.trim() || e.getAttribute('aria-disabled') === 'true') continue;
    const a = lum(rgb(getComputedStyle(e).color)), b = lum(ground(e));
    found.push([(Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05), e.className + ' ' + e.tagName]);
  }
  return found.sort((a, b) => a[0] - b[0])[0];
}"""


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser() as started:
        yield started


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("Download folder") / "deck (1).html"
    place.write_text(str(sheet.phone_html(phone(job_named("everyday_deck"), OVER))), encoding="utf-8")
    return place


class OnAPhone(Opened):
    """The page on a phone, with what it asked for and complained about."""

    def __init__(self, chromium: Any, file: Path, script: bool = True, scheme: str = "light") -> None:
        window = {"width": WIDE, "height": TALL}
        super().__init__(
            chromium, file, viewport=window, has_touch=True, is_mobile=True, java_script_enabled=script, color_scheme=scheme
        )

    def text(self, id: str) -> str:
        return str(self.page.text_content(f"#{id}")).replace("\N{NO-BREAK SPACE}", " ")

    def at(self) -> list[int]:
        return [int(self.page.input_value(f"#axis-{i}")) for i in range(2)]

    def quiet(self) -> bool:
        return self.asked == [self.own] and self.said == []


@pytest.fixture
def opened(chromium: Any, file: Path) -> Iterator[OnAPhone]:
    page = OnAPhone(chromium, file)
    yield page
    page.context.close()


def of_check(job: Job, command: str) -> Walked:
    """What the command on the page comes to."""
    parts = shlex.split(command)
    settings = [text for flag, text in zip(parts[3::2], parts[4::2], strict=True) if flag == "--set"]
    return check(job.with_(asked(job, settings).everything) if settings else job).sound


def same_as_check(opened: OnAPhone) -> None:
    """Every figure, ending and count on the page is that of a check of the set that is shown."""
    walked = of_check(job_named("everyday_deck"), opened.text("command"))
    required = [c for c in walked.checks if c.standing is Standing.REQUIRED]
    mounts = ", ".join(m.name for m in walked.job.mounts)
    shown: dict[str, list[tuple[str, str]]] = {}
    for link, name, eta, ending, _ in opened.page.evaluate(ROWS):
        if not link:
            shown.setdefault(name.removeprefix("► GOVERNS ").casefold(), []).append((eta, ending))
    for c in required:
        alike = re.sub(r"mount M\d+", f"mount {mounts}", c.title)
        found = [*shown.get(c.title.casefold(), []), *shown.get(alike.casefold(), [])]
        assert (utilisation_text(c), ending_text(c.ending)) in found, c.id
    counts = [int(t) for t in opened.page.locator("#counts dd").all_text_contents()]
    endings = [str(c.ending) for c in required]
    assert counts == [endings.count(e) for e in ("exceeds", "not checked", "within")]
    governs = walked.governing
    assert governs is not None and opened.page.text_content("#governs .title").casefold() == governs.title.casefold()
    assert opened.page.text_content("#governs .eta") == utilisation_text(governs)
    assert opened.page.locator("li.governs:not([hidden])").count() == 1


def test_by_keyboard_every_stop_shows_what_check_says(opened: OnAPhone) -> None:
    page = opened.page
    same_as_check(opened)
    page.focus("#axis-0")
    for key, at, value in (("ArrowRight", [2, 0], "1500 mm"), ("End", [2, 0], "1500 mm"), ("ArrowLeft", [1, 0], "1200 mm")):
        page.keyboard.press(key)
        assert opened.at() == at and opened.text("says-0") == value
        spoken = page.get_attribute("#axis-0", "aria-valuetext")
        assert spoken.replace("\N{NO-BREAK SPACE}", " ") == f"{value}, stop {at[0] + 1} of 3: EXCEEDS"
    page.keyboard.press("End")
    page.keyboard.press("Tab")  # the button beside it, the button before the next slider, the slider
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "axis-1"
    page.keyboard.press("ArrowUp")
    assert opened.at() == [2, 1]
    same_as_check(opened)
    from playwright.sync_api import expect

    expect(page.locator("#said")).to_contain_text("1500\u00a0mm, glass thickness 15\u00a0mm")  # when the hand rests
    assert opened.text("headline") in opened.text("said") and "Governs: " in opened.text("said")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert opened.at() == [1, 0] and page.evaluate("document.activeElement.id") == "axis-0"
    assert page.is_hidden("#back") and opened.quiet()


def test_by_touch_it_snaps_to_sets_that_were_checked(opened: OnAPhone) -> None:
    page = opened.page
    box = page.locator("#axis-0").bounding_box()
    middle, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    finger = opened.context.new_cdp_session(page)

    def touch(kind: str, x: float | None = None) -> None:
        points = [] if x is None else [{"x": x, "y": y}]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", middle)
    seen = set()
    for share in (0.05, 0.15, 0.3, 0.4):  # dragged: on its way there is nothing but stops
        touch("touchMove", middle + share * box["width"])
        seen.add(opened.text("says-0"))
    touch("touchEnd")
    assert seen <= {"1200 mm", "1500 mm"} and opened.at() == [2, 0] and opened.text("says-0") == "1500 mm"
    page.locator(".nudge[data-axis='1'][data-by='1']").tap()
    assert opened.at() == [2, 1]
    same_as_check(opened)
    page.locator(".nudge[data-axis='1'][data-by='1']").tap(force=True)  # there is none further on
    assert opened.at() == [2, 1]
    for target in page.locator(".nudge, input[type=range]").all():  # what a thumb hits
        size = target.bounding_box()
        assert size["height"] >= 24 and size["width"] >= 44
    page.evaluate("e => { e.value = '0.4'; e.dispatchEvent(new Event('input')) }", page.query_selector("#axis-0"))
    assert opened.at()[0] == 0 and opened.text("says-0") == "100 mm"  # no value in between
    assert opened.quiet()


def test_a_set_the_job_file_refuses_shows_no_figure(opened: OnAPhone) -> None:
    page = opened.page
    page.focus("#axis-0")
    page.keyboard.press("Home")
    assert opened.text("headline").startswith("REFUSED") and "mounts.M2.x" in opened.text("refusal")
    assert page.evaluate(ROWS) == [] and page.is_hidden("#governs") and page.is_hidden("#counts")
    assert page.locator("figure svg").count() == 0 and page.is_hidden("#links") and page.is_hidden("#drawings")
    page.keyboard.press("ArrowRight")
    same_as_check(opened)
    assert page.locator("figure svg").count() == 2 and opened.quiet()


def test_without_a_script_it_says_the_same_of_the_job_as_it_stands(chromium: Any, file: Path, opened: OnAPhone) -> None:
    still = OnAPhone(chromium, file, script=False)
    plain = still.page.content()  # no script may run in it, so it is taken as text and read where one may
    assert still.page.locator("#sliders").is_hidden() and still.page.locator(".off").is_visible()
    read = "html => { const d = new DOMParser().parseFromString(html, 'text/html'); return %s }"
    ids = SHOWN.replace("document.", "d.")
    assert opened.page.evaluate(read % ids, plain) == opened.page.evaluate(f"() => {SHOWN}")
    rows = ROWS.removeprefix("() => ").replace("document.", "d.")
    assert opened.page.evaluate(read % rows, plain) == opened.page.evaluate(ROWS)
    assert still.quiet() and opened.quiet()
    still.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_on_a_phone_and_a_desk_nothing_sticks_out_and_all_can_be_read(chromium: Any, file: Path, scheme: str) -> None:
    opened = OnAPhone(chromium, file, scheme=scheme)
    page = opened.page
    page.evaluate("document.querySelectorAll('details.link').forEach(d => d.open = true)")
    for width, height in ((320, 640), (WIDE, TALL), (740, 340), (1280, 900)):
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate(OUT) == [], width
        assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth + 1"), width
        contrast, what = page.evaluate(CONTRAST)
        assert contrast >= 4.5, (what, contrast, width)
    page.set_viewport_size({"width": WIDE, "height": TALL})
    page.evaluate("scrollTo(0, 2000)")
    strip, sliders = page.locator(".strip").bounding_box(), page.locator("#sliders").bounding_box()
    assert strip["y"] == 0 and "CAUTION" in page.text_content(".strip")  # the caution is there wherever one has scrolled to
    assert abs(sliders["y"] + sliders["height"] - TALL) < 1 and TALL - sliders["height"] - strip["height"] > TALL / 2
    assert opened.quiet()
    opened.context.close()
