"""A plate or a laminate on its clamps, solved once for all walks that ask the same (:mod:`barrier.links.memo`).

What is factorised is kept apart from its answers: other bases, as other screws or other timber give them, ask only for a small
system; and an answer does not hold on to what it came from, which is large.
"""

from __future__ import annotations

from collections.abc import Sequence

from barrier.links.memo import Memo
from barrier.mechanics.laminate import Laminate, LaminateModel, LaminateSolution, Stand
from barrier.mechanics.laminate_panel import Factorised
from barrier.mechanics.plate import Base, Clamp, Fixed, Load, Plate, PlateModel, PlateSolution


def plates(
    memo: Memo, plate: Plate, clamps: Sequence[Clamp], loads: Sequence[Load], bases: Sequence[Sequence[Base]]
) -> tuple[PlateSolution, ...]:
    """A plate on each of several sets of bases (one base a clamp), as :meth:`barrier.mechanics.plate.PlateModel.solve`."""
    panel = (plate, tuple(clamps), tuple(loads))
    made: list[PlateModel] = []  # on whose account its model goes: of all answers that hold on to it, of the first

    def model() -> PlateModel:
        made.append(PlateModel(*panel))
        return made[0]

    def solved() -> tuple[PlateSolution, ...]:
        factorised = memo.once("plate", panel, _bytes_of_plate, model)
        return tuple(factorised.solve(on) for on in bases)

    def size(found: tuple[PlateSolution, ...]) -> int:
        return sum(m.bytes for m in made) + sum(s.bytes for s in found)

    return memo.once("solved", (panel, tuple(map(_key, bases))), size, solved)


def laminates(
    memo: Memo, sheet: Laminate, clamps: Sequence[Clamp], loads: Sequence[Load], stands: Sequence[Stand]
) -> tuple[LaminateSolution, ...]:
    """A laminate standing in each of several ways, as :meth:`barrier.mechanics.laminate.LaminateModel.solve_all`.

    clamps: with the stiffest pads of all stands.
    """
    panel = (sheet, tuple(clamps), tuple(loads))

    def solved() -> tuple[LaminateSolution, ...]:
        model = LaminateModel(*panel)
        model.factorised = memo.get("laminate", panel, Factorised)
        if model.factorised is None:
            memo.make_room("laminate")
        found = tuple(model.solve_all(stands))
        if model.factorised is not None:
            memo.keep("laminate", panel, model.factorised, model.factorised.bytes)
        model.factorised = None
        return found

    ways = tuple((_key(s.bases), s.contact, None if s.clamps is None else tuple(s.clamps)) for s in stands)
    return memo.once("layered", (panel, ways), _bytes_of_laminates, solved)


def _key(bases: Sequence[Base]) -> tuple[object, ...]:
    return tuple(b if isinstance(b, Fixed | None) else tuple(b.ravel().tolist()) for b in bases)


def _bytes_of_plate(model: PlateModel) -> int:
    """With its answers to unit movements, which it makes when first solved: one for each load and three for each clamp."""
    return 8 * (len(model.loads) + 3 * len(model.clamps) + 30) * model.x_line.size * model.y_line.size


def _bytes_of_laminates(found: tuple[LaminateSolution, ...]) -> int:
    """With the model, which all of them hold on to."""
    return found[0].model.limit.bytes + sum(s.bytes for s in found)
