"""Panels that stand in one line under one rail contradict it: how many there are, how high they are."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from barrier.errors import Fault
from barrier.job.faults import no_such
from barrier.job.glass import Panel
from barrier.job.rail import Rail
from barrier.job.shapes import shown, size
from barrier.value import JobEntry

TOPS = 5.0  # mm; what a tape on site and a drawing may differ by


def in_line(rail: Rail | None, panels: Sequence[Panel], entry: Callable[[str], JobEntry]) -> Iterator[Fault]:
    """Contradictions of a rail and the panels under it. ``entry`` finds an entry of the job by its path."""
    if rail is None or not panels:
        return
    under = [p for p in panels if p.rail != "none"]
    if not under:
        if not rail.openings:
            at = entry("rail")
            yield Fault("rail", f'is described and no panel has one; write rail = "cap" in panel {panels[0].name}', at.line)
        return
    tops = {p.name: size(p.bottom_gap) + size(p.height) for p in under}
    first = under[0]
    for p in under[1:]:
        if abs(tops[p.name] - tops[first.name]) > TOPS:
            at, other = entry(f"panels.{p.name}.height"), f"on {first.name}, {tops[first.name]:g} mm"
            text = f"{shown(p.height)} puts the top of panel {p.name} at {tops[p.name]:g} mm; one rail lies on it and {other}"
            yield Fault(at.path, text, at.line)
    yield from _places(rail, under, entry) if rail.line else _counted(rail, under, entry)
    yield from _joints(rail, under)


def _joints(rail: Rail, under: Sequence[Panel]) -> Iterator[Fault]:
    """A joint lies on the rail, away from its ends."""
    if rail.between is None or (rail.panels is None and len(under) < 2):
        return
    length = _length(rail, under)
    for n, splice in enumerate(rail.splices, 1):
        if not TOPS <= size(splice.at) <= length - TOPS:
            origin = splice.at.origin
            line = origin.line if isinstance(origin, JobEntry) else None
            text = f"{shown(splice.at)} is not between the ends of the glass under the rail, which is {length:g} mm in all"
            yield Fault(f"rail.splices.{n}.at", text, line)


def _length(rail: Rail, under: Sequence[Panel]) -> float:
    """From the first edge of the glass under the rail to the last, mm; what is wrong with the line is said elsewhere."""
    assert rail.between is not None
    gone, own = {o.place: size(o.width) for o in rail.openings}, {p.name: size(p.width) for p in under}
    if rail.line:
        widths = [gone.get(n, own.get(p.panel, 0.0)) for n, p in enumerate(rail.line, 1)]
        return sum(widths) + size(rail.between) * (len(widths) - 1)
    count = rail.panels or len(under) + len(gone)
    widths = list(own.values()) if len(under) > 1 else [*own.values()] * (count - len(gone))
    return sum(widths) + sum(gone.values()) + size(rail.between) * (count - 1)


def _places(rail: Rail, under: Sequence[Panel], entry: Callable[[str], JobEntry]) -> Iterator[Fault]:
    """A line that says which panel stands at each place: all of them are there, each somewhere, and as many as are counted."""
    names, gone = [p.name for p in under], [o.place for o in rail.openings]
    for n, place in enumerate(rail.line, 1):
        if place.panel not in names and n not in gone:
            at = entry(f"rail.line.{n}.panel")
            yield Fault(at.path, no_such("panel under the rail", place.panel, names), at.line)
    standing = {p.panel for n, p in enumerate(rail.line, 1) if n not in gone}
    for name in names:
        if name not in standing:
            at = entry("rail.line")
            yield Fault(at.path, f"does not name panel {name}, which is under the rail; name it, or take its rail away", at.line)
    if rail.panels is not None and rail.panels != len(rail.line):
        at = entry("rail.panels")
        yield Fault(at.path, f"= {rail.panels} and rail.line has {len(rail.line)} places; take one of the two out", at.line)
    yield from _gone(rail, len(rail.line), entry)


def _counted(rail: Rail, under: Sequence[Panel], entry: Callable[[str], JobEntry]) -> Iterator[Fault]:
    gone = [o.place for o in rail.openings]
    count, described = rail.panels, len(under) + len(gone)
    if count is not None and ((len(under) > 1 and count != described) or count < described):
        at, openings = entry("rail.panels"), f" and {len(gone)} gone" if gone else ""
        text = f"= {count} and the file has {len(under)} panels under the rail{openings}; describe one, or all"
        yield Fault(at.path, text, at.line)
    yield from _gone(rail, count if count is not None else described, entry)


def _gone(rail: Rail, last: int, entry: Callable[[str], JobEntry]) -> Iterator[Fault]:
    """Every place where the glass is gone is a place of its own."""
    gone = [o.place for o in rail.openings]
    for n, opening in enumerate(rail.openings, 1):
        if opening.place > last or gone.index(opening.place) != n - 1:
            at = entry(f"rail.openings.{n}.place")
            yield Fault(at.path, f"= {opening.place} is no place of its own in a line of {last} panels", at.line)
