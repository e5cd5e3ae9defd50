"""Members by AS 1720.1 and NZS AS 1720.1: bending, shear, bearing, stiffness, splitting."""

from __future__ import annotations

from barrier.basis.au import grades
from barrier.basis.au import member_equations as eq
from barrier.basis.family import Family
from barrier.basis.parts import Answer, Timber
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value

FACTORS = "as1720_factors"


def key_of(duration: str) -> str:
    """A duration as the tables have it in their keys.

    >>> key_of("5 hours")
    '5_hours'
    """
    return duration.replace(" ", "_")


class Members(Family):
    """What a family of codes answers of timber members, by AS 1720.1:2010."""

    def _factor(self, key: str, symbol: str) -> Value:
        return self.tables.value(FACTORS, key).named(symbol)

    def known(self, timber: Timber) -> grades.Known | NotChecked:
        """The timber as the standard has it."""
        return grades.known(self.tables, timber)

    # ---- factors
    def _phi_member(self, timber: Timber, known: grades.Known) -> Value:
        row = known.rows[0].text("phi_row") if known.rows else "low"
        return self._factor(f"phi_{row}_{timber.category}", "phi")

    def _design(self, timber: Timber, known: grades.Known, combination: Combination) -> dict[str, Value]:
        """phi, k_1, k_4 and k_6 of a member."""
        return {
            "phi": self._phi_member(timber, known),
            "k_1": self._factor(f"k_1_member_{key_of(combination.duration)}", "k_1"),
            "k_4": self._k_4(timber, known),
            "k_6": self._factor("k_6_tropics" if timber.tropics and known.seasoned is not False else "k_6", "k_6"),
        }

    def _k_4(self, timber: Timber, known: grades.Known) -> Value:
        service_class = timber.service_class if known.loses_in_the_wet else 1
        return eq.MOISTURE(EMC=self.tables.value("as1720_moisture", f"SC{service_class}", "EMC").named("EMC"))

    def _of_grade(self, timber: Timber, column: str) -> Answer:
        """A cell of the row of the grade."""
        known = self.known(timber)
        row = known if isinstance(known, NotChecked) else known.row()
        if isinstance(row, NotChecked):
            return row
        value = row.value(column)
        assert value is not None
        return value.named(column)

    # ---- answers
    def timber_stiffness(self, timber: Timber) -> Answer:
        E = self._of_grade(timber, "E")
        if isinstance(E, NotChecked) or not self._stays_wet(timber):
            return E
        return eq.STIFFNESS_WET(j_w=self._factor("j_wet", "j_w"), E=E)

    def timber_shear_stiffness(self, timber: Timber) -> Answer:
        G = self._of_grade(timber, "G")
        if isinstance(G, NotChecked) or not self._stays_wet(timber):
            return G
        return eq.SHEAR_STIFFNESS_WET(j_w=self._factor("j_wet", "j_w"), G=G)

    def _stays_wet(self, timber: Timber) -> bool:
        known = self.known(timber)
        return isinstance(known, grades.Known) and known.wet

    def bending(self, timber: Timber, combination: Combination) -> Answer:
        known = self.known(timber)
        if isinstance(known, NotChecked):
            return known
        f_b = self._of_grade(timber, "f_b")
        if isinstance(f_b, NotChecked):
            return f_b
        if known.rows[0].text("grade").startswith("F"):
            f_b = self._deep(timber, f_b, "bending_depth")
        return eq.BENDING(
            **self._design(timber, known, combination), k_9=self._factor("k_9_loose", "k_9"),
            k_12=self._factor("k_12_short", "k_12"), f_b=f_b.named("f_b"),
        )  # fmt: skip

    def _deep(self, timber: Timber, f: Value, length: str) -> Value:
        """A strength of a section deeper than it is tabulated for."""
        d_0 = self.tables.value("as1720_lengths", length).named("d_0")
        if timber.depth is None or timber.depth.at(0) <= d_0.at(0):
            return f
        return eq.DEEP(f_k_0=f.named("f_k_0"), d_0=d_0, d=timber.depth.named("d"))

    def shear(self, timber: Timber, combination: Combination) -> Answer:
        known = self.known(timber)
        if isinstance(known, NotChecked):
            return known
        f_s = self._of_grade(timber, "f_s")
        return f_s if isinstance(f_s, NotChecked) else eq.SHEAR(**self._design(timber, known, combination), f_s=f_s)

    def tension(self, timber: Timber, combination: Combination) -> Answer:
        """Tension along the grain on the net section; the depth factor is of F grades and glulam."""
        known = self.known(timber)
        if isinstance(known, NotChecked):
            return known
        f_t = self._of_grade(timber, "f_t")
        if isinstance(f_t, NotChecked):
            return f_t
        if known.rows[0].text("grade").startswith(("F", "GL")):
            f_t = self._deep(timber, f_t, "tension_depth")
        return eq.TENSION(**self._design(timber, known, combination), f_t=f_t.named("f_t"))

    def bent_both_ways(self, eta_y: Value, eta_z: Value) -> Answer:
        return eq.BOTH_WAYS(eta_y=eta_y, eta_z=eta_z)

    def bearing(self, timber: Timber, combination: Combination, characteristic: bool = False) -> Answer:
        if characteristic:
            text = (
                "the bearing strength of this code is of a large indentation: it says nothing of how far the plate sinks under "
                "the load of every day; the elastic bed does"
            )
            return NotChecked(Lack.BASIS, text)
        known = self.known(timber)
        if isinstance(known, NotChecked):
            return known
        f_p = self._bearing_strength(known)
        return f_p if isinstance(f_p, NotChecked) else eq.BEARING(**self._design(timber, known, combination), f_p=f_p.named("f_p"))

    def _bearing_strength(self, known: grades.Known) -> Answer:
        own = known.rows[0].value("f_p") if known.rows else None
        if own is not None:
            return own
        group = known.strength_group()
        if isinstance(group, NotChecked):
            return group
        f_p = self.tables.table("as1720_strength_groups").row(group).value("f_p")
        assert f_p is not None
        return f_p

    def bearing_factor(self, b: Value, beside: Value | None) -> Value | None:
        """k_7 of the next longer row; 1 near the end of the piece."""
        table = self.tables.table("as1720_bearing_length")
        longer = [r for r in table.rows if r.numbers["length"] >= b.at(0)]
        near = beside is not None and beside.at(0) < self.tables.value("as1720_lengths", "bearing_from_end").at(0)
        row = table.rows[-1] if near or not longer else longer[0]
        k_7 = row.value("k_7")
        assert k_7 is not None
        return k_7.named("k_7")

    def bearing_spread(self, b: Value, beside: Value | None) -> Answer:
        return NotChecked(Lack.RANGE, "bearing is not spread here: the length factor stands in its place (AS 1720.1 Table 2.6)")

    def splitting(self, timber: Timber, b: Value, h: Value, h_e: Value, combination: Combination) -> Answer:
        known = self.known(timber)
        if isinstance(known, NotChecked):
            return known
        group = known.strength_group()
        if isinstance(group, NotChecked):
            return group
        table = self.tables.table("as1720_joint_shear")
        if group not in table.keys:
            return NotChecked(Lack.BASIS, f"splitting beside fasteners: the shear strength at joints of {group} was not read")
        f_sj = table.row(group).value("f_sj")
        assert f_sj is not None
        return eq.SPLITTING(**self._design(timber, known, combination), f_sj=f_sj, b_pc=b, h_e=h_e)

    def torsion(self, timber: Timber, long_side: Value, short_side: Value, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, "torsion of timber: nothing was found of it in AS 1720.1")

    def timber_words(self, timber: Timber) -> tuple[str, str] | None:
        known = self.known(timber)
        if isinstance(known, NotChecked):
            return None
        rows = (*known.rows[:1], *((known.species,) if known.species is not None else ()))
        sources = dict.fromkeys(f"{r.text('source')} ({r.text('provenance')})" for r in rows)
        return f"{known.name}: {known.words()}", "; ".join(sources)
