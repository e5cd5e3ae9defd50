"""The plain jobs a run comes to: the panel that is read first, one side whole, one distinct condition."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from barrier.job.run_file import RunFile
from barrier.run.side import Panel, Piece, SideSet
from barrier.whole_run.from_file import breadths, x_of
from barrier.whole_run.singles import Own, blocking_of, mount_of, own_of, panel_of, read, top_of


def mm_text(x: float) -> str:
    return f"{round(x, 3):g} mm" if abs(x) < 1e6 else f"{x:.0f} mm"


def probe_of(file: RunFile, own: Own | None = None) -> dict[str, Any]:
    """One panel of the middle size on its mounts: what the file says besides the run, read once; ``own`` what the panel says."""
    run, own = file.run, own or Own(0, None)
    single = own.single
    many = 2 if single is None else len(single.places) if single.places is not None else single.mounts or 2
    mounts = [
        {"name": f"P1-{i}", "panel": "P1", "x": mm_text(1000 * i / (many + 1)), "support": "blocking", "blocking": f"P1b{i}",
         "in_bay": "200 mm", "offset": "0 mm", **mount_of(file, own, i)} for i in range(1, many + 1)
    ]  # fmt: skip
    panel = {"name": "P1", "width": "1000 mm", **panel_of(file, "P1", own)}
    changes: dict[str, Any] = {"panels": [panel], "mounts": mounts, **top_of(file, [own])}
    joists = _table(file, "joists")
    changes["joists"] = {**joists, "direction": run.sides[0].joists, "spacing": joists.get("spacing", "450 mm"),
                         "width": mm_text(x_of(run.sides[0].joist_width))}  # fmt: skip
    changes["blocking"] = {
        **_tables(file, "405 mm", "along"), **{f"P1b{i}": blocking_of(file, own) for i in range(1, many + 1)},
    }  # fmt: skip
    changes["decking"] = {"direction": "along"}
    return changes


def _tables(file: RunFile, length: str, direction: str) -> dict[str, Any]:
    """Every table of blocking in the file, with the length and the direction that the run gives its pieces."""
    return {
        name: {"length": length, "direction": direction, **own} if isinstance(own, dict) else own
        for name, own in _table(file, "blocking").items()
    }  # fmt: skip


def _table(file: RunFile, key: str) -> dict[str, Any]:
    """A table of the file; an empty one where something else stands there, which the job refuses."""
    found = file.base.get(key)
    return dict(found) if isinstance(found, dict) else {}


@dataclass(frozen=True, eq=False)
class Stand:
    """A panel as it is walked: its edges and mounts, the piece under each mount by its name, mm from an end of its side."""

    panel: Panel
    pieces: Mapping[str, Piece]
    from_end: float


def stand_of(side: SideSet, panel: Panel) -> Stand:
    """A panel as it was set out. Every mount of it stands on a piece."""
    pieces = {m.name: next(q for q in side.pieces if m.name in q.mounts) for m in panel.mounts}
    return Stand(panel, pieces, min(panel.strip.left, side.division.line - panel.strip.right))


def changes_of(file: RunFile, side: SideSet, stands: Sequence[Stand]) -> dict[str, Any]:
    """What the base has to say to be a plain job of these panels: panels, mounts, a blocking for every piece, directions."""
    g, direction = side.ground, "along" if side.ground.across else "across"
    longest = max(q.length for s in stands for q in s.pieces.values())
    blocking, mounts, written = _tables(file, mm_text(longest), direction), [], []
    owns = [own_of(file, s.panel.name) for s in stands]
    for s, own in zip(stands, owns, strict=True):
        p = s.panel
        written.append({"name": p.name, "width": f"{p.strip.width} mm", **panel_of(file, p.name, own), **_wind(file, s.from_end)})
        for m in p.mounts if side.to_the_right else reversed(p.mounts):
            piece = s.pieces[m.name]
            blocking.setdefault(piece.mark, {**blocking_of(file, own), "length": mm_text(piece.length), "direction": direction})
            x = m.at - p.strip.left if side.to_the_right else p.strip.right - m.at
            mounts.append({"name": m.name, "panel": p.name, "x": mm_text(x), "support": "blocking", "blocking": piece.mark,
                           **_in_bay(side, m.at, piece.low, piece.high, breadth_of(file, own)),
                           **mount_of(file, own, p.mounts.index(m) + 1)})  # fmt: skip
    spacing = g.next_joist if not g.across else _nominal(file, side)
    wind = file.base.get("wind")
    boards = next(s.boards for s in file.run.sides if s.name == side.name)
    return {
        "panels": written, "mounts": mounts, "blocking": blocking,
        "joists": {"direction": "across" if g.across else "along", "spacing": mm_text(spacing), "width": mm_text(g.joist)},
        "decking": {"direction": boards or "unknown"},
        **top_of(file, owns),
        **({"wind": {**wind, "run_length": mm_text(side.division.line)}} if isinstance(wind, dict) and _by_place(file) else {}),
    }  # fmt: skip


def breadth_of(file: RunFile, own: Own) -> float | None:
    """Breadth of all plies of the blocking of a panel with its own, mm; None where it is by the rule."""
    if own.single is None or not (own.single.blocking or own.changes("blocking")):
        return None
    return breadths(read(file, own, probe_of(file, own)), "P1b1")[1]


def _nominal(file: RunFile, side: SideSet) -> float:
    """The spacing the joists of a side are reckoned at: as written, else the widest bay of the measured ones."""
    written = next(s.spacing for s in file.run.sides if s.name == side.name)
    joists = side.ground.joists
    widest = max(b - a for a, b in pairwise(joists))
    return widest if written is None else max(widest, x_of(written))


def _in_bay(side: SideSet, at: float, low: float, high: float, pack: float | None) -> dict[str, str]:
    """Where a mount stands on its piece, from the left end seen from the people side, and off its centre line; ``pack`` the breadth
    of the piece where it is not by the rule."""
    g = side.ground
    if g.across:
        centre = g.rim + (g.pack if pack is None else pack) / 2  # the pieces lie against the rim
        along = at - low if side.to_the_right else high - at
        return {"in_bay": mm_text(along), "offset": mm_text(centre - g.offset)}
    return {"in_bay": mm_text(g.offset - g.rim), "offset": "0 mm"}


def _by_place(file: RunFile) -> bool:
    wind = file.base.get("wind")
    return isinstance(wind, dict) and "pressure" not in wind and "coefficient" not in wind


def _wind(file: RunFile, from_end: float) -> dict[str, str]:
    """The place in the run; glass round a corner is not credited, an end at a wall or post counts as one in open air."""
    return {"from_end": mm_text(max(from_end, 0.0)), "corner": "0 mm"} if _by_place(file) else {}
