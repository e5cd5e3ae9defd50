"""The pages for teaching: words, figures and pictures of the ladder and of the faults say the same thing."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree

import pytest
from conftest import ROOT, job_named, result_of
from sheets import tokens

from barrier import sheet
from barrier.job import Job, read_job
from barrier.load_path import Walked
from barrier.sheet.blocks import Bullets, Content, Definitions, Drawing, Heading, Picture, Table
from barrier.sheet.content import front, job_words
from barrier.sheet.drawings import svg
from barrier.sheet.drawings.bars import bar
from barrier.sheet.drawings.faults import HARMLESS
from barrier.sheet.studies import changes, faults_content, ladder_content
from barrier.sheet.studies.ladder import CUT_OFF
from barrier.study import PLAIN_ENDS, Study, bracket_ends, faults, ladder, wood_and_ends

SVG = "{http://www.w3.org/2000/svg}"
JOBS = ["everyday_deck", "garden_deck", "boards_only", "us_lag_deck"]
PIXEL = 0.011  # units: coordinates are written with two decimals
COLUMN = 79.5 * 72 / 25.4  # points: half a page of the PDF less the gap between two pictures
READABLE = 7.0  # points: about the smallest print a page keeps


@cache
def job_of(name: str) -> Job:
    return read_job(ROOT / "tests" / "data" / "us_lag_deck.toml") if name == "us_lag_deck" else job_named(name)


@cache
def study_of(kind: str, name: str) -> Study:
    return {"ladder": ladder, "faults": faults}[kind](job_of(name))


@cache
def page(kind: str, name: str) -> Content:
    return {"ladder": ladder_content, "faults": faults_content}[kind](study_of(kind, name))


@cache
def drawn(kind: str, name: str) -> dict[str, tuple[str, Picture]]:
    """Caption and picture by name."""
    blocks = [b for b in page(kind, name).blocks if isinstance(b, Drawing)]
    return {b.name: (str(b.caption[0]), b.draw()) for b in blocks}


def walked(kind: str, name: str, situation: str) -> Walked:
    return next(w for w in study_of(kind, name).walked if w.situation.name == situation)


def mistakes(name: str) -> dict[str, tuple[str, Picture]]:
    """Caption and picture by the name of the mistake."""
    names = [w.situation.name for w in study_of("faults", name).walked]
    return {next(n for n in names if c.partition(". ")[2].startswith(f"{n}: ")): (c, p) for c, p in drawn("faults", name).values()}


def root(picture: Picture) -> ElementTree.Element:
    return ElementTree.fromstring(picture.svg)


def called(picture: Picture, what: str) -> list[ElementTree.Element]:
    return [e for e in root(picture) if e.get("data-what") == what]


def texts(picture: Picture) -> list[str]:
    return ["".join(e.itertext()) for e in root(picture).iter(f"{SVG}text")]


def half(picture: Picture) -> float:
    return float(root(picture).attrib["viewBox"].split()[2]) / 2


# ---------------------------------------------------------------- no equilibrium: words, figures and picture agree


@pytest.mark.parametrize("name", JOBS)
def test_a_mistake_that_tips_a_plate_says_so_once_and_shows_it(name: str) -> None:
    """In words if and only if a base plate has no equilibrium, once; as a figure where it had one before."""
    sound = study_of("faults", name).result.sound
    for w in study_of("faults", name).walked:
        caption, picture = mistakes(name)[w.situation.name]
        gone, before = changes.tipped(w), changes.tipped(sound)
        assert caption.count("no equilibrium") == bool(gone), caption
        assert not any("equilibrium" in t for t in (*texts(picture), picture.alt))
        if set(gone) - set(before):
            assert re.search(r"otation of the base plate of mount \w+: [^;]+ → lets go", caption), caption
        if gone and set(gone) <= set(before):
            assert "As before the mistake" in caption
        labels = [t for t in texts(picture) if t.startswith(("lets go", "plate balances"))]
        if labels:
            changed = next(p.split(".")[1] for p in w.situation.changes)
            assert [t.startswith("lets go") for t in labels] == [changed in before, changed in gone], w.situation.name


def test_one_screw_off_the_timber() -> None:
    """Numbers where there are some, and that they are of a plate without equilibrium: 1/2.06 of the push is balanced."""
    caption, _ = mistakes("everyday_deck")["one screw of M1 off the timber"]
    assert "Under the design load the base plates of mounts M1 and M2 have no equilibrium: they let go." in caption
    assert "ate of mount M1: 10.0 → lets go; bed under mount M1: 0.99 → 2.06" in caption
    reason = next(
        c.reason
        for c in walked("faults", "everyday_deck", "one screw of M1 off the timber").checks
        if c.id == "base_plate.rotation.M1"
    )
    assert "balances 0.49" in reason


@pytest.mark.parametrize("name", JOBS)
def test_what_lets_go_stands_before_what_does_not(name: str) -> None:
    study = study_of("faults", name)
    table = next(b for b in page("faults", name).blocks if isinstance(b, Table))
    by_name = {w.situation.name: w for w in study.walked}
    hurts = [changes.hurt(study.result.sound, by_name[str(row[1][0])]) for row in table.rows]
    assert hurts == sorted(hurts, reverse=True) and len(hurts) == len(study.walked)
    for row, (gone, _) in zip(table.rows, hurts, strict=True):
        assert bool(re.search(r"lets? go", str(row[2][0]).split(" → ")[0])) == gone, row


def test_neighbours_are_named_where_they_take_what_a_soft_mount_leaves() -> None:
    found = {n: c for n, (c, _) in mistakes("everyday_deck").items() if "goes to its neighbours" in c}
    assert set(found) == {"no spreader plate in M1", "glass not to full depth in M1"}
    assert all("base plate of mount M2 has no equilibrium" in c for c in found.values())


def test_a_mistake_off_the_mark_shows_the_edge_its_words_speak_of() -> None:
    for name in ("everyday_deck", "garden_deck"):
        caption, _ = mistakes(name)["M1 stands 30 mm off its mark"]
        assert "edge distance of the screws of mount M1" in caption.replace("Edge", "edge"), caption
    assert "per piece: 7.47 → none left" in mistakes("everyday_deck")["M1 stands 30 mm off its mark"][0]


def test_a_mistake_no_number_shows_is_not_called_harmless() -> None:
    caption, _ = mistakes("everyday_deck")["blocking unfixed at the left end"]
    assert caption.endswith(f"{HARMLESS[:1].upper()}{HARMLESS[1:]}.")


# ---------------------------------------------------------------- the rungs


def test_ends_are_called_rated_only_where_the_job_rates_them() -> None:
    garden, everyday = job_of("garden_deck"), job_of("everyday_deck")
    assert bracket_ends(garden) == "rated ends"
    assert bracket_ends(everyday) == "bracket ends, no rating given"
    partly = garden.with_({"blocking.B1.left": {"fixing": "bracket"}})
    assert bracket_ends(partly) == "bracket ends, not all rated"
    text = sheet.ladder_text(study_of("ladder", "everyday_deck"))
    assert "rated ends" not in text and "no rating given" in text and "The job states no rating of brackets" in text
    assert "states no rating" not in sheet.ladder_text(study_of("ladder", "garden_deck"))


@pytest.mark.parametrize("name", JOBS)
def test_ends_that_nothing_reaches_are_said_to_be(name: str) -> None:
    """The sign in the table and the words of the rung, both where a base plate above lets go, and nowhere else."""
    table = next(b for b in page("ladder", name).blocks if isinstance(b, Table))
    column = table.head.index("ends")
    said = [str(item[0]) + str(item[1:2]) for b in page("ladder", name).blocks if isinstance(b, Bullets) for item in b.items]
    for row in table.rows:
        w = walked("ladder", name, str(row[0][0]))
        on_pieces = bool(wood_and_ends(w.situation.name)[1])
        ends = str(row[column][0])
        assert (ends == changes.UNREACHED) == (on_pieces and bool(changes.tipped(w))), row
        assert not (on_pieces and ends == changes.NONE), row
        told = next(line for line in said if line.startswith(f"{w.situation.name}: "))
        assert (CUT_OFF in told) == (ends == changes.UNREACHED), told


def test_what_nobody_could_look_at_is_not_shown_as_not_there() -> None:
    """Garden deck on boards alone: not enough is known of them, so pull and tips are unknown."""
    table = next(b for b in page("ladder", "garden_deck").blocks if isinstance(b, Table))
    row = next(r for r in table.rows if r[0] == ("decking only",))
    shown = dict(zip(table.head, (str(c[0]) for c in row), strict=True))
    assert {shown[k] for k in ("pull", "both", "edges", "tips", "bearing", "ends")} == {"?"}


def test_a_joint_and_an_edge_are_what_one_solid_section_mends() -> None:
    told = changes.told(
        walked("ladder", "everyday_deck", f"three loose pieces, {PLAIN_ENDS}"),
        walked("ladder", "everyday_deck", f"one solid section, {PLAIN_ENDS}"),
        both_ways=True,
    )
    assert ("edge distance of the screws of mount M1, per piece", "7.47", "2.04") in told


# ---------------------------------------------------------------- signs that are not colour


def shapes(check_id: str, w: Walked) -> list[tuple[str, str]]:
    """Kinds of the shapes of a bar, without paint and place."""
    check = next(c for c in w.checks if c.id == check_id)
    sketch = svg.Sketch()
    bar(sketch, 4.0, 0.0, check)
    return [
        (e.tag.removeprefix(SVG), e.get("points", "").count(","))
        for e in ElementTree.fromstring(sketch.svg())
        if "text" not in e.tag
    ]


def test_a_bar_that_lets_go_is_drawn_otherwise_than_a_long_one() -> None:
    long = walked("ladder", "everyday_deck", "three loose pieces, bracket ends, no rating given")
    gone = walked("ladder", "everyday_deck", "two loose pieces, plain ends")
    assert shapes("base_plate.rotation.M1", long) != shapes("base_plate.rotation.M1", gone)
    for name, (_, picture) in drawn("ladder", "everyday_deck").items():
        words = [t for t in texts(picture) if t.startswith("lets go")]
        assert len(called(picture, "broken bar")) == 2 * len(words), name


# ---------------------------------------------------------------- the pictures of a pair


def halves(picture: Picture) -> tuple[list[str], list[str]]:
    """What is drawn on either side, moved to the same place, headings left out."""
    middle = half(picture)
    sides: tuple[list[str], list[str]] = ([], [])
    for e in root(picture):
        words = "".join(e.itertext())
        if words in ("as described", "with the mistake"):
            continue
        pairs = [p.split(",") for p in e.get("points", "").split()]
        xs = [float(e.attrib[k]) for k in ("x", "x1", "cx") if k in e.attrib] or [float(p[0]) for p in pairs]
        if not xs:
            continue  # a path of hatching
        right = min(xs) > middle + 1
        shift = middle if right else 0.0
        place = [
            f"{k}{float(v) - (shift if k in ('x', 'x1', 'x2', 'cx') else 0.0):.1f}" for k, v in e.attrib.items() if k in PLACES
        ]
        place += [f"{float(x) - shift:.1f},{float(y):.1f}" for x, y in pairs]
        sides[right].append(f"{e.tag} {' '.join(place)} {words}")
    return sides


PLACES = ("x", "y", "width", "height", "x1", "x2", "y1", "y2", "cx", "cy", "r")


@pytest.mark.parametrize("name", JOBS)
def test_the_two_pictures_of_a_pair_differ(name: str) -> None:
    for mistake, (_, picture) in mistakes(name).items():
        left, right = halves(picture)
        assert left and right and left != right, mistake


def test_end_grain_is_drawn_as_upright_fibres() -> None:
    picture = mistakes("everyday_deck")["screws of M1 into end grain"][1]
    fibres = called(picture, "fibre upright")
    assert len(fibres) > 3 and all(float(e.attrib["x1"]) == float(e.attrib["x2"]) > half(picture) for e in fibres)
    assert {"screws in end grain", "screws across grain"} <= set(texts(picture))


@pytest.mark.parametrize("mistake", ["screws a third shorter", "no spreader plate in M1", "glass not to full depth in M1"])
@pytest.mark.parametrize("name", ["everyday_deck", "garden_deck"])
def test_both_of_a_pair_stand_in_one_frame(name: str, mistake: str) -> None:
    """Only what was changed differs: glass, clamp, timber and plate have the same size and height on both sides."""
    picture = mistakes(name)[mistake][1]
    for what in ("layer of glass", "clamp", "piece 1", "decking", "plate M1"):
        found = called(picture, what)
        sides = [[e for e in found if (float(e.attrib["x"]) > half(picture)) == right] for right in (False, True)]
        assert len(sides[0]) == len(sides[1]) > 0, what
        for a, b in zip(*sides, strict=True):
            for key in ("y", "width", "height"):
                assert float(a.attrib[key]) == pytest.approx(float(b.attrib[key]), abs=2 * PIXEL), (what, key)


@pytest.mark.parametrize("name", JOBS)
def test_all_rungs_have_one_scale_and_a_whole_frame(name: str) -> None:
    pictures = [p for _, p in drawn("ladder", name).values()]
    assert len({root(p).attrib["data-units-per-mm"] for p in pictures}) == 1 and len(pictures) == 5
    for p in pictures:
        frame = called(p, "frame")[0]
        assert frame.tag == f"{SVG}rect"
        top = float(frame.attrib["y"])
        box = [float(v) for v in root(p).attrib["viewBox"].split()]
        assert box[1] < top and top + float(frame.attrib["height"]) < box[1] + box[3]
        plate = called(p, "plate M1")[0]
        assert float(plate.attrib["y"]) == pytest.approx(float(called(pictures[0], "plate M1")[0].attrib["y"]), abs=2 * PIXEL)


@pytest.mark.parametrize("kind", ["ladder", "faults"])
def test_a_caption_is_said_once_and_words_are_large_enough_two_pictures_a_row(kind: str) -> None:
    found = drawn(kind, "everyday_deck")
    captions = [c for c, _ in found.values()]
    assert len(set(captions)) == len(captions)
    for caption, picture in found.values():
        wide = float(root(picture).attrib["viewBox"].split()[2])
        assert svg.TEXT * COLUMN / wide >= READABLE
        assert not [t for t in texts(picture) if len(t) > 20 and t in caption]
        assert caption not in picture.alt and "→" not in picture.alt


# ---------------------------------------------------------------- what a newcomer needs


def defined(kind: str, name: str) -> str:
    blocks = [b for b in page(kind, name).blocks if isinstance(b, Definitions)]
    return "\n".join(f"{word}: {line[0]}" for b in blocks for word, line in b.rows)


@pytest.mark.parametrize(("kind", "words"), [
    ("ladder", ("M1, M2:", "glass:", "design load:", "lets go:", "↑:", "–:", "?:", "plain ends:", "bracket ends:", "tips:")),
    ("faults", ("M1, M2:", "glass:", "design load:", "lets go:", "none left:", "spreader:", "packer:", "grub screw:", "tips:")),
])  # fmt: skip
def test_words_and_signs_are_explained(kind: str, words: tuple[str, ...]) -> None:
    text = defined(kind, "everyday_deck")
    assert not [w for w in words if w not in text]
    assert "cap " not in text and "level strength is checked at" not in sheet.ladder_text(study_of("ladder", "everyday_deck"))


@pytest.mark.parametrize("kind", ["ladder", "faults"])
@pytest.mark.parametrize("name", JOBS)
def test_the_job_stands_on_the_page_in_tokens(kind: str, name: str) -> None:
    job, made = job_of(name), page(kind, name)
    on_page = [t.value for t in tokens(made)]
    mount, panel = job.mounts[0], job.panels[0]
    wanted = [panel.width, panel.height, panel.layers[0].nominal, mount.screw.diameter, mount.screw.length, job.decking.thickness]
    wanted += [mount.plate.along, mount.pads[0].width]
    for block in job.blocking.values():
        wanted += [block.laid_breadth, block.laid_depth]
    for value in wanted:
        assert any(float(v.x) == float(value.x) and v.kind == value.kind for v in on_page if not v.stations), value
    case = job_words.line_case(study_of(kind, name).result)
    assert case is not None and any(v is case.action.size for v in on_page) and any(v is case.height for v in on_page)
    assert ("The job this page stands on",) in [b.line for b in made.blocks if isinstance(b, Heading)]


def test_the_front_and_the_teaching_pages_say_the_panels_in_one_place() -> None:
    result = result_of("three_clamps_laminated")
    shown = [b for b in front._what_was_checked(result) if isinstance(b, Definitions)]
    line = dict(shown[0].rows)["Panels"]
    words = [part for part in line if isinstance(part, str)]
    assert words == [part for part in dict(job_words.standing(result))["Panels"] if isinstance(part, str)]


def test_a_job_whose_load_is_not_known_says_so() -> None:
    job = job_of("everyday_deck").with_({"national": None})
    said = dict(job_words.standing(ladder(job).result))["Load"]
    assert str(said[0]).startswith("NOT CHECKED")
