"""What may stand so and looks wrong: glass far beyond its mounts, blocking that does not reach its joists, bays that overlap.

What cannot be is refused where the job is read; these are findings, so that a slip of the tape is seen before the saw.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from barrier.job.below import TAPE
from barrier.job.schema import Blocking, Mount, Panel
from barrier.links.walk import Walk
from barrier.result import Finding
from barrier.value import JobEntry, Value

PRACTICE = "common practice"
FAR = 2.0  # times the usual distance of a mount from the end of its glass: from there on the glass sticks out


def setting_out(walk: Walk) -> Iterator[Finding]:
    """Findings on where mounts and blocking are said to stand."""
    usual = walk.tables.value("site", "mount_from_end")
    for panel in walk.job.panels:
        yield from _overhang(panel, walk.job.mounts_of(panel), usual)
        yield from _bays(walk, walk.job.mounts_of(panel))
    for name in dict.fromkeys(str(m.blocking) for m in walk.job.mounts if m.support == "blocking"):
        yield from _reach(walk, name, walk.job.blocking[name])


def _mm(value: Value) -> float:
    return float(value.x)


def _overhang(panel: Panel, mounts: tuple[Mount, ...], usual: Value) -> Iterator[Finding]:
    """Glass that sticks out beyond its outermost mounts: on one side, as on mounts set for a narrower panel, or on both."""
    if not mounts:
        return
    first, last = min(mounts, key=lambda m: _mm(m.x)), max(mounts, key=lambda m: _mm(m.x))
    left = _mm(first.x) - _mm(first.plate.along) / 2
    right = _mm(panel.width) - _mm(last.x) - _mm(last.plate.along) / 2
    ends = (("left", first, left, right), ("right", last, right, left))
    for side, mount, own, other in ends:
        if own > FAR * _mm(usual):
            beside = ", far more than at the other end: are the mounts set for another panel" if other <= own / FAR else ""
            far = f"The glass of panel {panel.name} sticks out far beyond mount {mount.name} at its {side} end{beside}"
            told = "It is calculated so; measure the width and where the mounts stand. From the end of the glass to the mount it is"
            text = f"{far}. {told} usually about"
            yield Finding(text, PRACTICE, True, usual)


def _bays(walk: Walk, mounts: tuple[Mount, ...]) -> Iterator[Finding]:
    """Two blockings of one panel that would lie in the same place along the glass."""
    on = [m for m in mounts if m.support == "blocking" and walk.job.blocking[str(m.blocking)].direction == "along"]
    for a, b in combinations(sorted(on, key=lambda m: _mm(m.x)), 2):
        if a.blocking == b.blocking or abs(_mm(a.offset) - _mm(b.offset)) > TAPE:
            continue
        one = walk.job.blocking[str(a.blocking)]
        over = _mm(a.x) - _mm(a.in_bay) + _mm(one.length) - (_mm(b.x) - _mm(b.in_bay))
        if over > TAPE:
            yield Finding(
                f"Blocking {a.blocking} of mount {a.name} and {b.blocking} of mount {b.name} overlap where x and in_bay put them: "
                "one of these is wrong, or both mounts stand in one bay on one blocking. Measure again.",
                loud=True,
            )


def _reach(walk: Walk, name: str, block: Blocking) -> Iterator[Finding]:
    """Blocking that is shorter than the clear way between joists, or does not fit a spacing nobody measured."""
    joists = walk.job.joists
    if joists.width is None:
        return
    clear = _mm(joists.spacing) - _mm(joists.width)
    assumed = isinstance(joists.spacing.origin, JobEntry) and joists.spacing.origin.is_assumed
    if assumed and abs(_mm(block.length) - clear) > TAPE:
        text = f"Blocking {name} does not fit between joists as far apart as is assumed: measure joists.spacing."
        yield Finding(text, "", True)
    elif not assumed and _mm(block.length) < clear - TAPE:
        text = f"Blocking {name} is shorter than the clear way between the joists: does it reach both? Measure length and spacing."
        yield Finding(text, "", True)
