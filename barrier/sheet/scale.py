"""How long a utilisation is drawn: in proportion up to 1.00, and beyond it by its logarithm, so that 1.4 and 7 look apart."""

from __future__ import annotations

from math import log10

END = 10.0  # the utilisation that fills the room beyond the stroke; what is more points on


def beyond(eta: float) -> float:
    """The share, 0 to 1, of the room beyond the stroke that a utilisation takes: each doubling the same step.

    >>> beyond(0.7), beyond(10.0), beyond(40.0)
    (0.0, 1.0, 1.0)
    >>> round(beyond(4.0) - beyond(2.0), 6) == round(beyond(2.0), 6)
    True
    """
    return min(log10(eta) / log10(END), 1.0) if eta > 1.0 else 0.0


def points_on(eta: float) -> bool:
    """Whether a utilisation is more than there is room for."""
    return eta > END
