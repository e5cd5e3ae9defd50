"""Layered limit of laminated glass on clamps against layered 3-D solids.

Source: layered solid finite elements (quadratic hexahedra, own error about 0.3 %) computed for this project; two layers of
10 mm with an interlayer of 1.52 mm, tests/data/laminate_reference.csv. The layered limit is what the tool decides by: on
clamps it must not be below the solids by more than the model factor leaves, whatever the interlayer, and close to them where the
interlayer is soft.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from barrier.links.glass.glass import LAYER_STRESS, MODEL_FACTOR
from barrier.links.glass.panel_solution import LAYER_SHARE, LAYERED
from barrier.mechanics.plate import FIXED, Clamp, LineLoad, Pad, Plate, PlateModel
from barrier.value import JobEntry, Value

ROWS = list(csv.DictReader((Path(__file__).parents[1] / "data" / "laminate_reference.csv").open(encoding="utf-8")))
GIVEN = JobEntry("reference", "reference")
BELOW = 0.01  # the model factor leaves -0.6 % at worst over its own 24 cases; 1 % with the solids' own error
SOFT = 0.04  # tolerance aimed at for laminates, at the softest interlayer (G = 0.3 MPa) on clamps


def layered(row: dict[str, str]) -> tuple[float, float]:
    """Peak stress on the load face and movement of the top edge at the layered limit."""
    t = Value(10.0, "length", GIVEN)
    h_w = LAYERED(h_1=t, h_2=t)
    pads = [dict(p.split("=") for p in pad.split()) for pad in row["pads"].split("; ")]
    k = float(row["k_pad_N_mm3"])
    clamps = []
    for p in pads:
        x, half, d = float(p["xc"]), float(p["b"]) / 2, float(p["d"])
        clamps.append(Clamp(x, (Pad(x - half, x + half, 0, d, k),)))
    plate = Plate(float(row["W_mm"]), float(row["H_mm"]), float(h_w.x), float(row["E_MPa"]), float(row["nu"]))
    solution = PlateModel(plate, clamps, [LineLoad(0.75, 1200.0)]).solve([FIXED] * len(clamps))
    sigma_w = Value(float(solution.peaks(0.0)["load"]["interior"].stress[0]), "stress", GIVEN)
    sigma = LAYER_STRESS(s_l=LAYER_SHARE(h_1=t, h_w=h_w), sigma_w=sigma_w)
    if row["support"] != "channel":
        depth = Value(float(pads[0]["d"]), "length", GIVEN)
        sigma = MODEL_FACTOR(t=t, d_p=depth, sigma_plate=sigma)
    return float(sigma.x), float(solution.top_deflection[0])


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['support']}, G = {r['G_interlayer_MPa']}")
def test_the_layered_limit_is_not_below_the_solids(row: dict[str, str]) -> None:
    stress, movement = layered(row)
    assert stress >= float(row["peak_principal_stress_load_face_MPa"]) * (1 - BELOW)
    assert movement >= float(row["w_top_max_mm"])


def test_it_is_close_where_the_interlayer_is_soft_and_clamps_are_few() -> None:
    row = next(r for r in ROWS if r["support"] == "2 clamps" and r["G_interlayer_MPa"] == "0.3")
    stress, _ = layered(row)
    assert stress == pytest.approx(float(row["peak_principal_stress_load_face_MPa"]), rel=SOFT)
