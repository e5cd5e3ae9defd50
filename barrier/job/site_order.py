"""In which order a job is measured on site: from the glass down, then from below, then around it, then what others know."""

from __future__ import annotations

import re

STATIONS = (
    "At the glass, from above",
    "At a mount",
    "On the boards",
    "From below, with a torch and a tape",
    "Around it",
    "Ask: supplier, engineer, council, papers",
)
# The first that fits decides.
_PLACES = (
    (5, r"(rating|ultimate_strength|yield_strength|withdrawal|slip_|reference|meaning|modulus|interlayer|dead_load|imposed_load)"),
    (5, r"^(limits|loads|basis|national|timber)\b|\.material(\.|$)|material$|\.glass$|treated_timber"),
    (5, r"uplift|torque|sideways|\.down$"),
    (5, r"wind\.(wind_class|zone|speed|map_speed|basic_speed|pressure|edition|exposure|hill)|earthed"),
    (3, r"in_bay|offset$|gap_under|grooved|^blocking|^joists|support|restraint"),
    (0, r"^panels|^rail|^mounts\.\w+\.x$|barrier_height"),
    (1, r"^mount"),
    (2, r"^decking"),
    (4, r""),
)  # fmt: skip


def station(path: str) -> int:
    """Where an entry is measured: a position in :data:`STATIONS`.

    >>> [station(p) for p in ("panels.P1.width", "blocking.B1.width", "mount_types.T1.rating", "decking.thickness", "site.below")]
    [0, 3, 5, 2, 4]
    """
    return next(number for number, places in _PLACES if re.search(places, path))
