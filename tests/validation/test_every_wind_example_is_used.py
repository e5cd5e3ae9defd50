"""Every row of the wind examples is in a test, or says here why it is not ours."""

from __future__ import annotations

import re
from pathlib import Path

from published import rows

HERE = Path(__file__).parent
TEXT = "".join(p.read_text(encoding="utf-8") for p in HERE.glob("test_wind_*.py"))
NOT_OURS = {
    "AU-guide-0.95": "the site speed from region, direction, shelter and height: the reader brings it, or a class that has it",
    "AU-guide-0.9": "as AU-guide-0.95",
    "US-open-0.7": "openings all over the face: glass with gaps under a tenth of the face counts as solid, by its gross area",
}


def test_every_row_is_used_or_says_why_not() -> None:
    ids = [r["id"] for r in rows("wind_examples")]
    used = {i for i in ids if f'"{i}"' in TEXT}
    assert len(ids) == len(set(ids)) == 79
    assert set(ids) - used == set(NOT_OURS)
    assert not re.search(r"pytest\.mark\.(skip|xfail)", TEXT)
