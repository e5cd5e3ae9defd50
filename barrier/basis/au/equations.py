"""Equations of AS 1288 for the strength of glass."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

RANGE = ("t >= 2.8", "t <= 23.5")  # the thinnest and thickest minimum thickness that is tabulated
STRENGTH_FACE, STRENGTH_EDGE = (
    Equation(
        Symbol("f_t", "stress", "MPa"),
        text,
        symbols("t:length@mm"),
        "AS 1288-2021 3.3, t the minimum thickness",
        "secondary",
        valid=RANGE,
        title=f"characteristic tensile strength of glass {where}",
    )
    for text, where in (("-9.85*ln(t) + 71.34", "away from an edge"), ("-7.88*ln(t) + 57.07", "at an edge"))
)
CAPACITY = Equation(
    Symbol("f_g_d", "stress"),
    "phi*c_1*c_2*c_3*f_t",
    symbols("phi:ratio, c_1:ratio, c_2:ratio, c_3:ratio, f_t:stress"),
    "AS 1288-2021 section 3",
    "secondary",
    title="design strength of glass: kind c_1, surface c_2, duration c_3",
)
PATCH_SIDE = Equation(
    Symbol("s_P", "length"),
    "sqrt(A_P)",
    symbols("A_P:area"),
    "geometry: side of the square the load on the infill stands on",
    "computed",
    title="side of the patch",
)
