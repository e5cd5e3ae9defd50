"""What walks share: the same answers with an empty memo and with one full of other jobs, bounded, and empty in a copy."""

from __future__ import annotations

import pickle

from conftest import job_named, sound

from barrier.job import Job
from barrier.links.memo import ROOM, SHARED, Memo
from barrier.load_path import check

# A change of everything an answer could depend on: each is walked with what all the others left behind.
CHANGES: dict[str, object] = {
    "panels.1.width": "1190 mm", "panels.1.height": "1051 mm", "panels.1.bottom_gap": "51 mm",
    "panels.1.layers.1.minimum": "11.0 mm",
    "mounts.M1.x": "190 mm", "mounts.M1.in_bay": "150 mm", "mounts.M1.offset": "5 mm", "mounts.M2.screws.S1.present": False,
    "mounts.M1.screws.S2.x": "30 mm", "mounts.M1.screw.length": "101 mm", "mounts.M1.screw.threaded": "61 mm",
    "mounts.M1.screw.diameter": "9 mm", "mounts.M1.plate.across": "156 mm", "mounts.M1.pads.1.top": "100 mm",
    "mounts.M1.pads.1.stiffness_high": "90 N/mm3", "decking.thickness": "29 mm", "decking.gap_under": "2 mm",
    "blocking.B1.width": "115 mm", "blocking.B1.material": {"en": "C16"}, "site.service_class": 2, "loads.line": "0.9 kN/m",
    "wind": {"pressure": "0.5 kN/m2", "reference": "a test"},
}  # fmt: skip


def figures(job: Job, memo: Memo) -> list[tuple[str, str, float | None]]:
    return [(c.id, str(c.ending), c.eta) for c in sound(job, memo).checks]


def test_a_memo_full_of_other_jobs_changes_no_answer() -> None:
    """A key that missed one of its inputs would hand out the answer of another job."""
    job = job_named("everyday_deck")
    shared = Memo(ROOM | {"solved": 32_000_000, "plate": 12_000_000})
    before = figures(job, shared)
    told = []
    for path, value in CHANGES.items():
        source = {"loads.reference": "a test"} if path == "loads.line" else {}
        changed = job.with_({"site.barrier_height": None, path: value, **source})
        full, fresh = figures(changed, shared), figures(changed, Memo())
        assert full == fresh, path
        told.append(full != before)
    assert sum(told) >= len(CHANGES) - 2  # nearly every one of them moves something
    assert figures(job, shared) == before


def test_laminated_glass_too() -> None:
    small = ROOM | {"laminate": 60_000_000}  # two of its three factorised ones: the test takes no more memory than it needs
    SHARED.clear("laminate", "layered")
    job, shared = job_named("au_laminated"), Memo(small)
    sound(job, shared)
    for change in ({"panels.1.interlayer.temperature": "20 degC"}, {"panels.1.layers.1.minimum": "9.0 mm"}):
        assert figures(job.with_(change), shared) == figures(job.with_(change), Memo(small | {"laminate": 0}))


def test_the_oldest_is_dropped_where_there_is_no_room() -> None:
    memo = Memo({"plate": 10})
    for key in "abc":
        memo.once("plate", key, 4, lambda key=key: key)  # type: ignore[misc]
    assert [memo.get("plate", key, str) for key in "abc"] == [None, "b", "c"]
    memo.once("plate", "large", 11, lambda: "large")
    assert memo.get("plate", "large", str) is None and memo.get("plate", "c", str) == "c"


def test_room_is_made_before_another_as_large_is_worked_out() -> None:
    """Of a room of 10 with 4 and 3 in it a third of 4 has no place: the oldest goes first, and not once it is there."""
    memo = Memo({"plate": 10})
    memo.make_room("plate")  # of nothing nothing is dropped
    memo.keep("plate", "a", "a", 4)
    memo.make_room("plate")
    assert memo.get("plate", "a", str) == "a"
    memo.keep("plate", "b", "b", 3)
    memo.make_room("plate")
    assert [memo.get("plate", key, str) for key in "ab"] == [None, "b"]
    memo.keep("plate", "c", "c", 7)
    assert [memo.get("plate", key, str) for key in "bc"] == ["b", "c"]


def test_a_copy_is_empty() -> None:
    check(job_named("boards_only"))
    copy = pickle.loads(pickle.dumps(SHARED))
    assert isinstance(copy, Memo) and copy.once("contact", "x", 1, lambda: 7) == 7
