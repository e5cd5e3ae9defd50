"""Limits: for which sizes of one entry no required check exceeds. Scanned first, then every crossing is bracketed.

Utilisation does not only rise with a size: a corner load is hardest on a panel of middle width, a mount moves from its joist. So
the range is looked at in even steps, and every step between whose ends the answer differs is halved down to the resolution. A dip
between two neighbouring steps would be missed; the step is said. A check that is no longer made at a size counts as one that
exceeds: what is not known sets a limit as well.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from barrier.errors import Fault, JobRefused
from barrier.job import Job
from barrier.job.asked_for import path_of
from barrier.job.quantity import parse
from barrier.links.memo import Memo
from barrier.load_path import Result, check
from barrier.tables import Tables
from barrier.ways.moves import glass_of, with_glass
from barrier.ways.outcome import Line, Outcome, changed
from barrier.ways.runner import Progress, tables_of
from barrier.ways.sensitivity import Hang, sensitivity
from barrier.ways.setting import Changes, asked, set_, text_of

STEPS = 12
RESOLUTION = 1.0  # mm
WIDTHS, HEIGHTS = (0.6, 0.8, 1.0, 1.2, 1.4, 1.6), (0.8, 0.9, 1.0, 1.1, 1.2)  # of what the job has: fields of the envelope
LOW, HIGH = 0.5, 2.0  # of the size the job has: the range where none is asked for


@dataclass(frozen=True)
class Crossing:
    """Where the answer changes: the last size on this side, the first on that; what governs at each; which of them exceeds."""

    below: float
    above: float
    governs_below: Line | None
    governs_above: Line | None
    exceeds_above: bool


@dataclass(frozen=True)
class Limit:
    """One entry over a range in mm: where it was looked at, every crossing, the ``largest`` size that holds (None where none does);
    ``next_limit`` is the size looked at and the check of another link that exceeds beyond the first crossing upwards."""

    path: str
    low: float
    high: float
    step: float
    looks: tuple[tuple[float, Outcome], ...]
    crossings: tuple[Crossing, ...]
    largest: float | None = None
    next_limit: tuple[float, Line] | None = None


@dataclass(frozen=True, eq=False)
class Limits:
    """The limits of a job, and the job as it is in figures; ``over`` says that required checks were not made and the reader
    asked for limits all the same; ``hangs`` how much hangs on each entry."""

    result: Result
    base: Outcome
    found: tuple[Limit, ...]
    glass: tuple[tuple[str, Outcome], ...]
    envelope: tuple[tuple[float, float, Outcome], ...]
    over: bool = False
    hangs: tuple[Hang, ...] = ()
    kind = "limits"


def crossings(holds: Callable[[float], bool], low: float, high: float, steps: int, resolution: float) -> list[tuple[float, float]]:
    """Every place between ``low`` and ``high`` where an answer changes: pairs of sizes no further apart than ``resolution``.

    ``holds`` is asked at ``steps`` + 1 even places, then by halving between two neighbours that differ; sizes in any unit, one
    for all.

    >>> [(round(a), round(b)) for a, b in crossings(lambda x: 640 <= x <= 1360, 400, 1600, 6, 1.0)]
    [(639, 640), (1360, 1361)]
    """
    places = [low + (high - low) * i / steps for i in range(steps + 1)]
    answers = [holds(x) for x in places]
    found = []
    for a, b, at_a, at_b in zip(places, places[1:], answers, answers[1:], strict=False):
        left, right = a, b
        while at_a is not at_b and right - left > resolution * 1.0001:
            middle = min(max(round((left + right) / 2 / resolution) * resolution, left), right)
            if middle in (left, right):
                break
            left, right = (middle, right) if holds(middle) is at_a else (left, middle)
        if at_a is not at_b:
            found.append((left, right))
    return found


def limits(
    job: Job, entries: Sequence[str] = (), settings: Sequence[str] = (), *, rule: str = "edge", over_unchecked: bool = False,
    envelope: bool = False, hangs: bool = False, tables: Tables | None = None, progress: Progress | None = None,
) -> Limits:  # fmt: skip
    """For which sizes of each entry no required check exceeds.

    Arguments: ``job``; ``entries`` as ``ENTRY=LOW..HIGH`` or ``ENTRY`` (width and height of the first panel if none);
    ``settings`` made first, ``rule`` where mounts go with a wider panel; ``over_unchecked`` to go on where required checks are not
    made; ``envelope`` to look at width and height together; ``hangs`` at every entry a tenth less and more; ``tables``, the
    job's own if not given; ``progress`` is told how far it is. Returns the limits. Raises JobRefused, for required checks that
    are not made too.
    """
    if settings:
        job = job.with_(asked(job, settings, rule).everything)
    tables = tables or tables_of(job)
    asker = _Asker(job, tables, rule, progress or (lambda done, of: None))
    missing = asker.at({}).unknown
    if missing and not over_unchecked:
        titles = "; ".join(line.title for line in missing[:4])
        text = f"{len(missing)} required checks are not made ({titles}); a limit over them could not be leant on"
        raise JobRefused(job.file, (Fault("", f"{text}. Answer what they need, or say --over-unchecked"),))
    panel = job.panels[0].name
    wanted = entries or (f"panels.{panel}.width", f"panels.{panel}.height")
    found = tuple(asker.limit(*_range(job, text)) for text in wanted)
    glass = tuple((name, asker.at(with_glass(job, name))) for name, _ in glass_of(job, tables)) if not entries else ()
    fields = asker.envelope(panel) if envelope else ()
    turned = sensitivity(job, tables, asker.at) if hangs else ()
    return Limits(check(job, (), tables), asker.at({}), found, glass, fields, bool(missing), turned)


class _Asker:
    def __init__(self, job: Job, tables: Tables, rule: str, progress: Progress) -> None:
        self.job, self.tables, self.rule, self.progress = job, tables, rule, progress
        self.memo = Memo()
        self.seen: dict[tuple[tuple[str, str], ...], Outcome] = {}
        self.unknown = {line.id for line in self.at({}).unknown}

    def holds(self, outcome: Outcome) -> bool:
        """Whether no required check exceeds, and none is less known than in the job as it stands."""
        return not outcome.refused and not outcome.exceeding and {line.id for line in outcome.unknown} <= self.unknown

    def at(self, changes: Changes) -> Outcome:
        key = tuple((p, repr(v)) for p, v in changes.items())
        if key not in self.seen:
            self.seen[key] = changed(self.job, set_(self.job, changes, self.rule).everything, self.tables, self.memo)
            self.progress(len(self.seen), 0)
        return self.seen[key]

    def sized(self, path: str, x: float) -> Outcome:
        return self.at({path: f"{x:.10g} mm"})

    def limit(self, path: str, low: float, high: float) -> Limit:
        ask = partial(self.sized, path)
        pairs = crossings(lambda x: self.holds(ask(x)), low, high, STEPS, RESOLUTION)
        places = [low + (high - low) * i / STEPS for i in range(STEPS + 1)]
        made = tuple(Crossing(a, b, ask(a).governing, ask(b).governing, not self.holds(ask(b))) for a, b in pairs)
        looks = tuple((x, ask(x)) for x in places)
        within = [x for x, o in looks if self.holds(o)] + [c.below if c.exceeds_above else c.above for c in made]
        return Limit(path, low, high, (high - low) / STEPS, looks, made, max(within, default=None), _next(made, looks))

    def envelope(self, panel: str) -> tuple[tuple[float, float, Outcome], ...]:
        """Widths by heights of a panel, from half to one and a half times what the job has."""
        here = self.job.panels[0]
        widths = [round(float(here.width.x) * f / 50) * 50.0 for f in WIDTHS]
        heights = [round(float(here.height.x) * f / 10) * 10.0 for f in HEIGHTS]
        return tuple(
            (w, h, self.at({f"panels.{panel}.width": f"{w:g} mm", f"panels.{panel}.height": f"{h:g} mm"}))
            for h in heights
            for w in widths
        )


def _next(made: Sequence[Crossing], looks: Sequence[tuple[float, Outcome]]) -> tuple[float, Line] | None:
    """The check of another link that exceeds first beyond the first crossing upwards, and the size looked at where it does."""
    first = next((c for c in made if c.exceeds_above), None)
    if first is None or first.governs_above is None:
        return None
    for x, outcome in looks:
        for line in outcome.exceeding if x > first.above else ():
            if line.link != first.governs_above.link:
                return x, line
    return None


def _range(job: Job, text: str) -> tuple[str, float, float]:
    name, equals, span = text.partition("=")
    path = path_of(job, name)
    entry = text_of(job, path)
    has = parse(entry, "length")
    if not isinstance(has, float):
        raise JobRefused(job.file, (Fault(path, f"= {entry!r} is no length; limits are looked for over lengths"),))
    if not equals:
        return path, round(LOW * has), round(HIGH * has)
    low, _, high = span.partition("..")
    ends = [parse(part.strip(), "length") for part in (low, high)]
    if not isinstance(ends[0], float) or not isinstance(ends[1], float) or ends[0] >= ends[1]:
        raise JobRefused(job.file, (Fault(path, f'says {span!r}; write a range with units, "{path}=800 mm..1600 mm"'),))
    return path, ends[0], ends[1]
