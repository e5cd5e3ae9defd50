"""A value that knows where it comes from.

Every number of a calculation is a :class:`Value`: the number itself (or an array of *stations*: cases, signs, mounts,
screws), its kind, and its origin. Walking the origins answers what a reviewing engineer asks: which table cells,
which job entries and which equations is this made of, which of them were remembered or invented, and what was outside
its range. Nothing here formats a number; that is the business of the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from barrier.quantities import quantity

Number = float | NDArray[np.float64]

PROVENANCES = ("published", "secondary", "memory", "common practice", "computed", "invented", "yours")


def provenance_of(text: str, column: str) -> str:
    """The provenance of one cell of a row: that of the row, but for columns that are named behind another.

    ``text`` of the row's cell *provenance*; ``column`` the cell is in.

    >>> [provenance_of("secondary; memory: nu G", c) for c in ("E", "nu", "G")]
    ['secondary', 'memory', 'memory']
    """
    row, others = _provenances(text)
    return others.get(column, row)


def provenance_fault(text: str, columns: Sequence[str], allowed: Sequence[str]) -> str:
    """What is wrong with the provenance of a row, in words that follow it; empty where nothing is.

    ``text`` as written; ``columns`` of the table; ``allowed`` provenances.

    >>> provenance_fault("secondary; memory: mu", ["E", "nu"], PROVENANCES)
    "names 'mu', which is not a column: E, nu"
    """
    row, others = _provenances(text)
    if not {row, *others.values()} <= {*allowed}:
        return f"is not one of {', '.join(allowed)}"
    unknown = next((c for c in others if c not in columns), None)
    return "" if unknown is None else f"names {unknown!r}, which is not a column: {', '.join(columns)}"


def _provenances(text: str) -> tuple[str, dict[str, str]]:
    """The provenance of a row, and that of each column that is named with another; a part that names none names ``""``."""
    row, *others = (part.strip() for part in text.split(";"))
    parts = [other.partition(":") for other in others]
    return row, {column: provenance.strip() for provenance, _, columns in parts for column in columns.split() or ("",)}


class Origin(Protocol):
    """Where a value comes from; ``inputs`` are the values it was made of.

    ``strays`` says whether a range condition does not hold somewhere in what it is made of; known when it exists, so that
    nobody need walk back for it.
    """

    @property
    def inputs(self) -> Mapping[str, Value]: ...

    @property
    def strays(self) -> bool: ...


_NONE: Mapping[str, Value] = {}


@dataclass(frozen=True, slots=True, eq=False)
class JobEntry:
    """An entry of the job file: its path, the text as written, its line; or a default that was used.

    ``assumed`` marks an entry that was written as nobody's measurement, with ``reason``; a default is assumed by this tool.
    """

    path: str
    text: str
    line: int | None = None
    defaulted: bool = False
    reason: str = ""
    invented: bool = False
    assumed: bool = False

    @property
    def inputs(self) -> Mapping[str, Value]:
        return _NONE

    @property
    def is_assumed(self) -> bool:
        """Whether nobody measured it: assumed by this tool, or by whoever wrote the job."""
        return self.assumed or self.defaulted

    @property
    def strays(self) -> bool:
        return False


@dataclass(frozen=True, slots=True, eq=False)
class Cell:
    """A cell of a table: table, row key, column, the text as it stands there, source, clause and provenance."""

    table: str
    key: str
    column: str
    text: str
    source: str
    clause: str
    provenance: str
    note: str = ""
    edition: str = ""

    @property
    def inputs(self) -> Mapping[str, Value]:
        return _NONE

    @property
    def strays(self) -> bool:
        return False


@dataclass(frozen=True, slots=True, eq=False)
class Numerical:
    """A result of a numerical method: what was computed, how, from what, and how well it closed.

    ``inputs`` have the same stations as the result, or none. ``residual`` is relative; ``hand`` is the hand value that
    stands beside it, where there is one. ``labels`` names the stations.
    """

    title: str
    method: str
    source: str
    inputs: Mapping[str, Value] = field(default_factory=dict)
    residual: float | None = None
    hand: Value | None = None
    labels: Sequence[str] = ()
    strays: bool = field(init=False)

    def __post_init__(self) -> None:
        of_hand = self.hand is not None and self.hand.origin.strays
        object.__setattr__(self, "strays", of_hand or any(v.origin.strays for v in self.inputs.values()))


@dataclass(frozen=True, slots=True, eq=False)
class Pick:
    """Stations chosen out of another value: station i here is station ``index[i]`` there."""

    value: Value
    index: NDArray[np.intp]

    @property
    def inputs(self) -> Mapping[str, Value]:
        return {"": self.value}

    @property
    def strays(self) -> bool:
        return self.value.origin.strays


@dataclass(frozen=True, slots=True, eq=False)
class Gather:
    """Single values laid out over stations: station i is ``values[which[i]]``."""

    values: tuple[Value, ...]
    which: NDArray[np.intp]
    strays: bool = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "strays", any(v.origin.strays for v in self.values))

    @property
    def inputs(self) -> Mapping[str, Value]:
        return {str(i): v for i, v in enumerate(self.values)}


@dataclass(frozen=True, slots=True, eq=False)
class Value:
    """A number (or one number a station), its kind, and its origin.

    ``x`` is in base units (N, mm, MPa, rad, kg/m3). ``symbol`` is the name it is known by in equations.

    >>> from barrier.value import JobEntry, Value
    >>> Value(12.0, "length", JobEntry("panels.1.glass.nominal", "12 mm")).at(0)
    12.0
    """

    x: Number
    kind: str
    origin: Origin
    symbol: str = ""

    def __repr__(self) -> str:
        """Short: an origin goes back to the job and would fill screens."""
        x = f"{float(self.x):.7g}" if np.ndim(self.x) == 0 else f"{np.size(self.x)} stations"
        return f"Value({self.symbol + ' = ' if self.symbol else ''}{x}, {self.kind})"

    @property
    def quantity(self) -> Any:
        """The number with its unit as a quantity of pint, in N, mm, MPa, rad, kg/m3; an array of them where there are stations.

        It is of the application's registry. Raises ImportError where pint, of the extra ``units``, is not installed.

        >>> Value(1350.0, "length", JobEntry("panels.1.width", "1350 mm")).quantity.to("m").magnitude
        1.35
        """
        return quantity(self.x, self.kind)

    def at(self, station: int) -> float:
        """The number at one station; a single number is the same at every station."""
        x = self.x
        return float(x[station] if isinstance(x, np.ndarray) and x.ndim else x)

    @property
    def stations(self) -> int:
        """How many stations it has; 0 for a single number."""
        return len(self.x) if isinstance(self.x, np.ndarray) and self.x.ndim else 0

    def take(self, index: NDArray[np.intp]) -> Value:
        """The same quantity at other stations: station i of the answer is station ``index[i]`` of this one."""
        if np.ndim(self.x) == 0:
            return self
        return Value(np.asarray(self.x)[index], self.kind, Pick(self, index), self.symbol)

    def named(self, symbol: str) -> Value:
        """The same value under another name."""
        return self if symbol == self.symbol else Value(self.x, self.kind, self.origin, symbol)


def gather(values: Sequence[Value], which: Sequence[int] | NDArray[np.intp]) -> Value:
    """Lay single values out over stations: station i of the answer is ``values[which[i]]``.

    All have one kind. Returns a value of as many stations as ``which`` is long, with the symbol of the first; raises ValueError
    where the kinds differ.
    """
    index = np.asarray(which, dtype=np.intp)
    kinds = {v.kind for v in values}
    if len(kinds) != 1:
        raise ValueError(f"values of different kinds cannot be gathered: {sorted(kinds)}")
    x = np.array([float(v.x) for v in values])[index]
    return Value(x, values[0].kind, Gather(tuple(values), index), values[0].symbol)


def source_of(value: Value, station: int) -> tuple[Value, int]:
    """The value behind picks and gatherings, and the station there."""
    while True:
        origin = value.origin
        if isinstance(origin, Pick):
            station, value = int(origin.index[station]), origin.value
        elif isinstance(origin, Gather):
            station, value = 0, origin.values[int(origin.which[station])]
        else:
            return value, station if value.stations else 0


def is_assumed(value: Value, station: int = 0) -> bool:
    """Whether a value, at a ``station`` of it, is an entry of the job that nobody measured.

    >>> is_assumed(Value(45.0, "length", JobEntry("blocking.B1.width", "45 mm", assumed=True)))
    True
    """
    origin = source_of(value, station)[0].origin
    return isinstance(origin, JobEntry) and origin.is_assumed


def walk(*values: Value) -> Iterator[Value]:
    """Every value that the given ``values`` are made of, inputs before what was made of them, each once."""
    seen: set[int] = set()
    stack: list[tuple[Value, Iterator[Value]]] = []  # a value, and of what it is made of what was not looked at yet
    for value in values:
        following: Value | None = value
        while following is not None or stack:
            if following is not None and id(following.origin) not in seen:
                seen.add(id(following.origin))
                stack.append((following, _parts(following.origin)))
            made, parts = stack[-1] if stack else (None, iter(()))
            following = next(parts, None)
            if following is None and made is not None:
                stack.pop()
                yield made


def _parts(origin: Origin) -> Iterator[Value]:
    """What an origin was made of, and the value by hand beside it."""
    hand: Value | None = getattr(origin, "hand", None)
    return iter((*origin.inputs.values(), *(() if hand is None else (hand,))))


def walk_at(value: Value, station: int) -> Iterator[Value]:
    """Every value that ``value`` is made of at one ``station``, inputs first: what other stations rest on is left out."""
    seen: set[tuple[int, int]] = set()

    def visit(v: Value, s: int) -> Iterator[Value]:
        v, s = source_of(v, s if v.stations > 1 else 0)
        s = s if v.stations > 1 else 0
        if (id(v.origin), s) in seen:
            return
        seen.add((id(v.origin), s))
        hand = getattr(v.origin, "hand", None)
        for part in (*v.origin.inputs.values(), *(() if hand is None else (hand,))):
            yield from visit(part, s)
        yield v

    yield from visit(value, station)
