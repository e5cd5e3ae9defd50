"""How a result shows itself in a notebook: the one arrow that points up, taken only when a notebook asks."""

from __future__ import annotations

from importlib import import_module


def first_page(subject: object) -> str:
    """The first page of a result or of a study as HTML; the sheet is loaded for it and not before."""
    written: str = import_module("barrier.sheet").first_page(subject)
    return written
