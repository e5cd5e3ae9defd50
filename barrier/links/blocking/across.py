"""Blocking across the glass line: every piece takes a share of the moment in bending, and a couple at its ends.

The pieces run from a joist on the people side to one on the drop side; ``left`` in the job is the end on the people side,
``right`` the one on the drop side, and ``in_bay`` is measured from the end on the people side. The push runs along the pieces:
the end it goes to bears against the side of its joist, and its lever is one more moment in the same plane.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.ends import LEFT_TORQUE, RIGHT_TORQUE, AtEnd, Held, end_checks
from barrier.links.blocking.one_section import END_TORQUE, torsion_stress
from barrier.links.blocking.piece_actions import PRESSES, push_lever, screw_share, screws_by_piece
from barrier.links.blocking.piece_forces import forces_on_pieces
from barrier.links.mount.base_plate import YIELDING, Corner, MountForces
from barrier.links.walk import Walk
from barrier.result import About, Check, compare, governing
from barrier.value import Numerical, Value

PEOPLE_END = Equation(
    Symbol("R_1", "force"),
    "(P*(L_b - a) - m - M_lev*r_T)/L_b",
    symbols("P:force, L_b:length, a:length, m:moment, M_lev:moment, r_T:ratio"),
    "statics: force, moment and the lever of the push on a piece held at its ends, down positive",
    "computed",
    title="reaction at the people-side end of the piece, pressing down if positive",
)
DROP_END = Equation(
    Symbol("R_2", "force"),
    "(P*a + m + M_lev*r_T)/L_b",
    symbols("P:force, a:length, m:moment, M_lev:moment, r_T:ratio, L_b:length"),
    "statics: force, moment and the lever of the push on a piece held at its ends, down positive",
    "computed",
    title="reaction at the drop-side end of the piece, pressing down if positive",
)
BENDING = Equation(
    Symbol("sigma_m", "stress"),
    "6*max(abs(R_1)*a, abs(R_2)*(L_b - a))/(b_pc*h_pc**2)",
    symbols("R_1:force, a:length, R_2:force, L_b:length, b_pc:length, h_pc:length"),
    "bending of a rectangle, either side of the mount",
    "computed",
    title="bending stress in the piece",
)
SHEAR = Equation(
    Symbol("tau", "stress"),
    "1.5*max(abs(R_1), abs(R_2))/(b_pc*h_pc)",
    symbols("R_1:force, R_2:force, b_pc:length, h_pc:length"),
    "shear of a rectangle",
    "computed",
    title="shear stress in the piece, gross section",
)
SIZE = Equation(
    Symbol("R_end", "force"), "abs(R)", symbols("R:force"), "statics", "computed", title="force at the end of the piece"
)  # fmt: skip
TWISTED = Equation(
    Symbol("V_side", "force"),
    "M_z_Ed*r_n/L_b",
    symbols("M_z_Ed:moment, r_n:ratio, L_b:length"),
    "statics: the twist of the mount on a piece held at its ends, shared by its screws",
    "computed",
    title="sideways force at either end of the piece",
)
THRUST = Equation(
    Symbol("sigma_c", "stress"),
    "abs(F_Ed)*r_n/(b_pc*h_pc)",
    symbols("F_Ed:force, r_n:ratio, b_pc:length, h_pc:length"),
    "statics: the push of the mount, shared by its screws, on the end of the piece",
    "computed",
    title="bearing of the end of the piece on the side of its joist",
)


def moments(handed: MountForces, solutions: Sequence[Corner]) -> NDArray[np.float64]:
    """Moment on each piece about the axis along the glass through the mount, N mm: turning the drop side down is positive."""
    model = handed.model
    found = []
    for corner in solutions:
        row = [corner.contact.zone_first.get(p.name, (0.0, 0.0))[1] for p in model.pieces]
        for s, T in zip(model.screws, corner.contact.T, strict=True):
            if s.piece is not None:
                row[s.piece] -= float(T) * float(s.y.x)
        found.append(row)
    return np.array(found, dtype=float)


def across(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """Bending, shear, torsion and end fixings of the pieces of one mount."""
    model, combination = handed.model, handed.combination
    block, name = model.blocking, model.name
    assert block is not None
    timber = walk.timber(block.material, block.laminated == "factory", block.long_side)
    on = AcrossActions(walk, handed)
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    b_pc, h_pc = model.piece_breadth.named("b_pc"), block.laid_depth.named("h_pc")
    yield compare(
        About("blocking", "bending", mount=name), f"bending of the blocking under mount {name}",
        BENDING(R_1=on.R_1, a=a, R_2=on.R_2, L_b=L_b, b_pc=b_pc, h_pc=h_pc), walk.basis.bending(timber, combination), on.labels,
    )  # fmt: skip
    yield compare(
        About("blocking", "shear", mount=name), f"shear of the blocking under mount {name}",
        SHEAR(R_1=on.R_1, R_2=on.R_2, b_pc=b_pc, h_pc=h_pc), walk.basis.shear(timber, combination), on.labels,
    )  # fmt: skip
    long_side, short_side = (h_pc, b_pc) if float(h_pc.x) >= float(b_pc.x) else (b_pc, h_pc)
    yield compare(
        About("blocking", "torsion", mount=name), f"torsion of a piece under mount {name}",
        torsion_stress(END_TORQUE(T_Ed=on.T_Ed, a=a, L_b=L_b), long_side, short_side),
        walk.basis.torsion(timber, long_side, short_side, combination), on.labels,
    )  # fmt: skip
    chosen, side_labels = handed.counted, handed.counted_labels
    r = screw_share(model, [governing(screws_by_piece(model))])
    r_n = Value(r.at(0), "ratio", r.origin, "r_n")
    yield compare(
        About("blocking", "end", detail="thrust", mount=name), f"end of the blocking pressed against its joist, mount {name}",
        THRUST(F_Ed=handed.F_Ed.take(chosen), r_n=r_n, b_pc=b_pc, h_pc=h_pc),
        walk.basis.bearing(walk.timber(walk.job.joists.material), combination), side_labels, cases=handed.counted_cases,
    )  # fmt: skip
    H = TWISTED(M_z_Ed=handed.M_z.take(chosen).named("M_z_Ed"), r_n=r_n, L_b=L_b)
    for side, words, R, fixing, turning in (
        ("left", "people-side", on.R_1, block.left, LEFT_TORQUE), ("right", "drop-side", on.R_2, block.right, RIGHT_TORQUE)
    ):  # fmt: skip
        held = Held("blocking", "the blocking", name, side, words, fixing, timber, combination)
        V, T = SIZE(R=R.named("R")), turning(T_Ed=on.T_Ed, a=a, L_b=L_b)
        yield from end_checks(walk, held, AtEnd(V, np.asarray(R.x), T, H, on.labels, side_labels, handed.counted_cases))


class AcrossActions:
    """Reactions at both ends and torque of every piece across the glass, over solutions and pieces."""

    def __init__(self, walk: Walk, handed: MountForces) -> None:
        solutions, model = handed.with_weight, handed.model
        block = model.blocking
        assert block is not None
        pieces = forces_on_pieces(handed, solutions)
        case = handed.worst_case.title
        self.labels = [f"{case}; {p.name}, {label}" for label in pieces.labels for p in model.pieces]
        self.sign = np.repeat([PRESSES[c.sign] for c in solutions], len(model.pieces))

        def numerical(what: str, x: NDArray[np.float64], kind: str, symbol: str) -> Value:
            origin = Numerical(
                f"{what} of mount {model.name} on each piece", YIELDING, "equilibrium of each piece", handed.solved_from(),
                max(s.contact.residual for s in solutions), None, tuple(self.labels),
            )  # fmt: skip
            return Value(x.ravel(), kind, origin, symbol)

        holding = np.array(screws_by_piece(model), dtype=float)
        share = Numerical(
            f"share of the piece in the push of mount {model.name}, by its screws, + outward", "read off the geometry", "statics",
            labels=tuple(self.labels),
        )  # fmt: skip
        self.r_T = Value(self.sign * np.tile(holding / holding.sum(), len(solutions)), "ratio", share, "r_T")
        self.M_lev = push_lever(walk, handed, block.laid_depth)
        a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
        P, m = numerical("force", pieces.forces, "force", "P"), numerical("moment", moments(handed, solutions), "moment", "m")
        self.R_1 = PEOPLE_END(P=P, L_b=L_b, a=a, m=m, M_lev=self.M_lev, r_T=self.r_T)
        self.R_2 = DROP_END(P=P, a=a, m=m, M_lev=self.M_lev, r_T=self.r_T, L_b=L_b)
        self.turning = pieces.own_moments
        self.T_Ed = numerical("torque about the piece's own line", np.abs(pieces.own_moments), "moment", "T_Ed")
