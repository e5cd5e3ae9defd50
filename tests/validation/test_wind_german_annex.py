"""Wind by the German annex of EN 1991-1-4: a public test of the profile high up, and its first equation by hand."""

from __future__ import annotations

import pytest
from wind_places import TABLES, value
from wind_rows import of

from barrier.basis.en import wind
from barrier.value import Value


@pytest.mark.parametrize("id", ["DE-6-inland", "DE-80"])
def test_profiles(id: str) -> None:
    row = of(id)
    z = value(f"{row.given['z']} m", "length")
    found = wind.german_pressure(TABLES, str(row.given["zone"]), row.given["profile"], z)
    assert isinstance(found, Value)
    row.agrees(float(found.x) * 1e6)


@pytest.mark.parametrize(("coast", "height"), [("inland", 7.0), ("coast", 4.0), ("island", 2.0)])
def test_the_equations_of_a_profile_join(coast: str, height: float) -> None:
    """Where one equation takes over from another they are within 1 % of one another: a wrong exponent or factor is not."""
    below, above = (wind.german_pressure(TABLES, "2", coast, value(f"{z} m", "length")) for z in (height, height * (1 + 1e-9)))
    assert isinstance(below, Value) and isinstance(above, Value)
    assert float(above.x) == pytest.approx(float(below.x), rel=0.01)


@pytest.mark.parametrize(
    ("zone", "coast", "printed"),
    [("1", "inland", 0.50), ("2", "inland", 0.65), ("3", "inland", 0.80), ("4", "inland", 0.95),
     ("2", "coast", 0.85), ("3", "coast", 1.05), ("4", "coast", 1.25)],
)  # fmt: skip
def test_the_simplified_table_bounds_the_profile(zone: str, coast: str, printed: float) -> None:
    """Table NA.B.3, one constant pressure for buildings up to 10 m (one reading and memory): the profile at 10 m, rounded."""
    found = wind.german_pressure(TABLES, zone, coast, value("10 m", "length"))
    assert isinstance(found, Value)
    assert float(found.x) * 1e3 == pytest.approx(printed, rel=0.1)
