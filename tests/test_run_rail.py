"""A whole run under a rail: each side one job in line, every panel lost in turn, its rows on the cover, what is open and said."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import pytest
from conftest import ROOT
from decks import laid_out

from barrier import sheet
from barrier.basis import basis_named
from barrier.errors import JobRefused
from barrier.job import Job
from barrier.job.read import job_from_text
from barrier.job.run_file import run_from_text
from barrier.links.loads.actions import actions
from barrier.links.memo import SHARED
from barrier.links.rail.rail import rail as rail_link
from barrier.links.under_rail import Line, line_of, lost_panels
from barrier.links.walk import Walk
from barrier.result import SOUND, Check, Ending, LinkResult, Standing
from barrier.run.conflicts import Kind, Weight
from barrier.sheet.runs import first, tables
from barrier.tables import Tables
from barrier.whole_run import CheckedRun, LaidOut, check_run, lay_out, unchecked
from barrier.whole_run.rails import job_of

FILE = ROOT / "worked_examples" / "runs" / "rail_deck.toml"
TEXT = FILE.read_text(encoding="utf-8")
CORNER = (ROOT / "worked_examples" / "runs" / "corner_deck.toml").read_text(encoding="utf-8")
TABLES, MEMO = Tables(), SHARED
END = '[run.sides.rail.end]\nfixing = "free"                 # stops in the air\n'
BRACKET = END.replace('"free"', '"bracket"') + 'holds = "2.5 kN"\nmeaning = "design"\nreference = "invented"\n'
RAIL = TEXT[TEXT.index("[rail] ") : TEXT.index("[mount_types.post]")]


def laid(*changes: tuple[str, str]) -> LaidOut:
    """The deck with pieces of its text exchanged; every piece has to be there."""
    return laid_out("rail_deck", *changes)


@cache
def checked() -> CheckedRun:
    return check_run(laid())


def side_job(of: LaidOut, way: int = 0) -> Job:
    """The job of the first side under its rail."""
    own = [c for c in of.conditions if c.side == of.sides[0].name]
    return of.file.job(job_of(of.file, of.sides[0], own, way))


def link(job: Job) -> LinkResult:
    """The link of the rail alone."""
    walk = Walk(job, basis_named(job.basis, job.national, TABLES), TABLES, SOUND, MEMO)
    return rail_link(walk, actions(walk)[1])[0]


def by_id(made: LinkResult) -> dict[str, Check]:
    return {c.id: c for c in made.checks}


@dataclass
class Walked:
    """What a walk gives, without walking it."""

    ending: Ending
    governing: Any = None


# ---------------------------------------------------------------- a panel gone beside a free end


def test_a_panel_gone_beside_a_free_end_hangs_and_the_paper_says_what_a_bracket_would_do() -> None:
    """The cantilever: five times the even share and more; with a bracket, solved again with one, less than two."""
    ((side, result),) = checked().under_rail()
    lost = next(w for w in result.walked if w.situation.name == "panel A3 lost")
    shown = next(made for made in lost.links if made.id == "rail").shown
    free, held = (float(s.value.at(0)) for s in shown if s.value.symbol == "r_F")
    assert side.name == "A" and 5.0 <= free < 6.0 and held < 2.0
    page = _plain(sheet.run_text(checked()))
    assert f"panel A3 lost: {free:.1f} times; the same with a bracket at the right end, which is free: {held:.1f} times" in page
    # Not a figure of speech: the run whose file has that bracket has the same worst mount, to the last digit that counts.
    mended = link(side_job(laid((END, BRACKET))).with_(dict(lost.situation.changes)))
    assert [float(s.value.at(0)) for s in mended.shown if s.value.symbol == "r_F"] == pytest.approx([held], rel=1e-6)
    # By hand, the lever with nobody further to help: q W/2 + q L (W + L/2 - x)/(x1 - x2), W 880, L 900, mounts at 229 and 651.
    hand = 0.75 * 440 + 0.75 * 900 * (880 + 450 - 229) / (651 - 229)
    assert 0.8 < free * 0.75 * 440 / hand <= 1.05


def test_every_panel_is_lost_once_and_the_free_end_is_the_worst() -> None:
    ((_, result),) = checked().under_rail()
    assert [w.situation.name for w in result.walked] == ["sound", "panel A1 lost", "panel A2 lost", "panel A3 lost"]
    assert all(w.situation.standing is Standing.REQUIRED for w in result.walked)
    rail = checked().rows[-1]
    assert rail.condition.panels == ("A1", "A2", "A3") and rail.governing is not None and rail.decides
    assert rail.governing.id == "rail.grip" and rail.governs.endswith("with panel A3 lost")


def test_the_cover_has_a_row_for_each_condition_and_one_for_the_rail() -> None:
    run = checked()
    assert [r.condition.panels for r in run.rows] == [("A1", "A3"), ("A2",), ("A1", "A2", "A3")]
    ((_, result),) = run.under_rail()
    assert all(r.result is result for r in run.rows) and [name for name, _ in run.results()] == ["row_1"]
    for row in run.rows:
        assert row.seen and row.ending is Ending.EXCEEDS
    # Every required check of every walk stands in a row, and in one only.
    seen = [id(c) for row in run.rows for _, c in row.seen or ()]
    required = [id(c) for w in result.walked for c in w.checks if c.standing is Standing.REQUIRED]
    assert sorted(seen) == sorted(required)
    assert run.ending is result.ending is Ending.EXCEEDS


def test_a_rail_that_only_informs_decides_nothing() -> None:
    """As over laminated glass: its row says so, and the run ends as the other rows do."""
    informs = replace(checked().rows[-1], decides=False)
    assert informs.ending is Ending.EXCEEDS and informs.governs.endswith("for information, it does not decide")
    assert CheckedRun(checked().laid, (informs,)).ending is Ending.WITHIN


def test_a_mount_of_a_place_is_called_by_the_place() -> None:
    """A3 is described as A1 is; nobody is to look for the worst mount on the wrong panel."""
    page = _plain(sheet.run_text(checked()))
    assert "panel A3: A3-1" in page and "panel A3: A1-1" not in page and "A3 as A1" in _plain(sheet.text(checked().rows[0].result))  # type: ignore[arg-type]


# ---------------------------------------------------------------- the job a side becomes


def test_a_line_of_places_is_that_of_panels_described_one_by_one() -> None:
    """Each described by itself, or alike ones once: the rail is solved alike, whole and with a panel gone."""
    short, whole = side_job(laid()), job_from_text(laid().side_job("A"))
    assert len(short.panels) == 2 and len(whole.panels) == 3 and whole.rail is not None and not whole.rail.line
    lines = [line_of(j) for j in (short, whole)]
    assert all(isinstance(x, Line) for x in lines)
    assert [(p.start, p.width, p.name) for p in lines[0].places] == [(p.start, p.width, p.name) for p in lines[1].places]  # type: ignore[union-attr]
    for changes in [[dict(s.changes) for s in lost_panels(j, Standing.REQUIRED)] for j in (short, whole)][0:1]:
        own = [dict(s.changes) for s in lost_panels(whole, Standing.REQUIRED)]
        for one, other in zip(({}, changes[2]), ({}, own[2]), strict=True):
            a, b = by_id(link(short.with_(one))), by_id(link(whole.with_(other)))
            assert set(a) == set(b)
            assert [a[i].eta or 0.0 for i in a] == pytest.approx([b[i].eta or 0.0 for i in a], rel=1e-9)
            assert [a[i].ending for i in a] == [b[i].ending for i in a]


def test_a_tape_to_the_left_turns_the_rail_round() -> None:
    """Its start is then the right end, seen from the people side, and a joint counts from the other end."""
    joint = ("continuous = true               #", 'splices = [{ at = "930 mm" }]   #')
    right, left = laid(joint), laid(joint, ('tape = "to the right"', 'tape = "to the left"'))
    a, b = side_job(right).rail, side_job(left).rail
    assert a is not None and b is not None and a.left is not None and b.right is not None and b.left is not None
    assert (a.left.fixing, b.right.fixing, b.left.fixing) == ("bracket", "bracket", "free")
    # 930 lies in the middle of the first gap: 890 from the left of the first glass at 40; from the other end 2,680 - 890.
    assert float(a.splices[0].at.x) == 890 and float(b.splices[0].at.x) == 2680 - 890
    assert [p.name for p in a.line] == ["A1", "A2", "A3"] and [p.name for p in b.line] == ["A3", "A2", "A1"]
    made, turned = link(side_job(right)), link(side_job(left))
    assert by_id(made)["rail.bending"].eta == pytest.approx(by_id(turned)["rail.bending"].eta, rel=1e-5)


def test_a_joint_stays_in_its_gap_where_gaps_differ() -> None:
    """2,762 in place of 2,760: gaps of 21 and 21; 2,761: of 20 and 21, taken as 21; the joint in the middle of the second."""
    of = laid(
        ('length = "2760 mm"', 'length = "2761 mm"'), ("continuous = true               #", 'splices = [{ at = "1830 mm" }]   #')
    )
    job = side_job(of)
    assert job.rail is not None and set(of.sides[0].division.gaps) == {20, 21}
    line = line_of(job)
    assert isinstance(line, Line)
    between = (line.places[1].end, line.places[2].start)
    gap = [(a.strip.right, b.strip.left) for a, b in zip(of.sides[0].panels, of.sides[0].panels[1:], strict=False)][1]
    share = (1830 - gap[0]) / (gap[1] - gap[0])
    assert float(job.rail.splices[0].at.x) == pytest.approx(between[0] + share * (between[1] - between[0]))


def test_panels_with_the_same_neighbours_are_lost_once() -> None:
    """Nine alike but for the ends and both ends held alike: places 1, 2, 3 and the mirrored ones tell; 4, 5 and 6 are one."""
    of = laid(('length = "2760 mm"', 'length = "8160 mm"'), ("panels = 3", "panels = 9"))
    lost = [s.name for s in lost_panels(side_job(of), Standing.REQUIRED)]
    assert lost == [f"panel A{n} lost" for n in (1, 2, 3, 4, 7, 8, 9)]
    joint = laid(
        ('length = "2760 mm"', 'length = "8160 mm"'),
        ("panels = 3", "panels = 9"),
        ("continuous = true               #", 'splices = [{ at = "4530 mm" }]   #'),
    )
    assert "panel A5 lost" in [s.name for s in lost_panels(side_job(joint), Standing.REQUIRED)]


# ---------------------------------------------------------------- what is open


def findings(of: LaidOut) -> list[tuple[Weight, str]]:
    return [(c.weight, c.what) for c in of.conflicts if c.kind is Kind.RAIL]


def test_a_rail_that_is_named_and_not_described_says_what_to_ask() -> None:
    without = laid((RAIL, ""), (TEXT[TEXT.index("[run.sides.rail] ") : TEXT.index("[rail] ")], ""))
    (found,) = (c for c in without.conflicts if c.kind is Kind.RAIL)
    assert found.weight is Weight.OPEN and "[run.sides.rail]" in found.cure
    walks: list[Job] = []
    run = check_run(without, lambda job: walks.append(job) or Walked(Ending.WITHIN))  # type: ignore[func-returns-value,arg-type,return-value]
    assert run.ending is Ending.NOT_CHECKED and "[rail]" in run.rows[-1].why and all(j.rail is None for j in walks)
    assert len(walks) == len(run.rows) - 1 == 2


def test_an_end_nobody_looked_at_and_an_end_in_the_air() -> None:
    assert findings(laid()) == [
        (Weight.NOTE, "the end of the rail is held by nothing: with A3 gone it hangs over the opening on one panel")
    ]
    (unknown,) = findings(laid((END, "")))
    assert unknown[0] is Weight.OPEN and "what holds the end of the rail" in unknown[1]
    assert not findings(laid((END, BRACKET)))
    two = findings(laid(("panels = 3", "panels = 2"), ('length = "2760 mm"', 'length = "1860 mm"')))
    assert any("fewer than three panels" in what for _, what in two)
    joint = findings(laid((END, BRACKET), ("continuous = true               #", 'splices = [{ at = "1400 mm" }]   #')))
    assert len(joint) == 1 and "1400 mm lies on the glass of A2" in joint[0][1]


def test_the_row_of_a_rail_whose_end_nobody_looked_at_says_so() -> None:
    """Its finding stands beside it and its reason in it; panels are walked all the same, as if they had no rail."""
    of = laid((END, '[run.sides.rail.end]\nfixing = "unknown"\n'))
    row = check_run(of).rows[-1]
    assert row.ending is Ending.NOT_CHECKED and "what holds its right end" in row.governs and row.held_up == (1,)
    assert of.conflicts[0].kind is Kind.RAIL and of.conflicts[0].weight is Weight.OPEN


def test_a_side_that_is_too_long_or_has_a_mount_on_no_piece_is_not_walked_under_its_rail() -> None:
    long = laid(('length = "2760 mm"', 'length = "15360 mm"'), ("panels = 3", "panels = 17"))
    off = laid(('first_joist = "67 mm" ', 'first_joist = "269 mm" '))
    for of, words in ((long, "17 panels stand under one rail"), (off, "no piece of blocking")):
        run = check_run(of, lambda job: Walked(Ending.WITHIN))  # type: ignore[arg-type,return-value]
        assert words in run.rows[-1].why and run.rows[-1].ending is Ending.NOT_CHECKED is run.ending


def test_set_out_only_leaves_the_rail_not_checked() -> None:
    run = unchecked(laid())
    assert [r.ending for r in run.rows] == [Ending.NOT_CHECKED] * 3 and not list(run.under_rail())


CORNERED = CORNER.replace('rail = "none"', 'rail = "cap"').replace("[mount_types.post]\n", f"{RAIL}\n[mount_types.post]\n")
START = '[run.sides.rail]\ncontinuous = true\n[run.sides.rail.start]\nfixing = "corner"\n'
HELD = START + 'joined = {}\n[run.sides.rail.end]\nfixing = "free"\n'


def cornered(a: str, b: str, *changes: tuple[str, str]) -> LaidOut:
    """The deck with a corner under a rail, joined there or not by either side."""
    text = CORNERED.replace('[[run.sides]]\nname = "B"', f'{HELD.format(a)}[[run.sides]]\nname = "B"')
    text = text.replace("[[run.corners]]", f"{HELD.format(b)}[[run.corners]]")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return lay_out(run_from_text(text.encode(), "deck.toml"))


def test_a_corner_that_is_joined_holds_and_one_that_is_not_is_free() -> None:
    joined, apart = cornered("true", "true"), cornered("false", "false")
    assert sum("held by nothing" in what for _, what in findings(joined)) == 2  # the far ends
    assert sum("held by nothing" in what for _, what in findings(apart)) == 4
    a = side_job(joined).rail
    assert a is not None and a.left is not None and a.left.holding and a.right is not None and not a.right.holding
    alone = cornered("true", "true", ("panels = 3\n", "panels = 1\n"), ('length = "3100 mm"', 'length = "1200 mm"'))
    assert any(w is Weight.OPEN and "lies on B1 alone" in what for w, what in findings(alone))


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('rail = "cap"', 'rail = "none"', "rail", 'write rail = "cap" there'),
        (RAIL, "", "run.sides.A.rail", "write [rail]"),
        ("[rail] ", "[rail]\npanels = 3 # ", "rail.panels", "under [run.sides.rail]"),
        ("[rail] ", "[rail]\ncontinuous = true # ", "rail.continuous", "under [run.sides.rail]"),
        ('fixing = "free" ', 'fixing = "fre" ', "run.sides.A.rail.end.fixing", "free"),
        ('fixing = "free" ', 'fixing = "corner" ', "run.sides.A.length", 'its own end is "open"'),
        ('fixing = "free" ', 'holds = "2 kN"\nfixing = "bracket" ', "run.sides.A.rail.end.holds", "reference"),
        ("continuous = true ", 'continuous = true\nsplices = [{ at = "930 mm" }] ', "run.sides.A.rail.splices.1.at", "continuous"),
        ("continuous = true ", 'splices = [{ at = "9 m" }] ', "run.sides.A.rail.splices.1.at", "is not on the rail"),
        ("continuous = true ", "contiuous = true ", "run.sides.A.rail.contiuous", "continuous"),
        ('across = "40 mm"', 'across = "40"', "rail.across", "no unit"),
    ],
)
def test_what_is_wrong_with_a_rail_is_refused_where_it_stands(old: str, new: str, key: str, says: str) -> None:
    assert old in TEXT
    with pytest.raises(JobRefused) as refused:
        check_run(lay_out(run_from_text(TEXT.replace(old, new, 1).encode(), "deck.toml")))
    said = [f for f in refused.value.faults if f.key == key and says in f.text]
    assert said and said[0].line is not None, refused.value.faults


def test_rails_that_meet_at_a_corner_are_joined_or_not() -> None:
    with pytest.raises(JobRefused, match="disagrees with the rail of A"):
        cornered("true", "false")


def _plain(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_the_first_page_says_what_exceeds_panel_by_panel() -> None:
    run = checked()
    told = first.worst(run)
    for row in run.rows:
        said = f"{tables.run_of(row.condition.panels)}, {row.governs}"
        assert (row.ending is Ending.EXCEEDS) is (said in told)
    assert told and first.worst(unchecked(laid())) == ""
    informs = CheckedRun(run.laid, tuple(replace(row, decides=False) for row in run.rows))
    assert first.worst(informs) == ""
