"""The lines of a step as boxes: the equation in symbols, the same with numbers, the result; and each in plain words."""

from __future__ import annotations

from dataclasses import dataclass

from barrier.sheet.blocks import Given, NumericalBlock, StepBlock, Token
from barrier.sheet.numbers import SMALL, Figure, residual_text, unit_text
from barrier.sheet.typeset import layout
from barrier.sheet.typeset.layout import Box
from barrier.sheet.typeset.one_line import Piece, condition, number_piece, numeric, shown_name, symbolic


@dataclass(frozen=True, slots=True)
class Typeset:
    """One line behind an equals sign: what is drawn, and what it says in one line of plain text."""

    box: Box
    words: str


def figure(token: Token, style: str) -> Figure:
    """A token as it is printed."""
    return token.figure(style)


def number(token: Token, style: str, bare: bool = False) -> layout.Held:
    """The box of a token; ``bare`` leaves its unit out, as an equation bound to units does."""
    shown = figure(token, style)
    return layout.number(shown.number, "" if bare or not shown.unit else unit_text(shown.unit))


def result(token: Token, style: str) -> Typeset:
    """A token on a line of its own."""
    return Typeset(number(token, style)[0], figure(token, style).text)


def lines(step: StepBlock, style: str) -> tuple[Typeset, ...]:
    """What stands behind the equals signs of a step: symbols, numbers, result, and the result in the unit of the sheet."""
    tree, bare = step.equation.tree, bool(step.bound)
    boxes = {name: number(given.token, style, bare) for name, given in step.inputs.items()}
    texts = {name: _piece(given, style, bare) for name, given in step.inputs.items()}
    written = [
        Typeset(layout.symbols(tree), symbolic(tree)),
        Typeset(layout.laid_out(tree, boxes.__getitem__)[0], numeric(tree, texts)),
        result(step.result, style),
    ]
    shown = result(step.shown_result, style)
    return (*written, shown) if shown.words != written[-1].words else tuple(written)


def _piece(given: Given, style: str, bare: bool) -> Piece:
    shown = figure(given.token, style)
    return number_piece(shown.number, "" if bare or not shown.unit else unit_text(shown.unit))


def formula_words(step: StepBlock) -> str:
    """The equation in one line of plain text."""
    return f"{shown_name(step.equation.result.name)} = {symbolic(step.equation.tree)}"


def held(step: StepBlock) -> str:
    """The conditions of validity that hold, in one line; empty where there are none."""
    return ", ".join(condition(c) for c in step.equation.valid if c not in step.outside)


def broken(step: StepBlock) -> tuple[str, ...]:
    """Those that do not."""
    return tuple(condition(c) for c in step.outside)


def bound_words(step: StepBlock) -> str:
    """The units an empirical equation is bound to."""
    return "numbers in " + ", ".join(unit_text(u) for u in step.bound) if step.bound else ""


def like_words(n: NumericalBlock) -> str:
    """What a numerical result says of the earlier one it is like, before its number; empty where there is none."""
    if not n.like:
        return ""
    if n.method:
        return "the rest as" if n.inputs else "with the same as"
    return "the rest and the method as" if n.inputs else "with the same, by the same method as"


def method_words(n: NumericalBlock) -> str:
    """By which method; and how well it closed, where that is worse than the rest, which the appendix lists."""
    open_ended = n.residual is not None and n.residual >= SMALL and not n.read_off
    residual = f"relative residual {residual_text(n.residual)}" if open_ended and n.residual is not None else ""
    return "; ".join(p for p in (f"by {n.method}" if n.method else "", residual) if p)
