"""A module: panels whose pitch is a whole number of bays, so that every mount stands alike, and one filler that takes what is left.

Equal panels and evenly spaced joists rarely go together: the mounts drift through the bays and some land on a joist. A module
keeps them in step. Every layout that fits is found and ranked; the best few are offered with what speaks for each, and nobody
chooses for the reader.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barrier.run.ask import Impossible
from barrier.run.bays import Clash, Fixing, Place, place
from barrier.run.division import Division, Strip

BEST_SHARE = 0.27  # of the width: two mounts between 0.26 and 0.28 from each end bend the glass least (computed for this project)


@dataclass(frozen=True, slots=True)
class Rule:
    """What a layout keeps to: least, wanted and largest gap; least and largest edge distance of a mount as a share of its panel."""

    least_gap: int
    gap: int
    largest_gap: int
    least_share: float = 0.20
    largest_share: float = 0.30


@dataclass(frozen=True, slots=True)
class Line:
    """A glass line with its joists: length, clear spaces at start and end, centres of the joists, their width; mm."""

    length: int
    start: int
    end: int
    joists: Sequence[float]
    joist: float


@dataclass(frozen=True, slots=True)
class Layout:
    """A filler and its modules: the division, the edge distance of the mounts in each, and where every mount stands."""

    division: Division
    filler: int
    module: int
    gap: int
    module_edge: int
    filler_edge: int
    places: tuple[Place, ...]

    @property
    def sizes(self) -> tuple[int, ...]:
        """Different widths of glass to order, mm."""
        return tuple(sorted({p.width for p in self.division.panels}))

    @property
    def in_a_bay(self) -> tuple[float, ...]:
        """The different places in a bay, mm from the face of the joist on the left: each is a condition to check."""
        return tuple(sorted({round(p.from_face, 1) for p in self.places}))

    @property
    def least_spare(self) -> float:
        """What the mount that stands tightest has beyond what its screws need, mm; joists not measured want 10 mm of it."""
        return min(p.spare - p.short for p in self.places)


def layouts(line: Line, bays: int, spacing: float, rule: Rule, fixing: Fixing) -> Iterator[Layout]:
    """Every layout of one filler at the start and modules of ``bays`` bays each, with no mount that clashes.

    ``line`` the glass line and its joists; ``bays`` bays to a module; ``spacing`` of the joists, mm; ``rule`` gaps and edge
    distances to keep to; ``fixing`` what the screws need. Gaps and edge distances go by the millimetre; of the edge distances
    at which the filler fits the one nearest :data:`BEST_SHARE` is taken. Raises Impossible where the line is shorter than a module.
    """
    pitch = int(bays * spacing)
    number = (line.length - line.start - line.end) // pitch
    filler = line.length - line.start - line.end - number * pitch
    if pitch != bays * spacing or number < 1:
        raise Impossible(f"no module of {bays} bays of {spacing} mm goes on {line.length} mm", "another number of bays")
    for gap in range(rule.least_gap, rule.largest_gap + 1):
        division = _division(line, filler, pitch - gap, gap, number)
        of_filler = _fits(line, division.panels[:1], rule, fixing)
        of_module = _fits(line, division.panels[1:], rule, fixing)
        if filler <= 0 or not of_filler:
            continue
        filler_edge = min(of_filler, key=lambda e: abs(e - BEST_SHARE * filler))
        for edge in of_module:
            yield Layout(
                division, filler, pitch - gap, gap, edge, filler_edge,
                (*of_filler[filler_edge], *of_module[edge]),
            )  # fmt: skip


def best(found: Sequence[Layout], rule: Rule, how_many: int = 3) -> tuple[Layout, ...]:
    """The few layouts to offer, best first: fewest places to check, spare where a mount stands tightest, gap and edges as wanted.

    Layouts with the same gap differ by millimetres only: the best of each gap stands for them.
    """

    def rank(layout: Layout) -> tuple[int, bool, int, float, int]:
        off_share = abs(layout.module_edge - BEST_SHARE * layout.module)
        return len(layout.in_a_bay), layout.least_spare < ENOUGH, abs(layout.gap - rule.gap), off_share, layout.gap

    by_gap: dict[int, Layout] = {}
    for layout in sorted(found, key=rank):
        by_gap.setdefault(layout.gap, layout)
    return tuple(sorted(by_gap.values(), key=rank)[:how_many])


ENOUGH = 10.0  # mm to spare before joists that were not measured may be taken at their nominal places


def why(layout: Layout) -> str:
    """What speaks for a layout, and against it, in a line.

    The words name sizes of glass, places in a bay, the tightest mount and the edge distance as a share of the panel.
    """
    share = layout.module_edge / layout.module
    sizes = " and ".join(f"{w} mm" for w in layout.sizes)
    tight = f"the tightest mount has {layout.least_spare:g} mm to spare"
    if layout.least_spare < ENOUGH:
        tight += ": measure its joists first"
    return (
        f"glass of {sizes}, gaps of {layout.gap} mm; mounts {layout.module_edge} mm in ({share:.2f} of the panel), of the filler "
        f"{layout.filler_edge} mm; {len(layout.in_a_bay)} different places in a bay; {tight}"
    )


def _division(line: Line, filler: int, module: int, gap: int, number: int) -> Division:
    strips = [Strip(line.start, line.start + filler)]
    for _ in range(number):
        left = strips[-1].right + gap
        strips.append(Strip(left, left + module))
    return Division(line.length, line.start, line.length - strips[-1].right, tuple(strips))


def _fits(line: Line, panels: Sequence[Strip], rule: Rule, fixing: Fixing) -> dict[int, tuple[Place, ...]]:
    """Edge distances at which no mount of any of these equal panels clashes, with the places of their mounts."""
    width, found = panels[0].width, {}
    for edge in range(-int(-rule.least_share * width // 1), int(rule.largest_share * width) + 1):
        places = []
        for panel in panels:
            for at in (panel.left + edge, panel.right - edge):
                stood = place(at, line.joists, line.joist, fixing)
                if stood is None or stood.clash is not Clash.NONE:
                    break
                places.append(stood)
        if len(places) == 2 * len(panels):
            found[edge] = tuple(places)
    return found
