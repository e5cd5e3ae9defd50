"""Dividing a length of glass line into panels and gaps, so that every sum closes.

A length says where it was measured: at the edge of the deck, or on the line of the glass. Panels are whole millimetres, for that
is how glass is ordered; what the division leaves over goes into the gaps by rounding the running sum, never gap by gap, so that
no edge is further than half a millimetre from where exact sums would put it. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import floor

from barrier.run.ask import Impossible


@dataclass(frozen=True, slots=True)
class Strip:
    """A panel on the glass line: its two edges, mm from the datum, left to right seen from the people side."""

    left: int
    right: int

    @property
    def width(self) -> int:
        """Width of the glass, mm."""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class Division:
    """A length divided: the panels from the datum, and the clear spaces at both ends of the line, mm."""

    line: int
    start: int
    end: int
    panels: tuple[Strip, ...]

    @property
    def gaps(self) -> tuple[int, ...]:
        """Gaps between neighbours, mm, left to right."""
        return tuple(b.left - a.right for a, b in zip(self.panels, self.panels[1:], strict=False))

    @property
    def free(self) -> int:
        """Length between the two end clearances, mm."""
        return self.line - self.start - self.end

    @property
    def closes(self) -> bool:
        """Whether panels, gaps and clearances add up to the line: true of every division made here."""
        return self.start + sum(p.width for p in self.panels) + sum(self.gaps) + self.end == self.line


def glass_line(edge: float, *others: float, outside: bool = True) -> float:
    """Length of the glass line of a side whose length was measured at the deck edge, mm.

    ``edge`` length of the edge, mm; ``others`` how far the glass of the *neighbouring* sides stands in from their own edges, mm,
    one for each corner of this side; ``outside`` whether those corners point outwards. The side's own offset does not change
    its length, those of its neighbours do.

    >>> glass_line(7200, 165), glass_line(3100, 118)
    (7035, 2982)
    """
    return edge - sum(others) if outside else edge + sum(others)


def divide(line: int, panels: int, gap: int, start: int = 0, end: int = 0, step: int = 1, widest: int = 10_000) -> Division:
    """A glass line divided into equal panels.

    ``line`` mm from the datum to its end; ``panels`` their number; ``gap`` the gap wanted, mm, the least that comes out but for
    what rounding the running sum takes; ``start`` and ``end`` clear spaces at the two ends, mm; ``step`` width of the glass
    goes in steps of this, mm; ``widest`` the widest panel there may be, mm. Raises Impossible, with the reason, where no panel
    of at least one step fits or the panels would be wider than allowed.

    >>> d = divide(7035, 7, 20, start=30, end=40)
    >>> d.panels[0], d.gaps, d.closes
    (Strip(left=30, right=1007), (21, 21, 21, 21, 21, 21), True)
    """
    if panels < 1:
        raise Impossible("there is no panel to divide into", "give at least one panel")
    free = line - start - end
    width = floor((free - (panels - 1) * gap) / panels / step) * step
    if width < step:
        raise Impossible(
            f"{panels} panels with gaps of {gap} mm do not fit between clear spaces of {start} and {end} mm on {line} mm",
            "fewer panels or smaller gaps",
        )
    if width > widest:
        raise Impossible(f"{panels} panels would be {width} mm wide, more than {widest} mm", "more panels")
    return placed(line, [width] * panels, start, end)


def placed(line: int, widths: Sequence[int], start: int = 0, end: int = 0) -> Division:
    """Panels of given widths on a line, what is left over shared by the gaps.

    ``line``, ``start``, ``end`` as for :func:`divide`; ``widths`` of the panels left to right, mm. The gaps differ by one
    millimetre at most. With one panel nothing is shared: what is left stands at its right. Raises Impossible where the panels
    do not fit.

    >>> placed(2982, [957, 957, 957], 30, 40).gaps
    (21, 20)
    """
    left_over = line - start - end - sum(widths)
    if left_over < 0:
        raise Impossible(f"panels of {sum(widths)} mm in all do not fit on {line - start - end} mm", "narrower panels, or fewer")
    strips = tuple(_strips(widths, start, left_over))
    return Division(line, start, line - strips[-1].right, strips)


def _strips(widths: Sequence[int], start: int, left_over: int) -> Iterator[Strip]:
    """Edges by the running sum: what all gaps up to a panel are together, rounded once."""
    gaps, glass = max(len(widths) - 1, 1), start
    for i, width in enumerate(widths):
        before = half_up(i * left_over / gaps) if len(widths) > 1 else 0
        yield Strip(glass + before, glass + before + width)
        glass += width


def half_up(x: float) -> int:
    """The nearest whole number, halves up: on every machine and by hand the same.

    >>> half_up(20.5), half_up(21.5), round(20.5)
    (21, 22, 20)
    """
    return floor(x + 0.5)


def corner_gap(short: float, thickness: float) -> float:
    """Clear gap at a square corner where both sides stop short of the crossing of their centre lines, mm.

    ``short`` how far each side stops short, mm; ``thickness`` of the glass, mm. Negative where the panes meet. The nearest
    points are the inner edges of the two panes.

    >>> round(corner_gap(30, 17.5), 1), round(corner_gap(10, 17.5), 1)
    (30.1, 1.8)
    """
    return float((short - thickness / 2) * 2**0.5)


def fall_over(length: float, one_in: float) -> float:
    """How much a deck falls over a length, mm: ``length`` mm, ``one_in`` the slope as 1 in so many.

    >>> round(fall_over(7035, 100))
    70
    """
    return length / one_in


def lean(height: float, one_in: float) -> float:
    """How far the top of a panel set square to a sloping deck stands from above its bottom, along the run, mm.

    >>> lean(1040, 100)
    10.4
    """
    return height / one_in
