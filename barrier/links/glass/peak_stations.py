"""The largest stresses of a panel as stations of one check: every way it was solved, case, face and zone.

A panel has some thousand of them, and a check prints the words of one: they are put together where they are asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, overload

import numpy as np
from numpy.typing import NDArray

from barrier.links.glass.film import FACES as LAYER_FACES
from barrier.links.glass.panel_solution import PanelSolution

FACES = {"load": "face that is pushed", "back": "other face", **LAYER_FACES}
FACE_ZONES, EDGE_ZONES = ("interior",), ("bottom", "side", "top")
ZONES = {"interior": "away from edges", "bottom": "bottom edge", "side": "vertical edge", "top": "top edge"}


class Place(NamedTuple):
    """A station by name: number of the set and of the case, face and zone."""

    set: int
    case: int
    face: str
    zone: str


@dataclass(frozen=True, slots=True, eq=False)
class PeakStations(Sequence[str]):
    """Peak stresses over sets x cases x faces x zones, the last running fastest; as a sequence the label of each.

    ``x`` is where along the glass each is, mm, in an array of that shape; ``sets`` and ``titles`` are the words of the sets and of
    the cases numbered ``cases``; ``pads`` the mount of every pad, where it stands and how far to either side a peak is at it, mm.
    """

    x: NDArray[np.float64]
    sets: tuple[str, ...]
    cases: tuple[int, ...]
    titles: tuple[str, ...]
    faces: tuple[str, ...]
    zones: tuple[str, ...]
    pads: tuple[tuple[str, float, float], ...]

    def __len__(self) -> int:
        return int(self.x.size)

    @overload
    def __getitem__(self, station: int) -> str: ...
    @overload
    def __getitem__(self, station: slice) -> list[str]: ...
    def __getitem__(self, station: int | slice) -> str | list[str]:
        if isinstance(station, slice):
            return [self[i] for i in range(*station.indices(len(self)))]
        s, c, f, z = self._at(station)
        where = f"{FACES[self.faces[f]]}, {ZONES[self.zones[z]]}, {self._near(float(self.x[s, c, f, z]))}"
        return f"{self.titles[c]}; {where}; {self.sets[s]}"

    def _at(self, station: int) -> tuple[int, ...]:
        if not 0 <= station < len(self):
            raise IndexError(f"station {station} of {len(self)}")
        return tuple(int(i) for i in np.unravel_index(station, self.x.shape))

    def _near(self, x: float) -> str:
        """A place along the glass in words: at the mount whose pads cover it, else between."""
        at = next((name for name, middle, reach in self.pads if abs(x - middle) <= reach), None)
        return f"at mount {at}" if at is not None else "away from the mounts"

    def place(self, station: int) -> Place:
        """Which set, case, face and zone a station is."""
        s, c, f, z = self._at(station)
        return Place(s, self.cases[c], self.faces[f], self.zones[z])

    def over(self, axis: str, of: Sequence[float]) -> NDArray[np.float64]:
        """A figure for each set, case, face or zone (``axis``, as a :class:`Place` has them), laid out over the stations."""
        shape = [len(of) if name == axis else 1 for name in Place._fields]
        return np.broadcast_to(np.asarray(of, dtype=float).reshape(shape), self.x.shape).ravel()


def peaks_of(solved: PanelSolution, zones: Sequence[str], chosen: Sequence[int]) -> tuple[PeakStations, NDArray[np.float64]]:
    """The stations of some zones and cases of a panel, and the largest characteristic stress at each, MPa; none below 0."""
    found = [[[peaks[face][zone] for zone in zones] for face in solved.faces] for peaks in solved.peaks]
    stress = np.array([[[p.stress[chosen] for p in of_face] for of_face in of_set] for of_set in found])
    x = np.array([[[p.x[chosen] for p in of_face] for of_face in of_set] for of_set in found])
    # Sets x faces x zones x cases as they are found; the cases go before the faces.
    stress, x = (np.moveaxis(of, -1, 1) for of in (stress, x))
    stations = PeakStations(
        x,
        tuple(f"{pads} pads, {bases} bases" for pads, bases in solved.sets),
        tuple(chosen), tuple(solved.cases[c].title for c in chosen), solved.faces, tuple(zones), _pads(solved),
    )  # fmt: skip
    return stations, np.maximum(stress.ravel(), 0.0)


def _pads(solved: PanelSolution) -> tuple[tuple[str, float, float], ...]:
    return tuple(
        (m.name, float(m.mount.x.x) + float(p.offset.x), 0.75 * float(p.width.x)) for m in solved.mounts for p in m.mount.pads
    )
