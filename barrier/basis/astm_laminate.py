"""Effective thickness of laminated glass by ASTM E1300, two layers: to print beside the layered limit, never instead.

The method (after Woelfel and Bennison) takes a panel bent in one direction between line supports that let no layer
slide; ``a`` is the shorter side of such a panel. On a base clamp the layers slide at the bottom edge, and these
thicknesses give 0.54 to 0.99 of the true stress there (24 cases computed for this project as layered solids).
"""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

METHOD = "ASTM E1300-09a Appendix X11 (Appendix X9 in other editions)"
LAYERS_APART = Equation(
    Symbol("h_s", "length"),
    "0.5*(h_1 + h_2) + h_v",
    symbols("h_1:length, h_2:length, h_v:length"),
    METHOD,
    "secondary",
    title="distance between the middles of the two layers",
)
FIRST_FROM_AXIS = Equation(
    Symbol("h_s_1", "length"),
    "h_s*h_1/(h_1 + h_2)",
    symbols("h_s:length, h_1:length, h_2:length"),
    METHOD,
    "secondary",
    title="share of layer 1 in the distance between the middles",
)
SECOND_FROM_AXIS = Equation(
    Symbol("h_s_2", "length"),
    "h_s*h_2/(h_1 + h_2)",
    symbols("h_s:length, h_1:length, h_2:length"),
    METHOD,
    "secondary",
    title="share of layer 2 in the distance between the middles",
)
COUPLE_INERTIA = Equation(
    Symbol("I_s", "section modulus"),
    "h_1*h_s_2**2 + h_2*h_s_1**2",
    symbols("h_1:length, h_s_2:length, h_2:length, h_s_1:length"),
    METHOD,
    "secondary",
    title="second moment of area of the layers about the common axis, per unit width",
)
SHEAR_TRANSFER = Equation(
    Symbol("Gamma", "ratio"),
    "1/(1 + 9.6*E*I_s*h_v/(G*h_s**2*a**2))",
    symbols("E:stress, I_s:section modulus, h_v:length, G:stress, h_s:length, a:length"),
    METHOD,
    "secondary",
    valid=("a > h_s",),
    title="shear transfer of the interlayer; 9.6 belongs to a simply held panel under pressure",
)
DEFLECTION_THICKNESS = Equation(
    Symbol("h_ef_w", "length"),
    "(h_1**3 + h_2**3 + 12*Gamma*I_s)**(1/3)",
    symbols("h_1:length, h_2:length, Gamma:ratio, I_s:section modulus"),
    METHOD,
    "secondary",
    valid=("Gamma >= 0", "Gamma <= 1"),
    title="effective thickness for deflection",
)
STRESS_THICKNESS_1 = Equation(
    Symbol("h_ef_sigma_1", "length"),
    "sqrt(h_ef_w**3/(h_1 + 2*Gamma*h_s_2))",
    symbols("h_ef_w:length, h_1:length, Gamma:ratio, h_s_2:length"),
    METHOD,
    "secondary",
    valid=("Gamma >= 0", "Gamma <= 1"),
    title="effective thickness for the stress of layer 1",
)
STRESS_THICKNESS_2 = Equation(
    Symbol("h_ef_sigma_2", "length"),
    "sqrt(h_ef_w**3/(h_2 + 2*Gamma*h_s_1))",
    symbols("h_ef_w:length, h_2:length, Gamma:ratio, h_s_1:length"),
    METHOD,
    "secondary",
    valid=("Gamma >= 0", "Gamma <= 1"),
    title="effective thickness for the stress of layer 2",
)
