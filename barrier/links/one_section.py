"""Blocking as one section, lone or laminated in a factory: it carries the torque of the mount to its ends."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.base_plate import MountForces
from barrier.links.end_fixings import end_resistance, nothing_held
from barrier.links.walk import Walk
from barrier.mechanics import torsion
from barrier.result import Check, compare
from barrier.value import Numerical, Value

TORQUE = Equation(
    Symbol("T_Ed", "moment"),
    "M_Ed + abs(F_Ed)*(t_p + t_d + g_d + h_s/2)",
    symbols("M_Ed:moment, F_Ed:force, t_p:length, t_d:length, g_d:length, h_s:length"),
    "statics: moment of the plate and the push, about the centre line of the section",
    "computed",
    title="torque on the blocking",
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
    "6*abs(F_Ed)*a*(L_b - a)/L_b/(h_s*b_s**2)",
    symbols("F_Ed:force, a:length, L_b:length, h_s:length, b_s:length"),
    "bending of a rectangle by the push of the mount, sideways",
    "computed",
    title="sideways bending of the blocking",
)
SIDE_SHEAR = Equation(
    Symbol("tau", "stress"),
    "1.5*abs(F_Ed)*max(a, L_b - a)/L_b/(b_s*h_s)",
    symbols("F_Ed:force, a:length, L_b:length, b_s:length, h_s:length"),
    "shear of a rectangle by the push of the mount, sideways",
    "computed",
    title="sideways shear of the blocking",
)


def one_section(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """Torsion, sideways bending and shear of one section, and the torque at its ends."""
    model = handed.model
    block = model.blocking
    assert block is not None and walk.job.decking.gap_under is not None
    name, combination = model.name, walk.strength("barrier")
    timber = walk.timber(block.material, block.laminated == "factory")
    chosen = np.flatnonzero(handed.required)
    labels = [handed.labels[i] for i in chosen]
    b_s = model.piece_breadth.named("b_s")
    h_s = block.laid_depth.named("h_s")
    a, L_b = model.mount.in_bay.named("a"), block.length.named("L_b")
    F = handed.F_Ed.take(chosen)
    T = TORQUE(
        M_Ed=handed.M_Ed.take(chosen), F_Ed=F, t_p=model.packing.named("t_p"), t_d=walk.job.decking.thickness.named("t_d"),
        g_d=walk.job.decking.gap_under.named("g_d"), h_s=h_s,
    )  # fmt: skip
    T_end = END_TORQUE(T_Ed=T, a=a, L_b=L_b)
    long_side, short_side = (h_s, b_s) if float(h_s.x) >= float(b_s.x) else (b_s, h_s)
    alpha = Value(
        float(torsion.alpha(float(long_side.x), float(short_side.x))), "ratio",
        Numerical("torsion coefficient of the rectangle", "Saint-Venant series", "Timoshenko and Goodier, torsion of a rectangle"),
        "alpha",
    )  # fmt: skip
    tau = TORSION_STRESS(T_end=T_end, alpha=alpha, h_l=long_side.named("h_l"), b_l=short_side.named("b_l"))
    yield compare(
        f"blocking.torsion.{name}", f"torsion of the blocking under mount {name}", tau,
        walk.basis.torsion(timber, long_side, short_side, combination), labels,
    )  # fmt: skip
    yield compare(
        f"blocking.bending.{name}", f"sideways bending of the blocking under mount {name}",
        SIDE_BENDING(F_Ed=F, a=a, L_b=L_b, h_s=h_s, b_s=b_s), walk.basis.bending(timber, combination), labels,
    )  # fmt: skip
    yield compare(
        f"blocking.shear.{name}", f"sideways shear of the blocking under mount {name}",
        SIDE_SHEAR(F_Ed=F, a=a, L_b=L_b, b_s=b_s, h_s=h_s), walk.basis.shear(timber, combination), labels,
    )  # fmt: skip
    for side, fixing in (("left", block.left), ("right", block.right)):
        id, title = f"blocking.end.{side}.torque.{name}", f"{side} end of the blocking held against turning, mount {name}"
        yield compare(
            id,
            title,
            T_end,
            end_resistance(walk, fixing, "torque", combination),
            labels,
            no_resistance=nothing_held(fixing, "torque"),
        )
