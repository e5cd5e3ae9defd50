"""What ``barrier new`` asks about the wind, country by country, and what of it goes into the job file.

The words are those an installer or his client can answer; not knowing leaves the entry ``"unknown"``, which is either an
assumption the sheet lists (an end panel, open country) or keeps the wind from being checked and says whom to ask.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from barrier.job.entries import Choice, Entry
from barrier.job.wind import Wind

EUROPE = ("uk", "germany", "other europe")
TERRAIN = {"sea front": "0", "open land": "II", "village": "III"}
HILL_NEAR = "within 100 m of a hill top, ridge or cliff, or on a slope over 3 degrees; then the engineer's factor is needed"
# What leads the wind in each country: the entry, and the answer it is made of.
LEADS = {
    "uk": "map_speed", "germany": "zone", "other europe": "basic_speed", "us": "speed", "australia": "wind_class",
    "new zealand": "zone",
}  # fmt: skip
# The entries of [wind] behind the leading one, each with the answer it is made of and what the line says.
FURTHER = {
    "uk": (("altitude", "altitude", "above the sea"), ("distance_to_sea", "sea", "the nearest, whatever its direction"),
           ("town", "town", "country | over 2 km in")),
    "germany": (("coast", "coast", "inland | coast: the strip of 5 km, Baltic islands | island: of the North Sea"),),
    "other europe": (("terrain", "terrain", "0 sea front | I lake | II open land | III village, suburb, forest | IV town"),),
    "us": (("exposure", "exposure", "B houses all round for 1500 ft | C open | D open water in sight"),),
    "australia": (),
    "new zealand": (),
}  # fmt: skip
IN_THE_RUN = (
    ("run_length", "run", "the straight run of glass, end to end"),
    ("from_end", "from_end", "from the nearest end in open air to the nearer edge of the panel"),
    ("corner", "corner", "glass round the corner at that end; 0 m where it stops in open air"),
)


def wind_questions() -> tuple[dict[str, Any], ...]:
    """The questions, in the order they are asked: what a :class:`barrier.job.questions.Question` is made of."""

    def entry(key: str) -> tuple[Entry, ...]:
        kind = Wind.entries()[key][1]
        assert kind is not None
        return (kind,)

    def choices(key: str) -> tuple[str, ...]:
        (kind,) = entry(key)
        assert isinstance(kind, Choice)
        return kind.choices

    return tuple(
        {"key": key, "text": text, "help": help, "only": only, "choices" if isinstance(takes[0], str) else "kinds": takes}
        for key, text, help, only, takes in (
            ("map_speed", "What is the map wind speed of the place", 'building control or the engineer knows it, as "22 m/s"',
             ("uk",), entry("map_speed")),
            ("altitude", "How high above the sea is the place", 'read it off a map, as "60 m"', ("uk",), entry("altitude")),
            ("sea", "How far is it to the sea", 'the nearest shore, as "30 km"', ("uk",), entry("distance_to_sea")),
            ("town", "Does it stand more than 2 km inside a town", "a town all round for 2 km; else country", ("uk",),
             choices("town")),
            ("de_zone", "Which wind zone is it", "on the map of wind zones; 1 is the quietest", ("germany",), choices("zone")[:4]),
            ("coast", "Is it near the coast", "coast: within 5 km of it, or on an island of the Baltic; island: of the North Sea",
             ("germany",), choices("coast")),
            ("basic_speed", "What is the basic wind speed of the place", 'the engineer knows it, as "25 m/s"', ("other europe",),
             entry("basic_speed")),
            ("terrain", "What is the ground like around it", "as far as a kilometre off", ("other europe",), tuple(TERRAIN)),
            ("speed", "What is the design wind speed", 'on the permit or the hazard map, risk category II, as "115 mph"', ("us",),
             entry("speed")),
            ("exposure", "Which exposure is it", "B houses all round for 1500 ft, C open, D open water in sight", ("us",),
             choices("exposure")),
            ("wind_class", "What is the wind class", "on the house plans", ("australia",),
             ("N1", "N2", "N3", "N4", "N5", "N6", "C1", "C2", "C3", "C4")),
            ("nz_zone", "What is the wind zone", "the council knows it", ("new zealand",), choices("zone")[4:]),
            ("hill", "Does it stand near a hill top or cliff", HILL_NEAR, (*EUROPE, "us"), choices("hill")),
            ("skirt", "Can air get under the deck", "closed where a skirt or a wall closes it all round", EUROPE,
             choices("below_deck")),
            ("run", "How long is this straight run of glass, end to end", "all panels of the line with their gaps", (),
             entry("run_length")),
            ("from_end", "How far is the panel from the nearest end that stops in open air",
             "0 m for the last one; near an end the wind is up to twice as high, so look at an end panel too", (),
             entry("from_end")),
            ("corner", "Does that end turn a corner: how long is the glass round it", "0 m where the end stops in open air", (),
             entry("corner")),
        )
    )  # fmt: skip


def wind_lines(answers: Mapping[str, str]) -> Iterator[str]:
    """The table [wind] of a job file; what was not answered is unknown."""
    country = answers.get("country", "other europe")
    lead = LEADS[country]
    answer = {"germany": "de_zone", "new zealand": "nz_zone"}.get(country, lead)
    yield ""
    yield "[wind]"
    yield _line(
        lead, answers.get(answer, "unknown"), "a pressure of the engineer's may stand in place of all of it, with its reference"
    )
    for key, from_answer, words in FURTHER[country]:
        said = answers.get(from_answer, "unknown")
        yield _line(key, TERRAIN.get(said, said) if key == "terrain" else said, words)
    if country in EUROPE:
        yield _line("below_deck", answers.get("skirt", "unknown"), "air under the deck: open | closed")
    if country in (*EUROPE, "us"):
        yield _line("hill", answers.get("hill", "unknown"), "no | yes, with hill_factor and its reference")
    for key, from_answer, words in IN_THE_RUN:
        yield _line(key, answers.get(from_answer, "unknown"), words)


def _line(key: str, said: str, words: str) -> str:
    return f'{key} = "{said}"'.ljust(32) + f"# {words}"
