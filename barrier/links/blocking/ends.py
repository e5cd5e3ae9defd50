"""The ends of what spans between two joists: held down and up, sideways, against turning; and all of it at once.

What comes to an end is one force up or down, one sideways and one torque. A supplier rates them one at a time and seldom
says what is left of one beside another, so their utilisations are added as they stand: any rule that bulges outward from
that straight line allows more, and the supplier's own rule governs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from barrier.basis import Answer, Timber
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import EndFixing
from barrier.links.blocking.end_fixings import end_resistance, nothing_held
from barrier.links.walk import Walk
from barrier.result import About, Check, Combination, NotChecked, compare, fails, governing, not_checked
from barrier.value import Value, gather

SIDES = ("left", "right")
LEFT_SIDE = Equation(
    Symbol("V_side", "force"),
    "(abs(F_Ed)*(L_b - a) + M_z_Ed)/L_b*r_n",
    symbols("F_Ed:force, L_b:length, a:length, M_z_Ed:moment, r_n:ratio"),
    "statics: push and twist of the mount on what is held at both ends; the twist may turn either way",
    "computed",
    title="sideways force at the left end",
)
RIGHT_SIDE = Equation(
    Symbol("V_side", "force"),
    "(abs(F_Ed)*a + M_z_Ed)/L_b*r_n",
    symbols("F_Ed:force, a:length, L_b:length, M_z_Ed:moment, r_n:ratio"),
    "statics: push and twist of the mount on what is held at both ends; the twist may turn either way",
    "computed",
    title="sideways force at the right end",
)
LEFT_TORQUE = Equation(
    Symbol("T_left", "moment"),
    "T_Ed*(L_b - a)/L_b",
    symbols("T_Ed:moment, L_b:length, a:length"),
    "statics: a torque on what is kept from turning at both ends",
    "computed",
    title="torque at the left end",
)
RIGHT_TORQUE = Equation(
    Symbol("T_right", "moment"),
    "T_Ed*a/L_b",
    symbols("T_Ed:moment, a:length, L_b:length"),
    "statics: a torque on what is kept from turning at both ends",
    "computed",
    title="torque at the right end",
)
ALL_THREE = Equation(
    Symbol("eta", "ratio"),
    "V_end/R_v + V_side/R_side + T_end/R_t",
    symbols("V_end:force, R_v:force, V_side:force, R_side:force, T_end:moment, R_t:moment"),
    "a straight sum: cautious beside any rule that bulges outward; the supplier's own rule governs",
    "common practice",
    title="an end held up or down, sideways and against turning at once",
)
BOTH = Equation(
    Symbol("eta", "ratio"),
    "V_side/R_side + T_end/R_t",
    symbols("V_side:force, R_side:force, T_end:moment, R_t:moment"),
    "a straight sum: cautious beside any rule that bulges outward; the supplier's own rule governs",
    "common practice",
    title="an end held sideways and against turning at once",
)


@dataclass(frozen=True, slots=True, eq=False)
class AtEnd:
    """What comes to one end: ``V`` up or down by station with ``signed`` its direction (down positive; None where nothing
    does), torque ``T`` of the same stations, sideways ``H`` at stations of its own.

    ``labels`` and ``side_labels`` name the stations, ``cases`` and ``side_cases`` their cases by id where they are of several.
    """

    V: Value | None
    signed: np.ndarray
    T: Value
    H: Value
    labels: Sequence[str]
    side_labels: Sequence[str]
    side_cases: Sequence[str]
    cases: Sequence[str] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """One end and what holds it: ``part`` and ``words`` are what its checks are about (blocking, "the blocking")."""

    part: str
    words: str
    mount: str
    side: str
    said: str
    fixing: EndFixing | None
    timber: Timber
    combination: Combination


def end_checks(walk: Walk, held: Held, at: AtEnd) -> Iterator[Check]:
    """Every comparison of one end with what holds it."""
    ways = ("uplift", "down", "sideways", "torque")
    R = {way: end_resistance(walk, held.fixing, way, held.combination, held.timber) for way in ways}

    def made(way: str, words: str, demand: Value, labels: Sequence[str], cases: Sequence[str] = ()) -> Check:
        return compare(
            About(held.part, "end", side=held.side, way=way, mount=held.mount),
            f"{held.said} end of {held.words} {words}, mount {held.mount}",
            demand, R[way], labels, no_resistance=nothing_held(held.fixing, way), cases=cases,
        )  # fmt: skip

    if at.V is not None:
        for way, words, chosen in (("uplift", "held down", at.signed < 0.0), ("down", "held up", at.signed > 0.0)):
            index = np.flatnonzero(chosen)
            if len(index):
                yield made(way, words, at.V.take(index), [at.labels[int(i)] for i in index])
    yield made("sideways", "pushed sideways", at.H, at.side_labels, at.side_cases)
    yield made("torque", "held against turning", at.T, at.labels, at.cases)
    yield _at_once(held, at, R)


def _at_once(held: Held, at: AtEnd, R: dict[str, Answer]) -> Check:
    """Up or down, sideways and turning of one end together, station by station with the largest sideways force."""
    about = About(held.part, "end", side=held.side, way="together", mount=held.mount)
    title = f"{held.said} end of {held.words}, all that it holds at once, mount {held.mount}"
    needed = ["sideways", "torque"] if at.V is None else ["uplift", "down", "sideways", "torque"]
    zero = next((w for w in needed if isinstance(v := R[w], Value) and float(v.x) <= 0.0), None)
    if zero is not None:
        return fails(about, title, nothing_held(held.fixing, zero))
    for way in needed:
        if isinstance(lack := R[way], NotChecked):
            return not_checked(about, title, lack)
    known = {way: v for way, v in R.items() if isinstance(v, Value)}
    n = max(at.T.stations, 1)
    H = at.H.take(np.full(n, governing(at.H.x)))
    others = {
        "V_side": H.named("V_side"), "R_side": known["sideways"].named("R_side"), "T_end": at.T.named("T_end"),
        "R_t": known["torque"].named("R_t"),
    }  # fmt: skip
    if at.V is None:
        eta = BOTH(**others)
    else:
        R_v = gather([known["uplift"], known["down"]], (at.signed > 0.0).astype(int)).named("R_v")
        eta = ALL_THREE(V_end=at.V.named("V_end"), R_v=R_v, **others)
    made = compare(about, title, at.T, known["torque"], at.labels, eta=eta, cases=at.cases)
    return replace(made, demand=None, resistance=None)
