"""Loads in the plane of the glass at the ends of what a mount stands on: pressed down, lifted, turned along the barrier.

The force down or up on the mount goes to both ends by its place between them; the turn about the axis across the barrier, and
the push along at its lever down to the middle of the piece, are a couple of the two ends. Only loads that decide are looked at,
under the names the same ends have for the push across: the worst of all decides.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from barrier.basis import Timber
from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.end_fixings import end_resistance, nothing_held
from barrier.links.blocking.piece_actions import screw_share, screws_by_piece
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.in_plane_forces import MountShare
from barrier.links.walk import Walk
from barrier.result import About, Check, Lack, NotChecked, Standing, compare, governing, not_checked
from barrier.value import Value

LIFTED = Equation(
    Symbol("N_up", "force"),
    "max(-N_al - N_0, 0)",
    symbols("N_al:force, N_0:force"),
    "statics: what lifts the mount, its share of the weight holding down",
    "computed",
    title="lift of the mount",
)
PRESSED = Equation(
    Symbol("N_dn", "force"),
    "max(N_al + N_0, 0)",
    symbols("N_al:force, N_0:force"),
    "statics: what presses the mount down, its share of the weight with it",
    "computed",
    title="force down of the mount",
)
TURNED = Equation(
    Symbol("M_along", "moment"),
    "abs(M_al) + abs(F_al)*(t_p + t_d + g_d + h_pc/2)",
    symbols("M_al:moment, F_al:force, t_p:length, t_d:length, g_d:length, h_pc:length"),
    "statics: turn of the mount and the push along it, about the middle of the piece",
    "computed",
    title="turn along the barrier",
)
LEFT = Equation(
    Symbol("V_end", "force"),
    "r_n*(N_e*(L_b - a) + M_along)/L_b",
    symbols("r_n:ratio, N_e:force, L_b:length, a:length, M_along:moment"),
    "statics: force and turn along the barrier on a piece held at its ends",
    "computed",
    title="force at the left end of the piece",
)
RIGHT = Equation(
    Symbol("V_end", "force"),
    "r_n*(N_e*a + M_along)/L_b",
    symbols("r_n:ratio, N_e:force, a:length, M_along:moment, L_b:length"),
    "statics: force and turn along the barrier on a piece held at its ends",
    "computed",
    title="force at the right end of the piece",
)


def in_plane_ends(walk: Walk, share: MountShare) -> Iterator[Check]:
    """Ends of the blocking under one load in the plane of the glass on one mount, where the load decides."""
    model, block = share.model, share.model.blocking
    if share.load.standing is not Standing.REQUIRED or model.lacking is not None:
        return
    if block is None or block.direction != "along":
        what = "an edge joist bent up and down" if block is None and not model.boards_only else "this support"
        why = NotChecked(Lack.BASIS, f"forces along the barrier and up and down on {what}, beyond the mount's own screws")
        title = f"loads in the plane of the glass below mount {model.name}"
        yield not_checked(About("blocking", "in_plane", mount=model.name), title, why, demand=share.total)
        return
    timber = walk.timber(block.material, block.laminated == "factory", block.long_side)
    N = {"uplift": LIFTED(N_al=share.down, N_0=share.weight), "down": PRESSED(N_al=share.down, N_0=share.pressing)}
    M = turned(walk, share, block.laid_depth)
    r_n = screw_share(model, [governing(screws_by_piece(model))])
    given = {"r_n": Value(r_n.at(0), "ratio", r_n.origin, "r_n"), "M_along": M}
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    for side, fixing, equation in (("left", block.left, LEFT), ("right", block.right, RIGHT)):
        for way, held in (("uplift", "down"), ("down", "up")):
            V = equation(N_e=N[way].named("N_e"), a=a, L_b=L_b, **given)
            if not float(np.max(V.x)) > 0.0:
                continue
            yield compare(
                About("blocking", "end", side=side, way=way, mount=model.name),
                f"{side} end of the blocking held {held}, mount {model.name}", V,
                end_resistance(walk, fixing, way, share.load.combination, _timber(model, timber)), share.labels,
                no_resistance=nothing_held(fixing, way), combination=share.load.combination.id,
            )  # fmt: skip


def _timber(model: MountModel, timber: Timber) -> Timber | None:
    """What nails at the ends stand in; a section of several laminations is not one piece with so many nails."""
    return timber if len(model.pieces) > 1 else None


def turned(walk: Walk, share: MountShare, depth: Value) -> Value:
    """Turn along the barrier about the middle of a section of this depth."""
    gap = walk.job.decking.gap_under
    assert gap is not None
    return TURNED(
        M_al=share.turn.named("M_al"), F_al=share.push.named("F_al"), t_p=share.model.packing.named("t_p"),
        t_d=walk.job.decking.thickness.named("t_d"), g_d=gap.named("g_d"), h_pc=depth.named("h_pc"),
    )  # fmt: skip
