"""Jobs that somebody spoilt, walked to the end: a script with a seed and a budget; a small slice of it runs with the tests.

    python tests/hostile/fuzz.py --jobs 1000 --seed 7

Each job is one of the bundled ones with a few edits that know the grammar: a quantity is scaled, set to nought, to "unknown" or
to another unit; a word is changed for another choice; a table or a list entry is dropped or doubled; two
values change places. Whatever comes out is refused in our words or ends as a sheet: an uncaught error, a check whose verdict is
no verdict, a walk of more than ten seconds or more than a gigabyte of memory is a failure, printed with the job it came from.
"""

from __future__ import annotations

import argparse
import random
import re
import resource
import sys
import time
import traceback
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from barrier.errors import BarrierError, CalculationError, JobRefused
from barrier.job.read import job_from_text
from barrier.load_path import Result, check
from barrier.result import Ending

ROOT = Path(__file__).resolve().parents[2]
SEEDS = tuple(sorted((ROOT / "worked_examples").glob("*.toml")))
SLOWEST, MOST = 10.0, 1_000_000  # seconds a job, kB the process may grow by
_QUANTITY = re.compile(r'"(-?\d+(?:\.\d+)?(?: \d+/\d+)?) ?([^"\d][^"]*)"')
_ENTRY = re.compile(r"^(\s*)([A-Za-z_]\w*) = (.+?)(\s+#.*)?$")
LAMINATED = "laminated"  # three quarters of a second each, ten times the others: drawn a quarter as often
FACTORS = (0.0, 1e-3, 0.1, 0.5, 0.9, 1.1, 2.0, 5.0, 10.0, 1e3, -1.0)
WORDS = (
    '"unknown"',
    "true",
    "false",
    '""',
    '"none"',
    "0",
    "1",
    "3",
    '"blocking"',
    '"decking only"',
    '"edge joist"',
    '"along"',
    '"across"',
)


@dataclass
class Tally:
    """What came of the jobs: counts by ending, and every failure with the job it came from."""

    endings: Counter[str] = field(default_factory=Counter)
    failures: list[tuple[str, str]] = field(default_factory=list)
    slowest: float = 0.0


def spoilt(draw: random.Random, text: str) -> str:
    """A job text with one to four edits."""
    lines = text.splitlines()
    for _ in range(draw.choice((1, 1, 2, 3, 4))):
        i = draw.randrange(len(lines))
        edit = draw.choice(("scale", "scale", "scale", "word", "unknown", "drop", "double", "swap", "drop table", "unit"))
        if edit == "drop table":
            lines = _without_table(lines, i)
        elif edit == "drop":
            del lines[i]
        elif edit == "double":
            lines.insert(i, lines[i])
        elif entry := _ENTRY.match(lines[i]):
            lines[i] = f"{entry[1]}{entry[2]} = {_edited(draw, edit, entry[3], lines)}"
    return "\n".join(lines)


def _edited(draw: random.Random, edit: str, value: str, lines: Sequence[str]) -> str:
    if edit == "scale" and (q := _QUANTITY.fullmatch(value)) and " " not in q[1]:
        return f'"{float(q[1]) * draw.choice(FACTORS):.10g} {q[2]}"'
    if edit == "unit" and (q := _QUANTITY.fullmatch(value)):
        return f'"{q[1]} {draw.choice(("mm", "in", "m", "kN", "MPa", "kN/m2", "deg"))}"'
    if edit == "swap":
        other = _ENTRY.match(draw.choice(lines))
        return other[3] if other else value
    return '"unknown"' if edit == "unknown" else draw.choice(WORDS)


def _without_table(lines: list[str], i: int) -> list[str]:
    """The lines without the table that line i stands in."""
    start = next((k for k in range(i, -1, -1) if lines[k].startswith("[")), 0)
    end = next((k for k in range(start + 1, len(lines)) if lines[k].startswith("[")), len(lines))
    return lines[:start] + lines[end:]


def fuzz(jobs: int, seed: int, budget: float = float("inf")) -> Tally:
    """Spoil and walk so many jobs, or as many as the budget of seconds takes."""
    draw, tally, begun = random.Random(seed), Tally(), time.monotonic()
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    texts = [p.read_text(encoding="utf-8") for p in SEEDS]
    weights = [1 if LAMINATED in p.name else 4 for p in SEEDS]
    for _ in range(jobs):
        if time.monotonic() - begun > budget:
            break
        text = spoilt(draw, draw.choices(texts, weights)[0])
        start = time.process_time()  # of the processor: a machine that others use is no hang
        ending = _walked(text, tally)
        took = time.process_time() - start
        tally.endings[ending] += 1
        tally.slowest = max(tally.slowest, took)
        if took > SLOWEST:
            tally.failures.append((f"{took:.1f} s", text))
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    if grown > MOST:
        tally.failures.append((f"{grown / 1e6:.2f} GB of memory more than before", ""))
    return tally


def _walked(text: str, tally: Tally) -> str:
    try:
        result = check(job_from_text(text, "fuzz.toml"))
    except CalculationError:
        tally.failures.append((traceback.format_exc(limit=-3), text))
        return "no number"
    except JobRefused as refused:
        if not all(f.text.strip() for f in refused.faults):
            tally.failures.append(("a refusal without words", text))
        return "refused"
    except BarrierError:
        return "refused"
    except Exception:
        tally.failures.append((traceback.format_exc(limit=-3), text))
        return "uncaught"
    if wrong := no_verdict(result):
        tally.failures.append((wrong, text))
    return str(result.ending)


def no_verdict(result: Result) -> str:
    """What of a result contradicts itself; empty where nothing does."""
    for c in (c for w in result.walked for c in w.checks):
        eta = c.eta
        if c.ending is Ending.WITHIN and (eta is None or not 0.0 <= eta <= 1.0):
            return f"{c.id} is within at {eta}"
        if c.ending is Ending.EXCEEDS and eta is not None and eta <= 1.0:
            return f"{c.id} exceeds at {eta}"
        if c.ending is not Ending.WITHIN and eta is None and not c.reason:
            return f"{c.id} says no reason"
    ids = [c.id for c in result.sound.checks]
    twice = next((i for i in ids if ids.count(i) > 1), None)
    return f"{twice} stands twice" if twice else ""


def main() -> int:
    """Run as a script; exit code 1 where anything failed."""
    told = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    told.add_argument("--jobs", type=int, default=1000)
    told.add_argument("--seed", type=int, default=1)
    told.add_argument("--seconds", type=float, default=float("inf"))
    asked = told.parse_args()
    tally = fuzz(asked.jobs, asked.seed, asked.seconds)
    print(f"{sum(tally.endings.values())} jobs, seed {asked.seed}: {dict(tally.endings)}; slowest {tally.slowest:.1f} s")
    for n, (what, text) in enumerate(tally.failures):
        place = Path(f"failure-{asked.seed}-{n}.toml")
        place.write_text(text, encoding="utf-8")
        print(f"--- {place}\n{what}")
    print(f"{len(tally.failures)} failures")
    return 1 if tally.failures else 0


if __name__ == "__main__":
    sys.exit(main())
