"""The rail of each side: the plain job in which its panels stand in line under it, and what is said before anything is walked.

A side is walked with its rail as one job: every distinct condition is described once, and the line says which of them stands at
each place. The load path then takes every panel away in turn, those with the same neighbours once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from barrier.job.run import Corner, Side
from barrier.job.run_file import RunFile
from barrier.run.conflicts import Conflict, Kind, Weight
from barrier.run.side import SideSet
from barrier.whole_run.conditions import Condition
from barrier.whole_run.from_file import x_of
from barrier.whole_run.jobs import Stand, changes_of, mm_text

NEAR = 5.0  # mm; a joint nearer to an end of the rail is none
MOST = 16  # panels under one rail that the load path solves as one
ASKED = (
    "its splices, ends and connections are not looked at: write [rail] with its section, strength and grip, and [run.sides.rail] "
    "with what holds each of its ends and where it is joined"
)
ENDS = (("start", "left", "right"), ("end", "right", "left"))  # as the tape runs, and which end that is where it runs right or left


def named(file: RunFile) -> bool:
    """Whether the panels have a rail."""
    return bool(file.panel.get("rail", "none") != "none")


def why_not(file: RunFile, side: SideSet, conditions: Sequence[Condition]) -> str:
    """Why a side is not walked with its rail; nothing where it is."""
    if not isinstance(file.base.get("rail"), dict):
        return f"a {file.panel.get('rail')} rail is named, and {ASKED}"
    if len(side.panels) > MOST:
        return f"{len(side.panels)} panels stand under one rail, and no more than {MOST} are worked out as one; set it out in parts"
    lost = [", ".join(c.panels) for c in conditions if not c.stands]
    return f"a mount of {'; '.join(lost)} stands on no piece of blocking, so the line of panels is not whole" if lost else ""


def job_of(file: RunFile, side: SideSet, conditions: Sequence[Condition], way: int) -> dict[str, Any]:
    """What the base has to say to be the plain job of a side under its rail.

    Arguments: ``conditions`` of the side; ``way`` which of the ways each of them is walked, the last where it has no more.
    """
    stands = {c.speaks: c.stands[min(way, len(c.stands) - 1)] for c in conditions}
    speaks = {name: c.speaks for c in conditions for name in c.panels}
    line = [{"panel": speaks[p.name], "name": p.name} for p in side.panels]
    changes = changes_of(file, side, list(stands.values()))
    own = _own(file, side, [stands[speaks[p.name]] for p in side.panels])
    return {**changes, "rail": {"line": line if side.to_the_right else line[::-1], **own}}


def whole_of(file: RunFile, side: SideSet, stands: Sequence[Stand]) -> dict[str, Any]:
    """The same of every panel of a side described by itself."""
    return {**changes_of(file, side, stands if side.to_the_right else stands[::-1]), "rail": _own(file, side, stands)}


def ways(conditions: Sequence[Condition]) -> int:
    """In how many ways a side is walked so that each of its conditions is walked in all of its own."""
    return max(len(c.stands) for c in conditions)


def _own(file: RunFile, side: SideSet, stands: Sequence[Stand]) -> dict[str, Any]:
    """The entries of a rail that are of one side, left and right seen from the people side; gaps alike, at the largest of them."""
    gap = max(side.division.gaps, default=round(x_of(file.run.gap)))
    written = file.rail_of(side.name)
    found: dict[str, Any] = {"between": f"{gap} mm"}
    for at, left, right in ENDS:
        if at in written:
            found[left if side.to_the_right else right] = written[at]
    if "continuous" in written:
        found["continuous"] = written["continuous"]
    asked = next(s for s in file.run.sides if s.name == side.name)
    if asked.rail is not None and asked.rail.splices:
        at = _along(side, stands, gap)
        places = [at(x_of(s.at)) for s in asked.rail.splices]
        joints = [{**own, "at": mm_text(x)} for own, x in zip(written["splices"], places, strict=True)]
        found["splices"] = joints if side.to_the_right else joints[::-1]
    return found


def _along(side: SideSet, stands: Sequence[Stand], gap: int) -> Any:
    """A place on the tape as a place in the line of the job, whose gaps are alike, from the left end of its first glass, mm.

    Edge by edge, so that a joint in a gap stays in its gap and one on a panel stays on it.
    """
    true = [float(x) for p in side.panels for x in (p.strip.left, p.strip.right)]
    job, at = [], 0.0
    for s in stands:
        job += [at, at + s.panel.strip.width]
        at += s.panel.strip.width + gap

    def to(x: float) -> float:
        i = next((i for i in range(len(true) - 1) if x <= true[i + 1]), len(true) - 2)
        found = job[i] + (x - true[i]) * (job[i + 1] - job[i]) / (true[i + 1] - true[i])
        return found if side.to_the_right else job[-1] - found

    return to


# ---------------------------------------------------------------- findings


def findings(file: RunFile, sides: Sequence[SideSet]) -> Iterator[Conflict]:
    """What is open or worth saying of every rail: not described, an end free, a joint on glass, a corner held by one panel."""
    if not named(file):
        return
    for side, asked in zip(sides, file.run.sides, strict=True):
        if not isinstance(file.base.get("rail"), dict):
            what = f"a {file.panel.get('rail')} rail is named, and its splices, ends and connections are not looked at"
            cure = f"ask its supplier where it is spliced and how its ends are held, then {ASKED.split(': ')[1]}"
            yield Conflict(Kind.RAIL, Weight.OPEN, side.name, 0.0, (), what, cure)
            continue
        yield from _ends(file, side, asked, sides)
        yield from _joints(side, asked)


def known_places(file: RunFile, sides: Sequence[SideSet]) -> None:
    """Every joint lies on its rail. Raises JobRefused where one does not."""
    for side, asked in zip(sides, file.run.sides, strict=True):
        first, last = side.panels[0].strip.left, side.panels[-1].strip.right
        for n, splice in enumerate(() if asked.rail is None else asked.rail.splices, 1):
            if not first + NEAR <= x_of(splice.at) <= last - NEAR:
                text = f"{x_of(splice.at):g} mm is not on the rail: the glass of side {side.name} lies from {first} to {last} mm"
                raise file.refused(f"run.sides.{side.name}.rail.splices.{n}.at", f"{text} of the tape")


def _ends(file: RunFile, side: SideSet, asked: Side, sides: Sequence[SideSet]) -> Iterator[Conflict]:
    held = 0
    for at, panel, x in (("start", side.panels[0], 0.0), ("end", side.panels[-1], float(side.division.line))):
        end = None if asked.rail is None else getattr(asked.rail, at)
        if end is None or end.fixing is None:
            what = f"nobody said what holds the {at} of the rail: is it free, in a bracket, on a post, joined at a corner?"
            yield Conflict(Kind.RAIL, Weight.OPEN, side.name, x, (), what, f"look, and write [run.sides.rail.{at}]")
        elif not end.holding:
            what = f"the {at} of the rail is held by nothing: with {panel.name} gone it hangs over the opening on one panel"
            yield Conflict(
                Kind.RAIL, Weight.NOTE, side.name, x, (panel.name,), what, "a bracket or post there, with its own fixing"
            )
        else:
            held += 1
            if end.fixing == "corner":
                yield from _held_by_one(file, side, at, x, sides)
    if len(side.panels) < 3 and held < 2:
        what = f"{len(side.panels)} under the rail and not both ends held: fewer than three panels, which some rules count"
        yield Conflict(Kind.RAIL, Weight.NOTE, side.name, 0.0, (), what, "hold both ends; a count of panels is no check by itself")


def _held_by_one(file: RunFile, side: SideSet, at: str, x: float, sides: Sequence[SideSet]) -> Iterator[Conflict]:
    """A corner that holds one rail by another which lies on a single panel: with that gone, nothing holds it."""

    def meets(c: Corner) -> str:
        if (c.side, c.at) == (side.name, at):
            return c.other
        return c.side if (c.other, c.other_at) == (side.name, at) else ""

    other = next(name for c in file.run.corners if (name := meets(c)))
    beside = next(s for s in sides if s.name == other)
    if len(beside.panels) == 1:
        what = f"the {at} of the rail is held at the corner by the rail of {other}, which lies on {beside.panels[0].name} alone"
        cure = "hold the far end of that rail as well; with its one panel gone nothing was looked at on this side"
        yield Conflict(Kind.RAIL, Weight.OPEN, side.name, x, (beside.panels[0].name,), what, cure)


def _joints(side: SideSet, asked: Side) -> Iterator[Conflict]:
    for splice in () if asked.rail is None else asked.rail.splices:
        at = x_of(splice.at)
        on = next((p for p in side.panels if p.strip.left < at < p.strip.right), None)
        if on is not None:
            what = f"a joint of the rail at {at:g} mm lies on the glass of {on.name}: with that gone it hangs in two pieces"
            yield Conflict(Kind.RAIL, Weight.NOTE, side.name, at, (on.name,), what, "a joint in a gap between two panels")


def sharing(sides: Sequence[SideSet]) -> Iterator[Conflict]:
    """Two mounts on one piece of blocking: each is checked as if it stood there alone."""
    for side in sides:
        for q in side.pieces:
            if len(q.mounts) > 1:
                what = f"piece {q.mark} carries {' and '.join(q.mounts)}, and each is checked as if it stood there alone"
                cure = "another division, or another place of one of them; or ask the engineer for both at once"
                yield Conflict(Kind.JOINT, Weight.OPEN, side.name, (q.low + q.high) / 2, q.mounts, what, cure)
