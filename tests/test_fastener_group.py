"""Elastic groups: equilibrium, hand answers, stiffness weights."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrier.mechanics.contact import Bed, Screw, Zone, solve
from barrier.mechanics.fastener_group import about_edge, axial, centroid, in_plane
from barrier.mechanics.polygons import rectangle

ROUNDING = 1e-9
coordinate = st.integers(-200, 200).map(float)
force = st.floats(-1e4, 1e4)
fastener = st.tuples(coordinate, coordinate, st.floats(0.5, 5.0))
group = st.lists(fastener, min_size=2, max_size=8, unique_by=lambda f: f[:2])


@given(group, force, force, st.floats(-1e6, 1e6))
def test_forces_balance_the_load(fasteners: list[tuple[float, float, float]], V_x: float, V_y: float, M: float) -> None:
    x, y, w = np.array(fasteners).T
    F = in_plane(x, y, V_x, V_y, M, w)
    cx, cy = centroid(x, y, w)
    assert F.sum(axis=0) == pytest.approx([V_x, V_y], rel=ROUNDING, abs=1e-6)
    assert ((x - cx) * F[:, 1] - (y - cy) * F[:, 0]).sum() == pytest.approx(M, rel=ROUNDING, abs=1e-5)


@given(group, st.floats(-1e6, 1e6))
def test_stiffness_two_is_two_fasteners(fasteners: list[tuple[float, float, float]], M: float) -> None:
    x, y, _ = np.array(fasteners).T
    w = np.r_[2.0, np.ones(len(x) - 1)]
    doubled = in_plane(np.r_[x[0], x], np.r_[y[0], y], 0.0, 0.0, M)
    weighted = in_plane(x, y, 0.0, 0.0, M, w)
    assert weighted[0] == pytest.approx(2 * doubled[0], rel=ROUNDING, abs=1e-6)
    assert weighted[1:] == pytest.approx(doubled[2:], rel=ROUNDING, abs=1e-6)


def test_four_screws_by_hand() -> None:
    """70 x 70: r = 49.5, sum r² = 9800; the torque of 49 N m gives 247.5 N each, square to the radius."""
    x, y = np.array([(-35, -35), (35, -35), (-35, 35), (35, 35)]).T
    F = in_plane(x, y, 0.0, 0.0, 49e3)
    assert np.hypot(*F.T) == pytest.approx([49e3 * np.hypot(35, 35) / 9800] * 4)
    assert (F * np.column_stack((x, y))).sum(axis=1) == pytest.approx([0.0] * 4, abs=1e-9)


def test_stations_and_single_agree() -> None:
    x, y = [0.0, 80.0, 30.0], [0.0, 10.0, 90.0]
    V, M = np.array([100.0, -200.0]), np.array([1e4, 2e4])
    both = in_plane(x, y, V, 50.0, M)
    assert both.shape == (2, 3, 2)
    assert both[1] == pytest.approx(in_plane(x, y, -200.0, 50.0, 2e4))
    assert axial(y, M)[1] == pytest.approx(axial(y, 2e4))
    assert about_edge([10.0, 90.0], M)[1] == pytest.approx(about_edge([10.0, 90.0], 2e4))


def test_axial_is_about_its_own_centroid() -> None:
    T = axial([100.0, 100.0, 160.0], 6e3)
    assert T.sum() == pytest.approx(0.0, abs=1e-9)
    assert T @ np.array([100.0, 100.0, 160.0]) == pytest.approx(6e3)
    assert T[2] == pytest.approx(6e3 * 40 / (40**2 + 2 * 20**2))


def test_about_the_edge_is_low_on_timber() -> None:
    """The hand check beside the contact: always unsafe, by 1.10 to 1.44 over practical stiffness."""
    screws = [(x, y) for y in (-35.0, 35.0) for x in (-35.0, 35.0)]
    zone = Zone(rectangle(-50, 50, -50, 50), "piece")
    for K in (5e3, 1e4, 2e4):
        for k in (2.0, 4.0, 8.0):
            T = solve(Bed((zone,), k), [Screw(x, y, K) for x, y in screws], 0.0, 495e3, 0.0).T.max()
            by_edge = 495e3 / (2 * 85)
            assert 1.10 <= T / by_edge <= 1.44
            assert about_edge([y + 50 for _, y in screws], 495e3).max() < T


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: in_plane([0.0, 0.0], [1.0, 1.0], 0, 0, 1e3), "without extent"),
        (lambda: axial([5.0, 5.0], 1e3), "without extent"),
        (lambda: in_plane([0.0, 1.0], [0.0], 0, 0, 1e3), "one of each"),
        (lambda: in_plane([0.0, 1.0], [0.0, 1.0], 0, 0, 1e3, [-1.0, 2.0]), "0 or more"),
        (lambda: in_plane([0.0, np.inf], [0.0, 1.0], 0, 0, 1e3), "not finite"),
        (lambda: about_edge([-1.0, 2.0], 1e3), "0 mm or more"),
    ],
)
def test_bad_input_is_refused(call: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        call()  # type: ignore[operator]


def test_a_single_fastener_takes_shear() -> None:
    assert in_plane([3.0], [4.0], 10.0, -20.0, 0.0).tolist() == [[10.0, -20.0]]
