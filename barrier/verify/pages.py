"""The pieces of a page in order, and what differs between two pages, named by the item it stands in."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from html.parser import HTMLParser

from barrier.verify.verdict import Difference

# What a reader would call the place by: [12], J3, T1, N2, or the id of a check.
_ITEM = re.compile(r"^\s*(?:[▸►i]\s+|GOVERNS\. )*(\[\d+\]|[JTN]\d+(?=\s|$)|[a-z_]+(?:\.\w+)+)")
ROWS = ("li", "tr")  # of a page: their first item names them, wherever in them it stands
_BAR = re.compile(r"│.*(?:within|EXCEEDS|NOT CHECKED)$")
MOST_WORDS = 30  # of a piece in a difference
MOST_PIECES = 5_000  # that are aligned with one another


@dataclass(frozen=True, slots=True)
class Piece:
    """A line or a node of text, or a tag with its attributes; where it stands in words."""

    text: str
    where: str
    markup: bool = False


def pieces_of_text(text: str) -> list[Piece]:
    """The lines of a text sheet; a bar belongs to the check named below it."""
    found: list[Piece] = []
    where = "top of the sheet"
    bars: list[int] = []
    for line in text.splitlines():
        words = " ".join(line.split())
        item = _ITEM.match(line)
        if item:
            where = item[1]
            for i in bars:
                found[i] = Piece(found[i].text, where)
            bars = []
        elif _BAR.search(line):
            bars = [len(found)]
        elif words and words == words.upper() and any(c.isalpha() for c in words) and not line.startswith((" ", "┃")):
            where = words.capitalize()
        if words:
            found.append(Piece(words, where))
    return found


def pieces_of_html(text: str) -> list[Piece]:
    """The nodes of a page: visible words, and tags with their attributes, styles and scripts as markup."""
    parser = _Nodes()
    parser.feed(text)
    parser.close()
    return parser.found


class _Nodes(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[Piece] = []
        self._where = "top of the page"
        self._raw = ""
        self._row: int | None = None  # where the row began whose name may come last in it

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        shown = " ".join([tag, *(f'{k}="{v}"' if v is not None else k for k, v in attrs)])
        said = [v for k, v in attrs if k in ("alt", "title", "aria-label", "alttext") and v]
        if tag in ROWS:
            self._row = len(self.found)
        self.found.append(Piece(shown, f"markup in {self._where}", True))
        self.found.extend(Piece(" ".join(v.split()), self._where) for v in said)
        if tag in ("script", "style"):
            self._raw = tag

    def handle_endtag(self, tag: str) -> None:
        if tag == self._raw:
            self._raw = ""
        if tag in ROWS:
            self._row = None
        self.found.append(Piece(f"/{tag}", f"markup in {self._where}", True))

    def handle_comment(self, data: str) -> None:
        self.found.append(Piece(f"comment {' '.join(data.split())}", f"markup in {self._where}", True))

    def handle_data(self, data: str) -> None:
        words = " ".join(data.split())
        if not words:
            return
        if self._raw:
            self.found.append(Piece(words, f"markup in a {self._raw}", True))
            return
        item = _ITEM.match(words)
        if item:
            self._named(item[1])
        self.found.append(Piece(words, self._where))

    def _named(self, where: str) -> None:
        """What follows, and what stood before in the same row, belongs to this item."""
        self._where = where
        if self._row is not None:
            for i in range(self._row, len(self.found)):
                piece = self.found[i]
                self.found[i] = Piece(piece.text, f"markup in {where}" if piece.markup else where, piece.markup)
            self._row = None


def paired(printed: Sequence[Piece], recomputed: Sequence[Piece]) -> Iterator[Difference]:
    """What differs, piece by piece and within a piece word by word."""
    for i, j, k, m in _unequal([p.text for p in printed], [p.text for p in recomputed]):
        left, right = printed[i:j], recomputed[k:m]
        if len(left) == len(right):
            for p, q in zip(left, right, strict=True):
                yield from _within(p, q)
            continue
        where = (right or left)[0].where
        yield Difference(where, _cut(" ".join(p.text for p in left)), _cut(" ".join(p.text for p in right)))


def _within(p: Piece, q: Piece) -> Iterator[Difference]:
    left, right = p.text.split(" "), q.text.split(" ")
    for i, j, k, m in _unequal(left, right):
        yield Difference(q.where, _cut(" ".join(left[i:j])), _cut(" ".join(right[k:m])))


def _unequal(a: Sequence[str], b: Sequence[str]) -> Iterator[tuple[int, int, int, int]]:
    """Where two sequences differ: from i to j in one, from k to m in the other.

    Sequences as long as one another are compared place by place, which is what a changed number leaves; others are
    aligned, after what is equal at both ends was taken off. What is too long to align is one difference.
    """
    if len(a) == len(b):
        yield from ((i, i + 1, i, i + 1) for i, (x, y) in enumerate(zip(a, b, strict=True)) if x != y)
        return
    short = min(len(a), len(b))
    start = next((i for i in range(short) if a[i] != b[i]), short)
    end = next((i for i in range(short - start) if a[-1 - i] != b[-1 - i]), short - start)
    left, right = a[start : len(a) - end], b[start : len(b) - end]
    if max(len(left), len(right)) > MOST_PIECES:
        yield start, len(a) - end, start, len(b) - end
        return
    for tag, i, j, k, m in SequenceMatcher(None, left, right).get_opcodes():
        if tag != "equal":
            yield start + i, start + j, start + k, start + m


def _cut(text: str) -> str:
    text = "".join(c if c.isprintable() else " " for c in text)
    words = text.split(" ")
    text = text if len(words) <= MOST_WORDS else " ".join(words[:MOST_WORDS]) + " ..."
    return text if len(text) <= 300 else text[:297] + "..."
