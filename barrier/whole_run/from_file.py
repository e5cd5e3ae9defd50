"""A side set out from what its file says: lengths, ground, division, mounts; and what findings are measured by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barrier.job import Job
from barrier.job.run import Side
from barrier.job.run_file import RunFile
from barrier.run.ask import Impossible
from barrier.run.bays import Boards, Fixing, joists_from
from barrier.run.conflicts import Limits
from barrier.run.division import Division, divide, glass_line, half_up, placed
from barrier.run.lists import mass
from barrier.run.modules import Layout, Line, Rule, best, layouts, why
from barrier.run.side import Blocked, Ground, MountRule, SideSet, mounts_in, set_out
from barrier.value import Value

END, EDGE = 10.0, 4.0  # diameters: EN 1995-1-1 Table 8.6 for a screw loaded across, from a secondary copy
OTHER = "fewer panels or more of them, or other limits under [run]"


def x_of(value: Value | None) -> float:
    assert value is not None
    return float(value.x)


def fixing_of(file: RunFile, probe: Job) -> Fixing:
    mount, asked = probe.mounts[0], file.run.blocking
    d = float(mount.screw.diameter.x)
    xs, ys = [float(s.x.x) for s in mount.screws], [float(s.y.x) for s in mount.screws]
    end = END * d if asked.end is None else x_of(asked.end)
    edge = EDGE * d if asked.edge is None else x_of(asked.edge)
    return Fixing(max(map(abs, xs)), max(map(abs, ys)), d, end, edge, x_of(file.run.tolerance))


def _neighbours(file: RunFile, side: Side) -> dict[str, tuple[float, bool]]:
    """For each end at a corner how far the glass of the side met there stands in, and whether the corner points outward."""
    offsets = {s.name: x_of(s.offset) for s in file.run.sides}
    found = {}
    for c in file.run.corners:
        if c.side == side.name:
            found[c.at] = (offsets[c.other], c.turn == "outside")
        if c.other == side.name:
            found[c.other_at] = (offsets[c.side], c.turn == "outside")
    return found


def _line(file: RunFile, side: Side) -> int:
    length = x_of(side.length)
    if side.measured_at == "deck edge":
        for other, outside in _neighbours(file, side).values():
            length = glass_line(length, other, outside=outside)
    return half_up(length)


def _datum(file: RunFile, side: Side) -> float:
    """Where the zero of the glass line lies, from the corner of the deck, mm."""
    other, outside = _neighbours(file, side).get("start", (0.0, True))
    return other if outside else -other


def _ground(file: RunFile, side: Side, line: int, probe: Job) -> Ground:
    zero = _datum(file, side)
    joists: tuple[float, ...] = ()
    if side.joists == "across":
        if side.measured is not None:
            joists = tuple(x_of(j) - zero for j in side.measured)
        else:
            joists = joists_from(x_of(side.first_joist) - zero, x_of(side.spacing), line)
    piece, pack = breadths(probe, file.run.blocking.use)
    boards, along = None, []
    if probe.decking.board_width is not None and probe.decking.gap is not None:
        width, gap, first = x_of(probe.decking.board_width), x_of(probe.decking.gap), x_of(side.first_board)
        if side.boards == "across":
            boards = Boards(width, gap, first - zero)
        elif side.boards == "along":
            pitch = width + gap
            along = [(first + i * pitch - gap, first + i * pitch) for i in range(1, int(x_of(side.offset) * 2 / pitch) + 2)]
    blocked = tuple(Blocked(x_of(o.begins), x_of(o.ends), o.why, o.glass) for o in side.obstacles)
    apart = 0.0 if side.spacing is None else x_of(side.spacing)
    return Ground(
        joists, x_of(side.joist_width), side.measured is not None, x_of(side.rim), piece, pack, x_of(side.offset),
        boards, tuple(along), blocked, apart,
    )  # fmt: skip


def side_of(file: RunFile, side: Side, fixing: Fixing, probe: Job, own: Mapping[str, Fixing] | None = None) -> SideSet:
    """A side set out; ``own`` what the screws of panels with other mounts need. Raises JobRefused where it cannot be."""
    line, run = _line(file, side), file.run
    ground = _ground(file, side, line, probe)
    edges: list[int | None]
    start, end = half_up(x_of(side.start_clear)), half_up(x_of(side.end_clear))
    rule = MountRule(x_of(run.mounts.edge), None if run.mounts.third_above is None else x_of(run.mounts.third_above))
    try:
        if side.module is not None:
            layout = _module(file, side, line, ground, fixing)
            division = layout.division
            edges = [layout.filler_edge, *[layout.module_edge] * (len(division.panels) - 1)]
        else:
            division = (
                divide(line, side.panels, half_up(x_of(run.gap)), start, end, widest=half_up(x_of(run.widest)))
                if side.panels is not None
                else placed(line, [half_up(x_of(w)) for w in side.widths or ()], start, end)
            )
            edges = [None] * len(division.panels)
        least, most = x_of(run.narrowest), x_of(run.widest)
        for strip in division.panels:
            if not least <= strip.width <= most:
                raise Impossible(f"a panel would be {strip.width} mm wide, and {least:g} to {most:g} mm are allowed", OTHER)
        mounts = _mounts(file, side, division, edges, rule)
    except Impossible as no:
        raise file.refused(f"run.sides.{side.name}", f"cannot be set out: {no}") from None
    to_right = side.tape == "to the right"
    return set_out(side.name, division, mounts, ground, fixing, side.start, side.end, to_right, x_of(side.fall), own)


def _mounts(file: RunFile, side: Side, division: Division, edges: Sequence[int | None], rule: MountRule) -> list[tuple[float, ...]]:
    singles = {s.panel: s for s in file.run.singles}
    found = []
    for i, (strip, edge) in enumerate(zip(division.panels, edges, strict=True), 1):
        own = singles.get(f"{side.name}{i}")
        near: float | None = edge
        far: float | None = edge
        if own is not None and own.places is not None:
            places = tuple(x_of(x) for x in own.places)
            if places[-1] >= strip.width:
                raise Impossible(f"a mount at {places[-1]:g} mm does not stand on a panel of {strip.width} mm", "other places")
            found.append(places)
            continue
        if own is not None:
            near = near if own.near is None else x_of(own.near)
            far = far if own.far is None else x_of(own.far)
        found.append(mounts_in(strip.width, rule, near, far, None if own is None else own.mounts))
    return found


def _module(file: RunFile, side: Side, line: int, ground: Ground, fixing: Fixing) -> Layout:
    """The layout that was chosen; where none was, the best few are offered and nothing is taken."""
    run = file.run
    rule = Rule(
        half_up(x_of(run.least_gap)),
        half_up(x_of(run.gap)),
        half_up(x_of(run.largest_gap)),
        x_of(run.mounts.least),
        x_of(run.mounts.largest),
    )
    asked = Line(line, half_up(x_of(side.start_clear)), half_up(x_of(side.end_clear)), ground.joists, ground.joist)
    assert side.module is not None
    found = list(layouts(asked, side.module, x_of(side.spacing), rule, fixing))
    if side.module_gap is not None and side.module_edge is not None:
        gap, edge = x_of(side.module_gap), x_of(side.module_edge)
        chosen = next((m for m in found if (m.gap, m.module_edge) == (gap, edge)), None)
        if chosen is not None:
            return chosen
        lead = f"no layout with gaps of {gap:g} mm and mounts {edge:g} mm in keeps every mount clear"
    else:
        lead = "a module is offered, not taken; write module_gap and module_edge of the one you choose"
    offered = best(found, rule)
    if not offered:
        raise Impossible(
            f"no module of {side.module} bays keeps every mount clear", "another module, an unequal division, or panels"
        )
    listed = "".join(
        f"\n  {i}. module_gap = \"{m.gap} mm\", module_edge = \"{m.module_edge} mm\": {why(m)}" for i, m in enumerate(offered, 1)
    )  # fmt: skip
    raise file.refused(f"run.sides.{side.name}.module", f"{lead}. Of {len(found)} layouts that fit:{listed}")


def breadths(probe: Job, use: str) -> tuple[float, float]:
    """Breadth of a piece of blocking seen from above, and of all its loose plies, mm."""
    b = probe.blocking[use]
    breadth = x_of(b.depth) if b.laid == "flat" else x_of(b.width)
    return breadth * b.pieces if b.laminated == "factory" else breadth, breadth * b.pieces


def limits_of(file: RunFile, probe: Job) -> Limits:
    run, panel, mount = file.run, probe.panels[0], probe.mounts[0]
    glass, film = _thickness(probe)
    return Limits(
        x_of(run.tolerance), x_of(run.least_gap), None if run.opening is None else x_of(run.opening), x_of(run.mounts.least),
        x_of(run.mounts.largest), x_of(run.mounts.difference), x_of(run.lift), x_of(panel.bottom_gap), x_of(panel.height),
        None if probe.site.barrier_height is None else x_of(probe.site.barrier_height),
        x_of(mount.plate.along), x_of(mount.plate.across if mount.plate.across is not None else mount.plate.along),
        glass + film,
    )  # fmt: skip


def _thickness(probe: Job) -> tuple[float, float]:
    """Glass and interlayers of a panel, mm in all."""
    panel = probe.panels[0]
    glass = sum(x_of(layer.nominal) for layer in panel.layers if layer.nominal is not None)
    film = 0.0 if panel.interlayer is None else x_of(panel.interlayer.thickness) * (len(panel.layers) - 1)
    return glass, film


def masses_of(sides: Sequence[SideSet], probes: Mapping[str, Job], probe: Job) -> dict[str, float]:
    """Mass of every panel, kg; ``probes`` of those that are not by the rule."""

    def of(name: str, width: int) -> float:
        own = probes.get(name, probe)
        return mass(width, x_of(own.panels[0].height), *_thickness(own))

    return {p.name: of(p.name, p.strip.width) for s in sides for p in s.panels}
