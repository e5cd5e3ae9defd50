"""Forces that come to the ends of pieces at once: of each direction the state in which an end is pressed or pulled most, whole.

A table of largest figures says what each end must hold, but its figures do not act together. A joist is designed for forces that
do: those of a set balance the push, the moment and the twist of their mount (a test adds them up).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from barrier.links.blocking.to_joists import State, Wrench
from barrier.links.mount.mount_forces import SIGNS, MountForces
from barrier.result import governing
from barrier.value import Numerical, Value


class Component(NamedTuple):
    """What comes to an end, by how it spans: in words, its kind, and where it stands in a wrench."""

    words: str
    kind: str
    of: Callable[[Wrench], float]


TWISTS = (Component("sideways", "force", lambda w: w.force[1]), Component("torque", "moment", lambda w: -w.moment[0]))
DOWN = Component("down", "force", lambda w: -w.force[2])
COMPONENTS = {
    "loose": (DOWN, *TWISTS),
    "twists": TWISTS,
    "bends": (
        DOWN,
        Component("pressed along itself", "force", lambda w: w.force[1]),
        Component("sideways", "force", lambda w: w.force[0]),
        Component("torque", "moment", lambda w: w.moment[1]),
    ),
}


class ForceSet(NamedTuple):
    """One state of equilibrium whole: its direction, its combination and what else it is named by, the push, moment and twist of
    the mount in it, and what comes to each end (piece and side) by the components of ``columns``."""

    sign: str
    words: str
    action: tuple[Value, Value, Value]
    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Value, ...]], ...]


def force_sets(
    found: Sequence[tuple[MountForces, Sequence[State]]],
    components: Sequence[Component],
    as_it_comes: Callable[[MountForces], Sequence[State]],
) -> Iterator[ForceSet]:
    """A set for each direction out of the states of every combination of a mount.

    found: each combination with its states, under the largest moment and the largest twist, which another case may have.
    components: of what it stands on, one of :data:`COMPONENTS`. as_it_comes: gives of a combination the same states in the same
    order under what does act together, the largest moment with the push and the twist of its own case.
    """
    deciding = DOWN if DOWN in components else components[-1]
    for sign in SIGNS:
        every = [(handed, i, state) for handed, states in found for i, state in enumerate(states) if state.sign == sign]
        if every:
            sizes = [max(abs(deciding.of(w)) for w in state.wrenches) for _, _, state in every]
            handed, i, _ = every[governing(sizes)]
            yield _set(handed, as_it_comes(handed)[i], components)


def _set(handed: MountForces, state: State, components: Sequence[Component]) -> ForceSet:
    push = state.push
    return ForceSet(
        state.sign,
        f"{handed.combination.id}; {state.label}",
        (handed_on(push.F, "force"), handed_on(push.M, "moment"), handed_on(push.M_z, "moment")),
        tuple(c.words for c in components),
        tuple((f"{w.piece}, {w.side} end", tuple(handed_on(c.of(w), c.kind) for c in components)) for w in state.wrenches),
    )


def handed_on(x: float, kind: str) -> Value:
    """A force (N) or moment (N mm) handed on to the deck, with where it comes from."""
    origin = Numerical("force handed on to the deck", "equilibrium of the mount and its pieces", "contact model of this project")
    return Value(x, kind, origin)
