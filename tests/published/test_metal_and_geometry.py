"""Metals, copings, panels and rain on walls against published tables, ezdxf's geometry, scipy and pint."""

from __future__ import annotations

from itertools import pairwise
from math import cos, sin

import numpy as np
import pint
import pytest
from ezdxf.math import ConstructionPolyline, Vec2, distance_point_line_2d
from pvlib.irradiance import aoi_projection
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from specgen.physics import coping_blank as cb
from specgen.physics import movement, plan_curve, rain
from specgen.physics.galvanic import galvanic_couple
from specgen.physics.panels import PanelLimits, panel_layout
from specgen.practice.entries import cell
from specgen.practice.load import load_practice
from specgen.units.compare import at_least
from specgen.units.quantity import to_unit
from tests.published.register import How, published

PRACTICE = load_practice()
UNIT = pint.UnitRegistry()
INCH, FT = 0.0254, 0.3048


def expansion(metal: str) -> float:
    """Coefficient of the practice table [1/K]."""
    (row,) = PRACTICE.table("expansion").where(metal=metal)
    return cell(row, "coefficient").value


# --- coping movement ----------------------------------------------------------------------------------------


@published(
    "coping movement",
    "expansion coefficients of the practice table",
    "table of thermal expansion coefficients",
    "aluminum, carbon steel, copper, austenitic steel; read on a public engineering page",
    "4 %",
    How.READ,
)
@pytest.mark.parametrize(
    ("metal", "per_kelvin"),
    [("aluminum", 24e-6), ("galvanized steel", 12e-6), ("copper", 17e-6), ("stainless steel", 17e-6)],
)
def test_expansion_of_the_public_table(metal: str, per_kelvin: float) -> None:
    assert expansion(metal) == pytest.approx(per_kelvin, rel=0.04)


@published(
    "coping movement",
    "expansion coefficient of copper per °F",
    "Dooley, Applied Science for Metal Workers",
    "section 109, 0.00000887 per °F; read in an open copy",
    "6 %",
    How.READ,
)
def test_expansion_of_the_metal_workers_book() -> None:
    """A book a century old; its steel is untempered (0.00000606) and its zinc is cast, so copper alone is held."""
    assert expansion("copper") / 1.8 == pytest.approx(8.87e-6, rel=0.06)


@published(
    "coping movement",
    "120 in. at a millionth per °F over 100 °F grow by 0.012 in.",
    "chart of thermal expansion of building materials",
    "worked example of a public roofing reference, read",
    "1e-9",
    How.READ,
)
def test_worked_example_of_the_expansion_chart() -> None:
    assert movement.length_change(120 * INCH, 1e-6 * 1.8, 100 / 1.8) / INCH == pytest.approx(0.012, rel=1e-9)


@published(
    "coping movement", "length change in feet and °F", "pint", "delta_degF, foot, inch", "1e-9", How.PACKAGE
)
@pytest.mark.parametrize(("feet", "rise"), [(10.0, 100.0), (8.0, -60.0)])
def test_length_change_in_inch_pound_units(feet: float, rise: float) -> None:
    alpha = 12.8e-6 / UNIT.delta_degF
    expected = (feet * UNIT.foot * alpha * rise * UNIT.delta_degF).to("inch").magnitude
    found = movement.length_change(feet * FT, alpha.to("1/delta_degC").magnitude, rise / 1.8) / INCH
    assert found == pytest.approx(expected, rel=1e-9)


@published(
    "coping movement",
    "gap that never closes and its opening",
    "scipy.optimize.linprog",
    "least gap with clearance kept at the hottest",
    "1e-9 m",
    How.PACKAGE,
)
def test_joint_gap_as_a_linear_program() -> None:
    length, alpha, metal = 3.0, 23.1e-6, movement.MetalRange(-23.0, 77.0)
    temps = np.linspace(metal.coldest_c, metal.hottest_c, 101)
    grown = length * alpha * (temps - 16.0)
    best = linprog([1.0], A_ub=-np.ones((101, 1)), b_ub=-(0.0016 + grown), bounds=[(0, None)])
    found = movement.joint_gap(length, alpha, metal, 16.0, 0.0016, 1.0)
    assert found.at_install == pytest.approx(best.x[0], abs=1e-9)
    assert found.coldest == pytest.approx(best.x[0] - grown[0], abs=1e-9)


# --- coping on a curve ---------------------------------------------------------------------------------------


@published(
    "coping on a curve",
    "clearance of straight segments from a curved face, and their turn",
    "ezdxf.math.Vec2, distance_point_line_2d",
    "chord between two joints drawn around the center",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize(
    ("radius", "piece", "least"), [(6.0, 3.0, 0.025), (1.8, 0.6, 0.02), (40.0, 3.0, 0.05)]
)
def test_straight_segments_around_a_curve(radius: float, piece: float, least: float) -> None:
    found = plan_curve.chord_outside(radius, piece, least)
    joints = [Vec2.from_angle(sign * found.turn_rad / 2, radius + found.clear_m) for sign in (-1, 1)]
    assert joints[0].distance(joints[1]) == pytest.approx(piece, rel=1e-9)
    assert distance_point_line_2d(Vec2(0, 0), *joints) == pytest.approx(radius + least, rel=1e-9)
    within = plan_curve.chord_inside(radius, found.turn_rad, least)
    joints = [Vec2.from_angle(sign * found.turn_rad / 2, radius - least) for sign in (-1, 1)]
    assert radius - distance_point_line_2d(Vec2(0, 0), *joints) == pytest.approx(within.clear_m, rel=1e-9)


# --- coping geometry ----------------------------------------------------------------------------------------

SECTIONS = [
    cb.Section(0.3, 0.1, 0.08, 1 / 48, False, 0.015, 0.6, 0.012),
    cb.Section(0.42, 0.15, 0.1, -1 / 24, False, 0.02, 0.5, 0.01),
    cb.Section(0.36, 0.12, 0.12, 1 / 12, True, 0.01, 0.4, 0.013),
]


def outline(one: cb.Section) -> list[Vec2]:
    """Center line from the outer edge of the metal to the inner, hems closed flat; fall above 0: inner side low."""
    kick = Vec2(-sin(one.kick_angle), -cos(one.kick_angle)) * one.kick_m
    run = one.width_m / 2 if one.ridge else one.width_m
    rise = run * one.fall
    foot = Vec2(0, 0)
    tip = foot + kick
    points = [tip - kick.normalize(one.hem_m) if one.hem_m else tip, tip, foot, Vec2(0, one.outer_m)]
    if one.ridge:
        points += [Vec2(run, one.outer_m + rise), Vec2(2 * run, one.outer_m)]
    else:
        points.append(Vec2(run, one.outer_m - rise))
    inner = points[-1] - Vec2(0, one.inner_m)
    end = inner + Vec2(-kick.x, kick.y)
    return [*points, inner, end, end - (end - inner).normalize(one.hem_m)]


@published(
    "coping geometry",
    "girth of a coping",
    "ezdxf.math.ConstructionPolyline",
    "length of the drawn center line",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("section", SECTIONS, ids=["falls inward", "falls outward", "ridge"])
def test_girth_of_the_drawn_section(section: cb.Section) -> None:
    assert cb.coping_blank(section).girth_m == pytest.approx(
        ConstructionPolyline(outline(section)).length, rel=1e-9
    )


@published(
    "coping geometry",
    "angle of every bend of a coping",
    "ezdxf.math.Vec2",
    "turn between the drawn edges",
    "1e-5°",
    How.PACKAGE,
)
@pytest.mark.parametrize("section", SECTIONS, ids=["falls inward", "falls outward", "ridge"])
def test_bends_of_the_drawn_section(section: cb.Section) -> None:
    points = outline(section)
    edges = [b - a for a, b in pairwise(points)]
    turns = [abs(np.degrees(a.angle_between(b))) for a, b in pairwise(edges)]
    turns = [min(turn, 360.0 - turn) for turn in turns]
    assert [bend.turned_deg for bend in cb.coping_blank(section).bends] == pytest.approx(turns, abs=1e-5)


@published(
    "coping geometry",
    "fewest straight pieces of a run",
    "scipy.optimize.milp",
    "integer program: least n with n l + joints = length, l at most the longest",
    "exact",
    How.PACKAGE,
)
@pytest.mark.parametrize(
    ("length", "special"), [(18.3, (0.6, 0.6)), (30.0, ()), (7.4, (0.5,)), (61.0, (0.4, 0.9))]
)
def test_fewest_pieces_as_an_integer_program(length: float, special: tuple[float, ...]) -> None:
    most, gap = 3.05, 0.006
    need = length - sum(special) - gap * (len(special) - 1)  # n (l + g) = need
    best = milp(
        [1.0], integrality=[1], bounds=Bounds(1, np.inf), constraints=LinearConstraint([[most + gap]], need)
    )
    assert cb.divide_run(length, special, most, gap).pieces == round(best.x[0])


@published(
    "coping geometry",
    "strips of a coil",
    "scipy.optimize.milp",
    "integer program: most strips in a width",
    "exact",
    How.PACKAGE,
)
@pytest.mark.parametrize("girth", [0.31, 0.4, 0.61, 1.3])
def test_strips_as_an_integer_program(girth: float) -> None:
    best = milp(
        [-1.0], integrality=[1], bounds=Bounds(0, np.inf), constraints=LinearConstraint([[girth]], ub=1.22)
    )
    assert cb.sheet_yield(girth, 1.22)[0] == round(best.x[0])


# --- galvanic -----------------------------------------------------------------------------------------------


@published(
    "galvanic",
    "anodic index of copper, zinc, chromium steel and aluminum",
    "tables of the anodic index after MIL-STD-889",
    "read in three public places: copper 0.35 and zinc 1.25; 18 % chromium steel 0.50; aluminum 6061 0.90",
    "0.005 V",
    How.READ,
)
@pytest.mark.parametrize(
    ("metal", "volts"), [("copper", 0.35), ("zinc", 1.25), ("stainless steel", 0.50), ("aluminum", 0.90)]
)
def test_anodic_index_of_the_public_tables(metal: str, volts: float) -> None:
    """The first place disagrees with the others: it has 0.75 for 6000 aluminum and 0.30 for 304 steel."""
    (row,) = PRACTICE.table("anodic_index").where(metal=metal)
    assert cell(row, "index").value == pytest.approx(volts, abs=0.005)


@published(
    "galvanic",
    "limits of 0.15, 0.25 and 0.50 V by environment",
    "page on galvanic compatibility of metals",
    "harsh, normal and controlled environments; read on a public page",
    "exact",
    How.READ,
)
def test_limits_of_the_public_page() -> None:
    """Outdoors and salt 0.15 V: the page calls gold and silver, 0.15 V apart, acceptable there."""
    assert PRACTICE.quantity("galvanic.limit_outdoors").value == 0.15
    assert galvanic_couple("gold", "silver", {"gold": 0.0, "silver": 0.15}, 0.15).acceptable
    assert not galvanic_couple("gold", "silver", {"gold": 0.0, "silver": 0.16}, 0.15).acceptable


# --- plaster panels -----------------------------------------------------------------------------------------


@published(
    "plaster panels",
    "144 ft², 18 ft, 2 1/2 to 1",
    "ASTM C1063",
    "quoted in a public trade article, read; the standard was not",
    "exact",
    How.READ,
)
def test_limits_of_c1063_as_quoted() -> None:
    assert to_unit(PRACTICE.quantity("plaster.panel_area"), "ft2") == pytest.approx(144, rel=1e-9)
    assert to_unit(PRACTICE.quantity("plaster.panel_length"), "ft") == pytest.approx(18, rel=1e-9)
    assert PRACTICE.quantity("plaster.panel_ratio").value == 2.5


@published(
    "plaster panels",
    "fewest vertical joints of a low face",
    "scipy.optimize.milp",
    "integer program: least columns within area, side and ratio",
    "exact",
    How.PACKAGE,
)
@pytest.mark.parametrize(("length", "height"), [(60.0, 4.0), (37.0, 6.5), (100.0, 8.0), (18.0, 10.0)])
def test_fewest_columns_as_an_integer_program(length: float, height: float) -> None:
    """One row of panels: n columns with length/n at most 18 ft, 144 ft²/height and 2.5 heights."""
    widest = min(18.0, 144.0 / height, 2.5 * height)
    best = milp(
        [1.0], integrality=[1], bounds=Bounds(1, np.inf), constraints=LinearConstraint([[widest]], length)
    )
    layout = panel_layout(length * FT, height * FT, PanelLimits(144 * FT**2, 18 * FT, 2.5))
    assert (len(layout.vertical_m), layout.horizontal_m) == (round(best.x[0]) - 1, ())


# --- driving rain -------------------------------------------------------------------------------------------

# EN 1991-1-4 table 4.1, categories I to IV, read on two public pages. Its least heights are not those of ISO 15927-3.
EUROCODE = {"open water": 0.01, "open country": 0.05, "suburban": 0.3, "urban": 1.0}


@published(
    "driving rain",
    "roughness lengths of the terrain",
    "EN 1991-1-4",
    "table 4.1, categories I to IV; read on two public pages",
    "exact",
    How.READ,
)
@pytest.mark.parametrize(("terrain", "roughness"), EUROCODE.items())
def test_roughness_of_the_eurocode(terrain: str, roughness: float) -> None:
    (row,) = PRACTICE.table("terrain").where(terrain=terrain)
    assert cell(row, "roughness").value == roughness


@published(
    "driving rain",
    "terrain factor KR = 0.19 (z0/0.05)^0.07",
    "EN 1991-1-4",
    "terrain factor; formula read on public pages",
    "3 %",
    How.READ,
)
@pytest.mark.parametrize(("terrain", "roughness"), EUROCODE.items())
def test_terrain_factor_of_the_eurocode(terrain: str, roughness: float) -> None:
    (row,) = PRACTICE.table("terrain").where(terrain=terrain)
    assert cell(row, "terrain_factor").value == pytest.approx(0.19 * (roughness / 0.05) ** 0.07, rel=0.03)


@published(
    "driving rain",
    "roughness coefficient k ln(z/z0)",
    "EN 1991-1-4",
    "eq. 4.4, named in a public forum; read",
    "1 %",
    How.READ,
)
@pytest.mark.parametrize("height", [3.0, 12.0, 40.0])
def test_roughness_coefficient_of_the_eurocode(height: float) -> None:
    expected = 0.19 * np.log(max(height, 4.0) / 0.05)
    assert rain.roughness_coefficient(height, 0.19, 0.05, 4.0) == pytest.approx(expected, rel=0.01)


@published(
    "driving rain",
    "free-field coefficient 0.222 s/m at 1 mm/h",
    "Blocken and Carmeliet, A review of wind-driven rain research",
    "quoted in a public notebook, read",
    "0.2 %",
    How.READ,
    "2004",
)
def test_free_field_coefficient() -> None:
    assert rain.hourly_index(4.0, 180.0, 1.0, 180.0) == pytest.approx(0.222 * 4.0, rel=2e-3)


@published(
    "driving rain",
    "rain on a wall = FE FD FL U R cosθ with FL = 0.2",
    "ASHRAE Standard 160",
    "quoted in a public notebook and in public documentation, read",
    "1e-9",
    How.READ,
)
@pytest.mark.parametrize(("wind", "angle", "fall"), [(5.0, 0.0, 3.0), (8.0, 50.0, 1.2)])
def test_rain_on_a_wall_as_quoted(wind: float, angle: float, fall: float) -> None:
    expected = 1.2 * 0.35 * 0.2 * wind * fall * np.cos(np.radians(angle))
    assert rain.rain_deposition(wind, angle, fall, 1.2, 0.35) == pytest.approx(expected, rel=1e-9)


@published(
    "driving rain",
    "driving rain coefficient measured at Sydney, 0.204",
    "abstract on the co-occurrence of wind and rain",
    "read in a public index of papers",
    "3 %",
    How.READ,
)
def test_measured_coefficient() -> None:
    assert pytest.approx(0.204, rel=0.03) == rain.RAIN_COEFFICIENT


@published(
    "driving rain",
    "angle between wind and wall",
    "pvlib, aoi_projection",
    "a sun on the horizon for the wind",
    "1e-9",
    How.PACKAGE,
)
@pytest.mark.parametrize("wall", [0.0, 135.0, 270.0])
@pytest.mark.parametrize("wind", [10.0, 200.0, 300.0])
def test_direction_of_the_wind(wall: float, wind: float) -> None:
    expected = 2 / 9 * 6.0 * 2.0 ** (8 / 9) * float(aoi_projection(90.0, wall, 90.0, wind))
    assert rain.hourly_index(6.0, wind, 2.0, wall) == pytest.approx(expected, rel=1e-9, abs=1e-12)


def test_no_thickness_of_the_table_lies_below_what_the_code_asks_of_metal_flashing() -> None:
    floor = PRACTICE.quantity("coping.metal_floor")  # IBC 2015, 2021, 2024: 1503.2.1, read in adopted codes
    low = [
        row for row in PRACTICE.table("coping_thickness").rows if not at_least(cell(row, "thickness"), floor)
    ]
    assert low == []
