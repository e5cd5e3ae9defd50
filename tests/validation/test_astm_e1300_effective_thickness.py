"""ASTM E1300 effective thickness of laminated glass: a one-page public sheet and a public library's unit test.

The sheet (E1300-09a Appendix X11) takes a cantilever of 1,950 mm; the library two unequal layers. On a base clamp these
thicknesses give a stress that is too low; here only the arithmetic of the method is checked.
"""

from __future__ import annotations

import pytest
from published import Example, glass, val

from barrier.basis import astm_laminate as lam
from barrier.equation import outside_at
from barrier.links.glass.glass import NAIVE
from barrier.links.loads.actions import PRESSURE_HEIGHT, PRESSURE_RESULTANT
from barrier.value import Value

HUNDREDTH = 0.005  # the sheet rounds to 0.01 of its unit
LIBRARY = 1e-7  # mm; the library keeps nine digits


def thicknesses(example: Example) -> dict[str, Value]:
    """Every step of the method for the inputs of an example, by the name of its equation's result."""
    g = example.given
    h_1, h_2, h_v, a = (val(g[n], "length") for n in ("h1", "h2", "hv", "a"))
    h_s = lam.LAYERS_APART(h_1=h_1, h_2=h_2, h_v=h_v)
    one, two = (q(h_s=h_s, h_1=h_1, h_2=h_2) for q in (lam.FIRST_FROM_AXIS, lam.SECOND_FROM_AXIS))
    I_s = lam.COUPLE_INERTIA(h_1=h_1, h_s_2=two, h_2=h_2, h_s_1=one)
    Gamma = lam.SHEAR_TRANSFER(E=val(g["E"], "stress"), I_s=I_s, h_v=h_v, G=val(g["G"], "stress"), h_s=h_s, a=a)
    h_w = lam.DEFLECTION_THICKNESS(h_1=h_1, h_2=h_2, Gamma=Gamma, I_s=I_s)
    first = lam.STRESS_THICKNESS_1(h_ef_w=h_w, h_1=h_1, Gamma=Gamma, h_s_2=two)
    second = lam.STRESS_THICKNESS_2(h_ef_w=h_w, h_2=h_2, Gamma=Gamma, h_s_1=one)
    return {v.symbol: v for v in (h_s, one, two, I_s, Gamma, h_w, first, second)}


SHEET = {
    "hs": ("h_s", HUNDREDTH),
    "hs1=hs2": ("h_s_1", HUNDREDTH),
    "Is": ("I_s", HUNDREDTH),
    "Gamma": ("Gamma", HUNDREDTH),
    "hef_w": ("h_ef_w", HUNDREDTH),
    "hef_sigma": ("h_ef_sigma_1", HUNDREDTH),
}


@pytest.mark.parametrize("quantity", SHEET)
def test_equal_layers(quantity: str) -> None:
    example = glass("WE01", quantity)
    symbol, rounded = SHEET[quantity]
    found = thicknesses(example)
    example.agrees(found[symbol].x, rounded)
    assert found["h_s_1"].x == found["h_s_2"].x and found["h_ef_sigma_1"].x == found["h_ef_sigma_2"].x


def test_stress_of_the_cantilever() -> None:
    """Whole width bent alike: our naive stress is the sheet's, q a² / 2 over h² / 6."""
    example = glass("WE01", "max stress")
    g, width = example.given, val(1000.0, "length")
    a = val(g["a"], "length")
    H = PRESSURE_RESULTANT(p_k=val(g["q_kPa"] * 1e-3, "pressure"), W=width, H_g=a)
    t = thicknesses(example)["h_ef_sigma_1"]
    example.agrees(NAIVE(H_k=H, y_Q=PRESSURE_HEIGHT(H_g=a), W=width, t=t).x, HUNDREDTH)


LIBRARY_NAMES = {"hef_w": "h_ef_w", "hef_sigma ply1": "h_ef_sigma_1", "hef_sigma ply2": "h_ef_sigma_2"}


@pytest.mark.parametrize("quantity", LIBRARY_NAMES)
def test_unequal_layers(quantity: str) -> None:
    example = glass("WE03", quantity)
    example.agrees(thicknesses(example)[LIBRARY_NAMES[quantity]].x, LIBRARY)


def test_a_panel_shorter_than_it_is_thick_is_outside_the_range() -> None:
    example = glass("WE01", "hs")
    example.given["a"] = 10.0
    assert outside_at(thicknesses(example)["h_ef_w"], 0)
