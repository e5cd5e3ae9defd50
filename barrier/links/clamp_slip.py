"""Glass lifting or sliding out of a friction clamp: a push along the barrier at the top edge, against the supplier's values."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted, measured
from barrier.links.panel_solution import PanelSolution
from barrier.links.walk import Walk
from barrier.result import Check, Lack, NotChecked, Standing, compare, not_checked
from barrier.value import Value

ALONG = Equation(
    Symbol("F_along", "force"),
    "f_Q*P_k/n_m",
    symbols("f_Q:ratio, P_k:force, n_m:count"),
    "statics: a push along the barrier shared by the clamps",
    "computed",
    title="push along the glass at one clamp",
)
UP = Equation(
    Symbol("F_up", "force"),
    "max(f_Q*P_k*H_g/s_m - f_G*w_g*W*H_g*t_g/n_m, 0)",
    symbols("f_Q:ratio, P_k:force, H_g:length, s_m:length, f_G:ratio, w_g:unit weight, W:length, t_g:length, n_m:count"),
    "statics: a push along at the top edge lifts the glass at one end; its weight holds it down",
    "computed",
    title="lift of the glass at one clamp",
)


def slip(walk: Walk, panel: PanelSolution) -> Iterator[Check]:
    """Slip along and up at the clamps of one panel, with the point load of the basis pushing along the top edge."""
    point = next((c for c in panel.cases if c.action.kind == "point"), None)
    if point is None or len(panel.mounts) < 2:
        return
    standing = Standing.REQUIRED if point.action.required else Standing.INFORMATION
    x = sorted(float(m.mount.x.x) for m in panel.mounts)
    n_m = counted(f"panels.{panel.panel.name}", len(panel.mounts), "mounts of the panel").named("n_m")
    f_Q, P_k = point.strength.factor.named("f_Q"), point.action.size.named("P_k")
    _, _, weight = walk.basis.glass_constants()
    along = ALONG(f_Q=f_Q, P_k=P_k, n_m=n_m)
    up = UP(
        f_Q=f_Q, P_k=P_k, H_g=panel.panel.height.named("H_g"),
        s_m=measured(f"panels.{panel.panel.name}", x[-1] - x[0], "outer mounts apart").named("s_m"),
        f_G=walk.basis.weight_factor().named("f_G"), w_g=weight.named("w_g"), W=panel.panel.width.named("W"),
        t_g=panel.glass_depth.named("t_g"), n_m=n_m,
    )  # fmt: skip
    for key, demand, words in (("slip_along", along, "slides along"), ("slip_up", up, "lifts out of")):
        values = [getattr(m.mount.rating, key) if m.mount.rating is not None else None for m in panel.mounts]
        id, title = f"clamp.{key}.{panel.panel.name}", f"glass of panel {panel.panel.name} {words} its clamps"
        if any(v is None for v in values):
            why = NotChecked(Lack.INPUT, f"the supplier's value ({key}) of every mount; a friction clamp has no other")
            yield not_checked(id, title, why, standing, demand)
            continue
        weakest: Value = min((v for v in values if v is not None), key=lambda v: float(v.x))
        yield compare(id, title, demand, weakest.named("R_slip"), ["push along at the top edge"], standing=standing)
