"""What the tests of the renderers share: a walk over a content that collects what it prints, and hostile words for a job."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache

from conftest import job_named

from barrier.equation import names
from barrier.sheet.blocks import Content, NumericalBlock, StepBlock, Token
from barrier.sheet.numbers import Figure, figure_of
from barrier.study import Study, ladder

WORD = "W" * 90  # a very long word
HOSTILE = (
    "<script>alert(1)</script> & \"q\" 'a' $x_1$ # head * star _under_ | pipe `code` [li](http://a.b) ![p](x) :smile: ~~o~~ "
    f"</style> <!-- --> 😀 שלום 海辺 {WORD}"
)
BESIDE = "- [ ] 1. $$y$$ \\(z\\) {a} %7B &lt; </td> <b> ** __ **bold** www.a.b @me ^up^ =="
LITERAL = ("שלום", "海辺", "😀", WORD)


@cache
def ladder_of(name: str) -> Study:
    """The ladder of a bundled job, walked once."""
    return ladder(job_named(name))


def tokens(made: Content) -> Iterator[Token]:
    """Every token of a content, in the order its blocks name them."""
    for block in made.blocks:
        yield from _tokens(block, made.style)


def _tokens(thing: object, style: str) -> Iterator[Token]:
    if isinstance(thing, Token):
        yield thing
    elif isinstance(thing, tuple | list):
        for part in thing:
            yield from _tokens(part, style)
    elif isinstance(thing, StepBlock):
        for name in names(thing.equation.tree):  # a symbol of a condition alone is named and not printed
            yield thing.inputs[name].token
        yield thing.result
        if shown(thing.shown_result, style) != shown(thing.result, style):  # in the unit of the sheet, where that is another
            yield thing.shown_result
    elif isinstance(thing, NumericalBlock):
        yield thing.result
        if thing.hand is not None:
            yield thing.hand.token
    elif is_dataclass(thing) and type(thing).__module__ == "barrier.sheet.blocks":
        for field in fields(thing):
            yield from _tokens(getattr(thing, field.name), style)


def shown(token: Token, style: str) -> Figure:
    """A token as it is printed."""
    return figure_of(token.value, token.station, style, token.digits, token.unit, token.decimal)


def printed(made: Content) -> list[str]:
    """Every number of a content as it is printed, its unit left out (an equation bound to units prints it bare)."""
    return [shown(t, made.style).number for t in tokens(made)]


def with_hostile_words(text: str) -> str:
    """A job file whose title and references are hostile, as TOML text; its wind is a pressure, for that prints its reference."""
    before, _, rest = text.partition("[[panels]]")
    own = '[wind]\npressure = "0.45 kN/m2"\nreference = ""\n\n[[panels]]'
    lines = (before.partition("[wind]")[0] + own + rest).splitlines()
    for i, line in enumerate(lines):
        key = line.split("=")[0].strip()
        if key == "title":
            lines[i] = f"title = {json.dumps(HOSTILE, ensure_ascii=False)}"
        elif key == "reference":
            lines[i] = f"reference = {json.dumps(BESIDE)}"
    return "\n".join(lines) + "\n"
