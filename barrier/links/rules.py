"""What a rule makes of a word of the job: rail, one layer of glass over people, how far things may move. Nothing is compared
that decides here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.job.schema import Panel
from barrier.links.walk import Walk
from barrier.result import About, Check, Finding
from barrier.value import JobEntry, Value

Rule = tuple[Value | None, str, str]
ALONE = "is a single layer without a rail"
UNDER_ONE_LAYER = {
    "people pass": "and people pass below it: the rule does not accept that",
    "paving": "and paving is below it, which is walked on: the rule does not accept that unless the way below is protected",
    "garden": "and a garden is below it: whether anybody walks there decides, ask",
    "water": "and water is below it: whether anybody gets beneath it decides, ask",
}


def mm(value: Value) -> float:
    """A length in mm."""
    return float(value.x)


def by_rule(text: str, rule: Rule, loud: bool = False) -> Finding:
    """What a rule makes of the job: its words, the length it names, its source."""
    return Finding(f"{text}: {rule[1]}.", rule[2], loud, rule[0])


def rule_of(walk: Walk, key: str) -> Rule | None:
    """The rule for the use of the building in this job; where that use has none of its own, the general one."""
    return walk.basis.rule(f"{key} {walk.job.site.use}") or walk.basis.rule(key)


# ---------------------------------------------------------------- the rail


def rail_title(panel: Panel) -> str:
    """The title of the check of a rail."""
    return f"rail of panel {panel.name}, its ends, splices and connection"


def rail_asked(panel: Panel) -> bool:
    """Whether the panel counts on a rail: it is a single layer, and gone when it breaks."""
    return panel.rail != "none" and len(panel.layers) == 1


def rail_findings(walk: Walk, panel: Panel) -> Iterator[Finding]:
    """What the rules say of a single layer without a rail, and of one that counts on a rail: described, or not checked."""
    rule, single = rule_of(walk, "free_standing"), len(panel.layers) == 1
    if single and panel.rail == "none":
        if rule is not None:
            yield by_rule(f"Panel {panel.name} {ALONE}", rule, loud=True)
        return
    if panel.rail == "none":
        return
    what = "is a single layer and counts on its rail" if single else "has a rail"
    known = "are looked at by themselves, as far as they are known" if walk.job.rail is not None else "are not checked"
    text = f"Panel {panel.name} {what}, and the rail ({panel.rail}), its ends, splices and connection {known}"
    if single and rule is not None:
        yield by_rule(f"{text}. Rule", rule, loud=True)
    else:
        yield Finding(f"{text}.", loud=True)


# ---------------------------------------------------------------- one layer over people


def single_layer(walk: Walk, panel: Panel) -> Iterator[Finding]:
    """What a rule on single layers says of this panel, by what lies below it."""
    rule = rule_of(walk, "single_layer")
    if rule is None or len(panel.layers) > 1:
        return
    glass = panel.layers[0].glass
    if glass != "toughened":
        yield by_rule(f"Panel {panel.name} is a single layer of {glass} glass, which the rule does not accept", rule, loud=True)
        return
    below = UNDER_ONE_LAYER.get(str(walk.job.site.below), "and what is below it is not given: not checked")
    yield by_rule(f"Panel {panel.name} is a single toughened layer, {below}", rule, loud=True)


def by_drop(walk: Walk, panel: Panel) -> Iterator[Finding]:
    """Rules some codes have on glass and handrail by the height of the drop; a drop that is not known may be any."""
    fall = walk.job.site.fall_height
    known = "" if fall is not None else " and the drop is not given"
    single = rule_of(walk, "single_layer_to")
    if single is not None and single[0] is not None and len(panel.layers) == 1 and (fall is None or mm(fall) > mm(single[0])):
        yield by_rule(
            f"The glass of panel {panel.name} is a single layer{known or ' over a drop that is too high for it'}", single, loud=True
        )
    handrail = rule_of(walk, "handrail_from")
    if handrail is not None and handrail[0] is not None and panel.rail == "none" and (fall is None or mm(fall) >= mm(handrail[0])):
        yield by_rule(f"Panel {panel.name} has no rail{known}", handrail, loud=True)


# ---------------------------------------------------------------- how screws are driven


def driving(walk: Walk) -> Iterator[Finding]:
    """The holes the strengths of the screws take for granted, for every wood they hold in."""
    found: dict[tuple[str, str], list[str]] = {}
    for model in walk.mounts:
        if model.wood is None:
            continue
        timber = walk.timber(model.wood.names, model.wood.laminated)
        said = walk.basis.driving_words(timber, model.mount.screw.diameter)
        if said is not None:
            found.setdefault(said, []).append(model.name)
    for (words, source), names in found.items():
        yield Finding(
            f"Holes for the screws of mount{'s' if len(names) > 1 else ''} {', '.join(names)}: {words}.", source, loud=True
        )


# ---------------------------------------------------------------- movement and fixings


def movement_rules(walk: Walk) -> Iterator[Finding]:
    """The limit of movement of the job beside the one a rule names, and what the glass may move by itself."""
    rule, own = rule_of(walk, "movement"), walk.job.limits.top_movement
    if rule is not None and rule[0] is not None:
        if own is None:
            yield by_rule("No limit of movement is given. Rule", rule, loud=True)
        elif mm(own) > mm(rule[0]):
            yield by_rule("The limit of movement in the job is larger than the rule names", rule, loud=True)
        else:
            yield by_rule("The limit of movement in the job is not larger than the rule names", rule)
    for panel in walk.job.panels:
        glass = walk.basis.glass_movement(panel.height)
        if glass is not None:
            text = f"Movement of the glass of panel {panel.name} from where its mounts hold it: not compared. Rule"
            yield by_rule(text, glass, loud=True)


# ---------------------------------------------------------------- figures that are none


def in_practice(walk: Walk, made: Sequence[Check]) -> Iterator[Finding]:
    """What a movement or an angle means that is larger than the model holds for, and a band that rests on a guess."""
    small = walk.tables.value("site_angles", "small")
    checks = {c.about: c for c in made if c.demand is not None}
    limit = "further than this tool's model of small displacements holds for"
    beyond = f"{limit}: in practice it lets go, and its"
    for mount in walk.job.mounts:
        if _more(checks.get(About("base_plate", "rotation", mount=mount.name)), 1.0, small):
            yield _no_figure(
                f"The base plate of mount {mount.name} would turn {beyond} angle is no figure", small,
                About("base_plate", "rotation", mount=mount.name),
            )  # fmt: skip
    for panel in walk.job.panels:
        top = checks.get(About("movement", panel=panel.name))
        if _more(top, mm(panel.height) + mm(panel.bottom_gap), small):
            sliding = f"{limit} if its layers slid, which nobody knows of its interlayer: its"
            words = sliding if _interlayer_unknown(panel) else beyond
            yield _no_figure(
                f"Panel {panel.name} would lean {words} movement is no figure", small, About("movement", panel=panel.name)
            )
        if top is not None and (guessed := _guessed_liners(walk, panel)):
            text = f"The movement of panel {panel.name} is a band and no figure: nobody has measured the liner of {guessed}, and "
            end = "its upper end stands on the softest liner that is guessed. Ask the supplier what the liner is."
            yield Finding(text + end, loud=True)


def _interlayer_unknown(panel: Panel) -> bool:
    """Whether the layers of a panel are taken to slide because nobody knows what holds them together."""
    film = panel.interlayer
    return film is not None and film.coupling != "none" and film.modulus is None and None in (film.kind, film.temperature)


def _more(check: Check | None, arm: float, small: Value) -> bool:
    """Whether what a check compares, over an arm, is an angle larger than small."""
    return check is not None and check.demand is not None and abs(check.demand.at(check.station)) > arm * small.at(0)


def _no_figure(text: str, small: Value, about: About) -> Finding:
    return Finding(f"{text}. Largest angle it is read as one for.", "convention of this project", True, small, about)


def _guessed_liners(walk: Walk, panel: Panel) -> str:
    """The mounts of a panel of which the soft end of a liner is taken by this tool, in words."""
    guessed = []
    for mount in walk.job.mounts_of(panel):
        origins = [pad.stiffness_low.origin for pad in mount.pads]
        if any(isinstance(o, JobEntry) and o.is_assumed for o in origins):
            guessed.append(mount.name)
    return f"mount{'s' if len(guessed) > 1 else ''} {', '.join(guessed)}" if guessed else ""
