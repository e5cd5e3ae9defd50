"""The questions of ``barrier new``: some twenty-five, the wind's by country, in trade words; "don't know" is an answer to all.

What is not known is written as ``"unknown"`` where the job file takes that, else as an ordinary figure marked
``NOT MEASURED`` beside which the file says what to do. The writing itself is in :mod:`barrier.job.new_file`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from barrier.errors import Fault
from barrier.job.entries import Entry, Quantity, Whole
from barrier.job.new_file import job_file
from barrier.job.quantity import parse
from barrier.job.schema import Blocking, Decking, Layer, Pad, Panel, Plate, ScrewKind, Site
from barrier.job.wind_questions import wind_questions
from barrier.job.written import UNKNOWN

DONT_KNOW = frozenset({"", UNKNOWN, "?", "dk", "don't know", "dont know", "do not know", "no idea", "not known"})
_TIMES = re.compile(r"\s*[x×]\s*")


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    ``key`` names its answer; ``text`` asks in trade words; ``help`` says how to find out. ``choices`` are the words it
    takes, if it takes words only; else ``kinds`` are the entries of the job file its quantities must suit, in order
    (``"8 x 100 mm"`` answers two). ``joined`` is set where several quantities are added up, as the layers of a laminate.
    ``only`` names the countries it is asked for, where it is not all.
    """

    key: str
    text: str
    help: str
    choices: tuple[str, ...] = ()
    kinds: tuple[Entry, ...] = ()
    joined: bool = False
    allows_unknown: bool = True
    only: tuple[str, ...] = ()

    @property
    def shown(self) -> str:
        """The question with the words it takes."""
        return f"{self.text} [{' / '.join((*self.choices, UNKNOWN))}]" if self.choices else self.text


def questions() -> tuple[Question, ...]:
    """All questions in the order they are asked.

    >>> [q.key for q in questions()][:4]
    ['country', 'use', 'fall', 'width']
    """

    def entry(table: type, key: str) -> tuple[Entry, ...]:
        kind = table.entries()[key][1]  # type: ignore[attr-defined]
        return (kind,)

    return (
        Question("country", "Whose codes apply", "another European country: its table of loads must be given in the file",
                 choices=("uk", "germany", "other europe", "us", "australia", "new zealand")),
        Question("use", "Who leans on the barrier",
                 "home: balcony or deck of one dwelling; shared: flats, offices, not crowded; crowd: bars, venues, events",
                 choices=("home", "shared", "crowd")),
        Question("fall", "How far is it from the decking down to the ground", 'with its unit, as "1.8 m" or "5 ft 3 in"',
                 kinds=entry(Site, "fall_height")),
        Question("width", "How wide is one panel of glass", "measure one, along the barrier", kinds=entry(Panel, "width")),
        Question("top", "How high is the top of the glass above the decking", "measure at the deck, not at the ground",
                 kinds=entry(Site, "barrier_height")),
        Question("gap", "How far is the bottom edge of the glass above the decking", "0 mm where it stands on it",
                 kinds=entry(Panel, "bottom_gap")),
        Question("glass", "What glass is it", "the stamp in a corner tells; the name of the process, not of a maker",
                 choices=("toughened", "heat-strengthened", "annealed")),
        Question("thickness", "How thick is the glass", 'as "12 mm"; laminated glass layer by layer, as "10 mm + 10 mm"',
                 kinds=entry(Layer, "nominal"), joined=True),
        Question("mounts", "How many mounts hold one panel", "count those under one panel; 2 or more",
                 kinds=(Whole(low=2, high=8),)),
        Question("edge", "How far is the outer side of the first mount from the end of the glass", "often about 150 mm",
                 kinds=(Quantity(kind="length", low=0, high=2000),)),
        Question("grip", "How far up the glass does the clamp reach", "from the bottom edge to the top of its liner",
                 kinds=entry(Pad, "top")),
        Question("plate", "How wide is the base plate of a mount", "one side of a square one, or the diameter",
                 kinds=entry(Plate, "along")),
        Question("screw", "What screws hold a mount: thickness x length", 'as "8 x 100 mm" or "5/16 in x 4 in"',
                 kinds=(*entry(ScrewKind, "diameter"), *entry(ScrewKind, "length"))),
        Question("decking", "How thick are the deck boards", "measure one at its end", kinds=entry(Decking, "thickness")),
        Question("gap_under", "How much space is between the boards and the blocking", "look from below; 0 mm if they touch",
                 kinds=entry(Decking, "gap_under")),
        Question("blocking", "How many pieces of blocking are under a mount", "side by side; 0 for none; look from below",
                 kinds=(Whole(low=0, high=8),)),
        Question("piece", "How big is one piece of blocking: width x depth", 'as "45 x 195 mm"',
                 kinds=(*entry(Blocking, "width"), *entry(Blocking, "depth"))),
        Question("ends", "How are the ends of the blocking held by the joists", "look from below",
                 choices=("bracket", "nails", "screws", "none")),
        *(Question(**asked) for asked in wind_questions()),
    )  # fmt: skip


def applies(question: Question, answers: Mapping[str, str]) -> bool:
    """Whether a question is worth asking after these answers: not of blocking that is not there, nor in words of another code."""
    if question.only and answers.get("country", UNKNOWN) not in question.only:
        return False
    return question.key not in ("piece", "ends") or answers.get("blocking", UNKNOWN) not in (UNKNOWN, "0")


def check_answer(question: Question, text: str) -> str | Fault:
    """One answer as it is kept, or the fault that says why not.

    Arguments: the question; the answer as typed. Returns the answer (``"unknown"`` for any way of saying so).

    >>> width = next(q for q in questions() if q.key == "width")
    >>> check_answer(width, "1200 mm"), check_answer(width, "don't know"), check_answer(width, "12 MM").text
    ('1200 mm', 'unknown', '\\'12 MM\\' has the unknown unit "MM"; did you mean "mm"?')
    """
    typed = " ".join(text.split())
    if typed.casefold().replace("’", "'") in DONT_KNOW:
        return UNKNOWN
    if question.choices:
        return _word(question, typed)
    if isinstance(question.kinds[0], Whole):
        return _count(question, question.kinds[0], typed)
    parts = typed.split("+") if question.joined else _with_units(_TIMES.split(typed))
    wanted = len(parts) if question.joined else len(question.kinds)
    if len(parts) != wanted:
        return Fault(question.key, f"{typed!r} has {len(parts)} sizes; expected {wanted}, {question.help}")
    kept = []
    for part, kind in zip(parts, question.kinds * (wanted if question.joined else 1), strict=True):
        fault = _size(kind, part.strip())
        if fault is not None:
            return Fault(question.key, fault)
        kept.append(part.strip())
    return (" + " if question.joined else " x ").join(kept)


def _word(question: Question, typed: str) -> str | Fault:
    known = {c.casefold(): c for c in question.choices}
    if typed.casefold() in known:
        return known[typed.casefold()]
    near = get_close_matches(typed.casefold(), known, n=1)
    hint = f'; did you mean "{known[near[0]]}"?' if near else ""
    return Fault(question.key, f"{typed[:60]!r} is not among {', '.join(question.choices)}{hint}")


def _count(question: Question, kind: Whole, typed: str) -> str | Fault:
    if re.fullmatch(r"[0-9]{1,3}", typed) and kind.low <= int(typed) <= kind.high:
        return str(int(typed))
    return Fault(question.key, f"{typed[:60]!r} is no whole number from {kind.low} to {kind.high}")


def _with_units(parts: list[str]) -> list[str]:
    """``8 x 100 mm``: a size without a unit has that of the last one."""
    unit = re.sub(r"^[-+0-9./ ]*", "", parts[-1])
    return [f"{p} {unit}" if re.fullmatch(r"[-+0-9./ ]+", p) and unit else p for p in parts]


def _size(kind: Entry, part: str) -> str | None:
    """Why a text is no size of this kind; None if it is."""
    assert isinstance(kind, Quantity)
    x = parse(part, kind.kind)
    if isinstance(x, str):
        return x
    return None if kind.low <= x <= kind.high else f"{part!r} is outside what is meant; expected {kind.expected()}"


def job_text(answers: Mapping[str, str]) -> str:
    """A commented job file from answers by key; what is not answered is not known.

    Each answer is checked again. Raises ValueError for an answer that :func:`check_answer` refuses.

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
        if isinstance(answer, Fault):
            raise ValueError(f"{key}: {answer.text}")
        if answer != UNKNOWN:
            kept[key] = answer
    return job_file(kept)


def ask_all(prompt: Callable[[str], str], say: Callable[[str], None]) -> str:
    """Ask everything and return the text of the job file.

    Arguments: ``prompt`` shows a question and returns what was typed; ``say`` shows a line. An answer that cannot be
    taken is asked for again.
    """
    answers: dict[str, str] = {}
    say('Give sizes with their unit, as "12 mm" or "1 1/2 in". Press Enter where you do not know.')
    for question in questions():
        while applies(question, answers):
            answer = check_answer(question, prompt(f"{question.shown}\n  ({question.help})"))
            if isinstance(answer, str):
                answers[question.key] = answer
                break
            say(f"  {answer.text}")
    return job_text(answers)
