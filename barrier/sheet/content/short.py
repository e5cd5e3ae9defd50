"""In short: what a reader must find in the first half minute.

Which load, which link governs, by which formula, from which source, and what was not checked.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf

from barrier.equation import Step
from barrier.job.spoken import spoken
from barrier.links.loads.cases import Case
from barrier.load_path import Result, Walked
from barrier.result import TIE, About, Check, Ending, Standing, tied
from barrier.sheet.blocks import Block, Definitions, Formula, Heading, Inline, Line, Ref, Sym, Token
from barrier.sheet.content.calculation import Calculation
from barrier.sheet.content.origins import assumptions, carries_a_load, design_action, load_of, size_in
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import CALCULATION, FRONT, NOT_MEASURED, ending_text, utilisation_text
from barrier.sheet.typeset.one_line import shown_name
from barrier.value import Cell, JobEntry, Numerical, Value, source_of

HEAD = re.compile(r"[:.;](?: |$)")  # ends what a finding opens with
MOST = 6  # kinds of check that exceed, told one by one in the short answer
ENDS = {
    Ending.NOT_CHECKED: "NOT CHECKED: something that is required was not checked; what is within says nothing about it",
    Ending.WITHIN: "within, in the required checks this tool makes; it never checks everything, and an engineer decides",
}


def blocks(result: Result, calculation: Calculation) -> Iterator[Block]:
    """The short answer."""
    yield Heading(1, ("In short",))
    check = result.governing
    rows: list[tuple[str, Line]] = [("Job", (result.job.title,)), ("Ends as", (_ends_all(result),))]
    if check is None:
        rows.append(("Governs", ("no required check could be made; nothing governs because nothing is known",)))
    else:
        rows.append(("Load", load_line(result, check, calculation)))
        rows.extend(_governs(result.sound, check))
        rows.extend(_formula(check, calculation))
    rows.append(("Not checked", _not_checked(result.sound)))
    rows.append(("Exceeds", _exceeds(result.sound)))
    if others := required_beside(result):
        rows.append(("Required too", ("; ".join(_ends_in(w) for w in others),)))
    if (said := _assumed(result)) != "":
        rows.append(("Assumed", (said,)))
    loud = list(dict.fromkeys(f.text for link in result.links for f in link.findings if f.loud))
    if loud:
        rows.append(("Mind", (f"{openings(loud, result.job.units)}. In full under Findings, marked !!",)))
    yield Definitions(tuple(rows))


def required_beside(result: Result) -> list[Walked]:
    """The situations beside the job as described that decide as well."""
    return [w for w in result.walked[1:] if w.situation.standing is Standing.REQUIRED]


def _ends_all(result: Result) -> str:
    """The ending as described; before it that of a situation that is required as well, where it is worse."""
    own = ends_line(result.sound)
    if result.ending is result.sound.ending:
        return own
    names = [w.situation.name for w in required_beside(result) if w.ending is result.ending]
    return f"{ending_text(result.ending)} with {' and '.join(names)}, which is required too. As described: {own}"


def _ends_in(walked: Walked) -> str:
    """How a situation ends, and its worst check."""
    worst = walked.governing
    told = f", worst is {worst.title} ({utilisation_text(worst)})" if worst is not None else ""
    missing = len(ending_as(walked, Ending.NOT_CHECKED))
    unknown = f", {missing} NOT CHECKED" if missing and walked.ending is Ending.EXCEEDS else ""
    return f"{walked.situation.name}: {ending_text(walked.ending)}{told}{unknown}"


def _assumed(result: Result) -> str:
    """What nobody measured, by whom it is taken so; those of the job by name, those first that what governs rests on."""
    every = assumptions(result)
    own = [spoken(e.path) for e in every if e.assumed]
    if not every:
        return ""
    by_tool = len(every) - len(own)
    parts = [f"{len(own)} {'entry' if len(own) == 1 else 'entries'} of the job"] if own else []
    parts += [f"{by_tool} by this tool"] if by_tool else []
    named = f": {'; '.join(own[:MOST])}{f'; {len(own) - MOST} more' if len(own) > MOST else ''}" if own else ""
    return f"{' and '.join(parts)}, nobody measured them; {NOT_MEASURED} stands before such a figure{named}"


def ends_line(walked: Walked) -> str:
    """The ending of the whole job; how many checks exceed, where one does."""
    required = sum(1 for c in walked.checks if c.standing is Standing.REQUIRED)
    if walked.ending is Ending.EXCEEDS:
        return f"EXCEEDS: {len(ending_as(walked, Ending.EXCEEDS))} of {required} required checks do"
    return ENDS[walked.ending]


def load_line(result: Result, check: Check, calculation: Calculation) -> Line:
    """The load behind a check: its size with source, on the panel, at the level strength is checked at."""
    case = load_of(result, check)
    if case is None and not carries_a_load(check):
        return ("no load is in it: what governs is a size or a distance, the same under any load",)
    if case is None:
        return _load_without_a_case(result, check)
    unfactored = case.action.level or result.basis.unfactored
    line: Line = (
        f"{case.title}, ", *_sizes(case, unfactored), "on the whole panel ", Token(case.resultant, 0, FRONT),
        f" {unfactored}, at ", Token(case.height, 0, CALCULATION), " above the bottom edge",
    )  # fmt: skip
    design = design_action(result, case)
    if design is None:
        return line
    factor = case.strength.factor
    item = calculation.ledger.find(design)
    ref: Line = (" ", Ref(item.label)) if item is not None else ()
    return (
        *line, ", ", Token(design, 0, FRONT), *ref, f" at the {case.strength.level} level (", Sym(factor.symbol), " = ",
        Token(factor, 0, FRONT), f", {case.strength.source})",
    )  # fmt: skip


def _sizes(case: Case, unfactored: str) -> Iterator[Inline]:
    """The size of what acts, with its source; of two actions at once each with the share it has in the combination."""
    for p in case.parts or (None,):
        action = case.action if p is None else p.case.action
        share: Line = () if p is None else (Token(p.share, 0, FRONT), " of ")
        yield from (*share, Token(action.size, 0, FRONT), f" {unfactored} ({action.source}{_read(action.size)}); ")


def _read(size: Value) -> str:
    """How a figure of a table came into it, where nobody read it in its document."""
    origin = source_of(size, 0)[0].origin
    how = {"secondary": ", read in a copy or a quotation", "memory": ", from memory"}
    return how.get(origin.provenance, "") if isinstance(origin, Cell) else ""


def _load_without_a_case(result: Result, check: Check) -> Line:
    """A check whose action is no load case of its own but is made of one's size, or says only where it comes from."""
    case, words = size_in(result, check), check.where or "not named by the check"
    if case is None:
        return (words,)
    return (f"{words}, ", Token(case.action.size, 0, FRONT), f" {result.basis.unfactored} ({case.action.source})")


def _governs(walked: Walked, check: Check) -> Iterator[tuple[str, Line]]:
    """Which check governs and how it ends; where its worst station is, and what stands beside it."""
    eta = f"utilisation {utilisation_text(check)}, " if check.eta is not None else ""
    reason = f": {check.reason}" if check.eta is None and check.reason else ""
    yield "Governs", (f"{check.title}: {eta}{ending_text(check.ending)}{reason}",)
    if check.where:
        yield "Worst at", (check.where,)
    told = (_no_figure(walked, check), _ties(walked, check), _among(walked), _informs(walked, check))
    beside = [words for words in told if words]
    if beside:
        yield "Beside it", ("; ".join(beside),)


def _no_figure(walked: Walked, check: Check) -> str:
    """What governs besides, where what governs is beyond what its model holds for."""
    beyond = {f.about for link in walked.links for f in link.findings if f.about is not None}
    if check.about not in beyond:
        return ""
    others = [c for c in walked.checks if c.standing is Standing.REQUIRED and c.about not in beyond and c.rank is not None]
    following = max(others, key=lambda c: tied(c.rank or 0.0), default=None)
    after = "" if following is None else f"; after it {following.title} governs with {utilisation_text(following)}"
    return f"that it exceeds stands, by how much is no figure (see Findings){after}"


def _among(walked: Walked) -> str:
    """What a governing check governs, where not everything could be checked."""
    required = [c for c in walked.checks if c.standing is Standing.REQUIRED]
    known = [c for c in required if c.ending is not Ending.NOT_CHECKED]
    if len(known) == len(required):
        return ""
    return f"it governs among the {len(known)} of {len(required)} required checks that could be made"


def _informs(walked: Walked, check: Check) -> str:
    """A check that only informs and comes to more than what governs: a reader must not take the smaller figure for the worst."""
    ranked = [c for c in walked.checks if c.standing is Standing.INFORMATION and c.rank is not None]
    more = [c for c in ranked if check.rank is not None and (c.rank or 0.0) > check.rank * (1 + TIE)]
    if not more:
        return ""
    worst = max(more, key=lambda c: tied(c.rank or 0.0))
    return f"of what only informs, {worst.title} comes to more: {utilisation_text(worst)}"


def _ties(walked: Walked, check: Check) -> str:
    """How many required checks share the governing place."""
    alike = [
        c for c in walked.checks
        if c is not check and c.standing is Standing.REQUIRED and c.ending is check.ending
        and (c.eta is None) is (check.eta is None)
        and (c.eta is None or check.eta is None or abs(c.eta - check.eta) <= TIE * check.eta)
    ]  # fmt: skip
    if not alike:
        return ""
    return f"{len(alike)} more {'check is' if len(alike) == 1 else 'checks are'} like it"


def _formula(check: Check, calculation: Calculation) -> Iterator[tuple[str, Line]]:
    """What is compared with what, by which step, from which source."""
    if check.utilisation is not None:
        item = calculation.ledger.add(check.utilisation, check.station)
        origin = item.origin
        assert isinstance(origin, Step)
        names: list[Inline] = []
        for name, part in item.inputs.items():
            names += [
                "; " if names else "",
                _words(part.value),
                " ",
                Sym(name),
                " = ",
                _front(part.token()),
                " ",
                Ref(part.label),
            ]
        form: Line = (Formula(origin.equation), ": ", *names, ", step ", Ref(item.label))
        yield "Formula", form
    if check.eta is None and check.resistance is None:
        yield "Resistance", (f"none: {check.reason}",)
    for word, value in (("Demand", check.demand), ("Resistance", check.resistance)):
        if value is not None:
            item = calculation.ledger.add(value, check.station)
            origin = item.origin
            form = (Formula(origin.equation), ", ") if isinstance(origin, Step) else ()
            amount: Line = (_front(item.token()), ": ") if check.eta is None else ()
            yield word, (*amount, *form, f"{source_words(item.value)}, ", Ref(item.label))


def _front(token: Token) -> Token:
    return Token(token.value, token.station, FRONT, token.unit)


def _words(value: Value) -> str:
    origin = value.origin
    if isinstance(origin, Step):
        return origin.equation.title or shown_name(origin.equation.result.name)
    if isinstance(origin, Numerical):
        return origin.title
    if isinstance(origin, JobEntry):
        return f"what the job gives as {spoken(origin.path)}"
    assert isinstance(origin, Cell)
    return f"{origin.table} {origin.key}".strip()


def source_words(value: Value) -> str:
    """How a value came about, and who says so."""
    origin = value.origin
    if isinstance(origin, Step):
        e = origin.equation
        return f"{e.title or 'equation'}: {e.source} ({e.provenance})"
    if isinstance(origin, Numerical):
        return f"{origin.title}: {origin.method} ({origin.source})"
    if isinstance(origin, JobEntry):
        return f'the job: {spoken(origin.path)} = "{origin.text}"' + (f", assumed: {origin.reason}" if origin.is_assumed else "")
    assert isinstance(origin, Cell)
    return f"{origin.source} {origin.clause} ({origin.provenance})"


def ending_as(walked: Walked, ending: Ending, standing: Standing = Standing.REQUIRED) -> list[Check]:
    """The checks of a situation that end so."""
    return [c for c in walked.checks if c.ending is ending and c.standing is standing]


def _not_checked(walked: Walked) -> Line:
    required = [c for c in walked.checks if c.standing is Standing.REQUIRED]
    missing = ending_as(walked, Ending.NOT_CHECKED)
    said = {c.about for c in missing}
    beside = [c for c in ending_as(walked, Ending.NOT_CHECKED, Standing.INFORMATION) if replace(c.about, at_once=False) not in said]
    more = f" Of those that only inform, NOT CHECKED as well: {titles(walked, beside)}." if beside else ""
    never = "What this tool never checks stands at the end of this sheet."
    if not missing:
        return (f"none of the {len(required)} required checks.{more} {never}",)
    return (f"{len(missing)} of {len(required)} required checks: {waiting(walked, missing)}.{more} {never}",)


def _exceeds(walked: Walked) -> Line:
    over = ending_as(walked, Ending.EXCEEDS)
    required = [c for c in walked.checks if c.standing is Standing.REQUIRED]
    if not over:
        return (f"none of the {len(required)} required checks",)
    worst_first = sorted(over, key=lambda c: -tied(c.rank) if c.rank is not None else -inf)
    return (f"{len(over)} of {len(required)} required checks, worst first: {titles(walked, worst_first, numbers=True, most=MOST)}",)


def openings(findings: Sequence[str], style: str) -> str:
    """What each finding opens with, in a row: enough to look it up."""
    return "; ".join(in_words(HEAD.split(text, maxsplit=1)[0].removesuffix("."), style) for text in findings)


def waiting(walked: Walked, checks: Sequence[Check]) -> str:
    """Titles of checks that were not made; of many that wait for one and the same answer, how many and for which."""
    by_reason: dict[str, list[Check]] = {}
    for c in checks:
        by_reason.setdefault(c.reason, []).append(c)
    many = {reason: same for reason, same in by_reason.items() if len(same) > MOST}
    few = [c for c in checks if c.reason not in many]
    told = [f"{len(same)} for one reason ({in_words(r, walked.job.units)})" for r, same in many.items()]
    return "; ".join([*told, *([titles(walked, few)] if few else [])])


def titles(walked: Walked, checks: Sequence[Check], numbers: bool = False, most: int = 0) -> str:
    """Titles of checks in a row; those that differ only in the mount they are about are one title with all its mounts.

    ``numbers`` puts the utilisation of the first of them behind each title; of more than ``most`` titles the rest is counted.
    """
    figures: dict[About, str] = {}
    grouped: dict[About, list[str]] = {}
    first: dict[About, str] = {}
    for c in checks:
        key, name = c.about.anywhere, c.about.mount
        grouped.setdefault(key, []).append(name)
        first.setdefault(key, c.title.replace(f"mount {name}", "mount \0", 1) if name else c.title)
        figures.setdefault(key, f" ({utilisation_text(c)}{', a sum of squares' if c.squares else ''})" if numbers else "")
    told = [first[key].replace("\0", ", ".join(names)) + figures[key] for key, names in grouped.items()]
    if most and len(told) > most + 2:
        told[most:] = [f"and {len(told) - most} kinds more, each with its bar under The links"]
    return "; ".join(told)


def sentence(text: str) -> str:
    """A title at the beginning of a sentence.

    >>> sentence("bending of the glass"), sentence("")
    ('Bending of the glass', '')
    """
    return text[:1].upper() + text[1:]
