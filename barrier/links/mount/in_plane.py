"""Link 5b, loads in the plane of the glass: a push along the barrier, and loads down and up on its top edge.

Each mount gets a force down or up and a turn about the axis across the barrier (:mod:`barrier.links.mount.in_plane_forces`),
its share of the weight held. They are compared by load factor as the push across is: the largest load at which the base
plate has equilibrium and every screw is within its resistance. No case here is added to another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import CORNERS
from barrier.links.mount.in_plane_forces import Group, InPlaneAction, MountShare, along, in_plane_actions, vertical
from barrier.links.mount.resistances import bed_strength, screw_resistance
from barrier.links.mount.sideways import resistance
from barrier.links.walk import Walk
from barrier.result import About, Check, Finding, Lack, LinkResult, NotChecked, Shown, compare, fails, governing, not_checked
from barrier.value import Numerical, Value

METHOD = (
    "largest load at which the yielding bed still has equilibrium and every screw is within its resistance, the weight "
    "held; elastic screws that only pull; least over bed and screw stiffness"
)
ONE_SCREW = Equation(
    Symbol("F_v", "force"),
    "abs(F_al)/n_s",
    symbols("F_al:force, n_s:count"),
    "push shared by the screws in timber",
    "computed",
    title="sideways force on a screw from a push along",
)
MARGIN = 1.0 + 1e-2  # times the least factor so far
KEYS = {"along": "along", "down": "vertical_down", "up": "vertical_up"}


def in_plane(walk: Walk, panels: Sequence[PanelSolution]) -> tuple[LinkResult, tuple[MountShare, ...]]:
    """Compare what every mount gets of the loads in the plane; hand the shares on."""
    checks: list[Check] = []
    shown: list[Shown] = []
    findings: list[Finding] = []
    shares: list[MountShare] = []
    loads = list(in_plane_actions(walk))
    for panel in panels:
        group = Group(walk, panel)
        shown.append(Shown(f"weight of the glass of panel {panel.panel.name}", group.G))
        for load in loads:
            for m, model in enumerate(panel.mounts):
                for share in _shares(group, load, m):
                    if isinstance(share, NotChecked):
                        checks.append(
                            not_checked(
                                check_of(load, "down", model), f"{load.action.title} on mount {model.name}", share, load.standing
                            )
                        )
                    elif model.lacking is None:
                        shares.append(share)
                        checks.extend(_checks(walk, share))
                        shown.extend(_shown(share))
    for load in loads:
        findings.append(Finding(f"{load.action.title[0].upper()}{load.action.title[1:]}: {load.words}.", load.action.source))
    if loads:
        findings.append(Finding(
            "Stress in the glass from loads in its own plane is not calculated; the mounts of a panel are taken as equally stiff "
            "for them, and no such load is added to one across the glass.", loud=walk.basis.any_direction))  # fmt: skip
    link = LinkResult("in_plane", "Loads in the plane of the glass", tuple(checks), tuple(shown), tuple(findings))
    return link, tuple(shares)


def _shares(group: Group, load: InPlaneAction, m: int) -> Iterator[MountShare | NotChecked]:
    if load.action.kind == "along":
        yield along(group, load, m)
        return
    yield vertical(group, load, m, up=False)
    if group.walk.basis.any_direction:
        yield vertical(group, load, m, up=True)


def check_of(load: InPlaneAction, way: str, model: MountModel) -> About:
    """What the check of one mount under one load in the plane, one way, is about."""
    source = "" if load.action.kind != "vertical" else load.action.of
    return About("in_plane", KEYS[way], detail=source, mount=model.name)


def _checks(walk: Walk, share: MountShare) -> Iterator[Check]:
    plate = _plate(walk, share)
    made = [plate, *(_sideways(walk, share, plate) if share.way == "along" else ())]
    yield from (replace(c, combination=share.load.combination.id) for c in made)


def _plate(walk: Walk, share: MountShare) -> Check:
    model, standing, combination = share.model, share.load.standing, share.load.combination
    bed, R_ax = bed_strength(walk, model, combination), screw_resistance(walk, model, combination)
    about, title = check_of(share.load, share.way, model), f"{share.load.action.title}: base plate and screws of mount {model.name}"
    title += {"along": "", "down": ", down", "up": ", up"}[share.way]
    if isinstance(bed, NotChecked):
        return not_checked(about, title, bed, standing, share.total)
    if isinstance(R_ax, NotChecked) and any(s.K_low is not None for s in model.screws):
        return not_checked(about, title, R_ax, standing, share.total)
    R = 0.0 if isinstance(R_ax, NotChecked) else float(R_ax.x)
    f = float(bed.strength.x)
    factors, notes = np.zeros(len(share.labels)), list(share.labels)
    least = float("inf")
    # Uplift first: a later station is asked for little more than the least factor so far, so that it does not govern by a tie.
    for station in np.argsort(np.broadcast_to(np.asarray(share.down.x), len(share.labels)), kind="stable"):
        own, note = MARGIN * least, "holds at least this much"
        for k, end in CORNERS:
            limit = model.limit_in_plane(k, end, share.at(station), f, R, own)
            if limit.factor <= 0.0:
                return fails(about, title, f"no equilibrium: {limit.reason}", share.labels[station], standing, share.total)
            if limit.factor < own:
                own, note = limit.factor, f"{k} bed, {end} screws; {limit.reason}"
        factors[station], notes[station] = own, f"{share.labels[station]}; {note}"
        least = min(least, own)
    inputs = {"f_bed": bed.strength, **model.stiffnesses()}
    if isinstance(R_ax, Value):
        inputs["F_ax_Rd"] = R_ax
    origin = Numerical(
        f"largest load in the plane on mount {model.name}: {share.load.action.title}", METHOD, "contact model of this project",
        inputs, None, None, tuple(notes),
    )  # fmt: skip
    R_P = Value(float(share.total.x) * factors, "force", origin, "P_R")
    return compare(about, title, share.total, R_P, notes, standing=standing)


def _sideways(walk: Walk, share: MountShare, plate: Check) -> Iterator[Check]:
    model, standing = share.model, share.load.standing
    about, title = (
        About("in_plane", "sideways", mount=model.name),
        f"{share.load.action.title}: screws of mount {model.name} pushed sideways",
    )
    R = resistance(walk, model, share.load.combination)
    holding = [s for s in model.screws if s.piece is not None]
    if isinstance(R, NotChecked):
        gone = R.lack is Lack.REACH
        yield fails(about, title, R.text, share.labels[0], standing) if gone else not_checked(about, title, R, standing)
        return
    n_s = counted(f"mounts.{model.name}", len(holding), "screws in timber").named("n_s")
    side = compare(about, title, ONE_SCREW(F_al=share.push, n_s=n_s), R, share.labels, standing=standing)
    yield side
    about, title = (
        About("in_plane", "combined", mount=model.name),
        f"{share.load.action.title}: pull and sideways together, mount {model.name}",
    )
    if plate.utilisation is None or side.utilisation is None:
        why = NotChecked(Lack.INPUT, "one of the two has no utilisation of its own")
        yield not_checked(about, title, why, standing)
        return
    eta = walk.basis.combined(plate.utilisation.named("eta_ax"), side.utilisation.named("eta_v"))
    if isinstance(eta, NotChecked):
        yield not_checked(about, title, eta, standing)
        return
    squares = walk.basis.combined_is_squares
    remark = "a sum of squares; what compares with the other utilisations is its root" if squares else ""
    made = compare(about, title, plate.utilisation, side.utilisation, share.labels, eta=eta, standing=standing, remark=remark)
    yield replace(made, demand=None, resistance=None, squares=squares)


def _shown(share: MountShare) -> Iterator[Shown]:
    model = share.model
    x = np.atleast_1d(np.asarray(share.down.x))
    station = governing(-x) if share.way != "down" else governing(x)
    remark = f"{share.labels[station]}; below 0 it lifts; weight held {'down' if share.way != 'down' else 'with it'} separately"
    yield Shown(f"force down on mount {model.name}", share.down, station, remark, model.name)
    if share.way == "along":
        yield Shown(f"weight that holds mount {model.name} down", share.weight, 0, "favourable, with its own factor")
        turn = governing(np.abs(np.asarray(share.turn.x)))
        yield Shown(f"turn of mount {model.name} about the axis across the barrier", share.turn, turn, share.labels[turn])
