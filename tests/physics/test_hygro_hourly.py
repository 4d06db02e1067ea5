"""Hourly inward drive: conservation, limiting cases, a second method."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from specgen.physics.errors import NotFinite, OutOfRange, PhysicsError
from specgen.physics.hygro_hourly import inward_drive, summary
from specgen.physics.moist_air import saturation_pressure

HOURS = 72
TEMPERATURES = arrays(np.float64, (HOURS, 2), elements=st.floats(-30, 70))
RESISTANCE = st.floats(8, 13).map(lambda power: 10.0**power)


@settings(deadline=None)
@given(TEMPERATURES, TEMPERATURES, RESISTANCE, RESISTANCE, st.floats(0, 1e-7), st.floats(0, 1))
def test_in_minus_out_is_stored(plaster, membrane, z_layer, z_barrier, k, start):
    drive = inward_drive(plaster, 0.9, membrane, 900.0, [z_layer, 10 * z_layer], k, z_barrier, start)
    scale = np.abs(drive.through_layer) + np.abs(drive.ventilated) + np.abs(drive.through_barrier)
    gap = drive.through_layer - drive.ventilated - drive.through_barrier
    # Each flow is a difference of pressures over a resistance, so rounding is that of the pressures.
    assert (np.abs(gap) <= 1e-9 * scale + 1e-11 * (1 / z_layer + k + 1 / z_barrier)).all()
    stored = start + np.cumsum(drive.through_barrier, axis=0) * 3600
    assert np.allclose(stored, drive.condensate, rtol=1e-9, atol=1e-9)
    assert (drive.condensate >= 0).all() and np.isfinite(drive.gap_pa).all()


@settings(deadline=None, max_examples=25)
@given(TEMPERATURES, TEMPERATURES, RESISTANCE, RESISTANCE, st.floats(0, 1e-7))
def test_scalar_second_solution(plaster, membrane, z_layer, z_barrier, k):
    """One hour, one parapet at a time, the gap found by bisection instead of algebra."""
    drive = inward_drive(plaster, 1.0, membrane, 700.0, z_layer, k, z_barrier)
    water = 0.0
    for hour in range(HOURS):
        source = saturation_pressure(plaster[hour, 0])
        back = saturation_pressure(membrane[hour, 0])
        low, high = 0.0, 1e5
        for _ in range(200):
            p = 0.5 * (low + high)
            surplus = (source - p) / z_layer + k * (700.0 - p) - (p - back) / z_barrier
            low, high = (p, high) if surplus > 0 else (low, p)
        water = max(0.0, water + (low - back) / z_barrier * 3600)
        assert drive.condensate[hour, 0] == pytest.approx(water, rel=1e-6, abs=1e-9)


def test_closed_gap_is_plain_series_diffusion():
    drive = inward_drive([50.0], 1.0, [20.0], 1000.0, 3e9, 0.0, 2e9)
    expected = (saturation_pressure(50.0) - saturation_pressure(20.0)) / 5e9
    assert drive.through_barrier[0] == pytest.approx(expected, rel=1e-12)
    assert drive.condensate[0] == pytest.approx(3600 * expected, rel=1e-12)


def test_strong_ventilation_holds_the_gap_at_outdoor_pressure():
    drive = inward_drive([50.0], 1.0, [25.0], 1200.0, 1e9, 1e-3, 1e9)
    assert drive.gap_pa[0] == pytest.approx(1200.0, rel=0.01)
    assert drive.condensate[0] == 0.0


def test_warm_membrane_never_condenses_and_passes_nothing():
    drive = inward_drive([30.0] * 5, 0.5, [30.0] * 5, 1000.0, 1e9, 0.0, 1e9)
    assert drive.condensate.max() == 0.0 and np.abs(drive.through_barrier).max() == 0.0
    assert drive.gap_pa == pytest.approx(0.5 * saturation_pressure(30.0))


def test_condensate_dries_again_and_the_books_close():
    plaster = [50.0] * 6 + [10.0] * 66
    membrane = [20.0] * 6 + [25.0] * 66
    drive = inward_drive(plaster, [1.0] * 6 + [0.5] * 66, membrane, 900.0, 1e9, 1e-10, 1e9)
    total = summary(drive)
    assert drive.condensate[5] > 0.05 and drive.condensate[-1] == 0.0
    assert total.condensed == pytest.approx(total.evaporated, rel=1e-9)
    assert total.greatest == drive.condensate[5] == pytest.approx(total.condensed)
    assert 6 < total.wet_hours < 72


@given(st.floats(9, 12), st.floats(0.1, 2))
def test_tighter_layer_never_brings_more_water(power, step):
    z = [10**power, 10 ** (power + step)]
    drive = inward_drive([45.0, 50.0, 40.0], 1.0, [22.0, 24.0, 20.0], 1000.0, z, 0.0, 1e9)
    assert (drive.condensate[:, 1] <= drive.condensate[:, 0]).all()


def test_greatest_day_finds_its_window():
    plaster = np.full(96, 15.0)
    plaster[40:50] = 55.0
    drive = inward_drive(plaster, 1.0, np.full(96, 20.0), 800.0, 1e9, 0.0, 1e9)
    total = summary(drive)
    gained = np.maximum(drive.through_barrier[40:50], 0).sum() * 3600
    assert total.greatest_day == pytest.approx(gained) and total.condensed == pytest.approx(gained)


def test_greatest_day_is_twenty_four_hours():
    drive = inward_drive(np.full(60, 50.0), 1.0, np.full(60, 20.0), 800.0, 1e9, 0.0, 1e9)
    assert summary(drive).greatest_day == pytest.approx(24 * 3600 * drive.through_barrier[0])


def test_parapets_and_layers_broadcast():
    hours, parapets, layers = 24, 3, 4
    rng = np.random.default_rng(7)
    plaster = rng.uniform(5, 60, (hours, parapets, 1))
    z = np.array([3e8, 1e9, 1e10, 5e11])
    drive = inward_drive(
        plaster, 1.0, 22.0 + np.zeros((hours, parapets, 1)), np.full(hours, 900.0), z, 0.0, 2e9
    )
    assert drive.condensate.shape == (hours, parapets, layers)
    one = inward_drive(plaster[:, 1, 0], 1.0, np.full(hours, 22.0), 900.0, 1e10, 0.0, 2e9)
    assert drive.condensate[:, 1, 2] == pytest.approx(one.condensate, rel=1e-12)


@pytest.mark.parametrize(
    ("change", "error", "says"),
    [
        ({"plaster_humidity": 1.2}, OutOfRange, "relative humidity"),
        ({"layer_resistance": 0.0}, OutOfRange, "drainage layer"),
        ({"membrane_c": [float("nan")]}, NotFinite, "membrane temperature"),
        ({"plaster_c": 20.0}, PhysicsError, "axis of hours"),
        ({"membrane_c": [20.0, 21.0]}, PhysicsError, "differ in length"),
        ({"ventilation": -1e-9}, OutOfRange, "ventilation"),
    ],
)
def test_bad_input_is_named(change, error, says):
    good = {
        "plaster_c": [40.0],
        "plaster_humidity": 1.0,
        "membrane_c": [20.0],
        "outdoor_pa": 900.0,
        "layer_resistance": 1e9,
        "ventilation": 0.0,
        "barrier_resistance": 1e9,
    }
    with pytest.raises(error, match=says):
        inward_drive(**(good | change))
