"""Random runs: every sum closes, no edge is more than half a millimetre off, nothing overlaps, no refusal without a reason.

``python tests/hostile/runs.py 100000`` goes through so many sides in numbers (division, mounts, pieces, findings, cut list) and a
hundredth of them as whole files, with a rail over some and single panels that are not by the rule; a hundredth of those is walked.
A slice of each is a test.
"""

from __future__ import annotations

import random
import sys
from itertools import pairwise
from pathlib import Path

from barrier.errors import JobRefused
from barrier.job.read import job_from_text
from barrier.job.run_file import run_from_text
from barrier.run.ask import Impossible
from barrier.run.bays import Boards, Fixing, joists_from
from barrier.run.conflicts import Limits, in_order, of_side
from barrier.run.division import divide
from barrier.run.lists import cut
from barrier.run.side import Ground, MountRule, SideSet, mounts_in, set_out
from barrier.sheet.runs import tables
from barrier.whole_run import LaidOut, check_run, lay_out, rails, unchecked

RUNS = Path(__file__).resolve().parents[2] / "worked_examples" / "runs"
RAILED = (RUNS / "rail_deck.toml").read_text(encoding="utf-8")
TEXT = (RUNS / "corner_deck.toml").read_text(encoding="utf-8")


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
    if draw.random() < 0.4:
        text = _with_rail(draw, text)
    if draw.random() < 0.4:
        text = text.replace("[[run.sides]]", f"{_singles(draw, 'AB')}[[run.sides]]", 1)
    return _laid(text) is None


def of_a_railed_file(seed: int, walk: bool = False) -> bool:
    """The deck under a rail with other numbers, ends, joints and single panels, walked or not; whether it was refused."""
    draw = random.Random(seed)
    many = draw.randint(1, 5 if walk else 20)
    width = draw.randint(600, 1300)
    line = many * width + (many - 1) * draw.randint(15, 30) + 80
    text = RAILED.replace("panels = 3", f"panels = {many}").replace('length = "2760 mm"', f'length = "{line} mm"')
    text = text.replace('first_joist = "67 mm"', f'first_joist = "{draw.randint(-300, 100)} mm"')
    if draw.random() < 0.5:
        joists = ", ".join(f'"{67 + 450 * i + draw.randint(-3, 3)} mm"' for i in range(line // 450 + draw.choice((0, 3, 3, 3))))
        text = text.replace('spacing = "450 mm"\n', f"measured = [{joists}]\n").replace("first_joist", "# first_joist")
    if draw.random() < 0.5:
        text = text.replace('tape = "to the right"', 'tape = "to the left"')
    text = text.replace('fixing = "free"                 # stops in the air\n', _end(draw))
    if draw.random() < 0.5:
        joints = ", ".join(f'{{ at = "{draw.randint(0, line)} mm" }}' for _ in range(draw.randint(1, 3)))
        text = text.replace("continuous = true ", f"splices = [{joints}] ")
    if draw.random() < 0.5:
        text = text.replace("[[run.sides]]", f"{_singles(draw, 'A')}[[run.sides]]", 1)
    laid = _laid(text)
    if laid is None:
        return True
    run = check_run(laid) if walk else unchecked(laid)
    assert all(r.why or r.result is not None for r in run.rows)
    assert len(run.rows) == len(laid.conditions) + 1
    for r in run.rows:
        assert not walk or r.why or r.governs
    for side in laid.sides:
        own = [c for c in laid.conditions if c.side == side.name]
        if not rails.why_not(laid.file, side, own):
            for way in range(rails.ways(own)):
                _read(laid, laid.file.text(rails.job_of(laid.file, side, own, way)))
    return False


def _read(laid: LaidOut, text: str) -> None:
    """A job that a run comes to is read, or refused with a reason."""
    try:
        job_from_text(text)
    except JobRefused as no:
        assert all(f.text and (f.key or f.line) for f in no.faults)


def _end(draw: random.Random) -> str:
    """What holds an end of a rail, or that nobody knows."""
    held = 'holds = "2 kN"\nmeaning = "design"\nreference = "x"\n'
    return draw.choice((
        'fixing = "free"\n', f'fixing = "bracket"\n{held}', f'fixing = "post"\nstiffness = "40 N/mm"\n{held}',
        'fixing = "unknown"\n', 'fixing = "post"\n', 'fixing = "corner"\njoined = true\n', 'fixing = "glue"\n',
        'fixing = "bracket"\n',
    ))  # fmt: skip


def _with_rail(draw: random.Random, text: str) -> str:
    """The deck with a corner under a rail, of which more or less is said."""
    shared = RAILED[RAILED.index("[rail] ") : RAILED.index("[mount_types.post]")]
    text = text.replace('rail = "none"', draw.choice(('rail = "cap"', 'rail = "cap"', 'rail = "handrail"')))
    if draw.random() < 0.8:
        text = text.replace("[mount_types.post]\n", f"{shared}\n[mount_types.post]\n", 1)
    for before in ('[[run.sides]]\nname = "B"', "[[run.corners]]"):
        if draw.random() < 0.8:
            ends = "".join(f"[run.sides.rail.{at}]\n{_end(draw)}" for at in ("start", "end") if draw.random() < 0.8)
            text = text.replace(before, f"[run.sides.rail]\n{draw.choice(('continuous = true', ''))}\n{ends}{before}", 1)
    return text


ENTRIES = (
    "mounts = {few}", 'near = "{mm} mm"', 'far = "{mm} mm"', 'places = ["{mm} mm"]', 'places = ["{mm} mm", "{more} mm"]',
    'type = "post"', 'type = "other"', 'blocking = "piece"',
)  # fmt: skip
CHANGES = (
    '"panel.height" = "{more} mm"', '"panel.bottom_gap" = "{few}0 mm"', '"panel.layers.1.nominal" = "{few}5 mm"',
    '"panel.use" = "gate"', '"mount.plate.thickness" = "{few}0 mm"', '"blocking.depth" = "2{few}0 mm"',
    '"mount.screw.length" = "{mm} mm"', '"mount.{few}.screw.diameter" = "{few} mm"', '"mount.screws.S2.present" = false',
    '"mount.plate.along" = "{mm} mm"', '"mount.1.pads.1.top" = "{few}0 mm"', '"mount.screws.1" = "absent"',
    '"blocking.width" = "{mm} mm"', '"blocking.pieces" = {few}', '"blocking.left.fixing" = "none"',
    '"blocking.laminated" = "loose"', '"mount.x" = "{mm} mm"',
    '"panel.interlayer" = "absent"', '"" = 1', '"mount" = 2', '"panel.layers.1" = {few}', '"site.use" = "A2"',
)  # fmt: skip


def _singles(draw: random.Random, sides: str) -> str:
    """One to three panels that are not by the rule, some of them not there, some twice."""

    def filled(text: str) -> str:
        few, mm = draw.randint(1, 4), draw.randint(20, 400)
        return text.replace("{few}", str(few)).replace("{mm}", str(mm)).replace("{more}", str(mm + draw.randint(-50, 900)))

    found = ""
    for _ in range(draw.randint(1, 3)):
        own = "\n".join(filled(e) for e in draw.sample(ENTRIES, draw.randint(0, 2)))
        changes = "\n".join(filled(c) for c in draw.sample(CHANGES, draw.randint(0, 2)))
        found += f'[[run.singles]]\npanel = "{draw.choice(sides)}{draw.randint(1, 4)}"\n{own}\n'
        found += f"[run.singles.set]\n{changes}\n" if changes else ""
    return found


def _laid(text: str) -> LaidOut | None:
    """A text set out, with what must be true of it; None where it is refused, each fault with its reason."""
    try:
        laid = lay_out(run_from_text(text.encode(), "deck.toml"))
    except JobRefused as no:
        assert all(f.text and (f.key or f.line) for f in no.faults)
        return None
    for side in laid.sides:
        looked_at(side)
        try:
            _read(laid, laid.side_job(side.name))
        except JobRefused as no:
            assert all(f.text and (f.key or f.line) for f in no.faults)
    assert sorted(p for c in laid.conditions for p in c.panels) == sorted(laid.masses)
    for name in ("glass", "fixings", "stock"):
        assert getattr(tables, f"{name}_table")(laid).rows
    for c in laid.conflicts:
        assert c.what and c.cure, c
    for condition in laid.conditions:
        for changes in (*condition.walks, *condition.members):
            _read(laid, laid.file.text(changes))
    return laid


if __name__ == "__main__":
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    print(f"{many} sides: {sum(map(of_numbers, range(many)))} refused, each with its reason")
    print(f"{many // 100} files: {sum(map(of_a_file, range(many // 100)))} refused, each with its reason")
    print(f"{many // 100} under a rail: {sum(map(of_a_railed_file, range(many // 100)))} refused, each with its reason")
    walked = sum(of_a_railed_file(n, walk=True) for n in range(many // 10_000))
    print(f"{many // 10_000} of them walked: {walked} refused, each with its reason")
