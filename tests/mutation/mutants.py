"""Wrong lines, one at a time: every place of a module where one sign, figure or comparison could have been written wrongly.

A mutant is a replacement of a few bytes of a file, found in its syntax tree: what stands in a docstring, an annotation, a
``raise`` or words for readers is left alone, and so are figures of rounding (below 1e-6). Texts of equations are read by the
same rules as code.
"""

from __future__ import annotations

import ast
import random
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

FOLDERS = ("barrier/links", "barrier/basis", "barrier/mechanics")
KINDS = ("sign", "comparison", "factor", "constant", "min or max", "index", "dropped term", "text of an equation")
_SIGNS = {ast.Add: ("+", "-"), ast.Sub: ("-", "+")}
_FACTORS = {ast.Mult: ("*", "/"), ast.Div: ("/", "*")}
_TURNED = {
    ast.Lt: ("<", ">="), ast.LtE: ("<=", ">"), ast.Gt: (">", "<="), ast.GtE: (">=", "<"),
    ast.Eq: ("==", "!="), ast.NotEq: ("!=", "=="),
}  # fmt: skip
_EXTREMES = {"min": "max", "max": "min", "minimum": "maximum", "maximum": "minimum", "argmin": "argmax", "argmax": "argmin"}
_WORDS = {"title", "words", "label", "source", "help", "reason", "message"}  # keywords whose texts and figures are for readers
_OPERATOR = re.compile(r"(?<=[\w)\s])\s*(\*\*|[-+*/])\s*(?=[\w(])|\b(min|max)\b(?=\()|(?<![\w.])(\d+\.?\d*)(?![\w.])")


@dataclass(frozen=True)
class Mutant:
    """One wrong line: the file, where in its bytes, what stands there and what would, and what it belongs to."""

    path: str
    line: int
    start: int
    old: str
    new: str
    kind: str
    function: str  # qualified name of the innermost function, or '' on the level of the module
    target: str  # the name a statement of the module assigns, or ''

    @property
    def id(self) -> str:
        """A name that stays while the file does."""
        return f"{self.path}:{self.line}:{self.start}:{self.kind}:{self.old}:{self.new}"

    def applied(self, data: bytes) -> bytes:
        """The bytes of the file with the wrong line."""
        old = self.old.encode()
        if data[self.start : self.start + len(old)] != old:
            raise ValueError(f"{self.id} is not what stands there")
        return data[: self.start] + self.new.encode() + data[self.start + len(old) :]


class _Finder(ast.NodeVisitor):
    """Walks one module and collects its mutants."""

    def __init__(self, path: str, data: bytes) -> None:
        self.path, self.data, self.found = path, data, list[Mutant]()
        self._starts = [0]
        for line in data.splitlines(keepends=True):
            self._starts.append(self._starts[-1] + len(line))
        self._names: list[str] = []
        self._depth = 0
        self._target = ""

    # ------------------------------------------------------------ where things stand

    def _at(self, line: int, column: int) -> int:
        return self._starts[line - 1] + column

    def _span(self, node: ast.expr) -> tuple[int, int]:
        assert node.end_lineno is not None and node.end_col_offset is not None
        return self._at(node.lineno, node.col_offset), self._at(node.end_lineno, node.end_col_offset)

    def _add(self, line: int, start: int, end: int, new: str, kind: str) -> None:
        old = self.data[start:end].decode()
        function = ".".join(self._names) if self._depth else ""
        self.found.append(Mutant(self.path, line, start, old, new, kind, function, "" if self._depth else self._target))

    def _operator(self, left: ast.expr, right: ast.expr, old: str, new: str, kind: str) -> None:
        start, end = self._span(left)[1], self._span(right)[0]
        place = self.data[start:end].find(old.encode())
        if place >= 0:
            self._add(right.lineno, start + place, start + place + len(old), new, kind)

    # ------------------------------------------------------------ what is walked

    def _inside(self, node: ast.FunctionDef | ast.ClassDef, function: bool) -> None:
        self._names.append(node.name)
        self._depth += function
        for child in node.body:
            self.visit(child)
        self._depth -= function
        self._names.pop()

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        if self._names and self._depth:
            self._names.append("<locals>")
        self._inside(node, True)
        if self._names and self._names[-1] == "<locals>":
            self._names.pop()

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        self._inside(node, False)

    def visit_Assign(self, node: ast.Assign) -> None:
        self._assigned(node.targets[0], node.value)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None:
            self._assigned(node.target, node.value)

    def _assigned(self, target: ast.expr, value: ast.expr) -> None:
        if not self._depth:
            self._target = target.id if isinstance(target, ast.Name) else ""
        self.visit(value)

    def visit_Expr(self, node: ast.Expr) -> None:
        if not isinstance(node.value, ast.Constant):
            self.generic_visit(node)

    def visit_Raise(self, node: ast.Raise) -> None:
        """What is said when it is refused is for readers."""

    def visit_Assert(self, node: ast.Assert) -> None:
        """Holds for the reader of types."""

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Words; and places within it are not told exactly."""

    def visit_keyword(self, node: ast.keyword) -> None:
        if node.arg not in _WORDS:
            self.visit(node.value)

    # ------------------------------------------------------------ what is made wrong

    def visit_BinOp(self, node: ast.BinOp) -> None:
        for kind, table in (("sign", _SIGNS), ("factor", _FACTORS)):
            if (pair := table.get(type(node.op))) and not _text(node.left) and not _text(node.right):  # type: ignore[arg-type]
                self._operator(node.left, node.right, *pair, kind)
                start, end = self._span(node)
                stays = self.data[slice(*self._span(node.left))].decode()
                self._add(node.lineno, start, end, f"({stays})" if "\n" in stays else stays, "dropped term")
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        start, _ = self._span(node)
        if isinstance(node.op, ast.USub):
            self._add(node.lineno, start, start + 1, "+", "sign")
        elif isinstance(node.op, ast.Not):
            self._add(node.lineno, start, self._span(node.operand)[0], "", "comparison")
        self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> None:
        for left, op, right in zip((node.left, *node.comparators), node.ops, node.comparators, strict=False):
            if pair := _TURNED.get(type(op)):
                self._operator(left, right, *pair, "comparison")
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        pair = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        for left, right in zip(node.values, node.values[1:], strict=False):
            self._operator(left, right, *pair, "comparison")
        self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> None:
        called = node.func.id if isinstance(node.func, ast.Name) else node.func.attr if isinstance(node.func, ast.Attribute) else ""
        if other := _EXTREMES.get(called):
            _, end = self._span(node.func)
            self._add(node.lineno, end - len(called), end, other, "min or max")
        if called == "Equation" and len(node.args) > 1 and isinstance(node.args[1], ast.Constant):
            self._equation(node.args[1])
        self.generic_visit(node)

    def _equation(self, node: ast.Constant) -> None:
        start, end = self._span(node)
        text = self.data[start:end].decode()
        if not text.isascii():
            return
        for m in _OPERATOR.finditer(text):
            i = 1 if m[1] else 2 if m[2] else 3
            for new in _wrong_in_text(m[i]):
                self._add(node.lineno, start + m.start(i), start + m.end(i), new, "text of an equation")

    def visit_Subscript(self, node: ast.Subscript) -> None:
        for part in node.slice.elts if isinstance(node.slice, ast.Tuple) else [node.slice]:
            start, end = self._span(part) if not isinstance(part, ast.Slice) else (0, 0)
            text = self.data[start:end].decode()
            if text in ("0", "1", "2", "-1"):
                self._add(part.lineno, start, end, {"0": "-1", "1": "0", "2": "1", "-1": "0"}[text], "index")
        self.visit(node.value)
        if not isinstance(node.slice, (ast.Constant, ast.UnaryOp, ast.Tuple)):
            self.visit(node.slice)

    def visit_Constant(self, node: ast.Constant) -> None:
        if isinstance(node.value, bool) or not isinstance(node.value, (int, float)):
            return
        if isinstance(node.value, float) and (0 < abs(node.value) < 1e-6 or abs(node.value) > 1e8 or node.value == float("inf")):
            return
        wrong = f"{node.value + 1}" if isinstance(node.value, int) else f"{node.value * 1.1 or 1.0!r}"
        self._add(node.lineno, *self._span(node), wrong, "constant")


def _text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _wrong_in_text(part: str) -> Sequence[str]:
    if part[0].isdigit():
        return (f"{float(part) * 1.1:.6g}",) if float(part) else ()
    return {"+": ("-",), "-": ("+",), "*": ("/",), "/": ("*",), "**": ("*",), "min": ("max",), "max": ("min",)}[part]


def mutants_of(root: Path, path: str) -> list[Mutant]:
    """All mutants of one file, in the order of its tree."""
    data = (root / path).read_bytes()
    finder = _Finder(path, data)
    finder.visit(ast.parse(data))
    return finder.found


def still_reads(mutant: Mutant, data: bytes) -> bool:
    """Whether a file is a program yet with the wrong line in it."""
    try:
        ast.parse(mutant.applied(data))
    except SyntaxError:
        return False
    return True


def chosen(root: Path, seed: int) -> Iterator[Mutant]:
    """The mutants of all modules in an order of chance: a kind first, then one of its mutants, so that no kind is left out."""
    draw = random.Random(seed)
    by_kind: dict[str, list[Mutant]] = {kind: [] for kind in KINDS}
    for folder in FOLDERS:
        for file in sorted((root / folder).rglob("*.py")):
            for mutant in mutants_of(root, str(file.relative_to(root))):
                by_kind[mutant.kind].append(mutant)
    for kind in KINDS:
        draw.shuffle(by_kind[kind])
    while any(by_kind.values()):
        kind = draw.choice([k for k in KINDS if by_kind[k]])
        mutant = by_kind[kind].pop()
        if still_reads(mutant, (root / mutant.path).read_bytes()):
            yield mutant
