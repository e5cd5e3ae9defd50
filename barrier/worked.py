"""The bundled worked examples: found beside the package in a wheel, beside the repository in a checkout."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

EXAMPLE = "garden_deck.toml"  # every link of it has a number, so it shows what a sheet is
OF_A_COUNTRY = {  # the deck as it is built there every day
    "uk": "everyday_deck.toml", "us": "us_deck.toml", "australia": "australian_deck.toml", "new zealand": "nz_deck.toml",
}  # fmt: skip


def example_path(name: str = EXAMPLE) -> Path:
    """Where a bundled job file lies.

    >>> example_path().name
    'garden_deck.toml'
    """
    inside = Path(str(files("barrier"))) / "worked_examples" / name
    return inside if inside.is_file() else Path(__file__).resolve().parents[1] / "worked_examples" / name


def example_text(name: str = EXAMPLE) -> str:
    """The text of a bundled job file.

    >>> example_text().startswith("# A job file. Everything in it is invented")
    True
    """
    return example_path(name).read_text(encoding="utf-8")
