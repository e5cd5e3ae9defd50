"""Cases carry their action, duration and combination to the last link."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator

import numpy as np
import pytest
from conftest import EXAMPLES, ROOT, SISTERS, job_named, sound

from barrier import sheet
from barrier.basis import basis_named
from barrier.errors import JobRefused
from barrier.job import Job
from barrier.links import Walk
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.loads.actions import actions
from barrier.links.loads.cases import Case
from barrier.links.mount.base_plate import leading
from barrier.links.mount.mount_forces import MountForces
from barrier.load_path import Result, Walked, check
from barrier.result import AT_ONCE, SOUND, About, Check, Ending, Standing, one_of_each, worst_of
from barrier.tables import Tables
from barrier.value import Numerical, Value

NAMES = [p.stem for p in EXAMPLES]
SMALL = {  # so little on the barrier that wind decides wherever a load is compared
    "loads.line": "0.05 kN/m", "loads.point": "50 N", "loads.infill": "0.05 kN/m2", "loads.infill_point": "50 N",
    "loads.reference": "a test",
}  # fmt: skip
WIND = {"wind": {"pressure": "1.2 kN/m2", "reference": "a test"}}
APART = {**WIND, "loads.with_wind": "apart", "loads.reference": "a test"}
SAME = 1e-9  # relative; the same sums, in another order at most


def mounts(result: Result | Walked) -> tuple[MountForces, ...]:
    return result.handed_on.mounts  # type: ignore[no-any-return]


def bare(name: str) -> Job:
    job = job_named(name)
    return job.with_({"situations": None}) if job.situations else job


# ---------------------------------------------------------------- which one decides


def made(ending: Ending, eta: float | None = None, demand: float | None = None, id: str = "a") -> Check:
    def value(x: float | None) -> Value | None:
        return None if x is None else Value(x, "ratio", Numerical("made up", "made up", "a test"))

    return Check(About(id), "", ending, Standing.REQUIRED, demand=value(demand), utilisation=value(eta))


def test_what_lets_go_comes_first_then_what_exceeds_then_what_nobody_knows_then_the_largest() -> None:
    lets_go, over = made(Ending.EXCEEDS), made(Ending.EXCEEDS, 1.2)
    unknown, more_unknown = made(Ending.NOT_CHECKED, demand=1.0), made(Ending.NOT_CHECKED, demand=2.0)
    low, high = made(Ending.WITHIN, 0.2), made(Ending.WITHIN, 0.9)
    assert worst_of([low, high, unknown, over, lets_go]) is lets_go
    assert worst_of([low, high, unknown, over]) is over
    assert worst_of([high, unknown, low, more_unknown]) is more_unknown
    assert worst_of([low, high]) is high
    assert worst_of([high, made(Ending.WITHIN, 0.9)]) is high
    other = made(Ending.WITHIN, 0.5, id="b")
    assert one_of_each([low, other, high]) == (high, other)


def test_no_link_asks_for_the_combination_again() -> None:
    """A combination is asked of the basis where cases are made; from there on it is handed on."""
    may = {"loads/actions.py", "loads/at_once.py", "mount/in_plane_forces.py"}  # where a case, or a load in the plane, is made
    links = ROOT / "barrier" / "links"
    asking = re.compile(r"walk\.strength\(|basis\.service\(")
    asked = {str(path.relative_to(links)) for path in links.rglob("*.py") if asking.search(path.read_text(encoding="utf-8"))}
    assert asked == may


# ---------------------------------------------------------------- wind and the barrier load side by side


def numbers_of_wind(result: Walked) -> Iterator[tuple[str, float]]:
    for handed in mounts(result):
        if handed.combination.natures != ("wind",):
            continue
        name = handed.model.name
        for word, value in (("bed", getattr(handed.bed, "strength", None)), ("pull", handed.R_ax), ("M", handed.M_Ed)):
            if isinstance(value, Value):
                yield f"{name} {word}", value.at(handed.worst)
    for c in result.checks:
        if c.combination.endswith(", wind"):
            for word, value in (("demand", c.demand), ("resistance", c.resistance), ("utilisation", c.utilisation)):
                if value is not None:
                    yield f"{c.id} {word}", value.at(c.station)


@pytest.mark.parametrize(("name", "durations"), [
    ("garden_deck", ("permanent", "instantaneous")), ("us_deck", ("permanent", "ten minutes")),
    ("au_deck", ("5 days", "5 seconds")), ("three_clamps_laminated", ("permanent", "instantaneous")),
    ("boards_only", ("permanent", "instantaneous")),
])  # fmt: skip
def test_the_duration_argued_for_the_barrier_load_changes_no_number_of_wind(name: str, durations: tuple[str, str]) -> None:
    job = bare(name).with_({**APART, **SMALL})
    long, short = (dict(numbers_of_wind(sound(job.with_({"loads.duration": d, "loads.reference": "a test"})))) for d in durations)
    # What else stands on a joist is looked at in every combination, and a push that is said to last decides there.
    assert {id.split(".")[0] for id in long.keys() ^ short.keys()} <= {"joist"} and len(long) > 20
    links = {id.split(".")[0] for id in long if "." in id}
    assert {"glass", "base_plate", "screws"} <= links and links & {"blocking", "boards"}
    for id in long.keys() & short.keys():
        assert long[id] == pytest.approx(short[id], rel=SAME), id


def test_wind_is_compared_with_its_own_duration_and_the_barrier_load_with_the_one_argued_for_it() -> None:
    """EN 1995-1-1: k_mod of service class 3, permanent 0.50 and short-term 0.70, in the ratio of the two resistances."""
    result = sound(bare("garden_deck").with_({**WIND, "loads.duration": "permanent", "loads.reference": "a test"}))
    rail, wind = (next(m for m in mounts(result) if m.combination.natures == (n,)) for n in ("barrier", "wind"))
    for of in (lambda m: m.bed.strength, lambda m: m.R_ax):
        assert of(rail).at(0) / of(wind).at(0) == pytest.approx(0.50 / 0.70)


def test_the_combination_and_the_case_named_on_a_check_are_those_of_its_governing_station() -> None:
    job = bare("garden_deck").with_({**APART, **SMALL})
    cases = {c.id: c for c in sound(job).handed_on.cases}
    for changes, nature in (({}, "wind"), ({"wind": {"pressure": "0.01 kN/m2", "reference": "a test"}}, "barrier")):
        loaded = [c for c in sound(job.with_(changes)).checks if c.combination and not c.id.startswith("in_plane.")]
        for c in loaded:
            case = cases[c.case]
            assert c.combination == (case.service.id if c.id.startswith("movement.") else case.strength.id), c.id
            if c.eta is not None and c.standing is Standing.REQUIRED:
                assert case.action.nature == nature, c.id
        assert {c.id.split(".")[0] for c in loaded} >= {"glass", "base_plate", "screws", "bearing", "blocking"}


@pytest.mark.parametrize("name", [*(n for n in NAMES if n not in SISTERS), "us_laminated", "au_laminated"])
def test_a_second_combination_never_takes_a_check_away(name: str) -> None:
    """Each id comes once, whatever the combinations, and the ones that decide are those of the worse of the two alone."""
    job = bare(name).with_(APART)
    both = sound(job).checks
    assert len({c.id for c in both}) == len(both)
    rail = {c.id: c for c in sound(job.with_({"wind": None, "site.outdoors": False})).checks}
    wind = {c.id: c for c in sound(job.with_(SMALL)).checks}
    for c in both:
        alone = [x for x in (rail.get(c.id), wind.get(c.id)) if x is not None and c.combination]
        if c.eta is None or any(a.eta is None for a in alone) or not alone or c.id.startswith("in_plane."):
            continue
        assert c.eta == pytest.approx(max(a.eta for a in alone if a.eta is not None), rel=1e-6), c.id


def test_the_combination_shown_is_the_one_with_the_largest_moment() -> None:
    result = sound(bare("garden_deck").with_(APART))
    for shown in leading(mounts(result)):
        same = [m for m in mounts(result) if m.model is shown.model]
        assert len(same) == 2 and shown.M_worst.at(0) == max(m.M_worst.at(0) for m in same)


def test_the_deck_gets_the_largest_of_every_combination() -> None:
    result = sound(bare("garden_deck").with_(APART))
    table = result.handed_on.tables[0]
    assert table.combinations == ("ultimate, barrier", "ultimate, wind")
    alone = [
        sound(bare("garden_deck").with_(changes)).handed_on.tables[0]
        for changes in ({"wind": None, "site.outdoors": False}, {**APART, **SMALL})
    ]
    for row, *parts in zip(table.rows, *(a.rows for a in alone), strict=True):
        for value, *of in zip(row.values, *(p.values for p in parts), strict=True):
            assert value is not None and all(o is not None for o in of)
            assert abs(value.at(0)) == pytest.approx(max(abs(o.at(0)) for o in of), rel=1e-6), row.words


# ---------------------------------------------------------------- several actions in one combination


def handed_to_the_glass(job: Job) -> tuple[Case, ...]:
    """The cases of a job, before anything is solved."""
    tables = Tables()
    return tuple(actions(Walk(job, basis_named(job.basis, job.national, tables), tables, SOUND))[1])


def cases_of(result: Result | Walked) -> dict[str, Case]:
    return {c.id: c for c in result.handed_on.cases}


def sums(result: Result | Walked) -> list[Case]:
    return [c for c in cases_of(result).values() if c.parts]


def test_the_shares_of_expression_6_10() -> None:
    """EN 1990 (6.10): 1.5 (Q + psi_0 W) and 1.5 (W + psi_0 Q), psi_0 of wind 0.5 in the UK and 0.6 where nobody says otherwise
    (Table A1.1, NA.A1.1), of imposed load 0.7."""
    uk = sound(bare("garden_deck"))
    shares = {c.strength.id: tuple(float(p.share.x) for p in c.parts) for c in sums(uk)}
    assert shares == {"ultimate, barrier load with wind": (1.0, 0.5), "ultimate, wind with barrier load": (1.0, 0.7)}
    nobody = bare("garden_deck").with_({"national": None, "loads.line": "0.74 kN/m", "loads.reference": "a test"})
    assert {float(p.share.x) for c in sums(sound(nobody)) for p in c.parts} == {1.0, 0.6, 0.7}
    for c in sums(uk):
        a, b = c.parts
        assert float(c.strength.factor.x) == 1.5 and float(c.service.factor.x) == 1.0
        assert float(c.resultant.x) == pytest.approx(
            float(a.share.x) * float(a.case.resultant.x) + float(b.share.x) * float(b.case.resultant.x)
        )


def test_a_sum_is_of_one_barrier_load_that_decides_and_one_wind_on_its_panel() -> None:
    """Counted by hand: every barrier load that decides, once for every wind and each of the two that may lead."""
    cases = handed_to_the_glass(bare("garden_deck"))
    natures = [c.action.nature for c in cases if not c.parts and c.standing is Standing.REQUIRED]
    pairs = [tuple(sorted(p.case.action.nature for p in c.parts)) for c in cases if c.parts]
    assert pairs == [("barrier", "wind")] * (2 * natures.count("barrier") * natures.count("wind")) and pairs
    assert all(p.case.panel is c.panel for c in cases for p in c.parts)


def test_the_us_sum_decides_with_0_75_of_the_guard_load_and_0_45_of_the_wind() -> None:
    """ASCE 7 2.4.1: D + 0.75 L + 0.75 (0.6 W); the line load alone D + L, the wind alone D + 0.6 W."""
    result = sound(bare("us_deck"))
    assert all(c.standing is Standing.REQUIRED for c in sums(result))
    assert {tuple(round(float(p.share.x), 12) for p in c.parts) for c in sums(result)} == {(0.75, 0.45)}
    alone = {c.action.nature: float(c.strength.factor.x) for c in cases_of(result).values() if not c.parts}
    assert alone == {"barrier": 1.0, "wind": 0.6}
    assert not [c.id for c in result.checks if c.id.startswith(AT_ONCE) and not c.id.startswith(f"{AT_ONCE}movement.")]


@pytest.mark.parametrize("name", ["au_deck", "nz_deck"])
def test_in_australia_and_new_zealand_they_stand_apart_and_the_sheet_says_why(name: str) -> None:
    result = sound(bare(name).with_(WIND))
    assert not sums(result)
    said = [f.text for f in result.links[0].findings if "stand apart" in f.text]
    assert said and "Table 4.1" in said[0]


@pytest.mark.parametrize("name", ["garden_deck", "us_deck", "three_clamps_laminated"])
def test_a_sum_gives_every_mount_the_sum_of_what_its_parts_give(name: str) -> None:
    """Forces and moments of a linear plate are linear: the sum solved at once, against the parts solved alone.

    Pads on one face are not linear; what they hand on is, to a part in ten thousand, for statics gives it and not the pads.
    """
    # One modulus for every load: by the table a sum lasts as long as its longer part, and its film is softer than in the other.
    same_film = {"panels.1.interlayer.modulus": "1 MPa", "panels.1.interlayer.reference": "a test"} if "laminated" in name else {}
    panel: PanelSolution = sound(bare(name).with_(same_film)).handed_on.panels[0]
    at = {c.id: i for i, c in enumerate(panel.cases)}
    compared = 0
    for (pads, _), solution in zip(panel.sets, panel.solutions, strict=True):
        near = 1e-4 if pads.one_face else 1e-7
        for i, c in enumerate(panel.cases):
            for of in (solution.F, solution.Mx, solution.Mz) if c.parts else ():
                parts = sum(float(p.share.x) * of[at[p.case.id]] for p in c.parts)
                assert of[i] == pytest.approx(parts, rel=near, abs=near * np.abs(solution.Mx).max())
                compared += 1
    assert compared > 30


def test_the_stress_of_a_sum_is_that_of_one_solution_and_not_the_sum_of_peaks() -> None:
    result = sound(bare("garden_deck"))
    panel: PanelSolution = result.handed_on.panels[0]
    at = {c.id: i for i, c in enumerate(panel.cases)}
    lower = 0
    for peaks in panel.peaks:
        stress = peaks["load"]["interior"].stress
        for i, c in enumerate(panel.cases):
            if c.parts:
                most = sum(float(p.share.x) * stress[at[p.case.id]] for p in c.parts)
                least = max(float(p.share.x) * stress[at[p.case.id]] for p in c.parts)
                assert least * (1 - 1e-9) <= stress[i] <= most * (1 + 1e-3)  # peaks are found on a grid, then refined
                lower += stress[i] < 0.99 * most
    assert lower  # somewhere the peaks are not at one place


def test_hand_and_plate_agree_on_the_moment_of_a_sum() -> None:
    """Two mounts alike under loads in the middle: half of the resultant times its height."""
    result = sound(bare("garden_deck"))
    for handed in mounts(result):
        for M, case in zip(np.asarray(handed.service.M.x), handed.cases, strict=True):
            if case.parts and all(p.case.action.kind in ("line", "pressure") for p in case.parts):
                arm = float(case.height.x) + float(handed.model.lever.x)
                assert pytest.approx(float(case.resultant.x) * arm / 2, rel=1e-6) == M


def test_what_only_informs_has_an_id_of_its_own_and_changes_nothing_that_decides() -> None:
    small = bare("garden_deck").with_({"wind": {"pressure": "0.45 kN/m2", "reference": "a test"}})
    with_wind = {c.id: c for c in sound(small).checks}
    apart = small.with_({"loads.with_wind": "apart", "loads.reference": "a test"})
    without = {c.id: c for c in sound(apart).checks}
    informing = [c for id, c in with_wind.items() if id not in without]
    assert informing and all(c.id.startswith(AT_ONCE) and c.standing is Standing.INFORMATION for c in informing)
    assert {c.id.split(".")[1] for c in informing} == {
        "glass", "clamp", "base_plate", "screws", "bearing", "blocking", "joist", "movement",
    }  # fmt: skip
    for id, c in without.items():
        assert with_wind[id].eta == c.eta and with_wind[id].ending is c.ending, id
    for c in informing:
        assert c.id.removeprefix(AT_ONCE) in without and c.eta is not None
    # By hand, moments about the underside of the base plate: 0.74 kN/m at 1.04 + 0.06 m, half of 0.45 kN/m2 at mid-height.
    more = 1 + 0.5 * 0.45 * 1.04 * (0.52 + 0.06) / (0.74 * (1.04 + 0.06))
    bed = with_wind["at_once.base_plate.bed.M1"].eta, without["base_plate.bed.M1"].eta
    assert (bed[0] or 0) / (bed[1] or 1) == pytest.approx(more, rel=1e-6)


@pytest.mark.parametrize("words", ["together", "apart"])
def test_the_reader_promotes_the_sum_or_drops_it_and_page_one_names_it(words: str) -> None:
    job = bare("garden_deck").with_({"loads.with_wind": words, "loads.reference": "letter of 3 May"})
    result = check(job)
    assert not [c for c in result.sound.checks if c.id.startswith(AT_ONCE) and not c.id.startswith(f"{AT_ONCE}movement.")]
    front = sheet.text(result).split("WHAT WAS CHECKED")[0]
    flat = " ".join(front.split())
    if words == "apart":
        assert not sums(result) and "Barrier load and wind at once are left out of this job" in flat
        return
    informed = {c.id: c for c in sound(bare("garden_deck")).checks}
    decided = {c.id: c for c in result.sound.checks if c.standing is Standing.REQUIRED}
    assert "Barrier load and wind at once decide in this job" in flat
    promoted = [id for id in decided if AT_ONCE + id in informed and not id.startswith("movement.")]
    assert len(promoted) > 30
    for id in promoted:
        assert decided[id].eta == pytest.approx(informed[AT_ONCE + id].eta), id


def test_it_needs_a_reference_to_leave_a_combination_out() -> None:
    with pytest.raises(JobRefused, match=r"loads\.reference"):
        bare("garden_deck").with_({"loads.with_wind": "apart"})


def test_the_durations_of_a_sum() -> None:
    """Timber takes the shorter (EN 1995-1-1 3.1.3(2), NDS 2.3.2), glass the longer, which is cautious."""
    long = bare("garden_deck").with_({"loads.duration": "permanent", "loads.reference": "a test"})
    for result in (sound(long), sound(bare("garden_deck"))):
        for c in sums(result):
            assert c.strength.duration == "short-term" and c.strength.glass_duration == "wind_storm"
    assert {c.strength.duration for c in sums(sound(bare("us_deck")))} == {"ten minutes"}


def test_every_mount_has_the_forces_of_a_sum_by_statics() -> None:
    """Sum over the mounts: the pushes add up to the resultant, and their moments to the resultant times its height."""
    panel: PanelSolution = sound(bare("us_deck")).handed_on.panels[0]
    for solution in panel.solutions:
        for i, c in enumerate(panel.cases):
            H, y = float(c.resultant.x), float(c.height.x)
            assert solution.F[i].sum() == pytest.approx(H, rel=1e-8)
            assert solution.Mx[i].sum() == pytest.approx(H * y, rel=1e-8)


def test_screws_pulled_and_pushed_are_combined_at_the_angle_of_their_own_load() -> None:
    """NDS 12.4.1 at the governing station, from its pull and its push and the two values of one screw; 2.77 at the worst angle."""
    result = sound(bare("us_deck"))
    checks = {c.id: c for c in result.checks}
    both = checks["screws.combined.M1"]
    assert both.utilisation is not None
    given = both.utilisation.origin.inputs
    T, V, eta_ax, eta_v = (given[name].at(both.station) for name in ("F_ax", "F_v", "eta_ax", "eta_v"))
    handed = next(f for f in mounts(result) if f.model.name == "M1" and f.combination.id == both.combination)
    W, Z = float(handed.R_ax.x), V / eta_v
    cos, sin = V / math.hypot(T, V), T / math.hypot(T, V)
    # No bed yields here, so that what withdrawal is compared by is the pull of one screw.
    assert eta_ax == pytest.approx(T / W, rel=1e-6)
    assert both.eta == pytest.approx(math.hypot(T, V) / (W * Z / (W * cos**2 + Z * sin**2)), rel=1e-6)
    assert both.eta < 0.7 * math.hypot(checks["screws.withdrawal.M1"].eta or 0, checks["screws.sideways.M1"].eta or 0)


# ---------------------------------------------------------------- loads of the reader's, case by case


def across(cases: Iterable[Case]) -> dict[str, tuple[float, str]]:
    """Size and standing of every barrier load across the glass, by its action and place."""
    alone = (c for c in cases if not c.parts and c.action.nature == "barrier")
    return {c.id: (float(c.action.size.x), str(c.standing)) for c in alone}


@pytest.mark.parametrize("name", NAMES)
def test_a_line_load_of_the_readers_leaves_every_other_case_as_it_was(name: str) -> None:
    job = bare(name)
    changed = job.with_({"loads.line": "0.9 kN/m", "loads.reference": "letter of 3 May"})
    before, after = across(handed_to_the_glass(job)), across(handed_to_the_glass(changed))
    lines = {id for id in before if id.endswith("/line")}
    assert lines and after.keys() == before.keys()
    for id, was in before.items():
        assert after[id] == ((pytest.approx(0.9), "required") if id in lines else was), id
    if name not in SISTERS:
        was, now = ({c.id for c in sound(of).checks if c.id.startswith("in_plane.")} for of in (job, changed))
        assert was == now


@pytest.mark.parametrize(("name", "entry", "kind"), [
    ("garden_deck", "point", "point"), ("garden_deck", "infill", "pressure"), ("garden_deck", "infill_point", "patch"),
    ("us_deck", "point", "point"), ("us_deck", "infill_point", "patch"), ("au_deck", "point", "point"), ("au_deck", "line", "line"),
])  # fmt: skip
def test_a_case_is_switched_off_by_an_entry_with_a_reference_and_page_one_says_which_and_why(
    name: str, entry: str, kind: str
) -> None:
    job = bare(name)
    before = {c.action.kind for c in cases_of(check(job)).values() if not c.parts and c.action.nature == "barrier"}
    with pytest.raises(JobRefused, match=rf'loads\.{entry}.*= "none".*loads\.reference'):
        job.with_({f"loads.{entry}": "none"})
    result = check(job.with_({f"loads.{entry}": "none", "loads.reference": "letter of 3 May"}))
    after = {c.action.kind for c in cases_of(result).values() if not c.parts and c.action.nature == "barrier"}
    assert after == before - {kind}
    front = " ".join(sheet.text(result).split("WHAT WAS CHECKED")[0].split())
    assert f'is left out of this job by loads.{entry} = "none"' in front
    findings = " ".join(sheet.text(result).split("\nFINDINGS")[1].split())
    assert f'by loads.{entry} = "none": letter of 3 May' in findings


def test_with_every_load_left_out_the_load_on_the_barrier_is_not_checked() -> None:
    off = {f"loads.{entry}": "none" for entry in ("line", "point", "infill", "infill_point")}
    result = sound(bare("garden_deck").with_({**off, "loads.reference": "nobody"}))
    check_of = next(c for c in result.checks if c.id == "actions.barrier")
    assert check_of.ending is Ending.NOT_CHECKED and check_of.standing is Standing.REQUIRED


def test_without_a_national_table_a_load_that_is_no_line_load_is_not_all_of_it() -> None:
    job = bare("garden_deck").with_({"national": None, "loads.infill": "1 kN/m2", "loads.reference": "a test"})
    assert next(c for c in sound(job).checks if c.id == "actions.barrier").ending is Ending.NOT_CHECKED
    whole = sound(job.with_({"loads.line": "0.74 kN/m"}))
    assert not [c for c in whole.checks if c.id == "actions.barrier"]


# ---------------------------------------------------------------- how long a load lasts on glass


def test_public_use_takes_the_public_duration_of_glass() -> None:
    """EN 16612 with the durations of a UK guide: k_mod 0.89 at home (30 s), 0.77 in public and work places (5 min)."""
    at_home, public = (sound(bare("garden_deck").with_({"site.use": use})) for use in ("A2", "C5"))
    for result, k_mod in ((at_home, 0.89), (public, 0.77)):
        face = next(c for c in result.checks if c.id == "glass.face")
        assert face.combination == "ultimate, barrier" and face.resistance is not None
        assert face.resistance.origin.inputs["k_mod"].at(face.station) == k_mod
        # A hand sum: the annealed part of toughened glass with k_mod, the prestress without.
        f_gd = k_mod * 45 / 1.8 + (120 - 45) / 1.2
        assert face.resistance.at(face.station) == pytest.approx(f_gd)


def test_annealed_glass_has_by_so_much_less_in_public() -> None:
    alike = {
        "panels.P3.layers.1.glass": "annealed", "wind": None, "site.outdoors": False, "loads.line": "0.74 kN/m",
        "loads.infill": "1 kN/m2", "loads.infill_point": "none", "loads.reference": "a test",
    }  # fmt: skip
    home, public = (
        next(c for c in sound(bare("garden_deck").with_({**alike, "site.use": use})).checks if c.id == "glass.face")
        for use in ("A2", "C5")
    )
    assert (public.eta or 0) / (home.eta or 1) == pytest.approx(0.89 / 0.77)


@pytest.mark.parametrize(("use", "lasts"), [
    ("A1", "barrier_domestic"), ("A2", "barrier_domestic"), ("B3", "barrier_public"), ("C1", "barrier_public"),
    ("C3w", "barrier_public"), ("C5", "barrier_public"), ("D", "barrier_public"), ("F", "barrier_public"),
    ("", "barrier_public"), ("a pub", "barrier_public"), ("Annex to the hall", "barrier_public"),
])  # fmt: skip
def test_the_category_of_use_says_how_long_a_push_lasts(use: str, lasts: str) -> None:
    basis = check(bare("garden_deck")).basis
    assert basis.strength("barrier", use).glass_duration == basis.accidental("barrier", use).glass_duration == lasts
    assert basis.strength("wind", use).glass_duration == "wind_storm"
