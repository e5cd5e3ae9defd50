"""The commands that ask a question of one job and print its page; each has a row in :mod:`barrier.sheet.pages`."""

from __future__ import annotations

from typing import Any

import click

from barrier.cli_out import needs_a_file, own_folder, own_tables, print_, refuse, walked, write

page_format = click.option(
    "--format", "form", type=click.Choice(["text", "markdown", "html", "pdf"]), default="text", show_default=True
)
page_output = click.option("--output", type=click.Path(dir_okay=False), help="Write the page here, whole or not at all.")
settings_option = click.option(
    "--set", "settings", multiple=True, metavar="ENTRY=VALUE", help="Change an entry first; again for more."
)
mounts_option = click.option(
    "--mounts", "rule", default="edge", show_default=True, help="Where mounts go: edge, fraction or fixed."
)


def page_asked(path: str, kind: str, form: str, output: str | None, folder: str | None, *asked: Any, **how: Any) -> Any:
    """Ask a question of one job and print its page; ``asked`` and ``how`` go to who makes it. Returns what was found."""
    from barrier.errors import BarrierError
    from barrier.job import read_job
    from barrier.sheet.pages import named, page_of, written

    needs_a_file(form, output, 1)
    page = page_of(kind)
    try:
        job = read_job(path)
        found = named(page.maker)(job, *asked, tables=own_tables(job, folder), **how)
    except BarrierError as fault:
        refuse(str(fault))
    text = written(page, form, found)
    if output is not None:
        write(output, text, (path,))
    else:
        print_(text)
    return found


@click.command()
@click.argument("job", type=click.Path())
@page_format
@page_output
@own_folder
def ladder(job: str, form: str, output: str | None, folder: str | None) -> None:
    """The same JOB on decking only, on one, two, three loose pieces and on one solid section."""
    page_asked(job, "ladder", form, output, folder)


@click.command()
@click.argument("job", type=click.Path())
@page_format
@page_output
@own_folder
def faults(job: str, form: str, output: str | None, folder: str | None) -> None:
    """The usual mistakes of a site beside the JOB as described, those that hurt most first."""
    page_asked(job, "faults", form, output, folder)


@click.command()
@click.argument("job", type=click.Path())
@click.option("--basis", "bases", default="en,us,au", show_default=True, help="Families of codes, separated by commas.")
@page_format
@page_output
@own_folder
def compare(job: str, bases: str, form: str, output: str | None, folder: str | None) -> None:
    """The same JOB by several families of codes, side by side; no verdict."""
    page_asked(job, "comparison", form, output, folder, [b.strip() for b in bases.split(",") if b.strip()])


@click.command()
@click.argument("job", type=click.Path())
@settings_option
@mounts_option
@page_format
@page_output
@own_folder
def brief(job: str, settings: tuple[str, ...], rule: str, form: str, output: str | None, folder: str | None) -> None:
    """Two pages for the engineer who is asked about the JOB; the full sheet is their appendix."""
    from barrier.errors import BarrierError
    from barrier.sheet.pages import page_of, written

    needs_a_file(form, output, 1)
    try:
        result = walked(job, settings, rule, folder)
    except BarrierError as fault:
        refuse(str(fault))
    text = written(page_of("brief"), form, result)
    if output is not None:
        write(output, text, (job,))
    else:
        print_(text)


@click.command()
@click.argument("job", type=click.Path())
@settings_option
@mounts_option
@click.option("--every", is_flag=True, help="Calculate every set of up to three changes, not only those that could do.")
@page_format
@page_output
@own_folder
def ways(
    job: str, settings: tuple[str, ...], rule: str, every: bool, form: str, output: str | None, folder: str | None
) -> None:  # fmt: skip
    """Which changes leave no required check of the JOB exceeding, and what each must at least be; takes a minute or more."""
    from barrier.ways.runner import counter

    page_asked(job, "ways", form, output, folder, settings, rule=rule, every=every, progress=counter)


@click.command()
@click.argument("job", type=click.Path())
@click.option("--of", "entries", multiple=True, metavar="ENTRY=LOW..HIGH", help="An entry and its range; width and height if none.")
@settings_option
@mounts_option
@click.option("--over-unchecked", is_flag=True, help="Go on although required checks are not made; the page then says so loudly.")
@click.option("--envelope", is_flag=True, help="Width by height of the glass as well.")
@page_format
@page_output
@own_folder
def limits(
    job: str, entries: tuple[str, ...], settings: tuple[str, ...], rule: str, over_unchecked: bool, envelope: bool, form: str,
    output: str | None, folder: str | None,
) -> None:  # fmt: skip
    """For which sizes no required check of the JOB exceeds: every crossing, and what limits next; takes a minute or more."""
    from barrier.ways.runner import counter

    how = {"rule": rule, "over_unchecked": over_unchecked, "envelope": envelope, "progress": counter}
    page_asked(job, "limits", form, output, folder, entries, settings, **how)


@click.command()
@click.argument("job", type=click.Path())
@page_format
@page_output
@own_folder
def ask(job: str, form: str, output: str | None, folder: str | None) -> None:
    """What to measure on site and whom to ask: one page of what the JOB does not know, with room to write."""
    from barrier import sheet
    from barrier.errors import BarrierError
    from barrier.job import read_job
    from barrier.load_path import check as walk

    needs_a_file(form, output, 1)
    try:
        described = read_job(job)
        page = sheet.checklist(walk(described, (), own_tables(described, folder)), form)
    except BarrierError as fault:
        refuse(str(fault))
    if output is not None:
        write(output, page, (job,))
    else:
        print_(page)


COMMANDS: tuple[click.Command, ...] = (ladder, faults, compare, brief, ways, limits, ask)
