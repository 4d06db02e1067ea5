"""Drifted snow by hand: where the parapet limits it, where none forms, and what cannot be."""

from __future__ import annotations

import pytest

from specgen.physics.errors import PhysicsError
from specgen.physics.snow import (
    FOOT,
    PCF,
    PSF,
    leeward_drift,
    leeward_drift_by_wind,
    parapet_drift,
    snow_density,
)


@pytest.mark.parametrize(
    ("ground", "density"), [(0.0, 14.0), (20.0, 16.6), (100.0, 27.0), (123.0, 29.99), (200.0, 30.0)]
)
def test_density_grows_to_thirty(ground: float, density: float) -> None:
    assert snow_density(ground * PSF) / PCF == pytest.approx(density)


def test_a_drift_below_the_top_is_four_times_as_wide_as_high() -> None:
    found = parapet_drift(20.0 * PSF, 14.0 * PSF, 1.0 * FOOT, 4.0 * FOOT, 0.2)
    assert found.balanced / FOOT == pytest.approx(14.0 / 16.6)
    assert (found.height / FOOT, found.width / FOOT) == (pytest.approx(1.0), pytest.approx(4.0))
    assert found.surcharge / PSF == pytest.approx(16.6)
    assert found.depth == found.balanced + found.height


def test_a_drift_that_reaches_the_top_grows_wider_up_to_eight_times_its_height() -> None:
    """Density 16.6 lb/ft³ and 16.6 psf: one foot of balanced snow, two feet of parapet above it."""
    found = parapet_drift(20.0 * PSF, 16.6 * PSF, 2.5 * FOOT, 3.0 * FOOT, 0.2)
    assert found.height / FOOT == pytest.approx(2.0)
    assert found.width / FOOT == pytest.approx(4.0 * 2.5**2 / 2.0)
    wide = parapet_drift(20.0 * PSF, 16.6 * PSF, 9.0 * FOOT, 3.0 * FOOT, 0.2)
    assert wide.width / FOOT == pytest.approx(16.0)


def test_no_drift_forms_where_the_balanced_snow_nearly_fills_the_parapet() -> None:
    found = parapet_drift(20.0 * PSF, 16.6 * PSF, 2.0 * FOOT, 1.19 * FOOT, 0.2)
    assert (found.height, found.width, found.surcharge) == (0.0, 0.0, 0.0)
    assert parapet_drift(20.0 * PSF, 16.6 * PSF, 2.0 * FOOT, 1.21 * FOOT, 0.2).height > 0.0


def test_a_formula_below_zero_is_no_drift() -> None:
    assert leeward_drift(0.0, 1.0, 1.0) == 0.0
    assert parapet_drift(1.0, 1.0, 0.0, 1.0, 0.2).height == 0.0


def test_importance_counts_by_its_root() -> None:
    assert leeward_drift(1000.0, 20.0, 1.21) == pytest.approx(1.1 * leeward_drift(1000.0, 20.0, 1.0))


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -1.0])
def test_what_cannot_be_is_refused(bad: float) -> None:
    for call in (
        lambda: snow_density(bad),
        lambda: leeward_drift(bad, 20.0, 1.0),
        lambda: leeward_drift(1000.0, bad, 1.0),
        lambda: leeward_drift(1000.0, 20.0, bad),
        lambda: leeward_drift_by_wind(1000.0, 20.0, bad),
        lambda: leeward_drift_by_wind(1000.0, bad, 0.5),
        lambda: parapet_drift(bad, 700.0, 0.3, 1.0, 0.2),
        lambda: parapet_drift(1000.0, bad, 0.3, 1.0, 0.2),
        lambda: parapet_drift(1000.0, 700.0, bad, 1.0, 0.2),
        lambda: parapet_drift(1000.0, 700.0, 0.3, bad, 0.2),
        lambda: parapet_drift(1000.0, 700.0, 0.3, 1.0, bad),
    ):
        with pytest.raises(PhysicsError):
            call()
