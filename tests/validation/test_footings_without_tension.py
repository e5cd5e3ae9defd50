"""Rigid footing on soil that takes no tension: closed forms of any foundation text.

Weight outside the kern: p = 2 N / (3 b g), g from the resultant to the edge. Near a corner, a triangle with legs 4 g
and p = 6 N / (4 g)² (derived: a tetrahedron of pressure with its centroid under the resultant).
"""

from __future__ import annotations

import csv
import json
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


@pytest.mark.parametrize("screws", [[], [Screw(0.0, 0.0, 0.0)]], ids=["no screw", "a screw in no timber"])
def test_weight_outside_the_kern(screws: list[Screw]) -> None:
    g = inputs("W18_pmax")
    half = g["D"] / 2
    bed = Bed((Zone(rectangle(-half, half, -half, half), "soil"),), 4.0)
    found = solve(bed, screws, g["N"], g["N"] * g["e"], 0.0)
    check("W18_pmax", found.p_max)
    check("W18_Ac", found.area)


def test_weight_near_a_corner() -> None:
    g = inputs("W19_pmax")
    half = g["D"] / 2
    bed = Bed((Zone(rectangle(-half, half, -half, half), "soil"),), 4.0)
    found = solve(bed, [], g["N"], g["N"] * g["ey"], g["N"] * g["ex"])
    check("W19_pmax", found.p_max)
    check("W19_Ac", found.area)
