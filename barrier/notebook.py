"""How a result shows itself in a notebook. A result knows nothing of sheets: the front door of the package says who writes."""

from __future__ import annotations

from collections.abc import Callable

Writer = Callable[[object], str]
_writers: list[Writer] = []
_json: list[Writer] = []


def written_by(writer: Writer, json: Writer | None = None) -> None:
    """Say who writes the first page of a result or a study as HTML, and a result as JSON; the last one that was named does."""
    _writers.append(writer)
    if json is not None:
        _json.append(json)


def as_json(result: object) -> str:
    """A result as JSON, by whoever was named to write it."""
    return _json[-1](result)


def first_page(subject: object) -> str:
    """The first page of a result or of a study as HTML, by whoever was named to write it."""
    return _writers[-1](subject)
