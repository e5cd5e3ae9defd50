"""What a family of codes asks or lacks beside its own comparisons: shown with numbers, never compared.

A factor that some editions put on the support of the glass, and a figure of another family, for scale only, where the
job's own has none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.one_section import Section
from barrier.links.mount.base_plate import MountForces, leading
from barrier.links.mount.for_scale import GUARD
from barrier.links.walk import Walk
from barrier.result import Check, Ending, Finding, NotChecked, Shown

ON_SUPPORT = Equation(
    Symbol("M_SF", "moment"),
    "SF*M_Ed",
    symbols("SF:ratio, M_Ed:moment"),
    "the factor a code or some of its editions lay on the support of the glass",
    "computed",
    title="moment the mount and its fixings would have to bear",
)
FOR_SCALE = Equation(
    Symbol("eta_scale", "ratio"),
    "gamma_Q*tau_tor/f_tor_d",
    symbols("gamma_Q:ratio, tau_tor:stress, f_tor_d:stress"),
    "for scale only: load of the job's basis, factor and strength of another",
    "computed",
    title="torsion stress over the strength of another family of codes",
)


def on_support(walk: Walk, mounts: Sequence[MountForces]) -> tuple[tuple[Shown, ...], tuple[Finding, ...]]:
    """The moment on every mount times the factor some editions put on the support, and what is to be said of it."""
    answer = walk.basis.support_factor()
    if answer is None or not mounts:
        return (), ()
    factor, words, remark = answer
    shown = tuple(
        Shown(
            f"factor on the support, mount {m.model.name}",
            ON_SUPPORT(SF=factor, M_Ed=m.M_worst.named("M_Ed")),
            0,
            remark,
        )
        for m in leading(mounts)
    )
    return shown, (Finding(f"Factor on the support: {words[0].lower() + words[1:]}.", "", loud=True),)


def torsion_for_scale(walk: Walk, section: Section, checks: Sequence[Check]) -> Iterator[Shown]:
    """Torsion of one section by another family, where the job's own has no value and the job names the other's timber."""
    other = walk.basis.for_scale()
    check = next((c for c in checks if c.id.startswith(f"{section.id}.torsion.")), None)
    if other is None or check is None or check.ending is not Ending.NOT_CHECKED or check.demand is None:
        return
    long_side, short_side = (
        (section.h_s, section.b_s) if float(section.h_s.x) >= float(section.b_s.x) else (section.b_s, section.h_s)
    )
    combination = other.strength(GUARD)
    strength = other.torsion(section.timber, long_side, short_side, combination)
    if isinstance(strength, NotChecked):
        return
    eta = FOR_SCALE(
        gamma_Q=combination.factor.named("gamma_Q"), tau_tor=check.demand.named("tau_tor"), f_tor_d=strength.named("f_tor_d")
    )
    yield Shown(
        f"torsion by the {other.title}, for scale only: {check.title}", eta, check.station,
        "not a check of this basis and not compared with anything",
    )  # fmt: skip
