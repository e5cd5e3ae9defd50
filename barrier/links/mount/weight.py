"""Weight of the glass on a mount: what presses with it, and that it may be absent.

Where weight adds to a bearing pressure it counts with the nominal thickness of all layers and the factor on weight that adds to
a load. Close to the collapse of the bed it makes the screws pull harder, elsewhere it holds them down: so the contact under the
base plate is looked at with it and without.
"""

from __future__ import annotations

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.walk import Walk
from barrier.result import NotChecked
from barrier.value import Numerical, Value, gather

WEIGHT = Equation(
    Symbol("N_k", "force"),
    "w_g*W*H_g*t_g/n_m",
    symbols("w_g:unit weight, W:length, H_g:length, t_g:length, n_m:count"),
    "statics: weight of the glass shared by its mounts",
    "computed",
    title="weight on a mount",
)
PRESSING = Equation(
    Symbol("N_Gd", "force"),
    "f_G*N_k",
    symbols("f_G:ratio, N_k:force"),
    "factor on weight that adds to a load",
    "computed",
    title="weight that presses on a mount",
)


def weight_on(walk: Walk, panel: PanelSolution) -> Value:
    """Weight of the glass on each mount of a panel, all layers at their nominal thickness, before any factor."""
    _, _, weight = walk.basis.glass_constants()
    return WEIGHT(
        w_g=weight.named("w_g"),
        W=panel.panel.width.named("W"),
        H_g=panel.panel.height.named("H_g"),
        t_g=panel.nominal_depth.named("t_g"),
        n_m=counted(f"panels.{panel.panel.name}", len(panel.mounts), "mounts of the panel").named("n_m"),
    )


def pressing(walk: Walk, panel: PanelSolution) -> Value:
    """The weight as it presses: with the factor on weight that adds to a load, where the basis has one."""
    factor = walk.basis.weight_down_factor()
    if isinstance(factor, NotChecked):
        factor = walk.basis.weight_factor()
    return PRESSING(f_G=factor.named("f_G"), N_k=weight_on(walk, panel).named("N_k"))


def absent() -> Value:
    """No weight at all: the glass may hang on its clamp's friction or be lifted by hand."""
    return Value(0.0, "force", Numerical("no weight", "the weight may be absent", "the less it weighs the more it lifts"), "N_0")


def with_and_without(weight: Value, each: int) -> Value:
    """Weight by station where the first ``each`` stations are without it and as many follow with it."""
    return gather([absent(), weight], [0] * each + [1] * each)
