"""Where the barrier stands and what acts on it: site, loads given by the reader, wind, limits, situations.

Ranges are in base units. A range refuses what cannot be meant; it does not judge a job."""

from __future__ import annotations

from typing import Annotated, ClassVar

from barrier.job.entries import Changes, Choice, Flag, Quantity, Table, Text, Whole
from barrier.job.shapes import Clash, mm
from barrier.job.written import Section
from barrier.value import Value

DURATIONS = (
    "permanent", "long-term", "medium-term", "short-term", "instantaneous",
    "short", "medium", "long", "ten years", "two months", "seven days", "ten minutes", "impact",
)  # fmt: skip


class Site(Table):
    """Where the barrier stands."""

    use: Annotated[str, Text()]
    outdoors: Annotated[bool, Flag(default=True, reason="not said; outdoors is assumed", weight=3)]
    fall_height: Annotated[Value | None, mm(0, 2e5, unknown="measure from the decking to what is below")] = None
    below: Annotated[
        str | None, Choice(choices=("garden", "paving", "people pass", "water"), unknown="look what is below the edge")
    ] = None
    barrier_height: Annotated[Value | None, mm(300, 3000, unknown="measure from the decking to the top of the glass")] = None
    service_class: Annotated[int, Whole(low=1, high=3, default=3, reason="not known; wet is assumed", weight=1)]
    treated_timber: Annotated[bool | None, Flag(unknown="ask whether the timber is pressure treated")] = None
    pool: Annotated[bool | None, Flag(unknown="say whether it is beside a pool: other steel, other rules")] = None


class Loads(Table):
    """Loads the reader gives in place of the national table."""

    may_be_left_out: ClassVar[bool] = True
    duration: Annotated[str | None, Choice(choices=DURATIONS)] = None
    line: Annotated[Value | None, Quantity(kind="line load", low=0.05, high=20.0)] = None
    point: Annotated[Value | None, Quantity(kind="force", low=50.0, high=20e3)] = None
    infill: Annotated[Value | None, Quantity(kind="pressure", low=0.05e-3, high=20e-3)] = None
    height: Annotated[Value | None, mm(300, 3000)] = None
    with_wind: Annotated[str | None, Choice(choices=("together", "apart"))] = None
    reference: Annotated[str | None, Text()] = None

    def contradictions(self) -> Clash:
        """Loads of one's own need their source."""
        for name in ("line", "point", "infill", "height"):
            value = getattr(self, name)
            if value is not None and not self.reference:
                yield (
                    value,
                    "replaces the national table and has no source; write loads.reference (whose letter, which date)",
                )


class Wind(Table):
    """Wind on the glass: a pressure from a calculation by others, or a class of the basis and where the panel stands.

    A pressure is at the level the basis calls for: characteristic (en), strength (us), ultimate (au, nz). ``coefficient``
    multiplies it; with a class it stands in place of the coefficient of the basis.
    """

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """A class has its pressures; a pressure or a coefficient needs no place."""
        if section.says("wind_class") is None:
            return frozenset({"place"})
        return frozenset({"pressure", "serviceability", *(("place",) if "coefficient" in section else ("reference",))})

    pressure: Annotated[Value | None, Quantity(kind="pressure", low=0.0, high=10e-3, unknown="ask the engineer for it")] = None
    serviceability: Annotated[Value | None, Quantity(kind="pressure", low=0.0, high=10e-3, unknown="ask the engineer for it")] = (
        None
    )
    wind_class: Annotated[str | None, Text()] = None
    place: Annotated[
        str | None, Choice(choices=("mid-run", "end panel"), unknown="look whether the run of glass ends or turns at this panel")
    ] = None
    coefficient: Annotated[Value | None, Quantity(kind="ratio", low=0.1, high=5.0)] = None
    breakage: Annotated[Value | None, Quantity(kind="ratio", low=1e-5, high=0.05)] = None
    reference: Annotated[str | None, Text(unknown="ask whose calculation it is")] = None

    def contradictions(self) -> Clash:
        """A wind pressure needs its source; there is one pressure."""
        if self.pressure is not None and self.wind_class is not None:
            yield self.pressure, f"stands beside wind_class, {self.wind_class}; give one of the two"
        if self.serviceability is not None and self.pressure is None:
            yield self.serviceability, "stands without wind.pressure; a class has its own serviceability pressure"
        for value in (self.pressure, self.serviceability, self.coefficient):
            if value is not None and not self.reference:
                yield value, "has no source; write wind.reference (whose calculation, which date)"


class OtherBasis(Table):
    """What the job is called in another family of codes, for a comparison: the use of the building there."""

    use: Annotated[str, Text()]
    national: Annotated[str, Text(default="", reason="no national table of loads is named", weight=9)]


class Limits(Table):
    """How far things may move, agreed with whom."""

    may_be_left_out: ClassVar[bool] = True
    top_movement: Annotated[Value | None, mm(1, 500, unknown="agree it with the engineer")] = None
    mount_rotation: Annotated[Value | None, Quantity(kind="angle", low=1e-4, high=0.3)] = None
    reference: Annotated[str | None, Text()] = None

    def contradictions(self) -> Clash:
        """A limit needs its source."""
        for value in (self.top_movement, self.mount_rotation):
            if value is not None and not self.reference:
                yield value, "has no source; write limits.reference (which standard, or agreed with whom)"


class Situation(Table):
    """A set of changes to look at beside the job as it is; ``set`` is from path to what then stands there."""

    name: Annotated[str, Text()]
    set: Annotated[dict[str, object], Changes()]
    standing: Annotated[
        str,
        Choice(
            choices=("information", "required"),
            default="information",
            reason="a situation informs unless it says required",
            weight=9,
        ),
    ]
