"""The command that makes the page for the phone: a grid of checks, kept as it is made, so that one that was stopped goes on."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from concurrent.futures import Executor
from pathlib import Path
from typing import TYPE_CHECKING

import click

from barrier.endings import on_a_terminal, print_page, refuse, write_page

if TYPE_CHECKING:
    from barrier.tables import Tables

PART = ".sets"  # behind the name of the page: what is kept of its sets until it is written


@click.command()
@click.argument("job", type=click.Path())
@click.option(
    "--over", multiple=True, metavar="ENTRY[=VALUES]",
    help="A slider: an entry with LOW..HIGH step STEP or values with commas; or glass, mounts, pieces. Up to three; those if none.",
)  # fmt: skip
@click.option("--set", "settings", multiple=True, metavar="ENTRY=VALUE", help="Change an entry first; again for more.")
@click.option("--mounts", "rule", default="edge", show_default=True, help="Where mounts go: edge, fraction or fixed.")
@click.option("--output", type=click.Path(dir_okay=False), help="Write the page here, whole or not at all.")
@click.option("--kept", type=click.Path(dir_okay=False), help="Keep the sets in this file for good; none in it is checked again.")
@click.option("--processes", type=click.IntRange(1, 64), default=1, show_default=True, help="How many of them check at once.")
@click.option("--tables", "folder", type=click.Path(), help="Folder of your own tables, over those the job names.")
def phone(
    job: str, over: tuple[str, ...], settings: tuple[str, ...], rule: str, output: str | None, kept: str | None, processes: int,
    folder: str | None,
) -> None:  # fmt: skip
    """One HTML page for a phone: sliders over two or three entries of the JOB, on sets that were all checked; takes half a minute.

    A slider stops at sets that were checked and nowhere else. The page needs no network: send it, save it, open it.
    """
    from barrier.errors import BarrierError
    from barrier.job import read_job
    from barrier.sheet.pages import page_of, written
    from barrier.ways.phone import phone as made
    from barrier.ways.runner import bar

    if output is None and on_a_terminal():
        refuse("the page needs a file to stand in: add --output FILE.html")
    for place in (output, kept):
        if place is not None:
            _could_be_written(place, job)
    file = kept if kept is not None else None if output is None else output + PART
    try:
        with _workers(processes) as executor:
            found = made(
                read_job(job), over, settings, rule=rule, tables=_own_tables(job, folder), executor=executor, file=file,
                progress=bar, folder=folder or "",
            )  # fmt: skip
    except BarrierError as fault:
        refuse(str(fault))
    page = written(page_of("phone"), "html", found)
    if output is None:
        print_page(page)
        return
    write_page(output, page, (job,))
    if kept is None:
        Path(output + PART).unlink(missing_ok=True)
    click.echo(f"{output} is written: {len(found.outcomes)} sets, each checked; it opens without a network", err=True)


def _could_be_written(name: str, job: str) -> None:
    """Refuse a place that could not be written, or that a job file stands in, before half a minute of work is done for it."""
    place = Path(name)
    its_own = place.exists() and Path(job).exists() and place.samefile(job)
    if not name.strip() or place.is_dir() or not place.parent.is_dir() or place.suffix.lower() == ".toml" or its_own:
        write_page(name, "", (job,))  # says why


@contextlib.contextmanager
def _workers(processes: int) -> Iterator[Executor | None]:
    """So many processes to check in, none for one; where the work is stopped, what has not begun is not begun."""
    if processes == 1:
        yield None
        return
    from concurrent.futures import ProcessPoolExecutor

    executor = ProcessPoolExecutor(processes)
    try:
        yield executor
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


def _own_tables(job: str, folder: str | None) -> Tables | None:
    """The tables of the tool under those of the job and of the command line; None where no folder is named."""
    from barrier.job import read_job
    from barrier.tables import Tables

    if folder is None:
        return None
    named = read_job(job).tables_folder
    return Tables((*(() if named is None else (named,)), Path(folder)))
