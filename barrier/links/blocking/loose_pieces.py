"""Loose pieces of blocking along the glass: each bends and shears between the joists and hangs on its own end fixings.

Each piece gets its bearing less the tension of its own screws, and turns by what acts off its centre line and by the lever of
the push (:mod:`barrier.links.blocking.piece_actions`). The push of the mount bends those sideways that its screws reach. Whatever
holds an end has to hold all of it: nothing else does, for neighbours that lie loose beside a piece are not credited.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.ends import LEFT_SIDE, LEFT_TORQUE, RIGHT_SIDE, RIGHT_TORQUE, AtEnd, Held, end_checks
from barrier.links.blocking.one_section import END_TORQUE, torsion_stress
from barrier.links.blocking.piece_actions import PieceActions, actions_on_pieces, screw_share, screws_by_piece
from barrier.links.blocking.piece_forces import PieceForces
from barrier.links.blocking.splitting import at_the_ends, at_the_mount
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.base_plate import YIELDING, MountForces
from barrier.links.walk import Walk
from barrier.result import About, Check, Combination, Lack, NotChecked, Standing, compare, governing, not_checked, utilisation
from barrier.value import Numerical, Value

BENDING_MOMENT = Equation(
    Symbol("M_pc", "moment"),
    "P*a*(L_b - a)/L_b",
    symbols("P:force, a:length, L_b:length"),
    "statics: a force on a piece simply held at its ends",
    "computed",
    title="bending of a piece between the joists",
)
BENDING_STRESS = Equation(
    Symbol("sigma_m", "stress"),
    "6*M_pc/(b_pc*h_pc**2)",
    symbols("M_pc:moment, b_pc:length, h_pc:length"),
    "bending of a rectangle",
    "computed",
    title="bending stress in the piece",
)
END_FORCE = Equation(
    Symbol("V_end", "force"),
    "P*max(a, L_b - a)/L_b",
    symbols("P:force, a:length, L_b:length"),
    "statics: the nearer end takes more",
    "computed",
    title="force at the more loaded end of the piece",
)
LEFT_END = Equation(
    Symbol("V_left", "force"),
    "P*(L_b - a)/L_b",
    symbols("P:force, a:length, L_b:length"),
    "statics: a force on a piece held at its ends",
    "computed",
    title="force at the left end of the piece",
)
RIGHT_END = Equation(
    Symbol("V_right", "force"),
    "P*a/L_b",
    symbols("P:force, a:length, L_b:length"),
    "statics: a force on a piece held at its ends",
    "computed",
    title="force at the right end of the piece",
)
SHEAR_STRESS = Equation(
    Symbol("tau", "stress"),
    "1.5*V_end/(b_pc*h_pc)",
    symbols("V_end:force, b_pc:length, h_pc:length"),
    "shear of a rectangle",
    "computed",
    title="shear stress in the piece, gross section",
)


SIDE_STRESS = Equation(
    Symbol("sigma_m_z", "stress"),
    "6*r_n*(abs(F_Ed)*a*(L_b - a) + M_z_Ed*max(a, L_b - a))/L_b/(h_pc*b_pc**2)",
    symbols("r_n:ratio, F_Ed:force, a:length, L_b:length, M_z_Ed:moment, h_pc:length, b_pc:length"),
    "bending of a rectangle by push and twist of the mount, sideways, shared by its screws",
    "computed",
    title="sideways bending stress in the piece",
)
INTERFACE = Equation(
    Symbol("V_tie", "force"),
    "abs(P_sum)",
    symbols("P_sum:force"),
    "statics: what must cross between two pieces for them to share",
    "computed",
    title="force between two tied pieces",
)


def loose_pieces(walk: Walk, pieces: PieceForces) -> Iterator[Check]:
    """Bending, shear, torsion, splitting and end fixings of the loose pieces under one mount."""
    on = actions_on_pieces(walk, pieces)
    handed, model = on.mount, on.model
    block = model.blocking
    assert block is not None
    name, combination, timber = model.name, handed.combination, walk.timber(block.material, depth=block.long_side)
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    b_pc, h_pc = block.laid_breadth.named("b_pc"), block.laid_depth.named("h_pc")
    upright = compare(
        About("blocking", "bending", mount=name), f"bending of the blocking under mount {name}",
        BENDING_STRESS(M_pc=BENDING_MOMENT(P=on.P, a=a, L_b=L_b), b_pc=b_pc, h_pc=h_pc),
        walk.basis.bending(timber, combination), on.labels,
    )  # fmt: skip
    yield upright
    yield _both_ways(walk, on, upright)
    ends = END_FORCE(P=on.P, a=a, L_b=L_b)
    yield compare(
        About("blocking", "shear", mount=name), f"shear of the blocking under mount {name}",
        SHEAR_STRESS(V_end=ends, b_pc=b_pc, h_pc=h_pc),
        walk.basis.shear(timber, combination), on.labels,
    )  # fmt: skip
    long_side, short_side = (h_pc, b_pc) if float(h_pc.x) >= float(b_pc.x) else (b_pc, h_pc)
    yield compare(
        About("blocking", "torsion", mount=name), f"torsion of a loose piece under mount {name}",
        torsion_stress(END_TORQUE(T_Ed=on.T_own.named("T_Ed"), a=a, L_b=L_b), long_side, short_side),
        walk.basis.torsion(timber, long_side, short_side, combination), on.labels,
    )  # fmt: skip
    yield from at_the_mount(walk, on, ends, combination)
    by_side = {"left": LEFT_END(P=on.P, a=a, L_b=L_b), "right": RIGHT_END(P=on.P, a=a, L_b=L_b)}
    yield from _ends(walk, on, by_side, combination)
    yield from at_the_ends(walk, on, ends, combination)
    if block.ties is not None:
        yield _ties(on)


def _ends(walk: Walk, on: PieceActions, V: Mapping[str, Value], combination: Combination) -> Iterator[Check]:
    """What holds each end of the pieces: down and up, sideways, against turning, and all at once."""
    model, block = on.model, on.model.blocking
    assert block is not None
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    push = pushed(on.mount, most_pushed(model))
    T_Ed = on.T_own.named("T_Ed")
    timber = walk.timber(block.material, depth=block.long_side)
    for side, fixing, turning, sideways in (
        ("left", block.left, LEFT_TORQUE, LEFT_SIDE), ("right", block.right, RIGHT_TORQUE, RIGHT_SIDE)
    ):  # fmt: skip
        held = Held("blocking", "the blocking", model.name, side, side, fixing, timber, combination)
        at = AtEnd(
            V[side], on.force, turning(T_Ed=T_Ed, a=a, L_b=L_b), sideways(a=a, L_b=L_b, **push), on.labels,
            on.mount.counted_labels, on.mount.counted_cases,
        )  # fmt: skip
        yield from end_checks(walk, held, at)


def most_pushed(model: MountModel) -> int:
    """The piece with the most screws, which gets the largest share of a push."""
    return governing(screws_by_piece(model))


def pushed(handed: MountForces, piece: int) -> dict[str, Value]:
    """Push and twist of a mount at the stations that count, and the share of a piece in them."""
    chosen = handed.counted
    r_n = screw_share(handed.model, [piece])
    return {
        "F_Ed": handed.F_Ed.take(chosen), "M_z_Ed": handed.M_z.take(chosen).named("M_z_Ed"),
        "r_n": Value(r_n.at(0), "ratio", r_n.origin, "r_n"),
    }  # fmt: skip


def _both_ways(walk: Walk, on: PieceActions, upright: Check) -> Check:
    """Push and twist of the mount bend sideways the pieces its screws reach, with what bends them up and down."""
    model, block, name = on.model, on.model.blocking, on.model.name
    assert block is not None
    about, title = About("blocking", "both_ways", mount=name), f"bending of the blocking both ways at once, mount {name}"
    if upright.utilisation is None:
        return not_checked(about, title, NotChecked(Lack.INPUT, "bending up and down has no utilisation of its own"))
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    sizes = {"h_pc": block.laid_depth.named("h_pc"), "b_pc": block.laid_breadth.named("b_pc")}
    all_stations = pushed(on.mount, most_pushed(model))
    worst = governing(SIDE_STRESS(a=a, L_b=L_b, **sizes, **all_stations).x)
    n = np.full(len(on.labels), worst)
    stress = SIDE_STRESS(
        F_Ed=all_stations["F_Ed"].take(n), M_z_Ed=all_stations["M_z_Ed"].take(n), r_n=screw_share(model, on.piece), a=a, L_b=L_b,
        **sizes,
    )  # fmt: skip
    strength = walk.basis.bending(walk.timber(block.material, depth=block.long_side), on.mount.combination)
    if isinstance(strength, NotChecked):
        return not_checked(about, title, strength, demand=stress)
    eta = walk.basis.bent_both_ways(upright.utilisation.named("eta_y"), utilisation(stress, strength).named("eta_z"))
    if isinstance(eta, NotChecked):
        return not_checked(about, title, eta, demand=stress)
    made = compare(about, title, stress, strength, on.labels, eta=eta)
    return replace(made, demand=None, resistance=None)


def _ties(on: PieceActions) -> Check:
    """What ties between loose pieces would have to carry; they are not credited."""
    name = on.model.name
    across = np.abs(np.cumsum(on.force.reshape(len(on.states), -1), axis=1)).ravel()
    origin = Numerical(
        f"forces of mount {name} on the pieces up to each joint, added up", YIELDING,
        "equilibrium of the pieces", on.mount.solved_from(), None, None, on.labels,
    )  # fmt: skip
    V = INTERFACE(P_sum=Value(across, "force", origin, "P_sum"))
    why = NotChecked(Lack.BASIS, "ties are not credited: the pieces are taken as loose, and this is what would cross between two")
    return not_checked(
        About("blocking", "ties", mount=name),
        f"ties between the loose pieces under mount {name}",
        why,
        Standing.INFORMATION,
        V,
        governing(V.x),
    )
