"""Wind by ASCE 7-16 and 7-22, chapters 26 and 29: public work sheets, a permit record, a public test set, public encodings."""

from __future__ import annotations

from typing import Any

import pytest
from wind_places import TABLES, answer, mean, ratio, site, value
from wind_rows import of

from barrier.basis import basis_named
from barrier.basis.us import wind
from barrier.units import LBF, UNITS
from barrier.value import JobEntry, Value

PSF = UNITS["psf"].factor
STRIPS = {"0-s": "0 to s", "s-2s": "s to 2s", "2s-3s": "2s to 3s"}


def q_with_direction(edition: str, **given: Any) -> float:
    """Velocity pressure with the directionality factor, which 7-22 has in the pressure, MPa."""
    exposure = given.pop("exposure")
    q_h = wind.velocity_pressure(TABLES, site(**given), edition, exposure)
    K_d = float(TABLES.value("wind_asce7_factors", "K_d").x)
    return float(q_h.x) * (K_d if edition == "7-22" else 1.0)


@pytest.mark.parametrize(
    ("id", "edition"),
    [("US-wall-qh", "7-16"), ("US-sign-q", "7-16"), ("US-house-q", "7-16"), ("US-22-wall-q", "7-22"), ("US-22-wall-q115", "7-22")],
)
def test_velocity_pressure_in_pounds(id: str, edition: str) -> None:
    """7-05 and 7-10 have the constants of 7-16."""
    row = of(id)
    z = row.given.get("z", row.given.get("h"))
    found = q_with_direction(edition, speed=f"{row.given['V']} mph", exposure=row.given["exposure"], top=f"{z} ft", metric=False)
    row.agrees(found / PSF)


@pytest.mark.parametrize("id", ["US-22-q-5", "US-22-q-6.5", "US-16-q-5", "US-16-q-6.5"])
def test_velocity_pressure_in_newtons(id: str) -> None:
    """A public test set in metres with the elevation of the ground."""
    row = of(id)
    g = row.given
    found = q_with_direction(
        row.row["code"].removeprefix("ASCE "), speed=f"{g['V_mps']} m/s", exposure=g["exposure"], top=f"{g['z_m'] * 1e3} mm",
        elevation=f"{g['elevation_m']} m", metric=True,
    )  # fmt: skip
    row.agrees(found * 1e6)


@pytest.mark.parametrize("id", ["US-Cf-1-1", "US-Cf-0.05-0.16", "US-Cf-45-0.16", "US-Cf-1-0.3", "US-Cf-45-0.5", "US-Cf-10-0.1"])
def test_cells_of_the_figure(id: str) -> None:
    row = of(id)
    row.agrees(float(wind.coefficient(TABLES, ratio(row.given["s_over_h"], "r_s"), ratio(row.given["B_over_s"])).x))


def test_the_coefficient_of_a_permit_record() -> None:
    """It took s/h = 1 for a rail twenty feet up; read with the true share the figure gives a quarter more."""
    row = of("US-permit-Cf")
    r_B = ratio(row.given["B"] / row.given["s"])
    row.agrees(float(wind.coefficient(TABLES, ratio(row.given["s_over_h"], "r_s"), r_B).x))
    assert float(wind.coefficient(TABLES, ratio(0.18, "r_s"), r_B).x) == pytest.approx(1.8, abs=0.01)


@pytest.mark.parametrize("id", ["US-CC-0-s-10", "US-CC-s-2s-2", "US-CC-2s-3s-5", "US-CC-s-2s-13"])
def test_cells_of_case_c(id: str) -> None:
    row = of(id)
    low = ratio(0.5, "r_s")
    row.agrees(float(wind.end_coefficient(TABLES, STRIPS[row.given["strip"]], low, ratio(row.given["B_over_s"])).x))


def test_case_c_of_a_public_wall_sheet() -> None:
    """B/s 12.5 between two columns, and a corner of a quarter of the height between two rows; the sheet has 7-05."""
    row = of("US-wall-C")
    g = row.given
    C = wind.end_coefficient(TABLES, "0 to s", ratio(0.23, "r_s"), ratio(g["B"] / g["s"]), ratio(g["Lr"] / g["s"]))
    q_h = Value(g["q_h"] * PSF, "pressure", JobEntry("test", "test"))
    row.agrees(float(wind.pressure(TABLES, "7-16", q_h, C).x) / PSF)


def test_six_tenths_for_allowable_stress() -> None:
    """A public sign sheet: 648 lb at strength level is 389 lb."""
    row = of("US-sign-ASD")
    factor = basis_named("us", "", TABLES).strength("wind").factor
    row.agrees(row.given["F"] * LBF * float(factor.x) / LBF)


def test_a_deck_mid_run() -> None:
    """3.5 ft of glass on a deck 8 ft up, in a run of 35 ft: 0.6 of 37.4 psf."""
    row = of("US-deck")
    g = row.given
    found = answer("us", wall=f"{g['s']} ft", top=f"{g['h']} ft", run="10.668 m", width="3.5 ft", from_end="4.8 m")
    assert [s.zone for s in found.strips] == ["mid-run, case A"]
    row.agrees(0.6 * mean(found) / 1e6 / PSF)
    assert float(value("35 ft").x) == pytest.approx(10668.0)
