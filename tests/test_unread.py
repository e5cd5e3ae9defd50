"""An entry that nothing reads is shown to the reader: the list of unread entries is held against the links."""

from __future__ import annotations

import re
from pathlib import Path

from conftest import ROOT, job_named, text_sheet

from barrier.job import schema
from barrier.job.unread import UNREAD

LINKS = "\n".join(
    p.read_text(encoding="utf-8") for p in [*Path(ROOT, "barrier", "links").rglob("*.py"), ROOT / "barrier/load_path.py"]
)
# Read elsewhere: by the sheet, by the reader of the file, or through a property of its table.
ELSEWHERE = {"bases", "title", "date", "invented", "units", "mount_types", "situations", "type", "depth", "laid", "hard",
             "reference", "interlayer", "joists", "board_screws", "tables", "same_as"}  # fmt: skip


def test_every_entry_is_read_or_listed_as_unread() -> None:
    missing = []
    for name in schema.__all__:
        for key in getattr(schema, name).model_fields:
            listed = any(key == k and issubclass(getattr(schema, name), t) for t, k in UNREAD)
            read = re.search(rf'\.{key}\b|"{key}"', LINKS) is not None
            if not (listed or read or key in ELSEWHERE or name == "Ties"):
                missing.append(f"{name}.{key}")
    assert not missing


def test_unread_entries_stand_on_the_sheet() -> None:
    job = job_named("everyday_deck")
    unread = {e.path for e in job.unread()}
    assert any(p.endswith("screw.head") for p in unread)
    assert any(p.endswith("mass") for p in unread)
    text = text_sheet("everyday_deck")
    assert "mount_types.post.mass" in text and "the weight of the mount is not counted" in text
