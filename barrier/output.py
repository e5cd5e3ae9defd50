"""Writing: a file whole or not at all, a stream to its last byte; what cannot be written is said in a sentence.

A sheet that was cut off could be read as a whole one, so nothing is ever left half written: a file is written beside its place
and then moved there, keeping the mode of what stood there and following a link to what it points at. A pipe or a device is
written through. Where the program is told to stop in between, what was begun is taken away again.
"""

from __future__ import annotations

import os
import signal
import stat
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import IO, Any

from barrier.errors import BarrierError


class NotWritten(BarrierError):
    """What could not be written, and why."""


def write_file(path: str, text: str | bytes, never_over: tuple[Path, ...] = ()) -> None:
    """Write a file whole or not at all.

    ``path`` as the user gave it; ``text`` what it gets, a text in UTF-8 with a line end; ``never_over`` files that stay as they
    are. Raises NotWritten, with what to do.
    """
    data = _bytes(text)
    place = _place(path, never_over)
    try:
        mode = place.stat().st_mode if place.exists() else None
        if mode is not None and not stat.S_ISREG(mode):
            with open(place, "wb", buffering=0) as stream:
                _all(stream, data)
            return
        _beside(place, data, mode)
    except OSError as fault:
        raise NotWritten(f"{path} cannot be written: {fault.strerror}") from None


def _place(path: str, never_over: tuple[Path, ...]) -> Path:
    """Where a file really goes: what a link points at."""
    if not path.strip():
        raise NotWritten("the name of the file to write is empty; nothing was written")
    try:
        if not os.path.isabs(path):
            os.getcwd()
    except OSError:
        raise NotWritten(f"{path} cannot be written: the folder the command was started in is gone; change to another") from None
    try:
        place = Path(path).resolve()
        taken = {p.resolve() for p in never_over}
    except (OSError, RuntimeError, ValueError):
        raise NotWritten(f"{path!r} cannot be the name of a file; nothing was written") from None
    if (place.suffix.lower() == ".toml" and never_over) or place in taken:
        raise NotWritten(f"{path} would be written over a job file; name another --output")
    if place.is_dir():
        raise NotWritten(f"{path} is a folder; name a file in it")
    return place


def _beside(place: Path, data: bytes, mode: int | None) -> None:
    """Write beside a place and move there; where that is interrupted nothing stays behind."""
    with _told_to_stop_as_an_exception():
        handle, name = tempfile.mkstemp(dir=place.parent, prefix=f".{place.name[:100]}.")
        try:
            with os.fdopen(handle, "wb") as f:
                f.write(data)
                f.flush()
                os.fsync(f.fileno())
            os.chmod(name, stat.S_IMODE(mode) if mode is not None else 0o666 & ~_umask())
            os.replace(name, place)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise


@contextmanager
def _told_to_stop_as_an_exception() -> Iterator[None]:
    """A request to end the program unwinds it, as an interrupt from the keyboard does, so that what was begun is taken away."""

    def stop(number: int, _: FrameType | None) -> None:
        raise SystemExit(128 + number)

    before: dict[int, Any] = {}
    try:
        for name in ("SIGTERM", "SIGHUP"):  # told to end; the terminal was closed
            if (number := getattr(signal, name, None)) is not None and signal.getsignal(number) is not signal.SIG_IGN:
                before[number] = signal.signal(number, stop)
    except ValueError:  # not the main thread: whoever runs us there handles signals
        yield
        return
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _umask() -> int:
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def print_out(text: str | bytes) -> None:
    """Print to wherever the shell points, in whatever letters it has, to the last byte.

    ``text`` with or without its line end. Raises NotWritten where the disk is full, and BrokenPipeError where nobody reads on.
    """
    stream = sys.stdout
    if stream is None or getattr(stream, "closed", False):
        raise NotWritten("the sheet could not be written: the output is closed")
    data = text if isinstance(text, bytes) else _lettered(text, getattr(stream, "encoding", None) or "utf-8")
    try:
        stream.flush()
        raw = _raw(stream)
        if raw is not None:
            _all(raw, data)
        else:
            buffer: IO[bytes] = stream.buffer
            buffer.write(data)
            stream.flush()
    except BrokenPipeError:
        raise
    except OSError as fault:
        raise NotWritten(f"the sheet could not be written: {fault.strerror}") from None


def _raw(stream: object) -> IO[bytes] | None:
    """The unbuffered file below a stream, None where there is none, as in a test."""
    buffer = getattr(stream, "buffer", None)
    raw = getattr(buffer, "raw", buffer)
    return raw if hasattr(raw, "fileno") and _has_number(raw) else None


def _has_number(raw: object) -> bool:
    try:
        raw.fileno()  # type: ignore[attr-defined]
    except (OSError, ValueError):
        return False
    return True


def _all(stream: IO[bytes], data: bytes) -> None:
    """Write to the last byte: an unbuffered file may take less at a time than it is given."""
    left = memoryview(data)
    while left:
        left = left[stream.write(left) or 0 :]


def _lettered(text: str, encoding: str) -> bytes:
    """Text in the letters the output has, others as question marks, with a line end."""
    return (text if text.endswith("\n") else text + "\n").encode(encoding, errors="replace")


def _bytes(text: str | bytes) -> bytes:
    return text if isinstance(text, bytes) else (text if text.endswith("\n") else text + "\n").encode("utf-8")
