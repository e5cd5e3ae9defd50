"""Plates of the handbooks through the plate on clamps.

* W. Young, R. Budynas, Roark's Formulas for Stress and Strain, 7th ed., Table 11.4 cases 1a, 1b: a rectangle simply
  supported on four edges under pressure; an earlier edition's case 2a: three edges supported, one free.
* S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells: squares, supported or clamped all round. Square on
  its four corners: remembered.
* T. J. Jaramillo (1950): infinitely long cantilever plate, point load at the free edge, moment along the root.
  Remembered; in Roark as the cantilever plate.

Our plate knows only pads. A simple support is a pad 1 mm wide along the edge of a plate of several metres: it moves and
resists turning by parts in ten thousand. A clamped edge is a hard pad that reaches some twenty characteristic lengths
beyond the span. What is left of the support's own softness is stated as the tolerance of each test.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from conftest import make_room
from published import Example, glass, glass_rows

from barrier.mechanics.plate import FIXED, Clamp, Pad, PatchLoad, Plate, PlateModel, PlateSolution, Pressure

E, NU, HARD, PAD = 70_000.0, 0.3, 200.0, 1.0
SHORT, THICK = 8000.0, 30.0  # mm; the plate on narrow pads
p = 1e-3  # MPa
OURS = 1e-3  # what the pads leave at this size: 0.04 % by their softness up, 0.08 % by their hold against turning down
COARSE = 0.2  # of the fineness for glass: without pad corners nothing is sharp
EXACT_PRINT, OLD_PRINT = 1e-3, 5e-3  # most of Roark's prints are the exact series; four of the deflections are not


@cache
def edges_held(width: float, height: float, edges: str) -> PlateSolution:
    """Plate under pressure with a narrow pad along each of the edges named: b, t, l, r."""
    low, high = PAD * ("b" in edges), height - PAD * ("t" in edges)
    pads = {
        "b": Pad(0.0, width, 0.0, PAD, HARD),
        "t": Pad(0.0, width, height - PAD, height, HARD),
        "l": Pad(0.0, PAD, low, high, HARD),
        "r": Pad(width - PAD, width, low, high, HARD),
    }
    clamps = [Clamp(0.0, (pads[e],)) for e in edges]
    model = PlateModel(Plate(width, height, THICK, E, NU), clamps, [Pressure(p)], fineness=COARSE)
    return model.solve([FIXED] * len(edges))


def alpha(s: PlateSolution, x: float, y: float) -> float:
    """Roark's coefficient of deflection, w E t³ / (p b⁴), b the shorter side."""
    return float(s.deflection(np.array([x]), np.array([y]))[0, 0, 0]) * E * THICK**3 / (p * SHORT**4)


def beta(s: PlateSolution) -> float:
    """Roark's coefficient of stress, sigma t² / (p b²), largest on the face in tension."""
    return max(float(z.stress[0]) for z in s.peaks(0.0)["back"].values()) * THICK**2 / (p * SHORT**2)


@pytest.mark.parametrize("example", glass_rows("WE12"), ids=lambda e: f"{e.row['quantity']} {e.given['a_over_b']}")
def test_roark_four_edges_supported(example: Example) -> None:
    ratio = example.given["a_over_b"]
    s = edges_held(SHORT * ratio, SHORT, "btlr")
    found = beta(s) if example.row["quantity"] == "beta" else alpha(s, SHORT * ratio / 2, SHORT / 2)
    assert found == pytest.approx(example.recomputed, rel=OURS)
    is_exact = abs(example.printed / example.recomputed - 1) <= EXACT_PRINT
    assert found == pytest.approx(example.printed, rel=OURS + (EXACT_PRINT if is_exact else OLD_PRINT))


def test_only_four_of_roarks_prints_are_off_the_series() -> None:
    examples = glass_rows("WE12")
    off = [e for e in examples if abs(e.printed / e.recomputed - 1) > EXACT_PRINT]
    assert len(examples) == 18
    assert [(e.row["quantity"], e.given["a_over_b"]) for e in off] == [("alpha", r) for r in (1.2, 1.4, 1.6, 2.0)]


def test_timoshenko_square_supported_all_round() -> None:
    e = next(e for e in glass_rows("WE14") if e.given["plate"] == "SSSS")
    assert e.row["quantity"] == "w*D/(q a^4)"
    found = alpha(edges_held(SHORT, SHORT, "btlr"), SHORT / 2, SHORT / 2) / (12 * (1 - NU**2))
    assert found == pytest.approx(e.recomputed, rel=OURS)
    assert found == pytest.approx(e.printed, abs=5e-6)  # three figures


BETWEEN = 0.02  # the worksheet interpolates 0.72 and 0.15 between tabulated 1.0 and 1.5 of a curved table


@pytest.mark.parametrize("quantity", ["sigma_max", "|y_max|"])
def test_roark_three_edges_supported(quantity: str) -> None:
    """A worksheet of 15 by 12 by 1/4 in under 100 psi: one edge of 12 in is free. Ours for the same shape, scaled.

    The worksheet's figures are its interpolated coefficients times its plate, so what is compared is the coefficient.
    """
    e = glass("WE13", quantity)
    g = e.given
    s = edges_held(SHORT, SHORT * g["a_in"] / g["b_in"], "blr")
    if quantity == "sigma_max":
        found = beta(s) * g["q_psi"] * g["b_in"] ** 2 / g["t_in"] ** 2
    else:
        found = alpha(s, SHORT / 2, SHORT * g["a_in"] / g["b_in"]) * g["q_psi"] * g["b_in"] ** 4 / (g["E"] * g["t_in"] ** 3)
    assert found == pytest.approx(e.printed, rel=BETWEEN)


# ---------------------------------------------------------------- squares on other supports
SPAN, THIN = 40_000.0, 1.0  # the hard pad yields over 3 mm, one part in ten thousand of the span
D_THIN = E * THIN**3 / 12 / (1 - NU**2)
REACH = 20.0  # characteristic lengths of pad beyond the span


def clamped_square() -> tuple[float, float]:
    """Coefficients of the middle of a clamped square: under pressure, under a load on a small patch at the middle."""
    m = REACH * (4 * D_THIN / HARD) ** 0.25
    L = SPAN + 2 * m
    pads = (Pad(0, L, 0, m, HARD), Pad(0, L, L - m, L, HARD), Pad(0, m, m, L - m, HARD), Pad(L - m, L, m, L - m, HARD))
    small = SPAN / 800
    loads = [
        PatchLoad(p * SPAN**2, m, m + SPAN, m, m + SPAN),
        PatchLoad(1e3, L / 2 - small, L / 2 + small, L / 2 - small, L / 2 + small),
    ]
    s = PlateModel(Plate(L, L, THIN, E, NU), [Clamp(0.0, pads)], loads, fineness=0.15).solve([FIXED])
    w = s.deflection(np.array([L / 2]), np.array([L / 2]))[:, 0, 0]
    return float(w[0]) * D_THIN / (p * SPAN**4), float(w[1]) * D_THIN / (1e3 * SPAN**2)


def test_timoshenko_square_clamped_all_round() -> None:
    """Timoshenko prints 0.00126 and 0.0056. Later, more exact figures are 0.0012653 and 0.005612 (from memory).

    The recomputed 0.005583 of the point load is 0.5 % low: a series cut short under a point.
    """
    spread = next(e for e in glass_rows("WE14") if e.given["plate"] == "CCCC")
    point = next(e for e in glass_rows("WE14") if e.given["plate"] == "CCCC centre point")
    under_pressure, under_point = clamped_square()
    assert under_pressure == pytest.approx(spread.recomputed, rel=OURS)
    assert under_pressure == pytest.approx(spread.printed, abs=1e-5)  # cut down, not rounded
    assert under_point == pytest.approx(0.005612, rel=OURS)
    assert under_point == pytest.approx(point.printed, abs=5e-5)
    assert under_point == pytest.approx(point.recomputed, rel=6e-3)


def test_square_on_its_four_corners() -> None:
    """Pads of 1 mm at the corners; what they give under a quarter of the load each is taken off."""
    e = next(e for e in glass_rows("WE14") if e.given["plate"] == "4 corners")
    ends, side = (0.0, SHORT - PAD), SHORT
    clamps = [Clamp(x, (Pad(x, x + PAD, y, y + PAD, HARD),)) for x in ends for y in ends]
    s = PlateModel(Plate(side, side, THICK, E, NU), clamps, [Pressure(p)], fineness=COARSE).solve([FIXED] * 4)
    assert s.F[0] == pytest.approx(p * side**2 / 4, rel=1e-4)
    w = float(s.deflection(np.array([side / 2]), np.array([side / 2]))[0, 0, 0]) - p * side**2 / 4 / (HARD * PAD**2)
    found = w * E * THICK**3 / 12 / (1 - NU**2) / (p * side**4)
    assert found == pytest.approx(e.recomputed, rel=OURS)
    assert found == pytest.approx(e.printed, abs=5e-5)


# ---------------------------------------------------------------- long cantilever plate
ARM, WIDE, VERY_THIN = 4000.0, 8.0, 0.5
ROOT = 2e-3  # root on a pad and load on a patch, each about 1e-3 low at these sizes; both vanish with them
PLACES = 1.5e-3  # of M/P; three places, and ours at the root of 0.5


@cache
def cantilever() -> PlateSolution:
    make_room()
    m = REACH * (4 * E * VERY_THIN**3 / 12 / (1 - NU**2) / HARD) ** 0.25
    W, s = WIDE * ARM, ARM / 400
    load = PatchLoad(1e3, W / 2 - s / 2, W / 2 + s / 2, m + ARM - s, m + ARM)
    model = PlateModel(Plate(W, m + ARM, VERY_THIN, E, NU), [Clamp(W / 2, (Pad(0, W, 0, m, HARD),))], [load])
    return model.solve([FIXED])


@pytest.mark.parametrize("example", glass_rows("WE15"), ids=lambda e: str(e.given["y_over_a"]))
def test_jaramillo_moment_along_the_root(example: Example) -> None:
    s = cantilever()
    x = WIDE * ARM / 2 + example.given["y_over_a"] * ARM
    root = s.model.clamps[0].pads[0].y1
    stress = float(s.principal_stress("load", np.array([x]), np.array([root]))[0, 0, 0])
    found = stress * VERY_THIN**2 / 6 / 1e3
    assert found == pytest.approx(example.recomputed, rel=ROOT)
    assert found == pytest.approx(example.printed, abs=PLACES)
