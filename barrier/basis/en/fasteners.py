"""Equations of EN 1995-1-1 section 8 for screws, and of EN 1993-1-8 for their steel."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

F_AX_K = Equation(
    Symbol("f_ax_k", "stress", "MPa"),
    "0.52*d**-0.5*l_ef**-0.1*rho_k**0.8",
    symbols("d:length@mm, d_1:length@mm, l_ef:length@mm, rho_k:density@kg/m3"),
    "EN 1995-1-1:2004+A1:2008 8.7.2(4) (8.39)",
    "secondary",
    valid=("d >= 6", "d <= 12", "d_1 >= 0.6*d", "d_1 <= 0.75*d", "l_ef >= 6*d"),
    title="characteristic withdrawal strength of a screw across the grain",
)
K_D = Equation(
    Symbol("k_d", "ratio"),
    "min(d/8, 1)",
    symbols("d:length@mm"),
    "EN 1995-1-1:2004+A1:2008 8.7.2(4) (8.40)",
    "secondary",
    title="diameter factor",
)
WITHDRAWAL_ONE = Equation(
    Symbol("F_ax_1_Rk", "force"),
    "f_ax_k*d*l_ef*k_d",
    symbols("f_ax_k:stress, d:length, l_ef:length, k_d:ratio"),
    "EN 1995-1-1:2004+A1:2008 8.7.2(4) (8.38) with n_ef = 1, screw across the grain",
    "secondary",
    title="characteristic withdrawal of one screw",
)
SLANT = Equation(
    Symbol("k_theta", "ratio"),
    "cos(theta)/(1.2*sin(theta)**2 + cos(theta)**2)",
    symbols("theta:angle"),
    "EN 1995-1-1:2004+A1:2008 8.7.2(4) (8.38), angle to the grain 90 degrees less theta, not below 30; cos(theta) is statics: "
    "a pull across the grain is larger along a slanting screw",
    "memory",
    valid=("theta <= pi/3",),
    title="factor on the withdrawal of a screw driven at a slant, taken as slanting along the grain",
)
WITHDRAWAL_DECLARED = Equation(
    Symbol("F_ax_1_Rk", "force"),
    "f_ax_k*d*l_ef*(rho_k/rho_a)**0.8",
    symbols("f_ax_k:stress, d:length, l_ef:length, rho_k:density, rho_a:density"),
    "EN 1995-1-1:2004+A1:2008 8.7.2(6) (8.40a) with n_ef = 1, screw across the grain",
    "memory",
    valid=("l_ef >= 6*d",),
    title="characteristic withdrawal of one screw, from the declared strength",
)
GROUP_SHARE = Equation(
    Symbol("F_ax_Rk", "force"),
    "n**0.9/n*F_ax_1_Rk",
    symbols("n:count, F_ax_1_Rk:force"),
    "EN 1995-1-1:2004+A1:2008 8.7.2(8) (8.41), n_ef = n^0.9 shared by n screws",
    "secondary",
    title="withdrawal of one screw as one of n in tension",
)
DESIGN_FORCE = Equation(
    Symbol("F_ax_Rd", "force"),
    "k_mod*F_ax_Rk/gamma_M",
    symbols("k_mod:ratio, F_ax_Rk:force, gamma_M:ratio"),
    "EN 1995-1-1:2004 2.4.3 (2.17)",
    "secondary",
    title="design withdrawal of one screw",
)
SCREW_TENSION = Equation(
    Symbol("F_t_Rd", "force"),
    "k_2*f_u*pi*d_1**2/4/gamma_M2",
    symbols("k_2:ratio, f_u:stress, d_1:length, gamma_M2:ratio"),
    "EN 1993-1-8:2005 Table 3.4; the root area of a screw is our reading of its stress area",
    "secondary",
    title="design tension of the screw's steel",
)
PLATE = Equation(
    Symbol("f_y_d", "stress"),
    "f_y/gamma_M0",
    symbols("f_y:stress, gamma_M0:ratio"),
    "EN 1993-1-1:2005 6.2.5(2), elastic; EN 1993-1-4 for stainless steel",
    "secondary",
    title="design bending stress of a steel plate",
)
SPACING = Equation(
    Symbol("a_min", "length"),
    "m*d",
    symbols("m:ratio, d:length"),
    "EN 1995-1-1:2004+A1:2008 Table 8.6",
    "secondary",
    title="smallest spacing or edge distance of an axially loaded screw",
)
SPACING_PUSHED = Equation(
    Symbol("a_min", "length"),
    "m*d",
    symbols("m:ratio, d:length"),
    "EN 1995-1-1:2004 8.7.1(4), (5) with Tables 8.4 and 8.2",
    "secondary",
    title="smallest edge or end distance of a screw pushed towards it",
)
LOADED_END = Equation(
    Symbol("a_min", "length"),
    "max(m*d, l_min)",
    symbols("m:ratio, d:length, l_min:length"),
    "EN 1995-1-1:2004 8.7.1(4) with Table 8.4",
    "secondary",
    title="smallest end distance of a screw pushed towards it",
)
LEAST_THICKNESS = Equation(
    Symbol("t_min", "length"),
    "m*d",
    symbols("m:ratio, d:length"),
    "EN 1995-1-1:2004+A1:2008 8.7.2(2) and Table 8.6; that the thickness is the depth of the piece along the screw is our reading",
    "secondary",
    title="least thickness of the wood under an axially loaded screw",
)
BRACKET, BRACKET_TORQUE = (
    Equation(
        Symbol("R_d", kind),
        "k_mod*R_k/gamma_M",
        symbols(f"k_mod:ratio, R_k:{kind}, gamma_M:ratio"),
        "EN 1995-1-1:2004 2.4.3 (2.17), on the bracket's rating",
        "secondary",
        title="design resistance of a rated bracket",
    )
    for kind in ("force", "moment")
)
MEAN_DENSITY = Equation(
    Symbol("rho_m", "density", "kg/m3"),
    "sqrt(rho_1*rho_2)",
    symbols("rho_1:density@kg/m3, rho_2:density@kg/m3"),
    "EN 1995-1-1:2004 7.1(2) (7.1)",
    "secondary",
    title="mean density of two timbers that are joined",
)
SLIP_NAIL = Equation(
    Symbol("K_ser", "stiffness", "N/mm"),
    "rho_m**1.5*d**0.8/30",
    symbols("rho_m:density@kg/m3, d:length@mm"),
    "EN 1995-1-1:2004 Table 7.1, nails without predrilled holes",
    "secondary",
    title="slip modulus of one nail in side grain; in end grain it gives way by more",
)
SLIP_SCREW = Equation(
    Symbol("K_ser", "stiffness", "N/mm"),
    "rho_m**1.5*d/23",
    symbols("rho_m:density@kg/m3, d:length@mm"),
    "EN 1995-1-1:2004 Table 7.1, screws",
    "secondary",
    title="slip modulus of one screw in side grain; in end grain it gives way by more",
)
SLIP_OF_ALL = Equation(
    Symbol("K_e", "stiffness"),
    "n_e*K_ser",
    symbols("n_e:count, K_ser:stiffness"),
    "sum over the fasteners of one end",
    "computed",
    title="force per slip of one end of a piece",
)
