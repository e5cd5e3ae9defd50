"""Torsion of a rectangle against printed tables.

W20, W21: the standard table of alpha and beta (Timoshenko; read in public copies), three decimals. W22: Roark's formula
K = a b³ (16/3 - 3.36 b/a (1 - b⁴/12a⁴)), half sides a, b, table 10.1 case 4, within its own 0.2 %. And a table of the
series computed for this project beforehand, five decimals.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from barrier.mechanics.torsion import alpha, beta, constant

DATA = Path(__file__).parents[1] / "data"
THIRD = 0.0005 + 1e-12  # half a unit of the third decimal
FIFTH = 0.000005 + 1e-12
SERIES = 1e-5  # other answers are kept to six figures
ROARK = 2e-3  # the formula is a fit

with (DATA / "worked_examples_mount.csv").open(newline="") as _file:
    ROWS = {r["id"]: r for r in csv.DictReader(_file)}
with (DATA / "torsion_rectangle.csv").open(newline="") as _file:
    TABLE = list(csv.DictReader(_file))

BETA = [i for i in ROWS if i.startswith("W20_")]
ALPHA = [i for i in ROWS if i.startswith("W21_")]
FIT = [i for i in ROWS if i.startswith("W22_")]


def ratio(id: str) -> float:
    return float(json.loads(ROWS[id]["inputs"])["h_over_b"])


@pytest.mark.parametrize("id", BETA)
def test_beta(id: str) -> None:
    found = float(beta(ratio(id), 1.0))
    assert found == pytest.approx(float(ROWS[id]["expected"]), abs=THIRD)
    assert found == pytest.approx(float(ROWS[id]["recomputed"]), rel=SERIES)


@pytest.mark.parametrize("id", ALPHA)
def test_alpha(id: str) -> None:
    found = float(alpha(ratio(id), 1.0))
    assert found == pytest.approx(float(ROWS[id]["expected"]), abs=THIRD)
    assert found == pytest.approx(float(ROWS[id]["recomputed"]), rel=SERIES)


@pytest.mark.parametrize("id", FIT)
def test_roark(id: str) -> None:
    """The row gives J / b⁴ for sides h = ratio, b = 1."""
    found = float(constant(ratio(id), 1.0))
    assert found == pytest.approx(float(ROWS[id]["recomputed"]), rel=SERIES)
    assert found == pytest.approx(float(ROWS[id]["expected"]), rel=ROARK)


@pytest.mark.parametrize("row", TABLE, ids=[r["a_over_b"] for r in TABLE])
def test_series(row: dict[str, str]) -> None:
    a = float(row["a_over_b"])
    assert float(alpha(a, 1.0)) == pytest.approx(float(row["alpha_series"]), abs=FIFTH)
    assert float(beta(a, 1.0)) == pytest.approx(float(row["beta_series"]), abs=FIFTH)
    if row["alpha_published"]:
        assert float(alpha(a, 1.0)) == pytest.approx(float(row["alpha_published"]), abs=THIRD)
        assert float(beta(a, 1.0)) == pytest.approx(float(row["beta_published"]), abs=THIRD)


def test_rows_are_here() -> None:
    assert (len(BETA), len(ALPHA), len(FIT), len(TABLE)) == (9, 5, 3, 24)
