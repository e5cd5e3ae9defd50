"""How thick the wood has to be that the screws of a mount hold in, where a code ties its distances to that."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.links.ground.geometry import MountModel
from barrier.links.walk import Walk
from barrier.result import About, Check, Lack, NotChecked, compare, not_checked
from barrier.value import Value


def title(name: str) -> str:
    """The title of the check of a mount."""
    return f"thickness of the wood the screws of mount {name} hold in"


def asks(walk: Walk, model: MountModel) -> bool:
    """Whether the basis asks how thick the wood is."""
    return walk.basis.least_thickness(model.mount.screw.diameter) is not None


def thickness(walk: Walk, model: MountModel) -> Iterator[Check]:
    """Compare the wood along the screws of a mount with the least the basis asks for, if it asks."""
    least = walk.basis.least_thickness(model.mount.screw.diameter.named("d"))
    if least is None:
        return
    about, there = About("screws", "thickness", mount=model.name), _along_the_screws(walk, model)
    if isinstance(there, NotChecked):
        yield not_checked(about, title(model.name), there)
    elif isinstance(least, NotChecked):
        yield not_checked(about, title(model.name), least)
    else:
        yield compare(about, title(model.name), least, there.named("t"), [f"mount {model.name}"], remark="required over provided")


def _along_the_screws(walk: Walk, model: MountModel) -> Value | NotChecked:
    """What the screws go into, measured along them: the depth of blocking or edge joist, the thickness of a board."""
    if model.boards_only:
        return walk.job.decking.thickness
    if model.blocking is not None:
        return model.blocking.laid_depth
    depth = walk.job.joists.depth
    return depth if depth is not None else NotChecked(Lack.INPUT, "depth of the edge joist; measure it")
