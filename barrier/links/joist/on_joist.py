"""What one mount puts on the joists it stands over: under a push across the glass, and under loads in its plane."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Panel
from barrier.links.blocking.in_plane_ends import LIFTED, PRESSED
from barrier.links.given import counted
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.joist import comes
from barrier.links.mount.in_plane_forces import MountShare
from barrier.links.mount.mount_forces import MountForces
from barrier.links.mount.weight import weight_on
from barrier.links.walk import Walk
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Numerical, Value

PITCH = Equation(
    Symbol("p_m", "length"), "W/n_m", symbols("W:length, n_m:count"), "geometry: a run of panels like this one",
    "computed", title="pitch of the mounts",
)  # fmt: skip
ALONG = Equation(
    Symbol("M_along", "moment"),
    "abs(M_al) + abs(F_al)*(t_p + t_d + h_J/2)",
    symbols("M_al:moment, F_al:force, t_p:length, t_d:length, h_J:length"),
    "statics: turn of the mount and the push along it, about the middle of the joist",
    "computed",
    title="turn along the barrier",
)
FROM_ABOVE = Equation(
    Symbol("P_J", "force"),
    "(N_e*max(a, L_b - a) + M_along)/L_b",
    symbols("N_e:force, a:length, L_b:length, M_along:moment"),
    "statics: force and turn along the barrier, on two joists",
    "computed",
    title="force on a joist from a load in the plane of the glass",
)
NO_LIFT = Value(0.0, "force", Numerical("a push across the glass lifts nothing as a whole", "counted", "statics"), "U_J")
NO_COUPLE = Value(0.0, "moment", Numerical("a load in the plane of the glass is no couple on a joist", "counted", "statics"), "M_J")


@dataclass(frozen=True, slots=True, eq=False)
class OnJoist:
    """What one mount puts on its more loaded joist, by station, and the joists it stands over.

    ``M_J`` is a couple (joists across the glass) or None; ``P_J`` the force down, ``U_J`` what lifts, or ``P_J`` the pair of
    forces of joists along the glass, which come at the pitch ``p_m`` of the mounts.
    """

    mount: str
    M_J: Value | None
    P_J: Value
    U_J: Value
    p_m: Value
    labels: Sequence[str]
    cases: Sequence[str]
    combination: Combination


def on_joist(walk: Walk, handed: MountForces, panel: PanelSolution, beside: Sequence[MountForces]) -> OnJoist | NotChecked:
    """What a mount puts on its joists in its combination; ``beside`` are the mounts of the same panel."""
    model = handed.model
    bay = comes.bay_of(walk, model)
    if isinstance(bay, NotChecked):
        return bay
    T = comes.design_turning(walk, handed)
    f_G = walk.basis.weight_down_factor()
    for lack in (T, f_G):
        if isinstance(lack, NotChecked):
            return lack
    assert isinstance(T, Value) and isinstance(f_G, Value)
    N_k = weight_on(walk, panel)
    p_m = pitch(walk, panel.panel)
    labels, cases, combination = handed.counted_labels, handed.counted_cases, handed.combination
    if not bay.along:
        G_J = comes.WEIGHT(f_G=f_G.named("f_G"), N_k=N_k.named("N_k"), a=bay.a, L_b=bay.L_b)
        return OnJoist(model.name, None, comes.PAIR(T_J=T, L_b=bay.L_b, G_J=G_J), NO_LIFT, p_m, labels, cases, combination)
    others = [o for m in beside if m.combination.id == combination.id and (o := _beside(walk, m)) is not None]
    M_J, G_J = comes.couple(walk, handed, bay, T, others), comes.weight(walk, model, bay, (f_G, N_k), others)
    return OnJoist(model.name, M_J, G_J.named("P_J"), NO_LIFT, p_m, labels, cases, combination)


def _beside(walk: Walk, handed: MountForces) -> tuple[MountForces, comes.Bay, Value] | None:
    """Another mount of the panel with its bay and its turning effect, where both are known."""
    bay, T = comes.bay_of(walk, handed.model), comes.design_turning(walk, handed)
    return None if isinstance(bay, NotChecked) or isinstance(T, NotChecked) else (handed, bay, T)


def pitch(walk: Walk, panel: Panel) -> Value:
    """Distance of the mounts of a run of panels like this one."""
    number = counted(f"panels.{panel.name}", len(walk.job.mounts_of(panel)), "mounts of the panel")
    return PITCH(W=panel.width.named("W"), n_m=number.named("n_m"))


def from_above(walk: Walk, share: MountShare, panel: PanelSolution) -> OnJoist | NotChecked:
    """What a load in the plane of the glass puts on the joists at one mount."""
    model, joists = share.model, walk.job.joists
    bay = comes.bay_of(walk, model)
    if isinstance(bay, NotChecked):
        return bay
    if not bay.along:
        return NotChecked(Lack.BASIS, "joists along the glass under a load in its plane")
    if joists.depth is None:
        return NotChecked(Lack.INPUT, "the depth of the joists (joists.depth); measure one")
    M = ALONG(
        M_al=share.turn.named("M_al"), F_al=share.push.named("F_al"), t_p=model.packing.named("t_p"),
        t_d=walk.job.decking.thickness.named("t_d"), h_J=joists.depth.named("h_J"),
    )  # fmt: skip
    P_J, U_J = (
        FROM_ABOVE(N_e=e(N_al=share.down, N_0=N_0).named("N_e"), a=bay.a, L_b=bay.L_b, M_along=M).named(symbol)
        for e, N_0, symbol in ((PRESSED, share.pressing, "P_J"), (LIFTED, share.weight, "U_J"))
    )
    return OnJoist(model.name, NO_COUPLE, P_J, U_J, pitch(walk, panel.panel), share.labels, (), share.load.combination)
