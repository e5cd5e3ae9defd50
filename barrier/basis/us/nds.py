"""Equations of NDS for sawn lumber and lag screws beyond the yield limits, and of the steel of a screw."""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

BENDING = Equation(
    Symbol("F_b_adj", "stress"),
    "F_b*C_D*C_M",
    symbols("F_b:stress, C_D:ratio, C_M:ratio"),
    "NDS-2018 Table 4.3.1; size factor and repetitive use not taken, short piece",
    "secondary",
    title="allowable bending stress",
)
STIFFNESS = Equation(
    Symbol("E_adj", "stress"),
    "E*C_M",
    symbols("E:stress, C_M:ratio"),
    "NDS-2018 Table 4.3.1, not incised",
    "secondary",
    title="adjusted modulus of elasticity",
)
SHEAR = Equation(
    Symbol("F_v_adj", "stress"),
    "F_v*C_D*C_M",
    symbols("F_v:stress, C_D:ratio, C_M:ratio"),
    "NDS-2018 Table 4.3.1",
    "secondary",
    title="allowable shear stress",
)
BEARING = Equation(
    Symbol("F_c_perp_adj", "stress"),
    "F_c_perp*C_M",
    symbols("F_c_perp:stress, C_M:ratio"),
    "NDS-2018 Table 4.3.1, no duration factor; a limit of deformation (0.04 in), not collapse",
    "secondary",
    title="allowable bearing across the grain",
)
BENT_BOTH_WAYS = Equation(
    Symbol("eta", "ratio"),
    "eta_y + eta_z",
    symbols("eta_y:ratio, eta_z:ratio"),
    "NDS-2018 3.9.2 (3.9-3) without axial force, short piece",
    "secondary",
    title="bending both ways at once",
)
SHEAR_AT_CONNECTION = Equation(
    Symbol("V_r_adj", "force"),
    "k_s*F_v_adj*b_pc*h_e*(h_e/h_pc)**2",
    symbols("k_s:ratio, F_v_adj:stress, b_pc:length, h_e:length, h_pc:length"),
    "NDS-2018 3.4.3.3(a) (3.4-6), d_e the depth the screws reach from the edge they pull at",
    "memory",
    valid=("h_e < h_pc",),
    title="shear a piece may have beside screws that pull it up",
)
SHEAR_MODULUS = Equation(
    Symbol("G", "stress"),
    "E/16",
    symbols("E:stress"),
    "usual ratio for softwood, handbooks of wood",
    "secondary",
    title="shear modulus",
)
WITHDRAWAL = Equation(
    Symbol("W_adj_p_t", "force"),
    "W*C_D*C_M*C_eg*p_t",
    symbols("W:withdrawal, C_D:ratio, C_M:ratio, C_eg:ratio, p_t:length"),
    "NDS-2018 12.2.1 with Table 11.3.1",
    "secondary",
    title="allowable withdrawal of one lag screw",
)
SIDEWAYS = Equation(
    Symbol("Z_adj", "force"),
    "Z*C_D*C_M*C_eg",
    symbols("Z:force, C_D:ratio, C_M:ratio, C_eg:ratio"),
    "NDS-2018 Table 11.3.1",
    "secondary",
    title="allowable sideways load of one lag screw",
)
COMBINED = Equation(
    Symbol("eta", "ratio"),
    "(eta_ax*F_ax + eta_v*F_v)/sqrt(F_ax**2 + F_v**2)",
    symbols("eta_ax:ratio, F_ax:force, eta_v:ratio, F_v:force"),
    "NDS-2018 12.4.1 (12.4-1), Z' = W Z/(W cos^2 + Z sin^2), written in the two utilisations: "
    "eta_ax sin(alpha) + eta_v cos(alpha), alpha the angle of the load to the wood surface",
    "secondary",
    title="withdrawal and sideways together, at the angle of the load",
)
COMBINED_WORST = Equation(
    Symbol("eta", "ratio"),
    "sqrt(eta_ax**2 + eta_v**2)",
    symbols("eta_ax:ratio, eta_v:ratio"),
    "NDS-2018 12.4.1 (12.4-1) written in the two utilisations, at the angle of load to the wood surface that is worst: "
    "eta_ax sin(alpha) + eta_v cos(alpha) is never more than this",
    "secondary",
    title="withdrawal and sideways together",
)
SCREW_TENSION = Equation(
    Symbol("T_steel", "force"),
    "f_u*pi*d_1**2/4/Omega",
    symbols("f_u:stress, d_1:length, Omega:ratio"),
    "AISC 360-16 D2(b), on the root area",
    "secondary",
    title="allowable tension of the screw's steel",
)
PLATE = Equation(
    Symbol("F_b_plate", "stress"),
    "f_y/Omega_b",
    symbols("f_y:stress, Omega_b:ratio"),
    "AISC 360-16 F11, on the elastic section",
    "secondary",
    title="allowable bending stress of a steel plate",
)
SPACING = Equation(
    Symbol("a_min", "length"),
    "m*d",
    symbols("m:ratio, d:length"),
    "NDS-2018 Tables 12.5.1A, B, C and E, multiple of the diameter from which on C_Delta is 1; a smaller one is not taken",
    "secondary",
    title="smallest distance of a lag screw",
)
BETWEEN_ROWS = Equation(
    Symbol("a_min", "length"),
    "min(max(2.5*D, (5*l_m + 10*D)/8), 5*D)",
    symbols("l_m:length, D:length"),
    "NDS-2018 Table 12.5.1D, rows of screws pushed across the grain, by their length in the wood; no C_Delta makes up for less",
    "secondary",
    title="smallest distance between rows of lag screws pushed across the grain",
)
NAIL_IN_MAIN = Equation(
    Symbol("l_m", "length"),
    "L_n - l_s",
    symbols("L_n:length, l_s:length, m_p:ratio, D:length"),
    "NDS-2018 12.3.5.3, the point included",
    "memory",
    valid=("L_n - l_s >= m_p*D",),
    title="length of the nail in the end of the piece",
)
DRIVEN = Equation(
    Symbol("Z_end", "force"),
    "n*Z*C_D*C_M*C_eg",
    symbols("n:count, Z:force, C_D:ratio, C_M:ratio, C_eg:ratio"),
    "NDS-2018 Table 11.3.1, end grain 12.5.2",
    "secondary",
    title="allowable sideways load of the nails in one end",
)
BRACKET, BRACKET_TORQUE = (
    Equation(
        Symbol("R_a_adj", kind),
        "min(C_D, 1)*C_M*R_a",
        symbols(f"C_D:ratio, C_M:ratio, R_a:{kind}"),
        "NDS-2018 Table 11.3.1 on the bracket's rating, taken as one for a load of ten years in dry wood and never raised",
        "memory",
        title="allowable load of a rated bracket",
    )
    for kind in ("force", "moment")
)
