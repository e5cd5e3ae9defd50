"""The sheet as PDF, A4, tagged for reading aloud: one fixed template, and the content as data.

No word of the job is ever markup: the template reads a JSON document, and evaluates nothing but the mathematics that
:mod:`barrier.sheet.typeset.typst` writes. Fonts come with the library, the time is nought: the same content gives the same
bytes with the same release of it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence

import barrier
from barrier.load_path import Result
from barrier.result import Ending, Standing
from barrier.sheet import scale
from barrier.sheet.blocks import (
    ROOM,
    TICK,
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
from barrier.sheet.content import caution, last_page
from barrier.sheet.drawings.svg import in_black
from barrier.sheet.formats.pdf_template import Data, compiled
from barrier.sheet.numbers import ending_text, unit_text, utilisation_text
from barrier.sheet.plain_words import printable
from barrier.sheet.typeset import steps
from barrier.sheet.typeset.one_line import condition, number_piece, numeric, shown_name, symbolic
from barrier.sheet.typeset.typst import name_math, number_math, quoted
from barrier.sheet.typeset.typst import numeric as numeric_math
from barrier.sheet.typeset.typst import symbolic as symbolic_math

BEYOND = 0.42  # of the bar: the room from 1.00 to 10
_VIEW_BOX = re.compile(r'viewBox="\s*[-\d.]+[ ,]+[-\d.]+[ ,]+([\d.]+)[ ,]+([\d.]+)\s*"')


def rendered(
    content: Content,
    title: str,
    *,
    footer: str = "",
    keywords: Sequence[str] = (),
    attached: tuple[str, bytes] | None = None,
) -> bytes:
    """The whole content as PDF.

    Arguments: ``content`` of a sheet or a page of a study; ``title`` of the document; ``footer`` one line at the foot of
    every page (fingerprints); ``keywords`` of the document, which a program finds without reading the page; ``attached``
    name and bytes of a file that travels in the PDF. Returns the bytes, the same from run to run. A letter the fonts do
    not have is written by its Unicode number. Raises CalculationError when the template refuses the document, which is
    a fault of ours.
    """
    writer = _Pdf(content.style, title, bool(content.site))
    document = {
        "title": printable(title),
        "footer": printable(footer),
        "caution": caution.ONE_LINE,
        "keywords": [printable(k) for k in keywords],
        "attached": printable(attached[0]) if attached else "",
        "blocks": writer.blocks(content.blocks),
        "missing": "",
        "compact": content.compact,
        "site": content.site,
        "tick": TICK,
        "room": ROOM,
    }
    return compiled(document, attached[1] if attached else b"")


def rendered_for(result: Result, content: Content, title: str, kind: str = "check") -> bytes:
    """A page about a result as PDF: its fingerprints at the foot and in the keywords, its job file attached."""
    job, tables = result.job.fingerprint(), result.tables.fingerprint()
    foot = f"barrier {barrier.__version__} · job file {job}, attached to this PDF as job.toml · tables {tables}"
    keywords = (f"barrier {barrier.__version__}", f"page {kind}", f"job {job}", f"tables {tables}")
    return rendered(content, title, footer=foot, keywords=keywords, attached=("job.toml", result.job.text))


class _Pdf:
    """Blocks as data for the template."""

    def __init__(self, style: str, title: str, site: bool = False) -> None:
        self.style = style
        self.title = title
        self.site = site
        self._level = 0
        self._labels: frozenset[str] = frozenset()
        self._writers: dict[type, Callable[..., Data]] = {
            Heading: self._heading, Paragraph: self._paragraph, Caution: self._caution, Definitions: self._definitions,
            Bullets: self._bullets, Table: self._table, Bars: self._bars, StepBlock: self._step,
            NumericalBlock: self._numerical, ItemBlock: self._item, Blank: self._blank, Drawing: self._drawing,
        }  # fmt: skip

    def blocks(self, blocks: Sequence[Block]) -> list[Data]:
        """All blocks; items or pictures that follow one another are one list, a heading that repeats the title is left out."""
        self._labels = frozenset(b.label for b in blocks if isinstance(b, (StepBlock, NumericalBlock, ItemBlock)))
        drawn = any(isinstance(b, Bars) for b in blocks)
        written: list[Data] = []
        for before, block, after in zip((None, *blocks), blocks, (*blocks[1:], None), strict=False):
            if isinstance(block, Heading) and block.line == (self.title,):
                continue
            if isinstance(block, Drawing) and block.name == "bars" and drawn:
                continue  # the links stand here as drawn bars already
            one = self._writers[type(block)](block)
            # The line below a heading that leads to something stays with it, or both would be stranded at a page's foot.
            one["keep"] = isinstance(block, Paragraph) and (isinstance(after, Table) or isinstance(before, Heading))
            if _goes_on(one, written):
                written[-1]["rows"] += one["rows"]
            else:
                written.append(one)
        return written

    # ---------------------------------------------------------------- inline
    def line(self, line: Line) -> list[Data]:
        """The parts of a line: words, mathematics with its words beside it, references."""
        return [self._inline(part) for part in line]

    def _inline(self, part: Inline) -> Data:
        match part:
            case Token():
                return _words(self._text(part))
            case Sym(name):
                return _symbol(name)
            case Ref(label):
                shown = label if label[:1].isalpha() else f"[{label}]"
                return {"s": shown, "to": f"i-{label}"} if label in self._labels else _words(shown)
            case Formula(equation):
                name = equation.result.name
                math = f"{name_math(name)} = {symbolic_math(equation.tree, flat=True)}"
                return _math(math, f"{shown_name(name)} = {symbolic(equation.tree)}")
            case str():
                return _words(part)

    def _text(self, token: Token) -> str:
        return token.figure(self.style).text

    # ---------------------------------------------------------------- words
    def _heading(self, h: Heading) -> Data:
        # Tagged levels may not skip one; the look follows the sheet's own level.
        self._level = min(h.level, self._level + 1)
        # What is taken along begins on a page of its own, and on site paper every part does.
        fresh = h.line == (last_page.TITLE,) or (self.site and h.level == 1)
        return {"kind": "heading", "level": self._level, "look": h.level, "body": self.line(h.line), "fresh": fresh}

    def _paragraph(self, p: Paragraph) -> Data:
        return {"kind": "paragraph", "body": self.line(p.line)}

    def _caution(self, c: Caution) -> Data:
        return {"kind": "caution", "title": printable(c.title), "paragraphs": [printable(p) for p in c.paragraphs]}

    def _definitions(self, d: Definitions) -> Data:
        rows = [{"word": printable(w), "body": _with_pages(self.line(line))} for w, line in d.rows]
        return {"kind": "definitions", "rows": rows}

    def _bullets(self, b: Bullets) -> Data:
        loud = b.loud or (False,) * len(b.items)
        return {
            "kind": "bullets",
            "items": [{"loud": is_loud, "body": self.line(i)} for i, is_loud in zip(b.items, loud, strict=True)],
        }

    def _blank(self, b: Blank) -> Data:
        return {"kind": "blank", "labels": [printable(label) for label in b.labels]}

    def _drawing(self, d: Drawing) -> Data:
        picture = d.draw()
        svg = in_black(picture.svg) if self.site else picture.svg
        box = _VIEW_BOX.search(svg)
        wide, high = (float(box[1]), float(box[2])) if box else (4.0, 3.0)
        row = {
            "svg": svg, "alt": printable(picture.alt), "caption": self.line(d.caption), "tall": high / max(wide, 1.0),
            "wide": picture.wide, "units": wide,
        }  # fmt: skip
        return {"kind": "drawings", "rows": [row]}

    # ---------------------------------------------------------------- tables and bars
    def _table(self, t: Table) -> Data:
        rows = [[_with_pages(cell) if i == 0 else cell for i, cell in enumerate(map(self.line, row))] for row in t.rows]
        return {"kind": "table", "head": [printable(h) for h in t.head], "rows": rows, "align": list(t.align), "whole": t.whole,
                "large": t.large, "heavy": list(t.heavy)}  # fmt: skip

    def _bars(self, bars: Bars) -> Data:
        return {
            "kind": "bars",
            "number": bars.number,
            "title": printable(bars.title),
            "rows": [self._bar(row) for row in bars.rows],
        }

    def _bar(self, bar: Bar) -> Data:
        check = bar.check
        eta = check.eta
        information = check.standing is Standing.INFORMATION
        title = printable(bar.title) + (" (information)" if information and "information" not in bar.title else "")
        state = "unknown" if check.ending is Ending.NOT_CHECKED else "none" if eta is None else str(check.ending)
        filled = 0.0 if eta is None else max(eta, 0.0)
        return {
            "title": title,
            "information": information,
            "governs": bar.governs,
            "state": state,
            "filled": min(filled, 1.0),
            "beyond": scale.beyond(filled) * BEYOND,
            "on": scale.points_on(filled),
            "eta": utilisation_text(check),
            "ending": ending_text(check.ending),
            "note": printable("; ".join(w for w in (check.id, bar.note) if w)),
        }

    # ---------------------------------------------------------------- the calculation
    def _item(self, item: ItemBlock) -> Data:
        row = {
            "label": item.label,
            "symbol": [_symbol(item.symbol)] if item.symbol else [],
            "value": self._text(item.token),
            "place": printable(item.place),
            "detail": printable(item.detail),
        }
        return {"kind": "items", "rows": [row]}

    def _step(self, step: StepBlock) -> Data:
        tree, name = step.equation.tree, step.equation.result.name
        bare = bool(step.bound)
        figures = {n: g.token.figure(self.style) for n, g in step.inputs.items()}
        units = {n: "" if bare else unit_text(f.unit) for n, f in figures.items()}
        maths = {n: number_math(f.number, units[n]) for n, f in figures.items()}
        pieces = {n: number_piece(f.number, units[n]) for n, f in figures.items()}
        result, shown = self._text(step.result), self._text(step.shown_result)
        lines = [
            _both(symbolic_math(tree), symbolic_math(tree, flat=True), symbolic(tree)),
            _both(numeric_math(tree, maths), numeric_math(tree, maths, flat=True), numeric(tree, pieces)),
            *(_result(text) for text in dict.fromkeys((result, shown))),
        ]
        held = [condition(c) for c in step.equation.valid if c not in step.outside]
        return {
            "kind": "step",
            "label": step.label,
            "title": printable(step.equation.title),
            "source": printable(f"{step.equation.source} · {step.equation.provenance}"),
            **self._equal(name, lines),
            "with": self._with(step.inputs, self._bound(step.bound)),
            "range": f"in its range: {', '.join(held)}" if held else "",
            "outside": [f"outside its range: {condition(text)} does not hold" for text in step.outside],
            "notes": [],
        }

    def _equal(self, name: str, lines: list[Data]) -> Data:
        """One formula of several lines, its equals signs under one another; and its lines one by one."""
        left = name_math(name)
        whole = " \\ ".join(f"{left if i == 0 else ''} &{line['m']}" for i, line in enumerate(lines))
        one = " ".join([left, *(line["m"] for line in lines)])
        alt = " ".join([shown_name(name), *(line["a"] for line in lines)])
        return {"left": _math(left, shown_name(name)), "one": _math(one, alt), "whole": _math(whole, alt), "lines": lines}

    def _with(self, inputs: Mapping[str, Given], bound: str = "") -> list[Data]:
        parts: list[Data] = []
        for i, (name, given) in enumerate(inputs.items()):
            parts += [
                _words("with " if i == 0 else ", "),
                _symbol(name),
                _words(" from "),
                self._inline(Ref(given.ref)),
            ]
        return [*parts, _words(bound)] if bound else parts

    def _rest_as(self, n: NumericalBlock) -> list[Data]:
        if not n.like:
            return []
        return [_words(f"{', ' if n.inputs else ''}{steps.like_words(n)} "), self._inline(Ref(n.like))]

    def _bound(self, bound: Sequence[str]) -> str:
        units = [unit_text(u) for u in bound]
        return f"; numbers in {', '.join(units)}" if units else ""

    def _numerical(self, n: NumericalBlock) -> Data:
        if n.read_off:
            row = {
                "label": n.label, "symbol": [_symbol(n.symbol)] if n.symbol else [], "value": self._text(n.result),
                "place": printable(n.title), "detail": printable(n.method),
            }  # fmt: skip
            return {"kind": "items", "rows": [row]}
        result = self._text(n.result)
        notes: list[list[Data]] = list(self._notes(n))
        return {
            "kind": "step",
            "label": n.label,
            "title": printable(n.title),
            "source": printable(n.source),
            **self._equal(n.symbol or "x", [_result(result)]),
            "with": [*self._with(n.inputs or {}), *self._rest_as(n)],
            "range": "",
            "outside": [],
            "notes": notes,
        }

    def _notes(self, n: NumericalBlock) -> Iterator[list[Data]]:
        if n.where:
            yield [_words(f"at {n.where}")]
        if how := steps.method_words(n):
            yield [_words(how)]
        if n.hand is not None:
            yield [_words(f"beside it by hand: {self._text(n.hand.token)} from "), self._inline(Ref(n.hand.ref))]


def _goes_on(one: Data, written: Sequence[Data]) -> bool:
    """Whether a block is one list with what stands before it; a plan to scale stands alone."""
    if not written or written[-1]["kind"] != one["kind"]:
        return False
    to_scale = one["kind"] == "drawings" and (one["rows"][0]["wide"] or written[-1]["rows"][0]["wide"])
    return one["kind"] in ("items", "drawings") and not to_scale


def _with_pages(parts: list[Data]) -> list[Data]:
    """A line whose references say on which page they stand: a printed sheet has nothing to press on."""
    return [{**part, "page": True} if "to" in part else part for part in parts]


def _words(text: str) -> Data:
    return {"s": unicodedata.normalize("NFC", printable(text))}


def _symbol(name: str) -> Data:
    """A lone symbol in running words: set as text, which is lighter than mathematics and reads aloud by itself."""
    base, _, sub = printable(shown_name(name)).partition("_")
    return {"v": base, "sub": sub}


def _math(math: str, alt: str) -> Data:
    return {"m": math, "a": alt}


def _result(text: str) -> Data:
    return _both(f"result({quoted(text)})", f"result({quoted(text)})", text)


def _both(math: str, flat: str, alt: str) -> Data:
    """One line behind the name: equals sign and what is equal, with fraction bars and on one line."""
    return {"m": f"= {math}", "f": f"= {flat}", "a": f"= {alt}"}
