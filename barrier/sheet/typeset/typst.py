"""Equations as Typst mathematics: the one tree of an equation in two forms, with fraction bars or on one line.

What is written here is the only text the template evaluates. Names, numbers and units stand in it as string literals,
so that nothing but the signs of this module is ever read as markup.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from barrier.equation import Bin, Call, Name, Neg, Node, Num
from barrier.sheet.numbers import MINUS, NBSP
from barrier.sheet.typeset.one_line import ATOM, COMPOUND, POWER, PRODUCT, SIGNED, SUM, UNITED, Piece, shown_name
from barrier.sheet.typeset.one_line import symbolic as in_one_line

_SIGNS = {"+": ("+", SUM), "-": ("-", SUM), "*": ("dot.op", PRODUCT), "/": ("\\/", PRODUCT)}
_NAMED = ("min", "max", "sin", "cos", "ln", "exp")


def quoted(text: str) -> str:
    r"""A text as a Typst string literal.

    >>> print(quoted('a"b\\c'))
    "a\"b\\c"
    """
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ") + '"'


def name_math(name: str) -> str:
    """A symbol: its base slanted where it is one letter, its subscript upright.

    >>> print(name_math("F_ax_Rd"), name_math("gamma_M"), name_math("eta"))
    F_("ax,Rd") γ_("M") η
    """
    base, _, sub = shown_name(name).partition("_")
    return _base(base) + (f"_({quoted(sub)})" if sub else "")


def _base(base: str) -> str:
    # A single letter stands for itself in mathematics; anything longer would be looked up as a variable.
    return base if len(base) == 1 and base.isalpha() else quoted(base)


def number_math(number: str, unit: str = "") -> Piece:
    """A printed number and unit with the binding its text has."""
    text = f"{number}{NBSP}{unit}" if unit else number
    if number.startswith(MINUS):
        return quoted(text), SIGNED
    return quoted(text), (COMPOUND if set(unit) & {"/", NBSP, " "} else UNITED) if unit else ATOM


# Fraction bars; within a fraction or an exponent none, or its parts would be too small to read; on one line that may
# break at its operators, for which brackets must not hold together what is between them.
BARS, INNER, FLAT = "bars", "inner", "flat"
LONG = 30  # signs of the arguments of a min or max, in symbols: longer ones stand in rows behind a brace


def symbolic(node: Node, flat: bool = False) -> str:
    """The tree with names; ``flat`` without fraction bars, so that a long line can break at its operators.

    >>> from barrier.equation import parse
    >>> print(symbolic(parse("k_mod*F_k/gamma_M")))
    frac(k_("mod") dot.op F_("k"), γ_("M"))
    >>> print(symbolic(parse("a - (b - c)"), flat=True))
    a - \\(b - c\\)
    """
    return _laid_out(node, lambda name: (name_math(name), ATOM), FLAT if flat else BARS)[0]


def numeric(node: Node, pieces: Mapping[str, Piece], flat: bool = False) -> str:
    """The tree with a number for each symbol."""
    return _laid_out(node, pieces.__getitem__, FLAT if flat else BARS)[0]


def _laid_out(node: Node, leaf: Callable[[str], Piece], form: str) -> Piece:
    inner = FLAT if form == FLAT else INNER
    match node:
        case Num("pi"):
            return "π", ATOM
        case Num(text):
            return quoted(text), ATOM
        case Name(name):
            return leaf(name)
        case Neg(arg):
            return "-" + _held(_laid_out(arg, leaf, form), COMPOUND, form), PRODUCT
        case Bin("**", left, right):
            return f"{_held(_laid_out(left, leaf, form), ATOM, form)}^({_laid_out(right, leaf, inner)[0]})", POWER
        case Bin("/", left, right) if form == BARS:
            return f"frac({_laid_out(left, leaf, inner)[0]}, {_laid_out(right, leaf, inner)[0]})", UNITED
        case Bin(op, left, right):
            return _operation(op, _laid_out(left, leaf, form), _laid_out(right, leaf, form), isinstance(right, Neg), form)
        case Call("min" | "max" as name, args) if form == BARS and sum(len(in_one_line(a)) for a in args) > LONG:
            return f"{name} cases({', '.join(_laid_out(a, leaf, form)[0] for a in args)})", UNITED
        case Call(name, args):
            return _function(name, [_laid_out(a, leaf, form)[0] for a in args], form), ATOM


def _operation(op: str, left: Piece, right: Piece, right_is_negative: bool, form: str) -> Piece:
    sign, binding = _SIGNS[op]
    least = UNITED if op == "/" else binding + 1
    shown_right = _bracketed(right[0], form) if right_is_negative else _held(right, least, form)
    return f"{_held(left, binding, form)} {sign} {shown_right}", binding


def _held(piece: Piece, least: int, form: str) -> str:
    text, binding = piece
    return text if binding >= least else _bracketed(text, form)


def _bracketed(text: str, form: str) -> str:
    # Escaped brackets do not make one unbreakable group of what is between them.
    return f"\\({text}\\)" if form == FLAT else f"lr(({text}))"


def _function(name: str, args: list[str], form: str) -> str:
    if name == "sqrt":
        return f"sqrt({args[0]})" if form != FLAT else f"root {_bracketed(args[0], form)}"
    if name == "abs":
        return f"abs({args[0]})" if form != FLAT else f"\\|{args[0]}\\|"
    if name not in _NAMED:
        raise ValueError(f"no Typst form of the function {name}")
    return f"{name} {_bracketed(', '.join(args), form)}"
