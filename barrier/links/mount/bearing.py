"""Link 6, bearing: the conventional mean stress over the contact, and the largest pressure on an elastic bed.

That largest pressure is a flag of indentation at service where strengths are ultimate ones and the bed may yield; where allowable
stresses are compared, all of them elastic, it decides beside the mean.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import CORNERS
from barrier.links.mount.base_plate import leading
from barrier.links.mount.for_scale import strength_for_scale
from barrier.links.mount.mount_forces import SIGNS, Corner, MountForces
from barrier.links.mount.resistances import bed_strength, layer_strengths
from barrier.links.mount.weight import with_and_without
from barrier.links.walk import Walk
from barrier.mechanics import contact
from barrier.mechanics.polygons import clip_half_plane
from barrier.result import About, Check, Lack, LinkResult, NotChecked, Standing, compare, fails, not_checked, one_of_each
from barrier.value import Numerical, Value

ELASTIC = "contact as for the base plate, but with an elastic bed: bearing is a convention of the mean, and of the peak at service"
MEAN = Equation(
    Symbol("sigma_c", "stress"),
    "(T_sum + N_Gd)/A_c",
    symbols("T_sum:force, N_Gd:force, A_c:area"),
    "statics: over the contact area of the elastic solution",
    "computed",
    title="mean bearing stress under the base plate",
)


BELOW = Equation(
    Symbol("sigma_c_2", "stress"),
    "(T_sum + N_Gd)/A_2",
    symbols("T_sum:force, N_Gd:force, A_2:area"),
    "statics: over the contact area spread through the decking at 45 degrees, which stands for the spread of the code",
    "common practice",
    title="mean bearing stress beneath the decking",
)


def peak_title(name: str) -> str:
    """Title of the check of the largest pressure."""
    return f"peak bearing on the decking under mount {name}, elastic"


def bearing(walk: Walk, mounts: Sequence[MountForces]) -> LinkResult:
    """Compare mean and peak bearing stress."""
    checks: list[Check] = []
    for handed in mounts:
        checks.extend(handed.own(_means(walk, handed)))
        if not walk.basis.peak_bearing_decides:  # else it is compared above, in every combination
            checks.extend(handed.own((_indentation(walk, handed),)))
    shown = tuple(s for lead in leading(mounts) for s in strength_for_scale(walk, lead, "bearing", "indentation"))
    return LinkResult("bearing", "Bearing on decking and blocking", one_of_each(checks), shown)


def _elastic(handed: MountForces, M: float) -> list[tuple[str, contact.Contact]]:
    """Contact on an elastic bed, first without the weight of the glass, then with it."""
    found = [
        Corner(name, bed, end, handed.model.solve(bed, end, sign * M, N=N), N > 0.0)
        for N in handed.weights
        for name, sign in SIGNS.items()
        for bed, end in CORNERS
    ]
    return [(corner.label, corner.contact) for corner in found]


def _means(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """Mean bearing on the decking, and on what stands beneath it."""
    model = handed.model
    about, title = About("bearing", "mean", mount=model.name), f"mean bearing on the decking under mount {model.name}"
    layers = layer_strengths(walk, model, handed.combination)
    if isinstance(layers, NotChecked):
        yield not_checked(about, title, layers)
        return
    if handed.M_worst.at(0) == 0.0:
        yield not_checked(about, title, NotChecked(Lack.INPUT, "no load that decides turns the mount"))
        return
    solutions = _elastic(handed, handed.M_worst.at(0))
    if not all(s.equilibrium for _, s in solutions):
        yield fails(about, title, "no equilibrium at the design action", handed.label, demand=handed.M_worst)
        return
    labels = tuple(label for label, _ in solutions)

    def numerical(what: str, x: list[float], kind: str, symbol: str) -> Value:
        origin = Numerical(
            f"{what}, mount {model.name}", ELASTIC,
            "contact model of this project", handed.solved_from(elastic=True), max(s.residual for _, s in solutions), None, labels,
        )  # fmt: skip
        return Value(np.array(x), kind, origin, symbol)

    T = numerical("sum of the screw tensions on an elastic bed", [float(s.T.sum()) for _, s in solutions], "force", "T_sum")
    N = with_and_without(handed.weight, len(solutions) // 2).named("N_Gd")
    A = numerical("contact area on an elastic bed", [float(s.area) for _, s in solutions], "area", "A_c")
    yield compare(about, title, MEAN(T_sum=T, N_Gd=N, A_c=A), layers[0].strength, labels)
    if walk.basis.peak_bearing_decides:
        p = numerical("largest pressure on an elastic bed", [float(s.p_max) for _, s in solutions], "stress", "p_max")
        yield compare(About("bearing", "peak", mount=model.name), peak_title(model.name), p, layers[0].strength, labels)
    for below in layers[1:]:
        what = "contact area spread through the decking, within the wood below"
        A_2 = numerical(what, [_spread_area(model, s, float(walk.job.decking.thickness.x)) for _, s in solutions], "area", "A_2")
        about, title = (
            About("bearing", "below", mount=model.name),
            f"mean bearing on the {below.layer} beneath the decking, mount {model.name}",
        )
        yield compare(about, title, BELOW(T_sum=T, N_Gd=N, A_2=A_2), below.bare, labels)


def _spread_area(model: MountModel, solution: contact.Contact, depth: float) -> float:
    """What bears beneath a layer of this depth: the part in contact of every zone, wider by it each way, on its piece.

    Under one plate or packer that is the whole; between packers the widened parts may meet, and the contact area is kept.
    """
    if len(model.mount.packers) > 1:
        return float(solution.area)
    pressed = [clip_half_plane(z.polygon, *solution.neutral_axis) for z in model.zones]
    corners = np.concatenate([p for p in pressed if len(p)])
    (x0, y0), (x1, y1) = (corners.min(axis=0) - depth).tolist(), (corners.max(axis=0) + depth).tolist()
    found = 0.0
    for piece in model.pieces:  # rectangles along the axes, as all pieces are
        (left, low), _, (right, high), _ = piece.outline.tolist()
        found += max(min(x1, right) - max(x0, left), 0.0) * max(min(y1, high) - max(y0, low), 0.0)
    return found


def _indentation(walk: Walk, handed: MountForces) -> Check:
    model = handed.model
    about, title = About("bearing", "flag", mount=model.name), f"indentation under mount {model.name} at service"
    strength = bed_strength(walk, model, handed.service.combination, characteristic=True)
    if isinstance(strength, NotChecked):
        return not_checked(about, title, strength, Standing.INFORMATION)
    solutions = [s.contact for s in handed.at_service_with_weight]
    if not all(s.equilibrium for s in solutions):
        return fails(about, title, "no equilibrium", handed.label, Standing.INFORMATION)
    labels = tuple(s.label for s in handed.at_service_with_weight)
    origin = Numerical(
        f"largest pressure under mount {model.name} at the characteristic action", ELASTIC,
        "contact model of this project", handed.solved_from(elastic=True, service=True), max(s.residual for s in solutions), None,
        labels,
    )  # fmt: skip
    p = Value(np.array([float(s.p_max) for s in solutions]), "stress", origin, "p_max")
    return compare(about, title, p, strength.strength.named("f_bed_k"), labels, standing=Standing.INFORMATION)
