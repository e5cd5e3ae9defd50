"""Figures of another family of codes where the own one has none: for scale only, compared with nothing.

Only for a timber the job names in that other family; no name is mapped from one family to another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from barrier.basis import Family, Nature, Timber
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.base_plate import MountForces
from barrier.links.mount.resistances import screw_resistance
from barrier.links.walk import Walk
from barrier.result import Combination, NotChecked, Shown
from barrier.value import Value

GUARD: Nature = "barrier"  # the action whose duration a figure for scale is taken for
REMARK = "for scale only, of another code: it is no resistance here and compares with nothing"
Asked = Callable[[Family, Timber, Combination], Value | NotChecked]
STRENGTHS: dict[str, tuple[str, Asked]] = {
    "bearing": ("bearing across the grain", lambda f, t, c: f.bearing(t, c)),
    "bending": ("bending of the blocking", lambda f, t, c: f.bending(t, c)),
    "shear": ("shear of the blocking", lambda f, t, c: f.shear(t, c)),
}


def strength_for_scale(walk: Walk, handed: MountForces, *names: str) -> Iterator[Shown]:
    """Strengths of the wood under a mount by the other family, each where the own family has none."""
    other, model = walk.basis.for_scale(), handed.model
    if other is None or model.wood is None:
        return
    timber = walk.timber(model.wood.names, model.wood.laminated)
    for name in names:
        title, asked = STRENGTHS[name]
        if isinstance(asked(walk.basis, timber, handed.combination), Value):
            continue
        yield from _shown(other, title, model, asked(other, timber, other.strength(GUARD)))


def withdrawal_for_scale(walk: Walk, handed: MountForces) -> Iterator[Shown]:
    """Withdrawal of one screw of a mount by the other family; the caller knows that the own one has none."""
    other, model = walk.basis.for_scale(), handed.model
    if other is None or model.wood is None:
        return
    found = screw_resistance(replace(walk, basis=other), model, other.strength(GUARD))
    yield from _shown(other, "withdrawal of one screw", model, found)


def _shown(other: Family, title: str, model: MountModel, found: Value | NotChecked) -> Iterator[Shown]:
    name = (model.wood.names if model.wood is not None else {}).get(other.key)
    if name is not None and isinstance(found, Value):
        yield Shown(f"{title}, mount {model.name}, by the {other.title} for {name}", found, 0, REMARK)
