"""What a mount puts on each piece of blocking under it: bearing less the tension of the screws in the piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barrier.links.ground.base_stiffness import bearing_on_pieces, tension_in_pieces
from barrier.links.mount.mount_forces import Corner, MountForces
from barrier.mechanics import contact

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class PieceForces:
    """What one mount does to its pieces at its largest moment, (solutions x pieces): it bears on them with ``bearing``
    and pulls at them with the ``tension`` of its screws; ``own_moments`` are about each piece's own centre line.
    ``labels`` name the solutions."""

    mount: MountForces
    labels: tuple[str, ...]
    bearing: Floats
    tension: Floats
    own_moments: Floats

    @property
    def forces(self) -> Floats:
        """Force on each piece, down positive."""
        return self.bearing - self.tension


def forces_on_pieces(handed: MountForces, corners: Sequence[Corner]) -> PieceForces:
    """Forces on the pieces of a mount in every one of these solutions, all in equilibrium."""
    return PieceForces(
        handed,
        tuple(c.label for c in corners),
        np.array([bearing_on_pieces(handed.model, s.contact) for s in corners]),
        np.array([tension_in_pieces(handed.model, s.contact) for s in corners]),
        np.array([own_moments(handed, s.contact) for s in corners]),
    )


def own_moments(handed: MountForces, solution: contact.Contact) -> Floats:
    """Moment of what acts on each piece about the piece's own centre line, N mm."""
    model = handed.model
    axis = 1 if model.blocking is not None and model.blocking.direction == "along" else 0
    found = []
    for i, piece in enumerate(model.pieces):
        moment = 0.0
        if piece.name in solution.zone_force:
            moment = solution.zone_first[piece.name][axis] - solution.zone_force[piece.name] * piece.centre
        for s, T in zip(model.screws, solution.T, strict=True):
            if s.piece == i:
                moment -= float(T) * (float((s.x, s.y)[axis].x) - piece.centre)
        found.append(moment)
    return np.array(found, dtype=float)
