"""A mount on decking only: the board turns or bends between the joists, and its own screws hold it down.

Boards along the glass are twisted by the mount; boards across it are bent. What comes of it is compared with the board
as one plain piece between two joists; the resistance of boards is never credited to a job with blocking.
"""

from __future__ import annotations

from collections.abc import Iterator

from barrier.basis import Fastener
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import BoardScrews
from barrier.links.blocking.one_section import END_TORQUE, torsion_stress
from barrier.links.given import counted
from barrier.links.mount.mount_forces import MountForces
from barrier.links.walk import Walk
from barrier.result import About, Check, Combination, Ending, Finding, Lack, NotChecked, compare, governing, not_checked
from barrier.value import Value

TORQUE = Equation(
    Symbol("T_Ed", "moment"),
    "M_Ed + abs(F_Ed)*(t_p + t_d/2)",
    symbols("M_Ed:moment, F_Ed:force, t_p:length, t_d:length"),
    "statics: moment of the plate and the push, about the middle of the board",
    "computed",
    title="torque on the board",
)
BENDING = Equation(
    Symbol("sigma_m", "stress"),
    "6*M_Ed*max(a, L_j - a)/L_j/(b_d*t_d**2)",
    symbols("M_Ed:moment, a:length, L_j:length, b_d:length, t_d:length"),
    "bending of a rectangle: a moment on a board held at two joists",
    "computed",
    title="bending stress in the board beside the mount",
)
LIFT = Equation(
    Symbol("R_up", "force"),
    "M_Ed/L_j",
    symbols("M_Ed:moment, L_j:length"),
    "statics: a moment on a board held at two joists lifts it off one of them",
    "computed",
    title="pull on the board's own screws at one joist",
)
TWIST_LIFT = Equation(
    Symbol("R_up", "force"),
    "T_end/b_d",
    symbols("T_end:moment, b_d:length"),
    "statics: the board turns about its far edge; the whole width is the longest lever its own screws can have",
    "computed",
    title="least pull on the board's own screws at one joist",
)
PUSHED = Equation(
    Symbol("V_side", "force"),
    "(abs(F_Ed)*max(a, L_j - a) + M_z_Ed)/L_j",
    symbols("F_Ed:force, a:length, L_j:length, M_z_Ed:moment"),
    "statics: push and twist of the mount on a board held at two joists",
    "computed",
    title="sideways force on the board's own screws at one joist",
)
THREAD = Equation(
    Symbol("l_ef", "length"),
    "min(l_thr, L - t_d) - l_tip",
    symbols("l_thr:length, L:length, t_d:length, l_tip:length"),
    "geometry: thread in the joist, a tip of one diameter not counted",
    "computed",
    title="thread of the board's own screw in the joist",
)
ALL_OF_THEM = Equation(
    Symbol("R_n", "force"),
    "n_b*F_ax_Rd",
    symbols("n_b:count, F_ax_Rd:force"),
    "sum over the board's own screws at one joist",
    "computed",
    title="withdrawal of the board's own screws at one joist",
)


def boards(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """The board under a mount between its joists, and the screws that hold it to them."""
    name, decking, joists = handed.model.name, walk.job.decking, walk.job.joists
    spans, text = {"a": handed.model.mount.in_bay.named("a"), "L": joists.spacing}, ""
    if joists.direction is None or joists.direction == decking.direction:
        text = "which way the joists run (joists.direction); boards have to cross them"
    elif float(spans["a"].x) >= float(spans["L"].x):
        text = "the mount stands outside the bay between two joists: in_bay is not less than joists.spacing"
    if text:
        for kind, title in (
            ("board", f"board under mount {name}"),
            ("screws", f"the board's own screws, mount {name}"),
            ("push", f"the board's own screws pushed sideways, mount {name}"),
        ):
            yield not_checked(About("boards", kind, mount=name), title, NotChecked(Lack.INPUT, text))
        return
    assert decking.board_width is not None
    if decking.direction == "along":
        yield from _twisted(walk, handed, spans)
    else:
        yield from _bent(walk, handed, spans)
    V_side = PUSHED(
        F_Ed=handed.F_Ed.take(handed.counted), M_z_Ed=handed.M_z.take(handed.counted).named("M_z_Ed"), a=spans["a"],
        L_j=spans["L"].named("L_j"),
    )  # fmt: skip
    yield not_checked(
        About("boards", "push", mount=name), f"the board's own screws pushed sideways, mount {name}",
        NotChecked(Lack.BASIS, "what the board's own screws hold sideways, with the board they go through"),
        demand=V_side, station=governing(V_side.x),
    )  # fmt: skip


def _twisted(walk: Walk, handed: MountForces, spans: dict[str, Value]) -> Iterator[Check]:
    name, decking, chosen = handed.model.name, walk.job.decking, handed.counted
    labels, cases = handed.counted_labels, handed.counted_cases
    assert decking.board_width is not None
    t_d, b_d = decking.thickness, decking.board_width
    T = TORQUE(
        M_Ed=handed.M_Ed.take(chosen), F_Ed=handed.F_Ed.take(chosen), t_p=handed.model.packing.named("t_p"), t_d=t_d.named("t_d")
    )
    T_end = END_TORQUE(T_Ed=T, a=spans["a"], L_b=spans["L"].named("L_b"))
    strength = walk.basis.torsion(walk.timber(decking.material, depth=decking.board_width), b_d, t_d, handed.combination)
    yield compare(
        About("boards", "board", mount=name), f"torsion of the board under mount {name}", torsion_stress(T_end, b_d, t_d),
        strength, labels,
        cases=cases,
    )  # fmt: skip
    lift = TWIST_LIFT(T_end=T_end, b_d=b_d.named("b_d"))
    about, title = About("boards", "screws", mount=name), f"the board's own screws, mount {name}"
    held = _own_screws(walk, handed.combination)
    found = compare(about, title, lift, held, labels, remark="at the longest lever they can have", cases=cases)
    if found.ending is Ending.WITHIN:  # it was a bound on the low side, so it can only ever say that they are too weak
        text = "where across the board its own screws stand; at the longest lever they can have they would hold"
        found = not_checked(about, title, NotChecked(Lack.INPUT, text), demand=lift, station=found.station)
    yield found


def _bent(walk: Walk, handed: MountForces, spans: dict[str, Value]) -> Iterator[Check]:
    name, decking = handed.model.name, walk.job.decking
    labels, cases = handed.counted_labels, handed.counted_cases
    assert decking.board_width is not None
    M = TORQUE(
        M_Ed=handed.M_Ed.take(handed.counted), F_Ed=handed.F_Ed.take(handed.counted), t_p=handed.model.packing.named("t_p"),
        t_d=decking.thickness.named("t_d"),
    ).named("M_Ed")  # fmt: skip
    L_j = spans["L"].named("L_j")
    stress = BENDING(M_Ed=M, a=spans["a"], L_j=L_j, b_d=decking.board_width.named("b_d"), t_d=decking.thickness.named("t_d"))
    strength = walk.basis.bending(walk.timber(decking.material, depth=decking.board_width), handed.combination)
    yield compare(
        About("boards", "board", mount=name), f"bending of the board under mount {name}", stress, strength, labels, cases=cases
    )
    yield compare(
        About("boards", "screws", mount=name), f"the board's own screws, mount {name}", LIFT(M_Ed=M, L_j=L_j),
        _own_screws(walk, handed.combination), labels, cases=cases,
    )  # fmt: skip


def _own_screws(walk: Walk, combination: Combination) -> Value | NotChecked:
    """Withdrawal of the board's own screws at one joist."""
    own, decking = walk.job.decking.board_screws, walk.job.decking
    if own is None or own.threaded is None:
        return NotChecked(Lack.INPUT, "the board's own screws with their thread (decking.board_screws); measure them")
    d = own.diameter.named("d")
    l_ef = THREAD(
        l_thr=own.threaded.named("l_thr"), L=own.length.named("L"), t_d=decking.thickness.named("t_d"), l_tip=d.named("l_tip")
    )
    if float(l_ef.x) <= 0.0:
        return NotChecked(Lack.INPUT, "the board's own screws do not reach into the joist beyond their tip")
    n = counted("decking.board_screws", own.number, "the board's own screws at one joist")
    screw = Fastener(d, own.root.named("d_1") if own.root is not None else None, None)
    one = walk.basis.withdrawal(screw, walk.timber(walk.job.joists.material), l_ef, n.named("n"), combination)
    return one if isinstance(one, NotChecked) else ALL_OF_THEM(n_b=n.named("n_b"), F_ax_Rd=one.named("F_ax_Rd"))


def finding(own: BoardScrews | None) -> Finding:
    """What boards alone come down to."""
    head = "" if own is None or own.head is None else " Pull-through of their heads is not checked."
    text = "There is no blocking: the mount turns or bends a board between two joists, and only the board's own screws hold it."
    return Finding(text + head, loud=True)
