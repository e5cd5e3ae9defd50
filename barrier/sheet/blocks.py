"""What a sheet is made of: blocks of words and tokens, complete before any renderer sees them.

A number is a :class:`Token`: the value itself and its station, never a text, so that every renderer says the same and a
test can ask what was said. Words of the job stand in blocks as they were written; making them harmless is the
renderer's business, since each has its own dangers.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from barrier.equation import Equation
from barrier.result import Check
from barrier.sheet.numbers import Figure, figure_of
from barrier.value import Value


@dataclass(frozen=True, slots=True, eq=False)
class Token:
    """A number to print: value, station, significant digits, and a unit in place of the usual one where one is bound.

    ``decimal`` keeps inches out of fractions, where a number goes on into a formula.
    """

    value: Value
    station: int = 0
    digits: int = 3
    unit: str | None = None
    decimal: bool = False

    def figure(self, style: str) -> Figure:
        """How it is printed on a sheet of this style."""
        return figure_of(self.value, self.station, style, self.digits, self.unit, self.decimal)


@dataclass(frozen=True, slots=True)
class Sym:
    """A symbol, by its name in equations."""

    name: str


@dataclass(frozen=True, slots=True)
class Ref:
    """The number of an item of the calculation: ``J3``, ``T1``, ``N2`` or ``12``."""

    label: str


@dataclass(frozen=True, slots=True, eq=False)
class Formula:
    """An equation in symbols."""

    equation: Equation


TICK = "[    ]"  # a cell to be ticked with a pencil
ROOM = "________"  # a cell to write a figure into

Inline = str | Token | Sym | Ref | Formula
Line = tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 is a part of the sheet, 2 a link, 3 a check."""

    level: int
    line: Line


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running words."""

    line: Line


@dataclass(frozen=True, slots=True)
class Caution:
    """A loud box."""

    title: str
    paragraphs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Definitions:
    """Words on the left, what they stand for on the right."""

    rows: tuple[tuple[str, Line], ...]


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list; loud items are marked."""

    items: tuple[Line, ...]
    loud: tuple[bool, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """A table. ``align`` has one letter a column: l, r; the last l column is the one that is broken into lines.

    ``whole`` asks for one page of paper, where a page holds it: what is to be read at one glance. ``large`` asks site paper for
    figures that are read in rain, ``heavy`` for columns whose figures are set heavy.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[Line, ...], ...]
    align: str
    whole: bool = False
    large: bool = False
    heavy: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Bar:
    """One check with its utilisation as a bar, under a title that names every mount it stands for; one governs.

    ``note`` says where its worst station is and why it ends as it does.
    """

    check: Check
    title: str
    governs: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Bars:
    """The checks of one link with their bars; ``number`` counts the links from one."""

    number: int
    title: str
    rows: tuple[Bar, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """Where a symbol of a step is found: the token that is printed and the number of the earlier item that has it."""

    token: Token
    ref: str


@dataclass(frozen=True, slots=True, eq=False)
class StepBlock:
    """An evaluated equation: symbols, numbers, result, source, and where each number is from.

    ``result`` is the number in the unit the equation gives it in, ``shown_result`` in the unit of the sheet; ``bound``
    are the units an empirical equation is bound to (its numbers are printed in them, bare); ``outside`` are those of its
    conditions that do not hold.
    """

    label: str
    equation: Equation
    inputs: Mapping[str, Given]
    result: Token
    shown_result: Token
    bound: tuple[str, ...] = ()
    outside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class NumericalBlock:
    """The result of a numerical method, with its residual and the hand value that stands beside it.

    ``read_off`` marks what was only counted or measured: no method to speak of, and no residual. ``like`` is the number of
    an earlier one of the same kind, whose other inputs this one shares: ``inputs`` then are those that differ, and ``method``
    is empty where it is the same as there.
    """

    label: str
    title: str
    symbol: str
    result: Token
    method: str
    source: str
    where: str = ""
    residual: float | None = None
    inputs: Mapping[str, Given] | None = None
    hand: Given | None = None
    read_off: bool = False
    like: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class ItemBlock:
    """An entry of the job or a line of a table that was used: its number, its value, where it stands."""

    label: str
    symbol: str
    token: Token
    place: str
    detail: str


@dataclass(frozen=True, slots=True)
class Blank:
    """Room to write, left blank, with a label a line."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A finished picture: SVG with a view box and no outside references, and what it shows in words.

    ``wide`` is how wide it has to be printed for its scale to hold, mm; nought where it has none to keep.
    """

    svg: str
    alt: str
    wide: float = 0.0

    def _repr_svg_(self) -> str:
        """What a notebook shows."""
        return self.svg


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """Where a picture stands, with its caption; drawn only when a renderer asks, a renderer of text prints its words.

    ``name`` is short and without blanks ("elevation", "plan-M1"): it serves as an identifier. ``told`` says what the picture
    shows without drawing it, where drawing takes long.
    """

    name: str
    caption: Line
    draw: Callable[[], Picture]
    told: Callable[[], str] | None = None

    @property
    def alt(self) -> str:
        """What the picture shows, in words."""
        return self.draw().alt if self.told is None else self.told()


Block = (
    Heading | Paragraph | Caution | Definitions | Bullets | Table | Bars | StepBlock | NumericalBlock | ItemBlock | Blank | Drawing
)


@dataclass(frozen=True, slots=True, eq=False)
class Content:
    """The whole sheet, and the units its numbers are shown in ("metric" or "us"); ``compact`` asks paper to set it close.

    ``site`` names a size of paper ("a4" or "a3") for a sheet that is worked from in the open: large black figures, heavy rules,
    room for a pencil.
    """

    blocks: tuple[Block, ...]
    style: str
    compact: bool = False
    site: str = ""
