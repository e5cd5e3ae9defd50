"""The page for the phone as it comes without options: what it costs beside one check of the same job, and how large it is.

Run: OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_phone.py [--largest]. One thread, as the command asks for. Prints figures
and ratios; asserts nothing. Times are those of the processor, so that other work on the machine does not count. A check is timed
*again* (what it shares with the one before is not worked out again) and *anew* (nothing is shared, as for the first in a process);
a page works out nearly everything anew.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from barrier import sheet
from barrier.job import read_job
from barrier.links.memo import Memo
from barrier.load_path import as_described, check
from barrier.ways.phone import phone
from barrier.ways.runner import tables_of

ROOT = Path(__file__).resolve().parents[2]
LARGEST = ("panel width=900 mm..1800 mm step 100 mm", "mounts=100 mm..300 mm step 25 mm", "glass")


def seconds(work: Callable[[], object], runs: int) -> float:
    """The median over so many runs."""
    times = []
    for _ in range(runs):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times)


def main() -> None:
    print("job                sets   page s   of it writing   checks again   checks anew   kB")
    for name in ("garden_deck", "everyday_deck", "australian_deck", "us_deck"):
        job = read_job(ROOT / "worked_examples" / f"{name}.toml")
        check(job)
        again, anew = seconds(lambda j=job: check(j), 9), seconds(lambda j=job: as_described(j, tables_of(j), Memo()), 9)
        report(name, job, (), again, anew)
    if "--largest" in sys.argv:
        job = read_job(ROOT / "worked_examples" / "everyday_deck.toml")
        report("as large as may be", job, LARGEST, seconds(lambda: check(job), 9), seconds(lambda: check(job), 9))


def report(name: str, job: object, over: tuple[str, ...], again: float, anew: float) -> None:
    """One line."""
    start = time.process_time()
    found = phone(job, over)  # type: ignore[arg-type]
    walked = time.process_time() - start
    page = sheet.phone_html(found)
    whole = time.process_time() - start
    size = len(str(page).encode()) / 1000
    sets = len(found.outcomes)
    print(
        f"{name:18} {sets:4} {whole:8.1f} {whole - walked:15.1f} {whole / again:14.0f} {whole / anew:13.0f} {size:4.0f}", flush=True
    )


if __name__ == "__main__":
    main()
