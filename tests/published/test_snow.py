"""Drifted snow against worked examples of public texts."""

from __future__ import annotations

import pytest

from specgen.physics.snow import (
    FOOT,
    PCF,
    PSF,
    leeward_drift,
    leeward_drift_by_wind,
    parapet_drift,
    snow_density,
)
from specgen.practice.load import load_practice
from specgen.units.quantity import to_unit
from tests.published.register import How, published

PRACTICE = load_practice()


def value(key: str) -> float:
    return to_unit(PRACTICE.quantity(key), "")


@published(
    "snow drift",
    "ground snow 25 psf, roof of 40 ft upwind: pf 17.5 psf, density 17.25 pcf, hd 2.08 ft, surcharge 35.8 psf",
    "an engineer's public article that compares two editions at one roof",
    "first worked example, read",
    "0.5 %",
    How.READ,
    "ASCE 7-16",
)
def test_drift_by_the_earlier_edition() -> None:
    ground = 25.0 * PSF
    assert value("snow.flat_roof") * 25.0 == pytest.approx(17.5)
    assert snow_density(ground) / PCF == pytest.approx(17.25)
    drift = leeward_drift(ground, 40.0 * FOOT, 1.0)
    assert drift / FOOT == pytest.approx(2.08, abs=0.005)
    found = parapet_drift(ground, 17.5 * PSF, drift, 4.0 * FOOT, value("snow.no_drift"))
    assert found.surcharge / PSF == pytest.approx(35.8, rel=0.005)


@published(
    "snow drift",
    "ground snow 63 psf, W2 0.45, roof of 40 ft upwind, step of 4 ft that limits the drift: 89 psf in all",
    "an engineer's public article that compares two editions at one roof",
    "second worked example, read",
    "0.5 %",
    How.READ,
    "ASCE 7-22",
)
def test_drift_by_the_later_edition_limited_by_the_step() -> None:
    ground = 63.0 * PSF
    flat = value("snow.flat_roof") * ground
    found = parapet_drift(ground, flat, leeward_drift_by_wind(ground, 40.0 * FOOT, 0.45), 4.0 * FOOT, 0.2)
    assert (flat + found.surcharge) / PSF == pytest.approx(89.0, rel=0.005)


@published(
    "snow drift",
    "windward drift at a parapet, ground snow 20 psf, 35 ft upwind: 16.6 pcf, hd 1.344 ft, 22.308 psf, width 5.376 ft",
    "a joist manufacturer's public calculation sheet",
    "numbers of its example, read",
    "0.05 %",
    How.READ,
    "ASCE 7-05",
)
def test_windward_drift_at_a_parapet() -> None:
    ground = 20.0 * PSF
    drift = value("snow.windward") * leeward_drift(ground, 35.0 * FOOT, 1.0)
    found = parapet_drift(ground, 20.0 * PSF, drift, 4.0 * FOOT, value("snow.no_drift"))
    assert snow_density(ground) / PCF == pytest.approx(16.6)
    assert found.balanced / FOOT == pytest.approx(1.205, abs=0.0005)
    assert found.height / FOOT == pytest.approx(1.344, abs=0.0005)
    assert found.surcharge / PSF == pytest.approx(22.308, rel=0.0005)
    assert found.width / FOOT == pytest.approx(5.376, rel=0.0005)
