"""The same job by several families of codes, side by side: for review and teaching, never a verdict.

Each family reads the job's own names for the timber and the use of the building in that family; nothing is mapped from
one to another. The job's own basis stays the one that counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.basis import FAMILIES
from barrier.errors import BarrierError, Fault, JobRefused
from barrier.job import Job
from barrier.load_path import Result, check
from barrier.result import Check, Standing, tied
from barrier.study import NotRun
from barrier.tables import Tables


@dataclass(frozen=True, slots=True, eq=False)
class Difference:
    """One check by the job's own basis and by another, and how many times the utilisation is there."""

    basis: str
    own: Check
    other: Check

    @property
    def ratio(self) -> float:
        """Utilisation by the other basis over that by the job's own."""
        assert self.own.eta is not None and self.other.eta is not None
        return self.other.eta / self.own.eta


@dataclass(frozen=True, eq=False)
class Comparison:
    """The results by basis, the job's own first; what could not be walked, and what was not carried over to another basis."""

    results: tuple[tuple[str, Result], ...]
    not_run: tuple[NotRun, ...]
    left_out: tuple[NotRun, ...] = ()

    kind = "comparison"

    @property
    def result(self) -> Result:
        """By the basis that counts, as of every page."""
        return self.own

    @property
    def own(self) -> Result:
        """By the basis that counts."""
        return self.results[0][1]

    def differences(self) -> tuple[Difference, ...]:
        """Required checks that compare a demand with a resistance by the own basis and by another, furthest apart first.

        Mounts that fare alike, and the same check by a third basis, are told once: the larger difference.
        """
        found: dict[tuple[str, str], Difference] = {}
        mine = {c.about: c for c in self.own.sound.checks if _compares(c)}
        for basis, result in self.results[1:]:
            for c in result.sound.checks:
                if c.about in mine and _compares(c):
                    d = Difference(basis, mine[c.about], c)
                    stem = c.about.key
                    if stem not in found or _size(d) > _size(found[stem]):
                        found[stem] = d
        return tuple(sorted(found.values(), key=lambda d: -_size(d)))


def _compares(c: Check) -> bool:
    return bool(c.standing is Standing.REQUIRED and c.eta and c.demand is not None and c.resistance is not None)


def _size(d: Difference) -> float:
    """How far apart the two utilisations are."""
    assert d.own.eta is not None and d.other.eta is not None
    return tied(abs(d.other.eta - d.own.eta))


def compare(job: Job, bases: Sequence[str], tables: Tables | None = None) -> Comparison:
    """Walk a job by several families of codes.

    Arguments: ``job``; ``bases`` keys of :data:`barrier.basis.FAMILIES`, the job's own among them or not; ``tables`` as for
    :func:`barrier.load_path.check`. Returns the comparison, own basis first. Raises JobRefused for a key that is none.
    """
    unknown = [b for b in bases if b not in FAMILIES]
    if unknown:
        text = f'"{unknown[0]}" is no basis of this tool; known: {", ".join(FAMILIES)}'
        raise JobRefused(job.file, (Fault("--basis", text, None),))
    results = [(job.basis, check(job, (), tables))]
    not_run: list[NotRun] = []
    for basis in dict.fromkeys(b for b in bases if b != job.basis):
        named = job.bases.get(basis)
        if named is None:
            text = f'the job does not say what its use is called there; write [bases.{basis}] with use = "..."'
            not_run.append(NotRun(basis, text))
            continue
        changes: dict[str, object] = {"basis": basis, "site.use": named.use, "national": named.national or ""}
        changes.update({path: None for path in _own_terms(job)})
        if named.wind is not None:
            changes["wind"] = job.raw["bases"][basis]["wind"]
        try:
            results.append((basis, check(job.with_(changes), (), tables)))
        except BarrierError as fault:
            not_run.append(NotRun(basis, str(fault)))
    left_out = _own_terms(job)
    if all(named.wind is not None for basis in bases if (named := job.bases.get(basis)) is not None and basis != job.basis):
        left_out.pop("wind", None)
    return Comparison(tuple(results), tuple(not_run), tuple(NotRun(*said) for said in left_out.items()))


def _own_terms(job: Job) -> dict[str, str]:
    """Entries that mean something in the job's own basis only, and why they are not carried over to another."""
    found = {}
    if job.editions.named:
        found["editions"] = "an edition belongs to its own family of codes; each other one takes its usual one"
    if job.loads.duration is not None:
        found["loads.duration"] = "a duration has another name and another factor in every family; each takes its own"
    if job.loads.with_wind is not None:
        found["loads.with_wind"] = "whether barrier load and wind stand in one combination is every family's own"
    if job.wind is not None:
        found["wind"] = (
            "a wind pressure, class or speed means something in the job's own basis only (characteristic, strength or ultimate); a "
            "basis that has no [bases.NAME.wind] of its own does not check it"
        )
    return found
