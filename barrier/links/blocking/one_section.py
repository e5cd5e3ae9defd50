"""One section under a mount: lone or factory-laminated blocking, or the edge joist. It carries the torque to its ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from barrier.basis import Timber
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import EndFixing
from barrier.links.blocking.ends import LEFT_SIDE, LEFT_TORQUE, RIGHT_SIDE, RIGHT_TORQUE, AtEnd, Held, end_checks
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.base_plate import MountForces
from barrier.links.walk import Walk
from barrier.mechanics import torsion
from barrier.result import About, Check, compare
from barrier.value import Numerical, Value

TORQUE = Equation(
    Symbol("T_Ed", "moment"),
    "M_Ed + abs(F_Ed)*(t_p + t_d + g_d + h_s/2)",
    symbols("M_Ed:moment, F_Ed:force, t_p:length, t_d:length, g_d:length, h_s:length"),
    "statics: moment of the plate and the push, about the centre line of the section",
    "computed",
    title="torque on the section under the mount",
)
END_TORQUE = Equation(
    Symbol("T_end", "moment"),
    "T_Ed*max(a, L_b - a)/L_b",
    symbols("T_Ed:moment, a:length, L_b:length"),
    "statics: the nearer end takes more",
    "computed",
    title="torque at the more loaded end",
)
TORSION_STRESS = Equation(
    Symbol("tau_tor", "stress"),
    "T_end/(alpha*h_l*b_l**2)",
    symbols("T_end:moment, alpha:ratio, h_l:length, b_l:length"),
    "Saint-Venant torsion of a rectangle, series",
    "computed",
    title="torsion stress",
)
SIDE_BENDING = Equation(
    Symbol("sigma_m", "stress"),
    "6*(abs(F_Ed)*a*(L_b - a) + M_z_Ed*max(a, L_b - a))/L_b/(h_s*b_s**2)",
    symbols("F_Ed:force, a:length, L_b:length, M_z_Ed:moment, h_s:length, b_s:length"),
    "bending of a rectangle by push and twist of the mount, sideways",
    "computed",
    title="sideways bending of the section",
)
SIDE_SHEAR = Equation(
    Symbol("tau", "stress"),
    "1.5*(abs(F_Ed)*max(a, L_b - a) + M_z_Ed)/L_b/(b_s*h_s)",
    symbols("F_Ed:force, a:length, L_b:length, M_z_Ed:moment, b_s:length, h_s:length"),
    "shear of a rectangle by push and twist of the mount, sideways",
    "computed",
    title="sideways shear of the section",
)
WHOLE = Numerical("one section takes the whole push", "counted", "geometry of the job")


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """A single section under a mount that carries its torque: what it is, its sides, its span, what holds its ends.

    ``a`` runs from the left holding point to the mount, ``L_b`` between the two; ``ends`` are the side in words and the
    fixing there; ``part`` is what its checks are about.
    """

    part: str
    words: str
    timber: Timber
    b_s: Value
    h_s: Value
    a: Value
    L_b: Value
    ends: tuple[tuple[str, EndFixing | None], ...]


def blocking_section(walk: Walk, handed: MountForces) -> Section:
    """Lone or factory-laminated blocking of a mount as one section."""
    model = handed.model
    block = model.blocking
    assert block is not None
    return Section(
        "blocking", "the blocking", walk.timber(block.material, block.laminated == "factory", block.long_side),
        model.piece_breadth.named("b_s"),
        block.laid_depth.named("h_s"), model.mount.in_bay.named("a"), block.length.named("L_b"),
        (("left", block.left), ("right", block.right)),
    )  # fmt: skip


def one_section(walk: Walk, handed: MountForces, section: Section) -> Iterator[Check]:
    """Torsion, sideways bending and shear of one section, and what its ends hold: sideways, against turning, both at once."""
    name, combination = handed.model.name, handed.combination
    under = f"{section.words} under mount {name}"
    chosen, labels, cases = handed.counted, handed.counted_labels, handed.counted_cases
    b_s, h_s, a, L_b = section.b_s, section.h_s, section.a, section.L_b
    F, M_z = handed.F_Ed.take(chosen), handed.M_z.take(chosen).named("M_z_Ed")
    T_Ed = torque(walk, handed.model, handed.M_Ed.take(chosen), F, h_s)
    T_end = END_TORQUE(T_Ed=T_Ed, a=a, L_b=L_b)
    long_side, short_side = (h_s, b_s) if float(h_s.x) >= float(b_s.x) else (b_s, h_s)
    yield compare(
        About(section.part, "torsion", mount=name), f"torsion of {under}", torsion_stress(T_end, long_side, short_side),
        walk.basis.torsion(section.timber, long_side, short_side, combination), labels, cases=cases,
    )  # fmt: skip
    yield compare(
        About(section.part, "bending", mount=name), f"sideways bending of {under}",
        SIDE_BENDING(F_Ed=F, a=a, L_b=L_b, M_z_Ed=M_z, h_s=h_s, b_s=b_s),
        walk.basis.bending(section.timber, combination), labels, cases=cases,
    )  # fmt: skip
    yield compare(
        About(section.part, "shear", mount=name), f"sideways shear of {under}",
        SIDE_SHEAR(F_Ed=F, a=a, L_b=L_b, M_z_Ed=M_z, b_s=b_s, h_s=h_s),
        walk.basis.shear(section.timber, combination), labels, cases=cases,
    )  # fmt: skip
    push = {"F_Ed": F, "M_z_Ed": M_z, "r_n": Value(1.0, "ratio", WHOLE, "r_n")}
    for (side, fixing), turning, sideways in zip(
        section.ends, (LEFT_TORQUE, RIGHT_TORQUE), (LEFT_SIDE, RIGHT_SIDE), strict=True
    ):  # fmt: skip
        held = Held(section.part, section.words, name, side, side, fixing, section.timber, combination)
        T, H = turning(T_Ed=T_Ed, a=a, L_b=L_b), sideways(a=a, L_b=L_b, **push)
        yield from end_checks(walk, held, AtEnd(None, np.zeros(len(chosen)), T, H, labels, labels, cases, cases))


def torque(walk: Walk, model: MountModel, M: Value, F: Value, h_s: Value) -> Value:
    """Torque about the middle of a section of depth ``h_s`` under decking and gap, of moments and pushes of a mount."""
    gap = walk.job.decking.gap_under
    assert gap is not None
    return TORQUE(
        M_Ed=M, F_Ed=F, t_p=model.packing.named("t_p"), t_d=walk.job.decking.thickness.named("t_d"), g_d=gap.named("g_d"), h_s=h_s
    )


def torsion_stress(T_end: Value, long_side: Value, short_side: Value) -> Value:
    """Torsion stress of a rectangle; sides are lengths, the torque is in moment units."""
    alpha = coefficient(long_side, short_side)
    return TORSION_STRESS(T_end=T_end, alpha=alpha, h_l=long_side.named("h_l"), b_l=short_side.named("b_l"))


def coefficient(long_side: Value, short_side: Value) -> Value:
    """The coefficient alpha of a rectangle in torsion, from its sides in mm."""
    return Value(
        float(torsion.alpha(float(long_side.x), float(short_side.x))), "ratio",
        Numerical("torsion coefficient of the rectangle", "Saint-Venant series", "Timoshenko and Goodier, torsion of a rectangle"),
        "alpha",
    )  # fmt: skip
