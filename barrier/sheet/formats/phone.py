"""The page with sliders: one HTML file that shows one set of a grid of checks at a time, and asks nothing of anybody.

It is written as the job stands, so that it says something where scripts are off. The script beside the data only picks what was
worked out and worded here: it adds no number and no word of the job as markup. The policy of the page lets that one script run, by
its digest, and nothing else, whatever stands in the job.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Iterator, Sequence
from functools import cache
from importlib.resources import files

from barrier.result import Ending
from barrier.sheet.content import caution
from barrier.sheet.content.grid import Cell, Grid, Point, Row, grid_of, stop_text
from barrier.sheet.content.short import required_beside, sentence
from barrier.sheet.drawings.case import Cases
from barrier.sheet.drawings.svg import PAINT
from barrier.sheet.formats.html_blocks import CLASS, length, loud, paints, words
from barrier.sheet.numbers import ending_text
from barrier.sheet.plain_words import printable
from barrier.ways.axes import Axis
from barrier.ways.phone import Phone

KICKER = "Glass barrier, set by set"
STRIP = "Figures to talk over with an engineer: no design, no permit. Do not build from them."
SIGNS = {"EXCEEDS": "▲", "NOT CHECKED": "?", "within": "○", "": "×"}  # marks of the stops; the last where the job file refuses
CODES = {Ending.EXCEEDS: 0, Ending.NOT_CHECKED: 1, Ending.WITHIN: 2, None: 3}
_NUMBER = re.compile(r"(\d+(?:\.\d+)?)")


def rendered(found: Phone, title: str) -> str:
    """The whole page.

    Arguments: ``found`` the grid of checks; ``title`` of the page, text of any origin. Returns the page with a line end at its end;
    the same grid gives the same bytes.
    """
    grid = grid_of(found)
    pictures = _pictures(found)
    script, data = _script(), _data(found, grid, pictures)
    body = "\n".join(_body(found, grid, pictures, title))
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_policy(script)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n<meta name="color-scheme" content="light dark">\n'
        '<meta name="format-detection" content="telephone=no">\n'
        f"<title>{words(title)}</title>\n<style>\n{_style()}</style>\n</head>\n<body>\n{body}\n"
        f'<script type="application/json" id="grid">{data}</script>\n<script>{script}</script>\n</body>\n</html>\n'
    )


def _policy(script: str) -> str:
    digest = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
    return f"default-src 'none'; script-src 'sha256-{digest}'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"


@cache
def _script() -> str:
    return (files("barrier.sheet.formats") / "phone.js").read_text(encoding="utf-8")


@cache
def _style() -> str:
    room = files("barrier.sheet.formats")
    style = (room / "page.css").read_text(encoding="utf-8").replace("/* PAINTS */\n", paints())
    style = "\n".join(line for line in style.splitlines() if "FONT_DATA" not in line)
    lines = (style + (room / "phone.css").read_text(encoding="utf-8")).splitlines()
    return "\n".join(line.strip() for line in lines if line.strip()) + "\n"


# ---------------------------------------------------------------- what the script picks from


class _Texts:
    """Texts by number, each once."""

    def __init__(self) -> None:
        self.numbers: dict[object, int] = {}

    def __call__(self, text: object) -> int:
        return self.numbers.setdefault(text, len(self.numbers))

    @property
    def all(self) -> list[object]:
        return list(self.numbers)


class _Pieces:
    """Long texts that are much alike, as lines each kept once; lines that differ in their numbers only as a pattern and numbers.

    A shape that does not change from set to set is then kept once, and one that moves costs its numbers.
    """

    def __init__(self) -> None:
        self.patterns, self.lines, self.made = _Texts(), _Texts(), _Texts()

    def __call__(self, text: str) -> int:
        return self.made(" ".join(str(self._line(line)) for line in text.split("\n")))

    def _line(self, line: str) -> int:
        parts = _NUMBER.split(line)
        return self.lines((self.patterns(tuple(parts[::2])), " ".join(parts[1::2])))

    def written(self) -> dict[str, object]:
        """As the script puts them together again."""
        return {"patterns": self.patterns.all, "lines": self.lines.all, "made": self.made.all}


def _data(found: Phone, grid: Grid, pictures: Sequence[tuple[str, str] | None]) -> str:
    """The grid as JSON that may stand in an element of script: no ``<`` is in it."""
    style = found.result.job.units
    cells, texts, drawn = _Texts(), _Texts(), _Pieces()
    points = []
    for p, picture in zip(grid.points, pictures, strict=True):
        row = [-1 if c is None else cells((c.text, CODES[c.ending], _share(c), texts(printable(c.note)))) for c in p.cells]
        points.append({
            "ending": CODES[p.ending], "headline": texts(p.headline), "counts": p.counts, "governs": p.governs,
            "governing": texts(printable(p.governing)), "cells": row, "command": drawn(printable(p.command)),
            "refused": texts(printable(p.refused)), "where": texts(printable(p.where)), "beside": texts(p.beside),
            "drawings": None if picture is None else [drawn(svg) for svg in picture],
        })  # fmt: skip
    axes = [
        {"title": printable(a.title), "stops": [printable(stop_text(s, style)) for s in a.stops], "own": a.own} for a in found.axes
    ]
    data = {
        "axes": axes, "cells": cells.all, "texts": texts.all, "pieces": drawn.written(), "points": points,
        "classes": [_class(e) for e in CODES], "words": [_word(e) for e in CODES], "signs": [SIGNS[_word(e)] for e in CODES],
    }  # fmt: skip
    return json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")


def _word(ending: Ending | None) -> str:
    return "" if ending is None else ending_text(ending)


def _class(ending: Ending | None) -> str:
    return "refused" if ending is None else CLASS[ending_text(ending)]


def _share(cell: Cell) -> float | None:
    """How long a bar is, percent; None for one that is broken or has no figure."""
    return None if cell.eta is None else round(length(cell.eta), 1)


def _pictures(found: Phone) -> list[tuple[str, str] | None]:
    """Elevation and section of every set, None where the job file refuses it."""
    job = found.result.job
    jobs = [None if o.refused else job.with_(dict(o.changes)) for o in found.outcomes]
    cases = Cases([j for j in jobs if j is not None], found.result.tables)
    made = [None if j is None else (cases.elevation(j), cases.section(j)) for j in jobs]
    return [None if m is None else (_as_xml(m[0].svg, m[0].alt), _as_xml(m[1].svg, m[1].alt)) for m in made]


def _as_xml(svg: str, alt: str) -> str:
    """A picture that a parser of XML reads: named by its words, painted by the style of the page."""
    body = re.sub(r' data-(?:what|units-per-mm)="[^"]*"', "", svg[svg.index("<svg") :])
    for name, paint in PAINT.items():
        body = re.sub(rf'(class="{name}"[^>]*?) {re.escape(paint)}', r"\1", body)
    return body.replace("<svg ", f'<svg role="img" aria-label="{words(alt)}" ', 1).strip()


# ---------------------------------------------------------------- the page as the job stands


def _body(found: Phone, grid: Grid, pictures: Sequence[tuple[str, str] | None], title: str) -> Iterator[str]:
    own, job = grid.points[found.own], found.result.job
    yield '<a class="skip" href="#answer">Skip to the answer</a>'
    yield f'<div class="strip" role="note" aria-label="Caution"><strong>{caution.TITLE}</strong> {words(STRIP)}</div>'
    yield f'<div class="page"><header><p class="kicker">{KICKER}</p><h1>{words(title)}</h1></header>\n<main>'
    yield (
        f'<p class="lead">{len(grid.points)} sets, each really checked: '
        "<strong>nothing between two stops is shown or guessed</strong>.</p>"
    )
    yield (
        '<noscript><p class="off">The sliders need JavaScript, which is off here: a browser has it, some previews of mail and '
        "files have none. What follows is the job as described.</p></noscript>"
    )
    yield _sliders(found.axes, grid, job.units)
    yield '<div class="shown">'
    yield _answer(own, ", ".join(f"{a.title} {stop_text(a.stops[a.own], job.units)}" for a in found.axes))
    yield _drawings(pictures[found.own])
    yield _links(own, grid.rows)
    yield "</div>"
    yield from _beside(found, own)
    yield "</main></div>"


def _sliders(axes: Sequence[Axis], grid: Grid, style: str) -> str:
    rows = []
    for i, axis in enumerate(axes):
        last, text = len(axis.stops) - 1, words(stop_text(axis.stops[axis.own], style))
        nudge = f'<button type="button" class="nudge" data-axis="{i}" aria-label="{words(axis.title)}: one stop '
        marks = "".join(f'<span style="--at:{j / last:.4f}"></span>' for j in range(last + 1))
        rows.append(
            f'<div class="slider">{nudge}back" data-by="-1">−</button>'
            f'<div class="name"><label for="axis-{i}">{words(sentence(axis.title))}</label>'
            f'<span class="value" id="says-{i}" aria-hidden="true">{text}</span></div>'
            f'<input type="range" id="axis-{i}" min="0" max="{last}" step="1" value="{axis.own}" aria-valuetext="{text}">'
            f'<div class="marks" id="marks-{i}" aria-hidden="true">{marks}</div>{nudge}on" data-by="1">+</button></div>'
        )
    told = [e for e in CODES if any(p.ending is e for p in grid.points)]
    key = " ".join(f"<span class={_class(e)}><b>{SIGNS[_word(e)]}</b> {_word(e) or 'refused'}</span>" for e in told)
    return (
        f'<form class="sliders" id="sliders" hidden aria-label="Sliders"><div class="all">{"".join(rows)}</div><p class="key">'
        f'<span class="keys" aria-hidden="true">{key}</span><button type="button" id="back">back to the job</button></p></form>'
        '<p class="hidden" id="said" role="status" aria-live="polite"></p>'
    )


def _answer(point: Point, named: str) -> str:
    over, unknown, within = point.counts
    cell = None if point.governs is None else point.cells[point.governs]
    governs = "" if cell is None else f"{words(point.governing)}"
    return (
        f'<section id="answer" class="{_class(point.ending)}" aria-labelledby="headline" tabindex="-1">'
        f'<p id="set">{words(named)}</p><h2 id="headline">{loud(point.headline)}</h2>'
        f'<p id="refusal"{"" if point.refused else " hidden"}>{words(point.refused)}</p>'
        f'<dl class="counts" id="counts"{" hidden" if point.refused else ""}>'
        f"<div class=exceeds><dt>▲ EXCEEDS</dt><dd>{over}</dd></div>"
        f"<div class=unknown><dt>? NOT CHECKED</dt><dd>{unknown}</dd></div>"
        f"<div class=within><dt>○ within</dt><dd>{within}</dd></div></dl>"
        f'<p id="beside"{"" if point.beside else " hidden"}>{loud(point.beside)}</p>'
        f'<div id="governs" class="check governs {_class(cell.ending if cell else point.ending)}"{"" if cell else " hidden"}>'
        f'<div class="name"><strong class="mark">► GOVERNS </strong><span class="title">{governs}</span></div>'
        f'{_bar(cell)}<div class="note" id="where"{"" if point.where else " hidden"}>{words(point.where)}</div></div></section>'
    )


def _bar(cell: Cell | None) -> str:
    """Bar, figure and ending; the script sets the same parts."""
    share = None if cell is None else _share(cell)
    ending = None if cell is None else cell.ending
    broken = ending is Ending.EXCEEDS and share is None
    unknown = cell is not None and share is None and not broken
    style = "" if share is None else f' style="width: {share:g}%;"'
    return (
        f'<div class="bar{" broken" if broken else ""}" aria-hidden="true"><span{style}{" hidden" if unknown else ""}></span>'
        f"<span{'' if broken else ' hidden'}></span><b{' hidden' if broken else ''}></b><i>{'? ? ?' if unknown else ''}</i></div>"
        f'<div class="eta">{"" if cell is None else words(cell.text)}</div><div class="ending">{words(_word(ending))}</div>'
    )


def _drawings(pair: tuple[str, str] | None) -> str:
    made = pair or ("", "")
    return (
        '<section class="drawings" id="drawings" aria-label="Drawings"><figure id="drawing-0">'
        f"{made[0]}<figcaption>The panel from the people side, to scale</figcaption></figure>"
        f'<figure id="drawing-1">{made[1]}<figcaption>Across the glass, through its first mount</figcaption></figure></section>'
    )


def _links(point: Point, rows: Sequence[Row]) -> str:
    out = ['<section id="links" aria-labelledby="h-links"><h2 id="h-links">Every link, from the hand down to the joist</h2>']
    out.append('<p class="quiet">The worst of each link; open one for its required checks. The stroke stands at 1.00.</p>')
    opened = False
    for i, (row, cell) in enumerate(zip(rows, point.cells, strict=True)):
        if not row.check:
            out += ["</ul></details>"] if opened else []
            opened = True
            classes = _classes("check link", point, i, cell)
            mark = "► " if point.governs is not None and rows[point.governs].link == row.link else ""
            out.append(
                f'<details{" hidden" if cell is None else ""} data-row="{i}" class="{classes}"><summary><div class="name">'
                f'<span class="count">{row.number}</span> <span class="mark">{mark}</span>{words(row.title)}</div>'
                f"{_bar(cell)}{_note(cell)}</summary><ul>"
            )
            continue
        mark = "► GOVERNS " if i == point.governs else ""
        out.append(
            f'<li{" hidden" if cell is None else ""} data-row="{i}" class="{_classes("check", point, i, cell)}"><div class="name">'
            f'<strong class="mark">{mark}</strong>{words(row.title)}</div>{_bar(cell)}{_note(cell)}</li>'
        )
    out += ["</ul></details>"] if opened else []
    return "".join(out) + "</section>"


def _classes(base: str, point: Point, i: int, cell: Cell | None) -> str:
    governs = " governs" if i == point.governs else ""
    return f"{base} {_class(cell.ending if cell else None)}{governs}"


def _note(cell: Cell | None) -> str:
    text = "" if cell is None else cell.note
    return f'<div class="note"{"" if text else " hidden"}>{loud(text)}</div>'


def _beside(found: Phone, own: Point) -> Iterator[str]:
    """What stands below whatever is shown: the command, the caution, what the page does not say."""
    job, result = found.result.job, found.result
    yield (
        '<section aria-labelledby="h-same"><h2 id="h-same">The same as a whole sheet</h2>'
        f"<p>Every step, source and assumption behind the figures shown now:</p>"
        f'<div class="scroll" tabindex="0" role="region" aria-label="Command"><code id="command">'
        f"{words(own.command)}</code></div></section>"
    )
    first, *more = (words(text) for text in caution.first(job.units).paragraphs)
    body = f'<p class="first">{first}</p>' + "".join(f"<p>{text}</p>" for text in more)
    yield f'<div class="caution" role="note"><h2>{caution.TITLE}</h2>{body}</div>'
    told = [("Job", job.title), *([("Mind", "everything in this job is invented")] if job.invented else [])]
    told += [("Not on this page", "checks that only inform, assumptions, what this tool never checks: see the whole sheet")]
    if others := required_beside(result):
        names = "; ".join(w.situation.name for w in others)
        told.append(("Required too", f"only the job as described is checked in each set. On the whole sheet as well: {names}"))
    told += [("Mounts", found.rule)] if found.rule else []
    told.append(("Fingerprints", f"job {job.fingerprint()}, tables {result.tables.fingerprint()}"))
    rows = "".join(f"<div><dt>{words(k)}</dt><dd>{loud(v)}</dd></div>" for k, v in told)
    yield f'<section aria-labelledby="h-about"><h2 id="h-about">About this page</h2><dl>{rows}</dl></section>'
