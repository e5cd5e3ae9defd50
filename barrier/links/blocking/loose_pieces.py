"""Loose pieces of blocking along the glass: each bends and shears between the joists and hangs on its own end fixings.

Loose pieces carry vertical forces and hardly any torque: from the contact solution each piece gets its bearing less the
tension of its own screws. The push of the mount bends those sideways that its screws reach.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.end_fixings import SIDEWAYS, end_resistance, nothing_held
from barrier.links.blocking.piece_forces import PieceForces
from barrier.links.given import counted
from barrier.links.mount import by_hand
from barrier.links.mount.base_plate import YIELDING
from barrier.links.walk import Walk
from barrier.result import Check, Lack, NotChecked, Standing, compare, governing, not_checked, utilisation
from barrier.value import Numerical, Value, gather

ON_PIECE = Equation(
    Symbol("P", "force"),
    "abs(C_pc - T_pc)",
    symbols("C_pc:force, T_pc:force"),
    "equilibrium of the piece: what bears on it less what its screws pull at it with",
    "computed",
    title="force of the mount on one piece",
)
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
    "6*abs(F_Ed)*n_pc/n_s*a*(L_b - a)/L_b/(h_pc*b_pc**2)",
    symbols("F_Ed:force, n_pc:count, n_s:count, a:length, L_b:length, h_pc:length, b_pc:length"),
    "bending of a rectangle by the push of the mount, sideways, shared by its screws",
    "computed",
    title="sideways bending stress in the piece",
)
SIDE_FORCE = Equation(
    Symbol("V_side", "force"),
    "abs(F_Ed)*n_pc/n_s*max(a, L_b - a)/L_b",
    symbols("F_Ed:force, n_pc:count, n_s:count, a:length, L_b:length"),
    "statics: the push of the mount, shared by its screws; the nearer end takes more",
    "computed",
    title="sideways force at the more loaded end of the piece",
)
INTERFACE = Equation(
    Symbol("V_tie", "force"),
    "abs(P_sum)",
    symbols("P_sum:force"),
    "statics: what must cross between two pieces for them to share",
    "computed",
    title="force between two tied pieces",
)

DRIVEN = ("bracket", "nails", "screws")  # end fixings that pull at the wood of the piece


def loose_pieces(walk: Walk, pieces: PieceForces) -> Iterator[Check]:
    """Bending, shear, splitting, sideways bending and end fixings of the loose pieces under one mount."""
    handed = pieces.mount
    model = handed.model
    block = model.blocking
    assert block is not None
    name = model.name
    case = handed.worst_case.title
    labels = [f"{case}; {p.name}, {label}" for label in pieces.labels for p in model.pieces]
    timber = walk.timber(block.material)
    combination = handed.combination
    P_signed = pieces.forces.ravel()

    def from_contact(what: str, x: np.ndarray, symbol: str, hand: Value | None = None) -> Value:
        origin = Numerical(
            f"{what} of mount {name}", YIELDING,
            "contact model of this project", handed.solved_from(), max(s.contact.residual for s in handed.at_design), hand,
            tuple(labels),
        )  # fmt: skip
        return Value(x.ravel(), "force", origin, symbol)

    P = ON_PIECE(
        C_pc=from_contact("bearing on the piece, out of the bed", pieces.bearing, "C_pc"),
        T_pc=from_contact("tension in the piece, of all its screws", pieces.tension, "T_pc", _pull_by_hand(pieces)),
    )
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    b_pc, h_pc = block.laid_breadth.named("b_pc"), block.laid_depth.named("h_pc")
    bending = BENDING_STRESS(M_pc=BENDING_MOMENT(P=P, a=a, L_b=L_b), b_pc=b_pc, h_pc=h_pc)
    upright = compare(
        f"blocking.bending.{name}",
        f"bending of the blocking under mount {name}",
        bending,
        walk.basis.bending(timber, combination),
        labels,
    )
    yield upright
    yield _both_ways(walk, pieces, upright, labels)
    yield _pushed_ends(pieces, labels)
    ends = END_FORCE(P=P, a=a, L_b=L_b)
    tau = SHEAR_STRESS(V_end=ends, b_pc=b_pc, h_pc=h_pc)
    yield compare(
        f"blocking.shear.{name}",
        f"shear of the blocking under mount {name}",
        tau,
        walk.basis.shear(timber, combination),
        labels,
    )
    yield from _splitting(walk, pieces, ends, P_signed, labels)
    yield _own_torque(pieces, labels)
    by_side = {"left": LEFT_END(P=P, a=a, L_b=L_b), "right": RIGHT_END(P=P, a=a, L_b=L_b)}
    yield from _ends(walk, pieces, by_side, P_signed, labels)
    if block.ties is not None:
        yield _ties(pieces, P_signed, labels)


def _pull_by_hand(pieces: PieceForces) -> Value | None:
    """The tension row by hand, where a piece holds one and is pulled; nothing where rows share a piece."""
    row = by_hand.row_tension(pieces.mount)
    if row is None:
        return None
    return gather([by_hand.no_pull(), row], (pieces.tension.ravel() > 0.0).astype(int))


def _own_torque(pieces: PieceForces, labels: list[str]) -> Check:
    """What a loose piece has about its own centre line: shown, and not checked."""
    name = pieces.mount.model.name
    origin = Numerical(
        f"moment of what acts on each piece under mount {name} about the piece's own centre line",
        YIELDING, "equilibrium of each piece",
        pieces.mount.solved_from(), None, None, tuple(labels),
    )  # fmt: skip
    T = Value(np.abs(pieces.own_moments).ravel(), "moment", origin, "T_own")
    why = NotChecked(
        Lack.BASIS, "loose pieces are taken to carry hardly any torque; a piece that turns shifts its bearing towards its middle"
    )
    id, title = f"blocking.turning.{name}", f"turning of the loose pieces under mount {name}"
    return not_checked(id, title, why, Standing.INFORMATION, T, governing(T.x))


def _splitting(walk: Walk, pieces: PieceForces, ends: Value, signed: np.ndarray, labels: list[str]) -> Iterator[Check]:
    """Splitting of the pieces that are pulled up by the screws in them."""
    model = pieces.mount.model
    block = model.blocking
    pulled = np.flatnonzero(signed < 0.0)
    L = model.mount.screw.length
    if block is None or model.z_blocking is None or L is None or not len(pulled):
        return
    id, title = f"blocking.splitting.{model.name}", f"splitting of the blocking pulled up by mount {model.name}"
    h_e = REACH(L=L.named("L"), z_b=model.z_blocking)
    demand = ends.take(pulled)
    if float(h_e.x) >= float(block.laid_depth.x):
        why = NotChecked(Lack.RANGE, "the screws go right through the piece: h_e < h_pc (EN 1995-1-1 8.1.4)")
        yield not_checked(id, title, why, Standing.INFORMATION, demand, governing(demand.x))
        return
    timber = walk.timber(block.material)
    R = walk.basis.splitting(
        timber, block.laid_breadth.named("b_pc"), block.laid_depth.named("h_pc"), h_e, pieces.mount.combination
    )
    yield compare(id, title, demand, R, [labels[i] for i in pulled])


REACH = Equation(
    Symbol("h_e", "length"),
    "L - z_b",
    symbols("L:length, z_b:length"),
    "geometry: depth the screws reach into the blocking",
    "computed",
    title="depth the screws reach",
)


def _ends(walk: Walk, pieces: PieceForces, ends: dict[str, Value], signed: np.ndarray, labels: list[str]) -> Iterator[Check]:
    model = pieces.mount.model
    block = model.blocking
    assert block is not None
    combination = pieces.mount.combination
    for side, fixing in (("left", block.left), ("right", block.right)):
        for way, words, chosen in (("uplift", "held down", signed < 0.0), ("down", "held up", signed > 0.0)):
            index = np.flatnonzero(chosen)
            if not len(index):
                continue
            id = f"blocking.end.{side}.{way}.{model.name}"
            title = f"{side} end of the blocking {words}, mount {model.name}"
            demand = ends[side].take(index)
            resistance = end_resistance(walk, fixing, way, combination, walk.timber(block.material))
            yield compare(
                id,
                title,
                demand,
                resistance,
                [labels[i] for i in index],
                no_resistance=nothing_held(fixing, way),
            )
    if any(f is not None and f.fixing in DRIVEN for f in (block.left, block.right)) and (signed < 0.0).any():
        text = "how deep in the piece its end fixings stand is not in the job; pulled up near its lower edge a piece may split"
        id, title = f"blocking.end.splitting.{model.name}", f"splitting of the blocking at its end fixings, mount {model.name}"
        yield not_checked(id, title, NotChecked(Lack.INPUT, text), Standing.INFORMATION)


def _both_ways(walk: Walk, pieces: PieceForces, upright: Check, labels: list[str]) -> Check:
    """The push of the mount bends sideways the pieces its screws reach, with what bends them up and down."""
    handed = pieces.mount
    model, block, name = handed.model, handed.model.blocking, handed.model.name
    assert block is not None
    id, title = f"blocking.both_ways.{name}", f"bending of the blocking both ways at once, mount {name}"
    if upright.utilisation is None:
        return not_checked(id, title, NotChecked(Lack.INPUT, "bending up and down has no utilisation of its own"))
    if not any(s.piece is not None for s in model.screws):
        return not_checked(id, title, NotChecked(Lack.INPUT, "no screw of the mount reaches timber"))
    stress = SIDE_STRESS(
        **_push(pieces, labels), a=model.mount.in_bay.named("a"), L_b=block.length.named("L_b"),
        h_pc=block.laid_depth.named("h_pc"), b_pc=block.laid_breadth.named("b_pc"),
    )  # fmt: skip
    strength = walk.basis.bending(walk.timber(block.material), handed.combination)
    if isinstance(strength, NotChecked):
        return not_checked(id, title, strength, demand=stress)
    eta = walk.basis.bent_both_ways(upright.utilisation.named("eta_y"), utilisation(stress, strength).named("eta_z"))
    if isinstance(eta, NotChecked):
        return not_checked(id, title, eta, demand=stress)
    made = compare(id, title, stress, strength, labels, eta=eta)
    return replace(made, demand=None, resistance=None)


def _push(pieces: PieceForces, labels: list[str]) -> dict[str, Value]:
    """The push of the mount, and the screws it is shared by: in each piece, and in all."""
    model, path = pieces.mount.model, f"mounts.{pieces.mount.model.name}"
    holding = [sum(1 for s in model.screws if s.piece == i) for i in range(len(model.pieces))]
    n_pc = gather(
        [counted(path, n, f"screws in {p.name}") for n, p in zip(holding, model.pieces, strict=True)],
        list(range(len(holding))) * len(pieces.labels),
    )
    return {
        "F_Ed": pieces.mount.F_Ed.take(np.full(len(labels), pieces.mount.worst)), "n_pc": n_pc.named("n_pc"),
        "n_s": counted(path, sum(holding), "screws in timber").named("n_s"),
    }  # fmt: skip


def _pushed_ends(pieces: PieceForces, labels: list[str]) -> Check:
    """What the ends of the pieces get of the mount's push: shown, and not checked."""
    model = pieces.mount.model
    block = model.blocking
    assert block is not None
    id, title = f"blocking.end.sideways.{model.name}", f"ends of the blocking pushed sideways, mount {model.name}"
    why = NotChecked(Lack.INPUT, SIDEWAYS)
    if not any(s.piece is not None for s in model.screws):
        return not_checked(id, title, why, Standing.INFORMATION)
    V = SIDE_FORCE(**_push(pieces, labels), a=model.mount.in_bay.named("a"), L_b=block.length.named("L_b"))
    return not_checked(id, title, why, Standing.INFORMATION, V, governing(V.x))


def _ties(pieces: PieceForces, signed: np.ndarray, labels: list[str]) -> Check:
    """What ties between loose pieces would have to carry; they are not credited."""
    name = pieces.mount.model.name
    across = np.abs(np.cumsum(pieces.forces, axis=1)).ravel()
    origin = Numerical(
        f"forces of mount {name} on the pieces up to each joint, added up", YIELDING,
        "equilibrium of the pieces", pieces.mount.solved_from(), None, None, tuple(labels),
    )  # fmt: skip
    V = INTERFACE(P_sum=Value(across, "force", origin, "P_sum"))
    why = NotChecked(Lack.BASIS, "ties are not credited: the pieces are taken as loose, and this is what would cross between two")
    return not_checked(
        f"blocking.ties.{name}", f"ties between the loose pieces under mount {name}", why, Standing.INFORMATION, V, governing(V.x)
    )
