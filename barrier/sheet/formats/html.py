"""The sheet as one HTML file: no network, no script, its font and its style inside; for a phone, a desk and a printer."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator, Sequence
from functools import cache
from html import escape
from importlib.resources import files

from barrier.sheet.blocks import Block, Content, Heading, ItemBlock, NumericalBlock, StepBlock
from barrier.sheet.formats.html_blocks import Blocks, paints, words
from barrier.sheet.plain_words import printable

# Nothing may be fetched and nothing may run, whatever stands in the job.
POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'"
KICKER = "Glass barrier, calculation sheet"


def rendered(content: Content, title: str, source: str = "") -> str:
    """The whole content as one page.

    Arguments: ``content``; ``title`` of the page, text of any origin; ``source``, what the sheet can be recomputed from, as
    JSON without ``<`` (it stands in the page as data and is never run). Returns the page with a line end at its end.
    """
    body = "\n".join(_body(content, title))
    data = f'<script type="application/json" id="barrier-source">{source}</script>\n' if source else ""
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n<meta name="color-scheme" content="light dark">\n'
        f"<title>{words(title)}</title>\n<style>\n{_style()}</style>\n</head>\n<body>\n{body}\n{data}</body>\n</html>\n"
    )


def in_a_frame(content: Content, title: str, until: str = "") -> str:
    """A page, or its part before the heading ``until``, as an element of another page, a notebook say.

    A frame keeps the style of either from the other.
    """
    blocks = list(content.blocks)
    end = next((i for i, b in enumerate(blocks) if isinstance(b, Heading) and b.line == (until,)), len(blocks))
    page = rendered(Content(tuple(blocks[:end]), content.style), title)
    return f'<iframe title="{words(title)}" style="width:100%;height:44rem;border:1px solid" srcdoc="{escape(page)}"></iframe>'


@cache
def _style() -> str:
    room = files("barrier.sheet.formats")
    font = base64.b64encode((room / "fonts" / "sheet_math.woff2").read_bytes()).decode("ascii")
    style = (room / "page.css").read_text(encoding="utf-8").replace("/* PAINTS */\n", paints())
    lines = "\n".join(line.strip() for line in style.splitlines() if line.strip())
    return lines.replace("FONT_DATA", font) + "\n"


def _body(content: Content, title: str) -> Iterator[str]:
    labels = frozenset(b.label for b in content.blocks if isinstance(b, StepBlock | NumericalBlock | ItemBlock))
    blocks = Blocks(content.style, labels)
    names = _Names()
    own = content.blocks[1:] if content.blocks[:1] == (Heading(1, (title,)),) else content.blocks  # the page says its title itself
    parts = [_part(run, blocks, names) for run in _runs(own)]
    links = "".join(f'<li><a href="#{name}">{text}</a></li>' for name, text in names.parts)
    yield '<a class="skip" href="#sheet">Skip to the sheet</a>'
    yield f'<header><p class="kicker">{KICKER}</p><h1>{words(title)}</h1></header>'
    yield '<main id="sheet">'
    yield parts[0]
    yield f'<nav aria-label="Parts of this sheet"><details><summary>Parts of this sheet</summary><ul>{links}</ul></details></nav>'
    yield from parts[1:]
    yield "</main>"


def _runs(blocks: Sequence[Block]) -> list[list[Block]]:
    """Blocks in parts, each but the first opened by a heading of the first level."""
    runs: list[list[Block]] = [[]]
    for block in blocks:
        if isinstance(block, Heading) and block.level == 1:
            runs.append([])
        runs[-1].append(block)
    return runs


class _Names:
    """Identifiers of headings, each once, and the parts for the list of contents."""

    def __init__(self) -> None:
        self.taken: dict[str, int] = {}
        self.parts: list[tuple[str, str]] = []

    def of(self, text: str) -> str:
        slug = "s-" + (re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:48] or "part")
        self.taken[slug] = self.taken.get(slug, 0) + 1
        return slug if self.taken[slug] == 1 else f"{slug}--{self.taken[slug]}"


def _part(run: Sequence[Block], blocks: Blocks, names: _Names) -> str:
    out: list[str] = []
    depth, listed, name = (1 if not run or not isinstance(run[0], Heading) else 2), False, ""
    for block in run:
        if listed and not isinstance(block, ItemBlock):
            out.append("</ul>")
            listed = False
        if isinstance(block, Heading):
            depth = min(block.level + 1, depth + 1)
            text = blocks.line(block.line)
            plain = printable("".join(p for p in block.line if isinstance(p, str)))
            blocks.section = plain
            if block.level == 1:
                name = names.of(plain)
                names.parts.append((name, words(plain)))
                out.append(f'<h{depth} id="{name}">{text}</h{depth}>')
            else:
                out.append(f"<h{depth}>{text}</h{depth}>")
            continue
        if isinstance(block, ItemBlock) and not listed:
            out.append('<ul class="items">')
            listed = True
        out.append(blocks.block(block))
    if listed:
        out.append("</ul>")
    body = "\n".join(out)
    return f'<section aria-labelledby="{name}">\n{body}\n</section>' if name else body
