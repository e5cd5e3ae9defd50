"""The page with sliders: its figures are those of checks, nothing in between is shown, words of the job are text only."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from conftest import ROOT, job_named

from barrier import sheet
from barrier.cli import main
from barrier.errors import JobRefused
from barrier.job import Job, read_job
from barrier.job.read import job_from_text
from barrier.load_path import check
from barrier.result import Check, Standing
from barrier.sheet.content.grid import Grid, beside_own, grid_of
from barrier.sheet.numbers import utilisation_text
from barrier.tables import Tables
from barrier.ways import runner
from barrier.ways.axes import axes_of
from barrier.ways.phone import Phone, phone
from barrier.ways.setting import asked

# 100 mm is no width two mounts find room on: those sets are refused.
OVER = ("panel width=100 mm, 1200 mm, 1500 mm", "pieces=2,3")
DATA = re.compile(r'<script type="application/json" id="grid">(.*?)</script>', re.DOTALL)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("kept") / "sets"


@pytest.fixture(scope="module")
def found(kept: Path) -> Phone:
    return phone(job_named("everyday_deck"), OVER, file=kept)


@pytest.fixture(scope="module")
def grid(found: Phone) -> Grid:
    return grid_of(found)


@pytest.fixture(scope="module")
def page(found: Phone) -> str:
    return str(sheet.phone_html(found))


@pytest.fixture(scope="module")
def data(page: str) -> dict[str, Any]:
    match = DATA.search(page)
    assert match is not None
    read: dict[str, Any] = json.loads(match[1])
    return read


def checked_as_printed(job: Job, command: str) -> list[Check]:
    """What the command on the page comes to: its settings made, the job checked."""
    parts = shlex.split(command)
    assert parts[:2] == ["barrier", "check"] and parts[2] == Path(job.file).name
    settings = [text for flag, text in zip(parts[3::2], parts[4::2], strict=True) if flag == "--set"]
    changed = job.with_(asked(job, settings).everything) if settings else job
    return [c for c in check(changed, (), Tables()).sound.checks if c.standing is Standing.REQUIRED]


# ---------------------------------------------------------------- the grid


def test_a_grid_is_every_stop_with_every_other(found: Phone) -> None:
    assert [len(a.stops) for a in found.axes] == [3, 2] and len(found.outcomes) == 6
    for number in range(6):
        assert found.number(found.stops(number)) == number
    assert found.outcomes[found.own].changes == () and found.stops(found.own) == (1, 1)
    assert dict(found.outcomes[found.number((2, 0))].changes) == {
        "panels.P1.width": "1500 mm", "mounts.M2.x": "1325 mm", "blocking.B1.pieces": 2, "blocking.B2.pieces": 2,
    }  # fmt: skip


def test_every_figure_is_that_of_check_to_the_printed_digit(found: Phone, grid: Grid, data: dict[str, Any]) -> None:
    """Every required check of every set, by the command the page prints, walked with nothing shared."""
    job, ids = found.result.job, [row.check for row in grid.rows]
    for number, point in enumerate(grid.points):
        if point.refused:
            continue
        checks = checked_as_printed(job, point.command)
        endings = [str(c.ending) for c in checks]
        assert point.counts == tuple(endings.count(e) for e in ("exceeds", "not checked", "within"))
        shown = data["points"][number]
        for c in checks:
            row = _row_of(c, ids, found)
            text, ending, *_ = data["cells"][shown["cells"][row]]
            assert (text, data["words"][ending].casefold()) == (utilisation_text(c), str(c.ending)), (c.id, number)
        assert sum(1 for r, k in zip(grid.rows, point.cells, strict=True) if r.check and k is not None) <= len(checks)
        governs = max((c for c in checks if c.rank is not None or str(c.ending) == "exceeds"), key=_weight)
        assert shown["governs"] == _row_of(governs, ids, found)


def _weight(c: Check) -> float:
    return float("inf") if c.rank is None else c.rank


def _row_of(c: Check, ids: list[str], found: Phone) -> int:
    """The row of a check: its own, or that of a mount that fares alike in every set."""
    if c.id in ids:
        return ids.index(c.id)
    stem = c.id.rpartition(".")[0]
    return next(ids.index(f"{stem}.{m.name}") for m in found.result.job.mounts if f"{stem}.{m.name}" in ids)


def test_the_worst_of_a_link_is_shown_for_it(found: Phone, grid: Grid) -> None:
    for outcome, point in zip(found.outcomes, grid.points, strict=True):
        for row, cell in zip(grid.rows, point.cells, strict=True):
            own = [line for line in outcome.lines if line.link == row.link and line.required]
            if row.check or not own:
                continue
            assert cell is not None
            assert cell.ending == (
                "exceeds" if any(x.exceeds for x in own) else "not checked" if any(x.unknown for x in own) else "within"
            )
            if cell.eta is not None:
                worst = max(own, key=lambda x: x.weight)
                assert cell.eta == worst.eta and worst.title[1:] in cell.note
            unknown = sum(x.unknown for x in own)
            assert (f"{unknown} of {len(own)} NOT CHECKED" in cell.note) is (unknown > 0)


def test_a_refused_set_says_why_and_has_no_figure(found: Phone, grid: Grid, page: str) -> None:
    refused = [p for p in grid.points if p.refused]
    assert len(refused) == 2 and all(set(p.cells) == {None} and p.ending is None for p in refused)
    assert all(p.refused.startswith("everyday_deck.toml") and p.headline.startswith("REFUSED") for p in refused)
    assert "worked_examples/" not in page  # whose folders the job stood in is nobody's business


def test_fewer_that_exceed_because_fewer_were_made_is_said(found: Phone, grid: Grid) -> None:
    """Two loose pieces let the plate go: most of what is below is not reached, and fewer checks exceed than with three."""
    own, two = grid.points[found.own], grid.points[found.number((1, 0))]
    assert two.counts[0] < own.counts[0] and two.counts[1] > own.counts[1]
    assert "NOT CHECKED here: fewer that exceed is no gain" in two.beside and own.beside == ""
    was, now = ({x.id: x for x in found.outcomes[i].lines if x.required} for i in (found.own, found.number((1, 0))))
    both = [i for i in was if i in now and not was[i].unknown and not now[i].unknown]
    lost = [i for i in was if i in now and not was[i].unknown and now[i].unknown]
    over = sum(now[i].exceeds for i in both), sum(was[i].exceeds for i in both)
    assert (
        f"Of {len(both)} required checks made here and as described, {over[0]} exceed here and {over[1]} as described."
        in two.beside
    )
    assert f"{len(lost)} more" in two.beside
    assert "gain" not in beside_own(found.outcomes[found.own], found.outcomes[found.own])


def test_a_grid_that_was_stopped_goes_on_and_gives_the_same_page(
    found: Phone, page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    walked: list[str] = []
    before = runner.changed
    monkeypatch.setattr(runner, "changed", lambda *a: walked.append(a[4]) or before(*a))

    def stop(done: int, of: int) -> None:
        if done == 3:
            raise KeyboardInterrupt

    job, file = job_named("everyday_deck"), tmp_path / "sets"
    with pytest.raises(KeyboardInterrupt):
        phone(job, OVER, file=file, progress=stop)
    assert len(walked) == 3
    again = phone(job, OVER, file=file)
    assert len(walked) == len(set(walked)) == 6
    assert again.outcomes == found.outcomes and sheet.phone_html(again) == page


# ---------------------------------------------------------------- axes


def test_glass_of_a_table_in_inches_has_the_thickness_of_the_job_once() -> None:
    assert axis("glass", "us_deck") == (["3/8 in", "1/2 in", "5/8 in", "3/4 in"], 1)


def axis(text: str, name: str = "everyday_deck") -> tuple[list[str], int]:
    (made,) = axes_of(job_named(name), [text], "edge", Tables())
    return [s.says for s in made.stops], made.own


@pytest.mark.parametrize(
    ("text", "stops", "own"),
    [
        ("panel width", ["1100 mm", "1200 mm", "1300 mm", "1400 mm", "1500 mm"], 1),
        ("panel width=1 m..1.5 m step 250 mm", ["1000 mm", "1200 mm", "1250 mm", "1500 mm"], 1),
        ("joists.spacing=400 mm,600 mm", ["400 mm", "450 mm", "600 mm"], 1),
        ("blocking.B1.pieces=1..3", ["1", "2", "3"], 2),
        ("panels.P1.edge=seamed,polished", ["seamed", "polished"], 1),
        ("mount_types.post.screw.length=100 mm..140 mm step 20 mm", ["100 mm", "120 mm", "140 mm"], 0),
        ("glass", ["10 mm", "12 mm", "15 mm", "19 mm"], 1),
        ("glass=15 mm", ["12 mm", "15 mm"], 0),
        ("pieces", ["1", "2", "3"], 2),
        ("mounts=150 mm..200 mm step 50 mm", ["150 mm", "175 mm", "200 mm"], 1),
    ],
)
def test_stops_and_that_of_the_job_among_them(text: str, stops: list[str], own: int) -> None:
    assert axis(text) == (stops, own)


@pytest.mark.parametrize(
    ("over", "said"),
    [
        (["nonsense"], "is no entry of this job"),
        (["panel width="], "write ENTRY=LOW..HIGH step STEP"),
        (["panel width=1500 mm..900 mm step 100 mm"], "does not run upwards"),
        (["panel width=900 mm..1500 mm step 1 mm"], "more than 25 stops"),
        (["panel width=900 mm..1500 kg step 1 mm"], "is no range"),
        (["panels.P1.edge"], "say over which values"),
        (["mounts=somewhere"], "is no length from the end of the glass"),
        (["panel width", "panels.P1.width=1 m, 2 m"], "twice"),
        (["pieces", "blocking.B2.pieces=1,2"], "both set blocking.B2.pieces"),
        (["pieces", "glass", "mounts", "panel width"], "one to 3 sliders"),
        (["panel width=1200 mm"], "has 1 stops"),
        (["panel width=600 mm..1800 mm step 50 mm", "mounts=100 mm..300 mm step 20 mm", "pieces"], "a page holds 400"),
    ],
)
def test_what_is_no_axis_is_refused_in_a_sentence(over: list[str], said: str) -> None:
    with pytest.raises(JobRefused, match=re.escape(said)):
        phone(job_named("everyday_deck"), over)


def test_mounts_stand_at_one_distance_from_both_ends_of_whatever_glass_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    asked_for: list[dict[str, object]] = []

    def keep(job: Job, variants: list[dict[str, object]], **_: object) -> tuple[()]:
        asked_for.extend(variants)
        return ()

    monkeypatch.setattr("barrier.ways.phone.run", keep)
    phone(job_named("everyday_deck"), ["panel width=1200 mm, 1500 mm", "mounts=200 mm"])
    assert asked_for == [
        {}, {"mounts.M1.x": "200 mm", "mounts.M2.x": "1000 mm"},
        {"panels.P1.width": "1500 mm"}, {"panels.P1.width": "1500 mm", "mounts.M1.x": "200 mm", "mounts.M2.x": "1300 mm"},
    ]  # fmt: skip


def test_what_is_set_first_stands_in_every_set_and_in_its_command() -> None:
    """The job on a page is the job as it was set; so is the one its sliders go back to."""
    job = job_named("everyday_deck")
    made = phone(job, ["panels.P1.edge=polished, cut"], ["panel width=1300 mm"])
    for point, edge in zip(grid_of(made).points, ("", "panels.P1.edge=cut"), strict=True):
        settings = shlex.split(point.command)[4::2]
        assert settings == ["panels.P1.width=1300 mm", "mounts.M2.x=1125 mm", *([edge] if edge else [])]
        endings = [str(c.ending) for c in checked_as_printed(job, point.command)]
        assert point.counts == tuple(endings.count(e) for e in ("exceeds", "not checked", "within"))


def test_mounts_and_another_rule_for_them_are_refused() -> None:
    with pytest.raises(JobRefused, match="leave --mounts fraction out"):
        phone(job_named("everyday_deck"), ["mounts"], rule="fraction")
    with pytest.raises(JobRefused, match="is no rule"):
        phone(job_named("everyday_deck"), ["pieces"], rule="nowhere")


# ---------------------------------------------------------------- the page


def test_the_page_asks_nothing_of_anybody_and_runs_one_script(page: str) -> None:
    scripts = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
    assert len(scripts) == 1 and page.count("<script") == 2
    digest = base64.b64encode(hashlib.sha256(scripts[0].encode()).digest()).decode()
    assert f"default-src 'none'; script-src 'sha256-{digest}'; style-src 'unsafe-inline'" in page
    outside = re.sub(r"http://www\.w3?", "", page)  # the name of SVG, which its numbers cut in three
    assert not re.search(r"https?:|//[a-z]+\.|@import|url\(|\ssrc=|\son[a-z]+=|innerHTML|fetch\(|eval\(", outside)


def test_words_of_the_job_are_text_and_nothing_else() -> None:
    """A title and the name of a file that would end the data or open a script; the job itself takes no names with signs in them."""
    nasty = '</script><script>window.bad=1</script><img src=x onerror="bad()"> & "quoted"'
    text = (ROOT / "worked_examples" / "everyday_deck.toml").read_text(encoding="utf-8")
    title = next(line for line in text.splitlines() if line.startswith("title"))
    job = job_from_text(text.replace(title, f"title = {json.dumps(nasty)}"), "<i>deck.toml")
    page = str(sheet.phone_html(phone(job, ["panels.P1.edge=</script><u>,polished"])))
    assert page.count("<script") == 2 and page.count("</script>") == 2
    assert "<img" not in page and "<i>deck" not in page and "<u>" not in page
    assert "&lt;script&gt;window.bad=1" in page
    match = DATA.search(page)
    assert match is not None and "<" not in match[1] and json.loads(match[1])["axes"][0]["stops"] == ["</script><u>", "polished"]


def test_it_is_small_however_many_sets_there_are(page: str, data: dict[str, Any]) -> None:
    """What does not grow, and what a set adds at most: 400 sets, which is all a page holds, stay below 400 kB."""
    grows = len(json.dumps([data["points"], data["cells"], data["texts"], data["pieces"]], separators=(",", ":")).encode())
    fixed = len(page.encode()) - grows
    assert fixed < 110_000
    assert grows / 4 < 6_000  # four sets that were walked; distinct words and figures come with the first few


def _maker(data: dict[str, Any]) -> Callable[[int], str]:
    """What the script does to put a long text together."""
    pieces = data["pieces"]

    def line(i: int) -> str:
        pattern, numbers = pieces["lines"][i]
        between = numbers.split(" ") if numbers else []
        return "".join(a + b for a, b in zip(pieces["patterns"][pattern], [*between, ""], strict=True))

    return lambda i: "\n".join(line(int(k)) for k in pieces["made"][i].split(" "))


def test_a_drawing_is_put_together_again_as_it_was_drawn(data: dict[str, Any], page: str) -> None:
    made = _maker(data)
    own = data["points"][3]
    assert [made(i) in page for i in own["drawings"]] == [True, True]
    drawn = {made(i) for p in data["points"] if p["drawings"] for i in p["drawings"]}
    assert len(drawn) == 4 and all(svg.startswith("<svg role=") and svg.endswith("</svg>") for svg in drawn)
    assert made(own["command"]) == "barrier check everyday_deck.toml"
    assert data["points"][0]["drawings"] is None


def test_all_sets_are_drawn_in_one_scale(data: dict[str, Any]) -> None:
    """The glass of the wider panel is wider by as much as it is."""
    made = _maker(data)
    drawn = [made(p["drawings"][0]) for p in data["points"] if p["drawings"]]
    boxes = {float(m[1]) for svg in drawn if (m := re.search(r'<rect class="glass" x="[^"]*" y="[^"]*" width="([^"]*)"', svg))}
    assert len(boxes) == 2
    assert max(boxes) / min(boxes) == pytest.approx(1500 / 1200, abs=2e-3)


def test_without_a_script_it_is_the_job_as_described(page: str, found: Phone, grid: Grid) -> None:
    own = grid.points[found.own]
    assert '<form class="sliders" id="sliders" hidden' in page and "<noscript>" in page
    shown = page[page.index('<section id="answer"') : page.index("</main>")]
    plain = re.sub(r"<[^>]+>", "", shown)
    assert own.headline in plain and own.governing in plain and own.command in plain
    for cell in own.cells:
        assert cell is None or f'<div class="eta">{cell.text.replace(">", "&gt;")}</div>' in shown


def test_nothing_on_it_approves(page: str, data: dict[str, Any], found: Phone) -> None:
    words = [*data["texts"], *data["words"], re.sub(r"<[^>]+>", " ", page[page.index("<body>") :]), sheet.phone_text(found)]
    for text in words:
        assert not re.search(r"\b(safe|pass(es|ed)?|ok|approved)\b", str(text), re.IGNORECASE)
    assert set(data["words"]) == {"EXCEEDS", "NOT CHECKED", "within", ""}
    assert page.count("CAUTION") >= 2


# ---------------------------------------------------------------- the command


def test_the_command_writes_the_page_and_leaves_nothing_else(tmp_path: Path) -> None:
    job, out = str(ROOT / "worked_examples" / "everyday_deck.toml"), tmp_path / "phone.html"
    told = CliRunner().invoke(main, ["phone", job, "--over", "pieces=2", "--output", str(out)])
    assert told.exit_code == 0 and "2 sets" in told.output
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>") and list(tmp_path.iterdir()) == [out]


def test_the_command_keeps_its_sets_where_it_is_asked_to_and_checks_none_twice(
    kept: Path, page: str, found: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = kept.read_bytes()
    assert before.count(b"seal") == 6
    monkeypatch.setattr(runner, "changed", lambda *a: pytest.fail("a set that is kept was checked again"))
    monkeypatch.chdir(ROOT)
    asked_for = [part for text in OVER for part in ("--over", text)]
    told = CliRunner().invoke(main, ["phone", "worked_examples/everyday_deck.toml", *asked_for, "--kept", str(kept)])
    assert told.exit_code == 0 and told.output == page and kept.read_bytes() == before


@pytest.mark.parametrize("flag", ["--output", "--kept"])
def test_the_command_writes_over_no_job(tmp_path: Path, flag: str) -> None:
    copy = tmp_path / "job"
    copy.write_bytes((ROOT / "worked_examples" / "everyday_deck.toml").read_bytes())
    before = copy.read_bytes()
    for place in (str(copy), str(tmp_path / "other.toml"), str(tmp_path / "none" / "x.html")):
        told = CliRunner().invoke(main, ["phone", str(copy), "--over", "pieces=2", flag, place])
        assert told.exit_code == 2 and "written" in told.output
    assert copy.read_bytes() == before and list(tmp_path.iterdir()) == [copy]
    assert read_job(copy).title
