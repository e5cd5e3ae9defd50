"""New Zealand: loads of NZBC B1/VM1, wind zones of NZS 3604, timber members by NZS AS 1720.1:2022.

Its glass standard and the joints of its timber standard were not read: the Australian figure stands beside them for scale.
"""

from __future__ import annotations

from barrier.basis.au import member_equations as eq
from barrier.basis.au.limit_states import Australia
from barrier.basis.au.timber import key_of
from barrier.basis.family import Family
from barrier.basis.parts import WET, Answer, Driven, Fastener, Glass, Location, Timber
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value

GRADES, FACTORS = "nzs_as1720_grades", "nzs_as1720_factors"
DRY_AND_WET = ("SG8", "SG8 wet")
JOINTS = "joints of New Zealand (NZS AS 1720.1:2022): their factors, joint groups and distances were not read"


class NewZealand(Australia):
    """Loads of NZBC B1/VM1, members of NZS AS 1720.1:2022; NZS 4223 for glass is named and not here."""

    key = "nz"
    title = "New Zealand basis"
    documents = (
        "AS/NZS 1170.0:2002",
        "AS/NZS 1170.2",
        "NZS 3604 (wind zones)",
        "{loads}",
        "NZS AS 1720.1:2022 (members; it replaced NZS 3603)",
        "NZS 4223 (named, not here)",
    )
    new_zealand = True
    wind_leads = ("zone", "design_speed")
    timber_standard = "nothing was read of it in NZS AS 1720.1:2022"

    def glass_strength(self, glass: Glass, location: Location, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, "the strength of glass is that of NZS 4223, which is not in this tool")

    # ---- members
    def _grade(self, timber: Timber) -> str | NotChecked:
        name = timber.names.get(self.key)
        if name is None or name not in self.tables.table(GRADES).keys or name == DRY_AND_WET[1]:
            said = f'"{name}" is no grade of it' if name is not None else "the timber is not named"
            return NotChecked(Lack.INPUT, f'{said}; write the grade of NZS AS 1720.1 (material = {{ nz = "SG8" }})')
        return name

    def _cell(self, grade: str, column: str, symbol: str) -> Value:
        value = self.tables.table(GRADES).row(grade).value(column)
        assert value is not None
        return value.named(symbol)

    def _of_grade(self, timber: Timber, column: str) -> Answer:
        """A figure of the grade; of the wet grade in the weather, where it was read, else in the ratio of SG8."""
        grade = self._grade(timber)
        if isinstance(grade, NotChecked):
            return grade
        dry, wet = DRY_AND_WET
        if timber.service_class != WET:
            return self._cell(grade, column, column)
        if grade == dry:
            return self._cell(wet, column, column)
        return eq.WET_OF_SG8(
            f_dry=self._cell(grade, column, "f_dry"), f_SG8_wet=self._cell(wet, column, "f_SG8_wet"),
            f_SG8=self._cell(dry, column, "f_SG8"),
        ).named(column)  # fmt: skip

    def _factors(self, grade: str, combination: Combination) -> dict[str, Value]:
        """phi, k_1, k_4 and k_6; wet figures are wet already, so k_4 is 1."""
        kind = self.tables.table(GRADES).row(grade).text("kind")
        dry = self.tables.value("as1720_moisture", "SC1", "EMC").named("EMC")
        return {
            "phi": self.tables.value(FACTORS, f"phi_{kind}").named("phi"),
            "k_1": self._factor(f"k_1_member_{key_of(combination.duration)}", "k_1"),
            "k_4": eq.MOISTURE(EMC=dry),
            "k_6": self.tables.value(FACTORS, "k_6").named("k_6"),
        }

    def timber_stiffness(self, timber: Timber) -> Answer:
        return self._of_grade(timber, "E")

    def timber_shear_stiffness(self, timber: Timber) -> Answer:
        return self._of_grade(timber, "G")

    def bending(self, timber: Timber, combination: Combination) -> Answer:
        f_b, grade = self._of_grade(timber, "f_b"), self._grade(timber)
        if isinstance(f_b, NotChecked) or isinstance(grade, NotChecked):
            return f_b
        if self.tables.table(GRADES).row(grade).text("kind") == "lvl":
            f_b = self._deep(timber, f_b, "nz_lvl_depth").named("f_b")
        k_9, k_12 = self._factor("k_9_loose", "k_9"), self._factor("k_12_short", "k_12")
        return eq.BENDING(**self._factors(grade, combination), k_9=k_9, k_12=k_12, f_b=f_b)

    def shear(self, timber: Timber, combination: Combination) -> Answer:
        f_s, grade = self._of_grade(timber, "f_s"), self._grade(timber)
        if isinstance(f_s, NotChecked) or isinstance(grade, NotChecked):
            return f_s
        return eq.SHEAR(**self._factors(grade, combination), f_s=f_s)

    def bearing(self, timber: Timber, combination: Combination, characteristic: bool = False) -> Answer:
        if characteristic:
            return super().bearing(timber, combination, characteristic)
        f_p, grade = self._of_grade(timber, "f_p"), self._grade(timber)
        if isinstance(f_p, NotChecked) or isinstance(grade, NotChecked):
            return f_p
        return eq.BEARING(**self._factors(grade, combination), f_p=f_p)

    def splitting(self, timber: Timber, b: Value, h: Value, h_e: Value, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, "splitting beside fasteners: the shear strength at joints was not read for New Zealand")

    def torsion(self, timber: Timber, long_side: Value, short_side: Value, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, "torsion of timber: nothing was found of it in NZS AS 1720.1")

    # ---- joints: the Australian figure for scale
    def withdrawal(self, screw: Fastener, timber: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, JOINTS)

    def sideways(self, screw: Fastener, timber: Timber, l_ef: Value, gap: Value, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, JOINTS)

    def screw_tension(self, screw: Fastener, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, JOINTS)

    def axial_spacing(self, rule: str, screw: Fastener) -> Answer:
        return NotChecked(Lack.BASIS, JOINTS)

    def driven_into_end(self, driven: Driven, combination: Combination, kind: str = "force") -> Answer:
        return NotChecked(Lack.BASIS, JOINTS)

    def end_grain(self, combination: Combination, kind: str = "force") -> Answer:
        return NotChecked(Lack.BASIS, JOINTS)

    def bracket(self, rating: Value, meaning: str, timber: Timber, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, JOINTS)

    def timber_words(self, timber: Timber) -> tuple[str, str] | None:
        grade = self._grade(timber)
        if isinstance(grade, NotChecked):
            return None
        row = self.tables.table(GRADES).row(grade)
        wet = timber.service_class == WET
        if not wet:
            how = "dry"
        elif grade == DRY_AND_WET[0]:
            how = "in the weather, its wet figures"
        else:
            how = "in the weather, its figures brought down in the ratio of SG8 wet to dry, by analogy"
        return f"{grade}: {how}", f"{row.text('source')} ({row.text('provenance')})"

    def for_scale(self) -> Family | None:
        return Australia(self.tables)
