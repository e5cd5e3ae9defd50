"""Link 3, clamp: pressure of the pads on the glass, and the supplier's rating of the mount, which governs."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.base_plate import PUSH
from barrier.links.clamp_slip import slip
from barrier.links.geometry import MountModel
from barrier.links.panel_solution import PanelSolution
from barrier.links.walk import Walk
from barrier.result import Check, Finding, Lack, LinkResult, NotChecked, Shown, Standing, compare, governing, not_checked
from barrier.value import Numerical, Value, gather

PARTICULARS = ("moment", "meaning", "tested", "substrate", "height", "glass", "screws", "reference")
FACTOR = Equation(
    Symbol("M_Ed", "moment"),
    "gamma_Q*M_Ek",
    symbols("gamma_Q:ratio, M_Ek:moment"),
    "factor of the combination on the action",
    "computed",
    title="moment on the mount",
)


def clamp(walk: Walk, before: list[LinkResult]) -> LinkResult:
    """Show pad pressures and compare with the supplier's rating."""
    checks: list[Check] = []
    shown: list[Shown] = []
    findings: list[Finding] = []
    solved: tuple[PanelSolution, ...] = next(r for r in before if r.id == "glass").handed_on
    for panel in solved:
        shown.extend(_pressures(panel))
        for m, model in enumerate(panel.mounts):
            checks.append(_rating(walk, panel, m, model))
            findings.extend(_particulars(model))
        checks.extend(slip(walk, panel))
    findings.append(Finding("Soft rubber does not take 8 to 9 MPa for long: ask the supplier what the liner is.", "computed"))
    return LinkResult("clamp", "Clamps and the supplier's rating", tuple(checks), solved, tuple(shown), tuple(findings))


def _pressures(panel: PanelSolution) -> Iterator[Shown]:
    for wanted in ("nominal", "stiff"):
        labels, x = [], []
        for (pad_set, base_set), solution in zip(panel.sets, panel.solutions, strict=True):
            if pad_set != wanted:
                continue
            for c, case in enumerate(panel.cases):
                for m, model in enumerate(panel.mounts):
                    labels.append(f"{case.title}; mount {model.name}; {base_set} bases")
                    x.append(float(solution.peak_pad_pressure[c, m]))
        origin = Numerical(
            f"largest pad pressure, {wanted} pads", "thin plate on elastic pads, characteristic action",
            "plate model of this project", panel.stiffnesses, panel.residual, None, tuple(labels),
        )  # fmt: skip
        yield Shown(f"pad pressure, {wanted} pads", Value(np.array(x), "stress", origin, "p_pad"), governing(x))


def _particulars(model: MountModel) -> Iterator[Finding]:
    mount = model.mount
    if mount.drilled:
        yield Finding(f"Mount {model.name} has been drilled: drilling a solid mount voids its rating.", "common practice", True)
    if mount.spreader is False:
        yield Finding(
            f"Mount {model.name} has no rigid spreader plate: the grub screw presses on the liner's tip alone.",
            "common practice",
            True,
        )


def _rating(walk: Walk, panel: PanelSolution, m: int, model: MountModel) -> Check:
    id, title = f"clamp.rating.{model.name}", f"supplier's rating of mount {model.name}"
    rating = model.mount.rating
    if rating is None:
        return not_checked(id, title, NotChecked(Lack.INPUT, "no rating of the mount is given; ask the supplier for it"))
    missing = [p for p in PARTICULARS if getattr(rating, p) in (None, "", "unknown")]
    if missing:
        return not_checked(id, title, NotChecked(Lack.INPUT, f"the rating lacks: {', '.join(missing)}; ask the supplier"))
    if model.mount.drilled:
        return not_checked(id, title, NotChecked(Lack.RANGE, "drilling a solid mount voids its rating"))
    if rating.substrate != "timber":
        return not_checked(
            id, title, NotChecked(Lack.RANGE, f"the rating was tested on {rating.substrate}; the mount stands on timber")
        )
    if rating.meaning == "ultimate":
        return not_checked(
            id, title,
            NotChecked(Lack.INPUT, f"it is the breaking load of {rating.tested} tests; ask for the characteristic value"),
        )  # fmt: skip
    return _compare(walk, panel, m, model, id, title)


def _compare(walk: Walk, panel: PanelSolution, m: int, model: MountModel, id: str, title: str) -> Check:
    rating = model.mount.rating
    assert rating is not None and rating.moment is not None
    stations = [(i, s, c) for i, (s, c, k) in enumerate(panel.stations) if k == m and panel.cases[c].standing is Standing.REQUIRED]
    index = np.array([i for i, _, _ in stations])
    labels = tuple(f"{panel.cases[c].title}; {panel.sets[s][0]} pads, {panel.sets[s][1]} bases" for _, s, c in stations)
    origin = Numerical(
        f"action of the panel on clamp {model.name}", "thin plate on elastic pads", "equilibrium of the panel",
        panel.stiffnesses, panel.residual, None, labels,
    )  # fmt: skip
    M_Ek = PUSH(
        M_y0=Value(panel.reactions("Mx")[index], "moment", origin, "M_y0"),
        F=Value(panel.reactions("F")[index], "force", origin, "F"),
        h_0=model.lever,
    )
    if rating.meaning == "allowable":
        return compare(
            id, title, M_Ek, rating.moment.named("M_allow"), labels, remark="allowable, against the characteristic action"
        )
    factors = gather([panel.cases[c].strength.factor for _, _, c in stations], range(len(stations)))
    demand = FACTOR(gamma_Q=factors.named("gamma_Q"), M_Ek=M_Ek)
    remark = "characteristic rating taken without a partial factor: ask the supplier which one it needs"
    return compare(id, title, demand, rating.moment.named("M_Rk"), labels, remark=remark)
