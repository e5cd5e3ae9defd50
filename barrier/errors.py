"""The errors of the project, one tree.

BarrierError
├── JobRefused          the job file, a table overlay or an option: every fault, each with file, line, key, value
├── TableRefused        a table that is not as strict as ours must be
├── UnknownRow          a table, row or column that is not there; names the nearest
└── CalculationError    a number that is not finite: a fault of ours, never the reader's

An exception is for bad input only. No equilibrium, a collapsed bed or a value outside a range is an answer and stands
on the sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches


class BarrierError(Exception):
    """Anything this project raises on purpose."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of the input: where it is, what stands there, and what to do.

    ``line`` is None where the file has no such line (a missing key). ``text`` is a whole sentence.
    """

    key: str
    text: str
    line: int | None = None

    def shown(self, file: str) -> str:
        """The fault as one line of output."""
        place = f"{file}:{self.line}" if self.line else file
        return f"{place}: {self.key + ' ' if self.key else ''}{self.text}"


class JobRefused(BarrierError):
    """The input was refused; ``faults`` has them all."""

    def __init__(self, file: str, faults: tuple[Fault, ...]) -> None:
        self.file = file
        self.faults = faults
        super().__init__("\n".join(f.shown(file) for f in faults))


class TableRefused(BarrierError):
    """A table file that breaks a rule; the message names file, line, column and what is expected."""


class CalculationError(BarrierError):
    """A calculation gave something that is not a finite number."""


class UnknownRow(BarrierError):
    """A table, row or column that is not there; the message names the nearest that is.

    ``place`` where it was looked for; ``what`` a table, row or column; ``asked`` the name; ``known`` what there is.
    """

    def __init__(self, place: str, what: str, asked: str, known: Sequence[str]) -> None:
        self.place, self.what, self.asked, self.known = place, what, asked, tuple(known)
        folded = {k.casefold(): k for k in self.known}
        near = [folded[k] for k in get_close_matches(asked.casefold(), folded, n=3, cutoff=0.5)]
        listed = ", ".join(near or self.known[:8]) + (", ..." if not near and len(self.known) > 8 else "")
        hint = f"the nearest: {listed}" if near else f"it has {listed}" if listed else "it has none"
        super().__init__(f"{place} has no {what} {asked!r}; {hint}")
