"""A job as it is read: complete mounts, every number with its entry, assumptions that are listed, changes that hold."""

from __future__ import annotations

import hashlib
import pickle
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from barrier.errors import JobRefused
from barrier.job import Job, job_from_text, read_job
from barrier.job.entries import TableOfEntries
from barrier.job.schema import Blocking, EndFixing, File, Layer, MountType, Panel, Wind
from barrier.job.wind import LEADS
from barrier.job.written import sections
from barrier.units import INCH, UNITS
from barrier.value import JobEntry, Value

HERE = Path(__file__).parent
EVERYTHING = HERE / "data" / "jobs" / "everything.toml"
EXAMPLE = (HERE / "data" / "jobs" / "garden.toml").read_text(encoding="utf-8")
SAME = 1e-9  # relative; two spellings of one length differ by rounding of the conversion alone


@pytest.fixture
def job() -> Job:
    return job_from_text(EXAMPLE, "garden_deck.toml")


@pytest.fixture
def everything() -> Job:
    return read_job(EVERYTHING)


def values(table: object, path: str = "") -> Iterator[tuple[str, Value]]:
    """Every quantity of a job with its path in the model."""
    if isinstance(table, Value):
        yield path, table
    elif isinstance(table, TableOfEntries):
        for key in type(table).model_fields:
            yield from values(getattr(table, key), f"{path}.{key}")
    elif isinstance(table, tuple):
        for i, element in enumerate(table, 1):
            yield from values(element, f"{path}.{i}")
    elif isinstance(table, dict):
        for key, element in table.items():
            yield from values(element, f"{path}.{key}")


# ---------------------------------------------------------------- reading


def test_base_units_and_entries(job: Job) -> None:
    panel = job.panels[0]
    assert panel.width.x == 1000.0 and panel.width.kind == "length"
    assert job.wind is not None and job.wind.pressure is not None
    assert job.wind.pressure.x == pytest.approx(0.45e-3)
    origin = panel.width.origin
    assert isinstance(origin, JobEntry)
    assert (origin.path, origin.text, origin.defaulted) == ("panels.P3.width", "1000 mm", False)
    assert EXAMPLE.splitlines()[(origin.line or 0) - 1].startswith('width = "1000 mm"')


@pytest.mark.parametrize("path", [EVERYTHING, *sorted((HERE.parent / "worked_examples").glob("*.toml"))], ids=lambda p: p.stem)
def test_every_written_quantity_points_at_its_own_line(path: Path) -> None:
    """The line of an entry holds its key and its text: the line finder, over whole files."""
    lines = path.read_text(encoding="utf-8").splitlines()
    seen = 0
    for _, value in values(read_job(path)):
        entry = value.origin
        assert isinstance(entry, JobEntry)
        if entry.line is not None and not entry.defaulted:
            key, line = entry.path.rsplit(".", 1)[1], lines[entry.line - 1]
            assert f'{key} = "{entry.text}"' in line or (value.kind == "ratio" and f"{key} = {entry.text}" in line), entry
            seen += 1
    assert seen > 60


def test_every_entry_of_an_invented_job_says_so(everything: Job) -> None:
    for path, value in values(everything):
        assert isinstance(value.origin, JobEntry) and value.origin.invented, path
    real = job_from_text(EXAMPLE.replace("invented = true", "invented = false", 1))
    assert not any(v.origin.invented for _, v in values(real) if isinstance(v.origin, JobEntry))


def test_a_mount_is_complete(job: Job) -> None:
    for mount in job.mounts:
        assert mount.plate.along.x == 150.0 and mount.screw.length.x == 180.0 and len(mount.screws) == 4
        assert mount.rating is not None and mount.rating.tested == 5 and mount.rating.rotation_stiffness is None
        assert job.blocking[str(mount.blocking)].pieces == 2
    assert job.mounts_of(job.panels[0]) == job.mounts
    assert job.panel_of(job.mounts[1]) is job.panels[0]
    assert job.blocking["B2"].width.x == 95.0  # same as B1


def test_everything_is_expressible(everything: Job) -> None:
    long, channel = everything.panels
    assert [layer.glass for layer in long.layers] == ["heat-strengthened", "toughened"]
    assert long.layers[1].nominal.x == pytest.approx(3 / 8 * INCH)
    assert long.interlayer is not None and long.interlayer.kind == "PVB"
    assert channel.layers[0].glass == "annealed"  # unknown: the weakest
    assert [float(layer.nominal.x) for layer in channel.broken if layer.nominal is not None] == [4.0]
    m1, m2, m3, rail = everything.mounts
    assert (m1.support, m1.restraint, m1.earthed) == ("edge joist", "strap at each joist", "yes")
    assert m2.screw.length.x == 160.0 and m2.screw.diameter.x == 8.0 and m1.screw.length.x == 100.0
    assert [s.name for s in m2.screws] == ["A", "B"] and not m2.screws[0].present
    assert m2.screws[0].angle.x == pytest.approx(0.08726646)
    assert m3.support == "decking only" and m3.in_bay.x == 225.0 and m3.rating is None
    assert m1.plate.across.x == 110.0 and m1.screw.tip.x == 8.0  # round plate; one diameter
    assert rail.pads[0].width.x == channel.width.x
    flat, across = everything.blocking["flat"], everything.blocking["across"]
    assert (flat.laid_breadth.x, flat.laid_depth.x) == (195.0, 45.0)
    assert (across.laid_breadth.x, across.laid_depth.x) == (45.0, 195.0)
    assert across.pieces == 4 and across.length.x == 405.0 and across.ties is not None
    assert flat.material == {} and everything.decking.material == {"en": "C24"}
    assert everything.decking.board_screws is not None and everything.decking.gap_under is None
    assert everything.date == "2026-11-03"
    assert everything.situations[0].set == {"mounts.M3": None}


def test_everything_means_every_key_of_the_schema(everything: Job) -> None:
    """The file of the test misses nothing the schema has, so the tests over it are tests over the whole schema."""
    written: dict[type[TableOfEntries], set[str]] = {}
    for section in (everything._origin.source, everything._origin.raw):
        for s in sections(section):
            if s.model is not None:
                written.setdefault(s.model, set()).update(s)
    for table in (*written, MountType, Layer, Blocking, EndFixing):
        # Of the entries that lead the wind a job has one.
        not_wanted: dict[type[TableOfEntries], set[str]] = {
            File: {"tables"},
            Wind: set(LEADS) - {"pressure"} | {"from_end"},
            Panel: {"place"},
        }
        missing = set(table.model_fields) - written.get(table, set()) - not_wanted.get(table, set())
        assert not missing, f"{table.__name__}: {missing}"


def test_raw_text_and_fingerprint(job: Job) -> None:
    assert job.text == EXAMPLE.encode()
    assert job.fingerprint() == hashlib.sha256(EXAMPLE.encode()).hexdigest()[:12]
    assert job.raw["mounts"][1]["screw"]["root"] == "5.4 mm" and "mount_types" not in job.raw
    assert job.raw["blocking"]["B2"]["left"]["fixing"] == "bracket"
    assert "angle" not in job.raw["mounts"][0]["screws"][1]  # a default is not written


def test_entries_by_name_and_by_number(job: Job) -> None:
    assert job.entry("mounts.1.screws.2.x") is job.entry("mounts.M1.screws.S2.x")
    assert job.entry("site.use").text == "A2"
    assert job.entry("loads.line").text == "not given"
    assert job.entry("mounts.M1.screws.S2.present").defaulted
    for path, near in (("mounts.M1.screws.S2.presnt", "present"), ("blocking.B3.pieces", "B2"), ("mounts.9.x", "M1, M2")):
        with pytest.raises(JobRefused, match=near):
            job.entry(path)


# ---------------------------------------------------------------- one job in two systems of units

IN_US = {"mm": "in", "m": "ft", "kN": "lbf", "kN/m2": "lbf/ft2", "MPa": "psi", "N/mm3": "lbf/in3", "kN m": "lbf ft", "kg": "lb"}


def test_the_same_job_in_inches_is_the_same_job(job: Job) -> None:
    def in_us(match: re.Match[str]) -> str:
        number, unit = float(match[1]), match[2]
        other = IN_US[unit]
        return f'"{number * UNITS[unit].factor / UNITS[other].factor!r} {other}"'

    units = "|".join(sorted(IN_US, key=len, reverse=True))
    text, count = re.subn(rf'"(-?[0-9.]+) ({units})"', in_us, EXAMPLE)
    assert count > 60
    other = dict(values(job_from_text(text)))
    mine = dict(values(job))
    assert other.keys() == mine.keys()
    for path, value in mine.items():
        assert other[path].x == pytest.approx(value.x, rel=SAME, abs=SAME), path
        assert other[path].kind == value.kind


# ---------------------------------------------------------------- assumed, unknown, unread


def test_no_default_is_silent(everything: Job) -> None:
    """Every value that no line of the file holds is in the list of assumptions, with a reason."""
    listed = {a.path for a in everything.assumptions()}
    for path, value in values(everything):
        entry = value.origin
        assert isinstance(entry, JobEntry)
        written = entry.line is not None and not entry.defaulted
        assert written != (entry.path in listed), path
    assert all(a.defaulted and a.reason for a in everything.assumptions())


def test_assumed_words_and_truths_are_listed_too(everything: Job) -> None:
    listed = {a.path: a for a in everything.assumptions()}
    assert listed["panels.channel.layers.1.glass"].text == "annealed"
    assert listed["panels.channel.drilled"].text == "false"
    assert listed["mounts.M3.support"].text == "decking only"
    assert listed["mounts.M3.in_bay"].text == "225 mm"
    assert listed["blocking.across.left.grain"].text == "end"
    assert "blocking.flat.left.grain" not in listed  # a bracket stands in no grain
    assert listed["mount_types.round.pads.2.stiffness"].text == "200 N/mm3"
    assert "900 N/mm3 is written" in listed["mount_types.round.pads.2.stiffness"].reason


def test_what_moves_the_result_most_comes_first() -> None:
    text = EXAMPLE.replace("service_class = 3\n", "").replace('laid = "upright"                # upright | flat\n', "")
    assert text != EXAMPLE
    paths = [a.path for a in job_from_text(text).assumptions()]
    assert paths[0] == "site.service_class" and paths.index("blocking.B1.laid") < paths.index("mount_types.deep.screws.S2.angle")


def test_unknowns_say_what_to_do(everything: Job) -> None:
    unknown = {u.path: u for u in everything.unknowns()}
    assert unknown["mount_types.round.screw.root"].reason == "measure the core between the threads"
    assert unknown["mount_types.round.screw.root"].line is not None
    assert unknown["mount_types.channel.screw.threaded"].text == "not given"
    assert {"site.treated_timber", "decking.gap_under", "blocking.flat.material", "mounts.M3.rating"} <= unknown.keys()
    assert all(u.reason for u in unknown.values())


def test_entries_nothing_uses_are_shown(everything: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    field = EndFixing.model_fields["torque"]
    monkeypatch.setattr(field, "json_schema_extra", {"used": False, "why": "loose pieces carry hardly any torque"})
    unread = {u.path: u for u in everything.unread()}
    assert unread["blocking.flat.left.torque"].text == "0.4 kN m"
    assert unread["blocking.flat.left.torque"].reason == "loose pieces carry hardly any torque"
    assert unread["mount_types.spare"].reason == "no mount refers to it"
    assert "mount_types.round" not in unread and "blocking.across" not in unread


def test_a_field_that_is_not_written_is_not_unread(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(EndFixing.model_fields["torque"], "json_schema_extra", {"used": False, "why": "x"})
    monkeypatch.setattr(EndFixing.model_fields["down"], "json_schema_extra", {"used": False, "why": "y"})
    unread = {u.path for u in job.unread()}
    assert unread >= {"blocking.B1.left.down", "blocking.B1.right.down"}
    assert not any(path.endswith(".torque") for path in unread)


# ---------------------------------------------------------------- changes


def test_changes_make_a_copy(job: Job) -> None:
    changed = job.with_({"mounts.1.screws.2.present": False, "blocking.B1.pieces": 1, "decking.gap_under": "4 mm"})
    assert [s.present for s in changed.mounts[0].screws] == [True, False, True, True]
    assert all(s.present for s in changed.mounts[1].screws) and all(s.present for s in job.mounts[0].screws)
    assert changed.decking.gap_under is not None and changed.decking.gap_under.x == 4.0
    assert job.blocking["B1"].pieces == 2 and changed.blocking["B1"].pieces == 1
    entry = changed.entry("decking.gap_under")
    assert (entry.text, entry.line, entry.reason) == ("4 mm", None, "changed for this calculation")
    assert changed.fingerprint() == job.fingerprint() and len(changed.changes) == 3


def test_a_change_reaches_what_the_file_would_reach(job: Job) -> None:
    assert job.with_({"blocking.B1.pieces": 1}).blocking["B2"].pieces == 1  # same as B1
    assert job.with_({"blocking.B2.pieces": 1}).blocking["B1"].pieces == 2
    longer = job.with_({"mount_types.deep.screw.length": "200 mm"})
    assert [m.screw.length.x for m in longer.mounts] == [200.0, 200.0]
    one = job.with_({"mounts.M2.screw.length": "200 mm"})
    assert [m.screw.length.x for m in one.mounts] == [180.0, 200.0]


def test_changes_add_up(job: Job) -> None:
    twice = job.with_({"mounts.M1.screws.S1.present": False}).with_({"mounts.M1.screws.S2.present": False})
    assert [s.present for s in twice.mounts[0].screws] == [False, False, True, True]
    back = twice.with_({"mounts.1.screws.1.present": True})
    assert [s.present for s in back.mounts[0].screws] == [True, False, True, True]


def test_things_are_taken_away(job: Job) -> None:
    assert job.with_({"wind": None}).wind is None
    assert job.with_({"mounts.M1.rating": None}).mounts[0].rating is None
    assert job.with_({"limits.top_movement": None}).limits.top_movement is None
    assert job.with_({"loads.line": None}).loads.line is None  # was not there: nothing to do
    lost = job.with_({"mounts.M2": None})
    assert [m.name for m in lost.mounts] == ["M1"]  # a clamp lost is a situation, no one-clamp panel
    with pytest.raises(JobRefused, match="no mount holds"):
        job.with_({"mounts.M2": None, "mounts.M1": None})


def test_tables_may_be_added(job: Job) -> None:
    given = job.with_({"loads.line": "1.5 kN/m", "loads.reference": "letter"})
    assert given.loads.line is not None and given.loads.line.x == 1.5
    hole = job.with_({"mounts.M1.service_hole": {"diameter": "22 mm"}})
    assert hole.mounts[0].service_hole is not None and hole.mounts[1].service_hole is None
    assert hole.mounts[0].service_hole.x.origin.defaulted  # type: ignore[union-attr]
    windless = job.with_({"wind": None}).with_({"wind.pressure": "0.6 kN/m2", "wind.reference": "letter"})
    assert windless.wind is not None and windless.wind.pressure is not None


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"mounts.M1.x": "20 mm"}, "beyond the end of the glass"),
        ({"mounts.M1.xx": "20 mm"}, "names the entry 'xx'"),
        ({"mounts.M3.x": "20 mm"}, 'did you mean "M2"'),
        ({"mounts.3.x": "20 mm"}, "there is M1, M2"),
        ({"decing.gap_under": "4 mm"}, 'did you mean "decking"'),
        ({"decking.gap_undr": None}, 'did you mean "gap_under"'),
        ({"blocking.B9.pieces": 2}, "there is B1, B2|did you mean"),
        ({"decking.gap_under.deep": 2}, "below a single entry"),
        ({"decking.gap_under": 4}, 'write "4 mm"'),
        ({"decking.gap_under": float("nan")}, "no number"),
        ({"site": None}, "is missing"),
        ({"mounts": None}, "is missing"),
        ({"mounts.M1.type": "other"}, "names the mount type"),
        ({"": 1}, "names the entry ''"),
    ],
)
def test_bad_changes_are_refused(job: Job, changes: dict[str, object], words: str) -> None:
    with pytest.raises(JobRefused, match=words):
        job.with_(changes)


def test_situations_are_tried_when_the_file_is_read() -> None:
    text = EXAMPLE + '[[situations]]\nname = "x"\nset = { "mounts.M1.screws.S9.present" = false }\n'
    with pytest.raises(JobRefused, match=r"situations\.1\.set cannot be made: .*'S9'.*S4"):
        job_from_text(text)


def test_situations_of_the_file_can_be_made(everything: Job) -> None:
    lost, broken = (everything.with_(s.set) for s in everything.situations)
    assert [m.name for m in lost.mounts] == ["M1", "M2", "rail"]
    assert len(broken.panels[0].layers) == 1 and broken.blocking["across"].material == {"en": "C16"}


def test_own_tables_lie_beside_the_job(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    path = tmp_path / "job.toml"
    path.write_text(EXAMPLE.replace('national = "uk"', 'national = "uk"\ntables = "mine"'), encoding="utf-8")
    assert read_job(path).tables_folder == tmp_path / "mine"


# ---------------------------------------------------------------- the house


def test_a_job_is_frozen(job: Job) -> None:
    with pytest.raises(ValueError, match="frozen"):
        job.title = "x"
    with pytest.raises(ValueError, match="frozen"):
        job.mounts[0].plate.shape = "round"


def test_a_job_crosses_processes(everything: Job) -> None:
    other = pickle.loads(pickle.dumps(everything))
    assert other.with_({"mounts.M1.x": "410 mm"}).mounts[0].x.x == 410.0
    assert [a.path for a in other.assumptions()] == [a.path for a in everything.assumptions()]


def test_reading_loads_no_heavy_library() -> None:
    code = "import sys, barrier.job, barrier.job.questions; print(*sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=HERE.parent).stdout
    assert not set(out.split()) & {"scipy", "sympy", "pint", "pandas", "matplotlib"}
