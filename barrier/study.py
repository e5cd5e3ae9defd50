"""Questions that ask a job many times: the ladder of blocking, and the faults of the site.

Both walk changed copies of the job (:meth:`barrier.job.Job.with_`) and keep the walks; the pages that show them are the
business of the sheet. No capacity is made up for them: where an end is put in a bracket and the job states no rating, the
end stays *not checked*, its rung is called so, and its demand says what a rating would have to reach.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from barrier.errors import JobRefused
from barrier.job import Job
from barrier.job.quantity import parse
from barrier.load_path import Result, Walked, check, robustness
from barrier.notebook import first_page
from barrier.result import Situation, Standing
from barrier.tables import Tables

Changes = dict[str, object]


@dataclass(frozen=True, slots=True)
class NotRun:
    """A rung or fault that could not be walked, and why."""

    name: str
    why: str


@dataclass(frozen=True, eq=False)
class Study:
    """A job, what was changed in it one thing at a time, and what could not be; ``kind`` is "ladder" or "faults"."""

    result: Result
    walked: tuple[Walked, ...]
    not_run: tuple[NotRun, ...]
    kind: str = "ladder"

    def _repr_html_(self) -> str:
        """What a notebook shows: the page of the study."""
        return first_page(self)


# ---------------------------------------------------------------- the ladder


def ladder(job: Job, tables: Tables | None = None) -> Study:
    """Walk a job on decking only, on one, two, three loose pieces and on one solid section, with plain ends and in brackets.

    Arguments: ``job``; ``tables`` as for :func:`barrier.load_path.check`. Returns the walks in the order of the rungs.
    """
    return _study("ladder", job, list(_rungs(job)), list(_no_rungs(job)), tables)


def _no_rungs(job: Job) -> Iterator[NotRun]:
    if not _stand(job):
        yield NotRun(
            "pieces of blocking",
            "the job describes no blocking; write one ([blocking.B1]) to see what it would do, the mounts need not stand on it",
        )


def _rungs(job: Job) -> Iterator[tuple[str, Changes, str]]:
    mounts = [m.name for m in job.mounts]
    boards: Changes = {f"mounts.{m}.support": "decking only" for m in mounts}
    boards.update({f"mounts.{m}.blocking": None for m in mounts})
    yield "decking only", boards, "the screws hold in the board and nowhere else; the board bends and twists between the joists"
    if not _stand(job):
        return
    for count, name in ((1, "one piece"), (2, "two loose pieces"), (3, "three loose pieces"), (0, "one solid section")):
        for ends in (PLAIN_ENDS, bracket_ends(job)):
            changes = {**_stand(job), **_ends(job, ends == PLAIN_ENDS)}
            changes.update(_pieces(job, count) if count else _solid(job))
            words = WORDS[count] if ends == PLAIN_ENDS else "the same wood, its ends in brackets"
            yield f"{name}, {ends}", changes, words


PLAIN_ENDS, RATED_ENDS = "plain ends", "rated ends"
SOME_RATED, UNRATED_ENDS = "bracket ends, not all rated", "bracket ends, no rating given"


def bracket_ends(job: Job) -> str:
    """What ends in brackets are called on a rung: rated only where the job states a rating for each of them."""
    rated = _rated(job)
    if rated and all(rated):
        return RATED_ENDS
    return SOME_RATED if any(rated) else UNRATED_ENDS


def wood_and_ends(rung: str) -> tuple[str, str]:
    """The two halves of the name of a rung; boards have no ends.

    >>> wood_and_ends("one piece, bracket ends, no rating given"), wood_and_ends("decking only")
    (('one piece', 'bracket ends, no rating given'), ('decking only', ''))
    """
    wood, _, ends = rung.partition(", ")
    return wood, ends


WORDS = {
    1: "only screws that reach the piece hold; one that stands beside it holds nothing",
    2: "one row of screws pulls one piece up, the plate presses the other down; each hangs on its own end fixings",
    3: "wider blocking does not make a screw grip harder; pieces count one by one, and the outer two take most of the pull",
    0: "wood in one piece lets a screw stand clear of an edge; the end fixings have to hold the whole torque",
}


def _stand(job: Job) -> Changes:
    """Every mount on blocking: its own, or where it has none, one like the first the job describes."""
    changes: Changes = {}
    for m in job.mounts if job.blocking else ():
        first = next(iter(job.blocking))
        own = str(m.blocking) if m.blocking else f"{first}-{m.name}"
        if not m.blocking:
            changes[f"blocking.{own}"] = {"same_as": first}
        changes[f"mounts.{m.name}.support"] = "blocking"
        changes[f"mounts.{m.name}.blocking"] = own
    return changes


def _blocks(job: Job) -> list[str]:
    """The blocking of the job the mounts stand on, or would stand on one like it."""
    first = next(iter(job.blocking), "")
    return list(dict.fromkeys(str(m.blocking) if m.blocking else first for m in job.mounts)) if job.blocking else []


def _pieces(job: Job, count: int) -> Changes:
    changes: Changes = {}
    for b in _blocks(job):
        changes.update({f"blocking.{b}.pieces": count, f"blocking.{b}.laminated": "loose", f"blocking.{b}.ties": None})
    return changes


def _solid(job: Job) -> Changes:
    changes = _pieces(job, 1)
    for b in _blocks(job):
        # Three pieces wide: what the same stack would be in one.
        changes[f"blocking.{b}.width"] = f"{3 * float(job.blocking[b].width.x):g} mm"
    return changes


PLAIN: Mapping[str, object] = {"fixing": "nails", "number": 2, "diameter": "3.1 mm", "length": "90 mm", "grain": "end"}
UNRATED: Mapping[str, object] = {"fixing": "bracket"}


def _rated(job: Job) -> list[bool]:
    """Of every end of the job's blocking, whether it is a bracket with a rating."""
    ends = [getattr(job.blocking[b], side) for b in _blocks(job) for side in ("left", "right")]
    return [e is not None and e.fixing == "bracket" and bool(e.uplift or e.down or e.torque) for e in ends]


def _ends(job: Job, plain: bool) -> Changes:
    """End fixings of every blocking: nailed into end grain, or brackets with the ratings the job states, if any."""
    changes: Changes = {}
    for b in _blocks(job):
        for side in ("left", "right"):
            own = getattr(job.blocking[b], side)
            if plain:
                changes[f"blocking.{b}.{side}"] = dict(PLAIN)
            elif own is None or own.fixing != "bracket":
                changes[f"blocking.{b}.{side}"] = dict(UNRATED)
    return changes


# ---------------------------------------------------------------- faults of the site


def faults(job: Job, tables: Tables | None = None) -> Study:
    """Walk a job with the usual mistakes of a site, one at a time, each beside the job as described.

    Last come a clamp lost and a layer of laminated glass broken, under the action at its characteristic size.
    Arguments: ``job``; ``tables`` as for :func:`barrier.load_path.check`. Returns the walks, and what could not be run.
    """
    wanted, not_run = [], list(_cannot(job))
    for name, changes, words in _mistakes(job):
        if isinstance(changes, str):
            not_run.append(NotRun(name, changes))
        else:
            wanted.append((name, changes, words))
    after = robustness(job)
    if not any(s.name.startswith("clamp") for s in after):
        not_run.append(NotRun("a clamp lost", "every panel stands in one clamp"))
    return _study("faults", job, wanted, not_run, tables, after)


# How large the mistakes are, in the units of the job: boards off the blocking, a mount off its mark, a packer, a grub screw.
SIZES = {
    "metric": {"gap": "3 mm", "off": "30 mm", "packer": "3 mm", "tip": "12 mm"},
    "us": {"gap": "1/8 in", "off": "1 1/4 in", "packer": "1/8 in", "tip": "1/2 in"},
}


def _mm(text: str) -> float:
    x = parse(text, "length")
    assert isinstance(x, float), x
    return x


def _mistakes(job: Job) -> Iterator[tuple[str, Changes | str, str]]:
    """Name, changes (or why there are none), and plain words."""
    mount = job.mounts[0]
    m = mount.name
    people = [s.name for s in mount.screws if float(s.y.x) < 0 and s.present]
    one: Changes | str = (
        {f"mounts.{m}.screws.{people[0]}.present": False} if people else "the mount has no screw on the people side"
    )
    yield f"one screw of {m} off the timber", one, "one screw of the pulling row holds nothing; its neighbour takes all"
    both: Changes | str = (
        {f"mounts.{m}.screws.{s}.present": False for s in people} if len(people) > 1 else "there is one screw only"
    )
    yield f"people-side screws of {m} off the timber", both, "the row that pulls when somebody leans outward holds nothing"
    yield (
        "screws a third shorter",
        _shorter(job),
        "less thread in the blocking: withdrawal goes down with it, or out of the range of the code",
    )
    end: Changes | str = {f"mounts.{m}.grain": "end"} if mount.grain == "side" else "the job has it already, so its figures hold it"
    fibres = "in a piece that stands on end the screw lies along the fibres; codes credit it there with little or nothing"
    yield f"screws of {m} into end grain", end, fibres
    sizes = SIZES[job.units]
    yield (
        f"boards {sizes['gap']} clear of the blocking",
        {"decking.gap_under": sizes["gap"]},
        "the mount tips through the gap before anything resists",
    )
    yield f"one packer on the drop side of {m}", _packer(job), "the plate bears on the packer alone: a shorter lever, a harder pull"
    yield "blocking unfixed at the left end", _unfixed(job), "nothing is credited that holds that end"
    yield f"no spreader plate in {m}", _no_spreader(job), "the pad works on the tip of the grub screw alone"
    wet: Changes | str = (
        {"site.service_class": 3}
        if job.site.service_class != 3
        else "the job has wet timber already (service class 3), so its figures hold it"
    )
    yield "wet timber", wet, "wet timber is weaker in everything"
    yield (
        f"{m} stands {sizes['off']} off its mark",
        {f"mounts.{m}.offset": f"{float(mount.offset.x) + _mm(sizes['off']):.12g} mm"},
        ("the plate hangs over the blocking on one side, and screws come near an edge or a joint"),
    )
    yield f"glass not to full depth in {m}", _shallow(job), "less glass in the clamp: the same moment on a shorter lever"


def _cannot(job: Job) -> Iterator[NotRun]:
    yield NotRun("drilled mount", "no figure exists: drilling a solid mount voids its rating")


def _shorter(job: Job) -> Changes | str:
    changes: Changes = {}
    for m in job.mounts:
        if m.screw.length is None:
            return f"nobody knows how long the screws of {m.name} are"
        length = 2 / 3 * float(m.screw.length.x)
        changes[f"mounts.{m.name}.screw.length"] = f"{length:.1f} mm"
        if m.screw.threaded is not None:
            changes[f"mounts.{m.name}.screw.threaded"] = f"{min(float(m.screw.threaded.x), length):.1f} mm"
    return changes


def _packer(job: Job) -> Changes:
    plate = job.mounts[0].plate
    a, b = float(plate.along.x), float(plate.across.x)
    packer = {
        "x": "0 mm",
        "y": f"{b / 2 - b / 6:.1f} mm",
        "along": f"{a / 2:.1f} mm",
        "across": f"{b / 3:.1f} mm",
        "thickness": SIZES[job.units]["packer"],
    }
    return {f"mounts.{job.mounts[0].name}.packers": [packer]}


def _unfixed(job: Job) -> Changes | str:
    blocks = [str(m.blocking) for m in job.mounts if m.blocking]
    return {f"blocking.{blocks[0]}.left": {"fixing": "none"}} if blocks else "there is no blocking"


def _no_spreader(job: Job) -> Changes:
    mount = job.mounts[0]
    pad = mount.pads[0]
    middle = (float(pad.bottom.x) + float(pad.top.x)) / 2
    half = _mm(SIZES[job.units]["tip"]) / 2
    tip = {"width": SIZES[job.units]["tip"], "bottom": f"{middle - half:.1f} mm", "top": f"{middle + half:.1f} mm"}
    return {f"mounts.{mount.name}.pads": [tip], f"mounts.{mount.name}.spreader": False}


def _shallow(job: Job) -> Changes:
    mount = job.mounts[0]
    changes: Changes = {}
    for i, pad in enumerate(mount.pads, 1):
        depth = float(pad.top.x) - float(pad.bottom.x)
        changes[f"mounts.{mount.name}.pads.{i}.top"] = f"{float(pad.top.x) - depth / 3:.1f} mm"
    return changes


# ---------------------------------------------------------------- walking them


def _study(
    kind: str,
    job: Job,
    wanted: list[tuple[str, Changes, str]],
    not_run: list[NotRun],
    tables: Tables | None,
    after: tuple[Situation, ...] = (),
) -> Study:
    situations = []
    for name, changes, words in wanted:
        try:
            job.with_(changes)
        except JobRefused as refused:
            not_run.append(NotRun(name, "; ".join(f"{f.key} {f.text}" for f in refused.faults[:2])))
            continue
        situations.append(Situation(name, changes, Standing.INFORMATION, words))
    situations.extend(after)
    result = check(job, situations, tables)
    own = len(result.walked) - len(situations)  # the job as described, and the situations it names itself
    return Study(result, result.walked[own:], tuple(not_run), kind)
