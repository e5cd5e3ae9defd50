"""How long a run of panels under a rail takes, peaks of the glass among it: prints figures, asserts nothing.

python tests/benchmarks/bench_rail.py
"""

from __future__ import annotations

from time import perf_counter

from barrier.mechanics.plate import FIXED, Clamp, Pad, Plate
from barrier.mechanics.rail import Rail, RailRun, RunLoad, RunPanel

CLAMPS = tuple(Clamp(x, (Pad(x - 25, x + 25, 0, 90, 10.0),)) for x in (250.0, 750.0))


def once(number: int, alike: bool) -> tuple[float, float]:
    """Seconds for all with a panel lost, and for one more situation of the same run."""
    panels = [
        RunPanel(1020.0 * i, Plate(1000 - (0 if alike else i), 1100, 12, 70_000, 0.23), CLAMPS, (FIXED, FIXED))
        for i in range(number)
    ]
    run = RailRun(panels, Rail(0.0, panels[-1].end, 5e9, 20.0))
    load = [RunLoad(lines=((0.75, 0.0, panels[-1].end),)), RunLoad(points=((1000.0, 1530.0),))]
    times = []
    for lost in ([1], [2]):
        start = perf_counter()
        solved = run.solve(load, lost=lost)
        for answer in solved.panels.values():
            answer.plate.peaks(12.0)
        solved.extreme()
        times.append(perf_counter() - start)
    return times[0], times[1]


if __name__ == "__main__":
    for number in (3, 4, 8):
        for alike in (True, False):
            first, again = zip(*(once(number, alike) for _ in range(5)), strict=True)
            words = "alike" if alike else "all different"
            print(f"{number} panels, {words}: {min(first):.3f} s with peaks, another panel lost {min(again):.3f} s")
