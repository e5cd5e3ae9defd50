"""What a pencil says of one mount's share of the load: a rigid panel on mounts that are equally stiff.

It stands beside the plate model and decides nothing. The plate bends, clamps take twist and bases differ, so a load near one
end is shared more evenly than the hand says.
"""

from __future__ import annotations

from collections.abc import Sequence

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted, measured
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.loads.cases import Case
from barrier.mechanics.plate import AtOnce, PatchLoad
from barrier.value import Numerical, Value, gather

HAND = "hand check: a rigid panel on mounts that are equally stiff"
SHARE = Equation(
    Symbol("s_m", "ratio"),
    "1/n_m + e_Q*e_m/S_m",
    symbols("n_m:count, e_Q:length, e_m:length, S_m:area"),
    HAND,
    "computed",
    title="share of one mount",
)
PUSH = Equation(
    Symbol("F_hand", "force"),
    "s_m*H_k",
    symbols("s_m:ratio, H_k:force"),
    HAND,
    "computed",
    title="push on one mount",
)
MOMENT = Equation(
    Symbol("M_hand", "moment"),
    "s_m*H_k*y_Q",
    symbols("s_m:ratio, H_k:force, y_Q:length"),
    HAND,
    "computed",
    title="moment of one mount about the bottom edge of the glass",
)


def push(panel: PanelSolution, m: int, which: Sequence[int]) -> Value:
    """Push on mount ``m`` of a panel for its cases ``which`` [N]."""
    return PUSH(s_m=_share(panel, m, which), H_k=gather([c.resultant for c in panel.cases], which).named("H_k"))


def moment(panel: PanelSolution, m: int, which: Sequence[int]) -> Value:
    """Moment of mount ``m`` of a panel about the bottom edge of the glass for its cases ``which`` [N mm]."""
    H_k, y_Q = gather([c.resultant for c in panel.cases], which), gather([c.height for c in panel.cases], which)
    return MOMENT(s_m=_share(panel, m, which), H_k=H_k.named("H_k"), y_Q=y_Q.named("y_Q"))


def _share(panel: PanelSolution, m: int, which: Sequence[int]) -> Value:
    """Share of a mount in every case, as of a row of equal springs."""
    path = f"panels.{panel.panel.name}"
    x = [float(model.mount.x.x) for model in panel.mounts]
    if len(x) == 1:
        return counted(path, 1, "mounts of the panel, which hold all").named("s_m")
    middle = sum(x) / len(x)
    n_m = counted(path, len(x), "mounts of the panel").named("n_m")
    e_m = measured(path, x[m] - middle, f"mount {panel.mounts[m].name} from the middle of the mounts").named("e_m")
    squares = Numerical(f"squares of the mounts' distances from their middle, added ({path})", "read off the geometry", "the job")
    S_m = Value(sum((xi - middle) ** 2 for xi in x), "area", squares, "S_m")

    def of(case: Case) -> Value:
        e_Q = measured(path, _centre(case, panel) - middle, f"{case.title} from the middle of the mounts")
        return SHARE(n_m=n_m, e_Q=e_Q.named("e_Q"), e_m=e_m, S_m=S_m)

    return gather([of(c) for c in panel.cases], which)


def _centre(case: Case, panel: PanelSolution) -> float:
    """Where along the panel a load has its resultant, mm."""
    if case.parts:
        pushes = [float(p.share.x) * float(p.case.resultant.x) for p in case.parts]
        places = [_centre(p.case, panel) for p in case.parts]
        return sum(H * x for H, x in zip(pushes, places, strict=True)) / sum(pushes)
    load = case.load
    if isinstance(load, AtOnce):  # the strips of one wind
        return sum(p.total * (p.x0 + p.x1) / 2 for p in load.loads if isinstance(p, PatchLoad)) / float(case.resultant.x)
    return (load.x0 + load.x1) / 2 if isinstance(load, PatchLoad) else float(panel.panel.width.x) / 2
