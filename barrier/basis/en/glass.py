"""Equations of EN 16612:2019 for the strength of glass."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

PRESTRESSED = Equation(
    Symbol("f_g_d", "stress"),
    "k_e*k_mod*k_sp*f_g_k/gamma_M_A + k_v*(f_b_k - f_g_k)/gamma_M_v",
    symbols("k_e:ratio, k_mod:ratio, k_sp:ratio, f_g_k:stress, gamma_M_A:ratio, k_v:ratio, f_b_k:stress, gamma_M_v:ratio"),
    "EN 16612:2019 8.2",
    "secondary",
    title="design strength of prestressed glass; k_e acts on the annealed part only",
)
ANNEALED = Equation(
    Symbol("f_g_d", "stress"),
    "k_e*k_mod*k_sp*f_g_k/gamma_M_A",
    symbols("k_e:ratio, k_mod:ratio, k_sp:ratio, f_g_k:stress, gamma_M_A:ratio"),
    "EN 16612:2019 8.1",
    "secondary",
    title="design strength of annealed glass",
)
K_MOD = Equation(
    Symbol("k_mod", "ratio"),
    "min(max(0.663*t_h**(-1/16), 0.25), 1)",
    symbols("t_h:count"),
    "EN 16612:2019, factor for the duration of load, t_h in hours; the bounds 0.25 and 1 from memory",
    "secondary",
    valid=("t_h > 0",),
    title="duration factor of the annealed part by its expression, for durations that are not tabulated",
)
MOVEMENT = Equation(
    Symbol("w_g_max", "length"),
    "min(L_g/65, w_g)",
    symbols("L_g:length, w_g:length"),
    "BS 6180:1999 6.4.1, read in a public copy; that L is the height of a free-standing panel is our reading",
    "secondary",
    title="how far the glass may move from where its fixings hold it",
)
SCOPE = (
    "EN 16612 says that its scope is infill panels: a glass barrier standing on its clamps is outside it. "
    "CEN/TS 19100 or a national rule governs the glass; the stress check here is for scale."
)
