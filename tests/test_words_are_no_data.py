"""Words are for readers: with every title and label of a result turned to nonsense, everything else says the same."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import fields, is_dataclass, replace
from functools import cache

import pytest
from conftest import ONE_LAMINATED, job_named, result_of

from barrier.load_path import Result, Walked, check
from barrier.result import About, Check, LinkResult, Shown
from barrier.sheet.alike import alike, shown_alike
from barrier.sheet.blocks import Token
from barrier.sheet.content import at_once, next_steps, short
from barrier.sheet.content.at_once import worst_of
from barrier.sheet.content.calculation import calculate
from barrier.sheet.content.origins import design_action, load_of
from barrier.sheet.drawings import forces
from barrier.sheet.drawings.forces import worst_of as worst_at
from barrier.sheet.source import source
from barrier.sheet.studies.changes import told

NAMES = ("garden_deck", "everyday_deck", "us_deck")


def nonsense(text: str) -> str:
    """A word that says nothing, another for each text; empty stays empty."""
    return "".join(chr(ord("g") + int(c, 16)) for c in hashlib.sha256(text.encode()).hexdigest()[:12]) if text else ""


def _check(c: Check) -> Check:
    return replace(c, title=nonsense(c.title), where=nonsense(c.where))


def _shown(s: Shown) -> Shown:
    return replace(s, title=nonsense(s.title), remark=nonsense(s.remark))


def _link(link: LinkResult) -> LinkResult:
    checks, shown = tuple(map(_check, link.checks)), tuple(map(_shown, link.shown))
    return replace(link, title=nonsense(link.title), checks=checks, shown=shown)


def _walked(w: Walked) -> Walked:
    situation = replace(w.situation, words=nonsense(w.situation.words))
    return replace(w, situation=situation, links=tuple(map(_link, w.links)))


@cache
def garbled(name: str) -> Result:
    """A bundled result with all its words turned to nonsense."""
    found = result_of(name)
    return replace(found, walked=tuple(map(_walked, found.walked)))


def _ids(checks: Iterable[Check]) -> list[str]:
    return [c.id for c in checks]


@pytest.mark.parametrize("name", NAMES)
def test_the_same_is_grouped(name: str) -> None:
    for said, dumb in zip(result_of(name).walked, garbled(name).walked, strict=True):
        assert {k: c.id for k, c in alike(said).first.items()} == {k: c.id for k, c in alike(dumb).first.items()}
        for a, b in zip(said.links, dumb.links, strict=True):
            assert list(shown_alike(a.shown)) == list(shown_alike(b.shown))
        missing = [[c for c in w.checks if c.eta is None] for w in (said, dumb)]
        told_of = [short.titles(w, checks).count("; ") for w, checks in zip((said, dumb), missing, strict=True)]
        assert told_of[0] == told_of[1]


@pytest.mark.parametrize("name", NAMES)
def test_the_same_governs_under_the_same_load(name: str) -> None:
    said, dumb = result_of(name), garbled(name)
    assert said.governing is not None
    assert dumb.governing is not None
    assert said.governing.id == dumb.governing.id
    a, b = load_of(said, said.governing), load_of(dumb, dumb.governing)
    assert a is not None
    assert b is not None
    assert a.id == b.id
    forces = design_action(said, a), design_action(dumb, b)
    assert all(f is not None for f in forces)
    assert forces[0] is forces[1]


@pytest.mark.parametrize("name", NAMES)
def test_the_same_is_written_out(name: str) -> None:
    a, b = calculate(result_of(name)), calculate(garbled(name))
    assert len(a.ledger.items) == len(b.ledger.items)
    for (_, left), (_, right) in zip(a.links, b.links, strict=True):
        assert [w.repeats is None for w in left] == [w.repeats is None for w in right]


@pytest.mark.parametrize("name", NAMES)
def test_the_same_is_weakest_changes_and_travels(name: str) -> None:
    said, dumb = result_of(name), garbled(name)
    for mount in said.job.mounts:
        for part in ("screws", "bearing", "blocking", "joist"):
            worst = [worst_at(r.sound, [(part,)], mount.name) for r in (said, dumb)]
            assert (worst[0] and worst[0].id) == (worst[1] and worst[1].id)
    assert source(said)["situations"] == source(dumb)["situations"]
    for w, v in zip(said.walked[1:], dumb.walked[1:], strict=True):
        assert len(told(said.sound, w)) == len(told(dumb.sound, v))
    both = [worst_of(r.sound.checks) for r in (said, dumb)]
    assert (both[0] and both[0].id) == (both[1] and both[1].id)


@pytest.mark.parametrize("path", ONE_LAMINATED, ids=lambda p: p.stem)
def test_an_id_stands_once(path) -> None:  # type: ignore[no-untyped-def]
    for walked in result_of(path.stem).walked:
        ids = _ids(walked.checks)
        assert len(ids) == len(set(ids)), sorted(i for i in ids if ids.count(i) > 1)
        assert all(c.title for c in walked.checks)
        assert len(ids) == len({c.about for c in walked.checks})


def test_two_panels_have_ids_of_their_own() -> None:
    """Everything of glass, mounts and movement stands once for each of two panels, and says which it is of."""
    base = job_named("garden_deck")
    panel, mounts = base.raw["panels"][0], base.raw["mounts"]
    panels = [{**panel, "name": name} for name in ("A", "B")]
    both = [
        {**m, "name": f"{m['name']}{p['name']}", "panel": p["name"], "blocking": f"{m['blocking']}{p['name']}"}
        for p in panels
        for m in mounts
    ]
    wood = {f"blocking.{m['blocking']}{p['name']}": {"same_as": m["blocking"]} for p in panels for m in mounts}
    result = check(base.with_({"panels": panels, "mounts": both, **wood}))
    names = {p.name for p in result.job.panels} | {m.name for m in result.job.mounts}
    for walked in result.walked:
        ids = _ids(walked.checks)
        assert len(ids) == len(set(ids)) == len({c.about for c in walked.checks})
        assert {"glass.face.A", "glass.face.B", "movement.A", "movement.B"} <= set(ids)
        assert all((c.about.panel or c.about.mount) in names for c in walked.checks)


@pytest.mark.parametrize("name", NAMES)
def test_nobody_reads_an_id(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With every id turned to nonsense as well, the same is grouped, told, weakest and asked about, and the same is drawn."""
    said, dumb = result_of(name), garbled(name)
    a = _told(said)
    ids = [c.id for w in said.walked for c in w.checks]
    with monkeypatch.context() as patch:
        own = About.id.fget  # type: ignore[attr-defined]
        patch.setattr(About, "id", property(lambda about: nonsense(own(about))))
        b, c = _told(said), _told(dumb)
    for id in ids:  # a picture names what it draws by the id of its check
        b = [text.replace(nonsense(id), id) for text in b]
    assert a == b
    assert _shape(a) == _shape(c)


def _told(result: Result) -> list[str]:
    """What the sheet says that does not print ids: front page, next steps, what changed, table of both at once, chain of forces."""
    made = [*next_steps.blocks(result), *at_once.blocks(result)]
    words = [short.titles(w, [c for c in w.checks if c.eta is None]) for w in result.walked]
    pictures = [d.draw().svg for d in forces.drawings(result)]
    return [*map(_words_of, made), *words, *(str(told(result.sound, w)) for w in result.walked[1:]), *pictures]


def _words_of(block: object) -> str:
    """The words of a block, its numbers by what they are and not by where they stand in memory."""
    if isinstance(block, str):
        return block
    if isinstance(block, tuple | list):
        return "|".join(map(_words_of, block))
    if is_dataclass(block) and type(block).__module__ == "barrier.sheet.blocks" and not isinstance(block, Token):
        return "|".join(_words_of(getattr(block, f.name)) for f in fields(block))
    return f"{block.value.at(block.station):.6g}" if isinstance(block, Token) else ""


def _shape(told_: list[str]) -> list[int]:
    """How many pieces are told in each place, whatever their words."""
    return [t.count("; ") for t in told_ if not t.startswith("<svg")]
