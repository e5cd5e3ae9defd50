"""Wind on the glass as a job gives it: a pressure from a calculation by others, or the place in the words of its codes.

One entry leads: ``pressure``, ``map_speed`` (United Kingdom), ``zone`` (Germany, New Zealand), ``basic_speed`` (other
Eurocode countries), ``speed`` (United States), ``wind_class`` (Australia) or ``design_speed`` (Australia, New Zealand, from an
engineer). What else is asked follows from it. Ranges are in base units: mm and m/s.
"""

from __future__ import annotations

from typing import Annotated

from barrier.job.entries import Choice, Quantity, TableOfEntries, Text
from barrier.job.shapes import Clash
from barrier.job.written import Section, is_unknown
from barrier.value import Value

LEADS = ("pressure", "map_speed", "zone", "basic_speed", "speed", "wind_class", "design_speed")
ALONG_THE_RUN = frozenset({"run_length", "from_end", "place", "corner", "free_end"})
# What each leading entry asks for beside the place in the run.
ASKS = {
    "map_speed": frozenset({"altitude", "distance_to_sea", "town", "below_deck", "hill"}),
    "zone": frozenset({"coast", "below_deck", "hill"}),
    "basic_speed": frozenset({"terrain", "below_deck", "hill"}),
    "speed": frozenset({"exposure", "edition", "elevation", "hill"}),
    "wind_class": frozenset(),
    "design_speed": frozenset({"service_speed", "hill"}),
}  # fmt: skip
NEW_ZEALAND = ("L", "M", "H", "VH", "EH", "SED")


def _long(low: float, high: float, default: str | None = None, reason: str = "", unknown: str = "", weight: int = 5) -> Quantity:
    """A distance between two bounds in mm."""
    return Quantity(kind="distance", low=low, high=high, default=default, reason=reason, unknown=unknown, weight=weight)


def _speed(low: float, high: float, unknown: str = "") -> Quantity:
    """A wind speed between two bounds in m/s."""
    return Quantity(kind="speed", low=low, high=high, unknown=unknown)


FROM_END = _long(0, 2e5)
PLACE = Choice(choices=("mid-run", "end panel"))
CORNER = _long(0, 1e5)
FREE_END = Choice(choices=("left", "right"))  # seen from the people side; both are looked at where nobody says


class Wind(TableOfEntries):
    """Wind on the glass: a pressure from a calculation by others, or where the barrier stands and the panel in its run.

    A pressure is at the level the basis calls for: characteristic (en), strength (us), ultimate (au, nz). ``coefficient``
    multiplies it; with a class or zone it stands in place of the coefficient of the basis.
    """

    @classmethod
    def beside_the_point(cls, section: Section) -> frozenset[str]:
        """What the leading entry has no use for."""
        lead = next((key for key in LEADS if key in section), "pressure")
        asked = {lead, "coefficient", "breakage"}
        if lead == "pressure":
            asked |= {"serviceability", "reference"}
        elif "coefficient" in section:
            asked |= {"reference"}
        else:
            asked |= ASKS[lead] | ALONG_THE_RUN - {"place"}
            if "place" in section:
                asked = asked - {"from_end"} | {"place"}
            if lead == "zone" and section.says("zone") in NEW_ZEALAND:
                asked -= {"coast", "below_deck", "hill"}
            if section.says("hill") in ("yes", True):
                asked |= {"hill_factor"}
            if lead == "design_speed" or "hill_factor" in asked:
                asked |= {"reference"}
        return frozenset(cls.model_fields) - asked

    @classmethod
    def by_place(cls, section: Section) -> bool:
        """Whether where a panel stands in its run decides its wind."""
        return "from_end" not in cls.beside_the_point(section) or "place" not in cls.beside_the_point(section)

    pressure: Annotated[Value | None, Quantity(kind="pressure", low=0.0, high=10e-3, unknown="ask the engineer for it")] = None
    serviceability: Annotated[Value | None, Quantity(kind="pressure", low=0.0, high=10e-3, unknown="ask the engineer for it")] = (
        None
    )
    coefficient: Annotated[Value | None, Quantity(kind="ratio", low=0.1, high=5.0)] = None
    breakage: Annotated[Value | None, Quantity(kind="ratio", low=1e-5, high=0.05)] = None
    reference: Annotated[str | None, Text(unknown="ask whose calculation it is")] = None
    run_length: Annotated[Value | None, _long(100, 2e5, unknown="measure the straight run of glass, end to end")] = None
    from_end: Annotated[
        Value | None,
        _long(0, 2e5, unknown="measure from the nearest end of the run that stops in open air to the nearer edge of this panel"),
    ] = None
    place: Annotated[
        str | None, Choice(choices=("mid-run", "end panel"), unknown="look whether the run of glass ends or turns at this panel")
    ] = None
    corner: Annotated[
        Value | None, _long(0, 1e5, "0 m", "not said whether the run turns a corner at its end; open air is assumed", weight=2)
    ] = None  # fmt: skip
    free_end: Annotated[str | None, FREE_END] = None
    below_deck: Annotated[
        str | None,
        Choice(
            choices=("open", "closed"), default="open", weight=3,
            reason="not said whether air can get under the deck or a skirt closes it; open is assumed",
        ),
    ] = None  # fmt: skip
    hill: Annotated[
        str | None,
        Choice(
            choices=("no", "yes"),
            unknown="look whether it stands within 100 m of a hill top, ridge or cliff, or on a slope over 3 degrees",
        ),
    ] = None
    hill_factor: Annotated[
        Value | None, Quantity(kind="ratio", low=1.0, high=4.0, unknown="ask the engineer for the factor of the code at this hill")
    ] = None
    map_speed: Annotated[Value | None, _speed(15, 40, "ask building control or the engineer for the map wind speed")] = None
    altitude: Annotated[Value | None, _long(0, 1.5e6, unknown="read the height of the place above the sea off a map")] = None
    distance_to_sea: Annotated[
        Value | None, _long(0, 5e8, "0.1 km", "distance to the sea not known; the shore is assumed", weight=2)
    ] = None
    town: Annotated[
        str | None,
        Choice(
            choices=("country", "over 2 km in"), default="country", weight=3,
            reason="not said whether it stands more than 2 km inside a town; open country is assumed",
        ),
    ] = None  # fmt: skip
    zone: Annotated[
        str | None,
        Choice(
            choices=("1", "2", "3", "4", *NEW_ZEALAND),
            unknown="ask the council for the wind zone of the place (New Zealand), or look it up on the map of zones (Germany)",
        ),
    ] = None
    coast: Annotated[
        str | None,
        Choice(
            choices=("inland", "coast", "island"), default="coast", weight=2,
            reason="not said how near the sea is; the strip of 5 km along the coast is assumed",
        ),
    ] = None  # fmt: skip
    basic_speed: Annotated[Value | None, _speed(15, 60, "ask the engineer for the basic wind speed of the place")] = None
    terrain: Annotated[
        str | None,
        Choice(
            choices=("0", "I", "II", "III", "IV"), default="II", weight=2,
            reason="not said what the ground around is like; open land is assumed (0 at the sea front, III in a village)",
        ),
    ] = None  # fmt: skip
    speed: Annotated[
        Value | None, _speed(25, 115, "read the design wind speed off the permit or the hazard map, risk category II")
    ] = None
    exposure: Annotated[
        str | None,
        Choice(
            choices=("B", "C", "D"), default="C", weight=2,
            reason="exposure not said; C, open, is assumed (D within sight of open water, B with houses all round for 1500 ft)",
        ),
    ] = None  # fmt: skip
    edition: Annotated[
        str | None, Choice(choices=("7-16", "7-22"), default="7-22", reason="edition of ASCE 7 not said", weight=6)
    ] = None
    elevation: Annotated[Value | None, _long(-5e5, 5e6)] = None
    wind_class: Annotated[str | None, Text(unknown="read the wind class off the house plans")] = None
    design_speed: Annotated[Value | None, _speed(20, 115, "ask the engineer for the ultimate site wind speed")] = None
    service_speed: Annotated[Value | None, _speed(15, 100)] = None

    def contradictions(self) -> Clash:
        """A wind pressure needs its source; one entry leads."""
        leads = [key for key in LEADS if getattr(self, key) is not None]
        for other in leads[1:]:
            first = getattr(self, leads[0])
            if isinstance(first, Value):
                yield first, f"stands beside {other}; give one of the two"
            elif isinstance(value := getattr(self, other), Value):
                yield value, f"stands beside {leads[0]}; give one of the two"
        if self.serviceability is not None and self.pressure is None:
            yield self.serviceability, "stands without wind.pressure; a class has its own serviceability pressure"
        for value in (self.pressure, self.serviceability, self.coefficient, self.hill_factor, self.design_speed):
            if value is not None and not self.reference:
                yield value, "has no source; write wind.reference (whose calculation, which date)"
        if self.hill_factor is not None and self.hill != "yes":
            yield self.hill_factor, 'stands without wind.hill = "yes"'
        if self.from_end is not None and self.place is not None:
            yield self.from_end, f'stands beside place = "{self.place}"; give one of the two'


def unsaid(section: Section, key: str) -> bool:
    """Whether an entry is not there or unknown."""
    return key not in section or is_unknown(section[key])
