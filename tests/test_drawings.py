"""The pictures: they say what the job and its result say, keep inside their frame, and stay the same byte for byte."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest
from conftest import DIFFERENT, ROOT, job_named, text_sheet
from conftest import result_of as bundled_result

from barrier.job import Job, read_job
from barrier.load_path import Result, check
from barrier.mechanics.polygons import moments
from barrier.result import Standing
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.content import content
from barrier.sheet.drawings import bars, elevation, plan, section, stress_map, svg
from barrier.sheet.drawings.facts import mount_forces, stand, worst_corner
from barrier.sheet.numbers import FRONT, figure_of
from barrier.sheet.studies import faults_content, ladder_content
from barrier.study import faults, ladder
from barrier.value import Value

SVG = "{http://www.w3.org/2000/svg}"
BUNDLED = [p.stem for p in DIFFERENT]
NAMES = [*BUNDLED, "us_lag_deck", "everything"]
KINDS = {"svg", "line", "rect", "circle", "polygon", "polyline", "path", "text"}
PIXEL = 0.011  # units: coordinates are written with two decimals
LARGEST = 40_000  # bytes of one picture of a panel or mount, as was asked for
TOUCH = 0.5  # units two texts may share: their boxes are estimated larger than any letter


@cache
def job_of(name: str) -> Job:
    if name in ODD:
        return job_named("everyday_deck").with_(ODD[name])
    places = {"us_lag_deck": "tests/data/us_lag_deck.toml", "everything": "tests/data/jobs/everything.toml"}
    return read_job(ROOT / places[name]) if name in places else job_named(name)


ODD: dict[str, dict[str, object]] = {
    "wide, far mounts": {"panels.P1.width": "3600 mm", "mounts.M2.x": "3400 mm"},
    "narrow": {"panels.P1.width": "300 mm", "mounts.M1.x": "75 mm", "mounts.M2.x": "225 mm"},
    "across": {"blocking.B1.direction": "across", "joists.direction": "along"},
    "gap not known": {"decking.gap_under": "unknown"},
    "off its mark": {"mounts.M1.offset": "-60 mm"},
    "packer": {"mounts.M1.packers": [{"x": "0 mm", "y": "30 mm", "along": "60 mm", "across": "30 mm", "thickness": "4 mm"}]},
    "short screws": {"mounts.M1.screw.length": "34 mm", "mounts.M1.screw.threaded": "30 mm"},
    "no joists": {"joists": None},
    "edge joist": {
        "mounts.M1.support": "edge joist",
        "mounts.M1.blocking": None,
        "mounts.M2.support": "edge joist",
        "mounts.M2.blocking": None,
        "joists.width": "145 mm",
        "joists.restraint_spacing": "600 mm",
    },
}
ALL = [*NAMES, *ODD]


@cache
def result_of(name: str) -> Result:
    return bundled_result(name) if name in BUNDLED else check(job_of(name))


@cache
def pictures(name: str) -> dict[str, Picture]:
    return {d.name: d.draw() for d in drawn(result_of(name))}


def drawn(result: Result) -> list[Drawing]:
    return [b for b in content(result).blocks if isinstance(b, Drawing)]


@cache
def study_pictures(name: str) -> dict[str, Picture]:
    job = job_of(name)
    blocks = (*ladder_content(ladder(job)).blocks, *faults_content(faults(job)).blocks)
    return {b.name: b.draw() for b in blocks if isinstance(b, Drawing)}


def root(picture: Picture) -> ElementTree.Element:
    return ElementTree.fromstring(picture.svg)


def scale(picture: Picture) -> float:
    return float(root(picture).attrib["data-units-per-mm"])


def named(picture: Picture, what: str) -> ElementTree.Element:
    found = [e for e in root(picture) if e.get("data-what") == what]
    assert found, f"{what} is not drawn"
    return found[0]


def number(element: ElementTree.Element, *keys: str) -> tuple[float, ...]:
    return tuple(float(element.attrib[k]) for k in keys)


def corners(element: ElementTree.Element) -> np.ndarray:
    return np.array([[float(v) for v in p.split(",")] for p in element.attrib["points"].split()])


def texts(picture: Picture) -> list[str]:
    return ["".join(e.itertext()) for e in root(picture).iter(f"{SVG}text")]


# ---------------------------------------------------------------- what every picture keeps to


@pytest.mark.parametrize("name", ALL)
def test_every_picture_is_plain_and_self_contained(name: str) -> None:
    found = pictures(name)
    assert found
    for key, picture in found.items():
        tree = root(picture)
        assert tree.get("viewBox") and tree.get("width") is None and "\N{NULL}" not in picture.svg
        for e in tree.iter():
            assert e.tag.removeprefix(SVG) in KINDS, f"{key}: {e.tag}"
            assert not {"id", "href", "style", "onload", "transform"} & set(e.attrib), key
            assert e.get("class", "ink") in svg.PAINT, key
        assert "http" not in picture.svg.replace("http://www.w3.org/2000/svg", "") and "url(" not in picture.svg
        assert len(picture.alt) > 20 and "<" not in picture.alt.replace("<script>", "")
        if not key.startswith("bars"):
            assert len(picture.svg.encode()) < LARGEST, key


@pytest.mark.parametrize("name", ["everyday_deck", "us_deck", "short screws"])
def test_what_a_picture_shows_is_told_alike_whether_it_is_drawn_or_not(name: str) -> None:
    told = {d.name: d.told() for d in drawn(result_of(name)) if d.told is not None}
    assert told == {key: pictures(name)[key].alt for key in told} and len(told) >= 2
    assert all(d.alt == pictures(name)[d.name].alt for d in drawn(result_of(name)))


@pytest.mark.parametrize("name", ["everyday_deck", "boards_only", "us_lag_deck"])
def test_every_study_picture_keeps_to_the_frame(name: str) -> None:
    for key, picture in study_pictures(name).items():
        assert not list(outside(picture)), key
        assert not list(overlaps(picture)), key


@pytest.mark.parametrize("name", ALL)
def test_every_kind_of_picture_is_there(name: str) -> None:
    kinds = {key.split("-")[0] for key in pictures(name)}
    assert {"elevation", "section", "bars"} <= kinds
    if result_of(name).handed_on.panels:
        assert "stress" in kinds
    if mount_forces(result_of(name).sound):
        assert {"plan", "chain"} <= kinds


def test_names_are_identifiers_and_each_is_used_once() -> None:
    for name in ALL:
        keys = [d.name for d in drawn(result_of(name))]
        assert len(keys) == len(set(keys)) and all(re.fullmatch(r"[A-Za-z][A-Za-z0-9-]*", k) for k in keys)


@pytest.mark.parametrize("name", ALL)
def test_words_stay_inside_and_cover_no_others(name: str) -> None:
    for key, picture in pictures(name).items():
        assert not list(outside(picture)), key
        assert not list(overlaps(picture)), key


def boxes(picture: Picture) -> list[tuple[str, float, float, float, float]]:
    """Text and its estimated box."""
    found = []
    for e in root(picture).iter(f"{SVG}text"):
        size, text = float(e.get("font-size", svg.TEXT)), "".join(e.itertext())
        wide = svg.text_width(text, size)
        left = float(e.attrib["x"]) - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[e.get("text-anchor", "start")]
        y = float(e.attrib["y"])
        found.append((text, left, y - 0.75 * size, left + wide, y + 0.2 * size))
    return found


def outside(picture: Picture) -> Iterator[str]:
    x0, y0, w, h = (float(v) for v in root(picture).attrib["viewBox"].split())
    for text, left, top, right, bottom in boxes(picture):
        if left < x0 or right > x0 + w or top < y0 or bottom > y0 + h:
            yield text


def overlaps(picture: Picture) -> Iterator[tuple[str, str]]:
    for a, b in combinations(boxes(picture), 2):
        if min(a[3], b[3]) - max(a[1], b[1]) > TOUCH and min(a[4], b[4]) - max(a[2], b[2]) > TOUCH:
            yield a[0], b[0]


@pytest.mark.parametrize("name", ["everyday_deck", "au_laminated", "us_lag_deck"])
def test_the_same_job_gives_the_same_bytes(name: str) -> None:
    again = {d.name: d.draw().svg for d in drawn(check(job_of(name)))}
    assert again == {key: p.svg for key, p in pictures(name).items()}


def test_the_text_sheet_says_what_a_picture_shows() -> None:
    text = " ".join(text_sheet("everyday_deck").split())
    for picture in pictures("everyday_deck").values():
        assert " ".join(picture.alt.replace("\N{NO-BREAK SPACE}", " ").split()) in text


def test_a_us_sheet_has_no_millimetre_in_its_pictures() -> None:
    for picture in (*pictures("us_lag_deck").values(), *study_pictures("us_lag_deck").values()):
        for text in (*texts(picture), picture.alt):
            assert not re.search(r"\bmm\b|\bkN|\bMPa\b", text), text


# ---------------------------------------------------------------- drawn where the job says


@pytest.mark.parametrize("name", ["everyday_deck", "boards_only", "us_lag_deck", "packer", "off its mark"])
def test_screws_stand_in_the_plan_as_in_the_job(name: str) -> None:
    mount = result_of(name).job.mounts[0]
    picture = pictures(name)["plan-M1"]
    for a, b in combinations(mount.screws, 2):
        there = [np.array(number(named(picture, f"screw {s.name}"), "cx", "cy")) for s in (a, b)]
        wanted = np.array([float(b.x.x) - float(a.x.x), float(a.y.x) - float(b.y.x)])  # up the page is towards the drop side
        assert np.allclose((there[1] - there[0]) / scale(picture), wanted, atol=2 * PIXEL / scale(picture))


def test_moving_a_screw_moves_its_circle_and_no_other() -> None:
    job = job_of("everyday_deck")
    moved = check(job.with_({"mounts.M1.screws.S1.x": "-20 mm"}))
    before, after = pictures("everyday_deck")["plan-M1"], plan.draw(moved.sound, moved.tables, "M1")
    assert scale(before) == scale(after)
    for name, step in (("S1", 15.0), ("S2", 0.0), ("S3", 0.0)):
        x = [number(named(p, f"screw {name}"), "cx")[0] for p in (before, after)]
        assert (x[1] - x[0]) / scale(before) == pytest.approx(step, abs=2 * PIXEL / scale(before))


def test_a_wider_panel_is_wider_and_a_mount_off_the_middle_stands_there() -> None:
    for name in ("everyday_deck", "wide, far mounts", "narrow", "three_clamps_laminated"):
        result = result_of(name)
        panel = result.job.panels[0]
        picture = pictures(name)[f"elevation-{panel.name}"]
        glass = named(picture, f"glass {panel.name}")
        x, width, height = number(glass, "x", "width", "height")
        close = 4 * PIXEL / scale(picture)
        assert width / scale(picture) == pytest.approx(float(panel.width.x), abs=close)
        assert height / scale(picture) == pytest.approx(float(panel.height.x), abs=close)
        for mount in result.job.mounts:
            px, pw = number(named(picture, f"plate {mount.name}"), "x", "width")
            assert (px + pw / 2 - x) / scale(picture) == pytest.approx(float(mount.x.x), abs=close)
    wide, narrow = pictures("wide, far mounts")["elevation-P1"], pictures("narrow")["elevation-P1"]
    aspect = [np.divide(*number(named(p, "glass P1"), "width", "height")) for p in (wide, narrow)]
    assert aspect[0] == pytest.approx(12 * aspect[1], rel=0.005)


def test_loads_stand_at_their_height() -> None:
    result = result_of("everyday_deck")
    picture = pictures("everyday_deck")["elevation-P1"]
    case = next(c for c in elevation.cases(result.sound, result.job.panels[0]) if c.action.kind == "line")
    y, height = number(named(picture, "glass P1"), "y", "height")
    line = number(named(picture, "load A"), "y1")[0]
    assert (y + height - line) / scale(picture) == pytest.approx(float(case.height.x), abs=4 * PIXEL / scale(picture))


@pytest.mark.parametrize("name", ["everyday_deck", "boards_only", "short screws", "us_lag_deck", "three_clamps_laminated"])
def test_a_screw_ends_where_it_ends(name: str) -> None:
    result = result_of(name)
    mount = result.job.mounts[0]
    picture = pictures(name)[f"section-{mount.name}"]
    y = corners(named(picture, f"screw {mount.screws[0].name}"))[:, 1]
    assert (y.max() - y.min()) / scale(picture) == pytest.approx(float(mount.screw.length.x), abs=3 * PIXEL / scale(picture))
    s = stand(result.job, result.tables, mount)
    piece = next((e for e in root(picture) if e.get("data-what") == "piece 1"), None)
    if piece is not None:
        into = (y.max() - number(piece, "y")[0]) / scale(picture)
        assert into == pytest.approx(section.into_timber(s), abs=3 * PIXEL / scale(picture))
        assert any("DO NOT REACH" in t for t in texts(picture)) == (into <= 0.0)


def test_pieces_have_their_breadth_and_depth_and_follow_the_mount() -> None:
    for name in ("everyday_deck", "off its mark", "us_lag_deck"):
        job = result_of(name).job
        mount, block = job.mounts[0], job.blocking["B1"]
        picture = pictures(name)["section-M1"]
        x, w, h = number(named(picture, "piece 1"), "x", "width", "height")
        plate_x, plate_w = number(named(picture, "plate M1"), "x", "width")
        close = 4 * PIXEL / scale(picture)
        assert w / scale(picture) == pytest.approx(float(block.laid_breadth.x), abs=close)
        assert h / scale(picture) == pytest.approx(float(block.laid_depth.x), abs=close)
        left = -float(mount.offset.x) - int(block.pieces) * float(block.laid_breadth.x) / 2
        assert (x - plate_x - plate_w / 2) / scale(picture) == pytest.approx(left, abs=close)


def test_mounts_that_stand_and_fare_alike_are_drawn_once() -> None:
    assert [k for k in pictures("everyday_deck") if k.startswith(("plan", "section"))].count("plan-M1") == 1
    assert "plan-M2" not in pictures("everyday_deck") and "plan-M2" in pictures("three_clamps_laminated")
    assert {"section-M1", "section-M2"} <= set(pictures("off its mark"))


# ---------------------------------------------------------------- drawn as the result says


def test_the_plan_shows_what_the_contact_found() -> None:
    for name in ("everyday_deck", "three_clamps_laminated", "garden_deck"):
        result = result_of(name)
        forces = mount_forces(result.sound)[0]
        corner = worst_corner(forces)
        assert corner is not None
        picture = pictures(name)["plan-M1"]
        area = 0.0
        for e in root(picture):
            if e.get("data-what") == "in contact":
                area += abs(moments(corners(e)).A) / scale(picture) ** 2
        hole = forces.model.mount.service_hole
        cut = np.pi * float(hole.diameter.x) ** 2 / 4 if hole is not None else 0.0
        assert 0.998 * corner.contact.area <= area <= 1.002 * corner.contact.area + cut  # the hole lies in what is hatched
        said = texts(picture)
        for screw, T in zip(forces.model.screws, corner.contact.T, strict=True):
            pull = figure_of(Value(float(T), "force", forces.M_Ed.origin), 0, result.job.units, FRONT).text
            assert (pull if T > 0.5 else "no pull") in said, (screw.name, pull)


def test_no_equilibrium_is_said_and_draws_no_contact() -> None:
    picture = pictures("boards_only")["plan-M1"]
    assert any("NO EQUILIBRIUM" in t for t in texts(picture))
    assert not [e for e in root(picture) if e.get("data-what") == "in contact"]


@pytest.mark.parametrize("name", [n for n in NAMES if n != "everything"])
def test_the_peak_of_the_map_is_the_demand_of_the_sheet(name: str) -> None:
    result = result_of(name)
    solved = result.handed_on.panels[0]
    peak = stress_map.governing_of(result.sound, solved)
    assert peak is not None and peak.check.demand is not None
    demand = peak.check.demand.at(peak.check.station)
    x, y, stress = stress_map.field_of(peak)
    at = peak.at
    there = solved.solutions[at.set].principal_stress(at.face, np.array([at.x]), np.array([at.y]))[at.case, 0, 0]
    assert peak.factor * there == pytest.approx(demand, rel=0.002)
    assert peak.check.where.startswith(solved.cases[at.case].title)
    for words in (*map(str, solved.sets[at.set]), stress_map.FACES[at.face], stress_map.ZONES[at.zone]):
        assert words in peak.check.where
    picture = pictures(name)[f"stress-{solved.panel.name}"]
    cx, cy = number(named(picture, "peak"), "cx", "cy")
    gx, gy, gh = number(named(picture, f"glass {solved.panel.name}"), "x", "y", "height")
    close = 4 * PIXEL / scale(picture)
    assert (cx - gx) / scale(picture) == pytest.approx(at.x, abs=close)
    assert (gy + gh - cy) / scale(picture) == pytest.approx(at.y, abs=close)
    assert f"peak {figure_of(peak.check.demand, peak.check.station, result.job.units, FRONT).text}" in texts(picture)
    if peak.check.id.startswith("glass.face"):
        assert len(x) > 60 and len(y) > 60 and float(stress.max()) <= 1.2 * demand


def test_bars_are_as_long_as_the_utilisation() -> None:
    picture = pictures("everyday_deck")["bars"]
    for c in result_of("everyday_deck").sound.checks:
        found = [e for e in root(picture) if e.get("data-what") == f"bar {c.id}"]
        if found and c.eta is not None:
            assert number(found[0], "width")[0] == pytest.approx(min(c.eta, 1.0) * bars.ONE, abs=2 * PIXEL)


def test_the_chain_marks_the_weakest_link() -> None:
    said = texts(pictures("garden_deck")["chain-M1"])
    assert [t for t in said if "THE WEAKEST OF THESE" in t]
    required = [c for c in result_of("garden_deck").sound.checks if c.standing is Standing.REQUIRED]
    checks = {c.id: c.eta or 0.0 for c in required if c.id.endswith(".M1")}
    worst = max(checks, key=lambda k: checks[k])
    title = next(c.title for c in result_of("garden_deck").sound.checks if c.id == worst)
    assert f"({title}, {checks[worst]:.2f})" in pictures("garden_deck")["chain-M1"].alt


def test_a_missing_screw_is_drawn_as_missing() -> None:
    result = check(job_of("everyday_deck").with_({"mounts.M1.screws.S1.present": False}))
    picture = section.draw(result.sound, result.tables, "M1")
    assert any("S1" in t and "Missing" in t for t in texts(picture))
    assert "stroke-dasharray" in named(plan.draw(result.sound, result.tables, "M1"), "screw S1").attrib


# ---------------------------------------------------------------- hostile words


HOSTILE = """<script>alert("1")</script> & 'x' ]]> <!--"""


def test_words_of_the_job_stay_words() -> None:
    sketch = svg.Sketch()
    sketch.text(1.0, 10.0, HOSTILE)
    sketch.rect(0, 0, 1, 1, "ink", what=HOSTILE)
    tree = ElementTree.fromstring(sketch.svg())
    assert [e.tag for e in tree] == [f"{SVG}text", f"{SVG}rect"]
    assert tree[0].text == HOSTILE and tree[1].get("data-what") == HOSTILE
    situation = [{"name": HOSTILE, "set": {"site.service_class": 2}}]
    job = job_of("everyday_deck").with_({"title": HOSTILE, "situations": situation, "decking.material": {"en": "C24"}})
    for d in drawn(check(job)):
        assert not [e for e in ElementTree.fromstring(d.draw().svg).iter() if e.tag.endswith("script")]
    study = faults(job)
    for b in faults_content(study).blocks:
        if isinstance(b, Drawing):
            ElementTree.fromstring(b.draw().svg)


def test_a_long_word_is_broken() -> None:
    lines = svg.broken("x" * 400, 100.0)
    assert "".join(lines) == "x" * 400 and max(svg.text_width(line) for line in lines) <= 100.0
