"""Families of codes: each one's equations and rules, with clause and edition."""

from __future__ import annotations

from barrier.basis.au import Australia, NewZealand
from barrier.basis.en import Eurocode
from barrier.basis.family import (
    IN_PLANE,
    WET,
    Action,
    ActionKind,
    Answer,
    BothAtOnce,
    Driven,
    Family,
    Glass,
    Location,
    Nature,
    Screw,
    Timber,
)
from barrier.basis.interlayer import EffectiveThickness, TwoLayers
from barrier.basis.us import AllowableStress
from barrier.basis.wind import Strip, WindOnPanel, WindSite
from barrier.tables import Tables

Basis = Family

FAMILIES: dict[str, type[Family]] = {"en": Eurocode, "us": AllowableStress, "au": Australia, "nz": NewZealand}

__all__ = [
    "FAMILIES",
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
    "Glass",
    "Location",
    "Nature",
    "Screw",
    "Strip",
    "Timber",
    "TwoLayers",
    "WindOnPanel",
    "WindSite",
    "basis_named",
]


def basis_named(key: str, national: str, tables: Tables) -> Basis:
    """The family of codes a job names, over a set of tables."""
    return FAMILIES[key](tables, national)
