"""One question of ``barrier new`` and what becomes of an answer: kept, asked back, or refused with why.

An answer is kept as the job file takes it; "don't know" is an answer to every question.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

from barrier.errors import Fault
from barrier.job.entries import Entry, Quantity, Whole
from barrier.job.quantity import parse
from barrier.job.typed import cousin, size_as_read, sizes_apart
from barrier.job.written import UNKNOWN

DONT_KNOW = frozenset({
    "", UNKNOWN, "?", "dk", "don't know", "dont know", "do not know", "no idea", "not known", "dunno", "not sure", "unsure",
})  # fmt: skip
LONGEST_WORDS = 60
_BARE = re.compile(r"[-+0-9./ ]+")


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    ``key`` names its answer; ``text`` asks in trade words; ``help`` says how to find out. ``choices`` are the words it
    takes, if it takes words only; ``free`` lets it take any words; else ``kinds`` are the entries of the job file its
    quantities must suit, in order (``"8 x 100 mm"`` answers two). ``joined`` is set where several quantities are added up,
    as the layers of a laminate. ``only`` names the countries it is asked for, where it is not all; ``part`` what it is about;
    ``far`` marks a length that is rather metres or feet.
    """

    key: str
    text: str
    help: str
    choices: tuple[str, ...] = ()
    kinds: tuple[Entry, ...] = ()
    joined: bool = False
    allows_unknown: bool = True
    only: tuple[str, ...] = ()
    part: str = ""
    free: bool = False
    far: bool = False

    @property
    def shown(self) -> str:
        """The question with the words it takes."""
        return f"{self.text} [{' / '.join((*self.choices, UNKNOWN))}]" if self.choices else self.text


@dataclass(frozen=True, slots=True)
class Doubt:
    """An answer that leaves something open: what it would be kept as, and the question back."""

    kept: str
    text: str


def check_answer(question: Question, text: str, units: str = "metric") -> str | Fault | Doubt:
    """One answer as it is kept, the doubt that is asked back, or the fault that says why not.

    Arguments: the question; the answer as typed; the units a bare number is probably in. Returns the answer (``"unknown"``
    for any way of saying so).

    >>> width = Question("width", "How wide", "measure", kinds=(Quantity(kind="length", low=100, high=9000),))
    >>> check_answer(width, "1200 mm"), check_answer(width, "dunno"), check_answer(width, '4\\'9"', "us")
    ('1200 mm', 'unknown', '4 ft 9 in')
    >>> check_answer(width, "1200").text, check_answer(width, "1200").kept
    ('1200 has no unit: is it 1200 mm?', '1200 mm')
    """
    typed = " ".join(text.split())
    if typed.casefold().replace("’", "'") in DONT_KNOW:
        return UNKNOWN
    if question.choices:
        return _word(question, typed)
    if question.free:
        return _free(question, typed)
    if isinstance(question.kinds[0], Whole):
        return _count(question, question.kinds[0], typed)
    return _sizes(question, typed, units)


def _sizes(question: Question, typed: str, units: str) -> str | Fault | Doubt:
    parts = [p.strip() for p in typed.split("+")] if question.joined else sizes_apart(typed)
    wanted = len(parts) if question.joined else len(question.kinds)
    if len(parts) != wanted:
        return Fault(question.key, f"{typed!r} has {len(parts)} sizes; expected {wanted}, {question.help}")
    read = [size_as_read(p) for p in parts]
    own = next((unit for p, has in reversed(read) if has and (unit := _unit(p))), "")
    bare = own == "" and all(_BARE.fullmatch(p) is not None for p, _ in read)
    kinds = question.kinds * (wanted if question.joined else 1)
    kept = []
    for (part, has), kind in zip(read, kinds, strict=True):
        size = part if has or not _BARE.fullmatch(part) else f"{part} {own or _usual(question, kind, units)}".strip()
        fault = _size(kind, size)
        if fault is not None:
            return Fault(question.key, fault)
        kept.append(size)
    said = (" + " if question.joined else " x ").join(kept)
    needs = any(isinstance(k, Quantity) and k.kind != "ratio" for k in kinds)
    return Doubt(said, f"{typed} has no unit: is it {said}?") if bare and needs else said


def _unit(size: str) -> str:
    return re.sub(r"^[-+0-9./ ]*(?:ft [-0-9./ ]*)?", "", size)


def _usual(question: Question, kind: Entry, units: str) -> str:
    """The unit a bare number is probably in."""
    assert isinstance(kind, Quantity)
    if kind.kind == "length":
        return {("metric", False): "mm", ("metric", True): "m", ("us", False): "in", ("us", True): "ft"}[units, question.far]
    return {"force": "kN" if units == "metric" else "lbf", "speed": "m/s" if units == "metric" else "mph"}.get(kind.kind, "")


def _word(question: Question, typed: str) -> str | Fault:
    known = {c.casefold(): c for c in question.choices}
    meant = cousin(typed, question.choices).casefold()
    if meant in known:
        return known[meant]
    near = get_close_matches(meant, known, n=1)
    hint = f'; did you mean "{known[near[0]]}"?' if near else ""
    return Fault(question.key, f"{typed[:60]!r} is not among {', '.join(question.choices)}{hint}")


def _free(question: Question, typed: str) -> str | Fault:
    if len(typed) > LONGEST_WORDS:
        return Fault(question.key, f"{typed[:20]!r}... is longer than {LONGEST_WORDS} characters; {question.help}")
    if not typed.isprintable() or '"' in typed or "\\" in typed:
        return Fault(question.key, f"{typed!r} has a character that cannot stand in a name; {question.help}")
    return typed


def _count(question: Question, kind: Whole, typed: str) -> str | Fault:
    if re.fullmatch(r"[0-9]{1,3}", typed) and kind.low <= int(typed) <= kind.high:
        return str(int(typed))
    return Fault(question.key, f"{typed[:60]!r} is no whole number from {kind.low} to {kind.high}")


def _size(kind: Entry, part: str) -> str | None:
    """Why a text is no size of this kind; None if it is."""
    assert isinstance(kind, Quantity)
    x = parse(part, kind.kind)
    if isinstance(x, str):
        return x
    return None if kind.low <= x <= kind.high else f"{part!r} is outside what is meant; expected {kind.expected()}"
