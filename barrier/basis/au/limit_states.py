"""Limit states in Australia and New Zealand: which table row and which equation answers each question."""

from __future__ import annotations

from barrier.basis.au import equations, wind
from barrier.basis.en import Eurocode
from barrier.basis.family import Action, Answer, Family, Glass, Location, Nature, Screw, Timber
from barrier.basis.wind import WindOnPanel, WindSite
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value

SURFACES = {"float": "untreated", "sandblasted": "sandblasted", "acid-etched": "acid_etched", "patterned": "patterned"}


class Australia(Family):
    """AS/NZS 1170.0, 1170.1 and 1170.2 with AS 4055, AS 1288-2021; AS 1720.1 as far as its values may be had."""

    key = "au"
    title = "Australian basis"
    editions: tuple[str, ...] = (
        "AS/NZS 1170.0:2002",
        "AS/NZS 1170.1:2002",
        "AS/NZS 1170.2",
        "AS 4055",
        "AS 1288-2021",
        "AS 1720.1-2010",
    )
    durations = ("short", "medium", "long")
    duration_of = "glass"
    wind_level = "ultimate"
    wind_leads: tuple[str, ...] = ("wind_class", "design_speed")
    loads = "au_barrier_loads"
    rules = "au_barrier_rules"
    timber_standard = "AS 1720.1 (its values come from the reader's own licensed copy and are not in this tool)"

    # ---- actions
    def strength(self, nature: Nature, use: str = "") -> Combination:
        key = "gamma_Q" if nature == "barrier" else "wind_ultimate"
        factor = self.tables.value("as1170_factors", key).named("gamma_Q")
        # How long a push on a barrier lasts was not read: the longer of the two is taken, it is the weaker for annealed glass.
        lasts = "medium" if nature == "barrier" else "short"
        source = "AS/NZS 1170.0:2002 4.2.2"
        return Combination(f"ultimate, {nature}", "ultimate", factor, lasts, lasts, source, natures=(nature,))

    def service(self, nature: Nature) -> Combination:
        key = "gamma_service" if nature == "barrier" else "wind_service"
        factor = self.tables.value("as1170_factors", key).named("gamma_Q")
        lasts = "medium" if nature == "barrier" else "short"
        source = "AS/NZS 1170.0:2002 4.3"
        return Combination(f"characteristic, {nature}", "characteristic", factor, lasts, lasts, source, natures=(nature,))

    at_once_words = (
        "the combination factor of a balustrade's load beside wind is 0 (AS/NZS 1170.0 Table 4.1, row of balustrades, read in one "
        "copy), so 1.2 G + W_u has no part of it, and 1.2 G + 1.5 Q has no wind"
    )

    def actions(self, use: str) -> tuple[Action, ...] | NotChecked:
        row = self.tables.table(self.loads).row(use)
        source = f"{row.text('source')} {row.text('clause')}"
        found = []
        for id, title, column, kind in (
            ("line", "line load", "line", "line"),
            ("point", "point load at the top edge", "point", "point"),
            ("infill", "infill pressure", "infill", "pressure"),
        ):
            size = row.value(column)
            if size is not None:
                found.append(Action(id, title, kind, size, "barrier", True, source))  # type: ignore[arg-type]
        vertical = row.value("line_vertical") if "line_vertical" in row.columns else None
        if vertical is not None:
            found.append(Action("vertical", "vertical line load on the top edge", "vertical", vertical, "barrier", True, source))
        infill = row.value("infill_point")
        if infill is not None:
            side = equations.PATCH_SIDE(A_P=self.tables.value("as1170_areas", "infill_patch").named("A_P"))
            found.append(Action("infill point", "point load on the infill", "patch", infill, "barrier", True, source, None, side))
        return tuple(found)

    new_zealand = False

    def wind(self, site: WindSite) -> WindOnPanel | NotChecked:
        return wind.wind(self.tables, site, self.new_zealand)

    def free_stream(self, site: WindSite) -> tuple[Value, Value | None, str] | NotChecked:
        found = wind.pressures(self.tables, site, self.new_zealand)
        return found if isinstance(found, NotChecked) else (found[0], found[1], found[-1])

    def weight_factor(self) -> Value:
        return self.tables.value("as1170_factors", "gamma_G_favourable")

    def weight_down_factor(self) -> Answer:
        return self.tables.value("as1170_factors", "gamma_G")

    def imposed_factor(self) -> Answer:
        return self.tables.value("as1170_factors", "gamma_Q")

    def rule(self, key: str) -> tuple[Value | None, str, str] | None:
        table = self.tables.table(self.rules)
        if key not in table.keys:
            return None
        row = table.row(key)
        return row.value("value"), row.text("words"), f"{row.text('source')} {row.text('clause')} ({row.text('provenance')})"

    # ---- glass
    def glass_minimum(self, nominal: Value) -> Answer:
        table = self.tables.table("glass_thickness_as1288")
        for key in table.keys:
            row = table.row(key)
            designation, minimum = row.value("nominal"), row.value("minimum")
            if designation is not None and minimum is not None and designation.at(0) == nominal.at(0):
                return minimum.named("t")
        return self._no_minimum(table.keys)

    def glass_constants(self) -> tuple[Value, Value, Value]:
        row = self.tables.table("glass_material").row("au")
        e, nu, weight = row.value("E"), row.value("nu"), row.value("weight")
        assert e is not None and nu is not None and weight is not None
        return e, nu, weight

    def glass_strength(self, glass: Glass, location: Location, combination: Combination) -> Answer:
        factors = self.tables.table("as1288_factors")
        treated = glass.kind in ("toughened", "heat-strengthened")
        tail = "" if combination.duration == "short" else "_heat_treated" if treated else "_annealed"
        wanted = {
            "phi": "phi",
            "c_1": f"c1_{glass.kind.replace('-', '_')}",
            "c_2": f"c2_{SURFACES.get(glass.surface, glass.surface)}",
            "c_3": f"c3_{combination.duration}{tail}",
        }
        for symbol, key in wanted.items():
            if key not in factors.keys:
                return NotChecked(Lack.BASIS, f"AS 1288 gives no {symbol} for {key}")
        if glass.t is None:
            return NotChecked(Lack.INPUT, "the thickness of the layer, on which the strength depends")
        f_t = (equations.STRENGTH_FACE if location == "face" else equations.STRENGTH_EDGE)(t=glass.t.named("t"))
        given = {symbol: self.tables.value("as1288_factors", key).named(symbol) for symbol, key in wanted.items()}
        return equations.CAPACITY(f_t=f_t, **given)

    # ---- fasteners
    def withdrawal(self, screw: Screw, timber: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        if screw.Q_k is None:
            return NotChecked(Lack.INPUT, f"Q_k of the screw, by {self.timber_standard}: write screw.withdrawal_per_length")
        phi = self.tables.table("as1720_factors").row("phi_screws").value("value")
        if phi is None:
            text = (
                "the capacity factor of the screws, by AS 1720.1: lay it over as1720_factors, phi_screws, from your licensed copy"
            )
            return NotChecked(Lack.INPUT, text)
        return equations.WITHDRAWAL(
            phi=phi.named("phi"),
            k_13=self.tables.value("as1720_factors", "k_13_end" if screw.end_grain else "k_13_side").named("k_13"),
            l_p=l_ef.named("l_p"),
            Q_k=screw.Q_k.named("Q_k"),
        )

    def _lack(self, what: str) -> NotChecked:
        return NotChecked(Lack.BASIS, f"{what}: {self.timber_standard}")

    def screw_tension(self, screw: Screw, combination: Combination) -> Answer:
        return NotChecked(
            Lack.BASIS, "tension of the screw's steel: no steel standard of this basis is in this tool; ask the supplier"
        )

    def plate_bending(self, f_y: Value, material: str | None = None) -> Answer:
        return NotChecked(Lack.BASIS, "bending of the steel base plate: no steel standard of this basis is in this tool")

    def bracket(self, rating: Value, meaning: str, timber: Timber, combination: Combination) -> Answer:
        text = f"a bracket rated as {meaning}: how its rating is turned into a capacity here is not known; ask its supplier"
        return NotChecked(Lack.BASIS, text)

    def timber_words(self, timber: Timber) -> tuple[str, str] | None:
        name = timber.names.get(self.key)
        if name is None:
            return None
        table = self.tables.table("as1720_joint_groups")
        if name not in table.keys:
            return f"{name}: no joint group is tabulated for it", "table as1720_joint_groups"
        row = table.row(name)
        groups = [f"{row.text(column)} {column}" for column in ("unseasoned", "seasoned") if row.text(column)]
        words = f"joint group {', '.join(groups)}" if groups else "it was read without a joint group"
        return f"{name}: {words}", f"{row.text('source')} ({row.text('provenance')})"

    def for_scale(self) -> Family | None:
        return Eurocode(self.tables, "uk")


class NewZealand(Australia):
    """Loads of NZBC B1/VM1; the glass standard NZS 4223 and the timber standard NZS 3603 are named and not here."""

    key = "nz"
    title = "New Zealand basis"
    editions = (
        "AS/NZS 1170.0:2002",
        "AS/NZS 1170.2",
        "NZS 3604 (wind zones)",
        "NZBC B1/VM1",
        "NZS 4223 (named, not here)",
        "NZS 3603 (named, not here)",
    )
    loads = "nz_barrier_loads"
    new_zealand = True
    wind_leads = ("zone", "design_speed")
    rules = "nz_barrier_rules"
    timber_standard = "NZS 3603 (not in this tool)"

    def glass_strength(self, glass: Glass, location: Location, combination: Combination) -> Answer:
        return NotChecked(Lack.BASIS, "the strength of glass is that of NZS 4223, which is not in this tool")

    def withdrawal(self, screw: Screw, timber: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        return self._lack("screw withdrawal")
