"""The supplier's rating of a mount, with all its particulars held against the job; it governs over anything computed.

A rating is worth what it was tested with. A particular that is missing, or that differs from the job, keeps it *not
checked*, and the reason names what differs.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from barrier.job.quantity import numbers_in
from barrier.job.schema import Rating
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.ground.geometry import MountModel
from barrier.links.loads.cases import Group
from barrier.links.mount.base_plate import PUSH
from barrier.links.walk import Walk
from barrier.result import About, Check, Lack, NotChecked, Standing, compare, informing, not_checked, one_of_each
from barrier.value import JobEntry, Numerical, Value

PARTICULARS = ("moment", "meaning", "tested", "substrate", "height", "glass", "screws", "reference")
AT_ALLOWABLE = "moment on the mount at the level of the allowable stresses"
SAME = 1e-3  # mm; heights closer than this are one height
GLASSES = ("heat-strengthened", "annealed", "toughened")


def rating(walk: Walk, panel: PanelSolution, m: int, model: MountModel) -> tuple[Check, ...]:
    """Compare the mount with its supplier's rating, if the rating is of this mount as it stands in the job."""
    about, title = About("clamp", "rating", mount=model.name), f"supplier's rating of mount {model.name}"
    given = model.mount.rating
    if given is None:
        return (not_checked(about, title, NotChecked(Lack.INPUT, "no rating of the mount is given; ask the supplier for it")),)
    missing = [p for p in PARTICULARS if getattr(given, p) in (None, "", "unknown")]
    if missing:
        return (not_checked(about, title, NotChecked(Lack.INPUT, f"the rating lacks: {', '.join(missing)}; ask the supplier")),)
    if given.meaning == "ultimate":
        why = f"it is the breaking load of {given.tested} tests; ask for the characteristic value"
        return (not_checked(about, title, NotChecked(Lack.INPUT, why)),)
    if given.meaning == "characteristic" and walk.basis.strength_level == "allowable":
        why = "it is a characteristic value and the basis works with allowable ones; ask for the allowable value"
        return (not_checked(about, title, NotChecked(Lack.INPUT, why)),)
    if unknown := _not_known(panel, model):
        why = f"whether the rating is of this mount: it was tested with one {unknown}, and that of the job nobody knows"
        return (not_checked(about, title, NotChecked(Lack.INPUT, why)),)
    differs = list(_differs(panel, model, given))
    if differs:
        return (not_checked(about, title, NotChecked(Lack.RANGE, "the rating is not of this mount: " + "; ".join(differs))),)
    made = ((g, _compare(walk, panel, m, model, about, title, g)) for g in panel.groups)
    return one_of_each(c if g.standing is Standing.REQUIRED else informing(c, g.strength) for g, c in made)


def _not_known(panel: PanelSolution, model: MountModel) -> str:
    """What of the job must be known to hold a rating against it; empty where all of it is."""
    if any(layer.nominal is None for layer in panel.panel.layers):
        return "thickness of glass (nominal)"
    return "length of screw (screw.length)" if model.mount.screw.length is None else ""


def _differs(panel: PanelSolution, model: MountModel, given: Rating) -> Iterator[str]:
    """What of the rating's particulars is other than in the job, in words."""
    if model.mount.drilled:
        yield "it has been drilled, and drilling a solid mount voids its rating"
    if given.substrate != "timber":
        yield f"it was tested on {given.substrate} and stands on timber"
    assert given.height is not None
    for case in panel.cases:
        gap = float(panel.panel.bottom_gap.x)
        if case.standing is Standing.REQUIRED and float(case.height.x) + gap > float(given.height.x) + SAME:
            yield f"it was tested with the load at {_written(given.height)} and {case.title} acts higher"
            break
    yield from _glass(panel, str(given.glass))
    yield from _screws(model, str(given.screws))


def _glass(panel: PanelSolution, words: str) -> Iterator[str]:
    layers = panel.panel.layers
    nominal = [layer.nominal for layer in layers if layer.nominal is not None]
    job = " + ".join(_written(t) for t in nominal)
    numbers = numbers_in(words)
    named = [g for g in GLASSES if g in words.lower()]
    wanted = [_sizes(t) for t in nominal]
    # Every layer needs a number of its own in the text; an interlayer may have one as well.
    left = list(numbers)
    for sizes in wanted:
        own = next((n for n in left if n in sizes), None)
        if own is not None:
            left.remove(own)
    enough = len(numbers) - len(left) == len(layers) and len(left) <= (1 if len(layers) > 1 else 0)
    if not enough:
        yield f'it was tested with glass "{words}" and the job has {job}'
    for layer in layers:
        if named and layer.glass not in named:
            yield f'it was tested with glass "{words}" and the job has a layer of {layer.glass} glass'
            break


def _screws(model: MountModel, words: str) -> Iterator[str]:
    """The number of screws and their diameter; the length too where the rating says it."""
    kind, numbers = model.mount.screw, numbers_in(words)
    present = sum(s.present for s in model.mount.screws)
    length = _sizes(kind.length) if kind.length is not None else set()
    wanted = [("number", {float(present)}), ("diameter", _sizes(kind.diameter)), ("length", length)]
    if len(numbers) not in (2, 3):
        yield f'its screws "{words}" are not written as number x diameter (x length)'
        return
    for number, (what, sizes) in zip(numbers, wanted, strict=False):
        if number not in sizes:
            yield f'it was tested with screws "{words}" and the {what} is another in the job'


def _sizes(length: Value) -> set[float]:
    """The numbers a length may be written with: in mm, and as it stands in the job."""
    written = length.origin.text if isinstance(length.origin, JobEntry) else ""
    return {float(length.x), *numbers_in(written)[:1]}


def _written(length: Value) -> str:
    return length.origin.text if isinstance(length.origin, JobEntry) else "the height in the job"


def _compare(walk: Walk, panel: PanelSolution, m: int, model: MountModel, about: About, title: str, group: Group) -> Check:
    given = model.mount.rating
    assert given is not None and given.moment is not None
    counted = {c for c in group.cases if panel.cases[c].standing is group.standing}
    stations = [(i, s, c) for i, (s, c, k) in enumerate(panel.stations) if k == m and c in counted]
    cases = [panel.cases[c].id for _, _, c in stations]
    index = np.array([i for i, _, _ in stations])
    labels = tuple(f"{panel.cases[c].title}; {panel.sets[s][0]} pads, {panel.sets[s][1]} bases" for _, s, c in stations)
    origin = Numerical(
        f"action of the panel on clamp {model.name}", "thin plate on elastic pads", "equilibrium of the panel",
        panel.solved_from([c for _, _, c in stations]), panel.residual, None, labels,
    )  # fmt: skip
    M_Ek = PUSH(
        M_y0=Value(panel.reactions("Mx")[index], "moment", origin, "M_y0"),
        F=Value(panel.reactions("F")[index], "force", origin, "F"),
        h_0=model.lever,
    )
    strength, combination = group.strength, group.strength.id
    if given.meaning == "allowable":
        demand = strength.applied(M_Ek, "M_Ed", AT_ALLOWABLE) if strength.level == "allowable" else M_Ek
        remark = f"allowable, of {given.tested} tests, against the action before any factor of a limit state"
        M_allow = given.moment.named("M_allow")
        return compare(about, title, demand, M_allow, labels, remark=remark, cases=cases, combination=combination)
    demand = strength.applied(M_Ek, "M_Ed", "moment on the mount")
    remark = f"characteristic rating of {given.tested} tests, {walk.basis.rating_words}: ask the supplier whether that suits it"
    wood = model.wood.names if model.wood is not None else {}
    resistance = walk.basis.mount_rating(given.moment, walk.timber(wood), group.strength)
    return compare(about, title, demand, resistance, labels, remark=remark, cases=cases, combination=combination)
