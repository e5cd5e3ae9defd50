"""Panels in the wind, for the tests: values without a job, and what a family answers."""

from __future__ import annotations

import math
from typing import Any

from barrier.basis import Strip, WindOnPanel, WindSite, basis_named
from barrier.tables import Tables
from barrier.units import UNITS
from barrier.value import JobEntry, Value

TABLES = Tables()
KIND = {"mm": "length", "m": "distance", "km": "distance", "ft": "length", "m/s": "speed", "mph": "speed"}
DECK = {"wall": "1100 mm", "top": "3500 mm", "width": "1200 mm", "hill": False}
PLACES: dict[str, tuple[str, str, dict[str, Any]]] = {
    "uk": ("en", "uk", {"map_speed": "23 m/s", "altitude": "100 m", "distance_to_sea": "10 km"}),
    "germany": ("en", "", {"zone": "2", "coast": "inland"}),
    "other": ("en", "", {"basic_speed": "25 m/s", "terrain": "II"}),
    "us": ("us", "", {"speed": "115 mph", "exposure": "C", "metric": False}),
    "us 7-16": ("us", "", {"speed": "115 mph", "exposure": "C", "edition": "7-16", "metric": False}),
    "au": ("au", "", {"wind_class": "N2"}),
    "au speed": ("au", "", {"design_speed": "42 m/s", "service_speed": "30 m/s"}),
    "nz": ("nz", "", {"zone": "H"}),
}  # fmt: skip


def value(text: str, kind: str = "") -> Value:
    """A quantity with its unit, in base units."""
    number, _, unit = text.partition(" ")
    return Value(float(number) * UNITS[unit].factor, kind or KIND[unit], JobEntry("test", text))


def ratio(x: float, symbol: str = "") -> Value:
    return Value(float(x), "ratio", JobEntry("test", f"{x}"), symbol)


def site(**given: Any) -> WindSite:
    """A site from texts with units; words, truths and None as they are."""
    words = ("zone", "coast", "terrain", "exposure", "edition", "wind_class")
    return WindSite(**{k: value(v) if isinstance(v, str) and k not in words else v for k, v in (DECK | given).items()})


def answer(place: str, **given: Any) -> WindOnPanel:
    """What the family of a place answers for the usual deck with changes; it must answer."""
    key, national, entries = PLACES[place]
    found = basis_named(key, national, TABLES).wind(site(**(entries | given)))
    assert isinstance(found, WindOnPanel), found
    return found


def pressure(strip: Strip) -> float:
    """N/m2."""
    return float(strip.pressure.x) * 1e6


def mean(found: WindOnPanel) -> float:
    """Mean pressure over the panel, N/m2."""
    return sum(pressure(s) * (s.x1 - s.x0) for s in found.strips) / found.strips[-1].x1


def at(found: WindOnPanel, x: float) -> float:
    """Pressure at a place of the panel, N/m2."""
    return next(pressure(s) for s in found.strips if s.x0 <= x <= s.x1)


def same(a: float, b: float) -> bool:
    return math.isclose(a, b, rel_tol=1e-9)
