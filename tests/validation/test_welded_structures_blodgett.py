"""O. W. Blodgett, Design of Welded Structures: column base with weight and moment, elastic bed, by a cubic.

Formula from memory: Y³ + K1 Y² + K2 Y + K3 = 0 with K1 = 3 (e - D/2), K2 = 6 n As (f + e)/B, K3 = -K2 (D/2 + f). No
number of the book is used: the expected values are the root of the cubic.
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


def test_cubic() -> None:
    g = inputs("W17_Y")
    B, D = g["B"], g["D"]
    bed = Bed((Zone(rectangle(-B / 2, B / 2, -D / 2, D / 2), "concrete"),), 1.0)
    found = solve(bed, [Screw(0.0, g["f"], g["nAs"])], g["P"], g["M"], 0.0)
    e = g["M"] / g["P"]
    K1, K2 = 3 * (e - D / 2), 6 * g["nAs"] * (g["f"] + e) / B
    Y = found.area / B
    assert pytest.approx(K2 * (D / 2 + g["f"]), rel=1e-9) == Y**3 + K1 * Y**2 + K2 * Y
    check("W17_Y", Y)
    check("W17_T", found.T[0])
    check("W17_p", found.p_max)
