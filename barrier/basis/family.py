"""What a family of codes must answer. Each answer is a value at the level of the combination, or says what is missing.

A family knows no job, no geometry and no polygons: values and small dataclasses go in. :class:`Family` answers every
question with *not in this basis* but four, which every family must answer itself: factors on actions and on weight, and the
constants of glass. A family of codes overrides what it has, so that a half-known code is honest from its first line.

Arguments that come again; every Value is in base units (N, mm, MPa, rad). ``nature`` "barrier" or "wind", ``use`` of the
building as the load table names it, ``combination`` of :meth:`Family.strength`, ``duration`` one of :attr:`Family.durations`,
``site`` a WindSite, ``key`` of a row of rules; ``location`` "face" or "edge" of the glass; ``timber``, ``screw``, ``driven`` as
the classes of ``parts``; ``l_ef`` length of thread in the wood, mm, ``b`` ``h`` width and depth of a section, mm, ``long_side``
``short_side`` the same whichever stands up, ``d`` diameter, mm; ``eta_y`` ``eta_z`` utilisations about two axes, ``eta_ax``
``eta_v`` of a screw pulled and pushed, ``pull`` ``push`` the two forces, N; ``rating`` a force or moment and its ``meaning``
("characteristic", "design" ...); ``kind`` "force" or "moment"; ``rule`` which distance; ``characteristic``: before any factor.
Answers are at the level of the combination: strengths in MPa, screws and brackets in N, distances in mm; or
:class:`~barrier.result.NotChecked` with what is missing. The clause is in the source of the equation of each answer.

>>> from barrier.basis import Timber, basis_named
>>> from barrier.tables import Tables
>>> en = basis_named("en", "uk", Tables())
>>> f_m_d = en.bending(Timber({"en": "C24"}, 3), en.strength("barrier"))
>>> round(f_m_d.x, 2), f_m_d.kind
(12.92, 'stress')
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from barrier.basis.interlayer import EffectiveThickness, TwoLayers
from barrier.basis.parts import Action, Answer, BothAtOnce, Driven, Fastener, Glass, Location, Nature, Timber
from barrier.basis.wind import WindOnPanel, WindSite
from barrier.editions import SUBJECTS, Edition
from barrier.result import Combination, Lack, NotChecked
from barrier.tables import TableOfValues, Tables
from barrier.value import Value


class Family(ABC):
    """Every question a link may ask, answered with *not in this basis* until a family answers it; abstract where it must."""

    key = ""
    title = ""
    documents: tuple[str, ...] = ()  # by title; ``{loads}`` and ``{timber}`` stand for the edition that is taken
    strength_level = "ultimate"
    durations: tuple[str, ...] = ()
    duration_of = "timber"  # what the duration of the barrier action changes here
    in_plane_unsaid = "the basis of this tool names no load along the barrier; shown as information"

    def __init__(self, tables: Tables, national: str = "", editions: Mapping[str, str] | None = None) -> None:
        self.tables = tables
        self.national = national
        self._wanted = dict(editions or {})
        self._taken: dict[str, Edition | None] = {}

    # ---- editions
    def edition(self, what: str) -> Edition | None:
        """The edition of a subject that is taken, ``"loads"`` or ``"timber"``: the one the job names, else the usual one.

        None where there is no choice of it. Raises UnknownRow for one there is none of.
        """
        if what not in self._taken:
            self._taken[what] = self.tables.editions.chosen(self.key, self.national, what, self._wanted.get(what))
        return self._taken[what]

    def _table_of(self, what: str, part: str) -> TableOfValues | None:
        edition = self.edition(what)
        return None if edition is None else self.tables.table(edition.tables[part])

    @property
    def editions(self) -> tuple[str, ...]:
        """Titles of the documents this family stands on, with the editions that are taken."""
        taken = {what: "" if (edition := self.edition(what)) is None else edition.title for what in SUBJECTS}
        return tuple(filter(None, (title.format(**taken) for title in self.documents)))

    @property
    def nationals(self) -> tuple[str, ...]:
        """National tables of loads there are for this family; none where it has one table for all."""
        return self.tables.editions.nationals(self.key)

    @property
    def any_direction(self) -> bool:
        """Whether the loads at the top edge also act along the barrier, down and up: a row of the rules of the edition."""
        return self.rule("any_direction") is not None

    @property
    def in_plane_words(self) -> str:
        """What the edition says of loads in the plane of the glass: a row of its rules."""
        said = self.rule("in_plane")
        return self.in_plane_unsaid if said is None else said[1]

    def _lack(self, what: str) -> NotChecked:
        return NotChecked(Lack.BASIS, f"{what} has no value in the {self.title} of this tool")

    # ---- actions
    @abstractmethod
    def strength(self, nature: Nature, use: str = "") -> Combination:
        """The combination strength is checked in, for a use of the building where a duration depends on it."""

    def accidental(self, nature: Nature, use: str = "") -> Combination:
        """The combination for a barrier that has lost a clamp or a layer: the characteristic action.

        A family without factors of its own for it takes those of strength; the factor on the action is then the one of
        :meth:`service`, which is 1.
        """
        strength = self.strength(nature, use)
        factor = self.service(nature).factor.named(strength.factor.symbol)
        return replace(strength, id=f"after damage, {nature}", factor=factor, situation="after damage")

    @abstractmethod
    def service(self, nature: Nature) -> Combination:
        """The combination movement is looked at in."""

    at_once_decides = False  # whether barrier load and wind in one combination decide, or inform
    at_once_words = "no combination of barrier load and wind was read in it; each is compared alone"

    def at_once(self, barrier: Combination, wind: Combination) -> tuple[BothAtOnce, ...]:
        """Combinations of barrier load and wind, from those of each alone; none where the code keeps them apart."""
        return ()

    def film_load(self, combination: Combination) -> str:
        """Row of the durations of an interlayer for a combination: of actions at once the one that lasts longer."""
        return f"{self.key} {'barrier' if 'barrier' in combination.natures else 'wind'}"

    def shorter(self, a: str, b: str) -> str:
        """The shorter of two durations ``a`` and ``b``, which are listed from the longest to the shortest."""
        return max(a, b, key=self.durations.index)

    def lasting(self, combination: Combination, duration: str) -> Combination:
        """A combination whose action lasts as long as the job argues for: one of :attr:`durations`."""
        return replace(combination, duration=duration)

    def actions(self, use: str) -> tuple[Action, ...] | NotChecked:
        """Characteristic actions for a use of the building."""
        return self._lack("the load on a barrier")

    def wind(self, site: WindSite) -> WindOnPanel | NotChecked:
        """Wind on a panel of a run that stands free, strip by strip, from what is known of the place."""
        return self._lack("the wind on a wall that stands free")

    def free_stream(self, site: WindSite) -> tuple[Value, Value | None, str] | NotChecked:
        """Pressure of the place for strength and for movement before any coefficient, and its source."""
        return self._lack("a pressure of the wind that a coefficient of the reader's may be put to")

    @abstractmethod
    def weight_factor(self) -> Value:
        """Factor on weight that holds down."""

    def weight_down_factor(self) -> Answer:
        """Factor on weight that adds to a load."""
        return self._lack("the factor on weight that adds to a load")

    def imposed_factor(self) -> Answer:
        """Factor on people and goods on a deck where they add to a load on its barrier."""
        return self._lack("the factor on people and goods on the deck")

    def rule(self, key: str) -> tuple[Value | None, str, str] | None:
        """A rule on heights, openings or kinds of glass: its length if it has one, its words, its source; None if there is none."""
        rules = self._table_of("loads", "rules")
        if rules is None or key not in rules.keys:
            return None
        row = rules.row(key)
        return row.value("value"), row.text("words"), f"{row.text('source')} {row.text('clause')} ({row.text('provenance')})"

    peak_bearing_decides = False  # whether the largest elastic pressure on timber is compared, beside the mean over the contact
    support_factor_on_fixings = False  # whether that factor is laid on the load of a fixing

    @property
    def lost_panel_as_whole(self) -> bool:
        """Whether a rail with a panel lost bears the load on a whole barrier, factors and all; else what is left after damage."""
        return False

    def support_factor(self) -> tuple[Value, str, str] | None:
        """A factor a code puts on what holds the glass beside its own checks, its words, and what to do with the moment."""
        return None

    def glass_movement(self, height: Value) -> tuple[Value | None, str, str] | None:
        """How far a rule lets glass of this height move from what holds it, its words and its source."""
        return None

    def timber_words(self, timber: Timber) -> tuple[str, str] | None:
        """What this family knows of a timber beside figures, and its source; None where there is nothing to say."""
        return None

    def for_scale(self) -> Family | None:
        """Another family whose figure may be shown, for scale only, where this one has none."""
        return None

    def others(self) -> Iterator[Family]:
        """The families whose figures may stand beside those of this one, the nearest first."""
        other = self.for_scale()
        while other is not None:
            yield other
            other = other.for_scale()

    # ---- glass
    def glass_minimum(self, nominal: Value) -> Answer:
        """Minimum thickness of a nominal one."""
        return self._lack("the minimum thickness of glass")

    @staticmethod
    def _no_minimum(sizes: Sequence[str]) -> NotChecked:
        """Why a nominal thickness has no minimum: it is none of the ``sizes`` the table has."""
        known = f"this is none of the nominal thicknesses known here: {', '.join(sizes)}"
        return NotChecked(Lack.INPUT, f"{known}; ask the glass supplier what it is, or for its minimum thickness (minimum)")

    @abstractmethod
    def glass_constants(self) -> tuple[Value, Value, Value]:
        """E, Poisson's ratio, weight per volume."""

    def glass_strength(self, glass: Glass, location: Location, combination: Combination) -> Answer:
        """Design or allowable stress on a face or at an edge."""
        return self._lack("the strength of glass")

    def glass_scope(self) -> str:
        """What the glass standard says it does not cover."""
        return ""

    def effective_thickness(self, two: TwoLayers) -> EffectiveThickness | NotChecked:
        """Thickness of a single sheet for a laminate of two layers, to print beside the layered limit."""
        return self._lack("an effective thickness of laminated glass")

    # ---- timber
    def timber_stiffness(self, timber: Timber) -> Answer:
        """Mean modulus along the grain."""
        return self._lack("the stiffness of timber")

    def timber_shear_stiffness(self, timber: Timber) -> Answer:
        """Mean shear modulus."""
        return self._lack("the shear stiffness of timber")

    def bearing(self, timber: Timber, combination: Combination, characteristic: bool = False) -> Answer:
        """Bearing strength perpendicular to the grain, without any spread."""
        return self._lack("bearing across the grain")

    def bending(self, timber: Timber, combination: Combination) -> Answer:
        """Bending strength."""
        return self._lack("bending of timber")

    def shear(self, timber: Timber, combination: Combination) -> Answer:
        """Shear strength, on the gross section, cracks allowed for."""
        return self._lack("shear of timber")

    def end_slip(self, driven: Driven) -> Answer:
        """Force per slip of the nails or screws in one end of a piece, in use."""
        return self._lack("the slip of nails and screws at the ends")

    def bent_both_ways(self, eta_y: Value, eta_z: Value) -> Answer:
        """Bending about both axes of a rectangle at once, from the two utilisations."""
        return self._lack("bending both ways at once")

    def bearing_factor(self, b: Value, beside: Value | None) -> Value | None:
        """Factor on bearing of length ``b`` along the grain, where a family has one in place of a spread; else None.

        ``beside`` as for :meth:`bearing_spread`.
        """
        return None

    def bearing_spread(self, b: Value, beside: Value | None) -> Answer:
        """How far bearing of length ``b`` may be taken to spread along the grain, each side, where there is wood.

        ``beside`` is the shorter piece of wood beside it along the grain; None where the wood runs on.
        """
        return self._lack("the spread of bearing along the grain")

    # ---- fasteners
    def withdrawal(self, screw: Fastener, timber: Timber, l_ef: Value, n: Value, combination: Combination) -> Answer:
        """Withdrawal of one screw of a group of ``n`` in tension, axis across the grain or, if the screw says so, along it."""
        return self._lack("screw withdrawal")

    def slant(self, theta: Value) -> Answer:
        """What withdrawal across the grain of a screw is worth in its own pull, driven ``theta`` off square to the grain."""
        return self._lack("withdrawal of screws driven at a slant")

    def sideways(self, screw: Fastener, timber: Timber, l_ef: Value, gap: Value, combination: Combination) -> Answer:
        """One screw pushed across the grain through a loose board of thickness ``gap``."""
        return self._lack("a screw pushed sideways through a loose board")

    unfactored = "characteristic"  # what an action is called before any factor
    wind_level = "characteristic"  # what a pressure of the wind is called
    wind_leads: tuple[str, ...] = ()  # entries of [wind] this family begins with, beside a pressure
    combined_is_squares = False  # whether what combined gives is a sum of squares, so that its root compares with others
    combined_by_angle = False  # whether it depends on which way the screw is pulled, and so on the two forces as well

    def combined(self, eta_ax: Value, eta_v: Value, pull: Value | None = None, push: Value | None = None) -> Answer:
        """Withdrawal and sideways together, from the two utilisations; and the two forces, where the angle counts."""
        return self._lack("withdrawal and sideways together")

    def splitting(self, timber: Timber, b: Value, h: Value, h_e: Value, combination: Combination) -> Answer:
        """Splitting of a piece pulled up by screws that reach ``h_e`` into its depth ``h``."""
        return self._lack("splitting of the blocking")

    def torsion(self, timber: Timber, long_side: Value, short_side: Value, combination: Combination) -> Answer:
        """Strength of a rectangular section in torsion."""
        return self._lack("torsion of the blocking")

    def screw_tension(self, screw: Fastener, combination: Combination) -> Answer:
        """Tension of the screw itself."""
        return self._lack("tension of the screw's steel")

    def plate_bending(self, f_y: Value, material: str | None = None) -> Answer:
        """Bending stress a steel plate of yield strength ``f_y`` may reach, elastically; least if nobody knows the ``material``."""
        return self._lack("bending of the steel base plate")

    def axial_spacing(self, rule: str, screw: Fastener) -> Answer:
        """Smallest distance for an axially loaded screw: a1, a2, a1_CG (end), a2_CG (edge)."""
        return self._lack("spacing of axially loaded screws")

    def row_spacing(self, d: Value, l_m: Value) -> Answer | None:
        """Least distance along the grain between rows of screws pushed across it, ``l_m`` in the wood; None if not asked."""
        return None

    def pushed_distance(self, rule: str, screw: Fastener) -> Answer | None:
        """Smallest edge (``a4_t``) or end distance (``a3_t``) of a screw pushed towards it; None where a pull asks for as much."""
        return None

    def least_thickness(self, d: Value) -> Answer | None:
        """Least thickness of the wood screws of diameter ``d`` are driven into; None where the code asks for none."""
        return None

    def driving_words(self, timber: Timber, d: Value) -> tuple[str, str] | None:
        """What the strengths of a screw of diameter ``d`` take for granted of the hole it is driven into, and its source."""
        return None

    def bracket(self, rating: Value, meaning: str, timber: Timber, combination: Combination) -> Answer:
        """A rated bracket or hanger at the level of the combination, for timber as wet as this."""
        return self._lack("a rated bracket")

    rating_words = "as the basis takes a rated bracket"  # how a mount's characteristic rating is brought to design, in words

    def mount_rating(self, rating: Value, timber: Timber, combination: Combination) -> Answer:
        """A mount's characteristic rating, of tests on timber, at the level of the combination: by the rule for a rated bracket."""
        return self.bracket(rating.named("R_k"), "characteristic", timber, combination)

    def driven_into_end(self, driven: Driven, combination: Combination, kind: str = "force") -> Answer:
        """Nails and screws in end grain that are known in number and size; the answer for unknown ones if nothing is better."""
        return self.end_grain(combination, kind)

    def end_grain(self, combination: Combination, kind: str = "force") -> Answer:
        """Nails and screws driven through the joist into the end grain of a blocking, loaded laterally."""
        return self._lack("fasteners in end grain")
