"""What comes on every loose piece under a mount: a force up or down, a torque about its own axis, and a share of the push.

The contact of base plate and timber gives each piece what bears on it less what its screws pull at, and the moment of both
about the piece's own centre line. The push of the mount acts above: at the underside of the base plate, the boards and half
the depth of the pieces over the line their ends are held at. Its lever has to be held as well, and by what is a question of
two stiffnesses nobody knows, so both ends of it are walked as stations: as a couple, pieces on one side pressed and on the
other lifted, or as a torque on each piece that has screws. In either the pieces are in equilibrium with the mount.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.piece_forces import PieceForces
from barrier.links.given import counted
from barrier.links.ground.geometry import MountModel
from barrier.links.mount import by_hand
from barrier.links.mount.mount_forces import YIELDING, MountForces
from barrier.links.walk import Walk
from barrier.value import Numerical, Value, gather

LEVERS = ("lever of the push as a couple", "lever of the push as turning")
PRESSES = {"outward": 1.0, "inward": -1.0}  # whether a positive y is pressed or lifted
PUSH_LEVER = Equation(
    Symbol("M_lev", "moment"),
    "abs(F_Ed)*(t_p + t_d + g_d + h_pc/2)",
    symbols("F_Ed:force, t_p:length, t_d:length, g_d:length, h_pc:length"),
    "statics: the push acts at the underside of the base plate, the pieces are held at the middle of their depth",
    "computed",
    title="lever of the push about the line the pieces are held at",
)
ON_PIECE = Equation(
    Symbol("P", "force"),
    "abs(C_pc - T_pc + M_lev*c_y)",
    symbols("C_pc:force, T_pc:force, M_lev:moment, c_y:per length"),
    "equilibrium of the piece: what bears on it less what its screws pull at it with, and the lever of the push as a couple",
    "computed",
    title="force of the mount on one piece",
)
OWN_TORQUE = Equation(
    Symbol("T_own", "moment"),
    "abs(m_pc + M_lev*r_T)",
    symbols("m_pc:moment, M_lev:moment, r_T:ratio"),
    "equilibrium of the piece about its own axis: what acts off its centre line, and the lever of the push as turning",
    "computed",
    title="torque on one piece",
)


@dataclass(frozen=True, slots=True, eq=False)
class PieceActions:
    """Force and torque on every piece by station (lever of the push x solution x piece), as values and with their sign.

    ``force`` is down positive, ``torque`` positive where it presses the drop side; ``piece`` is the number of the piece of
    every station, ``sign`` 1 outward and -1 inward, ``states`` name lever and solution.
    """

    mount: MountForces
    labels: tuple[str, ...]
    states: tuple[str, ...]
    P: Value
    T_own: Value
    force: NDArray[np.float64]
    torque: NDArray[np.float64]
    piece: NDArray[np.intp]
    sign: NDArray[np.float64]

    @property
    def model(self) -> MountModel:
        """The mount as it stands."""
        return self.mount.model


def push_lever(walk: Walk, handed: MountForces, depth: Value) -> Value:
    """Moment of the push about the middle of pieces of this ``depth``, at the station of the largest moment [N mm]."""
    decking = walk.job.decking
    assert decking.gap_under is not None
    F = handed.F_Ed.take(np.array([handed.worst]))
    return PUSH_LEVER(
        F_Ed=Value(F.at(0), "force", F.origin, "F_Ed"), t_p=handed.model.packing.named("t_p"),
        t_d=decking.thickness.named("t_d"), g_d=decking.gap_under.named("g_d"), h_pc=depth.named("h_pc"),
    )  # fmt: skip


def screws_by_piece(model: MountModel) -> list[int]:
    """How many screws hold in each piece; where none does anywhere, the pieces count alike."""
    holding = [sum(1 for s in model.screws if s.piece == i) for i in range(len(model.pieces))]
    return holding if any(holding) else [1] * len(holding)


def screw_share(model: MountModel, index: Sequence[int] | NDArray[np.intp]) -> Value:
    """Share of a push that pieces get by their screws, over stations; ``index`` is the piece of each."""
    holding, path = screws_by_piece(model), f"mounts.{model.name}"
    n_s = counted(path, sum(holding), "screws in timber").named("n_s")
    in_each = [counted(path, n, f"screws in {p.name}") for n, p in zip(holding, model.pieces, strict=True)]
    return gather([SHARE(n_pc=n.named("n_pc"), n_s=n_s) for n in in_each], index)


SHARE = Equation(
    Symbol("r_n", "ratio"), "n_pc/n_s", symbols("n_pc:count, n_s:count"), "the push is shared by the screws", "computed",
    title="share of a piece in the push",
)  # fmt: skip


def actions_on_pieces(walk: Walk, pieces: PieceForces) -> PieceActions:
    """Force and torque on the loose pieces of a mount, in every solution and with the lever of the push either way."""
    handed, model = pieces.mount, pieces.mount.model
    assert model.blocking is not None
    n, case = len(model.pieces), handed.worst_case.title
    states = tuple(f"{label}, {lever}" for lever in LEVERS for label in pieces.labels)
    labels = tuple(f"{case}; {p.name}, {state}" for state in states for p in model.pieces)
    signs = np.array([PRESSES[c.sign] for c in handed.with_weight])
    twice = len(LEVERS)
    sign = np.tile(np.repeat(signs, n), twice)
    couple = np.repeat(np.array([1.0, 0.0]), len(signs) * n)
    holding = np.array(screws_by_piece(model), dtype=float)

    def numerical(what: str, x: NDArray[np.float64], kind: str, symbol: str, hand: Value | None = None) -> Value:
        origin = Numerical(
            f"{what} of mount {model.name}", YIELDING,
            "contact model of this project", handed.solved_from(), max(s.contact.residual for s in handed.with_weight), hand,
            labels,
        )  # fmt: skip
        return Value(x, kind, origin, symbol)

    def statics(what: str, x: NDArray[np.float64], kind: str, symbol: str) -> Value:
        return Value(x, kind, Numerical(f"{what}, mount {model.name}", "read off the geometry", "statics", labels=labels), symbol)

    M_lev = push_lever(walk, handed, model.blocking.laid_depth)
    c_y = statics(
        "piece from the middle of the pieces over the sum of squares of all, + where the push presses; nought where its lever "
        "turns the pieces instead", couple * sign * np.tile(spread(model), len(states)), "per length", "c_y",
    )  # fmt: skip
    r_T = statics(
        "share of the piece in the lever of the push, by its screws, + where the push turns it outward; nought where the lever "
        "is a couple instead", (1.0 - couple) * sign * np.tile(holding / holding.sum(), len(states)), "ratio", "r_T",
    )  # fmt: skip
    C, T, m = (np.tile(x.ravel(), twice) for x in (pieces.bearing, pieces.tension, pieces.own_moments))
    P = ON_PIECE(
        C_pc=numerical("bearing on the piece, out of the bed,", C, "force", "C_pc"),
        T_pc=numerical("tension in the piece, of all its screws,", T, "force", "T_pc", _pull_by_hand(handed, T)),
        M_lev=M_lev, c_y=c_y,
    )  # fmt: skip
    T_own = OWN_TORQUE(
        m_pc=numerical("moment of what acts on the piece about its centre line,", m, "moment", "m_pc"), M_lev=M_lev, r_T=r_T
    )
    lever = float(M_lev.x)
    return PieceActions(
        handed, labels, states, P, T_own, C - T + lever * np.asarray(c_y.x), m + lever * np.asarray(r_T.x),
        np.tile(np.arange(n), len(states)), sign,
    )  # fmt: skip


def spread(model: MountModel) -> NDArray[np.float64]:
    """Share of each piece in a couple, per length: its distance from the middle of the pieces over the sum of squares."""
    centres = np.array([p.centre for p in model.pieces])
    from_middle = centres - centres.mean()
    found: NDArray[np.float64] = from_middle / float((from_middle**2).sum())
    return found


def _pull_by_hand(handed: MountForces, tension: NDArray[np.float64]) -> Value | None:
    """The tension row by hand, where a piece holds one and is pulled; nothing where rows share a piece."""
    row = by_hand.row_tension(handed)
    if row is None:
        return None
    return gather([by_hand.no_pull(), row], (tension > 0.0).astype(int))
