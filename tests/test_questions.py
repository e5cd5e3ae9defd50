"""The questions of a new job: every set of answers becomes a file that is read, and "don't know" is always one."""

from __future__ import annotations

import re
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barrier.errors import Fault
from barrier.job import job_from_text
from barrier.job.questions import DONT_KNOW, Doubt, Question, applies, ask_all, check_answer, job_text, questions
from barrier.load_path import Result, check
from barrier.result import Lack, Standing
from barrier.sheet import text as sheet_text
from barrier.sheet.numbers import NOT_MEASURED
from barrier.value import JobEntry

QUESTIONS = {q.key: q for q in questions()}
GOOD = {
    "country": "uk", "use": "home", "fall": "1.8 m", "below": "garden", "exposure_to_weather": "weather", "width": "1200 mm",
    "top": "1100 mm", "gap": "50 mm", "glass": "toughened", "thickness": "12 mm", "finish": "polished", "rail": "none",
    "mounts": "3", "edge": "150 mm", "grip": "90 mm", "clamp_width": "50 mm", "plate": "100 mm", "plate_shape": "rectangle",
    "plate_thickness": "10 mm", "holes": "70 mm x 70 mm", "screw_kind": "coach screw", "screw": "8 mm x 100 mm", "thread": "60 mm",
    "core": "5.4 mm", "decking": "28 mm", "board": "140 mm", "boards_run": "along", "board_grade": "C24", "gap_under": "0 mm",
    "joist_spacing": "450 mm", "joist": "45 mm x 195 mm", "joists_run": "across", "span": "2.4 m", "overhang": "300 mm",
    "from_joist_end": "100 mm", "outer": "bearer", "seat": "90 mm", "blocking": "3", "piece": "45 mm x 195 mm", "lie": "upright",
    "grade": "C24", "ends": "nails", "fastened": "2", "fastener": "3.1 mm x 90 mm", "map_speed": "22 m/s", "altitude": "60 m",
    "sea": "30 km", "town": "country", "hill": "no", "skirt": "open", "run": "7.2 m", "from_end": "2.4 m", "corner": "0 m",
}  # fmt: skip
ONLY_BRACKETS = {"ends": "bracket", "rated": "2.0 kN x 5.0 kN"}
ELSEWHERE = {
    "germany": {"de_zone": "2", "coast": "inland", "hill": "no", "skirt": "open"},
    "other europe": {"basic_speed": "25 m/s", "terrain": "village", "hill": "no", "skirt": "closed"},
    "us": {"speed": "115 mph", "exposure": "C", "hill": "no"},
    "australia": {"wind_class": "N2"},
    "new zealand": {"nz_zone": "H"},
}  # fmt: skip
IN_INCHES = {
    "country": "us", "use": "shared", "fall": "6 ft", "width": "4 ft", "top": "42 in", "gap": "2 in", "glass": "toughened",
    "thickness": "3/8 in + 3/8 in", "mounts": "2", "edge": "6 in", "grip": "4 in", "clamp_width": "2 in", "plate": "4 in",
    "plate_thickness": "3/8 in", "holes": "2 3/4 in x 2 3/4 in", "screw": "3/8 in x 4 in", "thread": "2 1/2 in",
    "decking": "1 in", "board": "5 1/2 in", "gap_under": "0 in", "joist_spacing": "16 in", "joist": "1 1/2 in x 7 1/4 in",
    "span": "8 ft", "overhang": "12 in", "from_joist_end": "4 in", "seat": "3 1/2 in", "blocking": "2",
    "piece": "1 1/2 in x 7 1/4 in", "grade": "Hem-Fir No.2", "board_grade": "Hem-Fir No.2", "ends": "nails", "fastened": "2",
    "fastener": "0.148 in x 3 in",
}  # fmt: skip


def test_some_fifty_questions_in_trade_words() -> None:
    assert set(GOOD) | {k for there in ELSEWHERE.values() for k in there} | {"rated"} == set(QUESTIONS)
    for country in ("uk", *ELSEWHERE):
        asked = [q for q in QUESTIONS.values() if applies(q, GOOD | {"country": country})]
        windy = [q for q in asked if q.key in set(GOOD) | set(ELSEWHERE.get(country, {}))]
        assert asked == windy and 44 <= len(asked) <= 54
        assert [q.part for q in asked] == sorted((q.part for q in asked), key=PARTS.index)
    for q in QUESTIONS.values():
        assert q.allows_unknown and q.help and [bool(q.choices), bool(q.kinds), q.free].count(True) == 1
        assert not re.search(r"MPa|f_|k_mod|characteristic|utilisation", q.text)


PARTS = ["The place", "The glass", "The mounts", "The deck", "The wind"]


def test_nothing_known_is_read_and_says_what_to_measure() -> None:
    for nothing in ({}, dict.fromkeys(QUESTIONS, "don't know")):
        text = job_text(nothing)
        job = job_from_text(text)
        assert all(m.support == "decking only" and m.rating is None for m in job.mounts)
        assert job.national == "" and job.wind is not None and job.wind.pressure is None
        assert job.decking.gap_under is None and job.decking.material == {}
        assert job.mounts[0].screw.ultimate_strength is None and job.mounts[0].plate.yield_strength is None  # never a stand-in
        assert job.site.service_class == 3 and job.panels[0].layers[0].glass == "annealed"
        assert job.site.use == "C5"  # the heaviest row of the table of loads
        assert text.count("assumed = ") >= 20
        assert len(job.unknowns()) > 10 and len(job.assumptions()) > 5


def test_every_stand_in_is_marked() -> None:
    """With nothing known, each line that holds a size says that it is assumed and how to find the true one."""
    for line in job_text({}).splitlines():
        if re.match(r'[a-z_]+ = "-?[0-9.]+ (mm|in)', line):
            assert line.startswith("bottom ="), line
        if "assumed" in line and line.startswith("#") is False:
            assert re.fullmatch(r'[a-z_]+ = \{ value = .+, assumed = ".{8,}" \}', line), line


def test_answers_stand_as_they_were_given() -> None:
    text = job_text(GOOD)
    job = job_from_text(text)
    panel = job.panels[0]
    assert (panel.width.x, panel.height.x, panel.bottom_gap.x) == (1200.0, 1050.0, 50.0)
    assert [m.x.x for m in job.mounts] == [200.0, 600.0, 1000.0]
    screw = job.mounts[0].screw
    assert (screw.diameter.x, screw.length.x) == (8.0, 100.0)
    assert (job.blocking["B3"].pieces, job.blocking["B1"].width.x, job.blocking["B1"].depth.x) == (3, 45.0, 195.0)
    assert job.blocking["B1"].left is not None and job.blocking["B1"].left.fixing == "nails"
    assert (job.basis, job.national, job.site.use) == ("en", "uk", "A2")
    assert 'width = "1200 mm"  # measure one panel' in text


@pytest.mark.parametrize("country", ELSEWHERE)
def test_the_wind_is_asked_in_the_words_of_the_country(country: str) -> None:
    """The answers make a job whose wind is worked out, not one that waits for a pressure."""
    run = {k: GOOD[k] for k in ("run", "from_end", "corner", "fall", "use")}
    job = job_from_text(job_text({"country": country, **run, **ELSEWHERE[country]}))
    wind = job.wind
    assert wind is not None and wind.pressure is None and wind.run_length is not None and wind.run_length.x == 7200.0
    lead = {"germany": wind.zone, "other europe": wind.basic_speed, "us": wind.speed, "australia": wind.wind_class,
            "new zealand": wind.zone}[country]  # fmt: skip
    assert lead is not None and job.panels[0].from_end is not None
    assert not [e.path for e in job.unknowns() if e.path.startswith("wind.")]
    assert country != "other europe" or (wind.terrain, wind.below_deck) == ("III", "closed")


def test_answers_in_inches() -> None:
    job = job_from_text(job_text(IN_INCHES))
    assert (job.basis, job.units, job.site.use) == ("us", "us", "guard")
    assert len(job.panels[0].layers) == 2 and job.panels[0].interlayer is not None
    assert job.blocking["B1"].width.x == pytest.approx(38.1) and job.blocking["B1"].depth.x == pytest.approx(184.15)
    assert job.panels[0].height.x == pytest.approx(40 * 25.4)


@settings(max_examples=80, deadline=None)
@given(st.sets(st.sampled_from(sorted(GOOD))), st.sampled_from([GOOD, IN_INCHES]))
def test_any_part_of_the_answers_is_enough(known: set[str], answers: dict[str, str]) -> None:
    job_from_text(job_text({k: v for k, v in answers.items() if k in known}))


@settings(deadline=None)
@given(st.data())
def test_every_choice_is_a_job(data: st.DataObject) -> None:
    picked = {q.key: data.draw(st.sampled_from((*q.choices, "unknown"))) for q in QUESTIONS.values() if q.choices}
    job_from_text(job_text(GOOD | picked))


@pytest.mark.parametrize("words", sorted(DONT_KNOW))
def test_ways_of_not_knowing(words: str) -> None:
    assert all(check_answer(q, words.upper()) == "unknown" for q in QUESTIONS.values())


@pytest.mark.parametrize(
    ("key", "typed", "words"),
    [
        ("width", "12 kN", "expected a length"),
        ("width", "12 furlong", "unknown unit"),
        ("width", "-5 mm", "outside what is meant"),
        ("width", "12 m x 3 m", "2 sizes; expected 1"),
        ("screw", "100 mm", "1 sizes; expected 2"),
        ("thickness", "10 mm +", "is empty"),
        ("glass", "perspex", "not among"),
        ("grade", 'C24" bad', "cannot stand in a name"),
        ("glass", "toughend", 'did you mean "toughened"?'),
        ("mounts", "1", "from 2 to 8"),
        ("mounts", "a few", "no whole number"),
        ("blocking", "-1", "no whole number"),
    ],
)
def test_answers_are_checked_one_at_a_time(key: str, typed: str, words: str) -> None:
    fault = check_answer(QUESTIONS[key], typed)
    assert isinstance(fault, Fault) and fault.key == key and words in fault.text
    with pytest.raises(ValueError, match=key):
        job_text({key: typed})


@pytest.mark.parametrize(
    ("key", "typed", "units", "kept"),
    [
        ("width", '42"', "us", "42 in"),
        ("width", "4'9\"", "us", "4 ft 9 in"),
        ("width", "4’ 9 1/2”", "us", "4 ft 9 1/2 in"),
        ("thickness", "1/2 inch", "us", "1/2 in"),
        ("width", "1200MM", "metric", "1200 mm"),
        ("piece", '1 1/2" by 7 1/4"', "us", "1 1/2 in x 7 1/4 in"),
        ("piece", "45x195mm", "metric", "45 mm x 195 mm"),
        ("screw", "8 x 100 mm", "metric", "8 mm x 100 mm"),
        ("glass", "tempered", "us", "toughened"),
        ("ends", "joist hanger", "us", "bracket"),
        ("screw_kind", "lag", "us", "coach screw"),
        ("country", "USA", "metric", "us"),
        ("country", "NZ", "metric", "new zealand"),
        ("use", "House", "metric", "home"),
        ("width", "dunno", "metric", "unknown"),
    ],
)
def test_answers_as_people_write_them(key: str, typed: str, units: str, kept: str) -> None:
    """A job file would refuse most of these; a dialogue knows what is meant."""
    assert check_answer(QUESTIONS[key], typed, units) == kept


@pytest.mark.parametrize(
    ("key", "typed", "units", "kept"),
    [("width", "57", "us", "57 in"), ("width", "1200", "metric", "1200 mm"), ("fall", "1.8", "metric", "1.8 m"),
     ("piece", "45 x 195", "metric", "45 mm x 195 mm"), ("thickness", "10 + 10", "metric", "10 mm + 10 mm")],
)  # fmt: skip
def test_a_number_without_a_unit_is_asked_back(key: str, typed: str, units: str, kept: str) -> None:
    doubt = check_answer(QUESTIONS[key], typed, units)
    assert isinstance(doubt, Doubt) and doubt.kept == kept and f"is it {kept}?" in doubt.text
    with pytest.raises(ValueError, match=key):
        job_text({key: typed})


@given(st.sampled_from(sorted(QUESTIONS)), st.text(max_size=40))
def test_any_answer_is_kept_or_refused(key: str, typed: str) -> None:
    answer = check_answer(QUESTIONS[key], typed)
    if isinstance(answer, str):
        assert check_answer(QUESTIONS[key], answer) == answer
    else:
        assert answer.text and "\n" not in answer.text


def test_asking_repeats_what_cannot_be_taken_and_skips_what_is_not_there() -> None:
    asked: list[str] = []
    said: list[str] = []
    typed = iter(["uk", "home", "1.8 m", "", "", "1200 kN", "1200", "", *[""] * 60])

    def prompt(words: str) -> str:
        asked.append(words)
        return next(typed)

    text = ask_all(prompt, said.append)
    assert sum("How wide is one panel" in a for a in asked) == 2
    assert any("expected a length" in s for s in said) and any("is it 1200 mm?" in a for a in asked)
    assert not any("one piece of blocking" in a for a in asked)  # no blocking was seen
    assert [s.strip() for s in said if s.startswith("\nThe ")] == PARTS
    assert job_from_text(text).panels[0].width.x == 1200.0


def test_blocking_questions_apply_only_to_blocking() -> None:
    piece = QUESTIONS["piece"]
    assert applies(piece, {"blocking": "2"}) and not applies(piece, {"blocking": "0"}) and not applies(piece, {})
    assert isinstance(piece, Question)
    job = job_from_text(job_text(GOOD | ONLY_BRACKETS))
    end = job.blocking["B1"].left
    assert end is not None and end.uplift is not None and end.uplift.x == 2000.0 and end.meaning == "characteristic"


# ---------------------------------------------------------------- a tape measure and a look from below, in five countries

LOCAL = {
    "uk": {}, "other europe": {"country": "other europe"},
    "australia": {"country": "australia", "grade": "MGP10", "board_grade": "radiata pine, heart in", "piece": "45 mm x 190 mm",
                  "joist": "45 mm x 190 mm", "screw": "10 mm x 100 mm", "decking": "22 mm"},
    "new zealand": {"country": "new zealand", "grade": "SG8", "board_grade": "SG8", "screw": "10 mm x 100 mm"},
    "us": IN_INCHES | {"use": "home", "thickness": "1/2 in", "below": "garden", "exposure_to_weather": "weather",
                       "boards_run": "along", "joists_run": "across", "outer": "bearer", "lie": "upright", "finish": "polished",
                       "rail": "none", "plate_shape": "rectangle", "screw_kind": "coach screw"},
}  # fmt: skip
NOT_BY_TAPE = {"core", *(q.key for q in QUESTIONS.values() if q.part == "The wind")}


def taped(country: str) -> dict[str, str]:
    """What an answerer knows with a tape and his eyes: no core of a screw, no wind, no rating."""
    return {k: v for k, v in (GOOD | LOCAL[country]).items() if k not in NOT_BY_TAPE}


@cache
def made(country: str) -> Result:
    """His job walked."""
    return check(job_from_text(job_text(taped(country))))


@pytest.mark.parametrize("country", LOCAL)
def test_a_tape_and_a_look_from_below_give_half_of_the_links_a_number(country: str) -> None:
    """Of those that a standard in this tool answers at all: in New Zealand glass and screws have none, whoever measures."""
    result = made(country)
    links = {
        link.id: [c for c in link.checks if c.standing is Standing.REQUIRED] for link in result.links
    }  # fmt: skip
    asked = {k: v for k, v in links.items() if v and not all(c.lack is Lack.BASIS for c in v)}
    assert len(asked) >= sum(map(bool, links.values())) - (2 if country == "new zealand" else 0)
    numbered = {k for k, v in asked.items() if any(c.utilisation is not None for c in v)}
    assert len(numbered) >= len(asked) / 2, (numbered, set(asked) - numbered)


def marked(result: Result) -> set[str]:
    return {e.path for e in result.job.assumptions() if e.assumed}


@pytest.mark.parametrize("country", LOCAL)
def test_every_stand_in_is_found_on_the_sheet_as_assumed(country: str) -> None:
    text = job_text(taped(country))
    result = made(country)
    printed = sheet_text(result)
    own = [e for e in result.job.assumptions() if e.assumed]
    assert len({e.line for e in own}) == text.count("assumed = ")
    assert "nobody measured them" in printed
    flat = " ".join(printed.split())
    for e in own:
        assert f'{e.path} = "{e.text}"' in printed or f"assumed: {e.reason}" in flat or e.reason in flat, e.path
    for value in (v for v in (result.job.joists.dead_load, result.job.mounts[0].screw.root) if v is not None):
        assert isinstance(value.origin, JobEntry) and value.origin.is_assumed


def test_a_stand_in_that_was_measured_changes_no_number_and_loses_its_marks() -> None:
    """One entry after another becomes measured with the same figure."""
    job = job_from_text(job_text(taped("australia")))
    before = made("australia")
    entries = [e for e in job.assumptions() if e.assumed]
    assert len(entries) >= 6
    for e in entries[:3] + entries[-2:]:
        after = check(job.with_({e.path: e.text if not e.text.isdigit() and e.text not in ("true", "false") else _raw(e.text)}))
        assert marked(before) - marked(after) == {e.path}
        assert [(c.id, c.ending, c.eta) for c in before.sound.checks] == [(c.id, c.ending, c.eta) for c in after.sound.checks]
    all_measured = check(job_from_text(re.sub(r"\{ value = (.+), assumed = \".*\" \}", r"\1", job_text(taped("australia")))))
    assert not marked(all_measured)
    assert [(c.id, c.eta) for c in before.sound.checks] == [(c.id, c.eta) for c in all_measured.sound.checks]
    assert sheet_text(before).count(NOT_MEASURED) > sheet_text(all_measured).count(NOT_MEASURED)


def _raw(text: str) -> object:
    return int(text) if text.isdigit() else text == "true"


def test_lumber_screws_and_counts_as_people_say_them() -> None:
    assert check_answer(QUESTIONS["piece"], "2x8", "us") == "1 1/2 in x 7 1/4 in"
    assert check_answer(QUESTIONS["piece"], "2x8") != check_answer(QUESTIONS["piece"], "2x8", "us")
    assert check_answer(QUESTIONS["screw"], "M10x100") == "10 mm x 100 mm"
    assert check_answer(QUESTIONS["blocking"], "Three") == "3"
    assert check_answer(QUESTIONS["thickness"], '½"', "us") == "1/2 in"


def test_the_trade_of_a_country_finds_its_own_words() -> None:
    assert "toughened (tempered)" in QUESTIONS["glass"].shown_in("us") and "(hanger)" in QUESTIONS["ends"].shown_in("us")
    assert QUESTIONS["glass"].shown_in("uk") == QUESTIONS["glass"].shown
    said: list[str] = []
    ask_all(lambda words: "Aus" if "Whose codes" in words else "", said.append)
    assert any("noggings" in line for line in said)
