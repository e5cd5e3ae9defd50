"""Shear modulus of an interlayer for a guard load, and what a family of codes makes of it for a laminate of two layers."""

from __future__ import annotations

from dataclasses import dataclass

from barrier.basis import astm_laminate as laminate
from barrier.result import Lack, NotChecked
from barrier.tables import Tables
from barrier.value import Value

DURATION = "1 min"  # the row of the table that is next to, and not below, the time a crowd leans


@dataclass(frozen=True, slots=True, eq=False)
class TwoLayers:
    """A laminate of two layers as a code wants it: the thicker layer first, interlayer, elasticity, shorter side."""

    h_1: Value
    h_2: Value
    h_v: Value
    kind: str | None
    temperature: Value | None
    E: Value
    a: Value


@dataclass(frozen=True, slots=True, eq=False)
class EffectiveThickness:
    """Thickness of a single sheet by a code: for deflection, for the stress of layer 1; and by which code."""

    deflection: Value
    stress: Value
    words: str


def lasts(tables: Tables, load: str) -> str:
    """The rows of moduli a load takes: of its duration or the next longer one; ``load`` as :meth:`Family.film_load` has it."""
    return tables.table("interlayer_durations").row(load).text("rows")


def shear_modulus(
    tables: Tables, kind: str | None, temperature: Value | None, duration: str = DURATION
) -> Value | NotChecked:  # fmt: skip
    """Shear modulus of an interlayer at its temperature or the next higher one of the table; nothing is read between rows."""
    rows = [r for r in tables.table("interlayer_modulus").rows if r.text("duration") == duration]
    known = sorted({r.text("interlayer") for r in rows})
    if kind is None:
        return NotChecked(Lack.INPUT, f"the kind of the interlayer (interlayer.kind, of the table: {', '.join(known)})")
    if temperature is None:
        return NotChecked(Lack.INPUT, "how warm the interlayer gets (interlayer.temperature)")
    found = []
    for row in rows:
        at = row.value("temperature")
        if row.text("interlayer").lower() == kind.lower() and at is not None and float(at.x) >= float(temperature.x):
            found.append((float(at.x), row.value("G")))
    if not found:
        what = "no shear modulus is tabulated" if kind.lower() not in {k.lower() for k in known} else "it is above the warmest row"
        return NotChecked(Lack.BASIS, f"interlayer {kind}: {what}")
    G = min(found, key=lambda f: f[0])[1]
    assert G is not None
    return G.named("G")


@dataclass(frozen=True, slots=True, eq=False)
class Modulus:
    """Shear modulus of an interlayer from the warmest it gets after the longest load to cold and short, and what it rests on."""

    low: Value
    high: Value
    words: str


def modulus_range(tables: Tables, kind: str | None, temperature: Value | None, duration: str) -> Modulus | NotChecked:
    """Range of the shear modulus under a load of a duration: never below what it is after all of it, when warm.

    The low end is the row of :func:`shear_modulus`; the high end the stiffest row of the table, for a load may come on a cold
    day as well. No load that stays is in it: weight bends no upright glass.
    """
    low = shear_modulus(tables, kind, temperature, duration)
    if isinstance(low, NotChecked):
        return low
    own = [r for r in tables.table("interlayer_modulus").rows if r.text("interlayer").lower() == str(kind).lower()]
    every = [G for G in (r.value("G") for r in own) if G is not None]
    words = (
        f"{own[0].text('interlayer')}, from as warm as the job says after {duration} to the coldest and shortest row of the table"
    )
    return Modulus(low.named("G"), max(every, key=lambda G: float(G.x)).named("G_high"), words)


def shear_transfer(two: TwoLayers, G: Value) -> Value:
    """Shear transfer of a laminate by ASTM E1300: 0 for layers that slide, 1 for one solid."""
    h_s = laminate.LAYERS_APART(h_1=two.h_1, h_2=two.h_2, h_v=two.h_v)
    return laminate.SHEAR_TRANSFER(E=two.E, I_s=_inertia(two, h_s), h_v=two.h_v, G=G, h_s=h_s, a=two.a)


def by_astm(two: TwoLayers, G: Value) -> EffectiveThickness:
    """Effective thickness by ASTM E1300."""
    h_s, Gamma = laminate.LAYERS_APART(h_1=two.h_1, h_2=two.h_2, h_v=two.h_v), shear_transfer(two, G)
    h_w = laminate.DEFLECTION_THICKNESS(h_1=two.h_1, h_2=two.h_2, Gamma=Gamma, I_s=_inertia(two, h_s))
    h_s_2 = laminate.SECOND_FROM_AXIS(h_s=h_s, h_1=two.h_1, h_2=two.h_2)
    return EffectiveThickness(h_w, laminate.STRESS_THICKNESS_1(h_ef_w=h_w, h_1=two.h_1, Gamma=Gamma, h_s_2=h_s_2), laminate.METHOD)


def _inertia(two: TwoLayers, h_s: Value) -> Value:
    first = laminate.FIRST_FROM_AXIS(h_s=h_s, h_1=two.h_1, h_2=two.h_2)
    second = laminate.SECOND_FROM_AXIS(h_s=h_s, h_1=two.h_1, h_2=two.h_2)
    return laminate.COUPLE_INERTIA(h_1=two.h_1, h_s_2=second, h_2=two.h_2, h_s_1=first)
