"""What governs, followed back to the load: every step behind the governing check on one page, each a line.

The calculation puts inputs before use and serves every check; a reviewer who has ten minutes wants the one chain that
decides, from its end. The lines are the items of the calculation under their own numbers, printed from the same tokens.
"""

from __future__ import annotations

from collections.abc import Iterator

from barrier.equation import Step
from barrier.load_path import Result
from barrier.sheet.blocks import Block, Formula, Heading, Inline, Line, Paragraph, Ref, Sym, Table
from barrier.sheet.content.calculation import Calculation, values_of
from barrier.sheet.content.ledger import Item, is_model
from barrier.value import Numerical

HEAD = ("no.", "result", "what", "from")


def blocks(result: Result, calculation: Calculation) -> Iterator[Block]:
    """The chain of the governing check; nothing where no check governs or it compares two given figures."""
    check = result.governing
    if check is None:
        return
    ledger = calculation.ledger
    compared = values_of(check) if check.utilisation is None else (check.utilisation,)
    roots = [ledger.add(v, check.station) for v in compared]
    rows = tuple(_row(item) for item in followed_back(roots) if isinstance(item.origin, Step) or is_model(item))
    if not rows:
        return
    yield Heading(1, ("What governs, followed back to the load",))
    yield Paragraph((
        "Begin at the top: each line names the lines below it that it was made of, down to entries of the job (J) and lines of "
        "tables (T). N is the result of a numerical method, with an answer by hand beside it where there is one, or was "
        "only counted. All of them stand in full in the calculation under the same number.",
    ))  # fmt: skip
    yield Table(HEAD, rows, "lrll", whole=True)


def followed_back(roots: list[Item]) -> list[Item]:
    """The roots and all they were made of, each before its parts, the first part's own parts first."""
    order: list[Item] = []
    seen: set[str] = set()

    def visit(item: Item) -> None:
        if item.label in seen:
            return
        seen.add(item.label)
        for part in reversed(_parts(item)):
            visit(part)
        order.append(item)

    for root in reversed(roots):  # backwards through all, so that turned round every item stands before its parts
        visit(root)
    return order[::-1]


def _parts(item: Item) -> list[Item]:
    """What it was made of, the answer by hand before the rest: so it stands next to what it is beside."""
    return [*((item.hand,) if item.hand is not None else ()), *item.inputs.values()]


def _row(item: Item) -> tuple[Line, ...]:
    origin = item.origin
    if isinstance(origin, Step):
        title = origin.equation.title
        what: Line = (Formula(origin.equation), *((f", {title}",) if title else ()))
    else:
        assert isinstance(origin, Numerical)
        what = ((Sym(item.value.symbol), ", ") if item.value.symbol else ()) + (origin.title,)
        if item.hand is not None:
            what = (*what, "; by hand ", item.hand.token(), " ", Ref(item.hand.label))
    return (Ref(item.label),), (item.token(),), what, _made_of(item)


def _made_of(item: Item) -> Line:
    line: list[Inline] = []
    for run in _runs(list(dict.fromkeys(part.label for part in item.inputs.values()))):
        line += [" "] if line else []
        line += [Ref(run[0]), "–", Ref(run[-1])] if len(run) > 2 else [p for r in run for p in (" ", Ref(r))][1:]
    return tuple(line)


def _runs(labels: list[str]) -> list[list[str]]:
    """Numbers of one letter that follow on one another in a run: T9 T10 T11 is told as T9 to T11."""
    runs: list[list[str]] = []
    for label in labels:
        if runs and label == _next(runs[-1][-1]) and label[:1].isalpha():
            runs[-1].append(label)
        else:
            runs.append([label])
    return runs


def _next(label: str) -> str:
    series = label.rstrip("0123456789")
    return f"{series}{int(label[len(series) :]) + 1}"
