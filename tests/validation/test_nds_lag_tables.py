"""NDS-2015 Tables 12.2A (withdrawal of lag screws) and 12K (lag screws with thin steel plates), whole tables.

Read in public permit archive copies. The columns of 12K carry their specific gravity from memory; that all hundred
cells come out confirms them, and with them the remembered yield modes, reduction terms, root diameters and bending
yield strengths.
"""

from __future__ import annotations

import pytest
from published import rows, timber, val

from barrier.basis import Fastener, Timber, basis_named
from barrier.basis.us import equations as nds
from barrier.basis.us import yield_limits
from barrier.equation import outside_at
from barrier.result import NotChecked
from barrier.tables import Tables
from barrier.units import INCH, LBF
from barrier.value import Value

WITHDRAWAL = rows("nds_lag_withdrawal")
LATERAL = rows("nds_lag_lateral_thin_steel_plate")
LBF_IN = LBF / INCH
POUND, TEN_POUNDS = 0.5, 5.0  # the tables are rounded to 1 lbf/in and to 10 lbf
RECOMPUTED_W, RECOMPUTED_Z = 0.006, 0.06  # the recomputed figures keep two digits and one digit after the point
QUARTER = 0.25 * INCH - 0.1  # a nominal quarter of an inch is not below it
EIGHT = 8.0  # footnote of 12K: the table holds for a penetration of 8 diameters
SIZES = {round(r.numbers["D"] / INCH, 4): r for r in Tables().table("nds_lag_screws").rows}


def inches(x: float) -> Value:
    return val(x * INCH, "length")


def steel(name: str) -> Value:
    value = Tables().table("nds_steel_bearing").row(name).value("F_e")
    assert value is not None
    return value


def lateral(D_n: float, t_s: float, G: float) -> tuple[float, str]:
    """Least mode in lbf and its name, force along the grain, plate of A653 Grade 33; sizes from our table of lag screws."""
    size = SIZES[D_n]
    D, F_yb = size.value("D_r"), size.value("F_yb")
    assert D is not None and F_yb is not None
    F_em = yield_limits.dowel_bearing(val(G, "ratio"), inches(D_n), D_n * INCH < QUARTER, across=False)
    F_es = steel("A653 Grade 33")
    l_m, l_s = inches(EIGHT * D_n), inches(t_s)
    Z, mode = yield_limits.single_shear(D, F_yb, F_em, F_es, l_m, l_s, Tables().value("nds_angles", "none"), D.at(0) < QUARTER)
    assert outside_at(Z, 0) == ()
    return float(Z.x) / LBF, mode


def test_the_tables_are_whole() -> None:
    assert len(WITHDRAWAL) == 242 and len(LATERAL) == 100


def test_withdrawal() -> None:
    for row in WITHDRAWAL:
        W = nds.LAG_WITHDRAWAL(G=val(float(row["G"]), "ratio"), D=inches(float(row["D_in"])))
        found = float(W.x) / LBF_IN
        assert abs(found - float(row["W_table_lb_per_in"])) <= POUND, row
        assert abs(found - float(row["W_formula_lb_per_in"])) <= RECOMPUTED_W, row


def test_withdrawal_of_a_3_8_in_lag_screw_in_douglas_fir_larch() -> None:
    e = timber("WE23")
    G = Tables().table("nds_species").row("Douglas Fir-Larch").value("G")
    assert G is not None and G.x == e.given["G"]
    e.agrees(float(nds.LAG_WITHDRAWAL(G=G, D=inches(e.given["D_in"])).x) / LBF_IN, POUND)


def test_sideways_with_a_thin_steel_plate() -> None:
    for row in LATERAL:
        Z, mode = lateral(float(row["D_in"]), float(row["plate_t_in"]), float(row["G"]))
        assert abs(Z - float(row["Z_table_lb"])) <= TEN_POUNDS, row
        assert abs(Z - float(row["Z_recomputed_lb"])) <= RECOMPUTED_Z, row
        assert mode == row["mode"], row


def test_sideways_with_our_sizes_and_steel() -> None:
    """The example states its own root diameter and strengths: they are those of our tables."""
    e = timber("WE24")
    size = SIZES[e.given["D_in"]]
    for column, name, unit in (("D_r", "Dr_in", INCH), ("F_yb", "Fyb_psi", LBF / INCH**2)):
        value = size.value(column)
        assert value is not None and float(value.x) == pytest.approx(e.given[name] * unit)
    assert float(steel("A653 Grade 33").x) == pytest.approx(e.given["Fes_psi"] * LBF / INCH**2)
    e.agrees(lateral(e.given["D_in"], e.given["ts_in"], e.given["G"])[0], TEN_POUNDS)


@pytest.mark.parametrize("D_n", [0.25, 0.375])
def test_across_the_grain_is_never_more_than_along(D_n: float) -> None:
    """No table of the force across the grain was found; it must not come out above (NDS Table 12.3.3, both from memory)."""
    G = val(0.5, "ratio")
    across, along = (q(G=G, D_n=inches(D_n)) for q in (nds.BEARING_ACROSS, nds.BEARING_ALONG))
    assert float(across.x) < float(along.x)


def test_a_stiff_plate_without_a_board_is_mode_iv() -> None:
    """Through a board of no thickness under a plate that does not crush, two hinges: mode IV with R_e -> 0."""
    D, F_e, F_yb, R_d = inches(0.265), val(38.6, "stress"), val(310.0, "stress"), val(3.2, "ratio")
    without = nds.THROUGH_BOARD(F_e=F_e, D=D, R_d=R_d, g=val(0.0, "length"), F_yb=F_yb, l_m=inches(4))
    two_hinges = nds.MODES["IV"](D=D, R_d=R_d, F_em=F_e, F_yb=F_yb, R_e=val(0.0, "ratio"))
    assert without.x == pytest.approx(two_hinges.x, rel=1e-12)


def test_withdrawal_as_the_family_answers() -> None:
    """Every cell of Table 12.2A whose specific gravity a species of ours has and that a lag screw of ours has: dry, ten years."""
    us = basis_named("us", "", Tables())
    compared = 0
    for species in Tables().table("nds_species").rows:
        for row in WITHDRAWAL:
            if float(row["G"]) != species.numbers["G"] or float(row["D_in"]) not in SIZES:
                continue
            screw = Fastener(inches(float(row["D_in"])), None, None)
            answer = us.withdrawal(screw, Timber({"us": species.key}, 1), inches(1), val(1.0, "count"), us.strength("barrier"))
            assert not isinstance(answer, NotChecked)
            assert abs(float(answer.x) / LBF - float(row["W_table_lb_per_in"])) <= POUND, (species.key, row)
            compared += 1
    assert compared >= 150
