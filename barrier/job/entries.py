"""Kinds of entry a job file has, and the base of every table of it.

An entry of the schema is annotated with one of these kinds; the kind reads what was written, refuses it in words, and
knows what is taken where nothing was written. Nothing here knows which entries there are.
"""

from __future__ import annotations

import math
import re
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from difflib import get_close_matches
from functools import cache
from typing import Any, ClassVar, get_args, get_origin

from pydantic import BaseModel, ConfigDict, model_validator
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from barrier.job.quantity import in_unit, parse, unit_of
from barrier.job.written import NAME, UNKNOWN, Section, Written, as_written, is_unknown
from barrier.units import KINDS, units_of
from barrier.value import JobEntry, Value

LONGEST_TEXT = 300


class Refusal(Exception):
    """An entry that cannot be taken; the text says why and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry(ABC):
    """What all kinds of entry share.

    ``default`` is taken where nothing was written, with its ``reason``, and listed as an assumption; ``weight`` orders
    that list (1 moves the result most). ``unknown`` says what to do for a reader who does not know; where it is empty,
    the entry must be known.
    """

    default: str | bool | int | None = None
    reason: str = ""
    unknown: str = ""
    weight: int = 5

    @abstractmethod
    def validate(self, node: object) -> object:
        """The entry as the model has it; called by pydantic with what stands in the tree."""

    @abstractmethod
    def expected(self) -> str:
        """What should stand there, in words."""

    def schema(self) -> dict[str, Any]:
        """JSON schema of what may be written."""
        return {"type": "string"}

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.validate)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: Any) -> dict[str, Any]:
        return self.schema()


@dataclass(frozen=True, slots=True, kw_only=True)
class Single(Entry):
    """An entry that is one thing written behind its key, neither a table nor a list."""

    @abstractmethod
    def read(self, written: Written) -> object:
        """The entry as the model has it. Raises Refusal."""

    def validate(self, node: object) -> object:
        """What was written, read; unknown where that may be."""
        if not isinstance(node, Written):
            raise refused_entry(entry_of(node), f"is a table or list; expected {self.expected()}")
        if node.raw == UNKNOWN and self.default is None:
            if self.unknown:
                return None
            if "unknown" not in getattr(self, "choices", ()):
                raise refused_entry(node.entry, f"cannot be unknown; expected {self.expected()}")
        try:
            return self.read(node)
        except Refusal as refusal:
            raise refused_entry(node.entry, str(refusal)) from None


def refused_entry(entry: JobEntry, text: str) -> PydanticCustomError:
    """An entry refused, as pydantic is told of it."""
    return PydanticCustomError("refused", "refused", {"text": text, "entry": entry})


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity(Single):
    """A number with a unit, of a kind of :data:`barrier.units.KINDS`, between ``low`` and ``high`` in base units.

    ``word`` may be written instead, where there is one: it says that the thing itself is left out.
    """

    kind: str
    low: float
    high: float
    word: str = ""

    def read(self, written: Written) -> Value | str:
        """The quantity as a value whose origin is its entry."""
        raw = written.raw
        if self.word and raw == self.word:
            return self.word
        if self.kind == "ratio" and isinstance(raw, int | float) and not isinstance(raw, bool) and math.isfinite(raw):
            raw = repr(raw)  # a ratio has no unit to write
        if not isinstance(raw, str):
            unit = usual_unit(self.kind)
            if isinstance(raw, bool) or not isinstance(raw, (int, float)):
                raise Refusal(f"is {written.entry.text}; expected {self.expected()}")
            if not math.isfinite(raw):
                raise Refusal(f"is {raw}, which is no number; expected {self.expected()}")
            raise Refusal(f'{raw:.6g} has no unit; write "{raw:.6g} {unit}", quotes included')
        x = parse(raw, self.kind)
        if isinstance(x, str):
            raise Refusal(x)
        if not self.low <= x <= self.high:
            unit = unit_of(raw, self.kind)
            raise Refusal(f"{raw!r} is outside the allowed {self._range(unit)}")
        return Value(x, self.kind, written.entry)

    def _range(self, unit: str) -> str:
        return f"{in_unit(self.low, unit).removesuffix(unit).strip()} to {in_unit(self.high, unit)}"

    def expected(self) -> str:
        """Kind and range."""
        instead = f', or "{self.word}"' if self.word else ""
        return f"a {self.kind} of {self._range(usual_unit(self.kind))}, with its unit, in quotes{instead}"

    def schema(self) -> dict[str, Any]:
        """A text; its range in words."""
        return {"type": "string", "description": self.expected()}


def usual_unit(kind: str) -> str:
    """The unit an example of this kind is written in."""
    return KINDS[kind].metric or units_of(kind)[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice(Single):
    """One of a few words; ``refused`` are words that are understood and refused by name, each with its sentence."""

    choices: tuple[str, ...]
    refused: Mapping[str, str] = field(default_factory=dict)

    def read(self, written: Written) -> str:
        """The word."""
        raw = written.raw
        if isinstance(raw, bool) and {"yes", "no"} <= set(self.choices):
            return "yes" if raw else "no"
        if not isinstance(raw, str):
            raise Refusal(f"is {written.entry.text}; expected {self.expected()}")
        if raw in self.refused:
            raise Refusal(f'"{raw}" is refused: {self.refused[raw]}')
        if raw in self.choices:
            return raw
        known = {c.casefold(): c for c in (*self.choices, *self.refused)}
        near = get_close_matches(raw.casefold(), known, n=1, cutoff=0.6)
        hint = f'; did you mean "{known[near[0]]}"?' if near else ""
        raise Refusal(f"{_shortened(raw)} is not known here; expected {self.expected()}{hint}")

    def expected(self) -> str:
        """The words."""
        words = [f'"{c}"' for c in self.choices]
        if self.unknown and "unknown" not in self.choices:
            words.append('"unknown"')
        return "one of " + ", ".join(words) if len(words) > 1 else words[0]

    def schema(self) -> dict[str, Any]:
        """An enumeration."""
        return {"enum": list(self.choices)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag(Single):
    """True or false; ``refused_true`` is the sentence that refuses true."""

    refused_true: str = ""

    def read(self, written: Written) -> bool:
        """The truth."""
        if not isinstance(written.raw, bool):
            raise Refusal(f"is {_said(written)}; expected {self.expected()}")
        if written.raw and self.refused_true:
            raise Refusal(f"true is refused: {self.refused_true}")
        return written.raw

    def expected(self) -> str:
        """The words, no quotes."""
        return "true or false (no quotes)" + (' or "unknown"' if self.unknown else "")

    def schema(self) -> dict[str, Any]:
        """A truth."""
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole(Single):
    """A whole number from ``low`` to ``high``."""

    low: int
    high: int

    def read(self, written: Written) -> int:
        """The number."""
        raw = written.raw
        if isinstance(raw, bool) or not isinstance(raw, int):
            raise Refusal(f"is {_said(written)}; expected {self.expected()}")
        if not self.low <= raw <= self.high:
            shown = raw if abs(raw) < 10**9 else "a very large number"
            raise Refusal(f"{shown} is outside the allowed {self.low} to {self.high}")
        return raw

    def expected(self) -> str:
        """The range."""
        return f"a whole number from {self.low} to {self.high} (no quotes)" + (' or "unknown"' if self.unknown else "")

    def schema(self) -> dict[str, Any]:
        """An integer in its range."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True, kw_only=True)
class Text(Single):
    """Words for the reader; ``name`` for words that paths are made of (letters, digits, - and _)."""

    name: bool = False

    def read(self, written: Written) -> str:
        """The words, as written."""
        raw = written.raw
        if not isinstance(raw, str):
            raise Refusal(f"is {_said(written)}; expected {self.expected()}")
        if len(raw) > LONGEST_TEXT:
            raise Refusal(f"has {len(raw)} characters; at most {LONGEST_TEXT} fit on a sheet")
        if not raw.isprintable():
            raise Refusal("has characters that cannot be printed; write plain text on one line")
        if self.name and not NAME.fullmatch(raw):
            raise Refusal(f"{_shortened(raw)} cannot be a name; use letters, digits, - and _, with at least one letter")
        return raw

    def expected(self) -> str:
        """Words in quotes."""
        return "a name in quotes" if self.name else "a text in quotes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Day(Single):
    """A date, ``"2026-11-02"`` with quotes or without."""

    def read(self, written: Written) -> str:
        """The date as text."""
        try:
            if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", str(written.raw)):
                return date.fromisoformat(str(written.raw)).isoformat()
        except ValueError:
            pass
        raise Refusal(f"is {_said(written)}; expected {self.expected()}")

    def expected(self) -> str:
        """An example."""
        return 'a date such as "2026-11-02"'


def entry_of(node: object, path: str = "") -> JobEntry:
    """Where something stands in the job file; ``path`` for what does not know its own."""
    if isinstance(node, Written):
        return node.entry
    return JobEntry(path or getattr(node, "path", ""), "", getattr(node, "line", None))


def _said(written: Written) -> str:
    """What stands there: texts in quotes, all else bare."""
    return _shortened(written.raw) if isinstance(written.raw, str) else written.entry.text[:60]


def _shortened(text: str) -> str:
    return repr(text if len(text) <= 60 else text[:57] + "...")


class TableOfEntries(BaseModel):
    """A table of the job file: frozen, and no key but its own.

    ``may_be_left_out`` tables are there with their defaults when the file has none; those ``filled_for`` a basis when the
    job names it.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)
    may_be_left_out: ClassVar[bool] = False
    filled_for: ClassVar[tuple[str, ...]] = ()

    @classmethod
    @cache  # one answer a class: there are some twenty
    def entries(cls) -> dict[str, tuple[FieldInfo, Entry | None]]:
        """Each key's field and kind of entry; the kind is None for tables and lists of tables."""
        return {k: (f, next((m for m in f.metadata if isinstance(m, Entry)), None)) for k, f in cls.model_fields.items()}

    @classmethod
    @cache  # one answer a class: there are some twenty
    def table_of(cls, key: str) -> tuple[type[TableOfEntries] | None, type[TableOfEntries] | None]:
        """What the table (or each table of the list) under a key is read by: a model, or a model for each free name."""
        info = cls.model_fields.get(key)
        found = None if info is None else next(_tables_in(info.annotation), None)
        named = info is not None and get_origin(info.annotation) is dict
        return (None, found) if named else (found, None)

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """Keys that mean nothing here because of what other keys say: neither filled nor asked for."""
        return frozenset()

    @classmethod
    def fill(cls, section: Section, invented: bool) -> None:
        """Write what was left out, or is unknown, into a section where there is a default: as an entry that says so."""
        skipped = cls.beside_the_point(section)
        for key, (_, entry) in cls.entries().items():
            if entry is None or entry.default is None or key in skipped:
                continue
            node = section.get(key)
            if node is None or (is_unknown(node) and "unknown" not in getattr(entry, "choices", ())):
                line = node.entry.line if isinstance(node, Written) else None
                text = as_written(entry.default)
                path = f"{section.path}.{key}" if section.path else key
                section[key] = Written(entry.default, JobEntry(path, text, line, True, entry.reason, invented))

    def contradictions(self) -> Iterator[tuple[Value | JobEntry, str]]:
        """Entries of this table that contradict each other: the entry to point at, and the sentence."""
        return iter(())

    @model_validator(mode="after")
    def _consistent(self) -> TableOfEntries:
        found = [(v.origin if isinstance(v, Value) else v, text) for v, text in self.contradictions()]
        if found:
            raise PydanticCustomError("contradiction", "contradiction", {"found": found})
        return self


def _tables_in(annotation: object) -> Iterator[type[TableOfEntries]]:
    if isinstance(annotation, type) and issubclass(annotation, TableOfEntries):
        yield annotation
    for part in get_args(annotation):
        yield from _tables_in(part)
