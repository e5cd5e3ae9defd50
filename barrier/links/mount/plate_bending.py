"""Bending of the base plate as a strip beyond the clamp post: screws pull one side of it down, the bed pushes the other up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from barrier.basis import FOR_SCALE
from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted
from barrier.links.walk import Walk
from barrier.mechanics import contact
from barrier.result import About, Check, Lack, NotChecked, Shown, compare, fails, not_checked
from barrier.value import Numerical, Value

if TYPE_CHECKING:
    from barrier.links.mount.base_plate import Corner, MountForces

PLATE_STRESS = Equation(
    Symbol("sigma_pl", "stress"),
    "6*n_t*T*(e_s - e_c)/(b*t_pl**2)",
    symbols("n_t:count, T:force, e_s:length, e_c:length, b:length, t_pl:length"),
    "bending of the base plate as a strip from the clamp post to the tension row",
    "computed",
    title="stress in the base plate",
)


PLATE_PUSHED = Equation(
    Symbol("sigma_pl", "stress"),
    "6*M_c/(b*t_pl**2)",
    symbols("M_c:moment, b:length, t_pl:length"),
    "bending of the base plate as a strip that the bed pushes up beyond the clamp post",
    "computed",
    title="stress in the base plate",
)
ABS = Equation(
    Symbol("e_s", "length"), "abs(e)", symbols("e:length"), "geometry: tension row from the plate's centre", "computed"
)  # fmt: skip
METHOD = "push of the bed in that contact, over what of the plate lies beyond the clamp post"


def plate_bending(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """The larger of both sides decides: two checks of one name, each over direction, stiffness and weight."""
    model, plate = handed.model, handed.model.mount.plate
    about, title = About("base_plate", "plate", mount=model.name), f"bending of the base plate of mount {model.name}"
    if plate.yield_strength is None or plate.clamp_reach is None:
        yield not_checked(about, title, NotChecked(Lack.INPUT, "yield strength of the plate and reach of the clamp post"))
        return
    strength = walk.basis.plate_bending(plate.yield_strength.named("f_y"), model.mount.material)
    solutions = [s for s in handed.with_weight if s.contact.equilibrium]
    if len(solutions) < len(handed.with_weight):
        yield fails(about, title, "no equilibrium at the design action", handed.label, demand=handed.M_worst)
        return
    labels = [s.label for s in solutions]
    strip = {"b": plate.along.named("b"), "t_pl": plate.thickness.named("t_pl")}
    yield _pulled(handed, solutions, strength, strip, about, title)
    M_c = Value(np.array([_pushed(handed, s) for s in solutions]), "moment", _origin(handed, solutions, labels), "M_c")
    yield compare(about, title, PLATE_PUSHED(M_c=M_c, **strip), strength, [f"{label}; where the bed pushes" for label in labels])


def _pulled(
    handed: MountForces,
    solutions: Sequence[Corner],
    strength: Value | NotChecked,
    strip: dict[str, Value],
    about: About,
    title: str,
) -> Check:
    """The side of the tension row."""
    model, plate = handed.model, handed.model.mount.plate
    assert plate.clamp_reach is not None
    labels = [s.label for s in solutions]
    T = Value(np.array([float(s.contact.T.max()) for s in solutions]), "force", handed.tension_origin(labels), "T")
    pulling = [int((0.5 * s.contact.T.max() < s.contact.T).sum()) for s in solutions]
    n_t = counted(f"mounts.{model.name}", max(pulling), "screws in the tension row").named("n_t")
    e_s = ABS(e=max(model.screws, key=lambda s: abs(float(s.y.x))).y.named("e"))
    if float(e_s.x) <= float(plate.clamp_reach.x):
        why = NotChecked(Lack.RANGE, "the clamp post reaches to the screw row: the plate is no strip from post to row there")
        return not_checked(about, title, why)
    stress = PLATE_STRESS(n_t=n_t, T=T, e_s=e_s, e_c=plate.clamp_reach.named("e_c"), **strip)
    return compare(about, title, stress, strength, [f"{label}; where the screws pull" for label in labels])


def _pushed(handed: MountForces, corner: Corner) -> float:
    """Moment of the bed about the edge of the clamp post, on the side where it is larger."""
    reach = handed.model.mount.plate.clamp_reach
    assert reach is not None
    e_c = float(reach.x)
    f = None if isinstance(handed.bed, NotChecked) else float(handed.bed.strength.x)
    bed = handed.model.bed(corner.bed, f)
    return max(contact.pushed_beyond(bed, corner.contact, way * e_c, way > 0)[1] for way in (1.0, -1.0))


def _origin(handed: MountForces, solutions: Sequence[Corner], labels: list[str]) -> Numerical:
    reach = handed.model.mount.plate.clamp_reach
    assert reach is not None
    return Numerical(
        f"moment of the bed on the base plate of mount {handed.model.name} beyond its clamp post", METHOD,
        "contact model of this project", {**handed.solved_from(), "e_c": reach.named("e_c")},
        max(s.contact.residual for s in solutions), None, tuple(labels),
    )  # fmt: skip


def plate_for_scale(walk: Walk, handed: MountForces) -> Iterator[Shown]:
    """Bending of the base plate by another family, where the own one has no figure for its steel; no timber is in it."""
    mount = handed.model.mount
    if mount.plate.yield_strength is None:
        return
    f_y = mount.plate.yield_strength.named("f_y")
    if isinstance(walk.basis.plate_bending(f_y, mount.material), Value):
        return
    for other in walk.basis.others():
        found = other.plate_bending(f_y, mount.material)
        if isinstance(found, Value):
            yield Shown(f"bending of the base plate, mount {handed.model.name}, by the {other.title}", found, 0, FOR_SCALE)
            return
