"""The job in a few lines: panels, load, mounts, screws, wood, every size a token. The front and the teaching pages share it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from barrier.job import Job
from barrier.job.schema import EndFixing, Mount, Rail
from barrier.links.loads.cases import Case
from barrier.load_path import Result
from barrier.result import Ending
from barrier.sheet.blocks import Inline, Line, Token
from barrier.sheet.drawings.facts import cases
from barrier.sheet.numbers import NOT_MEASURED

Row = tuple[str, Line]


def panels(job: Job) -> Line:
    """Every panel with its size, its glass and its mounts."""
    return tuple(_panels(job))


def _panels(job: Job) -> Iterator[Inline]:
    for i, panel in enumerate(job.panels):
        mounts = ", ".join(m.name for m in job.mounts_of(panel))
        yield f"{'; ' if i else ''}{panel.name} "
        yield Token(panel.width)
        yield " wide, "
        yield Token(panel.height)
        yield " high, "
        for j, layer in enumerate(panel.layers):
            glass = mark(job, f"panels.{i + 1}.layers.{j + 1}.glass") + layer.glass
            yield " + " if j else ""
            if layer.nominal is not None:
                yield Token(layer.nominal)
            yield f" {glass}" if layer.nominal is not None else f"{glass} of unknown thickness"
        yield f", on {mounts}"


def mark(job: Job, path: str) -> str:
    """The mark before a word of the job file that was assumed there."""
    return NOT_MEASURED if job.entry(path).assumed else ""


def _rail(rail: Rail) -> Iterator[Inline]:
    """The rail: its section, what it lies on, its joints and its ends."""
    sizes = [v for v in (rail.across, rail.depth, rail.wall) if v is not None]
    yield f"{rail.shape} " if rail.shape is not None else "section by its figures"
    for i, size in enumerate(sizes):
        yield " by " if i else ""
        yield Token(size)
    yield f", of {rail.material}" if rail.material is not None else ""
    yield f"; over {rail.panels} panels in one line" if rail.panels is not None else "; over the panels named here"
    if rail.between is not None:
        yield ", gaps of "
        yield Token(rail.between)
    yield "; joints at " if rail.splices else "; no joint" if rail.continuous else "; joints not known"
    for i, splice in enumerate(rail.splices):
        yield ", " if i else ""
        yield Token(splice.at)
    for side, end in (("left", rail.left), ("right", rail.right)):
        yield f"; {side} end: {end.fixing if end is not None and end.fixing is not None else 'not known'}"


def standing(result: Result) -> tuple[Row, ...]:
    """What a page of changed copies of a job stands on: glass, load, clamps, screws, decking and what is beneath."""
    job = result.job
    rows: list[Row] = [("Panels", panels(job)), ("Load", _load(result))]
    if job.rail is not None and any(p.rail != "none" for p in job.panels):
        rows.append(("Rail", tuple(_rail(job.rail))))
    rows.append(("Clamps", _each(job, job.mounts, _clamp)))
    rows.append(("Screws", _each(job, job.mounts, _screws)))
    rows.append(("Decking", tuple(_decking(job))))
    if job.blocking:
        used = [b for b in job.blocking if any(m.blocking == b for m in job.mounts)]
        line = _grouped(job, [(b, tuple(_blocking(job, b))) for b in used or job.blocking])
        rows.append(("Blocking", line if used else (*line, "; no mount stands on it as described")))
    else:
        rows.append(("Blocking", ("none is described",)))
    rows.append(("Place", (_place(job),)))
    return tuple(rows)


def joists(job: Job) -> Line:
    """The joists under the mounts: section, timber, spacing, span; what is not known of them is left out."""
    return tuple(_joists(job))


def _joists(job: Job) -> Iterator[Inline]:
    asked = job.joists
    if asked.width is not None and asked.depth is not None:
        yield Token(asked.width)
        yield " by "
        yield Token(asked.depth)
    else:
        yield "section not known"
    yield f"{_timber(job, asked.material, 'joists')}, every "
    yield Token(asked.spacing)
    yield f", {asked.direction} the glass" if asked.direction is not None else ""
    if asked.span is not None:
        yield ", spanning "
        yield Token(asked.span)
    if float(asked.overhang.x):
        yield ", on by "
        yield Token(asked.overhang)


def _place(job: Job) -> str:
    """Where the barrier stands, as far as strengths depend on it."""
    site = job.site
    out = "outdoors" if site.outdoors else "indoors"
    return f"{out}, use {site.use}; service class {site.service_class} of the timber"


def line_case(result: Result) -> Case | None:
    """The line load on the first panel that has one that decides, else its first case that does; None where there is none."""
    found = [c for p in result.job.panels for c in cases(result.sound, p) if c.action.required]
    return next((c for c in found if c.action.kind == "line"), found[0] if found else None)


def _load(result: Result) -> Line:
    case = line_case(result)
    if case is None:
        why = next(
            (c.reason for c in result.sound.checks if c.about.key == ("actions", "barrier") and c.ending is Ending.NOT_CHECKED), ""
        )
        return (f"NOT CHECKED{': ' + why if why else ''}",)
    others = {c.action.title for p in result.job.panels for c in cases(result.sound, p) if c.action.required} - {case.action.title}
    more = "; the other loads of the code are calculated as well" if others else ""
    return (
        f"{case.title} ", Token(case.action.size), ", ", Token(case.height), " above the bottom edge of the glass, times ",
        Token(case.strength.factor), f" where strength is compared ({case.strength.level} level; {case.action.source}){more}",
    )  # fmt: skip


def _each(job: Job, mounts: Sequence[Mount], told: Callable[[Mount], Iterator[Inline]]) -> Line:
    return _grouped(job, [(m.name, tuple(told(m))) for m in mounts])


def _grouped(job: Job, told: Sequence[tuple[str, Line]]) -> Line:
    """What is printed alike is printed once, with the names of all it is about."""
    groups: dict[str, tuple[list[str], Line]] = {}
    for name, line in told:
        text = "".join(p.figure(job.units).text if isinstance(p, Token) else str(p) for p in line)
        groups.setdefault(text, ([], line))[0].append(name)
    found: list[Inline] = []
    for names, line in groups.values():
        found += ["; " if found else "", f"{', '.join(names)}: ", *line]
    return tuple(found)


def _clamp(m: Mount) -> Iterator[Inline]:
    yield "base plate "
    yield Token(m.plate.along)
    yield " by "
    yield Token(m.plate.across)
    for i, pad in enumerate(m.pads):
        yield f"{', ' if i else '; pads '}"
        yield Token(pad.width)
        yield " wide, from "
        yield Token(pad.bottom)
        yield " to "
        yield Token(pad.top)
        yield " above the bottom edge of the glass"


def _screws(m: Mount) -> Iterator[Inline]:
    yield f"{sum(s.present for s in m.screws)} of "
    yield Token(m.screw.diameter)
    if m.screw.length is not None:
        yield " by "
        yield Token(m.screw.length)
    else:
        yield ", their length NOT KNOWN"
    if m.screw.threaded is not None:
        yield ", threaded over "
        yield Token(m.screw.threaded)
    if m.grain == "end":
        yield ", in end grain"


def _decking(job: Job) -> Iterator[Inline]:
    yield Token(job.decking.thickness)
    yield f"{_timber(job, job.decking.material, 'decking')}, "
    if job.decking.gap_under is None:
        yield "the gap beneath NOT KNOWN"
    elif float(job.decking.gap_under.x) == 0.0:
        yield "tight on what is beneath"
    else:
        yield Token(job.decking.gap_under)
        yield " clear of what is beneath"


def _blocking(job: Job, name: str) -> Iterator[Inline]:
    block, path = job.blocking[name], f"blocking.{name}"
    count, said = int(block.pieces), mark(job, f"{path}.laminated")
    counted = mark(job, f"{path}.pieces")
    many = f" {said}loose pieces, each " if block.laminated == "loose" else f" pieces {said}laminated in a factory, each "
    yield f"{counted}one piece " if count == 1 else f"{counted}{count}{many}"
    yield Token(block.laid_breadth)
    yield " wide, "
    yield Token(block.laid_depth)
    yield " deep, "
    yield Token(block.length)
    yield f" long{_timber(job, block.material, path)}, ends: "
    left, right = (tuple(_end(job, e, f"{path}.{at}")) for e, at in ((block.left, "left"), (block.right, "right")))
    yield from _grouped(job, [("left", left), ("right", right)])


def _end(job: Job, fixing: EndFixing | None, path: str) -> Iterator[Inline]:
    if fixing is None:
        yield "not said"
        return
    yield mark(job, f"{path}.fixing") + {"none": "nothing", "unknown": "NOT KNOWN"}.get(fixing.fixing, fixing.fixing)
    if fixing.fixing not in ("nails", "screws"):
        return
    yield f" in {fixing.grain} grain"
    if fixing.number is not None:
        yield f", {mark(job, f'{path}.number')}{fixing.number} for each piece"
    for word, size in ((" of ", fixing.diameter), (" by ", fixing.length)):
        if size is not None:
            yield word
            yield Token(size)


def _timber(job: Job, material: dict[str, str], path: str) -> str:
    name = material.get(job.basis)
    return f" of {mark(job, f'{path}.material.{job.basis}')}{name}" if name else ", timber not named for this basis"
