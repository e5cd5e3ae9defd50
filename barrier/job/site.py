"""Where the barrier stands and what acts on it: site, loads given by the reader, limits, situations; wind is in its own module.

Ranges are in base units. A range refuses what cannot be meant; it does not judge a job."""

from __future__ import annotations

from typing import Annotated, ClassVar

from barrier.job.entries import Choice, Flag, Quantity, TableOfEntries, Text, Whole
from barrier.job.entries_in_tables import Changes
from barrier.job.shapes import Clash, mm
from barrier.job.wind import Wind
from barrier.value import Value

DURATIONS = (
    "permanent", "long-term", "medium-term", "short-term", "instantaneous",
    "5 seconds", "5 minutes", "5 hours", "5 days", "ten years", "two months", "seven days", "ten minutes", "impact",
)  # fmt: skip


class Site(TableOfEntries):
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


OFF = "none"  # a load of the table that is left out


class Loads(TableOfEntries):
    """Loads the reader gives in place of those of the table, each in place of its own; "none" leaves one out.

    ``line`` and ``point`` stand at the top edge (the line at ``height`` above the decking), ``infill`` all over the glass,
    ``infill_point`` on a small part of it. ``with_wind`` says whether barrier load and wind stand in one combination.
    """

    may_be_left_out: ClassVar[bool] = True
    duration: Annotated[str | None, Choice(choices=DURATIONS)] = None
    line: Annotated[Value | str | None, Quantity(kind="line load", low=0.05, high=20.0, word=OFF)] = None
    point: Annotated[Value | str | None, Quantity(kind="force", low=50.0, high=20e3, word=OFF)] = None
    infill: Annotated[Value | str | None, Quantity(kind="pressure", low=0.05e-3, high=20e-3, word=OFF)] = None
    infill_point: Annotated[Value | str | None, Quantity(kind="force", low=10.0, high=20e3, word=OFF)] = None
    height: Annotated[Value | None, mm(300, 3000)] = None
    with_wind: Annotated[str | None, Choice(choices=("together", "apart"))] = None
    reference: Annotated[str | None, Text()] = None

    def contradictions(self) -> Clash:
        """Loads of one's own need their source."""
        for name in ("line", "point", "infill", "infill_point", "height"):
            value = getattr(self, name)
            if isinstance(value, Value) and not self.reference:
                yield (
                    value,
                    "replaces the national table and has no source; write loads.reference (whose letter, which date)",
                )


class Editions(TableOfEntries):
    """Editions to take in place of the usual ones, by the names ``tables/index.toml`` gives them: of the table of loads with its
    rules, and of the strength classes of timber."""

    may_be_left_out: ClassVar[bool] = True
    loads: Annotated[str | None, Text()] = None
    timber: Annotated[str | None, Text()] = None

    @property
    def named(self) -> dict[str, str]:
        """The subjects of which the job names an edition, and which."""
        return {what: name for what, name in (("loads", self.loads), ("timber", self.timber)) if name is not None}


class OtherBasis(TableOfEntries):
    """What the job is called in another family of codes, for a comparison: the use of the building, and the wind there."""

    use: Annotated[str, Text()]
    national: Annotated[str, Text(default="", reason="no national table of loads is named", weight=9)]
    wind: Wind | None = None


class Limits(TableOfEntries):
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


class Situation(TableOfEntries):
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
