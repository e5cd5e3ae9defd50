"""Link 2, glass: bending of the panel on its clamps, and what each clamp takes.

A Kirchhoff plate on elastic pads (:mod:`barrier.mechanics.plate`), solved for every case at its characteristic size
and for every pair of pad and base stiffness; every result is the envelope over them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from barrier.basis import Glass, Location
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Panel
from barrier.links.given import counted
from barrier.links.glass.film import Film, layer_of
from barrier.links.glass.laminate import beside, both_broken, film_of, layered_stress_thickness
from barrier.links.glass.panel_solution import PanelSolution, sheet_of, solve_panel
from barrier.links.glass.peak_stations import EDGE_ZONES, FACE_ZONES, PeakStations, peaks_of
from barrier.links.ground.base_stiffness import flexibility
from barrier.links.loads.cases import Case
from barrier.links.walk import Walk
from barrier.result import (
    About,
    Check,
    Finding,
    Lack,
    LinkResult,
    NotChecked,
    Shown,
    Standing,
    compare,
    informing,
    not_checked,
    one_of_each,
)
from barrier.value import Numerical, Value, gather

METHOD = (
    "thin plate on elastic pads, quintic splines, double knots at pad edges; clamps free to move and turn on the "
    "elastic secant of their bases; envelope over pad and base stiffness"
)
FILM_METHOD = (
    "two thin plates with the shear of the interlayer between them, on elastic pads that work on both faces or touch one; quintic "
    "splines; interlayer from soft to stiff; envelope over pad and base stiffness"
)
MODEL_FACTOR = Equation(
    Symbol("sigma_Ek", "stress"),
    "(1 + 0.3*t/d_p)*sigma_plate",
    symbols("t:length, d_p:length, sigma_plate:stress"),
    "model factor of thin-plate theory beside 3-D solids, computed for this project (24 cases)",
    "computed",
    title="face stress above a clamp, at the characteristic action",
)
LINEAR = "factor of the combination on the action; the glass is linear"
NAIVE = Equation(
    Symbol("sigma_naive", "stress"),
    "6*H_k*y_Q/(W*t**2)",
    symbols("H_k:force, y_Q:length, W:length, t:length"),
    "beam over the whole width: common, and wrong for glass on clamps",
    "computed",
    title="stress if the whole width bent alike",
)
EFFECTIVE_WIDTH = Equation(
    Symbol("b_eff", "length"),
    "((W/n)**-2.5 + (b_p + 2.1*d_p)**-2.5)**-0.4",
    symbols("W:length, n:count, b_p:length, d_p:length"),
    "effective width at a clamp, fitted for this project to 60 panels (-8 to +10 %, line load, equal pitch)",
    "computed",
    title="width of glass that works at one clamp",
)
HAND = Equation(
    Symbol("sigma_hand", "stress"),
    "6*H_k*y_Q/(n*b_eff*t**2)",
    symbols("H_k:force, y_Q:length, n:count, b_eff:length, t:length"),
    "hand check: moment of one clamp over its effective width",
    "computed",
    title="stress by the effective width",
)


WEAKER = ("toughened", "heat-strengthened", "annealed")  # each weaker than the one before


def glass(
    walk: Walk, cases: Sequence[Case], under_rail: Mapping[str, PanelSolution]
) -> tuple[LinkResult, tuple[PanelSolution, ...]]:
    """Solve every panel and compare its stresses; hand the panels on. ``under_rail``: those solved with the rail on them."""
    solved: list[PanelSolution] = []
    checks: list[Check] = []
    shown: list[Shown] = []
    findings: list[Finding] = []
    for panel in walk.job.panels:
        own = tuple(c for c in cases if c.panel is panel)
        sheet = sheet_of(walk, panel)
        if isinstance(sheet, NotChecked):
            checks.append(not_checked(glass_of(walk, panel, "face"), "bending of the glass", sheet))
            continue
        if not own:
            continue
        film = film_of(walk, panel, own)
        if panel.name in under_rail:
            solution, film = under_rail[panel.name], UNDER_A_RAIL
        else:
            solution = solve_panel(walk, panel, sheet, own, film if isinstance(film, Film) else None)
        solved.append(solution)
        for m in solution.mounts:
            if m.lacking is not None:
                findings.append(
                    Finding(
                        f"Mount {m.name} stands on what is not known well enough. The glass is solved with it on a rigid base: "
                        "what the other mounts and the glass really take may be more than is shown.",
                        loud=True,
                    )
                )
            elif flexibility(m, "soft") is None:
                findings.append(
                    Finding(
                        f"Mount {m.name} has no equilibrium on its timber. The glass is solved as if it held: what the other "
                        "mounts and the glass really take is more than is shown.",
                        loud=True,
                    )
                )
        checks.extend(_checks(walk, solution))
        if len(panel.layers) > 1:
            checks.append(both_broken(panel, glass_of(walk, panel, "both_broken")))
        shown.extend(_shown(walk, solution))
        values, words = beside(walk, solution, film)
        shown.extend(values)
        findings.extend(words)
    if any(p.is_channel for p in solved):
        findings.append(Finding("A continuous channel is taken as one mount on a plate as long as itself.", loud=True))
    if scope := walk.basis.glass_scope():
        findings.append(Finding(scope, "scope of the standard", loud=True))
    findings.append(Finding("A stress within one thickness of an edge is compared with the edge strength: our reading, no source."))
    return LinkResult("glass", "Glass on its clamps", tuple(checks), tuple(shown), tuple(findings)), tuple(solved)


UNDER_A_RAIL = NotChecked(Lack.REACH, "under a rail its layers are taken to slide on one another")


def glass_of(walk: Walk, panel: Panel, kind: str) -> About:
    """What a check of the glass of a panel is about."""
    return About("glass", kind, panel=panel.name, alone=len(walk.job.panels) == 1)


LOCATIONS: dict[Location, tuple[tuple[str, ...], str]] = {
    "face": (FACE_ZONES, "bending of the glass, face"),
    "edge": (EDGE_ZONES, "bending of the glass, edges"),
}


def _checks(walk: Walk, solved: PanelSolution) -> tuple[Check, ...]:
    wind = walk.job.wind
    breakage = wind.breakage if wind is not None else None
    kinds = [Glass(kind, solved.panel.surface, solved.panel.edge, t, breakage) for kind, t in _layers(solved)]
    found = []
    for location in LOCATIONS:
        for standing in (Standing.REQUIRED, Standing.INFORMATION):
            for group in solved.groups:
                if chosen := _of(solved, group.strength.id, standing):
                    answers = [walk.basis.glass_strength(kind, location, group.strength) for kind in kinds]
                    found.append(_check(walk, solved, location, standing, chosen, answers))
    return one_of_each(found)


def _layers(solved: PanelSolution) -> list[tuple[str, Value]]:
    """Kind and thickness of every layer that has a strength of its own: both of unequal ones solved as they are; else one, the
    weakest kind, for either layer may be the one that is pushed."""
    kinds = [layer.glass for layer in solved.panel.layers]
    if solved.film is not None and solved.film.unequal:
        return list(zip(kinds, solved.film.layers, strict=True))
    return [(max(kinds, key=WEAKER.index), solved.thickness)]


def _of(solved: PanelSolution, combination: str, standing: Standing) -> list[int]:
    """The cases of a combination that have this standing."""
    return [i for i, c in enumerate(solved.cases) if c.strength.id == combination and c.standing is standing]


def _check(
    walk: Walk, solved: PanelSolution, location: Location, standing: Standing, chosen: list[int],
    strengths: Sequence[Value | NotChecked],
) -> Check:  # fmt: skip
    """One glass check in one combination, over its cases, sets, faces and zones; each layer against its own strength."""
    zones, title = LOCATIONS[location]
    stress, stations, cases, layers = _stress(solved, zones, chosen)
    strength = next((s for s in strengths if isinstance(s, NotChecked)), None) or _each(
        [s for s in strengths if isinstance(s, Value)], layers
    )
    combination = solved.cases[chosen[0]].strength
    demand = combination.applied(stress.named("sigma_Ek"), "sigma_Ed", "stress in the glass", LINEAR)
    alone = len(combination.natures) == 1
    about, tail = glass_of(walk, solved.panel, location), ""
    if standing is Standing.INFORMATION and alone:
        about, tail = replace(about, informs=True), " (information)"
    made = compare(
        about, title + tail, demand, strength, stations, standing=standing, combination=combination.id,
        cases=[solved.cases[i].id for i in cases],
    )  # fmt: skip
    return made if standing is Standing.REQUIRED else informing(made, combination)


def _each(values: list[Value], layer: list[int]) -> Value:
    """The value of every station's layer; of one layer it is the same at all."""
    return values[0] if len(values) == 1 else gather(values, layer).named(values[0].symbol)


class _Stress(NamedTuple):
    """Characteristic stresses of the glass, their stations, and the case and the layer of each station."""

    value: Value
    stations: PeakStations
    cases: list[int]
    layers: list[int]


def _stress(solved: PanelSolution, zones: Sequence[str], chosen: Sequence[int]) -> _Stress:
    """Peak characteristic stresses over sets x chosen cases x faces x zones."""
    at, plate_stress = peaks_of(solved, zones, chosen)
    every, layers = _layers(solved), np.zeros(len(at), dtype=int)
    if len(every) > 1:
        of_set = {turned: [layer_of(face, turned) for face in solved.faces] for turned in (False, True)}
        turned = at.over("set", solved.turned)
        layers = np.where(turned > 0.0, at.over("face", of_set[True]), at.over("face", of_set[False])).astype(int)
    cases, layer = at.over("case", chosen).astype(int).tolist(), layers.tolist()
    origin = Numerical(
        "largest principal stress of the plate", METHOD if solved.film is None else FILM_METHOD, "see the validation tests",
        solved.solved_from(cases), solved.residual, None, at,
    )  # fmt: skip
    raw = Value(plate_stress, "stress", origin, "sigma_plate")
    if solved.sheet.share is not None and solved.film is None:
        raw = LAYER_STRESS(s_l=solved.sheet.share, sigma_w=raw.named("sigma_w"))
    factored = [zone in ("interior", "side") and not solved.is_channel for zone in zones]
    t = _each([t for _, t in every], layer).named("t")
    if not any(factored):
        found = raw.named("sigma_Ek")
    elif all(factored):
        found = MODEL_FACTOR(t=t, d_p=_depth(solved), sigma_plate=raw)
    else:  # edges: only a vertical edge takes the model factor; the others keep the plate's own value
        words = "1 where the model factor applies", "vertical edges only", "see the model factor"
        share = Value(at.over("zone", factored), "ratio", Numerical(*words, labels=at), "s_m")
        found = MODEL_FACTOR_EDGE(t=t, d_p=_depth(solved), sigma_plate=raw, s_m=share)
    return _Stress(found, at, cases, layer)


class PeakAt(NamedTuple):
    """Where a glass check has its governing stress: set, case, face, zone, place (mm), and the plate's own stress (MPa)."""

    set: int
    case: int
    face: str
    zone: str
    x: float
    y: float
    stress: float


def peak_of(solved: PanelSolution, check: Check) -> PeakAt:
    """The peak behind a glass check of a panel; the stations of :func:`_stress` in their order."""
    zones = FACE_ZONES if check.about.kind == "face" else EDGE_ZONES
    chosen = _of(solved, check.combination, check.standing)
    s, c, face, zone = peaks_of(solved, zones, chosen)[0].place(check.station)
    peak = solved.peaks[s][face][zone]
    return PeakAt(s, c, face, zone, float(peak.x[c]), float(peak.y[c]), float(peak.stress[c]))


LAYER_STRESS = Equation(
    Symbol("sigma_plate", "stress"),
    "s_l*sigma_w",
    symbols("s_l:ratio, sigma_w:stress"),
    "layered limit of laminated glass",
    "computed",
    title="stress of the thicker layer",
)
MODEL_FACTOR_EDGE = Equation(
    Symbol("sigma_Ek", "stress"),
    "(1 + s_m*0.3*t/d_p)*sigma_plate",
    symbols("s_m:ratio, t:length, d_p:length, sigma_plate:stress"),
    "model factor of thin-plate theory beside 3-D solids (s_m = 1 at a vertical edge, 0 at bottom and top)",
    "computed",
    title="edge stress, at the characteristic action",
)
DEPTH = Equation(
    Symbol("d_p", "length"),
    "y_t - y_b",
    symbols("y_t:length, y_b:length"),
    "geometry: the shallowest pad",
    "computed",
    title="depth of the pad",
)


def _depth(solved: PanelSolution) -> Value:
    pads = [p for m in solved.mounts for p in m.mount.pads]
    shallow = min(pads, key=lambda p: float(p.top.x) - float(p.bottom.x))
    return DEPTH(y_t=shallow.top.named("y_t"), y_b=shallow.bottom.named("y_b"))


OVER = Equation(
    Symbol("r", "ratio"),
    "sigma_Ek/sigma_x",
    symbols("sigma_Ek:stress, sigma_x:stress"),
    "peak of the plate on its clamps over a hand value, both characteristic",
    "computed",
    title="plate over hand value",
)


def _peak(solved: PanelSolution, case: int) -> Value:
    """Largest face stress of one case away from edges, nominal pads and soft bases, model factor and layer share in it.

    Of laminated glass at its layered limit, which is what hand formulas know.
    """
    wanted = next(i for i, (pads, _) in enumerate(solved.sets) if pads.stiffness == "nominal" and not pads.one_face)
    peaks = solved.peaks[wanted] if solved.film is None else solved.limits[0].peaks(float(solved.thickness.x))
    stress = float(peaks["load"]["interior"].stress[case])
    if solved.sheet.share is not None:
        stress *= float(solved.sheet.share.x)
    label = f"{solved.cases[case].title}; nominal pads, {solved.sets[wanted][1]} bases"
    origin = Numerical(
        "largest face stress of the layer looked at", METHOD, "thin-plate theory; see the validation tests",
        solved.solved_from([case]), solved.residual, None, (label,),
    )  # fmt: skip
    plate = Value(stress, "stress", origin, "sigma_plate")
    if solved.is_channel:
        return plate.named("sigma_Ek")
    return MODEL_FACTOR(t=solved.thickness.named("t"), d_p=_depth(solved), sigma_plate=plate)


def _shown(walk: Walk, solved: PanelSolution) -> list[Shown]:
    """The hand checks that stand beside the plate, for the line load (or the first case)."""
    case = next((c for c in solved.cases if c.action.kind == "line"), solved.cases[0])
    t, W = layered_stress_thickness(solved).named("t"), solved.panel.width.named("W")
    pads = [p for m in solved.mounts for p in m.mount.pads]
    n = counted(f"panels.{solved.panel.name}.mounts", len(solved.mounts), "number of mounts").named("n")
    naive = NAIVE(H_k=case.resultant, y_Q=case.height, W=W, t=t)
    found = [Shown(f"naive, whole width: {case.title}", naive, 0, "wrong for clamps; shown because it is often done")]
    hands: list[tuple[Value, str, str]] = [(naive, "naive value", "by so much that is too low")]
    if not solved.is_channel:
        b_eff = EFFECTIVE_WIDTH(W=W, n=n, b_p=pads[0].width.named("b_p"), d_p=_depth(solved))
        hand = HAND(H_k=case.resultant, y_Q=case.height, n=n, b_eff=b_eff, t=t)
        found.insert(0, Shown(f"hand check, effective width: {case.title}", hand, 0, "characteristic; beside the plate's peak"))
        hands.insert(0, (hand, "hand check", "0.9 to 1.1 where clamps are alike, evenly spaced and away from the ends"))
    if float(naive.x) > 0.0:  # a pressure of nothing has no ratio
        peak = _peak(solved, solved.cases.index(case))
        for value, name, words in hands:
            ratio = OVER(sigma_Ek=peak, sigma_x=value.named("sigma_x"))
            found.append(Shown(f"the plate's peak over the {name}: {case.title}", ratio, 0, words))
    return found
