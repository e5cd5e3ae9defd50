"""The README does what it says: its Python runs, its commands exist, its words about the examples hold."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from conftest import ROOT, result_of

from barrier.cli import main
from barrier.result import Ending, Standing

README = (ROOT / "README.md").read_text(encoding="utf-8")
FOUND = re.findall(r"```python\n(.*?)```", README, re.S)
BLOCKS = [FOUND[0] + FOUND[1], *FOUND[2:]]  # the second goes on where the first ends


def test_there_are_python_blocks() -> None:
    assert len(FOUND) == 3


@pytest.mark.parametrize("block", BLOCKS)
def test_python_of_the_readme_runs(block: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copy(ROOT / "worked_examples" / "garden_deck.toml", tmp_path / "job.toml")
    monkeypatch.chdir(tmp_path)
    scope: dict[str, object] = {}
    exec(compile(block, "README.md", "exec"), scope)
    if "again" in scope:
        assert scope["again"].eta == pytest.approx(1.0, rel=1e-9)  # type: ignore[attr-defined]
    if "solution" in scope:
        assert np.allclose(scope["solution"].Mx, 540_000, rtol=1e-6)  # type: ignore[attr-defined]
        assert np.allclose(scope["tensions"], [0, 3710, 0, 3710], atol=1)  # type: ignore[arg-type]


@pytest.mark.parametrize("command", sorted(set(re.findall(r"`barrier ([a-z]+)", README))))
def test_every_command_of_the_readme_exists(command: str) -> None:
    done = CliRunner().invoke(main, [command, "--help"])
    assert done.exit_code == 0, done.output


def test_what_the_readme_says_of_the_two_examples() -> None:
    assert result_of("garden_deck").ending is Ending.WITHIN
    everyday = result_of("everyday_deck").sound
    edge = next(c for c in everyday.checks if c.id == "screws.edge.M1")
    assert edge.resistance is not None and edge.resistance.x == pytest.approx(12.5 - 5.0)  # site tolerance taken off
    ends = [c for c in everyday.checks if c.id.startswith("blocking.end") and c.standing is Standing.REQUIRED]
    held = [c for c in ends if c.id.split(".")[3] in ("uplift", "down") and "splitting" not in c.id]
    assert len(held) == 8 and all(c.ending is Ending.EXCEEDS for c in held)  # up and down, left and right, both mounts
    assert not any(c.ending is Ending.WITHIN for c in ends if ".splitting.down." not in c.id)


def test_the_piece_of_a_sheet_in_the_readme_is_one() -> None:
    """Line by line it stands so in the sheet of the everyday deck."""
    (block,) = re.findall(r"```text\n(.*?)```", README, re.S)
    printed = (ROOT / "tests" / "golden" / "everyday_deck.txt").read_text(encoding="utf-8")
    parts = [part.strip("\n") for part in block.split("...\n")]
    assert len(parts) == 2 and all(part in printed for part in parts)
