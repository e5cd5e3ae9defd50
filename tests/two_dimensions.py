"""Reads an equation that is set in two dimensions back into one line, from nothing but where its signs stand.

What stands over a bar is divided by what stands under it; a bracket is as tall as what it holds; what stands beside the top
of a tall bracket, over a blank base line, is its exponent. Nothing of the product is used.
"""

from __future__ import annotations

import re
from typing import NamedTuple

BAR = "─"
OPEN, SHUT = "⎛⎜⎝⎢", "⎞⎟⎠⎥"
FENCES = {"⎢": ("|", "|")}
SQUARES = {"²": "^2", "³": "^3"}
OF_A_UNIT = re.compile(r"\d (?:\S+/)?(?:mm|m|in|ft)$")  # a raised figure behind it makes an area or a volume of it


class Field(NamedTuple):
    """Lines of signs, and the part of them that is read."""

    grid: tuple[str, ...]
    top: int
    foot: int
    left: int
    right: int

    def column(self, x: int) -> list[int]:
        """Rows that are not blank in a column."""
        return [r for r in range(self.top, self.foot) if self.grid[r][x] != " "]


def one_line(lines: list[str], base: int) -> str:
    """The equation whose base line is ``lines[base]``, in one line."""
    wide = max(len(line) for line in lines)
    grid = tuple(line.ljust(wide) for line in lines)
    return along(Field(grid, 0, len(grid), 0, wide), base).strip()


def read(field: Field) -> str:
    """A field by its own base line."""
    return along(field, base_of(field)).strip()


def base_of(field: Field) -> int:
    """The base line: that of the leftmost sign; of a fraction its bar, of a tall bracket that of what it holds."""
    x = next(x for x in range(field.left, field.right) if field.column(x))
    rows = field.column(x)
    if field.grid[rows[0]][x] in OPEN:
        return base_of(inside(field, x, rows[len(rows) // 2]))
    if len(rows) == 1:
        return rows[0]
    return max((r for r in rows if field.grid[r][x] == BAR), key=lambda r: run(field, r, x))


def along(field: Field, base: int) -> str:
    """A field read along one of its lines."""
    line, found, x = field.grid[base], "", field.left
    while x < field.right:
        sign = line[x]
        if sign == BAR:
            stop = run(field, base, x)
            top, foot = field._replace(left=x, right=stop, foot=base), field._replace(left=x, right=stop, top=base + 1)
            found += f"(({read(top)})/({read(foot)}))"
            x = stop
        elif sign in OPEN:
            inner = inside(field, x, base)
            left, right = FENCES.get(sign, ("(", ")"))
            found += f"{left}{read(inner)}{right}"
            x = inner.right + 1
            after = next((i for i in range(x, field.right) if line[i] != " "), field.right)
            raised = field._replace(foot=inner.top + 1, left=x, right=after)
            if any(raised.column(i) for i in range(x, after)):
                found += f"^({read(raised)})"
                x = after - 1 if after < field.right else after
        else:
            found += SQUARES[sign] if sign in SQUARES and not OF_A_UNIT.search(found) else sign
            x += 1
    return found


def run(field: Field, row: int, x: int) -> int:
    """Where a bar ends."""
    while x < field.right and field.grid[row][x] == BAR:
        x += 1
    return x


def inside(field: Field, x: int, base: int) -> Field:
    """What a tall bracket holds that opens in column x."""
    top = foot = base
    while top > field.top and field.grid[top - 1][x] in OPEN:
        top -= 1
    while foot + 1 < field.foot and field.grid[foot + 1][x] in OPEN:
        foot += 1
    depth = 0
    for i in range(x, field.right):
        depth += (field.grid[base][i] in OPEN) - (field.grid[base][i] in SHUT)
        if depth == 0:
            return Field(field.grid, top, foot + 1, x + 1, i)
    raise AssertionError(f"a bracket does not shut: {field.grid}")
