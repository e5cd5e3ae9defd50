"""No figure of a code of practice stands in the code: only in an equation's own text or in a row of a table."""

from __future__ import annotations

import ast
from pathlib import Path

from conftest import for_each

ROOT = Path(__file__).resolve().parents[2]
FILES = sorted([*(ROOT / "barrier" / "basis").rglob("*.py"), *(ROOT / "barrier" / "links").rglob("*.py")])

HARMLESS = {0, 1, -1, 2}  # nothing, one, both: counting and signs
ALLOWED: dict[str, dict[float, str]] = {
    "basis/parts.py": {3: "the name of a service class"},
    "basis/au/fasteners.py": {0.1: "sizes in mm closer than this are one size"},
    "basis/us/yield_limits.py": {0.1: "sizes in mm closer than this are one size"},
    "links/ground/base_stiffness.py": {
        1e6: "numerical stand-in for rigid, N/mm",
        1e12: "numerical stand-in for rigid, N mm/rad",
        3: "statics: deflection of a piece on two supports",
        12: "inertia of a rectangle",
    },
    "links/ground/stiffness.py": {1e5: "unit moment of an elastic solution; answers do not depend on it"},
    "links/mount/in_plane.py": {1e-2: "margin by which a load that does not govern is followed further"},
    "links/clamp/rating.py": {1e-3: "heights in mm closer than this are one height", 3: "number, diameter and length of screws"},
    "links/glass/panel_solution.py": {1e-9: "what is rounding beside the largest moment of a panel"},
    "links/glass/peak_stations.py": {0.75: "words only: how near a mount a place is called to be at it"},
    "links/ground/geometry.py": {
        1e-6: "nearer to a face in mm than this a screw is on it",
        2000: "bytes of an answer",
    },
    "links/memo.py": {16e6: "bytes", 32e6: "bytes", 96e6: "bytes", 24e6: "bytes", 128e6: "bytes"},
    "links/glass/solved_once.py": {8: "bytes of a number", 3: "movements of a clamp", 30: "further rows of an answer, about"},
    "links/rail/by_hand.py": {401: "places looked at along a rail", 1e-6: "what is rounding", 0.5: "two ends share alike"},
    "links/rail/checks.py": {100.0: "mm: the shortest length a grip is averaged over, a choice that is said"},
    "links/under_rail.py": {
        5.0: "mm: closer to an edge than this is at it",
        3: "places from an end; the rest are as the middle",
        2: "panels on either side within reach",
    },
    "links/rail/loads.py": {5.0: "mm: point loads closer than this are one"},
    "links/rail/rail.py": {3: "panels in a line, fewer have no middle"},
    "links/rail/solve.py": {
        0.02: "a load that does less than this of the largest says nothing",
        1e-3: "numerical stand-in for a rail that hands nothing on",
        10.0: "mm: thickness of a panel that is gone; only its place counts",
    },
    "links/mount/plate_bending.py": {0.5: "counts the screws that pull at least half as hard as the worst"},
}


def numbers(path: Path) -> list[tuple[int, float]]:
    """Numeric literals of a module, with their lines."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [
        (node.lineno, node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool)
    ]


@for_each("path", FILES)
def test_no_figure_of_a_code_in_the_code(path: Path) -> None:
    allowed = ALLOWED.get(str(path.relative_to(ROOT / "barrier")), {})
    found = [(line, x) for line, x in numbers(path) if x not in HARMLESS and x not in allowed]
    assert not found, f"{path.name}: literals {found}; a figure belongs in an equation's text or a table row"


def test_the_allowances_are_used() -> None:
    for name, allowed in ALLOWED.items():
        present = {x for _, x in numbers(ROOT / "barrier" / name)}
        assert set(allowed) <= present, f"{name}: {set(allowed) - present} is allowed and not there"
