"""Reading a file that describes a run; what is wrong comes out as one JobRefused, as of any job file."""

from __future__ import annotations

import os
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from barrier.errors import Fault, JobRefused
from barrier.job.faults import each_once, faults_of, no_such
from barrier.job.job import Job
from barrier.job.read import content_of, job_from_text, parsed
from barrier.job.run import Run, RunDocument
from barrier.job.toml_text import toml
from barrier.job.written import Lines, Section, Wrapper, Written, sections
from barrier.value import JobEntry

THEIRS = ("panels", "mounts")  # written by the run


@dataclass(frozen=True, slots=True)
class RunFile:
    """A file with its run read: ``base`` is the job without the run, ``panel`` what all panels share."""

    file: str
    run: Run
    base: Mapping[str, Any]
    panel: Mapping[str, Any]
    assumed: tuple[JobEntry, ...]
    lines: Lines

    def job(self, changes: Mapping[str, Any], title: str = "") -> Job:
        """The plain job that the base becomes with ``panels``, ``mounts`` and whatever else changes. Raises JobRefused."""
        text = self.text(changes, title)
        try:
            return job_from_text(text, self.file)
        except JobRefused as refused:
            raise JobRefused(self.file, each_once([self._placed(f) for f in refused.faults])) from None

    def text(self, changes: Mapping[str, Any], title: str = "") -> str:
        """The same as the text of a job file."""
        document = deepcopy(dict(self.base))
        for key, value in changes.items():
            own = document.get(key)
            document[key] = {**own, **value} if isinstance(own, dict) and isinstance(value, dict) else value
        if title:
            document["title"] = f"{document.get('title', '')}: {title}"
        return toml(document)

    def refused(self, key: str, text: str) -> JobRefused:
        """A fault of the run at a key such as ``run.sides.A.length``."""
        return JobRefused(self.file, (self._placed(Fault(key, text)),))

    def _placed(self, fault: Fault) -> Fault:
        """A fault of an expanded job, where it stands in this file."""
        parts = fault.key.split(".")
        if parts[0] == "panels" and len(parts) > 2:
            parts = ["run", "panel", *parts[2:]]
        elif parts[0] == "mounts":
            parts = ["run", "mounts", *parts[2:3]]
        place: list[str | int] = []
        node: Any = {**self.base, "run": {"panel": self.panel}}
        for part in parts:
            if isinstance(node, list):
                at = next((i for i, n in enumerate(node) if str(n.get("name", i + 1)) == part), 0)
                place.append(at)
                node = node[at] if at < len(node) else None
            else:
                place.append(part)
                node = node.get(part) if isinstance(node, Mapping) else None
        return Fault(".".join(parts), fault.text, self.lines.of(tuple(place)))


def read_run(path: str | os.PathLike[str]) -> RunFile:
    """Read a file that describes a run.

    Argument: ``path`` of a TOML file. Returns the run, validated, with the job around it. Raises JobRefused with every fault
    found, each with line, key, value and what to do.
    """
    file = os.fspath(path)
    return run_from_text(content_of(file), file)


def run_from_text(data: bytes, file: str = "run") -> RunFile:
    """The run a text describes; ``file`` is how faults name it. Raises JobRefused."""
    document, where = parsed(data, file)
    lines, faults = Lines(where), []
    run = document.pop("run", None)
    if not isinstance(run, dict):
        text = "is missing; a run is described under [run], a job with panels of its own is for barrier check"
        raise JobRefused(file, (Fault("run", text, lines.of(("run",))),))
    for key in THEIRS:
        if key in document:
            text = "stands beside [run], which writes panels and mounts itself; take it out, or override one under [[run.singles]]"
            faults.append(Fault(key, text, lines.of((key,))))
    panel = run.pop("panel", None)
    if not isinstance(panel, dict):
        text = "is missing; write [run.panel] with height, bottom_gap and what else all panels share"
        faults.append(Fault("run.panel", text, lines.of(("run",))))
        panel = {}
    for key in ("name", "width"):
        if key in panel:
            text = "is written by the division; take it out"
            faults.append(Fault(f"run.panel.{key}", text, lines.of(("run", "panel", key))))
    invented = document.get("invented") is True
    tree = Wrapper(lines, invented).wrap({"run": run}, "", (), RunDocument)
    for section in sections(tree):
        if section.model is not None:
            section.model.fill(section, invented)
    read: Run | None = None
    try:
        read = RunDocument.model_validate(tree).run
    except ValidationError as error:
        faults.extend(faults_of(error, tree))
    if read is not None:
        faults.extend(_names(read, document, lines))
    if faults or read is None:
        raise JobRefused(file, each_once(faults))
    return RunFile(file, read, document, panel, tuple(_assumed(tree)), lines)


def _assumed(tree: Section) -> list[JobEntry]:
    """Defaults that were taken, each once for its key: sides share them."""
    found: dict[tuple[str, str], JobEntry] = {}
    for section in sections(tree):
        for key, node in section.items():
            if isinstance(node, Written) and node.entry.defaulted:
                found.setdefault((key, node.entry.reason), node.entry)
    return list(found.values())


def _names(run: Run, document: Mapping[str, Any], lines: Lines) -> list[Fault]:
    """Names that refer to nothing, sides named twice, ends that disagree with the corners."""
    faults, names = [], [s.name for s in run.sides]

    def fault(key: str, text: str, *place: str | int) -> None:
        faults.append(Fault(key, text, lines.of(place)))

    for i, side in enumerate(run.sides):
        if names.index(side.name) != i:
            fault(f"run.sides.{i + 1}.name", f"{side.name!r} is the name of two sides; give each its own", "run", "sides", i)
        if side.name[-1].isdigit():
            text = f"{side.name!r} ends in a number, and its panels are numbered behind it; end it in a letter"
            fault(f"run.sides.{side.name}.name", text, "run", "sides", i, "name")
        for at in ("start", "end"):
            met = [c for c in run.corners if (c.side, c.at) == (side.name, at) or (c.other, c.other_at) == (side.name, at)]
            if (getattr(side, at) == "corner") != (len(met) == 1):
                text = f'is "{getattr(side, at)}" and {len(met)} of [[run.corners]] are there; one corner belongs to one entry'
                fault(f"run.sides.{side.name}.{at}", text, "run", "sides", i, at)
    for i, corner in enumerate(run.corners):
        for key in ("side", "other"):
            if getattr(corner, key) not in names:
                fault(f"run.corners.{i + 1}.{key}", no_such("side", getattr(corner, key), names), "run", "corners", i, key)
    for key, table, name in (("mounts.type", "mount_types", run.mounts.type), ("blocking.use", "blocking", run.blocking.use)):
        known = document.get(table)
        if not isinstance(known, dict) or name not in known:
            what = "mount type" if table == "mount_types" else "blocking"
            fault(f"run.{key}", no_such(what, name, list(known or ())), "run", *key.split("."))
    return faults
