"""Australia and New Zealand: loads, wind, glass and the one fastener value a reader can bring, by hand arithmetic.

Sources are named at each check; values from memory are said to be so in the tables.
"""

from __future__ import annotations

import math

import pytest
from conftest import EXAMPLES

from barrier.basis import basis_named
from barrier.basis.family import Glass, Screw, Timber
from barrier.job import read_job
from barrier.load_path import check
from barrier.result import Ending, Lack, NotChecked
from barrier.tables import Tables
from barrier.value import JobEntry, Value

AU = basis_named("au", "", Tables())
NZ = basis_named("nz", "", Tables())
EXACT = 1e-12  # relative; the same arithmetic


def given(x: float, kind: str) -> Value:
    return Value(x, kind, JobEntry("test", "test"))


def au_deck() -> object:
    return read_job(next(p for p in EXAMPLES if p.stem == "au_deck"))


def glass(kind: str, location: str, t: float = 11.7, surface: str = "float") -> float:
    found = AU.glass_strength(Glass(kind, surface, "polished", given(t, "length")), location, AU.strength("barrier"))  # type: ignore[arg-type]
    assert isinstance(found, Value)
    return float(found.x)


def test_toughened_glass_by_hand() -> None:
    """AS 1288-2021 section 3, figures of the tables: 0.67 x 2.5 x 1 x 1 x (-9.85 ln t + 71.34)."""
    assert glass("toughened", "face") == pytest.approx(0.67 * 2.5 * (-9.85 * math.log(11.7) + 71.34), rel=EXACT)
    assert glass("toughened", "edge") == pytest.approx(0.67 * 2.5 * (-7.88 * math.log(11.7) + 57.07), rel=EXACT)


def test_the_direction_of_every_glass_factor() -> None:
    """An edge is weaker than a face, thick glass weaker per area, sand takes strength away, treatment adds it."""
    assert glass("toughened", "edge") < glass("toughened", "face")
    assert glass("toughened", "face", 18.0) < glass("toughened", "face", 9.7)
    assert glass("annealed", "face") < glass("heat-strengthened", "face") < glass("toughened", "face")
    assert glass("toughened", "face", surface="sandblasted") < glass("toughened", "face")


@pytest.mark.parametrize("kind", ["toughened", "annealed"])
def test_longer_is_weaker(kind: str) -> None:
    from dataclasses import replace

    short = AU.strength("barrier")
    found = []
    for duration in ("short", "medium", "long"):
        value = AU.glass_strength(
            Glass(kind, "float", "polished", given(11.7, "length")), "face", replace(short, duration=duration)
        )
        assert isinstance(value, Value)
        found.append(float(value.x))
    assert found == sorted(found, reverse=True) and found[2] < found[0]


def test_loads_of_a_balcony() -> None:
    """AS/NZS 1170.1:2002 Table 3.3, category C3: 0.75 kN/m across and down, 0.6 kN, 1.0 kN/m2, 0.5 kN on 2,000 mm2."""
    found = AU.actions("C3")
    assert not isinstance(found, NotChecked)
    size = {a.id: float(a.size.x) for a in found}
    assert size == {"line": 0.75, "point": 600.0, "infill": 1e-3, "vertical": 0.75, "infill point": 500.0}
    patch = next(a for a in found if a.id == "infill point")
    assert patch.side is not None and float(patch.side.x) == pytest.approx(math.sqrt(2000.0), rel=EXACT)
    assert float(AU.strength("barrier").factor.x) == 1.5 and float(AU.strength("wind").factor.x) == 1.0


def test_new_zealand_has_its_own_loads_and_says_what_it_lacks() -> None:
    """NZBC B1/VM1, one secondary copy: 0.75 kN/m, 0.6 kN, 0.5 kN/m2, 0.25 kN for the deck of a dwelling."""
    found = NZ.actions("domestic_deck")
    assert not isinstance(found, NotChecked)
    assert {a.id: float(a.size.x) for a in found} == {"line": 0.75, "point": 600.0, "infill": 0.5e-3, "infill point": 250.0}
    glass_there = NZ.glass_strength(Glass("toughened", "float", "polished", given(11.7, "length")), "face", NZ.strength("barrier"))
    assert isinstance(glass_there, NotChecked) and "NZS 4223" in glass_there.text


def test_withdrawal_needs_a_value_of_the_reader() -> None:
    """AS 1720.1-2010 4.3.3, from memory: phi k_13 l_p Q_k; end grain is weaker; without Q_k it is not checked."""
    timber = Timber({"au": "MGP12"}, 3)
    length, one = given(60.0, "length"), given(2.0, "count")
    bare = AU.withdrawal(Screw(given(8.0, "length"), None, None), timber, length, one, AU.strength("barrier"))
    assert isinstance(bare, NotChecked) and bare.lack is Lack.INPUT and "licensed copy" in bare.text
    side, end = (
        AU.withdrawal(
            Screw(given(8.0, "length"), None, None, end_grain=grain, Q_k=given(70.0, "withdrawal")), timber, length, one,
            AU.strength("barrier"),
        )
        for grain in (False, True)
    )  # fmt: skip
    assert isinstance(side, Value) and isinstance(end, Value)
    assert float(side.x) == pytest.approx(0.75 * 60 * 70, rel=EXACT) and float(end.x) == pytest.approx(
        0.6 * float(side.x), rel=EXACT
    )


def test_wind_of_a_class_needs_a_coefficient() -> None:
    """AS 4055, class N2: 0.6 x 40^2 Pa; times the coefficient the reader gives. A class nobody knows is named."""
    job = au_deck()
    cases = next(r for r in check(job).links if r.id == "actions").handed_on  # type: ignore[arg-type]
    wind = next(c for c in cases if c.action.id == "wind")
    assert float(wind.action.size.x) == pytest.approx(1.2 * 0.6 * 40**2 * 1e-6, rel=EXACT)
    bare = check(job.with_({"wind.coefficient": None}))  # type: ignore[attr-defined]
    c = next(c for c in bare.sound.checks if c.id == "actions.wind")
    assert c.ending is Ending.NOT_CHECKED and "coefficient" in c.reason
    unknown = check(job.with_({"wind.wind_class": "N9"}))  # type: ignore[attr-defined]
    c = next(c for c in unknown.sound.checks if c.id == "actions.wind")
    assert "N9" in c.reason and "N2" in c.reason


def test_the_sheet_of_the_australian_deck_says_that_timber_is_not_checked() -> None:
    result = check(au_deck())  # type: ignore[arg-type]
    assert result.ending is not Ending.WITHIN
    missing = [c.id for c in result.sound.checks if c.ending is Ending.NOT_CHECKED]
    assert {"screws.withdrawal.M1", "bearing.mean.M1", "blocking.bending.M1"} <= set(missing)
