"""A family of codes is held by its contract: how its factors are called is its own, and no link knows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import job_named, result_of

from barrier.basis import FAMILIES, Family
from barrier.basis.family import Nature
from barrier.equation import Step
from barrier.load_path import check
from barrier.result import Combination

OWN_NAME = "alpha_L"


def _under_another_name(combination: Combination) -> Combination:
    return replace(combination, factor=combination.factor.named(OWN_NAME))


@pytest.mark.parametrize(("key", "name"), [("en", "garden_deck"), ("us", "us_deck"), ("au", "au_deck"), ("nz", "nz_deck")])
def test_a_basis_calls_its_factor_what_it_likes(key: str, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    family = FAMILIES[key]

    def strength(self: Family, nature: Nature, use: str = "") -> Combination:
        return _under_another_name(family.strength(self, nature, use))

    stub = type("Stub", (family,), {"strength": strength})
    monkeypatch.setitem(FAMILIES, key, stub)
    assert job_named(name).basis == key
    found, usual = check(job_named(name)), result_of(name)
    assert found.ending is usual.ending
    for link, as_usual in zip(found.links, usual.links, strict=True):
        assert [(c.id, c.ending, c.eta) for c in link.checks] == [(c.id, c.ending, c.eta) for c in as_usual.checks]
        assert [s.title for s in link.shown] == [s.title for s in as_usual.shown]
    origins = [c.demand.origin for c in found.sound.checks if c.demand is not None and c.id.startswith("glass.face")]
    assert origins and all(isinstance(o, Step) and OWN_NAME in o.inputs for o in origins)
