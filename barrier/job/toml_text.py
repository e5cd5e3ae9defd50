"""Plain values written as TOML, so that what a run expands to is a job file like any other."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any


def toml(document: Mapping[str, Any]) -> str:
    """A document of tables, lists of tables and entries as TOML text; ``tomllib`` reads the same document back.

    >>> print(toml({"a": 1, "t": {"b": "x"}, "l": [{"c": True}]}), end="")
    a = 1
    <BLANKLINE>
    [t]
    b = "x"
    <BLANKLINE>
    [[l]]
    c = true
    """
    return "\n".join(_table(document, "")).lstrip("\n") + "\n"


def _table(table: Mapping[str, Any], path: str) -> Iterator[str]:
    for key, value in table.items():
        if not _below(value):
            yield f"{_key(key)} = {_value(value)}"
    for key, value in table.items():
        name = f"{path}.{_key(key)}" if path else _key(key)
        if isinstance(value, Mapping) and _below(value):
            yield from ("", f"[{name}]")
            yield from _table(value, name)
        elif _below(value):
            for one in value:
                yield from ("", f"[[{name}]]")
                yield from _table(one, name)


def _below(value: object) -> bool:
    """Whether a value has a header of its own."""
    if isinstance(value, Mapping):
        return True
    return isinstance(value, list) and bool(value) and all(isinstance(v, Mapping) for v in value)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, list):
        return "[" + ", ".join(_value(v) for v in value) + "]"
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items()) + " }"
    return str(value)


def _key(key: str) -> str:
    plain = bool(key) and all(c.isascii() and (c.isalnum() or c in "-_") for c in key)
    return key if plain else json.dumps(key, ensure_ascii=False)
