"""The paper of a run: moves that were looked at, inside corners by hand, what stands on two pages, black print, words."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from decks import laid_out
from paper import words_of_pages
from pypdf import PdfReader

from barrier import sheet
from barrier.errors import JobRefused
from barrier.result import Ending
from barrier.run.bays import Boards, Fixing, joists_from
from barrier.run.conflicts import Kind, Limits, Weight, at_corner, of_side
from barrier.run.division import divide
from barrier.run.moves import MOST, STEP, least_move, moved, with_moves
from barrier.run.side import Ground, MountRule, SideSet, mounts_in, set_out
from barrier.sheet.blocks import Bullets, Caution, Heading, Table
from barrier.sheet.drawings.svg import IN_BLACK, PAINT, in_black
from barrier.sheet.formats.text import rendered
from barrier.sheet.runs import corner, first, footprint, tables, whole
from barrier.sheet.runs.content import APPENDIX, run_content
from barrier.whole_run import LaidOut, unchecked
from barrier.whole_run.from_file import limits_of

DECK = Path(__file__).resolve().parents[1] / "worked_examples" / "runs" / "corner_deck.toml"
TEXT = DECK.read_text(encoding="utf-8")
NO_MODULE = ("module = 2 ", "panels = 8 "), ('module_gap = "23 mm"\nmodule_edge = "228 mm"\n', "")
INSIDE = (*NO_MODULE, ('turn = "outside"', 'turn = "inside"'))
TAPES = (('tape = "to the right" ', 'tape = "to the X" '), ('tape = "to the left"', 'tape = "to the right"'),
         ('tape = "to the X" ', 'tape = "to the left" '))  # fmt: skip
LIMITS = Limits(5, 10, 100, 0.2, 0.3, 40, 33, 60, 1040, 1100, 100, 100, 17.52)
FIXING = Fixing(35, 35, 8, 80, 32)


def deck(*changes: tuple[str, str]) -> LaidOut:
    """The corner deck, with pieces of its text exchanged; every piece has to be there."""
    return laid_out("corner_deck", *changes)


# ---------------------------------------------------------------- moves


def test_the_two_mounts_at_gaps_move_with_their_pieces() -> None:
    """By hand: screws at 279 +- 35, gap 312..317 and 4 + 5 mm round it: 314 has to come to 326 and more, so 15 mm on; 10 are short.
    Both ways are as long, and the middle of the panel is that way. The piece of 145 goes with it: 294 +- 72.5."""
    laid = deck()
    cures = [c.cure for c in laid.conflicts if c.weight is Weight.CLASH]
    assert len(cures) == 2
    assert "move B1-1 15 mm further along the tape, away from 0: its middle from 279 to 294, its screws to 259 and 329" in cures[0]
    assert "piece Bb1 moves with it, to 221.5 to 366.5" in cures[0] and "checked again" in cures[0]
    assert "move B3-1 15 mm further along the tape, away from 0: its middle from 2234 to 2249" in cures[1]
    limits = limits_of(laid.file, laid.probe)
    side = laid.sides[1]
    assert any(c.whom == ("B1-1",) for c in of_side(moved(side, "B1-1", 10, laid.fixing), laid.fixing, limits, laid.masses))


def sides() -> Iterator[SideSet]:
    """Sides whose mounts clash in many ways: joists across and along, boards across, narrow and wide panels."""
    for line, number, first_joist, board in (
        (7035, 7, -142.5, -30),
        (7035, 7, -306, -30),
        (5200, 6, -60, 12),
        (3900, 3, 200, -101),
        (6400, 9, 0, 5),
    ):
        for across in (True, False):
            joists = joists_from(first_joist, 450, line) if across else ()
            ground = Ground(joists, 45, False, 45, 145, 145, 118 if across else 165, Boards(140, 5, board), (), next_joist=450)
            division = divide(line, number, 20, 30, 40)
            places = [mounts_in(p.width, MountRule(0.25)) for p in division.panels]
            yield set_out("A", division, places, ground, FIXING, "corner", "post")


def test_a_move_that_is_offered_was_looked_at() -> None:
    """The mount moved clashes with nothing, a shorter move the same way does, and a mount by a corner never comes nearer to it."""
    offered, by_corner = 0, 0
    for side in sides():
        for m in side.mounts:
            own = [c for c in of_side(side, FIXING, LIMITS, {p.name: 0.0 for p in side.panels}) if c.whom == (m.name,)]
            if not any(c.weight is Weight.CLASH for c in own):
                continue
            move = least_move(side, m, FIXING, LIMITS)
            if move is None:
                continue
            offered += 1
            by_corner += m is side.mounts[0]
            assert move.by % STEP == 0 and 0 < abs(move.by) <= MOST and move.at == m.at + move.by
            assert m is not side.mounts[0] or move.by > 0
            for by in range(STEP, abs(move.by) + 1, STEP):
                there = moved(side, m.name, by if move.by > 0 else -by, FIXING)
                found = of_side(there, FIXING, LIMITS, {p.name: 0.0 for p in there.panels})
                clash = any(c.weight is Weight.CLASH and c.whom == (m.name,) for c in found)
                assert by == abs(move.by) or clash or _worse(side, there, m.name), (side.name, m.name, by)
                assert by != abs(move.by) or not clash
    assert offered > 20 and by_corner


def _worse(before: SideSet, after: SideSet, name: str) -> bool:
    """A place without a clash is passed over where the edge distance leaves its range or two pieces meet."""
    panel = next(p for p in after.panels if any(m.name == name for m in p.mounts))
    light = {p.name: 0.0 for p in after.panels}
    uneven = [c for c in of_side(after, FIXING, LIMITS, light) if c.kind is Kind.UNEQUAL and c.whom == (panel.name,)]
    pieces = sorted(after.pieces, key=lambda q: q.low)
    return bool(uneven) or any(a.high > b.low for a, b in pairwise(pieces))


def test_no_place_is_said_where_there_is_none() -> None:
    """A joint under a mount in the middle of two gaps between joists that are near one another."""
    ground = Ground(joists_from(0, 240, 3000), 45, True, 45, 145, 145, 118)
    division = divide(3000, 3, 20, 30, 40)
    side = set_out("A", division, [mounts_in(p.width, MountRule(0.25)) for p in division.panels], ground, FIXING)
    cures = [c.cure for c in with_moves(side, FIXING, LIMITS, {p.name: 0.0 for p in side.panels}) if c.kind is Kind.NARROW]
    assert cures and all("no place for it within 60 mm" in c for c in cures)


# ---------------------------------------------------------------- the inside corner


def test_an_inside_corner_by_hand() -> None:
    """Edges end at the corner of the deck and the lines run on: 7,200 + 165 and 3,100 + 118. The first joist is 22.5 from that
    corner and 187.5 from the zero; the first gap between B's boards 140 from it and 258 from the zero."""
    a, b = deck(*INSIDE).sides
    assert (a.division.line, b.division.line) == (7365, 3218)
    assert a.ground.joists[:2] == (187.5, 637.5)
    assert b.ground.boards is not None and b.ground.boards.gap_near(260, 0) is not None
    gap = b.ground.boards.gap_near(260, 0)
    assert gap is not None and (gap.low, gap.high) == (258, 263)


def points(svg: str, what: str) -> list[tuple[float, float]]:
    """The corners of every shape of one name, in units."""
    found = []
    for tag in re.findall(rf'<[^>]*data-what="{what}"/>', svg):
        if "points=" in tag:
            found += [tuple(map(float, p.split(","))) for p in re.search(r'points="([^"]*)"', tag)[1].split()]  # type: ignore[index]
        elif "x1=" in tag:
            found += [tuple(float(re.search(rf'{k}{i}="([^"]*)"', tag)[1]) for k in "xy") for i in (1, 2)]  # type: ignore[index]
        else:
            found.append(tuple(float(re.search(rf'{k}="([^"]*)"', tag)[1]) for k in ("cx", "cy")))  # type: ignore[index]
    return found  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("changes", "right", "down"),
    [(NO_MODULE, 1, 1), (INSIDE, 1, -1), ((*NO_MODULE, *TAPES), -1, 1), ((*INSIDE, *TAPES), -1, -1)],
    ids=["outside", "inside", "outside, mirrored", "inside, mirrored"],
)
def test_corners_are_drawn_as_they_lie(changes: tuple[tuple[str, str], ...], right: int, down: int) -> None:
    """A goes away as its tape runs, B down the page round an outside corner and up it round an inside one; the corner of the deck
    lies 118 above the crossing, and 165 beyond it outside, 165 before it inside; glass begins 30 from the crossing."""
    laid = deck(*changes)
    drawn = corner.picture(laid, 0).svg
    scale = float(re.search(r'data-units-per-mm="([^"]*)"', drawn)[1])  # type: ignore[index]
    (x0, y0), *_ = points(drawn, "datum")

    def from_crossing(what: str) -> list[tuple[float, float]]:
        return [((x - x0) / scale * right, (y0 - y) / scale) for x, y in points(drawn, what)]

    a, b = from_crossing("A1"), from_crossing("B1")
    assert min(x for x, _ in a) == pytest.approx(30, abs=0.1) and max(abs(y) for _, y in a) == pytest.approx(10, abs=0.1)
    assert min(-y * down for _, y in b) == pytest.approx(30, abs=0.1) and max(abs(x) for x, _ in b) == pytest.approx(10, abs=0.1)
    edge = from_crossing("deck edge")
    assert any(x == pytest.approx(-165 * down, abs=0.1) and y == pytest.approx(118, abs=0.1) for x, y in edge)
    assert all(x >= -165.1 * down if down > 0 else x >= 164.9 for x, _ in edge)


def test_pieces_meet_round_an_inside_corner() -> None:
    """By hand: A's piece from 20 to 425 on its tape, 73 to -72 across; B's runs from 120 to -285 across and 50 to 195 along.
    Towards B's drop side 20..120 are common, 100; along B 50..73 are common, 23: they overlap by 23."""
    across = Ground(joists_from(-2.5, 450, 1500), 45, True, 45, 145, 145, 118)
    along = Ground((), 45, False, 45, 145, 145, 165, next_joist=450)
    division = divide(1500, 1, 20, 30, 40, widest=1500)
    one = set_out("A", division, [(200, 1000)], across, FIXING, "corner", "post")
    other = set_out("B", division, [(92.5, 1000)], along, FIXING, "corner", "post", False)
    assert (one.pieces[0].low, one.pieces[0].high) == (20, 425) and (other.pieces[0].low, other.pieces[0].high) == (50, 195)
    found = [c.what for c in at_corner(one, "start", other, "start", False, LIMITS) if "pieces" in c.what]
    assert found == ["two pieces of blocking overlap by 23 mm in the corner bay"]
    far = set_out("B", division, [(200, 1000)], along, FIXING, "corner", "post", False)
    assert not [c for c in at_corner(one, "start", far, "start", False, LIMITS) if "pieces" in c.what]


# ---------------------------------------------------------------- one mount


def test_one_mount_with_its_distances() -> None:
    """A: 118 -+ 35 are 83 and 153 from the deck edge, the piece 45 to 190, so 38 and 37 from its edges. B: 37.5 to each long edge
    of a piece of 145, 165 - 35 - 45 = 85 to its end."""
    a, b = deck().sides
    assert footprint.across(deck(), a) == [
        (0, "deck edge"), (45, "rim to here"), (83, "row of screws"), (118, "GLASS LINE"), (153, "row of screws"),
        (190, "far edge of the piece"),
    ]  # fmt: skip
    told = footprint.picture(deck(), a).alt
    assert "38 and 37 mm from the long edges of the piece; 32 + 5 needed" in told
    told = footprint.picture(deck(), b).alt
    assert "37.5 mm from the long edges" in told and "85 mm from the end" in told and "45 to 450 mm in" in told


# ---------------------------------------------------------------- tables


def test_joists_are_on_the_zero_of_the_tape() -> None:
    """22.5 from the corner of the deck is 142.5 before the zero, since the glass of B stands 165 in; B's own two are across."""
    a, b = (tables.joists_table(s) for s in deck().sides)
    assert [row[1][0] for row in a.rows][:3] == ["-142.5", "307.5", "757.5"] and len(a.rows) == 17
    assert [row[1][0] for row in b.rows] == ["22.5 in from the deck edge", "472.5 in from the deck edge"]


def test_pieces_are_grouped() -> None:
    """22 of 405: sixteen in A's bays, six of B; out of lengths of 3,000 seven each but the last."""
    rows = [[str(c[0]) for c in row] for row in tables.cut_table(deck()).rows]
    assert [row[:3] for row in rows] == [
        ["16 off", "405", "side A, bays 1 to 16"], ["6 off", "405", "side B, bay 1, edge joist to the next, one at each mount"],
    ]  # fmt: skip
    stock = [[str(c[0]) for c in row] for row in tables.stock_table(deck()).rows]
    assert stock == [["3 x 3000", "7 x 405", "137 each"], ["1 x 3000", "1 x 405", "2591"], ["4 in all", "22 pieces", "3002 (25 %)"]]
    assert len(tables.pieces_table(deck()).rows) == 22


# ---------------------------------------------------------------- words


@pytest.mark.parametrize("ending", list(Ending))
def test_the_first_line_says_whether_to_begin(ending: Ending) -> None:
    """Whatever came out: measure and mark in pencil, nothing more; and nothing that could be taken for leave to build."""
    text = first.BEGIN[ending]
    assert "Do NOT cut, drill, fix or order" in text
    assert not re.search(r"\b(safe|pass|passes|passed|approved|compliant)\b", text, re.IGNORECASE)


@pytest.mark.parametrize("paper", ["", "a4", "a3"])
def test_the_paper_gives_no_advice_of_the_command_line(paper: str) -> None:
    """An installer has paper only: no options, no file, no job; the appendix alone names entries."""
    told = rendered(run_content(unchecked(deck()), paper))
    before = told.upper().split(APPENDIX.upper())[0]
    for word in ("--", "RUN.", ".TOML", "THE JOB", "RUN IT AGAIN", "COMMAND"):
        assert word not in before, word
    assert not re.search(r"\b(safe|pass)\b", told)


def test_what_is_read_first_comes_first() -> None:
    """The line whether to begin stands before all else, a caution before the work, what clashes before any table."""
    blocks = run_content(unchecked(deck()), "a4").blocks
    assert isinstance(blocks[1], Bullets) and "You may measure" in str(blocks[1].items[0])
    at = {kind: next(i for i, b in enumerate(blocks) if isinstance(b, kind)) for kind in (Caution, Table)}
    clash = next(i for i, b in enumerate(blocks) if isinstance(b, Heading) and "cannot stay" in str(b.line))
    assert at[Caution] < clash < at[Table] and isinstance(blocks[-1], Caution)


def test_the_height_that_is_asked_for_is_named() -> None:
    assert "1100 mm above the deck." in first.height(deck()) and "Required: 1100 mm" in first.height(deck())
    elsewhere = first.height(deck(('national = "uk"', 'national = ""')))
    assert "not looked up: ask" in elsewhere and "Required" not in elsewhere


def test_bays_of_the_side_round_the_corner() -> None:
    """B's pieces lie between its edge joist and the next, which are A's first two; were A's first joist elsewhere, they are not."""
    assert "same two joists as bay 1 of side A" in first.timber(deck(), deck().sides[1])
    other = deck(*NO_MODULE, ('first_joist = "22.5 mm"', 'first_joist = "40 mm"'))
    assert "same two joists" not in first.timber(other, other.sides[1])


# ---------------------------------------------------------------- black print


def test_pictures_in_black_hold_no_colour() -> None:
    """Every paint has its black, and what comes out is grey to the last: equal parts of red, green and blue."""
    assert set(PAINT) == set(IN_BLACK)
    for drawn in (corner.picture(deck(), 0), footprint.picture(deck(), deck().sides[0])):
        black = in_black(drawn.svg)
        for c in re.findall(r"#([0-9a-f]+)", black):
            assert len(set(c)) == 1 or c[:2] == c[2:4] == c[4:], c
        assert len(black.splitlines()) == len(drawn.svg.splitlines())


# ---------------------------------------------------------------- the whole from above


@pytest.mark.parametrize("changes", [(), INSIDE, (*NO_MODULE, *TAPES), (*INSIDE, *TAPES)])
def test_sides_lie_round_their_corner(changes: tuple[tuple[str, str], ...]) -> None:
    """Where both tapes start the lines cross; B stands at a right angle to A; and the drop side of each, seen along its tape, is on
    the left where that runs to the right and on the right where it runs to the left."""
    a, b = whole.lying(deck(*changes))
    assert a.at(0) == b.at(0) == (0, 0) and a.way[0] * b.way[0] + a.way[1] * b.way[1] == 0
    for one in (a, b):
        assert (one.way[0] * one.drop[1] - one.way[1] * one.drop[0] > 0) == one.side.to_the_right
    inward = deck(*changes).file.run.corners[0].turn == "inside"
    assert (b.at(1000)[1] > 0) is inward  # A's drop side is at the top


def test_a_side_round_a_corner_at_the_end_of_the_tape() -> None:
    """A's tape ends at the corner: A runs to the left, the corner is at its end, B starts there and runs to the left as well."""
    laid = deck(
        *NO_MODULE, ('tape = "to the right" ', 'tape = "to the left" '), ('start = "corner"                #', 'start = "post"  #'),
        ('end = "post"', 'end = "corner"'), ('at = "start"\nother', 'at = "end"\nother'),
    )  # fmt: skip
    a, b = whole.lying(laid)
    assert a.at(a.side.division.line) == b.at(0) and b.way == (0, -1) and b.drop == (-1, 0)
    assert 'data-what="0 of B"' in whole.picture(laid).svg and "ends here" in corner.picture(laid, 0).svg


def test_tapes_that_cannot_lie_so_are_refused() -> None:
    """Both sides going to the right from one corner: no deck is like that."""
    with pytest.raises(JobRefused) as refused:
        deck(('tape = "to the left"', 'tape = "to the right"'))
    (fault,) = refused.value.faults
    assert fault.key == "run.sides.B.length" and "both go away from their corner to the right" in fault.text and fault.line


def test_what_may_not_be_marked_says_so_in_its_row() -> None:
    """The two mounts at gaps, and the one whose joists have to be measured first."""
    told: dict[str, str] = {}
    for side in deck().sides:
        table = tables.set_out_table(deck(), side)
        at = table.head.index("see")
        told |= {str(row[0][0]): str(row[at][0]) for row in table.rows if row[at][0]}
    assert told == {"B1-1 MOUNT": "1", "B3-1 MOUNT": "2", "A1-1 MOUNT": "3"}


@pytest.mark.parametrize("paper", ["a4", "a3"])
def test_what_is_read_first_fits_two_pages(paper: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The longest first line there is; marks of side A begin on the third page of A4, and on the second sheet of A3. Plans lie on
    their side, as large as the paper is."""
    monkeypatch.setitem(first.BEGIN, Ending.NOT_CHECKED, max(first.BEGIN.values(), key=len))
    data = sheet.run_pdf(unchecked(deck()), paper)
    pages, words = PdfReader(io.BytesIO(data)).pages, words_of_pages(data)
    begins = next(i for i, text in enumerate(words, 1) if "Side A: marks" in text)
    assert begins == {"a4": 3, "a3": 2}[paper]
    sizes = [(round(float(p.mediabox.width) * 25.4 / 72), round(float(p.mediabox.height) * 25.4 / 72)) for p in pages]
    plans = [size for size, text in zip(sizes, words, strict=True) if "Plan of side" in text]
    assert set(plans) == {{"a4": (297, 210), "a3": (420, 297)}[paper]} and len(plans) == {"a4": 3, "a3": 2}[paper]


def test_the_first_page_says_where_the_barrier_is_lower_than_over_a_level_deck() -> None:
    """The deck of the corner example falls 70 mm: half of that within a panel comes off its height, which two findings name."""
    laid = deck()
    numbers = [i for i, c in enumerate(laid.conflicts, 1) if c.kind is Kind.HEIGHT]
    assert numbers and f"see {' and '.join(map(str, numbers))}." in first.height(laid)
    assert "LOWER" not in first.height(deck(('fall = "70 mm"', 'fall = "0 mm"')))
