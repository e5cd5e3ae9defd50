"""The ledger: every number a result rests on, once, inputs before use, each with its own number on the sheet.

Items are entries of the job (J1, J2 ...), lines of tables (T1 ...), results of numerical methods (N1 ...) and steps (1,
2 ...). What was computed for many stations is entered at the station that is asked for; the same equation with the same
inputs is one item however often it was evaluated.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from barrier.equation import Equation, Step
from barrier.errors import CalculationError
from barrier.sheet.blocks import Given, ItemBlock, NumericalBlock, StepBlock, Token
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import CALCULATION, base_unit, in_style
from barrier.value import Cell, Gather, JobEntry, Numerical, Pick, Value

PENCIL = 0.002  # relative; a step whose printed numbers miss by more gets more digits (0.5 % is what a reader is promised)
MOST_DIGITS = 9  # beyond this more digits are no help
READ_OFF = ("counted", "read off the geometry")  # methods that are no solution of anything
GIVEN = JobEntry("", "")
MANY, FEW = 4, 2  # inputs that must be shared, and that may differ, where one numerical result refers to another's


@dataclass(eq=False)
class Item:
    """One number of the ledger: its label, its value at its station, the items it was made of, and its digits."""

    label: str
    value: Value
    station: int
    inputs: dict[str, Item] = field(default_factory=dict)
    hand: Item | None = None
    digits: int = CALCULATION

    @property
    def origin(self) -> object:
        """Where the number comes from."""
        return self.value.origin

    def token(self, unit: str | None = None) -> Token:
        """The number as the calculation prints it."""
        return Token(self.value, self.station, self.digits, unit, decimal=True)


def settled(value: Value, station: int) -> tuple[Value, int]:
    """The value behind picks and gatherings, and the station there; a lone station serves for all."""
    while True:
        station = station if value.stations > 1 else 0
        origin = value.origin
        if isinstance(origin, Pick):
            value, station = origin.value, int(origin.index[station])
        elif isinstance(origin, Gather):
            value, station = origin.values[int(origin.which[station])], 0
        else:
            return value, station


class Ledger:
    """Collects items; ``style`` of the units decides what a printed number is worth."""

    def __init__(self, style: str) -> None:
        self.style = style
        self.items: list[Item] = []
        self._by_key: dict[tuple[object, ...], Item] = {}
        self._seen: dict[tuple[object, ...], Item] = {}
        self._kept: list[Value] = []  # identities in _seen stay true only while their values live
        self._counts = {"J": 0, "T": 0, "N": 0, "": 0}

    # ---------------------------------------------------------------- entering
    def add(self, value: Value, station: int = 0) -> Item:
        """The item of a value at a station; it and whatever it was made of are entered if they are new."""
        value, station = settled(value, station)
        seen = (id(value.origin), station, value.kind, value.at(station))
        if seen not in self._seen:
            self._kept.append(value)
            self._seen[seen] = self._entered(value, station)
        return self._seen[seen]

    def find(self, value: Value, station: int = 0) -> Item | None:
        """The item of a value if it was entered."""
        value, station = settled(value, station)
        return self._seen.get((id(value.origin), station, value.kind, value.at(station)))

    def _entered(self, value: Value, station: int) -> Item:
        origin = value.origin
        inputs = {name: self.add(v, station) for name, v in origin.inputs.items()}
        hand = self.add(origin.hand, station) if isinstance(origin, Numerical) and origin.hand is not None else None
        made_of = tuple((name, item.label) for name, item in inputs.items())
        x = value.at(station)
        key: tuple[object, ...]
        match origin:
            case JobEntry(path, text):
                series, key = "J", (path, text, x)
            case Cell(table, row, column):
                series, key = "T", (table, row, column, origin.source, x)
            case Step(equation):
                series, key = "", (id(equation), made_of)
            case Numerical():
                series, key = "N", (origin.title, where(value, station), value.symbol, x, made_of)
            case _:
                raise TypeError(f"{type(origin).__name__} is no origin the sheet can print")
        if (series, *key) not in self._by_key:
            self._counts[series] += 1
            item = Item(f"{series}{self._counts[series]}", value, station, inputs, hand)
            self.items.append(item)
            self._by_key[(series, *key)] = item
        return self._by_key[(series, *key)]

    # ---------------------------------------------------------------- digits
    def settle_digits(self) -> None:
        """Give more digits to the numbers of steps that would not come out by pencil (differences of like numbers)."""
        for _ in range(MOST_DIGITS - CALCULATION):
            short = [item for item in self.items if isinstance(item.origin, Step) and not self._comes_out(item)]
            if not short:
                return
            for number in {id(i): i for item in short for i in (item, *item.inputs.values())}.values():
                number.digits = min(number.digits + 1, MOST_DIGITS)

    def _comes_out(self, item: Item) -> bool:
        step = item.origin
        assert isinstance(step, Step)
        units = bound_units(step.equation)
        numbers = {}
        for s in step.equation.symbols:
            token = item.inputs[s.name].token(units.get(s.name))
            numbers[s.name] = Value(self._printed(token), s.kind, GIVEN)
        result = self._printed(item.token(units.get(step.equation.result.name)))
        try:
            by_pencil = float(step.equation(**numbers).x)
        except CalculationError:
            return False
        return abs(by_pencil - result) <= PENCIL * abs(result)

    def _printed(self, token: Token) -> float:
        return token.figure(self.style).x

    # ---------------------------------------------------------------- as blocks
    def block(self, item: Item) -> StepBlock | NumericalBlock | ItemBlock:
        """The block that prints an item."""
        origin = item.origin
        if isinstance(origin, Step):
            return self._step(item, origin)
        if isinstance(origin, Numerical):
            return self._numerical(item, origin)
        if isinstance(origin, Cell):
            return _cell(item, origin, self.style)
        assert isinstance(origin, JobEntry)
        assumed = f"assumed: {origin.reason}" if origin.is_assumed else ""
        detail = assumed or (f"line {origin.line}" if origin.line else origin.reason)
        text = in_style(origin.text, self.style) if origin.defaulted else origin.text
        return ItemBlock(item.label, "", item.token(), f'{origin.path} = "{text}"', detail)

    def _step(self, item: Item, step: Step) -> StepBlock:
        equation = step.equation
        units = bound_units(equation)
        station = item.station
        outside = tuple(t for t, where in step.outside.items() if where[station if where.size > 1 else 0])
        return StepBlock(
            item.label,
            equation,
            {s.name: Given(item.inputs[s.name].token(units.get(s.name)), item.inputs[s.name].label) for s in equation.symbols},
            item.token(units.get(equation.result.name)),
            item.token(),
            tuple(dict.fromkeys(u for u in units.values() if u)) if is_bound(equation) else (),
            outside,
        )

    def _numerical(self, item: Item, origin: Numerical) -> NumericalBlock:
        hand = Given(item.hand.token(), item.hand.label) if item.hand is not None else None
        like = self._like(item)
        shared = _named(like) if like is not None else set()
        same_method = like is not None and isinstance(like.origin, Numerical) and like.origin.method == origin.method
        method = "" if same_method else origin.method
        inputs = {name: Given(i.token(), i.label) for name, i in item.inputs.items() if (name, i.label) not in shared}
        return NumericalBlock(
            item.label, origin.title, item.value.symbol, item.token(), method, origin.source,
            where(item.value, item.station), origin.residual, inputs, hand, origin.method in READ_OFF,
            like.label if like is not None else "",
        )  # fmt: skip

    def _like(self, item: Item) -> Item | None:
        """The first item of the same inputs by name that shares most of them with this one, if there is one before it."""
        own = _named(item)
        for other in self.items:
            if other is item:
                return None
            same_names = isinstance(other.origin, Numerical) and other.inputs.keys() == item.inputs.keys()
            if same_names and len(_named(other) & own) >= max(MANY, len(own) - FEW):
                return other
        return None


def _named(item: Item) -> set[tuple[str, str]]:
    return {(name, i.label) for name, i in item.inputs.items()}


def bound_units(equation: Equation) -> Mapping[str, str]:
    """For an empirical equation the unit of every symbol, its result included; for any other nothing.

    Symbols of such an equation that are bound to no unit are computed in base units, and so they are printed in them.
    """
    every = (*equation.symbols, equation.result)
    if not is_bound(equation):
        return {equation.result.name: equation.result.bound} if equation.result.bound else {}
    return {s.name: s.bound or base_unit(s.kind) for s in every}


def is_bound(equation: Equation) -> bool:
    """Whether an equation is empirical: its symbols stand for bare numbers in named units."""
    return any(s.bound for s in equation.symbols)


def where(value: Value, station: int) -> str:
    """The label of a station of a numerical result, if it has labels."""
    labels = value.origin.labels if isinstance(value.origin, Numerical) else ()
    if not labels:
        return ""
    return labels[station] if len(labels) > 1 else labels[0]


def _cell(item: Item, cell: Cell, style: str) -> ItemBlock:
    place = " · ".join(p for p in (cell.table, cell.key, cell.column if cell.column != "value" else "") if p)
    detail = " · ".join(p for p in (cell.source, cell.clause, cell.provenance, cell.note) if p)
    detail = detail if cell.provenance == "yours" else in_words(detail, style)
    return ItemBlock(item.label, item.value.symbol, item.token(), place, detail)


def is_model(item: Item) -> bool:
    """Whether an item is a solution of a numerical model and not just counted or measured."""
    return isinstance(item.origin, Numerical) and item.origin.method not in READ_OFF
