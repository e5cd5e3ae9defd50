"""What comes of comparing a sheet with the same made again."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs: where it stands, what is printed there, what comes out now."""

    where: str
    printed: str
    recomputed: str

    @property
    def text(self) -> str:
        """The difference as one line."""
        return f"{self.where}: printed {self.printed or 'nothing'}, recomputed {self.recomputed or 'nothing'}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The whole answer.

    ``form`` of the sheet; ``numbers`` compared; ``differences`` found; ``tables`` that differ by name; ``notes`` in words;
    ``bytes_agree`` where the sheet is the same to the byte. A sheet of another version of the tool has no verdict.
    """

    form: str
    numbers: int
    differences: tuple[Difference, ...]
    tables: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    bytes_agree: bool = False

    @property
    def agrees(self) -> bool:
        """Whether nothing that was compared differs."""
        return not self.differences


MOST = 40  # differences that are written out


def words(verdict: Verdict) -> str:
    """The verdict in lines for a terminal."""
    lines = []
    if verdict.tables:
        lines.append(f"tables that differ from those of the sheet: {', '.join(verdict.tables)}")
    for difference in verdict.differences[:MOST]:
        lines.append(difference.text)
    if len(verdict.differences) > MOST:
        lines.append(f"and {len(verdict.differences) - MOST} more")
    lines.extend(verdict.notes)
    if verdict.differences:
        count = len(verdict.differences)
        lines.append(f"{'one thing differs' if count == 1 else f'{count} things differ'}: do not rely on this sheet")
    else:
        compared = f"{verdict.numbers} numbers compared, " if verdict.numbers else ""
        every = "every byte agrees" if verdict.bytes_agree else "all agree"
        lines.append(f"{verdict.form}: {compared}{every} with the same made again")
        lines.append("That says the figures follow from the job in the sheet, not that the job describes what is built.")
    return "\n".join(lines)
