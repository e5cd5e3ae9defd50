"""What comes to the joists from a mount: a couple on a joist that runs across the glass, a pair of forces on two along it.

Blocking along the glass stands between two joists across it, and each gets its share of the whole turning effect of the mount
as a couple in its own plane: of the moment, and of the push at the lever down to the middle of the joist. Where the next mount
of the panel stands on the same joist from the other side, both couples come together. Blocking across the glass stands between
two joists along it, and presses on one what it lifts the other by. The push itself goes on in boards and frame.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.mount_forces import MountForces
from barrier.links.walk import Walk
from barrier.result import Lack, NotChecked
from barrier.value import Value

TURNING = Equation(
    Symbol("T_J", "moment"),
    "M_Ed + abs(F_Ed)*(t_p + t_d + h_J/2)",
    symbols("M_Ed:moment, F_Ed:force, t_p:length, t_d:length, h_J:length"),
    "statics: moment of the plate and the push, about the middle of the joist, which the boards lie on",
    "computed",
    title="turning effect of the mount on the joists",
)
LEFT_SHARE = Equation(
    Symbol("r_e", "ratio"), "(L_b - a)/L_b", symbols("L_b:length, a:length"), "statics: the nearer joist takes more", "computed",
    title="share of the joist to the left",
)  # fmt: skip
RIGHT_SHARE = Equation(
    Symbol("r_e", "ratio"), "a/L_b", symbols("a:length, L_b:length"), "statics: the nearer joist takes more", "computed",
    title="share of the joist to the right",
)  # fmt: skip
COUPLE = Equation(
    Symbol("M_J", "moment"),
    "r_e*T_J",
    symbols("r_e:ratio, T_J:moment"),
    "statics: torque at the end of the blocking is a couple in the plane of the joist",
    "computed",
    title="couple on the joist",
)
TWO_COUPLES = Equation(
    Symbol("M_J", "moment"),
    "r_e*T_J + r_f*T_K",
    symbols("r_e:ratio, T_J:moment, r_f:ratio, T_K:moment"),
    "statics: mounts on either side of one joist, under the same load",
    "computed",
    title="couple on the joist from the mounts on either side of it",
)
WEIGHT = Equation(
    Symbol("G_J", "force"),
    "f_G*N_k*max(a, L_b - a)/L_b",
    symbols("f_G:ratio, N_k:force, a:length, L_b:length"),
    "statics: the nearer joist takes more of the weight",
    "computed",
    title="weight of the glass on a joist, from one mount",
)
WEIGHT_OF_TWO = Equation(
    Symbol("G_J", "force"),
    "f_G*N_k*(max(a, L_b - a)/L_b + r_f)",
    symbols("f_G:ratio, N_k:force, a:length, L_b:length, r_f:ratio"),
    "statics: the nearer joist takes more of the weight, and has that of a mount on its other side as well",
    "computed",
    title="weight of the glass on a joist, from the mounts on either side of it",
)
PAIR = Equation(
    Symbol("P_J", "force"),
    "T_J/L_b + G_J",
    symbols("T_J:moment, L_b:length, G_J:force"),
    "statics: what presses one joist lifts the other; weight with it",
    "computed",
    title="force on a joist from one mount",
)


@dataclass(frozen=True, slots=True, eq=False)
class Bay:
    """What stands between two joists under a mount: from its left end to the mount ``a``, its length ``L_b``."""

    a: Value
    L_b: Value
    along: bool


def bay_of(walk: Walk, model: MountModel) -> Bay | NotChecked:
    """What spans between the joists under a mount, or why no joist can be looked at."""
    joists, a = walk.job.joists, model.mount.in_bay.named("a")
    if model.blocking is None and not model.boards_only:
        return NotChecked(Lack.INPUT, "what keeps the edge joist from turning goes on into the deck, and is not in the job")
    if joists.direction is None:
        return NotChecked(Lack.INPUT, "which way the joists run (joists.direction)")
    if model.blocking is not None:
        along, L_b = model.blocking.direction == "along", model.blocking.length
    else:
        along, L_b = walk.job.decking.direction == "along", joists.spacing
    if along == (joists.direction == "along"):
        return NotChecked(Lack.INPUT, "the joists run the same way as what stands between them: one of the two directions is wrong")
    if float(a.x) >= float(L_b.x):
        return NotChecked(Lack.INPUT, "the mount stands outside the bay between two joists: in_bay is not less than joists.spacing")
    return Bay(a, L_b.named("L_b"), along)


def turning(walk: Walk, model: MountModel, M: Value, F: Value) -> Value | NotChecked:
    """Turning effect of moments and pushes of a mount about the middle of the joist's depth."""
    joists = walk.job.joists
    if joists.depth is None:
        return NotChecked(Lack.INPUT, "the depth of the joists (joists.depth); measure one")
    return TURNING(
        M_Ed=M.named("M_Ed"), F_Ed=F.named("F_Ed"), t_p=model.packing.named("t_p"), t_d=walk.job.decking.thickness.named("t_d"),
        h_J=joists.depth.named("h_J"),
    )  # fmt: skip


def design_turning(walk: Walk, handed: MountForces) -> Value | NotChecked:
    """Turning effect at the stations of a mount that count."""
    chosen = handed.counted
    return turning(walk, handed.model, handed.M_Ed.take(chosen), handed.F_Ed.take(chosen))


def couple(walk: Walk, handed: MountForces, bay: Bay, T: Value, beside: Sequence[tuple[MountForces, Bay, Value]]) -> Value:
    """Couple on the more loaded of a mount's two joists; ``beside``: the other mounts of its panel in the same combination."""
    found = []
    for side, share in (("left", LEFT_SHARE(L_b=bay.L_b, a=bay.a)), ("right", RIGHT_SHARE(a=bay.a, L_b=bay.L_b))):
        other = _on_the_same(walk, handed.model, bay, side, beside)
        if other is None or np.shape(other[1].x) != np.shape(T.x):
            found.append(COUPLE(r_e=share, T_J=T))
        else:
            found.append(TWO_COUPLES(r_e=share, T_J=T, r_f=other[0].named("r_f"), T_K=other[1].named("T_K")))
    left, right = found
    return left if float(np.max(left.x)) >= float(np.max(right.x)) else right


def weight(
    walk: Walk, model: MountModel, bay: Bay, f_N: tuple[Value, Value], beside: Sequence[tuple[MountForces, Bay, Value]]
) -> Value:
    """Weight on the more loaded of a mount's two joists; ``f_N``: the factor on weight and the weight on one mount."""
    given = {"f_G": f_N[0].named("f_G"), "N_k": f_N[1].named("N_k"), "a": bay.a, "L_b": bay.L_b}
    shares = [o[0] for side in ("left", "right") if (o := _on_the_same(walk, model, bay, side, beside)) is not None]
    if not shares:
        return WEIGHT(**given)
    return WEIGHT_OF_TWO(**given, r_f=max(shares, key=lambda r: float(r.x)).named("r_f"))


def _on_the_same(
    walk: Walk, model: MountModel, bay: Bay, side: str, beside: Sequence[tuple[MountForces, Bay, Value]]
) -> tuple[Value, Value] | None:
    """Share and turning effect of another mount whose blocking ends on the other side of the same joist."""
    width = walk.job.joists.width
    if width is None:
        return None
    here = place_of(model, bay, side, float(width.x))
    for other, its, T in beside:
        there = "right" if side == "left" else "left"
        if other.model.name != model.name and abs(place_of(other.model, its, there, float(width.x)) - here) < float(width.x) / 2:
            return (RIGHT_SHARE if there == "right" else LEFT_SHARE)(a=its.a, L_b=its.L_b), T
    return None


def place_of(model: MountModel, bay: Bay, side: str, width: float) -> float:
    """Middle of the joist at one end of the blocking of a mount, along the glass from the left end of the panel, mm."""
    left = float(model.mount.x.x) - float(bay.a.x)
    return left - width / 2 if side == "left" else left + float(bay.L_b.x) + width / 2
