"""The supplier's rating with all its particulars: what is missing or differs keeps it not checked and is named.

No source: common sense of testing; a rating is worth what it was tested with. All ratings here are invented.
"""

from __future__ import annotations

import numpy as np
import pytest
from conftest import ROOT, job_named, sound

from barrier.job import Job, read_job
from barrier.result import Check, Ending, Lack

GARDEN = job_named("garden_deck").with_({"situations": None})
THREE = job_named("three_clamps_laminated").with_({"situations": None})


def rated(job: Job, **changes: object) -> Check:
    changed = job.with_({f"mounts.M1.rating.{key}": value for key, value in changes.items()})
    return next(c for c in sound(changed).checks if c.id == "clamp.rating.M1")


def test_a_rating_of_this_mount_is_compared() -> None:
    for job in (GARDEN, THREE):
        c = rated(job)
        assert c.ending is Ending.WITHIN and c.eta is not None and "5 tests" in c.reason


DIFFERS = {
    "height": ("1000 mm", "1000 mm and line load acts higher"),
    "glass": ("17.5 mm", 'glass "17.5 mm" and the job has 19 mm'),
    "screws": ("4 x 8 mm", "the diameter is another"),
    "substrate": ("concrete", "tested on concrete"),
}


@pytest.mark.parametrize("key", sorted(DIFFERS))
def test_what_differs_is_named(key: str) -> None:
    value, words = DIFFERS[key]
    c = rated(GARDEN, **{key: value})
    assert c.ending is Ending.NOT_CHECKED and c.eta is None and c.reason.startswith(str(Lack.RANGE)) and words in c.reason


def test_everything_that_differs_is_named_at_once() -> None:
    c = rated(GARDEN, **{key: value for key, (value, _) in DIFFERS.items()})
    assert all(words in c.reason for _, words in DIFFERS.values())


@pytest.mark.parametrize("key", ["moment", "meaning", "tested", "substrate", "height", "glass", "screws", "reference"])
def test_what_is_missing_is_named(key: str) -> None:
    c = rated(GARDEN, **{key: None})
    assert c.ending is Ending.NOT_CHECKED and f"lacks: {key}" in c.reason


@pytest.mark.parametrize(
    ("words", "same"),
    [
        ("4 x 10 mm", True), ("4 x 10 x 220", True), ("4 x 10 x 100", False), ("3 x 10 mm", False), ("10 mm", False),
        ("four of 10 mm", False),
    ],
)  # fmt: skip
def test_screws_in_words(words: str, same: bool) -> None:
    job = GARDEN.with_({"mounts.M1.screw.length": "220 mm"})
    assert (rated(job, screws=words).ending is not Ending.NOT_CHECKED) is same


@pytest.mark.parametrize(
    ("words", "same"),
    [
        ("10 + 10 mm laminated", True), ("10 + 1.52 + 10", True), ("10 + 8 mm", False), ("21.52 mm", False), ("10 mm", False),
        ("annealed 10 + 10 mm", False),
    ],
)  # fmt: skip
def test_glass_in_words(words: str, same: bool) -> None:
    assert (rated(THREE, glass=words).ending is not Ending.NOT_CHECKED) is same


def test_a_missing_screw_is_not_the_tested_mount() -> None:
    c = next(c for c in sound(GARDEN.with_({"mounts.M1.screws.S1.present": False})).checks if c.id == "clamp.rating.M1")
    assert c.ending is Ending.NOT_CHECKED and "the number is another" in c.reason


def test_kinds_of_value() -> None:
    assert "breaking load of 5 tests" in rated(GARDEN, meaning="ultimate").reason
    allowable, characteristic = rated(GARDEN, meaning="allowable"), rated(GARDEN)
    assert allowable.eta is not None and characteristic.eta == pytest.approx(
        1.5 * allowable.eta / (0.7 / 1.3)  # the factor of EN 1990 on the action; k_mod and gamma_M of connections on the rating
    )


def test_a_characteristic_value_is_none_in_allowable_stress_design() -> None:
    us = read_job(ROOT / "worked_examples" / "us_deck.toml")
    rating = {"moment": "2.2 kN m", "meaning": "characteristic", "tested": 5, "substrate": "timber", "height": "50 in",
              "glass": "1/2 in", "screws": "4 x 3/8 in", "reference": "invented"}  # fmt: skip
    for meaning, said in (("characteristic", "ask for the allowable value"), ("allowable", "")):
        changed = us.with_({"mounts.M1.rating": {**rating, "meaning": meaning}})
        c = next(c for c in sound(changed).checks if c.id == "clamp.rating.M1")
        if said:
            assert c.ending is Ending.NOT_CHECKED and said in c.reason
        else:
            assert "characteristic" not in c.reason.split("against")[0]


def test_slanting_screws() -> None:
    """EN 1995-1-1 8.7.2(5): the angle to the grain enters (8.38), and below 30 degrees there is no expression (memory)."""

    def withdrawal(angle: str) -> Check:
        job = GARDEN.with_({"mounts.M1.screws.S1.angle": angle})
        return next(c for c in sound(job).checks if c.id == "screws.withdrawal.M1")

    straight, slant, flat = withdrawal("0 deg"), withdrawal("30 deg"), withdrawal("62 deg")
    assert straight.eta is not None and slant.eta is not None
    assert slant.eta > straight.eta and withdrawal("-30 deg").eta == pytest.approx(slant.eta)
    assert flat.ending is Ending.NOT_CHECKED and "theta" in flat.reason
    us = read_job(ROOT / "worked_examples" / "us_deck.toml").with_({"mounts.M1.screws.S1.angle": "10 deg"})
    c = next(c for c in sound(us).checks if c.id == "screws.withdrawal.M1")
    assert c.ending is Ending.NOT_CHECKED and "slant" in c.reason


def test_the_factor_of_a_slant_by_hand() -> None:
    """cos 30 / (1.2 sin² 30 + cos² 30) = 0.8660 / (0.3 + 0.75) = 0.8248."""
    from barrier.basis.en.fasteners import SLANT
    from barrier.value import JobEntry, Value

    assert SLANT(theta=Value(0.5235987755982988, "angle", JobEntry("x", "30 deg"))).x == pytest.approx(0.824786, rel=1e-6)


def test_the_clamp_with_the_least_of_them_decides_which_one_ever_it_is() -> None:
    """Two mounts alike share a push along: where one is rated for 0.8 of the other, the glass slides at 0.8."""

    def slip(**rated: str) -> Check:
        job = GARDEN.with_({f"mounts.{m}.rating.slip_along": f"{value} kN" for m, value in rated.items()})
        return next(c for c in sound(job).checks if c.id == "clamp.slip_along.P3")

    alike = slip()
    assert alike.eta is not None
    for weak in ("M1", "M2"):
        one = slip(**{weak: "0.8"})
        assert one.ending is Ending.WITHIN and one.eta == pytest.approx(alike.eta / 0.8, rel=1e-9) and f"mount {weak}" in one.where


def test_each_mount_is_compared_with_what_the_glass_does_to_it() -> None:
    """Mounts off the middle of the panel are not pushed alike, and what both take is the load by its lever, by hand.

    1.5 x 0.74 kN/m x 1 m at 1.1 m above the decking, which the plates stand on.
    """
    job = GARDEN.with_({"mounts.M1.x": "150 mm"})
    demands = [c.demand for m in ("M1", "M2") for c in sound(job).checks if c.id == f"clamp.rating.{m}"]
    M_1, M_2 = (np.asarray(d.x) for d in demands if d is not None)
    assert (M_1 + M_2).max() == pytest.approx(1.5 * 0.74 * 1000 * 1100, rel=1e-6) and M_2.max() > 1.05 * M_1.max()
