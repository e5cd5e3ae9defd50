"""The bundled worked examples: found beside the package in a wheel, beside the repository in a checkout."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

EXAMPLE = "garden_deck.toml"


def example_text(name: str = EXAMPLE) -> str:
    """The text of a bundled job file.

    >>> example_text().startswith("# A job file. Everything in it is invented")
    True
    """
    inside = files("barrier") / "worked_examples" / name
    if inside.is_file():
        return inside.read_text(encoding="utf-8")
    return (Path(__file__).resolve().parents[1] / "worked_examples" / name).read_text(encoding="utf-8")
