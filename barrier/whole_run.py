"""A whole run: from what its file says to sides set out, findings, distinct conditions, and the check of each condition.

``lay_out`` reads no loads and checks nothing; ``check_run`` walks each distinct condition once, by the load path every job goes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from barrier.errors import JobRefused
from barrier.job import Job
from barrier.job.run import Side
from barrier.job.run_file import RunFile
from barrier.load_path import Result, check
from barrier.result import Ending
from barrier.run import conflicts as look
from barrier.run.ask import Impossible
from barrier.run.bays import Boards, Fixing, joists_from
from barrier.run.conflicts import Conflict, Limits, Weight
from barrier.run.division import Division, divide, glass_line, placed
from barrier.run.lists import mass
from barrier.run.modules import Layout, Line, Rule, best, layouts, why
from barrier.run.side import Blocked, Ground, MountRule, Panel, SideSet, mounts_in, set_out
from barrier.value import Value

END, EDGE = 10.0, 4.0  # diameters: EN 1995-1-1 Table 8.6 for a screw loaded across, from a secondary copy
MOST_CONDITIONS = 60


@dataclass(frozen=True, eq=False)
class Condition:
    """Panels that stand alike: one of them speaks for all, at the place in the run where the wind is highest among them."""

    side: str
    panels: tuple[str, ...]
    changes: Mapping[str, Any]
    words: str


@dataclass(frozen=True, eq=False)
class Layed:
    """A run set out: sides, findings in the order they are numbered, distinct conditions; ``probe`` is the job of one panel,
    ``fixing`` what its screws need, ``masses`` of the panels in kg."""

    file: RunFile
    probe: Job
    fixing: Fixing
    sides: tuple[SideSet, ...]
    conflicts: tuple[Conflict, ...]
    conditions: tuple[Condition, ...]
    masses: Mapping[str, float]

    def side_job(self, name: str) -> str:
        """The text of the plain job that one side expands to: every panel and mount of it."""
        side = next(s for s in self.sides if s.name == name)
        return self.file.text(_changes(self.file, side, side.panels), f"side {name}")

    def of(self, whom: str) -> SideSet:
        """The side a panel belongs to."""
        return next(s for s in self.sides if any(p.name == whom for p in s.panels))


@dataclass(frozen=True, eq=False)
class Row:
    """One row of the cover table: a condition, the result behind it (None where it was not walked), and what keeps it open."""

    condition: Condition
    result: Result | None
    held_up: tuple[int, ...] = ()  # numbers of the findings that keep it from being checked as it will be built

    @property
    def ending(self) -> Ending:
        """Of the result, but never within while a finding stands against it."""
        if self.result is None:
            return Ending.NOT_CHECKED
        return Ending.NOT_CHECKED if self.held_up and self.result.ending is Ending.WITHIN else self.result.ending


@dataclass(frozen=True, eq=False)
class CheckedRun:
    """A run with each distinct condition walked."""

    laid: Layed
    rows: tuple[Row, ...]

    @cached_property
    def ending(self) -> Ending:
        """The worst row: exceeds, then not checked, then within; a finding against the run itself keeps it open."""
        endings = {r.ending for r in self.rows}
        if any(c.weight is not Weight.NOTE for c in self.laid.conflicts):
            endings.add(Ending.NOT_CHECKED)
        return next((e for e in (Ending.EXCEEDS, Ending.NOT_CHECKED) if e in endings), Ending.WITHIN)


def lay_out(file: RunFile) -> Layed:
    """A run set out.

    Argument: ``file`` as :func:`barrier.job.run_file.read_run` returns it. Returns sides, findings and conditions. Raises
    JobRefused where a side cannot be divided, with what would help, and where a module is asked for and none was chosen: then with
    the best layouts and what speaks for each.
    """
    probe = file.job(_probe(file))
    fixing = _fixing(file, probe)
    sides = tuple(_side(file, s, fixing, probe) for s in file.run.sides)
    masses = _masses(sides, probe)
    limits = _limits(file, probe)
    found = [c for s in sides for c in look.of_side(s, fixing, limits, masses)]
    by_name = {s.name: s for s in sides}
    for corner in file.run.corners:
        found += look.at_corner(by_name[corner.side], corner.at, by_name[corner.other], corner.other_at, limits)
    found += look.of_sizes(sides, limits)
    return Layed(file, probe, fixing, sides, look.in_order(found), _conditions(file, sides), masses)


def check_run(laid: Layed, walk: Callable[[Job], Result] = check) -> CheckedRun:
    """Every distinct condition walked once; ``walk`` takes a job to its result. Raises JobRefused as a job of one panel does."""
    rows = []
    for condition in laid.conditions:
        job = laid.file.job(condition.changes, f"panel {', '.join(condition.panels)}")
        rows.append(Row(condition, walk(job), _held_up(laid, condition)))
    return CheckedRun(laid, tuple(rows))


def unchecked(laid: Layed) -> CheckedRun:
    """The run as set out, no condition walked: every row is *not checked*."""
    return CheckedRun(laid, tuple(Row(c, None, _held_up(laid, c)) for c in laid.conditions))


def _held_up(laid: Layed, condition: Condition) -> tuple[int, ...]:
    names = {*condition.panels, *(m.name for p in condition.panels for m in _panel(laid, p).mounts)}
    return tuple(i for i, c in enumerate(laid.conflicts, 1) if c.weight is not Weight.NOTE and names & set(c.whom))


def _panel(laid: Layed, name: str) -> Panel:
    return next(p for s in laid.sides for p in s.panels if p.name == name)


# ---------------------------------------------------------------- a side from what is written


def _x(value: Value | None) -> float:
    assert value is not None
    return float(value.x)


def _mm(x: float) -> str:
    return f"{round(x, 3):g} mm" if abs(x) < 1e6 else f"{x:.0f} mm"


def _fixing(file: RunFile, probe: Job) -> Fixing:
    mount, asked = probe.mounts[0], file.run.blocking
    d = float(mount.screw.diameter.x)
    xs, ys = [float(s.x.x) for s in mount.screws], [float(s.y.x) for s in mount.screws]
    end = END * d if asked.end is None else _x(asked.end)
    edge = EDGE * d if asked.edge is None else _x(asked.edge)
    return Fixing(max(map(abs, xs)), max(map(abs, ys)), d, end, edge, _x(file.run.tolerance))


def _neighbours(file: RunFile, side: Side) -> dict[str, tuple[float, bool]]:
    """For each end at a corner how far the glass of the side met there stands in, and whether the corner points outward."""
    offsets = {s.name: _x(s.offset) for s in file.run.sides}
    found = {}
    for c in file.run.corners:
        if c.side == side.name:
            found[c.at] = (offsets[c.other], c.turn == "outside")
        if c.other == side.name:
            found[c.other_at] = (offsets[c.side], c.turn == "outside")
    return found


def _line(file: RunFile, side: Side) -> int:
    length = _x(side.length)
    if side.measured_at == "deck edge":
        for other, outside in _neighbours(file, side).values():
            length = glass_line(length, other, outside=outside)
    return int(length)


def _datum(file: RunFile, side: Side) -> float:
    """Where the zero of the glass line lies, from the corner of the deck, mm."""
    other, outside = _neighbours(file, side).get("start", (0.0, True))
    return other if outside else -other


def _ground(file: RunFile, side: Side, line: int, probe: Job) -> Ground:
    zero, joists = _datum(file, side), ()
    if side.joists == "across":
        if side.measured is not None:
            joists = tuple(_x(j) - zero for j in side.measured)
        else:
            joists = joists_from(_x(side.first_joist) - zero, _x(side.spacing), line)
    b = probe.blocking[file.run.blocking.use]
    breadth = _x(b.depth) if b.laid == "flat" else _x(b.width)
    piece = breadth * b.pieces if b.laminated == "factory" else breadth
    boards, along = None, []
    if probe.decking.board_width is not None and probe.decking.gap is not None:
        width, gap, first = _x(probe.decking.board_width), _x(probe.decking.gap), _x(side.first_board)
        if side.boards == "across":
            boards = Boards(width, gap, first - zero)
        elif side.boards == "along":
            pitch = width + gap
            along = [(first + i * pitch - gap, first + i * pitch) for i in range(1, int(_x(side.offset) * 2 / pitch) + 2)]
    blocked = tuple(Blocked(_x(o.begins), _x(o.ends), o.why, o.glass) for o in side.obstacles)
    apart = _x(side.spacing) if side.spacing is not None else 450.0
    return Ground(joists, _x(side.joist_width), side.measured is not None, _x(side.rim), piece, _x(side.offset), boards,
                  tuple(along), blocked, apart)  # fmt: skip


def _side(file: RunFile, side: Side, fixing: Fixing, probe: Job) -> SideSet:
    line, run = _line(file, side), file.run
    ground = _ground(file, side, line, probe)
    start, end = int(_x(side.start_clear)), int(_x(side.end_clear))
    rule = MountRule(_x(run.mounts.edge), None if run.mounts.third_above is None else _x(run.mounts.third_above))
    try:
        if side.module is not None:
            layout = _module(file, side, line, ground, fixing)
            division = layout.division
            edges = [layout.filler_edge] + [layout.module_edge] * (len(division.panels) - 1)
        else:
            division = (
                divide(line, side.panels, int(_x(run.gap)), start, end, widest=int(_x(run.widest)))
                if side.panels is not None
                else placed(line, [int(_x(w)) for w in side.widths or ()], start, end)
            )
            edges = [None] * len(division.panels)
        mounts = _mounts(file, side, division, edges, rule)
    except Impossible as no:
        raise file.refused(f"run.sides.{side.name}", f"cannot be set out: {no}") from None
    to_right = side.tape == "to the right"
    return set_out(side.name, division, mounts, ground, fixing, side.start, side.end, to_right, _x(side.fall))


def _mounts(file: RunFile, side: Side, division: Division, edges: Sequence[int | None], rule: MountRule) -> list[tuple[float, ...]]:
    singles = {s.panel: s for s in file.run.singles}
    found = []
    for i, (strip, edge) in enumerate(zip(division.panels, edges, strict=True), 1):
        own = singles.get(f"{side.name}{i}")
        near = far = edge
        if own is not None:
            near, far = (_x(v) if v is not None else edge for v in (own.near, own.far))
        found.append(mounts_in(strip.width, rule, near, far))
    return found


def _module(file: RunFile, side: Side, line: int, ground: Ground, fixing: Fixing) -> Layout:
    """The layout that was chosen; where none was, the best few are offered and nothing is taken."""
    run = file.run
    rule = Rule(int(_x(run.least_gap)), int(_x(run.gap)), int(_x(run.largest_gap)), _x(run.mounts.least), _x(run.mounts.largest))
    asked = Line(line, int(_x(side.start_clear)), int(_x(side.end_clear)), ground.joists, ground.joist)
    assert side.module is not None
    found = list(layouts(asked, side.module, _x(side.spacing), rule, fixing))
    if side.module_gap is not None and side.module_edge is not None:
        gap, edge = _x(side.module_gap), _x(side.module_edge)
        chosen = next((m for m in found if (m.gap, m.module_edge) == (gap, edge)), None)
        if chosen is not None:
            return chosen
        lead = f"no layout with gaps of {gap:g} mm and mounts {edge:g} mm in keeps every mount clear"
    else:
        lead = "a module is offered, not taken; write module_gap and module_edge of the one you choose"
    offered = best(found, rule)
    if not offered:
        raise Impossible(f"no module of {side.module} bays keeps every mount clear", "another module, an unequal division, or panels")
    listed = "".join(
        f"\n  {i}. module_gap = \"{m.gap} mm\", module_edge = \"{m.module_edge} mm\": {why(m)}" for i, m in enumerate(offered, 1)
    )  # fmt: skip
    raise file.refused(f"run.sides.{side.name}.module", f"{lead}. Of {len(found)} layouts that fit:{listed}")


# ---------------------------------------------------------------- what findings are measured by


def _limits(file: RunFile, probe: Job) -> Limits:
    run, panel, mount = file.run, probe.panels[0], probe.mounts[0]
    glass, film = _thickness(probe)
    return Limits(
        _x(run.tolerance), _x(run.least_gap), None if run.opening is None else _x(run.opening), _x(run.mounts.least),
        _x(run.mounts.largest), _x(run.mounts.difference), _x(run.lift), _x(panel.bottom_gap), _x(panel.height),
        None if probe.site.barrier_height is None else _x(probe.site.barrier_height),
        _x(mount.plate.along), _x(mount.plate.across if mount.plate.across is not None else mount.plate.along),
        glass + film, panel.rail,
    )  # fmt: skip


def _thickness(probe: Job) -> tuple[float, float]:
    """Glass and interlayers of a panel, mm in all."""
    panel = probe.panels[0]
    glass = sum(_x(layer.nominal) for layer in panel.layers if layer.nominal is not None)
    film = 0.0 if panel.interlayer is None else _x(panel.interlayer.thickness) * (len(panel.layers) - 1)
    return glass, film


def _masses(sides: Sequence[SideSet], probe: Job) -> dict[str, float]:
    glass, film = _thickness(probe)
    height = _x(probe.panels[0].height)
    return {p.name: mass(p.strip.width, height, glass, film) for s in sides for p in s.panels}


# ---------------------------------------------------------------- plain jobs


def _probe(file: RunFile) -> dict[str, Any]:
    """One panel of the middle size on two mounts: what the file says besides the run, read once."""
    run = file.run
    mounts = [
        {"name": f"P1-{i}", "panel": "P1", "x": x, "type": run.mounts.type, "support": "blocking", "blocking": b,
         "in_bay": "200 mm", "offset": "0 mm"} for i, x, b in ((1, "260 mm", run.blocking.use), (2, "740 mm", "P1b"))
    ]  # fmt: skip
    panel = {"name": "P1", "width": "1000 mm", **file.panel}
    changes: dict[str, Any] = {"panels": [panel], "mounts": mounts}
    joists = dict(file.base.get("joists", {}))
    changes["joists"] = {**joists, "direction": run.sides[0].joists, "spacing": joists.get("spacing", "450 mm"),
                         "width": _mm(_x(run.sides[0].joist_width))}  # fmt: skip
    own = dict(file.base.get("blocking", {})).get(run.blocking.use)
    if isinstance(own, dict):
        changes["blocking"] = {run.blocking.use: {"length": "405 mm", "direction": "along", **own}, "P1b": {"same_as": run.blocking.use}}
    changes["decking"] = {"direction": "along"}
    return changes


def _changes(file: RunFile, side: SideSet, panels: Sequence[Panel], from_end: float | None = None) -> dict[str, Any]:
    """What the base has to say to be a plain job of these panels: panels, mounts, a blocking for every piece, directions."""
    use, g = file.run.blocking.use, side.ground
    own = dict(file.base["blocking"][use])
    blocking, mounts, written = {use: {"length": _mm(side.pieces[0].length), **own}}, [], []
    for p in panels:
        ends = (p.strip.left, side.division.line - p.strip.right)
        at = min(ends) if from_end is None else from_end
        written.append({"name": p.name, "width": f"{p.strip.width} mm", **file.panel, **_wind(file, side, at)})
        for m in p.mounts if side.to_the_right else reversed(p.mounts):
            piece = next(q for q in side.pieces if m.name in q.mounts)
            blocking.setdefault(piece.mark, {"same_as": use, "length": _mm(piece.length), "direction": "along" if g.across else "across"})
            x = m.at - p.strip.left if side.to_the_right else p.strip.right - m.at
            mounts.append({"name": m.name, "panel": p.name, "x": _mm(x), "type": file.run.mounts.type, "support": "blocking",
                           "blocking": piece.mark, **_in_bay(side, m.at, piece.low, piece.high)})  # fmt: skip
    blocking[use]["direction"] = "along" if g.across else "across"
    spacing = g.next_joist if not g.across else _nominal(file, side)
    wind = file.base.get("wind")
    boards = next(s.boards for s in file.run.sides if s.name == side.name)
    return {
        "panels": written, "mounts": mounts, "blocking": blocking,
        "joists": {"direction": "across" if g.across else "along", "spacing": _mm(spacing), "width": _mm(g.joist)},
        "decking": {"direction": boards or "unknown"},
        **({"wind": {**wind, "run_length": _mm(side.division.line)}} if isinstance(wind, dict) and _by_place(file) else {}),
    }  # fmt: skip


def _nominal(file: RunFile, side: SideSet) -> float:
    """The spacing the joists of a side are reckoned at: as written, else the widest bay of the measured ones."""
    written = next(s.spacing for s in file.run.sides if s.name == side.name)
    joists = side.ground.joists
    widest = max(b - a for a, b in zip(joists, joists[1:], strict=False))
    return widest if written is None else max(widest, _x(written))


def _in_bay(side: SideSet, at: float, low: float, high: float) -> dict[str, str]:
    """Where a mount stands on its piece, from the left end seen from the people side, and off its centre line."""
    g = side.ground
    if g.across:
        centre = g.rim + g.piece / 2  # the piece lies against the rim
        along = at - low if side.to_the_right else high - at
        return {"in_bay": _mm(along), "offset": _mm(centre - g.offset)}
    return {"in_bay": _mm(g.offset - g.rim), "offset": "0 mm"}


def _by_place(file: RunFile) -> bool:
    wind = file.base.get("wind")
    return isinstance(wind, dict) and "pressure" not in wind


def _wind(file: RunFile, side: SideSet, from_end: float) -> dict[str, str]:
    """The place in the run; glass round a corner is not credited, an end at a wall or post counts as one in open air."""
    return {"from_end": _mm(max(from_end, 0.0)), "corner": "0 mm"} if _by_place(file) else {}


def _conditions(file: RunFile, sides: Sequence[SideSet]) -> tuple[Condition, ...]:
    """Panels that stand alike, side by side: width, mounts, places in their bays, and whether a panel ends its side."""
    found: list[Condition] = []
    for side in sides:
        alike: dict[tuple[object, ...], list[Panel]] = {}
        for i, p in enumerate(side.panels):
            places = tuple(
                (round(m.at - p.strip.left, 1), *((round(m.place.from_face, 1), round(m.place.piece, 1)) if m.place else ()))
                for m in p.mounts
            )
            ends = i in (0, len(side.panels) - 1)
            if all(any(m.name in q.mounts for q in side.pieces) for m in p.mounts):
                alike.setdefault((p.strip.width, places, ends), []).append(p)
        for (_, _, ends), panels in alike.items():
            one = min(panels, key=lambda p: min(p.strip.left, side.division.line - p.strip.right))
            at = min(one.strip.left, side.division.line - one.strip.right)
            words = f"{one.strip.width} mm wide, mounts {one.near:g} and {one.far:g} mm in, " + (
                "at an end of its side" if ends else f"at least {at:g} mm from the end of its side"
            )
            found.append(Condition(side.name, tuple(p.name for p in panels), _changes(file, side, [one], at), words))
    if len(found) > MOST_CONDITIONS:
        text = f"comes to {len(found)} distinct conditions, more than {MOST_CONDITIONS}; check it side by side"
        raise JobRefused(file.file, (file.refused("run", text).faults[0],))
    return tuple(found)
