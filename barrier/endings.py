"""How the command line ends: every way out has a code of its own and, where it is no answer, a sentence."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable
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
