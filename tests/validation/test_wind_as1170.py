"""Wind by AS/NZS 1170.2, appendix on free-standing walls, AS 4055 and NZS 3604: public pages and public readings."""

from __future__ import annotations

import pytest
from wind_places import TABLES, answer, mean, ratio, site, value
from wind_rows import of

from barrier.basis import basis_named
from barrier.basis.au import wind
from barrier.result import NotChecked

KILO = 1e3


def free_stream(key: str, **given: str) -> tuple[float, float]:
    """Ultimate and serviceability pressure before any coefficient, kN/m2."""
    found = basis_named(key, "", TABLES).free_stream(site(**given))
    assert not isinstance(found, NotChecked) and found[1] is not None
    return float(found[0].x) * KILO, float(found[1].x) * KILO


@pytest.mark.parametrize("id", ["AU-4055-N2", "AU-4055-N4", "AU-4055-N6"])
def test_ultimate_pressure_of_a_class(id: str) -> None:
    row = of(id)
    row.agrees(free_stream("au", wind_class=row.given["class"])[0])


@pytest.mark.parametrize("id", ["AU-4055s-N1", "AU-4055s-N4"])
def test_serviceability_pressure_of_a_class(id: str) -> None:
    row = of(id)
    row.agrees(free_stream("au", wind_class=row.given["class"])[1])


@pytest.mark.parametrize("id", ["NZ-3604-M", "NZ-3604-VH"])
def test_pressure_of_a_zone_of_new_zealand(id: str) -> None:
    row = of(id)
    row.agrees(free_stream("nz", zone=row.given["zone"])[0])


@pytest.mark.parametrize("id", ["AU-Cpn0-1-1", "AU-Cpn0-5-0.2", "AU-Cpn0-10-1", "AU-Cpn0-1-0.5", "AU-Cpn0-1-0.1"])
def test_coefficients_square_on(id: str) -> None:
    row = of(id)
    row.agrees(float(wind.square_on(TABLES, ratio(row.given["c_over_h"], "r_s"), ratio(row.given["b_over_c"], "r_b")).x))


@pytest.mark.parametrize(
    "id", ["AU-Cpn45-0.3-1", "AU-Cpn45-0.7-3", "AU-Cpn45-0.9-1", "AU-Cpn45-0.15-1", "AU-Cpn90-0.3-1", "AU-Cpn90-0.9-1"]
)
def test_coefficients_towards_an_end(id: str) -> None:
    """At one and at three heights of the wall: the first zone and the second."""
    row = of(id)
    column = {1: "first", 3: "second"}[row.given["x_over_c"]]
    found = wind.end_row(TABLES, str(row.given["theta"]), ratio(row.given["c_over_h"], "r_s")).value(column)
    assert found is not None
    row.agrees(float(found.x))


@pytest.mark.parametrize("id", ["AU-env-0.7-3", "AU-env-0.3-3", "AU-env-0.7-6"])
def test_the_worst_direction_along_a_run(id: str) -> None:
    """A sliver of glass at three and at six heights from the end; between 2c and 4c a raised wall has at least 1.5."""
    row = of(id)
    g, c = row.given, 1100.0
    # A run longer than five heights: how much longer it is does not come in.
    found = answer("au", top=f"{c / g['c_over_h']} mm", from_end=f"{g['x_over_c'] * c} mm", width="2 mm")
    row.agrees(mean(found) / (0.6 * 40**2))


def test_where_wind_overtakes_the_load_of_a_barrier() -> None:
    """A wind-tunnel paper: with a coefficient of 1.8 about 30 m/s bring 1 kN/m2; speed goes by the root of the pressure."""
    row = of("AU-breakeven")
    q = float(wind.SPEED(V_u=value(f"{row.expected} m/s")).x) * KILO
    row.agrees(row.expected * (row.given["q_barrier_kPa"] / (q * row.given["C_pn"])) ** 0.5)
