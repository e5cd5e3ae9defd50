"""Australia and New Zealand: loads, wind, glass and the one fastener value a reader can bring, by hand arithmetic.

Sources are named at each check; values from memory are said to be so in the tables.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from conftest import EXAMPLES

from barrier import sheet
from barrier.basis import basis_named
from barrier.basis.family import Family, Glass, Screw, Timber
from barrier.job import Job, read_job
from barrier.links.loads.cases import Case
from barrier.load_path import check
from barrier.result import Ending, Lack, NotChecked
from barrier.tables import Tables
from barrier.value import JobEntry, Value

AU = basis_named("au", "", Tables())
NZ = basis_named("nz", "", Tables())
EXACT = 1e-12  # relative; the same arithmetic
THREE_DIGITS = 1e-3  # relative; the table has its pressures with three digits


def given(x: float, kind: str) -> Value:
    return Value(x, kind, JobEntry("test", "test"))


def au_deck() -> Job:
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
            Glass(kind, "float", "polished", given(11.7, "length")), "face", replace(short, glass_duration=duration)
        )
        assert isinstance(value, Value)
        found.append(float(value.x))
    assert found == sorted(found, reverse=True) and found[2] < found[0]


def test_a_push_is_taken_to_last_longer_than_a_gust() -> None:
    """AS 1288-2021 Table 3.3: 0.72 for annealed glass over ten minutes. How long a push lasts was not read: the weaker."""
    kind = Glass("annealed", "float", "polished", given(11.7, "length"))
    push, gust = (AU.glass_strength(kind, "face", AU.strength(nature)) for nature in ("barrier", "wind"))  # type: ignore[arg-type]
    assert isinstance(push, Value) and isinstance(gust, Value)
    assert float(push.x) == pytest.approx(0.72 * float(gust.x), rel=EXACT)


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


def wind_case(job: Job) -> Case:
    cases: tuple[Case, ...] = next(r for r in check(job).links if r.id == "actions").handed_on
    return next(c for c in cases if c.action.id == "wind")


def test_wind_of_a_class_by_hand() -> None:
    """AS 4055 N2: 0.6 x 40^2 and 0.6 x 26^2 Pa; AS/NZS 1170.2 free-standing walls by two public readings.

    The deck: glass and gap 1100 high, the top 1800 + 1100 = 2900 above the ground.
    """
    action = wind_case(au_deck()).action
    mid = 1.7 - 0.5 * 1100 / 2900
    assert float(action.size.x) == pytest.approx(mid * 0.6 * 40**2 * 1e-6, rel=EXACT)
    assert action.service is not None
    assert float(action.service.x) == pytest.approx(mid * 0.6 * 26**2 * 1e-6, rel=EXACT)


def test_the_direction_of_the_wind_coefficients() -> None:
    """A worse class, an end that stands free and a higher deck all blow harder; a coefficient of the reader replaces ours."""
    job = au_deck()
    sizes = [float(wind_case(job.with_(changes)).action.size.x) for changes in (
        {"site.fall_height": "0 m"}, {}, {"site.fall_height": "3 m"}, {"wind.place": "end panel"},
        {"wind.place": "end panel", "wind.wind_class": "N3"},
    )]  # fmt: skip
    assert sizes == sorted(sizes) and len(set(sizes)) == len(sizes)
    on_ground = wind_case(job.with_({"site.fall_height": "0 m", "wind.place": "end panel"}))
    assert float(on_ground.action.size.x) == pytest.approx(2.4 * 0.96e-3, rel=EXACT)
    own = job.with_({"wind.coefficient": 1.3, "wind.reference": "invented"})
    assert float(wind_case(own).action.size.x) == pytest.approx(1.3 * 0.96e-3, rel=EXACT)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"wind.wind_class": "N9"}, "N2"),
        ({"site.fall_height": None}, "fall height"),
        ({"site.fall_height": "9 m"}, "outside"),
        ({"basis": "en", "site.use": "A2", "national": "uk", "loads.duration": None}, "wind.wind_class is of another"),
        ({"basis": "nz", "site.use": "domestic_deck"}, "zone of the council"),
    ],
)
def test_wind_that_cannot_be_had_is_not_checked(changes: dict[str, object], said: str) -> None:
    c = next(c for c in check(au_deck().with_(changes)).sound.checks if c.id == "actions.wind")
    assert c.ending is Ending.NOT_CHECKED and said in c.reason


def test_movement_is_looked_at_under_the_serviceability_pressure() -> None:
    """The glass is linear: 26^2/40^2 of the ultimate wind. With a high wind it is wind that moves the top most."""
    hard = {"wind.coefficient": 4.0, "wind.reference": "invented"}
    moved = {}
    for wind in ({"wind.wind_class": "N4"}, {"wind": {"pressure": "2.233 kN/m2", "coefficient": 4.0, "reference": "invented"}}):
        result = check(au_deck().with_({**hard, **wind} if "wind" not in wind else wind))
        c = next(c for c in result.sound.checks if c.id.startswith("movement"))
        assert c.demand is not None and c.where.startswith("wind")
        moved[len(moved)] = c.demand.at(c.station)
    assert moved[0] / moved[1] == pytest.approx(39**2 / 61**2, rel=THREE_DIGITS)


def test_figures_of_another_code_are_for_scale_and_need_a_name_in_it() -> None:
    """The European figure stands beside what is not checked, compares with nothing, and goes with the European name."""
    found = [s for r in check(au_deck()).links for s in r.shown if "for scale only" in s.remark]
    assert {"withdrawal of one screw, mount M1, by the Eurocode basis for C24"} <= {s.title for s in found}
    bare = check(au_deck().with_({"blocking.B1.material": {"au": "MGP12"}}))
    assert not [s for r in bare.links for s in r.shown if "for scale only" in s.remark]


def test_findings_of_pool_drop_and_joint_group() -> None:
    """AS 1926.1 as remembered: 1200 mm and 100 mm; beside a drop both sets of rules hold."""
    result = check(au_deck().with_({"site.pool": True, "panels.P3.bottom_gap": "60 mm"}))
    said = " ".join(f.text for r in result.links for f in r.findings)
    assert "As a pool barrier its height is lower than the rule asks" in said
    assert "the rules of both hold" in said
    assert "joint group" in said
    height = next(f for r in result.links for f in r.findings if "As a pool barrier its height" in f.text)
    assert height.length is not None and height.length.x == 1200.0
    assert "height of a pool barrier on the side away from the pool: 1200 mm." in " ".join(sheet.text(result).split())
    without = " ".join(f.text for r in check(au_deck()).links for f in r.findings)
    assert "Beside a pool" not in without


def test_the_sheet_of_the_australian_deck_says_that_timber_is_not_checked() -> None:
    result = check(au_deck())
    assert result.ending is not Ending.WITHIN
    missing = [c.id for c in result.sound.checks if c.ending is Ending.NOT_CHECKED]
    assert {"screws.withdrawal.M1", "bearing.mean.M1", "blocking.bending.M1"} <= set(missing)
