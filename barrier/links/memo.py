"""Answers kept by all they depend on, so that no walk works out again what another has: a plate, a mount on its ground.

A key is numbers and words only, never an object of the job: what two jobs, two situations or two mounts have alike they share.
A change of the screws leaves the glass factorised, and a change of the glass leaves the contact of mounts it pushes alike.
Answers are never changed, so that a result may go on holding one that is dropped here.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from threading import Lock
from typing import TypeVar, cast

T = TypeVar("T")

# Bytes of each kind; of those used longest ago as many are dropped as are too much.
ROOM = {
    "contact": 16_000_000,
    "solved": 32_000_000,
    "layered": 96_000_000,
    "plate": 24_000_000,
    "laminate": 128_000_000,
    "rail": 96_000_000,
}


@dataclass(slots=True)
class _Shelf:
    """Answers of one kind with their sizes in bytes, the one used last at the end."""

    room: int
    used: int = 0
    found: OrderedDict[Hashable, tuple[object, int]] = field(default_factory=OrderedDict)


class Memo:
    """Answers of several kinds, each kind with room for so many bytes.

    ``room`` by kind: *contact* of mounts on their ground, *solved* and *layered*: panels of one
    layer and of two with their answers (the many quick ones leave the few slow ones in their place), *plate* and *laminate*:
    factorised ones, from which other bases are solved, *rail*: runs under a rail. Threads may share one (of two that ask at once
    both may work). A copy by pickle is empty: answers are found again where they are wanted.

    >>> memo = Memo()
    >>> memo.once("contact", ("a", 1.0), 8, lambda: 42), memo.once("contact", ("a", 1.0), 8, lambda: 43)
    (42, 42)
    """

    def __init__(self, room: dict[str, int] | None = None) -> None:
        self._shelves = {kind: _Shelf(size) for kind, size in (room or ROOM).items()}
        self._lock = Lock()

    def __reduce__(self) -> tuple[type[Memo], tuple[dict[str, int]]]:
        return Memo, ({kind: shelf.room for kind, shelf in self._shelves.items()},)

    def once(self, kind: str, key: Hashable, size: int | Callable[[T], int], work: Callable[[], T]) -> T:
        """The answer to a key, worked out where it is not kept; size: its bytes, or how to find them."""
        kept = self._kept(kind, key)
        if kept is not None:
            return cast(T, kept)  # what is kept under a key is what that work makes
        found = work()
        self.keep(kind, key, found, size(found) if callable(size) else size)
        return found

    def get(self, kind: str, key: Hashable, of: type[T]) -> T | None:
        """What is kept under a key, or None where there is nothing of this class."""
        found = self._kept(kind, key)
        return found if isinstance(found, of) else None

    def _kept(self, kind: str, key: Hashable) -> object | None:
        shelf = self._shelves[kind]
        with self._lock:
            if key not in shelf.found:
                return None
            shelf.found.move_to_end(key)
            return shelf.found[key][0]

    def keep(self, kind: str, key: Hashable, answer: object, size: int) -> None:
        """Keep an answer of so many bytes; what alone is more than there is room for is not kept."""
        shelf = self._shelves[kind]
        if size > shelf.room:
            return
        with self._lock:
            _, before = shelf.found.pop(key, (None, 0))
            shelf.found[key] = answer, size
            shelf.used += size - before
            while shelf.used > shelf.room:
                _, (_, dropped) = shelf.found.popitem(last=False)
                shelf.used -= dropped

    def make_room(self, kind: str) -> None:
        """Drop what has to go when one more comes, as large as the largest there is: before it is worked out, and not after."""
        shelf = self._shelves[kind]
        with self._lock:
            most = max((size for _, size in shelf.found.values()), default=0)
            while shelf.found and shelf.used + most > shelf.room:
                _, (_, dropped) = shelf.found.popitem(last=False)
                shelf.used -= dropped

    def clear(self, *kinds: str) -> None:
        """Forget everything, or all of some ``kinds``: what is asked next is worked out anew."""
        with self._lock:
            for kind in kinds or self._shelves:
                self._shelves[kind].found.clear()
                self._shelves[kind].used = 0


SHARED = Memo()  # of this process
