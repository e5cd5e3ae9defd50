"""ASTM E1300 allowable stress for other probabilities and durations: unit tests of a public library.

Base stress, coefficient of variation and duration exponent are those of our table.
"""

from __future__ import annotations

import pytest
from published import Example, glass, val

from barrier.basis.us import equations as us
from barrier.tables import Tables
from barrier.value import Value

PRINT = 5e-4  # the stresses are rounded to 0.001 MPa, the durations to 0.001 and 0.01
DIGITS = 3e-6  # the library's quantiles keep six digits
ROWS = Tables().table("astm_e1300_allowable")
SECONDS = {"10 yr": 10 * 365.25 * 86400, "12 h": 12 * 3600.0}
PLACES = {"AN": "annealed", "HS": "heat-strengthened", "FT": "toughened"}


def of(kind: str, column: str, place: str = "edge") -> Value:
    value = ROWS.row(f"{PLACES[kind]} {place}").value(column)
    assert value is not None
    return value


def probability_factor(V: Value, P: float) -> Value:
    z_P, z_8 = (us.deviations_below(val(p, "ratio")) for p in (P, 0.008))
    return us.GLASS_PROBABILITY(V=V, z_P=z_P, z_8=z_8)


@pytest.mark.parametrize(
    "example,kind",
    [
        (glass("WE08", "FT edge allowable, Pb 1/1000, 3 s"), "FT"),
        (glass("WE08", "AN edge allowable, Pb 1/1000, 3 s"), "AN"),
    ],
    ids=["toughened", "annealed"],
)
def test_allowable_at_an_edge(example: Example, kind: str) -> None:
    F_8, V = of(kind, "stress"), of(kind, "cov")
    assert (F_8.x, V.x) == (example.given["base"], example.given["cv"])
    k_t = us.GLASS_DURATION(t_s=val(3.0, "count"), n=of(kind, "n"))
    example.agrees(
        us.GLASS_ALLOWABLE(k_P=probability_factor(V, example.given["Pb"]), k_t=k_t, k_s=val(1.0, "ratio"), F_8=F_8).x, PRINT
    )


@pytest.mark.parametrize(
    "example,kind,P",
    [
        (glass("WE08", "AN prob factor 1/1000"), "AN", 0.001),
        (glass("WE08", "AN prob factor 5/1000"), "AN", 0.005),
        (glass("WE08", "HS prob factor 1/1000"), "HS", 0.001),
        (glass("WE08", "HS prob factor 3/1000"), "HS", 0.003),
    ],
)
def test_probability_factor(example: Example, kind: str, P: float) -> None:
    V = of(kind, "cov")
    assert V.x == example.given["cv"]
    example.agrees(probability_factor(V, P).x, DIGITS)


@pytest.mark.parametrize(
    "example,duration,rounded",
    [(glass("WE08", "AN duration 10 yr"), "10 yr", 5e-4), (glass("WE08", "AN duration 12 h"), "12 h", 5e-3)],
)
def test_duration_factor(example: Example, duration: str, rounded: float) -> None:
    n = of("AN", "n")
    assert n.x == example.given["n"]
    example.agrees(us.GLASS_DURATION(t_s=val(SECONDS[duration], "count"), n=n).x, rounded)


@pytest.mark.parametrize("P", [0.0, 1.0, -0.1, float("nan")])
def test_a_probability_outside_0_to_1_is_refused(P: float) -> None:
    with pytest.raises(ValueError, match="probability of breakage"):
        us.deviations_below(val(P, "ratio"))
