"""The force at every link from the hand to the joist, one below the other, with the weakest link marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from barrier.links.mount.base_plate import Corner, MountForces
from barrier.load_path import Result, Walked
from barrier.result import About, Check, Ending, Kind, Standing, tied
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings.bars import bar
from barrier.sheet.drawings.facts import Say, ident, loose_corner, mount_forces, piece_forces, worst_corner
from barrier.sheet.drawings.stress_map import governing_of
from barrier.sheet.drawings.svg import WIDTH, Sketch
from barrier.sheet.numbers import utilisation_text
from barrier.value import Value

INSET = 6.0
ARROW = 17.0  # units between two boxes


@dataclass(frozen=True, eq=False)
class Stage:
    """One link of the chain: its name, what it carries in words, and its worst required check."""

    title: str
    lines: tuple[str, ...]
    check: Check | None
    step: str = ""
    unknown: int = 0  # required checks of it that were not made


def drawings(result: Result) -> list[Drawing]:
    """The chain through the mount that is worst off."""
    forces = _worst_mount(result.sound)
    if forces is None:
        return []
    name = forces.model.name
    caption = f"The force at every link from the hand to the joist, through mount {name}, at the level strength is checked at"
    return [Drawing(f"chain-{ident(name)}", (caption,), lambda: draw(result.sound, name))]


def _worst_mount(walked: Walked) -> MountForces | None:
    every = mount_forces(walked)
    check = walked.governing
    own = check.about.mount if check is not None else ""
    return next((f for f in every if f.model.name == own), None) or max(every, key=lambda f: tied(f.M_Ed.at(f.worst)), default=None)


def draw(walked: Walked, mount: str) -> Picture:
    """Draw the chain of one mount of a walk, at its largest moment that decides."""
    say = Say(walked.job.units)
    forces = next(f for f in mount_forces(walked) if f.model.name == mount)
    stages = chain(walked, forces, say)
    weakest = _weakest(stages)
    sketch, y = Sketch(), 0.0
    for i, stage in enumerate(stages):
        if i:
            sketch.arrow(34, y, 34, y + ARROW - 2, "load")
            if stage.step:
                sketch.text(44, y + 12, stage.step)
            y += ARROW
        y = _box(sketch, y, stage, stage is weakest)
    return Picture(sketch.svg(), _words(stages, weakest, mount))


def _box(sketch: Sketch, y: float, stage: Stage, weakest: bool) -> float:
    top = y
    x, wide = INSET + 4, WIDTH - 2 * INSET - 8
    title = stage.title + (": THE WEAKEST OF THESE" if weakest else "")
    end = sketch.words(y + (5 if weakest else 1), title, x=x, bold=True, width=wide)
    compared = (f"worst: {stage.check.title}",) if stage.check is not None else ()
    known = stage.check is not None and stage.check.ending is not Ending.NOT_CHECKED
    missing = (f"and {stage.unknown} required NOT CHECKED",) if stage.unknown and known else ()
    for line in (*stage.lines, *compared, *missing):
        end = sketch.words(end, line, x=x, width=wide)
    if stage.check is not None:
        bar(sketch, x, end + 2, stage.check, 122.0, 56.0)
        end += 15
    end += 6 if weakest else 3
    sketch.rect(2, top, WIDTH - 2, end, "warn" if weakest else "thin", what=stage.title)
    if weakest:
        sketch.rect(5, top + 3, WIDTH - 5, end - 3, "warn")
    return end + (3 if weakest else 0)


# ---------------------------------------------------------------- what each link carries


def chain(walked: Walked, forces: MountForces, say: Say) -> list[Stage]:
    """The links of one mount with their forces, from the hand down."""
    name, corner = forces.model.name, worst_corner(forces)
    panel = walked.job.panel_of(forces.model.mount)
    stages = [_hand(forces, say)]
    solved = next((s for s in walked.handed_on.panels if s.panel.name == panel.name), None)
    peak = governing_of(walked, solved) if solved is not None else None
    if peak is not None and peak.check.demand is not None:
        stress = f"largest stress {say(peak.check.demand, peak.check.station)}"
        stages.append(Stage("Glass", (stress, peak.words), peak.check, "bends over its clamps"))
    M, F = say(forces.M_Ed, forces.worst), say(_absolute(forces.F_Ed, forces.worst))
    clamp = worst_of(walked, [("clamp", "rating")], name)
    stages.append(
        Stage(f"Clamp and mount {name}", (f"moment {M}, push {F}, at the underside of the base plate",), clamp, "turns over")
    )
    plate = worst_of(walked, [("base_plate",)], name)
    turned = worst_of(walked, [("base_plate", "rotation")], name)
    stages.append(Stage("Base plate", _plate_lines(forces, turned, say), plate, "pulls its screws, presses on the wood"))
    screws = worst_of(walked, [("screws",)], name)
    stages.append(_counted(walked, Stage("Screws", _screw_lines(forces, corner, say), screws), [("screws",)], name))
    bearing = worst_of(walked, [("bearing",)], name)
    stages.append(Stage("Bearing on the wood", _bearing_lines(worst_of(walked, [("bearing", "mean")], name), say), bearing))
    stages.extend(_below(walked, forces, say))
    return stages


def _hand(forces: MountForces, say: Say) -> Stage:
    case = forces.worst_case
    total = say.of(float(case.resultant.x) * float(case.strength.factor.x), "force")
    lines = (
        f"{case.title} {say(case.action.size)}: {say(case.resultant)} on the panel",
        f"{total} at the {case.strength.level} level, {say(case.height)} above the bottom edge",
    )
    return Stage("Hand", lines, None)


def _plate_lines(forces: MountForces, turned: Check | None, say: Say) -> tuple[str, ...]:
    loose = loose_corner(forces)
    if loose is not None:
        return (f"no equilibrium {loose.sign}: {loose.contact.reason}",)
    if turned is None or turned.demand is None:
        return ("nothing could be solved",)
    return (f"pushed {turned.where}: turns {say(turned.demand, turned.station)}",)


def _screw_lines(forces: MountForces, corner: Corner | None, say: Say) -> tuple[str, ...]:
    if corner is None:
        return ("no pull can be given",)
    pulls = sorted(zip(corner.contact.T, forces.model.screws, strict=True), key=lambda p: -tied(float(p[0])))
    named = ", ".join(f"{s.name} {say.of(float(T), 'force')}" for T, s in pulls[:4] if float(T) > 0.5)
    total = say.of(float(corner.contact.T.sum()), "force")
    return (f"pull: {named or 'none'}; together {total}",)


def _bearing_lines(mean: Check | None, say: Say) -> tuple[str, ...]:
    if mean is None or mean.demand is None or mean.demand.kind != "stress":
        return ("no pressure can be given",)
    return (f"pressed with {say(mean.demand, mean.station)} in the mean, over what bears",)


def _below(walked: Walked, forces: MountForces, say: Say) -> list[Stage]:
    """Blocking and its ends, or the board that is all there is."""
    name, model = forces.model.name, forces.model
    if model.boards_only:
        check = worst_of(walked, [("blocking",), ("boards",)], name)
        words = ("no blocking: the board bends and twists between the joists",)
        return [Stage("Board alone", words, check, "all hangs on one board"), _joists(walked, name, say)]
    pieces = piece_forces(walked, name)
    loose = len(model.pieces) > 1
    lines: tuple[str, ...] = ("no force on a piece can be given",)
    if not loose:
        lines = (f"one section, turned by {say(forces.M_Ed, forces.worst)} and the push above its middle",)
    elif pieces is not None:
        down, up = pieces.forces.max(axis=0), -pieces.forces.min(axis=0)
        lines = tuple(
            f"{p.name}: {_both(float(d), float(u), say)}" for p, d, u in zip(model.pieces, down, up, strict=True)
        )  # fmt: skip
    wood = (
        ("edge_joist", "bending"),
        ("edge_joist", "shear"),
        ("edge_joist", "torsion"),
        ("edge_joist", "whole"),
        ("blocking", "both_ways"),
        ("blocking", "bending"),
        ("blocking", "shear"),
        ("blocking", "torsion"),
        ("blocking", "splitting"),
    )
    found = [
        Stage(
            "Blocking" if model.blocking is not None else "Edge joist",
            lines,
            worst_of(walked, wood, name),
            "piece by piece, over both directions" if loose else "turns it between its ends",
        )
    ]
    found = [_counted(walked, stage, wood, name) for stage in found]
    held = (("blocking", "end"), ("edge_joist", "end"))
    ends = [c for c in walked.checks if c.about.one_of(held) and c.about.mount == name and c.demand is not None]
    said = tuple(f"{c.title.removesuffix(f', mount {name}')}: {say(c.demand, c.station)}" for c in ends if c.demand is not None)
    title = "Ends, at the joists" if model.blocking is not None else "Ends of the edge joist"
    last = Stage(title, said or ("no force at an end can be given",), worst_of(walked, held, name), "to the joists")
    return [*found, _counted(walked, last, held, name), _joists(walked, name, say)]


def _joists(walked: Walked, mount: str, say: Say) -> Stage:
    """The joists at a mount: the couple on one of them, or what presses and lifts a pair."""
    checks = [c for c in walked.checks if c.about.one_of([("joist",)]) and c.about.mount == mount]
    couples = [s for link in walked.links if link.id == "joist" for s in link.shown if s.mount == mount]
    lines = tuple(f"a couple of {say(s.value, s.station)} on one joist" for s in couples if s.value.kind == "moment")
    down = next((c for c in checks if c.about == About("joist", "outer", way="down", mount=mount) and c.demand is not None), None)
    if down is not None and down.demand is not None and down.eta is not None:
        lines = (*lines, f"{say(down.demand, down.station)} on its outer support, with all else it carries")
    stage = Stage("Joists", lines or ("what comes to a joist cannot be given",), worst_of(walked, [("joist",)], mount))
    return _counted(walked, stage, [("joist",)], mount)


def _both(down: float, up: float, say: Say) -> str:
    parts = [f"{say.of(x, 'force')} {way}" for x, way in ((down, "down"), (up, "up")) if x > 0.5]
    return " or ".join(parts) or "nothing"


def _counted(walked: Walked, stage: Stage, kinds: Sequence[Kind], mount: str) -> Stage:
    """The stage with how many of its required checks were not made."""
    return replace(stage, unknown=sum(c.ending is Ending.NOT_CHECKED for c in _required(walked, kinds, mount)))


def _required(walked: Walked, kinds: Sequence[Kind], mount: str) -> list[Check]:
    """The required checks of a kind for a mount."""
    return [c for c in walked.checks if c.standing is Standing.REQUIRED and c.about.one_of(kinds) and c.about.mount == mount]


def worst_of(walked: Walked, kinds: Sequence[Kind], mount: str) -> Check | None:
    """The worst required check of a kind for a mount: letting go, then the largest number, then what is not checked."""
    return max(_required(walked, kinds, mount), key=lambda c: tied(badness(c)), default=None)


def badness(check: Check) -> float:
    """How bad an ending is: without bound where it exceeds without a number, below every number where nobody knows."""
    if check.eta is not None:
        return check.rank or 0.0
    return float("inf") if check.ending is Ending.EXCEEDS else -1.0


def _weakest(stages: Sequence[Stage]) -> Stage | None:
    known = [s for s in stages if s.check is not None and s.check.ending is not Ending.NOT_CHECKED]
    if not known:
        return None
    return max(known, key=lambda s: tied(badness(s.check)) if s.check is not None else -1.0)


def _absolute(value: Value, station: int) -> Value:
    return Value(abs(value.at(station)), value.kind, value.origin, value.symbol)


def _words(stages: Sequence[Stage], weakest: Stage | None, mount: str) -> str:
    told = "; ".join(f"{s.title}: {s.lines[0]}" for s in stages if s.lines)
    if weakest is None or weakest.check is None:
        return f"Chain of forces through mount {mount}. {told}. No link could be compared."
    figure = utilisation_text(weakest.check) if weakest.check.eta is not None else "lets go, without a number"
    return f"Chain of forces through mount {mount}. {told}. Weakest link: {weakest.title} ({weakest.check.title}, {figure})."
