"""What every link is given: the job, the basis, the tables and the situation; and what earlier links handed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from barrier.basis import Basis, Nature, Timber
from barrier.job import Job
from barrier.links.ground.geometry import MountModel, mount_model
from barrier.links.memo import SHARED, Memo
from barrier.result import Combination, Situation
from barrier.tables import Tables
from barrier.value import Value


@dataclass(frozen=True, eq=False)
class Walk:
    """One walk down the load path."""

    job: Job
    basis: Basis
    tables: Tables
    situation: Situation
    memo: Memo = SHARED

    @cached_property
    def mounts(self) -> tuple[MountModel, ...]:
        """The mounts as they stand on what is really there, in the order of the job."""
        at_ultimate = self.basis.strength_level != "allowable"
        return tuple(mount_model(self.job, self.tables, m, self.memo, at_ultimate) for m in self.job.mounts)

    def strength(self, nature: Nature) -> Combination:
        """The combination strength is checked in, with the duration the job argues for, if it does."""
        of = self.basis.accidental if self.situation.after_damage else self.basis.strength
        combination = of(nature, self.job.site.use)
        given = self.job.loads.duration
        return self.basis.lasting(combination, given) if given is not None and nature == "barrier" else combination

    def timber(self, names: Mapping[str, str], laminated: bool = False, depth: Value | None = None) -> Timber:
        """A timber of the job with the service class of the site; ``depth`` the longer side of its section."""
        asked = self.job.timber
        if asked is None:
            return Timber(names, int(self.job.site.service_class), laminated, depth)
        return Timber(names, int(self.job.site.service_class), laminated, depth, asked.category, asked.tropics)
