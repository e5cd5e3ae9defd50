"""A value as an expression of what it was made of, to be solved for one of its symbols: which length would give 1.0.

The equations behind a value are put into one another, from the result down, until the wanted symbol stands there; everything else
is its number. sympy comes with the extra ``symbols``.
"""

from __future__ import annotations

import math
from typing import Any

from barrier.equation import Step
from barrier.errors import UnknownRow
from barrier.extras import wanted
from barrier.value import Value, source_of

SAME = 1e-12  # relative; two values of one name that differ by more are two things


def expression(value: Value, *symbols: str, station: int = 0) -> Any:
    """A value as an expression of sympy in some of the symbols behind it.

    Arguments: ``value`` that equations gave; ``symbols`` that stay open, as they stand on the sheet (``"l_ef"``), each in base
    units (N, mm, MPa, rad); ``station`` which of its numbers, where it has more than one. Returns the expression in base units;
    with every symbol at its own number it is the value. All else keeps its number, and what a numerical method found is a number.
    Raises UnknownRow for a symbol that is not behind the value, ValueError for one that stands there for two different numbers,
    ImportError where sympy is not installed.

    >>> from barrier.equation import Equation, Symbol, symbols
    >>> from barrier.value import JobEntry
    >>> area = Equation(Symbol("A", "area"), "b*h", symbols("b:length, h:length"), "geometry", "computed")
    >>> stress = Equation(Symbol("s", "stress"), "F/A", symbols("F:force, A:area"), "mechanics", "computed")
    >>> F = Value(900.0, "force", JobEntry("F", "900 N"), "F")
    >>> b, h = Value(3.0, "length", JobEntry("b", "3 mm"), "b"), Value(5.0, "length", JobEntry("h", "5 mm"), "h")
    >>> expression(stress(F=F, A=area(b=b, h=h)), "b")
    180.0/b
    """
    sympy, met = wanted("sympy", "symbols"), dict[str, None]()
    numbers: dict[str, float] = {}

    def left_open(name: str, x: float) -> Any:
        if not math.isclose(numbers.setdefault(name, x), x, rel_tol=SAME):
            raise ValueError(f"{name} stands for two things behind {value.symbol}: {numbers[name]:.6g} and {x:.6g}")
        return sympy.Symbol(name)

    def of(v: Value, s: int, name: str) -> Any:
        met[name] = None
        v, s = source_of(v, s if v.stations > 1 else 0)
        if name in symbols:
            return left_open(name, v.at(s))
        if not isinstance(v.origin, Step):
            met[v.symbol] = None
            return left_open(v.symbol, v.at(s)) if v.symbol in symbols else sympy.Float(v.at(s), 17)
        equation = v.origin.equation
        given = {
            symbol.name: of(v.origin.inputs[symbol.name], s, symbol.name) / sympy.Float(symbol.factor, 17)
            if symbol.factor != 1.0
            else of(v.origin.inputs[symbol.name], s, symbol.name)
            for symbol in equation.symbols
        }
        found = equation.right_hand_side(given)
        return found * sympy.Float(equation.result.factor, 17) if equation.result.factor != 1.0 else found

    found = of(value, station, value.symbol)
    for symbol in symbols:
        if symbol not in {str(s) for s in found.free_symbols}:
            raise UnknownRow(f"what {value.symbol or 'the value'} was made of", "symbol", symbol, [m for m in met if m])
    return found
