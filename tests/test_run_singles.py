"""Single panels of a run that are not by the rule: what they say wins, is their own condition, and is refused where it is wrong."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from conftest import ROOT

from barrier.errors import JobRefused
from barrier.job.read import job_from_text
from barrier.job.run_file import run_from_text
from barrier.load_path import check
from barrier.result import Ending
from barrier.run.conflicts import Kind, Weight
from barrier.sheet.runs.tables import cut_table, fixings_table, glass_table, stock_table
from barrier.whole_run import LaidOut, check_run, lay_out
from barrier.whole_run.rails import job_of

DECK = (ROOT / "worked_examples" / "runs" / "corner_deck.toml").read_text(encoding="utf-8")
RAILED = (ROOT / "worked_examples" / "runs" / "rail_deck.toml").read_text(encoding="utf-8")
POST = DECK[DECK.index("[mount_types.post]") : DECK.index("[decking]")]
HEAVY = POST.replace("mount_types.post", "mount_types.heavy").replace(
    'diameter = "8 mm"\nroot = "5.4', 'diameter = "10 mm"\nroot = "7'
)
PIECE = DECK[DECK.index("[blocking.piece]") : DECK.index("[joists]")]
DEEP = PIECE.replace("blocking.piece", "blocking.deep").replace('depth = "195 mm"', 'depth = "220 mm"')
MORE = DECK.replace("[decking]", f"{HEAVY}[decking]").replace("[joists]", f"{DEEP}[joists]", 1)


@cache
def laid(singles: str, text: str = MORE) -> LaidOut:
    """A run with [[run.singles]] of its own."""
    return lay_out(run_from_text(text.replace("[[run.sides]]", f"{singles}\n[[run.sides]]", 1).encode(), "deck.toml"))


def single(panel: str, /, *entries: str, **changes: object) -> str:
    """One of [[run.singles]]."""
    said = "".join(f'"{path.replace("__", ".")}" = {value}\n' for path, value in changes.items())
    return "\n".join(["[[run.singles]]", f'panel = "{panel}"', *entries, *(["[run.singles.set]", said] if said else [])]) + "\n"


def job(of: LaidOut, panel: str) -> Any:
    """The job of the condition of a panel."""
    condition = next(c for c in of.conditions if panel in c.panels)
    return of.file.job(condition.changes)


def test_a_panel_of_its_own_is_a_condition_of_its_own() -> None:
    by_rule = [c.panels for c in laid("").conditions]
    assert ("A2", "A3", "A4", "A5", "A6", "A7") in by_rule
    for entry in ('type = "heavy"', 'blocking = "deep"', "mounts = 3", 'places = ["228 mm", "649 mm"]'):
        own = [c for c in laid(single("A4", entry)).conditions]
        assert [c.panels for c in own if "A4" in c.panels] == [("A4",)], entry
        assert ("A2", "A3", "A5", "A6", "A7") in [c.panels for c in own]
    two = laid(single("A4", 'type = "heavy"') + single("A6", 'type = "heavy"'))
    assert ("A4", "A6") in [c.panels for c in two.conditions]


def test_what_it_says_wins_and_all_else_is_by_the_rule() -> None:
    """Glass, a screw of one mount, the type of the other, the piece: each where it was said, and nowhere else."""
    said = {"panel__layers__1__nominal": '"10 mm"', "mount__2__screw__length": '"160 mm"', "mount__plate__thickness": '"12 mm"',
            "blocking__depth": '"240 mm"', "mount__1__screws__S2__present": "false"}  # fmt: skip
    of = laid(single("A4", 'type = "heavy"', **said))
    own, other = job(of, "A4"), job(of, "A5")
    assert [float(x.nominal.x) for x in own.panels[0].layers] == [10, 8] and [
        float(x.nominal.x) for x in other.panels[0].layers
    ] == [8, 8]
    assert [float(m.screw.length.x) for m in own.mounts] == [140, 160] and {float(m.screw.diameter.x) for m in own.mounts} == {10}
    assert {float(m.plate.thickness.x) for m in own.mounts} == {12} and {float(m.plate.thickness.x) for m in other.mounts} == {10}
    assert [[s.present for s in m.screws] for m in own.mounts] == [[True, False, True, True], [True] * 4]
    assert {float(own.blocking[m.blocking].depth.x) for m in own.mounts} == {240}
    assert {float(other.blocking[m.blocking].depth.x) for m in other.mounts} == {195} and {m.type for m in other.mounts} == {"post"}
    # The plain job of the whole side says the same of each.
    side: Any = job_from_text(of.side_job("A"))
    assert [float(x.nominal.x) for p in side.panels for x in p.layers] == [8] * 6 + [10] + [8] * 9
    assert [float(m.screw.length.x) for m in side.mounts] == [140] * 7 + [160] + [140] * 8


def test_mounts_by_number_and_by_place() -> None:
    """877 wide, 228 in: a third in the middle at 438.5, four 140.3 apart; or where it says."""

    def at(entry: str, panel: str = "A4") -> list[float]:
        p = laid(single(panel, entry)).panel(panel)
        return [round(m.at - p.strip.left, 1) for m in p.mounts]

    assert at("mounts = 3") == [228, 438.5, 649] and at("mounts = 4") == [228, 368.3, 508.7, 649]
    assert at('places = ["100 mm", "420 mm", "700 mm"]') == [100, 420, 700] and at("mounts = 2") == [228, 649]
    assert len(job(laid(single("B2", "mounts = 3")), "B2").mounts) == 3


def test_a_tape_to_the_left_counts_its_mounts_from_the_start() -> None:
    """The first mount of B1 stands nearest to the corner, and is the rightmost seen from the people side."""
    own = job(laid(single("B1", mount__1__screw__length='"160 mm"')), "B1")
    assert [(m.name, float(m.screw.length.x)) for m in own.mounts] == [("B1-2", 140), ("B1-1", 160)]


def test_another_height_is_another_height_of_the_barrier() -> None:
    own = job(laid(single("B2", panel__height='"1140 mm"')), "B2")
    assert float(own.site.barrier_height.x) == 1200 and float(own.panels[0].height.x) == 1140
    assert job_from_text(laid(single("B2", panel__height='"1140 mm"')).side_job("B")).site.barrier_height is None


def test_its_findings_are_by_its_own_screws_and_pieces() -> None:
    """Screws of 10 mm want 40 + 5 to an edge of their piece and find 37 of 145, 38 of 170: at A4 and nowhere else."""
    edges = [
        c
        for c in laid(single("A4", 'type = "heavy"'), MORE.replace('edge = "32 mm" ', "# edge = ")).conflicts
        if c.kind is Kind.EDGE
    ]
    assert [c.whom for c in edges if c.weight is Weight.CLASH] == [("A4-1", "A4-2")]
    wide = laid(single("A4", 'type = "heavy"', blocking__width='"170 mm"'), MORE.replace('edge = "32 mm" ', "# edge = "))
    found = [next(c.what for c in of if c.kind is Kind.EDGE) for of in (edges, wide.conflicts)]
    assert "37 mm from an edge, 8 mm short" in found[0] and "38 mm from an edge, 7 mm short" in found[1]
    noted = [c for c in wide.conflicts if c.whom == ("A4",) and "not by the rule" in c.what]
    assert len(noted) == 1 and "mount type heavy, blocking.width 170 mm" in noted[0].what


def test_what_is_bought_and_cut_is_its_own() -> None:
    of = laid(single("A4", 'type = "heavy"', 'blocking = "deep"', panel__layers__1__nominal='"10 mm"'))
    glass = [("".join(map(str, row[0])), "".join(map(str, row[2])), "".join(map(str, row[4]))) for row in glass_table(of).rows]
    assert ("877", "8 + 8, film 1.52 toughened", "6") in glass and ("877", "10 + 8, film 1.52 toughened", "1") in glass
    fixings = {row[1][0]: row[2][0] for row in fixings_table(of).rows}
    assert fixings["heavy"] == "2" and fixings["post"] == "20" and fixings["10 x 140 mm"] == "8" and fixings["8 x 140 mm"] == "80"
    cut = ["".join(map(str, row[1])) for row in stock_table(of).rows]
    assert cut == [
        "7 x 405",
        "6 x 405",
        "2 x 405, of 145 x 220",
        "22 pieces",
    ]  # 20 pieces out of three lengths, two out of another, and the sum
    said = [(str(row[0][0]), str(row[2][0]), str(row[3][0])) for row in cut_table(of).rows]
    assert said[1] == ("2 off", "side A, bays 7, 8; NOT BY THE RULE: blocking deep", "Ab7, Ab8") and said[0][0] == "14 off"
    assert of.masses["A4"] > of.masses["A5"] + 4


def test_the_walk_of_its_condition_is_that_of_its_own_job() -> None:
    """Thicker glass bends less, and only its own row says so."""
    of = laid(single("A2", panel__layers__1__nominal='"15 mm"'), RAILED_WITHOUT)
    rows = {r.condition.panels: r for r in check_run(of).rows}
    assert set(rows) == {("A1", "A3"), ("A2",)}
    own, other = rows["A2",].result, rows["A1", "A3"].result
    assert own is not None and other is not None and (own["glass.face"].eta or 9) < 0.75 * (other["glass.face"].eta or 0)
    plain = check(of.file.job(next(c for c in of.conditions if c.panels == ("A2",)).changes))
    assert plain["glass.face"].eta == own["glass.face"].eta


RAILED_WITHOUT = (RAILED[: RAILED.index("[run.sides.rail] ")] + RAILED[RAILED.index("[mount_types.post]") :]).replace(
    '"cap"', '"none"'
)


def test_under_a_rail_it_keeps_its_place_in_the_line() -> None:
    of = laid(single("A2", "mounts = 3", mount__plate__thickness='"12 mm"'), RAILED)
    line: Any = of.file.job(job_of(of.file, of.sides[0], of.conditions, 0))
    assert [p.panel for p in line.rail.line] == ["A1", "A2", "A1"] and len(line.mounts) == 5
    higher = laid(single("A2", panel__height='"1080 mm"'), RAILED)
    run = check_run(higher)
    assert all("one rail lies on it" in r.why and r.ending is Ending.NOT_CHECKED for r in run.rows)


WRONG = [
    (single("B9", "mounts = 3"), "run.singles.1.panel", "B3"),
    (single("B1", "mounts = 3") + single("B1", "mounts = 2"), "run.singles.2.panel", "two of"),
    (single("B1", "mounts = 9"), "run.singles.1.mounts", "2 to 6"),
    (single("B1", 'type = "hevy"'), "run.singles.1.type", 'did you mean "heavy"'),
    (single("B1", 'blocking = "peice"'), "run.singles.1.blocking", 'did you mean "piece"'),
    (single("B1", 'places = ["300 mm", "200 mm"]'), "run.singles.1.places.1", "sort them"),
    (single("B1", 'places = ["300 mm"]', 'near = "300 mm"'), "run.singles.1.places.1", "give places, or those"),
    (single("B1", 'places = ["300 mm", "2 m"]'), "run.sides.B", "other places"),
    (single("B1", 'colour = "red"'), "run.singles.1.colour", "not a known key"),
    (single("B1", panel__width='"900 mm"'), "run.singles.1.set.panel.width", "is set out by the run"),
    (single("B1", panel__rail='"cap"'), "run.singles.1.set.panel.rail", "is set out by the run"),
    (single("B1", mount__2__x='"900 mm"'), "run.singles.1.set.mount.2.x", "is set out by the run"),
    (single("B1", blocking__length='"400 mm"'), "run.singles.1.set.blocking.length", "is set out by the run"),
    (single("B1", glas__height='"400 mm"'), "run.singles.1.set.glas.height", "panel, mount"),
    (single("B1", panel='"400 mm"'), "run.singles.1.set.panel", "panel, mount"),
    (single("B1", panel__hieght='"1000 mm"'), "run.singles.1.set.panel.hieght", 'did you mean "height"'),
    (single("B1", panel__height='"1000"'), "run.singles.1.set.panel.height", "no unit"),
    (single("B1", panel__height='"9 m"'), "run.singles.1.set.panel.height", "outside the allowed"),
    (single("B1", panel__layers__3__nominal='"8 mm"'), "run.singles.1.set.panel.layers.3.nominal", "there is 1, 2"),
    (single("B1", mount__screws__S9__present="false"), "run.singles.1.set.mount.screws.S9.present", "is not there"),
    (single("B1", mount__screw__lenght='"90 mm"'), "run.singles.1.set.mount.screw.lenght", 'did you mean "length"'),
    (single("B1", mount__drilled__deep="true"), "run.singles.1.set.mount.drilled.deep", "below a single entry"),
    (single("B1", blocking__depth='"9 mm"'), "run.singles.1.set.blocking.depth", "outside the allowed"),
    (single("B1", blocking__left__fixing='"glue"'), "run.singles.1.set.blocking.left.fixing", "bracket"),
]  # fmt: skip


@pytest.mark.parametrize(("singles", "key", "says"), WRONG, ids=[key + says[:6] for _, key, says in WRONG])
def test_what_is_wrong_is_refused_where_it_stands(singles: str, key: str, says: str) -> None:
    with pytest.raises(JobRefused) as refused:
        laid(singles)
    said = [f for f in refused.value.faults if f.key == key and says in f.text]
    assert said and said[0].line is not None, refused.value.faults


def test_a_piece_that_two_panels_share_has_one_blocking() -> None:
    """Mounts 30 mm in: the last of A1 and the first of A2 stand in one bay."""
    shared = RAILED_WITHOUT.replace("edge = 0.26", "edge = 0.08").replace('first_joist = "67 mm"', 'first_joist = "-170 mm"')
    both = single("A1", blocking__depth='"240 mm"')
    with pytest.raises(JobRefused, match="write the same for both"):
        laid(both, shared)
    assert laid("".join(single(p, blocking__depth='"240 mm"') for p in ("A1", "A2", "A3")), shared)
    assert [c.whom for c in laid("", shared).conflicts if "as if it stood there alone" in c.what]
