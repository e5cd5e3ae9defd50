"""The way in: a file, its text, its tree, its job. Whatever is wrong with it comes out as one JobRefused."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Iterable
from pathlib import Path

from barrier.errors import Fault, JobRefused
from barrier.job.build import Origin
from barrier.job.faults import each_once
from barrier.job.job import Job, built
from barrier.job.lines import Place, places, syntax_fault
from barrier.job.schema import File
from barrier.job.written import Lines, Section, Wrapper
from barrier.reading import Unreadable, bytes_of

LARGEST = 1_000_000  # bytes; the largest job a person writes has a few thousand lines
DEEPEST = 12  # tables within tables; a job file needs six
MOST_DIGITS = 1000  # of a whole number: Python does not print one of thousands
MOST_PARTS = 24  # of a dotted key: reading one takes time and memory by the square of its parts
_PART = r"""(?:[A-Za-z0-9_-]{1,200}|"[^"\n]{0,200}"|'[^'\n]{0,200}')[ \t]*\.[ \t]*"""
_MANY_PARTS = re.compile(rf"(?:^|[\[{{,])[ \t]*(?:{_PART}){{{MOST_PARTS}}}", re.MULTILINE)


def read_job(path: str | os.PathLike[str]) -> Job:
    """Read a job file.

    Argument: ``path`` of a TOML file in UTF-8, at most 1 MB. Returns the job, validated, in base units (N, mm, MPa,
    rad).
    Raises JobRefused with every fault found, each with line, key, value and what to do; never anything else.

    >>> read_job("there/is/no/such.toml")
    Traceback (most recent call last):
    barrier.errors.JobRefused: there/is/no/such.toml: there is no such file
    """
    file = os.fspath(path)
    return job_from_text(content_of(file), file)


def job_from_text(text: str | bytes, file: str = "job", tables_beside: bool = True) -> Job:
    """The job a text describes; ``file`` is how faults name it and where its folder of tables is looked for.

    ``tables_beside`` False leaves that folder unlooked for: the caller has the reader's tables from elsewhere. Raises
    JobRefused as :func:`read_job` does.
    """
    data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    document, lines = parsed(data, file)
    if "run" in document:
        text = "describes a whole run; barrier run sets it out and checks it, and with --expand writes plain jobs"
        raise JobRefused(file, (Fault("run", text, lines.get(("run",))),))
    invented = document.get("invented") is True
    source = Wrapper(Lines(lines), invented).wrap(document, "", (), File)
    assert isinstance(source, Section)
    empty = Section("", None)
    job = built(Job, Origin(file, data, source, (), empty, empty, (), invented))
    _check_situations(job)
    if tables_beside:
        _check_tables(job)
    return job


def content_of(file: str) -> bytes:
    """Bytes of a file that is one, is not too large, and can be read."""
    try:
        return bytes_of(file, LARGEST, "a job file")
    except Unreadable as why:
        raise _refused(file, str(why)) from None


def _two_bytes_a_letter(data: bytes) -> bool:
    """Whether a text begins with ASCII letters of two bytes each and no mark that says so."""
    odd, even = data[1:8:2], data[:8:2]
    return len(data) >= 8 and any(a == bytes(4) and 0 not in b for a, b in ((odd, even), (even, odd)))


def parsed(data: bytes, file: str) -> tuple[dict[str, object], dict[Place, int]]:
    """The document as TOML reads it, and the line of every place in it."""
    if len(data) > LARGEST:
        raise _refused(file, f"has more than {LARGEST / 1e6:.0f} MB; a job file has at most that")
    if not data.strip():
        raise _refused(file, "is empty; barrier new writes a job file to start from")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or _two_bytes_a_letter(data):
        raise _refused(file, "is UTF-16 text; save it as UTF-8")
    if b"\0" in data:
        raise _refused(file, "is no text file; a job file is TOML text in UTF-8", _line_at(data, data.index(b"\0")))
    try:
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as fault:
        raise _refused(file, "has a byte here that is no UTF-8; save the file as UTF-8", _line_at(data, fault.start)) from None
    if (long := _MANY_PARTS.search(text)) is not None:
        raise _refused(
            file, f"has a key nested deeper than {MOST_PARTS} parts; a job file needs six", text.count("\n", 0, long.end()) + 1
        )
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        words, line = syntax_fault(str(fault), text)
        raise _refused(file, words, line) from None
    except RecursionError:
        raise _refused(file, f"has brackets nested deeper than {DEEPEST}; a job file needs six") from None
    except ValueError:  # a whole number of thousands of digits
        raise _refused(file, "has a number that cannot be read; numbers have a few digits") from None
    if _depth(document, DEEPEST + 1) > DEEPEST:
        raise _refused(file, f"has brackets nested deeper than {DEEPEST}; a job file needs six")
    where = places(text)
    if (long_number := _long_number(document)) is not None:
        text = f"is a whole number of more than {MOST_DIGITS} digits; no number of a job has so many"
        raise JobRefused(file, (Fault(".".join(str(p) for p in long_number), text, where.get(long_number)),))
    if not document:
        raise _refused(file, "has comments only; barrier new writes a job file to start from")
    return document, where


def _long_number(node: object, path: Place = ()) -> Place | None:
    """Where a whole number stands that nobody means, None if there is none."""
    if isinstance(node, int) and abs(node) >= 10**MOST_DIGITS:
        return path
    below: Iterable[tuple[str | int, object]] = ()
    if isinstance(node, dict):
        below = node.items()
    elif isinstance(node, list):
        below = enumerate(node)
    return next((found for key, child in below if (found := _long_number(child, (*path, key))) is not None), None)


def _depth(node: object, limit: int) -> int:
    """How deep tables and lists are nested, counted up to the limit."""
    children = node.values() if isinstance(node, dict) else node if isinstance(node, list) else None
    if children is None or limit == 0:
        return 0
    return 1 + max((_depth(c, limit - 1) for c in children), default=0)


def _line_at(data: bytes, position: int) -> int:
    return data.count(b"\n", 0, position) + 1


def _check_situations(job: Job) -> None:
    """Every situation of the file must be a job as well."""
    faults: list[Fault] = []
    for i, situation in enumerate(job.situations, 1):
        try:
            job.with_(situation.set)
        except JobRefused as refused:
            line = job.entry(f"situations.{i}.set").line
            for fault in refused.faults:
                faults.append(Fault(f"situations.{i}.set", f"cannot be made: {fault.key} {fault.text}", line))
    if faults:
        raise JobRefused(job.file, each_once(faults))


def _check_tables(job: Job) -> None:
    folder = job.tables_folder
    if folder is not None and not Path(folder).is_dir():
        entry = job.entry("tables")
        raise JobRefused(
            job.file,
            (Fault("tables", f"names the folder {entry.text!r}, which is not beside the job file", entry.line),),
        )


def _refused(file: str, text: str, line: int | None = None) -> JobRefused:
    return JobRefused(file, (Fault("", text, line),))
