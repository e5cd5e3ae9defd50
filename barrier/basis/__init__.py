"""Families of codes: each one's equations and rules, with clause and edition."""

from __future__ import annotations

from collections.abc import Mapping

from barrier.basis.au import Australia, NewZealand
from barrier.basis.en import Eurocode
from barrier.basis.family import Family
from barrier.basis.interlayer import EffectiveThickness, TwoLayers
from barrier.basis.parts import (
    FOR_SCALE,
    IN_PLANE,
    WET,
    Action,
    ActionKind,
    Answer,
    BothAtOnce,
    Driven,
    Fastener,
    Glass,
    Location,
    Nature,
    Timber,
)
from barrier.basis.us import AllowableStress
from barrier.basis.wind import Strip, WindOnPanel, WindSite
from barrier.tables import Tables

Basis = Family

FAMILIES: dict[str, type[Family]] = {"en": Eurocode, "us": AllowableStress, "au": Australia, "nz": NewZealand}

__all__ = [
    "FAMILIES",
    "FOR_SCALE",
    "IN_PLANE",
    "WET",
    "Action",
    "ActionKind",
    "Answer",
    "Basis",
    "BothAtOnce",
    "Driven",
    "EffectiveThickness",
    "Family",
    "Fastener",
    "Glass",
    "Location",
    "Nature",
    "Strip",
    "Timber",
    "TwoLayers",
    "WindOnPanel",
    "WindSite",
    "basis_named",
]


def basis_named(key: str, national: str, tables: Tables, editions: Mapping[str, str] | None = None) -> Basis:
    """The family of codes a job names, over a set of tables.

    Arguments: ``key`` of :data:`FAMILIES` (``"en"``, ``"us"``, ``"au"``, ``"nz"``); ``national`` table of loads, ``"uk"`` or empty;
    ``tables`` the figures come from; ``editions`` by subject where the usual one is not taken (:mod:`barrier.editions`). Returns
    the family, which answers with values in base units (N, mm, MPa) or *not checked*. Raises KeyError for another key.

    >>> from barrier.tables import Tables
    >>> basis_named("en", "uk", Tables(), {"timber": "2009"}).editions[-2]
    'EN 338:2009 (superseded)'
    """
    return FAMILIES[key](tables, national, editions)
