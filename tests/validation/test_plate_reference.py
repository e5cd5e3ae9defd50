"""The plate on clamps against ten panels solved by other means.

Source: tests/data/plate_reference.csv, computed for this project: thin-plate columns by independent finite elements
(Argyris triangles, each row with its own error estimate, up to 0.5 % in stress), solid3d_* columns by three-dimensional
finite elements. E = 70,000 MPa, nu = 0.23; no published table gives panels on elastic clamps.
"""

from __future__ import annotations

import csv
import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from barrier.mechanics.plate import (
    FIXED,
    Clamp,
    LineLoad,
    Pad,
    PatchLoad,
    Plate,
    PlateModel,
    PlateSolution,
    Pressure,
    diagonal_base,
)

DATA = Path(__file__).parent.parent / "data" / "plate_reference.csv"
ROWS = {row["id"]: row for row in csv.DictReader(DATA.open(encoding="utf-8"))}
DISCRETE = [id for id, row in ROWS.items() if json.loads(row["clamps"])[0]["b"] < float(row["W"])]

STRESS = 0.01  # the aim of the model; the reference itself is known to 0.5 %
DEFLECTION = 0.002  # far above both errors, far below what matters on a site
REACTION = 0.001  # of the largest of its kind: small reversed ones have no scale of their own
PLACE = 5.0  # mm; the stress is flat at its peak and the reference reports the nearest of its own points
LOW_3D, HIGH_3D = -0.01, 0.04  # what the model factor may leave against solids: little below, a little more above


@cache
def solved(id: str) -> PlateSolution:
    row = ROWS[id]
    clamps, bases = [], []
    for c in json.loads(row["clamps"]):
        pad = Pad(c["xc"] - c["b"] / 2, c["xc"] + c["b"] / 2, 0.0, c["d"], c["k"])
        clamps.append(Clamp(c["xc"], (pad,)))
        bases.append(FIXED if c["base"] == "fixed" else diagonal_base(*c["base"]))
    kind, *numbers = json.loads(row["load"])
    load = {"line": LineLoad, "press": Pressure, "patch": PatchLoad}[kind](*numbers)
    plate = Plate(*(float(row[name]) for name in ("W", "H", "t", "E", "nu")))
    return PlateModel(plate, clamps, [load]).solve(bases)


def number(id: str, column: str) -> float:
    return float(ROWS[id][column])


def largest(id: str, faces: tuple[str, ...], zones: tuple[str, ...]) -> tuple[float, float]:
    """Largest stress over faces and zones (edges only where the band is zero), and its y."""
    peaks = solved(id).peaks(0.0)
    found = [(float(peaks[f][z].stress[0]), float(peaks[f][z].y[0])) for f in faces for z in zones]
    return max(found)


EDGES = ("bottom", "side", "top")


def test_all_ten_rows_are_there() -> None:
    assert sorted(ROWS) == [f"P{i:02}" for i in range(1, 11)]
    assert [id for id in ROWS if id not in DISCRETE] == ["P09"]


@pytest.mark.parametrize("id", ROWS)
@pytest.mark.parametrize("face", ["load", "back"])
def test_peak_on_each_face(id: str, face: str) -> None:
    """Source: independent finite elements."""
    stress, y = largest(id, (face,), ("interior", *EDGES))
    assert stress == pytest.approx(number(id, f"sig1_{face}_face"), rel=STRESS)
    assert y == pytest.approx(number(id, f"y_{face}"), abs=PLACE)


@pytest.mark.parametrize("id", ROWS)
def test_peak_on_the_edges(id: str) -> None:
    """Source: independent finite elements; both faces, all four edges."""
    stress, _ = largest(id, ("load", "back"), EDGES)
    assert stress == pytest.approx(number(id, "sig1_edge_max"), rel=STRESS)


@pytest.mark.parametrize("id", ROWS)
def test_deflection_of_the_top_edge(id: str) -> None:
    """Source: independent finite elements."""
    assert solved(id).top_deflection[0] == pytest.approx(number(id, "w_top_max"), rel=DEFLECTION)


@pytest.mark.parametrize("id", ROWS)
def test_reactions(id: str) -> None:
    """Source: independent finite elements. A level 50 mm below the glass: statics."""
    s = solved(id)
    found = {"F": s.F[0], "Mx_y0": s.Mx[0], "Mz_xc": s.Mz[0], "Mx_base50": s.Mx[0] + 50.0 * s.F[0]}
    for column, values in found.items():
        expected = np.array(json.loads(ROWS[id][column]), dtype=float)
        scale = np.abs(expected).max() or number(id, "W") * np.abs(s.F[0]).max()
        assert np.abs(values - expected).max() <= REACTION * scale, column


@pytest.mark.parametrize("id", DISCRETE)
def test_model_factor_covers_the_solid(id: str) -> None:
    """Source: three-dimensional finite elements. (1 + 0.3 t/d) is a fit of this project to them."""
    depth = json.loads(ROWS[id]["clamps"])[0]["d"]
    stress, _ = largest(id, ("load",), ("interior", *EDGES))
    factored = (1 + 0.3 * number(id, "t") / depth) * stress
    assert LOW_3D <= factored / number(id, "solid3d_sig1_load") - 1 <= HIGH_3D


@pytest.mark.parametrize("id", DISCRETE)
def test_without_the_factor_the_solid_is_above(id: str) -> None:
    """The factor is needed: the bare thin plate is low on the load face, by 1 to 7 %."""
    stress, _ = largest(id, ("load",), ("interior", *EDGES))
    assert -0.07 <= stress / number(id, "solid3d_sig1_load") - 1 <= -0.01


def test_channel_needs_no_factor() -> None:
    """Source: three-dimensional finite elements; a channel is within 1 % without the factor."""
    stress, _ = largest("P09", ("load",), ("interior", *EDGES))
    assert stress == pytest.approx(number("P09", "solid3d_sig1_load"), rel=STRESS)
