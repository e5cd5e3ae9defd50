"""Blocks of a symmetric band: factor and answers beside a dense solution."""

from __future__ import annotations

import numpy as np
import pytest

from barrier.mechanics.laminate_columns import Columns
from barrier.mechanics.spline_lines import FloatArray

WIDTHS = (3, 5, 2, 5, 4, 1, 3)


def band(widths: tuple[int, ...] = WIDTHS, reach: int = 2, short: int = 1) -> tuple[FloatArray, list[FloatArray]]:
    """A matrix, and its columns down to the column ``reach`` further less ``short`` unknowns."""
    at = np.concatenate([[0], np.cumsum(widths)])
    ends = [int(at[min(i + 1 + reach, len(widths))]) - (short if i + 1 + reach < len(widths) else 0) for i in range(len(widths))]
    ends = [max(end, int(at[i + 1])) for i, end in enumerate(np.maximum.accumulate(ends))]
    random = np.random.default_rng(7)
    whole = np.zeros((at[-1], at[-1]))
    for i, end in enumerate(ends):
        whole[at[i] : end, at[i] : at[i + 1]] = random.normal(size=(end - at[i], widths[i]))
    whole = np.tril(whole) + np.tril(whole, -1).T + 20.0 * np.eye(at[-1])
    return whole, [np.ascontiguousarray(whole[at[i] : end, at[i] : at[i + 1]]) for i, end in enumerate(ends)]


@pytest.mark.parametrize(("reach", "short"), [(1, 0), (2, 0), (2, 1), (3, 2)])
def test_answers_are_those_of_the_dense_matrix(reach: int, short: int) -> None:
    whole, panels = band(reach=reach, short=short)
    right = np.random.default_rng(1).normal(size=(len(whole), 4))
    factor = Columns.factorise(panels)
    (half,) = factor.forward([(0, right.copy())])
    assert factor.backward(half.copy()) == pytest.approx(np.linalg.solve(whole, right), rel=1e-11, abs=1e-13)
    assert half.T @ half == pytest.approx(right.T @ np.linalg.solve(whole, right), rel=1e-11)


@pytest.mark.parametrize("begin", [0, 3, 9, 17, 22])
def test_a_group_that_pushes_from_some_unknown_on_joins_there(begin: int) -> None:
    whole, panels = band()
    size, random = len(whole), np.random.default_rng(2)
    every, late = random.normal(size=(size, 2)), random.normal(size=(size - begin, 3))
    factor = Columns.factorise(panels)
    parts = factor.forward([(0, every.copy()), (begin, late.copy())])
    assert sum(map(len, parts)) == size
    work = np.zeros((5, 5))
    for part in parts:
        work[: part.shape[1], : part.shape[1]] += part.T @ part
    right = np.concatenate([every, np.concatenate([np.zeros((begin, 3)), late])], axis=1)
    assert work == pytest.approx(right.T @ np.linalg.solve(whole, right), rel=1e-11)


def test_what_is_not_held_is_refused() -> None:
    _, panels = band()
    panels[3][0, 0] = -1.0
    with pytest.raises(np.linalg.LinAlgError):
        Columns.factorise(panels)
