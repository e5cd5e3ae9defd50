"""A whole run from its file: the corner deck by hand, findings, distinct conditions, the paper, and designed refusals."""

from __future__ import annotations

import csv
import io
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from click.testing import CliRunner
from decks import laid_out
from hostile import runs

from barrier import sheet
from barrier.cli import main
from barrier.errors import JobRefused
from barrier.job.read import job_from_text, read_job
from barrier.job.run_file import read_run, run_from_text
from barrier.job.toml_text import toml
from barrier.load_path import check
from barrier.result import SOUND, Ending, Standing
from barrier.run.ask import Impossible
from barrier.run.conflicts import Kind, Weight
from barrier.run.lists import cut, mass
from barrier.run.side import MountRule, Piece, mounts_in
from barrier.sheet.runs import plan, to_scale
from barrier.sheet.runs.tables import all_tables, as_csv, set_out_table
from barrier.whole_run import CheckedRun, LaidOut, check_run, lay_out, unchecked
from barrier.whole_run.jobs import changes_of, stand_of

DECK = Path(__file__).resolve().parents[1] / "worked_examples" / "runs" / "corner_deck.toml"
TEXT = DECK.read_text(encoding="utf-8")


def deck(*changes: tuple[str, str]) -> LaidOut:
    """The corner deck, with pieces of its text exchanged; every piece has to be there."""
    return laid_out("corner_deck", *changes)


EQUAL = ("module = 2 ", "panels = 7 "), ('module_gap = "23 mm"\nmodule_edge = "228 mm"\n', ""), ("edge = 0.26 ", "edge = 0.25 ")


def kinds(laid: LaidOut, weight: Weight = Weight.CLASH) -> list[Kind]:
    return [c.kind for c in laid.conflicts if c.weight is weight]


# ---------------------------------------------------------------- the deck by hand


def test_glass_lines_and_panels() -> None:
    """7,200 - 165 and 3,100 - 118: the other side's offset; a filler of 665 and seven of 877, three of 957."""
    a, b = deck().sides
    assert (a.division.line, b.division.line) == (7035, 2982)
    assert [p.strip.width for p in a.panels] == [665] + [877] * 7
    assert [p.strip.width for p in b.panels] == [957] * 3 and b.division.gaps == (21, 20)
    assert a.panels[-1].strip.right == 6995 and a.division.closes and b.division.closes


def test_places_in_the_bay() -> None:
    """By hand for the first module: 946 + 142.5 - 900 - 22.5 = 166 from the joist's face, 131 and 204 to the ends of 405."""
    side = deck().sides[0]
    rows = {m.name: m.place for m in side.mounts}
    assert all(p is not None and p.piece == 405 for p in rows.values()) and len(side.pieces) == 16
    found = [(p.from_face, p.ends(deck().fixing)) for n in ("A1-1", "A1-2", "A2-1", "A2-2") if (p := rows[n])]
    assert found == [(285, (250, 85)), (230, (195, 140)), (166, (131, 204)), (137, (102, 233))]
    assert [p.from_face for n, p in rows.items() if n.endswith("-1") and n != "A1-1" and p] == [166] * 7


def test_equal_panels_do_not_go_with_equal_joists() -> None:
    """Nine of fourteen mounts at a quarter are outside their window; each finding says by how much and what would cure it."""
    laid = deck(*EQUAL)
    clashes = [c for c in laid.conflicts if c.kind is Kind.JOINT]
    assert [p.strip.width for p in laid.sides[0].panels] == [977] * 7
    assert sum(len(c.whom) for c in clashes) == 9 and all(c.what and c.cure and c.weight is Weight.CLASH for c in clashes)
    assert sum("joint of joist" in c.what for c in clashes for _ in c.whom) == 5


def test_two_mounts_stand_at_gaps_between_boards() -> None:
    """314 lies in 312..317 and 2,199 in 2,197..2,202: 432 and 2,317 from the deck's edge. And 5 of 100 under A."""
    found = [c for c in deck().conflicts if c.kind is Kind.BOARD]
    assert [c.whom for c in found if c.weight is Weight.CLASH] == [("B1-1",), ("B3-1",)]
    (note,) = (c for c in found if c.weight is Weight.NOTE)
    assert note.side == "A" and "5 of 100 mm" in note.what
    moved = deck(
        ("[[run.corners]]", "".join(f'[[run.singles]]\npanel = "{p}"\nnear = "264 mm"\n' for p in ("B1", "B3")) + "[[run.corners]]")
    )
    assert Kind.BOARD not in kinds(moved) and [m.at for m in moved.sides[1].mounts][::4] == [294, 2249]


def test_fall_and_mass() -> None:
    """70 mm over the run: a bottom gap of 60 + 70 = 130 at its end. 957 x 1040 x (16 x 2500 + 1.52 x 1100)e-9 = 41.5 kg."""
    (packers,) = (c for c in deck().conflicts if c.kind is Kind.PACKERS)
    assert "falls 70 mm" in packers.what and "130 mm" in packers.what
    assert deck().masses["B1"] == pytest.approx(0.957 * 1.040 * (0.016 * 2500 + 0.00152 * 1100))
    assert round(deck().masses["A1"]) == 29 and round(deck().masses["A2"]) == 38
    assert {p for c in deck().conflicts if c.kind is Kind.HEAVY for p in c.whom} == {f"A{i}" for i in range(2, 9)} | {
        "B1",
        "B2",
        "B3",
    }


def test_nominal_joists_with_nothing_to_spare_stay_open() -> None:
    """The filler's mount stands at the very edge of its window: 450 + 22.5 - ... = 0 mm to spare. Measured, it is open no more."""
    (found,) = (c for c in deck().conflicts if c.kind is Kind.UNMEASURED)
    assert found.whom == ("A1-1",) and found.weight is Weight.OPEN and "bay 1" in found.cure
    centres = ", ".join(f'"{22.5 + 450 * i} mm"' for i in range(17))
    measured = deck(('# measured = ["22.5 mm", "473 mm"]', f"measured = [{centres}]"))
    assert not [c for c in measured.conflicts if c.kind is Kind.UNMEASURED]


def test_a_module_is_offered_and_never_taken() -> None:
    """By hand 41 + g layouts for each gap g (the other test of modules): of 15 to 25 mm 671 in all."""
    with pytest.raises(JobRefused) as refused:
        deck(
            ('module_gap = "23 mm"\nmodule_edge = "228 mm"\n', ""),
            ('largest_gap = "25 mm"', 'largest_gap = "25 mm"\nleast_gap = "15 mm"'),
        )
    (fault,) = refused.value.faults
    assert fault.key == "run.sides.A.module" and fault.line and "671 layouts" in fault.text
    assert [f"\n  {i}. module_gap" in fault.text for i in range(1, 5)] == [True, True, True, False]
    assert fault.text.count("to spare") == 3


# ---------------------------------------------------------------- every kind can be found


PIPE = '[[run.sides.obstacles]]\nbegins = "700 mm"\nends = "760 mm"\nwhy = "a pipe"\n[[run.corners]]'
FINDINGS: dict[Kind, tuple[tuple[str, str], ...]] = {
    Kind.JOINT: EQUAL,
    Kind.EDGE: (('offset = "118 mm"', 'offset = "130 mm"'),),
    Kind.BOARD: (),
    Kind.NARROW: (*EQUAL, ('spacing = "450 mm"\nfirst_joist', 'spacing = "240 mm"\nfirst_joist')),
    Kind.UNEQUAL: (("[[run.corners]]", '[[run.singles]]\npanel = "B2"\nnear = "150 mm"\n[[run.corners]]'),),
    Kind.OPENING: (('end_clear = "40 mm"\npanels', 'end_clear = "120 mm"\npanels'),),
    Kind.GAP: (('panels = 3', 'widths = ["968 mm", "968 mm", "968 mm"]'),),
    Kind.HEIGHT: (),
    Kind.CORNER: (('start_clear = "30 mm"', 'start_clear = "10 mm"'), *EQUAL),
    Kind.OBSTACLE: (("[[run.corners]]", PIPE),),
    Kind.HEAVY: (),
    Kind.ALIKE: EQUAL,
    Kind.PACKERS: (),
    Kind.UNMEASURED: (),
    Kind.RAIL: (('rail = "none"', 'rail = "cap"'),),
    Kind.REACH: (),
}  # fmt: skip


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_of_finding(kind: Kind) -> None:
    """Each is found where it should be, says where, what and what cures it; and is not there without its cause."""
    found = [c for c in deck(*FINDINGS[kind]).conflicts if c.kind is kind]
    assert found and all(c.what and c.cure and c.side in "AB" for c in found)
    if FINDINGS[kind] and kind is not Kind.BOARD:
        assert kind not in [c.kind for c in deck().conflicts]


def test_opening_that_nobody_gave_is_not_checked() -> None:
    laid = deck(('opening = "100 mm" ', 'opening = "unknown" '))
    assert Kind.OPENING in kinds(laid, Weight.OPEN)


def test_loose_plies_put_screws_by_a_joint() -> None:
    """Three plies of 45 and rows at 35 from the middle: 67.5 - 57.5 - ... 12.5 mm from a joint, 24.5 short of 32 + 5."""
    laid = deck(('pieces = 1\nwidth = "145 mm"', 'pieces = 3\nwidth = "45 mm"'), ('laminated = "factory"', 'laminated = "loose"'),
                ('offset = "118 mm"', 'offset = "112.5 mm"'))  # fmt: skip
    found = [c for c in laid.conflicts if c.kind is Kind.EDGE and c.side == "A"]
    assert len(found) == 1 and "12.5 mm from an edge, 24.5 mm short of 37" in found[0].what


# ---------------------------------------------------------------- plain jobs and conditions


def test_every_side_expands_to_a_plain_job() -> None:
    """Eight panels on sixteen mounts; mirrored where the tape runs to the left: the mount nearest the datum is the rightmost."""
    a, b = (job_from_text(deck().side_job(n), "side.toml") for n in "AB")
    assert len(a.panels) == 8 and len(a.mounts) == 16 and a.joists.direction == "across"
    assert [float(m.in_bay.x) for m in a.mounts][:4] == [285, 230, 166, 137]
    assert [float(m.offset.x) for m in a.mounts][:1] == [-0.5]  # 45 + 145/2 = 117.5, and the glass stands 118 in
    first = b.mounts_of(b.panels[0])
    assert [m.name for m in first] == ["B1-2", "B1-1"] and [float(m.x.x) for m in first] == [249, 708]
    assert b.joists.direction == "along" and {float(m.in_bay.x) for m in b.mounts} == {120}
    assert [float(p.from_end.x) for p in a.panels if p.from_end][:2] == [30, 718]


def test_toml_is_read_back() -> None:
    base = read_run(DECK).base
    assert tomllib.loads(toml(base)) == base
    odd = {"a b": 'q"\\\n\tü', "x": [1, 2.5, True], "t": {"n": {"y": -3}}, "l": [{"a": {"b": 1}}, {}], "e": []}
    assert tomllib.loads(toml(odd)) == odd


@dataclass
class Walked:
    """What a walk of the load path gives, without walking it."""

    ending: Ending
    governing: Any = None


def endings(laid: LaidOut, *given: Ending) -> CheckedRun:
    answers = iter(given)
    return check_run(laid, lambda job: Walked(next(answers)))  # type: ignore[arg-type,return-value]


def test_each_distinct_condition_is_walked_once() -> None:
    jobs: list[Any] = []
    run = check_run(deck(), lambda job: jobs.append(job) or Walked(Ending.WITHIN))  # type: ignore[func-returns-value,arg-type,return-value]
    assert [r.condition.panels for r in run.rows] == [
        ("A1",), ("A2", "A3", "A4", "A5", "A6", "A7"), ("A8",), ("B1", "B3"), ("B2",),
    ]  # fmt: skip
    assert sorted(p for r in run.rows for p in r.condition.panels) == sorted(deck().masses) and len(jobs) == 5
    # The one of six that stands nearest to an end, where wind is highest, speaks for all: A7, 7,035 - 6,095 = 940; A2 718.
    assert [j.panels[0].name for j in jobs][1] == "A2" and float(jobs[1].panels[0].from_end.x) == 718
    assert all(len(j.panels) == 1 and len(j.mounts) == 2 for j in jobs)


def test_one_speaks_for_all_that_stand_alike() -> None:
    """A5, walked at its own place in the run, is no worse off in any required check than the one that speaks for it."""
    laid = deck()
    condition = laid.conditions[1]
    spoken = check(laid.file.job(condition.changes))
    own = check(laid.file.job(changes_of(laid.file, laid.sides[0], [stand_of(laid.sides[0], laid.sides[0].panels[4])])))
    worst, here = spoken.governing, own.governing
    assert worst is not None and here is not None and worst.eta and here.eta
    assert "A5" in condition.panels and here.eta <= worst.eta * (1 + 1e-9) and own.ending == spoken.ending
    assert len(own.sound.checks) == len(spoken.sound.checks)


def test_the_run_ends_as_its_worst_row() -> None:
    within, exceeds, unknown = Ending.WITHIN, Ending.EXCEEDS, Ending.NOT_CHECKED
    assert endings(deck(), within, within, within, within, exceeds).ending is exceeds
    rows = endings(deck(), *[within] * 5).rows
    assert [r.ending for r in rows] == [unknown, within, within, unknown, within]  # findings 1 to 3 stand against them
    assert endings(deck(), *[within] * 5).ending is unknown and unchecked(deck()).ending is unknown
    centres = ", ".join(f'"{22.5 + 450 * i} mm"' for i in range(17))
    clear = deck(('# measured = ["22.5 mm", "473 mm"]', f"measured = [{centres}]"), ('boards = "across"', 'boards = "along"'))
    assert not kinds(clear) and not kinds(clear, Weight.OPEN)
    assert endings(clear, *[within] * 5).ending is within


def test_a_mount_over_a_joist_is_no_job_and_not_left_out() -> None:
    """Equal panels put mounts over joists: their panels stay on the cover as not checked, with the reason."""
    laid = deck(*EQUAL)
    run = check_run(laid, lambda job: Walked(Ending.WITHIN))  # type: ignore[arg-type,return-value]
    assert sorted(p for r in run.rows for p in r.condition.panels) == sorted(laid.masses)
    open_rows = [r for r in run.rows if r.result is None]
    assert open_rows and all(r.why and r.ending is Ending.NOT_CHECKED and r.held_up for r in open_rows)


# ---------------------------------------------------------------- the paper


def test_set_out_closes_with_the_tape() -> None:
    """The column of the tape rises from the start to the end, and its last figure is the glass line."""
    for side in deck().sides:
        rows = set_out_table(deck(), side).rows
        at = [float(str(row[1][0])) for row in rows]
        assert at == sorted(at) and at[-1] == side.division.line and all("[" in str(row[2][0]) for row in rows)


def test_stock_is_cut_without_loss() -> None:
    """22 pieces of 405 with cuts of 4 mm: seven a length (7 x 409 = 2,863), four lengths."""
    bars = cut([q for s in deck().sides for q in s.pieces], 1, 3000, 4)
    assert [len(b.pieces) for b in bars] == [7, 7, 7, 1] and bars[0].left == 3000 - 7 * 409
    with pytest.raises(Impossible, match="longer stock"):
        cut([Piece("a", 0, 4000, 4000, ())], 1, 3000, 4)


def test_tables_as_files() -> None:
    for _, table in all_tables(unchecked(deck())):
        rows = list(csv.reader(io.StringIO(as_csv(table))))
        assert rows[0] == list(table.head) and len(rows) == len(table.rows) + 1
        odd = {cell for row in rows for cell in row if cell[:1] in ("=", "+", "-", "@")}
        assert all(float(cell) < 0 for cell in odd), odd  # numbers, and nothing a spreadsheet reckons with


@pytest.mark.parametrize("form", ["text", "markdown", "html"])
def test_the_paper_says_it_all(form: str) -> None:
    page = getattr(sheet, f"run_{form}")(unchecked(deck()))
    for word in ("CAUTION", "NOT CHECKED", "7035", "2982", "HOLD", "NOT TO BE CUT YET", "people side"):
        assert word in page, word


def test_clashes_are_ringed_on_overview_and_plan() -> None:
    """At the mounts they are about and nowhere else."""
    laid = deck()
    drawn = {d.name: d.draw().svg for s in laid.sides for d, _ in plan.drawings(laid, s)}
    for name, numbers in {"overview-A": {3}, "plan-A-1": {3}, "overview-B": {1, 2}, "plan-B-1": {1}, "plan-B-2": {2}}.items():
        assert {n for n in range(1, 4) if f'data-what="finding {n}"' in drawn[name]} == numbers, name


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_is_numbered_on_its_plan(kind: Kind) -> None:
    """Each finding of each kind has its number on the overview and on a page to scale of its side, on A4 and on A3."""
    laid = deck(*FINDINGS[kind])
    for side in laid.sides:
        want = {i for i, c in enumerate(laid.conflicts, 1) if c.side == side.name and c.kind is kind}
        for pages in ([plan.overview(laid, side)], *([d.draw() for d in to_scale.drawings(laid, side, p)] for p in ("a4", "a3"))):
            drawn = "".join(p.svg for p in pages)
            assert want == {i for i in want if f'data-what="finding {i}"' in drawn}, (kind, side.name)


ODD: dict[str, tuple[tuple[str, str], ...]] = {
    "as it is": (),
    "thirty metres": (*EQUAL, ('length = "7200 mm"', 'length = "30000 mm"'), ("panels = 7 ", "panels = 31 ")),
    "one panel of four metres": (*EQUAL, ("panels = 7 ", 'widths = ["4000 mm", "2900 mm"] '),
                                 ('largest_gap =', 'widest = "5000 mm"\nlargest_gap =')),
    "glass of two metres and a half": (('height = "1040 mm"', 'height = "2500 mm"'),
                                       ('barrier_height = "1100 mm" ', 'barrier_height = "2560 mm" ')),
    "a short side": (('length = "3100 mm"', 'length = "1100 mm"'), ("panels = 3", "panels = 1")),
}  # fmt: skip


@pytest.mark.parametrize("paper", ["a4", "a3"])
@pytest.mark.parametrize("odd", list(ODD))
def test_plans_keep_their_scale(odd: str, paper: str) -> None:
    """From the picture alone: the edges of glass apart in units, as wide as it is printed, make their distance on the deck."""
    laid = deck(*ODD[odd])
    for side in laid.sides:
        shown: list[str] = []
        for drawing in to_scale.drawings(laid, side, paper):
            drawn = drawing.draw()
            scale = int(re.search(r"1 : (\d+)", str(drawing.caption[0]))[1])  # type: ignore[index]
            box = re.search(r'viewBox="0 \S+ (\S+) (\S+)"', drawn.svg)
            assert box is not None and f"{to_scale.BAR * scale:g}" in drawn.svg
            mm = drawn.wide / float(box[1])  # of paper, to a unit
            assert drawn.wide <= to_scale.ROOM[paper] and float(box[2]) * mm <= to_scale.HIGH[paper]
            if drawing.name.endswith("-up"):
                continue
            for glass in re.finditer(r'<rect class="glass" x="(\S+)" y="\S+" width="(\S+)"[^>]*data-what="(\S+)"', drawn.svg):
                panel = next(p for p in side.panels if p.name == glass[3])
                assert float(glass[2]) * mm * scale == pytest.approx(panel.strip.width, abs=1.0)
                shown.append(panel.name)
        assert shown == [p.name for p in side.panels]


def test_a_tape_to_the_left_is_drawn_to_the_left() -> None:
    a, b = deck().sides
    assert plan.along(a, 0, 1000, 0).x(0) < plan.along(a, 0, 1000, 0).x(900)
    assert plan.along(b, 0, 1000, 0).x(0) > plan.along(b, 0, 1000, 0).x(900)


def test_from_the_shell(tmp_path: Path) -> None:
    """Set out only: not checked is 3; tables and plain jobs are written; a job that is there is never written over."""
    asked = ["run", str(DECK), "--no-check", "--expand", str(tmp_path / "jobs"), "--csv", str(tmp_path / "csv")]
    first = CliRunner().invoke(main, asked)
    assert first.exit_code == 3 and "NOT CHECKED" in first.output
    assert len(read_job(tmp_path / "jobs" / "side_A.toml").panels) == 8
    assert {p.name for p in (tmp_path / "csv").iterdir()} >= {"set_out_A.csv", "set_out_B.csv", "cut_list.csv", "cover.csv"}
    second = CliRunner().invoke(main, asked)
    assert second.exit_code == 2 and "already there" in second.output


def test_a_side_with_a_mount_outside_the_joists_is_no_plain_job(tmp_path: Path) -> None:
    """Three joists are measured and the side goes on: a clash on the paper, and a refusal with the mounts where it is expanded."""
    text = NO_RAIL.replace('# measured = ["67 mm", "517 mm"]', 'measured = ["67 mm", "517 mm", "967 mm"]')
    file = tmp_path / "short.toml"
    file.write_text(text, encoding="utf-8")
    told = CliRunner().invoke(main, ["run", str(file), "--no-check"])
    assert told.exit_code == 3 and "stands outside the joists" in " ".join(told.output.split())
    refused = CliRunner().invoke(main, ["run", str(file), "--no-check", "--expand", str(tmp_path / "jobs")])
    assert refused.exit_code == 2 and "run.sides.A is no plain job" in refused.output and not (tmp_path / "jobs").exists()


def test_a_run_is_no_plain_job() -> None:
    with pytest.raises(JobRefused, match="barrier run"):
        read_job(DECK)


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('measured_at = "deck edge"       # deck', '# deck', "run.sides.A.measured_at", "is missing"),
        ('length = "7200 mm"', 'length = 7200', "run.sides.A.length", "no unit"),
        ('tape = "to the left"', 'tape = "left"', "run.sides.B.tape", "to the left"),
        ('panels = 3\n', 'panels = 3\nmodule = 2\n', "run.sides.B.length", "2 ways"),
        ('panels = 3\n', 'panels = 30\n', "run.sides.B", "fewer panels"),
        ('panels = 3\n', 'panels = 1\n', "run.sides.B", "more panels"),
        ('panels = 3\n', 'widths = ["2 m", "2 m"]\n', "run.sides.B", "narrower panels"),
        ('panels = 3\n', 'widths = ["2 m", 7]\n', "run.sides.B.widths.2", "no unit"),
        ('panels = 3\n', 'widths = "2 m"\n', "run.sides.B.widths", "list"),
        ('other = "B"', 'other = "C"', "run.corners.1.other", "there is A, B"),
        ('end = "wall"', 'end = "corner"', "run.sides.B.end", "one corner belongs"),
        ('use = "piece" ', 'use = "pice" ', "run.blocking.use", 'did you mean "piece"'),
        ('type = "post"', 'type = "pots"', "run.mounts.type", 'did you mean "post"'),
        ('module_gap = "23 mm"', 'module_gap = "9 mm"', "run.sides.A.module", "no layout with gaps of 9 mm"),
        ('height = "1040 mm"', 'hieght = "1040 mm"', "run.panel.hieght", 'did you mean "height"'),
        ('thickness = "28 mm"', 'thickness = "28 m"', "decking.thickness", "outside the allowed"),
        ("[run.panel] ", "[[panels]]\nname = \"P\"\n[run.panel] ", "panels", "take it out"),
        ("[[run.corners]]", '[[run.singles]]\npanel = "B9"\n[[run.corners]]', "run.singles.1.panel", "B3"),
        ("[[run.corners]]", '[[run.singles]]\npanel = "B1"\nnear = "900 mm"\n[[run.corners]]', "run.sides.B", "other edge dist"),
        ("first_joist = ", "# first_joist = ", "run.sides.A.length", "no place of them"),
        ('spacing = "450 mm"\nfirst_joist', 'spacing = "433.3 mm"\nfirst_joist', "run.sides.A", "another number of bays"),
        ('spacing = "450 mm"\nrim = "45 mm"\nboards = "across"', 'boards = "across"', "run.sides.B.length", "give spacing"),
        ('name = "B"\nlength', 'name = "B2"\nlength', "run.sides.B2.name", "end it in a letter"),
        ("grooved = false", "groved = false", "decking.groved", 'did you mean "grooved"?'),
    ],
)  # fmt: skip
def test_refusals_say_where_and_what_to_do(old: str, new: str, key: str, says: str) -> None:
    assert old in TEXT
    with pytest.raises(JobRefused) as refused:
        lay_out(run_from_text(TEXT.replace(old, new, 1).encode(), "deck.toml"))
    said = [f for f in refused.value.faults if f.key == key and says in f.text]
    assert said and said[0].line is not None, refused.value.faults


# ---------------------------------------------------------------- random runs


def test_random_runs_are_set_out_or_refused_with_a_reason() -> None:
    """A slice of the sweep: nothing but a paper or a refusal that says what to change."""
    refused = sum(runs.of_a_file(n) for n in range(30))
    assert 0 < refused < 30
    assert 0 < sum(runs.of_numbers(n) for n in range(500)) < 500
    assert 0 < sum(runs.of_a_railed_file(n) for n in range(12)) < 12


def test_mounts_by_the_rule() -> None:
    assert mounts_in(1200, MountRule(0.26)) == (312, 888)
    assert mounts_in(1200, MountRule(0.26, 1100)) == (312, 600, 888)
    assert mass(1000, 1000, 12) == pytest.approx(30)


# ---------------------------------------------------------------- alike within what a tape gives


RAIL_DECK = DECK.with_name("rail_deck.toml").read_text(encoding="utf-8")
NO_RAIL = (
    RAIL_DECK[: RAIL_DECK.index("[run.sides.rail] ")] + RAIL_DECK[RAIL_DECK.index("[mount_types.post]") :]
).replace('rail = "cap"', 'rail = "none"')  # fmt: skip


@cache
def nearly(*joists: float, singles: str = "", widths: str = "") -> LaidOut:
    """Three panels on joists measured here and there by a few millimetres, no rail."""
    centres = ", ".join(f'"{67 + 450 * i + x} mm"' for i, x in enumerate(joists))
    text = NO_RAIL.replace('spacing = "450 mm"\nfirst_joist = "67 mm" ', f"measured = [{centres}]\n# ")
    text = text.replace("panels = 3", widths or "panels = 3").replace("[[run.sides]]", f"{singles}[[run.sides]]")
    return lay_out(run_from_text(text.encode(), "nearly.toml"))


NEAR = '[[run.singles]]\npanel = "A3"\nnear = "231 mm"\n'


def test_panels_alike_within_five_millimetres_are_one_condition() -> None:
    """Bays of 450 to 452 and a mount 2 mm off: two rows for three panels; a joist 7 mm off makes another."""
    assert [(c.panels, len(c.walks), len(c.members)) for c in nearly(0, 0, 1, 0, 0, 2, 0).conditions] == [
        (("A1", "A3"), 2, 2), (("A2",), 1, 0),
    ]  # fmt: skip
    both = nearly(0, 0, 1, 0, 0, 2, 0, singles=NEAR).conditions[0]
    assert both.panels == ("A1", "A3") and len(both.walks) == 4 and "alike within 5 mm" in both.words
    assert [c.panels for c in nearly(0, 0, 0, 0, 7, 0, 0).conditions] == [("A1",), ("A2",), ("A3",)]
    assert [c.panels for c in nearly(0, 0, 0, 0, 0, 0, 0).conditions] == [("A1", "A3"), ("A2",)]
    assert not nearly(0, 0, 0, 0, 0, 0, 0).conditions[0].members


def test_what_is_walked_for_alike_panels_is_no_better_than_any_of_them() -> None:
    """Every required check of every member is met by the walks, but for a hundredth; what governs by less than a thousandth."""
    laid = nearly(0, 0, 1, 0, 0, 2, 0, singles=NEAR)
    condition = laid.conditions[0]
    walks = [check(laid.file.job(w)) for w in condition.walks]
    worst = {
        c.id: max(x[c.id].eta or 0.0 for x in walks) for c in walks[0].sound.checks if c.standing is Standing.REQUIRED
    }  # fmt: skip
    compared = 0
    for changes in condition.members:
        own = check(laid.file.job(changes))
        name = own.job.panels[0].name
        for c in own.sound.checks:
            if c.standing is Standing.REQUIRED and c.eta is not None:
                compared += 1
                assert c.eta <= worst[c.id.replace(name, condition.speaks)] * 1.011 + 1e-3, c.id
        assert own.governing is not None and own.governing.eta is not None
        assert own.governing.eta <= max(x.governing.eta or 0.0 for x in walks if x.governing is not None) * 1.001
    assert compared > 100


def test_near_a_limit_every_one_of_alike_panels_is_walked_as_it_stands() -> None:
    """At 0.985 of a limit what they differ by may turn it; at 0.9 or beyond the limit it does not."""
    laid, walked = nearly(0, 0, 1, 0, 0, 2, 0), list[str]()

    def walks(eta: float) -> int:
        walked.clear()

        def walk(job: Any) -> Any:
            walked.append(job.panels[0].name)
            own = SimpleNamespace(eta=eta, rank=eta, standing=Standing.REQUIRED)
            return SimpleNamespace(
                ending=Ending.WITHIN, governing=own, walked=[SimpleNamespace(situation=SOUND, checks=[own])]
            )  # fmt: skip

        check_run(laid, walk)
        return len(walked)

    assert (walks(0.9), walks(0.985), walks(1.2)) == (3, 5, 3)
