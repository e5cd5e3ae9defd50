"""Properties of the whole walk over families of jobs, drawn at random: more load, fewer screws, mirrors, inches, stations.

None needs a reference value; each says what must be so whatever the numbers are. Few examples each: a walk takes a
third of a second.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal, localcontext

import numpy as np
import pytest
from conftest import ROOT, job_named, result_of
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from barrier import sheet
from barrier.equation import Step
from barrier.errors import JobRefused
from barrier.job import Job, job_from_text, read_job
from barrier.links.blocking.piece_forces import PieceForces
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.mount.mount_forces import MountForces
from barrier.load_path import Result, check
from barrier.result import Check, Ending, Lack, LinkResult, NotChecked, Standing
from barrier.units import KINDS
from barrier.value import Value, walk

ROUNDING = 1e-9  # relative; sums and products of doubles, and solvers that stop at 1e-9
SOLVED = 1e-6  # relative; ties between stations are settled within this, and the contact model closes to it
SAME_ARITHMETIC = 1e-12  # relative; the same operations on the same doubles, one at a time or in arrays
STATICS = 1e-8  # relative; direct solvers, close to machine precision
PLATE_STATICS = 1e-7  # relative; what the band solver leaves in moments of the plate (measured up to 4e-8 over random panels)


def few(examples: int) -> settings:
    return settings(
        max_examples=examples, deadline=None, derandomize=True, database=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
    )  # fmt: skip


US = read_job(ROOT / "tests" / "data" / "us_lag_deck.toml")
JOBS = {"garden": job_named("garden_deck"), "everyday": job_named("everyday_deck"), "us": US}


def required(result: Result) -> dict[str, Check]:
    return {c.id: c for c in result.sound.checks if c.standing is Standing.REQUIRED}


def bare(job: Job) -> Job:
    """The job without its own situations: they are walked too, and nothing here looks at them."""
    return job.with_({"situations": None}) if job.situations else job


# ---------------------------------------------------------------- more load


def gone(c: Check) -> bool:
    """Whether a check lets go: it exceeds without a number, or is not reached because something above it does."""
    return (c.ending is Ending.EXCEEDS and c.eta is None) or c.lack is Lack.REACH


def not_better(less: Check, more: Check, slack: float = ROUNDING) -> None:
    """``more`` is the same check where more is asked: its utilisation is not lower, its ending not milder."""
    if gone(less) or gone(more):
        assert gone(more), f"{less.id} got a number that had none"
        return
    assert (less.ending is Ending.NOT_CHECKED) is (more.ending is Ending.NOT_CHECKED) or more.ending is Ending.EXCEEDS, less.id
    if less.ending is Ending.EXCEEDS:
        assert more.ending is Ending.EXCEEDS, f"{less.id} no longer exceeds"
    if less.eta is not None and more.eta is not None:
        assert more.eta >= less.eta * (1 - slack), f"{less.id}: {less.eta} fell to {more.eta}"


LOADS = {
    "line": (0.1, 5.0, "kN/m", {"loads.reference": "drawn at random"}),
    "point": (0.1, 5.0, "kN", {"loads.reference": "drawn at random"}),
    "infill": (0.1, 5.0, "kN/m2", {"loads.reference": "drawn at random"}),
    "pressure": (0.0, 5.0, "kN/m2", {}),
}


def loaded(job: Job, kind: str, size: float) -> Job:
    _, _, unit, more = LOADS[kind]
    if kind == "pressure":
        return job.with_({"wind": {kind: f"{size:.6f} {unit}", "reference": "drawn at random"}})
    return job.with_({f"loads.{kind}": f"{size:.6f} {unit}", **more})


@few(10)
@given(st.sampled_from(sorted(JOBS)), st.sampled_from(sorted(LOADS)), st.data())
def test_more_load_is_never_better(name: str, kind: str, data: st.DataObject) -> None:
    low, high, _, _ = LOADS[kind]
    less = data.draw(st.floats(low, high))
    more = data.draw(st.floats(less, high))
    job = bare(JOBS[name])
    a, b = required(check(loaded(job, kind, less))), required(check(loaded(job, kind, more)))
    assert a.keys() == b.keys()  # what must be checked does not depend on the size of the load
    for id in a:
        not_better(a[id], b[id])
    for c in b.values():
        if c.lack is Lack.REACH:  # something nearer to the hand, of the same mount, has let go
            mount = c.id.rsplit(".", 1)[1]
            assert any(o.ending is Ending.EXCEEDS and o.eta is None and o.id.endswith(f".{mount}") for o in b.values()), c.id


ALONE = {f"loads.{entry}": "none" for entry in ("point", "infill", "infill_point")}  # the line load and nothing beside it
PROPORTIONAL = ("glass.", "clamp.rating.", "base_plate.bed.", "screws.withdrawal.")


@few(4)
@given(st.floats(0.2, 1.0), st.floats(1.1, 4.0))
def test_what_is_linear_in_the_load_stays_linear(size: float, times: float) -> None:
    """Glass and mounts are compared by load factor: with one load alone, twice the load is twice the utilisation."""
    job = bare(JOBS["everyday"]).with_({**ALONE, "loads.reference": "drawn at random"})
    a, b = (required(check(loaded(job, "line", float(f"{q:.6f}")))) for q in (size, size * times))
    ratio = float(f"{size * times:.6f}") / float(f"{size:.6f}")
    compared = [id for id in a if id.startswith(PROPORTIONAL) and a[id].eta is not None]
    assert len(compared) >= 5
    for id in compared:
        assert b[id].eta == pytest.approx(ratio * a[id].eta, rel=SOLVED), id  # type: ignore[operator]


# ---------------------------------------------------------------- fewer screws


def withdrawal(job: Job, missing: list[int]) -> tuple[dict[str, Check], dict[str, float]]:
    """Withdrawal checks of both mounts with some of their eight screws missing, and the resistance of one screw."""
    gone = {f"mounts.M{1 + i // 4}.screws.S{1 + i % 4}.present": False for i in missing}
    result = check(job.with_(gone))
    mounts: tuple[MountForces, ...] = result.handed_on.mounts
    single = {m.model.name: float(m.R_ax.x) for m in mounts if not isinstance(m.R_ax, NotChecked)}
    checks = {c.id.rsplit(".", 1)[1]: c for c in result.sound.checks if c.id.startswith("screws.withdrawal.")}
    assert len(checks) == 2
    return checks, single


@few(4)
@given(st.sampled_from(["garden", "everyday"]), st.permutations(range(8)), st.integers(1, 4))
def test_a_missing_screw_is_worse_than_none_missing(name: str, order: list[int], count: int) -> None:
    job = bare(JOBS[name])
    a, b = withdrawal(job, [])[0], withdrawal(job, order[:count])[0]
    for mount in {f"M{1 + i // 4}" for i in order[:count]}:
        not_better(a[mount], b[mount])


@few(4)
@given(st.sampled_from(["garden", "everyday"]), st.permutations(range(8)), st.integers(1, 3), st.integers(1, 3))
def test_the_more_screws_are_missing_the_less_a_mount_takes(name: str, order: list[int], first: int, more: int) -> None:
    """The moment a mount takes, over what one screw of it is worth, never rises.

    Utilisation itself may fall by some percent when a second screw goes: the mount gets softer and sheds moment to its
    neighbour, and one screw alone is worth more than its share of a group (n^0.9/n). Neither is in this ratio: the
    moment grows less than in proportion with the resistance of a screw, for the bed yields.
    """
    job = bare(JOBS[name])
    (a, R_a), (b, R_b) = withdrawal(job, order[:first]), withdrawal(job, order[: first + more])
    for mount in a:
        if a[mount].resistance is None or b[mount].resistance is None:
            assert b[mount].ending is Ending.EXCEEDS and b[mount].resistance is None, mount
            continue
        taken = [c[mount].resistance.at(c[mount].station) / R[mount] for c, R in ((a, R_a), (b, R_b))]  # type: ignore[union-attr]
        assert taken[1] <= taken[0] * (1 + ROUNDING), mount


# ---------------------------------------------------------------- mirrors


@few(5)
@given(
    st.tuples(st.floats(70, 420), st.floats(580, 930)), st.tuples(st.floats(80, 325), st.floats(80, 325)),
    st.tuples(st.floats(1, 12), st.floats(1, 12)), st.one_of(st.none(), st.integers(1, 4)),
)  # fmt: skip
def test_a_mirrored_job_has_the_mirrored_answer(
    x: tuple[float, float], bay: tuple[float, float], uplift: tuple[float, float], missing: int | None
) -> None:
    """Left and right change places: mounts, bays, end fixings, and the one screw that is not there."""
    base = bare(JOBS["garden"])
    W, L = float(base.panels[0].width.x), float(base.blocking["B1"].length.x)
    twin = {1: 2, 2: 1, 3: 4, 4: 3}  # S1 and S3 stand at -x, S2 and S4 at +x

    def job(x: tuple[float, float], bay: tuple[float, float], uplift: tuple[float, float], gone: str | None) -> Job:
        changes: dict[str, object] = {
            "mounts.M1.x": f"{x[0]!r} mm", "mounts.M2.x": f"{x[1]!r} mm",
            "mounts.M1.in_bay": f"{bay[0]!r} mm", "mounts.M2.in_bay": f"{bay[1]!r} mm",
            "blocking.B1.left.uplift": f"{uplift[0]!r} kN", "blocking.B1.right.uplift": f"{uplift[1]!r} kN",
        }  # fmt: skip
        return base.with_(changes | ({gone: False} if gone is not None else {}))

    here = None if missing is None else f"mounts.M1.screws.S{missing}.present"
    there = None if missing is None else f"mounts.M2.screws.S{twin[missing]}.present"
    a = required(check(job(x, bay, uplift, here)))
    b = required(check(job((W - x[1], W - x[0]), (L - bay[1], L - bay[0]), (uplift[1], uplift[0]), there)))
    swap = {"M1": "M2", "M2": "M1", "left": "right", "right": "left"}
    compared = 0
    for id, c in a.items():
        other = b[".".join(swap.get(part, part) for part in id.split("."))]
        assert (c.eta is None) is (other.eta is None), id
        if c.eta is None or other.eta is None:
            assert c.ending is other.ending, id
            continue
        assert c.eta == pytest.approx(other.eta, rel=SOLVED), id
        if abs(c.eta - 1.0) > SOLVED:
            assert c.ending is other.ending, id
        compared += 1
    assert compared > 15


# ---------------------------------------------------------------- inches

# Exact by definition: the inch 25.4 mm, the pound-force 4.4482216152605 N.
INCH, POUND = Decimal("25.4"), Decimal("4.4482216152605")
FOOT = 12 * INCH
TURNED: Mapping[str, tuple[str, Decimal]] = {
    "mm": ("in", INCH),
    "m": ("ft", FOOT / 1000),
    "kN": ("lbf", POUND / 1000),
    "kN/m": ("lbf/ft", POUND / FOOT),
    "kN/m2": ("lbf/ft2", POUND / FOOT**2 * 1000),
    "MPa": ("psi", POUND / INCH**2),
    "N/mm3": ("lbf/in3", POUND / INCH**3),
    "kN m": ("lbf ft", POUND * FOOT / 1_000_000),
    "kg": ("lb", Decimal("0.45359237")),
}
QUANTITY = re.compile(r'"(-?[0-9.]+) (' + "|".join(sorted(TURNED, key=len, reverse=True)) + r')"')


def in_inches(text: str) -> str:
    """The same job in inches and pounds: every quantity divided in 40 digits and written with 25."""

    def turned(match: re.Match[str]) -> str:
        unit, factor = TURNED[match[2]]
        with localcontext() as context:
            context.prec = 40
            return f'"{Decimal(match[1]) / factor:.25f} {unit}"'

    return QUANTITY.sub(turned, text)


SIZES = {
    'width = "1000 mm"': ("width", 950.0, 1060.0),
    'x = "230 mm"': ("x", 180.0, 330.0),
    'x = "770 mm"': ("x", 640.0, 820.0),
    'thickness = "28 mm"': ("thickness", 20.0, 40.0),
    'in_bay = "200 mm"': ("in_bay", 120.0, 280.0),
    'length = "180 mm"': ("length", 160.0, 220.0),
    'top = "150 mm"': ("top", 90.0, 170.0),
    'depth = "195 mm"': ("depth", 140.0, 240.0),
}


@few(4)
@given(st.data())
def test_a_job_in_inches_is_the_same_job(data: st.DataObject) -> None:
    text = (ROOT / "worked_examples" / "garden_deck.toml").read_text(encoding="utf-8")
    for line, (key, low, high) in SIZES.items():
        assert line in text, "the example has changed"
        text = text.replace(line, f'{key} = "{data.draw(st.floats(low, high)):.4f} mm"')
    inches = in_inches(text)
    assert len(QUANTITY.findall(text)) > 60
    assert not re.search(r'"-?[0-9.]+ (mm|m|kN|MPa|N/mm3|kN/m2?|kN m|kg)"', inches)
    a, b = check(job_from_text(text)), check(job_from_text(inches))
    compared = 0
    for c, other in zip(a.sound.checks, b.sound.checks, strict=True):
        assert c.id == other.id and c.ending is other.ending
        assert (c.eta is None) is (other.eta is None), c.id
        if c.eta is not None:
            assert c.eta == pytest.approx(other.eta, rel=ROUNDING), c.id
            compared += 1
    assert compared > 25


# ---------------------------------------------------------------- arrays and one at a time


def values_of(links: tuple[LinkResult, ...]) -> Iterator[Value]:
    for link in links:
        for c in link.checks:
            yield from (v for v in (c.demand, c.resistance, c.utilisation) if v is not None)
        yield from (s.value for s in link.shown)


@pytest.mark.parametrize("name", ["garden_deck", "everyday_deck", "us"])
def test_stations_in_arrays_are_what_they_are_one_at_a_time(name: str) -> None:
    """Every equation of a result evaluated again with plain numbers, station by station: value, and what is out of range."""
    result = check(US) if name == "us" else result_of(name)
    arrays = scalars = 0
    for value in walk(*(v for w in result.walked for v in values_of(w.links))):
        step = value.origin
        if not isinstance(step, Step):
            continue
        stations = {v.stations for v in step.inputs.values()} - {0}
        assert stations <= {value.stations}, f"{step.equation.result.name}: inputs of other stations"
        arrays, scalars = arrays + bool(stations), scalars + (not stations)
        for s in range(max(value.stations, 1)):
            single = {n: Value(v.at(s), v.kind, v.origin, v.symbol) for n, v in step.inputs.items()}
            alone = step.equation(**single)
            assert alone.x == pytest.approx(value.at(s), rel=SAME_ARITHMETIC, abs=0), step.equation.text
            assert isinstance(alone.origin, Step)
            outside = {text for text, where in step.outside.items() if where[s if where.size > 1 else 0]}
            assert set(alone.origin.outside) == outside, step.equation.text
        assert value.kind in KINDS and np.isfinite(value.x).all()
    assert arrays >= 5 and scalars > 20


# ---------------------------------------------------------------- equilibrium


@st.composite
def panels(draw: st.DrawFn) -> dict[str, object]:
    """A panel on two mounts of random size and place, on pieces of random number and width, boards of any thickness."""
    width = draw(st.floats(500, 2400))
    height = draw(st.floats(700, 1300))
    grip = draw(st.floats(50, 200))
    # The clamps (120 mm) on the glass and beside one another.
    first = draw(st.floats(70, width / 2 - 70))
    second = draw(st.floats(width / 2 + 70, width - 70))
    return {
        "panels.P3.width": f"{width:.3f} mm", "panels.P3.height": f"{height:.3f} mm", "site.barrier_height": None,
        "panels.P3.bottom_gap": f"{draw(st.floats(0, 120)):.3f} mm",
        "panels.P3.layers.1.nominal": draw(st.sampled_from(["10 mm", "12 mm", "15 mm", "19 mm"])),
        "mounts.M1.x": f"{first:.3f} mm", "mounts.M2.x": f"{second:.3f} mm",
        "mount_types.deep.pads.1.top": f"{grip:.3f} mm",
        "blocking.B1.pieces": draw(st.integers(2, 4)), "blocking.B1.width": f"{draw(st.floats(40, 120)):.3f} mm",
        "decking.thickness": f"{draw(st.floats(18, 45)):.3f} mm",
        "mounts.M1.in_bay": f"{draw(st.floats(80, 320)):.3f} mm", "mounts.M2.offset": f"{draw(st.floats(-15, 15)):.3f} mm",
        # a light load, so that the bed carries it and there is an equilibrium to look at
        "loads.line": f"{draw(st.floats(0.05, 0.4)):.4f} kN/m", "loads.reference": "drawn at random", "wind": None, **ALONE,
    }  # fmt: skip


@few(12)
@given(panels())
def test_equilibrium_from_the_hand_to_the_joist(changes: dict[str, object]) -> None:
    try:
        job = JOBS["garden"].with_(changes)
    except JobRefused:
        assume(False)
    result = check(job)
    for panel in result.handed_on.panels:
        clamps_balance_the_hand(panel)
    mounts: tuple[MountForces, ...] = result.handed_on.mounts
    for mount in mounts:
        demand_is_what_the_clamp_gives(result, mount)
        plate_balances_the_clamp(mount)
    for table in result.handed_on.tables:
        if table.pieces is not None:  # None where the mount has no equilibrium, which the checks then say
            pieces_balance_the_plate(table.pieces)


def clamps_balance_the_hand(panel: PanelSolution) -> None:
    """Three equations about the bottom left corner of the glass: push, overturning, twist about the vertical."""
    x = np.array([float(m.mount.x.x) for m in panel.mounts])
    W = float(panel.panel.width.x)
    for solution in panel.solutions:
        for c, case in enumerate(panel.cases):
            H, y = float(case.resultant.x), float(case.height.x)
            assert case.action.kind == "line"
            # A push is what is left of a pad's pressure below and above its middle, a couple of some H y/d each.
            at_work = max(H, H * y / min(float(p.top.x) for m in panel.mounts for p in m.mount.pads))
            assert solution.F[c].sum() == pytest.approx(H, abs=STATICS * at_work)
            assert solution.Mx[c].sum() == pytest.approx(H * y, rel=PLATE_STATICS)
            assert (solution.F[c] * x + solution.Mz[c]).sum() == pytest.approx(H * W / 2, abs=STATICS * at_work * W / 2)


def demand_is_what_the_clamp_gives(result: Result, mount: MountForces) -> None:
    """The moment handed on is the clamp's, carried down to the underside of the plate and factored."""
    panel: PanelSolution = result.handed_on.panels[0]
    m = next(i for i, model in enumerate(panel.mounts) if model.name == mount.model.name)
    h = float(mount.model.lever.x)
    expected = [
        float(case.strength.factor.x) * abs(solution.Mx[c, m] + solution.F[c, m] * h)
        for solution in panel.solutions
        for c, case in enumerate(panel.cases)
    ]
    assert np.asarray(mount.M_Ed.x) == pytest.approx(np.array(expected), rel=ROUNDING)
    assert mount.M_worst.at(0) == pytest.approx(max(expected), rel=ROUNDING)


def plate_balances_the_clamp(mount: MountForces) -> None:
    M = mount.M_worst.at(0)
    for sign, _, _, s, _ in mount.at_design:
        if not s.equilibrium:
            continue
        assert sum(s.zone_force.values()) == pytest.approx(s.T.sum(), rel=SOLVED)
        first = np.array(list(s.zone_first.values())).sum(axis=0)
        xs, ys = (np.array([float(getattr(p, axis).x) for p in mount.model.screws]) for axis in ("x", "y"))
        assert (s.T * ys).sum() - first[1] == pytest.approx((1 if sign == "inward" else -1) * M, rel=SOLVED)
        assert (s.T * xs).sum() - first[0] == pytest.approx(0.0, abs=SOLVED * M)
        assert (s.T >= 0).all() and min(s.zone_force.values()) >= 0


def pieces_balance_the_plate(pieces: PieceForces) -> None:
    M = pieces.mount.M_worst.at(0)
    assert not isinstance(pieces.mount.bed, NotChecked)
    centres = np.array([p.centre for p in pieces.mount.model.pieces])
    for label, forces, own in zip(pieces.labels, pieces.forces, pieces.own_moments, strict=True):
        assert abs(forces.sum()) <= SOLVED * np.abs(forces).max()
        assert -(forces * centres).sum() - own.sum() == pytest.approx((1 if label.startswith("inward") else -1) * M, rel=SOLVED)


# ---------------------------------------------------------------- whatever is accepted is answered

EXTREMES: tuple[tuple[str, tuple[object, ...]], ...] = (
    ("panels.P3.width", ("300 mm", "6000 mm", "2400 mm")),
    ("panels.P3.layers.1.nominal", ("2 mm", "3 mm", "8 mm", "25 mm")),
    ("panels.P3.layers.1.glass", ("annealed", "heat-strengthened")),
    ("panels.P3.bottom_gap", ("0 mm", "500 mm")),
    ("mounts.M1.offset", ("-150 mm", "150 mm", "60 mm")),
    ("mounts.M1.in_bay", ("0 mm", "405 mm", "1 mm")),
    ("mounts.M1.screw.length", ("40 mm", "400 mm", "60 mm")),
    ("mounts.M1.screw.diameter", ("7 mm", "12 mm", "16 mm")),
    ("mounts.M1.screw.root", ("unknown",)),
    ("mounts.M1.screw.ultimate_strength", ("unknown",)),
    ("mounts.M1.support", ("edge joist",)),
    ("mounts.M1.rating", (None,)),
    ("mounts.M2.screws.S1.present", (False,)),
    ("mounts.M2.screws.S2.present", (False,)),
    ("mounts.M2.screws.S3.present", (False,)),
    ("mounts.M2.screws.S4.present", (False,)),
    ("mounts.M2.plate.thickness", ("1 mm", "100 mm")),
    ("mounts.M2.plate.clamp_reach", ("0 mm", "90 mm")),
    ("mounts.M2.pads.1.top", ("10 mm", "900 mm")),
    ("mounts.M2.pads.1.hard", (True,)),
    ("decking.thickness", ("8 mm", "100 mm")),
    ("decking.gap_under", ("unknown", "60 mm")),
    ("decking.direction", ("across", "unknown")),
    ("decking.material", ({"us": "Hem-Fir"}, {"en": "no such class"})),
    ("blocking.B1.pieces", (1, 3, 8)),
    ("blocking.B1.width", ("12 mm", "400 mm", "45 mm")),
    ("blocking.B1.depth", ("12 mm", "600 mm")),
    ("blocking.B1.length", ("401 mm", "409 mm", "4000 mm")),
    ("joists.direction", ("unknown",)),
    ("blocking.B1.direction", ("across",)),
    ("blocking.B1.laid", ("flat",)),
    ("blocking.B1.laminated", ("factory",)),
    ("blocking.B1.left", ({"fixing": "none"}, {"fixing": "unknown"}, {"fixing": "nails", "grain": "side"})),
    ("wind", (None,)),
    ("wind.pressure", ("0 kN/m2", "10 kN/m2")),
    ("limits", (None,)),
    ("limits.mount_rotation", ("0.0001 rad",)),
    ("loads.duration", ("permanent", "instantaneous", "ten years")),
    ("site.use", ("B1", "C5")),
    ("site.service_class", (1,)),
    ("basis", ("us",)),
    ("national", (None,)),
)
UNBLOCKED = {"mounts.M1.support": {"mounts.M1.blocking": None}, "blocking.B1.direction": {"joists.direction": "along"}}


@st.composite
def extremes(draw: st.DrawFn) -> dict[str, object]:
    changes: dict[str, object] = {}
    for path, values in draw(st.lists(st.sampled_from(EXTREMES), min_size=1, max_size=5, unique_by=lambda e: e[0])):
        changes[path] = draw(st.sampled_from(values))
        changes.update(UNBLOCKED.get(path, {}))
    return changes


@few(25)
@given(extremes())
@example({"mounts.M2.plate.clamp_reach": "90 mm"})  # the post reaches beyond the screws
@example({"wind.pressure": "0 kN/m2", "national": None})  # a load there is, of nothing
def test_whatever_is_accepted_gets_its_sheet(changes: dict[str, object]) -> None:
    """Ends of the allowed ranges together: refused in our words, or walked and written; never an error of ours."""
    try:
        result = check(JOBS["garden"].with_(changes))
    except JobRefused:
        return
    text = sheet.text(result)
    assert "CAUTION" in text and "nan" not in text.split() and "inf" not in text.split()
    assert sheet.json_text(result)
    for c in result.sound.checks:
        assert c.reason or c.eta is not None, c.id
        assert c.eta is None or (np.isfinite(c.eta) and c.eta >= 0), c.id
        assert (c.ending is Ending.WITHIN) is (c.eta is not None and c.eta <= 1.0), c.id


# ---------------------------------------------------------------- boards alone


@few(5)
@given(st.sampled_from(["garden", "everyday"]), st.floats(15, 60), st.floats(120, 240), st.sampled_from(["along", "across"]))
def test_boards_alone_are_never_within(name: str, thickness: float, width: float, direction: str) -> None:
    """Without blocking the board's own usual screws hold nothing that counts, however thick it is; and the front says so."""
    changes: dict[str, object] = {
        "decking.thickness": f"{thickness:.2f} mm", "decking.board_width": f"{width:.2f} mm", "decking.direction": direction,
        "decking.board_screws": {"number": 2, "diameter": "5 mm", "length": "70 mm"},
    }  # fmt: skip
    for mount in ("M1", "M2"):
        changes |= {f"mounts.{mount}.support": "decking only", f"mounts.{mount}.blocking": None}
    result = check(bare(JOBS[name]).with_(changes))
    assert result.ending is not Ending.WITHIN
    below = [c for id, c in required(result).items() if id.startswith("boards.")]
    assert len(below) >= 2 and not [c.id for c in below if c.ending is Ending.WITHIN and c.id.startswith("boards.screws")]
    front = "\n".join(sheet.text(result).split("IN SHORT", 1)[1].splitlines()[:18])
    assert "EXCEEDS" in front or "NOT CHECKED" in front  # in capitals: the row "Not checked" is always there
