"""Link 5, screws: withdrawal, their steel, and their distances from edges and one another, piece by piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from barrier.basis import Fastener
from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import measured
from barrier.links.ground.geometry import MountModel, PlacedScrew
from barrier.links.ground.stiffness import CORNERS, UNIT
from barrier.links.mount import by_hand
from barrier.links.mount.base_plate import leading
from barrier.links.mount.for_scale import distances_for_scale, sideways_for_scale, steel_for_scale, withdrawal_for_scale
from barrier.links.mount.mount_forces import LARGEST, SIGNS, YIELDING, MountForces
from barrier.links.mount.resistances import screw_of
from barrier.links.mount.sideways import ROOT, Limit, sideways
from barrier.links.mount.thickness import thickness
from barrier.links.walk import Walk
from barrier.result import (
    About,
    Check,
    Finding,
    Lack,
    LinkResult,
    NotChecked,
    Shown,
    Standing,
    compare,
    fails,
    governing,
    not_checked,
    one_of_each,
)
from barrier.value import Numerical, Value

EDGE = Equation(
    Symbol("a_2_CG", "length"),
    "c - delta",
    symbols("c:length, delta:length"),
    "geometry, site tolerance taken off",
    "computed",
    title="distance from the screw to the edge of its piece",
)
END = Equation(
    Symbol("a_1_CG", "length"),
    "c - delta",
    symbols("c:length, delta:length"),
    "geometry, site tolerance taken off",
    "computed",
    title="distance from the screw to the end of its piece",
)
IN_WOOD = Equation(
    Symbol("l_m", "length"),
    "L - z_b",
    symbols("L:length, z_b:length"),
    "geometry: from the top of the wood to the tip",
    "computed",
    title="length of the screw in the wood",
)
BETWEEN = Equation(
    Symbol("a", "length"),
    "s - delta",
    symbols("s:length, delta:length"),
    "geometry, site tolerance taken off",
    "computed",
    title="distance between two screws in one piece",
)


def screws(walk: Walk, mounts: Sequence[MountForces]) -> LinkResult:
    """Check withdrawal, steel, edges and spacing of the screws of every mount."""
    checks: list[Check] = []
    shown: list[Shown] = []
    findings: list[Finding] = []
    for lead in leading(mounts):
        model = lead.model
        own = [f for f in mounts if f.model is model]
        pulled = one_of_each(c for handed in own for c in handed.own(_pulled(walk, handed)))
        checks.extend(pulled)
        if isinstance(lead.R_ax, NotChecked):
            shown.extend(withdrawal_for_scale(walk, lead))
        shown.extend(steel_for_scale(walk, lead))
        shown.extend(sideways_for_scale(walk, lead))
        shown.extend(distances_for_scale(walk, model, dict(_asked_distances(model))))
        shown.extend(_shown(lead))
        for c in pulled:
            if c.squares and c.utilisation is not None and c.standing is Standing.REQUIRED:
                title = f"root of the sum of squares, mount {model.name}"
                shown.append(Shown(title, ROOT(eta=c.utilisation), c.station, mount=model.name))
        checks.append(_plug(model))
        checks.extend(_distances(walk, model))
        findings.extend(_missing(model))
    loaded = {f.model.name for f in mounts}
    for model in walk.mounts:
        if model.name not in loaded and model.wood is not None:  # where a screw stands asks for no load
            checks.extend(_distances(walk, model))
    return LinkResult("screws", "Screws", tuple(checks), tuple(shown), tuple(findings))


def _pulled(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """What the load does to the screws of one mount in one combination."""
    withdrawal, limit = _withdrawal(handed)
    yield withdrawal
    yield _steel(walk, handed)
    yield from sideways(walk, handed, withdrawal, limit)


NEVER_YIELDS = "on a bed that never yields, for nobody knows where it does: where it yields the screws are pulled harder"


def _plug(model: MountModel) -> Check:
    why = NotChecked(
        Lack.BASIS,
        "failure along the circumference of the group with a steel plate: EN 1995-1-1 8.7.2(1) names it and gives no "
        "expression for a pull across the grain (its Annex A is for fasteners pulled along it; from memory)",
    )
    return not_checked(
        About("screws", "plug", mount=model.name), f"screws of mount {model.name} torn out as a group", why, Standing.INFORMATION
    )


def _missing(model: MountModel) -> Iterator[Finding]:
    for s in model.screws:
        if s.piece is None:
            yield Finding(f"Screw {s.name} of mount {model.name} is in no timber: it holds nothing.", loud=True)
    if any(s.present and float(s.angle.x) != 0.0 for s in model.mount.screws):
        yield Finding(
            f"Screws of mount {model.name} are driven at a slant: their withdrawal is taken as slanting along the grain, the "
            "sideways part of their pull and the depth they lose are not counted. Ask the engineer.",
            loud=True,
        )
    present = {s.name for s in model.mount.screws if s.present}
    for listed in model.mount.screws:
        if listed.name not in present:
            yield Finding(f"Screw {listed.name} of mount {model.name} is not there.", loud=True)


def _withdrawal(handed: MountForces) -> tuple[Check, Limit | None]:
    """Withdrawal, and the limit it is compared with where there is one."""
    model, R = handed.model, handed.R_ax
    about, title = About("screws", "withdrawal", mount=model.name), f"withdrawal of the screws of mount {model.name}"
    for name, sign in SIGNS.items():
        start = model.solve("soft", "soft", sign * UNIT)
        if not start.equilibrium:
            return fails(about, title, f"no equilibrium, {name}: {start.reason}", handed.label, demand=handed.M_worst), None
    if isinstance(R, NotChecked):
        return not_checked(about, title, R, demand=handed.M_worst), None
    f = None if isinstance(handed.bed, NotChecked) else float(handed.bed.strength.x)
    found: list[Limit] = []
    for name, sign in SIGNS.items():
        for bed, end in CORNERS:
            for N in handed.weights:
                limit = model.limit(bed, end, sign, f, float(R.x), N)
                found.append(Limit(limit.factor, name, bed, end, limit.reason + (", weight on it" if N else "")))
    least = found[governing([-limit.moment for limit in found])]
    origin = Numerical(
        f"largest moment on mount {model.name} ({least.sign}; {least.bed} bed, {least.screws} screws; {least.reason})",
        LARGEST, "contact model of this project",
        _strengths(handed, R),
        hand=by_hand.moment(handed, R),
    )  # fmt: skip
    M_ax = Value(float(least.moment), "moment", origin, "M_ax_R")
    demand = handed.M_Ed.take(handed.counted)
    return compare(about, title, demand, M_ax, handed.counted_labels, cases=handed.counted_cases), least


def _strengths(handed: MountForces, R: Value) -> dict[str, Value]:
    found = {"F_ax_Rd": R, **handed.model.stiffnesses()}
    if not isinstance(handed.bed, NotChecked):
        found["f_bed"] = handed.bed.strength
    return found


def _shown(handed: MountForces) -> Iterator[Shown]:
    """The largest tension and the naive one, where withdrawal can be looked at."""
    if isinstance(handed.R_ax, NotChecked) or not handed.model.holds:
        return
    naive = by_hand.naive_tension(handed)
    solutions, name = [s for s in handed.with_weight if s.contact.equilibrium], handed.model.name
    if solutions:
        top = solutions[governing([float(s.contact.T.max()) for s in solutions])]
        origin = Numerical(
            f"largest screw tension at the design action ({top.label})",
            YIELDING, "contact model of this project", handed.solved_from(),
            top.contact.residual, by_hand.screw_tension(handed),
        )  # fmt: skip
        tension = Value(float(top.contact.T.max()), "force", origin, "T_Ed")
        remark = NEVER_YIELDS if isinstance(handed.bed, NotChecked) else ""
        yield Shown(f"screw tension of mount {name}", tension, 0, remark, name)
    yield Shown(f"naive screw tension of mount {name}", naive, 0, "always on the low side", name)


def _steel(walk: Walk, handed: MountForces) -> Check:
    model = handed.model
    about, title = About("screws", "steel", mount=model.name), f"steel of the screws of mount {model.name}"
    solutions = [s for s in handed.with_weight if s.contact.equilibrium]
    R = walk.basis.screw_tension(screw_of(model), handed.combination)
    if len(solutions) < len(handed.with_weight):
        return fails(about, title, "no equilibrium at the design action", handed.label, demand=handed.M_worst)
    labels = [s.label for s in solutions]
    origin = Numerical(
        f"largest screw tension of mount {model.name} at the design action", YIELDING,
        "contact model of this project", handed.solved_from(), max(s.contact.residual for s in solutions), None, tuple(labels),
    )  # fmt: skip
    T = Value(np.array([float(s.contact.T.max()) for s in solutions]), "force", origin, "T_Ed")
    return compare(about, title, T, R, labels)


def _distances(walk: Walk, model: MountModel) -> Iterator[Check]:
    """Edge distance within each piece, and spacing of screws that share a piece."""
    screw = screw_of(model)
    tolerance = walk.tables.value("site", "tolerance").named("delta")
    about, title = About("screws", "edge", mount=model.name), f"edge distance of the screws of mount {model.name}, per piece"
    placed = [s for s in model.screws if s.piece is not None]
    across = model.wood is not None and model.wood.along  # the push of a mount goes across the grain of what lies along the glass
    minimum = _larger(walk.basis.axial_spacing("a2_CG", screw), walk.basis.pushed_distance("a4_t", screw) if across else None)
    if isinstance(minimum, NotChecked):
        yield not_checked(about, title, minimum)
    elif placed:
        yield _edge(walk, model, placed, minimum, tolerance, about, title)
    if placed and model.blocking is not None:
        yield _end(walk, model, placed, screw, tolerance)
    yield from _spacing(walk, model, tolerance, screw)
    if placed:
        yield from thickness(walk, model)


def _asked_distances(model: MountModel) -> Iterator[tuple[str, str]]:
    """The distances a pull asks for at the screws of a mount: the rule, and what it is the distance of."""
    yield "a2_CG", "edge distance of a screw"
    if model.blocking is not None:
        yield "a1_CG", "distance of a screw from the end of its piece"
    for rule, way in spaced(model):
        yield rule, f"spacing of the screws {way} the grain"


def _edge(
    walk: Walk, model: MountModel, placed: list[PlacedScrew], minimum: Value, tolerance: Value, about: About, title: str
) -> Check:
    assert model.wood is not None
    axis = [float(s.y.x) if model.wood.along else float(s.x.x) for s in placed]
    edges = []
    for s, at in zip(placed, axis, strict=True):
        piece = model.pieces[s.piece or 0]
        edges.append(min(at - piece.low, piece.high - at))
    worst = governing([-e for e in edges])
    piece = model.pieces[placed[worst].piece or 0]
    c = measured(f"mounts.{model.name}", edges[worst], f"screw {placed[worst].name} to the edge of {piece.name}")
    provided = EDGE(c=c.named("c"), delta=tolerance)
    where = f"screw {placed[worst].name} in {piece.name}"
    if float(provided.x) <= 0.0:
        return fails(about, title, f"{where} has no edge distance left once the site tolerance is taken off", where)
    return compare(about, title, minimum, provided, [where], remark="required over provided; loose pieces count one by one")


def _end(walk: Walk, model: MountModel, placed: list[PlacedScrew], screw: Fastener, tolerance: Value) -> Check:
    """Distance along the grain from a screw to the end of its piece of blocking."""
    assert model.wood is not None
    axis = 0 if model.wood.along else 1
    ends = []
    for s in placed:
        at, outline = float((s.x, s.y)[axis].x), model.pieces[s.piece or 0].outline[:, axis]
        ends.append(min(at - float(outline.min()), float(outline.max()) - at))
    worst = governing([-e for e in ends])
    where = f"screw {placed[worst].name} in {model.pieces[placed[worst].piece or 0].name}"
    about, title = (
        About("screws", "end", mount=model.name),
        f"distance of the screws of mount {model.name} from the end of their piece",
    )
    pushed = None if model.wood.along else walk.basis.pushed_distance("a3_t", screw)
    minimum = _larger(walk.basis.axial_spacing("a1_CG", screw), pushed)
    if isinstance(minimum, NotChecked):
        return not_checked(about, title, minimum)
    provided = END(c=measured(f"mounts.{model.name}", ends[worst], f"{where} to its end").named("c"), delta=tolerance)
    if float(provided.x) <= 0.0:
        return fails(about, title, f"{where} has no end distance left once the site tolerance is taken off", where)
    return compare(about, title, minimum, provided, [where], remark="required over provided")


def _larger(pulled: Value | NotChecked, pushed: Value | NotChecked | None) -> Value | NotChecked:
    """The larger of what a pull and a push sideways ask for; what is not known of either is not known."""
    if pushed is None or isinstance(pulled, NotChecked):
        return pulled
    return pushed if isinstance(pushed, NotChecked) else max(pulled, pushed, key=lambda v: float(v.x))


SPACINGS = {"a1": "along", "a2": "across"}  # by rule: which way the grain


def _nearest(model: MountModel, way: str) -> tuple[float, str]:
    """The two screws of one piece that stand nearest to one another along or across its grain: how far, and which."""
    nearest: tuple[float, str] = (np.inf, "")
    placed = [s for s in model.screws if s.piece is not None]
    for s, other in combinations(placed, 2):
        if s.piece != other.piece or model.wood is None:
            continue
        dx, dy = abs(float(s.x.x) - float(other.x.x)), abs(float(s.y.x) - float(other.y.x))
        par, perp = (dx, dy) if model.wood.along else (dy, dx)
        gap, beside = (par, perp) if way == "along" else (perp, par)
        # Two screws on one line across the grain have no spacing along it to speak of, and the other way round.
        if gap > 0 and gap >= beside:
            nearest = min(nearest, (gap, f"screws {s.name} and {other.name}"))
    return nearest


def spaced(model: MountModel) -> Iterator[tuple[str, str]]:
    """The rules of spacing that two screws of a mount in one piece come under: the rule, and which way the grain it looks.

    Where the timber is not known, both: then nobody can say which screws share a piece.
    """
    for rule, way in SPACINGS.items():
        if model.wood is None or np.isfinite(_nearest(model, way)[0]):
            yield rule, way


def _spacing(walk: Walk, model: MountModel, tolerance: Value, screw: Fastener) -> Iterator[Check]:
    for rule, way in spaced(model):
        nearest = _nearest(model, way)
        about = About("screws", rule, mount=model.name)
        title = f"spacing of the screws of mount {model.name} {way} the grain"
        minimum = _least(walk, model, rule, screw)
        s_value = measured(f"mounts.{model.name}", nearest[0], nearest[1])
        provided = BETWEEN(s=s_value.named("s"), delta=tolerance)
        if isinstance(minimum, NotChecked):
            yield not_checked(about, title, minimum)
        elif float(provided.x) <= 0:
            yield fails(about, title, "no spacing left once the site tolerance is taken off", nearest[1])
        else:
            yield compare(about, title, minimum, provided, [nearest[1]], remark="required over provided")


def _least(walk: Walk, model: MountModel, rule: str, screw: Fastener) -> Value | NotChecked:
    """The larger of the distances a pull and a push sideways ask for between two screws."""
    pulled = walk.basis.axial_spacing(rule, screw)
    L, z_b = model.mount.screw.length, model.z_blocking
    if rule != "a1" or isinstance(pulled, NotChecked) or L is None or z_b is None:
        return pulled
    pushed = walk.basis.row_spacing(screw.d, IN_WOOD(L=L.named("L"), z_b=z_b.named("z_b")))
    return _larger(pulled, pushed)
