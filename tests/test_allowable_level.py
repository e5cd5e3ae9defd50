"""What allowable stresses change in the contact of a mount: nothing yields, and screws are as stiff as in use."""

from __future__ import annotations

import pytest
from conftest import result_of

from barrier.result import Ending, Standing


def test_the_largest_pressure_decides_where_allowable_stresses_are_compared() -> None:
    """Statics: a pressure that falls off in a straight line over a strip of even width peaks at twice its mean."""
    result = result_of("us_deck")
    mean, peak = result["bearing.mean.M1"], result["bearing.peak.M1"]
    assert peak.standing is Standing.REQUIRED
    assert mean.demand is not None and peak.demand is not None
    assert peak.demand.at(peak.station) == pytest.approx(2 * mean.demand.at(peak.station), rel=1e-6)
    assert mean.ending is Ending.WITHIN and peak.ending is Ending.EXCEEDS
    for ultimate in ("garden_deck", "au_deck", "nz_deck"):
        ids = {c.id for c in result_of(ultimate).sound.checks}
        assert "bearing.peak.M1" not in ids and "bearing.flag.M1" in ids


def test_screws_are_as_stiff_as_in_use_at_the_allowable_level() -> None:
    """EN 1995-1-1, 2.2.2(2): two thirds of the stiffness belong to the ultimate state, which allowable loads are not."""
    for name, softer in (("us_deck", False), ("garden_deck", True)):
        turn = result_of(name)["base_plate.rotation.M1"].demand
        assert turn is not None
        names = {v.symbol for v in turn.origin.inputs.values()}  # type: ignore[union-attr]
        assert ("K_u_low" in names) is softer and ("K_low" in names) is not softer
