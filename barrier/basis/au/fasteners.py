"""Fasteners by AS 1720.1: coach screws and wood screws pulled and pushed, end nails, brackets, distances, steel."""

from __future__ import annotations

from barrier.basis.au import joint_equations as eq
from barrier.basis.au.grades import Known, largest_below
from barrier.basis.au.timber import Members, key_of
from barrier.basis.parts import Answer, Driven, Fastener, Timber
from barrier.result import Combination, Lack, NotChecked
from barrier.tables import ROUNDING, Row
from barrier.value import Value

SAME_SIZE = 0.1  # mm; diameters closer than this are one size
COACH, WOOD, STRUCTURAL = "coach screw", "wood screw", "structural screw"
KIND = (
    'what kind of screw it is (screw.kind = "coach screw", "wood screw" or "structural screw"): a hexagon head and a thick '
    "shank are a coach screw; the table that holds for it follows from that"
)
NO_J = "wood screws in unseasoned or wet timber: the table of joint groups J was not read"
LOOSE_BOARD = (
    "a screw pushed sideways through a loose board between plate and blocking: no rule was read for a gap; AS 1720.1 counts parts "
    "that lie on one another"
)


class Joints(Members):
    """What a family of codes answers of fasteners, by AS 1720.1:2010."""

    def _phi_joint(self, fastener: str, timber: Timber) -> Value:
        return self._factor(f"phi_{fastener}_{timber.category}", "phi")

    def _k_1_joint(self, duration: str, symbol: str = "k_1") -> Value:
        return self._factor(f"k_1_joint_{key_of(duration)}", symbol)

    def _k_13(self, end_grain: bool) -> Value:
        return self._factor("k_13_end" if end_grain else "k_13_side", "k_13")

    def _group(self, timber: Timber) -> str | NotChecked:
        known = self.known(timber)
        return known.joint_group() if isinstance(known, Known) else known

    def _sized(self, table: str, group: str, d: Value, what: str) -> Row | NotChecked:
        """The row of a group for a diameter: of the largest size that is not above it."""
        rows = self.tables.table(table).rows
        row = largest_below(rows, group, d, SAME_SIZE)
        if row is not None:
            return row
        if any(r.text("group") == group for r in rows):
            return NotChecked(Lack.RANGE, f"{what} thinner than the smallest that is tabulated")
        return NotChecked(Lack.BASIS, f"{what} in joint group {group}: it was not read")

    # ---- pulled
    def withdrawal(self, screw: Fastener, timber: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        """Pulled along its axis; k_1 does not act on it."""
        fastener, Q_k = "nails" if screw.kind == WOOD else "coach", screw.Q_k
        if Q_k is None:
            found = self._own_withdrawal(screw, timber)
            if isinstance(found, NotChecked):
                return found
            Q_k = found
        return eq.WITHDRAWAL(
            phi=self._phi_joint(fastener, timber), k_13=self._k_13(screw.end_grain), l_p=l_ef.named("l_p"), Q_k=Q_k.named("Q_k")
        )

    def _own_withdrawal(self, screw: Fastener, timber: Timber) -> Answer:
        """Q_k of the tables, by kind of screw, joint group and size."""
        if screw.kind == STRUCTURAL:
            text = (
                "the supplier's characteristic withdrawal for each mm of thread in this joint group (screw.withdrawal_per_length, "
                "reference): a structural screw is no coach screw and no wood screw, and outside the standard's tables"
            )
            return NotChecked(Lack.INPUT, text)
        if screw.kind not in (COACH, WOOD):
            return NotChecked(Lack.INPUT, KIND)
        group = self._group(timber)
        if isinstance(group, NotChecked):
            return group
        if screw.kind == WOOD and not group.startswith("JD"):
            return NotChecked(Lack.BASIS, NO_J)
        row = self._sized("as1720_coach_screws" if screw.kind == COACH else "as1720_wood_screws", group, screw.d, screw.kind)
        if isinstance(row, NotChecked):
            return row
        Q_k = row.value("Q_k")
        assert Q_k is not None
        return Q_k

    def slant(self, theta: Value) -> Answer:
        return NotChecked(Lack.BASIS, "withdrawal of screws driven at a slant: nothing was found of it in AS 1720.1")

    def screw_tension(self, screw: Fastener, combination: Combination) -> Answer:
        """The steel of a coach screw; the tabulated value is a design value."""
        if screw.kind != COACH:
            return NotChecked(
                Lack.BASIS, f"tension of the steel of a {screw.kind or 'screw'}: only coach screws are tabulated; ask the supplier"
            )
        fits = [r for r in self.tables.table("as1720_coach_screw_steel").rows if r.numbers["D"] <= screw.d.at(0) + SAME_SIZE]
        if not fits:
            return NotChecked(Lack.RANGE, "a coach screw thinner than the smallest that is tabulated")
        row = max(fits, key=lambda r: r.numbers["D"])
        if screw.f_u is not None and screw.f_u.at(0) < row.numbers["f_u"] * (
            1 - ROUNDING
        ):  # written in psi it may fall short by one bit
            return NotChecked(Lack.RANGE, "steel weaker than the grade 4.6 the table is of")
        if screw.f_u is None and screw.material == "stainless":
            return NotChecked(
                Lack.INPUT, "tensile strength of the stainless screw: with 400 MPa or more the value of grade 4.6 holds"
            )
        N_tc = row.value("N_tc")
        assert N_tc is not None
        return N_tc.named("N_tc")

    # ---- pushed sideways
    def sideways(self, screw: Fastener, timber: Timber, l_ef: Value, gap: Value, combination: Combination) -> Answer:
        """A screw pushed across the grain where the plate lies on the wood; through a loose board there is no rule."""
        if gap.at(0) > 0.0:
            return NotChecked(Lack.BASIS, LOOSE_BOARD)
        group = self._group(timber)
        if isinstance(group, NotChecked):
            return group
        if screw.kind == COACH:
            Q_sk = self._coach_across(screw, group, l_ef)
        elif screw.kind == WOOD:
            Q_sk = self._wood_screw_across(screw, group, l_ef)
        else:
            return NotChecked(Lack.INPUT, KIND)
        if isinstance(Q_sk, NotChecked):
            return Q_sk
        return eq.SIDEWAYS(
            phi=self._phi_joint("coach" if screw.kind == COACH else "nails", timber), k_1=self._k_1_joint(combination.duration),
            k_13=self._k_13(screw.end_grain), k_16=self._factor("k_16_wood", "k_16"), k_17=self._factor("k_17_one", "k_17"),
            Q_sk=Q_sk.named("Q_sk"),
        )  # fmt: skip

    def _wood_screw_across(self, screw: Fastener, group: str, l_ef: Value) -> Answer:
        least = self.tables.value("as1720_spacings", "nail_second_member", "m").at(0)
        if l_ef.at(0) < least * screw.d.at(0):
            return NotChecked(Lack.RANGE, f"the wood screw reaches less than {least:g} diameters into the piece (AS 1720.1 4.2.3)")
        row = self._sized("as1720_wood_screws", group, screw.d, "a wood screw")
        value = row if isinstance(row, NotChecked) else row.value("Q_sk")
        return NotChecked(Lack.BASIS, NO_J) if not group.startswith("JD") or value is None else value

    def _coach_across(self, screw: Fastener, group: str, l_ef: Value) -> Answer:
        table = self.tables.table("as1720_bolts")
        if group not in table.keys:
            return NotChecked(
                Lack.BASIS, f"bolts and coach screws pushed sideways in joint group {group}: its rows were not usable"
            )
        least = self.tables.value("as1720_spacings", "coach_penetration", "m")
        if l_ef.at(0) < least.at(0) * screw.d.at(0):
            return NotChecked(Lack.RANGE, "the coach screw reaches less than 4 diameters into the piece (AS 1720.1 4.5.2)")
        row = table.row(group)
        f_pj, K = row.value("f_pj"), row.value("K")
        assert f_pj is not None and K is not None
        return eq.BOLT_ACROSS(b_ef=l_ef.named("b_ef"), D=screw.d.named("D"), f_pj=f_pj, K=K)

    def combined(self, eta_ax: Value, eta_v: Value, pull: Value | None = None, push: Value | None = None) -> Answer:
        return eq.PULLED_AND_PUSHED(eta_ax=eta_ax, eta_v=eta_v)

    # ---- the ends of the pieces
    def driven_into_end(self, driven: Driven, combination: Combination, kind: str = "force") -> Answer:
        """Nails or wood screws through the joist into end grain, loaded sideways: 0.6 of side grain; turning is their couple."""
        if kind != "force":
            return self._turning(driven, combination)
        if driven.d is None or driven.length is None or driven.side is None:
            return NotChecked(
                Lack.INPUT, f"diameter and length of the {driven.kind} at the ends, and the width of the joist they go through"
            )
        lack = self._reaches(driven.d, driven.length, driven.side)
        Q_k = lack if lack is not None else self._end_fastener(driven, driven.d)
        if isinstance(Q_k, NotChecked):
            return Q_k
        green = any(not str(self._group(t)).startswith("JD") for t in (driven.side_timber, driven.timber))
        return eq.NAILS(
            phi=self._phi_joint("nails", driven.timber), k_1=self._k_1_joint(combination.duration), k_13=self._k_13(True),
            k_14=self._factor("k_14_single", "k_14"), k_16=self._factor("k_16_wood", "k_16"),
            k_17=self._row_factor(driven.number, green), n=driven.number.named("n"), Q_k=Q_k.named("Q_k"),
        )  # fmt: skip

    def _turning(self, driven: Driven, combination: Combination) -> Answer:
        if driven.number.at(0) < 2:
            return NotChecked(Lack.BASIS, "one nail or screw in end grain holds nothing against turning")
        if driven.apart is None or driven.apart.at(0) <= 0.0:
            text = "how far apart the highest and the lowest nail or screw stand at the ends (highest, lowest); measure both"
            return NotChecked(Lack.INPUT, text)
        together = self.driven_into_end(driven, combination)
        if isinstance(together, NotChecked):
            return together
        return eq.TURNING(N_d_n=together.named("N_d_n"), n=driven.number.named("n"), s_e=driven.apart.named("s_e"))

    def _reaches(self, d: Value, length: Value, side: Value) -> NotChecked | None:
        """Whether a nail or screw is in enough wood on both sides."""
        first, second = (self.tables.value("as1720_spacings", f"nail_{p}_member", "m").at(0) for p in ("first", "second"))
        depth = eq.IN_SECOND(L_n=length.named("L_n"), t_1=side.named("t_1"))
        if side.at(0) < first * d.at(0):
            return NotChecked(Lack.RANGE, f"the joist is thinner than {first:g} diameters of the nail or screw (AS 1720.1 4.2.3)")
        if depth.at(0) < second * d.at(0):
            return NotChecked(Lack.RANGE, f"less than {second:g} diameters of the nail or screw are in the piece (AS 1720.1 4.2.3)")
        return None

    def _end_fastener(self, driven: Driven, d: Value) -> Answer:
        """Characteristic sideways load of one, in the weaker of joist and piece."""
        groups = [self._group(t) for t in (driven.side_timber, driven.timber)]
        named = [g for g in groups if isinstance(g, str)]
        if len(named) < len(groups):
            return next(g for g in groups if isinstance(g, NotChecked))
        weakest = max(g[-1:] for g in named)  # of J and JD alike, 1 to 6
        wet = any(not g.startswith("JD") for g in named)
        nails = driven.kind == "nails"
        if wet and not nails:
            return NotChecked(Lack.BASIS, NO_J)
        row = self._sized("as1720_nails" if nails else "as1720_wood_screws", f"JD{weakest}", d, f"{driven.kind}")
        if isinstance(row, NotChecked):
            return row
        Q_k = row.value("Q_k" if nails else "Q_sk")
        assert Q_k is not None
        return eq.NAIL_WET(r_J=self._factor("r_J", "r_J"), Q_k_JD=Q_k.named("Q_k_JD")) if wet else Q_k

    def _row_factor(self, n: Value, unseasoned: bool) -> Value:
        """k_17 of the next longer row of fasteners."""
        tail = "unseasoned" if unseasoned else "seasoned"
        keys = [k for k in self.tables.table("as1720_factors").keys if k.startswith(f"k_17_{tail}_")]
        steps = sorted((int(k.rpartition("_")[-1]), k) for k in keys)
        if n.at(0) < steps[0][0]:
            return self._factor("k_17_one", "k_17")
        return self._factor(next((k for most, k in steps if n.at(0) <= most), steps[-1][1]), "k_17")

    def end_grain(self, combination: Combination, kind: str = "force") -> Answer:
        more = "" if kind == "force" else ", and how far apart the highest and the lowest stand"
        text = f"number and size of the nails or screws at the ends{more}: in end grain they count 0.6 of side grain"
        return NotChecked(Lack.INPUT, text)

    def bracket(self, rating: Value, meaning: str, timber: Timber, combination: Combination) -> Answer:
        k_1 = self._k_1_joint(combination.duration)
        if meaning == "design":
            by = eq.BRACKET_DESIGN_TORQUE if rating.kind == "moment" else eq.BRACKET_DESIGN
            wind = self._k_1_joint(self.strength("wind").duration, "k_1_wind")
            return by(R_p=rating.named("R_p"), k_1=k_1, k_1_wind=wind)
        if meaning != "characteristic":
            text = (
                f'a bracket rated as {meaning}: this basis needs the characteristic value or a design capacity (meaning = "design")'
            )
            return NotChecked(Lack.INPUT, text)
        by = eq.BRACKET_TORQUE if rating.kind == "moment" else eq.BRACKET
        return by(phi=self._phi_joint("nails", timber), k_1=k_1, R_k=rating.named("R_k"))

    # ---- distances, steel
    def axial_spacing(self, rule: str, screw: Fastener) -> Answer:
        """Remembered distances; a coach screw is pushed across the grain either way, so an edge counts as a loaded one."""
        if screw.kind not in (COACH, WOOD):
            text = KIND if screw.kind is None else "distances of a structural screw: the supplier's approval has them"
            return NotChecked(Lack.INPUT, text)
        key = f"{'coach' if screw.kind == COACH else 'wood'}_{rule}"
        return eq.SPACING(m=self.tables.value("as1720_spacings", key, "m").named("m"), d=screw.d)

    def plate_bending(self, f_y: Value, material: str | None = None) -> Answer:
        """Carbon steel by AS 4100; stainless, and what nobody knows, by the remembered factor of AS/NZS 4673, the lower one."""
        words = (material or "").lower()
        if "alumin" in words:
            return NotChecked(Lack.BASIS, "bending of an aluminium base plate: AS/NZS 1664 was not read; ask the supplier")
        if any(word in words for word in ("carbon", "mild", "galvani")):
            return eq.PLATE(phi=self.tables.value("as4100_factors", "phi_bending").named("phi"), f_y=f_y)
        return eq.PLATE_STAINLESS(phi=self.tables.value("as4673_factors", "phi_bending").named("phi"), f_y=f_y)
