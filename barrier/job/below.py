"""What stands below contradicts itself: mounts on one piece of blocking, and blocking between joists.

Only what cannot be is refused here; what may be and looks wrong is a finding of the sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import combinations

from barrier.errors import Fault
from barrier.job.mount import Mount
from barrier.job.shapes import SAME, shown, size
from barrier.job.timber import Blocking, Joists
from barrier.value import JobEntry, Value

OFF_ITS_MARK = 50.0  # mm; as far as a mount may stand from where it was meant to, and no further
TAPE = 5.0  # mm; what a tape on site and a drawing may differ by


def below(
    mounts: Sequence[Mount], blocking: Mapping[str, Blocking], joists: Joists | None, entry: Callable[[str], JobEntry]
) -> Iterator[Fault]:
    """Contradictions of what the mounts stand on. ``entry`` finds an entry of the job by its path."""
    used = {name: [m for m in mounts if m.support == "blocking" and m.blocking == name] for name in blocking}
    for name, own in used.items():
        for a, b in combinations(own, 2):
            yield from _on_one(name, blocking[name], a, b)
    if joists is not None:
        standing = {name: blocking[name] for name, own in used.items() if own}
        yield from _between_joists(standing, joists)
        yield from _parallel(standing, joists, entry)


def _at(value: Value, text: str) -> Fault:
    origin = value.origin
    assert isinstance(origin, JobEntry)
    return Fault(origin.path, text, origin.line)


def _on_one(name: str, block: Blocking, a: Mount, b: Mount) -> Iterator[Fault]:
    """Two mounts on one blocking: as far apart on it as along the glass, and not in one place."""
    along = block.direction == "along"
    place, key = (b.in_bay, "in_bay") if along else (b.offset, "offset")
    apart = size(place) - size(a.in_bay if along else a.offset)
    own = f'give each mount its own, [blocking.NAME] with same_as = "{name}"'
    if a.panel == b.panel:
        glass = size(b.x) - size(a.x)
        if abs(glass - apart) > OFF_ITS_MARK:
            put = f"puts mounts {a.name} and {b.name} {abs(apart):g} mm apart on the one blocking {name}"
            where = f"x puts them {abs(glass):g} mm apart along the glass; {own}, or measure x and {key} again"
            yield _at(place, f"{shown(place)} {put}, and {where}")
    elif abs(apart) < (size(a.plate.along) + size(b.plate.along)) / 2 - SAME:
        yield _at(place, f"{shown(place)} puts mount {b.name} on mount {a.name}, on the one blocking {name}; {own}")


def _between_joists(standing: Mapping[str, Blocking], joists: Joists) -> Iterator[Fault]:
    """Blocking is no longer than the clear way between two joists."""
    origin = joists.spacing.origin
    if isinstance(origin, JobEntry) and origin.is_assumed:
        return  # nobody measured it
    thick = f", {shown(joists.width)} thick," if joists.width is not None else ""
    clear = size(joists.spacing) - (size(joists.width) if joists.width is not None else 0.0)
    for block in standing.values():
        if size(block.length) > clear + TAPE:
            way = f"joists{thick} at {shown(joists.spacing)} centres leave {clear:g} mm between them"
            yield _at(block.length, f"{shown(block.length)} is longer than there is room for: {way}; measure both again")


def _parallel(standing: Mapping[str, Blocking], joists: Joists, entry: Callable[[str], JobEntry]) -> Iterator[Fault]:
    """Blocking runs from joist to joist, so across them. A deck with mounts on two of its sides has blocking both ways."""
    if joists.direction is None or {block.direction for block in standing.values()} != {joists.direction}:
        return
    for at in (entry(f"blocking.{name}.direction") for name in standing):
        way = "the way the joists run (joists.direction), and blocking has to run from one joist to the next"
        yield Fault(at.path, f'= "{joists.direction}" is {way}; look from below which of the two is wrong', at.line)
