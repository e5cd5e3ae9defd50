"""Effective thickness of laminated glass by EN 16612:2019, two layers: to print beside the layered limit, never instead.

The shear transfer omega runs from 0 (the layers slide freely: the layered limit) to 1 (one solid sheet without the
interlayer's thickness). The method is meant for supports along lines that let no layer slide; on a base clamp the layers
slide at the bottom edge, and these thicknesses give a stress that is too low there.
"""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

METHOD = "EN 16612:2019, laminated glass, simplified method with the coefficient of shear transfer"
DEFLECTION_THICKNESS = Equation(
    Symbol("h_ef_w", "length"),
    "((1 - omega)*(h_1**3 + h_2**3) + omega*(h_1 + h_2)**3)**(1/3)",
    symbols("omega:ratio, h_1:length, h_2:length"),
    f"{METHOD}, deflection",
    "memory",
    valid=("omega >= 0", "omega <= 1"),
    title="effective thickness of two layers for deflection",
)
STRESS_THICKNESS = Equation(
    Symbol("h_ef_sigma", "length"),
    "sqrt(h_ef_w**3/(h_1 + omega*h_2))",
    symbols("h_ef_w:length, h_1:length, omega:ratio, h_2:length"),
    f"{METHOD}, stress of layer 1; its middle lies h_2/2 from the middle of the two",
    "memory",
    valid=("omega >= 0", "omega <= 1"),
    title="effective thickness for the stress of layer 1; exchange h_1 and h_2 for the other",
)
OMEGA = "omega taken as the shear transfer of ASTM E1300, for the standard's own values by family of interlayer were not read"
