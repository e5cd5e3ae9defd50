"""What a job does not know, asked again: gaps of a file are filled and nothing else in it is touched; the checklist lists them."""

from __future__ import annotations

import os
import pty
import re
import select
import subprocess
import sys
import time
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner
from conftest import ROOT, job_named
from test_questions import LOCAL, made, taped

from barrier.cli import main
from barrier.job import job_from_text
from barrier.job.gaps import ask_gaps, filled, gaps
from barrier.job.questions import job_text
from barrier.job.site_order import STATIONS, station
from barrier.load_path import Result, check
from barrier.sheet import text as sheet_text
from barrier.sheet.drawings import section
from barrier.sheet.numbers import NOT_MEASURED
from barrier.sheet.page_written import written
from barrier.sheet.pages import page_of
from barrier.sheet.studies.checklist import BOX, ROOM

AUSTRALIAN = job_text(taped("australia"))


def answered(text: str, answers: dict[str, str]) -> tuple[str, list[str]]:
    """The text after a dialogue in which those entries were answered, and what was said."""
    said: list[str] = []
    left = dict(answers)

    def prompt(words: str) -> str:
        for key in list(left):
            if words.lower().startswith(key):
                return left.pop(key)
        return ""

    return ask_gaps(job_from_text(text), prompt, said.append), said


def test_nothing_answered_changes_nothing() -> None:
    assert answered(AUSTRALIAN, {}) == (AUSTRALIAN, [])


def test_an_answer_replaces_its_entry_and_leaves_every_other_line() -> None:
    text, said = answered(AUSTRALIAN, {"mount type t1, screws: core diameter": "6.9 mm", "boards: gap between two boards": "4"})
    before, after = AUSTRALIAN.splitlines(), text.splitlines()
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert [b.split("#")[0].strip() for _, b in changed] == ['root = "6.9 mm"', 'gap = "4 mm"'] and not said
    assert "assumed" in changed[0][0]
    assert len(gaps(job_from_text(text))) == len(gaps(job_from_text(AUSTRALIAN))) - 2


def test_what_contradicts_the_job_is_said_and_asked_again() -> None:
    """A core thicker than its thread: the job would refuse it, so it never reaches the file."""
    typed = iter(["12 mm", ""])

    def prompt(words: str) -> str:
        return next(typed, "") if words.lower().startswith("mount type t1, screws: core") else ""

    said: list[str] = []
    assert ask_gaps(job_from_text(AUSTRALIAN), prompt, said.append) == AUSTRALIAN
    assert said and "root" in said[0]


@pytest.mark.parametrize("country", LOCAL)
def test_every_gap_of_a_new_file_can_be_asked_for(country: str) -> None:
    """Each has a question, a way to find out, and stands on a line of its own that can be replaced."""
    text = job_text({k: v for k, v in taped(country).items() if k not in ("width", "grade")})
    found = gaps(job_from_text(text))
    assert len(found) >= 12 and len({g.entry.line for g in found}) == len(found)
    for g in found:
        assert g.question.text and g.how, g.entry.path
        assert g.entry.line is not None
        key = g.entry.path.rpartition(".")[2]
        assert filled(text, {g.entry.line: (key, '"x"')}).count('"x"') == 1
    parts = [g.entry.path.partition(".")[0] for g in found]
    assert parts.index("site") < parts.index("panels") < parts.index("decking")


def test_a_line_that_holds_something_else_is_not_replaced() -> None:
    with pytest.raises(ValueError, match="line 1 holds no entry"):
        filled('width = "12 mm"', {1: ("width", '"13 mm"')})


def test_the_command_fills_a_file_and_says_what_is_next(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(AUSTRALIAN, encoding="utf-8")
    done = CliRunner().invoke(main, ["new", str(file)], input="yes\n" + "\n" * 60)
    assert done.exit_code == 0 and "unknown or assumed" in done.output and f"barrier check {file}" in done.output
    assert file.read_text(encoding="utf-8") == AUSTRALIAN.replace('treated_timber = "unknown"', "treated_timber = true")
    again = CliRunner().invoke(main, ["new", str(file)], input="\n" * 60)
    assert again.exit_code == 0 and "left as it was" in again.output


def test_a_file_that_is_no_job_is_left(tmp_path: Path) -> None:
    file = tmp_path / "there.toml"
    file.write_text("not a job", encoding="utf-8")
    done = CliRunner().invoke(main, ["new", str(file)], input="")
    assert done.exit_code == 2 and "is no job" in done.output and file.read_text("utf-8") == "not a job"


@pytest.mark.parametrize("country", ["uk", "us", "australia", "new zealand"])
def test_the_example_of_a_country(country: str, tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    done = CliRunner().invoke(main, ["new", "--example", "--country", country, str(file)])
    assert done.exit_code == 0
    assert job_from_text(file.read_text("utf-8")).basis == {"uk": "en", "us": "us", "australia": "au", "new zealand": "nz"}[country]


def test_a_country_without_example_is_refused(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["new", "--country", "uk", str(tmp_path / "job.toml")])
    assert done.exit_code == 2 and "goes with --example" in done.output


# ---------------------------------------------------------------- the checklist


def test_the_checklist_lists_every_gap_once_with_room_to_write() -> None:
    result = made("australia")
    page = written(page_of("checklist"), "text", result)
    assert isinstance(page, str)
    found = gaps(result.job)
    flat = " ".join(page.replace("\N{NO-BREAK SPACE}", " ").split())
    rows = flat.split(BOX)[1:]
    more = sum(int(m[1]) for row in rows if (m := re.search(r"\(and (\d+) like it\)", row)))
    assert len(rows) + more == len(found) > len(rows)  # what one figure settles is one row
    assert all(ROOM in row for row in rows)
    for g in found:
        assert g.how.split(";")[0].split(":")[0].casefold() in flat.casefold(), g.entry.path
    titles = [STATIONS[n] for n in sorted({station(g.entry.path) for g in found})]
    places = [flat.find(title) for title in titles]
    assert places == sorted(places) and min(places) > 0 and len(places) >= 5
    first = [row for row in page.splitlines() if row.startswith("!!")]
    assert any("Ask the supplier for the tested rating" in row for row in first)
    assert "safe" not in page.lower()


def test_a_job_without_assumptions_of_its_own_has_a_short_checklist() -> None:
    job = job_named("garden_deck")
    page = written(page_of("checklist"), "text", check(job))
    assert isinstance(page, str) and f"{len(gaps(job))} entries of this job are unknown or assumed" in page


# ---------------------------------------------------------------- a real terminal


def test_the_dialogue_in_a_terminal(tmp_path: Path) -> None:
    """A pseudo-terminal, as an installer has it: cousins of words, inches, a bare number, Enter for what he does not know."""
    typed = {
        "Whose codes": "usa", "Who leans": "house", "down to the ground": "4'", "How wide is one panel": "4'0\"",
        "top of the glass": "42", "is it 42 in?": "", "What glass": "tempered", "How thick is the glass": "1/2 inch",
        "pieces of blocking": "2", "ends of the blocking": "hangers",
    }  # fmt: skip
    file = tmp_path / "job.toml"
    outer, inner = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "barrier", "new", str(file)], stdin=inner, stdout=inner, stderr=inner, cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1", "TERM": "dumb"}, close_fds=True,
    )  # fmt: skip
    os.close(inner)
    seen, read_to, ends = "", 0, time.monotonic() + 60
    while process.poll() is None and time.monotonic() < ends:
        if not select.select([outer], [], [], 0.5)[0]:
            continue
        try:
            seen += os.read(outer, 65536).decode("utf-8", "replace").replace("\r", "")
        except OSError:
            break
        if seen[read_to:].endswith(": "):
            question, read_to = seen[read_to:], len(seen)
            os.write(outer, (next((v for k, v in typed.items() if k in question), "") + "\n").encode())
    process.wait(timeout=10)
    os.close(outer)
    job = job_from_text(file.read_text(encoding="utf-8"))
    assert (job.basis, job.site.use, job.units) == ("us", "one_two_family", "us")
    assert job.panels[0].width.x == pytest.approx(48 * 25.4) and job.site.barrier_height is not None
    assert job.site.barrier_height.x == pytest.approx(42 * 25.4)
    assert job.panels[0].layers[0].glass == "toughened" and job.panels[0].layers[0].nominal is not None
    end = job.blocking["B1"].left
    assert end is not None and end.fixing == "bracket"
    assert "Traceback" not in seen and "What glass is it" in seen


# ---------------------------------------------------------------- page one and the pictures


@cache
def guessed() -> Result:
    """A deck of which hardly anything is known."""
    return check(job_from_text(job_text({"country": "australia", "use": "home", "glass": "toughened", "blocking": "3"})))


def test_page_one_lists_every_stand_in_with_what_it_changes() -> None:
    result = guessed()
    page = " ".join(sheet_text(result).replace("\N{NO-BREAK SPACE}", " ").split())
    listed = page.partition("ASSUMPTIONS THAT MATTER MOST")[2].partition("REMEMBERED AND INVENTED")[0]
    own = [e for e in result.job.assumptions() if e.assumed]
    kinds = {(e.path.rsplit(".", 1)[-1], e.text, e.reason) for e in own}
    assert len(own) > 10 and all(reason in listed for _, _, reason in kinds)
    assert listed.count("It changes: ") + listed.count("It goes into ") == len(kinds)
    assert "It changes: " in listed


def test_a_length_worked_out_from_what_was_assumed_is_dashed() -> None:
    """Nothing of this deck was measured; the worked example says of itself that all of it was."""
    result = guessed()
    picture = section.drawings(result)[0].draw().svg
    sure = section.drawings(check(job_named("australian_deck")))[0].draw().svg
    dashed = r'<line class="dim"[^>]*stroke-dasharray'
    assert len(re.findall(dashed, picture)) >= 1 and not re.findall(dashed, sure)
    assert NOT_MEASURED in picture and NOT_MEASURED not in sure
