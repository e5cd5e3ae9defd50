"""The sheet as plain text, 100 columns wide: for a terminal, a printer, a letter to an engineer."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import ceil

from barrier.result import Check, Ending, Standing
from barrier.sheet import scale
from barrier.sheet.blocks import (
    Bar,
    Bars,
    Blank,
    Block,
    Bullets,
    Caution,
    Content,
    Definitions,
    Drawing,
    Formula,
    Given,
    Heading,
    Inline,
    ItemBlock,
    Line,
    NumericalBlock,
    Paragraph,
    Ref,
    StepBlock,
    Sym,
    Table,
    Token,
)  # fmt: skip
from barrier.sheet.numbers import NBSP, ending_text, unit_text, utilisation_text
from barrier.sheet.plain_words import finished, padded, printable, width, wrapped
from barrier.sheet.typeset import steps
from barrier.sheet.typeset.one_line import condition, shown_name, symbolic
from barrier.sheet.typeset.stacked import Stack, beside, flat, stacked
from barrier.sheet.typeset.steps import Typeset

WIDTH = 100
INDENT = 6  # of what belongs to a numbered item
BAR = 20  # columns of a utilisation of 1.00
OVER = 4  # columns from there to 10
CHECK = 47  # columns for the title of a check
VALUE = 26  # columns for the value of an entry or a table line


def rendered(content: Content) -> str:
    """The whole content as text."""
    renderer = _Plain(content.style)
    lines: list[str] = []
    for block in content.blocks:
        lines.extend(renderer.block(block))
    return finished(lines)


class _Plain:
    def __init__(self, style: str) -> None:
        self.style = style
        self._renderers: dict[type, Callable[..., Iterator[str]]] = {
            Heading: self._heading, Paragraph: self._paragraph, Caution: self._caution, Definitions: self._definitions,
            Bullets: self._bullets, Table: self._table, Bars: self._bars, StepBlock: self._step,
            NumericalBlock: self._numerical, ItemBlock: self._item, Blank: self._blank, Drawing: self._drawing,
        }  # fmt: skip

    def block(self, block: Block) -> Iterator[str]:
        return self._renderers[type(block)](block)

    # ---------------------------------------------------------------- inline
    def line(self, line: Line) -> str:
        return "".join(self._inline(part) for part in line)

    def _inline(self, part: Inline) -> str:
        match part:
            case Token():
                return self._token(part)
            case Sym(name):
                return printable(shown_name(name))
            case Ref(label):
                return label if label[:1].isalpha() else f"[{label}]"
            case Formula(equation):
                return f"{shown_name(equation.result.name)} = {symbolic(equation.tree)}"
            case str():
                return printable(part)

    def _token(self, token: Token) -> str:
        return token.figure(self.style).text

    # ---------------------------------------------------------------- words
    def _heading(self, h: Heading) -> Iterator[str]:
        text = self.line(h.line)
        yield ""
        if h.level == 1:
            yield ""
            yield from wrapped(text.upper(), WIDTH)
            yield "═" * WIDTH
        elif h.level == 2:
            yield text
            yield "─" * WIDTH
        else:
            yield from wrapped(f"▸ {text}", WIDTH, 2)

    def _paragraph(self, p: Paragraph) -> Iterator[str]:
        yield from wrapped(self.line(p.line), WIDTH)

    def _caution(self, c: Caution) -> Iterator[str]:
        inner = WIDTH - 4
        yield "┏" + "━" * (WIDTH - 2) + "┓"
        yield f"┃ {padded(c.title, inner)} ┃"
        for text in c.paragraphs:
            for line in wrapped(printable(text), inner - 2):
                yield f"┃   {padded(line, inner - 2)} ┃"
        yield "┗" + "━" * (WIDTH - 2) + "┛"

    def _definitions(self, d: Definitions) -> Iterator[str]:
        left = max((width(word) for word, _ in d.rows), default=0) + 2
        for word, line in d.rows:
            for i, text in enumerate(wrapped(self.line(line), WIDTH - left)):
                yield padded(word if i == 0 else "", left) + text

    def _bullets(self, b: Bullets) -> Iterator[str]:
        for i, line in enumerate(b.items):
            mark = "!! " if b.loud and b.loud[i] else "·  "
            yield from wrapped(mark.replace(" ", NBSP) + self.line(line), WIDTH, 3)

    def _blank(self, b: Blank) -> Iterator[str]:
        left = max(width(label) for label in b.labels) + 2
        for label in b.labels:
            yield ""
            yield padded(label, left) + "_" * (WIDTH - left)

    def _drawing(self, d: Drawing) -> Iterator[str]:
        """What the picture shows, in words: text cannot draw."""
        yield ""
        yield from wrapped(f"[picture] {self.line(d.caption)}", WIDTH)
        yield from wrapped(printable(d.alt), WIDTH)

    # ---------------------------------------------------------------- tables
    def _table(self, t: Table) -> Iterator[str]:
        cells = [[self.line(c) for c in row] for row in t.rows]
        widths = _column_widths([list(t.head), *cells], t.align)
        yield from _row(list(t.head), widths, t.align)
        yield "  ".join("─" * w for w in widths)
        for row in cells:
            yield from _row(row, widths, t.align)

    # ---------------------------------------------------------------- bars
    def _bars(self, bars: Bars) -> Iterator[str]:
        yield ""
        yield f"{bars.number}  {printable(bars.title)}"
        if not bars.rows:
            yield "      nothing to compare here"
        for row in bars.rows:
            yield from self._bar(row, row.check, row.title, row.governs)

    def _bar(self, row: Bar, check: Check, title: str, governs: bool) -> Iterator[str]:
        information = check.standing is Standing.INFORMATION
        lines = wrapped(printable(title) + (" (information)" if information and "information" not in title else ""), CHECK)
        mark = "►" if governs else "i" if information else " "
        eta = utilisation_text(check)
        yield f" {mark} {padded(lines[0], CHECK)} {bar(check)} {padded(eta, 9, right=True)}  {ending_text(check.ending)}"
        for more in lines[1:]:
            yield f"   {more}"
        note = printable("; ".join(w for w in (check.id, row.note) if w))
        if governs:
            note = "GOVERNS. " + note
        yield from (f"     {line}" for line in wrapped(note, WIDTH - 5))

    # ---------------------------------------------------------------- the calculation
    def _label(self, label: str) -> str:
        return padded(label if label[:1].isalpha() else f"[{label}]", INDENT)

    def _item(self, item: ItemBlock) -> Iterator[str]:
        """Number and value on the left; on the right where it stands and how it came to stand there."""
        value = self._token(item.token)
        if item.symbol:
            value = f"{shown_name(item.symbol)} = {value}"
        place, detail = printable(item.place), printable(item.detail)
        room = WIDTH - INDENT - VALUE
        one_line = f"{place}, {detail}" if detail else place
        lines = [one_line] if width(one_line) <= room else [*wrapped(place, room), *(wrapped(detail, room) if detail else ())]
        head = self._label(item.label) + value
        if width(head) > INDENT + VALUE - 2:
            yield head
            head = ""
        for i, line in enumerate(lines):
            yield padded(head if i == 0 else "", INDENT + VALUE) + line

    def _step(self, step: StepBlock) -> Iterator[str]:
        equation = step.equation
        yield ""
        yield from self._titled(step.label, equation.title, f"{equation.source} · {equation.provenance}")
        lines = equals(shown_name(equation.result.name), steps.lines(step, self.style), WIDTH - INDENT)
        yield from (" " * INDENT + line if line else "" for line in lines)
        yield from self._hung(self._with(step.inputs) + self._bound(step.bound))
        held = [condition(c) for c in equation.valid if c not in step.outside]
        if held:
            yield from self._hung(f"in its range: {', '.join(held)}")
        for text in step.outside:
            yield from self._hung(f"!! outside its range: {condition(text)} does not hold")

    def _equal(self, name: str, text: str, room: int = 0) -> Iterator[str]:
        """``name = text``; the equals signs of one step stand under one another."""
        head = padded(name, max(room, width(name))) + " = "
        for i, line in enumerate(wrapped(text, WIDTH - INDENT - width(head))):
            yield " " * INDENT + (head if i == 0 else " " * width(head)) + line

    def _titled(self, label: str, title: str, source: str) -> Iterator[str]:
        head = self._label(label) + printable(title)
        source = printable(source)
        if title and width(head) + 3 + width(source) <= WIDTH:
            yield head + " " * (WIDTH - width(head) - width(source)) + source
            return
        if title:
            yield from wrapped(head.replace(" ", NBSP, INDENT), WIDTH, INDENT)
            yield from self._hung(source)
            return
        lines = wrapped(source, WIDTH - INDENT)
        yield self._label(label) + lines[0]
        yield from (" " * INDENT + line for line in lines[1:])

    def _hung(self, text: str) -> Iterator[str]:
        if text:
            yield from (" " * INDENT + line for line in wrapped(text, WIDTH - INDENT))

    def _with(self, inputs: dict[str, Given] | object) -> str:
        assert isinstance(inputs, dict)
        found = [f"{shown_name(n)}{NBSP}from{NBSP}{self._inline(Ref(g.ref))}" for n, g in inputs.items()]
        return "with " + ", ".join(found) if found else ""

    def _bound(self, bound: Sequence[str]) -> str:
        units = [unit_text(u) for u in bound]
        return f"; numbers in {', '.join(units)}" if units else ""

    def _numerical(self, n: NumericalBlock) -> Iterator[str]:
        yield ""
        if n.read_off:
            text = f"{shown_name(n.symbol or 'x')} = {self._token(n.result)}, {n.title}, {n.method}"
            yield from wrapped(self._label(n.label).replace(" ", NBSP) + printable(text), WIDTH, INDENT)
            return
        yield from self._titled(n.label, n.title, n.source)
        if n.where:
            yield from self._hung(f"at {printable(n.where)}")
        yield from self._equal(shown_name(n.symbol or "x"), self._token(n.result))
        rest = f"{steps.like_words(n)} {self._inline(Ref(n.like))}" if n.like else ""
        yield from self._hung(", ".join(p for p in (self._with(dict(n.inputs or {})), rest) if p))
        yield from self._hung(printable(steps.method_words(n)))
        if n.hand is not None:
            yield from self._hung(f"beside it by hand: {self._token(n.hand.token)} from {self._inline(Ref(n.hand.ref))}")


def equals(name: str, parts: Sequence[Typeset], columns: int) -> Iterator[str]:
    """``name = symbols = numbers = result`` in two dimensions: on one line where it fits, else the equals signs in a column.

    Arguments: ``name`` as shown; ``parts`` what stands behind the equals signs; ``columns`` of room. Gives the lines. A part
    that is too wide even for a line of its own is written in one dimension and broken.
    """
    found: list[Stack] = []
    line = [flat(f"{name} = ")]
    for part in parts:
        stack = stacked(part.box)
        if len(line) > 1:
            if beside(line).width + 3 + stack.width <= columns:
                line += [flat(" = "), stack]
                continue
            found.append(beside(line))
            line = [flat(" " * width(name) + " = ")]
        room = columns - width(name) - 3
        line.append(stack if stack.width <= room else Stack(tuple(padded(x, room) for x in wrapped(part.words, room))))
    found.append(beside(line))
    for before, stack in zip((None, *found), found, strict=False):
        if before is not None and before.is_tall and stack.is_tall:
            yield ""
        yield from stack.lines


def bar(check: Check) -> str:
    """A utilisation drawn: the stroke stands at 1.00; what has no number is drawn as what it is.

    >>> from barrier.result import About, Standing
    >>> bar(Check(About("a"), "a", Ending.NOT_CHECKED, Standing.REQUIRED)).strip()
    '? ? ? ? ? ? ? ? ? ? │'
    """
    eta = check.eta
    if check.ending is Ending.NOT_CHECKED:
        return padded("? " * (BAR // 2), BAR) + "│" + " " * OVER
    if eta is None:  # no length: broken through
        stump = BAR // 2 - 3
        return "█" * stump + "▒   ▒" + "█" * (BAR - 5 - stump) + "│" + "█" * OVER
    cells = round(max(eta, 0.0) * BAR)
    if eta > 1.0:
        over = "█" * (OVER - 1) + "▶" if scale.points_on(eta) else "█" * max(ceil(scale.beyond(eta) * OVER), 1)
        return "█" * BAR + "│" + padded(over, OVER)
    return padded("█" * min(cells, BAR), BAR).replace(" ", "·") + "│" + " " * OVER


def _column_widths(rows: Sequence[Sequence[str]], align: str) -> list[int]:
    """Natural widths, the widest columns of words narrowed until the row fits."""
    widths = [max(width(row[i]) for row in rows) for i in range(len(align))]
    gaps = 2 * (len(align) - 1)
    while sum(widths) + gaps > WIDTH:
        widest = max((i for i in range(len(align)) if align[i] == "l"), key=lambda i: widths[i])
        widths[widest] -= 1
    return widths


def _row(cells: Sequence[str], widths: Sequence[int], align: str) -> Iterator[str]:
    broken = [wrapped(c, w) for c, w in zip(cells, widths, strict=True)]
    for i in range(max(len(b) for b in broken)):
        parts = [padded(b[i] if i < len(b) else "", w, right=a == "r") for b, w, a in zip(broken, widths, align, strict=True)]
        yield "  ".join(parts)
