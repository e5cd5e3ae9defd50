"""What does not go together on a run: each finding with where, by how much, and what would cure it.

A *clash* cannot be built as drawn; *open* is not checked before something is measured or answered; a *note* is for the one who
builds. Limits come in as lengths; None where nobody said one, and then the finding is open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise

from barrier.run.bays import Clash, Fixing, least_offset_across, offsets_along, window
from barrier.run.division import corner_gap, lean
from barrier.run.modules import ENOUGH
from barrier.run.side import Mount, Panel, SideSet


class Kind(StrEnum):
    """The sixteen kinds."""

    JOINT = "screw on joist or near the end of its piece"
    EDGE = "screw at the edge of its piece"
    BOARD = "screw or plate at a gap between boards"
    NARROW = "bay too narrow"
    UNEQUAL = "edge distance of a mount"
    OPENING = "opening too large"
    GAP = "gap too small"
    HEIGHT = "height of the barrier"
    CORNER = "corner"
    OBSTACLE = "obstacle"
    HEAVY = "heavy panel"
    ALIKE = "sizes that look alike"
    PACKERS = "packers"
    UNMEASURED = "joists not measured"
    RAIL = "rail"
    REACH = "order of work"


class Weight(StrEnum):
    """How much a finding weighs."""

    CLASH = "clash"
    OPEN = "not checked"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Conflict:
    """A finding: kind, weight, side and place (mm from the datum of the side), whom it concerns, by how much, what cures it."""

    kind: Kind
    weight: Weight
    side: str
    at: float
    whom: tuple[str, ...]
    what: str
    cure: str


@dataclass(frozen=True, slots=True)
class Limits:
    """What findings are measured by: lengths in mm, mass in kg, shares of a width; ``gap_needed`` lets no sphere through."""

    tolerance: float
    least_gap: float
    opening: float | None
    least_share: float
    largest_share: float
    difference: float
    lift: float
    bottom_gap: float
    height: float
    barrier_height: float | None
    plate_along: float
    plate_across: float
    thickness: float
    packers: float = 10.0  # the highest stack, common practice, no source
    alike: float = 25.0  # sizes nearer than this are mixed up, common practice, no source


def of_side(side: SideSet, fixing: Fixing, limits: Limits, masses: Mapping[str, float]) -> tuple[Conflict, ...]:
    """Every finding of one side, in the order of the kinds; ``masses`` of the panels by name, kg."""
    looks: tuple[Callable[[SideSet, Fixing, Limits], Iterator[Conflict]], ...] = (
        _bays, _edges, _boards, _unequal, _openings, _gaps, _height, _obstacles, _packers, _unmeasured, _reach,
    )  # fmt: skip
    found = [c for look in looks for c in look(side, fixing, limits)]
    for p in side.panels:
        if masses[p.name] > limits.lift:
            what = f"{masses[p.name]:.0f} kg, {masses[p.name] - limits.lift:.0f} kg above {limits.lift:g} kg for two persons"
            found.append(_of(Kind.HEAVY, Weight.NOTE, side, p, what, "three persons or a lifter"))
    return tuple(found)


def of_mounts(side: SideSet, fixing: Fixing, limits: Limits) -> tuple[Conflict, ...]:
    """Findings of what the mounts of a side stand on, and of the height of its panels: of one panel that is not like the others."""
    looks = (_bays, _edges, _boards, _unmeasured, _height)
    return tuple(c for look in looks for c in look(side, fixing, limits))


def _of(kind: Kind, weight: Weight, side: SideSet, who: Panel | Mount, what: str, cure: str) -> Conflict:
    at = who.at if isinstance(who, Mount) else (who.strip.left + who.strip.right) / 2
    return Conflict(kind, weight, side.name, at, (who.name,), what, cure)


def _bays(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    if not side.ground.across:
        return
    joists = side.ground.joists
    for m in side.mounts:
        if m.place is None:
            yield _of(Kind.JOINT, Weight.CLASH, side, m, "stands outside the joists", "measure the joists to the end of the side")
            continue
        wide = joists[m.place.bay + 1] - joists[m.place.bay]
        there = window(wide, side.ground.joist, fixing)
        if there.low > there.high:
            what = f"bay {m.place.bay + 1} of {wide:g} mm wants {there.low - there.high:g} mm more for these screws"
            yield _of(Kind.NARROW, Weight.CLASH, side, m, what, "a trimmer, a doubled joist, or a piece across")
        elif m.place.clash is not Clash.NONE:
            way = "further along the tape" if m.place.from_face < m.place.piece / 2 else "back along the tape"
            what = f"{m.place.clash}, short by {m.place.short:g} mm"
            yield _of(Kind.JOINT, Weight.CLASH, side, m, what, f"{m.place.short:g} mm {way}, or another division of the side")


def _edges(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    g = side.ground
    want = fixing.edge + fixing.tolerance

    def said(kind: Kind, what: str, cure: str) -> Conflict:
        whom = tuple(m.name for m in side.mounts)
        return Conflict(kind, Weight.CLASH, side.name, side.division.line / 2, whom, what, cure)

    half, first = (fixing.half_across, g.offset - g.rim) if g.across else (fixing.half_along, g.pack / 2)
    near = min(_to_an_edge(first + way * half, g.piece, g.pack) for way in (-1, 1))
    if near < want:
        there = offsets_along(g.rim, g.piece, fixing)
        cure = "a larger piece, or one glued in one, or a smaller screw"
        if g.across and g.pack == g.piece and there.low <= there.high:
            cure = f"an offset of {there.low:g} to {there.high:g} mm from the deck edge"
        how = "on the joint of two pieces or" if g.pack != g.piece else "off the piece or"
        place = f"{near:g} mm from an edge" if near > 0.0 else f"{how} at its edge"
        yield said(Kind.EDGE, f"a row of screws stands {place}, {want - near:g} mm short of {want:g}", cure)
    if not g.across and g.offset < (least := least_offset_across(g.rim, fixing)):
        what = f"the glass stands {g.offset:g} mm in, {least - g.offset:g} mm too near the edge joist"
        yield said(Kind.JOINT, what, f"an offset of {least:g} mm from the deck edge")


def _to_an_edge(at: float, ply: float, pack: float) -> float:
    """How far a row of screws stands from the nearest edge of the ply it is in, mm; below nought outside the pack."""
    if not 0.0 < at < pack:
        return min(at, pack - at)
    within = at % ply
    return min(within, ply - within)


def _boards(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    g, half = side.ground, limits.plate_across / 2
    for low, high in g.gaps_along:
        under = min(high, g.offset + half) - max(low, g.offset - half)
        if under > 0.0:
            what = f"a gap between boards lies under every plate: {under:g} of {2 * half:g} mm bear nothing"
            yield Conflict(Kind.BOARD, Weight.NOTE, side.name, side.division.line / 2, tuple(m.name for m in side.mounts), what,
                           "tell the engineer; another board width at the edge cures it")  # fmt: skip
        for way in (-1, 1):
            line = g.offset + way * fixing.half_across
            if low - fixing.diameter / 2 < line < high + fixing.diameter / 2:
                yield Conflict(Kind.BOARD, Weight.CLASH, side.name, side.division.line / 2, tuple(m.name for m in side.mounts),
                               f"a row of screws {line:g} mm from the edge stands in the gap {low:g} to {high:g} mm",
                               "another offset, or another board width at the edge")  # fmt: skip
    if g.boards is None:
        return
    for m in side.mounts:
        for way in (-1, 1):
            x = m.at + way * fixing.half_along
            gap = g.boards.gap_near(x, fixing.diameter / 2 + fixing.tolerance)
            if gap is not None:
                how = "in" if x in gap else f"{max(gap.low - x, x - gap.high):g} mm beside"
                what = f"the screws at {x:g} mm stand {how} a gap at {gap.low:g} to {gap.high:g} mm"
                yield _of(Kind.BOARD, Weight.CLASH, side, m, what, "move the mount along the tape")


def _unequal(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    for p in side.panels:
        width, wanted = p.strip.width, f"{limits.least_share:g} to {limits.largest_share:g}"
        for e, which in ((p.near, "near"), (p.far, "far")):
            if not limits.least_share * width - 0.5 <= e <= limits.largest_share * width + 0.5:
                what = f"{which} mount {e:g} mm in, {e / width:.2f} of {width} mm; wanted {wanted}"
                yield _of(Kind.UNEQUAL, Weight.NOTE, side, p, what, "it is checked as it stands; move the mount, or another width")
        if abs(p.near - p.far) > limits.difference:
            what = f"near {p.near:g}, far {p.far:g} mm: {abs(p.near - p.far) - limits.difference:g} mm more apart than agreed"
            yield _of(Kind.UNEQUAL, Weight.NOTE, side, p, what, "it is checked as it stands; move a mount")


def _spaces(side: SideSet, limits: Limits) -> Iterator[tuple[float, float, str]]:
    """Clear spaces that a sphere could go through: middle, size where it is largest, name."""
    d = side.division
    more = abs(lean(limits.height, d.line / side.fall)) if side.fall else 0.0  # an end gap leans where the panel follows the fall
    if side.start != "corner":
        yield d.start / 2, d.start + more, "gap at the start"
    for (a, b), gap in zip(pairwise(side.panels), d.gaps, strict=True):
        yield (a.strip.right + b.strip.left) / 2, float(gap), f"gap {a.name} to {b.name}"
    if side.end != "corner":
        yield d.line - d.end / 2, d.end + more, "gap at the end"


def _openings(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    if limits.opening is None:
        what = "no largest opening is given, so no gap was compared with one"
        yield Conflict(
            Kind.OPENING, Weight.OPEN, side.name, 0.0, (), what, "ask which sphere must not go through, and by whose rule"
        )
        return
    most = limits.opening - limits.tolerance
    for at, size, name in _spaces(side, limits):
        if size > most:
            what = f"{name} of {size:.0f} mm, {size - most:.0f} mm above {most:g} (the rule less the tolerance)"
            yield Conflict(Kind.OPENING, Weight.CLASH, side.name, at, (), what, "wider panels, or a smaller end space")
    if limits.bottom_gap > most:
        what = f"bottom gap of {limits.bottom_gap:g} mm, {limits.bottom_gap - most:g} mm above {most:g}"
        yield Conflict(Kind.OPENING, Weight.CLASH, side.name, 0.0, (), what, "set the glass lower")


def _gaps(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    for (a, b), gap in zip(pairwise(side.panels), side.division.gaps, strict=True):
        if gap < limits.least_gap:
            what = f"gap of {gap} mm, {limits.least_gap - gap:g} mm less than {limits.least_gap:g}"
            yield Conflict(Kind.GAP, Weight.CLASH, side.name, a.strip.right + gap / 2, (a.name, b.name), what, "narrower panels")


def _height(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    top = limits.bottom_gap + limits.height
    if limits.barrier_height is None or not side.fall:
        return
    for p in side.panels:
        lost = abs(side.fall_at(p.strip.right) - side.fall_at(p.strip.left)) / 2
        if top - lost < limits.barrier_height - 0.5:
            short = limits.barrier_height - top + lost
            what = (
                f"above the highest deck within it the top stands {top - lost:.0f} mm, {short:.0f} less than the "
                f"{limits.barrier_height:g} said"
            )
            cure = f"glass {short:.0f} mm higher, or set {short:.0f} mm higher; mind the gap below it"
            yield _of(Kind.HEIGHT, Weight.NOTE, side, p, what, cure)


def _obstacles(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    for o in side.ground.blocked:
        things = [(m.name, m.at - limits.plate_along / 2, m.at + limits.plate_along / 2, "plate") for m in side.mounts]
        things += [(p.mark, p.low, p.high, "piece") for p in side.pieces]
        things += [(p.name, float(p.strip.left), float(p.strip.right), "glass") for p in side.panels if o.glass]
        for name, low, high, what in things:
            over = min(high, o.high) - max(low, o.low)
            if over > 0.0:
                at, said = (max(low, o.low) + min(high, o.high)) / 2, f"{what} {name} stands {over:g} mm in: {o.why}"
                cure = "another division, or take the obstacle away"
                yield Conflict(Kind.OBSTACLE, Weight.CLASH, side.name, at, (name,), said, cure)


def _packers(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    if not side.fall:
        return
    whole, plate = abs(side.fall), abs(side.fall) / side.division.line * limits.plate_along
    end_gap = limits.bottom_gap + whole
    if whole > limits.packers:
        what = (
            f"the deck falls {whole:.0f} mm. This paper follows the fall: every panel leans with the deck. A level top "
            f"instead would want packers up to {whole:.0f} mm and leave {end_gap:.0f} mm below the glass at the end"
        )
        cure = "owner and engineer choose before glass is ordered: lean with the fall, or panels stepped in height"
    else:
        what = f"the deck falls {whole:.0f} mm: packers up to that, {plate:.1f} mm of difference within one plate"
        cure = "tapered packers under the full plate; a level reading at every mount"
    yield Conflict(Kind.PACKERS, Weight.NOTE, side.name, float(side.division.line), (), what, cure)


def _unmeasured(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    if side.ground.measured:
        return
    for m in side.mounts:
        if m.place is not None and m.place.clash is Clash.NONE and m.place.spare < ENOUGH:
            what = f"joists taken at their nominal spacing, and only {m.place.spare:g} mm to spare ({ENOUGH:g} wanted)"
            yield _of(Kind.UNMEASURED, Weight.OPEN, side, m, what, _measure(side, m.place.bay))


def _measure(side: SideSet, bay: int) -> str:
    left, right = side.ground.joists[bay : bay + 2]
    return f"measure the two joists of bay {bay + 1}: their middles are taken at {left:g} and {right:g} on the tape"


def _reach(side: SideSet, fixing: Fixing, limits: Limits) -> Iterator[Conflict]:
    at = side.division.line / 2
    what = "where boards are laid already, a piece can only be fixed from below"
    cure = "no boards yet: pieces first; boards laid: see that both ends of each piece are reached, or take boards up"
    yield Conflict(Kind.REACH, Weight.NOTE, side.name, at, tuple(p.mark for p in side.pieces), what, cure)


def at_corner(one: SideSet, one_at: str, other: SideSet, other_at: str, outside: bool, limits: Limits) -> Iterator[Conflict]:
    """Findings where two sides meet: glass on glass, an opening, base plates, pieces of blocking."""

    def end(side: SideSet, at: str) -> tuple[float, float, float]:
        line = side.division.line
        ms = [m.at for m in side.mounts]
        return (side.division.start, ms[0], 0.0) if at == "start" else (side.division.end, line - ms[-1], float(line))

    (a, m_a, at), (b, m_b, _) = end(one, one_at), end(other, other_at)
    gap = corner_gap(a, limits.thickness) if a == b else _apart(a, b, limits.thickness)
    both = (one.panels[0 if one_at == "start" else -1].name, other.panels[0 if other_at == "start" else -1].name)

    def said(what: str, cure: str) -> Conflict:
        return Conflict(Kind.CORNER, Weight.CLASH, one.name, at, both, what, cure)

    if gap < limits.tolerance:
        need = limits.thickness / 2 + limits.tolerance
        yield said(f"the panes come within {gap:.1f} mm of one another", f"stop both at least {need:g} mm short of the crossing")
    elif limits.opening is not None and gap > limits.opening - limits.tolerance:
        yield said(f"the corner is open by {gap:.0f} mm", "stop both sides less short of the crossing")
    if max(m_a, m_b) < (limits.plate_along + limits.plate_across) / 2:
        short = (limits.plate_along + limits.plate_across) / 2 - max(m_a, m_b)
        yield said(f"two base plates overlap by {short:g} mm in the corner", "move one first mount further from the corner")
    if (over := _pieces_meet(one, one_at, other, other_at, outside)) > 0.0:
        yield said(f"two pieces of blocking overlap by {over:g} mm in the corner bay", "move a first mount, or shorten one piece")


def _pieces_meet(one: SideSet, one_at: str, other: SideSet, other_at: str, outside: bool) -> float:
    """How far pieces of two sides overlap at a corner, mm; nought where they are clear of one another.

    Along one side lies across the other: away from the drop side of the other at an outside corner, towards it at an inside one.
    """

    def boxes(side: SideSet, at: str) -> Iterator[tuple[float, float, float, float]]:
        g, line = side.ground, float(side.division.line)
        deep = g.pack if g.across else side.pieces[0].length
        for p in side.pieces:
            low, high = (p.low, p.high) if at == "start" else (line - p.high, line - p.low)
            yield low, high, g.offset - g.rim - deep, g.offset - g.rim  # along, and towards the drop side

    worst = 0.0
    for a_low, a_high, a_in, a_out in boxes(one, one_at):
        for b_low, b_high, b_in, b_out in boxes(other, other_at):
            if outside:
                along = min(a_high, -b_in) - max(a_low, -b_out)
                across = min(a_out, -b_low) - max(a_in, -b_high)
            else:
                along = min(a_high, b_out) - max(a_low, b_in)
                across = min(a_out, b_high) - max(a_in, b_low)
            worst = max(worst, min(along, across))
    return worst


def _apart(a: float, b: float, thickness: float) -> float:
    """Clear gap of two panes that stop a and b short of their crossing, mm; by their inner edges."""
    x, y = a - thickness / 2, b - thickness / 2
    return min(x, y) if min(x, y) < 0 else float((x * x + y * y) ** 0.5)


def of_sizes(sides: Sequence[SideSet], limits: Limits) -> Iterator[Conflict]:
    """Sizes of glass that look alike, over the whole run."""
    panels = [(p, s) for s in sides for p in s.panels]
    sizes = sorted({p.strip.width for p, _ in panels})
    for small, large in pairwise(sizes):
        if large - small < limits.alike:
            whom = tuple(p.name for p, _ in panels if p.strip.width in (small, large))
            p, s = next((p, s) for p, s in panels if p.strip.width == small)
            at, what = (p.strip.left + p.strip.right) / 2, f"sizes {small} and {large} mm are {large - small} mm apart"
            yield Conflict(Kind.ALIKE, Weight.NOTE, s.name, at, whom, what, "make them one size, or mark every panel")


def in_order(found: Sequence[Conflict]) -> tuple[Conflict, ...]:
    """Findings as they are numbered: clashes, then what is not checked, then notes; each by side and place.

    What is the same but for whom it concerns is one finding, at the first place.
    """
    order = list(Weight)
    alike: dict[tuple[str, ...], list[Conflict]] = {}
    for c in found:
        alike.setdefault((c.kind, c.weight, c.side, c.what, c.cure), []).append(c)
    merged = [replace(cs[0], whom=tuple(dict.fromkeys(w for c in cs for w in c.whom))) for cs in alike.values()]
    return tuple(sorted(merged, key=lambda c: (order.index(c.weight), c.side, c.at, list(Kind).index(c.kind))))
