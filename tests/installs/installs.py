"""Wheel and source archive built and tried in bare environments: a script, for a machine with a network.

    python tests/installs/installs.py --work /somewhere --python python3.11 python3.12

It builds both archives twice and compares them byte for byte, looks at what they hold and how large they are, and for each
Python that is there makes an environment, installs one archive with what it needs, cuts the network off (a proxy that is
none), goes to an empty folder without a home, and asks for the version, a new job, its sheet in every format, the teaching
pages and a sheet verified. Wheels only: nothing is compiled. For the oldest Python the oldest allowed libraries as well; the
text sheets of all must be the same, byte for byte.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import re
import shutil
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
EXCEEDS_OR_SO = (0, 1, 3)  # exit codes of a sheet that was made


def said(*command: str | Path, cwd: Path, env: dict[str, str] | None = None, ends: tuple[int, ...] = (0,)) -> str:
    """What a command prints; it must end with one of the codes."""
    done = subprocess.run([str(c) for c in command], cwd=cwd, env=env, capture_output=True, text=True, timeout=1800, check=False)
    if done.returncode not in ends:
        raise SystemExit(f"{command}: exit {done.returncode}\n{done.stdout[-3000:]}\n{done.stderr[-3000:]}")
    return done.stdout


def built(work: Path, name: str) -> tuple[Path, Path]:
    """Wheel and source archive of a copy of the tree, as a packager makes them."""
    tree, out = work / f"tree {name}", work / f"dist {name}"
    shutil.copytree(ROOT, tree, ignore=shutil.ignore_patterns(".git", "__pycache__", ".*_cache", "dist", "*.egg-info"))
    said(sys.executable, "-m", "build", "--no-isolation", "--outdir", out, tree, cwd=work)
    (wheel,), (source,) = out.glob("*.whl"), out.glob("*.tar.gz")
    return wheel, source


def holds(wheel: Path, source: Path) -> None:
    """What must be in both, and what must not."""
    names = zipfile.ZipFile(wheel).namelist()
    for wanted in ("barrier/tables/index.toml", "barrier/sheet/formats/fonts/OFL.txt", "barrier/worked_examples/garden_deck.toml"):
        assert wanted in names, wanted
    assert any(n.endswith("/licenses/LICENSE") for n in names) and any(n.endswith("/OFL.txt") and "licenses" in n for n in names)
    assert not [n for n in names if n.startswith(("tests/", "tables/"))], "tests or a second set of tables in the wheel"
    with tarfile.open(source) as archive:
        archived = archive.getnames()
    assert any(n.endswith("tests/test_cli.py") for n in archived) and any(n.endswith("tables/site.csv") for n in archived)


def oldest() -> list[str]:
    """Each library at the lowest release the project allows, as a pin of pip: >=1.26 as ==1.26.*, and its newest repair."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    found = [re.match(r"([\w-]+)>=([\d.]+)", d) for d in project["dependencies"]]
    return [f"{m[1]}=={m[2]}.*" for m in found if m is not None]


def tried(work: Path, python: str, archive: Path, pins: list[str], name: str) -> str:
    """Install an archive in an environment of its own and use it from an empty folder; the text sheet."""
    place, folder = work / f"env {name}", work / f"empty folder {name}"
    folder.mkdir()
    said(python, "-m", "venv", place, cwd=work)
    pip = [place / "bin" / "python", "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if archive.suffix == ".gz":
        said(*pip, "hatchling>=1.27", cwd=work)
        pip.append("--no-build-isolation")
    said(*pip, "--prefer-binary", "--only-binary", "numpy,scipy,pandas,pydantic-core,contourpy,typst", archive, *pins, cwd=work)
    env = {
        "PATH": "/usr/bin:/bin",
        "OPENBLAS_NUM_THREADS": "1",
        "https_proxy": "http://127.0.0.1:9",
        "http_proxy": "http://127.0.0.1:9",
    }
    barrier = place / "bin" / "barrier"
    version = said(barrier, "--version", cwd=folder, env=env).strip()
    said(barrier, "new", "--example", cwd=folder, env=env)
    for form in ("text", "markdown", "html", "json", "pdf"):
        said(barrier, "check", "job.toml", "--format", form, "--output", f"sheet.{form}", cwd=folder, env=env, ends=EXCEEDS_OR_SO)
    for page in ("ladder", "faults", "compare"):
        said(barrier, page, "job.toml", "--output", f"{page}.txt", cwd=folder, env=env)
    verdict = said(barrier, "verify", "sheet.html", cwd=folder, env=env).strip().splitlines()[-1]
    listed = said(place / "bin" / "python", "-m", "pip", "list", "--format", "freeze", cwd=work)
    print(f"{name}: {version}; verify: {verdict}")
    print("   ", " ".join(line for line in listed.split() if not line.startswith(("pip=", "setuptools"))), flush=True)
    return (folder / "sheet.text").read_text(encoding="utf-8")


def beside(first: str, other: str) -> str:
    """How two text sheets differ: not at all, or where they first do."""
    if first == other:
        return "the same, byte for byte"
    lines, others = first.splitlines(), other.splitlines()
    apart = next(((a, b) for a, b in zip(lines, others, strict=False) if a != b), ("", f"{len(lines)} and {len(others)} lines"))
    return f"NOT THE SAME: {apart[0].strip()} | {apart[1].strip()}"


def main() -> None:
    """See the head of the file."""
    asked = argparse.ArgumentParser(description="Wheel and source archive built and tried in bare environments.")
    asked.add_argument("--work", type=Path, required=True, help="an empty folder, made where it is not there")
    asked.add_argument("--python", nargs="+", default=["python3.11", "python3.12", "python3.13", "python3.14"])
    given = asked.parse_args()
    work = given.work.resolve()
    work.mkdir(parents=True)
    os.environ.pop("PYTHONPATH", None)
    wheel, source = built(work, "one")
    for a, b in zip((wheel, source), built(work, "two"), strict=True):
        prints = [hashlib.sha256(p.read_bytes()).hexdigest()[:16] for p in (a, b)]
        alike = "the same" if prints[0] == prints[1] else "NOT THE SAME"
        print(f"{a.name}: {a.stat().st_size / 1e3:.0f} kB, built twice {alike} {prints}")
    holds(wheel, source)
    there = [
        p for p in given.python if shutil.which(p) and not subprocess.run([p, "-V"], capture_output=True, check=False).returncode
    ]
    print("not on this machine:", ", ".join(p for p in given.python if p not in there) or "none")
    sheets = {f"{Path(p).name}, newest": tried(work, p, wheel, [], f"{Path(p).name}, newest") for p in there}
    sheets["source archive"] = tried(work, there[0], source, [], "source archive")
    sheets["oldest libraries"] = tried(work, there[0], wheel, oldest(), "oldest libraries")
    first = next(iter(sheets.values()))
    for name, sheet in sheets.items():
        print(f"sheet of {name}: {beside(first, sheet)}")


if __name__ == "__main__":
    main()
