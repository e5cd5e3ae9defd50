"""What a job must be checked for, whole: every required check, from the job and its basis alone.

A link makes its checks as far as figures reach. What it could not make is put in its place here as *not checked*, with the
reason: the entry that is missing, or what let go nearer to the hand. So the set of required checks depends neither on the size
of a load or a factor, nor on which entries are unknown. A test walks every worked example and holds that no link makes a
required check that is not asked for here, and that the titles are the same.

Beside these stand ``actions.barrier`` and ``actions.wind``, which are there only where an action is not known: they say so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from barrier.job.schema import EndFixing, Panel
from barrier.links.glass.glass import glass_of
from barrier.links.glass.panel_solution import sheet_of
from barrier.links.ground.geometry import MountModel
from barrier.links.loads.on_barrier import given_actions
from barrier.links.mount.bearing import peak_title
from barrier.links.mount.in_plane import check_of
from barrier.links.mount.in_plane_forces import in_plane_actions
from barrier.links.mount.screws import spaced
from barrier.links.mount.thickness import asks
from barrier.links.mount.thickness import title as thickness_title
from barrier.links.movement import limited
from barrier.links.rail import rail
from barrier.links.rules import rail_asked, rail_title
from barrier.links.under_rail import under_rail
from barrier.links.walk import Walk
from barrier.result import About, Check, Ending, Lack, LinkResult, NotChecked, Standing, not_checked
from barrier.value import Value


@dataclass(frozen=True, slots=True)
class Asked:
    """A check a job must get: what it is about, its title, and the mount or panel it is of.

    ``after`` is the check of the same link it is made from, where there is one: without a number there, none here.
    """

    about: About
    title: str
    of: MountModel | Panel
    after: About | None = None

    @property
    def link(self) -> str:
        """The link that makes it."""
        return LINK_OF.get(self.about.part, self.about.part)

    @property
    def id(self) -> str:
        """The id its check has."""
        return self.about.id


JOISTS = {  # by kind and way
    ("bending", ""): "bending of the joists at mount {}",
    ("shear", ""): "shear of the joists at mount {}",
    ("outer", "down"): "outer support of the joists, pressed down, mount {}",
    ("outer", "uplift"): "outer support of the joists, pulled up, mount {}",
    ("inner", "down"): "inner support of the joists, pressed down, mount {}",
    ("inner", "uplift"): "inner support of the joists, pulled up, mount {}",
}


def joist_of(key: tuple[str, str], mount: str) -> About:
    """What a check of the joists at a mount is about: kind and way."""
    return About("joist", key[0], way=key[1], mount=mount)


LINK_OF = {"boards": "blocking", "edge_joist": "blocking"}


def asked(walk: Walk) -> Iterator[Asked]:
    """Everything a job must be checked for, panel by panel and mount by mount."""
    for panel in walk.job.panels:
        yield Asked(glass_of(walk, panel, "face"), "bending of the glass, face", panel)
        yield Asked(glass_of(walk, panel, "edge"), "bending of the glass, edges", panel)
        yield from _slip(walk, panel)
        if rail_asked(panel) and walk.job.rail is None:
            yield Asked(About("rail", panel=panel.name), rail_title(panel), panel)
        if limited(walk):
            yield Asked(About("movement", panel=panel.name), f"movement of the top edge of panel {panel.name}", panel)
    if rail.standing_of(walk) is Standing.REQUIRED:
        yield from (Asked(a.about, a.title, under_rail(walk.job)[0]) for a in rail.asked(walk))
    for model in walk.mounts:
        name = model.name
        yield Asked(About("clamp", "rating", mount=name), f"supplier's rating of mount {name}", model)
        yield Asked(About("base_plate", "bed", mount=name), f"bed under mount {name}", model)
        yield Asked(About("base_plate", "rotation", mount=name), f"rotation of the base plate of mount {name}", model)
        yield Asked(About("base_plate", "plate", mount=name), f"bending of the base plate of mount {name}", model)
        yield from _screws(walk, model)
        yield from _in_plane(walk, model)
        yield Asked(About("bearing", "mean", mount=name), f"mean bearing on the decking under mount {name}", model)
        if walk.basis.peak_bearing_decides:
            yield Asked(About("bearing", "peak", mount=name), peak_title(name), model, About("bearing", "mean", mount=name))
        if model.mount.support != "decking only":
            title = f"mean bearing on the {model.mount.support} beneath the decking, mount {name}"
            yield Asked(About("bearing", "below", mount=name), title, model, About("bearing", "mean", mount=name))
        yield from beneath(walk, model)
        for key, title in JOISTS.items():
            yield Asked(joist_of(key, name), title.format(name), model)


def completed(walk: Walk, wanted: Iterable[Asked], before: Sequence[Check], link: LinkResult) -> LinkResult:
    """What a link wrote, and every check asked of it that it could not make, as *not checked* with the reason.

    Arguments: ``wanted``, what is :func:`asked` of all links; ``before``, the checks of the links nearer to the hand.
    """
    made = {c.about for c in link.checks}
    known = {c.about: c for c in (*before, *link.checks)}
    unmade = [_unmade(walk, known, a) for a in wanted if a.link == link.id and a.about not in made]
    return replace(link, checks=(*link.checks, *unmade)) if unmade else link


def _unmade(walk: Walk, known: dict[About, Check], a: Asked) -> Check:
    why = _why(walk, known, a)
    return not_checked(a.about, a.title, why, Standing.INFORMATION if why is UNLOADED else Standing.REQUIRED)


def unreached(walk: Walk, model: MountModel) -> Iterator[Check]:
    """The checks of what is beneath a mount whose base plate has let go under some combination."""
    for a in beneath(walk, model):
        yield not_checked(a.about, a.title, LET_GO)


LET_GO = NotChecked(Lack.REACH, "the base plate has no equilibrium: what it would hand on here is not known")
UNLOADED = NotChecked(Lack.REACH, "no case loads it this way")


def _why(walk: Walk, known: dict[About, Check], a: Asked) -> NotChecked:
    """Why a check that was asked for could not be made."""
    earlier = None if a.after is None else known.get(a.after)
    if earlier is not None and earlier.ending is Ending.NOT_CHECKED and earlier.why is not None:
        return earlier.why
    if earlier is not None and earlier.utilisation is None:
        return NotChecked(Lack.REACH, f"{earlier.title} exceeds without a number: {earlier.reason}")
    panel = a.of if isinstance(a.of, Panel) else walk.job.panel_of(a.of.mount)
    sheet, given = sheet_of(walk, panel), given_actions(walk)
    if isinstance(sheet, NotChecked):
        return sheet
    if isinstance(given, NotChecked):
        return given
    if isinstance(a.of, MountModel) and a.of.lacking is not None:
        return a.of.lacking
    if isinstance(a.of, MountModel) and not any(s.piece is not None for s in a.of.screws):
        return NotChecked(Lack.REACH, "no screw of the mount reaches timber")
    name = a.of.name
    rotation = known.get(About("base_plate", "rotation", mount=name))
    return LET_GO if rotation is None or rotation.utilisation is None else UNLOADED


# ---------------------------------------------------------------- by link


def _slip(walk: Walk, panel: Panel) -> Iterator[Asked]:
    """The glass in its clamps, where the basis asks for a load that would move it there."""
    kinds = {load.action.kind for load in in_plane_actions(walk) if load.action.required}
    if "along" in kinds:
        yield Asked(About("clamp", "slip_along", panel=panel.name), f"glass of panel {panel.name} slides along its clamps", panel)
    if "along" in kinds or ("vertical" in kinds and walk.basis.any_direction):
        yield Asked(About("clamp", "slip_up", panel=panel.name), f"glass of panel {panel.name} lifts out of its clamps", panel)


def _screws(walk: Walk, model: MountModel) -> Iterator[Asked]:
    name = model.name
    yield Asked(About("screws", "withdrawal", mount=name), f"withdrawal of the screws of mount {name}", model)
    yield Asked(About("screws", "steel", mount=name), f"steel of the screws of mount {name}", model)
    yield Asked(About("screws", "sideways", mount=name), f"screws of mount {name} pushed sideways", model)
    title = f"withdrawal and sideways together, mount {name}"
    yield Asked(About("screws", "combined", mount=name), title, model, About("screws", "sideways", mount=name))
    yield Asked(About("screws", "edge", mount=name), f"edge distance of the screws of mount {name}, per piece", model)
    if model.mount.support == "blocking":
        yield Asked(
            About("screws", "end", mount=name), f"distance of the screws of mount {name} from the end of their piece", model
        )
    if asks(walk, model):
        yield Asked(About("screws", "thickness", mount=name), thickness_title(name), model)
    for rule, way in spaced(model):
        yield Asked(About("screws", rule, mount=name), f"spacing of the screws of mount {name} {way} the grain", model)


def _in_plane(walk: Walk, model: MountModel) -> Iterator[Asked]:
    name = model.name
    for load in in_plane_actions(walk):
        title = load.action.title
        if not load.action.required:
            continue
        if load.action.kind == "along":
            side = About("in_plane", "sideways", mount=name)
            yield Asked(check_of(load, "along", model), f"{title}: base plate and screws of mount {name}", model)
            yield Asked(side, f"{title}: screws of mount {name} pushed sideways", model)
            yield Asked(
                About("in_plane", "combined", mount=name), f"{title}: pull and sideways together, mount {name}", model, side
            )
            continue
        for way in ("down", "up") if walk.basis.any_direction else ("down",):
            yield Asked(check_of(load, way, model), f"{title}: base plate and screws of mount {name}, {way}", model)


def beneath(walk: Walk, model: MountModel) -> Iterator[Asked]:
    """What a mount stands on: the boards alone, an edge joist, or blocking in loose pieces, as one section, or across."""
    mount, name = model.mount, model.name
    if mount.support == "decking only":
        twisted = "torsion" if walk.job.decking.direction == "along" else "bending"
        yield Asked(About("boards", "board", mount=name), f"{twisted} of the board under mount {name}", model)
        yield Asked(About("boards", "screws", mount=name), f"the board's own screws, mount {name}", model)
        yield Asked(About("boards", "push", mount=name), f"the board's own screws pushed sideways, mount {name}", model)
        yield from _plane_below(walk, model)
    elif mount.support == "edge joist":
        if walk.job.joists.restraint_spacing is None:
            yield Asked(About("edge_joist", "whole", mount=name), f"turning of the edge joist under mount {name}", model)
        else:
            yield from _one_section("edge_joist", "the edge joist", model)
        yield from _plane_below(walk, model)
    else:
        block = walk.job.blocking[str(mount.blocking)]
        across = block.direction != "along"
        if not across and (block.pieces == 1 or block.laminated == "factory"):
            yield from _one_section("blocking", "the blocking", model)
            if _loads_in_plane(walk):
                yield from _up_and_down(model, SIDES)
            return
        under = f"of the blocking under mount {name}"
        yield Asked(About("blocking", "bending", mount=name), f"bending {under}", model)
        if not across:
            yield Asked(
                About("blocking", "both_ways", mount=name), f"bending of the blocking both ways at once, mount {name}", model
            )
        yield Asked(About("blocking", "shear", mount=name), f"shear {under}", model)
        yield Asked(
            About("blocking", "torsion", mount=name), f"torsion of a {'' if across else 'loose '}piece under mount {name}", model
        )
        if across:
            yield Asked(
                About("blocking", "end", detail="thrust", mount=name),
                f"end of the blocking pressed against its joist, mount {name}",
                model,
            )
            yield from _plane_below(walk, model)
        else:
            if not _through(walk, model):
                yield Asked(
                    About("blocking", "splitting", mount=name), f"splitting of the blocking pulled up by mount {name}", model
                )
            yield from _split_at_ends(model, (block.left, block.right), block.laid_depth)
        sides = ACROSS if across else SIDES
        yield from _up_and_down(model, sides)
        yield from _held("blocking", "the blocking", model, sides)


SIDES = {"left": "left", "right": "right"}
ACROSS = {"left": "people-side", "right": "drop-side"}


def _up_and_down(model: MountModel, sides: Mapping[str, str]) -> Iterator[Asked]:
    """What holds the ends of blocking down and up."""
    for side, words in sides.items():
        for way, held in (("uplift", "down"), ("down", "up")):
            title = f"{words} end of the blocking held {held}, mount {model.name}"
            yield Asked(About("blocking", "end", side=side, way=way, mount=model.name), title, model)


def _held(id: str, what: str, model: MountModel, sides: Mapping[str, str]) -> Iterator[Asked]:
    """What holds the ends sideways, against turning, and all at once."""
    for side, words in sides.items():
        for key, held in (("sideways", " pushed sideways"), ("torque", " held against turning"), ("together", AT_ONCE)):
            yield Asked(
                About(id, "end", side=side, way=key, mount=model.name), f"{words} end of {what}{held}, mount {model.name}", model
            )


AT_ONCE = ", all that it holds at once"


def _split_at_ends(model: MountModel, fixings: Sequence[EndFixing | None], depth: Value) -> Iterator[Asked]:
    """Splitting at end fixings that pull at the wood, or may; a piece that sits in shoes is not pulled at when pressed down."""
    some = [f for f in fixings if f is None or f.fixing != "none"]
    shoes = all(f is not None and f.lowest is not None and float(f.lowest.x) >= float(depth.x) for f in some)
    for way, words in (("uplift", "lifted"), ("down", "pressed down")):
        if some and not (way == "down" and shoes):
            title = f"splitting of the blocking at its end fixings, {words}, mount {model.name}"
            yield Asked(About("blocking", "end", detail="splitting", way=way, mount=model.name), title, model)


def _loads_in_plane(walk: Walk) -> bool:
    """Whether a load in the plane of the glass decides."""
    return any(load.action.required for load in in_plane_actions(walk))


def _plane_below(walk: Walk, model: MountModel) -> Iterator[Asked]:
    """Loads in the plane of the glass on what is no blocking along it."""
    if _loads_in_plane(walk):
        yield Asked(
            About("blocking", "in_plane", mount=model.name), f"loads in the plane of the glass below mount {model.name}", model
        )


def _through(walk: Walk, model: MountModel) -> bool:
    """Whether the screws go right through the pieces, where splitting has no method; an unknown gap is taken as closed."""
    z = model.z_blocking
    above = (model.mount.plate.thickness, model.packing, walk.job.decking.thickness)
    top = float(z.x) if z is not None else sum(float(v.x) for v in above)
    L, block = model.mount.screw.length, model.blocking
    return block is not None and L is not None and float(L.x) - top >= float(block.laid_depth.x)


def _one_section(id: str, words: str, model: MountModel) -> Iterator[Asked]:
    name = model.name
    yield Asked(About(id, "torsion", mount=name), f"torsion of {words} under mount {name}", model)
    yield Asked(About(id, "bending", mount=name), f"sideways bending of {words} under mount {name}", model)
    yield Asked(About(id, "shear", mount=name), f"sideways shear of {words} under mount {name}", model)
    yield from _held(id, words, model, SIDES)
