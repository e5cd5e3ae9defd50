"""What a terminal shows of a result: the short answer and the worst of each link.

The whole sheet has some hundred times as many lines. Somebody at a terminal changes an entry and looks again; the sheet is for
paper and for a file, so a pipe and a file get it whole.
"""

from __future__ import annotations

from barrier.load_path import Result
from barrier.sheet.blocks import Block, Content, Definitions, Heading, Line, Paragraph, Ref, Table
from barrier.sheet.content import calculation, caution, front, short

REST = (
    "The whole sheet: --full, or --output FILE, or a pipe. What one change would do: --set. Ways to bring it within: barrier ways."
)
KEPT = ("Job", "Ends as", "Load", "Governs", "Worst at", "Not checked", "Exceeds", "Mind")


def short_content(result: Result) -> Content:
    """The short answer as blocks."""
    blocks: list[Block] = []
    for block in short.blocks(result, calculation.calculate(result)):
        blocks.append(_without_steps(block) if isinstance(block, Definitions) else block)
    return Content(
        (
            *blocks,
            Heading(2, ("The worst of each link",)),
            worst_of_links(result),
            Paragraph((REST,)),
            Paragraph((caution.ONE_LINE + " An engineer decides.",)),
        ),
        result.job.units,
    )


def worst_of_links(result: Result) -> Table:
    """One row a link: its worst required check, how it ends."""
    rows = []
    for link in result.links:
        figure, ending = front.worst_line(link)
        rows.append(((link.title,), figure, ending))
    return Table(("link", "worst", "ends as"), tuple(rows), "lrl")


def _without_steps(block: Definitions) -> Definitions:
    """Rows without the numbers of the calculation, which is not printed here."""
    return Definitions(tuple((word, _plain(line)) for word, line in block.rows if word in KEPT))


def _plain(line: Line) -> Line:
    return tuple(part for part in line if not isinstance(part, Ref))
