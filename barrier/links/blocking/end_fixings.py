"""What holds the ends of a piece of blocking to the joists: rated brackets, nails in end grain, or nothing."""

from __future__ import annotations

from barrier.basis import Answer, Driven, Timber
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import EndFixing
from barrier.links.given import counted, nothing
from barrier.links.walk import Walk
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value

APART = Equation(
    Symbol("s_e", "length"),
    "h_u + h_o - h_pc",
    symbols("h_u:length, h_o:length, h_pc:length"),
    "geometry: the highest above the lower edge, the lowest below the upper edge, of a piece of this depth",
    "computed",
    title="distance between the highest and the lowest fastener at an end",
)
HELD = {"uplift": "down", "down": "up", "torque": "against turning", "sideways": "sideways"}
KIND = {"uplift": "force", "down": "force", "torque": "moment", "sideways": "force"}
OTHER = {
    "torque": "; a rating for uplift is no rating for torque: ask its supplier what one end holds against turning",
    "sideways": "; ask its supplier what one end holds level, across the piece, beside its pull",
}


def nothing_held(fixing: EndFixing | None, way: str) -> str:
    """Why an end has no resistance in a direction (``way``: uplift, down, torque, sideways), in words."""
    held = f"nothing that counts holds this end {HELD[way]}"
    if fixing is not None and fixing.fixing in ("nails", "screws"):
        return f"{fixing.fixing} driven through the joist stand in end grain, where the code credits them with nothing"
    return held


def end_resistance(
    walk: Walk, fixing: EndFixing | None, way: str, combination: Combination, timber: Timber | None = None
) -> Answer:
    """Resistance of one end of a piece of ``timber`` in a direction, at the level of the combination."""
    if fixing is None:
        return NotChecked(Lack.INPUT, f"no end fixing is given; nothing is credited that holds the end {HELD[way]}")
    if fixing.fixing == "unknown":
        return NotChecked(Lack.INPUT, "how the ends of the blocking are fixed is not known; nothing is credited. Look from below")
    if fixing.fixing == "none":
        return nothing(KIND[way])
    if fixing.fixing == "bracket":
        rating = getattr(fixing, way)
        if rating is None:
            return NotChecked(Lack.INPUT, f"the bracket has no stated rating for this direction ({way}){OTHER.get(way, '')}")
        return walk.basis.bracket(rating.named("R_k"), fixing.meaning or "", walk.timber({}), combination)
    if fixing.grain == "end":
        if fixing.number is None or timber is None:
            return walk.basis.end_grain(combination, KIND[way])
        joists = walk.job.joists
        driven = Driven(
            fixing.fixing, counted("blocking", fixing.number, f"{fixing.fixing} in one end of a piece"), fixing.diameter,
            fixing.length, joists.width, walk.timber(joists.material), timber, _apart(fixing, timber),
        )  # fmt: skip
        return walk.basis.driven_into_end(driven, combination, KIND[way])
    return NotChecked(Lack.BASIS, f"{fixing.fixing} in side grain at the end of the blocking")


def _apart(fixing: EndFixing, timber: Timber) -> Value | None:
    """How far the highest fastener of an end stands above the lowest; a piece laid flat is taken as deep as it is wide."""
    if fixing.highest is None or fixing.lowest is None or timber.depth is None:
        return None
    return APART(h_u=fixing.highest.named("h_u"), h_o=fixing.lowest.named("h_o"), h_pc=timber.depth.named("h_pc"))
