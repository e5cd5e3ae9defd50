"""What came with the tool: where its tables stand and what they are called, or that they are not as they came."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.abc import Traversable
from importlib.resources import files
from pathlib import Path

from barrier.errors import TableRefused

CURE = "this file came with the tool and is not as it came: install the tool again; figures of your own stand in a folder of yours"


@cache
def root() -> Traversable:
    """The folder of the bundled tables, wherever the package stands: wheel, editable install or bare checkout.

    >>> (root() / "index.toml").is_file()
    True

    Raises TableRefused when the tables did not come with the package.
    """
    for place in (files("barrier") / "tables", Path(__file__).resolve().parents[1] / "tables"):
        if (place / "index.toml").is_file():  # the sentinel: a ``tables`` of another project may lie beside us
            return place
    raise TableRefused("the tables are not beside the package: the installation is incomplete; install the tool again")


def titles(folder: Traversable) -> dict[str, str]:
    """Names and titles of the tables of a folder, from its index. Raises TableRefused."""
    place = folder / "index.toml"
    try:
        found = tomllib.loads(place.read_text("utf-8"))["tables"]
    except (OSError, ValueError, KeyError) as fault:
        raise TableRefused(f"{place}: no list of tables can be read here: {fault}; {CURE}") from None
    if not isinstance(found, dict) or not all(isinstance(title, str) for title in found.values()):
        raise TableRefused(f"{place}: under [tables] every name has a title; {CURE}")
    return found
