"""The questions of a new job: every set of answers becomes a file that is read, and "don't know" is always one."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barrier.errors import Fault
from barrier.job import job_from_text
from barrier.job.new_file import NOT_MEASURED
from barrier.job.questions import DONT_KNOW, Question, applies, ask_all, check_answer, job_text, questions

QUESTIONS = {q.key: q for q in questions()}
GOOD = {
    "country": "uk", "use": "home", "fall": "1.8 m", "width": "1200 mm", "top": "1100 mm", "gap": "50 mm",
    "glass": "toughened", "thickness": "12 mm", "mounts": "3", "edge": "150 mm", "grip": "90 mm", "plate": "100 mm",
    "screw": "8 x 100 mm", "decking": "28 mm", "gap_under": "0 mm", "blocking": "3", "piece": "45 x 195 mm",
    "ends": "nails", "map_speed": "22 m/s", "altitude": "60 m", "sea": "30 km", "town": "country", "hill": "no", "skirt": "open",
    "run": "7.2 m", "from_end": "2.4 m", "corner": "0 m",
}  # fmt: skip
ELSEWHERE = {
    "germany": {"de_zone": "2", "coast": "inland", "hill": "no", "skirt": "open"},
    "other europe": {"basic_speed": "25 m/s", "terrain": "village", "hill": "no", "skirt": "closed"},
    "us": {"speed": "115 mph", "exposure": "C", "hill": "no"},
    "australia": {"wind_class": "N2"},
    "new zealand": {"nz_zone": "H"},
}  # fmt: skip
IN_INCHES = {
    "country": "us", "use": "shared", "fall": "6 ft", "width": "4 ft", "top": "42 in", "gap": "2 in", "glass": "toughened",
    "thickness": "3/8 in + 3/8 in", "mounts": "2", "edge": "6 in", "grip": "4 in", "plate": "4 in", "screw": "5/16 in x 4 in",
    "decking": "1 in", "gap_under": "0 in", "blocking": "2", "piece": "1 1/2 x 7 1/4 in", "ends": "bracket",
}  # fmt: skip


def test_about_fifteen_questions_in_trade_words() -> None:
    assert set(GOOD) | {k for there in ELSEWHERE.values() for k in there} == set(QUESTIONS)
    for country in ("uk", *ELSEWHERE):
        asked = [q for q in QUESTIONS.values() if applies(q, GOOD | {"country": country})]
        windy = [q for q in asked if q.key in set(GOOD) | set(ELSEWHERE.get(country, {}))]
        assert asked == windy and 22 <= len(asked) <= 27
    for q in QUESTIONS.values():
        assert q.allows_unknown and q.help and bool(q.choices) != bool(q.kinds)
        assert not re.search(r"MPa|f_|k_mod|characteristic|utilisation", q.text)


def test_nothing_known_is_read_and_says_what_to_measure() -> None:
    for nothing in ({}, dict.fromkeys(QUESTIONS, "don't know")):
        text = job_text(nothing)
        job = job_from_text(text)
        assert all(m.support == "decking only" and m.rating is None for m in job.mounts)
        assert job.national == "" and job.wind is not None and job.wind.pressure is None
        assert job.decking.gap_under is None and job.decking.material == {}
        assert job.mounts[0].screw.root is None and job.mounts[0].screw.threaded is None
        assert job.site.service_class == 3 and job.panels[0].layers[0].glass == "annealed"
        assert job.site.use == "C5"  # the heaviest row of the table of loads
        assert text.count(NOT_MEASURED) >= 20
        assert len(job.unknowns()) > 10 and len(job.assumptions()) > 5


def test_every_stand_in_is_marked() -> None:
    """With nothing known, each line that holds a size says that it was not measured, or what else it is."""
    for line in job_text({}).splitlines():
        if re.match(r'[a-z_]+ = "-?[0-9.]+ (mm|in)', line) and not line.startswith("bottom ="):
            assert NOT_MEASURED in line, line


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
    assert 'width = "1200 mm"  # one panel' in text


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
        ("width", "1200", "has no unit"),
        ("width", "12 MM", '"mm"?'),
        ("width", "-5 mm", "outside what is meant"),
        ("width", "12 m x 3 m", "2 sizes; expected 1"),
        ("screw", "100 mm", "1 sizes; expected 2"),
        ("screw", "8 x 100", "has no unit"),
        ("thickness", "10 mm +", "is empty"),
        ("glass", "temperd", "not among"),
        ("glass", "toughend", 'did you mean "toughened"?'),
        ("mounts", "1", "from 2 to 8"),
        ("mounts", "two", "no whole number"),
        ("blocking", "-1", "no whole number"),
    ],
)
def test_answers_are_checked_one_at_a_time(key: str, typed: str, words: str) -> None:
    fault = check_answer(QUESTIONS[key], typed)
    assert isinstance(fault, Fault) and fault.key == key and words in fault.text
    with pytest.raises(ValueError, match=key):
        job_text({key: typed})


@given(st.sampled_from(sorted(QUESTIONS)), st.text(max_size=40))
def test_any_answer_is_kept_or_refused(key: str, typed: str) -> None:
    answer = check_answer(QUESTIONS[key], typed)
    if isinstance(answer, Fault):
        assert answer.text and "\n" not in answer.text
    else:
        assert check_answer(QUESTIONS[key], answer) == answer


def test_asking_repeats_what_cannot_be_taken_and_skips_what_is_not_there() -> None:
    asked: list[str] = []
    said: list[str] = []
    typed = iter(["uk", "home", "1.8 m", "1200", "1200 mm", *[""] * 21])

    def prompt(words: str) -> str:
        asked.append(words)
        return next(typed)

    text = ask_all(prompt, said.append)
    assert sum("How wide is one panel" in a for a in asked) == 2
    assert any("has no unit" in s for s in said)
    assert not any("one piece of blocking" in a for a in asked)  # no blocking was seen
    assert job_from_text(text).panels[0].width.x == 1200.0


def test_blocking_questions_apply_only_to_blocking() -> None:
    piece = QUESTIONS["piece"]
    assert applies(piece, {"blocking": "2"}) and not applies(piece, {"blocking": "0"}) and not applies(piece, {})
    assert isinstance(piece, Question)
