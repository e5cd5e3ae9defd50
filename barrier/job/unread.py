"""Entries that may be written and that no link of this version reads; each is shown to the reader with why.

An entry that is read is taken off this list with the change that reads it; a test holds the list against the links.
"""

from __future__ import annotations

from typing import Any

from barrier.job.entries import TableOfEntries
from barrier.job.schema import (
    BoardScrews,
    Decking,
    EndFixing,
    Mount,
    MountType,
    ScrewKind,
)

UNREAD: dict[tuple[type[TableOfEntries], str], str] = {
    (ScrewKind, "head"): "pull-through of the head is not checked; a base plate holds it",
    (BoardScrews, "head"): "pull-through of the heads of the board's own screws is not checked",
    (Decking, "gap"): "where the gaps between boards lie under the plate is not known; they are not taken off the bearing",
    (Decking, "grooved"): "grooves are not taken off the bearing area",
    (EndFixing, "ultimate_strength"): "nails and screws in end grain are credited with nothing, in side grain not checked",
    (Mount, "mass"): "the weight of the mount is not counted",
    (MountType, "mass"): "the weight of the mount is not counted",
}


def mark() -> None:
    """Write the list into the schema, where :meth:`barrier.job.Job.unread` finds it."""
    for (table, key), why in UNREAD.items():
        extra: dict[str, Any] = {"used": False, "why": why}
        table.model_fields[key].json_schema_extra = extra
