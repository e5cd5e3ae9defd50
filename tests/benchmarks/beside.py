"""This project beside an older one of itself, timed in turns on one machine: what each benchmark takes now over what it took.

Run: python tests/benchmarks/beside.py FOLDER, where FOLDER is a checkout of the older commit (``git worktree add FOLDER dd7bbee``).
Processor time of one thread, the least of all turns: on a machine that other work uses, wall time says nothing. Nothing is kept
from one check to the next. Prints figures; asserts nothing.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TURNS = 3
CODE = """
import json, sys, time
sys.path[:0] = [FOLDER, FOLDER + "/tests/benchmarks"]
import bench_contact as contact, bench_plate as plate
from barrier import sheet
from barrier.job import read_job
from barrier.load_path import check
try:
    from barrier.links.memo import Memo
    empty = lambda: {"memo": Memo()}
except ImportError:
    empty = dict

def least(work, runs=7):
    work()
    found = []
    for _ in range(runs):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return 1e3 * min(found)

told = {}
for name in ("garden_deck", "everyday_deck"):
    job = read_job(f"{FOLDER}/worked_examples/{name}.toml")
    result = check(job)
    told[f"one check, {name}"] = least(lambda: check(job, **empty()))
    told[f"checks made, {name}"] = sum(len(w.checks) for w in result.walked)
    told[f"text sheet, {name}"] = least(lambda: sheet.text(result), 3)
for k in (10.0, 100.0):
    told[f"one panel to 1 %, pads of {k:g} N/mm3"] = least(lambda: plate.splines(k), 15)
zones = contact.three_pieces("square")
elastic, yielding = contact.Bed(zones, 4.0), contact.Bed(zones, 4.0, 2.2)
screws, M, TEN = contact.SCREWS, contact.M, range(10)
told["contact, elastic, ten times"] = least(lambda: [contact.solve(elastic, screws, 400.0, M, 0.0) for i in TEN])
told["contact, yielding, ten times"] = least(lambda: [contact.solve(yielding, screws, 400.0, M, 0.0) for i in TEN])
told["contact, limit, ten times"] = least(lambda: [contact.limit_factor(yielding, screws, 400.0, M, 0.0, 4500.0) for i in TEN])
print(json.dumps(told))
"""


def asked(folder: Path) -> dict[str, float]:
    """Figures of one folder, in a process of its own."""
    code = f"FOLDER = {str(folder)!r}\n{CODE}"
    env = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": str(folder)}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=env, cwd=folder)
    found: dict[str, float] = json.loads(done.stdout)
    return found


def main() -> None:
    old = Path(sys.argv[1]).resolve()
    turns = [(asked(old), asked(ROOT)) for _ in range(TURNS)]
    for what in turns[0][0]:
        was, now = (min(turn[i][what] for turn in turns) for i in (0, 1))
        unit = "" if what.startswith("checks made") else " ms"
        print(f"{what:40} {was:9.2f}{unit:3} {now:9.2f}{unit:3}   now/then {now / was:.2f}")


if __name__ == "__main__":
    main()
