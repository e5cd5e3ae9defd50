"""Time and error of the plate on clamps, beside independent finite elements (scikit-fem, Argyris triangles).

    python tests/benchmarks/bench_plate.py

One panel, 1200 x 1200 x 12, two clamps of 50 x 90 at 175 mm from the ends, line load at the top, pads of 10 and
100 N/mm3. Both methods are judged by the same reference: the splines at fineness 6, themselves known by the
validation tests. Prints figures and ratios; asserts nothing. Argyris triangles lose digits on small elements:
coordinates are centred and scaled, and no element is below 10 mm. Each is integrated as cheaply as is exact; its
time is mostly general assembly in Python, which a program for this one panel need not pay.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from itertools import pairwise
from statistics import median

import numpy as np

from barrier.mechanics.plate import FIXED, Clamp, LineLoad, Pad, Plate, PlateModel

W = H = 1200.0
B, DEPTH, Q = 50.0, 90.0, 0.75
XS = (175.0, 1025.0)
PLATE = Plate(W, H, 12.0, 70_000.0, 0.23)
SCALE = 600.0  # mm, unit length of the triangles
AIM = 0.01
SIZES = (100.0, 60.0, 45.0, 30.0, 22.5, 18.0, 15.0)  # mm, largest triangle near a pad


def timed(run: Callable[[], object], repeats: int) -> float:
    """Median of warm runs, ms."""
    run()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return 1e3 * median(times)


def splines(k: float, fineness: float = 1.0, loads: int = 1) -> tuple[float, float]:
    """Peak on the load face (MPa) and largest deflection (mm)."""
    clamps = [Clamp(x, (Pad(x - B / 2, x + B / 2, 0.0, DEPTH, k),)) for x in XS]
    model = PlateModel(PLATE, clamps, [LineLoad(Q, H)] * loads, fineness=fineness)
    solution = model.solve([FIXED] * len(XS))
    peaks = solution.peaks(PLATE.thickness)["load"]
    return max(float(p.stress[0]) for p in peaks.values()), float(solution.top_deflection[0])


def lines(cuts: list[float], size: float) -> np.ndarray:
    """Grid lines with all cuts, ``size`` near the pads, growing by a half each to 150 mm, none below 10 mm."""
    pads = np.array(cuts[1:-1])
    found = [cuts[0]]
    for start, end in pairwise(cuts):
        x = np.linspace(start, end, 400)
        wished = np.maximum(10.0, np.minimum(150.0, size + 0.4 * np.abs(x[:, None] - pads).min(axis=1)))
        steps = np.concatenate([[0.0], np.cumsum(np.diff(x) / wished[1:])])
        count = max(1, round(steps[-1]))
        found.extend(np.interp(np.linspace(0, steps[-1], count + 1)[1:], steps, x))
    return np.array(found)


def argyris(k: float, size: float) -> tuple[float, float, int]:
    """The same panel by Argyris triangles: peak on the load face, deflection, unknowns."""
    from scipy.sparse.linalg import spsolve
    from skfem import Basis, BilinearForm, ElementTriArgyris, FacetBasis, LinearForm, MeshTri
    from skfem.helpers import dd, ddot, eye, trace

    def scaled(x: np.ndarray) -> np.ndarray:
        return (x - 600.0) / SCALE

    cuts = sorted({0.0, W, *(x + s * B / 2 for x in XS for s in (-1, 1))})
    mesh = MeshTri.init_tensor(scaled(lines(cuts, size)), scaled(lines([0.0, DEPTH, H], size)))
    element = ElementTriArgyris()
    basis = Basis(mesh, element, intorder=6)  # exact for products of second derivatives
    D, nu = PLATE.D / SCALE**2, PLATE.nu  # energy ∫ D (w_xx² ...) dA: SCALE^2 / SCALE^4

    @BilinearForm
    def bending(u, v, _):  # type: ignore[no-untyped-def]
        moment = (1 - nu) * dd(u) + nu * eye(trace(dd(u)), 2)
        return D * ddot(moment, dd(v))

    @BilinearForm
    def springs(u, v, _):  # type: ignore[no-untyped-def]
        return k * SCALE**2 * u * v

    @LinearForm
    def line(v, _):  # type: ignore[no-untyped-def]
        return Q * SCALE * v

    def in_pad(c: np.ndarray) -> np.ndarray:
        x, y = c[0] * SCALE + 600.0, c[1] * SCALE + 600.0
        return (y < DEPTH) & np.any([np.abs(x - xc) < B / 2 for xc in XS], axis=0)

    on_pads = Basis(mesh, element, elements=mesh.elements_satisfying(in_pad), intorder=10)
    top = FacetBasis(mesh, element, facets=mesh.facets_satisfying(lambda c: np.isclose(c[1], 1.0)))
    w = spsolve((bending.assemble(basis) + springs.assemble(on_pads)).tocsc(), line.assemble(top))
    low = Basis(mesh, element, elements=mesh.elements_satisfying(lambda c: c[1] * SCALE + 600.0 < 200.0), intorder=10)
    bent = low.interpolate(w).hess / SCALE**2
    xx, yy, xy = bent[0, 0], bent[1, 1], bent[0, 1]
    unit = PLATE.E * PLATE.thickness / 2 / (1 - nu**2)
    stress = unit * ((1 + nu) / 2 * (xx + yy) + (1 - nu) * np.hypot((xx - yy) / 2, xy))
    return float(stress.max()), float(np.abs(np.asarray(top.interpolate(w))).max()), basis.N


def spline_half(k: float) -> tuple[float, float, float]:
    """Print our figures; returned are the reference peak and deflection and our time."""
    peak, w = splines(k, 6.0)
    ours, ours_w = splines(k)
    took = timed(lambda: splines(k), 30)
    print(f"\nk = {k:g} N/mm3; reference (fineness 6): peak {peak:.3f} MPa, deflection {w:.4f} mm")
    errors = f"peak {100 * (ours / peak - 1):+.3f} %   w {100 * (ours_w / w - 1):+.4f} %"
    print(f"  splines, fineness 1   {took:8.1f} ms   {errors}")
    further = (timed(lambda: splines(k, loads=11), 10) - took) / 10
    print(f"  a further load case   {further:8.2f} ms   with its peaks")
    model = PlateModel(PLATE, [Clamp(x, (Pad(x - 25, x + 25, 0, DEPTH, k),)) for x in XS], [LineLoad(Q, H)])
    model.solve([FIXED, FIXED])
    again = timed(lambda: model.solve([np.diag([2e4, 1e8, 1e8])] * 2), 30)
    print(f"  other bases, solve    {again:8.2f} ms   no factorisation")
    lost = timed(lambda: (model._held.pop((0,), None), model.solve([FIXED, None])), 30)
    print(f"  a lost clamp, solve   {lost:8.2f} ms   factorised anew")
    return peak, w, took


def triangle_half(k: float, peak: float, w: float, took: float) -> None:
    """Print the triangles' figures and the ratio at their coarsest mesh from which on all are within the aim."""
    found = []
    for size in SIZES:
        stress, deflection, unknowns = argyris(k, size)
        ms = timed(lambda size=size: argyris(k, size), 2)  # type: ignore[misc]
        found.append((stress / peak - 1, ms))
        print(
            f"  Argyris, {size:5.1f} mm     {ms:8.1f} ms   peak {100 * (stress / peak - 1):+.3f} %   "
            f"w {100 * (deflection / w - 1):+.4f} %   {unknowns} unknowns"
        )
    within = [all(abs(e) <= AIM for e, _ in found[i:]) for i in range(len(found))]
    if any(within):
        first = within.index(True)
        print(f"  within 1 % from {SIZES[first]:g} mm on: {found[first][1] / took:.0f} times the time of the splines")
    else:
        print("  not within 1 % persistently at any of these meshes")


def main() -> None:
    """Both halves for both pads."""
    try:
        import skfem  # noqa: F401

        triangles = True
    except ImportError:
        triangles = False
        print("scikit-fem is not installed: only the splines are timed")
    for k in (10.0, 100.0):
        answer = spline_half(k)
        if triangles:
            triangle_half(k, *answer)


if __name__ == "__main__":
    main()
