"""The fields of two glass layers with a shear-soft interlayer, their energy, and where each unknown stands.

Fields: w, deflection; a = (u1 - u2) / h_s, the layers' displacement against each other along x and y, over the distance
of their middles; d, the opening of the interlayer; f, mean displacement of the interlayer as it is squeezed
sideways. w and d are quintic splines; a and f along x are derivatives of such splines along x, so that grad w lies
among the a exactly and nothing locks however stiff the interlayer. d and f live near the pads only.
"""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barrier.mechanics.laminate_parts import Laminate
from barrier.mechanics.plate_parts import Pad
from barrier.mechanics.spline_lines import DEGREE, FloatArray, Quadrature, Splines

FIELDS = ("w", "ax", "ay", "d", "fx", "fy")
LOCAL = ("d", "fx", "fy")
REACH = 100.0  # mm about each pad in which d and f live; 400 changes no stress by 0.05 %
FEW = 4  # columns whose matrix is put together at once: what is at work then stays in fast memory
FLOWS = 3.0  # lengths of flow; a stiffer film needs less than REACH


def slope_splines(derivative: FloatArray) -> FloatArray:
    """Splines of degree 4 from derivatives of quintic ones, (points, size) to (points, size - 1).

    The i-th is the derivative of the sum of all quintic splines after the i-th: one bump, nothing elsewhere.
    """
    found: FloatArray = np.cumsum(derivative[..., :0:-1], axis=-1)[..., ::-1]
    return found


@dataclass(frozen=True, eq=False)
class Line:
    """Products of splines of one direction integrated over it: of quintic ones N and of slope splines M."""

    rule: Quadrature
    tables: dict[str, FloatArray]
    _made: dict[str, FloatArray] = dataclasses.field(default_factory=dict)

    @classmethod
    def of(cls, rule: Quadrature) -> Line:
        """Tables at the points of a rule; a figure counts derivatives."""
        found = {"N0": rule.values, "N1": rule.first, "N2": rule.second}
        begun = np.logical_or.accumulate(rule.first[:, :-1] != 0.0, axis=1)  # beyond a bump its sum is nought but for rounding
        found |= {"M0": begun * slope_splines(rule.first), "M1": begun * slope_splines(rule.second)}
        return cls(rule, found)

    def product(self, pair: str) -> FloatArray:
        """Integral of every left spline times every right one, of a pair such as "N1 M0"."""
        if pair not in self._made:
            left, right = pair.split()
            self._made[pair] = self.rule.product(self.tables[left], self.tables[right])
        return self._made[pair]


Products = dict[tuple[str, str], tuple[list[FloatArray], list[FloatArray]]]
Term = tuple[str, str, float, str, str]  # two fields, factor, splines of both along x and along y ("N1 M0")


def _bending(field: str, other: str, D: float, nu: float) -> list[Term]:
    found = [
        (field, other, D, "N2 N2", "N0 N0"),
        (field, other, D, "N0 N0", "N2 N2"),
        (field, other, D * nu, "N2 N0", "N0 N2"),
        (field, other, D * nu, "N0 N2", "N2 N0"),
        (field, other, 2 * D * (1 - nu), "N1 N1", "N1 N1"),
    ]
    return found


def terms(sheet: Laminate) -> list[Term]:
    """The energy of both layers and the interlayer, twice: a sum of products, each pair of fields once.

    1/2 D |grad grad w|² + 1/2 B |e(a)|² + 1/2 S |grad w + e0 grad d - a|²
    + 1/2 (D1 D2 / D) |grad grad d|² + 1/2 M h_v (d / h_v + div f)² + 1/2 (12 G / h_v) |f|²
    """
    nu, B, S, e, M, h = sheet.nu, sheet.B, sheet.S, sheet.e0, sheet.M, sheet.gap
    shear = (1 - nu) / 2
    found = _bending("w", "w", sheet.D, nu) + _bending("d", "d", sheet.D_split, nu)
    found += [
        ("ax", "ax", B, "M1 M1", "N0 N0"), ("ax", "ax", B * shear, "M0 M0", "N1 N1"), ("ax", "ax", S, "M0 M0", "N0 N0"),
        ("ay", "ay", B, "N0 N0", "M1 M1"), ("ay", "ay", B * shear, "N1 N1", "M0 M0"), ("ay", "ay", S, "N0 N0", "M0 M0"),
        ("ax", "ay", B * nu, "M1 N0", "N0 M1"), ("ax", "ay", B * shear, "M0 N1", "N1 M0"),
        ("d", "d", M / h, "N0 N0", "N0 N0"), ("d", "fx", M, "N0 M1", "N0 N0"), ("d", "fy", M, "N0 N0", "N0 M1"),
        ("fx", "fx", M * h, "M1 M1", "N0 N0"), ("fy", "fy", M * h, "N0 N0", "M1 M1"), ("fx", "fy", M * h, "M1 N0", "N0 M1"),
        ("fx", "fx", 12 * sheet.G / h, "M0 M0", "N0 N0"), ("fy", "fy", 12 * sheet.G / h, "N0 N0", "M0 M0"),
    ]  # fmt: skip
    for field, other, factor in (("w", "w", S), ("w", "d", S * e), ("d", "d", S * e * e)):
        found += [(field, other, factor, "N1 N1", "N0 N0"), (field, other, factor, "N0 N0", "N1 N1")]
    for field, factor in (("w", -S), ("d", -S * e)):
        found += [(field, "ax", factor, "N1 M0", "N0 N0"), (field, "ay", factor, "N0 N0", "N1 M0")]
    return found


@dataclass(frozen=True, eq=False)
class Numbering:
    """Number of every unknown: column by column along the line with more splines, in each column field after field.

    swapped: columns count along y. there: of each field the columns it has. across: of each field its splines across the
    columns. of: number by field, (size x, size y) of the field's own splines, -1 where it has no unknown. near: columns that
    hold d and f; in these every field has its place, and what is not there stands for nothing (a one on the diagonal).

    Slopes along the columns come last in a column: they reach one column less far back, so that columns share less.
    """

    swapped: bool
    near: NDArray[np.bool_]
    there: dict[str, NDArray[np.bool_]]
    across: dict[str, NDArray[np.intp]]
    of: dict[str, NDArray[np.intp]]

    @classmethod
    def over(cls, sheet: Laminate, x_line: Splines, y_line: Splines, pads: Sequence[Pad]) -> Numbering:
        """Number the unknowns of a laminate on pads, about which d and f live."""
        swapped = x_line.size < y_line.size
        reach = min(REACH, FLOWS * sheet.flow_length)
        x_near, y_near = (
            _near(line, [(getattr(p, axis + "0"), getattr(p, axis + "1")) for p in pads], reach)
            for line, axis in ((x_line, "x"), (y_line, "y"))
        )
        near_columns, near_rows = (y_near, x_near) if swapped else (x_near, y_near)
        slope_along, slope_across = ("y", "x") if swapped else ("x", "y")
        there: dict[str, NDArray[np.bool_]] = {}
        across: dict[str, NDArray[np.intp]] = {}
        of: dict[str, NDArray[np.intp]] = {}
        for field in FIELDS:
            columns = near_columns.copy() if field in LOCAL else np.ones_like(near_columns)
            rows = near_rows if field in LOCAL else np.ones_like(near_rows)
            if field.endswith(slope_along):
                columns[:-1] &= columns[1:]
                columns[-1] = False
            there[field] = columns
            across[field] = np.flatnonzero(rows[1:] & rows[:-1] if field.endswith(slope_across) else rows)
        made = cls(swapped, near_columns, there, across, of)
        for field in FIELDS:
            along = near_columns.size - field.endswith(slope_along)
            own = np.full((along, near_rows.size - field.endswith(slope_across)), -1)
            own[np.ix_(there[field][:along], across[field])] = made._number(field)
            of[field] = own.T if swapped else own
        return made

    def _number(self, field: str) -> NDArray[np.intp]:
        there = self.there[field]
        place = np.where(self.near, self.offsets[field], self._offsets_far[field])[there]
        found: NDArray[np.intp] = (self.starts[:-1][there] + place)[:, None] + np.arange(self.across[field].size)
        return found

    @cached_property
    def order(self) -> tuple[str, ...]:
        """The fields as they come in a column."""
        last = "y" if self.swapped else "x"
        return tuple(sorted(FIELDS, key=lambda f: f.endswith(last)))

    @cached_property
    def offsets(self) -> dict[str, int]:
        """Place of each field in a column that has them all."""
        ends = np.cumsum([0, *(self.across[f].size for f in self.order)])
        return dict(zip(self.order, ends.tolist(), strict=False))

    @cached_property
    def _offsets_far(self) -> dict[str, int]:
        """Place of each field in a column without d and f; of those, where they would be."""
        ends = np.cumsum([0, *(0 if f in LOCAL else self.across[f].size for f in self.order)])
        return dict(zip(self.order, ends.tolist(), strict=False))

    @cached_property
    def _far(self) -> NDArray[np.intp]:
        """Of a column that has all fields, the places a column without d and f has as well."""
        every = np.arange(int(self.widths.max()))
        return np.concatenate([every[self._place(f)] for f in self.order if f not in LOCAL])

    @cached_property
    def widths(self) -> NDArray[np.intp]:
        """Unknowns of each column."""
        local = sum(self.across[f].size for f in LOCAL)
        return np.asarray(sum(self.across[f].size for f in FIELDS) - local * ~self.near)

    @cached_property
    def starts(self) -> NDArray[np.intp]:
        """First unknown of each column, and the number of all."""
        return np.concatenate([[0], np.cumsum(self.widths)])

    @property
    def size(self) -> int:
        """Number of all unknowns."""
        return int(self.starts[-1])

    def columns(self, energy: Sequence[Term], X: Line, Y: Line) -> list[FloatArray]:
        """The lower half of the matrix of the energy, as :meth:`Columns.factorise` takes it."""
        n, widest = self.near.size, int(self.widths.max())
        ends = self.starts[1:].copy()  # how far down anything is there
        parts = []
        for (field, other), (outer, inner) in self._by_pair(energy, X, Y).items():
            diagonals = np.zeros((n, DEGREE + 1, len(outer)))
            for k in range(DEGREE + 1):
                i = np.arange(n - k)
                diagonals[: n - k, k] = np.array([m[i, i + k] for m in outer]).T
            self._reach(ends, np.any(diagonals, axis=2), other)
            if self.across[field].size and self.across[other].size:
                parts.append((self._place(other), self._place(field), diagonals, np.array([m.T for m in inner])))
        # what is eliminated leaves its rows to all that they meet, so no column ends before one to its left
        ends = np.maximum.accumulate(ends)
        sizes = np.cumsum((ends - self.starts[:-1]) * self.widths)
        found = np.split(np.empty(sizes[-1]), sizes[:-1])  # in one piece of memory, which is much quicker had than many
        blocks = np.zeros((FEW, DEGREE + 1, widest, widest))  # of each column those below
        for first in range(0, n, FEW):
            few = np.arange(first, min(first + FEW, n))
            for rows, columns, diagonals, across in parts:
                own = diagonals[few].reshape(-1, len(across)) @ across.reshape(len(across), -1)
                blocks[: few.size, :, rows, columns] = own.reshape(few.size, DEGREE + 1, *across.shape[1:])
            for field in FIELDS:
                nothing = np.flatnonzero(~self.there[field][few] & (self.near[few] | (field not in LOCAL)))
                places = np.arange(widest)[self._place(field)]
                blocks[nothing[:, None], 0, places, places] = 1.0
            for column, block in zip(few.tolist(), blocks, strict=False):
                found[column] = found[column].reshape(-1, self.widths[column])
                self._fill(found[column], block, column)
        return found

    def _place(self, field: str) -> slice:
        """Of a field in a column that has them all."""
        return slice(self.offsets[field], self.offsets[field] + self.across[field].size)

    def _reach(self, ends: NDArray[np.intp], meets: NDArray[np.bool_], other: str) -> None:
        """Put off where each column ends by a field it meets: meets[i, k], in the k-th column after."""
        place = np.where(self.near, self.offsets[other], self._offsets_far[other]) + self.across[other].size
        last = np.append(self.starts[:-1] + place, np.zeros(DEGREE, dtype=np.intp))
        after = np.arange(self.near.size)[:, None] + np.arange(DEGREE + 1)
        np.maximum(ends, np.where(meets, last[after], 0).max(axis=1), out=ends)

    def add(self, columns: list[FloatArray], unknowns: NDArray[np.intp], more: FloatArray) -> None:
        """Add a symmetric matrix over some unknowns (their numbers rising) to the columns; it meets nothing they do not."""
        column = np.searchsorted(self.starts, unknowns, side="right") - 1
        for i in np.unique(column):
            start = self.starts[i]
            rows, after = np.flatnonzero(column == i), np.flatnonzero((column >= i) & (unknowns < start + len(columns[i])))
            columns[i][np.ix_(unknowns[after] - start, unknowns[rows] - start)] += more[np.ix_(after, rows)]

    def _fill(self, panel: FloatArray, blocks: FloatArray, i: int) -> None:
        """Put blocks of the i-th column into its panel, as far down as it goes."""
        every = slice(None)
        for block, start, near in zip(blocks, self.starts[i:-1] - self.starts[i], self.near[i:], strict=False):
            part = block if self.near[i] else block[:, self._far]
            part = part[every if near else self._far][: max(len(panel) - start, 0)]
            panel[start : start + len(part)] = part

    def _by_pair(self, energy: Sequence[Term], X: Line, Y: Line) -> Products:
        """Of each two fields, and the two exchanged, the products along the columns and across them."""
        found: Products = defaultdict(lambda: ([], []))
        for field, other, factor, on_x, on_y in energy:
            x, y = factor * X.product(on_x), Y.product(on_y)
            along, up = (y, x) if self.swapped else (x, y)
            n = self.near.size
            outer = np.zeros((n, n))
            outer[: along.shape[0], : along.shape[1]] = along
            outer *= np.outer(self.there[field], self.there[other])
            inner = up[np.ix_(self.across[field], self.across[other])]
            for pair, of, across in (((field, other), outer, inner), ((other, field), outer.T, inner.T)):
                found[pair][0].append(of)
                found[pair][1].append(across)
                if field == other:
                    break
        return found


def _near(line: Splines, parts: Sequence[tuple[float, float]], reach: float) -> NDArray[np.bool_]:
    """Splines whose middle (the mean of their inner knots) is within reach of a part, or that work on it."""
    knots = line.knots
    middle = np.array([knots[i + 1 : i + 1 + DEGREE].mean() for i in range(line.size)])
    starts, ends = knots[: line.size], knots[DEGREE + 1 :]
    found = np.zeros(line.size, dtype=bool)
    for low, high in parts:
        found |= ((middle >= low - reach) & (middle <= high + reach)) | ((starts < high) & (ends > low))
    return found
