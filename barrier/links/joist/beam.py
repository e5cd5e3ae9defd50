"""A joist between two supports with an overhang, by statics: a couple on it, forces at equal distances, a load all along.

The couple stands at the mounts; closed forms of a beam on two supports (Roark's Formulas for Stress and Strain, beams with a
concentrated intermediate moment; any table of beams). Forces of mounts along a joist come at the pitch of the mounts, at the
place that is worst for each result: the sums below are the largest any place of such a row can give, exact at some. What the
parts do at their own worst place is added, and a load on the deck may be left off where that is worse.
"""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols

TABLES = "statics of a beam on two supports with an overhang; tables of beams"
ROW = "statics of a beam on two supports with an overhang; largest of any place of a row of equal forces"
PLACE = Equation(
    Symbol("s_J", "length"),
    "m_e - c_o",
    symbols("m_e:length, c_o:length"),
    "geometry: mounts from the outer end of the joist, less the overhang",
    "computed",
    title="mounts from the outer support, below 0 on the overhang",
)
LOAD = Equation(
    Symbol("w_J", "line load"),
    "f_G*g_J + f_Qi*q_J",
    symbols("f_G:ratio, g_J:line load, f_Qi:ratio, q_J:line load"),
    "factors of the basis, whole beside the load on the barrier: nothing is taken off for both at once",
    "computed",
    title="what the joist carries beside the barrier",
)
OF_LOAD = Equation(
    Symbol("M_q", "moment"),
    "w_J*max(L_J**2/8, c_o**2/2)",
    symbols("w_J:line load, L_J:length, c_o:length"),
    TABLES,
    "computed",
    title="bending by what the joist carries beside the barrier",
)
OF_COUPLE = Equation(
    Symbol("M_c", "moment"),
    "M_J*min(max(s_J, L_J - s_J)/L_J, 1)",
    symbols("M_J:moment, s_J:length, L_J:length"),
    TABLES,
    "computed",
    valid=("s_J <= L_J",),
    title="bending by the couple of the mounts",
)
OF_WEIGHT = Equation(
    Symbol("M_P", "moment"),
    "P_J*max(s_J*(L_J - s_J)/L_J, -s_J)",
    symbols("P_J:force, s_J:length, L_J:length"),
    TABLES,
    "computed",
    title="bending by the force down at the mounts",
)
OF_ROW = Equation(
    Symbol("M_c", "moment"),
    "P_J*max(L_J**2/(8*p_m) + p_m/8, c_o*(c_o/p_m + 1))",
    symbols("P_J:force, L_J:length, p_m:length, c_o:length"),
    ROW,
    "computed",
    title="bending by the forces of the mounts along the joist",
)
STRESS = Equation(
    Symbol("sigma_J", "stress"),
    "6*(M_c + M_P + M_q)/(b_J*h_J**2)",
    symbols("M_c:moment, M_P:moment, M_q:moment, b_J:length, h_J:length"),
    "bending of a rectangle; the largest of each part, wherever it is",
    "computed",
    title="bending stress of the joist",
)
STRESS_OF_ROW = Equation(
    Symbol("sigma_J", "stress"),
    "6*(M_c + M_q)/(b_J*h_J**2)",
    symbols("M_c:moment, M_q:moment, b_J:length, h_J:length"),
    "bending of a rectangle; the largest of each part, wherever it is",
    "computed",
    title="bending stress of the joist",
)
LEAST_STRESS = Equation(
    Symbol("sigma_J", "stress"),
    "6*M_J/2/(b_J*h_J**2)",
    symbols("M_J:moment, b_J:length, h_J:length"),
    "bending of a rectangle: wherever a couple stands on a beam, half of it at least bends one side",
    "computed",
    title="bending stress of the joist by the couple alone, at its least",
)
LEAST_OF_ROW = Equation(
    Symbol("sigma_J", "stress"),
    "6*P_J*L_J/4/(b_J*h_J**2)",
    symbols("P_J:force, L_J:length, b_J:length, h_J:length"),
    "bending of a rectangle by one mount in the middle of the span",
    "computed",
    title="bending stress of the joist by one mount alone",
)
SHEAR = Equation(
    Symbol("tau_J", "stress"),
    "1.5*(M_J/L_J + P_J + w_J*(L_J/2 + c_o**2/(2*L_J)))/(b_J*h_J)",
    symbols("M_J:moment, L_J:length, P_J:force, w_J:line load, c_o:length, b_J:length, h_J:length"),
    f"shear of a rectangle; {TABLES}",
    "computed",
    title="shear stress of the joist, gross section",
)
SHEAR_OF_ROW = Equation(
    Symbol("tau_J", "stress"),
    "1.5*(P_J*max(L_J/(2*p_m) + 1/2 + p_m/(8*L_J) + c_o*(c_o/p_m + 1)/L_J, c_o/p_m + 1) + w_J*(L_J/2 + c_o**2/(2*L_J)))/(b_J*h_J)",
    symbols("P_J:force, L_J:length, p_m:length, c_o:length, w_J:line load, b_J:length, h_J:length"),
    f"shear of a rectangle; {ROW}",
    "computed",
    title="shear stress of the joist, gross section",
)
# Down and up at the outer and the inner support, by a couple at the mounts.
OUTER_DOWN = Equation(
    Symbol("R_o", "force"),
    "M_J/L_J + P_J*(L_J - s_J)/L_J + w_J*(L_J + c_o)**2/(2*L_J)",
    symbols("M_J:moment, L_J:length, P_J:force, s_J:length, w_J:line load, c_o:length"),
    TABLES,
    "computed",
    title="force down on the outer support of a joist",
)
INNER_DOWN = Equation(
    Symbol("R_i", "force"),
    "M_J/L_J + P_J*max(s_J, 0)/L_J + w_J*L_J/2",
    symbols("M_J:moment, L_J:length, P_J:force, s_J:length, w_J:line load"),
    TABLES,
    "computed",
    title="force down on the inner support of a joist",
)
INNER_DOWN_LIFTED = Equation(  # what lifts a joist on its overhang turns it about its outer support
    Symbol("R_i", "force"),
    "M_J/L_J + max(P_J*max(s_J, 0), U_J*max(-s_J, 0))/L_J + w_J*L_J/2",
    symbols("M_J:moment, L_J:length, P_J:force, s_J:length, U_J:force, w_J:line load"),
    TABLES,
    "computed",
    title="force down on the inner support of a joist",
)
OUTER_UP = Equation(
    Symbol("U_o", "force"),
    "M_J/L_J + U_J*(L_J - s_J)/L_J",
    symbols("M_J:moment, L_J:length, U_J:force, s_J:length"),
    TABLES,
    "computed",
    title="pull up at the outer support of a joist",
)
INNER_UP = Equation(
    Symbol("U_i", "force"),
    "M_J/L_J + max(P_J*max(-s_J, 0), U_J*max(s_J, 0))/L_J + f_Qi*q_J*c_o**2/(2*L_J)",
    symbols("M_J:moment, L_J:length, P_J:force, s_J:length, U_J:force, f_Qi:ratio, q_J:line load, c_o:length"),
    TABLES,
    "computed",
    title="pull up at the inner support of a joist",
)
# The same by forces at the pitch of the mounts.
OUTER_DOWN_ROW = Equation(
    Symbol("R_o", "force"),
    "P_J*((L_J + c_o)**2/(2*p_m) + (L_J + c_o)/2 + p_m/8)/L_J + w_J*(L_J + c_o)**2/(2*L_J)",
    symbols("P_J:force, L_J:length, c_o:length, p_m:length, w_J:line load"),
    ROW,
    "computed",
    title="force down on the outer support of a joist",
)
INNER_DOWN_ROW = Equation(
    Symbol("R_i", "force"),
    "P_J*(L_J/(2*p_m) + 1/2 + p_m/(8*L_J)) + w_J*L_J/2",
    symbols("P_J:force, L_J:length, p_m:length, w_J:line load"),
    ROW,
    "computed",
    title="force down on the inner support of a joist",
)
OUTER_UP_ROW = Equation(
    Symbol("U_o", "force"),
    "P_J*((L_J + c_o)**2/(2*p_m) + (L_J + c_o)/2 + p_m/8)/L_J",
    symbols("P_J:force, L_J:length, c_o:length, p_m:length"),
    ROW,
    "computed",
    title="pull up at the outer support of a joist",
)
INNER_UP_ROW = Equation(
    Symbol("U_i", "force"),
    "P_J*max(L_J/(2*p_m) + 1/2 + p_m/(8*L_J), c_o*(c_o/p_m + 1)/L_J) + f_Qi*q_J*c_o**2/(2*L_J)",
    symbols("P_J:force, L_J:length, p_m:length, c_o:length, f_Qi:ratio, q_J:line load"),
    ROW,
    "computed",
    title="pull up at the inner support of a joist",
)
OUTER_HELD = Equation(
    Symbol("R_h", "force"),
    "R_up + f_Gf*g_J*(L_J + c_o)**2/(2*L_J)",
    symbols("R_up:force, f_Gf:ratio, g_J:line load, L_J:length, c_o:length"),
    "what holds the joist down, and what it carries at all times",
    "computed",
    title="what holds down at the outer support of a joist",
)
INNER_HELD = Equation(
    Symbol("R_h", "force"),
    "R_up + f_Gf*g_J*(L_J**2 - c_o**2)/(2*L_J)",
    symbols("R_up:force, f_Gf:ratio, g_J:line load, L_J:length, c_o:length"),
    "what holds the joist down, and what it carries at all times",
    "computed",
    title="what holds down at the inner support of a joist",
)
SEAT = Equation(
    Symbol("R_seat", "force"),
    "f_seat*b_J*l_s",
    symbols("f_seat:stress, b_J:length, l_s:length"),
    "bearing across the grain of the joist on its bearer, no spread taken",
    "computed",
    title="what the joist may bear on its support with",
)
# How far a joist gives way in use.
INERTIA = Equation(
    Symbol("I_J", "inertia"),
    "b_J*h_J**3/12",
    symbols("b_J:length, h_J:length"),
    "rectangle",
    "computed",
    title="inertia of a joist",
)
TURNING_LENGTH = Equation(
    Symbol("l_J", "length"),
    "max(s_J, 0)**2/L_J - max(s_J, 0) + L_J/3 + max(-s_J, 0)",
    symbols("s_J:length, L_J:length"),
    TABLES,
    "computed",
    title="length of joist that turns with a couple: its angle is the couple times this over its stiffness",
)
ANGLE = Equation(
    Symbol("theta_J", "angle"),
    "(r_l*M_l + r_r*M_r)*l_J/(E_J*I_J)",
    symbols("r_l:ratio, M_l:moment, r_r:ratio, M_r:moment, l_J:length, E_J:stress, I_J:inertia"),
    f"{TABLES}; the mount turns with both joists by its share of each",
    "computed",
    title="turn of the mount with its joists",
)
ANGLE_OF_ROW = Equation(
    Symbol("theta_J", "angle"),
    "2*P_J/L_b*max(5*L_J**4/(384*p_m) + L_J**3/96, L_J**3/48, c_o**2*(c_o + L_J)/3*(c_o/p_m + 1))/(E_J*I_J)",
    symbols("P_J:force, L_b:length, L_J:length, p_m:length, c_o:length, E_J:stress, I_J:inertia"),
    f"{ROW}; one joist goes down and the other up",
    "computed",
    title="turn of the mount with its joists",
)
