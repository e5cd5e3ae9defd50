"""The same job with its action scaled: every required utilisation rises with it, and the same checks are required."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import pytest
from conftest import EXAMPLES, SISTERS, job_named, sound

from barrier.basis import Action
from barrier.links.loads.cases import Case
from barrier.load_path import Walked
from barrier.result import Ending, Lack, Standing

# One laminated one: the others are sisters of decks that are here, and the garden deck has words for other families.
NAMES = [p.stem for p in EXAMPLES if p.stem not in SISTERS or p.stem == "au_laminated"]
ENTRY = {"line": ("line", "kN/m", 1.0), "infill": ("infill", "kN/m2", 1e3), "infill point": ("infill_point", "kN", 1e-3),
         "point": ("point", "kN", 1e-3)}  # fmt: skip


@cache
def alone(name: str) -> tuple[Case, ...]:
    return tuple(c for c in sound(job_named(name)).handed_on.cases if not c.parts)


def scaled(name: str, times: float) -> Walked:
    """A worked example with every load across the glass times a figure, each given in the job, so that no basis is asked twice.

    Wind is one pressure, that of the first panel; without one it is none, as outdoors nobody knows it.
    """
    cases = alone(name)
    changes: dict[str, object] = {"loads.reference": "a test"}
    for action in {c.action.id: c.action for c in cases if c.action.nature == "barrier" and c.action.required}.values():
        entry, unit, per = ENTRY[action.id]
        changes[f"loads.{entry}"] = f"{times * per * float(action.size.x):.9f} {unit}"
    wind: Action | None = next((c.action for c in cases if c.action.nature == "wind"), None)
    if wind is not None:
        changes["wind"] = {"pressure": f"{times * 1e3 * float(wind.size.x):.9f} kN/m2", "reference": "a test"}
    height = next((c.action.height for c in cases if c.action.kind == "line"), None)  # the heights they had
    if height is not None:
        changes["loads.height"] = f"{float(height.x):.6f} mm"
    return sound(job_named(name).with_(changes))


class Seen(NamedTuple):
    """What is compared of a check; a result whole is too much to keep of every job and load."""

    eta: float | None
    ending: Ending
    lack: Lack | None


@cache
def required(name: str, times: float) -> dict[str, Seen]:
    checks = (c for c in scaled(name, times).checks if c.standing is Standing.REQUIRED)
    return {c.id: Seen(c.eta, c.ending, c.lack) for c in checks}


@pytest.mark.parametrize("times", [0.2, 1.1, 5.0])
@pytest.mark.parametrize("name", NAMES)
def test_the_same_checks_are_required_however_large_the_load(name: str, times: float) -> None:
    if name in SISTERS and times != 1.1:
        return  # what stands below the glass is that of its sister
    assert required(name, times).keys() == required(name, 1.0).keys()


# What has no load in it, or is there only where a load is not known: the same under any load.
NO_LOAD = ("screws.edge.", "screws.end.", "screws.a1.", "screws.a2.", "screws.thickness.", "actions.")
# Loads down on the top edge that AS/NZS 1170.1 names for themselves: the job has no entry for them, so they are not scaled here.
NOT_SCALED = {"au": ("in_plane.vertical_down.",), "nz": ("in_plane.vertical_down.",)}
# What rises by less than the load, and why.
BY_LESS = {
    "joist.": "other load of the joist stands beside what the mount brings; under a load that is not scaled not at all",
    "base_plate.plate.": "a bed that has yielded under the plate pushes no harder",
}


@pytest.mark.parametrize("name", NAMES)
def test_a_tenth_more_load_raises_every_required_utilisation(name: str) -> None:
    """By a tenth where the model is linear, by more where a bed yields or a clause squares it; what held may let go.

    Exceptions: sizes and distances (``NO_LOAD``) and loads that are not scaled (``NOT_SCALED``), the same; some rise by less
    (``BY_LESS``); and what is *not reached* any more because the base plate above it has no equilibrium under more load, which
    then exceeds itself.
    """
    before, after = required(name, 1.0), required(name, 1.1)
    raised = 0
    for id, c in before.items():
        more = after[id]
        if id.startswith((*NO_LOAD, *NOT_SCALED.get(job_named(name).basis, ()))):
            assert more.eta == c.eta and more.ending is c.ending, id
        elif more.lack is Lack.REACH and c.lack is not Lack.REACH:
            above = after[f"base_plate.rotation.{id.rsplit('.', 1)[1]}"]
            assert above.ending is Ending.EXCEEDS and above.eta is None, id
        elif c.eta is None:
            assert more.eta is None and more.ending is c.ending, id
        elif more.eta is None:  # it has let go
            assert more.ending is Ending.EXCEEDS, id
        else:
            least = 1.0 if id.startswith(tuple(BY_LESS)) else 1.05
            assert more.eta >= c.eta * least, f"{id}: {c.eta} to {more.eta}"
            raised += 1
    assert raised > 1
