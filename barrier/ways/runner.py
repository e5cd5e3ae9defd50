"""Many changed copies of one job, walked once each: here or in other processes, kept in a file, never twice.

The file (JSON lines, one a variant in their order) is written as answers come and set in order at the end: what was interrupted
goes on where it stopped, and its bytes in the end are those of a run that was not. A damaged line is named and walked again.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from functools import lru_cache
from itertools import product
from pathlib import Path
from typing import TextIO

from barrier.errors import Fault, JobRefused
from barrier.job import Job
from barrier.job.read import job_from_text
from barrier.links.memo import Memo
from barrier.output import write_file
from barrier.tables import Tables
from barrier.ways.outcome import Outcome, changed, key_of, read

Variant = Mapping[str, object]
Said = Callable[[str], None]
Progress = Callable[[int, int], None]


def grid(**axes: Sequence[object]) -> list[dict[str, object]]:
    """Every combination of values along axes; the first axis varies slowest.

    Argument: ``axes`` from the path of an entry to its values (``**{"panels.P1.width": [...]}``).

    >>> len(grid(**{"panels.P1.width": ["1200 mm", "1300 mm"], "panels.P1.layers.1.nominal": ["12 mm", "15 mm", "19 mm"]}))
    6
    """
    return [dict(zip(axes, values, strict=True)) for values in product(*axes.values())]


def run(
    job: Job, variants: Sequence[Variant], *, executor: Executor | None = None, file: str | os.PathLike[str] | None = None,
    tables: Tables | None = None, progress: Progress | None = None, said: Said | None = None, rule: str = "edge",
) -> tuple[Outcome, ...]:  # fmt: skip
    """Walk changed copies of a job.

    Arguments: ``job``; ``variants`` a list of changes, each from paths to what the file would say there (:func:`grid` makes one);
    ``executor`` any of ``concurrent.futures`` (a process pool, a cluster's), here and one after another if none; ``file`` where
    answers are kept; ``tables`` as for :func:`barrier.check` (in other processes: those of the job); ``progress`` is told
    how many are done of how many; ``said`` is told of damaged lines; ``rule`` where mounts go with a wider panel. Returns the
    outcomes in the order of the variants, equal whatever the executor. A variant the job file would refuse is an outcome that
    says so. Raises NotWritten where the file cannot be written, JobRefused where tables cannot cross to other processes.
    """
    from barrier.ways.setting import set_

    if executor is not None:
        needs_its_own(job, tables)
    known_tables = tables or tables_of(job)
    wanted = [set_(job, v, rule).everything for v in variants]
    keys = [key_of(job, tuple(w.items()), known_tables) for w in wanted]
    found = {} if file is None else _kept(Path(file), frozenset(keys), said or _to_stderr)
    missing = {k: w for k, w in dict(zip(keys, wanted, strict=True)).items() if k not in found}
    tell = progress or (lambda done, of: None)
    total, done = len(set(keys)), len(set(keys)) - len(missing)
    tell(done, total)
    stream = None if file is None else _begun(Path(file), found)
    try:
        for outcome in walked_all(job, missing, known_tables, executor):
            found[outcome.key] = outcome
            done += 1
            if stream is not None:
                stream.write(outcome.written() + "\n")
                stream.flush()
            tell(done, total)
    finally:
        if stream is not None:
            stream.close()
    if file is not None:
        write_file(os.fspath(file), "".join(found[k].written() + "\n" for k in dict.fromkeys(keys)))
    return tuple(found[k] for k in keys)


def needs_its_own(job: Job, tables: Tables | None) -> None:
    """Other processes read the tables of the job. Raises JobRefused for tables that were put beside it."""
    if tables is not None and tables.fingerprint() != tables_of(job).fingerprint():
        text = "tables of your own do not cross to other processes; name their folder in the job file (tables = ...)"
        raise JobRefused(job.file, (Fault("", text),))


def walked_all(
    job: Job, wanted: Mapping[str, Mapping[str, object]], tables: Tables, executor: Executor | None
) -> Iterator[Outcome]:
    """Walk changed copies of a job as they come.

    Arguments: ``job``; ``wanted`` from the key an outcome is to have to its changes; ``tables``, those of the job where there is an
    ``executor``. Yields outcomes, in the order of ``wanted`` only where there is none.
    """
    if executor is None:
        memo = Memo()
        for key, changes in wanted.items():
            yield changed(job, changes, tables, memo, key)
        return
    told = (job.text, job.file, tuple(job.changes))
    waiting: list[Future[Outcome]] = [executor.submit(_elsewhere, *told, key, tuple(c.items())) for key, c in wanted.items()]
    try:
        for future in as_completed(waiting):
            yield future.result()
    except BaseException:
        for future in waiting:
            future.cancel()
        raise


def _elsewhere(
    text: bytes, file: str, before: tuple[tuple[str, object], ...], key: str, changes: tuple[tuple[str, object], ...]
) -> Outcome:
    """What another process does: read the job once, then walk its copies."""
    job, tables, memo = _job_here(text, file, Changed(before))
    return changed(job, dict(changes), tables, memo, key)


class Changed(tuple[tuple[str, object], ...]):
    """Changes made so far, equal and kept by what they say: a table among them has no hash of its own."""

    def __hash__(self) -> int:
        return hash(repr(tuple(self)))


@lru_cache(maxsize=4)
def _job_here(text: bytes, file: str, before: Changed) -> tuple[Job, Tables, Memo]:
    job = job_from_text(text, file)
    made: dict[str, object] = {}
    for path, value in before:
        made.pop(path, None)  # of an entry changed twice the later one stands, in its place among the others
        made[path] = value
    job = job.with_(made) if made else job
    return job, tables_of(job), Memo()


@contextmanager
def workers(processes: int) -> Iterator[Executor | None]:
    """So many processes, none for one: what a command line asks for."""
    if processes < 2:
        yield None
        return
    with ProcessPoolExecutor(processes) as pool:
        yield pool


def tables_of(job: Job) -> Tables:
    """The bundled tables under those the job names."""
    return Tables(() if job.tables_folder is None else (job.tables_folder,))


# ---------------------------------------------------------------- the file


def _kept(file: Path, wanted: frozenset[str], said: Said) -> dict[str, Outcome]:
    """What the file already has of what is wanted; damaged lines are named."""
    if not file.is_file():
        return {}
    found: dict[str, Outcome] = {}
    for number, raw in enumerate(file.read_bytes().split(b"\n"), 1):
        if not raw.strip():
            continue
        try:
            outcome = read(raw.decode("utf-8"))
        except ValueError as fault:
            said(f"{file}:{number}: this line is damaged ({_short(fault)}); it is left out, and its variant is walked again")
            continue
        if outcome.key in wanted:
            found[outcome.key] = outcome
    return found


def _short(fault: ValueError) -> str:
    return str(fault).split("\n")[0][:80]


def _begun(file: Path, found: Mapping[str, Outcome]) -> TextIO:
    """The file with what is whole in it, open for more."""
    write_file(os.fspath(file), "".join(o.written() + "\n" for o in found.values()) or "\n")
    return file.open("a", encoding="utf-8", newline="\n")


def _to_stderr(words: str) -> None:
    print(words, file=sys.stderr)


def bar(done: int, of: int) -> None:
    """Progress on a terminal, ``done`` of ``of`` walks: one line that is written over; nothing where no terminal reads."""
    if not sys.stderr.isatty() or not of:
        return
    filled = round(30 * done / of)
    end = "\n" if done == of else ""
    print(f"\r{'█' * filled}{'·' * (30 - filled)} {done} of {of}", end=end, file=sys.stderr, flush=True)


def counter(done: int, of: int) -> None:
    """The same where nobody knows how many there will be; ``done`` so far, ``of`` is not looked at."""
    if sys.stderr.isatty():
        print(f"\r{done} sets calculated", end="", file=sys.stderr, flush=True)
