"""The plate of two layers with a shear-soft interlayer against layered three-dimensional solids.

Source: layered solid finite elements computed for this project: tests/data/laminate_unequal_reference.csv (12 panels of unequal
layers; order-3 hexahedra, own error 0.3 to 0.5 % in stress, 0.006 % in deflection), laminate_one_sided_reference.csv (pads that
touch one face), laminate_reference.csv (equal layers; quadratic hexahedra). No published table gives laminates on elastic
clamps. At discrete clamps the stress of each layer takes the model factor of its own thickness, 1 + 0.3 h_i / d; in a channel none.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from barrier.mechanics.laminate import LAYER_FACES, Contact, Laminate, LaminateModel, LaminateSolution
from barrier.mechanics.plate import FIXED, Clamp, LineLoad, Pad, PatchLoad, Pressure, diagonal_base

DATA = Path(__file__).parent.parent / "data"


def rows(name: str) -> dict[str, dict[str, str]]:
    found = list(csv.DictReader((DATA / f"{name}.csv").open(encoding="utf-8")))
    return {row.get("id") or f"{row['support']}, G = {row['G_interlayer_MPa']}": row for row in found}


UNEQUAL, ONE_SIDED, EQUAL = (rows(f"laminate_{name}reference") for name in ("unequal_", "one_sided_", ""))
SOLID = {"front outer": "load_face", "front inner": "load_layer_inner", "back inner": "back_layer_inner", "back outer": "back_face"}
DEPTH = 90.0  # mm, of every discrete clamp of the three tables


@cache
def solved(table: str, id: str) -> LaminateSolution:
    row = {"unequal": UNEQUAL, "one-sided": ONE_SIDED, "equal": EQUAL}[table][id]
    pads, on = row["pads"].partition(" on ")[::2]
    W, H = (float(s) for s in on.split("x")) if on else (float(row["W_mm"]), float(row["H_mm"]))
    front, back = (float(h) for h in row["plies_mm"].split("+"))
    sheet = Laminate(W, H, front, back, float(row["interlayer_mm"]), 70_000.0, 0.23, float(row["G_interlayer_MPa"]))
    clamps = []
    for place in pads.split("; "):
        of = {name: float(x) for name, x in (part.split("=") for part in place.split())}
        x, half = of["xc"], of["b"] / 2
        clamps.append(Clamp(x, (Pad(x - half, x + half, 0.0, of["d"], float(row["k_pad_N_mm3"])),)))
    bases = [
        FIXED if base.strip() == "fixed" else diagonal_base(*(float(k) for k in base.split("/")))
        for base in row.get("bases", "fixed").split(";")
    ]
    load = {"line": LineLoad(0.75, H), "pressure": Pressure(1e-3), "500": PatchLoad(500.0, W - 50.0, W, H - 50.0, H)}[
        row["load"].split()[0]
    ]
    contact: Contact = "one face" if row.get("contact") == "one-sided" else "both faces"
    model = LaminateModel(sheet, clamps, [load])
    answer = model.solve(bases * (len(clamps) // len(bases)), contact)
    model.factorised = None  # some twenty megabytes of each of the rows
    return answer


def with_factor(solution: LaminateSolution, discrete: bool) -> dict[str, float]:
    """Peak of every face, edges and all, with the model factor of the layer's thickness."""
    sheet, found = solution.model.laminate, {}
    for face, zones in solution.peaks(0.0).items():
        h = sheet.front if face.startswith("front") else sheet.back
        found[face] = (1 + 0.3 * h / DEPTH * discrete) * max(float(p.stress[0]) for p in zones.values())
    return found


def solid(row: Mapping[str, str]) -> dict[str, float]:
    """Peak of every face of the solids; the load face of the tables of unequal and equal layers has a name of its own."""
    names = {face: (f"{name}_MPa", f"{name}_face_MPa", f"peak_principal_stress_{name}_MPa") for face, name in SOLID.items()}
    return {face: float(next(row[n] for n in of if n in row)) for face, of in names.items()}


def layers(of_faces: Mapping[str, float]) -> dict[str, float]:
    return {layer: max(x for face, x in of_faces.items() if face.startswith(layer)) for layer in ("front", "back")}


def test_all_rows_are_there() -> None:
    assert (len(UNEQUAL), len(ONE_SIDED), len(EQUAL)) == (12, 6, 6)
    assert {face for face in SOLID} == set(LAYER_FACES)


@pytest.mark.parametrize("id", UNEQUAL)
class TestUnequalLayers:
    def test_deflection(self, id: str) -> None:
        assert solved("unequal", id).top_deflection[0] == pytest.approx(float(UNEQUAL[id]["w_top_max_mm"]), rel=0.015)

    def test_governing_layer(self, id: str) -> None:
        """The thinner layer governs in the two rows with a stiff film, and there the model finds it."""
        row = UNEQUAL[id]
        ours, theirs = (layers(f) for f in (with_factor(solved("unequal", id), "clamps" in row["support"]), solid(row)))
        assert max(ours, key=ours.__getitem__) == max(theirs, key=theirs.__getitem__)
        assert -0.015 <= max(ours.values()) / max(theirs.values()) - 1 <= 0.035

    def test_every_layer(self, id: str) -> None:
        row = UNEQUAL[id]
        ours, theirs = (layers(f) for f in (with_factor(solved("unequal", id), "clamps" in row["support"]), solid(row)))
        for layer, stress in ours.items():
            assert -0.035 <= stress / theirs[layer] - 1 <= 0.065, layer

    def test_what_clamps_take(self, id: str) -> None:
        """F and Mx within 0.25 %; Mz, small beside them, within 1.4 % of the largest (and 0.01 % of the moment)."""
        s, row = solved("unequal", id), UNEQUAL[id]
        for column, found, near in (("F_N", s.F, 0.0025), ("Mx_y0_Nmm", s.Mx, 0.0025), ("Mz_xc_Nmm", s.Mz, 0.014)):
            theirs = np.array([float(x) for x in row[column].split(";")])
            allowed = near * np.abs(theirs).max() + 1e-4 * np.abs(s.Mx).max() * (column == "Mz_xc_Nmm")
            assert np.abs(found[0] - theirs).max() <= allowed, column


@pytest.mark.parametrize("id", ONE_SIDED)
class TestPadsOnOneFace:
    def test_governing_face(self, id: str) -> None:
        """The solids take the line of contact from a plate and do not repeat it."""
        ours, theirs = with_factor(solved("one-sided", id), True), solid(ONE_SIDED[id])
        assert max(ours, key=ours.__getitem__) == max(theirs, key=theirs.__getitem__)
        assert max(ours.values()) == pytest.approx(max(theirs.values()), rel=0.045)

    def test_deflection(self, id: str) -> None:
        assert solved("one-sided", id).top_deflection[0] == pytest.approx(float(ONE_SIDED[id]["w_top_max_mm"]), rel=0.015)


def test_soft_film_and_one_face_give_more_than_the_layered_limit() -> None:
    """What the older check missed: 88.9 MPa by the solids where the layered limit with its factor gives 75 (16 % too low)."""
    assert max(with_factor(solved("one-sided", "EQ_k100_G0.05_one"), True).values()) > 1.15 * 75.1


@pytest.mark.parametrize("support", ["2 clamps", "channel"])
def test_a_stiffer_film_lowers_the_outer_face_as_in_the_solids(support: str) -> None:
    """Pads on both faces, G 0.3 to 100 MPa: the face that is pushed falls at every step, by as much as the solids' (2 % each)."""
    ids = sorted((id for id in EQUAL if EQUAL[id]["support"] == support), key=lambda id: float(EQUAL[id]["G_interlayer_MPa"]))
    ours = [with_factor(solved("equal", id), support != "channel")["front outer"] for id in ids]
    theirs = [float(EQUAL[id]["peak_principal_stress_load_face_MPa"]) for id in ids]
    assert len(ids) == 3 and theirs == sorted(theirs, reverse=True) and ours == sorted(ours, reverse=True)
    for i in (1, 2):
        assert ours[i] / ours[0] == pytest.approx(theirs[i] / theirs[0], rel=0.02)


def test_where_a_stiffer_film_raises_a_face_it_does_so_in_the_solids() -> None:
    """Pads on one face, G 0.05 to 0.5 MPa: both outer faces rise (58.7 to 62.9 and 42.5 to 48.9 MPa by the solids), both inner ones
    fall, of which the one that governs; every face goes the way of the solids and as far, within 2 % of its stress."""
    soft, firm = ({**solid(ONE_SIDED[id])} for id in ("EQ_k100_G0.05_one", "EQ_k100_G0.5_one"))
    ours = [with_factor(solved("one-sided", id), True) for id in ("EQ_k100_G0.05_one", "EQ_k100_G0.5_one")]
    rising = {face for face in LAYER_FACES if firm[face] > soft[face]}
    assert rising == {face for face in LAYER_FACES if ours[1][face] > ours[0][face]} == {"front outer", "back outer"}
    assert max(soft, key=soft.__getitem__) == max(ours[0], key=ours[0].__getitem__) == "back inner"
    for face in LAYER_FACES:
        assert ours[1][face] / ours[0][face] == pytest.approx(firm[face] / soft[face], rel=0.02), face


@pytest.mark.parametrize("id", EQUAL)
class TestEqualLayers:
    """The row G = 3 on two clamps is itself about 1.1 % low in stress: refined anew on five meshes it is 69.4 to 69.9 MPa."""

    def test_deflection(self, id: str) -> None:
        assert solved("equal", id).top_deflection[0] == pytest.approx(float(EQUAL[id]["w_top_max_mm"]), rel=0.02)

    def test_load_face(self, id: str) -> None:
        ours = with_factor(solved("equal", id), "clamps" in EQUAL[id]["support"])["front outer"]
        assert ours == pytest.approx(float(EQUAL[id]["peak_principal_stress_load_face_MPa"]), rel=0.02)

    def test_a_row_known_low_is_met_at_its_refined_value(self, id: str) -> None:
        if id == "2 clamps, G = 3.0":
            assert with_factor(solved("equal", id), True)["front outer"] == pytest.approx(69.65, rel=0.01)
