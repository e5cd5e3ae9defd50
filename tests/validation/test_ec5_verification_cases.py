"""Verification cases for timber by EN 1995-1-1 in the public library xc (xcfem/xc, commit fe707f4, by their figures).

Strengths come from our tables by the name of the class, so table, factor and equation are all in the path.
"""

from __future__ import annotations

from published import timber, val

from barrier.basis import Timber, basis_named
from barrier.basis.en import timber as en_timber
from barrier.links.blocking.loose_pieces import SHEAR_STRESS
from barrier.result import Combination, utilisation
from barrier.tables import Tables
from barrier.value import Value

PRINT = 1e-9  # the library keeps ten digits
TABLES = Tables()
EN = basis_named("en", "uk", TABLES)


def lasting(duration: str) -> Combination:
    return Combination(duration, "ultimate", val(1.0, "ratio"), duration, "barrier_domestic", "the example")


def number(answer: object) -> float:
    assert isinstance(answer, Value)
    return float(answer.x)


def test_bending_of_c24_medium_term_indoors() -> None:
    timber("WE16").agrees(number(EN.bending(Timber({"en": "C24"}, 1), lasting("medium-term"))), PRINT)


def test_bearing_of_c18_permanent_outdoors() -> None:
    """Our bearing carries k_c,90 = 1 of its own."""
    timber("WE17").agrees(number(EN.bearing(Timber({"en": "C18"}, 3), lasting("permanent"))), PRINT)


def test_shear_of_a_75_by_225_beam() -> None:
    """f_v,k = 2.5 is EN 338:2003, and cracks are not allowed for there: k_cr = 1 here, 0.67 in ours."""
    e = timber("WE18")
    f_v_k = TABLES.table("timber_en338_2003").row("C24").value("f_v_k")
    assert f_v_k is not None and f_v_k.x == e.given["fvk"]
    f_d = en_timber.SHEAR(k_mod=val(e.given["kmod"], "ratio"), f_v_k=f_v_k, gamma_M=val(e.given["gM"], "ratio"))
    gross = en_timber.SHEAR_GROSS(k_cr=val(1.0, "ratio"), f_v_d=f_d)
    tau = SHEAR_STRESS(V_end=val(e.given["V"], "force"), b_pc=val(e.given["b"], "length"), h_pc=val(e.given["h"], "length"))
    e.agrees(utilisation(tau, gross).x, PRINT)
