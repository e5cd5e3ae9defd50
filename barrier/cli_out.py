"""What every command does alike: read a job, walk it, write a page whole or not at all, refuse in a sentence."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

if TYPE_CHECKING:
    from barrier.job import Job
    from barrier.load_path import Result
    from barrier.tables import Tables

EXIT = {"within": 0, "exceeds": 1, "not checked": 3}
REFUSED = 2
NOBODY_READS = 141  # the reader of a pipe is gone

own_folder = click.option("--tables", "folder", type=click.Path(), help="Folder of your own tables, over those the job names.")


def nobody_reads() -> NoReturn:
    """The reader of the pipe is gone: end quietly, and let nothing be flushed into it at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    sys.exit(NOBODY_READS)


def own_tables(job: Job, folder: str | None) -> Tables | None:
    """The tables of the tool under those of the job and of the command line; None where no folder is named."""
    from barrier.tables import Tables

    if folder is None:
        return None
    named = () if job.tables_folder is None else (job.tables_folder,)
    return Tables((*named, Path(folder)))


def worse(worst: int, result: Result) -> int:
    """Exceeds (1) outweighs not checked (3), which outweighs within (0)."""
    order = (0, 3, 1)
    return max(worst, EXIT[str(result.ending)], key=order.index)


def walked(path: str, settings: tuple[str, ...], rule: str, folder: str | None) -> Result:
    """A job read, changed where asked, and walked."""
    from barrier.job import read_job
    from barrier.load_path import check as walk
    from barrier.ways.setting import asked

    job = read_job(path)
    if settings:
        job = job.with_(asked(job, settings, rule).everything)
    return walk(job, (), own_tables(job, folder))


def needs_a_file(form: str, output: str | None, jobs: int) -> None:
    """Refuse a PDF that would be poured over a terminal, or several in one stream."""
    if form == "pdf" and output is None and (jobs > 1 or sys.stdout.isatty()):
        refuse("a PDF needs a file to stand in, one for each job: add --output FILE.pdf")


def write(path: str, text: str | bytes, jobs: tuple[str, ...] = ()) -> None:
    """Write a file whole or not at all, and never over a job file."""
    from barrier.output import NotWritten, write_file

    try:
        write_file(path, text, tuple(Path(j) for j in jobs))
    except NotWritten as fault:
        refuse(str(fault))


def print_(text: str | bytes) -> None:
    """Print to wherever the shell points; a full disk is said, not thrown."""
    from barrier.output import NotWritten, print_out

    try:
        print_out(text)
    except BrokenPipeError:
        nobody_reads()
    except NotWritten as fault:
        sys.stdout = io.StringIO()  # what is still buffered has nowhere to go
        refuse(str(fault))


def refuse(text: str) -> NoReturn:
    click.echo(text, err=True)
    sys.exit(REFUSED)
