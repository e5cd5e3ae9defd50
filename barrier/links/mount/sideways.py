"""Screws pushed sideways: the push of the mount and its twist about the vertical, through a loose board; and both at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.base_plate import SIGNS, MountForces
from barrier.links.mount.resistances import screw_of, shortest_thread
from barrier.links.walk import Walk
from barrier.mechanics import fastener_group
from barrier.result import About, Check, Combination, Lack, NotChecked, compare, fails, not_checked
from barrier.value import Numerical, Value

YIELDING_AT_EACH = (
    "contact of a rigid plate with a bed that only pushes and yields, and with elastic screws that only pull, at the moment of "
    "every case"
)
GAP = Equation(
    Symbol("g", "length"),
    "t_d + g_d + t_p",
    symbols("t_d:length, g_d:length, t_p:length"),
    "geometry: loose board, gap and packers between base plate and blocking; the board is not credited",
    "computed",
    title="length of screw that bends free",
)
ROOT = Equation(
    Symbol("eta_root", "ratio"),
    "sqrt(eta)",
    symbols("eta:ratio"),
    "root of a sum of squares: what compares with the other utilisations",
    "computed",
    title="root of the sum of squares",
)
SHARE = Equation(
    Symbol("F_v", "force"),
    "abs(F_Ed)/n_s + M_z_Ed*k_z",
    symbols("F_Ed:force, n_s:count, M_z_Ed:moment, k_z:per length"),
    "elastic fastener group: push shared, twist by distance; the two added as if they pointed one way",
    "computed",
    title="sideways force on the worst screw",
)


class Limit(NamedTuple):
    """The largest moment of one direction and one end of the stiffness bracket, and what ends it there."""

    moment: float
    sign: str
    bed: str
    screws: str
    reason: str


def sideways(walk: Walk, handed: MountForces, withdrawal: Check, limit: Limit | None) -> Iterator[Check]:
    """Sideways load on the screws of a mount, and withdrawal with it, up to the ``limit`` that withdrawal has."""
    model = handed.model
    holding = [s for s in model.screws if s.piece is not None]
    about, title = About("screws", "sideways", mount=model.name), f"screws of mount {model.name} pushed sideways"
    if not holding or model.wood is None or model.boards_only:
        lack = resistance(walk, model, handed.combination)
        assert isinstance(lack, NotChecked)
        # Geometry says that they miss: that is no figure somebody might still find.
        yield fails(about, title, lack.text, handed.label) if lack.lack is Lack.REACH else not_checked(about, title, lack)
        return
    F_v = _worst_screw(handed, len(holding))
    R = resistance(walk, model, handed.combination)
    nothing = "screws in end grain, pushed sideways, are credited with nothing"
    demand = F_v.take(handed.counted)
    check = compare(about, title, demand, R, handed.counted_labels, no_resistance=nothing, cases=handed.counted_cases)
    yield check
    yield _combined(walk, handed, withdrawal, check, limit)


def resistance(walk: Walk, model: MountModel, combination: Combination) -> Value | NotChecked:
    """One screw of a mount pushed across the grain, through a loose board; along the grain it is worth no less."""
    if model.boards_only:
        return NotChecked(Lack.BASIS, "screws that hold in the board only")
    thread = shortest_thread(model)
    if thread is None or model.wood is None:
        return NotChecked(Lack.REACH, "no screw of the mount reaches timber")
    assert walk.job.decking.gap_under is not None
    gap = GAP(
        t_d=walk.job.decking.thickness.named("t_d"), g_d=walk.job.decking.gap_under.named("g_d"), t_p=model.packing.named("t_p")
    )
    timber = walk.timber(model.wood.names, model.wood.laminated)
    return walk.basis.sideways(screw_of(model), timber, thread, gap, combination)


def _worst_screw(handed: MountForces, count: int) -> Value:
    """Sideways force on the worst screw at every station."""
    model = handed.model
    x = [float(s.x.x) for s in model.screws if s.piece is not None]
    y = [float(s.y.x) for s in model.screws if s.piece is not None]
    unit = fastener_group.in_plane(x, y, 0.0, 0.0, 1.0) if count > 1 else np.zeros((1, 2))
    k_z = Value(
        float(np.hypot(unit[..., 0], unit[..., 1]).max()), "per length",
        Numerical(f"force on the worst screw of mount {model.name} per unit twist, r/sum of r squared", "elastic fastener group",
                  "statics"), "k_z",
    )  # fmt: skip
    n_s = counted(f"mounts.{model.name}", count, "screws in timber").named("n_s")
    return SHARE(F_Ed=handed.F_Ed, n_s=n_s, M_z_Ed=handed.M_z, k_z=k_z)


def _combined(walk: Walk, handed: MountForces, withdrawal: Check, side: Check, limit: Limit | None) -> Check:
    """Withdrawal and sideways together, case by case; where the angle counts, at the angle of each station's own load."""
    about, title = (
        About("screws", "combined", mount=handed.model.name),
        f"withdrawal and sideways together, mount {handed.model.name}",
    )
    if withdrawal.utilisation is None or side.utilisation is None or side.demand is None:
        lack = Lack.BASIS if side.lack is Lack.BASIS else Lack.INPUT
        return not_checked(about, title, NotChecked(lack, "one of the two has no utilisation of its own"))
    pulled, pushed, push = withdrawal.utilisation, side.utilisation, side.demand
    labels, cases, pull = handed.counted_labels, handed.counted_cases, None
    if walk.basis.combined_by_angle and limit is not None:
        pull = _pull(handed, pulled, limit)
        loaded = np.flatnonzero((np.asarray(pull.x) > 0.0) | (np.asarray(push.x) > 0.0))  # no load has no angle
        if len(loaded):
            pulled, pushed, pull, push = (v.take(loaded) for v in (pulled, pushed, pull, push))
            labels, cases = [labels[i] for i in loaded], [cases[i] for i in loaded]
        else:
            pull = None
    eta = walk.basis.combined(pulled.named("eta_ax"), pushed.named("eta_v"), pull, push)
    if isinstance(eta, NotChecked):
        return not_checked(about, title, eta)
    squares = "a sum of squares; what compares with the other utilisations is its root"
    remark = squares if walk.basis.combined_is_squares else ""
    made = compare(about, title, pulled, pushed, labels, eta=eta, remark=remark, cases=cases)
    return replace(made, demand=None, resistance=None, squares=walk.basis.combined_is_squares)


def _pull(handed: MountForces, pulled: Value, limit: Limit) -> Value:
    """Pull of the worst screw at every station that counts, in the direction and stiffness that decide withdrawal.

    Where the bed has no equilibrium any more it is the pull that withdrawal was compared with: its utilisation of one screw.
    """
    model = handed.model
    assert isinstance(handed.R_ax, Value)
    f = None if isinstance(handed.bed, NotChecked) else float(handed.bed.strength.x)
    found = []
    for i, station in enumerate(handed.counted):
        M = SIGNS[limit.sign] * handed.M_Ed.at(int(station))
        solved = model.solve(limit.bed, limit.screws, M, f) if M != 0.0 else None
        if solved is None:
            found.append(0.0)
        else:
            found.append(float(solved.T.max()) if solved.equilibrium else pulled.at(i) * float(handed.R_ax.x))
    inputs = {"M_Ed": handed.M_Ed.take(handed.counted).named("M_Ed"), **model.stiffnesses()}
    if not isinstance(handed.bed, NotChecked):
        inputs["f_bed"] = handed.bed.strength.named("f_bed")
    origin = Numerical(
        f"pull on the worst screw of mount {model.name} ({limit.sign}; {limit.bed} bed, {limit.screws} screws)", YIELDING_AT_EACH,
        "contact model of this project", inputs, None, None, tuple(handed.counted_labels),
    )  # fmt: skip
    return Value(np.array(found), "force", origin, "F_ax")
