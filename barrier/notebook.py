"""How a result shows itself in a notebook. A result knows nothing of sheets: the front door of the package says who writes."""

from __future__ import annotations

from collections.abc import Callable

Writer = Callable[[object], str]
_writers: list[Writer] = []


def written_by(writer: Writer) -> None:
    """Say who writes the first page of a result or a study as HTML; the last one that was named does."""
    _writers.append(writer)


def first_page(subject: object) -> str:
    """The first page of a result or of a study as HTML, by whoever was named to write it."""
    return _writers[-1](subject)
