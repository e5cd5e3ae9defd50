"""Equations as MathML Core: what a browser of today sets by itself, with the font the page brings along."""

from __future__ import annotations

from html import escape

from barrier.sheet.numbers import MINUS, NBSP
from barrier.sheet.plain_words import printable
from barrier.sheet.typeset.layout import Box, Fenced, Fraction, Function, Number, Power, Root, Row, Sign, Symbol, stacked
from barrier.sheet.typeset.one_line import shown_name

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


def number(text: str, unit: str = "", coefficient: bool = False) -> str:
    """A number as printed; one of the sheet is marked, a coefficient of the equation is not.

    >>> number("0.75", "kN").replace("\\N{NO-BREAK SPACE}", " "), number("6", coefficient=True)
    ('<mn class=n>0.75</mn><mtext> kN</mtext>', '<mn>6</mn>')
    """
    mark = "" if coefficient else " class=n"
    return f"<mn{mark}>{escape(text)}</mn>" + (f"<mtext>{NBSP}{escape(unit)}</mtext>" if unit else "")


def mathml(box: Box) -> str:
    """The elements of a box.

    >>> from barrier.equation import parse
    >>> from barrier.sheet.typeset.layout import symbols
    >>> mathml(symbols(parse("sqrt(a)/b**2")))
    '<mfrac><msqrt><mi>a</mi></msqrt><msup><mi>b</mi><mn>2</mn></msup></mfrac>'
    """
    match box:
        case Symbol(name):
            return symbol(name)
        case Number(text, unit, coefficient):
            return number(text, unit, coefficient)
        case Sign(text, leading):
            return f"<mo{' form=prefix' if leading else ''}>{escape(text)}</mo>"
        case Row((Sign(text, False), *rest)) if text in ("+", MINUS):  # at the head of a line a browser would take it for a prefix
            return f"<mo form=infix>{escape(text)}</mo>{''.join(mathml(p) for p in rest)}"
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
    single = isinstance(box, Symbol | Fraction | Root | Power | Fenced) or (isinstance(box, Number) and not box.unit)
    return inner if single else f"<mrow>{inner}</mrow>"


def _function(box: Function) -> str:
    name = f"<mi>{escape(box.name)}</mi>"
    if stacked(box):
        rows = "".join(f"<mtr><mtd>{mathml(a)}</mtd></mtr>" for a in box.args)
        return f'<mrow>{name}<mo form="prefix">{{</mo><mtable class=cases>{rows}</mtable></mrow>'
    args = "<mo>,</mo>".join(mathml(a) for a in box.args)
    return f"<mrow>{name}<mrow><mo>(</mo>{args}<mo>)</mo></mrow></mrow>"
