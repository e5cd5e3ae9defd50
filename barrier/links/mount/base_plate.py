"""Link 4, base plate: overturning of the mount on its timber.

The plate is rigid, the timber a bed that only pushes and yields at its bearing strength, the screws only pull. What the
mount can take in a direction depends on strengths and not on the load, so it is found once for each sign and each end of
the stiffness bracket, and every case is compared with it. Strengths are those of a combination and its duration: what a mount
hands on is one :class:`MountForces` for each combination of its cases, and every later link looks at all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.equation import Equation, Symbol, symbols
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.ground.geometry import MountModel
from barrier.links.ground.stiffness import CORNERS, UNIT
from barrier.links.loads.cases import Case, Group
from barrier.links.mount import share_by_hand
from barrier.links.mount.plate_bending import plate_bending, plate_for_scale
from barrier.links.mount.resistances import BedStrength, bed_strength, screw_resistance
from barrier.links.mount.weight import pressing, weight_on
from barrier.links.walk import Walk
from barrier.mechanics import contact
from barrier.result import (
    About,
    Check,
    Combination,
    LinkResult,
    NotChecked,
    Standing,
    compare,
    fails,
    governing,
    informing,
    not_checked,
    one_of_each,
)
from barrier.value import Numerical, Value

YIELDING = (
    "contact of a rigid plate with a bed that only pushes and yields, and with elastic screws that only pull; plate, screws, "
    "hole, packers and the joints of the wood as the plan shows them; at the largest moment that decides"
)
SIGNS = {"outward": -1.0, "inward": 1.0}
PUSH = Equation(
    Symbol("M_Ek", "moment"),
    "abs(M_y0 + F*h_0)",
    symbols("M_y0:moment, F:force, h_0:length"),
    "statics: moment of the clamp about the underside of the base plate",
    "computed",
    title="moment on the mount at the characteristic action",
)


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
        for c in checks:
            named = replace(c, combination=self.combination.id, case=c.case or self.worst_case.id)
            if self.standing is Standing.REQUIRED:
                yield named
            elif c.standing is Standing.REQUIRED:
                yield informing(named, self.combination)

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


def leading(forces: Sequence[MountForces]) -> tuple[MountForces, ...]:
    """Of the combinations of each mount the one to show: that with the largest moment among those that decide, if any does."""
    by_mount: dict[str, list[MountForces]] = {}
    for f in forces:
        by_mount.setdefault(f.model.name, []).append(f)
    found = []
    for same in by_mount.values():
        decide = [f for f in same if f.standing is Standing.REQUIRED] or same
        found.append(decide[governing([f.M_worst.at(0) for f in decide])])
    return tuple(found)


def base_plate(walk: Walk, panels: Sequence[PanelSolution]) -> tuple[LinkResult, tuple[MountForces, ...]]:
    """Compare the moment on every mount with what its bed can take, in every combination; hand the moments on."""
    checks: list[Check] = []
    forces: list[MountForces] = []
    for panel in panels:
        for m, model in enumerate(panel.mounts):
            for group in panel.groups if model.lacking is None else ():
                handed = _moments(walk, panel, m, model, group)
                forces.append(handed)
                checks.extend(handed.own((_bed_check(handed), _rotation_check(walk, handed), *plate_bending(walk, handed))))
    shown = tuple(s for lead in leading(forces) for s in plate_for_scale(walk, lead))
    return LinkResult("base_plate", "Base plate on the timber", one_of_each(checks), shown), tuple(forces)


def _moments(walk: Walk, panel: PanelSolution, m: int, model: MountModel, group: Group) -> MountForces:
    stations = [(i, s, c) for i, (s, c, k) in enumerate(panel.stations) if k == m and c in group.cases]
    index = np.array([i for i, _, _ in stations])
    labels = tuple(
        f"{panel.cases[c].title}; mount {model.name}; {panel.sets[s][0]} pads, {panel.sets[s][1]} bases" for _, s, c in stations
    )
    which = [c for _, _, c in stations]
    solved_from = panel.solved_from(which)
    origin = Numerical(
        f"push of the panel on clamp {model.name}", "thin plate on elastic pads, as for the glass",
        "equilibrium of the panel", solved_from, panel.residual, share_by_hand.push(panel, m, which), labels,
    )  # fmt: skip
    turning = Numerical(
        f"moment of the panel on clamp {model.name} about the bottom edge of the glass",
        "thin plate on elastic pads, as for the glass", "equilibrium of the panel", solved_from, panel.residual,
        share_by_hand.moment(panel, m, which), labels,
    )  # fmt: skip
    F = Value(panel.reactions("F")[index], "force", origin, "F")
    M_y0 = Value(panel.reactions("Mx")[index], "moment", turning, "M_y0")
    twisting = Numerical(
        f"twist of the panel on clamp {model.name} about the vertical axis", "thin plate on elastic pads, as for the glass",
        "equilibrium of the panel", solved_from, panel.residual, None, labels,
    )  # fmt: skip
    M_z = Value(np.abs(panel.reactions("Mz")[index]), "moment", twisting, "M_z")
    M_Ek = PUSH(M_y0=M_y0, F=F, h_0=model.lever)
    M_Ed = group.strength.applied(M_Ek, "M_Ed", "moment on the mount")
    F_Ed = group.strength.applied(F, "F_Ed", "push on the mount")
    M_z_Ed = group.strength.applied(M_z, "M_z_Ed", "twist about the vertical")
    cases = tuple(panel.cases[c] for c in which)
    counted = np.flatnonzero([c.standing is group.standing for c in cases])
    return MountForces(
        model,
        group.strength,
        group.standing,
        M_Ed,
        F_Ed,
        M_z_Ed,
        Service(group.service, M_Ek, F, M_z, weight_on(walk, panel)),
        labels,
        cases,
        int(counted[governing(np.asarray(M_Ed.x)[counted])]),
        counted,
        bed_strength(walk, model, group.strength),
        screw_resistance(walk, model, group.strength),
        pressing(walk, panel),
    )


def _bed_check(handed: MountForces) -> Check:
    model = handed.model
    about, title = About("base_plate", "bed", mount=model.name), f"bed under mount {model.name}"
    if isinstance(handed.bed, NotChecked):
        return not_checked(about, title, handed.bed, demand=handed.M_worst)
    f = float(handed.bed.strength.x)
    found: list[float] = []
    for name, sign in SIGNS.items():
        elastic = model.solve("soft", "soft", sign * UNIT)
        if not elastic.equilibrium:
            return fails(about, title, f"no equilibrium, {name}: {elastic.reason}", handed.label, demand=handed.M_worst)
        found.append(min(model.collapse(sign, f, N) for N in handed.weights))
    way = governing(-np.array(found))
    least = (found[way], tuple(SIGNS)[way])
    origin = Numerical(
        f"moment at which the bed under mount {model.name} is used up ({least[1]}; {handed.bed.layer} is the weaker layer)",
        "plastic limit of the bed as one convex minimisation; screws taken as strong enough",
        "plastic collapse of a bed that only pushes", {"f_bed": handed.bed.strength},
    )  # fmt: skip
    M_bed = Value(float(least[0]), "moment", origin, "M_bed")
    return compare(about, title, handed.M_worst, M_bed, [handed.label])


def _rotation_check(walk: Walk, handed: MountForces) -> Check:
    model = handed.model
    about, title = About("base_plate", "rotation", mount=model.name), f"rotation of the base plate of mount {model.name}"
    broken = next((s for s in handed.with_weight if not s.contact.equilibrium), None)
    if broken is None and isinstance(handed.bed, NotChecked):
        return not_checked(about, title, handed.bed)
    if broken is not None:
        return fails(
            about,
            title,
            f"no equilibrium at the design action, {broken.sign}: {broken.contact.reason}",
            handed.label,
            demand=handed.M_worst,
        )
    labels = [c.label for c in handed.with_weight]
    origin = Numerical(
        f"rotation of the base plate of mount {model.name} at the design action",
        YIELDING,
        "contact model of this project", handed.solved_from(),
        max(s.contact.residual for s in handed.with_weight), None, tuple(labels),
    )  # fmt: skip
    rotation = Value(np.array([abs(s.contact.rotation) for s in handed.with_weight]), "angle", origin, "theta_Ed")
    cap = walk.job.limits.mount_rotation or walk.tables.value("site_angles", "rotation_cap")
    return compare(about, title, rotation, cap.named("theta_max"), labels)
