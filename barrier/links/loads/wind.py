"""Wind on the glass: a pressure the reader brings, or a class of the basis with the coefficient of a wall that stands free."""

from __future__ import annotations

from barrier.basis import Action
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import Panel
from barrier.links.walk import Walk
from barrier.result import Lack, NotChecked
from barrier.value import Value

GIVEN = Equation(
    Symbol("p_k", "pressure"),
    "C*q_z",
    symbols("C:ratio, q_z:pressure"),
    "pressure of the wind times the coefficient of the barrier; the coefficient is the reader's, his reference stands at the case",
    "computed",
    title="wind on the glass",
)
CLASS = Equation(
    Symbol("p_k", "pressure"),
    "C_pn*q_z",
    symbols("C_pn:ratio, q_z:pressure"),
    "pressure of the wind class times the coefficient of a wall that stands free",
    "computed",
    title="wind on the glass",
)
ABOVE_GROUND = Equation(
    Symbol("h_w", "length"),
    "h_f + g_b + H_g",
    symbols("h_f:length, g_b:length, H_g:length"),
    "geometry: top of the glass above what is below the deck",
    "computed",
    title="height of the wall above the ground",
)


def wind_on(walk: Walk, panel: Panel) -> Action | NotChecked | None:
    """Wind on a panel; None indoors, where nobody gave any."""
    wind = walk.job.wind
    if wind is None or (wind.pressure is None and wind.wind_class is None):
        text = "outdoors and no wind pressure given (wind.pressure with its reference)"
        return NotChecked(Lack.INPUT, text) if walk.job.site.outdoors else None
    if wind.pressure is not None:
        sizes: tuple[Value, Value | None] = (wind.pressure, wind.serviceability)
        source = f"given in the job: {wind.reference}"
    else:
        of_class = walk.basis.wind_pressure(str(wind.wind_class))
        if isinstance(of_class, NotChecked):
            return of_class
        sizes, source = of_class, f"wind class {wind.wind_class}"
    if wind.coefficient is not None:
        C, equation = wind.coefficient.named("C"), GIVEN
        source = f"given in the job: {wind.reference}" if wind.pressure is not None else f"{source}; coefficient: {wind.reference}"
    elif wind.wind_class is not None:
        coefficient = _of_place(walk, panel)
        if isinstance(coefficient, NotChecked):
            return coefficient
        C, equation = coefficient.named("C_pn"), CLASS
        source = f"{source}, {wind.place}; wall that stands free, height and drop as in the job"
    else:
        return Action("wind", "wind", "pressure", sizes[0], "wind", True, source, service=sizes[1])
    p_k, p_s = (None if q is None else equation(**{C.symbol: C, "q_z": q.named("q_z")}) for q in sizes)
    assert p_k is not None
    return Action("wind", "wind", "pressure", p_k, "wind", True, source, service=p_s)


def _of_place(walk: Walk, panel: Panel) -> Value | NotChecked:
    """The coefficient of the basis for where the panel stands."""
    wind, fall = walk.job.wind, walk.job.site.fall_height
    assert wind is not None
    if wind.place is None:
        text = 'where in its run the panel stands (wind.place = "mid-run" or "end panel"), or a coefficient with its reference'
        return NotChecked(Lack.INPUT, text)
    if fall is None:
        return NotChecked(Lack.INPUT, "the fall height, on which the wind coefficient of a raised wall depends")
    top = ABOVE_GROUND(h_f=fall.named("h_f"), g_b=panel.bottom_gap.named("g_b"), H_g=panel.height.named("H_g"))
    return walk.basis.wind_coefficient(wind.place, panel.height.named("c_w"), top)
