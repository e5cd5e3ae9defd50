"""Link 7, blocking: pieces between the joists, and the fixings of their ends; or the edge joist, or the bare board.

Loose pieces (:mod:`barrier.links.blocking.loose_pieces`) hang each on their own ends; a lone or factory-laminated piece carries
the torque of the mount as one section (:mod:`barrier.links.blocking.one_section`), and so does an edge joist.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from barrier.links.asked import unreached
from barrier.links.blocking.across import across
from barrier.links.blocking.beside import loose_for_scale, on_support, torsion_for_scale
from barrier.links.blocking.boards import boards
from barrier.links.blocking.boards import finding as boards_finding
from barrier.links.blocking.edge_joist import edge_joist, edge_section
from barrier.links.blocking.edge_joist import finding as edge_joist_finding
from barrier.links.blocking.force_table import ForceTable, force_table
from barrier.links.blocking.in_plane_ends import in_plane_ends
from barrier.links.blocking.loose_pieces import loose_pieces
from barrier.links.blocking.one_section import Section, blocking_section, one_section
from barrier.links.blocking.piece_forces import forces_on_pieces
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.mount.base_plate import MountForces, leading
from barrier.links.mount.for_scale import strength_for_scale
from barrier.links.mount.in_plane_forces import MountShare
from barrier.links.mount.weight import weight_on
from barrier.links.walk import Walk
from barrier.result import Check, Finding, LinkResult, Shown, one_of_each


def blocking(
    walk: Walk,
    panels: Sequence[PanelSolution],
    mounts: Sequence[MountForces],
    shares: Sequence[MountShare],
    screws: Sequence[Check],
) -> tuple[LinkResult, tuple[ForceTable, ...]]:
    """Check what stands under every mount and its end fixings; hand the forces on the deck on as tables.

    ``screws`` are the checks of the screws: a factor some editions put on the support is laid on the worst of all fixings.
    """
    checks: list[Check] = []
    findings: list[Finding] = []
    shown: list[Shown] = []
    for lead in leading(mounts):
        push = (c for f in mounts if f.model is lead.model for c in f.own(_checks(walk, f)))
        plane = (c for s in shares if s.model is lead.model for c in in_plane_ends(walk, s))
        own = one_of_each(chain(push, plane))
        checks.extend(own)
        if (section := section_under(walk, lead)) is not None:
            shown.extend(torsion_for_scale(walk, section, own, [f for f in mounts if f.model is lead.model]))
        if not lead.model.boards_only and lead.model.blocking is None:
            findings.append(edge_joist_finding(lead))
    if any(m.boards_only and m.lacking is None for m in walk.mounts):
        findings.append(boards_finding(walk.job.decking.board_screws))
    if any(m.model.blocking is not None for m in mounts):
        findings.append(ENDS)
    weights = {m.name: weight_on(walk, p) for p in panels for m in p.mounts}
    shown.extend(s for m in leading(mounts) for s in strength_for_scale(walk, m, "bending", "shear"))
    shown.extend(s for m in leading(mounts) for s in loose_for_scale(walk, m))
    support_shown, support_findings = on_support(walk, mounts, [*checks, *screws])
    shown.extend(support_shown)
    tables = tuple(
        force_table(walk, m, [f for f in mounts if f.model is m.model and f.standing is m.standing], weights[m.model.name])
        for m in leading(mounts)
    )
    said = (*findings, *support_findings)
    return LinkResult("blocking", "Blocking and its end fixings", tuple(checks), tuple(shown), said), tables


ENDS = Finding(
    "Blocking end fixings often govern: the couple under the mount becomes one piece pulled up and another pushed "
    "down, and each has only its own end fixings to hold it."
)


def _checks(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """The checks of what one mount stands on."""
    model = handed.model
    if model.boards_only:
        yield from boards(walk, handed)
    elif model.blocking is None:
        yield from edge_joist(walk, handed)
    elif not all(c.contact.equilibrium for c in handed.with_weight):
        yield from unreached(walk, model)
    elif model.blocking.direction != "along":
        yield from across(walk, handed)
    elif len(model.pieces) == 1:
        yield from one_section(walk, handed, blocking_section(walk, handed))
    else:
        yield from loose_pieces(walk, forces_on_pieces(handed, handed.with_weight))


def section_under(walk: Walk, handed: MountForces) -> Section | None:
    """The one section under a mount that carries its torque, if it stands on one."""
    model = handed.model
    if model.boards_only:
        return None
    if model.blocking is None:
        return edge_section(walk, handed)
    return blocking_section(walk, handed) if model.blocking.direction == "along" and len(model.pieces) == 1 else None
