"""Equations as text: the symbolic line, the same line with numbers, and the names symbols are shown by.

Both lines walk the one tree of the equation in the order its clause is written in; brackets come from precedence.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from barrier.equation import Bin, Call, Name, Neg, Node, Num, parse
from barrier.sheet.numbers import MINUS, NBSP

GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "eta": "η", "theta": "θ", "kappa": "κ",
    "lambda": "λ", "mu": "μ", "nu": "ν", "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "psi": "ψ", "omega": "ω",
}  # fmt: skip

# How tightly a piece of text holds together, loosest first. A number with a compound unit (kN/m, kN m) may stand in a
# product but not behind a fraction bar; one with any unit needs brackets under a power; a negative one everywhere.
SIGNED, SUM, PRODUCT, COMPOUND, UNITED, POWER, ATOM = range(7)
_OPERATORS = {"+": (" + ", SUM), "-": (f" {MINUS} ", SUM), "*": (" · ", PRODUCT), "/": (" / ", PRODUCT), "**": ("^", POWER)}
_COMPARED = {">=": "≥", "<=": "≤", ">": ">", "<": "<"}

Piece = tuple[str, int]


def shown_name(name: str) -> str:
    """The name a symbol is shown by: the first underscore starts the subscript, later ones are commas.

    >>> shown_name("F_ax_Rd"), shown_name("gamma_M"), shown_name("l_ef"), shown_name("eta")
    ('F_ax,Rd', 'γ_M', 'l_ef', 'η')
    """
    base, *rest = name.split("_")
    parts = [GREEK.get(part, part) for part in rest]
    return GREEK.get(base, base) + ("_" + ",".join(parts) if parts else "")


def number_piece(number: str, unit: str = "") -> Piece:
    """A printed number and unit with the binding its text has."""
    text = f"{number}{NBSP}{unit}" if unit else number
    if number.startswith(MINUS):
        return text, SIGNED
    return text, (COMPOUND if set(unit) & {"/", NBSP, " "} else UNITED) if unit else ATOM


def symbolic(node: Node) -> str:
    """The tree with names.

    >>> symbolic(parse("k_mod*F_ax_Rk/gamma_M")), symbolic(parse("a - (b - c)")), symbolic(parse("(a + b)**2/-c"))
    ('k_mod · F_ax,Rk / γ_M', 'a − (b − c)', '(a + b)^2 / (−c)')
    """
    return laid_out(node, lambda name: (shown_name(name), ATOM))[0]


def numeric(node: Node, pieces: Mapping[str, Piece]) -> str:
    """The tree with a number for each symbol.

    >>> numeric(parse("F/d**2"), {"F": number_piece("3", "kN"), "d": number_piece("8", "mm")}).replace(NBSP, "_")
    '3_kN / (8_mm)^2'
    """
    return laid_out(node, pieces.__getitem__)[0]


def laid_out(node: Node, leaf: Callable[[str], Piece]) -> Piece:
    """Text of a tree and how tightly it holds together."""
    match node:
        case Num("pi"):
            return "π", ATOM
        case Num(text):
            return text, ATOM
        case Name(name):
            return leaf(name)
        case Neg(arg):
            return MINUS + _held(laid_out(arg, leaf), COMPOUND), PRODUCT
        case Bin(op, left, right):
            return _operation(op, laid_out(left, leaf), laid_out(right, leaf), isinstance(right, Neg))
        case Call(name, args):
            return _function(name, [laid_out(a, leaf)[0] for a in args]), ATOM


def _operation(op: str, left: Piece, right: Piece, right_is_negative: bool) -> Piece:
    sign, binding = _OPERATORS[op]
    if op == "**":
        power = right[0] if right_is_negative and right[1] != SIGNED else _held(right, ATOM)
        return f"{_held(left, ATOM)}{sign}{power}", POWER
    # Behind any operator an equal binding is bracketed: the order of the clause is kept, not only its value.
    least = UNITED if op == "/" else binding + 1
    shown_right = f"({right[0]})" if right_is_negative else _held(right, least)
    return f"{_held(left, binding)}{sign}{shown_right}", binding


def _held(piece: Piece, least: int) -> str:
    text, binding = piece
    return text if binding >= least else f"({text})"


def _function(name: str, args: list[str]) -> str:
    if name == "sqrt":
        return f"√({args[0]})"
    if name == "abs" and "|" not in args[0]:
        return f"|{args[0]}|"
    return f"{name}({', '.join(args)})"


def condition(text: str) -> str:
    """A condition of validity, both sides laid out.

    >>> condition("d_1 >= 0.6*d"), condition("h_e < h_pc")
    ('d_1 ≥ 0.6 · d', 'h_e < h_pc')
    """
    left, sign, right = re.split(r"(>=|<=|>|<)", text, maxsplit=1)
    return f"{symbolic(parse(left.strip()))} {_COMPARED[sign]} {symbolic(parse(right.strip()))}"
