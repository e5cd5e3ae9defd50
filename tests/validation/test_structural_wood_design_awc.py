"""American Wood Council, Structural Wood Design Solved Example Problems, by NDS.

The figures are those the public library xc (xcfem/xc, commit fe707f4) holds for its own verification.
"""

from __future__ import annotations

from published import timber, val

from barrier.basis.us import equations as nds
from barrier.basis.us import nds as lumber
from barrier.links.ground.geometry import THREAD
from barrier.units import INCH, LBF
from barrier.value import Value

PRINT = 1e-5  # N; the library keeps ten digits
THEIR_POUND = 4.44822 / LBF  # its pound is rounded to six figures
THEIR_PSI = 1e-6  # of the force: strengths in psi are converted with six figures there
ONE = val(1.0, "ratio")


def inches(x: float) -> Value:
    return val(x * INCH, "length")


def psi(x: float) -> Value:
    return val(x * LBF / INCH**2, "stress")


def test_lag_screw_with_its_tapered_tip_taken_off() -> None:
    """Example E2.3: a 4 in lag screw of 1/2 in through a 1-1/2 in side member; the tip of 5/16 in never counts."""
    e = timber("WE01")
    L, side = inches(e.given["L_in"]), inches(e.given["side_in"])
    p_t = THREAD(L=L, l_tip=inches(e.given["tip_in"]), z_b=side, h_b=inches(12), l_thr=L)
    assert round(float(p_t.x) / INCH, 6) == 2.1875
    W = nds.LAG_WITHDRAWAL(G=val(e.given["G"], "ratio"), D=inches(e.given["D_in"]))
    R = lumber.WITHDRAWAL(W=W, C_D=val(e.given["CD"], "ratio"), C_M=ONE, C_eg=ONE, p_t=p_t)
    e.agrees(float(R.x) * THEIR_POUND, PRINT)


def test_nail_sideways() -> None:
    """A 0.148 in nail through 3/4 in, both members G = 0.50: all six modes, IIIs least."""
    e = timber("WE03")
    D = inches(e.given["D_in"])
    F_e = nds.BEARING_SMALL(G=val(e.given["G"], "ratio"), D_n=D)
    l_m, l_s = inches(e.given["lm_in"]), inches(e.given["side_in"])
    K = nds.K_THETA(theta=val(0.0, "angle"))
    given = {
        "D": D, "l_m": l_m, "l_s": l_s, "F_em": F_e, "F_es": F_e, "F_yb": psi(e.given["Fyb_psi"]),
        "R_e": nds.R_E(F_em=F_e, F_es=F_e), "R_t": nds.R_T(l_m=l_m, l_s=l_s),
        "R_d": nds.REDUCTION_THIN(K_D=nds.K_D(D=D), K_theta=K),
    }  # fmt: skip
    modes = {f"Z_{m}": q(**{n: given[n] for n in q.by_name}) for m, q in nds.MODES.items()}
    Z = nds.LEAST(**modes)
    e.agrees(Z.x, THEIR_PSI * e.printed)
    assert Z.x == modes["Z_IIIs"].x
    # NDS Table 12N prints 105 lbf for it (from memory)
    assert round(float(Z.x) / LBF) == 105
