"""Figures of the tables against each other and against what they must be: cross-checks no typing error survives."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import pytest

from barrier.basis import FAMILIES
from barrier.tables import Tables
from barrier.units import INCH
from barrier.value import Value

ROUNDED = 0.005  # half of the last digit of a factor printed with two decimals
EDGE_OF_FACE = 0.004  # half of the last digit of the smallest edge allowable, 0.05 of 18.3 MPa, and of its face


def number(name: str, key: str, column: str = "value") -> float:
    return float(Tables().value(name, key, column).x)


# What other modules ask for by name. A renamed key is a broken link, so the names are held here.
ASKED = {
    "en1990_factors": ["gamma_Q", "gamma_G", "gamma_G_favourable", "gamma_service", "psi_0_wind"],
    "en1995_factors": [
        "gamma_M_solid", "gamma_M_glulam", "gamma_M_connections", "gamma_M_accidental", "k_cr", "k_c_90",
    ],
    "en1995_lengths": ["bearing_spread"],
    "en1993_factors": ["k_2", "gamma_M2"],
    "en1995_screw_spacing": ["axial_a1", "axial_a2", "axial_a1_CG", "axial_a2_CG", "axial_penetration"],
    "en16612_strength": ["f_g_k", "f_b_k_toughened", "f_b_k_heat_strengthened"],
    "en16612_factors": [
        "gamma_M_A", "gamma_M_v", "k_v_horizontal", "k_v_vertical", "k_sp_float", "k_sp_patterned",
        "k_sp_sandblasted", "k_sp_acid_etched", "k_e_polished", "k_e_seamed", "k_e_cut", "k_mod_barrier_domestic",
        "k_mod_barrier_public", "k_mod_wind_storm", "k_mod_gust", "k_mod_permanent",
    ],
    "ibc_factors": ["guard_safety_factor"],
    "asce7_factors": ["guard_asd", "wind_asd"],
    "nds_factors": ["C_D_permanent", "C_D_ten_years", "C_D_ten_minutes", "C_M_dry", "C_M_F_c_perp_wet",
                    "C_M_F_v_wet", "C_M_withdrawal_wet", "C_M_lateral_wet", "C_eg_withdrawal_lag", "C_eg_lateral"],
    "stiffness": ["pad_low", "pad", "pad_high", "pad_limit", "bed_low", "bed", "bed_high"],
    "site": ["tolerance", "point_patch"],
    "site_angles": ["rotation_cap"],
}  # fmt: skip


@pytest.mark.parametrize("name", ASKED)
def test_what_other_modules_ask_for_is_there(name: str) -> None:
    for key in ASKED[name]:
        assert isinstance(Tables().value(name, key), Value)


@pytest.mark.parametrize("kind", ["annealed", "heat-strengthened", "toughened"])
def test_each_kind_of_glass_has_its_us_figures(kind: str) -> None:
    assert number("glass_us", kind, "modulus_of_rupture") > 0
    face, edge = (number("astm_e1300_allowable", f"{kind} {place}", "stress") for place in ("face", "edge"))
    # ASTM E1300 via a secondary copy: one ratio of edge to face for all three kinds
    assert edge / face == pytest.approx(0.784, abs=EDGE_OF_FACE)


@pytest.mark.parametrize("name", ["glass_thickness_en572", "glass_thickness_as1288", "glass_thickness_astm_c1036"])
def test_the_minimum_thickness_is_below_the_nominal_and_named_in_the_key(name: str) -> None:
    previous = 0.0
    for row in Tables().table(name).rows:
        nominal, minimum = number(name, row.key, "nominal"), number(name, row.key, "minimum")
        if name == "glass_thickness_astm_c1036":  # named as the trade names it, by a size within a millimetre
            inch = number(name, row.key, "inch")
            assert row.key == f"{Fraction(inch / INCH).limit_denominator(16)} in" and abs(inch - nominal) < 1
        else:
            assert row.key == f"{nominal:g} mm"
        assert previous < minimum < nominal < minimum + 2
        previous = minimum


def test_thickness_of_europe_and_australia_agree_but_for_25_mm() -> None:
    # EN 572-2 from memory, AS 1288 via a secondary copy
    here, there = Tables().table("glass_thickness_en572"), Tables().table("glass_thickness_as1288")
    differ = [k for k in here.keys if here.row(k).text("minimum") != there.row(k).text("minimum")]
    assert differ == ["25 mm"]


DURATIONS = ["permanent", "long-term", "medium-term", "short-term", "instantaneous"]


def test_k_mod_grows_as_the_load_is_shorter_and_falls_as_it_gets_wet() -> None:
    table = {(s, d): number("en1995_k_mod", f"SC{s} {d}", "k_mod") for s in (1, 2, 3) for d in DURATIONS}
    assert len(Tables().table("en1995_k_mod").rows) == len(table) == 15
    for s in (1, 2, 3):
        found = [table[s, d] for d in DURATIONS]
        assert found == sorted(set(found))
    for d in DURATIONS:
        assert table[1, d] == table[2, d] > table[3, d]
    assert table[3, "short-term"] == 0.70  # EN 1995-1-1 Table 3.1 via a secondary copy; the figure a barrier uses


@pytest.mark.parametrize(
    ("key", "hours"),
    [("barrier_domestic", 30 / 3600), ("barrier_public", 5 / 60), ("wind_storm", 10 / 60), ("gust", 5 / 3600),
     ("permanent", 50 * 8766)],
)  # fmt: skip
def test_duration_factors_of_glass_follow_their_expression(key: str, hours: float) -> None:
    # EN 16612:2019, k_mod = 0.663 t^(-1/16) with t in hours, via a secondary copy
    assert number("en16612_factors", f"k_mod_{key}") == pytest.approx(0.663 * hours ** (-1 / 16), abs=ROUNDED)


@pytest.mark.parametrize(
    ("wind_class", "ultimate", "service"),
    [("N1", 34, 26), ("N2", 40, 26), ("N3", 50, 32), ("N4", 61, 39), ("N5", 74, 47), ("N6", 86, 55),
     ("C1", 50, 32), ("C2", 61, 39), ("C3", 74, 47), ("C4", 86, 55)],
)  # fmt: skip
def test_gust_speeds_of_the_wind_classes(wind_class: str, ultimate: float, service: float) -> None:
    # AS 4055 gust speeds in m/s on two public pages; those of the cyclonic classes as the N class of the same ultimate speed
    assert (number("wind_as4055", wind_class, "V_u"), number("wind_as4055", wind_class, "V_s")) == (ultimate, service)


def test_the_recommended_load_lies_in_its_range() -> None:
    for row in Tables().table("en_barrier_loads").rows:
        low, middle, high = (number("en_barrier_loads", row.key, c) for c in ("low", "recommended", "high"))
        assert low <= middle <= high


@pytest.mark.parametrize("name", ["uk_barrier_loads", "au_barrier_loads"])
def test_a_load_table_has_a_line_load_in_every_row(name: str) -> None:
    for row in Tables().table(name).rows:
        assert row.value("line") is not None


def test_a_seasoned_joint_group_agrees_with_the_density_of_its_species() -> None:
    # AS 1720.1 group limits from memory against densities read in a secondary copy
    limits = {f"JD{i}": number("as1720_joint_group_limits", f"JD{i}", "density") for i in range(1, 7)}
    compared = 0
    for row in Tables().table("as1720_joint_groups").rows:
        density, group = row.value("density_seasoned"), row.text("seasoned")
        if density is not None and group:
            assert group == next(g for g, least in limits.items() if density.x >= least), row.key
            compared += 1
    assert compared >= 14


def test_a_lag_screw_is_thinner_at_its_root_and_named_by_its_diameter() -> None:
    for row in Tables().table("nds_lag_screws").rows:
        whole, _, parts = row.key.removesuffix(" in").partition("/")
        assert number("nds_lag_screws", row.key, "D") == pytest.approx(25.4 * int(whole) / int(parts or 1), rel=1e-12)
        assert 0.6 < number("nds_lag_screws", row.key, "D_r") / number("nds_lag_screws", row.key, "D") < 0.8


def test_wood_handbook_bearing_is_above_the_reference_value_of_nds() -> None:
    # Mean of small clear wood against a reference design value: the handbook must be the larger, or a row is wrong.
    pairs = {
        "Douglas Fir-Larch": "Douglas-fir, coast",
        "Southern Pine": "Pine, loblolly",
        "Hem-Fir": "Hemlock, western",
        "Western Cedars": "Cedar, western redcedar",
        "Red Maple": "Maple, red",
        "Ponderosa Pine": "Pine, ponderosa",
    }
    for combination, species in pairs.items():
        reference = number("nds_species", combination, "F_c_perp")
        assert 1.0 < number("wood_handbook_species", species, "f_c_perp") / reference < 2.5


def by_temperature(interlayer: str, duration: str) -> list[float]:
    rows = [r for r in Tables().table("interlayer_modulus").rows
            if r.text("interlayer") == interlayer and r.text("duration") == duration]  # fmt: skip
    rows.sort(key=lambda r: number("interlayer_modulus", r.key, "temperature"))
    return [number("interlayer_modulus", r.key, "G") for r in rows]


@pytest.mark.parametrize("interlayer", ["ionoplast", "PVB"])
def test_an_interlayer_softens_with_heat_and_with_time(interlayer: str) -> None:
    rows = [r for r in Tables().table("interlayer_modulus").rows if r.text("interlayer") == interlayer]
    durations = sorted({(number("interlayer_modulus", r.key, "duration_s"), r.text("duration")) for r in rows})
    columns = [by_temperature(interlayer, words) for _, words in durations]
    assert len({len(c) for c in columns}) == 1
    for column in columns:
        assert column == sorted(column, reverse=True)
    for shorter, longer in pairwise(columns):
        assert all(a >= b for a, b in zip(shorter, longer, strict=True))


BEARS_ON = {"actions", "glass", "clamp", "base_plate", "screws", "bearing", "blocking", "movement"}


def test_every_difference_bears_on_a_link_and_is_a_sentence() -> None:
    rows = Tables().table("differences").rows
    assert len(rows) >= 50
    for row in rows:
        assert row.text("bears_on") in BEARS_ON
        families = row.text("basis").split()
        assert families == ["none"] or set(families) <= set(FAMILIES), row.key
        assert row.text("statement").endswith(".") and len(row.text("statement")) > 40
        assert row.key == row.key.lower() and " " not in row.key


REMEMBERED: list[tuple[str, str, Callable[[str], bool]]] = [
    ("timber_en338_2009", "memory", lambda key: key.startswith("D")),
    ("timber_en338_2009", "secondary", lambda key: key in ("C14", "C16", "C18", "C20", "C22", "C24", "C27", "C30", "C35", "C40")),
    ("en1990_factors", "secondary", lambda key: True),
    ("as1170_factors", "secondary", lambda key: True),
    ("nds_lag_screws", "secondary; memory", lambda key: True),
    ("glass_thickness_en572", "memory", lambda key: True),
    ("uk_barrier_loads", "memory", lambda key: key in ("C3w", "C3c", "C5", "D", "F")),
    ("uk_barrier_loads", "secondary", lambda key: key in ("A1", "A2", "B1", "B2", "B3", "C1", "C3")),
]


@pytest.mark.parametrize(("name", "provenance", "which"), REMEMBERED, ids=range(len(REMEMBERED)))
def test_what_is_remembered_says_so(name: str, provenance: str, which: Callable[[str], bool]) -> None:
    keys = [k for k in Tables().table(name).keys if which(k)]
    assert keys
    for key in keys:
        assert Tables().table(name).row(key).text("provenance") == provenance


def test_no_figure_of_pad_or_bed_stiffness_claims_a_source() -> None:
    for row in Tables().table("stiffness").rows:
        assert row.text("provenance") in ("computed", "common practice")
        assert "not a published value" in row.text("note") or row.key == "pad_limit"


# ---------------------------------------------------------------- what sources disagree on


@pytest.mark.parametrize("name", ["garden_deck", "us_deck", "au_deck", "three_clamps_laminated"])
def test_what_sources_disagree_on_is_printed_where_it_bears(name: str) -> None:
    """Every row of the basis and the glass stands in the section of its link, and no row of another basis on the sheet."""
    from conftest import result_of

    from barrier.sheet.blocks import Bullets, Heading
    from barrier.sheet.content.calculation import blocks, calculate
    from barrier.sheet.in_words import in_words

    result = result_of(name)
    titles = {link.title: link.id for link in result.links}
    section, printed = "", set()
    for block in blocks(calculate(result), result):
        if isinstance(block, Heading) and block.level == 2:
            section = titles.get(str(block.line[0]).split("  ", 1)[-1], "")
        elif isinstance(block, Bullets):
            printed |= {(section, str(line[0])) for line in block.items}
    table = Tables().table("differences")
    laminated = any(len(p.layers) > 1 for p in result.job.panels)
    seen = 0
    for key in table.keys:
        row = table.row(key)
        bears = not row.text("basis") or result.basis.key in row.text("basis").split()
        bears = bears and (not row.text("glass") or laminated)
        words = in_words(f"{row.text('statement')} ({row.text('source')}; {row.text('provenance')})", result.job.units)
        assert ((row.text("bears_on"), words) in printed) is bears, key
        seen += bears
    assert seen > 15


def test_a_grade_of_timber_has_one_strength_group_and_one_joint_group_at_every_depth() -> None:
    """The groups are asked for before any depth is known, and are read off the first row of the grade."""
    groups: dict[str, set[tuple[str, ...]]] = {}
    for row in Tables().table("as1720_grades").rows:
        words = tuple(row.text(c) for c in ("strength_group", "joint_group", "seasoned", "phi_row"))
        groups.setdefault(row.text("grade"), set()).add(words)
    assert len(groups) > 15 and all(len(found) == 1 for found in groups.values()), groups
