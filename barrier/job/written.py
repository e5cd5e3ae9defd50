"""What stands in a job file, entry by entry: the value as written, where, and whether it was written at all.

A job file becomes a tree of :class:`Section` (a table), :class:`Items` (an array of tables) and :class:`Written` (one
entry). The tree is what ``with_`` changes, what defaults are written into, and what is validated.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from barrier.value import JobEntry

# A model of the schema, which stands above: its keys by ``entries()``, what a table under one of them is read by ``table_of``.
Model = type[Any]
Node = Any  # Section | Items | Written; recursive, and every use below looks before it takes
NAME = re.compile(r"[A-Za-z0-9_-]*[A-Za-z_-][A-Za-z0-9_-]*")
UNKNOWN = "unknown"
ASSUMED = {"value", "assumed"}  # an entry nobody measured is written as a table of these two: what it is taken as, and why
NO_REASON = "nobody measured it"
_NOTHING: Mapping[str, Node] = {}


@dataclass(frozen=True, slots=True)
class Written:
    """One entry: the value TOML gave (text, number, truth or date) and where it stands."""

    raw: object
    entry: JobEntry


class Section(dict[str, Node]):
    """A table of the file: its path and line, and what its keys are read by.

    ``model`` where keys are those of a model; ``each`` where keys are free names, each of a table of that model;
    neither where keys are free words.
    """

    def __init__(
        self, path: str, line: int | None, model: Model | None = None, each: Model | None = None,
        content: Mapping[str, Node] = _NOTHING,
    ) -> None:  # fmt: skip
        super().__init__(content)
        self.path, self.line, self.model, self.each = path, line, model, each
        self.broken = False  # a table whose model could not be taken over; its gaps are no faults of their own

    def says(self, key: str) -> object:
        """What stands under a key, None where that is no single entry."""
        node = self.get(key)
        return node.raw if isinstance(node, Written) else None

    def below(self, key: str) -> tuple[Model | None, Model | None]:
        """``model`` and ``each`` of the table under a key."""
        return self.model.table_of(key) if self.model is not None else (self.each, None)

    def take_over(self, key: str, source: str, reason: str, invented: bool) -> None:
        """Where ``key`` was left out or is unknown, let it be what stands at ``source``, as an assumption."""
        there = self.get(source)
        if isinstance(there, Written) and (key not in self or is_unknown(self[key])):
            entry = JobEntry(f"{self.path}.{key}", there.entry.text, None, True, reason, invented)
            self[key] = Written(there.raw, entry)


class Items(list[Node]):
    """An array of the file: its path and line."""

    def __init__(self, path: str, line: int | None, content: Iterable[Node] = ()) -> None:
        super().__init__(content)
        self.path, self.line = path, line


def as_written(raw: object) -> str:
    """How a value reads in a file.

    >>> as_written("12 mm"), as_written(True), as_written(3)
    ('12 mm', 'true', '3')
    """
    return str(raw).lower() if isinstance(raw, bool) else str(raw)


class Lines:
    """Finds the line of a place in a file: the place itself, else the nearest table around it."""

    def __init__(self, lines: Mapping[tuple[str | int, ...], int]) -> None:
        self._lines = lines

    def of(self, place: tuple[str | int, ...]) -> int | None:
        """Line of a place given by keys and 0-based positions."""
        while place:
            if place in self._lines:
                return self._lines[place]
            place = place[:-1]
        return None


@dataclass(frozen=True, slots=True)
class Wrapper:
    """Turns what TOML (or a caller of ``with_``) gives into the tree."""

    lines: Lines
    invented: bool
    reason: str = ""

    def wrap(
        self, raw: object, path: str, place: tuple[str | int, ...],
        model: Model | None = None, each: Model | None = None,
    ) -> Node:  # fmt: skip
        """Wrap one value: ``path`` is how a reader names it, ``place`` where it stands in the file."""
        line = self.lines.of(place)
        if isinstance(raw, Mapping) and raw.keys() == ASSUMED and isinstance(raw["assumed"], str):
            return _assumed(self.wrap(raw["value"], path, place, model, each), " ".join(raw["assumed"].split()) or NO_REASON)
        if isinstance(raw, Mapping):
            section = Section(path, line, model, each)
            for key, value in raw.items():
                below = f"{path}.{key}" if path else str(key)
                section[str(key)] = self.wrap(value, below, (*place, str(key)), *section.below(str(key)))
            return section
        if isinstance(raw, (list, tuple)):
            items = Items(path, line)
            for i, value in enumerate(raw):
                items.append(self.wrap(value, f"{path}.{name_of(value, i)}", (*place, i), model, each))
            return items
        return Written(raw, JobEntry(path, as_written(raw), line, reason=self.reason, invented=self.invented))


def _assumed(node: Node, why: str) -> Node:
    """The same, every entry of it as one that nobody measured."""
    if isinstance(node, Written):
        return Written(node.raw, replace(node.entry, assumed=True, reason=why))
    for key, child in node.items() if isinstance(node, Section) else enumerate(node):
        node[key] = _assumed(child, why)
    return node


def name_of(raw: object, position: int) -> str:
    """How an element of an array is called in a path: by its name, else by its number from one."""
    name = raw.get("name") if isinstance(raw, Mapping) else None
    name = name.raw if isinstance(name, Written) else name
    return name if isinstance(name, str) and NAME.fullmatch(name) else str(position + 1)


def plain(node: Node) -> Any:
    """The tree as plain dicts, lists and values, entries that were not written left out."""
    if isinstance(node, Section):
        return {k: plain(v) for k, v in node.items() if not (isinstance(v, Written) and v.entry.defaulted)}
    if isinstance(node, Items):
        return [plain(v) for v in node]
    if isinstance(node, Written) and node.entry.assumed:
        return {"value": node.raw, "assumed": node.entry.reason}
    return node.raw if isinstance(node, Written) else node


def copied(node: Node) -> Node:
    """A copy of the tree that may be changed; entries themselves are shared."""
    if isinstance(node, Section):
        return Section(node.path, node.line, node.model, node.each, {k: copied(v) for k, v in node.items()})
    if isinstance(node, Items):
        return Items(node.path, node.line, [copied(v) for v in node])
    return node


def sections(node: Node) -> Iterator[Section]:
    """Every table of the tree, outer before inner, in the order of the file."""
    if isinstance(node, Section):
        yield node
    for child in node.values() if isinstance(node, Section) else node if isinstance(node, Items) else ():
        yield from sections(child)


def is_unknown(node: Node) -> bool:
    """Whether an entry says ``"unknown"``."""
    return isinstance(node, Written) and node.raw == UNKNOWN
