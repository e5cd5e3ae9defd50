"""Cases carry their action, duration and combination to the last link."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from conftest import EXAMPLES, ROOT, job_named

from barrier.job import Job
from barrier.links.mount.base_plate import MountForces, leading
from barrier.load_path import Result, check
from barrier.result import Check, Ending, Standing, one_of_each, worst_of
from barrier.value import Numerical, Value

NAMES = [p.stem for p in EXAMPLES]
SMALL = {  # so little on the barrier that wind decides wherever a load is compared
    "loads.line": "0.05 kN/m", "loads.point": "50 N", "loads.infill": "0.05 kN/m2", "loads.reference": "a test",
}  # fmt: skip
WIND = {"wind": {"pressure": "1.2 kN/m2", "reference": "a test"}}
SAME = 1e-9  # relative; the same sums, in another order at most


def mounts(result: Result) -> tuple[MountForces, ...]:
    return next(r for r in result.links if r.id == "base_plate").handed_on  # type: ignore[no-any-return]


def bare(name: str) -> Job:
    job = job_named(name)
    return job.with_({"situations": None}) if job.situations else job


# ---------------------------------------------------------------- which one decides


def made(ending: Ending, eta: float | None = None, demand: float | None = None, id: str = "a") -> Check:
    def value(x: float | None) -> Value | None:
        return None if x is None else Value(x, "ratio", Numerical("made up", "made up", "a test"))

    return Check(id, "", ending, Standing.REQUIRED, demand=value(demand), utilisation=value(eta))


def test_what_lets_go_comes_first_then_what_exceeds_then_what_nobody_knows_then_the_largest() -> None:
    lets_go, over = made(Ending.EXCEEDS), made(Ending.EXCEEDS, 1.2)
    unknown, more_unknown = made(Ending.NOT_CHECKED, demand=1.0), made(Ending.NOT_CHECKED, demand=2.0)
    low, high = made(Ending.WITHIN, 0.2), made(Ending.WITHIN, 0.9)
    assert worst_of([low, high, unknown, over, lets_go]) is lets_go
    assert worst_of([low, high, unknown, over]) is over
    assert worst_of([high, unknown, low, more_unknown]) is more_unknown
    assert worst_of([low, high]) is high
    assert worst_of([high, made(Ending.WITHIN, 0.9)]) is high
    other = made(Ending.WITHIN, 0.5, id="b")
    assert one_of_each([low, other, high]) == (high, other)


def test_no_link_asks_for_the_combination_again() -> None:
    """A combination is asked of the basis where cases are made; from there on it is handed on."""
    may = {"loads/actions.py", "mount/in_plane_forces.py"}  # where a case, or a load in the plane, is made
    links = ROOT / "barrier" / "links"
    asking = re.compile(r"walk\.strength\(|basis\.service\(")
    asked = {str(path.relative_to(links)) for path in links.rglob("*.py") if asking.search(path.read_text(encoding="utf-8"))}
    assert asked == may


# ---------------------------------------------------------------- wind and the barrier load side by side


def numbers_of_wind(result: Result) -> Iterator[tuple[str, float]]:
    for handed in mounts(result):
        if handed.combination.natures != ("wind",):
            continue
        name = handed.model.name
        for word, value in (("bed", getattr(handed.bed, "strength", None)), ("pull", handed.R_ax), ("M", handed.M_Ed)):
            if isinstance(value, Value):
                yield f"{name} {word}", value.at(handed.worst)
    for c in result.sound.checks:
        if "wind" in c.combination:
            for word, value in (("demand", c.demand), ("resistance", c.resistance), ("utilisation", c.utilisation)):
                if value is not None:
                    yield f"{c.id} {word}", value.at(c.station)


@pytest.mark.parametrize(("name", "durations"), [
    ("garden_deck", ("permanent", "instantaneous")), ("us_deck", ("permanent", "ten minutes")), ("au_deck", ("long", "short")),
    ("three_clamps_laminated", ("permanent", "instantaneous")), ("boards_only", ("permanent", "instantaneous")),
])  # fmt: skip
def test_the_duration_argued_for_the_barrier_load_changes_no_number_of_wind(name: str, durations: tuple[str, str]) -> None:
    job = bare(name).with_({**SMALL, **WIND})
    long, short = (dict(numbers_of_wind(check(job.with_({"loads.duration": d, "loads.reference": "a test"})))) for d in durations)
    assert long.keys() == short.keys() and len(long) > 20
    links = {id.split(".")[0] for id in long if "." in id}
    assert {"glass", "base_plate", "screws"} <= links and links & {"blocking", "boards"}
    for id, x in long.items():
        assert x == pytest.approx(short[id], rel=SAME), id


def test_wind_is_compared_with_its_own_duration_and_the_barrier_load_with_the_one_argued_for_it() -> None:
    """EN 1995-1-1: k_mod of service class 3, permanent 0.50 and short-term 0.70, in the ratio of the two resistances."""
    result = check(bare("garden_deck").with_({**WIND, "loads.duration": "permanent", "loads.reference": "a test"}))
    rail, wind = (next(m for m in mounts(result) if m.combination.natures == (n,)) for n in ("barrier", "wind"))
    for of in (lambda m: m.bed.strength, lambda m: m.R_ax):
        assert of(rail).at(0) / of(wind).at(0) == pytest.approx(0.50 / 0.70)


def test_the_combination_and_the_case_named_on_a_check_are_those_of_its_governing_station() -> None:
    job = bare("garden_deck").with_({**SMALL, **WIND})
    cases = {c.id: c for c in next(r for r in check(job).links if r.id == "actions").handed_on}
    for changes, nature in (({}, "wind"), ({"wind": {"pressure": "0.01 kN/m2", "reference": "a test"}}, "barrier")):
        loaded = [c for c in check(job.with_(changes)).sound.checks if c.combination and not c.id.startswith("in_plane.")]
        for c in loaded:
            case = cases[c.case]
            assert c.combination == case.strength.id, c.id
            if c.eta is not None and c.standing is Standing.REQUIRED:
                assert case.action.nature == nature, c.id
        assert {c.id.split(".")[0] for c in loaded} >= {"glass", "base_plate", "screws", "bearing", "blocking"}


@pytest.mark.parametrize("name", NAMES)
def test_a_second_combination_never_takes_a_check_away(name: str) -> None:
    """Each id comes once, whatever the combinations, and the ones that decide are those of the worse of the two alone."""
    job = bare(name).with_(WIND)
    both = check(job).sound.checks
    assert len({c.id for c in both}) == len(both)
    rail = {c.id: c for c in check(job.with_({"wind": None, "site.outdoors": False})).sound.checks}
    wind = {c.id: c for c in check(job.with_(SMALL)).sound.checks}
    for c in both:
        alone = [x for x in (rail.get(c.id), wind.get(c.id)) if x is not None and c.combination]
        if c.eta is None or any(a.eta is None for a in alone) or not alone or c.id.startswith("in_plane."):
            continue
        assert c.eta == pytest.approx(max(a.eta for a in alone if a.eta is not None), rel=1e-6), c.id


def test_the_combination_shown_is_the_one_with_the_largest_moment() -> None:
    result = check(bare("garden_deck").with_(WIND))
    for shown in leading(mounts(result)):
        same = [m for m in mounts(result) if m.model is shown.model]
        assert len(same) == 2 and shown.M_worst.at(0) == max(m.M_worst.at(0) for m in same)


def test_the_deck_gets_the_largest_of_every_combination() -> None:
    result = check(bare("garden_deck").with_(WIND))
    table = next(r for r in result.links if r.id == "blocking").handed_on[0]
    assert table.combinations == ("ultimate, barrier", "ultimate, wind")
    alone = [
        next(r for r in check(bare("garden_deck").with_(changes)).links if r.id == "blocking").handed_on[0]
        for changes in ({"wind": None, "site.outdoors": False}, {**WIND, **SMALL})
    ]
    for row, *parts in zip(table.rows, *(a.rows for a in alone), strict=True):
        for value, *of in zip(row.values, *(p.values for p in parts), strict=True):
            assert value is not None and all(o is not None for o in of)
            assert abs(value.at(0)) == pytest.approx(max(abs(o.at(0)) for o in of), rel=1e-6), row.words
