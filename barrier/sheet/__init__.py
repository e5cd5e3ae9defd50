"""The writing: one content made of blocks, several renderers. Only this floor formats a number.

Text, Markdown, HTML and JSON; each is loaded when it is asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barrier.compare import Comparison
    from barrier.load_path import Result
    from barrier.study import Study
    from barrier.whole_run import CheckedRun


def text(result: Result) -> str:
    """The calculation sheet as plain text, 100 columns wide, ready to print.

    Argument: ``result`` of :func:`barrier.load_path.check`. Returns the whole sheet with a line end at its end; the
    same result gives the same bytes.
    """
    from barrier.sheet.content import content
    from barrier.sheet.formats.text import rendered

    return rendered(content(result))


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


def ladder_pdf(study: Study) -> bytes:
    """The ladder of blocking as PDF; ``study`` as :func:`barrier.study.ladder` returns it."""
    from barrier.sheet.formats.pdf import rendered_for
    from barrier.sheet.studies import ladder_content

    return rendered_for(study.result, ladder_content(study), f"The ladder: {study.result.job.title}", "ladder")


def faults_pdf(study: Study) -> bytes:
    """The faults of the site as PDF; ``study`` as :func:`barrier.study.faults` returns it."""
    from barrier.sheet.formats.pdf import rendered_for
    from barrier.sheet.studies import faults_content

    return rendered_for(study.result, faults_content(study), f"Faults of the site: {study.result.job.title}", "faults")


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


def first_page(subject: Result | Study) -> str:
    """What a notebook shows of a result (caution to exclusions) or of a study (all of it), as an element of HTML."""
    from barrier.load_path import Result as Checked
    from barrier.sheet import studies
    from barrier.sheet.content import content
    from barrier.sheet.content.calculation import TITLE
    from barrier.sheet.formats.html import in_a_frame

    if isinstance(subject, Checked):
        return in_a_frame(content(subject), subject.job.title, TITLE)
    written = studies.ladder_content if subject.kind == "ladder" else studies.faults_content
    return in_a_frame(written(subject), subject.result.job.title)


def comparison_text(found: Comparison) -> str:
    """Several bases side by side as plain text; ``found`` as :func:`barrier.compare.compare` returns it."""
    from barrier.sheet.content.comparison import comparison_content
    from barrier.sheet.formats.text import rendered

    return rendered(comparison_content(found))


def comparison_html(found: Comparison) -> str:
    """Several bases side by side as one HTML file; ``found`` as :func:`barrier.compare.compare` returns it."""
    from barrier.sheet.content.comparison import comparison_content
    from barrier.sheet.formats.html import rendered

    return rendered(comparison_content(found), f"Side by side: {found.own.job.title}")


def comparison_markdown(found: Comparison) -> str:
    """Several bases side by side as Markdown; ``found`` as :func:`barrier.compare.compare` returns it."""
    from barrier.sheet.content.comparison import comparison_content
    from barrier.sheet.formats.markdown import rendered

    return rendered(comparison_content(found), f"Side by side: {found.own.job.title}")


def comparison_pdf(found: Comparison) -> bytes:
    """Several bases side by side as PDF; ``found`` as :func:`barrier.compare.compare` returns it."""
    from barrier.sheet.content.comparison import comparison_content
    from barrier.sheet.formats.pdf import rendered

    return rendered(comparison_content(found), f"Side by side: {found.own.job.title}")


def checklist(result: Result, form: str) -> str | bytes:
    """What to measure on site and whom to ask, one page with room to write.

    Arguments: ``result`` of :func:`barrier.load_path.check`; ``form`` text, markdown, html or pdf. Returns the page.
    """
    from barrier.sheet.formats import html, markdown, pdf, text
    from barrier.sheet.studies.checklist import checklist_content

    made, title = checklist_content(result), f"To measure and to ask: {result.job.title}"
    if form == "pdf":
        return pdf.rendered(made, title)
    if form == "html":
        return html.rendered(made, title)
    return markdown.rendered(made, title) if form == "markdown" else text.rendered(made)


def ladder_text(study: Study) -> str:
    """The ladder of blocking as plain text; ``study`` as :func:`barrier.study.ladder` returns it."""
    from barrier.sheet.formats.text import rendered
    from barrier.sheet.studies import ladder_content

    return rendered(ladder_content(study))


def faults_text(study: Study) -> str:
    """The faults of the site as plain text; ``study`` as :func:`barrier.study.faults` returns it."""
    from barrier.sheet.formats.text import rendered
    from barrier.sheet.studies import faults_content

    return rendered(faults_content(study))


def ladder_html(study: Study) -> str:
    """The ladder of blocking as one HTML file; ``study`` as :func:`barrier.study.ladder` returns it."""
    from barrier.sheet.formats.html import rendered
    from barrier.sheet.source import embedded
    from barrier.sheet.studies import ladder_content

    return rendered(ladder_content(study), study.result.job.title, embedded(study.result, "ladder"))


def ladder_markdown(study: Study) -> str:
    """The ladder of blocking as Markdown; ``study`` as :func:`barrier.study.ladder` returns it."""
    from barrier.sheet.formats.markdown import rendered
    from barrier.sheet.studies import ladder_content

    return rendered(ladder_content(study), study.result.job.title)


def faults_html(study: Study) -> str:
    """The faults of the site as one HTML file; ``study`` as :func:`barrier.study.faults` returns it."""
    from barrier.sheet.formats.html import rendered
    from barrier.sheet.source import embedded
    from barrier.sheet.studies import faults_content

    return rendered(faults_content(study), study.result.job.title, embedded(study.result, "faults"))


def faults_markdown(study: Study) -> str:
    """The faults of the site as Markdown; ``study`` as :func:`barrier.study.faults` returns it."""
    from barrier.sheet.formats.markdown import rendered
    from barrier.sheet.studies import faults_content

    return rendered(faults_content(study), study.result.job.title)


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


def run_pdf(run: CheckedRun) -> bytes:
    """The paper of a whole run as PDF; ``run`` as :func:`barrier.whole_run.check_run` returns it."""
    from barrier.sheet.formats.pdf import rendered
    from barrier.sheet.runs.content import run_content, title

    return rendered(run_content(run), title(run.laid))


__all__ = [
    "comparison_html",
    "comparison_markdown",
    "comparison_pdf",
    "comparison_text",
    "faults_html", "faults_markdown", "faults_pdf", "faults_text", "first_page", "html", "json_text", "ladder_html",
    "ladder_markdown", "ladder_pdf", "ladder_text", "markdown", "pdf", "run_html", "run_markdown", "run_pdf", "run_text", "text",
]  # fmt: skip
