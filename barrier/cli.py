"""The front door: commands and exit codes.

0 every required check within · 1 at least one exceeds · 3 none exceeds but something required is not checked · 2 the
input was refused. ``verify`` has its own: 0 agrees · 1 differs · 2 cannot be read. 70 a fault of the tool · 130 stopped from the
keyboard · 141 nobody reads the output. Commands import their work inside, so that ``--help`` stays light.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from barrier import __version__
from barrier.cli_out import REFUSED, needs_a_file, own_folder, print_, refuse, walked, worse, write
from barrier.cli_pages import COMMANDS, page_asked
from barrier.errors import TableRefused, UnknownRow

if TYPE_CHECKING:
    from barrier.load_path import Result

COUNTRIES = ("uk", "us", "australia", "new zealand")  # with a worked example of their own
WATCH_EVERY = 0.3  # seconds between two looks at a file that is watched
OURS, INTERRUPTED = 70, 130  # a fault of the tool; Ctrl-C


class Front(click.Group):
    """The group of commands, which ends with a code of its own for what is no answer: 1 is *exceeds* and nothing else."""

    def main(self, *args: Any, standalone_mode: bool = True, **kwargs: Any) -> Any:
        """Run a command; every ending is an exit code."""
        run: Callable[..., Any] = super().main
        if not standalone_mode:
            return run(*args, standalone_mode=False, **kwargs)
        try:
            with_code = run(*args, standalone_mode=False, **kwargs)
        except click.ClickException as fault:
            fault.show()
            sys.exit(REFUSED)
        except (click.Abort, KeyboardInterrupt):
            _last_word("stopped; nothing was left half written")
            sys.exit(INTERRUPTED)
        except (TableRefused, UnknownRow) as fault:  # a table that is read where a sheet is written, or to list it
            _last_word(str(fault))
            sys.exit(REFUSED)
        except MemoryError:
            _last_word("there is not enough memory for this job")
            sys.exit(REFUSED)
        except Exception as fault:
            if os.environ.get("BARRIER_TRACEBACK"):
                raise
            _last_word(
                f"this is a fault of the tool and says nothing about the job: {type(fault).__name__}. No sheet was made. "
                "Set BARRIER_TRACEBACK=1 and run it again to see where, and send that with the job to whoever keeps the tool"
            )
            sys.exit(OURS)
        sys.exit(with_code if isinstance(with_code, int) else 0)


def _last_word(text: str) -> None:
    with contextlib.suppress(OSError):
        click.echo(text, err=True)


@click.group(cls=Front, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="barrier")
def main() -> None:
    """Structural check sheets for base-mounted glass barriers.

    What comes out is a figure sheet for a conversation with an engineer: no design, no certificate, no permit document.
    """


@main.command()
@click.argument("jobs", nargs=-1, required=True, type=click.Path())
@click.option("--format", "form", type=click.Choice(["text", "markdown", "html", "json", "pdf"]), default="text", show_default=True)
@click.option("--output", type=click.Path(dir_okay=False), help="Write the sheet here, whole or not at all.")
@click.option("--full", is_flag=True, help="The whole sheet on a terminal too, where the short answer is printed otherwise.")
@click.option(
    "--set", "settings", multiple=True, metavar="ENTRY=VALUE", help="Change an entry, by path or in trade words; again for more."
)
@click.option(
    "--mounts", "rule", default="edge", show_default=True, help="Where mounts go with a wider panel: edge, fraction or fixed."
)
@click.option("--watch", is_flag=True, help="Check again whenever the JOB is saved, the short answer only; stop with Ctrl-C.")
@own_folder
def check(
    jobs: tuple[str, ...], form: str, output: str | None, full: bool, settings: tuple[str, ...], rule: str, watch: bool,
    folder: str | None,
) -> None:  # fmt: skip
    """Walk each JOB from the hand to the joist and print its sheet: on a terminal the short answer, elsewhere the whole."""
    if output is not None and len(jobs) > 1:
        refuse("--output takes one job; give them one at a time")
    if (settings or watch) and len(jobs) > 1:
        refuse("--set and --watch take one job; give them one at a time")
    needs_a_file(form, output, len(jobs))
    if watch:
        if form != "text" or output is not None:
            refuse("--watch prints the short answer as text; leave --format and --output out")
        _watch(jobs[0], settings, rule, folder)
    if settings and form != "json":
        found = page_asked(jobs[0], "what_if", form, output, folder, settings, rule=rule)
        sys.exit(worse(0, found.after))
    short = form == "text" and output is None and not full and sys.stdout.isatty()
    _print_sheets(jobs, "short" if short else form, output, settings, rule, folder)


def _print_sheets(
    jobs: tuple[str, ...], form: str, output: str | None, settings: tuple[str, ...], rule: str, folder: str | None
) -> NoReturn:
    """Print or write the sheet of every job; the worst of their endings is the exit code."""
    from barrier import sheet
    from barrier.errors import BarrierError

    writers: dict[str, Callable[[Result], str | bytes]] = {
        "text": sheet.text, "markdown": sheet.markdown, "html": sheet.html, "json": sheet.json_text, "pdf": sheet.pdf,
        "short": sheet.short_text,
    }  # fmt: skip
    worst, refused = 0, False
    sheets: list[str | bytes] = []
    for path in jobs:
        try:
            result = walked(path, settings, rule, folder)
        except BarrierError as fault:
            click.echo(str(fault), err=True)
            refused = True
            continue
        sheets.append(writers[form](result))
        worst = worse(worst, result)
    if output is not None and sheets:
        write(output, sheets[0], jobs)
    else:
        for text in sheets:
            print_(text)
    sys.exit(REFUSED if refused else worst)


def _watch(path: str, settings: tuple[str, ...], rule: str, folder: str | None) -> NoReturn:
    """Check a job whenever its file is saved, and print the short answer, or what is wrong with the file."""
    import time

    from barrier import sheet
    from barrier.errors import BarrierError

    seen: object = None
    while True:
        stamp = _stamp(path)
        if stamp != seen:
            seen = stamp
            try:
                print_(f"{time.strftime('%H:%M:%S')}\n{sheet.short_text(walked(path, settings, rule, folder))}")
            except BarrierError as fault:
                click.echo(str(fault), err=True)
        time.sleep(WATCH_EVERY)


def _stamp(path: str) -> object:
    """What changes when a file is saved; None while it is not there."""
    try:
        stat = Path(path).stat()
    except OSError:
        return None
    return stat.st_mtime_ns, stat.st_size


@main.command()
@click.argument("sheet", type=click.Path())
@click.option("--job", type=click.Path(), help="The job file to make it from; a text or Markdown sheet needs it.")
def verify(sheet: str, job: str | None) -> None:
    """Make SHEET again from what it carries, and compare every number on it.

    Exit codes: 0 all numbers agree, 1 something differs, 2 the sheet cannot be read.
    """
    from barrier.errors import BarrierError
    from barrier.verify import verify as compared
    from barrier.verify.verdict import words

    try:
        verdict = compared(sheet, job)
    except BarrierError as fault:
        refuse(str(fault))
    print_(words(verdict))
    sys.exit(0 if verdict.agrees else 1)


@main.command()
@click.argument("name", required=False)
@click.option("--search", "word", help="Rows that hold this word, in every table or the named one.")
def tables(name: str | None, word: str | None) -> None:
    """List the tables, print one, or search them."""
    from barrier.errors import BarrierError
    from barrier.sheet.formats import tables as tables_text
    from barrier.tables import Tables

    library = Tables()
    try:
        if word is not None:
            found = library.table(name).search(word) if name else library.search(word)
            print_(tables_text.text_of_search(found))
        elif name is not None:
            print_(tables_text.text_of_table(library.table(name)))
        else:
            print_(tables_text.text_of_list(library))
    except BarrierError as fault:
        refuse(str(fault))


@main.command()
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
    write(file, example_text(OF_A_COUNTRY[country] if country else EXAMPLE) if example else ask_all(_prompt, click.echo))
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
    write(file, text)
    click.echo(f"{file} is written; next: barrier check {file}")


for _command in COMMANDS:
    main.add_command(_command)
