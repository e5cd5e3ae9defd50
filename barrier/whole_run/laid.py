"""A run set out: its sides, what does not go together, its distinct conditions. Reads no loads and checks nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barrier.job import Job
from barrier.job.faults import no_such
from barrier.job.run_file import RunFile
from barrier.run import conflicts as look
from barrier.run import moves
from barrier.run.bays import Fixing
from barrier.run.conflicts import Conflict
from barrier.run.side import Panel, SideSet
from barrier.whole_run import rails
from barrier.whole_run.conditions import Condition, conditions_of
from barrier.whole_run.from_file import fixing_of, limits_of, masses_of, side_of
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

    def side_job(self, name: str) -> str:
        """The text of the plain job that one side expands to: every panel and mount of it."""
        side = next(s for s in self.sides if s.name == name)
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
    sides = tuple(side_of(file, s, fixing, probe) for s in file.run.sides)
    _known_singles(file, sides)
    rails.known_places(file, sides)
    masses = masses_of(sides, probe)
    limits = limits_of(file, probe)
    found = [c for s in sides for c in moves.with_moves(s, fixing, limits, masses)]
    by_name = {s.name: s for s in sides}
    for corner in file.run.corners:
        found += look.at_corner(
            by_name[corner.side], corner.at, by_name[corner.other], corner.other_at, corner.turn == "outside", limits
        )
    found += look.of_sizes(sides, limits)
    found += [*rails.findings(file, sides), *rails.sharing(sides)]
    return LaidOut(file, probe, fixing, sides, look.in_order(found), conditions_of(file, sides), masses)


def _known_singles(file: RunFile, sides: Sequence[SideSet]) -> None:
    names = [p.name for s in sides for p in s.panels]
    for i, single in enumerate(file.run.singles, 1):
        if single.panel not in names:
            raise file.refused(f"run.singles.{i}.panel", no_such("panel", single.panel, names))
