"""Metric quantities in running words, in the units of the sheet: cautions, findings, notes of tables.

The words of the project are written in metric units; a sheet in inches and pounds shows none of them. Words of the
reader (entries of the job, rows of his own tables) are never changed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from barrier.sheet.blocks import Block, Bullets, Definitions, Drawing, Heading, Line, Paragraph, Table
from barrier.sheet.numbers import figure
from barrier.units import KINDS, UNITS

COMMAND = "--set "  # stands in words that are typed as they are
ROUND = 3  # significant digits of what was said in round figures
_SHOWN = {
    "N/mm3": "bed stiffness",
    "kN/m3": "unit weight",
    "MPa": "stress",
    "N/mm2": "stress",
    "kg": "mass",
    "kN/m2": "pressure",
    "km": "distance",
}
_METRIC = tuple(
    u
    for u in UNITS
    if u
    and not any(other in u for other in ("in", "ft", "lb", "ps", "rad", "deg", "%", "mi", "mph"))
    and UNITS[u].dimension not in ("T", "angle")
)
_UNIT = "|".join(re.escape(u) for u in sorted(_METRIC, key=len, reverse=True))
_NUMBER = r"(?:\d{1,3}(?:,\d{3})+|\d+(?:\.\d+)?)"
_FOUND = re.compile(rf"(?<![\w.,])({_NUMBER}(?: (?:to|x|and|±) {_NUMBER})*) ({_UNIT})(?![\w/²³])")


def in_words(text: str, style: str) -> str:
    """A text with every metric quantity in it shown in the units of the sheet.

    Arguments: ``text`` of the project itself; ``style`` "metric" or "us". Returns the text; a metric sheet leaves it alone.

    >>> plain = lambda t: in_words(t, "us").replace("\\N{NO-BREAK SPACE}", " ")
    >>> plain("a 12 mm panel of 1200 x 1100 mm weighs about 40 kg")
    'a 0.472 in panel of 47.2 x 43.3 in weighs about 88.2 lb'
    >>> plain("8 to 9 MPa; density stated as 25 kN/m3"), plain("M1 stands in C24")
    ('1160 to 1310 psi; density stated as 159 lbf/ft³', 'M1 stands in C24')
    """
    return _FOUND.sub(_converted, text) if style == "us" else text


def in_units(blocks: Iterable[Block], style: str) -> Iterator[Block]:
    """Blocks whose words are the project's own, every metric quantity in them in the units of the sheet; commands are left alone.

    Arguments: ``blocks`` headings, paragraphs, lists, definitions, tables, drawings (their captions); ``style`` as above.
    """

    def line(said: Line) -> Line:
        return tuple(in_words(part, style) if isinstance(part, str) and COMMAND not in part else part for part in said)

    for block in blocks:
        if isinstance(block, Heading | Paragraph):
            yield replace(block, line=line(block.line))
        elif isinstance(block, Bullets):
            yield replace(block, items=tuple(line(item) for item in block.items))
        elif isinstance(block, Definitions):
            yield replace(block, rows=tuple((in_words(word, style), line(said)) for word, said in block.rows))
        elif isinstance(block, Table):
            head = tuple(in_words(word, style) for word in block.head)
            yield replace(block, head=head, rows=tuple(tuple(line(cell) for cell in row) for row in block.rows))
        elif isinstance(block, Drawing):
            yield replace(block, caption=line(block.caption))
        else:
            yield block


def _converted(found: re.Match[str]) -> str:
    spelling = found[2]
    dimension = UNITS[spelling].dimension
    kind = _SHOWN.get(spelling) or next(k.name for k in KINDS.values() if k.dimension == dimension)
    parts = re.split(r"( (?:to|x|and|±) )", found[1])
    figures = [figure(float(p.replace(",", "")) * UNITS[spelling].factor, kind, "us", ROUND) for p in parts[::2]]
    joined = "".join(f.number + sign for f, sign in zip(figures, [*parts[1::2], ""], strict=True))
    return joined + figures[-1].text.removeprefix(figures[-1].number)
