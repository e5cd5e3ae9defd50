"""What the tests share: the bundled jobs, read and walked once, and the switch that rewrites golden sheets."""

from __future__ import annotations

import ctypes
import gc
import sys
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path

import pytest

from barrier import sheet
from barrier.job import Job, read_job
from barrier.links.memo import SHARED, Memo
from barrier.load_path import Result, Walked, as_described, check
from barrier.tables import Tables

ROOT = Path(__file__).resolve().parents[1]
TESTS = str(ROOT / "tests")
# What walks share fits the tests: laminates asked for again and again are kept, and those factorised only where they are small.
for kind, room in (("solved", 24_000_000), ("layered", 112_000_000), ("laminate", 52_000_000), ("rail", 16_000_000)):
    SHARED._shelves[kind].room = room
gc.set_threshold(5_000, 20, 20)  # looking for rubbish a little less often: a result has a few thousand parts and lives long

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


def sound(job: Job, memo: Memo = SHARED) -> Walked:
    """A job walked as it is described and with nothing broken, which is all that many tests look at: half the work."""
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
    if _resident() > _Room.between:
        _of_all_files.cache_clear()  # with what walks share they are walked again in a quarter of the time
        _Room.trimmed()


C_LIBRARY = ctypes.CDLL(None) if sys.platform == "linux" else None
with suppress(AttributeError):  # of GNU's alone: what is large stands by itself in memory and goes back when it is done with
    C_LIBRARY.mallopt(-3, 4_000_000)  # type: ignore[union-attr]


class _Room:
    """Keeps a worker small: beyond so many bytes it forgets what walks share, and gives free memory back to the system."""

    most = 450_000_000
    next = most
    between = 610_000_000  # of one file and the next

    @classmethod
    def made(cls) -> None:
        if _resident() > cls.next:
            cls.trimmed()
            cls.next = max(cls.most, _resident() + 50_000_000)

    @staticmethod
    def trimmed() -> None:
        SHARED.clear("laminate", "plate", "rail")  # the large ones; solved panels of bundled jobs their results hold anyhow
        gc.collect()
        with suppress(AttributeError):
            C_LIBRARY.malloc_trim(0)  # type: ignore[union-attr]


def _resident() -> int:
    try:
        return int(Path("/proc/self/statm").read_bytes().split()[1]) * 4096
    except OSError:
        return 0


def pytest_runtest_teardown() -> None:
    """After every test."""
    _Room.made()


@pytest.fixture
def everyday() -> Result:
    return result_of("everyday_deck")


@pytest.fixture
def garden() -> Result:
    return result_of("garden_deck")
