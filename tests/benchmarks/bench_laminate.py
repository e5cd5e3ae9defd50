"""Time of a laminated panel with all its cases beside the same panel as one sheet.

    python tests/benchmarks/bench_laminate.py

One panel, 1200 x 1200, 10 + 1.52 + 10 mm, film of 0.5 MPa, two clamps of 50 x 90, seven loads a barrier meets, pads soft,
nominal and stiff, bases of two stiffnesses; for the laminate pads on both faces and on one. Peaks of every face and the
movement of the top edge are asked for. Time of the processor, the least of warm runs, for other work on the machine only
adds to it. Prints it with ratios, beside what it was before the panel was factorised in place; asserts nothing.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

import numpy as np

from barrier.mechanics.laminate import CONTACTS, Contact, Laminate, LaminateModel, Stand
from barrier.mechanics.plate import FIXED, Base, Clamp, LineLoad, Load, Pad, PatchLoad, PlateModel, Pressure

AIM = 150.0  # ms, a laminated panel with all its cases
BEFORE = 218.0  # ms, the same where the single sheet took BEFORE_SHEET: factor in copies, stress case by case and face by face
BEFORE_SHEET = 20.0
SHEET = Laminate(1200.0, 1200.0, 10.0, 10.0, 1.52, 70_000.0, 0.23, 0.5)
LOADS: list[Load] = [
    LineLoad(0.75, 1100.0), Pressure(1e-3), PatchLoad(500.0, 575.0, 625.0, 600.0, 650.0), Pressure(0.8e-3), Pressure(-0.8e-3),
    PatchLoad(600.0, 0.0, 50.0, 1050.0, 1100.0), PatchLoad(600.0, 575.0, 625.0, 1050.0, 1100.0),
]  # fmt: skip
PADS = (5.0, 10.0, 20.0)
BASES: tuple[list[Base], ...] = ([FIXED, FIXED], [np.diag([2e4, 1e8, 1e8])] * 2)


def clamps(k: float) -> list[Clamp]:
    """Two clamps with pads of k N/mm3."""
    return [Clamp(x, (Pad(x - 25, x + 25, 0.0, 90.0, k),)) for x in (250.0, 950.0)]


def timed(run: Callable[[], object], repeats: int = 15) -> float:
    """Least of warm runs, ms of the processor."""
    run()
    times = []
    for _ in range(repeats):
        start = time.process_time()
        run()
        times.append(time.process_time() - start)
    return 1e3 * min(times)


def single() -> None:
    """As one sheet: the layered limit."""
    for k in PADS:
        model = PlateModel(SHEET.layered, clamps(k), LOADS)
        for bases in BASES:
            solution = model.solve(bases)
            solution.peaks(10.0), solution.top_deflection


def laminate(contacts: Sequence[Contact] = CONTACTS, peaks: bool = True) -> None:
    """As it is."""
    model = LaminateModel(SHEET, clamps(max(PADS)), LOADS)
    stands = [Stand(bases, contact, clamps(k)) for k in PADS for bases in BASES for contact in contacts]
    for solution in model.solve_all(stands):
        if peaks:
            solution.peaks(10.0), solution.top_deflection


if __name__ == "__main__":
    one = timed(single)
    print(f"one sheet, 6 ways to stand, {len(LOADS)} loads     {one:7.1f} ms")
    every = timed(laminate)
    print(f"laminate, 12 ways (both contacts)       {every:7.1f} ms   {every / one:.1f} times the sheet, aim {AIM:g} ms")
    print(f"  before                                {BEFORE:7.1f} ms   {BEFORE / BEFORE_SHEET:.1f} times the sheet")
    both = timed(lambda: laminate(CONTACTS[:1]))
    print(f"laminate, 6 ways (pads on both faces)   {both:7.1f} ms")
    bare = timed(lambda: laminate(peaks=False))
    print(f"laminate, 12 ways, forces only          {bare:7.1f} ms")
