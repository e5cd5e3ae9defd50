"""Link 3, clamp: pressure of the pads on the glass, and the supplier's rating of the mount, which governs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.clamp.clamp_slip import slip
from barrier.links.clamp.rating import rating
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import Pads
from barrier.links.walk import Walk
from barrier.result import Check, Finding, LinkResult, Shown, Standing, governing
from barrier.value import Numerical, Value, gather

SQUEEZED = Equation(
    Symbol("w_pad", "length"),
    "p_pad/k_pad",
    symbols("p_pad:stress, k_pad:bed stiffness"),
    "elastic pads of the plate model, both faces together",
    "computed",
    title="how far the liner is squeezed at its corner",
)


def clamp(walk: Walk, panels: Sequence[PanelSolution]) -> LinkResult:
    """Show pad pressures and compare with the supplier's rating."""
    checks: list[Check] = []
    shown: list[Shown] = []
    findings: list[Finding] = []
    for panel in panels:
        shown.extend(_pressures(panel))
        shown.append(_squeezed(panel))
        for m, model in enumerate(panel.mounts):
            checks.extend(rating(walk, panel, m, model))
            findings.extend(_particulars(model))
        checks.extend(slip(walk, panel))
    if pressures := [s for s in shown if s.value.symbol == "p_pad"]:
        findings.append(_liner(pressures))
    return LinkResult("clamp", "Clamps and the supplier's rating", tuple(checks), tuple(shown), tuple(findings))


def _liner(pressures: Sequence[Shown]) -> Finding:
    """The largest pressure on a liner, as a question to its supplier."""
    worst = pressures[governing([s.value.at(s.station) for s in pressures])]
    p = worst.value.take(np.array([worst.station]))
    text = "Soft rubber takes no large pressure for long: ask the supplier what the liner is and takes; largest here."
    return Finding(text, "computed", length=Value(p.at(0), "stress", p.origin, "p_pad"))


def _pressures(panel: PanelSolution) -> Iterator[Shown]:
    for wanted in ("nominal", "stiff"):
        labels, x, index = [], [], []
        for (pad_set, base_set), solution in zip(panel.sets, panel.solutions, strict=True):
            if wanted != pad_set.stiffness:
                continue
            for c, case in enumerate(panel.cases):
                if case.parts and case.standing is Standing.INFORMATION:
                    continue
                for m, model in enumerate(panel.mounts):
                    labels.append(f"{case.title}; mount {model.name}; {_more(pad_set)}{base_set} bases")
                    x.append(float(solution.peak_pad_pressure[c, m]))
                    index.append(c)
        origin = Numerical(
            f"largest pad pressure, {wanted} pads", "thin plate on elastic pads, characteristic action",
            "plate model of this project", panel.solved_from(index), panel.residual, None, tuple(labels),
        )  # fmt: skip
        yield Shown(f"pad pressure, {wanted} pads", Value(np.array(x), "stress", origin, "p_pad"), governing(x))


def _squeezed(panel: PanelSolution) -> Shown:
    """How far the softest liner of a mount is squeezed at most: a thinner one is flat before, and no longer that soft."""
    soft = [min((p.stiffness_low for p in m.mount.pads), key=lambda v: float(v.x)) for m in panel.mounts]
    stations = [
        (s, c, m)
        for s, (pads, _) in enumerate(panel.sets) if pads.stiffness == "soft"
        for c, case in enumerate(panel.cases) if not case.parts or case.standing is Standing.REQUIRED
        for m in range(len(panel.mounts))
    ]  # fmt: skip
    labels = tuple(
        f"{panel.cases[c].title}; mount {panel.mounts[m].name}; {_more(panel.sets[s][0])}{panel.sets[s][1]} bases"
        for s, c, m in stations
    )
    origin = Numerical(
        "largest pad pressure, soft pads", "thin plate on elastic pads, characteristic action",
        "plate model of this project", panel.solved_from([c for _, c, _ in stations]), panel.residual, None, labels,
    )  # fmt: skip
    x = np.array([float(panel.solutions[s].peak_pad_pressure[c, m]) for s, c, m in stations])
    k = gather([v.named("k_pad") for v in soft], [m for _, _, m in stations])
    w = SQUEEZED(p_pad=Value(x, "stress", origin, "p_pad"), k_pad=k.named("k_pad"))
    remark = "a liner thinner than this is pressed flat: then the clamp is stiffer and the glass is stressed more"
    return Shown(f"liner squeezed, soft pads, panel {panel.panel.name}", w, governing(w.x), remark)


def _more(pads: Pads) -> str:
    """What the words of a pad set say beside its stiffness."""
    return "" if pads == Pads(pads.stiffness) else f"{pads} pads, "


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
