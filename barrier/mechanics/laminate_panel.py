"""A layered panel factorised once and condensed to its pads, so that a stand asks for the pads only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.laminate_columns import Columns
from barrier.mechanics.laminate_pads import Condensed, Grip
from barrier.mechanics.splines import FloatArray


@dataclass(frozen=True, eq=False)
class Panel:
    """The panel on its pads, factorised and condensed.

    half: half-way answers, part by part of the unknowns: to the loads, and to forces in the shapes of the pads that have to do
    with that part. entering: places in q in the order in which pads come in.
    """

    factor: Columns
    half: list[FloatArray]
    entering: NDArray[np.intp]
    loads: int
    C: FloatArray
    q_ref: FloatArray
    k: list[float]

    @classmethod
    def of(cls, factor: Columns, loads: FloatArray, grip: Grip, k: list[float]) -> Panel:
        size, cases = loads.shape
        pads = sorted(grip.pads, key=lambda pad: pad.first)
        half = factor.forward([(0, loads), *((pad.first, grip.pushes(pad, pad.first, size)) for pad in pads)])
        entering = np.concatenate([np.arange(pad.q.start, pad.q.stop) for pad in pads])
        work = np.zeros((cases + grip.size, cases + grip.size))
        for part in half:
            work[: part.shape[1], : part.shape[1]] += part.T @ part
        C, q_ref = np.zeros((grip.size, grip.size)), np.zeros((grip.size, cases))
        C[np.ix_(entering, entering)], q_ref[entering] = work[cases:, cases:], work[cases:, :cases]
        return cls(factor, half, entering, cases, C, q_ref, k)

    @property
    def bytes(self) -> int:
        """Memory of the large ones of its arrays."""
        return sum(block.nbytes for block in (*self.factor.panels, *self.half, self.C, self.q_ref))

    def answer(self, t: FloatArray) -> FloatArray:
        """All unknowns under the loads, one set of cases after another, less forces t at the pads: (unknowns, cases)."""
        t, sets = t[self.entering], t.shape[1] // self.loads
        parts = []
        for part in self.half:
            loads, pads = part[:, : self.loads], part[:, self.loads :]
            parts.append(np.tile(loads, sets) - pads @ t[: pads.shape[1]])
        return self.factor.backward(np.concatenate(parts))


class Factorised(NamedTuple):
    """The factorised panel, and what is left of it on pads of each stiffness: large, and not needed by an answer."""

    panel: Panel
    stands: dict[tuple[float, ...], Condensed]

    @property
    def bytes(self) -> int:
        """About what it takes in memory, once pads of three stiffnesses were looked at."""
        return self.panel.bytes + 3 * 3 * self.panel.C.nbytes
