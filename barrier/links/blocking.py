"""Link 7, blocking: pieces between the joists, and the fixings of their ends.

Loose pieces carry vertical forces and hardly any torque: from the contact solution each piece gets its bearing less the
tension of its own screws, bends and shears between the joists, and is held down or up by its own end fixings. A lone or
factory-laminated piece carries the torque of the mount as one section (:mod:`barrier.links.one_section`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.across import across
from barrier.links.base_plate import MountForces
from barrier.links.base_stiffness import piece_forces
from barrier.links.end_fixings import end_resistance, nothing_held
from barrier.links.one_section import one_section
from barrier.links.walk import Walk
from barrier.result import Check, Finding, Lack, LinkResult, NotChecked, Standing, compare, fails, governing, not_checked
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


@dataclass(frozen=True, slots=True, eq=False)
class PieceForces:
    """Forces of one mount on its pieces at its largest moment: (solutions x pieces), down positive, and the push."""

    mount: MountForces
    labels: tuple[str, ...]
    forces: np.ndarray
    own_moments: np.ndarray


def blocking(walk: Walk, before: list[LinkResult]) -> LinkResult:
    """Check the pieces under every mount and their end fixings; hand the piece forces on as the force table."""
    checks: list[Check] = []
    handed_on: list[PieceForces] = []
    mounts: tuple[MountForces, ...] = next(r for r in before if r.id == "bearing").handed_on
    for model in walk.mounts:
        if model.lacking is not None:
            checks.append(not_checked(f"blocking.whole.{model.name}", f"blocking under mount {model.name}", model.lacking))
    for handed in mounts:
        name = handed.model.name
        if handed.model.blocking is None:
            checks.extend(_boards_only(name))
            continue
        solutions = [s for s in handed.at_design if s.contact.equilibrium]
        if len(solutions) < len(handed.at_design):
            checks.append(
                fails(
                    f"blocking.whole.{name}",
                    f"blocking under mount {name}",
                    "no equilibrium above it",
                    handed.label,
                    demand=handed.M_worst,
                )
            )
            continue
        labels = tuple(f"{sign}, {bed} bed, {end} screws" for sign, bed, end, _ in solutions)
        pieces = PieceForces(
            handed,
            labels,
            np.array([piece_forces(handed.model, s.contact) for s in solutions]),
            np.array([own_moments(handed, s.contact) for s in solutions]),
        )
        handed_on.append(pieces)
        checks.extend(_checks(walk, pieces))
    return LinkResult("blocking", "Blocking and its end fixings", tuple(checks), tuple(handed_on), (), tuple(_findings(handed_on)))


def _boards_only(name: str) -> Iterator[Check]:
    for key, words, why in (
        ("board", "board under mount", "the board twists and bends between the joists"),
        (
            "board_screws",
            "screws of the board under mount",
            "the board's own screws are pulled out of the joists, or its wood over their heads",
        ),
    ):
        yield not_checked(f"blocking.{key}.{name}", f"{words} {name}", NotChecked(Lack.BASIS, f"there is no blocking: {why}"))


def own_moments(handed: MountForces, solution: object) -> np.ndarray:
    """Moment of what acts on each piece about the piece's own centre line, N mm."""
    model = handed.model
    axis = 1 if model.blocking is not None and model.blocking.direction == "along" else 0
    found = []
    for i, piece in enumerate(model.pieces):
        force, moment = 0.0, 0.0
        if piece.name in solution.zone_force:  # type: ignore[attr-defined]
            force = solution.zone_force[piece.name]  # type: ignore[attr-defined]
            moment = solution.zone_first[piece.name][axis] - force * piece.centre  # type: ignore[attr-defined]
        for s, T in zip(model.screws, solution.T, strict=True):  # type: ignore[attr-defined]
            if s.piece == i:
                moment -= T * (float((s.x, s.y)[axis].x) - piece.centre)
        found.append(moment)
    return np.array(found)


def _findings(handed: Sequence[PieceForces]) -> Iterator[Finding]:
    if handed:
        yield Finding(
            "Blocking end fixings often govern: the couple under the mount becomes one piece pulled up and another pushed "
            "down, and each has only its own end fixings to hold it."
        )


def _checks(walk: Walk, pieces: PieceForces) -> Iterator[Check]:
    handed = pieces.mount
    model = handed.model
    block = model.blocking
    assert block is not None
    name = model.name
    case = handed.label.split(";")[0]
    labels = [f"{case}; {p.name}, {label}" for label in pieces.labels for p in model.pieces]
    if block.direction != "along":
        yield from across(walk, handed, handed.at_design, pieces.forces, labels)
        return
    if len(model.pieces) == 1:
        yield from one_section(walk, handed)
        return
    timber = walk.timber(block.material)
    combination = walk.strength("barrier")
    P_signed = pieces.forces.ravel()
    origin = Numerical(
        f"force of mount {name} on each piece: bearing less the tension of the screws in it",
        "contact model with yielding bed at the largest moment that decides", "equilibrium of each piece",
        model.stiffnesses, max(s.contact.residual for s in handed.at_design), None, tuple(labels),
    )  # fmt: skip
    P = Value(np.abs(P_signed), "force", origin, "P")
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    b_pc, h_pc = block.laid_breadth.named("b_pc"), block.laid_depth.named("h_pc")
    bending = BENDING_STRESS(M_pc=BENDING_MOMENT(P=P, a=a, L_b=L_b), b_pc=b_pc, h_pc=h_pc)
    yield compare(
        f"blocking.bending.{name}",
        f"bending of the blocking under mount {name}",
        bending,
        walk.basis.bending(timber, combination),
        labels,
    )
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


def _own_torque(pieces: PieceForces, labels: list[str]) -> Check:
    """What a loose piece has about its own centre line: shown, and not checked."""
    name = pieces.mount.model.name
    origin = Numerical(
        f"moment of what acts on each piece under mount {name} about the piece's own centre line",
        "contact model with yielding bed at the largest moment that decides", "equilibrium of each piece",
        pieces.mount.model.stiffnesses, None, None, tuple(labels),
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
    if block is None or model.z_blocking is None or not len(pulled):
        return
    id, title = f"blocking.splitting.{model.name}", f"splitting of the blocking pulled up by mount {model.name}"
    h_e = REACH(L=model.mount.screw.length.named("L"), z_b=model.z_blocking)
    demand = ends.take(pulled)
    if float(h_e.x) >= float(block.laid_depth.x):
        why = NotChecked(Lack.RANGE, "the screws go right through the piece: h_e < h_pc (EN 1995-1-1 8.1.4)")
        yield not_checked(id, title, why, Standing.INFORMATION, demand, governing(demand.x))
        return
    timber = walk.timber(block.material)
    R = walk.basis.splitting(
        timber, block.laid_breadth.named("b_pc"), block.laid_depth.named("h_pc"), h_e, walk.strength("barrier")
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
    combination = walk.strength("barrier")
    for side, fixing in (("left", block.left), ("right", block.right)):
        for way, words, chosen in (("uplift", "held down", signed < 0.0), ("down", "held up", signed > 0.0)):
            index = np.flatnonzero(chosen)
            if not len(index):
                continue
            id = f"blocking.end.{side}.{way}.{model.name}"
            title = f"{side} end of the blocking {words}, mount {model.name}"
            demand = ends[side].take(index)
            resistance = end_resistance(walk, fixing, way, combination)
            yield compare(
                id,
                title,
                demand,
                resistance,
                [labels[i] for i in index],
                no_resistance=nothing_held(fixing, way),
                combination="strength",
            )
