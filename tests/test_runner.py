"""Many changed copies of a job: equal whatever walks them, kept in a file, resumed after a kill, damaged lines walked again."""

from __future__ import annotations

import subprocess
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import pytest
from conftest import ROOT, job_named

from barrier.tables import Tables
from barrier.ways import runner
from barrier.ways.outcome import changed, read
from barrier.ways.runner import grid, run


def _variants(name: str = "us_deck") -> list[dict[str, object]]:
    job = job_named(name)
    kind = job.mounts[0].type
    lengths = [f"{float(job.mounts[0].screw.length.x) - 10 * i:g} mm" for i in range(3)]
    return grid(**{f"mount_types.{kind}.plate.thickness": ["12 mm", "16 mm"], f"mount_types.{kind}.screw.length": lengths})


def test_shared_work_gives_the_same_bits_as_none_shared() -> None:
    """Walked in a row with one memo, and each on its own with fresh tables."""
    job = job_named("us_deck")
    together = run(job, _variants())
    assert not any(o.refused for o in together)
    alone = [changed(job, dict(o.changes), Tables()) for o in together]
    assert [o.lines for o in together] == [o.lines for o in alone]


def test_two_processes_give_what_one_gives(tmp_path: Path) -> None:
    """A slice of the fifty in ``tests/benchmarks/bench_pool.py``."""
    job, variants = job_named("everyday_deck"), _variants("everyday_deck")
    with ProcessPoolExecutor(2) as pool:
        apart = run(job, variants, executor=pool, file=tmp_path / "apart.jsonl")
    assert apart == run(job, variants, file=tmp_path / "here.jsonl")
    assert (tmp_path / "apart.jsonl").read_bytes() == (tmp_path / "here.jsonl").read_bytes()


def test_a_killed_study_goes_on_and_ends_in_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Killed in the middle, run again: what was done is not done again, and the file is that of an uninterrupted run."""
    job, variants = job_named("us_deck"), _variants()
    run(job, variants, file=tmp_path / "whole.jsonl")
    code = (
        "import sys; sys.path[:0] = ['tests', '.']\n"
        "from test_runner import _variants\nfrom conftest import job_named\nfrom barrier.ways.runner import run\n"
        f"run(job_named('us_deck'), _variants(), file={str(tmp_path / 'cut.jsonl')!r})"
    )
    cut = tmp_path / "cut.jsonl"
    running = subprocess.Popen([sys.executable, "-c", code], cwd=ROOT)
    while not cut.exists() or cut.read_bytes().count(b"seal") < 2:
        assert running.poll() is None, "it was done before it could be killed"
        time.sleep(0.005)
    running.kill()
    running.wait()
    done = {line for line in cut.read_bytes().split(b"\n") if line.strip()}
    walked: list[str] = []
    real = runner.changed
    monkeypatch.setattr(runner, "changed", lambda *args: (walked.append(args[4]), real(*args))[1])
    run(job, variants, file=cut)
    kept = {read(line.decode()).key for line in done if line.endswith(b"}")}
    assert len(kept) >= 2 and len(walked) == len(variants) - len(kept) and not kept & set(walked)
    assert cut.read_bytes() == (tmp_path / "whole.jsonl").read_bytes()


@pytest.mark.parametrize("harm", ["cut", "figure", "letter"])
def test_a_damaged_line_is_named_and_walked_again(tmp_path: Path, harm: str) -> None:
    job, variants = job_named("us_deck"), _variants()[:2]
    file = tmp_path / "study.jsonl"
    run(job, variants, file=file)
    whole = file.read_bytes()
    first, second = whole.splitlines()
    bad = {"cut": second[:-40], "figure": second.replace(b'"eta": 0.', b'"eta": 0.1', 1), "letter": b"\xff" + second}[harm]
    file.write_bytes(first + b"\n" + bad + b"\n")
    said: list[str] = []
    run(job, variants, file=file, said=said.append)
    assert len(said) == 1 and "study.jsonl:2: this line is damaged" in said[0]
    assert file.read_bytes() == whole


def test_a_variant_the_file_would_refuse_is_an_outcome_that_says_so() -> None:
    (outcome,) = run(job_named("us_deck"), [{"panels.1.width": "5 mm"}])
    assert "width" in outcome.refused and not outcome.lines


def test_progress_is_told() -> None:
    told: list[tuple[int, int]] = []
    run(job_named("us_deck"), _variants()[:1], progress=lambda done, of: told.append((done, of)))
    assert told == [(0, 1), (1, 1)]


def test_a_local_cluster_gives_what_one_process_gives(tmp_path: Path) -> None:
    """The executor of dask.distributed is one of ``concurrent.futures``: a worker of its own process, the same bytes."""
    distributed = pytest.importorskip("distributed", reason="distributed is not installed: pip install 'barrier-loadwalk[cluster]'")
    job, variants = job_named("us_deck"), _variants()[:3]
    how = {"n_workers": 1, "threads_per_worker": 1, "dashboard_address": None, "local_directory": str(tmp_path)}
    with distributed.LocalCluster(**how) as cluster, distributed.Client(cluster) as client:
        apart = run(job, variants, executor=client.get_executor(), file=tmp_path / "cluster.jsonl")
    assert apart == run(job, variants, file=tmp_path / "here.jsonl")
    assert (tmp_path / "cluster.jsonl").read_bytes() == (tmp_path / "here.jsonl").read_bytes()
