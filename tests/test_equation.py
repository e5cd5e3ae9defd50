"""Equations: the closed grammar, evaluation of the very text that is printed, ranges, units, and dimensions."""

from __future__ import annotations

import importlib
import math
import pkgutil
from collections.abc import Callable
from typing import Any

import numpy as np
import pint
import pytest
import sympy
from conftest import for_each
from hypothesis import given
from hypothesis import strategies as st

import barrier
from barrier.equation import Equation, Symbol, names, outside_at, parse, symbols
from barrier.errors import CalculationError
from barrier.units import KINDS
from barrier.value import JobEntry, Pick, Value, gather, source_of, walk

ENTRY = JobEntry("x", "x")
ureg = pint.UnitRegistry()  # one for all: to read its definitions takes a fifth of a second


def val(x: float, kind: str) -> Value:
    return Value(x, kind, ENTRY)


def every_equation() -> list[Equation]:
    """All equations that stand as module constants (or in a dict of them) in basis and links."""
    found: dict[int, Equation] = {}
    for package in ("barrier.basis", "barrier.links", "barrier.result"):
        module = importlib.import_module(package)
        modules = [module]
        if hasattr(module, "__path__"):
            modules += [importlib.import_module(m.name) for m in pkgutil.walk_packages(module.__path__, package + ".")]
        for m in modules:
            for thing in vars(m).values():
                for e in thing.values() if isinstance(thing, dict) else [thing]:
                    if isinstance(e, Equation):
                        found[id(e)] = e
    return list(found.values())


EQUATIONS = every_equation()


def test_there_are_equations_to_look_at() -> None:
    assert len(EQUATIONS) > 40
    assert barrier.__doc__


@pytest.mark.parametrize("text", ["__import__('os')", "a.b", "a[0]", "lambda: 1", "a if b else c", "a == b", "'x'", "f(a)"])
def test_the_grammar_is_closed(text: str) -> None:
    with pytest.raises(ValueError, match="grammar"):
        parse(text)


def test_order_of_the_clause_survives() -> None:
    assert names(parse("k_mod*F_k/gamma_M")) == ("k_mod", "F_k", "gamma_M")


def test_symbols_must_match_the_text() -> None:
    with pytest.raises(ValueError, match="do not match"):
        Equation(Symbol("y", "ratio"), "a + b", symbols("a:ratio"), "s", "memory")


def test_kinds_and_missing_symbols_are_refused() -> None:
    e = Equation(Symbol("s", "stress"), "F / A", symbols("F:force, A:area"), "s", "memory")
    with pytest.raises(TypeError, match="A is a area, not a length"):
        e(F=val(1.0, "force"), A=val(1.0, "length"))
    with pytest.raises(TypeError, match="missing A"):
        e(F=val(1.0, "force"))
    with pytest.raises(TypeError, match="unknown"):
        e(F=val(1.0, "force"), A=val(1.0, "area"), B=val(1.0, "area"))


@pytest.mark.parametrize("text,x", [("1/a", 0.0), ("sqrt(a)", -1.0), ("ln(a)", 0.0), ("a**1000", 1e9)])
def test_nan_and_infinity_are_errors(text: str, x: float) -> None:
    e = Equation(Symbol("y", "ratio"), text, symbols("a:ratio"), "s", "memory")
    with pytest.raises(CalculationError):
        e(a=val(x, "ratio"))
    with pytest.raises(CalculationError), np.errstate(all="ignore"):
        e(a=Value(np.array([1.0, x]), "ratio", ENTRY))


def test_out_of_range_is_said_and_not_clamped() -> None:
    e = Equation(Symbol("y", "length"), "2*d", symbols("d:length@mm"), "code 1", "memory", valid=("d >= 6", "d <= 12"))
    v = e(d=val(4.0, "length"))
    assert v.x == 8.0
    assert outside_at(v, 0) == ("d >= 6 (code 1)",)
    many = e(d=Value(np.array([4.0, 8.0, 20.0]), "length", ENTRY))
    assert [bool(outside_at(many, i)) for i in range(3)] == [True, False, True]


def test_a_bound_symbol_is_in_its_unit() -> None:
    # 1800 G^1.5 D^0.75 with D in inches gives lbf/in: NDS-2015 Table 12.2A, G = 0.50, D = 3/8 in: 305 lbf/in
    # (read in a public secondary copy of the table).
    from barrier.basis.us.equations import LAG_WITHDRAWAL
    from barrier.units import UNITS

    w = LAG_WITHDRAWAL(G=val(0.5, "ratio"), D=val(0.375 * 25.4, "length"))
    assert float(w.x) / UNITS["lbf/in"].factor == pytest.approx(305, abs=0.5)


@given(
    st.floats(0.1, 50), st.floats(0.1, 50), st.floats(0.5, 3.0),
)  # fmt: skip
def test_scalar_equals_vector(a: float, b: float, c: float) -> None:
    e = Equation(Symbol("y", "ratio"), "min(a, b)*c**0.8/(1 + sqrt(b)) - -a", symbols("a:ratio, b:ratio, c:ratio"), "s", "memory")
    one = e(a=val(a, "ratio"), b=val(b, "ratio"), c=val(c, "ratio"))
    many = e(a=Value(np.array([a, a]), "ratio", ENTRY), b=val(b, "ratio"), c=val(c, "ratio"))
    assert many.at(1) == pytest.approx(float(one.x), rel=1e-13)


@for_each("equation", EQUATIONS)
def test_every_equation_has_source_provenance_and_a_second_opinion(equation: Equation) -> None:
    """Sympy reads the same text and gets the same number (an independent evaluation of what is printed)."""
    assert equation.source and equation.provenance
    # n > 1 and growing values keep differences and roots in the equations positive.
    numbers = {s.name: 1.5 + 0.37 * i for i, s in enumerate(equation.symbols)}
    values = {s.name: Value(numbers[s.name] * s.factor, s.kind, ENTRY) for s in equation.symbols}
    got = float(equation(**values).x) / equation.result.factor
    local = {n: sympy.Symbol(n) for n in numbers} | {"min": sympy.Min, "max": sympy.Max, "abs": sympy.Abs, "ln": sympy.log}
    expected = sympy.sympify(equation.text, locals=local).subs(numbers)
    assert got == pytest.approx(float(expected), rel=1e-9)


def like(choose: Callable[..., Any]) -> Callable[..., Any]:
    """``min`` or ``max`` in which a bare 0 has the unit of what it stands beside."""

    def chosen(*args: Any) -> Any:
        unit = next((a.units for a in args if isinstance(a, pint.Quantity)), None)
        return choose(*(a * unit if unit is not None and not isinstance(a, pint.Quantity) and a == 0 else a for a in args))

    return chosen


# The fit of the effective width adds powers of lengths and takes the root again, which pint has no unit for in between.
RATIONAL = [e for e in EQUATIONS if not any(s.bound for s in (e.result, *e.symbols)) and not e.source.startswith("effective width")]


@for_each("equation", RATIONAL)
def test_dimensions_of_every_equation_that_is_not_empirical(equation: Equation) -> None:
    unit = {
        "F": "newton", "L": "mm", "L2": "mm**2", "L3": "mm**3", "L4": "mm**4", "1/L": "1/mm", "F/L": "N/mm", "F/L2": "N/mm**2",
        "F/L3": "N/mm**3", "F L": "N*mm", "F L/rad": "N*mm", "angle": "dimensionless", "M/L3": "kg/m**3", "M": "kg",
        "T": "kelvin", "L/T": "m/s", "1": "dimensionless",
    }  # fmt: skip
    functions = {
        "sqrt": lambda q: q**0.5, "min": like(min), "max": like(max), "abs": abs, "pi": math.pi, "sin": np.sin, "cos": np.cos,
        "ln": lambda q: math.log(ureg.Quantity(q).to("dimensionless").magnitude),
    }  # fmt: skip
    result: object = 0
    for shift in range(len(equation.symbols)):  # a bare 0 of max(..., 0) has no dimension: take numbers that avoid it
        quantities = {
            s.name: ureg.Quantity(1.5 + 1.7 * ((i + shift) % len(equation.symbols)), unit[KINDS[s.kind].dimension])
            for i, s in enumerate(equation.symbols)
        }
        result = eval(equation.text, {"__builtins__": {}, **functions}, quantities)
        if not (isinstance(result, int) and result == 0):
            break
    result = ureg.Quantity(result) if not isinstance(result, pint.Quantity) else result
    assert result.check(ureg.Quantity(1, unit[KINDS[equation.result.kind].dimension]).dimensionality)


def test_origins_are_walked_through_picks_and_gatherings() -> None:
    a, b = Value(1.0, "force", JobEntry("a", "1 N"), "F"), Value(2.0, "force", JobEntry("b", "2 N"), "F")
    laid = gather([a, b], [1, 0, 1])
    picked = laid.take(np.array([2]))
    assert isinstance(picked.origin, Pick)
    value, station = source_of(picked, 0)
    assert value is b and station == 0
    assert {id(v) for v in walk(picked)} >= {id(a), id(b)}
