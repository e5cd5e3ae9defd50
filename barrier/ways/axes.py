"""What a grid is set out over: entries of a job, each with its stops, one of which is what the job has.

A stop is changes to the file. Three axes go by a word of the trade, for each of them moves several entries at once: *glass* every
layer of every panel, *mounts* the outer mounts of a panel at one distance from the ends of its glass, *pieces* all blocking.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from barrier.errors import Fault, JobRefused
from barrier.job import Job
from barrier.job.asked_for import path_of
from barrier.job.quantity import parse
from barrier.job.schema import Mount
from barrier.job.spoken import spoken
from barrier.tables import Tables
from barrier.ways.moves import glass_of, with_glass
from barrier.ways.setting import Changes, text_of, value_of

GLASS, MOUNTS, PIECES = "glass", "mounts", "pieces"
FEWEST, MOST_AXES, MOST_STOPS = 2, 3, 25
BELOW, ABOVE = 1, 3  # stops below and above what the job has, where no range is given: who asks, asks for more
STEP = {"width": {"metric": 100.0, "us": 101.6}, "": {"metric": 25.0, "us": 25.4}}  # mm, of a width and of any other length
MOST_PIECES = 3  # as far as the ladder goes
MOST_GLASS = 4  # stops, where no range is given
ALIKE = 0.01  # mm: lengths closer than this are one stop
_NUMBER = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*(.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Stop:
    """One place of an axis: what it says, in the words of a job file, its length in mm where it is one, its changes.

    ``own`` where it is what the job has: it changes nothing.
    """

    says: str
    x: float | None = None
    changes: tuple[tuple[str, object], ...] = ()
    own: bool = False


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis: its ``name`` as asked for (a path or one of the three words), ``title`` for a reader, stops in their order."""

    name: str
    title: str
    stops: tuple[Stop, ...]

    @property
    def own(self) -> int:
        """The number of the stop that is what the job has."""
        return next(i for i, s in enumerate(self.stops) if s.own)


def axes_of(job: Job, asked: Sequence[str], rule: str, tables: Tables) -> tuple[Axis, ...]:
    """The axes a reader asks for, or three of the tool's own: width of the first panel, glass, and pieces of blocking or mounts.

    Arguments: ``job``; ``asked`` texts ``ENTRY``, ``ENTRY=VALUE, VALUE ...`` or ``ENTRY=LOW..HIGH step STEP``, an entry by its
    path, in trade words, or one of *glass*, *mounts*, *pieces*; ``rule`` for mounts of a wider panel; ``tables`` for the glass
    there is. Returns one to three axes. Raises JobRefused for what is no axis.

    >>> from barrier.job.read import job_from_text
    >>> from barrier.worked import example_text
    >>> axis, = axes_of(job_from_text(example_text()), ["panel width=900 mm..1200 mm step 100 mm"], "edge", Tables())
    >>> axis.title, [s.says for s in axis.stops], axis.own
    ('panel P3: width', ['900 mm', '1000 mm', '1100 mm', '1200 mm'], 1)
    """
    wanted = tuple(asked) or _usual(job, rule, tables)
    if not 1 <= len(wanted) <= MOST_AXES:
        raise _refused(job, f"is there {len(wanted)} times; a page has one to {MOST_AXES} sliders")
    found = tuple(_axis(job, text, rule, tables) for text in wanted)
    names = [a.name for a in found]
    for name in names:
        if names.count(name) > 1:
            raise _refused(job, f"names {name} twice; each slider is over an entry of its own")
    _one_each(job, found)
    return found


def _usual(job: Job, rule: str, tables: Tables) -> tuple[str, ...]:
    third = PIECES if _blocking(job) else MOUNTS if rule == "edge" and _outer(job) else ""
    glass = GLASS if glass_of(job, tables) else ""
    return tuple(t for t in (f"panels.{job.panels[0].name}.width", glass, third) if t)


def _axis(job: Job, text: str, rule: str, tables: Tables) -> Axis:
    name, equals, span = (part.strip() for part in text.partition("="))
    if equals and not span:
        raise _refused(job, f'says {text!r}; write ENTRY=LOW..HIGH step STEP, panels.P1.width="900 mm..1800 mm step 100 mm"')
    if name == GLASS:
        return _checked(job, _glass(job, span, tables))
    if name == MOUNTS:
        return _checked(job, _mounts(job, span, rule))
    if name == PIECES:
        return _checked(job, _pieces(job, span))
    path = path_of(job, name)
    entry = text_of(job, path)
    has = parse(entry, "length")
    if not span and not isinstance(has, float):
        raise _refused(job, f"{path} is no length; say over which values, --over {path}=A,B,C")
    told = _values(job, path, span) if span else _around(float(has), path, job.units)
    stops = [Stop(says, x, ((path, value_of(says)),)) for says, x in told]
    own = Stop(entry, has if isinstance(has, float) else None, (), True)
    return _checked(job, Axis(path, spoken(path), _with_own(stops, own)))


def _around(has: float, path: str, units: str) -> list[tuple[str, float | None]]:
    """Even steps below and above what the job has."""
    step = STEP["width" if path.endswith((".width", ".height")) else ""][units]
    return [(_mm(has + i * step), has + i * step) for i in range(-BELOW, ABOVE + 1) if has + i * step > 0.0]


def _with_own(stops: Sequence[Stop], own: Stop) -> tuple[Stop, ...]:
    """The stops with what the job has among them: in place of the one that says the same, else in order, else first."""
    same = [i for i, s in enumerate(stops) if _same(s, own)]
    if same:
        return tuple(own if i == same[0] else s for i, s in enumerate(stops) if i not in same[1:])
    place = 0
    if own.x is not None:
        place = next((i for i, s in enumerate(stops) if s.x is not None and s.x > own.x), len(stops))
    return (*stops[:place], own, *stops[place:])


def _same(a: Stop, b: Stop) -> bool:
    """Whether two stops are one: by their words (half an inch of glass is 12 mm in its table), or as lengths."""
    close = a.x is not None and b.x is not None and abs(a.x - b.x) < ALIKE
    return close or a.says.casefold() == b.says.casefold()


# ---------------------------------------------------------------- the three words


def _glass(job: Job, span: str, tables: Tables) -> Axis:
    """Thicknesses of the table of the basis; without a range one below what the job has and two above."""
    table = glass_of(job, tables)
    layers = [layer for p in job.panels for layer in p.layers]
    sizes = {None if layer.nominal is None else float(layer.nominal.x) for layer in layers}
    has = sizes.pop() if len(sizes) == 1 else None
    own = Stop("as described" if has is None else text_of(job, f"panels.{job.panels[0].name}.layers.1.nominal"), has, (), True)
    named = dict(table)
    if span:
        told = [(says, x if x is not None else named.get(says)) for says, x in _values(job, GLASS, span)]
    else:
        place = [i for i, (name, x) in enumerate(table) if _same(Stop(name, x), own)]
        thinner = place[0] if place else sum(1 for _, x in table if has is not None and x < has)
        first = max(thinner - 1, 0)
        told = [(name, x) for name, x in table[first : first + (MOST_GLASS if place else MOST_GLASS - 1)]]
    stops = [Stop(_of_table(says, x, table), x, tuple(with_glass(job, _of_table(says, x, table)).items())) for says, x in told]
    many = " of every layer" if any(len(p.layers) > 1 for p in job.panels) else ""
    return Axis(GLASS, f"glass thickness{many}", _with_own(stops, own))


def _of_table(says: str, x: float | None, table: Sequence[tuple[str, float]]) -> str:
    """A thickness as the table names it, where it has it."""
    return next((name for name, size in table if x is not None and abs(size - x) < ALIKE), says)


def _outer(job: Job) -> list[Mount]:
    """The outer two mounts of the first panel, nothing where it has one only."""
    own = sorted((m for m in job.mounts if m.panel == job.panels[0].name), key=lambda m: float(m.x.x))
    return [own[0], own[-1]] if len(own) > 1 else []


def _mounts(job: Job, span: str, rule: str) -> Axis:
    """Distance of the outer mounts from the ends of the glass. What they change depends on the width, see :func:`places`."""
    outer = _outer(job)
    if not outer:
        raise _refused(job, "mounts wants a panel with two mounts at least")
    if rule != "edge":
        raise _refused(job, f"mounts says itself where mounts go with a wider panel; leave --mounts {rule} out")
    left, right = float(outer[0].x.x), float(job.panels[0].width.x) - float(outer[1].x.x)
    even = abs(left - right) < ALIKE
    told = _values(job, MOUNTS, span) if span else _around(left, "", job.units)
    for says, x in told:
        if x is None:
            raise _refused(job, f"mounts={says!r} is no length from the end of the glass to the middle of a mount")
    own = Stop(_mm(left), left, (), True) if even else Stop("as described", None, (), True)
    return Axis(MOUNTS, "mounts from each end", _with_own([Stop(s, x) for s, x in told], own))


def places(job: Job, distance: float, width: float) -> Changes:
    """The outer mounts of the first panel at one distance from the ends of a glass so wide, mm."""
    left, right = _outer(job)
    return {f"mounts.{left.name}.x": _mm(distance), f"mounts.{right.name}.x": _mm(width - distance)}


def _blocking(job: Job) -> list[str]:
    return list(dict.fromkeys(str(m.blocking) for m in job.mounts if m.blocking))


def _pieces(job: Job, span: str) -> Axis:
    used = _blocking(job)
    if not used:
        raise _refused(job, "pieces wants blocking under the mounts; this job has none")
    counts = {job.blocking[b].pieces for b in used}
    own = Stop(str(counts.pop()), None, (), True) if len(counts) == 1 else Stop("as described", None, (), True)
    told = [says for says, _ in _values(job, PIECES, span)] if span else [str(i) for i in range(1, MOST_PIECES + 1)]
    stops = [Stop(says, None, tuple((f"blocking.{b}.pieces", value_of(says)) for b in used)) for says in told]
    found = _with_own(stops, own)
    return Axis(PIECES, "pieces of blocking", found if span else tuple(sorted(found, key=_count)))


def _count(stop: Stop) -> int:
    return int(stop.says) if stop.says.isdigit() else 0


# ---------------------------------------------------------------- ranges and lists


def _values(job: Job, name: str, span: str) -> list[tuple[str, float | None]]:
    """What a range or a list says, each as the job file would have it, with its size in mm where it is a length."""
    span = span.strip("\"'")
    if ".." not in span:
        told = [part.strip().strip("\"'") for part in span.split(",") if part.strip()]
        return [(part, _length(part)) for part in told]
    low, _, rest = span.partition("..")
    high, _, step = (part.strip() for part in rest.partition("step"))
    ends = [_length(low), _length(high), _length(step)]
    if all(x is not None for x in ends):
        a, b, by = (float(x or 0.0) for x in ends)
        return [(_mm(x), x) for x in _steps(job, name, span, a, b, by)]
    parts = [_NUMBER.fullmatch(text.strip()) for text in (low, high, step or "1")]
    units = {m[2].strip() for m in parts if m is not None and (m is not parts[2] or step)}
    if None in parts or len(units) != 1:
        raise _refused(job, f'{name}={span!r} is no range; write LOW..HIGH step STEP in one unit, "900 mm..1800 mm step 100 mm"')
    a, b, by = (float(m[1]) for m in parts if m is not None)
    unit = units.pop()
    return [(f"{x:.10g} {unit}".strip(), None) for x in _steps(job, name, span, a, b, by)]


def _steps(job: Job, name: str, span: str, low: float, high: float, step: float) -> list[float]:
    if low >= high or step <= 0.0:
        raise _refused(job, f"{name}={span!r} does not run upwards; the lower end comes first, and the step is more than nought")
    if (high - low) / step > MOST_STOPS:
        raise _refused(job, f"{name}={span!r} has more than {MOST_STOPS} stops; take a longer step or a shorter range")
    return [round(low + i * step, 6) for i in range(int((high - low) / step + 1e-9) + 1)]


def _length(text: str) -> float | None:
    x = parse(text.strip(), "length") if text.strip() else None
    return x if isinstance(x, float) else None


def _checked(job: Job, axis: Axis) -> Axis:
    if not FEWEST <= len(axis.stops) <= MOST_STOPS:
        raise _refused(job, f"{axis.name} has {len(axis.stops)} stops; a slider wants {FEWEST} to {MOST_STOPS}")
    return axis


def _one_each(job: Job, axes: Sequence[Axis]) -> None:
    """Refuse two sliders over one entry: which of them counts nobody could say."""
    owner: dict[str, str] = {}
    for axis in axes:
        touched = {path for s in axis.stops for path, _ in s.changes}
        if axis.name == MOUNTS:
            touched |= set(places(job, 0.0, 0.0))
        for path in touched:
            if owner.setdefault(path, axis.name) != axis.name:
                raise _refused(job, f"{axis.name} and {owner[path]} both set {path}; each slider is over entries of its own")


def _refused(job: Job, text: str) -> JobRefused:
    return JobRefused(job.file, (Fault("--over", text),))


def _mm(x: float) -> str:
    return f"{round(x, 6):.10g} mm"
