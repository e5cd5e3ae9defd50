"""Limit states in Australia and New Zealand: which table row and which equation answers each question."""

from __future__ import annotations

from dataclasses import replace

from barrier.basis.au import equations, wind
from barrier.basis.au.fasteners import Joints
from barrier.basis.en import Eurocode
from barrier.basis.family import Action, Answer, Family, Glass, Location, Nature
from barrier.basis.wind import WindOnPanel, WindSite
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Value

# How long a push on a barrier lasts stands in no text that was read. Timber takes the longer of what is argued for, 5 hours;
# glass the longer of its two, which is the weaker for annealed glass. First the duration for timber, then for glass.
GUST = "5 seconds"
LASTS: dict[str, tuple[str, str]] = {"barrier": ("5 hours", "medium"), "wind": (GUST, "short")}
SURFACES = {"float": "untreated", "sandblasted": "sandblasted", "acid-etched": "acid_etched", "patterned": "patterned"}


class Australia(Joints):
    """AS/NZS 1170.0, 1170.1 and 1170.2 with AS 4055, AS 1288-2021, AS 1720.1:2010 (in :class:`Joints`)."""

    key = "au"
    title = "Australian basis"
    documents: tuple[str, ...] = (
        "AS/NZS 1170.0:2002",
        "{loads}",
        "AS/NZS 1170.2",
        "AS 4055",
        "AS 1288-2021",
        "AS 1720.1:2010 with amendments 1 to 3",
        "AS 4100:2020 and AS/NZS 4673:2001 (plates)",
    )
    durations = ("5 days", "5 hours", "5 minutes", "5 seconds")
    wind_level = "ultimate"
    wind_leads: tuple[str, ...] = ("wind_class", "design_speed")
    timber_standard = "nothing was read of it in AS 1720.1"

    # ---- actions
    def strength(self, nature: Nature, use: str = "") -> Combination:
        key = "gamma_Q" if nature == "barrier" else "wind_ultimate"
        factor = self.tables.value("as1170_factors", key).named("gamma_Q")
        source = "AS/NZS 1170.0:2002 4.2.2"
        return Combination(f"ultimate, {nature}", "ultimate", factor, *LASTS[nature], source, natures=(nature,))

    def service(self, nature: Nature) -> Combination:
        key = "gamma_service" if nature == "barrier" else "wind_service"
        factor = self.tables.value("as1170_factors", key).named("gamma_Q")
        source = "AS/NZS 1170.0:2002 4.3"
        return Combination(f"characteristic, {nature}", "characteristic", factor, *LASTS[nature], source, natures=(nature,))

    def lasting(self, combination: Combination, duration: str) -> Combination:
        glass = "short" if duration == GUST else "medium"
        return replace(combination, duration=duration, glass_duration=glass)

    at_once_words = (
        "the combination factor of a balustrade's load beside wind is 0 (AS/NZS 1170.0 Table 4.1, row of balustrades, read in one "
        "copy), so 1.2 G + W_u has no part of it, and 1.2 G + 1.5 Q has no wind"
    )

    def actions(self, use: str) -> tuple[Action, ...] | NotChecked:
        loads = self._table_of("loads", "loads")
        if loads is None:
            return self._lack("the load on a barrier")
        row = loads.row(use)
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
            found.append(
                Action(
                    "vertical", "vertical line load on the top edge", "vertical", vertical, "barrier", True, source, of="vertical"
                )
            )
        down = row.value("point_down") if "point_down" in row.columns else None
        if down is not None:
            found.append(
                Action("point down", "point load on the top edge, downwards", "vertical", down, "barrier", True, source, of="point")
            )
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
        tail = "" if combination.glass_duration == "short" else "_heat_treated" if treated else "_annealed"
        wanted = {
            "phi": "phi",
            "c_1": f"c1_{glass.kind.replace('-', '_')}",
            "c_2": f"c2_{SURFACES.get(glass.surface, glass.surface)}",
            "c_3": f"c3_{combination.glass_duration}{tail}",
        }
        for symbol, key in wanted.items():
            if key not in factors.keys:
                return NotChecked(Lack.BASIS, f"AS 1288 gives no {symbol} for {key}")
        if glass.t is None:
            return NotChecked(Lack.INPUT, "the thickness of the layer, on which the strength depends")
        f_t = (equations.STRENGTH_FACE if location == "face" else equations.STRENGTH_EDGE)(t=glass.t.named("t"))
        given = {symbol: self.tables.value("as1288_factors", key).named(symbol) for symbol, key in wanted.items()}
        return equations.CAPACITY(f_t=f_t, **given)

    def _lack(self, what: str) -> NotChecked:
        return NotChecked(Lack.BASIS, f"{what}: {self.timber_standard}")

    def for_scale(self) -> Family | None:
        return Eurocode(self.tables, "uk")
