"""No published example is left out in silence: every row of worked_examples_mount.csv is tested or says why not."""

from __future__ import annotations

import csv
import re
from pathlib import Path

HERE = Path(__file__).parent
NOT_OURS: dict[str, str] = {}  # id: why; none at present
BY_FAMILY = ("W20_", "W21_", "W22_")  # test_torsion_tables takes all rows of these


def test_every_row() -> None:
    with (HERE.parent / "data" / "worked_examples_mount.csv").open(newline="") as file:
        ids = [r["id"] for r in csv.DictReader(file)]
    text = "".join(p.read_text(encoding="utf-8") for p in HERE.glob("test_*.py"))
    named = set(re.findall(r'"(W\d\d_\w+)"', text))
    missing = [i for i in ids if i not in named and i not in NOT_OURS and not i.startswith(BY_FAMILY)]
    assert not missing
    assert named <= set(ids)
    assert len(ids) == 55
