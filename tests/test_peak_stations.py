"""The stations of a glass check: their order, figures and words, against a walk through sets, cases, faces and zones one by one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import product
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from conftest import job_named, result_of, sound

from barrier.links.glass.film import layer_of
from barrier.links.glass.glass import _stress
from barrier.links.glass.panel_solution import PanelSolution
from barrier.links.glass.peak_stations import EDGE_ZONES, FACE_ZONES, FACES, ZONES, PeakStations, peaks_of


def panel_of(name: str) -> PanelSolution:
    return result_of(name).sound.handed_on.panels[0]


def words_at(solved: PanelSolution, x: float) -> str:
    """At the first mount one of whose pads, half as wide again, covers the place."""
    for m in solved.mounts:
        for p in m.mount.pads:
            middle, half = float(m.mount.x.x) + float(p.offset.x), 1.5 * float(p.width.x) / 2
            if middle - half <= x <= middle + half:
                return f"at mount {m.name}"
    return "away from the mounts"


@pytest.mark.parametrize("name", ["everyday_deck", "us_laminated"])
@pytest.mark.parametrize("zones", [FACE_ZONES, EDGE_ZONES])
def test_figures_and_words_of_every_station(name: str, zones: tuple[str, ...]) -> None:
    solved = panel_of(name)
    chosen = [*range(1, len(solved.cases), 2)]  # not all of them, and not from the first
    stations, stress = peaks_of(solved, zones, chosen)
    every = list(product(range(len(solved.sets)), chosen, solved.faces, zones))
    assert len(stations) == stress.size == len(every) > 20
    for i, (s, c, face, zone) in enumerate(every):
        peak = solved.peaks[s][face][zone]
        assert stress[i] == max(float(peak.stress[c]), 0.0)
        assert stations.place(i) == (s, c, face, zone)
        pads, bases = solved.sets[s]
        where = f"{FACES[face]}, {ZONES[zone]}, {words_at(solved, float(peak.x[c]))}"
        assert stations[i] == f"{solved.cases[c].title}; {where}; {pads} pads, {bases} bases"
    assert list(stations) == stations[:] and stations[-1:] == [stations[len(every) - 1]]
    with pytest.raises(IndexError):
        stations[len(every)]
    assert (stress > 0.0).any()


def unequal() -> PanelSolution:
    job = job_named("au_laminated")
    return sound(job.with_({"panels.1.layers.2.nominal": "8 mm"})).handed_on.panels[0]


@pytest.mark.parametrize(("panel", "layers"), [(lambda: panel_of("everyday_deck"), {0}), (unequal, {0, 1})])
def test_case_and_layer_of_every_station(panel: Callable[[], PanelSolution], layers: set[int]) -> None:
    solved = panel()
    chosen = [*range(0, len(solved.cases), 3)]
    found = _stress(solved, EDGE_ZONES, chosen)
    for i, (s, c, face, _) in enumerate(product(range(len(solved.sets)), chosen, solved.faces, EDGE_ZONES)):
        assert found.cases[i] == c
        assert found.layers[i] == (layer_of(face, solved.turned[s]) if len(layers) > 1 else 0)
    assert {*found.layers} == layers


@pytest.mark.parametrize("zones", [FACE_ZONES, EDGE_ZONES])
def test_the_model_factor_is_on_faces_and_vertical_edges_and_not_in_a_channel(zones: tuple[str, ...]) -> None:
    """1 + 0.3 t/d_p of the pad that is least deep, by hand; a pad as wide as the panel is a channel and has no clamp to it."""
    solved = panel_of("everyday_deck")
    t, pads = float(solved.sheet.layer.x), [p for m in solved.mounts for p in m.mount.pads]
    factor = 1 + 0.3 * t / min(float(p.top.x) - float(p.bottom.x) for p in pads)
    stations, stress = peaks_of(solved, zones, [0, 2])
    found = np.asarray(_stress(solved, zones, [0, 2]).value.x)
    for i in range(len(stations)):
        on = stations.place(i).zone in ("interior", "side")
        assert found[i] == pytest.approx(stress[i] * (factor if on else 1.0), rel=1e-12)
    wide = Plain(offset=pads[0].offset, width=solved.panel.width, top=pads[0].top, bottom=pads[0].bottom)
    mount = Plain(name="M1", mount=Plain(x=solved.mounts[0].mount.x, pads=(wide,)))
    channel = replace(solved, mounts=(mount,))  # type: ignore[arg-type]
    vars(channel).update(residual=solved.residual, _bases={}, stiffnesses={})  # of what stands below nothing is asked
    assert channel.is_channel and not solved.is_channel
    assert np.asarray(_stress(channel, zones, [0, 2]).value.x).tolist() == stress.tolist()


def test_a_figure_of_each_part_is_laid_out_in_their_order() -> None:
    """Two sets, one case, three faces and two zones, by hand."""
    at = PeakStations(np.zeros((2, 1, 3, 2)), ("a", "b"), (7,), ("load",), ("f", "g", "h"), ("y", "z"), ())
    assert at.over("set", [1.0, 2.0]).tolist() == [1.0] * 6 + [2.0] * 6
    assert at.over("case", [5.0]).tolist() == [5.0] * 12
    assert at.over("face", [1.0, 2.0, 3.0]).tolist() == [1.0, 1.0, 2.0, 2.0, 3.0, 3.0] * 2
    assert at.over("zone", [1.0, 2.0]).tolist() == [1.0, 2.0] * 6
    assert at.place(9) == (1, 7, "g", "z") and at.place(0) == (0, 7, "f", "y")
