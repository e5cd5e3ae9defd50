"""No published example is left out in silence: every row of the two files is in a test, or says why it is not ours."""

from __future__ import annotations

import re
from pathlib import Path

from published import rows

HERE = Path(__file__).parent
TEXT = "".join(p.read_text(encoding="utf-8") for p in HERE.glob("test_*.py") if p != Path(__file__))

TIMBER_NOT_OURS = {
    "WE02b": "withdrawal of a smooth nail: the project has no such link, nails are in no mount and credited in no end fixing",
    "WE08h": "a row of bolts pushed along the grain: the project has no such link, a mount pushes its screws across the grain",
    "WE10b": "bearing under the washer of a bolt: the project has no such link, a mount is screwed",
    "WE20": "nails of a sheet-braced wall by AS 1720.1: the project has no such link",
    "WE22": "specific gravity at another moisture: the project has no such link, tables and job give it at the code's own",
    "WE22b": "specific gravity at another moisture: as WE22",
}
GLASS_NOT_OURS = {
    ("WE01", "max deflection q a^4/(8EI)"): "a strip clamped rigidly: the project's glass stands on elastic pads, and a rigid "
    "clamp is what it refuses; the plate on its pads is checked elsewhere",
}


def test_every_row_of_the_timber_file() -> None:
    ids = [r["id"] for r in rows("worked_examples_timber")]
    used = set(re.findall(r'timber\("(\w+)"\)', TEXT)) | set(re.findall(r'"(WE\d\d[a-z]?)": ', TEXT))
    used |= set(re.findall(r'\("(WE\d\d[a-z])", ', TEXT))
    assert len(ids) == len(set(ids)) == 37
    assert set(ids) - used == set(TIMBER_NOT_OURS)
    assert not used & set(TIMBER_NOT_OURS)


def test_every_row_of_the_glass_and_load_file() -> None:
    """A row is asked for by its quantity, or all rows of its id are; the tests of E1300 take some quantities from a list."""
    every = {(r["id"], r["quantity"]) for r in rows("worked_examples_glass_and_loads")}
    whole = set(re.findall(r'glass_rows\("(WE\d\d)"\)', TEXT))
    listed = {(i, q) for i, q in every if re.search(rf'glass\("{i}", (?:"{re.escape(q)}"|[A-Za-z])', TEXT) and f'"{q}"' in TEXT}
    missing = {row for row in every - listed if row[0] not in whole} - set(GLASS_NOT_OURS)
    assert len(rows("worked_examples_glass_and_loads")) == 68 and len(every) == 31
    assert not missing
    assert set(GLASS_NOT_OURS) <= every
