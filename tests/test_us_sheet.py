"""A sheet in inches and pounds has no metric unit left: not in its numbers, its words, its notes, its pages for teaching."""

from __future__ import annotations

import re
from functools import cache

import pytest
from conftest import ROOT

from barrier import check, read_job, sheet
from barrier.job.read import job_from_text
from barrier.sheet.blocks import Content, Paragraph
from barrier.sheet.formats.text import rendered
from barrier.sheet.in_words import in_units
from barrier.study import faults, ladder
from barrier.units import UNITS
from barrier.ways import limits as asking
from barrier.ways.limits import limits
from barrier.ways.moves import moves_of
from barrier.ways.runner import tables_of

METRIC = [
    u for u, unit in UNITS.items() if u and unit.dimension not in ("T", "angle", "1") and not re.search("in|ft|lb|ps|mi$|mph", u)
]
LEFT = re.compile(
    rf"(?<![\w/])({'|'.join(re.escape(u) for u in sorted(METRIC, key=len, reverse=True) if u not in ('m', 'N'))})(?![\w/])"
    r"|\d[ \u00a0](?:m|N|mm²|mm³|N/mm²|N/mm³|kN/m²|kN/m³|kg/m³)(?![\w/])|mil+imet|newton",
    re.IGNORECASE,
)  # fmt: skip
EXAMPLE = ROOT / "worked_examples" / "us_deck.toml"
LOOSE = ROOT / "tests" / "data" / "us_lag_deck.toml"  # three loose pieces, as a site has them


@cache
def page(name: str) -> str:
    match name:
        case "ladder":
            return sheet.ladder_text(ladder(read_job(EXAMPLE)))
        case "faults":
            return sheet.faults_text(faults(read_job(EXAMPLE)))
        case "loose pieces":
            return sheet.text(check(read_job(LOOSE)))
        case _:
            return sheet.text(check(read_job(EXAMPLE)))


def test_the_pattern_sees_what_it_looks_for() -> None:
    for text in ("12 mm", "8 MPa", "in mm, N/mm", "1.2 m above", "14 kN", "25 kN/m³", "40 kg", "300 N", "3 N/mm3"):
        assert LEFT.search(text), text
    for text in ("12 in", "M1", "N12", "lbf/in³", "NDS-2018", "1200 psi", "C24"):
        assert not LEFT.search(text), text


@pytest.mark.parametrize("name", ["check", "loose pieces", "ladder", "faults"])
def test_no_metric_unit_is_left(name: str) -> None:
    found = [line for line in page(name).splitlines() if LEFT.search(line)]
    assert not found, "\n".join(found)


def test_lengths_stand_in_fractions_of_an_inch() -> None:
    text = page("check")
    for words in ("1/2 in toughened", "5 1/2 in by 7 1/2 in", "screws 6 in long", "3/8 in"):
        assert words in text, words
    front, calculation = text.split("THE CALCULATION")
    assert "0.375 in" not in front and "0.375 in" in calculation  # decimals where a number goes on into a formula


def test_whose_modulus_of_rupture_the_factor_is_laid_on_is_said_to_be_a_reading() -> None:
    """IBC 2407.1.1 lays its factor of 4 on the modulus of rupture and names no mean: the sheet says whose reading that is."""
    printed = " ".join(page("check").split())
    assert "that the mean one is meant is our reading" in printed
    assert "mean modulus of rupture over" not in printed


def test_ways_and_limits_of_a_job_in_inches_have_no_metric_unit(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words of changes, crossings and pictures are the project's own; what is typed behind --set stays as the file takes it.

    A few sizes and steps stand for all: they differ in their figures, and not in their words.
    """
    for name, few in {"STEPS": 3, "WIDTHS": (0.8, 1.2), "HEIGHTS": (1.0, 1.4)}.items():
        monkeypatch.setattr(asking, name, few)
    text = (ROOT / "worked_examples" / "boards_only.toml").read_text(encoding="utf-8")  # the one that is walked in no time
    job = job_from_text(text.replace('units = "metric"', 'units = "us"'))
    tables = tables_of(job)
    found = limits(job, (f"panels.{job.panels[0].name}.width",), over_unchecked=True, envelope=True, hangs=True)
    assert found.envelope and found.hangs
    solid = next(m for m in moves_of(read_job(EXAMPLE), tables) if "mm" in m.name)
    told = rendered(Content(tuple(in_units((Paragraph((solid.name,)),), "us")), "us"))
    for text in (sheet.limits_text(found), told):
        left = [line for line in text.splitlines() if LEFT.search(line) and "--set" not in line]
        assert not left, left
    assert rendered(Content(tuple(in_units((Paragraph(("12 mm",)),), "metric")), "metric")).strip() == "12 mm"
