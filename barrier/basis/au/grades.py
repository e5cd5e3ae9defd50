"""What a timber is by AS 1720.1: its grade with the depth, strength group, joint group, and whether it is seasoned.

What nobody says is taken the cautious way, and the words of it stand on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

from barrier.basis.parts import WET, Timber
from barrier.result import Lack, NotChecked
from barrier.tables import Row, Tables
from barrier.value import Value

GRADES, SPECIES = "as1720_grades", "as1720_joint_groups"
ASK = (
    'write grade or species as the stamp or the supplier has it (material = { au = "MGP10" } or { au = "F14", species = '
    '"merbau (kwila)", seasoned = "no" })'
)


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """A timber as far as it is known: ``seasoned`` None where nobody says, and then the weaker of both holds."""

    name: str
    rows: tuple[Row, ...]
    species: Row | None
    seasoned: bool | None
    wet: bool
    said: Timber

    def row(self) -> Row | NotChecked:
        """The row of its grade for its depth; the weakest where the depth is not known."""
        if not self.rows:
            return NotChecked(Lack.INPUT, f'"{self.name}" is no stress grade; {ASK}')
        depth = self.said.depth
        if depth is None:
            return self.rows[-1]
        fits = [r for r in self.rows if r.numbers["depth"] >= depth.at(0)]
        if fits or len(self.rows) == 1:
            return fits[0] if fits else self.rows[0]
        return NotChecked(Lack.RANGE, f"{self.name} is tabulated to a depth of {self.rows[-1].numbers['depth']:g} mm")

    def strength_group(self) -> str | NotChecked:
        """SD seasoned, S unseasoned or where nobody says and both are known."""
        return self._group("strength_group", "strength_seasoned", "strength_unseasoned", self.seasoned)

    def joint_group(self) -> str | NotChecked:
        """JD seasoned and dry; J unseasoned, or of the same number where seasoned timber stands in the weather."""
        found = self._group("joint_group", "seasoned", "unseasoned", self.seasoned and not self.wet)
        if isinstance(found, str) and self.wet:
            return found.replace("JD", "J")
        return found

    def _group(self, fact: str, seasoned: str, unseasoned: str, dry: bool | None) -> str | NotChecked:
        said = self.said.names.get(fact)
        if said is not None:
            return said
        row = self.rows[0] if self.rows else None
        if row is not None and row.text(fact):
            return row.text(fact)
        if self.species is not None:
            first, second = (seasoned, unseasoned) if dry else (unseasoned, seasoned)
            if self.species.text(first):
                return self.species.text(first)
            if self.species.text(second) and (dry is not True):
                return self.species.text(second)  # softwood that is sold seasoned only
        words = fact.replace("_", " ")
        return NotChecked(Lack.INPUT, f"the {words} of {self.name}: write {fact} or species in its material, beside the grade")

    @property
    def loses_in_the_wet(self) -> bool:
        """Whether the factor for seasoned timber in the weather acts on it: not on timber that never was dry."""
        return self.seasoned is not False

    def words(self) -> str:
        """Grade, groups and seasoning as they are taken."""
        strength, joint = self.strength_group(), self.joint_group()
        groups = [
            f"{what} {group}" for what, group in (("strength group", strength), ("joint group", joint)) if isinstance(group, str)
        ]
        dried = {True: "seasoned", False: "unseasoned", None: "not said whether seasoned, the weaker of both taken"}[self.seasoned]
        where = ", in the weather" if self.wet else ""
        notes = [r.text("note") for r in (*self.rows[:1], *((self.species,) if self.species else ())) if r.text("note")]
        return "; ".join((", ".join((*groups, dried)) + where, *notes))


def known(tables: Tables, timber: Timber) -> Known | NotChecked:
    """A timber of the job as this standard has it; NotChecked where it is not named here."""
    name = timber.names.get("au") or timber.names.get("species")
    if name is None:
        return NotChecked(Lack.INPUT, f"the timber is not named in this family of codes; {ASK}")
    rows = tuple(r for r in tables.table(GRADES).rows if r.text("grade") == name)
    species = timber.names.get("species", name)
    found = tables.table(SPECIES)
    row = found.row(species) if species in found.keys else None
    if not rows and row is None:
        return NotChecked(Lack.INPUT, f'"{name}" is no grade and no species of this tool; {ASK}')
    said = timber.names.get("seasoned")
    by_grade = bool(rows) and rows[0].text("seasoned") == "yes"
    seasoned = said == "yes" if said is not None else True if by_grade else None
    return Known(name, rows, row, seasoned, timber.service_class == WET, timber)


def largest_below(rows: tuple[Row, ...], group: str, d: Value, same: float) -> Row | None:
    """Of the rows of a group, the one of the largest size that is not above ``d``; None where ``d`` is below them all."""
    fits = [r for r in rows if r.text("group") == group and r.numbers["D"] <= d.at(0) + same]
    return max(fits, key=lambda r: r.numbers["D"]) if fits else None
