"""What a person who computes in Python meets says what it is: every public name has its words, its arguments and what it gives.

An argument may be told once for a class or a module and hold for all of its methods. A number without a unit is a trap, so where
a bare number goes in, a unit stands beside it.
"""

from __future__ import annotations

import inspect
import pydoc
import re
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

import pytest

# The rooms people import from: everything public that is made there. Of other modules what is named.
ROOMS = (
    "barrier.load_path", "barrier.job.job", "barrier.symbolic", "barrier.quantities", "barrier.compare", "barrier.study",
    "barrier.units", "barrier.value", "barrier.equation", "barrier.tables", "barrier.editions",
    "barrier.basis", "barrier.basis.family",
    "barrier.mechanics.beam", "barrier.mechanics.contact", "barrier.mechanics.fastener_group", "barrier.mechanics.plate",
    "barrier.mechanics.plate_parts", "barrier.mechanics.polygons", "barrier.mechanics.torsion",
    "barrier.ways.ways", "barrier.ways.limits", "barrier.ways.what_if", "barrier.ways.runner",
)  # fmt: skip
ROOM = import_module("barrier.links")
LINKS = [f for f in vars(ROOM).values() if inspect.isfunction(f) and "LinkResult" in str(inspect.signature(f).return_annotation)]
LINKS = [f for f in LINKS if f.__name__ not in ("walk_down", "completed")]
NAMED = {"barrier": ("Job", "Result", "check", "read_job"), "barrier.job.read": ("read_job", "job_from_text")}
RUN_IN = (  # of whose functions each has an example
    "barrier", "barrier.symbolic", "barrier.quantities", "barrier.mechanics.contact", "barrier.mechanics.fastener_group",
    "barrier.mechanics.polygons", "barrier.mechanics.torsion",
)  # fmt: skip
UNIT = re.compile(r"\b(N|kN|mm2?|mm3|MPa|rad|kg|base units?|no unit|unit|of lengths?|ratio|fraction|relative|dimensionless)\b")
GIVES = re.compile(r"\b([Rr]eturns?|[Yy]ields?|[Ww]hether|[Gg]ives)\b")


def members(module: str) -> Iterator[tuple[str, Any, str]]:
    """Each public function, class and method that is made in a module, with the words above it."""
    made = import_module(module)
    for name in NAMED.get(module, [n for n in vars(made) if not n.startswith("_")]):
        thing = getattr(made, name)
        if not (inspect.isfunction(thing) or inspect.isclass(thing)):
            continue
        if module not in NAMED and thing.__module__ != module:
            continue
        yield f"{module}.{name}", thing, inspect.getdoc(made) or ""
        if inspect.isclass(thing) and not issubclass(thing, Exception):
            for method, function in vars(thing).items():
                if not method.startswith("_") and inspect.isfunction(function):
                    yield f"{module}.{name}.{method}", function, f"{inspect.getdoc(made)}\n{inspect.getdoc(thing)}"


PUBLIC = {name: (thing, above) for module in (*NAMED, *ROOMS) for name, thing, above in members(module)}
FUNCTIONS = {name: (thing, above) for name, (thing, above) in PUBLIC.items() if inspect.isfunction(thing)}


def words_of(thing: Any) -> str:
    """The docstring of its own, or of what it overrides."""
    return inspect.getdoc(thing) or ""


def arguments(function: Callable[..., Any]) -> list[inspect.Parameter]:
    return [p for p in inspect.signature(function).parameters.values() if p.name not in ("self", "cls")]


@pytest.mark.parametrize("link", LINKS, ids=lambda link: link.__name__)
def test_a_link_says_what_it_does_and_what_it_takes(link: Callable[..., Any]) -> None:
    """The walk is told once, in ``barrier.links``; all else in ``HandedOn``, of which it is a field, or in its own words."""
    handed_on = import_module("barrier.links.handed_on").HandedOn
    told = f"{words_of(link)}\n{inspect.getdoc(handed_on)}"
    assert words_of(link) and inspect.getdoc(import_module(link.__module__))
    first, *others = arguments(link)
    assert first.name == "walk" and "the walk" in (inspect.getdoc(ROOM) or "")
    assert [p.name for p in others if f"``{p.name}``" not in told] == []


def test_every_link_of_the_walk_is_among_them() -> None:
    assert len(LINKS) >= 12 and {"actions", "glass", "screws", "joist"} <= {f.__name__ for f in LINKS}


def test_there_are_public_names() -> None:
    assert len(PUBLIC) > 200 and {"barrier.check", "barrier.basis.family.Family.withdrawal"} <= set(PUBLIC)


def test_every_public_name_has_its_words() -> None:
    assert [name for name, (thing, _) in PUBLIC.items() if not words_of(thing).strip()] == []


def test_every_argument_is_told() -> None:
    """By its name, in the words of the function, of its class or of its module."""
    missing = {
        name: [p.name for p in arguments(f) if not re.search(rf"(?<!\w){re.escape(p.name)}(?!\w)", f"{words_of(f)}\n{above}")]
        for name, (f, above) in FUNCTIONS.items()
    }
    assert {name: args for name, args in missing.items() if args} == {}


def test_a_bare_number_has_its_unit() -> None:
    bare = [
        name for name, (f, above) in FUNCTIONS.items()
        if any(re.search(r"\bfloat\b", str(p.annotation)) for p in arguments(f)) and not UNIT.search(f"{words_of(f)}\n{above}")
    ]  # fmt: skip
    assert bare == []


def test_what_is_given_is_told() -> None:
    """By *returns*, or in a first line that names the thing itself (a noun phrase: 'Bending strength.')."""
    silent = [
        name for name, (f, _) in FUNCTIONS.items()
        if inspect.signature(f).return_annotation not in (None, "None", inspect.Signature.empty)
        and not GIVES.search(words_of(f)) and not names_the_thing(words_of(f))
    ]  # fmt: skip
    assert silent == []


VERBS = (
    "walk",
    "make",
    "read",
    "say",
    "put",
    "take",
    "find",
    "lay",
    "add",
    "solve",
    "refuse",
    "look",
    "keep",
    "write",
    "clip",
    "turn",
)


def names_the_thing(words: str) -> bool:
    """Whether a docstring opens with what is given and not with what is done."""
    return words.split(maxsplit=1)[0].lower() not in VERBS if words else False


@pytest.mark.parametrize("name", [n for n in FUNCTIONS if n.rpartition(".")[0] in RUN_IN])
def test_there_is_an_example_that_runs(name: str) -> None:
    """All examples are run with the tests, as doctests."""
    assert ">>>" in words_of(FUNCTIONS[name][0]), name


def test_help_reads_like_a_page() -> None:
    """``help(barrier)`` tells where to begin: what it does, a job in three lines, where each room is."""
    page = pydoc.plain(pydoc.render_doc("barrier"))
    for word in ("read_job", "check", "to_frame", "barrier.mechanics", "barrier.basis", "barrier.ways", "never"):
        assert word in page, word
