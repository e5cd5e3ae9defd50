"""A rail over a run: limits, symmetry, reciprocity, splices, ends, and what losing a panel does."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from barrier.mechanics.beam import Beam, line_load
from barrier.mechanics.plate import FIXED, Clamp, LineLoad, Pad, PatchLoad, Plate, PlateModel, Pressure, diagonal_base
from barrier.mechanics.rail import Rail, RailRun, RunLoad, RunPanel

GLASS = Plate(1000, 1100, 12, 70_000, 0.23)
CLAMPS = tuple(Clamp(x, (Pad(x - 25, x + 25, 0, 90, 10.0),)) for x in (250.0, 750.0))
Q = 0.75


def run(number: int = 3, gap: float = 20.0, base: object = FIXED, **rail: object) -> RailRun:
    panels = [RunPanel((1000 + gap) * i, GLASS, CLAMPS, (base, base)) for i in range(number)]  # type: ignore[arg-type]
    told: dict[str, object] = {"EI": 5e9, "k_r": 20.0, **rail}
    return RailRun(panels, Rail(0.0, panels[-1].end, **told))  # type: ignore[arg-type]


def line(of: RailRun) -> RunLoad:
    return RunLoad(lines=((Q, 0.0, of.rail.end),))


@pytest.mark.parametrize("EI", [1e3, 1e5])
def test_a_limp_rail_leaves_every_panel_alone(EI: float) -> None:
    """Each panel then takes its own load, half of it a clamp; the 0.75 N on each of the two gaps goes to its neighbours."""
    of = run(gap=1.0, EI=EI, k_r=1000.0)
    solved = of.solve([line(of)])
    alone = PlateModel(GLASS, CLAMPS, [LineLoad(Q, 1100)]).solve([FIXED, FIXED])
    stress = alone.peaks(0.0)["load"]["interior"].stress[0]
    assert sum(a.F[0].sum() for a in solved.panels.values()) == pytest.approx(Q * of.rail.end, rel=1e-8)
    for answer in solved.panels.values():
        assert answer.F[0] == pytest.approx([375.0, 375.0], abs=0.75)
        assert answer.plate.peaks(0.0)["load"]["interior"].stress[0] == pytest.approx(stress, rel=0.0015)


def test_a_rigid_rail_shares_alike() -> None:
    """The two panels left move alike, so each clamp takes a quarter of all: 0.75 x 3,040/4 = 570 N."""
    of = run(EI=1e13)
    solved = of.solve([line(of)], lost=[1])
    F = np.concatenate([a.F[0] for a in solved.panels.values()])
    assert F.tolist() == pytest.approx([570.0] * 4, rel=2e-3)
    # Hand upper value of the moment: F_i = q S/2 at 1,020 from the middle, less q S²/8.
    S = of.rail.end
    assert abs(solved.extreme()[0][0]) == pytest.approx(Q * S / 2 * 1020 - Q * S**2 / 8, rel=0.015)


def test_hinges_on_both_sides_of_the_opening_make_a_simple_beam() -> None:
    """The moment over the lost panel is q L²/8 with L from hinge to hinge: 0.75 x 1,020²/8 = 97.5 N m."""
    of = run(splices=(1010.0, 2030.0))
    solved = of.solve([line(of)], lost=[1])
    M, s = solved.extreme(-1)
    assert M[0] == pytest.approx(-Q * 1020**2 / 8, rel=1e-6) and s[0] == pytest.approx(1520, abs=1e-3)


def test_no_moment_at_a_hinge() -> None:
    of = run(splices=(1010.0,))
    s, M = of.solve([line(of)], lost=[1]).moments
    assert np.abs(M[np.isclose(s, 1010.0)]).max() < 1e-6 * np.abs(M).max()


def test_reciprocity() -> None:
    """v at a from a force at b is v at b from the same force at a."""
    of = run(base=diagonal_base(2e4, 1e8, 1e8))
    a, b = 300.0, 2600.0
    v = of.solve([RunLoad(points=((1000.0, a),)), RunLoad(points=((1000.0, b),))], lost=[1]).deflection([a, b])
    assert v[1, 0] == pytest.approx(v[0, 1], rel=1e-9)


def test_a_mirrored_run_answers_mirrored() -> None:
    of = run(4, left=math.inf, splices=(1010.0,))
    S = of.rail.end
    back = run(4, right=math.inf, splices=(S - 1010.0,))
    one = of.solve([RunLoad(((Q, 0.0, 2000.0),), ((500.0, 700.0),))], lost=[1])
    other = back.solve([RunLoad(((Q, S - 2000.0, S),), ((500.0, S - 700.0),))], lost=[2])
    for p in one.panels:
        assert one.panels[p].F[0] == pytest.approx(other.panels[3 - p].F[0][::-1], rel=1e-7)
        assert one.panels[p].Mz[0] == pytest.approx(-other.panels[3 - p].Mz[0][::-1], rel=1e-6)
    assert one.ends[0, 0] == pytest.approx(other.ends[1, 0], rel=1e-7)


@pytest.mark.parametrize("lost", [(), (0,), (1,), (3,), (1, 2)])
@pytest.mark.parametrize("base", [FIXED, diagonal_base(2e4, 1e8, 1e8)], ids=["fixed", "springs"])
def test_equilibrium(lost: tuple[int, ...], base: object) -> None:
    """Forces and moments of the whole run, and of every panel: its clamps' moment is the rail's push times its height."""
    of = run(4, base=base, right=40.0, splices=(2030.0,))
    solved = of.solve([line(of), RunLoad(points=((700.0, 1234.0),)), RunLoad(pressure=5e-4)], lost=lost)
    assert solved.residual.max() < 1e-8
    for answer in solved.panels.values():
        of_wind = np.array([0.0, 0.0, 5e-4]) * 1000 * 1100 * 550
        assert answer.Mx.sum(axis=1) == pytest.approx(answer.from_rail * 1100 + of_wind, rel=1e-7, abs=1.0)


@pytest.mark.parametrize("wrong", [(1.0, 0.0), (-1.0, 1.0)], ids=["a force too many", "a couple too many"])
def test_what_does_not_balance_shows_in_the_residual(wrong: tuple[float, float]) -> None:
    """One newton at the left end has no moment about it; a couple of the ends has no force: either is 1 N of all, a hand sum."""
    of = run(3, left=40.0, right=40.0)
    solved = of.solve([line(of)])
    assert solved.residual.max() < 1e-8
    spoilt = replace(solved, ends=solved.ends + np.array(wrong)[:, None])
    assert spoilt.residual[0] == pytest.approx(1.0 / (Q * of.rail.end), rel=1e-3)


@pytest.mark.parametrize("mounts", [(250.0, 750.0), (250.0, 900.0, 1500.0, 2150.0)])
def test_what_a_run_takes_is_no_less_than_its_arrays(mounts: tuple[float, ...]) -> None:
    """Summed from the arrays themselves, of panels of two widths with their peaks asked for; and not five times as much."""
    clamps = tuple(Clamp(x, (Pad(x - 25, x + 25, 0, 40, 10.0), Pad(x - 25, x + 25, 50, 90, 10.0))) for x in mounts)
    bases, wide = (diagonal_base(2e4, 1e8, 1e8),) * len(mounts), mounts[-1] + 250.0
    panels = [RunPanel(i * 3000.0, Plate(wide + 100 * i, 1100, 12, 70_000, 0.23), clamps, bases) for i in range(2)]
    of = RailRun(panels, Rail(0.0, panels[-1].end, 5e9, 20.0))
    for answer in of.solve([RunLoad(points=((700.0, 200.0 * i),)) for i in range(15)]).panels.values():
        assert answer.plate.peaks(12.0) and answer.plate.peak_pad_pressure.size
    arrays = {id(a): a for a in arrays_in((of._edges, of._condensed), set())}
    assert sum(a.nbytes for a in arrays.values()) <= of.bytes <= 5 * sum(a.nbytes for a in arrays.values())


def arrays_in(what: object, seen: set[int]) -> Iterator[np.ndarray]:
    """The arrays that own what is reached from here, views by what they look at."""
    if id(what) in seen:
        return
    seen.add(id(what))
    if isinstance(what, np.ndarray):
        if isinstance(what.base, np.ndarray):
            yield from arrays_in(what.base, seen)
        else:
            yield what
        return
    inside: list[object] = [*what, *what.values()] if isinstance(what, dict) else []
    if isinstance(what, (tuple, list, set, frozenset)):
        inside = list(what)
    inside += [*vars(what).values()] if hasattr(what, "__dict__") else []
    for name in getattr(type(what), "__slots__", ()):
        inside.append(getattr(what, name, None))
    for part in inside:
        yield from arrays_in(part, seen)


def test_superposition() -> None:
    of = run()
    cases = [line(of), RunLoad(points=((300.0, 1500.0),), pressure=2e-4)]
    both = RunLoad(cases[0].lines, cases[1].points, cases[1].pressure)
    solved = of.solve([*cases, both], lost=[1])
    for answer in solved.panels.values():
        assert answer.Mx[2] == pytest.approx(answer.Mx[0] + answer.Mx[1], rel=1e-9)
    assert solved.deflection(1520.0)[0, 2] == pytest.approx(solved.deflection(1520.0)[0, :2].sum(), rel=1e-9)


def test_a_wind_on_the_glass_alone_is_the_plates_own_answer_where_the_rail_is_limp() -> None:
    of = run(1, EI=1e3)
    one = of.solve([RunLoad(pressure=1e-3)]).panels[0]
    alone = PlateModel(GLASS, CLAMPS, [Pressure(1e-3)]).solve([FIXED, FIXED])
    assert one.F[0] == pytest.approx(alone.F[0], rel=1e-6)
    assert one.plate.peaks(0.0)["load"]["interior"].stress == pytest.approx(alone.peaks(0.0)["load"]["interior"].stress, rel=1e-3)


def test_a_free_end_hangs_as_a_cantilever_and_a_bracket_mends_it() -> None:
    """The end panel lost under a free rail end: the nearest clamp takes about five times its share; with a bracket hardly more."""
    of, held = run(), run(right=math.inf)
    whole = max(np.abs(a.F).max() for a in of.solve([line(of)]).panels.values())
    free = max(np.abs(a.F).max() for a in of.solve([line(of)], lost=[2]).panels.values())
    bracket = max(np.abs(a.F).max() for a in held.solve([line(held)], lost=[2]).panels.values())
    assert free / 375 == pytest.approx(5.1, abs=0.15)
    assert bracket / free < 0.5 and bracket > whole
    # The cantilever alone, by hand: q L²/2 over the opening of 1,020 mm.
    hand = Q * 1020**2 / 2
    assert abs(of.solve([line(of)], lost=[2]).extreme()[0][0]) >= hand


def test_a_stiffer_connection_hardly_moves_mounts_and_has_no_peak_of_its_own() -> None:
    """k_r from 20 to 1,000,000: forces settle, the peak of the connection grows without end; so it is averaged over a length."""
    found = []
    for k_r in (20.0, 1e3, 1e5):
        of = run(k_r=k_r)
        solved = of.solve([line(of)], lost=[1])
        answer = solved.panels[2]
        found.append((answer.F[0, 0], abs(answer.largest_connection[0]), answer.mean_connection(100.0)[0, 0]))
    F, peak, mean = np.array(found).T
    assert F.max() / F.min() < 1.02
    assert peak[2] / peak[1] > 2.0 and mean[2] / mean[1] < 1.3


def test_the_mean_of_an_even_push_is_the_push_over_any_length_and_its_other_sign_is_nothing() -> None:
    """A limp rail hands on what lies on it where it lies: q everywhere, so q over 103 or 117.3 mm as over 100; a hand sum."""
    alone = RailRun([RunPanel(0.0, GLASS, CLAMPS, (FIXED, FIXED))], Rail(0.0, 1000.0, EI=1e3, k_r=1000.0))
    solved = alone.solve([RunLoad(lines=((Q, 0.0, 1000.0),)), RunLoad(lines=((-Q, 0.0, 1000.0),))])
    for length in (100.0, 103.0, 117.3):
        pushed, pulled = solved.panels[0].mean_connection(length)
        assert pushed == pytest.approx([Q, 0.0], rel=1e-3) and pulled == pytest.approx([0.0, -Q], rel=1e-3)


def test_a_finer_rail_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    of = run()
    before = of.solve([line(of)], lost=[1])
    monkeypatch.setattr("barrier.mechanics.rail.ELEMENT", 10.0)
    finer = run()
    after = finer.solve([line(finer)], lost=[1])
    assert before.extreme()[0] == pytest.approx(after.extreme()[0], rel=1e-4)
    assert before.panels[0].F[0] == pytest.approx(after.panels[0].F[0], rel=1e-4)


def test_the_beam_alone() -> None:
    """A cantilever of 1,000 mm under 2 N/mm, EI 1e9: q L⁴/8 EI = 250 mm (any table of beams)."""
    beam = Beam.on(np.linspace(0, 1000, 5).tolist())
    K, f = beam.stiffness(1e9), line_load(beam, 2.0, 0.0, 1000.0)
    u = np.linalg.solve(K[2:, 2:], f[2:])
    assert u[-2] == pytest.approx(2.0 * 1000**4 / 8 / 1e9)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: run(EI=1e15), "rail EI"),
        (lambda: run(k_r=0.0), "rail k_r"),
        (lambda: run(gap=0.2), "gap after panel 1"),
        (lambda: RailRun([], Rail(0, 1, 1e9, 20)), "panels is empty"),
        (lambda: run(splices=(9999.0,)), "rail splice"),
        (lambda: run().solve([RunLoad(points=((1.0, 99999.0),))]), "load 1 place"),
        (lambda: run(1).solve([RunLoad(points=((1.0, 10.0),))], lost=[0]), "without resistance"),
    ],
)
def test_what_cannot_be_is_refused(make: object, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        make()  # type: ignore[operator]


def test_loads_on_the_glass_of_one_panel_are_carried_by_it_and_by_what_the_rail_takes_over() -> None:
    """A pressure given panel by panel is the pressure on all; a load on one alone is shared, and moments close."""
    of = run(base=diagonal_base(2e4, 1e8, 1e8))
    patch = PatchLoad(500.0, 400.0, 500.0, 500.0, 600.0)
    cases = [
        RunLoad(pressure=5e-4), RunLoad(glass=tuple((i, Pressure(5e-4)) for i in range(3))),
        RunLoad(glass=((0, Pressure(5e-4)),)), RunLoad(glass=((2, patch),)),
    ]  # fmt: skip
    solved = of.solve(cases)
    assert solved.residual.max() < 1e-8
    for answer in solved.panels.values():
        assert answer.F[0] == pytest.approx(answer.F[1], rel=1e-9)
        assert answer.plate.residual[0] < 1e-8
    assert 0.0 < solved.panels[1].F[2].sum() < solved.panels[0].F[2].sum() < 5e-4 * 1000 * 1100
    alone = PlateModel(GLASS, CLAMPS, [patch]).solve([diagonal_base(2e4, 1e8, 1e8)] * 2)
    assert 0.0 < solved.panels[2].F[3].sum() < alone.F[0].sum() + 1e-6


def test_what_another_run_has_factorised_is_taken_over_and_changes_nothing() -> None:
    of = run()
    of.solve([line(of)])
    other = RailRun(of.panels, of.rail, known=of)
    assert other.solve([line(of)], lost=[1]).panels[0].F.tolist() == run().solve([line(of)], lost=[1]).panels[0].F.tolist()


@pytest.mark.parametrize("far", [2025.0, 2030.8])
def test_the_largest_moment_is_found_between_the_nodes(far: float) -> None:
    """A simple beam from hinge to hinge over the lost panel: q L²/8 in its middle, wherever that falls among the elements."""
    of = run(splices=(1010.0, far))
    M, s = of.solve([line(of)], lost=[1]).extreme(-1)
    assert M[0] == pytest.approx(-Q * (far - 1010.0) ** 2 / 8, rel=1e-7) and s[0] == pytest.approx((1010.0 + far) / 2, abs=1e-3)


def test_the_moment_under_two_point_loads_on_one_element() -> None:
    """Statics of the piece of rail left of a place: its loads and what the glass pushes back, each times its lever."""
    of, P, a, b = run(), 600.0, 505.0, 515.0
    solved = of.solve([RunLoad(points=((P, a), (P, b))), RunLoad(points=((P, b),))])
    places, M = solved.moments
    x = np.linspace(0.0, b, 1031)
    back = np.trapezoid(solved.panels[0].connection(x) * (b - x)[:, None], x, axis=0)
    hand = np.array([P * (b - a), 0.0]) - back
    for case in (0, 1):
        (found,) = M[np.isclose(places[:, case], b), case]
        assert found == pytest.approx(hand[case], rel=0.01)


@pytest.mark.parametrize("length", [100.0, 137.0, 210.3, 5000.0])
def test_the_mean_push_of_the_connection_by_another_integral(length: float) -> None:
    """Largest and least mean over every window of that length, from the push at every half millimetre; 5 m is all the glass."""
    length = round(2 * min(length, 1000.0)) / 2
    of = run(splices=(1010.0,), k_r=100.0)
    answer = of.solve([line(of), RunLoad(points=((-700.0, 1234.0), (300.0, 1900.0)))], lost=[0]).panels[1]
    x = np.linspace(0.0, 1000.0, 2001)
    r = answer.connection(x)
    push = np.concatenate([np.zeros((1, 2)), np.cumsum((r[1:] + r[:-1]) / 2 * 0.5, axis=0)])
    steps = round(length / 0.5)
    means = (push[steps:] - push[: len(push) - steps]) / (0.5 * steps)
    size = np.abs(means).max(axis=0)
    found = answer.mean_connection(length)
    for case in (0, 1):
        assert found[0, case] == pytest.approx(max(means[:, case].max(), 0.0), abs=0.005 * size[case])
        assert found[1, case] == pytest.approx(min(means[:, case].min(), 0.0), abs=0.005 * size[case])


@pytest.mark.parametrize("length", [100.0, 137.0, 158.1])
def test_the_mean_push_is_largest_at_either_edge_alike(length: float) -> None:
    """Beside an opening at the left or at the right the rail pushes most at the very edge of the glass; no length is left out."""
    of = run(4)
    left, right = (of.solve([line(of)], lost=[gone]).panels[n].mean_connection(length) for gone, n in ((0, 1), (3, 2)))
    assert left == pytest.approx(right, rel=1e-6)
