"""What a sheet carries to be recomputed: the job as it was written, the reader's own tables, and fingerprints.

It stands in the JSON sheet under the key ``source`` and in the HTML sheet as a block of data. Whoever has the sheet has
the job with it: ``barrier verify`` walks it again and compares. A job file is UTF-8 (any other is refused when it is
read), so its text is its bytes; a byte order mark stays in it as the letter it is.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any

import barrier
from barrier.load_path import Result
from barrier.result import Situation
from barrier.sheet.pages import AGAIN, PAGES
from barrier.tables import Tables

FORMAT = "barrier source"
VERSION = 1
ELEMENT = "barrier-source"  # the id of the block in an HTML sheet
KINDS = tuple(p.name for p in PAGES if p.verified == AGAIN)


def source(result: Result, kind: str = "check") -> dict[str, Any]:
    """Everything a sheet needs to be made again, as plain values.

    Arguments: ``result`` of :func:`barrier.load_path.check`, or of a study; ``kind`` of the page, one of :data:`KINDS`.
    Keys: ``format``, ``version``, ``kind``, ``tool_version``; ``job`` (the text of the file, verbatim); ``changes`` made to
    it since, in order; ``situations`` that the caller added to those of the job; ``tables``, the reader's own files, name
    and text verbatim, in the order they were laid over ours; ``fingerprints`` of the job, of all tables, and of ``each``.
    """
    own = 1 + len(result.job.situations)
    # A layer of laminated glass is broken, a panel under a rail taken away by the walk itself, wherever no situation does.
    added = [w.situation for w in result.walked[own:] if w.situation.asked] if kind == "check" else []
    return {
        "format": FORMAT,
        "version": VERSION,
        "kind": kind,
        "tool_version": barrier.__version__,
        "job": result.job.text.decode("utf-8"),
        "changes": [{"path": path, "value": value} for path, value in result.job.changes],
        "situations": [_situation(s) for s in added],
        "tables": [{"name": name, "text": text} for name, text in result.tables.own],
        "fingerprints": {
            "job": result.job.fingerprint(),
            "tables": result.tables.fingerprint(),
            "each": fingerprints(result.tables),
        },
    }


def _situation(situation: Situation) -> dict[str, Any]:
    return {
        "name": situation.name,
        "changes": dict(situation.changes),
        "standing": str(situation.standing),
        "words": situation.words,
    }


def fingerprints(tables: Tables) -> dict[str, str]:
    """Twelve hexadecimal digits for every table, overlays included: they say which of them differ.

    >>> from barrier.tables import Tables
    >>> sorted(len(f) for f in fingerprints(Tables()).values())[0]
    12
    """
    return {name: hashlib.sha256(tables.table(name).canonical.encode()).hexdigest()[:12] for name in tables.names()}


def embedded(result: Result, kind: str = "check") -> str:
    """The source as JSON that may stand in ``<script type="application/json" id="barrier-source">`` of a page.

    Arguments as for :func:`source`. No ``<`` is in it, so no word of the job can end the block or open another.
    """
    return json.dumps(source(result, kind), ensure_ascii=False, allow_nan=False).replace("<", "\\u003c")


__all__ = ["ELEMENT", "FORMAT", "KINDS", "VERSION", "embedded", "fingerprints", "source"]
