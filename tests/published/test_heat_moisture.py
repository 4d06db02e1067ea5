"""Heat and moisture by the hour against the outside: what each case is, is said in its module.

Each test carries `@published(...)` through `held`, and asserts that the scheme is no farther off than the case allows.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from specgen.physics.heat_moisture.compiled import COMPILED
from tests.published import heat_moisture_cases as cases
from tests.published import heat_moisture_limits as limits
from tests.published import heat_moisture_measured as measured
from tests.published import heat_moisture_page as written
from tests.published import heat_moisture_reference as reference
from tests.published import heat_moisture_weather as weather
from tests.published.heat_moisture_cases import Case
from tests.published.register import HOURLY, How, Test, published

pytestmark = pytest.mark.skipif(
    not COMPILED, reason="years by the hour take long where the extra hourly is not installed"
)


def held(case: Case) -> Callable[[Test], Test]:
    """Enter a test in the register as the comparison of a case."""
    return published(HOURLY, case.what, case.source, case.place, case.tolerance, case.how)


def within(case: Case) -> None:
    """Assert that the scheme is no farther off than the case allows."""
    off = case.measure()
    assert 0.0 <= off <= case.limit, f"{case.what}: {off:.3g}, allowed {case.tolerance}"


@held(cases.ANNEX_TEMPERATURE)
def test_temperatures_of_the_annex() -> None:
    within(cases.ANNEX_TEMPERATURE)


@held(cases.ANNEX_WATER)
def test_water_of_the_annex() -> None:
    within(cases.ANNEX_WATER)


@held(cases.ANNEX_SCALING)
def test_the_annex_is_similar_over_depth_and_root_of_time() -> None:
    within(cases.ANNEX_SCALING)


def test_two_ways_to_the_annex_agree() -> None:
    """Similarity and lines, both by scipy and neither by `specgen`: the reference is not the fault of one of them."""
    air = reference.Air(303.15, 0.95, np.inf, np.inf)
    far = reference.Air(293.15, 0.5, np.inf, np.inf)
    times = np.array([7.0, 30.0]) * 86400.0
    layers = ((reference.ANNEX, 0.1, 120), (reference.ANNEX, 15.0, 100))
    depth, kelvin, u = reference.lines(layers, (293.15, 0.5), air, far, times, 3.5)
    for at, time in enumerate(times):
        exact_t, exact_u = cases.similar()(depth, float(time))
        assert np.abs(kelvin[:, at] - exact_t).max() < 0.005
        assert (
            np.abs(reference.ANNEX.water(np.exp(u[:, at])) - reference.ANNEX.water(np.exp(exact_u))).max()
            < 0.6
        )


@pytest.mark.parametrize(("days", "printed"), [(7, 23.8), (30, 26.7), (365, 29.1)])
def test_temperature_at_one_meter_as_another_solver_had_it(days: int, printed: float) -> None:
    assert round(float(cases.similar()(1.0, 86400.0 * days)[0]) - reference.ZERO, 1) == printed
    assert abs(float(np.interp(1.0, cases.FAR, cases.annex(days)[0])) - printed) < 0.1


def test_water_at_one_centimeter_as_another_solver_had_it() -> None:
    u = cases.similar()(0.01, 86400.0 * 365)[1]
    assert round(float(reference.ANNEX.water(np.exp(u))), 1) == 118.8
    assert abs(cases.annex(365)[1][0] / 118.8 - 1.0) < 0.01


@held(cases.DRYING_LAYER)
def test_the_analytical_case_of_the_coupled_benchmarks() -> None:
    within(cases.DRYING_LAYER)


@held(cases.ELEMENTS_PRINTED)
def test_the_reference_equations_give_what_a_public_library_prints() -> None:
    within(cases.ELEMENTS_PRINTED)


@held(cases.ELEMENTS_WATER)
def test_the_layer_of_a_public_library() -> None:
    within(cases.ELEMENTS_WATER)


@held(cases.LINED_TEMPERATURE)
def test_temperatures_of_masonry_lined_inside() -> None:
    within(cases.LINED_TEMPERATURE)


@held(cases.LINED_WATER)
def test_water_of_masonry_lined_inside() -> None:
    within(cases.LINED_WATER)


@held(limits.CONDUCTION)
def test_conduction_alone() -> None:
    within(limits.CONDUCTION)


@held(limits.DRYING_MEAN)
def test_drying_at_constant_diffusivity() -> None:
    within(limits.DRYING_MEAN)


@held(limits.UPTAKE)
def test_uptake_by_the_root_of_time() -> None:
    within(limits.UPTAKE)


def test_the_way_from_a_to_the_diffusivity_gives_a_back() -> None:
    assert limits.sorptivity() == pytest.approx(1.0, abs=0.01)


@held(limits.WET_BULB)
def test_a_shaded_wet_face_stands_at_the_wet_bulb() -> None:
    within(limits.WET_BULB)


@held(limits.ADMITTANCE)
def test_swing_through_plaster() -> None:
    within(limits.ADMITTANCE)


@held(limits.ADMITTANCE_BY_THE_HOUR)
def test_swing_through_plaster_by_the_steps_that_walls_are_run_with() -> None:
    within(limits.ADMITTANCE_BY_THE_HOUR)


@held(weather.TEMPERATURE)
def test_temperatures_of_a_wall_in_weather() -> None:
    within(weather.TEMPERATURE)


@held(weather.WATER)
def test_water_of_a_wall_in_weather() -> None:
    within(weather.WATER)


@held(weather.HUMIDITY)
def test_humidity_in_a_wall_in_weather() -> None:
    within(weather.HUMIDITY)


@held(weather.TEMPERATURE_BY_THE_HOUR)
def test_temperatures_of_a_wall_in_weather_by_the_steps_that_walls_are_run_with() -> None:
    within(weather.TEMPERATURE_BY_THE_HOUR)


@held(weather.HUMIDITY_BY_THE_HOUR)
def test_humidity_in_a_wall_in_weather_by_the_steps_that_walls_are_run_with() -> None:
    within(weather.HUMIDITY_BY_THE_HOUR)


@published(
    HOURLY,
    "a wall measured for five months: plane between wool and wind barrier, root mean square of scheme less probe",
    "TRH-database, open data (CC BY 4.0), building R1, wall US1",
    "room and cavity as measured; properties of the materials, which the data do not give, as common practice has them",
    "1 K, 5 % RH",
    How.READ,
)
@pytest.mark.skipif(
    measured.FOLDER is None, reason="SPECGEN_MEASURED_WALL names no folder with the measured wall"
)
def test_a_measured_wall() -> None:
    found = measured.compared(Path(measured.FOLDER or ""))
    assert found.hours == measured.FOUND.hours
    assert found.spread_k < 1.0 and found.spread_rh < 5.0
    assert found.spread_k == pytest.approx(measured.FOUND.spread_k, abs=0.05)
    assert found.spread_rh == pytest.approx(measured.FOUND.spread_rh, abs=0.3)
    # As nothing stands between: far less than the wall itself went up and down.
    assert found.spread_k < 0.25 * found.swing_k and found.spread_rh < 0.5 * found.swing_rh


def test_the_page_is_up_to_date() -> None:
    assert written.PAGE.read_text(encoding="utf-8") == written.page(), (
        "run python -m tests.published.heat_moisture_page"
    )


def test_the_page_prints_every_case() -> None:
    every = [
        one for module in (cases, limits, weather) for one in vars(module).values() if isinstance(one, Case)
    ]
    assert {one.name for one in every} == {one.name for one in written.CASES}
