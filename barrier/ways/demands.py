"""Ratings as demands: what brackets at the ends of the blocking, and the supplier's mount, would have to hold.

A demand is a figure to take to a supplier or an engineer. That a product meets it is nobody's word here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from barrier.job import Job
from barrier.job.quantity import parse
from barrier.result import About
from barrier.ways.moves import brackets
from barrier.ways.outcome import Line, Outcome
from barrier.ways.setting import Changes

HOLDS = ("uplift", "down", "sideways", "torque")
KINDS = {"uplift": "force", "down": "force", "sideways": "force", "torque": "moment"}
UNITS = {"force": (1e3, "kN"), "moment": (1e6, "kN m")}
TWO_DIGITS = 2


@dataclass(frozen=True)
class Demand:
    """What something would have to hold: of what, in words; how much, with unit; what that size is."""

    of: str
    size: str
    meaning: str


def rated(job: Job, changes: Changes, walked: Callable[[Changes], Outcome]) -> Changes:
    """The ends of the blocking in brackets that hold what the checks ask of them, and no more.

    Arguments: ``job``, ``changes`` with brackets that hold a known amount, ``walked`` walks the job with changes. Where the job has
    brackets already, all their ratings are made larger by the one factor that brings the worst end to 1.00. Else, what an end holds
    up or down, sideways and against turning being added as they stand, each is sized so that the three have equal parts in a sum of
    1.00: its rating times its own utilisation, times how many act together. Rounded up to two digits.
    """
    own = _own(job)
    if own:
        outcome = walked({**changes, **brackets(job, own)})
        factor = max((_eta(line) for line in _ends(job, outcome, (*HOLDS, "together"))), default=1.0)
        return brackets(job, {h: _up(parse_mm(text, KINDS[h]) * factor, KINDS[h]) for h, text in own.items()})
    now, outcome = _stated(changes), walked(changes)
    worst = {hold: max((_eta(line) for line in _ends(job, outcome, (hold,))), default=0.0) for hold in HOLDS}
    acting = sum(worst[h] > 0 for h in ("sideways", "torque")) + 1
    holds = {h: _up(parse_mm(now[h], KINDS[h]) * worst[h] * acting, KINDS[h]) for h in HOLDS if worst[h] > 0}
    return brackets(job, holds)


def _own(job: Job) -> dict[str, str]:
    """What the job's own brackets hold, where every end is in one with every rating."""
    used = [job.blocking[str(m.blocking)] for m in job.mounts if m.blocking]
    ends = [e for b in used for e in (b.left, b.right)]
    if not all(e is not None and e.fixing == "bracket" and e.meaning == "characteristic" for e in ends):
        return {}
    if not all(getattr(e, h) is not None for e in ends for h in HOLDS):
        return {}
    return {h: getattr(ends[0], h).origin.text for h in HOLDS} if ends else {}


def parse_mm(text: object, kind: str) -> float:
    """A quantity of the job file in base units."""
    x = parse(text, kind) if isinstance(text, str) else 0.0
    return x if isinstance(x, float) else 0.0


def demanded(job: Job, changes: Changes, outcome: Outcome) -> tuple[Demand, ...]:
    """What brackets and mounts would have to hold for a way to be one."""
    return (*_of_brackets(changes), *_of_mounts(job, changes, outcome))


def _of_brackets(changes: Changes) -> Iterator[Demand]:
    now = _stated(changes)
    words = {"uplift": "pulled up", "down": "pressed down", "sideways": "pushed sideways, level", "torque": "turned"}
    for hold in HOLDS:
        if hold in now:
            of = f"bracket at each end of each piece of blocking, {words[hold]}"
            yield Demand(of, str(now[hold]), "characteristic, all at once")
    if "stiffness" in now:
        yield Demand("the same bracket, how little it gives in use", f"at least {now['stiffness']}", "force per slip, up or down")
    if "turning_stiffness" in now:
        yield Demand("the same bracket, how little it turns in use", f"at least {now['turning_stiffness']}", "moment per turn")


def _of_mounts(job: Job, changes: Changes, outcome: Outcome) -> Iterator[Demand]:
    """The moment each mount puts on its base where the supplier's rating is not there, or is not of this glass."""
    for m in job.with_(changes).mounts:
        rating = outcome.by_id.get(About("clamp", "rating", mount=m.name).id)
        moment = outcome.by_id.get(About("base_plate", "bed", mount=m.name).id)
        if rating is not None and rating.unknown and moment is not None and moment.demand is not None:
            yield Demand(
                f"mount {m.name} by its supplier's rating with this glass, moment about the deck",
                f"{moment.demand / 1e6:.3g} kN m", "at the level strength is checked at",
            )  # fmt: skip


def _stated(changes: Changes) -> dict[str, object]:
    """What the brackets of a set of changes hold."""
    return next((dict(v) for p, v in changes.items() if p.startswith("blocking.") and isinstance(v, dict) and "fixing" in v), {})


def _ends(job: Job, outcome: Outcome, ways: Sequence[str]) -> list[Line]:
    """What is required of the ends of the blocking, these ways."""
    places = product(job.mounts, ("left", "right"), ways)
    ids = (About("blocking", "end", side=side, way=way, mount=m.name).id for m, side, way in places)
    lines = (outcome.by_id.get(id) for id in ids)
    return [line for line in lines if line is not None and line.required]


def _eta(line: Line) -> float:
    return line.eta if line.eta is not None and math.isfinite(line.eta) else 0.0


def _up(x: float, kind: str) -> str:
    """A size rounded up to two digits, in the unit of the trade."""
    scale, unit = UNITS[kind]
    shown = x / scale
    step = 10.0 ** (math.floor(math.log10(shown)) - TWO_DIGITS + 1)
    return f"{math.ceil(shown / step - 1e-9) * step:.12g} {unit}"
