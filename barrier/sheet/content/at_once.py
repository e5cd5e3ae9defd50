"""Barrier load and wind at once, where they inform: check by check beside the two apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from barrier.load_path import Result
from barrier.result import Check, tied
from barrier.sheet.alike import alike
from barrier.sheet.blocks import Block, Heading, Line, Paragraph, Table
from barrier.sheet.numbers import ending_text, utilisation_text

HEAD = ("check", "apart", "at once", "ending at once", "combination")


def worst_of(checks: Sequence[Check]) -> Check | None:
    """The check of both at once that comes to most; None where there is none or none has a number."""
    ranked = [c for c in checks if c.about.at_once and c.rank is not None]
    return max(ranked, key=lambda c: tied(c.rank or 0.0), default=None)


def blocks(result: Result) -> Iterator[Block]:
    """A table of every check of both at once; nothing where none informs."""
    checks = result.sound.checks
    both = [c for c in checks if c.about.at_once]
    if not both:
        return
    apart = {c.about: c for c in checks}
    same = alike(result.sound)
    rows: list[tuple[Line, ...]] = []
    for c in both:
        if same.repeats(c) is not None:
            continue
        alone = apart.get(replace(c.about, at_once=False))
        title = same.title(c, alone.title if alone is not None else "")
        rows.append((
            (title,), (utilisation_text(alone) if alone is not None else "",), (utilisation_text(c),),
            (ending_text(c.ending),), (c.combination,),
        ))  # fmt: skip
    yield Heading(1, ("Barrier load and wind at once",))
    yield Paragraph((
        "For information: what each check comes to if barrier load and wind stand in one combination, beside what it comes to with "
        f"each alone, which decides. {result.basis.at_once_words}. Which of the two holds here is a question to the engineer; the "
        "worst of these stands in full in the calculation.",
    ))  # fmt: skip
    yield Table(HEAD, tuple(rows), "lrrll")
