"""Which test enters which line, and how long it takes: by the library ``coverage``, each test for itself.

What a ``functools.cache`` keeps (a bundled job walked, say) is entered by whoever asks first and used by all: it is written down
once, by a number, and every test that asks for it points at that number.
"""

from __future__ import annotations

import functools
import json
import sys
import time
from collections.abc import Callable, Iterable, Set
from contextlib import suppress
from pathlib import Path
from typing import Any

import numpy as np

WORTH = 0.02  # seconds of something kept that are counted
FOLDERS = ("barrier/links", "barrier/basis", "barrier/mechanics")


class Recorder:
    """Lines of the folders and seconds of each test and of each thing kept; a plugin of pytest."""

    def __init__(self, tree: Path) -> None:
        import coverage

        self.tree = str(tree) + "/"
        self.at = coverage.Coverage(data_file=None, include=[f"{self.tree}{f}/*" for f in FOLDERS], config_file=False)
        self.seconds: dict[str, float] = {}
        self.asked: dict[str, set[str]] = {}
        self.kept = 0
        self.stack = ["import"]
        self.since = time.process_time()

    # ------------------------------------------------------------ whose lines they are

    def enter(self, name: str) -> None:
        """What runs now belongs to this one."""
        self._charge()
        self.stack.append(name)
        self.at.switch_context(name)

    def leave(self) -> None:
        """And now again to the one before."""
        self._charge()
        self.stack.pop()
        self.at.switch_context(self.stack[-1])

    def uses(self, name: str) -> None:
        """Whoever runs now uses something kept."""
        self.asked.setdefault(self.stack[-1], set()).add(name)

    def _charge(self) -> None:
        now = time.process_time()
        self.seconds[self.stack[-1]] = self.seconds.get(self.stack[-1], 0.0) + now - self.since
        self.since = now

    # ------------------------------------------------------------ what is kept

    def keeping(self, function: Callable[..., Any]) -> Callable[..., Any]:
        """A cache like that of the library, which notes who asks."""
        kept: dict[Any, tuple[str, Any]] = {}

        @functools.wraps(function)
        def asked(*args: Any, **named: Any) -> Any:
            key = (args, tuple(named.items()))
            if key not in kept:
                self.kept += 1
                name = f"~{self.kept}"
                self.enter(name)
                try:
                    kept[key] = name, function(*args, **named)
                finally:
                    self.leave()
            self.uses(kept[key][0])
            return kept[key][1]

        asked.cache_clear = kept.clear  # type: ignore[attr-defined]
        asked.cache_info = lambda: functools._CacheInfo(0, len(kept), None, len(kept))  # type: ignore[attr-defined]
        return asked

    def watch_caches(self) -> None:
        """Every cache made from now on in the tree."""
        real = functools.lru_cache

        def lru_cache(maxsize: Any = 128, typed: bool = False) -> Any:
            if callable(maxsize):
                return cache(maxsize)
            return cache if maxsize else real(maxsize, typed)

        def cache(function: Callable[..., Any]) -> Any:
            ours = getattr(getattr(function, "__code__", None), "co_filename", "").startswith(self.tree)
            return self.keeping(function) if ours else real(maxsize=None)(function)

        functools.cache, functools.lru_cache = cache, lru_cache  # type: ignore[assignment]

    # ------------------------------------------------------------ hooks

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """A test begins."""
        self.enter(nodeid)

    def pytest_runtest_logfinish(self, nodeid: str) -> None:
        """It has ended."""
        self.leave()

    def pytest_fixture_setup(self, fixturedef: Any, request: Any) -> Any:
        """What a fixture of a module prepares is kept for all its tests."""
        if fixturedef.scope != "function" and self.tree in str(getattr(fixturedef.func, "__code__", None)):
            fixturedef.func = self.keeping(fixturedef.func) if not _yields(fixturedef.func) else fixturedef.func

    # ------------------------------------------------------------ what comes of it

    def found(self) -> dict[str, Any]:
        """Seconds, what was asked for and the lines as ranges, by test and by thing kept."""
        data = self.at.get_data()
        lines: dict[str, dict[str, list[int]]] = {}
        for file in data.measured_files():
            for line, contexts in data.contexts_by_lineno(file).items():
                for context in contexts:
                    lines.setdefault(context, {}).setdefault(file.removeprefix(self.tree), []).append(line)
        names = set(self.seconds) - {"import"}
        return {
            n: [round(self.seconds[n], 3), sorted(self.asked.get(n, ())), {f: _ranges(x) for f, x in lines.get(n, {}).items()}]
            for n in names
        }


def _yields(function: Callable[..., Any]) -> bool:
    return bool(function.__code__.co_flags & 0x20)


def _ranges(lines: Iterable[int]) -> list[int]:
    """First, last, first, last of the lines that follow one another."""
    found: list[int] = []
    for line in sorted(lines):
        if found and found[-1] == line - 1:
            found[-1] = line
        else:
            found += [line, line]
    return found


def traced(tree: Path, file: str, to: Path, run: Callable[..., int]) -> int:
    """Run one test file and write down what each of its tests enters."""
    recorder = Recorder(tree)
    recorder.watch_caches()
    recorder.at.start()
    recorder.at.switch_context("import")
    code = run(tree, [file], plugin=recorder)
    recorder.at.stop()
    with suppress(OSError):
        to.write_text(json.dumps(recorder.found()))
    sys.stdout.flush()
    return code


class Entered:
    """The map, read: which tests enter a line, what that costs and how much else they enter."""

    def __init__(self, tree: Path, store: Path) -> None:
        self.starts, total = dict[str, int](), 0
        for file in sorted(f for folder in FOLDERS for f in (tree / folder).rglob("*.py")):
            self.starts[str(file.relative_to(tree))] = total
            total += file.read_bytes().count(b"\n") + 2
        self.total = total
        self.names: list[str] = []
        self.own: dict[str, float] = {}
        self.kept: dict[str, frozenset[str]] = {}
        self.kept_seconds: dict[str, float] = {}
        rows: list[np.ndarray] = []
        for row in map(json.loads, store.read_text().splitlines()):
            if row["code"] == 0:
                rows += self._taken(row["file"], row["tests"])
        self.entered = np.array(rows, dtype=bool).reshape(-1, total)
        self.size = dict(zip(self.names, self.entered.sum(axis=1).tolist(), strict=True))

    def _taken(self, file: str, rows: dict[str, Any]) -> list[np.ndarray]:
        lines: dict[str, np.ndarray] = {}
        dear: dict[str, frozenset[str]] = {}
        inner_first = sorted((n for n in rows if n.startswith("~")), key=lambda n: -int(n[1:]))  # numbered as they were asked
        for name in inner_first:
            self._gathered(name, file, rows, lines, dear)
            self.kept_seconds[file + name] = rows[name][0]
        found = []
        for name in (n for n in rows if not n.startswith("~")):
            self._gathered(name, file, rows, lines, dear)
            self.names.append(name)
            self.own[name], self.kept[name] = rows[name][0], dear[name]
            found.append(lines.pop(name))
        return found

    def _gathered(
        self, name: str, file: str, rows: dict[str, Any], lines: dict[str, np.ndarray], dear: dict[str, frozenset[str]]
    ) -> None:
        """Lines of one with those of all it asks for, and of what it asks for that which took its time."""
        seconds, asked, ranges = rows[name]
        own = self._lines(ranges)
        for k in asked:
            if k in lines:
                own |= lines[k]
        lines[name] = own
        itself = {file + name} if name.startswith("~") and seconds >= WORTH else frozenset()
        dear[name] = frozenset(itself).union(*(dear[k] for k in asked if k in dear))

    def _lines(self, ranges: dict[str, list[int]]) -> np.ndarray:
        found = np.zeros(self.total, dtype=bool)
        for path, ends in ranges.items():
            for first, last in zip(ends[::2], ends[1::2], strict=True):
                found[self.starts[path] + first : self.starts[path] + last + 1] = True
        return found

    def tests(self, path: str, first: int, last: int) -> set[str]:
        """Who enters one of the lines."""
        at = self.starts[path]
        return {self.names[i] for i in np.flatnonzero(self.entered[:, at + first : at + last + 1].any(axis=1))}

    def cost(self, tests: Iterable[str], there: Set[str] = frozenset()) -> float:
        """Seconds of the processor that tests of one file take together, what they share done once or there already."""
        named = list(tests)
        kept = frozenset[str]().union(*(self.kept[t] for t in named)) - there
        return sum(self.own[t] for t in named) + sum(self.kept_seconds[k] for k in kept)

    def promise(self, test: str) -> float:
        """How likely a test is to notice a wrong line it enters: one that enters little else is about it."""
        return 1.0 / (1.0 + self.size[test] / 150.0)
