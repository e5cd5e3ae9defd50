"""The front door from outside: exit codes, one line of help for each fault, files written whole or not at all."""

from __future__ import annotations

import inspect
import json
import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from conftest import ROOT

import barrier
from barrier.cli import main

EXAMPLES = ROOT / "worked_examples"
GARDEN = (EXAMPLES / "garden_deck.toml").read_text(encoding="utf-8")
EVERYDAY = (EXAMPLES / "everyday_deck.toml").read_text(encoding="utf-8")
WIND = GARDEN[GARDEN.index("[wind]") : GARDEN.index("[[panels]]")]
QUIET = GARDEN.replace(WIND, "")
KEYS = {"format", "version", "caution", "units", "ending", "governing", "job", "basis", "fingerprints", "situations", "cases"}
WITHIN, EXCEEDS, REFUSED, NOT_CHECKED = 0, 1, 2, 3
THEIRS = ("Traceback", "pydantic", "Input should", "tomllib", "Error:", "Exception")
# Before 8.2 click mixes the two streams unless told not to.
SPLIT = {"mix_stderr": False} if "mix_stderr" in inspect.signature(CliRunner).parameters else {}


def run(*arguments: str | Path, input: str | None = None) -> Result:
    """The command in this process; whatever leaves it but SystemExit is a traceback the reader would see."""
    result = CliRunner(**SPLIT).invoke(main, [str(a) for a in arguments], input=input)  # type: ignore[arg-type]
    assert result.exception is None or isinstance(result.exception, SystemExit), repr(result.exception)
    return result


def really(*arguments: str | Path, **more: object) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, as a shell starts it."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1", **more.pop("env", {})}  # type: ignore[dict-item]
    command = [sys.executable, "-m", "barrier", *(str(a) for a in arguments)]
    return subprocess.run(command, capture_output=True, encoding="utf-8", env=environment, timeout=120, **more)  # type: ignore[call-overload,no-any-return]


def refused(result: Result | subprocess.CompletedProcess[str]) -> list[str]:
    """A refusal: exit code 2, nothing on stdout, and words of our own on stderr. Returns the lines there."""
    code = result.exit_code if isinstance(result, Result) else result.returncode
    assert code == REFUSED, f"exit code {code}\n{result.stderr}"
    assert not result.stdout, "a refused job prints no sheet"
    lines = str(result.stderr).strip().splitlines()
    assert lines, "refused without a word"
    assert not [word for word in THEIRS if word in result.stderr], result.stderr
    return lines


@pytest.fixture
def job(tmp_path: Path) -> Callable[..., Path]:
    """Writes a job file: text or bytes, under a name."""

    def write(content: str | bytes, name: str = "job.toml") -> Path:
        path = tmp_path / name
        path.write_bytes(content.encode("utf-8", "surrogatepass") if isinstance(content, str) else content)
        return path

    return write


def test_the_version_stands_in_one_place() -> None:
    """The command, the package and the build say the same: none has a number of its own."""
    assert run("--version").stdout.strip() == f"barrier, version {barrier.__version__}"
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["project"]["dynamic"] == ["version"] and "version" not in project["project"]
    assert project["tool"]["hatch"]["version"]["path"] == "barrier/__init__.py"


# ---------------------------------------------------------------- exit codes


@pytest.mark.parametrize(("text", "code"), [(GARDEN, WITHIN), (EVERYDAY, EXCEEDS), (QUIET, NOT_CHECKED)])
def test_exit_code_says_how_it_ended(text: str, code: int, job: Callable[..., Path]) -> None:
    result = run("check", job(text))
    assert result.exit_code == code and not result.stderr
    assert "CAUTION" in result.stdout.splitlines()[1]


@pytest.mark.parametrize(("name", "code"), [("garden_deck", WITHIN), ("everyday_deck", EXCEEDS)])
def test_the_shell_sees_the_same(name: str, code: int) -> None:
    path = f"worked_examples/{name}.toml"
    done = really("check", path, cwd=ROOT, env={"PYTHONHASHSEED": "7"})
    assert done.returncode == code and not done.stderr
    # Neither the place the file lies nor the order of a set is on the sheet: the same bytes.
    assert done.stdout == run("check", ROOT / path).stdout


@pytest.mark.parametrize("study", ["ladder", "faults"])
def test_a_study_prints_its_page_and_refuses_what_check_refuses(study: str, job: Callable[..., Path], tmp_path: Path) -> None:
    shown = run(study, EXAMPLES / "everyday_deck.toml")
    assert shown.exit_code == 0 and "EXCEEDS" in shown.stdout and not shown.stderr
    assert "panels.P3.width" in refused(run(study, job(GARDEN.replace('"1000 mm"', '"1000"', 1))))[0]
    assert "no such file" in refused(run(study, tmp_path / "none.toml"))[0]


def test_the_worst_of_several_jobs_counts(job: Callable[..., Path]) -> None:
    garden, quiet, everyday = job(GARDEN, "g.toml"), job(QUIET, "q.toml"), job(EVERYDAY, "e.toml")
    assert run("check", garden, quiet).exit_code == NOT_CHECKED
    assert run("check", everyday, quiet, garden).exit_code == EXCEEDS  # 3 is not worse than 1


@pytest.mark.parametrize("arguments", [["check"], ["nonsense"], ["check", "a.toml", "--format", "xml"], ["check", "--wind"]])
def test_a_command_that_is_none_is_refused(arguments: list[str]) -> None:
    result = run(*arguments)
    assert result.exit_code == REFUSED and "Usage" in result.stderr and not result.stdout


# ---------------------------------------------------------------- bad input


@dataclass(frozen=True)
class Bad:
    """The garden job with ``old`` replaced by ``new``: one line must say ``words``, and stand at the line of ``new``."""

    old: str
    new: str
    words: tuple[str, ...]
    placed: bool = True


BAD = {
    # keys
    "missing key": Bad('height = "1040 mm"\n', "", ("panels.P3.height", "missing"), placed=False),
    "misspelt key": Bad('height = "1040 mm"', 'hieght = "1040 mm"', ("hieght", '"height"')),
    "unknown key": Bad("pool = false", 'pool = false\ncolour = "green"', ("site.colour", "not a known key"), placed=False),
    "duplicate key": Bad("pool = false", "pool = false\npool = true", ("pool", "second time"), placed=False),
    "missing table": Bad("[site]", "[sight]", ("site", "missing"), placed=False),
    # units
    "no unit": Bad('width = "1000 mm"', 'width = "1000"', ("panels.P3.width", "no unit", "1000 mm")),
    "bare number": Bad('width = "1000 mm"', "width = 1000", ("panels.P3.width", "no unit")),
    "wrong dimension": Bad('width = "1000 mm"', 'width = "12 kN"', ("panels.P3.width", "kN", "length")),
    "unknown unit": Bad('width = "1000 mm"', 'width = "3 furlong"', ("panels.P3.width", "furlong", "mm")),
    "decimal comma": Bad('width = "1000 mm"', 'width = "1,2 m"', ("panels.P3.width", "comma")),
    "megamolar": Bad('nominal = "19 mm"', 'nominal = "12 MM"', ("nominal", "12 MM", '"mm"')),
    "knots per metre": Bad('map_speed = "22 m/s"', 'pressure = "0.75 kn/m2"', ("wind.pressure", '"kN/m2"')),
    # sizes
    "negative": Bad('width = "1000 mm"', 'width = "-1000 mm"', ("panels.P3.width", "-1000 mm", "100 to 6000 mm")),
    "zero": Bad('width = "1000 mm"', 'width = "0 mm"', ("panels.P3.width", "0 mm", "100 to 6000 mm")),
    "zero of a screw": Bad('diameter = "10 mm"', 'diameter = "0 mm"', ("screw.diameter", "0 mm", "3 to 30 mm")),
    "nan": Bad('width = "1000 mm"', 'width = "nan mm"', ("panels.P3.width", "nan")),
    "nan of TOML": Bad('width = "1000 mm"', "width = nan", ("panels.P3.width", "nan")),
    "infinity": Bad('width = "1000 mm"', 'width = "inf mm"', ("panels.P3.width", "inf")),
    "infinity of TOML": Bad('width = "1000 mm"', "width = -inf", ("panels.P3.width", "inf")),
    "1e400": Bad('width = "1000 mm"', 'width = "1e400 mm"', ("panels.P3.width", "1e400", "finite")),
    "1e400 of TOML": Bad('width = "1000 mm"', "width = 1e400", ("panels.P3.width", "inf")),
    # geometry
    "screw off its plate": Bad('x = "-55 mm"', 'x = "-95 mm"', ("S1", "outside the base plate")),
    "clamps overlap": Bad('x = "770 mm"', 'x = "300 mm"', ("M2", "M1", "overlap")),
    "clamp off the glass": Bad('x = "230 mm"', 'x = "20 mm"', ("M1", "beyond the end of the glass")),
    "load above the glass": Bad(
        'duration = "short-term"', 'height = "1200 mm"\nreference = "x"', ("loads.height", "1200 mm", "above the top of the glass")
    ),
    # refused by name
    "drilled glass": Bad('drilled = false\nshape', 'drilled = true\nshape', ("panels.P3.drilled", "hole or notch")),
    "gate": Bad('use = "fixed" ', 'use = "gate" ', ("panels.P3.use", "gate")),
    "unknown use": Bad('use = "A2"', 'use = "A22"', ("site.use", "A22", "A2")),
    "unknown national": Bad('national = "uk"', 'national = "ku"', ("national", "ku", "uk")),
    "unknown basis": Bad('basis = "en"', 'basis = "eu"', ("basis", "eu", "en")),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_refused_with_a_useful_line(name: str, job: Callable[..., Path]) -> None:
    bad = BAD[name]
    assert bad.old in GARDEN, "the example has changed"
    text = GARDEN.replace(bad.old, bad.new, 1)
    path = job(text)
    lines = refused(run("check", path))
    assert all(line.startswith(str(path)) for line in lines)
    found = [line for line in lines if all(word in line.removeprefix(str(path)) for word in bad.words)]
    assert found, lines
    if bad.placed:
        line = text.count("\n", 0, text.index(bad.new)) + 1
        assert any(text.startswith(f"{path}:{line}: ") for text in found), f"not at line {line}: {found}"


def test_a_timber_no_table_has_is_named_and_keeps_its_checks_unmade(job: Callable[..., Path]) -> None:
    result = run("check", job(GARDEN.replace('en = "C24"', 'en = "C42"')))
    assert result.exit_code == NOT_CHECKED and "C42 is no strength class" in result.stdout


def sparse(path: Path) -> None:
    with path.open("wb") as f:
        f.truncate(50_000_000)


FILES: dict[str, tuple[Callable[[Path], object], str]] = {
    "empty": (lambda p: p.write_bytes(b""), "empty"),
    "binary": (lambda p: p.write_bytes(bytes(range(256)) * 8), "no text file"),
    "not UTF-8": (lambda p: p.write_bytes('title = "Geländer"'.encode("latin-1")), "UTF-8"),
    "UTF-16": (lambda p: p.write_bytes(GARDEN.encode("utf-16")), "UTF-16"),
    "50 MB": (sparse, "50.0 MB"),
    "a folder": (lambda p: p.mkdir(), "folder"),
    "no such file": (lambda p: None, "no such file"),
    "in no such folder": (lambda p: None, "no such file"),
    "a pipe": (os.mkfifo, "no ordinary file"),
    "TOML of another kind": (lambda p: p.write_text('[tool]\nname = "x"\n'), "not a known"),
    "no TOML": (lambda p: p.write_text("<html>\n"), "key = value"),
}


@pytest.mark.parametrize("name", FILES)
def test_what_is_no_job_file_is_refused(name: str, tmp_path: Path) -> None:
    make, words = FILES[name]
    path = tmp_path / "deep" / "job.toml" if name == "in no such folder" else tmp_path / "job.toml"
    make(path)
    lines = refused(run("check", path))
    assert any(words in line for line in lines), lines
    assert all(line.startswith(str(path)) for line in lines)


def test_bad_files_show_the_shell_no_traceback(job: Callable[..., Path]) -> None:
    contents = (
        b"",
        b"\x7fELF\x00",
        b"\xff",
        b"[" * 3000,
        b"a = 1\n",
        b"a.b.c = {x = [1",
        GARDEN.replace("[site]", "[sight]").encode(),
    )
    paths = [job(content, f"{i}.toml") for i, content in enumerate(contents)]
    lines = refused(really("check", *paths))
    assert all(any(line.startswith(str(path)) for line in lines) for path in paths)


def test_all_faults_at_once(job: Callable[..., Path]) -> None:
    text, wrong = GARDEN, ("misspelt key", "wrong dimension", "megamolar", "knots per metre", "clamp off the glass", "unknown key")
    for name in wrong:
        text = text.replace(BAD[name].old, BAD[name].new, 1)
    lines = refused(run("check", job(text)))
    # The clamp is off a glass whose width cannot be read, so that one cannot be seen; each of the others must be.
    for name in set(wrong) - {"clamp off the glass"}:
        assert any(all(w in line for w in BAD[name].words) for line in lines), f"{name} is not among\n" + "\n".join(lines)
    numbers = [int(m[1]) for line in lines if (m := re.match(r".*?job\.toml:(\d+): ", line))]
    assert numbers == sorted(numbers) and len(lines) >= 6


def test_an_unknown_use_is_seen_beside_other_faults(job: Callable[..., Path]) -> None:
    text = GARDEN.replace('use = "A2"', 'use = "A22"', 1).replace('width = "1000 mm"', 'width = "1000 kN"', 1)
    assert any("1000 kN" in line for line in refused(run("check", job(text))))


def test_a_refused_job_does_not_lose_the_sheets_of_the_others(job: Callable[..., Path], tmp_path: Path) -> None:
    bad = job(GARDEN.replace('"1000 mm"', '"1000"', 1), "bad.toml")
    result = run("check", job(GARDEN, "g.toml"), bad, tmp_path / "none.toml", job(EVERYDAY, "e.toml"))
    assert result.exit_code == REFUSED
    assert "Garden deck" in result.stdout and "Everyday deck" in result.stdout
    assert "bad.toml" in result.stderr and "none.toml" in result.stderr and "Traceback" not in result.stderr


# ---------------------------------------------------------------- JSON


def test_json_can_be_read_and_has_its_keys() -> None:
    result = run("check", EXAMPLES / "garden_deck.toml", "--format", "json")
    document = json.loads(result.stdout)
    assert result.exit_code == WITHIN and set(document) >= KEYS
    assert document["format"] == "barrier result" and isinstance(document["version"], int)
    assert document["ending"] == "within" and document["units"].startswith("N, mm, MPa, rad")
    checks = [c for link in document["situations"][0]["links"] for c in link["checks"]]
    assert {c["ending"] for c in checks} <= {"within", "exceeds", "not checked"} and len(checks) > 20


def test_json_of_several_jobs_is_one_document_after_the_other() -> None:
    text = run("check", EXAMPLES / "garden_deck.toml", EXAMPLES / "everyday_deck.toml", "--format", "json").stdout
    first, end = json.JSONDecoder().raw_decode(text)
    second, _ = json.JSONDecoder().raw_decode(text[end:].lstrip())
    assert (first["ending"], second["ending"]) == ("within", "exceeds")


# ---------------------------------------------------------------- --output


def test_output_holds_what_would_be_printed(tmp_path: Path) -> None:
    forms = ("html", "json", "markdown", "text")
    for form in forms:
        path = tmp_path / form
        result = run("check", EXAMPLES / "garden_deck.toml", "--format", form, "--output", path)
        assert result.exit_code == WITHIN and not result.stdout
        printed = run("check", EXAMPLES / "garden_deck.toml", "--format", form).stdout
        assert path.read_bytes() == printed.encode("utf-8"), form
    assert sorted(p.name for p in tmp_path.iterdir()) == [*forms]


def test_the_exit_code_does_not_depend_on_output(tmp_path: Path) -> None:
    result = run("check", EXAMPLES / "everyday_deck.toml", "--output", tmp_path / "sheet.txt")
    assert result.exit_code == EXCEEDS and (tmp_path / "sheet.txt").is_file()


def test_output_of_a_refused_job_leaves_the_old_file(job: Callable[..., Path], tmp_path: Path) -> None:
    old = tmp_path / "sheet.txt"
    old.write_text("old")
    refused(run("check", job("a = 1"), "--output", old))
    assert old.read_text() == "old"


@pytest.mark.parametrize("step", ["replace", "chmod", "fdopen"])
def test_output_is_whole_or_not_there(step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A write that fails half-way: the old sheet stays as it was, and nothing is left beside it."""
    old = tmp_path / "sheet.txt"
    old.write_text("old")

    def fail(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, step, fail)
    lines = refused(run("check", EXAMPLES / "garden_deck.toml", "--output", old))
    assert "sheet.txt" in lines[0] and "No space left" in lines[0]
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.txt"] and old.read_text() == "old"


def test_a_full_disk_leaves_the_old_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = tmp_path / "sheet.txt"
    old.write_text("old")
    opened = os.fdopen

    def full(handle: int, *more: object, **others: object) -> object:
        file = opened(handle, *more, **others)  # type: ignore[call-overload]

        def write(text: str) -> int:
            raise OSError(28, "No space left on device")

        file.write = write
        return file

    monkeypatch.setattr(os, "fdopen", full)
    refused(run("check", EXAMPLES / "garden_deck.toml", "--output", old))
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.txt"] and old.read_text() == "old"


def test_output_into_a_folder_that_is_not_there(tmp_path: Path) -> None:
    lines = refused(run("check", EXAMPLES / "garden_deck.toml", "--output", tmp_path / "none" / "sheet.txt"))
    assert "cannot be written" in lines[0]
    assert not list(tmp_path.iterdir())


def test_output_under_a_file_as_if_it_were_a_folder(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("old")
    refused(run("check", EXAMPLES / "garden_deck.toml", "--output", tmp_path / "file" / "sheet.txt"))
    assert (tmp_path / "file").read_text() == "old"


def test_output_into_a_folder_that_may_not_be_written(tmp_path: Path) -> None:
    """A folder without write permission; for root, who may write everywhere, one that the system itself keeps."""
    folder = tmp_path / "locked"
    folder.mkdir()
    folder.chmod(0o500)
    place = Path("/proc") if os.access(folder, os.W_OK) else folder
    try:
        refused(run("check", EXAMPLES / "garden_deck.toml", "--output", place / "sheet.txt"))
    finally:
        folder.chmod(0o700)


def test_output_to_a_folder_is_refused(tmp_path: Path) -> None:
    result = run("check", EXAMPLES / "garden_deck.toml", "--output", tmp_path)
    assert result.exit_code == REFUSED and "directory" in result.stderr and not list(tmp_path.iterdir())


def test_output_takes_one_job(tmp_path: Path) -> None:
    lines = refused(run("check", *[EXAMPLES / "garden_deck.toml"] * 2, "--output", tmp_path / "sheet.txt"))
    assert "--output" in lines[0] and not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", ["job.toml", "job.txt", "other.toml", "new.toml", "new.TOML", "link.txt", "sub/../job.txt"])
def test_output_never_lands_on_a_job_file(name: str, job: Callable[..., Path], tmp_path: Path) -> None:
    """The job itself (whatever its name), by a link or a detour, another job, and any file that would look like one."""
    (tmp_path / "sub").mkdir()
    source = job(GARDEN, "job.txt" if name in ("job.txt", "link.txt", "sub/../job.txt") else "job.toml")
    other = job(EVERYDAY, "other.toml")
    if name == "link.txt":
        (tmp_path / name).symlink_to(source)
    before = {p.name for p in tmp_path.iterdir()}
    lines = refused(run("check", source, "--output", tmp_path / name))
    assert "job file" in lines[0]
    assert source.read_text(encoding="utf-8") == GARDEN and other.read_text(encoding="utf-8") == EVERYDAY
    assert {p.name for p in tmp_path.iterdir()} == before


def test_output_by_the_name_of_a_linked_job(job: Callable[..., Path], tmp_path: Path) -> None:
    source = job(GARDEN, "job.txt")
    (tmp_path / "link.toml").symlink_to(source)
    refused(run("check", tmp_path / "link.toml", "--output", source))
    assert source.read_text(encoding="utf-8") == GARDEN


def test_a_link_to_another_job_is_not_written_through(job: Callable[..., Path], tmp_path: Path) -> None:
    other = job(EVERYDAY, "other.toml")
    (tmp_path / "sheet.txt").symlink_to(other)
    run("check", job(GARDEN), "--output", tmp_path / "sheet.txt")
    assert other.read_text(encoding="utf-8") == EVERYDAY


# ---------------------------------------------------------------- stdout of a shell


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_terminal_without_our_letters_gets_a_sheet_all_the_same(encoding: str) -> None:
    """A sheet redirected into a file is written in the encoding of the system, which may have no box drawing."""
    done = really("check", EXAMPLES / "everyday_deck.toml", env={"PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}, errors="replace")
    assert "Traceback" not in done.stderr, done.stderr[-300:]
    assert done.returncode == EXCEEDS
    # What every encoding has is there word for word.
    plain = [line for line in run("check", EXAMPLES / "everyday_deck.toml").stdout.splitlines() if line.isascii()]
    assert len(plain) > 500 and set(plain) <= set(done.stdout.splitlines())


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_a_full_disk_behind_a_redirection_is_no_traceback() -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "barrier", "check", str(EXAMPLES / "garden_deck.toml")],
            stdout=full, stderr=subprocess.PIPE, encoding="utf-8", timeout=120,
            env={**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"},
        )  # fmt: skip
    assert done.returncode != WITHIN and "Traceback" not in done.stderr, done.stderr[-300:]


def test_a_reader_who_stops_reading_sees_no_traceback() -> None:
    command = f'"{sys.executable}" -m barrier check "{EXAMPLES / "everyday_deck.toml"}" | head -1'
    done = subprocess.run(
        command, shell=True, capture_output=True, encoding="utf-8", timeout=120,
        env={**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"},
    )  # fmt: skip
    assert "Traceback" not in done.stderr and done.stdout.count("\n") == 1


# ---------------------------------------------------------------- tables


def test_tables_are_listed_printed_and_searched() -> None:
    listed = run("tables")
    assert listed.exit_code == 0 and "timber_en338_2016" in listed.stdout and "nds_species" in listed.stdout
    shown = run("tables", "timber_en338_2016")
    assert shown.exit_code == 0 and "C24" in shown.stdout and "EN 338" in shown.stdout and "secondary" in shown.stdout
    found = run("tables", "--search", "glulam")
    assert found.exit_code == 0 and "gamma_M_glulam" in found.stdout
    one = run("tables", "en1995_factors", "--search", "glulam")
    assert one.exit_code == 0 and set(one.stdout.splitlines()) <= set(found.stdout.splitlines()) | {"3 found"}


def test_every_listed_table_can_be_printed() -> None:
    names = [line.split()[0] for line in run("tables").stdout.split("\n\n")[0].splitlines() if line[:1].strip()]
    assert len(names) > 20
    for name in names:
        result = run("tables", name)
        assert result.exit_code == 0 and name in result.stdout


@pytest.mark.parametrize(("asked", "near"), [("timber_en338_2061", "timber_en338_2016"), ("uk_barier_loads", "uk_barrier_loads"),
                                             ("en338", "timber_en338_2016")])  # fmt: skip
def test_an_unknown_table_names_the_nearest(asked: str, near: str) -> None:
    for more in ([], ["--search", "C24"]):
        lines = refused(run("tables", asked, *more))
        assert asked in lines[0] and near in lines[0]


def test_a_search_that_finds_nothing_says_so() -> None:
    result = run("tables", "--search", "zzyzx")
    assert result.exit_code == 0 and "nothing found" in result.stdout


# ---------------------------------------------------------------- new


@pytest.mark.parametrize("answer", ["don't know", "", "?"])
def test_a_reader_who_knows_nothing_gets_a_job_that_can_be_checked(answer: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    asked = run("new", path, input=f"{answer}\n" * 80)
    assert asked.exit_code == 0, asked.output
    text = path.read_text(encoding="utf-8")
    assert "assumed = " in text and "barrier check" in asked.output
    result = run("check", path)
    assert result.exit_code in (EXCEEDS, NOT_CHECKED), result.stderr
    assert "NOT CHECKED" in result.stdout


ANSWERS = (
    "uk", "home", "1.8 m", "garden", "weather", "1200 mm", "1100 mm", "50 mm", "toughened", "12 mm", "polished", "none",
    "2", "150 mm", "90 mm", "50 mm", "100 mm", "square", "10 mm", "70 x 70 mm", "coach screw", "8 x 100 mm", "60 mm", "5.4 mm",
    "28 mm", "140 mm", "along", "C24", "0 mm", "450 mm", "45 x 195 mm", "across", "2.4 m", "300 mm", "100 mm", "bearer", "90 mm",
    "3", "45 x 195 mm", "upright", "c24", "nails", "2", "3.1 x 90 mm",
    "22 m/s", "60 m", "30 km", "country", "no", "open", "7.3 m", "2.4 m", "0 m",
)  # fmt: skip


def test_a_reader_who_knows_everything_gets_a_job_with_his_answers(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    asked = run("new", path, input="\n".join(ANSWERS) + "\n")
    assert asked.exit_code == 0, asked.output
    text = path.read_text(encoding="utf-8")
    for answer in ("1.8 m", "1200 mm", "12 mm", "90 mm", "28 mm", "toughened", "22 m/s", "7.3 m"):
        assert f'"{answer}"' in text
    assert run("check", path).exit_code in (EXCEEDS, NOT_CHECKED)


def test_an_answer_that_cannot_be_taken_is_asked_for_again(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    asked = run("new", path, input="mars\nuk\n" + "1,2 m\n".join(["\n", "\n"]) + "?\n" * 80)
    assert asked.exit_code == 0 and "'mars' is not among" in asked.output and "comma" in asked.output
    assert 'national = "uk"' in path.read_text(encoding="utf-8")


def test_questions_broken_off_write_nothing(tmp_path: Path) -> None:
    result = run("new", tmp_path / "job.toml", input="uk\n")
    assert result.exit_code != 0 and not list(tmp_path.iterdir())


def test_the_example_is_the_bundled_one(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    result = run("new", "--example", path)
    assert result.exit_code == 0 and path.read_text(encoding="utf-8") == GARDEN
    assert run("check", path).exit_code == WITHIN


@pytest.mark.parametrize("option", [["--example"], []])
def test_new_never_writes_over_a_file(option: list[str], tmp_path: Path) -> None:
    for path in (tmp_path / "job.toml", tmp_path / "notes.txt"):
        path.write_text("mine")
        lines = refused(run("new", *option, path, input="\n" * 40))
        assert "already there" in lines[0] and path.read_text() == "mine"


def test_new_into_a_folder_that_is_not_there(tmp_path: Path) -> None:
    result = run("new", "--example", tmp_path / "none" / "job.toml")
    assert result.exit_code == REFUSED and "cannot be written" in result.stderr and not list(tmp_path.iterdir())


def test_new_is_whole_or_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", fail)
    refused(run("new", "--example", tmp_path / "job.toml"))
    assert not list(tmp_path.iterdir())
