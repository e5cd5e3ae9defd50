"""Unknown is unknown: it is not checked, with the question to ask, and nothing of it collapses, misses or disappears.

Every entry that may be unknown is set so, one at a time, in every bundled job. The list is made from the schema.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from zlib import crc32

import pytest
from conftest import EXAMPLES, ROOT, SISTERS, job_named, result_of, sound

from barrier.basis import basis_named
from barrier.errors import JobRefused
from barrier.job import Job, read_job
from barrier.job.document import find
from barrier.job.entries import Entry
from barrier.job.written import UNKNOWN, Written, plain, sections
from barrier.links import Walk, walk_down
from barrier.links.asked import asked
from barrier.load_path import Result, Walked, check
from barrier.result import SOUND, Check, Ending, Lack, Standing
from barrier.sheet.drawings import elevation, plan, section

NAMES = [p.stem for p in EXAMPLES]
SAYS_SO = {"actions.barrier", "actions.wind"}  # there only where an action is not known, to say so
COLLAPSE = ("no timber", "no piece of timber", "misses", "holds nothing", "nothing resists", "let go", "lets go", "no equilibrium",
            "NO EQUILIBRIUM", "NOT REACH", "Missing")  # fmt: skip
# An entry whose unknown is answered by the worst it can be, listed as an assumption; everything else is not checked.
CAUTIOUS = {"wind.place": "the end of the run is assumed, where the wind is highest"}
# It informs, stands at 0.995 on its own bases and at 1.001 on the rigid ones that stand in for bases nobody knows.
RIGID = {"three_clamps_laminated": {"at_once.glass.face"}}


# Layers taken as sliding, where the film is not known, share the load otherwise among three clamps: what only informs may exceed.
def slides(path: str, id: str) -> bool:
    """Whether a check only informs and the entry is one of the film's."""
    return ".interlayer" in path and id.startswith("at_once.")


PAIRED = {"fixing": {"fixing": UNKNOWN}}  # an unknown fixing has neither rating nor size


def may_be_unknown(kind: Entry | None) -> bool:
    return kind is not None and bool(kind.unknown or UNKNOWN in getattr(kind, "choices", ()))


def entries(job: Job, wanted: bool = True) -> Iterator[tuple[str, dict[str, object]]]:
    """Every entry of a job that is known and may be unknown (or, not ``wanted``, has a default): path and change."""
    seen = set()
    for s in sections(job._origin.document):
        for key, (_, kind) in s.model.entries().items() if s.model is not None else ():
            node = s.get(key)
            chosen = may_be_unknown(kind) if wanted else kind is not None and kind.default is not None
            if node is None or not chosen or (isinstance(node, Written) and (node.raw == UNKNOWN or node.entry.defaulted)):
                continue
            path = node.entry.path if isinstance(node, Written) else node.path
            if path not in seen:
                seen.add(path)
                yield path, {s.path: PAIRED[key]} if key in PAIRED else {path: UNKNOWN}


# Jobs of one family of codes share out the entries that all of them have: each is tried in one.
FAMILIES = (("garden_deck", "everyday_deck", "boards_only"), ("australian_deck", "au_deck", "nz_deck"))


def own(name: str, wanted: bool = True) -> Iterator[tuple[str, dict[str, object]]]:
    """The entries of an example that are tried in it: not those that stand just so in the sister it was made from, and of those
    that others of its family have as well its share."""
    job, sister = job_named(name), SISTERS.get(name)
    told = {} if sister is None else {path: as_it_stands(job_named(sister), path) for path, _ in entries(job_named(sister), wanted)}
    family = next((f for f in FAMILIES if name in f), (name,))
    for path, change in entries(job, wanted):
        having = [n for n in family if kind_of(path) in kinds_in(n, wanted)]
        if name not in having or having[crc32(kind_of(path).encode()) % len(having)] != name:
            continue
        if told.get(path) is None or told[path] != as_it_stands(job, path):
            yield path, change


def kind_of(path: str) -> str:
    """An entry, whatever the mount, panel or piece is called that it belongs to."""
    return re.sub(r"\b(mount_types|mounts|panels|blocking|layers|pads|screws|bases)\.[^.]+", r"\1.*", path)


@cache
def kinds_in(name: str, wanted: bool) -> frozenset[str]:
    return frozenset(kind_of(path) for path, _ in entries(job_named(name), wanted))


@pytest.mark.parametrize("wanted", [True, False])
def test_every_kind_of_entry_is_tried_in_its_family(wanted: bool) -> None:
    for family in FAMILIES:
        tried = {kind_of(path) for name in family for path, _ in own(name, wanted)}
        assert tried == frozenset().union(*(kinds_in(name, wanted) for name in family))


def as_it_stands(job: Job, path: str) -> str:
    """An entry, or all that is in a table, as one text."""
    return repr(plain(find(job._origin.document, path)))


def checks_of(found: Result | Walked) -> tuple[Check, ...]:
    return found.sound.checks if isinstance(found, Result) else found.checks


def required(found: Result | Walked) -> dict[str, Check]:
    return {c.id: c for c in checks_of(found) if c.standing is Standing.REQUIRED}


def exceeding(found: Result | Walked) -> set[str]:
    return {c.id for c in checks_of(found) if c.ending is Ending.EXCEEDS}


def said(found: Result | Walked) -> set[str]:
    return {f.text for link in found.links for f in link.findings} | {c.reason for c in checks_of(found)}


def drawn(result: Result) -> set[str]:
    """Captions and words of the drawings that show what a mount stands on."""
    found = set()
    for module in (elevation, section, plan):
        for d in module.drawings(result):
            picture = d.draw()
            words = " ".join(re.findall(r">([^<>]+)</text>", picture.svg))  # a sentence may run over several lines
            found |= {str(d.caption), picture.alt, words}
    return found


def collapses(texts: set[str]) -> set[str]:
    return {t for t in texts if any(w in t for w in COLLAPSE)}


@pytest.mark.parametrize("name", NAMES)
def test_an_unknown_entry_is_not_checked_and_nothing_else(name: str) -> None:
    job, known = job_named(name), result_of(name)
    tried, refused = 0, []
    for path, change in own(name):
        try:
            result = sound(job.with_(change))
        except JobRefused as fault:  # what would stand without its pair: said in words, with the entry
            assert all(f.key and f.text for f in fault.faults), path
            refused.append(path)
            continue
        tried += 1
        assert required(result).keys() - SAYS_SO == required(known).keys() - SAYS_SO, path
        new = {id for id in exceeding(result) - exceeding(known) - RIGID.get(name, set()) if not slides(path, id)}
        cautious = any(CAUTIOUS.get(path, "\0") in a.reason for a in result.job.assumptions())
        assert not new or cautious, (path, new)
        assert cautious or collapses(said(result)) <= collapses(said(known)), path
        lost = {id for id, c in required(result).items() if c.ending is Ending.NOT_CHECKED and c.reason == ""}
        assert not lost, path
    assert tried >= (3 if name in SISTERS or name == "boards_only" else 12) and set(refused) <= {"wind.pressure", "wind.reference"}


@pytest.mark.parametrize("name", ["boards_only", "everyday_deck"])
def test_no_drawing_claims_more_of_what_is_unknown(name: str) -> None:
    job = job_named(name).with_({"situations": None})
    before, tried = collapses(drawn(check(job))), 0
    for path, change in entries(job):
        if path.startswith(("decking", "joists", "blocking")) or ".screw" in path or ".plate" in path:
            tried += 1
            assert collapses(drawn(check(job.with_(change)))) <= before, path
    assert tried >= 10


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"mount_types.post.screw.threaded": UNKNOWN}, "length of thread NOT KNOWN"),
        ({"decking.direction": UNKNOWN}, "Which way the boards run: NOT KNOWN"),
        ({"decking.gap_under": UNKNOWN}, "NOT KNOWN, drawn closed"),
        ({"panels.P1.layers.1.nominal": UNKNOWN}, "glass NOT KNOWN"),
        ({"mount_types.post.screw.length": UNKNOWN}, "is NOT KNOWN, drawn dashed"),
    ],
)
def test_a_drawing_says_what_is_unknown(change: dict[str, object], words: str) -> None:
    assert any(words in t for t in drawn(check(job_named("everyday_deck").with_(change))))


def test_an_unknown_thread_asks_for_the_thread() -> None:
    """Nobody knows whether the screws hold: no check says that they do not, and the reason says what to measure."""
    result = check(job_named("garden_deck").with_({"mount_types.deep.screw.threaded": UNKNOWN}))
    for id in ("base_plate.bed.M1", "screws.withdrawal.M1", "blocking.bending.M2", "movement.P3"):
        c = required(result)[id]
        assert (c.ending, c.lack) == (Ending.NOT_CHECKED, Lack.INPUT) and "screw.threaded); measure it" in c.reason, id
    # Where a screw stands in its piece needs no thread.
    assert required(result)["screws.edge.M1"].eta == required(result_of("garden_deck"))["screws.edge.M1"].eta


def test_a_mount_nobody_knows_enough_of_leaves_its_neighbour() -> None:
    """The neighbour is still checked; that the glass was solved with a rigid base instead of the unknown one is said aloud."""
    job = job_named("garden_deck").with_({"mounts.M1.screw.threaded": UNKNOWN})
    result = check(job)
    assert required(result)["screws.withdrawal.M1"].lack is Lack.INPUT and required(result)["screws.withdrawal.M2"].eta is not None
    loud = [f.text for link in result.links for f in link.findings if f.loud]
    assert any("Mount M1" in t and "rigid" in t for t in loud)


def test_a_screw_that_is_too_short_does_miss() -> None:
    """What geometry says stays said: screws that end in the boards hold nothing."""
    short = {"mount_types.post.screw.length": "36 mm", "mount_types.post.screw.threaded": "36 mm"}
    result = check(job_named("everyday_deck").with_(short))
    assert required(result)["screws.withdrawal.M1"].ending is Ending.EXCEEDS
    assert any("is in no timber" in t for t in said(result))
    assert required(result).keys() >= required(result_of("everyday_deck")).keys() - {
        f"screws.{rule}.{m}" for rule in ("a1", "a2") for m in ("M1", "M2")
    }
    assert required(result)["screws.sideways.M1"].ending is Ending.EXCEEDS  # and no input that somebody might still find
    c = required(result)["blocking.bending.M1"]
    assert c.lack is Lack.REACH and "no equilibrium" in c.reason


@pytest.mark.parametrize("name", NAMES)
def test_glass_of_an_unlisted_size_names_the_sizes(name: str) -> None:
    job = job_named(name)
    panel = job.panels[0].name
    result = check(job.with_({f"panels.{panel}.layers.1.nominal": "12.5 mm"}))
    assert required(result).keys() - SAYS_SO == required(result_of(name)).keys() - SAYS_SO
    face = required(result)["glass.face"]
    assert face.lack is Lack.INPUT and f"panels.{panel}.layers.1.nominal = 12.5 mm" in face.reason
    assert ("1/2 in" if job.basis == "us" else "12 mm, 15 mm, 19 mm") in face.reason and "minimum" in face.reason
    below = required(result)["base_plate.bed.M1"]
    assert below.reason == face.reason


def test_glass_of_unknown_thickness_with_a_known_minimum_is_checked() -> None:
    """The strength rests on the minimum; the supplier's rating, which is for one nominal thickness, stays open."""
    job = job_named("garden_deck")
    minimum = {"panels.P3.layers.1.minimum": "18.0 mm"}
    known, unknown = (check(job.with_({**minimum, **c})) for c in ({}, {"panels.P3.layers.1.nominal": UNKNOWN}))
    assert required(unknown)["glass.face"].eta == required(known)["glass.face"].eta
    assert required(unknown)["clamp.rating.M1"].lack is Lack.INPUT


def test_a_tension_shown_over_a_bed_of_unknown_strength_says_that_it_is_the_least() -> None:
    """A bed that yields moves its pressure in from the edge: the arm is shorter and the screws are pulled harder."""
    known, unknown = result_of("everyday_deck").sound, sound(job_named("everyday_deck").with_({"decking.direction": UNKNOWN}))
    own, least = (
        next(s for link in w.links for s in link.shown if s.title == "screw tension of mount M1") for w in (known, unknown)
    )
    assert not own.remark and least.remark.startswith("on a bed that never yields")
    assert least.value.at(0) < 0.999 * own.value.at(0)


def test_an_unknown_load_keeps_what_must_be_checked() -> None:
    job = job_named("everyday_deck")
    result = check(job.with_({"national": UNKNOWN}))
    assert required(result).keys() - SAYS_SO == required(result_of("everyday_deck")).keys() - SAYS_SO
    assert "national" in required(result)["blocking.end.left.uplift.M1"].reason
    assert not exceeding(result) - exceeding(result_of("everyday_deck"))


@pytest.mark.parametrize("name", [n for n in NAMES if "laminated" not in n])
def test_what_must_be_checked_does_not_depend_on_defaults(name: str) -> None:
    """Where unknown is answered by a cautious assumption it may well exceed; the assumption is listed, no check is gone."""
    job, known = job_named(name), result_of(name)
    shape = ("support", "laid", "laminated", "present", "pads", "drilled", "units", "basis", "invented", "standing")
    for path, change in own(name, wanted=False):
        if path.rsplit(".", 1)[-1] in shape or path.startswith("bases"):
            continue  # these say what is there, not how large or strong it is
        try:
            result = sound(job.with_(change))
        except JobRefused as fault:
            assert all(f.key and f.text for f in fault.faults), path
            continue
        assert required(result).keys() - SAYS_SO == required(known).keys() - SAYS_SO, path
        tail = path.rsplit(".", 1)[-1]
        assert any(a.path.endswith(tail) for a in result.job.assumptions()), path


@pytest.mark.parametrize("name", [n for n in NAMES if n not in SISTERS])
def test_what_must_be_checked_does_not_depend_on_the_size_of_the_load(name: str) -> None:
    """Everything lets go: the checks below stand as not reached, each with what let go. Small loads: ``test_scaled``."""

    def loaded(factor: float) -> Walked:
        return sound(job_named(name).with_({
            "loads.line": f"{0.74 * factor:g} kN/m", "loads.infill": f"{1.0 * factor:g} kN/m2",
            "loads.point": f"{0.5 * factor:g} kN", "loads.reference": "drawn for this test",
        }))  # fmt: skip

    once, found = required(loaded(1.0)), required(loaded(20.0))
    assert found.keys() == once.keys()
    for c in found.values():
        assert c.lack is not Lack.REACH or "no equilibrium" in c.reason, c.id


# ---------------------------------------------------------------- the list and the links

GROUNDS: dict[str, dict[str, object]] = {
    "as it is": {},
    "one piece": {"blocking.B1.pieces": 1},
    "factory": {"blocking.B1.laminated": "factory"},
    "across": {"blocking.B1.direction": "across", "joists.direction": "along"},
    "edge joist": {
        "mounts.M1.support": "edge joist", "mounts.M1.blocking": None, "joists.width": "145 mm", "joists.spacing": "600 mm",
        "joists.restraint_spacing": "600 mm",
    },
    "edge joist, nothing known": {"mounts.M1.support": "edge joist", "mounts.M1.blocking": None},
    "boards": {"mounts.M1.support": "decking only", "mounts.M1.blocking": None, "decking.board_screws": {
        "number": 2, "diameter": "5 mm", "length": "70 mm"}},
    "screws too short": {"mounts.M1.screw.length": "36 mm", "mounts.M1.screw.threaded": "36 mm"},
}  # fmt: skip


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("name", ["garden_deck", "everyday_deck", "us_deck", "au_deck", "nz_deck"])
def test_the_list_is_what_the_links_make(name: str, ground: str) -> None:
    """No link makes a required check that is not asked for, nothing asked for has another title, and where nothing is
    missing and nothing lets go the links make them all."""
    job = job_named(name).with_(GROUNDS[ground])
    walk = Walk(job, basis_named(job.basis, job.national, _tables(job)), _tables(job), SOUND)
    results, _ = walk_down(walk, whole=False)
    made = {c.id: c for r in results for c in r.checks if c.standing is Standing.REQUIRED and c.id not in SAYS_SO}
    wanted = {a.id: a for a in asked(walk)}
    assert made.keys() <= wanted.keys()
    assert {id: c.title for id, c in made.items()} == {id: wanted[id].title for id in made}
    for id, a in wanted.items():
        assert a.link in {r.id for r in results}, id
    if name == "garden_deck" and ground == "as it is":
        assert made.keys() == wanted.keys()


def _tables(job: Job):  # type: ignore[no-untyped-def]
    from barrier.tables import Tables

    return Tables(())


def test_every_check_that_was_not_made_says_why() -> None:
    """The reasons: an input that is missing, or what let go, and never one for the other."""
    heavy = check(job_named("everyday_deck").with_({"loads.line": "20 kN/m", "loads.reference": "drawn for this test"}))
    lag = read_job(ROOT / "tests" / "data" / "us_lag_deck.toml")
    unknown = check(lag.with_({"decking.gap_under": UNKNOWN}))
    below = [c for c in required(heavy).values() if c.id.startswith("blocking.")]
    assert {c.id for c in below} == {id for id in required(result_of("everyday_deck")) if id.startswith("blocking.")}
    assert len(below) > 10 and not [(c.id, c.reason) for c in below if c.lack is not Lack.REACH]
    for c in required(unknown).values():
        if c.id.startswith(("blocking.", "base_plate.", "bearing.")):
            assert c.lack is Lack.INPUT and "gap_under" in c.reason, c.id
