"""Blocks as elements of a page. Nothing of the job gets in but as text; every number is marked as one."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from html import escape

from barrier.result import Check, Ending, Standing
from barrier.sheet import scale
from barrier.sheet.blocks import (
    Bar,
    Bars,
    Blank,
    Block,
    Bullets,
    Caution,
    Definitions,
    Drawing,
    Formula,
    Given,
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
from barrier.sheet.drawings.svg import PAINT
from barrier.sheet.numbers import NBSP, ending_text, utilisation_text
from barrier.sheet.plain_words import printable
from barrier.sheet.typeset import mathml, steps
from barrier.sheet.typeset.layout import Box, Number, ems, pieces, symbols
from barrier.sheet.typeset.one_line import shown_name, symbolic
from barrier.sheet.typeset.steps import Typeset

LOUD = re.compile(r"\b(EXCEEDS|NOT CHECKED)\b")
CLASS = {"EXCEEDS": "exceeds", "NOT CHECKED": "unknown", "within": "within"}
STROKE = 70.0  # percent of a bar's length at which the stroke of 1.00 stands
DRAWN_ANYWAY = ("bars",)  # pictures of what the blocks of this page draw themselves
NARROW = 9.0  # em: an equation that fits on any screen, large print included, needs no box of its own to scroll in
WIDE, MANY = 4, 7  # columns from which a table is wider than a phone, and wider still


def words(text: str) -> str:
    """Text of any origin as text of the page."""
    return escape(printable(text))


def loud(text: str) -> str:
    """Text with the endings that want attention marked."""
    return LOUD.sub(lambda m: f'<strong class="{CLASS[m[1]]}">{m[1]}</strong>', words(text))


def anchor(label: str) -> str:
    """The id of an item of the calculation: ``J3`` as it is, ``12`` as ``i12``."""
    return label if label[:1].isalpha() else f"i{label}"


def variable(name: str) -> str:
    """A symbol in running words.

    >>> variable("gamma_M")
    '<var>γ<sub>M</sub></var>'
    """
    base, _, index = printable(shown_name(name)).partition("_")
    return f"<var>{escape(base)}{f'<sub>{escape(index)}</sub>' if index else ''}</var>"


def shown_label(label: str) -> str:
    """An item as it is named in running words."""
    return label if label[:1].isalpha() else f"[{label}]"


class Blocks:
    """Writes blocks as HTML; ``style`` is that of the units, ``wanted`` the labels of all items there are."""

    def __init__(self, style: str, wanted: frozenset[str]) -> None:
        self.style = style
        self.wanted = wanted
        self.section = ""  # the heading above, which names what has no caption
        self._writers: dict[type, Callable[..., str]] = {
            Paragraph: self._paragraph, Caution: self._caution, Definitions: self._definitions, Bullets: self._bullets,
            Table: self._table, Bars: self._bars, StepBlock: self._step, NumericalBlock: self._numerical,
            ItemBlock: self._item, Blank: self._blank, Drawing: self._drawing,
        }  # fmt: skip

    def block(self, block: Block) -> str:
        """One block, any but a heading."""
        return self._writers[type(block)](block)

    # ---------------------------------------------------------------- inline
    def line(self, line: Line) -> str:
        """Words and tokens in a row."""
        return "".join(self._inline(part) for part in line)

    def _inline(self, part: Inline) -> str:
        match part:
            case Token():
                return self._token(part)
            case Sym(name):
                return variable(name)
            case Ref(label):
                return self._ref(label)
            case Formula(equation):
                name = shown_name(equation.result.name)
                head = mathml.symbol(equation.result.name) + EQUALS
                box = symbols(equation.tree)
                return self._chunks(box, head, f"{name} = {symbolic(equation.tree)}")
            case str():
                return loud(part)

    def _token(self, token: Token) -> str:
        return f"<span class=n>{escape(steps.figure(token, self.style).text)}</span>"

    def _ref(self, label: str) -> str:
        shown = shown_label(label)
        return f"<a href=#{anchor(label)}>{shown}</a>" if label in self.wanted else shown

    def _chunks(self, box: Box, head: str, said: str) -> str:
        """A formula in elements between which a line may break; the first says all of it, the others their own part."""
        parts = pieces(box)
        first = mathml.math(head + mathml.mathml(parts[0]), said)
        rest = (mathml.math(mathml.mathml(p), "continued") for p in parts[1:])
        return "<wbr>".join((first, *rest))

    # ---------------------------------------------------------------- words
    def _paragraph(self, p: Paragraph) -> str:
        body = self.line(p.line)
        return f"<p>{body}</p>" if body.strip() else ""

    def _caution(self, c: Caution) -> str:
        first, *more = (words(text) for text in c.paragraphs)
        body = f'<p class="first">{first}</p>' + "".join(f"<p>{text}</p>" for text in more)
        return f'<div class="caution" role="note"><h2>{words(c.title)}</h2>{body}</div>'

    def _definitions(self, d: Definitions) -> str:
        rows = "".join(f"<div><dt>{words(word)}</dt><dd>{self.line(line)}</dd></div>" for word, line in d.rows)
        return f"<dl>{rows}</dl>"

    def _bullets(self, b: Bullets) -> str:
        items = []
        for i, line in enumerate(b.items):
            marked = bool(b.loud and b.loud[i])
            mark = '<strong class="mark">!!<span class="hidden"> attention: </span></strong> ' if marked else ""
            items.append(f"<li{' class=loud' if marked else ''}>{mark}{self.line(line)}</li>")
        return f"<ul>{''.join(items)}</ul>"

    def _blank(self, b: Blank) -> str:
        rows = "".join(f"<div><dt>{words(label)}</dt><dd></dd></div>" for label in b.labels)
        return f'<dl class="blank">{rows}</dl>'

    def _drawing(self, d: Drawing) -> str:
        if d.name in DRAWN_ANYWAY:
            return ""
        picture = d.draw()
        name = re.sub(r"[^A-Za-z0-9-]+", "-", d.name)
        caption = f"<figcaption>{self.line(d.caption)}</figcaption>"
        return f'<figure id="fig-{name}">{inline_svg(picture.svg, picture.alt, f"fig-{name}-")}{caption}</figure>'

    # ---------------------------------------------------------------- tables
    def _scroll(self, body: str, name: str, cls: str = "scroll", role: str = "region") -> str:
        """A box of its own that scrolls sideways, by keyboard too."""
        return f'<div class={cls} role={role} tabindex=0 aria-label="{escape(name)}">{body}</div>'

    def _table(self, t: Table) -> str:
        sides = ["" if a == "l" else " class=r" for a in t.align]
        head = "".join(f'<th scope="col"{side}>{words(h)}</th>' for h, side in zip(t.head, sides, strict=True))
        rows = []
        for row in t.rows:
            cells = (f"<td{side}>{self.line(cell)}</td>" for cell, side in zip(row, sides, strict=True))
            rows.append(f"<tr>{''.join(cells)}</tr>")
        wide = " class=many" if len(t.align) >= MANY else " class=wide" if len(t.align) >= WIDE else ""
        body = f"<table{wide}><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"
        return self._scroll(body, printable(f"Table: {', '.join(h for h in t.head if h)} ({self.section})"))

    # ---------------------------------------------------------------- bars
    def _bars(self, bars: Bars) -> str:
        head = f'<h3><span class="count">{bars.number}</span> {words(bars.title)}</h3>'
        if not bars.rows:
            return f'<div class="bars">{head}<p class="quiet">nothing to compare here</p></div>'
        return f'<div class="bars">{head}<ul class="checks">{"".join(self._bar(row) for row in bars.rows)}</ul></div>'

    def _bar(self, row: Bar) -> str:
        check, ending = row.check, ending_text(row.check.ending)
        information = check.standing is Standing.INFORMATION
        classes = ["check", CLASS[ending], *(["governs"] if row.governs else []), *(["information"] if information else [])]
        said = " (information)" if information and "information" not in row.title else ""
        mark = '<strong class="mark">► GOVERNS </strong>' if row.governs else '<span class="mark">i </span>' if information else ""
        eta = utilisation_text(check)
        note = row.note
        return (
            f'<li class="{" ".join(classes)}"><div class=name>{mark}{words(row.title + said)}</div>'
            f"<div class=eta>{eta}</div><div class=ending>{ending}</div>{drawn_bar(check)}"
            f"<div class=note><code>{words(check.id)}</code>{' · ' if note else ''}{words(note)}</div></li>"
        )

    # ---------------------------------------------------------------- the calculation
    def _equals(self, name: str, typesets: Sequence[Typeset], label: str) -> str:
        """Lines of ``name = ...`` with the equals signs under one another; the box scrolls where a line is too long."""
        rows = [f"<div>{variable(name)}</div>"]
        for line in typesets:
            if isinstance(line.box, Number):
                body = f"<i>=</i><span class=n>{escape(line.words)}</span>"
            else:
                body = self._chunks(line.box, EQUALS, f"= {line.words}")
            rows.append(f"<div>{body}</div>")
        if all(ems(line.box) < NARROW for line in typesets):
            return f"<div class=eq>{''.join(rows)}</div>"
        return self._scroll("".join(rows), f"Equation {shown_label(label)}", "eq", "group")

    def _head(self, label: str, title: str, source: str) -> str:
        return f"<div class=title><b>{shown_label(label)}</b> {words(title)}</div><div class=source>{words(source)}</div>"

    def _with(self, inputs: dict[str, Given]) -> str:
        found = (f"{variable(n)}{NBSP}from{NBSP}{self._ref(g.ref)}" for n, g in inputs.items())
        return "with " + ", ".join(found) if inputs else ""

    def _step(self, step: StepBlock) -> str:
        equation = step.equation
        title, source = equation.title, f"{equation.source} · {equation.provenance}"
        parts = [self._head(step.label, title or equation.source, source if title else equation.provenance)]
        parts.append(self._equals(equation.result.name, steps.lines(step, self.style), step.label))
        found = "; ".join(p for p in (self._with(dict(step.inputs)), words(steps.bound_words(step))) if p)
        notes = [found] if found else []
        if held := steps.held(step):
            notes.append(f"in its range: {words(held)}")
        body = paragraphs(notes)
        body += "".join(
            f'<p class="loud"><strong class="mark">!!</strong> outside its range: {words(text)} does not hold</p>'
            for text in steps.broken(step)
        )
        return f"<div class=step id={anchor(step.label)}>{''.join(parts)}<div class=notes>{body}</div></div>"

    def _numerical(self, n: NumericalBlock) -> str:
        if n.read_off:
            told = f"{variable(n.symbol or 'x')} = {self._token(n.result)}, {words(n.title)}, {words(n.method)}"
            return f"<p class=read id={anchor(n.label)}><b>{shown_label(n.label)}</b> {told}</p>"
        line = steps.result(n.result, self.style)
        head = self._head(n.label, n.title, n.source)
        equals = self._equals(n.symbol or "x", (line,), n.label)
        notes = [f"at {words(n.where)}"] if n.where else []
        if made_of := self._made_of(n):
            notes.append(made_of)
        if how := steps.method_words(n):
            notes.append(words(how))
        if n.hand is not None:
            notes.append(f"beside it by hand: {self._token(n.hand.token)} from {self._ref(n.hand.ref)}")
        body = paragraphs(notes)
        return f"<div class=step id={anchor(n.label)}>{head}{equals}<div class=notes>{body}</div></div>"

    def _made_of(self, n: NumericalBlock) -> str:
        rest = f"{steps.like_words(n)} {self._ref(n.like)}" if n.like else ""
        return ", ".join(p for p in (self._with(dict(n.inputs or {})), rest) if p)

    def _item(self, item: ItemBlock) -> str:
        name = f"{variable(item.symbol)} = " if item.symbol else ""
        detail = f"<div class=detail>{words(item.detail)}</div>" if item.detail else ""
        return (
            f"<li id={anchor(item.label)}><b>{shown_label(item.label)}</b>"
            f"<div class=value>{name}{self._token(item.token)}</div>"
            f"<div class=place>{words(item.place)}{detail}</div></li>"
        )


EQUALS = "<mo>=</mo>"


def paragraphs(notes: Sequence[str]) -> str:
    """Notes one below the other; a lone one is a line by itself."""
    return notes[0] if len(notes) == 1 else "".join(f"<p>{note}</p>" for note in notes)


def length(eta: float) -> float:
    """How long the bar of a utilisation is, percent of the room it has."""
    return min(max(eta, 0.0), 1.0) * STROKE + scale.beyond(eta) * (100.0 - STROKE)


def drawn_bar(check: Check) -> str:
    """A utilisation drawn, for the eye only: the words beside it say the same."""
    if check.ending is Ending.NOT_CHECKED:
        return '<div class="bar" aria-hidden="true"><b></b><i>? ? ?</i></div>'
    eta = check.eta
    if eta is None:  # no length: broken through
        return '<div class="bar broken" aria-hidden="true"><span></span><span></span></div>'
    share = length(eta)
    arrow = "<i>▶</i>" if scale.points_on(eta) else ""
    return f'<div class="bar" aria-hidden="true"><span style="width:{share:.1f}%"></span><b></b>{arrow}</div>'


def paints() -> str:
    """The paints of pictures as rules of a style sheet, before the colours of the page go over them."""
    rules = []
    for name, paint in PAINT.items():
        each = re.findall(r'([a-z-]+)="([^"]*)"', paint)
        rules.append(f"svg .{name} {{ {'; '.join(f'{key}: {value}' for key, value in each)} }}")
    return "\n".join(rules) + "\n"


def inline_svg(svg: str, alt: str, prefix: str) -> str:
    """A picture as part of the page: named by its words, its ids its own."""
    body = svg[svg.index("<svg") :]
    body = re.sub(r' data-(?:what|units-per-mm)="[^"]*"', "", body)  # which shape is what: for whoever reads the picture alone
    for name, paint in PAINT.items():  # the page has the paints once, in its style
        body = re.sub(rf'(class="{name}"[^>]*?) {re.escape(paint)}', r"\1", body)
    body = re.sub(r'\bid="([^"]+)"', lambda m: f'id="{prefix}{m[1]}"', body)
    body = re.sub(r"url\(#([^)]+)\)", lambda m: f"url(#{prefix}{m[1]})", body)
    body = re.sub(r'href="#([^"]+)"', lambda m: f'href="#{prefix}{m[1]}"', body)
    body = re.sub(r'="([\w.-]+)"(?= )', r"=\1", body)  # numbers and single words need no quotes in HTML
    head, rest = body.split(">", 1)
    head = re.sub(r'\s(?:role|aria-label|aria-labelledby)="[^"]*"', "", head)
    closing = "/" if head.endswith("/") else ""
    return f'{head.rstrip("/")} role="img" aria-label="{words(alt)}"{closing}>{rest}'
