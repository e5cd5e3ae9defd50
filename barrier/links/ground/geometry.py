"""Where a mount stands: what really bears under its plate, which piece each screw reaches, and how deep.

Lengths are from the centre of the mount: x along the glass, y across it, positive towards the drop side; z is depth
below the underside of the screw heads.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple, TypeVar

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.job import Job
from barrier.job.schema import Blocking, Mount, ScrewInMount
from barrier.links.given import measured
from barrier.links.ground.pieces import Piece, Polygon, bearing_zones, board, edge_joist, pieces_of_blocking
from barrier.links.ground.stiffness import BEDS, SCREW_ULTIMATE, UNIT, screw_stiffness
from barrier.links.memo import Memo
from barrier.mechanics import contact
from barrier.mechanics.polygons import clip_half_plane
from barrier.result import Lack, NotChecked
from barrier.tables import Tables
from barrier.value import Value

T = TypeVar("T")
ANSWER = 2000  # bytes of one contact solution, about

THREAD = Equation(
    Symbol("l_ef", "length"),
    "max(min(L - l_tip, z_b + h_b) - max(L - l_thr, z_b), 0)",
    symbols("L:length, l_tip:length, z_b:length, h_b:length, l_thr:length"),
    "geometry: thread in the blocking, the tip not counted",
    "computed",
    title="thread of the screw in the blocking",
)
TOP_OF_BLOCKING = Equation(
    Symbol("z_b", "length"),
    "t_pl + t_p + t_d + g_d",
    symbols("t_pl:length, t_p:length, t_d:length, g_d:length"),
    "geometry: base plate, packers, decking, gap under the boards",
    "computed",
    title="from the screw head down to the blocking",
)
TOP_OF_BOARD = Equation(
    Symbol("z_b", "length"),
    "t_pl + t_p",
    symbols("t_pl:length, t_p:length"),
    "geometry: base plate and packers; the board is all there is",
    "computed",
    title="from the screw head down to the board",
)
LEVER = Equation(
    Symbol("h_0", "length"),
    "g_b - t_p",
    symbols("g_b:length, t_p:length"),
    "geometry: gap below the glass less the packers",
    "computed",
    title="from the underside of the base plate up to the bottom edge of the glass",
)


@dataclass(frozen=True, slots=True, eq=False)
class PlacedScrew:
    """A screw of a mount: where it stands, the piece it reaches (None: it misses all timber), its thread in it, its stiffness.

    Thread and stiffness are None as well where nobody knows how long the thread is, or how deep the timber lies.
    """

    name: str
    x: Value
    y: Value
    piece: int | None
    l_ef: Value | None
    K_low: Value | None
    K_high: Value | None


class InPlaneLoad(NamedTuple):
    """What a load in the plane of the glass does to a mount: weight [N, held], force down [N] and turn [N mm] that grow.

    A turn above 0 lifts the side x < 0: a push towards larger x.
    """

    weight: float
    down: float
    turn: float


@dataclass(frozen=True, slots=True)
class Wood:
    """The timber the screws hold in: its names by family, whether laminated in a factory, whether its grain runs along."""

    names: Mapping[str, str]
    laminated: bool
    along: bool


@dataclass(frozen=True, slots=True)
class Span:
    """How what is under a mount gives way as a whole: loose pieces bend up and down, a section twists, or it bends with
    the moment; ``a`` from its left holding point of ``L``, ``pieces`` of ``breadth`` x ``depth``, all in mm."""

    mode: Literal["loose", "twists", "bends"]
    a: float
    L: float
    pieces: int
    breadth: float
    depth: float


@dataclass(frozen=True, eq=False)
class MountModel:
    """A mount as it stands on what is really there.

    ``lacking`` says what must be known before anything can be solved; where not even the timber is known the rest is empty.
    ``at_ultimate``: strengths are compared at the ultimate state, where screws are softer; at an allowable level as in use.
    """

    mount: Mount
    blocking: Blocking | None
    wood: Wood | None
    pieces: tuple[Piece, ...]
    zones: tuple[contact.Zone, ...]
    screws: tuple[PlacedScrew, ...]
    packing: Value
    lever: Value
    z_blocking: Value | None
    beds: dict[str, Value]
    span: Span | None
    memo: Memo
    lacking: NotChecked | None = None
    at_ultimate: bool = True

    @property
    def name(self) -> str:
        """The mount's name in the job."""
        return str(self.mount.name)

    @property
    def piece_breadth(self) -> Value:
        """Breadth of one piece as it stands: all laminations together where it is laminated in a factory."""
        piece = self.pieces[0]
        path = f"blocking.{self.mount.blocking}" if self.blocking is not None else f"mounts.{self.name}"
        return measured(path, piece.high - piece.low, "breadth of a piece")

    @property
    def boards_only(self) -> bool:
        """Whether the mount stands on the decking and nothing else."""
        return str(self.mount.support) == "decking only"

    def stiffnesses(self, ultimate: bool = True) -> dict[str, Value]:
        """The ends of the bracket the contact was solved with, as inputs of its results; screws at the ultimate state or in use."""
        found = {f"k_b_{name}": value.named(f"k_b_{name}") for name, value in self.beds.items()}
        for s in self.screws:
            if s.K_low is None or s.K_high is None:
                continue
            for end, K in (("low", s.K_low), ("high", s.K_high)):
                softer = ultimate and self.at_ultimate
                name = f"K_u_{end}" if softer else f"K_{end}"
                found[name] = (SCREW_ULTIMATE(K_ser=K) if softer else K).named(name)
            break
        return found

    def bed(self, stiffness: str, f_yield: float | None = None) -> contact.Bed:
        """The timber bed of one stiffness set, elastic or yielding at ``f_yield``."""
        return contact.Bed(self.zones, float(self.beds[stiffness].x), f_yield)

    def contact_screws(self, end: str, ultimate: bool) -> tuple[contact.Screw, ...]:
        """The screws for the contact model at the low or high end of their stiffness."""
        found = []
        for s in self.screws:
            K = s.K_low if end == "soft" else s.K_high
            if K is not None and ultimate and self.at_ultimate:
                K = SCREW_ULTIMATE(K_ser=K)
            found.append(contact.Screw(float(s.x.x), float(s.y.x), float(K.x) if K is not None else 0.0, s.name))
        return tuple(found)

    def solve(self, bed: str, end: str, M: float, f: float | None = None, ultimate: bool = True, N: float = 0.0) -> contact.Contact:
        """Contact under a moment about the axis along the glass, and a weight N pressing down.

        Without weight, on a bed that does not yield, it is that under a unit moment times the moment, solved once for all.
        """
        if f is None and N == 0.0 and abs(M) > 0.0:
            unit = self._solved(bed, end, math.copysign(UNIT, M), None, ultimate, N)
            if unit.equilibrium:
                return unit.times(abs(M) / UNIT)
        return self._solved(bed, end, M, f, ultimate, N)

    def _solved(self, bed: str, end: str, M: float, f: float | None, ultimate: bool, N: float) -> contact.Contact:
        return self._once(
            ("solve", bed, end, M, f, ultimate, N),
            lambda: contact.solve(self.bed(bed, f), self.contact_screws(end, ultimate), N, M, 0.0),
        )

    def limit(self, bed: str, end: str, sign: float, f: float | None, R: float, N: float = 0.0) -> contact.LimitFactor:
        """Largest moment of one sign with every screw within ``R``, a weight N held: the factor is the moment in N mm."""
        limits = np.full(len(self.screws), R)
        return self._once(
            ("limit", bed, end, sign, f, R, N),
            lambda: contact.limit_factor(self.bed(bed, f), self.contact_screws(end, True), N, sign, 0.0, limits),
        )

    def limit_in_plane(
        self, bed: str, end: str, load: InPlaneLoad, f: float | None, R: float, enough: float
    ) -> contact.LimitFactor:
        """Largest factor on a load in the plane of the glass up to ``enough``, weight held, every screw within ``R``."""
        limits = np.full(len(self.screws), R)
        return self._once(
            ("in plane", bed, end, load, f, R, enough),
            lambda: contact.limit_factor(
                self.bed(bed, f), self.contact_screws(end, True), load.weight, 0.0, load.turn, limits, load.down, enough
            ),
        )

    def collapse(self, sign: float, f: float, N: float = 0.0) -> float:
        """Moment of one sign at which the bed is used up, a weight N held, N mm."""
        return self._once(
            ("collapse", sign, f, N),
            lambda: contact.collapse_factor(self.bed("soft", f), self.contact_screws("soft", True), N, sign, 0.0),
        )

    @cached_property
    def holds(self) -> bool:
        """Whether it has equilibrium on an elastic bed under a small moment, both ways."""
        return all(self.solve("soft", "soft", sign * UNIT).equilibrium for sign in (-1.0, 1.0))

    def in_contact(self, found: contact.Contact) -> list[Polygon]:
        """The polygons that bear in a solution, holes not taken out: what lies on the pressed side of its neutral axis."""
        a, b, c = found.neutral_axis
        if not found.equilibrium or (a == 0.0 and b == 0.0):
            return []
        return [p for p in (clip_half_plane(z.polygon, a, b, c) for z in self.zones) if len(p) > 2]

    def _once(self, what: tuple[object, ...], work: Callable[[], T]) -> T:
        """Equal ground gives equal answers: mounts that stand alike, and situations that leave them so, share them."""
        return self.memo.once("contact", (self.key, what), ANSWER, work)

    @cached_property
    def key(self) -> tuple[object, ...]:
        """Equal for mounts that stand on the same ground: their contact solutions are shared."""
        return (
            tuple(z.polygon.tobytes() + bytes(z.name, "utf8") for z in self.zones),
            tuple((h.tobytes()) for z in self.zones for h in z.holes),
            tuple((s.name, float(s.x.x), float(s.y.x), *(K and float(K.x) for K in (s.K_low, s.K_high))) for s in self.screws),
            tuple(float(k.x) for k in self.beds.values()),
            self.at_ultimate,
        )


def mount_model(job: Job, tables: Tables, mount: Mount, memo: Memo, at_ultimate: bool = True) -> MountModel:
    """Stand one mount of the job on its blocking; ``at_ultimate``: strengths are compared there, and not at an allowable level."""
    panel = job.panel_of(mount)
    packing = _packing(job, mount)
    lever = LEVER(g_b=panel.bottom_gap.named("g_b"), t_p=packing)
    beds = {name: tables.value("stiffness", row).named("k_b") for name, row in BEDS.items()}
    nothing = _no_timber_known(job, mount)
    if nothing is not None:
        return MountModel(mount, None, None, (), (), (), packing, lever, None, beds, None, memo, nothing, at_ultimate)
    t_pl = mount.plate.thickness.named("t_pl")
    if mount.support == "decking only":
        wood = Wood(job.decking.material, False, job.decking.direction == "along")
        blocking, pieces = None, board(job, mount)
        z: Value | None = TOP_OF_BOARD(t_pl=t_pl, t_p=packing)
        depth = job.decking.thickness
    elif mount.support == "edge joist":
        joists = job.joists
        assert joists.depth is not None
        wood = Wood(joists.material, False, True)
        blocking, pieces, depth = None, edge_joist(job, mount), joists.depth
        z = _below_the_boards(job, t_pl, packing)
    else:
        blocking = job.blocking[str(mount.blocking)]
        wood = Wood(blocking.material, blocking.laminated == "factory", blocking.direction == "along")
        pieces, depth = pieces_of_blocking(mount, blocking), blocking.laid_depth
        z = _below_the_boards(job, t_pl, packing)
    screws = tuple(_placed(tables, mount, depth, pieces, z, s) for s in mount.screws if s.present)
    span = _span(job, mount, blocking, pieces)
    zones, lacking = bearing_zones(mount, pieces), _not_known(job, mount)
    return MountModel(mount, blocking, wood, pieces, zones, screws, packing, lever, z, beds, span, memo, lacking, at_ultimate)


def _span(job: Job, mount: Mount, blocking: Blocking | None, pieces: Sequence[Piece]) -> Span | None:
    """What spans under a mount, where the job says enough of it."""
    a, joists = float(mount.in_bay.x), job.joists
    if blocking is not None:
        breadth, depth = pieces[0].high - pieces[0].low, float(blocking.laid_depth.x)
        if blocking.direction == "along":
            mode: Literal["loose", "twists", "bends"] = "loose" if len(pieces) > 1 else "twists"
        else:
            mode = "bends"
        return Span(mode, a, float(blocking.length.x), len(pieces), breadth, depth)
    if mount.support == "edge joist":
        if joists.restraint_spacing is None or joists.width is None or joists.depth is None:
            return None
        return Span("twists", a, float(joists.restraint_spacing.x), 1, float(joists.width.x), float(joists.depth.x))
    if joists.direction is None or joists.direction == job.decking.direction or a >= float(joists.spacing.x):
        return None
    mode = "twists" if job.decking.direction == "along" else "bends"
    assert job.decking.board_width is not None
    return Span(mode, a, float(joists.spacing.x), 1, float(job.decking.board_width.x), float(job.decking.thickness.x))


def _below_the_boards(job: Job, t_pl: Value, packing: Value) -> Value | None:
    gap = job.decking.gap_under
    if gap is None:
        return None
    return TOP_OF_BLOCKING(t_pl=t_pl, t_p=packing, t_d=job.decking.thickness.named("t_d"), g_d=gap.named("g_d"))


def _packing(job: Job, mount: Mount) -> Value:
    if mount.packers:
        return max((p.thickness for p in mount.packers), key=lambda t: float(t.x)).named("t_p")
    return measured(f"mounts.{mount.name}", 0.0, "no packers").named("t_p")


def _no_timber_known(job: Job, mount: Mount) -> NotChecked | None:
    """What of the timber itself is missing, without which nothing can be placed on it."""
    if mount.support == "decking only":
        missing = [k for k in ("board_width", "direction", "board_screws") if getattr(job.decking, k) is None]
        if missing:
            what = ", ".join(f"decking.{k}" for k in missing)
            return NotChecked(Lack.INPUT, f"a mount on decking only needs the boards themselves: {what}")
    if mount.support == "edge joist":
        missing = [k for k in ("width", "depth") if getattr(job.joists, k) is None]
        if missing:
            what = ", ".join(f"joists.{k}" for k in missing)
            return NotChecked(Lack.INPUT, f"a mount on an edge joist needs the joist itself: {what}")
    return None


def _not_known(job: Job, mount: Mount) -> NotChecked | None:
    """What must be known beside the timber before it can be said what a screw holds: only geometry says that it misses."""
    asked = []
    if mount.support != "decking only" and job.decking.gap_under is None:
        under = "edge joist" if mount.support == "edge joist" else "blocking"
        asked.append(f"the gap between boards and {under} (decking.gap_under); look from below")
    if any(s.present for s in mount.screws):
        if mount.screw.length is None:
            asked.append("how long the screws are (screw.length); take one out and measure it under its head")
        if mount.screw.threaded is None:
            asked.append("how long the thread of the screws is (screw.threaded); measure it, tip included")
    return NotChecked(Lack.INPUT, "; and ".join(asked)) if asked else None


ON_FACE = 1e-6  # mm


def _placed(
    tables: Tables, mount: Mount, depth: Value, pieces: Sequence[Piece], z: Value | None, screw: ScrewInMount
) -> PlacedScrew:
    kind = mount.screw
    x, y = screw.x, screw.y
    found = None
    for i, piece in enumerate(pieces):
        (x0, y0), (x1, y1) = piece.outline.min(axis=0), piece.outline.max(axis=0)
        # On the face of a piece, or in the joint of two, a screw holds in neither: the same on every side.
        if x0 + ON_FACE < float(x.x) < x1 - ON_FACE and y0 + ON_FACE < float(y.x) < y1 - ON_FACE:
            found = i
    name = screw.name
    if found is None or z is None or kind.length is None or kind.threaded is None:
        return PlacedScrew(name, x, y, found, None, None, None)
    l_ef = THREAD(
        L=kind.length.named("L"),
        l_tip=kind.tip.named("l_tip"),
        z_b=z,
        h_b=depth.named("h_b"),
        l_thr=kind.threaded.named("l_thr"),
    )
    if float(l_ef.x) <= 0.0:
        return PlacedScrew(name, x, y, None, l_ef, None, None)
    return PlacedScrew(name, x, y, found, l_ef, *screw_stiffness(tables, kind.diameter.named("d"), l_ef))
