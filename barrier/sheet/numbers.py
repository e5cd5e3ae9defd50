"""From a number in base units to what stands on the sheet: unit, digits, sign. Nothing else in the project does this.

A figure that is exact in a few digits (an entry of the job, a cell of a table) is printed as it is; any other with so
many significant digits. There are no exponents and no minus zero, and the minus is a minus. A no-break space joins a
number and its unit; the text renderer turns it into a plain one when lines have been broken.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from math import gcd

from barrier.result import Check, Ending
from barrier.units import KINDS, UNITS, shown_unit
from barrier.value import Cell, JobEntry, Value, source_of

CALCULATION = 4  # significant digits where a reviewer recomputes
FRONT = 2  # significant digits in the short answer: enough to talk about
STEADY = 8  # digits that are the same on every machine: the plate's equilibrium is right to some 1e-9
EXACT = 6  # an entry or a cell with up to so many digits is printed as written
DISTANCES = tuple(
    ("screws", kind) for kind in ("edge", "end", "a1", "a2")
)  # checks of distances, from an edge or end, and between screws
SIXTEENTHS = 16  # of an inch: what a rule shows
LARGE = 999  # a utilisation beyond this is only "large"
SMALL = 1e-8  # a residual below this is only "below"
NBSP = "\N{NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"
NOT_MEASURED = "\N{ALMOST EQUAL TO}"  # before a figure that is assumed

# Below the limit (in base units) the usual unit has too many noughts, and the next smaller one is shown.
_SMALLER: dict[tuple[str, str], tuple[float, str]] = {
    ("force", "metric"): (100.0, "N"),
    ("moment", "metric"): (1e5, "N m"),
    ("rotation stiffness", "metric"): (1e5, "N m/rad"),
}
_RAISED = str.maketrans("234", "²³⁴")
_BASE: dict[str, str] = {}
for _unit in UNITS.values():
    if _unit.factor == 1.0:
        _BASE.setdefault(_unit.dimension, _unit.spelling)
_BASE["F/L2"] = "MPa"


@dataclass(frozen=True, slots=True)
class Figure:
    """A number as printed: its text, its unit as :data:`barrier.units.UNITS` spells it, and what the text is worth.

    ``x`` is the printed number in base units: what a reader with a pencil has in hand. ``assumed`` where nobody measured it:
    then a mark stands before it wherever it stands in words, tables and drawings.
    """

    number: str
    unit: str
    x: float
    assumed: bool = False

    @property
    def text(self) -> str:
        """Number and unit, held together."""
        text = f"{self.number}{NBSP}{unit_text(self.unit)}" if self.unit else self.number
        return f"{NOT_MEASURED}{text}" if self.assumed else text

    @property
    def bare(self) -> str:
        """The number without its unit, with its mark."""
        return f"{NOT_MEASURED}{self.number}" if self.assumed else self.number


def unit_text(spelling: str) -> str:
    """A unit as printed: powers raised, its parts held together.

    >>> unit_text("kg/m3"), unit_text("degC"), unit_text("N/mm2")
    ('kg/m³', '°C', 'N/mm²')
    """
    if spelling == "degC":
        return "°C"
    return spelling.translate(_RAISED).replace(" ", NBSP)


def base_unit(kind: str) -> str:
    """The unit a kind is computed in.

    >>> base_unit("force"), base_unit("stress"), base_unit("ratio")
    ('N', 'MPa', '')
    """
    return _BASE[KINDS[kind].dimension]


def digits_text(x: float, digits: int, exact: bool = False) -> str:
    """A number with so many significant digits, in plain notation, thousands grouped from five figures on.

    Noughts at the end stay where they are figures and go where the number is exact without them; ``exact`` allows up
    to :data:`EXACT` digits for that. Range: finite numbers.

    >>> digits_text(11.9004, 4), digits_text(0.7, 4), digits_text(-0.0, 4), digits_text(0.00001234, 2)
    ('11.90', '0.7', '0', '0.000012')
    >>> digits_text(1234567.0, 4).replace("\\N{NO-BREAK SPACE}", "_"), digits_text(-35.0, 4)
    ('1_235_000', '−35')
    """
    if exact and _rounds_exactly(x, EXACT):
        digits = EXACT
    text = _fixed(x, digits)
    if "." in text and _rounds_exactly(x, digits):
        text = text.rstrip("0").rstrip(".")
    whole, point, rest = text.lstrip("-").partition(".")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", NBSP)
    negative = text.startswith("-") and any(c in "123456789" for c in text)
    return (MINUS if negative else "") + whole + point + rest


def _fraction(x: float) -> str:
    """Inches as a rule has them, whole and in sixteenths or coarser; empty where they are not so.

    >>> _fraction(3.5).replace("\\N{NO-BREAK SPACE}", "_"), _fraction(-0.1875), _fraction(0.197), _fraction(48.0)
    ('3_1/2', '−3/16', '', '')
    """
    parts = round(abs(x) * SIXTEENTHS)
    if parts % SIXTEENTHS == 0 or abs(abs(x) * SIXTEENTHS - parts) > 1e-6:
        return ""
    whole, rest = divmod(parts, SIXTEENTHS)
    common = gcd(rest, SIXTEENTHS)
    text = f"{whole}{NBSP}" if whole else ""
    return f"{MINUS if x < 0 else ''}{text}{rest // common}/{SIXTEENTHS // common}"


def steady(x: float) -> float:
    """A number without the digits after the :data:`STEADY`-th, which are rounding and another machine has otherwise: what is a
    half but for them is one, and is rounded the same way everywhere.

    >>> steady(0.6104999999), steady(1 / 3)
    (0.6105, 0.33333333)
    """
    return float(f"{x:.{STEADY}g}")


def _fixed(x: float, digits: int) -> str:
    """A number to so many digits, halves away from nought, as a hand rounds them."""
    if not x:
        return "0"
    exact = Decimal(repr(steady(x)))
    rounded = exact.quantize(Decimal(1).scaleb(exact.adjusted() - digits + 1), ROUND_HALF_UP)
    if rounded.adjusted() > exact.adjusted():  # 9.996 became 10.00
        rounded = rounded.quantize(Decimal(1).scaleb(rounded.adjusted() - digits + 1))
    return format(rounded, "f")


def _rounds_exactly(x: float, digits: int) -> bool:
    return abs(float(_fixed(x, digits)) - x) <= 1e-9 * abs(x)


def worth(number: str) -> float:
    """What a printed number says.

    >>> worth("−1 235.5"), worth("0"), worth("−3 1/2"), worth("3/16")
    (-1235.5, 0.0, -3.5, 0.1875)
    """
    plain = number.replace(NBSP, " ").replace(MINUS, "-")
    if "/" not in plain:
        return float(plain.replace(" ", ""))
    whole, _, part = plain.lstrip("-").rpartition(" ")
    above, _, below = part.partition("/")
    size = float(whole.replace(" ", "") or 0) + int(above) / int(below)
    return -size if plain.startswith("-") else size


@lru_cache(16_384)  # of a sheet: a number is printed where it comes out and wherever it goes in
def figure(
    x: float, kind: str, style: str, digits: int = CALCULATION, exact: bool = False, unit: str | None = None, decimal: bool = False
) -> Figure:
    """How a number is printed.

    Arguments: ``x`` in base units; ``kind`` of :data:`barrier.units.KINDS`; ``style`` "metric" or "us"; ``digits``
    significant ones; ``exact`` for what was written rather than computed; ``unit`` a spelling to use in place of the
    usual one of the style; ``decimal`` keeps inches out of fractions.

    >>> figure(11900.4, "force", "metric").text.replace("\\N{NO-BREAK SPACE}", "_")
    '11.90_kN'
    >>> figure(54.321, "force", "metric", 2).number, figure(12.0, "length", "us").number
    ('54', '0.4724')
    """
    chosen = _unit_for(x, kind, style) if unit is None else unit
    factor = UNITS[chosen].factor
    text = _fraction(x / factor) if chosen == "in" and not decimal else ""
    text = text or digits_text(x / factor, digits, exact)
    return Figure(text, chosen, worth(text) * factor)


def _unit_for(x: float, kind: str, style: str) -> str:
    limit, smaller = _SMALLER.get((kind, style), (0.0, ""))
    return smaller if 0.0 < abs(x) < limit else shown_unit(kind, style)


WRITTEN = (JobEntry, Cell)  # origins of what someone wrote


def is_exact(value: Value, station: int = 0) -> bool:
    """Whether a value was written by someone (an entry, a cell) and not computed."""
    return isinstance(source_of(value, station)[0].origin, WRITTEN)


def figure_of(value: Value, station: int, style: str, digits: int, unit: str | None = None, decimal: bool = False) -> Figure:
    """How a value is printed at one of its stations."""
    station = station if value.stations > 1 else 0
    origin = source_of(value, station)[0].origin
    found = figure(value.at(station), value.kind, style, digits, isinstance(origin, WRITTEN), unit, decimal)
    return replace(found, assumed=True) if isinstance(origin, JobEntry) and origin.is_assumed else found


def utilisation_text(check: Check) -> str:
    """A utilisation with two decimals, or the word for what has none.

    What exceeds never rounds down to 1.00, what is large is only "large". "?" where nobody knows; "none left" where a distance
    is used up; "lets go" where nothing balances or nothing counts.

    >>> from barrier.result import About, Standing
    >>> eta = Value(1.0012, "ratio", JobEntry("x", "x"))
    >>> utilisation_text(Check(About("a"), "a", Ending.EXCEEDS, Standing.REQUIRED, utilisation=eta))
    '>1.00'
    >>> utilisation_text(Check(About("a"), "a", Ending.NOT_CHECKED, Standing.REQUIRED))
    '?'
    """
    return eta_text(check.about.one_of(DISTANCES), check.ending, check.eta)


def linear_text(check: Check) -> str:
    """The same where it stands beside others: of a sum of squares its root, so that twice the load is twice the figure."""
    return eta_text(check.about.one_of(DISTANCES), check.ending, check.rank)


def eta_text(distance: bool, ending: Ending, eta: float | None) -> str:
    """The same of a check that is kept as plain figures; ``distance``: one of :data:`DISTANCES`.

    >>> eta_text(False, Ending.WITHIN, 0.7512), eta_text(True, Ending.EXCEEDS, None)
    ('0.75', 'none left')
    """
    if eta is None and ending is Ending.NOT_CHECKED:
        return "?"
    if eta is None:
        return "none left" if distance else "lets go"
    if eta > LARGE:
        return f">{LARGE}"
    if eta > 9.995:  # how bad it is must not be hidden: 17 is no 170
        return f"{steady(eta):.1f}" if eta < 99.95 else f"{steady(eta):.0f}"
    text = f"{steady(eta):.2f}"
    return f">{text}" if ending is Ending.EXCEEDS and text == "1.00" else text


def ending_text(ending: Ending) -> str:
    """An ending as a sheet prints it: what needs a reader's attention is in capitals.

    >>> [ending_text(e) for e in Ending]
    ['within', 'EXCEEDS', 'NOT CHECKED']
    """
    return str(ending) if ending is Ending.WITHIN else str(ending).upper()


def residual_text(residual: float) -> str:
    """A residual in words, without an exponent.

    >>> residual_text(3e-12).replace(NBSP, "_"), residual_text(0.02)
    ('below_0.000_000_01', '0.02')
    """
    if residual < SMALL:
        return f"below{NBSP}0.000{NBSP}000{NBSP}01"
    return f"{residual:.2g}" if residual >= 1e-4 else f"below{NBSP}0.000{NBSP}1"


def seven(x: float) -> float:
    """A number with seven significant digits, as the JSON result has it; no minus zero.

    >>> seven(1 / 3), seven(-0.0)
    (0.3333333, 0.0)
    """
    return float(f"{x:.7g}") + 0.0


def in_style(text: str, style: str) -> str:
    """A length, stiffness or other metric quantity in words, in the units of the sheet; anything else as it is.

    What a default stands for is written in metric units here; a sheet in inches shows it in its own.

    >>> in_style("10 N/mm3", "us").replace("\\N{NO-BREAK SPACE}", "_"), in_style("10 N/mm3", "metric"), in_style("loose", "us")
    ('36_840_lbf/in³', '10 N/mm3', 'loose')
    """
    number, _, unit = text.partition(" ")
    if style != "us" or unit not in UNITS:
        return text
    try:
        x = float(number) * UNITS[unit].factor
    except ValueError:
        return text
    kind = next(k for k in KINDS.values() if k.dimension == UNITS[unit].dimension)
    return figure(x, kind.name, style).text
