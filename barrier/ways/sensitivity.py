"""How much hangs on each entry: one at a time a tenth less and a tenth more, or one step of a table; each a real check.

No probability: a tenth is a size to compare entries by, and says nothing about how well one is known.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from barrier.job import Job
from barrier.job.schema import Mount
from barrier.tables import Tables
from barrier.ways.moves import glass_of, roots, used, with_glass
from barrier.ways.outcome import Outcome
from barrier.ways.setting import Changes, set_

TENTH = 0.1
At = Callable[[Changes], Outcome]


@dataclass(frozen=True)
class Turned:
    """An entry one way: what it then is, and what the changed job came to."""

    words: str
    outcome: Outcome

    @property
    def size(self) -> float | None:
        """The largest utilisation of a required check; None where the job file refuses it or a check has no number."""
        line = self.outcome.governing
        return None if self.outcome.refused or line is None else line.rank


@dataclass(frozen=True)
class Hang:
    """One entry in words, less and more of it; None where there is no step that way."""

    entry: str
    less: Turned | None
    more: Turned | None

    def spread(self, base: float) -> float:
        """How far the largest utilisation goes from what it is; the ways without a number come first."""
        sizes = [t.size for t in (self.less, self.more) if t is not None and not t.outcome.refused]
        return max((float("inf") if x is None else abs(x - base) for x in sizes), default=-1.0)


Entry = tuple[str, tuple[str, Changes] | None, tuple[str, Changes] | None]


def sensitivity(job: Job, tables: Tables, at: At) -> tuple[Hang, ...]:
    """Every entry that is looked at, those that move the largest utilisation most first.

    Arguments: ``job``; ``tables``, for the glass; ``at`` walks the job with changes.
    """
    found = [Hang(name, _turned(less, at), _turned(more, at)) for name, less, more in entries(job, tables)]
    governing = at({}).governing
    base = governing.rank if governing is not None and governing.rank is not None else 0.0
    return tuple(sorted(found, key=lambda h: -h.spread(base)))


def _turned(way: tuple[str, Changes] | None, at: At) -> Turned | None:
    return None if way is None else Turned(way[0], at(way[1]))


def entries(job: Job, tables: Tables) -> Iterator[Entry]:
    """The entries of a job from the glass down, each with less and more of it."""
    yield from _glass(job, tables)
    panel = job.panels[0]
    for name, has, path in (("width of the panel", panel.width, "width"), ("height of the glass", panel.height, "height")):
        yield _both(name, float(has.x), lambda x, p=path: set_(job, {f"panels.{panel.name}.{p}": _mm(x)}).everything)  # type: ignore[misc]
    yield from _mounts(job)
    yield from _blocking(job)
    yield _both("thickness of the boards", float(job.decking.thickness.x), lambda x: {"decking.thickness": _mm(x)})


def _glass(job: Job, tables: Tables) -> Iterator[Entry]:
    layer = job.panels[0].layers[0]
    rows = glass_of(job, tables)
    at = next((i for i, (_, x) in enumerate(rows) if layer.nominal is not None and abs(x - float(layer.nominal.x)) < 0.05), None)
    if at is None:
        return
    steps = [rows[i][0] if 0 <= i < len(rows) else None for i in (at - 1, at + 1)]
    less, more = ((name, with_glass(job, name)) if name else None for name in steps)
    yield "glass, one step of the table", less, more


def _mounts(job: Job) -> Iterator[Entry]:
    width = float(job.panels[0].width.x)
    own = [m for m in job.mounts if m.panel == job.panels[0].name]
    edge = min(min(float(m.x.x), width - float(m.x.x)) for m in own)

    def moved(x: float) -> Changes:
        by = x - edge
        middle = [abs(float(m.x.x) - width / 2) < 1.0 for m in own]
        return {
            f"mounts.{m.name}.x": _mm(float(m.x.x) + (by if float(m.x.x) < width / 2 else -by))
            for m, is_middle in zip(own, middle, strict=True)
            if not is_middle
        }

    yield _both("mounts from the ends", edge, moved)
    kinds = roots(job)
    first = kinds[0][1]
    yield _scaled("depth of glass in the clamp", float(first.pads[0].top.x - first.pads[0].bottom.x), kinds, _pads)
    for key, words in (("along", "base plate along the glass"), ("across", "base plate across the glass")):
        yield _scaled(words, float(getattr(first.plate, key).x), kinds, lambda m, by, k=key: _plate(m, by, k))  # type: ignore[misc]
    yield _scaled("screws apart, across the glass", 2 * max(abs(float(s.y.x)) for s in first.screws), kinds, _apart)
    if first.screw.diameter is not None:
        yield _scaled("diameter of the screws", float(first.screw.diameter.x), kinds, _thick)
    if first.screw.length is not None:
        yield _scaled("length of the screws", float(first.screw.length.x), kinds, _long)


def _pads(m: Mount, by: float) -> Changes:
    return {f"pads.{i}.top": _mm(float(p.bottom.x) + by * float(p.top.x - p.bottom.x)) for i, p in enumerate(m.pads, 1)}


def _plate(m: Mount, by: float, key: str) -> Changes:
    return {f"plate.{key}": _mm(by * float(getattr(m.plate, key).x))}


def _apart(m: Mount, by: float) -> Changes:
    return {f"screws.{s.name}.y": _mm(by * float(s.y.x)) for s in m.screws}


def _thick(m: Mount, by: float) -> Changes:
    told = {key: getattr(m.screw, key) for key in ("diameter", "root", "head")}
    return {f"screw.{key}": _mm(by * float(v.x)) for key, v in told.items() if v is not None}


def _long(m: Mount, by: float) -> Changes:
    if m.screw.length is None:
        return {}
    grown = (by - 1.0) * float(m.screw.length.x)
    changes: Changes = {"screw.length": _mm(float(m.screw.length.x) + grown)}
    if m.screw.threaded is not None:
        changes["screw.threaded"] = _mm(float(m.screw.threaded.x) + grown)
    return changes


def _blocking(job: Job) -> Iterator[Entry]:
    if not used(job):
        return
    one = job.blocking[used(job)[0]]
    for key, words in (("width", "width of a piece of blocking"), ("depth", "depth of the blocking")):
        has = float(getattr(one, key).x)
        yield _both(words, has, lambda x, k=key: _all(job, k, _mm(x)))  # type: ignore[misc]
    counts = [one.pieces - 1 or None, one.pieces + 1]
    less, more = ((f"{n}", _all(job, "pieces", n)) if n else None for n in counts)
    yield "pieces of blocking, one step", less, more


def _all(job: Job, key: str, value: object) -> Changes:
    return {f"blocking.{b}.{key}": value for b in used(job)}


def _scaled(name: str, has: float, kinds: list[tuple[str, Mount]], of: Callable[[Mount, float], Changes]) -> Entry:
    """An entry of every kind of mount, each by the same part."""

    def at(x: float) -> Changes:
        return {f"{root}.{path}": value for root, m in kinds for path, value in of(m, x / has).items()}

    return _both(name, has, at)


def _both(name: str, has: float, at: Callable[[float], Changes]) -> Entry:
    less, more = ((f"{x:.4g} mm", at(x)) for x in (has * (1 - TENTH), has * (1 + TENTH)))
    return name, less, more


def _mm(x: float) -> str:
    return f"{round(x, 3):.12g} mm"
