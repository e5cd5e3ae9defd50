"""The page of a change: what was set, what went along, and every check that moved, before and after."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.result import Check, Standing
from barrier.sheet.alike import alike
from barrier.sheet.blocks import Block, Content, Definitions, Heading, Line, Paragraph, Table, Token
from barrier.sheet.content import caution
from barrier.sheet.numbers import ending_text, in_style, utilisation_text
from barrier.ways.what_if import Counts, Moved, WhatIf

NOT_ASKED = "–"


def what_if_content(found: WhatIf) -> Content:
    """The change as blocks: in short, what moved, what is asked in one of the two only."""
    job, style = found.before.job, found.before.job.units
    moved = found.moved()
    return Content(
        (
            caution.first(style),
            Heading(1, (f"What if: {job.title}",)),
            *short(found),
            Heading(2, ("Every check that moved",)),
            Paragraph((
                "Utilisation of the job as described and as changed; above 1.00 it exceeds. Mounts that fare alike stand together. "
                "A change that brings a figure down is not called safe: it is a question for the engineer.",
            )),
            *_tables(found, moved),
            caution.last(),
        ),
        style,
    )  # fmt: skip


def short(found: WhatIf) -> Iterator[Block]:
    """What was changed, how both end, what governs, and the counts."""
    job, style = found.before.job, found.before.job.units
    before, after, of = found.counts()
    rows: list[tuple[str, Line]] = []
    for path, value in found.setting.changes.items():
        why = found.setting.along.get(path, "")
        was = _told(job.entry(path).text, style)
        word = "Goes along" if why else "Changed"
        rows.append((word, (f"{spoken(path)}: {was} → {_told(value, style)}{f' ({why})' if why else ''}",)))
    if found.setting.rule and not found.setting.along:
        rows.append(("Mounts", ("none moves: those whose place was set stand where they were put",)))
    rows += [
        ("Ends as", (f"{_ends(found.before)} → {_ends(found.after)}",)),
        ("Governs before", _governs(found.before)),
        ("Governs now", _governs(found.after)),
        ("Counts", (f"over the same {of} required checks: {_counts(before)} → {_counts(after)}",)),
    ]
    yield Definitions(tuple(rows))


def _told(value: object, style: str) -> str:
    if value is None:
        return "taken away"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return in_style(str(value), style) if isinstance(value, (str, int, float)) else "another table"


def _ends(result: Result) -> str:
    return ending_text(result.sound.ending)


def _governs(result: Result) -> Line:
    check = result.governing
    return ("nothing could be compared",) if check is None else (f"{check.title}: {utilisation_text(check)}",)


def _counts(counts: Counts) -> str:
    return f"{counts.exceeds} EXCEED, {counts.not_checked} NOT CHECKED, {counts.within} within"


def _tables(found: WhatIf, moved: Sequence[Moved]) -> Iterator[Block]:
    titles = {c.id: link.title for r in (found.before, found.after) for link in r.links for c in link.checks}
    same = alike(found.after.sound)
    both = [(m.before, m.after) for m in moved if m.before is not None and m.after is not None]
    both = [(was, now) for was, now in both if same.repeats(now) is None]
    if not both:
        yield Paragraph(("None moved.",))
    for decides in (Standing.REQUIRED, Standing.INFORMATION):
        rows = tuple(_row(was, now, titles[now.id], same.title(now)) for was, now in both if now.standing is decides)
        if rows and decides is Standing.INFORMATION:
            yield Heading(3, ("Those that inform and do not decide",))
        if rows:
            yield Table(("link", "check", "before", "after", "demand before", "after"), rows, "llrrrr")
    for word, some in (("asked now and not before", [m.after for m in moved if m.before is None]),
                       ("asked before and not now", [m.before for m in moved if m.after is None])):  # fmt: skip
        checks = [c for c in some if c is not None]
        if checks:
            yield Heading(3, (f"Checks {word}",))
            yield Table(("check", "comes to"), tuple(((c.title,), (_figure(c),)) for c in checks), "lr")


def _row(before: Check, after: Check, link: str, title: str) -> tuple[Line, ...]:
    return (link,), (title,), (_figure(before),), (_figure(after),), _demand(before), _demand(after)


def _figure(check: Check | None) -> str:
    return NOT_ASKED if check is None else utilisation_text(check)


def _demand(check: Check) -> Line:
    return (NOT_ASKED,) if check.demand is None else (Token(check.demand, check.station),)
