"""How long utilisations are drawn beyond 1.00: what exceeds a little and what exceeds many times look apart, in every format."""

from __future__ import annotations

import re

import pytest

from barrier.result import About, Check, Standing, compare
from barrier.sheet.drawings import bars
from barrier.sheet.drawings.svg import Sketch
from barrier.sheet.formats.html_blocks import STROKE, drawn_bar
from barrier.sheet.formats.text import OVER
from barrier.sheet.formats.text import bar as text_bar
from barrier.sheet.scale import beyond, points_on
from barrier.value import JobEntry, Value


def used(eta: float) -> Check:
    demand, resistance = (Value(x, "force", JobEntry("test", "test"), s) for x, s in ((eta, "E_d"), (1.0, "R_d")))
    return compare(About("a"), "a", demand, resistance, ["here"], standing=Standing.REQUIRED)


def html(eta: float) -> float:
    found = re.search(r"width:([0-9.]+)%", drawn_bar(used(eta)))
    assert found is not None
    return float(found[1])


def picture(eta: float) -> float:
    """Length of the part beyond the stroke, as drawn."""
    sketch = Sketch()
    bars.bar(sketch, 0.0, 0.0, used(eta))
    widths = [float(w) for w in re.findall(r'<rect[^>]* width="([0-9.]+)"[^>]*class="warn"', sketch.svg())]
    widths += [float(w) for w in re.findall(r'<rect[^>]*class="warn"[^>]* width="([0-9.]+)"', sketch.svg())]
    return max(widths, default=0.0)


def test_every_doubling_is_one_step_and_ten_fills_the_room() -> None:
    assert beyond(0.5) == beyond(1.0) == 0.0
    assert beyond(2.0) == pytest.approx(0.30103)
    assert beyond(4.0) - beyond(2.0) == pytest.approx(beyond(2.0))
    assert beyond(10.0) == beyond(1000.0) == 1.0
    assert not points_on(10.0)
    assert points_on(10.1)


def test_a_little_too_much_and_many_times_too_much_look_apart() -> None:
    """1.43 by hand: log 1.43 = 0.155 of the room; 6.65: 0.823 of it."""
    assert html(1.43) == pytest.approx(STROKE + 0.155 * (100 - STROKE), abs=0.1)
    assert html(6.65) == pytest.approx(STROKE + 0.823 * (100 - STROKE), abs=0.1)
    assert picture(1.43) == pytest.approx(0.155 * bars.BEYOND, abs=0.1)
    assert picture(6.65) == pytest.approx(0.823 * bars.BEYOND, abs=0.1)
    assert text_bar(used(1.43)).rpartition("│")[2].count("█") == 1
    assert text_bar(used(6.65)).rpartition("│")[2].count("█") == OVER
    assert "▶" in drawn_bar(used(11.0)) and "▶" in text_bar(used(11.0))
    assert "▶" not in drawn_bar(used(9.0)) and "▶" not in text_bar(used(9.0))


def test_up_to_one_a_bar_is_in_proportion() -> None:
    for eta in (0.1, 0.5, 1.0):
        assert html(eta) == pytest.approx(eta * STROKE, abs=0.1)
