"""Distances of screws that are pushed sideways towards an edge or an end of the wood, EN 1995-1-1."""

from __future__ import annotations

from barrier.basis.en.fasteners import LOADED_END, SPACING_PUSHED
from barrier.basis.en.lateral import D_EF
from barrier.basis.parts import Answer, Fastener
from barrier.result import Lack, NotChecked
from barrier.tables import Tables


def distance(tables: Tables, rule: str, screw: Fastener) -> Answer:
    """Smallest distance from a loaded edge (``a4_t``) or end (``a3_t``): thin screws go by nails, thicker ones by bolts."""
    if screw.d_1 is None:
        return NotChecked(Lack.INPUT, "the root diameter of the screw is not given; measure it")
    thin = D_EF(d_1=screw.d_1).at(0) <= tables.value("en1995_lengths", "thin_screw").at(0)
    m = tables.value("en1995_screw_spacing", f"lateral_{'predrilled' if thin else 'bolt'}_{rule}").named("m")
    if rule == "a3_t" and not thin:
        return LOADED_END(m=m, d=screw.d, l_min=tables.value("en1995_lengths", "loaded_end").named("l_min"))
    return SPACING_PUSHED(m=m, d=screw.d)
