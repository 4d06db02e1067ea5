"""Moisture of wood in equilibrium: rises with humidity, falls with warmth, and stays below fiber saturation."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.errors import NotFinite, OutOfRange
from specgen.physics.wood_moisture import equilibrium_moisture


def test_it_rises_with_humidity_and_falls_with_temperature() -> None:
    humidity = np.linspace(0.0, 1.0, 101)
    found = np.array([equilibrium_moisture(humidity, temp) for temp in (0.0, 20.0, 40.0)])
    assert (np.diff(found, axis=1) > 0.0).all() and found[:, 0] == pytest.approx(0.0)
    assert (np.diff(found[:, 1:], axis=0) < 0.0).all()
    assert (found[:, -1] > 0.25).all() and (found[:, -1] < 0.32).all()  # about fiber saturation


@pytest.mark.parametrize(("humidity", "temp"), [(-0.01, 20.0), (1.01, 20.0), (0.5, -40.0), (0.5, 101.0)])
def test_what_no_wood_meets_is_refused(humidity: float, temp: float) -> None:
    with pytest.raises(OutOfRange):
        equilibrium_moisture(humidity, temp)
    with pytest.raises(NotFinite):
        equilibrium_moisture(float("nan"), temp if -30 <= temp <= 100 else 20.0)
