"""The end of the sheet: questions to take along, room for the reviewing engineer, and what the front left out."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.result import Ending
from barrier.sheet.alike import alike
from barrier.sheet.blocks import Blank, Block, Bullets, Heading, Line, Paragraph, Table
from barrier.sheet.content.calculation import Calculation
from barrier.sheet.content.front import assumption
from barrier.sheet.content.ledger import Item, is_model
from barrier.sheet.content.origins import assumptions
from barrier.sheet.numbers import residual_text
from barrier.sheet.source import fingerprints
from barrier.value import Cell, Numerical

ON_SITE: tuple[str, ...] = (
    "Look from below: does blocking stand where the job says, are its pieces touching, what holds its ends?",
    "Is there a gap between the boards and the blocking under each mount? Press the board down and measure.",
    "Does every screw reach timber, and how far is it from the nearest edge or joint between pieces? Measure one.",
    "Measure the screw with a calliper: outer thread, root, length of thread, tip.",
    "Measure the barrier: glass above the decking, gap below it, mounts from the ends of the glass.",
    "What is below the edge, how far down, and who is there?",
    "Is there a pool, a supply or a lightning conductor near by? Mounts may have to be earthed.",
)
TO_THE_SUPPLIER: tuple[str, ...] = (
    "The rating of the mount: ultimate, characteristic or allowable? How many were tested, on what, at which height, with "
    "which glass and which screws?",
    "May the base plate be drilled for a cable? What voids the rating?",
    "What is the liner, how thick and how hard, and what pressure does it take for years?",
    "Does the rating hold for glass pulled up out of the clamp, and for glass pushed along it?",
    "The brackets at the ends of the blocking: what they hold up, down and against turning, with which screws or nails, in which "
    "timber, and pushed sideways at the same time.",
    "The glass: nominal and minimum thickness, heat soaked or not, edge finish, marking.",
    "The screws: declared withdrawal strength with its timber, tensile strength, material for this timber and this place.",
)


def questions(result: Result) -> Iterator[Block]:
    """What to ask on site and of the supplier: first what this job does not know, then what every job should ask."""
    yield Heading(1, ("Questions to take along",))
    unknown = result.job.unknowns()
    missing = [c for c in result.sound.checks if c.ending is Ending.NOT_CHECKED]
    own: list[Line] = [(f"{spoken(e.path)} is {e.text}: {e.reason}",) for e in unknown]
    same = alike(result.sound)
    own += [(f"{same.title(c)} is not checked: {c.reason}",) for c in missing if same.repeats(c) is None]
    if own:
        yield Paragraph(("This job does not know:",))
        yield Bullets(tuple(own))
    yield Heading(3, ("On site",))
    yield Bullets(tuple((q,) for q in ON_SITE))
    yield Heading(3, ("To the supplier",))
    yield Bullets(tuple((q,) for q in TO_THE_SUPPLIER))


def engineer() -> Iterator[Block]:
    """Room for the reviewing engineer, left blank."""
    yield Heading(1, ("For the reviewing engineer",))
    yield Paragraph(("Left blank on purpose. Nothing printed by a program stands in these lines.",))
    yield Blank(("Name", "Licence", "Figures changed", "Decision", "Date, signature"))
    yield Paragraph(("",))


def blocks(result: Result, calculation: Calculation) -> Iterator[Block]:
    """The appendix."""
    yield Heading(1, ("Appendix",))
    yield Heading(2, ("All assumptions",))
    found = assumptions(result)
    yield Bullets(tuple((f"{e.path}: ", *assumption(e, 0, result.job.units)) for e in found)) if found else Paragraph(("None.",))
    yield Heading(2, ("Entries of the job that this version does not use",))
    unread = result.job.unread()
    if unread:
        yield Bullets(tuple((f'{e.path} = "{e.text}": {e.reason}',) for e in unread))
    else:
        yield Paragraph(("None.",))
    yield from _residuals(calculation)
    yield from _tables(result, calculation)


def _residuals(calculation: Calculation) -> Iterator[Block]:
    items = [i for i in calculation.ledger.items if is_model(i) and _closed(i)]
    if not items:
        return
    yield Heading(2, ("How well the numerical methods closed",))
    rows: list[tuple[Line, ...]] = []
    for item in items:
        origin = item.origin
        assert isinstance(origin, Numerical)
        closed = residual_text(origin.residual) if origin.residual is not None else "not stated"
        hand: Line = (item.hand.token(),) if item.hand is not None else ("",)
        rows.append(((item.label,), (origin.title,), (item.token(),), (closed,), hand))
    yield Paragraph(("Where each was looked for stands with its number in the calculation.",))
    yield Table(("", "what", "result", "relative residual", "by hand"), tuple(rows), "llrlr")


def _closed(item: Item) -> bool:
    """Whether there is something to say of how a numerical result closed, or of an answer by hand beside it."""
    return item.hand is not None or (isinstance(item.origin, Numerical) and item.origin.residual is not None)


def _tables(result: Result, calculation: Calculation) -> Iterator[Block]:
    used: dict[str, int] = {}
    for item in calculation.ledger.items:
        if isinstance(item.origin, Cell) and item.origin.table:
            used[item.origin.table] = used.get(item.origin.table, 0) + 1
    yield Heading(2, ("Tables used",))
    rows: list[tuple[Line, ...]] = []
    prints = fingerprints(result.tables)
    for name, count in used.items():
        table = result.tables.table(name)
        rows.append(((name,), (table.title,), (table.edition,), (str(count),), (prints[name],)))
    if rows:
        yield Table(("table", "title", "edition", "lines", "fingerprint"), tuple(rows), "lllrl")
    others = [name for name in prints if name not in used]
    yield Paragraph(
        (f"All {len(prints)} tables together: {result.tables.fingerprint()}; {len(others)} of them are not used here.",)
    )
    yield from _own(result)


def _own(result: Result) -> Iterator[Block]:
    """Cells of the reader over ours, each with what it replaced, and rows the reader added."""
    first = {(c.table, c.key, c.column): c for c in reversed(result.tables.replaced)}  # ours, under several of the reader's
    items: list[Line] = []
    for name in dict.fromkeys(name for name, _ in result.tables.own):
        table = result.tables.table(name)
        for row in table.rows:
            for column, cell in row.cells.items():
                if cell.provenance != "yours" or not cell.text:
                    continue
                place, ours = f"{name} · {row.key} · {column}", first.get((name, row.key, column))
                from_whom = " ".join(p for p in (cell.source, cell.clause) if p)
                before = f"replaces {ours.text or 'an empty cell'} ({ours.source})" if ours is not None else "a row of the reader"
                items.append((f"{place} = {cell.text} ({from_whom}); {before}",))
    if items:
        yield Heading(2, ("Replaced by the reader's own, or added",))
        yield Bullets(tuple(items))
