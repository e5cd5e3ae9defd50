"""The front door: commands and exit codes.

0 every required check within · 1 at least one exceeds · 3 none exceeds but something required is not checked · 2 the
input was refused. ``verify`` has its own: 0 agrees · 1 differs · 2 cannot be read. 70 a fault of the tool · 130 stopped from the
keyboard · 141 nobody reads the output. Commands import their work inside, so that ``--help`` stays light.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from barrier import __version__
from barrier.command_new import new
from barrier.command_phone import phone
from barrier.endings import REFUSED, Front, needs_a_file, on_a_terminal, print_page, refuse, write_page
from barrier.sheet.pages import PAGES, Page

if TYPE_CHECKING:
    from barrier.job import Job
    from barrier.load_path import Result
    from barrier.tables import Tables

EXIT = {"within": 0, "exceeds": 1, "not checked": 3}
WATCH_EVERY = 0.3  # seconds between two looks at a file that is watched


@click.group(cls=Front, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="barrier")
def main() -> None:
    """Structural check sheets for base-mounted glass barriers.

    What comes out is a figure sheet for a conversation with an engineer: no design, no certificate, no permit document.
    """
    # The matrices of a panel are small: more threads wait for one another, and on a busy machine take five times as long.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # read once, when the libraries are loaded further down


main.add_command(new)
main.add_command(phone)
_own_folder = click.option("--tables", "folder", type=click.Path(), help="Folder of your own tables, over those the job names.")


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
@_own_folder
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
        found = _study(jobs[0], "what_if", form, output, folder, settings, rule=rule)
        sys.exit(_worse(0, found.after))
    short = form == "text" and output is None and not full and on_a_terminal()
    _print_sheets(jobs, "short" if short else form, output, settings, rule, folder)


def _print_sheets(
    jobs: tuple[str, ...], form: str, output: str | None, settings: tuple[str, ...], rule: str, folder: str | None
) -> NoReturn:
    """Print or write the sheet of every job; the worst of their endings is the exit code."""
    from barrier.errors import BarrierError

    worst, refused = 0, False
    sheets: list[str | bytes] = []
    for path in jobs:
        try:
            result = _walked(path, settings, rule, folder)
        except BarrierError as fault:
            click.echo(str(fault), err=True)
            refused = True
            continue
        sheets.append(_writer(form)(result))
        worst = _worse(worst, result)
    if output is not None and sheets:
        write_page(output, sheets[0], jobs)
    else:
        for text in sheets:
            print_page(text)
    sys.exit(REFUSED if refused else worst)


def _writer(form: str) -> Callable[[Result], str | bytes]:
    """What writes a sheet in a form; loaded once there is a sheet to write."""
    from barrier import sheet

    writers: dict[str, Callable[[Result], str | bytes]] = {
        "text": sheet.text, "markdown": sheet.markdown, "html": sheet.html, "json": sheet.json_text, "pdf": sheet.pdf,
        "short": sheet.short_text,
    }  # fmt: skip
    return writers[form]


def _walked(path: str, settings: tuple[str, ...], rule: str, folder: str | None) -> Result:
    """A job read, changed where asked, and walked."""
    from barrier.job import read_job

    job = read_job(path)  # what walks it takes twice as long to load, and a job that is refused needs none of it
    from barrier.load_path import check as walk

    if settings:
        from barrier.ways.setting import asked

        job = job.with_(asked(job, settings, rule).everything)
    return walk(job, (), _own_tables(job, folder))


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
                print_page(f"{time.strftime('%H:%M:%S')}\n{sheet.short_text(_walked(path, settings, rule, folder))}")
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


def _own_tables(job: Job, folder: str | None) -> Tables | None:
    """The tables of the tool under those of the job and of the command line; None where no folder is named."""
    from barrier.tables import Tables

    if folder is None:
        return None
    named = () if job.tables_folder is None else (job.tables_folder,)
    return Tables((*named, Path(folder)))


def _worse(worst: int, result: Result) -> int:
    """Exceeds (1) outweighs not checked (3), which outweighs within (0)."""
    order = (0, 3, 1)
    return max(worst, EXIT[str(result.ending)], key=order.index)


def _study(path: str, kind: str, form: str, output: str | None, folder: str | None, *asked: Any, **how: Any) -> Any:
    """Ask a question of one job and print its page; ``asked`` and ``how`` go to who makes it. Returns what was found."""
    from barrier.errors import BarrierError
    from barrier.job import read_job
    from barrier.sheet.page_written import written
    from barrier.sheet.pages import named, page_of

    needs_a_file(form, output, 1)
    page = page_of(kind)
    try:
        job = read_job(path)
        found = named(page.maker)(job, *asked, tables=_own_tables(job, folder), **how)
    except BarrierError as fault:
        refuse(str(fault))
    text = written(page, form, found)
    if output is not None:
        write_page(output, text, (path,))
    else:
        print_page(text)
    return found


_page_format = click.option(
    "--format", "form", type=click.Choice(["text", "markdown", "html", "pdf"]), default="text", show_default=True
)
_page_output = click.option("--output", type=click.Path(dir_okay=False), help="Write the page here, whole or not at all.")


def _plain(page: Page) -> None:
    """The command of a page that wants a JOB and nothing else."""

    @main.command(page.command, help=f"{page.words[0].upper()}{page.words[1:]}.")
    @click.argument("job", type=click.Path())
    @_page_format
    @_page_output
    @_own_folder
    def command(job: str, form: str, output: str | None, folder: str | None) -> None:
        _study(job, page.name, form, output, folder)


for row in PAGES:
    if row.plain:
        _plain(row)


@main.command()
@click.argument("job", type=click.Path())
@click.option("--basis", "bases", default="en,us,au", show_default=True, help="Families of codes, separated by commas.")
@_page_format
@_page_output
@_own_folder
def compare(job: str, bases: str, form: str, output: str | None, folder: str | None) -> None:
    """The same JOB by several families of codes, side by side; no verdict."""
    _study(job, "comparison", form, output, folder, [b.strip() for b in bases.split(",") if b.strip()])


_settings = click.option("--set", "settings", multiple=True, metavar="ENTRY=VALUE", help="Change an entry first; again for more.")
_mounts = click.option("--mounts", "rule", default="edge", show_default=True, help="Where mounts go: edge, fraction or fixed.")


@main.command()
@click.argument("job", type=click.Path())
@_settings
@_mounts
@click.option("--ways/--no-ways", "try_ways", default=True, show_default=True, help="Try every single change where one exceeds.")
@_page_format
@_page_output
@_own_folder
def brief(
    job: str, settings: tuple[str, ...], rule: str, try_ways: bool, form: str, output: str | None, folder: str | None
) -> None:  # fmt: skip
    """Two pages for the engineer who is asked about the JOB; the full sheet is their appendix."""
    from barrier.ways.runner import counter

    _study(job, "brief", form, output, folder, settings, rule=rule, try_ways=try_ways, progress=counter)


@main.command()
@click.argument("job", type=click.Path())
@_settings
@_mounts
@click.option("--every", is_flag=True, help="Calculate every set of up to three changes, not only those that could do.")
@click.option("--processes", type=click.IntRange(1, 64), default=1, show_default=True, help="Processes to walk them in.")
@_page_format
@_page_output
@_own_folder
def ways(
    job: str, settings: tuple[str, ...], rule: str, every: bool, processes: int, form: str, output: str | None, folder: str | None
) -> None:  # fmt: skip
    """Which changes leave no required check of the JOB exceeding, and what each must at least be; takes a minute or more."""
    from barrier.ways.runner import counter, workers

    with workers(processes) as executor:
        _study(job, "ways", form, output, folder, settings, rule=rule, every=every, progress=counter, executor=executor)


@main.command()
@click.argument("job", type=click.Path())
@click.option("--of", "entries", multiple=True, metavar="ENTRY=LOW..HIGH", help="An entry and its range; width and height if none.")
@_settings
@_mounts
@click.option("--over-unchecked", is_flag=True, help="Go on although required checks are not made; the page then says so loudly.")
@click.option("--envelope", is_flag=True, help="Width by height of the glass as well.")
@click.option("--hangs", is_flag=True, help="How much hangs on each entry: a tenth less and more, one at a time.")
@_page_format
@_page_output
@_own_folder
def limits(
    job: str, entries: tuple[str, ...], settings: tuple[str, ...], rule: str, over_unchecked: bool, envelope: bool,
    hangs: bool, form: str, output: str | None, folder: str | None,
) -> None:  # fmt: skip
    """For which sizes no required check of the JOB exceeds: every crossing, and what limits next; takes a minute or more."""
    from barrier.ways.runner import counter

    how = {"rule": rule, "over_unchecked": over_unchecked, "envelope": envelope, "hangs": hangs, "progress": counter}
    _study(job, "limits", form, output, folder, entries, settings, **how)


@main.command()
@click.argument("job", type=click.Path())
@_page_format
@_page_output
@click.option("--expand", type=click.Path(file_okay=False), help="Write each side as a plain job into this folder.")
@click.option("--csv", "csv_folder", type=click.Path(file_okay=False), help="Write the tables as CSV into this folder.")
@click.option("--sheets", type=click.Path(file_okay=False), help="Write the sheet behind each row of the cover into this folder.")
@click.option("--check/--no-check", "checks", default=True, help="Walk each distinct condition, or set out only.")
@click.option("--paper", type=click.Choice(["a4", "a3"]), default="a4", help="Of the PDF: A4, a long plan in parts, or A3, whole.")
@_own_folder
def run(
    job: str, form: str, output: str | None, expand: str | None, csv_folder: str | None, sheets: str | None, checks: bool,
    paper: str, folder: str | None,
) -> None:  # fmt: skip
    """Set out a whole run: its sides, panels, mounts, pieces, what clashes; and check each distinct condition once."""
    from barrier import sheet, whole_run
    from barrier.errors import BarrierError
    from barrier.job.run_file import read_run
    from barrier.load_path import check as walk
    from barrier.sheet.runs.tables import all_tables, as_csv

    needs_a_file(form, output, 1)
    try:
        laid = whole_run.lay_out(read_run(job))
        found = whole_run.unchecked(laid)
        plain = {} if expand is None else {s.name: laid.side_job(s.name) for s in laid.sides}
        if checks:
            found = whole_run.check_run(laid, lambda one: walk(one, (), _own_tables(one, folder)))
    except BarrierError as fault:
        refuse(str(fault))
    for name, text in plain.items():
        _write_into(str(expand), f"side_{name}.toml", text)
    if csv_folder is not None:
        for name, table in all_tables(found):
            _write_into(csv_folder, f"{name}.csv", as_csv(table))
    if sheets is not None:
        for name, result in found.results():
            _write_into(sheets, f"{name}.html", sheet.html(result))
    page = sheet.run_pdf(found, paper) if form == "pdf" else getattr(sheet, f"run_{form}")(found)
    if output is not None:
        write_page(output, page, (job,))
    else:
        print_page(page)
    sys.exit(EXIT[str(found.ending)])


def _write_into(folder: str, name: str, text: str) -> None:
    """Write one file into a folder, which is made where it is not there; a job file is never written over."""
    try:
        Path(folder).mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        refuse(f"{folder} cannot be made: {fault.strerror}; nothing was written there")
    place = Path(folder) / name
    if place.suffix == ".toml" and place.exists():
        refuse(f"{place} is already there; nothing was written over it. Name another folder")
    write_page(str(place), text)


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
    print_page(words(verdict))
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
            print_page(tables_text.text_of_search(found))
        elif name is not None:
            print_page(tables_text.text_of_table(library.table(name)))
        else:
            print_page(tables_text.text_of_list(library))
    except BarrierError as fault:
        refuse(str(fault))
