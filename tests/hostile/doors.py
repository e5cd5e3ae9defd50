"""What comes in by the other doors, spoilt: a reader's own tables, sheets to be verified, answers to questions, files of runs.

    python tests/hostile/doors.py --door overlay --number 2000 --seed 7
    python tests/hostile/doors.py --number 500              (each door)

A failure is an uncaught error, a refusal without words, a verdict that is none, more than ten seconds, more than a gigabyte, and
a sheet that was changed and is certified all the same. Counts are by ending; failures are printed with what they came from.
"""

from __future__ import annotations

import argparse
import csv
import html
import io
import json
import math
import random
import re
import resource
import sys
import tempfile
import time
import tomllib
import traceback
from collections.abc import Callable, Iterator
from contextlib import redirect_stdout
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from fuzz import MOST, ROOT, SLOWEST, Tally, no_verdict, spoilt

from barrier import sheet
from barrier.errors import BarrierError, JobRefused
from barrier.job import Job
from barrier.job.questions import ask_all
from barrier.job.read import job_from_text, read_job
from barrier.job.run_file import run_from_text
from barrier.load_path import check
from barrier.sheet.source import fingerprints
from barrier.tables import Tables
from barrier.verify import verify
from barrier.whole_run import check_run, lay_out

QUICK = ("everyday_deck", "boards_only", "us_deck", "au_deck", "nz_deck", "garden_deck")
ODD_CELLS = (
    "", "unknown", "nan", "inf", "-1", "0", "1e309", "1e-320", "12,5", "½", "=1+1", '"', "a\tb", "−3", "0x10", "9" * 400, "é" * 90,
)  # fmt: skip
ODD_LINES = (
    "#", "# column", "# column x: key", "# adds: ", "# rule: safe", ",,,,,,", '"', "\x00", "\u2028", "# column value: stress in m",
)  # fmt: skip
ODD_WORDS = (
    "", "unknown", "12", "-12 mm", "0 mm", "1e9 mm", "12 kg", "12 mm x", "x", "1 1/2 in", "4'9\"", "½ in", "12,5 mm", "NaN",
    "inf mm", "true", '" \n[site]\nuse = "A1"', "]]", "\\", "'''", '"""', "\x07", "\ud83d\ude00", "עברית", "W" * 5000, "uk",
    "us", "3 x 3", "none", "don't know", "1200 mm # safe", "{ value = 1 }", "1/0 in", "1 0/0 in", "9" * 400 + " mm",
)  # fmt: skip
UNITS = ("mm", "in", "MPa", "psi", "kN", "kg/m3", "rad", "N/mm")
ENDINGS = ("within", "exceeds", "EXCEEDS", "not checked", "NOT CHECKED")


# ---------------------------------------------------------------- a reader's own tables


def overlay(draw: random.Random, folder: Path) -> tuple[str, str]:
    """Some rows of a table that a job asks as a reader's own, with odd cells, lines and columns."""
    job = draw.choice(QUICK)
    file = ROOT / "tables" / f"{draw.choice(tables_of(job))}.csv"
    head = [line for line in file.read_text(encoding="utf-8").splitlines() if line.startswith("#")]
    rows = list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()[len(head) :]))
    columns = [c for c in rows[0] if c != "provenance"]
    cells = [[row[c] for c in columns] for row in draw.sample(rows, min(draw.randint(1, 4), len(rows)))]
    for _ in range(draw.choice((0, 1, 1, 1, 2))):
        row = draw.choice(cells)
        k = draw.randrange(len(row))
        if re.fullmatch(r"-?\d+(\.\d+)?", row[k]) and draw.random() < 0.6:
            row[k] = f"{float(row[k]) * draw.choice((0.0, 1e-3, 0.5, 0.9, 1.1, 2.0, 10.0, -1.0)):.6g}"
        else:
            row[k] = draw.choice(ODD_CELLS)
    lines = [*head, ",".join(columns), *(_line(row) for row in cells)]
    for _ in range(draw.choice((0, 0, 0, 1, 2))):
        i = draw.randrange(len(lines))
        edit = draw.choice(("drop", "double", "line", "word", "unit", "column"))
        if edit == "drop":
            del lines[i]
        elif edit == "double":
            lines.insert(i, lines[i])
        elif edit == "line":
            lines.insert(i, draw.choice(ODD_LINES))
        elif edit == "column":
            lines[i] = lines[i].partition(",")[2]
        elif edit == "unit":
            lines[i] = re.sub(r" in [^\s,;]+", f" in {draw.choice(UNITS)}", lines[i])
        else:
            lines[i] = lines[i].replace(draw.choice("abcehlmnoprst"), draw.choice("xyz,:="), 1)
    text = draw.choice(("\n", "\n", "\n", "\r\n", "\r")).join(lines) + "\n"
    data = text.encode(draw.choice(("utf-8",) * 12 + ("utf-8-sig", "utf-16", "latin-1")), errors="replace")
    for old in folder.glob("*.csv"):
        old.unlink()
    (folder / file.name).write_bytes(data)
    what = f"{job} {file.name}\n{text}"
    try:
        result = check(job_of(job), tables=Tables([folder]))
    except BarrierError as refused:
        return refusal(refused), what
    if wrong := no_verdict(result):
        raise AssertionError(f"{wrong}\n{what}")
    return str(result.ending), what


@cache
def tables_of(job: str) -> list[str]:
    """The tables a bundled job asks."""
    return sorted(fingerprints(check(job_of(job)).tables))


def _line(cells: list[str]) -> str:
    written = io.StringIO()
    csv.writer(written, lineterminator="").writerow(cells)
    return written.getvalue()


# ---------------------------------------------------------------- a sheet to be verified


@cache
def job_of(name: str) -> Job:
    """A bundled job."""
    return read_job(ROOT / "worked_examples" / f"{name}.toml")


@cache
def sheet_of(name: str, form: str) -> bytes:
    """The true sheet of a bundled job."""
    made = getattr(sheet, "json_text" if form == "json" else form)(check(job_of(name)))
    return made if isinstance(made, bytes) else made.encode()


def forged(draw: random.Random, folder: Path) -> tuple[str, str]:
    """A sheet with one to three changes a reader would see or a program would read, shown to ``verify``."""
    name = draw.choice(("boards_only", "everyday_deck"))
    form = draw.choices(("json", "html", "text", "markdown", "pdf"), (8, 8, 8, 4, 1))[0]
    true = sheet_of(name, form)
    data, what = true, []
    for _ in range(draw.choice((1, 1, 1, 2, 3))):
        data, done = changed_bytes(draw, data) if form == "pdf" else changed_text(draw, data.decode(), form)
        what.append(done)
    words = f"{name} {form}: {what}"
    if same(data, true, form):
        return "nothing changed", words
    place = folder / f"sheet.{form}"
    place.write_bytes(data)
    beside = ROOT / "worked_examples" / f"{name}.toml" if form in ("text", "markdown") or draw.random() < 0.2 else None
    try:
        verdict = verify(place, beside)
    except BarrierError as refused:
        return refusal(refused), words
    if verdict.agrees:
        raise AssertionError(f"certified: {words}")
    return "differs", words


def changed_text(draw: random.Random, text: str, form: str) -> tuple[bytes, str]:
    """One change, and what it was."""
    lines = text.split("\n")
    i = draw.randrange(len(lines))
    edit = draw.choice(("digit", "digit", "digit", "ending", "drop", "double", "swap", "letter", "insert", "hide", "cut"))
    if edit == "digit":
        places = [m.start() for m in re.finditer(r"\d", text)]
        at = draw.choice(places)
        new = draw.choice([d for d in "0123456789" if d != text[at]])
        return f"{text[:at]}{new}{text[at + 1 :]}".encode(), f"digit at {at}: {text[at - 20 : at + 20]!r} -> {new}"
    if edit == "ending":
        found = [m for m in re.finditer("|".join(ENDINGS), text)]
        if found:
            m = draw.choice(found)
            new = draw.choice([e for e in ENDINGS if e.casefold() != m[0].casefold()])
            return f"{text[: m.start()]}{new}{text[m.end() :]}".encode(), f"{m[0]} at {m.start()} -> {new}"
    if edit == "drop":
        return "\n".join(lines[:i] + lines[i + 1 :]).encode(), f"line {i} dropped"
    if edit == "double":
        return "\n".join([*lines[:i], lines[i], *lines[i:]]).encode(), f"line {i} doubled"
    if edit == "swap":
        k = draw.randrange(len(lines))
        lines[i], lines[k] = lines[k], lines[i]
        return "\n".join(lines).encode(), f"lines {i} and {k} changed places"
    if edit == "cut":
        at = draw.randrange(len(text))
        return text[:at].encode(), f"cut off at {at}"
    at = draw.randrange(len(text))
    if edit == "hide":
        odd = {
            "html": (
                "<!--",
                "-->",
                "<style>*{display:none}</style>",
                "<b hidden>",
                "<script>1</script>",
                "<p style=display:none>",
                "</html>",
            ),
            "json": (',"within":1', "[]", "null", "{}", '"', ",", "1e999", "NaN"),
        }.get(form, ("\x0c", "\u202e", "\u200b", "within", "0.5"))
        new = draw.choice(odd)
        return f"{text[:at]}{new}{text[at:]}".encode(), f"{new!r} at {at}"
    if edit == "letter":
        return f"{text[:at]}{text[at + 1 :]}".encode(), f"{text[at]!r} at {at} dropped: {text[at - 15 : at + 15]!r}"
    new = draw.choice("ab1 .-,0е\u00a0")
    return f"{text[:at]}{new}{text[at:]}".encode(), f"{new!r} at {at}: {text[at - 15 : at + 15]!r}"


def changed_bytes(draw: random.Random, data: bytes) -> tuple[bytes, str]:
    """A byte changed, dropped or cut off."""
    at = draw.randrange(len(data))
    if draw.random() < 0.2:
        return data[:at], f"cut off at {at}"
    return data[:at] + bytes([data[at] ^ (1 << draw.randrange(8))]) + data[at + 1 :], f"byte {at}"


def same(data: bytes, true: bytes, form: str) -> bool:
    """Whether nothing was changed that counts: white space of a page is not read, nor one in the seventh digit of JSON."""
    if form == "pdf" or data == true:
        return data == true
    if form == "json":
        try:
            return _alike(json.loads(data), json.loads(true))
        except ValueError:
            return False
    a, b = (re.sub(r"\s*([<>])\s*", r"\1", " ".join(html.unescape(x.decode()).split())) for x in (data, true))
    return a == b


def _alike(a: object, b: object) -> bool:
    if isinstance(a, dict) and isinstance(b, dict):
        return list(a) == list(b) and all(_alike(a[k], b[k]) for k in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(_alike, a, b))
    if isinstance(b, float) and isinstance(a, int | float) and not isinstance(a, bool):
        return math.isclose(a, b, rel_tol=1.1e-6)
    return type(a) is type(b) and a == b


# ---------------------------------------------------------------- answers to questions


def answered(draw: random.Random, folder: Path) -> tuple[str, str]:
    """A reader who answers what he likes; after some tries he presses Enter. What is written is read, always."""
    given: list[str] = []
    good = draw.choice((0.3, 0.9, 0.97, 1.0))
    tries = [0]

    def prompt(words: str) -> str:
        tries[0] += 1
        if tries[0] > 400:
            raise AssertionError("asked four hundred times")
        listed = re.findall(r"[\w.'-]+(?: [\w.'-]+)*", words)
        usual = [*_EXAMPLE.findall(words), *(w for w in words.split() if w in COMMON), ""]
        answer = draw.choice(usual) if draw.random() < good else draw.choice([*ODD_WORDS, *listed])
        given.append("" if len(given) > 1 and given[-1] == answer else answer)
        return given[-1]

    said = io.StringIO()
    with redirect_stdout(said):
        text = ask_all(prompt, said.write)
    what = f"{given}\n{text}"
    tomllib.loads(text)  # whatever was answered, it is TOML
    try:
        job = job_from_text(text)
    except BarrierError as refused:  # answers that go with their own question each and not with one another
        return refusal(refused), what
    if draw.random() < 0.1:
        result = check(job)
        if wrong := no_verdict(result):
            raise AssertionError(f"{wrong}\n{what}")
        return str(result.ending), what
    return "read", what


_EXAMPLE = re.compile(r'"([^"]+)"')
COMMON = ("uk", "us", "australia", "germany", "home", "shared", "toughened", "none", "nails", "across", "along", "upright", "no")


# ---------------------------------------------------------------- files of runs


@cache
def run_text() -> str:
    """The bundled run."""
    return (ROOT / "worked_examples" / "runs" / "corner_deck.toml").read_text(encoding="utf-8")


def run_of(draw: random.Random, folder: Path) -> tuple[str, str]:
    """The bundled run, spoilt; one in twenty of those that can be set out is walked."""
    text = spoilt(draw, run_text())
    try:
        laid = lay_out(run_from_text(text.encode("utf-8", errors="replace"), "deck.toml"))
        if draw.random() > 0.05:
            return "set out", text
        found = check_run(laid)
    except BarrierError as refused:
        return refusal(refused), text
    for row in found.rows:
        if row.result is not None and (wrong := no_verdict(row.result)):
            raise AssertionError(wrong)
    return str(found.ending), text


# ---------------------------------------------------------------- all of them


def refusal(refused: BarrierError) -> str:
    """How a refusal counts; one without words is none."""
    if not str(refused).strip() or (isinstance(refused, JobRefused) and not all(f.text.strip() for f in refused.faults)):
        raise AssertionError("a refusal without words")
    return "refused"


DOORS: dict[str, Callable[[random.Random, Path], tuple[str, str]]] = {
    "overlay": overlay, "sheet": forged, "answers": answered, "run": run_of,
}  # fmt: skip


def through(door: str, number: int, seed: int, seconds: float = float("inf")) -> Tally:
    """So many spoilt things through one door, or as many as the seconds take."""
    tally, begun = Tally(), time.monotonic()
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with tempfile.TemporaryDirectory() as folder:
        for one in _seeds(number, seed):
            if time.monotonic() - begun > seconds:
                break
            start = time.process_time()
            try:
                ending, what = DOORS[door](random.Random(one), Path(folder))
            except Exception:
                ending, what = "failure", f"seed {one}"
                tally.failures.append((traceback.format_exc(limit=-4), what))
            took = time.process_time() - start
            tally.endings[ending] += 1
            tally.slowest = max(tally.slowest, took)
            if took > SLOWEST:
                tally.failures.append((f"{took:.1f} s", what))
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    if grown > MOST:
        tally.failures.append((f"{grown / 1e6:.2f} GB of memory more than before", ""))
    return tally


def _seeds(number: int, seed: int) -> Iterator[str]:
    return (f"{seed}-{i}" for i in range(number))


def main() -> int:
    """Run as a script; exit code 1 where anything failed."""
    told = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    told.add_argument("--door", choices=tuple(DOORS), action="append")
    told.add_argument("--number", type=int, default=500)
    told.add_argument("--seed", type=int, default=1)
    told.add_argument("--seconds", type=float, default=float("inf"))
    asked = told.parse_args()
    failed = 0
    for door in asked.door or DOORS:
        tally = through(door, asked.number, asked.seed, asked.seconds)
        failed += len(tally.failures)
        print(
            f"{door}: {sum(tally.endings.values())}, seed {asked.seed}: {dict(tally.endings)}; slowest {tally.slowest:.1f} s",
            flush=True,
        )
        for why, what in tally.failures[:20]:
            print(f"--- {why}\n{what[:1500]}")
    print(f"{failed} failures")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
