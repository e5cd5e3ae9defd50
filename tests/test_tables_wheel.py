"""The tables travel with the package: a wheel is built, compared with the tree, and used from elsewhere."""

from __future__ import annotations

import importlib.util
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from barrier.tables import Tables

ROOT = Path(__file__).resolve().parents[1]
NEEDED = ("build", "hatchling")
BUILDABLE = all(importlib.util.find_spec(m) for m in NEEDED) and (ROOT / "pyproject.toml").is_file()

pytestmark = pytest.mark.skipif(not BUILDABLE, reason="needs the packages build and hatchling, and a source checkout")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from a copy of the tree, so that building leaves nothing behind."""
    tree = tmp_path_factory.mktemp("tree")
    shutil.copy(ROOT / "pyproject.toml", tree)
    for name in ("README.md", "LICENSE"):  # the build asks for them; what they say is not looked at here
        if (ROOT / name).is_file():
            shutil.copy(ROOT / name, tree)
        else:
            (tree / name).write_text("", "utf-8")
    for name in ("barrier", "tables", "worked_examples"):
        shutil.copytree(ROOT / name, tree / name, ignore=shutil.ignore_patterns("__pycache__"))
    out = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(out), str(tree)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert built.returncode == 0, built.stdout[-2000:] + built.stderr[-2000:]
    (found,) = out.glob("*.whl")
    return found


def test_the_wheel_holds_every_table_and_no_tables_of_its_own(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert {n for n in names if n.startswith("barrier/tables/")} == {
        f"barrier/tables/{f.name}" for f in (ROOT / "tables").iterdir() if f.is_file()
    }
    assert not [n for n in names if n.startswith(("tables/", "tests/"))]
    assert "barrier/tables.py" in names


def test_the_tables_are_read_from_the_wheel_even_beside_another_tables(wheel: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    (site / "tables").mkdir()  # a package of that name exists and may be installed in the same place
    (site / "tables" / "__init__.py").write_text("", "utf-8")
    code = (
        f"import sys; sys.path.insert(0, {str(site)!r}); import barrier.tables as t; "
        "print(t.__file__); print(t.root()); print(t.Tables().fingerprint())"
    )
    said = subprocess.run(
        [sys.executable, "-I", "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True
    ).stdout.split()
    assert said == [str(site / "barrier" / "tables.py"), str(site / "barrier" / "tables"), Tables().fingerprint()]


def test_a_missing_folder_is_said_plainly(wheel: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    shutil.rmtree(site / "barrier" / "tables")
    code = f"import sys; sys.path.insert(0, {str(site)!r}); import barrier.tables as t; t.root()"
    said = subprocess.run([sys.executable, "-I", "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert said.returncode != 0 and "the installation is incomplete" in said.stderr
