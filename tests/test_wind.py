"""Wind on a panel in its run, in every family of codes: what must be so whatever the figures, and the traps of each code."""

from __future__ import annotations

import math
from itertools import pairwise, product
from typing import Any

import numpy as np
import pytest
from conftest import for_each
from hypothesis import given
from hypothesis import strategies as st
from wind_places import PLACES, TABLES, answer, at, mean, pressure, ratio, same, site, value

from barrier.basis import basis_named
from barrier.basis import wind as shared
from barrier.basis.au import wind as au
from barrier.basis.en import wind as en
from barrier.basis.us import wind as us
from barrier.equation import Equation
from barrier.result import Lack, NotChecked
from barrier.units import FOOT
from barrier.value import JobEntry, Value

EVERY = sorted(PLACES)
ROUNDING = 1 + 1e-9  # pressures may differ by rounding where they are alike
BORDER = 1e-6  # mm
WORDS = {"uk": "UK annex", "germany": "German annex", "us": "7-22", "us 7-16": "7-16", "au": "N2", "nz": "zone H of NZS 3604"}


def highest(place: str, **given: Any) -> float:
    return max(pressure(s) for s in answer(place, **given).strips)


# ---------------------------------------------------------------- along the run


@for_each("place, run", product(EVERY, [None, "30 m", "8 m", "5 m", "2 m"]))
def test_pressure_falls_away_from_the_end(place: str, run: str | None) -> None:
    """A panel of 0.5 m moved from the end to the middle of its run never takes more."""
    room = 12.0 if run is None else float(run.split()[0]) / 2 - 0.25
    found = [mean(answer(place, run=run and value(run), from_end=f"{room * i / 12} m", width="500 mm")) for i in range(13)]
    assert all(b <= a * ROUNDING for a, b in pairwise(found)), found
    assert found[-1] < found[0]


@pytest.mark.parametrize("place", EVERY)
@given(start=st.floats(0, 7), width=st.floats(100, 3000))
def test_strips_cover_the_panel_and_follow_one_another(place: str, start: float, width: float) -> None:
    found = answer(place, from_end=f"{start} m", width=f"{width} mm", run="11 m")
    assert found.strips[0].x0 == 0.0 and found.strips[-1].x1 == pytest.approx(width)
    assert all(a.x1 == b.x0 and a.x0 < a.x1 for a, b in pairwise(found.strips))


def test_a_strip_says_whether_it_is_near_an_end() -> None:
    """AS/NZS 1170.2 names zones from the free end on; beyond the last of them a wall is mid-run."""
    first, middle = (answer("au", run="40 m", from_end=place, width="1000 mm").strips for place in ("0 m", "19.5 m"))
    assert all(s.zone.endswith("zone from the end") for s in first) and [s.zone for s in middle] == ["mid-run"]


@pytest.mark.parametrize("place", EVERY)
@pytest.mark.parametrize("run", ["24 m", "9 m", "4 m"])
def test_either_end_may_be_windward(place: str, run: str) -> None:
    """The last panel of a run, measured from the far end, takes what the first does, mirrored."""
    width = 1000.0
    length = float(value(run).x)
    first = answer(place, run=run, from_end="0 m", width=f"{width} mm")
    last = answer(place, run=run, from_end=f"{(length - width) / 1e3} m", width=f"{width} mm")
    for x in (50.0, 333.0, 512.0, 777.0, 951.0):
        assert same(at(first, x), at(last, width - x)), x


@pytest.mark.parametrize("place", EVERY)
def test_panels_share_what_the_run_takes(place: str) -> None:
    """Two halves of a panel take together what the whole does: nothing falls between strips (long runs, where no panel is cut)."""
    whole = answer(place, from_end="0.7 m", width="3000 mm")
    left, right = answer(place, from_end="0.7 m", width="1300 mm"), answer(place, from_end="2 m", width="1700 mm")
    assert mean(whole) * 3000 == pytest.approx(mean(left) * 1300 + mean(right) * 1700, rel=1e-9)


@pytest.mark.parametrize("place", EVERY)
def test_an_end_panel_takes_more_than_a_panel_mid_run(place: str) -> None:
    end, middle = answer(place, from_end="0 m"), answer(place)
    assert mean(end) > 1.2 * mean(middle)
    assert len(middle.strips) == 1
    assert 300.0 <= float(end.end_zone.x) <= 4400.0 * ROUNDING


@pytest.mark.parametrize("place", EVERY)
def test_beyond_the_end_zone_it_is_mid_run(place: str) -> None:
    """The length of the end zone that is said is the place from which a panel takes what a panel mid-run does, and not before."""
    zone = float(answer(place, from_end="0 m").end_zone.x)
    middle = mean(answer(place))
    assert same(mean(answer(place, from_end=f"{zone + BORDER} mm")), middle)
    assert mean(answer(place, from_end=f"{zone - 200} mm")) > middle * ROUNDING


def test_pieces_of_a_panel_lie_side_by_side_though_borders_from_both_ends_all_but_meet() -> None:
    """By hand: borders at 0.3, 2 and 4 times 1066.8 mm, a run of 6 times that, a panel from 106.68 mm on.

    Two thirds along the border of one end is that of the other; rounded they are a hair apart.
    """
    h = 1066.8
    found = shared.stretches(site(width="3000 mm", from_end="106.68 mm", run=f"{6 * h!r} mm"), [0.3 * h, 2 * h, 4 * h])
    assert [(s.zone, s.far) for s in found] == [(0, 3), (1, 3), (2, 2)]
    assert [s.x1 for s in found] == pytest.approx([0.3 * h - 106.68, 2 * h - 106.68, 3000.0])
    assert [s.x0 for s in found] == [0.0, *(s.x1 for s in found[:-1])]


def test_mid_run_of_a_run_too_short_to_have_one() -> None:
    """Whoever says mid-run of 4.4 m of glass stands in the middle of it, and that is still an end zone."""
    assert mean(answer("au", run="6 m")) == pytest.approx(mean(answer("au", run="6 m", from_end="2.4 m")))
    assert answer("other", run="4.4 m", open_below=False).strips[0].zone != "zone D"


# ---------------------------------------------------------------- a corner at the end


@for_each(
    "place, run, open_below, from_end", product(EVERY, [None, "20 m", "6 m", "3 m", "1.5 m"], [True, False], ["0 m", "0.1 m"])
)
def test_a_corner_never_raises_the_wind(place: str, run: str | None, open_below: bool, from_end: str) -> None:
    """Table 7.9 gives zone B 1.8 behind a corner, more than the 1.4 of a short wall without one: the lower counts."""
    given: dict[str, Any] = {"run": run and value(run), "from_end": from_end, "open_below": open_below, "top": "2200 mm"}
    before = math.inf
    for length in ("0 m", "0.3 m", "0.7 m", "1.1 m", "2.5 m"):
        found = mean(answer(place, corner=length, **given))
        assert found <= before * ROUNDING
        before = found


@pytest.mark.parametrize("place", ["other", "us", "au"])
@pytest.mark.parametrize("run", ["6 m", "7 m", "9 m"])
def test_a_corner_at_one_end_leaves_the_other_end_alone(place: str, run: str) -> None:
    """Over a whole run with a corner at one end, the half towards the other end takes what it does without any corner."""
    length = float(value(run).x)
    there: dict[str, Any] = {"run": run, "from_end": "0 m", "width": f"{length} mm", "open_below": False}
    turned, free = answer(place, corner="3 m", **there), answer(place, **there)
    for share in (0.55, 0.7, 0.8, 0.93, 0.99):
        assert same(at(turned, share * length), at(free, share * length)), share
    assert at(turned, 10.0) < at(free, 10.0)


@pytest.mark.parametrize("place", ["uk", "us", "au"])
def test_a_corner_lowers_the_end_panel(place: str) -> None:
    assert mean(answer(place, corner="2.5 m", from_end="0 m")) < mean(answer(place, from_end="0 m"))


# ---------------------------------------------------------------- height and speed


@pytest.mark.parametrize("place", EVERY)
@pytest.mark.parametrize("from_end", [None, "0 m"])
def test_higher_up_it_blows_no_less(place: str, from_end: str | None) -> None:
    """Top of the glass from 1.2 to 10 m: a smaller share of wall and more wind. AS/NZS 1170.2 changes its equation at c/h 0.2."""
    tops = [1200, 1500, 2200, 3000, 4000, 5000, 5400, 7000, 8500, 10000]
    found = [highest(place, top=f"{top} mm", from_end=from_end and value(from_end)) for top in tops]
    assert all(b >= a / ROUNDING for a, b in pairwise(found)), found
    assert found[-1] > found[0]


@pytest.mark.parametrize(("place", "entry", "speeds"), [
    ("uk", "map_speed", ["21 m/s", "23 m/s", "30 m/s"]), ("other", "basic_speed", ["20 m/s", "25 m/s", "40 m/s"]),
    ("us", "speed", ["100 mph", "115 mph", "170 mph"]), ("au speed", "design_speed", ["34 m/s", "40 m/s", "61 m/s"]),
])  # fmt: skip
def test_pressure_goes_by_the_square_of_the_speed(place: str, entry: str, speeds: list[str]) -> None:
    key, national, entries = PLACES[place]
    by_square = []
    for speed in speeds:
        found = basis_named(key, national, TABLES).wind(site(**{**entries, entry: speed}))
        assert not isinstance(found, NotChecked)
        by_square.append(pressure(found.strips[0]) / float(value(speed).x) ** 2)
    assert by_square == pytest.approx([by_square[0]] * 3, rel=1e-9)


@pytest.mark.parametrize(("place", "entry", "worse"), [
    ("uk", "distance_to_sea", ["100 km", "30 km", "10 km", "2 km", "1 km", "0.1 km"]),
    ("uk", "altitude", ["0 m", "100 m", "300 m"]),
    ("uk", "into_town", ["20 km", "5 km", "2 km", "0.5 km", None]), ("germany", "zone", ["1", "2", "3", "4"]),
    ("germany", "coast", ["inland", "coast", "island"]), ("other", "terrain", ["IV", "III", "II", "I", "0"]),
    ("us", "exposure", ["B", "C", "D"]), ("us", "elevation", ["1500 m", "300 m", None]),
    ("au", "wind_class", ["N1", "N2", "N3", "N4", "N5", "N6"]), ("nz", "zone", ["L", "M", "H", "VH", "EH"]),
])  # fmt: skip
def test_the_direction_of_what_is_asked(place: str, entry: str, worse: list[str | None]) -> None:
    key, national, entries = PLACES[place]
    found = []
    for word in worse:
        there = basis_named(key, national, TABLES).wind(site(**{**entries, entry: word}))
        assert not isinstance(there, NotChecked)
        found.append(mean(there))
    assert found == sorted(found) and len(set(found)) == len(found)


def test_altitude_by_hand() -> None:
    """UK: 1 + 0.001 A on the speed, so its square on the pressure."""
    assert mean(answer("uk", altitude="250 m")) / mean(answer("uk", altitude="0 m")) == pytest.approx(1.25**2)


@pytest.mark.parametrize(("sea", "z"), [("1 km", 4.0), ("2 km", 5.0), ("10 km", 8.0)])
def test_the_tables_of_the_uk_annex_have_no_steps(sea: str, z: float) -> None:
    """At a cell and a hair beside it, in height and in distance, the factor is the same."""
    here = float(en.exposure(TABLES, value(f"{z} m", "length"), value(sea)).x)
    kilometres = float(sea.split()[0])
    for dz, dx in ((1e-9, 0), (-1e-9, 0), (0, 1e-9), (0, -1e-9)):
        there = en.exposure(TABLES, value(f"{z + dz} m", "length"), value(f"{kilometres * (1 + dx)} km"))
        assert float(there.x) == pytest.approx(here, rel=1e-6)


def test_coefficients_have_no_steps_between_lengths() -> None:
    """Table 7.9 in length over height, figure 29.3-1 both ways: a hair beside a column the coefficient is the same."""
    hair = 1e-9
    for r in (3.0, 5.0, 10.0):
        for zone in "ABCD":
            a, b = (float(en.coefficient(TABLES, zone, ratio(r + d, "r_l")).x) for d in (-hair, hair))
            assert a == pytest.approx(b, rel=1e-6)
    for r_s, r_B in ((0.3, 4.0), (0.7, 10.0), (0.9, 2.0)):
        found = [
            float(us.coefficient(TABLES, ratio(r_s + i * hair, "r_s"), ratio(r_B + j * hair)).x) for i in (-1, 1) for j in (-1, 1)
        ]
        assert found == pytest.approx([found[0]] * 4, rel=1e-6)


# ---------------------------------------------------------------- traps


def test_height_of_the_wall_and_height_of_its_top_are_two_numbers() -> None:
    """EN: zones and length over height by the wall; a deck twice as high moves no border and no coefficient of Table 7.9."""
    low, high = (answer("other", from_end="0 m", width="6000 mm", top=top, open_below=False) for top in ("2000 mm", "6000 mm"))
    assert [(s.x0, s.x1) for s in low.strips] == [(s.x0, s.x1) for s in high.strips]
    ratios = [pressure(b) / pressure(a) for a, b in zip(low.strips, high.strips, strict=True)]
    assert ratios == pytest.approx([ratios[0]] * 4) and ratios[0] > 1


def test_a_rail_on_a_deck_is_not_a_wall_on_the_ground() -> None:
    """ASCE 7: s/h of 3.5 ft of glass twenty feet up is 0.15 and not 1; the coefficient is a third higher."""
    up = us.coefficient(TABLES, us.HEIGHT_SHARE(c=value("1067 mm"), h=value("7163 mm")), ratio(10))
    assert float(up.x) == pytest.approx(1.85, abs=0.01)
    assert float(us.coefficient(TABLES, ratio(1.0, "r_s"), ratio(10)).x) == 1.3


def test_zone_lengths() -> None:
    """EN 0.3c, 2c, 4c; ASCE 7 s; AS/NZS 1170.2 2c for a raised wall, 2h and not 2c for one on or near the ground."""

    def borders(place: str, **given: Any) -> list[float]:
        return [s.x1 for s in answer(place, from_end="0 m", width="6000 mm", **given).strips[:-1]]

    assert borders("other", open_below=False) == pytest.approx([330, 2200, 4400])
    assert borders("us") == pytest.approx([1100, 2200, 3300])
    assert borders("au", top="3500 mm") == pytest.approx([2200])
    assert borders("au", top="1400 mm") == pytest.approx([2800])  # c/h 0.79: beyond 2h the wind square on is the worst
    assert float(answer("au", top="1400 mm", from_end="0 m").end_zone.x) == pytest.approx(2800)


def test_between_two_and_four_heights_a_raised_wall_has_at_least_one_and_a_half() -> None:
    """AS/NZS 1170.2, c/h 0.7: 1.5 at 45 degrees counts between 2c and 4c, where square on has 1.35."""
    found = answer("au", top=f"{1100 / 0.7} mm", from_end="2.3 m", width="1000 mm")
    assert mean(found) == pytest.approx(1.5 * 0.6 * 40**2)
    assert mean(answer("au", top=f"{1100 / 0.7} mm")) == pytest.approx(1.35 * 0.6 * 40**2)


def test_a_shorter_run_has_not_always_less() -> None:
    """AS/NZS 1170.2 square on, c/h 1: 1.2 for a long run, 1.27 for one as long as it is high."""
    on_ground = ratio(1.0, "r_s")
    short, long = (float(au.square_on(TABLES, on_ground, ratio(r_b, "r_b")).x) for r_b in (1.0, 10.0))
    assert short == pytest.approx(1.27, abs=1e-9) and long == pytest.approx(1.2)


def test_high_above_the_ground_the_wall_has_a_coefficient() -> None:
    """AS/NZS 1170.2, c/h under 0.2: 1.4 + 0.3 log10(b/c) mid-run, 3.0 at an end."""
    assert mean(answer("au", top="6000 mm", run="11 m")) == pytest.approx(1.7 * 0.6 * 40**2, rel=1e-9)
    assert mean(answer("au", top="6000 mm", from_end="0 m")) == pytest.approx(3.0 * 0.6 * 40**2)


def test_short_runs_spread_the_wind_about_their_middle() -> None:
    """AS/NZS 1170.2, b/c 5 and 2: the first 1.2 m take about 3.0 and 2.3; over the whole run the spread adds nothing."""
    for run, about in (("5.5 m", 3.0), ("2.2 m", 2.3)):
        found = answer("au", run=run, from_end="0 m")
        assert mean(found) / (0.6 * 40**2) == pytest.approx(about, abs=0.08)
    assert len(answer("au", run="1.2 m", from_end="0 m").strips) >= 2


def test_a_short_run_is_an_end_zone_to_its_middle() -> None:
    for place, run in (("au", "5 m"), ("us", "2 m")):
        assert float(answer(place, run=run, from_end="0 m").end_zone.x) == pytest.approx(float(value(run).x) / 2)


def test_the_least_speed_of_australia() -> None:
    """AS/NZS 1170.2 2.3: 30 m/s however little the site speed is."""
    assert same(mean(answer("au speed", design_speed="26 m/s")), mean(answer("au speed", design_speed="30 m/s")))
    assert mean(answer("au speed", design_speed="31 m/s")) > mean(answer("au speed", design_speed="30 m/s"))


def test_the_direction_factor_counts_once() -> None:
    """Kd in the velocity pressure in 7-16, in the pressure in 7-22: with the constants of one edition both give the same."""
    K_d = TABLES.value("wind_asce7_factors", "K_d")
    for edition in us.EDITIONS:
        where = [s.name for s in us.Q_H[edition, "lbf/ft2"].symbols] + [s.name for s in us.PRESSURE[edition].symbols]
        assert where.count("K_d") == 1
    found = mean(answer("us 7-16"))
    z, q = 3500 / FOOT, 0.00256 * 115**2 * 47.880259
    K_z = 2.01 * (max(z, 15.0) / 900) ** (2 / 9.5)
    C_f = float(us.coefficient(TABLES, ratio(1100 / 3500, "r_s"), ratio(10)).x)
    assert found == pytest.approx(q * K_z * float(K_d.x) * 0.85 * C_f, rel=1e-6)


def test_a_wall_on_the_ground_has_its_resultant_higher() -> None:
    """ASCE 7 for s/h = 1: 0.55 of the height; the same moment at the deck as a pressure 1.1 times as high."""
    on, off = (mean(answer("us", top=top)) for top in ("1100 mm", "1100.001 mm"))
    assert on / off == pytest.approx(1.1, rel=1e-4)


def test_the_least_wind_of_the_us() -> None:
    """16 psf at strength level: exposure B well inland on a low deck has less."""
    found = answer("us", speed="70 mph", exposure="B", top="2000 mm")
    assert mean(found) == pytest.approx(16 * 47.880259, rel=1e-6)


def test_no_class_is_characteristic_and_the_level_is_said() -> None:
    levels = {key: basis_named(key, "", TABLES).wind_level for key in ("en", "us", "au", "nz")}
    assert levels == {"en": "characteristic", "us": "strength-level", "au": "ultimate", "nz": "ultimate"}


def test_air_under_the_deck() -> None:
    """Ours: no zone of a deck with air under it below 1.8; a skirt, or glass on the ground, leaves Table 7.9 alone."""
    q = mean(answer("other", open_below=False)) / 1.2
    assert mean(answer("other")) == pytest.approx(1.8 * q)
    assert mean(answer("other", top="1100 mm")) == pytest.approx(mean(answer("other", top="1100 mm", open_below=False)))


def test_serviceability() -> None:
    """EN the same pressure; US 0.42 of strength level over the 0.6 the combination has; AU by class; NZ 0.72."""
    assert answer("uk").strips[0].service is None
    for place, share in (("us", 0.7), ("au", 26**2 / 40**2), ("nz", 0.72), ("au speed", 30**2 / 42**2)):
        strip = answer(place).strips[0]
        assert strip.service is not None
        assert float(strip.service.x) / float(strip.pressure.x) == pytest.approx(share), place


@pytest.mark.parametrize("place", sorted(WORDS))
def test_the_source_names_the_code(place: str) -> None:
    assert WORDS[place] in answer(place).source


def test_a_hill_counts_by_the_code() -> None:
    """UK ((c_o + 0.6)/1.6)^2, EN by c_o in speed and turbulence, US K_zt, AU M_t^2."""
    for place, factor, share in (("uk", 1.4, 1.25**2), ("us", 1.6, 1.6), ("au speed", 1.2, 1.44)):
        raised = mean(answer(place, hill=True, hill_factor=ratio(factor)))
        assert raised / mean(answer(place)) == pytest.approx(share)
    assert mean(answer("other", hill=True, hill_factor=ratio(1.61))) / mean(answer("other")) == pytest.approx(1.95, abs=0.05)


EQUATIONS = [
    e
    for module in (en, us, au, shared)
    for found in vars(module).values()
    for e in (found.values() if isinstance(found, dict) else (found,))
    if isinstance(e, Equation) and e.symbols
]


@for_each("equation", EQUATIONS)
def test_an_array_of_places_is_each_place_by_itself(equation: Equation) -> None:
    """Every equation of the wind, evaluated over stations and one by one."""
    columns = {s.name: 0.3 + 0.17 * np.arange(1.0, 5.0) + 0.05 * i for i, s in enumerate(equation.symbols)}
    kinds = {s.name: (s.kind, s.factor) for s in equation.symbols}

    def values(pick: Any) -> dict[str, Value]:
        return {k: Value(pick(x) * kinds[k][1], kinds[k][0], JobEntry("test", "test")) for k, x in columns.items()}

    together = equation(**values(lambda x: x))
    alone = [float(equation(**values(lambda x, i=i: float(x[i]))).x) for i in range(4)]
    assert np.asarray(together.x) == pytest.approx(alone, rel=1e-12)


# ---------------------------------------------------------------- what cannot be had

LACKING: dict[str, tuple[str, str, dict[str, Any], str]] = {
    "no height": ("uk", "uk", {"top": None}, "site.fall_height"),
    "too high": ("uk", "uk", {"top": "10.1 m"}, "engineer"),
    "no map speed": ("uk", "uk", {"map_speed": None}, "building control"),
    "no altitude": ("uk", "uk", {"altitude": None}, "wind.altitude"),
    "hill not said": ("uk", "uk", {"hill": None}, "hill top"),
    "a hill without its factor": ("uk", "uk", {"hill": True}, "1.95"),
    "a hill in Germany": ("germany", "", {"hill": True, "hill_factor": ratio(1.2)}, "flat ground"),
    "no zone of Germany": ("germany", "", {"zone": "VH"}, "known: 1, 2, 3, 4"),
    "nothing in Europe": ("other", "", {"basic_speed": None}, "wind.basic_speed"),
    "no speed in the US": ("us", "", {"speed": None}, "permit"),
    "US hill": ("us", "", {"hill": True}, "3.15"),
    "no class": ("au", "", {"wind_class": None}, "house plans"),
    "no such class": ("au", "", {"wind_class": "N9"}, "known: N1"),
    "AU speed with a hill unsaid": ("au speed", "", {"hill": None}, "hill top"),
    "a class in New Zealand": ("nz", "", {"zone": None, "wind_class": "N2"}, "none of New Zealand"),
    "specific design": ("nz", "", {"zone": "SED"}, "specific engineering design"),
    "a German zone in New Zealand": ("nz", "", {"zone": "2"}, "known: L"),
}  # fmt: skip


@pytest.mark.parametrize("case", LACKING)
def test_what_is_not_known_is_asked_for(case: str) -> None:
    place, national, changes, said = LACKING[case]
    key, _, entries = PLACES[place]
    found = basis_named(key, national, TABLES).wind(site(**{**entries, **changes}))
    assert isinstance(found, NotChecked) and said in found.text
    assert found.lack in (Lack.INPUT, Lack.RANGE, Lack.BASIS)
