"""The rail of every side on the paper of a run: pictures with a panel gone, what a mount then takes, what a bracket does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from barrier.sheet.blocks import Block, Bullets, Drawing, Heading
from barrier.sheet.content import rail
from barrier.whole_run import CheckedRun

PLAIN = Bullets(tuple((text,) for text in rail.PLAIN))


def blocks(run: CheckedRun) -> Iterator[Block]:
    """What the sheet of each side says of its rail, side by side; what is true of all once. Nothing where none was walked."""
    told = False
    for side, result in run.under_rail():
        for block in rail.blocks(result):
            if block == PLAIN and told:
                continue
            told = told or block == PLAIN
            if isinstance(block, Heading):
                yield replace(block, line=(f"{rail.TITLE} of side {side.name}",))
            elif isinstance(block, Drawing):
                yield replace(block, name=f"{block.name}-{side.name}")
            else:
                yield block
