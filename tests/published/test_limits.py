"""Limits of the practice folder against the texts they are cited from.

How each outside number was obtained stands beside it:
read      the section was read in a stored public copy of a state building code that is the 2021 IBC with changes of the
          state, which the copy does not mark;
quoted    read as a quotation in a public trade article, the document itself not seen;
memory    neither: the practice entry carries status M and prints as such.
"""

from __future__ import annotations

import pytest

from specgen.model.source import Status
from specgen.practice.load import load_practice
from specgen.practice.sheet import sheet_thickness
from specgen.units.quantity import parse, to_unit

PRACTICE = load_practice()

# (entry, number and unit in the cited text, the SI number the text prints beside it, document, edition, place, obtained)
LIMITS = [
    ("drainage.depth", 3 / 16, "in", (4.8, "mm"), "IBC", "2021", "2510.6.2", "read"),
    ("drainage.efficiency", 90, "%", None, "IBC", "2021", "2510.6.2", "quoted"),  # the copy lost that line
    ("barrier.independent_layers", 2, "", None, "IBC", "2021", "2510.6.1", "read"),
    ("outlet.flange", 3.5, "in", (89, "mm"), "IBC", "2021", "2512.1.2", "read"),
    ("outlet.above_earth", 4, "in", (102, "mm"), "IBC", "2021", "2512.1.2", "read"),
    ("outlet.above_paving", 2, "in", (51, "mm"), "IBC", "2021", "2512.1.2", "read"),
    ("coping.metal_floor", 0.019, "in", (0.483, "mm"), "IBC", "2021", "1503.2.1", "read"),
    ("scupper.opening", 4, "in", (102, "mm"), "IBC", "2021", "1502.3", "read"),
    ("fire.parapet_height", 30, "in", (762, "mm"), "IBC", "2021", "705.11.1", "read"),
    ("fire.noncombustible", 18, "in", (457, "mm"), "IBC", "2021", "705.11.1", "read"),
    ("field.plaster_temperature", 40, "degF", None, "IBC", "2021", "2512.4", "read"),
    ("field.plaster_warm", 48, "h", None, "IBC", "2021", "2512.4", "read"),
    ("field.moist_cure", 48, "h", None, "IBC", "2021", "Table 2512.6", "read"),
    ("field.finish_wait", 7, "days", None, "IBC", "2021", "Table 2512.6", "read"),
    (
        "sheathing.edge_fastener_wood",
        6,
        "in",
        None,
        "IBC",
        "2021",
        "Table 2304.10.2, items 30 and 31",
        "read",
    ),
    # read in an adopted-code viewer of another state, and in the regulation of a third
    ("field.paper_lap_horizontal", 2, "in", (51, "mm"), "IRC", "2015", "R703.2", "read"),
    ("field.paper_lap_vertical", 6, "in", (152, "mm"), "IRC", "2015", "R703.2", "read"),
    (
        "scupper.overflow_inlet",
        2,
        "in",
        (51, "mm"),
        "common practice",
        "",
        "overflow scuppers, after IRC 2021 R903.4.1",
        "read",
    ),
    (
        "scupper.overflow_area",
        3,
        "",
        None,
        "common practice",
        "",
        "overflow scuppers, after IRC 2021 R903.4.1",
        "read",
    ),
    ("rain.secondary_factor", 2, "", None, "IBC", "2021", "1611.1", "read"),
    ("rain.secondary", 15, "min", None, "ASCE 7", "2016", "8.2", "read"),
    ("vapor.class_1", 0.1, "perm", None, "IBC", "2021", "202, vapor retarder class", "read"),
    ("vapor.class_2", 1.0, "perm", None, "IBC", "2021", "202, vapor retarder class", "read"),
    ("vapor.class_3", 10, "perm", None, "IBC", "2021", "202, vapor retarder class", "read"),
    ("plaster.panel_area", 144, "ft2", None, "ASTM C1063", "", "control joints", "quoted"),
    ("plaster.panel_length", 18, "ft", None, "ASTM C1063", "", "control joints", "quoted"),
    ("plaster.panel_ratio", 2.5, "", None, "ASTM C1063", "", "control joints", "quoted"),
    ("barrier.air_permeance", 0.004, "cfm/ft2", (0.02, "L/(s·m2)"), "IECC", "2021", "C402.5.1.3", "memory"),
    (
        "barrier.assembly_air_leakage",
        0.04,
        "cfm/ft2",
        (0.2, "L/(s·m2)"),
        "IECC",
        "2021",
        "C402.5.1.4",
        "memory",
    ),
    ("wind.test_factor", 2.0, "", None, "ANSI/SPRI/FM 4435/ES-1", "", "safety factor", "memory"),
]


@pytest.mark.parametrize(
    ("key", "number", "unit", "si", "document", "edition", "place", "obtained"),
    LIMITS,
    ids=lambda value: str(value),
)
def test_a_limit(
    key: str,
    number: float,
    unit: str,
    si: tuple[float, str] | None,
    document: str,
    edition: str,
    place: str,
    obtained: str,
) -> None:
    entry = PRACTICE.entry(key)
    value = entry.quantity()
    assert to_unit(value, unit) == pytest.approx(number, rel=1e-12)
    if si is not None:
        # The text rounds its SI number: half a unit of its last digit, and 2 % where it has one digit.
        assert to_unit(value, si[1]) == pytest.approx(si[0], rel=0.02)
    source = entry.source
    assert (source.document, source.edition, source.place) == (document, edition, place)
    assert (source.status is Status.MEMORY) == (obtained == "memory")


def test_the_air_permeance_limits_are_at_75_pa() -> None:
    # 1.57 psf = 0.3 in of water = 75 Pa, as the energy codes write it (memory)
    for key in ("barrier.air_permeance", "barrier.assembly_air_leakage"):
        condition = PRACTICE.quantity(key).condition
        assert condition is not None and to_unit(condition, "psf") == pytest.approx(1.57, abs=0.005)


def test_coping_and_outlet_statements_stand_in_their_sections() -> None:
    # IBC 2021 1503.3.1 and 1503.3.2: coped or covered, not narrower than the parapet is thick (read). To the 2018
    # edition one section, 1503.3, asked for noncombustible material too (quoted).
    covers = PRACTICE.entry("coping.covers_width")
    assert covers.value is None and covers.source.place == "1503.3.1 and 1503.3.2"
    # IBC 2021 2512.1.2: drains to the exterior, the barrier laps the flange (read)
    assert PRACTICE.source("outlet.open").place == "2512.1.2"


def test_interior_retarders_by_zone() -> None:
    # IBC 2021 Table 1404.3(2): class II not in 1 and 2; class I not in 1 to 3 and 4 except marine (read); zone 0 as 1
    second, first = (PRACTICE.entry(f"vapor.interior_without_class_{number}").words() for number in (2, 1))
    assert {zone[0] for zone in second} == {"0", "1", "2"}
    assert {zone[0] for zone in first} == {"0", "1", "2", "3", "4"} and "4C" not in first
    assert set(PRACTICE.entry("climate.cold_zones").words()).isdisjoint(first)


def test_slope_of_low_roofs() -> None:
    # IBC 2021 1507.11.1 and 1507.12.1: one-fourth unit vertical in 12 units horizontal, 2 percent (read)
    assert PRACTICE.quantity("roof.slope").value == pytest.approx(0.02, rel=1e-12)


@pytest.mark.parametrize(
    ("gauge", "inches"),
    [(16, 0.0625), (18, 0.05), (20, 0.0375), (22, 0.03125), (24, 0.025), (26, 0.01875), (28, 0.015625)],
)
def test_stainless_steel_takes_the_gauge_of_the_statute(gauge: int, inches: float) -> None:
    # 15 U.S.C. 206: standard gauge for sheet and plate iron and steel (read)
    found = sheet_thickness(PRACTICE, parse(f"{gauge} ga"), "stainless steel")
    assert to_unit(found, "in") == pytest.approx(inches, abs=0.00006)


def test_climate_zones_by_edition() -> None:
    # IBC 2021 2510.6.2: moist (A) or marine (C) (read); 2018 2510.6 exception 2: 1A, 2A, 3A (quoted)
    assert PRACTICE.entry("drainage.code_zones").words() == ("A", "C")
    older = PRACTICE.entry("drainage.code_zones_2018")
    assert older.words() == ("1A", "2A", "3A") and older.source.place == "2510.6, exception 2"


def test_three_coats_over_metal_lath() -> None:
    # IBC 2021 Table 1404.2: three-coat work over a metal plaster base, 0.875 in (read); same in ASTM C926 (memory)
    assert to_unit(PRACTICE.quantity("plaster.thickness"), "in") == 0.875


@pytest.mark.parametrize(("ounces", "inches"), [(16, 0.0216), (12, 0.0162)])
def test_copper_by_weight(ounces: int, inches: float) -> None:
    # IBC 2021 Table 1404.2 and its note d: cold-rolled copper 0.0216 in nominal, 16 oz; 0.0162 in, 12 oz (read)
    found = sheet_thickness(PRACTICE, parse(f"{ounces} oz/ft2"), "copper")
    assert to_unit(found, "in") == pytest.approx(inches, abs=0.00005)


def test_26_gauge_galvanized_sheet_satisfies_the_floor_in_code() -> None:
    # IBC 2021 1503.2.1 calls 0.019 in "No. 26 galvanized sheet": a least thickness, below the nominal one (read)
    nominal = sheet_thickness(PRACTICE, parse("26 ga"), "galvanized steel")
    assert 0.019 <= to_unit(nominal, "in") <= 0.019 * 1.15
    thinner = sheet_thickness(PRACTICE, parse("28 ga"), "galvanized steel")
    assert to_unit(thinner, "in") < 0.019


def test_slope_of_the_top_is_practice_and_the_code_asks_for_drainage_only() -> None:
    # IBC 2021 1503.3: the top surface provides positive drainage; no slope is given (read)
    slope = PRACTICE.entry("coping.slope")
    assert slope.source.status is Status.PRACTICE and "1503.3" in slope.note
