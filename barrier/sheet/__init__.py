"""The writing: one content made of blocks, several renderers. Only this floor formats a number.

Text, Markdown, HTML and JSON; each is loaded when it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from barrier.load_path import Result
    from barrier.whole_run import CheckedRun


def text(result: Result) -> str:
    """The calculation sheet as plain text, 100 columns wide, ready to print.

    Argument: ``result`` of :func:`barrier.load_path.check`. Returns the whole sheet with a line end at its end; the
    same result gives the same bytes.
    """
    from barrier.sheet.content import content
    from barrier.sheet.formats.text import rendered

    return rendered(content(result))


def short_text(result: Result) -> str:
    """The short answer as plain text: what a reader at a terminal wants first, and how to get the rest."""
    from barrier.sheet.content.at_a_terminal import short_content
    from barrier.sheet.formats.text import rendered

    return rendered(short_content(result))


def json_text(result: Result) -> str:
    """The result as JSON with stable, versioned keys; numbers in N, mm, MPa, rad with seven significant digits.

    Argument: ``result`` of :func:`barrier.load_path.check`. Returns the text; see :mod:`barrier.sheet.formats.json` for the keys.
    """
    from barrier.sheet.formats.json import json_text as written

    return written(result)


def pdf(result: Result) -> bytes:
    """The calculation sheet as PDF, A4, tagged, with the job file attached; same result, same bytes.

    Argument: ``result`` of :func:`barrier.load_path.check`. Returns the bytes of the file. Its keywords and its foot carry
    the fingerprints of job and tables.
    """
    from barrier.sheet.content import content
    from barrier.sheet.formats.pdf import rendered_for

    return rendered_for(result, content(result), result.job.title)


def html(result: Result) -> str:
    """The calculation sheet as one HTML file: no network, no script; for a phone, a desk and a printer.

    Argument: ``result`` of :func:`barrier.load_path.check`. Returns the page, with the job and the reader's tables in it as data
    for ``barrier verify``; the same result gives the same bytes.
    """
    from barrier.sheet.content import content
    from barrier.sheet.formats.html import rendered
    from barrier.sheet.source import embedded

    return rendered(content(result), result.job.title, embedded(result))


def markdown(result: Result) -> str:
    """The calculation sheet as Markdown with LaTeX mathematics; ``result`` of :func:`barrier.load_path.check`."""
    from barrier.sheet.content import content
    from barrier.sheet.formats.markdown import rendered

    return rendered(content(result), result.job.title)


def first_page(subject: Any) -> str:
    """What a notebook shows of a result (caution to exclusions) or of a study (all of it), as an element of HTML."""
    from barrier.load_path import Result as Checked
    from barrier.sheet.content import content
    from barrier.sheet.content.calculation import TITLE
    from barrier.sheet.formats.html import in_a_frame
    from barrier.sheet.pages import named, page_of

    if isinstance(subject, Checked):
        return in_a_frame(content(subject), subject.job.title, TITLE)
    return in_a_frame(named(page_of(subject.kind).content)(subject), subject.result.job.title)


def __getattr__(name: str) -> Callable[[Any], str | bytes]:
    """The writers of every other page by name, ``ladder_text``, ``faults_pdf``: see :mod:`barrier.sheet.pages`."""
    pages = import_module("barrier.sheet.pages")  # not "from": that would ask here again

    of, _, form = name.rpartition("_")
    page = next((p for p in pages.PAGES if p.name == of and of != "check" and form in pages.FORMS), None)
    if page is None:
        raise AttributeError(f"module 'barrier.sheet' has no attribute {name!r}")
    return partial(pages.written, page, form)


def run_text(run: CheckedRun) -> str:
    """The paper of a whole run as plain text; ``run`` as :func:`barrier.whole_run.check_run` returns it."""
    from barrier.sheet.formats.text import rendered
    from barrier.sheet.runs.content import run_content

    return rendered(run_content(run))


def run_html(run: CheckedRun) -> str:
    """The paper of a whole run as one HTML file; ``run`` as :func:`barrier.whole_run.check_run` returns it."""
    from barrier.sheet.formats.html import rendered
    from barrier.sheet.runs.content import run_content, title

    return rendered(run_content(run), title(run.laid))


def run_markdown(run: CheckedRun) -> str:
    """The paper of a whole run as Markdown; ``run`` as :func:`barrier.whole_run.check_run` returns it."""
    from barrier.sheet.formats.markdown import rendered
    from barrier.sheet.runs.content import run_content, title

    return rendered(run_content(run), title(run.laid))


def run_pdf(run: CheckedRun, paper: str = "a4") -> bytes:
    """The paper of a whole run as PDF for the site, plans to scale; ``run`` as :func:`barrier.whole_run.check_run` returns it,
    ``paper`` "a4" or "a3"."""
    from barrier.sheet.formats.pdf import rendered
    from barrier.sheet.runs.content import run_content, title

    return rendered(run_content(run, paper), title(run.laid))


__all__ = [
    "first_page", "html", "json_text", "markdown", "pdf", "run_html", "run_markdown", "run_pdf", "run_text", "short_text", "text",
]  # fmt: skip
