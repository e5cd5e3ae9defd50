"""The plain jobs a run comes to: the panel that is read first, one side whole, one distinct condition."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from barrier.job.run_file import RunFile
from barrier.run.side import Panel, Piece, SideSet
from barrier.whole_run.from_file import x_of


def mm_text(x: float) -> str:
    return f"{round(x, 3):g} mm" if abs(x) < 1e6 else f"{x:.0f} mm"


def probe_of(file: RunFile) -> dict[str, Any]:
    """One panel of the middle size on two mounts: what the file says besides the run, read once."""
    run = file.run
    mounts = [
        {"name": f"P1-{i}", "panel": "P1", "x": x, "type": run.mounts.type, "support": "blocking", "blocking": b,
         "in_bay": "200 mm", "offset": "0 mm"} for i, x, b in ((1, "260 mm", run.blocking.use), (2, "740 mm", "P1b"))
    ]  # fmt: skip
    panel = {"name": "P1", "width": "1000 mm", **file.panel}
    changes: dict[str, Any] = {"panels": [panel], "mounts": mounts}
    joists = _table(file, "joists")
    changes["joists"] = {**joists, "direction": run.sides[0].joists, "spacing": joists.get("spacing", "450 mm"),
                         "width": mm_text(x_of(run.sides[0].joist_width))}  # fmt: skip
    own = _table(file, "blocking").get(run.blocking.use)
    if isinstance(own, dict):
        changes["blocking"] = {
            run.blocking.use: {"length": "405 mm", "direction": "along", **own},
            "P1b": {"same_as": run.blocking.use},
        }
    changes["decking"] = {"direction": "along"}
    return changes


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
    use, g = file.run.blocking.use, side.ground
    own = dict(file.base["blocking"][use])
    longest = max(q.length for s in stands for q in s.pieces.values())
    blocking, mounts, written = {use: {"length": mm_text(longest), **own}}, [], []
    for s in stands:
        p = s.panel
        written.append({"name": p.name, "width": f"{p.strip.width} mm", **file.panel, **_wind(file, s.from_end)})
        for m in p.mounts if side.to_the_right else reversed(p.mounts):
            piece = s.pieces[m.name]
            blocking.setdefault(
                piece.mark, {"same_as": use, "length": mm_text(piece.length), "direction": "along" if g.across else "across"}
            )
            x = m.at - p.strip.left if side.to_the_right else p.strip.right - m.at
            mounts.append({"name": m.name, "panel": p.name, "x": mm_text(x), "type": file.run.mounts.type, "support": "blocking",
                           "blocking": piece.mark, **_in_bay(side, m.at, piece.low, piece.high)})  # fmt: skip
    blocking[use]["direction"] = "along" if g.across else "across"
    spacing = g.next_joist if not g.across else _nominal(file, side)
    wind = file.base.get("wind")
    boards = next(s.boards for s in file.run.sides if s.name == side.name)
    return {
        "panels": written, "mounts": mounts, "blocking": blocking,
        "joists": {"direction": "across" if g.across else "along", "spacing": mm_text(spacing), "width": mm_text(g.joist)},
        "decking": {"direction": boards or "unknown"},
        **({"wind": {**wind, "run_length": mm_text(side.division.line)}} if isinstance(wind, dict) and _by_place(file) else {}),
    }  # fmt: skip


def _nominal(file: RunFile, side: SideSet) -> float:
    """The spacing the joists of a side are reckoned at: as written, else the widest bay of the measured ones."""
    written = next(s.spacing for s in file.run.sides if s.name == side.name)
    joists = side.ground.joists
    widest = max(b - a for a, b in pairwise(joists))
    return widest if written is None else max(widest, x_of(written))


def _in_bay(side: SideSet, at: float, low: float, high: float) -> dict[str, str]:
    """Where a mount stands on its piece, from the left end seen from the people side, and off its centre line."""
    g = side.ground
    if g.across:
        centre = g.rim + g.pack / 2  # the pieces lie against the rim
        along = at - low if side.to_the_right else high - at
        return {"in_bay": mm_text(along), "offset": mm_text(centre - g.offset)}
    return {"in_bay": mm_text(g.offset - g.rim), "offset": "0 mm"}


def _by_place(file: RunFile) -> bool:
    wind = file.base.get("wind")
    return isinstance(wind, dict) and "pressure" not in wind and "coefficient" not in wind


def _wind(file: RunFile, from_end: float) -> dict[str, str]:
    """The place in the run; glass round a corner is not credited, an end at a wall or post counts as one in open air."""
    return {"from_end": mm_text(max(from_end, 0.0)), "corner": "0 mm"} if _by_place(file) else {}
