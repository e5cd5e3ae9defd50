"""AS 4055 wind classes: pressure of the gust speed, half the density of air times its square, on a public page."""

from __future__ import annotations

import pytest
from published import RECOMPUTED, Example, glass_rows
from wind_places import TABLES, site

from barrier.basis import basis_named
from barrier.result import NotChecked

PRINT = 0.0051  # kN/m2, rounded to 0.01; N4 is printed as 2.23 and N1 as 0.69


@pytest.mark.parametrize("example", glass_rows("WE10"), ids=lambda e: e.given["cls"])
def test_ultimate_pressure(example: Example) -> None:
    found = basis_named("au", "", TABLES).free_stream(site(wind_class=example.given["cls"]))
    assert not isinstance(found, NotChecked)
    kilonewtons = float(found[0].x) * 1e3
    assert kilonewtons == pytest.approx(example.printed, abs=PRINT)
    assert kilonewtons == pytest.approx(example.recomputed, rel=10 * RECOMPUTED)  # kept to three decimals
    assert kilonewtons == pytest.approx(example.given["rho"] * example.given["V"] ** 2 / 2 / 1e3, rel=1e-12)
