"""A symmetric system of several spline fields on one rectangle, ordered column by column, factorised by blocks.

Every unknown belongs to a spline of the line along which columns are counted; splines further apart than ``DEGREE``
share nothing. So the matrix is a band of blocks, and columns may differ in how many unknowns they have. Blocks are
dense: factor and answers run in large matrix products, each in the place where its result stays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg.blas import dgemm, dsyrk, dtrsm
from scipy.linalg.lapack import dpotrf

from barrier.mechanics.spline_lines import FloatArray


@dataclass(frozen=True, eq=False)
class Columns:
    """Cholesky factor L of a band of blocks.

    starts: first unknown of each column, and the number of all. panels: of each column its part of L from its own triangle
    down, (unknowns of it and of those that follow at once, unknowns of it); what lies above the triangle means nothing.
    """

    starts: list[int]
    panels: list[FloatArray]

    @classmethod
    def factorise(cls, panels: Sequence[FloatArray]) -> Columns:
        """Factorise; the panels are used up.

        panels: of each column the lower half of the matrix, from its own diagonal block down as far as anything is there:
        (unknowns of it and of those that follow at once, unknowns of it), rows in one piece of memory. LinAlgError if not
        positive definite.
        """
        starts = np.concatenate([[0], np.cumsum([p.shape[1] for p in panels])]).tolist()
        ends = [start + len(panel) for start, panel in zip(starts, panels, strict=False)]
        reaching = 0  # the first column that reaches the present one
        for i, panel in enumerate(panels):
            start, own = starts[i], panel.shape[1]
            while ends[reaching] <= start:
                reaching += 1
            for k in range(reaching, i):
                beside = panels[k][start - starts[k] :]
                if len(beside) >= own:
                    _kept(panel[:own], dsyrk(-1.0, beside[:own].T, beta=1.0, c=panel[:own].T, trans=1, lower=0, overwrite_c=1))
                    _subtract(panel[own : len(beside)], beside[own:], beside[:own])
                else:
                    panel[: len(beside), : len(beside)] -= beside @ beside.T
            upper, failed = dpotrf(panel[:own].T, lower=0, clean=0, overwrite_a=1)
            if failed:
                raise np.linalg.LinAlgError("the laminate is not held, or its stiffness is not positive")
            _kept(panel[:own], upper)
            _divide(panel[own:], panel[:own], side=0, trans_a=1)
        return cls(starts, list(panels))

    def forward(self, pushes: Sequence[tuple[int, FloatArray]]) -> list[FloatArray]:
        """First half of the answer to several groups of right-hand sides.

        pushes: of each group the unknown from which on it pushes, rising, and its pushes on all from there on: (unknowns,
        cases). Returned: one after another the parts of all unknowns, each with the cases of the groups that reach it; the
        sum of their products, transposed with themselves, is what cases work on each other's answers.
        """
        waiting, found = list(pushes), []
        place, now = 0, np.zeros((self.starts[-1], 0))  # what is under way, from the place-th unknown on
        for start, end, panel in zip(self.starts, self.starts[1:], self.panels, strict=False):
            joining = [group for group in waiting if group[0] < end]
            if joining:
                found.append(now[: start - place])
                more = [np.concatenate([np.zeros((begin - start, right.shape[1])), right]) for begin, right in joining]
                now, place = np.concatenate([now[start - place :], *more], axis=1), start
                waiting = waiting[len(joining) :]
            own, beside = now[start - place : end - place], panel[end - start :]
            _divide(own, panel[: end - start], side=1, trans_a=0)
            _subtract(now[end - place : end - place + len(beside)], beside, own.T)
        return [*found[1:], now] if found else [now]

    def backward(self, half: FloatArray) -> FloatArray:
        """Second half: from what :meth:`forward` gives for all unknowns to the answers, (unknowns, cases); used up."""
        found = np.ascontiguousarray(half)
        steps = list(zip(self.starts, self.starts[1:], self.panels, strict=False))
        for start, end, panel in reversed(steps):
            own, beside = found[start:end], panel[end - start :]
            _subtract(own, beside.T, found[end : end + len(beside)].T)
            _divide(own, panel[: end - start], side=1, trans_a=1)
        return found


def _subtract(rows: FloatArray, left: FloatArray, right: FloatArray) -> None:
    """rows -= left @ right.T, in place; rows in one piece of memory."""
    if rows.size and left.size:
        a, turned_a = (right, 0) if right.flags.f_contiguous else (right.T, 1)
        b, turned_b = (left.T, 0) if left.flags.c_contiguous else (left, 1)
        _kept(rows, dgemm(-1.0, a, b, beta=1.0, c=rows.T, trans_a=turned_a, trans_b=turned_b, overwrite_c=1))


def _divide(rows: FloatArray, triangle: FloatArray, side: int, trans_a: int) -> None:
    """Divide rows by a triangle of the factor, in place; side and trans_a as BLAS has them of the rows turned."""
    if rows.size:
        _kept(rows, dtrsm(1.0, triangle.T, rows.T, side=side, lower=0, trans_a=trans_a, overwrite_b=1))


def _kept(rows: FloatArray, found: FloatArray) -> None:
    """See to it that what BLAS found stands in its place; it is allowed to overwrite its input, not bound to."""
    if not np.may_share_memory(rows, found):
        rows[...] = found.T
