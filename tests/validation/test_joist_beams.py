"""The joist as a beam, by two other routes: beam elements that know no table, and published closed forms.

Beam elements: Hermite cubic, one beam on two supports with an overhang, solved here; nothing of the tool's mechanics.
Closed forms: Roark's Formulas for Stress and Strain, Table 8.1 case 3e (concentrated intermediate moment on a beam with simple
supports), and AISC Steel Construction Manual Table 3-23 case 1 (uniform load) and cases with an overhang; from memory, and each is
a line of statics.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from barrier.links.joist import beam
from barrier.value import JobEntry, Value

EXACT = 1e-9  # relative, rounding of the elements' solution
E, b, h = 11_000.0, 45.0, 195.0
I_b = b * h**3 / 12


def value(x: float, kind: str) -> Value:
    return Value(float(x), kind, JobEntry("a test", f"{x:g}"))


class Beam:
    """A beam from -c (free end) over the supports at 0 and L, of Hermite elements between the given places."""

    def __init__(self, L: float, c: float, places: list[float]) -> None:
        self.x = np.unique(np.round([-c, 0.0, L, *places, *np.linspace(-c, L, 41)], 9))
        n = 2 * len(self.x)
        self.K = np.zeros((n, n))
        for i, d in enumerate(np.diff(self.x)):
            k = np.array([[12, 6 * d, -12, 6 * d], [6 * d, 4 * d * d, -6 * d, 2 * d * d],
                          [-12, -6 * d, 12, -6 * d], [6 * d, 2 * d * d, -6 * d, 4 * d * d]])  # fmt: skip
            self.K[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += E * I_b / d**3 * k
        self.held = [2 * self.at(0.0), 2 * self.at(L)]
        self.f = np.zeros(n)

    def at(self, place: float) -> int:
        return int(np.argmin(np.abs(self.x - place)))

    def solve(self) -> Beam:
        free = np.setdiff1d(np.arange(len(self.f)), self.held)
        self.u = np.zeros(len(self.f))
        self.u[free] = np.linalg.solve(self.K[np.ix_(free, free)], self.f[free])
        self.R = (self.K @ self.u - self.f)[self.held]
        ends = []
        for i, d in enumerate(np.diff(self.x)):
            w1, t1, w2, t2 = self.u[2 * i : 2 * i + 4]
            ends.append(
                E * I_b / d**2 * np.array([-6 * w1 - 4 * d * t1 + 6 * w2 - 2 * d * t2, 6 * w1 + 2 * d * t1 - 6 * w2 + 4 * d * t2])
            )
        self.M = np.array(ends)
        return self

    def couple(self, place: float, M: float) -> Beam:
        self.f[2 * self.at(place) + 1] += M
        return self

    def force(self, place: float, P: float) -> Beam:
        self.f[2 * self.at(place)] += P
        return self


CASES = [
    (2400.0, 0.0, 150.0),
    (2400.0, 300.0, -200.0),
    (2400.0, 300.0, -300.0),
    (3000.0, 0.0, 1500.0),
    (1800.0, 400.0, 0.0),
    (2000.0, 0.0, 0.0),
]


@pytest.mark.parametrize(("L", "c", "s"), CASES)
def test_a_couple_on_a_joist(L: float, c: float, s: float) -> None:
    """Peak of bending, reactions and the turn at the couple, in the span and on the overhang."""
    M0 = 0.5e6
    found = Beam(L, c, [s]).couple(s, M0).solve()
    place = {"s_J": value(s, "length"), "L_J": value(L, "length")}
    peak = beam.OF_COUPLE(M_J=value(M0, "moment"), **place)
    assert peak.at(0) == pytest.approx(np.abs(found.M).max(), rel=1e-7)
    none = {"P_J": value(0, "force"), "w_J": value(0, "line load")}
    down = beam.INNER_DOWN(M_J=value(M0, "moment"), **place, **none)
    assert np.abs(found.R) == pytest.approx([down.at(0)] * 2, rel=1e-7)
    turn = beam.ANGLE(
        r_l=value(1, "ratio"), M_l=value(M0, "moment"), r_r=value(0, "ratio"), M_r=value(0, "moment"),
            l_J=beam.TURNING_LENGTH(**place),
        E_J=value(E, "stress"), I_J=value(I_b, "inertia"),
    )  # fmt: skip
    assert turn.at(0) == pytest.approx(abs(found.u[2 * found.at(s) + 1]), rel=1e-6)


def test_the_couple_by_the_published_form() -> None:
    """Roark Table 8.1 case 3e: R = M0/l; moments M0 a/l and M0 (1 - a/l) beside it; slope there (M0/3EI)(l - 3a + 3a^2/l).

    From memory; with a = l/2 the slope is M0 l/(12 E I_b), which every table of beams has.
    """
    L, M0 = 2400.0, 0.5e6
    for a in (300.0, 1200.0, 2000.0):
        place = {"s_J": value(a, "length"), "L_J": value(L, "length")}
        assert beam.OF_COUPLE(M_J=value(M0, "moment"), **place).at(0) == pytest.approx(M0 * max(a / L, 1 - a / L), rel=EXACT)
        turn = beam.ANGLE(
            r_l=value(1, "ratio"), M_l=value(M0, "moment"), r_r=value(0, "ratio"), M_r=value(0, "moment"),
            l_J=beam.TURNING_LENGTH(**place),
            E_J=value(E, "stress"), I_J=value(I_b, "inertia"),
        )  # fmt: skip
        assert turn.at(0) == pytest.approx(M0 / (3 * E * I_b) * (L - 3 * a + 3 * a**2 / L), rel=EXACT)
    assert M0 / (3 * E * I_b) * (L - 1.5 * L + 0.75 * L) == pytest.approx(M0 * L / (12 * E * I_b), rel=EXACT)


@pytest.mark.parametrize(("L", "c", "s"), CASES)
def test_a_weight_on_a_joist(L: float, c: float, s: float) -> None:
    P = 400.0
    found = Beam(L, c, [s]).force(s, -P).solve()
    place = {"s_J": value(s, "length"), "L_J": value(L, "length")}
    assert beam.OF_WEIGHT(P_J=value(P, "force"), **place).at(0) == pytest.approx(np.abs(found.M).max(), rel=1e-7, abs=1e-3)
    none = {"M_J": value(0, "moment"), "w_J": value(0, "line load")}
    outer = beam.OUTER_DOWN(P_J=value(P, "force"), **place, **none, c_o=value(c, "length"))
    assert outer.at(0) == pytest.approx(found.R[0], rel=1e-7)
    inner = beam.INNER_DOWN(P_J=value(P, "force"), **place, **none)
    assert inner.at(0) == pytest.approx(max(found.R[1], 0.0), rel=1e-7, abs=1e-6)
    both = beam.INNER_DOWN_LIFTED(P_J=value(P, "force"), U_J=value(0, "force"), **place, **none)
    assert both.at(0) == inner.at(0)
    lifted = beam.INNER_DOWN_LIFTED(P_J=value(0, "force"), U_J=value(P, "force"), **place, **none)
    assert lifted.at(0) == pytest.approx(max(-found.R[1], 0.0), rel=1e-7, abs=1e-6)


def test_a_load_all_along() -> None:
    """Uniform load, AISC Manual Table 3-23: w l^2/8 in the span, w a^2/2 at the support of an overhang; outer R w (l + a)^2/2l."""
    w, L, c = 2.0, 2400.0, 600.0
    given = {"w_J": value(w, "line load"), "L_J": value(L, "length"), "c_o": value(c, "length")}
    assert beam.OF_LOAD(**given).at(0) == pytest.approx(w * L**2 / 8)
    assert beam.OF_LOAD(**{**given, "c_o": value(2000, "length")}).at(0) == pytest.approx(w * 2000**2 / 2)
    none = {"M_J": value(0, "moment"), "P_J": value(0, "force"), "s_J": value(0, "length")}
    assert beam.OUTER_DOWN(**given, **none).at(0) == pytest.approx(w * (L + c) ** 2 / (2 * L))
    up = beam.INNER_UP(
        **none, U_J=value(0, "force"), L_J=given["L_J"], c_o=given["c_o"], f_Qi=value(1.5, "ratio"), q_J=value(1.0, "line load")
    )
    assert up.at(0) == pytest.approx(1.5 * 1.0 * c**2 / (2 * L))  # a full overhang lifts the inner end
    weight = {"f_Gf": value(0.9, "ratio"), "g_J": value(0.2, "line load"), "L_J": given["L_J"], "c_o": given["c_o"]}
    nothing = value(0, "force")
    held = [e(R_up=nothing, **weight).at(0) for e in (beam.OUTER_HELD, beam.INNER_HELD)]
    assert held == pytest.approx([0.9 * 0.2 * (L + c) ** 2 / (2 * L), 0.9 * 0.2 * (L**2 - c**2) / (2 * L)])
    assert sum(held) == pytest.approx(0.9 * 0.2 * (L + c))


@pytest.mark.parametrize("c", [0.0, 600.0, 2000.0])
def test_the_shear_of_a_section(c: float) -> None:
    """Three halves of the mean (a rectangle). A couple: M/L all along. A force: all of it beside a support, at the worst.

    A load all along: beside the outer support what it bears less what lies on the overhang, by the moment about the inner one.
    """
    w, L, M, P = 2.0, 2400.0, 3e6, 400.0
    beside = w * (L + c) * (L + c) / 2 / L - w * c
    loads = {"M_J": value(M, "moment"), "P_J": value(P, "force"), "w_J": value(w, "line load")}
    given = {"L_J": value(L, "length"), "c_o": value(c, "length"), "b_J": value(b, "length"), "h_J": value(h, "length")}
    for only, V in (("M_J", M / L), ("P_J", P), ("w_J", beside), ("", M / L + P + beside)):
        some = {n: v if only in ("", n) else value(0, v.kind) for n, v in loads.items()}
        assert beam.SHEAR(**some, **given).at(0) == pytest.approx(3 / 2 * V / (b * h), rel=EXACT), only


def test_mounts_further_apart_than_a_joist_is_long_come_one_at_a_time() -> None:
    """Twice as far apart as the span: never two on the joist, and one beside a support is all of its force there."""
    P, L = 1000.0, 900.0
    tau = beam.SHEAR_OF_ROW(
        P_J=value(P, "force"), L_J=value(L, "length"), p_m=value(2 * L, "length"), c_o=value(0, "length"),
        w_J=value(0, "line load"), b_J=value(b, "length"), h_J=value(h, "length"),
    )  # fmt: skip
    assert tau.at(0) == pytest.approx(3 / 2 * P / (b * h), rel=EXACT)


def test_a_load_all_along_beside_a_row_of_mounts() -> None:
    """The same load where the mounts stand in a row: what the mounts add is nothing here.

    Statics: w l/2 at either end of a simple span; with a load on the overhang R - w a = w l/2 + w a^2/2l beside the support (AISC
    Manual Table 3-23, overhanging one support, uniform load, from memory), and the elements.
    """
    w, L, c = 2.0, 2400.0, 600.0
    given = {"P_J": value(0, "force"), "L_J": value(L, "length"), "p_m": value(600, "length"), "w_J": value(w, "line load")}
    overhang, section = {"c_o": value(c, "length")}, {"b_J": value(b, "length"), "h_J": value(h, "length")}
    full = _under(Beam(L, c, []), w, everywhere=True)
    span = _under(Beam(L, c, []), w, everywhere=False)
    beside = full.R[0] - w * c
    assert beside == pytest.approx(w * L / 2 + w * c**2 / (2 * L), rel=EXACT)
    assert beam.SHEAR_OF_ROW(**given, **overhang, **section).at(0) == pytest.approx(1.5 * beside / (b * h), rel=EXACT)
    assert beam.INNER_DOWN_ROW(**given).at(0) == pytest.approx(span.R[1], rel=EXACT)
    assert beam.OUTER_DOWN_ROW(**given, **overhang).at(0) == pytest.approx(full.R[0], rel=EXACT)


def _under(made: Beam, w: float, everywhere: bool) -> Beam:
    """A uniform load on the whole beam or on its span: what an element has of it at its ends."""
    for i, d in enumerate(np.diff(made.x)):
        if everywhere or made.x[i] >= 0.0:
            made.f[2 * i : 2 * i + 4] -= w * d * np.array([1 / 2, d / 12, 1 / 2, -d / 12])
    return made.solve()


def rows(L: float, c: float, p: float) -> list[list[float]]:
    """Places of a row of equal forces at the pitch, slid past the joist in small steps."""
    return [[x for x in np.arange(-c + o, L + 1e-9, p)] for o in np.linspace(0.0, p, 61)]


@pytest.mark.parametrize(("L", "c", "p"), [(2400, 0, 600), (1500, 0, 600), (900, 0, 1200), (2400, 500, 600), (1800, 700, 500)])
def test_a_row_of_mounts_along_a_joist(L: float, c: float, p: float) -> None:
    """However the row stands, no place gives more than is compared; without an overhang the worst place comes within 15 %."""
    P = 1000.0
    bending = shear = outer = inner = sag = 0.0
    for places in rows(L, c, p):
        inside = np.array([x for x in places if 0.0 <= x <= L])
        out = np.array([x for x in places if x < 0.0])
        # The overhang may be empty or full: what lies on it relieves the span.
        for used in (inside, np.concatenate([out, inside])):
            R_in = float((P * used / L).sum())
            R_out = P * len(used) - R_in
            cuts = np.unique(np.concatenate([used, [0.0]]))
            M = [R_out * max(x, 0.0) - float((P * np.maximum(x - used, 0.0)).sum()) for x in cuts]
            bending = max(bending, float(np.abs(M).max()))
            outer, inner = max(outer, R_out), max(inner, R_in)
            beside = R_out - P * len(used[used < 0.0])
            shear = max(shear, abs(beside), R_in, P * len(used[used < 0.0]))
        sag = max(sag, _sag(L, inside, P))
    given = {"P_J": value(P, "force"), "L_J": value(L, "length"), "p_m": value(p, "length"), "c_o": value(c, "length")}
    none = {"w_J": value(0, "line load")}
    compared = {
        "bending": (bending, beam.OF_ROW(**given).at(0)),
        "shear": (shear, beam.SHEAR_OF_ROW(**given, **none, b_J=value(1.5, "length"), h_J=value(1, "length")).at(0)),
        "outer": (outer, beam.OUTER_DOWN_ROW(**given, **none).at(0)),
        "inner": (inner, beam.INNER_DOWN_ROW(P_J=given["P_J"], L_J=given["L_J"], p_m=given["p_m"], **none).at(0)),
    }
    for what, (largest, taken) in compared.items():
        assert taken >= largest * (1 - 1e-9), what
        if c == 0:
            assert taken <= 1.15 * largest, what
    turn = beam.ANGLE_OF_ROW(**given, L_b=value(400, "length"), E_J=value(E, "stress"), I_J=value(I_b, "inertia")).at(0)
    assert turn >= 2 * sag / 400.0 * (1 - 1e-9)


@pytest.mark.parametrize(("L", "c"), [(1500.0, 600.0), (2400.0, 900.0)])
def test_one_mount_on_the_tip_of_an_overhang(L: float, c: float) -> None:
    """AISC Manual Table 3-23, a load at the end of an overhang: P a^2 (l + a)/(3 E I), from memory; and the beam elements.

    The next mount is so far off that there is no other; one joist goes down by that and the other up, the bay apart.
    """
    P, L_b = 1000.0, 400.0
    tip = abs(float(Beam(L, c, []).force(-c, -P).solve().u[0]))
    assert tip == pytest.approx(P * c**2 * (L + c) / (3 * E * I_b), rel=EXACT)
    far = {"P_J": value(P, "force"), "L_J": value(L, "length"), "p_m": value(1e12, "length"), "c_o": value(c, "length")}
    turn = beam.ANGLE_OF_ROW(**far, L_b=value(L_b, "length"), E_J=value(E, "stress"), I_J=value(I_b, "inertia")).at(0)
    assert turn == pytest.approx(2 * tip / L_b, rel=1e-8)


def _sag(L: float, places: np.ndarray, P: float) -> float:
    """Largest deflection under a row of forces in the span, by beam elements."""
    if not len(places):
        return 0.0
    made = Beam(L, 0.0, list(places))
    for x in places:
        made.force(float(x), -P)
    return float(np.abs(made.solve().u[::2]).max())


@pytest.mark.parametrize(("L", "s"), list(product((1000.0, 2400.0, 4000.0), (0.0, 0.2, 0.5, 0.9))))
def test_half_of_a_couple_at_least_bends_one_side(L: float, s: float) -> None:
    """What is compared where the span is not known is never more than what comes out once it is."""
    M0 = 1e6
    peak = beam.OF_COUPLE(M_J=value(M0, "moment"), s_J=value(s * L, "length"), L_J=value(L, "length")).at(0)
    section = {"b_J": value(b, "length"), "h_J": value(h, "length")}
    assert beam.LEAST_STRESS(M_J=value(M0, "moment"), **section).at(0) <= peak / (b * h**2 / 6) * (1 + EXACT)
