"""An equation that prints itself: one object whose text is both evaluated and shown.

The text of an :class:`Equation` is parsed once with a closed grammar (``+ - * / **``, brackets, a few functions) into a
small tree. The same tree is compiled for evaluation and walked by every renderer, so what is printed is what was
evaluated and the order a clause is written in survives. Conditions of validity are texts of the same grammar; a
condition that does not hold is recorded on the step, never clamped.
"""

from __future__ import annotations

import ast
import math
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barrier.errors import CalculationError
from barrier.expression import FUNCTIONS as FUNCTIONS
from barrier.expression import SCALAR_FUNCTIONS as SCALAR_FUNCTIONS
from barrier.expression import Bin as Bin
from barrier.expression import Call as Call
from barrier.expression import Name as Name
from barrier.expression import Neg as Neg
from barrier.expression import Node as Node
from barrier.expression import Num as Num
from barrier.expression import names as names
from barrier.expression import parse as parse
from barrier.extras import wanted
from barrier.units import KINDS, UNITS, same_dimension
from barrier.value import PROVENANCES, Number, Value, source_of

_ON_TWO = {"+": operator.add, "-": operator.sub, "*": operator.mul, "/": operator.truediv, "**": operator.pow}
_IN_SYMPY = {"min": "Min", "max": "Max", "abs": "Abs", "ln": "log"}
_BROKEN = np.array([True])


# ---------------------------------------------------------------- symbols and equations


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol of an equation: its name, its kind, and for an empirical equation the unit it is bound to."""

    name: str
    kind: str
    bound: str = ""

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"symbol {self.name}: unknown kind {self.kind!r}")
        if self.bound and UNITS[self.bound].dimension != KINDS[self.kind].dimension:
            raise ValueError(f"symbol {self.name}: {self.bound} is no unit of {self.kind}")

    @property
    def factor(self) -> float:
        """Base units in one bound unit; 1 where the symbol is not bound."""
        return UNITS[self.bound].factor if self.bound else 1.0


def symbols(text: str) -> tuple[Symbol, ...]:
    """Symbols from a compact text: ``name:kind`` or ``name:kind@unit``, separated by commas.

    >>> symbols("d:length@mm, n:count")
    (Symbol(name='d', kind='length', bound='mm'), Symbol(name='n', kind='count', bound=''))
    """
    out = []
    for part in text.split(","):
        name, _, rest = part.strip().partition(":")
        kind, _, bound = rest.partition("@")
        out.append(Symbol(name, kind, bound))
    return tuple(out)


@dataclass(frozen=True)
class Equation:
    """A published or derived equation, complete: result, text, symbols, source with clause, provenance, range.

    Arguments: ``result`` the symbol it gives; ``text`` the right-hand side in the order of the clause; ``symbols`` one
    :class:`Symbol` a name; ``source`` document, edition and clause; ``provenance`` one of
    :data:`barrier.value.PROVENANCES`; ``valid`` conditions of the same grammar with one comparison each, in the
    bound units (a symbol may stand in a condition only). Called with one :class:`Value` a symbol it gives a Value whose
    origin is the :class:`Step`.

    >>> from barrier.value import JobEntry, Value
    >>> stress = Equation(Symbol("s", "stress"), "F / A", symbols("F:force, A:area"), "mechanics", "computed")
    >>> given = JobEntry("x", "x")
    >>> stress(F=Value(100.0, "force", given), A=Value(50.0, "area", given)).x
    2.0

    Raises CalculationError when a result is not a finite number.
    """

    result: Symbol
    text: str
    symbols: tuple[Symbol, ...]
    source: str
    provenance: str
    valid: tuple[str, ...] = ()
    title: str = ""
    _conditions: tuple[tuple[str, Callable[..., Any], Callable[..., Any]], ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if self.provenance not in PROVENANCES:
            raise ValueError(f"{self.result.name}: unknown provenance {self.provenance!r}")
        declared = {s.name for s in self.symbols}
        used = set(names(self.tree))
        for condition in self.valid:
            used.update(n for side in _sides(condition) for n in names(parse(side)))
        if used != declared:
            raise ValueError(f"{self.result.name}: symbols {sorted(declared)} do not match {self.text!r}")
        compiled = tuple((c, self._compile(c, "scalar"), self._compile(c, "array")) for c in self.valid)
        object.__setattr__(self, "_conditions", compiled)

    def __reduce__(self) -> tuple[type[Equation], tuple[object, ...]]:
        """Another process compiles the text again."""
        return Equation, (self.result, self.text, self.symbols, self.source, self.provenance, self.valid, self.title)

    @cached_property
    def tree(self) -> Node:
        """The tree every renderer walks."""
        return parse(self.text)

    @cached_property
    def by_name(self) -> dict[str, Symbol]:
        """The symbols by name."""
        return {s.name: s for s in self.symbols}

    @cached_property
    def _asked(self) -> tuple[tuple[str, str, float], ...]:
        """Name, kind and factor of every symbol: a check evaluates some thousand equations."""
        return tuple((s.name, s.kind, s.factor) for s in self.symbols)

    @property
    def sympy(self) -> Any:
        """The equation as ``sympy.Eq``, to be solved for any of its symbols: each in its bound unit, else in base units.

        Raises ImportError where sympy, of the extra ``symbols``, is not installed.

        >>> stress = Equation(Symbol("s", "stress"), "F / A", symbols("F:force, A:area"), "mechanics", "computed")
        >>> import sympy
        >>> sympy.solve(stress.sympy, sympy.Symbol("A"))
        [F/s]
        """
        sympy = wanted("sympy", "symbols")
        open_ = {s.name: sympy.Symbol(s.name) for s in self.symbols}
        return sympy.Eq(sympy.Symbol(self.result.name), self.right_hand_side(open_), evaluate=False)

    def right_hand_side(self, given: Mapping[str, Any]) -> Any:
        """The right-hand side in sympy: ``given`` has an expression for each symbol, in its bound unit."""
        sympy = wanted("sympy", "symbols")

        def of(node: Node) -> Any:
            match node:
                case Num("pi"):
                    return sympy.pi
                case Num(text):
                    return sympy.Rational(text)
                case Name(name):
                    return given[name]
                case Neg(arg):
                    return -of(arg)
                case Bin(op, left, right):
                    return _ON_TWO[op](of(left), of(right))
                case Call(name, args):
                    return getattr(sympy, _IN_SYMPY.get(name, name))(*(of(a) for a in args))

        return of(self.tree)

    @cached_property
    def _scalar(self) -> Callable[..., float]:
        parse(self.text)
        return self._compile(self.text, "scalar")

    @cached_property
    def _array(self) -> Callable[..., Any]:
        return self._compile(self.text, "array")

    def _compile(self, text: str, flavour: str) -> Callable[..., Any]:
        # The text has been through the closed grammar (a condition: both its sides), so this is no open eval.
        for side in _sides(text):
            parse(side)
        table = SCALAR_FUNCTIONS if flavour == "scalar" else FUNCTIONS
        code = ast.parse(f"lambda {', '.join(s.name for s in self.symbols)}: {text}", mode="eval")
        if flavour == "scalar":
            code = ast.fix_missing_locations(_RealPowers().visit(code))
        scope = {"__builtins__": {}, "pi": math.pi, "_pow": math.pow, **table}
        function: Callable[..., Any] = eval(compile(code, "<equation>", "eval"), scope)
        return function

    def __call__(self, **inputs: Value) -> Value:
        ordered: list[Number] = []
        scalar = True
        for name, kind, factor in self._asked:
            try:
                v = inputs[name]
            except KeyError:
                raise TypeError(f"{self.result.name} = {self.text}: missing {name}") from None
            if v.kind != kind and not same_dimension(v.kind, kind):
                raise TypeError(f"{self.result.name}: {name} is a {kind}, not a {v.kind}")
            x = v.x
            scalar = scalar and isinstance(x, float)
            ordered.append(x if factor == 1.0 else x / factor)
        if len(inputs) != len(self.symbols):
            raise TypeError(f"{self.result.name}: unknown symbols {sorted(set(inputs) - set(self.by_name))}")
        found = self._evaluate(ordered, scalar)
        outside = self._outside(ordered, scalar) if self._conditions else {}
        step, factor = Step(self, inputs, outside), self.result.factor
        return Value(found if factor == 1.0 else found * factor, self.result.kind, step, self.result.name)

    def _evaluate(self, ordered: list[Number], scalar: bool) -> Number:
        try:
            if scalar:
                x: Number = float(self._scalar(*ordered))
                finite = math.isfinite(x)
            else:
                with np.errstate(all="ignore"):
                    x = np.asarray(self._array(*ordered), dtype=float)
                finite = bool(np.isfinite(x).all())
        except (ArithmeticError, TypeError, ValueError) as fault:  # a complex number is a TypeError
            raise CalculationError(f"{self.result.name} = {self.text} ({self.source}): {fault}") from fault
        if not finite:
            raise CalculationError(f"{self.result.name} = {self.text} ({self.source}) is not a finite number")
        return x

    def _outside(self, ordered: list[Number], scalar: bool) -> dict[str, Any]:
        broken = {}
        for text, of_scalars, of_arrays in self._conditions:
            if scalar:
                if not of_scalars(*ordered):
                    broken[text] = _BROKEN
            elif (where := ~np.atleast_1d(np.asarray(of_arrays(*ordered), dtype=bool))).any():
                broken[text] = where
        return broken


class _RealPowers(ast.NodeTransformer):
    """Powers by ``math.pow``: Python's own makes a complex number of a negative base, and says nothing."""

    def visit_BinOp(self, node: ast.BinOp) -> ast.expr:
        self.generic_visit(node)
        if isinstance(node.op, ast.Pow):
            return ast.Call(ast.Name("_pow", ast.Load()), [node.left, node.right], [])
        return node


def _sides(text: str) -> list[str]:
    for sign in (">=", "<=", ">", "<"):
        if sign in text:
            return [side.strip() for side in text.split(sign)]
    return [text]


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One evaluated equation: the equation, its inputs, and the range conditions that did not hold.

    ``outside`` maps the text of a violated condition to a boolean per station.
    """

    equation: Equation
    inputs: Mapping[str, Value]
    outside: Mapping[str, NDArray[np.bool_]] = field(default_factory=dict)
    strays: bool = field(init=False)

    def __post_init__(self) -> None:
        strays = bool(self.outside)
        for v in self.inputs.values():  # plain: made some thousand times in a check
            strays = strays or v.origin.strays
        object.__setattr__(self, "strays", strays)


def outside_at(value: Value, station: int) -> tuple[str, ...]:
    """Range conditions, anywhere in what ``value`` is made of, that do not hold at ``station``."""
    found: dict[str, None] = {}
    seen: set[tuple[int, int]] = set()

    def visit(v: Value, s: int) -> None:
        v, s = source_of(v, s)
        if (id(v.origin), s) in seen:
            return
        seen.add((id(v.origin), s))
        if isinstance(v.origin, Step):
            for text, where in v.origin.outside.items():
                if where[s if where.size > 1 else 0]:
                    found[f"{text} ({v.origin.equation.source})"] = None
        for part in v.origin.inputs.values():
            visit(part, s if part.stations else 0)

    visit(value, station)
    return tuple(found)
