"""Which yield-limit equations of NDS belong to a fastener: reduction terms by its diameters, and the least mode.

``D`` is the diameter that yields (root of a thread, shank of a nail), ``D_n`` the nominal one. ``thin`` says that
the fastener is below the diameter from which modes and directions count apart (a row of ``nds_lengths``).
"""

from __future__ import annotations

from barrier.basis.parts import Answer, Fastener
from barrier.basis.us import equations
from barrier.result import Lack, NotChecked
from barrier.tables import Tables
from barrier.value import Value


def reduction(mode: str, D: Value, thin: bool, theta: Value) -> Value:
    """Reduction term R_d of a yield mode (``Im, Is, II, IIIm, IIIs, IV``) at an angle of force to grain."""
    K_theta = equations.K_THETA(theta=theta.named("theta"))
    if thin:
        return equations.REDUCTION_THIN(K_D=equations.K_D(D=D), K_theta=K_theta)
    return equations.REDUCTION[mode](K_theta=K_theta, D=D)


def dowel_bearing(G: Value, D_n: Value, thin: bool, across: bool) -> Value:
    """Dowel bearing strength of wood of specific gravity ``G`` under a fastener of nominal diameter ``D_n``."""
    if thin:
        return equations.BEARING_SMALL(G=G, D_n=D_n)
    return (equations.BEARING_ACROSS if across else equations.BEARING_ALONG)(G=G, D_n=D_n)


def single_shear(
    D: Value, F_yb: Value, F_em: Value, F_es: Value, l_m: Value, l_s: Value, theta: Value, thin: bool
) -> tuple[Value, str]:
    """Least of the six yield modes in single shear, as a force, and the name of that mode.

    Arguments: diameter, bending yield strength, dowel bearing strengths and bearing lengths of main and side member
    (the main one holds the point), the largest angle of force to grain, whether the diameter that yields is thin.
    Source: NDS 12.3.1.
    """
    given = {
        "D": D, "F_yb": F_yb.named("F_yb"), "F_em": F_em.named("F_em"), "F_es": F_es.named("F_es"), "l_m": l_m, "l_s": l_s,
        "R_e": equations.R_E(F_em=F_em, F_es=F_es), "R_t": equations.R_T(l_m=l_m, l_s=l_s),
    }  # fmt: skip
    modes = {}
    for mode, equation in equations.MODES.items():
        every = given | {"R_d": reduction(mode, D, thin, theta)}
        modes[f"Z_{mode}"] = equation(**{name: every[name] for name in equation.by_name})
    least = min(modes, key=lambda name: modes[name].at(0))
    return equations.LEAST(**modes), least.removeprefix("Z_")


SAME_SIZE = 0.1  # mm; diameters closer than this are one size


def lag_bending_yield(tables: Tables, screw: Fastener) -> Answer:
    """Bending yield strength of the lag screw of the ``tables`` whose nominal diameter is that of the ``screw``, MPa."""
    table = tables.table("nds_lag_screws")
    for key in table.keys:
        D, F_yb = table.row(key).value("D"), table.row(key).value("F_yb")
        assert D is not None and F_yb is not None
        if abs(D.at(0) - screw.d.at(0)) < SAME_SIZE:
            return F_yb.named("F_yb")
    return NotChecked(Lack.BASIS, "no bending yield strength is tabulated for a screw of this diameter")
