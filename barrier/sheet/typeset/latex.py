"""Equations as LaTeX mathematics, for Markdown: commands that every reader of Markdown with mathematics knows."""

from __future__ import annotations

import re

from barrier.sheet.numbers import MINUS, NBSP
from barrier.sheet.typeset.layout import Box, Fenced, Fraction, Function, Number, Power, Root, Row, Sign, Symbol, stacked
from barrier.sheet.typeset.one_line import GREEK, shown_name

_COMMANDS = {letter: f"\\{name}" for name, letter in GREEK.items()} | {"π": "\\pi"}
_FENCES = {"(": ("(", ")"), "|": ("\\lvert ", "\\rvert ")}
_RAISED = {"²": "^{2}", "³": "^{3}", "⁴": "^{4}"}


def symbol(name: str) -> str:
    """A symbol.

    >>> print(symbol("gamma_M"), symbol("F_ax_Rd"), symbol("MOR"))
    \\gamma_{\\mathrm{M}} F_{\\mathrm{ax,Rd}} \\mathrm{MOR}
    """
    base, _, index = shown_name(name).partition("_")
    letter = _COMMANDS.get(base) or (base if len(base) == 1 else f"\\mathrm{{{base}}}")
    if not index:
        return letter
    parts = "".join(f"}}{_COMMANDS[c]}\\mathrm{{" if c in _COMMANDS else c for c in index)
    return f"{letter}_{{\\mathrm{{{parts}}}}}".replace("\\mathrm{}", "")


def number(text: str, unit: str = "") -> str:
    """A printed number and its unit.

    >>> print(number("−1" + NBSP + "235", "kN/m²"))
    -1\\,235\\ \\mathrm{kN/m^{2}}
    """
    figures = text.replace(NBSP, "\\,").replace(MINUS, "-")
    return f"{figures}\\ \\mathrm{{{unit_latex(unit)}}}" if unit else figures


def unit_latex(unit: str) -> str:
    """A unit as printed, in LaTeX; what is no letter, digit, stroke or power is left as text."""
    raised = "".join(_RAISED.get(c, c) for c in unit.replace(NBSP, "\\,"))
    return raised.replace("°", "^{\\circ}").replace("%", "\\%")


def latex(box: Box) -> str:
    """The commands of a box.

    >>> from barrier.equation import parse
    >>> from barrier.sheet.typeset.layout import symbols
    >>> print(latex(symbols(parse("k_mod*(a + b)/gamma_M"))))
    \\frac{k_{\\mathrm{mod}} \\cdot \\left(a + b\\right)}{\\gamma_{\\mathrm{M}}}
    """
    match box:
        case Symbol(name):
            return symbol(name)
        case Number(text, unit):
            return number(text, unit)
        case Sign("·", _):
            return "\\cdot"
        case Sign(text, _):
            return text.replace(MINUS, "-")
        case Row(parts):
            return re.sub(r"^- ", "-", " ".join(latex(p) for p in parts))
        case Fraction(over, under):
            return f"\\frac{{{latex(over)}}}{{{latex(under)}}}"
        case Root(of):
            return f"\\sqrt{{{latex(of)}}}"
        case Power(base, exponent):
            held = f"{{{latex(base)}}}" if isinstance(base, Symbol) else latex(base)
            return f"{held}^{{{latex(exponent)}}}"
        case Fenced(of, fence):
            left, right = _FENCES[fence]
            return f"\\left{left}{latex(of)}\\right{right}".replace("\\left\\lvert ", "\\left\\lvert ")
        case Function():
            return _function(box)


def _function(box: Function) -> str:
    if stacked(box):
        rows = " \\\\ ".join(latex(a) for a in box.args)
        return f"\\{box.name}\\left\\lbrace\\begin{{array}}{{l}} {rows} \\end{{array}}\\right."
    return f"\\{box.name}\\left({', '.join(latex(a) for a in box.args)}\\right)"
