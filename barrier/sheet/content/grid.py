"""A grid of checks as rows that a page can show one set of at a time: every word and figure is made here, the page only picks.

A row is a link of the load path, followed by its required checks. What a row says in one set is a :class:`Cell`. Mounts that fare
alike in every set are one row under both their names, as on the sheet.
"""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import PurePath

from barrier.result import Ending
from barrier.sheet.content.short import sentence
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import DISTANCES, EXACT, eta_text, figure
from barrier.ways.axes import Stop
from barrier.ways.outcome import Line, Outcome
from barrier.ways.phone import Phone


@dataclass(frozen=True, slots=True)
class Cell:
    """What a row says in one set: its figure as printed, how it ends, the utilisation its bar is drawn by, what stands below it."""

    text: str
    ending: Ending
    eta: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A link with its number (then ``check`` is empty), or one of its checks by the id it stands for first."""

    title: str
    link: str
    number: int = 0
    check: str = ""


@dataclass(frozen=True, slots=True)
class Point:
    """One set: how it ends in a headline, how many required checks exceed, were not checked, are within; which row governs and in
    what words; the cells by row, None where there is no such check; the command that prints its sheet; how it
    stands ``beside`` the job as described; the refusal, or nothing."""

    ending: Ending | None
    headline: str
    counts: tuple[int, int, int]
    governs: int | None
    governing: str
    cells: tuple[Cell | None, ...]
    command: str
    where: str = ""
    beside: str = ""
    refused: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """Rows in walking order and points in the order of the outcomes."""

    rows: tuple[Row, ...]
    points: tuple[Point, ...]


def grid_of(found: Phone) -> Grid:
    """The rows and points of a grid of checks."""
    style = found.result.job.units
    titles = {link.id: link.title for link in found.result.sound.links}
    kinds = _kinds(found.outcomes, list(titles))
    rows: list[Row] = []
    made: list[list[Cell | None]] = []
    where: dict[str, int] = {}
    for number, link in enumerate(titles, 1):
        own = [k for k in kinds if k.link == link]
        if not own:
            continue
        rows.append(Row(titles[link], link, number))
        made.append([_link_cell(o, link, style) for o in found.outcomes])
        for kind in own:
            where.update(dict.fromkeys(kind.ids, len(rows)))
            rows.append(Row(kind.title, link, 0, kind.ids[0]))
            made.append([_check_cell(o.by_id.get(kind.ids[0]), kind, style) for o in found.outcomes])
    columns = list(zip(*made, strict=True)) if made else [()] * len(found.outcomes)
    points = (_point(found, o, where, cells) for o, cells in zip(found.outcomes, columns, strict=True))
    return Grid(tuple(rows), tuple(points))


# ---------------------------------------------------------------- rows


@dataclass(slots=True)
class _Kind:
    """Checks that are one row: the same but for the mount, and alike in every set."""

    link: str
    title: str
    ids: list[str] = field(default_factory=list)
    names: list[str] = field(default_factory=list)


def _kinds(outcomes: Sequence[Outcome], links: Sequence[str]) -> list[_Kind]:
    """The required checks of all sets in walking order, those that differ by their mount only put together."""
    first: dict[str, Line] = {}
    figures: dict[str, list[object]] = {}
    for at, outcome in enumerate(outcomes):
        for line in outcome.lines:
            if line.required and line.link in links:
                first.setdefault(line.id, line)
                says = (at, line.ending, eta_text(_distance(line), Ending(line.ending), line.eta), _nameless(line)[0])
                figures.setdefault(line.id, []).append(says)
    kinds: dict[object, _Kind] = {}
    for id, line in first.items():
        title, name = _nameless(line)
        key = (line.link, title, tuple(figures[id])) if name else id
        kind = kinds.setdefault(key, _Kind(line.link, title))
        kind.ids.append(id)
        kind.names.append(name)
    for kind in kinds.values():
        kind.title = sentence(kind.title.replace("\0", ", ".join(kind.names)))
    return sorted(kinds.values(), key=lambda k: links.index(k.link))


def _nameless(line: Line) -> tuple[str, str]:
    """The title of a check without the name of its mount, and that name; nothing where it is about no mount."""
    name = line.mount
    if not name or f"mount {name}" not in line.title:
        return line.title, ""
    return line.title.replace(f"mount {name}", "mount \0", 1), name


def _distance(line: Line) -> bool:
    """Whether it is a check of a distance, of which none may be left."""
    return (line.part, line.of) in DISTANCES


def _check_cell(line: Line | None, kind: _Kind, style: str) -> Cell | None:
    if line is None:
        return None
    ending = Ending(line.ending)
    why = in_words(line.reason, style) if line.reason and (ending is Ending.NOT_CHECKED or line.eta is None) else ""
    name = kind.names[0]
    title = sentence(line.title.replace(f"mount {name}", f"mount {', '.join(kind.names)}", 1) if name else line.title)
    notes = [title if title != kind.title else "", why]
    return Cell(eta_text(_distance(line), ending, line.eta), ending, line.eta, "; ".join(n for n in notes if n))


def _link_cell(outcome: Outcome, link: str, style: str) -> Cell | None:
    """A link: the worst of its required checks, and how many of them have no figure."""
    own = [line for line in outcome.lines if line.link == link and line.required]
    if not own:
        return None
    exceeding, unknown = sum(line.exceeds for line in own), [line for line in own if line.unknown]
    ending = Ending.EXCEEDS if exceeding else Ending.NOT_CHECKED if unknown else Ending.WITHIN
    known = [line for line in own if not line.unknown]
    told = f"{len(unknown)} of {len(own)} NOT CHECKED" if unknown else ""
    if not known:
        return Cell("?", ending, None, f"{sentence(unknown[0].title)}; {told}")
    worst = max(known, key=lambda line: line.weight)
    more = f"{exceeding} of {len(own)} EXCEED" if exceeding > 1 else ""
    note = "; ".join(n for n in (sentence(worst.title), more, told) if n)
    return Cell(eta_text(_distance(worst), Ending(worst.ending), worst.eta), ending, worst.eta, note)


# ---------------------------------------------------------------- points


def _point(found: Phone, outcome: Outcome, where: dict[str, int], cells: Sequence[Cell | None]) -> Point:
    command = command_of(found, outcome)
    if outcome.refused:
        file = PurePath(found.result.job.file).name
        text = "REFUSED: the job file does not take this set, and nothing was checked"
        return Point(None, text, (0, 0, 0), None, "", tuple(cells), command, refused=_in_no_folder(outcome.refused, file))
    over, unknown = len(outcome.exceeding), len(outcome.unknown)
    required = sum(line.required for line in outcome.lines)
    ending = Ending.EXCEEDS if over else Ending.NOT_CHECKED if unknown else Ending.WITHIN
    headline = {
        Ending.EXCEEDS: f"EXCEEDS: {over} of {required} required checks" + (f", {unknown} NOT CHECKED" if unknown else ""),
        Ending.NOT_CHECKED: f"NOT CHECKED: {unknown} of {required} required checks; the others are within",
        Ending.WITHIN: f"within, in {required} required checks; an engineer decides",
    }[ending]
    counts = (over, unknown, required - over - unknown)
    line, style = outcome.governing, found.result.job.units
    if line is None:
        return Point(ending, headline, counts, None, "", tuple(cells), command)
    at, beside = in_words(line.where, style), beside_own(found.outcomes[found.own], outcome)
    return Point(ending, headline, counts, where[line.id], sentence(line.title), tuple(cells), command, at, beside)


def _in_no_folder(refused: str, file: str) -> str:
    """A refusal with the name of the job file alone: where it stood when the set was kept is nobody's business."""
    return "\n".join(line[max(line.find(file), 0) :] for line in refused.split("\n"))


def beside_own(own: Outcome, here: Outcome) -> str:
    """How a set stands beside the job as described, counted over the checks that have an answer in both.

    Where the walk gets stuck early, fewer checks exceed because fewer are made: that is said, for it is no better.
    """
    if here is own:
        return ""
    was = {line.id: line for line in own.lines if line.required and not line.unknown}
    now = {line.id: line for line in here.lines if line.required and not line.unknown}
    both = [i for i in was if i in now]
    lost = sum(i in here.by_id and here.by_id[i].unknown for i in was)
    over = [sum(lines[i].exceeds for i in both) for lines in (was, now)]
    said = f"Of {len(both)} required checks made here and as described, {over[1]} exceed here and {over[0]} as described."
    return f"{said} {lost} more were made there and are NOT CHECKED here: fewer that exceed is no gain." if lost else said


def command_of(found: Phone, outcome: Outcome) -> str:
    """The command that prints the whole sheet of a set: every change by its entry, mounts that went along too."""
    job = found.result.job
    changes = dict((*job.changes, *outcome.changes))
    settings = [f"{path}={'none' if value is None else value}" for path, value in changes.items()]
    parts = ["barrier", "check", PurePath(job.file).name, *(p for s in settings for p in ("--set", s))]
    parts += ["--tables", found.folder] if found.folder else []
    return shlex.join(parts)


def stop_text(stop: Stop, style: str) -> str:
    """A stop as a page prints it: a length in the units of the sheet, anything else as the job file would have it.

    What is written in feet and inches already stays so: glass of half an inch is no 0.4724 in, though its table has 12 mm.

    >>> [stop_text(Stop(says, x), "us").replace("\\N{NO-BREAK SPACE}", " ") for says, x in (("1/2 in", 12.0), ("1016 mm", 1016.0))]
    ['1/2 in', '40 in']
    """
    as_written = stop.x is None or (style == "us" and not stop.says.endswith("mm"))
    return stop.says if as_written or stop.x is None else figure(stop.x, "length", style, EXACT, exact=True).text
