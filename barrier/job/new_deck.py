"""The deck of a first job file: boards, blocking with its ends, joists and what they stand on."""

from __future__ import annotations

from collections.abc import Iterator

from barrier.job.stand_ins import Answers, assumed, line_load, mm_of

# What a deck carries, kN/m2: what loading codes ask of decks of homes and of others, and what boards and joists weigh. From memory.
PEOPLE = {"home": 2.0, "shared": 4.0, "crowd": 5.0, "unknown": 5.0}
BOARDS = 0.45
FACTS = 'ask for grade and species: { en = "C24" }, { us = "Hem-Fir No.2" }, { au = "MGP10" } or { nz = "SG8" }'


def deck(a: Answers) -> Iterator[str]:
    """Every line of it."""
    yield ""
    yield "[decking]"
    yield a.entry("thickness", "decking", "measure one board at its end")
    yield f'board_width = "{a.get("board")}"'
    yield 'gap = "unknown"'
    yield f'direction = "{a.get("boards_run")}"'.ljust(32) + "# along | across the glass line"
    yield "grooved = true                  # false if the boards are flat on both sides"
    yield f'gap_under = "{a.get("gap_under")}"           # between boards and blocking: look from below'
    yield _material(a, "board_grade")
    yield 'board_screws = "unknown"'
    if a.get("blocking", "0") != "0":
        yield from _blocking(a)
    yield from _joists(a)
    yield ""
    yield "[limits]"
    yield 'top_movement = "unknown"        # agree it with the engineer, with limits.reference'


def _material(a: Answers, key: str) -> str:
    if key not in a:
        return f'material = "unknown"            # {FACTS}'
    grade = a.get(key)
    return f'material = {{ {a.basis} = "{grade if a.basis == "us" or " " in grade else grade.upper()}" }}'


def _clear(a: Answers) -> float:
    return a.mm("joist_spacing") - mm_of(a.of("joist").split(" x ")[0])


def _blocking(a: Answers) -> Iterator[str]:
    yield ""
    yield "[blocking.B1]"
    yield f"pieces = {a.get('blocking')}"
    yield a.entry("width", "piece", "measure one piece", 0)
    yield a.entry("depth", "piece", "measure one piece", 1)
    yield a.size("length", _clear(a), "clear between the joists", "joist_spacing", "joist")
    yield (
        assumed("direction", '"along"', "it runs along the glass as a rule; look from below")
        if "joists_run" not in a
        else (f'direction = "{"along" if a.get("joists_run") == "across" else "across"}"            # across the joists')
    )
    yield f'laid = "{a.get("lie")}"                # upright | flat'
    yield 'laminated = "unknown"           # loose | factory; pieces glued on site are loose'
    yield _material(a, "grade")
    for side in ("left", "right"):
        yield f"[blocking.B1.{side}]"
        yield from _end(a)
    for i in range(2, int(a.of("mounts")) + 1):
        yield f"[blocking.B{i}]"
        yield 'same_as = "B1"'


def _end(a: Answers) -> Iterator[str]:
    held = a.get("ends")
    yield f'fixing = "{held}"'
    if held == "bracket" and "rated" in a:
        up, down = a.get("rated").split(" x ")
        yield f'uplift = "{up}"'
        yield f'down = "{down}"'
        yield f'meaning = "{"allowable" if a.basis == "us" else "characteristic"}"       # as the supplier gives it: see his sheet'
        yield 'reference = "as told when this file was made: write whose sheet and which page"'
    if held == "bracket":
        yield "# sideways, torque: ask the supplier. stiffness: force per slip, for the movement. highest, lowest: its screws from"
        yield "# the lower and the upper edge"
    if held in ("nails", "screws"):
        yield f"number = {a.get('fastened')}" if "fastened" in a else 'number = "unknown"              # per piece'
        size = a.get("fastener").split(" x ") if "fastener" in a else ("unknown", "unknown")
        yield f'diameter = "{size[0]}"'
        yield f'length = "{size[1]}"'
        yield 'grain = "end"                   # end: driven through the joist into the end of the piece | side'


def _joists(a: Answers) -> Iterator[str]:
    yield ""
    yield "[joists]"
    yield a.entry("spacing", "joist_spacing", "measure from middle to middle, over three or four joists")
    for i, name in enumerate(("width", "depth")):
        yield a.entry(name, "joist", "measure one joist", i)
    yield f'direction = "{a.get("joists_run")}"'.ljust(32) + "# across | along the glass line"
    yield _material(a, "grade")
    yield f'span = "{a.get("span")}"                # between the two supports nearest the glass'
    yield a.entry("overhang", "overhang", "measure how far the joists run out beyond the outer support")
    yield f'mount_from_end = "{a.get("from_joist_end")}"      # from the outer end of a joist to the middle of the mounts'
    people = PEOPLE[a.get("use")]
    for name, kPa, what in (("dead_load", BOARDS, "boards and joists"), ("imposed_load", people, "people and goods")):
        why = f"{what} of {kPa:g} kN/m2 on a strip as wide as the joists are apart; ask the engineer"
        yield assumed(name, line_load(kPa * a.mm("joist_spacing") / 1000.0, a.units), why)
    yield "[joists.outer]"
    yield f'fixing = "{a.get("outer")}"'.ljust(32) + "# bearer | bracket"
    if a.get("outer") == "bearer":
        yield f'seat = "{a.get("seat")}"'
    yield "# [joists.inner]: bearer or bracket, see the worked example"
