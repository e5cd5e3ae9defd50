"""The Eurocode family: which table row and which equation answers each question."""

from __future__ import annotations

from barrier.basis.en import fasteners, glass, laminate, lateral, pushed, timber
from barrier.basis.en.actions import Actions
from barrier.basis.interlayer import EffectiveThickness, TwoLayers, shear_modulus, shear_transfer
from barrier.basis.parts import ACCIDENTAL, Answer, Driven, Fastener, Glass, Location, Timber
from barrier.result import Combination, Lack, NotChecked
from barrier.tables import TableOfValues
from barrier.value import Value

HARDWOOD = "D"
PATTERNED = "patterned"  # rolled and not floated: of its own strength once it is toughened, and no edge of it is that of float


class Eurocode(Actions):
    """EN 1990, EN 1991-1-1 with a national load table, EN 16612:2019, EN 338:2016, EN 1995-1-1:2004+A1+A2."""

    key = "en"
    title = "Eurocode basis"
    documents = (
        "EN 1990:2002",
        "EN 1991-1-1:2002",
        "{loads}",
        "EN 1991-1-4:2005",
        "EN 16612:2019",
        "{timber}",
        "EN 1995-1-1:2004+A1:2008+A2:2014",
    )
    durations = ("permanent", "long-term", "medium-term", "short-term", "instantaneous")

    # ---- glass
    def glass_minimum(self, nominal: Value) -> Answer:
        table = self.tables.table("glass_thickness_en572")
        key = f"{nominal.at(0):g} mm"
        if key not in table.keys:
            return self._no_minimum(table.keys)
        minimum = table.row(key).value("minimum")
        assert minimum is not None
        return minimum.named("t")

    def glass_constants(self) -> tuple[Value, Value, Value]:
        row = self.tables.table("glass_material").row("en")
        e, nu, weight = row.value("E"), row.value("nu"), row.value("weight")
        assert e is not None and nu is not None and weight is not None
        return e, nu, weight

    def glass_scope(self) -> str:
        return glass.SCOPE

    def glass_strength(self, glass_layer: Glass, location: Location, combination: Combination) -> Answer:
        factors, strengths = self.tables.table("en16612_factors"), self.tables.table("en16612_strength")
        surface = glass_layer.surface.replace("-", "_")
        edge = "polished" if location == "face" else "cut" if surface == PATTERNED else glass_layer.edge
        wanted = {
            "k_e": f"k_e_{edge}",
            "k_mod": f"k_mod_{combination.glass_duration}",
            "k_sp": f"k_sp_{surface}",
            "gamma_M_A": "gamma_M_A",
        }
        for symbol, key in wanted.items():
            if key not in factors.keys:
                return NotChecked(Lack.BASIS, f"EN 16612 gives no {symbol} for {key}")
        given = {symbol: _cell(factors.row(key).value("value"), symbol) for symbol, key in wanted.items()}
        given["f_g_k"] = _cell(strengths.row("f_g_k").value("value"), "f_g_k")
        if glass_layer.kind == "annealed":
            return glass.ANNEALED(**given)
        of_kind = f"f_b_k_{glass_layer.kind.replace('-', '_')}" + (f"_{PATTERNED}" if surface == PATTERNED else "")
        if of_kind not in strengths.keys:
            glass_words = f"{glass_layer.kind}{' patterned' if surface == PATTERNED else ''} glass"
            return NotChecked(Lack.BASIS, f"no characteristic strength of {glass_words} is tabulated")
        given["f_b_k"] = _cell(strengths.row(of_kind).value("value"), "f_b_k")
        given["gamma_M_v"] = _cell(factors.row("gamma_M_v").value("value"), "gamma_M_v")
        given["k_v"] = _cell(factors.row("k_v_horizontal").value("value"), "k_v")
        return glass.PRESTRESSED(**given)

    def effective_thickness(self, two: TwoLayers) -> EffectiveThickness | NotChecked:
        G = shear_modulus(self.tables, two.kind, two.temperature)
        if isinstance(G, NotChecked):
            return G
        omega = shear_transfer(two, G).named("omega")
        h_w = laminate.DEFLECTION_THICKNESS(omega=omega, h_1=two.h_1, h_2=two.h_2)
        h_sigma = laminate.STRESS_THICKNESS(h_ef_w=h_w, h_1=two.h_1, omega=omega, h_2=two.h_2)
        return EffectiveThickness(h_w, h_sigma, f"{laminate.METHOD}; {laminate.OMEGA}")

    # ---- timber
    def _grade(self, grade: Timber) -> str | NotChecked:
        name = grade.names.get("en")
        if name is None:
            return NotChecked(Lack.INPUT, 'the timber has no name in this family of codes (material = { en = "C24" })')
        if name not in self._classes().keys:
            return NotChecked(Lack.INPUT, f"{name} is no strength class of {self._class_standard()}")
        return name

    def _classes(self) -> TableOfValues:
        classes = self._table_of("timber", "classes")
        assert classes is not None  # a test holds that the index has one
        return classes

    def _class_standard(self) -> str:
        """The edition of the strength classes, as the sheet names it."""
        edition = self.edition("timber")
        return "" if edition is None else edition.title

    def _property(self, grade: Timber, column: str) -> Answer:
        name = self._grade(grade)
        if isinstance(name, NotChecked):
            return name
        return _cell(self._classes().row(name).value(column), column)

    def _k_mod(self, grade: Timber, combination: Combination) -> Value:
        key = f"SC{grade.service_class} {combination.duration}"
        return self.tables.value("en1995_k_mod", key, "k_mod").named("k_mod")

    def _factor(self, key: str, symbol: str) -> Value:
        return self.tables.value("en1995_factors", key).named(symbol)

    def _gamma_timber(self, grade: Timber, combination: Combination) -> Value:
        if combination.level == ACCIDENTAL:
            return self._factor("gamma_M_accidental", "gamma_M")
        return self._factor("gamma_M_glulam" if grade.laminated else "gamma_M_solid", "gamma_M")

    def _gamma_connections(self, combination: Combination) -> Value:
        key = "gamma_M_accidental" if combination.level == ACCIDENTAL else "gamma_M_connections"
        return self._factor(key, "gamma_M")

    def _hardwood(self, grade: Timber) -> bool:
        """Whether a timber is of a hardwood class: those of EN 338 begin with a D."""
        return grade.names.get("en", "").startswith(HARDWOOD)

    def timber_words(self, grade: Timber) -> tuple[str, str] | None:
        if not self._hardwood(grade):
            return None
        name = grade.names["en"]
        text = f"{name} is a hardwood class: (8.4) on splitting is for softwood and is not used, k_90 is that of hardwood (8.33)"
        return text, f"{self._class_standard()}, EN 1995-1-1:2004 8.1.4(3) and 8.5.1.1(2)"

    def driving_words(self, grade: Timber, d: Value) -> tuple[str, str] | None:
        row = self.tables.table("screw_driving").row("en hardwood" if self._hardwood(grade) else "en softwood")
        return row.text("words"), f"{row.text('source')} {row.text('clause')} ({row.text('provenance')})"

    def timber_stiffness(self, grade: Timber) -> Answer:
        return self._property(grade, "E_0_mean")

    def timber_shear_stiffness(self, grade: Timber) -> Answer:
        return self._property(grade, "G_mean")

    def bearing(self, grade: Timber, combination: Combination, characteristic: bool = False) -> Answer:
        f_k = self._property(grade, "f_c_90_k")
        if isinstance(f_k, NotChecked):
            return f_k
        k_c = self._factor("k_c_90", "k_c_90")
        if characteristic:
            return timber.BEARING_K_C_CHAR(k_c_90=k_c, f_c_90_k=f_k)
        f_d = timber.BEARING(k_mod=self._k_mod(grade, combination), f_c_90_k=f_k, gamma_M=self._gamma_timber(grade, combination))
        return timber.BEARING_K_C(k_c_90=k_c, f_c_90_d=f_d)

    def bearing_spread(self, b: Value, beside: Value | None) -> Answer:
        return self.tables.value("en1995_lengths", "bearing_spread").named("l_s")

    def bending(self, grade: Timber, combination: Combination) -> Answer:
        f_k = self._property(grade, "f_m_k")
        if isinstance(f_k, NotChecked):
            return f_k
        return timber.BENDING(k_mod=self._k_mod(grade, combination), f_m_k=f_k, gamma_M=self._gamma_timber(grade, combination))

    def shear(self, grade: Timber, combination: Combination) -> Answer:
        f_k = self._property(grade, "f_v_k")
        if isinstance(f_k, NotChecked):
            return f_k
        f_d = timber.SHEAR(k_mod=self._k_mod(grade, combination), f_v_k=f_k, gamma_M=self._gamma_timber(grade, combination))
        return timber.SHEAR_GROSS(k_cr=self._factor("k_cr", "k_cr"), f_v_d=f_d)

    def bent_both_ways(self, eta_y: Value, eta_z: Value) -> Answer:
        return timber.BENT_BOTH_WAYS(eta_y=eta_y, k_m=self._factor("k_m", "k_m"), eta_z=eta_z)

    # ---- fasteners
    def withdrawal(self, screw: Fastener, grade: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        rho_k = self._property(grade, "rho_k")
        if isinstance(rho_k, NotChecked):
            return rho_k
        if screw.end_grain:
            return NotChecked(Lack.RANGE, "the screws stand in end grain: EN 1995-1-1 8.7.2 holds from 30 degrees to the grain up")
        if screw.f_ax_k is not None and screw.rho_a is not None:
            one = fasteners.WITHDRAWAL_DECLARED(f_ax_k=screw.f_ax_k, d=screw.d, l_ef=l_ef, rho_k=rho_k, rho_a=screw.rho_a)
        elif screw.d_1 is None:
            return NotChecked(Lack.INPUT, "the root diameter of the screw is not given; measure it")
        else:
            f_ax = fasteners.F_AX_K(d=screw.d, d_1=screw.d_1, l_ef=l_ef, rho_k=rho_k)
            one = fasteners.WITHDRAWAL_ONE(f_ax_k=f_ax, d=screw.d, l_ef=l_ef, k_d=fasteners.K_D(d=screw.d))
        return fasteners.DESIGN_FORCE(
            k_mod=self._k_mod(grade, combination),
            F_ax_Rk=fasteners.GROUP_SHARE(n=n, F_ax_1_Rk=one),
            gamma_M=self._gamma_connections(combination),
        )

    def slant(self, theta: Value) -> Answer:
        return fasteners.SLANT(theta=theta)

    def sideways(self, screw: Fastener, grade: Timber, l_ef: Value, gap: Value, combination: Combination) -> Answer:
        rho_k = self._property(grade, "rho_k")
        if isinstance(rho_k, NotChecked):
            return rho_k
        if screw.end_grain:
            return self.end_grain(combination)
        if screw.d_1 is None or screw.f_u is None:
            return NotChecked(Lack.INPUT, "root diameter and tensile strength of the screw; ask the supplier")
        d_ef = lateral.D_EF(d_1=screw.d_1)
        along = lateral.EMBEDMENT_0(d_ef=d_ef, rho_k=rho_k)
        k_90 = (lateral.K_90_HARDWOOD if self._hardwood(grade) else lateral.K_90)(d_ef=d_ef)
        f_h = lateral.EMBEDMENT_90(f_h_0_k=along, k_90=k_90)
        M_y = lateral.YIELD_MOMENT(f_u=screw.f_u, d_ef=d_ef)
        F_v = lateral.SIDEWAYS(f_h_k=f_h.named("f_h_k"), d_ef=d_ef, g=gap, M_y_Rk=M_y, l_ef=l_ef)
        return lateral.SIDEWAYS_DESIGN(
            k_mod=self._k_mod(grade, combination), F_v_Rk=F_v, gamma_M=self._gamma_connections(combination)
        )

    combined_is_squares = True

    def combined(self, eta_ax: Value, eta_v: Value, pull: Value | None = None, push: Value | None = None) -> Answer:
        return lateral.COMBINED(eta_ax=eta_ax, eta_v=eta_v)

    def splitting(self, grade: Timber, b: Value, h: Value, h_e: Value, combination: Combination) -> Answer:
        if isinstance(name := self._grade(grade), NotChecked):
            return name
        if self._hardwood(grade):
            return NotChecked(Lack.RANGE, f"{name} is a hardwood; EN 1995-1-1 (8.4) gives splitting of softwood only")
        F_k = lateral.SPLITTING(b_pc=b, h_e=h_e, h_pc=h)
        return lateral.SPLITTING_DESIGN(
            k_mod=self._k_mod(grade, combination), F_90_Rk=F_k, gamma_M=self._gamma_timber(grade, combination)
        )

    def torsion(self, grade: Timber, long_side: Value, short_side: Value, combination: Combination) -> Answer:
        f_k = self._property(grade, "f_v_k")
        if isinstance(f_k, NotChecked):
            return f_k
        f_d = timber.SHEAR(k_mod=self._k_mod(grade, combination), f_v_k=f_k, gamma_M=self._gamma_timber(grade, combination))
        return lateral.TORSION_STRENGTH(k_shape=lateral.K_SHAPE(h_s=long_side, b_s=short_side), f_v_d=f_d)

    def screw_tension(self, screw: Fastener, combination: Combination) -> Answer:
        if screw.d_1 is None or screw.f_u is None:
            return NotChecked(Lack.INPUT, "root diameter and tensile strength of the screw; ask the supplier")
        return fasteners.SCREW_TENSION(
            k_2=self.tables.value("en1993_factors", "k_2").named("k_2"),
            f_u=screw.f_u,
            d_1=screw.d_1,
            gamma_M2=self.tables.value("en1993_factors", "gamma_M2").named("gamma_M2"),
        )

    def plate_bending(self, f_y: Value, material: str | None = None) -> Answer:
        key = "gamma_M0_stainless" if material is None or "stainless" in material.lower() else "gamma_M0"
        return fasteners.PLATE(f_y=f_y, gamma_M0=self.tables.value("en1993_factors", key).named("gamma_M0"))

    def axial_spacing(self, rule: str, screw: Fastener) -> Answer:
        return fasteners.SPACING(m=self.tables.value("en1995_screw_spacing", f"axial_{rule}").named("m"), d=screw.d)

    def pushed_distance(self, rule: str, screw: Fastener) -> Answer | None:
        return pushed.distance(self.tables, rule, screw)

    def least_thickness(self, d: Value) -> Answer | None:
        m = self.tables.value("en1995_screw_spacing", "axial_thickness").named("m")
        return fasteners.LEAST_THICKNESS(m=m, d=d.named("d"))

    def bracket(self, rating: Value, meaning: str, grade: Timber, combination: Combination) -> Answer:
        if meaning != "characteristic":
            return NotChecked(Lack.INPUT, f"a bracket rated as {meaning}: this basis needs the characteristic value")
        equation = fasteners.BRACKET_TORQUE if rating.kind == "moment" else fasteners.BRACKET
        return equation(
            k_mod=self._k_mod(grade, combination),
            R_k=rating,
            gamma_M=self._gamma_connections(combination),
        )

    rating_words = (
        "times k_mod and over gamma_M of connections, for it was tested on timber and timber or its screws may have ended the test "
        "(our reading of EN 1995-1-1 2.4.3; EN 1990 Annex D has the number of tests in the characteristic value)"
    )

    def end_slip(self, driven: Driven) -> Answer:
        if driven.d is None:
            return NotChecked(Lack.INPUT, "the diameter of the nails or screws at the ends; measure one")
        rho = [self._property(t, "rho_mean") for t in (driven.side_timber, driven.timber)]
        if any(isinstance(r, NotChecked) for r in rho):
            return NotChecked(Lack.INPUT, "strength classes of joist and blocking, for the slip of what holds the ends")
        one, two = (r.named(f"rho_{i}") for i, r in enumerate(rho, 1) if isinstance(r, Value))
        K = (fasteners.SLIP_NAIL if driven.kind == "nails" else fasteners.SLIP_SCREW)(
            rho_m=fasteners.MEAN_DENSITY(rho_1=one, rho_2=two), d=driven.d.named("d")
        )
        return fasteners.SLIP_OF_ALL(n_e=driven.number.named("n_e"), K_ser=K)

    def end_grain(self, combination: Combination, kind: str = "force") -> Answer:
        return self.tables.value("en1995_end_grain", "sideways", kind).named("F_v_Rd" if kind == "force" else "T_v_Rd")


def _cell(value: Value | None, symbol: str) -> Value:
    if value is None:
        raise LookupError(f"an empty cell where {symbol} is needed")
    return value.named(symbol)
