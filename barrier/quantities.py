"""Numbers with units at the border, for those who compute on: quantities of pint out of values, and into a job.

Inside everything is a plain number in N, mm, MPa, rad, kg/m3. Here, and only when asked, a number becomes a quantity of the
application's registry of pint, so that it meets the reader's own. pint comes with the extra ``units``.
"""

from __future__ import annotations

import re
import sys
from typing import Any

from barrier.extras import wanted
from barrier.units import KINDS, UNITS

_BASE = {u.dimension: s for s, u in reversed(UNITS.items()) if u.factor == 1.0}  # the first spelling of factor one
_LONG = {"%": "percent", "psf": "lbf/ft2"}
_SHORT = {"°C": "degC", "°": "deg", "Δ°C": "degC", "delta_degC": "degC"}


def quantity(x: Any, kind: str) -> Any:
    """A number, or an array of them, as a quantity of pint in the base unit of its kind.

    Arguments: ``x`` in base units; ``kind`` a key of :data:`barrier.units.KINDS`. Returns a ``pint.Quantity`` of the application's
    registry. Raises ImportError where pint is not installed.

    >>> quantity(2500.0, "force").to("kN").magnitude
    2.5
    """
    registry = wanted("pint", "units").get_application_registry()
    return registry.Quantity(x, spelled_for_pint(_BASE[KINDS[kind].dimension]))


def spelled_for_pint(unit: str) -> str:
    """A spelling (``unit``) of :data:`barrier.units.UNITS` as pint reads it.

    >>> spelled_for_pint("kN m/rad"), spelled_for_pint("N/mm3")
    ('kN*m/rad', 'N/mm**3')
    """
    unit = _LONG.get(unit, unit)
    return re.sub(r"(?<=[A-Za-z])(\d)", r"**\1", unit).replace(" ", "*")


def as_written(value: Any) -> Any:
    """What a job file would say for a quantity of pint, in its own unit where a job file may have that; anything else as it is.

    Argument: ``value`` the quantity, or whatever is to stand in a job. Returns text such as ``"1350 mm"``. Raises ValueError
    for a quantity no entry of a job is in, or more than one number.

    >>> import pint
    >>> as_written(pint.Quantity(42, "inch")), as_written(pint.Quantity(2, "kip/m")), as_written("12 mm")
    ('42 in', '8.896443230521001 N/mm', '12 mm')
    """
    pint = sys.modules.get("pint")  # who has not loaded it has no quantity of it
    if pint is None or not isinstance(value, pint.Quantity):
        return value
    spelled = f"{value.units:~C}".replace("**", "").replace("*", " ")
    spelled = _SHORT.get(spelled, spelled)
    if spelled not in UNITS:
        spelled = _nearest(value)
        value = value.to(spelled_for_pint(spelled))
    try:
        x = float(value.magnitude)
    except TypeError:
        raise ValueError(f"{value} is more than one number; an entry of a job is one") from None
    return f"{repr(x).removesuffix('.0')} {spelled}".strip()


def _nearest(value: Any) -> str:
    """The base unit of the dimension a quantity has. A stiffness against turning says so by its ``/rad``."""
    turning = "radian" in str(value.units)
    for dimension, unit in _BASE.items():
        if ("/rad" in dimension) == turning and unit and value.is_compatible_with(spelled_for_pint(unit)):
            return unit
    raise ValueError(f"{value} is in no unit of a job file; they are {', '.join(u for u in UNITS if u)}")
