"""Equations of EN 1995-1-1 (with A1 and A2) for timber."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols


def _design(name: str, title: str) -> Equation:
    return Equation(
        Symbol(f"{name}_d", "stress"),
        f"k_mod*{name}_k/gamma_M",
        symbols(f"k_mod:ratio, {name}_k:stress, gamma_M:ratio"),
        "EN 1995-1-1:2004 2.4.1 (2.14)",
        "secondary",
        title=title,
    )


BENDING = _design("f_m", "design bending strength")
SHEAR = _design("f_v", "design shear strength")
BEARING = _design("f_c_90", "design compressive strength across the grain")
SHEAR_GROSS = Equation(
    Symbol("f_v_gross_d", "stress"),
    "k_cr*f_v_d",
    symbols("k_cr:ratio, f_v_d:stress"),
    "EN 1995-1-1:2004+A1:2008 6.1.7(2), (6.13a)",
    "secondary",
    title="shear strength on the gross section; the effective width is k_cr times the width",
)
BEARING_K_C = Equation(
    Symbol("f_bed_d", "stress"),
    "k_c_90*f_c_90_d",
    symbols("k_c_90:ratio, f_c_90_d:stress"),
    "EN 1995-1-1:2004+A1:2008 6.1.5(1) (6.3)",
    "secondary",
    title="bearing strength across the grain",
)
BEARING_K_C_CHAR = Equation(
    Symbol("f_bed_k", "stress"),
    "k_c_90*f_c_90_k",
    symbols("k_c_90:ratio, f_c_90_k:stress"),
    "EN 1995-1-1:2004+A1:2008 6.1.5(1) (6.3)",
    "secondary",
    title="characteristic bearing strength across the grain",
)
BENT_BOTH_WAYS = Equation(
    Symbol("eta", "ratio"),
    "max(eta_y + k_m*eta_z, k_m*eta_y + eta_z)",
    symbols("eta_y:ratio, k_m:ratio, eta_z:ratio"),
    "EN 1995-1-1:2004 6.1.6(1) (6.11) and (6.12)",
    "secondary",
    title="bending both ways at once",
)
