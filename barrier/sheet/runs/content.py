"""The paper of a run as blocks, in the order of the work: where the tape starts, what is marked, cut, ordered, set, checked."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.run.conflicts import Weight
from barrier.run.side import SideSet
from barrier.sheet.blocks import Block, Bullets, Content, Definitions, Drawing, Heading, Line, Paragraph
from barrier.sheet.content import caution
from barrier.sheet.numbers import ending_text
from barrier.sheet.runs import plan, rail, tables
from barrier.whole_run import CheckedRun, LaidOut

ORDER = (
    "Before anything is marked, cut, drilled or ordered: take this paper to the engineer, who wants its last part. HOLD until that "
    "is answered.",
    "Look under the deck: which way the joists run, what the rim is, what is in the way.",
    "Pull a line for the glass of each side, as far in from the edge of the deck as it says, and mark the datum on it. Every "
    "figure of a side is read off one tape that starts there; never add panel to panel.",
    "Measure the joists: the middle of every one, from the corner of the deck, which is not the datum. HOLD: write them into the "
    "job and have this paper made again.",
    "Cut the pieces to their own bays and fix them. HOLD: look at every end fixing before the boards over them are on.",
    "Mark mounts and screw lines along the line of the glass, tick each off, read the level at each.",
    "Set the mounts dry. HOLD: measure the closing gap at the end of every side; it is measured, not computed.",
    "Glass is ordered only after that: toughened glass cannot be cut. One size at a time, marked on its panels.",
    "Set the glass with its packers, keep the edge protected until the last clamp is tight.",
)


def run_content(run: CheckedRun) -> Content:
    """The whole paper; ``run`` as :func:`barrier.whole_run.check_run` or ``unchecked`` returns it."""
    laid = run.laid
    blocks: list[Block] = [
        caution.first("metric"),
        Heading(1, (title(laid),)),
        Paragraph((f"This run ends: {ending_text(run.ending)}. {_count(laid)}",)),
        Definitions(tuple(_start(laid))),
        Heading(2, ("Order of work",)),
        Bullets(tuple((f"{i}. {step}",) for i, step in enumerate(ORDER, 1)), tuple("HOLD" in s for s in ORDER)),
        Heading(2, ("What does not go together",)),
        Paragraph(("A clash cannot be built as drawn. Clashes and what is not checked are ringed on the plans by these numbers.",)),
        tables.findings_table(laid),
    ]
    for i, c in enumerate(laid.file.run.corners):
        words = f"Corner of {c.side} and {c.other}"
        if c.turn == "inside":
            continue  # no picture of one: the findings and the figures of both sides say what there is
        blocks.append(Heading(2, (words,)))
        blocks.append(Drawing(f"corner-{i + 1}", (f"{words} from above, to scale.",), lambda i=i: plan.corner(laid, i)))  # type: ignore[misc]
    for side in laid.sides:
        blocks += _side(laid, side)
    blocks += [
        Heading(1, ("Cut, order, buy",)),
        Heading(2, ("Cut list",)),
        Paragraph((_cut_words(laid),)),
        tables.cut_table(laid),
        Paragraph(("Out of the lengths bought, a saw cut behind each piece:",)),
        tables.stock_table(laid),
        Heading(2, ("Glass",)),
        Paragraph(("Ordered to the width less its tolerance, never more. A spare of each size: ask how long one would take.",)),
        tables.glass_table(laid),
        Heading(2, ("Screws, packers, end fixings",)),
        tables.fixings_table(laid),
        Heading(1, ("What was checked",)),
        Paragraph((
            "One row for each distinct condition, walked once for all its panels at the place in the run nearest to an end. Glass "
            "round a corner is not credited against wind. The run ends as its worst row. A shifted mount is another condition. The "
            "sheet behind each row is written with --sheets.",
        )),
        tables.cover_table(run),
        *rail.blocks(run),
        Heading(2, ("What was assumed of the run",)),
        Bullets(tuple(_assumed(laid))),
        caution.last(),
    ]  # fmt: skip
    return Content(tuple(blocks), "metric")


def title(laid: LaidOut) -> str:
    """What the paper is called."""
    return f"Set-out: {laid.probe.title}"


def _count(laid: LaidOut) -> str:
    n = {w: sum(c.weight is w for c in laid.conflicts) for w in Weight}
    return f"Findings: {n[Weight.CLASH]} clashes, {n[Weight.OPEN]} not checked, {n[Weight.NOTE]} notes."


def _start(laid: LaidOut) -> Iterator[tuple[str, Line]]:
    yield "first measurement", (f"From the datum: {laid.file.run.datum}.",)
    for corner in laid.file.run.corners:
        ins = [s.ground.offset for name in (corner.side, corner.other) for s in laid.sides if s.name == name]
        crossing = (
            f"The glass lines cross {ins[0]:g} mm in from the deck edge of side {corner.side} and {ins[1]:g} mm in from that of "
            f"side {corner.other}: pull both lines, mark the crossing."
        )
        yield f"corner {corner.side}, {corner.other}", (crossing,)
    yield "left and right", ("As seen from the people side, on every plan; the drop side is at the top.",)
    for side, asked in zip(laid.sides, laid.file.run.sides, strict=True):
        d = side.division
        at = "at the deck edge" if asked.measured_at == "deck edge" else "on the glass line"
        said = (
            f"{float(asked.length.x):g} mm measured {at}; glass line {d.line} mm, {side.ground.offset:g} mm in from the deck edge. "
            f"The tape runs {asked.tape}, from {side.start} to {side.end}. Clear {d.start} and {d.end} mm at its ends."
        )
        yield f"side {side.name}", (said,)


def _side(laid: LaidOut, side: SideSet) -> Iterator[Block]:
    yield Heading(1, (f"Side {side.name}",))
    sizes = sorted({p.strip.width for p in side.panels})
    gaps = sorted(set(side.division.gaps))
    yield Paragraph((
        f"{len(side.panels)} panels of {' and '.join(map(str, sizes))} mm, gaps of {' and '.join(map(str, gaps)) or 'none'} mm. "
        "Begins and ends are meant as the tape runs.",
    ))  # fmt: skip
    for drawing, name in plan.drawings(laid, side):
        yield Heading(3, (name,))
        yield drawing
    yield Heading(2, (f"Set-out of side {side.name}, mm from the start of the tape",))
    yield Paragraph((
        f"The glass line is {side.ground.offset:g} mm in from the deck edge. {_columns(side)}",
    ))  # fmt: skip
    yield tables.set_out_table(laid, side)


def _columns(side: SideSet) -> str:
    """What the columns of a set-out table mean."""
    said = (
        "From joist: from the face of the joist behind, as the tape runs, to the middle of the mount. To piece ends: from its "
        "outer screws to both ends of its piece."
        if side.ground.across
        else "Piece: where its own piece of blocking begins and ends on the tape; it runs from the edge joist to the next."
    )
    return f"{said} Deck down: since the start." if side.fall else said


def _cut_words(laid: LaidOut) -> str:
    if all(s.ground.measured for s in laid.sides if s.ground.across):
        return "Each piece to its own measured bay, and measured again before it is cut."
    return (
        "NOT TO BE CUT YET: joists were taken at their nominal spacing. Measure the clear width of every bay and cut each piece "
        "to its own."
    )


def _assumed(laid: LaidOut) -> Iterator[Line]:
    f = laid.fixing
    yield (f"screws {f.end:g} mm from the end and {f.edge:g} mm from the edge of a piece, {f.tolerance:g} mm of tolerance",)
    for entry in laid.file.assumed:
        yield (f"{entry.path}: {entry.text} ({entry.reason})",)
