"""Equations of AS 1720.1 for fasteners: pulled, pushed sideways, distances; and steel by AS 4100."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

WITHDRAWAL = Equation(
    Symbol("N_d_j", "force"),
    "phi*k_13*l_p*Q_k",
    symbols("phi:ratio, k_13:ratio, l_p:length, Q_k:withdrawal"),
    "AS 1720.1:2010 4.3.3 and 4.5.3, one screw; duration does not act on it",
    "secondary",
    title="design withdrawal of one screw",
)
BOLT_ACROSS = Equation(
    Symbol("Q_sk", "force", "N"),
    "min(0.5*b_ef*D*f_pj, K*f_pj*D**1.5)",
    symbols("b_ef:length@mm, D:length@mm, f_pj:stress@MPa, K:ratio"),
    "AS 1720.1:2010 Table 4.10 and C6, the expression its rows follow",
    "secondary",
    title="characteristic load of a coach screw across the grain",
)
SIDEWAYS = Equation(
    Symbol("N_d_s", "force"),
    "phi*k_1*k_13*k_16*k_17*Q_sk",
    symbols("phi:ratio, k_1:ratio, k_13:ratio, k_16:ratio, k_17:ratio, Q_sk:force"),
    "AS 1720.1:2010 4.3.3 and 4.5.2, one screw",
    "secondary",
    title="design sideways load of one screw",
)
NAILS = Equation(
    Symbol("N_d_n", "force"),
    "phi*k_1*k_13*k_14*k_16*k_17*n*Q_k",
    symbols("phi:ratio, k_1:ratio, k_13:ratio, k_14:ratio, k_16:ratio, k_17:ratio, n:count, Q_k:force"),
    "AS 1720.1:2010 4.2.3 and 4.3.3",
    "secondary",
    title="design sideways load of the nails or screws at one end of a piece",
)
NAIL_WET = Equation(
    Symbol("Q_k_J", "force"),
    "r_J*Q_k_JD",
    symbols("r_J:ratio, Q_k_JD:force"),
    "a nail in unseasoned or wet timber: ratio of two printed values of AS 1684.2 Table 9.28; AS 1720.1 was not read",
    "secondary",
    title="characteristic load of a nail in wet timber",
)
TURNING = Equation(
    Symbol("T_d", "moment"),
    "N_d_n/n*s_e",
    symbols("N_d_n:force, n:count, s_e:length"),
    "statics: the couple of the highest and the lowest fastener, each worth one of AS 1720.1:2010 4.2.3; those between left out",
    "computed",
    title="what the fasteners at one end hold against turning",
)
IN_SECOND = Equation(
    Symbol("t_p", "length"),
    "L_n - t_1",
    symbols("L_n:length, t_1:length"),
    "geometry",
    "computed",
    title="depth of a nail or screw in the piece it holds in",
)
PULLED_AND_PUSHED = Equation(
    Symbol("eta", "ratio"),
    "eta_ax + eta_v",
    symbols("eta_ax:ratio, eta_v:ratio"),
    "no rule was found in AS 1720.1; the sum is this project's, on the cautious side",
    "common practice",
    title="pulled and pushed at once",
)
SPACING = Equation(
    Symbol("a_min", "length"),
    "m*d",
    symbols("m:ratio, d:length"),
    "AS 1720.1:2010 section 4, remembered",
    "memory",
    title="smallest distance",
)
BRACKET, BRACKET_TORQUE = (
    Equation(
        Symbol(symbol, kind),
        "phi*k_1*R_k",
        symbols(f"phi:ratio, k_1:ratio, R_k:{kind}"),
        "AS 1720.1:2010 4.2.3, a characteristic rating held by nails or screws",
        "secondary",
        title="design value of a bracket",
    )
    for symbol, kind in (("R_d", "force"), ("T_d", "moment"))
)
BRACKET_DESIGN, BRACKET_DESIGN_TORQUE = (
    Equation(
        Symbol(symbol, kind),
        "R_p*min(k_1/k_1_wind, 1)",
        symbols(f"R_p:{kind}, k_1:ratio, k_1_wind:ratio"),
        "a printed design capacity has phi and k_1 in it; taken as printed for wind, so it is brought to this duration",
        "common practice",
        title="design value of a bracket from a printed design capacity",
    )
    for symbol, kind in (("R_d", "force"), ("T_d", "moment"))
)
PLATE, PLATE_STAINLESS = (
    Equation(
        Symbol("f_b_pl", "stress"),
        "phi*f_y",
        symbols("phi:ratio, f_y:stress"),
        f"{source}, on the elastic modulus of the section, the cautious one",
        provenance,
        title="design bending stress of the base plate",
    )
    for source, provenance in (("AS 4100:2020 5.1 and 5.2", "secondary"), ("AS/NZS 4673:2001, remembered", "memory"))
)
