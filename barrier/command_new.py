"""The command that writes a job file: asked for from the start, the bundled example, or the gaps of one that is there."""

from __future__ import annotations

from pathlib import Path

import click

from barrier.endings import refuse, write_page

COUNTRIES = ("uk", "us", "australia", "new zealand")  # with a worked example of their own


@click.command()
@click.option("--example", is_flag=True, help="Write the bundled worked example instead of asking.")
@click.option("--country", type=click.Choice(COUNTRIES), help="With --example: the everyday deck of this country.")
@click.argument("file", required=False, default="job.toml", type=click.Path(dir_okay=False))
def new(example: bool, country: str | None, file: str) -> None:
    """Ask what a tape and a look from below tell, and write a commented job FILE (default job.toml).

    On a job file that is there already it asks for the gaps only, and leaves everything else as it is.
    """
    from barrier.job.questions import ask_all
    from barrier.worked import EXAMPLE, OF_A_COUNTRY, example_text

    path = Path(file)
    if country and not example:
        refuse("--country goes with --example: it names whose everyday deck is written; without it you are asked")
    if not file.strip():
        refuse("the name of the file to write is empty; nothing was asked")
    if path.exists() and not example:
        _fill_gaps(file)
        return
    if path.exists():
        refuse(f"{file} is already there; nothing was written. Name another file")
    if not path.parent.is_dir():
        refuse(f"{file} cannot be written: {path.parent} is no folder. Nothing was asked")
    write_page(file, example_text(OF_A_COUNTRY[country] if country else EXAMPLE) if example else ask_all(_prompt, click.echo))
    click.echo(f"{file} is written; next: barrier check {file}")


def _prompt(words: str) -> str:
    return str(click.prompt(words, default="", show_default=False))


def _fill_gaps(file: str) -> None:
    """Ask for what a job file calls unknown or assumed, and write the answers into it."""
    from barrier.errors import BarrierError
    from barrier.job import read_job
    from barrier.job.gaps import ask_gaps, gaps

    try:
        job = read_job(file)
    except BarrierError as fault:
        refuse(f"{file} is already there and is no job that could be completed; nothing was written. Name another file\n{fault}")
    found = len(gaps(job))
    if not found:
        refuse(f"{file} is already there, and nothing in it is unknown or assumed; nothing was asked. Name another file")
    click.echo(f"{file} is a job already; {found} of its entries are unknown or assumed. Press Enter to leave one as it is.")
    text = ask_gaps(job, _prompt, click.echo)
    if text.encode() == job.text:
        click.echo(f"{file} is left as it was")
        return
    write_page(file, text)
    click.echo(f"{file} is written; next: barrier check {file}")
