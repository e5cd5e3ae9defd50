"""A sheet made again: from what it carries, in a temporary folder, or from a job file."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from barrier.editions import INDEX, editions_of
from barrier.errors import BarrierError
from barrier.job import Job, read_job
from barrier.job.read import job_from_text
from barrier.load_path import Result, check
from barrier.result import Situation, Standing
from barrier.sheet.pages import named, page_of
from barrier.tables import Tables
from barrier.verify.read import SheetRefused, Source

EMBEDDED = "the job in the sheet"
_PLACE = re.compile(r"\S*barrier-verify-\w+[\\/]own-\d+[\\/]")


@dataclass(frozen=True, slots=True)
class Again:
    """What was walked again: the result, and the study where the page is one of a study."""

    kind: str
    result: Result
    study: Any = None

    def written(self, form: str) -> str | bytes | None:
        """The page in a form ("JSON", "HTML", "text", "Markdown", "PDF"); None where this tool makes no such page."""
        from barrier import sheet

        ending = {"JSON": "json_text", "HTML": "html", "text": "text", "Markdown": "markdown", "PDF": "pdf"}[form]
        name = ending if self.study is None else f"{self.kind}_{ending}"
        writer: Callable[[Any], str | bytes] | None = getattr(sheet, name, None)
        return writer(self.study or self.result) if callable(writer) else None


def from_source(source: Source) -> Again:
    """Walk what a sheet carries. Raises SheetRefused when it is no job, or a table in it breaks a rule."""
    try:
        tables = _tables(source)
        job = _changed(job_from_text(source.job, EMBEDDED, tables_beside=False), source.changes)
        if source.kind != "check":
            study = named(page_of(source.kind).maker)(job, tables)
            return Again(source.kind, study.result, study)
        added = [Situation(s["name"], s["changes"], Standing(s["standing"]), s["words"]) for s in source.situations]
        return Again("check", check(job, added, tables))
    except SheetRefused:
        raise
    except BarrierError as fault:
        raise SheetRefused(EMBEDDED, f"it cannot be walked again: {fault}") from None


def _changed(job: Job, changes: tuple[tuple[str, Any], ...]) -> Job:
    """The job with the changes in their order; a path that comes again begins a new set."""
    group: dict[str, Any] = {}
    for path, value in changes:
        if path in group:
            job, group = job.with_(group), {}
        group[path] = value
    return job.with_(group) if group else job


def _tables(source: Source) -> Tables:
    """The bundled tables with those of the sheet over them, each from a folder of its own that is gone afterwards."""
    try:
        return _laid_out(source)
    except OSError as fault:
        raise SheetRefused(EMBEDDED, f"there is no room to lay out the tables it carries: {fault.strerror}; see TMPDIR") from None


def _laid_out(source: Source) -> Tables:
    known = set(Tables().names())
    with TemporaryDirectory(prefix="barrier-verify-") as folder:
        overlays: list[Path] = []
        brought: set[str] = set()  # tables of the index that was laid out last, which stand beside it
        try:
            for i, (name, text) in enumerate(source.tables):
                if name == INDEX:
                    brought = {t for e in editions_of(text, f"{INDEX}.toml").all for t in e.tables.values()} - known
                elif name not in known | brought:
                    raise SheetRefused(EMBEDDED, f"it carries a table {name!r}, and this version has none of that name")
                if name not in brought:
                    overlays.append(Path(folder) / f"own-{i}")
                    overlays[-1].mkdir()
                (overlays[-1] / f"{name}.{'toml' if name == INDEX else 'csv'}").write_bytes(text.encode("utf-8"))
                known, brought = known | ({name} & brought), brought - {name}
            return Tables(overlays)
        except SheetRefused:
            raise
        except BarrierError as fault:
            raise SheetRefused(EMBEDDED, _PLACE.sub("", f"a table it carries is refused: {fault}")) from None


def from_attached(text: str, kind: str) -> Again:
    """Walk the job file attached to a PDF, with the bundled tables: the reader's own are not in it. Raises SheetRefused."""
    try:
        job = job_from_text(text, EMBEDDED, tables_beside=False)
        if job.tables_folder is not None:
            raise SheetRefused(EMBEDDED, "it rests on tables of its own, which a PDF does not carry; give the job with --job FILE")
        return _walked(job, kind, Tables())
    except SheetRefused:
        raise
    except BarrierError as fault:
        raise SheetRefused(EMBEDDED, f"it cannot be walked again: {fault}") from None


def _walked(job: Job, kind: str, tables: Tables | None) -> Again:
    """A job walked for a kind of page."""
    if kind != "check":
        study = named(page_of(kind).maker)(job, tables)
        return Again(kind, study.result, study)
    return Again(kind, check(job, (), tables))


def from_file(path: str | os.PathLike[str], kind: str) -> Again:
    """Walk a job file for a kind of page. Raises what :func:`barrier.read_job` raises."""
    return _walked(read_job(path), kind, None)
