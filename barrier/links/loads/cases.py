"""Load cases: one action, or several at once, on one panel, with the combinations they are looked at in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from barrier.basis import Action
from barrier.job.schema import Panel
from barrier.mechanics.plate import Load, PatchLoad
from barrier.result import Combination, Standing
from barrier.value import Value


class Part(NamedTuple):
    """One of several actions at once: its share of its characteristic size, and its case alone."""

    share: Value
    case: Case


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """One load case on one panel, at its characteristic size.

    ``load`` is what the plate model takes; ``resultant`` and ``height`` (above the bottom edge of the glass) are its
    resultant; ``strength`` and ``service`` the combinations it is looked at in. Of several actions at once ``parts`` names each
    with its share, the leading one first; ``action`` is then the leading one's. ``key`` and ``words`` are its id and title
    without the panel.
    """

    id: str
    title: str
    panel: Panel
    action: Action
    load: Load
    resultant: Value
    height: Value
    strength: Combination
    service: Combination
    standing: Standing
    parts: tuple[Part, ...] = ()
    key: str = ""
    words: str = ""

    @property
    def patch(self) -> tuple[float, float, float, float] | None:
        """x0, x1, y0, y1 of a load that stands on a part of the glass, mm; None where it is a line, all over, or several."""
        load = self.load
        return (load.x0, load.x1, load.y0, load.y1) if isinstance(load, PatchLoad) else None


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """The cases of one panel that meet in one combination: their places among the panel's cases, and whether they decide.

    ``standing`` is *required* where one of them is; only those of that standing count where the worst is sought.
    """

    strength: Combination
    service: Combination
    standing: Standing
    cases: tuple[int, ...]


def grouped(cases: Sequence[Case]) -> tuple[Group, ...]:
    """The cases of a panel by their combination, in the order in which combinations occur."""
    found: dict[str, list[int]] = {}
    for i, case in enumerate(cases):
        found.setdefault(case.strength.id, []).append(i)
    groups = []
    for index in found.values():
        decides = any(cases[i].standing is Standing.REQUIRED for i in index)
        standing = Standing.REQUIRED if decides else Standing.INFORMATION
        groups.append(Group(cases[index[0]].strength, cases[index[0]].service, standing, tuple(index)))
    return tuple(groups)
