"""A quantity as a reader writes it, turned into one number in base units.

``"12 mm"``, ``"0.75 kN/m"``, ``"50 lbf/ft"``, ``"3/8 in"``, ``"1 1/2 in"``, ``"5 ft 3 in"``. The whole text must match:
a number, then a unit from the closed list of :mod:`barrier.units`. What does not match is answered with the nearest
spelling and never guessed at: a general parser reads ``1,2 m`` as 12 m and ``12 MM`` as megamolar.
"""

from __future__ import annotations

import math
import re
from difflib import get_close_matches

from barrier.units import KINDS, UNITS, units_of

LONGEST = 60  # characters; nothing a reader means is longer, and a longer text is only work for the matcher

_DECIMAL = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_FRACTION = r"(?:[0-9]+[ -]+)?[0-9]+/[0-9]+"
_PLAIN = re.compile(rf"([+-]?)({_DECIMAL})\s*(.*)", re.DOTALL)
_PARTED = re.compile(rf"([+-]?)({_FRACTION})\s*(.*)", re.DOTALL)
_FEET = re.compile(rf"([+-]?)({_DECIMAL})\s*ft\s+({_FRACTION}|{_DECIMAL})\s*in")

# What people write for a unit that is on the list under another spelling, of the same size. Only to suggest, never to read.
_MEANT = {
    "inch": "in", "inches": "in", '"': "in", "″": "in", "'": "ft", "′": "ft", "feet": "ft", "foot": "ft",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "lb": "lbf", "lbs": "lbf", "plf": "lbf/ft", "lb/ft": "lbf/ft", "°": "deg", "degrees": "deg", "degree": "deg",
}  # fmt: skip
_TYPED = str.maketrans({"²": "2", "³": "3", "⁴": "4", "·": " ", "⋅": " ", "*": " ", "^": None})


def parse(text: str, kind: str) -> float | str:
    """Read one quantity.

    Arguments: ``text`` as written; ``kind`` of quantity, a key of :data:`barrier.units.KINDS`. Returns the number in
    the base unit of the kind (N, mm, MPa, rad, kg/m3), or, where it cannot be read, a text that says why and what to
    write (for a fault: it begins with what was written). The number is finite; its size is not judged here.

    >>> parse("1 1/2 in", "length"), parse("0.75 kN/m", "line load")
    (38.099999999999994, 0.75)
    >>> parse("12 MM", "length")
    '\\'12 MM\\' has the unknown unit "MM"; did you mean "mm"?'
    """
    shown = repr(text if len(text) <= LONGEST else text[: LONGEST - 3] + "...")
    if len(text) > LONGEST:
        return f"{shown} is too long for a quantity; {_example(kind)}"
    stripped = text.strip()
    if not stripped:
        return f"is empty; {_example(kind)}"
    feet = _FEET.fullmatch(stripped)
    if feet is not None:
        return _feet_and_inches(feet, shown, kind)
    parted = _PARTED.fullmatch(stripped)
    if parted is not None:
        return _fraction(parted, shown, kind)
    plain = _PLAIN.fullmatch(stripped)
    if plain is None:
        return f"{shown} does not begin with a number; {_example(kind)}"
    sign, number, unit = plain.groups()
    if unit[:1] == ",":
        return f"{shown} has a comma in its number; write a point for decimals and nothing between thousands"
    return _scaled(sign, float(number), unit, shown, kind)


def unit_of(text: str, kind: str) -> str:
    """The unit a text that was read is written in; for ``5 ft 3 in`` the last. The first of the list if none fits.

    >>> unit_of("0.75 kN/m", "line load")
    'kN/m'
    """
    spellings = sorted(units_of(kind), key=len, reverse=True)
    return next((u for u in spellings if u and text.rstrip().endswith(u)), units_of(kind)[0])


def in_unit(x: float, unit: str) -> str:
    """A bound of an allowed range, in the unit the reader wrote.

    >>> in_unit(25.4, "in"), in_unit(3000.0, "m")
    ('1 in', '3 m')
    """
    return f"{x / UNITS[unit].factor:.4g} {unit}".strip()


def _scaled(sign: str, number: float, unit: str, shown: str, kind: str) -> float | str:
    wrong = _wrong_unit(unit, shown, kind)
    if wrong is not None:
        return wrong
    x = number * UNITS[unit].factor
    if not math.isfinite(x):
        return f"{shown} is not a finite number"
    return 0.0 if x == 0.0 else -x if sign == "-" else x


def _wrong_unit(unit: str, shown: str, kind: str) -> str | None:
    """Why a unit cannot be taken for a kind, or None if it can."""
    allowed = units_of(kind)
    if unit in allowed:
        return None
    if not unit:
        return f"{shown} has no unit; write {shown[:-1]} {_usual(kind)}{shown[-1]}"
    if unit in UNITS and unit:
        return f"{shown} is in {unit}; expected a {kind} in {_listed(allowed)}"
    near = nearest_unit(unit, kind)
    return f'{shown} has the unknown unit "{unit}"; ' + (
        f'did you mean "{near}"?' if near else f"expected a {kind} in {_listed(allowed)}"
    )


def nearest_unit(unit: str, kind: str) -> str | None:
    """The spelling of the list that was probably meant, or None.

    >>> nearest_unit("kpa", "pressure"), nearest_unit("kN·m", "moment"), nearest_unit("furlong", "length")
    ('kPa', 'kN m', None)
    """
    allowed = [u for u in units_of(kind) if u]
    typed = unit.translate(_TYPED).strip()
    meant = _MEANT.get(typed.casefold(), typed)
    folded = {u.casefold(): u for u in reversed(allowed)}
    if meant.casefold() in folded:
        return folded[meant.casefold()]
    near = get_close_matches(meant.casefold(), folded, n=1, cutoff=0.6)
    return folded[near[0]] if near else None


def _fraction(match: re.Match[str], shown: str, kind: str) -> float | str:
    sign, number, unit = match.groups()
    if unit not in ("in", "ft") and _wrong_unit(unit, shown, kind) is None:
        return f"{shown} is a fraction; fractions are read in inches and feet only, write a decimal number"
    value = _parts(number)
    return f"{shown} divides by zero" if value is None else _scaled(sign, value, unit, shown, kind)


def _feet_and_inches(match: re.Match[str], shown: str, kind: str) -> float | str:
    if KINDS[kind].dimension != "L":
        return f"{shown} is in ft; expected a {kind} in {_listed(units_of(kind))}"
    sign, feet, inches = match.groups()
    rest = _parts(inches) if "/" in inches else float(inches)
    if rest is None:
        return f"{shown} divides by zero"
    if rest >= 12.0:
        return f"{shown} has 12 or more inches beside its feet; count them into the feet"
    return _scaled(sign, 12 * float(feet) + rest, "in", shown, kind)


def _parts(text: str) -> float | None:
    """A fraction or mixed number; None where it divides by zero."""
    *whole, fraction = re.split(r"[ -]+", text)
    top, bottom = fraction.split("/")
    if float(bottom) == 0.0:
        return None
    return (float(whole[0]) if whole else 0.0) + float(top) / float(bottom)


def _usual(kind: str) -> str:
    return KINDS[kind].metric or units_of(kind)[0]


def _example(kind: str) -> str:
    return f'expected a {kind} such as "{f"12 {_usual(kind)}".strip()}"'


def _listed(units: tuple[str, ...]) -> str:
    return ", ".join(units[:-1]) + f" or {units[-1]}" if len(units) > 1 else units[0]


BARE = re.compile(r"\d+(?:[.,]\d+)?(?:\s*/\s*\d+)?")


def numbers_in(words: str) -> list[float]:
    """The numbers in a text of the reader, whatever stands between them; a comma may stand for a point.

    A fraction over nothing is the number above it.

    >>> numbers_in("10 + 1,52 + 3/8 toughened"), numbers_in("12/0")
    ([10.0, 1.52, 0.375], [12.0])
    """
    found = []
    for text in BARE.findall(words):
        whole, _, part = text.replace(",", ".").partition("/")
        found.append(float(whole) / (float(part) or 1.0) if part else float(whole))
    return found
