"""Semi-smooth Newton method for the energy of a base plate on its bed.

The energy is convex with a continuous slope; its curvature jumps where a screw goes slack. The integrals are exact, so
the iteration ends at rounding, usually in 3 to 15 steps.
"""

from __future__ import annotations

from typing import NamedTuple

from barrier.mechanics.contact_bed import NOTHING, Symmetric, System, Vector
from barrier.mechanics.contact_collapse import resists

TIGHT = 1e-12  # relative residual at which the iteration stops
ENOUGH = 1e-9  # relative residual that still counts as equilibrium where rounding allows no better
STEPS = 80  # Newton steps
NO_LOAD = 1e-100  # N; below, squares of the load are no longer numbers
STRIDE = 10.0  # a step may be this many times the movement so far
RUNAWAY = 1e3  # times the movement of the bonded plate, beyond which it is asked whether the plate runs away


class State(NamedTuple):
    """Movement q of the plate in scaled unknowns, whether it is an equilibrium, steps taken, relative residual,
    and the stiffness the plate has there."""

    q: Vector
    found: bool
    iterations: int
    residual: float
    curvature: Symmetric

    def follows(self, load: Vector) -> Vector:
        """How q moves if the linear part of the energy grows by ``load``."""
        return _solve3(self.curvature, load)


def balance(system: System, load: Vector, start: Vector | None = None) -> State:
    """Elastic equilibrium, and from it the yielded one where the bed has a strength that is passed.

    load (3,) as of System.load; start, a movement near the answer if one is known. Returns the state; found is False
    where no equilibrium was reached.
    """
    f = system.bed.f_yield
    if start is not None and f is not None:
        state = _newton(system, load, f, start)
        if state.found:
            return state
    state = _newton(system, load, None, start)
    if f is None or not state.found or system.p_max(state.q) <= f:
        return state
    yielded = _newton(system, load, f, state.q)
    return yielded._replace(iterations=state.iterations + yielded.iterations)


class _Energy(NamedTuple):
    value: float
    slope: Vector
    curvature: Symmetric
    forces: float  # what is at work, to measure a residual by


def _energy(system: System, load: Vector, f: float | None, q: Vector) -> _Energy:
    k = system.bed.k
    below = system.below(q, 0.0)
    push0, push1, push2 = below.times(q)
    stored = 0.5 * k * (q[0] * push0 + q[1] * push1 + q[2] * push2)
    c00, c01, c02, c11, c12, c22 = below
    if f is not None:
        yielded = system.below(q, f / k)
        if yielded.a00 > 0.0:
            beyond = (q[0] + f / k, q[1], q[2])
            held_back = yielded.times(beyond)
            stored -= 0.5 * k * _dot(beyond, held_back)
            push0, push1, push2 = push0 - held_back[0], push1 - held_back[1], push2 - held_back[2]
            y00, y01, y02, y11, y12, y22 = yielded
            c00, c01, c02, c11, c12, c22 = c00 - y00, c01 - y01, c02 - y02, c11 - y11, c12 - y12, c22 - y22
    c00, c01, c02, c11, c12, c22 = k * c00, k * c01, k * c02, k * c11, k * c12, k * c22
    p0, p1, p2 = k * push0, k * push1, k * push2
    forces = max(abs(p0), abs(p1), abs(p2)) + max(abs(load[0]), abs(load[1]), abs(load[2]))
    for K, y, mx in system.screws:
        u = q[0] + y * q[1] + mx * q[2]
        if u > 0.0:
            T = K * u
            stored += 0.5 * T * u
            p0, p1, p2 = p0 + T, p1 + T * y, p2 + T * mx
            c00, c01, c02 = c00 + K, c01 + K * y, c02 + K * mx
            c11, c12, c22 = c11 + K * y * y, c12 + K * y * mx, c22 + K * mx * mx
            forces += T
    slope = (p0 + load[0], p1 + load[1], p2 + load[2])
    return _Energy(stored + _dot(load, q), slope, Symmetric(c00, c01, c02, c11, c12, c22), forces)


def _newton(system: System, load: Vector, f: float | None, start: Vector | None) -> State:
    """Minimise the energy by Newton's method; a step is shortened until it no longer overshoots."""
    if _largest(load) < NO_LOAD:
        return State((0.0, 0.0, 0.0), True, 0, 0.0, NOTHING)
    # how the plate would move if bed and screws held both ways: the start, and the measure of what is far
    bonded = _solve3(system.bonded, load)
    q = start if start is not None else bonded
    now = _energy(system, load, f, q)
    far, asked = RUNAWAY * _largest(bonded), False
    for step in range(STEPS):
        residual = _largest(now.slope) / now.forces
        if residual <= TIGHT:
            return State(q, True, step, residual, now.curvature)
        if not asked and _largest(q) > far:
            asked = True
            if not resists(system, load, f):
                return State(q, False, step, residual, now.curvature)
        d = _within(_solve3(now.curvature, now.slope), STRIDE * max(_largest(q), _largest(bonded)))
        q_new, new = _search(system, load, f, q, now, d, 30 if residual > ENOUGH else 3)
        if new is None:
            return State(q, residual <= ENOUGH, step, residual, now.curvature)
        q, now = q_new, new
    residual = _largest(now.slope) / now.forces
    return State(q, residual <= ENOUGH, STEPS, residual, now.curvature)


def _search(
    system: System, load: Vector, f: float | None, q: Vector, now: _Energy, d: Vector, tries: int
) -> tuple[Vector, _Energy | None]:
    """A step along d that lowers the energy and does not overshoot; None where rounding hides any progress."""
    down = _dot(now.slope, d)
    # what rounding may add to an energy: where the plate has moved far, large terms of a yielded bed cancel
    room = 1e-14 * (abs(now.value) + abs(_dot(load, q))) + 1e-15 * system.bed.k * system.all.a00 * _largest(q) ** 2
    t = 1.0
    for _ in range(tries):
        q_new = (q[0] + t * d[0], q[1] + t * d[1], q[2] + t * d[2])
        new = _energy(system, load, f, q_new)
        along = _dot(new.slope, d)
        gentle = along <= 0.5 * abs(down) or _largest(new.slope) < 0.5 * _largest(now.slope)
        if gentle and new.value <= now.value + room:
            return q_new, new
        t *= min(max(down / (down - along), 0.1), 0.9) if along > down else 0.5
    return q, None


def _solve3(A: Symmetric, g: Vector) -> Vector:
    """x of A x = -g for a positive semidefinite A, by elimination without pivots; lifted a little where singular."""
    lift = 1e-15 * (A.a00 + A.a11 + A.a22)
    if lift <= 0.0:
        return -g[0], -g[1], -g[2]
    d0 = A.a00 + lift
    l1, l2 = A.a01 / d0, A.a02 / d0
    d1 = max(A.a11 + lift - l1 * A.a01, lift)
    c12 = A.a12 - l1 * A.a02
    l3 = c12 / d1
    d2 = max(A.a22 + lift - l2 * A.a02 - l3 * c12, lift)
    y0 = -g[0]
    y1 = -g[1] - l1 * y0
    y2 = -g[2] - l2 * y0 - l3 * y1
    x2 = y2 / d2
    x1 = y1 / d1 - l3 * x2
    return y0 / d0 - l1 * x1 - l2 * x2, x1, x2


def _within(d: Vector, reach: float) -> Vector:
    """The step, shortened to the reach: a flat energy would send the plate to where rounding is all there is."""
    size = _largest(d)
    return d if size <= reach else (d[0] * reach / size, d[1] * reach / size, d[2] * reach / size)


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _largest(a: Vector) -> float:
    return max(abs(a[0]), abs(a[1]), abs(a[2]))
