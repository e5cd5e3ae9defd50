"""The load path: walks the links in order and collects what each wrote.

``check(job)`` walks the job as described (the *sound* situation) and every situation the job or the caller names, and
returns one frozen :class:`Result`.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from barrier.basis import Basis, basis_named
from barrier.errors import Fault, JobRefused, UnknownRow
from barrier.job import Job, read_job
from barrier.job.schema import Panel
from barrier.links import NOTHING, HandedOn, Walk, walk_down
from barrier.links.memo import SHARED, Memo
from barrier.links.rail.rail import standing_of
from barrier.links.under_rail import lost_panels
from barrier.result import SOUND, Check, Ending, LinkResult, Situation, Standing, governing
from barrier.tables import Tables
from barrier.value import JobEntry, Value

if TYPE_CHECKING:
    from pandas import DataFrame


@dataclass(frozen=True, eq=False)
class Walked:
    """One situation walked from the hand to the joist: what every link wrote, and what it handed on."""

    situation: Situation
    job: Job
    links: tuple[LinkResult, ...]
    handed_on: HandedOn = NOTHING

    def __repr__(self) -> str:
        """Short: which situation, and how it ends."""
        return f"Walked({self.situation.name!r}: {self.ending}, {len(self.checks)} checks)"

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """All checks in walking order."""
        return tuple(c for link in self.links for c in link.checks)

    @cached_property
    def governing(self) -> Check | None:
        """The required check with the largest utilisation; one that exceeds without a number comes before any number."""
        required = [c for c in self.checks if c.standing is Standing.REQUIRED]
        for c in required:
            if c.ending is Ending.EXCEEDS and c.eta is None:
                return c
        numbered = [c for c in required if c.eta is not None]
        return numbered[governing([c.rank for c in numbered])] if numbered else None

    @cached_property
    def ending(self) -> Ending:
        """Exceeds if a required check does; else not checked if a required one was not; else within."""
        endings = {c.ending for c in self.checks if c.standing is Standing.REQUIRED}
        for e in (Ending.EXCEEDS, Ending.NOT_CHECKED):
            if e in endings:
                return e
        return Ending.WITHIN if endings else Ending.NOT_CHECKED


@dataclass(frozen=True, eq=False)
class Result:
    """The whole answer to a job: the sound situation first, the others beside it."""

    job: Job
    basis: Basis
    tables: Tables
    walked: tuple[Walked, ...]

    def __repr__(self) -> str:
        """Short: what the job is called, how it ends, and what governs."""
        check = self.governing
        return f"Result({self.job.title!r}, {self.basis.key}: {self.ending}, governing {None if check is None else check.id!r})"

    @property
    def sound(self) -> Walked:
        """The job as described."""
        return self.walked[0]

    @property
    def links(self) -> tuple[LinkResult, ...]:
        """Links of the job as described, in walking order."""
        return self.sound.links

    @property
    def handed_on(self) -> HandedOn:
        """What the links of the job as described handed on."""
        return self.sound.handed_on

    @property
    def governing(self) -> Check | None:
        """The governing check of the job as described."""
        return self.sound.governing

    def __getitem__(self, id: str) -> Check:
        """The check of the job as described with this id, ``result["glass.face"]``. Raises UnknownRow with the nearest."""
        by_id = {c.id: c for c in self.sound.checks}
        if id not in by_id:
            raise UnknownRow("the result", "check", id, list(by_id))
        return by_id[id]

    def link(self, id: str) -> LinkResult:
        """The link of the job as described with this id, ``result.link("screws")``. Raises UnknownRow with the nearest."""
        by_id = {link.id: link for link in self.links}
        if id not in by_id:
            raise UnknownRow("the result", "link", id, list(by_id))
        return by_id[id]

    def to_json(self) -> str:
        """The result as JSON, as ``barrier check --format json`` writes it."""
        from barrier.notebook import as_json

        return as_json(self)

    def to_frame(self) -> DataFrame:
        """The checks of every situation as a pandas frame, one row a check, in walking order.

        Columns: situation, link, id, title, ending, standing, utilisation (nan where there is none), demand and resistance
        in base units (N, mm, MPa, rad), where, reason.
        """
        from pandas import DataFrame

        def x(value: Value | None, c: Check) -> float:
            return float("nan") if value is None else value.at(c.station)

        rows = [
            (w.situation.name, link.id, c.id, c.title, str(c.ending), str(c.standing), x(c.utilisation, c), x(c.demand, c),
             x(c.resistance, c), c.where, c.reason)
            for w in self.walked for link in w.links for c in link.checks
        ]  # fmt: skip
        head = ["situation", "link", "id", "title", "ending", "standing", "utilisation", "demand", "resistance", "where", "reason"]
        return DataFrame(rows, columns=head)

    def _repr_html_(self) -> str:
        """What a notebook shows: the first page of the sheet."""
        from barrier.notebook import first_page

        return first_page(self)

    @property
    def ending(self) -> Ending:
        """The worst ending over the sound situation and every situation whose standing is required."""
        counted = [w.ending for w in self.walked if w.situation.standing is Standing.REQUIRED]
        order = (Ending.EXCEEDS, Ending.NOT_CHECKED, Ending.WITHIN)
        return min(counted, key=order.index)


def check(
    job: Job | str | os.PathLike[str], situations: Sequence[Situation] = (), tables: Tables | None = None, memo: Memo = SHARED
) -> Result:
    """Walk a job from the hand to the joist.

    Arguments: ``job`` as read by :func:`barrier.read_job`, or the path of its file; ``situations`` further ones beside those the
    job names; ``tables`` the tables to take figures from, the bundled ones if not given; ``memo`` keeps what other walks
    may ask again (plates, contact of mounts), by default one for the whole process. Returns the frozen result. Raises
    JobRefused when a situation changes an entry to something the job file would not accept. Laminated glass is walked with a
    layer broken as well, for information; a run under a rail that is described with each of its panels lost.

    >>> from barrier.worked import example_path
    >>> check(example_path())["screws.withdrawal.M1"].ending
    <Ending.WITHIN: 'within'>
    """
    if not isinstance(job, Job):
        job = read_job(job)
    folder = job.tables_folder
    tables = tables or Tables(() if folder is None else (folder,))
    basis = basis_named(job.basis, job.national, tables, job.editions.named)
    _known_use(job, basis)
    named = [Situation(s.name, s.set, Standing(s.standing)) for s in job.situations]
    walked = [_walk(job, SOUND, basis, tables, memo)]
    alone = Walk(job, basis, tables, SOUND, memo)
    lost = lost_panels(job, standing_of(alone), basis.lost_panel_as_whole)
    for situation in _with_broken_layers(job, (*named, *lost, *situations)):
        walked.append(_walk(job.with_(dict(situation.changes)), situation, basis, tables, memo))
    return Result(job, basis, tables, tuple(walked))


def as_described(job: Job, tables: Tables, memo: Memo = SHARED) -> Walked:
    """Walk a job as it is described, and nothing beside it: what a question that asks many times needs.

    Arguments: ``job``; ``tables``; ``memo`` what walks of changed copies of one job share, so that what did not change is
    solved once (never across tables or bases). Returns the walk; the checks are those of :func:`check`, bit for bit.
    """
    basis = basis_named(job.basis, job.national, tables, job.editions.named)
    _known_use(job, basis)
    return _walk(job, SOUND, basis, tables, memo)


def robustness(job: Job) -> tuple[Situation, ...]:
    """What is left when something has let go: a clamp of a panel lost, a layer of laminated glass broken.

    Argument: ``job``. Returns situations for :func:`check`, for information; the action is then taken at its
    characteristic size with the basis's factors for such a situation. One clamp is lost at a time: the first of a panel,
    and of three or more the second as well; of a panel on one clamp nothing would be left. A broken layer carries
    nothing and still weighs, the remaining one stands alone.

    >>> from barrier.job.read import job_from_text
    >>> from barrier.worked import example_text
    >>> [s.name for s in robustness(job_from_text(example_text()))]
    ['clamp M1 lost']
    """
    found: list[Situation] = []
    for number, panel in enumerate(job.panels, 1):
        mounts = job.mounts_of(panel)
        for mount in mounts[: 2 if len(mounts) > 2 else 1] if len(mounts) > 1 else ():
            words = "a grub screw works loose or a weld lets go: the glass hangs on what is left, under the characteristic action"
            found.append(Situation(f"clamp {mount.name} lost", {f"mounts.{mount.name}": None}, words=words, after_damage=True))
        for broken in _breaking(panel):
            name = f"layer {broken} of panel {panel.name} broken"
            found.append(Situation(name, _broken(number, panel, broken), words=BROKEN_WORDS, after_damage=True))
    return tuple(found)


BROKEN_WORDS = (
    "a layer is broken and carries nothing: the other stands alone, under the characteristic action; the broken one hangs on it "
    "and weighs where weight adds to a load, and not where it would hold something down"
)


def _broken(number: int, panel: Panel, layer: int) -> dict[str, object]:
    """What a broken layer changes in a job; panel and layer count from one."""
    gone = panel.layers[layer - 1]
    entries = {name: getattr(gone, name) for name in ("nominal", "minimum")}
    weighs = {name: v.origin.text for name, v in entries.items() if v is not None and isinstance(v.origin, JobEntry)}
    still = {f"panels.{number}.broken": [{"glass": gone.glass, **weighs}]} if weighs else {}
    return {f"panels.{number}.layers.{layer}": None, f"panels.{number}.interlayer": None, **still}


def _with_broken_layers(job: Job, situations: Sequence[Situation]) -> Iterator[Situation]:
    """The situations, and a layer of every laminated panel broken where no one of them has it.

    Panels stand each on their own mounts, so one walk breaks a layer of all of them.
    """
    yield from situations
    laminated = [(n, p, _breaking(p)) for n, p in enumerate(job.panels, 1) if _breaking(p)]
    for layer in (1, 2):
        here = [(n, p, layer if layer in which else which[0]) for n, p, which in laminated]
        if not any(layer in which for _, _, which in laminated):
            continue
        name = f"layer {layer} of {f'panel {here[0][1].name}' if len(here) == 1 else 'every laminated panel'} broken"
        changes = {path: value for n, panel, broken in here for path, value in _broken(n, panel, broken).items()}
        if all(s.name != name for s in situations):
            yield Situation(name, changes, words=BROKEN_WORDS, after_damage=True, asked=False)


def _breaking(panel: Panel) -> tuple[int, ...]:
    """Numbers of the layers to break, one at a time; of two equal ones the first."""
    if len(panel.layers) != 2:
        return ()

    def mm(value: Value | None) -> float | None:
        return None if value is None else float(value.x)

    kinds = [(layer.glass, mm(layer.nominal), mm(layer.minimum)) for layer in panel.layers]
    return (1,) if kinds[0] == kinds[1] else (1, 2)


def _known_use(job: Job, basis: Basis) -> None:
    """Refuse a use of the building that the load table does not have, before anything is walked."""
    if job.national and job.national not in basis.nationals:
        known = ", ".join(basis.nationals) or "none in this basis"
        text = f'= "{job.national}" is no national load table of the {basis.title}; known: {known}'
        raise JobRefused(job.file, (Fault("national", text, job.entry("national").line),))
    for what, name in job.editions.named.items():
        try:
            basis.edition(what)
        except UnknownRow as fault:
            known = ", ".join(fault.known) or ("none without a national table" if basis.nationals and not job.national else "none")
            text = f'= "{name}" is no edition of the {what} of the {basis.title} in these tables; known: {known}'
            raise JobRefused(job.file, (Fault(f"editions.{what}", text, job.entry(f"editions.{what}").line),)) from None
    duration = job.loads.duration
    if duration is not None and duration not in basis.durations:
        text = f'= "{duration}" is no duration of the {basis.title}; use one of {", ".join(basis.durations)}'
        raise JobRefused(job.file, (Fault("loads.duration", text, job.entry("loads.duration").line),))
    if duration is not None and duration != basis.strength("barrier").duration and not job.loads.reference:
        text = f'= "{duration}" is not the duration this basis takes and needs a reason; write loads.reference'
        raise JobRefused(job.file, (Fault("loads.duration", text, job.entry("loads.duration").line),))
    if job.loads.with_wind == "together" and not basis.at_once(basis.strength("barrier"), basis.strength("wind")):
        text = f'= "together" has no combination in the {basis.title}: {basis.at_once_words}; take the entry out'
        raise JobRefused(job.file, (Fault("loads.with_wind", text, job.entry("loads.with_wind").line),))
    try:
        basis.actions(job.site.use)
    except UnknownRow as fault:
        raise JobRefused(job.file, (Fault("site.use", str(fault), job.entry("site.use").line),)) from fault


def _walk(job: Job, situation: Situation, basis: Basis, tables: Tables, memo: Memo) -> Walked:
    walk = Walk(job, basis, tables, situation, memo)
    links, handed_on = walk_down(walk)
    return Walked(situation, job, links, handed_on)
