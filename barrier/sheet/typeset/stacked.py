"""Equations in two dimensions as plain text: fractions over a bar, tall brackets, exponents raised beside them.

The boxes of :mod:`barrier.sheet.typeset.layout` become blocks of lines with a base line each, which are set beside and over one
another. What is one line high stays as :mod:`barrier.sheet.typeset.one_line` writes it, but for squares and cubes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.sheet.numbers import MINUS, NBSP
from barrier.sheet.plain_words import padded, printable, width
from barrier.sheet.typeset.layout import Box, Fenced, Fraction, Function, Number, Power, Root, Row, Sign, Symbol
from barrier.sheet.typeset.one_line import shown_name

BAR = "─"
RAISED = {"2": "²", "3": "³"}
TALL = {"(": ("⎛⎜⎝", "⎞⎟⎠"), "|": ("⎢⎢⎢", "⎥⎥⎥")}  # top, middle and foot of a bracket on either side
FLAT = {"(": ("(", ")"), "|": ("|", "|")}


@dataclass(frozen=True, slots=True)
class Stack:
    """Lines of one width, and which of them is the base line."""

    lines: tuple[str, ...]
    base: int = 0

    @property
    def width(self) -> int:
        """Columns it takes."""
        return width(self.lines[0])

    @property
    def is_flat(self) -> bool:
        """Whether it is one line high."""
        return len(self.lines) == 1

    @property
    def is_tall(self) -> bool:
        """Whether something stands above its base line, as over a fraction bar."""
        return self.base > 0


def flat(text: str) -> Stack:
    """A text of one line."""
    return Stack((text,))


def beside(parts: Sequence[Stack]) -> Stack:
    """Stacks in a row, base line by base line.

    >>> beside((flat("x = "), over(flat("a"), flat("b + c")))).lines
    ('      a  ', 'x = ─────', '    b + c')
    """
    if all(p.is_flat for p in parts):
        return flat("".join(p.lines[0] for p in parts))
    above = max(p.base for p in parts)
    below = max(len(p.lines) - p.base for p in parts)
    rows = []
    for i in range(above + below):
        cells = []
        for p in parts:
            j = i - above + p.base
            cells.append(p.lines[j] if 0 <= j < len(p.lines) else " " * p.width)
        rows.append("".join(cells))
    return Stack(tuple(rows), above)


def over(top: Stack, foot: Stack) -> Stack:
    """One stack over another; the bar stands out beyond bars within it."""
    wide = max(top.width, foot.width) + (0 if top.is_flat and foot.is_flat else 2)
    rows = (*(_centred(line, wide) for line in top.lines), BAR * wide, *(_centred(line, wide) for line in foot.lines))
    return Stack(rows, len(top.lines))


def _centred(line: str, wide: int) -> str:
    left = (wide - width(line)) // 2
    return padded(" " * left + line, wide)


def fenced(inner: Stack, fence: str = "(") -> Stack:
    """A stack in brackets as tall as it is; bars around bars would not tell which is which."""
    if fence == "|" and any(bar in line for line in inner.lines for bar in "|⎢"):
        return beside((flat("abs"), fenced(inner)))
    if inner.is_flat:
        left, right = FLAT[fence]
        return flat(f"{left}{inner.lines[0]}{right}")
    last = len(inner.lines) - 1
    sides = [0 if i == 0 else 2 if i == last else 1 for i in range(last + 1)]
    left, right = TALL[fence]
    return Stack(tuple(f"{left[k]}{line}{right[k]}" for k, line in zip(sides, inner.lines, strict=True)), inner.base)


def raised(base: Stack, exponent: Stack) -> Stack:
    """A power: squares and cubes as such, behind a flat base ``^``, beside a tall one on its top line."""
    text = exponent.lines[0] if exponent.is_flat else ""
    if base.is_flat:
        if text in RAISED:
            return flat(base.lines[0] + RAISED[text])
        simple = text.removeprefix(MINUS).replace(".", "").isalnum()
        return beside((base, flat("^"), exponent if simple else fenced(exponent)))
    high = len(exponent.lines)  # the foot of the exponent stands on the top line of the base
    rows = [" " * base.width] * (high - 1) + list(base.lines)
    beside_it = list(exponent.lines) + [" " * exponent.width] * (len(base.lines) - 1)
    return Stack(tuple(b + e for b, e in zip(rows, beside_it, strict=True)), base.base + high - 1)


def stacked(box: Box) -> Stack:
    """The lines of a box.

    >>> from barrier.equation import parse
    >>> from barrier.sheet.typeset.layout import symbols
    >>> for line in stacked(symbols(parse("K*(d/l_1)**0.2 - t**2"))).lines:
    ...     print(line.rstrip())
        ⎛ d ⎞0.2
    K · ⎜───⎟    − t²
        ⎝l_1⎠
    """
    match box:
        case Symbol(name):
            return flat(printable(shown_name(name)))
        case Number(text, unit):
            return flat(f"{text}{NBSP}{unit}" if unit else text)
        case Sign(text, leading):
            return flat(text if leading else f" {text} ")
        case Row(parts):
            return beside([stacked(p) for p in parts])
        case Fraction(top, foot):
            return over(stacked(top), stacked(foot))
        case Root(of):
            return beside((flat("√"), fenced(stacked(of))))
        case Power(base, exponent):
            return raised(stacked(base), stacked(exponent))
        case Fenced(of, fence):
            return fenced(stacked(of), fence)
        case Function(name, args):
            listed = [stacked(args[0]), *(s for a in args[1:] for s in (flat(", "), stacked(a)))]
            return beside((flat(name), fenced(beside(listed))))
