"""What the tests share: the bundled jobs, read and walked once, and the switch that rewrites golden sheets."""

from __future__ import annotations

import ctypes
import gc
import inspect
import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path

# As the command line asks for. The matrices of a panel are small: more threads wait for one another, and beside a second worker
# take four times as long. Read once, when numpy is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import pytest

from barrier import sheet
from barrier.job import Job, read_job
from barrier.links.memo import SHARED, Memo
from barrier.load_path import Result, Walked, as_described, check
from barrier.tables import Tables

ROOT = Path(__file__).resolve().parents[1]
TESTS = str(ROOT / "tests")
# What walks share fits the tests: laminates asked for again and again are kept, and those factorised only where they are small.
for kind, room in (("solved", 24_000_000), ("layered", 108_000_000), ("laminate", 52_000_000), ("rail", 16_000_000)):
    SHARED._shelves[kind].room = room
gc.set_threshold(20_000, 20, 20)  # looking for rubbish a little less often: a result has a few thousand parts and lives long

EXAMPLES = sorted((ROOT / "worked_examples").glob("*.toml"))
# Laminated glass takes the longest to solve: a test that walks a job dozens of times takes one of these where another will do.
SISTERS = {
    "three_bases": "garden_deck",
    "us_laminated": "us_deck",
    "nz_laminated": "nz_deck",
    "three_clamps_laminated": "garden_deck",
    "au_laminated": "au_deck",
}
# What slow tests of pages and pictures look at: the others differ from these in their codes only.
ALIKE = ("three_bases", "au_deck", "nz_deck", "nz_laminated", "us_laminated", "au_laminated")
DIFFERENT = [p for p in EXAMPLES if p.stem not in ALIKE]
# Of laminated glass three_clamps_laminated stands for all where what is looked at does not depend on the codes.
SELDOM = ("us_laminated", "nz_laminated", "au_laminated")
ONE_LAMINATED = [p for p in EXAMPLES if p.stem not in SELDOM]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="rewrite the golden sheets instead of comparing")


def pytest_collection_finish() -> None:
    """The tests themselves are no rubbish: they need not be looked through again and again."""
    gc.collect()
    gc.freeze()


@cache
def job_named(name: str) -> Job:
    """A bundled job by the stem of its file."""
    return read_job(ROOT / "worked_examples" / f"{name}.toml")


def result_of(name: str) -> Result:
    """A bundled job walked: once for all tests, or once for a file of them where few files ask for it and it is large."""
    return _of_one_file(name) if name in SELDOM else _of_all_files(name)


@cache
def _of_all_files(name: str) -> Result:
    return check(job_named(name))


@cache
def _of_one_file(name: str) -> Result:
    return check(job_named(name))


@cache
def text_sheet(name: str) -> str:
    """The text sheet of a bundled job, written once."""
    return sheet.text(result_of(name))


def for_each(names: str, cases: Iterable[object]) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """One test of many small things, which takes less time and memory than a test for each; all it does not hold for are named.

    names and cases as ``pytest.mark.parametrize`` has them; what else the test asks for are fixtures.
    """
    own, every = [name.strip() for name in names.split(",")], list(cases)

    def of(test: Callable[..., None]) -> Callable[..., None]:
        def together(**fixtures: object) -> None:
            wrong: dict[str, Exception] = {}
            for case in every:
                given = dict(zip(own, case if len(own) > 1 else (case,), strict=True))  # type: ignore[arg-type, call-overload]
                try:
                    test(**given, **fixtures)
                except Exception as why:
                    wrong[str(case)] = why
            assert every, "there is nothing to try"
            if wrong:
                told = "\n".join(f"{case}: {type(why).__name__}: {why}" for case, why in wrong.items())
                raise AssertionError(f"{len(wrong)} of {len(every)}:\n{told}") from next(iter(wrong.values()))

        together.__name__, together.__doc__, together.__module__ = test.__name__, test.__doc__, test.__module__
        left = [p for name, p in inspect.signature(test).parameters.items() if name not in own]
        together.__signature__ = inspect.Signature([p.replace(kind=p.KEYWORD_ONLY) for p in left])  # type: ignore[attr-defined]
        return together

    return of


def sound(job: Job, memo: Memo = SHARED) -> Walked:
    """A job walked as it is described and with nothing broken, which is all that many tests look at: half the work."""
    _Room.made()
    return as_described(job, Tables(() if job.tables_folder is None else (job.tables_folder,)), memo)


@pytest.fixture(scope="module", autouse=True)
def _forget() -> Iterator[None]:
    """What a file, or what it shares with others, kept for its tests goes with it: a result has thousands of parts."""
    yield
    for module in [m for m in list(sys.modules.values()) if (getattr(m, "__file__", None) or "").startswith(TESTS)]:
        for thing in vars(module).values():
            if isinstance(thing, Memo) and thing is not SHARED:
                thing.clear()
            elif getattr(thing, "__module__", "") == module.__name__ != "conftest" and hasattr(thing, "cache_clear"):
                thing.cache_clear()
    _of_one_file.cache_clear()
    _Room.between_files()


C_LIBRARY = ctypes.CDLL(None) if sys.platform == "linux" else None
with suppress(AttributeError):  # of GNU's alone: what is large stands by itself in memory and goes back when it is done with
    C_LIBRARY.mallopt(-3, 4_000_000)  # type: ignore[union-attr]


class _Room:
    """Keeps a worker small: beyond so many bytes it forgets what walks share, and gives free memory back to the system."""

    most = 430_000_000
    next = most
    between = 540_000_000  # of one file and the next
    worth = 30_000_000  # what must have come since: what stays when all is trimmed stays for good, and looking for it takes time
    floor = 0

    @classmethod
    def made(cls) -> None:
        if _resident() > cls.next:
            cls.trimmed()
            cls.next = max(cls.most, _resident() + 50_000_000)

    @classmethod
    def between_files(cls) -> None:
        if _resident() > max(cls.between, cls.floor + cls.worth):
            _of_all_files.cache_clear()  # with what walks share they are walked again in a quarter of the time
            cls.trimmed()
            cls.floor = _resident()

    @classmethod
    def trimmed(cls) -> None:
        SHARED.clear("laminate", "plate", "rail")  # the large ones; solved panels of bundled jobs their results hold anyhow
        before = _resident()
        cls.given_back()
        if before - _resident() < cls.worth:  # what goes in circles is looked for where there is nothing else to give back
            gc.collect()
            cls.given_back()

    @staticmethod
    def given_back() -> None:
        with suppress(AttributeError):
            C_LIBRARY.malloc_trim(0)  # type: ignore[union-attr]


def _resident() -> int:
    try:
        return int(Path("/proc/self/statm").read_bytes().split()[1]) * 4096
    except OSError:
        return 0


def make_room() -> None:
    """Before something that is large by itself: what walks share is forgotten, and goes back to the system."""
    SHARED.clear()
    _Room.given_back()


def pytest_runtest_teardown() -> None:
    """After every test."""
    _Room.made()


@pytest.fixture
def everyday() -> Result:
    return result_of("everyday_deck")


@pytest.fixture
def garden() -> Result:
    return result_of("garden_deck")
