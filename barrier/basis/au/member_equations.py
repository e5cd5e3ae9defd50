"""Equations of AS 1720.1 for members: bending, shear, bearing, stiffness. NZS AS 1720.1 has the same."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

MOISTURE = Equation(
    Symbol("k_4", "ratio"),
    "max(min(1 - 0.3*(EMC - 0.15)/0.10, 1), 0.7)",
    symbols("EMC:ratio"),
    "AS 1720.1:2010 2.4.2.3, seasoned timber that becomes damp",
    "secondary",
    title="factor for seasoned timber in the weather",
)
DEEP = Equation(
    Symbol("f_k", "stress"),
    "f_k_0*(d_0/d)**0.167",
    symbols("f_k_0:stress, d_0:length, d:length"),
    "AS 1720.1:2010 Table H2.1 and 7.3, deeper than the depth the strength is tabulated for",
    "secondary",
    valid=("d >= d_0",),
    title="strength of a deep section",
)
BENDING = Equation(
    Symbol("f_b_d", "stress"),
    "phi*k_1*k_4*k_6*k_9*k_12*f_b",
    symbols("phi:ratio, k_1:ratio, k_4:ratio, k_6:ratio, k_9:ratio, k_12:ratio, f_b:stress"),
    "AS 1720.1:2010 3.2.1.1, over the section modulus",
    "secondary",
    title="design bending strength",
)
SHEAR = Equation(
    Symbol("f_s_d", "stress"),
    "phi*k_1*k_4*k_6*f_s",
    symbols("phi:ratio, k_1:ratio, k_4:ratio, k_6:ratio, f_s:stress"),
    "AS 1720.1:2010 3.2.5, over two thirds of the gross section",
    "secondary",
    title="design shear strength",
)
TENSION = Equation(
    Symbol("f_t_d", "stress"),
    "phi*k_1*k_4*k_6*f_t",
    symbols("phi:ratio, k_1:ratio, k_4:ratio, k_6:ratio, f_t:stress"),
    "AS 1720.1:2010 3.4, over the net section",
    "secondary",
    title="design tension strength along the grain",
)
BEARING = Equation(
    Symbol("f_p_d", "stress"),
    "phi*k_1*k_4*k_6*f_p",
    symbols("phi:ratio, k_1:ratio, k_4:ratio, k_6:ratio, f_p:stress"),
    "AS 1720.1:2010 3.2.6.1, before the length factor; a strength at large indentation",
    "secondary",
    title="design bearing strength across the grain",
)
BOTH_WAYS = Equation(
    Symbol("eta", "ratio"),
    "eta_y + eta_z",
    symbols("eta_y:ratio, eta_z:ratio"),
    "AS 1720.1:2010 3.2.1.2, short piece",
    "secondary",
    title="bending both ways at once",
)
STIFFNESS_WET, SHEAR_STIFFNESS_WET = (
    Equation(
        Symbol(f"{name}_w", "stress"),
        f"j_w*{name}",
        symbols(f"j_w:ratio, {name}:stress"),
        "no rule was read for sawn timber that stays wet",
        "common practice",
        title=f"mean {words} of wet timber",
    )
    for name, words in (("E", "modulus along the grain"), ("G", "shear modulus"))
)
SPLITTING = Equation(
    Symbol("V_d_j", "force"),
    "phi*k_1*k_4*k_6*f_sj*2/3*b_pc*h_e",
    symbols("phi:ratio, k_1:ratio, k_4:ratio, k_6:ratio, f_sj:stress, b_pc:length, h_e:length"),
    "AS 1720.1:2010 3.2.5, at a joint, h_e the depth the screws reach from the edge they pull at",
    "memory",
    title="shear a piece may have beside screws that pull it up",
)
WET_OF_SG8 = Equation(
    Symbol("f_wet", "stress"),
    "f_dry*f_SG8_wet/f_SG8",
    symbols("f_dry:stress, f_SG8_wet:stress, f_SG8:stress"),
    "NZS AS 1720.1:2022 has wet figures of SG8 (one reading); for another grade in the same ratio, by analogy",
    "common practice",
    title="figure of a wet grade",
)
