"""What the tests of AS 1720.1 share: timbers, screws and answers as a check gets them."""

from __future__ import annotations

from barrier.basis import basis_named
from barrier.basis.parts import Driven, Fastener, Timber
from barrier.result import Combination, NotChecked
from barrier.tables import Tables
from barrier.value import JobEntry, Value

AU, NZ = basis_named("au", "", Tables()), basis_named("nz", "", Tables())
DRY, WET = 1, 3


def given(x: float, kind: str = "length", symbol: str = "") -> Value:
    return Value(float(x), kind, JobEntry("test", "test"), symbol)


def lasting(duration: str) -> Combination:
    """The barrier combination, with another duration of the action."""
    return AU.lasting(AU.strength("barrier"), duration)


def number(found: Value | NotChecked) -> float:
    assert isinstance(found, Value), found
    return float(found.x)


def timber(
    name: str, wet: bool = False, depth: float | None = None, category: int = 2, tropics: bool = False, **facts: str
) -> Timber:
    d = None if depth is None else given(depth)
    return Timber({"au": name, "nz": name, **facts}, WET if wet else DRY, False, d, category, tropics)


def screw(d: float = 10.0, kind: str | None = "coach screw", **more: object) -> Fastener:
    return Fastener(given(d, symbol="d"), None, None, kind=kind, **more)  # type: ignore[arg-type]


def pulled(wood: Timber, s: Fastener | None = None, l_p: float = 62.0, duration: str = "5 hours") -> float:
    return number(AU.withdrawal(s or screw(), wood, given(l_p), given(1, "count"), lasting(duration)))


def end_nails(
    wood: Timber, number: float = 2, d: float = 3.15, length: float = 90, side: float = 45, kind: str = "nails"
) -> Driven:
    return Driven(kind, given(number, "count"), given(d), given(length), given(side), wood, wood)
