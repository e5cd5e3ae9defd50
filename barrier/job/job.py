"""A job that was read: its tables as the schema has them, and where every entry came from."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import PrivateAttr

from barrier.errors import Fault, JobRefused
from barrier.job.build import Origin, built
from barrier.job.document import find
from barrier.job.schema import Document, Mount, Panel
from barrier.job.written import Section, Written, plain, sections
from barrier.quantities import as_written
from barrier.value import JobEntry


class Job(Document):
    """What the reader described, validated, in base units; frozen.

    Quantities are :class:`barrier.value.Value`; words, truths and whole numbers are plain. Mounts are complete: what
    their type gave them stands in them. Read one with :func:`barrier.job.read_job`.
    """

    _origin: Origin = PrivateAttr()

    # ---------------------------------------------------------------- looking around
    def mounts_of(self, panel: Panel) -> tuple[Mount, ...]:
        """The mounts that hold a panel, in the order of the file."""
        return tuple(m for m in self.mounts if m.panel == panel.name)

    def panel_of(self, mount: Mount) -> Panel:
        """The panel a mount holds."""
        return next(p for p in self.panels if p.name == mount.panel)

    def entry(self, path: str) -> JobEntry:
        """How an entry was written, or assumed.

        Argument: ``path`` by names or numbers from one (``"mounts.M1.screws.2.present"``). Returns the entry; for an
        optional one that is not given, one whose text says so. Raises JobRefused for a path that leads nowhere.
        """
        try:
            node = find(self._origin.document, path)
        except KeyError as fault:
            raise JobRefused(self.file, (Fault(path, str(fault.args[0])),)) from None
        if isinstance(node, Written):
            return node.entry
        if node is None:
            return JobEntry(path, "not given", reason="not given", invented=self.invented)
        return JobEntry(node.path, "a table" if isinstance(node, Section) else "a list", node.line, invented=self.invented)

    # ---------------------------------------------------------------- what was assumed, not known, not read
    def assumptions(self) -> tuple[JobEntry, ...]:
        """What nobody measured, each once: defaults that were used and entries written as assumed, those first that usually
        move the result most."""
        found: dict[tuple[str, str], tuple[int, JobEntry]] = {}
        for section in sections(self._origin.document):
            for key, node in section.items():
                if isinstance(node, Written) and node.entry.is_assumed:
                    kind = section.model.entries()[key][1] if section.model is not None else None
                    found.setdefault((node.entry.path, node.entry.text), (kind.weight if kind else 5, node.entry))
        return tuple(entry for _, entry in sorted(found.values(), key=lambda f: f[0]))

    def unknowns(self) -> tuple[JobEntry, ...]:
        """What a reader was asked for and does not know or did not give, each with what to do (``reason``).

        What nothing in this version uses is not asked for.
        """
        found: dict[str, JobEntry] = {}
        for section in sections(self._origin.document):
            if section.model is None:
                continue
            skipped = section.model.beside_the_point(section)
            for key, (_, kind) in section.model.entries().items():
                node = section.get(key)
                if kind is None or not kind.unknown or kind.default is not None or key in skipped:
                    continue
                if _unused(section, key):
                    continue  # nothing would change if it were known
                if node is None or (isinstance(node, Written) and node.raw == "unknown"):
                    entry = node.entry if isinstance(node, Written) else None
                    path = entry.path if entry else f"{section.path}.{key}"
                    text, line = (entry.text, entry.line) if entry else ("not given", None)
                    found.setdefault(path, JobEntry(path, text, line, reason=kind.unknown, invented=self.invented))
        for e in self._origin.unknown_tables:
            found.setdefault(
                e.path, JobEntry(e.path, e.text, e.line, reason="describe it once it is known", invented=self.invented)
            )
        return tuple(found.values())

    def unread(self) -> tuple[JobEntry, ...]:
        """Entries written in the file that nothing in this version uses, each with why.

        A field of the schema says so by ``json_schema_extra={"used": False, "why": "..."}``; mount types and blocking
        that no mount refers to are unread as well.
        """
        found: dict[str, JobEntry] = {}
        for section in sections(self._origin.document):
            for key, node in section.items():
                extra = _unused(section, key)
                if extra is None:
                    continue
                written = node.entry if isinstance(node, Written) else JobEntry(node.path, "a table", node.line)
                if not written.defaulted:
                    why = str(extra.get("why", "not used"))
                    found.setdefault(
                        written.path,
                        JobEntry(written.path, written.text, written.line, reason=why, invented=self.invented),
                    )
        for table, used in (
            ("mount_types", {m.type for m in self.mounts}),
            ("blocking", {m.blocking for m in self.mounts}),
        ):
            tables = self._origin.source.get(table)
            for name, node in tables.items() if isinstance(tables, Section) else ():
                if name not in used and isinstance(node, Section):
                    path = f"{table}.{name}"
                    found[path] = JobEntry(path, "a table", node.line, reason="no mount refers to it", invented=self.invented)
        return tuple(found.values())

    # ---------------------------------------------------------------- the file itself
    @property
    def file(self) -> str:
        """Name of the file as it was given."""
        return self._origin.file

    @property
    def text(self) -> bytes:
        """The file as it was written."""
        return self._origin.text

    @property
    def written(self) -> Section:
        """The tree of the file as it was written: no change, no type written into a mount, no default."""
        return self._origin.source

    @property
    def raw(self) -> dict[str, Any]:
        """The document with types, same_as and changes written in, as plain values; no defaults."""
        found: dict[str, Any] = plain(self._origin.raw)
        return found

    @property
    def changes(self) -> tuple[tuple[str, object], ...]:
        """What ``with_`` changed since the file, in order."""
        return self._origin.changes

    @property
    def tables_folder(self) -> Path | None:
        """Folder of the reader's own tables, from the folder of the job file."""
        return None if self.tables is None else Path(self.file).parent / self.tables

    def fingerprint(self) -> str:
        """First 12 hex digits of the SHA-256 of the file's bytes."""
        return hashlib.sha256(self.text).hexdigest()[:12]

    def with_(self, changes: Mapping[str, object]) -> Job:
        """A copy with entries changed, validated anew.

        Argument: ``changes`` from path to what the file would say there (text with unit or a quantity of pint, number, truth,
        table), None to take an entry, table or element of a list away. It is as if the file said so: a change to a mount type
        or to ``blocking.B1`` also reaches what is of that type or ``same_as`` it; a change to one mount stays with it.
        Raises JobRefused as for a file; an unknown path names the nearest.

        >>> from barrier.job import read_job
        >>> from barrier.worked import example_text
        >>> from barrier.job.read import job_from_text
        >>> job = job_from_text(example_text())
        >>> job.with_({"decking.gap_under": "4 mm"}).decking.gap_under.x
        4.0
        """
        return built(type(self), self._origin.changed(tuple((path, self._said(path, v)) for path, v in changes.items())))

    def _said(self, path: str, value: object) -> object:
        """What the file would say for a quantity of pint; anything else as it is."""
        try:
            return as_written(value)
        except ValueError as fault:
            raise JobRefused(self.file, (Fault(path, f"= {fault}"),)) from None


def _unused(section: Section, key: str) -> Mapping[str, Any] | None:
    """What the schema says of an entry that nothing in this version uses; None where something does."""
    info = section.model.model_fields.get(key) if section.model is not None else None
    extra = info.json_schema_extra if info is not None else None
    return extra if isinstance(extra, dict) and extra.get("used") is False else None
