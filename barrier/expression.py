"""The text of an equation as a tree: a closed grammar, parsed once, for whoever compiles it and whoever prints it."""

from __future__ import annotations

import ast
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np


@dataclass(frozen=True, slots=True)
class Num:
    """A coefficient, with its text as written in the clause; ``pi`` is one."""

    text: str


@dataclass(frozen=True, slots=True)
class Name:
    """A symbol."""

    name: str


@dataclass(frozen=True, slots=True)
class Neg:
    """A leading minus."""

    arg: Node


@dataclass(frozen=True, slots=True)
class Bin:
    """One of ``+ - * / **``."""

    op: str
    left: Node
    right: Node


@dataclass(frozen=True, slots=True)
class Call:
    """One of the functions of :data:`FUNCTIONS`."""

    name: str
    args: tuple[Node, ...]


Node = Num | Name | Neg | Bin | Call

FUNCTIONS: dict[str, Callable[..., Any]] = {
    "sqrt": np.sqrt,
    "min": lambda *a: _fold(np.minimum, a),
    "max": lambda *a: _fold(np.maximum, a),
    "abs": np.abs,
    "sin": np.sin,
    "cos": np.cos,
    "ln": np.log,
    "exp": np.exp,
}
SCALAR_FUNCTIONS: dict[str, Callable[..., Any]] = {
    "sqrt": math.sqrt,
    "min": min,
    "max": max,
    "abs": abs,
    "sin": math.sin,
    "cos": math.cos,
    "ln": math.log,
    "exp": math.exp,
}
_OPS: dict[type[ast.operator], str] = {
    ast.Add: "+",
    ast.Sub: "-",
    ast.Mult: "*",
    ast.Div: "/",
    ast.Pow: "**",
}


def _fold(function: Callable[[Any, Any], Any], args: tuple[Any, ...]) -> Any:
    out = args[0]
    for a in args[1:]:
        out = function(out, a)
    return out


def parse(text: str) -> Node:
    """The tree of an expression.

    >>> parse("a*b")
    Bin(op='*', left=Name(name='a'), right=Name(name='b'))

    Raises ValueError for anything outside the closed grammar.
    """
    return _convert(ast.parse(text, mode="eval").body, text)


def _convert(node: ast.expr, text: str) -> Node:
    match node:
        case ast.Constant(value=int() | float()):
            return Num(ast.get_source_segment(text, node) or repr(node.value))
        case ast.Name(id="pi"):
            return Num("pi")
        case ast.Name(id=name):
            return Name(name)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return Neg(_convert(operand, text))
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _OPS:
            return Bin(_OPS[type(op)], _convert(left, text), _convert(right, text))
        case ast.Call(func=ast.Name(id=name), args=args, keywords=[]) if name in FUNCTIONS:
            return Call(name, tuple(_convert(a, text) for a in args))
        case _:
            raise ValueError(f"not in the grammar of equations: {ast.unparse(node)!r} in {text!r}")


def names(node: Node) -> tuple[str, ...]:
    """Symbols of the tree of a ``node``, in order of appearance, each once."""
    found: dict[str, None] = {}

    def visit(n: Node) -> None:
        match n:
            case Name(name):
                found[name] = None
            case Neg(arg):
                visit(arg)
            case Bin(_, left, right):
                visit(left)
                visit(right)
            case Call(_, args):
                for a in args:
                    visit(a)
            case Num():
                pass

    visit(node)
    return tuple(found)
