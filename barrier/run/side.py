"""One side of a run set out: panels on the glass line, mounts in their bays, pieces of blocking, all from the datum.

Positions run from the start of the side along its tape. *Near* and *far* are meant as the tape runs; which of the two is left,
seen from the people side, a side says once (``to_the_right``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barrier.run.ask import Impossible
from barrier.run.bays import Boards, Fixing, Place, place
from barrier.run.division import Division, Strip, half_up


@dataclass(frozen=True, slots=True)
class Blocked:
    """A stretch of the side where nothing may stand, mm from the datum, and why; ``glass`` whether glass may not either."""

    low: float
    high: float
    why: str
    glass: bool = True


@dataclass(frozen=True, slots=True)
class Ground:
    """What lies below a side: joists across it (none where they run along) with their width, whether they were measured, rim,
    ``piece`` of blocking seen from above and ``pack`` of all its loose plies, boards across the line, edges of gaps between boards
    along it; mm."""

    joists: tuple[float, ...]
    joist: float
    measured: bool
    rim: float
    piece: float
    pack: float
    offset: float
    boards: Boards | None = None
    gaps_along: tuple[tuple[float, float], ...] = ()
    blocked: tuple[Blocked, ...] = ()
    next_joist: float = 0.0  # centre distance of the edge joist and the next, where joists run along

    @property
    def across(self) -> bool:
        """Whether joists run across the glass line."""
        return bool(self.joists)


@dataclass(frozen=True, slots=True)
class Mount:
    """A mount: name, centre from the datum, its place in a bay where joists run across the line; mm."""

    name: str
    at: float
    place: Place | None


@dataclass(frozen=True, slots=True)
class Panel:
    """A panel: name, its edges from the datum, its mounts from near to far."""

    name: str
    strip: Strip
    mounts: tuple[Mount, ...]

    @property
    def near(self) -> float:
        """Distance of the first mount from the near edge, mm."""
        return self.mounts[0].at - self.strip.left

    @property
    def far(self) -> float:
        """Distance of the last mount from the far edge, mm."""
        return self.strip.right - self.mounts[-1].at


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of blocking: its mark, from and to (mm from the datum, along the line), its length, the mounts on it."""

    mark: str
    low: float
    high: float
    length: float
    mounts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SideSet:
    """A side that was set out."""

    name: str
    to_the_right: bool
    division: Division
    panels: tuple[Panel, ...]
    pieces: tuple[Piece, ...]
    ground: Ground
    start: str
    end: str
    fall: float

    @property
    def mounts(self) -> tuple[Mount, ...]:
        """All mounts from near to far."""
        return tuple(m for p in self.panels for m in p.mounts)

    def fall_at(self, x: float) -> float:
        """How far the deck has fallen at a place, mm."""
        return self.fall * x / self.division.line


@dataclass(frozen=True, slots=True)
class MountRule:
    """Edge distance wanted as a share of the width, and above which width a third mount stands in the middle, mm."""

    edge: float
    third_above: float | None = None


def mounts_in(
    width: int, rule: MountRule, near: float | None = None, far: float | None = None, number: int | None = None
) -> tuple[float, ...]:  # fmt: skip
    """Mounts of one panel from its near edge, mm; ``near`` and ``far`` are edge distances in place of the rule, ``number`` how many
    stand evenly between them.

    >>> mounts_in(977, MountRule(0.25)), mounts_in(1000, MountRule(0.26, 900))
    ((244.0, 733.0), (260.0, 500.0, 740.0))
    """
    wanted = float(half_up(rule.edge * width))
    first, last = wanted if near is None else near, width - (wanted if far is None else far)
    if not 0 < first < last < width:
        raise Impossible(f"mounts at {first:g} and {last:g} mm do not stand on a panel of {width} mm", "other edge distances")
    many = number or (3 if rule.third_above is not None and width > rule.third_above else 2)
    return tuple(first + i * (last - first) / (many - 1) for i in range(many))


def set_out(
    name: str, division: Division, mounts: Sequence[Sequence[float]], ground: Ground, fixing: Fixing,
    start: str = "open", end: str = "open", to_the_right: bool = True, fall: float = 0.0,
    own: Mapping[str, Fixing] | None = None,
) -> SideSet:  # fmt: skip
    """A side with its panels named, its mounts placed and its pieces of blocking.

    ``mounts`` for each panel, mm from its near edge; ``own`` what the screws of panels with other mounts need, by name; the rest as
    the classes say. Joists across: a piece a bay that holds a
    mount. Joists along: a piece a mount, from the edge joist to the next.
    """
    panels, number = [], 0
    for i, (strip, inside) in enumerate(zip(division.panels, mounts, strict=True), 1):
        stood: list[Mount] = []
        for x in inside:
            number += 1
            at = strip.left + x
            needs = (own or {}).get(f"{name}{i}", fixing)
            where = place(at, ground.joists, ground.joist, needs) if ground.across else None
            stood.append(Mount(f"{name}{i}-{len(stood) + 1}", at, where))
        panels.append(Panel(f"{name}{i}", strip, tuple(stood)))
    return SideSet(name, to_the_right, division, tuple(panels), _pieces(name, panels, ground), ground, start, end, fall)


def _pieces(name: str, panels: Sequence[Panel], ground: Ground) -> tuple[Piece, ...]:
    mounts = [m for p in panels for m in p.mounts]
    if not ground.across:
        half, length = ground.pack / 2, ground.next_joist - ground.joist
        return tuple(Piece(f"{name}b{i}", m.at - half, m.at + half, length, (m.name,)) for i, m in enumerate(mounts, 1))
    bays: dict[int, list[Mount]] = {}
    for m in mounts:
        if m.place is not None:
            bays.setdefault(m.place.bay, []).append(m)
    pieces = []
    for i, (bay, standing) in enumerate(sorted(bays.items()), 1):
        low, high = ground.joists[bay] + ground.joist / 2, ground.joists[bay + 1] - ground.joist / 2
        pieces.append(Piece(f"{name}b{i}", low, high, high - low, tuple(m.name for m in standing)))
    return tuple(pieces)
