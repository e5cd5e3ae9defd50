"""What governs, followed back to the load: every line before the lines it was made of, nothing left out, nothing beside."""

from __future__ import annotations

import pytest
from conftest import ONE_LAMINATED, result_of

from barrier.equation import Step
from barrier.sheet.blocks import Ref, Table
from barrier.sheet.content.calculation import calculate, values_of
from barrier.sheet.content.ledger import READ_OFF, Item
from barrier.sheet.content.trail import blocks, followed_back
from barrier.value import Numerical

NAMES = [p.stem for p in ONE_LAMINATED]


def made_of(item: Item) -> list[Item]:
    return [*item.inputs.values(), *((item.hand,) if item.hand is not None else ())]


@pytest.mark.parametrize("name", NAMES)
def test_every_item_stands_before_what_it_was_made_of(name: str) -> None:
    result = result_of(name)
    ledger = calculate(result).ledger
    for check in result.sound.checks:
        roots = [ledger.add(v, check.station) for v in values_of(check)]
        chain = followed_back(roots)
        place = {item.label: i for i, item in enumerate(chain)}
        assert len(place) == len(chain)
        for item in chain:
            assert all(place[part.label] > place[item.label] for part in made_of(item)), (check.id, item.label)
        assert {r.label for r in roots} <= set(place)
        reached = {r.label for r in roots} | {part.label for item in chain for part in made_of(item)}
        assert set(place) == reached


@pytest.mark.parametrize("name", NAMES)
def test_the_page_names_every_step_of_the_governing_check(name: str) -> None:
    result = result_of(name)
    calculation = calculate(result)
    tables = [b for b in blocks(result, calculation) if isinstance(b, Table)]
    if result.governing is None:
        assert not tables
        return
    (table,) = tables
    rows = [row[0][0].label for row in table.rows if isinstance(row[0][0], Ref)]
    check = result.governing
    chain = followed_back([calculation.ledger.add(v, check.station) for v in values_of(check)])
    solved = {i.label for i in chain if isinstance(i.origin, Numerical) and i.origin.method not in READ_OFF}
    assert set(rows) == solved | {i.label for i in chain if isinstance(i.origin, Step)}
    for row in table.rows:  # each is made of what stands further down, or of an entry or a cell
        for part in row[3]:
            if isinstance(part, Ref) and part.label in rows:
                assert rows.index(part.label) > rows.index(row[0][0].label)


def test_the_everyday_deck_goes_from_its_ends_back_to_the_push_of_people() -> None:
    """A force at an end of a piece, the moment on the mount, the load on the panel: in this order."""
    result = result_of("everyday_deck")
    (table,) = [b for b in blocks(result, calculate(result)) if isinstance(b, Table)]
    titles = ["".join(p for p in row[2] if isinstance(p, str)) for row in table.rows]
    order = ["left end of the piece", "moment on the mount", "about the bottom edge", "line load over the whole width"]
    places = [next(i for i, t in enumerate(titles) if words in t) for words in order]
    assert places == sorted(places)
