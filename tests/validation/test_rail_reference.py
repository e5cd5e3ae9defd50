"""A rail over a run of panels, whole and with a panel lost, against seven runs solved by other means.

Source: tests/data/rail_reference.csv, computed for this project: panels by independent finite elements (Argyris triangles),
rail by Hermite elements, one sparse system, two meshes; each row with its own error estimate. No published table gives this.
The figures that the tests hold are those of the finite elements, not of the splines (columns ``spline_*``).
"""

from __future__ import annotations

import csv
import json
import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from barrier.mechanics.plate import FIXED, Clamp, Pad, Plate, diagonal_base
from barrier.mechanics.rail import Rail, RailRun, RunLoad, RunPanel, RunSolution

DATA = Path(__file__).parent.parent / "data" / "rail_reference.csv"
csv.field_size_limit(1_000_000)
ROWS = {row["id"]: row for row in csv.DictReader(DATA.open(encoding="utf-8"))}

MOMENT, FORCE, DEFLECTION, CONNECTION, PEAK = 0.005, 0.001, 0.001, 0.01, 0.01


def panel(start: float, of: dict[str, object]) -> RunPanel:
    glass = Plate(float(of["W"]), float(of["H"]), float(of["t"]), 70_000, 0.23)  # type: ignore[arg-type]
    clamps, bases = [], []
    for c in of["clamps"]:  # type: ignore[attr-defined]
        clamps.append(Clamp(c["xc"], (Pad(c["xc"] - c["b"] / 2, c["xc"] + c["b"] / 2, 0.0, c["d"], c["k"]),)))
        bases.append(FIXED if c["base"] == "fixed" else diagonal_base(*c["base"]))
    return RunPanel(start, glass, tuple(clamps), tuple(bases))


def end(word: str | float) -> float:
    return {"free": 0.0, "pin": math.inf}[word] if isinstance(word, str) else float(word)


@cache
def solved(id: str) -> RunSolution:
    row = ROWS[id]
    panels = [panel(s, p) for s, p in zip(json.loads(row["starts"]), json.loads(row["panels"]), strict=True)]
    left, right = json.loads(row["ends"])
    a, b = float(row["rail_from"]), float(row["rail_to"])
    rail = Rail(a, b, float(row["EI_Nmm2"]), float(row["k_r_N_mm2"]), end(left), end(right), tuple(json.loads(row["splices"])))
    q = float(row["q_N_mm"])
    lines = ((q, a, b),) if q else ()
    load = RunLoad(lines, tuple((float(P), float(s)) for s, P in json.loads(row["points_s_N"])))
    return RailRun(panels, rail).solve([load], lost=json.loads(row["lost"]))


def number(id: str, column: str) -> float:
    return float(ROWS[id][column])


@pytest.mark.parametrize("id", ROWS)
def test_moment_of_the_rail(id: str) -> None:
    s = solved(id)
    assert abs(s.extreme()[0][0]) == pytest.approx(abs(number(id, "M_rail")), rel=MOMENT)
    largest = abs(number(id, "M_rail"))
    assert s.extreme(+1)[0][0] == pytest.approx(number(id, "M_rail_most_positive"), abs=MOMENT * largest)
    assert s.extreme(-1)[0][0] == pytest.approx(number(id, "M_rail_most_negative"), abs=MOMENT * largest)


@pytest.mark.parametrize("id", ROWS)
def test_movement_of_the_rail(id: str) -> None:
    s = solved(id)
    assert abs(s.largest_deflection[0][0]) == pytest.approx(abs(number(id, "v_rail")), rel=DEFLECTION)
    ends = s.deflection(np.array([s.rail.start, s.rail.end]))[:, 0]
    assert ends == pytest.approx(json.loads(ROWS[id]["v_at_ends"]), abs=DEFLECTION * abs(number(id, "v_rail")))


@pytest.mark.parametrize("id", ROWS)
def test_what_the_ends_hold(id: str) -> None:
    scale = max(abs(x) for x in [*json.loads(ROWS[id]["end_reactions_N"]), 1.0])
    assert solved(id).ends[:, 0] == pytest.approx(json.loads(ROWS[id]["end_reactions_N"]), abs=FORCE * scale)


@pytest.mark.parametrize("id", ROWS)
@pytest.mark.parametrize(("column", "of"), [("F", "F"), ("Mx_y0", "Mx"), ("Mz_xc", "Mz")])
def test_action_on_every_clamp(id: str, column: str, of: str) -> None:
    expected = json.loads(ROWS[id][column])
    found = [getattr(solved(id).panels[p], of)[0].tolist() for p in json.loads(ROWS[id]["panels_left"])]
    scale = max(abs(x) for row in expected for x in row)
    for one, other in zip(found, expected, strict=True):
        assert one == pytest.approx(other, abs=FORCE * scale)


@pytest.mark.parametrize("id", ROWS)
def test_connection(id: str) -> None:
    """The rail on each panel in all, and the peak at its place; the peak means nothing without k_r."""
    expected = json.loads(ROWS[id]["rail_on_panel_N"])
    panels = json.loads(ROWS[id]["panels_left"])
    scale = max(abs(x) for x in expected)
    assert [solved(id).panels[p].from_rail[0] for p in panels] == pytest.approx(expected, abs=FORCE * scale)
    peaks = [abs(a.largest_connection[0]) for a in solved(id).panels.values()]
    assert max(peaks) == pytest.approx(abs(number(id, "r_max_N_mm")), rel=CONNECTION)


@pytest.mark.parametrize("id", ROWS)
@pytest.mark.parametrize(("column", "face"), [("sig1_load_face", "load"), ("sig1_back_face", "back")])
def test_stress_of_the_glass(id: str, column: str, face: str) -> None:
    for p, (stress, _, _) in zip(json.loads(ROWS[id]["panels_left"]), json.loads(ROWS[id][column]), strict=True):
        zones = solved(id).panels[p].plate.peaks(edge_band=0.0)[face]  # type: ignore[index]
        assert max(z.stress[0] for z in zones.values()) == pytest.approx(stress, rel=PEAK)


@pytest.mark.parametrize("id", ROWS)
def test_equilibrium(id: str) -> None:
    assert solved(id).residual[0] < 1e-8
