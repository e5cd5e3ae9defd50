"""One whole check, warm, and what dominates it; whole processes of the command line.

Run: python tests/benchmarks/bench_check.py. Prints figures and ratios; asserts nothing.
"""

from __future__ import annotations

import cProfile
import pstats
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from barrier import sheet
from barrier.job import read_job
from barrier.load_path import check

ROOT = Path(__file__).resolve().parents[2]


def median_ms(work: Callable[[], object], runs: int = 9) -> float:
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1e3 * statistics.median(times)


def process_ms(*arguments: str, runs: int = 5) -> float:
    return median_ms(lambda: subprocess.run([sys.executable, *arguments], capture_output=True, check=False, cwd=ROOT), runs)


def main() -> None:
    for name in ("garden_deck", "everyday_deck"):
        path = ROOT / "worked_examples" / f"{name}.toml"
        job = read_job(path)
        result = check(job)
        print(f"{name}: read {median_ms(lambda p=path: read_job(p)):.1f} ms, check {median_ms(lambda j=job: check(j)):.0f} ms "
              f"({len(result.walked)} situations), text sheet {median_ms(lambda r=result: sheet.text(r)):.0f} ms")  # fmt: skip
    empty = process_ms("-c", "pass")
    whole = process_ms("-m", "barrier", "check", "worked_examples/garden_deck.toml")
    light = process_ms("-m", "barrier", "--help")
    print(f"whole process: text sheet {whole:.0f} ms, --help {light:.0f} ms, bare interpreter {empty:.0f} ms")
    job = read_job(ROOT / "worked_examples" / "everyday_deck.toml")
    profile = cProfile.Profile()
    profile.runcall(check, job)
    print("what dominates a check (own time):")
    pstats.Stats(profile).strip_dirs().sort_stats("tottime").print_stats(12)


if __name__ == "__main__":
    main()
