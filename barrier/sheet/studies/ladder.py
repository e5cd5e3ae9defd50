"""The page of the ladder of blocking: the same glass and load on one kind of wood after another."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.load_path import Walked
from barrier.result import Ending, tied
from barrier.sheet.blocks import Block, Bullets, Content, Heading, Inline, Line, Paragraph, Table, Token
from barrier.sheet.content import caution
from barrier.sheet.content.short import sentence
from barrier.sheet.drawings import ladder as pictures
from barrier.sheet.studies import changes, words
from barrier.sheet.studies.changes import COLUMNS
from barrier.study import PLAIN_ENDS, SOME_RATED, UNRATED_ENDS, Study, bracket_ends, wood_and_ends

LESSONS = (
    "Without blocking the screws hold in a board and nowhere else; with it they reach wood that hands the pull on to the joists.",
    "Wider blocking does not make a screw grip harder; in one piece it lets the screw stand clear of an edge.",
    "Loose pieces count one by one: a screw near a joint stands near an edge, however many pieces lie beside it.",
    "A mount that tips pulls one piece up and presses another down; the end fixings carry that away to the joists.",
    "Nails driven through a joist stand in end grain; the code credits them with nothing there.",
    "A bracket helps by the rating it states for that direction, and by nothing else.",
)
LACKING = {
    UNRATED_ENDS: "The job states no rating of brackets, and none is made up here",
    SOME_RATED: "The job does not state a rating of every bracket, and none is made up here",
}
UNKNOWN = (
    ": an end in a bracket without one stays unknown (?), and what it would have to hold is said below. That such ends no longer "
    "govern does not mean that they hold."
)
STROKE = (
    "The pictures have one scale. The stroke across a bar stands at 1.00; beyond it a bar grows by the same step with every "
    "doubling, to 10 at its end; a bar broken in two exceeds without a number."
)
CUT_OFF = "Here the base plate lets go first, and nothing reaches the end fixings."


def ladder_content(study: Study) -> Content:
    """The ladder as blocks: the job, what to take from it, pictures, a table of links, what changed, words and signs."""
    job, style = study.result.job, study.result.job.units
    ends = bracket_ends(job)
    return Content(
        (
            caution.first(style),
            Heading(1, (f"The ladder: {job.title}",)),
            Paragraph((_opening(study),)),
            *((Paragraph((LACKING[ends] + UNKNOWN,)),) if ends in LACKING and job.blocking else ()),
            *words.job_block(study),
            Heading(2, ("What to take from it",)),
            Bullets(tuple((lesson,) for lesson in LESSONS)),
            Heading(2, ("The rungs",)),
            Paragraph((STROKE,)),
            *pictures.drawings(study),
            Heading(2, ("The rungs in numbers",)),
            Paragraph(("The worst check of each kind; above 1.00 it exceeds. Words and signs are explained further down.",)),
            _table(study),
            Heading(2, ("What changed from rung to rung",)),
            Paragraph(("Plain ends against the plain rung before; ends in brackets against the same wood with plain ends.",)),
            Bullets(tuple(_rungs(study))),
            *words.words_and_signs(study),
            *words.not_tried(study.not_run, style),
            *words.never_checked(study),
            caution.last(),
        ),
        style,
    )


def _opening(study: Study) -> str:
    within = [w.situation.name for w in study.walked if w.ending is Ending.WITHIN]
    summary = (
        f"Of {len(study.walked)} rungs these have every required check within: {'; '.join(within)}."
        if within
        else f"Not one of the {len(study.walked)} rungs has every required check within."
    )
    return (
        "The same glass and load on different wood, from boards alone to one solid section. Each number is the utilisation of "
        f"the worst check of its kind, of a sum of squares its root: above 1.00 it exceeds. {summary} The job as described stands "
        f"on {words.stands_on(study)}."
    )


def _table(study: Study) -> Block:
    rows = []
    for w in study.walked:
        cells: list[Line] = [(w.situation.name,)]
        cells.extend((changes.shown(changes.worst(w, stems)),) for _, stems in COLUMNS)
        rows.append(tuple(cells))
    return Table(("rung", *(name for name, _ in COLUMNS)), tuple(rows), "l" + "r" * len(COLUMNS))


def _rungs(study: Study) -> Iterator[Line]:
    """Every rung in words: what it is, what changed, and what its ends would have to hold."""
    plain: Walked | None = None
    for w in study.walked:
        is_plain = wood_and_ends(w.situation.name)[1] in ("", PLAIN_ENDS)
        parts: list[Inline] = [f"{w.situation.name}: {w.situation.words}."]
        if _cut_off(w):
            parts.append(f" {CUT_OFF}")
        if plain is not None:
            parts.append(f" {sentence(changes.in_words(changes.told(plain, w, both_ways=True))) or _same(plain)}.")
        if is_plain:
            plain = w
        else:
            for line in _needed(w):
                parts.extend(line)
        yield tuple(parts)


def _cut_off(walked: Walked) -> bool:
    """Whether a base plate without equilibrium leaves the end fixings unreached."""
    ends = dict(COLUMNS)["ends"]
    return changes.shown(changes.worst(walked, ends)) == changes.UNREACHED


def _same(before: Walked) -> str:
    return "It lets go all the same" if changes.tipped(before) else "Nothing moved"


def _needed(walked: Walked) -> Iterator[Line]:
    """What the ends would have to hold where nothing states what they can."""
    for way, held in (("uplift", "held down against"), ("down", "held up under"), ("torque", "held against turning by")):
        open_ends = [
            c
            for c in walked.checks
            if c.about.way == way and c.about.one_of([("blocking", "end")]) and c.utilisation is None and c.demand
        ]
        if open_ends:
            worst = max(open_ends, key=lambda c: tied(c.demand.at(c.station)) if c.demand is not None else 0.0)
            assert worst.demand is not None
            per = "" if way == "torque" else " for each piece"
            yield f" Each end wants to be {held} ", Token(worst.demand, worst.station), f"{per}, under the design load."
