"""Air indoors by the air outdoors: ends, straight lines, classes, and days."""

from __future__ import annotations

import numpy as np
import pytest

from specgen.physics.errors import OutOfRange
from specgen.physics.indoor_air import by_outdoors, class_vapor, daily_mean
from specgen.physics.moist_air import saturation_pressure


def test_level_beyond_both_ends_and_straight_between() -> None:
    found = np.asarray(by_outdoors([-30.0, -10.0, 5.0, 20.0, 40.0], (-10.0, 0.3), (20.0, 0.6)))
    assert found == pytest.approx([0.3, 0.3, 0.45, 0.6, 0.6])
    with pytest.raises(OutOfRange, match="step between"):
        by_outdoors(0.0, (20.0, 0.6), (-10.0, 0.3))


def test_excess_of_a_class_falls_to_none_and_never_above_saturation() -> None:
    outdoors = np.array([-20.0, 0.0, 10.0, 20.0, 30.0])
    found = np.asarray(class_vapor(outdoors, 600.0, 20.0, 810.0))
    assert found == pytest.approx([1410.0, 1410.0, 1005.0, 600.0, 600.0])
    assert class_vapor(-5.0, 2200.0, 20.0, 1360.0) == saturation_pressure(20.0)
    singly = [float(class_vapor(t, 600.0, 20.0, 810.0)) for t in outdoors.tolist()]
    assert singly == pytest.approx(found.tolist(), rel=1e-15)


def test_daily_mean_keeps_each_day_apart() -> None:
    hourly = np.concatenate([np.arange(24.0), np.full(24, 5.0)])
    found = np.asarray(daily_mean(hourly))
    assert found[:24].tolist() == [11.5] * 24
    assert found[24:].tolist() == [5.0] * 24
    with pytest.raises(OutOfRange, match="whole days"):
        daily_mean(np.zeros(25))
