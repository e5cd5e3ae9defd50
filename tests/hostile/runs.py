"""Random runs: every sum closes, no edge is more than half a millimetre off, nothing overlaps, no refusal without a reason.

``python tests/hostile/runs.py 100000`` goes through so many sides in numbers (division, mounts, pieces, findings, cut list) and a
hundredth of them as whole files. A slice of both is a test.
"""

from __future__ import annotations

import random
import sys
from itertools import pairwise
from pathlib import Path

from barrier.errors import JobRefused
from barrier.job.run_file import run_from_text
from barrier.run.ask import Impossible
from barrier.run.bays import Boards, Fixing, joists_from
from barrier.run.conflicts import Limits, in_order, of_side
from barrier.run.division import divide
from barrier.run.lists import cut
from barrier.run.side import Ground, MountRule, SideSet, mounts_in, set_out
from barrier.whole_run import lay_out

TEXT = (Path(__file__).resolve().parents[2] / "worked_examples" / "runs" / "corner_deck.toml").read_text(encoding="utf-8")


def of_numbers(seed: int) -> bool:
    """One side in numbers; whether it was refused."""
    draw = random.Random(seed)
    line, number, gap = draw.randint(300, 30_000), draw.randint(1, 25), draw.randint(8, 60)
    start, end, offset = draw.randint(0, 120), draw.randint(0, 120), draw.randint(60, 300)
    fixing = Fixing(draw.randint(20, 60), draw.randint(20, 60), draw.choice((6, 8, 10, 12)), 80, 32)
    joists = joists_from(draw.randint(-300, 0), draw.randint(250, 650), line) if draw.random() < 0.7 else ()
    boards = Boards(140, 5, draw.randint(-140, 0)) if draw.random() < 0.5 else None
    ground = Ground(joists, 45, draw.random() < 0.5, 45, 145, 145, offset, boards, ((140, 145),), next_joist=450)
    rule = MountRule(draw.uniform(0.15, 0.35), draw.choice((None, 1200)))
    try:
        division = divide(line, number, gap, start, end, draw.choice((1, 5)), 3000)
        mounts = [mounts_in(p.width, rule) for p in division.panels]
    except Impossible as no:
        assert no.why and no.cure
        return True
    side = set_out("A", division, mounts, ground, fixing, fall=draw.randint(-90, 90))
    looked_at(side, gap)
    limits = Limits(5, 10, 100, 0.2, 0.3, 40, 33, 60, 1040, 1100, 100, 100, 17.52)
    for c in in_order(of_side(side, fixing, limits, {p.name: 30.0 for p in side.panels})):
        assert c.what and c.cure and 0 <= c.at <= line, c
    bars = cut(side.pieces, 1, 3000, 4)
    assert sum(len(b.pieces) for b in bars) == len(side.pieces)
    assert all(0 <= b.left <= 3000 - sum(length for _, length in b.pieces) for b in bars)
    return False


def looked_at(side: SideSet, gap: int = 0) -> None:
    """What must be true of every side that was set out."""
    d = side.division
    assert d.closes and min(d.gaps, default=gap) >= gap
    if len(d.panels) > 1 and len({p.width for p in d.panels}) == 1:
        share = (d.free - sum(p.width for p in d.panels)) / (len(d.panels) - 1)
        for i, p in enumerate(d.panels):
            assert abs(p.left - (d.start + i * (p.width + share))) <= 0.5 + 1e-9
    along = [x for p in side.panels for x in (p.strip.left, *(m.at for m in p.mounts), p.strip.right)]
    assert all(a < b for a, b in pairwise(along)), along
    if side.ground.across:
        assert all(a.high < b.low for a, b in pairwise(side.pieces))
    assert {m for q in side.pieces for m in q.mounts} <= {m.name for m in side.mounts}


def of_a_file(seed: int) -> bool:
    """The corner deck with other numbers, read as a file; whether it was refused."""
    draw, text = random.Random(seed), TEXT

    def length(low: int, high: int) -> str:
        return f'"{draw.randint(low, high)} mm"'

    changes = {
        'length = "7200 mm"': f"length = {length(900, 15000)}",
        'length = "3100 mm"': f"length = {length(700, 9000)}",
        "module = 2 ": f"panels = {draw.randint(1, 9)} ",
        'module_gap = "23 mm"\nmodule_edge = "228 mm"\n': "",
        "panels = 3\n": f"panels = {draw.randint(1, 9)}\n",
        'gap = "20 mm" ': f"gap = {length(5, 60)} ",
        'offset = "118 mm"': f"offset = {length(60, 250)}",
        'offset = "165 mm"': f"offset = {length(60, 300)}",
        'fall = "70 mm"': f"fall = {length(-90, 90)}",
        'spacing = "450 mm"\nfirst_joist': f"spacing = {length(280, 620)}\nfirst_joist",
    }
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new, 1)
    try:
        laid = lay_out(run_from_text(text.encode(), "deck.toml"))
    except JobRefused as no:
        assert all(f.key and f.text for f in no.faults)
        return True
    for side in laid.sides:
        looked_at(side)
    assert sorted(p for c in laid.conditions for p in c.panels) == sorted(laid.masses)
    return False


if __name__ == "__main__":
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    print(f"{many} sides: {sum(map(of_numbers, range(many)))} refused, each with its reason")
    print(f"{many // 100} files: {sum(map(of_a_file, range(many // 100)))} refused, each with its reason")
