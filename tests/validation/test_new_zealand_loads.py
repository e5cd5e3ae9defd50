"""New Zealand barrier loads: a building research article (post and line load) and a practitioner's ultimate line load."""

from __future__ import annotations

from published import glass, val

from barrier.links.loads.actions import DESIGN_ACTION, LINE_RESULTANT
from barrier.result import Combination

TENTH, EXACT = 0.05, 1e-9  # the article rounds 1.714 m to 1.7 m


def test_point_and_line_load_are_one_at_1_7_m() -> None:
    """0.6 kN on a post is 0.35 kN/m over 1.7 m: the width at which our resultant of the line is the point load."""
    e = glass("WE16", "equivalent length")
    per_metre = LINE_RESULTANT(q_k=val(e.given["w"], "line load"), W=val(1000.0, "length"))
    e.agrees(1e3 * e.given["P"] / float(per_metre.x), TENTH)
    there = LINE_RESULTANT(q_k=val(e.given["w"], "line load"), W=val(1e3 * e.printed, "length"))
    assert round(float(there.x) / 1e3, 1) == e.given["P"]


def test_ultimate_line_load() -> None:
    e = glass("WE18", "ULS line load")
    H_k = LINE_RESULTANT(q_k=val(e.given["line"], "line load"), W=val(1000.0, "length"))
    ultimate = Combination("ultimate", "ultimate", val(e.given["gQ"], "ratio").named("gamma_Q"), "", "", "")
    e.agrees(float(ultimate.applied(H_k.named("H_k"), DESIGN_ACTION).x) / 1e3, EXACT)
