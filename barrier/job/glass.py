"""The glass of a job: panels, layers, interlayer. Ranges are in mm; they refuse what cannot be meant."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from barrier.job.entries import Choice, Flag, Quantity, TableOfEntries, Text
from barrier.job.shapes import Clash, mm, shown, size
from barrier.job.wind import CORNER, FREE_END, FROM_END, PLACE
from barrier.value import Value


class Layer(TableOfEntries):
    """One layer of glass."""

    glass: Annotated[
        str,
        Choice(
            choices=("toughened", "heat-strengthened", "annealed"), default="annealed",
            reason="kind of glass not known; the weakest is assumed (the stamp in a corner tells)", weight=1,
        ),
    ]  # fmt: skip
    nominal: Annotated[Value | None, mm(3, 60, unknown="look at the stamp in a corner, or measure at an edge with a calliper")]
    minimum: Annotated[Value | None, mm(2, 60)] = None

    def contradictions(self) -> Clash:
        """A minimum is not above its nominal."""
        if self.minimum is not None and self.nominal is not None and size(self.minimum) > size(self.nominal):
            yield self.minimum, f"{shown(self.minimum)} is above the nominal thickness {shown(self.nominal)}"


class Interlayer(TableOfEntries):
    """What holds the layers of laminated glass together."""

    kind: Annotated[str | None, Text(unknown="ask the glass supplier what the interlayer is")] = None
    thickness: Annotated[Value, mm(0.2, 12)]
    temperature: Annotated[
        Value | None, Quantity(kind="temperature", low=-20, high=90, unknown="ask how warm the glass gets in the sun")
    ] = None
    modulus: Annotated[Value | None, Quantity(kind="stress", low=0.05, high=400)] = None
    modulus_high: Annotated[Value | None, Quantity(kind="stress", low=0.05, high=400)] = None
    reference: Annotated[str | None, Text()] = None
    coupling: Annotated[
        str,
        Choice(
            choices=("film", "none"), default="film", weight=5,
            reason="nothing said; the interlayer couples the layers by its own stiffness where that is known",
        ),
    ]  # fmt: skip

    def contradictions(self) -> Clash:
        """A modulus of the reader's has a source, and its range the right way round."""
        if self.modulus is not None and not self.reference:
            yield self.modulus, "is a shear modulus of your own and has no source; write reference (the supplier's data sheet)"
        if self.modulus_high is not None and self.modulus is None:
            yield self.modulus_high, "is the upper end of a range without a lower one; write modulus"
        if self.modulus_high is not None and self.modulus is not None and size(self.modulus_high) < size(self.modulus):
            yield self.modulus_high, f"{shown(self.modulus_high)} is below modulus, {shown(self.modulus)}; exchange them"


class Panel(TableOfEntries):
    """A panel of glass.

    ``from_end``, ``place``, ``corner`` and ``free_end`` say where it stands in its run, in place of what [wind] says of all panels.
    ``broken`` are layers that carry nothing any more and still hang on the others.
    """

    name: Annotated[str, Text(name=True)]
    width: Annotated[Value, mm(100, 6000)]
    height: Annotated[Value, mm(100, 3000)]
    bottom_gap: Annotated[Value, mm(0, 500)]
    edge: Annotated[
        str,
        Choice(
            choices=("polished", "seamed", "cut"),
            default="cut",
            reason="edge finish not known; the weakest is assumed",
            weight=2,
        ),
    ]
    surface: Annotated[
        str,
        Choice(
            choices=("float", "patterned", "sandblasted", "acid-etched"), default="float",
            reason="nothing said about the surface; plain glass is assumed", weight=4,
        ),
    ]  # fmt: skip
    rail: Annotated[
        str,
        Choice(
            choices=("none", "interlinking", "cap"),
            default="none",
            reason="no rail mentioned; none is assumed",
            weight=4,
        ),
    ]
    drilled: Annotated[
        bool,
        Flag(
            default=False, reason="no hole or notch mentioned", weight=6,
            refused_true="the plate model does not hold at a hole or notch; ask the glass supplier or an engineer",
        ),
    ]  # fmt: skip
    shape: Annotated[
        str,
        Choice(
            choices=("rectangular",), default="rectangular", reason="no other shape mentioned", weight=6,
            refused={
                "raked": "a raked panel is not calculated; a rectangle around it is no substitute, ask an engineer",
                "curved": "curved glass is not calculated; it is a shell and not a plate, ask an engineer",
            },
        ),
    ]  # fmt: skip
    use: Annotated[
        str,
        Choice(
            choices=("fixed",), default="fixed", reason="no gate mentioned", weight=6,
            refused={
                "gate": "a gate swings and slams on drilled glass; only fixed panels are calculated, ask its supplier",
                "hinge": "a hinge panel carries a gate by holes; only fixed panels are calculated, ask its supplier",
                "latch": "a latch panel takes the slam of a gate; only fixed panels are calculated, ask its supplier",
            },
        ),
    ]  # fmt: skip
    from_end: Annotated[Value | None, FROM_END] = None
    place: Annotated[str | None, PLACE] = None
    corner: Annotated[Value | None, CORNER] = None
    free_end: Annotated[str | None, FREE_END] = None
    layers: Annotated[tuple[Layer, ...], Field(min_length=1, max_length=6)]
    broken: Annotated[tuple[Layer, ...], Field(max_length=5)] = ()
    interlayer: Interlayer | None = None

    def contradictions(self) -> Clash:
        """Layers and interlayer belong together; a panel has one place in its run."""
        if self.from_end is not None and self.place is not None:
            yield self.from_end, f'stands beside place = "{self.place}"; give one of the two'
        if len(self.layers) > 1 and self.interlayer is None:
            second = self.layers[1].nominal
            said = "is a second layer" if second is not None else "is of a panel with a second layer"
            yield second or self.width, f"{said} and there is no interlayer; write [panels.interlayer]"
        if len(self.layers) == 1 and self.interlayer is not None:
            yield (
                self.interlayer.thickness,
                "is of an interlayer and the glass has one layer; take it out or add the layer",
            )
