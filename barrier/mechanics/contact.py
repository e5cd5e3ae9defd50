"""Rigid base plate on a timber bed, held down by screws: who presses where, and how hard each screw pulls.

The plate moves as u(x, y) = u0 + r_x y - r_y x, upward, lengths from a point of the caller's choice in the underside of
the plate. The bed pushes p = min(k <-u>, f) on what really bears, screws pull T = K <u>; <.> is the positive part.
Loads there are N downward, Mx and My doing work on r_x and r_y: Mx > 0 lifts the side y > 0, My > 0 the side x < 0.
Equilibrium is the minimum of the convex energy

    ∫ psi(-u) dA + sum K/2 <u_i>² + N u0 - Mx r_x - My r_y,      psi' = min(k <.>, f)

found by a semi-smooth Newton method with line search; integrals over the part of the bed in contact are exact. That
there is no equilibrium is an answer with a reason, not an error.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from barrier.mechanics.contact_bed import NOTHING, Bed, Screw, Symmetric, System, Vector, Zone
from barrier.mechanics.contact_collapse import collapse_factor, loosening
from barrier.mechanics.contact_newton import State, balance
from barrier.mechanics.contact_one_row import OneTensionRow, one_tension_row
from barrier.mechanics.polygons import clip_half_plane

__all__ = [
    "Bed",
    "Contact",
    "LimitFactor",
    "OneTensionRow",
    "RotationStiffness",
    "Screw",
    "Zone",
    "collapse_factor",
    "limit_factor",
    "one_tension_row",
    "pushed_beyond",
    "rotation_stiffness",
    "solve",
]

Floats = NDArray[np.float64]

AT_LIMIT = 1e-9  # relative distance of a tension from its limit that counts as reached
STEPWISE = 1e-6  # relative width at which the end of equilibrium is known well enough where it has no formula
NEAR_COLLAPSE = 1e-4  # share of the collapse factor left: nearer, the movement is beyond any meaning


@dataclass(frozen=True, eq=False)
class Contact:
    """The state of a base plate.

    equilibrium, and a reason in words where there is none; then all numbers are nan. T (n,) tension of each screw [N];
    p_max largest pressure [MPa]; area in contact [mm2]; u0 [mm], r_x, r_y, rotation = their resultant [rad];
    zone_force: push of the bed on the plate by name of zone [N]; zone_first: its first moments (∫p x dA, ∫p y dA)
    [N mm]; iterations, and residual of equilibrium relative to the forces at work.
    """

    equilibrium: bool
    reason: str
    T: Floats
    p_max: float
    area: float
    u0: float
    r_x: float
    r_y: float
    zone_force: dict[str, float]
    zone_first: dict[str, tuple[float, float]]
    iterations: int
    residual: float

    @property
    def rotation(self) -> float:
        """Rotation about whatever axis it has [rad]."""
        return float(np.hypot(self.r_x, self.r_y))

    @property
    def neutral_axis(self) -> tuple[float, float, float]:
        """a, b, c of the line a x + b y + c = 0 between what bears (negative) and what lifts."""
        return -self.r_y, self.r_x, self.u0

    def times(self, factor: float) -> Contact:
        """The state under so many times the load: of a bed that does not yield all grows with it but what touches.

        factor: above 0. Valid for an elastic bed, with the weight multiplied as well.

        >>> bed = Bed((Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece"),), 4.0)
        >>> once = solve(bed, [Screw(0, 35, 1e4)], 0.0, 1e5, 0.0)
        >>> bool(np.allclose(once.times(3.0).T, solve(bed, [Screw(0, 35, 1e4)], 0.0, 3e5, 0.0).T, rtol=1e-9))
        True
        """
        return Contact(
            self.equilibrium, self.reason, factor * self.T, factor * self.p_max, self.area,
            factor * self.u0, factor * self.r_x, factor * self.r_y,
            {name: factor * P for name, P in self.zone_force.items()},
            {name: (factor * x, factor * y) for name, (x, y) in self.zone_first.items()}, self.iterations, self.residual,
        )  # fmt: skip

    def zone_moment(self, name: str, x: float = 0.0, y: float = 0.0) -> tuple[float, float]:
        """Moments of the push on one zone [N mm]: (∫p (x' - x) dA, ∫p (y' - y) dA), about lines at x and y [mm]."""
        P, (Px, Py) = self.zone_force[name], self.zone_first[name]
        return Px - x * P, Py - y * P


class LimitFactor(NamedTuple):
    """Factor on the moment, what ends it there ("screw ..", "bed ..", ..), and the contact at that factor."""

    factor: float
    reason: str
    contact: Contact


class RotationStiffness(NamedTuple):
    """K_theta [N mm/rad] and lever_arm [mm] = moment over total tension; both 0 where the plate is not held."""

    K_theta: float
    lever_arm: float


def solve(bed: Bed, screws: Sequence[Screw], N: float, Mx: float, My: float) -> Contact:
    """Equilibrium of a base plate under N [N, downward], Mx and My [N mm] at the underside of the plate.

    Elastic where bed.f_yield is None, else elastic-perfectly plastic; screws stay elastic. ValueError for loads that
    are not finite. Valid for a plate that stays flat, small rotation, and k times area from 1e-5 to 1e9 of the screw
    stiffness; beyond, rounding ends the iteration and the answer is no equilibrium. Source: statics, convex
    minimisation; not a code rule.

    >>> zone = Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece")
    >>> screws = [Screw(x, y, 1e4) for y in (-35, 35) for x in (-35, 35)]
    >>> solve(Bed((zone,), 4.0), screws, 0.0, 495e3, 0.0).T.round(1).tolist()
    [0.0, 0.0, 3710.3, 3710.3]
    """
    _check_loads(N, Mx, My)
    system = System(bed, screws)
    state = balance(system, system.load(N, Mx, My))
    return _contact(system, state, "" if state.found else _reason(system, screws, N, Mx, My))


def limit_factor(
    bed: Bed, screws: Sequence[Screw], N: float, Mx: float, My: float, T_limit: ArrayLike, dN: float = 0.0,
    enough: float = float("inf"),
) -> LimitFactor:  # fmt: skip
    """Factor on the moment, weight held, at which the first screw reaches its limit or the bed its end.

    T_limit (n,) or scalar [N]; dN [N, downward] is a force that grows with the moment, beside the weight N that does
    not. The factor at which the worst screw is at T_limit (within 1e-9), else the last with equilibrium (for a bed that
    yields, 1e-4 short of its collapse). Returns factor 0 if the weight alone is too much, inf if there is neither moment
    nor dN. ValueError if a limit is negative or their number is another. Valid where the worst tension grows with the
    moment: so in every usual pattern; where two screws change places close to collapse it can dip by a part in ten
    thousand. enough: a factor beyond which nothing is asked; where it is reached, it is the answer.

    >>> zone = Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece")
    >>> screws = [Screw(x, y, 1e4, f"{x},{y}") for y in (-35, 35) for x in (-35, 35)]
    >>> found = limit_factor(Bed((zone,), 4.0), screws, 0.0, 495e3, 0.0, 4000.0)
    >>> round(found.factor, 4), found.reason
    (1.0781, 'screw -35,35 at its limit')
    """
    _check_loads(N, Mx, My)
    _check_loads(dN, Mx, My)
    limits = _limits(T_limit, len(screws)).tolist()
    system = System(bed, screws)
    path = _Path(system, limits, system.load(N, 0.0, 0.0), system.load(dN, Mx, My))
    start = path.over(0.0)
    if path.state is None:
        none = solve(bed, screws, N, 0.0, 0.0)
        return LimitFactor(0.0, f"no equilibrium without moment: {none.reason}", none)
    still = Mx == 0.0 and My == 0.0 and dN == 0.0
    if start > 0.0 or still:
        contact = _contact(system, path.state, "")
        if start > 0.0:
            return LimitFactor(0.0, f"{_name(screws, contact, limits)} beyond its limit without moment", contact)
        return LimitFactor(float("inf"), "no moment", contact)
    if math.isfinite(enough) and path.over(enough) <= 0.0:
        return LimitFactor(enough, "more than this is not asked", _contact(system, path.state, ""))
    # A force that grows with the moment has no collapse factor of its own: the end is then looked for step by step.
    collapse = collapse_factor(bed, screws, N, Mx, My) if dN == 0.0 else float("inf")
    factor, ended, state = path.first(start, collapse)
    contact = _contact(system, state, "")
    if ended == "screw":
        return LimitFactor(factor, f"{_name(screws, contact, limits)} at its limit", contact)
    if ended == "bed":
        return LimitFactor(factor, "bed at its strength wherever it can be", contact)
    return LimitFactor(factor, "end of equilibrium: nothing more holds the plate", contact)


def rotation_stiffness(bed: Bed, screws: Sequence[Screw], direction: tuple[float, float] = (1.0, 0.0)) -> RotationStiffness:
    """Moment over rotation of the elastic plate under a moment in the direction (Mx, My), without weight.

    Positively homogeneous: it holds at any level of load but only for this direction *and sign*. The rotation is its
    part about the axis of the moment. A bed strength is ignored. ValueError if the direction is (0, 0).

    >>> zone = Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece")
    >>> screws = [Screw(x, y, 1e4) for y in (-35, 35) for x in (-35, 35)]
    >>> K_theta, z = rotation_stiffness(Bed((zone,), 4.0), screws)
    >>> round(K_theta / 1e6, 3), round(z, 3)
    (40.183, 66.706)
    """
    m = float(np.hypot(*direction))
    if not (np.isfinite(m) and m > 0.0):
        raise ValueError(f"direction = {direction}; give the signs and shares of (Mx, My), not both 0")
    scale = 1e5 / m  # N mm; any would do
    Mx, My = direction[0] * scale, direction[1] * scale
    found = solve(Bed(bed.zones, bed.k), screws, 0.0, Mx, My)
    work = Mx * found.r_x + My * found.r_y
    if not found.equilibrium:
        return RotationStiffness(0.0, 0.0)
    return RotationStiffness(1e10 / work, 1e5 / float(found.T.sum()))


def _contact(system: System, state: State, reason: str) -> Contact:
    names = list(dict.fromkeys(z.name for z in system.bed.zones))
    if not state.found:
        nan = float("nan")
        return Contact(
            False, reason, np.full(len(system.placed), nan), nan, nan, nan, nan, nan,
            dict.fromkeys(names, nan), dict.fromkeys(names, (nan, nan)), state.iterations, state.residual,
        )  # fmt: skip
    q, k, f, L = state.q, system.bed.k, system.bed.f_yield, system.L
    (cx, cy), area = system.centre, 0.0
    force, first = dict.fromkeys(names, 0.0), dict.fromkeys(names, (0.0, 0.0))
    yields = f is not None and system.p_max(q) > f
    for zone, below, yielded in _by_zone(system, q, f / k if f is not None and yields else None):
        P, Py, minus_Px = (-k * v for v in below.times(q))
        if f is not None and yields:
            more = yielded.times((q[0] + f / k, q[1], q[2]))
            P, Py, minus_Px = P + k * more[0], Py + k * more[1], minus_Px + k * more[2]
        x, y = first[zone.name]
        force[zone.name] += P
        first[zone.name] = (x + cx * P - L * minus_Px, y + cy * P + L * Py)
        area += below.a00
    r_x, r_y = q[1] / L, q[2] / L
    p_max = f if f is not None and yields else system.p_max(q)
    return Contact(
        True, "", np.array(system.tensions(q)), p_max, area, q[0] - r_x * cy + r_y * cx, r_x, r_y,
        force, first, state.iterations, state.residual,
    )  # fmt: skip


def pushed_beyond(bed: Bed, contact: Contact, y: float, up: bool) -> tuple[float, float]:
    """Push of the bed on what of a plate lies beyond a line at ``y`` mm, and its moment about that line: N, N mm.

    bed and contact as they were solved; up: beyond it is where y is larger, else where it is smaller. Both are positive where
    the bed pushes; nan without equilibrium.

    >>> from barrier.mechanics.polygons import rectangle
    >>> bed = Bed((Zone(rectangle(-50, 50, -50, 50), "timber"),), 4.0)
    >>> pressed = solve(bed, [], 1000.0, 0.0, 0.0)
    >>> [round(x) for x in pushed_beyond(bed, pressed, 30.0, True)]  # a fifth of the plate, 10 mm from the line
    [200, 2000]
    """
    zones = _beyond(bed.zones, y, up)
    if not zones:
        return 0.0, 0.0
    system = System(Bed(zones, bed.k, bed.f_yield), ())
    (cx, cy), L = system.centre, system.L
    q = (contact.u0 + contact.r_x * cy - contact.r_y * cx, contact.r_x * L, contact.r_y * L)
    beyond = _contact(system, State(q, contact.equilibrium, 0, 0.0, NOTHING), "")
    force = sum(beyond.zone_force.values())
    moment = sum(first for _, first in beyond.zone_first.values()) - y * force
    return force, moment if up else -moment


@lru_cache(maxsize=256)
def _beyond(zones: tuple[Zone, ...], y: float, up: bool) -> tuple[Zone, ...]:
    """What of the zones lies beyond a line; asked for again with every load, and its sums are kept with it."""
    line = (0.0, -1.0, y) if up else (0.0, 1.0, -y)
    cut = ((clip_half_plane(z.polygon, *line), z) for z in zones)
    return tuple(Zone(polygon, z.name, z.holes) for polygon, z in cut if len(polygon) > 2)


def _by_zone(system: System, q: Vector, yield_level: float | None) -> Iterator[tuple[Zone, Symmetric, Symmetric]]:
    """Each zone with its integrals in contact, and where it has yielded."""
    if system.footprint is None:
        return
    below = system.footprint.below_by_zone(q, 0.0)
    yielded = [NOTHING] * len(below) if yield_level is None else system.footprint.below_by_zone(q, yield_level)
    yield from zip(system.bed.zones, below, yielded, strict=True)


def _reason(system: System, screws: Sequence[Screw], N: float, Mx: float, My: float) -> str:
    """Why there is no equilibrium, in words."""
    f, area = system.bed.f_yield, system.all.a00
    holding = [s.name or f"{i + 1}" for i, s in enumerate(screws) if s.K > 0.0]
    if loosening(system, system.load(N, Mx, My)) is not None:
        bears = "" if area > 0.0 else "nothing bears under the plate and "
        if not holding and N > 0.0:
            return f"{bears}no screw holds in timber: the weight of {N:.0f} N alone does not balance the moment"
        if not holding:
            return f"{bears}no screw holds in timber: nothing resists {'uplift' if N < 0.0 else 'the moment'}"
        return (
            f"{bears}the screws that hold ({', '.join(holding)}) cannot balance the load together with what bears: "
            f"the plate comes loose"
        )
    if f is not None and f * area <= N:
        return f"the weight of {N:.0f} N is more than the bed bears: {f:g} MPa on {area:.0f} mm2"
    factor = collapse_factor(system.bed, screws, N, Mx, My)
    if factor <= 1.0:
        return f"the bed collapses: at its strength it balances {factor:.2f} of the moment"
    return "no equilibrium was found: the load is at the limit of what bed and screws hold"


def _check_loads(N: float, Mx: float, My: float) -> None:
    if not (math.isfinite(N) and math.isfinite(Mx) and math.isfinite(My)):
        raise ValueError(f"N = {N} N, Mx = {Mx}, My = {My} N mm; loads are finite numbers")


def _limits(T_limit: ArrayLike, n: int) -> Floats:
    given = np.asarray(T_limit, dtype=float)
    if given.shape not in ((), (n,)) or np.isnan(given).any() or (given < 0.0).any():
        raise ValueError(f"T_limit = {given.tolist()}; give one number of 0 N or more, or one for each of {n} screws")
    return np.broadcast_to(given, (n,))


def _worst(T: Sequence[float], limits: Sequence[float]) -> tuple[float, int]:
    """Largest tension over limit and its number; infinite where a screw with limit 0 pulls, (0, 0) without screws."""
    shares = [t / limit if limit > 0.0 else (float("inf") if t > 0.0 else 0.0) for t, limit in zip(T, limits, strict=True)]
    largest = max(shares, default=0.0)
    return largest, shares.index(largest) if shares else 0


def _name(screws: Sequence[Screw], contact: Contact, limits: Sequence[float]) -> str:
    _, i = _worst(contact.T.tolist(), limits)
    return f"screw {screws[i].name or i + 1}"


class _Path:
    """The screws as the moment grows: how far the worst one is over its limit at a factor on the moment.

    ``state`` is the last equilibrium found, at the factor ``at``: the next one is looked for along its tangent.
    ``good`` is the one at the largest factor so far with every screw within its limit.
    """

    def __init__(self, system: System, limits: Sequence[float], fixed: Vector, turning: Vector) -> None:
        self.system, self.limits, self.fixed, self.turning = system, limits, fixed, turning
        self.state: State | None = None
        self.at, self.factor = 0.0, 0.0
        self.good: State | None = None

    def over(self, factor: float) -> float:
        """Largest T / limit less 1; inf where there is no equilibrium."""
        (a0, a1, a2), (b0, b1, b2) = self.fixed, self.turning
        state = balance(self.system, (a0 + factor * b0, a1 + factor * b1, a2 + factor * b2), self._start(factor))
        if not state.found:
            return float("inf")
        self.state, self.at = state, factor
        over = _worst(self.system.tensions(state.q), self.limits)[0] - 1.0
        if over <= AT_LIMIT and factor >= self.factor:
            self.factor, self.good = factor, state
        return over

    def first(self, start: float, collapse: float) -> tuple[float, str, State]:
        """The factor where a screw is at its limit or equilibrium ends, which of the two, and the state there.

        Newton's method on the worst screw, kept between a factor that is within and one that is beyond.
        """
        end = collapse * (1.0 - NEAR_COLLAPSE) if math.isfinite(collapse) else float("inf")
        assert self.good is not None  # the start is one
        low, high, x, over = 0.0, float("inf"), end / 2 if math.isfinite(end) else 1.0, start
        for step in range(200):
            if low >= end:
                return self.factor, "bed", self.good
            over = self.over(x)
            if abs(over) <= AT_LIMIT:
                return self.factor, "screw", self.good
            low, high = (x, high) if over < 0.0 else (low, x)
            if math.isfinite(high) and high - low <= (1e-12 if math.isfinite(end) else STEPWISE) * high:
                break
            x = self._next(low, high, over, end, halve=step % 8 == 7)
        return self.factor, "bed" if self.factor > 0.999 * collapse else "equilibrium", self.good

    def _start(self, factor: float) -> Vector | None:
        if self.state is None or not any(self.state.q):
            return None
        step = factor - self.at
        moves = self.state.follows(self.turning)
        q = self.state.q
        return q[0] + step * moves[0], q[1] + step * moves[1], q[2] + step * moves[2]

    def _next(self, low: float, high: float, over: float, end: float, halve: bool) -> float:
        guess = float("inf")
        if math.isfinite(over) and self.state is not None and self.system.placed:
            T = self.system.tensions(self.state.q)
            _, i = _worst(T, self.limits)
            K, y, minus_x = self.system.placed[i]
            moves = self.state.follows(self.turning)
            slope = K * (moves[0] + y * moves[1] + minus_x * moves[2])
            if T[i] > 0.0 and slope > 0.0:
                guess = self.at - over * self.limits[i] / slope
        if math.isinf(high):
            return min(guess if guess > low else 2.0 * low, 1e3 * low, end)
        return (low + high) / 2 if halve or not low < guess < high else guess
