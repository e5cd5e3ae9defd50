"""How the command line ends: every way out has a code of its own and, where it is no answer, a sentence."""

from __future__ import annotations

import contextlib
import io
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

import click

from barrier.errors import TableRefused, UnknownRow

REFUSED = 2
OURS, INTERRUPTED, NOBODY_READS = 70, 130, 141  # a fault of the tool; Ctrl-C; the reader of a pipe is gone


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


def nobody_reads() -> NoReturn:
    """The reader of the pipe is gone: end quietly, and let nothing be flushed into it at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    sys.exit(NOBODY_READS)


def _last_word(text: str) -> None:
    with contextlib.suppress(OSError):
        click.echo(text, err=True)


def on_a_terminal() -> bool:
    """Whether somebody looks at what is printed; there may be no output at all."""
    return sys.stdout is not None and sys.stdout.isatty()


def needs_a_file(form: str, output: str | None, jobs: int) -> None:
    """Refuse a PDF that would be poured over a terminal, or several in one stream."""
    if form == "pdf" and output is None and (jobs > 1 or on_a_terminal()):
        refuse("a PDF needs a file to stand in, one for each job: add --output FILE.pdf")


def write_page(path: str, text: str | bytes, jobs: tuple[str, ...] = ()) -> None:
    """Write a file whole or not at all, and never over a job file."""
    from barrier.output import NotWritten, write_file

    try:
        write_file(path, text, tuple(Path(j) for j in jobs))
    except NotWritten as fault:
        refuse(str(fault))


def print_page(text: str | bytes) -> None:
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
