"""What the tests themselves cost: seconds of the processor by file, and the memory of each worker and of what it started.

    python tests/benchmarks/bench_suite.py [-n 2] [files ...]

Runs the tests as they are always run and prints the dearest files, the dearest tests and, for each worker, the most memory that
it and the largest of its children needed. Seconds are of the processor, children included, so that other work on the machine
does not count.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
PLACE = "BARRIER_SUITE_COSTS"


def spent() -> float:
    """Seconds of the processor of this process and of its children that have ended."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


class Costs:
    """Seconds by test and the memory, written down when the worker ends; a plugin of pytest."""

    def __init__(self) -> None:
        self.seconds: Counter[str] = Counter()
        self.memory: dict[str, int] = {}
        self.since = 0.0

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """A test begins."""
        self.since = spent()

    def pytest_runtest_logfinish(self, nodeid: str) -> None:
        """It has ended."""
        self.seconds[nodeid] += spent() - self.since
        self.memory[nodeid.partition("::")[0]] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss

    def pytest_sessionfinish(self, session: Any) -> None:
        """Write it down beside those of the others."""
        most = [resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
        name = getattr(session.config, "workerinput", {}).get("workerid", "main")
        Path(os.environ[PLACE], f"{name}.json").write_text(json.dumps([self.seconds, self.memory, most]))


def pytest_configure(config: Any) -> None:
    """Measure in every process that runs tests."""
    config.pluginmanager.register(Costs())


def main() -> None:
    """Run the tests and print what they cost."""
    asked = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        path = os.pathsep.join([str(ROOT), str(Path(__file__).parent), os.environ.get("PYTHONPATH", "")])
        begun = time.monotonic()
        environment = os.environ | {PLACE: folder, "PYTHONPATH": path}
        code = subprocess.run([sys.executable, "-m", "pytest", "-p", "bench_suite", *asked], cwd=ROOT, env=environment).returncode
        print(f"\nended with {code} after {time.monotonic() - begun:.0f} s by the clock")
        told = {f.stem: json.loads(f.read_text()) for f in sorted(Path(folder).glob("*.json"))}
    tests: Counter[str] = Counter()
    memory: dict[str, int] = {}
    for name, (seconds, grown, (own, child)) in told.items():
        if not seconds or (name == "main" and len(told) > 1):  # it only hears of what workers do
            continue
        tests.update(seconds)
        memory |= grown
        print(f"{name}: {sum(seconds.values()):.0f} s of the processor, at most {own / 1e3:.0f} MB, a child {child / 1e3:.0f} MB")
    files: Counter[str] = Counter()
    for test, seconds in tests.items():
        files[test.partition("::")[0]] += seconds
    print(f"\n{sum(tests.values()):.0f} s of the processor in {len(tests)} tests; the dearest files and their worker's memory")
    for name, seconds in files.most_common(40):
        print(f"{seconds:7.1f} s {memory.get(name, 0) / 1e3:6.0f} MB  {name}")
    print("\nthe dearest tests")
    for name, seconds in tests.most_common(60):
        print(f"{seconds:7.1f} s  {name}")


if __name__ == "__main__":
    main()
