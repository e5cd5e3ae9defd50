"""Strengths of the ground a mount stands on: bed of decking and blocking, and one screw of the group."""

from __future__ import annotations

from dataclasses import dataclass

from barrier.basis import Fastener
from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted
from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import CORNERS, UNIT
from barrier.links.walk import Walk
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value

OFF_STRAIGHT = Equation(
    Symbol("theta", "angle"), "abs(theta_s)", symbols("theta_s:angle"), "geometry: either way is alike", "computed"
)  # fmt: skip
SLANTED = Equation(
    Symbol("F_ax", "force"),
    "k_theta*R_ax",
    symbols("k_theta:ratio, R_ax:force"),
    "slanting screw: its share of a straight one",
    "computed",
    title="withdrawal of one slanting screw",
)
SPREAD = Equation(
    Symbol("f_bed", "stress"),
    "f_bed_d*(b + l_1 + l_2)/b",
    symbols("f_bed_d:stress, b:length, l_1:length, l_2:length"),
    "geometry: contact length along the grain taken longer by what the code allows on each side, where there is wood",
    "computed",
    title="strength of the bed, spread along the grain",
)
BY_LENGTH = Equation(
    Symbol("f_bed", "stress"),
    "k_b*f_bed_d",
    symbols("k_b:ratio, f_bed_d:stress"),
    "factor of the code for the length of bearing along the grain",
    "computed",
    title="strength of the bed, by the length of bearing",
)
WOOD_ON_LEFT, WOOD_ON_RIGHT = (
    Equation(
        Symbol(f"l_{k}", "length"),
        f"max(min(l_s, l_w_{k}), 0)",
        symbols(f"l_s:length, l_w_{k}:length"),
        "no spread where there is no wood",
        "computed",
        title=f"spread of bearing on the {side}",
    )
    for k, side in ((1, "left"), (2, "right"))
)
LEFT_OF_PLATE = Equation(
    Symbol("l_w_1", "length"),
    "x_M - b/2",
    symbols("x_M:length, b:length"),
    "geometry",
    "computed",
    title="wood left of the plate",
)
RIGHT_OF_PLATE = Equation(
    Symbol("l_w_2", "length"),
    "L_b - x_M - b/2",
    symbols("L_b:length, x_M:length, b:length"),
    "geometry",
    "computed",
    title="wood right of the plate",
)


@dataclass(frozen=True, slots=True, eq=False)
class BedStrength:
    """Strength the bed yields at, which layer it belongs to, and that strength before any spread along the grain."""

    strength: Value
    layer: str
    bare: Value


def layer_strengths(
    walk: Walk, model: MountModel, combination: Combination, characteristic: bool = False
) -> tuple[BedStrength, ...] | NotChecked:
    """Strength of every layer under the plate, from the top: decking, and what stands below it."""
    decking = walk.job.decking
    layers = [("decking", walk.timber(decking.material), decking.direction == "along")]
    if not model.boards_only and model.wood is not None:
        below = "blocking" if model.blocking is not None else "edge joist"
        layers.append((below, walk.timber(model.wood.names, model.wood.laminated), model.wood.along))
    found: list[BedStrength] = []
    for name, timber, along in layers:
        f = walk.basis.bearing(timber, combination, characteristic)
        if isinstance(f, NotChecked):
            return f
        # The moment axis lies along the glass: bearing spreads only in wood whose grain runs that way.
        spread = _spread(walk, model, f)
        if name == "decking" and decking.direction is None and float(spread.x) != float(f.x):
            return NotChecked(Lack.INPUT, "which way the boards run (decking.direction): along their grain bearing spreads")
        found.append(BedStrength(spread if along else f.named("f_bed"), name, f.named("f_bed_2")))
    return tuple(found)


def bed_strength(walk: Walk, model: MountModel, combination: Combination, characteristic: bool = False) -> BedStrength | NotChecked:
    """The weaker of the layers under the plate: what the bed yields at."""
    layers = layer_strengths(walk, model, combination, characteristic)
    return layers if isinstance(layers, NotChecked) else min(layers, key=lambda s: float(s.strength.x))


def _spread(walk: Walk, model: MountModel, f: Value) -> Value:
    blocking = model.blocking
    if model.boards_only:
        return f.named("f_bed")
    factor = _length_factor(walk, model)
    if factor is not None:
        return BY_LENGTH(k_b=factor.named("k_b"), f_bed_d=f.named("f_bed_d"))
    b, x_M = model.mount.plate.along.named("b"), model.mount.in_bay.named("x_M")
    if blocking is None:  # an edge joist runs on beyond the plate on both sides
        spread = walk.basis.bearing_spread(b, None)
        if isinstance(spread, NotChecked):
            return f.named("f_bed")
        return SPREAD(f_bed_d=f.named("f_bed_d"), b=b, l_1=spread.named("l_1"), l_2=spread.named("l_2"))
    on_left, on_right = LEFT_OF_PLATE(x_M=x_M, b=b), RIGHT_OF_PLATE(L_b=blocking.length.named("L_b"), x_M=x_M, b=b)
    spread = walk.basis.bearing_spread(b, min(on_left, on_right, key=lambda v: float(v.x)))
    if isinstance(spread, NotChecked):
        return f.named("f_bed")
    left, right = WOOD_ON_LEFT(l_s=spread, l_w_1=on_left), WOOD_ON_RIGHT(l_s=spread, l_w_2=on_right)
    return SPREAD(f_bed_d=f.named("f_bed_d"), b=b, l_1=left, l_2=right)


def _length_factor(walk: Walk, model: MountModel) -> Value | None:
    """The factor a family has on bearing of this length, in place of a spread."""
    b, x_M = model.mount.plate.along.named("b"), model.mount.in_bay.named("x_M")
    if model.blocking is None:
        return walk.basis.bearing_factor(b, None)
    on_left, on_right = LEFT_OF_PLATE(x_M=x_M, b=b), RIGHT_OF_PLATE(L_b=model.blocking.length.named("L_b"), x_M=x_M, b=b)
    return walk.basis.bearing_factor(b, min(on_left, on_right, key=lambda v: float(v.x)))


def screw_of(model: MountModel) -> Fastener:
    """The screw of a mount as a basis wants it."""
    kind = model.mount.screw
    return Fastener(
        kind.diameter.named("d"),
        kind.root.named("d_1") if kind.root is not None else None,
        kind.ultimate_strength.named("f_u") if kind.ultimate_strength is not None else None,
        kind.withdrawal.named("f_ax_k") if kind.withdrawal is not None else None,
        kind.withdrawal_density.named("rho_a") if kind.withdrawal_density is not None else None,
        str(model.mount.grain) == "end",
        kind.withdrawal_per_length.named("Q_k") if kind.withdrawal_per_length is not None else None,
        kind.kind,
        kind.material,
    )


def screws_in_tension(model: MountModel) -> int:
    """Most screws that pull at once, over signs and stiffness: the more share, the less each is worth."""
    most = 0
    for bed, end in CORNERS:
        for sign in (-1.0, 1.0):
            solution = model.solve(bed, end, sign * UNIT)
            if solution.equilibrium:
                most = max(most, int((solution.T > 0.0).sum()))
    return most


def shortest_thread(model: MountModel) -> Value | None:
    """The shortest thread in timber of the mount's screws; None where no screw reaches timber."""
    threads = [s.l_ef for s in model.screws if s.l_ef is not None and s.piece is not None]
    return min(threads, key=lambda v: float(v.x)) if threads else None


def screw_resistance(walk: Walk, model: MountModel, combination: Combination) -> Value | NotChecked:
    """Withdrawal of one screw of the group that pulls, at the level of the combination."""
    assert model.wood is not None
    if model.mount.screw.threaded is None:
        return NotChecked(Lack.INPUT, "length of thread of the screw; measure it")
    shortest = shortest_thread(model)
    if shortest is None:
        return NotChecked(Lack.REACH, "no screw of the mount reaches timber")
    n = counted(f"mounts.{model.name}", max(screws_in_tension(model), 1), "screws in tension, from the contact model")
    timber = walk.timber(model.wood.names, model.wood.laminated)
    straight = walk.basis.withdrawal(screw_of(model), timber, shortest, n.named("n"), combination)
    theta = _slant(model)
    if theta is None or isinstance(straight, NotChecked):
        return straight
    if screw_of(model).end_grain:
        return NotChecked(Lack.RANGE, "screws that slant in a piece standing on end")
    k = walk.basis.slant(theta)
    return k if isinstance(k, NotChecked) else SLANTED(k_theta=k, R_ax=straight).named(straight.symbol)


def _slant(model: MountModel) -> Value | None:
    """The largest angle off straight of the screws that are there; None where all are driven straight."""
    most = max((s.angle for s in model.mount.screws if s.present), key=lambda v: abs(float(v.x)), default=None)
    if most is None or float(most.x) == 0.0:
        return None
    return OFF_STRAIGHT(theta_s=most.named("theta_s"))
