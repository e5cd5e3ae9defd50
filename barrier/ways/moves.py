"""What a practitioner can change on a job: glass, panel, clamps, plate, screws, blocking, its ends; each as changes to the file.

No rating is made up. Where ends of blocking go into brackets, they hold whatever comes (:data:`AMPLE`) until a way is found; what
they would have to hold is then found from the checks (:mod:`barrier.ways.demands`) and is a demand, not a product.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from barrier.job import Job
from barrier.job.schema import Mount
from barrier.job.written import Items, Section, plain
from barrier.tables import Tables
from barrier.ways.setting import Changes, set_

GLASS_TABLES = {"en": "glass_thickness_en572", "au": "glass_thickness_as1288", "us": "glass_thickness_astm_c1036"}
AMPLE = {"uplift": "150 kN", "down": "150 kN", "sideways": "150 kN", "torque": "50 kN m"}
DEMAND = "a demand found by calculation, no product"
GIVES = {
    "stiffness": "10 kN/mm",
    "turning_stiffness": "20 kN m/rad",
}  # asked of a bracket beside what it holds, where the job does not say
KEPT = ("stiffness", "turning_stiffness", "highest", "lowest")  # of a bracket the job has
BRACKETS = "brackets"
WIDEST = 400.0  # mm, of a piece of blocking the job file takes


@dataclass(frozen=True, slots=True)
class Scale:
    """A change by degrees: ``at`` gives the changes for a size from ``low`` (that of the job) to ``high``, in steps of ``step``."""

    low: float
    high: float
    step: float
    at: Callable[[float], Changes]
    what: str


@dataclass(frozen=True, slots=True)
class Move:
    """One change: its name, what it touches (moves that touch the same thing are not made together), its entries, its degrees."""

    name: str
    touches: frozenset[str]
    changes: Changes
    scale: Scale | None = None


def moves_of(job: Job, tables: Tables) -> tuple[Move, ...]:
    """Every change that is looked at for a job, from the glass down to the ends of the blocking."""
    return tuple(m for make in MAKERS for m in make(job, tables))


# ---------------------------------------------------------------- glass and panel


def glass_of(job: Job, tables: Tables) -> list[tuple[str, float]]:
    """Thicknesses of glass in the table of the job's basis: name and nominal mm, thin to thick."""
    name = GLASS_TABLES.get(job.basis)
    if name is None:
        return []
    sized = [(key, tables.value(name, key, "nominal")) for key in tables.table(name).keys]
    return sorted(((key, float(x.x)) for key, x in sized), key=lambda row: row[1])


def with_glass(job: Job, thickness: str) -> Changes:
    """Every layer of every panel at a nominal thickness, the minimum from the table."""
    return {
        f"panels.{n}.layers.{i}.{key}": value
        for n, p in enumerate(job.panels, 1)
        for i, _ in enumerate(p.layers, 1)
        for key, value in (("nominal", thickness), ("minimum", None))
    }


def _glass(job: Job, tables: Tables) -> Iterator[Move]:
    has = max((float(layer.nominal.x) for p in job.panels for layer in p.layers if layer.nominal is not None), default=0.0)
    many = " in every layer" if any(len(p.layers) > 1 for p in job.panels) else ""
    for name, nominal in glass_of(job, tables):
        if nominal > has + 0.5:
            yield Move(f"glass of {name}{many}", frozenset({"glass"}), with_glass(job, name))


def _panel(job: Job, tables: Tables) -> Iterator[Move]:
    if len(job.panels) != 1:
        return
    panel = job.panels[0]
    width, height = float(panel.width.x), float(panel.height.x)

    def narrower(x: float) -> Changes:
        return set_(job, {f"panels.{panel.name}.width": _mm(x)}).everything

    def lower(x: float) -> Changes:
        return set_(job, {f"panels.{panel.name}.height": _mm(x)}).everything

    for share in (0.8, 0.6):
        low = _to(width * share, 50)
        scale = Scale(width, low, 10.0, narrower, "width of the panel")
        yield Move(f"panel {_mm(low)} wide", frozenset({"width", "mounts"}), narrower(low), scale)
    low = _to(height - 150, 10)
    yield Move(f"glass {_mm(low)} high", frozenset({"height"}), lower(low), Scale(height, low, 10.0, lower, "height of the glass"))


# ---------------------------------------------------------------- mounts


def _mounts(job: Job, tables: Tables) -> Iterator[Move]:
    if len(job.panels) != 1 or len(job.mounts) != 2:
        return
    width = float(job.panels[0].width.x)
    left, right = sorted(job.mounts, key=lambda m: float(m.x.x))
    for share in (0.2, 0.25):
        if abs(float(left.x.x) - share * width) > 5:
            changes: Changes = {f"mounts.{left.name}.x": _mm(share * width), f"mounts.{right.name}.x": _mm((1 - share) * width)}
            yield Move(f"mounts at {share:g} of the width from the ends", frozenset({"mounts"}), changes)
    source = job._origin.source.get("mounts")
    if isinstance(source, Items):
        third = {**plain(source[0]), "name": "M-middle", "x": _mm(width / 2)}
        changes = {}
        if left.blocking:
            changes["blocking.B-middle"] = {"same_as": _first(job)}
            third["blocking"] = "B-middle"
        changes["mounts"] = [*plain(source), third]
        yield Move("a third mount in the middle", frozenset({"mounts"}), changes)


def roots(job: Job) -> list[tuple[str, Mount]]:
    """Where the file describes what mounts are: their types, or each mount; with one mount of it."""
    types = job._origin.source.get("mount_types")
    known = types if isinstance(types, Section) else {}
    found: dict[str, Mount] = {}
    for m in job.mounts:
        found.setdefault(f"mount_types.{m.type}" if m.type in known else f"mounts.{m.name}", m)
    return list(found.items())


def _plate(job: Job, tables: Tables) -> Iterator[Move]:
    def alone(by: float) -> Changes:
        return {
            f"{root}.plate.{key}": _mm(_to(float(getattr(m.plate, key).x) * by, 1))
            for root, m in roots(job)
            for key in ("along", "across")
        }

    def larger(by: float) -> Changes:
        changes = alone(by)
        for root, m in roots(job):
            for s in m.screws:
                changes[f"{root}.screws.{s.name}.x"] = _mm(_to(float(s.x.x) * by, 1))
                changes[f"{root}.screws.{s.name}.y"] = _mm(_to(float(s.y.x) * by, 1))
        return changes

    what = "times the size of the base plate"
    for words, at in (("its screws moved out with it", larger), ("its screws where they are", alone)):
        name = f"base plate half as large again both ways, {words}"
        yield Move(name, frozenset({"plate"}), at(1.5), Scale(1.0, 1.5, 0.05, at, what))


LINER = 20.0  # N/mm3, a stiff rubber; a demand on the liner and no product


def _liner(job: Job, tables: Tables) -> Iterator[Move]:
    soft = [p for _, m in roots(job) for p in m.pads if float(p.stiffness_low.x) < LINER and not p.hard]
    if not soft:
        return
    changes: Changes = {}
    for root, m in roots(job):
        for i, p in enumerate(m.pads, 1):
            for key in ("stiffness_low", "stiffness"):
                if float(getattr(p, key).x) < LINER:
                    changes[f"{root}.pads.{i}.{key}"] = f"{LINER:g} N/mm3"
    yield Move(f"a liner known to be no softer than {LINER:g} N/mm³", frozenset({"liner"}), changes)


def _clamp(job: Job, tables: Tables) -> Iterator[Move]:
    def deeper(by: float) -> Changes:
        return {
            f"{root}.pads.{i}.top": _mm(_to(float(p.bottom.x) + by * (float(p.top.x) - float(p.bottom.x)), 1))
            for root, m in roots(job)
            for i, p in enumerate(m.pads, 1)
        }

    if all(len(m.pads) == 1 for m in job.mounts):
        scale = Scale(1.0, 1.5, 0.05, deeper, "times the depth of glass in the clamp")
        yield Move("clamps half as deep again, pads with them", frozenset({"clamp"}), deeper(1.5), scale)


# ---------------------------------------------------------------- screws


def _screws(job: Job, tables: Tables) -> Iterator[Move]:
    lengths = [None if m.screw.length is None else float(m.screw.length.x) for _, m in roots(job)]
    room = min((float(b.depth.x) for b in job.blocking.values()), default=0.0) + float(job.decking.thickness.x) - 10.0
    if all(x is not None for x in lengths) and job.blocking:
        has = max(x for x in lengths if x is not None)
        most = _to(min(1.8 * has, room), 10)

        def longer(x: float) -> Changes:
            changes: Changes = {}
            for root, m in roots(job):
                changes[f"{root}.screw.length"] = _mm(x)
                if m.screw.threaded is not None and m.screw.length is not None:
                    changes[f"{root}.screw.threaded"] = _mm(float(m.screw.threaded.x) + x - float(m.screw.length.x))
            return changes

        if most > has + 5:
            yield Move(
                f"screws {_mm(most)} long, the added length threaded", frozenset({"screws"}), longer(most),
                Scale(has, most, 10.0, longer, "length of the screws"),
            )  # fmt: skip
    changes: Changes = {}
    for root, m in roots(job):
        d = None if m.screw.diameter is None else float(m.screw.diameter.x)
        if d is None:
            return
        changes[f"{root}.screw.diameter"] = _mm(d + 2)
        for key in ("root", "head"):
            value = getattr(m.screw, key)
            if value is not None:
                changes[f"{root}.screw.{key}"] = _mm(_to(float(value.x) * (d + 2) / d, 0.1))
    yield Move("screws 2 mm thicker, root and head in proportion", frozenset({"diameter"}), changes)


# ---------------------------------------------------------------- blocking and its ends


def _first(job: Job) -> str:
    return next((str(m.blocking) for m in job.mounts if m.blocking), next(iter(job.blocking), ""))


def used(job: Job) -> list[str]:
    """The blocking that mounts stand on, each once."""
    return list(dict.fromkeys(str(m.blocking) for m in job.mounts if m.blocking))


def _wood(job: Job, tables: Tables) -> Iterator[Move]:
    if not used(job):
        return
    one = job.blocking[_first(job)]
    whole = one.pieces * float(one.width.x)

    def solid(width: float) -> Changes:
        changes: Changes = {}
        for b in used(job):
            changes.update({f"blocking.{b}.{k}": v for k, v in (("pieces", 1), ("laminated", "loose"), ("ties", None))})
            changes[f"blocking.{b}.width"] = _mm(width)
        return changes

    if one.pieces > 1:
        yield Move(f"one solid section {_mm(whole)} wide", frozenset({"wood"}), solid(whole))
        pieces: Changes = {f"blocking.{b}.pieces": one.pieces - 1 for b in used(job)}
        yield Move("one loose piece fewer", frozenset({"wood"}), pieces)
    for share in (1.5, 2.0):
        wide = min(_to(share * whole, 5), WIDEST)
        if wide > whole + 1:
            scale = Scale(whole, wide, 5.0, solid, "width of the solid section")
            yield Move(f"one solid section {_mm(wide)} wide", frozenset({"wood"}), solid(wide), scale)
    yield Move("one loose piece more", frozenset({"wood"}), {f"blocking.{b}.pieces": one.pieces + 1 for b in used(job)})


def brackets(job: Job, holds: dict[str, str] | None = None) -> Changes:
    """Every end of the blocking in brackets that hold so much (characteristic), and give as little as the job says or GIVES."""
    changes: Changes = {}
    for b in used(job):
        depth = float(job.blocking[b].depth.x)
        for side in ("left", "right"):
            own = getattr(job.blocking[b], side)
            kept: dict[str, str] = dict(GIVES)
            if own is not None and own.fixing == "bracket":
                kept = {k: getattr(own, k).origin.text for k in KEPT if getattr(own, k)}
            # A shoe that takes the whole depth, where the job has no bracket to go by.
            changes[f"blocking.{b}.{side}"] = {
                "fixing": "bracket", **(holds or AMPLE), "highest": _mm(depth), "lowest": _mm(depth), **kept,
                "meaning": "characteristic", "reference": DEMAND,
            }  # fmt: skip
    return changes


def _ends(job: Job, tables: Tables) -> Iterator[Move]:
    if not used(job):
        return
    own = [getattr(job.blocking[b], side) for b in used(job) for side in ("left", "right")]
    has = all(e is not None and e.fixing == "bracket" for e in own)
    name = "brackets that hold more at the ends of the blocking" if has else "the ends of the blocking in brackets"
    yield Move(name, frozenset({BRACKETS}), brackets(job))


Maker = Callable[[Job, Tables], Iterator[Move]]
MAKERS: tuple[Maker, ...] = (_glass, _panel, _mounts, _clamp, _liner, _plate, _screws, _wood, _ends)


def _mm(x: float) -> str:
    return f"{round(x, 2):.12g} mm"


def _to(x: float, step: float) -> float:
    return round(x / step) * step
