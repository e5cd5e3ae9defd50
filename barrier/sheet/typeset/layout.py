"""An equation in two dimensions: fractions stacked, roots and powers as such, brackets where they are still needed.

One walk over the tree of an equation decides what stands over, under and beside what; MathML, LaTeX and stacked text
write the same boxes each in its own letters. A fraction bar, a root and an exponent hold their parts together, so these
need no brackets; everything else follows :mod:`barrier.sheet.typeset.one_line`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from barrier.equation import Bin, Call, Name, Neg, Node, Num
from barrier.sheet.numbers import MINUS, NBSP
from barrier.sheet.typeset.one_line import ATOM, COMPOUND, POWER, PRODUCT, SIGNED, SUM, UNITED


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol, by its name in equations."""

    name: str


@dataclass(frozen=True, slots=True)
class Number:
    """A printed number with its unit as printed; ``coefficient`` is one of the equation itself."""

    number: str
    unit: str = ""
    coefficient: bool = False


@dataclass(frozen=True, slots=True)
class Sign:
    """An operator between two boxes, or a minus before one."""

    text: str
    leading: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """Boxes beside one another."""

    parts: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class Fraction:
    """One box over another."""

    over: Box
    under: Box


@dataclass(frozen=True, slots=True)
class Root:
    """A square root."""

    of: Box


@dataclass(frozen=True, slots=True)
class Power:
    """A box with another as its exponent."""

    base: Box
    exponent: Box


@dataclass(frozen=True, slots=True)
class Fenced:
    """A box in brackets, or between bars (``|``)."""

    of: Box
    fence: str = "("


@dataclass(frozen=True, slots=True)
class Function:
    """``min``, ``max``, ``sin``, ``cos``, ``ln`` of one or more boxes."""

    name: str
    args: tuple[Box, ...]


Box = Symbol | Number | Sign | Row | Fraction | Root | Power | Fenced | Function
Held = tuple[Box, int]

NEVER = ATOM + 1  # nothing holds so tightly: always in brackets
_SIGNS = {"+": ("+", SUM), "-": (MINUS, SUM), "*": ("·", PRODUCT)}


def symbols(node: Node) -> Box:
    """The tree with names."""
    return laid_out(node, lambda name: (Symbol(name), ATOM))[0]


def number(text: str, unit: str = "") -> Held:
    """A printed number and how tightly it holds together: a negative one and one with a unit less than a bare one."""
    binding = SIGNED if text.startswith(MINUS) else ATOM
    if binding == ATOM and unit:
        binding = COMPOUND if set(unit) & {"/", NBSP, " "} else UNITED
    return Number(text, unit), binding


def laid_out(node: Node, leaf: Callable[[str], Held]) -> Held:
    """Box of a tree and how tightly it holds together; ``leaf`` gives that of a symbol.

    >>> from barrier.equation import parse
    >>> laid_out(parse("(a + b)/c"), lambda name: (Symbol(name), ATOM))[0].under
    Symbol(name='c')
    """
    match node:
        case Num("pi"):
            return Symbol("π"), ATOM
        case Num(text):
            return Number(text, coefficient=True), ATOM
        case Name(name):
            return leaf(name)
        case Neg(arg):
            return _row(Sign(MINUS, leading=True), _held(laid_out(arg, leaf), COMPOUND)), PRODUCT
        case Bin("/", left, right):
            return Fraction(laid_out(left, leaf)[0], laid_out(right, leaf)[0]), COMPOUND
        case Bin("**", left, right):
            return Power(_held(laid_out(left, leaf), ATOM), laid_out(right, leaf)[0]), POWER
        case Bin(op, left, right):
            sign, binding = _SIGNS[op]
            on_the_right = laid_out(right, leaf)
            least = NEVER if isinstance(right, Neg) else binding + 1
            return _row(_held(laid_out(left, leaf), binding), Sign(sign), _held(on_the_right, least)), binding
        case Call("sqrt", (arg,)):
            return Root(laid_out(arg, leaf)[0]), ATOM
        case Call("abs", (arg,)):
            return Fenced(laid_out(arg, leaf)[0], "|"), ATOM
        case Call(name, args):
            return Function(name, tuple(laid_out(a, leaf)[0] for a in args)), ATOM


def _held(piece: Held, least: int) -> Box:
    box, binding = piece
    return box if binding >= least else Fenced(box)


def _row(*boxes: Box) -> Row:
    """Boxes in a row; rows in it are taken apart, as they stand without brackets."""
    parts: list[Box] = []
    for box in boxes:
        parts.extend(box.parts if isinstance(box, Row) else (box,))
    return Row(tuple(parts))


# ---------------------------------------------------------------- how wide, and where a line may break

SMALL = 0.72  # of an index or exponent
LONG = 17.0  # em; a line wider than this may break at its outer operators
STACK = 11.0  # em; the parts of a min or max that are wider together stand in rows


def ems(box: Box) -> float:
    """About how wide a box is printed, in em."""
    match box:
        case Symbol(name):
            base, _, index = name.partition("_")
            return 0.6 * (len(base) if len(base) < 3 else 1) + 0.45 * SMALL * len(index)
        case Number(text, unit):
            return 0.5 * len(text) + (0.25 + 0.5 * len(unit) if unit else 0.0)
        case Sign():
            return 1.1
        case Row(parts):
            return sum(ems(p) for p in parts)
        case Fraction(over, under):
            return max(ems(over), ems(under)) + 0.3
        case Root(of):
            return ems(of) + 0.9
        case Power(base_box, exponent):
            return ems(base_box) + SMALL * ems(exponent)
        case Fenced(of):
            return ems(of) + 0.7
        case Function(name, args):
            widths = [ems(a) for a in args]
            inner = max(widths) if stacked(box) else sum(widths) + 0.6 * (len(args) - 1)
            return 0.5 * len(name) + 0.8 + inner


def stacked(function: Function) -> bool:
    """Whether the arguments of a min or max are long enough to stand in rows, behind one brace."""
    return len(function.args) > 1 and sum(ems(a) for a in function.args) > STACK


def pieces(box: Box) -> tuple[Row, ...]:
    """A box in the parts between which a line may break: before its outer operators, where it is long.

    >>> from barrier.equation import parse
    >>> len(pieces(symbols(parse("a*b*c")))), len(pieces(symbols(parse(" + ".join(["a*b_long_index"]*9)))))
    (1, 9)
    """
    if not isinstance(box, Row) or ems(box) <= LONG:
        return (Row((box,)) if not isinstance(box, Row) else box,)
    weakest = {"+", MINUS} if any(isinstance(p, Sign) and not p.leading and p.text != "·" for p in box.parts) else {"·"}
    found: list[list[Box]] = [[]]
    for part in box.parts:
        if isinstance(part, Sign) and not part.leading and part.text in weakest and found[-1]:
            found.append([])
        found[-1].append(part)
    return tuple(Row(tuple(parts)) for parts in found)


__all__ = [
    "Box", "Fenced", "Fraction", "Function", "Number", "Power", "Root", "Row", "Sign", "Symbol", "ems", "laid_out", "number",
    "pieces", "stacked", "symbols",
]  # fmt: skip
