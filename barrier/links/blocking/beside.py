"""What a family of codes asks or lacks beside its own comparisons: shown with numbers, never compared.

A factor that some editions put on the support of the glass, and where the job's own family has no torsion of wood a figure of
another family, and the stress by elastic and by plastic theory over the family's own shear strength; both for scale only.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.end_fixings import end_resistance
from barrier.links.blocking.one_section import Section, coefficient
from barrier.links.blocking.splitting import REACH
from barrier.links.mount.base_plate import leading
from barrier.links.mount.for_scale import GUARD, first_for_scale
from barrier.links.mount.mount_forces import MountForces
from barrier.links.walk import Walk
from barrier.result import Check, Combination, Ending, Finding, Lack, NotChecked, Shown, Standing, governing
from barrier.value import Value

ON_SUPPORT = Equation(
    Symbol("M_SF", "moment"),
    "SF*M_Ed",
    symbols("SF:ratio, M_Ed:moment"),
    "the factor a code or some of its editions lay on the support of the glass",
    "computed",
    title="moment the mount and its fixings would have to bear",
)
UNCERTAIN = Equation(
    Symbol("eta_SF", "ratio"),
    "SF*eta",
    symbols("SF:ratio, eta:ratio"),
    "the factor a code or some of its editions lay on the load of an uncertain fixing; in proportion to the load",
    "computed",
    title="utilisation with the factor on uncertain fixings",
)
FOR_SCALE = Equation(
    Symbol("eta_scale", "ratio"),
    "gamma_Q*tau_tor/f_tor_d",
    symbols("gamma_Q:ratio, tau_tor:stress, f_tor_d:stress"),
    "for scale only: load of the job's basis, factor and strength of another",
    "computed",
    title="torsion stress over the strength of another family of codes",
)
PLASTIC = Equation(
    Symbol("tau_pl", "stress"),
    "6*alpha*h_l*tau_tor/(3*h_l - b_l)",
    symbols("alpha:ratio, h_l:length, tau_tor:stress, b_l:length"),
    "plastic torsion of a rectangle, T = tau b_l^2 (3 h_l - b_l)/6, a heap of sand on the section (Nadai; from memory)",
    "computed",
    title="torsion stress were it alike over the whole section",
)
IN_SHEAR = {
    way: Equation(
        Symbol(f"eta_{mark}", "ratio"),
        f"tau_{mark}/f_v",
        symbols(f"tau_{mark}:stress, f_v:stress"),
        "for scale only: torsion stress over the shear strength of the job's basis, with which no code that was read compares it",
        "computed",
        title=f"torsion stress by {way} theory over the shear strength",
    )
    for way, mark in (("elastic", "tor"), ("plastic", "pl"))
}


def on_support(
    walk: Walk, mounts: Sequence[MountForces], fixings: Sequence[Check]
) -> tuple[tuple[Shown, ...], tuple[Finding, ...]]:
    """The moment on every mount, and the worst of its ``fixings``, times the factor some editions put on the support."""
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
            m.model.name,
        )
        for m in leading(mounts)
    )
    if walk.basis.support_factor_on_fixings:
        shown += tuple(s for m in leading(mounts) for s in _uncertain(factor, m.model.name, fixings))
    return shown, (Finding(f"Factor on the support: {words[0].lower() + words[1:]}.", "", loud=True),)


def _uncertain(factor: Value, mount: str, fixings: Sequence[Check]) -> Iterator[Shown]:
    """The worst of the screws, and of what holds the ends below a mount, were any of it uncertain."""
    for keys, words in (((("screws", "withdrawal"), ("screws", "sideways")), "screws"), ((("blocking", "end"),), "end fixings")):
        meant = [c for c in fixings if c.about.key in keys and c.about.mount == mount and c.standing is Standing.REQUIRED]
        own = [c for c in meant if c.utilisation is not None and not c.squares]
        if not own:
            continue
        worst = own[governing([c.rank or 0.0 for c in own])]
        assert worst.utilisation is not None
        eta = Value(worst.utilisation.at(worst.station), "ratio", worst.utilisation.take(np.array([worst.station])).origin, "eta")
        made = UNCERTAIN(SF=factor, eta=eta)
        over, unknown = "EXCEEDS if it is uncertain", sum(c.utilisation is None for c in meant)
        if made.at(0) <= 1.0:
            others = f"; of the others {unknown} have no utilisation at all and may be worse" if unknown else ""
            over = f"below 1.00 even so{others}"
        yield Shown(f"worst of the {words} of mount {mount} with that factor: {worst.title}", made, 0, over)


def torsion_for_scale(walk: Walk, section: Section, checks: Sequence[Check], forces: Sequence[MountForces]) -> Iterator[Shown]:
    """Torsion of one section where the job's own family has no value: by its shear strength, and by another family.

    The other only where the job names its timber. ``checks`` are those of the section, ``forces`` its mount in every combination.
    """
    check = next((c for c in checks if c.about.key == (section.part, "torsion")), None)
    if check is None or check.ending is not Ending.NOT_CHECKED or check.demand is None:
        return
    sides = sorted((section.b_s, section.h_s), key=lambda v: float(v.x))
    combination = next((f.combination for f in forces if f.combination.id == check.combination), None)
    found = [] if combination is None else [*_in_shear(walk, section, check, sides[1], sides[0], combination)]
    for shown in (*found, *_by_another(walk, section, check, sides[1], sides[0])):
        yield replace(shown, mount=forces[0].model.name)


def _in_shear(
    walk: Walk, section: Section, check: Check, long_side: Value, short_side: Value, combination: Combination
) -> Iterator[Shown]:
    """The stress at first yield and the one were the section wholly yielded, over the shear strength along the grain."""
    f_v = walk.basis.shear(section.timber, combination)
    if isinstance(f_v, NotChecked) or check.demand is None:
        return
    tau = check.demand.named("tau_tor")
    alpha = coefficient(long_side, short_side)
    stresses = {
        "elastic": tau,
        "plastic": PLASTIC(alpha=alpha, h_l=long_side.named("h_l"), tau_tor=tau, b_l=short_side.named("b_l")),
    }
    for way, stress in stresses.items():
        eta = IN_SHEAR[way](**{stress.symbol: stress, "f_v": f_v.named("f_v")})
        remark = "a figure for the engineer: not a check of this basis and not compared with anything"
        yield Shown(f"torsion by {way} theory over the shear strength, for scale only: {check.title}", eta, check.station, remark)


def _by_another(walk: Walk, section: Section, check: Check, long_side: Value, short_side: Value) -> Iterator[Shown]:
    if check.demand is None:
        return
    for other in walk.basis.others():
        combination = other.strength(GUARD)
        strength = other.torsion(section.timber, long_side, short_side, combination)
        if isinstance(strength, NotChecked):
            continue
        eta = FOR_SCALE(
            gamma_Q=combination.factor.named("gamma_Q"), tau_tor=check.demand.named("tau_tor"), f_tor_d=strength.named("f_tor_d")
        )
        yield Shown(
            f"torsion by the {other.title}, for scale only: {check.title}", eta, check.station,
            "not a check of this basis and not compared with anything",
        )  # fmt: skip
        return


def loose_for_scale(walk: Walk, handed: MountForces) -> Iterator[Shown]:
    """Splitting and the driven end fixings of the pieces under a mount by another family, where the own one has no figure."""
    model, block, L = handed.model, handed.model.blocking, handed.model.mount.screw.length
    if block is None or model.z_blocking is None or L is None:
        return
    timber = walk.timber(block.material, block.laminated == "factory", block.long_side)
    h_e = REACH(L=L.named("L"), z_b=model.z_blocking)
    sizes = (block.laid_breadth.named("b_pc"), block.laid_depth.named("h_pc"), h_e)
    if 0.0 < float(h_e.x) < float(block.laid_depth.x) and _none(walk.basis.splitting(timber, *sizes, handed.combination)):
        yield from first_for_scale(
            walk, model, "splitting of one piece pulled up", lambda f: f.splitting(timber, *sizes, f.strength(GUARD))
        )
    long_side, short_side = sorted(sizes[:2], key=lambda v: float(v.x), reverse=True)
    if len(model.pieces) > 1 and _none(walk.basis.torsion(timber, long_side, short_side, handed.combination)):
        yield from first_for_scale(
            walk, model, "torsion strength of one piece", lambda f: f.torsion(timber, long_side, short_side, f.strength(GUARD))
        )
    for side, fixing in (("left", block.left), ("right", block.right)):
        if (
            fixing is not None
            and fixing.fixing != "none"
            and _none(end_resistance(walk, fixing, "uplift", handed.combination, timber))
        ):
            yield from first_for_scale(
                walk, model, f"{side} end of one piece",
                lambda f, fixing=fixing: end_resistance(replace(walk, basis=f), fixing, "uplift", f.strength(GUARD), timber),  # type: ignore[misc]
            )  # fmt: skip


def _none(found: Value | NotChecked) -> bool:
    return isinstance(found, NotChecked) and found.lack is not Lack.INPUT
