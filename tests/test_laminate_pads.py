"""Shapes of a pad under a laminate: one base of functions, wherever a pad stands, however long it is and in whatever unit."""

from __future__ import annotations

import numpy as np
import pytest

from barrier.mechanics.laminate import CONTACTS, Contact, Laminate, LaminateModel
from barrier.mechanics.laminate_pads import Across
from barrier.mechanics.plate import FIXED, Clamp, LineLoad, Pad
from barrier.mechanics.spline_lines import SMOOTH, Quadrature, Splines

LENGTH, ELEMENT = 1200.0, 5.0
LINE = Splines(np.linspace(0.0, LENGTH, int(LENGTH / ELEMENT) + 1), np.full(int(LENGTH / ELEMENT) - 1, SMOOTH))
ROUNDING = 1e-10


def across(start: float, end: float, wave: float = 40.0) -> Across:
    return Across.of(LINE, Quadrature.on(LINE, (start, end)), start, end, wave)


@pytest.mark.parametrize(("start", "end"), [(0.0, 50.0), (600.0, 650.0), (1150.0, 1200.0), (10.0, 1190.0)])
def test_shapes_are_orthonormal_over_the_pad(start: float, end: float) -> None:
    """As the stiffness of pads has it, which is k on the diagonal of w: long pads and pads far from the edge too."""
    own = across(start, end)
    assert own.shapes.shape[1] < own.numbers.size  # polynomials, not the splines themselves
    mass = own.shapes.T @ (own.weight[:, None] * own.shapes)
    assert mass == pytest.approx(np.eye(len(mass)), abs=ROUNDING)


@pytest.mark.parametrize("wave", [5.0, 20.0, 40.0, 200.0])
def test_no_more_shapes_than_splines(wave: float) -> None:
    """What the panel can do under a pad is what its splines can: a shape more would be one it cannot tell from the others."""
    for end in np.arange(610.0, 700.0, 5.0):
        own = across(600.0, float(end), wave)
        assert own.shapes.shape[1] <= own.numbers.size


def test_a_pad_has_as_many_shapes_wherever_it_stands() -> None:
    assert len({across(x, x + 50.0).shapes.shape[1] for x in (0.0, 300.0, 900.0, 1150.0)}) == 1


def test_ten_times_the_size_has_as_many_shapes() -> None:
    """All lengths ten times and k a tenth: every figure of the plate on its pads is that of the small one, in another unit."""

    def shapes(size: float) -> list[tuple[int, ...]]:
        sheet = Laminate(600.0 * size, 600.0 * size, 6.0 * size, 6.0 * size, 1.52 * size, 70_000.0, 0.23, 0.5)
        pads = tuple(Pad(x * size, (x + 240.0) * size, 0.0, 90.0 * size, 100.0 / size) for x in (30.0, 330.0))
        grip = LaminateModel(sheet, [Clamp(300.0 * size, pads)], [LineLoad(0.75, 600.0 * size)], fineness=3.0).grip
        assert all(a.shapes.shape[1] + 5 < a.numbers.size for p in grip.pads for a in (p.along, p.up))  # not the splines
        return [(*p.along.shapes.shape[1:], *p.up.shapes.shape[1:]) for p in grip.pads]

    assert shapes(10.0) == shapes(1.0)


@pytest.mark.parametrize("contact", CONTACTS)
def test_all_the_splines_change_no_stress_by_a_twentieth_of_a_per_cent(contact: Contact, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the module promises of its few polynomials, against every spline there is under a pad."""
    sheet = Laminate(1200.0, 1040.0, 9.7, 9.7, 1.52, 70_000.0, 0.23, 0.75)
    stiff, soft = ([Clamp(x, (Pad(x - 60.0, x + 60.0, 0.0, 150.0, k),)) for x in (250.0, 950.0)] for k in (100.0, 20.0))

    def stress() -> list[float]:
        model = LaminateModel(sheet, stiff, [LineLoad(0.75, 1040.0)])
        found = model.solve([FIXED, FIXED], contact, soft).peaks(10.0)
        return [float(p.stress[0]) for zones in found.values() for p in zones.values()]

    few = stress()
    monkeypatch.setattr("barrier.mechanics.laminate_pads.POLYNOMIALS", 1000)
    every = stress()
    assert few == pytest.approx(every, abs=5e-4 * max(every)) and few != every
