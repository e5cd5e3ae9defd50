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
OF_A_SIDE = ("panels", "between", "left", "right", "continuous", "splices", "openings", "line")  # entries of a rail


@dataclass(frozen=True, slots=True)
class RunFile:
    """A file with its run read: ``base`` is the job without the run, ``panel`` what all panels share, ``written`` the run as it
    stands in the file."""

    file: str
    run: Run
    base: Mapping[str, Any]
    panel: Mapping[str, Any]
    assumed: tuple[JobEntry, ...]
    lines: Lines
    written: Mapping[str, Any]

    def rail_of(self, side: str) -> Mapping[str, Any]:
        """What is written of the rail of a side; nothing where nothing is."""
        found = next((s.get("rail") for s in self.written["sides"] if s.get("name") == side), None)
        return found if isinstance(found, dict) else {}

    def job(self, changes: Mapping[str, Any], title: str = "") -> Job:
        """The plain job that the base becomes with ``panels``, ``mounts`` and whatever else changes; what is None is left out.
        Raises JobRefused."""
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
            if value is None:
                document.pop(key, None)
                continue
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
        node: Any = {**self.base, "run": {**self.written, "panel": self.panel}}
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
    shared = document.get("rail")
    for key in OF_A_SIDE:
        if isinstance(shared, dict) and key in shared:
            text = "is of one side and stands beside what all rails share; write it under [run.sides.rail], or the division does"
            faults.append(Fault(f"rail.{key}", text, lines.of(("rail", key))))
    if isinstance(shared, dict) and panel.get("rail") == "none":
        text = 'is described, and run.panel.rail is "none"; write rail = "cap" there, or take [rail] out'
        faults.append(Fault("rail", text, lines.of(("rail",))))
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
    return RunFile(file, read, document, panel, tuple(_assumed(tree)), lines, run)


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
        if side.rail is not None and not isinstance(document.get("rail"), dict):
            text = "says how a rail is held that is described nowhere; write [rail] with its section, strength and grip"
            fault(f"run.sides.{side.name}.rail", text, "run", "sides", i, "rail")
    faults.extend(_joined(run, lines))
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


def _joined(run: Run, lines: Lines) -> list[Fault]:
    """Two rails that meet at a corner are joined there, or neither is."""
    said: dict[tuple[str, str], bool | None] = {}
    for side in run.sides:
        for at in ("start", "end"):
            end = None if side.rail is None else getattr(side.rail, at)
            if end is not None and end.fixing == "corner":
                said[side.name, at] = end.joined
    faults = []
    for corner in run.corners:
        one, other = said.get((corner.side, corner.at)), said.get((corner.other, corner.other_at))
        if (one is True) != (other is True) and None not in (one, other):
            place = ("run", "sides", [s.name for s in run.sides].index(corner.other), "rail", corner.other_at, "joined")
            text = f"disagrees with the rail of {corner.side}, which meets this one there; a corner is joined or it is not"
            faults.append(Fault(f"run.sides.{corner.other}.rail.{corner.other_at}.joined", text, lines.of(place)))
    return faults
