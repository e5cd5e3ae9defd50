"""Editions: which files an edition of a load table or of strength classes is made of, and which one a job takes.

``tables/index.toml`` lists them, a line each, under the family of codes (and its national table) and the subject::

    [editions."en uk".loads]
    2011 = { title = "BS 6180:2011 Table 2", loads = "uk_barrier_loads", rules = "uk_barrier_rules" }

The first line of a subject is what is taken where a job says nothing. No code knows an edition: its source, its rules and what
it says of loads in the plane of the glass are rows of the files it names. A folder of the reader's own may have an
``index.toml`` with such lines for files that stand beside it; they come after ours and never over them.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.abc import Traversable
from pathlib import Path

from barrier.errors import TableRefused, UnknownRow
from barrier.reading import Unreadable, bytes_of

INDEX = "index"  # name, without ending, of the file that lists tables and editions
LARGEST = 100_000  # bytes of a reader's own index; ours has a few thousand
SUBJECTS: Mapping[str, tuple[str, ...]] = {"loads": ("loads", "rules"), "timber": ("classes",)}  # and the files of each
NAMED = re.compile(r"[A-Za-z0-9][A-Za-z0-9 .,:+/-]{0,40}", re.ASCII)
TABLE = re.compile(r"[a-z][a-z0-9_]{0,60}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Edition:
    """An edition: of which ``family`` (``"en uk"``, ``"us"``), of ``what``, its ``name`` in a job, its ``title`` on a sheet, and
    the name of the table that is each of its parts."""

    family: str
    what: str
    name: str
    title: str
    tables: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Editions:
    """All editions there are, in the order of the index."""

    all: tuple[Edition, ...] = ()

    def of(self, family: str, what: str) -> tuple[Edition, ...]:
        """Editions of a subject in a family of codes, the usual one first; none where it has no such choice."""
        return tuple(e for e in self.all if (e.family, e.what) == (family, what))

    def nationals(self, key: str) -> tuple[str, ...]:
        """National tables of the family of codes ``key``: ``("uk",)`` of ``"en"``.

        >>> from barrier.tables import Tables
        >>> Tables().editions.nationals("en")
        ('uk',)
        """
        return tuple(dict.fromkeys(e.family.partition(" ")[2] for e in self.all if e.family.startswith(f"{key} ")))

    def chosen(self, key: str, national: str, what: str, name: str | None = None) -> Edition | None:
        """The edition a job takes: the one it names, else the usual one; None where the family has none.

        ``key`` and ``national`` of the family of codes; ``what`` it is an edition of; ``name`` as the job says it. What a national
        table has no edition of is that of the whole family. Raises UnknownRow, listing those there are, for a name that is none.

        >>> from barrier.tables import Tables
        >>> Tables().editions.chosen("en", "uk", "timber").title
        'EN 338:2016'
        """
        family = f"{key} {national}".strip()
        there = {e.name: e for e in self.of(family, what) or self.of(key, what)}
        if name is None:
            return next(iter(there.values()), None)
        if name not in there:
            raise UnknownRow(f"basis {family}", f"edition of its {what}", name, tuple(there))
        return there[name]

    def with_(self, more: Editions, shown: str) -> Editions:
        """These and ``more`` after them; ``shown`` names their file. Raises TableRefused where one of them is there already."""
        ours = {(e.family, e.what, e.name) for e in self.all}
        for e in more.all:
            if (e.family, e.what, e.name) in ours:
                raise TableRefused(f'{shown}: [editions."{e.family}".{e.what}] {e.name} is there already; name yours otherwise')
        return Editions((*self.all, *more.all))

    def sibling(self, edition: Edition) -> Edition | None:
        """The usual edition of the same subject of the same codes, whatever the country: what a new one has the columns of."""
        key = edition.family.partition(" ")[0]
        alike = (e for e in self.all if e.what == edition.what and e.family.partition(" ")[0] == key)
        return next(alike, None)


def read_editions(place: Traversable, shown: str) -> tuple[Editions, str]:
    """The editions of the index at ``place``, and its text. ``shown`` is its name in a refusal. Raises TableRefused."""
    try:
        data = bytes_of(place, LARGEST, "an index of tables") if isinstance(place, Path) else place.read_bytes()
        text = data.decode("utf-8")
        return editions_of(text, shown), text
    except (Unreadable, OSError, UnicodeDecodeError) as fault:
        raise TableRefused(f"{shown}: cannot be read as UTF-8 text: {fault}") from None


def editions_of(text: str, shown: str) -> Editions:
    """The editions in the ``text`` of an index, ``shown`` its name. Raises TableRefused, naming the line of the index that is
    not in the grammar."""
    try:
        document = tomllib.loads(text)
    except ValueError as fault:
        raise TableRefused(f"{shown}: is no TOML: {fault}") from None
    found = []
    for family, subjects in _table(document.get("editions", {}), "editions", shown).items():
        for what, names in _table(subjects, f'editions."{family}"', shown).items():
            if what not in SUBJECTS:
                raise TableRefused(f'{shown}: [editions."{family}"] has {what!r}; there are editions of {", ".join(SUBJECTS)}')
            for name, line in _table(names, f'editions."{family}".{what}', shown).items():
                found.append(_edition(family, what, name, line, shown))
    return Editions(tuple(found))


def _table(node: object, where: str, shown: str) -> dict[str, object]:
    if not isinstance(node, dict):
        raise TableRefused(f"{shown}: {where} is no table; [editions.FAMILY.SUBJECT] and a line NAME = {{ title = ..., ... }} each")
    return node


def _edition(family: str, what: str, name: str, line: object, shown: str) -> Edition:
    where, wanted = f'[editions."{family}".{what}] {name}', ("title", *SUBJECTS[what])
    if not NAMED.fullmatch(name):
        raise TableRefused(f"{shown}: {where}: a name is up to 40 letters and digits, as a year or the number of a document")
    if not isinstance(line, dict) or set(line) != set(wanted) or not all(isinstance(v, str) and v.strip() for v in line.values()):
        raise TableRefused(f"{shown}: {where} wants {', '.join(f'{w} = ...' for w in wanted)}, a text each and nothing else")
    tables = {part: line[part] for part in SUBJECTS[what]}
    if bad := next((t for t in tables.values() if not TABLE.fullmatch(t)), None):
        raise TableRefused(f"{shown}: {where}: {bad!r} is no name of a table: small letters, digits and _, without .csv")
    return Edition(family, what, name, line["title"].strip(), tables)
