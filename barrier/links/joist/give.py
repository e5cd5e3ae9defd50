"""How far a mount turns because what holds it gives way: the slip of the end fixings, and the joists themselves.

Both are turns about an axis below the mount, and the top edge moves by the turn times its height above that axis. Only the
upper end of the band has them: held stiffly at the ends, on joists that run on over more supports and carry boards, a mount
turns by less, and the lower end takes none. What is not known leaves the upper end open.
"""

from __future__ import annotations

from typing import NamedTuple

from barrier.basis import Answer, Driven
from barrier.equation import Equation, Symbol, symbols
from barrier.job.schema import EndFixing
from barrier.links.blocking.piece_actions import spread
from barrier.links.given import counted
from barrier.links.ground.geometry import MountModel
from barrier.links.joist import beam, comes
from barrier.links.joist.on_joist import pitch
from barrier.links.walk import Walk
from barrier.result import Lack, NotChecked
from barrier.value import Numerical, Value

SLIP_OF_PIECES = Equation(
    Symbol("theta_e", "angle"),
    "T_J*(r_l**2/K_l + r_r**2/K_r)/S_y",
    symbols("T_J:moment, r_l:ratio, K_l:stiffness, r_r:ratio, K_r:stiffness, S_y:area"),
    "statics: forces on the pieces by their distance from the middle, each slipping at both ends; work of the forces",
    "computed",
    title="turn of the mount by the slip of the end fixings",
)
SLIP_OF_SECTION = Equation(
    Symbol("theta_e", "angle"),
    "T_J*(r_l**2/K_tl + r_r**2/K_tr)",
    symbols("T_J:moment, r_l:ratio, K_tl:rotation stiffness, r_r:ratio, K_tr:rotation stiffness"),
    "statics: a torque on what turns at both ends",
    "computed",
    title="turn of the mount by the slip of the end fixings",
)
SLIP_ACROSS = Equation(
    Symbol("theta_e", "angle"),
    "T_J/(n_p*L_b**2)*(1/K_l + 1/K_r)",
    symbols("T_J:moment, n_p:count, L_b:length, K_l:stiffness, K_r:stiffness"),
    "statics: one end goes down and the other up",
    "computed",
    title="turn of the mount by the slip of the end fixings",
)
HEIGHT = Equation(
    Symbol("h_s", "length"),
    "H_g + g_b + t_d + h_J/2",
    symbols("H_g:length, g_b:length, t_d:length, h_J:length"),
    "geometry: top edge of the glass above the middle of the joists",
    "computed",
    title="height of the top edge above the joists",
)
SWAY = Equation(
    Symbol("w_give", "length"),
    "(theta_e + theta_J)*h_s",
    symbols("theta_e:angle, theta_J:angle, h_s:length"),
    "geometry: two turns about the line of the joists, and the height of the top edge above it",
    "computed",
    title="movement of the top edge by end fixings and joists",
)


class Give(NamedTuple):
    """Movement by end fixings and joists at the stations of the moments it was made of, and its two turns."""

    w: Value
    slip: Value
    joist: Value


def give(walk: Walk, model: MountModel, M: Value, F: Value) -> Give | NotChecked:
    """Movement of the top edge because end fixings slip and joists bend under moments and pushes of a mount in use."""
    bay = comes.bay_of(walk, model)
    if isinstance(bay, NotChecked):
        return bay
    T = comes.turning(walk, model, M, F)
    if isinstance(T, NotChecked):
        return T
    slip, joist = _slip(walk, model, bay, T), _joist(walk, model, bay, T)
    lacks = [a for a in (slip, joist) if isinstance(a, NotChecked)]
    if lacks:
        return NotChecked(lacks[0].lack, "; ".join(a.text for a in lacks))
    assert isinstance(slip, Value) and isinstance(joist, Value)
    joists, panel = walk.job.joists, walk.job.panel_of(model.mount)
    assert joists.depth is not None
    h_s = HEIGHT(
        H_g=panel.height.named("H_g"), g_b=panel.bottom_gap.named("g_b"), t_d=walk.job.decking.thickness.named("t_d"),
        h_J=joists.depth.named("h_J"),
    )  # fmt: skip
    return Give(SWAY(theta_e=slip, theta_J=joist, h_s=h_s), slip, joist)


def _slip(walk: Walk, model: MountModel, bay: comes.Bay, T: Value) -> Answer:
    block = model.blocking
    if block is None:
        return NotChecked(Lack.INPUT, "how far the boards lift at their own screws")
    one = bay.along and len(model.pieces) == 1
    ends = [_stiffness(walk, model, side, fixing, one) for side, fixing in (("left", block.left), ("right", block.right))]
    for end in ends:
        if isinstance(end, NotChecked):
            return end
    left, right = (e for e in ends if isinstance(e, Value))
    r_l, r_r = comes.LEFT_SHARE(L_b=bay.L_b, a=bay.a).named("r_l"), comes.RIGHT_SHARE(a=bay.a, L_b=bay.L_b).named("r_r")
    if one:
        return SLIP_OF_SECTION(T_J=T, r_l=r_l, K_tl=left.named("K_tl"), r_r=r_r, K_tr=right.named("K_tr"))
    if not bay.along:
        n_p = counted(f"blocking.{model.mount.blocking}", len(model.pieces), "pieces").named("n_p")
        return SLIP_ACROSS(T_J=T, n_p=n_p, L_b=bay.L_b, K_l=left.named("K_l"), K_r=right.named("K_r"))
    S_y = Value(
        1.0 / float((spread(model) ** 2).sum()), "area",
        Numerical(f"sum of squares of the distances of the pieces from their middle, mount {model.name}", "read off the geometry",
                  "statics"), "S_y",
    )  # fmt: skip
    return SLIP_OF_PIECES(T_J=T, r_l=r_l, K_l=left.named("K_l"), r_r=r_r, K_r=right.named("K_r"), S_y=S_y)


def _stiffness(walk: Walk, model: MountModel, side: str, fixing: EndFixing | None, turning: bool) -> Answer:
    """Force per slip of one end of a piece, or moment per turn of one end of a section."""
    path = f"blocking.{model.mount.blocking}.{side}"
    if fixing is None or fixing.fixing in ("none", "unknown"):
        return NotChecked(Lack.INPUT, f"how the ends of the blocking are fixed ({path}), and how far that slips")
    key = "turning_stiffness" if turning else "stiffness"
    given = fixing.turning_stiffness if turning else fixing.stiffness
    if given is not None:
        return given
    if fixing.fixing == "bracket" or turning or fixing.number is None:
        return NotChecked(Lack.INPUT, f"how far what holds the ends gives way ({path}.{key})")
    block = model.blocking
    assert block is not None
    joists = walk.job.joists
    return walk.basis.end_slip(Driven(
        fixing.fixing, counted("blocking", fixing.number, f"{fixing.fixing} in one end of a piece"), fixing.diameter, fixing.length,
        joists.width, walk.timber(joists.material), walk.timber(block.material),
    ))  # fmt: skip


def _joist(walk: Walk, model: MountModel, bay: comes.Bay, T: Value) -> Answer:
    joists = walk.job.joists
    E = walk.basis.timber_stiffness(walk.timber(joists.material))
    if isinstance(E, NotChecked):
        return NotChecked(E.lack, f"the stiffness of the joists: {E.text}")
    if joists.span is None or joists.width is None or joists.depth is None:
        return NotChecked(Lack.INPUT, "span and section of the joists (joists.span, width, depth)")
    L_J, c_o = joists.span.named("L_J"), joists.overhang.named("c_o")
    I_J = beam.INERTIA(b_J=joists.width.named("b_J"), h_J=joists.depth.named("h_J"))
    if not bay.along:
        p_m = pitch(walk, walk.job.panel_of(model.mount))
        P_J = comes.PAIR(T_J=T, L_b=bay.L_b, G_J=Value(0.0, "force", NO_WEIGHT, "G_J"))
        return beam.ANGLE_OF_ROW(P_J=P_J, L_b=bay.L_b, L_J=L_J, p_m=p_m, c_o=c_o, E_J=E.named("E_J"), I_J=I_J)
    if joists.mount_from_end is None:
        return NotChecked(Lack.INPUT, "where along the joists the mounts stand (joists.mount_from_end)")
    s_J = beam.PLACE(m_e=joists.mount_from_end.named("m_e"), c_o=c_o)
    r_l, r_r = comes.LEFT_SHARE(L_b=bay.L_b, a=bay.a), comes.RIGHT_SHARE(a=bay.a, L_b=bay.L_b)
    return beam.ANGLE(
        r_l=r_l.named("r_l"), M_l=comes.COUPLE(r_e=r_l, T_J=T).named("M_l"), r_r=r_r.named("r_r"),
        M_r=comes.COUPLE(r_e=r_r, T_J=T).named("M_r"), l_J=beam.TURNING_LENGTH(s_J=s_J, L_J=L_J), E_J=E.named("E_J"), I_J=I_J,
    )  # fmt: skip


NO_WEIGHT = Numerical("weight is there before the push", "counted", "the job")
