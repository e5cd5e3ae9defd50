"""Barrier load and wind in one combination: cases of their own, solved as one load, walked like any other.

Which combinations there are is the basis's own, and whether they decide; the reader may say otherwise, with a reference.
Every barrier load across the glass that decides is put beside the wind, for nothing that was read keeps one of them apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.basis import BothAtOnce
from barrier.equation import Equation, Symbol, symbols
from barrier.links.loads.cases import Case, Part
from barrier.links.walk import Walk
from barrier.mechanics.plate import at_once as one_load
from barrier.result import Finding, Shown, Standing

RESULTANT = Equation(
    Symbol("H_k", "force"),
    "s_1*H_1 + s_2*H_2",
    symbols("s_1:ratio, H_1:force, s_2:ratio, H_2:force"),
    "two actions at once, each with its share in the combination",
    "computed",
    title="both actions over the whole panel, before the factor of the combination",
)
HEIGHT = Equation(
    Symbol("y_Q", "length"),
    "(s_1*H_1*y_1 + s_2*H_2*y_2)/H_k",
    symbols("s_1:ratio, H_1:force, y_1:length, s_2:ratio, H_2:force, y_2:length, H_k:force"),
    "statics: resultant of two forces",
    "computed",
    title="height of the resultant above the bottom edge of the glass",
)


def at_once(walk: Walk, alone: Sequence[Case]) -> Iterator[Case]:
    """Every barrier load that decides with the wind on its panel, in every combination of the basis; none after damage."""
    both = combinations(walk)
    for w in (c for c in alone if c.action.nature == "wind"):
        for q in alone:
            if q.panel is w.panel and q.action.nature == "barrier" and q.standing is Standing.REQUIRED:
                yield from (_case(walk, b, q, w) for b in both)


def combinations(walk: Walk) -> tuple[BothAtOnce, ...]:
    """The combinations of both: those of the basis, none where the reader keeps them apart or something has broken."""
    if walk.situation.after_damage or walk.job.loads.with_wind == "apart":
        return ()
    return walk.basis.at_once(walk.strength("barrier"), walk.strength("wind"))


def decides(walk: Walk) -> bool:
    """Whether the combinations of both decide: where the basis says so, or the reader does."""
    return walk.basis.at_once_decides or walk.job.loads.with_wind == "together"


def _case(walk: Walk, both: BothAtOnce, q: Case, w: Case) -> Case:
    parts = (Part(both.barrier, q), Part(both.wind, w))
    if both.strength.natures[0] == "wind":
        parts = (parts[1], parts[0])
    (s_1, lead), (s_2, other) = parts
    given = {
        "s_1": s_1.named("s_1"), "H_1": lead.resultant.named("H_1"), "s_2": s_2.named("s_2"), "H_2": other.resultant.named("H_2"),
    }  # fmt: skip
    total = RESULTANT(**given)
    y = HEIGHT(**given, y_1=lead.height.named("y_1"), y_2=other.height.named("y_2"), H_k=total)
    load = one_load(1.0, *(one_load(float(p.share.x), p.case.load) for p in parts))
    standing = Standing.REQUIRED if decides(walk) else Standing.INFORMATION
    return Case(
        f"{lead.id} with {other.key}", f"{lead.title}, with {other.words}", q.panel, lead.action, load, total, y, both.strength,
        both.service, standing, parts, f"{lead.key} with {other.key}", f"{lead.words}, with {other.words}",
    )  # fmt: skip


def shown(cases: Sequence[Case]) -> Iterator[Shown]:
    """The share each action has in every combination of both, once."""
    for id, case in {c.strength.id: c for c in reversed(cases) if c.parts}.items():
        for p in case.parts:
            yield Shown(f"share of the {p.case.action.nature} action: {id}", p.share, 0, case.strength.source)


def findings(walk: Walk, cases: Sequence[Case]) -> Iterator[Finding]:
    """What is done about barrier load and wind at once, and why; the question to the engineer where it is open."""
    if not {"barrier", "wind"} <= {c.action.nature for c in cases}:
        return
    loads, words = walk.job.loads, walk.basis.at_once_words
    names = "; ".join(dict.fromkeys(c.strength.id for c in cases if c.parts))
    if walk.situation.after_damage:
        yield Finding("After damage barrier load and wind are looked at apart.")
    elif loads.with_wind == "apart":
        yield Finding(f"Barrier load and wind at once are left out of this job: {loads.reference}. {words}.", loud=True)
    elif not names:
        yield Finding(f"Barrier load and wind stand apart in this basis: {words}.")
    elif loads.with_wind == "together":
        yield Finding(f"Barrier load and wind at once decide in this job: {loads.reference}. Combinations: {names}.", loud=True)
    elif walk.basis.at_once_decides:
        yield Finding(f"Barrier load and wind are also taken at once, and that decides ({names}): {words}.")
    else:
        yield Finding(
            f"Barrier load and wind at once inform and do not decide. {words}. Ask the engineer which holds here, and write it as "
            'loads.with_wind = "together" or "apart" with loads.reference.',
            loud=True,
        )
    if names:
        yield Finding(
            "Beside the wind stands every barrier load across the glass that decides, one at a time, both pushing one way."
        )
