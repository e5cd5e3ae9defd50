"""Entries that are tables in a job file: names by family of codes, and changes by the path of what they change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from barrier.job.entries import Choice, Entry, Refusal, Text, entry_of, refused_entry
from barrier.job.written import UNKNOWN, Section, Written, plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Names(Entry):
    """A name in each family of codes, ``{ en = "C24", us = "Hem-Fir" }``; never carried from one to another.

    ``facts`` are further words some family asks, each one of a few or (of none) free: ``{ au = "F14", species = "merbau
    (kwila)", seasoned = "no" }``.
    """

    families: tuple[str, ...]
    facts: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def validate(self, node: object) -> object:
        """A table of names; unknown is an empty one."""
        if isinstance(node, Written) and node.raw == UNKNOWN and self.unknown:
            return {}
        if not isinstance(node, Section):
            raise refused_entry(entry_of(node), f"is not a table; expected {self.expected()}")
        found: dict[str, str] = {}
        for key, written in node.items():
            known = (*self.families, *self.facts)
            if key not in known:
                near = get_close_matches(key.casefold(), known, n=1)
                hint = f'; did you mean "{near[0]}"?' if near else f"; known are {', '.join(known)}"
                raise refused_entry(entry_of(written, f"{node.path}.{key}"), f"is not a known family of codes{hint}")
            if not isinstance(written, Written):
                raise refused_entry(entry_of(written, f"{node.path}.{key}"), "is a table or list; expected a name in quotes")
            if written.raw == UNKNOWN:
                continue
            try:
                choices = self.facts.get(key)
                found[key] = Choice(choices=choices).read(written) if choices else Text().read(written)
            except Refusal as refusal:
                raise refused_entry(written.entry, str(refusal)) from None
        return found

    def expected(self) -> str:
        """An example."""
        return 'names by family of codes such as { en = "C24" }' + (' or "unknown"' if self.unknown else "")

    def schema(self) -> dict[str, Any]:
        """An object of texts."""
        return {"type": "object", "additionalProperties": {"type": "string"}}


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes(Entry):
    """From the path of an entry to what then stands there; ``"absent"`` takes the entry out (None)."""

    def validate(self, node: object) -> object:
        """A table of paths."""
        if not isinstance(node, Section) or not node:
            raise refused_entry(entry_of(node), f"is no table of changes; expected {self.expected()}")
        return {path: None if (raw := plain(below)) == "absent" else raw for path, below in node.items()}

    def expected(self) -> str:
        """An example."""
        return 'changes such as { "mounts.M1.screws.S2.present" = false }, the path in quotes'

    def schema(self) -> dict[str, Any]:
        """An object of anything."""
        return {"type": "object"}
