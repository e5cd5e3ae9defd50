"""The writing: one content made of blocks, several renderers. Only this floor formats a number.

The text sheet and the JSON result are here; each is loaded when it is asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barrier.load_path import Result


def text(result: Result) -> str:
    """The calculation sheet as plain text, 100 columns wide, ready to print.

    Argument: ``result`` of :func:`barrier.load_path.check`. Returns the whole sheet with a line end at its end; the
    same result gives the same bytes.
    """
    from barrier.sheet.content import content
    from barrier.sheet.plain import rendered

    return rendered(content(result))


def json_text(result: Result) -> str:
    """The result as JSON with stable, versioned keys; numbers in N, mm, MPa, rad with seven significant digits.

    Argument: ``result`` of :func:`barrier.load_path.check`. Returns the text; see :mod:`barrier.sheet.json` for the keys.
    """
    from barrier.sheet.json import json_text as written

    return written(result)


__all__ = ["json_text", "text"]
