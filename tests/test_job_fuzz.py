"""Job files nobody would write: whatever is done to one, it is read or refused, and nothing in it is no number.

Random edits of a whole file and random values at every entry of the schema. A job that is read has finite numbers only,
and no size below zero; anything else is a JobRefused in our words.
"""

from __future__ import annotations

import math
import string
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from barrier.errors import JobRefused
from barrier.job import Job, job_from_text, read_job
from barrier.job.entries import Quantity, TableOfEntries
from barrier.job.quantity import parse
from barrier.job.written import Written, sections
from barrier.units import KINDS, UNITS
from barrier.value import JobEntry, Value

HERE = Path(__file__).parent / "data" / "jobs"
TEXTS = tuple((HERE / f"{name}.toml").read_text(encoding="utf-8") for name in ("garden", "everything"))
LINES = tuple(tuple(t.splitlines()) for t in TEXTS)
EVERYTHING = read_job(HERE / "everything.toml")
PATHS = tuple(node.entry.path for s in sections(EVERYTHING._origin.raw) for node in s.values() if isinstance(node, Written))
SIGNED = {"x", "y", "offset", "angle"}  # positions and an angle may be negative, nothing else
FEW = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])

junk = st.one_of(
    st.text(max_size=30),
    st.sampled_from(["", "nan", "inf", "-inf", "1e400 mm", "-5 mm", "12 MM", "1,2 m", "0 mm", "1e-300 mm", "unknown", "absent"]),
    st.sampled_from(["'", '"', '"""', "[", "]]", "{", "}", "=", "#", "\\", "\x00", "\x1b[0m", "\u2028", "𝟏𝟐 mm", "٣ mm"]),
)
units = st.sampled_from(sorted(UNITS))
numbers = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True).map(repr),
    st.from_regex(r"[+-]?[0-9]{1,4}([.,][0-9]{1,3})?(e[+-]?[0-9]{1,3})?", fullmatch=True),
    st.from_regex(r"[0-9] [0-9]/[0-9]", fullmatch=True),
)
quantities = st.builds(lambda n, space, u: f"{n}{space}{u}", numbers, st.sampled_from(["", " ", "  ", "\t"]), units)
likely = st.builds(
    lambda n, u: f"{n!r} {u}", st.floats(0.1, 500.0), st.sampled_from(["mm", "in", "kN", "lbf", "MPa", "kN/m2", "kN/m", "deg"])
)


def outcome(text: str | bytes) -> Job | None:
    """The job, checked to hold nothing but finite numbers and no negative size; None if refused, in our words."""
    try:
        job = job_from_text(text, "fuzz.toml")
    except JobRefused as refused:
        assert refused.faults and all(f.text.strip() for f in refused.faults)
        assert "pydantic" not in str(refused) and "Input should" not in str(refused)
        return None
    sound(job)
    return job


def sound(table: object, key: str = "") -> None:
    if isinstance(table, Value):
        x = float(table.x)
        assert math.isfinite(x), key
        assert x >= 0.0 or key in SIGNED, (key, x)
    elif isinstance(table, TableOfEntries):
        for name in type(table).model_fields:
            sound(getattr(table, name), name)
    elif isinstance(table, tuple):
        for element in table:
            sound(element, key)
    elif isinstance(table, dict):
        for element in table.values():
            sound(element, key)


@FEW
@given(st.data())
def test_lines_deleted_doubled_swapped_and_spoilt(data: st.DataObject) -> None:
    lines = list(data.draw(st.sampled_from(LINES)))
    for _ in range(data.draw(st.integers(1, 3))):
        i = data.draw(st.integers(0, len(lines) - 1))
        edit = data.draw(st.sampled_from(["delete", "double", "swap values", "move", "spoil", "value"]))
        if edit == "delete":
            del lines[i]
        elif edit == "double":
            lines.insert(i, lines[i])
        elif edit == "move":
            lines.insert(data.draw(st.integers(0, len(lines) - 1)), lines.pop(i))
        elif edit == "spoil":
            at = data.draw(st.integers(0, len(lines[i])))
            lines[i] = lines[i][:at] + data.draw(junk) + lines[i][at:]
        elif edit == "value" and " = " in lines[i]:
            lines[i] = f'{lines[i].split(" = ")[0]} = "{data.draw(st.one_of(quantities, junk))}"'
        elif edit == "swap values":
            k = data.draw(st.integers(0, len(lines) - 1))
            if " = " in lines[i] and " = " in lines[k]:
                (a, x), (b, y) = lines[i].split(" = ", 1), lines[k].split(" = ", 1)
                lines[i], lines[k] = f"{a} = {y}", f"{b} = {x}"
    outcome("\n".join(lines))


@FEW
@given(st.sampled_from(TEXTS), st.binary(min_size=1, max_size=6), st.integers(0, 4000), st.booleans())
def test_bytes_put_in(text: str, piece: bytes, at: int, over: bool) -> None:
    content = text.encode()
    at = min(at, len(content))
    outcome(content[:at] + piece + content[at + (len(piece) if over else 0) :])


@FEW
@given(st.one_of(st.binary(max_size=200), st.text(alphabet=string.printable, max_size=200)))
def test_anything_at_all(content: bytes | str) -> None:
    outcome(content)


plain = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), junk, quantities),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.one_of(junk, st.just("name")), inner, max_size=3)),
    max_leaves=4,
)


@FEW
@given(st.dictionaries(st.one_of(st.sampled_from(PATHS), st.text(alphabet="abcM1.", max_size=12)), plain, min_size=1, max_size=2))
def test_changes_to_anything_anywhere(changes: dict[str, object]) -> None:
    try:
        job = EVERYTHING.with_(changes)
    except JobRefused as refused:
        assert refused.faults and all(f.text.strip() for f in refused.faults)
    else:
        sound(job)


@FEW
@given(st.sampled_from([p for p in PATHS if not p.startswith("mount_types")]), likely)
def test_a_quantity_that_is_taken_is_the_one_that_was_written(path: str, text: str) -> None:
    """No entry ever holds another number than its text says."""
    try:
        job = EVERYTHING.with_({path: text})
    except JobRefused:
        return
    for value in _values(job):
        if value.origin.path == path and not value.origin.defaulted:  # type: ignore[union-attr]
            assert value.x == parse(text, value.kind)


def _values(table: object) -> list[Value]:
    if isinstance(table, Value):
        return [table]
    inner: list[object] = []
    if isinstance(table, TableOfEntries):
        inner = [getattr(table, name) for name in type(table).model_fields]
    elif isinstance(table, (tuple, dict)):
        inner = list(table.values() if isinstance(table, dict) else table)
    return [v for part in inner for v in _values(part)]


def test_every_quantity_of_the_schema_refuses_what_is_no_number() -> None:
    """Over every quantity the schema has: no unit, other units, no number, infinity, both sides of its range."""
    seen = 0
    for section in sections(EVERYTHING._origin.document):
        for _, entry in (section.model.entries() if section.model else {}).values():
            if not isinstance(entry, Quantity):
                continue
            seen += 1
            unit = next(u for u, spelt in UNITS.items() if spelt.dimension == KINDS[entry.kind].dimension)
            factor = UNITS[unit].factor
            beyond = [entry.high * 1.001 / factor, (entry.low - 0.001 * (abs(entry.low) + 1)) / factor]
            bare = () if entry.kind == "ratio" else ("5",)  # a ratio has no unit to leave out
            for text in (*bare, f"nan {unit}", f"inf {unit}", f"1e400 {unit}", "5 mol", *(f"{b!r} {unit}" for b in beyond)):
                assert not _taken(entry, text), (section.path, entry, text)
            assert _taken(entry, f"{(0.5 * entry.low + 0.5 * entry.high) / factor!r} {unit}")
    assert seen > 100


def _taken(entry: Quantity, text: str) -> bool:
    try:
        entry.validate(Written(text, JobEntry("x", text)))
    except PydanticCustomError:
        return False
    return True
