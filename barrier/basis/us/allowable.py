"""Allowable stress design: which table row and which equation answers each question."""

from __future__ import annotations

from dataclasses import replace

from barrier.basis.en import Eurocode
from barrier.basis.family import Family
from barrier.basis.interlayer import EffectiveThickness, TwoLayers, by_astm, shear_modulus
from barrier.basis.parts import WET, Action, Answer, BothAtOnce, Driven, Fastener, Glass, Location, Nature, Timber
from barrier.basis.us import equations, nds, wind, yield_limits
from barrier.basis.wind import WindOnPanel, WindSite
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value


class AllowableStress(Family):
    """ASCE 7 and IBC guard loads, the IBC factor on glass, ASTM E1300 for wind, NDS-2018 for wood and lag screws."""

    key = "us"
    unfactored = "nominal"
    wind_level = "strength-level"
    wind_leads = ("speed",)
    title = "US allowable stress basis"
    documents = ("ASCE 7-22", "{loads}", "ASTM E1300", "NDS-2018", "AISC 360-16")
    strength_level = "allowable"
    peak_bearing_decides = True  # allowable stresses are compared with elastic ones: no yielding evens a toe pressure out
    durations = ("permanent", "ten years", "two months", "seven days", "ten minutes")

    def strength(self, nature: Nature, use: str = "") -> Combination:
        key = "guard_asd" if nature == "barrier" else "wind_asd"
        return Combination(
            f"allowable, {nature}",
            "allowable",
            self.tables.value("asce7_factors", key).named("f_Q"),
            "ten years" if nature == "barrier" else "ten minutes",
            "guard",
            "ASCE 7-22 2.4.1, allowable stress design",
            natures=(nature,),
        )

    def service(self, nature: Nature) -> Combination:
        c = self.strength(nature)
        return replace(c, id=f"service, {nature}", level="characteristic")

    at_once_decides = True
    at_once_words = (
        "ASCE 7 2.4.1 adds D + 0.75 L + 0.75 (0.6 W), the guard load being a live load; the clause that the two guard loads need "
        "not act together speaks of those two only. Timber takes the shorter duration (NDS 2.3.2), glass the lower of its two "
        "allowable stresses"
    )

    def at_once(self, barrier: Combination, wind: Combination) -> tuple[BothAtOnce, ...]:
        """D + 0.75 L + 0.75 (0.6 W); the factor of the combination itself is 1, that of the guard load alone."""
        share = self.tables.value("asce7_factors", "companions_asd").named("f_c")
        wind_share = equations.WIND_BESIDE_LIVE(f_c=share, f_W=wind.factor.named("f_W"))
        strength = replace(
            barrier, id="allowable, barrier load with wind", duration=self.shorter(barrier.duration, wind.duration),
            natures=("barrier", "wind"), source="ASCE 7-22 2.4.1, D + 0.75 L + 0.75 (0.6 W)",
        )  # fmt: skip
        service = replace(strength, id="service, barrier load with wind", level="characteristic")
        return (BothAtOnce(strength, service, share, wind_share),)

    def actions(self, use: str) -> tuple[Action, ...] | NotChecked:
        loads = self._table_of("loads", "loads")
        if loads is None:
            return self._lack("the load on a guard")
        row = loads.row(use)
        source = f"{row.text('source')} {row.text('clause')}"
        line, point = row.value("line"), row.value("point")
        found = []
        if line is not None:
            found.append(Action("line", "line load", "line", line, "barrier", True, source))
        if point is not None:
            found.append(Action("point", "point load at the top edge", "point", point, "barrier", True, source))
        infill, area = row.value("infill_point"), row.value("infill_area")
        if infill is not None:  # a reader's row without its area: on the patch of any other load at a point
            side = None if area is None else equations.PATCH_SIDE(A_P=area.named("A_P"))
            found.append(Action("infill point", "load on the infill", "patch", infill, "barrier", True, source, None, side))
        return tuple(found)

    def wind(self, site: WindSite) -> WindOnPanel | NotChecked:
        return wind.wind(self.tables, site)

    def free_stream(self, site: WindSite) -> tuple[Value, Value | None, str] | NotChecked:
        text = "a coefficient of the reader's: gust and directionality stand beside it in ASCE 7; give wind.pressure"
        return NotChecked(Lack.BASIS, text)

    def weight_factor(self) -> Value:
        return self.tables.value("asce7_factors", "dead_resisting_asd")

    def weight_down_factor(self) -> Answer:
        return self.tables.value("asce7_factors", "dead_asd")

    def imposed_factor(self) -> Answer:
        return self.tables.value("asce7_factors", "guard_asd")

    # ---- glass
    def glass_minimum(self, nominal: Value) -> Answer:
        table = self.tables.table("glass_thickness_astm_c1036")
        for key in table.keys:
            row = table.row(key)
            designations = (row.value("nominal"), row.value("inch"))
            if any(d is not None and abs(d.at(0) - nominal.at(0)) < yield_limits.SAME_SIZE for d in designations):
                minimum = row.value("minimum")
                assert minimum is not None
                return minimum.named("t")
        return self._no_minimum(table.keys)

    def glass_constants(self) -> tuple[Value, Value, Value]:
        row = self.tables.table("glass_material").row("us")
        e, nu, weight = row.value("E"), row.value("nu"), row.value("weight")
        assert e is not None and nu is not None and weight is not None
        return e, nu, weight

    def glass_strength(self, glass: Glass, location: Location, combination: Combination) -> Answer:
        if combination.natures == ("wind",):
            return self._under_wind(glass, location)
        guard = self._under_guard_load(glass)
        if "wind" not in combination.natures or isinstance(guard, NotChecked):
            return guard
        wind = self._under_wind(glass, location)
        return wind if isinstance(wind, NotChecked) else min(guard, wind, key=lambda v: v.at(0))

    def _under_guard_load(self, glass: Glass) -> Answer:
        """Modulus of rupture over the factor of the building code."""
        table = self.tables.table("glass_us")
        if glass.surface != PLAIN:
            return NotChecked(Lack.BASIS, f"the mean modulus of rupture is of plain glass; the surface here is {glass.surface}")
        if glass.kind not in table.keys:
            return NotChecked(Lack.BASIS, f"no mean modulus of rupture of {glass.kind} glass is tabulated")
        rupture = table.row(glass.kind).value("modulus_of_rupture")
        assert rupture is not None
        factor = self.tables.value("ibc_factors", "guard_safety_factor").named("SF")
        return equations.GLASS_GUARD(MOR=rupture.named("MOR"), SF=factor)

    def glass_scope(self) -> str:
        return equations.SCOPE

    def _under_wind(self, glass: Glass, location: Location) -> Answer:
        """Allowable stress of ASTM E1300 for the duration and breakage taken for wind."""
        table = self.tables.table("astm_e1300_allowable")
        key = f"{glass.kind} {location}"
        if location == "edge" and glass.edge == "cut" and f"{key} clean cut" in table.keys:
            key = f"{key} clean cut"  # weaker than seamed; polished counts as seamed
        if key not in table.keys:
            return NotChecked(Lack.BASIS, f"ASTM E1300 has no allowable stress of {glass.kind} glass here")
        row = table.row(key)
        stress, n, cov = row.value("stress"), row.value("n"), row.value("cov")
        assert stress is not None and n is not None and cov is not None
        basic = self.tables.value("astm_e1300_wind", "basic_probability").named("P")
        wanted = (glass.breakage or self.tables.value("astm_e1300_wind", "probability")).named("P")
        if f"surface_{glass.surface}" not in self.tables.table("astm_e1300_wind").keys:
            return NotChecked(Lack.BASIS, f"no factor for a {glass.surface} surface is tabulated")
        k_P = equations.GLASS_PROBABILITY(
            V=cov.named("V"), z_P=equations.deviations_below(wanted), z_8=equations.deviations_below(basic).named("z_8")
        )
        k_t = equations.GLASS_DURATION(t_s=self.tables.value("astm_e1300_wind", "seconds").named("t_s"), n=n.named("n"))
        k_s = self.tables.value("astm_e1300_wind", f"surface_{glass.surface}").named("k_s")
        return equations.GLASS_ALLOWABLE(k_P=k_P, k_t=k_t, k_s=k_s, F_8=stress.named("F_8"))

    def effective_thickness(self, two: TwoLayers) -> EffectiveThickness | NotChecked:
        G = shear_modulus(self.tables, two.kind, two.temperature)
        return G if isinstance(G, NotChecked) else by_astm(two, G)

    def support_factor(self) -> tuple[Value, str, str] | None:
        rule = self.rule("support")
        if rule is None:
            return None
        factor = self.tables.value("ibc_factors", "guard_safety_factor").named("SF")
        return factor, f"{rule[1]}: {rule[2]}", "compare a tested breaking load of the mount with it, never an allowable value"

    def for_scale(self) -> Family | None:
        return Eurocode(self.tables)

    # ---- timber
    def timber_words(self, timber: Timber) -> tuple[str, str] | None:
        name = timber.names.get("us")
        if name is None:
            return None
        wet = "wet in service, with C_M" if timber.service_class == WET else "dry in service"
        rule = self.rule("incised")
        source = "NDS-2018 Tables 4.3.1 and 11.3.3" + ("" if rule is None else f"; {rule[2]}")
        return f"{name} is taken as {wet}, and as not incised: C_i is 1", source

    def _species(self, timber: Timber) -> str | NotChecked:
        name, table = timber.names.get("us"), self.tables.table("nds_species")
        graded = self.tables.table("nds_grades")
        if name is not None and name in graded.keys:
            name = graded.row(name).text("species")
        if name is None or name not in table.keys:
            return NotChecked(Lack.INPUT, 'the timber has no species of NDS (material = { us = "Douglas Fir-Larch No.2" })')
        return name

    def _graded(self, timber: Timber, column: str) -> Answer:
        name, table = timber.names.get("us"), self.tables.table("nds_grades")
        if timber.laminated:
            return self._lack("glued laminated timber")
        if name is None or name not in table.keys:
            said = f'"{name}" names no grade' if name is not None else "the timber is not named"
            return NotChecked(Lack.INPUT, f'{said}; write species and grade (material = {{ us = "Douglas Fir-Larch No.2" }})')
        value = table.row(name).value(column)
        assert value is not None
        return value.named(column)

    def _of_species(self, timber: Timber, column: str) -> Answer:
        name = self._species(timber)
        if isinstance(name, NotChecked):
            return name
        value = self.tables.table("nds_species").row(name).value(column)
        assert value is not None
        return value.named(column)

    def _factor(self, key: str, symbol: str) -> Value:
        return self.tables.value("nds_factors", key).named(symbol)

    def _duration(self, combination: Combination) -> Value:
        return self._factor(f"C_D_{combination.duration.replace(' ', '_')}", "C_D")

    def _moisture(self, timber: Timber, what: str) -> Value:
        if timber.service_class != WET:
            return self._factor("C_M_dry", "C_M")
        timbers = what in ("F_b", "F_v", "E") and "Table 4D" in self._clause(timber)
        return self._factor("C_M_timbers_wet" if timbers else f"C_M_{what}_wet", "C_M")

    def _clause(self, timber: Timber) -> str:
        """Which table of the supplement the grade stands in."""
        name, table = timber.names.get("us"), self.tables.table("nds_grades")
        return table.row(name).text("clause") if name is not None and name in table.keys else ""

    def timber_stiffness(self, timber: Timber) -> Answer:
        E = self._graded(timber, "E")
        return E if isinstance(E, NotChecked) else nds.STIFFNESS(E=E, C_M=self._moisture(timber, "E"))

    def timber_shear_stiffness(self, timber: Timber) -> Answer:
        E = self.timber_stiffness(timber)
        return E if isinstance(E, NotChecked) else nds.SHEAR_MODULUS(E=E.named("E"))

    def bearing(self, timber: Timber, combination: Combination, characteristic: bool = False) -> Answer:
        F = self._of_species(timber, "F_c_perp")
        return F if isinstance(F, NotChecked) else nds.BEARING(F_c_perp=F, C_M=self._moisture(timber, "F_c_perp"))

    def bearing_spread(self, b: Value, beside: Value | None) -> Answer:
        short, end = self.tables.value("nds_lengths", "bearing_short"), self.tables.value("nds_lengths", "bearing_from_end")
        if b.at(0) >= short.at(0) or (beside is not None and beside.at(0) < end.at(0)):
            return NotChecked(Lack.RANGE, "no increase of bearing: it is long, or near the end of the piece (NDS 3.10.4)")
        return self.tables.value("nds_lengths", "bearing_increase").named("l_s")

    def bending(self, timber: Timber, combination: Combination) -> Answer:
        F_b = self._graded(timber, "F_b")
        if isinstance(F_b, NotChecked):
            return F_b
        low = F_b.at(0) <= self.tables.value("nds_stresses", "bending_wet_from").at(0)
        C_M = self._factor("C_M_dry", "C_M") if low else self._moisture(timber, "F_b")
        return nds.BENDING(F_b=F_b, C_D=self._duration(combination), C_M=C_M)

    def shear(self, timber: Timber, combination: Combination) -> Answer:
        F_v = self._graded(timber, "F_v")
        if isinstance(F_v, NotChecked):
            return F_v
        return nds.SHEAR(F_v=F_v, C_D=self._duration(combination), C_M=self._moisture(timber, "F_v"))

    def bent_both_ways(self, eta_y: Value, eta_z: Value) -> Answer:
        return nds.BENT_BOTH_WAYS(eta_y=eta_y, eta_z=eta_z)

    def splitting(self, timber: Timber, b: Value, h: Value, h_e: Value, combination: Combination) -> Answer:
        F_v = self.shear(timber, combination)
        if isinstance(F_v, NotChecked):
            return F_v
        k_s = self._factor("splitting_share", "k_s")
        return nds.SHEAR_AT_CONNECTION(k_s=k_s, F_v_adj=F_v, b_pc=b, h_e=h_e, h_pc=h)

    def torsion(self, timber: Timber, long_side: Value, short_side: Value, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, "NDS gives no value for torsion of wood")

    # ---- fasteners
    def withdrawal(self, screw: Fastener, timber: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        G = self._of_species(timber, "G")
        if isinstance(G, NotChecked):
            return G
        lag = not self._below("lag_from", screw.d)
        if screw.end_grain and not lag:
            return NotChecked(Lack.RANGE, "a wood screw in end grain may not be pulled out by NDS 12.2.2")
        W = equations.LAG_WITHDRAWAL if lag else equations.WOOD_SCREW_WITHDRAWAL
        return nds.WITHDRAWAL(
            W=W(G=G, D=screw.d),
            C_D=self._duration(combination),
            C_M=self._moisture(timber, "withdrawal"),
            C_eg=self._factor("C_eg_withdrawal_lag" if screw.end_grain else "C_eg_none", "C_eg"),
            p_t=l_ef,
        )

    def sideways(self, screw: Fastener, timber: Timber, l_ef: Value, gap: Value, combination: Combination) -> Answer:
        G = self._of_species(timber, "G")
        if isinstance(G, NotChecked):
            return G
        if screw.d_1 is None:
            return NotChecked(Lack.INPUT, "the root diameter of the screw is not given; measure it")
        F_yb = yield_limits.lag_bending_yield(self.tables, screw)
        if isinstance(F_yb, NotChecked):
            return F_yb
        kind, clause = ("wood_screw", "12.1.5.6") if self._below("lag_from", screw.d) else ("lag", "12.1.4.6")
        least = self.tables.value("nds_screw_spacing", f"{kind}_lateral_penetration")
        if l_ef.at(0) < least.at(0) * screw.d.at(0):
            said = f"less than {least.at(0):g} diameters of the screw in the wood, its tip not counted (NDS {clause})"
            return NotChecked(Lack.RANGE, said)
        D, D_n = screw.d_1.named("D"), screw.d.named("D_n")
        F_e = yield_limits.dowel_bearing(G, D_n, self._below("thin_below", D_n), across=True)
        R_d = yield_limits.reduction("IV", D, self._below("thin_below", D), self.tables.value("nds_angles", "across"))
        Z = equations.THROUGH_BOARD(F_e=F_e, D=D, R_d=R_d, g=gap, F_yb=F_yb, l_m=l_ef.named("l_m"))
        return nds.SIDEWAYS(
            Z=Z,
            C_D=self._duration(combination),
            C_M=self._moisture(timber, "lateral"),
            C_eg=self._factor("C_eg_lateral" if screw.end_grain else "C_eg_none", "C_eg"),
        )

    def _below(self, length: str, d: Value) -> bool:
        """Whether a diameter is below one of the lengths of NDS; rounding of inches does not decide."""
        return d.at(0) < self.tables.value("nds_lengths", length).at(0) - yield_limits.SAME_SIZE

    combined_by_angle = True

    def combined(self, eta_ax: Value, eta_v: Value, pull: Value | None = None, push: Value | None = None) -> Answer:
        if pull is None or push is None:
            return nds.COMBINED_WORST(eta_ax=eta_ax, eta_v=eta_v)
        return nds.COMBINED(eta_ax=eta_ax, F_ax=pull.named("F_ax"), eta_v=eta_v, F_v=push.named("F_v"))

    def screw_tension(self, screw: Fastener, combination: Combination) -> Answer:
        if screw.d_1 is None or screw.f_u is None:
            return NotChecked(Lack.INPUT, "root diameter and tensile strength of the screw; ask the supplier")
        omega = self.tables.value("nds_steel", "omega_rupture").named("Omega")
        return nds.SCREW_TENSION(f_u=screw.f_u, d_1=screw.d_1, Omega=omega)

    def plate_bending(self, f_y: Value, material: str | None = None) -> Answer:
        return nds.PLATE(f_y=f_y, Omega_b=self.tables.value("nds_steel", "omega_flexure").named("Omega_b"))

    def axial_spacing(self, rule: str, screw: Fastener) -> Answer:
        # The screws are pushed sideways too, in any direction, so an edge and an end count as loaded ones.
        key = {"a1": "lag_withdrawal_spacing", "a2": "lag_withdrawal_spacing", "a1_CG": "lateral_end_tension"}.get(rule)
        return nds.SPACING(m=self.tables.value("nds_screw_spacing", key or "lateral_loaded_edge").named("m"), d=screw.d)

    def row_spacing(self, d: Value, l_m: Value) -> Answer | None:
        return nds.BETWEEN_ROWS(l_m=l_m.named("l_m"), D=d.named("D"))

    def driving_words(self, timber: Timber, d: Value) -> tuple[str, str] | None:
        if self._below("lag_from", d):
            return None  # a wood screw, of which no hole was read
        row = self.tables.table("screw_driving").row("us lag")
        return row.text("words"), f"{row.text('source')} {row.text('clause')} ({row.text('provenance')})"

    def bracket(self, rating: Value, meaning: str, timber: Timber, combination: Combination) -> Answer:
        if meaning != "allowable":
            return NotChecked(Lack.INPUT, f"a bracket rated as {meaning}: this basis needs the allowable load")
        equation = nds.BRACKET_TORQUE if rating.kind == "moment" else nds.BRACKET
        return equation(C_D=self._duration(combination), C_M=self._moisture(timber, "lateral"), R_a=rating.named("R_a"))

    def driven_into_end(self, driven: Driven, combination: Combination, kind: str = "force") -> Answer:
        """Nails through the joist into end grain, loaded sideways: 0.67 of the least yield mode."""
        if driven.kind != "nails" or kind != "force":
            return self.end_grain(combination, kind)
        if driven.d is None or driven.length is None or driven.side is None:
            return NotChecked(
                Lack.INPUT, "diameter and length of the nails at the ends, and the width of the joist they go through"
            )
        G_s, G_m = (self._of_species(t, "G") for t in (driven.side_timber, driven.timber))
        if isinstance(G_s, NotChecked) or isinstance(G_m, NotChecked):
            return NotChecked(Lack.INPUT, "species of joist and blocking, for the nails at the ends")
        D, thin = driven.d.named("D"), self._below("thin_below", driven.d)
        rows = (self.tables.table("nds_nails").row(key) for key in self.tables.table("nds_nails").keys)
        F_yb = next((r.value("F_yb") for r in rows if r.numbers["D"] >= D.at(0) - yield_limits.SAME_SIZE / 2), None)
        if F_yb is None:
            return NotChecked(Lack.BASIS, "no bending yield strength is tabulated for a nail of this diameter")
        F_m, F_s = (yield_limits.dowel_bearing(G, D.named("D_n"), thin, across=False) for G in (G_m, G_s))
        l_s, m_p = driven.side.named("l_s"), self.tables.value("nds_screw_spacing", "nail_lateral_penetration").named("m_p")
        l_m = nds.NAIL_IN_MAIN(L_n=driven.length.named("L_n"), l_s=l_s, m_p=m_p, D=D)
        if l_m.at(0) <= 0.0:
            return NotChecked(Lack.RANGE, "the nails are not longer than the joist is wide: they do not reach the blocking")
        Z, _ = yield_limits.single_shear(D, F_yb, F_m, F_s, l_m, l_s, self.tables.value("nds_angles", "none"), thin)
        return nds.DRIVEN(
            n=driven.number.named("n"),
            Z=Z,
            C_D=self._duration(combination),
            C_M=self._moisture(driven.timber, "lateral"),
            C_eg=self._factor("C_eg_lateral", "C_eg"),
        )

    def end_grain(self, combination: Combination, kind: str = "force") -> Answer:
        text = (
            "NDS credits fasteners in end grain with 0.67 of what they hold sideways in side grain (12.5.2); here that is worked "
            "out for nails of known size against a force, not for screws, and not against turning"
        )
        return NotChecked(Lack.BASIS, text)


PLAIN = "float"
