"""How a base plate comes loose: loads no bed and screws can hold, and the collapse of a bed that yields.

The elastic answer is in :mod:`barrier.mechanics.contact`; here is the question whether there is one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.contact_bed import Bed, Screw, System, Vector

Floats = NDArray[np.float64]

HELD = 1e-9  # relative distance from the loads a bed and its screws can hold, below which a load counts as held
NO_MOMENT = 1e-100  # N mm: less has no direction that floating point could keep, and nobody could apply it
WIDEST = 4.0**14  # how far along the second direction of rotation a mechanism is looked for


def resists(system: System, load: Vector, f: float | None) -> bool:
    """False if a load (3,) has certainly no equilibrium on a bed of strength f [MPa], or None for an elastic one.

    The weight is moved to the centroid of the bed, which holds it best, and the rest is a moment with a collapse
    factor; 1 or less means there is no equilibrium.
    """
    if loosening(system, load) is not None:
        return False
    area = system.all.a00
    if f is None or area == 0.0:
        return True
    fixed = load[0] / area * np.array(system.all[:3])
    turning = np.array(load) - fixed
    if np.abs(turning).max() <= HELD * np.abs(load).max():
        return bool(load[0] < f * area)
    return _least_work(system, f, fixed, turning) > 1.0


def loosening(system: System, load: Vector) -> Floats | None:
    """A movement (3,) under which nothing resists and the load does work, or None if an elastic bed can hold the load.

    Equilibrium exists when the load is a sum of pushes at corners of the bed and pulls at screws with coefficients of
    at least zero; if not, the direction from the nearest such sum to the load lifts the plate off everything (Farkas'
    lemma). Found by non-negative least squares (C. L. Lawson, R. J. Hanson, Solving Least Squares Problems, ch. 23,
    from memory).
    """
    size = float(np.linalg.norm(load))
    if size == 0.0:
        return None
    pushes = system.footprint.corners if system.footprint is not None else np.zeros((0, 3))
    columns = np.concatenate((pushes, -system.held))
    target = np.array(load) / size
    found = np.zeros(len(columns))
    used: list[int] = []
    for _ in range(30 + 3 * len(columns)):
        rest = target - found @ columns
        if np.linalg.norm(rest) <= HELD:
            return None
        gain = columns @ rest
        gain[used] = 0.0
        if len(columns) == 0 or gain.max() <= HELD * np.linalg.norm(rest):
            break
        used.append(int(gain.argmax()))
        while used:
            trial = np.linalg.lstsq(columns[used].T, target, rcond=None)[0]
            if trial.min() > 0.0:
                break
            now = found[used]
            step = min(n / (n - t) for n, t in zip(now, trial, strict=True) if t <= 0.0)
            now = now + step * (trial - now)
            used = [i for i, v in zip(used, now, strict=True) if v > 1e-14]
            kept = now[now > 1e-14]
            found[:] = 0.0
            found[used] = kept
        found[:] = 0.0
        if used:
            found[used] = trial
    return -(target - found @ columns) * size


def collapse_factor(bed: Bed, screws: Sequence[Screw], N: float, Mx: float, My: float) -> float:
    """Largest factor on the moment, weight held, at which a bed that yields has equilibrium; screws take any pull.

    bed, screws: as for solve; N [N] downward, Mx, My [N mm] at the underside of the plate. Returns the factor; inf if
    the bed has no strength given or there is no moment; 0 if there is no equilibrium even at a vanishing moment.

    A movement u = u0 + r_x y - r_y x that stretches no screw (u <= 0 at each) costs the work f ∫<-u> dA in the bed.
    Equilibrium at the factor c means, by virtual work, f ∫<-u> dA + N u0 - c (Mx r_x + My r_y) >= 0 for all of them;
    where it fails for one, the plate runs away in that movement. So with Mx r_x + My r_y = 1

        c = min  f ∫<-u> dA + N u0        over movements that stretch no screw,

    and the theorems of plastic limit analysis say this upper bound is also reached. It is one convex minimisation: u0
    is eliminated (as high as the screws let it, unless f A(u < 0) = N comes first), the rotation is one number more,
    and the slope of the convex function of that number is brought to zero.

    Valid for a perfectly plastic bed of unlimited ductility. Source: virtual work, limit analysis (any plasticity
    text); not a code rule.

    >>> from barrier.mechanics.contact import Zone
    >>> zone = Zone([(-50, -50), (50, -50), (50, 50), (-50, 50)], "piece")
    >>> pair = [Screw(-35, 35, 1e4), Screw(35, 35, 1e4)]
    >>> round(collapse_factor(Bed((zone,), 4.0, 2.5), pair, 0.0, 1.0, 0.0))  # f b d²/2 = 2.5 * 100 * 85²/2
    903125
    """
    if not np.isfinite((N, Mx, My)).all():
        raise ValueError(f"N = {N} N, Mx = {Mx}, My = {My} N mm; loads are finite numbers")
    if bed.f_yield is None or np.hypot(Mx, My) < NO_MOMENT:
        return float("inf")
    system = System(bed, screws)
    fixed, turning = np.array(system.load(N, 0.0, 0.0)), np.array(system.load(0.0, Mx, My))
    return max(_least_work(system, bed.f_yield, fixed, turning), 0.0)


def _least_work(system: System, f: float, fixed: Floats, turning: Floats) -> float:
    """The least of f ∫<-u> + fixed . q with -turning . q = 1 and no screw stretched; -inf if there is none."""
    if fixed[0] >= f * system.all.a00 and fixed[0] > 0.0:
        return float("-inf")
    m = -turning[1:]
    along, across = m / (m @ m), np.array([-m[1], m[0]]) / (m @ m)
    line = _Line(system, f, fixed, along, across)
    low: float | None = None
    high: float | None = None
    for s in line.ties():
        left, right, value = line.slopes(s)
        if left <= 0.0 <= right:
            return value
        if left > 0.0:
            high = s
            break
        low = s
    return line.slopes(_flat(line, low, high))[2]


def _flat(line: _Line, low: float | None, high: float | None) -> float:
    """Where the slope of a convex function is zero; with an end not known, it is looked for."""
    a = low if low is not None else (high if high is not None else 0.0) - 1.0
    b = high if high is not None else a + 2.0
    d_a, d_b, width = line.slopes(a)[1], line.slopes(b)[0], 2.0
    while low is None and d_a > 0.0 and width < WIDEST:
        b, d_b, a = a, line.slopes(a)[0], a - width
        d_a, width = line.slopes(a)[1], 4.0 * width
    while high is None and d_b < 0.0 and width < WIDEST:
        a, d_a, b = b, line.slopes(b)[1], b + width
        d_b, width = line.slopes(b)[0], 4.0 * width
    if d_a >= 0.0 or d_b <= 0.0:
        return a if d_a >= 0.0 else b
    return zero_between(lambda s: line.slopes(s)[0], a, d_a, b, d_b)


def zero_between(
    f: Callable[[float], float], a: float, f_a: float, b: float, f_b: float, rtol: float = 1e-11, small: float = 0.0
) -> float:
    """Where f, of opposite signs at a and b, is zero: regula falsi in the Illinois form, halved where that is slow.

    Ends at |f| <= small, at rounding, or at an interval of rtol relative to its ends. f may be infinite at one end.

    Source: M. Dowell, P. Jarratt, BIT 11 (1971) 168-174 (from memory).

    >>> round(zero_between(lambda x: x * x - 2, 0.0, -2.0, 2.0, 2.0), 10)
    1.4142135624
    """
    size = max(abs(v) for v in (f_a, f_b) if np.isfinite(v))
    side = 0
    for step in range(200):
        # every fourth step halves: a jump or an infinite value must not stall the secant
        secant = np.isfinite(f_a) and np.isfinite(f_b) and step % 4 != 3
        x = (a * f_b - b * f_a) / (f_b - f_a) if secant else (a + b) / 2
        if not min(a, b) < x < max(a, b):
            x = (a + b) / 2
        f_x = f(x)
        if abs(f_x) <= max(1e-14 * size, small) or abs(b - a) <= rtol * (abs(a) + abs(b)):
            return x
        if (f_x > 0.0) == (f_b > 0.0):
            b, f_b = x, f_x
            f_a, side = (f_a / 2 if side == 1 else f_a), 1
        else:
            a, f_a = x, f_x
            f_b, side = (f_b / 2 if side == -1 else f_b), -1
    return (a + b) / 2


class _Line:
    """Work as a function of s, the rotation being along + s across, with u0 at its best; convex in s."""

    def __init__(self, system: System, f: float, fixed: Floats, along: Floats, across: Floats) -> None:
        self.system, self.f, self.fixed, self.along, self.across = system, f, fixed, along, across
        self.a, self.b = system.held[:, 1:] @ along, system.held[:, 1:] @ across

    def ties(self) -> list[float]:
        """The s at which two screws are the highest together: kinks of the function."""
        n = len(self.a)
        i, j = np.triu_indices(n, 1)
        slope = self.b[i] - self.b[j]
        # screws in one line across are never parted by s; a tie far out is noise, not a kink
        usable = np.abs(slope) * WIDEST > float(np.linalg.norm(self.across))
        s = -(self.a[i] - self.a[j])[usable] / slope[usable]
        top = (self.a[:, None] + self.b[:, None] * s).max(axis=0) if n else np.zeros(0)
        mine = self.a[i][usable] + self.b[i][usable] * s
        size = float(np.abs(self.a).max()) if n else 0.0
        return sorted(set(s[mine >= top - 1e-12 * (size + np.abs(top))].tolist()))

    def slopes(self, s: float) -> tuple[float, float, float]:
        """Slope on the left and on the right of s, and the value."""
        r = self.along + s * self.across
        heights = self.a + self.b * s
        u0, capped = self._best_u0(r, -float(heights.max()) if len(heights) else None)
        q = (u0, float(r[0]), float(r[1]))
        swept = np.array(self.system.below(q, 0.0)[:3])
        gradient = self.fixed - self.f * swept
        value, direct = float(gradient @ q), float(gradient[1:] @ self.across)
        if not capped:
            return direct, direct, value
        top = heights.max()
        highest = self.b[heights >= top - 1e-12 * (np.abs(heights).max())]
        return direct - gradient[0] * highest.min(), direct - gradient[0] * highest.max(), value

    def _best_u0(self, r: Floats, cap: float | None) -> tuple[float, bool]:
        N, f = float(self.fixed[0]), self.f
        corners = self.system.footprint.corners[:, 1:] @ r if self.system.footprint is not None else np.zeros(0)
        if len(corners) == 0:
            return (cap, True) if cap is not None else (0.0, False)
        low, high = -float(corners.max()), -float(corners.min())
        if cap is not None:
            if f * self._area(cap, r) >= N:
                return cap, True
            high = min(high, cap)
        elif N <= 0.0:
            return high, False
        over = f * self._area(low, r) - N
        left = f * self._area(high, r) - N
        if not over > 0.0 > left:
            return (high, False) if left >= 0.0 else (low, False)
        return zero_between(lambda u: f * self._area(u, r) - N, low, over, high, left), False

    def _area(self, u0: float, r: Floats) -> float:
        return self.system.below((u0, float(r[0]), float(r[1])), 0.0).a00
