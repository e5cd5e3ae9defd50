"""Time of the base plate contact: run as ``python tests/benchmarks/bench_contact.py``. Prints, asserts nothing."""

from __future__ import annotations

import time
from collections.abc import Callable

from barrier.mechanics.contact import Bed, Screw, Zone, collapse_factor, limit_factor, rotation_stiffness, solve
from barrier.mechanics.polygons import circle, clip_to_rectangle, rectangle

M = 495e3
SCREWS = [Screw(x, y, 1e4) for y in (-35.0, 35.0) for x in (-35.0, 35.0)]


def three_pieces(plate: str) -> tuple[Zone, ...]:
    area = circle(0, 0, 55) if plate == "round" else rectangle(-50, 50, -50, 50)
    hole = circle(0, 0, 11)
    zones = []
    for i, y in enumerate((-67.5, -22.5, 22.5)):
        part, cut = (clip_to_rectangle(p, -225, 225, y, y + 45) for p in (area, hole))
        zones.append(Zone(part, f"piece {i}", (cut,)))
    return tuple(zones)


def milliseconds(call: Callable[[], object], repeats: int = 30) -> float:
    best = float("inf")
    for _ in range(5):
        start = time.perf_counter()
        for _ in range(repeats):
            call()
        best = min(best, (time.perf_counter() - start) / repeats)
    return 1e3 * best


def main() -> None:
    names = ("elastic", "two axes", "yielding", "collapse", "limit", "stiffness")
    print(f"{'plate (ms a call)':24}" + "".join(f"{n:>10}" for n in names))
    beds = {
        "one zone": (Zone(rectangle(-50, 50, -50, 50), "piece"),),
        "three pieces, hole": three_pieces("square"),
        "round, three, hole": three_pieces("round"),
    }
    for name, zones in beds.items():
        elastic, yielding = Bed(zones, 4.0), Bed(zones, 4.0, 2.2)
        times = (
            milliseconds(lambda b=elastic: solve(b, SCREWS, 400.0, M, 0.0)),  # type: ignore[misc]
            milliseconds(lambda b=elastic: solve(b, SCREWS, 400.0, 0.8 * M, 0.3 * M)),  # type: ignore[misc]
            milliseconds(lambda b=yielding: solve(b, SCREWS, 400.0, M, 0.0)),  # type: ignore[misc]
            milliseconds(lambda b=yielding: collapse_factor(b, SCREWS, 400.0, M, 0.0)),  # type: ignore[misc]
            milliseconds(lambda b=yielding: limit_factor(b, SCREWS, 400.0, M, 0.0, 4500.0)),  # type: ignore[misc]
            milliseconds(lambda b=elastic: rotation_stiffness(b, SCREWS)),  # type: ignore[misc]
        )
        print(f"{name:24}" + "".join(f"{t:10.2f}" for t in times))


if __name__ == "__main__":
    main()
