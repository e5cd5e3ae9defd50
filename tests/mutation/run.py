"""Wrong lines put into a copy of the tree, one at a time, and whether a test says so: a script for the night, not for every change.

    python tests/mutation/run.py map    --tree /somewhere/copy
    python tests/mutation/run.py run    --tree /somewhere/copy --number 600 --seed 1
    python tests/mutation/run.py named  --tree /somewhere/copy
    python tests/mutation/run.py report --tree /somewhere/copy

``map`` runs every test file once and notes which lines each test enters and how long it takes; it needs ``coverage``. ``run``
puts one mutant after another into the copy and runs the tests that enter its line in one process, those first that promise most
a second, until one fails. Golden sheets, the figures in the README, the browser and ``hostile`` are left out, so a mutant is
killed by a test that knows what is right and not by yesterday's output. Results are lines of JSON beside the copy; begun again,
it goes on where it stopped. One process at a time. Those that no test killed in the budget are asked again with ``--again``.
"""

from __future__ import annotations

import argparse
import ast
import json
import math
import os
import re
import resource
import shutil
import signal
import sys
import time
import tomllib
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from entered import Entered, traced
from mutants import FOLDERS, KINDS, Mutant, chosen

ROOT = Path(__file__).resolve().parents[2]
LEFT_OUT = ("test_golden.py", "test_readme.py", "browser/", "hostile/", "mutation/", "benchmarks/")
OPTIONS = ("-q", "-x", "--doctest-modules", "-p", "no:xdist", "-p", "no:cacheprovider", "--tb=no", "--hypothesis-seed=0")
PAGES = (  # about what is printed: asked last
    "test_sheet", "test_cli", "test_drawings", "test_verify", "test_tables", "test_teaching", "test_job", "test_questions",
    "test_compare", "test_readme", "test_us_sheet", "test_spoken", "test_run", "test_levels", "test_unread", "test_house",
)  # fmt: skip
FIRST = "tests/test_wrong_lines.py"  # what was written for the lines of named.toml
MEMORY = 3_000_000_000


def fresh_copy(tree: Path) -> None:
    """The tree as it is, without its history, where it may be spoilt; what a stopped run left there is put right.

    All of it: half of an older tree beside half of a newer one fails every test, and every mutant would look killed.
    """
    for folder in ("barrier", "tables", "tests", "worked_examples"):
        for file in (ROOT / folder).rglob("*"):
            place = tree / file.relative_to(ROOT)
            if not file.is_file() or "__pycache__" in file.parts or (place.exists() and place.read_bytes() == file.read_bytes()):
                continue
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(file, place)  # with the time of now: a compiled file is known by time and size
    for name in ("pyproject.toml", "README.md", "CHANGELOG.md", "DEVELOPERS.md", "LICENSE"):
        shutil.copyfile(ROOT / name, tree / name)
    for file in [f for folder in FOLDERS for f in (tree / folder).rglob("*.py")]:
        if not (ROOT / file.relative_to(tree)).exists():
            file.unlink()


def in_a_child(job: Callable[[], int], log: Path, seconds: float) -> tuple[int | None, float]:
    """Run a job in a child that has the libraries already; its exit code (None: it took too long) and the seconds.

    ``seconds`` of the processor; of the clock it may take six times that, on a machine that others use.
    """
    start, pid = time.monotonic(), os.fork()
    if pid == 0:
        code = 99
        try:
            os.setsid()
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            resource.setrlimit(resource.RLIMIT_CPU, (int(seconds), int(seconds) + 1))  # whatever else the machine does
            out = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
            os.dup2(out, 1)
            os.dup2(out, 2)
            code = job()
        finally:
            os._exit(code)
    done = 0
    try:
        while time.monotonic() - start < 6 * seconds:
            done, status = os.waitpid(pid, os.WNOHANG)
            if done:
                code = os.waitstatus_to_exitcode(status)
                return None if code in (-signal.SIGXCPU, -signal.SIGKILL) else code, time.monotonic() - start
            time.sleep(0.02)
    finally:
        if not done:
            os.killpg(pid, signal.SIGKILL)
            os.waitpid(pid, 0)
    return None, time.monotonic() - start


def pytest_in(tree: Path, files: Iterable[str | Portion], plugin: object = None) -> int:
    """Run test files, or some of their tests, in this process, in the given order."""
    import pytest

    os.chdir(tree)
    os.environ.update(PYTHONPATH=str(tree), OPENBLAS_NUM_THREADS="1")
    sys.path.insert(0, str(tree))
    code = 0
    for file in files:  # one after another: to collect them all takes longer than most mutants live
        path, _, chosen_only = (file if isinstance(file, str) else file.file).partition(" -k ")
        arguments = [*OPTIONS, "-o", "addopts=", path, *(("-k", chosen_only) if chosen_only else ())]
        plugins = [plugin] if plugin else []
        code = int(pytest.main(arguments, plugins=plugins if isinstance(file, str) else [*plugins, Only(file.tests)]))
        if code not in (0, 5):
            break
    return code if code != 5 else 0


class Only:
    """Leaves of what was collected the tests that are asked."""

    def __init__(self, tests: frozenset[str]) -> None:
        self.tests = tests

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        """The others are not run."""
        items[:] = [i for i in items if i.nodeid in self.tests]


class Told:
    """Writes down where a run stands, for a parent that may have to stop it."""

    def __init__(self, log: Path) -> None:
        self.log = log

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """The test that begins."""
        self.log.write_text(nodeid)

    def pytest_runtest_logreport(self, report: Any) -> None:
        """The first that fails stays written."""
        if report.failed:
            self.log.write_text("FAILED " + report.nodeid)


# ---------------------------------------------------------------- which test enters which function


def make_map(tree: Path, budget: float) -> None:
    """What each test enters and the seconds it takes, one process a test file; goes on where it stopped."""
    store = tree.parent / "entered.jsonl"
    known = {json.loads(line)["file"] for line in store.read_text().splitlines()} if store.exists() else set()
    tests = sorted(tree.glob("tests/**/test_*.py"), key=lambda p: (p.name.startswith(PAGES), p.stat().st_size))
    files = [str(p.relative_to(tree)) for p in tests]  # those that are about the print of a sheet last
    files += [
        str(f.relative_to(tree)) for folder in FOLDERS for f in sorted((tree / folder).rglob("*.py")) if b">>>" in f.read_bytes()
    ]
    for file in files:
        if file in known or any(mark in file for mark in LEFT_OUT):
            continue
        to = tree.parent / "entered.json"
        code, seconds = in_a_child(lambda file=file, to=to: traced(tree, file, to, pytest_in), tree.parent / "log.txt", budget)  # type: ignore[misc]
        rows = json.loads(to.read_text()) if to.exists() else {}
        with store.open("a") as out:
            out.write(json.dumps({"file": file, "seconds": round(seconds, 2), "code": code, "tests": rows}) + "\n")
        to.unlink(missing_ok=True)
        print(f"{seconds:6.1f} s  {code}  {len(rows):5}  {file}", flush=True)


class Map:
    """Which tests could notice a mutant, and in what order they are asked."""

    def __init__(self, tree: Path) -> None:
        self.tree, self.entered, self.words = tree, Entered(tree, tree.parent / "entered.jsonl"), Words(tree)
        self.users: dict[str, set[tuple[str, int]]] = defaultdict(set)
        for file in (f for folder in FOLDERS for f in (tree / folder).rglob("*.py")):
            for node in ast.walk(ast.parse(file.read_bytes())):
                if isinstance(node, ast.Name | ast.Attribute) and isinstance(node.ctx, ast.Load):
                    name = node.id if isinstance(node, ast.Name) else node.attr
                    self.users[name].add((str(file.relative_to(tree)), node.lineno))

    def tests(self, mutant: Mutant) -> set[str]:
        """The tests that enter the statement of a mutant; for one that stands in no function, those that enter its users."""
        if mutant.function:
            return self.entered.tests(mutant.path, *_statement(self.tree / mutant.path, mutant.line))
        if mutant.target.startswith("_") or mutant.target.isupper():
            used = {(p, n) for p, n in self.users.get(mutant.target, ()) if p == mutant.path or not mutant.target.startswith("_")}
        else:
            used = self.users.get(mutant.target, set())
        found = set[str]().union(*(self.entered.tests(p, n, n) for p, n in used))
        return found or self.entered.tests(mutant.path, 1, len((self.tree / mutant.path).read_bytes().splitlines()))

    def portions(self, mutant: Mutant, tests: Iterable[str], experience: Experience) -> list[Portion]:
        """Tests by file, in portions that double, those first that promise most a second."""
        text = (self.tree / mutant.path).read_text(encoding="utf-8").splitlines()
        about = " ".join([mutant.path, mutant.function, mutant.target, *text[max(mutant.line - 4, 0) : mutant.line + 2]])
        alike = self.words.alike(about)
        promise = {t: min(self.entered.promise(t) * (1.0 + alike(t)), 0.9) for t in tests}
        by_file: dict[str, list[str]] = defaultdict(list)
        for test in promise:
            by_file[test.partition("::")[0]].append(test)
        found = []
        for file, named in by_file.items():
            named.sort(key=lambda t: (self.entered.cost([t]) + 0.01) / promise[t])
            part, room, kept, cost = list[str](), 2.0, set[str](), 0.0
            for i, test in enumerate(named):
                part.append(test)
                cost += self.entered.cost([test], kept)
                kept |= self.entered.kept[test]
                if cost > room or i == len(named) - 1:
                    lost = math.prod(1.0 - 0.3 * promise[t] for t in part)
                    found.append(Portion(file, frozenset(part), cost, (1.0 - lost) * experience.of(file) / (0.4 + cost)))
                    part, room, kept, cost = [], 2 * room, set(), 0.0
        return sorted(found, key=lambda p: -p.worth)


@dataclass(frozen=True)
class Portion:
    """Tests of one file that are asked together."""

    file: str
    tests: frozenset[str]
    cost: float
    worth: float


class Words:
    """What each test speaks of: a wrong line about bearing is noticed by a test that has the word."""

    def __init__(self, tree: Path) -> None:
        self.of: dict[str, frozenset[str]] = {}
        for file in tree.glob("tests/**/test_*.py"):
            text = file.read_text(encoding="utf-8")
            lines = text.splitlines()
            for node in ast.walk(ast.parse(text)):
                if isinstance(node, ast.FunctionDef) and node.name.startswith("test"):
                    own = "\n".join(lines[node.lineno - 1 : node.end_lineno])
                    self.of[f"{file.relative_to(tree)}::{node.name}"] = _words(f"{file.stem} {own}")
        self.common = Counter(w for found in self.of.values() for w in found)

    def alike(self, about: str) -> Callable[[str], float]:
        """How much a test has in common with a text; a word that few tests have counts for more."""
        asked = {w: math.log(len(self.of) / self.common[w]) / 3.0 for w in _words(about) if self.common[w]}

        @cache
        def of(name: str) -> float:
            return sum(weight for w, weight in asked.items() if w in self.of.get(name, ()))

        return lambda test: of("::".join(test.partition("[")[0].split("::")[:: len(test.partition("[")[0].split("::")) - 1 or 1]))


def _words(text: str) -> frozenset[str]:
    return frozenset(w.lower().removesuffix("s") for w in re.findall(r"[A-Za-z]{4,}", text))


class Experience:
    """How often the tests of a file killed what they were asked about."""

    def __init__(self) -> None:
        self.asked: Counter[str] = Counter()
        self.killed: Counter[str] = Counter()

    def of(self, file: str) -> float:
        """A rate that begins at one half."""
        return (self.killed[file] + 1.0) / (self.asked[file] + 2.0)


def _statement(file: Path, line: int) -> tuple[int, int]:
    """First and last line of the innermost statement around a line, the head alone of one that has a body."""
    around = [n for n in _statements(file) if n.lineno <= line <= (n.end_lineno or n.lineno)]
    inner = max(around, key=lambda n: n.lineno)
    body = getattr(inner, "body", None)
    if isinstance(inner, ast.FunctionDef):  # a default is read when the module is
        return inner.lineno, inner.end_lineno or inner.lineno
    return inner.lineno, max(inner.lineno, body[0].lineno - 1) if body else inner.end_lineno or inner.lineno


@cache
def _statements(file: Path) -> list[ast.stmt]:
    return [n for n in ast.walk(ast.parse(file.read_bytes())) if isinstance(n, ast.stmt)]


# ---------------------------------------------------------------- mutants


def run(tree: Path, number: int, seed: int, budget: float, until: float, again: bool) -> None:
    """Put mutants in, one at a time, and write down what came of each."""
    known, store, experience = Map(tree), tree.parent / "results.jsonl", Experience()
    rows = _results(store)
    for row in rows.values():
        experience.killed[row["by"].partition("::")[0]] += row["ending"] == "killed"
        experience.asked[row["by"].partition("::")[0]] += row["ending"] == "killed"
    for i, mutant in enumerate(chosen(tree, seed)):
        if i >= number or time.time() > until:
            break
        before = rows.get(mutant.id)
        if (before is not None and not again) or (again and (before is None or before["ending"] == "killed")):
            continue
        tests = known.tests(mutant)
        portions = known.portions(mutant, tests, experience)
        row = _one(tree, known, mutant, portions, budget)
        row["entered by"] = len(tests)
        rows[mutant.id] = row
        by = row["by"].partition("::")[0]
        for portion in portions:
            experience.asked[portion.file] += 1
            if portion.file == by:
                experience.killed[by] += row["ending"] == "killed"
                break
        with store.open("a") as out:
            out.write(json.dumps(row, ensure_ascii=False) + "\n")
        print(f"{i:4} {row['ending']:9} {row['seconds']:6.1f} s  {mutant.id}  {row['by']}", flush=True)


@cache
def _holds_without(tree: Path, test: str) -> bool:
    """Whether the test that killed passes where nothing is wrong; an empty name is a module that could not be read."""
    if not test:
        return True
    file = test.partition("::")[0]
    code, _ = in_a_child(lambda: pytest_in(tree, [test if test.startswith("tests") else file]), tree.parent / "log.txt", 120.0)
    return code in (0, 4)  # 4: there is no test of that name, for what is wrong is in the name as well


def _dimensions(mutant: Mutant) -> list[str]:
    """The look at the dimensions of every equation, where the mutant is one of its text."""
    return ["tests/test_equation.py -k dimensions"] if mutant.kind == KINDS[-1] else []


def named(tree: Path, budget: float) -> None:
    """The wrong lines of ``named.toml``, each by its name."""
    known = Map(tree)
    for line in tomllib.loads((Path(__file__).parent / "named.toml").read_text(encoding="utf-8"))["line"]:
        text = (tree / line["path"]).read_text(encoding="utf-8")
        if text.count(line["old"]) != 1:
            print(f"{'gone':12}{'':9}{line['name']}: the line does not stand once in {line['path']}")
            continue
        start = text.index(line["old"])
        within = [n for n in ast.walk(ast.parse(text)) if isinstance(n, ast.FunctionDef)]
        at = text.count("\n", 0, start) + 1
        function = max((n for n in within if n.lineno <= at <= (n.end_lineno or 0)), key=lambda n: n.lineno, default=None)
        name = function.name if function else ""
        mutant = Mutant(line["path"], at, len(text[:start].encode()), line["old"], line["new"], "named", name, "")
        row = _one(tree, known, mutant, [FIRST, *known.portions(mutant, known.tests(mutant), Experience())], budget)
        print(f"{row['ending']:12}{row['seconds']:6.1f} s  {line['name']}  {row['by']}", flush=True)


def _one(tree: Path, known: Map, mutant: Mutant, files: Sequence[str | Portion], budget: float) -> dict[str, Any]:
    place, told = tree / mutant.path, tree.parent / "told.txt"
    data, was = place.read_bytes(), place.stat()
    told.write_text("")
    files = [*_dimensions(mutant), *files]
    try:
        place.write_bytes(mutant.applied(data))
        # A compiled file is known by whole seconds and size: the wrong line gets a time that no other had.
        os.utime(place, (was.st_atime, was.st_mtime + 1 + time.time() % 1e6))
        sys.dont_write_bytecode = True
        code, seconds = in_a_child(lambda: pytest_in(tree, files, plugin=Told(told)), tree.parent / "log.txt", budget)
    finally:
        place.write_bytes(data)
        os.utime(place, ns=(was.st_atime_ns, was.st_mtime_ns))
    by = told.read_text()
    # Out of time where a good line needs a fraction of it: stopped in the first test is an endless loop, later it is the budget.
    ending = "survived" if code in (0, 5) else "killed" if code is not None or by.startswith("FAILED") else "out of time"
    name = by.removeprefix("FAILED ")
    if ending == "killed" and name not in known.entered.own and not _holds_without(tree, name):  # mapped: it held there
        raise SystemExit(f"{by} fails without any wrong line: nothing could be said of the mutants it kills")
    return {
        "id": mutant.id, "path": mutant.path, "line": mutant.line, "kind": mutant.kind, "old": mutant.old, "new": mutant.new,
        "ending": ending, "by": name if ending != "survived" else "", "code": code,
        "portions": len(files), "seconds": round(seconds, 1),
    }  # fmt: skip


def _results(store: Path) -> dict[str, dict[str, Any]]:
    lines = store.read_text().splitlines() if store.exists() else []
    return {r["id"]: r for r in map(json.loads, lines)}


def report(store: Path) -> None:
    """Counts by folder and kind, and every mutant that no test killed."""
    rows = list(_results(store).values())
    for what, key in (("folder", lambda r: "/".join(r["path"].split("/")[:2])), ("kind", lambda r: r["kind"])):
        print(f"{what:24}{'tried':>8}{'killed':>8}{'survived':>10}{'out of time':>13}")
        for name in FOLDERS if what == "folder" else KINDS:
            count = Counter(r["ending"] for r in rows if key(r) == name)
            print(f"{name:24}{count.total():8}{count['killed']:8}{count['survived']:10}{count['out of time']:13}")
    print(f"{'together':24}{len(rows):8}{sum(r['ending'] == 'killed' for r in rows):8}\n")
    for r in sorted((r for r in rows if r["ending"] != "killed"), key=lambda r: (r["path"], r["line"])):
        print(f"{r['ending']:12}{r['path']}:{r['line']}  {r['kind']}: {r['old']!r} -> {r['new']!r}  {r['by']}")


def main() -> None:
    """See the head of the file."""
    asked = argparse.ArgumentParser(description="Wrong lines put into a copy of the tree, one at a time.")
    asked.add_argument("what", choices=("map", "run", "named", "report"))
    asked.add_argument("--tree", type=Path, required=True, help="a copy that may be spoilt; results stand beside it")
    asked.add_argument("--number", type=int, default=600)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--budget", type=float, default=60.0, help="seconds of the processor a mutant")
    asked.add_argument("--minutes", type=float, default=float("inf"))
    asked.add_argument("--again", action="store_true", help="the survivors, by every test that enters them")
    given = asked.parse_args()
    tree = given.tree.resolve()
    if given.what == "report":
        report(tree.parent / "results.jsonl")
        return
    os.nice(10)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # and what stands in a file is put right
    tree.parent.mkdir(parents=True, exist_ok=True)
    fresh_copy(tree)
    import hypothesis, numpy, pydantic, pytest, scipy.linalg  # noqa: E401, F401, I001 the children find them loaded

    if given.what == "map":
        make_map(tree, given.budget)
    elif given.what == "named":
        named(tree, given.budget)
    else:
        run(tree, given.number, given.seed, given.budget, time.time() + 60 * given.minutes, given.again)


if __name__ == "__main__":
    main()
