"""Allowable stress design: which table row and which equation answers each question."""

from __future__ import annotations

from barrier.basis.family import WET, Action, Answer, Family, Glass, Location, Nature, Screw, Timber
from barrier.basis.us import equations
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value


class AllowableStress(Family):
    """ASCE 7 and IBC guard loads, the IBC factor on glass, NDS withdrawal of lag screws; the rest is to come."""

    key = "us"
    title = "US allowable stress basis"
    editions = ("ASCE 7-22", "IBC 2021", "NDS-2015")
    strength_level = "allowable"
    durations = ("permanent", "ten years", "two months", "seven days", "ten minutes")

    def strength(self, nature: Nature) -> Combination:
        key = "guard_asd" if nature == "barrier" else "wind_asd"
        return Combination(
            f"allowable, {nature}",
            "allowable",
            self.tables.value("asce7_factors", key).named("f_Q"),
            "ten years" if nature == "barrier" else "ten minutes",
            "guard",
            "ASCE 7-22 2.4.1, allowable stress design",
        )

    def service(self, nature: Nature) -> Combination:
        c = self.strength(nature)
        return Combination(f"service, {nature}", "characteristic", c.factor, c.duration, c.glass_duration, c.source)

    def actions(self, use: str) -> tuple[Action, ...] | NotChecked:
        row = self.tables.table("us_barrier_loads").row(use)
        source = f"{row.text('source')} {row.text('clause')}"
        line, point = row.value("line"), row.value("point")
        found = []
        if line is not None:
            found.append(Action("line", "line load", "line", line, "barrier", True, source))
        if point is not None:
            found.append(Action("point", "point load at the top edge", "point", point, "barrier", True, source))
        return tuple(found)

    def weight_factor(self) -> Value:
        return self.tables.value("asce7_factors", "dead_resisting_asd")

    def glass_minimum(self, nominal: Value) -> Answer:
        table = self.tables.table("glass_thickness_astm_c1036")
        key = f"{nominal.at(0):.0f} mm"
        near = {round(float(k.split()[0])): k for k in table.keys}
        if round(nominal.at(0)) not in near:
            return NotChecked(Lack.INPUT, f"no minimum thickness is tabulated for {key}; give it in the job")
        minimum = table.row(near[round(nominal.at(0))]).value("minimum")
        assert minimum is not None
        return minimum.named("t")

    def glass_constants(self) -> tuple[Value, Value, Value]:
        row = self.tables.table("glass_material").row("us")
        e, nu, weight = row.value("E"), row.value("nu"), row.value("weight")
        assert e is not None and nu is not None and weight is not None
        return e, nu, weight

    def glass_strength(self, glass: Glass, location: Location, combination: Combination) -> Answer:
        if combination.id.endswith("wind"):
            return self._lack("the strength of glass under wind")
        table = self.tables.table("glass_us")
        if glass.kind not in table.keys:
            return NotChecked(Lack.BASIS, f"no mean modulus of rupture of {glass.kind} glass is tabulated")
        rupture = table.row(glass.kind).value("modulus_of_rupture")
        assert rupture is not None
        factor = self.tables.value("ibc_factors", "guard_safety_factor").named("SF")
        return equations.GLASS_GUARD(MOR=rupture.named("MOR"), SF=factor)

    def withdrawal(self, screw: Screw, timber: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        name = timber.names.get("us")
        table = self.tables.table("nds_species")
        if name is None or name not in table.keys:
            return NotChecked(Lack.INPUT, 'the timber has no species of NDS (material = { us = "Douglas Fir-Larch" })')
        gravity = table.row(name).value("G")
        assert gravity is not None
        duration = combination.duration.replace(" ", "_")
        wet = "C_M_withdrawal_wet" if timber.service_class == WET else "C_M_dry"
        return equations.LAG_ALLOWABLE(
            W=equations.LAG_WITHDRAWAL(G=gravity.named("G"), D=screw.d),
            C_D=self.tables.value("nds_factors", f"C_D_{duration}").named("C_D"),
            C_M=self.tables.value("nds_factors", wet).named("C_M"),
            p_t=l_ef,
        )
