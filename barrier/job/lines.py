"""Where in a TOML file each table and key stands, and TOML's own faults in our words.

tomllib keeps no positions. This walks the text once, statement by statement, and is only asked about text that
tomllib has accepted; on anything else it finds fewer places but never fails.
"""

from __future__ import annotations

import re

Place = tuple[str | int, ...]
_PART = re.compile(r"""\s*(?:([A-Za-z0-9_-]+)|"((?:[^"\\]|\\.)*)"|'([^']*)')\s*""")
_SKIP = re.compile(r'"""(?:\\.|(?!""").)*"{3,5}|\'\'\'(?:(?!\'\'\').)*\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*', re.DOTALL)
_HEADER = re.compile(r"[ \t]*\[")
_AT = re.compile(r"\(at line (\d+), column (\d+)\)")


def places(text: str) -> dict[Place, int]:
    """Line (from 1) of every table and key; elements of arrays of tables count from 0.

    >>> places('[site]\\nuse = "A2"\\n[[panels]]\\nname = "P1"')[("panels", 0, "name")]
    4
    """
    found: dict[Place, int] = {}
    counts: dict[Place, int] = {}
    table: Place = ()
    at, line = 0, 1
    while at < len(text):
        end = _statement_end(text, at)
        statement = text[at:end]
        lead = len(statement) - len(statement.lstrip())
        here = line + statement.count("\n", 0, lead)
        stripped = statement.strip()
        if stripped.startswith("[["):
            path = _resolved(_keys(stripped[2:]), counts)
            counts[path] = counts.get(path, -1) + 1
            found.setdefault(path, here)
            table = (*path, counts[path])
            found[table] = here
        elif stripped.startswith("["):
            table = _resolved(_keys(stripped[1:]), counts)
            found[table] = here
        elif stripped and not stripped.startswith("#"):
            keys = _keys(stripped)
            for i in range(1, len(keys) + 1):
                found.setdefault((*table, *keys[:i]), here)
        line += statement.count("\n")
        at = end
    return found


def _statement_end(text: str, at: int) -> int:
    """End of the statement that begins at ``at``, its line break included."""
    depth = 0
    header = _HEADER.match(text, at) is not None
    while at < len(text):
        skipped = _SKIP.match(text, at) if text[at] in "\"'#" else None
        if skipped is not None:
            at = skipped.end()
            continue
        char = text[at]
        if not header:
            depth += (char in "[{") - (char in "]}")
        at += 1
        if char == "\n" and depth <= 0:
            return at
    return at


def _keys(text: str) -> Place:
    """The dotted key a text begins with."""
    keys: list[str] = []
    at = 0
    while (match := _PART.match(text, at)) is not None:
        keys.append(next(g for g in match.groups() if g is not None))
        at = match.end()
        if text[at : at + 1] != ".":
            break
        at += 1
    return tuple(keys)


def _resolved(keys: Place, counts: dict[Place, int]) -> Place:
    """A header's path, with the running number after each array of tables but the last."""
    path: Place = ()
    for i, key in enumerate(keys):
        path = (*path, key)
        if i < len(keys) - 1 and path in counts:
            path = (*path, counts[path])
    return path


# What tomllib's messages begin with, and what we say instead.
_SAID = (
    ("Cannot overwrite a value", "this key stands here a second time; keep one of them"),
    ("Cannot declare", "this table stands here a second time; keep one of them, or write [[...]] if it is a list"),
    (
        "Cannot mutate immutable namespace",
        "this adds to a table that was closed earlier; write all its keys in one place",
    ),
    ("Cannot mutate", "this adds to a table that was closed earlier; write all its keys in one place"),
    ("Cannot redefine", "this stands here a second time; keep one of them"),
    ("Duplicate inline table key", "a key stands twice between these braces; keep one of them"),
    ("Expected '=' after a key", "there is no = after the key; write key = value"),
    ("Invalid value", 'the value cannot be read; quantities and words stand in quotes, as "12 mm"'),
    ("Unterminated string", "a text has no closing quote"),
    ("Illegal character", "a character here does not belong in a job file; is a closing quote missing?"),
    ("Unescaped '\\' in a string", "a backslash in a text; write two of them, or /"),
    (
        "Expected newline or end of document",
        "there is more on this line than one key = value; is a quote or # missing?",
    ),
    ("Unclosed", "a bracket or brace is not closed"),
    ("Expected ']", "a table header is not closed; write [name] or [[name]]"),
    ("Expected '[[", "a table header is not closed; write [[name]]"),
    ("Invalid statement", "this is no key = value, no [table] and no # comment"),
    (
        "Invalid initial character for a key",
        "a key begins with a character it cannot have; write letters, digits, - and _",
    ),
    ("Invalid date or datetime", "this is no date of the calendar"),
    ("Invalid hex value", "a text has a broken \\u code; write the character itself"),
)


def syntax_fault(message: str, text: str) -> tuple[str, int | None]:
    """Our words and the line for a message of tomllib about a text.

    >>> syntax_fault("Cannot overwrite a value (at line 2, column 9)", "use = 1\\nuse = 2")
    ('the key use stands here a second time; keep one of them', 2)
    """
    at = _AT.search(message)
    line = int(at.group(1)) if at else None
    words = next((ours for theirs, ours in _SAID if message.startswith(theirs)), "this line cannot be read as key = value")
    keys = _keys(text.split("\n")[line - 1].lstrip("[ \t")) if line is not None else ()
    if keys and "a second time" in words:
        words = words.replace("this key", f"the key {'.'.join(map(str, keys))}")
        words = words.replace("this table", f"the table {'.'.join(map(str, keys))}")
    end = "" if line is not None or "at end of document" not in message else ", up to the end of the file"
    return words + end, line
