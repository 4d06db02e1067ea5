"""Not a number, infinite, negative, zero, far too many: every door of the physics room names value, range and source."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from specgen.physics import (
    coping_blank,
    fasteners,
    gap,
    gap_air,
    hygro_hourly,
    moist_air,
    movement,
    rain,
    reservoir,
    scupper,
    sol_air,
    steady,
    sun,
    wind,
)
from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.junction2d import Boundary, Region, solve_junction
from specgen.physics.panels import PanelLimits, panel_layout
from specgen.physics.steady import Layers, Side, steady_state, subdivide

LIMITS = PanelLimits(13.4, 5.5, 2.5)
WALL = Layers(("board", "wool"), (0.1, 2.0), (1e9, 1e9))


def junction(conductivity: float, width: float, temp_c: float, film: float) -> object:
    air = [Boundary("in", 0, 0, 0, 1, temp_c, film), Boundary("out", 0.2, 0, 0.2, 1, 0.0, 0.04)]
    return solve_junction([Region(0, 0.2, 0, 1, conductivity), Region(0, width, 0, 1, 1.0)], air, 0.1)


# Every door with values it takes.
DOORS: dict[str, tuple[Callable[..., object], dict[str, float]]] = {
    "thermal_resistance": (steady.thermal_resistance, {"thickness_m": 0.1, "conductivity": 0.04}),
    "resistance_from_permeance": (steady.resistance_from_permeance, {"permeance": 1e-10}),
    "subdivide": (lambda share: subdivide(WALL, share), {"share": 0.1}),
    "steady_state": (
        lambda t, p, film: steady_state(WALL, Side(t, p, film), Side(5.0, 500.0, 0.04)),
        {"t": 20.0, "p": 900.0, "film": 0.1},
    ),
    "Layers": (lambda r, z: Layers(("a",), (r,), (z,)), {"r": 1.0, "z": 1e9}),
    "saturation_pressure": (moist_air.saturation_pressure, {"temp_c": 20.0}),
    "dew_point": (moist_air.dew_point, {"vapor_pa": 900.0}),
    "vapor_pressure": (moist_air.vapor_pressure, {"temp_c": 20.0, "relative_humidity": 0.5}),
    "humidity_ratio": (moist_air.humidity_ratio, {"vapor_pa": 900.0, "total_pa": 1e5}),
    "sol_air": (
        sol_air.sol_air,
        {
            "temp_c": 30.0,
            "absorptance": 0.6,
            "irradiance": 700.0,
            "film": 17.0,
        },
    ),
    "sun_at_solar_time": (
        sun.sun_at_solar_time,
        {"declination_deg": 10.0, "latitude": 36.0, "solar_hour": 9.0},
    ),
    "clear_sky": (
        sun.clear_sky,
        {"elevation": 40.0, "day_of_year": 200, "tau_beam": 0.4, "tau_diffuse": 2.1},
    ),
    "inward_drive": (
        lambda t, rh, m, p, layer, k, barrier: hygro_hourly.inward_drive([t], rh, [m], p, layer, k, barrier),
        {"t": 40.0, "rh": 1.0, "m": 20.0, "p": 900.0, "layer": 1e9, "k": 0.0, "barrier": 1e9},
    ),
    "slot_drainage": (gap.slot_drainage, {"gap_m": 5e-4}),
    "falling_film": (gap.falling_film, {"flow_m2_s": 1e-6}),
    "capillary_rise": (gap.capillary_rise, {"gap_m": 1e-3, "contact_angle_deg": 0.0}),
    "stack_pressure": (gap_air.stack_pressure, {"height_m": 1.0, "gap_c": 40.0, "outdoor_c": 20.0}),
    "wind_pressure": (gap_air.wind_pressure, {"wind_m_s": 4.0, "coefficient_difference": 0.1}),
    "gap_flow": (lambda p, b, h: gap_air.gap_flow(p, b, h, []), {"p": 0.1, "b": 0.01, "h": 1.0}),
    "hourly_index": (
        rain.hourly_index,
        {"wind_m_s": 5.0, "direction_deg": 10.0, "rain_mm_h": 1.0, "wall_deg": 0.0},
    ),
    "uptake": (reservoir.uptake, {"absorption": 0.02, "time_s": 60.0}),
    "stored_water": (reservoir.stored_water, {"thickness_m": 0.02, "free_saturation": 200.0}),
    "discharge": (scupper.discharge, {"head_m": 0.05, "width_m": 0.15, "height_m": 0.1}),
    "length_change": (movement.length_change, {"length": 3.0, "expansion": 23e-6, "temp_change": 50.0}),
    "exposure_coefficient": (
        wind.exposure_coefficient,
        {"height": 10.0, "alpha": 9.5, "gradient_height": 274.0, "lowest": 4.6, "coefficient": 2.01},
    ),
    "cleat_load": (
        fasteners.cleat_load,
        {"pressure_pa": 900.0, "width_m": 0.1, "spacing_m": 0.3, "share": 0.5},
    ),
    "sheet_yield": (coping_blank.sheet_yield, {"girth_m": 0.4, "stock_width_m": 1.2}),
    "panel_layout": (lambda a, b: panel_layout(a, b, LIMITS), {"a": 20.0, "b": 1.2}),
    "solve_junction": (junction, {"conductivity": 1.0, "width": 0.1, "temp_c": 20.0, "film": 0.13}),
}
EACH = [(door, name) for door, (_, good) in DOORS.items() for name in good]


def called(door: str, **changed: float) -> Any:
    function, good = DOORS[door]
    return function(**{**good, **changed})


@pytest.mark.parametrize("door", DOORS)
def test_the_door_opens_for_what_is_sound(door: str) -> None:
    called(door)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf], ids=str)
@pytest.mark.parametrize(("door", "name"), EACH)
def test_what_is_no_finite_number_is_named(door: str, name: str, bad: float) -> None:
    with pytest.raises((NotFinite, OutOfRange)) as caught:
        called(door, **{name: bad})
    error = caught.value
    assert error.name and str(error.value) == str(bad)
    assert str(error).startswith(f"{error.name} is {bad}")


# door, argument, value, the range told
OUTSIDE = [
    ("resistance_from_permeance", "permeance", -1e-10, "1e-20 to inf"),
    ("resistance_from_permeance", "permeance", 0.0, "1e-20 to inf"),
    ("thermal_resistance", "thickness_m", 0.0, "1e-07 to 10"),
    ("thermal_resistance", "thickness_m", -0.02, "1e-07 to 10"),
    ("thermal_resistance", "thickness_m", 25.4e6, "1e-07 to 10"),
    ("thermal_resistance", "conductivity", 0.0, "0.001 to 1000"),
    ("Layers", "z", -1e9, "0 to inf"),
    ("stored_water", "thickness_m", 0.0, "0.0001 to 2"),
    ("slot_drainage", "gap_m", 0.0, ""),
    ("solve_junction", "width", 0.0, "1e-09 to inf"),
    ("saturation_pressure", "temp_c", 150.0, "-40 to 100"),
    ("vapor_pressure", "relative_humidity", 1.01, "0 to 1"),
    ("inward_drive", "layer", 0.0, "1000 to 1e+15"),
    ("inward_drive", "barrier", -1e9, "1000 to 1e+15"),
    ("cleat_load", "spacing_m", 0.0, "0.001 to 10"),
    ("panel_layout", "b", 0.0, "0.01 to 1000"),
]


@pytest.mark.parametrize(("door", "name", "bad", "expected"), OUTSIDE)
def test_a_value_outside_is_named_with_its_range_and_source(
    door: str, name: str, bad: float, expected: str
) -> None:
    with pytest.raises(OutOfRange) as caught:
        called(door, **{name: bad})
    error = caught.value
    assert error.value == bad and error.source
    assert not error.low <= error.value <= error.high
    for part in (error.name, f"is {bad:.9g}", f"outside {expected}", error.source):
        assert part in str(error)


@pytest.mark.parametrize(
    ("given", "named"), [([0.1, 0.0, 0.2], 0.0), ([0.1, 30.0, -1.0], 30.0), ([0.1, math.nan], math.nan)]
)
def test_the_first_bad_value_of_an_array_is_named(given: list[float], named: float) -> None:
    with pytest.raises((NotFinite, OutOfRange)) as caught:
        steady.thermal_resistance(given, 0.04)
    assert str(caught.value.value) == str(named)
    assert "thickness [m]" in str(caught.value)


def test_five_hundred_layers_are_no_wall() -> None:
    names = tuple(f"layer {i}" for i in range(500))
    with pytest.raises(
        OutOfRange, match=r"number of layers \[-\] is 500, outside 1 to 100 \(layers of one wall\)"
    ):
        subdivide(Layers(names, (0.01,) * 500, (1e8,) * 500), 0.05)


def test_five_hundred_slices_are() -> None:
    """Slices are made by the hundreds; they give what the whole wall gives."""
    sliced = subdivide(Layers(("wool",), (3.0,), (1e9,)), 1 / 500)
    assert len(sliced.names) == 500
    sides = Side(20.0, 900.0, 0.13), Side(10.0, 700.0, 0.04)
    whole = steady_state(Layers(("wool",), (3.0,), (1e9,)), *sides)
    assert steady_state(sliced, *sides).vapor_in == pytest.approx(whole.vapor_in, rel=1e-9)
