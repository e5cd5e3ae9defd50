"""Many variants of one job on two processes, and the pages that walk many: each as a multiple of one check.

Run: OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_study.py [VARIANTS]. Prints figures; asserts nothing. On a machine that
other work uses, wall time says little: processor time of all processes stands beside it.
"""

from __future__ import annotations

import resource
import statistics
import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from barrier.job import read_job
from barrier.links.memo import Memo
from barrier.load_path import check
from barrier.ways.brief import brief
from barrier.ways.runner import grid, run
from barrier.ways.ways import ways

ROOT = Path(__file__).resolve().parents[2]
PROCESSES = 2


def spent() -> float:
    """Processor seconds of this process and of those that ended."""
    own, ended = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    return own.ru_utime + own.ru_stime + ended.ru_utime + ended.ru_stime


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """Wall and processor seconds."""
    wall, cpu = time.perf_counter(), spent()
    work()
    return time.perf_counter() - wall, spent() - cpu


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    job = read_job(ROOT / "worked_examples" / "everyday_deck.toml")
    check(job)
    singles = [timed(lambda: check(job, memo=Memo())) for _ in range(5)]
    one, one_cpu = (statistics.median(x) for x in zip(*singles, strict=True))
    print(
        f"one check of the everyday deck, libraries loaded, nothing kept: {1e3 * one:.0f} ms, {1e3 * one_cpu:.0f} ms of processor"
    )
    kind = f"mount_types.{job.mounts[0].type}"
    side = max(round(count ** (1 / 3)), 1)
    axes = {
        "panels.P1.height": [f"{1050 - i} mm" for i in range(side)],
        f"{kind}.screw.length": [f"{100 + i} mm" for i in range(side)],
        "decking.thickness": [f"{28 - i / 10:g} mm" for i in range(max(count // side**2, 1))],
    }
    variants = grid(**axes)

    def study() -> None:
        with ProcessPoolExecutor(PROCESSES) as pool:
            run(job, variants, executor=pool)

    wall, cpu = timed(study)
    print(f"{len(variants)} variants on {PROCESSES} processes: {wall:.1f} s, {wall / one:.0f} checks; "
          f"{cpu:.1f} s of processor, {cpu / PROCESSES / one_cpu:.0f} checks a process")  # fmt: skip
    for words, work in (("the two pages", lambda: brief(job)), ("the page of ways", lambda: ways(job))):
        wall, cpu = timed(work)
        print(f"{words}: {wall:.1f} s, {wall / one:.0f} checks; {cpu:.1f} s of processor, {cpu / one_cpu:.0f} checks")


if __name__ == "__main__":
    main()
