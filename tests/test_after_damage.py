"""A clamp lost, a layer broken: situations for information, under the characteristic action with the basis's factors."""

from __future__ import annotations

import pytest
from conftest import ROOT, job_named

from barrier.job import read_job
from barrier.load_path import check, robustness
from barrier.result import Standing
from barrier.study import faults
from barrier.value import Cell, walk

ROUNDING = 1e-9  # relative
LAYERS = 1e-6  # relative; two plate solutions of nearly one mesh

THREE = job_named("three_clamps_laminated").with_({"situations": None})
TWO = THREE.with_({"mounts.M2": None, "panels.1.width": "1200 mm", "mounts.M3.x": "1050 mm"})  # half the work, where it will do


def test_what_is_lost_one_at_a_time() -> None:
    assert [s.name for s in robustness(THREE)] == ["clamp M1 lost", "clamp M2 lost", "layer 1 of panel T1 broken"]
    unequal = THREE.with_({"panels.1.layers.2.nominal": "8 mm"})
    assert [s.name for s in robustness(unequal)][2:] == ["layer 1 of panel T1 broken", "layer 2 of panel T1 broken"]
    alone = job_named("everyday_deck").with_({"mounts.M2": None, "mounts.M1.x": "600 mm"})
    assert robustness(alone) == ()
    assert all(s.standing is Standing.INFORMATION for s in robustness(THREE))


def test_the_action_is_characteristic_and_timber_has_its_factor_for_it() -> None:
    """EN 1990 (6.11b) and EN 1995-1-1 Table 2.3: both factors 1.0 (memory); k_mod stays."""
    result = check(TWO, robustness(TWO))
    sound = {c.id: c for c in result.sound.checks}
    for walked in result.walked[1:]:
        for c in walked.handed_on.cases:
            assert float(c.strength.factor.x) == 1.0 and c.strength.level == "accidental"
        bed = next(c for c in walked.checks if c.id == "base_plate.bed.M3")
        keys = {v.origin.key for v in walk(bed.resistance) if isinstance(v.origin, Cell)}
        assert "gamma_M_accidental" in keys and "gamma_M_solid" not in keys
        assert bed.resistance.at(bed.station) > sound[bed.id].resistance.at(sound[bed.id].station)


def test_a_broken_layer_leaves_the_other_alone() -> None:
    """Same moment on half the layers: layered limit, equal layers, so twice the stress at the same load, by (M/2)/(t²/6)."""
    sliding = THREE.with_({"panels.1.interlayer.coupling": "none"})
    broken = next(s for s in robustness(sliding) if s.name.startswith("layer"))
    result = check(sliding, [broken])
    whole, alone = (next(c for c in w.checks if c.id == "glass.face") for w in result.walked)
    ratio = alone.demand.at(alone.station) / (whole.demand.at(whole.station) / 1.5)
    assert 1.9 < ratio < 2.15  # 2 but for the pads, which are stiffer beside one layer: a few per cent (plate model)
    assert result.walked[1].handed_on.panels[0].sheet.share is None


def test_a_lost_clamp_loads_the_others() -> None:
    lost = check(THREE, robustness(THREE)[:1]).walked[1]
    plates = lost.handed_on.panels[0]
    assert [m.name for m in plates.mounts] == ["M2", "M3"]
    assert lost.ending is not None and lost.situation.after_damage


def test_allowable_stress_design_keeps_its_own_factors() -> None:
    us = read_job(ROOT / "worked_examples" / "us_deck.toml").with_({"situations": None})
    result = check(us, robustness(us))
    a, b = (w.handed_on.cases[0].strength for w in result.walked)
    assert float(b.factor.x) == float(a.factor.x) == pytest.approx(1.0) and b.level == a.level and b.id != a.id


def test_faults_hold_them() -> None:
    study = faults(job_named("everyday_deck"))
    last = study.walked[-1].situation
    assert last.name == "clamp M1 lost" and last.after_damage and "characteristic" in last.words
    assert sum(w.situation.after_damage for w in study.walked) == 1
