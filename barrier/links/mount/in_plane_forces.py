"""Statics of a panel pushed in its own plane: along the barrier, down and up. What each mount gets of it.

The panel is rigid in its plane and its mounts are an elastic group of equal stiffness. How far a clamp turns a mount
with the glass is not known, so a push along is looked at between two ends, both in equilibrium: the couple alone (the
mounts push down and pull up, and nothing turns them) and a hinge at the middle of the pads (each mount is turned by its
share of the push about the underside of its base plate as well).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from barrier.basis import Action
from barrier.equation import Equation, Symbol, symbols
from barrier.links.given import counted, measured
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.ground.geometry import InPlaneLoad, MountModel
from barrier.links.loads.on_barrier import given_actions
from barrier.links.under_rail import beside
from barrier.links.walk import Walk
from barrier.result import Combination, NotChecked, Standing
from barrier.value import Numerical, Value, gather

WEIGHT = Equation(
    Symbol("G_k", "force"),
    "w_g*W*H_g*t_g",
    symbols("w_g:unit weight, W:length, H_g:length, t_g:length"),
    "statics",
    "computed",
    title="weight of the glass",
)
WEIGHT_SHARE = Equation(
    Symbol("N_0", "force"),
    "f_G*G_k*(1/n_m + e_G*c_x)",
    symbols("f_G:ratio, G_k:force, n_m:count, e_G:length, c_x:per length"),
    "statics: elastic group of mounts, weight in the middle of the panel",
    "computed",
    title="weight on the mount",
)
ARM = Equation(
    Symbol("h_P", "length"),
    "H_g + h_0",
    symbols("H_g:length, h_0:length"),
    "geometry: top edge of the glass above the underside of the base plate",
    "computed",
    title="height of a push along the top edge",
)
HINGE = Equation(
    Symbol("z_h", "length"),
    "h_0 + y_p",
    symbols("h_0:length, y_p:length"),
    "geometry: middle of the pads above the underside of the base plate",
    "computed",
    title="height at which the clamp gives way to a turn",
)
COUPLE = Equation(
    Symbol("N_al", "force"),
    "f_Q*P_k*(h_P - z_h)*c_x",
    symbols("f_Q:ratio, P_k:force, h_P:length, z_h:length, c_x:per length"),
    "statics: rigid panel on an elastic group of mounts",
    "computed",
    title="force down on the mount from a push along",
)
TURN = Equation(
    Symbol("M_al", "moment"),
    "f_Q*P_k*z_h/n_m",
    symbols("f_Q:ratio, P_k:force, z_h:length, n_m:count"),
    "statics: share of the push at the height of the clamp",
    "computed",
    title="turn of the mount about the axis across the barrier",
)
SHARE = Equation(
    Symbol("F_al", "force"),
    "f_Q*P_k/n_m",
    symbols("f_Q:ratio, P_k:force, n_m:count"),
    "statics: a push along shared by the mounts",
    "computed",
    title="push along on the mount",
)
DOWN = Equation(
    Symbol("N_V", "force"),
    "f_Q*V_k*(1/n_m + e_V*c_x)",
    symbols("f_Q:ratio, V_k:force, n_m:count, e_V:length, c_x:per length"),
    "statics: rigid panel on an elastic group of mounts",
    "computed",
    title="force on the mount from a vertical load",
)
LINE = Equation(
    Symbol("V_k", "force"),
    "q_k*W",
    symbols("q_k:line load, W:length"),
    "statics",
    "computed",
    title="vertical line load on the panel",
)
OVER = Equation(
    Symbol("V_o", "force"),
    "5*q_k*L/8",
    symbols("q_k:line load, L:length"),
    "statics: beam under an even load, held at one end and hinged at the other; never more at an end, however stiff its ends are",
    "computed",
    title="vertical line load over the opening beside the panel",
)
WITH_MOMENT = Equation(
    Symbol("x_o", "length"),
    "L/5",
    symbols("L:length"),
    "statics: the moment q L²/8 of the held end over its reaction 5 q L/8; the panel takes both",
    "computed",
    title="place of the load over the opening, beyond the edge of the glass",
)
POINT_WITH_MOMENT = Equation(
    Symbol("x_o", "length"),
    "L/(3*sqrt(3))",
    symbols("L:length"),
    "statics: largest moment of the held end of a beam hinged at the other, P L/(3√3), with all of P as its reaction",
    "computed",
    title="place of a force over the opening, beyond the edge of the glass",
)
HANGING = Equation(
    Symbol("V_o", "force"),
    "q_k*L",
    symbols("q_k:line load, L:length"),
    "statics: the rail hangs from the panel",
    "computed",
    title="vertical line load over the opening beside the panel",
)
FACTORED = Equation(
    Symbol("P_d", "force"), "f_Q*P_k", symbols("f_Q:ratio, P_k:force"), "factor of the combination on the action", "computed"
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class InPlaneAction:
    """A load in the plane of the glass: the action, its combination, and why its standing is what it is."""

    action: Action
    combination: Combination
    words: str

    @property
    def standing(self) -> Standing:
        """Whether it decides or informs."""
        return Standing.REQUIRED if self.action.required else Standing.INFORMATION

    @property
    def f_Q(self) -> Value:
        """Factor on the action."""
        return self.combination.factor.named("f_Q")


@dataclass(frozen=True, slots=True, eq=False)
class MountShare:
    """What one mount gets of one load in the plane, at the level of the combination: one station a way of acting.

    ``weight`` held and factored, ``down`` and ``turn`` grow with the load, ``push`` along the barrier; ``total`` the load;
    ``pressing`` the weight where it adds to what presses the mount down.
    """

    model: MountModel
    load: InPlaneAction
    way: str
    labels: tuple[str, ...]
    weight: Value
    down: Value
    turn: Value
    push: Value
    total: Value
    pressing: Value

    def at(self, station: int) -> InPlaneLoad:
        """The numbers at one station."""
        return InPlaneLoad(self.weight.at(station), self.down.at(station), self.turn.at(station))


def in_plane_actions(walk: Walk) -> Iterator[InPlaneAction]:
    """Loads in the plane: those the basis names, else made of its point and line load where it says *any direction*."""
    given = given_actions(walk)
    if isinstance(given, NotChecked):
        return
    named = {a.kind for a in given}
    combination = walk.strength("barrier")
    for a in given:
        if a.kind in ("along", "vertical"):
            yield InPlaneAction(a, combination, a.source)
    any_way, words = walk.basis.any_direction, walk.basis.in_plane_words
    for a in given:
        if a.kind == "point" and "along" not in named:
            why = f"{a.source}: in any direction" if any_way else words
            title = f"{a.title}, along the barrier"
            turned = replace(a, id=f"{a.id} along", title=title, kind="along", required=a.required and any_way)
            yield InPlaneAction(turned, combination, why)
        if a.kind in ("point", "line") and "vertical" not in named and any_way:
            why = f"{a.source}: in any direction"
            yield InPlaneAction(
                replace(a, id=f"{a.id} vertical", title=f"{a.title}, up and down", kind="vertical", of=a.id), combination, why
            )


class Group:
    """The mounts of a panel as an elastic group of equal stiffness: their places and what they weigh down with."""

    def __init__(self, walk: Walk, panel: PanelSolution) -> None:
        self.walk, self.panel, self.mounts = walk, panel, panel.mounts
        self.x = np.array([float(m.mount.x.x) for m in self.mounts])
        self.middle = float(self.x.mean())
        around = float(((self.x - self.middle) ** 2).sum())
        self.c = (self.x - self.middle) / around if around > 0.0 else np.zeros(len(self.x))
        path = f"panels.{panel.panel.name}"
        self.n = counted(path, len(self.mounts), "mounts of the panel").named("n_m")
        _, _, weight = walk.basis.glass_constants()
        self.G = WEIGHT(
            w_g=weight.named("w_g"), W=panel.panel.width.named("W"), H_g=panel.panel.height.named("H_g"),
            t_g=panel.glass_depth.named("t_g"),
        )  # fmt: skip
        self.e_G = measured(
            path, float(panel.panel.width.x) / 2 - self.middle, "middle of the panel from that of its mounts"
        ).named("e_G")

    def share(self, m: int) -> Value:
        """Share of a mount in a couple, per length: distance from the middle over the sum of squares."""
        origin = Numerical(
            f"distance of mount {self.mounts[m].name} from the middle of the mounts, over the sum of squares of all",
            "elastic group of mounts of equal stiffness", "statics",
        )  # fmt: skip
        return Value(float(self.c[m]), "per length", origin, "c_x")

    def weight(self, m: int, factor: Value) -> Value:
        """Weight on a mount, factored."""
        return WEIGHT_SHARE(f_G=factor.named("f_G"), G_k=self.G, n_m=self.n, e_G=self.e_G, c_x=self.share(m))

    def pressing(self, m: int) -> Value:
        """Weight on a mount where it adds to what presses: nominal thickness, and the factor on weight that adds to a load."""
        basis, panel = self.walk.basis, self.panel
        factor = basis.weight_down_factor()
        if isinstance(factor, NotChecked):
            factor = basis.weight_factor()
        _, _, weight = basis.glass_constants()
        G_k = WEIGHT(
            w_g=weight.named("w_g"), W=panel.panel.width.named("W"), H_g=panel.panel.height.named("H_g"),
            t_g=panel.nominal_depth.named("t_g"),
        )  # fmt: skip
        return WEIGHT_SHARE(f_G=factor.named("f_G"), G_k=G_k, n_m=self.n, e_G=self.e_G, c_x=self.share(m))


WAYS = (("to the right", 1.0), ("to the left", -1.0))
ENDS = ("couple alone", "hinged at the pads")


def along(group: Group, load: InPlaneAction, m: int) -> MountShare:
    """A push along at the top edge: both ways, both ends of what the clamp may do."""
    model = group.mounts[m]
    h_P = ARM(H_g=group.panel.panel.height.named("H_g"), h_0=model.lever)
    alone = len(group.mounts) == 1
    ends = ("held by one mount",) if alone else ENDS
    stations = [(end, way, sign) for end in ends for way, sign in WAYS]
    labels = tuple(f"{load.action.title} {way}; mount {model.name}; {end}" for end, way, _ in stations)
    heights = {"couple alone": 0.0, "hinged at the pads": float(_hinge(model).x), "held by one mount": float(h_P.x)}
    signs = np.array([s for _, _, s in stations])
    z_h = Value(
        np.array([heights[end] for end, _, _ in stations]), "length",
        Numerical("height of the hinge: none, at the middle of the pads, or the push's own where one mount holds all",
                  "the two ends of what a clamp may do", "statics", {"z_p": _hinge(model), "h_P": h_P}, labels=labels), "z_h",
    )  # fmt: skip
    P = load.action.size.named("P_k")
    signed = Value(
        float(P.x) * signs, "force",
        Numerical("the push, + to the right", "both ways", "statics", {"P_k": P}, labels=labels), "P_k",
    )  # fmt: skip
    return MountShare(
        model, load, "along", labels,
        group.weight(m, group.walk.basis.weight_factor()),
        COUPLE(f_Q=load.f_Q, P_k=signed, h_P=h_P, z_h=z_h, c_x=group.share(m)),
        TURN(f_Q=load.f_Q, P_k=signed, z_h=z_h, n_m=group.n),
        SHARE(f_Q=load.f_Q, P_k=signed, n_m=group.n),
        FACTORED(f_Q=load.f_Q, P_k=P), group.pressing(m),
    )  # fmt: skip


def vertical(group: Group, load: InPlaneAction, m: int, up: bool) -> MountShare | NotChecked:
    """A load down (or up) on the top edge: a line load in the middle, a force at either end of the panel.

    Beside an opening under a rail what comes from over it as well: see :func:`_from_openings`.
    """
    model, panel = group.mounts[m], group.panel.panel
    holding, pressing = group.walk.basis.weight_factor(), group.walk.basis.weight_down_factor()
    if isinstance(pressing, NotChecked):
        if not up:
            return pressing
        pressing = holding
    size = load.action.size
    W = float(panel.width.x)
    line = size.kind == "line load"
    V_k = LINE(q_k=size.named("q_k"), W=panel.width.named("W")) if line else size.named("V_k")
    V = float(V_k.x)
    places = [("over the whole width", V, W / 2)] if line else [("at the left end", V, 0.0), ("at the right end", V, W)]
    beyond = _from_openings(group, load, V_k)
    places += beyond.places
    way = "up" if up else "down"
    labels = tuple(f"{load.action.title}, {way} {where}; mount {model.name}" for where, _, _ in places)
    sign = -1.0 if up else 1.0
    signed = Value(
        np.array([sign * V for _, V, _ in places]), "force",
        Numerical("the load, + down", "as named", "statics", {"V_k": V_k, **beyond.forces}, labels=labels), "V_k",
    )  # fmt: skip
    e_V = Value(
        np.array([x - group.middle for _, _, x in places]), "length",
        Numerical(
            "load from the middle of the mounts", "read off the geometry", "geometry of the job", beyond.levers, labels=labels
        ),
        "e_V",
    )  # fmt: skip
    nothing = Value(0.0, "moment", Numerical("no turn", "as named", "statics"), "M_al")
    none = Value(0.0, "force", Numerical("no push along", "as named", "statics"), "F_al")
    N_al = DOWN(f_Q=load.f_Q, V_k=signed, n_m=group.n, e_V=e_V, c_x=group.share(m))
    # A force down at one end of the panel lifts the mount at its other end: there the weight holds down.
    factor = gather([holding, pressing], [int(N > 0.0) for N in np.asarray(N_al.x)])
    return MountShare(
        model, load, way, labels, group.weight(m, factor), N_al,
        nothing, none, FACTORED(f_Q=load.f_Q, P_k=V_k), group.pressing(m),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Beyond:
    """What comes from over the openings: where in words, force (N) and place (mm from the left edge of the panel); and what forces
    and places were made of."""

    places: list[tuple[str, float, float]]
    forces: dict[str, Value]
    levers: dict[str, Value]


def _from_openings(group: Group, load: InPlaneAction, V_k: Value) -> _Beyond:
    """What comes to a panel from over the openings beside it, with its own load and alone.

    The rail lies on its panel stiffly in its plane. Over an opening it spans to the next panel or to what holds its end. Five
    eighths with the moment of a held end turn the panel most, whatever holds the other end: a reaction that much beyond the edge
    of the glass. A force over the opening likewise. Where the rail hangs, all of it comes, at its own place.
    """
    panel, size = group.panel.panel, load.action.size
    W, own = float(panel.width.x), (float(V_k.x), float(panel.width.x) / 2)
    found = _Beyond([], {}, {})
    for n, o in enumerate(beside(group.walk.job, panel), 1):
        where, edge, way = f"the opening on its {o.side}", *((W, 1.0) if o.side == "right" else (0.0, -1.0))
        L = measured("rail.openings", o.length, f"{where}, from glass to glass or to the end of the rail").named("L")
        if size.kind != "line load":
            words = f"at the far end of {where}" if o.hangs else f"at the worst place over {where}"
            x = L if o.hangs else POINT_WITH_MOMENT(L=L)
            found.levers[f"x_o{n}"] = x
            found.places.append((words, own[0], edge + way * float(x.x)))
            continue
        V_o = found.forces[f"V_o{n}"] = (HANGING if o.hangs else OVER)(q_k=size.named("q_k"), L=L)
        x = measured("rail.openings", o.length / 2, f"middle of {where}") if o.hangs else WITH_MOMENT(L=L)
        found.levers[f"x_o{n}"] = x
        over = (float(V_o.x), edge + way * float(x.x))
        found.places.append((f"over {where}", *over))
        found.places.append((f"over the whole width and {where}", *_resultant(own, over)))
    if len(found.forces) > 1:
        both = _resultant(own, *((V, x) for _, V, x in found.places[::2]))
        found.places.append(("over the whole width and the openings beside it", *both))
    return found


def _resultant(*parts: tuple[float, float]) -> tuple[float, float]:
    """Several forces as one, and where it acts."""
    total = sum(V for V, _ in parts)
    return total, sum(V * x for V, x in parts) / total


PADS_MIDDLE = Equation(
    Symbol("y_p", "length"), "(y_b + y_t)/2", symbols("y_b:length, y_t:length"), "geometry: middle of the pads", "computed"
)  # fmt: skip


def _hinge(model: MountModel) -> Value:
    pads = model.mount.pads
    low = min((p.bottom for p in pads), key=lambda v: float(v.x))
    high = max((p.top for p in pads), key=lambda v: float(v.x))
    return HINGE(h_0=model.lever, y_p=PADS_MIDDLE(y_b=low.named("y_b"), y_t=high.named("y_t")))
