"""Setting out: sums that close, places in the bay, modules. An invented deck, recomputed by hand beside each figure."""

from __future__ import annotations

import random

import pytest

from barrier.run.ask import Impossible
from barrier.run.bays import (
    Boards,
    Clash,
    Fixing,
    Interval,
    joists_from,
    least_offset_across,
    offsets_along,
    place,
    window,
)
from barrier.run.division import Strip, corner_gap, divide, fall_over, glass_line, lean, placed
from barrier.run.modules import Layout, Line, Rule, best, layouts, why

# An invented deck: edge A 7,200 long with joists across, edge B 3,100 with joists along; joists 45 wide at 450 (common
# practice, no source); glass 118 inside edge A and 165 inside edge B; plates with screws of 8 mm at 35 mm; ends want ten
# diameters, edges four (EN 1995-1-1 Table 8.6, from a secondary copy); 5 mm of tolerance.
SCREWS = Fixing(35, 35, 8, 80, 32)
JOISTS = joists_from(22.5 - 165, 450, 7100)
LINE_A = Line(7035, 30, 40, JOISTS, 45)


def test_glass_lines() -> None:
    """7,200 less the 165 by which the *other* side stands in; 3,100 less 118. Who forgets has that much glass too much."""
    assert glass_line(7200, 165) == 7035
    assert glass_line(3100, 118) == 2982
    assert glass_line(7200, 165, 100) == 6935
    assert glass_line(3000, 118, outside=False) == 3118


def test_equal_panels_of_both_sides() -> None:
    """(6,965 - 6 x 20)/7 = 977.9 and (2,912 - 2 x 20)/3 = 957.3, whole millimetres; 126 and 41 mm go into the gaps."""
    a, b = divide(7035, 7, 20, 30, 40), divide(2982, 3, 20, 30, 40)
    assert [p.width for p in a.panels] == [977] * 7 and a.gaps == (21,) * 6
    assert [p.width for p in b.panels] == [957] * 3 and b.gaps == (21, 20)
    assert [(p.left, p.right) for p in a.panels] == [
        (30, 1007), (1028, 2005), (2026, 3003), (3024, 4001), (4022, 4999), (5020, 5997), (6018, 6995),
    ]  # fmt: skip
    assert [(p.left, p.right) for p in b.panels] == [(30, 987), (1008, 1965), (1985, 2942)]
    assert a.end == b.end == 40


def test_windows_and_offsets() -> None:
    """Half a joist, ten diameters, tolerance, half the screws' spacing: 22.5 + 80 + 5 + 35 = 142.5."""
    assert window(450, 45, SCREWS) == Interval(142.5, 307.5)
    assert window(450, 45, Fixing(35, 35, 10, 100, 40)).length == 125
    assert window(450, 45, Fixing(35, 35, 12, 120, 48)).length == 85
    assert window(300, 45, Fixing(35, 35, 12, 120, 48)).length == 0  # a bay too narrow for it
    assert offsets_along(45, 145, SCREWS) == Interval(117, 118)
    assert offsets_along(45, 45, SCREWS).length == 0  # one loose piece takes no such pattern
    assert least_offset_across(45, SCREWS) == 165


def test_mounts_at_a_quarter_clash() -> None:
    """Nine of the fourteen are outside their window, five of them with a screw in or over the joint."""
    places = [place(p.left + s * p.width, JOISTS, 45, SCREWS) for p in divide(7035, 7, 20, 30, 40).panels for s in (0.25, 0.75)]
    clashes = [p.clash for p in places if p is not None]
    assert len(clashes) == 14
    assert sum(c is not Clash.NONE for c in clashes) == 9
    assert sum(c is Clash.IN_THE_JOINT for c in clashes) == 5


def module(gap: int, edge: int) -> Layout:
    found = layouts(LINE_A, 2, 450, Rule(15, 20, 25), SCREWS)
    return next(m for m in found if (m.gap, m.module_edge) == (gap, edge))


def test_a_module_fits_every_mount() -> None:
    """A pitch of two bays: 6,965 - 7 x 900 = 665 of filler and seven of 877 with gaps of 23; all sixteen mounts fit."""
    m = module(23, 228)
    assert (m.filler, m.module, m.filler_edge) == (665, 877, 135)
    assert len(m.places) == 16 and all(p.clash is Clash.NONE for p in m.places)
    assert m.division.panels[0] == Strip(30, 695) and m.division.panels[-1].right == 6995 and m.division.closes
    assert [(p.left, p.right) for p in m.division.panels[1:]] == [(718 + 900 * i, 1595 + 900 * i) for i in range(7)]
    # By hand: 165 + 142.5 - 0 x 450 - 22.5 = 285; 560 + 142.5 - 450 - 22.5 = 230; 946 + 142.5 - 900 - 22.5 = 166; 1367 ... = 137.
    assert [p.from_face for p in m.places[:4]] == [285, 230, 166, 137] and len(m.in_a_bay) == 4
    assert [p.ends(SCREWS) for p in m.places[:4]] == [(250, 85), (195, 140), (131, 204), (102, 233)]


def test_how_many_modules_there_are() -> None:
    """By hand: the first mount wants e >= 205 - g, the second e <= 245: 41 + g layouts for each gap g of 15 to 25, 671 in all."""
    found = list(layouts(LINE_A, 2, 450, Rule(15, 20, 25), SCREWS))
    assert len(found) == sum(41 + g for g in range(15, 26)) == 671


def test_three_are_offered_each_with_its_reason() -> None:
    found = list(layouts(LINE_A, 2, 450, Rule(15, 20, 25), SCREWS))
    offered = best(found, Rule(15, 20, 25))
    assert len(offered) == 3 and len({m.gap for m in offered}) == 3
    assert "measure its joists first" in why(offered[0])  # the filler's mount stands at the very edge of its window
    assert offered == best(list(reversed(found)), Rule(15, 20, 25))


def test_screws_beside_board_gaps() -> None:
    """Side B: boards of 140 with gaps of 5 across it, the first one from 118 mm before its datum. Of six mounts two are beside
    a gap: 279 + 35 + 118 = 432 lies in 430..435, 2,234 - 35 + 118 = 2,317 in 2,315..2,320 (numbers from the deck's edge)."""
    boards, mounts = Boards(140, 5, -118), (279, 738, 1257, 1716, 2234, 2693)
    beside = [m for m in mounts if any(boards.gap_near(m + way * 35, 0) for way in (-1, 1))]
    assert beside == [279, 2234]
    assert not any(boards.gap_near(m + 15 + way * 35, 4 + 5) for m in beside for way in (-1, 1))  # moved 15 mm they are clear
    assert boards.gap_near(-200, 0) is None


def test_corner_and_slope() -> None:
    assert corner_gap(30, 17.5) == pytest.approx(30.1, abs=0.05)
    assert corner_gap(10, 17.5) == pytest.approx(1.8, abs=0.05)
    assert corner_gap(8, 17.5) < 0
    assert fall_over(7035, 100) == pytest.approx(70.35)
    assert lean(1040, 100) == pytest.approx(10.4)


def test_random_runs_close() -> None:
    """Every sum closes, no edge is further than half a millimetre from exact, nothing overlaps, no refusal without a reason."""
    draw, refused = random.Random(20261128), 0
    for _ in range(100_000):
        line, panels, gap = draw.randint(300, 30_000), draw.randint(1, 25), draw.randint(8, 60)
        start, end = draw.randint(0, 120), draw.randint(0, 120)
        try:
            d = divide(line, panels, gap, start, end, draw.choice((1, 5)), 30_000)
        except Impossible as no:
            refused += 1
            assert no.why and no.cure
            assert (line - start - end - (panels - 1) * gap) < 5 * panels  # it really does not fit
            continue
        assert d.closes and len({p.width for p in d.panels}) == 1
        if panels == 1:
            continue
        assert d.end == end and min(d.gaps) >= gap and max(d.gaps) - min(d.gaps) <= 1
        share = (d.free - sum(p.width for p in d.panels)) / (panels - 1)
        for i, p in enumerate(d.panels):
            assert abs(p.left - (start + i * (d.panels[0].width + share))) <= 0.5 + 1e-9  # a half is exact, its float is not
    assert 0 < refused < 30_000


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: divide(1000, 0, 20), "no panel"),
        (lambda: divide(100, 9, 20), "do not fit"),
        (lambda: divide(9000, 2, 20, widest=2000), "more panels"),
        (lambda: placed(1000, [600, 600]), "narrower panels"),
        (lambda: list(layouts(LINE_A, 20, 450, Rule(15, 20, 25), SCREWS)), "another number of bays"),
    ],
)
def test_what_cannot_be_says_why(make: object, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        make()  # type: ignore[operator]


def test_outside_the_joists_there_is_no_place() -> None:
    assert place(-500, JOISTS, 45, SCREWS) is None
