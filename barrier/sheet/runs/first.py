"""What is read first, on two pages: whether to begin, where the tapes start, the order of the work, what clashes and its cure."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.basis import basis_named
from barrier.result import Ending
from barrier.run.conflicts import Kind, Weight
from barrier.run.side import SideSet
from barrier.sheet.blocks import Block, Bullets, Definitions, Drawing, Heading, Line, Paragraph
from barrier.sheet.content import caution
from barrier.sheet.numbers import ending_text, utilisation_text
from barrier.sheet.runs import corner, footprint, whole
from barrier.sheet.runs.tables import SAID, few, run_of
from barrier.tables import Tables
from barrier.whole_run import CheckedRun, LaidOut

ONLY = "You may measure, pull the lines and mark in pencil. Do NOT cut, drill, fix or order"
BEGIN = {
    Ending.EXCEEDS: f"{ONLY}: this run EXCEEDS. Something is loaded beyond what it is taken to hold, and no mark is final before "
    "the engineer has answered.",
    Ending.NOT_CHECKED: f"{ONLY}: part of this run is NOT CHECKED, and no mark is final before that is answered.",
    Ending.WITHIN: f"{ONLY} before a licensed engineer has said so. That no comparison exceeded is a figure for him, no leave to "
    "build.",
}
WORDS = (
    "0, or datum: where the tape of a side starts. Bay: the space between two joists, counted along the tape. Piece: a length of "
    "blocking. Closing gap: what is left between the last panel and the wall or post. HOLD: stop until it is answered."
)


def blocks(run: CheckedRun, wide: float) -> Iterator[Block]:
    """The first pages, behind the title; ``wide`` are its pictures, in units."""
    laid = run.laid
    yield Bullets(((BEGIN[run.ending],),), (True,))
    yield Paragraph((f"The run ends: {ending_text(run.ending)}. {count(laid)}{worst(run)}",))
    yield caution.short()
    yield Heading(2, ("Where the tapes start",))
    yield Definitions(tuple(_start(laid)))
    yield Heading(2, ("Order of work",))
    steps = tuple(order(laid))
    yield Bullets(tuple((f"{i}. {step}",) for i, step in enumerate(steps, 1)), tuple("HOLD" in s for s in steps))
    yield from _clashes(laid)
    if len(whole.lying(laid)) == len(laid.sides) > 1:
        yield Drawing("whole", ("The whole run from above; numbers as in the list above.",), lambda: whole.picture(laid, wide))
    for i, c in enumerate(laid.file.run.corners):
        words = f"Corner of {c.side} and {c.other} from above, to scale."
        yield Drawing(f"corner-{i + 1}", (words,), lambda i=i: corner.picture(laid, i, wide))  # type: ignore[misc]
    for side in laid.sides:
        words = f"One mount of side {side.name} on its piece, from above; figures at the right: mm in from the deck edge."
        yield Drawing(f"mount-{side.name}", (words,), lambda side=side: footprint.picture(laid, side, wide))  # type: ignore[misc]


def worst(run: CheckedRun) -> str:
    """What exceeds and decides, panel by panel, with what governs there; empty where nothing does."""
    over = [r for r in run.rows if r.decides and r.ending is Ending.EXCEEDS]
    told = [
        f"{run_of(r.condition.panels)}, {r.governs}" + (f" {utilisation_text(r.governing)}" if r.governing is not None else "")
        for r in over
    ]
    return f" What EXCEEDS as it is drawn: {'; '.join(told)}." if told else ""


def count(laid: LaidOut) -> str:
    """How many findings of which weight."""
    n = {w: sum(c.weight is w for c in laid.conflicts) for w in Weight}
    clashes = f"{n[Weight.CLASH]} clash{'' if n[Weight.CLASH] == 1 else 'es'}"
    return f"Findings: {clashes}, {n[Weight.OPEN]} not checked, {n[Weight.NOTE]} notes."


# ---------------------------------------------------------------- where the tape starts


def _start(laid: LaidOut) -> Iterator[tuple[str, Line]]:
    zeros, datum = [f"side {s.name}" for s in laid.sides], laid.file.run.datum
    yield (
        "0 of the tapes",
        (f"{datum[:1].upper()}{datum[1:]}. Every figure of {' and '.join(zeros)} is read from its 0, never panel to panel.",),
    )
    sides = {s.name: s for s in laid.sides}
    for c in laid.file.run.corners:
        a, b = sides[c.side], sides[c.other]
        ends = [f"the tape of {s.name} {'starts' if at == 'start' else 'ends'}" for s, at in ((a, c.at), (b, c.other_at))]
        yield f"corner {a.name}, {b.name}", (
            f"Pull both lines; they cross {a.ground.offset:g} mm in from the deck edge of {a.name} and {b.ground.offset:g} mm "
            f"in from that of {b.name}. There {' and '.join(ends)}.",
        )  # fmt: skip
    for side, asked in zip(laid.sides, laid.file.run.sides, strict=True):
        d = side.division
        at = "at the deck edge" if asked.measured_at == "deck edge" else "on the glass line"
        said = (
            f"Line {side.ground.offset:g} mm in from the deck edge and {d.line} mm long ({float(asked.length.x):g} measured "
            f"{at}). The tape runs {asked.tape}, from {side.start} to {side.end}. {timber(laid, side)}"
        )
        yield f"side {side.name}", (said,)
    yield "left and right", ("As seen from the people side; the drop side is at the top of every plan.",)
    yield "height", (height(laid),)
    yield "words", (WORDS,)


def timber(laid: LaidOut, side: SideSet) -> str:
    """How far in from the deck edge the pieces of a side sit, and in which bays."""
    g = side.ground
    if g.across:
        return f"Pieces lie against the rim: {g.rim:g} to {g.rim + g.pack:g} mm in."
    length = side.pieces[0].length
    return (
        f"Pieces run inward from the edge joist, {g.rim:g} to {g.rim + length:g} mm in, one under each mount; "
        f"{_bay_words(laid, side)}."
    )


def _bay_words(laid: LaidOut, side: SideSet) -> str:
    """Which bay the pieces of a side are in whose joists run along it; the same as one of the side round a corner, where it is."""
    for c in laid.file.run.corners:
        for one, at, other in ((c.side, c.at, c.other), (c.other, c.other_at, c.side)):
            if other != side.name or at != "start":
                continue
            joists = next(s.ground for s in laid.sides if s.name == one)
            edge = (-1.0 if c.turn == "outside" else 1.0) * side.ground.offset
            if len(joists.joists) > 1 and c.turn == "outside" and abs(joists.joists[0] - joists.joist / 2 - edge) < 1.0:
                return f"bay 1, the same two joists as bay 1 of side {one}"
    return "bay 1, from the edge joist to the next"


def height(laid: LaidOut) -> str:
    """Height of the barrier as drawn and as a rule asks for it."""
    job, panel = laid.probe, laid.probe.panels[0]
    glass, gap = float(panel.height.x), float(panel.bottom_gap.x)
    folder = job.tables_folder
    basis = basis_named(job.basis, job.national, Tables(() if folder is None else (folder,)))
    rule = basis.rule(f"height_edge {job.site.use}") or basis.rule("height_edge")
    drawn = f"Glass {glass:g} over a gap of {gap:g} is {glass + gap:g} mm above the deck."
    if rule is None or rule[0] is None:
        return f"{drawn} Which height is required was not looked up: ask."
    low = [str(i) for i, c in enumerate(laid.conflicts, 1) if c.kind is Kind.HEIGHT]
    lower = f" LOWER over the highest deck beside a panel where the deck falls: see {' and '.join(low)}." if low else ""
    return (
        f"{drawn}{lower} Required: {float(rule[0].x):g} mm ({rule[2]}); the local rule decides. Measured from the highest deck "
        "beside it."
    )


# ---------------------------------------------------------------- order of work


def order(laid: LaidOut) -> Iterator[str]:
    """The steps, in the order of the work, with what holds them up."""
    lines = ", ".join(f"side {s.name} {s.ground.offset:g} mm in from its deck edge" for s in laid.sides)
    yield "HOLD. Take this paper to the engineer; the appendix is for him. Go on to step 5 only when he has answered."
    yield (
        "Look under the deck: which way joists run, the rim, pipes. Are boards laid already? Then see that both ends of "
        "every piece are reached from below, or take boards up."
    )
    yield f"Pull a line for the glass: {lines}. Mark 0 on it."
    if all(s.ground.measured for s in laid.sides if s.ground.across):
        yield "Look once more whether the joists stand where this paper has them (table of joists)."
    else:
        yield (
            "HOLD. Measure the middle of every joist from the 0 of its side and write it into the table of joists. If one is "
            f"more than {laid.fixing.tolerance:g} mm off, the paper is made again with your figures by whoever made it."
        )
    yield "HOLD. Cut each piece to its own bay, fix it where its table says; look at every end fixing."
    yield "Mark mounts and screws from 0, tick each off, read the level at each. In pencil that may be done before step 5."
    yield "HOLD. Set the mounts dry. Measure the closing gap at the end of each side: it is measured, not taken from here."
    yield "Only then is glass ordered: toughened glass cannot be cut. Have its mark put on every panel."
    yield "Set the glass with its packers. Keep the edge guarded until the last clamp is tight."


# ---------------------------------------------------------------- what clashes


def _clashes(laid: LaidOut) -> Iterator[Block]:
    found = [(i, c) for i, c in enumerate(laid.conflicts, 1) if c.weight is not Weight.NOTE]
    yield Heading(2, ("What cannot stay as drawn",))
    if not found:
        yield Paragraph(("Nothing that was looked at clashes.",))
        return
    yield Paragraph((
        "Numbers as ringed on the plans. Do not mark these yet: a move is an offer to the engineer, and the paper is made again "
        "with it.",
    ))  # fmt: skip
    alike: dict[tuple[str, ...], list[int]] = {}
    for i, c in found:  # what is of one kind and has one cure is told together
        alike.setdefault((c.weight, c.side, c.kind, c.cure), []).append(i)
    lines = [told(laid, *numbers) for numbers in alike.values()]
    yield Bullets(tuple((text,) for text in lines), tuple(weight == Weight.CLASH for weight, *_ in alike))


def told(laid: LaidOut, *numbers: int) -> str:
    """One finding in a sentence, or several of one kind and one cure: numbers, weight, places, what it is, what would cure it."""
    each = [laid.conflicts[i - 1] for i in numbers]
    c = each[0]
    cure = f"{c.cure[0].upper()}{c.cure[1:]}{'' if c.cure.endswith('.') else '.'}"
    head = f"{', '.join(map(str, numbers))} {SAID[c.weight]}: "
    kind = f"{c.kind[0].upper()}{c.kind[1:]}: "
    if len(each) == 1:
        whom = f"{few(c.whom)}, " if c.whom else ""
        return f"{head}{whom}side {c.side} at {c.at:.0f}. {kind}{c.what}. {cure}"
    places = "; ".join(f"{few(x.whom)} at {x.at:.0f}, {x.what}" for x in each)
    return f"{head}side {c.side}. {kind}{places}. {cure}"
