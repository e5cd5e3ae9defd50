"""F. P. Beer, E. R. Johnston, Mechanics of Materials: reinforced slab sample problem (figures from memory).

A slab 12 in wide with 5/8 in rods at 6 in, 4 in above the centre of the rods, moment 40 kip in per foot.
"""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path

import pytest

from barrier.mechanics.contact import Bed, Screw, Zone, solve
from barrier.mechanics.polygons import rectangle

with (Path(__file__).parents[1] / "data" / "worked_examples_mount.csv").open(newline="") as _file:
    ROWS = {r["id"]: r for r in csv.DictReader(_file)}

PRINT = 2e-3  # the print rounds intermediate results to three or four figures
RECOMPUTED = 1e-5  # the same example recomputed by other means, kept to six figures


def check(id: str, value: float) -> None:
    assert value == pytest.approx(float(ROWS[id]["expected"]), rel=PRINT)
    assert value == pytest.approx(float(ROWS[id]["recomputed"]), rel=RECOMPUTED)


def inputs(id: str) -> dict[str, float]:
    found: dict[str, float] = json.loads(ROWS[id]["inputs"])
    return found


def test_slab() -> None:
    g = inputs("W14_x")
    As = 2 * math.pi / 4 * 0.625**2  # two rods a foot; the row gives the rounded 0.6136
    bed = Bed((Zone(rectangle(-g["b"] / 2, g["b"] / 2, 0, g["d"]), "slab"),), 1.0)
    found = solve(bed, [Screw(0.0, g["d"], g["n"] * As)], 0.0, g["M"], 0.0)
    check("W14_x", -found.u0 / found.r_x)
    check("W14_I", g["M"] / found.r_x)
    check("W14_fc", found.p_max)
    check("W14_fs", found.T[0] / As)
