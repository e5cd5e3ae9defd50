"""Faults of the machine and of files, command by command: nothing half written, nothing lost, a sentence each.

Most faults are made in this process, by a call of the system that fails or by a process that is ended in the middle of a write;
what only a shell can make is in ``test_files_and_streams.py``, what no test can make in ``by_hand.md``.
"""

from __future__ import annotations

import errno
import io
import os
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from conftest import ROOT

import barrier.shipped
import barrier.table_file
import barrier.tables
from barrier.cli import main
from barrier.job import read_job
from barrier.output import NotWritten, print_out, write_file
from barrier.tables import Tables

JOB = ROOT / "worked_examples" / "boards_only.toml"
TEXT = JOB.read_text(encoding="utf-8")
EXCEEDS, REFUSED, NOT_CHECKED = 1, 2, 3


def run(*arguments: str | Path) -> Result:
    done = CliRunner().invoke(main, [str(a) for a in arguments])
    assert done.exception is None or isinstance(done.exception, SystemExit), repr(done.exception)
    return done


def refused(done: Result, asked: bool = False) -> str:
    """What a refusal says: exit 2, nothing printed (where nothing was ``asked``), one plain sentence."""
    assert done.exit_code == REFUSED, done.output
    assert (
        (asked or not done.stdout)
        and done.stderr.strip()
        and "Traceback" not in done.stderr
        and "fault of the tool" not in done.stderr
    )
    return str(done.stderr)


# ---------------------------------------------------------------- every command that writes

WRITERS: dict[str, tuple[str | Path, ...]] = {
    "check": ("check", JOB, "--output"),
    "check pdf": ("check", JOB, "--format", "pdf", "--output"),
    "ladder": ("ladder", JOB, "--output"),
    "faults": ("faults", JOB, "--format", "markdown", "--output"),
    "compare": ("compare", JOB, "--output"),
    "ask": ("ask", JOB, "--output"),
    "new": ("new", "--example"),
    "gaps": ("new",),
}


def what_was_there(command: str, place: Path) -> dict[str, str]:
    """Puts what a command would write over in its place, and says what lies in the folder."""
    if command != "new":
        place.write_text(TEXT if command == "gaps" else "old", encoding="utf-8")
    return contents(place.parent)


def contents(folder: Path) -> dict[str, str]:
    return {p.name: p.read_text(encoding="utf-8") for p in folder.iterdir()}


@pytest.fixture(autouse=True)
def pages_are_quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is written is not what these tests are about: each page is a line, the walk is not made."""
    import barrier.compare
    import barrier.load_path
    import barrier.sheet
    import barrier.study

    class Walked:
        ending = "within"

    monkeypatch.setattr(barrier.load_path, "check", lambda *_, **__: Walked())
    for name in ("ladder", "faults"):
        monkeypatch.setattr(barrier.study, name, lambda *_, **__: Walked())
    monkeypatch.setattr(barrier.compare, "compare", lambda *_, **__: Walked())
    monkeypatch.setattr(barrier.sheet, "text", lambda _: "a page\n")
    monkeypatch.setattr(barrier.sheet, "pdf", lambda _: b"%PDF-")
    monkeypatch.setattr("barrier.sheet.page_written.written", lambda _, form, __: b"%PDF-" if form == "pdf" else "a page\n")
    monkeypatch.setattr("barrier.job.gaps.gaps", lambda _: ["one"])
    monkeypatch.setattr("barrier.job.gaps.ask_gaps", lambda *_: "answered = true\n")


STEPS = {
    "mkstemp": ("tempfile.mkstemp", errno.EROFS),
    "fsync": ("os.fsync", errno.ENOSPC),
    "chmod": ("os.chmod", errno.EPERM),
    "replace": ("os.replace", errno.EIO),
}


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("command", WRITERS)
def test_a_step_that_fails_leaves_what_was_there(command: str, step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that is read-only, full or broken at any step of a write: one sentence with the reason, the old file, no trace."""
    place, number = tmp_path / "out", STEPS[step][1]
    before = what_was_there(command, place)

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(STEPS[step][0], fail)
    said = refused(run(*WRITERS[command], place), command == "gaps")
    assert "cannot be written" in said and os.strerror(number) in said
    assert contents(tmp_path) == before


@pytest.mark.parametrize("command", WRITERS)
def test_stopped_at_the_last_step_the_old_file_stays(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C just before the move into place: a code of its own, the old file, nothing beside it."""
    place = tmp_path / "out"
    before = what_was_there(command, place)

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("os.replace", stop)
    done = CliRunner().invoke(main, [*(str(a) for a in WRITERS[command]), str(place)])
    assert done.exit_code == 130 and "stopped" in done.stderr
    assert contents(tmp_path) == before


@pytest.mark.parametrize("command", [c for c in WRITERS if c != "gaps"])
def test_the_folder_vanishes_while_it_works(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder of the output is taken away after the page is made and before it is written."""
    folder = tmp_path / "folder"
    folder.mkdir()
    resolve = Path.resolve

    def late(path: Path, strict: bool = False) -> Path:
        found = resolve(path, strict)
        if found.name == "out":
            shutil.rmtree(folder, ignore_errors=True)
        return found

    monkeypatch.setattr(Path, "resolve", late)
    assert "cannot be written" in refused(run(*WRITERS[command], folder / "out"))
    assert not list(tmp_path.iterdir())


def test_the_folder_one_stands_in_is_gone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone() -> str:
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT))

    monkeypatch.setattr(os, "getcwd", gone)
    with pytest.raises(NotWritten, match="folder the command was started in is gone"):
        write_file("sheet.txt", "text")
    write_file(str(tmp_path / "sheet.txt"), "text")
    assert (tmp_path / "sheet.txt").read_text() == "text\n"


# ---------------------------------------------------------------- ended for good, and two at once


@pytest.mark.parametrize("at", ["os.fsync", "os.chmod", "os.replace"])
def test_killed_at_a_step_the_old_file_is_whole(at: str, tmp_path: Path) -> None:
    """No program can tidy up after SIGKILL; what stood there stands there, whole, and the trace has a name that hides."""
    place = tmp_path / "sheet.txt"
    place.write_text("old")
    child = os.fork()
    if child == 0:
        module, _, name = at.partition(".")
        setattr(sys.modules[module], name, lambda *_: os.kill(os.getpid(), signal.SIGKILL))
        write_file(str(place), "new" * 1000)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == -signal.SIGKILL
    assert place.read_text() == "old"
    assert all(p.name.startswith(".sheet.txt.") for p in tmp_path.iterdir() if p != place)
    write_file(str(place), "new")  # and the next run is not in its way
    assert place.read_text() == "new\n"


def test_two_writers_leave_the_one_or_the_other_whole(tmp_path: Path) -> None:
    """Each writes its page over and over, while a third reads: what is read is always one whole page."""
    place = tmp_path / "sheet.txt"
    pages = ["a" * 50_000 + "\n", "b" * 70_000 + "\n"]
    write_file(str(place), pages[0])
    writers = [threading.Thread(target=lambda page=p: [write_file(str(place), page) for _ in range(20)]) for p in pages]
    for w in writers:
        w.start()
    seen = set()
    while any(w.is_alive() for w in writers):
        seen.add(place.read_text())
    for w in writers:
        w.join()
    assert seen <= set(pages) and place.read_text() in pages
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.txt"]


# ---------------------------------------------------------------- streams


class Stream(io.RawIOBase):
    """An output that takes some bytes and then has a fault."""

    def __init__(self, takes: int, number: int) -> None:
        self.takes, self.number, self.got = takes, number, b""

    def writable(self) -> bool:
        return True

    def write(self, data: object) -> int:
        part = bytes(data)[: self.takes - len(self.got)]  # type: ignore[call-overload]
        if not part:
            raise OSError(self.number, os.strerror(self.number))
        self.got += part
        return len(part)


@pytest.mark.parametrize("takes", [0, 1, 500])
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EPIPE])
def test_a_stream_that_fails_part_way_is_no_success(takes: int, number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.TextIOWrapper(io.BufferedWriter(Stream(takes, number), 16), encoding="utf-8")
    monkeypatch.setattr(sys, "stdout", stream)
    with pytest.raises(BrokenPipeError if number == errno.EPIPE else NotWritten):
        print_out("x" * 1000)
    monkeypatch.undo()
    stream.detach().detach()  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("encoding", "holds"), [("ascii", "?"), ("iso8859-15", "?"), ("cp1252", "?"), ("utf-8", "η"), ("utf-16-le", "η")]
)
def test_letters_the_output_lacks_are_question_marks(encoding: str, holds: str, monkeypatch: pytest.MonkeyPatch) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=encoding))
    print_out("η 0.87 within")
    assert raw.getvalue().decode(encoding) == f"{holds} 0.87 within\n"


# ---------------------------------------------------------------- where it runs


def test_no_home_no_language_and_a_comma_for_the_point(tmp_path: Path) -> None:
    """Without a home, with nothing in the environment but where the tool is, from a folder that is not its own."""
    bare = {"PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    command = [sys.executable, "-m", "barrier", "check", str(JOB), "--output", "sheet.txt"]
    done = subprocess.run(command, cwd=tmp_path, env=bare, capture_output=True, timeout=60, check=False)
    assert done.returncode == EXCEEDS and done.stderr == b""
    assert "η" in (tmp_path / "sheet.txt").read_text(encoding="utf-8")
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.txt"]


def test_numbers_do_not_ask_the_locale() -> None:
    """Nothing in the package sets or reads a locale, so a comma of the system cannot come into a figure or out of one."""
    used = [p.name for p in (ROOT / "barrier").rglob("*.py") if "locale" in p.read_text(encoding="utf-8")]
    assert not used, used


ENCODED: dict[str, tuple[bytes, str]] = {
    "UTF-16 with its mark": (TEXT.encode("utf-16"), "UTF-16"),
    "UTF-16 without": (TEXT.encode("utf-16-le"), "UTF-16"),
    "UTF-16, the other way round": (TEXT.encode("utf-16-be"), "UTF-16"),
    "UTF-16 with the other mark": (b"\xfe\xff" + TEXT.encode("utf-16-be"), "UTF-16"),
    "a page of letters of one byte": (TEXT.replace("title = ", 'title = "é" #', 1).encode("latin-1", "replace"), "UTF-8"),
}


@pytest.mark.parametrize("name", ENCODED)
def test_a_job_in_other_letters_is_said(name: str, tmp_path: Path) -> None:
    data, says = ENCODED[name]
    path = tmp_path / "job.toml"
    path.write_bytes(data)
    said = refused(run("check", path))
    assert says in said and "save" in said and path.read_bytes() == data


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_a_mark_at_the_head_and_other_line_ends_change_nothing(ends: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", ends).encode())
    same, was = read_job(path), read_job(JOB)
    assert same.panels[0].width.x == was.panels[0].width.x and len(same.mounts) == len(was.mounts)
    assert same.title == was.title


# ---------------------------------------------------------------- tables that are damaged

DAMAGES: dict[str, tuple[Callable[[Path], object], str]] = {  # each spoils its file
    "a cell too many": (lambda p: p.write_text(p.read_text().rstrip("\n") + ",\n"), "cells where the header has"),
    "cut off in a row": (lambda p: p.write_text(p.read_text()[:-40]), "cut off"),
    "empty": (lambda p: p.write_text(""), ":1:"),
    "no text": (lambda p: p.write_bytes(b"\xff\x00\xfe"), "UTF-8"),
    "gone": (lambda p: p.unlink(), "cannot be read"),
    "letters for a figure": (lambda p: p.write_text(p.read_text().replace(",1", ",l")), ""),
}
# One that every job reads while it is walked, one that is read only where the sheet says its fingerprint.
ASKED, ONLY_PRINTED = "site", "wind_uk_town"


@pytest.fixture
def damaged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of the bundled tables that stands in their place and may be spoilt."""
    copy = Path(shutil.copytree(ROOT / "tables", tmp_path / "copy"))
    monkeypatch.undo()  # here the walk is made and the page is written
    monkeypatch.setattr(barrier.tables, "root", lambda: copy)
    barrier.tables._bundled.cache_clear()
    yield copy
    barrier.tables._bundled.cache_clear()


@pytest.mark.parametrize("name", DAMAGES)
@pytest.mark.parametrize("table", [ASKED, ONLY_PRINTED])
def test_a_damaged_table_of_ours_has_one_ending(name: str, table: str, damaged: Path) -> None:
    """Whether the walk reads it or only the sheet: exit 2, the file, the line, and what to do."""
    damage, says = DAMAGES[name]
    damage(damaged / f"{table}.csv")
    said = refused(run("check", JOB))
    assert f"{damaged / table}.csv:" in said and says in said and "install the tool again" in said


@pytest.mark.parametrize("command", [("tables",), ("tables", "site"), ("tables", "--search", "screw"), ("check", str(JOB))])
def test_a_list_of_tables_that_is_no_list(command: tuple[str, ...], damaged: Path) -> None:
    for text in ("", "[tables", "[tables]\nsite = 1\n"):
        (damaged / "index.toml").write_text(text)
        said = refused(run(*command))
        assert "index.toml" in said and "install the tool again" in said


OVERLAYS: dict[str, tuple[bytes, str]] = {
    "a cell too many": (b"# column name: key\n# column value: ratio\nname,value,source\npoint_patch,1,me,\n", "site.csv:4:"),
    "cut off": (b"# column name: key\n# column value: length in mm\nname,value,sour", "site.csv:3:"),
    "empty": (b"", "site.csv:1:"),
    "UTF-16": ("# column name: key\n".encode("utf-16"), "UTF-8"),
    "nothing but a head": (b"# column name: key\n# column value: length in mm\nname,value,source\n", "no row"),
}


@pytest.mark.parametrize("name", OVERLAYS)
def test_a_damaged_overlay_is_said_with_its_line(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()
    data, says = OVERLAYS[name]
    (tmp_path / "site.csv").write_bytes(data)
    said = refused(run("check", JOB, "--tables", tmp_path))
    assert says in said and "site.csv" in said and (tmp_path / "site.csv").read_bytes() == data


def test_an_overlay_that_vanishes_after_it_was_read_is_still_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A reader's folder on a stick that is pulled out: it is read once, and the sheet carries what was laid over."""
    file = tmp_path / "site.csv"
    file.write_text("# column name: key\n# column value: length in mm\nname,value,source\npoint_patch,60,me\n")
    reading = barrier.table_file.bytes_of

    def once(path: Path, most: int, what: str) -> bytes:
        data = reading(path, most, what)
        if path == file:  # and no other: the bundled ones are read the same way
            file.unlink()
        return data

    monkeypatch.setattr(barrier.table_file, "bytes_of", once)
    tables = Tables((tmp_path,))
    assert not file.exists() and tables.value("site", "point_patch").x == 60.0 and "point_patch,60" in dict(tables.own)["site"]


def test_verify_without_room_for_the_tables_of_a_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a sheet carries is laid out in a temporary folder: where none can be made or filled, that is said, no verdict."""
    monkeypatch.undo()
    own = tmp_path / "own"
    own.mkdir()
    (own / "site.csv").write_text("# column name: key\n# column value: length in mm\nname,value,source\npoint_patch,60,me\n")
    sheet = tmp_path / "sheet.json"
    run("check", JOB, "--tables", own, "--format", "json", "--output", sheet)

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("tempfile.mkdtemp", full)
    assert "No space left" in refused(run("verify", sheet))
    monkeypatch.undo()
    monkeypatch.setattr(Path, "write_bytes", full)
    assert "No space left" in refused(run("verify", sheet))
