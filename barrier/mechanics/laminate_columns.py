"""A symmetric system of several spline fields on one rectangle, ordered column by column, factorised by blocks.

Every unknown belongs to a spline of the line along which columns are counted; splines further apart than ``DEGREE``
share nothing. So the matrix is a band of blocks, and columns may differ in how many unknowns they have. Blocks are
dense: factor and answers run in large matrix products.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import cholesky, solve_triangular

from barrier.mechanics.spline_lines import DEGREE, FloatArray

AT_ONCE = 1  # columns eliminated in one step


@dataclass(frozen=True, eq=False)
class Columns:
    """Cholesky factor of a band of blocks: per step its rows, its triangle and what lies right of the triangle."""

    starts: list[int]  # first unknown of each step, and the number of all
    triangles: list[FloatArray]  # upper, (k, k)
    beside: list[FloatArray]  # (k, r): the unknowns that follow at once

    @classmethod
    def factorise(cls, columns: Sequence[FloatArray]) -> Columns:
        """Factorise.

        columns: of each column its rows of the upper half, from its own diagonal block to the column ``DEGREE`` further:
        (unknowns, unknowns of it and of the columns that follow). LinAlgError if not positive definite.
        """
        widths = [len(c) for c in columns]
        at = np.concatenate([[0], np.cumsum(widths)])
        starts, triangles, beside = [], [], []
        front = np.zeros((0, 0))  # what steps before leave to subtract, from the first unknown of this step on
        for first in range(0, len(columns), AT_ONCE):
            after = min(first + AT_ONCE, len(columns))
            end = at[min(after + DEGREE, len(columns))]
            size, own = end - at[first], at[after] - at[first]
            rows = np.zeros((own, size))
            for i in range(first, after):
                place = at[i] - at[first]
                rows[place : place + widths[i], place : place + columns[i].shape[1]] = columns[i]
            reach = len(front)
            rows[: min(own, reach), :reach] -= front[:own]
            upper = cholesky(rows[:, :own], lower=False, overwrite_a=False, check_finite=False)
            right = solve_triangular(upper, rows[:, own:], trans="T", overwrite_b=False, check_finite=False)
            left_over = right.T @ right
            if reach > own:
                left_over[: reach - own, : reach - own] += front[own:, own:]
            starts.append(int(at[first]))
            triangles.append(upper)
            beside.append(right)
            front = left_over
        return cls([*starts, int(at[-1])], triangles, beside)

    def forward(self, right: FloatArray) -> FloatArray:
        """First half of the answer to right-hand sides (unknowns, cases): the product of two of these, transposed with
        each other, is what one case works on the answer to the other."""
        found = right.copy()
        for start, end, upper, beside in zip(self.starts, self.starts[1:], self.triangles, self.beside, strict=False):
            if not (active := np.flatnonzero(found[start:end].any(axis=0))).size:
                continue
            part = slice(active[0], active[-1] + 1)
            own = solve_triangular(upper, found[start:end, part], trans="T", check_finite=False)
            found[start:end, part] = own
            found[end : end + beside.shape[1], part] -= beside.T @ own
        return found

    def backward(self, half: FloatArray) -> FloatArray:
        """Second half: from what :meth:`forward` gives to the answers, (unknowns, cases)."""
        found = half.copy()
        steps = list(zip(self.starts, self.starts[1:], self.triangles, self.beside, strict=False))
        for start, end, upper, beside in reversed(steps):
            right = found[start:end] - beside @ found[end : end + beside.shape[1]]
            found[start:end] = solve_triangular(upper, right, check_finite=False)
        return found
