"""What is cut, bought and ordered for a run: pieces out of stock, panels with their mass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from barrier.run.ask import Impossible
from barrier.run.side import Piece

GLASS_DENSITY = 2500.0  # kg/m3, EN 572-1
FILM_DENSITY = 1100.0  # kg/m3 of an interlayer, about; memory
SPARE = 0.05  # of screws, common practice, no source


@dataclass(frozen=True, slots=True)
class Bar:
    """One length of stock: marks and lengths of the pieces cut from it, and what is left, mm."""

    pieces: tuple[tuple[str, float], ...]
    left: float


def cut(pieces: Sequence[Piece], each: int, stock: float, saw: float) -> tuple[Bar, ...]:
    """Pieces cut from lengths of stock, longest first, each into the first length that has room.

    ``each`` how many plies every piece has; ``stock`` length bought, ``saw`` width of a cut, mm. A cut is taken behind every piece,
    but none where a piece ends with its stock. Raises Impossible for a piece longer than the stock.

    >>> [len(b.pieces) for b in cut([Piece(f"b{i}", 0, 405, 405, ()) for i in range(16)], 1, 3000, 4)]
    [7, 7, 2]
    """
    bars: list[list[tuple[str, float]]] = []
    left: list[float] = []
    for piece in sorted((p for p in pieces for _ in range(each)), key=lambda p: -p.length):
        if piece.length > stock:
            raise Impossible(f"piece {piece.mark} of {piece.length:g} mm is longer than the stock of {stock:g} mm", "longer stock")
        at = next((i for i, room in enumerate(left) if room >= piece.length), None)
        if at is None:
            bars.append([])
            left.append(stock)
            at = len(bars) - 1
        bars[at].append((piece.mark, piece.length))
        left[at] = max(left[at] - piece.length - saw, 0.0)
    return tuple(Bar(tuple(b), room) for b, room in zip(bars, left, strict=True))


def mass(width: float, height: float, glass: float, film: float = 0.0) -> float:
    """Mass of a panel, kg: ``width``, ``height``, ``glass`` thickness in all and ``film`` thickness of interlayers, mm.

    >>> round(mass(957, 1040, 16, 1.52))
    41
    """
    return width * height * (GLASS_DENSITY * glass + FILM_DENSITY * film) * 1e-9


def with_spare(number: int) -> int:
    """A count with a twentieth more, rounded up.

    >>> with_spare(88)
    93
    """
    return ceil(number * (1 + SPARE) - 1e-9)
