"""The notebook among the examples does what it says: its cells run from top to bottom, and it carries no output of another day.

Read as the JSON it is (nbformat 4.5) and run in this process: no kernel, no further library.
"""

from __future__ import annotations

import ast
import json
from typing import Any

import pytest
from conftest import ROOT

PLACE = ROOT / "worked_examples" / "a_wider_panel.ipynb"
NOTEBOOK = json.loads(PLACE.read_text(encoding="utf-8"))


def test_it_is_a_notebook_without_outputs() -> None:
    assert (NOTEBOOK["nbformat"], NOTEBOOK["nbformat_minor"]) == (4, 5)
    assert len({cell["id"] for cell in NOTEBOOK["cells"]}) == len(NOTEBOOK["cells"])
    for cell in NOTEBOOK["cells"]:
        assert cell["cell_type"] in ("markdown", "code") and isinstance(cell["source"], list)
        if cell["cell_type"] == "code":
            assert cell["outputs"] == [] and cell["execution_count"] is None


def shown(source: str, scope: dict[str, Any]) -> Any:
    """Run a cell; what its last line shows, as a notebook would."""
    tree = ast.parse(source)
    last = tree.body.pop() if isinstance(tree.body[-1], ast.Expr) else None
    exec(compile(tree, PLACE.name, "exec"), scope)
    return eval(compile(ast.Expression(last.value), PLACE.name, "eval"), scope) if isinstance(last, ast.Expr) else None


def test_it_runs_and_comes_to_what_it_says() -> None:
    scope: dict[str, Any] = {}
    given = [shown("".join(c["source"]), scope) for c in NOTEBOOK["cells"] if c["cell_type"] == "code"]
    page, frame, widest, plot, equation, width, depth, again = given
    assert "<" in page._repr_html_() and len(frame) == 8 and frame.utilisation.is_monotonic_decreasing
    assert widest[1][2] == pytest.approx(scope["result"].governing.eta, abs=0.005)  # at 1000 mm it is the job itself
    assert plot._repr_svg_().startswith("<svg") and "movement at the top" in plot.alt
    assert equation.lhs.name == scope["equation"].result.name and "b_J" not in str(width)
    assert 100 < depth.to("mm").magnitude < scope["job"].joists.depth.x
    assert again[0] == pytest.approx(1.0, rel=1e-9)
