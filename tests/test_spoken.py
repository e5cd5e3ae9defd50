"""Entries of the job in trade words: every key of the schema can be said, and no path shows through."""

from __future__ import annotations

import typing

import pytest
from conftest import ONE_LAMINATED, for_each, result_of
from pydantic import BaseModel

from barrier.job.schema import File
from barrier.job.spoken import EACH, ENTRIES, spoken
from barrier.sheet.blocks import Bullets
from barrier.sheet.content.calculation import calculate
from barrier.sheet.content.front import blocks as front


def paths(model: type[BaseModel], before: str = "", depth: int = 0) -> typing.Iterator[str]:
    """Every entry there can be, with a name where a table holds one thing for each name."""
    for key, field in model.model_fields.items():
        path = f"{before}{key}"
        inner = [t for t in parts(field.annotation) if isinstance(t, type) and issubclass(t, BaseModel)]
        if not inner or depth > 3:
            yield path
        for table in inner:
            yield from paths(table, f"{path}.N1." if key in EACH else f"{path}.", depth + 1)


def parts(annotation: object) -> typing.Iterator[object]:
    yield annotation
    for a in typing.get_args(annotation):
        yield from parts(a)


EVERY = sorted(set(paths(File)))


@for_each("path", EVERY)
def test_every_entry_can_be_said(path: str) -> None:
    said = spoken(path)
    assert said and not set(said) & set("_.[]="), said
    assert said.count(": ") <= 1


def test_the_words_belong_to_keys_there_are() -> None:
    keys = {k for path in EVERY for k in path.split(".")}
    assert not set(ENTRIES) - keys
    assert not set(EACH) - keys


def test_entries_of_one_thing_are_told_apart() -> None:
    """Two entries that differ must not be said alike, or a reader changes the wrong one."""
    said: dict[str, str] = {}
    for path in EVERY:
        assert said.setdefault(spoken(path), path) == path, (path, said[spoken(path)])


@pytest.mark.parametrize("name", [p.stem for p in ONE_LAMINATED])
def test_no_path_of_the_job_on_the_way_to_the_links(name: str) -> None:
    """What to do next, the short answer and the assumptions speak to an installer."""
    result = result_of(name)
    told = []
    for block in front(result, calculate(result)):
        if getattr(block, "title", "") == "Actions on the glass":
            break
        if isinstance(block, Bullets):
            told += [part for line in block.items for part in line if isinstance(part, str)]
    known = [e.path for e in (*result.job.assumptions(), *result.job.unknowns()) if "." in e.path]
    assert told and not [(path, words) for path in known for words in told if path in words]
