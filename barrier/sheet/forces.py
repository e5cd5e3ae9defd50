"""What the barrier hands on to the deck: forces for whoever designs joists, ledger and posts; no check."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from barrier.links.blocking import PieceForces
from barrier.load_path import Result
from barrier.sheet.blocks import Block, Heading, Line, Paragraph, Table, Token
from barrier.value import Numerical, Value

FACTORED = "at the action strength is checked with"


def pieces_of(result: Result) -> tuple[PieceForces, ...]:
    """Forces on the pieces of blocking of every mount that has them."""
    handed = [link.handed_on for link in result.links if isinstance(link.handed_on, tuple)]
    return tuple(p for tuple_ in handed for p in tuple_ if isinstance(p, PieceForces))


def blocks(result: Result) -> Iterator[Block]:
    """The table of forces, at the largest moment that decides; both signs and all stiffnesses lie within it."""
    every = pieces_of(result)
    if not every:
        return
    yield Heading(1, ("Forces handed on to the deck",))
    yield Paragraph((
        f"From the mounts, {FACTORED}: what reaches the blocking. Push and moment are at the underside of the base plate; "
        "the force on a piece is the largest down and the largest up over both directions and all stiffnesses. The deck "
        "itself is not checked.",
    ))  # fmt: skip
    rows: list[tuple[Line, ...]] = []
    for p in every:
        mount = p.mount
        first: tuple[Line, ...] = (
            (mount.model.name,), (Token(mount.M_Ed, mount.worst),), (Token(_absolute(mount.F_Ed, mount.worst)),)
        )  # fmt: skip
        for i, piece in enumerate(mount.model.pieces):
            down, up = float(p.forces[:, i].max()), float(p.forces[:, i].min())
            head = first if i == 0 else (("",), ("",), ("",))
            rows.append((*head, (piece.name,), _force(down), _force(-up), (_label(p, i),)))
    head_line = ("mount", "moment", "push", "piece", "down", "up", "largest in")
    yield Table(head_line, tuple(rows), "lrrlrrl")


def _absolute(value: Value, station: int) -> Value:
    return Value(abs(value.at(station)), value.kind, value.origin, value.symbol)


def _force(x: float) -> Line:
    if x <= 0.0:
        return ("none",)
    origin = Numerical("force on a piece of blocking", "equilibrium of the piece", "contact model of this project")
    return (Token(Value(x, "force", origin)),)


def _label(p: PieceForces, piece: int) -> str:
    return p.labels[int(np.abs(p.forces[:, piece]).argmax())]
