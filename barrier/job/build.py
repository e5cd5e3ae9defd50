"""From the written tree to a validated job: expand, validate, check for contradictions, collect every fault."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from pydantic import ValidationError

from barrier.job.coherence import Parts
from barrier.job.document import Change, Expanded, find
from barrier.job.entries import TableOfEntries
from barrier.job.schema import Blocking, Joists, Loads, Mount, Panel, Rail, Site, Wind
from barrier.job.written import Items, Section, Written
from barrier.value import JobEntry

T = TypeVar("T", bound=TableOfEntries)


@dataclass(frozen=True, slots=True)
class Origin:
    """What a job was read from: file, its bytes, the tree as written, and the changes made since."""

    file: str
    text: bytes
    source: Section
    changes: tuple[Change, ...]
    document: Section
    raw: Section
    unknown_tables: tuple[JobEntry, ...]
    invented: bool

    def changed(self, changes: tuple[Change, ...]) -> Origin:
        """The same with further changes, not yet expanded."""
        return replace(self, changes=(*self.changes, *changes))


def parts_of(
    expanded: Expanded, source: Section, panels: tuple[Panel, ...], mounts: tuple[Mount, ...],
    blocking: Mapping[str, Blocking], site: Site | None, loads: Loads | None, wind: Wind | None, joists: Joists | None,
    rail: Rail | None,
) -> Parts:  # fmt: skip
    """What must not contradict: the tables of an ``expanded`` job that were read, and what its ``source`` names."""
    document = expanded.document
    names = [n["name"] for n in _list(document, "panels") if isinstance(n, Section) and "name" in n]
    known = document.get("blocking")

    def entry(path: str) -> JobEntry:
        node = find(document, path)
        return node.entry if isinstance(node, Written) else JobEntry(path, "")

    return Parts(
        panels, mounts, blocking, site, loads, wind, joists, rail,
        [str(n.raw) for n in names if isinstance(n, Written)],
        list(known) if isinstance(known, Section) else [],
        _clamps(source), _clamps(document), entry,
    )  # fmt: skip


def salvaged(expanded: Expanded, source: Section) -> Parts:
    """What can be read of a document that cannot be read whole."""
    document = expanded.document
    panels = tuple(p for n in _list(document, "panels") for p in _read(Panel, n))
    mounts = tuple(m for n in _list(document, "mounts") for m in _read(Mount, n))
    table = document.get("blocking")
    blocking = {k: b for k, n in (table.items() if isinstance(table, Section) else ()) for b in _read(Blocking, n)}
    site = next(_read(Site, document.get("site")), None)
    loads = next(_read(Loads, document.get("loads")), None)
    wind = next(_read(Wind, document.get("wind")), None)
    joists = next(_read(Joists, document.get("joists")), None)
    rail = next(_read(Rail, document.get("rail")), None)
    return parts_of(expanded, source, panels, mounts, blocking, site, loads, wind, joists, rail)


def _read(model: type[T], node: object) -> Iterator[T]:
    """One table, if it can be read."""
    try:
        yield model.model_validate(node)
    except ValidationError:
        return


def _clamps(document: Section) -> Counter[str]:
    """How many mounts name each panel."""
    return Counter(str(n.says("panel")) for n in _list(document, "mounts") if isinstance(n, Section))


def _list(section: Section, key: str) -> Items:
    found = section.get(key)
    return found if isinstance(found, Items) else Items(key, None)
