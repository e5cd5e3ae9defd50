"""Blocking across the glass line: every piece takes a share of the moment in bending, and a couple at its ends.

The pieces run from a joist on the people side to one on the drop side; ``left`` in the job is the end on the people side,
``right`` the one on the drop side, and ``in_bay`` is measured from the end on the people side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.end_fixings import end_resistance, nothing_held
from barrier.links.blocking.piece_forces import forces_on_pieces
from barrier.links.mount.base_plate import YIELDING, Corner, MountForces
from barrier.links.walk import Walk
from barrier.result import Check, compare
from barrier.value import Numerical, Value

PEOPLE_END = Equation(
    Symbol("R_1", "force"),
    "(P*(L_b - a) - m)/L_b",
    symbols("P:force, L_b:length, a:length, m:moment"),
    "statics: force and moment on a piece held at its ends, down positive",
    "computed",
    title="reaction at the people-side end of the piece, pressing down if positive",
)
DROP_END = Equation(
    Symbol("R_2", "force"),
    "(P*a + m)/L_b",
    symbols("P:force, a:length, m:moment, L_b:length"),
    "statics: force and moment on a piece held at its ends, down positive",
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
    """Bending, shear and end fixings of the pieces of one mount."""
    solutions = handed.at_design
    pieces = forces_on_pieces(handed, solutions)
    forces = pieces.forces
    case = handed.worst_case.title
    labels = [f"{case}; {p.name}, {label}" for label in pieces.labels for p in handed.model.pieces]
    model = handed.model
    block = model.blocking
    assert block is not None
    name, combination = model.name, handed.combination
    timber = walk.timber(block.material, block.laminated == "factory")

    def numerical(what: str, x: NDArray[np.float64], kind: str, symbol: str) -> Value:
        origin = Numerical(
            f"{what} of mount {name} on each piece", YIELDING,
            "equilibrium of each piece", handed.solved_from(), max(s.contact.residual for s in solutions), None, tuple(labels),
        )  # fmt: skip
        return Value(x.ravel(), kind, origin, symbol)

    P = numerical("force", forces, "force", "P")
    m = numerical("moment", moments(handed, solutions), "moment", "m")
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    sizes = {"b_pc": model.piece_breadth.named("b_pc"), "h_pc": block.laid_depth.named("h_pc")}
    R_1, R_2 = PEOPLE_END(P=P, L_b=L_b, a=a, m=m), DROP_END(P=P, a=a, m=m, L_b=L_b)
    yield compare(
        f"blocking.bending.{name}", f"bending of the blocking under mount {name}",
        BENDING(R_1=R_1, a=a, R_2=R_2, L_b=L_b, **sizes), walk.basis.bending(timber, combination), labels,
    )  # fmt: skip
    yield compare(
        f"blocking.shear.{name}", f"shear of the blocking under mount {name}",
        SHEAR(R_1=R_1, R_2=R_2, **sizes), walk.basis.shear(timber, combination), labels,
    )  # fmt: skip
    for side, words, reaction, fixing in (("left", "people-side", R_1, block.left), ("right", "drop-side", R_2, block.right)):
        x = np.asarray(reaction.x)
        for way, held, index in (("uplift", "down", np.flatnonzero(x < 0.0)), ("down", "up", np.flatnonzero(x > 0.0))):
            if not len(index):
                continue
            yield compare(
                f"blocking.end.{side}.{way}.{name}", f"{words} end of the blocking held {held}, mount {name}",
                SIZE(R=reaction.take(index).named("R")), end_resistance(walk, fixing, way, combination, timber),
                [labels[int(i)] for i in index], no_resistance=nothing_held(fixing, way),
            )  # fmt: skip
