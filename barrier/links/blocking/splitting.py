"""Splitting along the grain where fasteners pull across it: under the screws of a mount, and at the fixings of the ends.

At the mount the screws pull the piece up, and what counts is how deep they reach from its upper edge. At an end it is the
other way round: what holds a lifted piece down pulls at it towards its lower edge, so the highest fastener above that edge
counts; what holds a pressed piece up pushes towards the upper edge, and the lowest fastener below that one counts, but where
the piece sits in a shoe or on a ledge nothing pulls across its grain.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from barrier.equation import Equation, Symbol, symbols
from barrier.links.blocking.piece_actions import PieceActions
from barrier.links.walk import Walk
from barrier.result import About, Check, Combination, Lack, NotChecked, Standing, compare, governing, not_checked
from barrier.value import Value

REACH = Equation(
    Symbol("h_e", "length"),
    "L - z_b",
    symbols("L:length, z_b:length"),
    "geometry: depth the screws reach into the blocking",
    "computed",
    title="depth the screws reach",
)
ASK = {
    "highest": "how high above the lower edge of the piece its highest end fastener stands (highest); lifted, it may split there",
    "lowest": "how deep below the upper edge of the piece its lowest end fastener stands (lowest), or its whole depth where it "
    "sits in a shoe; pressed down, it may split there",
}


def at_the_mount(walk: Walk, on: PieceActions, ends: Value, combination: Combination) -> Iterator[Check]:
    """Splitting of the pieces that are pulled up by the screws in them; ``ends`` are the larger end forces."""
    model = on.model
    block = model.blocking
    pulled = np.flatnonzero(on.force < 0.0)
    L = model.mount.screw.length
    if block is None or model.z_blocking is None or L is None or not len(pulled):
        return
    about, title = About("blocking", "splitting", mount=model.name), f"splitting of the blocking pulled up by mount {model.name}"
    h_e = REACH(L=L.named("L"), z_b=model.z_blocking)
    demand = ends.take(pulled)
    if float(h_e.x) >= float(block.laid_depth.x):
        why = NotChecked(Lack.RANGE, "the screws go right through the piece: h_e < h_pc (EN 1995-1-1 8.1.4)")
        yield not_checked(about, title, why, Standing.INFORMATION, demand, governing(demand.x))
        return
    yield compare(about, title, demand, _resistance(walk, on, h_e, combination), [on.labels[i] for i in pulled])


def at_the_ends(walk: Walk, on: PieceActions, ends: Value, combination: Combination) -> Iterator[Check]:
    """Splitting of the pieces at their end fixings, lifted and pressed down."""
    name, block = on.model.name, on.model.blocking
    assert block is not None
    fixings = [f for f in (block.left, block.right) if f is None or f.fixing != "none"]
    if not fixings:
        return  # nothing pulls at the wood there, and nothing holds it
    for key, way, chosen in (("highest", "lifted", on.force < 0.0), ("lowest", "pressed down", on.force > 0.0)):
        index = np.flatnonzero(chosen)
        if not len(index):
            continue
        about = About("blocking", "end", detail="splitting", way="uplift" if key == "highest" else "down", mount=name)
        title = f"splitting of the blocking at its end fixings, {way}, mount {name}"
        demand, given = ends.take(index), [None if f is None else getattr(f, key) for f in fixings]
        known = [v for v in given if v is not None]
        if len(known) < len(given):
            yield not_checked(about, title, NotChecked(Lack.INPUT, ASK[key]), demand=demand, station=governing(demand.x))
            continue
        h_e = min(known, key=lambda v: float(v.x)).named("h_e")
        if float(h_e.x) >= float(block.laid_depth.x):
            continue  # it sits in a shoe: nothing pulls across the grain
        yield compare(about, title, demand, _resistance(walk, on, h_e, combination), [on.labels[i] for i in index])


def _resistance(walk: Walk, on: PieceActions, h_e: Value, combination: Combination) -> Value | NotChecked:
    block = on.model.blocking
    assert block is not None
    return walk.basis.splitting(
        walk.timber(block.material), block.laid_breadth.named("b_pc"), block.laid_depth.named("h_pc"), h_e, combination
    )
