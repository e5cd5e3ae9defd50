"""The whole sheet as blocks, top to bottom; renderers only read it."""

from __future__ import annotations

from barrier.load_path import Result
from barrier.sheet.blocks import Content
from barrier.sheet.content import appendix, calculation, front, last_page


def content(result: Result) -> Content:
    """Everything a sheet says about a result.

    Argument: ``result`` as :func:`barrier.load_path.check` returns it. Returns blocks in the order of the sheet; their
    numbers are tokens, shown in the units the job asks for.
    """
    calculated = calculation.calculate(result)
    return Content(
        (
            *front.blocks(result, calculated),
            *calculation.blocks(calculated, result),
            *appendix.blocks(result, calculated),
            *last_page.blocks(result),
        ),
        result.job.units,
    )
