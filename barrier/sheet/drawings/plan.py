"""Plan of a base plate from above: screws with their pull, what bears, the neutral axis, and the pieces beneath."""

from __future__ import annotations

from itertools import pairwise
from math import hypot

import numpy as np

from barrier.links.mount.mount_forces import Corner, MountForces
from barrier.load_path import Result, Walked
from barrier.result import tied
from barrier.sheet.blocks import Drawing, Line, Picture
from barrier.sheet.drawings.facts import Say, Stand, ident, loose_corner, mount_forces, stand, worst_corner
from barrier.sheet.drawings.svg import LINE, TEXT, WIDTH, Sketch, View, text_width
from barrier.tables import Tables

BESIDE = 52.0  # units beside the drawing for figures
ROUND = 22.0  # mm of timber drawn around plate and screws
NAMED = 8  # screws that are named in the drawing, those that pull most first
SAME = 1e-6  # moments closer than this, relative, are one


def drawings(result: Result) -> list[Drawing]:
    """A plan of every mount; mounts that stand and fare alike once."""
    handed = {f.model.name: f for f in mount_forces(result.sound)}
    groups: dict[object, list[str]] = {}
    standing = {m.name: stand(result.job, result.tables, m) for m in result.job.mounts}
    for mount in result.job.mounts:
        forces = handed.get(mount.name)
        s = standing[mount.name]
        size = None if forces is None else float(f"{forces.M_Ed.at(forces.worst):.5g}")
        groups.setdefault((s.model.key, _sizes(s), size), []).append(mount.name)
    found = []
    for names in groups.values():
        name = f"plan-{ident(names[0])}"
        caption = _caption(names, handed.get(names[0]), standing[names[0]])
        found.append(Drawing(name, caption, lambda m=names[0]: draw(result.sound, result.tables, m)))  # type: ignore[misc]
    return found


def _sizes(s: Stand) -> object:
    plate = s.mount.plate
    places = tuple((float(c.x.x), float(c.y.x), c.present) for c in s.mount.screws)
    return float(plate.along.x), float(plate.across.x), plate.shape, places


def _caption(names: list[str], forces: MountForces | None, s: Stand) -> Line:
    mounts = f"mount{'s' if len(names) > 1 else ''} {', '.join(names)}"
    corner, loose = worst_corner(forces), loose_corner(forces)
    if forces is None:
        what = "what it stands on is not known well enough to solve" if _why_not(s) else "what comes down on it is not known"
        return (f"Plan of the base plate of {mounts}; {what}",)
    case = forces.worst_case.title
    if corner is None:
        sign = loose.sign if loose is not None else ""
        return (f"Plan of the base plate of {mounts} under the {case}, {sign}: there is no equilibrium",)
    return (f"Plan of the base plate of {mounts} under the {case}, {corner.sign}; {corner.bed} bed, {corner.screws} screws",)


def _why_not(s: Stand) -> str:
    """What is not known of the ground, so that nothing could be solved there; empty where it is known."""
    if s.unknown_gap:
        return "the gap between boards and blocking is not known"
    return "" if s.model.lacking is None else str(s.model.lacking)


def draw(walked: Walked, tables: Tables, mount: str) -> Picture:
    """Draw the plan of one mount of a walk, at the largest moment that decides. Returns SVG and its words."""
    job = walked.job
    say = Say(job.units)
    s = stand(job, tables, next(m for m in job.mounts if m.name == mount))
    forces = next((f for f in mount_forces(walked) if f.model.name == mount), None)
    corner = worst_corner(forces)
    sketch, view = Sketch(), fitted(s, WIDTH - 2 * BESIDE)
    low, high = extent(s)
    sketch.text(WIDTH / 2, view.y(high[1]) - 6, "drop side", "middle", bold=True)
    parts(sketch, view, s, corner)
    _axis(sketch, view, s, corner)
    _named(sketch, view, s, corner, say)
    bottom = view.y(low[1])
    sketch.text(WIDTH / 2, bottom + LINE, "people side", "middle", bold=True)
    y = _figures(sketch, view, s, bottom + LINE, say)
    for line in _remarks(s, forces, corner, say):
        y = sketch.words(y, line)
    return Picture(sketch.svg(view.scale), _words(s, forces, corner, say))


# ---------------------------------------------------------------- the parts, also for small plans


def extent(s: Stand) -> tuple[tuple[float, float], tuple[float, float]]:
    """Lower left and upper right corner of what is drawn, mm from the mount's centre."""
    half = np.array([float(s.mount.plate.along.x) / 2, float(s.mount.plate.across.x) / 2])
    places = np.array([[float(c.x.x), float(c.y.x)] for c in s.mount.screws])
    low, high = np.minimum(-half, places.min(axis=0)) - ROUND, np.maximum(half, places.max(axis=0)) + ROUND
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def fitted(s: Stand, room: float, x0: float = BESIDE, tallest: float = 300.0) -> View:
    """A view in which the plan is so wide at most and not too high."""
    low, high = extent(s)
    scale = min(room / (high[0] - low[0]), tallest / (high[1] - low[1]))
    return View(scale, x0 + (room - scale * (high[0] - low[0])) / 2 - scale * low[0], scale * high[1])


def parts(sketch: Sketch, view: View, s: Stand, corner: Corner | None) -> None:
    """Pieces, plate, what bears, hole, packers and screws."""
    low, high = extent(s)
    for p in s.model.pieces:
        x1, x2 = (min(max(float(v), low[0]), high[0]) for v in (p.outline[:, 0].min(), p.outline[:, 0].max()))
        y1, y2 = (min(max(float(v), low[1]), high[1]) for v in (p.outline[:, 1].min(), p.outline[:, 1].max()))
        if x2 > x1 and y2 > y1:
            sketch.rect(view.x(x1), view.y(y1), view.x(x2), view.y(y2), "timber", what=p.name)
    _plate(sketch, view, s)
    if corner is not None:
        for polygon in s.model.in_contact(corner.contact):
            points = view.points(polygon)
            sketch.polygon(points, "thin", "in contact")
            sketch.hatch(points, 5.0)
    for packer in s.mount.packers:
        x, y, a, b = (float(v.x) for v in (packer.x, packer.y, packer.along, packer.across))
        sketch.rect(view.x(x - a / 2), view.y(y - b / 2), view.x(x + a / 2), view.y(y + b / 2), "ink", "dash", "packer")
    hole = s.mount.service_hole
    if hole is not None:
        sketch.circle(
            view.x(float(hole.x.x)), view.y(float(hole.y.x)), view.scale * float(hole.diameter.x) / 2, "soft", what="hole"
        )
    pulls = tensions(s, corner)
    most = max(pulls.values(), default=0.0)
    r = max(view.scale * float(s.mount.screw.diameter.x) / 2, 1.5)
    for c in s.mount.screws:
        x, y = view.x(float(c.x.x)), view.y(float(c.y.x))
        sketch.circle(x, y, r, "steel" if c.present else "thin", "" if c.present else "dot", f"screw {c.name}")
        if not c.present:
            sketch.line(x - r, y - r, x + r, y + r, "warn")
            sketch.line(x - r, y + r, x + r, y - r, "warn")
        elif pulls.get(c.name, 0.0) > 0.01 * most:
            sketch.circle(x, y, r + 2 + 8 * pulls[c.name] / most, "load", what=f"pull {c.name}")


def _plate(sketch: Sketch, view: View, s: Stand) -> None:
    a, b = float(s.mount.plate.along.x) / 2, float(s.mount.plate.across.x) / 2
    if s.mount.plate.shape == "round":
        sketch.circle(view.x(0.0), view.y(0.0), view.scale * a, "ink", what=f"plate {s.mount.name}")
    else:
        sketch.rect(view.x(-a), view.y(-b), view.x(a), view.y(b), "ink", what=f"plate {s.mount.name}")


def tensions(s: Stand, corner: Corner | None) -> dict[str, float]:
    """Pull of every screw by name, N."""
    if corner is None:
        return {}
    return {p.name: float(T) for p, T in zip(s.model.screws, corner.contact.T, strict=True)}


# ---------------------------------------------------------------- figures and names


def _axis(sketch: Sketch, view: View, s: Stand, corner: Corner | None) -> None:
    if corner is None:
        return
    a, b, c = corner.contact.neutral_axis
    size = hypot(a, b)
    low, high = extent(s)
    if size == 0.0 or abs(b) < abs(a):
        return
    ends = [(x, -(a * x + c) / b) for x in (low[0], high[0])]
    if all(low[1] < y < high[1] for _, y in ends):
        (x1, y1), (x2, y2) = view.points(ends)
        sketch.line(x1, y1, x2, y2, "ink", "chain", "neutral axis")
        sketch.text(x2 + 3, y2 + TEXT / 3 - 6, "neutral")
        sketch.text(x2 + 3, y2 + TEXT / 3 + 6, "axis")


def _named(sketch: Sketch, view: View, s: Stand, corner: Corner | None, say: Say) -> None:
    pulls = tensions(s, corner)
    ranked = sorted(s.mount.screws, key=lambda c: -tied(pulls.get(c.name, 0.0)))[:NAMED]
    for c in s.mount.screws:
        if c not in ranked:
            continue
        x, y = view.x(float(c.x.x)), view.y(float(c.y.x))
        T = pulls.get(c.name)
        figure = "missing" if not c.present else "" if T is None else say.of(T, "force") if T > 0.5 else "no pull"
        r = max(view.scale * float(s.mount.screw.diameter.x) / 2, 1.5) + 12
        lines = [c.name, figure] if figure else [c.name]
        wide = max(text_width(t) for t in lines) * 1.1 + 6
        inward = -1 if float(c.x.x) > 1e-6 else 1
        if abs(x - view.x(0.0)) < r + wide and float(c.x.x) != 0.0:  # no room between two columns of screws
            inward = -inward
        sketch.plaque(x + inward * r, y, lines, "start" if inward > 0 else "end")


def _figures(sketch: Sketch, view: View, s: Stand, y: float, say: Say) -> float:
    """Plate and screws across beneath, edges of pieces and screws on the left, the plate on the right."""
    a, b = float(s.mount.plate.along.x) / 2, float(s.mount.plate.across.x) / 2
    low, high = extent(s)
    columns = sorted({round(float(c.x.x), 6) for c in s.mount.screws})
    y += 2 * LINE - 4
    if len(columns) <= 6:
        marks = sorted({-a, *columns, a})
        for one, other in pairwise(marks):
            sketch.across(view.x(one), view.x(other), y, say.length(other - one, *s.columns_from), of=y - 8)
        y += 2 * LINE - 4
    sketch.across(view.x(-a), view.x(a), y, say.bare(s.mount.plate.along), of=y - 8)
    right = view.x(high[0]) + 7
    lowest = sorted(float(c.y.x) for c in s.mount.screws)
    sketch.upright(view.y(-b), view.y(lowest[0]), right, say.length(lowest[0] + b, *s.rows_from), side=1)
    for x, marks in ((view.x(low[0]) - 7, _edges(s)),):
        for one, other in pairwise(marks):
            if other - one > 0.05:
                sketch.upright(view.y(one), view.y(other), x, say.length(other - one, *s.edges_from), of=x + 5)
    return y + 4


def _edges(s: Stand) -> list[float]:
    """Where pieces meet and end, and where screw rows stand, across the glass, mm."""
    low, high = extent(s)
    if not s.along:
        return []
    edges = {round(float(v), 6) for p in s.model.pieces for v in p.outline[:, 1]}
    rows = {round(float(c.y.x), 6) for c in s.mount.screws}
    inside = sorted(v for v in edges | rows if low[1] <= v <= high[1])
    return inside if len(inside) <= 8 else []


def _remarks(s: Stand, forces: MountForces | None, corner: Corner | None, say: Say) -> list[str]:
    found = [f"Lengths in {say.unit_word}. On the left: rows of screws to edges and joints of the pieces."]
    if corner is not None and forces is not None:
        found.append(
            f"Moment {say(forces.M_Ed, forces.worst)}. Ring: a screw that pulls, the wider the harder. Hatched: what bears, "
            f"{say.of(corner.contact.p_max, 'stress')} at most."
        )
    elif (loose := loose_corner(forces)) is not None and forces is not None:
        moment = say(forces.M_Ed, forces.worst)
        found.append(f"NO EQUILIBRIUM under {moment} {loose.sign}: {loose.contact.reason}.")
    elif forces is None:
        found.append(f"NOT SOLVED: {_why_not(s) or 'what comes down on it is not known'}.")
    air = [p.name for p in s.model.screws if p.piece is None]
    if air:
        found.append(f"HOLD IN NO TIMBER: {', '.join(air)}.")
    pulls = tensions(s, corner)
    if len(s.mount.screws) > NAMED and pulls:
        rest = sorted(pulls.values(), reverse=True)[NAMED:]
        most = say.of(max(rest, default=0.0), "force")
        found.append(f"Of {len(s.mount.screws)} screws the {NAMED} that pull most are named; the others pull up to {most}.")
    return found


def _words(s: Stand, forces: MountForces | None, corner: Corner | None, say: Say) -> str:
    size = f"{say(s.mount.plate.along)} by {say(s.mount.plate.across)}"
    if corner is None or forces is None:
        loose = loose_corner(forces)
        why = f"no equilibrium {loose.sign}: {loose.contact.reason}" if loose is not None else "nothing could be solved"
        return f"Plan of the base plate of mount {s.mount.name}, {size}, with {len(s.mount.screws)} screws; {why}."
    pulls = sorted(tensions(s, corner).items(), key=lambda p: -tied(p[1]))
    who = ", ".join(f"{name} {say.of(T, 'force')}" for name, T in pulls[:4] if T > 0.5) or "none"
    share = corner.contact.area / max(float(s.mount.plate.along.x) * float(s.mount.plate.across.x), 1.0)
    return (
        f"Plan of the base plate of mount {s.mount.name}, {size}, under {say(forces.M_Ed, forces.worst)} {corner.sign}: "
        f"screws pull {who}; about {100 * share:.0f} % of the plate bears, with {say.of(corner.contact.p_max, 'stress')} at most."
    )
