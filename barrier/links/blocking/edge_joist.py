"""A mount on an edge joist or rim: the joist is one section that takes the whole torque, and must be kept from turning."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.links.blocking.one_section import Section, one_section
from barrier.links.mount.base_plate import MountForces
from barrier.links.walk import Walk
from barrier.result import About, Check, Finding, Lack, NotChecked, not_checked


def edge_joist(walk: Walk, handed: MountForces) -> Iterator[Check]:
    """Torsion, sideways bending and shear of the edge joist, and what holds it against turning on either side."""
    model, section = handed.model, edge_section(walk, handed)
    if section is None:
        text = "how far apart the edge joist is held against turning (joists.restraint_spacing); the mount turns it over"
        yield not_checked(
            About("edge_joist", "whole", mount=model.name),
            f"turning of the edge joist under mount {model.name}",
            NotChecked(Lack.INPUT, text),
            demand=handed.M_worst,
        )
        return
    yield from one_section(walk, handed, section)


def edge_section(walk: Walk, handed: MountForces) -> Section | None:
    """The edge joist under a mount as one section; None where nobody says what keeps it from turning."""
    joists = walk.job.joists
    if joists.restraint_spacing is None:
        return None
    assert joists.width is not None and joists.depth is not None
    return Section(
        "edge_joist", "the edge joist", walk.timber(joists.material, depth=joists.depth),
        joists.width.named("b_s"), joists.depth.named("h_s"),
        handed.model.mount.in_bay.named("a"), joists.restraint_spacing.named("L_b"),
        (("left", joists.restraint), ("right", joists.restraint)),
    )  # fmt: skip


def finding(handed: MountForces) -> Finding:
    """What the job says of the joist's restraint, which only the engineer can judge."""
    said = handed.model.mount.restraint
    words = f'the job says it is kept from turning by "{said}"' if said else "the job does not say what keeps it from turning"
    return Finding(
        f"Mount {handed.model.name} stands on the edge joist, which carries other load too and is checked here for the mount "
        f"alone; {words}. It is taken to be as wide and deep as the other joists. Joist hangers hold no joist against turning "
        "unless rated for it.",
        loud=True,
    )
