"""The sheet as Markdown with LaTeX mathematics between dollar signs, as most readers of Markdown draw it.

Whatever comes from a job is escaped letter by letter, so that nothing of it becomes a heading, a table, a formula or HTML.
A picture is its words: Markdown cannot carry one that every reader draws.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from barrier.result import Standing
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
from barrier.sheet.formats.text import bar
from barrier.sheet.numbers import NBSP, ending_text, utilisation_text
from barrier.sheet.plain_words import printable
from barrier.sheet.typeset import latex, steps
from barrier.sheet.typeset.layout import symbols
from barrier.sheet.typeset.steps import Typeset

ROOM = "\\_" * 40  # to write in
_ANYWHERE = set("\\`*_[]#|~$^")  # means something wherever it stands
_ENTITIES = {"<": "&lt;", ">": "&gt;", "&": "&amp;"}
_AT_THE_START = re.compile(r"^(\s*)([-+=:!]|\d+(?=[.)]))")  # a list, a rule, a number of a list
_LINK = re.compile(r"(?i)\b(https?|ftp|www|mailto)([:.])")
_SIGN = re.compile(r":(?=[a-z0-9+-]+:)")  # :name: is a picture in some dialects


def words(text: str) -> str:
    r"""Text of any origin so that Markdown prints it literally.

    >>> print(words("<b> 5 * 3 | a_b $x$ # `c`"))
    &lt;b&gt; 5 \* 3 \| a\_b \$x\$ \# \`c\`
    """
    text = printable(text)
    text = "".join(f"\\{c}" if c in _ANYWHERE else _ENTITIES.get(c, c) for c in text)
    return _SIGN.sub(r"\:", _LINK.sub(lambda m: f"{m[1]}\\{m[2]}", text))


def opening(text: str) -> str:
    r"""The same where a line begins, which could make a list or a rule of it.

    >>> print(opening("1. one"), opening("- two"))
    1\. one \- two
    """
    return _AT_THE_START.sub(lambda m: f"{m[1]}{m[2]}\\" if m[2].isdigit() else f"{m[1]}\\{m[2]}", text)


def rendered(content: Content, title: str) -> str:
    """The whole content as Markdown.

    Arguments: ``content``; ``title``, text of any origin, printed as the first heading. Returns the text with a line end
    at its end.
    """
    renderer = _Markdown(content.style)
    parts = [f"# {words(title)}"]
    before: Block | None = None
    for block in content.blocks:
        lines = [line for line in renderer.block(block)]
        if isinstance(block, ItemBlock) and isinstance(before, ItemBlock):
            parts[-1] += "\n" + "\n".join(lines)
        elif lines:
            parts.append("\n".join(lines))
        before = block
    text = "\n\n".join(parts) + "\n"
    return "\n".join(line.rstrip() for line in text.split("\n"))


class _Markdown:
    def __init__(self, style: str) -> None:
        self.style = style
        self.depth = 1
        self._writers: dict[type, Callable[..., Iterator[str]]] = {
            Heading: self._heading, Paragraph: self._paragraph, Caution: self._caution, Definitions: self._definitions,
            Bullets: self._bullets, Table: self._table, Bars: self._bars, StepBlock: self._step,
            NumericalBlock: self._numerical, ItemBlock: self._item, Blank: self._blank, Drawing: self._drawing,
        }  # fmt: skip

    def block(self, block: Block) -> Iterator[str]:
        return self._writers[type(block)](block)

    # ---------------------------------------------------------------- inline
    def line(self, line: Line) -> str:
        return "".join(self._inline(part) for part in line)

    def _inline(self, part: Inline) -> str:
        match part:
            case Token():
                return steps.figure(part, self.style).text
            case Sym(name):
                return f"${latex.symbol(name)}$"
            case Ref(label):
                return label if label[:1].isalpha() else f"[{label}]"
            case Formula(equation):
                return f"${latex.symbol(equation.result.name)} = {latex.latex(symbols(equation.tree))}$"
            case str():
                return words(part)

    # ---------------------------------------------------------------- words
    def _heading(self, h: Heading) -> Iterator[str]:
        self.depth = min(h.level + 1, self.depth + 1)
        yield f"{'#' * self.depth} {self.line(h.line)}"

    def _paragraph(self, p: Paragraph) -> Iterator[str]:
        text = self.line(p.line)
        if text:
            yield opening(text)

    def _caution(self, c: Caution) -> Iterator[str]:
        yield f"> **{words(c.title)}**"
        for text in c.paragraphs:
            yield ">"
            yield f"> {words(text)}"

    def _definitions(self, d: Definitions) -> Iterator[str]:
        for word, line in d.rows:
            yield f"* **{words(word)}:** {self.line(line)}"

    def _bullets(self, b: Bullets) -> Iterator[str]:
        for i, line in enumerate(b.items):
            mark = "**!!** " if b.loud and b.loud[i] else ""
            yield f"* {mark}{self.line(line) if mark else opening(self.line(line))}"

    def _blank(self, b: Blank) -> Iterator[str]:
        for label in b.labels:
            yield f"* {words(label)}: {ROOM}"

    def _drawing(self, d: Drawing) -> Iterator[str]:
        yield f"*Picture: {self.line(d.caption)}* {words(d.alt)}"

    # ---------------------------------------------------------------- tables and bars
    def _table(self, t: Table) -> Iterator[str]:
        yield _row([words(h) for h in t.head])
        yield _row(["---:" if a == "r" else "---" for a in t.align])
        for row in t.rows:
            yield _row([self.line(cell) for cell in row])

    def _bars(self, bars: Bars) -> Iterator[str]:
        yield f"**{bars.number}  {words(bars.title)}**"
        yield ""
        if not bars.rows:
            yield "nothing to compare here"
            return
        yield _row(["", "check", "", "utilisation", "ending", "where"])
        yield _row(["---", "---", "---", "---:", "---", "---"])
        for row in bars.rows:
            yield _row(self._bar(row))

    def _bar(self, row: Bar) -> list[str]:
        check, ending = row.check, ending_text(row.check.ending)
        information = check.standing is Standing.INFORMATION
        mark = "► GOVERNS" if row.governs else "i" if information else ""
        said = " (information)" if information and "information" not in row.title else ""
        loud = ending if ending == "within" else f"**{ending}**"
        note = "; ".join(w for w in (check.id, row.note) if w)
        return [mark, words(row.title + said), f"`{bar(check).rstrip()}`", utilisation_text(check), loud, words(note)]

    # ---------------------------------------------------------------- the calculation
    def _equals(self, name: str, lines: Sequence[Typeset]) -> Iterator[str]:
        """The lines of a step in one formula, their equals signs under one another."""
        left = [latex.symbol(name), *([""] * (len(lines) - 1))]
        rows = [f"{head} &= {latex.latex(line.box)}" for head, line in zip(left, lines, strict=True)]
        yield "$$"
        yield "\\begin{aligned}"
        yield " \\\\\n".join(rows)
        yield "\\end{aligned}"
        yield "$$"

    def _head(self, label: str, title: str, source: str) -> str:
        shown = self._inline(Ref(label))
        return f"**{shown}** {words(title)} · *{words(source)}*" if title else f"**{shown}** *{words(source)}*"

    def _with(self, inputs: dict[str, Given]) -> str:
        found = (f"${latex.symbol(n)}$ from{NBSP}{self._inline(Ref(g.ref))}" for n, g in inputs.items())
        return "with " + ", ".join(found) if inputs else ""

    def _step(self, step: StepBlock) -> Iterator[str]:
        equation = step.equation
        yield self._head(step.label, equation.title, f"{equation.source} · {equation.provenance}")
        yield ""
        yield from self._equals(equation.result.name, steps.lines(step, self.style))
        notes = [p for p in (self._with(dict(step.inputs)), words(steps.bound_words(step))) if p]
        if held := steps.held(step):
            notes.append(f"in its range: {words(held)}")
        notes += [f"**!!** outside its range: {words(text)} does not hold" for text in steps.broken(step)]
        if notes:
            yield ""
            yield "; ".join(notes)

    def _numerical(self, n: NumericalBlock) -> Iterator[str]:
        if n.read_off:
            told = f"${latex.symbol(n.symbol or 'x')}$ = {self._inline(n.result)}, {words(n.title)}, {words(n.method)}"
            yield f"* **{n.label}** {told}"
            return
        yield self._head(n.label, n.title, n.source)
        yield ""
        yield from self._equals(n.symbol or "x", (steps.result(n.result, self.style),))
        notes = [f"at {words(n.where)}"] if n.where else []
        rest = f"{steps.like_words(n)} {self._inline(Ref(n.like))}" if n.like else ""
        if made_of := ", ".join(p for p in (self._with(dict(n.inputs or {})), rest) if p):
            notes.append(made_of)
        if how := steps.method_words(n):
            notes.append(words(how))
        if n.hand is not None:
            notes.append(f"beside it by hand: {self._inline(n.hand.token)} from {self._inline(Ref(n.hand.ref))}")
        yield ""
        yield "; ".join(notes)

    def _item(self, item: ItemBlock) -> Iterator[str]:
        name = f"${latex.symbol(item.symbol)}$ = " if item.symbol else ""
        detail = f", {words(item.detail)}" if item.detail else ""
        yield f"* **{item.label}** {name}{self._inline(item.token)} · {words(item.place)}{detail}"


def _row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"
