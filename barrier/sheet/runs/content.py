"""The paper of a run as blocks: what is read first, each side with its marks and plans, what is cut and bought, and an appendix."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.run.conflicts import Weight
from barrier.run.side import SideSet
from barrier.sheet.blocks import Block, Bullets, Content, Heading, Line, Paragraph
from barrier.sheet.content import caution
from barrier.sheet.drawings.svg import WIDTH
from barrier.sheet.runs import first, footprint, plan, rail, tables, to_scale
from barrier.whole_run import CheckedRun, LaidOut

PICTURE = 290.0  # units of a picture half as wide as a page of site paper: its words are nine points and more
APPENDIX = "Appendix: for the engineer, and for whoever made this paper"


def run_content(run: CheckedRun, paper: str = "") -> Content:
    """The whole paper.

    Arguments: ``run`` as :func:`barrier.whole_run.check_run` or ``unchecked`` returns it; ``paper`` a size of site paper, "a4" or
    "a3", whose plans are drawn to a scale that holds on it; empty for a screen or a page of text, with plans two panels at a time.
    """
    laid = run.laid
    blocks: list[Block] = [Heading(1, (title(laid),)), *first.blocks(run, PICTURE if paper else WIDTH)]
    for side in laid.sides:
        blocks += _side(laid, side, paper)
    blocks += [*_bought(laid), *_appendix(run)]
    return Content(tuple(blocks), "metric", site=paper)


def title(laid: LaidOut) -> str:
    """What the paper is called."""
    return f"Set-out: {laid.probe.title}"


# ---------------------------------------------------------------- a side


def _side(laid: LaidOut, side: SideSet, paper: str) -> Iterator[Block]:
    yield Heading(1, (f"Side {side.name}: marks, in mm from 0 of its tape",))
    sizes = sorted({p.strip.width for p in side.panels})
    gaps = sorted(set(side.division.gaps))
    yield Paragraph((
        f"{len(side.panels)} panels of {_or(sizes)} mm, gaps of {_or(gaps) or 'none'} mm. Glass line "
        f"{side.ground.offset:g} mm in from the deck edge. {_columns(laid, side)}",
    ))  # fmt: skip
    yield tables.set_out_table(laid, side)
    yield Heading(2, (f"Joists of side {side.name}, from the same 0",))
    yield Paragraph((_joist_words(side),))
    yield tables.joists_table(side)
    if paper:
        yield from to_scale.drawings(laid, side, paper)
        return
    for drawing, name in plan.drawings(laid, side):
        yield Heading(3, (name,))
        yield drawing


def _or(numbers: list[int]) -> str:
    return " and ".join(map(str, numbers))


def _columns(laid: LaidOut, side: SideSet) -> str:
    """What the columns of a set-out table mean."""
    xs, ys = max(footprint.rows_of(laid)[0]), max(footprint.rows_of(laid)[1])
    said = f"Mount: its middle. Screw lines: {xs:g} each side of it; across the glass line screws stand {ys:g} each side."
    if any(c.weight is not Weight.NOTE and c.side == side.name for c in laid.conflicts):
        said += " See: not to be marked before that number is settled."
    if side.ground.across:
        said += " From joist: from the face of the joist before it. To piece ends: from its outer screws to both ends of its piece."
    else:
        said += " Piece: where its own piece begins and ends on the tape."
    return f"{said} Deck down: below the deck at 0, as said; write beside it what you read." if side.fall else said


def _joist_words(side: SideSet) -> str:
    if not side.ground.across:
        return (
            "These joists run along the side. Measure both at every mount, in from the deck edge, and write the one furthest from "
            "its figure."
        )
    if side.ground.measured:
        return "As measured. A figure below 0 lies before the start of the tape."
    return (
        "NOT MEASURED: these are at their nominal spacing. Hook the tape at 0, write the middle of each as you find it. A "
        "figure below 0 lies before the start of the tape."
    )


# ---------------------------------------------------------------- cut, order, buy


def _bought(laid: LaidOut) -> Iterator[Block]:
    widest = max(p.strip.width for s in laid.sides for p in s.panels)
    yield Heading(1, ("Cut, order, buy: not before the holds are answered",))
    yield Heading(2, ("Cut list",))
    yield Paragraph((_cut_words(laid),))
    yield tables.cut_table(laid)
    yield Paragraph(("Out of the lengths bought, a saw cut behind each piece:",))
    yield tables.stock_table(laid)
    yield Heading(2, ("Glass",))
    yield Paragraph((
        "No pane may come wider than this. Ask the supplier for his tolerance on the width and take its plus off what you order "
        f"(say plus 2: order {widest - 2} for {widest}); gaps open by as much. Order a spare of each size, or ask how long "
        "one takes.",
    ))  # fmt: skip
    yield tables.glass_table(laid)
    yield Heading(2, ("Screws, packers, end fixings",))
    yield tables.fixings_table(laid)
    notes = [i for i, c in enumerate(laid.conflicts, 1) if c.weight is Weight.NOTE]
    if notes:
        yield Heading(2, ("Notes, in squares on the plans",))
        yield Bullets(tuple((first.told(laid, i),) for i in notes))


def _cut_words(laid: LaidOut) -> str:
    if all(s.ground.measured for s in laid.sides if s.ground.across):
        return "Each piece to its own measured bay, and measured again before it is cut."
    return (
        "NOT TO BE CUT YET: joists are at their nominal spacing. Measure the clear width of every bay and cut each piece "
        "to its own."
    )


# ---------------------------------------------------------------- appendix


def _appendix(run: CheckedRun) -> Iterator[Block]:
    laid = run.laid
    yield Heading(1, (APPENDIX,))
    yield Heading(2, ("What was checked",))
    yield Paragraph((
        "One row for each distinct condition, panels alike within 5 mm, walked at the place in the run nearest to an end; a "
        "side under a rail as one line, whole and with every panel lost. Glass round a corner is not credited against wind. The "
        "run ends as its worst row. A shifted mount is another condition. Lets go: no balance of forces was found, so there is "
        "no number. The calculation behind each row is a sheet of its own: ask for it with this paper.",
    ))  # fmt: skip
    yield tables.cover_table(run)
    yield from rail.blocks(run)
    yield Heading(2, ("What was assumed of the run",))
    yield Bullets(tuple(_assumed(laid)))
    yield caution.first("metric")


def _assumed(laid: LaidOut) -> Iterator[Line]:
    f = laid.fixing
    yield (f"screws {f.end:g} mm from the end and {f.edge:g} mm from the edge of a piece, {f.tolerance:g} mm of tolerance",)
    for entry in laid.file.assumed:
        yield (f"{entry.path}: {entry.text} ({entry.reason})",)
