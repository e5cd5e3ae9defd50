"""Glass lifting or sliding out of a friction clamp: loads in the plane of the glass, against the supplier's values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.equation import Equation, Symbol, symbols
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.mount.in_plane_forces import Group, InPlaneAction, MountShare, along, in_plane_actions, vertical
from barrier.links.walk import Walk
from barrier.result import About, Check, Ending, Lack, NotChecked, Standing, compare, governing, not_checked
from barrier.value import Value

ALONG = Equation(
    Symbol("F_along", "force"),
    "abs(F_al)",
    symbols("F_al:force"),
    "statics: a push along the barrier shared by the clamps",
    "computed",
    title="push along the glass at one clamp",
)
UP = Equation(
    Symbol("F_up", "force"),
    "max(-N_al - N_0, 0)",
    symbols("N_al:force, N_0:force"),
    "statics: what lifts the glass at a clamp, its weight holding down",
    "computed",
    title="lift of the glass at one clamp",
)
WORDS = {"slip_along": "slides along", "slip_up": "lifts out of"}


def slip(walk: Walk, panel: PanelSolution) -> Iterator[Check]:
    """Slip along and up at the clamps of one panel, under every load in its plane that does so: the worst clamp of each."""
    group = Group(walk, panel)
    loads = list(in_plane_actions(walk))
    for key in WORDS:
        for standing in (Standing.REQUIRED, Standing.INFORMATION):
            found = [s for load in loads if load.standing is standing for s in _shares(group, load, key)]
            if found:
                yield _worst([_check(walk, panel, key, share) for share in found])


def _shares(group: Group, load: InPlaneAction, key: str) -> Iterator[MountShare]:
    for m in range(len(group.mounts)):
        if load.action.kind == "along":
            yield along(group, load, m)
        elif key == "slip_up" and group.walk.basis.any_direction:
            lifted = vertical(group, load, m, up=True)
            if isinstance(lifted, MountShare):
                yield lifted


def _check(walk: Walk, panel: PanelSolution, key: str, share: MountShare) -> Check:
    about, title = About("clamp", key, panel=panel.panel.name), f"glass of panel {panel.panel.name} {WORDS[key]} its clamps"
    demand = ALONG(F_al=share.push) if key == "slip_along" else UP(N_al=share.down, N_0=share.weight)
    rating, standing = share.model.mount.rating, share.load.standing
    value = getattr(rating, key) if rating is not None else None
    if value is None:
        why = NotChecked(Lack.INPUT, f"the supplier's value ({key}) of every mount; a friction clamp has no other")
        return not_checked(about, title, why, standing, demand, governing(demand.x))
    assert rating is not None
    resistance: Value | NotChecked = value.named("R_slip")  # an allowable one as it is given, against the action with its factor
    if rating.meaning == "characteristic":  # of the same tests as the moment: taken by the same rule
        wood = share.model.wood.names if share.model.wood is not None else {}
        resistance = walk.basis.mount_rating(value, walk.timber(wood), share.load.combination)
    elif rating.meaning != "allowable":
        resistance = NotChecked(Lack.INPUT, f"what the supplier's value ({key}) means: rating.meaning, characteristic or allowable")
    return compare(about, title, demand, resistance, share.labels, standing=standing)


def _worst(checks: Sequence[Check]) -> Check:
    """A clamp that is not checked before one that is; then the largest utilisation, or the largest demand."""

    def rank(c: Check) -> tuple[bool, float]:
        demand = c.demand.at(c.station) if c.demand is not None else 0.0
        return c.ending is Ending.NOT_CHECKED, c.eta if c.eta is not None else demand

    ranks = [rank(c) for c in checks]
    first = max(r[0] for r in ranks)
    if any(c.ending is Ending.EXCEEDS for c in checks):
        first = False
    return checks[governing([r[1] if r[0] is first else -1.0 for r in ranks])]
