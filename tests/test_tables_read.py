"""Nothing in the tables sits unread: each table, column and named row is asked for somewhere in the code, or says here why not.

The code is not run: a name counts as asked for where it stands as a string, whole or as the pieces of one (``f"k_mod_{use}"``).
That a string is there does not prove that it reaches the sheet; that it is nowhere proves that it cannot.
"""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

from conftest import for_each

from barrier.job.mount import PAD_LIMIT, Pad
from barrier.job.quantity import parse
from barrier.tables import Tables

PACKAGE = Path(__file__).resolve().parents[1] / "barrier"
NAMES = Tables().names()
USES = {key for name in NAMES if name.endswith("_barrier_loads") for key in Tables().table(name).keys}
SAID = 3  # letters a pieced name must say of itself, or it would be any name

# Tables, columns and rows nobody asks for, and why they stay. One that is asked for after all is taken off.
TESTS_ONLY = "what the figures that are used are compared with, in tests"
UNREAD_TABLES = {
    "en_barrier_loads": "ranges: a national table is required, and the finding says so",
    "nds_steel_bearing": TESTS_ONLY,
    "as1720_joint_group_limits": TESTS_ONLY,
    "wood_handbook_species": TESTS_ONLY,
    "guard_post_tests": TESTS_ONLY,
}
NO_SUCH_STRESS = "no piece is pulled along, pressed along or pulled across the grain here"
UNREAD_COLUMNS = {
    **{(edition.tables["classes"], column): NO_SUCH_STRESS
       for edition in Tables().editions.of("en", "timber") for column in ("f_t_0_k", "f_t_90_k", "f_c_0_k", "E_0_05", "E_90_mean")},
    ("en_barrier_loads", "recommended"): "see the table",
    ("interlayer_modulus", "duration_s"): TESTS_ONLY,
    ("nds_lag_screws", "D_r"): "the screw in the hand is measured",
    ("as1720_joint_groups", "density_green"): TESTS_ONLY,
    ("as1720_joint_groups", "density_seasoned"): TESTS_ONLY,
    ("wood_handbook_species", "G_basis"): "see the table",
    ("wood_handbook_species", "f_c_perp"): "see the table",
    ("wood_handbook_species", "hardness"): "see the table",
}  # fmt: skip
SIDEWAYS = "the distances of a pull and of a push towards an edge or an end are taken, and are larger"
LRFD = "load and resistance factor design; this tool uses allowable stress"
PADS = "the job takes these without tables; a test below holds them equal"
UNREAD_ROWS = {
    ("en1995_factors", "gamma_M_punched_plates"): "no punched plates here",
    **{("en1995_factors", f"k_def_SC{i}"): "creep is not worked out: no load here stays" for i in (1, 2, 3)},
    **{("en1995_screw_spacing", f"lateral_{rule}"): SIDEWAYS
       for rule in ("bolt_a2", "bolt_a4_c", "nail_a2", "nail_a3_c", "nail_a4_c", "predrilled_a3_c", "predrilled_a4_c")},
    ("en16612_factors", "k_v_vertical"): "glass that hung from tongs is rare and not asked for: lay 0.6 over the other row",
    ("nds_factors", "C_M_lateral_wet_made"): "wood that is wet when the screws are driven is not asked for",
    ("nds_factors", "C_M_nail_withdrawal_cycled"): "no nail is pulled here",
    ("nds_factors", "F_c_perp_small_deformation"): "for an engineer who wants half the sinking",
    **{("nds_factors", key): LRFD for key in ("K_F_connections", "phi_connections", "K_F_F_c_perp", "phi_F_c_perp")},
    **{("nds_screw_spacing", key): "a mount pushes both ways, so an edge and an end count as loaded: the larger rows are taken"
       for key in ("lag_withdrawal_edge", "lag_withdrawal_end", "lateral_edge", "lateral_spacing_in_row")},
    **{("as1720_factors", f"k_17_{wood}_{n}"): "no row of a mount is longer than four; how the nails of an end stand is not asked"
       for wood in ("seasoned", "unseasoned") for n in (5, 10, 20)},
    **{("stiffness", key): PADS for key in ("pad_low", "pad_high", "pad_limit")},
}  # fmt: skip


@cache
def asked() -> tuple[frozenset[str], tuple[re.Pattern[str], ...]]:
    """Every string of the code that is no docstring: those that stand whole, and those that are pieced together."""
    whole, pieced = set(), set()
    for path in PACKAGE.rglob("*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        docs = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
                whole.add(node.value)
            elif isinstance(node, ast.JoinedStr):
                parts = [p.value if isinstance(p, ast.Constant) else None for p in node.values]
                own = "".join(p for p in parts if p is not None)
                if len(own) >= SAID and re.fullmatch(r"[\w ]+", own):
                    pieced.add("".join(".+" if p is None else re.escape(p) for p in parts))
    words = {word for text in whole for word in text.split()}  # "K_d G K_e".split() is a list of names
    return frozenset(whole | words), tuple(re.compile(p) for p in pieced)


def read(name: str) -> bool:
    """Whether the code asks for a name."""
    whole, pieced = asked()
    return name in whole or any(p.fullmatch(name) for p in pieced)


def tables_of_editions() -> set[str]:
    """Tables the code asks for by way of the edition a job takes: their names stand in the index and nowhere in the code."""
    return {table for edition in Tables().editions.all for table in edition.tables.values()}


def test_no_code_names_a_table_of_an_edition() -> None:
    assert {n for n in tables_of_editions() if read(n)} == set()


def read_by_words(key: str) -> bool:
    """A row of a rule and a use of the building (``height_edge irc``) is asked for by both."""
    return read(key) or all(read(word) or word in USES for word in key.split())


def test_every_table_is_asked_for() -> None:
    assert {n for n in NAMES if not read(n)} - tables_of_editions() == set(UNREAD_TABLES)


@for_each("name", NAMES)
def test_every_column_is_asked_for(name: str) -> None:
    columns = {c.name for c in Tables().table(name).columns[1:]}
    assert {c for c in columns if not read(c)} == {c for t, c in UNREAD_COLUMNS if t == name}


def named_figures(name: str) -> bool:
    """Whether the code chooses the rows of a table, one figure each; of other tables a row is chosen by what the job says."""
    return "value" in [c.name for c in Tables().table(name).columns]


@for_each("name", [n for n in NAMES if named_figures(n)])
def test_every_named_row_is_asked_for(name: str) -> None:
    keys, excused = Tables().table(name).keys, {k for t, k in UNREAD_ROWS if t == name}
    assert {k for k in keys if not read_by_words(k)} <= excused <= {*keys} - asked()[0]


def test_pads_of_a_job_are_those_of_the_table() -> None:
    """The job knows no tables: what it takes where nobody measured a pad stands twice."""
    for key, name in (("pad_low", "stiffness_low"), ("pad", "stiffness"), ("pad_high", "stiffness_high")):
        taken = Pad.entries()[name][1].default
        assert isinstance(taken, str) and parse(taken, "bed stiffness") == Tables().value("stiffness", key).x
    assert Tables().value("stiffness", "pad_limit").x == PAD_LIMIT
