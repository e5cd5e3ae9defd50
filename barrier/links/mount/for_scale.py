"""Figures of another family of codes where the own one has none: for scale only, compared with nothing.

Only for a timber the job names in that other family; no name is mapped from one family to another. The nearest family that
has a figure is shown: for New Zealand first the Australian, then the European.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from barrier.basis import FOR_SCALE, Family, Nature, Timber
from barrier.links.ground.geometry import MountModel
from barrier.links.mount.mount_forces import MountForces
from barrier.links.mount.resistances import screw_of, screw_resistance
from barrier.links.mount.sideways import resistance as sideways_resistance
from barrier.links.walk import Walk
from barrier.result import Combination, Lack, NotChecked, Shown
from barrier.value import Value

GUARD: Nature = "barrier"  # the action whose duration a figure for scale is taken for
Found = Value | NotChecked
Asked = Callable[[Family, Timber, Combination], Found]
STRENGTHS: dict[str, tuple[str, Asked]] = {
    "bearing": ("bearing across the grain", lambda f, t, c: f.bearing(t, c)),
    "indentation": ("characteristic bearing across the grain, for the indentation", lambda f, t, c: f.bearing(t, c, True)),
    "bending": ("bending of the blocking", lambda f, t, c: f.bending(t, c)),
    "shear": ("shear of the blocking", lambda f, t, c: f.shear(t, c)),
}


def strength_for_scale(walk: Walk, handed: MountForces, *names: str) -> Iterator[Shown]:
    """Strengths of the wood under a mount by another family, each where the own family has none."""
    model = handed.model
    if model.wood is None:
        return
    timber = walk.timber(model.wood.names, model.wood.laminated)
    for name in names:
        title, asked = STRENGTHS[name]
        if isinstance(asked(walk.basis, timber, handed.combination), Value):
            continue
        yield from first_for_scale(walk, model, title, lambda f, asked=asked: asked(f, timber, f.strength(GUARD)))  # type: ignore[misc]


def withdrawal_for_scale(walk: Walk, handed: MountForces) -> Iterator[Shown]:
    """Withdrawal of one screw of a mount by another family; the caller knows that the own one has none."""
    model = handed.model
    if model.wood is not None:
        yield from first_for_scale(
            walk, model, "withdrawal of one screw",
            lambda f: screw_resistance(replace(walk, basis=f), model, f.strength(GUARD)),
        )  # fmt: skip


def sideways_for_scale(walk: Walk, handed: MountForces) -> Iterator[Shown]:
    """One screw of a mount pushed sideways through the boards, by another family, where the own one has no figure."""
    model = handed.model
    if model.wood is None or not isinstance(sideways_resistance(walk, model, handed.combination), NotChecked):
        return
    yield from first_for_scale(
        walk, model, "one screw pushed sideways",
        lambda f: sideways_resistance(replace(walk, basis=f), model, f.strength(GUARD)),
    )  # fmt: skip


def steel_for_scale(walk: Walk, handed: MountForces) -> Iterator[Shown]:
    """The steel of one screw of a mount in tension by another family, where the own one has no rule for it."""
    screw = screw_of(handed.model)
    if _no_rule(walk.basis.screw_tension(screw, handed.combination)):
        title = "tension of the steel of one screw"
        yield from first_for_scale(walk, handed.model, title, lambda f: f.screw_tension(screw, f.strength(GUARD)))


def distances_for_scale(walk: Walk, model: MountModel, rules: Mapping[str, str]) -> Iterator[Shown]:
    """Least distances of the screws of a mount under a pull by another family, where the own one has no rule for them.

    ``rules``: those that are asked for, each with what it is the distance of.
    """
    screw = screw_of(model)
    for rule, words in rules.items():
        if _no_rule(walk.basis.axial_spacing(rule, screw)):
            yield from first_for_scale(walk, model, words, lambda f, rule=rule: f.axial_spacing(rule, screw))  # type: ignore[misc]


def _no_rule(answer: Found) -> bool:
    return isinstance(answer, NotChecked) and answer.lack is Lack.BASIS


def first_for_scale(walk: Walk, model: MountModel, title: str, asked: Callable[[Family], Found]) -> Iterator[Shown]:
    """The answer of the nearest other family that has one, for the wood of a mount as the job names it there."""
    names = model.wood.names if model.wood is not None else {}
    for other in walk.basis.others():
        name = names.get(other.key)
        found = asked(other) if name is not None else None
        if isinstance(found, Value):
            yield Shown(f"{title}, mount {model.name}, by the {other.title} for {name}", found, 0, FOR_SCALE)
            return
