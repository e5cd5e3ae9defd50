"""The bundled runs for the tests, as they are and with pieces of their text exchanged."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from barrier.job.run_file import run_from_text
from barrier.whole_run import LaidOut, lay_out

RUNS = Path(__file__).resolve().parents[1] / "worked_examples" / "runs"


def exchanged(text: str, *changes: tuple[str, str]) -> str:
    """A text with pieces of it exchanged; every piece has to be there."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


@cache
def laid_out(name: str, *changes: tuple[str, str]) -> LaidOut:
    """A bundled run by the stem of its file, set out with pieces of its text exchanged."""
    text = exchanged((RUNS / f"{name}.toml").read_text(encoding="utf-8"), *changes)
    return lay_out(run_from_text(text.encode(), "deck.toml"))
