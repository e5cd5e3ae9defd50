"""An entry of the job by the words a reader has for it: its path, or what the trade calls it, or nearly.

``panels.P1.width`` is a path; ``panel P1 width``, ``width of the panel`` and, where there is one panel only, ``panel width`` mean
the same. What fits more than one entry is refused with all of them, what fits none with the nearest.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches

from barrier.errors import Fault, JobRefused
from barrier.job.job import Job
from barrier.job.spoken import spoken
from barrier.job.written import Items, Section, Written, name_of

_SMALL = frozenset({"of", "the", "a", "an", "is", "in", "what", "whether", "it", "its", "at"})
MOST = 6  # entries named where the words fit several


def entries_of(job: Job) -> dict[str, str]:
    """Every entry that can be asked for: path to its words, those of the file first.

    Argument: ``job``. Entries of mount types and of what is ``same_as`` another stand by the path of what they belong to.

    >>> from barrier.job.read import job_from_text
    >>> from barrier.worked import example_text
    >>> entries_of(job_from_text(example_text()))["panels.P3.layers.1.nominal"]
    'panel P3, glass layer 1: nominal thickness'
    """
    found = dict.fromkeys((*_paths(job._origin.source, ""), *_paths(job._origin.document, "")))
    return {path: spoken(path) for path in found}


def _paths(node: object, path: str) -> Iterator[str]:
    if isinstance(node, Section):
        for key in dict.fromkeys((*node, *(node.model.entries() if node.model is not None else ()))):
            yield from _paths(node.get(key, key), f"{path}.{key}" if path else str(key))
    elif isinstance(node, Items):
        for i, child in enumerate(node):
            yield from _paths(child, f"{path}.{name_of(child, i)}")
    elif isinstance(node, (Written, str)):
        yield path


def path_of(job: Job, asked: str) -> str:
    """The path of the entry a reader means.

    Arguments: ``job``; ``asked`` a path, or words in any order. Returns the path. Raises JobRefused with the nearest entries.

    >>> from barrier.job.read import job_from_text
    >>> from barrier.worked import example_text
    >>> job = job_from_text(example_text())
    >>> path_of(job, "panel width"), path_of(job, "mounts.M1.screws.2.present"), path_of(job, "screw length of mount type deep")
    ('panels.P3.width', 'mounts.M1.screws.2.present', 'mount_types.deep.screw.length')
    """
    asked = asked.strip()
    if not asked:
        raise JobRefused(job.file, (Fault("--set", "names no entry; write --set ENTRY=VALUE, panels.P1.width=1300 mm"),))
    entries = entries_of(job)
    if asked in entries or (" " not in asked and _leads_somewhere(job, asked)):
        return asked
    wanted = _words(asked)
    fitting = [p for p, words in entries.items() if wanted and wanted <= _words(words) | _words(p)]
    found = _closest(job, wanted, fitting)
    if len(found) == 1:
        return found[0]
    if found:
        shown = "; ".join(f"{p} ({entries[p]})" for p in found[:MOST])
        more = f"; and {len(found) - MOST} more" if len(found) > MOST else ""
        raise JobRefused(job.file, (Fault(repr(asked), f"fits {len(found)} entries, name one: {shown}{more}"),))
    raise JobRefused(job.file, (Fault(repr(asked), f"is no entry of this job; {_nearest(asked, entries)}"),))


def _closest(job: Job, wanted: frozenset[str], fitting: list[str]) -> list[str]:
    """Of entries that fit those the file has itself before what was taken over into a mount, then those with the fewest words more.

    Screws of a mount and screws of the boards are different things: words that fit several tables of the file are not guessed at.
    """
    written = frozenset(_written(job._origin.source, ""))
    here = [p for p in fitting if p in written] or fitting
    if len({p.split(".")[0] for p in here}) > 1:
        same = [p for p in here if wanted in (_words(entry_words) for entry_words in (p, spoken(p))) or wanted == _nameless(job, p)]
        return same or here
    more = {p: min(len(_words(spoken(p)) - wanted), len(_nameless(job, p) - wanted)) for p in here}
    return [p for p in here if more[p] == min(more.values())]


def _written(node: object, path: str) -> Iterator[str]:
    """The paths of what stands in the file."""
    if isinstance(node, Section):
        for key, child in node.items():
            yield from _written(child, f"{path}.{key}" if path else key)
    elif isinstance(node, Items):
        for i, child in enumerate(node):
            yield from _written(child, f"{path}.{name_of(child, i)}")
    else:
        yield path


def _leads_somewhere(job: Job, path: str) -> bool:
    try:
        job.entry(path)
    except JobRefused:
        return False
    return True


def _words(text: str) -> frozenset[str]:
    """The words of a path or a phrase, plural and small words aside."""
    words = re.findall(r"[a-z0-9]+", text.casefold().replace("_", " "))
    return frozenset(w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in words if w not in _SMALL)


def _nameless(job: Job, path: str) -> frozenset[str]:
    """The words of a path without the name of a thing there is only one of."""
    parts = path.split(".")
    single = {"panels": job.panels, "mounts": job.mounts, "blocking": job.blocking, "mount_types": {m.type for m in job.mounts}}
    if len(parts) > 1 and len(single.get(parts[0], (0, 0))) == 1:
        del parts[1]
    return _words(".".join(parts))


def _nearest(asked: str, entries: dict[str, str]) -> str:
    """The nearest entries by path and by words."""
    by_words = {words: path for path, words in reversed(entries.items())}
    near = [*get_close_matches(asked, entries, n=3, cutoff=0.6)]
    near += [by_words[w] for w in get_close_matches(asked.casefold(), by_words, n=3, cutoff=0.5)]
    near = near or [p for p in entries if p.rsplit(".", 1)[-1] in get_close_matches(asked.split(".")[-1], _keys(entries), n=1)]
    listed = ", ".join(dict.fromkeys(near[:4]))
    return f"did you mean {listed}?" if listed else "its entries are named in the job file, panels.P1.width for one"


def _keys(entries: dict[str, str]) -> list[str]:
    return list({p.rsplit(".", 1)[-1] for p in entries})
