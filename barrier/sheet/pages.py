"""The pages this tool makes, one row a page: its command, maker, content, titles, words, and how it is verified.

A page is a module with a ``..._content`` function and a row here. The command line, the notebook, ``verify`` and the tests walk the
rows. Everything is named by its place and loaded when it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any

AGAIN = "made again from the job it carries and compared"
FORMS = ("text", "markdown", "html", "pdf")


@dataclass(frozen=True, slots=True)
class Page:
    """One page.

    ``command`` on the command line; ``name`` its writers are called by (``ladder_text``); ``maker`` of what it shows, called
    with a job and tables; ``content`` of that as blocks; ``title`` of the document, with the title of the job in it; ``words``
    what it is, for the help and the README; ``verified`` how ``barrier verify`` looks at it: :data:`AGAIN`, or why it does not.
    ``page_title`` of the HTML page where it is another. ``plain``: it wants a JOB and nothing else, and its command is made of
    this row. ``html`` who writes that page, from what its maker returned and its title, where it is more than its content.
    """

    command: str
    name: str
    maker: str
    content: str
    title: str
    words: str
    verified: str = AGAIN
    page_title: str = ""
    plain: bool = False
    html: str = ""

    @property
    def opening(self) -> str:
        """What the heading of the page begins with, in small letters: by it a page of text is known."""
        return self.title.partition("{")[0].rstrip(": ").casefold()


_NOT_AGAIN = "not looked at: it stands on {}; verify the sheet of the job it names"
PAGES: tuple[Page, ...] = (
    Page(
        "check", "check", "barrier.load_path:check", "barrier.sheet.content:content", "{title}",
        "the calculation sheet: every link from the hand to the joist",
    ),
    Page(
        "ladder", "ladder", "barrier.study:ladder", "barrier.sheet.studies.ladder:ladder_content", "The ladder: {title}",
        "the same JOB on decking only, on one, two, three loose pieces and on one solid section", page_title="{title}",
        plain=True,
    ),
    Page(
        "faults", "faults", "barrier.study:faults", "barrier.sheet.studies.faults:faults_content", "Faults of the site: {title}",
        "the usual mistakes of a site beside the JOB as described, those that hurt most first", page_title="{title}",
        plain=True,
    ),
    Page(
        "compare", "comparison", "barrier.compare:compare", "barrier.sheet.content.comparison:comparison_content",
        "Side by side: {title}", "the same JOB by several families of codes, side by side; no verdict",
        _NOT_AGAIN.format("a choice of bases that it does not carry"),
    ),
    Page(
        "check --set", "what_if", "barrier.ways.what_if:what_if", "barrier.sheet.studies.what_if:what_if_content",
        "What if: {title}", "the JOB with entries changed, before and after side by side",
        _NOT_AGAIN.format("changes that only their own sheet carries"),
    ),
    Page(
        "brief", "brief", "barrier.ways.brief:brief", "barrier.sheet.studies.brief:brief_content", "For the engineer: {title}",
        "two pages for the engineer who is asked about the JOB; the full sheet is their appendix",
        _NOT_AGAIN.format("the full sheet and carries none of its own"),
    ),
    Page(
        "ask", "checklist", "barrier.load_path:check", "barrier.sheet.studies.checklist:checklist_content",
        "To measure and to ask: {title}", "what to measure on site and whom to ask: what the JOB does not know, with room to write",
        _NOT_AGAIN.format("the gaps of the job and carries none of it"), plain=True,
    ),
    Page(
        "ways", "ways", "barrier.ways.ways:ways", "barrier.sheet.studies.ways:ways_content", "Ways out: {title}",
        "which changes leave no required check of the JOB exceeding, what each must at least be, and what cannot help",
        _NOT_AGAIN.format("some hundred walks of changed jobs"),
    ),
    Page(
        "limits", "limits", "barrier.ways.limits:limits", "barrier.sheet.studies.limits:limits_content", "Limits: {title}",
        "for which width, height and glass no required check of the JOB exceeds; every crossing, and what limits next",
        _NOT_AGAIN.format("some hundred walks of changed jobs"),
    ),
    Page(
        "phone", "phone", "barrier.ways.phone:phone", "barrier.sheet.studies.phone:phone_content", "For the phone: {title}",
        "one page with sliders over two or three entries of the JOB, on sets that were all checked; for a phone, without a network",
        _NOT_AGAIN.format("some hundred walks of changed jobs"), page_title="{title}", html="barrier.sheet.formats.phone:rendered",
    ),
)  # fmt: skip


def page_of(name: str) -> Page:
    """The row of a page by its name or its command. Raises KeyError."""
    return next((p for p in PAGES if name in (p.name, p.command)), None) or _none(name)


def _none(name: str) -> Page:
    raise KeyError(f"there is no page {name!r}; there are {', '.join(p.name for p in PAGES)}")


def named(place: str) -> Callable[..., Any]:
    """What stands at ``module:name``."""
    module, _, name = place.partition(":")
    found: Callable[..., Any] = getattr(import_module(module), name)
    return found


def written(page: Page, form: str, subject: Any) -> str | bytes:
    """A page in a form: "text", "markdown", "html" or "pdf"; ``subject`` is what its maker returned."""
    from barrier.sheet.source import embedded

    result = getattr(subject, "result", subject)
    html_title = (page.page_title or page.title).format(title=result.job.title)
    if form == "html" and page.html:
        own: str = named(page.html)(subject, html_title)
        return own
    content = named(page.content)(subject)
    title = page.title.format(title=result.job.title)
    again = page.verified == AGAIN
    if form == "pdf":
        from barrier.sheet.formats import pdf

        return pdf.rendered_for(result, content, title, page.name) if again else pdf.rendered(content, title)
    if form == "html":
        from barrier.sheet.formats.html import rendered

        return rendered(content, html_title, embedded(result, page.name)) if again else rendered(content, html_title)
    if form == "markdown":
        from barrier.sheet.formats.markdown import rendered as in_markdown

        return in_markdown(content, html_title)
    from barrier.sheet.formats.text import rendered as in_text

    return in_text(content)
