"""Base plates against another solver of the same model.

Source: mount_reference.csv, computed for this project before this solver was written: 12 plates solved by Newton's
method on clipped polygons to rounding, each checked by a quadratic programme over 90,000 cells (columns qp_*). The
digits printed are the tolerance that can be asked for.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from barrier.mechanics.contact import Bed, Screw, Zone, solve
from barrier.mechanics.polygons import circle

FORCE = 1e-3  # what the reference itself suggests for force, stress and rotation
AREA = 5e-3
PRINTED = 1e-6  # forces are printed to 1e-4 N, pressures to 1e-6 MPa, rotations to nine digits
ROUND = 1e-4  # a round plate is a polygon here and there, with corners proud of the circle by some 5e-5 of the radius

with (Path(__file__).parents[1] / "data" / "mount_reference.csv").open(newline="") as _file:
    ROWS = list(csv.DictReader(_file))


def polygon(given: object) -> np.ndarray:
    if isinstance(given, dict):
        return circle(*given["centre"], given["circle_D"] / 2)
    return np.array(given)


@pytest.mark.parametrize("row", ROWS, ids=[r["id"] for r in ROWS])
def test_mount(row: dict[str, str]) -> None:
    holes = tuple(polygon(h) for h in json.loads(row["holes"]))
    zones = tuple(Zone(polygon(p), f"zone {i}", holes) for i, p in enumerate(json.loads(row["bed_polygons"])))
    screws = [Screw(*s) for s in json.loads(row["screws_x_y_K"])]
    load = [float(row[c]) for c in ("N_N", "Mx_Nmm", "My_Nmm")]
    found = solve(Bed(zones, float(row["k_bed_N_per_mm3"])), screws, *load)
    T = json.loads(row["T_screws_N"])
    assert pytest.approx(T, rel=FORCE, abs=FORCE) == found.T
    assert found.p_max == pytest.approx(float(row["p_max_MPa"]), rel=FORCE)
    assert found.area == pytest.approx(float(row["contact_area_mm2"]), rel=AREA)
    assert found.rotation == pytest.approx(float(row["rot_total_rad"]), rel=FORCE)

    assert pytest.approx(T, rel=PRINTED, abs=1e-3) == found.T
    round_plate = "circle" in row["plate_mm"]
    assert found.p_max == pytest.approx(float(row["p_max_MPa"]), rel=ROUND if round_plate else PRINTED)
    assert found.area == pytest.approx(float(row["contact_area_mm2"]), rel=PRINTED)
    assert found.r_x == pytest.approx(float(row["rot_x_rad"]), rel=PRINTED, abs=1e-12)
    assert found.r_y == pytest.approx(float(row["rot_y_rad"]), rel=PRINTED, abs=1e-12)
    assert -found.u0 == pytest.approx(float(row["settlement_mm"]), rel=PRINTED)


def test_all_twelve_are_here() -> None:
    assert len(ROWS) == 12


def test_ratios_between_the_plates() -> None:
    """Two axes at 45 degrees: superposing them, or looking at the resultant about one axis only, is low."""
    T = {r["id"]: float(r["T_max_N"]) for r in ROWS}
    assert T["M06"] / T["M01"] == pytest.approx(1.58, abs=0.005)
    one_axis = next(s for s in ROWS if s["id"] == "M01")
    screws = [Screw(*s) for s in json.loads(one_axis["screws_x_y_K"])]
    zone = Zone(polygon(json.loads(one_axis["bed_polygons"])[0]), "zone")
    both = solve(Bed((zone,), 4.0), screws, 0.0, 350017.856687, 350017.856687).T.max()
    superposed = 2 * solve(Bed((zone,), 4.0), screws, 0.0, 350017.856687, 0.0).T.max()
    assert superposed < both
