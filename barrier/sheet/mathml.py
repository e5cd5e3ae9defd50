"""Equations as MathML Core: what a browser of today sets by itself, with the font the page brings along."""

from __future__ import annotations

from html import escape

from barrier.sheet.equations import shown_name
from barrier.sheet.layout import Box, Fenced, Fraction, Function, Number, Power, Root, Row, Sign, Symbol, stacked
from barrier.sheet.numbers import MINUS, NBSP
from barrier.sheet.plain_words import printable

CLOSING = {"(": ")", "|": "|"}


def math(body: str, words: str) -> str:
    """A ``math`` element within a line; ``words`` is what it says where it is not drawn."""
    return f'<math alttext="{escape(printable(words))}">{body}</math>'


def symbol(name: str) -> str:
    """A symbol: one letter is set in italics by the browser, an index upright.

    >>> symbol("F_ax_Rd")
    '<msub><mi>F</mi><mtext>ax,Rd</mtext></msub>'
    """
    base, _, index = printable(shown_name(name)).partition("_")
    letter = f"<mi>{escape(base)}</mi>"
    return f"<msub>{letter}<mtext>{escape(index)}</mtext></msub>" if index else letter


def number(text: str, unit: str = "", value: float | None = None) -> str:
    """A number as printed; its value in base units stands beside it for whoever reads the page by program."""
    shown = f"<mn>{escape(text)}</mn>" + (f"<mtext>{NBSP}{escape(unit)}</mtext>" if unit else "")
    if value is None:
        return shown
    return f"<mrow class=n data-value={short(value)}>{shown}</mrow>"


def short(value: float) -> str:
    """A value in base units as an attribute: seven digits at most, no needless point.

    >>> short(200.0), short(1.346154)
    ('200', '1.346154')
    """
    return repr(value).removesuffix(".0")


def mathml(box: Box) -> str:
    """The elements of a box.

    >>> from barrier.equation import parse
    >>> from barrier.sheet.layout import symbols
    >>> mathml(symbols(parse("sqrt(a)/b**2")))
    '<mfrac><msqrt><mi>a</mi></msqrt><msup><mi>b</mi><mn>2</mn></msup></mfrac>'
    """
    match box:
        case Symbol(name):
            return symbol(name)
        case Number(text, unit, value):
            return number(text, unit, value)
        case Sign(text, leading):
            form = "prefix" if leading else "infix" if text in ("+", MINUS) else ""  # what the browser takes by itself is left out
            return f"<mo{f' form={form}' if form else ''}>{escape(text)}</mo>"
        case Row(parts):
            return "".join(mathml(p) for p in parts)
        case Fraction(over, under):
            return f"<mfrac>{_one(over)}{_one(under)}</mfrac>"
        case Root(of):
            return f"<msqrt>{mathml(of)}</msqrt>"
        case Power(base, exponent):
            return f"<msup>{_one(base)}{_one(exponent)}</msup>"
        case Fenced(of, fence):
            return f"<mrow><mo>{fence}</mo>{mathml(of)}<mo>{CLOSING[fence]}</mo></mrow>"
        case Function():
            return _function(box)


def _one(box: Box) -> str:
    """A box as exactly one element."""
    inner = mathml(box)
    single = isinstance(box, Symbol | Fraction | Root | Power | Fenced) or (isinstance(box, Number) and box.value is not None)
    return inner if single or (isinstance(box, Number) and not box.unit) else f"<mrow>{inner}</mrow>"


def _function(box: Function) -> str:
    name = f"<mi>{escape(box.name)}</mi>"
    if stacked(box):
        rows = "".join(f"<mtr><mtd>{mathml(a)}</mtd></mtr>" for a in box.args)
        return f'<mrow>{name}<mo form="prefix">{{</mo><mtable class=cases>{rows}</mtable></mrow>'
    args = "<mo>,</mo>".join(mathml(a) for a in box.args)
    return f"<mrow>{name}<mrow><mo>(</mo>{args}<mo>)</mo></mrow></mrow>"
