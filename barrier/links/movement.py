"""Link 9, movement: how far the top edge goes, by part, as a band. Barrier load and wind at once inform, whatever the basis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import measured
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.ground.base_stiffness import flexibility
from barrier.links.ground.geometry import MountModel
from barrier.links.joist.give import Give, give
from barrier.links.mount import by_hand
from barrier.links.mount.mount_forces import MountForces
from barrier.links.walk import Walk
from barrier.result import (
    About,
    Check,
    Ending,
    Finding,
    Lack,
    LinkResult,
    NotChecked,
    Shown,
    Standing,
    compare,
    fails,
    governing,
    informing,
    not_checked,
)
from barrier.value import Numerical, Value, gather

GAP = Equation(
    Symbol("w_gap", "length"),
    "g_d/e_t*(h_0 + H_g)",
    symbols("g_d:length, e_t:length, h_0:length, H_g:length"),
    "statics: the mount tips through the gap before anything resists",
    "computed",
    title="movement from the gap under the boards",
)
PARTS = "movement of the top edge, what carries the joists not counted"
TOTAL, SERVICE = (
    Equation(
        Symbol("w_top", "length"), text, symbols(of), "sum of the parts", "computed",
        title="movement of the top edge, end fixings, joists and what carries them not counted",
    )
    for text, of in (
        ("w_plate + w_gap", "w_plate:length, w_gap:length"),
        ("r_s*w_plate + w_gap", "r_s:ratio, w_plate:length, w_gap:length"),
    )
)  # fmt: skip
TOTAL_GIVING = Equation(
    Symbol("w_top", "length"),
    "w_plate + w_give + w_gap",
    symbols("w_plate:length, w_give:length, w_gap:length"),
    "sum of the parts",
    "computed",
    title=PARTS,
)
SERVICE_GIVING = Equation(
    Symbol("w_top", "length"),
    "r_s*(w_plate + w_give) + w_gap",
    symbols("r_s:ratio, w_plate:length, w_give:length, w_gap:length"),
    "sum of the parts; all but the gap goes with the action",
    "computed",
    title=PARTS,
)
SHARE = Equation(
    Symbol("r_s", "ratio"),
    "p_s/p_k",
    symbols("p_s:pressure, p_k:pressure"),
    "pressure movement is looked at under, over the pressure the glass was solved for",
    "computed",
    title="share of the action that movement is looked at under",
)


def movement(walk: Walk, panels: Sequence[PanelSolution], mounts: Sequence[MountForces]) -> LinkResult:
    """Band of the movement of the top edge of every panel against the limit."""
    checks: list[Check] = []
    shown: list[Shown] = []
    for panel in panels:
        alone = [c for c, case in enumerate(panel.cases) if case.standing is Standing.REQUIRED and not case.parts]
        both = [c for c, case in enumerate(panel.cases) if case.parts]
        if alone:
            check, band = _panel(walk, panel, mounts, alone)
            standing = Standing.REQUIRED if limited(walk) else Standing.INFORMATION
            checks.append(replace(_named(panel, check), standing=standing))
            shown.extend(band)
        if both:
            checks.append(informing(_named(panel, _panel(walk, panel, mounts, both)[0]), panel.cases[both[0]].service))
    finding = Finding(
        "What carries the joists, and the deck frame as a whole, are not in the movement; the true figure is larger.", loud=True
    )
    return LinkResult("movement", "Movement at the top", tuple(checks), tuple(shown), (finding,))


def limited(walk: Walk) -> bool:
    """Whether a limit of movement decides: not with a panel lost from under a rail, which is no state of use."""
    return walk.job.rail is None or not walk.job.rail.openings


def _named(panel: PanelSolution, check: Check) -> Check:
    """A check with the combination of its case, which movement is looked at in."""
    return replace(check, combination=next((c.service.id for c in panel.cases if c.id == check.case), ""))


def _panel(walk: Walk, panel: PanelSolution, forces: Sequence[MountForces], chosen: list[int]) -> tuple[Check, list[Shown]]:
    """The movement of a panel under some of its cases, and its band."""
    name = panel.panel.name
    about, title = About("movement", panel=name), f"movement of the top edge of panel {name}"
    labels = [f"{panel.cases[c].title}; {pads} pads, {bases} bases" for pads, bases in panel.sets for c in chosen]
    cases = [panel.cases[c].id for _ in panel.sets for c in chosen]
    x = np.array([float(s.top_deflection[c]) for s in panel.solutions for c in chosen])
    origin = Numerical(
        f"largest movement of the top edge of panel {name}", "thin plate on elastic pads and bases, characteristic action",
        "plate model of this project", panel.solved_from([c for _ in panel.sets for c in chosen]), panel.residual, None,
        tuple(labels),
    )  # fmt: skip
    w = Value(x, "length", origin, "w_plate")
    for m in panel.mounts:
        if m.lacking is not None:
            return not_checked(about, title, m.lacking), []
        if flexibility(m, "soft") is None:
            return fails(about, title, f"mount {m.name} has no equilibrium on its timber: there is no movement to give"), []
    gaps = [_gap(walk, m) for m in panel.mounts]
    if any(isinstance(g, NotChecked) for g in gaps):
        lack = next(g for g in gaps if isinstance(g, NotChecked))
        return not_checked(about, title, lack, demand=w, station=governing(x)), []
    gap = max((g for g in gaps if isinstance(g, Value)), key=lambda g: float(g.x))
    shares = _shares(panel, chosen)
    stiff = TOTAL(w_plate=w, w_gap=gap) if shares is None else SERVICE(r_s=shares, w_plate=w, w_gap=gap)
    gives = _give(walk, panel, forces, chosen)
    if isinstance(gives, NotChecked):
        total, open_end = stiff, f"; its upper end is not known: {gives.text}"
    else:
        w_give, open_end = gives.w.named("w_give"), ""
        total = (
            TOTAL_GIVING(w_plate=w, w_give=w_give, w_gap=gap) if shares is None
            else SERVICE_GIVING(r_s=shares, w_plate=w, w_give=w_give, w_gap=gap)
        )  # fmt: skip
    per_case = np.asarray(total.x).reshape(len(panel.sets), len(chosen))
    worst_case = governing(per_case.max(axis=0))
    low = governing(-np.asarray(stiff.x).reshape(per_case.shape)[:, worst_case]) * len(chosen) + worst_case
    high = governing(per_case[:, worst_case]) * len(chosen) + worst_case
    shown = [
        Shown(f"band of panel {name}, low end", stiff, low, labels[low]),
        Shown(f"band of panel {name}, high end{' as far as it is known' if open_end else ''}", total, high, labels[high]),
    ]
    if isinstance(gives, Give):
        shown.append(Shown(f"of it by end fixings and joists, panel {name}", gives.w, high, labels[high]))
    limit = walk.job.limits.top_movement
    if limit is None:
        lack = NotChecked(Lack.INPUT, f"no limit of movement is given (limits.top_movement with its reference){open_end}")
        return not_checked(about, title, lack, demand=total, station=high), shown
    made = compare(about, title, total, limit.named("w_max"), labels, remark=f"upper end of the band{open_end}", cases=cases)
    if open_end and made.ending is Ending.WITHIN:
        assert isinstance(gives, NotChecked)
        lack = NotChecked(gives.lack, f"the upper end of the movement is not known: {gives.text}")
        return replace(made, ending=Ending.NOT_CHECKED, resistance=None, utilisation=None, reason=str(lack), why=lack), shown
    return made, shown


def _give(walk: Walk, panel: PanelSolution, forces: Sequence[MountForces], chosen: Sequence[int]) -> Give | NotChecked:
    """Movement by end fixings and joists, of the mount that has most of it, over sets and cases; or what is not known."""
    found: list[Give] = []
    for m in panel.mounts:
        moments = service_moments(panel, [f for f in forces if f.model is m], chosen)
        one = give(walk, m, *moments)
        if isinstance(one, NotChecked):
            return one
        found.append(one)
    return found[governing([float(np.max(g.w.x)) for g in found])]


def service_moments(panel: PanelSolution, forces: Sequence[MountForces], chosen: Sequence[int]) -> tuple[Value, Value]:
    """Moment and push of a mount before any factor, over sets and the chosen cases, out of all its combinations."""
    where: dict[int, list[tuple[MountForces, int]]] = {c: [] for c in chosen}
    for f in forces:
        for i, case in enumerate(f.cases):
            if (c := panel.cases.index(case)) in where:
                where[c].append((f, i))
    order = [where[c][s] for s in range(len(panel.sets)) for c in chosen]
    every = range(len(order))
    return gather([_single(f.service.M, i) for f, i in order], every), gather([_single(f.service.F, i) for f, i in order], every)


def _single(value: Value, station: int) -> Value:
    """One station of a value as a value of its own."""
    return Value(value.at(station), value.kind, value.take(np.array([station])).origin, value.symbol)


def _shares(panel: PanelSolution, chosen: list[int]) -> Value | None:
    """Share of each case's action that movement is looked at under, over sets and cases; None where it is the whole of all."""
    cases = [panel.cases[c] for c in chosen]
    if all(c.action.service is None or c.parts for c in cases):
        return None
    whole = Value(1.0, "ratio", Numerical("any case but wind alone: the whole action", "counted", "the job"), "r_s")
    own = []
    for c in cases:
        k, s = c.action.size, c.action.service
        own.append(whole if s is None or c.parts or float(k.x) == 0 else SHARE(p_s=s.named("p_s"), p_k=k.named("p_k")))
    return gather(own, [i for _ in panel.sets for i in range(len(own))])


def _gap(walk: Walk, model: MountModel) -> Value | NotChecked:
    gap = walk.job.decking.gap_under
    if gap is None:
        return NotChecked(Lack.INPUT, "the gap between boards and blocking (decking.gap_under)")
    if not model.screws:
        return measured(model.name, 0.0, "no screws").named("w_gap")
    height = walk.job.panel_of(model.mount).height.named("H_g")
    return GAP(g_d=gap.named("g_d"), e_t=by_hand.arm(model), h_0=model.lever, H_g=height)
