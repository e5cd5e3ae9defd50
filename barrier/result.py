"""What the links write: combinations, situations, checks and link results.

A check has three endings: *within*, *exceeds*, *not checked*. There is no fourth, and none of them says that a barrier
may be used. A result is complete when it exists: everything here is frozen.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cache
from typing import Any

import numpy as np

from barrier.equation import Equation, Symbol, outside_at, symbols
from barrier.errors import CalculationError
from barrier.value import Value

AT_ONCE = "at_once."  # opens the id of a check of barrier load and wind at once that informs
AT_ONCE_WORDS = "barrier load and wind at once: "  # opens its title
ON_ACTION = "factor of the combination on the action"
TIE = 1e-6  # stations closer than this are a tie, and the first one governs: the same sheet on every machine


class Ending(StrEnum):
    """How a check ends."""

    WITHIN = "within"
    EXCEEDS = "exceeds"
    NOT_CHECKED = "not checked"


class Lack(StrEnum):
    """Why something is not checked."""

    INPUT = "input missing"
    RANGE = "outside range"
    BASIS = "not in this basis"
    REACH = "not reached"


class Standing(StrEnum):
    """Whether a check decides (required) or informs."""

    REQUIRED = "required"
    INFORMATION = "information"


@dataclass(frozen=True, slots=True)
class NotChecked:
    """Why there is no value: which of the lacks it is, and in words what is missing, or what has let go before."""

    lack: Lack
    text: str

    def __str__(self) -> str:
        return f"{self.lack}: {self.text}"


@dataclass(frozen=True, slots=True, eq=False)
class Combination:
    """A combination of actions: its level, its factor on the action, the duration its resistances are taken for.

    ``level`` is characteristic, ultimate, allowable or accidental. Loads and resistances always meet at one level.
    ``natures`` are the natures of action in it, the leading one first.
    """

    id: str
    level: str
    factor: Value
    duration: str
    glass_duration: str
    source: str
    situation: str = "sound"
    natures: tuple[str, ...] = ()

    def applied(
        self, effect: Value, result: str, title: str = "", source: str = "factor of the combination on the action"
    ) -> Value:
        """A linear effect of the characteristic action, with the factor of this combination: under the factor's own symbol.

        ``effect`` has a symbol; the answer has its kind, and ``result`` as its symbol.
        """
        return _factored(result, effect.kind, self.factor.symbol, effect.symbol, title, source)(
            **{self.factor.symbol: self.factor, effect.symbol: effect}
        )


@cache
def _factored(result: str, kind: str, factor: str, of: str, title: str, source: str) -> Equation:
    names = (Symbol(factor, "ratio"), Symbol(of, kind))
    return Equation(Symbol(result, kind), f"{factor}*{of}", names, source, "computed", title=title)


@dataclass(frozen=True, slots=True)
class Situation:
    """A set of changes to the job, and the standing of what comes of it: sound, a screw missing, a clamp lost ...

    ``after_damage``: something has broken or let go, and the action is looked at with its characteristic size. ``asked``:
    by the job or its reader; what the walk adds of itself (a layer broken) is not.
    """

    name: str
    changes: Mapping[str, Any] = field(default_factory=dict)
    standing: Standing = Standing.INFORMATION
    words: str = ""
    after_damage: bool = False
    asked: bool = True


SOUND = Situation("sound", standing=Standing.REQUIRED, words="as the job describes it")


Kind = tuple[str, ...]  # of a check: its part, or its part and what it is looked at for


@dataclass(frozen=True, slots=True)
class About:
    """What a check is about. Its id is made of this, here and nowhere else; nobody reads an id.

    ``part`` is what is looked at (screws, glass, boards), ``kind`` for what (withdrawal, bending); ``detail`` tells those of one
    kind apart, ``side`` the ends of what has two, ``way`` the directions. ``mount`` or ``panel`` is the one it is of, by name.
    ``alone``: the only panel of its job, whose name the id leaves out. ``informs``: it stands beside one that decides.
    ``at_once``: barrier load and wind at once, beside the same under one action.

    >>> About("blocking", "end", side="left", way="uplift", mount="M1").id
    'blocking.end.left.uplift.M1'
    """

    part: str
    kind: str = ""
    detail: str = ""
    side: str = ""
    way: str = ""
    mount: str = ""
    panel: str = ""
    alone: bool = False
    informs: bool = False
    at_once: bool = False

    @property
    def key(self) -> tuple[str, str]:
        """Part and kind."""
        return self.part, self.kind

    def one_of(self, kinds: Iterable[Kind]) -> bool:
        """Whether it is of one of these kinds; what stands in a table of its own (``at_once``) is of none.

        >>> About("screws", "edge", mount="M1").one_of([("screws",)]), About("screws", "edge").one_of([("screws", "end")])
        (True, False)
        """
        return not self.at_once and any(self.key[: len(kind)] == kind for kind in kinds)

    @property
    def anywhere(self) -> About:
        """The same of any mount."""
        return replace(self, mount="")

    @property
    def id(self) -> str:
        """A name of its own in a job."""
        of = self.mount or ("" if self.alone else self.panel)
        words = (self.part, self.kind, self.detail, self.side, self.way, of, "information" if self.informs else "")
        return (AT_ONCE if self.at_once else "") + ".".join(w for w in words if w)


@dataclass(frozen=True, slots=True, eq=False)
class Check:
    """One comparison of a demand with a resistance, at its governing station.

    ``utilisation`` is None where there is none: not checked, or no equilibrium. ``where`` says in words which case,
    mount, screw or piece governs, for a reader; ``combination`` and ``case`` are the ids of the combination and of the load
    case at that station, empty where no load is in it. ``reason`` says why, where the ending needs a reason. ``squares`` marks
    a utilisation that is a sum of squares, so that its root compares with the others. ``why`` is why it is not checked.
    """

    about: About
    title: str
    ending: Ending
    standing: Standing
    where: str = ""
    reason: str = ""
    demand: Value | None = None
    resistance: Value | None = None
    utilisation: Value | None = None
    station: int = 0
    combination: str = ""
    squares: bool = False
    case: str = ""
    why: NotChecked | None = None

    @property
    def id(self) -> str:
        """A name of its own in a job, made of what it is about."""
        return self.about.id

    @property
    def lack(self) -> Lack | None:
        """Which of the lacks it is not checked for."""
        return None if self.why is None else self.why.lack

    @property
    def eta(self) -> float | None:
        """The utilisation at the governing station, or None."""
        return None if self.utilisation is None else self.utilisation.at(self.station)

    @property
    def rank(self) -> float | None:
        """What the utilisation is worth beside others: itself, of a sum of squares its root; None where there is none."""
        return self.eta if self.eta is None or not self.squares else max(self.eta, 0.0) ** 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """A value worth printing that no check compares: a hand check, a naive answer, a flag.

    ``mount`` is the name of the mount it stands for where those that fare alike are shown once, else empty.
    """

    title: str
    value: Value
    station: int = 0
    remark: str = ""
    mount: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something said about the job that is no comparison of numbers, with its source; loud ones go to the front.

    ``length`` is what a rule names, printed behind the words; ``about`` the check whose number it says is none.
    """

    text: str
    source: str = ""
    loud: bool = False
    length: Value | None = None
    about: About | None = None


@dataclass(frozen=True, slots=True, eq=False)
class LinkResult:
    """What one link of the load path wrote."""

    id: str
    title: str
    checks: tuple[Check, ...]
    shown: tuple[Shown, ...] = ()
    findings: tuple[Finding, ...] = ()


UTILISATION = Equation(
    Symbol("eta", "ratio"),
    "E_d / R_d",
    symbols("E_d:ratio, R_d:ratio"),
    "definition of utilisation",
    "computed",
)
_BY_KIND: dict[tuple[str, str, str], Equation] = {}


def utilisation(demand: Value, resistance: Value, text: str = "E_d / R_d") -> Value:
    """Demand over resistance as an equation that prints itself, in the names the two are known by."""
    e, r = demand.symbol or "E_d", resistance.symbol or "R_d"
    key = (e, r, demand.kind)
    if key not in _BY_KIND:
        _BY_KIND[key] = Equation(
            Symbol("eta", "ratio"),
            f"{e} / {r}",
            (Symbol(e, demand.kind), Symbol(r, resistance.kind)),
            "utilisation: demand over resistance",
            "computed",
        )
    return _BY_KIND[key](**{e: demand, r: resistance})


def governing(values: Any) -> int:
    """Index of the largest value; values within :data:`TIE` of it are a tie and the first of them governs.

    >>> governing([0.5, 0.9, 0.9000000001])
    1
    """
    x = np.atleast_1d(np.asarray(values, dtype=float))
    top = float(x.max())
    return int(np.flatnonzero(x >= top - TIE * max(abs(top), TIE))[0])


def tied(x: float) -> float:
    """A number to sort by: what differs by rounding only is equal, so that the first one stays first on every machine.

    >>> tied(0.9) == tied(0.9000000001), tied(float("inf"))
    (True, inf)
    """
    return float(f"{x:.5e}")


def not_checked(
    about: About, title: str, why: NotChecked, standing: Standing = Standing.REQUIRED, demand: Value | None = None, station: int = 0
) -> Check:
    """A check that was not made, with the reason."""
    return Check(about, title, Ending.NOT_CHECKED, standing, reason=str(why), demand=demand, station=station, why=why)


def fails(
    about: About,
    title: str,
    reason: str,
    where: str = "",
    standing: Standing = Standing.REQUIRED,
    demand: Value | None = None,
    station: int = 0,
) -> Check:
    """A check that exceeds without a number: no equilibrium, no resistance at all."""
    return Check(about, title, Ending.EXCEEDS, standing, where=where, reason=reason, demand=demand, station=station)


def compare(
    about: About,
    title: str,
    demand: Value,
    resistance: Value | NotChecked,
    labels: Sequence[str],
    *,
    standing: Standing = Standing.REQUIRED,
    combination: str = "",
    eta: Value | None = None,
    no_resistance: str = "",
    remark: str = "",
    cases: Sequence[str] = (),
) -> Check:
    """Compare a demand with a resistance at every station and keep the governing one.

    ``labels`` names the stations (one label, or one a station), ``cases`` the load case of each by its id. ``eta`` replaces
    demand over resistance where a clause has its own form. A resistance of zero exceeds for the reason ``no_resistance``. A
    station outside the range of an equation makes the check *not checked*, unless a station inside the range already exceeds.
    """
    made = _compared(about, title, demand, resistance, labels, standing, combination, eta, no_resistance, remark)
    return replace(made, case=_label(cases, made.station)) if cases else made


def _compared(
    about: About, title: str, demand: Value, resistance: Value | NotChecked, labels: Sequence[str], standing: Standing,
    combination: str, eta: Value | None, no_resistance: str, remark: str,
) -> Check:  # fmt: skip
    if isinstance(resistance, NotChecked):
        station = governing(demand.x)
        return replace(not_checked(about, title, resistance, standing, demand, station), combination=combination)
    nothing = np.atleast_1d(np.asarray(resistance.x)) <= 0.0
    if eta is None and nothing.any():
        station = int(np.flatnonzero(nothing)[0]) if resistance.stations else governing(demand.x)
        reason = no_resistance or "there is no resistance to compare with"
        return Check(
            about, title, Ending.EXCEEDS, standing, _label(labels, station), reason, demand, resistance, None, station, combination
        )
    ratio = utilisation(demand, resistance) if eta is None else eta
    count = max(ratio.stations, 1)
    x = np.atleast_1d(np.asarray(ratio.x, dtype=float))
    if not np.isfinite(x).all():
        raise CalculationError(f"{about.id}: a utilisation is not a finite number")
    outside = [outside_at(ratio, s) for s in range(count)] if ratio.origin.strays else [()] * count
    inside = np.array([not o for o in outside])
    if not inside.all() and not (x[inside] > 1.0).any():
        station = int(np.flatnonzero(~inside)[governing(x[~inside])])
        lack = NotChecked(Lack.RANGE, "; ".join(outside[station]))
        return Check(
            about,
            title,
            Ending.NOT_CHECKED,
            standing,
            _label(labels, station),
            str(lack),
            demand,
            resistance,
            None,
            station,
            combination,
            why=lack,
        )
    chosen = np.flatnonzero(inside)
    station = int(chosen[governing(x[chosen])])
    ending = Ending.EXCEEDS if x[station] > 1.0 else Ending.WITHIN
    return Check(about, title, ending, standing, _label(labels, station), remark, demand, resistance, ratio, station, combination)


def worst_of(checks: Sequence[Check]) -> Check:
    """The one of several looks at one thing that decides.

    Exceeding without a number comes first, then what exceeds, then what was not checked, then the largest number; of those
    not checked the largest demand. Of what is alike the first.
    """

    def order(c: Check) -> int:
        if c.ending is Ending.EXCEEDS:
            return 3 if c.rank is None else 2
        return 1 if c.ending is Ending.NOT_CHECKED else 0

    top = max(order(c) for c in checks)
    found = [c for c in checks if order(c) == top]
    by = [c.rank if c.rank is not None else c.demand.at(c.station) if c.demand is not None else -1.0 for c in found]
    return found[governing(by)]


def informing(check: Check, combination: Combination) -> Check:
    """A check in a combination that informs; of several actions at once under an id and a title beside the one that decides."""
    if len(combination.natures) < 2:  # it is the only one of its kind
        return replace(check, standing=Standing.INFORMATION)
    title = AT_ONCE_WORDS + check.title
    return replace(check, about=replace(check.about, at_once=True), title=title, standing=Standing.INFORMATION)


def one_of_each(checks: Iterable[Check]) -> tuple[Check, ...]:
    """The checks with one of each id, where several combinations were looked at the one that decides (:func:`worst_of`)."""
    found: dict[About, list[Check]] = {}
    for c in checks:
        found.setdefault(c.about, []).append(c)
    return tuple(worst_of(same) for same in found.values())


def _label(labels: Sequence[str], station: int) -> str:
    if not labels:
        return ""
    return labels[station] if len(labels) > 1 else labels[0]
