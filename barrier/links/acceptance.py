"""What is no comparison of forces: heights, openings, kinds of glass, moisture and metals. Findings, with their source.

They stand last and decide nothing here: rules differ from place to place, and the building control body or a licensed
engineer reads them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.basis import WET
from barrier.job.schema import Mount, Panel
from barrier.links.rules import by_drop, driving, in_practice, movement_rules, rail_findings, rule_of, single_layer
from barrier.links.rules import by_rule as _by_rule
from barrier.links.rules import mm as _mm
from barrier.links.setting_out import setting_out
from barrier.links.walk import Walk
from barrier.result import Check, Finding, LinkResult


def acceptance(walk: Walk, checks: Sequence[Check]) -> LinkResult:
    """Say what the job's heights, openings, glass, timber and metals should be looked at for; ``checks`` are those made before."""
    findings = [*setting_out(walk), *_heights(walk), *_timber(walk), *_durability(walk)]
    for panel in walk.job.panels:
        findings.extend(_glass(walk, panel))
        findings.extend(_openings(walk, panel))
    findings.extend((*in_practice(walk, checks), *movement_rules(walk), *driving(walk), *_mounts(walk.job.mounts)))
    return LinkResult("acceptance", "Heights, openings, materials", (), (), tuple(findings))


def _heights(walk: Walk) -> Iterator[Finding]:
    site = walk.job.site
    height, guarded = rule_of(walk, "height_edge"), walk.basis.rule("guarded_from")
    if height is None:
        yield Finding(
            "Rules on heights, openings and kinds of glass: not checked in this basis or without a national table.", loud=True
        )
        return
    if site.barrier_height is None:
        yield _by_rule("Height of the barrier not given: not checked. Rule", height, loud=True)
    elif height[0] is None:
        yield _by_rule("The rule on the height has no figure: not checked. Rule", height, loud=True)
    elif _mm(site.barrier_height) < _mm(height[0]):
        yield _by_rule("The barrier is lower than the rule asks", height, loud=True)
    else:
        yield _by_rule("The barrier is not lower than the rule names", height)
    if guarded is None:
        yield Finding("From which drop on a barrier is wanted is no rule of this edition: not checked.", loud=True)
    elif site.fall_height is None:
        yield _by_rule("Fall height not given: not checked. Rule", guarded, loud=True)
    elif guarded[0] is None:
        yield _by_rule("The rule on the drop has no figure: not checked. Rule", guarded, loud=True)
    elif _mm(site.fall_height) > _mm(guarded[0]):
        yield _by_rule("There is a drop to guard", guarded)
    elif _mm(site.fall_height) == _mm(guarded[0]):
        yield _by_rule("The drop is just what the rule names: some codes count it, some do not", guarded, loud=True)
    if site.below == "people pass":
        yield Finding("There are people below: broken glass falls on them. Ask the engineer about laminated glass.", loud=True)
    yield from _pool(walk)


def _pool(walk: Walk) -> Iterator[Finding]:
    """Beside a pool two sets of rules may hold at once: those of a pool barrier, and those of a drop."""
    site, loud = walk.job.site, bool(walk.job.site.pool)
    if site.pool is False:
        return
    yield Finding("Beside a pool other rules hold (height, footholds, gates, steel, earthing): not checked.", loud=loud)
    height, opening, guarded = (walk.basis.rule(key) for key in ("pool_height", "pool_opening", "guarded_from"))
    if not site.pool or height is None or opening is None:
        return
    given = site.barrier_height
    if given is None:
        yield _by_rule("As a pool barrier its height is not given", height, loud=True)
    elif height[0] is None:
        yield _by_rule("As a pool barrier its height is not checked, the rule has no figure", height, loud=True)
    elif _mm(given) < _mm(height[0]):
        yield _by_rule("As a pool barrier its height is lower than the rule asks", height, loud=True)
    else:
        yield _by_rule("As a pool barrier it is not lower than the rule names", height)
    for panel in walk.job.panels:
        if opening[0] is not None and _mm(panel.bottom_gap) > _mm(opening[0]):
            yield _by_rule(f"As a pool barrier the gap below panel {panel.name} is too large", opening, loud=True)
    if guarded is not None and guarded[0] is not None and site.fall_height is not None and _mm(site.fall_height) > _mm(guarded[0]):
        text = (
            "There is a pool and a drop to guard: the rules of both hold, and a strength test of a pool barrier does not replace "
        )
        yield Finding(text + "the loads on a barrier.", loud=True)

    for key, text in (
        ("pool_zone", "What could be climbed on near the barrier"),
        ("pool_inside_gap", "What could be held on from inside"),
    ):
        rule = rule_of(walk, key)
        if rule is not None:
            yield _by_rule(f"{text} is not in the job: not checked. Rule", rule, loud=True)


def _timber(walk: Walk) -> Iterator[Finding]:
    """What the basis knows of the named timbers beside figures."""
    job = walk.job
    found: dict[tuple[str, str], list[str]] = {}
    pieces = [("decking", job.decking.material), *((f"blocking {name}", b.material) for name, b in job.blocking.items())]
    for piece, names in pieces:
        said = walk.basis.timber_words(walk.timber(names))
        if said is not None:
            found.setdefault(said, []).append(piece)
    for (words, source), of in found.items():
        yield Finding(f"Timber {words} ({', '.join(of)}).", source)


def _openings(walk: Walk, panel: Panel) -> Iterator[Finding]:
    rule = walk.basis.rule("opening")
    if rule is not None and rule[0] is not None and _mm(panel.bottom_gap) > _mm(rule[0]):
        yield _by_rule(f"The gap below panel {panel.name} is larger than the rule allows", rule, loud=True)
    elif rule is not None:
        yield _by_rule("Gaps between panels and beside them are not in the job: not checked. Rule", rule)
    edge = rule_of(walk, "edge_gap")
    if edge is not None:
        yield _by_rule("Glass in front of the edge of the deck is not in the job: not checked. Rule", edge)


def _glass(walk: Walk, panel: Panel) -> Iterator[Finding]:
    yield from rail_findings(walk, panel)
    yield from single_layer(walk, panel)
    yield from by_drop(walk, panel)
    yield from _glass_rules(walk, panel)
    if len(panel.layers) == 1 and panel.layers[0].glass == "toughened":
        yield Finding("A single toughened layer is gone at once when it breaks; the opening must be guarded until it is replaced.")


def _glass_rules(walk: Walk, panel: Panel) -> Iterator[Finding]:
    """Rules some codes have on thickness, kind of glass and top rail; a code without one says nothing."""
    thinnest = walk.basis.rule("thickness")
    if thinnest is not None and thinnest[0] is not None:
        known = [layer.nominal for layer in panel.layers if layer.nominal is not None]
        thin = any(_mm(t) < _mm(thinnest[0]) for t in known)
        said = "is thinner than the rule asks" if thin else "is not thinner than the rule names"
        if not thin and len(known) < len(panel.layers):
            said = "is of a thickness nobody knows: not checked. Rule"
        yield _by_rule(f"The glass of panel {panel.name} {said}", thinnest, loud=thin or len(known) < len(panel.layers))
    heat = walk.basis.rule("heat_treated")
    if heat is not None and any(layer.glass == "annealed" for layer in panel.layers):
        yield _by_rule(f"Panel {panel.name} has annealed glass", heat, loud=True)
    rail = walk.basis.rule("top_rail")
    if rail is not None and panel.rail == "none":
        yield _by_rule(f"Panel {panel.name} has no rail", rail, loud=True)
    alike = len({(layer.glass, layer.nominal and _mm(layer.nominal)) for layer in panel.layers}) == 1
    if rail is not None and len(panel.layers) > 1 and not alike:
        yield _by_rule(f"The layers of panel {panel.name} are not alike", rail, loud=True)


def _durability(walk: Walk) -> Iterator[Finding]:
    site = walk.job.site
    metals = {m.screw.material for m in walk.job.mounts}
    if site.treated_timber is None:
        yield Finding("Whether the timber is treated is not known: treatment attacks plain and coated screws. Ask.", loud=True)
    elif site.treated_timber and metals & {"plain", "coated"}:
        yield Finding(
            "Plain or coated screws stand in treated timber: many treatments attack them; stainless is usual.",
            "common practice",
            loud=True,
        )
    incised = walk.basis.rule("incised")
    if incised is not None and site.treated_timber is not False:
        yield _by_rule("Treated timber may be incised", incised, loud=True)
    if None in metals:
        yield Finding("What the screws are made of is not known: ask the supplier.")
    if site.outdoors and site.service_class != WET:
        yield Finding(
            f"Outdoors, and service class {site.service_class} is given: wet timber is class 3. Ask the engineer.", loud=True
        )


def _mounts(mounts: tuple[Mount, ...]) -> Iterator[Finding]:
    names = [m.name for m in mounts if m.earthed != "yes"]
    if names:
        many = f"Mounts {', '.join(names)}" if len(names) > 1 else f"Mount {names[0]}"
        yield Finding(f"{many}: whether it has to be earthed is not checked; near a pool or a supply it may.")
