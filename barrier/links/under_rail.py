"""Where the panels under a rail stand along their side, which of them are gone, and what a rail must say to be worked out.

The one thing the links ask of a job under a rail is its :class:`Line`; whatever else sets panels out along a side can make one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from barrier.job import Job
from barrier.job.schema import Panel, Rail, RailEnd
from barrier.result import Lack, NotChecked, Situation, Standing

SIDES = ("left", "right")
LEAST = 5.0  # mm: what stands nearer than this to an edge of the glass stands at it
LOST_WORDS = "the glass of this place is gone, its mounts with it; the rail and the load on it stay"
REACH = 2  # panels on either side: what stands further off changes nothing to speak of
FURTHEST = 3  # places from an end of a long line of panels that are alike: what is lost further in is as in the middle


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """A place in the line: its number from one, its left edge and width (mm from the left edge of the first), its panel; None
    where the glass is gone; what it is called."""

    number: int
    start: float
    width: float
    panel: Panel | None
    name: str

    @property
    def end(self) -> float:
        """Its right edge, mm."""
        return self.start + self.width

    def calls(self, mount: str) -> str:
        """What a mount of its panel is called here: by the name of the place, where the panel is described at another.

        >>> from types import SimpleNamespace
        >>> Place(3, 0.0, 900.0, SimpleNamespace(name="A1"), "panel A3").calls("A1-2")
        'A3-2'
        """
        own = "" if self.panel is None else self.panel.name
        here = self.name.removeprefix("panel ")
        return f"{here}{mount.removeprefix(own)}" if own and here != self.name and mount.startswith(own) else mount


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """The places under a rail from left to right, and how far the rail itself reaches (mm)."""

    places: tuple[Place, ...]
    gap: float
    start: float
    end: float

    @property
    def standing(self) -> tuple[Place, ...]:
        """Places where there is glass."""
        return tuple(p for p in self.places if p.panel is not None)

    @property
    def openings(self) -> tuple[tuple[float, float], ...]:
        """From edge of glass to edge of glass where panels are gone, or from the rail's own end (mm); neighbours are one."""
        found: list[tuple[float, float]] = []
        before = None
        for p in (*self.standing, None):
            left = self.start if before is None else before.end
            right = self.end if p is None else p.start
            if any(g.panel is None and left <= g.start < right for g in self.places):
                found.append((left, right))
            before = p
        return tuple(found)

    def falls(self, joints: Sequence[float], left: bool, right: bool) -> bool:
        """Whether a piece of the rail between joints (mm) has nothing that holds it: no glass, and not both of its ends.

        ``left`` and ``right``: whether the ends of the rail are held.
        """
        ends = [self.start, *sorted(joints), self.end]
        pieces = list(pairwise(ends))
        on_glass = [any(min(b, p.end) - max(a, p.start) > LEAST for p in self.standing) for a, b in pieces]
        held = [left, *on_glass, right]  # what each piece has on its left and on its right, shifted by one
        return any(not own and not (held[i] and held[i + 2]) for i, own in enumerate(on_glass))


def under_rail(job: Job) -> tuple[Panel, ...]:
    """The panels of a job that have a rail, in the order of the file."""
    return tuple(p for p in job.panels if p.rail != "none")


def line_of(job: Job) -> Line | NotChecked:
    """Where the panels under the rail stand; what is missing where that is not known."""
    rail, panels = job.rail, under_rail(job)
    assert rail is not None
    if missing := tuple(_missing(rail, panels)):
        return NotChecked(Lack.INPUT, f"of the rail: {'; '.join(missing)}")
    assert rail.between is not None and rail.left is not None and rail.right is not None
    gone = {o.place: float(o.width.x) for o in rail.openings}
    count = len(rail.line) or rail.panels or len(panels) + len(gone)
    by_name = {p.name: p for p in panels}
    others = iter(panels if len(panels) > 1 else panels * count)
    places, at = [], 0.0
    for number in range(1, count + 1):
        own = rail.line[number - 1] if rail.line else None
        panel = None if number in gone else by_name[own.panel] if own is not None else next(others)
        width = gone[number] if panel is None else float(panel.width.x)
        name = f"panel {panel.name}" if panel is not None and own is None and len(panels) > 1 else f"place {number}"
        name = f"panel {own.name}" if own is not None and own.name is not None else name
        places.append(Place(number, at, width, panel, name))
        at += width + float(rail.between.x)
    left, right = (float(e.reach.x) if float(e.reach.x) >= LEAST else 0.0 for e in (rail.left, rail.right))
    return Line(tuple(places), float(rail.between.x), 0.0 - left, places[-1].end + right)


def joints_of(rail: Rail, line: Line) -> tuple[float, ...]:
    """Places of the joints (mm); one that is next to an edge of the glass is at it."""
    edges = [e for p in line.places for e in (p.start, p.end)]
    found = []
    for at in (float(s.at.x) for s in rail.splices):
        edge = edges[min(range(len(edges)), key=[abs(e - at) for e in edges].__getitem__)]
        found.append(edge if abs(edge - at) < LEAST else at)
    return tuple(found)


def _missing(rail: Rail, panels: tuple[Panel, ...]) -> Iterator[str]:
    """What is asked before anything of the rail can be worked out, in words."""
    if rail.panels is None and not rail.line and len(panels) < 2:
        yield "how many panels stand under it in one line (panels)"
    if rail.between is None:
        yield "the gap between two panels (between)"
    if rail.modulus is None:
        yield "what it is made of (modulus)"
    sizes = {"flat": ("across", "depth"), "box": ("across", "depth", "wall"), "channel": ("across", "depth", "wall")}
    needed = sizes.get(str(rail.shape), ("inertia",))
    if any(getattr(rail, key) is None for key in needed):
        yield f"its section ({', '.join(needed)})"
    if rail.continuous is None and not rail.splices:
        yield "whether it has joints and where (continuous, splices)"
    elif rail.continuous is False and not rail.splices:
        yield "where its joints are (splices)"
    for side in SIDES:
        yield from _end_missing(side, getattr(rail, side))


def _end_missing(side: str, end: RailEnd | None) -> Iterator[str]:
    if end is None or end.fixing is None:
        yield f"what holds its {side} end ({side}.fixing)"
    elif end.fixing == "post" and end.stiffness is None:
        yield f"how stiff the post at its {side} end is ({side}.stiffness)"
    elif end.fixing == "corner" and end.joined is None:
        yield f"whether it is joined at the corner at its {side} end ({side}.joined)"


# ---------------------------------------------------------------- beside an opening


@dataclass(frozen=True, slots=True)
class Beside:
    """An opening beside a panel: on its ``side``, how long it is (mm), whether the rail over it hangs from this panel alone."""

    side: str
    length: float
    hangs: bool


def hangs(rail: Rail, line: Line, opening: tuple[float, float]) -> bool:
    """Whether the rail over an opening is held on one side only, or has a joint within it that leaves it hanging from both."""
    assert rail.left is not None and rail.right is not None
    at_end = (opening[0] <= line.start and not rail.left.holding) or (opening[1] >= line.end and not rail.right.holding)
    near = line.gap + LEAST
    return at_end or any(opening[0] + near < at < opening[1] - near for at in joints_of(rail, line))


def beside(job: Job, panel: Panel) -> tuple[Beside, ...]:
    """The openings beside a panel, at all the places where it stands; none where no panel is gone from under a rail."""
    rail = job.rail
    if rail is None or not rail.openings or panel.rail == "none":
        return ()
    line = line_of(job)
    if isinstance(line, NotChecked):
        return ()
    found = []
    for opening in line.openings:
        for place in line.standing:
            if place.panel is panel and (place.end == opening[0] or place.start == opening[1]):
                side = "right" if place.end == opening[0] else "left"
                found.append(Beside(side, opening[1] - opening[0], hangs(rail, line, opening)))
    return tuple(dict.fromkeys(found))


# ---------------------------------------------------------------- a panel gone


def lost_panels(job: Job, standing: Standing, as_whole: bool = False) -> Iterator[Situation]:
    """A panel lost, one at a time, where the rail can be worked out and something else is left that holds it.

    Of a long line of panels that are alike those near its ends and the middle one are taken, of a line that is the same from
    either end one half. Arguments: ``standing`` of what comes of it; ``as_whole`` where a code wants the load of a whole barrier.
    """
    if job.rail is None or job.rail.openings or not under_rail(job):
        return
    line = line_of(job)
    if isinstance(line, NotChecked) or len(line.places) < 2:
        return
    named = bool(job.rail.line)
    described = len(under_rail(job)) > 1 and not named
    for place in telling(job.rail, line) if named else line.places if described else _telling(job, line):
        assert place.panel is not None
        name = f"panel {place.panel.name}" if described else f"panel {place.number} of {len(line.places)} under the rail"
        if named and job.rail.line[place.number - 1].name is not None:
            name = place.name
        yield Situation(f"{name} lost", _without(job, line, place), standing, LOST_WORDS, not as_whole, asked=False)


def telling(rail: Rail, line: Line) -> Iterator[Place]:
    """The places whose loss tells something of its own: not those with the same neighbours, ends and joints as one before.

    What is further off than two panels hardly counts (computed: of five panels with the middle one lost the stress is a hundredth
    off that of seven), so a place is looked at as far as that. Arguments: ``rail`` with its ``line``, ``line`` with all its glass.
    """
    seen = []
    for place in line.places:
        around = _around(rail, line, place)
        if around not in seen:
            seen.append(around)
            yield place


def _around(rail: Rail, line: Line, place: Place) -> tuple[object, ...]:
    """What stands around a place: panels and ends within reach, joints on the way there (mm from its left edge)."""
    own, near = range(place.number - REACH, place.number + REACH + 1), []
    for n in own:
        at = line.places[n - 1].panel if 1 <= n <= len(line.places) else None
        near.append(at.name if at is not None else "left" if n < 1 else "right")
    low, high = (line.places[min(max(n, 1), len(line.places)) - 1] for n in (own[0], own[-1]))
    joints = tuple(round(at - place.start, 1) for at in joints_of(rail, line) if low.start <= at <= high.end)
    return (*near, *joints)


def _telling(job: Job, line: Line) -> Iterator[Place]:
    """Of panels that are alike the places whose loss tells something of its own."""
    n, rail = len(line.places), job.rail
    assert rail is not None and rail.left is not None and rail.right is not None
    same = not rail.splices and _alike(rail.left, rail.right)
    for place in line.places:
        from_end = min(place.number, n + 1 - place.number)
        if same and 2 * place.number > n + 1:
            continue
        if from_end <= FURTHEST or place.number == (n + 1) // 2:
            yield place


def _alike(left: RailEnd, right: RailEnd) -> bool:
    def of(end: RailEnd) -> tuple[object, ...]:
        return end.fixing, end.joined, float(end.reach.x), None if end.stiffness is None else float(end.stiffness.x)

    return of(left) == of(right)


def _without(job: Job, line: Line, place: Place) -> dict[str, object]:
    """What is changed in the job for a panel gone: its entries where no other place has them, and the opening under the rail."""
    panel, rail = place.panel, job.rail
    assert panel is not None and rail is not None
    changes: dict[str, object] = {"rail.openings": [{"place": place.number, "width": f"{place.width:.12g} mm"}]}
    if all(p.panel is not panel for p in line.places if p is not place):
        if not rail.line:
            changes["rail.panels"] = len(under_rail(job))
        changes.update({f"mounts.{m.name}": None for m in job.mounts_of(panel)})
        changes[f"panels.{panel.name}"] = None
    return changes
