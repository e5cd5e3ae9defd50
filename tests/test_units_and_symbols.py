"""For those who compute on: quantities of pint out of values and into a job, and what stands behind a number in sympy."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pint
import pytest
import sympy
from conftest import ROOT, for_each, job_named, result_of

from barrier.equation import Step
from barrier.errors import JobRefused, UnknownRow
from barrier.quantities import as_written, quantity, spelled_for_pint
from barrier.symbolic import expression
from barrier.units import KINDS, UNITS
from barrier.value import walk


@for_each("unit", [u for u in UNITS if u])
def test_every_unit_of_a_job_is_the_same_size_in_pint(unit: str) -> None:
    """The list of units here and the registry of pint were made by different people."""
    base = quantity(1.0, next(k.name for k in KINDS.values() if k.dimension == UNITS[unit].dimension))
    there = pint.get_application_registry().Quantity(1.0, spelled_for_pint(unit))
    assert there.to(base.units).magnitude == pytest.approx(UNITS[unit].factor, rel=1e-9)


@pytest.mark.parametrize(
    ("given", "written"),
    [
        (pint.Quantity(1.35, "m"), "1.35 m"),
        (pint.Quantity(3.5, "inch"), "3.5 in"),
        (pint.Quantity(0.75, "kN/m"), "0.75 kN/m"),
        (pint.Quantity(50, "lbf/ft"), "50 lbf/ft"),
        (pint.Quantity(1.2, "kN*m/rad"), "1.2 kN m/rad"),
        (pint.Quantity(2, "kip*m/rad"), "8896443.230521001 N mm/rad"),
        (pint.Quantity(2, "kip*m"), "8896443.230521001 N mm"),
        (pint.Quantity(35, "degC"), "35 degC"),
        (pint.Quantity(350, "kg/m**3"), "350 kg/m3"),
        (pint.Quantity(12, "micrometer"), "0.012 mm"),
        ("12 mm", "12 mm"),
        (None, None),
    ],
)
def test_a_quantity_is_written_as_a_job_would_have_it(given: object, written: str) -> None:
    said = as_written(given)
    if isinstance(said, str) and isinstance(written, str):
        x, _, unit = said.partition(" ")
        assert (float(x), unit) == (pytest.approx(float(written.partition(" ")[0]), rel=1e-14), written.partition(" ")[2])
    else:
        assert said is written


def test_a_job_takes_a_quantity_and_keeps_it_as_text() -> None:
    job = job_named("garden_deck").with_({"panels.P3.width": pint.Quantity(3.25, "foot")})
    assert job.panels[0].width.x == pytest.approx(3.25 * 304.8)
    assert job.changes == (("panels.P3.width", "3.25 ft"),)  # a sheet carries it as text


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (pint.Quantity(3, "second"), "is in no unit of a job file"),
        (pint.Quantity(np.array([1.0, 2.0]), "mm"), "more than one number"),
        (pint.Quantity(3, "kN"), "is in kN; expected a length"),
    ],
)
def test_a_quantity_of_something_else_is_refused(given: object, said: str) -> None:
    with pytest.raises(JobRefused, match=said):
        job_named("garden_deck").with_({"panels.P3.width": given})


def test_values_have_quantities() -> None:
    check = result_of("garden_deck")["joist.bending.M1"]
    assert check.utilisation is not None
    for value in walk(check.utilisation):
        found = value.quantity
        assert np.array_equal(found.magnitude, value.x)
    assert result_of("garden_deck").job.panels[0].width.quantity.to("m").magnitude == pytest.approx(1.0)


def test_every_equation_of_a_job_is_one_of_sympy() -> None:
    """A second opinion on each equation of a walk: sympy gives the number that was calculated."""
    met: set[str] = set()
    for check in result_of("garden_deck").sound.checks:
        for value in walk(*(v for v in (check.demand, check.resistance) if v is not None)):
            step = value.origin
            if not isinstance(step, Step) or step.equation.text in met or len(met) > 150:
                continue
            met.add(step.equation.text)
            at = {n: float(v.at(0)) / step.equation.by_name[n].factor for n, v in step.inputs.items()}
            right = step.equation.sympy.rhs.subs({sympy.Symbol(n): x for n, x in at.items()})
            assert float(right) * step.equation.result.factor == pytest.approx(value.at(0), rel=1e-9), step.equation.text
    assert len(met) > 60


@pytest.mark.parametrize("id", ["glass.face", "screws.sideways.M1", "blocking.bending.M1", "joist.outer.down.M1"])
def test_all_of_a_chain_with_nothing_solved_is_the_number(id: str) -> None:
    check = result_of("garden_deck")[id]
    assert check.utilisation is not None and check.eta is not None
    assert float(expression(check.utilisation, station=check.station)) == pytest.approx(check.eta, rel=1e-12)


def test_which_length_would_give_one() -> None:
    """Blocking between joists, bent by a force at a: sigma = P a (L_b - a)/L_b/W, by hand for the length that gives 1.00."""
    check = result_of("garden_deck")["blocking.bending.M1"]
    assert check.utilisation is not None
    eta = expression(check.utilisation, "L_b", "a", station=check.station)
    L_b, a = sympy.symbols("L_b a")
    steps = [v.origin for v in walk(check.utilisation) if isinstance(v.origin, Step)]
    numbers = {n: s.inputs[n].at(0) for s in steps for n in ("L_b", "a") if n in s.inputs}
    # eta is in proportion to a (L_b - a)/L_b, whatever the force is
    arm = numbers["a"] * (numbers["L_b"] - numbers["a"]) / numbers["L_b"]
    assert float(eta.subs({L_b: numbers["L_b"], a: numbers["a"]})) == pytest.approx(check.eta, rel=1e-12)
    here = float(check.eta or 0.0) / arm
    assert float(eta.subs({L_b: 900.0, a: 450.0})) == pytest.approx(here * 225.0, rel=1e-9)


def test_a_symbol_that_is_not_there_is_named_with_the_nearest() -> None:
    check = result_of("garden_deck")["blocking.bending.M1"]
    assert check.utilisation is not None
    with pytest.raises(UnknownRow, match="has no symbol 'L_bb'; the nearest: L_b"):
        expression(check.utilisation, "L_bb")


def test_without_the_libraries_the_tool_works_and_says_what_to_install() -> None:
    code = (
        "import sys; sys.modules['pint'] = None; sys.modules['sympy'] = None\n"
        "from barrier import read_job\n"
        "from barrier.basis.en.timber import BEARING\n"
        "width = read_job('worked_examples/garden_deck.toml').with_({'panels.P3.width': '1 m'}).panels[0].width\n"
        "for ask in (lambda: width.quantity, lambda: BEARING.sympy):\n"
        "    try: ask()\n"
        "    except ImportError as fault: print(fault)\n"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT).stdout
    assert out.splitlines() == [
        f"this wants {library}, which is not here: pip install 'barrier-loadwalk[{extra}]'"
        for library, extra in (("pint", "units"), ("sympy", "symbols"))
    ]
