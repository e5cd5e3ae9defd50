"""Wind by EN 1991-1-4: worked examples and tests in public, cells of Table 7.9 by five public readings."""

from __future__ import annotations

import math

import pytest
from wind_places import TABLES, answer, ratio, value
from wind_rows import of

from barrier.basis.en import wind
from barrier.value import JobEntry, Value

RHO = TABLES.value("wind_air", "en", "rho")
FLAT = ratio(1.0, "c_o")


def terrain(name: str) -> tuple[Value, Value]:
    row = TABLES.table("wind_en_terrain").row(name)
    z_0, z_min = row.value("z_0"), row.value("z_min")
    assert z_0 is not None and z_min is not None
    return z_0, z_min


def peak(v_b: float, z: float, name: str, rho: Value = RHO) -> float:
    z_0, z_min = terrain(name)
    return float(wind.peak_pressure(value(f"{v_b} m/s"), value(f"{z} m", "length"), z_0, z_min, FLAT, rho).x) * 1e6


def test_a_public_example_in_terrain_three() -> None:
    """k_r, v_m and q_p of a public worked example, 22 m/s at 7.02 m."""
    row = of("EN-III-7.02-k_r")
    z_0, z_min = terrain(row.given["terrain"])
    k_r = wind.K_R(z_0=z_0)
    row.agrees(float(k_r.x))
    z = value(f"{row.given['z']} m", "length")
    c_r = wind.C_R(k_r=k_r, z=z, z_min=z_min, z_0=z_0)
    of("EN-III-7.02-v_m").agrees(float(wind.V_M(c_r=c_r, c_o=FLAT, v_b=value("22 m/s")).x))
    of("EN-III-7.02-q_p").agrees(peak(22, 7.02, "III"))


def test_a_public_example_higher_up() -> None:
    """c_r and I_v of the same example at 13.48 m, rounded in print."""
    row = of("EN-III-13.48-c_r")
    z_0, z_min = terrain(row.given["terrain"])
    z = value(f"{row.given['z']} m", "length")
    row.agrees(float(wind.C_R(k_r=wind.K_R(z_0=z_0), z=z, z_min=z_min, z_0=z_0).x))
    of("EN-III-13.48-I_v").agrees(float(wind.I_V(c_o=FLAT, z=z, z_min=z_min, z_0=z_0).x))


def test_a_guide_to_steel_buildings() -> None:
    """Basic pressure and exposure factor of a European guide at 8 m; it rounds k_r."""
    row = of("EN-III-8-q_b")
    q_b = wind.Q_B(rho=RHO, v_b=value(f"{row.given['v_b']} m/s"))
    row.agrees(float(q_b.x) * 1e6)
    q_p = Value(peak(26, 8, "III") / 1e6, "pressure", JobEntry("test", "test"))
    of("EN-III-8-c_e").agrees(float(wind.C_E(q_p=q_p, q_b=q_b).x))


def test_a_validation_report_with_its_own_density() -> None:
    row = of("EN-qp-2")
    rho = Value(row.given["rho"], "density", JobEntry("test", "test"))
    row.agrees(peak(row.given["v_b"], row.given["z"], row.given["terrain"], rho))


@pytest.mark.parametrize("id", ["EN-wall-B", "EN-wall-D"])
def test_a_wall_on_a_roof(id: str) -> None:
    """A public test of a free-standing wall: a wind of five years, worked here by 4.2 (4.2) with K 0.2 and n 0.5."""
    row = of(id)
    given = row.given
    p = 1 / given["T"]
    c_prob = ((1 - 0.2 * math.log(-math.log(1 - p))) / (1 - 0.2 * math.log(-math.log(0.98)))) ** 0.5
    q_p = peak(given["v_b0"] * c_prob, given["h_base"] + given["h"], given["terrain"])
    row.agrees(q_p * float(wind.coefficient(TABLES, given["zone"], ratio(given["l"] / given["h"])).x))


@pytest.mark.parametrize(
    "id",
    ["EN-T79-A-5-0", "EN-T79-B-10-0", "EN-T79-D-10-0", "EN-T79-C-5-0", "EN-T79-B-20-1", "EN-T79-A-2-0",
     "EN-T79-int-A-4-0", "EN-T79-int-B-7.5-0", "EN-T79-int-B-3-1"],
)  # fmt: skip
def test_cells_of_table_7_9_and_between_them(id: str) -> None:
    row = of(id)
    corner = row.given["return_over_h"]
    found = wind.coefficient(TABLES, row.given["zone"], ratio(row.given["l_over_h"]), ratio(corner) if corner else None)
    row.agrees(float(found.x))


def test_the_mean_over_the_second_panel() -> None:
    """0.8 of zone B and 0.2 of zone C's length over a panel from 1.2 to 2.4 m, on the ground so that Table 7.9 stands alone."""
    row = of("EN-panel-2")
    start, end = row.given["from_end"]
    found = answer("other", from_end=f"{start} m", width=f"{(end - start) * 1e3} mm", top="1100 mm", open_below=False)
    free = answer("other", from_end="100 m", top="1100 mm", open_below=False).strips[0].pressure  # zone D, 1.2
    mean = sum(float(s.pressure.x) * (s.x1 - s.x0) for s in found.strips) / found.strips[-1].x1
    row.agrees(mean / float(free.x) * 1.2)
