"""What the barrier hands on to the deck: forces for whoever designs joists, ledger and posts; no check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.links.blocking.force_sets import ForceSet
from barrier.links.blocking.force_table import ForceTable
from barrier.load_path import Result
from barrier.sheet.blocks import Block, Heading, Line, Paragraph, Table, Token
from barrier.sheet.drawings import forces as drawn
from barrier.value import Value

# Which way a force of a set is positive, on pieces along the glass and on pieces across it.
ALONG = "sideways towards the drop, a torque where it turns the drop side down"
ACROSS = f"on pieces across the glass: along them towards the drop, sideways to the right; on others: {ALONG}"


def blocks(result: Result) -> Iterator[Block]:
    """One table for all mounts that hand on the same, at the largest moment that decides."""
    every, chain = result.handed_on.tables, drawn.drawings(result)
    if every or chain:
        yield Heading(1, ("Forces handed on to the deck",))
        yield from chain
    if not every:
        return
    yield Paragraph((
        "What joists, ledger and posts must take from each mount, beside everything else they carry; of these the joists alone are "
        "checked. Push, moment and twist about the vertical are at the underside of the base plate, the weight is without any "
        "factor. Forces at the ends of pieces are the largest over all stiffnesses, down positive. Service is before any factor "
        "and on an elastic bed; at the other level the bed yields, which moves bearing from piece to piece, so that a piece may "
        "have its larger force at service: take the larger.",
    ))  # fmt: skip
    combinations = tuple(dict.fromkeys(c for t in every for c in t.combinations))
    if len(combinations) > 1:
        yield Paragraph((
            f"Every figure is the largest over the combinations that decide ({'; '.join(combinations)}); two figures of one "
            "column need not be of the same one.",
        ))  # fmt: skip
    written: dict[tuple[object, ...], list[ForceTable]] = {}
    for t in every:
        written.setdefault(_figures(t), []).append(t)
    for same in written.values():
        yield table_of(same, tuple(t.mount.model.name for t in same))
    if any(t.sets for t in every):
        across = any(t.mount.model.span is not None and t.mount.model.span.mode == "bends" for t in every)
        yield Heading(2, ("Forces that come at once",))
        yield Paragraph((
            "The largest figures above do not act together. Here stands, for each direction of the push, one state whole: that in "
            "which an end is pressed or pulled most. What comes to the ends balances the push, moment and twist in front of it; a "
            "joist gets such a set, the weight of the glass, which is not in it, and what comes to its other side, at once. "
            "Another state may be worse for a part of it: which decides is for its designer. Down is "
            f"positive; {ACROSS if across else ALONG}; the twist may go either way.",
        ))  # fmt: skip
    for same in written.values():
        for s in same[0].sets:
            yield from _at_once(s, tuple(t.mount.model.name for t in same))


def table_of(same: Sequence[ForceTable], names: Sequence[str]) -> Table:
    """The table of mounts that hand on the same figures."""
    plural = "s" if len(names) > 1 else ""
    rows = tuple(((r.words,), *(_cell(v) for v in r.values)) for r in same[0].rows)
    return Table((f"mount{plural} {', '.join(names)}, each", *same[0].columns), rows, "l" + "r" * len(same[0].columns), whole=True)


def _at_once(forces: ForceSet, names: Sequence[str]) -> Iterator[Block]:
    """One set of forces: what acts on the mount, and its table."""
    push, moment, twist = map(Token, forces.action)
    yield Paragraph((
        f"In {forces.words}, a push of ", push, ", a moment of ", moment, " and a twist of ", twist, " are balanced by:",
    ))  # fmt: skip
    plural = "s" if len(names) > 1 else ""
    head = (f"mount{plural} {', '.join(names)}, each, {forces.sign}", *forces.columns)
    rows = tuple(((words,), *(_cell(v) for v in values)) for words, values in forces.rows)
    yield Table(head, rows, "l" + "r" * len(forces.columns), whole=True)


def alike(one: ForceTable, other: ForceTable) -> bool:
    """Whether two tables print the same figures."""
    return _figures(one) == _figures(other)


def _figures(table: ForceTable) -> tuple[object, ...]:
    """Equal for tables that print the same."""
    rows = tuple((r.words, *(None if v is None else float(f"{v.at(0):.6g}") for v in r.values)) for r in table.rows)
    sets = tuple((s.words, *(float(f"{v.at(0):.6g}") for _, values in s.rows for v in values)) for s in table.sets)
    return rows, sets


def _cell(value: Value | None) -> Line:
    return ("no equilibrium",) if value is None else (Token(value),)
