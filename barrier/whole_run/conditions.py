"""Distinct conditions: panels that stand alike, within the few millimetres a tape gives; one row of the cover, one walk or a few.

Panels are of one condition where none of their lengths (width, places of mounts, places on their pieces, lengths of these) differs
by more than :data:`ALIKE`. What is walked is then none of them but the worse of all: the widest, on the longest pieces; and of
what is worse neither way by itself, edge distances and places on a piece, the least and the largest, each with each. That is no
strict bound (weight helps a little, the further end of a piece wants it short): over random panels no check of a member came out
more than a hundredth above. So where that comes nearer to a limit than twice as much, every member is walked as it stands.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from barrier.job.run_file import RunFile
from barrier.run.division import Strip
from barrier.run.side import Mount, Panel, Piece, SideSet
from barrier.whole_run.jobs import Stand, changes_of, stand_of
from barrier.whole_run.singles import own_of

ALIKE = 5.0  # mm; what a tape on site and a drawing may differ by
SAME = 0.05  # mm; lengths closer than this are one
MOST_CONDITIONS = 60
LEAST, LARGEST = 0, 1


@dataclass(frozen=True, eq=False)
class Condition:
    """Panels that stand alike: how each of the ways they are walked stands (none where a mount is on no piece), and in words.

    They are walked at the place in the run where the wind is highest among them; ``speaks`` is the panel whose name they bear;
    ``members`` those of them that differ, as they stand, where they are not what is walked.
    """

    side: str
    panels: tuple[str, ...]
    stands: tuple[Stand, ...]
    walks: tuple[Mapping[str, Any], ...]
    words: str
    speaks: str
    members: tuple[Mapping[str, Any], ...] = ()

    @property
    def changes(self) -> Mapping[str, Any]:
        """What the first of its walks changes in the file; nothing where there is none."""
        return self.walks[0] if self.walks else {}


def conditions_of(file: RunFile, sides: Sequence[SideSet]) -> tuple[Condition, ...]:
    """Panels that stand alike, side by side; of each the one nearest to an end of its side speaks, where the wind is highest.

    Raises JobRefused where there are too many.
    """
    found = [c for side in sides for c in _of_side(file, side)]
    if len(found) > MOST_CONDITIONS:
        raise file.refused("run", f"comes to {len(found)} distinct conditions, more than {MOST_CONDITIONS}; check it side by side")
    return tuple(found)


def _of_side(file: RunFile, side: SideSet) -> list[Condition]:
    groups: list[list[Panel]] = []
    for p in side.panels:
        into = next((g for g in groups if _kind(file, side, g[0]) == _kind(file, side, p) and _within([*g, p], side)), None)
        if into is None:
            groups.append([p])
        else:
            into.append(p)
    return [_condition(file, side, panels) for panels in groups]


def _condition(file: RunFile, side: SideSet, panels: Sequence[Panel]) -> Condition:
    one = min(panels, key=lambda p: _from_end(side, p))
    at = _from_end(side, one)
    ends = one in (side.panels[0], side.panels[-1])
    where = "at an end of its side" if ends else f"at least {at:g} mm from the end of its side"
    stands = tuple(_stands(side, one, panels)) if _on_pieces(side, one) else ()
    widths = sorted({p.strip.width for p in panels})
    size = f"{widths[0]}" if len(widths) == 1 else f"{widths[0]} to {widths[-1]}"
    own = own_of(file, one.name)
    words = f"{size} mm wide, mounts {one.near:g} and {one.far:g} mm in, {where}"
    words += f"; its own: {own.words()}" if not own.by_rule else ""
    different = {_numbers(side, p): p for p in panels}
    if len(stands) > 1:
        words += f"; alike within {ALIKE:g} mm, walked at the least and the largest of each, {len(stands)} ways: the worst counts"
    elif len(different) > 1:
        words += f"; alike within {ALIKE:g} mm, walked at the worst of each"
    walks = tuple(changes_of(file, side, [s]) for s in stands)
    members = (
        tuple(changes_of(file, side, [stand_of(side, p)]) for p in different.values()) if stands and len(different) > 1 else ()
    )
    return Condition(side.name, tuple(p.name for p in panels), stands, walks, words, one.name, members)


def _from_end(side: SideSet, panel: Panel) -> float:
    return min(panel.strip.left, side.division.line - panel.strip.right)


def _on_pieces(side: SideSet, panel: Panel) -> bool:
    """Whether each of its mounts stands on a piece at all."""
    return all(any(m.name in q.mounts and q.low <= m.at <= q.high for q in side.pieces) for m in panel.mounts)


def _kind(file: RunFile, side: SideSet, panel: Panel) -> tuple[object, ...]:
    """What makes a panel another condition whatever its lengths: mounts, whether it ends its side, what shares a piece."""
    shares = tuple(sum(m.name in q.mounts for m in panel.mounts) + 100 * len(q.mounts) for q in _pieces(side, panel))
    ends = panel in (side.panels[0], side.panels[-1])
    return len(panel.mounts), ends, _on_pieces(side, panel), shares, own_of(file, panel.name).key


def _pieces(side: SideSet, panel: Panel) -> list[Piece]:
    return [q for m in panel.mounts for q in side.pieces if m.name in q.mounts]


def _numbers(side: SideSet, panel: Panel) -> tuple[float, ...]:
    """Every length of a panel that a check depends on, mm."""
    inside = [m.at - panel.strip.left for m in panel.mounts]
    places = [x for m in panel.mounts if m.place is not None for x in (m.place.from_face, m.place.piece)]
    return tuple(round(x, 1) for x in (panel.strip.width, *inside, panel.far, *places))


def _within(panels: Sequence[Panel], side: SideSet) -> bool:
    """Whether no length of theirs differs by more than a tape does; panels that share a piece are alike only where equal."""
    numbers = [_numbers(side, p) for p in panels]
    if len({len(n) for n in numbers}) > 1:
        return False
    alone = all(len(q.mounts) == 1 for p in panels for q in _pieces(side, p))
    most = ALIKE if alone else SAME
    return all(max(column) - min(column) <= most + SAME for column in zip(*numbers, strict=True))


# ---------------------------------------------------------------- the worse of all


def _stands(side: SideSet, one: Panel, panels: Sequence[Panel]) -> list[Stand]:
    """How the panels are walked: as they stand where they are equal, else at the least and largest of what is worse neither way."""
    at = min(_from_end(side, p) for p in panels)
    if all(_numbers(side, p) == _numbers(side, one) for p in panels):
        return [Stand(one, {m.name: q for m, q in zip(one.mounts, _pieces(side, one), strict=True)}, at)]
    edges = _differ([(p.near, p.far) for p in panels])
    ends = _differ([tuple(_to_end(m) for m in p.mounts) for p in panels])
    ways = product(range(2) if edges else (LARGEST,), range(2) if ends else (LEAST,))
    return [_worse(side, one, panels, at, *way) for way in ways]


def _differ(rows: Sequence[tuple[float, ...]]) -> bool:
    return any(max(column) - min(column) > SAME for column in zip(*rows, strict=True))


def _to_end(m: Mount) -> float:
    """From the middle of a mount to the nearer end of its piece, mm; nought where its piece runs across."""
    return 0.0 if m.place is None else min(m.place.from_face, m.place.piece - m.place.from_face)


def _worse(side: SideSet, one: Panel, panels: Sequence[Panel], at: float, edges: int, ends: int) -> Stand:
    """One panel with the widest glass, its mounts as near to its edges as any or as far in, and on the longest pieces as near to
    their ends as any or as far from them."""
    pick = (min, max)
    width = max(p.strip.width for p in panels)
    near, far = pick[edges](p.near for p in panels), pick[edges](p.far for p in panels)
    left = one.strip.left
    between = one.strip.width - one.near - one.far or 1.0
    inside = [near + (m.at - left - one.near) / between * (width - far - near) for m in one.mounts]
    mounts, pieces = [], {}
    for i, (m, x, q) in enumerate(zip(one.mounts, inside, _pieces(side, one), strict=True)):
        mounts.append(replace(m, at=left + x))
        if m.place is None:
            half = (q.high - q.low) / 2
            pieces[m.name] = replace(q, low=left + x - half, high=left + x + half)
            continue
        length = max(p.mounts[i].place.piece for p in panels if p.mounts[i].place is not None)  # type: ignore[union-attr]
        to_end = min(pick[ends](_to_end(p.mounts[i]) for p in panels), length / 2)
        from_low = to_end if m.place.from_face <= m.place.piece / 2 else length - to_end
        low = left + x - from_low
        pieces[m.name] = replace(q, low=low, high=low + length, length=length)
    return Stand(replace(one, strip=Strip(left, left + width), mounts=tuple(mounts)), pieces, at)
