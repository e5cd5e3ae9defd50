"""The page of the Python API, made from the docstrings: ``python .ci/api_page.py FOLDER``. A warning is a failure.

Whoever computes in Python looks here for what a name takes and gives; ``tests/test_docstrings.py`` holds that each says so.
"""

from __future__ import annotations

import sys
import warnings
from pathlib import Path

import pdoc
import pdoc.render

import barrier

ROOMS = (
    "barrier", "barrier.load_path", "barrier.result", "barrier.job", "barrier.job.job", "barrier.value", "barrier.equation",
    "barrier.symbolic", "barrier.quantities", "barrier.units", "barrier.tables", "barrier.table_file", "barrier.editions",
    "barrier.basis", "barrier.links", "barrier.mechanics", "barrier.ways", "barrier.compare", "barrier.study", "barrier.verify",
)  # fmt: skip


def made(folder: Path) -> list[Path]:
    """Make the pages. Argument: ``folder`` they go to. Returns the files; raises a warning as an error."""
    vars(barrier).update({name: getattr(barrier, name) for name in barrier.__all__})  # they are loaded when they are asked for
    pdoc.render.configure(docformat="restructuredtext", show_source=False)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        # Types that are named for the reader of the code only (TYPE_CHECKING, slots): they then stand as they are written.
        warnings.filterwarnings("ignore", r"Error parsing type annotation|Failed to run TYPE_CHECKING code")
        pdoc.pdoc(*ROOMS, output_directory=folder)
    return sorted(folder.rglob("*.html"))


if __name__ == "__main__":
    print(f"{len(made(Path(sys.argv[1])))} pages of the API")
