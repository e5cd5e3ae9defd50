"""Ways out: each set is what checking the changed job says; what does is thinned out; ratings are demands."""

from __future__ import annotations

from functools import cache

import pytest
from conftest import job_named, result_of

from barrier import sheet
from barrier.links.memo import Memo
from barrier.load_path import check
from barrier.ways import moves
from barrier.ways import ways as search
from barrier.ways.least import least_of
from barrier.ways.moves import Scale, moves_of
from barrier.ways.outcome import changed
from barrier.ways.runner import tables_of, workers
from barrier.ways.ways import Ways, merged, ways


@cache
def wide_garden() -> Ways:
    """The garden deck at 1.45 m, over glass and brackets only: the whole page takes a minute."""
    kept = moves.MAKERS
    moves.MAKERS = (moves._ends,)
    try:
        return ways(job_named("garden_deck"), ["panel width=1450 mm"])
    finally:
        moves.MAKERS = kept


def test_the_garden_deck_at_1450_says_which_glass_and_what_its_brackets_must_hold() -> None:
    """At 1.45 m the brackets exceed; they would have to hold 1.06 times 10 kN. 19 mm is the thinnest glass that does."""
    (way,) = wide_garden().found
    demands = {d.of: d.size for d in way.demands}
    assert demands["bracket at each end of each piece of blocking, pulled up"] == "11 kN"
    factor = max(line.eta or 0.0 for line in wide_garden().base.lines if line.id.startswith("blocking.end."))
    assert 10.0 * factor <= 11.0 < 10.0 * factor * 1.1  # two digits up, and no more
    (glass,) = [x for x in way.least if x.what == "glass"]
    assert glass.does == "19 mm" and glass.not_enough.startswith("15 mm leaves") and "movement" in glass.not_enough
    words = " ".join(sheet.ways_text(wide_garden()).split())
    assert "11 kN" in words and "19 mm; 15 mm leaves" in words and "No change is called safe" in words


def test_checking_the_changed_job_gives_the_same_numbers() -> None:
    (way,) = wide_garden().found
    again = check(wide_garden().result.job.with_(way.changes)).sound
    assert [(c.id, c.eta, str(c.ending)) for c in again.checks] == [(x.id, x.eta, x.ending) for x in way.outcome.lines]
    assert not way.outcome.exceeding


def test_six_changes_bring_the_everyday_deck_within() -> None:
    """What the page of the everyday deck finds; no part of the search is needed to look at it again."""
    job = job_named("everyday_deck")
    tables = tables_of(job)
    names = (
        "panel 700", "base plate half as large again both ways, its screws moved", "the ends", "one solid section 270",
        "glass of 25", "a liner",
    )  # fmt: skip
    every = moves_of(job, tables)
    chosen = [next(m for m in every if m.name.startswith(name)) for name in names]
    outcome = changed(job, merged(chosen), tables)
    assert not outcome.refused and not outcome.exceeding
    asked = {line.id for line in outcome.unknown}
    assert asked == {"actions.wind", "clamp.rating.M1", "clamp.rating.M2"}  # what no change answers stays not checked


def test_what_is_left_out_could_not_have_done(monkeypatch: pytest.MonkeyPatch) -> None:
    """Over a few changes of the everyday deck: with every set calculated the answer is the same, none of up to three does."""
    few = ("the ends", "one solid section 135", "glass of 19")
    job = job_named("everyday_deck")
    chosen = tuple(m for m in moves_of(job, tables_of(job)) if m.name.startswith(few))
    assert len(chosen) == 3
    monkeypatch.setattr(search, "moves_of", lambda job, tables: chosen)
    monkeypatch.setattr(search, "STARTS", 1)
    found, every = ways(job), ways(job, every=True)
    assert not found.found and not every.found
    assert every.counted == {1: (3, 3), 2: (3, 3), 3: (1, 1)} and found.counted[2][0] <= 3
    assert "no set of up to three of the listed changes leaves nothing exceeding" in " ".join(sheet.ways_text(every).split())
    assert "--every has all" in " ".join(sheet.ways_text(found).split())


def test_a_slice_of_the_proof_over_the_everyday_deck() -> None:
    """All 21 changes, 186 sets of two and 916 of three have been calculated: none does. Here every hundredth, by a walk of its own.

    How many there are, by counting: changes of the same thing are not made together.
    """
    job = job_named("everyday_deck")
    tables, memo = tables_of(job), Memo()
    every = moves_of(job, tables)
    pairs, triples = (list(search._sets(every, size)) for size in (2, 3))
    assert (len(every), len(pairs), len(triples)) == (21, 186, 916)
    alike = [sum(bool(a.touches & b.touches) for b in every if b is not a) for a in every]
    assert len(pairs) == 21 * 20 // 2 - sum(alike) // 2
    for chosen in [*pairs[::100], *triples[::100]]:
        outcome = changed(job, merged(chosen), tables, memo)
        assert outcome.refused or outcome.exceeding, [m.name for m in chosen]


def test_several_processes_find_what_one_finds(monkeypatch: pytest.MonkeyPatch) -> None:
    job = job_named("everyday_deck")
    chosen = tuple(m for m in moves_of(job, tables_of(job)) if m.name.startswith(("the ends", "one solid section 135")))
    monkeypatch.setattr(search, "moves_of", lambda job, tables: chosen)
    monkeypatch.setattr(search, "STARTS", 1)
    with workers(2) as pool, workers(1) as none:
        assert none is None and pool is not None
        apart = ways(job, every=True, executor=pool)
    here = ways(job, every=True)
    told = [[(t.names, t.left, t.outcome.lines) for t in found.singles] for found in (apart, here)]
    assert told[0] == told[1] and apart.counted == here.counted
    assert sheet.ways_text(apart) == sheet.ways_text(here)


def test_where_nothing_exceeds_there_is_nothing_to_get_out_of(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search, "moves_of", lambda job, tables: ())
    found = ways(job_named("garden_deck"))
    assert not found.found and "nothing exceeds" in sheet.ways_text(found)


@pytest.mark.parametrize("name", ["everyday_deck", "us_deck", "three_clamps_laminated", "boards_only"])
def test_every_change_is_one_the_job_file_takes(name: str) -> None:
    """A change the file would refuse is a fault of the list, but for what the job itself makes impossible."""
    job = job_named(name)
    for move in moves_of(job, tables_of(job)):
        job.with_(move.changes)


def test_the_least_is_found_behind_a_gap() -> None:
    """What does may begin, end and begin again: places between are looked at before anything is halved."""
    scale = Scale(0.0, 100.0, 1.0, lambda x: {"x": x}, "size")
    assert least_of(scale, lambda c: float(str(c["x"])) >= 37.0).does == "37 mm"
    gap = least_of(scale, lambda c: 20.0 <= float(str(c["x"])) <= 30.0 or float(str(c["x"])) >= 90.0)
    assert gap.does == "20 mm" and gap.not_enough == "19 mm"


def test_a_page_says_what_it_does_not_know() -> None:
    text = " ".join(sheet.ways_text(wide_garden()).split())
    assert "safe" not in text.replace("No change is called safe", "").replace("called safe", "")
    assert result_of("garden_deck").job.title in sheet.ways_html(wide_garden())
    assert sheet.ways_pdf(wide_garden()).startswith(b"%PDF") and "Ways out" in sheet.ways_markdown(wide_garden())
