"""Single panels that are not by the rule: other mounts or places of them, other blocking, any entry of panel, mount or piece.

What a panel says of itself wins over what the run says of all. It is read once by itself, so that what is wrong with it is refused
where it stands; its job, its findings and its condition are then its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from barrier.errors import Fault, JobRefused
from barrier.job import Job
from barrier.job.faults import each_once, no_such
from barrier.job.quantity import parse
from barrier.job.read import job_from_text
from barrier.job.run import Single
from barrier.job.run_file import RunFile

SET_OUT = {
    "panel": ("name", "width", "rail", "from_end", "place", "corner"),
    "mount": ("name", "panel", "x", "type", "support", "blocking", "in_bay", "offset"),
    "blocking": ("same_as", "length", "direction"),
}
INSTEAD = "is set out by the run; write near, far, mounts, places, type or blocking beside panel, or change the side"
KINDS = "panel, mount, mount.1 (the first as the tape runs) or blocking, and then the path of an entry"
Key = tuple[object, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """What one panel says of itself: its number among the singles from one, and the entries; none where it is by the rule."""

    number: int
    single: Single | None

    @property
    def key(self) -> Key:
        """What makes its panel another condition, whatever its lengths."""
        s = self.single
        if s is None or (self.by_rule and s.mounts is None and s.places is None):
            return ()
        places = None if s.places is None else tuple(float(x.x) for x in s.places)
        return s.type, s.blocking, s.mounts, places, tuple(sorted((k, repr(v)) for k, v in (s.set or {}).items()))

    @property
    def by_rule(self) -> bool:
        """Whether it is as the run says but for the places of its mounts."""
        return self.single is None or not (self.single.type or self.single.blocking or self.single.set)

    def type(self, file: RunFile) -> str:
        """The type of its mounts."""
        return file.run.mounts.type if self.single is None or self.single.type is None else self.single.type

    def use(self, file: RunFile) -> str:
        """The table of its blocking."""
        return file.run.blocking.use if self.single is None or self.single.blocking is None else self.single.blocking

    def changes(self, kind: str) -> list[tuple[list[str], object]]:
        """Paths below a panel, a mount or a piece, and what then stands there."""
        every = {} if self.single is None or self.single.set is None else self.single.set
        return [(path.split(".")[1:], value) for path, value in every.items() if path.split(".")[0] == kind]

    def words(self, kind: str = "") -> str:
        """What is its own, in words, of one kind or of all; nothing where nothing is."""
        s = self.single
        if s is None:
            return ""
        said = {
            "near": f"near {s.near.x:g} mm" if s.near is not None else "",
            "far": f"far {s.far.x:g} mm" if s.far is not None else "",
            "mounts": f"{s.mounts} mounts" if s.mounts is not None else "",
            "places": f"{len(s.places)} mounts placed" if s.places else "",
            "type": f"mount type {s.type}" if s.type else "",
            "blocking": f"blocking {s.blocking}" if s.blocking else "",
            **{path: f"{path} {'left out' if value is None else value}" for path, value in (s.set or {}).items()},
        }
        return ", ".join(text for path, text in said.items() if text and path.startswith(kind))


def own_of(file: RunFile, panel: str) -> Own:
    """What a panel says of itself."""
    found = next(((i, s) for i, s in enumerate(file.run.singles, 1) if s.panel == panel), (0, None))
    return Own(*found)


# ---------------------------------------------------------------- written into a job


def panel_of(file: RunFile, name: str, own: Own) -> dict[str, Any]:
    """The entries of a panel besides its name and width."""
    found = deepcopy(dict(file.panel))
    for path, value in own.changes("panel"):
        _put(file, own, ["panel"], found, path, value)
    return found


def mount_of(file: RunFile, own: Own, number: int) -> dict[str, Any]:
    """The entries of a mount besides its places; ``number`` from one as the tape runs. Its type is written out where changed."""
    found: dict[str, Any] = {}
    for path, value in own.changes("mount"):
        parts = path[1:] if path[0].isdigit() else path
        if path[0].isdigit() and int(path[0]) != number:
            continue
        found = found or deepcopy(dict(file.base["mount_types"][own.type(file)]))
        _put(file, own, ["mount", *path[: len(path) - len(parts)]], found, parts, value)
    return {**found, "type": own.type(file)}


def blocking_of(file: RunFile, own: Own) -> dict[str, Any]:
    """The entries of a piece of blocking besides its length and direction."""
    found: dict[str, Any] = {"same_as": own.use(file)}
    for path, value in own.changes("blocking"):
        _put(file, own, ["blocking"], found, path, value)
    return found


def top_of(file: RunFile, owns: list[Own]) -> dict[str, Any]:
    """The height of the barrier where panels have their own: that of theirs, or not known where they differ."""
    written = file.base.get("site")
    site = written.get("barrier_height") if isinstance(written, dict) else None
    by_rule = _top(file.panel)
    tops = {_top(panel_of(file, "", own)) for own in owns}
    measured = _mm(site)
    if tops == {by_rule} or by_rule is None or measured is None:
        return {}
    top = next(iter(tops))
    return {"site": {"barrier_height": "unknown" if len(tops) > 1 or top is None else f"{measured + top - by_rule:g} mm"}}


def _top(panel: Mapping[str, Any]) -> float | None:
    parts = [_mm(panel.get(key)) for key in ("height", "bottom_gap")]
    return None if None in parts else sum(x for x in parts if x is not None)


def _mm(raw: object) -> float | None:
    x = parse(raw, "length") if isinstance(raw, str) else None
    return x if isinstance(x, float) else None


def _put(file: RunFile, own: Own, before: list[str], table: dict[str, Any], path: list[str], value: object) -> None:
    """Write a value at a path; None takes it out. Raises JobRefused for a step that leads nowhere."""
    node: Any = table
    for i, part in enumerate(path[:-1]):
        node = node.setdefault(part, {}) if isinstance(node, dict) else _element(file, own, [*before, *path], node, part)
        if not isinstance(node, dict | list):
            text = f"leads below a single entry; there is nothing named {path[i + 1]!r} in it"
            raise _refused(file, own, ".".join([*before, *path]), text)
    last = path[-1]
    if isinstance(node, list):
        at = next(i for i, n in enumerate(node) if n is _element(file, own, [*before, *path], node, last))
        node[at : at + 1] = [] if value is None else [value]
    elif value is None:
        node.pop(last, None)
    else:
        node[last] = value


def _element(file: RunFile, own: Own, path: list[str], nodes: list[Any], part: str) -> Any:
    names = [str(n.get("name", i)) if isinstance(n, dict) else str(i) for i, n in enumerate(nodes, 1)]
    at = names.index(part) if part in names else int(part) - 1 if part.isdigit() else -1
    if not 0 <= at < len(nodes):
        raise _refused(file, own, ".".join(path), no_such("element", part, names))
    return nodes[at]


# ---------------------------------------------------------------- refusals


def _refused(file: RunFile, own: Own, path: str, text: str) -> JobRefused:
    return JobRefused(file.file, (_fault(file, own, path, text),))


def _fault(file: RunFile, own: Own, path: str, text: str) -> Fault:
    """A fault at an entry of a single's set."""
    line = file.lines.of(("run", "singles", own.number - 1, "set", path))
    return Fault(f"run.singles.{own.number}.set.{path}", text, line)


def known(file: RunFile, names: list[str]) -> None:
    """Panels, types, tables of blocking and first words of paths are there. Raises JobRefused."""
    tables = {"type": ("mount_types", "mount type"), "blocking": ("blocking", "blocking")}
    for n, single in enumerate(file.run.singles, 1):
        if single.panel not in names:
            raise file.refused(f"run.singles.{n}.panel", no_such("panel", single.panel, names))
        if [s.panel for s in file.run.singles].index(single.panel) != n - 1:
            raise file.refused(f"run.singles.{n}.panel", f"{single.panel!r} has two of [[run.singles]]; write one of both")
        for key, (table, what) in tables.items():
            said, there = getattr(single, key), list(file.base.get(table) or ())
            if said is not None and said not in there:
                raise file.refused(f"run.singles.{n}.{key}", no_such(what, said, there))
        for path in single.set or {}:
            own, parts = Own(n, single), path.split(".")
            rest = parts[2:] if parts[0] == "mount" and len(parts) > 1 and parts[1].isdigit() else parts[1:]
            if parts[0] not in SET_OUT or not rest or not all(parts):
                raise _refused(file, own, path, f"is no path of a single panel; write {KINDS}")
            if rest[0] in SET_OUT[parts[0]]:
                raise _refused(file, own, path, INSTEAD)


def read(file: RunFile, own: Own, changes: Mapping[str, Any]) -> Job:
    """The job of one panel with what is its own. Raises JobRefused with every fault at the entry that brought it."""
    try:
        return job_from_text(file.text(changes), file.file)
    except JobRefused as refused:
        raise JobRefused(file.file, each_once([_brought(file, own, f) for f in refused.faults])) from None


def _brought(file: RunFile, own: Own, fault: Fault) -> Fault:
    """A fault of the job of a panel, at what of its own brought it."""
    parts = fault.key.split(".")
    kind, below = {"panels": "panel", "mounts": "mount", "blocking": "blocking"}.get(parts[0], ""), parts[2:]
    for path in own.single.set or {} if own.single is not None else {}:
        of = path.split(".")
        rest = of[2:] if of[0] == "mount" and of[1].isdigit() else of[1:]
        if of[0] == kind and (below[: len(rest)] == rest or rest[: len(below)] == below):
            return _fault(file, own, path, fault.text)
    line = file.lines.of(("run", "singles", own.number - 1))
    return Fault(f"run.singles.{own.number}", f"makes a job that cannot be: {fault.key}: {fault.text}", line)


def one_blocking(file: RunFile, carried: Mapping[str, list[str]]) -> None:
    """A piece that carries mounts of two panels has one blocking. ``carried``: by its mark the panels on it. Raises JobRefused."""
    for mark, panels in carried.items():
        owns = [own_of(file, p) for p in panels]
        said = {(o.use(file), repr(o.changes("blocking"))): o for o in owns}
        if len(said) > 1:
            own = max(said.values(), key=lambda o: o.number)
            text = f"puts other blocking on piece {mark}, which carries panels {' and '.join(panels)}; write the same for both"
            raise JobRefused(
                file.file, (Fault(f"run.singles.{own.number}", text, file.lines.of(("run", "singles", own.number - 1))),)
            )  # fmt: skip
