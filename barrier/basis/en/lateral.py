"""Equations of EN 1995-1-1 for screws loaded sideways, splitting and torsion."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

D_EF = Equation(
    Symbol("d_ef", "length"),
    "1.1*d_1",
    symbols("d_1:length"),
    "EN 1995-1-1:2004+A1:2008 8.7.1(3), thread in the wood",
    "secondary",
    title="effective diameter of the threaded part",
)
YIELD_MOMENT = Equation(
    Symbol("M_y_Rk", "moment", "N mm"),
    "0.3*f_u*d_ef**2.6",
    symbols("f_u:stress@MPa, d_ef:length@mm"),
    "EN 1995-1-1:2004 8.5.1.1(1) (8.30)",
    "secondary",
    title="yield moment of the screw",
)
EMBEDMENT_0 = Equation(
    Symbol("f_h_0_k", "stress", "MPa"),
    "0.082*(1 - 0.01*d_ef)*rho_k",
    symbols("d_ef:length@mm, rho_k:density@kg/m3"),
    "EN 1995-1-1:2004 8.5.1.1(2) (8.32) by 8.7.1(4), and the same for d_ef up to 6 mm, 8.3.1.1(5) (8.16) by 8.7.1(5): "
    "predrilled wood, 10.4.5",
    "secondary",
    title="embedment strength along the grain",
)
K_90 = Equation(
    Symbol("k_90", "ratio"),
    "1.35 + 0.015*d_ef",
    symbols("d_ef:length@mm"),
    "EN 1995-1-1:2004 8.5.1.1(2) (8.33), softwood",
    "secondary",
    title="reduction of embedment across the grain",
)
K_90_HARDWOOD = Equation(
    Symbol("k_90", "ratio"),
    "0.90 + 0.015*d_ef",
    symbols("d_ef:length@mm"),
    "EN 1995-1-1:2004 8.5.1.1(2) (8.33), hardwood; read in public encodings of the clause",
    "secondary",
    title="reduction of embedment across the grain",
)
EMBEDMENT_90 = Equation(
    Symbol("f_h_90_k", "stress"),
    "f_h_0_k/k_90",
    symbols("f_h_0_k:stress, k_90:ratio"),
    "EN 1995-1-1:2004 8.5.1.1(2) (8.31), force across the grain",
    "secondary",
    title="embedment strength across the grain",
)
SIDEWAYS = Equation(
    Symbol("F_v_Rk", "force"),
    "f_h_k*d_ef*min(sqrt(g**2 + 4*M_y_Rk/(f_h_k*d_ef)) - g,"
    " sqrt((l_ef + 2*g)**2 + l_ef**2 + 4*M_y_Rk/(f_h_k*d_ef)) - (l_ef + 2*g))",
    symbols("f_h_k:stress, d_ef:length, g:length, M_y_Rk:moment, l_ef:length"),
    "yield theory behind EN 1995-1-1:2004 8.2.3 with the loose board as a gap: two hinges, or one and the screw "
    "turning in the wood; the head is kept from turning by a thick plate with close holes (8.2.3(1)); no rope effect; "
    "at g = 0 it is (8.10) without its factor 1.15",
    "computed",
    title="sideways strength of a screw through a loose board",
)
SIDEWAYS_DESIGN = Equation(
    Symbol("F_v_Rd", "force"),
    "k_mod*F_v_Rk/gamma_M",
    symbols("k_mod:ratio, F_v_Rk:force, gamma_M:ratio"),
    "EN 1995-1-1:2004 2.4.3 (2.17)",
    "secondary",
    title="design sideways strength of a screw",
)
COMBINED = Equation(
    Symbol("eta", "ratio"),
    "eta_ax**2 + eta_v**2",
    symbols("eta_ax:ratio, eta_v:ratio"),
    "EN 1995-1-1:2004 8.3.3(1) (8.28)",
    "secondary",
    title="withdrawal and sideways together, a sum of squares",
)
SPLITTING = Equation(
    Symbol("F_90_Rk", "force", "N"),
    "14*b_pc*sqrt(h_e/(1 - h_e/h_pc))",
    symbols("b_pc:length@mm, h_e:length@mm, h_pc:length@mm"),
    "EN 1995-1-1:2004 8.1.4(3) (8.4), softwood, w = 1",
    "secondary",
    valid=("h_e < h_pc",),
    title="splitting of a piece pulled up by its screws",
)
SPLITTING_DESIGN = Equation(
    Symbol("F_90_Rd", "force"),
    "k_mod*F_90_Rk/gamma_M",
    symbols("k_mod:ratio, F_90_Rk:force, gamma_M:ratio"),
    "EN 1995-1-1:2004 2.4.3 (2.17)",
    "secondary",
    title="design splitting strength",
)
K_SHAPE = Equation(
    Symbol("k_shape", "ratio"),
    "min(1 + 0.05*h_s/b_s, 1.3)",
    symbols("h_s:length, b_s:length"),
    "EN 1995-1-1:2004+A2:2014 6.1.8(1) (6.15), rectangle",
    "secondary",
    title="shape factor in torsion",
)
TORSION_STRENGTH = Equation(
    Symbol("f_tor_d", "stress"),
    "k_shape*f_v_d",
    symbols("k_shape:ratio, f_v_d:stress"),
    "EN 1995-1-1:2004+A2:2014 6.1.8(1) (6.14)",
    "secondary",
    title="strength in torsion",
)
