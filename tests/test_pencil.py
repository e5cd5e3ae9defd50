"""The pencil rule: whoever has only the printed sheet recomputes every step from the numbers printed in it.

This file reads the *text* of the calculation with a parser and a table of units of its own and imports nothing of the
product but what makes the text. For each step it checks that the printed numbers give the printed result, that every
symbol of the equation is accounted for, and that the earlier item it points to holds the very number that is printed.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import pytest
from conftest import ONE_LAMINATED, job_named, result_of, text_sheet
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from two_dimensions import one_line

from barrier import sheet
from barrier.equation import Equation, Symbol, symbols
from barrier.load_path import Result, Walked
from barrier.result import SOUND, About, Check, Ending, LinkResult, Shown, Standing, compare
from barrier.sheet.numbers import NOT_MEASURED
from barrier.value import Cell, JobEntry, Numerical, Value, gather

PENCIL = 0.005  # what the sheet promises its reader: printed numbers give the printed result within half a per cent
ROUNDED = 6e-4  # a number printed in another unit is rounded anew: half a unit of the fourth digit, twice

# N, mm, MPa, rad, kg/m3, m/s; the definitions of inch and pound are exact
LBF, INCH = 4.4482216152605, 25.4
UNITS = {
    "": 1.0, "mm": 1.0, "m": 1e3, "mm²": 1.0, "mm³": 1.0, "mm⁴": 1.0, "N": 1.0, "kN": 1e3, "N/mm": 1.0, "kN/m": 1.0,
    "MPa": 1.0, "N/mm²": 1.0, "kN/m²": 1e-3, "N/mm³": 1.0, "kN/m³": 1e-6, "N mm": 1.0, "N m": 1e3, "kN m": 1e6,
    "N mm/rad": 1.0, "N m/rad": 1e3, "kN m/rad": 1e6, "rad": 1.0, "kg/m³": 1.0, "kg": 1.0, "1/mm": 1.0,
    "m/s": 1.0, "mph": 0.44704, "N/m²": 1e-6,
    "in": INCH, "ft": 12 * INCH, "in²": INCH**2, "in³": INCH**3, "in⁴": INCH**4, "lbf": LBF, "lbf/ft": LBF / 12 / INCH,
    "lbf/in": LBF / INCH, "psi": LBF / INCH**2, "lbf/in²": LBF / INCH**2, "lbf/ft²": LBF / (12 * INCH) ** 2,
    "lbf/in³": LBF / INCH**3, "lbf/ft³": LBF / (12 * INCH) ** 3, "lbf in": LBF * INCH, "lbf ft": LBF * 12 * INCH,
    "deg": 3.141592653589793 / 180, "lbf in/rad": LBF * INCH, "lb/ft³": 16.018463373960142, "1/in": 1 / INCH,
}  # fmt: skip
UNIT = "|".join(sorted((re.escape(u) for u in UNITS if u), key=len, reverse=True))
NUMBER = r"\d{1,3}(?: \d{3})+(?![\d])(?:\.\d+)?|\d+(?:\.\d+)?"
QUANTITY = re.compile(rf"(?P<sign>−?)(?P<number>{NUMBER})(?: (?P<unit>{UNIT})(?![\w/²³⁴]))?")
FUNCTIONS: dict[str, Callable[..., float]] = {
    "√": math.sqrt, "min": min, "max": max, "abs": abs, "sin": math.sin, "cos": math.cos, "ln": math.log, "exp": math.exp,
}  # fmt: skip
TOKEN = re.compile(
    rf"\s*(?:(?P<quantity>(?:{NUMBER})(?: (?:{UNIT})(?![\w/²³⁴]))?)|(?P<name>[^\W\d][\w,]*\w|[^\W\d])|(?P<sign>[√+−·/^()|,π]))"
)

# ---------------------------------------------------------------- reading the sheet


@dataclass
class Item:
    """A numbered item as printed: the quantities it shows, for a step its lines and where its numbers are from."""

    label: str
    values: list[str] = field(default_factory=list)
    symbolic: str = ""
    numeric: str = ""
    sources: dict[str, str] = field(default_factory=dict)
    bare: tuple[str, ...] = ()
    hand: tuple[str, str] | None = None
    text: str = ""


def items_of(text: str) -> list[Item]:
    """Every numbered item of the calculation, in the order it is printed."""
    body = text.split("THE CALCULATION, LINK BY LINK", 1)[1].split("\nAPPENDIX\n", 1)[0]
    found: list[list[str]] = []
    inside = False
    for line in body.splitlines():
        if re.match(r"(?:[JTN]\d+|\[\d+\])(?: |$)", line):
            found.append([line])
            inside = True
        elif inside and (line.startswith(" " * 6) or not line):
            found[-1].append(line)
        else:
            inside = False
    return [read(trimmed(lines)) for lines in found]


def trimmed(lines: list[str]) -> list[str]:
    """Without the blank lines at the end."""
    while not lines[-1]:
        lines = lines[:-1]
    return lines


def read(lines: list[str]) -> Item:
    label = lines[0].split()[0].strip("[]")
    item = Item(label, text="\n".join(lines))
    joined = " ".join(line.strip() for line in lines)
    if label[0] in "JT":
        shown = re.split(r" {2,}", lines[0][6:].strip())[0]
        item.values = [shown.split(" = ", 1)[-1].strip()]
        return item
    if (sources := re.search(r"(?:^| )with ((?:\S+ from (?:\[\d+\]|[JTN]\d+)(?:, |;|$| ))+)", joined)) is not None:
        item.sources = {n: r.strip("[]") for n, r in re.findall(r"(\S+) from (\[\d+\]|[JTN]\d+)", sources[1])}
    if (bare := re.search(r"; numbers in ((?:(?:%s)(?:, )?)+)" % UNIT, joined)) is not None:  # noqa: UP031
        item.bare = tuple(bare[1].strip().rstrip(",").split(", "))
    if (hand := re.search(r"beside it by hand: (.+?) from (\[\d+\]|[JTN]\d+)", joined)) is not None:
        item.hand = (hand[1], hand[2].strip("[]"))
    if label[0] == "N":
        stated = [m for line in lines if (m := re.match(rf"(?: {{6}}|N\d+ +)\S+ += ({QUANTITY.pattern})(?:,|$)", line))]
        item.values = [stated[0][1]] if stated else []
        return item
    parts = [part.strip() for line in equation_of(lines) for part in line.split(" = ")]
    item.symbolic, item.numeric, *item.values = parts
    return item


def equation_of(lines: list[str]) -> list[str]:
    """The lines of an equation behind its first equals sign, each in one dimension.

    Everything in the column of the equals signs and to the right of it belongs to the equation; a line that has an equals
    sign there is a base line, and what stands over it and under it up to the next blank line or base line is its own.
    """
    first, column = next((i, len(m[1])) for i, line in enumerate(lines) if (m := re.match(r"( {6}\S+ )= ", line)) is not None)
    begin, end = first, first + 1
    while begin > 1 and lines[begin - 1].startswith(" " * (column + 2)):
        begin -= 1
    while end < len(lines) and (not lines[end].strip() or lines[end].startswith(" " * column)):
        end += 1
    area = [line[column:] for line in lines[begin:end]]
    bases = [i for i, line in enumerate(area) if line.startswith("= ")]
    found = []
    for n, base in enumerate(bases):
        low = base
        while low > 0 and area[low - 1].strip() and low - 1 not in bases and (not n or low - 1 > bases[n - 1]):
            low -= 1
        high = base + 1
        while high < len(area) and area[high].strip() and high not in bases:
            high += 1
        if n and low - 1 == bases[n - 1]:  # lines between two base lines: over the second, or under the first, never both
            low = base if is_tall(area[bases[n - 1]]) or not is_tall(area[base]) else low
        if high in bases and not is_tall(area[base]) and is_tall(area[high]):
            high = base + 1
        rows = [row[2:] for row in area[low:high]]
        if is_tall(rows[base - low]):
            found.append(one_line(rows, base - low))
        else:
            found.append(" ".join(one_line([row], 0) for row in rows))
    return found


def is_tall(base_line: str) -> bool:
    """Whether anything stands over or under a base line."""
    return any(sign in base_line for sign in "─⎛⎜⎝⎢")


# ---------------------------------------------------------------- reckoning with it


def worth(quantity: str) -> float:
    """A printed quantity in base units."""
    m = QUANTITY.fullmatch(quantity.strip())
    assert m is not None, f"{quantity!r} is no quantity"
    x = float(m["number"].replace(" ", "")) * UNITS[m["unit"] or ""]
    return -x if m["sign"] else x


def tokens(text: str) -> list[tuple[str, str]]:
    found, at = [], 0
    while at < len(text):
        m = TOKEN.match(text, at)
        assert m is not None and m.end() > at, f"{text[at:]!r} of {text!r} cannot be read"
        kind = str(m.lastgroup)
        found.append(("sign" if m[kind] == "π" else kind, m[kind]))
        at = m.end()
    return found


class Reckoner:
    """Recursive descent: sum, product, power, atom; a minus binds as a product does."""

    def __init__(self, text: str) -> None:
        self.tokens = tokens(text)
        self.at = 0
        value = self.sum()
        assert self.at == len(self.tokens), f"{text!r} does not end where it should"
        self.value = value

    def peek(self) -> str:
        return self.tokens[self.at][1] if self.at < len(self.tokens) else ""

    def take(self, wanted: str = "") -> tuple[str, str]:
        token = self.tokens[self.at]
        assert not wanted or token[1] == wanted, f"{wanted!r} wanted, {token[1]!r} found"
        self.at += 1
        return token

    def sum(self) -> float:
        x = self.product()
        while self.peek() in ("+", "−"):
            sign = self.take()[1]
            y = self.product()
            x = x + y if sign == "+" else x - y
        return x

    def product(self) -> float:
        x = self.signed()
        while self.peek() in ("·", "/"):
            sign = self.take()[1]
            y = self.signed()
            x = x * y if sign == "·" else x / y
        return x

    def signed(self) -> float:
        if self.peek() == "−":
            self.take()
            return -self.signed()
        return self.power()

    def power(self) -> float:
        x = self.atom()
        if self.peek() == "^":
            self.take()
            x = float(x ** self.signed())
        return x

    def atom(self) -> float:
        kind, text = self.take()
        if kind == "quantity":
            return worth(text)
        if text == "π":
            return math.pi
        if text == "(":
            x = self.sum()
            self.take(")")
            return x
        if text == "|":
            x = self.sum()
            self.take("|")
            return abs(x)
        arguments = []
        self.take("(")
        while True:
            arguments.append(self.sum())
            if self.take()[1] == ")":
                return float(FUNCTIONS[text](*arguments))


def substituted(symbolic: str, numeric: str) -> dict[str, str]:
    """The printed number of each symbol: the two lines have the same tokens, but for brackets and signs of numbers."""
    names = [t for t in tokens(symbolic) if t[1] not in "()"]
    numbers = [t for t in tokens(numeric) if t[1] not in "()"]
    found: dict[str, str] = {}
    j = 0
    for kind, text in names:
        sign = ""
        if kind == "name" and text not in FUNCTIONS:
            if numbers[j][1] == "−":
                sign, j = "−", j + 1
            assert numbers[j][0] == "quantity", f"{text} is not substituted in {numeric!r}"
            number = sign + numbers[j][1]
            assert found.setdefault(text, number) == number, f"{text} is printed as two numbers in {numeric!r}"
        else:
            assert numbers[j][1] == text, f"{numeric!r} is not {symbolic!r} with numbers"
        j += 1
    assert j == len(numbers)
    return found


def same(printed: str, item: Item, bare: tuple[str, ...]) -> bool:
    """Whether a printed number is the one an earlier item holds; a bare one may be in any of the units that are named."""
    values = [v.removeprefix(NOT_MEASURED) for v in item.values]  # a mark before what is assumed is no part of the number
    if not bare:
        return printed in values
    x = worth(printed)
    held = [worth(v) for v in values]
    return any(abs(x * UNITS[u] - h) <= ROUNDED * abs(h) for u in (*bare, "") for h in held)


def check_sheet(text: str) -> int:
    """Check every item of a sheet; how many steps there were."""
    earlier: dict[str, Item] = {}
    steps = 0
    for item in items_of(text):
        assert item.label not in earlier, f"{item.label} is printed twice"
        assert item.values, f"{item.label} shows no value:\n{item.text}"
        for reference in (*item.sources.values(), *((item.hand[1],) if item.hand else ())):
            assert reference in earlier, f"{item.label} points to {reference}, which does not stand before it"
        if item.hand is not None:
            assert item.hand[0] in earlier[item.hand[1]].values, f"{item.label}: {item.hand}"
        if item.symbolic:
            steps += 1
            check_step(item, earlier)
        earlier[item.label] = item
    for number, reference in verdicts(text):
        assert number in earlier[reference].values, f"{number} is not what {reference} holds"
    return steps


def verdicts(text: str) -> Iterator[tuple[str, str]]:
    """Numbers with their references in the lines that say how a check ends, or what is shown beside."""
    for paragraph in re.findall(r"^(?:Ending|Shown beside)[^\n]*(?:\n[^\n]+)*", text, re.M):
        joined = re.sub(r"\n *", " ", paragraph)
        for number, reference in re.findall(r"= ([^=,;:]+?) (\[\d+\]|[JTN]\d+)(?=[,;:]|$)", joined):
            yield number, reference.strip("[]")


def check_step(item: Item, earlier: dict[str, Item]) -> None:
    numbers = substituted(item.symbolic, item.numeric)
    for name, printed in numbers.items():
        assert name in item.sources, f"[{item.label}] does not say where {name} is from:\n{item.text}"
        assert same(printed, earlier[item.sources[name]], item.bare), f"[{item.label}] {name} = {printed}:\n{item.text}"
    value = Reckoner(item.numeric).value
    m = QUANTITY.fullmatch(item.values[0])
    assert m is not None, item.text
    result = worth(item.values[0])
    if item.bare:
        value *= UNITS[m["unit"] or ""]
    assert value == pytest.approx(result, rel=PENCIL, abs=1e-12), f"[{item.label}] comes to {value}:\n{item.text}"
    for shown in item.values[1:]:
        assert worth(shown) == pytest.approx(result, rel=ROUNDED), item.text


# ---------------------------------------------------------------- the worked examples


@pytest.mark.parametrize("path", ONE_LAMINATED, ids=lambda p: p.stem)
def test_every_step_of_a_worked_example_comes_out_by_pencil(path: object) -> None:
    text = text_sheet(path.stem)  # type: ignore[attr-defined]
    assert check_sheet(text) > 50


@pytest.mark.parametrize("name", ["garden_deck", "everyday_deck"])
def test_and_in_inches_and_pounds(name: str) -> None:
    r = result_of(name)
    job = job_named(name).with_({"units": "us"})
    text = sheet.text(Result(job, r.basis, r.tables, r.walked))
    assert "psi" in text and "lbf" in text
    assert check_sheet(text) > 50


def test_each_number_stands_once() -> None:
    """Numbers run without a gap, so a reader who looks for one finds it."""
    for series in ("J", "T", "N", ""):
        own = [int(i.label[len(series) :]) for i in items_of(text_sheet("garden_deck")) if i.label.rstrip("0123456789") == series]
        assert sorted(own) == list(range(1, len(own) + 1)) and own


# ---------------------------------------------------------------- the reader of this test can tell a wrong sheet


def broken(text: str, old: str, new: str) -> str:
    assert old in text
    return text.replace(old, new, 1)


def test_the_pencil_finds_a_wrong_sheet() -> None:
    text = sheet.text(two_steps())
    assert check_sheet(text) == 3
    for old, new in (("= 24.12 MPa", "= 24.42 MPa"), ("1.5 · 16.08", "1.5 · 16.18"), ("σ_Ek from [1]", "σ_Ek from [9]")):
        with pytest.raises(AssertionError):
            check_sheet(broken(text, old, new))


# ---------------------------------------------------------------- synthetic results


def entry(x: float, kind: str, name: str) -> Value:
    return Value(x, kind, JobEntry(f"made.up.{name}", "as written", 7), name)


def cell(x: float, kind: str, name: str) -> Value:
    return Value(x, kind, Cell("site", name, "value", str(x), "no source", "1", "invented"), name)


def synthetic(*subjects: Check | Shown) -> Result:
    """A result with one link of one's own, on the ground of a real job."""
    real = result_of("garden_deck")
    link = LinkResult(
        "made_up", "Made up", tuple(s for s in subjects if isinstance(s, Check)),
        tuple(s for s in subjects if isinstance(s, Shown)),
    )  # fmt: skip
    return Result(real.job, real.basis, real.tables, (Walked(SOUND, real.job, (link,)),))


STRESS = Equation(
    Symbol("sigma_Ek", "stress"), "6*M/(b*t**2)", symbols("M:moment, b:length, t:length"), "beam", "computed", title="bending"
)  # fmt: skip
DESIGN = Equation(
    Symbol("sigma_Ed", "stress"), "gamma_Q*sigma_Ek", symbols("gamma_Q:ratio, sigma_Ek:stress"), "factor", "computed"
)  # fmt: skip


def two_steps() -> Result:
    sigma = STRESS(M=entry(386_000.0, "moment", "M"), b=entry(1000.0, "length", "b"), t=entry(12.0, "length", "t"))
    design = DESIGN(gamma_Q=cell(1.5, "ratio", "gamma_Q"), sigma_Ek=sigma)
    return synthetic(compare(About("made", "up"), "made up", design, cell(45.0, "stress", "f_g_d"), ["here"]))


def test_stations_pick_and_gather_print_the_governing_one() -> None:
    M = Value(
        np.array([1e5, 3.3e6, 2e6]), "moment",
        Numerical("moment of a clamp", "a model", "ours", labels=("first", "second", "third"), residual=1e-12), "M",
    )  # fmt: skip
    chosen = M.take(np.array([2, 1]))
    sigma = STRESS(M=chosen, b=entry(600.0, "length", "b"), t=entry(17.3, "length", "t"))
    gamma = gather([cell(1.35, "ratio", "gamma_G"), cell(1.5, "ratio", "gamma_Q")], [0, 1]).named("gamma_Q")
    design = DESIGN(gamma_Q=gamma, sigma_Ek=sigma)
    text = sheet.text(synthetic(compare(About("made", "up"), "made up", design, cell(200.0, "stress", "f"), ["a", "b"])))
    assert check_sheet(text) == 3
    calculation = text.split("THE CALCULATION")[1]
    assert "at second" in calculation and "at first" not in calculation and "at third" not in calculation
    assert "gamma_Q" in calculation and "gamma_G" not in calculation


def test_a_difference_of_like_numbers_gets_the_digits_it_needs() -> None:
    difference = Equation(Symbol("z", "length"), "a - sqrt(a**2 - c**2)", symbols("a:length, c:length"), "circle", "computed")
    half = Equation(Symbol("a", "length"), "2/3*h", symbols("h:length"), "geometry", "computed")
    z = difference(a=half(h=entry(5555.0, "length", "h")), c=entry(37.123456, "length", "c"))
    near = Equation(Symbol("w", "length"), "a - h", symbols("a:length, h:length"), "difference", "computed")
    w = near(a=half(h=entry(1000.0, "length", "h_1")), h=half(h=entry(999.7, "length", "h_2")))
    assert check_sheet(sheet.text(synthetic(Shown("z", z), Shown("w", w)))) == 5


def test_an_empirical_equation_prints_bare_numbers_and_both_units() -> None:
    split = Equation(
        Symbol("F_90_Rk", "force", "N"), "14*b*sqrt(h_e/(1 - h_e/h))", symbols("b:length@mm, h_e:length@mm, h:length@mm"),
        "a code", "memory", valid=("h_e < h",),
    )  # fmt: skip
    lag = Equation(
        Symbol("W", "withdrawal", "lbf/in"), "1800*G**1.5*D**0.75", symbols("G:ratio, D:length@in"), "another", "memory"
    )  # fmt: skip
    F = split(b=entry(45.0, "length", "b"), h_e=entry(129.0, "length", "h_e"), h=entry(195.0, "length", "h"))
    W = lag(G=cell(0.5, "ratio", "G"), D=entry(9.525, "length", "D"))
    text = sheet.text(synthetic(Shown("F", F), Shown("W", W)))
    assert check_sheet(text) == 2
    assert "numbers in mm" in text and "in its range: h_e < h" in text
    assert re.search(r"= 12 \d{3} N\s+= 12\.\d\d kN", text) and "lbf/in" in text


def test_what_is_outside_its_range_says_so_where_it_is_printed() -> None:
    R = Equation(Symbol("R", "force"), "F*d", symbols("F:force, d:ratio"), "a code", "memory", valid=("d >= 6",))
    small = R(F=entry(100.0, "force", "F"), d=entry(5.0, "ratio", "d"))
    text = sheet.text(synthetic(compare(About("made", "up"), "made up", entry(1.0, "force", "E"), small, ["here"])))
    assert check_sheet(text) == 1
    assert "!! outside its range: d ≥ 6 does not hold" in text and "NOT CHECKED" in text


# ---------------------------------------------------------------- whole families of equations

POSITIVE = st.floats(0.11, 90.0).map(lambda x: round(x, 3))


def expressions(depth: int) -> st.SearchStrategy[str]:
    leaf = st.sampled_from(["a", "b_1", "c_x_d", "gamma_M", "2", "0.3", "pi"])
    if depth == 0:
        return leaf
    below = expressions(depth - 1)
    return st.one_of(
        leaf,
        st.tuples(below, st.sampled_from("+-*/"), below).map(lambda t: f"({t[0]}){t[1]}({t[2]})"),
        st.tuples(below, st.sampled_from(["2", "0.5", "-1.5"])).map(lambda t: f"({t[0]})**{t[1]}"),
        st.tuples(st.sampled_from(["sqrt", "abs", "-"]), below).map(lambda t: f"{t[0]}({t[1]})"),
        st.tuples(st.sampled_from(["min", "max"]), below, below).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
    )


@settings(max_examples=60, deadline=None)
@given(expressions(3), st.lists(POSITIVE, min_size=4, max_size=4), st.sampled_from(["ratio", "length", "force"]))
def test_any_equation_comes_out_by_pencil(text: str, numbers: list[float], kind: str) -> None:
    names = [n for n in ("a", "b_1", "c_x_d", "gamma_M") if re.search(rf"\b{n}\b", text)]
    assume(names)
    try:
        equation = Equation(Symbol("R", "ratio"), text, tuple(Symbol(n, kind) for n in names), "random", "computed")
        x = equation(**{n: entry(v * (-1) ** i, kind, n) for i, (n, v) in enumerate(zip(names, numbers, strict=False))})
    except Exception as fault:
        assume(type(fault).__name__ != "CalculationError" and not isinstance(fault, (ValueError, TypeError)))
        raise
    assume(not isinstance(x.x, complex) and 1e-9 < abs(float(x.x)) < 1e9)
    assert check_sheet(sheet.text(bare_result(x))) == 1


def bare_result(x: Value) -> Result:
    return synthetic(Shown("random", x))


def test_the_standing_of_a_synthetic_check_is_kept() -> None:
    """The synthetic results above are real ones to the sheet: the governing check is found and marked."""
    text = sheet.text(two_steps())
    assert "GOVERNS" in text and str(Ending.WITHIN) in text and str(Standing.REQUIRED)


def test_items_come_before_they_are_used() -> None:
    labels = [i.label for i in items_of(sheet.text(two_steps()))]
    own = [int(x) for x in labels if x.isdigit()]
    assert all(b == a + 1 for a, b in pairwise(own))
