"""The questions of ``barrier new``: what a tape measure and a look from below tell, the wind by country, in trade words.

"Don't know" is an answer to all of them. What is not known is written as ``"unknown"`` where the job file takes that, else as
a figure of common practice that the file itself marks as assumed. The writing is in :mod:`barrier.job.new_file`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from barrier.errors import Fault
from barrier.job.entries import Entry, Quantity, Whole
from barrier.job.new_file import BASIS, job_file
from barrier.job.question import DONT_KNOW, Doubt, Question, check_answer
from barrier.job.schema import (
    BasePlate,
    Blocking,
    Decking,
    EndFixing,
    Joists,
    JoistSupport,
    Layer,
    Pad,
    Panel,
    ScrewKind,
    Site,
)
from barrier.job.wind_questions import wind_questions
from barrier.job.written import UNKNOWN

__all__ = ["DONT_KNOW", "Doubt", "Question", "applies", "ask_all", "check_answer", "job_text", "questions"]

PLACE, GLASS, MOUNTS, DECK, WIND = "The place", "The glass", "The mounts", "The deck", "The wind"
YES = frozenset({"", "y", "yes", "ja", "ok", "right"})
GRADES = {
    "uk": "as C16 or C24", "germany": "as C24", "other europe": "as C24", "us": "species and grade, as Hem-Fir No.2",
    "australia": "as MGP10, F7 or F14", "new zealand": "as SG8",
}  # fmt: skip
CALLED_THERE = {
    "uk": "mount, a spigot or clamp post; blocking, noggins or dwangs; decking, deck boards",
    "us": "mount, a spigot or shoe; coach screw, a lag screw; toughened, tempered; bracket, a hanger; bearer, a beam",
    "australia": "mount, a spigot or clamp post; blocking, noggings or trimmers; bracket, a joist hanger",
    "new zealand": "mount, a spigot or clamp post; blocking, nogs or dwangs; bracket, a joist hanger",
}
BELOW_DECK = ("piece", "lie", "grade", "ends", "fastened", "fastener", "rated")  # asked where blocking was seen


def questions() -> tuple[Question, ...]:
    """All questions in the order they are asked.

    >>> [q.key for q in questions()][:4]
    ['country', 'use', 'fall', 'below']
    """
    return (*_place(), *_glass(), *_mounts(), *_deck(), *(Question(part=WIND, **asked) for asked in wind_questions()))


def _entry(table: type, *keys: str) -> tuple[Entry, ...]:
    return tuple(table.entries()[key][1] for key in keys)  # type: ignore[attr-defined]


def _place() -> tuple[Question, ...]:
    return (
        Question("country", "Whose codes apply", "another European country: its table of loads must be given in the file",
                 choices=tuple(BASIS), part=PLACE),
        Question("use", "Who leans on the barrier",
                 "home: balcony or deck of one dwelling; shared: flats, offices, not crowded; crowd: bars, venues, events",
                 choices=("home", "shared", "crowd"), part=PLACE),
        Question("fall", "How far is it from the decking down to the ground", 'with its unit, as "1.8 m" or "5 ft 3 in"',
                 kinds=_entry(Site, "fall_height"), part=PLACE, far=True),
        Question("below", "What is down there", "what somebody would fall on, or who walks there",
                 choices=("garden", "paving", "people pass", "water"), part=PLACE),
        Question("exposure_to_weather", "Does the timber get wet", "weather: rained on; under a roof: open at the sides",
                 choices=("weather", "under a roof", "indoors"), part=PLACE),
    )  # fmt: skip


def _glass() -> tuple[Question, ...]:
    return (
        Question("width", "How wide is one panel of glass", "measure one, along the barrier", kinds=_entry(Panel, "width"),
                 part=GLASS),
        Question("top", "How high is the top of the glass above the decking", "measure at the deck, not at the ground",
                 kinds=_entry(Site, "barrier_height"), part=GLASS),
        Question("gap", "How far is the bottom edge of the glass above the decking", "0 mm where it stands on it",
                 kinds=_entry(Panel, "bottom_gap"), part=GLASS),
        Question("glass", "What glass is it", "the stamp in a corner tells; the name of the process, not of a maker",
                 choices=("toughened", "heat-strengthened", "annealed"), part=GLASS),
        Question("thickness", "How thick is the glass", 'as "12 mm"; laminated glass layer by layer, as "10 mm + 10 mm"',
                 kinds=_entry(Layer, "nominal"), joined=True, part=GLASS),
        Question("finish", "How are the edges of the glass finished", "polished is shiny, seamed only has its corners taken off",
                 choices=("polished", "seamed", "cut"), part=GLASS),
        Question("rail", "Is there a rail on the glass",
                 "interlinking: it joins the panels and is held at its ends; cap: it only sits on",
                 choices=("none", "interlinking", "cap"), part=GLASS),
    )  # fmt: skip


def _mounts() -> tuple[Question, ...]:
    across = Quantity(kind="length", low=0, high=1000)
    return (
        Question("mounts", "How many mounts hold one panel", "count those under one panel; 2 or more",
                 kinds=(Whole(low=2, high=8),), part=MOUNTS),
        Question("edge", "How far is the outer side of the first mount from the end of the glass", "often about 150 mm",
                 kinds=(Quantity(kind="length", low=0, high=2000),), part=MOUNTS),
        Question("grip", "How far up the glass does the clamp reach", "from the bottom edge to the top of its liner",
                 kinds=_entry(Pad, "top"), part=MOUNTS),
        Question("clamp_width", "How wide is the clamp on the glass", "along the barrier", kinds=_entry(Pad, "width"), part=MOUNTS),
        Question("plate", "How wide is the base plate of a mount", "one side of a square one, or the diameter",
                 kinds=_entry(BasePlate, "along"), part=MOUNTS),
        Question("plate_shape", "What shape is the base plate", "seen from above", choices=("rectangle", "round"), part=MOUNTS),
        Question("plate_thickness", "How thick is the base plate", "at its edge", kinds=_entry(BasePlate, "thickness"),
                 part=MOUNTS),
        Question("holes", "How far apart are the screws of a mount: along x across the barrier", 'as "70 x 70 mm"',
                 kinds=(across, across), part=MOUNTS),
        Question("screw_kind", "What kind of screw holds a mount",
                 "coach screw: thick, with a hexagon head; wood screw: countersunk; structural screw: slim and hardened",
                 choices=("coach screw", "wood screw", "structural screw"), part=MOUNTS),
        Question("screw", "What size are they: thickness x length", 'as "8 x 100 mm" or "5/16 in x 4 in"',
                 kinds=_entry(ScrewKind, "diameter", "length"), part=MOUNTS),
        Question("thread", "How long is their thread, tip included", "take one out and measure it",
                 kinds=_entry(ScrewKind, "threaded"), part=MOUNTS),
        Question("core", "How thick is the core of the screw, between the threads", "with a calliper",
                 kinds=_entry(ScrewKind, "root"), part=MOUNTS),
    )  # fmt: skip


def _deck() -> tuple[Question, ...]:
    return (
        Question("decking", "How thick are the deck boards", "measure one at its end", kinds=_entry(Decking, "thickness"),
                 part=DECK),
        Question("board", "How wide is a deck board", "measure one", kinds=_entry(Decking, "board_width"), part=DECK),
        Question("boards_run", "Which way do the boards run, seen from the glass", "along the barrier or across it",
                 choices=("along", "across"), part=DECK),
        Question("board_grade", "What timber are the boards", "species or grade as on the stamp or the docket", free=True,
                 part=DECK),
        Question("gap_under", "How much space is between the boards and the blocking", "look from below; 0 mm if they touch",
                 kinds=_entry(Decking, "gap_under"), part=DECK),
        Question("joist_spacing", "How far apart are the joists, middle to middle", "measure from below, three or four of them",
                 kinds=_entry(Joists, "spacing"), part=DECK),
        Question("joist", "How big is a joist: width x depth", 'as "45 x 190 mm"', kinds=_entry(Joists, "width", "depth"),
                 part=DECK),
        Question("joists_run", "Which way do the joists run, seen from the glass", "they run across the boards, as a rule",
                 choices=("along", "across"), part=DECK),
        Question("span", "How far apart are the two supports of a joist nearest the glass", "bearers, beams or walls below",
                 kinds=_entry(Joists, "span"), part=DECK, far=True),
        Question("overhang", "How far do the joists run out beyond the outer support", "0 mm where they end on it",
                 kinds=_entry(Joists, "overhang"), part=DECK),
        Question("from_joist_end", "How far are the mounts from the outer end of the joists", "to the middle of the mounts",
                 kinds=_entry(Joists, "mount_from_end"), part=DECK),
        Question("outer", "What do the joists have at the outer support",
                 "bearer: they lie on a beam; bracket: they hang in a hanger",
                 choices=("bearer", "bracket"), part=DECK),
        Question("seat", "How wide is that bearer, along the joist", "what the joist lies on", kinds=_entry(JoistSupport, "seat"),
                 part=DECK),
        Question("blocking", "How many pieces of blocking are under a mount", "side by side; 0 for none; look from below",
                 kinds=(Whole(low=0, high=8),), part=DECK),
        Question("piece", "How big is one piece of blocking: width x depth", 'as "45 x 195 mm"',
                 kinds=_entry(Blocking, "width", "depth"), part=DECK),
        Question("lie", "How do the pieces lie", "upright: on their narrow side; flat: on their wide one",
                 choices=("upright", "flat"), part=DECK),
        Question("grade", "What timber are blocking and joists", f"the stamp: {'; '.join(dict.fromkeys(GRADES.values()))}",
                 free=True, part=DECK),
        Question("ends", "How are the ends of the blocking held by the joists", "look from below",
                 choices=("bracket", "nails", "screws", "none"), part=DECK),
        Question("fastened", "How many nails or screws are in one end of a piece", "count one end of one piece",
                 kinds=_entry(EndFixing, "number"), part=DECK),
        Question("fastener", "What size are they: thickness x length", 'as "3.15 x 90 mm"',
                 kinds=_entry(EndFixing, "diameter", "length"), part=DECK),
        Question("rated", "What is one of those brackets rated to hold down and up: up x down",
                 'the supplier\'s characteristic values, as "2.0 kN x 5.0 kN"',
                 kinds=_entry(EndFixing, "uplift", "down"), part=DECK),
    )  # fmt: skip


def applies(question: Question, answers: Mapping[str, str]) -> bool:
    """Whether a question is worth asking after these answers: not of blocking that is not there, nor in words of another code."""
    if question.only and answers.get("country", UNKNOWN) not in question.only:
        return False
    said = {key: answers.get(key, UNKNOWN) for key in ("blocking", "ends", "outer", "screw_kind")}
    if question.key in BELOW_DECK and said["blocking"] in (UNKNOWN, "0"):
        return question.key == "grade"  # joists have one as well
    if question.key in ("fastened", "fastener"):
        return said["ends"] in ("nails", "screws")
    if question.key == "rated":
        return said["ends"] == "bracket"
    return question.key != "seat" or said["outer"] == "bearer"


def job_text(answers: Mapping[str, str]) -> str:
    """A commented job file from answers by key; what is not answered is not known.

    Each answer is checked again. Raises ValueError for an answer that :func:`check_answer` refuses or doubts.

    >>> from barrier.job.read import job_from_text
    >>> job_from_text(job_text({})).mounts[0].support
    'decking only'
    """
    kept: dict[str, str] = {}
    known = {q.key: q for q in questions()}
    for key, text in answers.items():
        if key not in known:
            raise ValueError(f"there is no question {key!r}; there are {', '.join(known)}")
        answer = check_answer(known[key], text)
        if not isinstance(answer, str):
            raise ValueError(f"{key}: {answer.text}")
        if answer != UNKNOWN:
            kept[key] = answer
    return job_file(kept)


def ask_all(prompt: Callable[[str], str], say: Callable[[str], None]) -> str:
    """Ask everything and return the text of the job file.

    Arguments: ``prompt`` shows a question and returns what was typed; ``say`` shows a line. An answer that cannot be
    taken is asked for again; one without its unit is asked back.
    """
    answers: dict[str, str] = {}
    say('Give sizes with their unit, as "12 mm" or "1 1/2 in". Press Enter where you do not know.')
    part = ""
    for question in questions():
        if not applies(question, answers):
            continue
        if question.part != part:
            part = question.part
            say(f"\n{part}")
        answers[question.key] = ask_one(question, answers, prompt, say)
        if question.key == "country" and answers["country"] in CALLED_THERE:
            say(f"What you may call otherwise: {CALLED_THERE[answers['country']]}.")
    return job_text(answers)


def ask_one(question: Question, answers: Mapping[str, str], prompt: Callable[[str], str], say: Callable[[str], None]) -> str:
    """The answer to one question as it is kept, asked for until it can be taken."""
    units = BASIS[answers.get("country", "other europe") if answers.get("country") != UNKNOWN else "other europe"][2]
    while True:
        answer = check_answer(question, prompt(f"{question.shown_in(answers.get('country', ''))}\n  ({question.help})"), units)
        if isinstance(answer, Doubt):
            said = prompt(f"  {answer.text} [Enter for yes, or the size with its unit]")
            if said.strip().casefold() in YES:
                return answer.kept
            answer = check_answer(question, said, units)
        if isinstance(answer, str):
            return answer
        if isinstance(answer, Fault):
            say(f"  {answer.text}")
