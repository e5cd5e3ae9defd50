"""The Eurocode family: actions on a barrier, how they combine, and how long each lasts."""

from __future__ import annotations

import re
from dataclasses import replace

from barrier.basis.en import glass, wind
from barrier.basis.family import Family
from barrier.basis.parts import ACCIDENTAL, Action, Answer, BothAtOnce, Nature
from barrier.basis.wind import WindOnPanel, WindSite
from barrier.result import Combination, Lack, NotChecked
from barrier.value import Numerical, Value


class Actions(Family):
    """EN 1990, EN 1991-1-1 with a national load table, EN 1991-1-4: the part of the family that knows no material."""

    wind_leads = ("map_speed", "zone", "basic_speed")
    in_plane_unsaid = "EN 1991-1-1 6.4 names loads across the barrier only (remembered); a push along it is shown as information"

    def strength(self, nature: Nature, use: str = "") -> Combination:
        return Combination(
            f"ultimate, {nature}",
            "ultimate",
            self.tables.value("en1990_factors", "gamma_Q").named("gamma_Q"),
            "short-term",
            self._glass_lasts(nature, use),
            "EN 1990:2002 6.4.3.2 (6.10), one variable action",
            natures=(nature,),
        )

    def accidental(self, nature: Nature, use: str = "") -> Combination:
        return Combination(
            f"accidental, {nature}",
            ACCIDENTAL,
            self.tables.value("en1990_factors", "gamma_service").named("gamma_Q"),
            "short-term",
            self._glass_lasts(nature, use),
            "EN 1990:2002 6.4.3.3 (6.11b), the action at its characteristic size; timber with the factor for accidental "
            "combinations, glass with its ordinary ones, for EN 16612 was not read for others",
            natures=(nature,),
        )

    def _glass_lasts(self, nature: Nature, use: str) -> str:
        """How long an action lasts for the glass: a barrier load by the use of the building, the longer where that is unknown."""
        if nature == "wind":
            return "wind_storm"
        table = self.tables.table("en16612_uses")
        letter = use[:1] if re.fullmatch(r"[A-Z]\d*[a-z]?", use) else ""
        return table.row(letter).text("duration") if letter in table.keys else "barrier_public"

    def service(self, nature: Nature) -> Combination:
        return Combination(
            f"characteristic, {nature}",
            "characteristic",
            self.tables.value("en1990_factors", "gamma_service").named("gamma_Q"),
            "short-term",
            self._glass_lasts(nature, ""),
            "EN 1990:2002 6.5.3 (6.14b), one variable action",
            natures=(nature,),
        )

    at_once_words = (
        "EN 1990 (6.10) adds them, 1.5 (Q + psi_0 W) and 1.5 (W + psi_0 Q), unless they cannot occur at the same time "
        "(A1.2.1(1), remembered); practice notes take the larger of the two. For the glass the longer of the two durations is "
        "taken, for the timber the shorter (EN 1995-1-1 3.1.3(2)); which one glass may take was not read"
    )

    def at_once(self, barrier: Combination, wind: Combination) -> tuple[BothAtOnce, ...]:
        """Expression (6.10) with either action leading."""
        key = "psi_0_wind_uk" if self.national == "uk" else "psi_0_wind"
        psi_w, psi_q = (self.tables.value("en1990_factors", k).named("psi_0") for k in (key, "psi_0_imposed"))
        whole = Value(
            1.0, "ratio", Numerical("the leading action is taken whole", "counted", "EN 1990:2002 6.4.3.2 (6.10)"), "s"
        )  # fmt: skip
        glass_lasts = min(barrier.glass_duration, wind.glass_duration, key=self._glass_share)
        timber_lasts = self.shorter(barrier.duration, wind.duration)

        def both(words: str, lead: Nature, other: Nature, q: Value, w: Value) -> BothAtOnce:
            strength, service = (
                replace(
                    c, id=f"{level}, {words}", natures=(lead, other), duration=timber_lasts, glass_duration=glass_lasts,
                    source=f"EN 1990:2002 {clause}, two variable actions",
                )
                for c, level, clause in (
                    (barrier, "ultimate", "6.4.3.2 (6.10)"), (self.service(lead), "characteristic", "6.5.3 (6.14b)")
                )
            )  # fmt: skip
            return BothAtOnce(strength, service, q, w)

        return (
            both("barrier load with wind", "barrier", "wind", whole, psi_w),
            both("wind with barrier load", "wind", "barrier", psi_q, whole),
        )

    def film_load(self, combination: Combination) -> str:
        return f"en {combination.glass_duration}"

    def _glass_share(self, duration: str) -> float:
        """What a duration leaves of the strength of glass: less for a longer one."""
        return self.tables.value("en16612_factors", f"k_mod_{duration}").at(0)

    def actions(self, use: str) -> tuple[Action, ...] | NotChecked:
        loads = self._table_of("loads", "loads")
        if loads is None:
            return NotChecked(
                Lack.INPUT,
                "EN 1991-1-1 leaves the load on a barrier to a national annex; name a national load table "
                f"(national = one of {', '.join(self.nationals)}) or give the loads with a reference",
            )
        row, source = loads.row(use), loads.edition
        height, line, infill, point = (row.value(c) for c in ("height", "line", "infill", "point"))
        found = []
        if line is not None:
            found.append(Action("line", "line load", "line", line, "barrier", True, source, height))
        if infill is not None:
            found.append(Action("infill", "infill pressure", "pressure", infill, "barrier", True, source))
        if point is not None:
            found.append(Action("infill point", "point load on the infill", "patch", point, "barrier", True, source))
            found.append(
                Action(
                    "point", "point load at the top edge", "point", point, "barrier", False,
                    f"{source} names it for the infill; at the top edge as information",
                )
            )  # fmt: skip
        return tuple(found)

    def wind(self, site: WindSite) -> WindOnPanel | NotChecked:
        return wind.wind(self.tables, self.national, site)

    def free_stream(self, site: WindSite) -> tuple[Value, Value | None, str] | NotChecked:
        return wind.free_stream(self.tables, self.national, site)

    def weight_factor(self) -> Value:
        return self.tables.value("en1990_factors", "gamma_G_favourable")

    def weight_down_factor(self) -> Answer:
        return self.tables.value("en1990_factors", "gamma_G")

    def imposed_factor(self) -> Answer:
        return self.tables.value("en1990_factors", "gamma_Q")

    @property
    def lost_panel_as_whole(self) -> bool:
        """The design load across the gap, where the rules of the country have it so; it is never the smaller of the two."""
        return self.rule("lost_panel") is not None

    support_factor_on_fixings = True

    def support_factor(self) -> tuple[Value, str, str] | None:
        rule = self.rule("fixings")
        if rule is None:
            return None
        factor = self.tables.value("en1990_factors", "uncertain_fixing_uk").named("SF")
        remark = "what screws, blocking and its ends have to bear where any of them is uncertain; their checks stand without it"
        return factor, f"{rule[1]}: {rule[2]}", remark

    def glass_movement(self, height: Value) -> tuple[Value | None, str, str] | None:
        rule = self.rule("glass_movement")
        if rule is None or rule[0] is None:
            return None
        return glass.MOVEMENT(L_g=height.named("L_g"), w_g=rule[0].named("w_g")), rule[1], rule[2]
