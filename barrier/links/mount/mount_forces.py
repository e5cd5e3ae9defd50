"""What the base plate of a mount hands on: moment and push of its stations, and its contact where the moment is largest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import CORNERS
from barrier.links.loads.cases import Case
from barrier.links.mount.resistances import BedStrength
from barrier.mechanics import contact
from barrier.result import Check, Combination, Ending, NotChecked, Standing, informing, not_checked
from barrier.value import Numerical, Value, walk

YIELDING = (
    "contact of a rigid plate with a bed that only pushes and yields, and with elastic screws that only pull; plate, screws, "
    "hole, packers and the joints of the wood as the plan shows them; at the largest moment that decides"
)
LARGEST = (
    "largest moment at which the yielding bed still has equilibrium and every screw is within its resistance; elastic "
    "screws that only pull; least over bed and screw stiffness and both directions"
)
SIGNS = {"outward": -1.0, "inward": 1.0}


class Corner(NamedTuple):
    """One direction and one end of the stiffness bracket, and the contact there."""

    sign: str
    bed: str
    screws: str
    contact: contact.Contact
    weighs: bool = False

    @property
    def label(self) -> str:
        """In words: direction, bed and screws, and whether the glass weighs on the mount."""
        return f"{self.sign}, {self.bed} bed, {self.screws} screws" + (", weight on it" if self.weighs else "")


@dataclass(frozen=True, slots=True, eq=False)
class Service:
    """Moment, push and twist of the stations of a mount at the characteristic action, and the combination of that level."""

    combination: Combination
    M: Value
    F: Value
    M_z: Value
    weight: Value


@dataclass(frozen=True, eq=False)
class MountForces:
    """What a mount hands on in one combination: its model and the moment and push of its stations (set x case of its panel).

    ``service`` has the same before any factor; ``cases`` is the case of every station; ``standing`` says whether the
    combination decides, and ``counted`` are the stations of cases that do as it does; ``worst`` is the one of them with the
    largest moment; ``bed`` and ``R_ax`` are the strengths in this combination.
    """

    model: MountModel
    combination: Combination
    standing: Standing
    M_Ed: Value
    F_Ed: Value
    M_z: Value
    service: Service
    labels: tuple[str, ...]
    cases: tuple[Case, ...]
    worst: int
    counted: NDArray[np.intp]
    bed: BedStrength | NotChecked
    R_ax: Value | NotChecked
    weight: Value

    @property
    def counted_labels(self) -> list[str]:
        """Labels of the stations that count."""
        return [self.labels[i] for i in self.counted]

    @property
    def counted_cases(self) -> list[str]:
        """Ids of the cases of the stations that count."""
        return [self.cases[i].id for i in self.counted]

    @property
    def worst_case(self) -> Case:
        """The case of the largest moment."""
        return self.cases[self.worst]

    def own(self, checks: Iterable[Check]) -> Iterator[Check]:
        """Checks made in this combination, with its name and standing; the case of the largest moment where none is named.

        Of a combination that informs, those that would inform anyway are left out: the combination that decides has them.
        """
        for c in map(self._answered, checks):
            named = replace(c, combination=self.combination.id, case=c.case or self.worst_case.id)
            if self.standing is Standing.REQUIRED:
                yield named
            elif c.standing is Standing.REQUIRED:
                yield informing(named, self.combination)

    def _answered(self, c: Check) -> Check:
        """A check as it is, but not *within* by a contact on a bed whose strength nobody knows.

        Such a bed is taken as elastic and presses at the very edge of the plate as hard as it has to: screws and pieces of the
        wood that yields get more. What exceeds even so exceeds.
        """
        if not isinstance(self.bed, NotChecked) or c.ending is not Ending.WITHIN:
            return c
        parts = walk(*(v for v in (c.demand, c.resistance, c.utilisation) if v is not None))
        if not any(isinstance(v.origin, Numerical) and v.origin.method in (YIELDING, LARGEST) for v in parts):
            return c
        why = NotChecked(self.bed.lack, f"it depends on where the bed under the base plate yields: {self.bed.text}")
        return not_checked(c.about, c.title, why, c.standing)

    @property
    def M_worst(self) -> Value:
        """The largest moment that decides, as a value of its own."""
        return self.M_Ed.take(np.array([self.worst]))

    def solved_from(self, elastic: bool = False, service: bool = False) -> dict[str, Value]:
        """What the contact at the largest moment rests on: that moment, the stiffnesses, and what the bed yields at."""
        of, symbol = (self.service.M, "M_Ek") if service else (self.M_Ed, "M_Ed")
        M = Value(of.at(self.worst), "moment", of.take(np.array([self.worst])).origin, symbol)
        found = {symbol: M, **self.model.stiffnesses(not service)}
        if not elastic and not isinstance(self.bed, NotChecked):
            found["f_bed"] = self.bed.strength.named("f_bed")
        found["N_k" if service else "N_Gd"] = self.service.weight if service else self.weight
        return found

    def tension_origin(self, labels: Sequence[str]) -> Numerical:
        """Where screw tensions at the design action come from, station by station."""
        return Numerical(
            f"largest screw tension of mount {self.model.name} at the design action", YIELDING, "contact model of this project",
            self.solved_from(), None, None, tuple(labels),
        )  # fmt: skip

    @property
    def label(self) -> str:
        """Where the largest moment comes from."""
        return self.labels[self.worst]

    @cached_property
    def at_design(self) -> tuple[Corner, ...]:
        """Contact at the largest moment, over signs and stiffness."""
        f = None if isinstance(self.bed, NotChecked) else float(self.bed.strength.x)
        return self._corners(float(self.M_Ed.at(self.worst)), f, True)

    @cached_property
    def with_weight(self) -> tuple[Corner, ...]:
        """The same, and then the same once more with the glass weighing on the mount."""
        f = None if isinstance(self.bed, NotChecked) else float(self.bed.strength.x)
        return self.at_design + self._corners(float(self.M_Ed.at(self.worst)), f, True, float(self.weight.x))

    @cached_property
    def at_service(self) -> tuple[Corner, ...]:
        """Contact on an elastic bed at the largest moment before any factor, screws as stiff as in use."""
        return self._corners(float(self.service.M.at(self.worst)), None, False)

    @cached_property
    def at_service_with_weight(self) -> tuple[Corner, ...]:
        """The same, and then the same once more with the glass weighing on the mount, without a factor."""
        M, N = float(self.service.M.at(self.worst)), float(self.service.weight.x)
        return self.at_service + self._corners(M, None, False, N)

    @property
    def weights(self) -> tuple[float, float]:
        """No weight, and the weight as it presses, N: either may be the worse."""
        return 0.0, float(self.weight.x)

    def _corners(self, M: float, f: float | None, ultimate: bool, N: float = 0.0) -> tuple[Corner, ...]:
        return tuple(
            Corner(name, bed, end, self.model.solve(bed, end, sign * M, f, ultimate, N), N > 0.0)
            for name, sign in SIGNS.items()
            for bed, end in CORNERS
        )
