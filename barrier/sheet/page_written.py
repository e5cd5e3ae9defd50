"""A page of the list written in the form that was asked for, with what it carries to be made again."""

from __future__ import annotations

from typing import Any

from barrier.sheet.pages import AGAIN, Page, named


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
