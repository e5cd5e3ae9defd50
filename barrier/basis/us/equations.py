"""Equations of the US basis."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

GLASS_GUARD = Equation(
    Symbol("F_g", "stress"),
    "MOR/SF",
    symbols("MOR:stress, SF:ratio"),
    "IBC 2407.1.1, on the mean modulus of rupture",
    "secondary",
    title="allowable stress of glass in a guard",
)
LAG_WITHDRAWAL = Equation(
    Symbol("W", "withdrawal", "lbf/in"),
    "1800*G**1.5*D**0.75",
    symbols("G:ratio, D:length@in"),
    "NDS-2015 12.2.1 (12.2-1)",
    "secondary",
    title="reference withdrawal of a lag screw per inch of thread",
)
LAG_ALLOWABLE = Equation(
    Symbol("W_adj_p_t", "force"),
    "W*C_D*C_M*p_t",
    symbols("W:withdrawal, C_D:ratio, C_M:ratio, p_t:length"),
    "NDS-2015 12.2.1 with Table 11.3.1",
    "secondary",
    title="allowable withdrawal of one lag screw",
)
