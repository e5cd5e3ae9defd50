"""Published worked examples by their id, and the two comparisons every one of them gets.

The rows are kept as they were published: ``expected`` is the print, ``recomputed`` the same example worked again by
other means, which shows where a print rounds its intermediate results.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from barrier.value import JobEntry, Number, Value

DATA = Path(__file__).parents[1] / "data"
RECOMPUTED = 5e-5  # the recomputed figures are kept to five or six digits


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a file of tests/data."""
    with (DATA / f"{name}.csv").open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


class Example:
    """One row: inputs, print, and the recomputed figure."""

    def __init__(self, row: dict[str, str]) -> None:
        self.row = row
        self.given: dict[str, Any] = json.loads(row["inputs_json"])
        self.printed, self.recomputed = float(row["expected"]), float(row["recomputed"])

    def agrees(self, found: Number, print_within: float | None) -> None:
        """``found``, in the unit of the print, is the recomputed figure, and the print within its rounding.

        ``print_within`` is None where the print itself is off; the test then says why.
        """
        assert found == pytest.approx(self.recomputed, rel=RECOMPUTED)
        if print_within is not None:
            assert abs(float(found) - self.printed) <= print_within


def timber(id: str) -> Example:
    """A row of worked_examples_timber.csv."""
    return next(Example(r) for r in rows("worked_examples_timber") if r["id"] == id)


def glass(id: str, quantity: str) -> Example:
    """A row of worked_examples_glass_and_loads.csv, where one id has several quantities."""
    found = [r for r in rows("worked_examples_glass_and_loads") if r["id"] == id and r["quantity"] == quantity]
    assert len(found) == 1, f"{id} {quantity}: {len(found)} rows"
    return Example(found[0])


def glass_rows(id: str) -> list[Example]:
    """All rows of an id of worked_examples_glass_and_loads.csv."""
    return [Example(r) for r in rows("worked_examples_glass_and_loads") if r["id"] == id]


def val(x: float, kind: str, symbol: str = "") -> Value:
    """A number of an example as the project's equations take it, in base units."""
    return Value(float(x), kind, JobEntry("example", f"{x}"), symbol)
