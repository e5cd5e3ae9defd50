"""Reading a file that came from anywhere: an ordinary one, not too large, or a reason in words.

A pipe would be waited for and a device has no end, so neither is read.
"""

from __future__ import annotations

import os
import stat


class Unreadable(Exception):
    """Why a file was not read: what follows its name in a sentence."""


def bytes_of(path: str | os.PathLike[str], most: int, what: str) -> bytes:
    """The bytes of a file.

    ``path`` of the file; ``most`` bytes it may have; ``what`` it should be, with its article, as "a job file". Raises Unreadable.
    """
    try:
        status = os.stat(path)
        if stat.S_ISDIR(status.st_mode):
            raise Unreadable(f"is a folder; name {what} in it")
        if not stat.S_ISREG(status.st_mode):
            raise Unreadable(f"is no ordinary file; name {what}")
        if status.st_size > most:
            raise Unreadable(f"has {status.st_size / 1e6:.1f} MB; {what} has at most {most / 1e6:.0f} MB")
        with open(path, "rb") as f:
            data = f.read(most + 1)
    except (FileNotFoundError, NotADirectoryError):
        raise Unreadable("there is no such file") from None
    except (OSError, ValueError) as fault:
        words = fault.strerror if isinstance(fault, OSError) and fault.strerror else "its name cannot be used"
        raise Unreadable(f"cannot be opened: {words}") from None
    if len(data) > most:
        raise Unreadable(f"has more than {most / 1e6:.0f} MB; {what} has at most that")
    return data
