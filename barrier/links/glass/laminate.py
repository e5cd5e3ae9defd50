"""Laminated glass beside other answers: layered and monolithic limits, effective thickness of the basis; never compared.

Laminated glass is checked with the shear of its interlayer (:mod:`barrier.links.glass.film`), or at its layered limit where the
interlayer is not known. The formulas of effective thickness take supports that let no layer slip. At a clamp at the bottom
edge the layers do slip, and only the depth of the clamp is left to build up the couple between them: there the formulas give 0.54
to 0.99 of the true stress (24 cases computed as layered solids: least for an interlayer of 3 to 10 MPa, near 1 for a soft
one), so they stand beside and decide nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

from barrier.basis import TwoLayers
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Panel
from barrier.links.glass.film import FACES, Film, film_between
from barrier.links.glass.panel_solution import PanelSolution, minimum_thickness, thicknesses
from barrier.links.loads.cases import Case
from barrier.links.walk import Walk
from barrier.mechanics.plate import FACES as SIDES
from barrier.result import About, Check, Finding, Lack, NotChecked, Shown, Standing, not_checked
from barrier.value import Numerical, Value

LAYERED_STRESS = Equation(
    Symbol("h_lay", "length"),
    "sqrt(h_w**3/h_1)",
    symbols("h_w:length, h_1:length"),
    "layered limit: thickness of a single sheet with the stress of the thicker layer",
    "computed",
    title="stress thickness of the layered limit",
)
RATIO = Equation(
    Symbol("r_sigma", "ratio"),
    "h_lay**2/h_ef_sigma**2",
    symbols("h_lay:length, h_ef_sigma:length"),
    "stress goes with the inverse square of the thickness, the moment being the same",
    "computed",
    title="stress by the effective thickness over that of the layered limit",
)
MOVES = Equation(
    Symbol("r_w", "ratio"),
    "h_ef_w**3/h_w**3",
    symbols("h_ef_w:length, h_w:length"),
    "movement goes with the inverse cube of the thickness",
    "computed",
    title="movement of the glass by the layered limit over that of the effective thickness",
)
SHORTER = Equation(
    Symbol("a", "length"), "min(W, H_g)", symbols("W:length, H_g:length"), "geometry: shorter side of the panel", "computed"
)  # fmt: skip
WHY = (
    "not compared with anything: supports slip at the clamp, and the effective thickness gives 0.54 to 0.99 of the true clamp "
    "stress (24 cases computed as layered solids: least for an interlayer of 3 to 10 MPa, near 1 for a soft one)"
)
OVER_LIMIT = Equation(
    Symbol("r_film", "ratio"),
    "sigma_film/sigma_lay",
    symbols("sigma_film:stress, sigma_lay:stress"),
    "largest face stress with the shear of the interlayer over that of layers that slide freely",
    "computed",
    title="laminate over its layered limit",
)
SOLID_OVER_LIMIT = Equation(
    Symbol("r_mono", "ratio"),
    "sigma_mono/sigma_lay",
    symbols("sigma_mono:stress, sigma_lay:stress"),
    "largest face stress of layers that do not slide at all over that of layers that slide freely",
    "computed",
    title="monolithic limit over the layered one",
)
EFFECTIVE_OVER = Equation(
    Symbol("r_ef", "ratio"),
    "r_sigma/r_film",
    symbols("r_sigma:ratio, r_film:ratio"),
    "both over the layered limit",
    "computed",
    title="stress by the effective thickness over that of the laminate",
)
LAYERED_WORDS = (
    "at its layered limit: as if its layers slid freely on one another. Where its pads touch one face only and the film is soft "
    "that is up to 16 % too low, on the thinner of unequal layers up to 18 %; under a stiff film it is up to 3 times too high, and "
    "movement comes out too large (computed)"
)


def film_of(walk: Walk, panel: Panel, cases: Sequence[Case]) -> Film | NotChecked | None:
    """The laminate of a panel; None where there is none or the job wants layers that slide; else what is not known of it."""
    found = thicknesses(walk, panel)
    return found if isinstance(found, NotChecked) else film_between(walk, panel, found, cases)


def both_broken(panel: Panel, about: About) -> Check:
    """What a laminate with both layers broken still holds: named, and not checked."""
    lack = NotChecked(
        Lack.BASIS,
        "what broken layers hold together depends on the interlayer, on how the glass breaks and on the clamps; only a test of the "
        "whole tells. One layer broken is calculated as a situation of its own",
    )
    return not_checked(about, f"panel {panel.name} with both layers broken", lack, Standing.INFORMATION)


def beside(walk: Walk, solved: PanelSolution, film: Film | NotChecked | None) -> tuple[list[Shown], list[Finding]]:
    """What stands beside the stresses of laminated glass: its interlayer, its faces, its limits and what the basis's effective
    thickness would be, with ratios; or why something is not shown."""
    panel, interlayer = solved.panel, solved.panel.interlayer
    if solved.sheet.share is None or interlayer is None:
        return [], []
    found = [t for t in (minimum_thickness(walk, layer, panel.surface) for layer in panel.layers) if isinstance(t, Value)]
    thick = sorted(found, key=lambda t: -float(t.x))
    h_1, h_2 = thick[0].named("h_1"), thick[1].named("h_2")
    two = TwoLayers(
        h_1, h_2, interlayer.thickness.named("h_v"), interlayer.kind, interlayer.temperature, solved.E.named("E"),
        SHORTER(W=panel.width.named("W"), H_g=panel.height.named("H_g")),
    )  # fmt: skip
    name = f"panel {panel.name}"
    h_lay = layered_stress_thickness(solved)
    remark = "this is what the glass is checked with" if solved.film is None else "beside it only; hand formulas know no more"
    shown, findings = [Shown(f"stress thickness of {name}, layered limit", h_lay, 0, remark)], [_how(name, film)]
    r_film = None
    if solved.film is not None:
        values, r_film = _with_film(solved, solved.film, name)
        shown += values
    answer = walk.basis.effective_thickness(two)
    if isinstance(answer, NotChecked):
        return shown, [*findings, Finding(f"Effective thickness of {name} is not shown beside the layered limit: {answer}.")]
    r_sigma = RATIO(h_lay=h_lay, h_ef_sigma=answer.stress.named("h_ef_sigma"))
    shown += [
        Shown(f"effective thickness of {name} for deflection", answer.deflection, 0, f"{answer.words}; {WHY}"),
        Shown(f"effective thickness of {name} for stress", answer.stress, 0, f"{answer.words}; {WHY}"),
        Shown(
            f"movement of the glass of {name} by the layered limit, over that by the effective thickness",
            MOVES(h_ef_w=answer.deflection.named("h_ef_w"), h_w=solved.sheet.plate.named("h_w")),
            0,
            "the layered limit overstates movement, up to three times: the true one lies between",
        ),
        Shown(f"stress of {name} by the effective thickness, over the layered limit", r_sigma, 0, WHY),
    ]
    if r_film is not None:
        over = EFFECTIVE_OVER(r_sigma=r_sigma, r_film=r_film)
        shown.append(Shown(f"stress of {name} by the effective thickness, over that of the laminate", over, 0, WHY))
    return shown, findings


def _how(name: str, film: Film | NotChecked | None) -> Finding:
    """How the laminate is taken, and why."""
    source = "mechanics of this project, against layered solids"
    if isinstance(film, Film):
        moduli = "; ".join(r.words for r in film.ranges)
        return Finding(
            f"The layers of {name} are coupled by the shear of their interlayer alone ({moduli}); clamps hold no layer "
            "against slipping, and pads are looked at on both faces and on one. Each layer carries its own stress; the largest "
            "of all counts. Each load takes the modulus of its own duration, or of the next longer one that is tabulated; weight "
            "takes none, for it bends no upright glass. Where a crowd leans for longer the film is softer still: ask its supplier.",
            source,
        )
    why = f"is not known: {film}" if isinstance(film, NotChecked) else "is not to be counted, as the job says"
    return Finding(f"Laminated glass of {name} is taken {LAYERED_WORDS}. Its interlayer {why}.", source, loud=True)


def _with_film(solved: PanelSolution, film: Film, name: str) -> tuple[list[Shown], Value]:
    """Interlayer, limits and faces of a laminate, for the line load (or the first case); and its ratio to the layered limit."""
    case = next((i for i, c in enumerate(solved.cases) if c.action.kind == "line"), 0)
    words = solved.cases[case].title
    shown = [Shown(f"shear modulus of the interlayer of {name}", G, 0, how) for G, how in film.moduli]
    wanted = next(
        i for i, (pads, base) in enumerate(solved.sets) if pads.stiffness == "nominal" and not pads.one_face and base == "soft"
    )
    largest = {}
    for face, zones in solved.peaks[wanted].items():
        stress = float(zones["interior"].stress[case])
        largest[face] = _stress(solved, case, max(stress, 0.0), f"{words}; {FACES[face]}", "sigma_film")
    shown += [
        Shown(f"plate stress of {name}, {FACES[face]}: {words}", value, 0, "characteristic, soft film, nominal pads on both faces")
        for face, value in largest.items()
    ]
    limits = [
        _stress(solved, case, x, words, symbol)
        for x, symbol in zip(_limits(solved, film, case), ("sigma_lay", "sigma_mono"), strict=True)
    ]
    most = max(largest.values(), key=lambda v: float(v.x))
    r_film = OVER_LIMIT(sigma_film=most, sigma_lay=limits[0])
    shown += [
        Shown(f"stress of {name} over its layered limit: {words}", r_film, 0, "soft film, nominal pads on both faces"),
        Shown(f"monolithic limit of {name} over the layered one: {words}",
              SOLID_OVER_LIMIT(sigma_mono=limits[1], sigma_lay=limits[0]), 0, "a clamp never reaches it, however stiff the film"),
    ]  # fmt: skip
    return shown, r_film


def _limits(solved: PanelSolution, film: Film, case: int) -> tuple[float, float]:
    """Largest face stress (MPa) at the layered limit, of the thicker layer, and at the monolithic one, of the farther face."""
    slide, solid = (
        max(float(p[f]["interior"].stress[case]) for f in SIDES)
        for p in (s.peaks(float(solved.thickness.x)) for s in solved.limits)
    )
    assert solved.sheet.share is not None
    h_1, h_2 = (float(t.x) for t in film.layers)
    sheet = film.sheet((1.0, 1.0), (float(solved.E.x), float(solved.nu.x)), film.modulus.low)
    farther = max(h_1 / 2 + sheet.distance * h_2 / (h_1 + h_2), h_2 / 2 + sheet.distance * h_1 / (h_1 + h_2))
    return slide * float(solved.sheet.share.x), solid * farther / (sheet.monolithic / 2)


def _stress(solved: PanelSolution, case: int, x: float, label: str, symbol: str) -> Value:
    origin = Numerical(
        "largest principal stress away from edges", "plate of two layers; as single sheets for the limits",
        "see the validation tests", solved.solved_from([case]), solved.residual, None, (label,),
    )  # fmt: skip
    return Value(x, "stress", origin, symbol)


def layered_stress_thickness(solved: PanelSolution) -> Value:
    """Thickness that gives the stress of the layer looked at from the whole moment: the glass itself, or the layered limit."""
    if solved.sheet.share is None:
        return solved.thickness.named("t")
    return LAYERED_STRESS(h_w=solved.sheet.plate.named("h_w"), h_1=solved.thickness.named("h_1"))
