"""What if: entries by path and in trade words, what goes along by a said rule, before and after over the same checks."""

from __future__ import annotations

import pickle
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import pytest
from click.testing import CliRunner
from conftest import ROOT, job_named, result_of, text_sheet

import barrier
from barrier import sheet
from barrier.cli import main
from barrier.errors import JobRefused, UnknownRow
from barrier.job.asked_for import path_of
from barrier.load_path import check
from barrier.ways.setting import asked
from barrier.ways.what_if import what_if


@pytest.mark.parametrize(
    ("said", "path"),
    [
        ("panels.P1.width", "panels.P1.width"),
        ("panel width", "panels.P1.width"),
        ("width of the panel", "panels.P1.width"),
        ("glass thickness", "panels.P1.layers.1.nominal"),
        ("length of the mount's screws", "mount_types.post.screw.length"),
        ("service class", "site.service_class"),
        ("mounts.M1.screws.2.present", "mounts.M1.screws.2.present"),
    ],
)
def test_an_entry_goes_by_its_path_or_by_trade_words(said: str, path: str) -> None:
    assert path_of(job_named("everyday_deck"), said.replace("'s", "")) == path


def test_words_that_fit_several_things_are_not_guessed_at() -> None:
    """Screws of the mounts and screws of the boards: the reader says which."""
    with pytest.raises(JobRefused, match=r"fits .* name one: .*mount_types\.post\.screw\.length"):
        path_of(job_named("everyday_deck"), "screw length")


def test_a_slip_of_the_pen_names_the_nearest() -> None:
    with pytest.raises(JobRefused, match=r"did you mean panels\.P1\.width"):
        path_of(job_named("everyday_deck"), "panels.P1.widht")


@pytest.mark.parametrize(
    ("rule", "places"), [("edge", (175.0, 1275.0)), ("fraction", (211.458, 1238.542)), ("fixed", (175.0, 1025.0))]
)
def test_mounts_go_with_the_panel_by_the_rule_that_is_said(rule: str, places: tuple[float, float]) -> None:
    """1200 wide, mounts at 175 and 1025: by hand for 1450."""
    job = job_named("everyday_deck")
    setting = asked(job, ["panel width=1450 mm"], rule)
    changed = job.with_(setting.everything)
    assert [float(m.x.x) for m in changed.mounts] == pytest.approx(places, abs=1e-3)
    assert setting.rule == rule


def test_a_mount_in_the_middle_stays_in_the_middle() -> None:
    job = job_named("three_clamps_laminated")
    wide = float(job.panels[0].width.x)
    changed = job.with_(asked(job, [f"panels.1.width={wide + 100:g} mm"]).everything)
    was, now = ([float(m.x.x) for m in j.mounts] for j in (job, changed))
    assert now[1] - was[1] == pytest.approx(50) and now[0] == was[0] and now[2] - was[2] == pytest.approx(100)


def test_a_place_that_was_set_is_not_moved() -> None:
    setting = asked(job_named("everyday_deck"), ["panel width=1450 mm", "mounts.M2.x=1200 mm"])
    assert setting.everything["mounts.M2.x"] == "1200 mm" and not setting.along


def test_an_unknown_rule_is_refused() -> None:
    with pytest.raises(JobRefused, match="edge, fraction, fixed"):
        asked(job_named("everyday_deck"), ["panel width=1450 mm"], "middle")


def test_before_and_after_are_those_of_two_checks() -> None:
    """The page says what checking the changed job says, and counts over one set of checks."""
    job = job_named("garden_deck")
    found = what_if(job, ["panel width=1450 mm"])
    again = check(job.with_({"panels.P3.width": "1450 mm", "mounts.M2.x": "1220 mm"}))
    assert [c.eta for c in found.after.sound.checks] == [c.eta for c in again.sound.checks]
    before, after, of = found.counts()
    assert sum(before) == sum(after) == of and before.exceeds == 0 < after.exceeds
    moved = {m.after.id for m in found.moved() if m.after is not None}
    same = [c for c in again.sound.checks if c.id not in moved]
    assert all(c.eta == pytest.approx(result_of("garden_deck")[c.id].eta, rel=1e-5) for c in same if c.eta is not None)
    words = " ".join(sheet.what_if_text(found).split())
    assert "mounts keep their distance from the nearer end" in words and "0 EXCEED" in words


def test_on_the_command_line(tmp_path: Path) -> None:
    """One change, printed before and after; the exit code is that of the changed job."""
    path = str(ROOT / "worked_examples" / "garden_deck.toml")
    done = CliRunner().invoke(main, ["check", path, "--set", 'panels.P3.width="1450 mm"', "--output", str(tmp_path / "page.txt")])
    assert done.exit_code == 1, done.output
    assert "1000 mm → 1450 mm" in (tmp_path / "page.txt").read_text(encoding="utf-8")
    wrong = CliRunner().invoke(main, ["check", path, "--set", "panels.P3.widht=1450 mm"])
    assert wrong.exit_code == 2 and "did you mean panels.P3.width" in wrong.output


def test_a_terminal_gets_the_short_answer() -> None:
    short = sheet.short_text(result_of("everyday_deck"))
    assert "The worst of each link" in short and "An engineer decides" in " ".join(short.split())
    assert len(short.splitlines()) < 80 < len(text_sheet("everyday_deck").splitlines()) / 5


# ---------------------------------------------------------------- a result in Python


def test_a_result_is_asked_by_id(everyday: barrier.Result) -> None:
    assert everyday["screws.withdrawal.M1"].eta == pytest.approx(1.9877, rel=1e-3)
    assert everyday.link("screws").title == "Screws"
    assert everyday.to_json() == sheet.json_text(everyday)
    assert len(repr(everyday)) < 1000
    with pytest.raises(UnknownRow, match=r"glass\.face"):
        everyday["glass.faces"]


@pytest.mark.parametrize("name", ["everyday_deck", "us_deck", "nz_deck"])
def test_a_result_pickles(name: str) -> None:
    """What comes back says the same, bit for bit."""
    result = result_of(name)
    again = pickle.loads(pickle.dumps(result))
    assert [(c.id, c.eta, c.reason) for c in again.sound.checks] == [(c.id, c.eta, c.reason) for c in result.sound.checks]


def test_a_result_crosses_to_another_process_and_back() -> None:
    with ProcessPoolExecutor(1) as pool:
        result = pool.submit(check, str(ROOT / "worked_examples" / "us_deck.toml")).result()
    assert result.to_json().replace(str(ROOT), "") == result_of("us_deck").to_json().replace(str(ROOT), "")


def test_a_file_is_watched(tmp_path: Path) -> None:
    """Saved again, checked again: the second answer is that of the second file."""
    job = tmp_path / "job.toml"
    text = (ROOT / "worked_examples" / "us_deck.toml").read_text(encoding="utf-8")
    job.write_text(text, encoding="utf-8")
    running = subprocess.Popen(
        [sys.executable, "-m", "barrier", "check", "--watch", str(job)],
        stdout=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
    )
    try:
        assert running.stdout is not None
        first = _until(running.stdout, "An engineer decides")
        job.write_text(text.replace('title = "Lag', 'title = "Again: lag'), encoding="utf-8")
        second = _until(running.stdout, "An engineer decides")
    finally:
        running.kill()
        running.wait()
    assert "Again: lag" not in first and "Again: lag" in second


def _until(stream: object, words: str) -> str:
    text = ""
    while words not in " ".join(text.split()):
        line = stream.readline()  # type: ignore[attr-defined]
        assert line, "the watch ended"
        text += line
    return text
