"""Words in a column of fixed-width text: what may be printed, how wide it is, where a line may break."""

from __future__ import annotations

import re
import unicodedata

from barrier.sheet.numbers import NBSP

_HARMFUL = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}  # controls, direction overrides, halves and holes of Unicode

# Anything beyond what the sheet itself is written with: Latin, Greek, general punctuation, mathematics, lines and blocks.
_ODD = re.compile("[^\u0020-\u02ff\u0370-\u03ff\u2010-\u202f\u2070-\u209f\u2200-\u22ff\u2500-\u25fc]")


def printable(text: str) -> str:
    """A text of the reader, literally but for what would steer a terminal or hide words; white space becomes a space.

    >>> printable("deck\\x1b[2J \\u202e east\\tside")
    'deck[2J  east side'
    """
    if text.replace(NBSP, "").isprintable():  # nearly every one: no category of these is printable
        return text
    spaced = "".join(" " if c in "\t\n\r\v\f" else c for c in text)
    return "".join(c for c in spaced if unicodedata.category(c) not in _HARMFUL)


def width(text: str) -> int:
    """Columns a text takes in a terminal: combining marks none, East Asian wide letters two.

    >>> width("γ_M"), width("e\\u0301"), width("\\u6d77")
    (3, 1, 2)
    """
    if text.isascii() or not _ODD.search(text):
        return len(text)
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def padded(text: str, columns: int, right: bool = False) -> str:
    """A text filled with spaces to so many columns."""
    space = " " * max(columns - width(text), 0)
    return space + text if right else text + space


def wrapped(text: str, columns: int, hanging: int = 0) -> list[str]:
    """Lines of at most ``columns``, broken at plain spaces; words that are longer are cut; later lines hang in.

    >>> wrapped("one two three", 8, 1)
    ['one two', ' three']
    >>> wrapped("abcdefghij", 4)
    ['abcd', 'efgh', 'ij']
    """
    if width(text) <= columns and "  " not in text and text == text.strip(" "):
        return [text]  # nearly every one: it is one line as it is
    lines: list[str] = []
    line, used = "", 0  # with what it hangs in
    for word in (w for w in text.split(" ") if w):
        wide = width(word)
        if line and used + 1 + wide <= columns:
            line += " " + word
            used += 1 + wide
            continue
        if line:
            lines.append(line)
        hangs = hanging if lines else 0
        while wide > max(columns - hangs, 1):
            cut = _longest(word, max(columns - hangs, 1))
            lines.append(" " * hangs + word[:cut])
            word = word[cut:]
            wide, hangs = width(word), hanging
        line, used = (" " * hangs + word, hangs + wide) if word else ("", 0)
    if line or not lines:
        lines.append(line)
    return lines


def _longest(word: str, room: int) -> int:
    taken = 0
    for i, c in enumerate(word):
        taken += width(c)
        if taken > room:
            return max(i, 1)
    return len(word)


def finished(lines: list[str]) -> str:
    """The lines as one text: no-break spaces become plain ones, nothing stands at the end of a line."""
    return "\n".join(line.replace(NBSP, " ").rstrip() for line in lines) + "\n"
