"""Effective thickness of laminated glass by the basis, beside the layered limit the glass is checked at; never compared.

The formulas take supports that let no layer slip. At a clamp at the bottom edge the layers do slip, and only the depth of
the clamp is left to build up the couple between them: there the formulas give 0.54 to 0.99 of the true stress (24 cases computed
as layered solids: least for an interlayer of 3 to 10 MPa, near 1 for a soft one), so they stand beside the layered limit and
decide nothing.
"""

from __future__ import annotations

from barrier.basis import TwoLayers
from barrier.equation import Equation, Symbol, symbols
from barrier.links.glass.panel_solution import PanelSolution, minimum_thickness
from barrier.links.walk import Walk
from barrier.result import Finding, NotChecked, Shown
from barrier.value import Value

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


def beside(walk: Walk, solved: PanelSolution) -> tuple[list[Shown], list[Finding]]:
    """What the basis's effective thickness would be, with its ratio to the layered limit; or why it is not shown."""
    panel, interlayer = solved.panel, solved.panel.interlayer
    if solved.sheet.share is None or interlayer is None:
        return [], []
    found = [t for t in (minimum_thickness(walk, layer) for layer in panel.layers) if isinstance(t, Value)]
    thick = sorted(found, key=lambda t: -float(t.x))
    h_1, h_2 = thick[0].named("h_1"), thick[1].named("h_2")
    two = TwoLayers(
        h_1, h_2, interlayer.thickness.named("h_v"), interlayer.kind, interlayer.temperature, solved.E.named("E"),
        SHORTER(W=panel.width.named("W"), H_g=panel.height.named("H_g")),
    )  # fmt: skip
    name = f"panel {panel.name}"
    h_lay = layered_stress_thickness(solved)
    shown = [Shown(f"stress thickness of {name}, layered limit", h_lay, 0, "this is what the glass is checked with")]
    answer = walk.basis.effective_thickness(two)
    if isinstance(answer, NotChecked):
        return shown, [Finding(f"Effective thickness of {name} is not shown beside the layered limit: {answer}.")]
    shown += [
        Shown(f"effective thickness of {name} for deflection", answer.deflection, 0, f"{answer.words}; {WHY}"),
        Shown(f"effective thickness of {name} for stress", answer.stress, 0, f"{answer.words}; {WHY}"),
        Shown(f"movement of the glass of {name} by the layered limit, over that by the effective thickness",
              MOVES(h_ef_w=answer.deflection.named("h_ef_w"), h_w=solved.sheet.plate.named("h_w")), 0,
              "the layered limit overstates movement, up to three times: the true one lies between"),
        Shown(f"stress of {name} by the effective thickness, over the layered limit",
              RATIO(h_lay=h_lay, h_ef_sigma=answer.stress.named("h_ef_sigma")), 0, WHY),
    ]  # fmt: skip
    return shown, []


def layered_stress_thickness(solved: PanelSolution) -> Value:
    """Thickness that gives the stress of the layer looked at from the whole moment: the glass itself, or the layered limit."""
    if solved.sheet.share is None:
        return solved.thickness.named("t")
    return LAYERED_STRESS(h_w=solved.sheet.plate.named("h_w"), h_1=solved.thickness.named("h_1"))
