"""A run set out: its sides, what does not go together, its distinct conditions. Reads no loads and checks nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from barrier.job import Job
from barrier.job.run_file import RunFile
from barrier.job.schema import Blocking
from barrier.run import conflicts as look
from barrier.run import moves
from barrier.run.bays import Fixing
from barrier.run.conflicts import Conflict
from barrier.run.side import Panel, Piece, SideSet
from barrier.whole_run import rails, singles
from barrier.whole_run.conditions import Condition, conditions_of
from barrier.whole_run.from_file import breadths, fixing_of, limits_of, masses_of, side_of
from barrier.whole_run.jobs import changes_of, probe_of, stand_of


@dataclass(frozen=True, eq=False)
class LaidOut:
    """A run set out: sides, findings in the order they are numbered, distinct conditions; ``probe`` is the job of one panel,
    ``fixing`` what its screws need, ``masses`` of the panels in kg."""

    file: RunFile
    probe: Job
    fixing: Fixing
    sides: tuple[SideSet, ...]
    conflicts: tuple[Conflict, ...]
    conditions: tuple[Condition, ...]
    masses: Mapping[str, float]
    probes: Mapping[str, Job] = field(default_factory=dict)  # of the panels that are not by the rule

    def job_of(self, panel: str) -> Job:
        """The job of one panel as it was read first: its glass, the type of its mounts, its blocking."""
        return self.probes.get(panel, self.probe)

    def fixing_of(self, panel: str) -> Fixing:
        """What the screws of a panel need."""
        return fixing_of(self.file, self.job_of(panel))

    def blocking_of(self, panel: str) -> Blocking:
        """The blocking under a panel."""
        return self.job_of(panel).blocking["P1b1"]

    def not_by_rule(self, piece: Piece) -> str:
        """What the blocking of a piece has of its own, in words; nothing where it is by the rule."""
        own = singles.own_of(self.file, self.on(piece))
        return f"NOT BY THE RULE: {own.words('blocking')}" if own.words("blocking") else ""

    def on(self, piece: Piece) -> str:
        """A panel that stands on a piece."""
        return next(p.name for s in self.sides for p in s.panels if any(m.name in piece.mounts for m in p.mounts))

    def side_job(self, name: str) -> str:
        """The text of the plain job that one side expands to: every panel and mount of it. Raises JobRefused where a mount stands
        on no piece of blocking."""
        side = next(s for s in self.sides if s.name == name)
        held = {m for q in side.pieces for m in q.mounts}
        if nowhere := [m.name for m in side.mounts if m.name not in held]:
            text = f"is no plain job: {', '.join(nowhere)} stand outside the joists; measure the joists to the end of the side"
            raise self.file.refused(f"run.sides.{name}", text)
        stands = [stand_of(side, p) for p in side.panels]
        rail = rails.named(self.file) and isinstance(self.file.base.get("rail"), dict)
        changes = rails.whole_of(self.file, side, stands) if rail else changes_of(self.file, side, stands)
        return self.file.text(changes, f"side {name}")

    def panel(self, name: str) -> Panel:
        """A panel by its name."""
        return next(p for s in self.sides for p in s.panels if p.name == name)

    def of(self, whom: str) -> SideSet:
        """The side a panel belongs to."""
        return next(s for s in self.sides if any(p.name == whom for p in s.panels))


def lay_out(file: RunFile) -> LaidOut:
    """A run set out.

    Argument: ``file`` as :func:`barrier.job.run_file.read_run` returns it. Returns sides, findings and conditions. Raises
    JobRefused where a side cannot be divided, with what would help, and where a module is asked for and none was chosen: then with
    the best layouts and what speaks for each.
    """
    probe = file.job(probe_of(file))
    fixing = fixing_of(file, probe)
    probes = _probes(file)
    own = {name: fixing_of(file, job) for name, job in probes.items()}
    sides = tuple(side_of(file, s, fixing, probe, own) for s in file.run.sides)
    singles.known(file, [p.name for s in sides for p in s.panels])
    singles.one_blocking(file, _carried(sides))
    rails.known_places(file, sides)
    masses = masses_of(sides, probes, probe)
    limits = limits_of(file, probe)
    found = [c for s in sides for c in _of_side(s, fixing, limits, masses, own)]
    found += [c for s in sides for p in s.panels if p.name in probes for c in _of_own(file, s, p, probes[p.name])]
    by_name = {s.name: s for s in sides}
    for corner in file.run.corners:
        found += look.at_corner(
            by_name[corner.side], corner.at, by_name[corner.other], corner.other_at, corner.turn == "outside", limits
        )
    found += look.of_sizes(sides, limits)
    found += [*rails.findings(file, sides), *rails.sharing(sides)]
    return LaidOut(file, probe, fixing, sides, look.in_order(found), conditions_of(file, sides), masses, probes)


def _probes(file: RunFile) -> dict[str, Job]:
    """The job of every panel that is not by the rule, read by itself. Raises JobRefused at what of its own is wrong."""
    singles.known(file, [s.panel for s in file.run.singles])
    every = [singles.own_of(file, s.panel) for s in file.run.singles]
    return {o.single.panel: singles.read(file, o, probe_of(file, o)) for o in every if o.single is not None and not o.by_rule}


def _carried(sides: Sequence[SideSet]) -> dict[str, list[str]]:
    """The panels on each piece of blocking, by its mark."""
    on = {m.name: p.name for s in sides for p in s.panels for m in p.mounts}
    return {q.mark: list(dict.fromkeys(on[m] for m in q.mounts)) for s in sides for q in s.pieces}


def _of_side(
    side: SideSet, fixing: Fixing, limits: look.Limits, masses: Mapping[str, float], own: Mapping[str, Fixing]
) -> Iterator[Conflict]:  # fmt: skip
    """Findings of a side; of what mounts stand on only those of panels that are by the rule."""
    theirs = {m.name for p in side.panels if p.name in own for m in p.mounts}
    for c in moves.with_moves(side, fixing, limits, masses, own):
        whom = tuple(w for w in c.whom if w not in theirs)
        if whom or not c.whom:
            yield replace(c, whom=whom)


def _of_own(file: RunFile, side: SideSet, panel: Panel, probe: Job) -> Iterator[Conflict]:
    """Findings of what the mounts of a panel that is not by the rule stand on, by its own mounts and blocking."""
    own = singles.own_of(file, panel.name)
    piece, pack = breadths(probe, "P1b1")
    pieces = tuple(q for q in side.pieces if any(m.name in q.mounts for m in panel.mounts))
    alone = replace(side, panels=(panel,), pieces=pieces, ground=replace(side.ground, piece=piece, pack=pack))
    yield from look.of_mounts(alone, fixing_of(file, probe), limits_of(file, probe))
    what = f"{panel.name} is not by the rule: {own.words()}"
    at = (panel.strip.left + panel.strip.right) / 2
    yield Conflict(look.Kind.ALIKE, look.Weight.NOTE, side.name, at, (panel.name,), what, "mark it, and keep its parts apart")
