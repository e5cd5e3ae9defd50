"""What whoever stands at the barrier should do next, in plain words: nothing here needs the rest of the sheet to be read."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.job.spoken import spoken
from barrier.links.rules import ALONE
from barrier.load_path import Result
from barrier.result import Check, Ending, Lack
from barrier.sheet.blocks import Block, Bullets, Heading, Line, Token
from barrier.sheet.content.origins import assumptions
from barrier.sheet.content.short import ending_as, openings, required_beside, waiting
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import FRONT, ending_text
from barrier.value import JobEntry

# The first question to an engineer, by what governs; the narrowest kind that fits speaks.
ASK = {
    ("glass",): "would thicker glass, laminated glass, a rail or mounts in other places help the glass",
    ("clamp",): "is this mount the right one for this glass and this load",
    ("base_plate",): "is the timber under the base plate enough, or must the plate be longer, or stand on something else",
    ("base_plate", "plate"): "is the base plate of the mount thick enough",
    ("screws",): "which screws, how many, and how far apart and from the edges of the wood",
    ("bearing",): "does the plate need more wood under it, or harder wood",
    ("blocking",): "what blocking is needed under the mounts",
    ("blocking", "end"): "what must hold the ends of the blocking to the joists",
    ("joist",): "do the joists and their supports take what the barrier puts on them",
    ("rail",): "which rail, what must hold its ends, and how must it grip the glass",
    ("movement",): "how far may the top of the glass move, and what would make it stiffer",
}
ROUND = "are the figures of this sheet right"
LOOK_BLOCKING = (
    "Look from below before anything is closed: does the blocking stand where the job says, do its pieces touch, do the screws "
    "reach it, and what holds its ends to the joists?"
)
LOOK_BOARDS = "Look from below: there is no blocking in this job, so the screws hold in the boards only. Is that so?"
GUARD = "Do not order, cut, drill or build from this sheet. Guard the edge, and keep people away from glass that is not fixed."
RATING = (
    "Ask the supplier for the tested rating of the mount, in writing: at which height, with which glass, which screws and "
    "which timber, and whether it is ultimate, characteristic or allowable. It counts for more than anything computed here."
)


RATED, WINDY = ("clamp", "rating"), ("actions", "wind")
FIRST = 8  # assumed entries told by name; all of them stand under Assumptions
WIND = "Find out what the wind needs, or ask the engineer for the wind pressure on the glass; without it the wind is NOT CHECKED"


def blocks(result: Result) -> Iterator[Block]:
    """What to do, in order: guard the edge, look, measure, ask the supplier, then the engineer."""
    yield Heading(1, ("What to do next",))
    missing = ending_as(result.sound, Ending.NOT_CHECKED)
    items: list[Line] = [(GUARD + _ends(result),), (LOOK_BLOCKING if result.job.blocking else LOOK_BOARDS,)]
    unknown = [f"{spoken(e.path)} ({e.reason})" if e.reason else spoken(e.path) for e in _wanted(result)]
    if unknown:
        items.append((f"Measure or ask what the job calls unknown: {'; '.join(unknown)}.",))
    guessed = [spoken(e.path) for e in assumptions(result) if e.assumed]
    if guessed:
        more = f"; and {len(guessed) - FIRST} more" if len(guessed) > FIRST else ""
        items.append((f"Measure what the job only assumes, those first that count most: {'; '.join(guessed[:FIRST])}{more}.",))
    if any(c.about.key == RATED for c in missing):
        items.append((RATING,))
    items.append(_engineer(result))
    items.extend(_beside(result))
    items.extend((f"{WIND}: {c.why.text.rstrip('.')}.",) for c in missing if c.about.key == WINDY and c.why)
    told = [c for c in missing if c.lack is not Lack.REACH]  # what is not reached, nobody can find out
    other = [c for c in told if c.about.key != RATED and c.about.key != WINDY]
    if other:
        items.append((f"Find out what nobody told this tool, and have it checked. NOT CHECKED: {waiting(result.sound, other)}.",))
    ruled = [f.text for link in result.links if link.id == "acceptance" for f in link.findings if f.loud]
    alone = [text for text in ruled if ALONE in text]
    if alone:  # of several panels the rule is the same
        others = f" So are {len(alone) - 1} more." if len(alone) > 1 else ""
        rule = in_words(alone[0], result.job.units).rstrip(".")
        items.insert(
            1, (f"When the glass breaks there is no barrier left. {rule}.{others} Have that answered before glass is ordered.",)
        )
    rest = [text for text in ruled if text not in alone]
    if rest:
        items.append((f"Ask the engineer about rules, too: {openings(rest, result.job.units)}.",))
    yield Bullets(tuple(items), tuple(i == 0 or (i == 1 and bool(alone)) for i in range(len(items))))


def _wanted(result: Result) -> list[JobEntry]:
    """What the job does not know and its checks would use: of the boards' own screws only where a mount stands on boards."""
    on_boards = any(m.support == "decking only" for m in result.job.mounts)
    return [e for e in result.job.unknowns() if on_boards or not e.path.startswith("decking.board_screws")]


def _ends(result: Result) -> str:
    """How the job ends, where that is no good news; a good one is no reason to begin with."""
    if result.sound.ending is Ending.EXCEEDS:
        return " As it is described this barrier EXCEEDS what holds it."
    beside = [w.situation.name for w in required_beside(result) if w.ending is Ending.EXCEEDS]
    if beside:
        return f" With {' and '.join(beside)} this barrier EXCEEDS what holds it, and that is required too."
    return " Something that is required was NOT CHECKED." if result.ending is Ending.NOT_CHECKED else ""


def _engineer(result: Result) -> Line:
    """Whom to go to and what to ask first; with what there is to hold, where a force or a moment is behind it."""
    check = result.governing
    if check is None:
        return ("Take this sheet to a licensed engineer. Nothing could be compared: ask which figures are wanted first.",)
    many = len(ending_as(result.sound, Ending.EXCEEDS))
    over = f" {many} checks EXCEED their limit; trimming the figures mends none of them." if many > 1 else ""
    if check.ending is Ending.WITHIN:
        over = " That the checks made here came out within is no permission to build."
    return (
        "Take this sheet to a licensed engineer. Ask first about what governs, ", check.title, f" ({ending_text(check.ending)}): ",
        _question(check), *_size(check), "?", over,
    )  # fmt: skip


def _beside(result: Result) -> Iterator[Line]:
    """The question about a situation that is required as well, where the job as described is within and it is not."""
    for w in required_beside(result):
        check = w.governing
        if w.ending is Ending.EXCEEDS and result.sound.ending is not Ending.EXCEEDS and check is not None:
            told = f"{check.title} ({ending_text(check.ending)})"
            yield (f"With {w.situation.name}, ask about what governs then, {told}: {_question(check)}?",)


def _question(check: Check) -> str:
    if check.ending is Ending.WITHIN:
        return ROUND
    fitting = [kind for kind in ASK if check.about.one_of([kind])]
    return ASK[max(fitting, key=len)] if fitting else ROUND


def _size(check: Check) -> Line:
    demand = check.demand
    if demand is None or demand.kind not in ("force", "moment"):
        return ()
    return (", with ", Token(demand, check.station, FRONT), " to be held")
