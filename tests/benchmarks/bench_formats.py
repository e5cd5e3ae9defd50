"""Whole-process time and size of a sheet in every format, beside the aims of the project.

Run: python tests/benchmarks/bench_formats.py [JOB]. Prints figures and ratios to the aims; asserts nothing.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import click

from barrier.cli import check

ROOT = Path(__file__).resolve().parents[2]
AIMS = {"html": (2.0, 400), "pdf": (3.0, None)}  # seconds for the whole process, kB
RUNS = 5


def formats() -> list[str]:
    """What the command line offers."""
    option = next(p for p in check.params if p.name == "form")
    assert isinstance(option.type, click.Choice)
    return [str(c) for c in option.type.choices]


def measured(job: Path, form: str, folder: Path) -> tuple[float, int]:
    """Median seconds of a whole process, and bytes of what it wrote."""
    output = folder / f"sheet.{form}"
    command = [sys.executable, "-m", "barrier", "check", str(job), "--format", form, "--output", str(output)]
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run(command, check=False, cwd=ROOT, capture_output=True)
        times.append(time.perf_counter() - start)
    return statistics.median(times), output.stat().st_size


def ratio(value: float, aim: float | None) -> str:
    return "no aim" if aim is None else f"{value / aim:.2f} of the aim"


def main() -> None:
    job = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "worked_examples" / "everyday_deck.toml"
    print(f"{job.name}, median of {RUNS} whole processes")
    with tempfile.TemporaryDirectory() as folder:
        for form in formats():
            seconds, size = measured(job, form, Path(folder))
            aim, most = AIMS.get(form, (None, None))
            print(f"{form:9} {seconds:5.2f} s ({ratio(seconds, aim)})  {size / 1e3:7.0f} kB ({ratio(size / 1e3, most)})")


if __name__ == "__main__":
    main()
