"""The house: imports point down, modules stay readable, the front door is light, commands end as they should."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

from conftest import for_each

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "barrier"
MODULES = sorted(PACKAGE.rglob("*.py"))

# What each floor may import of ours. Longest prefix wins.
FLOORS: dict[str, set[str]] = {
    "mechanics": set(),
    "units": set(),
    "errors": set(),
    "reading": set(),
    "output": {"errors"},
    "extras": set(),
    "quantities": {"units", "extras"},
    "value": {"units", "errors", "quantities"},
    "expression": set(),
    "equation": {"expression", "units", "errors", "value", "extras"},
    "utilisation": {"equation", "value"},
    "symbolic": {"errors", "value", "expression", "equation", "extras"},
    "result": {"utilisation", "units", "errors", "value", "equation"},
    "shipped": {"errors"},
    "editions": {"errors", "reading"},
    "table_file": {"units", "errors", "value", "reading"},
    "tables": {"units", "errors", "value", "table_file", "editions", "shipped"},
    "job": {"job", "quantities", "units", "errors", "value", "reading"},
    "basis": {"basis", "editions", "tables", "result", "equation", "value", "units", "errors"},
    "links": {"links", "basis", "job", "mechanics", "tables", "result", "equation", "value", "units", "errors"},
    "run": set(),
    "whole_run": {"run", "load_path", "job", "result", "value", "errors"},
    "notebook": set(),  # it is told who writes a page
    "load_path": {"notebook", "links", "basis", "job", "tables", "result", "value", "errors"},
    "compare": {"study", "load_path", "basis", "job", "tables", "result", "errors"},
    "verify": {"reading", "editions", "verify", "sheet", "study", "load_path", "job", "tables", "result", "errors"},
    "ways": {"ways", "output", "load_path", "basis", "links", "job", "tables", "result", "value", "errors"},
    "study": {"notebook", "load_path", "job", "tables", "result", "errors"},
    "sheet": {
        "sheet",
        "run",
        "whole_run",
        "compare",
        "ways",
        "study",
        "load_path",
        "links",
        "mechanics",
        "basis",
        "job",
        "tables",
        "editions",
        "result",
        "equation",
        "value",
        "units",
        "errors",
    },
}
# The rooms of the two large floors, and which of their own floor each may import. What stands on no room is common to all.
ROOMS: dict[str, dict[str, set[str]]] = {
    "links": {
        "ground": set(),
        "loads": {"ground"},
        "glass": {"ground", "loads"},
        "mount": {"ground", "loads", "glass"},
        "rail": {"ground", "loads", "glass", "mount"},
        "clamp": {"ground", "loads", "glass", "mount"},
        "blocking": {"ground", "loads", "glass", "mount"},
        "joist": {"ground", "loads", "glass", "mount", "blocking"},
    },
    "sheet": {
        "typeset": set(),
        "drawings": {"typeset"},
        "content": {"typeset", "drawings"},
        "studies": {"typeset", "drawings", "content"},
        "runs": {"typeset", "drawings", "content"},
        "formats": {"typeset", "drawings", "content"},
    },
}
MECHANICS_MAY = {"numpy", "scipy"}


def floor(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
        elif isinstance(node, ast.Import):
            found.update(a.name for a in node.names)
    return found


@for_each("path", MODULES)
def test_arrows_point_down(path: Path) -> None:
    here = floor(path)
    if here not in FLOORS:
        return
    for module in imports(path):
        if module.split(".")[0] == "barrier" and module != "barrier":
            there = module.split(".")[1]
            assert there in FLOORS[here] or there == here, f"{path.name} looks up to {module}"
        elif here == "mechanics" and module.split(".")[0] not in MECHANICS_MAY:
            assert module.split(".")[0] in sys.stdlib_module_names, f"{path.name} imports {module}"


@for_each("path", MODULES)
def test_arrows_between_rooms_point_down(path: Path) -> None:
    """A room of the links or of the sheet imports only rooms below it; a module beside the rooms serves all or opens all."""
    rooms = ROOMS.get(floor(path), {})
    here = path.relative_to(PACKAGE).parts[1:2]
    if not here or here[0] not in rooms:
        return
    for module in imports(path):
        parts = module.split(".")
        if parts[:2] == ["barrier", floor(path)] and len(parts) > 2 and parts[2] in rooms:
            assert parts[2] == here[0] or parts[2] in rooms[here[0]], f"{path.name} looks up to {module}"


def arrows() -> dict[str, set[str]]:
    """Every module and the modules it imports: at its top, inside functions, and for types only."""
    names = {".".join(p.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): p for p in MODULES}
    found: dict[str, set[str]] = {}
    for name, path in names.items():
        to = set()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module in names:
                to |= {whole if (whole := f"{node.module}.{a.name}") in names else node.module for a in node.names}
            elif isinstance(node, ast.Import):
                to |= {a.name for a in node.names if a.name in names}
        found[name] = to
    return found


def on_circles(found: dict[str, set[str]]) -> list[str]:
    """The modules from which arrows lead back to themselves."""

    def reached(start: str) -> set[str]:
        seen: set[str] = set()
        ahead = list(found[start])
        while ahead:
            if (one := ahead.pop()) not in seen:
                seen.add(one)
                ahead.extend(found[one])
        return seen

    return [name for name in found if name in reached(name)]


def test_no_arrows_run_in_a_circle() -> None:
    assert on_circles(arrows()) == []


def test_a_circle_would_be_found() -> None:
    assert on_circles({"a": {"b"}, "b": {"c"}, "c": {"b"}}) == ["b", "c"]


def test_every_room_is_on_the_plan() -> None:
    for name, rooms in ROOMS.items():
        built = {p.name for p in (PACKAGE / name).iterdir() if (p / "__init__.py").exists()}
        assert built == set(rooms), name


@for_each("path", MODULES)
def test_modules_stay_readable(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


def test_only_the_job_parses_and_only_the_sheet_formats() -> None:
    """Below the sheet a number is made from words in ``job/`` and where tables are read, and no word is taken apart for data."""
    for path in MODULES:
        if floor(path) not in ("links", "mechanics", "load_path", "result"):
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        patterns = {n.value.id for n in ast.walk(tree) if isinstance(n, ast.Attribute) and isinstance(n.value, ast.Name)}
        assert "re" not in patterns, f"{path.name} looks for patterns in words"


def test_nobody_takes_an_id_or_a_title_apart() -> None:
    """What a check, a case or a shown value is about are fields; its id, title and place in words are for readers."""
    words, apart = {"id", "title", "where", "words"}, {"split", "rsplit", "partition", "rpartition", "removeprefix", "removesuffix"}
    for path in MODULES:
        if floor(path) in ("job", "cli", "output", "endings", "run"):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and isinstance(node.func.value, ast.Attribute):
                of, does = node.func.value.attr, node.func.attr
                bad = (of in words and does in apart) or (of == "id" and does in ("startswith", "endswith"))
                assert not bad or (path.name, of, does) in STILL, f"{path.name}:{node.lineno} reads .{of}.{does}(...)"


# Words taken from a title by the one who prints it, and no data.
STILL: set[tuple[str, str, str]] = {("pages.py", "title", "partition"), ("forces.py", "title", "removesuffix")}


def loaded_by(*arguments: str) -> set[str]:
    code = (
        "import sys\nfrom click.testing import CliRunner\nfrom barrier.cli import main\n"
        f"r = CliRunner().invoke(main, {list(arguments)!r})\n"
        "print(r.exit_code, *sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT).stdout
    return set(out.split())


def test_help_is_light() -> None:
    assert not loaded_by("--help") & {"scipy", "sympy", "pint", "pandas", "matplotlib", "pydantic", "numpy", "typst"}


def test_the_text_sheet_loads_no_heavy_library() -> None:
    modules = loaded_by("check", "worked_examples/everyday_deck.toml")
    assert "scipy" in modules and not modules & {"sympy", "pint", "pandas", "matplotlib", "typst"}


def test_no_sheet_word_approves() -> None:
    """Nothing the project prints says pass, safe or approved (the cautions deny it, in the fixed wording)."""
    for path in [*MODULES, *sorted((ROOT / "tables").glob("*.csv"))]:
        text = path.read_text(encoding="utf-8").lower().replace("approved document", "")  # a document's name
        for word in (" passes", "is safe", "approved"):
            for line in text.splitlines():
                if word in line:
                    assert "never" in line or "no " in line or "not" in line, f"{path.name}: {line.strip()}"


def test_what_links_hand_on_is_typed() -> None:
    """No link takes or hands on something whose type nobody knows, or finds what another handed on by an id or a place."""
    for path in sorted((PACKAGE / "links").rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        names = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)}
        assert "Any" not in names, f"{path.name} has something whose type nobody knows"
        if path.parent != PACKAGE / "links":  # the walk itself and the list of what is asked go over what links wrote
            asked = [a for f in ast.walk(tree) if isinstance(f, ast.FunctionDef) for a in (*f.args.args, *f.args.kwonlyargs)]
            told = [a.arg for a in asked if a.annotation is not None and "LinkResult" in ast.unparse(a.annotation)]
            assert not told, f"{path.name} is given what another link wrote: {told}"
