"""A sheet made again from what it carries, and compared figure by figure with what stands on it.

A JSON or HTML sheet carries its job and the reader's own tables, a PDF its job; a text or Markdown sheet carries fingerprints
only, and the job file has to be given beside it. A sheet comes from anywhere: nothing in it is executed, and nothing of it is
written outside a temporary folder. What agrees was computed from the job in the sheet; whether that job is the house that stands
there, no program knows.
"""

from __future__ import annotations

import os

from barrier.errors import BarrierError
from barrier.verify import again, compare
from barrier.verify.read import Sheet, SheetRefused, read_sheet
from barrier.verify.verdict import Verdict


def verify(path: str | os.PathLike[str], job: str | os.PathLike[str] | None = None) -> Verdict:
    """Make a sheet again and compare.

    Arguments: ``path`` of the sheet (JSON, HTML, text or PDF); ``job`` a job file to make it from in place of what the
    sheet carries, needed for text and Markdown. Returns what was compared and what differs. Raises SheetRefused when the sheet
    cannot be read or cannot be made again, JobRefused when the given job file is refused.
    """
    sheet = read_sheet(path)
    if job is not None:
        made = again.from_file(job, sheet.kind)
    elif sheet.source is not None:
        made = again.from_source(sheet.source)
    elif sheet.attached:
        made = again.from_attached(sheet.attached, sheet.kind)
    else:
        raise SheetRefused(sheet.file, f"{sheet.form} carries no job to make it again from; give it with --job FILE. {_CARRIES}")
    return compare.compared(sheet, made)


_CARRIES = "A JSON, HTML or PDF sheet carries its job; a text or Markdown sheet carries the fingerprint of it"

__all__ = ["BarrierError", "Sheet", "SheetRefused", "Verdict", "verify"]
