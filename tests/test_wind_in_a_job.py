"""Wind as a job says it: what not knowing gives, panels of one run apart, what the sheet says, what is refused."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from conftest import job_named
from wind_places import KIND, mean, site, value

from barrier import sheet
from barrier.basis import WindOnPanel, WindSite, basis_named
from barrier.basis.parts import Action
from barrier.errors import JobRefused
from barrier.job import Job
from barrier.links.loads.actions import Case
from barrier.load_path import check
from barrier.mechanics.plate import PatchLoad
from barrier.result import Ending, Finding, Lack, LinkResult
from barrier.tables import Tables
from barrier.value import Numerical

WINDS: dict[str, tuple[dict[str, object], dict[str, object]]] = {
    "uk": ({}, {"map_speed": "22 m/s", "altitude": "60 m", "distance_to_sea": "30 km", "town": "country", "hill": "no"}),
    "germany": ({"national": ""}, {"zone": "2", "coast": "inland", "hill": "no"}),
    "other": ({"national": ""}, {"basic_speed": "25 m/s", "terrain": "II", "hill": "no"}),
    "us": ({"basis": "us", "national": "", "site.use": "guard", "loads.duration": None},
           {"speed": "115 mph", "exposure": "C", "edition": "7-22", "hill": "no"}),
    "au": ({"basis": "au", "national": "", "site.use": "C3", "loads.duration": None}, {"wind_class": "N2"}),
    "nz": ({"basis": "nz", "national": "", "site.use": "domestic_deck", "loads.duration": None}, {"zone": "H"}),
}  # fmt: skip
LOADS = {"loads.line": "0.74 kN/m", "loads.reference": "invented"}


def job(where: str, /, **wind: object) -> Job:
    """The garden deck at a place, with further entries of [wind]; None takes one away."""
    elsewhere, entries = WINDS[where]
    table = {k: v for k, v in (entries | wind).items() if v is not None}
    return job_named("garden_deck").with_({**elsewhere, **LOADS, "wind": table})


def first_link(found: Job, tables: Tables | None = None) -> tuple[LinkResult, tuple[Case, ...]]:
    """Actions and the cases they hand on, without walking on."""
    from barrier.links.loads.actions import actions
    from barrier.links.walk import Walk
    from barrier.result import SOUND

    tables = Tables() if tables is None else tables
    return actions(Walk(found, basis_named(found.basis, found.national, tables), tables, SOUND))


def wind_of(found: Job) -> Action:
    cases: tuple[Case, ...] = first_link(found)[1]
    return next(c.action for c in cases if c.action.id == "wind")


def size(found: Job) -> float:
    """Mean over the panel, N/m2."""
    return float(wind_of(found).size.x) * 1e6


def lack(found: Job) -> str:
    c = next(c for c in first_link(found)[0].checks if c.id == "actions.wind")
    assert c.ending is Ending.NOT_CHECKED
    return str(c.reason)


def words(found: Job) -> str:
    return " ".join(f.text for f in first_link(found)[0].findings)


# ---------------------------------------------------------------- what not knowing gives


@pytest.mark.parametrize("place", WINDS)
def test_nobody_says_where_the_panel_stands(place: str) -> None:
    """An end panel, no corner: an assumption that is listed."""
    unsaid, said = job(place), job(place, from_end="0 m", corner="0 m")
    assert size(unsaid) == size(said)
    assumed = {e.path: e for e in unsaid.assumptions()}
    assert assumed["panels.P3.from_end"].text == "0 m" and "wind.corner" in assumed
    assert size(job(place, place="unknown")) == size(said)
    assert size(job(place, place="mid-run")) < size(said)


@pytest.mark.parametrize("place", WINDS)
def test_nobody_says_how_long_the_run_is(place: str) -> None:
    """EN and US: ten heights; AU and NZ: more than five. It is asked for."""
    unsaid = job(place, run_length="unknown", place="mid-run")
    assert any(e.path == "wind.run_length" for e in unsaid.unknowns())
    ten = {"uk": "11 m", "germany": "11 m", "other": "11 m", "us": "11 m", "au": "5.6 m", "nz": "5.6 m"}[place]
    if place in ("au", "nz"):
        assert size(job(place, from_end="0 m")) == size(job(place, from_end="0 m", run_length=ten))
    else:
        assert size(job(place, from_end="0 m")) == pytest.approx(size(job(place, from_end="0 m", run_length=ten)))
    assert re.search(r"the run of glass is (at least|more than|10)", words(unsaid))


ASSUMED = [
    ("uk", "distance_to_sea", "0.1 km"), ("uk", "town", "country"), ("uk", "below_deck", "open"), ("germany", "coast", "coast"),
    ("other", "terrain", "II"), ("us", "exposure", "C"), ("us", "edition", "7-22"), ("au", "corner", "0 m"),
]  # fmt: skip


@pytest.mark.parametrize(("place", "entry", "taken"), ASSUMED)
def test_what_is_assumed_where_it_is_not_known(place: str, entry: str, taken: str) -> None:
    """By the table of what not knowing gives; said or unknown or left out, it stands among the assumptions."""
    for unknown in ({entry: None}, {entry: "unknown"}):
        found = job(place, from_end="0 m", **unknown)
        assert size(found) == size(job(place, from_end="0 m", **{entry: taken}))
        assert any(e.path == f"wind.{entry}" and e.text == taken for e in found.assumptions())


MISSING = [
    ("uk", "map_speed", "building control"), ("uk", "altitude", "wind.altitude"), ("uk", "hill", "hill top"),
    ("germany", "hill", "hill top"), ("other", "basic_speed", "wind.basic_speed"), ("us", "speed", "permit"),
    ("us", "hill", "hill top"), ("au", "wind_class", "house plans"), ("nz", "zone", "council"),
]  # fmt: skip


@pytest.mark.parametrize(("place", "entry", "asked"), MISSING)
def test_what_is_not_checked_where_it_is_not_known(place: str, entry: str, asked: str) -> None:
    """No default: NOT CHECKED with its question, said unknown or left out; what is said to be unknown is asked for."""
    assert asked in lack(job(place, **{entry: "unknown"}))
    assert asked in lack(job(place, **{entry: None}))
    assert any(e.path == f"wind.{entry}" for e in job(place, **{entry: "unknown"}).unknowns())


def test_the_fall_height_is_asked_for() -> None:
    assert "site.fall_height" in lack(job("au").with_({"site.fall_height": "unknown"}))


def test_a_hill_without_its_factor_and_with_it() -> None:
    assert "1.95" in lack(job("uk", hill="yes"))
    hill = job("uk", hill="yes", hill_factor=1.4, reference="invented letter")
    assert size(hill) / size(job("uk")) == pytest.approx(1.25**2)


def test_questions_of_other_codes_are_not_asked() -> None:
    """A British job is not asked for an exposure or a class, a New Zealand one not for a hill: it is in the zone."""
    asked = {e.path for e in job("uk").unknowns()}
    assert not {f"wind.{k}" for k in ("exposure", "wind_class", "speed", "zone", "basic_speed", "pressure", "reference")} & asked
    assert not {"wind.hill", "wind.coast"} & {e.path for e in job("nz").unknowns()}
    assert not any(e.path.startswith("wind.") and e.path != "wind.corner" for e in job("nz").assumptions())


@pytest.mark.parametrize("place", WINDS)
def test_no_wind_at_all_names_what_the_basis_asks(place: str) -> None:
    bare = job(place).with_({"wind": None})
    said = {
        "uk": "wind.map_speed", "germany": "wind.zone", "other": "wind.basic_speed", "us": "wind.speed", "au": "wind.wind_class",
            "nz": "wind.zone",
    }[place]  # fmt: skip
    assert said in lack(bare) and lack(bare).startswith("input missing: outdoors and no wind given")
    assert not [c for c in first_link(bare.with_({"site.outdoors": False}))[0].checks if c.id == "actions.wind"]


# ---------------------------------------------------------------- panels of one run


def two_panels(**places: object) -> Job:
    """The three-clamp job's panel twice, mounts and all, with a place of their own."""
    base = job_named("garden_deck")
    raw = base.raw
    panel, mounts = raw["panels"][0], raw["mounts"]
    panels = [{**panel, "name": "end"}, {**panel, "name": "middle"}]
    for p in panels:
        p.update(places.get(p["name"]) or {})  # type: ignore[arg-type]
    both = [
        {**m, "name": f"{m['name']}{p['name']}", "panel": p["name"], "blocking": f"{m['blocking']}{p['name']}"}
        for p in panels for m in mounts
    ]  # fmt: skip
    own = {f"blocking.{m['blocking']}{p['name']}": {"same_as": m["blocking"]} for p in panels for m in mounts}
    return base.with_({"panels": panels, "mounts": both, "wind.from_end": None, "wind.run_length": None, **own})


def test_panels_of_one_run_are_not_alike() -> None:
    """Each may have its own place and its own corner; what [wind] says is for those that say nothing."""
    found = two_panels(end={"place": "end panel"}, middle={"from_end": "6 m"})
    sizes = {c.panel.name: float(c.action.size.x) for c in first_link(found)[1] if c.action.id == "wind"}
    assert sizes["end"] > 1.35 * sizes["middle"]
    assert "No panel of this job stands in the end zone" not in words(found)
    turned = two_panels(end={"place": "end panel", "corner": "1.5 m"}, middle={"place": "end panel"})
    sizes = {c.panel.name: float(c.action.size.x) for c in first_link(turned)[1] if c.action.id == "wind"}
    assert sizes["end"] < sizes["middle"]
    general = two_panels(end={"place": "end panel"}).with_({"wind.place": "mid-run"})
    sizes = {c.panel.name: float(c.action.size.x) for c in first_link(general)[1] if c.action.id == "wind"}
    assert sizes["end"] > sizes["middle"]


@pytest.mark.parametrize("place", WINDS)
def test_the_length_of_the_end_zone_is_said(place: str) -> None:
    found: Finding = next(f for f in first_link(job(place, place="end panel"))[0].findings if "end zone" in f.text)
    assert found.length is not None and 300 < float(found.length.x) <= 4401
    loud = [f for f in first_link(job(place, place="mid-run"))[0].findings if "check one of them as well" in f.text]
    assert loud and loud[0].loud


LEVEL: dict[str, tuple[str, str, dict[str, float], str]] = {  # a table, its key, figures of a reader, the rows they are for
    "other": ("wind_en_factors", "name", {"value": 3.9}, "open_deck"),
    "us": ("wind_asce7_ends", "cell", {"C_f": 0.5}, ""),
    "au": ("as1170_wall_ends", "case", {"first": 0.4, "second": 0.3, "beyond": 0.2}, ""),
}


@pytest.mark.parametrize("place", LEVEL)
def test_where_the_ends_take_no_more_nothing_is_said_of_an_end_zone(place: str, tmp_path: Path) -> None:
    """With a reader's own coefficients that are level along the run; with ours it is said, and where the panel stands."""
    name, key, figures, only = LEVEL[place]
    rows = [f'"{k}",{",".join(map(str, figures.values()))},a letter' for k in Tables().table(name).keys if only in k]
    head = (f"# column {key}: key", *(f"# column {c}: ratio" for c in figures), ",".join((key, *figures, "source")))
    (tmp_path / f"{name}.csv").write_text("\n".join((*head, *rows, "")), "utf-8")

    def said(tables: Tables) -> list[str]:
        return [f.text for f in first_link(job(place, place="mid-run"), tables)[0].findings if "end zone" in f.text]

    assert said(Tables([tmp_path])) == [] and len(said(Tables())) == 2


@pytest.mark.parametrize("place", WINDS)
def test_what_no_code_covers_is_said(place: str) -> None:
    """Shelter is not counted, and funnelling beside a building has no method: said on every sheet whose wind is worked out."""
    said = words(job(place, from_end="0 m"))
    assert "no shelter by a fence" in said and "codes give no method" in said


def test_both_panels_are_shown_for_scale() -> None:
    for here in ("mid-run", "end panel"):
        shown = {
            s.title: float(s.value.x) for s in first_link(job("au", place=here))[0].shown if s.title.startswith("for scale: wind")
        }
        end, middle = (next(v for k, v in shown.items() if word in k) for word in ("end panel", "mid-run"))
        assert end > middle


def test_the_sheet_says_the_zone_and_the_level() -> None:
    """On the page: how far the end zone runs, and that the pressure of a class is ultimate and not characteristic."""
    result = check(job_named("au_deck").with_({"wind.wind_class": "N6", "wind.place": "end panel", "wind.run_length": None}))
    text = " ".join(sheet.text(result).split())
    assert "the end zone is this long, from either end: 2.2 m" in text
    assert re.search(r"wind, [\d.]+ kN/m² ultimate \(wind class N6 of AS 4055", text)
    assert not re.search(r"kN/m² characteristic \(wind class", text)


# ---------------------------------------------------------------- strips on the glass


def test_strips_stand_on_the_glass_as_they_are() -> None:
    """An end panel of a long run: zone A over 0.33 m, B beyond. Force and moments of the loads by hand, both ways round."""
    found = check(job("other", place="end panel"))
    solved = found.handed_on.panels[0]
    q = 0.5 * 1.25 * 1e-6  # N/mm2 of 1 m/s
    strips = [(0.0, 330.0, 3.4), (330.0, 1000.0, 2.1)]
    z = 2.9
    k_r, ln = 0.19, math.log(z / 0.05)
    q_p = (1 + 7 / ln) * q * (k_r * ln * 25.0) ** 2
    H = 1040.0
    force = sum(q_p * C * (b - a) * H for a, b, C in strips)
    about_left = sum(q_p * C * (b - a) * H * (a + b) / 2 for a, b, C in strips)
    cases = {c.id: i for i, c in enumerate(solved.cases) if c.action.id == "wind" and not c.parts}
    assert set(cases) == {"P3/wind/left", "P3/wind/right"}
    left, right = (solved.solutions[0].model.resultants[cases[f"P3/wind/{side}"]] for side in ("left", "right"))
    assert left == pytest.approx([force, force * H / 2, about_left], rel=1e-6)
    assert right == pytest.approx([force, force * H / 2, 1000.0 * force - about_left], rel=1e-6)
    mounts = solved.solutions[0].F
    near, far = mounts[cases["P3/wind/left"]]
    assert near > far and mounts[cases["P3/wind/right"]] == pytest.approx([far, near], rel=1e-6)
    assert near + far == pytest.approx(force, rel=1e-6)
    # Beside them the push by hand: a rigid panel on mounts 230 and 770 mm along it, its load where both strips have their middle.
    by_lever = force * (770.0 - about_left / force) / 540.0
    for handed in found.handed_on.mounts:
        push = handed.service.F.origin
        assert isinstance(push, Numerical) and push.hand is not None
        at = {case.id: push.hand.at(i) for i, case in enumerate(handed.cases)}
        if "P3/wind/left" in at:
            near_here = "left" if handed.model.name == "M1" else "right"
            assert at[f"P3/wind/{near_here}"] == pytest.approx(by_lever, rel=1e-6)


def test_who_says_which_end_is_free_has_one_case() -> None:
    """Both ways round where nobody says; a panel's own word stands over that of [wind]; mid-run it does not matter."""

    def cases(found: Job) -> list[str]:
        return [c.id for c in first_link(found)[1] if c.action.id == "wind" and not c.parts]

    assert cases(job("uk", place="end panel", run_length="9 m")) == ["P3/wind/left", "P3/wind/right"]
    one = job("uk", place="end panel", run_length="9 m", free_end="right")
    assert cases(one) == ["P3/wind/right"]
    assert cases(one.with_({"panels.P3.free_end": "left"})) == ["P3/wind/left"]
    assert cases(job("uk", place="mid-run", free_end="left")) == ["P3/wind"]
    both = words(job("uk", place="end panel", run_length="9 m"))
    assert "over 2 strips of wind" in both and "once with the free end at its left and once at its right." in both
    assert "as they are, with the free end at its right." in words(one)
    assert "strips of wind" not in words(job("uk", place="mid-run"))


def test_the_nearer_mount_takes_more_than_half_and_less_than_the_worst_strip_throughout() -> None:
    """Beside strips stand the mean over the panel and its highest strip: the mount's share lies between."""
    found = job("us", from_end="0.5 m")
    solved = check(found).handed_on.panels[0]
    i = next(i for i, c in enumerate(solved.cases) if c.id == "P3/wind/left")
    action = solved.cases[i].action
    W, H = 1000.0, 1040.0
    mean_share, most = float(action.size.x) * W * H / 2, max(float(s.pressure.x) for s in action.strips) * W * H / 2
    assert mean_share < solved.solutions[0].F[i][0] <= most * (1 + 1e-9)


# ---------------------------------------------------------------- what is not read, what is refused


def test_entries_of_another_code_are_named() -> None:
    assert "wind.exposure; nothing here reads it" in words(job("uk", exposure="B"))
    assert "wind.below_deck; nothing here reads it" in words(job("au", below_deck="closed"))
    assert "nothing here reads it" not in words(job("uk", below_deck="closed"))
    assert "wind.wind_class is of another family of codes" in lack(job("us", speed=None, wind_class="N2"))
    assert "none of New Zealand" in lack(job("nz", zone=None, wind_class="N2"))


def test_a_pressure_of_the_readers_own_stays_possible() -> None:
    for place in WINDS:
        own = job_named("garden_deck").with_({**WINDS[place][0], **LOADS, "wind": {"pressure": "0.9 kN/m2", "reference": "letter"}})
        action = wind_of(own)
        assert float(action.size.x) == pytest.approx(0.9e-3) and action.source == "given in the job: letter"
        assert action.level == basis_named(own.basis, own.national, Tables()).wind_level


def test_a_coefficient_of_the_readers_own_on_a_zone() -> None:
    own = job("nz", coefficient=1.5, reference="invented tunnel test")
    assert size(own) == pytest.approx(1.5 * 0.6 * 44**2)
    by_height = job("uk", coefficient=1.8, reference="invented tunnel test")
    assert size(by_height) == pytest.approx(size(job("uk", place="mid-run")))
    assert "give wind.pressure" in lack(job("us", coefficient=1.8, reference="invented tunnel test"))


def test_indoors_nothing_blows_unless_somebody_says_so() -> None:
    """Inside, an empty table of wind is no question; a wind that is given counts."""
    indoors = {"site.outdoors": False}
    for wind in (None, {"pressure": "unknown", "reference": "unknown"}):
        bare = first_link(job("uk").with_({**indoors, "wind": wind}))[0]
        assert not [c for c in bare.checks if c.id == "actions.wind"]
    assert wind_of(job("uk").with_(indoors))


REFUSED: list[tuple[dict[str, object], str, str]] = [
    ({"map_speed": "22 m/s", "zone": "2"}, "wind.map_speed", "give one of the two"),
    ({"pressure": "1 kN/m2", "reference": "x", "wind_class": "N2"}, "wind.pressure", "give one of the two"),
    ({"map_speed": "22"}, "wind.map_speed", "has no unit"),
    ({"map_speed": "22 knots"}, "wind.map_speed", "unknown unit"),
    ({"map_speed": "220 m/s"}, "wind.map_speed", "outside the allowed 15 to 40 m/s"),
    ({"map_speed": "22 m/s", "altitude": "60"}, "wind.altitude", "has no unit"),
    ({"speed": "115 mph", "exposure": "A"}, "wind.exposure", "not known here"),
    ({"speed": "115 mph", "edition": "7-10"}, "wind.edition", "not known here"),
    ({"wind_class": "N2", "from_end": "1 m", "place": "mid-run"}, "wind.from_end", "give one of the two"),
    ({"wind_class": "N2", "run_length": "0.5 m"}, "wind.run_length", "is shorter than panel P3"),
    ({"wind_class": "N2", "run_length": "5 m", "from_end": "4.5 m"}, "wind.run_length", "is shorter than panel P3"),
    ({"design_speed": "40 m/s"}, "wind.design_speed", "has no source"),
    ({"map_speed": "22 m/s", "hill": "yes", "hill_factor": 1.2}, "wind.hill_factor", "has no source"),
    ({"map_speed": "22 m/s", "hill_factor": 1.2, "reference": "x"}, "wind.hill_factor", 'without wind.hill = "yes"'),
    ({"map_sped": "22 m/s"}, "wind.map_sped", 'did you mean "map_speed"'),
    ({"speed": "115 mph", "town": "somewhere"}, "wind.town", "not known here"),
    ({"zone": 2}, "wind.zone", "expected one of"),
]  # fmt: skip


@pytest.mark.parametrize(("wind", "path", "said"), REFUSED, ids=[f"{i} {r[1]}" for i, r in enumerate(REFUSED)])
def test_what_is_refused(wind: dict[str, object], path: str, said: str) -> None:
    with pytest.raises(JobRefused) as refused:
        job_named("garden_deck").with_({"wind": wind})
    assert any(f.key == path and said in f.text for f in refused.value.faults), refused.value


# ---------------------------------------------------------------- against an answer without a job


def test_the_job_hands_its_entries_on() -> None:
    """The same place asked without a job: glass and gap 1.1 m, the top 2.9 m up."""
    found = job("uk", from_end="1.5 m", run_length="7 m", corner="0.5 m", below_deck="closed", town="over 2 km in")
    here = {"wall": "1100 mm", "top": "2900 mm", "width": "1000 mm", "map_speed": "22 m/s", "altitude": "60 m", "open_below": False}
    bare: WindSite = site(**here, distance_to_sea="30 km", into_town="2 km", from_end="1.5 m", run="7 m", corner="0.5 m")
    answer = basis_named("en", "uk", Tables()).wind(bare)
    assert isinstance(answer, WindOnPanel)
    assert size(found) == pytest.approx(mean(answer))
    assert KIND["m"] == "distance" and value("1 m").x == 1000.0


def test_loads_of_another_length_change_no_wind() -> None:
    """The duration argued for the push changes no pressure."""
    a, b = (wind_of(job("uk").with_({"loads.duration": d})) for d in ("short-term", "instantaneous"))
    assert float(a.size.x) == float(b.size.x)


def test_not_checked_is_not_within() -> None:
    result = check(job("uk", map_speed="unknown"))
    assert result.ending is not Ending.WITHIN
    c = next(c for c in result.sound.checks if c.id == "actions.wind")
    assert str(Lack.INPUT) in c.reason
    assert "the map wind speed of the place" in " ".join(sheet.text(result).split())


def test_a_point_load_stands_on_the_glass_also_over_a_mount_at_its_end() -> None:
    """The whole of it on its length of the top edge (50 mm, a convention of this project), over a mount 20 mm from the end too."""
    narrow = {"mount_types.deep.pads.1.width": "40 mm", "mounts.M1.x": "20 mm", "mounts.M2.x": "980 mm"}
    points = {c.key: c.load for c in first_link(job("uk").with_(narrow))[1] if c.action.kind == "point" and not c.parts}
    places = {key: (round(p.x0, 9), round(p.x1, 9)) for key, p in points.items() if isinstance(p, PatchLoad)}
    assert places["point/over M1"] == places["point/left corner"] == (0.0, 50.0)
    assert places["point/over M2"] == places["point/right corner"] == (950.0, 1000.0)
    assert places["point/middle"] == (475.0, 525.0)
