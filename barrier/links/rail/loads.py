"""What comes to a run under a rail: the cases of the job, with their line and point loads on the rail in place of the glass.

A line load lies on the whole rail, and on an opening alone; a point load stands at the ends of the rail, at the corners, the
middle and the mounts of every panel, at the ends and the middle of an opening. What pushes on the glass itself stays there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from barrier.basis import Action
from barrier.links.loads import at_once
from barrier.links.loads.cases import Case
from barrier.links.under_rail import Line, Place
from barrier.links.walk import Walk
from barrier.mechanics.plate import at_once as one_load
from barrier.mechanics.rail import RunLoad
from barrier.result import Combination, Standing
from barrier.value import Value

NEAR = 5.0  # mm: point loads closer to one another than this are one


@dataclass(frozen=True, slots=True, eq=False)
class RunCase:
    """One load case of the whole run: ``id`` and ``words`` of its place, what it is, how it is looked at.

    ``only`` is the number of the place whose panel it is a case of, where it is no other's; ``on_glass`` the panels' own cases of
    what pushes on their glass, by name; ``parts`` two cases at once, each with its share.
    """

    id: str
    title: str
    action: Action
    load: RunLoad
    strength: Combination
    service: Combination
    standing: Standing
    only: int | None = None
    on_glass: Mapping[str, Case] = field(default_factory=dict)
    parts: tuple[tuple[Value, RunCase], ...] = ()


def run_cases(walk: Walk, line: Line, cases: Sequence[Case]) -> tuple[RunCase, ...]:
    """Every case of the run, from those of its panels alone (``cases``, of all panels of the job)."""
    names = {p.panel.name for p in line.standing if p.panel is not None}
    own = [c for c in cases if c.panel.name in names and not c.parts]
    alone: list[RunCase] = []
    for case in own:
        kind = case.action.kind
        if kind in ("line", "point"):
            if all(c.action.id != case.action.id for c in alone):
                alone += _on_rail(walk, line, case)
        elif kind == "patch":
            alone += _on_one(line, case)
        elif all(c.id != case.key for c in alone):
            alone.append(_on_all(line, case, own))
    return (*alone, *_at_once(walk, alone))


def _case(case: Case, id: str, title: str, load: RunLoad) -> RunCase:
    return RunCase(id, title, case.action, load, case.strength, case.service, case.standing)


def _on_rail(walk: Walk, line: Line, case: Case) -> Iterator[RunCase]:
    """A line or a point load of the top edge, on the rail."""
    action, x = case.action, float(case.action.size.x)
    if action.kind == "line":
        yield _case(case, f"{action.id}/rail", f"{action.title} on the rail", RunLoad(lines=((x, line.start, line.end),)))
        for n, (left, right) in enumerate(line.openings, 1):
            number = f" {n}" if len(line.openings) > 1 else ""
            title = f"{action.title} on the rail over the opening{number} alone"
            yield _case(case, f"{action.id}/opening {n}", title, RunLoad(lines=((x, left, right),)))
        return
    seen: list[float] = []
    for words, s in _places(walk, line):
        if all(abs(s - other) > NEAR for other in seen):
            seen.append(s)
            yield _case(case, f"{action.id}/{words}", f"{action.title} on the rail, {words}", RunLoad(points=((x, s),)))


def _places(walk: Walk, line: Line) -> Iterator[tuple[str, float]]:
    """Where a point load stands on the rail: in words, and its place (mm)."""
    many = len(line.openings) > 1
    for n, (left, right) in enumerate(line.openings, 1):
        yield f"middle of the opening{f' {n}' if many else ''}", (left + right) / 2
    yield "left end", line.start
    yield "right end", line.end
    for p in line.standing:
        assert p.panel is not None
        yield f"left corner of {p.name}", p.start
        yield f"right corner of {p.name}", p.end
        yield f"middle of {p.name}", (p.start + p.end) / 2
        for mount in walk.job.mounts_of(p.panel):
            yield f"over mount {mount.name} of {p.name}", p.start + float(mount.x.x)


def _index(line: Line, place: Place) -> int:
    return place.number - 1


def _on_one(line: Line, case: Case) -> Iterator[RunCase]:
    """A load on a part of one panel, at each place such a panel stands; it is a case of that panel alone."""
    for p in line.standing:
        if p.panel is case.panel:
            load = RunLoad(glass=((_index(line, p), case.load),))
            made = _case(case, f"{case.key}/place {p.number}", f"{case.words}, {p.name}", load)
            yield replace(made, only=p.number, on_glass={case.panel.name: case})


def _on_all(line: Line, case: Case, cases: Sequence[Case]) -> RunCase:
    """A pressure on all the glass there is: each panel's own case of this name, or of this action where it has none."""
    loads, found = [], {}
    for p in line.standing:
        of = [c for c in cases if c.panel is p.panel and c.action.id == case.action.id]
        same = next((c for c in of if c.key == case.key), of[0] if of else None)
        if same is not None:
            loads.append((_index(line, p), same.load))
            found[same.panel.name] = same
    return replace(_case(case, case.key, case.words, RunLoad(glass=tuple(loads))), on_glass=found)


def _at_once(walk: Walk, alone: Sequence[RunCase]) -> Iterator[RunCase]:
    """Every barrier load that decides with the wind, in every combination of the basis."""
    for w in (c for c in alone if c.action.nature == "wind"):
        for q in alone:
            if q.action.nature == "barrier" and q.standing is Standing.REQUIRED:
                for both in at_once.combinations(walk):
                    parts = ((both.barrier, q), (both.wind, w))
                    if both.strength.natures[0] == "wind":
                        parts = (parts[1], parts[0])
                    lead, other = parts[0][1], parts[1][1]
                    standing = Standing.REQUIRED if at_once.decides(walk) else Standing.INFORMATION
                    load = _sum([(float(share.x), c.load) for share, c in parts])
                    found = RunCase(f"{lead.id} with {other.id}", f"{lead.title}, with {other.title}", lead.action, load,
                                    both.strength, both.service, standing, lead.only or other.only, {}, parts)  # fmt: skip
                    yield found


def _sum(parts: Sequence[tuple[float, RunLoad]]) -> RunLoad:
    """Loads times their shares, as one."""
    found = RunLoad()
    for share, load in parts:
        found = replace(
            found,
            lines=(*found.lines, *((share * q, a, b) for q, a, b in load.lines)),
            points=(*found.points, *((share * P, s) for P, s in load.points)),
            glass=(*found.glass, *((i, one_load(share, on)) for i, on in load.glass)),
        )
    return found


def without_rail(line: Line, cases: Sequence[Case]) -> tuple[tuple[Case, RunCase], ...]:
    """The panels' own cases as they would come to them if no rail were there, each panel at the first of its places."""
    found = []
    first = {p.panel.name: p for p in reversed(line.standing) if p.panel is not None}
    for case in cases:
        p = first.get(case.panel.name)
        if p is not None:
            alone = replace(case, id=f"{case.id}/without the rail", title=f"without the rail: {case.title}")
            load = RunLoad(glass=((_index(line, p), case.load),))
            made = RunCase(alone.id, alone.title, case.action, load, case.strength, case.service, case.standing, p.number)
            found.append((alone, made))
    return tuple(found)
