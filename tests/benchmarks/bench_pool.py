"""Fifty variants of the everyday deck in a pool of two processes and one after another: the same outcomes, and how long each took.

Run: python tests/benchmarks/bench_pool.py. Prints figures; stops where one outcome is not that of the other.
"""

from __future__ import annotations

import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from barrier.job import read_job
from barrier.ways.runner import grid, run

ROOT = Path(__file__).resolve().parents[2]


def main() -> None:
    job = read_job(ROOT / "worked_examples" / "everyday_deck.toml")
    kind = job.mounts[0].type
    lengths = [f"{mm} mm" for mm in range(80, 130, 5)]
    plates = [f"{mm} mm" for mm in (10, 12, 14, 16, 20)]
    variants = grid(**{f"mount_types.{kind}.screw.length": lengths, f"mount_types.{kind}.plate.thickness": plates})
    began = time.perf_counter()
    serial = run(job, variants)
    between = time.perf_counter()
    with ProcessPoolExecutor(2) as pool:
        apart = run(job, variants, executor=pool)
    ended = time.perf_counter()
    refused = sum(bool(o.refused) for o in serial)
    one, two = between - began, ended - between
    print(f"{len(variants)} variants, {refused} refused; one after another {one:.1f} s, two processes {two:.1f} s")
    if serial != apart:
        sys.exit("the outcomes differ")
    print("the outcomes are equal, figure for figure")


if __name__ == "__main__":
    main()
