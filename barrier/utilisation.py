"""Demand over resistance, and which of several governs: of what is equal but for rounding the first, on every machine."""

from __future__ import annotations

from typing import Any

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.value import Value

TIE = 1e-6  # stations closer than this are a tie, and the first one governs: the same sheet on every machine


def governing(values: Any) -> int:
    """Index of the largest value; values within :data:`TIE` of it are a tie and the first of them governs.

    >>> governing([0.5, 0.9, 0.9000000001])
    1
    """
    x = np.asarray(values, dtype=float)
    top = float(x.max())
    if top != top:
        raise ValueError(f"the largest of {x.tolist()}: one is no number")
    return int((x >= top - TIE * max(abs(top), TIE)).argmax())


def tied(x: float) -> float:
    """A number to sort by: what differs by rounding only is equal, so that the first one stays first on every machine.

    >>> tied(0.9) == tied(0.9000000001), tied(float("inf"))
    (True, inf)
    """
    return float(f"{x:.5e}")


UTILISATION = Equation(
    Symbol("eta", "ratio"),
    "E_d / R_d",
    symbols("E_d:ratio, R_d:ratio"),
    "definition of utilisation",
    "computed",
)
_BY_KIND: dict[tuple[str, str, str], Equation] = {}


def utilisation(demand: Value, resistance: Value, text: str = "E_d / R_d") -> Value:
    """Demand over resistance as an equation that prints itself, in the names the two are known by."""
    e, r = demand.symbol or "E_d", resistance.symbol or "R_d"
    key = (e, r, demand.kind)
    if key not in _BY_KIND:
        _BY_KIND[key] = Equation(
            Symbol("eta", "ratio"),
            f"{e} / {r}",
            (Symbol(e, demand.kind), Symbol(r, resistance.kind)),
            "utilisation: demand over resistance",
            "computed",
        )
    return _BY_KIND[key](**{e: demand, r: resistance})
