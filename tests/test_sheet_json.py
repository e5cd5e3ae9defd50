"""The JSON result: keys that stay, numbers that agree with the result and with the text, the job word for word."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

import pytest
from conftest import ONE_LAMINATED, result_of, text_sheet

from barrier import sheet
from barrier.result import Ending
from barrier.units import UNITS

SEVEN = 5e-7  # relative; half a unit of the seventh digit, at most
NAMES = [p.stem for p in ONE_LAMINATED]
KEYS = (
    "format", "version", "tool_version", "caution", "units", "ending", "governing", "job", "basis", "fingerprints",
    "situations", "cases", "forces", "origins", "assumptions", "unknown", "unread", "never_checked", "source",
)  # fmt: skip
CHECK = (
    "link", "id", "title", "ending", "standing", "demand", "resistance", "unit", "utilisation", "reason", "where", "combination",
    "case",
)  # fmt: skip


def document(name: str) -> dict[str, Any]:
    def refuse(text: str) -> float:
        raise AssertionError(f"{text} is no number of JSON")

    found: dict[str, Any] = json.loads(sheet.json_text(result_of(name)), parse_constant=refuse)
    return found


def numbers(node: object) -> Iterator[float]:
    if isinstance(node, float):
        yield node
    for child in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
        yield from numbers(child)


@pytest.mark.parametrize("name", NAMES)
def test_keys_and_version(name: str) -> None:
    d = document(name)
    assert tuple(d) == KEYS and d["format"] == "barrier result" and d["version"] == 1
    for situation in d["situations"]:
        for link in situation["links"]:
            assert tuple(link) == ("id", "title", "checks", "shown", "findings")
            for c in link["checks"]:
                assert tuple(c) == CHECK and c["link"] == link["id"]


@pytest.mark.parametrize("name", NAMES)
def test_it_says_what_the_result_says(name: str) -> None:
    result, d = result_of(name), document(name)
    assert d["ending"] == str(result.ending)
    assert d["governing"] == (result.governing.id if result.governing else None)
    assert len(d["situations"]) == len(result.walked)
    for walked, situation in zip(result.walked, d["situations"], strict=True):
        written = [c for link in situation["links"] for c in link["checks"]]
        assert [c["id"] for c in written] == [c.id for c in walked.checks]
        for c, w in zip(walked.checks, written, strict=True):
            assert w["ending"] == str(c.ending) and w["standing"] == str(c.standing) and w["reason"] == c.reason
            assert (w["utilisation"] is None) is (c.eta is None)
            if c.eta is not None:
                assert w["utilisation"] == pytest.approx(c.eta, rel=SEVEN)
                assert c.demand is None or UNITS[w["unit"]].factor == 1.0  # a sum of squares compares no two values
            if c.ending is Ending.NOT_CHECKED:
                assert w["utilisation"] is None and w["reason"]


@pytest.mark.parametrize("name", NAMES)
def test_seven_digits_and_no_minus_nought(name: str) -> None:
    for x in numbers(document(name)):
        assert float(f"{x:.7g}") == x and math.isfinite(x)
        assert not (x == 0 and math.copysign(1, x) < 0)


@pytest.mark.parametrize("name", NAMES)
def test_the_job_stands_in_it_word_for_word(name: str) -> None:
    path = next(p for p in ONE_LAMINATED if p.stem == name)
    d = document(name)
    assert d["job"]["text"].encode() == path.read_bytes()
    assert d["fingerprints"]["job"] in text_sheet(name)
    assert d["fingerprints"]["tables"] in text_sheet(name)


def test_sets_of_forces_push_back() -> None:
    """A hand sum of what is written: sideways the push, up and down nothing."""
    for mount in document("everyday_deck")["forces"]:
        assert [s["direction"] for s in mount["sets"]] == ["outward", "inward"]
        for s in mount["sets"]:
            down, sideways = (sum(r["values"][s["columns"].index(c)]["value"] for r in s["rows"]) for c in ("down", "sideways"))
            way = 1.0 if s["direction"] == "outward" else -1.0
            assert sideways == pytest.approx(way * s["push"]["value"], rel=1e-6)
            assert down == pytest.approx(0.0, abs=1e-6 * max(abs(r["values"][0]["value"]) for r in s["rows"]))


def test_forces_balance() -> None:
    """Newton on the document alone: in every column some end is pressed down and some pulled up."""
    forces = document("everyday_deck")["forces"]
    assert forces
    for mount in forces:
        ends = [row["values"] for row in mount["rows"] if row["what"].endswith("end, down")]
        assert len(ends) == 6 and len(mount["columns"]) == 4
        for column in range(4):
            found = [values[column]["value"] for values in ends]
            assert max(found) > 0 > min(found)


def test_what_is_to_be_confirmed_is_listed() -> None:
    listed = document("garden_deck")["origins"]["to_confirm"]
    assert all(entry["provenance"] in ("memory", "invented", "common practice", "yours") for entry in listed)
    assert any("table" in e for e in listed) and any("equation" in e for e in listed)
