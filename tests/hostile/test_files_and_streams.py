"""Files, pipes, devices, links, full disks and interrupts: whole or not at all, a sentence each, and never exit code 1.

Exit code 1 means that something exceeds; what is no answer has a code of its own (2 refused, 70 a fault of the tool, 130 stopped
from the keyboard, 141 nobody reads).
"""

from __future__ import annotations

import os
import signal
import stat
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from conftest import ROOT

from barrier import cli
from barrier.output import NotWritten, write_file

JOB = ROOT / "worked_examples" / "boards_only.toml"
EXCEEDS, REFUSED, OURS, INTERRUPTED, NOBODY_READS = 1, 2, 70, 130, 141
COMMAND = [sys.executable, "-m", "barrier"]
ENV = {**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}


def run(*arguments: str, unbuffered: bool = False, **how: object) -> subprocess.CompletedProcess[bytes]:
    env = {**ENV, "PYTHONUNBUFFERED": "1"} if unbuffered else ENV
    return subprocess.run([*COMMAND, *arguments], env=env, timeout=60, check=False, **how)  # type: ignore[call-overload,no-any-return]


# ---------------------------------------------------------------- where a sheet goes


def test_a_link_is_followed_and_a_mode_is_kept(tmp_path: Path) -> None:
    real, link = tmp_path / "real.txt", tmp_path / "link.txt"
    real.write_text("before")
    real.chmod(0o600)
    link.symlink_to(real)
    write_file(str(link), "after")
    assert link.is_symlink() and real.read_text() == "after\n" and stat.S_IMODE(real.stat().st_mode) == 0o600
    assert sorted(p.name for p in tmp_path.iterdir()) == ["link.txt", "real.txt"]


def test_a_new_file_has_the_mode_the_user_asks_of_the_shell(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        write_file(str(tmp_path / "new.txt"), "text")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new.txt").stat().st_mode) == 0o640


def test_a_pipe_is_written_through(tmp_path: Path) -> None:
    pipe, got = tmp_path / "pipe", []
    os.mkfifo(pipe)
    reader = threading.Thread(target=lambda: got.append(pipe.read_bytes()))
    reader.start()
    write_file(str(pipe), b"x" * 300_000)
    reader.join(timeout=10)
    assert got == [b"x" * 300_000] and stat.S_ISFIFO(pipe.stat().st_mode)


@pytest.mark.parametrize(
    ("path", "says"), [("", "is empty"), ("   ", "is empty"), (".", "is a folder"), ("a\0b", "cannot be"), ("no/such/x", "cannot")]
)
def test_what_is_no_place_is_said(path: str, says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(NotWritten, match=says):
        write_file(path, "text")
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full here")
@pytest.mark.parametrize("unbuffered", [False, True])
def test_a_full_disk_is_said_however_the_output_is_buffered(unbuffered: bool) -> None:
    with open("/dev/full", "wb") as full:
        done = run("check", str(JOB), unbuffered=unbuffered, stdout=full, stderr=subprocess.PIPE)
    assert done.returncode == REFUSED and b"could not be written" in done.stderr


@pytest.mark.parametrize("unbuffered", [False, True])
def test_a_pipe_gets_all_however_it_is_buffered(unbuffered: bool, tmp_path: Path) -> None:
    """More than a pipe holds: an unbuffered write takes less at a time than it is given, and the rest must follow."""
    done = run("check", str(JOB), unbuffered=unbuffered, stdout=subprocess.PIPE)
    run("check", str(JOB), "--output", str(tmp_path / "sheet.txt"))
    assert len(done.stdout) > 65_536 and done.stdout == (tmp_path / "sheet.txt").read_bytes()


def test_nobody_reads(tmp_path: Path) -> None:
    process = subprocess.Popen([*COMMAND, "check", str(JOB)], env=ENV, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert process.stdout is not None and process.stderr is not None
    process.stdout.close()
    assert process.wait(timeout=60) == NOBODY_READS and process.stderr.read() == b""


def test_a_closed_output_is_said() -> None:
    done = subprocess.run(["sh", "-c", '"$@" >&-', "sh", *COMMAND, "check", str(JOB)], env=ENV, capture_output=True, timeout=60)
    assert done.returncode == REFUSED and b"closed" in done.stderr


# ---------------------------------------------------------------- told to stop


def as_from_a_keyboard() -> None:
    """A process in the background ignores what Ctrl-C sends, one under nohup a closed terminal; ours would inherit that."""
    for one in (signal.SIGINT, signal.SIGHUP):
        signal.signal(one, signal.SIG_DFL)


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_stopped_while_it_writes_nothing_stays_behind(how: signal.Signals, tmp_path: Path) -> None:
    """The move into place is held up in another process, which is then told to stop: no file, no trace."""
    script = (
        "import os, sys, time\nfrom barrier import output\n"
        "def slow(a, b):\n    print('now', flush=True)\n    time.sleep(30)\n"
        "output.os.replace = slow\n"
        f"output.write_file({str(tmp_path / 'sheet.txt')!r}, 'text')\n"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", script], env=ENV, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, preexec_fn=as_from_a_keyboard
    )
    assert process.stdout is not None and process.stdout.readline() == b"now\n"
    process.send_signal(how)
    assert process.wait(timeout=30) != 0
    assert not list(tmp_path.iterdir())


def test_ctrl_c_has_a_code_of_its_own() -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", "from barrier import cli, load_path\nimport time\n"
         "def slow(*a):\n    print('now', flush=True)\n    time.sleep(30)\nload_path.check = slow\n"
         f"cli.main(['check', {str(JOB)!r}])"],
        env=ENV, stdout=subprocess.PIPE, stderr=subprocess.PIPE, preexec_fn=as_from_a_keyboard,
    )  # fmt: skip
    assert process.stdout is not None and process.stderr is not None and process.stdout.readline() == b"now\n"
    time.sleep(0.05)
    process.send_signal(signal.SIGINT)
    assert process.wait(timeout=30) == INTERRUPTED and b"stopped" in process.stderr.read()


def test_a_fault_of_the_tool_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """An exception that nobody foresaw ends with a code and a sentence of its own, never with that of *exceeds*."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError("a wrong line")

    monkeypatch.setattr("barrier.load_path.check", broken)
    done = CliRunner().invoke(cli.main, ["check", str(JOB)])
    assert done.exit_code == OURS and "fault of the tool" in done.stderr and "Traceback" not in done.output


# ---------------------------------------------------------------- jobs and tables that are none

GARDEN = (ROOT / "worked_examples" / "garden_deck.toml").read_text(encoding="utf-8")
CHAIN = "".join(f'\n[blocking.C{i}]\nsame_as = "C{i + 1}"\n' for i in range(1000)) + '\n[blocking.C1000]\nsame_as = "B1"\n'
HOSTILE = {
    "a hexadecimal number of thousands of digits": (GARDEN.replace("tested = 5", "tested = 0x" + "f" * 3600), "rating.tested"),
    "the same under a key that is none": (GARDEN + "\nfoo = 0x" + "f" * 3600 + "\n", "foo"),
    "a key of thousands of parts": (GARDEN + "\n" + ".".join("a" * 12_500) + " = 1\n", "nested deeper"),
    "the same in quotes": (GARDEN + "\n" + ".".join(['"a"'] * 12_500) + " = 1\n", "nested deeper"),
    "the same within braces": (GARDEN + "\nz = { " + ".".join("a" * 12_500) + " = 1 }\n", "nested deeper"),
    "a thousand that each name the next": (GARDEN + CHAIN, "each name the next"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_job_is_refused_at_once(name: str, tmp_path: Path) -> None:
    text, says = HOSTILE[name]
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    start = time.monotonic()
    done = run("check", str(path), capture_output=True)
    assert done.returncode == REFUSED and says in done.stderr.decode() and b"job.toml:" in done.stderr
    assert b"Traceback" not in done.stderr and time.monotonic() - start < 10


def test_a_circle_of_names_is_one_fault(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(GARDEN.replace('same_as = "B1"', 'same_as = "B3"') + '\n[blocking.B3]\nsame_as = "B2"\n', encoding="utf-8")
    done = run("check", str(path), capture_output=True)
    assert done.returncode == REFUSED and done.stderr.decode().count("\n") == 1 and b"circle" in done.stderr


def test_pipes_and_devices_among_tables_are_refused_at_once(tmp_path: Path) -> None:
    for name, make in (("pipe", os.mkfifo), ("device", lambda p: Path(p).symlink_to("/dev/zero"))):
        folder = tmp_path / name
        folder.mkdir()
        make(folder / "site.csv")
        done = run("check", str(JOB), "--tables", str(folder), capture_output=True)
        assert done.returncode == REFUSED and b"no ordinary file" in done.stderr


def test_a_point_load_on_no_length_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site.csv").write_text(
        "# Own\n# edition: mine\n# column name: key\n# column value: length in mm\nname,value,source\npoint_patch,0,me\n"
    )
    done = run("check", str(JOB), "--tables", str(tmp_path), capture_output=True)
    assert done.returncode == REFUSED and b"outside 1 to 200 mm" in done.stderr
