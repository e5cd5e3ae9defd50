"""Equations of the US basis: glass, withdrawal of screws, and screws loaded sideways.

Sideways, ``D`` is the diameter that yields: the root diameter of a thread; dowel bearing takes the nominal ``D_n``. The
main member holds the point of the screw; the tapered tip is not counted in its length ``l_m``.
"""

from __future__ import annotations

from statistics import NormalDist

from barrier.equation import Equation, Symbol, symbols
from barrier.value import Numerical, Value

# ---------------------------------------------------------------- glass
WIND_BESIDE_LIVE = Equation(
    Symbol("f_W_L", "ratio"),
    "f_c*f_W",
    symbols("f_c:ratio, f_W:ratio"),
    "ASCE 7-22 2.4.1, D + 0.75 L + 0.75 (0.6 W)",
    "secondary",
    title="share of strength-level wind beside the live load",
)
GLASS_GUARD = Equation(
    Symbol("F_g", "stress"),
    "MOR/SF",
    symbols("MOR:stress, SF:ratio"),
    "IBC 2407.1.1, a factor on the modulus of rupture; that the mean one is meant is our reading",
    "secondary",
    title="allowable stress of glass in a guard",
)
GLASS_DURATION = Equation(
    Symbol("k_t", "ratio"),
    "(t_s/3)**(-1/n)",
    symbols("t_s:count, n:ratio"),
    "ASTM E1300, factor for a load of t_s seconds on the allowable stress for 3 s",
    "secondary",
    valid=("t_s > 0",),
    title="duration factor of glass",
)
GLASS_PROBABILITY = Equation(
    Symbol("k_P", "ratio"),
    "(1 - V*z_P)/(1 - V*z_8)",
    symbols("V:ratio, z_P:ratio, z_8:ratio"),
    "US guide to structural glass design: normal distribution with coefficient of variation V, from 8 breakages in "
    "1000 to the wanted probability; z is the number of standard deviations below the mean",
    "secondary",
    valid=("V*z_P < 1",),
    title="factor for another probability of breakage",
)
GLASS_ALLOWABLE = Equation(
    Symbol("F_g", "stress"),
    "k_P*k_t*k_s*F_8",
    symbols("k_P:ratio, k_t:ratio, k_s:ratio, F_8:stress"),
    "ASTM E1300, allowable stress for 3 s and 8 breakages in 1000, with the factors of a US guide to structural glass design",
    "secondary",
    title="allowable stress of glass for a duration and a probability of breakage",
)


def deviations_below(probability: Value) -> Value:
    """How many standard deviations below the mean a breakage of this probability lies.

    ``probability`` a single ratio between 0 and 1; returns a ratio. Source: the normal distribution. ValueError outside
    the range.

    >>> from barrier.value import JobEntry
    >>> round(float(deviations_below(Value(0.008, "ratio", JobEntry("x", "x"))).x), 3)
    2.409
    """
    P = float(probability.x)
    if not 0.0 < P < 1.0:
        raise ValueError(f"probability of breakage = {P!r}; allowed is more than 0 and less than 1, such as 0.001")
    origin = Numerical("standard deviations below the mean", "inverse of the normal distribution", "statistics", {"P": probability})
    return Value(-NormalDist().inv_cdf(P), "ratio", origin, "z_P")


SCOPE = (
    "ASTM E1300 is written for glass held along its edges: a panel on base clamps is outside its charts. Only its allowable "
    "stresses are used, against the stress of the plate model, under wind. They are taken for the gust and the probability of "
    "breakage of the table astm_e1300_wind, an assumption; a job may ask for a rarer breakage (wind.breakage)."
)

# ---------------------------------------------------------------- loads
PATCH_SIDE = Equation(
    Symbol("s_P", "length"),
    "sqrt(A_P)",
    symbols("A_P:area"),
    "geometry: side of the square the load on the infill stands on",
    "computed",
    title="side of the patch",
)

# ---------------------------------------------------------------- withdrawal
LAG_WITHDRAWAL = Equation(
    Symbol("W", "withdrawal", "lbf/in"),
    "1800*G**1.5*D**0.75",
    symbols("G:ratio, D:length@in"),
    "NDS-2015 12.2.1 (12.2-1)",
    "secondary",
    title="reference withdrawal of a lag screw per inch of thread",
)
WOOD_SCREW_WITHDRAWAL = Equation(
    Symbol("W", "withdrawal", "lbf/in"),
    "2850*G**2*D",
    symbols("G:ratio, D:length@in"),
    "NDS-2015 12.2.2 (12.2-2), not in end grain",
    "secondary",
    title="reference withdrawal of a wood screw per inch of thread",
)

# ---------------------------------------------------------------- dowel bearing
BEARING_ALONG = Equation(
    Symbol("F_e", "stress", "psi"),
    "11200*G",
    symbols("G:ratio, D_n:length@in"),
    "NDS-2015 Table 12.3.3, nominal diameter of 1/4 in and more, force along the grain",
    "secondary",
    valid=("D_n >= 0.25",),
    title="dowel bearing strength along the grain",
)
BEARING_ACROSS = Equation(
    Symbol("F_e", "stress", "psi"),
    "6100*G**1.45/sqrt(D_n)",
    symbols("G:ratio, D_n:length@in"),
    "NDS-2015 Table 12.3.3, nominal diameter of 1/4 in and more, force across the grain",
    "secondary",
    valid=("D_n >= 0.25",),
    title="dowel bearing strength across the grain",
)
BEARING_SMALL = Equation(
    Symbol("F_e", "stress", "psi"),
    "16600*G**1.84",
    symbols("G:ratio, D_n:length@in"),
    "NDS-2015 Table 12.3.3, nominal diameter below 1/4 in, any direction",
    "secondary",
    valid=("D_n < 0.25",),
    title="dowel bearing strength of a thin fastener",
)

# ---------------------------------------------------------------- reduction terms
K_D = Equation(
    Symbol("K_D", "ratio"),
    "max(10*D + 0.5, 2.2)",
    symbols("D:length@in"),
    "NDS-2015 Table 12.3.1B, root diameter below 1/4 in; 2.2 up to 0.17 in",
    "secondary",
    valid=("D < 0.25",),
    title="reduction term of a thin fastener",
)
K_THETA = Equation(
    Symbol("K_theta", "ratio"),
    "1 + 0.25*theta/90",
    symbols("theta:angle@deg"),
    "NDS-2015 Table 12.3.1B, theta the largest angle of force to grain",
    "secondary",
    valid=("theta >= 0", "theta <= 90"),
    title="factor for the angle of force to grain",
)
REDUCTION_THIN = Equation(
    Symbol("R_d", "ratio"),
    "K_D*K_theta",
    symbols("K_D:ratio, K_theta:ratio"),
    "NDS-2015 Table 12.3.1B, all modes, root diameter below 1/4 in; K_theta is 1 where the nominal diameter is below it too",
    "secondary",
    title="reduction of all yield modes of a thin fastener",
)
REDUCTION = {
    mode: Equation(
        Symbol("R_d", "ratio"),
        f"{number}*K_theta",
        symbols("K_theta:ratio, D:length@in"),
        f"NDS-2015 Table 12.3.1B, mode {mode}, diameter of 1/4 in to 1 in",
        "secondary",
        valid=("D >= 0.25", "D <= 1"),
        title=f"reduction of yield mode {mode}",
    )
    for mode, number in (("Im", "4"), ("Is", "4"), ("II", "3.6"), ("IIIm", "3.2"), ("IIIs", "3.2"), ("IV", "3.2"))
}

# ---------------------------------------------------------------- yield modes, single shear
R_E = Equation(
    Symbol("R_e", "ratio"),
    "F_em/F_es",
    symbols("F_em:stress, F_es:stress"),
    "NDS-2015 Table 12.3.1A",
    "secondary",
    title="dowel bearing of the main member over that of the side member",
)
R_T = Equation(
    Symbol("R_t", "ratio"),
    "l_m/l_s",
    symbols("l_m:length, l_s:length"),
    "NDS-2015 Table 12.3.1A",
    "secondary",
    title="bearing length in the main member over that in the side member",
)


def _mode(mode: str, text: str, names: str, title: str) -> Equation:
    kinds = {"D": "length", "l_m": "length", "l_s": "length", "F_em": "stress", "F_es": "stress", "F_yb": "stress"}
    given = ", ".join(f"{n}:{kinds.get(n, 'ratio')}" for n in names.split())
    source = f"NDS-2015 12.3.1, Table 12.3.1A, single shear, mode {mode}"
    return Equation(Symbol(f"Z_{mode}", "force"), text, symbols(given), source, "secondary", title=title)


MODES = {
    "Im": _mode("Im", "D*l_m*F_em/R_d", "D l_m F_em R_d", "main member crushes"),
    "Is": _mode("Is", "D*l_s*F_es/R_d", "D l_s F_es R_d", "side member crushes"),
    "II": _mode(
        "II",
        "(sqrt(R_e + 2*R_e**2*(1 + R_t + R_t**2) + R_t**2*R_e**3) - R_e*(1 + R_t))/(1 + R_e)*D*l_s*F_es/R_d",
        "R_e R_t D l_s F_es R_d",
        "fastener turns in both members",
    ),
    "IIIm": _mode(
        "IIIm",
        "(sqrt(2*(1 + R_e) + 2*F_yb*(1 + 2*R_e)*D**2/(3*F_em*l_m**2)) - 1)*D*l_m*F_em/((1 + 2*R_e)*R_d)",
        "R_e F_yb D F_em l_m R_d",
        "hinge in the side member, fastener turns in the main member",
    ),
    "IIIs": _mode(
        "IIIs",
        "(sqrt(2*(1 + R_e)/R_e + 2*F_yb*(2 + R_e)*D**2/(3*F_em*l_s**2)) - 1)*D*l_s*F_em/((2 + R_e)*R_d)",
        "R_e F_yb D F_em l_s R_d",
        "hinge in the main member, fastener turns in the side member",
    ),
    "IV": _mode("IV", "D**2/R_d*sqrt(2*F_em*F_yb/(3*(1 + R_e)))", "D R_d F_em F_yb R_e", "two hinges"),
}
LEAST = Equation(
    Symbol("Z", "force"),
    "min(Z_Im, Z_Is, Z_II, Z_IIIm, Z_IIIs, Z_IV)",
    symbols("Z_Im:force, Z_Is:force, Z_II:force, Z_IIIm:force, Z_IIIs:force, Z_IV:force"),
    "NDS-2015 12.3.1: the least of the yield modes",
    "secondary",
    title="reference lateral design value of one fastener",
)

# ---------------------------------------------------------------- through a loose board
THROUGH_BOARD = Equation(
    Symbol("Z", "force"),
    "F_e*D/R_d*min(sqrt(g**2 + 2*F_yb*D**2/(3*F_e)) - g, sqrt((l_m + 2*g)**2 + l_m**2 + 2*F_yb*D**2/(3*F_e)) - (l_m + 2*g))",
    symbols("F_e:stress, D:length, R_d:ratio, g:length, F_yb:stress, l_m:length"),
    "general dowel equations of AWC Technical Report 12, modes IV and IIIm with a gap, side member that does not crush: "
    "a thick base plate; the loose board is the gap and is not credited",
    "memory",
    title="sideways strength of a screw through a loose board under a thick plate",
)
