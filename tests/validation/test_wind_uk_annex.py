"""Wind by the UK annex of EN 1991-1-4: a steel institute's example, a worksheet, a scaffold guide's table."""

from __future__ import annotations

import pytest
from wind_places import TABLES, ratio, value
from wind_rows import of

from barrier.basis.en import wind

DIGITISED = 0.01  # relative; our table is read off contours, and agrees with the guide's within 1 % up to 10 m


def basic_speed(v_map: float, altitude: float, z: float = 4.0) -> wind.Value:
    c_alt = wind.ALTITUDE(A=value(f"{altitude} m"), z=value(f"{z} m", "length"))
    return wind.V_B_UK(c_dir=ratio(1), c_season=ratio(1), v_map=value(f"{v_map} m/s"), c_alt=c_alt)


def test_basic_speed_of_a_worksheet() -> None:
    row = of("UK-vb-24")
    row.agrees(float(basic_speed(row.given["v_b_map"], row.given["A"]).x))


def test_basic_pressure_by_its_closed_form() -> None:
    row = of("UK-qb-23-100")
    row.agrees(float(wind.Q_B_UK(v_b=basic_speed(row.given["v_b_map"], row.given["A"])).x) * 1e6)


def test_peak_pressure_of_a_steel_guide() -> None:
    """The guide's rounded speed, 22.1 x 1.105 as 24.4 m/s, and its exposure factor."""
    row = of("UK-qp-guide")
    assert float(basic_speed(row.given["v_b_map"], row.given["A"]).x) == pytest.approx(row.given["v_b"], abs=0.05)
    q_b = wind.Q_B_UK(v_b=value(f"{row.given['v_b']} m/s"))
    row.agrees(float(wind.Q_P_UK(c_e=ratio(row.given["c_e"]), q_b=q_b).x) * 1e6)


@pytest.mark.parametrize("id", ["UK-ce-2-100", "UK-ce-5-0.1", "UK-ce-10-100", "UK-ce-20-0.1"])
def test_exposure_of_a_scaffold_guide(id: str) -> None:
    """Cells of the guide; ours are its own at 2 m and from 20 m up, and read off contours between."""
    row = of(id)
    found = wind.exposure(TABLES, value(f"{row.given['z']} m", "length"), value(f"{row.given['sea_km']} km"))
    row.agrees(float(found.x), None if id in ("UK-ce-2-100", "UK-ce-20-0.1") else DIGITISED)


@pytest.mark.parametrize("id", ["UK-cet-5-2", "UK-cet-10-2"])
def test_exposure_in_a_town_of_a_scaffold_guide(id: str) -> None:
    row = of(id)
    z = value(f"{row.given['z']} m", "length")
    c_e, c_T = wind.exposure(TABLES, z, value(f"{row.given['sea_km']} km")), wind.town_factor(TABLES, z, value("2 km"))
    row.agrees(float(c_e.x) * float(c_T.x), DIGITISED)
