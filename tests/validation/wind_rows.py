"""The rows of tests/data/wind_examples.csv by their id: published answers, cells of tables, and a few of our own."""

from __future__ import annotations

import json
from typing import Any

import pytest
from published import rows


class WindRow:
    """One row: inputs, answer, unit, the tolerance its print allows."""

    def __init__(self, id: str) -> None:
        self.row = next(r for r in rows("wind_examples") if r["id"] == id)
        self.given: dict[str, Any] = json.loads(self.row["inputs"])
        self.expected, self.rel = float(self.row["expected"]), float(self.row["rel_tol"])

    def agrees(self, found: float, rel: float | None = None) -> None:
        """``found``, in the unit of the row, within its tolerance; ``rel`` where the test says why another."""
        assert found == pytest.approx(self.expected, rel=rel or self.rel), self.row["id"]


def of(id: str) -> WindRow:
    """A row by its id."""
    return WindRow(id)
