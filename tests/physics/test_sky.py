"""Long waves of the sky: limits, order, and the other published formula."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.errors import OutOfRange
from specgen.physics.sky import (
    black_body,
    clear_sky_emissivity,
    insulated_surface,
    longwave_on_face,
    sky_emissivity,
    sky_temperature,
)


def test_damper_air_and_clouds_send_more() -> None:
    dew = np.linspace(-60.0, 30.0, 40)
    clear = np.asarray(clear_sky_emissivity(dew))
    assert (np.diff(clear[dew > -40.0]) > 0.0).all()
    assert (np.diff(clear[dew < -40.0]) == 0.0).all()
    covered = np.asarray(sky_emissivity(0.75, np.linspace(0.0, 1.0, 11)))
    assert (np.diff(covered) > 0.0).all()
    assert covered[0] == 0.75
    assert covered[-1] == pytest.approx(0.975)


def test_every_sky_lies_between_nothing_and_a_black_one() -> None:
    dew, cloud = np.meshgrid(np.linspace(-90.0, 50.0, 281), np.linspace(0.0, 1.0, 11))
    found = np.asarray(sky_emissivity(clear_sky_emissivity(dew), cloud))
    assert found.min() > 0.4
    assert found.max() < 1.0


def test_a_face_that_looks_up_sees_the_sky_and_one_that_looks_down_the_ground() -> None:
    ground = float(black_body(15.0))
    assert longwave_on_face(280.0, 15.0, 180.0) == pytest.approx(ground, rel=1e-12)
    assert longwave_on_face(280.0, 15.0, 90.0) == pytest.approx((280.0 + ground) / 2.0, rel=1e-12)
    assert longwave_on_face(ground, 15.0, 37.0) == pytest.approx(
        ground, rel=1e-12
    )  # all as warm: no matter the tilt


def test_ranges() -> None:
    with pytest.raises(OutOfRange, match="long waves of the sky"):
        longwave_on_face(9999.0, 15.0, 90.0)
    with pytest.raises(OutOfRange, match="cloud cover"):
        sky_emissivity(0.8, 5.0)
    with pytest.raises(OutOfRange, match="dew point"):
        clear_sky_emissivity(290.0)
    assert float(sky_temperature(black_body(7.0))) == pytest.approx(7.0, abs=1e-9)


def test_insulated_surface_closes_its_balance() -> None:
    rng = np.random.default_rng(7)
    air, h = rng.uniform(-40.0, 45.0, 2000), rng.uniform(2.5, 200.0, 2000)
    sun, waves = rng.uniform(0.0, 1100.0, 2000), rng.uniform(100.0, 520.0, 2000)
    found = np.asarray(insulated_surface(air, h, sun, waves, 0.9))
    left = sun + 0.9 * waves + h * (air - found) - 0.9 * np.asarray(black_body(found))
    assert np.abs(left).max() < 1e-6
    one = insulated_surface(float(air[0]), float(h[0]), float(sun[0]), float(waves[0]), 0.9)
    assert one == pytest.approx(found[0], abs=1e-9)


def test_insulated_surface_at_its_limits() -> None:
    storm = float(insulated_surface(10.0, 1000.0, 900.0, 300.0, 0.9))
    assert storm == pytest.approx(10.0, abs=1.0)  # wind holds it at the air
    assert insulated_surface(10.0, 4.0, 0.0, 250.0, 0.0) == pytest.approx(
        10.0
    )  # a mirror without sun: the air
    night = float(insulated_surface(10.0, 4.0, 0.0, 260.0, 0.9))
    assert 10.0 > night > float(sky_temperature(260.0))
