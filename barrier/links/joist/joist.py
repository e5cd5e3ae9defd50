"""Link 8, joist: bending, shear and the supports of the joists that what stands under the mounts is fixed to.

Compared where the job says span, place of the mounts, section, supports and other loads; where it does not, the couple alone is
printed with what it asks of the section at the least, and the rest is *not checked* with the question. Boards, which carry the
push on as a diaphragm, the frame and whatever carries the joists are never checked.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain

import numpy as np

from barrier.equation import Equation
from barrier.links.asked import JOISTS as TITLES
from barrier.links.asked import joist_of
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.joist import beam
from barrier.links.joist.on_joist import NO_LIFT, OnJoist, from_above, on_joist
from barrier.links.mount.base_plate import leading
from barrier.links.mount.in_plane_forces import MountShare
from barrier.links.mount.mount_forces import MountForces
from barrier.links.walk import Walk
from barrier.result import (
    Check,
    Combination,
    Ending,
    Finding,
    Lack,
    LinkResult,
    NotChecked,
    Shown,
    Standing,
    compare,
    governing,
    not_checked,
    one_of_each,
)
from barrier.value import Numerical, Value

SPAN = {
    "span": "how far apart the supports of the joists are (joists.span)",
    "mount_from_end": "where along the joists the mounts stand (joists.mount_from_end)",
    "width": "how wide the joists are (joists.width)",
    "depth": "how deep the joists are (joists.depth)",
    "dead_load": "what a joist carries at all times (joists.dead_load)",
    "imposed_load": "people and goods on a joist (joists.imposed_load)",
}
DIAPHRAGM = Finding(
    "The push on the barrier goes on through blocking, boards and frame as a force in the plane of the deck: the boards as a "
    "diaphragm, the frame, its bracing and whatever carries the joists are not checked.",
    loud=True,
)
ALONE = Finding(
    "The joists are looked at with the barrier on them; under their own loads alone, which last longer and leave timber less of "
    "its strength, they are not checked.", loud=True,
)  # fmt: skip
BRACED = Finding(
    "The joists are taken to be kept from tipping over by the boards on them and by the blocking; lying on an overhang or pushed "
    "up, their lower edge is in compression where no board holds it.", "",
)  # fmt: skip


def joist(walk: Walk, panels: Sequence[PanelSolution], mounts: Sequence[MountForces], shares: Sequence[MountShare]) -> LinkResult:
    """Check the joists at every mount, in every combination it hands on."""
    checks: list[Check] = []
    shown: list[Shown] = []
    findings: list[Finding] = [DIAPHRAGM, ALONE, BRACED]
    for panel in panels:
        own = [m for m in mounts if m.model in panel.mounts]
        for lead in leading(own):
            same = [m for m in own if m.model is lead.model]
            made = {m.combination.id: (on_joist(walk, m, panel, own), m) for m in same}
            push = (c for on, m in made.values() for c in m.own(_of_mount(walk, on, m)))
            plane = (c for s in shares if s.model is lead.model for c in _in_plane(walk, s, panel))
            checks.extend(one_of_each(chain(push, plane)))
            on, _ = made[lead.combination.id]
            if isinstance(on, OnJoist):
                shown.extend(_alone(walk, on, checks))
    return LinkResult("joist", "Joists", tuple(checks), tuple(shown), tuple(findings))


def _of_mount(walk: Walk, on: OnJoist | NotChecked, handed: MountForces) -> Iterator[Check]:
    """The checks of the joists at one mount in one combination."""
    if isinstance(on, NotChecked):
        yield from _none(handed.model.name, on, handed)
    else:
        yield from _checks(walk, on)


def _in_plane(walk: Walk, share: MountShare, panel: PanelSolution) -> Iterator[Check]:
    """The same checks under one load in the plane of the glass, where it decides."""
    if share.load.standing is not Standing.REQUIRED:
        return
    on = from_above(walk, share, panel)
    made = _none(share.model.name, on) if isinstance(on, NotChecked) else _checks(walk, on)
    for c in made:
        yield replace(c, combination=share.load.combination.id)


def _none(mount: str, why: NotChecked, handed: MountForces | None = None) -> Iterator[Check]:
    """All checks of the joists at a mount, not made for one reason."""
    for key, title in TITLES.items():
        yield not_checked(joist_of(key, mount), title.format(mount), why, demand=None if handed is None else handed.M_worst)


def missing(walk: Walk, on: OnJoist, *keys: str) -> NotChecked | None:
    """What of the joists is not in the job, in words; the place of the mounts does not matter where they run along the glass."""
    wanted = [k for k in keys if not (k == "mount_from_end" and on.M_J is None) and getattr(walk.job.joists, k) is None]
    return NotChecked(Lack.INPUT, "; ".join(SPAN[k] for k in wanted)) if wanted else None


def _checks(walk: Walk, on: OnJoist) -> Iterator[Check]:
    """Bending, shear and both supports of the joists at one mount."""
    joists = walk.job.joists
    timber = walk.timber(joists.material, depth=joists.depth)
    demand = on.M_J if on.M_J is not None else on.P_J
    lack = missing(walk, on, *SPAN) or _no_factor(walk)
    if lack is not None:
        yield _at_least(walk, on, lack)
        for key in list(TITLES)[1:]:
            yield not_checked(
                joist_of(key, on.mount), TITLES[key].format(on.mount), lack, demand=demand, station=governing(demand.x)
            )
        return
    values = _values(walk, on)
    row = on.M_J is None
    M_c = _of(beam.OF_ROW if row else beam.OF_COUPLE, values)
    M_q = _of(beam.OF_LOAD, values)
    parts = {**values, "M_c": M_c, "M_q": M_q}
    if not row:
        parts["M_P"] = _of(beam.OF_WEIGHT, values)
    for key, equation, strength in (
        (("bending", ""), beam.STRESS_OF_ROW if row else beam.STRESS, walk.basis.bending(timber, on.combination)),
        (("shear", ""), beam.SHEAR_OF_ROW if row else beam.SHEAR, walk.basis.shear(timber, on.combination)),
    ):
        yield compare(
            joist_of(key, on.mount), TITLES[key].format(on.mount), _of(equation, parts), strength, on.labels, cases=on.cases
        )
    for key, equation in (ROWS if row else COUPLES if on.U_J is NO_LIFT else LIFTED).items():
        yield _supported(walk, on, key, _of(equation, values), values)


def _supported(walk: Walk, on: OnJoist, key: tuple[str, str], demand: Value, values: dict[str, Value]) -> Check:
    """One support pressed down or pulled up; what lies on the joist at all times holds it down beside what is rated."""
    about, title = joist_of(key, on.mount), TITLES[key].format(on.mount)
    side, way = key
    R = _support(walk, side, way, on.combination)
    if way == "down":
        return compare(about, title, demand, R, on.labels, cases=on.cases)
    held = {"outer": beam.OUTER_HELD, "inner": beam.INNER_HELD}[side]
    if isinstance(R, NotChecked) and R.lack is not Lack.INPUT:
        return not_checked(about, title, R, demand=demand, station=governing(demand.x))
    rated = R if isinstance(R, Value) else Value(0.0, "force", NOTHING_RATED)
    remark = "" if isinstance(R, Value) else "by what it carries at all times alone: nothing that holds it down is rated"
    made = compare(
        about, title, demand, _of(held, {**values, "R_up": rated.named("R_up")}), on.labels, remark=remark, cases=on.cases
    )
    if isinstance(R, NotChecked) and made.ending is not Ending.WITHIN:  # its load is not enough, and nobody says what else there is
        return not_checked(about, title, R, demand=demand, station=governing(demand.x))
    return made


NOTHING_RATED = Numerical("nothing that holds the joist down is rated in the job", "nothing is credited", "the job")
COUPLES = {
    ("outer", "down"): beam.OUTER_DOWN, ("outer", "uplift"): beam.OUTER_UP,
    ("inner", "down"): beam.INNER_DOWN, ("inner", "uplift"): beam.INNER_UP,
}  # fmt: skip
LIFTED = COUPLES | {("inner", "down"): beam.INNER_DOWN_LIFTED}
ROWS = {
    ("outer", "down"): beam.OUTER_DOWN_ROW, ("outer", "uplift"): beam.OUTER_UP_ROW, ("inner", "down"): beam.INNER_DOWN_ROW,
    ("inner", "uplift"): beam.INNER_UP_ROW,
}  # fmt: skip


def _no_factor(walk: Walk) -> NotChecked | None:
    for answer in (walk.basis.weight_down_factor(), walk.basis.imposed_factor()):
        if isinstance(answer, NotChecked):
            return answer
    return None


def _values(walk: Walk, on: OnJoist) -> dict[str, Value]:
    """Everything the equations of the beam may ask for, by symbol."""
    joists = walk.job.joists
    given = {
        "L_J": joists.span, "c_o": joists.overhang, "b_J": joists.width, "h_J": joists.depth, "g_J": joists.dead_load,
        "q_J": joists.imposed_load, "f_G": walk.basis.weight_down_factor(), "f_Qi": walk.basis.imposed_factor(),
        "f_Gf": walk.basis.weight_factor(), "P_J": on.P_J, "U_J": on.U_J, "p_m": on.p_m, "M_J": on.M_J,
    }  # fmt: skip
    found = {symbol: v.named(symbol) for symbol, v in given.items() if isinstance(v, Value)}
    found["w_J"] = _of(beam.LOAD, found)
    if on.M_J is not None:
        assert joists.mount_from_end is not None
        found["s_J"] = beam.PLACE(m_e=joists.mount_from_end.named("m_e"), c_o=found["c_o"])
    return found


def _of(equation: Equation, values: dict[str, Value]) -> Value:
    """An equation with those of the values it asks for."""
    return equation(**{s.name: values[s.name] for s in equation.symbols})


def _at_least(walk: Walk, on: OnJoist, lack: NotChecked) -> Check:
    """Bending where not all is known: what the mounts alone do at the least can exceed; if it does not, nothing is said."""
    about, title, joists = joist_of(("bending", ""), on.mount), TITLES["bending", ""].format(on.mount), walk.job.joists
    demand = on.M_J if on.M_J is not None else on.P_J
    least = _least(walk, on)
    if least is not None:
        strength = walk.basis.bending(walk.timber(joists.material, depth=joists.depth), on.combination)
        made = compare(about, title, least, strength, on.labels, remark="by the mounts alone and at the least", cases=on.cases)
        if made.ending is Ending.EXCEEDS:
            return made
    return not_checked(about, title, lack, demand=demand, station=governing(demand.x))


def _least(walk: Walk, on: OnJoist) -> Value | None:
    """Stress of the joist by the mounts alone, at the least; None where even that is not known."""
    joists = walk.job.joists
    if joists.width is None or joists.depth is None:
        return None
    section = {"b_J": joists.width.named("b_J"), "h_J": joists.depth.named("h_J")}
    if on.M_J is not None:
        return beam.LEAST_STRESS(M_J=on.M_J, **section)
    return None if joists.span is None else beam.LEAST_OF_ROW(P_J=on.P_J, L_J=joists.span.named("L_J"), **section)


def _alone(walk: Walk, on: OnJoist, made: Sequence[Check]) -> Iterator[Shown]:
    """The couple and what it asks of the section by itself."""
    if on.M_J is not None:
        at = governing(on.M_J.x)
        yield Shown(f"couple on one joist at mount {on.mount}", on.M_J, at, on.labels[at], on.mount)
    least = _least(walk, on)
    bending = next(c for c in made if c.about == joist_of(("bending", ""), on.mount))
    if least is not None and bending.ending is Ending.NOT_CHECKED:
        at = governing(least.x)
        strength = walk.basis.bending(walk.timber(walk.job.joists.material, depth=walk.job.joists.depth), on.combination)
        beside = (
            "" if isinstance(strength, NotChecked) else f"; beside {float(np.max(strength.x)):.3g} MPa that the timber is worth"
        )
        yield Shown(f"bending of a joist at mount {on.mount} by the mounts alone", least, at, f"at the least{beside}")


def _support(walk: Walk, side: str, way: str, combination: Combination) -> Value | NotChecked:
    """What one support of a joist is worth down or up."""
    joists = walk.job.joists
    support = joists.outer if side == "outer" else joists.inner
    if support is None or support.fixing == "unknown":
        return NotChecked(Lack.INPUT, f"what the joists stand on or hang in at the {side} support (joists.{side}); look from below")
    if way == "down" and support.fixing == "bearer":
        if support.seat is None:
            return NotChecked(Lack.INPUT, f"how long the joists lie on their bearer (joists.{side}.seat)")
        f = walk.basis.bearing(walk.timber(joists.material, depth=joists.depth), combination)
        assert joists.width is not None
        return (
            f
            if isinstance(f, NotChecked)
            else beam.SEAT(f_seat=f.named("f_seat"), b_J=joists.width.named("b_J"), l_s=support.seat.named("l_s"))
        )
    rating = getattr(support, way)
    if rating is None:
        held = "holds them down" if way == "uplift" else "holds them up"
        return NotChecked(Lack.INPUT, f"what {held} at the {side} support, rated for one joist (joists.{side}.{way})")
    return walk.basis.bracket(rating.named("R_k"), support.meaning or "", walk.timber({}), combination)
