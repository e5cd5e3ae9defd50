"""Polygons: clipped, measured, joined again."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from barrier.mechanics.polygons import (
    as_polygon,
    circle,
    clip_half_plane,
    clip_to_rectangle,
    intersect_convex,
    is_convex,
    moments,
    rectangle,
    spread,
)

ROUNDING = 1e-10
length = st.floats(1.0, 200.0)
place = st.floats(-200.0, 200.0)
L_SHAPE = as_polygon([(0, 0), (30, 0), (30, 10), (10, 10), (10, 40), (0, 40)])


@given(place, place, length, length)
def test_rectangle_by_the_handbook(x: float, y: float, b: float, h: float) -> None:
    """A = b h, I = b h³/12 about its own axis, moved by Steiner."""
    m = moments(rectangle(x - b / 2, x + b / 2, y - h / 2, y + h / 2))
    A = b * h
    expected = (A, A * x, A * y, b**3 * h / 12 + A * x * x, b * h**3 / 12 + A * y * y, A * x * y)
    assert m == pytest.approx(expected, rel=1e-9, abs=1e-6)


@given(place, place, length)
def test_circle_by_the_handbook(x: float, y: float, r: float) -> None:
    """A = pi r², I = pi r⁴/4: the polygon has the area to rounding and the second moment to 1e-8."""
    m = moments(circle(x, y, r))
    assert pytest.approx(np.pi * r * r, rel=1e-12) == m.A
    assert m.Ixx - x * x * m.A == pytest.approx(np.pi * r**4 / 4, rel=1e-8, abs=1e-9 * m.Ixx)


def test_half_a_circle_by_the_handbook() -> None:
    """Centroid at 4 r / 3 pi."""
    m = moments(clip_half_plane(circle(0, 0, 10), 0, -1, 0))
    assert m.Sy / m.A == pytest.approx(40 / (3 * np.pi), rel=1e-4)


@settings(max_examples=100)
@given(st.sampled_from([rectangle(-50, 50, -20, 30), circle(5, 5, 20, 16), L_SHAPE]), place, place, place)
def test_two_sides_of_a_line_make_the_whole(p: np.ndarray, a: float, b: float, c: float) -> None:
    size = max(abs(a), abs(b))
    assume(size > 1e-3)
    below, above = clip_half_plane(p, a / size, b / size, c / 5), clip_half_plane(p, -a / size, -b / size, -c / 5)
    whole = moments(p)
    parts = np.array(moments(below)) + np.array(moments(above))
    assert parts == pytest.approx(np.array(whole), rel=1e-9, abs=1e-9 * whole.Ixx)
    if len(below):
        assert (below @ (a / size, b / size) + c / 5 <= 1e-9 * 200).all()


@given(place, place, length)
def test_moments_turn_like_a_tensor(x: float, y: float, b: float) -> None:
    turned = np.column_stack((-L_SHAPE[:, 1], L_SHAPE[:, 0])) * 1.0
    m, n = moments(L_SHAPE), moments(turned)
    assert (n.A, n.Ixx, n.Iyy, n.Ixy) == pytest.approx((m.A, m.Iyy, m.Ixx, -m.Ixy), rel=ROUNDING)


def test_plate_over_three_pieces_of_blocking() -> None:
    plate = rectangle(-50, 50, -50, 50)
    parts = [clip_to_rectangle(plate, -225, 225, low, low + 45) for low in (-67.5, -22.5, 22.5)]
    assert [moments(p).A for p in parts] == [2750.0, 4500.0, 2750.0]
    round_parts = [clip_to_rectangle(circle(0, 0, 55), -225, 225, low, low + 45) for low in (-67.5, -22.5, 22.5)]
    assert sum(moments(p).A for p in round_parts) == pytest.approx(np.pi * 55**2, rel=1e-12)
    assert len(clip_to_rectangle(plate, 60, 100, 0, 10)) == 0


@given(st.floats(-60, 60), st.floats(-60, 60))
def test_intersection_does_not_care_which_is_the_window(x: float, y: float) -> None:
    a, b = rectangle(-30, 30, -20, 20), circle(x, y, 25, 24)
    one, other = moments(intersect_convex(a, b)).A, moments(intersect_convex(b, a)).A
    assert one == pytest.approx(other, rel=1e-9, abs=1e-9)


def test_convexity() -> None:
    assert is_convex(rectangle(0, 1, 0, 1)) and is_convex(circle(0, 0, 1)) and not is_convex(L_SHAPE)
    assert is_convex(as_polygon([(0, 0), (1, 0), (2, 0), (2, 1)]))  # a corner that does not turn is no harm


@pytest.mark.parametrize("turned", [0.0, 0.3, np.pi / 4, np.pi / 2])
@pytest.mark.parametrize("size", [1.0, 1000.0])
def test_a_dent_of_rounding_is_none_whichever_way_the_side_lies_and_a_small_one_is(turned: float, size: float) -> None:
    """A square with the middle of one side moved in by 1e-12 or by 1e-5 of the side: neither its size nor its turn matters."""

    def dented(depth: float) -> bool:
        square = size * np.array([(0.0, 0.0), (0.5, depth), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
        c, s = np.cos(turned), np.sin(turned)
        return not is_convex(square @ np.array([(c, s), (-s, c)]))

    assert not dented(1e-12) and dented(1e-5)


def test_spread_stays_in_the_wood() -> None:
    wood = (-225, 225, -22.5, 22.5)
    assert spread(rectangle(-50, 50, -10, 22.5), 30, 30, wood).tolist() == rectangle(-80, 80, -22.5, 22.5).tolist()
    assert spread(rectangle(-220, 50, -5, 5), 30, 0, wood)[0].tolist() == [-225, -5]
    assert len(spread(rectangle(0, 0, 0, 0), 1, 1, wood)) == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: as_polygon([(0, 0), (1, 1)]), "at least three corners"),
        (lambda: as_polygon([(0, 0), (1, 1), (float("nan"), 0)]), "not finite"),
        (lambda: circle(0, 0, 0), "radius"),
        (lambda: clip_half_plane(L_SHAPE, 0, 0, 1), "no half-plane"),
        (lambda: intersect_convex(rectangle(0, 1, 0, 1), L_SHAPE), "not convex"),
        (lambda: spread(circle(0, 0, 10), 1, 1, (-50, 50, -50, 50)), "not a rectangle"),
        (lambda: spread(rectangle(-60, 0, 0, 1), 1, 1, (-50, 50, -50, 50)), "beyond the wood"),
        (lambda: spread(rectangle(0, 1, 0, 1), -1, 1, (-50, 50, -50, 50)), "0 mm or more"),
    ],
)
def test_bad_input_is_refused(call: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        call()  # type: ignore[operator]


def test_clockwise_corners_are_turned() -> None:
    assert moments(as_polygon([(0, 0), (0, 1), (1, 1), (1, 0)])).A == 1.0
