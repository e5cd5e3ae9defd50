"""The page of ways out: what exceeds, which changes leave nothing exceeding, the least each must be, what cannot help and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.job.spoken import spoken
from barrier.load_path import Result
from barrier.result import Ending, Standing
from barrier.sheet.blocks import Block, Bullets, Content, Definitions, Heading, Line, Paragraph, Table
from barrier.sheet.content import caution, short
from barrier.sheet.in_words import in_units
from barrier.sheet.numbers import ending_text
from barrier.sheet.studies import words
from barrier.ways.outcome import Line as Checked
from barrier.ways.outcome import Outcome
from barrier.ways.ways import MOST, Tried, Way, Ways

NONE_LEFT = "–"
FEW = 4  # checks named in a row
NUMBERS = {1: "one", 2: "two", 3: "three"}


def _found(found: Ways) -> Iterator[Block]:
    """What was looked for and found, in metric words."""
    for part in (_short, _ways, _closest, _singles, _helpless, _unknown):
        yield from part(found)


def ways_content(found: Ways) -> Content:
    """The ways out as blocks."""
    job = found.result.job
    return Content(
        (
            caution.first(job.units),
            Heading(1, (f"Ways out: {job.title}",)),
            Paragraph((
                "Changes a practitioner could make, each calculated again through every link. No change is called safe: "
                "what is listed leaves no required check exceeding in this calculation, and nothing more. "
                "Take the page and the full sheet of the "
                "changed job to the engineer.",
            )),
            *words.job_block_of(found.result),
            *beside(found.result),
            *in_units(_found(found), job.units),
            caution.last(),
        ),
        job.units,
    )  # fmt: skip


def beside(result: Result) -> Iterator[Block]:
    """That situations which are required beside the job as described are not looked at for every change."""
    names = [w.situation.name for w in short.required_beside(result)]
    if names:
        told = "; ".join(names)
        yield Paragraph((f"Only the job as described is calculated for each change. Required as well, and to be checked: {told}.",))


# ---------------------------------------------------------------- in short


def _short(found: Ways) -> Iterator[Block]:
    base, settings = found.base, found.result.job.changes
    over = f"{len(base.exceeding)} required checks: {_titles(base.exceeding)}" if base.exceeding else "no required check"
    rows: list[tuple[str, Line]] = [
        ("Ends as", (ending_text(found.result.sound.ending),)),
        ("Exceeds", (over,)),
        ("Changed", ("; ".join(f"{spoken(p)} = {v}" for p, v in settings) or "nothing: the job as its file has it",)),
        ("Answer", (_answer(found),)),
    ]
    yield Heading(2, ("In short",))
    yield Definitions(tuple(rows))


def _answer(found: Ways) -> str:
    if not found.base.exceeding:
        return "nothing exceeds, so there is nothing to get out of; what was not checked is listed below"
    if not found.found:
        return f"{_looked(found)}. No set that does was found: the nearest stand below. The engineer may know others"
    size = len(found.found[0].tried.moves)
    if size > MOST:
        added = f"{size} changes together leave nothing exceeding (a smaller set may exist)"
        return f"{_looked(found)}. Added to one at a time, {added}: {_and(found.found[0])}"
    if len(found.found) == 1:
        return f"{'one change leaves' if size == 1 else f'{size} changes together leave'} nothing exceeding: {_and(found.found[0])}"
    each = "each of these changes alone leaves" if size == 1 else f"each of these sets of {NUMBERS[size]} leaves"
    return f"{each} nothing exceeding: {'; '.join(_and(w) for w in found.found)}"


def _looked(found: Ways) -> str:
    """How many sets were calculated, and by what rule others were not."""
    told = ", ".join(f"{done} of {of} of {NUMBERS[size]}" for size, (done, of) in found.counted.items())
    rule = (
        "every set of the listed changes at the sizes listed, but for two of one thing at once"
        if found.every
        else "left out are sets in which some check that exceeds is brought down by none of the changes made alone; --every has all"
    )
    return f"no set of up to three of the listed changes leaves nothing exceeding (calculated: {told}; {rule})"


def _and(way: Way) -> str:
    return ", and ".join(_told(way, m.name) for m in way.tried.moves)


def _told(way: Way, name: str) -> str:
    """A change with the least that does in place of the size it was looked for with."""
    move = next(m for m in way.tried.moves if m.name == name)
    least = next((x for x in way.least if move.scale is not None and x.what == move.scale.what), None)
    return (
        name
        if least is None
        else f"{least.what.removeprefix('times ')} {least.does.removesuffix(' ' + least.what)}"
        + (" times" if least.what.startswith("times") else "")
    )


def _titles(lines: Sequence[Checked], most: int = FEW) -> str:
    told = "; ".join(f"{line.title} ({figure_of(line)})" for line in lines[:most])
    return told + (f"; and {len(lines) - most} more" if len(lines) > most else "")


def figure_of(line: Checked) -> str:
    """A utilisation beside others, as a page prints it."""
    if line.rank is None:
        return "lets go" if line.ending == Ending.EXCEEDS else "?"
    return (
        f"{min(line.rank, 999):.0f}"
        if line.rank > 9.995
        else f"{max(line.rank, 1.01) if line.ending == Ending.EXCEEDS else line.rank:.2f}"
    )


# ---------------------------------------------------------------- ways


def _ways(found: Ways) -> Iterator[Block]:
    for number, way in enumerate(found.found, 1):
        yield Heading(2, (f"Way {number}",))
        rows: list[tuple[str, Line]] = [("Change" if len(way.tried.moves) == 1 else "Changes", (_and(way),))]
        for least in way.least:
            word = "Least glass" if least.what == "glass" else "Least of it"
            beside = f"; {least.not_enough} would not do" if least.not_enough and least.what != "glass" else ""
            beside = f"; {least.not_enough}" if least.not_enough and least.what == "glass" else beside
            rows.append((word, (f"{least.what}: {least.does}{beside}" if least.what != "glass" else f"{least.does}{beside}",)))
        if any("height" in m.touches for m in way.tried.moves):
            rows.append(("Mind", ("the code asks a least height of a barrier: see Heights on the sheet of the changed job",)))
        rows += [("Would have to hold", (f"{d.of}: {d.size} ({d.meaning})",)) for d in way.demands]
        governs = way.outcome.governing
        if governs is not None:
            rows.append(("Governs then", (f"{governs.title}: {figure_of(governs)}",)))
        if way.outcome.unknown:
            rows.append(("Still NOT CHECKED", (_titles(way.outcome.unknown, 6),)))
        rows.append(("To look at it", (_settings(way),)))
        yield Definitions(tuple(rows))


def _settings(way: Way) -> str:
    """The changes as settings of a check, where they are single entries."""
    if any(isinstance(v, (dict, list)) for v in way.changes.values()):
        return "the changes are tables of the job file; make them there and check it again"
    return "barrier check JOB " + " ".join(f'--set {p}="{"none" if v is None else v}"' for p, v in way.changes.items())


def _closest(found: Ways) -> Iterator[Block]:
    """The set of each size that leaves least, where none does."""
    if found.found and len(found.found[0].tried.moves) <= MOST:
        return
    rows = [_tried(t) for _, t in sorted(found.best.items())]
    if found.beyond is not None and not found.beyond.does:
        rows.append(_tried(found.beyond))
    if rows and found.base.exceeding:
        yield Heading(2, ("The sets that leave least",))
        yield Table(("changes", "left", "what is left, worst first"), tuple(rows), "lrl")


def _singles(found: Ways) -> Iterator[Block]:
    yield Heading(2, ("Every single change, those that leave least first",))
    yield Paragraph(("Left counts required checks that exceed, and those that were known before and no longer are.",))
    yield Table(("change", "left", "what is left, worst first"), tuple(_tried(t) for t in found.singles), "lrl")


def _tried(tried: Tried) -> tuple[Line, ...]:
    outcome: Outcome = tried.outcome
    left = NONE_LEFT if outcome.refused else str(tried.left[0])
    said = "the job file would refuse it" if outcome.refused else _titles(outcome.exceeding, 2) or "nothing"
    return (", and ".join(tried.names),), (left,), (said,)


def _helpless(found: Ways) -> Iterator[Block]:
    helpless = found.helpless()
    if helpless:
        yield Heading(2, ("What cannot help on its own, and why",))
        yield Bullets(tuple((f"{t.names[0]}: {why}.",) for t, why in helpless))


def _unknown(found: Ways) -> Iterator[Block]:
    walked = found.result.sound
    missing = [c for c in walked.checks if c.ending is Ending.NOT_CHECKED and c.standing is Standing.REQUIRED]
    if missing:
        yield Heading(2, ("Not checked in the job as it stands, and by no change here",))
        yield Bullets(((short.waiting(walked, missing),),))
