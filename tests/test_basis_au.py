"""Australia and New Zealand: loads, wind, glass, rules and the decks of the country, by hand arithmetic.

Sources are named at each check; values from memory are said to be so in the tables.
"""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from conftest import EXAMPLES

from barrier import sheet
from barrier.basis import basis_named
from barrier.basis.au import joint_equations
from barrier.basis.parts import WET, Glass, Timber
from barrier.errors import JobRefused
from barrier.job import Job, read_job
from barrier.links.loads.cases import Case
from barrier.load_path import check
from barrier.result import Check, Ending, NotChecked, Standing
from barrier.tables import Tables
from barrier.value import JobEntry, Value

AU = basis_named("au", "", Tables())
NZ = basis_named("nz", "", Tables())
EXACT = 1e-12  # relative; the same arithmetic
THREE_DIGITS = 1e-3  # relative; the table has its pressures with three digits


def given(x: float, kind: str) -> Value:
    return Value(x, kind, JobEntry("test", "test"))


def au_deck() -> Job:
    return read_job(next(p for p in EXAMPLES if p.stem == "au_deck"))


def glass(kind: str, location: str, t: float = 11.7, surface: str = "float") -> float:
    found = AU.glass_strength(Glass(kind, surface, "polished", given(t, "length")), location, AU.strength("barrier"))  # type: ignore[arg-type]
    assert isinstance(found, Value)
    return float(found.x)


def test_toughened_glass_by_hand() -> None:
    """AS 1288-2021 section 3, figures of the tables: 0.67 x 2.5 x 1 x 1 x (-9.85 ln t + 71.34)."""
    assert glass("toughened", "face") == pytest.approx(0.67 * 2.5 * (-9.85 * math.log(11.7) + 71.34), rel=EXACT)
    assert glass("toughened", "edge") == pytest.approx(0.67 * 2.5 * (-7.88 * math.log(11.7) + 57.07), rel=EXACT)


def test_the_direction_of_every_glass_factor() -> None:
    """An edge is weaker than a face, thick glass weaker per area, sand takes strength away, treatment adds it."""
    assert glass("toughened", "edge") < glass("toughened", "face")
    assert glass("toughened", "face", 18.0) < glass("toughened", "face", 9.7)
    assert glass("annealed", "face") < glass("heat-strengthened", "face") < glass("toughened", "face")
    assert glass("toughened", "face", surface="sandblasted") < glass("toughened", "face")


@pytest.mark.parametrize("kind", ["toughened", "annealed"])
def test_longer_is_weaker(kind: str) -> None:
    from dataclasses import replace

    short = AU.strength("barrier")
    found = []
    for duration in ("short", "medium", "long"):
        value = AU.glass_strength(
            Glass(kind, "float", "polished", given(11.7, "length")), "face", replace(short, glass_duration=duration)
        )
        assert isinstance(value, Value)
        found.append(float(value.x))
    assert found == sorted(found, reverse=True) and found[2] < found[0]


def test_a_push_is_taken_to_last_longer_than_a_gust() -> None:
    """AS 1288-2021 Table 3.3: 0.72 for annealed glass over ten minutes. How long a push lasts was not read: the weaker."""
    kind = Glass("annealed", "float", "polished", given(11.7, "length"))
    push, gust = (AU.glass_strength(kind, "face", AU.strength(nature)) for nature in ("barrier", "wind"))  # type: ignore[arg-type]
    assert isinstance(push, Value) and isinstance(gust, Value)
    assert float(push.x) == pytest.approx(0.72 * float(gust.x), rel=EXACT)


def test_loads_of_a_balcony() -> None:
    """AS/NZS 1170.1:2002 Table 3.3, category C3: 0.75 kN/m across and down, 0.6 kN across and (memory) down, 1.0 kN/m2, 0.5 kN on
    2,000 mm2."""
    found = AU.actions("C3")
    assert not isinstance(found, NotChecked)
    size = {a.id: float(a.size.x) for a in found}
    assert size == {"line": 0.75, "point": 600.0, "infill": 1e-3, "vertical": 0.75, "point down": 600.0, "infill point": 500.0}
    patch = next(a for a in found if a.id == "infill point")
    assert patch.side is not None and float(patch.side.x) == pytest.approx(math.sqrt(2000.0), rel=EXACT)
    assert float(AU.strength("barrier").factor.x) == 1.5 and float(AU.strength("wind").factor.x) == 1.0


def test_new_zealand_has_its_own_loads_and_says_what_it_lacks() -> None:
    """NZBC B1/VM1, one secondary copy: 0.75 kN/m, 0.6 kN, 0.5 kN/m2, 0.25 kN for the deck of a dwelling."""
    found = NZ.actions("domestic_deck")
    assert not isinstance(found, NotChecked)
    assert {a.id: float(a.size.x) for a in found} == {"line": 0.75, "point": 600.0, "infill": 0.5e-3, "infill point": 250.0}
    glass_there = NZ.glass_strength(Glass("toughened", "float", "polished", given(11.7, "length")), "face", NZ.strength("barrier"))
    assert isinstance(glass_there, NotChecked) and "NZS 4223" in glass_there.text


def wind_case(job: Job) -> Case:
    cases: tuple[Case, ...] = check(job).handed_on.cases
    return next(c for c in cases if c.action.id == "wind")


def test_wind_of_a_class_by_hand() -> None:
    """AS 4055 N2: 0.6 x 40^2 and 0.6 x 26^2 Pa; AS/NZS 1170.2 free-standing walls by two public readings.

    The deck: glass and gap 1100 high, the top 1800 + 1100 = 2900 above the ground.
    """
    action = wind_case(au_deck()).action
    mid = 1.7 - 0.5 * 1100 / 2900
    assert float(action.size.x) == pytest.approx(mid * 0.6 * 40**2 * 1e-6, rel=EXACT)
    assert action.service is not None
    assert float(action.service.x) == pytest.approx(mid * 0.6 * 26**2 * 1e-6, rel=EXACT)


def test_the_direction_of_the_wind_coefficients() -> None:
    """A worse class, an end that stands free and a higher deck all blow harder; a coefficient of the reader replaces ours."""
    job = au_deck()
    sizes = [float(wind_case(job.with_(changes)).action.size.x) for changes in (
        {"site.fall_height": "0 m"}, {}, {"site.fall_height": "3 m"}, {"wind.place": "end panel"},
        {"wind.place": "end panel", "wind.wind_class": "N3"},
    )]  # fmt: skip
    assert sizes == sorted(sizes) and len(set(sizes)) == len(sizes)
    on_ground = wind_case(job.with_({"site.fall_height": "0 m", "wind.place": "end panel"}))
    assert float(on_ground.action.size.x) == pytest.approx(2.4 * 0.96e-3, rel=EXACT)
    own = job.with_({"wind.coefficient": 1.3, "wind.reference": "invented"})
    assert float(wind_case(own).action.size.x) == pytest.approx(1.3 * 0.96e-3, rel=EXACT)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"wind.wind_class": "N9"}, "N2"),
        ({"site.fall_height": None}, "fall height"),
        ({"site.fall_height": "9 m"}, "outside"),
        ({"basis": "en", "site.use": "A2", "national": "uk", "loads.duration": None}, "wind.wind_class is of another"),
        ({"basis": "nz", "site.use": "domestic_deck"}, "zone of the council"),
    ],
)
def test_wind_that_cannot_be_had_is_not_checked(changes: dict[str, object], said: str) -> None:
    c = next(c for c in check(au_deck().with_(changes)).sound.checks if c.id == "actions.wind")
    assert c.ending is Ending.NOT_CHECKED and said in c.reason


def test_a_screw_pushed_sideways_has_less_by_each_factor_of_its_joint() -> None:
    """AS 1720.1:2010 4.3.3 (from memory) multiplies all factors; by hand halves and fifths of 4000 N, one at a time."""
    factors = ("phi", "k_1", "k_13", "k_16", "k_17")
    for less in factors:
        found = joint_equations.SIDEWAYS(
            **{name: given(0.2 if name == less else 0.5, "ratio").named(name) for name in factors},
            Q_sk=given(4000.0, "force").named("Q_sk"),
        )
        assert found.at(0) == pytest.approx(4000 * 0.2 / 16), less


def test_movement_is_looked_at_under_the_serviceability_pressure() -> None:
    """The glass is linear: 26^2/40^2 of the ultimate wind. With a high wind it is wind that moves the top most."""
    hard = {"wind.coefficient": 4.0, "wind.reference": "invented"}
    moved = {}
    for wind in ({"wind.wind_class": "N4"}, {"wind": {"pressure": "2.233 kN/m2", "coefficient": 4.0, "reference": "invented"}}):
        result = check(au_deck().with_({**hard, **wind} if "wind" not in wind else wind))
        c = next(c for c in result.sound.checks if c.id.startswith("movement"))
        assert c.demand is not None and c.where.startswith("wind")
        moved[len(moved)] = c.demand.at(c.station)
    assert moved[0] / moved[1] == pytest.approx(39**2 / 61**2, rel=THREE_DIGITS)


def test_figures_of_another_code_are_for_scale_and_need_a_name_in_it() -> None:
    """The European figure stands beside what is not checked, compares with nothing, and goes with the European name."""
    found = [s for r in check(au_deck()).links for s in r.shown if "for scale only" in s.remark]
    pushed, sinks = "one screw pushed sideways", "characteristic bearing across the grain, for the indentation"
    assert {f"{what}, mount M1, by the Eurocode basis for C24" for what in (pushed, sinks)} <= {s.title for s in found}
    bare = check(au_deck().with_({"blocking.B1.material": {"au": "MGP12"}}))
    assert not [s for r in bare.links for s in r.shown if "for scale only" in s.remark]


def test_findings_of_pool_drop_and_joint_group() -> None:
    """AS 1926.1 as remembered: 1200 mm and 100 mm; beside a drop both sets of rules hold."""
    result = check(au_deck().with_({"site.pool": True, "panels.P3.bottom_gap": "60 mm"}))
    said = " ".join(f.text for r in result.links for f in r.findings)
    assert "As a pool barrier its height is lower than the rule asks" in said
    assert "the rules of both hold" in said
    assert "joint group" in said
    height = next(f for r in result.links for f in r.findings if "As a pool barrier its height" in f.text)
    assert height.length is not None and height.length.x == 1200.0
    assert "height of a pool barrier on the side away from the pool: 1200 mm." in " ".join(sheet.text(result).split())
    without = " ".join(f.text for r in check(au_deck()).links for f in r.findings)
    assert "Beside a pool" not in without


def test_the_deck_that_was_given_what_it_needs_lacks_only_what_no_text_has() -> None:
    """All within but what has no rule: a screw pushed through a loose board, what is added to it, and torsion of timber."""
    checks = [c for c in check(au_deck()).sound.checks if c.standing is Standing.REQUIRED]
    missing = {c.id.rsplit(".", 1)[0] for c in checks if c.ending is Ending.NOT_CHECKED}
    assert missing == {"screws.sideways", "screws.combined", "blocking.torsion"}
    assert all(c.ending is Ending.WITHIN for c in checks if c.ending is not Ending.NOT_CHECKED)


def everyday() -> Job:
    return read_job(next(p for p in EXAMPLES if p.stem == "australian_deck"))


def test_the_everyday_deck_has_a_number_or_a_named_reason_in_every_link() -> None:
    """Common practice, no source: 12 mm, 1200, mounts 150 mm in, joists at 450, three loose 45 mm pieces, M10 x 100, end nails.

    At most eight required checks are without a number, and what each asks for is with the supplier or in no text that was read.
    """
    checks = [c for c in check(everyday()).sound.checks if c.standing is Standing.REQUIRED]
    missing = {c.id: c.reason for c in checks if c.ending is Ending.NOT_CHECKED}
    assert len(checks) > 70 and len(missing) <= 8
    assert {id.rsplit(".", 1)[0] for id in missing} == {
        "clamp.rating", "blocking.torsion", "screws.sideways", "screws.combined",
    }  # fmt: skip
    assert all(
        "ask the supplier" in r or "not read" in r or "no rule" in r or "nothing was found" in r or "no utilisation" in r
        for r in missing.values()
    )


def test_nails_in_end_grain_count_here_and_not_by_the_eurocode() -> None:
    """AS 1720.1 gives 0.6 of side grain, EN 1995-1-1 nothing: the deck exceeds all the same, with a number."""
    ours = next(c for c in check(everyday()).sound.checks if c.id == "blocking.end.left.uplift.M1")
    assert ours.ending is Ending.EXCEEDS and ours.resistance is not None and float(ours.resistance.x) > 0
    by_hand = 0.80 * 0.86 * 0.6 * 2 * 0.67 * 680
    assert float(ours.resistance.x) == pytest.approx(by_hand, rel=EXACT)
    en = basis_named("en", "uk", Tables())
    theirs = en.end_grain(en.strength("barrier"))
    assert isinstance(theirs, Value) and float(theirs.x) == 0.0


def said_of(changes: dict[str, object]) -> str:
    return " ".join(f.text for r in check(everyday().with_(changes)).links for f in r.findings)


def test_findings_by_the_drop() -> None:
    """AS 1288-2021 and NCC 2022, from public copies: laminated above 5 m, a handrail from 1 m, 40 mm in front of the edge."""
    high, low = said_of({"site.fall_height": "5.1 m"}), said_of({"site.fall_height": "0.9 m"})
    assert "single layer over a drop that is too high for it" in high and "has no rail" in high
    assert "too high for it" not in low and "has no rail" not in low
    assert "too high" not in said_of({"site.fall_height": "5 m"})
    unknown = said_of({"site.fall_height": "unknown"})
    assert "single layer and the drop is not given" in unknown and "has no rail and the drop is not given" in unknown
    assert "in front of the edge" in low
    assert "could be climbed on" in said_of({"site.pool": True}) and "could be climbed on" not in low


@pytest.mark.parametrize("entry", ["timber.category", "timber.tropics", "site.service_class"])
def test_what_the_timber_code_asks_is_assumed_in_words(entry: str) -> None:
    """Left out, it is the cautious default and listed; a job of another family is not asked."""
    bare = everyday().with_({entry: None})
    assert entry in {e.path for e in bare.assumptions()}
    there = {"basis": "en", "national": "uk", "site.use": "A2", "wind": None, "timber": None}
    assert not [e for e in everyday().with_(there).assumptions() if e.path.startswith("timber")]


def test_a_push_that_is_argued_to_be_short_is_stronger_and_needs_a_reference() -> None:
    """k_1 of joints 1.00 for 5 minutes, 0.86 for 5 hours; the word of the job needs somebody's reference."""
    with pytest.raises(JobRefused, match="reference"):
        check(everyday().with_({"loads.duration": "5 minutes"}))
    argued = check(everyday().with_({"loads.duration": "5 minutes", "loads.reference": "letter of the engineer"}))
    id = "blocking.end.left.uplift.M1"
    R = [next(c for c in r.sound.checks if c.id == id).resistance for r in (check(everyday()), argued)]
    assert R[0] is not None and R[1] is not None
    assert float(R[1].x) / float(R[0].x) == pytest.approx(1 / 0.86, rel=EXACT)


def test_steel_of_the_grade_of_the_table_in_psi_is_of_that_grade() -> None:
    """400 MPa are 58015.09508... psi, and come back a last bit short; 399 MPa are weaker than the table is for."""
    psi = Decimal("4.4482216152605") / Decimal("25.4") ** 2

    def steel(f_u: str) -> Check:
        result = check(au_deck().with_({"mount_types.deep.screw.ultimate_strength": f_u}))
        return next(c for c in result.sound.checks if c.id == "screws.steel.M1")

    same, weaker = steel(f"{Decimal(400) / psi:.25f} psi"), steel("399 MPa")
    assert same.eta == pytest.approx(steel("400 MPa").eta, rel=1e-9)
    assert weaker.eta is None and "weaker than the grade" in weaker.reason


@pytest.mark.parametrize(
    ("grade", "dry", "weather"),
    [("SG8", "SG8: dry", "its wet figures"), ("SG10", "SG10: dry", "in the ratio of SG8 wet to dry, by analogy")],
)
def test_timber_of_new_zealand_says_which_figures_it_has(grade: str, dry: str, weather: str) -> None:
    """What is said goes with what is taken: in the weather the lower modulus (NZS AS 1720.1:2022, SG8: 8.0 and 6.5 GPa)."""
    within, outside = Timber({"nz": grade}, 1), Timber({"nz": grade}, WET)
    for timber, words in ((within, dry), (outside, weather)):
        said = NZ.timber_words(timber)
        assert said is not None and words in said[0]
    E = [NZ.timber_stiffness(t) for t in (within, outside)]
    assert not isinstance(E[0], NotChecked) and not isinstance(E[1], NotChecked)
    assert float(E[1].x) / float(E[0].x) == pytest.approx(6.5 / 8.0, rel=EXACT)
