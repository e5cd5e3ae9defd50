"""Sizes and words as people type them, turned into what a job file takes: the file is strict, a dialogue need not be.

``42"``, ``4'9"``, ``1/2 inch``, ``12 MM``, ``45x190``; tempered for toughened, hanger for bracket. What is left open (a number
without a unit) is asked back and never guessed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

_MARKS = str.maketrans({"″": '"', "“": '"', "”": '"', "’": "'", "′": "'", "‘": "'", "×": "x"})
_NUMBER = r"[0-9]+(?:\.[0-9]+)?"
_INCHES = rf"(?:[0-9]+[ -]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|{_NUMBER})"
_FEET_INCHES = re.compile(rf"({_NUMBER})\s*(?:'|ft|feet|foot)\s*-?\s*({_INCHES})\s*(?:\"|in|inch|inches)?", re.IGNORECASE)
_SIZED = re.compile(rf"([-+]?(?:{_INCHES}))\s*([^0-9\s].*|)")
_UNITS = {
    '"': "in", "''": "in", "inch": "in", "inches": "in", "in.": "in", "'": "ft", "foot": "ft", "feet": "ft", "ft.": "ft",
    "mil": "mm", "mils": "mm", "mm.": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "centimetres": "cm", "kph": "km/h", "kmh": "km/h",
}  # fmt: skip
_BETWEEN = re.compile(r"(?<=[0-9\"'a-zA-Z ])\s*(?:[x*]|\bby\b)\s*(?=[0-9])", re.IGNORECASE)

# Words of one trade for those of another. Only what means the same thing.
COUSINS: Mapping[str, str] = {
    "tempered": "toughened", "toughened glass": "toughened", "tempered glass": "toughened", "fully tempered": "toughened",
    "heat strengthened": "heat-strengthened", "hs": "heat-strengthened", "float": "annealed", "ordinary": "annealed",
    "hanger": "bracket", "hangers": "bracket", "joist hanger": "bracket", "joist hangers": "bracket", "brackets": "bracket",
    "angle": "bracket", "angles": "bracket", "angle bracket": "bracket", "nail": "nails", "nailed": "nails", "end nails": "nails",
    "skew nails": "nails", "toenails": "nails", "screw": "screws", "screwed": "screws", "nothing": "none", "no": "none",
    "lag": "coach screw", "lag screw": "coach screw", "lags": "coach screw", "coach": "coach screw", "coach screws": "coach screw",
    "coachscrew": "coach screw", "lag bolt": "coach screw", "batten screw": "wood screw", "bugle": "wood screw",
    "wood screws": "wood screw", "timber screw": "structural screw", "timber screws": "structural screw",
    "structural screws": "structural screw", "great britain": "uk", "britain": "uk", "england": "uk", "scotland": "uk",
    "wales": "uk", "united kingdom": "uk", "gb": "uk", "usa": "us", "america": "us", "united states": "us", "u.s.": "us",
    "oz": "australia", "aus": "australia", "au": "australia", "nz": "new zealand", "aotearoa": "new zealand", "deutschland":
    "germany", "de": "germany", "europe": "other europe", "house": "home", "residential": "home", "domestic": "home",
    "flats": "shared", "apartments": "shared", "office": "shared", "public": "crowd", "pub": "crowd", "grass": "garden",
    "lawn": "garden", "soil": "garden", "concrete": "paving", "footpath": "people pass", "pool": "water",
    "longways": "along", "lengthways": "along", "crossways": "across", "square": "rectangle", "rectangular": "rectangle",
    "circular": "round", "circle": "round", "yes": "yes", "y": "yes", "n": "no", "ledger": "bracket", "beam": "bearer",
    "outside": "weather", "outdoors": "weather", "open": "weather", "roof": "under a roof", "covered": "under a roof",
    "inside": "indoors",
}  # fmt: skip


def size_as_read(text: str) -> tuple[str, bool]:
    """One size as a job file takes it, and whether it has a unit.

    >>> [size_as_read(t)[0] for t in ('42"', "4'9\\"", "1/2 inch", "12 MM", "4' 9 1/2\\"", "1200mm")]
    ['42 in', '4 ft 9 in', '1/2 in', '12 mm', '4 ft 9 1/2 in', '1200 mm']
    >>> size_as_read("57"), size_as_read("5.3 furlongs")
    (('57', False), ('5.3 furlongs', True))
    """
    plain = " ".join(text.translate(_MARKS).split())
    if (feet := _FEET_INCHES.fullmatch(plain)) is not None:
        return f"{feet[1]} ft {feet[2]} in", True
    sized = _SIZED.fullmatch(plain)
    if sized is None:
        return plain, True
    unit = sized[2].strip()
    folded = unit.casefold()
    return f"{sized[1]} {_UNITS.get(folded, folded if folded in ('mm', 'm', 'cm', 'in', 'ft') else unit)}".strip(), bool(unit)


def sizes_apart(text: str) -> list[str]:
    """Several sizes in a row: ``45 x 190``, ``1 1/2" by 7 1/4"``.

    >>> sizes_apart("45x190 mm"), sizes_apart('1 1/2" by 7 1/4"'), sizes_apart("12 mm")
    (['45', '190 mm'], ['1 1/2"', '7 1/4"'], ['12 mm'])
    """
    return [p.strip() for p in _BETWEEN.split(text.translate(_MARKS))]


def cousin(word: str, choices: tuple[str, ...]) -> str:
    """A word of the trade as this list has it, or as it was typed.

    >>> cousin("Hanger", ("bracket", "nails")), cousin("hanger", ("along",))
    ('bracket', 'hanger')
    """
    meant = COUSINS.get(word.casefold(), "")
    return meant if meant in choices else word
