"""Entries of different tables that contradict each other: names, references, and whether it all fits together.

Works on whatever could be read, so that a wrong unit elsewhere does not hide a clamp off the glass.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from barrier.errors import Fault
from barrier.job.below import below
from barrier.job.faults import no_such
from barrier.job.in_line import in_line
from barrier.job.schema import Blocking, Joists, Loads, Mount, Pad, Panel, Rail, Site, Wind
from barrier.job.shapes import SAME, shown, size
from barrier.job.site import OFF
from barrier.value import JobEntry, Value

LOADS = ("line", "point", "infill", "infill_point")
HEIGHT_TOLERANCE = 5.0  # mm; what a tape on site and a drawing may differ by
CHANNEL_TOLERANCE = 1.0  # mm; a pad this close to the width of its panel is a channel


@dataclass(frozen=True, slots=True)
class Parts:
    """What of a job could be read; names of panels and blocking that stand in the file even if they could not.

    ``clamps`` is how many mounts the file names for each panel, ``standing`` how many are left after changes.
    """

    panels: Sequence[Panel]
    mounts: Sequence[Mount]
    blocking: Mapping[str, Blocking]
    site: Site | None
    loads: Loads | None
    wind: Wind | None
    joists: Joists | None
    rail: Rail | None
    panel_names: Sequence[str]
    blocking_names: Sequence[str]
    clamps: Mapping[str, int]
    standing: Mapping[str, int]
    entry: Callable[[str], JobEntry]


def contradictions(parts: Parts) -> Iterator[Fault]:
    """Every contradiction between the tables of a job."""
    yield from _names(parts)
    yield from _references(parts)
    yield from _heights(parts)
    yield from _in_the_run(parts)
    yield from _left_out(parts)
    for panel in parts.panels:
        mounts = [m for m in parts.mounts if m.panel == panel.name]
        for mount in mounts:
            yield from _on_glass(panel, mount)
        yield from _overlaps(mounts)
        yield from _enough(parts, panel, mounts)
    for mount in parts.mounts:
        blocking = parts.blocking.get(mount.blocking) if mount.blocking else None
        if blocking is not None and mount.support == "blocking":
            yield from _on_blocking(mount, blocking)
    yield from in_line(parts.rail, parts.panels, parts.entry)
    yield from below(parts.mounts, parts.blocking, parts.joists, parts.entry)


def _at(value: Value, text: str) -> Fault:
    origin = value.origin
    assert isinstance(origin, JobEntry)
    return Fault(origin.path, text, origin.line)


def _names(parts: Parts) -> Iterator[Fault]:
    for table, elements in (("panels", parts.panels), ("mounts", parts.mounts)):
        seen: set[str] = set()
        for element in elements:
            if element.name in seen:
                line = _at(element.x if isinstance(element, Mount) else element.width, "").line
                yield Fault(f"{table}.{element.name}", "has the name of another one; give each its own", line)
            seen.add(element.name)


def _references(parts: Parts) -> Iterator[Fault]:
    for mount in parts.mounts:
        for what, name, known in (
            ("panel", mount.panel, parts.panel_names),
            ("blocking", mount.blocking, parts.blocking_names),
        ):
            if what == "panel" and (not known or len(parts.panels) < len(known)):
                continue  # a panel could not be read, perhaps for its name; that is said
            if name is not None and name not in known:
                entry = parts.entry(f"mounts.{mount.name}.{what}")
                yield Fault(entry.path, no_such(what, name, known), entry.line)


def _heights(parts: Parts) -> Iterator[Fault]:
    if not parts.panels:
        return
    tops = {p.name: size(p.bottom_gap) + size(p.height) for p in parts.panels}
    given = parts.site.barrier_height if parts.site is not None else None
    for name, top in tops.items():
        if given is not None and abs(top - size(given)) > HEIGHT_TOLERANCE:
            made = f"bottom_gap and height of panel {name} make {top:.0f} mm"
            yield _at(given, f"{shown(given)} contradicts the glass: {made}; measure again")
    height = parts.loads.height if parts.loads is not None else None
    lowest = min(tops, key=lambda name: tops[name])
    if height is not None and size(height) > tops[lowest] + SAME:
        top_edge = f"{tops[lowest]:.0f} mm above the decking"
        yield _at(height, f"{shown(height)} is above the top of the glass of panel {lowest}, {top_edge}")


def _in_the_run(parts: Parts) -> Iterator[Fault]:
    """A panel stands within its run."""
    run = parts.wind.run_length if parts.wind is not None else None
    for panel in parts.panels:
        start = panel.from_end
        if run is not None and size(panel.width) + (0.0 if start is None else size(start)) > size(run) + HEIGHT_TOLERANCE:
            after = "" if start is None or size(start) == 0.0 else f", {shown(start)} from its end"
            reach = f"panel {panel.name}, {shown(panel.width)} wide{after}"
            yield _at(run, f"{shown(run)} is shorter than {reach}; measure the straight run end to end")


def _left_out(parts: Parts) -> Iterator[Fault]:
    """What a reader says of the loads of a code has a source."""
    loads = parts.loads
    if loads is None or loads.reference:
        return
    settled = [("with_wind", "settles what the code leaves open")] if loads.with_wind is not None else []
    off = [(name, "leaves a load of the code out") for name in LOADS if getattr(loads, name) == OFF]
    for name, does in (*settled, *off):
        entry = parts.entry(f"loads.{name}")
        text = f'= "{getattr(loads, name)}" {does} and has no source; write loads.reference (who says so)'
        yield Fault(entry.path, text, entry.line)


def _on_glass(panel: Panel, mount: Mount) -> Iterator[Fault]:
    for pad in mount.pads:
        on = pad.on_glass(size(mount.x))
        if on.x0 < -CHANNEL_TOLERANCE or on.x1 > size(panel.width) + CHANNEL_TOLERANCE:
            put = f"{shown(mount.x)} puts a pad of mount {mount.name} ({shown(pad.width)} wide) beyond the end of the glass"
            yield _at(mount.x, f"{put}, which is {shown(panel.width)} wide")
        if size(pad.top) > size(panel.height) + SAME:
            top = f"the top of the glass of panel {panel.name}, {shown(panel.height)} high"
            yield _at(pad.top, f"{shown(pad.top)} is above {top}")


def _overlaps(mounts: Sequence[Mount]) -> Iterator[Fault]:
    for a, b in combinations(mounts, 2):
        if any(_overlap(a, p, b, q) for p, q in product(a.pads, b.pads)):
            yield _at(b.x, f"{shown(b.x)} puts the clamp of mount {b.name} over that of mount {a.name}; they overlap")
        elif abs(size(a.x) - size(b.x)) < (size(a.plate.along) + size(b.plate.along)) / 2 - SAME:
            yield _at(b.x, f"{shown(b.x)} puts the base plate of mount {b.name} over that of mount {a.name}; they overlap")


def _overlap(a: Mount, p: Pad, b: Mount, q: Pad) -> bool:
    one, other = p.on_glass(size(a.x)), q.on_glass(size(b.x))
    return min(one.x1, other.x1) - max(one.x0, other.x0) > SAME


def _enough(parts: Parts, panel: Panel, mounts: Sequence[Mount]) -> Iterator[Fault]:
    """A panel needs two mounts or a channel; one left of several is a clamp lost, which is a situation."""
    if any(name not in parts.panel_names for name in parts.standing):
        return  # a mount names a panel that is not there, which is said; it may be of this one
    written, standing = parts.clamps.get(panel.name, 0), parts.standing.get(panel.name, 0)
    if standing == 0:
        yield _at(panel.width, f"is of panel {panel.name}, which no mount holds; add [[mounts]] for it")
    elif written == 1 and len(mounts) == 1:
        pads = mounts[0].pads
        if not any(size(p.width) >= size(panel.width) - CHANNEL_TOLERANCE for p in pads):
            yield _at(
                mounts[0].x,
                f"is of the only clamp of panel {panel.name}: a one-clamp panel turns about it, which is not calculated. "
                "Give it a second mount, or a channel with a pad as wide as the panel",
            )


def _on_blocking(mount: Mount, blocking: Blocking) -> Iterator[Fault]:
    if size(mount.in_bay) > size(blocking.length) + SAME:
        bay = f"blocking {mount.blocking} is {shown(blocking.length)} long between the joists"
        yield _at(mount.in_bay, f"{shown(mount.in_bay)} is outside the bay: {bay}")
    half = blocking.pieces * size(blocking.laid_breadth) / 2
    reach = size(mount.plate.across if blocking.direction == "along" else mount.plate.along) / 2
    if abs(size(mount.offset)) >= half + reach:
        beside = f"puts mount {mount.name} beside its blocking {mount.blocking}"
        yield _at(mount.offset, f"{shown(mount.offset)} {beside}, which is {2 * half:g} mm wide in all")
