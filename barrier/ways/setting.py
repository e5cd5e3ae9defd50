"""What a reader sets, and what goes along with it by a rule that is said: mounts with a wider panel, a barrier with its glass.

A panel that is made wider leaves its mounts somewhere. Three rules say where: *edge* keeps each mount at its distance from the
nearer end of the glass (a mount in the middle stays in the middle), *fraction* keeps its place as a part of the width, *fixed*
leaves it where it was, from the left end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from barrier.errors import Fault, JobRefused
from barrier.job import Job
from barrier.job.asked_for import path_of
from barrier.job.quantity import parse

RULES = {
    "edge": "mounts keep their distance from the nearer end of the glass; one in the middle stays there",
    "fraction": "mounts keep their place as a part of the width",
    "fixed": "mounts stay where they are, measured from the left end of the glass",
}
MIDDLE = 0.01  # of the width: a mount closer than this to the middle stands in the middle
Changes = dict[str, object]


@dataclass(frozen=True, slots=True)
class Setting:
    """What was set, what goes along with it and why, and the rule for mounts (empty where no panel changed its width)."""

    changes: Mapping[str, object]
    along: Mapping[str, str]
    rule: str = ""

    @property
    def everything(self) -> Changes:
        """All changes in the order they are made."""
        return dict(self.changes)


def asked(job: Job, texts: Sequence[str], rule: str = "edge") -> Setting:
    """Settings as a reader writes them.

    Arguments: ``job``; ``texts`` of the form ``ENTRY=VALUE``, an entry by its path or in trade words, a value as the job file has
    it with or without quotes (``1450 mm``, ``true``, ``3``, ``none`` to take the entry away); ``rule`` one of :data:`RULES`.
    Returns the setting with what goes along. Raises JobRefused for an entry that is not there.

    >>> from barrier.job.read import job_from_text
    >>> from barrier.worked import example_text
    >>> told = asked(job_from_text(example_text()), ["panel width = 1450 mm"])
    >>> told.everything
    {'panels.P3.width': '1450 mm', 'mounts.M2.x': '1220 mm'}
    """
    changes: Changes = {}
    for text in texts:
        name, equals, value = text.partition("=")
        if not equals or not value.strip():
            raise JobRefused(job.file, (Fault("--set", f'says {text!r}; write ENTRY=VALUE, panels.P1.width="1450 mm"'),))
        changes[path_of(job, name)] = value_of(value.strip())
    return set_(job, changes, rule)


def value_of(text: str) -> object:
    """A value as TOML would have it; what is in no quotes and no number is a text."""
    bare = text.strip("\"'")
    if bare == text:
        if text in ("true", "false"):
            return text == "true"
        if text in ("none", "absent"):
            return None
        if re.fullmatch(r"[+-]?\d{1,9}", text):
            return int(text)
    return bare


def text_of(job: Job, path: str) -> str:
    """What the job says at an entry; at one of a mount type, what a mount of that type says.

    >>> from barrier.job.read import job_from_text
    >>> from barrier.worked import example_text
    >>> text_of(job_from_text(example_text()), "mount_types.deep.screw.length")
    '180 mm'
    """
    table, _, rest = path.partition(".")
    name, _, entry = rest.partition(".")
    mount = next((m.name for m in job.mounts if table == "mount_types" and m.type == name), None)
    return job.entry(path if mount is None else f"mounts.{mount}.{entry}").text


def set_(job: Job, changes: Mapping[str, object], rule: str = "edge") -> Setting:
    """Changes with what goes along with them: see :func:`asked`. Raises JobRefused for a rule that is not there."""
    if rule not in RULES:
        raise JobRefused(job.file, (Fault("--mounts", f"= {rule!r} is no rule for the mounts; use {', '.join(RULES)}"),))
    widths = {w[0] for w in _lengths(job, changes, "width")}
    along = dict(_along(job, changes, rule))
    whole = {**changes, **{path: text for path, (text, _) in along.items()}}
    return Setting(whole, {path: why for path, (_, why) in along.items()}, rule if widths else "")


def _along(job: Job, changes: Mapping[str, object], rule: str) -> Iterator[tuple[str, tuple[str, str]]]:
    for name, before, after in _lengths(job, changes, "width"):
        for mount in job.mounts:
            path = f"mounts.{mount.name}.x"
            if mount.panel == name and path not in changes:
                x = _moved(float(mount.x.x), before, after, rule)
                if abs(x - float(mount.x.x)) > 1e-9:
                    yield path, (_mm(x), RULES[rule])
    yield from _height(job, changes)


def _moved(x: float, before: float, after: float, rule: str) -> float:
    if rule == "fixed":
        return x
    if rule == "fraction" or abs(x - before / 2) < MIDDLE * before:
        return x * after / before
    return x if x < before / 2 else after - (before - x)


def _height(job: Job, changes: Mapping[str, object]) -> Iterator[tuple[str, tuple[str, str]]]:
    """The height of the barrier goes with the glass, where the job had the two agree."""
    path = "site.barrier_height"
    told = [*_lengths(job, changes, "height"), *_lengths(job, changes, "bottom_gap")]
    if not told or path in changes or job.site.barrier_height is None:
        return
    by = {after - before for _, before, after in told}
    if len(by) == 1:
        yield path, (_mm(float(job.site.barrier_height.x) + by.pop()), "the height of the barrier goes with its glass")


def _lengths(job: Job, changes: Mapping[str, object], key: str) -> Iterator[tuple[str, float, float]]:
    """Panels whose length of this key is changed: name, before, after, in mm."""
    for number, panel in enumerate(job.panels, 1):
        for spelt in (panel.name, str(number)):
            text = changes.get(f"panels.{spelt}.{key}")
            x = parse(text, "length") if isinstance(text, str) else None
            if isinstance(x, float):
                yield panel.name, float(getattr(panel, key).x), x


def _mm(x: float) -> str:
    return f"{round(x, 3):.12g} mm"
