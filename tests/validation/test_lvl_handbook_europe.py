"""LVL Handbook Europe (2025), section 9.6, two screws in withdrawal with a declared strength (read in a public copy)."""

from __future__ import annotations

from published import timber, val

from barrier.basis.en import fasteners
from barrier.links.ground.geometry import THREAD

PRINT_ONE, PRINT_TWO = 0.005, 0.05  # kN: the print is rounded to 0.01 and to 0.1 kN
DENSITY = val(480.0, "density")  # the declared strength is used in the material it was declared for


def test_one_screw() -> None:
    """The handbook takes one diameter off the thread for the tip, and so does our thread in timber."""
    e = timber("WE07a")
    d, l_g, zero = val(e.given["d_mm"], "length"), val(e.given["lg_mm"], "length"), val(0.0, "length")
    l_ef = THREAD(L=l_g, l_tip=d, z_b=zero, h_b=val(200.0, "length"), l_thr=l_g)
    assert l_ef.x == e.given["lef_mm"]
    one = fasteners.WITHDRAWAL_DECLARED(f_ax_k=val(e.given["fax_k"], "stress"), d=d, l_ef=l_ef, rho_k=DENSITY, rho_a=DENSITY)
    e.agrees(float(one.x) / 1e3, PRINT_ONE)


def test_two_screws() -> None:
    e = timber("WE07b")
    n = val(e.given["n"], "count")
    share = fasteners.GROUP_SHARE(n=n, F_ax_1_Rk=val(1e3 * e.given["RTk_kN"], "force"))
    design = fasteners.DESIGN_FORCE(k_mod=val(e.given["kmod"], "ratio"), F_ax_Rk=share, gamma_M=val(e.given["gM"], "ratio"))
    e.agrees(float(n.x) * float(design.x) / 1e3, PRINT_TWO)
