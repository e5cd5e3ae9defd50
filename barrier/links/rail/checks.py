"""What comes to the rail itself against what it bears: bending, joints, ends, its grip on the glass, a load that presses it down.

The grip is averaged over a length, for its peak grows without end with its stiffness; no strength is assumed of anything.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product

import numpy as np

from barrier.job.schema import RailEnd
from barrier.links.given import measured
from barrier.links.mount.in_plane_forces import InPlaneAction, in_plane_actions
from barrier.links.rail import strength as own
from barrier.links.rail.section import modulus, modulus_down
from barrier.links.rail.solve import RunSolved, Set
from barrier.links.under_rail import Line, hangs, joints_of
from barrier.links.walk import Walk
from barrier.mechanics.rail import RunSolution
from barrier.result import (
    About,
    Check,
    Combination,
    Lack,
    NotChecked,
    Standing,
    compare,
    governing,
    informing,
    not_checked,
    one_of_each,
)
from barrier.value import Value

OPENING = "opening, from glass to glass or to the end of the rail"
BENDING = "bending of the rail across the glass"
GRIP = "grip of the rail on the glass, averaged over a length"
DOWN = "bending of the rail down over the opening"
HELD_DOWN = "the rail held down on the panel beside an opening at its free end"
AVERAGED = 100.0  # mm: the shortest length a grip is averaged over; a longer one where the rail spreads further by itself
ENDS = {"bracket": "bracket", "post": "post and what it stands on", "corner": "corner joint"}


def splice_title(number: int) -> str:
    """The title of the check of a joint."""
    return f"joint {number} of the rail, pushed across the glass"


def end_title(side: str, end: RailEnd | None) -> str:
    """The title of the check of what holds an end."""
    what = ENDS.get(str(end.fixing), "what holds it") if end is not None else "what holds it"
    return f"{side} end of the rail: {what}, with its fixing"


def all_of(walk: Walk, found: RunSolved, standing: Standing) -> Iterator[Check]:
    """Every check of the rail, in the order of :func:`barrier.links.rail.rail.asked`."""
    entry = walk.job.rail
    assert entry is not None and entry.left is not None and entry.right is not None
    made: list[Check] = []
    for combination, required, chosen in _groups(found):
        each = _Group(walk, found, combination, required, chosen)
        made += [each.named(c) for c in each.checks()]
    for c in (*one_of_each(made), *_down(walk, found.line)):
        yield c if standing is Standing.REQUIRED else own.for_information(c)


def _groups(found: RunSolved) -> Iterator[tuple[Combination, Standing, list[int]]]:
    """The cases by combination; where one of them decides, only those that do."""
    groups: dict[str, list[int]] = {}
    for i, c in enumerate(found.cases):
        groups.setdefault(c.strength.id, []).append(i)
    for chosen in groups.values():
        decides = [i for i in chosen if found.cases[i].standing is Standing.REQUIRED]
        standing = Standing.REQUIRED if decides else Standing.INFORMATION
        yield found.cases[chosen[0]].strength, standing, decides or chosen


class _Group:
    """The checks of the rail in one combination."""

    def __init__(self, walk: Walk, found: RunSolved, combination: Combination, standing: Standing, chosen: list[int]) -> None:
        self.walk, self.found, self.combination, self.standing, self.chosen = walk, found, combination, standing, chosen
        assert walk.job.rail is not None
        self.entry = walk.job.rail

    def named(self, check: Check) -> Check:
        """Of a case that informs the check informs."""
        return check if self.standing is Standing.REQUIRED else informing(check, self.combination)

    def checks(self) -> Iterator[Check]:
        """Bending, joints, ends, grip."""
        entry = self.entry
        what = "largest moment of the rail across the glass"
        M = self._over(what, "moment", "M_k", lambda s, _: s.extreme()[0], _place_of_moment)
        bears = own.bending(self.walk, entry, modulus(entry), entry.moment, self.combination)
        yield self._compared(About("rail", "bending"), BENDING, M, bears)
        for n, splice in enumerate(entry.splices, 1):
            at = joints_of(entry, self.found.line)[n - 1]
            V = self._over(f"force across joint {n} of the rail", "force", "V_k", lambda s, _, at=at: _shear(s, at))  # type: ignore[misc]
            bears = own.rated(
                self.walk, splice.holds, (splice.meaning, splice.reference), self.combination, f"joint {n} of the rail"
            )
            yield self._compared(About("rail", "splice", detail=str(n)), splice_title(n), V, bears)
        for i, side in enumerate(("left", "right")):
            end: RailEnd = getattr(entry, side)
            if not end.holding:
                continue
            V = self._over(f"push of the rail on what holds its {side} end", "force", "V_k", lambda s, _, i=i: s.ends[i])  # type: ignore[misc]
            bears = own.rated(
                self.walk, end.holds, (end.meaning, end.reference), self.combination, f"what holds the {side} end of the rail"
            )
            yield self._compared(About("rail", side), end_title(side, end), V, bears)
        yield self._grip()

    def _over(
        self, what: str, kind: str, symbol: str, of: Callable[[RunSolution, Set], np.ndarray],
        where: Callable[[RunSolution, Line, int], str] | None = None,
    ) -> tuple[Value, list[str], list[str]]:  # fmt: skip
        """A result of largest size over sets and cases, with labels and the ids of its cases."""
        x, labels, ids = [], [], []
        for s, solution in zip(self.found.sets, self.found.solutions, strict=True):
            size = np.abs(of(solution, s))
            for c in self.chosen:
                x.append(float(size[c]))
                place = f"; {where(solution, self.found.line, c)}" if where is not None else ""
                labels.append(f"{self.found.cases[c].title}{place}; {s.words}")
                ids.append(self.found.cases[c].id)
        return self.found.numerical(what, np.array(x), kind, symbol, labels), labels, ids

    def _compared(self, about: About, title: str, of: tuple[Value, list[str], list[str]], bears: own.Bears | NotChecked) -> Check:
        value, labels, ids = of
        if isinstance(bears, NotChecked):
            demand = own.factored(value, self.combination)
            return not_checked(about, title, bears, demand=demand, station=governing(demand.x))
        demand = bears.demand(value)
        return compare(
            about, title, demand, bears.resistance, labels, combination=self.combination.id, cases=ids, remark=bears.remark
        )

    def _grip(self) -> Check:
        """The grip on every panel that stands, either way, averaged."""
        entry, x, labels, ids = self.entry, [], [], []
        for s, solution in zip(self.found.sets, self.found.solutions, strict=True):
            length = max(AVERAGED, solution.rail.wave / 2)
            for p in self.found.line.standing:
                both = solution.panels[p.number - 1].mean_connection(length)
                for c, (way, mean) in product(self.chosen, (("pushes", both[0]), ("pulls", -both[1]))):
                    x.append(float(mean[c]))
                    labels.append(f"{self.found.cases[c].title}; the rail {way} the glass of {p.name}; {s.words}")
                    ids.append(self.found.cases[c].id)
        what = "force per length between rail and glass, averaged over 100 mm or, if more, half the length over which they settle"
        value = self.found.numerical(what, np.array(x), "line load", "r_k", labels)
        bears = own.rated(
            self.walk, entry.grip, (entry.grip_meaning, entry.grip_reference), self.combination, "the grip of the rail on the glass"
        )
        return self._compared(About("rail", "grip"), GRIP, (value, labels, ids), bears)


def _place_of_moment(solution: RunSolution, line: Line, case: int) -> str:
    return where(line, float(solution.extreme()[1][case]))


def where(line: Line, s: float) -> str:
    """A place on the rail in words."""
    for left, right in line.openings:
        if left < s < right:
            return "over the opening"
    for p in line.standing:
        if p.start <= s <= p.end:
            return f"on the glass of {p.name}"
    return "between two panels" if line.places[0].start < s < line.places[-1].end else "beyond the glass"


def _shear(solution: RunSolution, at: float) -> np.ndarray:
    """Force across a joint, the larger of just before and just behind it: (cases,)."""
    node = int(np.argmin(np.abs(solution.beam.nodes - at)))
    forces, last = solution.element_forces, len(solution.beam.lengths) - 1
    return np.asarray(np.maximum(np.abs(forces[max(node - 1, 0), 2]), np.abs(forces[min(node, last), 0])))


# ---------------------------------------------------------------- pressed down over an opening


def down_actions(walk: Walk) -> tuple[InPlaneAction, ...]:
    """The loads that press the rail down and decide."""
    return tuple(a for a in in_plane_actions(walk) if a.action.kind == "vertical" and a.action.required)


def asked_down(walk: Walk, line: Line) -> Iterator[tuple[About, str]]:
    """Checks of a rail pressed down, where a panel is gone and the basis has such a load."""
    if line.openings and down_actions(walk):
        yield About("rail", "down"), DOWN
        assert walk.job.rail is not None
        if any(hangs(walk.job.rail, line, o) for o in line.openings):
            yield About("rail", "held_down"), HELD_DOWN


def _down(walk: Walk, line: Line) -> Iterator[Check]:
    """Bending down over every opening, under every such load; elsewhere the rail lies on glass, which is stiff in its plane."""
    entry, made = walk.job.rail, list[Check]()
    assert entry is not None
    loads = down_actions(walk)
    for n, opening in enumerate(line.openings, 1):
        one_side = hangs(entry, line, opening)
        L = measured(f"rail.openings.{n}", opening[1] - opening[0], OPENING).named("L")
        for load in loads:
            M = own.moment_down(load.action, L, one_side)
            bears = own.bending(walk, entry, modulus_down(entry), entry.moment_down, load.combination, down=True)
            if isinstance(bears, NotChecked):
                made.append(not_checked(About("rail", "down"), DOWN, bears, demand=own.factored(M, load.combination)))
            else:
                label = [f"{load.action.title}, {'held on one side' if one_side else 'held on both sides'}"]
                made.append(
                    compare(About("rail", "down"), DOWN, bears.demand(M), bears.resistance, label, combination=load.combination.id,
                            remark=bears.remark)
                )  # fmt: skip
    yield from one_of_each(made)
    if loads and any(hangs(entry, line, o) for o in line.openings):
        why = "what keeps the rail from lifting off the glass beside the opening: one that is only pushed on holds nothing; ask"
        yield not_checked(About("rail", "held_down"), HELD_DOWN, NotChecked(Lack.INPUT, why))


__all__: Sequence[str] = ["BENDING", "DOWN", "GRIP", "HELD_DOWN", "all_of", "asked_down", "end_title", "splice_title", "where"]
