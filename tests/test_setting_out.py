"""What contradicts itself below the glass is refused; what may stand so and looks wrong is said aloud.

A mount about 150 mm from the end of its glass and joists at 450 mm are common practice, no source.
"""

from __future__ import annotations

import pytest
from conftest import ONE_LAMINATED, job_named, sound

from barrier.basis import basis_named
from barrier.errors import JobRefused
from barrier.job import Job
from barrier.links import Walk
from barrier.links.setting_out import setting_out
from barrier.result import SOUND, Finding
from barrier.tables import Tables


def found(job: Job) -> list[Finding]:
    tables = Tables()
    return list(setting_out(Walk(job, basis_named(job.basis, job.national, tables), tables, SOUND)))


@pytest.mark.parametrize("name", [p.stem for p in ONE_LAMINATED])
def test_worked_examples_are_set_out_without_a_finding(name: str) -> None:
    assert found(job_named(name)) == []


def test_a_wider_panel_on_the_mounts_of_a_narrower_sticks_out() -> None:
    """1,450 mm of glass on mounts set for 1,200: 375 mm beyond the last one, where 125 are left at the other end."""
    wide = job_named("everyday_deck").with_({"panels.1.width": "1450 mm"})
    (finding,) = found(wide)
    assert finding.loud and "beyond mount M2 at its right end" in finding.text and "set for another panel" in finding.text
    assert finding.length is not None and finding.length.at(0) == 150.0
    link = next(r for r in sound(wide).links if r.id == "acceptance")
    assert finding.text in {f.text for f in link.findings}
    # As far at both ends is as much glass in the air, and no slip of the tape.
    both = job_named("everyday_deck").with_({"panels.1.width": "1700 mm", "mounts.M1.x": "425 mm", "mounts.M2.x": "1275 mm"})
    assert len(found(both)) == 2 and not any("another panel" in f.text for f in found(both))


def test_bays_that_overlap_are_said() -> None:
    """Blocking from 10 to 415 mm for the one mount, from 310 to 715 mm for the other."""
    near = {"mounts.M1.x": "210 mm", "mounts.M2.x": "510 mm", "panels.1.width": "720 mm"}
    assert [f.text for f in found(job_named("everyday_deck").with_(near)) if "overlap" in f.text]
    apart = {**near, "mounts.M2.x": "660 mm", "panels.1.width": "870 mm"}  # from 460 mm: the next bay
    assert not [f.text for f in found(job_named("everyday_deck").with_(apart)) if "overlap" in f.text]


def test_blocking_that_does_not_reach_its_joists_is_said() -> None:
    short = job_named("everyday_deck").with_({"blocking.B1.length": "380 mm"})
    assert any("shorter than the clear way" in f.text and f.loud for f in found(short))
    assumed = job_named("everyday_deck").with_({"joists.spacing": None, "blocking.B1.length": "555 mm"})
    assert any("measure joists.spacing" in f.text and f.loud for f in found(assumed))


REFUSED: dict[str, tuple[dict[str, object], str, str]] = {
    "one blocking for both": ({"mounts.M2.blocking": "B1"}, "mounts.M2.in_bay", "850 mm apart along the glass"),
    "joists at 200": ({"joists.spacing": "200 mm"}, "blocking.B1.length", "155 mm between them"),
    "joists along": ({"joists.direction": "along"}, "blocking.B1.direction", "from one joist to the next"),
    "plate over plate": ({"mounts.M2.x": "270 mm"}, "mounts.M2.x", "base plate of mount M2 over"),
    "across, one blocking": (
        {"mounts.M2.blocking": "B1", "blocking.B1.direction": "across", "joists.direction": "along"},
        "mounts.M2.offset", "850 mm apart along the glass",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_stand_so_is_refused_in_words(name: str) -> None:
    changes, key, words = REFUSED[name]
    with pytest.raises(JobRefused) as refused:
        job_named("everyday_deck").with_(changes)
    assert any(f.key.endswith(key) and words in f.text for f in refused.value.faults), str(refused.value)


def test_two_mounts_may_share_a_blocking_where_the_tape_agrees() -> None:
    """A long bay: both in it, as far apart on the blocking as along the glass; or of two panels, each in its own place."""
    shared = {
        "mounts.M2.blocking": "B1", "blocking.B1.length": "1155 mm", "joists.spacing": "1200 mm",
        "mounts.M1.in_bay": "150 mm", "mounts.M2.in_bay": "1000 mm",
    }  # fmt: skip
    assert found(job_named("everyday_deck").with_(shared)) == []
    with pytest.raises(JobRefused, match="150 mm apart on the one blocking"):
        job_named("everyday_deck").with_({**shared, "mounts.M2.in_bay": "300 mm"})


def test_a_deck_with_mounts_on_two_sides_has_blocking_both_ways() -> None:
    """The joists run one way for both sides: where blocking runs both ways, neither is refused for it."""
    both = job_named("everyday_deck").with_(
        {"blocking.B2": {**job_named("everyday_deck").raw["blocking"]["B1"], "direction": "across"}}
    )
    assert {b.direction for b in both.blocking.values()} == {"along", "across"}
